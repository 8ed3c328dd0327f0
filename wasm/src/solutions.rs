//! Answers of the solver, with the edit that each would be.

#![allow(missing_docs)] // the field names are those of the answer, which the page's types describe

use crate::answer::check_of;
use crate::names;
use crate::read::Job;
use faultpath::device::{Device, Rcd};
use faultpath::network::{Circuit, CircuitId};
use faultpath::solve::{self, Change, Unsolved};
use faultpath::supply::Earthing;
use faultpath::verdict::{Outcome, Unit};
use faultpath::words::{self, Rounding};
use serde::Serialize;

/// One answer.
#[derive(Debug, Serialize)]
pub struct Solution {
    pub value: Option<f32>,
    pub unit: &'static str,
    pub text: String,
}

/// One edit that turns a fail into a pass.
#[derive(Debug, Serialize)]
pub struct ChangeAnswer {
    pub text: String,
    pub edits: Vec<Edit>,
}

/// A field and its new value.
#[derive(Debug, Serialize)]
pub struct Edit {
    pub path: String,
    pub value: EditValue,
}

/// What a field can become.
#[derive(Debug, Serialize)]
#[serde(untagged)]
pub enum EditValue {
    Number(f32),
    Text(&'static str),
    Device(DeviceValue),
    Rcd(RcdValue),
}

/// A device, as a job has it.
#[derive(Debug, Serialize)]
pub struct DeviceValue {
    pub family: &'static str,
    pub rating: f32,
    pub breaking: Option<f32>,
    pub let_through: Option<f32>,
    pub energy_class: Option<u8>,
}

/// An RCD, as a job has it.
#[derive(Debug, Serialize)]
pub struct RcdValue {
    pub sensitivity: f32,
    pub kind: &'static str,
    pub delay: &'static str,
}

/// All answers for a circuit.
#[derive(Debug, Serialize)]
pub struct Solutions {
    pub smallest_csa: Solution,
    pub greatest_length: Solution,
    pub largest_rating: Solution,
    pub changes: Vec<ChangeAnswer>,
}

fn why(unsolved: Unsolved) -> String {
    match unsolved {
        Unsolved::NoSuchCircuit => "This circuit can't be read yet.".to_owned(),
        Unsolved::Blocked(check, outcome) => {
            let what = match outcome {
                Outcome::Fail => "does not pass",
                _ => "can't be said yet",
            };
            format!(
                "No value alone makes it pass: “{}” {what} whatever it is.",
                words::check(check)
            )
        }
    }
}

fn measure(value: f32, unit: Unit, way: Rounding) -> String {
    let mut out = String::new();
    let _ = words::measure(&mut out, value, unit, 4, way);
    out
}

fn device_value(d: &Device) -> DeviceValue {
    DeviceValue {
        family: names::name_of(names::FAMILIES, d.family()),
        rating: d.rating().get(),
        // What the standard fixes is not written down as if it had been read off.
        breaking: d.marked_breaking().map(|a| a.get()),
        let_through: d.maker_let_through().map(|e| e.get()),
        energy_class: d.is_energy_class_3().then_some(3),
    }
}

fn rcd_value(r: &Rcd) -> RcdValue {
    RcdValue {
        sensitivity: r.sensitivity().get(),
        kind: names::name_of(names::RCD_TYPES, r.kind()),
        delay: names::name_of(names::DELAYS, r.delay()),
    }
}

/// The fields in which two circuits differ, of those a change may touch.
fn edits(index: u16, before: &Circuit, after: &Circuit, change: &Change) -> Vec<Edit> {
    use faultpath::network::Protective;
    let mut out = Vec::new();
    let mut edit = |path: String, value| out.push(Edit { path, value });
    match change {
        Change::Device(d) => edit(
            format!("circuits[{index}].device"),
            EditValue::Device(device_value(d)),
        ),
        Change::Rcd(r) => edit(
            format!("circuits[{index}].rcd"),
            EditValue::Rcd(rcd_value(r)),
        ),
        _ => {
            for (n, (b, a)) in before.sections.iter().zip(&after.sections).enumerate() {
                let at = |key: &str| format!("circuits[{index}].sections[{n}].{key}");
                if b.csa != a.csa {
                    edit(at("csa"), EditValue::Number(a.csa.get()));
                }
                if b.neutral != a.neutral {
                    if let Some(c) = a.neutral {
                        edit(at("neutral_csa"), EditValue::Number(c.get()));
                    }
                }
                if b.length != a.length {
                    // Rounded down to what a person measures; shorter still passes.
                    edit(
                        at("length"),
                        EditValue::Number(floor_to_tenth(a.length.get())),
                    );
                }
                if b.laying.grouped != a.laying.grouped {
                    edit(
                        at("grouped"),
                        EditValue::Number(f32::from(a.laying.grouped)),
                    );
                }
                if b.protective != a.protective {
                    match a.protective {
                        Protective::Core(c) => {
                            edit(at("protective.csa"), EditValue::Number(c.csa.get()));
                        }
                        Protective::ArmourAndCore(_, c) => {
                            if !matches!(b.protective, Protective::ArmourAndCore(..)) {
                                edit(at("protective.kind"), EditValue::Text("armour-and-core"));
                                edit(
                                    at("protective.material"),
                                    EditValue::Text(names::name_of(names::MATERIALS, c.material)),
                                );
                            }
                            edit(at("protective.csa"), EditValue::Number(c.csa.get()));
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

fn change_text(before: &Circuit, change: &Change) -> String {
    match change {
        Change::Csa(csa) => {
            format!(
                "Line conductors of {}.",
                measure(csa.get(), Unit::SquareMm, Rounding::Up)
            )
        }
        Change::Device(d) => {
            let family = names::FAMILIES
                .iter()
                .find(|(_, _, f)| *f == d.family())
                .map_or("", |(_, words, _)| words);
            format!(
                "{family}, {}.",
                measure(d.rating().get(), Unit::Ampere, Rounding::Nearest)
            )
        }
        Change::Rcd(r) => {
            let delay = names::DELAYS
                .iter()
                .find(|(_, _, d)| *d == r.delay())
                .map_or("", |(_, words, _)| words);
            format!(
                "An RCD of {} for this circuit: {}.",
                measure(r.sensitivity().get(), Unit::Ampere, Rounding::Nearest),
                delay
            )
        }
        Change::Length(index, length) => {
            let all = before.sections.len();
            let which = if all > 1 {
                format!("Section {} ", u32::from(*index) + 1)
            } else {
                "The cable ".to_owned()
            };
            format!(
                "{which}no longer than {}.",
                measure(floor_to_tenth(length.get()), Unit::Metre, Rounding::Down)
            )
        }
        Change::Ungrouped(index) => {
            format!(
                "Section {} kept apart from other circuits.",
                u32::from(*index) + 1
            )
        }
        Change::CoreBesideArmour(csa) => format!(
            "A protective core of {} beside the armour.",
            measure(csa.get(), Unit::SquareMm, Rounding::Up)
        ),
        _ => String::new(),
    }
}

/// Answers for one circuit.
#[must_use]
pub fn solve(job: &mut Job, judgement: usize, circuit: &str) -> Solutions {
    let index = job
        .circuits
        .iter()
        .position(|n| n == circuit)
        .and_then(|i| u16::try_from(i).ok());
    let nothing = || Solution {
        value: None,
        unit: "",
        text: why(Unsolved::NoSuchCircuit),
    };
    let unread = || Solutions {
        smallest_csa: nothing(),
        greatest_length: nothing(),
        largest_rating: nothing(),
        changes: Vec::new(),
    };
    let (Some(index), Some(house)) = (index, job.house.as_deref_mut()) else {
        return unread();
    };
    let id = CircuitId(index);
    let Some(earthing): Option<Earthing> = house.supply.earthing.readings().get(judgement).copied()
    else {
        return unread();
    };
    let smallest_csa = match solve::smallest_csa(house, earthing, id) {
        Ok(csa) => Solution {
            value: Some(csa.get()),
            unit: "mm²",
            text: measure(csa.get(), Unit::SquareMm, Rounding::Up),
        },
        Err(e) => Solution {
            value: None,
            unit: "mm²",
            text: why(e),
        },
    };
    let greatest_length = match solve::greatest_length(house, earthing, id) {
        Ok((section, length)) => Solution {
            value: Some(floor_to_tenth(length.get())),
            unit: "m",
            text: format!(
                "{} (section {})",
                measure(floor_to_tenth(length.get()), Unit::Metre, Rounding::Down),
                u32::from(section) + 1
            ),
        },
        Err(e) => Solution {
            value: None,
            unit: "m",
            text: why(e),
        },
    };
    let largest_rating = match solve::largest_rating(house, earthing, id) {
        Ok(d) => Solution {
            value: Some(d.rating().get()),
            unit: "A",
            text: measure(d.rating().get(), Unit::Ampere, Rounding::Down),
        },
        Err(e) => Solution {
            value: None,
            unit: "A",
            text: why(e),
        },
    };
    let mut found = Vec::new();
    solve::changes(house, earthing, id, |c| found.push(c));
    let before = house.circuit(id).cloned();
    let changes = before.map_or_else(Vec::new, |before| {
        found
            .iter()
            .map(|change| {
                let mut after = before.clone();
                solve::apply(&mut after, change);
                ChangeAnswer {
                    text: change_text(&before, change),
                    edits: edits(index, &before, &after, change),
                }
            })
            .collect()
    });
    Solutions {
        smallest_csa,
        greatest_length,
        largest_rating,
        changes,
    }
}

/// Whether a check is known by this name.
#[must_use]
pub fn is_check(name: &str) -> bool {
    check_of(name).is_some()
}
