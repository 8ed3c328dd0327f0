//! The English words.

use super::{RuleWords, Standing};
use crate::error::{Error, Field, Reason};
use crate::verdict::{Assumed, Check, Figure, Lacking, Outcome, Rule};

const fn words(
    symbol: &'static str,
    name: &'static str,
    template: &'static str,
    source: &'static str,
    standing: Standing,
) -> RuleWords {
    RuleWords {
        symbol,
        name,
        template,
        source,
        standing,
    }
}

/// The words of a rule.
#[must_use]
pub const fn rule(rule: Rule) -> RuleWords {
    use Standing::{CommonPractice as Practice, FromMemory as Memory, Own, Published};
    match rule {
        Rule::IbSingle => words(
            "Ib",
            "design current",
            "{0:P} / ({1:U0} · {2:cosφ})",
            "definition of power",
            Own,
        ),
        Rule::IbThree => words(
            "Ib",
            "design current",
            "{0:P} / (3 · {1:U0} · {2:cosφ})",
            "definition of power, balanced load",
            Own,
        ),
        Rule::IbStated => words("Ib", "design current", "as stated", "this job", Own),
        Rule::IbDemand => words(
            "Ib",
            "design current",
            "demand of what hangs on it",
            "this job",
            Own,
        ),
        Rule::IbIn => words(
            "Ib ≤ In",
            "design current against rated current",
            "{0:Ib} ≤ {1:In}",
            "BS 7671 433.1.1 (i); IEC 60364-4-43 433.1",
            Memory,
        ),
        Rule::It => words(
            "It",
            "tabulated capacity",
            "table, {0:S} mm²",
            "BS 7671 Appendix 4; IEC 60364-5-52 Annex B (each row's standing is in the evidence)",
            Memory,
        ),
        Rule::Iz => words(
            "Iz",
            "capacity as installed",
            "{0:It} · {1:Ca} · {2:Cg} · {3:Ci} · {4:Cs} · {5:Cd}",
            "BS 7671 Appendix 4, section 5",
            Memory,
        ),
        Rule::InIz => words(
            "Iz",
            "rated current against capacity",
            "{0:In} ≤ {1:Iz}",
            "BS 7671 433.1.1 (ii); IEC 60364-4-43 433.1",
            Memory,
        ),
        Rule::RingIz => words(
            "Iz",
            "capacity of a ring's conductor",
            "{0:20 A} ≤ {1:Iz}",
            "BS 7671 433.1.204",
            Memory,
        ),
        Rule::SpurIz => words(
            "Iz",
            "capacity of a spur",
            "{0:what the spur carries} ≤ {1:Iz}",
            "BS 7671 Appendix 15",
            Practice,
        ),
        Rule::I2 => words(
            "I2",
            "conventional operating current",
            "{0:factor} · {1:In}",
            "standard of the device",
            Memory,
        ),
        Rule::I2Iz => words(
            "1.45 · Iz",
            "overload limit",
            "{0:I2} ≤ 1.45 · {1:Iz}",
            "BS 7671 433.1.1 (iii); IEC 60364-4-43 433.1",
            Memory,
        ),
        Rule::RLine => words(
            "R1",
            "line conductor, hot",
            "{0:r20} · {1:L} / 1000 · {2:Fθ} · {3:Fac}",
            "r20: IEC 60228, read at second hand; Fθ at the temperature of service; Fac above 16 mm², IEC 60287-1-1",
            Published,
        ),
        Rule::RNeutral => words(
            "Rn",
            "neutral conductor, hot",
            "{0:r20} · {1:L} / 1000 · {2:Fθ} · {3:Fac}",
            "r20: IEC 60228, read at second hand; Fθ at the temperature of service; Fac above 16 mm², IEC 60287-1-1",
            Published,
        ),
        Rule::RProtective => words(
            "R2",
            "protective conductor, hot",
            "{0:r20} · {1:L} / 1000 · {2:Fθ} · {3:Fac}",
            "r20: IEC 60228, read at second hand; Fθ at its own temperature; Fac above 16 mm², IEC 60287-1-1",
            Memory,
        ),
        Rule::RSteel => words(
            "R2",
            "steel armour, conduit or trunking, hot",
            "{0:r20} · {1:L} / 1000 · {2:Fθ} · {3:Fac}",
            "r20: table of armoured cables, or as entered; Fθ for steel; Fac 1.1 above 16 mm² (guidance to BS 7671)",
            Memory,
        ),
        Rule::Reactance => words(
            "X",
            "reactance",
            "{0:x} · {1:L} / 1000",
            "x columns of the mV/A/m tables; armour 0.4 Ω/km (guidance to BS 7671)",
            Memory,
        ),
        Rule::RParallel => words(
            "Z2",
            "armour and core in parallel",
            "1 / (1/Zarmour + 1/Zcore), R = {0:R}, X = {1:X}",
            "parallel impedances",
            Own,
        ),
        Rule::R1R2 => words(
            "R1 + R2",
            "line and protective conductor of this circuit",
            "√(({0:R1} + {1:R2})² + {2:X}²)",
            "sum to the furthest point",
            Own,
        ),
        Rule::RingR1R2 => words(
            "R1 + R2",
            "line and protective conductor of this ring",
            "√(({0:R1} + {1:R2})² + {2:X}²), a quarter of the loop",
            "two halves in parallel at the middle",
            Own,
        ),
        Rule::ZsBoard => words(
            "Zs",
            "earth fault loop at the board",
            "{0:Ze} with R1 {1:R1} and R2 {2:R2}, X {3:X} from the origin",
            "sum from the origin",
            Own,
        ),
        Rule::ZsSum => words(
            "Zs",
            "earth fault loop, supply's angle not known",
            "{0:Ze} + {1:Z of the conductors}",
            "sum of magnitudes: never below the true one",
            Own,
        ),
        Rule::ZsVector => words(
            "Zs",
            "earth fault loop",
            "√({0:ΣR}² + {1:ΣX}²)",
            "BS 7671 411.4.4 and Appendix 3; R and X summed apart",
            Memory,
        ),
        Rule::IfMin => words(
            "If",
            "smallest earth fault current",
            "{0:cmin} · {1:U0} / {2:Zs}",
            "BS 7671 411.4.4; IEC 60909-0",
            Memory,
        ),
        Rule::TimeAllowed => words(
            "t",
            "time allowed",
            "table, U0 = {0:U0} V",
            "BS 7671 and IEC 60364-4-41 Table 41.1, 411.3.2",
            Memory,
        ),
        Rule::Ia => words(
            "Ia",
            "current that disconnects in time",
            "device's curve at {0:t} s",
            "standard of the device (each point's standing is in the evidence)",
            Memory,
        ),
        Rule::MaxZs => words(
            "Zs max",
            "largest loop impedance",
            "{0:cmin} · {1:U0} / {2:Ia}",
            "BS 7671 411.4.4",
            Memory,
        ),
        Rule::IaRcd => words(
            "IΔ",
            "residual current that disconnects in time",
            "times of the RCD at {0:t} s",
            "IEC 61008-1, 61009-1 Table 1",
            Memory,
        ),
        Rule::MaxZsRcd => words(
            "Zs max",
            "largest loop impedance with the RCD",
            "{0:cmin} · {1:U0} / {2:IΔ}",
            "BS 7671 411.4, 411.5",
            Memory,
        ),
        Rule::TouchVoltage => words(
            "U",
            "voltage that may stand on metal",
            "{0:RA} · {1:IΔn} ≤ {2:limit}",
            "BS 7671 411.5.3; IEC 60364-4-41 411.5.3",
            Memory,
        ),
        Rule::DropSingle => words(
            "ΔU",
            "drop of this section",
            "{0:I} · ({1:R} · {2:cosφ} + {3:X} · {4:sinφ})",
            "IEC 60364-5-52 Annex G; line and neutral",
            Memory,
        ),
        Rule::DropThree => words(
            "ΔU",
            "drop of this section, line to neutral",
            "{0:share} · ({1:line} + {2:neutral})",
            "IEC 60364-5-52 Annex G; each is I·(R·cosφ + X·sinφ), the neutral's by the phasors of what is on one line",
            Memory,
        ),
        Rule::DropRing => words(
            "ΔU",
            "drop of this part of the ring",
            "{0:share · I} · ({1:R} · {2:cosφ} + {3:X} · {4:sinφ})",
            "both ways in parallel: a quarter with all at the middle",
            Own,
        ),
        Rule::LoadTemperature => words(
            "θ",
            "conductor at this load",
            "{0:θa} + ({1:θmax} − {0:θa}) · ({2:I} / {3:Iz})²",
            "BS 7671 Appendix 4, section 6.1",
            Memory,
        ),
        Rule::DropBoard => words(
            "ΔU",
            "drop at the board",
            "sum from the origin",
            "sum from the origin",
            Own,
        ),
        Rule::DropTotal => words(
            "ΔU",
            "drop from the origin to the furthest point",
            "{0:board} + {1:this circuit}",
            "sum from the origin",
            Own,
        ),
        Rule::DropLimit => words(
            "ΔU/U0",
            "drop against its limit",
            "{0:ΔU} / {1:U0} ≤ {2:limit}",
            "BS 7671 Appendix 4, section 6.4; IEC 60364-5-52 Annex G",
            Memory,
        ),
        Rule::ZSupplyMin => words(
            "Zq",
            "smallest impedance of the supply",
            "cmax · U0 / Ipf",
            "from the fault level at the origin",
            Own,
        ),
        Rule::IkThree => words(
            "Ik3",
            "largest three-phase current",
            "{0:cmax} · {1:U0} / {2:Z}",
            "IEC 60909-0; conductors at 20 °C",
            Memory,
        ),
        Rule::IkNeutral => words(
            "Ik1",
            "largest line-neutral current",
            "{0:cmax} · {1:U0} / {2:Z}",
            "IEC 60909-0; conductors at 20 °C",
            Memory,
        ),
        Rule::IkEarth => words(
            "If max",
            "largest line-earth current",
            "{0:cmax} · {1:U0} / {2:Z}",
            "IEC 60909-0; conductors at 20 °C",
            Memory,
        ),
        Rule::BreakingCapacity => words(
            "Ipf",
            "largest current against capacity",
            "{0:Ipf} ≤ {1:Icn}",
            "BS 7671 434.5.1; IEC 60364-4-43 434.5.1",
            Memory,
        ),
        Rule::K => words(
            "k",
            "k of the conductor",
            "{0:K} · √(ln(({1:β} + {3:θf}) / ({1:β} + {2:θi})))",
            "IEC 60364-5-54 Annex A, supported by printed k",
            Memory,
        ),
        Rule::InitialTemperature => words(
            "θi",
            "conductor before the fault, the circuit at In",
            "{0:θa} + ({1:θmax} − {0:θa}) · ({2:In} / {3:Iz})²",
            "as for the load; full temperature where In exceeds Iz",
            Own,
        ),
        Rule::EnergyFar => words(
            "I²t",
            "energy of the smallest fault current",
            "by the device at {0:If} A",
            "standard of the device; RCD where it is quicker",
            Memory,
        ),
        Rule::EnergyNear => words(
            "I²t",
            "greatest energy",
            "by the device from {0:If min} to {1:If max} A",
            "standard of the device; RCD where it is quicker",
            Memory,
        ),
        Rule::Adiabatic => words(
            "S",
            "size needed",
            "{0:share} · √{1:I²t} / {2:k}",
            "BS 7671 543.1.3 and 434.5.2; IEC 60364-5-54 543.1.2",
            Memory,
        ),
        Rule::TabulatedMinimum => words(
            "S",
            "size by the line conductor",
            "table, {0:S} mm² · {1:k1} / {2:k2}",
            "BS 7671 Table 54.7, read at second hand",
            Published,
        ),
        Rule::Deemed => words(
            "S",
            "covered by overload protection",
            "In ≤ Iz and Ipf ≤ Icn",
            "BS 7671 435.1",
            Memory,
        ),
        Rule::AdditionalProtection => words(
            "IΔn",
            "additional protection",
            "{0:IΔn} ≤ {1:limit}",
            "BS 7671 411.3.3, 411.3.4, 415.1, 522.6.202, 701.411.3.3",
            Memory,
        ),
        Rule::DemandSum => words(
            "I",
            "demand with diversity",
            "lines {0:L1}, {1:L2}, {2:L3} A",
            "allowances of this job's profile",
            Practice,
        ),
        Rule::DemandStated => words(
            "I",
            "demand as stated",
            "lines {0:L1}, {1:L2}, {2:L3} A",
            "this job",
            Own,
        ),
        Rule::DemandDevice => words(
            "I ≤ In",
            "demand against the device",
            "{0:I} ≤ {1:In}",
            "BS 7671 311.1, 433.1",
            Memory,
        ),
        Rule::BondingByNeutral => words(
            "S",
            "bonding by the supply neutral",
            "table, {0:S of copper} · {1:metal}",
            "BS 7671 Table 54.8, read at second hand in two places",
            Published,
        ),
        Rule::BondingByEarthing => words(
            "S",
            "bonding by the earthing conductor",
            "half of it, 6 to 25 mm²: {0:S of copper} · {1:metal}",
            "BS 7671 544.1.1, read at second hand",
            Published,
        ),
        Rule::FeedAsBonding => words(
            "r",
            "protective conductor of the feed",
            "{0:r} ≤ {1:r of copper} ({2:S} mm²)",
            "BS 7671 544.1.1: it carries what bonding carries",
            Memory,
        ),
        Rule::EarthingByLine => words(
            "S",
            "earthing conductor by the line conductor",
            "table, {0:S} mm²",
            "BS 7671 543.1.4 and Table 54.7, read at second hand",
            Published,
        ),
        Rule::Rated => words("In", "rated current", "as chosen", "this job", Own),
        Rule::R1R2Cold => words(
            "R1+R2",
            "line and protective conductor at 20 °C",
            "{0:R1} + {1:R2}",
            "r20: IEC 60228, read at second hand; sum to the furthest point",
            Memory,
        ),
        Rule::DropShare => words(
            "ΔU/U0",
            "drop as a share",
            "{0:ΔU} / {1:U0}",
            "definition",
            Own,
        ),
        Rule::EarthingBuried => words(
            "S",
            "least size as it is laid",
            "table",
            "BS 7671 Table 54.1, read at second hand",
            Published,
        ),
        Rule::BoardMaxZs => words(
            "Zs max",
            "largest loop impedance at the board, by the device in front",
            "{0:cmin} · {1:U0} / {2:Ia}",
            "BS 7671 411.5.4; without it 531.3.5.3: an RCD in front, or class II (412) up to the RCDs",
            Memory,
        ),
        Rule::InsulatedFront => words(
            "II",
            "insulation up to the RCDs",
            "class II or equivalent, nothing to disconnect",
            "BS 7671 531.3.5.3 and 412; IEC 60364-4-41 412",
            Memory,
        ),
    }
}

