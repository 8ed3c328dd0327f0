//! What a display says of the true value: the guard band around a reading.
//!
//! **How the band enters.** The operating uncertainty of IEC 61557 is a share of the reading plus a number of
//! digits. The display rounds, so what was indicated lies within half a step of what is shown. Both together:
//!
//! - low = (shown − ½·step) · (1 − share) − digits · step
//! - high = (shown + ½·step) · (1 + share) + digits · step
//!
//! Below the marked range the share counts from the beginning of that range, as nothing promises less there;
//! above it only the end of the range is known to be exceeded. The resistance of leads that were not nulled is
//! a reading itself: its own interval is subtracted. Nothing is below zero.
//!
//! A limit passes only where the whole interval is on its good side and fails only where the whole interval is
//! on the bad one; between, the instrument can't tell: [`Outcome::Doubtful`].
//!
//! ```
//! use faultpath::reading::interval::{interval, judge, Accuracy, Shown};
//! use faultpath::verdict::{Outcome, Sense};
//! // 3 % and 5 digits of 0.01 Ω
//! let meter = Accuracy::new(0.03, 5.0, 0.01).unwrap();
//! let i = interval(Shown::Value(1.20), &meter);
//! assert_eq!(judge(Sense::AtMost, i, 1.37), Outcome::Pass);
//! assert_eq!(judge(Sense::AtMost, i, 1.25), Outcome::Doubtful);
//! assert_eq!(judge(Sense::AtMost, i, 1.00), Outcome::Fail);
//! ```

use crate::error::{Error, Field, Reason};
use crate::verdict::{Outcome, Sense};

/// What the display shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shown {
    /// A figure; 0.00 too, and below zero where leads were nulled too far.
    Value(f32),
    /// Over range: more than the figure.
    Above(f32),
}

impl Shown {
    /// A figure from outside.
    ///
    /// # Errors
    /// At [`Field::Reading`]: no number, infinite, or beyond ±1e9.
    pub fn value(v: f32) -> Result<Self, Error> {
        sound(v, Field::Reading).map(Self::Value)
    }

    /// An over-range display from outside.
    ///
    /// # Errors
    /// As [`Shown::value`]; and below zero.
    pub fn above(v: f32) -> Result<Self, Error> {
        not_negative(v, Field::Reading).map(Self::Above)
    }

    /// The figure on the display.
    #[must_use]
    pub const fn figure(self) -> f32 {
        match self {
            Self::Value(v) | Self::Above(v) => v,
        }
    }

    /// Whether it is over range.
    #[must_use]
    pub const fn is_above(self) -> bool {
        matches!(self, Self::Above(_))
    }
}

fn sound(v: f32, field: Field) -> Result<f32, Error> {
    if v.is_nan() {
        Err(Reason::NotANumber.at(field))
    } else if v.is_infinite() {
        Err(Reason::Infinite.at(field))
    } else if v.abs() > 1e9 {
        Err(Reason::TooLarge.at(field))
    } else {
        // −0.0 becomes 0.0.
        Ok(v + 0.0)
    }
}

fn not_negative(v: f32, field: Field) -> Result<f32, Error> {
    let v = sound(v, field)?;
    if v < 0.0 {
        return Err(Reason::Negative.at(field));
    }
    Ok(v)
}

/// What an instrument measures, as the parts of IEC 61557 divide it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Function {
    /// Insulation resistance, in MΩ: part 2.
    Insulation,
    /// Loop impedance, in Ω: part 3.
    Loop,
    /// Prospective current worked out of a loop impedance, in A: part 3, the share being that of the impedance.
    FaultCurrent,
    /// Resistance of earth connections and bonding, in Ω: part 4.
    LowResistance,
    /// Resistance to earth, in Ω: part 5.
    EarthResistance,
    /// Operating time of an RCD, in s: part 6.
    RcdTime,
    /// Operating current of an RCD, in A: part 6.
    RcdCurrent,
}

impl Function {
    /// Every function.
    pub const ALL: [Function; 7] = [
        Function::Insulation,
        Function::Loop,
        Function::FaultCurrent,
        Function::LowResistance,
        Function::EarthResistance,
        Function::RcdTime,
        Function::RcdCurrent,
    ];
}

/// Operating uncertainty of an instrument on one range, its step and its leads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    share: f32,
    digits: f32,
    resolution: f32,
    lead: f32,
    from: f32,
    to: Option<f32>,
}

