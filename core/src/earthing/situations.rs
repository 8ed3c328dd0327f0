//! Places to which the earth of a TN-C-S supply is not taken, or only after asking.
//!
//! All from memory, of BS 7671 Part 7 and of what distributors in the United Kingdom ask for; other countries
//! have other rules. Each is a caution. That nothing is flagged is no pass: ask the distributor, see local rules.

use crate::network::{BoardId, Installation};

/// Where the installation is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Situation {
    /// A caravan, or its pitch.
    Caravan,
    /// A boat, or its berth.
    Marina,
    /// A petrol station.
    FuelStation,
    /// A construction or demolition site.
    ConstructionSite,
    /// Farm buildings, animals kept.
    Livestock,
    /// Greenhouses, wet growing.
    Horticulture,
    /// A swimming pool, paddling pool or fountain.
    SwimmingPool,
    /// A hot tub outdoors.
    HotTub,
    /// Charging of electric vehicles outdoors.
    VehicleCharging,
    /// A fair, show or other event of short duration.
    Event,
    /// A unit on wheels or skids, moved with its installation.
    MobileUnit,
    /// A mast, lamp or other metal structure touched by people on open ground.
    Mast,
    /// Within reach of the ground system of a high-voltage station or tower.
    HighVoltage,
    /// A building whose outside is metal.
    MetalClad,
    /// A building of timber without metal that goes into the ground.
    Timber,
    /// Metal or equipment used outdoors, beyond what is bonded.
    Outdoors,
}

/// How it stands with an exported TN-C-S earth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stance {
    /// Commonly done; think of it, and ask.
    Ask,
    /// Doubtful: only with what the rules for this place ask in addition.
    Doubtful,
    /// Not allowed, but for exceptions that the rules name.
    NotAllowed,
}

impl Situation {
    /// Every one.
    pub const ALL: [Situation; 16] = [
        Situation::Caravan,
        Situation::Marina,
        Situation::FuelStation,
        Situation::ConstructionSite,
        Situation::Livestock,
        Situation::Horticulture,
        Situation::SwimmingPool,
        Situation::HotTub,
        Situation::VehicleCharging,
        Situation::Event,
        Situation::MobileUnit,
        Situation::Mast,
        Situation::HighVoltage,
        Situation::MetalClad,
        Situation::Timber,
        Situation::Outdoors,
    ];

    /// How it stands with an exported TN-C-S earth there (from memory).
    #[must_use]
    pub const fn stance(self) -> Stance {
        match self {
            Situation::Caravan
            | Situation::Marina
            | Situation::FuelStation
            | Situation::VehicleCharging
            | Situation::MobileUnit
            | Situation::HighVoltage => Stance::NotAllowed,
            Situation::ConstructionSite
            | Situation::Livestock
            | Situation::Horticulture
            | Situation::SwimmingPool
            | Situation::HotTub
            | Situation::Event
            | Situation::Mast
            | Situation::MetalClad
            | Situation::Outdoors => Stance::Doubtful,
            Situation::Timber => Stance::Ask,
        }
    }
}

/// What the job itself says of a board: a circuit for equipment outdoors hangs on it.
#[must_use]
pub fn raised<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    board: BoardId,
) -> Option<Situation> {
    inst.circuits()
        .any(|(_, c)| c.outdoors && super::options::hangs_on(inst, c.board, board))
        .then_some(Situation::Outdoors)
}
