//! A supply whose combined neutral and protective conductor is lost: what then stands on the metal that is
//! earthed by it.
//!
//! The load's current can no more return over the neutral. It goes through the installation's electrodes, and
//! lifts all metal joined to them. The loads are taken as the impedances they are at nominal voltage (own
//! derivation by nodal sum; the same as the formula of BS 7671 Annex A722 for one phase, from memory). The
//! source's electrode, and those of neighbours behind the same break, are left out: the first makes less of
//! it, the neighbours' load can make more.
//!
//! ```
//! use faultpath::earthing::lost_neutral::{LineLoad, LostNeutral};
//! use faultpath::quantity::{Amps, Ohms, Ratio, Volts};
//! let load = LineLoad { current: Amps::new(10.0).unwrap(), power_factor: Ratio::new(1.0).unwrap() };
//! let one = Ratio::new(1.0).unwrap();
//! let lost = LostNeutral::single(Volts::new(230.0).unwrap(), one, load).unwrap();
//! // 23 Ω of load and 23 Ω of electrode share the voltage; without an electrode all of it is on the metal.
//! assert_eq!(lost.metal(Some(Ohms::new(23.0).unwrap())), 115.0);
//! assert_eq!(lost.metal(None), 230.0);
//! ```

use super::{Formula, Worked, greatest};
use crate::error::{Error, Field, Reason};
use crate::impedance::Z;
use crate::quantity::{Amps, Ohms, Ratio, Volts};
use crate::source::between;
use crate::verdict::Unit;
use libm::sqrtf;

/// The voltage that metal may take where vehicles are charged outdoors, in volts (BS 7671 722.411.4.1, from
/// memory). Elsewhere the limit is the user's.
pub const VEHICLE_LIMIT: f32 = 70.0;

/// The load of one line, at nominal voltage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineLoad {
    /// Current.
    pub current: Amps,
    /// Power factor, lagging; above 0 up to 1. The lower, the higher the voltage on metal.
    pub power_factor: Ratio,
}

/// √3/2
const SIN_60: f32 = 0.866_025_4;
/// Directions of the three line voltages.
const LINES: [Z; 3] = [
    Z { r: 1.0, x: 0.0 },
    Z {
        r: -0.5,
        x: -SIN_60,
    },
    Z { r: -0.5, x: SIN_60 },
];

fn product(a: Z, b: Z) -> Z {
    Z {
        r: a.r * b.r - a.x * b.x,
        x: a.r * b.x + a.x * b.r,
    }
}

/// From least to most, in volts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Least.
    pub low: f32,
    /// Most.
    pub high: f32,
}

/// The electrode a limit asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sought {
    /// None: the voltage stays below it without.
    None,
    /// One of no more than this.
    AtMost(Ohms),
}

/// An installation on a supply that may lose its neutral.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LostNeutral {
    /// Nominal voltage to earth, and what it may be above that.
    u0: f32,
    factor: f32,
    /// Admittance of the load of each line, in siemens.
    lines: [Option<Z>; 3],
    /// The same where what may be connected between lines is; none where nothing may.
    only: [Option<Z>; 3],
}

impl LostNeutral {
    fn new(u0: Volts, factor: Ratio, loads: [Option<LineLoad>; 3]) -> Result<Self, Error> {
        if factor.get() < 1.0 {
            return Err(Reason::TooSmall.at(Field::VoltageFactor));
        }
        if factor.get() > 1.5 {
            return Err(Reason::TooLarge.at(Field::VoltageFactor));
        }
        Ok(Self {
            u0: u0.get(),
            factor: factor.get(),
            lines: admittances(u0.get(), loads)?,
            only: [None; 3],
        })
    }

    /// One phase. `factor` is what the voltage may be above nominal: cmax, or 1.
    ///
    /// # Errors
    /// At [`Field::VoltageFactor`] outside 1 to 1.5, at [`Field::PowerFactor`] outside 0.05 to 1.
    pub fn single(u0: Volts, factor: Ratio, load: LineLoad) -> Result<Self, Error> {
        Self::new(u0, factor, [Some(load), None, None])
    }

