//! A circuit and a supply for the probes, of figures that the compiler does not know.
#![allow(dead_code)]

use faultpath::cable::{Arrangement, Laying, Method};
use faultpath::conductor::{Construction, Insulation, Material};
use faultpath::device::{Curve, Device, Family, Rcd, RcdDelay, RcdType};
use faultpath::network::{
    BoardId, Circuit, Demand, Load, Part, Phase, Protective, Section, Shape, Use,
};
use faultpath::profile::LoadClass;
use faultpath::quantity::{Amps, Celsius, Metres, Ohms, Ratio, SquareMm, Volts};
use faultpath::supply::{Conductor, Earthing, FaultLevel, Origin, Phases, Supply, SupplyEarthing};

/// Length, areas of line and protective conductor, rating, IΔn, load, Ze.
pub const FIGURES: [f32; 7] = [20.0, 2.5, 1.5, 16.0, 0.03, 13.0, 0.35];

/// A final circuit on a breaker with an RCD.
pub fn circuit(n: &[f32; 7]) -> Option<Circuit> {
    let [length, line, protective, rating, residual, load, _] = *n;
    let core = Conductor {
        material: Material::Copper,
        csa: SquareMm::new(protective).ok()?,
    };
    let section = Section {
        length: Metres::new(length).ok()?,
        part: Part::Run,
        spur_fuse: None,
        material: Material::Copper,
        csa: SquareMm::new(line).ok()?,
        neutral: None,
        insulation: Insulation::Thermoplastic70,
        construction: Construction::Multicore,
        cores: 3,
        operating_limit: None,
        protective: Protective::Core(core),
        laying: Laying {
            method: Method::Clipped,
            ambient: Celsius::new(30.0).ok()?,
            grouped: 1,
            arrangement: Arrangement::Bunched,
            soil: None,
            depth: None,
            insulation_run: None,
        },
    };
    let breaker = Device::new(Family::Breaker(Curve::B), Amps::new(rating).ok()?).ok()?;
    let mut sections = heapless::Vec::new();
    sections.push(section).ok()?;
    Some(Circuit {
        board: BoardId(0),
        phase: Phase::L1,
        shape: Shape::Radial,
        device: breaker
            .with_breaking(Amps::new(6000.0).ok()?)
            .with_energy_class_3(),
        rcd: Some(Rcd::new(Amps::new(residual).ok()?, RcdType::A, RcdDelay::None).ok()?),
        purpose: Use::Fixed,
        outdoors: false,
        bath: false,
        concealed: false,
        dwelling: true,
        load: Load {
            demand: Demand::Current(Amps::new(load).ok()?),
            power_factor: Ratio::new(1.0).ok()?,
            class: LoadClass::Other,
            points: 1,
        },
        sections,
    })
}

/// A measured single-phase supply.
pub fn supply(n: &[f32; 7]) -> Option<Supply> {
    let [.., ze] = *n;
    Some(Supply {
        u0: Volts::new(230.0).ok()?,
        phases: Phases::Single,
        earthing: SupplyEarthing::Known(Earthing::TnCS),
        ze: Some(Ohms::new(ze).ok()?),
        ze_origin: Origin::Measured,
        ra: None,
        fault_level: FaultLevel::FromZe,
        x_over_r: None,
        device: None,
        neutral: None,
        tails: None,
        earthing_conductor: None,
        extraneous: false,
        bonding: None,
    })
}