/// The name of a check.
#[must_use]
pub const fn check(check: Check) -> &'static str {
    match check {
        Check::DesignCurrent => "Load against device",
        Check::Capacity => "Cable against device",
        Check::Overload => "Overload",
        Check::VoltDrop => "Volt drop",
        Check::Disconnection => "Disconnection in time",
        Check::Electrode => "Voltage on metal (electrode)",
        Check::ProtectiveThermal => "Protective conductor survives",
        Check::LineThermal => "Line conductor survives",
        Check::Breaking => "Device can break the fault",
        Check::Rcd => "RCD for people",
        Check::Demand => "Demand",
        Check::Bonding => "Bonding",
        Check::FeedBonding => "Feed carries bonding current",
        Check::EarthingConductor => "Earthing conductor",
        Check::BoardFault => "Fault at the board itself",
    }
}

/// The sentence for a check that came out so.
#[must_use]
pub const fn sentence(check: Check, outcome: Outcome) -> &'static str {
    use Outcome::{CannotSay, Doubtful, Fail, Pass};
    match (check, outcome) {
        (Check::DesignCurrent, Pass) => "The load is within the device's rating.",
        (Check::DesignCurrent, Fail) => "The load is more than the device's rating.",
        (Check::Capacity, Pass) => {
            "The cable can carry what the device lets through, as it is installed."
        }
        (Check::Capacity, Fail) => "The cable is too small for this device, as it is installed.",
        (Check::Overload, Pass) => "The device clears an overload before the cable overheats.",
        (Check::Overload, Fail) => {
            "An overload could heat the cable too long before the device clears it."
        }
        (Check::VoltDrop, Pass) => {
            "The drop from the origin to the furthest point is within its limit."
        }
        (Check::VoltDrop, Fail) => {
            "The drop from the origin to the furthest point is over its limit."
        }
        (Check::Disconnection, Pass) => {
            "An earth fault at the furthest point is disconnected in time."
        }
        (Check::Disconnection, Fail) => {
            "An earth fault at the furthest point is not disconnected in time."
        }
        (Check::Electrode, Pass) => {
            "A fault too small to trip the RCD leaves no more than the permitted voltage on metal."
        }
        (Check::Electrode, Fail) => {
            "A fault too small to trip the RCD can leave a dangerous voltage on metal."
        }
        (Check::ProtectiveThermal, Pass) => {
            "The protective conductor survives an earth fault anywhere along it."
        }
        (Check::ProtectiveThermal, Fail) => {
            "The protective conductor may burn out before the fault is cleared."
        }
        (Check::LineThermal, Pass) => "The line conductor survives a fault anywhere along it.",
        (Check::LineThermal, Fail) => {
            "The line conductor may be damaged before the fault is cleared."
        }
        (Check::Breaking, Pass) => "The device can break the largest fault current here.",
        (Check::Breaking, Fail) => "The fault current can be more than the device can break.",
        (Check::Rcd, Pass) => "The RCD asked for is there.",
        (Check::Rcd, Fail) => "An RCD of 30 mA without delay is asked for here, and there is none.",
        (Check::Demand, Pass) => "The demand is within the device in front.",
        (Check::Demand, Fail) => "The demand is more than the device in front.",
        (Check::Bonding, Pass) => "The bonding conductor is big enough.",
        (Check::Bonding, Fail) => "The bonding conductor is too small.",
        (Check::FeedBonding, Pass) => "The feed's protective conductor can carry bonding current.",
        (Check::FeedBonding, Fail) => {
            "The feed's protective conductor can't carry the current that bonding may carry: add a conductor beside it, or do not take the supply's earth to this building."
        }
        (Check::EarthingConductor, Pass) => "The earthing conductor is big enough.",
        (Check::EarthingConductor, Fail) => "The earthing conductor is too small.",
        (Check::BoardFault, Pass) => {
            "An earth fault to this board's own metal, in front of its RCDs, is disconnected in time or insulated against."
        }
        (Check::BoardFault, Fail) => {
            "Nothing disconnects an earth fault to this board's own metal in time, in front of its RCDs: put an RCD ahead of the board, or insulate all up to its RCDs (class II)."
        }
        (_, Doubtful) => "The value is too near its limit to tell. It is not a pass.",
        (_, CannotSay) => "This can't be said yet. It is not a pass.",
    }
}

