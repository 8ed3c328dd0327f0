//! Nearly everything: an installation of 8 boards and 32 circuits walked and searched, every kind of reading judged
//! against the design. Left out: text, electrodes of far buildings, lost neutrals.
#![no_std]
#![no_main]

#[path = "../start.rs"]
mod start;

use core::cell::UnsafeCell;
use core::hint::black_box;
use core::mem::MaybeUninit;
use faultpath::assess::{assess, assess_circuit};
use faultpath::network::{Board, BoardEarthing, CircuitId, Installation};
use faultpath::profile::Profile;
use faultpath::quantity::Celsius;
use faultpath::reading::fault_loop::Currents;
use faultpath::reading::insulation::{Class, Made};
use faultpath::reading::rcd::{Multiple, Wave};
use faultpath::reading::ring::EndReadings;
use faultpath::reading::{
    Accuracy, Design, Shown, continuity, electrode, fault_loop, insulation, rcd, ring, volt_drop,
};
use faultpath::solve;
use faultpath::source::Source;
use faultpath::supply::Earthing;
use faultpath::verdict::{Finding, Outcome, Recorder, Worst};
use faultpath_firmware::samples;

type House = Installation<8, 32>;

struct Room(UnsafeCell<MaybeUninit<House>>);
// SAFETY: there is one thread and no interrupt.
unsafe impl Sync for Room {}
static HOUSE: Room = Room(UnsafeCell::new(MaybeUninit::uninit()));

static PROFILE: Profile = Profile::UK;

struct Told(Outcome);

impl Recorder for Told {
    fn finding(&mut self, finding: &Finding) {
        self.0 = self.0.worse(black_box(finding).outcome);
    }
}

fn house() -> Option<&'static mut House> {
    let (wired, ze) = black_box((samples::PROBE, samples::PROBE_ZE));
    let circuit = samples::circuit(&wired)?;
    // SAFETY: made here once, and nobody else has it.
    let house = unsafe {
        let house = (*HOUSE.0.get()).as_mut_ptr();
        (&raw mut (*house).profile).write(PROFILE);
        (&raw mut (*house).supply).write(samples::supply(ze)?);
        (&raw mut (*house).boards).write(heapless::Vec::new());
        (&raw mut (*house).circuits).write(heapless::Vec::new());
        &mut *house
    };
    let board = Board {
        fed_by: None,
        earthing: BoardEarthing::AsSupply,
        enclosure: None,
        rcd: None,
        conditional: None,
        extraneous: false,
        bonding: None,
        earthing_conductor: None,
        demand: None,
    };
    house.boards.push(board).ok()?;
    house.circuits.push(circuit).ok()?;
    Some(house)
}

#[inline(never)]
fn walk(house: &House) -> Outcome {
    assess(house, black_box(Earthing::TnCS), &mut Told(Outcome::Pass))
}

#[inline(never)]
fn search(house: &mut House) {
    let id = CircuitId(0);
    let earthing = black_box(Earthing::TnCS);
    let _ = black_box(solve::smallest_csa(house, earthing, id));
    let _ = black_box(solve::largest_rating(house, earthing, id));
    let _ = black_box(solve::greatest_length(house, earthing, id));
    solve::changes(house, earthing, id, |change| {
        black_box(change);
    });
}

#[inline(never)]
fn readings(house: &House) -> Option<()> {
    let circuit = house.circuits.first()?;
    let source = Source::at_origin(&house.supply, Earthing::TnCS, &house.profile);
    let (_, facts) = assess_circuit(
        &house.profile,
        &source,
        circuit,
        None,
        &mut Worst::default(),
    )
    .ok()?;
    let design = Design {
        profile: &house.profile,
        source: &source,
        circuit,
        facts: &facts,
        ambient: Celsius::new(10.0).ok()?,
    };
    let shown = black_box(Shown::value(0.7).ok()?);
    let meter = black_box(Accuracy::new(0.03, 5.0, 0.01).ok()?);
    black_box(continuity::r1r2(&design, shown, &meter));
    black_box(continuity::r2(&design, shown, &meter));
    black_box(continuity::armour(&design, shown, &meter));
    black_box(fault_loop::zs(&design, shown, &meter));
    black_box(fault_loop::ze(shown, &meter, Some(1.0), design.zs()));
    let currents = Currents {
        line_neutral: Some(shown),
        line_earth: Some(shown),
        three_phase: None,
        phases_three: false,
    };
    black_box(fault_loop::fault_current(
        &currents,
        &meter,
        Some(6000.0),
        1.1,
        None,
    ));
    let ends = black_box(EndReadings {
        line: shown,
        neutral: shown,
        protective: shown,
    });
    black_box(ring::judge(&design, Some(ends), &[], &meter));
    let made = Made {
        test_voltage: 500.0,
        gear: false,
        fixed_gear: false,
        circuits: 1,
    };
    black_box(insulation::judge(
        black_box(Class::ExtraLow),
        made,
        shown,
        &meter,
    ));
    let device = black_box(circuit.rcd?);
    black_box(rcd::time(&device, Wave::Sine, Multiple::One, shown, &meter));
    black_box(rcd::ramp(&device, Wave::Sine, shown, &meter));
    black_box(electrode::fall_of_potential(
        [shown; 3],
        &meter,
        Some(100.0),
    ));
    black_box(electrode::by_loop(shown, &meter, Some(100.0)));
    black_box(volt_drop::by_voltages(
        &design, shown, shown, &meter, shown, &meter,
    ));
    Some(())
}

fn work() -> u32 {
    let Some(house) = house() else { return 9 };
    let out = start::measured(|| {
        black_box(readings(house));
        walk(house) as u32
    });
    search(house);
    out
}