impl Accuracy {
    /// Share of the reading (0 to 0.9), number of digits, and the step of the display in the unit of the reading.
    ///
    /// # Errors
    /// At [`Field::Uncertainty`] the share or the digits, at [`Field::Resolution`] the step.
    pub fn new(share: f32, digits: f32, resolution: f32) -> Result<Self, Error> {
        let share = not_negative(share, Field::Uncertainty)?;
        let digits = not_negative(digits, Field::Uncertainty)?;
        if share > 0.9 || digits > 1000.0 {
            return Err(Reason::TooLarge.at(Field::Uncertainty));
        }
        let resolution = not_negative(resolution, Field::Resolution)?;
        if resolution == 0.0 {
            return Err(Reason::Zero.at(Field::Resolution));
        }
        if resolution < 1e-6 {
            return Err(Reason::TooSmall.at(Field::Resolution));
        }
        Ok(Self {
            share,
            digits,
            resolution,
            lead: 0.0,
            from: 0.0,
            to: None,
        })
    }

    /// The resistance of leads as measured and not nulled.
    ///
    /// # Errors
    /// At [`Field::Leads`].
    pub fn with_lead(self, lead: f32) -> Result<Self, Error> {
        let lead = not_negative(lead, Field::Leads)?;
        Ok(Self { lead, ..self })
    }

    /// The range in which the uncertainty is promised, as marked on the instrument.
    ///
    /// # Errors
    /// At [`Field::Range`]; [`Reason::Contradiction`] where it ends before it begins.
    pub fn with_range(self, from: f32, to: Option<f32>) -> Result<Self, Error> {
        let from = not_negative(from, Field::Range)?;
        if let Some(to) = to {
            if not_negative(to, Field::Range)? <= from {
                return Err(Reason::Contradiction.at(Field::Range));
            }
        }
        Ok(Self { from, to, ..self })
    }

    /// The largest operating uncertainty the parts of IEC 61557 allow, with the usual step of a display.
    ///
    /// A prospective current is taken to be shown in steps of 10 A, kA to two places.
    ///
    /// From memory: ±30 % of the reading for insulation (part 2), loop (3), low resistance (4, whose range must
    /// take in 0.2 to 2 Ω; taken as its beginning here) and resistance to earth (5); ±10 % for the operating time
    /// and current of RCDs (6). They are what an instrument may do at worst; most do much better, so enter its own.
    #[must_use]
    pub const fn standard(function: Function) -> Self {
        let (share, resolution, from) = match function {
            Function::Insulation | Function::Loop | Function::EarthResistance => (0.3, 0.01, 0.0),
            Function::FaultCurrent => (0.3, 10.0, 0.0),
            Function::LowResistance => (0.3, 0.01, 0.2),
            Function::RcdTime => (0.1, 0.001, 0.0),
            Function::RcdCurrent => (0.1, 0.0001, 0.0),
        };
        Self {
            share,
            digits: 0.0,
            resolution,
            lead: 0.0,
            from,
            to: None,
        }
    }

    /// Share of the reading.
    #[must_use]
    pub const fn share(&self) -> f32 {
        self.share
    }

    /// Number of digits.
    #[must_use]
    pub const fn digits(&self) -> f32 {
        self.digits
    }

    /// Step of the display.
    #[must_use]
    pub const fn resolution(&self) -> f32 {
        self.resolution
    }

    /// Resistance of leads, to be subtracted.
    #[must_use]
    pub const fn lead(&self) -> f32 {
        self.lead
    }

    /// The marked range.
    #[must_use]
    pub const fn range(&self) -> (f32, Option<f32>) {
        (self.from, self.to)
    }

    /// What digits and rounding alone may do, either way: the part that two readings of one instrument do not share.
    #[must_use]
    pub const fn fixed(&self) -> f32 {
        (self.digits + 0.5) * self.resolution
    }

    /// The same with the share counted from `least` at least, where a standard refers it to a limit.
    pub(crate) fn share_from(self, least: f32) -> Self {
        Self {
            from: self.from.max(least),
            ..self
        }
    }

    pub(crate) fn nulled(self) -> Self {
        Self { lead: 0.0, ..self }
    }

