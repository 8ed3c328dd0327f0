//! What a caller chooses, as codes. 0 is never one.

use faultpath::cable::Method;
use faultpath::conductor::{Construction, Insulation, Material};
use faultpath::device::{Curve, Family, RcdDelay, RcdType};
use faultpath::network::{Enclosure, Part, Phase, Shape, Use};
use faultpath::profile::{DropBasis, LoadClass};
use faultpath::reading::rcd::{Multiple, Wave};
use faultpath::supply::{Earthing, Origin, Phases, SupplyEarthing};
use faultpath::verdict::{Outcome, Sense};

macro_rules! taken {
    ($code:ident: $($name:ident)*) => {
        impl $code {
            /// The choice of a code.
            pub(crate) const fn of(code: u8) -> Option<Self> {
                $(if code == Self::$name as u8 {
                    return Some(Self::$name);
                })*
                None
            }
        }
    };
    ($code:ident as $core:ty: $($name:ident => $value:expr;)*) => {
        taken!($code: $($name)*);
        impl $code {
            /// What it is in core.
            pub(crate) const fn core(self) -> $core {
                match self {
                    $(Self::$name => $value,)*
                }
            }
        }
    };
}

/// The standard a device is made to, with the instantaneous type of a breaker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_family {
    /// Circuit-breaker to EN 60898, type B.
    BreakerB = 1,
    /// The same, type C.
    BreakerC = 2,
    /// The same, type D.
    BreakerD = 3,
    /// RCBO to EN 61009, type B; its RCD is given with the circuit.
    RcboB = 4,
    /// The same, type C.
    RcboC = 5,
    /// The same, type D.
    RcboD = 6,
    /// Fuse to BS 88-2, systems E and G.
    Bs88Two = 7,
    /// Fuse to BS 88-3, system C.
    Bs88Three = 8,
    /// Semi-enclosed fuse to BS 3036.
    Bs3036 = 9,
    /// Cartridge fuse to BS 1361.
    Bs1361 = 10,
    /// Cartridge fuse to BS 1362.
    Bs1362 = 11,
    /// Any gG fuse to IEC 60269, by its gates.
    Gg = 12,
}

taken!(fp_family as Family:
    BreakerB => Family::Breaker(Curve::B);
    BreakerC => Family::Breaker(Curve::C);
    BreakerD => Family::Breaker(Curve::D);
    RcboB => Family::Rcbo(Curve::B);
    RcboC => Family::Rcbo(Curve::C);
    RcboD => Family::Rcbo(Curve::D);
    Bs88Two => Family::Bs88_2;
    Bs88Three => Family::Bs88_3;
    Bs3036 => Family::Bs3036;
    Bs1361 => Family::Bs1361;
    Bs1362 => Family::Bs1362;
    Gg => Family::Gg;
);

/// The wave shapes an RCD responds to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_rcd_type {
    /// Alternating current only.
    Ac = 1,
    /// Also pulsating direct current.
    A = 2,
    /// Also mixed frequencies.
    F = 3,
    /// Also smooth direct current.
    B = 4,
}

taken!(fp_rcd_type as RcdType:
    Ac => RcdType::Ac;
    A => RcdType::A;
    F => RcdType::F;
    B => RcdType::B;
);

/// Intended delay of an RCD.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_rcd_delay {
    /// General type.
    None = 1,
    /// Selective type S.
    Selective = 2,
}

taken!(fp_rcd_delay as RcdDelay:
    None => RcdDelay::None;
    Selective => RcdDelay::Selective;
);

/// Number of phases.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_phases {
    /// Line and neutral.
    Single = 1,
    /// Three lines and neutral.
    Three = 2,
}

taken!(fp_phases as Phases:
    Single => Phases::Single;
    Three => Phases::Three;
);

/// System of earthing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_earthing {
    /// Separate protective conductor from the source.
    TnS = 1,
    /// Combined neutral and protective conductor in the supply.
    TnCS = 2,
    /// Own electrode.
    Tt = 3,
    /// It can't be told: judged as TN-C-S and as TT, and the worse counts.
    NotKnown = 4,
}

taken!(fp_earthing as SupplyEarthing:
    TnS => SupplyEarthing::Known(Earthing::TnS);
    TnCS => SupplyEarthing::Known(Earthing::TnCS);
    Tt => SupplyEarthing::Known(Earthing::Tt);
    NotKnown => SupplyEarthing::NotKnown;
);

/// Where a figure of the supply comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_origin {
    /// Measured at this origin.
    Measured = 1,
    /// Declared by the distributor.
    Declared = 2,
    /// A typical figure.
    Typical = 3,
}

taken!(fp_origin as Origin:
    Measured => Origin::Measured;
    Declared => Origin::Declared;
    Typical => Origin::Typical;
);

/// Which volt drop decides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_drop_basis {
    /// Conductors at their full temperature.
    Full = 1,
    /// Conductors at the temperature of the load.
    Load = 2,
}

