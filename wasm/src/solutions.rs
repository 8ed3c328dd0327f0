//! Answers of the solver, with the edit that each would be.

use crate::answer::{CHECKS, name_in, outcome_name, shown};
use crate::names;
use crate::out::Out;
use crate::path;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read::Job;
use faultpath::device::{Device, Rcd};
use faultpath::network::{Circuit, CircuitId, Protective};
use faultpath::solve::{self, Change, Unsolved};
use faultpath::verdict::Unit;
use faultpath::words::Rounding;

/// What a search found: a value, how it is shown, and in which section it is.
struct Found {
    value: f32,
    way: Rounding,
    section: Option<u8>,
}

/// One answer, or what no value of it alone makes pass.
fn solution(unit: Unit, found: Result<Found, Unsolved>) -> Out {
    let (value, way, section) = match &found {
        Ok(f) => (Some(f.value), f.way, f.section),
        Err(_) => (None, Rounding::Nearest, None),
    };
    let blocked = match found {
        Err(Unsolved::Blocked(check, outcome)) => Some((check, outcome)),
        _ => None,
    };
    let check = blocked.map(|(check, _)| name_in(&CHECKS, check));
    let outcome = blocked.map(|(_, outcome)| outcome_name(outcome));
    Out::Fields(vec![
        ("value", value.into()),
        ("unit", (unit as u8).into()),
        ("shown", shown(value, unit, way)),
        ("section", section.into()),
        ("check", check.into()),
        ("outcome", outcome.into()),
    ])
}

/// A device, as a job has it.
fn device_value(d: &Device) -> Out {
    Out::Fields(vec![
        ("family", names::FAMILIES.name_of(d.family()).into()),
        ("rating", d.rating().get().into()),
        // What the standard fixes is not written down as if it had been read off.
        ("breaking", d.marked_breaking().map(|a| a.get()).into()),
        ("let_through", d.maker_let_through().map(|e| e.get()).into()),
        ("energy_class", d.is_energy_class_3().then_some(3u8).into()),
    ])
}

/// An RCD, as a job has it.
fn rcd_value(r: &Rcd) -> Out {
    Out::Fields(vec![
        ("sensitivity", r.sensitivity().get().into()),
        ("kind", names::RCD_TYPES.name_of(r.kind()).into()),
        ("delay", names::DELAYS.name_of(r.delay()).into()),
    ])
}

/// The fields in which two circuits differ, of those a change may touch.
fn edits(index: u16, before: &Circuit, after: &Circuit, change: &Change) -> Vec<Out> {
    let mut out = Vec::new();
    let mut edit = |path: String, value: Out| {
        out.push(Out::Fields(vec![("path", path.into()), ("value", value)]));
    };
    match change {
        Change::Device(d) => edit(path::of_circuit(index, "device"), device_value(d)),
        Change::Rcd(r) => edit(path::of_circuit(index, "rcd"), rcd_value(r)),
        _ => {
            for (n, (b, a)) in (0u8..).zip(before.sections.iter().zip(&after.sections)) {
                let mut edit = |key: &str, value: Out| edit(path::of_section(index, n, key), value);
                if b.csa != a.csa {
                    edit("csa", a.csa.get().into());
                }
                if b.neutral != a.neutral {
                    if let Some(c) = a.neutral {
                        edit("neutral_csa", c.get().into());
                    }
                }
                if b.length != a.length {
                    // Rounded down to what a person measures; shorter still passes.
                    edit("length", floor_to_tenth(a.length.get()).into());
                }
                if b.laying.grouped != a.laying.grouped {
                    edit("grouped", f32::from(a.laying.grouped).into());
                }
                if b.protective != a.protective {
                    match a.protective {
                        Protective::Core(c) => edit("protective.csa", c.csa.get().into()),
                        Protective::ArmourAndCore(_, c) => {
                            if !matches!(b.protective, Protective::ArmourAndCore(..)) {
                                edit("protective.kind", "armour-and-core".into());
                                let material = names::MATERIALS.name_of(c.material);
                                edit("protective.material", material.into());
                            }
                            edit("protective.csa", c.csa.get().into());
                        }
                        _ => {}
                    }
                }
            }
        }
    }
    out
}

