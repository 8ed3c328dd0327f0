//! Ways of earthing a board away from the house, side by side, on the job's own figures.
//!
//! No formula is turned round and none is doubled: the board's earthing is changed, the installation judged
//! by the same walk, and changed back.

use super::electrode::{STABLE, touch_voltage};
use super::lost_neutral::{LineLoad, LostNeutral, Sought, Span, parallel};
use super::{Formula, Worked, greatest, situations};
use crate::assess::assess;
use crate::cable::Construction;
use crate::check::{bonding, earthing_conductor, held, outwards};
use crate::device::{Known, Rcd, RcdDelay, RcdType};
use crate::error::{Error, Field, Reason};
use crate::facts::{BoardFacts, CircuitFacts};
use crate::network::{BoardEarthing, BoardId, Circuit, CircuitId, Installation, Protective};
use crate::profile::long_time;
use crate::quantity::{Amps, Ohms, Ratio, SquareMm, Volts};
use crate::supply::{Earthing, Phases};
use crate::verdict::{
    Assumed, Check, Finding, Lacking, Outcome, Place, Recorder, Rule, Sense, Unit, Worst,
};
use bitflags::bitflags;
use heapless::Vec;

/// A way of earthing a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scheme {
    /// Over the feed, as the board it comes from.
    ExtendSupply,
    /// By an electrode of its own, and not over the feed.
    OwnElectrode,
    /// Over the feed, and by an electrode in addition.
    ExtendWithElectrode,
}

impl Scheme {
    /// Every one, in the order they are compared.
    pub const ALL: [Scheme; 3] = [
        Scheme::ExtendSupply,
        Scheme::OwnElectrode,
        Scheme::ExtendWithElectrode,
    ];
}

/// The building, beside what the job says of its board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outbuilding {
    /// Its board.
    pub board: BoardId,
    /// Resistance of the electrode there, with its conductor, in the worst season; if known.
    pub electrode: Option<Ohms>,
    /// The kind of RCD its loads ask for.
    pub rcd_type: RcdType,
    /// The smallest load of a line, as a share of its demand, for what a lost neutral does.
    pub least_load: Ratio,
    /// The voltage on metal that a lost neutral shall not pass.
    pub limit: Volts,
}

/// An RCD, and whether those behind it go first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Selective {
    /// There are none behind.
    NothingBehind,
    /// It is selective: type S, of at least three times the IΔn of those behind, which are without delay
    /// (BS 7671 536, IEC 60364-5-53, from memory).
    Yes,
    /// No selective one disconnects in time at this electrode.
    No,
}

/// The RCD in front of a board that a scheme needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RcdNeed {
    /// None for protection in case of a fault: the overcurrent devices disconnect in time.
    None,
    /// This one: of those made, the largest IΔn with which the touch voltage and the times hold.
    This {
        /// The RCD.
        rcd: Rcd,
        /// Whether those behind it go first.
        selective: Selective,
        /// The worst of the board and of what hangs on it, with this one at the start of the feed in place of
        /// the board's own; with an electrode in addition, also of its earthing conductor.
        outcome: Outcome,
        /// The first check that is as bad as that; none where all pass.
        check: Option<Check>,
    },
    /// None that is made will do.
    NoneServes,
    /// It can't be said yet; or nothing hangs on the board.
    NotKnown(Lacking),
}

/// What becomes of armour, or of other metal around the feed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Armour {
    /// There is none.
    None,
    /// Joined at both ends.
    Through,
    /// Earthed at the board it comes from, and kept apart from the metal and the earth of the building.
    ApartAtBuilding {
        /// How it would come out the other way about: earthed in the building, apart at the board it comes
        /// from. A fault in the cable then returns through the electrode, and an RCD at the start of the feed
        /// must see it.
        apart_at_origin: Outcome,
    },
}

/// What a lost supply neutral does to the metal of the building.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lost {
    /// No metal is joined to a neutral that could be lost: the supply is not TN-C-S.
    NotJoined,
    /// The metal is not joined to the supply's neutral, but that of the house is: the voltage between the
    /// earths of the two, in volts, or what is missing to say.
    Apart(Result<Span, Lacking>),
    /// It rises, and by how much can't be said.
    NotKnown(Lacking),
    /// It rises.
    Rises {
        /// Voltage against earth, in volts, from small load to full.
        metal: Span,
        /// The electrodes it was computed with; none known is as none there.
        electrode: Option<Ohms>,
        /// The most the electrode of the building, and the feed's protective conductor, then carry, in
        /// amperes. None without one.
        current: Option<f32>,
        /// The electrode of the building with which the limit would hold at full load; none if none can.
        sought: Option<Sought>,
    },
}

