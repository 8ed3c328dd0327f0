//! Insulation resistance: IEC 60364-6 Table 6A, BS 7671 Table 64 (from memory).
//!
//! | circuit | test voltage, d.c. | at least |
//! |---|---|---|
//! | SELV, PELV | 250 V | 0.5 MΩ |
//! | up to 500 V, FELV too | 500 V | 1 MΩ |
//! | above 500 V | 1000 V | 1 MΩ |
//!
//! Surge protection and electronic gear are disconnected for the test. Where that can't reasonably be done (a socket
//! with surge protection in it) the test voltage of that circuit may be 250 V, and 1 MΩ still holds (IEC 60364-6
//! 6.4.3.3, BS 7671 643.3.2, from memory).
//!
//! Circuits tested together are in parallel: 1/R = Σ 1/Rk. Together above the limit, each is; together below it,
//! nothing is said of any one.

use super::{
    Judged, Lacking, Meaning, QuickRule, Rule, Test,
    interval::{Accuracy, Interval, Shown},
};
use crate::network::Phase;
use crate::quantity::Volts;
use crate::verdict::{Outcome, Sense, Unit};

/// What a circuit is, for its insulation test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Class {
    /// SELV or PELV.
    ExtraLow,
    /// Anything else, FELV too, by its nominal voltage: between lines where there are several.
    Nominal(Volts),
}

/// Test voltage, and the least insulation resistance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Required {
    /// D.c. test voltage, in volts.
    pub test_voltage: f32,
    /// In MΩ.
    pub least: f32,
}

/// What is asked of a circuit.
#[must_use]
pub fn required(class: Class) -> Required {
    let (test_voltage, least) = match class {
        Class::ExtraLow => (250.0, 0.5),
        Class::Nominal(u) if u.get() <= 500.0 => (500.0, 1.0),
        Class::Nominal(_) => (1000.0, 1.0),
    };
    Required {
        test_voltage,
        least,
    }
}

impl Class {
    /// That of a circuit in a supply of U0 line to earth: between lines where there are three.
    #[must_use]
    pub fn of(u0: Volts, phase: Phase) -> Self {
        Self::Nominal(match phase {
            Phase::Three => Volts::raw(u0.get() * libm::sqrtf(3.0)),
            _ => u0,
        })
    }
}

/// How the test was made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Made {
    /// D.c. test voltage used, in volts.
    pub test_voltage: f32,
    /// Surge protection or electronic gear was connected.
    pub gear: bool,
    /// That gear can't reasonably be disconnected.
    pub fixed_gear: bool,
    /// Number of circuits tested together, 1 for one alone.
    pub circuits: u8,
}

/// Insulation of one circuit, or of several together; in MΩ.
#[must_use]
pub fn judge(
    class: Class,
    made: Made,
    shown: impl Into<Option<Shown>>,
    accuracy: &Accuracy,
) -> Judged {
    let shown = shown.into();
    let need = required(class);
    let reduced = made.test_voltage < need.test_voltage;
    let allowed =
        reduced && made.fixed_gear && need.test_voltage <= 500.0 && made.test_voltage >= 250.0;
    let rule = if allowed {
        Rule::InsulationReduced
    } else {
        Rule::InsulationTable
    };
    let mut j = Judged::new(Test::Insulation, rule, Unit::MegaOhm, Sense::AtLeast)
        .read(shown, accuracy)
        .against(need.least)
        .with_quick(QuickRule::TwoMegohms, 2.0);
    let Some(shown) = shown else { return j };
    let short = j.outcome == Outcome::Fail && shown.figure() <= accuracy.fixed();
    if short {
        j.meaning = Meaning::Short;
    }
    // What fails at a low voltage fails at a higher one too; what passes there has not been tested.
    if (reduced && !allowed || !made.test_voltage.is_finite()) && j.outcome != Outcome::Fail {
        j.outcome = Outcome::CannotSay;
        j.meaning = Meaning::TestVoltageTooLow;
        return j;
    }
    if j.outcome == Outcome::Pass {
        return j;
    }
    if made.gear {
        j.outcome = j.outcome.worse(Outcome::CannotSay);
        // Metal to metal is no surge protection.
        if !short {
            j.outcome = Outcome::CannotSay;
            j.meaning = Meaning::GearConnected;
        }
        j.lacking |= Lacking::WITHOUT_GEAR;
    } else if made.circuits > 1 && j.interval.is_some() {
        j.outcome = Outcome::CannotSay;
        j.meaning = Meaning::TestEachAlone;
        j.lacking |= Lacking::EACH_CIRCUIT;
    }
    j
}

