//! The English words of `reading`.

use super::{RuleWords, Standing};
use crate::reading::interval::Function;
use crate::reading::ring::{Conductors, Patterns};
use crate::reading::sequence::{Before, Note, Step, Stop, When};
use crate::reading::{Expected, Lacking, Meaning, QuickRule, Rule, Side, Suspects, Test};
use crate::verdict::Outcome;

/// The name of a test.
#[must_use]
pub const fn test(test: Test) -> &'static str {
    match test {
        Test::R1R2 => "R1 + R2",
        Test::R2 => "R2",
        Test::Armour => "Continuity of the armour",
        Test::Bonding => "Continuity of bonding",
        Test::Ring => "Ring circuit",
        Test::Insulation => "Insulation resistance",
        Test::Polarity => "Polarity",
        Test::Ze => "Ze",
        Test::Zs => "Zs",
        Test::FaultCurrent => "Prospective fault current",
        Test::RcdTime => "Operating time of the RCD",
        Test::RcdRamp => "Operating current of the RCD",
        Test::Electrode => "Resistance of the electrode",
        Test::PhaseSequence => "Phase sequence",
        Test::VoltDrop => "Measured volt drop",
    }
}

/// The words of a rule.
#[must_use]
pub const fn rule(rule: Rule) -> RuleWords {
    use Standing::{CommonPractice as Practice, FromMemory as Memory, Own, Published};
    let (symbol, name, template, source, standing) = match rule {
        Rule::MaxR1R2 => (
            "R1 + R2",
            "largest R1 + R2 at this temperature",
            "what is left of the largest Zs beside the supply's loop, over the rise of the conductors to hot",
            "BS 7671 411.4.4; IEC 60364-4-41 411.4.4; temperature by IEC 60364-5-54 Annex A",
            Memory,
        ),
        Rule::MaxR2 => (
            "R2",
            "largest R2 at this temperature",
            "largest R1 + R2 less R1 of the design",
            "BS 7671 411.4.4; IEC 60364-4-41 411.4.4",
            Memory,
        ),
        Rule::DesignBand => (
            "R",
            "band around the design",
            "0.85 to 1.15 times the design, two steps of the display either way, 0.02 Ω for contacts",
            "this project",
            Own,
        ),
        Rule::BondingByLength => (
            "R",
            "largest resistance of a bonding conductor",
            "r · L by its size, and 0.05 Ω for its connections",
            "IEC 60228; 0.05 Ω is the trade's",
            Practice,
        ),
        Rule::BondingByTouch => (
            "R",
            "supplementary bonding",
            "R ≤ 50 V / Ia",
            "BS 7671 415.2.2; IEC 60364-4-41 415.2.2",
            Memory,
        ),
        Rule::RingPattern => (
            "(r1 + rn) / 4",
            "readings of a ring",
            "(r1·r2 + (x − x²)·(r1 − r2)²) / (r1 + r2) at the share x of the way",
            "Circuit continuity test, stage 3, read; the patterns are this project's, held against solved networks",
            Published,
        ),
        Rule::InsulationTable => (
            "R",
            "smallest insulation resistance",
            "0.5 MΩ at 250 V (SELV, PELV); 1 MΩ at 500 V up to 500 V; 1 MΩ at 1000 V above",
            "BS 7671 Table 64; IEC 60364-6 Table 6A",
            Memory,
        ),
        Rule::InsulationReduced => (
            "R",
            "smallest insulation resistance at 250 V",
            "1 MΩ, where gear can't reasonably be disconnected",
            "BS 7671 643.3.2; IEC 60364-6 6.4.3.3",
            Memory,
        ),
        Rule::Polarity => (
            "polarity",
            "polarity",
            "every conductor where it belongs, every single-pole switch and device in the line",
            "BS 7671 643.6; IEC 60364-6 6.4.3.6",
            Memory,
        ),
        Rule::PhaseSequence => (
            "L1 L2 L3",
            "phase sequence",
            "as at the origin",
            "BS 7671 643.9; IEC 60364-6 6.4.3.9",
            Memory,
        ),
        Rule::MaxZe => (
            "Ze",
            "largest Ze",
            "what every circuit's largest Zs leaves beside its hot conductors",
            "BS 7671 411.4.4; IEC 60364-4-41 411.4.4",
            Memory,
        ),
        Rule::MaxZs => (
            "Zs",
            "largest Zs at this temperature",
            "cmin · U0 / Ia, the conductors' part taken from hot to the temperature of the reading",
            "BS 7671 411.4.4; IEC 60364-6 6.4.3.7; temperature by IEC 60364-5-54 Annex A",
            Memory,
        ),
        Rule::MaxZsRcd => (
            "Zs",
            "largest Zs by the RCD at this temperature",
            "cmin · U0 / IΔ, the conductors' part taken from hot to the temperature of the reading",
            "BS 7671 411.4.4, 411.5.3; IEC 60364-4-41 411.4.4, 411.5.3",
            Memory,
        ),
        Rule::Breaking => (
            "Ipf",
            "largest prospective current",
            "rated short-circuit capacity / cmax; three phases: twice line to neutral (common practice)",
            "BS 7671 434.5.1; IEC 60364-4-43 434.5.1",
            Memory,
        ),
        Rule::RcdLatest => (
            "t",
            "longest operating time",
            "0.3 s at IΔn, 0.15 s at 2 IΔn, 0.04 s at 5 IΔn",
            "IEC 61008-1, IEC 61009-1; IEC 62423 for types F and B",
            Memory,
        ),
        Rule::RcdSelective => (
            "t",
            "operating time of a selective RCD",
            "0.13 to 0.5 s at IΔn, 0.06 to 0.2 s at 2 IΔn, 0.05 to 0.15 s at 5 IΔn",
            "IEC 61008-1, IEC 61009-1",
            Memory,
        ),
        Rule::RcdHalf => (
            "IΔ",
            "no operation at half",
            "not within 0.2 s at IΔn / 2",
            "IEC 61008-1, IEC 61557-6",
            Memory,
        ),
        Rule::RcdRamp => (
            "IΔ",
            "operating current",
            "sine 0.5 to 1 IΔn; half-wave 0.35 to 1.4 IΔn (2 IΔn up to 10 mA); smooth d.c. 0.5 to 2 IΔn",
            "IEC 61008-1, IEC 62423",
            Memory,
        ),
        Rule::TouchVoltage => (
            "RA",
            "largest RA",
            "50 V / IΔn",
            "BS 7671 411.5.3; IEC 60364-4-41 411.5.3",
            Memory,
        ),
        Rule::FallOfPotential => (
            "RA",
            "three readings agree",
            "largest deviation from the mean × 1.2 below 5 % of the mean",
            "Getting Down to Earth, p. 33",
            Published,
        ),
        Rule::DropLimit => (
            "ΔU",
            "largest volt drop",
            "share of U0, at design current and with hot conductors",
            "BS 7671 Appendix 4, 6.4; IEC 60364-5-52 Annex G",
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

/// Symbol and name of what to look for on the display.
#[must_use]
pub const fn expected(figure: Expected) -> (&'static str, &'static str) {
    match figure {
        Expected::R1R2 => ("R1+R2", "to the furthest point"),
        Expected::R1 => ("R1", "line to the furthest point"),
        Expected::R2 => ("R2", "protective conductor to the furthest point"),
        Expected::LineEnds => ("r1", "line, end to end"),
        Expected::NeutralEnds => ("rn", "neutral, end to end"),
        Expected::ProtectiveEnds => ("r2", "protective conductor, end to end"),
        Expected::CrossedNeutral => ("(r1+rn)/4", "at every socket, line and neutral crossed"),
        Expected::CrossedProtective => (
            "(r1+r2)/4",
            "at the middle, line and protective conductor crossed",
        ),
        Expected::Armour => ("R", "armour, end to end"),
        Expected::Zs => ("Zs", "at the furthest point, cold"),
        Expected::MaxR1R2 => ("max R1+R2", "largest R1 + R2, cold"),
        Expected::MaxZs => ("max Zs", "largest Zs, read cold"),
    }
}

/// The words of a rule of thumb.
#[must_use]
pub const fn quick(rule: QuickRule) -> RuleWords {
    let (symbol, name, template) = match rule {
        QuickRule::EightyPercent => (
            "0.8 · Zs",
            "80 % of the largest Zs",
            "a cold reading up to 0.8 of the largest Zs",
        ),
        QuickRule::Bonding => (
            "0.05 Ω",
            "main bonding up to 0.05 Ω",
            "a main bonding connection up to 0.05 Ω",
        ),
        QuickRule::TwoMegohms => (
            "2 MΩ",
            "look further below 2 MΩ",
            "insulation of sound work is 2 MΩ at least",
        ),
        QuickRule::Stable => (
            "200 Ω",
            "an electrode that stays what it was",
            "RA up to 200 Ω",
        ),
    };
    RuleWords {
        symbol,
        name,
        template,
        source: "rule of thumb of the trade; beside the verdict, not in it",
        standing: Standing::CommonPractice,
    }
}

/// Where the uncertainty of an instrument comes from, where none was entered.
#[must_use]
pub const fn uncertainty(function: Function) -> RuleWords {
    let (symbol, name, template, source) = match function {
        Function::Insulation => ("30 %", "insulation resistance", "±30 %", "IEC 61557-2"),
        Function::Loop => ("30 %", "loop impedance", "±30 %", "IEC 61557-3"),
        Function::FaultCurrent => (
            "30 %",
            "prospective fault current",
            "±30 % of the impedance behind",
            "IEC 61557-3",
        ),
        Function::LowResistance => (
            "30 %",
            "low resistance",
            "±30 %, range from 0.2 Ω",
            "IEC 61557-4",
        ),
        Function::EarthResistance => ("30 %", "resistance to earth", "±30 %", "IEC 61557-5"),
        Function::RcdTime => (
            "10 %",
            "operating time of RCDs",
            "±10 % of the limit",
            "IEC 61557-6",
        ),
        Function::RcdCurrent => (
            "10 %",
            "operating current of RCDs",
            "±10 % of IΔn",
            "IEC 61557-6",
        ),
    };
    RuleWords {
        symbol,
        name,
        template,
        source,
        standing: Standing::FromMemory,
    }
}

/// What a reading means, in a sentence.
#[must_use]
pub const fn meaning(meaning: Meaning) -> &'static str {
    match meaning {
        Meaning::Clear => "Clear of its limit, whatever the instrument may be out.",
        Meaning::InsideBand => {
            "Too near its limit for this instrument. Repeat, use a better range, or enter the accuracy its manual gives."
        }
        Meaning::Beyond => "Beyond its limit, whatever the instrument may be out.",
        Meaning::NotKnown => "Not enough is known to judge it.",
        Meaning::NotBelievable => {
            "Below what the leads alone have. Null the leads, or note their resistance, and repeat."
        }
        Meaning::Open => "No continuity: a conductor is open or not connected.",
        Meaning::Short => "The conductors touch, or something is left connected between them.",
        Meaning::AboveDesign => "Not over its limit, but more than the design has. Find out why.",
        Meaning::BelowDesign => {
            "Less than the design has: it may not be the conductor alone that was measured. Find out why."
        }
        Meaning::GearConnected => {
            "Surge protection or electronic gear was connected and may be what was measured. Disconnect it and repeat."
        }
        Meaning::TestEachAlone => {
            "Several circuits together are below the limit; that says nothing of any one. Test each alone."
        }
        Meaning::TestVoltageTooLow => "The test voltage is too low for this circuit.",
        Meaning::TrippedAtHalf => "It tripped at half its rated residual current.",
        Meaning::NoTrip => "It did not trip.",
        Meaning::TooSoon => "It tripped sooner than a selective RCD may.",
        Meaning::TooLate => "It tripped later than it may.",
        Meaning::TestTooShort => "The test did not go on long enough to say.",
        Meaning::TooSensitive => {
            "It trips below half its rated residual current: it is too sensitive, or current already flows to earth. Test it with its circuits off."
        }
        Meaning::MoveStakes => {
            "The three readings do not agree: the stakes stand too near. Move them further out and repeat."
        }
        Meaning::Crossed => "A conductor is where it does not belong.",
        Meaning::Reversed => "The lines are in another order than at the origin.",
        Meaning::RingPattern => "The readings of the ring have a pattern.",
        Meaning::TooCoarse => {
            "The steps of the display are too coarse for so short a ring. Use a finer range."
        }
        Meaning::OnlyRcd => {
            "Too high for the overcurrent device, on which the design rests: only the RCD would switch off in time. Find out why."
        }
    }
}

/// What may be behind a value that is not the design's: the first of the set.
#[must_use]
pub fn suspect(of: Suspects) -> &'static str {
    const WORDS: [(Suspects, &str); 10] = [
        (
            Suspects::PARALLEL_PATH,
            "another metal path beside the protective conductor",
        ),
        (Suspects::LOOSE_JOINT, "a loose or corroded joint"),
        (Suspects::LONGER, "a longer cable than in the design"),
        (Suspects::SHORTER, "a shorter cable than in the design"),
        (
            Suspects::SMALLER_SIZE,
            "a smaller conductor than in the design",
        ),
        (
            Suspects::LARGER_SIZE,
            "a larger conductor than in the design",
        ),
        (Suspects::LINE, "it is in the line conductor"),
        (Suspects::PROTECTIVE, "it is in the protective conductor"),
        (
            Suspects::SUPPLY,
            "the supply is not what the design was made with",
        ),
        (
            Suspects::LEADS,
            "leads that were not nulled, or a poor contact",
        ),
    ];
    first(&WORDS, |one| of.intersects(one))
}

/// What is missing: the first of the set.
#[must_use]
pub fn lacking(of: Lacking) -> &'static str {
    const WORDS: [(Lacking, &str); 16] = [
        (Lacking::READING, "A reading is missing."),
        (Lacking::LIMIT, "No limit is known for this circuit."),
        (Lacking::ZE, "Ze is not known."),
        (
            Lacking::PROTECTIVE,
            "The design has no protective conductor here.",
        ),
        (
            Lacking::ARMOUR,
            "The resistance of this armour is not known.",
        ),
        (
            Lacking::BREAKING,
            "The short-circuit capacity of the device is not known.",
        ),
        (Lacking::RCD, "The design has no RCD here."),
        (Lacking::ENDS, "r1, rn and r2 from end to end are missing."),
        (
            Lacking::SOCKETS,
            "The cross-connected readings at the sockets are missing.",
        ),
        (
            Lacking::EACH_CIRCUIT,
            "Each circuit has to be tested alone.",
        ),
        (
            Lacking::WITHOUT_GEAR,
            "A reading with the gear disconnected is missing.",
        ),
        (
            Lacking::ORIGIN_SEQUENCE,
            "The phase sequence at the origin is missing.",
        ),
        (
            Lacking::DESIGN_CURRENT,
            "The design current or the conductors are not known.",
        ),
        (
            Lacking::STANDARD,
            "The standards give no figure for this type and this test.",
        ),
        (
            Lacking::AMBIENT,
            "The temperature of the conductors while they were tested is missing.",
        ),
        (
            Lacking::ACCURACY,
            "The accuracy of this instrument is not known. Enter what its manual gives.",
        ),
    ];
    first(&WORDS, |one| of.intersects(one))
}