bitflags! {
    /// What is to be thought of. None of these is a verdict.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Caution: u32 {
        /// The distributor decides whether its earth may be taken there.
        const ASK_DISTRIBUTOR = 1;
        /// With the supply's neutral lost, metal there is at a dangerous voltage, and nothing disconnects.
        const LIVE_METAL = 1 << 1;
        /// Neighbours behind the same break can make it worse.
        const NEIGHBOURS = 1 << 2;
        /// Outside, a person stands on earth that is not bonded to what is touched.
        const NO_EQUIPOTENTIAL_OUTSIDE = 1 << 3;
        /// The feed's protective conductor carries part of the neutral's current.
        const DIVERTED_CURRENT = 1 << 4;
        /// Pipes, steel, screens of other cables must not join the two earths.
        const KEEP_EARTHS_APART = 1 << 5;
        /// Within reach of each other there must not be metal of both earths.
        const NOT_WITHIN_REACH = 1 << 6;
        /// The electrode is made and measured before anything is energised.
        const ELECTRODE_FIRST = 1 << 7;
        /// RA is a design figure until it is measured.
        const MEASURE = 1 << 8;
        /// RA is above 200 Ω: it may not stay what it was.
        const MAY_NOT_BE_STABLE = 1 << 9;
        /// Only the RCD protects: it is to be tested, and what is in front of it has no exposed metal.
        const RCD_ALONE = 1 << 10;
        /// The feed's protective core ends in the building insulated, joined to nothing.
        const FEED_CORE_INSULATED = 1 << 11;
        /// Armour or conduit of the feed is not to join the two earths.
        const ARMOUR_APART = 1 << 12;
        /// The earthing conductor of the electrode carries what bonding carries, and is sized so.
        const ELECTRODE_AS_BONDING = 1 << 13;
        /// The electrode is too poor to hold the metal below the limit when the neutral is lost.
        const ELECTRODE_TOO_POOR = 1 << 14;
        /// The current through the electrode adds to the largest fault current, more than the devices have
        /// to spare.
        const ADDS_TO_FAULT_CURRENT = 1 << 15;
        /// Equipment outdoors hangs on this board.
        const OUTDOORS = 1 << 16;
        /// No metal that goes into the ground is entered for this building: no bonding is judged.
        const NO_EXTRANEOUS_ENTERED = 1 << 17;
        /// The overcurrent devices alone disconnect: the electrode must stay that good.
        const ELECTRODE_MUST_STAY = 1 << 18;
        /// An RCD further up may go before the one needed here.
        const UPSTREAM_NOT_SELECTIVE = 1 << 19;
        /// No RCD in front disconnects a fault at the board itself: those behind it do not.
        const NO_RCD_IN_FRONT = 1 << 20;
    }
}

impl Caution {
    /// Those a person must have read before trusting the verdict beside them: shown with it, never folded away.
    #[must_use]
    pub const fn grave() -> Self {
        Self::ASK_DISTRIBUTOR
            .union(Self::LIVE_METAL)
            .union(Self::MAY_NOT_BE_STABLE)
            .union(Self::ELECTRODE_FIRST)
            .union(Self::ELECTRODE_TOO_POOR)
            .union(Self::ADDS_TO_FAULT_CURRENT)
            .union(Self::NO_RCD_IN_FRONT)
    }
}

/// One scheme, as it comes out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// Which.
    pub scheme: Scheme,
    /// The worst of the board and of what hangs on it, with the job's own RCDs.
    pub outcome: Outcome,
    /// The first check that is as bad as that; none where all pass.
    pub check: Option<Check>,
    /// The worst of the feed's own findings.
    pub feed: Outcome,
    /// The circuit behind the board that disconnects worst.
    pub disconnection: Option<Finding>,
    /// The circuit with the highest touch voltage RA·IΔn; none where it is not TT, or has no RCD.
    pub touch: Option<Finding>,
    /// An earth fault at the board itself: with an electrode of its own as the walk finds it, otherwise the
    /// feed's disconnection.
    pub at_board: Option<Finding>,
    /// The bonding conductor of the building.
    pub bonding: Option<Finding>,
    /// The feed's protective conductor as a bonding conductor.
    pub feed_bonding: Option<Finding>,
    /// The earthing conductor of the electrode; with one in addition, as big as bonding asks too.
    pub earthing_conductor: Option<Finding>,
    /// What the bonding conductor must be, and what the feed must do as well as, as copper; or what is missing.
    pub bonding_needed: Result<SquareMm, Lacking>,
    /// RCD in front.
    pub rcd: RcdNeed,
    /// The largest RA with which that RCD still does, and the RCD: the one needed; where none can be named,
    /// the one the job has, or 100 mA. TT only.
    pub electrode_sought: Option<(Rcd, Ohms)>,
    /// Whether RA is one that stays (common practice: up to 200 Ω); where an electrode is part of it and known.
    pub stable: Option<bool>,
    /// Armour of the feed.
    pub armour: Armour,
    /// A lost supply neutral.
    pub lost: Lost,
    /// The largest current through the added electrode that the walk does not count, in amperes.
    pub through_electrode: Option<f32>,
    /// What is to be thought of.
    pub cautions: Caution,
}

