//! Ring final circuits: end to end, and cross-connected at each socket.
//!
//! Three steps (guidance to BS 7671, from memory; the algebra is a published example, see `vectors/readings.json`).
//!
//! 1. r1, rn and r2 of each conductor from end to end. Line and neutral are alike; r2 is by its size.
//! 2. Line and neutral cross-connected, the outgoing line to the returning neutral and the other way round:
//!    every socket on the ring reads the same, (r1 + rn)/4.
//! 3. The same with line and protective conductor: (r1·r2 + (x − x²)(r1 − r2)²)/(r1 + r2) at the share x of the way,
//!    between r1·r2/(r1 + r2) at the board and (r1 + r2)/4 at the middle. The highest is R1 + R2 of the circuit.
//!
//! # Patterns
//! | pattern | ends | sockets |
//! |---|---|---|
//! | open | over range | |
//! | joint | one conductor more than the others say | |
//! | not crossed | | from near nothing at the board to the middle's value: x(1 − x)(r1 + rn) |
//! | spur | as designed | raised by the spur's own length |
//! | spur on spur | as designed | raised, and a raised one has a second cable |
//! | closed loop (figure of eight) | short by D | raised by t(1 − t)·D, a quarter of D at most |
//! | bridged: broken behind a link | short by D | raised along two tails, to a third of D at least |
//! | joint at a socket | as designed | one conductor's readings raised alone |
//! | parallel path | r2 less than its size says | line to protective low |
//!
//! What two patterns have in common is said of both: a diagnosis is the set of all that fit. The number of cables
//! behind a socket, where it is looked at, tells a spur's end (one) from its middle or a loop (two and more).
//!
//! **Bands used** (own): the readings of one instrument share its gain error, so only digits, half a step and
//! [`CONTACTS`] part them; conductors of one ring keep to their sizes within [`SPREAD`]; the ring has the length
//! of the design within [`LENGTH`]; a link that bridges is shorter than half of what it bridges, and the gap of a
//! broken ring is at most a third of that. One fault is looked for, not several at once.

use super::{
    CONTACTS, Design, Judged, Lacking, Meaning, Rule, Suspects, Test,
    design::Ends,
    interval::{Accuracy, Shown},
};
use crate::network::{Circuit, Part};
use crate::verdict::{Outcome, Sense, Unit};
use bitflags::bitflags;

/// How far conductors of one ring may differ from what their sizes say, as a share.
pub const SPREAD: f32 = 0.05;
/// How far the length of a ring may be from the design's, as a share.
pub const LENGTH: f32 = 0.15;
/// The step is too coarse where the band of a socket is more than this share of its value.
pub const COARSE: f32 = 0.6;

bitflags! {
    /// Patterns that fit.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Patterns: u16 {
        /// As it should be.
        const HEALTHY = 1;
        /// A conductor is open.
        const OPEN = 1 << 1;
        /// A joint of high resistance in the ring.
        const JOINT = 1 << 2;
        /// The legs were joined straight, not crossed: repeat the test.
        const NOT_CROSSED = 1 << 3;
        /// A spur.
        const SPUR = 1 << 4;
        /// A spur that goes on from a spur.
        const SPUR_ON_SPUR = 1 << 5;
        /// A loop within the ring: two of its points, or one point twice, are joined.
        const CLOSED_LOOP = 1 << 6;
        /// A link between the legs, and the ring broken behind it.
        const BRIDGED = 1 << 7;
        /// A joint of high resistance, or none at all, at one socket.
        const JOINT_AT_SOCKET = 1 << 8;
        /// Metal beside the protective conductor.
        const PARALLEL_PATH = 1 << 9;
        /// Shorter than the design.
        const SHORT = 1 << 10;
    }
}

bitflags! {
    /// Conductors of a circuit.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Conductors: u8 {
        /// Line.
        const LINE = 1;
        /// Neutral.
        const NEUTRAL = 1 << 1;
        /// Protective conductor.
        const PROTECTIVE = 1 << 2;
    }
}

/// End-to-end readings, in Ω.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndReadings {
    /// r1
    pub line: Shown,
    /// rn
    pub neutral: Shown,
    /// r2
    pub protective: Shown,
}