/// The words of the first entry that is in a set.
fn first<T: Copy>(words: &[(T, &'static str)], is: impl Fn(T) -> bool) -> &'static str {
    words
        .iter()
        .find(|(one, _)| is(*one))
        .map_or("", |(_, text)| text)
}

/// Where a reading lies beside the design.
#[must_use]
pub const fn side(side: Side) -> &'static str {
    match side {
        Side::Below => "below the design",
        Side::Within => "as designed",
        Side::Above => "above the design",
    }
}

/// What a pattern of a ring means: the first of the set.
#[must_use]
pub fn pattern(of: Patterns) -> &'static str {
    const WORDS: [(Patterns, &str); 11] = [
        (Patterns::HEALTHY, "A sound ring."),
        (Patterns::OPEN, "The ring is open."),
        (
            Patterns::JOINT,
            "A joint of high resistance in the ring, or a conductor of another size.",
        ),
        (
            Patterns::NOT_CROSSED,
            "The ends were joined straight, not crossed. Cross them and repeat.",
        ),
        (Patterns::SPUR, "A spur."),
        (
            Patterns::SPUR_ON_SPUR,
            "A spur goes on to another socket from a spur.",
        ),
        (
            Patterns::CLOSED_LOOP,
            "A loop within the ring: two of its points are joined (figure of eight).",
        ),
        (
            Patterns::BRIDGED,
            "The legs are bridged and the ring is broken behind the bridge: it only looks continuous.",
        ),
        (
            Patterns::JOINT_AT_SOCKET,
            "A joint of high resistance at one socket.",
        ),
        (
            Patterns::PARALLEL_PATH,
            "Metal beside the protective conductor was measured with it.",
        ),
        (Patterns::SHORT, "The ring is shorter than in the design."),
    ];
    first(&WORDS, |one| of.intersects(one))
}

/// The name of a conductor: the first of the set.
#[must_use]
pub fn conductor(of: Conductors) -> &'static str {
    const WORDS: [(Conductors, &str); 3] = [
        (Conductors::LINE, "line"),
        (Conductors::NEUTRAL, "neutral"),
        (Conductors::PROTECTIVE, "protective conductor"),
    ];
    first(&WORDS, |one| of.intersects(one))
}

