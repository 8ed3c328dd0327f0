//! What comes out, as numbers: the enums of core with fixed codes from 1 on.

macro_rules! told {
    ($code:ident from $core:ty { $($name:ident)* }) => {
        impl From<$core> for $code {
            fn from(value: $core) -> Self {
                match value {
                    $(<$core>::$name => $code::$name,)*
                    _ => $code::Other,
                }
            }
        }
    };
}

/// What is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_check {
    /// None, or one that this interface does not name yet.
    Other = 0,
    /// Design current against rated current, Ib ≤ In.
    DesignCurrent = 1,
    /// Rated current against capacity of the cable as installed, In ≤ Iz.
    Capacity = 2,
    /// Conventional operating current, I2 ≤ 1.45·Iz.
    Overload = 3,
    /// Volt drop from the origin to the furthest point.
    VoltDrop = 4,
    /// Disconnection in time on an earth fault of negligible impedance.
    Disconnection = 5,
    /// Touch voltage at an electrode, RA·IΔn ≤ 50 V.
    Electrode = 6,
    /// The protective conductor survives the earth fault.
    ProtectiveThermal = 7,
    /// The line conductor survives the fault.
    LineThermal = 8,
    /// The device can break the largest prospective fault current.
    Breaking = 9,
    /// An RCD for additional protection where one is asked for.
    Rcd = 10,
    /// Demand with diversity against the device that feeds a board, or the incoming device.
    Demand = 11,
    /// Main protective bonding conductor.
    Bonding = 12,
    /// The protective conductor of the feed, where it also carries what bonding carries.
    FeedBonding = 13,
    /// Earthing conductor.
    EarthingConductor = 14,
    /// An earth fault at a board on an electrode, in front of its RCDs.
    BoardFault = 15,
}

told!(fp_check from faultpath::verdict::Check { DesignCurrent Capacity Overload VoltDrop Disconnection Electrode ProtectiveThermal LineThermal Breaking Rcd Demand Bonding FeedBonding EarthingConductor BoardFault });

