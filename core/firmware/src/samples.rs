//! A circuit and a supply of a few figures: the hut's, and the probes', whose figures the compiler does not know.

use faultpath::cable::{Arrangement, Laying, Method};
use faultpath::conductor::{Construction, Insulation, Material};
use faultpath::device::{Curve, Device, Family, Rcd, RcdDelay, RcdType};
use faultpath::network::{
    BoardId, Circuit, Demand, Load, Part, Phase, Protective, Section, Shape, Use,
};
use faultpath::profile::LoadClass;
use faultpath::quantity::{Amps, Celsius, Metres, Ohms, Ratio, SquareMm, Volts};
use faultpath::supply::{Conductor, Earthing, FaultLevel, Origin, Phases, Supply, SupplyEarthing};

/// What one circuit is wired with, in the units of core.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wired {
    /// Type of the breaker.
    pub curve: Curve,
    /// Its rating.
    pub rating: f32,
    /// IΔn, where there is an RCD.
    pub rcd: Option<f32>,
    /// What it is for.
    pub purpose: Use,
    /// Line conductor.
    pub csa: f32,
    /// Protective conductor.
    pub protective: f32,
    /// Length.
    pub metres: f32,
    /// Kind of cable.
    pub construction: Construction,
    /// Its load; none where it is not known.
    pub load: Option<f32>,
}

/// The circuit of the probes.
pub const PROBE: Wired = Wired {
    curve: Curve::B,
    rating: 16.0,
    rcd: Some(0.03),
    purpose: Use::Fixed,
    csa: 2.5,
    protective: 1.5,
    metres: 20.0,
    construction: Construction::Multicore,
    load: Some(13.0),
};

/// Ze of the supply of the probes.
pub const PROBE_ZE: f32 = 0.35;

/// A circuit of one length of cable, clipped.
pub fn circuit(w: &Wired) -> Option<Circuit> {
    let core = Conductor {
        material: Material::Copper,
        csa: SquareMm::new(w.protective).ok()?,
    };
    let section = Section {
        length: Metres::new(w.metres).ok()?,
        part: Part::Run,
        spur_fuse: None,
        material: Material::Copper,
        csa: SquareMm::new(w.csa).ok()?,
        neutral: None,
        insulation: Insulation::Thermoplastic70,
        construction: w.construction,
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
    let family = match w.rcd {
        Some(_) => Family::Rcbo(w.curve),
        None => Family::Breaker(w.curve),
    };
    let rcd = match w.rcd {
        Some(i) => Some(Rcd::new(Amps::new(i).ok()?, RcdType::A, RcdDelay::None).ok()?),
        None => None,
    };
    let demand = match w.load {
        Some(i) => Demand::Current(Amps::new(i).ok()?),
        None => Demand::NotKnown,
    };
    let mut sections = heapless::Vec::new();
    sections.push(section).ok()?;
    Some(Circuit {
        board: BoardId(0),
        phase: Phase::L1,
        shape: Shape::Radial,
        device: Device::new(family, Amps::new(w.rating).ok()?)
            .ok()?
            .with_breaking(Amps::new(6000.0).ok()?)
            .with_energy_class_3(),
        rcd,
        purpose: w.purpose,
        outdoors: false,
        bath: false,
        concealed: false,
        dwelling: false,
        load: Load {
            demand,
            power_factor: Ratio::new(1.0).ok()?,
            class: LoadClass::Other,
            points: 1,
        },
        sections,
    })
}

/// A single-phase supply whose Ze was measured.
pub fn supply(ze: f32) -> Option<Supply> {
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
