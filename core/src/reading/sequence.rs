//! The order of tests, what must be true before each, and the stop before 'may be energised'.
//!
//! The order is that of IEC 60364-6 6.4.3 and BS 7671 643 (from memory): continuity before insulation, insulation
//! and polarity before anything is live, Ze before the installation is switched on, loop impedance and RCDs after.
//! A test rests on those before it, so the next one is always the first that has not passed.
//!
//! ```
//! use faultpath::reading::sequence::{may_be_energised, next, Done, Energise, Next, Step, Steps};
//! use faultpath::verdict::Outcome;
//! let needs = Steps::PROTECTIVE | Steps::INSULATION | Steps::POLARITY | Steps::ZE | Steps::ZS;
//! let mut done = Done::new(Outcome::Pass);
//! assert!(matches!(next(needs, &done), Next::Test { step: Step::Protective, .. }));
//! assert_ne!(may_be_energised(needs, &done), Energise::Yes);
//! for step in [Step::Protective, Step::Insulation, Step::Polarity, Step::Ze] {
//!     done.set(step, Outcome::Pass);
//! }
//! assert_eq!(may_be_energised(needs, &done), Energise::Yes);
//! ```

use super::ring::Conductors;
use crate::conductor::Construction;
use crate::device::{Rcd, RcdDelay};
use crate::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, DEPTH, Installation, Phase, Protective,
    Section, Shape, Use,
};
use crate::source::Source;
use crate::supply::{Earthing, Phases, Supply};
use crate::verdict::Outcome;
use bitflags::bitflags;
use heapless::Vec;

bitflags! {
    /// A set of tests.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Steps: u16 {
        /// Bonding conductors.
        const BONDING = 1;
        /// Protective conductors: R1 + R2, or R2.
        const PROTECTIVE = 1 << 1;
        /// Armour, where it is not the protective conductor already tested.
        const ARMOUR = 1 << 2;
        /// Ring final circuit.
        const RING = 1 << 3;
        /// Insulation resistance.
        const INSULATION = 1 << 4;
        /// Polarity.
        const POLARITY = 1 << 5;
        /// Electrode.
        const ELECTRODE = 1 << 6;
        /// Ze at the origin.
        const ZE = 1 << 7;
        /// Prospective fault current.
        const FAULT_CURRENT = 1 << 8;
        /// Zs.
        const ZS = 1 << 9;
        /// Operating time of RCDs.
        const RCD = 1 << 10;
        /// Phase sequence.
        const PHASE_SEQUENCE = 1 << 11;
        /// Volt drop.
        const VOLT_DROP = 1 << 12;
    }
}

/// One test in its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// Bonding conductors.
    Bonding,
    /// Protective conductors.
    Protective,
    /// Armour.
    Armour,
    /// Ring final circuit.
    Ring,
    /// Insulation resistance.
    Insulation,
    /// Polarity.
    Polarity,
    /// Electrode.
    Electrode,
    /// Ze.
    Ze,
    /// Prospective fault current.
    FaultCurrent,
    /// Zs.
    Zs,
    /// RCDs.
    Rcd,
    /// Phase sequence.
    PhaseSequence,
    /// Volt drop.
    VoltDrop,
}

impl Step {
    /// Every test, in order.
    pub const ALL: [Step; 13] = [
        Step::Bonding,
        Step::Protective,
        Step::Armour,
        Step::Ring,
        Step::Insulation,
        Step::Polarity,
        Step::Electrode,
        Step::Ze,
        Step::FaultCurrent,
        Step::Zs,
        Step::Rcd,
        Step::PhaseSequence,
        Step::VoltDrop,
    ];

