//! What comes out: findings, and the steps that led to them, as plain data.
//!
//! Nothing here holds a sentence: a meter acts on the enums alone. The words are in
//! the module `words`, behind the feature of that name.

use crate::list::listed;
use crate::network::{BoardId, CircuitId};
use bitflags::bitflags;

/// How a check came out. Ordered from good to bad, so that the worse of two is the larger.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// The requirement is met, with everything known that it takes to say so.
    Pass,
    /// A reading so near its limit that the instrument can't tell which side it is on. This is not a pass.
    Doubtful,
    /// Something is missing or outside what is known. This is not a pass.
    CannotSay,
    /// The requirement is not met.
    Fail,
}

listed! {
    Outcome:
    Pass Doubtful CannotSay Fail
}

impl Outcome {
    /// The worse of two outcomes.
    #[must_use]
    pub fn worse(self, other: Self) -> Self {
        if other > self { other } else { self }
    }
}

/// What is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Check {
    /// Design current against rated current, Ib ≤ In.
    DesignCurrent,
    /// Rated current against capacity of the cable as installed, In ≤ Iz.
    Capacity,
    /// Conventional operating current, I2 ≤ 1.45·Iz.
    Overload,
    /// Volt drop from the origin to the furthest point.
    VoltDrop,
    /// Disconnection in time on an earth fault of negligible impedance.
    Disconnection,
    /// Touch voltage at an electrode, RA·IΔn ≤ 50 V.
    Electrode,
    /// The protective conductor survives the earth fault.
    ProtectiveThermal,
    /// The line conductor survives the fault.
    LineThermal,
    /// The device can break the largest prospective fault current.
    Breaking,
    /// An RCD for additional protection where one is asked for.
    Rcd,
    /// Demand with diversity against the device that feeds a board, or the incoming device.
    Demand,
    /// Main protective bonding conductor.
    Bonding,
    /// The protective conductor of the feed, where it also carries what bonding carries.
    FeedBonding,
    /// Earthing conductor.
    EarthingConductor,
    /// An earth fault at a board on an electrode, in front of its RCDs.
    BoardFault,
}

listed! {
    Check:
    DesignCurrent Capacity Overload VoltDrop Disconnection Electrode ProtectiveThermal LineThermal
    Breaking Rcd Demand Bonding FeedBonding EarthingConductor BoardFault
}

impl Check {
    /// Whether size and length of the circuit's conductors decide it.
    #[must_use]
    pub const fn is_of_conductors(self) -> bool {
        matches!(
            self,
            Check::Capacity
                | Check::Overload
                | Check::VoltDrop
                | Check::Disconnection
                | Check::ProtectiveThermal
                | Check::LineThermal
        )
    }

    /// The groups of steps that a check rests on, in the order a person would work them.
    #[must_use]
    pub const fn topics(self) -> &'static [Topic] {
        use Topic as T;
        match self {
            Check::DesignCurrent => &[T::Load, T::DesignCurrent],
            Check::Capacity => &[T::Capacity, T::CapacityCheck],
            Check::Overload => &[T::Capacity, T::OverloadCheck],
            Check::VoltDrop => &[T::Load, T::Capacity, T::Resistance, T::Drop],
            Check::Disconnection => &[T::Resistance, T::Loop, T::Smallest, T::Disconnection],
            Check::Electrode => &[T::Electrode],
            Check::ProtectiveThermal => &[
                T::Loop,
                T::Smallest,
                T::Largest,
                T::Capacity,
                T::ProtectiveThermal,
            ],
            Check::LineThermal => &[T::Largest, T::Capacity, T::LineThermal],
            Check::Breaking => &[T::Largest, T::Breaking],
            Check::Rcd => &[T::Rcd],
            Check::Demand => &[T::Demand],
            Check::Bonding => &[T::Bonding],
            Check::FeedBonding => &[T::FeedBonding],
            Check::EarthingConductor => &[T::EarthingConductor],
            Check::BoardFault => &[T::BoardFault],
        }
    }
}

