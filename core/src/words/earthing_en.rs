//! The English words of `earthing`.

use super::{RuleWords, Standing};
use crate::earthing::Formula;
use crate::earthing::electrode::Soil;
use crate::earthing::options::{Caution, Scheme, Selective};
use crate::earthing::situations::{Situation, Stance};

/// The words of a formula or rule.
#[must_use]
pub const fn formula(one: Formula) -> RuleWords {
    use Standing::{CommonPractice as Practice, FromMemory as Memory, Own, Published};
    let (symbol, name, template, source, standing) = match one {
        Formula::Rod => (
            "R",
            "resistance of a rod",
            "{0:ρ} / (2π · {1:L}) · (ln(8 · {1:L} / {2:d}) − 1)",
            "Earth Rod Electrode Resistance, section 1.1; BS 7430, IEEE 142",
            Published,
        ),
        Formula::Rods => (
            "Rn",
            "resistance of several rods",
            "{0:R} · (1 + {1:λ} · {2:α}) / {3:n}, α = ρ / (2π · R · s)",
            "BS 7430",
            Memory,
        ),
        Formula::Lambda => (
            "λ",
            "what the other rods add",
            "mean over the rods of the sum of s / distance to each other rod",
            "superposition of half balls with equal currents; the tables of BS 7430, from memory, lie up to 1.4 % below",
            Own,
        ),
        Formula::Plate => (
            "R",
            "resistance of a plate",
            "{0:ρ} / 4 · √(π / {1:A})",
            "BS 7430; a disc of the same area in the surface",
            Memory,
        ),
        Formula::Tape => (
            "R",
            "resistance of a level wire, or of a tape as a wire of half its width",
            "{0:ρ} / (2π · {1:L}) · ln({1:L}² / (1.83 · {2:h} · {3:d}))",
            "BS 7430, round conductor",
            Memory,
        ),
        Formula::Foundation => (
            "R",
            "resistance of a foundation",
            "{0:ρ} / (2π · ∛(3 · {1:V} / 2π))",
            "half ball of the same volume; IEC 60364-5-54 has 0.2 · ρ / ∛V, from memory",
            Own,
        ),
        Formula::Season => (
            "R",
            "resistance in the worst season",
            "{0:R} · {1:factor}",
            "dry or frozen soil, typically 1.2 to 2",
            Practice,
        ),
        Formula::Soil => (
            "ρ",
            "typical resistivity of soil",
            "range, no default",
            "Earth Rod Electrode Resistance, section 1.1, quoting IEEE 142 and BS 7430",
            Published,
        ),
        Formula::TouchVoltage => (
            "RA · IΔn ≤ 50 V",
            "touch voltage at an electrode",
            "{0:RA} · {1:IΔn}",
            "BS 7671 411.5.3; IEC 60364-4-41 411.5.3",
            Memory,
        ),
        Formula::Stable => (
            "RA ≤ 200 Ω",
            "an electrode that stays what it was",
            "{0:RA} ≤ {1:200 Ω}",
            "BS 7671 Table 41.5, note",
            Practice,
        ),
        Formula::Selectivity => (
            "IΔn ≥ 3 · IΔn behind, type S",
            "the RCD behind goes first",
            "{0:IΔn} ≥ 3 · {1:IΔn behind}",
            "BS 7671 536; IEC 60364-5-53",
            Memory,
        ),
        Formula::Joined => (
            "R",
            "electrodes joined",
            "1 / (1 / {0:R1} + 1 / {1:R2})",
            "conductances in parallel; far enough apart not to touch each other's soil",
            Own,
        ),
        Formula::LostOpen => (
            "V",
            "voltage on metal with the supply neutral lost, nothing leading away",
            "{0:cmax} · {1:U0}",
            "no electrode is known: all of the voltage",
            Own,
        ),
        Formula::LostSingle => (
            "V",
            "voltage on metal with the supply neutral lost",
            "{0:cmax · U0} · √({1:G}² + {2:B}²) / √(({1:G} + 1 / {3:R})² + {2:B}²), G + jB = I / U0 at its angle",
            "nodal sum; loads as impedances, the source's electrode left out",
            Own,
        ),
        Formula::LostThree => (
            "V",
            "voltage on metal with the supply neutral lost, three phases",
            "{0:cmax · U0} · {1:|Σ Yk·ak|} / {2:|Σ Yk + 1 / R|}, Yk = Ik / U0 at its angle, ak the direction of line k",
            "nodal sum; loads as impedances, the source's electrode left out",
            Own,
        ),
        Formula::LostCurrent => (
            "I",
            "current through the electrode with the supply neutral lost",
            "{0:V} / {1:R}",
            "Ohm's law",
            Own,
        ),
        Formula::LostSought => (
            "R",
            "electrode that keeps metal below a limit with the supply neutral lost",
            "{0:V} · {1:U0} / ({2:I} · ({3:cmax} · {1:U0} − {0:V})) for one phase of resistive load; otherwise by search",
            "BS 7671 Annex A722",
            Memory,
        ),
    };
    RuleWords {
        symbol,
        name,
        template,
        source,
        standing,
    }
}

