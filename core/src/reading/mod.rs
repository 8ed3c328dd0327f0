//! Judging the readings of test instruments against the design.
//!
//! A reading goes in as what the display [`Shown`]s, with the [`Accuracy`] of the instrument; a [`Judged`] comes
//! out: the true values the display allows, the limit, what the design expects, and what it means. Plain data;
//! the sentences are in `words::reading_en`.
//!
//! | Module | Tests | Entry points |
//! |---|---|---|
//! | [`interval`] | the guard band | [`interval::interval`], [`interval::judge`] |
//! | [`design`] | what the design expects at an ambient temperature, and the limits there | [`Design`] |
//! | [`continuity`] | R1 + R2, R2, armour, bonding | [`continuity::r1r2`], [`continuity::r2`], [`continuity::armour`], [`continuity::bonding`], [`continuity::supplementary`] |
//! | [`ring`] | ring final circuits | [`ring::judge`], [`ring::diagnose`], [`ring::crossed`] |
//! | [`insulation`] | insulation resistance | [`insulation::required`], [`insulation::judge`], [`insulation::parallel`] |
//! | [`polarity`] | polarity, phase sequence | [`polarity::polarity`], [`polarity::sequence`] |
//! | [`fault_loop`] | Ze, Zs, prospective current | [`fault_loop::ze`], [`fault_loop::zs`], [`fault_loop::fault_current`] |
//! | [`rcd`] | operating time, ramp | [`rcd::time`], [`rcd::ramp`], [`rcd::test_current`] |
//! | [`electrode`] | fall of potential, loop method | [`electrode::fall_of_potential`], [`electrode::by_loop`] |
//! | [`volt_drop`] | measured volt drop | [`volt_drop::by_voltages`], [`volt_drop::by_impedances`] |
//! | [`record`] | all readings of an installation | [`record::Record`] |
//! | [`sequence`] | order, what must be true before, stop, notes | [`sequence::next`], [`sequence::may_be_energised`], [`sequence::notes`] |
//!
//! **Units.** Ω, MΩ for insulation, A, V, s; °C for temperatures.
//!
//! **Outcomes.** [`Outcome::Pass`]: the whole interval is on the good side. [`Outcome::Doubtful`]: the limit is
//! inside it, or the value is not the design's; repeat, use a better range, or find out. [`Outcome::Fail`]:
//! the whole interval is beyond. [`Outcome::CannotSay`]: something is [`Lacking`]. Only the first is a pass.
//!
//! The limits are those the design is held against: nothing here has a maximum Zs or an RCD time of its own.

pub mod continuity;
pub mod design;
pub mod electrode;
pub mod fault_loop;
pub mod insulation;
pub mod interval;
pub mod polarity;
pub mod rcd;
pub mod record;
pub mod ring;
pub mod sequence;
#[cfg(test)]
mod tests;
pub mod volt_drop;

pub use design::{Design, Expected};
pub use interval::{Accuracy, Function, Interval, Shown};

use crate::verdict::{Outcome, Sense, Unit};
use bitflags::bitflags;

/// What is tested.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Test {
    /// Continuity of line and protective conductor together, R1 + R2.
    R1R2,
    /// Continuity of the protective conductor, R2.
    R2,
    /// Continuity of the armour.
    Armour,
    /// Continuity of a bonding conductor.
    Bonding,
    /// Ring final circuit: end to end and cross-connected.
    Ring,
    /// Insulation resistance.
    Insulation,
    /// Polarity.
    Polarity,
    /// External earth fault loop impedance.
    Ze,
    /// Earth fault loop impedance of a circuit.
    Zs,
    /// Prospective fault current.
    FaultCurrent,
    /// Operating time of an RCD.
    RcdTime,
    /// Operating current of an RCD.
    RcdRamp,
    /// Resistance of an electrode.
    Electrode,
    /// Phase sequence.
    PhaseSequence,
    /// Volt drop.
    VoltDrop,
}

