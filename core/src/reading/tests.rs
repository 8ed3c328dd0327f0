//! Readings against a design: what the modules say together.

use super::interval::{Accuracy, Function, Shown};
use super::sequence::{self, Done, Energise, Next, Note, Site, Step, Steps, Stop};
use super::{
    Design, Judged, Lacking, Meaning, Rule, Side, Suspects, continuity, fault_loop, rcd, ring,
    volt_drop,
};
use crate::assess::assess_circuit;
use crate::cable::{Arrangement, Construction, Laying, Method};
use crate::conductor::{Insulation, Material};
use crate::device::{Curve, Device, Family, Rcd, RcdDelay, RcdType};
use crate::facts::CircuitFacts;
use crate::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Installation, Load, Part, Phase,
    Protective, Section, Shape, Use,
};
use crate::profile::{LoadClass, Profile};
use crate::quantity::{Amps, Celsius, Metres, Ohms, Ratio, SquareMm, Volts};
use crate::source::Source;
use crate::supply::{Conductor, Earthing, FaultLevel, Origin, Phases, Supply, SupplyEarthing};
use crate::verdict::{Check, Finding, Outcome, Recorder, Worst};
use proptest::prelude::*;
use std::vec::Vec;

fn supply(ze: Option<f32>) -> Supply {
    Supply {
        u0: Volts::new(230.0).unwrap(),
        phases: Phases::Single,
        earthing: SupplyEarthing::Known(Earthing::TnCS),
        ze: ze.map(|z| Ohms::new(z).unwrap()),
        ze_origin: Origin::Measured,
        ra: None,
        fault_level: FaultLevel::FromZe,
        x_over_r: Some(Ratio::new(0.0).unwrap()),
        device: None,
        neutral: None,
        tails: None,
        earthing_conductor: None,
        extraneous: false,
        bonding: None,
    }
}

fn conductor(csa: f32) -> Conductor {
    Conductor {
        material: Material::Copper,
        csa: SquareMm::new(csa).unwrap(),
    }
}

fn section(length: f32, csa: f32, cpc: f32) -> Section {
    Section {
        length: Metres::new(length).unwrap(),
        part: Part::Run,
        spur_fuse: None,
        material: Material::Copper,
        csa: SquareMm::new(csa).unwrap(),
        neutral: None,
        insulation: Insulation::Thermoplastic70,
        construction: Construction::Multicore,
        cores: 3,
        operating_limit: None,
        protective: Protective::Core(conductor(cpc)),
        laying: Laying {
            method: Method::Clipped,
            ambient: Celsius::new(30.0).unwrap(),
            grouped: 1,
            arrangement: Arrangement::Bunched,
            soil: None,
            depth: None,
            insulation_run: None,
        },
    }
}

fn armoured(length: f32, csa: f32, cores: u8, protective: Protective) -> Section {
    Section {
        insulation: Insulation::Thermosetting90,
        construction: Construction::Armoured,
        cores,
        protective,
        ..section(length, csa, csa)
    }
}

fn circuit(sections: &[Section]) -> Circuit {
    Circuit {
        board: BoardId(0),
        phase: Phase::L1,
        shape: Shape::Radial,
        device: Device::new(Family::Breaker(Curve::B), Amps::new(32.0).unwrap())
            .unwrap()
            .with_breaking(Amps::new(6000.0).unwrap())
            .with_energy_class_3(),
        rcd: None,
        purpose: Use::Fixed,
        outdoors: false,
        bath: false,
        concealed: false,
        dwelling: false,
        load: Load {
            demand: Demand::Current(Amps::new(20.0).unwrap()),
            power_factor: Ratio::new(1.0).unwrap(),
            class: LoadClass::Other,
            points: 1,
        },
        sections: heapless::Vec::from_slice(sections).unwrap(),
    }
}

struct Bench {
    profile: Profile,
    source: Source,
    circuit: Circuit,
    facts: CircuitFacts,
}

impl Bench {
    fn new(circuit: Circuit, supply: &Supply, earthing: Earthing) -> Self {
        let profile = Profile::IEC;
        let source = Source::at_origin(supply, earthing, &profile);
        let (_, facts) =
            assess_circuit(&profile, &source, &circuit, None, &mut Worst(Outcome::Pass)).unwrap();
        Self {
            profile,
            source,
            circuit,
            facts,
        }
    }

    fn tn(circuit: Circuit) -> Self {
        Self::new(circuit, &supply(Some(0.2)), Earthing::TnCS)
    }

    fn at(&self, ambient: f32) -> Design<'_> {
        Design {
            profile: &self.profile,
            source: &self.source,
            circuit: &self.circuit,
            facts: &self.facts,
            ambient: Celsius::new(ambient).unwrap(),
        }
    }
}

fn fine() -> Accuracy {
    Accuracy::new(0.02, 2.0, 0.01).unwrap()
}

fn near(a: f32, b: f32, rel: f32) {
    assert!((a - b).abs() <= rel * b.abs(), "{a} is not {b}");
}

/// As [`radial`], with an RCD.
fn behind_30_ma(metres: f32) -> Circuit {
    Circuit {
        rcd: Some(residual(0.03, RcdType::A, RcdDelay::None)),
        ..circuit(&[section(metres, 4.0, 1.5)])
    }
}

