//! The names a job uses for choices, each with what it says to a person and what it is in core.

#![allow(missing_docs)] // the field names are those of the answer, which the page's types describe

use faultpath::cable::{Construction, Method};
use faultpath::conductor::{Insulation, Material};
use faultpath::device::{Curve, Family, RcdDelay, RcdType};
use faultpath::network::{Phase, Shape, Use};
use faultpath::profile::{DropBasis, LoadClass};
use faultpath::supply::{Earthing, Origin, SupplyEarthing};

/// A list of choices: name in the job, words, value.
pub type Choices<T> = &'static [(&'static str, &'static str, T)];

/// What a person reads for a name; the name itself where there is none.
pub fn name_of<T: PartialEq>(choices: Choices<T>, value: T) -> &'static str {
    choices
        .iter()
        .find(|(_, _, v)| *v == value)
        .map_or("", |(name, _, _)| name)
}

pub const FAMILIES: Choices<Family> = &[
    (
        "breaker-b",
        "Circuit-breaker type B (EN 60898)",
        Family::Breaker(Curve::B),
    ),
    (
        "breaker-c",
        "Circuit-breaker type C (EN 60898)",
        Family::Breaker(Curve::C),
    ),
    (
        "breaker-d",
        "Circuit-breaker type D (EN 60898)",
        Family::Breaker(Curve::D),
    ),
    ("rcbo-b", "RCBO type B (EN 61009)", Family::Rcbo(Curve::B)),
    ("rcbo-c", "RCBO type C (EN 61009)", Family::Rcbo(Curve::C)),
    ("rcbo-d", "RCBO type D (EN 61009)", Family::Rcbo(Curve::D)),
    ("bs88-2", "Fuse BS 88-2 (gG)", Family::Bs88_2),
    ("bs88-3", "Fuse BS 88-3", Family::Bs88_3),
    ("bs3036", "Rewirable fuse BS 3036", Family::Bs3036),
    ("bs1361", "Fuse BS 1361 (withdrawn)", Family::Bs1361),
    ("bs1362", "Plug fuse BS 1362", Family::Bs1362),
    ("gg", "Fuse gG (IEC 60269, by its gates)", Family::Gg),
];

pub const RCD_TYPES: Choices<RcdType> = &[
    ("ac", "AC", RcdType::Ac),
    ("a", "A", RcdType::A),
    ("f", "F", RcdType::F),
    ("b", "B", RcdType::B),
];

pub const DELAYS: Choices<RcdDelay> = &[
    ("none", "No delay", RcdDelay::None),
    ("selective", "Selective (S)", RcdDelay::Selective),
];

pub const MATERIALS: Choices<Material> = &[
    ("copper", "Copper", Material::Copper),
    ("aluminium", "Aluminium", Material::Aluminium),
    ("steel", "Steel", Material::Steel),
    ("lead", "Lead", Material::Lead),
];

pub const INSULATIONS: Choices<Insulation> = &[
    (
        "thermoplastic-70",
        "Thermoplastic (PVC) 70 °C",
        Insulation::Thermoplastic70,
    ),
    (
        "thermoplastic-90",
        "Thermoplastic 90 °C",
        Insulation::Thermoplastic90,
    ),
    (
        "thermosetting-90",
        "Thermosetting (XLPE) 90 °C",
        Insulation::Thermosetting90,
    ),
];

pub const CONSTRUCTIONS: Choices<Construction> = &[
    (
        "single-cores",
        "Single-core cables",
        Construction::SingleCores,
    ),
    ("multicore", "Multicore cable", Construction::Multicore),
    (
        "armoured",
        "Steel-wire armoured cable",
        Construction::Armoured,
    ),
    ("flat-twin", "Flat twin with CPC", Construction::FlatTwin),
];

pub const METHODS: Choices<Method> = &[
    (
        "insulated-wall",
        "In conduit in an insulated wall (A)",
        Method::InsulatedWall,
    ),
    (
        "conduit",
        "In conduit or trunking on a wall (B)",
        Method::Conduit,
    ),
    ("clipped", "Clipped to a surface (C)", Method::Clipped),
    ("air", "In free air or on tray (E, F)", Method::Air),
    ("duct", "In a duct in the ground (D)", Method::Duct),
    ("ground", "Buried direct (D)", Method::Ground),
    (
        "ceiling-thin",
        "Above a ceiling, insulation to 100 mm (100)",
        Method::CeilingThin,
    ),
    (
        "ceiling-thick",
        "Above a ceiling, insulation over 100 mm (101)",
        Method::CeilingThick,
    ),
    (
        "stud-touching",
        "In an insulated stud wall, touching it (102)",
        Method::StudTouching,
    ),
    (
        "stud-apart",
        "In an insulated stud wall, not touching (103)",
        Method::StudApart,
    ),
    (
        "surrounded",
        "Surrounded by thermal insulation",
        Method::Surrounded,
    ),
];

