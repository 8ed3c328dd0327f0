//! Readings against a design: what the modules say together.

use super::interval::{Accuracy, Function, Shown};
use super::sequence::{self, Done, Energise, Next, Note, Site, Step, Steps, Stop};
use super::{
    Design, Expected, Judged, Lacking, Meaning, Rule, Side, Suspects, Test, continuity, fault_loop,
    rcd, ring, volt_drop,
};
use crate::assess::assess_circuit;
use crate::cable::{Construction, Method};
use crate::conductor::{self, Insulation, Material};
use crate::device::{Curve, Device, Family, Rcd, RcdDelay, RcdType};
use crate::facts::CircuitFacts;
use crate::fixture;
use crate::impedance::{Pair, Z};
use crate::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Installation, Load, Part, Phase,
    Protective, Section, Shape, Steel, Use,
};
use crate::profile::{LoadClass, Profile};
use crate::quantity::{Amps, Celsius, Metres, Ohms, OhmsPerKm, Ratio, SquareMm, Volts};
use crate::source::Source;
use crate::supply::{Conductor, Earthing, FaultLevel, Origin, Phases, Supply, SupplyEarthing};
use crate::verdict::{Check, Finding, Outcome, Recorder, Sense, Unit, Worst};
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
        protective: Protective::Core(conductor(cpc)),
        ..fixture::section(length, csa)
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

/// Without uncertainty, in steps of a milliohm.
fn exact() -> Accuracy {
    Accuracy::new(0.0, 0.0, 0.001).unwrap()
}

const SMALLER: Suspects = Suspects::LOOSE_JOINT
    .union(Suspects::LONGER)
    .union(Suspects::SMALLER_SIZE);
const LARGER: Suspects = Suspects::PARALLEL_PATH
    .union(Suspects::SHORTER)
    .union(Suspects::LARGER_SIZE);

/// 50 m of 25 mm² in armour of 2 Ω/km, behind a feed of 0.1 + j0.05 Ω there and 0.06 + j0.03 Ω back.
fn behind_a_feed(x_over_r: Option<f32>) -> Bench {
    let steel = Steel {
        resistance: OhmsPerKm::new(2.0).unwrap(),
        area: SquareMm::new(60.0).ok(),
    };
    let run = armoured(50.0, 25.0, 3, Protective::Armour(Some(steel)));
    let mut supply = supply(Some(0.2));
    supply.x_over_r = x_over_r.map(|q| Ratio::new(q).unwrap());
    let mut b = Bench::new(circuit(&[run]), &supply, Earthing::TnCS);
    let pair = |r: f32, x: f32| Pair {
        hot: Z { r, x },
        cold: Z { r: r / 1.2, x: 0.0 },
    };
    (b.source.line, b.source.protective) = (pair(0.1, 0.05), pair(0.06, 0.03));
    b
}

#[test]
fn the_design_by_hand() {
    // 0.727 Ω/km, 0.085 Ω/km, and 0.4 Ω/km of armour.
    let (line, steel, x) = (0.050 * 0.727, 0.050 * 2.0, 0.050 * (0.085 + 0.4));
    let (copper, iron) = (264.5 / 254.5, 232.0 / 222.0);
    for x_over_r in [Some(1.0), Some(0.0), None] {
        let b = behind_a_feed(x_over_r);
        let d = b.at(30.0);
        near(d.r1().unwrap(), line * copper, 1e-5);
        near(d.r2().unwrap(), steel * iron, 1e-5);
        near(d.armour().unwrap(), steel * iron, 1e-5);
        // The feed cold by its hot resistance over 1.2.
        let r = line * copper + steel * iron + 0.16 / 1.2 * copper;
        let (all, more) = match x_over_r {
            Some(q) => {
                let part = 0.2 / libm::sqrtf(1.0 + q * q);
                (
                    libm::hypotf(part + r, q * part + 0.08 + x),
                    Some((part, q * part)),
                )
            }
            None => (0.2 + libm::hypotf(r, 0.08 + x), None),
        };
        near(d.zs().unwrap(), all, 1e-5);
        // The largest R1 + R2, hot and with its a.c. factors, just reaches cmin·U0/Ia.
        let ac = conductor::ac_factor(
            Material::Copper,
            SquareMm::raw(25.0),
            Celsius::new(90.0).unwrap(),
        );
        let hot = line * 324.5 / 254.5 * ac.unwrap() + steel * 282.0 / 222.0 * 1.1;
        let own = d.max_r1r2().unwrap() * hot / (line * copper + steel * iron);
        let reached = match more {
            Some((r, q)) => libm::hypotf(r + 0.16 + own, q + 0.08 + x),
            None => 0.2 + libm::hypotf(0.16 + own, 0.08 + x),
        };
        near(reached, 0.95 * 230.0 / 160.0, 1e-5);
    }
}

#[test]
fn an_enclosure_has_no_ac_factor() {
    // As the armour above, but a conduit: at 20 K below the conductor.
    let mut run = behind_a_feed(None).circuit.sections[0];
    let Protective::Armour(Some(steel)) = run.protective else {
        panic!("armour")
    };
    run.construction = Construction::SingleCores;
    run.protective = Protective::Enclosure(steel);
    run.laying.method = Method::Conduit;
    let b = Bench::tn(circuit(&[run]));
    let d = b.at(20.0);
    let (line, steel) = (0.050 * 0.727, 0.050 * 2.0);
    let ac = conductor::ac_factor(
        Material::Copper,
        SquareMm::raw(25.0),
        Celsius::new(90.0).unwrap(),
    );
    let hot = line * 324.5 / 254.5 * ac.unwrap() + steel * 272.0 / 222.0;
    let own = d.max_r1r2().unwrap() * hot / (line + steel);
    let x = b.facts.line.hot.x;
    assert!(x > 0.0);
    near(libm::hypotf(0.2 + own, x), 0.95 * 230.0 / 160.0, 1e-5);
    assert_eq!(d.armour(), None);
}

