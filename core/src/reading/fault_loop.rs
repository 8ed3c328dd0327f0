//! Loop impedances and prospective fault currents.
//!
//! - Ze: every circuit must still disconnect in time with it (BS 7671 411.4.4, IEC 60364-4-41 411.4.4, from memory).
//! - Zs: read cold, held against the largest Zs at the temperature at which that holds. Only the conductors' part
//!   of the loop warms ([`Design::zs_hot`]); the limit is taken to the temperature of the reading, so that the
//!   figure on the display can be compared. Beside it the rule of the trade: at most 80 % of the largest Zs of the
//!   device. Where the design rests on the device, what only an RCD would disconnect is beyond the limit
//!   ([`Meaning::OnlyRcd`]).
//! - Prospective current: the larger of line to neutral and line to earth; at a three-phase board twice the
//!   current line to neutral (common practice). Meters work with nominal voltage, so the limit is the rated
//!   short-circuit capacity over cmax.

use super::{
    Design, Judged, Lacking, Meaning, QuickRule, Rule, Side, Suspects, Test,
    interval::{Accuracy, Interval, Shown, of_current},
};
use crate::verdict::{Outcome, Sense, Unit};

/// Share of the largest Zs a cold reading may be (common practice).
pub const QUICK_SHARE: f32 = 0.8;

/// Ze at the origin, or Zs at a board.
///
/// `limit` is the largest with which every circuit behind still disconnects in time, the smallest of their
/// [`Design::max_ze`]; `expected` what the design was made with.
#[must_use]
pub fn ze(
    shown: impl Into<Option<Shown>>,
    accuracy: &Accuracy,
    limit: Option<f32>,
    expected: Option<f32>,
) -> Judged {
    let mut j =
        Judged::new(Test::Ze, Rule::MaxZe, Unit::Ohm, Sense::AtMost).read(shown.into(), accuracy);
    j = match limit {
        Some(limit) => j.against(limit),
        None => j.without(Lacking::LIMIT),
    };
    if let Some(expected) = expected {
        j = j.beside(expected, accuracy.resolution());
    }
    j.suspects |= match j.compared.map(|c| c.side) {
        Some(Side::Above) => Suspects::SUPPLY.union(Suspects::LOOSE_JOINT),
        Some(Side::Below) => Suspects::SUPPLY.union(Suspects::PARALLEL_PATH),
        _ => Suspects::empty(),
    };
    j
}

/// Zs at the furthest point of a circuit, read with its conductors at the ambient temperature.
#[must_use]
pub fn zs(design: &Design<'_>, shown: impl Into<Option<Shown>>, accuracy: &Accuracy) -> Judged {
    let mut j =
        Judged::new(Test::Zs, Rule::MaxZs, Unit::Ohm, Sense::AtMost).read(shown.into(), accuracy);
    let Some(max) = design.max_zs() else {
        return j.without(Lacking::LIMIT);
    };
    if max.by_rcd {
        j.rule = Rule::MaxZsRcd;
    }
    let Some(limit) = design.zs_cold(max.limit) else {
        return j.without(Lacking::PROTECTIVE);
    };
    j = j.against(limit);
    if j.outcome == Outcome::Fail && max.of_device.is_none() {
        // The device may disconnect in time all the same: its curve is not known there.
        j.outcome = Outcome::CannotSay;
        j.meaning = Meaning::NotKnown;
        j = j.without(Lacking::LIMIT);
    }
    if !max.by_rcd {
        j = j.with_quick(QuickRule::EightyPercent, QUICK_SHARE * max.limit);
        let by_rcd = max.of_rcd.and_then(|rcd| design.zs_cold(rcd));
        let high = j.interval.and_then(|i| i.high);
        if let (Outcome::Fail, Some(high), Some(rcd)) = (j.outcome, high, by_rcd) {
            if high <= rcd {
                j.meaning = Meaning::OnlyRcd;
            }
        }
    }
    match design.zs() {
        Some(expected) => j = j.beside(expected, accuracy.resolution()),
        None => j.lacking |= Lacking::ZE,
    }
    j.suspects |= match j.compared.map(|c| c.side) {
        Some(Side::Above) => Suspects::MORE.union(Suspects::SUPPLY),
        Some(Side::Below) => Suspects::LESS
            .difference(Suspects::LARGER_SIZE)
            .union(Suspects::SUPPLY),
        _ => Suspects::empty(),
    };
    // Parallel paths are no fault of a loop; more than the design has wants an explanation.
    j.unless_strange(true, false)
}

/// What was read for the prospective fault current at a board, in A.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Currents {
    /// Line to neutral, the largest of the lines.
    pub line_neutral: Option<Shown>,
    /// Line to earth, the largest of the lines.
    pub line_earth: Option<Shown>,
    /// Line to line, where the meter can do it: then nothing is doubled.
    pub three_phase: Option<Shown>,
    /// Three phases reach the board.
    pub phases_three: bool,
}

/// The largest of them, on the display's scale, and the true values it may be.
fn largest(read: &Currents, accuracy: &Accuracy) -> Option<(f32, Interval)> {
    let mut out: Option<(f32, Interval)> = None;
    let doubled = read.phases_three && read.three_phase.is_none();
    for (shown, times) in [
        (read.line_neutral, if doubled { 2.0 } else { 1.0 }),
        (read.line_earth, 1.0),
        (read.three_phase, 1.0),
    ] {
        let Some(shown) = shown else { continue };
        let i = of_current(shown, accuracy).map(|v| v * times);
        let v = shown.figure() * times;
        out = Some(match out {
            None => (v, i),
            Some((other, o)) => (
                v.max(other),
                Interval {
                    low: i.low.max(o.low),
                    high: match (i.high, o.high) {
                        (Some(a), Some(b)) => Some(a.max(b)),
                        _ => None,
                    },
                },
            ),
        });
    }
    out
}

/// Prospective fault current against what the device there can break.
///
/// `accuracy` is that of the impedance (IEC 61557-3) with the step of the current's display; `breaking` the rated
/// short-circuit capacity, or the conditional rating; `expected` the design's largest current at nominal voltage.
#[must_use]
pub fn fault_current(
    read: &Currents,
    accuracy: &Accuracy,
    breaking: Option<f32>,
    cmax: f32,
    expected: Option<f32>,
) -> Judged {
    let mut j = Judged::new(
        Test::FaultCurrent,
        Rule::Breaking,
        Unit::Ampere,
        Sense::AtMost,
    );
    let Some((value, i)) = largest(read, accuracy) else {
        j.limit = breaking.map(|b| b / cmax).filter(|l| l.is_finite());
        return j.without(Lacking::READING);
    };
    j.shown = Some(if i.high.is_some() {
        Shown::Value(value)
    } else {
        Shown::Above(value)
    });
    j.value = value.is_finite().then_some(value);
    j.interval = Some(i);
    let Some(breaking) = breaking else {
        return j.without(Lacking::BREAKING);
    };
    j = j.against(breaking / cmax);
    // Both ways are asked for: the one that was not read may be the larger.
    if j.outcome != Outcome::Fail && (read.line_neutral.is_none() || read.line_earth.is_none()) {
        j.outcome = Outcome::CannotSay;
        j.meaning = Meaning::NotKnown;
        j = j.without(Lacking::READING);
    }
    // The design was made for less than there is.
    if let Some(expected) = expected {
        if i.low > expected && j.outcome <= Outcome::Doubtful {
            j.outcome = Outcome::Doubtful;
            j.meaning = Meaning::AboveDesign;
            j.suspects |= Suspects::SUPPLY;
        }
    }
    j
}
