//! Protective devices: what disconnects, how fast, and what it lets through before.
//!
//! | Family | Standard | Ratings (A) |
//! |---|---|---|
//! | [`Family::Breaker`] | IEC/EN 60898-1, types B, C, D | 1 to 125 |
//! | [`Family::Rcbo`] | IEC/EN 61009-1, the same overcurrent limits | 6 to 125 |
//! | [`Family::Bs88_2`] | BS 88-2, fuse systems E and G | 2 to 200 |
//! | [`Family::Bs88_3`] | BS 88-3, fuse system C | 5 to 100 |
//! | [`Family::Bs3036`] | BS 3036, semi-enclosed | 5 to 100 |
//! | [`Family::Bs1361`] | BS 1361, withdrawn | 5 to 100 |
//! | [`Family::Bs1362`] | BS 1362, in plugs and connection units | 3 to 13 |
//! | [`Family::Gg`] | IEC 60269-1 and -2, any gG fuse, by its gates | 2 to 400 |
//!
//! Not covered: breakers to IEC 60947-2, types K and Z, motor fuses aM and gM, direct current.
//!
//! Every device is a short list of published points at the slow edge of its band ([`Device::points`]).
//! Between two points of a fuse the edge is a straight line in log I, log t: the real curve sags below
//! that line, so the line is never too fast. The standard of breakers prints no curve between its points,
//! so there the later of both times holds. Outside the points the answer is [`Known::NotKnown`].
//!
//! The figures of each table are **from memory** unless the table says otherwise; where two memories
//! differed the larger current was taken, where neither was sure the point is missing.
//!
//! ```
//! use faultpath::device::{max_zs, Curve, Device, Family};
//! use faultpath::quantity::{Amps, Ratio, Seconds, Volts};
//! let device = Device::new(Family::Breaker(Curve::B), Amps::new(32.0).unwrap()).unwrap();
//! let t = Seconds::new(0.4).unwrap();
//! assert_eq!(device.disconnecting_current(t).value().unwrap().get(), 160.0);
//! let zs = max_zs(&device, t, Volts::new(230.0).unwrap(), Ratio::new(0.95).unwrap());
//! assert!((zs.value().unwrap().get() - 1.3656).abs() < 1e-4);
//! ```

mod breaker;
mod fuse;
mod rcd;
mod series;
#[cfg(test)]
mod tests;

pub use rcd::{Rcd, RcdDelay, RcdType};
pub use series::{Order, order, orders};

use crate::check::HAIR;
use crate::error::{Error, Field, Reason};
use crate::quantity::{AmpSquaredSeconds, Amps, Ohms, Ratio, Seconds, Volts};

/// Instantaneous tripping type of a breaker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Curve {
    /// Instantaneous above 3 and up to 5 In.
    B,
    /// Instantaneous above 5 and up to 10 In.
    C,
    /// Instantaneous above 10 and up to 20 In.
    D,
}

/// The standard a device is made to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Family {
    /// Circuit-breaker to IEC/EN 60898-1.
    Breaker(Curve),
    /// Residual current breaker with overcurrent protection to IEC/EN 61009-1.
    Rcbo(Curve),
    /// Fuse to BS 88-2, systems E (bolted) and G (clip-in), gG.
    Bs88_2,
    /// Fuse to BS 88-3, system C.
    Bs88_3,
    /// Semi-enclosed (rewirable) fuse to BS 3036.
    Bs3036,
    /// Cartridge fuse to BS 1361 (withdrawn).
    Bs1361,
    /// Cartridge fuse to BS 1362, in plugs and connection units.
    Bs1362,
    /// Any gG fuse to IEC 60269: only the gates of the standard are used.
    Gg,
}

impl Family {
    /// Whether a device of this family has an RCD in it.
    #[must_use]
    pub const fn has_rcd(self) -> bool {
        matches!(self, Family::Rcbo(_))
    }
}

/// Why no value is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum WhyNot {
    /// The current is below the first published point: no disconnection is certain.
    BelowCurve,
    /// The current is beyond the last published point and nothing bounds what happens there.
    AboveCurve,
    /// The time is shorter than any the device is bound to.
    ShorterThanCurve,
    /// The current is above the rated short-circuit capacity.
    AboveCapacity,
    /// No figure is known for this rating.
    NoPublishedLimit,
}

/// A value, or why there is none. Nothing is extrapolated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known<T> {
    /// The value.
    Value(T),
    /// There is none.
    NotKnown(WhyNot),
}