/// Cross-connected readings at one socket, in Ω.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Socket {
    /// Line to neutral, these two cross-connected.
    pub line_neutral: Option<Shown>,
    /// Line to protective conductor, these two cross-connected.
    pub line_protective: Option<Shown>,
    /// Cables behind it, where it was looked at.
    pub cables: Option<u8>,
}

/// What a ring's readings mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagnosis {
    /// Every pattern that fits; none where something is lacking.
    pub patterns: Patterns,
    /// The conductors it is in, where it is not in all.
    pub conductors: Conductors,
    /// The socket furthest from its value, counted from 0.
    pub socket: Option<usize>,
    /// How many sockets are raised.
    pub raised: u8,
    /// By how much the highest is, line and neutral together, in Ω.
    pub raise: f32,
    /// (r1 + rn)/4, the value of a socket on the ring.
    pub expected: Option<f32>,
    /// The band around it.
    pub band: Option<f32>,
    /// The highest reading of line to protective conductor: R1 + R2.
    pub r1r2: Option<Shown>,
    /// The instrument's step is too coarse for so short a ring.
    pub too_coarse: bool,
    /// What is missing.
    pub lacking: Lacking,
}

/// Reading at the share `x` of the way round, two conductors of end-to-end resistance `ra` and `rb` cross-connected.
///
/// ```
/// use faultpath::reading::ring::crossed;
/// assert!((crossed(0.6, 1.0, 0.0) - 0.375).abs() < 1e-6);
/// assert!((crossed(0.6, 1.0, 0.25) - 0.394).abs() < 5e-4);
/// assert!((crossed(0.6, 1.0, 0.5) - 0.400).abs() < 1e-6);
/// ```
#[must_use]
pub fn crossed(ra: f32, rb: f32, x: f32) -> f32 {
    let d = ra - rb;
    (ra * rb + (x - x * x) * d * d) / (ra + rb)
}

/// The same where the legs were joined straight: x(1 − x)(ra + rb).
#[must_use]
pub fn straight(ra: f32, rb: f32, x: f32) -> f32 {
    x * (1.0 - x) * (ra + rb)
}

/// Lowest and highest reading of a socket on the ring, cross-connected.
#[must_use]
pub fn expected(ra: f32, rb: f32) -> (f32, f32) {
    (crossed(ra, rb, 0.0), crossed(ra, rb, 0.5))
}

/// Numbers of one pair of conductors.
#[derive(Clone, Copy)]
struct Base {
    low: f32,
    high: f32,
    band: f32,
}

impl Base {
    fn of(ra: f32, rb: f32, fixed: f32) -> Self {
        let (low, high) = expected(ra, rb);
        Self {
            low,
            high,
            // The socket's own, and what the ends bring in; contacts and conductors.
            band: fixed + 0.5 * fixed + CONTACTS + SPREAD * high,
        }
    }
}

/// What is at one socket.
#[derive(Clone, Copy)]
struct Look {
    low: bool,
    raised: bool,
    /// Line to neutral is raised.
    raised_n: bool,
    /// It fits a length of cable.
    cable: bool,
    /// A joint in one of these conductors there fits it.
    joint: Conductors,
    raise: f32,
}

struct Bench {
    lead: f32,
    fixed: f32,
    neutral: Base,
    protective: Base,
    /// Raise of line-protective over that of line-neutral, of one length of cable.
    kappa: f32,
    /// There is metal beside the protective conductor.
    parallel: bool,
}

impl Bench {
    fn raise(&self, shown: Option<Shown>, base: Base) -> Option<f32> {
        match shown? {
            Shown::Value(v) => Some(v - self.lead - base.high),
            Shown::Above(_) => Some(f32::INFINITY),
        }
    }