/// Keeps the finding of disconnection.
struct Told<'a>(&'a mut Option<Finding>);

impl Recorder for Told<'_> {
    fn finding(&mut self, f: &Finding) {
        if f.check == Check::Disconnection {
            *self.0 = Some(*f);
        }
    }
}

fn radial() -> Bench {
    Bench::tn(circuit(&[section(30.0, 4.0, 1.5)]))
}

#[test]
fn the_design_at_20_degrees_is_the_cold_one() {
    for sections in [
        std::vec![section(30.0, 4.0, 1.5)],
        std::vec![
            section(30.0, 4.0, 1.5),
            Section {
                part: Part::Spur,
                ..section(5.0, 2.5, 1.5)
            }
        ],
        std::vec![armoured(40.0, 10.0, 2, Protective::Armour(None))],
        std::vec![armoured(
            40.0,
            25.0,
            3,
            Protective::ArmourAndCore(None, conductor(10.0))
        )],
    ] {
        for shape in [Shape::Radial, Shape::Ring] {
            let b = Bench::tn(Circuit {
                shape,
                ..circuit(&sections)
            });
            near(b.at(20.0).r1r2().unwrap(), b.facts.r1r2_cold.unwrap(), 2e-6);
            // Warmer is more, and never more than hot.
            assert!(b.at(30.0).r1r2() > b.at(20.0).r1r2());
            assert!(b.at(10.0).hot_factor() > b.at(20.0).hot_factor());
            near(
                b.at(20.0).r1().unwrap() + b.at(20.0).r2().unwrap(),
                b.at(20.0).r1r2().unwrap(),
                1e-6,
            );
        }
    }
}

#[test]
fn a_reading_as_designed_gives_the_zs_of_the_design() {
    let b = radial();
    let d = b.at(20.0);
    let hot = d.zs_hot(d.zs().unwrap()).unwrap();
    // The design has 1.2 for the exact 1.1965.
    near(hot, b.facts.zs.unwrap(), 0.003);
    assert!(hot <= b.facts.zs.unwrap());
    // Only the conductors warm: 0.2 Ω of the supply stay.
    let own = 0.030 * (4.61 + 12.1);
    near(d.zs().unwrap(), 0.2 + own, 1e-5);
    near(hot, 0.2 + own * 304.5 / 254.5, 1e-5);
}

#[test]
fn the_limit_is_that_of_the_check() {
    let b = radial();
    let max = b.at(20.0).max_zs().unwrap();
    near(max.limit, 230.0 * 0.95 / 160.0, 1e-6);
    assert!(!max.by_rcd && max.of_rcd.is_none());
    // The RCD counts only where the design needs it: metres, Ze, earthing, and whether it is the RCD's.
    for (metres, ze, earthing, by_rcd) in [
        (30.0, Some(0.2), Earthing::TnCS, false),
        (60.0, Some(0.2), Earthing::TnCS, true),
        (30.0, Some(100.0), Earthing::Tt, true),
        // Not known: what is usual for the earthing.
        (30.0, None, Earthing::TnCS, false),
        (30.0, None, Earthing::Tt, true),
    ] {
        let mut s = supply(ze);
        s.ra = if earthing == Earthing::Tt {
            ze.map(|z| Ohms::new(z).unwrap())
        } else {
            None
        };
        let b = Bench::new(behind_30_ma(metres), &s, earthing);
        assert_eq!(b.facts.zs.is_some(), ze.is_some());
        let max = b.at(20.0).max_zs().unwrap();
        assert_eq!(max.by_rcd, by_rcd, "{metres} {ze:?} {earthing:?}");
        near(max.of_device.unwrap(), 230.0 * 0.95 / 160.0, 1e-6);
        assert!(max.of_rcd.unwrap() > 1000.0);
        let own = if by_rcd { max.of_rcd } else { max.of_device };
        assert_eq!(Some(max.limit), own);
        let mut told = None;
        let _ = assess_circuit(
            &b.profile,
            &b.source,
            &b.circuit,
            None,
            &mut Told(&mut told),
        );
        assert_eq!(told.unwrap().limit, Some(max.limit));
    }
}

#[test]
fn an_rcd_moves_no_limit_the_device_keeps() {
    let (with, without) = (Bench::tn(behind_30_ma(30.0)), radial());
    let (d, e) = (with.at(12.0), without.at(12.0));
    assert_eq!(d.max_r1r2(), e.max_r1r2());
    assert_eq!(d.max_ze(), e.max_ze());
    let read = |shown| {
        (
            fault_loop::zs(&d, shown, &fine()),
            fault_loop::zs(&e, shown, &fine()),
        )
    };
    for v in [0.3, 0.7, 1.05, 1.17] {
        let (a, b) = read(Shown::Value(v));
        assert_eq!(a, b);
        assert!(a.quick.is_some() && a.meaning != Meaning::OnlyRcd);
    }
    for v in [1.3, 20.0, 4000.0] {
        let (a, b) = read(Shown::Value(v));
        assert_eq!((a.outcome, a.meaning), (Outcome::Fail, Meaning::OnlyRcd));
        assert_eq!((b.outcome, b.meaning), (Outcome::Fail, Meaning::Beyond));
    }
    // Perhaps too much for the RCD as well.
    for shown in [
        Shown::Value(5850.0),
        Shown::Value(7000.0),
        Shown::Above(20.0),
    ] {
        let (a, _) = read(shown);
        assert_eq!((a.outcome, a.meaning), (Outcome::Fail, Meaning::Beyond));
    }
    // The design that needs the RCD may read what the RCD allows.
    let b = Bench::tn(behind_30_ma(60.0));
    let j = fault_loop::zs(&b.at(20.0), Shown::Value(1.3), &fine());
    assert_eq!(
        (j.outcome, j.rule, j.quick),
        (Outcome::Pass, Rule::MaxZsRcd, None)
    );
}

