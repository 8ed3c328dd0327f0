//! Times of a whole check. Figures to look at, not verdicts.
//!
//! `cargo bench -p faultpath-tests`

use criterion::{Criterion, criterion_group, criterion_main};
use faultpath::assess::assess;
use faultpath::cable::{Arrangement, Construction, Laying, Method};
use faultpath::conductor::{Insulation, Material};
use faultpath::device::{Curve, Device, Family, Rcd, RcdDelay, RcdType};
use faultpath::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Installation, Load, Part, Phase,
    Protective, Section, Shape, Use,
};
use faultpath::profile::{LoadClass, Profile};
use faultpath::quantity::{AmpSquaredSeconds, Amps, Celsius, Metres, Ohms, Ratio, SquareMm, Volts};
use faultpath::solve::{changes, greatest_length, largest_rating, smallest_csa};
use faultpath::supply::{
    Conductor, Earthing, EarthingConductor, FaultLevel, Origin, Phases, Supply, SupplyEarthing,
};
use faultpath::verdict::{Outcome, Report, Worst};
use faultpath_tests::vectors;
use faultpath_wasm::answer::answer;
use faultpath_wasm::read::read;
use faultpath_wasm::value::Value;
use std::hint::black_box;
use std::time::Duration;

fn copper(csa: f32) -> Conductor {
    Conductor {
        material: Material::Copper,
        csa: SquareMm::new(csa).unwrap(),
    }
}

fn laying(method: Method) -> Laying {
    Laying {
        method,
        ambient: Celsius::new(30.0).unwrap(),
        grouped: 1,
        arrangement: Arrangement::Bunched,
        soil: None,
        depth: None,
        insulation_run: None,
    }
}

fn twin(csa: f32, protective: f32, length: f32, method: Method) -> Section {
    Section {
        length: Metres::new(length).unwrap(),
        part: Part::Run,
        spur_fuse: None,
        material: Material::Copper,
        csa: SquareMm::new(csa).unwrap(),
        neutral: None,
        insulation: Insulation::Thermoplastic70,
        construction: Construction::FlatTwin,
        cores: 2,
        operating_limit: None,
        protective: Protective::Core(copper(protective)),
        laying: laying(method),
    }
}

fn final_circuit(
    rating: f32,
    amps: f32,
    purpose: Use,
    class: LoadClass,
    sections: &[Section],
) -> Circuit {
    Circuit {
        board: BoardId(1),
        phase: Phase::L1,
        shape: Shape::Radial,
        device: Device::new(Family::Rcbo(Curve::B), Amps::new(rating).unwrap())
            .unwrap()
            .with_breaking(Amps::new(6000.0).unwrap())
            .with_let_through(AmpSquaredSeconds::new(12e3).unwrap()),
        rcd: Rcd::new(Amps::new(0.03).unwrap(), RcdType::A, RcdDelay::None).ok(),
        purpose,
        outdoors: false,
        bath: false,
        concealed: true,
        dwelling: true,
        load: Load {
            demand: Demand::Current(Amps::new(amps).unwrap()),
            power_factor: Ratio::new(1.0).unwrap(),
            class,
            points: if purpose == Use::Lighting { 8 } else { 1 },
        },
        sections: sections.iter().copied().collect(),
    }
}