impl Test {
    /// Every test.
    pub const ALL: [Test; 15] = [
        Test::R1R2,
        Test::R2,
        Test::Armour,
        Test::Bonding,
        Test::Ring,
        Test::Insulation,
        Test::Polarity,
        Test::Ze,
        Test::Zs,
        Test::FaultCurrent,
        Test::RcdTime,
        Test::RcdRamp,
        Test::Electrode,
        Test::PhaseSequence,
        Test::VoltDrop,
    ];
}

/// The rule a reading is held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Rule {
    /// R1 + R2 at which, hot, the circuit reaches its largest Zs.
    MaxR1R2,
    /// R2 at which it does so with the line conductor of the design.
    MaxR2,
    /// The value of the design and the band around it.
    DesignBand,
    /// Resistance of a bonding conductor by length and size, and 0.05 Ω.
    BondingByLength,
    /// R ≤ 50 V/Ia of a supplementary bonding conductor.
    BondingByTouch,
    /// The pattern of a ring's readings.
    RingPattern,
    /// Smallest insulation resistance by the voltage of the circuit.
    InsulationTable,
    /// The same at 250 V, where gear can't be disconnected.
    InsulationReduced,
    /// Every conductor where it belongs.
    Polarity,
    /// L1, L2, L3 in the order of the origin.
    PhaseSequence,
    /// Ze with which every circuit still disconnects in time.
    MaxZe,
    /// Largest Zs by the device, at the temperature of the reading.
    MaxZs,
    /// Largest Zs by an RCD, at the temperature of the reading.
    MaxZsRcd,
    /// Rated short-circuit capacity over cmax.
    Breaking,
    /// Longest operating time of an RCD.
    RcdLatest,
    /// Longest and shortest operating time of a selective RCD.
    RcdSelective,
    /// No operation at half of IΔn.
    RcdHalf,
    /// Operating current by wave shape.
    RcdRamp,
    /// RA ≤ 50 V/IΔn.
    TouchVoltage,
    /// Three readings agree: largest deviation from the mean × 1.2 below 5 %.
    FallOfPotential,
    /// Volt drop at design current against its limit.
    DropLimit,
}

impl Rule {
    /// Every rule.
    pub const ALL: [Rule; 21] = [
        Rule::MaxR1R2,
        Rule::MaxR2,
        Rule::DesignBand,
        Rule::BondingByLength,
        Rule::BondingByTouch,
        Rule::RingPattern,
        Rule::InsulationTable,
        Rule::InsulationReduced,
        Rule::Polarity,
        Rule::PhaseSequence,
        Rule::MaxZe,
        Rule::MaxZs,
        Rule::MaxZsRcd,
        Rule::Breaking,
        Rule::RcdLatest,
        Rule::RcdSelective,
        Rule::RcdHalf,
        Rule::RcdRamp,
        Rule::TouchVoltage,
        Rule::FallOfPotential,
        Rule::DropLimit,
    ];
}

/// The rule of thumb that is shown beside a verdict. All are common practice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum QuickRule {
    /// A Zs measured cold is at most 80 % of the largest.
    EightyPercent,
    /// A main bonding connection is at most 0.05 Ω.
    Bonding,
    /// Insulation of sound new work is 2 MΩ at least.
    TwoMegohms,
    /// An electrode above 200 Ω may not be stable.
    Stable,
}

impl QuickRule {
    /// Every one.
    pub const ALL: [QuickRule; 4] = [
        QuickRule::EightyPercent,
        QuickRule::Bonding,
        QuickRule::TwoMegohms,
        QuickRule::Stable,
    ];
}

/// A rule of thumb applied: to the reading as it is shown, without its band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quick {
    /// Which.
    pub rule: QuickRule,
    /// Its limit.
    pub limit: f32,
    /// Pass or fail.
    pub outcome: Outcome,
}