    fn look(&self, s: &Socket) -> Look {
        let n = self.raise(s.line_neutral, self.neutral);
        // Metal beside the protective conductor leaves its readings without a pattern.
        let p = if self.parallel {
            None
        } else {
            self.raise(s.line_protective, self.protective)
        };
        let up = |r: Option<f32>, b: Base| r.is_some_and(|r| r > b.band);
        let down = |r: Option<f32>, b: Base| r.is_some_and(|r| r + b.high < b.low - b.band);
        let (up_n, up_p) = (up(n, self.neutral), up(p, self.protective));
        let mut out = Look {
            low: down(n, self.neutral) || (n.is_none() && down(p, self.protective)),
            raised: up_n || up_p,
            raised_n: up_n,
            cable: true,
            joint: Conductors::all(),
            // In terms of line and neutral.
            raise: n.unwrap_or_else(|| p.map_or(0.0, |p| p / self.kappa)),
        };
        let (Some(n), Some(p)) = (n, p) else {
            return out;
        };
        let line = if n.is_infinite() || p.is_infinite() {
            out.cable = false;
            n.is_infinite() && p.is_infinite()
        } else {
            let near = |a: f32, b: f32, times: f32| {
                // On the ring itself line to protective conductor is not one value.
                let width = self.protective.high - self.protective.low;
                (a - b).abs()
                    <= self.protective.band
                        + width
                        + times * self.neutral.band
                        + SPREAD * (a.abs() + b.abs())
            };
            out.cable = near(p, self.kappa * n, self.kappa);
            near(p, n, 1.0)
        };
        out.joint = Conductors::empty();
        out.joint.set(Conductors::LINE, line);
        out.joint.set(Conductors::NEUTRAL, !up_p);
        out.joint.set(Conductors::PROTECTIVE, !up_n);
        if out.joint.is_empty() && !out.cable {
            // More than one conductor.
            out.joint = Conductors::LINE
                | if n > p {
                    Conductors::NEUTRAL
                } else {
                    Conductors::PROTECTIVE
                };
        }
        out
    }
}

/// Diagnoses a ring from its readings.
///
/// `design` is its end-to-end resistances at the ambient temperature, spurs left out ([`Design::ends`]). Without it
/// the ring's length says nothing and r2 can't be held against its size.
#[must_use]
pub fn diagnose(
    ends: Option<EndReadings>,
    sockets: &[Socket],
    accuracy: &Accuracy,
    design: Option<Ends>,
) -> Diagnosis {
    let mut d = Diagnosis {
        patterns: Patterns::empty(),
        conductors: Conductors::empty(),
        socket: None,
        raised: 0,
        raise: 0.0,
        expected: None,
        band: None,
        r1r2: highest(sockets),
        too_coarse: false,
        lacking: Lacking::empty(),
    };
    let Some(ends) = ends else {
        d.lacking = Lacking::ENDS;
        return d;
    };
    let all = [
        (ends.line, Conductors::LINE),
        (ends.neutral, Conductors::NEUTRAL),
        (ends.protective, Conductors::PROTECTIVE),
    ];
    for (shown, c) in all {
        if shown.is_above() {
            d.conductors |= c;
        }
    }
    if !d.conductors.is_empty() {
        d.patterns = Patterns::OPEN;
        return d;
    }
    let less = |s: Shown| (s.figure() - accuracy.lead()).max(0.0);
    let (r1, rn, r2) = (less(ends.line), less(ends.neutral), less(ends.protective));
    let fixed = if accuracy.lead() == 0.0 {
        accuracy.fixed()
    } else {
        2.0 * accuracy.fixed()
    };
    if !(r1 > 0.0 && rn > 0.0 && r2 > 0.0 && (r1 + rn + r2).is_finite()) {
        d.too_coarse = true;
        return d;
    }
    let like = design.unwrap_or(Ends {
        line: 1.0,
        neutral: 1.0,
        protective: f32::NAN,
    });
    joints(&mut d, [r1, rn, r2], like, fixed);
    if d.patterns.contains(Patterns::JOINT) {
        return d;
    }

    let bench = Bench {
        lead: accuracy.lead(),
        fixed,
        neutral: Base::of(r1, rn, fixed),
        protective: Base::of(r1, r2, fixed),
        kappa: (r1 + r2) / (r1 + rn),
        parallel: d.patterns.contains(Patterns::PARALLEL_PATH),
    };
    d.expected = Some(bench.neutral.high);
    d.band = Some(bench.neutral.band);
    d.too_coarse = bench.neutral.band > COARSE * bench.neutral.high;
    if !sockets
        .iter()
        .any(|s| s.line_neutral.is_some() || s.line_protective.is_some())
    {
        d.lacking = Lacking::SOCKETS;
        return d;
    }
    at_sockets(&mut d, sockets, &bench, r1 + rn, design);
    d
}