#[test]
fn a_section_without_a_protective_conductor_leaves_the_run_without() {
    let good = section(30.0, 4.0, 1.5);
    let bare = Section {
        protective: Protective::None,
        ..good
    };
    let spur = Section {
        part: Part::Spur,
        ..bare
    };
    for sections in [[good, bare], [bare, good], [good, spur], [bare, bare]] {
        let b = Bench::tn(circuit(&sections));
        let d = b.at(20.0);
        assert_eq!((d.r1r2(), d.r2(), d.max_r1r2()), (None, None, None));
        assert!(d.r1().is_some());
    }
}

#[test]
fn line_and_neutral_by_hand() {
    let half = Section {
        neutral: SquareMm::new(2.5).ok(),
        ..section(30.0, 4.0, 1.5)
    };
    let b = Bench::tn(circuit(&[half]));
    near(b.at(20.0).r1rn().unwrap(), 0.030 * (4.61 + 7.41), 1e-5);
    // Of a ring a quarter of each.
    let b = Bench::tn(Circuit {
        shape: Shape::Ring,
        ..circuit(&[section(60.0, 2.5, 1.5)])
    });
    near(b.at(20.0).r1rn().unwrap(), 0.25 * 0.060 * 2.0 * 7.41, 1e-5);
}

#[test]
fn each_figure_of_the_design_by_its_name() {
    let ring = Bench::tn(Circuit {
        shape: Shape::Ring,
        ..circuit(&[section(60.0, 2.5, 1.5)])
    });
    let radial = behind_a_feed(Some(0.0));
    for b in [&ring, &radial] {
        let d = b.at(20.0);
        let is_ring = b.circuit.shape == Shape::Ring;
        let own = |f| d.expected(f);
        assert_eq!(own(Expected::R1R2), d.r1r2());
        assert_eq!((own(Expected::R1), own(Expected::R2)), (d.r1(), d.r2()));
        assert_eq!(
            (own(Expected::Zs), own(Expected::Armour)),
            (d.zs(), d.armour())
        );
        assert_eq!(own(Expected::MaxR1R2), d.max_r1r2());
        assert_eq!(own(Expected::MaxZs), d.zs_cold(d.max_zs().unwrap().limit));
        // 60 m of 7.41 and 12.1 Ω/km; crossed, both ways round in parallel at any socket.
        let (l, p) = (0.060 * 7.41, 0.060 * 12.1);
        for (figure, expected) in [
            (Expected::LineEnds, l),
            (Expected::NeutralEnds, l),
            (Expected::ProtectiveEnds, p),
            (Expected::CrossedNeutral, 0.25 * (l + l)),
            (Expected::CrossedProtective, 0.25 * (l + p)),
        ] {
            match own(figure) {
                Some(v) if is_ring => near(v, expected, 1e-5),
                other => assert!(!is_ring && other.is_none(), "{figure:?}"),
            }
        }
    }
    let limits = Expected::ALL.into_iter().filter(|f| f.is_limit());
    assert!(limits.eq([Expected::MaxR1R2, Expected::MaxZs]));
}

