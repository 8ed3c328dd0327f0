//! The walk: from the origin outwards, every board's source from the one above it, every circuit against
//! the source of its board.
//!
//! Three passes, none of them recursive: outwards for the lines each board is on, inwards for demand,
//! outwards for impedance, drop and the checks. Each goes through the circuits once per level of boards.

use crate::check::board_fault::Front;
use crate::check::{self, Case, board_fault, bonding, breaking, demand, earthing_conductor};
use crate::device::{Rcd, RcdDelay};
use crate::facts::{
    Back, BoardFacts, CircuitFacts, Drawn, Flow, SectionFacts, circuit_facts, currents, note_board,
};
use crate::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, DEPTH, Installation, Phase, SECTIONS, Use,
};
use crate::profile::{LoadClass, Profile};
use crate::quantity::SquareMm;
use crate::source::{Here, Source};
use crate::supply::Earthing;
use crate::verdict::{Finding, Lacking, Outcome, Place, Recorder, Worst};
use heapless::Vec;

/// Of the loads of one class on one line the largest two and the sum of the others, as diversity counts them: by
/// current, active and reactive part. Each has its own order, or a load of a poor power factor that outgrows another
/// would take of the drop.
#[derive(Clone, Copy, Default)]
struct Ranked {
    first: [f32; 3],
    second: [f32; 3],
    others: [f32; 3],
}

impl Ranked {
    fn add(&mut self, load: [f32; 3]) {
        let ranks = self
            .first
            .iter_mut()
            .zip(&mut self.second)
            .zip(&mut self.others);
        for (((first, second), others), mut own) in ranks.zip(load) {
            if own > *first {
                core::mem::swap(&mut own, first);
            }
            if own > *second {
                core::mem::swap(&mut own, second);
            }
            *others += own;
        }
    }
}

/// Loads of a board, by line and class.
#[derive(Clone, Copy, Default)]
struct Loads {
    ranked: [[Ranked; 10]; 3],
    /// Demand of boards further on, taken in full.
    through: Flow,
    /// A load that is not known.
    unknown: bool,
    /// A circuit on all three lines.
    three: bool,
    /// Lines that have a load.
    loaded: [bool; 3],
}

impl Loads {
    fn add(&mut self, profile: &Profile, class: LoadClass, flow: &Flow) {
        let diversity = profile.diversity(class);
        if !diversity.is_known() {
            self.unknown = true;
            return;
        }
        let lines = flow.amps.iter().zip(flow.active.iter().zip(flow.reactive));
        let rows = self.ranked.iter_mut().zip(&mut self.loaded);
        for ((row, loaded), (amps, (active, reactive))) in rows.zip(lines) {
            let (Some(r), true) = (row.get_mut(class as usize), *amps > 0.0) else {
                continue;
            };
            *loaded = true;
            let counted = diversity.counted(*amps);
            let scale = counted / amps;
            r.add([counted, scale * active, scale * reactive]);
        }
    }

    fn total(&self, profile: &Profile) -> Option<Flow> {
        if self.unknown {
            return None;
        }
        let mut out = self.through;
        for (k, (row, loaded)) in self.ranked.iter().zip(self.loaded).enumerate() {
            if !loaded {
                continue;
            }
            let mut sum = [0.0; 3];
            for (r, d) in row.iter().zip(&profile.diversity) {
                // Of a class that is not known there is none either, see `add`.
                if r.first == [0.0; 3] {
                    continue;
                }
                let ranks = r.first.iter().zip(r.second).zip(r.others);
                for (to, ((first, second), others)) in sum.iter_mut().zip(ranks) {
                    *to = *to + d.largest * first + d.second * second + d.others * others;
                }
            }
            let [amps, active, reactive] = sum;
            for (to, own) in [
                (&mut out.amps, amps),
                (&mut out.active, active),
                (&mut out.reactive, reactive),
            ] {
                if let Some(to) = to.get_mut(k) {
                    *to += own;
                }
            }
        }
        Some(out)
    }
}

/// What is known of a board before it is judged.
#[derive(Clone, Copy)]
struct Node {
    depth: Option<u8>,
    three_phase: bool,
    line_index: usize,
    demand: Option<Drawn>,
}

