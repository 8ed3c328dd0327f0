//! The installation as a tree: supply, boards, circuits, sections.
//!
//! An arena of fixed capacity, linked by indices. A board says which circuit feeds it, a circuit from
//! which board it starts; walks go by depth, level by level, without recursion.

use crate::cable::{Construction, Laying};
use crate::conductor::{Insulation, Material};
use crate::device::{Device, Rcd};
use crate::error::{Error, Field, Reason};
use crate::profile::{Entry, LoadClass, Profile};
use crate::quantity::{Amps, Celsius, Metres, Ohms, OhmsPerKm, Ratio, SquareMm, Watts};
use crate::supply::{Conductor, EarthingConductor, Phases, Supply};
use heapless::Vec;

/// Most sections in one circuit.
pub const SECTIONS: usize = 6;
/// Deepest board that is walked, the one at the origin being 0.
pub const DEPTH: usize = 8;

/// Index of a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BoardId(pub u16);

/// Index of a circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct CircuitId(pub u16);

/// How a board is earthed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BoardEarthing {
    /// Over the feed, as the board it comes from.
    AsSupply,
    /// By an electrode of its own (TT from here on); its RA, if known.
    OwnElectrode(Option<Ohms>),
}

/// What a board is made of, as an earth fault at the board itself sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Enclosure {
    /// There is metal that a fault in front of its RCDs can reach.
    Metal,
    /// Its enclosure, and all that leads to it, are of class II or equivalent insulation up to the terminals
    /// of its RCDs.
    Insulated,
}

/// A distribution board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Board {
    /// The circuit that feeds it; none for a board at the origin.
    pub fed_by: Option<CircuitId>,
    /// Earthing.
    pub earthing: BoardEarthing,
    /// What it is made of up to its RCDs; none where it was not said. It matters where an electrode is its
    /// earth.
    pub enclosure: Option<Enclosure>,
    /// An RCD in it that all its circuits are behind. What is in front of its terminals is not.
    pub rcd: Option<Rcd>,
    /// The assembly's rated conditional short-circuit current, where its maker gives one for the device upstream.
    pub conditional: Option<Amps>,
    /// There are extraneous-conductive-parts here.
    pub extraneous: bool,
    /// Main protective bonding conductor here.
    pub bonding: Option<Conductor>,
    /// Earthing conductor to the electrode of its own.
    pub earthing_conductor: Option<EarthingConductor>,
    /// Demand as stated, in place of the sum with diversity.
    pub demand: Option<Amps>,
}

impl Board {
    /// For [`demand`](Self::demand): it is stated, but not known. Then nothing stands in its place.
    pub const DEMAND_NOT_KNOWN: Option<Amps> = Some(Amps::raw(f32::NAN));
}

/// Which line a circuit is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// L1
    L1,
    /// L2
    L2,
    /// L3
    L3,
    /// All three.
    Three,
}

/// Shape of a circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// From the board outwards.
    Radial,
    /// Out and back to the same terminals; its sections give the whole loop.
    Ring,
}

/// What a circuit is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// Socket-outlets.
    Sockets,
    /// Lighting.
    Lighting,
    /// Fixed equipment.
    Fixed,
    /// Feeds a board.
    Distribution,
}

/// How much it takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Demand {
    /// A current.
    Current(Amps),
    /// A power, at the load's power factor.
    Power(Watts),
    /// For a distribution circuit: what hangs on it. For a final circuit: not known.
    Derived,
    /// Not known, of a distribution circuit neither.
    NotKnown,
}

/// The load of a circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// How much.
    pub demand: Demand,
    /// Power factor, above 0 up to 1.
    pub power_factor: Ratio,
    /// Class, for the limit of drop and for diversity.
    pub class: LoadClass,
    /// 1: all at the far end. n: n equal points, evenly spread, the last at the end (of a ring: between its ends).
    pub points: u8,
}

/// Part of a circuit a section belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The run itself, or the loop of a ring.
    Run,
    /// A spur from the worst point of the run.
    Spur,
}

