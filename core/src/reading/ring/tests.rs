//! Rings whose figures are worked by hand: as designed, both lines 0.80 Ω and the protective conductor 1.20 Ω.

use super::{Conductors as C, Diagnosis, EndReadings, Patterns as P, Socket, diagnose, highest};
use crate::fixture::{self, breaker, near, step};
use crate::network::{Part, Use};
use crate::reading::design::Ends;
use crate::reading::interval::{Accuracy, Shown};
use std::vec::Vec;

const DESIGN: Ends = Ends {
    line: 0.8,
    neutral: 0.8,
    protective: 1.2,
};
const NONE: C = C::empty();

/// 1.5 digits and half a step of 0.01 Ω: 0.02 Ω.
fn meter() -> Accuracy {
    Accuracy::new(0.03, 1.5, 0.01).unwrap()
}

fn ends(line: f32, neutral: f32, protective: f32) -> Option<EndReadings> {
    Some(EndReadings {
        line: Shown::Value(line),
        neutral: Shown::Value(neutral),
        protective: Shown::Value(protective),
    })
}

fn socket(n: Option<f32>, p: Option<f32>, cables: Option<u8>) -> Socket {
    Socket {
        line_neutral: n.map(Shown::Value),
        line_protective: p.map(Shown::Value),
        cables,
    }
}

/// A ring whose lines are `r` and whose protective conductor is half as much again, against the design: the same
/// cable, r/0.8 of its length.
fn ring(r: f32, sockets: &[Socket]) -> Diagnosis {
    diagnose(ends(r, r, 1.5 * r), sockets, &meter(), Some(DESIGN))
}

/// Sockets of a ring of lines `r`, each raised by the same length of cable: so much in line and neutral, 5/4 of it in
/// line and protective conductor, as r1 + r2 is to r1 + rn.
fn raised(r: f32, by: f32, cables: &[Option<u8>]) -> Diagnosis {
    let all: Vec<Socket> = cables
        .iter()
        .map(|c| socket(Some(0.5 * r + by), Some(0.625 * r + 1.25 * by), *c))
        .collect();
    ring(r, &all)
}

/// Line and neutral: 0.4 Ω, give or take 1.5 · 0.02 + 0.02 (contacts) + 5 % of 0.4 = 0.07.
/// Line and protective conductor: 0.96/2 = 0.48 at the board to 2/4 = 0.50, 0.05 + 5 % of 0.5 = 0.075 beyond.
#[test]
fn a_socket_is_raised_or_low_beyond_its_band() {
    let of = |n, p| ring(0.8, &[socket(n, p, Some(2))]);
    let d = of(Some(0.4), Some(0.5));
    assert_eq!((d.patterns, d.conductors), (P::HEALTHY, NONE));
    near(d.expected.unwrap(), 0.4, 1e-6);
    near(d.band.unwrap(), 0.07, 1e-5);
    assert!(!d.too_coarse && d.socket.is_none() && d.raised == 0 && d.raise == 0.0);
    for (n, p, patterns, raise) in [
        (Some(0.469), None, P::HEALTHY, 0.0),
        (
            Some(0.471),
            None,
            P::JOINT_AT_SOCKET.union(P::CLOSED_LOOP).union(P::BRIDGED),
            0.071,
        ),
        (Some(0.331), None, P::HEALTHY, 0.0),
        (Some(0.329), None, P::NOT_CROSSED, 0.0),
        (None, Some(0.574), P::HEALTHY, 0.0),
        // In terms of line and neutral by 1.6/2.
        (
            None,
            Some(0.576),
            P::PARALLEL_PATH
                .union(P::JOINT_AT_SOCKET)
                .union(P::CLOSED_LOOP)
                .union(P::BRIDGED),
            0.0608,
        ),
        (None, Some(0.406), P::HEALTHY, 0.0),
        (None, Some(0.404), P::NOT_CROSSED, 0.0),
        // Line and neutral say that the legs are crossed.
        (Some(0.4), Some(0.404), P::HEALTHY, 0.0),
    ] {
        let d = of(n, p);
        assert_eq!(d.patterns, patterns, "{n:?} {p:?}");
        assert!((d.raise - raise).abs() < 1e-5, "{n:?} {p:?} {}", d.raise);
        assert_eq!(d.r1r2, p.map(Shown::Value));
    }
}

