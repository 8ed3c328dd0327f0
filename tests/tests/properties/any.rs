//! Installations made up at random: everything that is made and fits together, good and bad designs alike.

use faultpath::cable::{Arrangement, Construction, Laying, Method};
use faultpath::conductor::{Insulation, Material, flat_twin_protective, made};
use faultpath::device::{Curve, Device, Family, Rcd, RcdDelay, RcdType};
use faultpath::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Enclosure, Installation, Load, Part,
    Phase, Protective, Section, Shape, Steel, Use,
};
use faultpath::profile::{DropBasis, LoadClass, Profile};
use faultpath::quantity::{
    AmpSquaredSeconds, Amps, Celsius, KelvinMetresPerWatt, Metres, Ohms, OhmsPerKm, Ratio,
    SquareMm, Volts, Watts,
};
use faultpath::supply::{
    Conductor, Earthing, EarthingConductor, FaultLevel, Origin, Phases, Supply, SupplyEarthing,
};
use proptest::option::weighted;
use proptest::prelude::*;
use proptest::sample::{Index, select};

// The larger strategies are boxed: by value they do not fit on the stack of a test that is not optimised.

/// The installation of the properties.
pub type House = Installation<4, 12>;

pub fn mm2(v: f32) -> SquareMm {
    SquareMm::new(v).unwrap()
}
pub fn amps(v: f32) -> Amps {
    Amps::new(v).unwrap()
}
pub fn metres(v: f32) -> Metres {
    Metres::new(v).unwrap()
}
fn ohms(v: f32) -> Ohms {
    Ohms::new(v).unwrap()
}
fn ratio(v: f32) -> Ratio {
    Ratio::new(v).unwrap()
}
fn celsius(v: f32) -> Celsius {
    Celsius::new(v).unwrap()
}

/// Numbers between two, both included. Not a range of floats: proptest's own sampler trips over one of its
/// assertions once in ten million of them.
pub fn between(low: f32, high: f32) -> impl Strategy<Value = f32> + Clone {
    const STEPS: u32 = 1 << 20;
    (0..=STEPS).prop_map(move |n| (low + (high - low) * (n as f32 / STEPS as f32)).min(high))
}

pub const FAMILIES: [Family; 12] = [
    Family::Breaker(Curve::B),
    Family::Breaker(Curve::C),
    Family::Breaker(Curve::D),
    Family::Rcbo(Curve::B),
    Family::Rcbo(Curve::C),
    Family::Rcbo(Curve::D),
    Family::Bs88_2,
    Family::Bs88_3,
    Family::Bs3036,
    Family::Bs1361,
    Family::Bs1362,
    Family::Gg,
];

fn origin() -> impl Strategy<Value = Origin> {
    select(vec![Origin::Measured, Origin::Declared, Origin::Typical])
}

pub fn device() -> BoxedStrategy<Device> {
    (
        // Breakers more often: most circuits have them.
        prop_oneof![select(FAMILIES[..6].to_vec()), select(FAMILIES.to_vec())],
        any::<Index>(),
        weighted(0.8, select(vec![3000.0, 4500.0, 6000.0, 10000.0, 25000.0])),
        weighted(0.2, between(1e3, 1e6)),
        any::<bool>(),
    )
        .prop_map(|(family, rating, breaking, let_through, class_3)| {
            let mut d = Device::new(family, amps(*rating.get(Device::ratings(family)))).unwrap();
            if let Some(i) = breaking {
                d = d.with_breaking(amps(i));
            }
            if let Some(e) = let_through {
                d = d.with_let_through(AmpSquaredSeconds::new(e).unwrap());
            }
            if class_3 {
                d = d.with_energy_class_3();
            }
            d
        })
        .boxed()
}

pub fn rcd() -> impl Strategy<Value = Rcd> {
    (
        select(Rcd::sensitivities().to_vec()),
        select(vec![RcdType::Ac, RcdType::A, RcdType::F, RcdType::B]),
        select(vec![RcdDelay::None, RcdDelay::Selective]),
    )
        .prop_filter_map("no such RCD", |(i, kind, delay)| {
            Rcd::new(amps(i), kind, delay).ok()
        })
}

fn conductor() -> impl Strategy<Value = Conductor> {
    (
        select(vec![Material::Copper, Material::Aluminium, Material::Steel]),
        select(vec![1.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0]),
    )
        .prop_map(|(material, csa)| Conductor {
            material,
            csa: mm2(csa),
        })
}

fn earthing_conductor() -> impl Strategy<Value = EarthingConductor> {
    (conductor(), any::<bool>(), any::<bool>(), any::<bool>()).prop_map(
        |(conductor, buried, mechanical, corrosion)| EarthingConductor {
            conductor,
            buried,
            mechanical,
            corrosion,
        },
    )
}

