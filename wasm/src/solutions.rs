//! Answers of the solver, with the edit that each would be.

use crate::answer::shown;
use crate::names;
use crate::out::{Out, joined};
use crate::path;
use crate::read::Job;
use faultpath::device::{Device, Rcd};
use faultpath::network::{Circuit, CircuitId, Protective};
use faultpath::solve::{self, Change, Unsolved};
use faultpath::verdict::{Outcome, Unit};
use faultpath::words::{self, Rounding};

fn why(unsolved: Unsolved) -> String {
    match unsolved {
        Unsolved::NoSuchCircuit => "This circuit can't be read yet.".to_owned(),
        Unsolved::Blocked(check, outcome) => {
            let what = match outcome {
                Outcome::Fail => "does not pass",
                _ => "can't be said yet",
            };
            joined(&[
                "No value alone makes it pass: “",
                words::check(check),
                "” ",
                what,
                " whatever it is.",
            ])
        }
    }
}

fn measure(value: f32, unit: Unit, way: Rounding) -> String {
    shown(Some(value), unit, way)
}

/// One answer: its value and how it is said, or why there is none.
fn solution(unit: &'static str, found: Result<(f32, String), Unsolved>) -> Out {
    let (value, text) = match found {
        Ok((value, text)) => (Some(value), text),
        Err(unsolved) => (None, why(unsolved)),
    };
    Out::Fields(vec![
        ("value", value.into()),
        ("unit", unit.into()),
        ("text", text.into()),
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
        (v * 10.0).floor() / 10.0
    }
}

/// The number a person gives a section.
fn numbered(index: u8) -> String {
    let mut out = String::new();
    // Writing to a string can't fail.
    let _ = words::count(&mut out, u32::from(index) + 1);
    out
}

fn change_text(before: &Circuit, change: &Change) -> String {
    match change {
        Change::Csa(csa) => {
            let csa = measure(csa.get(), Unit::SquareMm, Rounding::Up);
            joined(&["Line conductors of ", &csa, "."])
        }
        Change::Device(d) => {
            let rating = measure(d.rating().get(), Unit::Ampere, Rounding::Nearest);
            joined(&[names::FAMILIES.shown(d.family()), ", ", &rating, "."])
        }
        Change::Rcd(r) => {
            let sensitivity = measure(r.sensitivity().get(), Unit::Ampere, Rounding::Nearest);
            let delay = names::DELAYS.shown(r.delay());
            joined(&[
                "An RCD of ",
                &sensitivity,
                " for this circuit: ",
                delay,
                ".",
            ])
        }
        Change::Length(index, length) => {
            let length = floor_to_tenth(length.get());
            let length = measure(length, Unit::Metre, Rounding::Down);
            let which = if before.sections.len() > 1 {
                joined(&["Section ", &numbered(*index)])
            } else {
                "The cable".to_owned()
            };
            joined(&[&which, " no longer than ", &length, "."])
        }
        Change::Ungrouped(index) => joined(&[
            "Section ",
            &numbered(*index),
            " kept apart from other circuits.",
        ]),
        Change::CoreBesideArmour(csa) => {
            let csa = measure(csa.get(), Unit::SquareMm, Rounding::Up);
            joined(&["A protective core of ", &csa, " beside the armour."])
        }
        _ => String::new(),
    }
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
        let nothing = || solution("", Err(Unsolved::NoSuchCircuit));
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
    let csa = solve::smallest_csa(house, earthing, id).map(|csa| {
        let csa = csa.get();
        (csa, measure(csa, Unit::SquareMm, Rounding::Up))
    });
    let length = solve::greatest_length(house, earthing, id).map(|(section, length)| {
        let length = floor_to_tenth(length.get());
        let text = measure(length, Unit::Metre, Rounding::Down);
        (
            length,
            joined(&[&text, " (section ", &numbered(section), ")"]),
        )
    });
    let rating = solve::largest_rating(house, earthing, id).map(|d| {
        let rating = d.rating().get();
        (rating, measure(rating, Unit::Ampere, Rounding::Down))
    });
    let mut found = Vec::new();
    solve::changes(house, earthing, id, |c| found.push(c));
    let mut changes = Vec::new();
    if let Some(before) = house.circuit(id) {
        for change in &found {
            let mut after = before.clone();
            solve::apply(&mut after, change);
            changes.push(Out::Fields(vec![
                ("text", change_text(before, change).into()),
                ("edits", Out::List(edits(index, before, &after, change))),
            ]));
        }
    }
    answers(
        solution("mm²", csa),
        solution("m", length),
        solution("A", rating),
        changes,
    )
}
