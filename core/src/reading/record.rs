//! All readings of an installation, as plain data, judged place by place against its design; and what stands
//! against energising each place, everything upstream counted.
//!
//! The design comes from the walk: [`Plan`] is a recorder that keeps what is needed of it. The readings come from
//! [`Readings`], whoever keeps them. [`Record`] brings both together:
//!
//! 1. [`Record::all`] judges every reading and tells each; what comes back is what was [`Done`] at each place.
//! 2. [`Record::stops`], [`Record::next`] and [`Done::outcome`] say what follows from it.
//!
//! **What rests on what.** A circuit becomes live by its device, a board by the circuit that feeds it, the boards at
//! the origin by the main switch. What becomes live together must have passed its dead tests; everything upstream
//! must be complete, its live tests too. A live test that was made and is less than a pass stops as well.
//!
//! **Limits of what many circuits rest on.** Ze: the smallest [`Design::max_ze`] of the circuits whose loop closes
//! over it. An electrode: the smallest of touch voltage over IΔn, less the protective conductor up to the exposed
//! part, IΔn being that of the most sensitive RCD of each circuit. A prospective current: the smallest rating of
//! the devices there. Where one of them is not known there is no limit, and no pass. Circuits whose design fails, or
//! could not be read, are stopped by that, and count for nothing here.

use super::interval::{Accuracy, Function, Shown};
use super::polarity::{Polarity, Rotation};
use super::rcd::{Multiple, Wave};
use super::ring::{Diagnosis, EndReadings, Socket};
use super::sequence::{self, Done, Next, Note, Step, Steps, Stop};
use super::{
    Design, Judged, Lacking, Rule, Test, continuity, electrode, fault_loop, insulation, polarity,
    rcd, ring, volt_drop,
};
use crate::check::breaking;
use crate::device::Rcd;
use crate::facts::{BoardFacts, CircuitFacts};
use crate::network::{Board, BoardEarthing, BoardId, Circuit, CircuitId, Installation, Protective};
use crate::quantity::{Celsius, Metres};
use crate::source::Source;
use crate::supply::{Conductor, Earthing, Phases};
use crate::verdict::{Finding, Outcome, Place, Recorder, Sense, Unit};
use heapless::Vec;

/// Most readings of one kind at a place: insulation, bonding.
pub const SEVERAL: usize = 16;
/// Most times of one RCD: every multiple, wave and half-wave, twice.
pub const TIMES: usize = 24;
/// Most sockets of a ring.
pub const SOCKETS: usize = 48;

/// Uncertainties of the instruments by what they measure; none where it is not known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instruments {
    /// Insulation resistance.
    pub insulation: Option<Accuracy>,
    /// Loop impedance.
    pub fault_loop: Option<Accuracy>,
    /// Prospective fault current.
    pub fault_current: Option<Accuracy>,
    /// Low resistance.
    pub low_resistance: Option<Accuracy>,
    /// Resistance to earth, by stakes.
    pub earth_resistance: Option<Accuracy>,
    /// Operating time of RCDs.
    pub rcd_time: Option<Accuracy>,
    /// Operating current of RCDs.
    pub rcd_current: Option<Accuracy>,
    /// Voltage. No part of IEC 61557 is taken for it.
    pub voltage: Option<Accuracy>,
    /// Current. No part of IEC 61557 is taken for it.
    pub current: Option<Accuracy>,
}

impl Instruments {
    /// The limits of IEC 61557.
    pub const STANDARD: Self = Self {
        insulation: Some(Accuracy::standard(Function::Insulation)),
        fault_loop: Some(Accuracy::standard(Function::Loop)),
        fault_current: Some(Accuracy::standard(Function::FaultCurrent)),
        low_resistance: Some(Accuracy::standard(Function::LowResistance)),
        earth_resistance: Some(Accuracy::standard(Function::EarthResistance)),
        rcd_time: Some(Accuracy::standard(Function::RcdTime)),
        rcd_current: Some(Accuracy::standard(Function::RcdCurrent)),
        voltage: None,
        current: None,
    };
}

/// What holds of every reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Testing {
    /// Temperature of the conductors while they are tested.
    pub ambient: Option<Celsius>,
    /// The instruments.
    pub instruments: Instruments,
}

impl Default for Testing {
    fn default() -> Self {
        Self {
            ambient: None,
            instruments: Instruments::STANDARD,
        }
    }
}

/// Prospective fault currents, the largest of the lines, in A.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FaultReadings {
    /// Line to neutral.
    pub line_neutral: Option<Shown>,
    /// Line to earth.
    pub line_earth: Option<Shown>,
    /// Line to line, where the meter can do that.
    pub three_phase: Option<Shown>,
}

/// An electrode, in Ω.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Electrode {
    /// Fall of potential: the middle stake in its place, nearer, and further.
    ThreePoint([Option<Shown>; 3]),
    /// The loop.
    Loop(Option<Shown>),
}

/// A bonding conductor, in Ω.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bonding {
    /// Its length.
    pub length: Metres,
    /// What it is.
    pub conductor: Conductor,
    /// End to end.
    pub reading: Option<Shown>,
}

/// Operating time of an RCD, in s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Time {
    /// At which multiple of IΔn.
    pub multiple: Multiple,
    /// Wave of the test current.
    pub wave: Wave,
    /// Over range: it did not operate within that.
    pub reading: Option<Shown>,
}