/// Just the band is not beyond it.
#[test]
fn a_socket_at_the_end_of_its_band_is_on_the_ring() {
    // (4 + 0)/4 = 1 Ω, less 0.05 + 5 %: what is left has no smaller part than 1 has.
    let of = |v| {
        let s = [socket(Some(v), None, None)];
        diagnose(ends(2.0, 2.0, 3.0), &s, &meter(), None)
    };
    let band = of(1.0).band.unwrap();
    near(band, 0.1, 1e-5);
    assert_eq!(of(1.0 - band).patterns, P::HEALTHY);
    assert_eq!(of(step(1.0 - band, -1)).patterns, P::NOT_CROSSED);
    // 1/16 Ω with 1.5 · 0.1875 + 0.02 + 5 %: the sum has no smaller part than its band.
    let coarse = Accuracy::new(0.0, 0.0, 0.375).unwrap();
    let of = |v| {
        let s = [socket(Some(v), None, None)];
        diagnose(ends(0.125, 0.125, 0.125), &s, &coarse, None)
    };
    let band = of(0.0625).band.unwrap();
    near(band, 0.304_375, 1e-5);
    assert_eq!((of(0.0625 + band).raised, of(0.0625).too_coarse), (0, true));
    assert_eq!(of(step(0.0625 + band, 1)).raised, 1);
}

/// Leads of 0.1 Ω that were not nulled are in each reading, and their own digits: 1.5 · 0.04 + 0.02 + 0.02 = 0.1.
#[test]
fn leads_are_taken_off_ends_and_sockets() {
    let leads = meter().with_lead(0.1).unwrap();
    let of = |v| {
        let s = [socket(Some(v), None, None)];
        diagnose(ends(0.9, 0.9, 1.3), &s, &leads, Some(DESIGN))
    };
    let d = of(0.5);
    near(d.expected.unwrap(), 0.4, 1e-5);
    near(d.band.unwrap(), 0.1, 1e-5);
    assert_eq!((of(0.599).raised, of(0.601).raised), (0, 1));
    near(of(0.7).raise, 0.2, 1e-4);
}

/// Line and neutral raised by 1 Ω. A length of cable raises the other by 1.25, and by what the bands leave:
/// |p − 1.25| ≤ 0.075 + 0.02 (from board to middle) + 1.25 · 0.07 + 5 % of (p + 1.25), so 0.9571 to 1.5737.
/// A joint in the line raises it by the same: |p − 1| ≤ 0.075 + 0.02 + 0.07 + 5 % of (p + 1), so 0.7476 to 1.2789.
#[test]
fn a_raise_is_of_cable_or_of_a_joint() {
    let of = |n: f32, p: f32| {
        let s = [socket(Some(0.4 + n), Some(0.5 + p), Some(2))];
        let d = diagnose(ends(0.8, 0.8, 1.2), &s, &meter(), None);
        (d.patterns, d.conductors)
    };
    let loops = P::CLOSED_LOOP.union(P::BRIDGED);
    let joint = P::JOINT_AT_SOCKET;
    for (p, patterns, conductors) in [
        // Neither: of two joints one is in the line.
        (1.575, joint, C::LINE | C::PROTECTIVE),
        (1.572, loops, NONE),
        (1.281, loops, NONE),
        (1.277, loops | joint, C::LINE),
        (0.959, loops | joint, C::LINE),
        (0.955, joint, C::LINE),
        (0.749, joint, C::LINE),
        (0.745, joint, C::LINE | C::NEUTRAL),
        (0.5, joint, C::LINE | C::NEUTRAL),
        // As if there were no joint but one of the neutral's.
        (0.0, joint, C::NEUTRAL),
    ] {
        assert_eq!(of(1.0, p), (patterns, conductors), "{p}");
    }
    // A protective conductor alone: metal beside part of it does that too.
    assert_eq!(of(0.0, 1.0), (joint | P::PARALLEL_PATH, C::PROTECTIVE));
}