/// What each picture of a ring comes to, and what is suspected.
#[test]
fn each_pattern_of_a_ring_has_its_outcome() {
    use ring::{Conductors as C, Patterns as P};
    let of = |patterns, conductors| ring::Diagnosis {
        patterns,
        conductors,
        socket: None,
        raised: 0,
        raise: 0.0,
        expected: Some(0.3),
        band: Some(0.02),
        r1r2: None,
        too_coarse: false,
        lacking: Lacking::empty(),
    };
    let (none, all) = (C::empty(), C::all());
    let joint = Suspects::LOOSE_JOINT;
    let core = joint | Suspects::SMALLER_SIZE | Suspects::PROTECTIVE;
    let beside = Suspects::PARALLEL_PATH | Suspects::PROTECTIVE;
    for (patterns, conductors, outcome, suspects) in [
        (P::HEALTHY, none, Outcome::Pass, Suspects::empty()),
        (P::SPUR, none, Outcome::Pass, Suspects::empty()),
        (
            P::SPUR | P::CLOSED_LOOP,
            none,
            Outcome::Doubtful,
            Suspects::empty(),
        ),
        (P::SHORT, none, Outcome::Doubtful, Suspects::SHORTER),
        (P::PARALLEL_PATH, C::PROTECTIVE, Outcome::Doubtful, beside),
        (
            P::HEALTHY | P::PARALLEL_PATH,
            C::PROTECTIVE,
            Outcome::Doubtful,
            beside,
        ),
        (P::JOINT, C::LINE, Outcome::Fail, joint),
        (P::JOINT, C::PROTECTIVE, Outcome::Fail, core),
        (P::JOINT_AT_SOCKET, all, Outcome::Fail, joint),
        (P::JOINT_AT_SOCKET, C::PROTECTIVE, Outcome::Fail, core),
        (
            P::JOINT | P::PARALLEL_PATH,
            all,
            Outcome::Doubtful,
            joint | beside,
        ),
        (P::CLOSED_LOOP, none, Outcome::Fail, Suspects::empty()),
        (
            P::BRIDGED | P::SPUR_ON_SPUR,
            none,
            Outcome::Fail,
            Suspects::empty(),
        ),
        (P::OPEN, C::LINE, Outcome::Fail, Suspects::empty()),
        (P::NOT_CROSSED, none, Outcome::CannotSay, Suspects::empty()),
        (
            P::NOT_CROSSED | P::JOINT,
            C::LINE,
            Outcome::CannotSay,
            joint,
        ),
        (P::empty(), none, Outcome::CannotSay, Suspects::empty()),
    ] {
        let j = ring::judged(&of(patterns, conductors), 0);
        assert_eq!((j.outcome, j.suspects), (outcome, suspects), "{patterns:?}");
        // Without the ends or the sockets only a fault that shows all the same.
        let mut short = of(patterns, conductors);
        short.lacking = Lacking::SOCKETS;
        let j = ring::judged(&short, 0);
        let mild = P::HEALTHY | P::SPUR | P::SHORT | P::PARALLEL_PATH;
        let unsaid = mild.contains(patterns);
        assert_eq!(j.outcome, if unsaid { Outcome::CannotSay } else { outcome });
        assert_eq!(j.lacking, Lacking::SOCKETS);
    }
    // As many spurs as the design has, no more.
    let mut d = of(P::SPUR, none);
    for (raised, spurs, outcome) in [
        (1, 0, Outcome::Doubtful),
        (1, 1, Outcome::Pass),
        (2, 1, Outcome::Doubtful),
        (2, 3, Outcome::Pass),
    ] {
        d.raised = raised;
        assert_eq!(ring::judged(&d, spurs).outcome, outcome, "{raised} {spurs}");
    }
    let mut coarse = of(P::HEALTHY, none);
    coarse.too_coarse = true;
    let j = ring::judged(&coarse, 0);
    assert_eq!(
        (j.outcome, j.meaning),
        (Outcome::CannotSay, Meaning::TooCoarse)
    );
    coarse.patterns = P::empty();
    assert_eq!(ring::judged(&coarse, 0).meaning, Meaning::TooCoarse);
    coarse.patterns = P::JOINT;
    assert_eq!(ring::judged(&coarse, 0).outcome, Outcome::Fail);
    assert_eq!(
        ring::judged(&of(P::empty(), none), 0).meaning,
        Meaning::NotKnown
    );
}

fn judged(test: Test, sense: Sense) -> Judged {
    Judged::new(test, Rule::MaxZs, Unit::Ohm, sense)
}

#[test]
fn the_band_around_the_design() {
    // 0.85 and 1.15 of it, two steps of the display either way, 0.02 Ω for contacts above.
    let beside = |expected: f32, v: f32| {
        let j = judged(Test::Zs, Sense::AtMost).read(Some(Shown::Value(v)), &exact());
        j.beside(expected, 0.01).compared.unwrap()
    };
    let c = beside(1.0, 1.0);
    near(c.low, 0.83, 1e-6);
    near(c.high, 1.19, 1e-6);
    for (v, side, sure) in [
        (c.high, Side::Within, false),
        (c.high.next_up(), Side::Above, false),
        (1.2, Side::Above, true),
        (c.low, Side::Within, false),
        (c.low.next_down(), Side::Below, false),
        (0.82, Side::Below, true),
    ] {
        let c = beside(1.0, v);
        assert_eq!((c.side, c.sure), (side, sure), "{v}");
    }
    // Nothing is below nothing.
    assert_eq!(beside(0.01, 0.0).low, 0.0);
    assert_eq!(beside(0.01, 0.0).side, Side::Within);
    let over = judged(Test::Zs, Sense::AtMost).read(Some(Shown::Above(1.0)), &exact());
    assert_eq!(over.beside(1.0, 0.01).compared.unwrap().side, Side::Above);
}

#[test]
fn leads_are_taken_away_and_less_than_nothing_is_nothing() {
    let leads = exact().with_lead(0.3).unwrap();
    let read = |v, m: &Accuracy| judged(Test::R2, Sense::AtMost).read(Some(Shown::Value(v)), m);
    near(read(1.0, &leads).value.unwrap(), 0.7, 1e-6);
    assert_eq!(read(-0.0004, &exact()).value, Some(0.0));
}

#[test]
fn what_is_free_of_the_limit() {
    let of = |sense, v: f32, limit: f32| {
        let j = judged(Test::Zs, sense).read(Some(Shown::Value(v)), &exact());
        j.against(limit).margin()
    };
    // By the end that counts, half a step of a milliohm away.
    near(
        of(Sense::AtMost, 0.6, 0.8).unwrap(),
        1.0 - 0.6005 / 0.8,
        1e-4,
    );
    near(
        of(Sense::AtLeast, 1.2, 0.8).unwrap(),
        1.1995 / 0.8 - 1.0,
        1e-4,
    );
    assert_eq!(of(Sense::AtMost, 0.6, 0.0), None);
    let over = judged(Test::Zs, Sense::AtMost).read(Some(Shown::Above(1.0)), &exact());
    assert_eq!(over.against(0.8).margin(), None);
}