/// The highest reading of line to protective conductor.
pub(crate) fn highest(sockets: &[Socket]) -> Option<Shown> {
    let mut out: Option<Shown> = None;
    for s in sockets.iter().filter_map(|s| s.line_protective) {
        let more = match (out, s) {
            (None, _) => true,
            (Some(Shown::Above(a)), Shown::Above(b)) => b > a,
            (Some(Shown::Above(_)), Shown::Value(_)) => false,
            (Some(Shown::Value(_)), Shown::Above(_)) => true,
            (Some(Shown::Value(a)), Shown::Value(b)) => b > a,
        };
        if more {
            out = Some(s);
        }
    }
    out
}

/// Holds the ends against each other: what is more than the rest says has a joint in it.
fn joints(d: &mut Diagnosis, [r1, rn, r2]: [f32; 3], like: Ends, fixed: f32) {
    // Line and neutral are insulated: the smaller of their shares is that of the length.
    let (q1, qn) = (r1 / like.line, rn / like.neutral);
    let (q, least) = if q1 <= qn {
        (q1, like.line)
    } else {
        (qn, like.neutral)
    };
    let band = |e: f32| SPREAD * q * e + fixed * (1.0 + e / least) + CONTACTS * (1.0 + e / least);
    for (r, e, c) in [
        (r1, like.line, Conductors::LINE),
        (rn, like.neutral, Conductors::NEUTRAL),
        (r2, like.protective, Conductors::PROTECTIVE),
    ] {
        // Where the size is not known there is no comparison.
        if r - q * e > band(e) {
            d.patterns |= Patterns::JOINT;
            d.conductors |= c;
        }
    }
    let e = like.protective;
    if q * e - r2 > band(e) {
        d.patterns |= Patterns::PARALLEL_PATH;
        d.conductors |= Conductors::PROTECTIVE;
    }
}

fn at_sockets(
    d: &mut Diagnosis,
    sockets: &[Socket],
    bench: &Bench,
    ends: f32,
    design: Option<Ends>,
) {
    let mut low: Option<(usize, f32)> = None;
    let mut highest: Option<(usize, f32)> = None;
    let (mut all_cable, mut any_neutral) = (true, false);
    let mut joint = Conductors::all();
    // Raised sockets with one cable, with more, and with a number nobody looked at.
    let (mut one, mut many, mut unknown) = (0u8, 0u8, 0u8);
    for (n, s) in sockets.iter().enumerate() {
        let look = bench.look(s);
        if look.low && low.is_none_or(|(_, r)| look.raise < r) {
            low = Some((n, look.raise));
        }
        if !look.raised {
            continue;
        }
        d.raised = d.raised.saturating_add(1);
        if highest.is_none_or(|(_, r)| look.raise > r) {
            highest = Some((n, look.raise));
        }
        any_neutral |= look.raised_n;
        all_cable &= look.cable;
        joint &= look.joint;
        let count = match s.cables {
            Some(0 | 1) => &mut one,
            Some(_) => &mut many,
            None => &mut unknown,
        };
        *count = count.saturating_add(1);
    }
    if let Some((n, _)) = low {
        d.patterns |= Patterns::NOT_CROSSED;
        d.socket = Some(n);
        return;
    }
    d.socket = highest.map(|(n, _)| n);
    d.raise = highest.map_or(0.0, |(_, r)| r.max(0.0));
    if d.raised > 0 && !any_neutral {
        // The protective conductor alone: what runs beside part of it does that too.
        d.patterns |= Patterns::PARALLEL_PATH;
    }
    if !all_cable {
        d.patterns |= Patterns::JOINT_AT_SOCKET;
        d.conductors |= joint;
        return;
    }

    // How much the ring is shorter than the design, line and neutral together: the least and the most.
    let short = design.map(|e| {
        let all = e.line + e.neutral;
        let hair = 2.0 * (bench.fixed + CONTACTS);
        (
            (1.0 - LENGTH) * all - ends - hair,
            (1.0 + LENGTH) * all - ends + hair,
        )
    });
    let band = bench.neutral.band;
    let as_long = short.is_none_or(|(least, _)| least <= 0.0);
    let loop_fits = short.is_none_or(|(_, most)| most > 0.0 && d.raise <= 0.25 * most + band);
    let bridge_fits = short.is_none_or(|(least, most)| {
        d.raise <= 2.0 * most.max(0.0) + band && d.raise >= least / 3.0 - band
    });
    if d.raised == 0 {
        if as_long {
            d.patterns |= Patterns::HEALTHY;
        } else {
            d.patterns |= Patterns::SHORT.union(Patterns::CLOSED_LOOP);
            if bridge_fits {
                d.patterns |= Patterns::BRIDGED;
            }
        }
        return;
    }
    if as_long && many == 0 {
        d.patterns |= Patterns::SPUR;
    }
    // A spur that goes on has a socket in its middle and one at its end.
    if as_long && d.raised >= 2 && (one > 0 || unknown > 0) && (many > 0 || unknown > 0) {
        d.patterns |= Patterns::SPUR_ON_SPUR;
    }
    if as_long && d.raised == 1 && one == 0 && !joint.is_empty() {
        d.patterns |= Patterns::JOINT_AT_SOCKET;
        d.conductors |= joint;
    }
    if loop_fits && one == 0 {
        d.patterns |= Patterns::CLOSED_LOOP;
    }
    // Two tails hang on a link, each with its end: one cable where the piece between is missing, two where it is cut.
    let tails = one == 0 || one == 2 || unknown > 0;
    if bridge_fits && (tails || !as_long) {
        d.patterns |= Patterns::BRIDGED;
    }
    if d.patterns.is_empty() {
        // None of the single faults looks so: more than one, or a reading that is wrong.
        d.patterns = Patterns::CLOSED_LOOP
            .union(Patterns::BRIDGED)
            .union(Patterns::SPUR_ON_SPUR)
            .union(Patterns::JOINT_AT_SOCKET);
    }
}

