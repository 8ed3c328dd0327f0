//! What a circuit is fed from: everything upstream of a board, gathered into one small value.
//!
//! The walk over the tree builds one for each board from the one above it. A test instrument without a
//! tree makes its own from a measured Ze and fault level, and judges a single circuit against it.

use crate::device::Rcd;
use crate::impedance::{External, Pair, Z};
use crate::profile::Profile;
use crate::quantity::Ohms;
use crate::supply::{Earthing, FaultLevel, Origin, Phases, Supply};
use crate::verdict::{Assumed, Lacking};

/// The larger of two; no number where one of them is none, which `f32::max` would pass over.
pub(crate) fn larger(a: f32, b: f32) -> f32 {
    if a.is_nan() {
        a
    } else if b > a || b.is_nan() {
        b
    } else {
        a
    }
}

/// The value, or the end it lies beyond; no number stays none. `f32::clamp` panics where the ends are the wrong
/// way round or no numbers, and its message alone is a tenth of the page's library.
pub(crate) fn between(value: f32, low: f32, high: f32) -> f32 {
    if value < low {
        low
    } else if value > high {
        high
    } else {
        value
    }
}

/// Volt drop from the origin, line to neutral, in volts, by line.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Drop {
    /// Conductors at their full temperature.
    pub full: [f32; 3],
    /// Conductors at the temperature of the load.
    pub load: [f32; 3],
}

/// Everything upstream of a board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Source {
    /// Nominal line-to-earth voltage, in volts.
    pub u0: f32,
    /// All three phases reach the board.
    pub three_phase: bool,
    /// The line a single-phase board is on (0..=2).
    pub line_index: usize,
    /// The system of earthing here.
    pub earthing: Earthing,
    /// The part of the earth fault loop outside the installation: Ze, or the electrodes.
    pub loop_external: Option<External>,
    /// The smallest that part can be, for the largest earth fault current.
    pub loop_external_min: Option<External>,
    /// RA, for the touch voltage, where the system is TT here.
    pub ra: Option<f32>,
    /// The smallest impedance of the supply's line conductor, or of its line and neutral.
    pub supply_min: Option<External>,
    /// The fault level that was stated for the origin, in amperes.
    pub level: Option<f32>,
    /// Line conductors from the origin.
    pub line: Pair,
    /// Neutral conductors from the origin.
    pub neutral: Pair,
    /// Protective conductors from the origin, or from the electrode.
    pub protective: Pair,
    /// Volt drop so far; none where it could not be summed.
    pub drop: Option<Drop>,
    /// An RCD upstream that every circuit here is behind.
    pub rcd: Option<Rcd>,
    /// What is missing upstream, for the earth fault loop.
    pub lacking_loop: Lacking,
    /// What is missing upstream, for the largest currents.
    pub lacking_max: Lacking,
    /// What was taken for granted upstream, for the earth fault loop.
    pub assumed_loop: Assumed,
    /// What was taken for granted upstream, for the largest currents.
    pub assumed_max: Assumed,
}

/// A source with its largest currents of one line at the board itself, worked out once for all that asks for them.
pub(crate) struct Here<'a> {
    pub profile: &'a Profile,
    pub source: &'a Source,
    neutral: Option<f32>,
    earth: Option<f32>,
}

impl<'a> Here<'a> {
    pub fn new(profile: &'a Profile, source: &'a Source) -> Self {
        Self {
            profile,
            source,
            neutral: source.ik_neutral(profile, Pair::ZERO),
            earth: source.ik_earth(profile, Pair::ZERO),
        }
    }

    /// As [`Source::ik_neutral`].
    pub fn ik_neutral(&self, further: Pair) -> Option<f32> {
        if further.cold == Z::ZERO {
            return self.neutral;
        }
        self.source.ik_neutral(self.profile, further)
    }

    /// As [`Source::ik_earth`].
    pub fn ik_earth(&self, further: Pair) -> Option<f32> {
        if further.cold == Z::ZERO {
            return self.earth;
        }
        self.source.ik_earth(self.profile, further)
    }

    /// As [`Source::largest`].
    pub fn largest(&self) -> Option<f32> {
        let mut largest = self.neutral?;
        if self.source.three_phase {
            largest = larger(largest, self.source.ik_three(self.profile, Pair::ZERO)?);
        }
        if let Some(earth) = self.earth {
            largest = larger(largest, earth);
        }
        Some(largest)
    }
}

impl Source {
    /// The origin of the supply, judged as the given system.
    #[must_use]
    pub fn at_origin(supply: &Supply, earthing: Earthing, profile: &Profile) -> Self {
        let x_over_r = supply.x_over_r.map(|q| q.get());
        let u0 = supply.u0.get();
        let mut s = Self {
            u0,
            three_phase: supply.phases == Phases::Three,
            line_index: 0,
            earthing,
            loop_external: None,
            loop_external_min: None,
            ra: None,
            supply_min: None,
            level: None,
            line: Pair::ZERO,
            neutral: Pair::ZERO,
            protective: Pair::ZERO,
            drop: Some(Drop::default()),
            rcd: None,
            lacking_loop: Lacking::empty(),
            lacking_max: Lacking::empty(),
            assumed_loop: Assumed::empty(),
            assumed_max: Assumed::empty(),
        };
        s.take_fault_level(supply, earthing, profile, x_over_r);
        match earthing {
            Earthing::TnS | Earthing::TnCS => {
                match supply.ze {
                    Some(ze) => {
                        s.loop_external = Some(External {
                            magnitude: ze.get(),
                            x_over_r,
                        });
                        if supply.ze_origin != Origin::Measured {
                            s.assumed_loop |= Assumed::ZE_NOT_MEASURED;
                        }
                        if x_over_r.is_none() {
                            s.assumed_loop |= Assumed::SUPPLY_ANGLE;
                        }
                    }
                    None => s.lacking_loop |= Lacking::ZE,
                }
                s.loop_external_min = s.supply_min;
            }
            // Ze of a supply that can't be told is of its present earth; as TT only the electrode counts.
            Earthing::Tt => {
                let measured = match supply.earthing {
                    crate::supply::SupplyEarthing::Known(_) => supply.ze,
                    crate::supply::SupplyEarthing::NotKnown => None,
                };
                s.take_electrode(supply.ra, measured, profile);
            }
        }
        s
    }