/// The protective conductor of a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Protective {
    /// A core of the same cable.
    Core(Conductor),
    /// A conductor of its own, not bunched with the others.
    Separate(Conductor),
    /// The steel wire armour, by the standard's table, or as entered.
    Armour(Option<Steel>),
    /// Armour and a core in parallel.
    ArmourAndCore(Option<Steel>, Conductor),
    /// Steel conduit or trunking, as entered.
    Enclosure(Steel),
    /// None. Only before a board with its own electrode.
    None,
}

/// Steel in the place of a conductor, by its maker's figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steel {
    /// Resistance at 20 °C.
    pub resistance: OhmsPerKm,
    /// Cross-sectional area, if known.
    pub area: Option<SquareMm>,
}

/// A length of one cable laid in one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Length.
    pub length: Metres,
    /// Run or spur.
    pub part: Part,
    /// A fuse at the start of a spur.
    pub spur_fuse: Option<Device>,
    /// Material of line and neutral.
    pub material: Material,
    /// Size of the line conductor.
    pub csa: SquareMm,
    /// Size of the neutral, where it differs.
    pub neutral: Option<SquareMm>,
    /// Insulation.
    pub insulation: Insulation,
    /// Construction.
    pub construction: Construction,
    /// Cores of the cable.
    pub cores: u8,
    /// A limit of temperature below the insulation's own.
    pub operating_limit: Option<Celsius>,
    /// Protective conductor.
    pub protective: Protective,
    /// How it is laid.
    pub laying: Laying,
}

impl Section {
    /// The temperature its conductors may reach in service.
    #[must_use]
    pub fn operating(&self) -> Celsius {
        let own = self.insulation.max_operating();
        match self.operating_limit {
            Some(limit) if limit.get() < own.get() => limit,
            _ => own,
        }
    }

    /// Size of the neutral.
    #[must_use]
    pub fn neutral_csa(&self) -> SquareMm {
        self.neutral.unwrap_or(self.csa)
    }

    /// Checks the section by itself: sizes made, combinations that exist.
    ///
    /// # Errors
    /// The field and the reason.
    pub fn check(&self) -> Result<(), Error> {
        match self.material {
            Material::Copper | Material::Aluminium => {}
            Material::Steel | Material::Lead => return Err(Reason::NotMade.at(Field::Material)),
        }
        crate::conductor::resistance_20(self.material, self.csa)?;
        if let Some(n) = self.neutral {
            crate::conductor::resistance_20(self.material, n)
                .map_err(|e| e.reason.at(Field::NeutralCsa))?;
        }
        match self.protective {
            Protective::Core(c) | Protective::Separate(c) | Protective::ArmourAndCore(_, c) => {
                crate::conductor::resistance_20(c.material, c.csa)
                    .map_err(|e| e.reason.at(Field::ProtectiveCsa))?;
            }
            Protective::Armour(_) | Protective::Enclosure(_) | Protective::None => {}
        }
        if matches!(
            self.protective,
            Protective::Armour(None) | Protective::ArmourAndCore(None, _)
        ) {
            if self.construction != Construction::Armoured {
                return Err(Reason::Contradiction.at(Field::Construction));
            }
            // The table is of cables with copper conductors.
            if self.material != Material::Copper {
                return Err(Reason::OutOfTable.at(Field::PerLengthResistance));
            }
            crate::conductor::armour(self.csa, self.cores, self.insulation)?;
        }
        if let Some(limit) = self.operating_limit {
            if limit.get() < 40.0 {
                return Err(Reason::TooSmall.at(Field::OperatingTemperature));
            }
        }
        if self.part == Part::Run && self.spur_fuse.is_some() {
            return Err(Reason::Contradiction.at(Field::Rating));
        }
        if self.cores == 0 || self.cores > 48 {
            return Err(Reason::NotMade.at(Field::Cores));
        }
        if self.laying.grouped == 0 {
            return Err(Reason::Zero.at(Field::Grouped));
        }
        Ok(())
    }
}