#[test]
fn an_open_contact_is_over_range() {
    let over = Some(Shown::Above(2000.0));
    let of = |line_neutral, line_protective| {
        let s = [Socket {
            line_neutral,
            line_protective,
            cables: None,
        }];
        let d = diagnose(ends(0.8, 0.8, 1.2), &s, &meter(), None);
        (d.patterns, d.conductors)
    };
    let joint = P::JOINT_AT_SOCKET;
    assert_eq!(of(over, over), (joint, C::LINE));
    assert_eq!(of(over, Some(Shown::Value(0.5))), (joint, C::NEUTRAL));
    assert_eq!(
        of(Some(Shown::Value(0.4)), over),
        (joint | P::PARALLEL_PATH, C::PROTECTIVE)
    );
}

#[test]
fn the_furthest_socket_is_told_the_first_of_two_alike() {
    let of = |values: &[f32]| {
        let s: Vec<Socket> = values
            .iter()
            .map(|v| socket(Some(*v), None, None))
            .collect();
        let d = ring(0.8, &s);
        (d.socket, d.raised)
    };
    assert_eq!(of(&[0.4, 0.2, 0.1, 0.3]), (Some(2), 0));
    assert_eq!(of(&[0.1, 0.1, 0.4]).0, Some(0));
    assert_eq!(of(&[0.4, 0.6, 0.8, 0.7]), (Some(2), 3));
    assert_eq!(of(&[0.4, 0.8, 0.8]), (Some(1), 2));
    // What is low counts before what is raised.
    assert_eq!(of(&[0.9, 0.1]).0, Some(1));
}

#[test]
fn the_highest_of_line_to_protective_is_r1_and_r2() {
    let of = |values: &[Shown]| {
        let all: Vec<Socket> = values
            .iter()
            .map(|v| Socket {
                line_neutral: Some(Shown::Value(9.0)),
                line_protective: Some(*v),
                cables: None,
            })
            .collect();
        highest(&all)
    };
    let (v, over) = (Shown::Value, Shown::Above);
    assert_eq!(of(&[]), None);
    assert_eq!(of(&[v(0.5), v(0.7), v(0.6)]), Some(v(0.7)));
    assert_eq!(of(&[over(2.0), over(3.0), over(2.5)]), Some(over(3.0)));
    assert_eq!(of(&[v(0.5), over(0.4), v(0.9)]), Some(over(0.4)));
}

/// What the number of cables behind the raised sockets leaves, on a ring as long as its design.
#[test]
fn cables_tell_a_spur_from_a_loop() {
    let (one, two, any) = (Some(1), Some(2), None);
    let (spur, on_spur) = (P::SPUR, P::SPUR_ON_SPUR);
    let (joint, closed, bridged) = (P::JOINT_AT_SOCKET, P::CLOSED_LOOP, P::BRIDGED);
    for (cables, patterns) in [
        (&[one][..], spur),
        (&[Some(0)], spur),
        (&[two], joint | closed | bridged),
        (&[Some(3)], joint | closed | bridged),
        (&[any], spur | joint | closed | bridged),
        (&[one, two], on_spur),
        (&[one, one], spur | bridged),
        (&[two, two], closed | bridged),
        (&[any, any], spur | on_spur | closed | bridged),
        (&[one, any], spur | on_spur | bridged),
        (&[two, any], on_spur | closed | bridged),
        (&[one, one, one], spur),
        (&[one, one, two], on_spur | bridged),
        (&[one, one, one, any], spur | on_spur | bridged),
    ] {
        let d = raised(0.8, 0.1, cables);
        assert_eq!(d.patterns, patterns, "{cables:?}");
        assert_eq!(usize::from(d.raised), cables.len());
        // A joint there would be the line's, as both are raised.
        let line = patterns.contains(joint);
        assert_eq!(d.conductors, if line { C::LINE } else { NONE });
    }
    // The lines 0.3 Ω where 0.8 are designed: no spur makes a ring shorter.
    for (cables, patterns) in [
        (&[one][..], bridged),
        (&[two], closed | bridged),
        (&[any], closed | bridged),
        (&[one, two], bridged),
        (&[one, one], bridged),
        (&[any, any], closed | bridged),
    ] {
        assert_eq!(raised(0.3, 0.25, cables).patterns, patterns, "{cables:?}");
    }
    // Too little for two tails, and an end where a loop has none: not one fault alone.
    let all = closed | bridged | on_spur | joint;
    assert_eq!(raised(0.3, 0.1, &[one]).patterns, all);
}

