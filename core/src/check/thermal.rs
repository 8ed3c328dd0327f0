//! The protective and the line conductor survive the fault: S ≥ √(I²t)/k, BS 7671 543.1.3 and 434.5.2,
//! IEC 60364-5-54 543.1.2 and 60364-4-43 434.5.2 (from memory), k by the closed form of IEC 60364-5-54
//! Annex A.
//!
//! I²t is the greatest for any earth fault along the section, from the smallest current at the furthest
//! point to the largest at its beginning: the device's time at that current, the RCD's where that is
//! shorter, and below 0.1 s what the device's standard or maker says of its let-through.
//!
//! k starts from the temperature the conductor has when the circuit carries In: θa + (θmax − θa)·(In/Iz)²;
//! from the full temperature where that can't be said.
//!
//! Other route for the protective conductor: the size tabulated by the line conductor's (BS 7671
//! Table 54.7). Other route for the line conductor: a device that protects against overload and can break
//! the fault (BS 7671 435.1, from memory), for fuses and for breakers of types B and C.

use super::{Case, finding, finite, outwards};
use crate::conductor::{self, Material};
use crate::device::{Curve, Device, Family, Known};
use crate::facts::{SectionFacts, Strand, note};
use crate::network::{Part, Section, Shape};
use crate::quantity::{AmpSquaredSeconds, Amps, Celsius, Seconds, SquareMm};
use crate::source::larger;
use crate::verdict::{Check, Lacking, Outcome, Recorder, Rule, Sense, Topic, Unit};
use heapless::Vec;
use libm::sqrtf;

/// Temperature of a conductor of a section before the fault.
fn initial(case: &Case<'_>, section: &Section, own: &SectionFacts, at_full: f32) -> f32 {
    let Ok(capacity) = &own.capacity else {
        return at_full;
    };
    let ambient = section.laying.ambient.get();
    let ratio = case.facts.rating / capacity.effective.get();
    if case.circuit.shape == Shape::Ring || ratio.is_nan() || ratio >= 1.0 || ambient >= at_full {
        return at_full;
    }
    ambient + (at_full - ambient) * ratio * ratio
}

/// k of a conductor; not a number where the closed form has none.
fn k(material: Material, from: f32, to: f32) -> f32 {
    conductor::k(material, Celsius::raw(from), Celsius::raw(to)).unwrap_or(f32::NAN)
}

/// The residual current any RCD can break, in amperes; above, only the overcurrent device counts
/// (IEC 61008-1, 61009-1: at least 500 A or 10 In, from memory).
const RCD_BREAKING: f32 = 500.0;

/// The times within which its RCDs disconnect a circuit at the smallest current; they get no slower with more.
fn rcd_times(case: &Case<'_>, smallest: f32) -> [Option<f32>; 2] {
    [case.circuit.rcd, case.here.source.rcd].map(|rcd| match rcd?.latest(Amps::raw(smallest)) {
        Known::Value(t) => Some(t.get()),
        Known::NotKnown(_) => None,
    })
}

/// A current, and what the circuit's device lets through at it; no number where that is not known.
#[derive(Clone, Copy)]
struct Through {
    i: f32,
    energy: f32,
}

impl Through {
    fn at(case: &Case<'_>, i: f32) -> Self {
        let by_device = case.circuit.device.let_through_by(case.edge, Amps::raw(i));
        let energy = by_device.value().map_or(f32::NAN, AmpSquaredSeconds::get);
        Self { i, energy }
    }

    /// The greatest energy from this current up to another.
    fn up_to(self, case: &Case<'_>, high: Self) -> f32 {
        let device = &case.circuit.device;
        let corners = device.corners(case.edge, Amps::raw(self.i), Amps::raw(high.i));
        larger(larger(self.energy, high.energy), corners)
    }
}

/// What bounds the energy of an earth fault, the same for all sections.
struct Bounds<'c, 'p> {
    case: &'c Case<'p>,
    /// At the smallest current; no number where it is not known.
    low: Through,
    /// The times of the RCDs that disconnect at it.
    rcds: [Option<f32>; 2],
    /// Up to each of these currents an RCD bounds the energy, from there the device, which is quick then.
    turns: Vec<f32, 4>,
}