    /// As a member of a set.
    #[must_use]
    pub const fn flag(self) -> Steps {
        match self {
            Step::Bonding => Steps::BONDING,
            Step::Protective => Steps::PROTECTIVE,
            Step::Armour => Steps::ARMOUR,
            Step::Ring => Steps::RING,
            Step::Insulation => Steps::INSULATION,
            Step::Polarity => Steps::POLARITY,
            Step::Electrode => Steps::ELECTRODE,
            Step::Ze => Steps::ZE,
            Step::FaultCurrent => Steps::FAULT_CURRENT,
            Step::Zs => Steps::ZS,
            Step::Rcd => Steps::RCD,
            Step::PhaseSequence => Steps::PHASE_SEQUENCE,
            Step::VoltDrop => Steps::VOLT_DROP,
        }
    }

    /// What the installation is while it is made.
    #[must_use]
    pub const fn phase(self) -> When {
        match self {
            Step::Bonding
            | Step::Protective
            | Step::Armour
            | Step::Ring
            | Step::Insulation
            | Step::Polarity
            | Step::Electrode => When::Dead,
            Step::Ze | Step::FaultCurrent => When::SupplyOnly,
            Step::Zs | Step::Rcd | Step::PhaseSequence | Step::VoltDrop => When::Live,
        }
    }

    /// What must be true before it is made.
    #[must_use]
    pub const fn before(self) -> Before {
        match self {
            Step::Bonding => Before::DEAD
                .union(Before::LEADS_NULLED)
                .union(Before::BONDING_OPEN),
            Step::Protective | Step::Armour | Step::Ring => {
                Before::DEAD.union(Before::LEADS_NULLED)
            }
            Step::Insulation => Before::DEAD
                .union(Before::LOADS_OFF)
                .union(Before::SWITCHES_CLOSED)
                .union(Before::GEAR_OUT),
            Step::Polarity => Before::DEAD,
            Step::Electrode => Before::DEAD.union(Before::EARTHING_OUT),
            Step::Ze => Before::MAIN_SWITCH_OPEN.union(Before::EARTHING_OUT),
            // All parallel paths count for the largest current.
            Step::FaultCurrent => Before::MAIN_SWITCH_OPEN.union(Before::EARTHING_BACK),
            Step::Zs | Step::PhaseSequence => Before::MAY_BE_ENERGISED.union(Before::EARTHING_BACK),
            Step::Rcd => Before::MAY_BE_ENERGISED
                .union(Before::EARTHING_BACK)
                .union(Before::LOADS_OFF),
            Step::VoltDrop => Before::MAY_BE_ENERGISED
                .union(Before::EARTHING_BACK)
                .union(Before::GEAR_BACK),
        }
    }
}

/// State of the installation during a test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum When {
    /// Isolated and proved dead.
    Dead,
    /// The supply is live up to the main switch, which is open.
    SupplyOnly,
    /// Energised.
    Live,
}

bitflags! {
    /// What must be true.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Before: u16 {
        /// Isolated, locked and proved dead, the tester proved before and after.
        const DEAD = 1;
        /// Leads nulled, or their resistance noted.
        const LEADS_NULLED = 1 << 1;
        /// One end of the bonding conductor taken off, so that nothing runs beside it.
        const BONDING_OPEN = 1 << 2;
        /// Loads, lamps and equipment out.
        const LOADS_OFF = 1 << 3;
        /// Switches and devices of the circuit closed, both ways of two-way switches tried.
        const SWITCHES_CLOSED = 1 << 4;
        /// Surge protection and electronic gear disconnected.
        const GEAR_OUT = 1 << 5;
        /// Surge protection and electronic gear connected again.
        const GEAR_BACK = 1 << 6;
        /// Main switch open and locked.
        const MAIN_SWITCH_OPEN = 1 << 7;
        /// The earthing conductor taken off the installation, which is dead.
        const EARTHING_OUT = 1 << 8;
        /// The earthing conductor connected again.
        const EARTHING_BACK = 1 << 9;
        /// Everything that must pass before has passed.
        const MAY_BE_ENERGISED = 1 << 10;
    }
}