pub const PHASES: Choices<Phase> = &[
    ("l1", "L1", Phase::L1),
    ("l2", "L2", Phase::L2),
    ("l3", "L3", Phase::L3),
    ("three", "Three-phase", Phase::Three),
];

pub const SHAPES: Choices<Shape> = &[
    ("radial", "Radial", Shape::Radial),
    ("ring", "Ring", Shape::Ring),
];

pub const USES: Choices<Use> = &[
    ("sockets", "Socket-outlets", Use::Sockets),
    ("lighting", "Lighting", Use::Lighting),
    ("fixed", "Fixed equipment", Use::Fixed),
    ("distribution", "Feeds a board", Use::Distribution),
];

pub const CLASSES: Choices<LoadClass> = &[
    ("lighting", "Lighting", LoadClass::Lighting),
    ("heating", "Space heating", LoadClass::Heating),
    ("cooker", "Cooking", LoadClass::Cooker),
    ("motor", "Motor", LoadClass::Motor),
    (
        "water-instant",
        "Water heated as it flows",
        LoadClass::WaterInstant,
    ),
    ("water-storage", "Stored hot water", LoadClass::WaterStorage),
    ("floor-warming", "Floor warming", LoadClass::FloorWarming),
    ("sockets", "Socket-outlets", LoadClass::Sockets),
    ("stationary", "Stationary equipment", LoadClass::Stationary),
    ("other", "Other, in full", LoadClass::Other),
];

pub const SUPPLY_EARTHINGS: Choices<SupplyEarthing> = &[
    ("tn-s", "TN-S", SupplyEarthing::Known(Earthing::TnS)),
    ("tn-c-s", "TN-C-S", SupplyEarthing::Known(Earthing::TnCS)),
    ("tt", "TT", SupplyEarthing::Known(Earthing::Tt)),
    ("not-known", "Can't be told", SupplyEarthing::NotKnown),
];

pub const EARTHINGS: Choices<Earthing> = &[
    ("tn-s", "TN-S", Earthing::TnS),
    ("tn-c-s", "TN-C-S", Earthing::TnCS),
    ("tt", "TT", Earthing::Tt),
];

pub const ORIGINS: Choices<Origin> = &[
    ("measured", "Measured here", Origin::Measured),
    ("declared", "Declared by the distributor", Origin::Declared),
    ("typical", "Typical figure", Origin::Typical),
];

pub const DROP_BASES: Choices<DropBasis> = &[
    ("full", "At full conductor temperature", DropBasis::Full),
    ("load", "At the temperature of the load", DropBasis::Load),
];

/// Kinds of protective conductor; the value is only a name, as each needs other fields.
pub const PROTECTIVES: Choices<&str> = &[
    ("core", "A core of the cable", "core"),
    ("separate", "A separate conductor", "separate"),
    ("armour", "The steel armour", "armour"),
    ("armour-and-core", "Armour and a core", "armour-and-core"),
    ("enclosure", "Steel conduit or trunking", "enclosure"),
    ("none", "None (own electrode further on)", "none"),
];

/// Arrangements that need no number.
pub const ARRANGEMENTS: Choices<faultpath::cable::Arrangement> = &[
    (
        "bunched",
        "Bunched or in one enclosure",
        faultpath::cable::Arrangement::Bunched,
    ),
    (
        "single-layer-wall",
        "One layer on a wall or floor",
        faultpath::cable::Arrangement::SingleLayerWall,
    ),
    (
        "single-layer-tray",
        "One layer on perforated tray",
        faultpath::cable::Arrangement::SingleLayerTray,
    ),
    (
        "ladder",
        "One layer on ladder or cleats",
        faultpath::cable::Arrangement::Ladder,
    ),
    (
        "touching",
        "In the ground, touching",
        faultpath::cable::Arrangement::Touching,
    ),
    (
        "gap-diameter",
        "In the ground, one diameter apart",
        faultpath::cable::Arrangement::GapDiameter,
    ),
];