impl<'c, 'p> Bounds<'c, 'p> {
    /// Without any RCD.
    fn new(case: &'c Case<'p>) -> Self {
        let low = case.facts.if_min;
        Self::from_low(case, low.map_or(f32::NAN, |i| outwards(Sense::AtLeast, i)))
    }

    fn from_low(case: &'c Case<'p>, low: f32) -> Self {
        Self {
            case,
            low: Through::at(case, low),
            rcds: [None; 2],
            turns: Vec::new(),
        }
    }

    fn take_rcds(&mut self) {
        let (case, low) = (self.case, self.low.i);
        if low > RCD_BREAKING {
            return;
        }
        self.rcds = rcd_times(case, low);
        let mut before = 0.0;
        for by in [0.1, 0.4, 1.0, 5.0] {
            let by = Seconds::raw(by);
            let Known::Value(turn) = case.circuit.device.disconnecting_by(case.edge, by) else {
                continue;
            };
            let turn = turn.get();
            if turn <= low || turn == before {
                // For longer it takes no more; a breaker takes the same for all of them.
                break;
            }
            before = turn;
            if turn <= RCD_BREAKING {
                // As many as there are times.
                let _ = self.turns.push(turn);
            }
        }
    }

    /// The greatest I²t for any current up to `high`, by the device and by every RCD.
    fn up_to(&self, high: f32) -> Option<f32> {
        // The larger of a number and none would be the number.
        if self.low.i.is_nan() || high.is_nan() {
            return None;
        }
        let case = self.case;
        let high = Through::at(case, high.max(self.low.i));
        let mut least = self.low.up_to(case, high);
        let mut take = |e: f32| {
            if least.is_nan() || e < least {
                least = e;
            }
        };
        for t in self.rcds.iter().flatten() {
            if high.i <= RCD_BREAKING {
                take(high.i * high.i * t);
            }
            for turn in self.turns.iter().filter(|turn| **turn < high.i) {
                let above = Through::at(case, *turn).up_to(case, high);
                take(larger(turn * turn * t, above));
            }
        }
        finite(least)
    }

    /// The same of a fault at the furthest point, by the smallest current there.
    fn far(&self) -> Option<f32> {
        self.up_to(at_most(self.case, self.case.facts.if_min?))
    }
}

/// A largest current with what rounding may have taken from it; the level as it was stated is that.
fn at_most(case: &Case<'_>, i: f32) -> f32 {
    if case.here.source.level == Some(i) {
        i
    } else {
        outwards(Sense::AtMost, i)
    }
}

/// How one section came out.
struct Came {
    outcome: Outcome,
    needed: Option<f32>,
    available: Option<f32>,
    rule: Rule,
    lacking: Lacking,
}

/// The size of the table and that of the path that has it, where one does: one alone is enough.
fn by_table(section: &Section, own: &SectionFacts) -> Option<(f32, f32)> {
    let (operating, last) = (
        own.operating,
        section.insulation.final_temperature(section.csa).get(),
    );
    let k_line = k(section.material, operating, last);
    let mut found = None;
    for strand in &own.strands {
        let same = strand.material == section.material
            && strand.initial == operating
            && strand.last == last;
        let k_own = if same {
            k_line
        } else {
            k(strand.material, strand.initial, strand.last)
        };
        let table = conductor::tabulated_minimum(section.csa, k_line, k_own).get();
        let enough = |a: &f32| {
            // Of equal metals it is the size of the table itself.
            let worked = k_line != k_own;
            *a >= table && (!worked || outwards(Sense::AtLeast, *a) >= table)
        };
        if let Some(area) = strand.area.filter(enough) {
            found = Some((table, area));
        }
    }
    found
}

