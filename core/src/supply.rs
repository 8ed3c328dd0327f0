//! The supply: what there is at the origin, and what is known of it.

use crate::conductor::Material;
use crate::device::Device;
use crate::error::{Error, Field, Reason};
use crate::quantity::{Amps, Ohms, Ratio, SquareMm, Volts};

/// Number of phases.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phases {
    /// Line and neutral.
    Single,
    /// Three lines and neutral.
    Three,
}

/// A system of earthing, as a circuit is judged by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Earthing {
    /// Separate protective conductor from the source.
    TnS,
    /// Combined neutral and protective conductor in the supply.
    TnCS,
    /// Own electrode.
    Tt,
}

/// What is known of the supply's earthing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SupplyEarthing {
    /// It is known.
    Known(Earthing),
    /// It can't be told: every circuit is judged as TN-C-S and as TT, and the worse counts.
    NotKnown,
}

impl SupplyEarthing {
    /// The systems to judge by: one, or two where it is not known.
    #[must_use]
    pub const fn readings(self) -> &'static [Earthing] {
        match self {
            SupplyEarthing::Known(Earthing::TnS) => &[Earthing::TnS],
            SupplyEarthing::Known(Earthing::TnCS) => &[Earthing::TnCS],
            SupplyEarthing::Known(Earthing::Tt) => &[Earthing::Tt],
            SupplyEarthing::NotKnown => &[Earthing::TnCS, Earthing::Tt],
        }
    }
}

/// Where a figure of the supply comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Measured at this origin.
    Measured,
    /// Declared by the distributor for this supply.
    Declared,
    /// A typical figure.
    Typical,
}

/// The largest prospective fault current at the origin: line to neutral of a single-phase supply,
/// three-phase of a three-phase one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FaultLevel {
    /// Stated.
    Stated(Amps, Origin),
    /// To be taken from Ze. Only TN-C-S has its neutral in that loop.
    FromZe,
    /// Not known.
    NotKnown,
}

/// A conductor on its own: bonding, earthing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conductor {
    /// Material.
    pub material: Material,
    /// Cross-sectional area.
    pub csa: SquareMm,
}

/// The earthing conductor: from the main earthing terminal to the means of earthing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EarthingConductor {
    /// The conductor.
    pub conductor: Conductor,
    /// It lies in the ground.
    pub buried: bool,
    /// It is protected against mechanical damage.
    pub mechanical: bool,
    /// It is protected against corrosion by a sheath.
    pub corrosion: bool,
}

/// The supply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supply {
    /// Nominal line-to-earth voltage.
    pub u0: Volts,
    /// Phases.
    pub phases: Phases,
    /// Earthing.
    pub earthing: SupplyEarthing,
    /// External earth fault loop impedance.
    pub ze: Option<Ohms>,
    /// Where Ze comes from.
    pub ze_origin: Origin,
    /// Resistance of the installation's own electrode and its conductor.
    pub ra: Option<Ohms>,
    /// Largest prospective fault current.
    pub fault_level: FaultLevel,
    /// X/R of the supply's impedance. Where it is not known, the worse end is taken each time.
    pub x_over_r: Option<Ratio>,
    /// The incoming device.
    pub device: Option<Device>,
    /// Supply neutral, copper or its equivalent.
    pub neutral: Option<SquareMm>,
    /// Line conductors at the origin.
    pub tails: Option<SquareMm>,
    /// Earthing conductor.
    pub earthing_conductor: Option<EarthingConductor>,
    /// There are extraneous-conductive-parts (metal services, structural metal).
    pub extraneous: bool,
    /// Main protective bonding conductor.
    pub bonding: Option<Conductor>,
}

impl Supply {
    /// Checks what the types alone can't.
    ///
    /// # Errors
    /// [`Reason::TooSmall`], [`Reason::TooLarge`] where a figure can't be of a low-voltage supply.
    pub fn check(&self) -> Result<(), Error> {
        if self.u0.get() > 1000.0 {
            return Err(Reason::TooLarge.at(Field::U0));
        }
        if let Some(ze) = self.ze {
            if ze.get() < 1e-3 {
                return Err(Reason::TooSmall.at(Field::Ze));
            }
        }
        if let FaultLevel::Stated(i, _) = self.fault_level {
            if i.get() < 1.0 {
                return Err(Reason::TooSmall.at(Field::FaultLevel));
            }
        }
        if self.phases == Phases::Three && self.u0.get() > 600.0 {
            return Err(Reason::TooLarge.at(Field::U0));
        }
        Ok(())
    }
}