/// Every formula, table and rule, so that a finding or a step can name its own.
/// Its formula in symbols and its source are in the module `words`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_rule {
    /// None, or one that this interface does not name yet.
    Other = 0,
    /// Ib = P/(U0·cosφ)
    IbSingle = 1,
    /// Ib = P/(3·U0·cosφ)
    IbThree = 2,
    /// Ib as stated.
    IbStated = 3,
    /// Ib from the demand of what hangs on it.
    IbDemand = 4,
    /// Ib ≤ In.
    IbIn = 5,
    /// It from the tables.
    It = 6,
    /// Iz = It·Ca·Cg·Ci·Cs·Cd.
    Iz = 7,
    /// In ≤ Iz.
    InIz = 8,
    /// A 30 or 32 A ring asks for 20 A a conductor.
    RingIz = 9,
    /// A spur's fuse, or 20 A, against Iz.
    SpurIz = 10,
    /// I2 = factor·In.
    I2 = 11,
    /// I2 ≤ 1.45·Iz.
    I2Iz = 12,
    /// R = r·L/1000·Fθ·F~, line conductor.
    RLine = 13,
    /// The same, neutral.
    RNeutral = 14,
    /// The same, protective conductor.
    RProtective = 15,
    /// The same, steel armour, conduit or trunking.
    RSteel = 16,
    /// X = x·L/1000.
    Reactance = 17,
    /// Armour and core in parallel.
    RParallel = 18,
    /// R1 + R2 of a radial circuit.
    R1R2 = 19,
    /// (r1 + r2)/4 of a ring.
    RingR1R2 = 20,
    /// Zs at the board the circuit starts from.
    ZsBoard = 21,
    /// Zs by sum of magnitudes: the supply's angle is not known.
    ZsSum = 22,
    /// Zs by R and X.
    ZsVector = 23,
    /// If = cmin·U0/Zs.
    IfMin = 24,
    /// Time allowed by system, voltage and kind of circuit.
    TimeAllowed = 25,
    /// Ia of the device for that time.
    Ia = 26,
    /// Largest Zs = cmin·U0/Ia.
    MaxZs = 27,
    /// IΔ the RCD needs for that time.
    IaRcd = 28,
    /// Largest Zs = cmin·U0/IΔ.
    MaxZsRcd = 29,
    /// RA·IΔn ≤ 50 V.
    TouchVoltage = 30,
    /// Drop of a section, single phase.
    DropSingle = 31,
    /// Drop of a section, three phase.
    DropThree = 32,
    /// Drop of a ring.
    DropRing = 33,
    /// Conductor temperature at the load.
    LoadTemperature = 34,
    /// Drop at the board the circuit starts from.
    DropBoard = 35,
    /// Drop from the origin to the furthest point.
    DropTotal = 36,
    /// Drop against its limit.
    DropLimit = 37,
    /// Smallest impedance of the supply, from the fault level.
    ZSupplyMin = 38,
    /// Largest three-phase current.
    IkThree = 39,
    /// Largest line-neutral current.
    IkNeutral = 40,
    /// Largest line-earth current.
    IkEarth = 41,
    /// Largest of them against the rated short-circuit capacity.
    BreakingCapacity = 42,
    /// k by the closed form.
    K = 43,
    /// Initial temperature, by the load the device admits.
    InitialTemperature = 44,
    /// I²t at the smallest current.
    EnergyFar = 45,
    /// I²t at the largest current.
    EnergyNear = 46,
    /// S ≥ √(I²t)/k.
    Adiabatic = 47,
    /// The tabulated minimum by the line conductor's size.
    TabulatedMinimum = 48,
    /// A device that protects against overload and can break the fault protects the line conductor too.
    Deemed = 49,
    /// IΔn for additional protection.
    AdditionalProtection = 50,
    /// Demand with diversity.
    DemandSum = 51,
    /// Demand as stated.
    DemandStated = 52,
    /// Demand against the device.
    DemandDevice = 53,
    /// Bonding conductor by the supply neutral.
    BondingByNeutral = 54,
    /// Bonding conductor by the earthing conductor.
    BondingByEarthing = 55,
    /// The feed's protective conductor must conduct as the bonding conductor would.
    FeedAsBonding = 56,
    /// Earthing conductor by the line conductor.
    EarthingByLine = 57,
    /// Earthing conductor in the ground.
    EarthingBuried = 58,
    /// Largest Zs at a board on an electrode, by the overcurrent device in front.
    BoardMaxZs = 59,
    /// Class II or equivalent insulation up to the RCDs of a board.
    InsulatedFront = 60,
    /// In as chosen.
    Rated = 61,
    /// R1 + R2 at 20 °C.
    R1R2Cold = 62,
    /// Drop as a share of U0.
    DropShare = 63,
}

told!(fp_rule from faultpath::verdict::Rule { IbSingle IbThree IbStated IbDemand IbIn It Iz InIz RingIz SpurIz I2 I2Iz RLine RNeutral RProtective RSteel Reactance RParallel R1R2 RingR1R2 ZsBoard ZsSum ZsVector IfMin TimeAllowed Ia MaxZs IaRcd MaxZsRcd TouchVoltage DropSingle DropThree DropRing LoadTemperature DropBoard DropTotal DropLimit ZSupplyMin IkThree IkNeutral IkEarth BreakingCapacity K InitialTemperature EnergyFar EnergyNear Adiabatic TabulatedMinimum Deemed AdditionalProtection DemandSum DemandStated DemandDevice BondingByNeutral BondingByEarthing FeedAsBonding EarthingByLine EarthingBuried BoardMaxZs InsulatedFront Rated R1R2Cold DropShare });

