//! Figures of sections and circuits, and the working beside them, by hand.

use super::*;
use crate::assess::assess;
use crate::conductor::Insulation;
use crate::fixture::{Working, amps, circuit, house, mm2, near, ohms, ratio, section};
use crate::network::{CircuitId, Phase, Shape, Use};
use crate::quantity::OhmsPerKm;
use crate::supply::{Conductor, Earthing, Phases};
use crate::verdict::Step;
use std::vec::Vec;

const PLACE: Place = Place::Circuit(CircuitId(0));

fn rules(steps: &[Step]) -> Vec<Rule> {
    steps.iter().map(|s| s.rule).collect()
}

fn is(step: &Step, value: f32, operands: &[f32]) {
    let close = |a: f32, b: f32| (a - b).abs() <= 1e-5 * b.abs().max(0.01);
    assert!(close(step.value, value), "{step:?} {value}");
    for (a, b) in step.operands.iter().zip(operands) {
        assert!(close(*a, *b), "{step:?} {operands:?}");
    }
}

fn steel() -> Steel {
    Steel {
        resistance: OhmsPerKm::new(2.0).unwrap(),
        area: mm2(60.0).into(),
    }
}

fn copper(csa: f32) -> Conductor {
    Conductor {
        material: Material::Copper,
        csa: mm2(csa),
    }
}

fn resistances(csa: f32, protective: Protective) -> Vec<Step> {
    let mut s = section(50.0, csa);
    s.insulation = Insulation::Thermosetting90;
    s.protective = protective;
    let mut rec = Working::default();
    section_facts(&s, 2, 0, PLACE, &mut rec);
    rec.of(PLACE, Topic::Resistance)
}

/// 50 m at 90 °C, 1.28 of copper; steel by 202 K at 80 °C 282/222, in a conduit at 70 °C 272/222. 25 mm² have
/// 0.727 Ω/km and 0.085 Ω/km of reactance, armour around them 1.1 of its resistance and 0.4 Ω/km; up to 16 mm² (1.15)
/// there is neither.
#[test]
fn the_working_of_resistances() {
    use Rule::{RLine, RNeutral, RParallel, RProtective, RSteel, Reactance};
    let (armour, conduit) = (282.0 / 222.0, 272.0 / 222.0);
    let line = [RLine, Reactance, RNeutral, Reactance];
    let with = |more: &[Rule]| [&line, more].concat();
    let of = resistances(25.0, Protective::Core(copper(16.0)));
    assert_eq!(rules(&of), with(&[RProtective]));
    let ac = of[0].operands[3];
    assert!((1.0..1.01).contains(&ac), "{ac}");
    for n in [0, 2] {
        is(&of[n], 0.050 * 0.727 * 1.28 * ac, &[0.727, 50.0, 1.28, ac]);
        is(&of[n + 1], 0.050 * 0.085, &[0.085, 50.0]);
    }
    is(&of[4], 0.050 * 1.15 * 1.28, &[1.15, 50.0, 1.28, 1.0]);

    let of = resistances(16.0, Protective::Core(copper(16.0)));
    assert_eq!(rules(&of), [RLine, RNeutral, RProtective]);
    is(&of[0], 0.050 * 1.15 * 1.28, &[1.15, 50.0, 1.28, 1.0]);

    let of = resistances(25.0, Protective::Armour(Some(steel())));
    assert_eq!(rules(&of), with(&[RSteel, Reactance]));
    is(
        &of[4],
        0.050 * 2.0 * armour * 1.1,
        &[2.0, 50.0, armour, 1.1],
    );
    is(&of[5], 0.020, &[0.4, 50.0]);
    let of = resistances(16.0, Protective::Armour(Some(steel())));
    assert_eq!(rules(&of), [RLine, RNeutral, RSteel]);
    is(&of[2], 0.050 * 2.0 * armour, &[2.0, 50.0, armour, 1.0]);

    let of = resistances(25.0, Protective::Enclosure(steel()));
    assert_eq!(rules(&of), with(&[RSteel]));
    is(&of[4], 0.050 * 2.0 * conduit, &[2.0, 50.0, conduit, 1.0]);

    let both = Protective::ArmourAndCore(Some(steel()), copper(16.0));
    let of = resistances(25.0, both);
    assert_eq!(
        rules(&of),
        with(&[RProtective, RSteel, Reactance, RParallel])
    );
    is(&of[4], 0.050 * 1.15 * 1.28, &[1.15, 50.0, 1.28, 1.0]);
    is(
        &of[5],
        0.050 * 2.0 * armour * 1.1,
        &[2.0, 50.0, armour, 1.1],
    );
    assert_eq!(rules(&resistances(25.0, Protective::None)), line);
}