/// Whether board `at` is `board`, or is fed over it.
pub(crate) fn hangs_on<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    mut at: BoardId,
    board: BoardId,
) -> bool {
    for _ in 0..=B {
        if at == board {
            return true;
        }
        let above = inst
            .board(at)
            .and_then(|b| b.fed_by)
            .and_then(|f| inst.circuit(f));
        match above {
            Some(feed) => at = feed.board,
            None => return false,
        }
    }
    false
}

/// What an electrode by itself asks for.
const OF_AN_EARTH_APART: Caution = Caution::KEEP_EARTHS_APART
    .union(Caution::NOT_WITHIN_REACH)
    .union(Caution::ELECTRODE_FIRST)
    .union(Caution::MEASURE)
    .union(Caution::RCD_ALONE);

/// What the earth of a TN-C-S supply asks for where it is taken further.
const OF_A_COMBINED_CONDUCTOR: Caution = Caution::ASK_DISTRIBUTOR
    .union(Caution::NO_EQUIPOTENTIAL_OUTSIDE)
    .union(Caution::NEIGHBOURS);

/// Of two findings the worse: by outcome, then by margin.
fn worse(kept: Option<Finding>, new: &Finding) -> Option<Finding> {
    let Some(old) = kept else { return Some(*new) };
    let closer = match (new.margin(), old.margin()) {
        (Some(n), Some(o)) => n < o,
        _ => false,
    };
    if new.outcome > old.outcome || (new.outcome == old.outcome && closer) {
        Some(*new)
    } else {
        Some(old)
    }
}

/// What the walk says of one board.
struct View<'a, const B: usize, const C: usize> {
    inst: &'a Installation<B, C>,
    board: BoardId,
    feed: CircuitId,
    outcome: Outcome,
    check: Option<Check>,
    feed_outcome: Outcome,
    disconnection: Option<Finding>,
    touch: Option<Finding>,
    at_board: Option<Finding>,
    bonding: Option<Finding>,
    feed_bonding: Option<Finding>,
    earthing_conductor: Option<Finding>,
    /// Some circuit disconnects by an RCD only, or not at all.
    by_rcd: bool,
    /// The least a device could break in addition.
    spare: Option<f32>,
    /// Of the supply: all of it, and what is between one line and neutral.
    demand: Option<[[f32; 3]; 2]>,
    zs: Option<f32>,
    feed_protective: Option<f32>,
    circuits: bool,
    /// The board takes its earth over its feed.
    over_feed: bool,
}

impl<'a, const B: usize, const C: usize> View<'a, B, C> {
    fn of(
        inst: &'a Installation<B, C>,
        earthing: Earthing,
        board: BoardId,
        feed: CircuitId,
    ) -> Self {
        let mut view = Self {
            inst,
            board,
            feed,
            outcome: Outcome::Pass,
            check: None,
            feed_outcome: Outcome::Pass,
            disconnection: None,
            touch: None,
            at_board: None,
            bonding: None,
            feed_bonding: None,
            earthing_conductor: None,
            by_rcd: false,
            spare: None,
            demand: None,
            zs: None,
            feed_protective: None,
            circuits: false,
            over_feed: inst
                .board(board)
                .is_some_and(|b| b.earthing == BoardEarthing::AsSupply),
        };
        // Through the trait object: one walk for every recorder of a program is the smaller one.
        let _ = assess(inst, earthing, &mut view as &mut dyn Recorder);
        if !view.circuits {
            view.outcome = view.outcome.worse(Outcome::CannotSay);
        }
        view
    }

    /// The worst of the times, and of the touch voltages, of all that hangs on the board.
    fn protected(&self) -> (Outcome, Outcome) {
        let of = |f: &Option<Finding>| f.map_or(Outcome::Pass, |f| f.outcome);
        (of(&self.disconnection), of(&self.touch))
    }

    /// What is missing for them.
    fn lacking(&self) -> Lacking {
        let of = |f: &Option<Finding>| f.map_or(Lacking::empty(), |f| f.lacking);
        of(&self.disconnection).union(of(&self.touch))
    }
}

impl<const B: usize, const C: usize> Recorder for View<'_, B, C> {
    fn finding(&mut self, f: &Finding) {
        match f.place {
            Place::Circuit(id) if id == self.feed => {
                self.feed_outcome = self.feed_outcome.worse(f.outcome);
                if f.check == Check::Disconnection && self.over_feed {
                    self.at_board = Some(*f);
                }
                return;
            }
            Place::Circuit(id) => {
                let here = self.inst.circuit(id).map(|c| c.board);
                if !here.is_some_and(|b| hangs_on(self.inst, b, self.board)) {
                    return;
                }
                self.circuits = true;
                match f.check {
                    Check::Disconnection => {
                        self.by_rcd |= f.outcome != Outcome::Pass || f.rule == Rule::MaxZsRcd;
                        self.disconnection = worse(self.disconnection, f);
                    }
                    Check::Electrode => self.touch = worse(self.touch, f),
                    Check::Breaking => {
                        if let (Some(value), Some(limit)) = (f.value, f.limit) {
                            let spare = limit - value;
                            self.spare = Some(self.spare.map_or(spare, |s| s.min(spare)));
                        }
                    }
                    _ => {}
                }
            }
            Place::Board(id) if id == self.board => match f.check {
                Check::Bonding => self.bonding = Some(*f),
                Check::FeedBonding => self.feed_bonding = Some(*f),
                Check::EarthingConductor => self.earthing_conductor = Some(*f),
                Check::BoardFault => self.at_board = Some(*f),
                _ => {}
            },
            Place::Board(id) => {
                if !hangs_on(self.inst, id, self.board) {
                    return;
                }
            }
            Place::Supply => return,
        }
        if f.outcome > self.outcome {
            self.outcome = f.outcome;
            self.check = Some(f.check);
        }
    }

    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        if id == self.feed {
            self.feed_protective = facts.protective.map(|p| p.hot.r);
        }
    }

    fn board(&mut self, place: Place, facts: &BoardFacts) {
        match place {
            Place::Supply => self.demand = facts.demand.zip(facts.single).map(<[_; 2]>::from),
            Place::Board(id) if id == self.board => self.zs = facts.zs,
            _ => {}
        }
    }
}