/// Judges an installation as the given system of earthing; every finding goes to the recorder.
///
/// What the installation's own [`check`](Installation::check) refuses is left out, and then the outcome is
/// [`Outcome::CannotSay`] at best. So it is where there is nothing to judge.
///
/// Judge by each of [`readings`](crate::supply::SupplyEarthing::readings) and take the worse.
pub fn assess<const B: usize, const C: usize, R: Recorder + ?Sized>(
    inst: &Installation<B, C>,
    earthing: Earthing,
    rec: &mut R,
) -> Outcome {
    let mut all = Noted {
        rec,
        worst: Outcome::Pass,
    };
    if inst.supply.check().is_err() {
        return Outcome::CannotSay;
    }
    let (profile, mut sound) = inst.profile.sift(&mut |_, _| {});
    let origin = Source::at_origin(&inst.supply, earthing, &profile);

    let mut nodes: Vec<Node, B> = Vec::new();
    for (id, board) in inst.boards() {
        let depth = usable_depth(inst, id, board);
        sound &= depth.is_some();
        // As many as there are boards; both hold `B`.
        let _ = nodes.push(Node {
            depth,
            three_phase: origin.three_phase,
            line_index: 0,
            demand: None,
        });
    }
    // How deep its board is, of each circuit that can be judged.
    let mut usable: Vec<Option<u8>, C> = Vec::new();
    for (_, circuit) in inst.circuits() {
        let good = circuit.check().is_ok()
            && (circuit.phase != Phase::Three || inst.is_three_phase(circuit.board));
        let depth = node(&nodes, circuit.board).and_then(|n| n.depth);
        let depth = depth.filter(|_| good);
        sound &= depth.is_some();
        let _ = usable.push(depth);
    }
    let deepest = nodes.iter().filter_map(|n| n.depth).max().unwrap_or(0);
    let deepest = deepest.min(u8::try_from(DEPTH).unwrap_or(0));

    // Outwards: which lines reach which board.
    for depth in 1..=deepest {
        for (id, board) in inst.boards() {
            if node(&nodes, id).is_none_or(|n| n.depth != Some(depth)) {
                continue;
            }
            let Some(feed) = board.fed_by.and_then(|f| inst.circuit(f)) else {
                continue;
            };
            let Some(above) = node(&nodes, feed.board) else {
                continue;
            };
            let line = match feed.phase {
                _ if !above.three_phase => above.line_index,
                Phase::L1 | Phase::Three => 0,
                Phase::L2 => 1,
                Phase::L3 => 2,
            };
            let three = above.three_phase && feed.phase == Phase::Three;
            if let Some(n) = nodes.get_mut(usize::from(id.0)) {
                n.three_phase = three;
                n.line_index = line;
            }
        }
    }

    // Inwards: demand.
    for depth in (0..=deepest).rev() {
        demands_at(inst, &profile, &origin, &usable, &mut nodes, depth);
    }

    // Outwards: the checks.
    let mut sources: Vec<Option<Source>, B> = Vec::new();
    for (_, board) in inst.boards() {
        let _ = sources.push(None);
        if board.fed_by.is_none() {
            if let Some(last) = sources.last_mut() {
                let mut s = origin;
                arrive(&mut s, board, &profile);
                *last = Some(s);
            }
        }
    }
    judge_supply(inst, &profile, &origin, &nodes, &mut all);
    let mut sections: Vec<SectionFacts, SECTIONS> = Vec::new();
    for depth in 0..=deepest {
        for (id, board) in inst.boards() {
            let (Some(n), Some(Some(source))) = (node(&nodes, id), sources.get(usize::from(id.0)))
            else {
                continue;
            };
            if n.depth == Some(depth) {
                judge_board(inst, &profile, id, board, source, n, &mut all);
            }
        }
        for (n, of_board) in (0u16..).zip(&usable) {
            if *of_board != Some(depth) {
                continue;
            }
            let id = CircuitId(n);
            let Some(circuit) = inst.circuit(id) else {
                continue;
            };
            let Some(Some(source)) = sources.get(usize::from(circuit.board.0)) else {
                sound = false;
                continue;
            };
            let place = Place::Circuit(id);
            let derived = derived(inst, id, circuit, &nodes);
            let here = Here::new(&profile, source);
            let facts = circuit_facts(
                &here,
                circuit,
                derived.as_ref(),
                place,
                &mut sections,
                &mut all,
            );
            let conditional = inst.board(circuit.board).and_then(|b| b.conditional);
            let edge = circuit.device.edge();
            let case = Case {
                here: &here,
                circuit,
                edge: &edge,
                facts: &facts,
                sections: &sections,
                conditional,
                place,
            };
            all.fed(id, source);
            all.circuit(id, &facts);
            check::all(&case, &mut all);
            if circuit.purpose != Use::Distribution {
                continue;
            }
            let source = *source;
            for (fed, board) in inst.boards() {
                if board.fed_by != Some(id) {
                    continue;
                }
                let further = onwards(&source, circuit, &facts, board, &profile);
                if let Some(to) = sources.get_mut(usize::from(fed.0)) {
                    *to = Some(further);
                }
                judge_feed(inst, fed, board, circuit, &sections, &further, &mut all);
                if matches!(board.earthing, BoardEarthing::OwnElectrode(_)) {
                    let front = Front {
                        device: Some(circuit.device),
                        rcd: better(source.rcd, circuit.rcd),
                    };
                    let place = Place::Board(fed);
                    let f = board_fault::judge(place, &profile, &further, front, board, &mut all);
                    all.finding(&f);
                }
            }
        }
    }
    let nothing = inst.circuits.is_empty();
    if sound && !nothing {
        all.worst
    } else {
        all.worst.worse(Outcome::CannotSay)
    }
}

/// Judges one circuit against a source, without a tree: for a test instrument.
///
/// `derived` is what is drawn behind it, for a distribution circuit.
///
/// # Errors
/// What [`Circuit::check`] refuses.
pub fn assess_circuit<R: Recorder + ?Sized>(
    profile: &Profile,
    source: &Source,
    circuit: &Circuit,
    derived: Option<&Drawn>,
    rec: &mut R,
) -> Result<(Outcome, CircuitFacts), (Option<u8>, crate::error::Error)> {
    circuit.check()?;
    let id = CircuitId(0);
    let place = Place::Circuit(id);
    let mut all = Noted {
        rec,
        worst: Outcome::Pass,
    };
    let mut sections = Vec::new();
    let here = Here::new(profile, source);
    let facts = circuit_facts(&here, circuit, derived, place, &mut sections, &mut all);
    let edge = circuit.device.edge();
    let case = Case {
        here: &here,
        circuit,
        edge: &edge,
        facts: &facts,
        sections: &sections,
        conditional: None,
        place,
    };
    all.fed(id, source);
    all.circuit(id, &facts);
    check::all(&case, &mut all);
    Ok((all.worst, facts))
}

/// What feeds one circuit of an installation, and its figures, from the walk: for a [`Design`] that a reading is
/// held against. None where the walk leaves the circuit out.
///
/// [`Design`]: crate::reading::Design
#[must_use]
pub fn figures<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    earthing: Earthing,
    id: CircuitId,
) -> Option<(Source, CircuitFacts)> {
    let mut of = Of {
        id,
        source: None,
        facts: None,
    };
    assess(inst, earthing, &mut of as &mut dyn Recorder);
    Some((of.source?, of.facts?))
}

/// Keeps what the walk says of one circuit.
struct Of {
    id: CircuitId,
    source: Option<Source>,
    facts: Option<CircuitFacts>,
}

impl Recorder for Of {
    fn finding(&mut self, _: &Finding) {}

    fn fed(&mut self, id: CircuitId, source: &Source) {
        if id == self.id {
            self.source = Some(*source);
        }
    }

    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        if id == self.id {
            self.facts = Some(facts.clone());
        }
    }
}

/// Passes everything on and keeps the worst outcome.
struct Noted<'a, R: Recorder + ?Sized> {
    rec: &'a mut R,
    worst: Outcome,
}

impl<R: Recorder + ?Sized> Recorder for Noted<'_, R> {
    fn wants_steps(&self) -> bool {
        self.rec.wants_steps()
    }

    fn finding(&mut self, finding: &Finding) {
        self.worst = self.worst.worse(finding.outcome);
        self.rec.finding(finding);
    }

    fn fed(&mut self, id: CircuitId, source: &Source) {
        self.rec.fed(id, source);
    }

    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        self.rec.circuit(id, facts);
    }

    fn board(&mut self, place: Place, facts: &BoardFacts) {
        self.rec.board(place, facts);
    }

    fn step(&mut self, step: &crate::verdict::Step) {
        self.rec.step(step);
    }
}