taken!(fp_drop_basis as DropBasis:
    Full => DropBasis::Full;
    Load => DropBasis::Load;
);

/// What a board is made of, up to its RCDs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_enclosure {
    /// There is metal that a fault in front of its RCDs can reach.
    Metal = 1,
    /// Class II or equivalent insulation up to the terminals of its RCDs.
    Insulated = 2,
}

taken!(fp_enclosure as Enclosure:
    Metal => Enclosure::Metal;
    Insulated => Enclosure::Insulated;
);

/// Which line a circuit is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_phase {
    /// L1
    L1 = 1,
    /// L2
    L2 = 2,
    /// L3
    L3 = 3,
    /// All three.
    Three = 4,
}

taken!(fp_phase as Phase:
    L1 => Phase::L1;
    L2 => Phase::L2;
    L3 => Phase::L3;
    Three => Phase::Three;
);

/// Shape of a circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_shape {
    /// From the board outwards.
    Radial = 1,
    /// Out and back; its sections give the whole loop.
    Ring = 2,
}

taken!(fp_shape as Shape:
    Radial => Shape::Radial;
    Ring => Shape::Ring;
);

/// What a circuit is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_use {
    /// Socket-outlets.
    Sockets = 1,
    /// Lighting.
    Lighting = 2,
    /// Fixed equipment.
    Fixed = 3,
    /// Feeds a board.
    Distribution = 4,
}

taken!(fp_use as Use:
    Sockets => Use::Sockets;
    Lighting => Use::Lighting;
    Fixed => Use::Fixed;
    Distribution => Use::Distribution;
);

/// Kind of load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_load_class {
    /// Lighting.
    Lighting = 1,
    /// Space heating.
    Heating = 2,
    /// Cooking appliances.
    Cooker = 3,
    /// Motors.
    Motor = 4,
    /// Water heated as it flows.
    WaterInstant = 5,
    /// Stored water under a thermostat.
    WaterStorage = 6,
    /// Floor warming.
    FloorWarming = 7,
    /// Socket-outlets.
    Sockets = 8,
    /// Stationary equipment.
    Stationary = 9,
    /// Anything else, taken in full.
    Other = 10,
}

taken!(fp_load_class as LoadClass:
    Lighting => LoadClass::Lighting;
    Heating => LoadClass::Heating;
    Cooker => LoadClass::Cooker;
    Motor => LoadClass::Motor;
    WaterInstant => LoadClass::WaterInstant;
    WaterStorage => LoadClass::WaterStorage;
    FloorWarming => LoadClass::FloorWarming;
    Sockets => LoadClass::Sockets;
    Stationary => LoadClass::Stationary;
    Other => LoadClass::Other;
);

/// Part of a circuit a section belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_part {
    /// The run, or the loop of a ring.
    Run = 1,
    /// A spur from the worst point of the run.
    Spur = 2,
}

taken!(fp_part as Part:
    Run => Part::Run;
    Spur => Part::Spur;
);

/// What a conductor is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_material {
    /// Copper.
    Copper = 1,
    /// Aluminium.
    Aluminium = 2,
    /// Steel.
    Steel = 3,
    /// Lead.
    Lead = 4,
}

taken!(fp_material as Material:
    Copper => Material::Copper;
    Aluminium => Material::Aluminium;
    Steel => Material::Steel;
    Lead => Material::Lead;
);

/// Insulation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_insulation {
    /// Thermoplastic, 70 °C.
    ThermoplasticSeventy = 1,
    /// Thermoplastic, 90 °C.
    ThermoplasticNinety = 2,
    /// Thermosetting, 90 °C.
    ThermosettingNinety = 3,
}

taken!(fp_insulation as Insulation:
    ThermoplasticSeventy => Insulation::Thermoplastic70;
    ThermoplasticNinety => Insulation::Thermoplastic90;
    ThermosettingNinety => Insulation::Thermosetting90;
);

/// How a cable is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_construction {
    /// Single-core cables.
    SingleCores = 1,
    /// Multicore cable, unarmoured.
    Multicore = 2,
    /// Multicore cable with steel wire armour.
    Armoured = 3,
    /// Flat twin cable with a protective conductor.
    FlatTwin = 4,
}

taken!(fp_construction as Construction:
    SingleCores => Construction::SingleCores;
    Multicore => Construction::Multicore;
    Armoured => Construction::Armoured;
    FlatTwin => Construction::FlatTwin;
);

/// Method of installation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_method {
    /// A: in conduit in a thermally insulated wall.
    InsulatedWall = 1,
    /// B: in conduit or trunking on a wall.
    Conduit = 2,
    /// C: clipped direct.
    Clipped = 3,
    /// E, F: in free air, on perforated tray, ladder, cleats.
    Air = 4,
    /// D1: in a duct in the ground.
    Duct = 5,
    /// D2: direct in the ground.
    Ground = 6,
    /// 100: above a ceiling, at most 100 mm of insulation.
    CeilingThin = 7,
    /// 101: the same, more than 100 mm.
    CeilingThick = 8,
    /// 102: in a stud wall, touching the inner surface.
    StudTouching = 9,
    /// 103: the same, not touching.
    StudApart = 10,
    /// Surrounded by thermal insulation for 0.5 m or more.
    Surrounded = 11,
}

