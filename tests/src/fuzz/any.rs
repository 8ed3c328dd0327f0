//! Installations of whatever bytes say: figures of every kind that a constructor takes, combinations that exist and
//! such that don't. What the library refuses is part of what is tried.

use arbitrary::{Arbitrary, Result, Unstructured};
use faultpath::cable::{Arrangement, Construction, Laying, Method};
use faultpath::conductor::{Insulation, Material, made};
use faultpath::device::{Curve, Device, Family, Rcd, RcdDelay, RcdType};
use faultpath::error::Reason;
use faultpath::impedance::{External, Pair, Z};
use faultpath::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Enclosure, Installation, Load, Part,
    Phase, Protective, Section, Shape, Steel, Use,
};
use faultpath::profile::{DropBasis, LoadClass, Profile};
use faultpath::quantity::{
    AmpSquaredSeconds, Amps, Celsius, KelvinMetresPerWatt, Metres, Ohms, OhmsPerKm, Ratio,
    SquareMm, Volts, Watts,
};
use faultpath::source::{Drop, Source};
use faultpath::supply::{
    Conductor, Earthing, EarthingConductor, FaultLevel, Origin, Phases, Supply, SupplyEarthing,
};
use faultpath::verdict::{Assumed, Lacking};

/// The installation that is tried.
pub type House = Installation<6, 12>;

/// Bytes, as they are asked for.
pub type Bytes<'b, 'u> = &'u mut Unstructured<'b>;

/// One of a list.
fn one<T: Copy>(u: Bytes<'_, '_>, of: &[T]) -> Result<T> {
    u.choose(of).copied()
}

/// Mostly something.
fn maybe<'b, T>(
    u: Bytes<'b, '_>,
    make: impl FnOnce(Bytes<'b, '_>) -> Result<T>,
) -> Result<Option<T>> {
    if u.ratio(3, 4)? {
        make(u).map(Some)
    } else {
        Ok(None)
    }
}

/// A figure: mostly one of the usual, sometimes any at all.
fn figure(u: Bytes<'_, '_>, usual: &[f32]) -> Result<f32> {
    match u.int_in_range(0..=7u8)? {
        0 => f32::arbitrary(u),
        1 | 2 => Ok(one(u, usual)? * (f32::from(u.int_in_range(1..=255u8)?) / 64.0)),
        _ => one(u, usual),
    }
}

/// The same as a quantity; the first of the usual where it has no meaning.
fn quantity<T>(
    u: Bytes<'_, '_>,
    new: fn(f32) -> core::result::Result<T, Reason>,
    usual: &[f32],
) -> Result<T> {
    let v = figure(u, usual)?;
    Ok(new(v)
        .or_else(|_| new(usual[0]))
        .expect("what is usual has a meaning"))
}

fn amps(u: Bytes<'_, '_>) -> Result<Amps> {
    quantity(
        u,
        Amps::new,
        &[
            10.0, 1e-4, 6.0, 16.0, 32.0, 63.0, 100.0, 1500.0, 6000.0, 16e3, 1e6,
        ],
    )
}

fn csa(u: Bytes<'_, '_>, material: Material) -> Result<SquareMm> {
    let sizes = made(material);
    quantity(
        u,
        SquareMm::new,
        if sizes.is_empty() { &[16.0] } else { sizes },
    )
}

fn metres(u: Bytes<'_, '_>) -> Result<Metres> {
    quantity(u, Metres::new, &[12.0, 1e-3, 0.5, 3.0, 30.0, 90.0, 1e6])
}

fn ohms(u: Bytes<'_, '_>) -> Result<Ohms> {
    quantity(
        u,
        Ohms::new,
        &[0.35, 1e-5, 0.02, 0.8, 20.0, 100.0, 1667.0, 1e6],
    )
}

fn celsius(u: Bytes<'_, '_>) -> Result<Celsius> {
    quantity(
        u,
        Celsius::new,
        &[30.0, -60.0, 0.0, 20.0, 40.0, 70.0, 90.0, 1000.0],
    )
}

fn material(u: Bytes<'_, '_>) -> Result<Material> {
    use Material::{Aluminium, Copper, Lead, Steel};
    one(u, &[Copper, Copper, Copper, Aluminium, Steel, Lead])
}

fn conductor(u: Bytes<'_, '_>) -> Result<Conductor> {
    let material = material(u)?;
    Ok(Conductor {
        material,
        csa: csa(u, material)?,
    })
}