/// Symbol and name of a figure: of a circuit, or of a board or the supply.
#[must_use]
pub const fn named(figure: Figure, of_circuit: bool) -> (&'static str, &'static str) {
    match figure {
        Figure::Ib => ("Ib", "design current"),
        Figure::In => ("In", "rated current"),
        Figure::Iz => ("Iz", "capacity as installed"),
        Figure::R1R2 => ("R1+R2", "at 20 °C, as a meter reads it"),
        Figure::Zs => ("Zs", "earth fault loop, hot"),
        Figure::IefMin => ("If", "smallest earth fault current"),
        Figure::IpfMax if of_circuit => ("Ipf", "largest fault current at the device"),
        Figure::IpfMax => ("Ipf", "largest fault current here"),
        Figure::Drop => ("ΔU", "drop from the origin"),
        Figure::DropFull => ("ΔU full", "drop, conductors at full temperature"),
        Figure::DropLoad => ("ΔU load", "drop, conductors at the load's temperature"),
        Figure::DropShare => ("ΔU/U0", "drop as a share"),
        Figure::Demand => ("I", "demand with diversity"),
    }
}

/// Added to an error that is so deep that nothing can be judged.
pub const DEEP: &str = "Nothing is judged until then.";

/// What a search found, and why it found nothing: `{0}` is the value, `{section}` its number, `{check}` the
/// name of a check.
pub const SOLUTIONS: [(&str, &str); 5] = [
    ("found", "{0}"),
    ("found-section", "{0} (section {section})"),
    (
        "blocked-fail",
        "No value alone makes it pass: “{check}” does not pass whatever it is.",
    ),
    (
        "blocked",
        "No value alone makes it pass: “{check}” can't be said yet whatever it is.",
    ),
    ("unread", "This circuit can't be read yet."),
];