/// A group of steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Topic {
    /// Design current.
    Load,
    /// Ib against In.
    DesignCurrent,
    /// Capacity of each section.
    Capacity,
    /// In against Iz.
    CapacityCheck,
    /// I2 against 1.45·Iz.
    OverloadCheck,
    /// Resistances of each section.
    Resistance,
    /// Earth fault loop.
    Loop,
    /// Volt drop.
    Drop,
    /// Disconnection.
    Disconnection,
    /// Electrode.
    Electrode,
    /// Largest prospective fault current.
    Largest,
    /// Protective conductor under fault.
    ProtectiveThermal,
    /// Line conductor under fault.
    LineThermal,
    /// Breaking capacity.
    Breaking,
    /// RCD.
    Rcd,
    /// Demand.
    Demand,
    /// Bonding.
    Bonding,
    /// Bonding current in the feed.
    FeedBonding,
    /// Earthing conductor.
    EarthingConductor,
    /// Earth fault at a board.
    BoardFault,
    /// Rated current.
    Rated,
    /// R1 + R2 at 20 °C.
    Cold,
    /// The drop at the temperature of the load, summed.
    LoadDrop,
    /// The drop as a share of U0.
    Share,
    /// Smallest earth fault current.
    Smallest,
}

/// A figure of a circuit, a board or the supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Figure {
    /// Design current Ib.
    Ib,
    /// Rated current In.
    In,
    /// Capacity as installed, Iz.
    Iz,
    /// R1 + R2 at 20 °C.
    R1R2,
    /// Earth fault loop, hot.
    Zs,
    /// Smallest earth fault current.
    IefMin,
    /// Largest fault current.
    IpfMax,
    /// Drop from the origin.
    Drop,
    /// The same, conductors at full temperature.
    DropFull,
    /// The same, conductors at the temperature of the load.
    DropLoad,
    /// The drop as a share of U0.
    DropShare,
    /// Demand with diversity.
    Demand,
}

listed! {
    Figure:
    Ib In Iz R1R2 Zs IefMin IpfMax Drop DropFull DropLoad DropShare Demand
}

impl Figure {
    /// The groups of steps it comes from, in the order a person would work them. The one place for it: of a
    /// circuit, and of a board or the supply.
    #[must_use]
    pub const fn topics(self) -> &'static [Topic] {
        use Topic as T;
        match self {
            Figure::Ib => &[T::Load],
            Figure::In => &[T::Rated],
            Figure::Iz => &[T::Capacity],
            Figure::R1R2 => &[T::Cold],
            Figure::Zs => &[T::Resistance, T::Loop],
            Figure::IefMin => &[T::Resistance, T::Loop, T::Smallest],
            Figure::IpfMax => &[T::Largest],
            Figure::DropFull => &[T::Load, T::Capacity, T::Resistance, T::Drop],
            Figure::Drop | Figure::DropLoad => {
                &[T::Load, T::Capacity, T::Resistance, T::Drop, T::LoadDrop]
            }
            Figure::DropShare => &[
                T::Load,
                T::Capacity,
                T::Resistance,
                T::Drop,
                T::LoadDrop,
                T::Share,
            ],
            Figure::Demand => &[T::Demand],
        }
    }

    /// Whether a board has it by its feed, whose own working leads to it.
    #[must_use]
    pub const fn comes_by_feed(self) -> bool {
        matches!(self, Figure::Drop | Figure::DropShare)
    }

    /// Its unit.
    #[must_use]
    pub const fn unit(self) -> Unit {
        match self {
            Figure::Ib | Figure::In | Figure::Iz | Figure::Demand => Unit::Ampere,
            Figure::IefMin | Figure::IpfMax => Unit::Ampere,
            Figure::R1R2 | Figure::Zs => Unit::Ohm,
            Figure::Drop | Figure::DropFull | Figure::DropLoad => Unit::Volt,
            Figure::DropShare => Unit::Share,
        }
    }
}

/// Where a finding belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The origin.
    Supply,
    /// A board.
    Board(BoardId),
    /// A circuit.
    Circuit(CircuitId),
}

/// The unit of a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Unit {
    /// V
    Volt,
    /// A
    Ampere,
    /// Ω
    Ohm,
    /// MΩ
    MegaOhm,
    /// Ω/km
    OhmPerKm,
    /// m
    Metre,
    /// mm²
    SquareMm,
    /// s
    Second,
    /// W
    Watt,
    /// °C
    Celsius,
    /// A²s
    AmpSquaredSecond,
    /// A·√s/mm²
    KFactor,
    /// A share; shown as per cent.
    Share,
    /// A factor without a unit.
    Factor,
}

listed! {
    Unit:
    Volt Ampere Ohm MegaOhm OhmPerKm Metre SquareMm Second Watt Celsius AmpSquaredSecond KFactor
    Share Factor
}

/// Which side of the limit is good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// The value may be the limit at most.
    AtMost,
    /// The value must be the limit at least.
    AtLeast,
}

