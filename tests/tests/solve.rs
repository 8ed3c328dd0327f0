//! The searches on one installation by hand: what governs, what a change does, and what each answer is worth.

use faultpath::assess::assess;
use faultpath::conductor::{Material, flat_twin_protective, made};
use faultpath::device::{Curve, Device, Family};
use faultpath::network::{CircuitId, Installation, Part, Protective, Shape};
use faultpath::quantity::{Amps, Metres, SquareMm};
use faultpath::solve::{
    Change, apply, changes, governing, greatest_length, judge, largest_rating, longest, material,
    set_csa, smallest_csa,
};
use faultpath::supply::Earthing;
use faultpath::verdict::{Finding, Outcome, Place, Report};
use faultpath_tests::sub_main::sub_main;

type House = Installation<2, 13>;
const OF: Earthing = Earthing::TnCS;
/// Lights of two sections, a ring with a spur, and the cooker; the feed is the first.
const LIGHTS: CircuitId = CircuitId(1);
const RING: CircuitId = CircuitId(5);
const COOKER: CircuitId = CircuitId(12);

fn mm2(v: f32) -> SquareMm {
    SquareMm::new(v).unwrap()
}

fn lengthened(id: CircuitId, length: f32) -> Box<House> {
    let mut house = sub_main::<13>();
    house.circuits[usize::from(id.0)].sections[0].length = Metres::new(length).unwrap();
    house
}

fn good(house: &House, id: CircuitId) -> bool {
    judge(house, OF, id).0 == Outcome::Pass
}

/// The worst finding of the circuit itself, and of those that of the cable's which is nearest to its limit.
#[test]
fn what_governs() {
    for (id, length) in [
        (COOKER, 14.0),
        (COOKER, 140.0),
        (LIGHTS, 12.0),
        (RING, 45.0),
    ] {
        let house = lengthened(id, length);
        let mut all = Report::<256>::default();
        let _ = assess(&*house, OF, &mut all);
        let own = all
            .findings
            .iter()
            .filter(|f| f.place == Place::Circuit(id));
        let own: Vec<&Finding> = own.collect();
        let worst = own.iter().map(|f| f.outcome).max().unwrap();
        let margin = |f: &Finding| {
            let of_cable = f.check.is_of_conductors();
            f.margin().filter(|_| of_cable).unwrap_or(f32::INFINITY)
        };
        let least = own.iter().filter(|f| f.outcome == worst);
        let least = least
            .min_by(|a, b| margin(a).total_cmp(&margin(b)))
            .unwrap();
        assert_eq!(governing(&*house, OF, id), Some(**least));
        assert_eq!(judge(&*house, OF, id).0, worst);
    }
    assert_eq!(governing(&*sub_main::<13>(), OF, CircuitId(99)), None);
    assert_eq!(
        judge(&*sub_main::<13>(), OF, CircuitId(99)),
        (Outcome::CannotSay, None)
    );
}

#[test]
fn the_longest_of_a_run() {
    let mut house = sub_main::<13>();
    assert_eq!(longest(&house.circuits[1]), Some((0, 12.0)));
    house.circuits[1].sections[1].length = Metres::new(12.5).unwrap();
    assert_eq!(longest(&house.circuits[1]), Some((1, 12.5)));
    house.circuits[1].sections[1].length = Metres::new(12.0).unwrap();
    assert_eq!(longest(&house.circuits[1]), Some((0, 12.0)));
    // However long, a spur is not of the run.
    let ring = &mut house.circuits[5];
    assert_eq!(ring.sections[1].part, Part::Spur);
    ring.sections[1].length = Metres::new(80.0).unwrap();
    assert_eq!(longest(ring), Some((0, 45.0)));
    ring.sections[0].part = Part::Spur;
    assert_eq!(longest(ring), None);
}

#[test]
fn a_size_is_set_with_what_is_of_the_same_cable() {
    let mut house = sub_main::<13>();
    // Flat twin is made with one protective conductor for each size.
    let cooker = &mut house.circuits[12];
    set_csa(cooker, mm2(4.0));
    let core = |c: &faultpath::network::Circuit| match c.sections[0].protective {
        Protective::Core(c) | Protective::ArmourAndCore(_, c) => c.csa,
        _ => panic!("a core"),
    };
    assert_eq!(cooker.sections[0].csa, mm2(4.0));
    assert_eq!(Some(core(cooker)), flat_twin_protective(mm2(4.0)));
    // A core as large as the lines stays so; one of its own size stays that.
    let feed = &mut house.circuits[0];
    feed.sections[0].neutral = Some(mm2(35.0));
    feed.sections[1].neutral = Some(mm2(16.0));
    set_csa(feed, mm2(50.0));
    assert_eq!((feed.sections[0].csa, core(feed)), (mm2(50.0), mm2(50.0)));
    assert_eq!(feed.sections[0].neutral, Some(mm2(50.0)));
    assert_eq!(feed.sections[1].neutral, Some(mm2(16.0)));
    let Protective::ArmourAndCore(_, own) = &mut feed.sections[0].protective else {
        panic!("armour and core")
    };
    own.csa = mm2(16.0);
    set_csa(feed, mm2(70.0));
    assert_eq!((feed.sections[0].csa, core(feed)), (mm2(70.0), mm2(16.0)));
    assert_eq!(material(feed), Some(Material::Copper));
    feed.sections[1].material = Material::Aluminium;
    assert_eq!(material(feed), None);
}