/// Lines of 1.6 Ω together in the design; 2 · (0.02 + 0.02) for digits and contacts. So a ring is shorter than the
/// design by 0.85 · 1.6 − 0.08 = 1.28 less its own at least, by 1.15 · 1.6 + 0.08 = 1.92 less its own at most.
#[test]
fn how_much_shorter_bounds_a_loop_and_a_bridge() {
    let none = |r: f32| raised(r, 0.0, &[None]).patterns;
    let short = P::SHORT.union(P::CLOSED_LOOP);
    assert_eq!(none(0.641), P::HEALTHY);
    assert_eq!(none(0.639), short | P::BRIDGED);
    // A bridge raises by a third of what is missing, or it is within the band 0.05 + 0.0125 · r: up to 1.0892 Ω.
    assert_eq!(none(0.545), short | P::BRIDGED);
    assert_eq!(none(0.544), short);

    let two = |r, by| raised(r, by, &[Some(2), Some(2)]).patterns;
    let (closed, bridged) = (P::CLOSED_LOOP, P::BRIDGED);
    // A loop raises by a quarter of what is missing: 0.32/4 + 0.07. A bridge by twice: 0.64 + 0.07.
    assert_eq!(two(0.8, 0.149), closed | bridged);
    assert_eq!(two(0.8, 0.151), bridged);
    assert_eq!(two(0.8, 0.709), bridged);
    let joint = raised(0.8, 0.711, &[Some(2)]);
    assert_eq!(joint.patterns, P::JOINT_AT_SOCKET);
    // Lines of 0.6 Ω together: a third of 0.68 less 0.05 + 0.0075 for a bridge at least, 0.1692.
    assert_eq!(two(0.3, 0.168), closed);
    assert_eq!(two(0.3, 0.170), closed | bridged);
    // 1.94 Ω are more than 1.92: nothing is missing, so no loop. Only line to protective conductor is raised.
    let long = |r: f32| {
        let s = [socket(Some(0.5 * r), Some(0.625 * r + 0.1), Some(2))];
        ring(r, &s).patterns
    };
    let path = P::PARALLEL_PATH.union(P::JOINT_AT_SOCKET).union(bridged);
    assert_eq!(long(0.97), path);
    assert_eq!(long(0.95), path | closed);
}

/// Just the limit is as long as the design, and just as long as it may be misses nothing. Half a step of 0.46 Ω and
/// contacts are 0.25 Ω, twice that is a figure without remainder.
#[test]
fn limits_of_the_length_from_both_sides() {
    let coarse = Accuracy::new(0.0, 0.0, 0.46).unwrap();
    let design = Ends {
        line: 2.0,
        neutral: 2.0,
        protective: 2.0,
    };
    let of = |all: f32, more: f32| {
        let r = 0.5 * all;
        let s = [socket(Some(r / 2.0), Some(r / 2.0 + more), Some(2))];
        diagnose(ends(r, r, r), &s, &coarse, Some(design)).patterns
    };
    let least = (1.0 - 0.15_f32) * 4.0 - 0.5;
    assert_eq!(of(least, 0.0), P::HEALTHY);
    assert!(of(step(least, -1), 0.0).contains(P::SHORT));
    let most = (1.0 + 0.15_f32) * 4.0 + 0.5;
    // Beyond 0.345 + 0.02 + 5 % of 1.275.
    assert!(!of(most, 0.45).contains(P::CLOSED_LOOP));
    assert!(of(step(most, -1), 0.45).contains(P::CLOSED_LOOP));
}