taken!(fp_method as Method:
    InsulatedWall => Method::InsulatedWall;
    Conduit => Method::Conduit;
    Clipped => Method::Clipped;
    Air => Method::Air;
    Duct => Method::Duct;
    Ground => Method::Ground;
    CeilingThin => Method::CeilingThin;
    CeilingThick => Method::CeilingThick;
    StudTouching => Method::StudTouching;
    StudApart => Method::StudApart;
    Surrounded => Method::Surrounded;
);

/// Wave of a test current.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_wave {
    /// Sine.
    Sine = 1,
    /// Half-wave.
    Half = 2,
    /// Smooth direct current.
    Smooth = 3,
}

taken!(fp_wave as Wave:
    Sine => Wave::Sine;
    Half => Wave::Half;
    Smooth => Wave::Smooth;
);

/// Multiple of IΔn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_multiple {
    /// ½
    Half = 1,
    /// 1
    One = 2,
    /// 2
    Two = 3,
    /// 5
    Five = 4,
}

taken!(fp_multiple as Multiple:
    Half => Multiple::Half;
    One => Multiple::One;
    Two => Multiple::Two;
    Five => Multiple::Five;
);

/// Which side of a limit is good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_sense {
    /// The value may be the limit at most.
    AtMost = 1,
    /// The value must be the limit at least.
    AtLeast = 2,
}

taken!(fp_sense as Sense:
    AtMost => Sense::AtMost;
    AtLeast => Sense::AtLeast;
);

/// How the fault level at the origin is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_fault_level {
    /// Stated, in the field beside it.
    Stated = 1,
    /// To be taken from Ze (TN-C-S, measured).
    FromZe = 2,
    /// Not known.
    NotKnown = 3,
}

taken!(fp_fault_level: Stated FromZe NotKnown);

/// What feeds a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_feed {
    /// The origin of the supply.
    Origin = 1,
    /// The circuit named beside it.
    Circuit = 2,
}

taken!(fp_feed: Origin Circuit);

/// How the load of a circuit is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_demand {
    /// As a current, in A.
    Current = 1,
    /// As a power, in W.
    Power = 2,
    /// By what hangs on it; of a final circuit: not known.
    Derived = 3,
}

taken!(fp_demand: Current Power Derived);

/// What the protective conductor of a section is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_protective {
    /// A core of the same cable.
    Core = 1,
    /// A conductor of its own.
    Separate = 2,
    /// The armour: as given, else by the standard's table.
    Armour = 3,
    /// Armour and a core in parallel.
    ArmourAndCore = 4,
    /// Steel conduit or trunking, as given.
    Enclosure = 5,
    /// None.
    None = 6,
}

taken!(fp_protective: Core Separate Armour ArmourAndCore Enclosure None);

/// How grouped circuits lie to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_arrangement {
    /// Bunched.
    Bunched = 1,
    /// A single layer on a wall or floor.
    SingleLayerWall = 2,
    /// A single layer on perforated tray.
    SingleLayerTray = 3,
    /// A single layer on ladder or cleats.
    Ladder = 4,
    /// Buried, touching.
    Touching = 5,
    /// Buried, one cable diameter apart.
    GapDiameter = 6,
    /// Buried, as far apart as the field beside it says.
    Gap = 7,
}

taken!(fp_arrangement: Bunched SingleLayerWall SingleLayerTray Ladder Touching GapDiameter Gap);

/// What a circuit is, for its insulation test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_circuit_class {
    /// SELV or PELV.
    ExtraLow = 1,
    /// Anything else, by its nominal voltage.
    Nominal = 2,
}

taken!(fp_circuit_class: ExtraLow Nominal);

/// How a check or a reading came out. Only the first is a pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_outcome {
    /// The requirement is met.
    Pass = 1,
    /// Too near the limit for the instrument to tell.
    Doubtful = 2,
    /// Something is missing or outside what is known.
    CannotSay = 3,
    /// The requirement is not met.
    Fail = 4,
}

/// Where a finding belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_place {
    /// The origin.
    Supply = 1,
    /// A board.
    Board = 2,
    /// A circuit.
    Circuit = 3,
}

impl From<Outcome> for fp_outcome {
    fn from(outcome: Outcome) -> Self {
        match outcome {
            Outcome::Pass => fp_outcome::Pass,
            Outcome::Doubtful => fp_outcome::Doubtful,
            Outcome::CannotSay => fp_outcome::CannotSay,
            Outcome::Fail => fp_outcome::Fail,
        }
    }
}

impl From<Sense> for fp_sense {
    fn from(sense: Sense) -> Self {
        match sense {
            Sense::AtMost => fp_sense::AtMost,
            Sense::AtLeast => fp_sense::AtLeast,
        }
    }
}