    /// Three phases, each with the load between line and neutral, or none. Loads between lines are left out:
    /// they draw nothing through the neutral.
    ///
    /// # Errors
    /// As for [`single`](Self::single); [`Reason::Missing`] at [`Field::DesignCurrent`] where no line has one.
    pub fn three(u0: Volts, factor: Ratio, loads: [Option<LineLoad>; 3]) -> Result<Self, Error> {
        Self::new(u0, factor, loads)
    }

    /// The same, where of the loads only these are sure to be between line and neutral. How a load on three lines is
    /// connected nobody may know, and one without a neutral holds nothing back: both are tried, the worse counts.
    ///
    /// # Errors
    /// As for [`three`](Self::three).
    pub fn or_only(self, loads: [Option<LineLoad>; 3]) -> Result<Self, Error> {
        let only = admittances(self.u0, loads)?;
        Ok(Self { only, ..self })
    }

    /// What the loads inject, and all that is joined at the star point, in siemens.
    fn sums(&self, electrode: Option<Ohms>) -> (Z, Z) {
        let mut sum = Z::ZERO;
        let mut all = Z {
            r: electrode.map_or(0.0, |r| 1.0 / r.get()),
            x: 0.0,
        };
        for (y, line) in self.lines.iter().zip(LINES) {
            if let Some(y) = y {
                sum = sum + product(*y, line);
                all = all + *y;
            }
        }
        (sum, all)
    }

    /// Voltage on the metal against earth, in volts, with an electrode in all of this; without where there is
    /// none, or none that is known.
    #[must_use]
    pub fn metal(&self, electrode: Option<Ohms>) -> f32 {
        let (sum, all) = self.sums(electrode);
        self.volts() * (sum.magnitude() / all.magnitude())
    }

    /// Voltage of the source to earth.
    fn volts(&self) -> f32 {
        self.u0 * self.factor
    }

    /// The lines that lead to [`metal`](Self::metal), the last of them.
    pub fn work(&self, electrode: Option<Ohms>, mut note: impl FnMut(Worked)) {
        let value = self.metal(electrode);
        let (sum, all) = self.sums(electrode);
        let [first, second, third] = self.lines;
        let (formula, operands) = match (first, second, third, electrode) {
            (Some(y), None, None, Some(r)) => {
                (Formula::LostSingle, [self.volts(), y.r, y.x.abs(), r.get()])
            }
            (Some(_), None, None, None) => (
                Formula::LostOpen,
                [self.factor, self.u0, f32::NAN, f32::NAN],
            ),
            _ => (
                Formula::LostThree,
                [self.volts(), sum.magnitude(), all.magnitude(), f32::NAN],
            ),
        };
        note(Worked::new(formula, &operands, value, Unit::Volt));
    }

    /// What goes into the electrode that is sought, where it is of one resistive load: limit, U0, I, cmax.
    pub(super) fn sought_by(&self, limit: Volts) -> Option<[f32; 4]> {
        match self.lines {
            [Some(y), None, None] if y.x == 0.0 => {
                Some([limit.get(), self.u0, y.r * self.u0, self.factor])
            }
            _ => None,
        }
    }

    /// Current through the electrode, in amperes.
    #[must_use]
    pub fn current(&self, electrode: Ohms) -> f32 {
        self.metal(Some(electrode)) / electrode.get()
    }

    /// Voltage across the loads of each line, in volts; of those that have one.
    #[must_use]
    pub fn across(&self, electrode: Option<Ohms>) -> [Option<f32>; 3] {
        let (sum, all) = self.sums(electrode);
        let over = Z {
            r: all.r,
            x: -all.x,
        };
        let square = all.r * all.r + all.x * all.x;
        let star = product(sum, over).times(self.volts() / square);
        let mut out = [None; 3];
        for ((to, y), line) in out.iter_mut().zip(&self.lines).zip(LINES) {
            if y.is_some() {
                *to = Some((line.times(self.volts()) + star.times(-1.0)).magnitude());
            }
        }
        out
    }

    /// With this share of every load.
    fn share(&self, shares: [f32; 3]) -> Self {
        let mut part = *self;
        for (y, share) in part.lines.iter_mut().zip(shares) {
            *y = y.map(|y| y.times(share));
        }
        part
    }