    /// Indicated to true, downwards and upwards. Rises with `shown`.
    fn ends(&self, shown: f32) -> (f32, f32) {
        let half = 0.5 * self.resolution;
        let fixed = self.digits * self.resolution;
        let (least, most) = (shown - half, shown + half);
        // f32 rounds: a hair outwards.
        let hair = 1e-6 * (most.abs() + fixed + self.from);
        (
            least - self.share * least.abs().max(self.from) - fixed - hair,
            most + self.share * most.abs().max(self.from) + fixed + hair,
        )
    }
}

/// The true values that can give a display.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// The smallest.
    pub low: f32,
    /// The largest; none where the display was over range.
    pub high: Option<f32>,
}

impl Interval {
    /// One value.
    #[must_use]
    pub const fn exact(v: f32) -> Self {
        Self {
            low: v,
            high: Some(v),
        }
    }

    /// Whether a value is in it.
    #[must_use]
    pub fn contains(&self, v: f32) -> bool {
        v >= self.low && self.high.is_none_or(|h| v <= h)
    }

    /// Both ends through a rising function.
    #[must_use]
    pub fn map(self, f: impl Fn(f32) -> f32) -> Self {
        Self {
            low: f(self.low),
            high: self.high.map(f),
        }
    }

    /// Sum with another.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            low: self.low + other.low,
            high: match (self.high, other.high) {
                (Some(a), Some(b)) => Some(a + b),
                _ => None,
            },
        }
    }

    /// Difference, never below zero; none where even the largest is below it.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        let low = other.high.map_or(0.0, |h| (self.low - h).max(0.0));
        let high = self.high.map(|h| h - other.low);
        if high.is_some_and(|h| h < 0.0) {
            return None;
        }
        Some(Self { low, high })
    }

    fn is_sound(&self) -> bool {
        self.low.is_finite() && self.high.is_none_or(|h| h.is_finite() && h >= self.low)
    }
}

/// The true values that could give this display, leads subtracted.
///
/// Where the leads are more than the whole reading can be, both ends are zero and [`believable`] says no.
#[must_use]
pub fn interval(shown: Shown, accuracy: &Accuracy) -> Interval {
    let all = whole(shown, accuracy);
    if accuracy.lead == 0.0 {
        return all;
    }
    all.minus(whole(Shown::Value(accuracy.lead), accuracy))
        .unwrap_or(Interval::exact(0.0))
}

/// Whether the display can be true at all: not below zero by more than the instrument may err, leads included.
#[must_use]
pub fn believable(shown: Shown, accuracy: &Accuracy) -> bool {
    match shown {
        Shown::Above(_) => true,
        Shown::Value(v) => {
            let least = if accuracy.lead == 0.0 {
                0.0
            } else {
                accuracy.ends(accuracy.lead).0.max(0.0)
            };
            accuracy.ends(v).1 >= least
        }
    }
}

/// As [`interval`], leads included.
fn whole(shown: Shown, accuracy: &Accuracy) -> Interval {
    let over = |from: f32| Interval {
        low: accuracy.ends(from).0.max(0.0),
        high: None,
    };
    match (shown, accuracy.to) {
        (Shown::Above(v), Some(to)) => over(v.min(to)),
        (Shown::Above(v), None) => over(v),
        (Shown::Value(v), Some(to)) if v > to => over(to),
        (Shown::Value(v), _) => {
            let (low, high) = accuracy.ends(v);
            // `max` would take away what is no number.
            let at_least_zero = |v: f32| if v < 0.0 { 0.0 } else { v };
            Interval {
                low: at_least_zero(low),
                high: Some(at_least_zero(high)),
            }
        }
    }
}

/// The true currents behind a prospective current shown: the uncertainty is that of the impedance it is worked
/// out of, I = U0/Z, so a share of 30 % of the impedance is up to 43 % of the current.
#[must_use]
pub fn of_current(shown: Shown, accuracy: &Accuracy) -> Interval {
    let a = accuracy.nulled();
    let half = 0.5 * a.resolution;
    let fixed = a.digits * a.resolution;
    let low = |v: f32| ((v - half) / (1.0 + a.share) - fixed).max(0.0) * (1.0 - 1e-6);
    match (shown, a.to) {
        (Shown::Above(v), Some(to)) => Interval {
            low: low(v.min(to)),
            high: None,
        },
        (Shown::Above(v), None) => Interval {
            low: low(v),
            high: None,
        },
        (Shown::Value(v), Some(to)) if v > to => Interval {
            low: low(to),
            high: None,
        },
        (Shown::Value(v), _) => Interval {
            low: low(v),
            high: Some(((v + half) / (1.0 - a.share) + fixed) * (1.0 + 1e-6)),
        },
    }
}

