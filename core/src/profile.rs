//! National choices, as one struct of plain data. No rule asks which country it is.

use crate::error::{Error, Field, Reason};
use crate::list::listed;
use crate::quantity::{Ohms, Ratio, Seconds, Volts};
use crate::supply::Earthing;

/// Which volt drop decides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DropBasis {
    /// Conductors at their full permitted temperature (as printed mV/A/m tables have it).
    Full,
    /// Conductors at the temperature the load brings them to; never below this for an overloaded cable.
    Load,
}

/// Kinds of load, for the limit of drop and for diversity, in the order of [`Profile::diversity`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum LoadClass {
    /// Lighting.
    Lighting,
    /// Space heating.
    Heating,
    /// Cooking appliances.
    Cooker,
    /// Motors.
    Motor,
    /// Water heated as it flows.
    WaterInstant,
    /// Stored water under a thermostat.
    WaterStorage,
    /// Floor warming.
    FloorWarming,
    /// Socket-outlets.
    Sockets,
    /// Stationary equipment.
    Stationary,
    /// Anything else, taken in full.
    Other,
}

listed! {
    LoadClass:
    Lighting Heating Cooker Motor WaterInstant WaterStorage FloorWarming Sockets Stationary Other
}

/// The diversity allowance of one class.
///
/// A load I counts as share · (first · min(I, first_amps) + rest · (I − first_amps, where above) + add),
/// where share is `largest`, `second` or `others` by its place among the loads of its class on one phase.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diversity {
    /// Up to here `first` holds, in amperes.
    pub first_amps: f32,
    /// Share of the first amperes.
    pub first: f32,
    /// Share of the rest.
    pub rest: f32,
    /// Added to each, in amperes.
    pub add: f32,
    /// Share of the largest.
    pub largest: f32,
    /// Share of the second largest.
    pub second: f32,
    /// Share of the others.
    pub others: f32,
}

/// A figure of an allowance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allowance {
    /// [`Diversity::first_amps`]
    FirstAmps,
    /// [`Diversity::first`]
    First,
    /// [`Diversity::rest`]
    Rest,
    /// [`Diversity::add`]
    Add,
    /// [`Diversity::largest`]
    Largest,
    /// [`Diversity::second`]
    Second,
    /// [`Diversity::others`]
    Others,
}

impl Diversity {
    /// Not known: the demand of what it is for can't be said.
    pub const NOT_KNOWN: Self = Self {
        first_amps: f32::NAN,
        first: f32::NAN,
        rest: f32::NAN,
        add: f32::NAN,
        largest: f32::NAN,
        second: f32::NAN,
        others: f32::NAN,
    };

    /// Whether every figure of it is known.
    #[must_use]
    pub fn is_known(&self) -> bool {
        self.figures().iter().all(|(_, v)| v.is_finite())
    }

    const fn figures(&self) -> [(Allowance, f32); 7] {
        [
            (Allowance::FirstAmps, self.first_amps),
            (Allowance::First, self.first),
            (Allowance::Rest, self.rest),
            (Allowance::Add, self.add),
            (Allowance::Largest, self.largest),
            (Allowance::Second, self.second),
            (Allowance::Others, self.others),
        ]
    }

    const fn whole() -> Self {
        Self {
            first_amps: 0.0,
            first: 1.0,
            rest: 1.0,
            add: 0.0,
            largest: 1.0,
            second: 1.0,
            others: 1.0,
        }
    }

    const fn share(largest: f32, second: f32, others: f32) -> Self {
        let mut d = Self::whole();
        d.largest = largest;
        d.second = second;
        d.others = others;
        d
    }

    /// What a single load of this class counts, before its share by rank.
    #[must_use]
    pub fn counted(&self, i: f32) -> f32 {
        let above = i - self.first_amps;
        if above > 0.0 {
            self.first * self.first_amps + self.rest * above + self.add
        } else {
            self.first * i + self.add
        }
    }

    /// Tells every figure without a meaning; whether there was none.
    fn check(&self, mut say: impl FnMut(Allowance, Reason)) -> bool {
        let mut good = true;
        let mut tell = |of, reason| {
            good = false;
            say(of, reason);
        };
        for (of, v) in self.figures() {
            if let Err(reason) = Ratio::new(v) {
                tell(of, reason);
            }
        }
        if self.largest < self.second {
            tell(Allowance::Second, Reason::Contradiction);
        }
        if self.second < self.others {
            tell(Allowance::Others, Reason::Contradiction);
        }
        good
    }
}