fn device(u: Bytes<'_, '_>) -> Result<Device> {
    let curve = one(u, &[Curve::B, Curve::C, Curve::D])?;
    let family = one(
        u,
        &[
            Family::Breaker(curve),
            Family::Rcbo(curve),
            Family::Bs88_2,
            Family::Bs88_3,
            Family::Bs3036,
            Family::Bs1361,
            Family::Bs1362,
            Family::Gg,
        ],
    )?;
    let rating = Amps::new(one(u, Device::ratings(family))?).expect("a rating");
    let mut device = Device::new(family, rating).expect("one that is made");
    if let Some(breaking) = maybe(u, amps)? {
        device = device.with_breaking(breaking);
    }
    if u.ratio(1, 4)? {
        device = device.with_let_through(quantity(u, AmpSquaredSeconds::new, &[15e3, 1e-2, 1e12])?);
    }
    if bool::arbitrary(u)? {
        device = device.with_energy_class_3();
    }
    Ok(device)
}

fn rcd(u: Bytes<'_, '_>) -> Result<Rcd> {
    let sensitivity = Amps::new(one(u, Rcd::sensitivities())?).expect("one that is made");
    let kind = one(u, &[RcdType::Ac, RcdType::A, RcdType::F, RcdType::B])?;
    let delay = one(u, &[RcdDelay::None, RcdDelay::Selective])?;
    let rcd =
        Rcd::new(sensitivity, kind, delay).or_else(|_| Rcd::new(sensitivity, kind, RcdDelay::None));
    Ok(rcd.expect("one that is made"))
}

fn steel(u: Bytes<'_, '_>) -> Result<Steel> {
    Ok(Steel {
        resistance: quantity(u, OhmsPerKm::new, &[2.5, 1e-4, 8.0, 1e5])?,
        area: maybe(u, |u| quantity(u, SquareMm::new, &[62.0, 1e-2, 1e5]))?,
    })
}

fn protective(u: Bytes<'_, '_>) -> Result<Protective> {
    Ok(match u.int_in_range(0..=7u8)? {
        0 => Protective::Separate(conductor(u)?),
        1 => Protective::Armour(maybe(u, steel)?),
        2 => Protective::ArmourAndCore(maybe(u, steel)?, conductor(u)?),
        3 => Protective::Enclosure(steel(u)?),
        4 => Protective::None,
        _ => Protective::Core(conductor(u)?),
    })
}

fn laying(u: Bytes<'_, '_>) -> Result<Laying> {
    use Method::{
        Air, CeilingThick, CeilingThin, Clipped, Conduit, Duct, Ground, InsulatedWall, StudApart,
        StudTouching, Surrounded,
    };
    let gap = Arrangement::Gap(metres(u)?);
    Ok(Laying {
        method: one(
            u,
            &[
                Clipped,
                InsulatedWall,
                Conduit,
                Air,
                Duct,
                Ground,
                CeilingThin,
                CeilingThick,
                StudTouching,
                StudApart,
                Surrounded,
            ],
        )?,
        ambient: celsius(u)?,
        grouped: one(u, &[1, 1, 1, 2, 3, 5, 9, 20, 0, 255])?,
        arrangement: one(
            u,
            &[
                Arrangement::Bunched,
                Arrangement::Bunched,
                Arrangement::SingleLayerWall,
                Arrangement::SingleLayerTray,
                Arrangement::Ladder,
                Arrangement::Touching,
                Arrangement::GapDiameter,
                gap,
            ],
        )?,
        soil: maybe(u, |u| {
            quantity(u, KelvinMetresPerWatt::new, &[2.5, 0.5, 3.0, 1e-2, 1e2])
        })?,
        depth: maybe(u, |u| quantity(u, Metres::new, &[0.7, 0.5, 3.0, 1e-3]))?,
        insulation_run: if u.ratio(1, 8)? {
            Some(metres(u)?)
        } else {
            None
        },
    })
}

fn section(u: Bytes<'_, '_>) -> Result<Section> {
    let material = material(u)?;
    let spur = u.ratio(1, 6)?;
    Ok(Section {
        length: metres(u)?,
        part: if spur { Part::Spur } else { Part::Run },
        spur_fuse: if u.ratio(u8::from(spur) * 3 + 1, 8)? {
            Some(device(u)?)
        } else {
            None
        },
        material,
        csa: csa(u, material)?,
        neutral: if u.ratio(1, 6)? {
            Some(csa(u, material)?)
        } else {
            None
        },
        insulation: one(
            u,
            &[
                Insulation::Thermoplastic70,
                Insulation::Thermosetting90,
                Insulation::Thermoplastic90,
            ],
        )?,
        construction: one(
            u,
            &[
                Construction::Multicore,
                Construction::FlatTwin,
                Construction::SingleCores,
                Construction::Armoured,
            ],
        )?,
        cores: one(u, &[3, 2, 4, 5, 1, 7, 48, 0, 255])?,
        operating_limit: if u.ratio(1, 6)? {
            Some(celsius(u)?)
        } else {
            None
        },
        protective: protective(u)?,
        laying: laying(u)?,
    })
}