/// A circuit of 10 A at 0.8, with what is in front of it.
fn figures(
    phases: Phases,
    before: Drop,
    change: impl FnOnce(&mut Circuit),
) -> (CircuitFacts, Working) {
    let mut inst = house();
    inst.supply.phases = phases;
    let mut source = Source::at_origin(&inst.supply, Earthing::TnCS, &inst.profile);
    source.drop = Some(before);
    let device = inst.circuits[1].device;
    let mut c = circuit(0, Use::Fixed, device, Some(10.0), section(30.0, 25.0));
    c.load.power_factor = ratio(0.8);
    change(&mut c);
    let mut rec = Working::default();
    let mut sections = heapless::Vec::new();
    let facts = circuit_facts(
        &Here::new(&inst.profile, &source),
        &c,
        None,
        PLACE,
        &mut sections,
        &mut rec,
    );
    (facts, rec)
}

/// R and X of a metre of 25 mm² at 70 °C, its a.c. factor as the working has it.
fn of_a_metre() -> (f32, f32) {
    let mut rec = Working::default();
    section_facts(&section(50.0, 25.0), 2, 0, PLACE, &mut rec);
    let ac = rec.of(PLACE, Topic::Resistance)[0].operands[3];
    (0.727e-3 * 1.2 * ac, 0.085e-3)
}

#[test]
fn the_working_of_a_drop() {
    let (r, x) = of_a_metre();
    let spur = Section {
        part: Part::Spur,
        ..section(5.0, 25.0)
    };
    let (facts, rec) = figures(Phases::Single, Drop::default(), |c| {
        c.load.demand = Demand::Current(amps(8.0));
        c.sections.push(spur).unwrap();
    });
    let of: Vec<Step> = rec.of(PLACE, Topic::Drop);
    let of: Vec<&Step> = of.iter().filter(|s| s.rule == Rule::DropSingle).collect();
    // Both ways, 30 m and 5 m, at cos 0.8 and sin 0.6.
    for (step, metres) in of.iter().zip([60.0, 10.0]) {
        let volts = 8.0 * metres * (0.8 * r + 0.6 * x);
        let operands = [8.0, metres * r, 0.8, metres * x, 0.6];
        is(step, volts, &operands);
    }
    assert_eq!(of.len(), 2);
    let drop = 8.0 * 70.0 * (0.8 * r + 0.6 * x);
    near(facts.drop.unwrap(), drop, 1e-5);
    let share = rec.of(PLACE, Topic::Share);
    assert_eq!(rules(&share), [Rule::DropShare]);
    is(&share[0], drop / 230.0, &[drop, 230.0]);
    // At the temperature of 8 A, 1 + 0.004 for each kelvin above 20 °C; the a.c. factor is the smaller by less than the
    // tolerance.
    let theta = 30.0 + 40.0 * (8.0 / facts.iz.unwrap()).powi(2);
    let r = r / 1.2 * (1.0 + 0.004 * (theta - 20.0));
    let drop = 8.0 * 70.0 * (0.8 * r + 0.6 * x);
    near(facts.drop_load.unwrap(), drop, 1e-3);
}

/// Of two points at 15 and 30 m the run carries 3/4 on average; three lines that are equal have nothing in the neutral.
#[test]
fn the_working_of_a_drop_of_three_phases() {
    let (r, x) = of_a_metre();
    let (_, rec) = figures(Phases::Three, Drop::default(), |c| {
        c.phase = Phase::Three;
        c.load.points = 2;
    });
    let all = rec.of(PLACE, Topic::Drop);
    let of = all.iter().find(|s| s.rule == Rule::DropThree).unwrap();
    let own = 10.0 * 30.0 * (0.8 * r + 0.6 * x);
    is(of, 0.75 * own, &[0.75, own, 0.0]);
}

