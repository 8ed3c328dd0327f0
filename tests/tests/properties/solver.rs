//! The answers the other way round, against a plain scan over changed copies of the installation.

use crate::any::{House, amps, house, metres, mm2};
use crate::{Seen, config, readings};
use faultpath::conductor::made;
use faultpath::device::{Device, Rcd, RcdDelay, RcdType};
use faultpath::network::{CircuitId, Demand, Part};
use faultpath::quantity::Metres;
use faultpath::solve::{
    Unsolved, apply, changes, greatest_length, largest_rating, set_csa, smallest_csa,
};
use faultpath::supply::Earthing;
use faultpath::verdict::{Check, Outcome, Place};
use proptest::prelude::*;
use proptest::sample::Index;

/// Whether a circuit and all that hangs on it pass: by every finding of a plain judgement.
fn passes(house: &House, earthing: Earthing, id: CircuitId) -> bool {
    let (_, seen) = Seen::of(house, earthing);
    let mut own = false;
    for f in &seen.findings {
        let at = match f.place {
            Place::Circuit(at) => Some(at),
            // Covered by the feed or not at all.
            Place::Board(board) if f.check == Check::BoardFault => {
                house.board(board).and_then(|b| b.fed_by)
            }
            _ => None,
        };
        own |= f.place == Place::Circuit(id);
        if at.is_some_and(|at| house.is_within(at, id)) && f.outcome != Outcome::Pass {
            return false;
        }
    }
    own
}

/// Makes one circuit good enough that there is something to solve.
fn eased(mut house: House, at: usize) -> House {
    let c = &mut house.circuits[at];
    if let Demand::Current(i) = c.load.demand {
        c.load.demand = Demand::Current(amps((i.get() * 0.2).max(0.1)));
    }
    if c.rcd.is_none() {
        c.rcd = Rcd::new(amps(0.03), RcdType::A, RcdDelay::None).ok();
    }
    if c.device.breaking().is_none() {
        c.device = c.device.with_breaking(amps(25e3));
    }
    house
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn the_smallest_conductor_is_that_of_a_scan(house in house(), which in any::<Index>(), ease in any::<bool>()) {
        let at = which.index(house.circuits.len());
        let mut house = if ease { eased(house, at) } else { house };
        let id = CircuitId(at as u16);
        for earthing in readings(&house) {
            let before = house.clone();
            let got = smallest_csa(&mut house, *earthing, id);
            prop_assert_eq!(&before, &house, "left changed");
            let c = &before.circuits[at];
            let material = c.sections[0].material;
            if c.sections.iter().any(|s| s.material != material) {
                prop_assert_eq!(got, Err(Unsolved::NoSuchCircuit));
                continue;
            }
            let scan = made(material).iter().copied().find(|csa| {
                let mut other = before.clone();
                set_csa(&mut other.circuits[at], mm2(*csa));
                other.circuits[at].check().is_ok() && passes(&other, *earthing, id)
            });
            prop_assert_eq!(got.ok().map(|s| s.get()), scan);
        }
    }

    #[test]
    fn the_largest_rating_is_that_of_a_scan(house in house(), which in any::<Index>(), ease in any::<bool>()) {
        let at = which.index(house.circuits.len());
        let mut house = if ease { eased(house, at) } else { house };
        let id = CircuitId(at as u16);
        for earthing in readings(&house) {
            let before = house.clone();
            let got = largest_rating(&mut house, *earthing, id);
            prop_assert_eq!(&before, &house, "left changed");
            let device = before.circuits[at].device;
            let scan = Device::ratings(device.family()).iter().rev().copied().find(|rating| {
                let mut other = before.clone();
                other.circuits[at].device = device.with_rating(amps(*rating)).unwrap();
                passes(&other, *earthing, id)
            });
            prop_assert_eq!(got.ok().map(|d| d.rating().get()), scan);
        }
    }

    /// The length passes, the next float does not, and in a scan over all orders of magnitude no range of
    /// lengths above it does.
    #[test]
    fn the_greatest_length_is_that_of_a_scan(house in house(), which in any::<Index>(), ease in any::<bool>()) {
        let at = which.index(house.circuits.len());
        let mut house = if ease { eased(house, at) } else { house };
        let id = CircuitId(at as u16);
        for earthing in readings(&house) {
            let before = house.clone();
            let got = greatest_length(&mut house, *earthing, id);
            prop_assert_eq!(&before, &house, "left changed");
            let sections = &before.circuits[at].sections;
            let longest = (0..sections.len())
                .filter(|n| sections[*n].part == Part::Run)
                .reduce(|a, b| if sections[b].length > sections[a].length { b } else { a })
                .unwrap();
            let good = |length: f32| {
                let mut other = before.clone();
                other.circuits[at].sections[longest].length = metres(length);
                passes(&other, *earthing, id)
            };
            // What is looked for by steps of two thirds may miss a range of good lengths that is narrower.
            let mut run = 0;
            let mut found = None;
            for n in 0..270 {
                let l = 1e-3 * 1.08f32.powi(n);
                run = if l < Metres::MAX && good(l) { run + 1 } else { 0 };
                if run >= 7 {
                    found = Some(l);
                }
            }
            match got {
                Ok((section, length)) => {
                    let length = length.get();
                    prop_assert_eq!(usize::from(section), longest);
                    prop_assert!(good(length), "{} does not pass", length);
                    if good(sections[longest].length.get()) {
                        prop_assert!(length >= sections[longest].length.get(), "less than it is");
                    }
                    if length < Metres::MAX {
                        let next = f32::from_bits(length.to_bits() + 1);
                        prop_assert!(!good(next), "{} passes too", next);
                    }
                    if let Some(l) = found {
                        prop_assert!(l <= length, "{} passes, greatest is {}", l, length);
                    }
                }
                Err(e) => {
                    prop_assert!(found.is_none(), "{:?} passes, yet {:?}", found, e);
                    prop_assert!(!good(sections[longest].length.get()), "passes as it is");
                }
            }
        }
    }

    /// Each change that is told makes the circuit pass; none is told of one that passes.
    #[test]
    fn every_change_helps(house in house(), which in any::<Index>(), ease in any::<bool>()) {
        let at = which.index(house.circuits.len());
        let mut house = if ease { eased(house, at) } else { house };
        let id = CircuitId(at as u16);
        for earthing in readings(&house) {
            let before = house.clone();
            let mut told = Vec::new();
            changes(&mut house, *earthing, id, |c| told.push(c));
            prop_assert_eq!(&before, &house, "left changed");
            if passes(&before, *earthing, id) {
                prop_assert!(told.is_empty());
            }
            for change in told {
                let mut other = before.clone();
                apply(&mut other.circuits[at], &change);
                prop_assert_ne!(&other, &before);
                prop_assert!(passes(&other, *earthing, id), "{:?}", change);
            }
        }
    }
}
