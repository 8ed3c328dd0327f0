//! Resistance of an earth electrode: fall of potential with three positions of the middle stake, or the loop.
//!
//! RA ≤ 50 V/IΔn (BS 7671 411.5.3, IEC 60364-4-41 411.5.3, from memory). Above 200 Ω it may not be stable (common
//! practice, quoted by BS 7671 Table 41.5 note, from memory).
//!
//! The three readings are believed where the largest deviation from their mean, times 1.2, is below 5 % of the
//! mean (a maker's guide to earth testing, p. 33: 58, 55 and 59 Ω, read at second hand). That share widens the
//! band too.

use super::{
    Judged, Lacking, Meaning, QuickRule, Rule, Test,
    interval::{self, Accuracy, Interval, Shown},
};
use crate::quantity::{Amps, Volts};
use crate::verdict::{Sense, Unit};

/// Factor on the largest deviation.
pub const DEVIATION_FACTOR: f32 = 1.2;
/// Below this share of the mean the readings are believed.
pub const DEVIATION_LIMIT: f32 = 0.05;
/// Above this an electrode may not be stable, in Ω (common practice).
pub const STABLE: f32 = 200.0;

/// How well three readings agree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Agreement {
    /// Mean, in Ω.
    pub mean: f32,
    /// Largest deviation from it, as a share.
    pub deviation: f32,
    /// Deviation × 1.2.
    pub scaled: f32,
    /// It is below 5 %.
    pub valid: bool,
}

/// How well the readings agree: with the middle stake in its place, nearer, and further.
///
/// ```
/// use faultpath::reading::electrode::agreement;
/// let a = agreement([58.0, 55.0, 59.0]);
/// assert!((a.mean - 57.33).abs() < 0.005 && (a.scaled - 0.0488).abs() < 0.0001 && a.valid);
/// assert!(!agreement([58.0, 50.0, 59.0]).valid);
/// ```
#[must_use]
pub fn agreement(readings: [f32; 3]) -> Agreement {
    let [a, b, c] = readings;
    let mean = (a + b + c) / 3.0;
    let off = |v: f32| (v - mean).abs() / mean;
    let deviation = off(a).max(off(b)).max(off(c));
    let scaled = DEVIATION_FACTOR * deviation;
    Agreement {
        mean,
        deviation,
        scaled,
        valid: mean > 0.0 && scaled < DEVIATION_LIMIT,
    }
}

/// Largest RA: touch voltage over IΔn, in Ω.
#[must_use]
pub fn limit(touch: Volts, residual: Amps) -> f32 {
    touch.get() / residual.get()
}

/// Three readings of the fall of potential, in Ω.
///
/// `limit`: see [`limit`]; without an RCD the loop decides, and then there is none here.
#[must_use]
pub fn fall_of_potential(readings: [Shown; 3], accuracy: &Accuracy, limit: Option<f32>) -> Judged {
    let mut j = Judged::new(
        Test::Electrode,
        Rule::FallOfPotential,
        Unit::Ohm,
        Sense::AtMost,
    );
    let intervals = readings.map(|r| interval::interval(r, accuracy));
    if readings.iter().any(|r| r.is_above()) {
        let low = intervals.iter().fold(f32::INFINITY, |l, i| l.min(i.low));
        j.interval = Some(Interval { low, high: None });
        j.shown = readings.into_iter().find(|r| r.is_above());
        if let Some(limit) = limit {
            j = j.against(limit);
            j.rule = Rule::TouchVoltage;
        }
        return j;
    }
    if !readings.iter().all(|r| interval::believable(*r, accuracy)) {
        j.meaning = Meaning::NotBelievable;
        return j;
    }
    let a = agreement(readings.map(|r| (r.figure() - accuracy.lead()).max(0.0)));
    j.value = a.mean.is_finite().then_some(a.mean);
    if !a.valid {
        j.meaning = Meaning::MoveStakes;
        return j;
    }
    // The stakes' share on top of the instrument's.
    let plain = accuracy.nulled();
    let end = |share: f32| interval::interval(Shown::Value(a.mean * share), &plain);
    j.shown = Some(Shown::Value(a.mean));
    j.interval = Some(Interval {
        low: end(1.0 - a.scaled).low,
        high: end(1.0 + a.scaled).high,
    });
    let Some(limit) = limit else {
        return j.without(Lacking::RCD);
    };
    j.rule = Rule::TouchVoltage;
    j.against(limit).with_quick(QuickRule::Stable, STABLE)
}

/// The loop at the origin of a TT installation, read for RA: the source's electrode and the line are in it, so RA
/// is less, and a pass is one.
#[must_use]
pub fn by_loop(shown: impl Into<Option<Shown>>, accuracy: &Accuracy, limit: Option<f32>) -> Judged {
    let j = Judged::new(
        Test::Electrode,
        Rule::TouchVoltage,
        Unit::Ohm,
        Sense::AtMost,
    )
    .read(shown.into(), accuracy);
    match limit {
        Some(limit) => j.against(limit).with_quick(QuickRule::Stable, STABLE),
        None => j.without(Lacking::RCD),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verdict::Outcome;

    fn meter() -> Accuracy {
        Accuracy::new(0.02, 3.0, 0.1).unwrap()
    }

    #[test]
    fn three_readings() {
        let limit = limit(Volts::raw(50.0), Amps::raw(0.3));
        let j = fall_of_potential([58.0, 55.0, 59.0].map(Shown::Value), &meter(), Some(limit));
        assert_eq!((j.outcome, j.meaning), (Outcome::Pass, Meaning::Clear));
        let i = j.interval.unwrap();
        // 57.33 with 4.88 % of the stakes, then 2 % and 3.5 steps.
        assert!(
            (i.high.unwrap() - 61.69).abs() < 0.05 && (i.low - 53.14).abs() < 0.05,
            "{i:?}"
        );
        let j = fall_of_potential([58.0, 50.0, 59.0].map(Shown::Value), &meter(), Some(limit));
        assert_eq!(
            (j.outcome, j.meaning),
            (Outcome::CannotSay, Meaning::MoveStakes)
        );
        let j = fall_of_potential(
            [Shown::Value(58.0), Shown::Above(2000.0), Shown::Value(59.0)],
            &meter(),
            Some(limit),
        );
        assert_ne!(j.outcome, Outcome::Pass);
        let j = fall_of_potential([Shown::Value(0.0); 3], &meter(), Some(limit));
        assert_ne!(j.outcome, Outcome::Pass);
    }

    #[test]
    fn the_loop_for_the_electrode() {
        let limit = limit(Volts::raw(50.0), Amps::raw(0.03));
        let j = by_loop(Shown::Value(250.0), &meter(), Some(limit));
        assert_eq!(j.outcome, Outcome::Pass);
        assert_eq!(j.quick.unwrap().outcome, Outcome::Fail);
        assert_eq!(
            by_loop(Shown::Above(2000.0), &meter(), Some(limit)).outcome,
            Outcome::Fail
        );
        assert_eq!(
            by_loop(Shown::Value(1660.0), &meter(), Some(limit)).outcome,
            Outcome::Doubtful
        );
        assert_eq!(
            by_loop(Shown::Value(100.0), &meter(), None).outcome,
            Outcome::CannotSay
        );
    }
}