/// One board of a job, and what is changed of the job and put back.
struct Case<const B: usize, const C: usize> {
    system: Earthing,
    board: BoardId,
    feed: CircuitId,
    earthing: BoardEarthing,
    boards: Vec<Option<Rcd>, B>,
    circuits: Vec<Option<Rcd>, C>,
}

impl<const B: usize, const C: usize> Case<B, C> {
    fn new(inst: &Installation<B, C>, system: Earthing, board: BoardId) -> Result<Self, Error> {
        let own = inst.board(board).ok_or(Reason::Dangling.at(Field::Board))?;
        let feed = own.fed_by.ok_or(Reason::Missing.at(Field::FedBy))?;
        inst.circuit(feed)
            .ok_or(Reason::Dangling.at(Field::FedBy))?;
        inst.depth(board)?;
        Ok(Self {
            system,
            board,
            feed,
            earthing: own.earthing,
            boards: inst.boards.iter().map(|b| b.rcd).collect(),
            circuits: inst.circuits.iter().map(|c| c.rcd).collect(),
        })
    }

    fn view<'a>(&self, inst: &'a Installation<B, C>) -> View<'a, B, C> {
        View::of(inst, self.system, self.board, self.feed)
    }

    fn put_back(&self, inst: &mut Installation<B, C>) {
        for (to, rcd) in inst.boards.iter_mut().zip(&self.boards) {
            to.rcd = *rcd;
        }
        for (to, rcd) in inst.circuits.iter_mut().zip(&self.circuits) {
            to.rcd = *rcd;
        }
        set_earthing(inst, self.board, self.earthing);
    }
}

fn set_earthing<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    board: BoardId,
    earthing: BoardEarthing,
) {
    if let Some(b) = inst.boards.get_mut(usize::from(board.0)) {
        b.earthing = earthing;
    }
}

/// Puts one RCD at the start of the board's feed, in place of the board's own; those further up become it too,
/// so that only it is judged, and those behind where `behind` says so.
fn put_rcd<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    board: BoardId,
    rcd: Rcd,
    behind: bool,
) {
    let mut within: Vec<bool, B> = Vec::new();
    for (id, _) in inst.boards() {
        let _ = within.push(hangs_on(inst, id, board));
    }
    let is_within = |id: BoardId| within.get(usize::from(id.0)).copied().unwrap_or(false);
    let feed = inst.board(board).and_then(|b| b.fed_by);
    for (id, b) in (0u16..).map(BoardId).zip(inst.boards.iter_mut()) {
        if id == board {
            b.rcd = None;
        } else if b.rcd.is_some() && (behind || !is_within(id)) {
            b.rcd = Some(rcd);
        }
    }
    for (id, c) in (0u16..).map(CircuitId).zip(inst.circuits.iter_mut()) {
        if feed == Some(id) || (c.rcd.is_some() && (behind || !is_within(c.board))) {
            c.rcd = Some(rcd);
        }
    }
}

/// Whether an RCD in front of the board does all that protection in case of a fault asks of it: the touch
/// voltage with it alone, the times with it and those behind, and a fault at the board itself.
fn serves<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    case: &Case<B, C>,
    earthing: BoardEarthing,
    rcd: Rcd,
) -> Outcome {
    set_earthing(inst, case.board, earthing);
    put_rcd(inst, case.board, rcd, true);
    let (_, touch) = case.view(inst).protected();
    case.put_back(inst);
    set_earthing(inst, case.board, earthing);
    put_rcd(inst, case.board, rcd, false);
    let view = case.view(inst);
    let (times, _) = view.protected();
    let at_board = view.at_board.map(|f| f.outcome);
    let circuits = view.circuits;
    case.put_back(inst);
    if !circuits {
        return Outcome::CannotSay;
    }
    let at_board = at_board.unwrap_or(Outcome::CannotSay);
    touch.worse(times).worse(at_board)
}