/// A figure of a profile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entry {
    /// [`Profile::cmin`]
    Cmin,
    /// [`Profile::cmax`]
    Cmax,
    /// [`Profile::drop_lighting`]
    DropLighting,
    /// [`Profile::drop_other`]
    DropOther,
    /// [`Profile::source_electrode`]
    SourceElectrode,
    /// [`Profile::touch_voltage`]
    TouchVoltage,
    /// [`Profile::additional_protection`]
    AdditionalProtection,
    /// [`Profile::sockets_up_to`]
    SocketsUpTo,
    /// One of [`Profile::diversity`].
    Diversity(LoadClass, Allowance),
}

/// The choices a country, or a user, makes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Profile {
    /// Voltage factor for the smallest fault current.
    pub cmin: f32,
    /// Voltage factor for the largest fault current.
    pub cmax: f32,
    /// Limit of volt drop for lighting, as a share of U0.
    pub drop_lighting: f32,
    /// Limit of volt drop for everything else, as a share of U0.
    pub drop_other: f32,
    /// Which drop decides.
    pub drop_basis: DropBasis,
    /// Typical resistance of the electrode at the source, in ohms.
    pub source_electrode: f32,
    /// Conventional limit of touch voltage, in volts.
    pub touch_voltage: f32,
    /// Rated residual current asked for as additional protection, in amperes.
    pub additional_protection: f32,
    /// Socket circuits up to this rating get additional protection, in amperes.
    pub sockets_up_to: f32,
    /// Allowances by class, in the order of [`LoadClass::ALL`].
    pub diversity: [Diversity; 10],
}

/// Largest current of sockets for which the short disconnection time holds, in amperes
/// (IEC 60364-4-41:2005/A1:2017, 411.3.2.2, from memory).
pub const SHORT_TIME_SOCKETS: f32 = 63.0;
/// The same for fixed equipment only, in amperes (same place, from memory).
pub const SHORT_TIME_FIXED: f32 = 32.0;

/// Between which figures each of a profile has a meaning, in the order of its fields.
const RANGES: [(Entry, Field, f32, f32); 8] = [
    (Entry::Cmin, Field::VoltageFactor, 0.5, 1.0),
    (Entry::Cmax, Field::VoltageFactor, 1.0, 1.5),
    (Entry::DropLighting, Field::Limit, 0.001, 0.25),
    (Entry::DropOther, Field::Limit, 0.001, 0.25),
    (Entry::SourceElectrode, Field::Limit, 0.001, 1000.0),
    (Entry::TouchVoltage, Field::Limit, 1.0, 120.0),
    (Entry::AdditionalProtection, Field::Limit, 0.001, 1.0),
    (Entry::SocketsUpTo, Field::Limit, 1.0, 125.0),
];

impl Profile {
    /// The plain IEC profile: cmin 0.95 and cmax 1.10 (IEC 60909-0 Table 1, low voltage with +10 %,
    /// from memory), drop 3 % and 5 % (IEC 60364-5-52 Table G.52.1, from memory); no diversity.
    pub const IEC: Self = Self {
        cmin: 0.95,
        cmax: 1.10,
        drop_lighting: 0.03,
        drop_other: 0.05,
        drop_basis: DropBasis::Full,
        source_electrode: 20.0,
        touch_voltage: 50.0,
        additional_protection: 0.03,
        sockets_up_to: 32.0,
        diversity: [Diversity::whole(); 10],
    };

    /// The UK profile: as [`IEC`](Self::IEC), with the allowances of a single dwelling that the trade
    /// uses (common practice, from memory, to be edited to the job).
    pub const UK: Self = {
        let mut p = Self::IEC;
        let mut lighting = Diversity::whole();
        lighting.first = 0.66;
        lighting.rest = 0.66;
        let mut heating = Diversity::whole();
        heating.first_amps = 10.0;
        heating.rest = 0.5;
        let mut cooker = Diversity::whole();
        cooker.first_amps = 10.0;
        cooker.rest = 0.3;
        cooker.add = 5.0;
        p.diversity = [
            lighting,
            heating,
            cooker,
            Diversity::share(1.0, 0.5, 0.5),
            Diversity::share(1.0, 1.0, 0.25),
            Diversity::whole(),
            Diversity::whole(),
            Diversity::share(1.0, 0.4, 0.4),
            Diversity::share(1.0, 0.4, 0.4),
            Diversity::whole(),
        ];
        p
    };

