//! Operating time and current of residual current devices: IEC 61008-1, IEC 61009-1, IEC 62423 (from memory).
//!
//! Times are those of [`crate::device::Rcd`]: at IΔn, 2 and 5 IΔn, general and selective. What the test current is
//! depends on its wave:
//!
//! | wave | for types | IΔn is tested with | operates between |
//! |---|---|---|---|
//! | sine | AC, A, F, B | 1 IΔn | 0.5 and 1 IΔn |
//! | half-wave (pulsating d.c., 0°) | A, F, B | 1.4 IΔn; 2 IΔn up to 10 mA | 0.35 and 1.4 IΔn; 2 IΔn up to 10 mA |
//! | smooth d.c. | B | 2 IΔn | 0.5 and 2 IΔn |
//!
//! At half of IΔn (0.35 IΔn of a half-wave) it must not operate; that test lasts 0.2 s at least (IEC 61557-6, from
//! memory). Up to 30 mA the test at 5 IΔn may be made with 0.25 A.
//!
//! The uncertainty of a time and of a ramp current counts from the limit at least, as IEC 61557-6 refers it to it.

use super::{
    Judged, Lacking, Meaning, Rule, Test,
    interval::{Accuracy, Shown, judge},
};
use crate::device::{Rcd, RcdDelay, RcdType};
use crate::quantity::Amps;
use crate::verdict::{Outcome, Sense, Unit};

/// Wave of the test current.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wave {
    /// Sine.
    Sine,
    /// Half-wave: pulsating direct current.
    Half,
    /// Smooth direct current.
    Smooth,
}

/// Multiple of IΔn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Multiple {
    /// ½
    Half,
    /// 1
    One,
    /// 2
    Two,
    /// 5
    Five,
}

impl Multiple {
    /// Every multiple.
    pub const ALL: [Multiple; 4] = [Multiple::Half, Multiple::One, Multiple::Two, Multiple::Five];

    const fn times(self) -> f32 {
        match self {
            Multiple::Half => 0.5,
            Multiple::One => 1.0,
            Multiple::Two => 2.0,
            Multiple::Five => 5.0,
        }
    }
}

/// Shortest test at half of IΔn, in s (IEC 61557-6, from memory).
pub const HALF_LASTS: f32 = 0.2;

/// Whether a type responds to a wave.
#[must_use]
pub const fn responds(kind: RcdType, wave: Wave) -> bool {
    match (kind, wave) {
        (_, Wave::Sine) | (RcdType::B, _) => true,
        (RcdType::A | RcdType::F, Wave::Half) => true,
        (RcdType::Ac, _) | (RcdType::A | RcdType::F, Wave::Smooth) => false,
    }
}

/// Lowest and highest operating current over IΔn.
const fn band(rcd: &Rcd, wave: Wave) -> (f32, f32) {
    match wave {
        Wave::Sine => (0.5, 1.0),
        Wave::Half if rcd.sensitivity().get() <= 0.01 => (0.35, 2.0),
        Wave::Half => (0.35, 1.4),
        Wave::Smooth => (0.5, 2.0),
    }
}

/// To a tenth of a milliampere, so that 1.4 times 30 mA is 42 mA.
fn rounded(i: f32) -> f32 {
    libm::roundf(i * 10_000.0) / 10_000.0
}

/// The test current for a multiple of IΔn, in A; none where the type does not respond to the wave.
#[must_use]
pub fn test_current(rcd: &Rcd, wave: Wave, multiple: Multiple) -> Option<f32> {
    if !responds(rcd.kind(), wave) {
        return None;
    }
    let (low, high) = band(rcd, wave);
    let share = match multiple {
        Multiple::Half => low,
        _ => high * multiple.times(),
    };
    Some(rounded(rcd.sensitivity().get() * share))
}

/// The sine that stands for a multiple in the table of times.
fn equivalent(rcd: &Rcd, multiple: Multiple) -> Amps {
    Amps::raw(rounded(rcd.sensitivity().get() * multiple.times()))
}

/// The time within which it must operate, in s; none at half of IΔn.
#[must_use]
pub fn latest(rcd: &Rcd, multiple: Multiple) -> Option<f32> {
    rcd.latest(equivalent(rcd, multiple))
        .value()
        .map(crate::quantity::Seconds::get)
}