/// What there is at a circuit that the network does not tell.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Site {
    /// It starts at a board at the origin.
    pub origin: bool,
    /// There are parts that are bonded.
    pub bonding: bool,
    /// Surge protection, or electronic gear that an insulation test could harm.
    pub gear: bool,
}

/// The tests a circuit needs, where it is all there is: those of what it is fed from too. Volt drop is never asked
/// for, but may be added.
#[must_use]
pub fn needs(circuit: &Circuit, source: &Source, site: Site) -> Steps {
    let mut n = needs_of_circuit(circuit);
    n.set(Steps::BONDING, site.bonding);
    n.set(Steps::ELECTRODE, source.earthing == Earthing::Tt);
    n.set(Steps::ZE, source.earthing != Earthing::Tt);
    n.set(Steps::FAULT_CURRENT, site.origin);
    n.set(Steps::RCD, circuit.rcd.is_some() || source.rcd.is_some());
    n
}

/// The tests of a circuit's own, in an installation whose supply and boards have theirs.
#[must_use]
pub fn needs_of_circuit(circuit: &Circuit) -> Steps {
    let bare = circuit
        .sections
        .iter()
        .any(|s| s.protective == Protective::None);
    let armour_beside = circuit.sections.iter().any(|s| {
        s.construction == Construction::Armoured && !matches!(s.protective, Protective::Armour(_))
    });
    let mut n = Steps::INSULATION.union(Steps::POLARITY);
    n.set(Steps::PROTECTIVE.union(Steps::ZS), !bare);
    n.set(Steps::ARMOUR, armour_beside);
    n.set(Steps::RING, circuit.shape == Shape::Ring);
    n.set(Steps::RCD, circuit.rcd.is_some());
    n.set(Steps::PHASE_SEQUENCE, circuit.phase == Phase::Three);
    n
}

/// The tests of a supply. Its phase sequence is what all others are held against.
#[must_use]
pub fn needs_of_supply(supply: &Supply, earthing: Earthing) -> Steps {
    let mut n = Steps::FAULT_CURRENT;
    n.set(Steps::ELECTRODE, earthing == Earthing::Tt);
    n.set(Steps::ZE, earthing != Earthing::Tt);
    n.set(Steps::BONDING, supply.extraneous);
    n.set(Steps::PHASE_SEQUENCE, supply.phases == Phases::Three);
    n
}

/// The tests of a board. Its prospective current is the design's; it may be measured too.
#[must_use]
pub fn needs_of_board(board: &Board, three_phase: bool) -> Steps {
    let mut n = Steps::empty();
    n.set(Steps::BONDING, board.extraneous);
    n.set(
        Steps::ELECTRODE,
        matches!(board.earthing, BoardEarthing::OwnElectrode(_)),
    );
    n.set(Steps::RCD, board.rcd.is_some());
    n.set(Steps::PHASE_SEQUENCE, three_phase);
    n
}

const TESTS: usize = Step::ALL.len();

/// What has been done.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    /// The design's outcome.
    pub design: Outcome,
    /// Gear was disconnected for the insulation test and is not connected again.
    pub gear_out: bool,
    /// The earthing conductor was taken off and is not connected again.
    pub earthing_out: bool,
    /// It has been energised.
    pub energised: bool,
    /// Something was noted that can't be read.
    pub unreadable: bool,
    outcomes: [Option<Outcome>; TESTS],
}

impl Done {
    /// Nothing yet, of a design that came out so.
    #[must_use]
    pub const fn new(design: Outcome) -> Self {
        Self {
            design,
            gear_out: false,
            earthing_out: false,
            energised: false,
            unreadable: false,
            outcomes: [None; TESTS],
        }
    }

    fn at(step: Step) -> usize {
        Step::ALL.iter().position(|s| *s == step).unwrap_or(TESTS)
    }

    /// Notes the outcome of a test. A repeated test takes the place of the one before.
    pub fn set(&mut self, step: Step, outcome: Outcome) {
        if let Some(to) = self.outcomes.get_mut(Self::at(step)) {
            *to = Some(outcome);
        }
    }