#[test]
fn the_largest_r1r2_just_reaches_the_largest_zs() {
    for x in [Some(0.0), Some(0.5), None] {
        let mut s = supply(Some(0.3));
        s.x_over_r = x.map(|x| Ratio::new(x).unwrap());
        let b = Bench::new(circuit(&[section(30.0, 4.0, 1.5)]), &s, Earthing::TnCS);
        let d = b.at(12.0);
        let r = d.max_r1r2().unwrap() * d.hot_factor().unwrap();
        let z = b
            .source
            .loop_external
            .unwrap()
            .largest_with(crate::impedance::Z { r, x: 0.0 });
        near(z, d.max_zs().unwrap().limit, 1e-5);
    }
    // No room beside the supply.
    let b = Bench::new(
        circuit(&[section(30.0, 4.0, 1.5)]),
        &supply(Some(5.0)),
        Earthing::TnCS,
    );
    assert_eq!(b.at(20.0).max_r1r2(), Some(0.0));
    let j = continuity::r1r2(&b.at(20.0), Shown::Value(0.5), &fine());
    assert_eq!(j.outcome, Outcome::Fail);
}

#[test]
fn continuity_beside_the_design() {
    let b = radial();
    let d = b.at(20.0);
    let expected = 0.030 * (4.61 + 12.1); // 0.5013
    let good = continuity::r1r2(&d, Shown::Value(0.49), &fine());
    assert_eq!(
        (good.outcome, good.meaning, good.rule),
        (Outcome::Pass, Meaning::Clear, Rule::MaxR1R2)
    );
    near(good.compared.unwrap().expected, expected, 1e-5);
    assert_eq!(good.compared.unwrap().side, Side::Within);
    // Within the limit (about 0.97 Ω), but half as much again: not a pass.
    let high = continuity::r1r2(&d, Shown::Value(0.80), &fine());
    assert_eq!(
        (high.outcome, high.meaning),
        (Outcome::Doubtful, Meaning::AboveDesign)
    );
    assert!(high.suspects.contains(Suspects::LOOSE_JOINT));
    let low = continuity::r1r2(&d, Shown::Value(0.20), &fine());
    assert_eq!(
        (low.outcome, low.meaning),
        (Outcome::Doubtful, Meaning::BelowDesign)
    );
    assert!(low.suspects.contains(Suspects::PARALLEL_PATH));
    let bad = continuity::r1r2(&d, Shown::Value(1.5), &fine());
    assert_eq!(bad.outcome, Outcome::Fail);
    let open = continuity::r1r2(&d, Shown::Above(1999.0), &fine());
    assert_eq!((open.outcome, open.meaning), (Outcome::Fail, Meaning::Open));
    let minus = continuity::r1r2(&d, Shown::Value(-0.4), &fine());
    assert_eq!(
        (minus.outcome, minus.meaning),
        (Outcome::CannotSay, Meaning::NotBelievable)
    );
    let zero = continuity::r1r2(&d, Shown::Value(0.0), &fine());
    assert_ne!(zero.outcome, Outcome::Pass);
}

#[test]
fn open_is_open_though_an_rcd_would_allow_much() {
    let b = Bench::tn(behind_30_ma(60.0));
    assert!(b.at(20.0).max_r1r2().unwrap() > 1000.0);
    let j = continuity::r1r2(&b.at(20.0), Shown::Above(20.0), &fine());
    assert_eq!((j.outcome, j.meaning), (Outcome::Fail, Meaning::Open));
}

#[test]
fn a_wrong_size_is_named_by_its_ratio() {
    let b = Bench::tn(circuit(&[section(40.0, 2.5, 2.5)]));
    let d = b.at(20.0);
    // 1.5 mm² throughout: 12.1 for 7.41 Ω/km.
    let j = continuity::r1r2(&d, Shown::Value(0.97), &fine());
    assert!(j.suspects.contains(Suspects::SMALLER_SIZE), "{j:?}");
    // A third more is no size.
    let j = continuity::r1r2(&d, Shown::Value(2.0), &fine());
    assert!(!j.suspects.contains(Suspects::SMALLER_SIZE), "{j:?}");
    let (r1, r2) = (d.r1().unwrap(), d.r2().unwrap());
    let which = |a: f32, b: f32| continuity::which(&d, a, b, &fine());
    assert_eq!(which(r1 + r2, r2), Suspects::empty());
    assert_eq!(
        which(1.5 * (r1 + r2), 1.5 * r2),
        Suspects::LINE | Suspects::PROTECTIVE | Suspects::LONGER | Suspects::SMALLER_SIZE
    );
    assert_eq!(
        which(r1 + r2 + 0.5, r2),
        Suspects::LINE | Suspects::LOOSE_JOINT | Suspects::SMALLER_SIZE
    );
    assert_eq!(
        which(r1 + 0.3 * r2, 0.3 * r2),
        Suspects::PROTECTIVE | Suspects::PARALLEL_PATH | Suspects::LARGER_SIZE
    );
}

