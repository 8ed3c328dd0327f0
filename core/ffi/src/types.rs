//! The structs that cross the border: plain, every field a number of fixed width.

use crate::choices::{fp_outcome, fp_place, fp_sense};
use crate::told::{
    fp_check, fp_field, fp_meaning, fp_reading_rule, fp_reason, fp_rule, fp_test, fp_unit,
};

/// What a function has to say of itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
#[must_use]
pub enum fp_status {
    /// Done, and what was asked for is where the pointers say.
    Ok = 0,
    /// A pointer that may not be null is.
    Null = 1,
    /// A pointer is not aligned as its type has to be.
    Misaligned = 2,
    /// The memory was not made what it should be by the function that does so.
    NotMade = 3,
    /// An input was refused: which and why is in the fp_error.
    Refused = 4,
    /// There is no room for another one.
    Full = 5,
    /// There is no such board or circuit.
    NoSuchThing = 6,
    /// Nobody knows: the device's curve, a table or a standard has nothing there. Not a pass.
    NotKnown = 7,
}

/// Why an input was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct fp_error {
    /// Which field.
    pub field: fp_field,
    /// Why.
    pub reason: fp_reason,
    /// The section of the circuit, counted from 0; FP_NO_SECTION where it is in none.
    pub section: u8,
}

/// No section.
pub const FP_NO_SECTION: u8 = 255;

/// A figure that may not be known.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_optional {
    /// The figure; not looked at where it is not given.
    pub value: f32,
    /// 1 where it is given, else 0.
    pub given: u8,
}

/// Diversity allowance of one class of load.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_diversity {
    /// Up to here `first` holds, in A.
    pub first_amps: f32,
    /// Share of the first amperes.
    pub first: f32,
    /// Share of the rest.
    pub rest: f32,
    /// Added to each, in A.
    pub add: f32,
    /// Share of the largest.
    pub largest: f32,
    /// Share of the second largest.
    pub second: f32,
    /// Share of the others.
    pub others: f32,
}

/// National choices; fp_profile_uk or fp_profile_iec fills it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_profile {
    /// Voltage factor for the smallest fault current.
    pub cmin: f32,
    /// Voltage factor for the largest fault current.
    pub cmax: f32,
    /// Limit of volt drop for lighting, as a share of U0.
    pub drop_lighting: f32,
    /// Limit of volt drop for everything else, as a share of U0.
    pub drop_other: f32,
    /// Typical resistance of the electrode at the source, in Ω.
    pub source_electrode: f32,
    /// Conventional limit of touch voltage, in V.
    pub touch_voltage: f32,
    /// IΔn asked for as additional protection, in A.
    pub additional_protection: f32,
    /// Socket circuits up to this rating get additional protection, in A.
    pub sockets_up_to: f32,
    /// Allowances, in the order of fp_load_class.
    pub diversity: [fp_diversity; 10],
    /// fp_drop_basis
    pub drop_basis: u8,
}

/// An overcurrent protective device.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_device {
    /// Rated current In, in A: one that is made.
    pub rating: f32,
    /// Rated short-circuit capacity as marked, in A.
    pub breaking: fp_optional,
    /// The maker's let-through energy, in A²s.
    pub let_through: fp_optional,
    /// fp_family
    pub family: u8,
    /// 1 where it is marked with energy limiting class 3, else 0.
    pub class_3: u8,
}

/// A residual current device.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_rcd {
    /// IΔn, in A: one that is made.
    pub sensitivity: f32,
    /// fp_rcd_type
    pub kind: u8,
    /// fp_rcd_delay
    pub delay: u8,
}

/// A conductor on its own.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_conductor {
    /// Area, in mm².
    pub csa: f32,
    /// fp_material
    pub material: u8,
}

/// An earthing conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_earthing_conductor {
    /// The conductor.
    pub conductor: fp_conductor,
    /// 1 where it lies in the ground, else 0.
    pub buried: u8,
    /// 1 where it is protected against mechanical damage, else 0.
    pub mechanical: u8,
    /// 1 where it is protected against corrosion, else 0.
    pub corrosion: u8,
}