/// A ring as a judged test. R1 + R2 of it is judged apart: [`super::continuity::r1r2`] of [`Diagnosis::r1r2`].
#[must_use]
pub fn judge(
    design: &Design<'_>,
    ends: Option<EndReadings>,
    sockets: &[Socket],
    accuracy: &Accuracy,
) -> (Judged, Diagnosis) {
    let d = diagnose(ends, sockets, accuracy, design.ends());
    (judged(&d, spurs(design.circuit)), d)
}

/// How many spurs a design has.
pub(crate) fn spurs(circuit: &Circuit) -> usize {
    let spurs = circuit.sections.iter().filter(|s| s.part == Part::Spur);
    spurs.count()
}

/// The outcome of a diagnosis, for a design with that many spurs.
#[must_use]
pub fn judged(d: &Diagnosis, spurs: usize) -> Judged {
    let mut j = Judged::new(Test::Ring, Rule::RingPattern, Unit::Ohm, Sense::AtMost);
    j.value = d.expected;
    j.meaning = Meaning::RingPattern;
    j.lacking = d.lacking;
    // A sound ring, or one that another reading may still show to be.
    const UNSURE: Patterns = Patterns::HEALTHY
        .union(Patterns::SPUR)
        .union(Patterns::SHORT)
        .union(Patterns::PARALLEL_PATH);
    let repeat = Patterns::NOT_CROSSED;
    j.outcome = if d.patterns.intersects(repeat) {
        Outcome::CannotSay
    } else if d.patterns.is_empty() || (d.too_coarse && d.patterns == Patterns::HEALTHY) {
        j.meaning = if d.too_coarse {
            Meaning::TooCoarse
        } else {
            Meaning::NotKnown
        };
        Outcome::CannotSay
    } else if !d.lacking.is_empty() && !d.patterns.intersects(UNSURE.complement()) {
        Outcome::CannotSay
    } else if d.patterns == Patterns::HEALTHY {
        j.meaning = Meaning::Clear;
        Outcome::Pass
    } else if d.patterns == Patterns::SPUR && usize::from(d.raised) <= spurs {
        Outcome::Pass
    } else if d.patterns.intersects(UNSURE) {
        Outcome::Doubtful
    } else {
        Outcome::Fail
    };
    if d.patterns.contains(Patterns::PARALLEL_PATH) {
        j.suspects |= Suspects::PARALLEL_PATH.union(Suspects::PROTECTIVE);
    }
    if d.patterns
        .intersects(Patterns::JOINT.union(Patterns::JOINT_AT_SOCKET))
    {
        j.suspects |= Suspects::LOOSE_JOINT;
        if d.conductors == Conductors::PROTECTIVE {
            j.suspects |= Suspects::SMALLER_SIZE.union(Suspects::PROTECTIVE);
        }
    }
    if d.patterns.contains(Patterns::SHORT) {
        j.suspects |= Suspects::SHORTER;
    }
    j
}

#[cfg(test)]
mod tests;