/// The unit of a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_unit {
    /// None, or one that this interface does not name yet.
    Other = 0,
    /// V
    Volt = 1,
    /// A
    Ampere = 2,
    /// Ω
    Ohm = 3,
    /// MΩ
    MegaOhm = 4,
    /// Ω/km
    OhmPerKm = 5,
    /// m
    Metre = 6,
    /// mm²
    SquareMm = 7,
    /// s
    Second = 8,
    /// W
    Watt = 9,
    /// °C
    Celsius = 10,
    /// A²s
    AmpSquaredSecond = 11,
    /// A·√s/mm²
    KFactor = 12,
    /// A share; shown as per cent.
    Share = 13,
    /// A factor without a unit.
    Factor = 14,
}

told!(fp_unit from faultpath::verdict::Unit { Volt Ampere Ohm MegaOhm OhmPerKm Metre SquareMm Second Watt Celsius AmpSquaredSecond KFactor Share Factor });

/// What is tested.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_test {
    /// None, or one that this interface does not name yet.
    Other = 0,
    /// Continuity of line and protective conductor together, R1 + R2.
    R1R2 = 1,
    /// Continuity of the protective conductor, R2.
    R2 = 2,
    /// Continuity of the armour.
    Armour = 3,
    /// Continuity of a bonding conductor.
    Bonding = 4,
    /// Ring final circuit: end to end and cross-connected.
    Ring = 5,
    /// Insulation resistance.
    Insulation = 6,
    /// Polarity.
    Polarity = 7,
    /// External earth fault loop impedance.
    Ze = 8,
    /// Earth fault loop impedance of a circuit.
    Zs = 9,
    /// Prospective fault current.
    FaultCurrent = 10,
    /// Operating time of an RCD.
    RcdTime = 11,
    /// Operating current of an RCD.
    RcdRamp = 12,
    /// Resistance of an electrode.
    Electrode = 13,
    /// Phase sequence.
    PhaseSequence = 14,
    /// Volt drop.
    VoltDrop = 15,
}

told!(fp_test from faultpath::reading::Test { R1R2 R2 Armour Bonding Ring Insulation Polarity Ze Zs FaultCurrent RcdTime RcdRamp Electrode PhaseSequence VoltDrop });

/// What a reading means, beyond its outcome.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_meaning {
    /// None, or one that this interface does not name yet.
    Other = 0,
    /// Clear of its limit.
    Clear = 1,
    /// The limit is inside the band: repeat, on a better range, or with a better instrument.
    InsideBand = 2,
    /// Beyond its limit.
    Beyond = 3,
    /// Not enough is known to say.
    NotKnown = 4,
    /// Below what leads and zero allow: null the leads and repeat.
    NotBelievable = 5,
    /// No continuity.
    Open = 6,
    /// The conductors touch, or something is left connected.
    Short = 7,
    /// Not over its limit, but more than the design has.
    AboveDesign = 8,
    /// Less than the design has: the reading may not show the conductor alone.
    BelowDesign = 9,
    /// Surge protection or electronic gear is connected, and may be what was measured.
    GearConnected = 10,
    /// Several circuits together are below the limit: that says nothing of each.
    TestEachAlone = 11,
    /// The test voltage was too low for this circuit.
    TestVoltageTooLow = 12,
    /// The RCD tripped at half of IΔn.
    TrippedAtHalf = 13,
    /// The RCD did not trip.
    NoTrip = 14,
    /// It tripped sooner than a selective RCD may.
    TooSoon = 15,
    /// It tripped later than it may.
    TooLate = 16,
    /// The test did not last long enough to say.
    TestTooShort = 17,
    /// The RCD operates below half of IΔn: too sensitive, or current flows to earth already.
    TooSensitive = 18,
    /// The stakes stand too near: move them and repeat.
    MoveStakes = 19,
    /// A conductor is where it does not belong.
    Crossed = 20,
    /// The order of the lines is turned round.
    Reversed = 21,
    /// The ring has the pattern that is said with it.
    RingPattern = 22,
    /// The instrument's step is too coarse for so small a value.
    TooCoarse = 23,
    /// Beyond the limit of the device, on which the design rests: only the RCD would disconnect in time.
    OnlyRcd = 24,
}