/// Where the temperature is not known, only what no temperature changes is left a fail.
#[test]
fn an_open_end_is_open_at_any_temperature() {
    use Outcome::{CannotSay, Fail, Pass};
    for (test, outcome, meaning, lacking, left) in [
        (Test::R2, Fail, Meaning::Open, Lacking::AMBIENT, Fail),
        (
            Test::Ring,
            Fail,
            Meaning::RingPattern,
            Lacking::AMBIENT,
            Fail,
        ),
        (Test::R2, Fail, Meaning::Beyond, Lacking::AMBIENT, CannotSay),
        (Test::R2, Fail, Meaning::Open, Lacking::ACCURACY, CannotSay),
        (
            Test::Ring,
            Pass,
            Meaning::Clear,
            Lacking::AMBIENT,
            CannotSay,
        ),
        (Test::R2, Pass, Meaning::Open, Lacking::AMBIENT, CannotSay),
    ] {
        let mut j = judged(test, Sense::AtMost);
        (j.outcome, j.meaning) = (outcome, meaning);
        let j = j.unsaid(lacking);
        assert_eq!(
            (j.outcome, j.lacking),
            (left, lacking),
            "{test:?} {meaning:?}"
        );
        assert_eq!(
            j.meaning,
            if left == Fail {
                meaning
            } else {
                Meaning::NotKnown
            }
        );
    }
}

#[test]
fn a_fault_current_by_hand() {
    let read = |neutral: Option<f32>, earth: Option<f32>, breaking, expected| {
        let read = fault_loop::Currents {
            line_neutral: neutral.map(Shown::Value),
            line_earth: earth.map(Shown::Value),
            three_phase: None,
            phases_three: false,
        };
        let m = Accuracy::new(0.0, 0.0, 2.0).unwrap();
        fault_loop::fault_current(&read, &m, breaking, 1.1, expected)
    };
    // Nothing read: the limit all the same.
    near(
        read(None, None, Some(6000.0), None).limit.unwrap(),
        6000.0 / 1.1,
        1e-6,
    );
    let both = |v, expected| read(Some(v), Some(v), Some(6000.0), expected);
    // 5455 A would be 6000 A at 1.1 times the voltage.
    let j = both(4000.0, None);
    assert_eq!((j.outcome, j.suspects), (Outcome::Pass, Suspects::empty()));
    near(j.limit.unwrap(), 6000.0 / 1.1, 1e-6);
    assert_eq!(both(5460.0, None).outcome, Outcome::Fail);
    // With no limit either all that is missing is said.
    let j = read(Some(4000.0), None, Some(f32::NAN), None);
    assert_eq!(j.outcome, Outcome::CannotSay);
    assert!(j.lacking.contains(Lacking::READING));
    // A fail stays one, though only one way was read.
    assert_eq!(
        read(Some(5460.0), None, Some(6000.0), None).outcome,
        Outcome::Fail
    );
    assert_eq!(
        read(Some(4000.0), None, Some(6000.0), None).outcome,
        Outcome::CannotSay
    );
    // More than the design was made for.
    let j = both(4000.0, Some(3500.0));
    assert_eq!(
        (j.outcome, j.meaning),
        (Outcome::Doubtful, Meaning::AboveDesign)
    );
    assert_eq!(j.suspects, Suspects::SUPPLY);
    assert_eq!(both(4000.0, Some(4100.0)).outcome, Outcome::Pass);
    let j = both(5454.5, Some(3500.0));
    assert_eq!(
        (j.outcome, j.meaning),
        (Outcome::Doubtful, Meaning::AboveDesign)
    );
    assert_eq!(both(5460.0, Some(3500.0)).meaning, Meaning::Beyond);
}

#[test]
fn a_size_is_named_within_its_eight_per_cent() {
    let named = |j: Judged| {
        j.suspects
            .intersects(Suspects::SMALLER_SIZE | Suspects::LARGER_SIZE)
    };
    // 1.5 mm² of 30 m, 12.1 Ω/km: 0.363 Ω. Of 1.0 mm² (18.1) 0.543, of 2.5 mm² (7.41) 0.2223; contacts add 0.02.
    let b = Bench::tn(circuit(&[section(30.0, 4.0, 1.5)]));
    let d = b.at(20.0);
    let r2 = |v: f32| continuity::r2(&d, Shown::Value(v), &exact());
    for (v, is) in [
        (0.45, false),
        (0.49, false),
        (0.51, true),
        (0.60, true),
        (0.61, false),
        (0.30, false),
        (0.265, false),
        (0.255, true),
        (0.21, true),
        (0.20, false),
    ] {
        let j = r2(v);
        assert_eq!(named(j), is, "{v}");
        let all = if v > 0.363 { SMALLER } else { LARGER };
        let none = Suspects::SMALLER_SIZE | Suspects::LARGER_SIZE;
        assert_eq!(j.suspects, if is { all } else { all - none }, "{v}");
    }
    assert_eq!(r2(0.363).suspects, Suspects::empty());
    // 16 mm² of 400 m, 1.15 Ω/km: 0.46 Ω each; of 10 mm² (1.83) one 1.192 Ω in all, both 1.464.
    let b = Bench::tn(circuit(&[section(400.0, 16.0, 16.0)]));
    let d = b.at(20.0);
    for (v, is) in [
        (1.09, false),
        (1.10, true),
        (1.30, true),
        (1.33, false),
        (1.36, true),
        (1.59, true),
        (1.61, false),
    ] {
        let j = continuity::r1r2(&d, Shown::Value(v), &exact());
        assert_eq!(named(j), is, "{v}");
    }
    // 1.0 mm² is the smallest made: only the line of 1.5 mm² may be a smaller one, and no R2 shows that.
    let b = Bench::tn(circuit(&[section(50.0, 1.5, 1.0)]));
    let d = b.at(20.0);
    assert!(named(continuity::r1r2(&d, Shown::Value(1.81), &exact())));
    assert!(!named(continuity::r2(&d, Shown::Value(1.448), &exact())));
    // Where the run is of two cables it may be either.
    let b = Bench::tn(circuit(&[section(15.0, 4.0, 1.5), section(15.0, 4.0, 1.5)]));
    let j = continuity::r2(&b.at(20.0), Shown::Value(0.45), &exact());
    assert_eq!(j.suspects, SMALLER);
}