#[test]
fn armour() {
    // 3.7 Ω/km of 25 mm² with two cores.
    let b = Bench::tn(circuit(&[armoured(
        50.0,
        25.0,
        2,
        Protective::Armour(None),
    )]));
    let d = b.at(20.0);
    near(d.armour().unwrap(), 0.185, 1e-5);
    let j = continuity::armour(&d, Shown::Value(0.18), &fine());
    assert_eq!((j.outcome, j.rule), (Outcome::Pass, Rule::MaxR2));
    // Beside a core it has the band alone.
    let b = Bench::tn(circuit(&[armoured(
        50.0,
        25.0,
        3,
        Protective::Core(conductor(16.0)),
    )]));
    let j = continuity::armour(&b.at(20.0), Shown::Value(0.12), &fine());
    assert_eq!((j.outcome, j.rule), (Outcome::Pass, Rule::DesignBand));
    let j = continuity::armour(&b.at(20.0), Shown::Value(5.0), &fine());
    assert_eq!(j.outcome, Outcome::Fail);
    // No armour, no figure.
    let j = continuity::armour(&radial().at(20.0), Shown::Value(0.1), &fine());
    assert_eq!(
        (j.outcome, j.lacking),
        (Outcome::CannotSay, Lacking::ARMOUR)
    );
}

#[test]
fn bonding() {
    let ambient = Celsius::new(20.0).unwrap();
    let length = Metres::new(20.0).unwrap();
    let c = conductor(10.0);
    near(
        continuity::bonding_limit(c, length, ambient).unwrap(),
        0.0866,
        1e-3,
    );
    let read = |v, m: &Accuracy| continuity::bonding(c, length, ambient, Shown::Value(v), m);
    assert_eq!(read(0.04, &fine()).unwrap().outcome, Outcome::Pass);
    assert_eq!(read(0.20, &fine()).unwrap().outcome, Outcome::Fail);
    // What the standard allows an instrument tells nothing so low.
    let worst = Accuracy::standard(Function::LowResistance);
    assert_eq!(read(0.04, &worst).unwrap().outcome, Outcome::Doubtful);
    assert_eq!(
        read(0.04, &worst).unwrap().quick.unwrap().outcome,
        Outcome::Pass
    );
    let odd = conductor(11.0);
    assert!(continuity::bonding(odd, length, ambient, Shown::Value(0.04), &fine()).is_err());
    let s =
        |v| continuity::supplementary(Volts::raw(50.0), Amps::raw(160.0), Shown::Value(v), &fine());
    near(s(0.1).limit.unwrap(), 0.3125, 1e-6);
    assert_eq!(s(0.1).outcome, Outcome::Pass);
    assert_eq!(s(0.31).outcome, Outcome::Doubtful);
}

#[test]
fn zs_read_cold() {
    let b = radial();
    let d = b.at(20.0);
    let limit = d.zs_cold(d.max_zs().unwrap().limit).unwrap();
    // 1.3656 Ω hot, 0.2 Ω of it the supply's.
    near(limit, 0.2 + (1.365_625 - 0.2) * 254.5 / 304.5, 1e-4);
    let read = |v| fault_loop::zs(&d, Shown::Value(v), &fine());
    let good = read(0.70);
    assert_eq!((good.outcome, good.rule), (Outcome::Pass, Rule::MaxZs));
    assert_eq!(good.quick.unwrap().outcome, Outcome::Pass);
    near(good.quick.unwrap().limit, 0.8 * 1.365_625, 1e-6);
    assert_eq!(read(1.17).outcome, Outcome::Doubtful);
    assert_eq!(read(1.40).outcome, Outcome::Fail);
    // Below the limit, surely above the design.
    assert_eq!(read(1.05).meaning, Meaning::AboveDesign);
    // The rule of thumb and the design may differ: then both are seen.
    let cold = b.at(40.0);
    let j = fault_loop::zs(&cold, Shown::Value(1.11), &fine());
    assert_eq!(j.quick.unwrap().outcome, Outcome::Fail);
    // A parallel path is a finding, and no fault of the loop.
    let low = read(0.30);
    assert_eq!(low.outcome, Outcome::Pass);
    assert!(low.suspects.contains(Suspects::PARALLEL_PATH));
    // Ze not known: all of it warms.
    let b = Bench::new(b.circuit.clone(), &supply(None), Earthing::TnCS);
    let j = fault_loop::zs(&b.at(20.0), Shown::Value(0.7), &fine());
    near(j.limit.unwrap(), 1.365_625 * 254.5 / 304.5, 1e-4);
    assert!(j.lacking.contains(Lacking::ZE));
    assert_eq!(j.outcome, Outcome::Pass);
}