    /// Notes one of several readings of a test: the worst counts.
    pub fn add(&mut self, step: Step, outcome: Outcome) {
        let worst = self.get(step).map_or(outcome, |o| o.worse(outcome));
        self.set(step, worst);
    }

    /// The outcome of a test, if it was made.
    #[must_use]
    pub fn get(&self, step: Step) -> Option<Outcome> {
        self.outcomes.get(Self::at(step)).copied().flatten()
    }

    fn passed(&self, step: Step) -> bool {
        self.get(step) == Some(Outcome::Pass)
    }

    /// The tests that were made.
    #[must_use]
    pub fn made(&self) -> Steps {
        let made = Step::ALL.iter().filter(|s| self.get(**s).is_some());
        made.fold(Steps::empty(), |all, s| all | s.flag())
    }

    /// All of it: the worst of what was made, and no pass while something is missing, left off or can't be read. The
    /// design's outcome is not in it.
    #[must_use]
    pub fn outcome(&self, needs: Steps) -> Outcome {
        let mut worst = Outcome::Pass;
        if self.unreadable || self.gear_out || self.earthing_out {
            worst = Outcome::CannotSay;
        }
        for step in Step::ALL {
            worst = match self.get(step) {
                Some(outcome) => worst.worse(outcome),
                None if needs.contains(step.flag()) => worst.worse(Outcome::CannotSay),
                None => worst,
            };
        }
        worst
    }
}

/// What comes next.
#[derive(Clone, Debug, PartialEq)]
pub enum Next {
    /// A test.
    Test {
        /// Which.
        step: Step,
        /// What must be true before.
        before: Before,
        /// It was made, and came out so: find out, put right, repeat. None where it was not made.
        again: Option<Outcome>,
    },
    /// Everything before is passed; see [`may_be_energised`].
    Energise(Energise),
    /// Every test has passed.
    Complete,
}

/// The first thing that is not done. Whether a circuit may be energised needs insulation and polarity whatever
/// `needs` says; of a board or supply ask [`stops`].
#[must_use]
pub fn next(needs: Steps, done: &Done) -> Next {
    for step in Step::ALL {
        if !needs.contains(step.flag()) {
            continue;
        }
        if step.phase() == When::Live && !done.energised {
            return Next::Energise(may_be_energised(needs, done));
        }
        if !done.passed(step) {
            return Next::Test {
                step,
                before: step.before(),
                again: done.get(step),
            };
        }
    }
    let left = done.unreadable || done.gear_out || done.earthing_out;
    if done.energised && !left {
        Next::Complete
    } else {
        Next::Energise(may_be_energised(needs, done))
    }
}

/// Why something stops it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stop {
    /// The design itself is no pass.
    Design(Outcome),
    /// A test was not made.
    Missing(Step),
    /// A test was made and is no pass.
    NotPassed(Step, Outcome),
    /// Surge protection or gear is still disconnected.
    GearOut,
    /// The earthing conductor is still off.
    EarthingOut,
    /// Something was noted that can't be read.
    Unreadable,
}

/// Most things that can stop it.
pub const STOPS: usize = TESTS + 4;

/// Whether it may be energised.
#[derive(Clone, Debug, PartialEq)]
pub enum Energise {
    /// Yes.
    Yes,
    /// No, for these reasons.
    Stop(Vec<Stop, STOPS>),
}

/// Whether a circuit may be energised: its design passes, every dead test and those at the open main switch that it
/// needs have passed, no live test that was made is less than a pass, and nothing is left off.
///
/// Insulation and polarity are needed of every circuit, whatever `needs` says.
#[must_use]
pub fn may_be_energised(needs: Steps, done: &Done) -> Energise {
    let stops = stops(needs | Steps::INSULATION | Steps::POLARITY, done, false);
    if stops.is_empty() {
        Energise::Yes
    } else {
        Energise::Stop(stops)
    }
}