fn fault_level() -> impl Strategy<Value = FaultLevel> {
    prop_oneof![
        6 => (between(200.0, 16e3), origin()).prop_map(|(i, o)| FaultLevel::Stated(amps(i), o)),
        2 => Just(FaultLevel::FromZe),
        1 => Just(FaultLevel::NotKnown),
    ]
}

pub fn supply() -> BoxedStrategy<Supply> {
    let known = (
        prop_oneof![5 => Just(230.0f32), 1 => between(51.0, 600.0)],
        select(vec![Phases::Single, Phases::Three]),
        select(vec![
            SupplyEarthing::Known(Earthing::TnS),
            SupplyEarthing::Known(Earthing::TnCS),
            SupplyEarthing::Known(Earthing::Tt),
            SupplyEarthing::NotKnown,
        ]),
        weighted(0.9, between(0.01, 1.2)),
        origin(),
        weighted(0.7, between(1.0, 200.0)),
        fault_level(),
        weighted(0.5, between(0.0, 3.0)),
    );
    let own = (
        weighted(0.8, device()),
        weighted(0.8, select(vec![16.0f32, 25.0, 35.0, 50.0, 70.0, 120.0])),
        weighted(0.8, select(vec![16.0f32, 25.0, 35.0])),
        weighted(0.8, earthing_conductor()),
        any::<bool>(),
        weighted(0.8, conductor()),
    );
    (known, own)
        .prop_map(
            |(
                (u0, phases, earthing, ze, ze_origin, ra, fault_level, x_over_r),
                (device, neutral, tails, earthing_conductor, extraneous, bonding),
            )| Supply {
                u0: Volts::new(u0).unwrap(),
                phases,
                earthing,
                ze: ze.map(ohms),
                ze_origin,
                ra: ra.map(ohms),
                fault_level,
                x_over_r: x_over_r.map(ratio),
                device,
                neutral: neutral.map(mm2),
                tails: tails.map(mm2),
                earthing_conductor,
                extraneous,
                bonding,
            },
        )
        .boxed()
}

fn arrangement(method: Method) -> BoxedStrategy<Arrangement> {
    use Arrangement::{
        Bunched, Gap, GapDiameter, Ladder, SingleLayerTray, SingleLayerWall, Touching,
    };
    let fitting = match method {
        Method::Duct | Method::Ground => vec![Touching, GapDiameter, Gap(metres(0.3))],
        Method::Clipped => vec![Bunched, SingleLayerWall],
        Method::Air => vec![Bunched, SingleLayerTray, Ladder],
        _ => vec![Bunched],
    };
    prop_oneof![
        12 => select(fitting),
        1 => select(vec![Bunched, SingleLayerWall, Touching, Ladder]),
    ]
    .boxed()
}

fn laying(methods: &'static [Method]) -> impl Strategy<Value = Laying> {
    select(methods).prop_flat_map(|method| {
        (
            prop_oneof![3 => Just(30.0f32), 2 => between(10.0, 55.0)],
            prop_oneof![3 => Just(1u8), 2 => 1u8..8],
            arrangement(method),
            weighted(0.9, between(0.5, 3.0)),
            weighted(0.9, between(0.4, 1.5)),
            weighted(0.1, between(0.01, 0.6)),
        )
            .prop_map(
                move |(ambient, grouped, arrangement, soil, depth, insulation_run)| Laying {
                    method,
                    ambient: celsius(ambient),
                    grouped,
                    arrangement,
                    soil: soil.map(|v| KelvinMetresPerWatt::new(v).unwrap()),
                    depth: depth.map(metres),
                    insulation_run: insulation_run.map(metres),
                },
            )
    })
}

fn steel() -> impl Strategy<Value = Steel> {
    (between(0.3, 8.0), weighted(0.8, between(20.0, 300.0))).prop_map(|(r, area)| Steel {
        resistance: OhmsPerKm::new(r).unwrap(),
        area: area.map(mm2),
    })
}

const FLAT: &[Method] = &[
    Method::InsulatedWall,
    Method::Conduit,
    Method::Clipped,
    Method::Air,
    Method::CeilingThin,
    Method::CeilingThick,
    Method::StudTouching,
    Method::StudApart,
    Method::Surrounded,
];
const ROUND: &[Method] = &[
    Method::InsulatedWall,
    Method::Conduit,
    Method::Clipped,
    Method::Air,
    Method::Duct,
    Method::Ground,
    Method::Surrounded,
];
const ARMOURED: &[Method] = &[
    Method::Clipped,
    Method::Air,
    Method::Duct,
    Method::Ground,
    Method::Surrounded,
];

/// What a section is made of.
type Cable = (
    Material,
    f32,
    Insulation,
    Construction,
    u8,
    Protective,
    Laying,
);