fn node(nodes: &[Node], id: BoardId) -> Option<&Node> {
    nodes.get(usize::from(id.0))
}

fn usable_depth<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    id: BoardId,
    board: &Board,
) -> Option<u8> {
    if let Some(feed) = board.fed_by {
        if inst.circuit(feed)?.purpose != Use::Distribution {
            return None;
        }
    }
    inst.depth(id).ok()
}

/// Whether there is a board of which it can't be told where it hangs: its load may be behind any other.
fn stray(nodes: &[Node]) -> bool {
    nodes.iter().any(|n| n.depth.is_none())
}

/// Demand of the boards a circuit feeds.
fn derived<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    id: CircuitId,
    circuit: &Circuit,
    nodes: &[Node],
) -> Option<Drawn> {
    if circuit.purpose != Use::Distribution || stray(nodes) {
        return None;
    }
    let mut sum: Option<Drawn> = None;
    for (fed, board) in inst.boards() {
        if board.fed_by == Some(id) {
            let own = node(nodes, fed)?.demand?;
            sum = Some(sum.unwrap_or_default().plus(&own));
        }
    }
    sum
}

fn demands_at<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    profile: &Profile,
    origin: &Source,
    usable: &[Option<u8>],
    nodes: &mut Vec<Node, B>,
    depth: u8,
) {
    for (id, board) in inst.boards() {
        let Some(n) = node(nodes, id).copied() else {
            continue;
        };
        if n.depth != Some(depth) {
            continue;
        }
        let demand = match board.demand {
            Some(stated) if stated.get().is_nan() => None,
            Some(stated) => {
                // At the power factor its feed is given.
                let feed = board.fed_by.and_then(|f| inst.circuit(f));
                let pf = feed.map_or(1.0, |c| c.load.power_factor.get());
                let mut amps = [stated.get(); 3];
                if !n.three_phase {
                    for (k, i) in amps.iter_mut().enumerate() {
                        if k != n.line_index {
                            *i = 0.0;
                        }
                    }
                }
                Some(Drawn::new(Flow::new(amps, pf), n.three_phase))
            }
            None => summed(inst, profile, origin, usable, nodes, id),
        };
        if let Some(n) = nodes.get_mut(usize::from(id.0)) {
            n.demand = demand;
        }
    }
}

/// Demand of the circuits of a board, with diversity. One board at a time: its loads take more room than all else.
fn summed<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    profile: &Profile,
    origin: &Source,
    usable: &[Option<u8>],
    nodes: &[Node],
    board: BoardId,
) -> Option<Drawn> {
    let n = node(nodes, board)?;
    let here = Source {
        three_phase: n.three_phase,
        line_index: n.line_index,
        ..*origin
    };
    let mut loads = Loads::default();
    let add = |loads: &mut Loads, single: bool| {
        for ((id, circuit), usable) in inst.circuits().zip(usable) {
            if circuit.board != board {
                if node(nodes, circuit.board).is_none() {
                    // It may be on any of them.
                    loads.unknown = true;
                }
                continue;
            }
            loads.three |= circuit.phase == Phase::Three;
            let behind = derived(inst, id, circuit, nodes);
            let own = match Back::of(circuit, behind.as_ref()) {
                _ if usable.is_none() => None,
                Back::Of(only) if single => Some(*only),
                Back::Nothing if single => continue,
                _ => currents(&here, circuit, behind.as_ref()),
            };
            match own {
                Some(flow) if circuit.purpose == Use::Distribution => {
                    loads.through = loads.through.plus(&flow);
                }
                Some(flow) => loads.add(profile, circuit.load.class, &flow),
                None => loads.unknown = true,
            }
        }
    };
    add(&mut loads, false);
    let all = loads.total(profile)?;
    if !loads.three {
        return Some(Drawn::new(all, false));
    }
    loads = Loads::default();
    add(&mut loads, true);
    let single = loads.total(profile)?;
    Some(Drawn { all, single })
}

/// Of two RCDs in series the one that serves better: the more sensitive, then the one without delay.
fn better(one: Option<Rcd>, other: Option<Rcd>) -> Option<Rcd> {
    match (one, other) {
        (Some(a), Some(b)) => {
            let (x, y) = (a.sensitivity().get(), b.sensitivity().get());
            let b_wins = y < x || (y == x && b.delay() == RcdDelay::None);
            Some(if b_wins { b } else { a })
        }
        (a, b) => a.or(b),
    }
}

/// What changes as one enters a board.
fn arrive(source: &mut Source, board: &Board, profile: &Profile) {
    if let BoardEarthing::OwnElectrode(ra) = board.earthing {
        source.take_electrode(ra, None, profile);
    }
    source.rcd = better(source.rcd, board.rcd);
}

/// The source of a board behind a circuit.
fn onwards(
    source: &Source,
    circuit: &Circuit,
    facts: &CircuitFacts,
    board: &Board,
    profile: &Profile,
) -> Source {
    let mut s = *source;
    s.three_phase = source.three_phase && circuit.phase == Phase::Three;
    s.line_index = crate::facts::line_index(source, circuit.phase);
    s.line = source.line + facts.line;
    s.neutral = source.neutral + facts.neutral;
    s.drop = facts.drop_lines;
    s.rcd = better(source.rcd, circuit.rcd);
    match facts.protective {
        Some(p) => s.protective = source.protective + p,
        None => {
            s.loop_external = None;
            s.loop_external_min = None;
            s.lacking_loop |= Lacking::PROTECTIVE;
        }
    }
    arrive(&mut s, board, profile);
    s
}

fn board_facts(profile: &Profile, source: &Source, n: &Node) -> BoardFacts {
    let upstream = source.line.hot + source.protective.hot;
    BoardFacts {
        demand: n.demand.map(|d| d.all.amps),
        single: n.demand.map(|d| d.single.amps),
        zs: source.loop_external.map(|e| e.largest_with(upstream)),
        ipf_max: source.largest(profile),
        drop: source.drop.map(|d| {
            let mut out = [0.0; 3];
            for (to, (full, load)) in out.iter_mut().zip(d.full.iter().zip(d.load)) {
                *to = crate::facts::deciding(profile, *full, load);
            }
            out
        }),
    }
}