/// What stands against energising, of a circuit, a board or a supply by itself. `complete`: live tests that were not
/// made count too, as they do of everything upstream.
#[must_use]
pub fn stops(needs: Steps, done: &Done, complete: bool) -> Vec<Stop, STOPS> {
    let mut stops: Vec<Stop, STOPS> = Vec::new();
    // There is room for every one.
    if done.design != Outcome::Pass {
        let _ = stops.push(Stop::Design(done.design));
    }
    for step in Step::ALL {
        let asked = needs.contains(step.flag()) && (complete || step.phase() != When::Live);
        let _ = match done.get(step) {
            // Made, though nobody asked for it: what failed is not forgotten.
            Some(Outcome::Pass) => continue,
            Some(other) => stops.push(Stop::NotPassed(step, other)),
            None if asked => stops.push(Stop::Missing(step)),
            None => continue,
        };
    }
    if done.gear_out {
        let _ = stops.push(Stop::GearOut);
    }
    if done.earthing_out {
        let _ = stops.push(Stop::EarthingOut);
    }
    if done.unreadable {
        let _ = stops.push(Stop::Unreadable);
    }
    stops
}

/// What people forget, where the job itself raises it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Note {
    /// TT: the electrode is in, connected and measured before anything is energised.
    ElectrodeFirst,
    /// Cores whose colour is not their function: mark them at both ends.
    MarkCores {
        /// The section.
        section: u8,
        /// The functions that no core has the colour of.
        conductors: Conductors,
    },
    /// A switched line in a core of the neutral's colour: mark it.
    MarkSwitchedLine,
    /// Armour is the only protective conductor: its glands and earth tags are it.
    ArmourAlone {
        /// The section.
        section: u8,
    },
    /// Armour earthed at both ends.
    ArmourBothEnds,
    /// Armour earthed at the supply end only, and isolated from the electrode's earth at the far end.
    ArmourSupplyEnd,
    /// Two RCDs in a row that may both trip: neither a delay nor three times IΔn between them.
    RcdsTogether {
        /// The one nearer the supply.
        upstream: Rcd,
        /// The one nearer the load.
        downstream: Rcd,
    },
    /// Another circuit whose neutral could have been borrowed for this one.
    BorrowedNeutral {
        /// The circuit.
        other: CircuitId,
    },
    /// Surge protection and gear out for the insulation test, and in again.
    Gear,
    /// The earthing conductor off for Ze or the electrode's test, and on again before anything is energised.
    EarthingBack,
}

/// Most notes of one circuit.
pub const NOTES: usize = 24;

/// RCDs in a row select where the upstream one is delayed, has three times the IΔn, and the other is not delayed
/// (BS 7671 536.4.1.4, IEC 60364-5-53 535.3; from memory).
#[must_use]
pub fn selective(upstream: &Rcd, downstream: &Rcd) -> bool {
    upstream.delay() == RcdDelay::Selective
        && downstream.delay() == RcdDelay::None
        // A hair, so that 0.3 is three times 0.1.
        && upstream.sensitivity().get() * 1.000_01 >= 3.0 * downstream.sensitivity().get()
}

/// Functions that have no core of their colour, in an armoured cable: two cores brown and blue, three brown, black
/// and grey, four with blue too, five with green-and-yellow (BS 7671 Table 51, IEC 60445, from memory). Cables
/// with a protective conductor of their own have it in its colour.
#[must_use]
pub fn unmarked(section: &Section, phase: Phase) -> Conductors {
    let mut out = Conductors::empty();
    if section.construction != Construction::Armoured {
        return out;
    }
    let core = matches!(
        section.protective,
        Protective::Core(_) | Protective::ArmourAndCore(..)
    );
    match section.cores {
        3 => {
            out.set(Conductors::NEUTRAL, phase != Phase::Three);
            out.set(Conductors::PROTECTIVE, core);
        }
        4 => out.set(Conductors::PROTECTIVE, core),
        _ => {}
    }
    out
}