/// What a reading means, beyond its outcome.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Meaning {
    /// Clear of its limit.
    Clear,
    /// The limit is inside the band: repeat, on a better range, or with a better instrument.
    InsideBand,
    /// Beyond its limit.
    Beyond,
    /// Not enough is known to say.
    NotKnown,
    /// Below what leads and zero allow: null the leads and repeat.
    NotBelievable,
    /// No continuity.
    Open,
    /// The conductors touch, or something is left connected.
    Short,
    /// Not over its limit, but more than the design has.
    AboveDesign,
    /// Less than the design has: the reading may not show the conductor alone.
    BelowDesign,
    /// Surge protection or electronic gear is connected, and may be what was measured.
    GearConnected,
    /// Several circuits together are below the limit: that says nothing of each.
    TestEachAlone,
    /// The test voltage was too low for this circuit.
    TestVoltageTooLow,
    /// The RCD tripped at half of IΔn.
    TrippedAtHalf,
    /// The RCD did not trip.
    NoTrip,
    /// It tripped sooner than a selective RCD may.
    TooSoon,
    /// It tripped later than it may.
    TooLate,
    /// The test did not last long enough to say.
    TestTooShort,
    /// The RCD operates below half of IΔn: too sensitive, or current flows to earth already.
    TooSensitive,
    /// The stakes stand too near: move them and repeat.
    MoveStakes,
    /// A conductor is where it does not belong.
    Crossed,
    /// The order of the lines is turned round.
    Reversed,
    /// The ring has the pattern that is said with it.
    RingPattern,
    /// The instrument's step is too coarse for so small a value.
    TooCoarse,
    /// Beyond the limit of the device, on which the design rests: only the RCD would disconnect in time.
    OnlyRcd,
}

impl Meaning {
    /// Every meaning.
    pub const ALL: [Meaning; 24] = [
        Meaning::Clear,
        Meaning::InsideBand,
        Meaning::Beyond,
        Meaning::NotKnown,
        Meaning::NotBelievable,
        Meaning::Open,
        Meaning::Short,
        Meaning::AboveDesign,
        Meaning::BelowDesign,
        Meaning::GearConnected,
        Meaning::TestEachAlone,
        Meaning::TestVoltageTooLow,
        Meaning::TrippedAtHalf,
        Meaning::NoTrip,
        Meaning::TooSoon,
        Meaning::TooLate,
        Meaning::TestTooShort,
        Meaning::TooSensitive,
        Meaning::MoveStakes,
        Meaning::Crossed,
        Meaning::Reversed,
        Meaning::RingPattern,
        Meaning::TooCoarse,
        Meaning::OnlyRcd,
    ];
}

bitflags! {
    /// What may be behind a value that is not the design's.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Suspects: u16 {
        /// Another metal path beside the protective conductor.
        const PARALLEL_PATH = 1;
        /// A loose or corroded joint.
        const LOOSE_JOINT = 1 << 1;
        /// The cable is longer than in the design.
        const LONGER = 1 << 2;
        /// The cable is shorter than in the design.
        const SHORTER = 1 << 3;
        /// A smaller conductor than in the design.
        const SMALLER_SIZE = 1 << 4;
        /// A larger conductor than in the design.
        const LARGER_SIZE = 1 << 5;
        /// The line conductor is the one.
        const LINE = 1 << 6;
        /// The protective conductor is the one.
        const PROTECTIVE = 1 << 7;
        /// The supply's part of the loop has changed, or was taken wrongly.
        const SUPPLY = 1 << 8;
        /// Leads that were not nulled, or a poor contact of the probes.
        const LEADS = 1 << 9;
    }
}

impl Suspects {
    /// What more than the design has may come from.
    pub(crate) const MORE: Self = Self::LOOSE_JOINT
        .union(Self::LONGER)
        .union(Self::SMALLER_SIZE);
    /// What less than the design has may come from.
    pub(crate) const LESS: Self = Self::PARALLEL_PATH
        .union(Self::SHORTER)
        .union(Self::LARGER_SIZE);
    /// Another size than the design's.
    pub(crate) const SIZE: Self = Self::SMALLER_SIZE.union(Self::LARGER_SIZE);
}

