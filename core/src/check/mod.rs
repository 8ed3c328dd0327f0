//! The checks: one file each, the rule, its source and what it lacks.
//!
//! Each takes the same [`Case`] and tells its finding to a recorder. A comparison is made with unrounded
//! values; a value that is not a number is never a pass. What was worked out in several steps of `f32` is held
//! with [`HAIR`] in hand; what was entered, or follows from it in a step or two, as it is, so that just the limit
//! passes.

pub(crate) mod board_fault;
pub(crate) mod bonding;
pub(crate) mod breaking;
pub(crate) mod capacity;
pub(crate) mod demand;
pub(crate) mod design_current;
pub(crate) mod disconnection;
pub(crate) mod earthing_conductor;
pub(crate) mod electrode;
pub(crate) mod rcd;
pub(crate) mod thermal;
pub(crate) mod volt_drop;

use crate::device::{Edge, Rcd};
use crate::facts::{CircuitFacts, SectionFacts, Spot};
use crate::network::Circuit;
use crate::quantity::Amps;
use crate::source::Here;
use crate::verdict::{
    Assumed, Check, Finding, Lacking, Outcome, Place, Recorder, Rule, Sense, Topic, Unit,
};

/// What a circuit's checks look at.
pub(crate) struct Case<'a> {
    pub here: &'a Here<'a>,
    pub circuit: &'a Circuit,
    /// Of the circuit's device.
    pub edge: &'a Edge,
    pub facts: &'a CircuitFacts,
    pub sections: &'a [SectionFacts],
    /// Conditional rating of the board the circuit starts from.
    pub conditional: Option<Amps>,
    pub place: Place,
}

impl Case<'_> {
    /// Every RCD the circuit is behind.
    pub fn rcds(&self) -> impl Iterator<Item = Rcd> {
        [self.circuit.rcd, self.here.source.rcd]
            .into_iter()
            .flatten()
    }

    /// Whether only an RCD further up serves.
    pub fn rcd_assumption(&self) -> Assumed {
        if self.circuit.rcd.is_none() && self.here.source.rcd.is_some() {
            Assumed::RCD_UPSTREAM
        } else {
            Assumed::empty()
        }
    }

    pub fn spot(&self, topic: Topic) -> Spot {
        Spot::at(self.place, topic)
    }
}

/// All checks of a circuit; by itself as the facts are.
#[inline(never)]
pub(crate) fn all<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) {
    design_current::check(case, rec);
    let capacity = capacity::check(case, rec);
    capacity::overload(case, rec);
    volt_drop::check(case, rec);
    disconnection::check(case, rec);
    electrode::check(case, rec);
    thermal::protective(case, rec);
    let breaking = breaking::check(case, rec);
    thermal::line(case, capacity, breaking, rec);
    rcd::check(case, rec);
}

/// A finding in the making.
pub(crate) fn finding(place: Place, check: Check, rule: Rule, unit: Unit, sense: Sense) -> Finding {
    Finding {
        place,
        check,
        outcome: Outcome::CannotSay,
        value: None,
        limit: None,
        unit,
        sense,
        section: None,
        rule,
        lacking: Lacking::empty(),
        assumed: Assumed::empty(),
    }
}

/// Holds a value against its limit. What is not a finite number is not a pass.
pub(crate) fn held(sense: Sense, value: f32, limit: f32) -> Outcome {
    if !value.is_finite() || !limit.is_finite() {
        return Outcome::CannotSay;
    }
    let good = match sense {
        Sense::AtMost => value <= limit,
        Sense::AtLeast => value >= limit,
    };
    if good { Outcome::Pass } else { Outcome::Fail }
}

/// What rounding can have taken from a figure that was worked out, as a share of it: some thirty roundings to the
/// same side, more than any sum here has (own).
pub(crate) const HAIR: f32 = 2e-6;

/// A figure that was worked out, a [`HAIR`] on the worse side.
pub(crate) fn outwards(sense: Sense, value: f32) -> f32 {
    let hair = HAIR * value.abs();
    match sense {
        Sense::AtMost => value + hair,
        Sense::AtLeast => value - hair,
    }
}

/// Keeps a number only if it is one, so that nothing downstream shows what has no meaning.
pub(crate) fn finite(v: f32) -> Option<f32> {
    v.is_finite().then_some(v)
}

impl Finding {
    pub(crate) fn hold(&mut self, value: f32, limit: f32) {
        self.outcome = held(self.sense, value, limit);
        self.value = finite(value);
        self.limit = finite(limit);
        if self.outcome == Outcome::CannotSay {
            // Of a profile whose figure is not known, or of a source put together unchecked.
            self.lacking |= if limit.is_finite() {
                Lacking::UPSTREAM
            } else {
                Lacking::LIMIT
            };
        }
    }

    /// The same for a value or a limit that was worked out.
    pub(crate) fn hold_worked(&mut self, value: f32, limit: f32) {
        let moved = outwards(self.sense, value);
        if moved.is_finite() {
            self.hold(moved, limit);
            self.value = Some(value);
            return;
        }
        self.hold(value, limit);
        if self.outcome == Outcome::Pass {
            // The largest number there is: nothing is left beyond it to hold.
            self.outcome = Outcome::Fail;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_is_no_pass() {
        for bad in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY] {
            for sense in [Sense::AtMost, Sense::AtLeast] {
                assert_eq!(held(sense, bad, 1.0), Outcome::CannotSay);
                assert_eq!(held(sense, 1.0, bad), Outcome::CannotSay);
            }
        }
    }

    #[test]
    fn what_was_worked_out_passes_a_hair_before_its_limit() {
        let f = |sense, value: f32| {
            let place = Place::Supply;
            let mut f = finding(
                place,
                Check::Breaking,
                Rule::BreakingCapacity,
                Unit::Ampere,
                sense,
            );
            f.hold_worked(value, 1.0);
            assert_eq!((f.value, f.limit), (Some(value), Some(1.0)));
            f.outcome
        };
        assert_eq!(f(Sense::AtMost, 1.0 - 3e-6), Outcome::Pass);
        assert_eq!(f(Sense::AtMost, 1.0 - 1e-6), Outcome::Fail);
        assert_eq!(f(Sense::AtLeast, 1.0 + 3e-6), Outcome::Pass);
        assert_eq!(f(Sense::AtLeast, 1.0 + 1e-6), Outcome::Fail);
        // There is no hair beyond the largest number.
        assert_eq!(f(Sense::AtMost, f32::MAX), Outcome::Fail);
    }

    #[test]
    fn the_limit_itself_passes_and_one_step_beyond_fails() {
        let beyond = f32::from_bits(1.0f32.to_bits() + 1);
        let short = f32::from_bits(1.0f32.to_bits() - 1);
        assert_eq!(held(Sense::AtMost, 1.0, 1.0), Outcome::Pass);
        assert_eq!(held(Sense::AtMost, beyond, 1.0), Outcome::Fail);
        assert_eq!(held(Sense::AtLeast, 1.0, 1.0), Outcome::Pass);
        assert_eq!(held(Sense::AtLeast, short, 1.0), Outcome::Fail);
    }
}