/// The RCDs behind a board: whether there are any, the largest IΔn, and whether all are without delay.
fn behind<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    board: BoardId,
) -> Option<(f32, bool)> {
    let boards = inst
        .boards()
        .filter(|(id, _)| *id != board && hangs_on(inst, *id, board))
        .filter_map(|(_, b)| b.rcd);
    let circuits = inst
        .circuits()
        .filter(|(_, c)| hangs_on(inst, c.board, board))
        .filter_map(|(_, c)| c.rcd);
    boards.chain(circuits).fold(None, |all, rcd| {
        let (largest, general) = all.unwrap_or((0.0, true));
        Some((
            rcd.sensitivity().get().max(largest),
            general && rcd.delay() == RcdDelay::None,
        ))
    })
}

/// The RCDs to try, the largest IΔn first: selective ones where something is behind, then general ones.
fn candidates(
    behind: Option<(f32, bool)>,
    kind: RcdType,
) -> impl Iterator<Item = (Rcd, Selective)> {
    let made = |delay: RcdDelay| {
        Rcd::sensitivities()
            .iter()
            .rev()
            .filter_map(move |i| Rcd::new(Amps::raw(*i), kind, delay).ok())
    };
    let selective = made(RcdDelay::Selective)
        .filter(move |rcd| {
            behind.is_some_and(|(largest, general)| rcd.lets_go_first(Amps::raw(largest), general))
        })
        .map(|rcd| (rcd, Selective::Yes));
    let word = if behind.is_some() {
        Selective::No
    } else {
        Selective::NothingBehind
    };
    selective.chain(made(RcdDelay::None).map(move |rcd| (rcd, word)))
}

/// The largest RA of an electrode of the board's own with which an RCD in front of it does: the touch voltage
/// with it alone, the times with it and those behind. The installation is as before when this returns.
///
/// # Errors
/// [`Reason::Dangling`] at [`Field::Board`], [`Reason::Missing`] at [`Field::FedBy`] for a board at the
/// origin; [`Reason::TooSmall`] at [`Field::Ra`] where it does with none, or it can't be said.
pub fn largest_electrode<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    earthing: Earthing,
    board: BoardId,
    rcd: Rcd,
) -> Result<Ohms, Error> {
    let case = Case::new(inst, earthing, board)?;
    largest_ra(inst, &case, rcd).ok_or(Reason::TooSmall.at(Field::Ra))
}

fn largest_ra<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    case: &Case<B, C>,
    rcd: Rcd,
) -> Option<Ohms> {
    greatest(Ohms::MIN, Ohms::MAX, |ra| {
        let own = BoardEarthing::OwnElectrode(Some(Ohms::raw(ra)));
        serves(inst, case, own, rcd) == Outcome::Pass
    })
    .map(Ohms::raw)
}

/// Metal around a feed, and whether a core of it is its protective conductor.
fn metal_of(feed: &Circuit) -> (bool, bool) {
    let metal = feed.sections.iter().any(|s| {
        s.construction == Construction::Armoured
            || matches!(
                s.protective,
                Protective::Armour(_) | Protective::ArmourAndCore(..) | Protective::Enclosure(_)
            )
    });
    let core = feed.sections.iter().any(|s| {
        matches!(
            s.protective,
            Protective::Core(_) | Protective::Separate(_) | Protective::ArmourAndCore(..)
        )
    });
    (metal, core)
}

/// How armour comes out that is earthed in the building only: `zs` is the loop at the board, `armour` the
/// resistance of the feed's protective conductor.
fn apart_at_origin<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    feed: &Circuit,
    electrode: Option<Ohms>,
    zs: Option<f32>,
    armour: Option<f32>,
) -> Outcome {
    let in_front = inst.board(feed.board).and_then(|b| b.rcd);
    let Some(rcd) = feed.rcd.or(in_front) else {
        return Outcome::Fail;
    };
    let (Some(ra), Some(zs), Some(armour), Known::Value(i)) = (
        electrode,
        zs,
        armour,
        rcd.disconnecting_current(long_time(Earthing::Tt)),
    ) else {
        return Outcome::CannotSay;
    };
    let volts = (ra.get() + armour) * rcd.sensitivity().get();
    let most = |value| outwards(Sense::AtMost, value);
    let touch = held(Sense::AtMost, most(volts), inst.profile.touch_voltage);
    let needed = (zs + armour) * i.get();
    let time = held(
        Sense::AtMost,
        most(needed),
        inst.profile.cmin * inst.supply.u0.get(),
    );
    touch.worse(time)
}