/// Operating current of an RCD, in A.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ramp {
    /// Wave of the test current.
    pub wave: Wave,
    /// At which it operated.
    pub reading: Option<Shown>,
}

/// A ring, in Ω.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ring {
    /// r1
    pub line: Option<Shown>,
    /// rn
    pub neutral: Option<Shown>,
    /// r2
    pub protective: Option<Shown>,
    /// Cross-connected.
    pub sockets: Vec<Socket, SOCKETS>,
}

/// Insulation, in MΩ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Insulation {
    /// How it was tested.
    pub made: insulation::Made,
    /// What was read.
    pub reading: Option<Shown>,
}

/// A measured volt drop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum VoltDrop {
    /// At the furthest point, in V, and the current of the load there, in A.
    Voltages {
        /// Without the load.
        unloaded: Option<Shown>,
        /// With it.
        loaded: Option<Shown>,
        /// Its current.
        current: Option<Shown>,
    },
    /// Line to neutral, in Ω.
    Impedances {
        /// At the furthest point.
        point: Option<Shown>,
        /// At the origin.
        origin: Option<Shown>,
    },
}

/// Readings of a supply.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SupplyTests {
    /// Ze, in Ω.
    pub ze: Option<Shown>,
    /// Prospective currents.
    pub fault: Option<FaultReadings>,
    /// The electrode.
    pub electrode: Option<Electrode>,
    /// Bonding conductors.
    pub bonding: Vec<Bonding, SEVERAL>,
    /// The order all others are held against.
    pub phase_sequence: Option<Rotation>,
    /// The earthing conductor is off.
    pub earthing_out: bool,
    /// The main switch is closed.
    pub energised: bool,
}

/// Readings of a board.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BoardTests {
    /// Its own electrode.
    pub electrode: Option<Electrode>,
    /// Prospective currents.
    pub fault: Option<FaultReadings>,
    /// Bonding conductors.
    pub bonding: Vec<Bonding, SEVERAL>,
    /// Phase sequence.
    pub phase_sequence: Option<Rotation>,
    /// Its RCD.
    pub rcd: Vec<Time, TIMES>,
    /// The same.
    pub ramp: Option<Ramp>,
    /// Its earthing conductor is off.
    pub earthing_out: bool,
}

/// Readings of a circuit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CircuitTests {
    /// R1 + R2, in Ω.
    pub r1r2: Option<Shown>,
    /// R2, in Ω.
    pub r2: Option<Shown>,
    /// Armour, in Ω.
    pub armour: Option<Shown>,
    /// A ring.
    pub ring: Option<Ring>,
    /// Insulation.
    pub insulation: Vec<Insulation, SEVERAL>,
    /// Polarity.
    pub polarity: Option<Polarity>,
    /// Zs, in Ω.
    pub zs: Option<Shown>,
    /// Its RCD, or the one upstream where it has none.
    pub rcd: Vec<Time, TIMES>,
    /// The same.
    pub ramp: Option<Ramp>,
    /// Phase sequence.
    pub phase_sequence: Option<Rotation>,
    /// Volt drop.
    pub volt_drop: Option<VoltDrop>,
    /// Surge protection or electronic gear is part of it.
    pub gear: bool,
    /// It is disconnected.
    pub gear_out: bool,
    /// It has been energised.
    pub energised: bool,
}

/// Whoever keeps the readings.
pub trait Readings {
    /// What holds of all.
    fn testing(&self) -> &Testing;
    /// Those of the supply.
    fn supply(&self) -> Option<&SupplyTests>;
    /// Those of a board.
    fn board(&self, id: BoardId) -> Option<&BoardTests>;
    /// Those of a circuit.
    fn circuit(&self, id: CircuitId) -> Option<&CircuitTests>;
    /// Whether something was noted there that can't be read.
    fn unreadable(&self, place: Place) -> bool {
        let _ = place;
        false
    }
}

/// Which reading of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Item {
    /// A bonding conductor, by its place in the list.
    Bonding(u8),
    /// R1 + R2.
    R1R2,
    /// R1 + R2 as the highest reading of a ring's sockets.
    RingR1R2,
    /// R2.
    R2,
    /// Armour.
    Armour,
    /// Ring.
    Ring,
    /// Insulation, by its place in the list.
    Insulation(u8),
    /// Polarity.
    Polarity,
    /// Electrode.
    Electrode,
    /// Ze.
    Ze,
    /// Prospective current.
    FaultCurrent,
    /// Zs.
    Zs,
    /// Operating time, by its place in the list.
    Time(u8),
    /// Operating current.
    Ramp,
    /// Phase sequence.
    PhaseSequence,
    /// Volt drop.
    VoltDrop,
}

impl Item {
    /// The step it belongs to.
    #[must_use]
    pub const fn step(self) -> Step {
        match self {
            Item::Bonding(_) => Step::Bonding,
            Item::R1R2 | Item::RingR1R2 | Item::R2 => Step::Protective,
            Item::Armour => Step::Armour,
            Item::Ring => Step::Ring,
            Item::Insulation(_) => Step::Insulation,
            Item::Polarity => Step::Polarity,
            Item::Electrode => Step::Electrode,
            Item::Ze => Step::Ze,
            Item::FaultCurrent => Step::FaultCurrent,
            Item::Zs => Step::Zs,
            Item::Time(_) | Item::Ramp => Step::Rcd,
            Item::PhaseSequence => Step::PhaseSequence,
            Item::VoltDrop => Step::VoltDrop,
        }
    }
}