/// What a change is: `{0}` is its value, `{section}` the number of its section, `{family}` and `{delay}` what
/// the lists of choices say.
pub const CHANGES: [(&str, &str); 7] = [
    ("csa", "Line conductors of {0}."),
    ("device", "{family}, {0}."),
    ("rcd", "An RCD of {0} for this circuit: {delay}."),
    ("length", "The cable no longer than {0}."),
    ("section-length", "Section {section} no longer than {0}."),
    (
        "ungrouped",
        "Section {section} kept apart from other circuits.",
    ),
    ("core", "A protective core of {0} beside the armour."),
];

/// What is missing.
pub const LACKING: [(Lacking, &str); 20] = [
    (
        Lacking::ZE,
        "Ze is not known. Measure it, or ask the distributor.",
    ),
    (
        Lacking::RA,
        "The electrode's resistance RA is not known. Measure it.",
    ),
    (
        Lacking::FAULT_LEVEL,
        "The largest fault current at the origin is not known. Ask the distributor or measure it; a declared Ze is only an upper limit and does not give it.",
    ),
    (Lacking::LOAD, "The load of this circuit is not stated."),
    (
        Lacking::BREAKING,
        "Read the short-circuit capacity off the device.",
    ),
    (
        Lacking::LET_THROUGH,
        "Close to the board the fault is cleared in less than 0.1 s, and by what is known of the device the conductor may not stand it. Enter the maker's let-through energy I²t, mark the energy class if the device has one, or take a larger conductor.",
    ),
    (
        Lacking::CURVE,
        "The curve of this device has no figure there. Choose a rating or a type that has one.",
    ),
    (
        Lacking::PROTECTIVE,
        "There is no protective conductor all the way from the supply to here. Say which conductor serves.",
    ),
    (
        Lacking::PROTECTIVE_AREA,
        "Enter the cross-sectional area of the armour or enclosure.",
    ),
    (
        Lacking::CAPACITY,
        "The tables have no capacity for this cable as it lies, or an entry they need is missing (of a buried cable: the soil and the depth).",
    ),
    (Lacking::INCOMING, "The incoming device is not stated."),
    (
        Lacking::NEUTRAL,
        "The size of the supply neutral is not stated.",
    ),
    (
        Lacking::TAILS,
        "The size of the line conductors at the origin is not stated.",
    ),
    (
        Lacking::EARTHING_CONDUCTOR,
        "The earthing conductor is not stated.",
    ),
    (Lacking::BONDING, "The bonding conductor is not stated."),
    (
        Lacking::RCD,
        "There is no RCD of 30 mA without delay. Enter the one that is there, or fit one.",
    ),
    (
        Lacking::LIMIT,
        "There is no limit to hold it against: the tables have none for this voltage, size or metal, or a figure of the rules is not known. Look at these entries.",
    ),
    (
        Lacking::UPSTREAM,
        "Something further up can't be said, so this can't either: mostly a load that is not stated.",
    ),
    (
        Lacking::LOADS,
        "The load of a circuit further on is not stated, or there is no circuit there yet.",
    ),
    (
        Lacking::ENCLOSURE,
        "Say whether this board and all up to the terminals of its RCDs are metal, or of class II or equivalent insulation.",
    ),
];