#[test]
fn each_search_finds_the_last_good_one() {
    for (id, length) in [(COOKER, 14.0), (COOKER, 60.0), (LIGHTS, 12.0)] {
        let house = lengthened(id, length);
        let n = usize::from(id.0);
        let with = |change: Change| {
            let mut other = house.clone();
            apply(&mut other.circuits[n], &change);
            good(&other, id)
        };
        let mut searched = house.clone();
        let csa = smallest_csa(&mut *searched, OF, id).unwrap();
        assert_eq!(*searched, *house);
        for size in made(Material::Copper).iter().map(|s| mm2(*s)) {
            if size < csa {
                assert!(!with(Change::Csa(size)), "{size:?}");
            }
        }
        assert!(with(Change::Csa(csa)));
        if length < 20.0 {
            let device = house.circuits[n].device;
            let best = largest_rating(&mut *searched, OF, id).unwrap();
            assert!(with(Change::Device(best)));
            for rating in Device::ratings(device.family()) {
                let other = device.with_rating(Amps::new(*rating).unwrap()).unwrap();
                if *rating > best.rating().get() {
                    assert!(!with(Change::Device(other)), "{rating}");
                }
            }
            let (section, most) = greatest_length(&mut *searched, OF, id).unwrap();
            assert_eq!(*searched, *house);
            assert_eq!(section, 0);
            assert!(with(Change::Length(0, most)));
            let next = Metres::new(most.get().next_up()).unwrap();
            assert!(!with(Change::Length(0, next)));
        }
    }
}

/// What is told are changes that make it good, each kind once, and every kind that there is.
#[test]
fn what_would_make_it_good() {
    assert_eq!(told(&sub_main::<13>(), COOKER), []);
    let mut house = lengthened(COOKER, 140.0);
    let c = &mut house.circuits[12];
    c.sections[0].laying.grouped = 6;
    // A curve that asks for more current, a breaker without an RCD: another curve and an RCD help.
    c.device = Device::new(Family::Breaker(Curve::C), Amps::new(32.0).unwrap()).unwrap();
    c.device = c
        .device
        .with_breaking(Amps::new(6000.0).unwrap())
        .with_energy_class_3();
    (c.rcd, c.concealed) = (None, false);
    for length in [14.0, 25.0, 40.0, 60.0, 140.0] {
        house.circuits[12].sections[0].length = Metres::new(length).unwrap();
        let changes = told(&house, COOKER);
        let kind = |c: &Change| match c {
            Change::Csa(_) => 0,
            Change::Device(d) if d.family() == Family::Breaker(Curve::C) => 1,
            Change::Device(_) => 2,
            Change::Rcd(_) => 3,
            Change::CoreBesideArmour(_) => 4,
            Change::Ungrouped(_) => 5,
            _ => 6,
        };
        let kinds: Vec<u8> = changes.iter().map(kind).collect();
        assert!(kinds.windows(2).all(|w| w[0] < w[1]), "{kinds:?}");
        for change in &changes {
            let mut other = house.clone();
            apply(&mut other.circuits[12], change);
            assert!(good(&other, COOKER), "{length} {change:?}");
        }
        if good(&house, COOKER) {
            assert!(changes.is_empty());
            continue;
        }
        // Curve B needs half the current of C.
        let mut other = house.clone();
        let c = &mut other.circuits[12];
        c.device = c.device.with_family(Family::Breaker(Curve::B)).unwrap();
        assert_eq!(kinds.contains(&2), good(&other, COOKER), "{length}");
        let mut other = house.clone();
        other.circuits[12].sections[0].laying.grouped = 1;
        assert_eq!(kinds.contains(&5), good(&other, COOKER), "{length}");
        let sizes = made(Material::Copper).iter().any(|s| {
            let mut other = house.clone();
            set_csa(&mut other.circuits[12], mm2(*s));
            good(&other, COOKER)
        });
        assert_eq!(kinds.contains(&0), sizes, "{length}");
        let mut searched = house.clone();
        let length = greatest_length(&mut *searched, OF, COOKER).is_ok();
        assert_eq!(kinds.contains(&6), length);
        assert_eq!(house.circuits[12].shape, Shape::Radial);
    }
}

fn told(house: &House, id: CircuitId) -> Vec<Change> {
    let mut searched = house.clone();
    let mut all = Vec::new();
    changes(&mut searched, OF, id, |c| all.push(c));
    assert_eq!(searched, *house);
    all
}