/// The installation as a load on its supply: the demand, at the lowest power factor of any circuit.
fn load_of<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    demand: Option<[[f32; 3]; 2]>,
) -> Result<LostNeutral, Lacking> {
    let [all, single] = demand.ok_or(Lacking::LOADS)?;
    let lowest = inst
        .circuits
        .iter()
        .map(|c| c.load.power_factor.get())
        .fold(1.0, f32::min);
    let load = |amps: f32| {
        Some(LineLoad {
            current: Amps::new(amps).ok()?,
            power_factor: Ratio::raw(lowest),
        })
    };
    let [a, b, c] = all;
    let factor = Ratio::raw(inst.profile.cmax);
    let u0 = inst.supply.u0;
    match inst.supply.phases {
        Phases::Single => {
            let one = load(a.max(b).max(c)).ok_or(Lacking::LOADS)?;
            LostNeutral::single(u0, factor, one)
        }
        Phases::Three => {
            let lost = LostNeutral::three(u0, factor, all.map(load));
            if single == all || single == [0.0; 3] {
                lost
            } else {
                lost.and_then(|lost| lost.or_only(single.map(load)))
            }
        }
    }
    .map_err(|_| Lacking::LOADS)
}

/// Judges one scheme. The installation is as before when this returns.
fn side<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    what: &Outbuilding,
    scheme: Scheme,
    case: &Case<B, C>,
) -> Result<Side, Error> {
    let (earthing, board, feed) = (case.system, case.board, case.feed);
    let tt = scheme == Scheme::OwnElectrode || earthing == Earthing::Tt;
    let own = match scheme {
        Scheme::OwnElectrode => BoardEarthing::OwnElectrode(what.electrode),
        Scheme::ExtendSupply | Scheme::ExtendWithElectrode => BoardEarthing::AsSupply,
    };
    let ra = match scheme {
        Scheme::ExtendSupply => None,
        Scheme::OwnElectrode | Scheme::ExtendWithElectrode => what.electrode,
    };
    let mut caution = Caution::empty();

    set_earthing(inst, board, own);
    let view = case.view(inst);
    let mut out = Side {
        scheme,
        outcome: view.outcome,
        check: view.check,
        feed: view.feed_outcome,
        disconnection: view.disconnection,
        touch: view.touch,
        at_board: view.at_board,
        bonding: view.bonding,
        feed_bonding: view.feed_bonding,
        earthing_conductor: view.earthing_conductor,
        bonding_needed: Err(Lacking::TAILS),
        rcd: RcdNeed::None,
        electrode_sought: None,
        stable: ra.map(|ra| ra.get() <= STABLE),
        armour: Armour::None,
        lost: Lost::NotJoined,
        through_electrode: None,
        cautions: Caution::empty(),
    };
    let (by_rcd, spare, demand) = (view.by_rcd, view.spare, view.demand);
    let (circuits, zs, feed_protective) = (view.circuits, view.zs, view.feed_protective);
    let lacking = view.lacking();
    case.put_back(inst);

    let circuit = inst
        .circuit(feed)
        .ok_or(Reason::Dangling.at(Field::FedBy))?;
    let extraneous = inst.board(board).is_some_and(|b| b.extraneous);
    let line = circuit.sections.last().map(|s| s.csa);
    let system = if tt { Earthing::Tt } else { earthing };
    out.bonding_needed =
        bonding::needed(system, inst.supply.neutral, line).map(|(copper, _)| SquareMm::raw(copper));
    if !extraneous {
        caution |= Caution::NO_EXTRANEOUS_ENTERED;
    }

    if scheme == Scheme::ExtendWithElectrode {
        // The walk knows no electrode at a board that is earthed over its feed.
        let f = added_electrode(inst, board, earthing, line, out.bonding_needed);
        out.earthing_conductor = Some(f);
        if f.outcome > out.outcome {
            (out.outcome, out.check) = (f.outcome, Some(f.check));
        }
    }

    let (metal, core) = metal_of(circuit);
    match scheme {
        Scheme::OwnElectrode => {
            if metal {
                out.armour = Armour::ApartAtBuilding {
                    apart_at_origin: apart_at_origin(inst, circuit, ra, zs, feed_protective),
                };
                caution |= Caution::ARMOUR_APART;
            }
            if core {
                caution |= Caution::FEED_CORE_INSULATED;
            }
            caution |= OF_AN_EARTH_APART;
        }
        Scheme::ExtendSupply | Scheme::ExtendWithElectrode => {
            if metal {
                out.armour = Armour::Through;
            }
            if earthing == Earthing::TnCS {
                caution |= OF_A_COMBINED_CONDUCTOR;
                if extraneous || scheme == Scheme::ExtendWithElectrode {
                    caution |= Caution::DIVERTED_CURRENT;
                }
            }
            if scheme == Scheme::ExtendWithElectrode {
                caution |= Caution::MEASURE;
                if earthing == Earthing::TnCS {
                    caution |= Caution::ELECTRODE_AS_BONDING;
                }
            }
        }
    }
    if out.stable == Some(false) {
        caution |= Caution::MAY_NOT_BE_STABLE;
    }
    if situations::raised(inst, board).is_some() {
        caution |= Caution::OUTDOORS;
    }
    if scheme == Scheme::ExtendWithElectrode {
        if let Some(ra) = ra {
            let amps = inst.profile.cmax * inst.supply.u0.get() / ra.get();
            out.through_electrode = Some(amps);
            if spare.is_none_or(|s| s < amps) {
                caution |= Caution::ADDS_TO_FAULT_CURRENT;
            }
        }
    }

    if earthing == Earthing::TnCS {
        let main = inst.supply.ra;
        let joined = match scheme {
            Scheme::ExtendSupply | Scheme::OwnElectrode => main,
            Scheme::ExtendWithElectrode => parallel(main, ra),
        };
        let load = load_of(inst, demand);
        let rise = load.map(|load| load.span(joined, what.least_load));
        out.lost = match (scheme, load, rise) {
            (Scheme::OwnElectrode, _, rise) => Lost::Apart(rise),
            (_, Ok(load), Ok(metal)) => {
                if metal.high > what.limit.get() {
                    caution |= Caution::LIVE_METAL;
                    if scheme == Scheme::ExtendWithElectrode {
                        caution |= Caution::ELECTRODE_TOO_POOR;
                    }
                }
                Lost::Rises {
                    metal,
                    electrode: joined,
                    // Only the scheme with an electrode there has `ra` here.
                    current: ra.map(|ra| metal.high / ra.get()),
                    sought: load.electrode_for(what.limit, main, what.least_load).ok(),
                }
            }
            (_, Err(lacking), _) | (_, _, Err(lacking)) => {
                caution |= Caution::LIVE_METAL;
                Lost::NotKnown(lacking)
            }
        };
    }

    let after = behind(inst, board);
    if tt || by_rcd {
        out.rcd = if circuits {
            needed(inst, what, case, own, after, lacking)
        } else {
            RcdNeed::NotKnown(lacking)
        };
        if scheme == Scheme::OwnElectrode && !by_rcd {
            caution |= Caution::ELECTRODE_MUST_STAY;
        }
    }
    // As the walk finds it; insulation is taken as stated.
    let covered = out.at_board.is_some_and(|f| {
        f.outcome == Outcome::Pass && !f.assumed.contains(Assumed::INSULATED_FRONT)
    });
    if tt && !covered {
        caution |= Caution::NO_RCD_IN_FRONT;
    }
    if let RcdNeed::This { outcome, check, .. } = &mut out.rcd {
        let added = out
            .earthing_conductor
            .filter(|_| scheme == Scheme::ExtendWithElectrode);
        if let Some(f) = added.filter(|f| f.outcome > *outcome) {
            (*outcome, *check) = (f.outcome, Some(f.check));
        }
    }
    if let RcdNeed::This { rcd, .. } = out.rcd {
        let general = rcd.delay() == RcdDelay::None;
        let too_soon = |front: Rcd| !front.lets_go_first(rcd.sensitivity(), general);
        if some_upstream(inst, feed, too_soon) {
            caution |= Caution::UPSTREAM_NOT_SELECTIVE;
        }
    }
    if scheme == Scheme::OwnElectrode {
        let rcd = match out.rcd {
            RcdNeed::This { rcd, .. } => Some(rcd),
            _ => {
                let board_own = inst.board(board).and_then(|b| b.rcd);
                let feed_own = inst.circuit(feed).and_then(|c| c.rcd);
                let delay = if after.is_some() {
                    RcdDelay::Selective
                } else {
                    RcdDelay::None
                };
                board_own
                    .or(feed_own)
                    .or_else(|| Rcd::new(Amps::raw(0.1), what.rcd_type, delay).ok())
            }
        };
        out.electrode_sought = rcd.and_then(|rcd| largest_ra(inst, case, rcd).map(|ra| (rcd, ra)));
    }
    out.cautions = caution;
    Ok(out)
}