bitflags! {
    /// What is missing to judge a reading.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Lacking: u16 {
        /// The reading.
        const READING = 1;
        /// The largest Zs: the device's curve or the time allowed.
        const LIMIT = 1 << 1;
        /// The loop of the supply, Ze.
        const ZE = 1 << 2;
        /// A protective conductor in the design.
        const PROTECTIVE = 1 << 3;
        /// Resistance of the armour: not in the table, not entered.
        const ARMOUR = 1 << 4;
        /// The rated short-circuit capacity of the device.
        const BREAKING = 1 << 5;
        /// An RCD in the design.
        const RCD = 1 << 6;
        /// The end-to-end readings of a ring.
        const ENDS = 1 << 7;
        /// The cross-connected readings at the sockets.
        const SOCKETS = 1 << 8;
        /// Each circuit alone.
        const EACH_CIRCUIT = 1 << 9;
        /// The reading again with gear disconnected, or at 250 V.
        const WITHOUT_GEAR = 1 << 10;
        /// The phase sequence at the origin.
        const ORIGIN_SEQUENCE = 1 << 11;
        /// The design current.
        const DESIGN_CURRENT = 1 << 12;
        /// A time for this wave shape or multiple in the standards.
        const STANDARD = 1 << 13;
        /// The temperature at which it was read.
        const AMBIENT = 1 << 14;
        /// The uncertainty of the instrument.
        const ACCURACY = 1 << 15;
    }
}

/// On which side of the band around the design's value a reading lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Below it.
    Below,
    /// Inside it.
    Within,
    /// Above it.
    Above,
}

/// A reading beside the design's value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Compared {
    /// What the design has, at the ambient temperature.
    pub expected: f32,
    /// Lower end of the band.
    pub low: f32,
    /// Upper end of the band.
    pub high: f32,
    /// Where the reading lies.
    pub side: Side,
    /// The whole interval lies there, so that the instrument can't be the reason.
    pub sure: bool,
}

/// Lower end of the band around a resistance of the design, as a share: conductors have what IEC 60228 allows at
/// most, and some 10 % less is common (own).
pub const BAND_BELOW: f32 = 0.85;
/// Upper end of that band, as a share: lengths are estimates (own).
pub const BAND_ABOVE: f32 = 1.15;
/// What the contacts of a test may add, in ohms (own).
pub const CONTACTS: f32 = 0.02;

/// A judged reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// Which test.
    pub test: Test,
    /// How it came out.
    pub outcome: Outcome,
    /// What was shown; none where nothing was read.
    pub shown: Option<Shown>,
    /// The figure less the leads, or what was worked out of several readings.
    pub value: Option<f32>,
    /// The true values it allows.
    pub interval: Option<Interval>,
    /// The limit it was held against, as it applies to the reading.
    pub limit: Option<f32>,
    /// Which side of the limit is good.
    pub sense: Sense,
    /// Unit of all of these.
    pub unit: Unit,
    /// Beside the design.
    pub compared: Option<Compared>,
    /// The rule of thumb.
    pub quick: Option<Quick>,
    /// What it means.
    pub meaning: Meaning,
    /// What may be behind it.
    pub suspects: Suspects,
    /// What is missing.
    pub lacking: Lacking,
    /// The rule.
    pub rule: Rule,
}

impl Judged {
    pub(crate) fn new(test: Test, rule: Rule, unit: Unit, sense: Sense) -> Self {
        Self {
            test,
            outcome: Outcome::CannotSay,
            shown: None,
            value: None,
            interval: None,
            limit: None,
            sense,
            unit,
            compared: None,
            quick: None,
            meaning: Meaning::NotKnown,
            suspects: Suspects::empty(),
            lacking: Lacking::empty(),
            rule,
        }
    }

    pub(crate) fn without(mut self, lacking: Lacking) -> Self {
        self.lacking |= lacking;
        self
    }

    /// Where what it rests on is not known: no limit, no comparison. What is open, and a ring that is broken, is so
    /// whatever the temperature.
    pub(crate) fn unsaid(mut self, lacking: Lacking) -> Self {
        let sure = lacking == Lacking::AMBIENT
            && self.outcome == Outcome::Fail
            && (self.meaning == Meaning::Open || self.test == Test::Ring);
        if !sure {
            self.outcome = Outcome::CannotSay;
            self.meaning = Meaning::NotKnown;
            self.suspects = Suspects::empty();
        }
        self.limit = None;
        self.compared = None;
        self.quick = None;
        self.without(lacking)
    }