#[test]
fn ze_and_fault_current() {
    let b = radial();
    let room = b.at(20.0).max_ze().unwrap();
    near(room, 1.365_625 - 0.030 * (4.61 + 12.1) * 1.2, 1e-4);
    let j = fault_loop::ze(Shown::Value(0.25), &fine(), Some(room), Some(0.2));
    assert_eq!(j.outcome, Outcome::Pass);
    assert_eq!(
        fault_loop::ze(Shown::Value(0.25), &fine(), None, None).outcome,
        Outcome::CannotSay
    );
    let amps = Accuracy::new(0.05, 0.0, 10.0).unwrap();
    let read = fault_loop::Currents {
        line_neutral: Some(Shown::Value(1200.0)),
        line_earth: Some(Shown::Value(1100.0)),
        three_phase: None,
        phases_three: false,
    };
    let judge = |r: &fault_loop::Currents, breaking| {
        fault_loop::fault_current(r, &amps, Some(breaking), 1.1, None)
    };
    assert_eq!(judge(&read, 6000.0).outcome, Outcome::Pass);
    assert_eq!(judge(&read, 1300.0).outcome, Outcome::Doubtful);
    assert_eq!(judge(&read, 1000.0).outcome, Outcome::Fail);
    // Twice, where three phases reach it.
    let three = fault_loop::Currents {
        phases_three: true,
        ..read
    };
    assert_eq!(judge(&three, 3000.0).value, Some(2400.0));
    assert_eq!(judge(&three, 2600.0).outcome, Outcome::Doubtful);
    // One way only is not enough.
    let half = fault_loop::Currents {
        line_earth: None,
        ..read
    };
    assert_eq!(judge(&half, 6000.0).outcome, Outcome::CannotSay);
    // A share of the impedance is more of the current.
    let worst = Accuracy::standard(Function::Loop);
    let i = fault_loop::fault_current(&read, &worst, Some(6000.0), 1.1, None)
        .interval
        .unwrap();
    near(i.high.unwrap(), 1200.0 / 0.7, 1e-4);
    // More than the design was made for.
    let j = fault_loop::fault_current(&read, &amps, Some(6000.0), 1.1, Some(900.0));
    assert_eq!(
        (j.outcome, j.meaning),
        (Outcome::Doubtful, Meaning::AboveDesign)
    );
}

fn residual(amps: f32, kind: RcdType, delay: RcdDelay) -> Rcd {
    Rcd::new(Amps::new(amps).unwrap(), kind, delay).unwrap()
}

#[test]
fn rcd_times() {
    use rcd::{Multiple, Wave};
    let general = residual(0.03, RcdType::A, RcdDelay::None);
    let s = residual(0.1, RcdType::A, RcdDelay::Selective);
    let m = Accuracy::new(0.02, 2.0, 0.001).unwrap();
    let at = |r, multiple, v| rcd::time(r, Wave::Sine, multiple, Shown::Value(v), &m);
    for (multiple, latest) in [
        (Multiple::One, 0.3),
        (Multiple::Two, 0.15),
        (Multiple::Five, 0.04),
    ] {
        assert_eq!(rcd::latest(&general, multiple), Some(latest));
        assert_eq!(at(&general, multiple, 0.8 * latest).outcome, Outcome::Pass);
        assert_eq!(at(&general, multiple, latest).outcome, Outcome::Doubtful);
        let late = at(&general, multiple, 1.2 * latest);
        assert_eq!(
            (late.outcome, late.meaning),
            (Outcome::Fail, Meaning::TooLate)
        );
        let none = rcd::time(&general, Wave::Sine, multiple, Shown::Above(latest), &m);
        assert_eq!(
            (none.outcome, none.meaning),
            (Outcome::Fail, Meaning::NoTrip)
        );
        let early = rcd::time(&general, Wave::Sine, multiple, Shown::Above(0.02), &m);
        assert_eq!(early.outcome, Outcome::CannotSay);
    }
    for (multiple, earliest, latest) in [
        (Multiple::One, 0.13, 0.5),
        (Multiple::Two, 0.06, 0.2),
        (Multiple::Five, 0.05, 0.15),
    ] {
        assert_eq!(rcd::earliest(&s, multiple), Some(earliest));
        assert_eq!(rcd::latest(&s, multiple), Some(latest));
        assert_eq!(
            at(&s, multiple, 0.5 * (earliest + latest)).outcome,
            Outcome::Pass
        );
        let soon = at(&s, multiple, 0.5 * earliest);
        assert_eq!(
            (soon.outcome, soon.meaning),
            (Outcome::Fail, Meaning::TooSoon)
        );
        assert_eq!(at(&s, multiple, earliest).outcome, Outcome::Doubtful);
    }
    // The standard's share is of the limit: 30 ms at 300 ms, however short the reading.
    let worst = Accuracy::standard(Function::RcdTime);
    let near = |v| rcd::time(&general, Wave::Sine, Multiple::One, Shown::Value(v), &worst);
    assert_eq!(near(0.268).outcome, Outcome::Pass);
    assert_eq!(near(0.272).outcome, Outcome::Doubtful);
    let half = |shown| rcd::time(&general, Wave::Sine, Multiple::Half, shown, &m);
    assert_eq!(half(Shown::Above(2.0)).outcome, Outcome::Pass);
    assert_eq!(half(Shown::Above(0.1)).meaning, Meaning::TestTooShort);
    assert_eq!(half(Shown::Value(0.05)).meaning, Meaning::TrippedAtHalf);
}