fn floor_to_tenth(v: f32) -> f32 {
    if v < 0.1 {
        v
    } else {
        libm::floorf(v * 10.0) / 10.0
    }
}

/// What a change is, for the sentence about it.
fn change_answer(before: &Circuit, change: &Change, edits: Vec<Out>) -> Out {
    use Rounding::{Down, Nearest, Up};
    let mut section = None;
    let mut family = None;
    let mut delay = None;
    let (kind, value, unit, way) = match change {
        Change::Csa(csa) => ("csa", Some(csa.get()), Unit::SquareMm, Up),
        Change::Device(d) => {
            family = Some(names::FAMILIES.name_of(d.family()));
            ("device", Some(d.rating().get()), Unit::Ampere, Nearest)
        }
        Change::Rcd(r) => {
            delay = Some(names::DELAYS.name_of(r.delay()));
            ("rcd", Some(r.sensitivity().get()), Unit::Ampere, Nearest)
        }
        Change::Length(index, length) => {
            let mut kind = "length";
            if before.sections.len() > 1 {
                section = Some(*index);
                kind = "section-length";
            }
            let length = floor_to_tenth(length.get());
            (kind, Some(length), Unit::Metre, Down)
        }
        Change::Ungrouped(index) => {
            section = Some(*index);
            ("ungrouped", None, Unit::Factor, Nearest)
        }
        Change::CoreBesideArmour(csa) => ("core", Some(csa.get()), Unit::SquareMm, Up),
        _ => ("", None, Unit::Factor, Nearest),
    };
    Out::Fields(vec![
        ("change", kind.into()),
        ("shown", shown(value, unit, way)),
        ("unit", (unit as u8).into()),
        ("section", section.into()),
        ("family", family.into()),
        ("delay", delay.into()),
        ("edits", Out::List(edits)),
    ])
}

fn answers(csa: Out, length: Out, rating: Out, changes: Vec<Out>) -> Out {
    Out::Fields(vec![
        ("smallest_csa", csa),
        ("greatest_length", length),
        ("largest_rating", rating),
        ("changes", Out::List(changes)),
    ])
}

/// Answers for one circuit.
#[must_use]
pub fn solve(job: &mut Job<'_>, judgement: usize, circuit: &str) -> Out {
    let unread = || {
        let nothing = || solution(Unit::Factor, Err(Unsolved::NoSuchCircuit));
        answers(nothing(), nothing(), nothing(), Vec::new())
    };
    let index = job
        .circuits
        .iter()
        .position(|n| *n == circuit)
        .and_then(|i| u16::try_from(i).ok());
    let earthing = job.reading(judgement).map(|(_, earthing)| earthing);
    let (Some(index), Some(earthing), Some(house)) = (index, earthing, job.house.as_deref_mut())
    else {
        return unread();
    };
    let id = CircuitId(index);
    let csa = solve::smallest_csa(house, earthing, id).map(|csa| Found {
        value: csa.get(),
        way: Rounding::Up,
        section: None,
    });
    let length = solve::greatest_length(house, earthing, id).map(|(section, length)| Found {
        value: floor_to_tenth(length.get()),
        way: Rounding::Down,
        section: Some(section),
    });
    let rating = solve::largest_rating(house, earthing, id).map(|d| Found {
        value: d.rating().get(),
        way: Rounding::Down,
        section: None,
    });
    let mut found = Vec::new();
    solve::changes(house, earthing, id, |c| found.push(c));
    let mut changes = Vec::new();
    if let Some(before) = house.circuit(id) {
        for change in &found {
            let mut after = before.clone();
            solve::apply(&mut after, change);
            let edits = edits(index, before, &after, change);
            changes.push(change_answer(before, change, edits));
        }
    }
    answers(
        solution(Unit::SquareMm, csa),
        solution(Unit::Metre, length),
        solution(Unit::Ampere, rating),
        changes,
    )
}