impl<T> Known<T> {
    /// The value, if there is one.
    pub fn value(self) -> Option<T> {
        match self {
            Known::Value(v) => Some(v),
            Known::NotKnown(_) => None,
        }
    }

    /// Applies a function to the value, if there is one.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Known<U> {
        match self {
            Known::Value(v) => Known::Value(f(v)),
            Known::NotKnown(why) => Known::NotKnown(why),
        }
    }
}

/// The times between which a device disconnects.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// It surely does not disconnect sooner than this, where the standard says so.
    pub earliest: Option<Seconds>,
    /// It surely has disconnected by this time.
    pub latest: Seconds,
}

/// A published point at the slow edge of the band: at this current it disconnects within this time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// The current.
    pub current: Amps,
    /// The time.
    pub time: Seconds,
}

/// The most points any device has.
const POINTS: usize = 3;

/// The slow edge of the band by its points: currents rise and times fall along it.
///
/// Always three, so that nothing is to be counted: one that is not known is the next, where there is none the one
/// before, once more. Between two that are the same nothing lies. Without a current where none is known.
///
/// Worked out once for all that is asked of a device in one go.
#[derive(Clone, Copy)]
pub(crate) struct Edge([Point; POINTS]);

impl Edge {
    /// Of a column of points; those without a current are gaps.
    fn without_gaps([mut slow, mut middle, mut quick]: [Point; POINTS]) -> Self {
        let gap = |p: Point| p.current.get() == 0.0;
        if gap(middle) {
            middle = if gap(quick) { slow } else { quick };
        }
        if gap(quick) {
            quick = middle;
        }
        if gap(slow) {
            slow = middle;
        }
        Self([slow, middle, quick])
    }

    fn is_known(&self) -> bool {
        let [slow, ..] = &self.0;
        slow.current.get() > 0.0
    }
}

const fn point(current: f32, time: f32) -> Point {
    Point {
        current: Amps::raw(current),
        time: Seconds::raw(time),
    }
}

fn find(ratings: &[f32], rating: f32) -> Option<usize> {
    ratings.iter().position(|r| *r == rating)
}

/// One overcurrent protective device.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Device {
    family: Family,
    rating: Amps,
    breaking: Option<Amps>,
    let_through: Option<AmpSquaredSeconds>,
    class_3: bool,
}

impl Device {
    /// A device of a rating that is made.
    ///
    /// # Errors
    /// [`Reason::NotMade`] at [`Field::Rating`] where [`Device::ratings`] has no such rating.
    pub fn new(family: Family, rating: Amps) -> Result<Self, Error> {
        if find(Self::ratings(family), rating.get()).is_none() {
            return Err(Reason::NotMade.at(Field::Rating));
        }
        Ok(Self {
            family,
            rating,
            breaking: None,
            let_through: None,
            class_3: false,
        })
    }

    /// With the rated short-circuit capacity marked on it (Icn of a breaker, breaking capacity of a fuse).
    #[must_use]
    pub const fn with_breaking(self, capacity: Amps) -> Self {
        Self {
            breaking: Some(capacity),
            ..self
        }
    }

    /// With the maker's figure of the total let-through energy at the greatest prospective current.
    #[must_use]
    pub const fn with_let_through(self, i2t: AmpSquaredSeconds) -> Self {
        Self {
            let_through: Some(i2t),
            ..self
        }
    }

    /// With energy limiting class 3 marked on it (EN 60898-1, EN 61009-1; the 3 in a box under Icn).
    ///
    /// A breaker that does not carry the mark is bound to no let-through energy, so the class is never
    /// assumed here.
    #[must_use]
    pub const fn with_energy_class_3(self) -> Self {
        Self {
            class_3: true,
            ..self
        }
    }

    /// The same device of another rating; the maker's let-through energy, which is of one rating, is gone.
    ///
    /// # Errors
    /// [`Reason::NotMade`] at [`Field::Rating`].
    pub fn with_rating(self, rating: Amps) -> Result<Self, Error> {
        let other = Self::new(self.family, rating)?;
        Ok(Self {
            rating: other.rating,
            let_through: if rating == self.rating {
                self.let_through
            } else {
                None
            },
            ..self
        })
    }

    /// A device of another family with the same rating and marks; the maker's let-through energy is gone.
    ///
    /// # Errors
    /// [`Reason::NotMade`] at [`Field::Rating`].
    pub fn with_family(self, family: Family) -> Result<Self, Error> {
        let other = Self::new(family, self.rating)?;
        Ok(Self {
            breaking: self.breaking,
            class_3: self.class_3,
            ..other
        })
    }

