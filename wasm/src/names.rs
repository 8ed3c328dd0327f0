//! The names a job uses for choices, each with what it says to a person and what it is in core.

#![allow(missing_docs)] // the field names are those of the answer, which the page's types describe

use faultpath::cable::{Arrangement, Construction, Method};
use faultpath::conductor::{Insulation, Material};
use faultpath::device::{Curve, Family, RcdDelay, RcdType};
use faultpath::earthing::electrode::Soil;
use faultpath::earthing::options::Scheme;
use faultpath::earthing::situations::Situation;
use faultpath::network::{Enclosure, Part, Phase, Shape, Use};
use faultpath::profile::{DropBasis, LoadClass};
use faultpath::reading::polarity::{Polarity, Rotation};
use faultpath::reading::rcd::Wave;
use faultpath::supply::{Earthing, Origin, SupplyEarthing};

/// A list of choices. The names apart from the values: one reader then serves all lists.
pub struct List<T: 'static> {
    /// The name of each in the job.
    pub names: &'static [&'static str],
    /// What a person reads for each.
    #[cfg(feature = "words")]
    pub words: &'static [&'static str],
    /// What each is in core.
    pub values: &'static [T],
}

/// As it is handed about.
pub type Choices<T> = &'static List<T>;

macro_rules! choices {
    ($($name:literal, $words:literal => $value:expr;)*) => {
        &$crate::names::List {
            names: &[$($name),*],
            #[cfg(feature = "words")]
            words: &[$($words),*],
            values: &[$($value),*],
        }
    };
}
#[cfg(feature = "site")]
pub(crate) use choices;

impl<T: PartialEq> List<T> {
    /// Its name in a job.
    #[must_use]
    pub fn name_of(&self, value: T) -> &'static str {
        let found = self.values.iter().position(|v| *v == value);
        found
            .and_then(|i| self.names.get(i))
            .copied()
            .unwrap_or_default()
    }
}

pub const FAMILIES: Choices<Family> = choices! {
    "breaker-b", "Circuit-breaker type B (EN 60898)" => Family::Breaker(Curve::B);
    "breaker-c", "Circuit-breaker type C (EN 60898)" => Family::Breaker(Curve::C);
    "breaker-d", "Circuit-breaker type D (EN 60898)" => Family::Breaker(Curve::D);
    "rcbo-b", "RCBO type B (EN 61009)" => Family::Rcbo(Curve::B);
    "rcbo-c", "RCBO type C (EN 61009)" => Family::Rcbo(Curve::C);
    "rcbo-d", "RCBO type D (EN 61009)" => Family::Rcbo(Curve::D);
    "bs88-2", "Fuse BS 88-2 (gG)" => Family::Bs88_2;
    "bs88-3", "Fuse BS 88-3" => Family::Bs88_3;
    "bs3036", "Rewirable fuse BS 3036" => Family::Bs3036;
    "bs1361", "Fuse BS 1361 (withdrawn)" => Family::Bs1361;
    "bs1362", "Plug fuse BS 1362" => Family::Bs1362;
    "gg", "Fuse gG (IEC 60269, by its gates)" => Family::Gg;
};

pub const RCD_TYPES: Choices<RcdType> = choices! {
    "ac", "AC" => RcdType::Ac;
    "a", "A" => RcdType::A;
    "f", "F" => RcdType::F;
    "b", "B" => RcdType::B;
};

pub const DELAYS: Choices<RcdDelay> = choices! {
    "none", "No delay" => RcdDelay::None;
    "selective", "Selective (S)" => RcdDelay::Selective;
};

/// Of protective, earthing and bonding conductors.
pub const MATERIALS: Choices<Material> = choices! {
    "copper", "Copper" => Material::Copper;
    "aluminium", "Aluminium" => Material::Aluminium;
    "steel", "Steel" => Material::Steel;
};

/// Of line and neutral.
pub const LINE_MATERIALS: Choices<Material> = choices! {
    "copper", "Copper" => Material::Copper;
    "aluminium", "Aluminium" => Material::Aluminium;
};

/// Of the tables of k and β, which have the sheaths of old cables too. In no job.
#[cfg(feature = "site")]
pub const TABLE_MATERIALS: Choices<Material> = choices! {
    "copper", "Copper" => Material::Copper;
    "aluminium", "Aluminium" => Material::Aluminium;
    "steel", "Steel" => Material::Steel;
    "lead", "Lead" => Material::Lead;
};

pub const INSULATIONS: Choices<Insulation> = choices! {
    "thermoplastic-70", "Thermoplastic (PVC) 70 °C" => Insulation::Thermoplastic70;
    "thermoplastic-90", "Thermoplastic 90 °C" => Insulation::Thermoplastic90;
    "thermosetting-90", "Thermosetting (XLPE) 90 °C" => Insulation::Thermosetting90;
};

pub const CONSTRUCTIONS: Choices<Construction> = choices! {
    "single-cores", "Single-core cables" => Construction::SingleCores;
    "multicore", "Multicore cable" => Construction::Multicore;
    "armoured", "Steel-wire armoured cable" => Construction::Armoured;
    "flat-twin", "Flat twin with CPC" => Construction::FlatTwin;
};