/// The name of a scheme.
#[must_use]
pub const fn scheme(one: Scheme) -> &'static str {
    match one {
        Scheme::ExtendSupply => "the supply's earth, taken there by the feed",
        Scheme::OwnElectrode => "an electrode of its own (TT)",
        Scheme::ExtendWithElectrode => {
            "the supply's earth by the feed, and an electrode in addition"
        }
    }
}

/// Whether the RCDs behind go first.
#[must_use]
pub const fn selective(one: Selective) -> &'static str {
    match one {
        Selective::NothingBehind => "There is no RCD behind it.",
        Selective::Yes => "The RCDs behind it go first.",
        Selective::No => {
            "It may go together with those behind it, and take all circuits with it: no selective one does with this electrode."
        }
    }
}

/// A caution.
#[must_use]
pub fn caution(one: Caution) -> &'static str {
    if one == Caution::ASK_DISTRIBUTOR {
        "Ask the distributor whether its earth may be taken to this building, and see the local rules."
    } else if one == Caution::LIVE_METAL {
        "If the supply's neutral breaks, all metal earthed there can be at a dangerous voltage, and no device disconnects it."
    } else if one == Caution::NEIGHBOURS {
        "Neighbours behind the same break load it too: the voltage can be higher than this job alone gives."
    } else if one == Caution::NO_EQUIPOTENTIAL_OUTSIDE {
        "Outside, a person stands on soil that is not bonded to the metal within reach."
    } else if one == Caution::DIVERTED_CURRENT {
        "Part of the neutral's current returns through metal in the ground, over the feed's protective conductor, day and night."
    } else if one == Caution::KEEP_EARTHS_APART {
        "Pipes, fences, steel and screens of other cables must not join this earth to that of the house."
    } else if one == Caution::NOT_WITHIN_REACH {
        "Metal of the one earth must not be within reach of metal of the other."
    } else if one == Caution::ELECTRODE_FIRST {
        "The electrode is in the ground, connected and measured before anything is energised."
    } else if one == Caution::MEASURE {
        "The electrode's resistance is a design figure. Measure it, and think of the dry season."
    } else if one == Caution::MAY_NOT_BE_STABLE {
        "Above 200 Ω an electrode may not stay what it was: more or longer rods."
    } else if one == Caution::RCD_ALONE {
        "The RCD alone protects against shock: test it regularly. What is in front of it needs to be without metal that can be touched."
    } else if one == Caution::FEED_CORE_INSULATED {
        "The protective core of the feed ends in the building insulated, and is joined to nothing."
    } else if one == Caution::ARMOUR_APART {
        "Armour or conduit of the feed is earthed at one end and kept apart at the other: it must not join the two earths."
    } else if one == Caution::ELECTRODE_AS_BONDING {
        "The conductor to the electrode carries what a bonding conductor carries: size it as one, by the supply's neutral."
    } else if one == Caution::ELECTRODE_TOO_POOR {
        "The electrode is not good enough to keep metal below the chosen limit if the supply's neutral breaks."
    } else if one == Caution::ADDS_TO_FAULT_CURRENT {
        "The electrode adds to the largest fault current, more than the devices surely have to spare."
    } else if one == Caution::OUTDOORS {
        "Equipment used outdoors hangs on this board."
    } else if one == Caution::NO_EXTRANEOUS_ENTERED {
        "No metal that goes into the ground is entered for this building, so its bonding was not judged. Look again: pipes, steel frame, metal cladding."
    } else if one == Caution::ELECTRODE_MUST_STAY {
        "The overcurrent devices alone disconnect only as long as the electrode stays as good as this."
    } else if one == Caution::NO_RCD_IN_FRONT {
        "No RCD in front of this board disconnects a fault to its own metal, and those behind it do not: fit one at the start of its feed. Without it, all up to the RCDs must be of class II or equivalent insulation."
    } else {
        "An RCD further up may go before this one, and take the building with it."
    }
}