    /// From the least to the most that stands on the metal while the load changes, each line between the share
    /// `least` of its load and all of it.
    ///
    /// Tried are the ends of these ranges, each with each, and the evenest load. At one power factor no load
    /// between gives more; where the lines' power factors differ one may, by a hundredth (own, by random
    /// search).
    #[must_use]
    pub fn span(&self, electrode: Option<Ohms>, least: Ratio) -> Span {
        let even = self.evenest(small_of(least)).metal(electrode);
        let mut out = Span {
            low: even,
            high: even,
        };
        for load in self.tried(least) {
            let volts = load.metal(electrode);
            out.low = out.low.min(volts);
            out.high = out.high.max(volts);
        }
        out
    }

    /// The load, of those that [`span`](Self::span) tries, that gives the most.
    #[must_use]
    pub fn worst(&self, electrode: Option<Ohms>, least: Ratio) -> Self {
        let mut worst = self.evenest(small_of(least));
        for load in self.tried(least) {
            if load.metal(electrode) > worst.metal(electrode) {
                worst = load;
            }
        }
        worst
    }

    /// The ends of the ranges, each with each; of the loads that are sure, too.
    fn tried(&self, least: Ratio) -> impl Iterator<Item = Self> {
        let small = small_of(least);
        let only = self.only.iter().any(Option::is_some).then_some(Self {
            lines: self.only,
            ..*self
        });
        let corners = move |of: Self| {
            (0..8u8).map(move |corner| {
                let at = |bit: u8| if corner & bit == 0 { 1.0 } else { small };
                of.share([at(1), at(2), at(4)])
            })
        };
        corners(*self).chain(only.into_iter().flat_map(corners))
    }

    /// Every line at the same current, or as near to it as its range lets it.
    fn evenest(&self, small: f32) -> Self {
        let sizes = self.lines.map(|y| y.map_or(0.0, Z::magnitude));
        let level = small * sizes.iter().copied().fold(0.0, f32::max);
        let share = |size: f32| {
            if size > 0.0 {
                between(level / size, small, 1.0)
            } else {
                1.0
            }
        };
        self.share(sizes.map(share))
    }

    /// The electrode with which the metal stays at or below `limit` at every load [`span`](Self::span) tries,
    /// when one of `beside` is joined to it already. Never a hair too much.
    ///
    /// For one phase this is the formula of BS 7671 Annex A722, R = V·U0/(I·(C·U0 − V)) (from memory).
    ///
    /// # Errors
    /// At [`Field::Ra`], [`Reason::TooSmall`]: no electrode is low enough.
    pub fn electrode_for(
        &self,
        limit: Volts,
        beside: Option<Ohms>,
        least: Ratio,
    ) -> Result<Sought, Error> {
        if self.span(beside, least).high <= limit.get() {
            return Ok(Sought::None);
        }
        greatest(Ohms::MIN, Ohms::MAX, |r| {
            let joined = parallel(Some(Ohms::raw(r)), beside);
            self.span(joined, least).high <= limit.get()
        })
        .map(|r| Sought::AtMost(Ohms::raw(r)))
        .ok_or(Reason::TooSmall.at(Field::Ra))
    }
}

/// Of each line's load at nominal voltage, in siemens.
fn admittances(u0: f32, loads: [Option<LineLoad>; 3]) -> Result<[Option<Z>; 3], Error> {
    let mut lines = [None; 3];
    for (to, load) in lines.iter_mut().zip(loads) {
        let Some(load) = load else { continue };
        let pf = load.power_factor.get();
        if pf < 0.05 {
            return Err(Reason::TooSmall.at(Field::PowerFactor));
        }
        if pf > 1.0 {
            return Err(Reason::TooLarge.at(Field::PowerFactor));
        }
        let y = load.current.get() / u0;
        *to = Some(Z {
            r: y * pf,
            x: -y * sqrtf(1.0 - pf * pf),
        });
    }
    if lines.iter().all(Option::is_none) {
        return Err(Reason::Missing.at(Field::DesignCurrent));
    }
    Ok(lines)
}

/// The smallest share that is tried.
fn small_of(least: Ratio) -> f32 {
    between(least.get(), Ratio::MIN, 1.0)
}

/// Two electrodes joined, far enough apart not to touch each other's soil; those that are known.
#[must_use]
pub fn parallel(one: Option<Ohms>, other: Option<Ohms>) -> Option<Ohms> {
    match (one, other) {
        (Some(a), Some(b)) => Some(Ohms::raw(1.0 / (1.0 / a.get() + 1.0 / b.get()))),
        (a, b) => a.or(b),
    }
}