/// What there is at the origin.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_supply {
    /// Nominal line-to-earth voltage, in V.
    pub u0: f32,
    /// Ze, in Ω.
    pub ze: fp_optional,
    /// RA of the installation's own electrode, in Ω.
    pub ra: fp_optional,
    /// The stated fault level, in A; looked at for FP_FAULT_LEVEL_STATED only.
    pub fault_level_amps: f32,
    /// X/R of the supply.
    pub x_over_r: fp_optional,
    /// Area of the supply's neutral, in mm².
    pub neutral: fp_optional,
    /// Area of the line conductors at the origin, in mm².
    pub tails: fp_optional,
    /// The incoming device, where has_device is 1.
    pub device: fp_device,
    /// The earthing conductor, where has_earthing_conductor is 1.
    pub earthing_conductor: fp_earthing_conductor,
    /// Main protective bonding, where has_bonding is 1.
    pub bonding: fp_conductor,
    /// fp_phases
    pub phases: u8,
    /// fp_earthing
    pub earthing: u8,
    /// fp_origin of Ze; looked at where Ze is given.
    pub ze_origin: u8,
    /// fp_fault_level
    pub fault_level: u8,
    /// fp_origin of the stated fault level.
    pub fault_level_origin: u8,
    /// 1 or 0.
    pub has_device: u8,
    /// 1 or 0.
    pub has_earthing_conductor: u8,
    /// 1 or 0.
    pub has_bonding: u8,
    /// 1 where there are extraneous-conductive-parts, else 0.
    pub extraneous: u8,
}

/// A distribution board.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_board {
    /// Rated conditional short-circuit current of the assembly, in A.
    pub conditional: fp_optional,
    /// Demand as stated, in A.
    pub demand: fp_optional,
    /// RA of its own electrode, in Ω, where own_electrode is 1.
    pub ra: fp_optional,
    /// An RCD in front of all its circuits, where has_rcd is 1.
    pub rcd: fp_rcd,
    /// Main protective bonding, where has_bonding is 1.
    pub bonding: fp_conductor,
    /// Earthing conductor of its own electrode, where has_earthing_conductor is 1.
    pub earthing_conductor: fp_earthing_conductor,
    /// The circuit that feeds it, for FP_FEED_CIRCUIT.
    pub circuit: u16,
    /// fp_feed
    pub feed: u8,
    /// fp_enclosure; 0 where it was not said, which matters where an electrode is its earth.
    pub enclosure: u8,
    /// 1 where it is earthed by an electrode of its own, else 0: as what feeds it.
    pub own_electrode: u8,
    /// 1 or 0.
    pub has_rcd: u8,
    /// 1 or 0.
    pub has_bonding: u8,
    /// 1 or 0.
    pub has_earthing_conductor: u8,
    /// 1 where there are extraneous-conductive-parts, else 0.
    pub extraneous: u8,
}

/// How a length is laid.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_laying {
    /// Temperature of the air or ground, in °C.
    pub ambient: f32,
    /// Gap between buried circuits, in m, for FP_ARRANGEMENT_GAP.
    pub gap: f32,
    /// Thermal resistivity of the soil, in K·m/W.
    pub soil: fp_optional,
    /// Depth, in m.
    pub depth: fp_optional,
    /// Length in thermal insulation, in m.
    pub insulation_run: fp_optional,
    /// fp_method
    pub method: u8,
    /// Circuits in the group, this one included.
    pub grouped: u8,
    /// fp_arrangement
    pub arrangement: u8,
}

