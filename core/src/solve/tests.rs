//! Each search against every candidate, tried one by one and judged by all findings of one walk.

use super::*;
use crate::device::Curve;
use crate::fixture::{amps, breaker, circuit, house, m, mm2, ohms, rcd, section, step};
use crate::network::{BoardEarthing, Use};
use crate::quantity::{AmpSquaredSeconds, Celsius};
use crate::supply::{Conductor, FaultLevel, Origin, SupplyEarthing};
use crate::verdict::Report;
use std::vec::Vec;

type House = Installation<4, 8>;

fn copper(csa: f32) -> Conductor {
    Conductor {
        material: Material::Copper,
        csa: mm2(csa),
    }
}

/// What one walk says of a circuit and what hangs on it, found from the circuit outwards.
fn findings(inst: &House, earthing: Earthing, id: CircuitId) -> Vec<Finding> {
    let (mut circuits, mut boards) = (std::vec![id], Vec::new());
    for _ in 0..4 {
        for (b, board) in inst.boards() {
            if board.fed_by.is_some_and(|f| circuits.contains(&f)) && !boards.contains(&b) {
                boards.push(b);
            }
        }
        for (c, own) in inst.circuits() {
            if boards.contains(&own.board) && !circuits.contains(&c) {
                circuits.push(c);
            }
        }
    }
    let mut report = Report::<256>::default();
    let _ = assess(inst, earthing, &mut report);
    assert_eq!(report.dropped, 0);
    let own = |f: &&Finding| match f.place {
        Place::Circuit(c) => circuits.contains(&c),
        Place::Board(b) => f.check == Check::BoardFault && boards.contains(&b),
        Place::Supply => false,
    };
    let all: Vec<Finding> = report.findings.iter().filter(own).copied().collect();
    // One that was refused is no pass, whatever hangs on it.
    if all.iter().any(|f| f.place == Place::Circuit(id)) {
        all
    } else {
        Vec::new()
    }
}

/// The worst outcome, and the first check that has it.
fn worst(inst: &House, earthing: Earthing, id: CircuitId) -> (Outcome, Option<Check>) {
    let all = findings(inst, earthing, id);
    let Some(worst) = all.iter().map(|f| f.outcome).max() else {
        return (Outcome::CannotSay, None);
    };
    let first = all.iter().find(|f| f.outcome == worst);
    let check = first.filter(|_| worst > Outcome::Pass).map(|f| f.check);
    (worst, check)
}

/// Whether it passes with a change.
fn passes(case: &Case, change: impl FnOnce(&mut Circuit)) -> bool {
    let mut inst = case.inst.clone();
    let c = &mut inst.circuits[usize::from(case.id.0)];
    change(c);
    c.check().is_ok() && worst(&inst, case.earthing, case.id).0 == Outcome::Pass
}

struct Case {
    name: &'static str,
    inst: House,
    earthing: Earthing,
    id: CircuitId,
}

fn case(name: &'static str, id: u16, change: impl FnOnce(&mut House)) -> Case {
    let mut inst = house();
    change(&mut inst);
    let earthing = inst.supply.earthing.readings()[0];
    let id = CircuitId(id);
    Case {
        name,
        inst,
        earthing,
        id,
    }
}

fn tt(h: &mut House) {
    h.supply.earthing = SupplyEarthing::Known(Earthing::Tt);
    h.supply.fault_level = FaultLevel::Stated(amps(1000.0), Origin::Measured);
    h.supply.ra = Some(ohms(20.0));
    h.supply.ze = None;
}

/// A device that lets through more than its class would, by its maker: only of this one is that known.
fn more_let_through(h: &mut House, family: Family) {
    h.supply.ze = Some(ohms(0.1));
    let c = &mut h.circuits[1];
    // Its energy counts, as the protective conductor is below the size of the table.
    c.sections[0] = section(10.0, 6.0);
    c.sections[0].protective = Protective::Core(copper(4.0));
    c.rcd = family.has_rcd().then(|| rcd(0.03, RcdDelay::None));
    c.device = Device::new(family, amps(16.0))
        .unwrap()
        .with_breaking(amps(10_000.0))
        .with_energy_class_3()
        .with_let_through(AmpSquaredSeconds::new(1e6).unwrap());
}