/// The earthing conductor of an electrode in addition: as any other, and where the earth is that of a
/// TN-C-S supply as big as a bonding conductor (BS 7671 544.1, from memory).
fn added_electrode<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    board: BoardId,
    earthing: Earthing,
    line: Option<SquareMm>,
    bonding: Result<SquareMm, Lacking>,
) -> Finding {
    let given = inst.board(board).and_then(|b| b.earthing_conductor);
    let combined = earthing == Earthing::TnCS;
    let floor = bonding.ok().filter(|_| combined).map(SquareMm::get);
    let place = Place::Board(board);
    let mut f = earthing_conductor::judge(place, given, line, floor, &mut Worst::default());
    if let (true, Err(lacking)) = (combined, bonding) {
        f.lacking |= lacking;
        f.outcome = f.outcome.worse(Outcome::CannotSay);
    }
    f
}

/// Whether some RCD between the origin and the feed's far end is as `wanted`.
fn some_upstream<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    feed: CircuitId,
    wanted: impl Fn(Rcd) -> bool,
) -> bool {
    let mut feed = inst.circuit(feed);
    for _ in 0..=B {
        let Some(circuit) = feed else { break };
        let board = inst.board(circuit.board);
        let rcds = [circuit.rcd, board.and_then(|b| b.rcd)];
        if rcds.into_iter().flatten().any(&wanted) {
            return true;
        }
        feed = board.and_then(|b| b.fed_by).and_then(|f| inst.circuit(f));
    }
    false
}