/// One judged reading, or one that is still to be taken.
#[derive(Clone, Copy, Debug)]
pub struct Entry<'a> {
    /// Where.
    pub place: Place,
    /// Which.
    pub item: Item,
    /// It was taken. Where not, the limit and the design's value stand all the same.
    pub taken: bool,
    /// How it came out.
    pub judged: &'a Judged,
    /// Of a ring.
    pub ring: Option<&'a Diagnosis>,
}

/// Takes the entries.
pub type Say<'s> = &'s mut dyn FnMut(&Entry<'_>);

/// What the walk said of a circuit.
#[derive(Clone, Debug, Default)]
pub struct CircuitPlan {
    outcome: Option<Outcome>,
    source: Option<Source>,
    facts: Option<CircuitFacts>,
    incomplete: bool,
}

/// What the walk said of a board or the supply.
#[derive(Clone, Copy, Debug, Default)]
pub struct BoardPlan {
    outcome: Option<Outcome>,
    facts: Option<BoardFacts>,
}

/// What the walk says of the design, in room that somebody else has: as many as there are boards and circuits.
#[derive(Debug)]
pub struct Plan<'a> {
    /// The supply.
    pub supply: BoardPlan,
    /// The boards.
    pub boards: &'a mut [BoardPlan],
    /// The circuits.
    pub circuits: &'a mut [CircuitPlan],
}

impl Plan<'_> {
    fn circuit_plan(&self, id: CircuitId) -> Option<&CircuitPlan> {
        self.circuits.get(usize::from(id.0))
    }

    fn board_plan(&self, place: Place) -> Option<&BoardPlan> {
        match place {
            Place::Supply => Some(&self.supply),
            Place::Board(id) => self.boards.get(usize::from(id.0)),
            Place::Circuit(_) => None,
        }
    }

    /// Something of a place could not be read: its design is no pass.
    pub fn incomplete(&mut self, place: Place) {
        if let Some(to) = self.outcome_of(place) {
            *to = (*to).max(Some(Outcome::CannotSay));
        }
        if let Place::Circuit(id) = place {
            if let Some(c) = self.circuits.get_mut(usize::from(id.0)) {
                c.incomplete = true;
            }
        }
    }

    /// Whether a circuit could be energised one day as it is designed now.
    fn stands(&self, id: CircuitId) -> bool {
        self.circuit_plan(id)
            .is_some_and(|c| c.facts.is_some() && !c.incomplete && c.outcome != Some(Outcome::Fail))
    }

    fn outcome_of(&mut self, place: Place) -> Option<&mut Option<Outcome>> {
        Some(match place {
            Place::Supply => &mut self.supply.outcome,
            Place::Board(id) => &mut self.boards.get_mut(usize::from(id.0))?.outcome,
            Place::Circuit(id) => &mut self.circuits.get_mut(usize::from(id.0))?.outcome,
        })
    }

    /// How the design of a place came out; [`Outcome::CannotSay`] where the walk did not come to it.
    #[must_use]
    pub fn outcome(&self, place: Place) -> Outcome {
        let (outcome, reached) = match place {
            Place::Circuit(id) => self
                .circuit_plan(id)
                .map_or((None, false), |c| (c.outcome, c.facts.is_some())),
            other => self
                .board_plan(other)
                .map_or((None, false), |b| (b.outcome, b.facts.is_some())),
        };
        if reached {
            outcome.unwrap_or(Outcome::Pass)
        } else {
            Outcome::CannotSay
        }
    }
}

impl Recorder for Plan<'_> {
    fn finding(&mut self, finding: &Finding) {
        let to = self.outcome_of(finding.place);
        if let Some(to) = to {
            *to = (*to).max(Some(finding.outcome));
        }
    }

    fn fed(&mut self, id: CircuitId, source: &Source) {
        if let Some(c) = self.circuits.get_mut(usize::from(id.0)) {
            c.source = Some(*source);
        }
    }

    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        if let Some(c) = self.circuits.get_mut(usize::from(id.0)) {
            c.facts = Some(facts.clone());
        }
    }

    fn board(&mut self, place: Place, facts: &BoardFacts) {
        match place {
            Place::Supply => self.supply.facts = Some(*facts),
            Place::Board(id) => {
                if let Some(b) = self.boards.get_mut(usize::from(id.0)) {
                    b.facts = Some(*facts);
                }
            }
            Place::Circuit(_) => {}
        }
    }
}

/// What was done everywhere.
#[derive(Clone, Debug, PartialEq)]
pub struct AllDone<const B: usize, const C: usize> {
    /// At the supply.
    pub supply: Done,
    /// At the boards.
    pub boards: Vec<Done, B>,
    /// At the circuits.
    pub circuits: Vec<Done, C>,
}

impl<const B: usize, const C: usize> AllDone<B, C> {
    /// What was done at a place.
    #[must_use]
    pub fn at(&self, place: Place) -> Option<&Done> {
        match place {
            Place::Supply => Some(&self.supply),
            Place::Board(id) => self.boards.get(usize::from(id.0)),
            Place::Circuit(id) => self.circuits.get(usize::from(id.0)),
        }
    }
}