    /// Whether it is marked with energy limiting class 3.
    #[must_use]
    pub const fn is_energy_class_3(&self) -> bool {
        self.class_3
    }

    /// The standard it is made to.
    #[must_use]
    pub const fn family(&self) -> Family {
        self.family
    }

    /// Rated current In.
    #[must_use]
    pub const fn rating(&self) -> Amps {
        self.rating
    }

    /// The capacity marked on it, else the one its standard fixes, else `None`: it must be read off.
    ///
    /// Fixed by standard (from memory): BS 88-2 50 kA, BS 88-3 16 kA, BS 1361 16.5 kA, BS 1362 6 kA.
    /// BS 88-3 and BS 1361 have a type II of 31.5 and 33 kA for the larger ratings; the lesser is taken.
    #[must_use]
    pub const fn breaking(&self) -> Option<Amps> {
        match self.breaking {
            Some(marked) => Some(marked),
            None => fuse::fixed_capacity(self.family),
        }
    }

    /// The capacity marked on it, if it was given.
    #[must_use]
    pub const fn marked_breaking(&self) -> Option<Amps> {
        self.breaking
    }

    /// The maker's let-through energy, if it was given.
    #[must_use]
    pub const fn maker_let_through(&self) -> Option<AmpSquaredSeconds> {
        self.let_through
    }