fn cases() -> Vec<Case> {
    let all = [
        case("as it is", 2, |_| {}),
        case("a feed as it is", 0, |_| {}),
        case("too long", 2, |h| {
            h.circuits[2].sections[0].length = m(130.0);
        }),
        case("a feed too long", 0, |h| {
            h.circuits[0].sections[0].length = m(200.0);
        }),
        case("too thin", 1, |h| {
            h.circuits[1].device = breaker(Curve::B, 32.0);
            h.circuits[1].sections[0] = section(10.0, 1.5);
        }),
        case("grouped", 1, |h| {
            let s = &mut h.circuits[1].sections[0];
            *s = section(10.0, 1.5);
            s.laying.grouped = 4;
        }),
        case("two lengths, both grouped", 1, |h| {
            let mut s = section(10.0, 1.5);
            s.laying.grouped = 4;
            h.circuits[1].sections[0] = s;
            h.circuits[1].sections.push(s).unwrap();
        }),
        case("the second grouped", 1, |h| {
            let mut s = section(10.0, 1.5);
            s.laying.grouped = 4;
            h.circuits[1].sections.push(s).unwrap();
        }),
        case("a curve too slow", 1, |h| {
            h.supply.ze = Some(ohms(1.0));
            h.circuits[1].device = breaker(Curve::C, 16.0);
            h.circuits[1].sections[0].length = m(40.0);
        }),
        case("a curve much too slow", 1, |h| {
            h.supply.ze = Some(ohms(0.5));
            h.circuits[1].device = breaker(Curve::D, 20.0);
        }),
        case("B, by its maker no class 3", 1, |h| {
            more_let_through(h, Family::Breaker(Curve::B))
        }),
        case("C, by its maker no class 3", 1, |h| {
            more_let_through(h, Family::Breaker(Curve::C))
        }),
        case("an RCBO of B", 1, |h| {
            more_let_through(h, Family::Rcbo(Curve::B))
        }),
        case("an RCBO of C", 1, |h| {
            more_let_through(h, Family::Rcbo(Curve::C))
        }),
        case("an electrode", 1, tt),
        case("an electrode, and what is behind", 0, tt),
        case("a poor electrode", 1, |h| {
            tt(h);
            h.supply.ra = Some(ohms(400.0));
        }),
        case("a poor loop", 1, |h| h.supply.ze = Some(ohms(20.0))),
        case("an electrode at the workshop", 0, |h| {
            h.boards[1].earthing = BoardEarthing::OwnElectrode(Some(ohms(100.0)));
            h.circuits[2].rcd = Some(rcd(0.03, RcdDelay::None));
            h.boards[1].enclosure = Some(crate::network::Enclosure::Metal);
        }),
        // What the workshop lacks in bonding is no matter of its feed.
        case("bonding", 0, |h| h.boards[1].extraneous = true),
        case("armour", 0, |h| {
            // 0.683 Ω is the limit: 0.07 Ω of line and 0.15 of steel are too much beside 0.5, a core makes 0.62.
            h.supply.ze = Some(ohms(0.5));
            let s = &mut h.circuits[0].sections[0];
            *s = section(30.0, 10.0);
            s.construction = Construction::Armoured;
            s.insulation = crate::conductor::Insulation::Thermosetting90;
            s.cores = 2;
            s.protective = Protective::Armour(None);
        }),
        case("flat twin", 2, |h| {
            let s = &mut h.circuits[2].sections[0];
            *s = section(40.0, 1.0);
            s.construction = Construction::FlatTwin;
            s.cores = 2;
        }),
        case("a ring", 1, |h| {
            h.circuits[1] = circuit(
                0,
                Use::Sockets,
                breaker(Curve::B, 32.0),
                Some(25.0),
                section(200.0, 1.5),
            );
            h.circuits[1].shape = Shape::Ring;
            h.circuits[1].rcd = Some(rcd(0.03, RcdDelay::None));
        }),
        case("nothing helps", 1, |h| {
            h.circuits[1].load.demand = crate::network::Demand::Derived;
        }),
        case("too hot", 1, |h| {
            h.circuits[1].sections[0].laying.ambient = Celsius::new(65.0).unwrap();
        }),
        case("refused", 2, |h| h.circuits[2].sections[0].cores = 0),
        case("two that fail alike", 1, |h| {
            h.circuits[1].device = breaker(Curve::B, 6.0).with_breaking(amps(600.0));
        }),
        case("just a metre", 1, |h| {
            // 1.37 Ω is what 230 V · 0.95 and 160 A leave.
            h.circuits[1].device = breaker(Curve::C, 16.0);
            h.supply.ze = Some(ohms(1.35));
            h.circuits[1].sections[0].length = m(0.1);
        }),
    ];
    all.into_iter().collect()
}