/// Design and readings of an installation, judged as one system of earthing.
pub struct Record<'a, const B: usize, const C: usize, R: Readings + ?Sized> {
    /// The installation.
    pub inst: &'a Installation<B, C>,
    /// The system it is judged as, the same as that of the walk.
    pub earthing: Earthing,
    /// What the walk said.
    pub plan: &'a Plan<'a>,
    /// The readings.
    pub readings: &'a R,
}

/// Notes what was done at one place, and tells it.
struct Notebook<'a, 's> {
    place: Place,
    needs: Steps,
    done: Done,
    say: &'a mut (dyn FnMut(&Entry<'_>) + 's),
}

impl Notebook<'_, '_> {
    /// A reading that was taken, or is noted as one to take.
    fn taken(&mut self, item: Item, judged: &Judged) {
        self.with_ring(item, judged, None);
    }

    fn with_ring(&mut self, item: Item, judged: &Judged, ring: Option<&Diagnosis>) {
        self.done.add(item.step(), judged.outcome);
        let taken = judged.shown.is_some() || !judged.lacking.contains(Lacking::READING);
        self.tell(item, taken, judged, ring);
    }

    /// One that is needed and nobody took; `Some` of one that was.
    fn maybe<T: Copy>(
        &mut self,
        item: Item,
        reading: Option<T>,
        judge: impl FnOnce(Option<T>) -> Judged,
    ) {
        if reading.is_some() {
            let judged = judge(reading);
            self.taken(item, &judged);
        } else if self.wants(item) {
            let judged = judge(None);
            self.missing(item, &judged);
        }
    }

    fn wants(&self, item: Item) -> bool {
        self.needs.contains(item.step().flag())
    }

    fn missing(&mut self, item: Item, judged: &Judged) {
        let judged = judged.without(Lacking::READING);
        self.tell(item, false, &judged, None);
    }

    fn tell(&mut self, item: Item, taken: bool, judged: &Judged, ring: Option<&Diagnosis>) {
        (self.say)(&Entry {
            place: self.place,
            item,
            taken,
            judged,
            ring,
        });
    }
}

/// Judges with the instrument; where its uncertainty is not known nothing is said.
fn by(
    meter: Option<Accuracy>,
    function: Function,
    judge: impl FnOnce(&Accuracy) -> Judged,
) -> Judged {
    match meter {
        Some(m) => judge(&m),
        None => {
            let mut j = judge(&Accuracy::standard(function)).unsaid(Lacking::ACCURACY);
            j.interval = None;
            j
        }
    }
}

/// Zero-based, as far as a list goes.
fn counted<T>(list: &[T]) -> impl Iterator<Item = (u8, &T)> {
    (0u8..).zip(list)
}