    /// The ratings that are made, in amperes, rising; none of a family that was left out (see the features).
    #[must_use]
    pub const fn ratings(family: Family) -> &'static [f32] {
        match family {
            Family::Breaker(_) if cfg!(feature = "breakers") => breaker::RATINGS,
            Family::Rcbo(_) if cfg!(feature = "breakers") => breaker::RCBO_RATINGS,
            _ => fuse::ratings(family),
        }
    }

    /// The slow edge of its band.
    pub(crate) fn edge(&self) -> Edge {
        match self.family {
            Family::Breaker(c) | Family::Rcbo(c) if cfg!(feature = "breakers") => {
                breaker::edge(c, self.rating.get())
            }
            _ => fuse::edge(self.family, self.rating.get()),
        }
    }

    /// Times hold as steps between the points, not along a line.
    const fn steps(&self) -> bool {
        // Without any fuse there is nothing else, and no line to be drawn.
        !fuse::ANY || matches!(self.family, Family::Breaker(_) | Family::Rcbo(_))
    }

    /// The published points at the slow edge of the band, by rising current.
    pub fn points(&self) -> impl Iterator<Item = Point> {
        let edge = self.edge();
        let [slow, middle, quick] = edge.0;
        let known = edge.is_known();
        [
            Some(slow).filter(|_| known),
            Some(middle).filter(|p| *p != slow),
            Some(quick).filter(|p| *p != middle),
        ]
        .into_iter()
        .flatten()
    }

    fn beyond_capacity(&self, i: Amps) -> bool {
        self.breaking()
            .is_some_and(|capacity| i.get() > capacity.get())
    }

    /// Ia: the smallest current for which it is known to disconnect within `t`.
    ///
    /// For a time longer than its slowest point that point's current, which is then more than needed.
    #[must_use]
    pub fn disconnecting_current(&self, t: Seconds) -> Known<Amps> {
        self.disconnecting_by(&self.edge(), t)
    }

    /// The same by its edge.
    pub(crate) fn disconnecting_by(&self, edge: &Edge, t: Seconds) -> Known<Amps> {
        if !edge.is_known() {
            return Known::NotKnown(WhyNot::NoPublishedLimit);
        }
        let [slow, middle, quick] = &edge.0;
        let (before, p) = if t.get() >= slow.time.get() {
            (slow, slow)
        } else if t.get() >= middle.time.get() {
            (slow, middle)
        } else if t.get() >= quick.time.get() {
            (middle, quick)
        } else {
            return Known::NotKnown(WhyNot::ShorterThanCurve);
        };
        let i = if t.get() > p.time.get() && t.get() < before.time.get() && !self.steps() {
            Amps::raw(
                line(
                    before.time.get(),
                    p.time.get(),
                    before.current.get(),
                    p.current.get(),
                    t.get(),
                )
                .max(before.current.get())
                .min(p.current.get()),
            )
        } else {
            p.current
        };
        if self.beyond_capacity(i) {
            Known::NotKnown(WhyNot::AboveCapacity)
        } else {
            Known::Value(i)
        }
    }

    /// The latest time at `i` by the points alone, and whether `i` has reached the last of them.
    fn latest(&self, edge: &Edge, i: Amps) -> Known<(Seconds, Option<Point>)> {
        if !edge.is_known() {
            return Known::NotKnown(WhyNot::NoPublishedLimit);
        }
        let [slow, middle, quick] = &edge.0;
        let (before, p) = if i.get() >= quick.current.get() {
            return Known::Value((quick.time, Some(*quick)));
        } else if i.get() >= middle.current.get() {
            (middle, quick)
        } else if i.get() >= slow.current.get() {
            (slow, middle)
        } else {
            return Known::NotKnown(WhyNot::BelowCurve);
        };
        let t = if self.steps() {
            before.time
        } else {
            Seconds::raw(
                line(
                    before.current.get(),
                    p.current.get(),
                    before.time.get(),
                    p.time.get(),
                    i.get(),
                )
                .max(p.time.get())
                .min(before.time.get()),
            )
        };
        Known::Value((t, None))
    }

    /// The times between which it disconnects at `i`.
    ///
    /// Beyond the last point the time of that point still bounds it, as no device gets slower with more
    /// current; above the rated short-circuit capacity nothing does.
    #[must_use]
    pub fn time(&self, i: Amps) -> Known<Band> {
        if self.beyond_capacity(i) {
            return Known::NotKnown(WhyNot::AboveCapacity);
        }
        self.latest(&self.edge(), i).map(|(latest, _)| Band {
            earliest: self.earliest(i),
            latest,
        })
    }

    /// Upper bound of the let-through energy I²t at the prospective current `i`.
    ///
    /// - Within the curve: i² times the latest time.
    /// - Breakers and RCBOs at or above the instantaneous current: i² · 0.1 s, or the maker's figure, or
    ///   with [`Device::with_energy_class_3`] the class limit for a marked Icn, if that is less.
    /// - gG, BS 88-2 and BS 88-3 fuses beyond the last point: I²t of that point. It falls as the current
    ///   rises, and what such a fuse lets through at most by IEC 60269-1 is less at every rating.
    /// - BS 3036, BS 1361, BS 1362 beyond the last point, where no standard bounds I²t: i² times the time
    ///   of that point, up to the capacity.
    /// - A maker's figure for a fuse holds at the greatest current only, and less current may let through
    ///   more: beyond the last point the greater of it and I²t of that point.
    #[must_use]
    pub fn let_through(&self, i: Amps) -> Known<AmpSquaredSeconds> {
        self.let_through_by(&self.edge(), i)
    }

    /// The same by its edge.
    pub(crate) fn let_through_by(&self, edge: &Edge, i: Amps) -> Known<AmpSquaredSeconds> {
        if self.beyond_capacity(i) {
            return Known::NotKnown(WhyNot::AboveCapacity);
        }
        let (time, last) = match self.latest(edge, i) {
            Known::Value(v) => v,
            Known::NotKnown(why) => return Known::NotKnown(why),
        };
        let by_time = i2t(i, time);
        let Some(last) = last else {
            return Known::Value(AmpSquaredSeconds::raw(by_time));
        };
        let at_last = i2t(last.current, last.time);
        let maker = self.let_through.map(AmpSquaredSeconds::get);
        let bound = match self.family {
            Family::Breaker(c) | Family::Rcbo(c) => maker
                .or_else(|| {
                    let icn = self.breaking.filter(|_| self.class_3)?;
                    breaker::class_3(c, self.rating.get(), icn.get())
                })
                .map_or(by_time, |limit| limit.min(by_time)),
            Family::Gg | Family::Bs88_2 | Family::Bs88_3 => {
                maker.map_or(at_last, |m| m.max(at_last))
            }
            _ if i == last.current => at_last,
            _ => match maker {
                Some(m) => m.max(at_last),
                None if self.breaking().is_some() => by_time,
                None => return Known::NotKnown(WhyNot::AboveCurve),
            },
        };
        Known::Value(AmpSquaredSeconds::raw(bound))
    }

    /// The greatest let-through energy for any prospective current from `i_min` to `i_max`.
    ///
    /// The greatest is at an end or at a point of the curve between, seen from either side.
    #[must_use]
    pub fn worst_let_through(&self, i_min: Amps, i_max: Amps) -> Known<AmpSquaredSeconds> {
        let (low, high) = if i_min.get() <= i_max.get() {
            (i_min, i_max)
        } else {
            (i_max, i_min)
        };
        let edge = self.edge();
        let ends = (
            self.let_through_by(&edge, low),
            self.let_through_by(&edge, high),
        );
        match ends {
            (Known::Value(a), Known::Value(b)) => {
                let worst = a.get().max(b.get()).max(self.corners(&edge, low, high));
                Known::Value(AmpSquaredSeconds::raw(worst))
            }
            (Known::NotKnown(why), _) | (_, Known::NotKnown(why)) => Known::NotKnown(why),
        }
    }

    /// The greatest let-through energy at a point of the curve between two currents, in A²s; zero where there is none.
    pub(crate) fn corners(&self, edge: &Edge, low: Amps, high: Amps) -> f32 {
        let mut worst: f32 = 0.0;
        let [slow, middle, quick] = &edge.0;
        if low.get() < quick.current.get() {
            for (before, p) in [(slow, slow), (slow, middle), (middle, quick)] {
                if p.current.get() > low.get() && p.current.get() <= high.get() {
                    // Of a step the corner.
                    let time = if self.steps() { before.time } else { p.time };
                    worst = worst.max(i2t(p.current, time));
                }
            }
        }
        worst
    }

    /// I2: the current that ensures operation in the conventional time (If of a fuse, It of a breaker).
    ///
    /// | Family | I2 / In | From (from memory) |
    /// |---|---|---|
    /// | breakers, RCBOs | 1.45 | IEC 60898-1, 61009-1 |
    /// | gG | 2.1 up to 4 A, 1.9 below 16 A, 1.6 from 16 A | IEC 60269-1, -2 |
    /// | BS 88-2, BS 88-3, BS 1361 | 1.45 | not If, but what BS 7671 433.1 takes as satisfied by them |
    /// | BS 1362 | 1.9 | BS 1362 |
    /// | BS 3036 | 2.0 | BS 7671 433.1, hence its factor 0.725 |
    #[must_use]
    pub fn conventional_current(&self) -> Amps {
        let rating = self.rating.get();
        // As quotients, so that whole results are exact.
        let percent = match self.family {
            Family::Gg if rating <= 4.0 => 210.0,
            Family::Gg if rating < 16.0 => 190.0,
            Family::Gg => 160.0,
            Family::Bs1362 => 190.0,
            Family::Bs3036 => 200.0,
            _ => 145.0,
        };
        Amps::raw(rating * percent / 100.0)
    }

    /// It is a semi-enclosed fuse, whose cables need the factor 0.725.
    #[must_use]
    pub const fn is_semi_enclosed(&self) -> bool {
        matches!(self.family, Family::Bs3036)
    }
}