    /// Takes the reading, where there is one. What can't be believed is noted and has no interval.
    pub(crate) fn read(mut self, shown: Option<Shown>, accuracy: &Accuracy) -> Self {
        self.shown = shown;
        let Some(shown) = shown else {
            return self.without(Lacking::READING);
        };
        if !interval::believable(shown, accuracy) {
            self.meaning = Meaning::NotBelievable;
            self.suspects |= Suspects::LEADS;
            return self;
        }
        let less = shown.figure() - accuracy.lead();
        self.value = less
            .is_finite()
            .then_some(if less < 0.0 { 0.0 } else { less });
        self.interval = Some(interval::interval(shown, accuracy));
        self
    }

    /// Holds what was read against a limit.
    pub(crate) fn against(mut self, limit: f32) -> Self {
        self.limit = limit.is_finite().then_some(limit);
        if let Some(i) = self.interval {
            self.outcome = interval::judge(self.sense, i, limit);
            self.meaning = match self.outcome {
                Outcome::Pass => Meaning::Clear,
                Outcome::Doubtful => Meaning::InsideBand,
                Outcome::Fail => Meaning::Beyond,
                Outcome::CannotSay => Meaning::NotKnown,
            };
        }
        self
    }

    pub(crate) fn with_quick(mut self, rule: QuickRule, limit: f32) -> Self {
        if let Some(shown) = self.shown {
            let good = match (self.sense, shown) {
                (Sense::AtMost, Shown::Value(_)) => self.value.is_some_and(|v| v <= limit),
                (Sense::AtMost, Shown::Above(_)) => false,
                (Sense::AtLeast, _) => self.value.is_some_and(|v| v >= limit),
            };
            let outcome = if good { Outcome::Pass } else { Outcome::Fail };
            self.quick = Some(Quick {
                rule,
                limit,
                outcome,
            });
        }
        self
    }

    /// Puts the design's value beside it. The band has two steps of the display on either side, and nothing of the
    /// instrument's uncertainty: a worse instrument must not turn what is strange into a pass.
    pub(crate) fn beside(mut self, expected: f32, step: f32) -> Self {
        if !expected.is_finite() {
            return self;
        }
        let slack = 2.0 * step;
        let low = BAND_BELOW * expected - slack;
        let low = if low < 0.0 { 0.0 } else { low };
        let high = BAND_ABOVE * expected + slack + CONTACTS;
        let (Some(shown), Some(value), Some(i)) = (self.shown, self.value, self.interval) else {
            // The band is of use before anything is read.
            self.compared = Some(Compared {
                expected,
                low,
                high,
                side: Side::Within,
                sure: false,
            });
            return self;
        };
        let (side, sure) = if shown.is_above() || value > high {
            (Side::Above, i.low > high)
        } else if value < low {
            (Side::Below, i.high.is_some_and(|h| h < low))
        } else {
            (Side::Within, false)
        };
        self.compared = Some(Compared {
            expected,
            low,
            high,
            side,
            sure,
        });
        self
    }

    /// A pass outside the design's band is doubtful: `above` and `below` say on which sides.
    pub(crate) fn unless_strange(mut self, above: bool, below: bool) -> Self {
        let Some(c) = self.compared else { return self };
        let strange = match c.side {
            Side::Above => above,
            Side::Below => below,
            Side::Within => false,
        };
        if strange && self.outcome <= Outcome::Doubtful {
            self.outcome = Outcome::Doubtful;
            self.meaning = match c.side {
                Side::Below => Meaning::BelowDesign,
                _ => Meaning::AboveDesign,
            };
        }
        self
    }

    /// The share of the limit still free, by the worse end of the interval; negative where that is beyond it.
    #[must_use]
    pub fn margin(&self) -> Option<f32> {
        let (i, limit) = (self.interval?, self.limit?);
        let margin = match self.sense {
            Sense::AtMost => 1.0 - i.high? / limit,
            Sense::AtLeast => i.low / limit - 1.0,
        };
        margin.is_finite().then_some(margin)
    }
}