/// The line whose sum is the most counts, and what it had at the board: the second, by a millivolt.
#[test]
fn the_drop_at_the_board_is_that_of_the_worst_line() {
    let before = Drop {
        full: [1.0, 1.001, 0.5],
        load: [0.9, 0.901, 0.4],
    };
    let spur = Section {
        part: Part::Spur,
        ..section(5.0, 2.5)
    };
    let (facts, rec) = figures(Phases::Three, before, |c| {
        c.phase = Phase::Three;
        c.sections.push(spur).unwrap();
    });
    let total = |topic, at_board: f32, all: f32| {
        let steps = rec.of(PLACE, topic);
        let step = steps.iter().find(|s| s.rule == Rule::DropTotal).unwrap();
        is(step, all, &[at_board, all - at_board]);
    };
    total(Topic::Drop, 1.001, facts.drop_full.unwrap());
    total(Topic::LoadDrop, 0.901, facts.drop_load.unwrap());
    let board = rec.of(PLACE, Topic::Drop);
    let board = board.iter().find(|s| s.rule == Rule::DropBoard).unwrap();
    is(board, 1.001, &[]);
}

#[test]
fn a_ring_says_so_in_its_working() {
    for (shape, rule, drop) in [
        (Shape::Radial, Rule::R1R2, Rule::DropSingle),
        (Shape::Ring, Rule::RingR1R2, Rule::DropRing),
    ] {
        let (_, rec) = figures(Phases::Single, Drop::default(), |c| c.shape = shape);
        let of = rules(&rec.of(PLACE, Topic::Loop));
        assert_eq!(of, [rule, Rule::ZsBoard, Rule::ZsVector]);
        assert!(rules(&rec.of(PLACE, Topic::Drop)).contains(&drop));
    }
}

/// A line that carries nothing has no drop, though the neutral it shares has some: what L3 takes at a power factor of
/// 0.5 is, seen from L1, a current 60° ahead of it.
#[test]
fn a_line_without_load_has_no_drop() {
    let mut inst = house();
    inst.supply.phases = Phases::Three;
    inst.circuits[0].phase = Phase::Three;
    inst.circuits[2].phase = Phase::L3;
    inst.circuits[2].load.power_factor = ratio(0.5);
    let mut rec = Working::default();
    assess(&inst, Earthing::TnCS, &mut rec);
    let feed = &rec.circuits[0];
    let lines = feed.drop_lines.unwrap().full;
    assert_eq!((lines[0], lines[1]), (0.0, 0.0));
    // 12 A through the line and the neutral, 20 m of 10 mm² (1.83 Ω/km) each.
    near(lines[2], 12.0 * 0.5 * 2.0 * 0.020 * 1.83 * 1.2, 1e-5);
}

/// At each board what leads to its figures: the loop, the largest currents, the drop.
#[test]
fn the_working_of_boards() {
    let inst = house();
    let mut rec = Working::default();
    assess(&inst, Earthing::TnCS, &mut rec);
    let drop = rec.circuits[0].drop.unwrap();
    for (place, volts) in [
        (Place::Supply, 0.0),
        (Place::Board(crate::network::BoardId(1)), drop),
    ] {
        let of = |topic| rec.of(place, topic);
        assert_eq!(rules(&of(Topic::Loop)), [Rule::ZsBoard]);
        let largest = rules(&of(Topic::Largest));
        assert_eq!(largest, [Rule::ZSupplyMin, Rule::IkNeutral, Rule::IkEarth]);
        is(&of(Topic::Drop)[0], volts, &[]);
        assert_eq!(rules(&of(Topic::Drop)), [Rule::DropBoard]);
        is(&of(Topic::Share)[0], volts / 230.0, &[volts, 230.0]);
        assert_eq!(rules(&of(Topic::Share)), [Rule::DropShare]);
        // 12 A at the workshop, and the house's 10.
        let demand = of(Topic::Demand)[0];
        let amps = if place == Place::Supply { 22.0 } else { 12.0 };
        assert_eq!(demand.rule, Rule::DemandSum);
        is(&demand, amps, &[amps, 0.0, 0.0]);
    }
}

