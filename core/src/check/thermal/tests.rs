use super::*;
use crate::device::{Rcd, RcdDelay};
use crate::facts::{circuit_facts, section_facts};
use crate::fixture::{self, amps, house, mm2, near, rcd, section};
use crate::network::{CircuitId, Protective, Use};
use crate::source::{Here, Source};
use crate::supply::{Conductor, Earthing};
use crate::verdict::{Place, Worst};

const PLACE: Place = Place::Circuit(CircuitId(0));

fn plain(curve: Curve, rating: f32) -> Device {
    Device::new(Family::Breaker(curve), amps(rating)).unwrap()
}

fn i2t(v: f32) -> AmpSquaredSeconds {
    AmpSquaredSeconds::raw(v)
}

#[test]
fn which_devices_limit_energy() {
    for (curve, limits) in [(Curve::B, true), (Curve::C, true), (Curve::D, false)] {
        assert_eq!(limits_energy(&plain(curve, 16.0)), limits);
        let rcbo = Device::new(Family::Rcbo(curve), amps(16.0)).unwrap();
        assert_eq!(limits_energy(&rcbo), limits);
    }
    let fuse = Device::new(Family::Bs88_2, amps(16.0)).unwrap();
    assert!(limits_energy(&fuse));
}

/// The greatest energy up to a current, of a device and of the circuit's RCD and one in front of it, where the smallest
/// fault current is as said.
fn energy(device: Device, rcds: [Option<Rcd>; 2], low: f32, high: f32) -> Option<f32> {
    let inst = house();
    let mut circuit = fixture::circuit(0, Use::Fixed, device, Some(1.0), section(10.0, 2.5));
    let mut source = Source::at_origin(&inst.supply, Earthing::TnCS, &inst.profile);
    [circuit.rcd, source.rcd] = rcds;
    let mut sections = Vec::new();
    let mut rec = Worst(Outcome::Pass);
    let here = Here::new(&inst.profile, &source);
    let facts = circuit_facts(&here, &circuit, None, PLACE, &mut sections, &mut rec);
    let edge = device.edge();
    let case = Case {
        here: &here,
        circuit: &circuit,
        edge: &edge,
        facts: &facts,
        sections: &sections,
        conditional: None,
        place: PLACE,
    };
    let mut bounds = Bounds::from_low(&case, low);
    bounds.take_rcds();
    bounds.up_to(high)
}

/// A breaker of type C and 32 A operates at 320 A within 0.1 s, below down to 81.6 A within 60 s; 63 A within 120 s up
/// to 630 A, within an hour up to 160.65 A. An RCD of 30 mA disconnects from 0.15 A within 40 ms, and can break 500 A.
#[test]
fn an_rcd_bounds_the_energy_where_the_device_is_slow() {
    let c32 = plain(Curve::C, 32.0);
    let fast = [Some(rcd(0.03, RcdDelay::None)), None];
    let none = [None; 2];
    let of = |device, rcds, high| energy(device, rcds, 100.0, high);
    let is = |found: Option<f32>, worked: f32| near(found.unwrap(), worked, 1e-6);
    // 300² · 0.04.
    is(of(c32, fast, 300.0), 3600.0);
    is(of(c32, none, 300.0), 90_000.0 * 60.0);
    // 450² · 0.04; by the device from 320 A on it is 450² · 0.1.
    is(of(c32, fast, 450.0), 8100.0);
    // An RCD in front does as well, and the quicker one counts: S has 150 ms from 0.5 A.
    let slow = Some(rcd(0.1, RcdDelay::Selective));
    is(of(c32, [slow, None], 300.0), 13_500.0);
    is(of(c32, [None, fast[0]], 300.0), 3600.0);
    is(of(c32, [slow, fast[0]], 300.0), 3600.0);
    is(of(c32, [fast[0], slow], 300.0), 3600.0);
    // Beyond what it can break it counts up to 320 A, and from there the device: 600² · 0.1.
    is(of(c32, fast, 600.0), 36_000.0);
    is(of(c32, none, 600.0), 102_400.0 * 60.0);
    // By its maker at most 3000 A²s: then 320² · 0.04 of the RCD is more. With 5000 A²s those are.
    is(of(c32.with_let_through(i2t(3000.0)), fast, 600.0), 4096.0);
    is(of(c32.with_let_through(i2t(5000.0)), fast, 600.0), 5000.0);
    // Just what it can break, and no more.
    let c63 = plain(Curve::C, 63.0);
    let hour = 160.65 * 160.65 * 3600.0;
    is(of(c63, fast, 500.0), 10_000.0);
    is(of(c63, fast, 500.1), hour);
    // A device that turns at 500 A is quick where the RCD ends; one that turns at 630 A is not.
    is(of(plain(Curve::C, 50.0), fast, 600.0), 36_000.0);
    is(of(c63, fast, 700.0), hour);
    // The device alone where it is quick all along, 400² · 0.1, and less with the RCD.
    is(energy(c32, none, 330.0, 400.0), 16_000.0);
    is(energy(c32, fast, 330.0, 400.0), 6400.0);
    // The smallest current is more than an RCD can break, or not.
    let b125 = plain(Curve::B, 125.0);
    is(energy(b125, fast, 500.0, 500.0), 10_000.0);
    is(energy(b125, fast, 500.1, 500.1), 500.1 * 500.1 * 120.0);
    is(energy(b125, fast, 500.1, 600.0), 360_000.0 * 120.0);
    // What is not known.
    assert_eq!(energy(c32, fast, f32::NAN, 400.0), None);
    assert_eq!(energy(c32, fast, 330.0, f32::NAN), None);
}