#[test]
fn rcd_currents() {
    use rcd::{Multiple, Wave, responds, test_current};
    let ac = residual(0.03, RcdType::Ac, RcdDelay::None);
    let a = residual(0.03, RcdType::A, RcdDelay::None);
    let small = residual(0.01, RcdType::A, RcdDelay::None);
    let b = residual(0.03, RcdType::B, RcdDelay::None);
    let of = |r, wave, multiple| test_current(r, wave, multiple);
    assert_eq!(of(&a, Wave::Sine, Multiple::Five), Some(0.15));
    assert_eq!(of(&a, Wave::Half, Multiple::One), Some(0.042));
    assert_eq!(of(&a, Wave::Half, Multiple::Five), Some(0.21));
    assert_eq!(of(&a, Wave::Half, Multiple::Half), Some(0.0105));
    assert_eq!(of(&small, Wave::Half, Multiple::One), Some(0.02));
    assert_eq!(of(&b, Wave::Smooth, Multiple::One), Some(0.06));
    assert_eq!(of(&b, Wave::Smooth, Multiple::Half), Some(0.015));
    assert_eq!(of(&ac, Wave::Half, Multiple::One), None);
    assert_eq!(of(&a, Wave::Smooth, Multiple::One), None);
    assert!(responds(RcdType::F, Wave::Half) && !responds(RcdType::F, Wave::Smooth));
    let m = Accuracy::new(0.05, 0.0, 0.0001).unwrap();
    let ramp = |r, wave, v| rcd::ramp(r, wave, Shown::Value(v), &m);
    assert_eq!(ramp(&a, Wave::Sine, 0.024).outcome, Outcome::Pass);
    assert_eq!(ramp(&a, Wave::Sine, 0.0295).outcome, Outcome::Doubtful);
    assert_eq!(ramp(&a, Wave::Sine, 0.034).outcome, Outcome::Fail);
    let low = ramp(&a, Wave::Sine, 0.010);
    assert_eq!(
        (low.outcome, low.meaning),
        (Outcome::Fail, Meaning::TooSensitive)
    );
    assert_eq!(ramp(&a, Wave::Half, 0.034).outcome, Outcome::Pass);
    assert_eq!(ramp(&b, Wave::Smooth, 0.050).outcome, Outcome::Pass);
    assert_eq!(ramp(&ac, Wave::Half, 0.02).outcome, Outcome::CannotSay);
    let none = rcd::ramp(&a, Wave::Sine, Shown::Above(0.033), &m);
    assert_eq!(
        (none.outcome, none.meaning),
        (Outcome::Fail, Meaning::NoTrip)
    );
}

#[test]
fn measured_volt_drop() {
    let b = radial();
    let d = b.at(20.0);
    let volts = Accuracy::new(0.001, 1.0, 0.1).unwrap();
    let amps = Accuracy::new(0.02, 1.0, 0.1).unwrap();
    let read = |u, l, i| {
        volt_drop::by_voltages(
            &d,
            Shown::Value(u),
            Shown::Value(l),
            &volts,
            Shown::Value(i),
            &amps,
        )
    };
    let j = read(233.0, 230.2, 10.0);
    near(j.value.unwrap(), 5.6 * 304.5 / 254.5, 1e-3);
    near(j.limit.unwrap(), 11.5, 1e-6);
    assert_eq!(j.outcome, Outcome::Pass);
    assert_eq!(read(233.0, 225.0, 10.0).outcome, Outcome::Fail);
    // Both ends by hand: 0.1 % and a digit and a half of each voltage, 2 % and a digit and a half of the current.
    let i = j.interval.unwrap();
    let rise = 20.0 * 304.5 / 254.5;
    let (u, l) = (233.05 * 1.001 + 0.1, 230.15 * 0.999 - 0.1);
    near(i.high.unwrap(), (u - l) * rise / (9.95 * 0.98 - 0.1), 2e-3);
    let (u, l) = (232.95 * 0.999 - 0.1, 230.25 * 1.001 + 0.1);
    near(i.low, (u - l) * rise / (10.05 * 1.02 + 0.1), 2e-3);
    // Two large readings with a small difference: so poorly known is it.
    assert_eq!(read(233.0, 232.0, 1.0).outcome, Outcome::Doubtful);
    // No current, no drop.
    assert_ne!(read(233.0, 230.0, 0.0).outcome, Outcome::Pass);
    let z = Accuracy::new(0.03, 3.0, 0.01).unwrap();
    let j = volt_drop::by_impedances(&d, Shown::Value(0.45), Shown::Value(0.20), &z);
    near(j.value.unwrap(), 0.25 * 20.0 * 304.5 / 254.5, 1e-4);
    assert_eq!(j.outcome, Outcome::Pass);
}

fn all_pass(needs: Steps) -> Done {
    let mut done = Done::new(Outcome::Pass);
    for step in Step::ALL {
        if needs.contains(step.flag()) {
            done.set(step, Outcome::Pass);
        }
    }
    done
}