fn insulation() -> impl Strategy<Value = Insulation> {
    select(vec![
        Insulation::Thermoplastic70,
        Insulation::Thermoplastic90,
        Insulation::Thermosetting90,
    ])
}

fn core_of(material: Material, csa: f32) -> Protective {
    Protective::Core(Conductor {
        material,
        csa: mm2(csa),
    })
}

fn flat_twin() -> impl Strategy<Value = Cable> {
    (
        select(vec![1.0f32, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0]),
        select(vec![
            Insulation::Thermoplastic70,
            Insulation::Thermoplastic90,
        ]),
        laying(FLAT),
    )
        .prop_map(|(csa, insulation, laying)| {
            let own = flat_twin_protective(mm2(csa)).unwrap().get();
            (
                Material::Copper,
                csa,
                insulation,
                Construction::FlatTwin,
                2,
                core_of(Material::Copper, own),
                laying,
            )
        })
}

fn unarmoured() -> impl Strategy<Value = Cable> {
    (
        prop_oneof![4 => Just(Material::Copper), 1 => Just(Material::Aluminium)],
        any::<Index>(),
        insulation(),
        any::<bool>(),
        laying(ROUND),
        0..8u8,
        (any::<Index>(), steel()),
    )
        .prop_map(
            |(material, size, insulation, single, laying, kind, (other, steel))| {
                let sizes = made(material);
                let csa = *size.get(sizes);
                let protective = match kind {
                    0..=2 => core_of(material, csa),
                    3 => core_of(material, *other.get(sizes)),
                    4 | 5 => Protective::Separate(Conductor {
                        material: Material::Copper,
                        csa: mm2(*other.get(made(Material::Copper))),
                    }),
                    6 => Protective::Enclosure(steel),
                    _ => Protective::None,
                };
                let construction = if single {
                    Construction::SingleCores
                } else {
                    Construction::Multicore
                };
                (
                    material,
                    csa,
                    insulation,
                    construction,
                    3,
                    protective,
                    laying,
                )
            },
        )
}

fn armoured() -> impl Strategy<Value = Cable> {
    (
        select(vec![
            1.5f32, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0,
        ]),
        2u8..=4,
        laying(ARMOURED),
        0..6u8,
        steel(),
    )
        .prop_map(|(csa, cores, laying, kind, steel)| {
            let own = Conductor {
                material: Material::Copper,
                csa: mm2(csa),
            };
            let protective = match kind {
                0 | 1 => Protective::Armour(None),
                2 | 3 => Protective::ArmourAndCore(None, own),
                4 => Protective::Armour(Some(steel)),
                _ => Protective::ArmourAndCore(Some(steel), own),
            };
            (
                Material::Copper,
                csa,
                Insulation::Thermosetting90,
                Construction::Armoured,
                cores,
                protective,
                laying,
            )
        })
}

pub fn section() -> BoxedStrategy<Section> {
    (
        prop_oneof![3 => flat_twin(), 4 => unarmoured(), 3 => armoured()],
        between(0.5, 60.0),
        weighted(0.1, any::<Index>()),
        weighted(0.2, between(45.0, 90.0)),
        prop_oneof![5 => Just(false), 1 => Just(true)],
        weighted(0.3, select(vec![3.0f32, 13.0])),
    )
        .prop_map(|(cable, length, neutral, limit, spur, fuse)| {
            let (material, csa, insulation, construction, cores, protective, laying) = cable;
            let s = Section {
                length: metres(length),
                part: if spur { Part::Spur } else { Part::Run },
                spur_fuse: fuse
                    .filter(|_| spur)
                    .map(|a| Device::new(Family::Bs1362, amps(a)).unwrap()),
                material,
                csa: mm2(csa),
                neutral: neutral.map(|n| mm2(*n.get(made(material)))),
                insulation,
                construction,
                cores,
                operating_limit: limit.map(celsius),
                protective,
                laying,
            };
            assert_eq!(s.check(), Ok(()));
            s
        })
        .boxed()
}

fn load() -> impl Strategy<Value = Load> {
    (
        prop_oneof![
            6 => between(0.1, 40.0).prop_map(|i| Demand::Current(amps(i))),
            3 => between(50.0, 9000.0).prop_map(|p| Demand::Power(Watts::new(p).unwrap())),
            1 => Just(Demand::Derived),
        ],
        prop_oneof![2 => Just(1.0f32), 1 => between(0.3, 1.0)],
        select(LoadClass::ALL.to_vec()),
        prop_oneof![2 => Just(1u8), 1 => 1u8..9],
    )
        .prop_map(|(demand, pf, class, points)| Load {
            demand,
            power_factor: ratio(pf),
            class,
            points,
        })
}