fn judge_supply<const B: usize, const C: usize, R: Recorder + ?Sized>(
    inst: &Installation<B, C>,
    profile: &Profile,
    origin: &Source,
    nodes: &[Node],
    all: &mut Noted<'_, R>,
) {
    let place = Place::Supply;
    let supply = &inst.supply;
    let mut sum = (!stray(nodes)).then(Drawn::default);
    let mut stated = true;
    for (id, board) in inst.boards() {
        if board.fed_by.is_some() {
            continue;
        }
        stated &= board.demand.is_some();
        sum = match (sum, node(nodes, id).and_then(|n| n.demand)) {
            (Some(a), Some(b)) => Some(a.plus(&b)),
            _ => None,
        };
    }
    let facts = BoardFacts {
        demand: sum.map(|d| d.all.amps),
        single: sum.map(|d| d.single.amps),
        zs: origin.loop_external.map(|e| e.magnitude),
        ipf_max: origin.largest(profile),
        drop: Some([0.0; 3]),
    };
    all.board(place, &facts);
    note_board(profile, origin, &facts, place, all);
    demand::note_demand(place, &facts, stated, all);
    let rating = supply.device.map(|d| d.rating().get());
    let f = demand::judge(place, &facts, stated, rating, all);
    all.finding(&f);
    if let Some(device) = &supply.device {
        breaking::judge(place, origin, facts.ipf_max, device, None, all);
    }
    let needed = bonding::needed(origin.earthing, supply.neutral, supply.tails);
    let floor = match (origin.earthing, supply.extraneous, &needed) {
        (Earthing::TnCS, true, Ok((copper, _))) => Some(*copper),
        _ => None,
    };
    let f = earthing_conductor::judge(place, supply.earthing_conductor, supply.tails, floor, all);
    all.finding(&f);
    if supply.extraneous {
        let f = bonding::judge(place, supply.bonding, needed, all);
        all.finding(&f);
    }
}

fn judge_board<const B: usize, const C: usize, R: Recorder + ?Sized>(
    inst: &Installation<B, C>,
    profile: &Profile,
    id: BoardId,
    board: &Board,
    source: &Source,
    n: &Node,
    all: &mut Noted<'_, R>,
) {
    let place = Place::Board(id);
    let facts = board_facts(profile, source, n);
    all.board(place, &facts);
    note_board(profile, source, &facts, place, all);
    demand::note_demand(place, &facts, board.demand.is_some(), all);
    // The device in front of it: of its feed, or the incoming one, which the supply's own finding holds.
    if let Some(feed) = board.fed_by.and_then(|f| inst.circuit(f)) {
        let rating = Some(feed.device.rating().get());
        let f = demand::judge(place, &facts, board.demand.is_some(), rating, all);
        all.finding(&f);
    } else if source.earthing == Earthing::Tt {
        let front = Front {
            device: inst.supply.device,
            rcd: None,
        };
        let f = board_fault::judge(place, profile, source, front, board, all);
        all.finding(&f);
    }
}

/// Bonding and earthing at a board away from the origin.
fn judge_feed<const B: usize, const C: usize, R: Recorder + ?Sized>(
    inst: &Installation<B, C>,
    id: BoardId,
    board: &Board,
    circuit: &Circuit,
    sections: &Vec<SectionFacts, SECTIONS>,
    source: &Source,
    all: &mut Noted<'_, R>,
) {
    let place = Place::Board(id);
    let own_electrode = matches!(board.earthing, BoardEarthing::OwnElectrode(_));
    let line: Option<SquareMm> = circuit.sections.last().map(|s| s.csa);
    let needed = bonding::needed(source.earthing, inst.supply.neutral, line);
    if own_electrode {
        let f = earthing_conductor::judge(place, board.earthing_conductor, line, None, all);
        all.finding(&f);
    }
    if board.extraneous {
        let f = bonding::judge(place, board.bonding, needed, all);
        all.finding(&f);
        if !own_electrode && source.earthing == Earthing::TnCS {
            let f = bonding::feed(place, circuit, sections, needed, all);
            all.finding(&f);
        }
    }
}

