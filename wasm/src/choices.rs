//! What there is to choose from: only sizes and ratings that are made, with the words for each choice. Part of
//! the catalogue, as none of it hangs on a job.

use crate::names;
use crate::out::Out;
use crate::read;
use faultpath::conductor::{self, Material};
use faultpath::device::{Device, Rcd};
use faultpath::profile::{LoadClass, Profile};
use faultpath::reading::interval::{Accuracy, Function};
use faultpath::words::earthing_en as en;
use faultpath::words::reading_en;

fn profile(name: &'static str, p: &Profile) -> Out {
    let diversity = LoadClass::ALL.iter().map(|class| {
        let d = p.diversity(*class);
        let allowance = Out::Fields(vec![
            ("first_amps", d.first_amps.into()),
            ("first", d.first.into()),
            ("rest", d.rest.into()),
            ("add", d.add.into()),
            ("largest", d.largest.into()),
            ("second", d.second.into()),
            ("others", d.others.into()),
        ]);
        (names::CLASSES.name_of(*class), allowance)
    });
    Out::Fields(vec![
        ("name", name.into()),
        ("cmin", p.cmin.into()),
        ("cmax", p.cmax.into()),
        ("drop_lighting", p.drop_lighting.into()),
        ("drop_other", p.drop_other.into()),
        ("drop_basis", names::DROP_BASES.name_of(p.drop_basis).into()),
        ("source_electrode", p.source_electrode.into()),
        ("touch_voltage", p.touch_voltage.into()),
        ("diversity", Out::Fields(diversity.collect())),
    ])
}

/// Every list of choices, by the name the page asks for it.
const LISTS: [(&str, &[&str], &[&str]); 29] = [
    ("family", names::FAMILIES.names, names::FAMILIES.words),
    ("rcd", names::RCD_TYPES.names, names::RCD_TYPES.words),
    ("delay", names::DELAYS.names, names::DELAYS.words),
    ("material", names::MATERIALS.names, names::MATERIALS.words),
    (
        "insulation",
        names::INSULATIONS.names,
        names::INSULATIONS.words,
    ),
    (
        "construction",
        names::CONSTRUCTIONS.names,
        names::CONSTRUCTIONS.words,
    ),
    ("method", names::METHODS.names, names::METHODS.words),
    ("current", names::CURRENTS.names, names::CURRENTS.words),
    (
        "board_earthing",
        names::BOARD_EARTHINGS.names,
        names::BOARD_EARTHINGS.words,
    ),
    (
        "enclosure",
        names::ENCLOSURES.names,
        names::ENCLOSURES.words,
    ),
    ("part", names::PARTS.names, names::PARTS.words),
    ("phase", names::PHASES.names, names::PHASES.words),
    ("shape", names::SHAPES.names, names::SHAPES.words),
    ("use", names::USES.names, names::USES.words),
    ("class", names::CLASSES.names, names::CLASSES.words),
    (
        "supply_earthing",
        names::SUPPLY_EARTHINGS.names,
        names::SUPPLY_EARTHINGS.words,
    ),
    ("earthing", names::EARTHINGS.names, names::EARTHINGS.words),
    ("origin", names::ORIGINS.names, names::ORIGINS.words),
    (
        "level_origin",
        names::LEVEL_ORIGINS.names,
        names::LEVEL_ORIGINS.words,
    ),
    (
        "drop_basis",
        names::DROP_BASES.names,
        names::DROP_BASES.words,
    ),
    (
        "protective",
        names::PROTECTIVES.names,
        names::PROTECTIVES.words,
    ),
    (
        "arrangement",
        names::ARRANGEMENTS.names,
        names::ARRANGEMENTS.words,
    ),
    ("polarity", names::POLARITIES.names, names::POLARITIES.words),
    ("rotation", names::ROTATIONS.names, names::ROTATIONS.words),
    ("wave", names::WAVES.names, names::WAVES.words),
    (
        "electrode_test",
        names::ELECTRODE_TESTS.names,
        names::ELECTRODE_TESTS.words,
    ),
    (
        "volt_drop_test",
        names::VOLT_DROPS.names,
        names::VOLT_DROPS.words,
    ),
    (
        "electrode",
        names::ELECTRODES.names,
        names::ELECTRODES.words,
    ),
    ("layout", names::LAYOUTS.names, names::LAYOUTS.words),
];

/// What an instrument may be out where nothing else is entered, by its name in the job.
fn instruments() -> Out {
    let instrument = |(name, function)| {
        let accuracy = Accuracy::standard(function);
        let words = reading_en::uncertainty(function);
        let (from, to) = accuracy.range();
        let fields = vec![
            ("share", accuracy.share().into()),
            ("digits", accuracy.digits().into()),
            ("resolution", accuracy.resolution().into()),
            ("from", from.into()),
            ("to", to.into()),
            ("text", words.template.into()),
            ("source", words.source.into()),
            ("standing", words.standing.text().into()),
        ];
        (name, Out::Fields(fields))
    };
    Out::Fields(INSTRUMENTS.map(instrument).to_vec())
}

const INSTRUMENTS: [(&str, Function); 7] = [
    ("insulation", Function::Insulation),
    ("loop", Function::Loop),
    ("fault_current", Function::FaultCurrent),
    ("low_resistance", Function::LowResistance),
    ("earth_resistance", Function::EarthResistance),
    ("rcd_time", Function::RcdTime),
    ("rcd_current", Function::RcdCurrent),
];

/// Those whose words are core's.
fn of_core() -> [(&'static str, Out); 2] {
    let fields = |names: &'static [&'static str], words: &mut dyn Iterator<Item = &'static str>| {
        let words = names.iter().zip(words);
        Out::Fields(words.map(|(name, text)| (*name, Out::Word(text))).collect())
    };
    [
        (
            "soil",
            fields(
                names::SOILS.names,
                &mut names::SOILS.values.iter().map(|s| en::soil(*s)),
            ),
        ),
        (
            "situation",
            fields(
                names::SITUATIONS.names,
                &mut names::SITUATIONS
                    .values
                    .iter()
                    .map(|s| en::situation(*s).name),
            ),
        ),
    ]
}

/// Everything there is to choose from.
#[must_use]
#[allow(clippy::cast_possible_truncation)] // the counts are small
pub fn choices() -> Out {
    let sizes = |m| (names::MATERIALS.name_of(m), Out::from(conductor::made(m)));
    let families = names::FAMILIES.names.iter().zip(names::FAMILIES.values);
    let ratings = families.map(|(name, family)| (*name, Out::from(Device::ratings(*family))));
    let lists = LISTS.iter().map(|(list, names, words)| {
        let words = names
            .iter()
            .zip(*words)
            .map(|(name, text)| (*name, Out::Word(text)));
        (*list, Out::Fields(words.collect()))
    });
    let profiles = read::PROFILES
        .iter()
        .map(|(key, name, p)| (*key, profile(name, p)));
    Out::Fields(vec![
        (
            "csa",
            Out::Fields(vec![sizes(Material::Copper), sizes(Material::Aluminium)]),
        ),
        ("ratings", Out::Fields(ratings.collect())),
        ("sensitivities", Rcd::sensitivities().into()),
        ("names", Out::Fields(lists.chain(of_core()).collect())),
        ("instruments", instruments()),
        ("profiles", Out::Fields(profiles.collect())),
        ("boards", Out::Count(read::BOARDS as u32)),
        ("circuits", Out::Count(read::CIRCUITS as u32)),
        ("sections", Out::Count(faultpath::network::SECTIONS as u32)),
    ])
}
