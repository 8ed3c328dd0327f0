//! In ≤ Iz and I2 ≤ 1.45·Iz: BS 7671 433.1.1 (ii) and (iii), IEC 60364-4-43 433.1 (from memory).
//!
//! A ring of 30 or 32 A asks for 20 A of each conductor (BS 7671 433.1.204, from memory); a ring of any
//! other rating gets no relief. An unfused spur is held to the rated current or 20 A, a fused one to its fuse.

use super::{Case, finding, held};
use crate::facts::{SPUR_CURRENT, note};
use crate::network::{Part, Section, Shape};
use crate::verdict::{Check, Lacking, Outcome, Recorder, Rule, Sense, Topic, Unit};

/// Ratings a ring with 20 A conductors may have, in amperes.
const RING_RATINGS: [f32; 2] = [30.0, 32.0];
/// What each conductor of such a ring must carry, in amperes.
pub const RING_CAPACITY: f32 = 20.0;

/// What a section must be able to carry, and by which rule.
fn needed(case: &Case<'_>, section: &Section) -> (f32, Rule) {
    let rating = case.facts.rating;
    match (section.part, case.circuit.shape) {
        (Part::Spur, shape) => match section.spur_fuse {
            Some(fuse) => (fuse.rating().get().min(rating), Rule::SpurIz),
            None if shape == Shape::Ring => (rating.min(SPUR_CURRENT), Rule::SpurIz),
            None => (rating, Rule::InIz),
        },
        (Part::Run, Shape::Ring) if RING_RATINGS.contains(&rating) => (RING_CAPACITY, Rule::RingIz),
        (Part::Run, _) => (rating, Rule::InIz),
    }
}

pub(crate) fn check<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) -> Outcome {
    let mut f = finding(
        case.place,
        Check::Capacity,
        Rule::InIz,
        Unit::Ampere,
        Sense::AtMost,
    );
    f.outcome = Outcome::Pass;
    let mut worst = f32::INFINITY;
    for (index, (s, own)) in (0u8..).zip(case.circuit.sections.iter().zip(case.sections)) {
        let (need, rule) = needed(case, s);
        let Ok(capacity) = &own.capacity else {
            // A failing section elsewhere still fails; but without this one it is no pass.
            f.outcome = f.outcome.worse(Outcome::CannotSay);
            f.lacking |= Lacking::CAPACITY;
            if worst.is_infinite() {
                f.section = Some(index);
                f.value = Some(need);
                f.rule = rule;
            }
            continue;
        };
        let iz = capacity.effective.get();
        let mut spot = case.spot(Topic::CapacityCheck);
        spot.section = Some(index);
        note(rec, spot, rule, iz, Unit::Ampere, [need, iz]);
        f.outcome = f.outcome.worse(held(Sense::AtMost, need, iz));
        let ratio = iz / need;
        if ratio < worst {
            worst = ratio;
            f.section = Some(index);
            f.value = Some(need);
            f.limit = Some(iz);
            f.rule = rule;
        }
    }
    rec.finding(&f);
    f.outcome
}

/// I2 ≤ 1.45·Iz of the run of a radial circuit; a ring is settled by its own rule.
pub(crate) fn overload<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) {
    if case.circuit.shape == Shape::Ring {
        return;
    }
    let mut f = finding(
        case.place,
        Check::Overload,
        Rule::I2Iz,
        Unit::Ampere,
        Sense::AtMost,
    );
    let i2 = case.circuit.device.conventional_current().get();
    f.value = Some(i2);
    let mut least: Option<(u8, f32)> = None;
    for (index, (s, own)) in (0u8..).zip(case.circuit.sections.iter().zip(case.sections)) {
        if s.part == Part::Spur && s.spur_fuse.is_some() {
            continue;
        }
        match &own.capacity {
            Ok(c) => {
                let iz = c.effective.get();
                if least.is_none_or(|(_, l)| iz < l) {
                    least = Some((index, iz));
                }
            }
            Err(_) => {
                f.lacking = Lacking::CAPACITY;
                f.section = Some(index);
            }
        }
    }
    if let Some((index, iz)) = least {
        // As the device's own 1.45·In is made, so that In = Iz gives the same bits.
        let limit = iz * 145.0 / 100.0;
        note(
            rec,
            case.spot(Topic::OverloadCheck),
            Rule::I2,
            i2,
            Unit::Ampere,
            [i2 / case.facts.rating, case.facts.rating],
        );
        note(
            rec,
            case.spot(Topic::OverloadCheck),
            Rule::I2Iz,
            limit,
            Unit::Ampere,
            [i2, iz],
        );
        f.hold(i2, limit);
        f.section = Some(index);
        if !f.lacking.is_empty() {
            f.outcome = f.outcome.worse(Outcome::CannotSay);
        }
    }
    rec.finding(&f);
}