/// Holds an interval against a limit.
#[must_use]
pub fn judge(sense: Sense, i: Interval, limit: f32) -> Outcome {
    if !i.is_sound() || !limit.is_finite() {
        return Outcome::CannotSay;
    }
    let (good, bad) = match sense {
        Sense::AtMost => (i.high.is_some_and(|h| h <= limit), i.low > limit),
        Sense::AtLeast => (i.low >= limit, i.high.is_some_and(|h| h < limit)),
    };
    if good {
        Outcome::Pass
    } else if bad {
        Outcome::Fail
    } else {
        Outcome::Doubtful
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn meter(share: f32, digits: f32, resolution: f32) -> Accuracy {
        Accuracy::new(share, digits, resolution).unwrap()
    }

    fn of(low: f32, high: impl Into<Option<f32>>) -> Interval {
        let high = high.into();
        Interval { low, high }
    }

    /// 1 Ω where the share counts from 100 Ω: 1.005 + 10, and a hair outwards for what is worked.
    #[test]
    fn a_hair_is_outwards_below_the_marked_range_too() {
        let m = meter(0.1, 0.0, 0.01).with_range(100.0, None).unwrap();
        let high = f64::from(interval(Shown::Value(1.0), &m).high.unwrap());
        let worked = (1.0 + f64::from(0.005f32)) + f64::from(0.1f32) * 100.0;
        assert!(high > worked && high < worked + 2e-4, "{high}");
        // A thousand digits of 1 Ω.
        let high = interval(Shown::Value(1.0), &meter(0.0, 1000.0, 1.0)).high;
        let high = f64::from(high.unwrap());
        assert!(high > 1001.5 && high < 1001.503, "{high}");
    }

    /// The end of the range is within it.
    #[test]
    fn beyond_the_range_there_is_no_upper_end() {
        let m = meter(0.0, 0.0, 1.0).with_range(0.0, Some(2000.0)).unwrap();
        let high = |v| interval(Shown::Value(v), &m).high;
        assert!(high(2000.0).is_some_and(|h| h >= 2000.5));
        assert_eq!(high(2001.0), None);
    }

    /// Half a step below zero is rounding, and no more.
    #[test]
    fn what_may_just_be_zero_is_believable() {
        let m = meter(0.0, 0.0, 2.0);
        assert!(believable(Shown::Value(-1.0), &m));
        assert!(!believable(Shown::Value(-1.000_01), &m));
    }

    #[test]
    fn intervals_are_added_and_taken_away() {
        let (a, over) = (of(10.0, 20.0), of(5.0, None));
        assert_eq!(of(1.0, 2.0).plus(a), of(11.0, 22.0));
        assert_eq!(a.plus(over), of(15.0, None));
        assert_eq!(over.plus(a), of(15.0, None));
        assert_eq!(a.minus(of(1.0, 3.0)), Some(of(7.0, 19.0)));
        assert_eq!(a.minus(of(1.0, None)), Some(of(0.0, 19.0)));
        assert_eq!(over.minus(a), Some(of(0.0, None)));
        // Less than nothing: both can't be so.
        assert_eq!(of(1.0, 2.0).minus(of(5.0, 6.0)), None);
        assert_eq!(of(1.0, 5.0).minus(of(5.0, 6.0)), Some(of(0.0, 0.0)));
        for (v, inside) in [
            (9.0, false),
            (10.0, true),
            (15.0, true),
            (20.0, true),
            (21.0, false),
        ] {
            assert_eq!(a.contains(v), inside, "{v}");
        }
        assert!(over.contains(1e9) && !over.contains(4.0));
    }

    #[test]
    fn the_limit_itself_is_good() {
        use Outcome::{CannotSay, Doubtful, Fail, Pass};
        let most = |i| judge(Sense::AtMost, i, 2.0);
        let least = |i| judge(Sense::AtLeast, i, 2.0);
        let (above, below) = (2.0f32.next_up(), 2.0f32.next_down());
        for (i, at_most, at_least) in [
            (of(1.0, 2.0), Pass, Doubtful),
            (of(1.0, above), Doubtful, Doubtful),
            (of(1.0, below), Pass, Fail),
            (of(2.0, 2.0), Pass, Pass),
            (of(2.0, 3.0), Doubtful, Pass),
            (of(above, 3.0), Fail, Pass),
            (of(below, 3.0), Doubtful, Doubtful),
            (of(1.0, None), Doubtful, Doubtful),
            (of(3.0, None), Fail, Pass),
            // No interval at all.
            (of(3.0, 1.0), CannotSay, CannotSay),
            (of(f32::NAN, 1.0), CannotSay, CannotSay),
            (of(1.0, f32::INFINITY), CannotSay, CannotSay),
        ] {
            assert_eq!((most(i), least(i)), (at_most, at_least), "{i:?}");
        }
    }

    #[test]
    fn ends_by_hand() {
        // Half a step of 0.01, then 10 % of what is there, then two digits; a hair outwards.
        let m = meter(0.1, 2.0, 0.01);
        assert!((m.fixed() - 0.025).abs() < 1e-8);
        let i = interval(Shown::Value(1.0), &m);
        let (low, high) = (0.995 - 0.0995 - 0.02, 1.005 + 0.1005 + 0.02);
        assert!(i.low < low && i.low > low - 3e-6, "{i:?}");
        let top = i.high.unwrap();
        assert!(top > high && top < high + 3e-6, "{i:?}");
        // Leads are a reading too: what is left has the ends of both.
        let leads = m.with_lead(0.2).unwrap();
        assert_eq!(leads.lead(), 0.2);
        let i = interval(Shown::Value(1.0), &leads);
        let (a, b) = (0.195 - 0.0195 - 0.02, 0.205 + 0.0205 + 0.02);
        assert!((i.low - (low - b)).abs() < 1e-5 && (i.high.unwrap() - (high - a)).abs() < 1e-5);
        // At the end of the range it is still read, beyond it is only said to be more.
        let ranged = m.with_range(0.0, Some(10.0)).unwrap();
        assert!(interval(Shown::Value(10.0), &ranged).high.is_some());
        assert_eq!(interval(Shown::Value(10.01), &ranged).high, None);
    }

    #[test]
    fn a_current_by_hand() {
        // The meter reads an impedance: half a step of 10 A, 30 % of that impedance, five digits; a hair outwards.
        let m = meter(0.3, 5.0, 10.0);
        let (low, high) = (995.0 / 1.3 - 50.0, 1005.0 / 0.7 + 50.0);
        let held = |i: Interval| i.low < low && i.low > low * (1.0 - 3e-6);
        let i = of_current(Shown::Value(1000.0), &m);
        let top = i.high.unwrap();
        assert!(held(i) && top > high && top < high * (1.0 + 3e-6), "{i:?}");
        assert!(held(of_current(Shown::Above(1000.0), &m)));
        let ranged = m.with_range(0.0, Some(1000.0)).unwrap();
        assert!(of_current(Shown::Value(1000.0), &ranged).high.is_some());
        for beyond in [Shown::Value(1010.0), Shown::Above(1010.0)] {
            let i = of_current(beyond, &ranged);
            assert!(held(i) && i.high.is_none(), "{i:?}");
        }
    }

    #[test]
    fn the_largest_number_that_is_read() {
        assert!(Shown::value(1e9).is_ok());
        assert!(Shown::value(1e9f32.next_up()).is_err());
        assert!(Shown::value(-0.0).unwrap().figure().is_sign_positive());
    }

    #[test]
    fn what_has_no_meaning_is_refused() {
        assert_eq!(
            Shown::value(f32::NAN),
            Err(Reason::NotANumber.at(Field::Reading))
        );
        assert!(Shown::above(-1.0).is_err());
        assert!(Shown::value(-0.01).is_ok());
        for (s, d, r) in [
            (-0.1, 0.0, 0.01),
            (1.0, 0.0, 0.01),
            (0.1, -1.0, 0.01),
            (0.1, 0.0, 0.0),
            (f32::NAN, 0.0, 0.01),
            (0.1, f32::INFINITY, 0.01),
            (0.1, 0.0, 9.9e-7),
            (0.1, 1000.1, 0.01),
            (0.91, 0.0, 0.01),
        ] {
            assert!(Accuracy::new(s, d, r).is_err(), "{s} {d} {r}");
        }
        // The bounds themselves are taken.
        let widest = meter(0.9, 1000.0, 1e-6);
        assert_eq!((widest.share(), widest.digits()), (0.9, 1000.0));
        assert_eq!(widest.resolution(), 1e-6);
        assert_eq!(widest.range(), (0.0, None));
        let ranged = widest.with_range(0.2, Some(2.0)).unwrap();
        assert_eq!(ranged.range(), (0.2, Some(2.0)));
        assert!(meter(0.1, 0.0, 0.01).with_lead(-1.0).is_err());
        assert!(widest.with_range(2.0, Some(2.0)).is_err());
        assert!(meter(0.1, 0.0, 0.01).with_range(2.0, Some(1.0)).is_err());
    }

    #[test]
    fn zero_is_a_reading() {
        let i = interval(Shown::Value(0.0), &meter(0.3, 2.0, 0.01));
        assert_eq!(i.low, 0.0);
        assert!((i.high.unwrap() - 0.0265).abs() < 1e-5);
        // It proves nothing beyond what the instrument can tell.
        assert_eq!(judge(Sense::AtMost, i, 0.02), Outcome::Doubtful);
        assert_eq!(judge(Sense::AtMost, i, 0.03), Outcome::Pass);
        assert_eq!(judge(Sense::AtLeast, i, 0.03), Outcome::Fail);
    }

    #[test]
    fn over_range_has_no_upper_end() {
        let i = interval(Shown::Above(999.0), &meter(0.3, 0.0, 1.0));
        assert_eq!(i.high, None);
        assert_eq!(judge(Sense::AtLeast, i, 1.0), Outcome::Pass);
        assert_eq!(judge(Sense::AtLeast, i, 900.0), Outcome::Doubtful);
        assert_eq!(judge(Sense::AtMost, i, 1.0), Outcome::Fail);
        assert_eq!(judge(Sense::AtMost, i, 1e6), Outcome::Doubtful);
        // A figure beyond the marked range is no more than that.
        let ranged = meter(0.3, 0.0, 1.0).with_range(0.1, Some(200.0)).unwrap();
        assert_eq!(interval(Shown::Value(500.0), &ranged).high, None);
        assert!(interval(Shown::Above(999.0), &ranged).low < 200.0);
    }

    #[test]
    fn leads_are_taken_away_with_their_own_uncertainty() {
        let m = meter(0.0, 1.0, 0.01).with_lead(0.05).unwrap();
        let i = interval(Shown::Value(0.45), &m);
        assert!(
            (i.low - 0.37).abs() < 1e-4 && (i.high.unwrap() - 0.43).abs() < 1e-4,
            "{i:?}"
        );
        assert!(believable(Shown::Value(0.04), &m));
        assert!(!believable(Shown::Value(0.01), &m));
        assert!(!believable(Shown::Value(-0.5), &meter(0.3, 2.0, 0.01)));
        assert!(believable(Shown::Value(-0.01), &meter(0.3, 2.0, 0.01)));
    }

    #[test]
    fn below_the_marked_range_the_share_does_not_shrink() {
        let m = meter(0.3, 0.0, 0.001).with_range(0.2, None).unwrap();
        let i = interval(Shown::Value(0.02), &m);
        assert!(i.high.unwrap() > 0.08, "{i:?}");
    }

    #[test]
    fn what_is_no_number_is_no_pass() {
        let m = meter(0.3, 0.0, 0.01);
        for bad in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY] {
            for sense in [Sense::AtMost, Sense::AtLeast] {
                assert_ne!(
                    judge(sense, interval(Shown::Value(bad), &m), 1.0),
                    Outcome::Pass,
                    "{bad}"
                );
                assert_eq!(
                    judge(sense, interval(Shown::Value(1.0), &m), bad),
                    Outcome::CannotSay
                );
            }
        }
    }

    fn severity(o: Outcome) -> u8 {
        match o {
            Outcome::Pass => 0,
            Outcome::Doubtful => 1,
            Outcome::CannotSay => 2,
            Outcome::Fail => 3,
        }
    }

    fn meters() -> impl Strategy<Value = Accuracy> {
        (
            0.0f32..0.5,
            0.0f32..10.0,
            prop::sample::select(&[0.001f32, 0.01, 0.1, 1.0][..]),
            prop_oneof![Just(0.0f32), 0.01f32..2.0],
            prop_oneof![Just(0.0f32), 0.01f32..2.0],
        )
            .prop_map(|(s, d, r, lead, from)| {
                meter(s, d, r)
                    .with_lead(lead)
                    .unwrap()
                    .with_range(from, None)
                    .unwrap()
            })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4000))]

        /// Any true value, misread as far as the instrument may and then rounded by the display, is inside.
        #[test]
        fn the_true_value_is_inside(
            m in meters(), t in 0.0f32..2000.0, err in -1.0f64..1.0, lead_err in -1.0f64..1.0,
        ) {
            // The indicated value whose own uncertainty just reaches the true one, and less.
            let indicate = |t: f64, err: f64| {
                let (s, fixed, from) = (f64::from(m.share()), f64::from(m.digits() * m.resolution()), f64::from(m.range().0));
                // indicated − true = err·(share·max(indicated, from) + fixed), solved for indicated
                let above = (t + err * fixed) / (1.0 - err * s);
                if above >= from { above } else { t + err * (s * from + fixed) }
            };
            let show = |v: f64| (v / f64::from(m.resolution())).round() * f64::from(m.resolution());
            let lead_true = f64::from(m.lead());
            // Its leads were measured by the same instrument.
            let lead_shown = show(indicate(lead_true, lead_err)).max(0.0);
            let m = m.with_lead(lead_shown as f32).unwrap();
            let lead_true = if lead_shown == 0.0 { 0.0 } else { lead_true };
            let shown = show(indicate(f64::from(t) + lead_true, err)) as f32;
            let i = interval(Shown::Value(shown), &m);
            prop_assert!(i.low <= t * (1.0 + 1e-6) && i.high.unwrap() >= t * (1.0 - 1e-6), "{t} not in {i:?} for {shown}");
            prop_assert!(believable(Shown::Value(shown), &m));
        }

        /// A worse instrument never turns doubt or failure into a pass, nor doubt or a pass into a failure.
        #[test]
        fn a_wider_band_never_makes_a_verdict_surer(
            s in 0.0f32..0.4, more in 0.0f32..0.4, d in 0.0f32..5.0, more_d in 0.0f32..5.0, lead in 0.0f32..0.5,
            v in -0.1f32..50.0, over in any::<bool>(), limit in 0.001f32..50.0, least in any::<bool>(),
        ) {
            let shown = if over { Shown::Above(v.max(0.0)) } else { Shown::Value(v) };
            let sense = if least { Sense::AtLeast } else { Sense::AtMost };
            let m = |s, d| meter(s, d, 0.01).with_lead(lead).unwrap();
            let (narrow, wide) = (interval(shown, &m(s, d)), interval(shown, &m(s + more, d + more_d)));
            // Where the narrow one can't be believed, its interval is no statement.
            prop_assume!(believable(shown, &m(s, d)));
            prop_assert!(wide.low <= narrow.low);
            let wider = match (wide.high, narrow.high) { (Some(w), Some(n)) => w >= n, (None, _) => true, _ => false };
            prop_assert!(wider);
            let (a, b) = (judge(sense, narrow, limit), judge(sense, wide, limit));
            if b == Outcome::Pass { prop_assert_eq!(a, Outcome::Pass); }
            if b == Outcome::Fail { prop_assert_eq!(a, Outcome::Fail); }
        }

        /// More on the display is more behind it, and never better against a maximum.
        #[test]
        fn a_larger_reading_is_never_judged_better(m in meters(), v in 0.0f32..100.0, more in 0.0f32..10.0, limit in 0.001f32..100.0) {
            let (a, b) = (interval(Shown::Value(v), &m), interval(Shown::Value(v + more), &m));
            prop_assert!(b.low >= a.low && b.high.unwrap() >= a.high.unwrap());
            let (ja, jb) = (judge(Sense::AtMost, a, limit), judge(Sense::AtMost, b, limit));
            prop_assert!(severity(jb) >= severity(ja));
        }

        /// Prospective current: any impedance within the share of the one behind the display.
        #[test]
        fn the_true_current_is_inside(i in 10.0f32..20_000.0, s in 0.0f32..0.4, err in -1.0f32..1.0) {
            let m = meter(s, 0.0, 1.0);
            // Z shown = Z·… such that |Zs − Z| ≤ s·Zs
            let z = 230.0 / i;
            let z_shown = z / (1.0 - err * s);
            let shown = (230.0 / z_shown).round();
            let band = of_current(Shown::Value(shown), &m);
            prop_assert!(band.low <= i * 1.000_01 && band.high.unwrap() >= i * 0.999_99, "{i} not in {band:?}");
        }
    }
}