#[test]
fn nothing_is_energised_while_anything_is_missing() {
    let b = radial();
    let site = Site {
        origin: true,
        bonding: true,
        gear: true,
    };
    let needs = sequence::needs(&b.circuit, &b.source, site);
    assert!(needs.contains(Steps::ZE | Steps::BONDING | Steps::FAULT_CURRENT));
    assert!(!needs.intersects(Steps::ELECTRODE | Steps::RING | Steps::RCD));
    let good = all_pass(needs);
    assert_eq!(sequence::may_be_energised(needs, &good), Energise::Yes);
    let before = [
        Step::Bonding,
        Step::Protective,
        Step::Insulation,
        Step::Polarity,
        Step::Ze,
        Step::FaultCurrent,
    ];
    for step in before {
        for bad in [Outcome::Doubtful, Outcome::CannotSay, Outcome::Fail] {
            let mut done = good.clone();
            done.set(step, bad);
            let Energise::Stop(stops) = sequence::may_be_energised(needs, &done) else {
                panic!("{step:?} {bad:?}")
            };
            assert_eq!(stops.as_slice(), [Stop::NotPassed(step, bad)]);
        }
    }
    for (n, change) in [
        |d: &mut Done| d.design = Outcome::Fail,
        |d: &mut Done| d.gear_out = true,
        |d: &mut Done| d.earthing_out = true,
    ]
    .iter()
    .enumerate()
    {
        let mut done = good.clone();
        change(&mut done);
        assert_ne!(
            sequence::may_be_energised(needs, &done),
            Energise::Yes,
            "{n}"
        );
    }
    let Energise::Stop(stops) = sequence::may_be_energised(needs, &Done::new(Outcome::Pass)) else {
        panic!()
    };
    let missing: Vec<Stop> = before.map(Stop::Missing).to_vec();
    assert_eq!(stops.as_slice(), missing);
    // However little is said to be needed.
    assert_ne!(
        sequence::may_be_energised(Steps::empty(), &Done::new(Outcome::Pass)),
        Energise::Yes
    );
}

#[test]
fn tests_come_in_their_order() {
    let b = radial();
    let needs = sequence::needs(&b.circuit, &b.source, Site::default());
    let mut done = Done::new(Outcome::Pass);
    let mut order = Vec::new();
    for _ in 0..20 {
        match sequence::next(needs, &done) {
            Next::Test { step, again, .. } => {
                assert_eq!(again, None);
                order.push(step);
                // A failed one comes again, and nothing after it.
                done.set(step, Outcome::Doubtful);
                assert!(
                    matches!(sequence::next(needs, &done), Next::Test { step: s, again: Some(Outcome::Doubtful), .. } if s == step)
                );
                done.set(step, Outcome::Pass);
            }
            Next::Energise(e) => {
                assert_eq!(e, Energise::Yes);
                done.energised = true;
            }
            Next::Complete => break,
        }
    }
    assert_eq!(
        order,
        [
            Step::Protective,
            Step::Insulation,
            Step::Polarity,
            Step::Ze,
            Step::Zs
        ]
    );
    let mut sorted = order.clone();
    sorted.sort();
    assert_eq!(sorted, order);
    done.add(Step::Zs, Outcome::Fail);
    assert_eq!(done.get(Step::Zs), Some(Outcome::Fail));
}

fn board(fed_by: Option<u16>, earthing: BoardEarthing, rcd: Option<Rcd>) -> Board {
    Board {
        fed_by: fed_by.map(CircuitId),
        earthing,
        rcd,
        conditional: None,
        enclosure: None,
        extraneous: false,
        bonding: None,
        earthing_conductor: None,
        demand: None,
    }
}