told!(fp_meaning from faultpath::reading::Meaning { Clear InsideBand Beyond NotKnown NotBelievable Open Short AboveDesign BelowDesign GearConnected TestEachAlone TestVoltageTooLow TrippedAtHalf NoTrip TooSoon TooLate TestTooShort TooSensitive MoveStakes Crossed Reversed RingPattern TooCoarse OnlyRcd });

/// The rule a reading is held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_reading_rule {
    /// None, or one that this interface does not name yet.
    Other = 0,
    /// R1 + R2 at which, hot, the circuit reaches its largest Zs.
    MaxR1R2 = 1,
    /// R2 at which it does so with the line conductor of the design.
    MaxR2 = 2,
    /// The value of the design and the band around it.
    DesignBand = 3,
    /// Resistance of a bonding conductor by length and size, and 0.05 Ω.
    BondingByLength = 4,
    /// R ≤ 50 V/Ia of a supplementary bonding conductor.
    BondingByTouch = 5,
    /// The pattern of a ring's readings.
    RingPattern = 6,
    /// Smallest insulation resistance by the voltage of the circuit.
    InsulationTable = 7,
    /// The same at 250 V, where gear can't be disconnected.
    InsulationReduced = 8,
    /// Every conductor where it belongs.
    Polarity = 9,
    /// L1, L2, L3 in the order of the origin.
    PhaseSequence = 10,
    /// Ze with which every circuit still disconnects in time.
    MaxZe = 11,
    /// Largest Zs by the device, at the temperature of the reading.
    MaxZs = 12,
    /// Largest Zs by an RCD, at the temperature of the reading.
    MaxZsRcd = 13,
    /// Rated short-circuit capacity over cmax.
    Breaking = 14,
    /// Longest operating time of an RCD.
    RcdLatest = 15,
    /// Longest and shortest operating time of a selective RCD.
    RcdSelective = 16,
    /// No operation at half of IΔn.
    RcdHalf = 17,
    /// Operating current by wave shape.
    RcdRamp = 18,
    /// RA ≤ 50 V/IΔn.
    TouchVoltage = 19,
    /// Three readings agree: largest deviation from the mean × 1.2 below 5 %.
    FallOfPotential = 20,
    /// Volt drop at design current against its limit.
    DropLimit = 21,
}

told!(fp_reading_rule from faultpath::reading::Rule { MaxR1R2 MaxR2 DesignBand BondingByLength BondingByTouch RingPattern InsulationTable InsulationReduced Polarity PhaseSequence MaxZe MaxZs MaxZsRcd Breaking RcdLatest RcdSelective RcdHalf RcdRamp TouchVoltage FallOfPotential DropLimit });