/// What several circuits show together: 1/R = Σ 1/Rk, end by end. None of nothing.
///
/// ```
/// use faultpath::reading::{insulation::parallel, Interval};
/// let all = parallel([5.0, 20.0, 10.0, 20.0, 2.0].map(Interval::exact)).unwrap();
/// assert!((all.low - 1.11111).abs() < 1e-5);
/// ```
#[must_use]
pub fn parallel(circuits: impl IntoIterator<Item = Interval>) -> Option<Interval> {
    let (mut low, mut high, mut any) = (0.0f32, 0.0f32, false);
    for i in circuits {
        any = true;
        low += 1.0 / i.low;
        // No upper end: it takes nothing away.
        high += i.high.map_or(0.0, |h| 1.0 / h);
    }
    any.then(|| Interval {
        low: 1.0 / low,
        high: (high > 0.0).then(|| 1.0 / high),
    })
}

/// What a reading of several circuits together leaves for one, where the others are known: 1/(1/R − Σ 1/Rk).
/// No upper end where the rest explains all of it; none where they explain more than was read.
#[must_use]
pub fn remaining(
    together: Interval,
    others: impl IntoIterator<Item = Interval>,
) -> Option<Interval> {
    let (mut most, mut least) = (0.0f32, 0.0f32);
    for i in others {
        most += 1.0 / i.low;
        least += i.high.map_or(0.0, |h| 1.0 / h);
    }
    let largest = 1.0 / together.low - least;
    let smallest = together.high.map_or(0.0, |h| 1.0 / h) - most;
    (largest > 0.0).then(|| Interval {
        low: 1.0 / largest,
        high: (smallest > 0.0).then(|| 1.0 / smallest),
    })
}

/// Whether two readings of one circuit, at 250 V and at 500 V, show gear that conducts as the voltage rises (surge
/// protection): more than halved, the bands of both counted. Sound or bad insulation changes little (own).
#[must_use]
pub fn conducts_with_voltage(at_250: Interval, at_500: Interval) -> bool {
    at_500.high.is_some_and(|h| h < 0.5 * at_250.low)
}

#[cfg(test)]
mod tests {
    use super::*;

    const MAINS: Class = Class::Nominal(Volts::raw(230.0));

    fn made(test_voltage: f32) -> Made {
        Made {
            test_voltage,
            gear: false,
            fixed_gear: false,
            circuits: 1,
        }
    }

    fn meter() -> Accuracy {
        Accuracy::new(0.05, 2.0, 0.01).unwrap()
    }

    #[test]
    fn by_the_table() {
        for (class, volts, least) in [
            (Class::ExtraLow, 250.0, 0.5),
            (MAINS, 500.0, 1.0),
            (Class::Nominal(Volts::raw(500.0)), 500.0, 1.0),
            (Class::Nominal(Volts::raw(690.0)), 1000.0, 1.0),
        ] {
            assert_eq!(
                required(class),
                Required {
                    test_voltage: volts,
                    least
                }
            );
            let good = judge(class, made(volts), Shown::Above(99.0), &meter());
            assert_eq!(
                (good.outcome, good.meaning),
                (Outcome::Pass, Meaning::Clear)
            );
            let near = judge(class, made(volts), Shown::Value(least), &meter());
            assert_eq!(
                (near.outcome, near.meaning),
                (Outcome::Doubtful, Meaning::InsideBand)
            );
            let bad = judge(class, made(volts), Shown::Value(0.1), &meter());
            assert_eq!((bad.outcome, bad.meaning), (Outcome::Fail, Meaning::Beyond));
            let short = judge(class, made(volts), Shown::Value(0.0), &meter());
            assert_eq!(
                (short.outcome, short.meaning),
                (Outcome::Fail, Meaning::Short)
            );
            // A pass at too low a voltage is none.
            let low = judge(class, made(0.5 * volts), Shown::Above(99.0), &meter());
            assert_eq!(low.outcome, Outcome::CannotSay);
            assert_eq!(low.meaning, Meaning::TestVoltageTooLow);
        }
    }

    #[test]
    fn gear_that_must_stay_may_be_tested_at_250_volts() {
        let m = Made {
            fixed_gear: true,
            gear: true,
            ..made(250.0)
        };
        let j = judge(MAINS, m, Shown::Value(20.0), &meter());
        assert_eq!(
            (j.outcome, j.rule),
            (Outcome::Pass, Rule::InsulationReduced)
        );
        // Not above 500 V, and not below 250 V.
        let j = judge(
            Class::Nominal(Volts::raw(690.0)),
            m,
            Shown::Value(20.0),
            &meter(),
        );
        assert_eq!(j.outcome, Outcome::CannotSay);
        let j = judge(
            MAINS,
            Made {
                test_voltage: 100.0,
                ..m
            },
            Shown::Value(20.0),
            &meter(),
        );
        assert_eq!(j.outcome, Outcome::CannotSay);
        let j = judge(
            MAINS,
            Made {
                gear: true,
                ..made(500.0)
            },
            Shown::Value(0.3),
            &meter(),
        );
        assert_eq!(
            (j.outcome, j.meaning),
            (Outcome::CannotSay, Meaning::GearConnected)
        );
        let j = judge(
            MAINS,
            Made {
                gear: true,
                ..made(500.0)
            },
            Shown::Value(0.0),
            &meter(),
        );
        assert_eq!((j.outcome, j.meaning), (Outcome::Fail, Meaning::Short));
        let i = |v| super::super::interval::interval(Shown::Value(v), &meter());
        assert!(conducts_with_voltage(i(80.0), i(0.4)));
        assert!(!conducts_with_voltage(i(0.5), i(0.4)));
    }