#[test]
fn each_case_is_judged_and_governed_by_all_its_findings() {
    for c in cases() {
        let all = findings(&c.inst, c.earthing, c.id);
        let came = worst(&c.inst, c.earthing, c.id);
        assert_eq!(judge(&c.inst, c.earthing, c.id), came, "{}", c.name);
        // The least left of what hangs on size and length; else the first.
        let mut least: Option<(f32, &Finding)> = None;
        for f in all.iter().filter(|f| f.outcome == came.0) {
            let sized = matches!(
                f.check,
                Check::Capacity
                    | Check::Overload
                    | Check::VoltDrop
                    | Check::Disconnection
                    | Check::ProtectiveThermal
                    | Check::LineThermal
            );
            let left = f.margin().filter(|_| sized).unwrap_or(f32::INFINITY);
            if least.is_none_or(|(l, _)| left < l) {
                least = Some((left, f));
            }
        }
        let governs = governing(&c.inst, c.earthing, c.id);
        assert_eq!(governs, least.map(|(_, f)| *f), "{}", c.name);
    }
}

#[test]
fn the_smallest_size_and_the_largest_rating_are_those_of_all_that_are_made() {
    let mut found = [0; 2];
    for mut c in cases() {
        let before = c.inst.clone();
        let blocked = match worst(&c.inst, c.earthing, c.id) {
            (outcome, Some(check)) => Unsolved::Blocked(check, outcome),
            (_, None) => Unsolved::NoSuchCircuit,
        };
        let sizes = conductor::made(Material::Copper).iter().copied();
        let fits = |s: &f32| passes(&c, |x| set_csa(x, mm2(*s)));
        let smallest = sizes.into_iter().find(fits);
        let of_device = c.inst.circuits[usize::from(c.id.0)].device;
        let rated = |r: &f32| of_device.with_rating(amps(*r)).unwrap();
        let ratings = Device::ratings(of_device.family()).iter();
        let largest = ratings
            .filter(|r| passes(&c, |x| x.device = rated(r)))
            .fold(None, |most: Option<f32>, r| {
                Some(most.map_or(*r, |m| m.max(*r)))
            });
        found[0] += usize::from(smallest.is_some());
        found[1] += usize::from(largest.is_some());
        assert_eq!(
            smallest_csa(&mut c.inst, c.earthing, c.id),
            smallest.map(mm2).ok_or(blocked),
            "{}",
            c.name
        );
        assert_eq!(
            largest_rating(&mut c.inst, c.earthing, c.id),
            largest.map(|r| rated(&r)).ok_or(blocked),
            "{}",
            c.name
        );
        assert_eq!(c.inst, before, "{}", c.name);
    }
    assert!(found[0] > 10 && found[1] > 10, "{found:?}");
}