bitflags! {
    /// What is missing to say more.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Lacking: u32 {
        /// Ze.
        const ZE = 1;
        /// RA.
        const RA = 1 << 1;
        /// The fault level at the origin.
        const FAULT_LEVEL = 1 << 2;
        /// The load of the circuit.
        const LOAD = 1 << 3;
        /// The rated short-circuit capacity of the device.
        const BREAKING = 1 << 4;
        /// The maker's let-through energy of the device.
        const LET_THROUGH = 1 << 5;
        /// The device's curve has no point there.
        const CURVE = 1 << 6;
        /// A protective conductor.
        const PROTECTIVE = 1 << 7;
        /// The area of the entered armour or enclosure.
        const PROTECTIVE_AREA = 1 << 8;
        /// The capacity of the cable as installed: the tables have no such case.
        const CAPACITY = 1 << 9;
        /// The incoming device.
        const INCOMING = 1 << 10;
        /// The supply neutral's size.
        const NEUTRAL = 1 << 11;
        /// The size of the line conductors at the origin.
        const TAILS = 1 << 12;
        /// The earthing conductor.
        const EARTHING_CONDUCTOR = 1 << 13;
        /// The bonding conductor.
        const BONDING = 1 << 14;
        /// An RCD.
        const RCD = 1 << 15;
        /// A limit for this voltage or system.
        const LIMIT = 1 << 16;
        /// Something further up that can't be said either.
        const UPSTREAM = 1 << 17;
        /// A circuit on this board whose load is not known.
        const LOADS = 1 << 18;
        /// What a board is made of up to its RCDs.
        const ENCLOSURE = 1 << 19;
    }
}

bitflags! {
    /// What was taken for granted, and is said beside the verdict.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Assumed: u16 {
        /// Ze is the typical or declared one, not measured here.
        const ZE_NOT_MEASURED = 1;
        /// The fault level is a typical or declared one.
        const FAULT_LEVEL_NOT_MEASURED = 1 << 1;
        /// The resistance of the source's electrode is the profile's typical one.
        const SOURCE_ELECTRODE = 1 << 2;
        /// The angle of the supply's impedance is not known; the worse end was taken.
        const SUPPLY_ANGLE = 1 << 3;
        /// RA was not given; the whole measured loop stands for it.
        const RA_FROM_LOOP = 1 << 4;
        /// A three-phase load was taken as balanced.
        const BALANCED = 1 << 5;
        /// Two times the line-neutral current stands for the three-phase one (common practice).
        const DOUBLED = 1 << 6;
        /// An RCD further up is counted.
        const RCD_UPSTREAM = 1 << 7;
        /// The assembly's conditional rating is counted, with the device upstream that it names.
        const CONDITIONAL_RATING = 1 << 8;
        /// Diversity allowances of the profile (common practice).
        const DIVERSITY = 1 << 9;
        /// All up to the terminals of the board's RCDs is of class II or equivalent insulation, as stated.
        const INSULATED_FRONT = 1 << 10;
    }
}

/// One check at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finding {
    /// Where.
    pub place: Place,
    /// Which check.
    pub check: Check,
    /// How it came out.
    pub outcome: Outcome,
    /// The value, where it could be computed.
    pub value: Option<f32>,
    /// The limit it was held against.
    pub limit: Option<f32>,
    /// Unit of both.
    pub unit: Unit,
    /// Which side of the limit is good.
    pub sense: Sense,
    /// The section that governs, counted from the board.
    pub section: Option<u8>,
    /// The rule that decided.
    pub rule: Rule,
    /// What is missing.
    pub lacking: Lacking,
    /// What was taken for granted.
    pub assumed: Assumed,
}

impl Finding {
    /// The share of the limit still free; negative where the limit is passed.
    #[must_use]
    pub fn margin(&self) -> Option<f32> {
        let (value, limit) = (self.value?, self.limit?);
        let margin = match self.sense {
            Sense::AtMost => 1.0 - value / limit,
            Sense::AtLeast => value / limit - 1.0,
        };
        margin.is_finite().then_some(margin)
    }
}

/// A step of the working: one formula, with its values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Where.
    pub place: Place,
    /// Which section, if it is of one.
    pub section: Option<u8>,
    /// To which group it belongs.
    pub topic: Topic,
    /// The formula or table.
    pub rule: Rule,
    /// What comes out.
    pub value: f32,
    /// Its unit.
    pub unit: Unit,
    /// What goes in, in the order the formula names it.
    pub operands: [f32; 6],
}