pub const METHODS: Choices<Method> = choices! {
    "insulated-wall", "In conduit in an insulated wall (A)" => Method::InsulatedWall;
    "conduit", "In conduit or trunking on a wall (B)" => Method::Conduit;
    "clipped", "Clipped to a surface (C)" => Method::Clipped;
    "air", "In free air or on tray (E, F)" => Method::Air;
    "duct", "In a duct in the ground (D)" => Method::Duct;
    "ground", "Buried direct (D)" => Method::Ground;
    "ceiling-thin", "Above a ceiling, insulation to 100 mm (100)" => Method::CeilingThin;
    "ceiling-thick", "Above a ceiling, insulation over 100 mm (101)" => Method::CeilingThick;
    "stud-touching", "In an insulated stud wall, touching it (102)" => Method::StudTouching;
    "stud-apart", "In an insulated stud wall, not touching (103)" => Method::StudApart;
    "surrounded", "Surrounded by thermal insulation" => Method::Surrounded;
};

pub const PHASES: Choices<Phase> = choices! {
    "l1", "L1" => Phase::L1;
    "l2", "L2" => Phase::L2;
    "l3", "L3" => Phase::L3;
    "three", "Three-phase" => Phase::Three;
};

/// `true` where it alternates.
pub const CURRENTS: Choices<bool> = choices! {
    "ac", "a.c." => true;
    "dc", "d.c." => false;
};

/// `true` where the board has an electrode of its own.
pub const BOARD_EARTHINGS: Choices<bool> = choices! {
    "as-supply", "As the supply" => false;
    "own-electrode", "An electrode of its own" => true;
};

/// What a board is made of up to its RCDs.
pub const ENCLOSURES: Choices<Enclosure> = choices! {
    "metal", "Metal" => Enclosure::Metal;
    "insulated", "Class II or equivalent" => Enclosure::Insulated;
};

pub const PARTS: Choices<Part> = choices! {
    "run", "Part of the run" => Part::Run;
    "spur", "A spur" => Part::Spur;
};

pub const SHAPES: Choices<Shape> = choices! {
    "radial", "Radial" => Shape::Radial;
    "ring", "Ring" => Shape::Ring;
};

pub const USES: Choices<Use> = choices! {
    "sockets", "Socket-outlets" => Use::Sockets;
    "lighting", "Lighting" => Use::Lighting;
    "fixed", "Fixed equipment" => Use::Fixed;
    "distribution", "Feeds a board" => Use::Distribution;
};

pub const CLASSES: Choices<LoadClass> = choices! {
    "lighting", "Lighting" => LoadClass::Lighting;
    "heating", "Space heating" => LoadClass::Heating;
    "cooker", "Cooking" => LoadClass::Cooker;
    "motor", "Motor" => LoadClass::Motor;
    "water-instant", "Water heated as it flows" => LoadClass::WaterInstant;
    "water-storage", "Stored hot water" => LoadClass::WaterStorage;
    "floor-warming", "Floor warming" => LoadClass::FloorWarming;
    "sockets", "Socket-outlets" => LoadClass::Sockets;
    "stationary", "Stationary equipment" => LoadClass::Stationary;
    "other", "Other, in full" => LoadClass::Other;
};

pub const SUPPLY_EARTHINGS: Choices<SupplyEarthing> = choices! {
    "tn-s", "TN-S" => SupplyEarthing::Known(Earthing::TnS);
    "tn-c-s", "TN-C-S" => SupplyEarthing::Known(Earthing::TnCS);
    "tt", "TT" => SupplyEarthing::Known(Earthing::Tt);
    "not-known", "Can't be told" => SupplyEarthing::NotKnown;
};

pub const EARTHINGS: Choices<Earthing> = choices! {
    "tn-s", "TN-S" => Earthing::TnS;
    "tn-c-s", "TN-C-S" => Earthing::TnCS;
    "tt", "TT" => Earthing::Tt;
};

pub const ORIGINS: Choices<Origin> = choices! {
    "measured", "Measured here" => Origin::Measured;
    "declared", "Declared by the distributor" => Origin::Declared;
    "typical", "Typical figure" => Origin::Typical;
};

pub const DROP_BASES: Choices<DropBasis> = choices! {
    "full", "At full conductor temperature" => DropBasis::Full;
    "load", "At the temperature of the load" => DropBasis::Load;
};

/// Kinds of protective conductor: what core keeps of each comes of further fields.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum ProtectiveKind {
    Core,
    Separate,
    Armour,
    ArmourAndCore,
    Enclosure,
    None,
}

pub const PROTECTIVES: Choices<ProtectiveKind> = choices! {
    "core", "A core of the cable" => ProtectiveKind::Core;
    "separate", "A separate conductor" => ProtectiveKind::Separate;
    "armour", "The steel armour" => ProtectiveKind::Armour;
    "armour-and-core", "Armour and a core" => ProtectiveKind::ArmourAndCore;
    "enclosure", "Steel conduit or trunking" => ProtectiveKind::Enclosure;
    "none", "None (own electrode further on)" => ProtectiveKind::None;
};