/// One step further the length found fails, and so does every longer one that is tried here.
#[test]
fn the_greatest_length_is_the_last_that_passes() {
    let mut found = 0;
    for mut c in cases() {
        let before = c.inst.clone();
        let run = &before.circuits[usize::from(c.id.0)].sections;
        let longest = run.iter().map(|s| s.length.get()).fold(0.0, f32::max);
        let index = run.iter().position(|s| s.length.get() == longest).unwrap();
        let at = |length: f32| passes(&c, |x| x.sections[index].length = Metres::raw(length));
        // By a twentieth from one to the next.
        let grid = (0..425i16).map(|k| Metres::MIN * 1.05f32.powi(k.into()));
        let tried = grid
            .filter(|l| *l <= Metres::MAX && at(*l))
            .fold(0.0, f32::max);
        let shortest = {
            let mut inst = before.clone();
            inst.circuits[usize::from(c.id.0)].sections[index].length = Metres::raw(Metres::MIN);
            worst(&inst, c.earthing, c.id)
        };
        let length = greatest_length(&mut c.inst.clone(), c.earthing, c.id);
        match length {
            Ok((section, length)) => {
                found += 1;
                let length = length.get();
                assert_eq!(usize::from(section), index, "{}", c.name);
                assert!(at(length) && !at(step(length, 1)), "{} {length}", c.name);
                assert!(length >= tried, "{} {length} {tried}", c.name);
            }
            Err(why) => {
                assert_eq!(tried, 0.0, "{}", c.name);
                let (outcome, check) = shortest;
                let blocked = check.map(|check| Unsolved::Blocked(check, outcome));
                assert_eq!(
                    why,
                    blocked.unwrap_or(Unsolved::NoSuchCircuit),
                    "{}",
                    c.name
                );
            }
        }
        let _ = greatest_length(&mut c.inst, c.earthing, c.id);
        assert_eq!(c.inst, before, "{}", c.name);
    }
    assert!(found >= 10, "{found}");
}

/// A feed so short that the devices behind it can't break the current, and soon so long that they get too little
/// voltage: lengths that are good lie close together, and the one there is among them.
#[test]
fn the_present_length_is_tried_too() {
    const PRESENT: [f32; 5] = [7.2, 9.3, 11.0, 13.0, 16.0];
    let with = |length: f32, breaking: f32, drop: f32| {
        let mut h = house();
        h.profile.drop_other = drop;
        h.circuits[2].device = h.circuits[2].device.with_breaking(amps(breaking));
        h.circuits[0].sections[0].length = m(length);
        h
    };
    let feed = CircuitId(0);
    let good = |h: &House| worst(h, Earthing::TnCS, feed).0 == Outcome::Pass;
    for present in PRESENT {
        // From there to a tenth more is good: cmax·U0 over the loop when cold, and 24 A there and back when hot.
        let current = |l: f32| 253.0 / (0.2 + 2.0 * 1.83e-3 * l);
        let drop = |l: f32| 24.0 * 1.2 * (1.83e-3 * l + 7.41e-3 * 15.0) / 230.0;
        let of = |l: f32| with(l, current(0.99 * present), drop(1.1 * present));
        assert!(!good(&of(0.98 * present)) && !good(&of(1.12 * present)));
        let mut h = of(present);
        assert!(good(&h));
        let (section, length) = greatest_length(&mut h, Earthing::TnCS, feed).unwrap();
        assert_eq!(section, 0);
        assert!(length.get() > 1.09 * present && length.get() < 1.11 * present);
        assert!(good(&of(length.get())) && !good(&of(step(length.get(), 1))));
    }
    // Some of them lie where no other length is tried.
    let tried = core::iter::successors(Some(Metres::MAX), |l| Some(l / STRIDE));
    let apart = |p: &&f32| {
        let near = |l: f32| l > 0.98 * **p && l < 1.12 * **p;
        !tried.clone().take(60).any(near)
    };
    assert!(PRESENT.iter().filter(apart).count() >= 2);
}

#[test]
fn the_longest_is_of_the_run_and_the_first_of_its_length() {
    let mut h = house();
    let c = &mut h.circuits[1];
    c.sections.clear();
    assert_eq!(longest(c), None);
    for (length, part) in [
        (30.0, Part::Spur),
        (10.0, Part::Run),
        (20.0, Part::Run),
        (20.0, Part::Run),
        (5.0, Part::Run),
    ] {
        let mut s = section(length, 2.5);
        s.part = part;
        c.sections.push(s).unwrap();
    }
    assert_eq!(longest(c), Some((2, 20.0)));
    c.sections[2].part = Part::Spur;
    assert_eq!(longest(c), Some((3, 20.0)));
}