/// A length of one cable laid in one way.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_section {
    /// Length, in m.
    pub length: f32,
    /// Area of the line conductor, in mm².
    pub csa: f32,
    /// Area of the neutral, in mm², where it differs.
    pub neutral: fp_optional,
    /// A limit of temperature below the insulation's own, in °C.
    pub operating_limit: fp_optional,
    /// The protective conductor, for those that are one.
    pub protective_conductor: fp_conductor,
    /// Resistance of armour or enclosure at 20 °C, in Ω/km; not given: the standard's table (armour only).
    pub steel_resistance: fp_optional,
    /// Its area, in mm², if known.
    pub steel_area: fp_optional,
    /// How it is laid.
    pub laying: fp_laying,
    /// A fuse at the start of a spur, where has_spur_fuse is 1.
    pub spur_fuse: fp_device,
    /// fp_part
    pub part: u8,
    /// fp_material of line and neutral.
    pub material: u8,
    /// fp_insulation
    pub insulation: u8,
    /// fp_construction
    pub construction: u8,
    /// Cores of the cable.
    pub cores: u8,
    /// fp_protective
    pub protective: u8,
    /// 1 or 0.
    pub has_spur_fuse: u8,
}

/// A circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_circuit {
    /// Its sections, from the board outwards.
    pub sections: *const fp_section,
    /// Its overcurrent device.
    pub device: fp_device,
    /// An RCD of its own, that of an RCBO too, where has_rcd is 1.
    pub rcd: fp_rcd,
    /// Its load, in A or W; not looked at for FP_DEMAND_DERIVED.
    pub load: f32,
    /// Power factor of the load.
    pub power_factor: f32,
    /// The board it starts from.
    pub board: u16,
    /// How many sections.
    pub section_count: u8,
    /// fp_phase
    pub phase: u8,
    /// fp_shape
    pub shape: u8,
    /// fp_use
    pub purpose: u8,
    /// fp_demand
    pub demand: u8,
    /// fp_load_class
    pub load_class: u8,
    /// Points the load is spread over, 1: all at the end.
    pub points: u8,
    /// 1 or 0.
    pub has_rcd: u8,
    /// 1 where it feeds mobile equipment outdoors, else 0.
    pub outdoors: u8,
    /// 1 where it is in or passes through a room with a bath or shower, else 0.
    pub bath: u8,
    /// 1 where it is concealed in a wall at less than 50 mm without earthed metal, else 0.
    pub concealed: u8,
    /// 1 where it is in a dwelling, else 0.
    pub dwelling: u8,
}

/// One check at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_finding {
    /// The value, where it could be computed.
    pub value: fp_optional,
    /// The limit it was held against.
    pub limit: fp_optional,
    /// What is missing: FP_LACKING_...
    pub lacking: u32,
    /// What was taken for granted: FP_ASSUMED_...
    pub assumed: u16,
    /// Which board or circuit; 0 for the origin.
    pub id: u16,
    /// What the id counts.
    pub place: fp_place,
    /// Which check.
    pub check: fp_check,
    /// How it came out.
    pub outcome: fp_outcome,
    /// Unit of value and limit.
    pub unit: fp_unit,
    /// Which side of the limit is good.
    pub sense: fp_sense,
    /// The rule that decided.
    pub rule: fp_rule,
    /// The section that governs, counted from 0; or FP_NO_SECTION.
    pub section: u8,
    /// The fp_earthing the installation was judged as.
    pub earthing: u8,
}

/// Figures of a circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_figures {
    /// Design current, in A.
    pub ib: fp_optional,
    /// Smallest capacity of the run, in A.
    pub iz: fp_optional,
    /// R1 + R2 at 20 °C to the furthest point, in Ω.
    pub r1r2: fp_optional,
    /// Zs at the furthest point, hot, in Ω.
    pub zs: fp_optional,
    /// Smallest earth fault current, in A.
    pub fault_min: fp_optional,
    /// Largest prospective current at the device, in A.
    pub fault_max: fp_optional,
    /// Volt drop from the origin to the furthest point, the one that decides, in V.
    pub drop: fp_optional,
}