impl<const B: usize, const C: usize, R: Readings + ?Sized> Record<'_, B, C, R> {
    /// The temperature its conductors are taken to have: that of the readings, or 20 °C where none was noted.
    #[must_use]
    pub fn ambient(&self) -> Celsius {
        self.readings
            .testing()
            .ambient
            .unwrap_or(Celsius::raw(20.0))
    }

    /// The design of a circuit, at [`Record::ambient`]; none where the walk did not come to it.
    #[must_use]
    pub fn design(&self, id: CircuitId) -> Option<Design<'_>> {
        let plan = self.plan.circuit_plan(id)?;
        Some(Design {
            profile: &self.inst.profile,
            source: plan.source.as_ref()?,
            circuit: self.inst.circuit(id)?,
            facts: plan.facts.as_ref()?,
            ambient: self.ambient(),
        })
    }

    /// Every place: the supply, the boards, the circuits.
    pub fn places(&self) -> impl Iterator<Item = Place> {
        let boards = self.inst.boards().map(|(id, _)| Place::Board(id));
        let circuits = self.inst.circuits().map(|(id, _)| Place::Circuit(id));
        core::iter::once(Place::Supply)
            .chain(boards)
            .chain(circuits)
    }

    /// The tests a place needs.
    #[must_use]
    pub fn needs(&self, place: Place) -> Steps {
        match place {
            Place::Supply => sequence::needs_of_supply(&self.inst.supply, self.earthing),
            Place::Board(id) => self.inst.board(id).map_or(Steps::empty(), |b| {
                sequence::needs_of_board(b, self.inst.is_three_phase(id))
            }),
            Place::Circuit(id) => self
                .inst
                .circuit(id)
                .map_or(Steps::empty(), sequence::needs_of_circuit),
        }
    }

    /// Whether a place is live.
    #[must_use]
    pub fn energised(&self, place: Place) -> bool {
        match self.switched_by(place) {
            Place::Circuit(id) => self.readings.circuit(id).is_some_and(|c| c.energised),
            _ => self.readings.supply().is_some_and(|s| s.energised),
        }
    }

    /// What a place becomes live by: itself, or of a board the circuit that feeds it or the main switch.
    fn switched_by(&self, place: Place) -> Place {
        match place {
            Place::Board(id) => self
                .inst
                .board(id)
                .and_then(|b| b.fed_by)
                .map_or(Place::Supply, Place::Circuit),
            other => other,
        }
    }

    /// The board whose electrode the loop of a circuit closes over; none: what there is at the origin.
    fn electrode_of(&self, circuit: &Circuit) -> Option<BoardId> {
        let mut at = circuit.board;
        for _ in 0..=B {
            let board = self.inst.board(at)?;
            if matches!(board.earthing, BoardEarthing::OwnElectrode(_)) {
                return Some(at);
            }
            at = self.inst.circuit(board.fed_by?)?.board;
        }
        None
    }

    /// The smallest of something over circuits that stand; none where one of them has none, or there are none.
    fn smallest(
        &self,
        counts: impl Fn(&Circuit) -> bool,
        of: impl Fn(CircuitId, &Circuit) -> Option<f32>,
    ) -> Option<f32> {
        let mut least: Option<f32> = None;
        for (id, circuit) in self.inst.circuits() {
            if self.plan.stands(id) && counts(circuit) {
                let own = of(id, circuit)?;
                least = Some(least.map_or(own, |l| l.min(own)));
            }
        }
        least.filter(|l| l.is_finite())
    }

    /// The largest Ze with which every circuit that rests on it still disconnects in time, in Ω. Circuits without a
    /// protective conductor have no such loop.
    #[must_use]
    pub fn max_ze(&self) -> Option<f32> {
        self.smallest(
            |c| !is_bare(c) && self.electrode_of(c).is_none(),
            |id, _| self.design(id)?.max_ze(),
        )
    }

    /// The largest RA of the electrode of a board, or of the origin, in Ω.
    #[must_use]
    pub fn max_ra(&self, board: Option<BoardId>) -> Option<f32> {
        self.smallest(
            |c| !is_bare(c) && self.electrode_of(c) == board,
            |id, circuit| {
                let design = self.design(id)?;
                let residual = [circuit.rcd, design.source.rcd]
                    .into_iter()
                    .flatten()
                    .map(|r| r.sensitivity().get())
                    .fold(f32::INFINITY, f32::min);
                let protective = design.source.protective + design.facts.protective?;
                let own = self.inst.profile.touch_voltage / residual - protective.hot.r;
                (residual.is_finite()).then_some(own.max(0.0))
            },
        )
    }

    /// The smallest rated short-circuit capacity at a board, or at the origin, in A.
    #[must_use]
    pub fn breaking(&self, board: Option<BoardId>) -> Option<f32> {
        let at = |b: BoardId| match board {
            Some(id) => b == id,
            None => self.inst.board(b).is_some_and(|b| b.fed_by.is_none()),
        };
        let least = self.smallest(
            |c| at(c.board),
            |_, c| {
                let conditional = self.inst.board(c.board).and_then(|b| b.conditional);
                breaking::rated(&c.device, conditional)
            },
        )?;
        match (board, self.inst.supply.device) {
            (None, Some(incoming)) => Some(least.min(breaking::rated(&incoming, None)?)),
            _ => Some(least),
        }
    }

    /// Judges every reading and tells each, and those that are still to be taken; place by place, in the order of
    /// the tests.
    pub fn all(&self, say: Say<'_>) -> AllDone<B, C> {
        let mut out = AllDone {
            supply: self.judge(Place::Supply, say),
            boards: Vec::new(),
            circuits: Vec::new(),
        };
        // As many as there are; both hold `B`, and `C`.
        for (id, _) in self.inst.boards() {
            let _ = out.boards.push(self.judge(Place::Board(id), say));
        }
        for (id, _) in self.inst.circuits() {
            let _ = out.circuits.push(self.judge(Place::Circuit(id), say));
        }
        out
    }

    /// Judges the readings of one place.
    pub fn judge(&self, place: Place, say: Say<'_>) -> Done {
        let mut done = Done::new(self.plan.outcome(place));
        done.energised = self.energised(place);
        done.unreadable = self.readings.unreadable(place);
        let mut book = Notebook {
            place,
            needs: self.needs(place),
            done,
            say,
        };
        match place {
            Place::Supply => self.judge_supply(&mut book),
            Place::Board(id) => self.judge_board(id, &mut book),
            Place::Circuit(id) => self.judge_circuit(id, &mut book),
        }
        book.done
    }

    fn judge_supply(&self, book: &mut Notebook<'_, '_>) {
        let none = SupplyTests::default();
        let tests = self.readings.supply().unwrap_or(&none);
        let meters = &self.readings.testing().instruments;
        book.done.earthing_out = tests.earthing_out;
        self.bonding(&tests.bonding, book);
        self.electrode(tests.electrode, None, book);
        book.maybe(Item::Ze, tests.ze, |shown| {
            let expected = match self.earthing {
                // Ze of a supply that can't be told is of its present earth.
                Earthing::Tt => None,
                _ => self.inst.supply.ze.map(|z| z.get()),
            };
            by(meters.fault_loop, Function::Loop, |m| {
                fault_loop::ze(shown, m, self.max_ze(), expected)
            })
        });
        let three = self.inst.supply.phases == Phases::Three;
        self.fault(tests.fault, None, three, book);
        book.maybe(Item::PhaseSequence, tests.phase_sequence, |r| {
            turned(r, tests.phase_sequence)
        });
    }

    fn judge_board(&self, id: BoardId, book: &mut Notebook<'_, '_>) {
        let none = BoardTests::default();
        let tests = self.readings.board(id).unwrap_or(&none);
        let Some(board) = self.inst.board(id) else {
            return;
        };
        book.done.earthing_out = tests.earthing_out;
        self.bonding(&tests.bonding, book);
        self.electrode(tests.electrode, Some(id), book);
        self.fault(tests.fault, Some(id), self.inst.is_three_phase(id), book);
        self.rcd(board.rcd, &tests.rcd, tests.ramp, book);
        self.phase_sequence(tests.phase_sequence, book);
    }

    fn judge_circuit(&self, id: CircuitId, book: &mut Notebook<'_, '_>) {
        let none = CircuitTests::default();
        let tests = self.readings.circuit(id).unwrap_or(&none);
        let Some(circuit) = self.inst.circuit(id) else {
            return;
        };
        let meters = &self.readings.testing().instruments;
        book.done.gear_out = tests.gear_out;
        let design = self.design(id);
        self.continuity(design.as_ref(), circuit, tests, book);
        let class = insulation::Class::of(self.inst.supply.u0, circuit.phase);
        for (n, i) in counted(&tests.insulation) {
            let j = by(meters.insulation, Function::Insulation, |m| {
                insulation::judge(class, i.made, i.reading, m)
            });
            book.taken(Item::Insulation(n), &j);
        }
        if tests.insulation.is_empty() && book.wants(Item::Insulation(0)) {
            let made = insulation::Made {
                test_voltage: insulation::required(class).test_voltage,
                gear: false,
                fixed_gear: false,
                circuits: 1,
            };
            let j = by(meters.insulation, Function::Insulation, |m| {
                insulation::judge(class, made, None, m)
            });
            book.missing(Item::Insulation(0), &j);
        }
        book.maybe(Item::Polarity, tests.polarity, |found| match found {
            Some(found) => polarity::polarity(found),
            None => Judged::new(Test::Polarity, Rule::Polarity, Unit::Factor, Sense::AtMost),
        });
        book.maybe(Item::Zs, tests.zs, |shown| {
            let j = by(meters.fault_loop, Function::Loop, |m| match &design {
                Some(d) => fault_loop::zs(d, shown, m),
                None => unplanned(Test::Zs, Rule::MaxZs, shown, m),
            });
            self.at_ambient(j)
        });
        let rcd = circuit
            .rcd
            .or_else(|| design.as_ref().and_then(|d| d.source.rcd));
        self.rcd(rcd, &tests.rcd, tests.ramp, book);
        self.phase_sequence(tests.phase_sequence, book);
        book.maybe(Item::VoltDrop, tests.volt_drop, |drop| {
            self.volt_drop(design.as_ref(), drop)
        });
    }

    /// What rests on the temperature of the conductors says nothing where that is not known.
    fn at_ambient(&self, j: Judged) -> Judged {
        if self.readings.testing().ambient.is_some() {
            j
        } else {
            j.unsaid(Lacking::AMBIENT)
        }
    }

    fn continuity(
        &self,
        design: Option<&Design<'_>>,
        circuit: &Circuit,
        tests: &CircuitTests,
        book: &mut Notebook<'_, '_>,
    ) {
        let meter = self.readings.testing().instruments.low_resistance;
        let low = |judge: &dyn Fn(&Accuracy) -> Judged| {
            self.at_ambient(by(meter, Function::LowResistance, judge))
        };
        let both = |shown: Option<Shown>| {
            low(&|m| match design {
                Some(d) => {
                    let mut j = continuity::r1r2(d, shown, m);
                    // Both were read: which conductor it is in.
                    if let (Some(Shown::Value(all)), Some(Shown::Value(r2))) = (shown, tests.r2) {
                        j.suspects |= continuity::which(d, all - m.lead(), r2 - m.lead(), m);
                    }
                    j
                }
                None => unplanned(Test::R1R2, Rule::MaxR1R2, shown, m),
            })
        };
        let ring = tests.ring.as_ref();
        let highest = ring.and_then(|r| ring::highest(&r.sockets));
        if let (None, Some(shown)) = (tests.r1r2, highest) {
            book.taken(Item::RingR1R2, &both(Some(shown)));
        } else if tests.r1r2.is_some() || tests.r2.is_none() {
            book.maybe(Item::R1R2, tests.r1r2, both);
        }
        if tests.r2.is_some() {
            book.maybe(Item::R2, tests.r2, |shown| {
                low(&|m| match design {
                    Some(d) => continuity::r2(d, shown, m),
                    None => unplanned(Test::R2, Rule::MaxR2, shown, m),
                })
            });
        }
        book.maybe(Item::Armour, tests.armour, |shown| {
            low(&|m| match design {
                Some(d) => continuity::armour(d, shown, m),
                None => unplanned(Test::Armour, Rule::DesignBand, shown, m),
            })
        });
        self.ring(design, circuit, ring, book);
    }

    fn ring(
        &self,
        design: Option<&Design<'_>>,
        circuit: &Circuit,
        ring: Option<&Ring>,
        book: &mut Notebook<'_, '_>,
    ) {
        let none = Ring::default();
        let read = ring.unwrap_or(&none);
        let ends = match (read.line, read.neutral, read.protective) {
            (Some(line), Some(neutral), Some(protective)) => Some(EndReadings {
                line,
                neutral,
                protective,
            }),
            _ => None,
        };
        let any = read.line.is_some()
            || read.neutral.is_some()
            || read.protective.is_some()
            || !read.sockets.is_empty();
        if !any && !book.wants(Item::Ring) {
            return;
        }
        let testing = self.readings.testing();
        let meter = testing.instruments.low_resistance;
        let accuracy = meter.unwrap_or(Accuracy::standard(Function::LowResistance));
        // Without a temperature the length of the ring can't be told.
        let planned = match testing.ambient {
            Some(_) => design.and_then(Design::ends),
            None => None,
        };
        let d = ring::diagnose(ends, &read.sockets, &accuracy, planned);
        let mut j = ring::judged(&d, ring::spurs(circuit));
        if meter.is_none() {
            j = j.unsaid(Lacking::ACCURACY);
        } else if testing.ambient.is_none() {
            j = j.unsaid(Lacking::AMBIENT);
        } else if planned.is_none() {
            j = j.unsaid(Lacking::PROTECTIVE);
        }
        if any {
            // A step of it that is missing makes the whole no pass.
            book.with_ring(Item::Ring, &j, Some(&d));
        } else {
            book.missing(Item::Ring, &j);
        }
    }

    fn bonding(&self, list: &[Bonding], book: &mut Notebook<'_, '_>) {
        let meter = self.readings.testing().instruments.low_resistance;
        for (n, b) in counted(list) {
            let j = by(meter, Function::LowResistance, |m| {
                continuity::bonding(b.conductor, b.length, self.ambient(), b.reading, m)
                    .unwrap_or_else(|_| {
                        unplanned(Test::Bonding, Rule::BondingByLength, b.reading, m)
                    })
            });
            book.taken(Item::Bonding(n), &self.at_ambient(j));
        }
        if list.is_empty() && book.wants(Item::Bonding(0)) {
            let j = Judged::new(
                Test::Bonding,
                Rule::BondingByLength,
                Unit::Ohm,
                Sense::AtMost,
            );
            book.missing(Item::Bonding(0), &j);
        }
    }

    fn electrode(
        &self,
        read: Option<Electrode>,
        board: Option<BoardId>,
        book: &mut Notebook<'_, '_>,
    ) {
        let meters = &self.readings.testing().instruments;
        book.maybe(Item::Electrode, read, |read| {
            let limit = self.max_ra(board);
            let (all, by_loop) = match read {
                Some(Electrode::ThreePoint([Some(a), Some(b), Some(c)])) => (Some([a, b, c]), None),
                Some(Electrode::Loop(shown)) => (None, shown),
                _ => (None, None),
            };
            match all {
                Some(all) => by(meters.earth_resistance, Function::EarthResistance, |m| {
                    electrode::fall_of_potential(all, m, limit)
                }),
                None => by(meters.fault_loop, Function::Loop, |m| {
                    electrode::by_loop(by_loop, m, limit)
                }),
            }
        });
    }

    fn fault(
        &self,
        read: Option<FaultReadings>,
        board: Option<BoardId>,
        phases_three: bool,
        book: &mut Notebook<'_, '_>,
    ) {
        let meter = self.readings.testing().instruments.fault_current;
        let cmax = self.inst.profile.cmax;
        book.maybe(Item::FaultCurrent, read, |read| {
            let read = read.unwrap_or_default();
            let currents = fault_loop::Currents {
                line_neutral: read.line_neutral,
                line_earth: read.line_earth,
                three_phase: read.three_phase,
                phases_three,
            };
            let place = board.map_or(Place::Supply, Place::Board);
            let plan = self.plan.board_plan(place);
            let expected = plan.and_then(|p| p.facts).and_then(|f| f.ipf_max);
            by(meter, Function::FaultCurrent, |m| {
                fault_loop::fault_current(
                    &currents,
                    m,
                    self.breaking(board),
                    cmax,
                    expected.map(|i| i / cmax),
                )
            })
        });
    }

    fn rcd(
        &self,
        rcd: Option<Rcd>,
        times: &[Time],
        ramp: Option<Ramp>,
        book: &mut Notebook<'_, '_>,
    ) {
        let meters = &self.readings.testing().instruments;
        let none = |test, rule, unit, shown: Option<Shown>| {
            let mut j = Judged::new(test, rule, unit, Sense::AtMost).without(Lacking::RCD);
            j.shown = shown;
            if shown.is_none() {
                j = j.without(Lacking::READING);
            }
            j
        };
        for (n, t) in counted(times) {
            let j = by(meters.rcd_time, Function::RcdTime, |m| match rcd {
                Some(rcd) => rcd::time(&rcd, t.wave, t.multiple, t.reading, m),
                None => none(Test::RcdTime, Rule::RcdLatest, Unit::Second, t.reading),
            });
            book.taken(Item::Time(n), &j);
        }
        if let Some(r) = ramp {
            let j = by(meters.rcd_current, Function::RcdCurrent, |m| match rcd {
                Some(rcd) => rcd::ramp(&rcd, r.wave, r.reading, m),
                None => none(Test::RcdRamp, Rule::RcdRamp, Unit::Ampere, r.reading),
            });
            book.taken(Item::Ramp, &j);
        }
        // That it stays closed at half, or opens somewhere on a ramp, is no time.
        if times.iter().any(|t| t.multiple != Multiple::Half) {
            return;
        }
        if !times.is_empty() || ramp.is_some() {
            book.done.add(Step::Rcd, Outcome::CannotSay);
        }
        if let (Some(rcd), true) = (rcd, book.wants(Item::Time(0))) {
            let j = by(meters.rcd_time, Function::RcdTime, |m| {
                rcd::time(&rcd, Wave::Sine, Multiple::One, None, m)
            });
            let n = u8::try_from(times.len()).unwrap_or(u8::MAX);
            book.missing(Item::Time(n), &j);
        }
    }

    fn phase_sequence(&self, here: Option<Rotation>, book: &mut Notebook<'_, '_>) {
        let origin = self.readings.supply().and_then(|s| s.phase_sequence);
        book.maybe(Item::PhaseSequence, here, |here| turned(here, origin));
    }

    fn volt_drop(&self, design: Option<&Design<'_>>, drop: Option<VoltDrop>) -> Judged {
        let meters = &self.readings.testing().instruments;
        let Some(design) = design else {
            let none = Judged::new(Test::VoltDrop, Rule::DropLimit, Unit::Volt, Sense::AtMost);
            return none.without(Lacking::LIMIT);
        };
        let j = match drop {
            Some(VoltDrop::Voltages {
                unloaded: Some(unloaded),
                loaded: Some(loaded),
                current: Some(current),
            }) => match (meters.voltage, meters.current) {
                (Some(volts), Some(amps)) => {
                    volt_drop::by_voltages(design, unloaded, loaded, &volts, current, &amps)
                }
                _ => {
                    let mut j = volt_drop::untaken(design).without(Lacking::ACCURACY);
                    j.lacking.remove(Lacking::READING);
                    j
                }
            },
            Some(VoltDrop::Impedances {
                point: Some(point),
                origin: Some(origin),
            }) => by(meters.fault_loop, Function::Loop, |m| {
                volt_drop::by_impedances(design, point, origin, m)
            }),
            _ => volt_drop::untaken(design),
        };
        self.at_ambient(j)
    }

    /// Tells everything that stands against energising a place, and whose it is.
    pub fn stops(&self, done: &AllDone<B, C>, place: Place, say: &mut dyn FnMut(Place, Stop)) {
        let act = self.switched_by(place);
        let mut tell = |place: Place, complete: bool| {
            let needs = match (place, self.needs(place)) {
                (Place::Circuit(_), n) => n | Steps::INSULATION | Steps::POLARITY,
                (_, n) => n,
            };
            if let Some(own) = done.at(place) {
                for stop in sequence::stops(needs, own, complete) {
                    say(place, stop);
                }
            }
        };
        // What becomes live together.
        tell(act, false);
        for (id, board) in self.inst.boards() {
            if board.fed_by.map_or(Place::Supply, Place::Circuit) == act {
                tell(Place::Board(id), false);
            }
        }
        // What it hangs on, outwards in.
        let Place::Circuit(id) = act else { return };
        let mut at = self.inst.circuit(id).map(|c| c.board);
        for _ in 0..=B {
            let Some(board) = at else { break };
            tell(Place::Board(board), true);
            let feed = self.inst.board(board).and_then(|b: &Board| b.fed_by);
            match feed {
                Some(feed) => {
                    tell(Place::Circuit(feed), true);
                    at = self.inst.circuit(feed).map(|c| c.board);
                }
                None => {
                    tell(Place::Supply, true);
                    break;
                }
            }
        }
    }

    /// Whether nothing stands against energising a place.
    #[must_use]
    pub fn may_be_energised(&self, done: &AllDone<B, C>, place: Place) -> bool {
        let mut may = done.at(self.switched_by(place)).is_some();
        self.stops(done, place, &mut |_, _| may = false);
        may
    }

    /// What comes next at a place: what it needs, and what was made of its own accord.
    #[must_use]
    pub fn next(&self, done: &AllDone<B, C>, place: Place) -> Option<Next> {
        let own = done.at(place)?;
        Some(sequence::next(self.needs(place) | own.made(), own))
    }

    /// How the readings of a place came out.
    #[must_use]
    pub fn outcome(&self, done: &AllDone<B, C>, place: Place) -> Outcome {
        done.at(place)
            .map_or(Outcome::CannotSay, |own| own.outcome(self.needs(place)))
    }

    /// Tells the notes of a place.
    pub fn notes(&self, place: Place, say: &mut dyn FnMut(&Note)) {
        match place {
            Place::Supply => sequence::notes_of_place(self.earthing == Earthing::Tt, true)
                .iter()
                .for_each(say),
            Place::Board(id) => {
                let own = self
                    .inst
                    .board(id)
                    .is_some_and(|b| matches!(b.earthing, BoardEarthing::OwnElectrode(_)));
                sequence::notes_of_place(own, false).iter().for_each(say);
            }
            Place::Circuit(id) => {
                let site = sequence::Site {
                    gear: self.readings.circuit(id).is_some_and(|c| c.gear),
                    ..sequence::Site::default()
                };
                sequence::notes(self.inst, self.earthing, id, site)
                    .iter()
                    .for_each(say);
            }
        }
    }
}

fn is_bare(circuit: &Circuit) -> bool {
    circuit
        .sections
        .iter()
        .any(|s| s.protective == Protective::None)
}

fn turned(here: Option<Rotation>, origin: Option<Rotation>) -> Judged {
    match here {
        Some(here) => polarity::sequence(here, origin),
        None => Judged::new(
            Test::PhaseSequence,
            Rule::PhaseSequence,
            Unit::Factor,
            Sense::AtMost,
        ),
    }
}

/// A reading of what the walk did not come to.
fn unplanned(test: Test, rule: Rule, shown: Option<Shown>, accuracy: &Accuracy) -> Judged {
    Judged::new(test, rule, Unit::Ohm, Sense::AtMost)
        .read(shown, accuracy)
        .without(Lacking::LIMIT)
}

#[cfg(test)]
mod tests;