#[test]
fn which_conductor_it_is_in() {
    // R1 0.1383 Ω, R2 0.363 Ω; half a step of 0.01 Ω on each reading, so 0.01 Ω on their difference.
    let b = radial();
    let d = b.at(20.0);
    let m = Accuracy::new(0.0, 0.0, 0.01).unwrap();
    let (e1, e2) = (0.030 * 4.61, 0.030 * 12.1);
    let which = |a: f32, b: f32| continuity::which(&d, a + b, b, &m);
    let (line, protective) = (Suspects::LINE, Suspects::PROTECTIVE);
    let longer = line | protective | Suspects::LONGER | Suspects::SMALLER_SIZE;
    let joint = Suspects::LOOSE_JOINT | Suspects::SMALLER_SIZE;
    let shorter = Suspects::SHORTER | Suspects::LARGER_SIZE;
    let beside = Suspects::PARALLEL_PATH | Suspects::LARGER_SIZE;
    for (q1, q2, says) in [
        (1.0, 1.0, Suspects::empty()),
        (1.6, 1.6, longer),
        (0.6, 0.6, line | protective | shorter),
        (0.5, 0.8, line | protective | shorter),
        (2.0, 1.0, line | joint),
        (1.0, 2.0, protective | joint),
        (2.0, 0.5, line | protective | joint),
        (0.5, 2.0, line | protective | joint),
        (0.5, 1.0, line | shorter),
        (1.0, 0.5, protective | beside),
        // Alike to a tenth of the larger and what the readings may be out: 0.01/e1 + 0.005/e2, 0.0861.
        (1.5, 1.755, longer),
        (1.5, 1.770, line | protective | joint),
        (1.755, 1.5, longer),
        (1.770, 1.5, line | protective | joint),
    ] {
        assert_eq!(which(q1 * e1, q2 * e2), says, "{q1} {q2}");
    }
    // The bands: 1.15 and 0.85 of the design, what the readings may be out, and above that contacts of 0.02 Ω.
    for (r1, r2, says) in [
        (1.15 * e1 + 0.029, e2, Suspects::empty()),
        (1.15 * e1 + 0.031, e2, line | joint),
        (e1, 1.15 * e2 + 0.024, Suspects::empty()),
        (e1, 1.15 * e2 + 0.026, protective | joint),
        (0.85 * e1 - 0.009, e2, Suspects::empty()),
        (0.85 * e1 - 0.011, e2, line | shorter),
        (e1, 0.85 * e2 - 0.004, Suspects::empty()),
        (e1, 0.85 * e2 - 0.006, protective | beside),
    ] {
        assert_eq!(which(r1, r2), says, "{r1} {r2}");
    }
    // Leads taken away afterwards are a reading of their own, and out as much again.
    let leads = m.with_lead(0.5).unwrap();
    let which = |r2: f32| continuity::which(&d, e1 + r2, r2, &leads);
    assert_eq!(which(1.15 * e2 + 0.029), Suspects::empty());
    assert_eq!(which(1.15 * e2 + 0.031), protective | joint);
}

/// What can't be believed is put down to the leads, whatever else is said of it.
#[test]
fn leads_stay_suspect() {
    let b = radial();
    let d = b.at(20.0);
    let minus = Shown::Value(-0.4);
    let length = Metres::new(20.0).unwrap();
    let bonding = continuity::bonding(conductor(10.0), length, d.ambient, minus, &exact());
    let armoured = Bench::tn(circuit(&[armoured(
        50.0,
        25.0,
        3,
        Protective::Armour(None),
    )]));
    let beside = Bench::tn(circuit(&[Section {
        construction: Construction::Armoured,
        insulation: Insulation::Thermosetting90,
        ..section(50.0, 25.0, 16.0)
    }]));
    for j in [
        continuity::r1r2(&d, minus, &exact()),
        continuity::r2(&d, minus, &exact()),
        continuity::armour(&armoured.at(20.0), minus, &exact()),
        continuity::armour(&beside.at(20.0), minus, &exact()),
        bonding.unwrap(),
        fault_loop::ze(minus, &exact(), Some(0.8), Some(0.2)),
        fault_loop::zs(&d, minus, &exact()),
    ] {
        assert_eq!(j.meaning, Meaning::NotBelievable);
        assert_eq!(j.suspects, Suspects::LEADS, "{:?}", j.test);
    }
    let open = continuity::r1r2(&d, Shown::Above(1999.0), &exact());
    assert!(
        open.suspects
            .contains(Suspects::LOOSE_JOINT | Suspects::LEADS)
    );
}