/// An instrument on one range.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_meter {
    /// Operating uncertainty as a share of the reading.
    pub share: f32,
    /// And as a number of digits.
    pub digits: f32,
    /// Step of the display.
    pub resolution: f32,
    /// Resistance of leads that were not nulled, in Ω; 0 where they were.
    pub lead: f32,
    /// Where its marked range begins.
    pub range_from: f32,
    /// Where it ends.
    pub range_to: fp_optional,
}

/// What a display shows.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_shown {
    /// The figure on the display.
    pub figure: f32,
    /// 1 where it is over range: more than the figure; else 0.
    pub above: u8,
}

/// A judged reading.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct fp_judged {
    /// The figure less the leads, or what was worked out of several.
    pub value: fp_optional,
    /// The smallest true value the display allows.
    pub low: fp_optional,
    /// The largest; none where it was over range.
    pub high: fp_optional,
    /// The limit, as it applies to the reading.
    pub limit: fp_optional,
    /// What the design expects at the temperature of the test.
    pub expected: fp_optional,
    /// What is missing: FP_READING_LACKING_...
    pub lacking: u32,
    /// What may be behind it: FP_SUSPECT_...
    pub suspects: u16,
    /// Which test.
    pub test: fp_test,
    /// How it came out.
    pub outcome: fp_outcome,
    /// What it means.
    pub meaning: fp_meaning,
    /// The rule.
    pub rule: fp_reading_rule,
    /// Unit of all of these.
    pub unit: fp_unit,
    /// Which side of the limit is good.
    pub sense: fp_sense,
}