#[test]
fn the_material_is_that_of_all() {
    let mut h = house();
    let c = &mut h.circuits[1];
    c.sections.push(section(5.0, 16.0)).unwrap();
    assert_eq!(material(c), Some(Material::Copper));
    c.sections[1].material = Material::Aluminium;
    assert_eq!(material(c), None);
    c.sections[0].material = Material::Aluminium;
    assert_eq!(material(c), Some(Material::Aluminium));
    c.sections.clear();
    assert_eq!(material(c), None);
}

#[test]
fn what_goes_with_the_line_conductor_goes_with_it() {
    let mut h = house();
    let c = &mut h.circuits[1];
    let cores = [
        (
            Construction::Multicore,
            Protective::Core(copper(2.5)),
            Protective::Core(copper(10.0)),
        ),
        // A smaller one stays; one apart from the cable stays.
        (
            Construction::Multicore,
            Protective::Core(copper(1.5)),
            Protective::Core(copper(1.5)),
        ),
        (
            Construction::SingleCores,
            Protective::Separate(copper(2.5)),
            Protective::Separate(copper(2.5)),
        ),
        (
            Construction::FlatTwin,
            Protective::Core(copper(1.5)),
            Protective::Core(copper(4.0)),
        ),
        (
            Construction::Armoured,
            Protective::ArmourAndCore(None, copper(2.5)),
            Protective::ArmourAndCore(None, copper(10.0)),
        ),
    ];
    for (construction, from, to) in cores {
        for (neutral, after) in [
            (None, None),
            (Some(2.5), Some(10.0)),
            (Some(1.5), Some(1.5)),
        ] {
            let mut s = section(10.0, 2.5);
            (s.construction, s.protective, s.neutral) = (construction, from, neutral.map(mm2));
            c.sections.clear();
            c.sections.push(section(3.0, 4.0)).unwrap();
            c.sections.push(s).unwrap();
            set_csa(c, mm2(10.0));
            assert_eq!(c.sections[0], section(3.0, 10.0));
            let now = &c.sections[1];
            assert_eq!(
                (now.csa, now.protective),
                (mm2(10.0), to),
                "{construction:?}"
            );
            assert_eq!(now.neutral, after.map(mm2), "{construction:?}");
        }
    }
}

#[test]
fn a_change_changes_what_it_says_and_nothing_else() {
    let mut armoured = section(10.0, 2.5);
    armoured.protective = Protective::Armour(None);
    armoured.laying.grouped = 3;
    let mut grouped = section(20.0, 2.5);
    grouped.laying.grouped = 3;
    let mut before = house().circuits[1].clone();
    before.sections.clear();
    before.sections.push(armoured).unwrap();
    before.sections.push(grouped).unwrap();
    let after = |change| {
        let mut c = before.clone();
        apply(&mut c, &change);
        c
    };
    let hoped = |change: &dyn Fn(&mut Circuit)| {
        let mut c = before.clone();
        change(&mut c);
        c
    };
    assert_eq!(
        after(Change::Csa(mm2(6.0))),
        hoped(&|c| set_csa(c, mm2(6.0)))
    );
    let other = breaker(Curve::C, 10.0);
    assert_eq!(after(Change::Device(other)), hoped(&|c| c.device = other));
    let one = rcd(0.03, RcdDelay::None);
    assert_eq!(after(Change::Rcd(one)), hoped(&|c| c.rcd = Some(one)));
    assert_eq!(
        after(Change::Length(1, m(7.0))),
        hoped(&|c| c.sections[1].length = m(7.0))
    );
    assert_eq!(
        after(Change::Ungrouped(1)),
        hoped(&|c| c.sections[1].laying.grouped = 1)
    );
    assert_eq!(
        after(Change::CoreBesideArmour(mm2(6.0))),
        hoped(&|c| c.sections[0].protective = Protective::ArmourAndCore(None, copper(6.0)))
    );
    for nowhere in [Change::Length(2, m(1.0)), Change::Ungrouped(2)] {
        assert_eq!(after(nowhere), before);
    }
}

