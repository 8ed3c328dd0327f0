//! Times of a whole check: by itself, against bare arithmetic, by the number of circuits. Figures to look at, not
//! verdicts.
//!
//! `cargo bench -p faultpath-tests`

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group};
use faultpath::assess::assess;
use faultpath::network::{CircuitId, Installation};
use faultpath::quantity::Metres;
use faultpath::solve::{changes, greatest_length, largest_rating, smallest_csa};
use faultpath::supply::Earthing;
use faultpath::verdict::{Outcome, Report, Worst};
use faultpath_tests::floor::{self, Told};
use faultpath_tests::sub_main::sub_main;
use faultpath_tests::vectors;
use faultpath_wasm::answer::answer;
use faultpath_wasm::read::read;
use faultpath_wasm::value::Value;
use std::hint::black_box;
use std::time::{Duration, Instant};

fn check(c: &mut Criterion) {
    let mut house = sub_main::<13>();
    assert!(house.check(|at, e| panic!("{at:?}: {e:?}")));
    let mut report = Report::<256>::default();
    assert_eq!(
        assess(&*house, Earthing::TnCS, &mut report),
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
        b.iter(|| assess(black_box(&*house), Earthing::TnCS, &mut Worst::default()))
    });
    g.bench_function("every finding", |b| {
        b.iter(|| {
            let mut report = Report::<256>::default();
            assess(black_box(&*house), Earthing::TnCS, &mut report);
            black_box(report.outcome)
        })
    });
    let id = CircuitId(12);
    g.bench_function("smallest conductor", |b| {
        b.iter(|| smallest_csa(black_box(&mut *house), Earthing::TnCS, id))
    });
    g.bench_function("largest rating", |b| {
        b.iter(|| largest_rating(black_box(&mut *house), Earthing::TnCS, id))
    });
    g.bench_function("greatest length", |b| {
        b.iter(|| greatest_length(black_box(&mut *house), Earthing::TnCS, id))
    });
    // A circuit that fails, for there to be something to change.
    house.circuits[12].sections[0].length = Metres::new(140.0).unwrap();
    let mut told = 0;
    changes(&mut *house, Earthing::TnCS, id, |_| told += 1);
    assert!(told > 0);
    g.bench_function("every change that helps", |b| {
        b.iter(|| {
            changes(black_box(&mut *house), Earthing::TnCS, id, |c| {
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

/// Only whether all is well: the least that can be told.
struct Well(bool);

impl Told for Well {
    fn at_most(&mut self, value: f32, limit: f32) {
        self.0 &= value <= limit;
    }
}

fn bare(figures: &floor::Figures) -> bool {
    let mut well = Well(true);
    floor::check(black_box(figures), &mut well);
    well.0
}

fn whole<const C: usize>(house: &Installation<2, C>) -> Outcome {
    let mut worst = Worst::default();
    assess(black_box(house), Earthing::TnCS, &mut worst)
}

/// The quickest of many runs, one way and the other in turn, so that what else the machine does is in both.
fn beside(mut one: impl FnMut(), mut other: impl FnMut()) -> (Duration, Duration) {
    let mut quickest = (Duration::MAX, Duration::MAX);
    for _ in 0..200 {
        let began = Instant::now();
        (0..20).for_each(|_| one());
        let between = Instant::now();
        (0..20).for_each(|_| other());
        quickest.0 = quickest.0.min(between - began);
        quickest.1 = quickest.1.min(between.elapsed());
    }
    (quickest.0 / 20, quickest.1 / 20)
}

fn against_the_floor(c: &mut Criterion) {
    let (house, figures) = (sub_main::<13>(), floor::figures(12));
    assert!(bare(&figures) && whole(&house) == Outcome::Pass);
    let mut g = c.benchmark_group("sub-main with 12 circuits against its floor");
    g.bench_function("whole check", |b| b.iter(|| whole(&house)));
    g.bench_function("bare arithmetic", |b| b.iter(|| bare(&figures)));
    g.finish();
    let (check, floor) = beside(
        || {
            black_box(whole(&house));
        },
        || {
            black_box(bare(&figures));
        },
    );
    let times = check.as_secs_f64() / floor.as_secs_f64();
    println!(
        "whole check {check:?}, bare arithmetic {floor:?}: {times:.2} times the floor; the goal is 3\n"
    );
}

fn one_size<const C: usize>(
    g: &mut criterion::BenchmarkGroup<'_, criterion::measurement::WallTime>,
) {
    let house = sub_main::<C>();
    let circuits = C as u64 - 1;
    g.throughput(Throughput::Elements(circuits));
    g.bench_with_input(
        BenchmarkId::from_parameter(circuits),
        &*house,
        |b, house| {
            b.iter(|| whole(house));
        },
    );
}

/// Host capacities; the time of a circuit is to be the same in all of them.
fn linear(c: &mut Criterion) {
    let mut g = c.benchmark_group("circuits");
    one_size::<11>(&mut g);
    one_size::<101>(&mut g);
    one_size::<1001>(&mut g);
    one_size::<10001>(&mut g);
    g.finish();
}

criterion_group! {
    name = benches;
    config = Criterion::default()
        .warm_up_time(Duration::from_millis(500))
        .measurement_time(Duration::from_secs(2))
        .sample_size(50);
    targets = check, against_the_floor, linear, job
}

/// As criterion's own, but with room for the largest installation, which is made on the stack before it is boxed.
fn main() {
    const STACK: usize = 256 << 20;
    let run = || {
        benches();
        Criterion::default().configure_from_args().final_summary();
    };
    let thread = std::thread::Builder::new().stack_size(STACK);
    thread.spawn(run).unwrap().join().unwrap();
}