/// A circuit of a board.
pub fn circuit(u: Bytes<'_, '_>, board: BoardId, feed: bool) -> Result<Circuit> {
    let purpose = match u.int_in_range(0..=9u8)? {
        0 => Use::Distribution,
        1..=3 => Use::Sockets,
        4..=6 => Use::Lighting,
        _ => Use::Fixed,
    };
    let current = Demand::Current(amps(u)?);
    let power = Demand::Power(quantity(u, Watts::new, &[2300.0, 60.0, 9000.0, 1e-2, 1e8])?);
    let ring = u.ratio(1, 6)?;
    let device = device(u)?;
    let count = one(u, &[1, 1, 1, 2, 3, 6, 0])?;
    let mut circuit = Circuit {
        board,
        phase: one(
            u,
            &[
                Phase::L1,
                Phase::L1,
                Phase::L2,
                Phase::L3,
                Phase::Three,
                Phase::Three,
            ],
        )?,
        shape: if ring { Shape::Ring } else { Shape::Radial },
        device,
        rcd: if u.ratio(1 + 6 * u8::from(device.family().has_rcd()), 8)? {
            Some(rcd(u)?)
        } else {
            None
        },
        purpose: if feed { Use::Distribution } else { purpose },
        outdoors: u.ratio(1, 8)?,
        bath: u.ratio(1, 8)?,
        concealed: bool::arbitrary(u)?,
        dwelling: bool::arbitrary(u)?,
        load: Load {
            demand: one(
                u,
                &[current, current, power, Demand::Derived, Demand::NotKnown],
            )?,
            power_factor: quantity(u, Ratio::new, &[1.0, 0.9, 0.3, 0.05, 0.0, 1.5, 1e3])?,
            class: one(u, &LoadClass::ALL)?,
            points: one(u, &[1, 1, 1, 2, 8, 255, 0])?,
        },
        sections: Default::default(),
    };
    for _ in 0..count {
        // There is room for six.
        let _ = circuit.sections.push(section(u)?);
    }
    Ok(circuit)
}

fn earthing_conductor(u: Bytes<'_, '_>) -> Result<EarthingConductor> {
    Ok(EarthingConductor {
        conductor: conductor(u)?,
        buried: bool::arbitrary(u)?,
        mechanical: bool::arbitrary(u)?,
        corrosion: bool::arbitrary(u)?,
    })
}

fn board(u: Bytes<'_, '_>, fed_by: Option<CircuitId>) -> Result<Board> {
    let own = u.ratio(1, 5)?;
    Ok(Board {
        fed_by,
        earthing: if own {
            BoardEarthing::OwnElectrode(maybe(u, ohms)?)
        } else {
            BoardEarthing::AsSupply
        },
        enclosure: one(
            u,
            &[None, Some(Enclosure::Metal), Some(Enclosure::Insulated)],
        )?,
        rcd: if u.ratio(1, 4)? { Some(rcd(u)?) } else { None },
        conditional: if u.ratio(1, 4)? { Some(amps(u)?) } else { None },
        extraneous: bool::arbitrary(u)?,
        bonding: maybe(u, conductor)?,
        earthing_conductor: maybe(u, earthing_conductor)?,
        demand: match u.int_in_range(0..=9u8)? {
            0 => Board::DEMAND_NOT_KNOWN,
            1 => Some(amps(u)?),
            _ => None,
        },
    })
}

fn supply(u: Bytes<'_, '_>) -> Result<Supply> {
    let origin = |u: Bytes<'_, '_>| one(u, &[Origin::Measured, Origin::Declared, Origin::Typical]);
    let stated = FaultLevel::Stated(amps(u)?, origin(u)?);
    Ok(Supply {
        u0: quantity(
            u,
            Volts::new,
            &[230.0, 230.0, 1e-3, 50.0, 120.0, 400.0, 600.0, 1000.0, 1e5],
        )?,
        phases: one(u, &[Phases::Single, Phases::Three])?,
        earthing: one(
            u,
            &[
                SupplyEarthing::Known(Earthing::TnCS),
                SupplyEarthing::Known(Earthing::TnS),
                SupplyEarthing::Known(Earthing::Tt),
                SupplyEarthing::NotKnown,
            ],
        )?,
        ze: maybe(u, ohms)?,
        ze_origin: origin(u)?,
        ra: maybe(u, ohms)?,
        fault_level: one(
            u,
            &[stated, stated, FaultLevel::FromZe, FaultLevel::NotKnown],
        )?,
        x_over_r: maybe(u, |u| quantity(u, Ratio::new, &[0.3, 0.0, 1.0, 20.0, 1e3]))?,
        device: maybe(u, device)?,
        neutral: maybe(u, |u| csa(u, Material::Copper))?,
        tails: maybe(u, |u| csa(u, Material::Copper))?,
        earthing_conductor: maybe(u, earthing_conductor)?,
        extraneous: bool::arbitrary(u)?,
        bonding: maybe(u, conductor)?,
    })
}