/// The RCD in front of the board.
fn needed<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    what: &Outbuilding,
    case: &Case<B, C>,
    own: BoardEarthing,
    after: Option<(f32, bool)>,
    lacking: Lacking,
) -> RcdNeed {
    let mut least_bad = Outcome::Fail;
    for (rcd, selective) in candidates(after, what.rcd_type) {
        let served = serves(inst, case, own, rcd);
        if served == Outcome::Pass {
            set_earthing(inst, case.board, own);
            if let Some(b) = inst.boards.get_mut(usize::from(case.board.0)) {
                b.rcd = None;
            }
            if let Some(c) = inst.circuits.get_mut(usize::from(case.feed.0)) {
                c.rcd = Some(rcd);
            }
            let view = case.view(inst);
            let (outcome, check) = (view.outcome, view.check);
            case.put_back(inst);
            return RcdNeed::This {
                rcd,
                selective,
                outcome,
                check,
            };
        }
        least_bad = least_bad.min(served);
    }
    if least_bad < Outcome::Fail {
        RcdNeed::NotKnown(lacking)
    } else {
        RcdNeed::NoneServes
    }
}

/// Compares the schemes for one board. The installation is as before when this returns.
///
/// `earthing` is the system the supply is judged by; the rise of metal by a lost neutral is of TN-C-S alone.
///
/// # Errors
/// [`Reason::Dangling`] at [`Field::Board`] or [`Field::FedBy`], [`Reason::Missing`] at [`Field::FedBy`] for a
/// board at the origin, [`Reason::Cycle`].
pub fn compare<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    earthing: Earthing,
    what: &Outbuilding,
) -> Result<[Side; 3], Error> {
    let case = Case::new(inst, earthing, what.board)?;
    let [a, b, c] = Scheme::ALL;
    Ok([
        side(inst, what, a, &case)?,
        side(inst, what, b, &case)?,
        side(inst, what, c, &case)?,
    ])
}

/// The lines that lead to what [`compare`] said of a scheme beyond the findings, which have their own working:
/// touch voltage and selectivity of the RCD that is needed, an electrode that stays, the metal with the
/// supply's neutral lost at the load that gives the most. None without a figure.
pub fn work<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    earthing: Earthing,
    what: &Outbuilding,
    side: &Side,
    mut tell: impl FnMut(Worked),
) {
    // What rests on a figure that the profile does not have is no number, and no line.
    let mut note = |line: Worked| {
        if line.value.is_finite() {
            tell(line);
        }
    };
    let ra = match side.scheme {
        Scheme::ExtendSupply => None,
        Scheme::OwnElectrode | Scheme::ExtendWithElectrode => what.electrode,
    };
    if let RcdNeed::This { rcd, selective, .. } = side.rcd {
        let i = rcd.sensitivity();
        if let (Scheme::OwnElectrode, Some(ra)) = (side.scheme, ra) {
            let volts = touch_voltage(ra, i);
            let operands = [ra.get(), i.get()];
            note(Worked::new(
                Formula::TouchVoltage,
                &operands,
                volts,
                Unit::Volt,
            ));
        }
        if let (Selective::Yes, Some((largest, _))) = (selective, behind(inst, what.board)) {
            let operands = [i.get(), largest];
            note(Worked::new(
                Formula::Selectivity,
                &operands,
                i.get(),
                Unit::Ampere,
            ));
        }
    }
    if let Some(ra) = ra {
        let operands = [ra.get(), STABLE];
        note(Worked::new(Formula::Stable, &operands, ra.get(), Unit::Ohm));
    }
    let main = inst.supply.ra;
    let (joined, sought) = match side.lost {
        Lost::Rises {
            electrode, sought, ..
        } => (electrode, sought),
        Lost::Apart(Ok(_)) => (main, None),
        _ => return,
    };
    let demand = inst
        .board(what.board)
        .and_then(|b| b.fed_by)
        .and_then(|feed| View::of(inst, earthing, what.board, feed).demand);
    let Ok(load) = load_of(inst, demand) else {
        return;
    };
    if let (Scheme::ExtendWithElectrode, Some(ra), Some(main), Some(both)) =
        (side.scheme, ra, main, joined)
    {
        let operands = [main.get(), ra.get()];
        note(Worked::new(
            Formula::Joined,
            &operands,
            both.get(),
            Unit::Ohm,
        ));
    }
    let worst = load.worst(joined, what.least_load);
    worst.work(joined, &mut note);
    if let (Scheme::ExtendWithElectrode, Some(ra)) = (side.scheme, ra) {
        let volts = worst.metal(joined);
        let operands = [volts, ra.get()];
        let amps = volts / ra.get();
        note(Worked::new(
            Formula::LostCurrent,
            &operands,
            amps,
            Unit::Ampere,
        ));
    }
    if let Some(Sought::AtMost(r)) = sought {
        // By the formula for one resistive load alone; otherwise it was searched for.
        let by = load.sought_by(what.limit).filter(|_| main.is_none());
        let operands = by.unwrap_or([f32::NAN; 4]);
        note(Worked::new(
            Formula::LostSought,
            &operands,
            r.get(),
            Unit::Ohm,
        ));
    }
}