fn by_strand(
    case: &Case<'_>,
    section: &Section,
    own: &SectionFacts,
    strand: &Strand,
    bounds: &Bounds<'_, '_>,
    all: Option<f32>,
) -> Came {
    let mut came = Came {
        outcome: Outcome::CannotSay,
        needed: None,
        available: strand.area,
        rule: Rule::Adiabatic,
        lacking: Lacking::empty(),
    };
    let Some(area) = strand.area else {
        came.lacking = Lacking::PROTECTIVE_AREA;
        return came;
    };
    let from = if strand.in_cable {
        initial(case, section, own, strand.initial)
    } else {
        strand.initial
    };
    let k = k(strand.material, from, strand.last);
    if k.is_nan() {
        // In surroundings as hot as a fault may make it.
        came.lacking = Lacking::CAPACITY;
        return came;
    }
    let size = |e: f32| strand.share * sqrtf(e) / k;
    if let Some(all) = all.map(size).and_then(finite) {
        came.needed = Some(all);
        if outwards(Sense::AtMost, all) <= area {
            came.outcome = Outcome::Pass;
            return came;
        }
    }
    if let Some((table, has)) = by_table(section, own) {
        // Satisfied by the table, by this path or the other: no calculation is asked for.
        came.outcome = Outcome::Pass;
        came.needed = Some(table);
        came.available = Some(has);
        came.rule = Rule::TabulatedMinimum;
        return came;
    }
    if let Some(far) = bounds.far().map(size).and_then(finite) {
        if outwards(Sense::AtMost, far) > area {
            came.outcome = Outcome::Fail;
            came.needed = Some(far);
            return came;
        }
        // It holds for the usual fault at the far end; near the board only the let-through can tell.
        came.lacking = Lacking::LET_THROUGH;
    }
    came
}

pub(crate) fn protective<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) {
    let mut f = finding(
        case.place,
        Check::ProtectiveThermal,
        Rule::Adiabatic,
        Unit::SquareMm,
        Sense::AtMost,
    );
    f.assumed = case.here.source.assumed_loop | case.here.source.assumed_max;
    if case.facts.protective.is_none() {
        f.lacking = Lacking::PROTECTIVE;
        rec.finding(&f);
        return;
    }
    let mut bounds = Bounds::new(case);
    bounds.take_rcds();
    let mut before = crate::impedance::Pair::ZERO;
    let mut worst: Option<(Outcome, f32)> = None;
    // From the same current the same energy: of a ring all begins at the board.
    let mut last = (f32::NAN, None);
    for (index, (s, own)) in (0u8..).zip(case.circuit.sections.iter().zip(case.sections)) {
        let begin = match s.part {
            Part::Run if case.circuit.shape == Shape::Ring => crate::impedance::Pair::ZERO,
            Part::Run => before,
            // A spur may leave the run anywhere, so also at the board.
            Part::Spur => crate::impedance::Pair::ZERO,
        };
        let high = case.here.ik_earth(begin);
        let all = high.and_then(|high| {
            if high != last.0 {
                last = (high, bounds.up_to(at_most(case, high)));
            }
            last.1
        });
        for strand in &own.strands {
            let came = by_strand(case, s, own, strand, &bounds, all);
            let mut spot = case.spot(Topic::ProtectiveThermal);
            spot.section = Some(index);
            if rec.wants_steps() {
                let stress = Stress {
                    far: bounds.far(),
                    all,
                    high,
                    needed: came.needed,
                };
                note_strand(case, s, own, strand, &stress, spot, rec);
            }
            let free = match (came.needed, came.available) {
                (Some(n), Some(a)) => a / n,
                _ => f32::INFINITY,
            };
            f.lacking |= came.lacking;
            let worse =
                worst.is_none_or(|(o, r)| came.outcome > o || (came.outcome == o && free < r));
            if worse {
                worst = Some((came.outcome, free));
                f.outcome = came.outcome;
                f.value = came.needed;
                f.limit = came.available;
                f.rule = came.rule;
                f.section = Some(index);
            }
        }
        if s.part == Part::Run {
            before = before + own.line + own.protective.unwrap_or(crate::impedance::Pair::ZERO);
        }
    }
    if f.outcome == Outcome::CannotSay {
        if case.facts.if_min.is_none() {
            f.lacking |= case.here.source.lacking_loop;
        } else if bounds.far().is_none() {
            f.lacking |= Lacking::CURVE;
        }
        if case.here.source.loop_external_min.is_none() {
            f.lacking |= case.here.source.lacking_max | case.here.source.lacking_loop;
        }
    }
    rec.finding(&f);
}