    fn take_fault_level(
        &mut self,
        supply: &Supply,
        earthing: Earthing,
        profile: &Profile,
        x_over_r: Option<f32>,
    ) {
        let u0 = supply.u0.get();
        let level = match supply.fault_level {
            FaultLevel::Stated(i, origin) => {
                if origin != Origin::Measured {
                    self.assumed_max |= Assumed::FAULT_LEVEL_NOT_MEASURED;
                }
                Some(i.get())
            }
            // A declared Ze is the largest there may be; the smallest, which gives the largest current, is
            // only known where it was measured.
            FaultLevel::FromZe => match (earthing, supply.ze, supply.ze_origin) {
                (Earthing::TnCS, Some(ze), Origin::Measured) => {
                    let single = profile.cmax * u0 / ze.get();
                    if supply.phases == Phases::Three {
                        self.assumed_max |= Assumed::DOUBLED;
                        Some(2.0 * single)
                    } else {
                        Some(single)
                    }
                }
                _ => None,
            },
            FaultLevel::NotKnown => None,
        };
        match level {
            Some(i) => {
                self.level = Some(i);
                self.supply_min = Some(External {
                    magnitude: profile.cmax * u0 / i,
                    x_over_r,
                });
                if x_over_r.is_none() {
                    self.assumed_max |= Assumed::SUPPLY_ANGLE;
                }
            }
            None => self.lacking_max |= Lacking::FAULT_LEVEL,
        }
    }

    /// Makes this a TT source: the loop closes over an electrode here, not over conductors upstream.
    pub fn take_electrode(&mut self, ra: Option<Ohms>, measured: Option<Ohms>, profile: &Profile) {
        self.earthing = Earthing::Tt;
        self.protective = Pair::ZERO;
        self.lacking_loop = Lacking::empty();
        self.assumed_loop = Assumed::empty();
        let resistive = |magnitude| External {
            magnitude,
            x_over_r: Some(0.0),
        };
        let (loop_ohms, ra_ohms) = match (ra, measured) {
            (Some(ra), Some(all)) => {
                // Both given: the loop can't be smaller than the electrode in it.
                (Some(all.get().max(ra.get())), Some(ra.get()))
            }
            (Some(ra), None) => {
                self.assumed_loop |= Assumed::SOURCE_ELECTRODE;
                (Some(ra.get() + profile.source_electrode), Some(ra.get()))
            }
            (None, Some(all)) => {
                self.assumed_loop |= Assumed::RA_FROM_LOOP;
                (Some(all.get()), Some(all.get()))
            }
            (None, None) => {
                self.lacking_loop |= Lacking::RA;
                (None, None)
            }
        };
        self.ra = ra_ohms;
        self.loop_external = loop_ohms.map(resistive);
        // The source's electrode may be much better than the typical one, so only RA is sure to be there.
        self.loop_external_min = ra_ohms.map(resistive);
    }

    /// Largest three-phase current here, in amperes.
    #[must_use]
    pub fn ik_three(&self, profile: &Profile, further: Pair) -> Option<f32> {
        self.by_supply(profile, (self.line + further).cold)
    }

    /// Largest line-neutral current here, in amperes; `further` is line and neutral from here on.
    #[must_use]
    pub fn ik_neutral(&self, profile: &Profile, further: Pair) -> Option<f32> {
        self.by_supply(profile, (self.line + self.neutral + further).cold)
    }

    /// Largest line-earth current here, in amperes; `further` is line and protective conductor from here on.
    #[must_use]
    pub fn ik_earth(&self, profile: &Profile, further: Pair) -> Option<f32> {
        let conductors = (self.line + self.protective + further).cold;
        let external = self.loop_external_min?;
        if conductors == Z::ZERO && self.earthing != Earthing::Tt {
            return self.level;
        }
        Some(profile.cmax * self.u0 / external.smallest_with(conductors))
    }

    /// At the origin itself the level as stated, to the bit: a device of just that capacity is good enough.
    fn by_supply(&self, profile: &Profile, conductors: Z) -> Option<f32> {
        if conductors == Z::ZERO {
            return self.level;
        }
        let z = self.supply_min?.smallest_with(conductors);
        Some(profile.cmax * self.u0 / z)
    }

    /// Largest current a device at this board may have to break, in amperes.
    #[must_use]
    pub fn largest(&self, profile: &Profile) -> Option<f32> {
        Here::new(profile, self).largest()
    }
}

#[cfg(test)]
mod tests;