/// What was taken for granted.
pub const ASSUMED: [(Assumed, &str); 11] = [
    (
        Assumed::ZE_NOT_MEASURED,
        "Ze is a declared or typical figure: measure it before energising.",
    ),
    (
        Assumed::FAULT_LEVEL_NOT_MEASURED,
        "The fault level is a declared or typical figure.",
    ),
    (
        Assumed::SOURCE_ELECTRODE,
        "The source's own electrode is taken at the profile's typical resistance.",
    ),
    (
        Assumed::SUPPLY_ANGLE,
        "The supply's X/R is not known: the worse end was taken.",
    ),
    (
        Assumed::RA_FROM_LOOP,
        "The whole loop Ze stands for RA: never below it.",
    ),
    (
        Assumed::BALANCED,
        "The three-phase load is taken as balanced.",
    ),
    (
        Assumed::DOUBLED,
        "Twice the line-neutral current stands for three-phase (common practice).",
    ),
    (
        Assumed::RCD_UPSTREAM,
        "An RCD further up is counted: it takes the other circuits with it.",
    ),
    (
        Assumed::CONDITIONAL_RATING,
        "The assembly's conditional rating is counted: it holds only with the device upstream its maker names.",
    ),
    (
        Assumed::DIVERSITY,
        "Diversity allowances are common practice: use your own knowledge of the installation.",
    ),
    (
        Assumed::INSULATED_FRONT,
        "Class II or equivalent insulation up to the terminals of the RCDs is taken as stated, the entry of the feed included: see it on site. Nothing disconnects a fault there.",
    ),
];