/// A circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// The board it starts from.
    pub board: BoardId,
    /// Its phase.
    pub phase: Phase,
    /// Its shape.
    pub shape: Shape,
    /// Its overcurrent device.
    pub device: Device,
    /// An RCD of its own; that of an RCBO too.
    pub rcd: Option<Rcd>,
    /// What it is for.
    pub purpose: Use,
    /// It feeds mobile equipment outdoors.
    pub outdoors: bool,
    /// It is in or passes through a room with a bath or shower.
    pub bath: bool,
    /// It is concealed in a wall at less than 50 mm without earthed metal around it.
    pub concealed: bool,
    /// It is in a dwelling.
    pub dwelling: bool,
    /// Its load.
    pub load: Load,
    /// Its sections, from the board outwards.
    pub sections: Vec<Section, SECTIONS>,
}

impl Circuit {
    /// Number of loaded conductors.
    #[must_use]
    pub const fn loaded(&self) -> u8 {
        match self.phase {
            Phase::Three => 3,
            _ => 2,
        }
    }

    /// Checks the circuit by itself.
    ///
    /// # Errors
    /// The section it is in, if it is in one, and the error.
    pub fn check(&self) -> Result<(), (Option<u8>, Error)> {
        if !self.sections.iter().any(|s| s.part == Part::Run) {
            return Err((None, Reason::Missing.at(Field::Sections)));
        }
        for (n, s) in (0u8..).zip(&self.sections) {
            s.check().map_err(|e| (Some(n), e))?;
        }
        let pf = self.load.power_factor.get();
        if pf == 0.0 {
            return Err((None, Reason::Zero.at(Field::PowerFactor)));
        }
        if pf < 0.05 {
            return Err((None, Reason::TooSmall.at(Field::PowerFactor)));
        }
        if pf > 1.0 {
            return Err((None, Reason::TooLarge.at(Field::PowerFactor)));
        }
        if self.load.points == 0 {
            return Err((None, Reason::Zero.at(Field::Points)));
        }
        if self.shape == Shape::Ring && self.phase == Phase::Three {
            return Err((None, Reason::Contradiction.at(Field::Phase)));
        }
        // What hangs on a distribution circuit hangs on its end: nothing along it takes a share.
        if self.purpose == Use::Distribution {
            if self.shape == Shape::Ring {
                return Err((None, Reason::Contradiction.at(Field::Shape)));
            }
            if self.load.points > 1 {
                return Err((None, Reason::Contradiction.at(Field::Points)));
            }
            if let Some(n) = self.sections.iter().position(|s| s.part == Part::Spur) {
                return Err((
                    u8::try_from(n).ok(),
                    Reason::Contradiction.at(Field::Sections),
                ));
            }
        }
        if self.device.family().has_rcd() && self.rcd.is_none() {
            return Err((None, Reason::Missing.at(Field::ResidualCurrent)));
        }
        Ok(())
    }
}

/// An installation of at most `B` boards and `C` circuits.
#[derive(Clone, Debug, PartialEq)]
pub struct Installation<const B: usize, const C: usize> {
    /// National and user's choices.
    pub profile: Profile,
    /// The supply.
    pub supply: Supply,
    /// The boards.
    pub boards: Vec<Board, B>,
    /// The circuits.
    pub circuits: Vec<Circuit, C>,
}

/// Where an error of an installation is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum At {
    /// A figure of the profile.
    Profile(Entry),
    /// The supply.
    Supply,
    /// A board.
    Board(BoardId),
    /// A circuit, and a section of it.
    Circuit(CircuitId, Option<u8>),
}

impl<const B: usize, const C: usize> Installation<B, C> {
    /// A board by its index.
    #[must_use]
    pub fn board(&self, id: BoardId) -> Option<&Board> {
        self.boards.get(usize::from(id.0))
    }

    /// A circuit by its index.
    #[must_use]
    pub fn circuit(&self, id: CircuitId) -> Option<&Circuit> {
        self.circuits.get(usize::from(id.0))
    }