/// The name of a soil.
#[must_use]
pub const fn soil(one: Soil) -> &'static str {
    match one {
        Soil::Clay => "clay",
        Soil::SandyClay => "sandy clay",
        Soil::SurfaceSoil => "surface soil",
        Soil::MoistGravel => "moist gravel",
        Soil::DryGravel => "dry gravel",
        Soil::Limestone => "limestone",
        Soil::Sandstone => "sandstone",
        Soil::Granite => "granite",
        Soil::Concrete => "concrete",
    }
}

/// How it stands with the supply's TN-C-S earth there. None of these is a pass.
#[must_use]
pub const fn stance(one: Stance) -> &'static str {
    match one {
        Stance::Ask => "Commonly done. Ask the distributor and see the local rules.",
        Stance::Doubtful => {
            "Doubtful: only with what the rules for this place ask in addition. Ask the distributor and see the local rules."
        }
        Stance::NotAllowed => {
            "Not allowed, but for exceptions that the rules for this place name. Ask the distributor and see the local rules."
        }
    }
}

/// What is said of a situation: its name, why, and where the rule is. All from memory.
#[derive(Clone, Copy, Debug)]
pub struct SituationWords {
    /// Name.
    pub name: &'static str,
    /// Why, and what is done instead.
    pub why: &'static str,
    /// Document and place.
    pub source: &'static str,
    /// How far it can be relied on.
    pub standing: Standing,
}