/// Ze.
pub const FP_LACKING_ZE: u32 = 1;
/// RA.
pub const FP_LACKING_RA: u32 = 2;
/// The fault level at the origin.
pub const FP_LACKING_FAULT_LEVEL: u32 = 4;
/// The load of the circuit.
pub const FP_LACKING_LOAD: u32 = 8;
/// The rated short-circuit capacity of the device.
pub const FP_LACKING_BREAKING: u32 = 16;
/// The maker's let-through energy of the device.
pub const FP_LACKING_LET_THROUGH: u32 = 32;
/// The device's curve has no point there.
pub const FP_LACKING_CURVE: u32 = 64;
/// A protective conductor.
pub const FP_LACKING_PROTECTIVE: u32 = 128;
/// The area of the entered armour or enclosure.
pub const FP_LACKING_PROTECTIVE_AREA: u32 = 256;
/// The capacity of the cable as installed: the tables have no such case.
pub const FP_LACKING_CAPACITY: u32 = 512;
/// The incoming device.
pub const FP_LACKING_INCOMING: u32 = 1024;
/// The supply neutral's size.
pub const FP_LACKING_NEUTRAL: u32 = 2048;
/// The size of the line conductors at the origin.
pub const FP_LACKING_TAILS: u32 = 4096;
/// The earthing conductor.
pub const FP_LACKING_EARTHING_CONDUCTOR: u32 = 8192;
/// The bonding conductor.
pub const FP_LACKING_BONDING: u32 = 16384;
/// An RCD.
pub const FP_LACKING_RCD: u32 = 32768;
/// A limit for this voltage or system.
pub const FP_LACKING_LIMIT: u32 = 65536;
/// Something further up that can't be said either.
pub const FP_LACKING_UPSTREAM: u32 = 131072;
/// A circuit on this board whose load is not known.
pub const FP_LACKING_LOADS: u32 = 262144;
/// What a board is made of up to its RCDs.
pub const FP_LACKING_ENCLOSURE: u32 = 524288;
/// Ze is the typical or declared one, not measured here.
pub const FP_ASSUMED_ZE_NOT_MEASURED: u16 = 1;
/// The fault level is a typical or declared one.
pub const FP_ASSUMED_FAULT_LEVEL_NOT_MEASURED: u16 = 2;
/// The resistance of the source's electrode is the profile's typical one.
pub const FP_ASSUMED_SOURCE_ELECTRODE: u16 = 4;
/// The angle of the supply's impedance is not known; the worse end was taken.
pub const FP_ASSUMED_SUPPLY_ANGLE: u16 = 8;
/// RA was not given; the whole measured loop stands for it.
pub const FP_ASSUMED_RA_FROM_LOOP: u16 = 16;
/// A three-phase load was taken as balanced.
pub const FP_ASSUMED_BALANCED: u16 = 32;
/// Two times the line-neutral current stands for the three-phase one (common practice).
pub const FP_ASSUMED_DOUBLED: u16 = 64;
/// An RCD further up is counted.
pub const FP_ASSUMED_RCD_UPSTREAM: u16 = 128;
/// The assembly's conditional rating is counted, with the device upstream that it names.
pub const FP_ASSUMED_CONDITIONAL_RATING: u16 = 256;
/// Diversity allowances of the profile (common practice).
pub const FP_ASSUMED_DIVERSITY: u16 = 512;
/// All up to the terminals of the board's RCDs is of class II or equivalent insulation, as stated.
pub const FP_ASSUMED_INSULATED_FRONT: u16 = 1024;
/// The reading.
pub const FP_READING_LACKING_READING: u32 = 1;
/// The largest Zs: the device's curve or the time allowed.
pub const FP_READING_LACKING_LIMIT: u32 = 2;
/// The loop of the supply, Ze.
pub const FP_READING_LACKING_ZE: u32 = 4;
/// A protective conductor in the design.
pub const FP_READING_LACKING_PROTECTIVE: u32 = 8;
/// Resistance of the armour: not in the table, not entered.
pub const FP_READING_LACKING_ARMOUR: u32 = 16;
/// The rated short-circuit capacity of the device.
pub const FP_READING_LACKING_BREAKING: u32 = 32;
/// An RCD in the design.
pub const FP_READING_LACKING_RCD: u32 = 64;
/// The end-to-end readings of a ring.
pub const FP_READING_LACKING_ENDS: u32 = 128;
/// The cross-connected readings at the sockets.
pub const FP_READING_LACKING_SOCKETS: u32 = 256;
/// Each circuit alone.
pub const FP_READING_LACKING_EACH_CIRCUIT: u32 = 512;
/// The reading again with gear disconnected, or at 250 V.
pub const FP_READING_LACKING_WITHOUT_GEAR: u32 = 1024;
/// The phase sequence at the origin.
pub const FP_READING_LACKING_ORIGIN_SEQUENCE: u32 = 2048;
/// The design current.
pub const FP_READING_LACKING_DESIGN_CURRENT: u32 = 4096;
/// A time for this wave shape or multiple in the standards.
pub const FP_READING_LACKING_STANDARD: u32 = 8192;
/// The temperature of the conductors while they were tested.
pub const FP_READING_LACKING_AMBIENT: u32 = 16384;
/// What the instrument may err by.
pub const FP_READING_LACKING_ACCURACY: u32 = 32768;
/// Another metal path beside the protective conductor.
pub const FP_SUSPECT_PARALLEL_PATH: u16 = 1;
/// A loose or corroded joint.
pub const FP_SUSPECT_LOOSE_JOINT: u16 = 2;
/// The cable is longer than in the design.
pub const FP_SUSPECT_LONGER: u16 = 4;
/// The cable is shorter than in the design.
pub const FP_SUSPECT_SHORTER: u16 = 8;
/// A smaller conductor than in the design.
pub const FP_SUSPECT_SMALLER_SIZE: u16 = 16;
/// A larger conductor than in the design.
pub const FP_SUSPECT_LARGER_SIZE: u16 = 32;
/// The line conductor is the one.
pub const FP_SUSPECT_LINE: u16 = 64;
/// The protective conductor is the one.
pub const FP_SUSPECT_PROTECTIVE: u16 = 128;
/// The supply's part of the loop has changed, or was taken wrongly.
pub const FP_SUSPECT_SUPPLY: u16 = 256;
/// Leads that were not nulled, or a poor contact of the probes.
pub const FP_SUSPECT_LEADS: u16 = 512;
