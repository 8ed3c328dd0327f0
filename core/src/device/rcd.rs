//! Residual current devices to IEC 61008-1 and 61009-1 (types AC and A), IEC 62423 (types F and B).
//!
//! Limits of break and non-actuating times for a sinusoidal residual current (from memory):
//!
//! | | IΔn | 2 IΔn | 5 IΔn and more |
//! |---|---|---|---|
//! | general, within | 0.3 s | 0.15 s | 0.04 s |
//! | selective S, within | 0.5 s | 0.2 s | 0.15 s |
//! | selective S, not within | 0.13 s | 0.06 s | 0.05 s |
//!
//! Up to 30 mA a maker may have the 0.04 s tested at 0.25 A in place of 5 IΔn. Other wave shapes (pulsating
//! direct current, high frequency) operate at other multiples and are not covered.

use super::{Known, WhyNot};
use crate::error::{Error, Field, Reason};
use crate::quantity::{Amps, Seconds};

/// The wave shapes an RCD responds to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RcdType {
    /// Alternating current only.
    Ac,
    /// Also pulsating direct current.
    A,
    /// Also mixed frequencies of single-phase converters.
    F,
    /// Also smooth direct current.
    B,
}

/// Intended delay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RcdDelay {
    /// General type, without delay.
    None,
    /// Selective type S.
    Selective,
}

/// A residual current device.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rcd {
    sensitivity: Amps,
    kind: RcdType,
    delay: RcdDelay,
}

/// IΔn that are made, in amperes (from memory).
const SENSITIVITIES: &[f32] = &[0.006, 0.01, 0.03, 0.1, 0.3, 0.5, 1.0];

/// Multiples of IΔn, and seconds: general, selective, selective not sooner than.
const TIMES: [(f32, f32, f32, f32); 3] = [
    (1.0, 0.3, 0.5, 0.13),
    (2.0, 0.15, 0.2, 0.06),
    (5.0, 0.04, 0.15, 0.05),
];

/// A multiple of IΔn, by whole milliamperes, so that 5 times 30 mA is the 0.15 A a person writes.
fn times(sensitivity: f32, multiple: f32) -> f32 {
    libm::roundf(sensitivity * multiple * 1000.0) / 1000.0
}

impl Rcd {
    /// An RCD that is made.
    ///
    /// # Errors
    /// At [`Field::ResidualCurrent`]: [`Reason::NotMade`] where [`Rcd::sensitivities`] has no such IΔn,
    /// [`Reason::Contradiction`] for a selective one of 30 mA or less.
    pub fn new(sensitivity: Amps, kind: RcdType, delay: RcdDelay) -> Result<Self, Error> {
        if super::find(SENSITIVITIES, sensitivity.get()).is_none() {
            return Err(Reason::NotMade.at(Field::ResidualCurrent));
        }
        if delay == RcdDelay::Selective && sensitivity.get() <= 0.03 {
            return Err(Reason::Contradiction.at(Field::ResidualCurrent));
        }
        Ok(Self {
            sensitivity,
            kind,
            delay,
        })
    }

    /// The IΔn that are made, in amperes, rising.
    #[must_use]
    pub const fn sensitivities() -> &'static [f32] {
        SENSITIVITIES
    }

    /// Rated residual operating current IΔn.
    #[must_use]
    pub const fn sensitivity(&self) -> Amps {
        self.sensitivity
    }

    /// The wave shapes it responds to.
    #[must_use]
    pub const fn kind(&self) -> RcdType {
        self.kind
    }

    /// Its delay.
    #[must_use]
    pub const fn delay(&self) -> RcdDelay {
        self.delay
    }

    /// Whether it surely lets one behind it go first, of this IΔn and `general` where that has no delay: type S, at
    /// least three times the IΔn, and the other without delay (BS 7671 536, IEC 60364-5-53, from memory).
    #[must_use]
    pub fn lets_go_first(&self, behind: Amps, general: bool) -> bool {
        // By whole milliamperes: three times 0.1 A is 0.3 A.
        let milli = |i: Amps| libm::roundf(i.get() * 1000.0);
        self.delay == RcdDelay::Selective
            && general
            && milli(self.sensitivity) >= 3.0 * milli(behind)
    }

    fn steps(&self) -> impl DoubleEndedIterator<Item = (f32, f32)> {
        let (sensitivity, delay) = (self.sensitivity.get(), self.delay);
        TIMES.iter().map(move |(multiple, general, selective, _)| {
            let latest = match delay {
                RcdDelay::None => *general,
                RcdDelay::Selective => *selective,
            };
            (times(sensitivity, *multiple), latest)
        })
    }

    /// The time within which it surely disconnects at a residual current `i`; in steps, as tabulated.
    #[must_use]
    pub fn latest(&self, i: Amps) -> Known<Seconds> {
        // From above: a fault on earthed metal is far beyond the last.
        match self.steps().rev().find(|(from, _)| i.get() >= *from) {
            Some((_, latest)) => Known::Value(Seconds::raw(latest)),
            None => Known::NotKnown(WhyNot::BelowCurve),
        }
    }

    /// The time within which it surely does not disconnect at `i`; `None` for the general type.
    ///
    /// Above 5 IΔn none is given.
    #[must_use]
    pub fn earliest(&self, i: Amps) -> Option<Seconds> {
        if self.delay == RcdDelay::None {
            return None;
        }
        TIMES
            .iter()
            .find(|(multiple, ..)| i.get() <= times(self.sensitivity.get(), *multiple))
            .map(|(.., not_within)| Seconds::raw(*not_within))
    }

    /// The smallest residual current for which it surely disconnects within `t`.
    #[must_use]
    pub fn disconnecting_current(&self, t: Seconds) -> Known<Amps> {
        match self.steps().find(|(_, latest)| t.get() >= *latest) {
            Some((i, _)) => Known::Value(Amps::raw(i)),
            None => Known::NotKnown(WhyNot::ShorterThanCurve),
        }
    }
}