#[test]
fn the_job_raises_what_is_forgotten() {
    let feed = Circuit {
        purpose: Use::Distribution,
        rcd: Some(residual(0.1, RcdType::A, RcdDelay::Selective)),
        ..circuit(&[armoured(60.0, 10.0, 3, Protective::Armour(None))])
    };
    let lights = Circuit {
        board: BoardId(1),
        purpose: Use::Lighting,
        rcd: Some(residual(0.03, RcdType::A, RcdDelay::None)),
        ..circuit(&[section(20.0, 1.5, 1.5)])
    };
    let inst: Installation<4, 4> = Installation {
        profile: Profile::IEC,
        supply: supply(Some(0.2)),
        boards: heapless::Vec::from_slice(&[
            board(None, BoardEarthing::AsSupply, None),
            board(Some(0), BoardEarthing::OwnElectrode(None), None),
        ])
        .unwrap(),
        circuits: heapless::Vec::from_slice(&[feed, lights.clone(), lights]).unwrap(),
    };
    let notes = |inst: &Installation<4, 4>, id, site| {
        sequence::notes(inst, Earthing::TnCS, CircuitId(id), site)
    };
    let feed = notes(
        &inst,
        0,
        Site {
            origin: true,
            ..Site::default()
        },
    );
    assert!(feed.contains(&Note::ArmourSupplyEnd) && feed.contains(&Note::EarthingBack));
    assert!(feed.contains(&Note::ArmourAlone { section: 0 }));
    assert!(feed.contains(&Note::MarkCores {
        section: 0,
        conductors: ring::Conductors::NEUTRAL
    }));
    assert!(!feed.contains(&Note::ElectrodeFirst));
    let far = notes(
        &inst,
        1,
        Site {
            gear: true,
            ..Site::default()
        },
    );
    assert!(far.contains(&Note::ElectrodeFirst) && far.contains(&Note::Gear));
    assert!(far.contains(&Note::BorrowedNeutral {
        other: CircuitId(2)
    }));
    assert!(far.contains(&Note::MarkSwitchedLine));
    // 100 mA S above 30 mA selects.
    assert!(!far.iter().any(|n| matches!(n, Note::RcdsTogether { .. })));
    let mut together = inst.clone();
    together.boards[1].rcd = Some(residual(0.03, RcdType::A, RcdDelay::None));
    assert!(
        notes(&together, 1, Site::default())
            .iter()
            .any(|n| matches!(n, Note::RcdsTogether { .. }))
    );
    // On the supply's earth the armour is earthed at both ends.
    let mut same = inst;
    same.boards[1].earthing = BoardEarthing::AsSupply;
    assert!(notes(&same, 0, Site::default()).contains(&Note::ArmourBothEnds));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    /// To another temperature and back is where it was; warmer is more.
    #[test]
    fn temperature_there_and_back(r in 0.01f32..100.0, a in -20.0f32..100.0, b in -20.0f32..100.0) {
        use super::design::at_temperature;
        let (ta, tb) = (Celsius::new(a).unwrap(), Celsius::new(b).unwrap());
        for m in [Material::Copper, Material::Aluminium, Material::Steel, Material::Lead] {
            let there = at_temperature(m, r, ta, tb);
            prop_assert!((at_temperature(m, there, tb, ta) - r).abs() <= 1e-6 * r);
            if b > a + 0.1 { prop_assert!(there > r); }
        }
    }

    /// A reading at the limit gives, hot, the largest Zs; below it less; and more reading is never less Zs.
    #[test]
    fn cold_limit_and_hot_value_are_each_others_inverse(
        ze in 0.05f32..1.5, length in 2.0f32..120.0, size in 0usize..4, ambient in -5.0f32..40.0,
        v in 0.05f32..5.0, more in 0.0f32..2.0, x in prop::option::of(0.0f32..2.0),
    ) {
        let csa = [1.5, 2.5, 4.0, 10.0][size];
        let mut s = supply(Some(ze));
        s.x_over_r = x.map(|x| Ratio::new(x).unwrap());
        let b = Bench::new(circuit(&[section(length, csa, 1.5)]), &s, Earthing::TnCS);
        let d = b.at(ambient);
        let limit = d.max_zs().unwrap().limit;
        let cold = d.zs_cold(limit).unwrap();
        prop_assert!((d.zs_hot(cold).unwrap() - limit).abs() <= 2e-6 * limit);
        prop_assert!(cold <= limit);
        prop_assert!(d.zs_hot(v + more).unwrap() >= d.zs_hot(v).unwrap());
        prop_assert!(d.zs_hot(v).unwrap() >= v);
        // Never less than the truth: a loop as designed, whatever the supply really has up to Ze.
        if let Some(p) = b.facts.protective {
            let own = d.r1r2().unwrap();
            let real = 0.5 * ze + own;
            let truth = 0.5 * ze + own * d.hot_factor().unwrap();
            prop_assert!(p.hot.r > 0.0 && d.zs_hot(real).unwrap() >= truth * (1.0 - 1e-5));
        }
    }

    /// No test passes with a wider band that did not pass with a narrower one.
    #[test]
    fn a_worse_instrument_passes_nothing_more(
        v in 0.0f32..3.0, share in 0.0f32..0.3, more in 0.0f32..0.4, digits in 0.0f32..4.0, over in any::<bool>(),
    ) {
        let b = radial();
        let d = b.at(20.0);
        let shown = if over { Shown::Above(v) } else { Shown::Value(v) };
        let m = |s| Accuracy::new(s, digits, 0.01).unwrap();
        let general = residual(0.03, RcdType::A, RcdDelay::None);
        let judged = |m: &Accuracy| -> Vec<Judged> {
            use super::{electrode, insulation, rcd::{Multiple, Wave}};
            std::vec![
                fault_loop::zs(&d, shown, m),
                continuity::r1r2(&d, shown, m),
                continuity::r2(&d, shown, m),
                rcd::ramp(&general, Wave::Sine, shown, m),
                rcd::time(&general, Wave::Sine, Multiple::Half, shown, m),
                fault_loop::ze(shown, m, d.max_ze(), None),
                continuity::bonding(conductor(10.0), Metres::new(20.0).unwrap(), d.ambient, shown, m).unwrap(),
                continuity::supplementary(Volts::raw(50.0), Amps::raw(160.0), shown, m),
                electrode::by_loop(shown, m, Some(1.0)),
                electrode::fall_of_potential([shown; 3], m, Some(1.0)),
                rcd::time(&general, Wave::Sine, Multiple::One, shown, m),
                insulation::judge(
                    insulation::Class::Nominal(Volts::raw(230.0)),
                    insulation::Made { test_voltage: 500.0, gear: false, fixed_gear: false, circuits: 1 },
                    shown,
                    m,
                ),
            ]
        };
        for (narrow, wide) in judged(&m(share)).iter().zip(judged(&m(share + more))) {
            if wide.outcome == Outcome::Pass {
                prop_assert_eq!(narrow.outcome, Outcome::Pass, "{:?} {:?}", narrow, wide);
            }
        }
    }
}