/// A circuit; board and phase are set by the installation.
pub fn circuit() -> BoxedStrategy<Circuit> {
    (
        device(),
        weighted(0.4, rcd()),
        rcd(),
        select(vec![Use::Sockets, Use::Lighting, Use::Fixed]),
        (any::<bool>(), any::<bool>(), any::<bool>(), any::<bool>()),
        load(),
        proptest::collection::vec(section(), 1..4),
        prop_oneof![4 => Just(Shape::Radial), 1 => Just(Shape::Ring)],
        select(vec![Phase::L1, Phase::L2, Phase::L3, Phase::Three]),
    )
        .prop_map(
            |(device, rcd, own, purpose, flags, load, sections, shape, phase)| {
                let mut c = Circuit {
                    board: BoardId(0),
                    phase,
                    shape,
                    device,
                    rcd: if device.family().has_rcd() {
                        Some(own)
                    } else {
                        rcd
                    },
                    purpose,
                    outdoors: flags.0,
                    bath: flags.1 && flags.2,
                    concealed: flags.2 && flags.3,
                    dwelling: flags.3,
                    load,
                    sections: sections.into_iter().collect(),
                };
                if let Some(s) = c.sections.first_mut() {
                    s.part = Part::Run;
                    s.spur_fuse = None;
                }
                c
            },
        )
        .boxed()
}

fn board() -> BoxedStrategy<Board> {
    (
        prop_oneof![
            6 => Just(BoardEarthing::AsSupply),
            1 => weighted(0.8, between(1.0, 200.0)).prop_map(|ra| BoardEarthing::OwnElectrode(ra.map(ohms))),
        ],
        select(vec![None, Some(Enclosure::Metal), Some(Enclosure::Insulated)]),
        weighted(0.2, rcd()),
        weighted(0.2, between(3000.0, 20e3)),
        prop_oneof![3 => Just(false), 1 => Just(true)],
        weighted(0.8, conductor()),
        weighted(0.8, earthing_conductor()),
        weighted(0.1, between(5.0, 100.0)),
    )
        .prop_map(
            |(
                earthing,
                enclosure,
                rcd,
                conditional,
                extraneous,
                bonding,
                earthing_conductor,
                demand,
            )| Board {
                fed_by: None,
                earthing,
                enclosure,
                rcd,
                conditional: conditional.map(amps),
                extraneous,
                bonding,
                earthing_conductor,
                demand: demand.map(amps),
            },
        )
        .boxed()
}

pub fn profile() -> impl Strategy<Value = Profile> {
    (
        select(vec![Profile::UK, Profile::IEC]),
        select(vec![DropBasis::Full, DropBasis::Load]),
    )
        .prop_map(|(mut p, basis)| {
            p.drop_basis = basis;
            p
        })
}

/// An installation without anything to refuse.
pub fn house() -> BoxedStrategy<House> {
    (
        profile(),
        supply(),
        proptest::collection::vec((board(), any::<Index>()), 1..=4),
        proptest::collection::vec((circuit(), any::<Index>()), 4..=12),
    )
        .prop_map(|(profile, supply, boards, circuits)| {
            let mut house = House {
                profile,
                supply,
                boards: Default::default(),
                circuits: Default::default(),
            };
            // Circuit n feeds board n + 1 from one of those before it; the others are final ones.
            let feeds: Vec<usize> = boards
                .iter()
                .enumerate()
                .skip(1)
                .map(|(n, (_, from))| from.index(n))
                .collect();
            for (n, (mut b, _)) in boards.into_iter().enumerate() {
                b.fed_by = n.checked_sub(1).map(|c| CircuitId(c as u16));
                house.boards.push(b).unwrap();
            }
            for (n, (mut c, on)) in circuits.into_iter().enumerate() {
                if let Some(from) = feeds.get(n) {
                    c.purpose = Use::Distribution;
                    c.shape = Shape::Radial;
                    c.load.points = 1;
                    for s in &mut c.sections {
                        s.part = Part::Run;
                        s.spur_fuse = None;
                    }
                    c.board = BoardId(*from as u16);
                    if on.index(4) != 0 {
                        c.load.demand = Demand::Derived;
                    }
                } else {
                    c.board = BoardId(on.index(house.boards.len()) as u16);
                }
                house.circuits.push(c).unwrap();
            }
            // A phase there is none of; outwards, for a feed decides about what hangs on it.
            for n in 0..house.circuits.len() {
                let three = house.is_three_phase(house.circuits[n].board);
                let c = &mut house.circuits[n];
                if !three && c.phase == Phase::Three {
                    c.phase = Phase::L1;
                }
                if c.phase == Phase::Three {
                    c.shape = Shape::Radial;
                }
            }
            house
        })
        .boxed()
}