/// The words of a situation.
#[must_use]
pub const fn situation(one: Situation) -> SituationWords {
    let (name, why, source) = match one {
        Situation::Caravan => (
            "caravan or its pitch",
            "People step from wet ground onto a metal body. An electrode of its own, with an RCD.",
            "BS 7671 708.411.4; ESQC Regulations 2002, regulation 9(4)",
        ),
        Situation::Marina => (
            "boat or its berth",
            "The hull lies in the water, and neutral current would flow through it. An electrode of its own, or a separating transformer.",
            "BS 7671 709.411.4; ESQC Regulations 2002, regulation 9(4)",
        ),
        Situation::FuelStation => (
            "petrol station",
            "Neutral current in pipes and tanks can spark where there is vapour. The hazardous part has its own earth.",
            "guidance of the petrol trade, beside IEC 60079-14",
        ),
        Situation::ConstructionSite => (
            "construction site",
            "Not all metal that can be touched can be bonded on ground that is being dug. An electrode of its own, or reliable bonding of all of it.",
            "BS 7671 704.411.3.1",
        ),
        Situation::Livestock => (
            "farm buildings with animals",
            "Animals feel a few volts. An electrode of its own, or a bonded grid in the floor.",
            "BS 7671 705.411.4, 705.415.2.1",
        ),
        Situation::Horticulture => (
            "greenhouse, wet growing",
            "Wet ground and metal frames. An electrode of its own, or reliable bonding of all metal.",
            "BS 7671 705",
        ),
        Situation::SwimmingPool => (
            "swimming pool or fountain",
            "People are wet and barefoot. A bonded grid with an electrode in addition, or an electrode of its own.",
            "BS 7671 702.411.3.3, 702.415.2",
        ),
        Situation::HotTub => (
            "hot tub outdoors",
            "People are wet and stand on soil. An electrode of its own is the usual way.",
            "BS 7671 702, by analogy",
        ),
        Situation::VehicleCharging => (
            "charging of vehicles outdoors",
            "The body of the car stands on open ground, joined to the supply's neutral. An electrode that keeps it below 70 V, a device that opens all conductors, or an electrode of its own.",
            "BS 7671 722.411.4.1",
        ),
        Situation::Event => (
            "fair, show, other event",
            "Metal stands and stages on open ground, not bonded. An electrode of its own.",
            "BS 7671 711.411.4, 740.411.4",
        ),
        Situation::MobileUnit => (
            "mobile or transportable unit",
            "A metal body on open ground. Its own electrode or separation, but under constant watch of a skilled person.",
            "BS 7671 717.411.4",
        ),
        Situation::Mast => (
            "mast, lamp post, metal on open ground",
            "People touch it standing on soil, with nothing bonded around them.",
            "BS 7671 714; guidance of distributors",
        ),
        Situation::HighVoltage => (
            "high-voltage station or tower nearby",
            "The soil there can rise by itself. Its owner says how to earth.",
            "guidance of distributors",
        ),
        Situation::MetalClad => (
            "building clad in metal",
            "The whole outside is joined to the supply's neutral, and is touched from open ground.",
            "guidance of distributors",
        ),
        Situation::Timber => (
            "timber building without metal in the ground",
            "There is little to bond and little to touch at once; class I equipment still carries the supply's earth.",
            "guidance of distributors",
        ),
        Situation::Outdoors => (
            "equipment used outdoors",
            "A person stands on soil that is not bonded to what is held.",
            "BS 7671 411.3.3; guidance of distributors",
        ),
    };
    SituationWords {
        name,
        why,
        source,
        standing: Standing::FromMemory,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;
    use std::string::String;

    #[test]
    fn each_has_words_of_its_own() {
        let cautions: HashSet<&str> = Caution::all().iter().map(caution).collect();
        assert_eq!(cautions.len(), Caution::all().iter().count());
        let situations: HashSet<&str> = Situation::ALL.iter().map(|s| situation(*s).name).collect();
        assert_eq!(situations.len(), Situation::ALL.len());
        let soils: HashSet<&str> = Soil::ALL.iter().map(|s| soil(*s)).collect();
        assert_eq!(soils.len(), Soil::ALL.len());
        let schemes: HashSet<&str> = Scheme::ALL.iter().map(|s| scheme(*s)).collect();
        assert_eq!(schemes.len(), Scheme::ALL.len());
        // None of them is a pass, and each sends a person on.
        for one in [Stance::Ask, Stance::Doubtful, Stance::NotAllowed] {
            assert!(stance(one).contains("Ask the distributor"));
        }
    }

    #[test]
    fn formulas_are_whole() {
        for one in Formula::ALL {
            let words = formula(one);
            assert!(!words.source.is_empty() && !words.name.is_empty());
            let mut out = String::new();
            super::super::formula(&mut out, &words).unwrap();
            assert!(!out.contains(['{', '}']), "{out}");
        }
        let mut out = String::new();
        super::super::formula(&mut out, &formula(Formula::Rod)).unwrap();
        assert_eq!(out, "ρ / (2π · L) · (ln(8 · L / d) − 1)");
    }
}