/// Every single change, found by trying all.
fn all_changes(c: &Case) -> Vec<Change> {
    let mut out = Vec::new();
    if passes(c, |_| {}) {
        return out;
    }
    let own = &c.inst.circuits[usize::from(c.id.0)];
    let good = |change: &Change| passes(c, |x| apply(x, change));
    let sizes = conductor::made(Material::Copper).iter();
    let one_of = |all: &[Change]| all.iter().find(|x| good(x)).copied();
    let sizes: Vec<f32> = sizes.copied().collect();
    let of = |what: &dyn Fn(f32) -> Change| {
        let all: Vec<Change> = sizes.iter().map(|s| what(*s)).collect();
        one_of(&all)
    };
    out.extend(of(&|s| Change::Csa(mm2(s))));
    let ratings = Device::ratings(own.device.family()).iter().rev();
    let rated = |r: &f32| Change::Device(own.device.with_rating(amps(*r)).unwrap());
    out.extend(one_of(&ratings.map(rated).collect::<Vec<_>>()));
    let curves: &[Family] = match own.device.family() {
        Family::Breaker(Curve::B) => &[Family::Breaker(Curve::C)],
        Family::Breaker(Curve::C) => &[Family::Breaker(Curve::B)],
        Family::Breaker(_) => &[Family::Breaker(Curve::B), Family::Breaker(Curve::C)],
        Family::Rcbo(Curve::B) => &[Family::Rcbo(Curve::C)],
        Family::Rcbo(Curve::C) => &[Family::Rcbo(Curve::B)],
        Family::Rcbo(_) => &[Family::Rcbo(Curve::B), Family::Rcbo(Curve::C)],
        _ => &[],
    };
    let curved = |f: &Family| Change::Device(own.device.with_family(*f).unwrap());
    out.extend(one_of(&curves.iter().map(curved).collect::<Vec<_>>()));
    let rcds = [
        rcd(0.3, RcdDelay::Selective),
        rcd(0.1, RcdDelay::Selective),
        rcd(0.3, RcdDelay::None),
        rcd(0.1, RcdDelay::None),
        rcd(0.03, RcdDelay::None),
    ];
    out.extend(one_of(&rcds.map(Change::Rcd)));
    if own
        .sections
        .iter()
        .any(|s| matches!(s.protective, Protective::Armour(_)))
    {
        out.extend(of(&|s| Change::CoreBesideArmour(mm2(s))));
    }
    for (k, s) in (0..).zip(&own.sections) {
        if s.laying.grouped != 1 {
            out.extend(one_of(&[Change::Ungrouped(k)]));
        }
    }
    if own.shape == Shape::Radial {
        if let Ok((k, l)) = greatest_length(&mut c.inst.clone(), c.earthing, c.id) {
            out.push(Change::Length(k, l));
        }
    }
    out
}

#[test]
fn every_change_that_makes_it_pass_is_told_and_no_other() {
    let mut kinds = [0; 7];
    for mut c in cases() {
        let before = c.inst.clone();
        let hoped = all_changes(&c);
        let mut told = Vec::new();
        changes(&mut c.inst, c.earthing, c.id, |change| told.push(change));
        assert_eq!(told, hoped, "{}", c.name);
        assert_eq!(c.inst, before, "{}", c.name);
        for change in told {
            let own = before.circuits[usize::from(c.id.0)].device.family();
            kinds[match change {
                Change::Csa(_) => 0,
                Change::Device(d) if d.family() == own => 1,
                Change::Device(_) => 2,
                Change::Rcd(_) => 3,
                Change::Length(..) => 4,
                Change::Ungrouped(_) => 5,
                Change::CoreBesideArmour(_) => 6,
            }] += 1;
        }
    }
    assert!(kinds.iter().all(|n| *n > 0), "{kinds:?}");
}

#[test]
fn what_is_not_there_has_no_answer() {
    let mut h = house();
    let (tn, id) = (Earthing::TnCS, CircuitId(7));
    let none = Unsolved::NoSuchCircuit;
    assert_eq!(judge(&h, tn, id), (Outcome::CannotSay, None));
    assert_eq!(governing(&h, tn, id), None);
    assert_eq!(smallest_csa(&mut h, tn, id), Err(none));
    assert_eq!(largest_rating(&mut h, tn, id), Err(none));
    assert_eq!(greatest_length(&mut h, tn, id), Err(none));
    changes(&mut h, tn, id, |change| panic!("{change:?}"));
}