/// The name of a step.
#[must_use]
pub const fn step(step: Step) -> &'static str {
    match step {
        Step::Bonding => "Continuity of bonding",
        Step::Protective => "Continuity of protective conductors",
        Step::Armour => "Continuity of the armour",
        Step::Ring => "Ring circuit",
        Step::Insulation => "Insulation resistance",
        Step::Polarity => "Polarity",
        Step::Electrode => "Resistance of the electrode",
        Step::Ze => "Ze",
        Step::FaultCurrent => "Prospective fault current",
        Step::Zs => "Zs",
        Step::Rcd => "RCDs",
        Step::PhaseSequence => "Phase sequence",
        Step::VoltDrop => "Volt drop",
    }
}

/// What the installation is during a step.
#[must_use]
pub const fn when(when: When) -> &'static str {
    match when {
        When::Dead => "dead",
        When::SupplyOnly => "supply live, main switch open",
        When::Live => "live",
    }
}

/// What must be true before a step: the first of the set.
#[must_use]
pub fn before(of: Before) -> &'static str {
    const WORDS: [(Before, &str); 11] = [
        (
            Before::DEAD,
            "Isolated, locked off and proved dead; the tester proved before and after.",
        ),
        (
            Before::LEADS_NULLED,
            "Leads nulled, or their resistance noted.",
        ),
        (
            Before::BONDING_OPEN,
            "One end of the bonding conductor off, so that nothing runs beside it.",
        ),
        (Before::LOADS_OFF, "Loads, lamps and equipment out."),
        (
            Before::SWITCHES_CLOSED,
            "Switches and devices of the circuit closed; two-way switches tried both ways.",
        ),
        (
            Before::GEAR_OUT,
            "Surge protection and electronic gear disconnected.",
        ),
        (
            Before::GEAR_BACK,
            "Surge protection and electronic gear connected again.",
        ),
        (Before::MAIN_SWITCH_OPEN, "Main switch open and locked."),
        (
            Before::EARTHING_OUT,
            "The earthing conductor off, the installation dead while it is.",
        ),
        (
            Before::EARTHING_BACK,
            "The earthing conductor connected again.",
        ),
        (
            Before::MAY_BE_ENERGISED,
            "Everything that has to pass before has passed.",
        ),
    ];
    first(&WORDS, |one| of.intersects(one))
}

