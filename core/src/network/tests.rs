use super::*;
use crate::device::Curve;
use crate::fixture::{amps, board, breaker, circuit, house, lamp, ohms, section, step, volts};
use crate::supply::{FaultLevel, Origin};

/// What is wrong with a circuit that is otherwise good.
fn of(change: impl FnOnce(&mut Circuit)) -> Option<Error> {
    let mut c = circuit(
        0,
        Use::Fixed,
        breaker(Curve::B, 16.0),
        Some(10.0),
        section(10.0, 2.5),
    );
    change(&mut c);
    c.check().err().map(|(_, e)| e)
}

/// The limit itself is still good, and one step beyond it is not.
#[test]
fn figures_of_a_circuit_up_to_their_ends() {
    let pf = |v| of(|c| c.load.power_factor = Ratio::raw(v));
    let (small, large, zero) = (Reason::TooSmall, Reason::TooLarge, Reason::Zero);
    assert_eq!(pf(0.05), None);
    assert_eq!(pf(step(0.05, -1)), Some(small.at(Field::PowerFactor)));
    assert_eq!(pf(1.0), None);
    assert_eq!(pf(step(1.0, 1)), Some(large.at(Field::PowerFactor)));
    assert_eq!(pf(0.0), Some(zero.at(Field::PowerFactor)));

    let limit = |v| of(|c| c.sections[0].operating_limit = Some(Celsius::raw(v)));
    assert_eq!(limit(40.0), None);
    for low in [step(40.0, -1), 20.0, -10.0] {
        assert_eq!(limit(low), Some(small.at(Field::OperatingTemperature)));
    }

    let cores = |n| of(|c| c.sections[0].cores = n);
    assert_eq!((cores(1), cores(48)), (None, None));
    for n in [0, 49, 255] {
        assert_eq!(cores(n), Some(Reason::NotMade.at(Field::Cores)));
    }

    let points = |n, purpose| of(|c| (c.load.points, c.purpose) = (n, purpose));
    assert_eq!(points(0, Use::Fixed), Some(zero.at(Field::Points)));
    assert_eq!(points(7, Use::Fixed), None);
    assert_eq!(points(1, Use::Distribution), None);
    for n in [2, 3, 255] {
        let spread = Reason::Contradiction.at(Field::Points);
        assert_eq!(points(n, Use::Distribution), Some(spread));
    }
}

#[test]
fn a_limit_of_temperature_counts_only_below_the_insulations_own() {
    let mut s = section(10.0, 2.5);
    assert_eq!(s.operating().get(), 70.0);
    for (limit, counts) in [(69.9, 69.9), (70.0, 70.0), (70.1, 70.0), (90.0, 70.0)] {
        s.operating_limit = Some(Celsius::raw(limit));
        assert_eq!(s.operating().get(), counts);
    }
}

/// A supply to a board, over three phases to a second, over one of them to a third.
fn tree() -> Installation<4, 8> {
    let mut h = house();
    h.supply.phases = Phases::Three;
    h.circuits[0].phase = Phase::Three;
    h.boards.push(board(Some(3))).unwrap();
    let feed = circuit(
        1,
        Use::Distribution,
        breaker(Curve::B, 16.0),
        None,
        section(5.0, 4.0),
    );
    h.circuits.push(feed).unwrap();
    h.circuits.push(lamp(2)).unwrap();
    h
}

fn errors(inst: &Installation<4, 8>) -> std::vec::Vec<(At, Error)> {
    let mut out = std::vec::Vec::new();
    let good = inst.check(|at, e| out.push((at, e)));
    assert_eq!(good, out.is_empty());
    out
}

#[test]
fn three_phases_reach_as_far_as_every_feed_has_them() {
    let mut h = tree();
    let three = |h: &Installation<4, 8>| [0, 1, 2, 9].map(|b| h.is_three_phase(BoardId(b)));
    assert_eq!(three(&h), [true, true, false, false]);
    assert!(errors(&h).is_empty());
    // A circuit of three phases on each.
    let wrong = Reason::Contradiction.at(Field::Phase);
    for (id, good) in [(1, true), (2, true), (4, false)] {
        let mut h = h.clone();
        h.circuits[id].phase = Phase::Three;
        let at = At::Circuit(CircuitId(u16::try_from(id).unwrap()), None);
        let hoped = if good { None } else { Some((at, wrong)) };
        assert!(errors(&h).into_iter().eq(hoped));
    }
    h.circuits[0].phase = Phase::L2;
    assert_eq!(three(&h), [true, false, false, false]);
    h.circuits[0].phase = Phase::Three;
    h.supply.phases = Phases::Single;
    assert_eq!(three(&h), [false; 4]);
    assert_eq!(errors(&h), [(At::Circuit(CircuitId(0), None), wrong)]);
}

#[test]
fn what_hangs_on_a_circuit_is_what_it_feeds() {
    let h = tree();
    let within = |outer| [0, 1, 2, 3, 4].map(|c| h.is_within(CircuitId(c), CircuitId(outer)));
    assert_eq!(within(0), [true, false, true, true, true]);
    assert_eq!(within(1), [false, true, false, false, false]);
    assert_eq!(within(2), [false, false, true, false, false]);
    assert_eq!(within(3), [false, false, false, true, true]);
    assert_eq!(within(4), [false, false, false, false, true]);
}

/// The limit itself is still a supply of low voltage, and one step beyond it is not.
#[test]
fn figures_of_a_supply_up_to_their_ends() {
    let plain = house().supply;
    let of = |change: &dyn Fn(&mut Supply)| {
        let mut s = plain;
        change(&mut s);
        s.check().err()
    };
    let (small, large) = (Reason::TooSmall, Reason::TooLarge);
    for (phases, most) in [(Phases::Single, 1000.0), (Phases::Three, 600.0)] {
        let u0 = |v| of(&|s| (s.u0, s.phases) = (volts(v), phases));
        assert_eq!((u0(50.0), u0(most)), (None, None));
        assert_eq!(u0(step(most, 1)), Some(large.at(Field::U0)));
        assert_eq!(u0(1001.0), Some(large.at(Field::U0)));
    }
    let ze = |v| of(&|s| s.ze = Some(ohms(v)));
    assert_eq!(ze(1e-3), None);
    assert_eq!(ze(step(1e-3, -1)), Some(small.at(Field::Ze)));
    let level = |v| of(&|s| s.fault_level = FaultLevel::Stated(amps(v), Origin::Declared));
    assert_eq!(level(1.0), None);
    assert_eq!(level(step(1.0, -1)), Some(small.at(Field::FaultLevel)));
}
