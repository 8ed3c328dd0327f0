//! The house that tests change, and what keeps the working.

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
use crate::supply::{
    Conductor, Earthing, EarthingConductor, FaultLevel, Origin, Phases, Supply, SupplyEarthing,
};
use crate::verdict::{Finding, Place, Recorder, Step, Topic};
use heapless::Vec;

pub(crate) fn m(v: f32) -> Metres {
    Metres::new(v).unwrap()
}
pub(crate) fn ohms(v: f32) -> Ohms {
    Ohms::new(v).unwrap()
}
pub(crate) fn ratio(v: f32) -> Ratio {
    Ratio::new(v).unwrap()
}
pub(crate) fn amps(v: f32) -> Amps {
    Amps::new(v).unwrap()
}
pub(crate) fn volts(v: f32) -> Volts {
    Volts::new(v).unwrap()
}
pub(crate) fn near(a: f32, b: f32, share: f32) {
    assert!((a - b).abs() <= share * b.abs(), "{a} is not {b}");
}
/// The next number up or down.
pub(crate) fn step(v: f32, by: i32) -> f32 {
    f32::from_bits(v.to_bits().wrapping_add_signed(by))
}
pub(crate) fn breaker(curve: Curve, rating: f32) -> Device {
    Device::new(Family::Breaker(curve), amps(rating))
        .unwrap()
        .with_breaking(amps(10_000.0))
        .with_energy_class_3()
}

pub(crate) fn mm2(v: f32) -> SquareMm {
    SquareMm::new(v).unwrap()
}

pub(crate) fn section(length: f32, csa: f32) -> Section {
    let csa = mm2(csa);
    Section {
        length: m(length),
        part: Part::Run,
        spur_fuse: None,
        material: Material::Copper,
        csa,
        neutral: None,
        insulation: Insulation::Thermoplastic70,
        construction: Construction::Multicore,
        cores: 3,
        operating_limit: None,
        protective: Protective::Core(Conductor {
            material: Material::Copper,
            csa,
        }),
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

pub(crate) fn circuit(
    board: u16,
    purpose: Use,
    device: Device,
    load: Option<f32>,
    s: Section,
) -> Circuit {
    Circuit {
        board: BoardId(board),
        phase: Phase::L1,
        shape: Shape::Radial,
        device,
        rcd: None,
        purpose,
        outdoors: false,
        bath: false,
        concealed: false,
        dwelling: false,
        load: Load {
            demand: load.map_or(Demand::Derived, |i| Demand::Current(amps(i))),
            power_factor: ratio(1.0),
            class: LoadClass::Other,
            points: 1,
        },
        sections: Vec::from_slice(&[s]).unwrap(),
    }
}

/// A lamp of 1 A, 5 m from its board.
pub(crate) fn lamp(board: u16) -> Circuit {
    circuit(
        board,
        Use::Fixed,
        breaker(Curve::B, 6.0),
        Some(1.0),
        section(5.0, 1.5),
    )
}

pub(crate) fn board(fed_by: Option<u16>) -> Board {
    Board {
        fed_by: fed_by.map(CircuitId),
        earthing: BoardEarthing::AsSupply,
        rcd: None,
        conditional: None,
        enclosure: None,
        extraneous: false,
        bonding: None,
        earthing_conductor: None,
        demand: None,
    }
}

pub(crate) fn earthing_conductor() -> EarthingConductor {
    EarthingConductor {
        conductor: Conductor {
            material: Material::Copper,
            csa: mm2(16.0),
        },
        buried: false,
        mechanical: true,
        corrosion: true,
    }
}

/// A house with a feed of 20 m to a workshop: 10 A in the house, 12 A there.
pub(crate) fn house() -> Installation<4, 8> {
    let supply = Supply {
        u0: volts(230.0),
        phases: Phases::Single,
        earthing: SupplyEarthing::Known(Earthing::TnCS),
        ze: Some(ohms(0.2)),
        ze_origin: Origin::Measured,
        ra: None,
        fault_level: FaultLevel::FromZe,
        x_over_r: Some(ratio(0.0)),
        device: None,
        neutral: Some(mm2(25.0)),
        tails: Some(mm2(25.0)),
        earthing_conductor: Some(earthing_conductor()),
        extraneous: false,
        bonding: None,
    };
    let mut workshop = board(Some(0));
    workshop.earthing_conductor = Some(earthing_conductor());
    Installation {
        profile: Profile::IEC,
        supply,
        boards: Vec::from_slice(&[board(None), workshop]).unwrap(),
        circuits: Vec::from_slice(&[
            circuit(
                0,
                Use::Distribution,
                breaker(Curve::C, 32.0),
                None,
                section(20.0, 10.0),
            ),
            circuit(
                0,
                Use::Fixed,
                breaker(Curve::B, 16.0),
                Some(10.0),
                section(10.0, 2.5),
            ),
            circuit(
                1,
                Use::Fixed,
                breaker(Curve::B, 16.0),
                Some(12.0),
                section(15.0, 2.5),
            ),
        ])
        .unwrap(),
    }
}

pub(crate) fn rcd(i: f32, delay: RcdDelay) -> Rcd {
    Rcd::new(amps(i), RcdType::A, delay).unwrap()
}

/// Keeps the working, and the figures of circuits.
#[derive(Default)]
pub(crate) struct Working {
    pub steps: std::vec::Vec<Step>,
    pub circuits: std::vec::Vec<CircuitFacts>,
}

impl Recorder for Working {
    fn wants_steps(&self) -> bool {
        true
    }
    fn finding(&mut self, _: &Finding) {}
    fn step(&mut self, step: &Step) {
        self.steps.push(*step);
    }
    fn circuit(&mut self, _: CircuitId, facts: &CircuitFacts) {
        self.circuits.push(facts.clone());
    }
}

impl Working {
    pub(crate) fn of(&self, place: Place, topic: Topic) -> std::vec::Vec<Step> {
        let own = self.steps.iter().copied();
        own.filter(|s| s.place == place && s.topic == topic)
            .collect()
    }
}