/// A supply, a feed of steel-wire armoured cable, and a board with twelve circuits: lights, sockets, two of
/// them rings, heaters, a cooker.
fn sub_main() -> Installation<2, 13> {
    let supply = Supply {
        u0: Volts::new(230.0).unwrap(),
        phases: Phases::Single,
        earthing: SupplyEarthing::Known(Earthing::TnCS),
        ze: Ohms::new(0.25).ok(),
        ze_origin: Origin::Measured,
        ra: None,
        fault_level: FaultLevel::Stated(Amps::new(1500.0).unwrap(), Origin::Measured),
        x_over_r: Ratio::new(0.3).ok(),
        device: Device::new(Family::Bs88_3, Amps::new(100.0).unwrap()).ok(),
        neutral: SquareMm::new(35.0).ok(),
        tails: SquareMm::new(25.0).ok(),
        earthing_conductor: Some(EarthingConductor {
            conductor: copper(16.0),
            buried: false,
            mechanical: true,
            corrosion: true,
        }),
        extraneous: true,
        bonding: Some(copper(10.0)),
    };
    let board = Board {
        fed_by: None,
        earthing: BoardEarthing::AsSupply,
        rcd: None,
        conditional: None,
        enclosure: None,
        extraneous: false,
        bonding: None,
        earthing_conductor: None,
        demand: None,
    };
    let mut house = Installation {
        profile: Profile::UK,
        supply,
        boards: [
            board,
            Board {
                fed_by: Some(CircuitId(0)),
                ..board
            },
        ]
        .into_iter()
        .collect(),
        circuits: Default::default(),
    };
    let mut feed = final_circuit(6.0, 1.0, Use::Fixed, LoadClass::Other, &[]);
    feed.board = BoardId(0);
    feed.purpose = Use::Distribution;
    feed.device = Device::new(Family::Bs88_3, Amps::new(80.0).unwrap()).unwrap();
    feed.rcd = None;
    feed.concealed = false;
    feed.load.demand = Demand::Derived;
    for method in [Method::Clipped, Method::Air] {
        let mut s = twin(35.0, 35.0, 12.0, method);
        s.insulation = Insulation::Thermosetting90;
        s.construction = Construction::Armoured;
        s.cores = 3;
        s.operating_limit = Celsius::new(70.0).ok();
        s.protective = Protective::ArmourAndCore(None, copper(35.0));
        feed.sections.push(s).unwrap();
    }
    house.circuits.push(feed).unwrap();
    let mut add = |c: Circuit| house.circuits.push(c).unwrap();
    for n in 0..4 {
        let lights = [
            twin(1.5, 1.0, 12.0 + n as f32, Method::Clipped),
            twin(1.0, 1.0, 9.0, Method::CeilingThin),
        ];
        add(final_circuit(
            6.0,
            3.0,
            Use::Lighting,
            LoadClass::Lighting,
            &lights,
        ));
    }
    for n in 0..2 {
        let mut ring = final_circuit(
            32.0,
            14.0,
            Use::Sockets,
            LoadClass::Sockets,
            &[
                twin(2.5, 1.5, 45.0 + n as f32, Method::Clipped),
                Section {
                    part: Part::Spur,
                    ..twin(2.5, 1.5, 6.0, Method::Clipped)
                },
            ],
        );
        ring.shape = Shape::Ring;
        add(ring);
    }
    for n in 0..3 {
        let run = [twin(2.5, 1.5, 15.0 + n as f32, Method::Clipped)];
        add(final_circuit(
            16.0,
            6.0,
            Use::Sockets,
            LoadClass::Sockets,
            &run,
        ));
    }
    for n in 0..2 {
        let run = [twin(2.5, 1.5, 18.0 + n as f32, Method::Clipped)];
        add(final_circuit(
            16.0,
            5.0,
            Use::Fixed,
            LoadClass::Heating,
            &run,
        ));
    }
    let run = [twin(6.0, 2.5, 14.0, Method::Clipped)];
    add(final_circuit(
        32.0,
        30.0,
        Use::Fixed,
        LoadClass::Cooker,
        &run,
    ));
    house
}

fn check(c: &mut Criterion) {
    let mut house = sub_main();
    assert!(house.check(|at, e| panic!("{at:?}: {e:?}")));
    let mut report = Report::<256>::default();
    assert_eq!(
        assess(&house, Earthing::TnCS, &mut report),
        Outcome::Pass,
        "{:?}",
        report
            .findings
            .iter()
            .filter(|f| f.outcome != Outcome::Pass)
            .collect::<Vec<_>>()
    );
    let mut g = c.benchmark_group("sub-main with 12 circuits");
    g.bench_function("outcome", |b| {
        b.iter(|| assess(black_box(&house), Earthing::TnCS, &mut Worst::default()))
    });
    g.bench_function("every finding", |b| {
        b.iter(|| {
            let mut report = Report::<256>::default();
            assess(black_box(&house), Earthing::TnCS, &mut report);
            black_box(report.outcome)
        })
    });
    let id = CircuitId(12);
    g.bench_function("smallest conductor", |b| {
        b.iter(|| smallest_csa(black_box(&mut house), Earthing::TnCS, id))
    });
    g.bench_function("largest rating", |b| {
        b.iter(|| largest_rating(black_box(&mut house), Earthing::TnCS, id))
    });
    g.bench_function("greatest length", |b| {
        b.iter(|| greatest_length(black_box(&mut house), Earthing::TnCS, id))
    });
    // A circuit that fails, for there to be something to change.
    house.circuits[12].sections[0].length = Metres::new(140.0).unwrap();
    let mut told = 0;
    changes(&mut house, Earthing::TnCS, id, |_| told += 1);
    assert!(told > 0);
    g.bench_function("every change that helps", |b| {
        b.iter(|| {
            changes(black_box(&mut house), Earthing::TnCS, id, |c| {
                black_box(c);
            })
        })
    });
    g.finish();
}

fn job(c: &mut Criterion) {
    let path = vectors::folder().join("examples/sixty-circuits.json");
    let text = std::fs::read_to_string(path).unwrap();
    let value: Value = serde_json::from_str(&text).unwrap();
    let house = read(&value).house.unwrap();
    assert_eq!(house.circuits.len(), 60);
    let earthing = house.supply.earthing.readings()[0];
    let mut g = c.benchmark_group("job of 60 circuits");
    g.bench_function("read", |b| b.iter(|| read(black_box(&value)).errors.len()));
    g.bench_function("outcome", |b| {
        b.iter(|| assess(black_box(&*house), earthing, &mut Worst::default()))
    });
    g.bench_function("read and answer", |b| {
        b.iter(|| answer(read(black_box(&value))))
    });
    g.finish();
}

criterion_group! {
    name = benches;
    config = Criterion::default()
        .warm_up_time(Duration::from_millis(500))
        .measurement_time(Duration::from_secs(2))
        .sample_size(50);
    targets = check, job
}
criterion_main!(benches);