/// Every formula, table and rule, so that a finding or a step can name its own.
/// Its formula in symbols and its source are in the module `words`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Rule {
    /// Ib = P/(U0·cosφ)
    IbSingle,
    /// Ib = P/(3·U0·cosφ)
    IbThree,
    /// Ib as stated.
    IbStated,
    /// Ib from the demand of what hangs on it.
    IbDemand,
    /// Ib ≤ In.
    IbIn,
    /// It from the tables.
    It,
    /// Iz = It·Ca·Cg·Ci·Cs·Cd.
    Iz,
    /// In ≤ Iz.
    InIz,
    /// A 30 or 32 A ring asks for 20 A a conductor.
    RingIz,
    /// A spur's fuse, or 20 A, against Iz.
    SpurIz,
    /// I2 = factor·In.
    I2,
    /// I2 ≤ 1.45·Iz.
    I2Iz,
    /// R = r·L/1000·Fθ·F~, line conductor.
    RLine,
    /// The same, neutral.
    RNeutral,
    /// The same, protective conductor.
    RProtective,
    /// The same, steel armour, conduit or trunking.
    RSteel,
    /// X = x·L/1000.
    Reactance,
    /// Armour and core in parallel.
    RParallel,
    /// R1 + R2 of a radial circuit.
    R1R2,
    /// (r1 + r2)/4 of a ring.
    RingR1R2,
    /// Zs at the board the circuit starts from.
    ZsBoard,
    /// Zs by sum of magnitudes: the supply's angle is not known.
    ZsSum,
    /// Zs by R and X.
    ZsVector,
    /// If = cmin·U0/Zs.
    IfMin,
    /// Time allowed by system, voltage and kind of circuit.
    TimeAllowed,
    /// Ia of the device for that time.
    Ia,
    /// Largest Zs = cmin·U0/Ia.
    MaxZs,
    /// IΔ the RCD needs for that time.
    IaRcd,
    /// Largest Zs = cmin·U0/IΔ.
    MaxZsRcd,
    /// RA·IΔn ≤ 50 V.
    TouchVoltage,
    /// Drop of a section, single phase.
    DropSingle,
    /// Drop of a section, three phase.
    DropThree,
    /// Drop of a ring.
    DropRing,
    /// Conductor temperature at the load.
    LoadTemperature,
    /// Drop at the board the circuit starts from.
    DropBoard,
    /// Drop from the origin to the furthest point.
    DropTotal,
    /// Drop against its limit.
    DropLimit,
    /// Smallest impedance of the supply, from the fault level.
    ZSupplyMin,
    /// Largest three-phase current.
    IkThree,
    /// Largest line-neutral current.
    IkNeutral,
    /// Largest line-earth current.
    IkEarth,
    /// Largest of them against the rated short-circuit capacity.
    BreakingCapacity,
    /// k by the closed form.
    K,
    /// Initial temperature, by the load the device admits.
    InitialTemperature,
    /// I²t at the smallest current.
    EnergyFar,
    /// I²t at the largest current.
    EnergyNear,
    /// S ≥ √(I²t)/k.
    Adiabatic,
    /// The tabulated minimum by the line conductor's size.
    TabulatedMinimum,
    /// A device that protects against overload and can break the fault protects the line conductor too.
    Deemed,
    /// IΔn for additional protection.
    AdditionalProtection,
    /// Demand with diversity.
    DemandSum,
    /// Demand as stated.
    DemandStated,
    /// Demand against the device.
    DemandDevice,
    /// Bonding conductor by the supply neutral.
    BondingByNeutral,
    /// Bonding conductor by the earthing conductor.
    BondingByEarthing,
    /// The feed's protective conductor must conduct as the bonding conductor would.
    FeedAsBonding,
    /// Earthing conductor by the line conductor.
    EarthingByLine,
    /// Earthing conductor in the ground.
    EarthingBuried,
    /// Largest Zs at a board on an electrode, by the overcurrent device in front.
    BoardMaxZs,
    /// Class II or equivalent insulation up to the RCDs of a board.
    InsulatedFront,
    /// In as chosen.
    Rated,
    /// R1 + R2 at 20 °C.
    R1R2Cold,
    /// Drop as a share of U0.
    DropShare,
}

listed! {
    Rule:
    IbSingle IbThree IbStated IbDemand IbIn It Iz InIz RingIz SpurIz I2 I2Iz RLine RNeutral
    RProtective RSteel Reactance RParallel R1R2 RingR1R2 ZsBoard ZsSum ZsVector IfMin TimeAllowed Ia
    MaxZs IaRcd MaxZsRcd TouchVoltage DropSingle DropThree DropRing LoadTemperature DropBoard
    DropTotal DropLimit ZSupplyMin IkThree IkNeutral IkEarth BreakingCapacity K InitialTemperature
    EnergyFar EnergyNear Adiabatic TabulatedMinimum Deemed AdditionalProtection DemandSum
    DemandStated DemandDevice BondingByNeutral BondingByEarthing FeedAsBonding EarthingByLine
    EarthingBuried BoardMaxZs InsulatedFront Rated R1R2Cold DropShare
}