/// Greatest earth fault loop impedance with which `device` disconnects within `t`: U0 · cmin / Ia, not rounded.
///
/// BS 7671 411.4.4, IEC 60364-4-41 411.4.4. With `cmin` 0.95 at 230 V it gives the tables in print since
/// 2015; with 1 the older ones.
#[must_use]
pub fn max_zs(device: &Device, t: Seconds, u0: Volts, cmin: Ratio) -> Known<Ohms> {
    device
        .disconnecting_current(t)
        .map(|ia| Ohms::raw(u0.get() * cmin.get() / ia.get()))
}

fn i2t(i: Amps, t: Seconds) -> f32 {
    i.get() * i.get() * t.get()
}

/// y at x on the straight line through (x0, y0) and (x1, y1) in log x, log y, or a hair more: up to 3e-6 of it.
///
/// Times and currents are asked for, of both of which more is the worse. By one logarithm, that of k, and a small
/// exponential: those of `libm` for any number at all take 1.5 kB more in an instrument.
fn line(x0: f32, x1: f32, y0: f32, y1: f32, x: f32) -> f32 {
    let log = |to: f32, from: f32| libm::log1pf((to - from) / from);
    y0 * exp(log(y1, y0) * (log(x, x0) / log(x1, x0))) * (1.0 + HAIR)
}

/// e to the x from -80 to 80, within 3e-7 of it.
fn exp(x: f32) -> f32 {
    use core::f32::consts::{LN_2, LOG2_E};
    /// ln 2 with so few digits that a hundred times it is exact, and the rest of it.
    const HIGH: f32 = 0.693_145_75;
    const REST: f32 = 1.428_606_8e-6;
    const { assert!(HIGH + REST == LN_2) };
    /// One over n!, from 8 on.
    const TERMS: [f32; 9] = [
        1.0 / 40320.0,
        1.0 / 5040.0,
        1.0 / 720.0,
        1.0 / 120.0,
        1.0 / 24.0,
        1.0 / 6.0,
        1.0 / 2.0,
        1.0,
        1.0,
    ];
    let twos = (x * LOG2_E) as i32;
    let n = twos as f32;
    let r = x - n * HIGH - n * REST;
    let power = TERMS.iter().fold(0.0, |sum, term| sum * r + term);
    power * f32::from_bits((twos.wrapping_add(127) as u32) << 23)
}