/// What is wrong with an input, and what to do: of two fields that do not go together which they are.
#[must_use]
pub const fn error(error: Error) -> &'static str {
    match (error.reason, error.field) {
        (Reason::Contradiction, Field::FedBy) => {
            "The circuit that feeds it is not one that feeds boards. Choose another, or change what that circuit is for."
        }
        (Reason::Contradiction, Field::Phase) => {
            "A ring has one phase, and three reach it only where its board has three. Choose one phase, or change what feeds the board."
        }
        (Reason::Contradiction, Field::Shape) => {
            "A circuit that feeds a board can't be a ring. Choose radial, or change what it is for."
        }
        (Reason::Contradiction, Field::Points) => {
            "What a circuit feeds a board with leaves it at its end. Set one point, or change what the circuit is for."
        }
        (Reason::Contradiction, Field::Sections) => {
            "A circuit that feeds a board can't have a spur. Make it part of the run, or change what the circuit is for."
        }
        (Reason::Contradiction, Field::Rating) => {
            "Only a spur has a fuse of its own. Make this section a spur, or take the fuse away."
        }
        (Reason::Contradiction, Field::Construction) => {
            "Only an armoured cable has armour to earth by. Choose an armoured cable, or another protective conductor."
        }
        (Reason::Contradiction, Field::Power) => {
            "Current and power are both given. Leave one of them empty."
        }
        (Reason::Contradiction, Field::Diversity) => {
            "A load counts no more than a larger one of its kind. Lower this share, or raise the one before it."
        }
        (Reason::OutOfTable, Field::PerLengthResistance) => {
            "The table of armour is of cables with copper conductors. Enter the armour's resistance per kilometre from its maker."
        }
        (Reason::TooMany, Field::FedBy) => {
            "Too many boards are fed one behind another. Feed this one from one nearer to the origin."
        }
        (Reason::TooMany, Field::Sections) => {
            "A circuit has no room for so many sections. Join some that are laid alike."
        }
        (Reason::Missing, Field::ResidualCurrent) => {
            "An RCBO works by residual current too. Enter its RCD, or choose a circuit-breaker."
        }
        (Reason::Missing, Field::Sections) => {
            "The circuit has no cable. Add a section that is part of its run."
        }
        (Reason::TooLarge, Field::PowerFactor) => {
            "A power factor is 1 at most. Type a smaller one."
        }
        (reason, _) => self::reason(reason),
    }
}