    /// Every circuit with its index.
    pub fn circuits(&self) -> impl Iterator<Item = (CircuitId, &Circuit)> {
        (0u16..).map(CircuitId).zip(self.circuits.iter())
    }

    /// Every board with its index.
    pub fn boards(&self) -> impl Iterator<Item = (BoardId, &Board)> {
        (0u16..).map(BoardId).zip(self.boards.iter())
    }

    /// Tells every error there is to `say`; whether there was none.
    ///
    /// Values are checked when they are made; this checks what they are together.
    pub fn check(&self, mut say: impl FnMut(At, Error)) -> bool {
        let mut good = true;
        let mut tell = |at, error| {
            good = false;
            say(at, error);
        };
        let _ = self
            .profile
            .sift(&mut |entry, e| tell(At::Profile(entry), e));
        if let Err(e) = self.supply.check() {
            tell(At::Supply, e);
        }
        for (id, board) in self.boards() {
            if let Err(e) = self.check_board(id, board) {
                tell(At::Board(id), e);
            }
        }
        for (id, circuit) in self.circuits() {
            if self.board(circuit.board).is_none() {
                tell(At::Circuit(id, None), Reason::Dangling.at(Field::Board));
            }
            if let Err((section, e)) = circuit.check() {
                tell(At::Circuit(id, section), e);
            }
            if circuit.phase == Phase::Three && !self.is_three_phase(circuit.board) {
                tell(
                    At::Circuit(id, None),
                    Reason::Contradiction.at(Field::Phase),
                );
            }
        }
        good
    }

    fn check_board(&self, id: BoardId, board: &Board) -> Result<(), Error> {
        if let Some(feed) = board.fed_by {
            let circuit = self
                .circuit(feed)
                .ok_or(Reason::Dangling.at(Field::FedBy))?;
            if circuit.purpose != Use::Distribution {
                return Err(Reason::Contradiction.at(Field::FedBy));
            }
        }
        self.depth(id).map(|_| ())
    }

    /// The depth of a board: 0 at the origin.
    ///
    /// # Errors
    /// [`Reason::Cycle`], [`Reason::Dangling`], or [`Reason::TooMany`] beyond [`DEPTH`].
    pub fn depth(&self, id: BoardId) -> Result<u8, Error> {
        let mut at = id;
        for depth in 0..=B {
            let board = self.board(at).ok_or(Reason::Dangling.at(Field::Board))?;
            let Some(feed) = board.fed_by else {
                return if depth < DEPTH {
                    u8::try_from(depth).map_err(|_| Reason::TooMany.at(Field::FedBy))
                } else {
                    Err(Reason::TooMany.at(Field::FedBy))
                };
            };
            at = self
                .circuit(feed)
                .ok_or(Reason::Dangling.at(Field::FedBy))?
                .board;
        }
        Err(Reason::Cycle.at(Field::FedBy))
    }

    /// Whether three phases reach a board.
    #[must_use]
    pub fn is_three_phase(&self, id: BoardId) -> bool {
        let mut at = id;
        for _ in 0..=B {
            let Some(board) = self.board(at) else {
                return false;
            };
            let Some(feed) = board.fed_by else {
                return self.supply.phases == Phases::Three;
            };
            match self.circuit(feed) {
                Some(c) if c.phase == Phase::Three => at = c.board,
                _ => return false,
            }
        }
        false
    }

    /// Whether `inner` is `outer`, or hangs on it.
    #[must_use]
    pub fn is_within(&self, inner: CircuitId, outer: CircuitId) -> bool {
        let mut at = inner;
        for _ in 0..=B {
            if at == outer {
                return true;
            }
            let feed = self
                .circuit(at)
                .and_then(|c| self.board(c.board))
                .and_then(|b| b.fed_by);
            match feed {
                Some(feed) => at = feed,
                None => return false,
            }
        }
        false
    }
}

#[cfg(test)]
mod tests;
