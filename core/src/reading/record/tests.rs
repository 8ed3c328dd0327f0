//! The readings of the shared house: at the origin a feed (circuit 0) and circuit 1, at the workshop circuit 2.

use super::*;
use crate::assess::assess;
use crate::device::{Curve, RcdDelay};
use crate::fixture::{amps, breaker, house, m, mm2, near, ohms, rcd, section};
use crate::reading::sequence::Site;
use crate::reading::{Meaning, Side, Suspects};
use crate::supply::SupplyEarthing;
use std::vec::Vec;

type House = Installation<4, 8>;

#[derive(Default)]
struct Kept {
    testing: Testing,
    supply: SupplyTests,
    boards: [BoardTests; 2],
    circuits: [CircuitTests; 3],
}

impl Readings for Kept {
    fn testing(&self) -> &Testing {
        &self.testing
    }
    fn supply(&self) -> Option<&SupplyTests> {
        Some(&self.supply)
    }
    fn board(&self, id: BoardId) -> Option<&BoardTests> {
        self.boards.get(usize::from(id.0))
    }
    fn circuit(&self, id: CircuitId) -> Option<&CircuitTests> {
        self.circuits.get(usize::from(id.0))
    }
}

/// Readings at 20 °C.
fn kept() -> Kept {
    let mut kept = Kept::default();
    kept.testing.ambient = Some(Celsius::new(20.0).unwrap());
    kept
}

fn exact(step: f32) -> Option<Accuracy> {
    Some(Accuracy::new(0.0, 0.0, step).unwrap())
}