/// What the ends say of each other: the share of the design by the line that has less, 5 % of it, and for digits and
/// contacts 0.04 Ω of the conductor's own and as much of the line's, in the ratio of the two.
#[test]
fn ends_are_held_against_each_other() {
    let of = |l, n, p| {
        let d = diagnose(ends(l, n, p), &[], &meter(), Some(DESIGN));
        (d.patterns, d.conductors)
    };
    let sound = (P::empty(), NONE);
    // 0.04 + 0.04 · (1 + 1) = 0.12.
    assert_eq!(of(0.919, 0.8, 1.2), sound);
    assert_eq!(of(0.921, 0.8, 1.2), (P::JOINT, C::LINE));
    assert_eq!(of(0.8, 0.919, 1.2), sound);
    assert_eq!(of(0.8, 0.921, 1.2), (P::JOINT, C::NEUTRAL));
    // 0.06 + 0.04 · (1 + 1.5) = 0.16.
    assert_eq!(of(0.8, 0.8, 1.359), sound);
    assert_eq!(of(0.8, 0.8, 1.361), (P::JOINT, C::PROTECTIVE));
    assert_eq!(of(0.8, 0.8, 1.041), sound);
    assert_eq!(of(0.8, 0.8, 1.039), (P::PARALLEL_PATH, C::PROTECTIVE));
    // Half the length: 0.03 + 0.1 = 0.13.
    assert_eq!(of(0.4, 0.4, 0.729), sound);
    assert_eq!(of(0.4, 0.4, 0.731), (P::JOINT, C::PROTECTIVE));
    assert_eq!(of(0.4, 0.4, 0.471), sound);
    assert_eq!(of(0.4, 0.4, 0.469), (P::PARALLEL_PATH, C::PROTECTIVE));

    // A neutral of twice the size. Both as long: the line's digits count, 0.06 + 0.04 · (1 + 1.2/0.8) = 0.16.
    // The neutral shorter, 0.38 of 0.4: 1.14 + 0.057 + 0.04 · (1 + 1.2/0.4) = 1.357.
    let design = Ends {
        neutral: 0.4,
        ..DESIGN
    };
    let of = |l, n, p| diagnose(ends(l, n, p), &[], &meter(), Some(design)).patterns;
    assert_eq!(of(0.8, 0.4, 1.359), P::empty());
    assert_eq!(of(0.8, 0.4, 1.361), P::JOINT);
    assert_eq!(of(0.8, 0.38, 1.356), P::empty());
    assert_eq!(of(0.8, 0.38, 1.358), P::JOINT);
}

/// With metal beside the protective conductor its readings at the sockets have no pattern.
#[test]
fn beside_metal_only_line_and_neutral_count() {
    let s = [socket(Some(0.4), Some(0.9), None)];
    let d = diagnose(ends(0.8, 0.8, 1.0), &s, &meter(), Some(DESIGN));
    assert_eq!(d.patterns, P::PARALLEL_PATH | P::HEALTHY);
    assert_eq!((d.conductors, d.raised), (C::PROTECTIVE, 0));
}

#[test]
fn ends_that_are_no_resistance_say_nothing() {
    let of = |l, n, p| {
        let s = [socket(Some(0.4), Some(0.5), None)];
        let d = diagnose(ends(l, n, p), &s, &meter(), None);
        assert_eq!(d.expected.is_none(), d.too_coarse, "{l} {n} {p}");
        assert!(!d.too_coarse || d.patterns.is_empty());
        d.too_coarse
    };
    assert!(!of(0.8, 0.8, 1.2));
    for bad in [0.0, -0.1, f32::NAN, f32::INFINITY] {
        assert!(of(bad, 0.8, 1.2), "{bad}");
        assert!(of(0.8, bad, 1.2), "{bad}");
        assert!(of(0.8, 0.8, bad), "{bad}");
    }
    // No sum of them is beyond what a number can be; a product might.
    assert!(!of(1e30, 1e30, 1.5e30));
    assert!(of(2e38, 2e38, 1.0));
    assert!(of(1.5e38, 1.5e38, 2e38));
}

#[test]
fn spurs_of_a_design_are_counted() {
    let mut c = fixture::circuit(
        0,
        Use::Fixed,
        breaker(crate::device::Curve::B, 32.0),
        None,
        fixture::section(50.0, 2.5),
    );
    assert_eq!(super::spurs(&c), 0);
    for n in 1..=3 {
        let mut spur = fixture::section(3.0, 2.5);
        spur.part = Part::Spur;
        c.sections.push(spur).unwrap();
        assert_eq!(super::spurs(&c), n);
    }
}