/// The notes of a circuit.
///
/// `earthing` is the system at the origin, as the installation is judged by.
#[must_use]
pub fn notes<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    earthing: Earthing,
    id: CircuitId,
    site: Site,
) -> Vec<Note, NOTES> {
    let mut out: Vec<Note, NOTES> = Vec::new();
    let Some(circuit) = inst.circuit(id) else {
        return out;
    };
    // Full is full: what there is room for is said.
    let mut say = |n: Note| {
        let _ = out.push(n);
    };
    if system_at(inst, earthing, circuit.board) == Earthing::Tt {
        say(Note::ElectrodeFirst);
    }
    if site.origin {
        say(Note::EarthingBack);
    }
    let (mut alone, mut armoured) = (false, false);
    for (n, s) in (0u8..).zip(&circuit.sections) {
        let conductors = unmarked(s, circuit.phase);
        if !conductors.is_empty() {
            say(Note::MarkCores {
                section: n,
                conductors,
            });
        }
        armoured |= s.construction == Construction::Armoured;
        if matches!(s.protective, Protective::Armour(_)) {
            alone = true;
            say(Note::ArmourAlone { section: n });
        }
    }
    if armoured {
        let far_electrode = inst.boards().any(|(_, b)| {
            b.fed_by == Some(id) && matches!(b.earthing, BoardEarthing::OwnElectrode(_))
        });
        say(if far_electrode {
            Note::ArmourSupplyEnd
        } else if alone || circuit.purpose == Use::Distribution {
            Note::ArmourBothEnds
        } else {
            Note::ArmourSupplyEnd
        });
    }
    if circuit.purpose == Use::Lighting {
        say(Note::MarkSwitchedLine);
        for (other, c) in inst.circuits() {
            if other != id && c.board == circuit.board && c.purpose == Use::Lighting {
                say(Note::BorrowedNeutral { other });
            }
        }
    }
    let mut lower = circuit.rcd;
    for upper in upstream(inst, circuit.board).into_iter().flatten() {
        if let Some(own) = lower {
            if !selective(&upper, &own) {
                say(Note::RcdsTogether {
                    upstream: upper,
                    downstream: own,
                });
            }
        }
        lower = Some(upper);
    }
    if site.gear {
        say(Note::Gear);
    }
    out
}

/// The notes of a supply or a board: what `own_electrode` says of a board, TT of a supply.
#[must_use]
pub fn notes_of_place(electrode: bool, at_origin: bool) -> Vec<Note, 2> {
    let mut out = Vec::new();
    // There is room for both.
    if electrode {
        let _ = out.push(Note::ElectrodeFirst);
    }
    if electrode || at_origin {
        let _ = out.push(Note::EarthingBack);
    }
    out
}

/// RCDs from a board towards the origin.
fn upstream<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    board: BoardId,
) -> [Option<Rcd>; 2 * DEPTH] {
    let mut out = [None; 2 * DEPTH];
    let mut at = Some(board);
    for pair in out.chunks_exact_mut(2) {
        let Some(b) = at.and_then(|id| inst.board(id)) else {
            break;
        };
        let feed = b.fed_by.and_then(|f| inst.circuit(f));
        if let [own, above] = pair {
            *own = b.rcd;
            *above = feed.and_then(|c| c.rcd);
        }
        at = feed.map(|c| c.board);
    }
    out
}

/// The system of earthing at a board.
fn system_at<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    origin: Earthing,
    board: BoardId,
) -> Earthing {
    let mut at = board;
    for _ in 0..=B {
        let Some(b) = inst.board(at) else { break };
        if matches!(b.earthing, BoardEarthing::OwnElectrode(_)) {
            return Earthing::Tt;
        }
        match b.fed_by.and_then(|f| inst.circuit(f)) {
            Some(feed) => at = feed.board,
            None => break,
        }
    }
    origin
}