/// The field an error speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_field {
    /// None, or one that this interface does not name yet.
    Other = 0,
    /// Nominal line-to-earth voltage U0.
    U0 = 1,
    /// Kind of current.
    Current = 2,
    /// External earth fault loop impedance Ze.
    Ze = 3,
    /// Resistance of the electrode and its conductor, RA.
    Ra = 4,
    /// Prospective fault current at the origin.
    FaultLevel = 5,
    /// Ratio of reactance to resistance of the supply.
    XOverR = 6,
    /// Voltage factor cmin or cmax.
    VoltageFactor = 7,
    /// Length of a section.
    Length = 8,
    /// Cross-sectional area of a line conductor.
    Csa = 9,
    /// Cross-sectional area of the neutral.
    NeutralCsa = 10,
    /// Cross-sectional area of a protective conductor.
    ProtectiveCsa = 11,
    /// Number of cores.
    Cores = 12,
    /// Conductor material.
    Material = 13,
    /// Insulation.
    Insulation = 14,
    /// Construction of the cable.
    Construction = 15,
    /// Method of installation.
    Method = 16,
    /// Operating temperature.
    OperatingTemperature = 17,
    /// Ambient or ground temperature.
    Ambient = 18,
    /// Number of grouped circuits.
    Grouped = 19,
    /// Arrangement of a group.
    Arrangement = 20,
    /// Thermal resistivity of soil.
    SoilResistivity = 21,
    /// Depth of laying.
    Depth = 22,
    /// Length in thermal insulation.
    InsulationRun = 23,
    /// Resistance per length of armour or enclosure.
    PerLengthResistance = 24,
    /// Rated current In.
    Rating = 25,
    /// Rated short-circuit capacity.
    BreakingCapacity = 26,
    /// Let-through energy.
    LetThrough = 27,
    /// Rated residual operating current IΔn.
    ResidualCurrent = 28,
    /// Design current Ib.
    DesignCurrent = 29,
    /// Power of a load.
    Power = 30,
    /// Power factor.
    PowerFactor = 31,
    /// Number of points a load is spread over.
    Points = 32,
    /// Diversity allowance.
    Diversity = 33,
    /// A limit of the profile.
    Limit = 34,
    /// Time.
    Time = 35,
    /// The board a circuit starts from.
    Board = 36,
    /// The circuit a board is fed by.
    FedBy = 37,
    /// The list of boards.
    Boards = 38,
    /// The list of circuits.
    Circuits = 39,
    /// The list of sections.
    Sections = 40,
    /// Phase of a circuit.
    Phase = 41,
    /// Shape of a circuit.
    Shape = 42,
    /// Earthing conductor.
    EarthingConductor = 43,
    /// Main protective bonding conductor.
    BondingConductor = 44,
    /// A reading of an instrument.
    Reading = 45,
    /// Operating uncertainty of an instrument.
    Uncertainty = 46,
    /// Step of a display.
    Resolution = 47,
    /// Resistance of test leads.
    Leads = 48,
    /// Marked range of an instrument.
    Range = 49,
    /// Diameter of a rod or wire, width of a tape.
    Diameter = 50,
    /// Side of a plate or of a foundation.
    Side = 51,
    /// Distance between rods.
    Spacing = 52,
    /// Number of rods.
    Rods = 53,
    /// Factor for the seasons.
    Season = 54,
}

told!(fp_field from faultpath::error::Field { U0 Current Ze Ra FaultLevel XOverR VoltageFactor Length Csa NeutralCsa ProtectiveCsa Cores Material Insulation Construction Method OperatingTemperature Ambient Grouped Arrangement SoilResistivity Depth InsulationRun PerLengthResistance Rating BreakingCapacity LetThrough ResidualCurrent DesignCurrent Power PowerFactor Points Diversity Limit Time Board FedBy Boards Circuits Sections Phase Shape EarthingConductor BondingConductor Reading Uncertainty Resolution Leads Range Diameter Side Spacing Rods Season });

/// Why a value was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum fp_reason {
    /// None, or one that this interface does not name yet.
    Other = 0,
    /// It is not a number.
    NotANumber = 1,
    /// It is infinite.
    Infinite = 2,
    /// It is below zero, where only zero or more has a meaning.
    Negative = 3,
    /// It is zero, where only more than zero has a meaning.
    Zero = 4,
    /// It is beyond anything this library calculates with.
    TooLarge = 5,
    /// It is above zero, but too small to be meant.
    TooSmall = 6,
    /// No such size or rating is made.
    NotMade = 7,
    /// The table for this combination has no such entry, and it is not extrapolated.
    OutOfTable = 8,
    /// It is needed and was not given.
    Missing = 9,
    /// Direct current is not covered.
    DirectCurrent = 10,
    /// It refers to something that is not there.
    Dangling = 11,
    /// It refers, over others, to itself.
    Cycle = 12,
    /// There are more of them than there is room for.
    TooMany = 13,
    /// It can't be together with another field of the same thing.
    Contradiction = 14,
    /// A code that is none of the choices; 0 is never one.
    NoSuchChoice = 15,
    /// A flag that is neither 0 nor 1.
    NotAFlag = 16,
}

told!(fp_reason from faultpath::error::Reason { NotANumber Infinite Negative Zero TooLarge TooSmall NotMade OutOfTable Missing DirectCurrent Dangling Cycle TooMany Contradiction });