/// Why it may not be energised; the name of the step stands with it.
#[must_use]
pub const fn stop(stop: Stop) -> &'static str {
    match stop {
        Stop::Design(_) => "The design has not passed.",
        Stop::Missing(_) => "This test has not been made.",
        Stop::NotPassed(_, Outcome::Fail) => "This test has failed.",
        Stop::NotPassed(..) => "This test is no clear pass.",
        Stop::GearOut => "Surge protection or gear is still disconnected.",
        Stop::EarthingOut => "The earthing conductor is still off.",
        Stop::Unreadable => "Something entered here can't be read.",
    }
}

/// A note, in a sentence; what it names stands with it.
#[must_use]
pub const fn note(note: &Note) -> &'static str {
    match note {
        Note::ElectrodeFirst => {
            "The electrode has to be in, connected and measured before anything is energised."
        }
        Note::MarkCores { .. } => {
            "These cores do not have the colour of what they do: mark them at both ends."
        }
        Note::MarkSwitchedLine => {
            "A switched line in a core of the neutral's colour has to be marked as line at both ends."
        }
        Note::ArmourAlone { .. } => {
            "The armour is the only protective conductor: its glands and earth tags are part of it."
        }
        Note::ArmourBothEnds => "Earth the armour at both ends.",
        Note::ArmourSupplyEnd => {
            "Earth the armour at the supply end only; at the far end keep it apart from the earth there."
        }
        Note::RcdsTogether { .. } => {
            "These two RCDs may trip together: the upper one needs a delay (S) and three times the residual current."
        }
        Note::BorrowedNeutral { .. } => {
            "Make sure this circuit has its own neutral and has not borrowed that of the other."
        }
        Note::Gear => {
            "Disconnect surge protection and electronic gear for the insulation test, and connect them again after it."
        }
        Note::EarthingBack => {
            "Where the earthing conductor is taken off for a test, connect it again before anything is energised."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every member of every set has words of its own.
    #[test]
    fn every_one_has_words() {
        let mut all = std::vec::Vec::new();
        all.extend(Suspects::all().iter().map(suspect));
        all.extend(Lacking::all().iter().map(lacking));
        all.extend(Patterns::all().iter().map(pattern));
        all.extend(Conductors::all().iter().map(conductor));
        all.extend(Before::all().iter().map(before));
        all.extend(Meaning::ALL.map(meaning));
        all.extend(Rule::ALL.map(|r| rule(r).name));
        all.extend(QuickRule::ALL.map(|r| quick(r).template));
        all.extend(Expected::ALL.map(|e| expected(e).0));
        assert!(all.iter().all(|text| !text.is_empty()));
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
        for t in Test::ALL {
            assert!(!test(t).is_empty());
        }
        for s in Step::ALL {
            assert!(!step(s).is_empty());
        }
    }
}