    /// None of its figures is known.
    pub const NOT_KNOWN: Self = Self {
        cmin: f32::NAN,
        cmax: f32::NAN,
        drop_lighting: f32::NAN,
        drop_other: f32::NAN,
        drop_basis: DropBasis::Full,
        source_electrode: f32::NAN,
        touch_voltage: f32::NAN,
        additional_protection: f32::NAN,
        sockets_up_to: f32::NAN,
        diversity: [Diversity::NOT_KNOWN; 10],
    };

    /// The same profile with every figure that has no meaning made one that is not known, which is no number:
    /// what is held against it can't be said. Tells each to `say`; and whether there was none.
    pub fn sift(&self, say: &mut dyn FnMut(Entry, Error)) -> (Self, bool) {
        let mut p = *self;
        let mut good = true;
        let all = [
            &mut p.cmin,
            &mut p.cmax,
            &mut p.drop_lighting,
            &mut p.drop_other,
            &mut p.source_electrode,
            &mut p.touch_voltage,
            &mut p.additional_protection,
            &mut p.sockets_up_to,
        ];
        for (v, &(entry, field, from, to)) in all.into_iter().zip(&RANGES) {
            let reason = match Ratio::new(*v) {
                Err(reason) => reason,
                Ok(_) if *v < from => Reason::TooSmall,
                Ok(_) if *v > to => Reason::TooLarge,
                Ok(_) => continue,
            };
            good = false;
            *v = f32::NAN;
            say(entry, reason.at(field));
        }
        for (class, d) in LoadClass::ALL.iter().zip(&mut p.diversity) {
            let fine = d.check(|of, reason| {
                say(Entry::Diversity(*class, of), reason.at(Field::Diversity));
            });
            if !fine {
                good = false;
                *d = Diversity::NOT_KNOWN;
            }
        }
        (p, good)
    }

    /// Allowance of a class.
    #[must_use]
    pub fn diversity(&self, class: LoadClass) -> Diversity {
        self.diversity
            .get(class as usize)
            .map_or(Diversity::NOT_KNOWN, |d| *d)
    }
}

/// Longest disconnection time of a final circuit within the short times: IEC 60364-4-41:2005
/// Table 41.1 for a.c. (from memory).
///
/// # Errors
/// [`Reason::OutOfTable`] at [`Field::U0`] for 50 V and below, where the table has no row.
///
/// ```
/// use faultpath::{profile::short_time, quantity::Volts, supply::Earthing};
/// let u0 = Volts::new(230.0).unwrap();
/// assert_eq!(short_time(Earthing::TnS, u0).unwrap().get(), 0.4);
/// assert_eq!(short_time(Earthing::Tt, u0).unwrap().get(), 0.2);
/// ```
pub fn short_time(earthing: Earthing, u0: Volts) -> Result<Seconds, Error> {
    let u0 = u0.get();
    let (tn, tt) = if u0 <= 50.0 {
        return Err(Reason::OutOfTable.at(Field::U0));
    } else if u0 <= 120.0 {
        (0.8, 0.3)
    } else if u0 <= 230.0 {
        (0.4, 0.2)
    } else if u0 <= 400.0 {
        (0.2, 0.07)
    } else {
        (0.1, 0.04)
    };
    Ok(Seconds::raw(match earthing {
        Earthing::TnS | Earthing::TnCS => tn,
        Earthing::Tt => tt,
    }))
}

/// Longest disconnection time of distribution circuits and of final circuits outside the short times:
/// 5 s TN, 1 s TT (IEC 60364-4-41:2005, 411.3.2.3 and 411.3.2.4, from memory).
#[must_use]
pub fn long_time(earthing: Earthing) -> Seconds {
    Seconds::raw(match earthing {
        Earthing::TnS | Earthing::TnCS => 5.0,
        Earthing::Tt => 1.0,
    })
}

/// Typical source electrode as a typed value.
impl Profile {
    /// The source's electrode.
    #[must_use]
    pub fn source_electrode(&self) -> Ohms {
        Ohms::raw(self.source_electrode)
    }
}

#[cfg(test)]
mod tests;