/// The time within which a selective one must not operate, in s.
#[must_use]
pub fn earliest(rcd: &Rcd, multiple: Multiple) -> Option<f32> {
    if multiple == Multiple::Half {
        return None;
    }
    rcd.earliest(equivalent(rcd, multiple))
        .map(crate::quantity::Seconds::get)
}

/// An operating time, in s. [`Shown::Above`] is a test that ended without operation after that time.
#[must_use]
pub fn time(
    rcd: &Rcd,
    wave: Wave,
    multiple: Multiple,
    shown: impl Into<Option<Shown>>,
    accuracy: &Accuracy,
) -> Judged {
    let shown = shown.into();
    let rule = match (multiple, rcd.delay()) {
        (Multiple::Half, _) => Rule::RcdHalf,
        (_, RcdDelay::Selective) => Rule::RcdSelective,
        (_, RcdDelay::None) => Rule::RcdLatest,
    };
    let mut j = Judged::new(Test::RcdTime, rule, Unit::Second, Sense::AtMost);
    if !responds(rcd.kind(), wave) {
        j = j.read(shown, accuracy);
        return j.without(Lacking::STANDARD);
    }
    if multiple == Multiple::Half {
        j = j.read(shown, accuracy);
        let (Some(shown), Some(_)) = (shown, j.interval) else {
            return j;
        };
        (j.outcome, j.meaning) = match shown {
            Shown::Value(_) => (Outcome::Fail, Meaning::TrippedAtHalf),
            Shown::Above(t) if t >= HALF_LASTS => (Outcome::Pass, Meaning::Clear),
            Shown::Above(_) => (Outcome::CannotSay, Meaning::TestTooShort),
        };
        return j;
    }
    let Some(latest) = latest(rcd, multiple) else {
        return j.read(shown, accuracy).without(Lacking::STANDARD);
    };
    j = j.read(shown, &accuracy.share_from(latest)).against(latest);
    let (Some(shown), Some(_)) = (shown, j.interval) else {
        return j;
    };
    match shown {
        Shown::Above(t) if t >= latest => {
            j.outcome = Outcome::Fail;
            j.meaning = Meaning::NoTrip;
        }
        Shown::Above(_) => {
            j.outcome = Outcome::CannotSay;
            j.meaning = Meaning::TestTooShort;
        }
        Shown::Value(_) if j.outcome == Outcome::Fail => j.meaning = Meaning::TooLate,
        Shown::Value(_) => {}
    }
    if let (Some(earliest), Shown::Value(_)) = (earliest(rcd, multiple), shown) {
        let mut soon = Judged {
            sense: Sense::AtLeast,
            ..j
        }
        .read(Some(shown), &accuracy.share_from(earliest))
        .against(earliest);
        if soon.outcome == Outcome::Fail {
            soon.meaning = Meaning::TooSoon;
        }
        if soon.outcome > j.outcome {
            return soon;
        }
    }
    j
}

/// An operating current found by a rising test current, in A.
#[must_use]
pub fn ramp(rcd: &Rcd, wave: Wave, shown: impl Into<Option<Shown>>, accuracy: &Accuracy) -> Judged {
    let shown = shown.into();
    let mut j = Judged::new(Test::RcdRamp, Rule::RcdRamp, Unit::Ampere, Sense::AtMost);
    if !responds(rcd.kind(), wave) {
        return j.read(shown, accuracy).without(Lacking::STANDARD);
    }
    let (low, high) = band(rcd, wave);
    let idn = rcd.sensitivity().get();
    let (least, most) = (rounded(idn * low), rounded(idn * high));
    let accuracy = accuracy.share_from(idn);
    j = j.read(shown, &accuracy).against(most);
    let Some(i) = j.interval else { return j };
    if let Some(Shown::Above(at)) = shown {
        // It ended without operation: at or beyond the most it may be, or too soon to say.
        (j.outcome, j.meaning) = if at >= most {
            (Outcome::Fail, Meaning::NoTrip)
        } else {
            (Outcome::CannotSay, Meaning::TestTooShort)
        };
        return j;
    }
    let soon = judge(Sense::AtLeast, i, least);
    if soon > j.outcome {
        j.outcome = soon;
        j.sense = Sense::AtLeast;
        j.limit = Some(least);
        j.meaning = Meaning::InsideBand;
        if soon == Outcome::Fail {
            j.meaning = Meaning::TooSensitive;
        }
    }
    j
}
