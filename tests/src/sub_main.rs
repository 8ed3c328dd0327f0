//! An installation whose checks are timed: a supply, a feed of steel-wire armoured cable, a board with circuits.

use faultpath::cable::{Arrangement, Construction, Laying, Method};
use faultpath::conductor::{Insulation, Material};
use faultpath::device::{Curve, Device, Family, Rcd, RcdDelay, RcdType};
use faultpath::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Installation, Load, Part, Phase,
    Protective, Section, Shape, Use,
};
use faultpath::profile::{LoadClass, Profile};
use faultpath::quantity::{AmpSquaredSeconds, Amps, Celsius, Metres, Ohms, Ratio, SquareMm, Volts};
use faultpath::supply::{
    Conductor, Earthing, EarthingConductor, FaultLevel, Origin, Phases, Supply, SupplyEarthing,
};

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

fn supply() -> Supply {
    Supply {
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
    }
}

fn feed() -> Circuit {
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
    feed
}

/// The circuits of the board, in turn: four of lights, two rings, three of sockets, two heaters, a cooker.
fn circuits() -> Vec<Circuit> {
    let mut all = Vec::new();
    let mut add = |c: Circuit| all.push(c);
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
    all
}

/// The sub-main with as many circuits on its board as there is room for, the feed being the first. Its checks all
/// pass with twelve of them; with more of them the demand is too much.
pub fn sub_main<const C: usize>() -> Box<Installation<2, C>> {
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
    let mut house = Box::new(Installation {
        profile: Profile::UK,
        supply: supply(),
        boards: Default::default(),
        circuits: Default::default(),
    });
    house.boards.push(board).unwrap();
    let fed_by = Some(CircuitId(0));
    house.boards.push(Board { fed_by, ..board }).unwrap();
    house.circuits.push(feed()).unwrap();
    for circuit in circuits().into_iter().cycle().take(C - 1) {
        house.circuits.push(circuit).unwrap();
    }
    house
}