/// Why an input was refused, and what to do.
#[must_use]
pub const fn reason(reason: Reason) -> &'static str {
    match reason {
        Reason::NotANumber => "There is no number here. Type digits, with a comma or a point.",
        Reason::Infinite => "This has no end. Type a number that can be measured.",
        Reason::Negative => "This is below zero. Type a value above zero.",
        Reason::Zero => {
            "Zero has no meaning here. Type a value above zero, or leave it empty if it is not known."
        }
        Reason::TooLarge => {
            "This is larger than anything the calculation covers. Check the value and its unit."
        }
        Reason::TooSmall => {
            "This is smaller than anything the calculation covers. Check the value and its unit."
        }
        Reason::NotMade => "No such size or rating is made. Choose one from the list.",
        Reason::OutOfTable => {
            "The tables have no such case, and nothing is guessed beyond them. Choose another combination."
        }
        Reason::Missing => "This is needed. Fill it in.",
        Reason::DirectCurrent => {
            "Direct current is not covered: its limits and devices are different. Choose a.c. if that is what arrives."
        }
        Reason::Dangling => "This points to something that is not there. Choose one that is.",
        Reason::Cycle => "This is fed, round about, from itself. Choose another feed.",
        Reason::TooMany => {
            "There are more of these than there is room for. Remove some, or make a second job of them."
        }
        Reason::Contradiction => {
            "This does not go with another entry of the same thing. Change one of them."
        }
    }
}