/// Arrangements that need no number.
pub const ARRANGEMENTS: Choices<Arrangement> = choices! {
    "bunched", "Bunched or in one enclosure" => Arrangement::Bunched;
    "single-layer-wall", "One layer on a wall or floor" => Arrangement::SingleLayerWall;
    "single-layer-tray", "One layer on perforated tray" => Arrangement::SingleLayerTray;
    "ladder", "One layer on ladder or cleats" => Arrangement::Ladder;
    "touching", "In the ground, touching" => Arrangement::Touching;
    "gap-diameter", "In the ground, one diameter apart" => Arrangement::GapDiameter;
};

/// Where the fault level comes from; `None` is from Ze.
pub const LEVEL_ORIGINS: Choices<Option<Origin>> = choices! {
    "measured", "Measured here" => Some(Origin::Measured);
    "declared", "Declared by the distributor" => Some(Origin::Declared);
    "typical", "Typical figure" => Some(Origin::Typical);
    "from-ze", "From the measured Ze (TN-C-S)" => None;
};

// What core has the words for.

pub const SOILS: Choices<Soil> = choices! {
    "clay", "" => Soil::Clay;
    "sandy-clay", "" => Soil::SandyClay;
    "surface-soil", "" => Soil::SurfaceSoil;
    "moist-gravel", "" => Soil::MoistGravel;
    "dry-gravel", "" => Soil::DryGravel;
    "limestone", "" => Soil::Limestone;
    "sandstone", "" => Soil::Sandstone;
    "granite", "" => Soil::Granite;
    "concrete", "" => Soil::Concrete;
};
pub const SCHEMES: Choices<Scheme> = choices! {
    "extend-supply", "" => Scheme::ExtendSupply;
    "own-electrode", "" => Scheme::OwnElectrode;
    "extend-with-electrode", "" => Scheme::ExtendWithElectrode;
};
pub const SITUATIONS: Choices<Situation> = choices! {
    "caravan", "" => Situation::Caravan;
    "marina", "" => Situation::Marina;
    "fuel-station", "" => Situation::FuelStation;
    "construction-site", "" => Situation::ConstructionSite;
    "livestock", "" => Situation::Livestock;
    "horticulture", "" => Situation::Horticulture;
    "swimming-pool", "" => Situation::SwimmingPool;
    "hot-tub", "" => Situation::HotTub;
    "vehicle-charging", "" => Situation::VehicleCharging;
    "event", "" => Situation::Event;
    "mobile-unit", "" => Situation::MobileUnit;
    "mast", "" => Situation::Mast;
    "high-voltage", "" => Situation::HighVoltage;
    "metal-clad", "" => Situation::MetalClad;
    "timber", "" => Situation::Timber;
    "outdoors", "" => Situation::Outdoors;
};

/// Kinds of electrode: what core keeps of each comes of further fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ElectrodeKind {
    Rod,
    Rods,
    Plate,
    Tape,
    Wire,
    Foundation,
}

pub const ELECTRODES: Choices<ElectrodeKind> = choices! {
    "rod", "One rod" => ElectrodeKind::Rod;
    "rods", "Several rods" => ElectrodeKind::Rods;
    "plate", "A plate" => ElectrodeKind::Plate;
    "tape", "Tape, laid level" => ElectrodeKind::Tape;
    "wire", "Bare wire, laid level" => ElectrodeKind::Wire;
    "foundation", "Steel in a concrete foundation" => ElectrodeKind::Foundation;
};

/// How several rods stand; yes for the square.
pub const LAYOUTS: Choices<bool> = choices! {
    "line", "In a line" => false;
    "square", "Along a square" => true;
};

pub const POLARITIES: Choices<Polarity> = choices! {
    "right", "Every conductor where it belongs" => Polarity::Right;
    "line-neutral", "Line and neutral exchanged" => Polarity::LineNeutral;
    "line-protective", "Line and protective conductor exchanged" => Polarity::LineProtective;
    "neutral-protective", "Neutral and protective conductor exchanged" => Polarity::NeutralProtective;
    "switch-in-neutral", "A switch or device in the neutral" => Polarity::SwitchInNeutral;
    "lampholder", "Line on the outer contact of a lampholder" => Polarity::Lampholder;
};

pub const ROTATIONS: Choices<Rotation> = choices! {
    "forward", "L1, L2, L3" => Rotation::Forward;
    "backward", "L1, L3, L2" => Rotation::Backward;
};

pub const WAVES: Choices<Wave> = choices! {
    "sine", "Sine" => Wave::Sine;
    "half", "Half-wave" => Wave::Half;
    "smooth", "Smooth d.c." => Wave::Smooth;
};

/// How an electrode was tested; by three readings or by the loop.
pub const ELECTRODE_TESTS: Choices<bool> = choices! {
    "three-point", "Fall of potential, three readings" => true;
    "loop", "By the earth fault loop" => false;
};

/// How a volt drop was tested; by voltages or by impedances.
pub const VOLT_DROPS: Choices<bool> = choices! {
    "voltages", "By voltages" => true;
    "impedances", "By impedances" => false;
};