/// Takes what the checks say.
///
/// The checks call it as they go; nothing is kept but what the recorder keeps.
/// [`Report`] keeps every finding, [`Worst`] only the worst outcome.
pub trait Recorder {
    /// Whether steps are wanted. Where not, they are not even put together.
    fn wants_steps(&self) -> bool {
        false
    }

    /// A check came out.
    fn finding(&mut self, finding: &Finding);

    /// What feeds a circuit, before its figures come.
    fn fed(&mut self, id: CircuitId, source: &crate::source::Source) {
        let _ = (id, source);
    }

    /// The figures of a circuit.
    fn circuit(&mut self, id: CircuitId, facts: &crate::facts::CircuitFacts) {
        let _ = (id, facts);
    }

    /// The figures of a board, or of the supply.
    fn board(&mut self, place: Place, facts: &crate::facts::BoardFacts) {
        let _ = (place, facts);
    }

    /// A step of the working.
    fn step(&mut self, step: &Step) {
        let _ = step;
    }
}

/// Keeps only the worst outcome.
#[derive(Clone, Copy, Debug)]
pub struct Worst(pub Outcome);

impl Default for Worst {
    fn default() -> Self {
        Self(Outcome::Pass)
    }
}

impl Recorder for Worst {
    fn finding(&mut self, finding: &Finding) {
        self.0 = self.0.worse(finding.outcome);
    }
}

/// Keeps up to `N` findings, in the order they come.
#[derive(Clone, Debug)]
pub struct Report<const N: usize> {
    /// The findings.
    pub findings: heapless::Vec<Finding, N>,
    /// The worst of all findings, also of those there was no room for.
    pub outcome: Outcome,
    /// How many there was no room for.
    pub dropped: u32,
}

impl<const N: usize> Default for Report<N> {
    fn default() -> Self {
        Self {
            findings: heapless::Vec::new(),
            outcome: Outcome::Pass,
            dropped: 0,
        }
    }
}

impl<const N: usize> Recorder for Report<N> {
    fn finding(&mut self, finding: &Finding) {
        self.outcome = self.outcome.worse(finding.outcome);
        if self.findings.push(*finding).is_err() {
            self.dropped = self.dropped.saturating_add(1);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn finding(sense: Sense, value: f32, limit: f32) -> Finding {
        let mut f = crate::check::finding(
            Place::Supply,
            Check::Breaking,
            Rule::BreakingCapacity,
            Unit::Ampere,
            sense,
        );
        f.outcome = crate::check::held(sense, value, limit);
        (f.value, f.limit) = (value.is_finite().then_some(value), Some(limit));
        f
    }

    #[test]
    fn the_margin_is_what_is_free_of_the_limit() {
        let of = |sense, value, limit| finding(sense, value, limit).margin();
        assert_eq!(of(Sense::AtMost, 6.0, 8.0), Some(0.25));
        assert_eq!(of(Sense::AtMost, 10.0, 8.0), Some(-0.25));
        assert_eq!(of(Sense::AtLeast, 10.0, 8.0), Some(0.25));
        assert_eq!(of(Sense::AtLeast, 6.0, 8.0), Some(-0.25));
        assert_eq!(of(Sense::AtMost, 6.0, 0.0), None);
        assert_eq!(of(Sense::AtMost, f32::NAN, 8.0), None);
    }

    #[test]
    fn the_worst_is_kept() {
        let mut worst = Worst::default();
        let of = |v| finding(Sense::AtMost, v, 8.0);
        for (value, so_far) in [
            (6.0, Outcome::Pass),
            (f32::NAN, Outcome::CannotSay),
            (10.0, Outcome::Fail),
            (6.0, Outcome::Fail),
        ] {
            worst.finding(&of(value));
            assert_eq!(worst.0, so_far);
        }
    }

    /// What a longer or thinner cable may turn, and nothing else.
    #[test]
    fn checks_of_conductors() {
        let of = Check::ALL.into_iter().filter(|c| c.is_of_conductors());
        assert!(of.eq([
            Check::Capacity,
            Check::Overload,
            Check::VoltDrop,
            Check::Disconnection,
            Check::ProtectiveThermal,
            Check::LineThermal,
        ]));
        // A board's drop is worked out where its feed is.
        let by_feed = Figure::ALL.into_iter().filter(|f| f.comes_by_feed());
        assert!(by_feed.eq([Figure::Drop, Figure::DropShare]));
    }
}