/// The outcome alone, over every reading of the supply's earthing.
pub fn outcome<const B: usize, const C: usize>(inst: &Installation<B, C>) -> Outcome {
    let mut worst = Outcome::Pass;
    for earthing in inst.supply.earthing.readings() {
        worst = worst.worse(assess(inst, *earthing, &mut Worst::default()));
    }
    worst
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::Material;
    use crate::device::{Curve, Device, Family, RcdType};
    use crate::fixture::{breaker, circuit, section};
    use crate::network::{Demand, Enclosure, Part, Protective, Section, Shape};
    use crate::quantity::{Amps, Celsius, Ohms};
    use crate::supply::{Conductor, SupplyEarthing};
    use crate::verdict::{Assumed, Check, Report, Rule};

    /// The house of [`crate::fixture`], of whose supply and conductors less is said.
    fn house() -> Installation<4, 8> {
        let mut h = crate::fixture::house();
        h.supply.neutral = None;
        h.supply.tails = None;
        h.supply.earthing_conductor = None;
        h.boards[1].earthing_conductor = None;
        h
    }

    #[derive(Default)]
    struct Facts(
        heapless::Vec<(u16, CircuitFacts), 8>,
        heapless::Vec<Finding, 64>,
    );

    impl Recorder for Facts {
        fn finding(&mut self, f: &Finding) {
            self.1.push(*f).unwrap();
        }
        fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
            self.0.push((id.0, facts.clone())).unwrap();
        }
    }

    impl Facts {
        fn of(inst: &Installation<4, 8>, earthing: Earthing) -> Self {
            let mut out = Self::default();
            let _ = assess(inst, earthing, &mut out);
            out
        }
        fn circuit(&self, id: u16) -> &CircuitFacts {
            &self.0.iter().find(|(i, _)| *i == id).unwrap().1
        }
        fn outcome(&self, id: u16, check: Check) -> Option<Outcome> {
            let place = Place::Circuit(CircuitId(id));
            let f = self.1.iter().find(|f| f.place == place && f.check == check);
            f.map(|f| f.outcome)
        }
    }

    fn found(inst: &Installation<4, 8>, earthing: Earthing, id: u16, check: Check) -> Finding {
        let place = Place::Circuit(CircuitId(id));
        let all = Facts::of(inst, earthing).1;
        *all.iter()
            .find(|f| f.place == place && f.check == check)
            .unwrap()
    }

    #[test]
    fn each_check_says_what_it_lacks() {
        let tn = Earthing::TnCS;
        let mut inst = house();
        inst.circuits[2].load.demand = Demand::Derived;
        for (id, check, lacking) in [
            (0, Check::DesignCurrent, Lacking::LOADS),
            (2, Check::DesignCurrent, Lacking::LOAD),
            (2, Check::VoltDrop, Lacking::LOAD),
        ] {
            let f = found(&inst, tn, id, check);
            assert_eq!((f.outcome, f.lacking), (Outcome::CannotSay, lacking));
        }
        // The load here is known, and what drops upstream is not.
        let mut inst = house();
        inst.circuits[0].load.demand = Demand::Derived;
        inst.boards[1].fed_by = Some(CircuitId(0));
        inst.circuits
            .push(circuit(
                1,
                Use::Fixed,
                breaker(Curve::B, 6.0),
                None,
                section(5.0, 1.5),
            ))
            .unwrap();
        let f = found(&inst, tn, 2, Check::VoltDrop);
        assert_eq!(
            (f.outcome, f.lacking),
            (Outcome::CannotSay, Lacking::UPSTREAM)
        );

        let mut inst = house();
        inst.supply.ze = None;
        inst.circuits[1].sections[0].protective = Protective::None;
        let f = found(&inst, tn, 1, Check::Disconnection);
        assert_eq!(f.lacking, Lacking::ZE | Lacking::PROTECTIVE);
        assert!(f.value.is_none() && f.limit.is_some());
        let f = found(&inst, tn, 2, Check::Disconnection);
        assert_eq!(f.lacking, Lacking::ZE);
    }

    #[test]
    fn the_worst_section_is_shown() {
        let tn = Earthing::TnCS;
        let with = |sections: &[Section]| {
            let mut inst = house();
            inst.circuits[1].sections = Vec::from_slice(sections).unwrap();
            let capacity = found(&inst, tn, 1, Check::Capacity);
            (capacity, found(&inst, tn, 1, Check::Overload))
        };
        let (large, small) = (section(5.0, 4.0), section(5.0, 1.5));
        for (sections, worst) in [
            ([large, small], 1),
            ([small, large], 0),
            ([small, small], 0),
        ] {
            let (capacity, overload) = with(&sections);
            assert_eq!(
                (capacity.section, overload.section),
                (Some(worst), Some(worst))
            );
            assert_eq!(capacity.value, Some(16.0));
            assert_eq!(overload.value, Some(23.2));
            assert!(capacity.lacking.is_empty() && overload.lacking.is_empty());
        }
        // One that is hotter than its table goes: no pass, and which it is.
        let mut hot = large;
        hot.laying.ambient = Celsius::new(65.0).unwrap();
        let (capacity, overload) = with(&[small, hot]);
        assert_eq!(
            (capacity.outcome, overload.outcome),
            (Outcome::CannotSay, Outcome::CannotSay)
        );
        assert_eq!(
            (capacity.lacking, overload.lacking),
            (Lacking::CAPACITY, Lacking::CAPACITY)
        );
        let (capacity, _) = with(&[hot, hot]);
        assert_eq!((capacity.value, capacity.limit), (Some(16.0), None));
        assert_eq!(capacity.section, Some(1));
        // It takes nothing from another that fails.
        let mut inst = house();
        inst.circuits[1].device = breaker(Curve::B, 40.0);
        inst.circuits[1].sections = Vec::from_slice(&[hot, small]).unwrap();
        assert_eq!(found(&inst, tn, 1, Check::Capacity).outcome, Outcome::Fail);
        assert_eq!(found(&inst, tn, 1, Check::Overload).outcome, Outcome::Fail);
    }

    #[test]
    fn the_tabulated_size_itself_is_enough_and_the_least_room_is_shown() {
        // No class of energy, much current: by the formula nothing here would do.
        let mut inst = house();
        inst.supply.ze = Some(Ohms::new(0.02).unwrap());
        let d = Family::Breaker(Curve::D);
        inst.circuits[1].device = Device::new(d, Amps::new(16.0).unwrap())
            .unwrap()
            .with_breaking(Amps::new(16_000.0).unwrap());
        let with = |inst: &Installation<4, 8>, sizes: &[(f32, f32)]| {
            let mut inst = inst.clone();
            let sections = sizes.iter().map(|(line, own)| {
                let mut s = section(2.0, *line);
                let csa = SquareMm::new(*own).unwrap();
                let material = Material::Copper;
                s.protective = Protective::Core(Conductor { material, csa });
                s
            });
            inst.circuits[1].sections = sections.collect();
            found(&inst, Earthing::TnCS, 1, Check::ProtectiveThermal)
        };
        let same = with(&inst, &[(6.0, 6.0)]);
        assert_eq!(
            (same.outcome, same.rule),
            (Outcome::Pass, Rule::TabulatedMinimum)
        );
        assert_eq!((same.value, same.limit), (Some(6.0), Some(6.0)));
        let short = with(&inst, &[(6.0, 4.0)]);
        assert_ne!(short.outcome, Outcome::Pass);
        assert_eq!(short.rule, Rule::Adiabatic);
        assert_eq!(short.limit, Some(4.0));
        // The worst outcome first, then the least room, then the first.
        for (sizes, section) in [
            ([(6.0, 6.0), (6.0, 4.0)], 1),
            ([(6.0, 4.0), (6.0, 6.0)], 0),
            ([(6.0, 6.0), (6.0, 10.0)], 0),
            ([(6.0, 10.0), (6.0, 6.0)], 1),
            ([(6.0, 6.0), (6.0, 6.0)], 0),
        ] {
            assert_eq!(with(&inst, &sizes).section, Some(section), "{sizes:?}");
        }
    }

    #[test]
    fn what_the_touch_voltage_takes_for_granted_is_said() {
        let mut inst = house();
        inst.supply.earthing = SupplyEarthing::Known(Earthing::Tt);
        inst.supply.ze = Some(Ohms::new(100.0).unwrap());
        let rcd = Rcd::new(Amps::new(0.03).unwrap(), RcdType::A, RcdDelay::None).unwrap();
        inst.circuits[1].rcd = Some(rcd);
        let f = found(&inst, Earthing::Tt, 1, Check::Electrode);
        assert_eq!(f.assumed, Assumed::RA_FROM_LOOP);
        inst.supply.ra = Some(Ohms::new(90.0).unwrap());
        let f = found(&inst, Earthing::Tt, 1, Check::Electrode);
        assert_eq!(f.assumed, Assumed::empty());
        // Of the one at the board in front.
        inst.circuits[1].rcd = None;
        inst.boards[0].rcd = Some(rcd);
        let f = found(&inst, Earthing::Tt, 1, Check::Electrode);
        assert_eq!(
            (f.outcome, f.assumed),
            (Outcome::Pass, Assumed::RCD_UPSTREAM)
        );
    }

    #[test]
    fn what_each_section_has_to_carry() {
        let need = |shape, rating, part, fuse: Option<f32>| {
            let mut inst = house();
            let fuse = fuse.map(|i| Device::new(Family::Bs1362, Amps::new(i).unwrap()).unwrap());
            let spur = Section {
                part,
                spur_fuse: fuse,
                ..section(5.0, 10.0)
            };
            inst.circuits[1].device = breaker(Curve::B, rating);
            inst.circuits[1].shape = shape;
            // The larger run has the more room, so the other section is shown.
            inst.circuits[1].sections = Vec::from_slice(&[section(5.0, 95.0), spur]).unwrap();
            let f = found(&inst, Earthing::TnCS, 1, Check::Capacity);
            (f.section == Some(1)).then_some((f.value.unwrap(), f.rule))
        };
        let (ring, radial) = (Shape::Ring, Shape::Radial);
        for (shape, rating, part, fuse, needed) in [
            // BS 7671 433.1.204: 20 A of a ring on 30 or 32 A, and of no other.
            (ring, 32.0, Part::Run, None, (20.0, Rule::RingIz)),
            (ring, 40.0, Part::Run, None, (40.0, Rule::InIz)),
            (ring, 16.0, Part::Run, None, (16.0, Rule::InIz)),
            // A spur of a ring carries 20 A, or what its fuse lets through; of a radial all that its device does.
            (ring, 32.0, Part::Spur, None, (20.0, Rule::SpurIz)),
            (ring, 16.0, Part::Spur, None, (16.0, Rule::SpurIz)),
            (ring, 32.0, Part::Spur, Some(13.0), (13.0, Rule::SpurIz)),
            (radial, 32.0, Part::Spur, Some(13.0), (13.0, Rule::SpurIz)),
            (radial, 10.0, Part::Spur, Some(13.0), (10.0, Rule::SpurIz)),
            (radial, 32.0, Part::Spur, None, (32.0, Rule::InIz)),
            (radial, 32.0, Part::Run, None, (32.0, Rule::InIz)),
        ] {
            let of = need(shape, rating, part, fuse);
            if let Some(of) = of {
                assert_eq!(of, needed, "{shape:?} {rating} {part:?}");
            } else {
                panic!("{shape:?} {rating} {part:?}: the other section is shown");
            }
        }
    }

    /// BS 7671 411.3.3: sockets up to 32 A; outdoors up to 32 A too.
    #[test]
    fn an_rcd_is_asked_for_up_to_its_limit() {
        let asked = |purpose, rating, outdoors| {
            let mut inst = house();
            inst.profile.sockets_up_to = 32.0;
            inst.circuits[1].purpose = purpose;
            inst.circuits[1].outdoors = outdoors;
            inst.circuits[1].device = breaker(Curve::B, rating);
            Facts::of(&inst, Earthing::TnCS)
                .outcome(1, Check::Rcd)
                .is_some()
        };
        for (purpose, rating, outdoors, is) in [
            (Use::Sockets, 32.0, false, true),
            (Use::Sockets, 40.0, false, false),
            (Use::Lighting, 6.0, false, false),
            (Use::Lighting, 6.0, true, true),
            (Use::Lighting, 40.0, true, false),
            (Use::Fixed, 32.0, true, true),
            (Use::Fixed, 32.0, false, false),
            (Use::Fixed, 40.0, true, false),
        ] {
            assert_eq!(
                asked(purpose, rating, outdoors),
                is,
                "{purpose:?} {rating} {outdoors}"
            );
        }
    }

    /// An overload device that breaks the fault covers the line conductor, if it limits energy: of breakers types B
    /// and C.
    #[test]
    fn what_covers_the_line_conductor() {
        // 0.02 Ω: 12.65 kA, too much for any conductor here by I²·0.1 s.
        let with = |curve, breaking: f32, csa: f32| {
            let mut inst = house();
            inst.supply.ze = Some(Ohms::new(0.02).unwrap());
            let d = Family::Breaker(curve);
            inst.circuits[1].device = Device::new(d, Amps::new(16.0).unwrap())
                .unwrap()
                .with_breaking(Amps::new(breaking).unwrap());
            inst.circuits[1].sections = Vec::from_slice(&[section(2.0, csa)]).unwrap();
            found(&inst, Earthing::TnCS, 1, Check::LineThermal)
        };
        let f = with(Curve::B, 16_000.0, 2.5);
        assert_eq!(
            (f.outcome, f.rule, f.value),
            (Outcome::Pass, Rule::Deemed, None)
        );
        // Not of type D: only the let-through energy could tell.
        let f = with(Curve::D, 16_000.0, 2.5);
        assert_eq!((f.outcome, f.rule), (Outcome::CannotSay, Rule::Adiabatic));
        assert_eq!(f.lacking, Lacking::LET_THROUGH);
        // Nor where it can't break the fault, or lets the cable be overloaded.
        let f = with(Curve::B, 6000.0, 2.5);
        assert_eq!((f.outcome, f.rule), (Outcome::CannotSay, Rule::Adiabatic));
        let f = with(Curve::B, 16_000.0, 1.0);
        assert_eq!((f.outcome, f.rule), (Outcome::Fail, Rule::Adiabatic));
        assert_eq!(f.limit, Some(1.0));
    }

    /// A ring is fed from both ends and a spur may leave at the board: their largest current is that of the board.
    /// Along a radial it falls.
    #[test]
    fn where_a_fault_current_is_largest() {
        let values = |shape, sections: &[Section]| {
            let mut inst = house();
            // No class of energy, and type D: by the formula alone.
            inst.supply.ze = Some(Ohms::new(0.02).unwrap());
            let d = Family::Breaker(Curve::D);
            inst.circuits[1].device = Device::new(d, Amps::new(16.0).unwrap())
                .unwrap()
                .with_breaking(Amps::new(16_000.0).unwrap());
            inst.circuits[1].shape = shape;
            inst.circuits[1].sections = Vec::from_slice(sections).unwrap();
            [Check::LineThermal, Check::ProtectiveThermal].map(|check| {
                let f = found(&inst, Earthing::TnCS, 1, check);
                (f.section, f.value)
            })
        };
        // Cores smaller than the table has them, so that they are worked out.
        let of = |length, csa, own| {
            let mut s = section(length, csa);
            let (csa, material) = (SquareMm::new(own).unwrap(), Material::Copper);
            s.protective = Protective::Core(Conductor { material, csa });
            s
        };
        let (long, longer) = (of(10.0, 16.0, 10.0), of(20.0, 16.0, 10.0));
        let thin = of(10.0, 2.5, 1.0);
        let spur = Section {
            part: Part::Spur,
            ..thin
        };
        // The thin one decides wherever it is, and of a ring it has the same current there.
        let [line, own] = values(Shape::Ring, &[long, thin]);
        assert_eq!((line.0, own.0), (Some(1), Some(1)));
        assert_eq!(
            values(Shape::Ring, &[thin, long]),
            [(Some(0), line.1), (Some(0), own.1)]
        );
        // As a spur as well, however long the run before.
        let near = |sections: &[Section]| values(Shape::Radial, sections)[0];
        let board = near(&[thin, long]);
        assert_eq!(near(&[long, spur]), (Some(1), board.1));
        assert_eq!(near(&[longer, spur]), (Some(1), board.1));
        // Of a run less, the longer what is before.
        let (one, two) = (near(&[long, thin]), near(&[longer, thin]));
        assert_eq!((one.0, two.0), (Some(1), Some(1)));
        assert!(
            one.1 < board.1 && two.1 < one.1,
            "{board:?} {one:?} {two:?}"
        );
        // Of two alike the first is shown.
        assert_eq!(values(Shape::Ring, &[thin, thin])[0].0, Some(0));
    }

    fn near(a: f32, b: f32) {
        assert!((a - b).abs() <= 2e-6 * b.abs(), "{a} is not {b}");
    }

    #[test]
    fn everything_is_carried_from_the_origin() {
        let all = Facts::of(&house(), Earthing::TnCS);
        let feed = all.circuit(0);
        let far = all.circuit(2);
        // 10 mm²: 1.83 Ω/km, 2.5 mm²: 7.41 Ω/km, times 1.2 when hot, there and back.
        near(feed.zs.unwrap(), 0.2 + 2.0 * 0.020 * 1.83 * 1.2);
        near(
            far.zs.unwrap(),
            0.2 + 2.0 * 1.2 * (0.020 * 1.83 + 0.015 * 7.41),
        );
        near(feed.ib.unwrap(), 12.0);
        near(
            far.drop_full.unwrap(),
            12.0 * 2.0 * 1.2 * (0.020 * 1.83 + 0.015 * 7.41),
        );
        // Cold, and cmax: what the second board's devices may have to break.
        near(
            far.ipf_max.unwrap(),
            1.1 * 230.0 / (0.2 + 2.0 * 0.020 * 1.83),
        );
    }

    #[test]
    fn figures_of_one_circuit_are_those_of_the_walk() {
        let mut h = house();
        let all = Facts::of(&h, Earthing::TnCS);
        let (source, facts) = figures(&h, Earthing::TnCS, CircuitId(2)).unwrap();
        assert_eq!(facts.zs, all.circuit(2).zs);
        near(source.line.hot.r, 0.020 * 1.83 * 1.2);
        assert!(figures(&h, Earthing::TnCS, CircuitId(9)).is_none());
        h.circuits[2].sections.clear();
        assert!(figures(&h, Earthing::TnCS, CircuitId(2)).is_none());
    }

    #[test]
    fn an_electrode_further_on_starts_a_loop_of_its_own() {
        let mut h = house();
        h.boards[1].earthing = BoardEarthing::OwnElectrode(Some(Ohms::new(100.0).unwrap()));
        let all = Facts::of(&h, Earthing::TnCS);
        let own = 1.2 * (0.020 * 1.83 + 2.0 * 0.015 * 7.41);
        near(all.circuit(2).zs.unwrap(), 120.0 + own);
        assert_eq!(all.outcome(2, Check::Disconnection), Some(Outcome::Fail));
        h.circuits[0].rcd =
            Some(Rcd::new(Amps::new(0.1).unwrap(), RcdType::A, RcdDelay::None).unwrap());
        let all = Facts::of(&h, Earthing::TnCS);
        assert_eq!(all.outcome(2, Check::Disconnection), Some(Outcome::Pass));
        assert_eq!(all.outcome(2, Check::Electrode), Some(Outcome::Pass));
        // Nothing known of the electrode is not an electrode of nothing.
        h.boards[1].earthing = BoardEarthing::OwnElectrode(None);
        let all = Facts::of(&h, Earthing::TnCS);
        assert_eq!(all.outcome(2, Check::Electrode), Some(Outcome::CannotSay));
    }

    #[test]
    fn a_fault_at_a_board_on_its_own_electrode_is_no_matter_of_the_rcds_in_it() {
        let rcd = |amps: f32, delay| Rcd::new(Amps::new(amps).unwrap(), RcdType::A, delay).ok();
        let mut h = house();
        h.boards[1].earthing = BoardEarthing::OwnElectrode(Some(Ohms::new(100.0).unwrap()));
        h.circuits[2].rcd = rcd(0.03, RcdDelay::None);
        let at_board = |h: &Installation<4, 8>, id: u16, earthing| {
            let all = Facts::of(h, earthing).1;
            let place = Place::Board(BoardId(id));
            let here = |f: &&Finding| f.place == place && f.check == Check::BoardFault;
            all.iter().find(here).copied()
        };
        let fault = |h: &Installation<4, 8>| at_board(h, 1, Earthing::TnCS).unwrap();
        // Every circuit passes, and yet.
        let all = Facts::of(&h, Earthing::TnCS);
        assert_eq!(all.outcome(2, Check::Disconnection), Some(Outcome::Pass));
        assert_eq!(fault(&h).outcome, Outcome::CannotSay);
        assert_eq!(fault(&h).lacking, Lacking::ENCLOSURE);
        for own in [None, rcd(0.1, RcdDelay::Selective)] {
            h.boards[1].rcd = own;
            h.boards[1].enclosure = Some(Enclosure::Metal);
            let f = fault(&h);
            assert_eq!((f.outcome, f.rule), (Outcome::Fail, Rule::BoardMaxZs));
            // RA, the source's electrode, the line of the feed when hot; type C of 32 A.
            near(f.value.unwrap(), 100.0 + 20.0 + 1.2 * 0.020 * 1.83);
            near(f.limit.unwrap(), 0.95 * 230.0 / 320.0);
            h.boards[1].enclosure = Some(Enclosure::Insulated);
            let f = fault(&h);
            assert_eq!(f.outcome, Outcome::Pass);
            assert!(f.assumed.contains(Assumed::INSULATED_FRONT));
        }
        // Behind its own RCD the board may be of metal: 0.1 A · 501 Ω stay on it.
        h.boards[1].earthing = BoardEarthing::OwnElectrode(Some(Ohms::new(501.0).unwrap()));
        assert_eq!(
            (fault(&h).outcome, fault(&h).rule),
            (Outcome::Fail, Rule::TouchVoltage)
        );
        // An electrode nobody measured: the insulation needs none, what is behind the RCD does.
        h.boards[1].earthing = BoardEarthing::OwnElectrode(None);
        assert_eq!(fault(&h).lacking, Lacking::RA);
        h.boards[1].rcd = None;
        assert_eq!(fault(&h).outcome, Outcome::Pass);
        h.boards[1].enclosure = Some(Enclosure::Metal);
        assert_eq!(fault(&h).outcome, Outcome::CannotSay);
        // In front: at the feed, or where the feed comes from.
        h.boards[1].enclosure = None;
        h.boards[1].earthing = BoardEarthing::OwnElectrode(Some(Ohms::new(100.0).unwrap()));
        h.boards[0].rcd = rcd(0.3, RcdDelay::Selective);
        let f = fault(&h);
        assert_eq!((f.outcome, f.rule), (Outcome::Pass, Rule::TouchVoltage));
        assert_eq!(f.assumed, Assumed::RCD_UPSTREAM | Assumed::SOURCE_ELECTRODE);
        // It says so of the feed too.
        let judged = |h: &Installation<4, 8>| crate::solve::judge(h, Earthing::TnCS, CircuitId(0));
        assert_eq!(judged(&h).0, Outcome::Pass);
        h.boards[0].rcd = rcd(1.0, RcdDelay::None);
        assert_eq!(fault(&h).rule, Rule::TouchVoltage);
        assert_eq!(fault(&h).outcome, Outcome::CannotSay);
        h.boards[1].enclosure = Some(Enclosure::Metal);
        assert_eq!(judged(&h), (Outcome::Fail, Some(Check::BoardFault)));
        // Earthed over its feed: the feed's own check is of it.
        h.boards[1].earthing = BoardEarthing::AsSupply;
        assert_eq!(at_board(&h, 1, Earthing::TnCS), None);
        assert_eq!(at_board(&h, 0, Earthing::TnCS), None);
        // The first board of a TT supply; its own RCD is in it.
        h.supply.ra = Some(Ohms::new(100.0).unwrap());
        let first = |h: &Installation<4, 8>| at_board(h, 0, Earthing::Tt).unwrap();
        h.boards[0].rcd = rcd(0.3, RcdDelay::Selective);
        assert_eq!(at_board(&h, 1, Earthing::Tt), None);
        assert_eq!(first(&h).lacking, Lacking::ENCLOSURE | Lacking::INCOMING);
        h.supply.device = Some(breaker(Curve::B, 63.0));
        assert_eq!(first(&h).lacking, Lacking::ENCLOSURE);
        h.boards[0].enclosure = Some(Enclosure::Metal);
        assert_eq!(first(&h).outcome, Outcome::Fail);
        h.boards[0].enclosure = Some(Enclosure::Insulated);
        assert_eq!(first(&h).outcome, Outcome::Pass);
    }

    #[test]
    fn a_supply_that_cant_be_told_is_judged_both_ways() {
        let mut h = house();
        h.supply.earthing = SupplyEarthing::NotKnown;
        assert_eq!(h.supply.earthing.readings(), [Earthing::TnCS, Earthing::Tt]);
        // Its Ze says nothing of an electrode.
        let tt = Facts::of(&h, Earthing::Tt);
        assert_eq!(tt.circuit(1).zs, None);
        assert_eq!(
            tt.outcome(1, Check::Disconnection),
            Some(Outcome::CannotSay)
        );
        assert_ne!(outcome(&h), Outcome::Pass);
    }

    #[test]
    fn an_unknown_load_leaves_the_feed_unsaid() {
        let mut h = house();
        h.circuits[2].load.demand = Demand::Derived;
        let all = Facts::of(&h, Earthing::TnCS);
        assert_eq!(all.circuit(0).ib, None);
        assert_eq!(
            all.outcome(0, Check::DesignCurrent),
            Some(Outcome::CannotSay)
        );
        assert_eq!(all.outcome(2, Check::VoltDrop), Some(Outcome::CannotSay));
    }

    #[test]
    fn what_is_refused_is_left_out_and_is_no_pass() {
        let mut h = house();
        let whole = assess(&h, Earthing::TnCS, &mut Worst::default());
        h.circuits[2].sections.clear();
        let mut report = Report::<64>::default();
        let outcome = assess(&h, Earthing::TnCS, &mut report);
        assert!(outcome >= Outcome::CannotSay && whole >= Outcome::CannotSay);
        let place = Place::Circuit(CircuitId(2));
        assert!(!report.findings.iter().any(|f| f.place == place));
        // Fed round about from itself.
        let mut h = house();
        h.boards[0].fed_by = Some(CircuitId(0));
        let mut report = Report::<64>::default();
        assert_eq!(assess(&h, Earthing::TnCS, &mut report), Outcome::CannotSay);
        assert!(h.depth(BoardId(0)).is_err());
    }

    #[test]
    fn a_single_circuit_needs_no_tree() {
        let h = house();
        let source = Source::at_origin(&h.supply, Earthing::TnCS, &h.profile);
        let mut report = Report::<16>::default();
        let (outcome, facts) =
            assess_circuit(&h.profile, &source, &h.circuits[1], None, &mut report).unwrap();
        assert_eq!(outcome, Outcome::Pass);
        near(facts.zs.unwrap(), 0.2 + 2.0 * 0.010 * 7.41 * 1.2);
        assert_eq!(report.outcome, Outcome::Pass);
    }
}

#[cfg(test)]
mod walk;