/// A feed of 25 mm² to a board on an electrode: 20 m of 0.085 Ω/km are in its loop, and nothing on the way back.
#[test]
fn the_working_of_a_fault_at_a_board_has_the_reactance_of_its_feed() {
    let mut inst = house();
    inst.boards[1].earthing = crate::network::BoardEarthing::OwnElectrode(Some(ohms(50.0)));
    inst.boards[1].enclosure = Some(crate::network::Enclosure::Metal);
    inst.circuits[0].sections[0] = section(20.0, 25.0);
    let mut rec = Working::default();
    assess(&inst, Earthing::TnCS, &mut rec);
    let place = Place::Board(crate::network::BoardId(1));
    let all = rec.of(place, Topic::BoardFault);
    let zs = all.iter().find(|s| s.rule == Rule::ZsBoard).unwrap();
    let (r, x) = of_a_metre();
    near(zs.operands[1], 20.0 * r, 1e-5);
    assert_eq!(zs.operands[2], 0.0);
    near(zs.operands[3], 20.0 * x, 1e-5);
}

fn along(change: impl FnOnce(&mut Circuit), volts: &[f32]) -> Vec<(u8, f32, f32)> {
    let device = house().circuits[1].device;
    let mut c = circuit(0, Use::Sockets, device, Some(10.0), section(10.0, 2.5));
    c.sections.push(section(30.0, 2.5)).unwrap();
    change(&mut c);
    let mut out = Vec::new();
    drop_along(&c, volts, &mut |a| out.push((a.section, a.length, a.volts)));
    out
}

fn same(told: &[(u8, f32, f32)], worked: &[(u8, f32, f32)]) {
    assert_eq!(told.len(), worked.len(), "{told:?}");
    for (a, b) in told.iter().zip(worked) {
        let close = |a: f32, b: f32| (a - b).abs() < 1e-5;
        assert!(a.0 == b.0 && close(a.1, b.1) && close(a.2, b.2), "{told:?}");
    }
}

/// Four points at 10, 20, 30 and 40 m: the second section's 3 V are over its first 10 m 3/6, then 2/6, then 1/6.
#[test]
fn the_drop_along_a_radial_turns_where_load_is_taken() {
    let told = along(|c| c.load.points = 4, &[1.0, 3.0]);
    same(
        &told,
        &[
            (0, 10.0, 1.0),
            (1, 20.0, 2.5),
            (1, 30.0, 3.5),
            (1, 40.0, 4.0),
        ],
    );
}

/// A ring with all its load in the middle of its drop; the picture tells 20 m, the middle of its length, too. Of 4 V in
/// the middle there are min(v, ½)·(1 − max(v, ½))·4 at the share v, over ¼.
#[test]
fn the_drop_along_a_ring_of_one_point() {
    let ring = |c: &mut Circuit| c.shape = Shape::Ring;
    let told = along(ring, &[1.0, 3.0]);
    same(&told, &[(0, 10.0, 2.0), (1, 20.0, 4.0), (1, 40.0, 0.0)]);
    // At 20 m the share is 1/2 + 1/6.
    let told = along(ring, &[2.0, 2.0]);
    same(
        &told,
        &[(0, 10.0, 4.0), (1, 20.0, 8.0 / 3.0), (1, 40.0, 0.0)],
    );
}

#[test]
fn a_length_of_nothing_carries_all() {
    assert_eq!(carried(5.0, 5.0, 10.0, 3), 1.0);
    assert_eq!(carried(2.0, 5.0, 10.0, 1), 1.0);
    // Of points at 5 and 10 m both before 5, one behind.
    assert_eq!(carried(0.0, 5.0, 10.0, 2), 1.0);
    assert_eq!(carried(5.0, 10.0, 10.0, 2), 0.5);
    assert_eq!(carried(0.0, 10.0, 10.0, 2), 0.75);
}