/// The name of a field.
#[must_use]
pub const fn field(field: Field) -> &'static str {
    match field {
        Field::U0 => "U0",
        Field::Current => "kind of current",
        Field::Ze => "Ze",
        Field::Ra => "RA",
        Field::FaultLevel => "fault level",
        Field::XOverR => "X/R",
        Field::VoltageFactor => "voltage factor",
        Field::Length => "length",
        Field::Csa => "conductor size",
        Field::NeutralCsa => "neutral size",
        Field::ProtectiveCsa => "protective conductor size",
        Field::Cores => "cores",
        Field::Material => "metal",
        Field::Insulation => "insulation",
        Field::Construction => "construction",
        Field::Method => "how it is laid",
        Field::OperatingTemperature => "temperature limit",
        Field::Ambient => "temperature around it",
        Field::Grouped => "circuits in the group",
        Field::Arrangement => "arrangement of the group",
        Field::SoilResistivity => "soil resistivity",
        Field::Depth => "depth",
        Field::InsulationRun => "length in thermal insulation",
        Field::PerLengthResistance => "resistance per kilometre",
        Field::Rating => "rating",
        Field::BreakingCapacity => "short-circuit capacity",
        Field::LetThrough => "let-through energy",
        Field::ResidualCurrent => "residual current",
        Field::DesignCurrent => "design current",
        Field::Power => "power",
        Field::PowerFactor => "power factor",
        Field::Points => "points",
        Field::Diversity => "diversity",
        Field::Limit => "limit",
        Field::Time => "time",
        Field::Board => "board",
        Field::FedBy => "feed",
        Field::Boards => "boards",
        Field::Circuits => "circuits",
        Field::Sections => "sections",
        Field::Phase => "phase",
        Field::Shape => "shape",
        Field::EarthingConductor => "earthing conductor",
        Field::BondingConductor => "bonding conductor",
        Field::Reading => "reading",
        Field::Uncertainty => "operating uncertainty",
        Field::Resolution => "step of the display",
        Field::Leads => "resistance of the leads",
        Field::Range => "marked range",
        Field::Diameter => "diameter or width",
        Field::Side => "side",
        Field::Spacing => "distance between rods",
        Field::Rods => "number of rods",
        Field::Season => "factor for the seasons",
    }
}