    #[test]
    fn several_together_say_nothing_of_one() {
        let m = Made {
            circuits: 6,
            ..made(500.0)
        };
        let j = judge(MAINS, m, Shown::Value(0.4), &meter());
        assert_eq!(
            (j.outcome, j.meaning),
            (Outcome::CannotSay, Meaning::TestEachAlone)
        );
        assert_eq!(j.lacking, Lacking::EACH_CIRCUIT);
        let j = judge(MAINS, m, Shown::Value(4.0), &meter());
        assert_eq!(j.outcome, Outcome::Pass);
    }

    #[test]
    fn parallel_and_back() {
        let all = [5.0, 20.0, 10.0, 20.0, 2.0].map(Interval::exact);
        let together = parallel(all).unwrap();
        let one = remaining(together, all.into_iter().take(4)).unwrap();
        assert!((one.low - 2.0).abs() < 1e-4);
        assert_eq!(parallel([]), None);
        // Over range everywhere stays without an end; a dead short is a dead short.
        let over = Interval {
            low: 100.0,
            high: None,
        };
        assert_eq!(parallel([over, over]).unwrap().high, None);
        assert_eq!(parallel([over, Interval::exact(0.0)]).unwrap().low, 0.0);
        assert_eq!(
            parallel([over, Interval::exact(0.0)]).unwrap().high,
            Some(0.0)
        );
    }

    #[test]
    fn between_lines_there_is_more_than_to_earth() {
        let of = |u0, phase| Class::of(Volts::raw(u0), phase);
        assert_eq!(of(230.0, Phase::L1), MAINS);
        let Class::Nominal(lines) = of(230.0, Phase::Three) else {
            panic!("mains")
        };
        assert!((lines.get() - 398.372).abs() < 1e-3);
        assert_eq!(required(of(400.0, Phase::L2)).test_voltage, 500.0);
        assert_eq!(required(of(400.0, Phase::Three)).test_voltage, 1000.0);
    }

    #[test]
    fn a_short_is_what_the_instrument_cannot_tell_from_nothing() {
        // Two digits and half a step of 0.01 MΩ.
        let fixed = meter().fixed();
        assert!((fixed - 0.025).abs() < 1e-8);
        let of = |v| judge(MAINS, made(500.0), Shown::Value(v), &meter()).meaning;
        assert_eq!(of(fixed), Meaning::Short);
        assert_eq!(of(fixed.next_up()), Meaning::Beyond);
        let m = Made {
            gear: true,
            ..made(500.0)
        };
        let j = judge(MAINS, m, Shown::Value(0.3), &meter());
        assert_eq!(j.lacking, Lacking::WITHOUT_GEAR);
    }

    #[test]
    fn what_remains_is_as_wide_as_all_readings_together() {
        let i = |low, high| Interval { low, high };
        let others = [i(10.0, Some(20.0)), i(5.0, None)];
        // 1/1 − 1/20 at the most, 1/4 less 1/10 and 1/5 is nothing.
        let one = remaining(i(1.0, Some(4.0)), others).unwrap();
        assert!((one.low - 1.0 / 0.95).abs() < 1e-6);
        assert_eq!(one.high, None);
        let one = remaining(i(0.5, Some(1.0)), [i(10.0, Some(20.0))]).unwrap();
        assert!((one.low - 1.0 / 1.95).abs() < 1e-6);
        assert!((one.high.unwrap() - 1.0 / 0.9).abs() < 1e-6);
        let one = remaining(i(0.5, None), others).unwrap();
        assert_eq!(one.high, None);
        // The others alone conduct as much or more: nothing is said of one that can't be there.
        assert_eq!(remaining(i(40.0, None), [i(10.0, Some(20.0))]), None);
        assert_eq!(remaining(i(20.0, None), [i(10.0, Some(20.0))]), None);
        let none_left = remaining(i(5.0, Some(10.0)), [i(10.0, Some(20.0))]);
        assert_eq!(none_left.unwrap().high, None);
    }

    #[test]
    fn half_as_much_at_the_higher_voltage() {
        let i = Interval::exact;
        assert!(!conducts_with_voltage(i(80.0), i(40.0)));
        assert!(conducts_with_voltage(i(80.0), i(40.0f32.next_down())));
    }
}
