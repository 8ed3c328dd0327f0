//! What there is to choose from: only sizes and ratings that are made, with the words for each choice.

#![allow(missing_docs)] // the field names are those of the answer, which the page's types describe

use crate::names::{self, Choices};
use crate::read;
use faultpath::conductor::{self, Material};
use faultpath::device::{Device, Rcd};
use faultpath::profile::{LoadClass, Profile};
use serde::Serialize;
use serde::ser::{SerializeMap, Serializer};

/// Named values in a fixed order.
struct Pairs<T>(Vec<(&'static str, T)>);

impl<T: Serialize> Serialize for Pairs<T> {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        let mut map = s.serialize_map(Some(self.0.len()))?;
        for (name, value) in &self.0 {
            map.serialize_entry(name, value)?;
        }
        map.end()
    }
}

impl<T> FromIterator<(&'static str, T)> for Pairs<T> {
    fn from_iter<I: IntoIterator<Item = (&'static str, T)>>(items: I) -> Self {
        Self(items.into_iter().collect())
    }
}

type Names = Pairs<&'static str>;

/// Everything there is to choose from.
#[derive(Serialize)]
pub struct ChoicesAnswer {
    csa: Pairs<&'static [f32]>,
    ratings: Pairs<&'static [f32]>,
    sensitivities: &'static [f32],
    names: Pairs<Names>,
    profiles: Pairs<ProfileAnswer>,
    boards: usize,
    circuits: usize,
    sections: usize,
}

#[derive(Serialize)]
struct DiversityAnswer {
    first_amps: f32,
    first: f32,
    rest: f32,
    add: f32,
    largest: f32,
    second: f32,
    others: f32,
}

#[derive(Serialize)]
struct ProfileAnswer {
    name: &'static str,
    cmin: f32,
    cmax: f32,
    drop_lighting: f32,
    drop_other: f32,
    drop_basis: &'static str,
    source_electrode: f32,
    touch_voltage: f32,
    diversity: Pairs<DiversityAnswer>,
}

fn profile(name: &'static str, p: &Profile) -> ProfileAnswer {
    ProfileAnswer {
        name,
        cmin: p.cmin,
        cmax: p.cmax,
        drop_lighting: p.drop_lighting,
        drop_other: p.drop_other,
        drop_basis: read::drop_basis_name(p.drop_basis),
        source_electrode: p.source_electrode,
        touch_voltage: p.touch_voltage,
        diversity: LoadClass::ALL
            .iter()
            .map(|class| {
                let d = p.diversity(*class);
                (
                    names::name_of(names::CLASSES, *class),
                    DiversityAnswer {
                        first_amps: d.first_amps,
                        first: d.first,
                        rest: d.rest,
                        add: d.add,
                        largest: d.largest,
                        second: d.second,
                        others: d.others,
                    },
                )
            })
            .collect(),
    }
}

fn all<T>(choices: Choices<T>) -> Names {
    choices
        .iter()
        .map(|(name, words, _)| (*name, *words))
        .collect()
}

/// Everything there is to choose from.
#[must_use]
pub fn choices() -> ChoicesAnswer {
    ChoicesAnswer {
        csa: [Material::Copper, Material::Aluminium]
            .into_iter()
            .map(|m| (names::name_of(names::MATERIALS, m), conductor::made(m)))
            .collect(),
        ratings: names::FAMILIES
            .iter()
            .map(|(name, _, family)| (*name, Device::ratings(*family)))
            .collect(),
        sensitivities: Rcd::sensitivities(),
        names: [
            ("family", all(names::FAMILIES)),
            ("rcd", all(names::RCD_TYPES)),
            ("delay", all(names::DELAYS)),
            ("material", all(names::MATERIALS)),
            ("insulation", all(names::INSULATIONS)),
            ("construction", all(names::CONSTRUCTIONS)),
            ("method", all(names::METHODS)),
            ("phase", all(names::PHASES)),
            ("shape", all(names::SHAPES)),
            ("use", all(names::USES)),
            ("class", all(names::CLASSES)),
            ("supply_earthing", all(names::SUPPLY_EARTHINGS)),
            ("earthing", all(names::EARTHINGS)),
            ("origin", all(names::ORIGINS)),
            ("level_origin", all(read::level_origins())),
            ("drop_basis", all(names::DROP_BASES)),
            ("protective", all(names::PROTECTIVES)),
            ("arrangement", all(names::ARRANGEMENTS)),
        ]
        .into_iter()
        .collect(),
        profiles: read::PROFILES
            .iter()
            .map(|(key, name, p)| (*key, profile(name, p)))
            .collect(),
        boards: read::BOARDS,
        circuits: read::CIRCUITS,
        sections: faultpath::network::SECTIONS,
    }
}