/// Does something with the record, after `change` of what the walk said.
fn changed<T>(
    inst: &House,
    kept: &Kept,
    change: impl FnOnce(&mut Plan<'_>),
    what: impl FnOnce(&Record<'_, 4, 8, Kept>) -> T,
) -> T {
    let mut boards = [BoardPlan::default(); 2];
    let mut circuits = [0; 3].map(|_| CircuitPlan::default());
    let mut plan = Plan {
        supply: BoardPlan::default(),
        boards: &mut boards,
        circuits: &mut circuits,
    };
    let SupplyEarthing::Known(earthing) = inst.supply.earthing else {
        panic!("the house has one");
    };
    assess(inst, earthing, &mut plan);
    change(&mut plan);
    what(&Record {
        inst,
        earthing,
        plan: &plan,
        readings: kept,
    })
}

fn recorded<T>(inst: &House, kept: &Kept, what: impl FnOnce(&Record<'_, 4, 8, Kept>) -> T) -> T {
    changed(inst, kept, |_| {}, what)
}

/// The entries of a place: which, whether it was taken, how it was judged.
fn told(inst: &House, kept: &Kept, place: Place) -> Vec<(Item, bool, Judged)> {
    recorded(inst, kept, |r| {
        let mut out = Vec::new();
        r.judge(place, &mut |e| {
            assert_eq!(e.place, place);
            assert_eq!(e.ring.is_some(), e.taken && e.item == Item::Ring);
            out.push((e.item, e.taken, *e.judged));
        });
        out
    })
}

fn named(inst: &House, kept: &Kept, place: Place) -> Vec<(Item, bool)> {
    let all = told(inst, kept, place);
    all.iter().map(|(item, taken, _)| (*item, *taken)).collect()
}

fn one(inst: &House, kept: &Kept, place: Place, item: Item) -> Judged {
    let all = told(inst, kept, place);
    let found = all.iter().find(|(i, _, _)| *i == item);
    found.expect("told").2
}

const SUPPLY: Place = Place::Supply;
const CIRCUIT: Place = Place::Circuit(CircuitId(1));
const V: fn(f32) -> Shown = Shown::Value;

/// What is needed is told as missing, and nothing else.
#[test]
fn what_is_still_to_be_taken_is_what_is_needed() {
    let mut inst = house();
    let none = kept();
    let missing = |all: &[Item]| all.iter().map(|i| (*i, false)).collect::<Vec<_>>();
    let circuit = [Item::R1R2, Item::Insulation(0), Item::Polarity, Item::Zs];
    let supply = [Item::Ze, Item::FaultCurrent];
    let origin = Place::Board(BoardId(0));
    assert_eq!(named(&inst, &none, CIRCUIT), missing(&circuit));
    assert_eq!(named(&inst, &none, SUPPLY), missing(&supply));
    assert_eq!(named(&inst, &none, origin), []);
    // Metal that comes in, and a ring.
    inst.supply.extraneous = true;
    inst.boards[0].extraneous = true;
    inst.circuits[1].shape = crate::network::Shape::Ring;
    let circuit = [
        Item::R1R2,
        Item::Ring,
        Item::Insulation(0),
        Item::Polarity,
        Item::Zs,
    ];
    let supply = [Item::Bonding(0), Item::Ze, Item::FaultCurrent];
    assert_eq!(named(&inst, &none, CIRCUIT), missing(&circuit));
    assert_eq!(named(&inst, &none, SUPPLY), missing(&supply));
    assert_eq!(named(&inst, &none, origin), missing(&[Item::Bonding(0)]));
    // One bonding conductor was read: no other is asked for.
    let mut read = kept();
    let bonding = Bonding {
        length: m(5.0),
        conductor: Conductor {
            material: crate::conductor::Material::Copper,
            csa: mm2(10.0),
        },
        reading: Some(V(0.02)),
    };
    read.boards[0].bonding.push(bonding).unwrap();
    assert_eq!(named(&inst, &read, origin), [(Item::Bonding(0), true)]);
}

/// A place that is noted without a figure is no reading; what has none, as polarity, is.
#[test]
fn what_was_taken_is_told_from_what_is_noted() {
    let inst = house();
    let mut read = kept();
    let made = insulation::Made {
        test_voltage: 500.0,
        gear: false,
        fixed_gear: false,
        circuits: 1,
    };
    for reading in [None, Some(V(200.0))] {
        let i = Insulation { made, reading };
        read.circuits[1].insulation.push(i).unwrap();
    }
    read.circuits[1].polarity = Some(Polarity::Right);
    assert_eq!(
        named(&inst, &read, CIRCUIT),
        [
            (Item::R1R2, false),
            (Item::Insulation(0), false),
            (Item::Insulation(1), true),
            (Item::Polarity, true),
            (Item::Zs, false)
        ]
    );
}

/// R1 + R2 or R2 will do, and both are judged where both were read.
#[test]
fn one_reading_of_the_protective_conductor_will_do() {
    let inst = house();
    let mut read = kept();
    let of = |read: &Kept| {
        let mut all = named(&inst, read, CIRCUIT);
        all.retain(|(i, _)| matches!(i, Item::R1R2 | Item::R2));
        all
    };
    assert_eq!(of(&read), [(Item::R1R2, false)]);
    read.circuits[1].r2 = Some(V(0.07));
    assert_eq!(of(&read), [(Item::R2, true)]);
    read.circuits[1].r1r2 = Some(V(0.14));
    assert_eq!(of(&read), [(Item::R1R2, true), (Item::R2, true)]);
    read.circuits[1].r2 = None;
    assert_eq!(of(&read), [(Item::R1R2, true)]);
}

/// 100 m of 2.5 mm²: 0.741 Ω each at 20 °C, by leads of half an ohm.
#[test]
fn leads_are_no_part_of_either_conductor() {
    let mut inst = house();
    inst.circuits[1].sections[0] = section(100.0, 2.5);
    let mut read = kept();
    let meter = exact(0.01).unwrap().with_lead(0.5).unwrap();
    read.testing.instruments.low_resistance = Some(meter);
    let mut of = |all: f32, r2: f32| {
        read.circuits[1].r1r2 = Some(V(all + 0.5));
        read.circuits[1].r2 = Some(V(r2 + 0.5));
        one(&inst, &read, CIRCUIT, Item::R1R2).suspects
    };
    let as_designed = of(1.482, 0.741);
    assert!(!as_designed.intersects(Suspects::LINE | Suspects::PROTECTIVE));
    // 0.4 Ω more in the line, which is a joint or another size there, not a longer run; in the other conductor;
    // in both, by the same share: a longer run.
    let line = of(1.882, 0.741);
    assert!(line.contains(Suspects::LINE | Suspects::LOOSE_JOINT));
    assert!(!line.contains(Suspects::PROTECTIVE));
    let protective = of(1.882, 1.141);
    assert!(protective.contains(Suspects::PROTECTIVE | Suspects::LOOSE_JOINT));
    assert!(!protective.contains(Suspects::LINE));
    let both = of(2.282, 1.141);
    assert!(both.contains(Suspects::LINE | Suspects::PROTECTIVE | Suspects::LONGER));
}

/// The smallest of the circuits that could be energised one day.
#[test]
fn limits_of_many_circuits_leave_out_what_can_not_stand() {
    let mut inst = house();
    // The workshop's circuit is furthest off, and asks for as much as the feed.
    inst.circuits[2].device = breaker(Curve::D, 16.0);
    let none = kept();
    let own = |id: u16| recorded(&inst, &none, |r| r.design(CircuitId(id)).unwrap().max_ze());
    let (feed, first, workshop) = (own(0).unwrap(), own(1).unwrap(), own(2).unwrap());
    let others = feed.min(first);
    assert!(workshop < others);
    assert_eq!(recorded(&inst, &none, |r| r.max_ze()), Some(workshop));
    // What can't be read counts for nothing, and is no pass.
    let there = Place::Circuit(CircuitId(2));
    let unread = |p: &mut Plan<'_>| p.incomplete(there);
    assert_eq!(
        changed(&inst, &none, unread, |r| (
            r.max_ze(),
            r.plan.outcome(there)
        )),
        (Some(others), Outcome::CannotSay)
    );
    // As what the walk did not come to.
    let lost = |p: &mut Plan<'_>| p.circuits[2] = CircuitPlan::default();
    assert_eq!(changed(&inst, &none, lost, |r| r.max_ze()), Some(others));
    // As a design that fails, for another reason.
    let fails = |p: &mut Plan<'_>| p.circuits[2].outcome = Some(Outcome::Fail);
    assert_eq!(changed(&inst, &none, fails, |r| r.max_ze()), Some(others));
}

/// A workshop on an electrode, circuit 2 behind an RCD of 0.5 A: 15 m of 2.5 mm² at 70 °C from the electrode's
/// terminal, 50/0.5 − 15 · 7.41/1000 · (1 + 0.004 · 50) = 99.8666 Ω.
#[test]
fn an_electrode_has_the_circuits_whose_loop_closes_over_it() {
    let mut inst = house();
    inst.boards[1].earthing = BoardEarthing::OwnElectrode(Some(ohms(20.0)));
    inst.circuits[2].rcd = Some(rcd(0.5, RcdDelay::None));
    let none = kept();
    let limits = |inst: &House| {
        recorded(inst, &none, |r| {
            (r.max_ra(Some(BoardId(1))), r.max_ra(None), r.max_ze())
        })
    };
    let (ra, at_origin, ze) = limits(&inst);
    near(ra.unwrap(), 99.866_62, 5e-7);
    // The origin has no electrode, and its circuits no RCD.
    assert_eq!(at_origin, None);
    let own =
        |inst: &House, id| recorded(inst, &none, |r| r.design(CircuitId(id)).unwrap().max_ze());
    assert_eq!(ze, Some(own(&inst, 0).unwrap().min(own(&inst, 1).unwrap())));
    // A circuit without a protective conductor has no such loop.
    let mut bare = inst.circuits[2].clone();
    bare.board = BoardId(1);
    bare.rcd = None;
    bare.sections[0].protective = Protective::None;
    inst.circuits[1] = bare;
    let stands = recorded(&inst, &none, |r| r.plan.stands(CircuitId(1)));
    assert!(stands);
    assert_eq!(limits(&inst).0, ra);
    inst.circuits[1].board = BoardId(0);
    assert_eq!(limits(&inst).2, own(&inst, 0));
}

/// The smallest rating at a board; at the origin that of the incoming device too.
#[test]
fn breaking_is_that_of_the_devices_there() {
    let mut inst = house();
    for (circuit, rated) in inst.circuits.iter_mut().zip([8000.0, 7000.0, 5000.0]) {
        circuit.device = circuit.device.with_breaking(amps(rated));
    }
    let of = |inst: &House| {
        let boards = [Some(BoardId(0)), Some(BoardId(1)), None];
        recorded(inst, &kept(), |r| boards.map(|b| r.breaking(b)))
    };
    assert_eq!(of(&inst), [Some(7000.0), Some(5000.0), Some(7000.0)]);
    for (incoming, origin) in [(6000.0, 6000.0), (9000.0, 7000.0)] {
        inst.supply.device = Some(inst.circuits[0].device.with_breaking(amps(incoming)));
        assert_eq!(of(&inst), [Some(7000.0), Some(5000.0), Some(origin)]);
    }
}

/// 230/0.2 = 1150 A at nominal voltage; the design counts with 1.1 of it.
#[test]
fn a_current_beyond_the_design_is_told() {
    let inst = house();
    let mut read = kept();
    read.testing.instruments.fault_current = exact(1.0);
    let mut of = |i: f32| {
        read.supply.fault = Some(FaultReadings {
            line_neutral: Some(V(i)),
            line_earth: Some(V(i)),
            three_phase: None,
        });
        one(&inst, &read, SUPPLY, Item::FaultCurrent)
    };
    assert_eq!(of(1148.0).outcome, Outcome::Pass);
    let more = of(1152.0);
    assert_eq!(
        (more.outcome, more.meaning),
        (Outcome::Doubtful, Meaning::AboveDesign)
    );
}

/// In TT the loop of the supply is its electrode's, and Ze of the design is of no earth that is used.
#[test]
fn ze_is_held_against_the_design_where_it_is_the_earth() {
    let mut inst = house();
    let mut read = kept();
    read.supply.ze = Some(V(0.21));
    let compared = |inst: &House| one(inst, &read, SUPPLY, Item::Ze).compared;
    let c = compared(&inst).unwrap();
    assert_eq!((c.expected, c.side), (0.2, Side::Within));
    inst.supply.earthing = SupplyEarthing::Known(Earthing::Tt);
    inst.supply.ra = Some(ohms(20.0));
    assert_eq!(compared(&inst), None);
}

#[test]
fn any_part_of_a_ring_is_a_reading_of_it() {
    let inst = house();
    let of = |change: &dyn Fn(&mut Ring)| {
        let mut read = kept();
        let mut ring = Ring::default();
        change(&mut ring);
        read.circuits[1].ring = Some(ring);
        let mut all = named(&inst, &read, CIRCUIT);
        all.retain(|(i, _)| *i == Item::Ring);
        all
    };
    // Not a ring by its design.
    assert_eq!(of(&|_| {}), []);
    assert_eq!(of(&|r| r.line = Some(V(0.7))), [(Item::Ring, true)]);
    assert_eq!(of(&|r| r.neutral = Some(V(0.7))), [(Item::Ring, true)]);
    assert_eq!(of(&|r| r.protective = Some(V(0.7))), [(Item::Ring, true)]);
    let socket = Socket {
        line_neutral: Some(V(0.3)),
        line_protective: None,
        cables: None,
    };
    assert_eq!(
        of(&|r| r.sockets.push(socket).unwrap()),
        [(Item::Ring, true)]
    );
}

#[test]
fn a_volt_drop_asks_for_all_three_and_for_both_meters() {
    let inst = house();
    let mut read = kept();
    let all = [Some(V(231.0)), Some(V(229.0)), Some(V(10.0))];
    let of = |read: &mut Kept, [unloaded, loaded, current]: [Option<Shown>; 3]| {
        read.circuits[1].volt_drop = Some(VoltDrop::Voltages {
            unloaded,
            loaded,
            current,
        });
        one(&inst, read, CIRCUIT, Item::VoltDrop)
    };
    let j = of(&mut read, all);
    assert_eq!((j.lacking, j.value), (Lacking::ACCURACY, None));
    read.testing.instruments.voltage = exact(0.1);
    read.testing.instruments.current = exact(0.1);
    let j = of(&mut read, all);
    // 2 V at the 10 A it is designed for, cold; 70 °C in service, from 20 °C.
    near(j.value.unwrap(), 2.0 * 304.5 / 254.5, 1e-5);
    assert_eq!((j.lacking, j.outcome), (Lacking::empty(), Outcome::Pass));
    for n in 0..3 {
        let mut some = all;
        some[n] = None;
        let j = of(&mut read, some);
        assert_eq!((j.lacking, j.value), (Lacking::READING, None), "{n}");
    }
}

#[test]
fn a_place_may_be_energised_when_all_is_done() {
    let inst = house();
    let none = kept();
    recorded(&inst, &none, |r| {
        let mut done = r.all(&mut |_| {});
        for place in r.places() {
            assert!(!r.may_be_energised(&done, place), "{place:?}");
        }
        let mut pass = Done::new(Outcome::Pass);
        for step in Step::ALL {
            pass.set(step, Outcome::Pass);
        }
        pass.energised = true;
        done.supply = pass.clone();
        done.boards.iter_mut().for_each(|d| d.clone_from(&pass));
        done.circuits.iter_mut().for_each(|d| d.clone_from(&pass));
        for place in r.places() {
            assert!(r.may_be_energised(&done, place), "{place:?}");
        }
        // There is no such place.
        assert!(!r.may_be_energised(&done, Place::Circuit(CircuitId(7))));
    });
}

#[test]
fn notes_are_told_of_their_place() {
    let mut inst = house();
    inst.boards[1].earthing = BoardEarthing::OwnElectrode(Some(ohms(20.0)));
    let mut read = kept();
    read.circuits[1].gear = true;
    let of = |inst: &House, place| {
        recorded(inst, &read, |r| {
            let mut all = Vec::new();
            r.notes(place, &mut |n| all.push(*n));
            all
        })
    };
    let (first, back) = (Note::ElectrodeFirst, Note::EarthingBack);
    assert_eq!(of(&inst, SUPPLY), [back]);
    assert_eq!(of(&inst, Place::Board(BoardId(0))), []);
    assert_eq!(of(&inst, Place::Board(BoardId(1))), [first, back]);
    assert_eq!(of(&inst, CIRCUIT), [Note::Gear]);
    assert_eq!(of(&inst, Place::Circuit(CircuitId(2))), [first]);
    inst.supply.earthing = SupplyEarthing::Known(Earthing::Tt);
    inst.supply.ra = Some(ohms(20.0));
    assert_eq!(of(&inst, SUPPLY), [first, back]);
}

/// A neutral is borrowed from lighting of the same board only.
#[test]
fn notes_of_lighting_name_the_other_lighting_of_the_board() {
    use crate::network::Use;
    let mut inst = house();
    let lighting = |board| {
        let mut c = crate::fixture::lamp(board);
        c.purpose = Use::Lighting;
        c
    };
    for board in [0, 0, 1] {
        inst.circuits.push(lighting(board)).unwrap();
    }
    let notes = sequence::notes(&inst, Earthing::TnCS, CircuitId(3), Site::default());
    assert_eq!(
        notes,
        [
            Note::MarkSwitchedLine,
            Note::BorrowedNeutral {
                other: CircuitId(4)
            }
        ]
    );
}

/// Armour that feeds a board is connected at both ends, that of a last circuit at its supply's, unless it is the
/// protective conductor.
#[test]
fn notes_of_armour_by_what_it_is_for() {
    use crate::cable::Construction;
    let mut inst = house();
    let of = |inst: &House, id| {
        let all = sequence::notes(inst, Earthing::TnCS, CircuitId(id), Site::default());
        let mut all: Vec<Note> = all.iter().copied().collect();
        all.retain(|n| matches!(n, Note::ArmourBothEnds | Note::ArmourSupplyEnd));
        all
    };
    for n in [0, 1] {
        inst.circuits[n].sections[0].construction = Construction::Armoured;
    }
    assert_eq!(of(&inst, 0), [Note::ArmourBothEnds]);
    assert_eq!(of(&inst, 1), [Note::ArmourSupplyEnd]);
    inst.circuits[1].sections[0].protective = Protective::Armour(None);
    assert_eq!(of(&inst, 1), [Note::ArmourBothEnds]);
    inst.boards[1].earthing = BoardEarthing::OwnElectrode(None);
    assert_eq!(of(&inst, 0), [Note::ArmourSupplyEnd]);
}