/// Energies of a section under an earth fault, and the largest current.
struct Stress {
    far: Option<f32>,
    all: Option<f32>,
    high: Option<f32>,
    /// The size that decides.
    needed: Option<f32>,
}

fn note_strand<R: Recorder + ?Sized>(
    case: &Case<'_>,
    section: &Section,
    own: &SectionFacts,
    strand: &Strand,
    stress: &Stress,
    spot: crate::facts::Spot,
    rec: &mut R,
) {
    let from = if strand.in_cable {
        let from = initial(case, section, own, strand.initial);
        if let Ok(c) = &own.capacity {
            note(
                rec,
                spot,
                Rule::InitialTemperature,
                from,
                Unit::Celsius,
                [
                    section.laying.ambient.get(),
                    strand.initial,
                    case.facts.rating,
                    c.effective.get(),
                ],
            );
        }
        from
    } else {
        strand.initial
    };
    let k = k(strand.material, from, strand.last);
    note(
        rec,
        spot,
        Rule::K,
        k,
        Unit::KFactor,
        [
            conductor::factor_of_k(strand.material),
            strand.material.beta(),
            from,
            strand.last,
        ],
    );
    if let (Some(e), Some(i)) = (stress.far, case.facts.if_min) {
        note(rec, spot, Rule::EnergyFar, e, Unit::AmpSquaredSecond, [i]);
        // Where that one decides, the size it asks for.
        let size = strand.share * sqrtf(e) / k;
        if stress.needed == Some(size) {
            let operands = [strand.share, e, k];
            note(rec, spot, Rule::Adiabatic, size, Unit::SquareMm, operands);
        }
    }
    if let (Some(e), Some(i)) = (stress.all, stress.high) {
        note(
            rec,
            spot,
            Rule::EnergyNear,
            e,
            Unit::AmpSquaredSecond,
            [case.facts.if_min.unwrap_or(f32::NAN), i],
        );
        note(
            rec,
            spot,
            Rule::Adiabatic,
            strand.share * sqrtf(e) / k,
            Unit::SquareMm,
            [strand.share, e, k],
        );
    }
    let k_line = self::k(
        section.material,
        own.operating,
        section.insulation.final_temperature(section.csa).get(),
    );
    let k_own = self::k(strand.material, strand.initial, strand.last);
    let table = conductor::tabulated_minimum(section.csa, k_line, k_own).get();
    note(
        rec,
        spot,
        Rule::TabulatedMinimum,
        table,
        Unit::SquareMm,
        [section.csa.get(), k_line, k_own],
    );
}

/// The greatest I²t by the device alone, from the lower current to the higher.
fn by_device(case: &Case<'_>, low: Through, high: f32) -> Option<f32> {
    if high.is_nan() {
        return None;
    }
    let high = Through::at(case, high);
    let low = if high.i < low.i { high } else { low };
    finite(low.up_to(case, high))
}

/// Fuses, and breakers of the types that limit energy.
fn limits_energy(device: &Device) -> bool {
    !matches!(
        device.family(),
        Family::Breaker(Curve::D) | Family::Rcbo(Curve::D)
    )
}