#[test]
fn what_the_other_side_of_the_design_may_come_from() {
    let supply = Suspects::SUPPLY;
    let ze = |v| fault_loop::ze(Shown::Value(v), &exact(), None, Some(0.4)).suspects;
    assert_eq!(ze(0.6), supply | Suspects::LOOSE_JOINT);
    assert_eq!(ze(0.4), Suspects::empty());
    assert_eq!(ze(0.2), supply | Suspects::PARALLEL_PATH);
    // 0.2 + 0.5013 Ω.
    let b = radial();
    let zs = |v| fault_loop::zs(&b.at(20.0), Shown::Value(v), &exact()).suspects;
    assert_eq!(zs(0.9), supply | SMALLER);
    assert_eq!(zs(0.7), Suspects::empty());
    assert_eq!(
        zs(0.5),
        supply | Suspects::PARALLEL_PATH | Suspects::SHORTER
    );
    let (length, ambient) = (Metres::new(20.0).unwrap(), Celsius::new(20.0).unwrap());
    let bonding = |v| {
        let c = conductor(1.5);
        continuity::bonding(c, length, ambient, Shown::Value(v), &exact()).unwrap()
    };
    // 12.1 Ω/km of 20 m, 0.242 Ω, and 0.05 Ω for connections.
    assert_eq!(bonding(0.4).suspects, SMALLER);
    assert_eq!(bonding(0.25).suspects, Suspects::empty());
    let beside = bonding(0.1);
    assert_eq!(beside.suspects, Suspects::PARALLEL_PATH);
    assert_eq!(
        (beside.outcome, beside.meaning),
        (Outcome::Doubtful, Meaning::BelowDesign)
    );
    // Armour beside a core, by its band alone.
    let b = Bench::tn(circuit(&[armoured(
        50.0,
        25.0,
        3,
        Protective::Core(conductor(16.0)),
    )]));
    let d = b.at(20.0);
    let armour = |q: f32| {
        let v = Shown::Value(q * d.armour().unwrap());
        continuity::armour(&d, v, &exact()).suspects
    };
    assert_eq!((armour(1.0), armour(2.0)), (Suspects::empty(), SMALLER));
    assert_eq!(armour(0.5), LARGER);
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

/// A limit of the design's own figures is met where the end of the interval is just there.
#[test]
fn an_interval_that_just_meets_the_band_is_not_sure() {
    let j = judged(Test::Zs, Sense::AtMost).read(Some(Shown::Value(2.0)), &fine());
    let i = j.interval.unwrap();
    // Steps through the designs around the one whose band just ends there.
    let expected = |about: f32, end: &dyn Fn(super::Compared) -> bool| {
        let all = (-200..200).map(|n| fixture::step(about, n));
        all.map(|e| j.beside(e, 0.01).compared.unwrap())
            .find(|c| end(*c))
            .unwrap()
    };
    let above = expected((i.low - 0.04) / 1.15, &|c| c.high == i.low);
    assert_eq!((above.side, above.sure), (Side::Above, false));
    let above = j.beside(above.expected - 1e-6, 0.01).compared.unwrap();
    assert_eq!((above.side, above.sure), (Side::Above, true));
    let high = i.high.unwrap();
    let below = expected((high + 0.02) / 0.85, &|c| c.low == high);
    assert_eq!((below.side, below.sure), (Side::Below, false));
    let below = j.beside(below.expected + 1e-6, 0.01).compared.unwrap();
    assert_eq!((below.side, below.sure), (Side::Below, true));
}

/// A current that may be just that of the design is none beyond it.
#[test]
fn a_current_beyond_the_design_is_beyond_by_its_lower_end() {
    let read = fault_loop::Currents {
        line_neutral: Some(Shown::Value(1000.0)),
        line_earth: Some(Shown::Value(1000.0)),
        three_phase: None,
        phases_three: false,
    };
    let of =
        |expected| fault_loop::fault_current(&read, &fine(), Some(6000.0), 1.1, Some(expected));
    let low = of(2000.0).interval.unwrap().low;
    // 2 % of the impedance.
    near(low, 1000.0 / 1.02, 1e-4);
    assert_eq!(of(low).outcome, Outcome::Pass);
    assert_eq!(of(fixture::step(low, -1)).outcome, Outcome::Doubtful);
}

/// What is just within the RCD's limit is within it. Not at every temperature is there a reading that just meets it.
#[test]
fn a_reading_is_only_within_the_rcd_up_to_its_limit() {
    let b = Bench::tn(behind_30_ma(30.0));
    let mut met = 0;
    for ambient in 10..30 {
        let d = b.at(ambient as f32);
        let rcd = d.zs_cold(d.max_zs().unwrap().of_rcd.unwrap()).unwrap();
        let of = |v| fault_loop::zs(&d, Shown::Value(v), &fine());
        // 2 % and two digits and a half.
        let about = (rcd - 0.02) / 1.02 - 0.01;
        for v in (-50..50).map(|n| fixture::step(about, n)) {
            let j = of(v);
            let high = j.interval.unwrap().high.unwrap();
            met += usize::from(high == rcd);
            let within = j.meaning == Meaning::OnlyRcd;
            assert_eq!(within, high <= rcd, "{v} at {ambient}");
        }
    }
    assert!(met > 0);
}

/// Type C of 63 A operates at 630 A and can break 500: the RCD says what Zs may be, and beyond it the device may do.
#[test]
fn beyond_the_rcd_a_device_without_a_curve_may_do() {
    let mut c = behind_30_ma(30.0);
    c.device = Device::new(Family::Breaker(Curve::C), Amps::new(63.0).unwrap())
        .unwrap()
        .with_breaking(Amps::new(500.0).unwrap());
    let b = Bench::tn(c);
    let d = b.at(20.0);
    let read = |v| fault_loop::zs(&d, Shown::Value(v), &fine());
    // As designed: 0.2 Ω, and 30 m of 4.61 and 12.1 Ω/km.
    let j = read(0.7);
    assert_eq!((j.outcome, j.rule), (Outcome::Pass, Rule::MaxZsRcd));
    assert_eq!(j.lacking, Lacking::empty());
    let j = read(9000.0);
    assert_eq!((j.outcome, j.lacking), (Outcome::CannotSay, Lacking::LIMIT));
}

/// Contacts are no more than half of what was read: R2 of 10 mm² (1.83 Ω/km) is 8.3 mΩ, and 13.97 of 6 mm² (3.08);
/// 29.9 mΩ may be that and its contacts, 0.02 Ω off would leave 9.9.
#[test]
fn contacts_are_at_most_half_of_a_small_reading() {
    let b = Bench::tn(circuit(&[section(8.3 / 1.83, 10.0, 10.0)]));
    let m = Accuracy::new(0.0, 0.0, 0.0001).unwrap();
    let j = continuity::r2(&b.at(20.0), Shown::Value(0.0299), &m);
    assert_eq!(j.suspects, SMALLER);
}

#[test]
fn armour_of_nothing_is_no_reading() {
    let mut b = behind_a_feed(None);
    assert!(b.at(20.0).armour().is_some());
    b.circuit.sections[0].part = Part::Spur;
    assert_eq!(b.at(20.0).armour(), None);
}

/// Up to 16 mm² armour has no more a.c. resistance: 50 m of 1.15 Ω/km and of 2 Ω/km, at 90 and 80 °C.
#[test]
fn armour_of_16_mm2_has_no_ac_factor() {
    let mut run = behind_a_feed(None).circuit.sections[0];
    run.csa = SquareMm::raw(16.0);
    let b = Bench::tn(circuit(&[run]));
    let (line, steel) = (0.050 * 1.15, 0.050 * 2.0);
    let hot = line * 324.5 / 254.5 + steel * 282.0 / 222.0;
    let own = b.at(20.0).max_r1r2().unwrap() * hot / (line + steel);
    near(0.2 + own, 0.95 * 230.0 / 160.0, 1e-5);
}

/// Leads are taken off each of the three; they may not be off by more than 5 % of the mean, 1.2 times the most.
#[test]
fn three_stakes_that_agree_or_not() {
    use super::electrode::{agreement, fall_of_potential};
    // 1.2 · 1/24 is just 5 %, which is not below it.
    let a = agreement([41.5, 39.84, 38.18]);
    assert_eq!((a.scaled, a.valid), (0.05, false));
    assert!(!agreement([25.01, 24.0, 22.99]).valid);
    assert!(agreement([24.99, 24.0, 23.01]).valid);
    assert!(!agreement([0.0; 3]).valid);
    let leads = Accuracy::new(0.02, 0.0, 0.01)
        .unwrap()
        .with_lead(10.0)
        .unwrap();
    let read = [61.0, 60.0, 59.0].map(Shown::Value);
    let j = fall_of_potential(read, &leads, Some(200.0));
    // 50 Ω, give or take 1.2 · 1/50; half a step and 2 % of that.
    near(j.value.unwrap(), 50.0, 1e-6);
    let i = j.interval.unwrap();
    near(i.low, (50.0 * (1.0 - 0.024) - 0.005) * 0.98, 1e-5);
    near(i.high.unwrap(), (50.0 * (1.0 + 0.024) + 0.005) * 1.02, 1e-5);
}

#[test]
fn rcds_just_at_their_limits() {
    use rcd::{Multiple, Wave};
    let m = Accuracy::new(0.0, 0.0, 0.0001).unwrap();
    let a = residual(0.03, RcdType::A, RcdDelay::None);
    // It did not operate up to IΔn.
    let j = rcd::ramp(&a, Wave::Sine, Shown::Above(0.03), &m);
    assert_eq!((j.outcome, j.meaning), (Outcome::Fail, Meaning::NoTrip));
    let j = rcd::ramp(&a, Wave::Sine, Shown::Above(0.0299), &m);
    assert_eq!(j.meaning, Meaning::TestTooShort);
    // In time both ways, the latest is the limit that is told.
    let s = residual(0.1, RcdType::A, RcdDelay::Selective);
    let j = rcd::time(&s, Wave::Sine, Multiple::One, Shown::Value(0.3), &m);
    assert_eq!(
        (j.outcome, j.sense, j.limit),
        (Outcome::Pass, Sense::AtMost, Some(0.5))
    );
}

#[test]
fn a_volt_drop_by_its_readings() {
    let b = radial();
    let d = b.at(20.0);
    let (ib, rise) = (20.0, 304.5 / 254.5);
    // 3 % and three digits and a half of each.
    let z = Accuracy::new(0.03, 3.0, 0.01).unwrap();
    let j = volt_drop::by_impedances(&d, Shown::Value(0.45), Shown::Value(0.20), &z);
    let i = j.interval.unwrap();
    let ends = |v: f32| ((v - 0.005) * 0.97 - 0.03, (v + 0.005) * 1.03 + 0.03);
    let (point, origin) = (ends(0.45), ends(0.20));
    near(i.low, (point.0 - origin.1) * ib * rise, 1e-4);
    near(i.high.unwrap(), (point.1 - origin.0) * ib * rise, 1e-4);
    // A current that may be none: no upper end.
    let volts = Accuracy::new(0.001, 1.0, 0.1).unwrap();
    let amps = Accuracy::new(0.02, 1.0, 0.1).unwrap();
    let of = |current| {
        volt_drop::by_voltages(
            &d,
            Shown::Value(233.0),
            Shown::Value(225.0),
            &volts,
            Shown::Value(current),
            &amps,
        )
    };
    assert_eq!(of(0.1).interval.unwrap().high, None);
    assert!(of(0.2).interval.unwrap().high.is_some());
}

/// 3 % for lighting, by what the circuit is for or by its load; 5 % for other uses.
#[test]
fn the_limit_of_a_volt_drop_is_that_of_its_use() {
    for (purpose, class, limit) in [
        (Use::Fixed, LoadClass::Other, Some(11.5)),
        (Use::Lighting, LoadClass::Other, Some(6.9)),
        (Use::Fixed, LoadClass::Lighting, Some(6.9)),
        (Use::Lighting, LoadClass::Lighting, Some(6.9)),
        (Use::Distribution, LoadClass::Other, None),
    ] {
        let mut b = radial();
        b.circuit.purpose = purpose;
        b.circuit.load.class = class;
        let told = volt_drop::limit(&b.at(20.0));
        assert_eq!(told.is_some(), limit.is_some());
        if let (Some(told), Some(limit)) = (told, limit) {
            near(told, limit, 1e-6);
        }
    }
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

/// Each of what is left off or can't be read is enough for no pass.
#[test]
fn what_is_left_off_is_no_pass() {
    let needs = Steps::INSULATION | Steps::POLARITY;
    let good = all_pass(needs);
    assert_eq!(good.outcome(needs), Outcome::Pass);
    assert_eq!(good.made(), needs);
    for n in 0..3 {
        let mut done = all_pass(needs);
        done.energised = true;
        assert_eq!(sequence::next(needs, &done), Next::Complete);
        *[
            &mut done.unreadable,
            &mut done.gear_out,
            &mut done.earthing_out,
        ][n] = true;
        assert_eq!(done.outcome(needs), Outcome::CannotSay, "{n}");
        assert!(
            matches!(sequence::next(needs, &done), Next::Energise(_)),
            "{n}"
        );
    }
    // What is needed and was not made; what was made and is not needed counts as it came out.
    assert_eq!(good.outcome(needs | Steps::ZS), Outcome::CannotSay);
    let mut more = all_pass(needs);
    more.set(Step::Zs, Outcome::Fail);
    assert_eq!(more.outcome(needs), Outcome::Fail);
    assert_eq!(more.made(), needs | Steps::ZS);
}

#[test]
fn tests_of_a_circuit_by_what_it_is() {
    let site = Site {
        origin: false,
        bonding: false,
        gear: false,
    };
    let b = radial();
    let of = |c: &Circuit, source: &Source| sequence::needs(c, source, site);
    let usual = Steps::INSULATION | Steps::POLARITY | Steps::PROTECTIVE | Steps::ZS | Steps::ZE;
    assert_eq!(of(&b.circuit, &b.source), usual);
    let rcd = Some(residual(0.03, RcdType::A, RcdDelay::None));
    // Its own RCD, or one at the board.
    let own = Circuit {
        rcd,
        ..b.circuit.clone()
    };
    let at_board = Source { rcd, ..b.source };
    assert_eq!(of(&own, &b.source), usual | Steps::RCD);
    assert_eq!(of(&b.circuit, &at_board), usual | Steps::RCD);
    let bare = circuit(&[Section {
        protective: Protective::None,
        ..section(30.0, 4.0, 1.5)
    }]);
    let without = usual - Steps::PROTECTIVE - Steps::ZS;
    assert_eq!(of(&bare, &b.source), without);
}

#[test]
fn rcds_in_a_row() {
    for (upstream, downstream, is) in [
        ((0.3, RcdDelay::Selective), (0.1, RcdDelay::None), true),
        (
            (0.3, RcdDelay::Selective),
            (0.1, RcdDelay::Selective),
            false,
        ),
        ((0.3, RcdDelay::None), (0.1, RcdDelay::None), false),
        ((0.1, RcdDelay::Selective), (0.1, RcdDelay::None), false),
        ((0.5, RcdDelay::Selective), (0.3, RcdDelay::None), false),
    ] {
        let of = |(i, delay)| residual(i, RcdType::A, delay);
        assert_eq!(sequence::selective(&of(upstream), &of(downstream)), is);
    }
    let place = |electrode, origin| sequence::notes_of_place(electrode, origin).to_vec();
    assert_eq!(place(false, false), []);
    assert_eq!(place(false, true), [Note::EarthingBack]);
    assert_eq!(
        place(true, false),
        [Note::ElectrodeFirst, Note::EarthingBack]
    );
    assert_eq!(
        place(true, true),
        [Note::ElectrodeFirst, Note::EarthingBack]
    );
}

/// Two cores are brown and blue, three brown, black and grey, four have blue too, five green-and-yellow.
#[test]
fn functions_without_a_core_of_their_colour() {
    use ring::Conductors as C;
    let of = |cores, phase, protective| {
        sequence::unmarked(&armoured(20.0, 10.0, cores, protective), phase)
    };
    let core = Protective::Core(conductor(10.0));
    let armour = Protective::Armour(None);
    for (cores, phase, protective, lacks) in [
        (2, Phase::L1, armour, C::empty()),
        (3, Phase::L1, armour, C::NEUTRAL),
        (3, Phase::L1, core, C::NEUTRAL | C::PROTECTIVE),
        (3, Phase::Three, armour, C::empty()),
        (3, Phase::Three, core, C::PROTECTIVE),
        (4, Phase::Three, armour, C::empty()),
        (4, Phase::Three, core, C::PROTECTIVE),
        (4, Phase::L1, core, C::PROTECTIVE),
        (5, Phase::Three, core, C::empty()),
    ] {
        assert_eq!(of(cores, phase, protective), lacks, "{cores} {phase:?}");
    }
    // Other cables have their protective conductor in its colour.
    assert_eq!(
        sequence::unmarked(&section(20.0, 10.0, 10.0), Phase::L1),
        C::empty()
    );
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
