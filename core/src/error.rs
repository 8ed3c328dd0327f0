//! What can be wrong with an input: one error, naming the field and the reason.

use crate::list::listed;
use core::fmt;

/// Why a value was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Reason {
    /// It is not a number.
    NotANumber,
    /// It is infinite.
    Infinite,
    /// It is below zero, where only zero or more has a meaning.
    Negative,
    /// It is zero, where only more than zero has a meaning.
    Zero,
    /// It is beyond anything this library calculates with.
    TooLarge,
    /// It is above zero, but too small to be meant.
    TooSmall,
    /// No such size or rating is made.
    NotMade,
    /// The table for this combination has no such entry, and it is not extrapolated.
    OutOfTable,
    /// It is needed and was not given.
    Missing,
    /// Direct current is not covered.
    DirectCurrent,
    /// It refers to something that is not there.
    Dangling,
    /// It refers, over others, to itself.
    Cycle,
    /// There are more of them than there is room for.
    TooMany,
    /// It can't be together with another field of the same thing.
    Contradiction,
}

listed! {
    Reason:
    NotANumber Infinite Negative Zero TooLarge TooSmall NotMade OutOfTable Missing DirectCurrent
    Dangling Cycle TooMany Contradiction
}

/// The field an error speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Field {
    /// Nominal line-to-earth voltage U0.
    U0,
    /// Kind of current.
    Current,
    /// External earth fault loop impedance Ze.
    Ze,
    /// Resistance of the electrode and its conductor, RA.
    Ra,
    /// Prospective fault current at the origin.
    FaultLevel,
    /// Ratio of reactance to resistance of the supply.
    XOverR,
    /// Voltage factor cmin or cmax.
    VoltageFactor,
    /// Length of a section.
    Length,
    /// Cross-sectional area of a line conductor.
    Csa,
    /// Cross-sectional area of the neutral.
    NeutralCsa,
    /// Cross-sectional area of a protective conductor.
    ProtectiveCsa,
    /// Number of cores.
    Cores,
    /// Conductor material.
    Material,
    /// Insulation.
    Insulation,
    /// Construction of the cable.
    Construction,
    /// Method of installation.
    Method,
    /// Operating temperature.
    OperatingTemperature,
    /// Ambient or ground temperature.
    Ambient,
    /// Number of grouped circuits.
    Grouped,
    /// Arrangement of a group.
    Arrangement,
    /// Thermal resistivity of soil.
    SoilResistivity,
    /// Depth of laying.
    Depth,
    /// Length in thermal insulation.
    InsulationRun,
    /// Resistance per length of armour or enclosure.
    PerLengthResistance,
    /// Rated current In.
    Rating,
    /// Rated short-circuit capacity.
    BreakingCapacity,
    /// Let-through energy.
    LetThrough,
    /// Rated residual operating current IΔn.
    ResidualCurrent,
    /// Design current Ib.
    DesignCurrent,
    /// Power of a load.
    Power,
    /// Power factor.
    PowerFactor,
    /// Number of points a load is spread over.
    Points,
    /// Diversity allowance.
    Diversity,
    /// A limit of the profile.
    Limit,
    /// Time.
    Time,
    /// The board a circuit starts from.
    Board,
    /// The circuit a board is fed by.
    FedBy,
    /// The list of boards.
    Boards,
    /// The list of circuits.
    Circuits,
    /// The list of sections.
    Sections,
    /// Phase of a circuit.
    Phase,
    /// Shape of a circuit.
    Shape,
    /// Earthing conductor.
    EarthingConductor,
    /// Main protective bonding conductor.
    BondingConductor,
    /// A reading of an instrument.
    Reading,
    /// Operating uncertainty of an instrument.
    Uncertainty,
    /// Step of a display.
    Resolution,
    /// Resistance of test leads.
    Leads,
    /// Marked range of an instrument.
    Range,
    /// Diameter of a rod or wire, width of a tape.
    Diameter,
    /// Side of a plate or of a foundation.
    Side,
    /// Distance between rods.
    Spacing,
    /// Number of rods.
    Rods,
    /// Factor for the seasons.
    Season,
}

listed! {
    Field:
    U0 Current Ze Ra FaultLevel XOverR VoltageFactor Length Csa NeutralCsa ProtectiveCsa Cores
    Material Insulation Construction Method OperatingTemperature Ambient Grouped Arrangement
    SoilResistivity Depth InsulationRun PerLengthResistance Rating BreakingCapacity LetThrough
    ResidualCurrent DesignCurrent Power PowerFactor Points Diversity Limit Time Board FedBy Boards
    Circuits Sections Phase Shape EarthingConductor BondingConductor Reading Uncertainty Resolution
    Leads Range Diameter Side Spacing Rods Season
}

/// A refused input.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Error {
    /// Which field.
    pub field: Field,
    /// Why.
    pub reason: Reason,
}

impl Reason {
    /// Names the field a reason belongs to.
    #[must_use]
    pub const fn at(self, field: Field) -> Error {
        Error {
            field,
            reason: self,
        }
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?}: {:?}", self.field, self.reason)
    }
}

impl core::error::Error for Error {}