pub(crate) fn line<R: Recorder + ?Sized>(
    case: &Case<'_>,
    capacity: Outcome,
    breaking: Outcome,
    rec: &mut R,
) {
    let mut f = finding(
        case.place,
        Check::LineThermal,
        Rule::Adiabatic,
        Unit::SquareMm,
        Sense::AtMost,
    );
    f.assumed = case.here.source.assumed_max;
    let device = &case.circuit.device;
    let overload = capacity == Outcome::Pass;
    let deemed = overload && breaking == Outcome::Pass && limits_energy(device);
    // Below the current that disconnects in 5 s it is overload, not a fault.
    let quick = device
        .disconnecting_by(case.edge, Seconds::raw(5.0))
        .value();
    let quick = quick.map(|i| Through::at(case, i.get()));
    let mut before = crate::impedance::Pair::ZERO;
    let mut worst: Option<(Outcome, f32)> = None;
    for (index, (s, own)) in (0u8..).zip(case.circuit.sections.iter().zip(case.sections)) {
        let at_board = case.circuit.shape == Shape::Ring || s.part == Part::Spur;
        let begin = if at_board {
            crate::impedance::Pair::ZERO
        } else {
            before
        };
        let high = largest_along(case, begin).map(|i| at_most(case, i));
        let all = match (quick, high) {
            (Some(quick), Some(high)) => by_device(case, quick, high),
            _ => None,
        };
        let from = initial(case, s, own, own.operating);
        let k = k(
            s.material,
            from,
            s.insulation.final_temperature(s.csa).get(),
        );
        let needed = all.map(|e| sqrtf(e) / k).and_then(finite);
        let area = s.csa.get();
        if rec.wants_steps() {
            let mut spot = case.spot(Topic::LineThermal);
            spot.section = Some(index);
            note(
                rec,
                spot,
                Rule::K,
                k,
                Unit::KFactor,
                [
                    conductor::factor_of_k(s.material),
                    s.material.beta(),
                    from,
                    s.insulation.final_temperature(s.csa).get(),
                ],
            );
            if let (Some(e), Some(high)) = (all, high) {
                note(
                    rec,
                    spot,
                    Rule::EnergyNear,
                    e,
                    Unit::AmpSquaredSecond,
                    [quick.map_or(f32::NAN, |q| q.i).min(high), high],
                );
                note(
                    rec,
                    spot,
                    Rule::Adiabatic,
                    sqrtf(e) / k,
                    Unit::SquareMm,
                    [1.0, e, k],
                );
            }
        }
        let (outcome, rule, lacking) = match needed {
            Some(n) if outwards(Sense::AtMost, n) <= area => {
                (Outcome::Pass, Rule::Adiabatic, Lacking::empty())
            }
            _ if deemed => (Outcome::Pass, Rule::Deemed, Lacking::empty()),
            // Neither route: the bound is passed and the overload device does not cover it.
            Some(_) if !overload => (Outcome::Fail, Rule::Adiabatic, Lacking::empty()),
            Some(_) => (Outcome::CannotSay, Rule::Adiabatic, Lacking::LET_THROUGH),
            None if high.is_none() => (
                Outcome::CannotSay,
                Rule::Adiabatic,
                case.here.source.lacking_max,
            ),
            None => (Outcome::CannotSay, Rule::Adiabatic, Lacking::LET_THROUGH),
        };
        f.lacking |= lacking;
        let free = needed.map_or(f32::INFINITY, |n| area / n);
        if worst.is_none_or(|(o, r)| outcome > o || (outcome == o && free < r)) {
            worst = Some((outcome, free));
            f.outcome = outcome;
            f.rule = rule;
            f.value = if rule == Rule::Deemed { None } else { needed };
            f.limit = if rule == Rule::Deemed {
                None
            } else {
                Some(area)
            };
            f.section = Some(index);
        }
        if s.part == Part::Run {
            before = before + own.line;
        }
    }
    // The size is only to be held against a fault current that is known from above.
    if f.outcome == Outcome::Pass {
        f.lacking = Lacking::empty();
    }
    rec.finding(&f);
}

/// The largest current through the line conductor for a fault beyond `begin`. Line conductors alone are
/// counted on the way: the return path may be any.
fn largest_along(case: &Case<'_>, begin: crate::impedance::Pair) -> Option<f32> {
    if case.circuit.phase == crate::network::Phase::Three {
        let three = case.here.source.ik_three(case.here.profile, begin)?;
        let neutral = case.here.ik_neutral(begin)?;
        Some(larger(three, neutral))
    } else {
        let neutral = case.here.ik_neutral(begin)?;
        let earth = case.here.ik_earth(begin);
        Some(earth.map_or(neutral, |e| larger(neutral, e)))
    }
}

/// Needed size by the adiabatic formula, in mm²: √(I²t)/k.
///
/// # Errors
/// Where k has no value, see [`conductor::k`].
pub fn adiabatic(
    i2t: crate::quantity::AmpSquaredSeconds,
    material: Material,
    from: Celsius,
    to: Celsius,
) -> Result<SquareMm, crate::error::Error> {
    let k = conductor::k(material, from, to)?;
    Ok(SquareMm::raw(sqrtf(i2t.get()) / k))
}

#[cfg(test)]
mod tests;
