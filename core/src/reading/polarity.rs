//! Polarity and phase sequence (IEC 60364-6 6.4.3.6 and 6.4.3.9, BS 7671 643.6 and 643.9, from memory).

use super::{Judged, Lacking, Meaning, Rule, Test};
use crate::verdict::{Outcome, Sense, Unit};

/// What a polarity test found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Polarity {
    /// Every conductor where it belongs, every single-pole device and switch in the line.
    Right,
    /// Line and neutral exchanged.
    LineNeutral,
    /// Line and protective conductor exchanged.
    LineProtective,
    /// Neutral and protective conductor exchanged.
    NeutralProtective,
    /// A single-pole switch or device in the neutral.
    SwitchInNeutral,
    /// The line on the outer contact of a screw lampholder.
    Lampholder,
}

/// Polarity of a circuit.
#[must_use]
pub fn polarity(found: Polarity) -> Judged {
    let mut j = Judged::new(Test::Polarity, Rule::Polarity, Unit::Factor, Sense::AtMost);
    (j.outcome, j.meaning) = match found {
        Polarity::Right => (Outcome::Pass, Meaning::Clear),
        _ => (Outcome::Fail, Meaning::Crossed),
    };
    j
}

/// The order of the three lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rotation {
    /// L1, L2, L3.
    Forward,
    /// L1, L3, L2.
    Backward,
}

/// Phase sequence of a three-phase circuit: kept as it is at the origin.
#[must_use]
pub fn sequence(here: Rotation, origin: Option<Rotation>) -> Judged {
    let mut j = Judged::new(
        Test::PhaseSequence,
        Rule::PhaseSequence,
        Unit::Factor,
        Sense::AtMost,
    );
    (j.outcome, j.meaning) = match origin {
        Some(o) if o == here => (Outcome::Pass, Meaning::Clear),
        Some(_) => (Outcome::Fail, Meaning::Reversed),
        None => return j.without(Lacking::ORIGIN_SEQUENCE),
    };
    j
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_right_is_right() {
        assert_eq!(polarity(Polarity::Right).outcome, Outcome::Pass);
        for p in [
            Polarity::LineNeutral,
            Polarity::LineProtective,
            Polarity::NeutralProtective,
            Polarity::SwitchInNeutral,
            Polarity::Lampholder,
        ] {
            assert_eq!(polarity(p).outcome, Outcome::Fail);
        }
        use Rotation::{Backward, Forward};
        assert_eq!(sequence(Backward, Some(Backward)).meaning, Meaning::Clear);
        assert_eq!(sequence(Backward, Some(Forward)).outcome, Outcome::Fail);
        assert_eq!(sequence(Forward, None).outcome, Outcome::CannotSay);
    }
}