/// A profile: mostly a whole one, sometimes with figures of any kind.
pub fn profile(u: Bytes<'_, '_>) -> Result<Profile> {
    let mut p = one(
        u,
        &[
            Profile::UK,
            Profile::IEC,
            Profile::UK,
            Profile::IEC,
            Profile::NOT_KNOWN,
        ],
    )?;
    p.drop_basis = one(u, &[DropBasis::Full, DropBasis::Load])?;
    if u.ratio(1, 4)? {
        let class = u.choose_index(p.diversity.len())?;
        let d = &mut p.diversity[class];
        for to in [
            &mut p.cmin,
            &mut p.cmax,
            &mut p.drop_lighting,
            &mut p.drop_other,
            &mut p.source_electrode,
            &mut p.touch_voltage,
            &mut p.additional_protection,
            &mut p.sockets_up_to,
            &mut d.first_amps,
            &mut d.first,
            &mut d.rest,
            &mut d.add,
            &mut d.largest,
            &mut d.second,
            &mut d.others,
        ] {
            if u.ratio(1, 6)? {
                *to = figure(u, &[0.95, 1.1, 0.03, 0.05, 0.0, 50.0, 32.0])?;
            }
        }
    }
    Ok(p)
}

/// A whole installation: circuit n mostly feeds board n + 1, and now and then something is linked anyhow.
pub fn house(u: Bytes<'_, '_>) -> Result<House> {
    let mut house = House {
        profile: profile(u)?,
        supply: supply(u)?,
        boards: Default::default(),
        circuits: Default::default(),
    };
    let boards = u.int_in_range(0..=6u16)?;
    for n in 0..boards {
        let feed = match n {
            0 => None,
            _ if u.ratio(1, 16)? => maybe(u, |u| u.int_in_range(0..=13).map(CircuitId))?,
            _ => Some(CircuitId(n - 1)),
        };
        let _ = house.boards.push(board(u, feed)?);
    }
    for n in 0..u.int_in_range(0..=12u16)? {
        let feed = n + 1 < boards;
        let on = match () {
            () if u.ratio(1, 32)? => u.int_in_range(0..=7)?,
            () if feed => u.int_in_range(0..=n)?,
            () => u.int_in_range(0..=boards.saturating_sub(1))?,
        };
        let _ = house.circuits.push(circuit(u, BoardId(on), feed)?);
    }
    Ok(house)
}

/// A source that nothing has checked, as a meter may put one together.
pub fn source(u: Bytes<'_, '_>) -> Result<Source> {
    let z = |u: Bytes<'_, '_>| -> Result<Z> {
        Ok(Z {
            r: figure(u, &[0.1, 0.0, 0.02, 1.0])?,
            x: figure(u, &[0.0, 0.01, 0.3])?,
        })
    };
    let pair = |u: Bytes<'_, '_>| -> Result<Pair> {
        Ok(Pair {
            hot: z(u)?,
            cold: z(u)?,
        })
    };
    let external = |u: Bytes<'_, '_>| -> Result<External> {
        Ok(External {
            magnitude: figure(u, &[0.35, 0.02, 0.8, 20.0])?,
            x_over_r: maybe(u, |u| figure(u, &[0.3, 0.0, 20.0]))?,
        })
    };
    let lines = |u: Bytes<'_, '_>| -> Result<[f32; 3]> {
        Ok([
            figure(u, &[0.0, 1.0])?,
            figure(u, &[0.0, 2.0])?,
            figure(u, &[0.0, 4.0])?,
        ])
    };
    Ok(Source {
        u0: figure(u, &[230.0, 120.0, 400.0])?,
        three_phase: bool::arbitrary(u)?,
        line_index: one(u, &[0, 1, 2, 3, usize::MAX])?,
        earthing: one(u, &[Earthing::TnCS, Earthing::TnS, Earthing::Tt])?,
        loop_external: maybe(u, external)?,
        loop_external_min: maybe(u, external)?,
        ra: maybe(u, |u| figure(u, &[20.0, 200.0]))?,
        supply_min: maybe(u, external)?,
        level: maybe(u, |u| figure(u, &[1500.0, 6000.0]))?,
        line: pair(u)?,
        neutral: pair(u)?,
        protective: pair(u)?,
        drop: maybe(u, |u| {
            Ok(Drop {
                full: lines(u)?,
                load: lines(u)?,
            })
        })?,
        rcd: maybe(u, rcd)?,
        lacking_loop: Lacking::from_bits_truncate(u.arbitrary()?),
        lacking_max: Lacking::from_bits_truncate(u.arbitrary()?),
        assumed_loop: Assumed::from_bits_truncate(u.arbitrary()?),
        assumed_max: Assumed::from_bits_truncate(u.arbitrary()?),
    })
}