/// A fuse with a time for each current: gG 32 A operates within 5 s and 0.1 s at the currents of its table, and is slow
/// in between. Up to each of them the RCD may stand for it.
#[test]
fn an_rcd_stands_for_a_slow_fuse() {
    let fuse = Device::new(Family::Gg, amps(32.0)).unwrap();
    let at = |t: f32| {
        let i = fuse.disconnecting_current(Seconds::raw(t)).value().unwrap();
        i.get()
    };
    let (slow, quick) = (at(5.0), at(0.1));
    assert!(slow < quick && quick < 500.0);
    let fast = [Some(rcd(0.03, RcdDelay::None)), None];
    // Beyond 0.1 s it lets through what it does there at most; the RCD up to there, 40 ms of it, is less.
    let high = 2000.0;
    near(
        energy(fuse, fast, slow, high).unwrap(),
        quick * quick * 0.1,
        1e-5,
    );
    // Without an RCD its slowest time counts.
    near(
        energy(fuse, [None; 2], slow, high).unwrap(),
        slow * slow * 5.0,
        1e-5,
    );
    // From within its curve the same.
    let middle = at(0.4);
    near(
        energy(fuse, fast, middle, high).unwrap(),
        quick * quick * 0.1,
        1e-5,
    );
}

/// K · √(ln((β + θf)/(β + θi))) with β of copper 234.5 and of aluminium 228; K of aluminium 148, of copper 226 and with
/// its heat of 3.45 MJ/m³K over 17.241 nΩm a little less (IEC 60364-5-54 Annex A).
fn k_of(factor: f64, beta: f64, from: f64, to: f64) -> f32 {
    (factor * ((beta + to) / (beta + from)).ln().sqrt()) as f32
}

/// The size by the line conductor of 16 mm², the same from 70 to 160 °C; of another metal or from another temperature
/// in the ratio of k.
#[test]
fn the_size_of_the_table_is_that_of_the_same_k() {
    let of = |protective| {
        let mut s = section(10.0, 16.0);
        s.protective = protective;
        let own = section_facts(&s, 2, 0, PLACE, &mut Worst(Outcome::Pass));
        by_table(&s, &own)
    };
    let conductor = |material, csa| Conductor {
        material,
        csa: mm2(csa),
    };
    let k_copper = (3.45e6_f64 * 254.5 / 17.241e-3).sqrt() / 1e3;
    assert!(k_copper > 225.6 && k_copper < 225.7);
    let line = k_of(k_copper, 234.5, 70.0, 160.0);
    let is = |found: Option<(f32, f32)>, table: f32, area: f32| {
        let found = found.unwrap();
        near(found.0, table, 1e-5);
        near(found.1, area, 1e-6);
    };
    let copper = |csa| conductor(Material::Copper, csa);
    assert_eq!(of(Protective::Core(copper(16.0))), Some((16.0, 16.0)));
    assert_eq!(of(Protective::Core(copper(10.0))), None);
    // Apart from the cable from 30 °C on: 12.9 mm².
    let table = 16.0 * line / k_of(k_copper, 234.5, 30.0, 160.0);
    is(of(Protective::Separate(copper(16.0))), table, 16.0);
    assert_eq!(of(Protective::Separate(copper(10.0))), None);
    // Of aluminium in the cable: 24.2 mm².
    let aluminium = |csa| conductor(Material::Aluminium, csa);
    let table = 16.0 * line / k_of(148.0, 228.0, 70.0, 160.0);
    is(of(Protective::Core(aluminium(25.0))), table, 25.0);
    assert_eq!(of(Protective::Core(aluminium(16.0))), None);
    // Where its insulation bears more than the line's.
    let mut s = section(10.0, 16.0);
    s.protective = Protective::Core(copper(16.0));
    let mut own = section_facts(&s, 2, 0, PLACE, &mut Worst(Outcome::Pass));
    own.strands[0].last = 250.0;
    let table = 16.0 * line / k_of(k_copper, 234.5, 70.0, 250.0);
    is(by_table(&s, &own), table, 16.0);
}
