//! The parts of a job, one function for each: supply, profile, board, circuit and what they hold.

use super::fields::{Errors, Fields};
use crate::names::{self, Choices, ProtectiveKind, choices};
use crate::path::Path;
use crate::value::Value;
use faultpath::cable::{Arrangement, Construction, Laying, Method};
use faultpath::conductor::{Insulation, Material};
use faultpath::device::{Device, Rcd};
use faultpath::error::{Field, Reason};
use faultpath::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Load, Part, Phase, Protective,
    SECTIONS, Section, Shape, Steel, Use,
};
use faultpath::profile::{Diversity, LoadClass, Profile};
use faultpath::quantity::{
    AmpSquaredSeconds, Amps, Celsius, KelvinMetresPerWatt, Metres, Ohms, OhmsPerKm, Ratio,
    SquareMm, Volts, Watts,
};
use faultpath::supply::{
    Conductor, EarthingConductor, FaultLevel, Origin, Phases, Supply, SupplyEarthing,
};

/// What a checked constructor gave for a constant.
pub(super) const fn sure<T: Copy>(made: Result<T, Reason>) -> T {
    match made {
        Ok(v) => v,
        Err(_) => panic!("a constant that core refuses"),
    }
}

// What is read goes straight into one of these, whose every field is named where that is done: one that
// nobody reads is a warning, and warnings are errors here. What could not be read whole is dropped.

const CONDUCTOR: Conductor = Conductor {
    material: Material::Copper,
    csa: sure(SquareMm::new(1.0)),
};

const SECTION: Section = Section {
    length: sure(Metres::new(1.0)),
    part: Part::Run,
    spur_fuse: None,
    material: CONDUCTOR.material,
    csa: CONDUCTOR.csa,
    neutral: None,
    insulation: Insulation::Thermoplastic70,
    construction: Construction::Multicore,
    cores: 1,
    operating_limit: None,
    protective: Protective::None,
    laying: Laying {
        method: Method::Surrounded,
        ambient: sure(Celsius::new(30.0)),
        grouped: 1,
        arrangement: Arrangement::Bunched,
        soil: None,
        depth: None,
        insulation_run: None,
    },
};

const SUPPLY: Supply = Supply {
    u0: sure(Volts::new(230.0)),
    phases: Phases::Single,
    earthing: SupplyEarthing::NotKnown,
    ze: None,
    ze_origin: Origin::Typical,
    ra: None,
    fault_level: FaultLevel::NotKnown,
    x_over_r: None,
    device: None,
    neutral: None,
    tails: None,
    earthing_conductor: None,
    extraneous: true,
    bonding: None,
};

/// Also stands in the place of a board that can't be read: fed by nothing there is.
pub(super) const BOARD: Board = Board {
    fed_by: Some(CircuitId(u16::MAX)),
    earthing: BoardEarthing::AsSupply,
    rcd: None,
    conditional: None,
    extraneous: false,
    bonding: None,
    earthing_conductor: None,
    demand: None,
};

/// Also stands in the place of a circuit that can't be read, so that the others keep their places. It has no
/// sections, which core refuses: nothing with it can pass.
pub(super) fn no_circuit(device: Device) -> Circuit {
    Circuit {
        board: BoardId(u16::MAX),
        phase: Phase::L1,
        shape: Shape::Radial,
        device,
        rcd: None,
        purpose: Use::Distribution,
        outdoors: false,
        bath: false,
        concealed: false,
        dwelling: false,
        load: Load {
            demand: Demand::Derived,
            power_factor: sure(Ratio::new(1.0)),
            class: LoadClass::Other,
            points: 1,
        },
        sections: heapless::Vec::new(),
    }
}

fn device(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Device> {
    let mut f = Fields::of(value, path, errors)?;
    let family = f.choice("family", names::FAMILIES);
    let rating = f.needed("rating", Field::Rating, Amps::new);
    let breaking = f.maybe("breaking", Field::BreakingCapacity, Amps::new);
    let energy = f.maybe("let_through", Field::LetThrough, AmpSquaredSeconds::new);
    let class = f.number("energy_class");
    f.finish()?;
    let mut d = match Device::new(family?, rating?) {
        Ok(d) => d,
        Err(e) => {
            f.refuse("rating", e);
            return None;
        }
    };
    if let Some(b) = breaking {
        d = d.with_breaking(b);
    }
    if let Some(e) = energy {
        d = d.with_let_through(e);
    }
    if let Some(class) = class {
        if class != 3.0 {
            f.refuse("energy_class", Reason::NotMade.at(Field::LetThrough));
            return None;
        }
        d = d.with_energy_class_3();
    }
    Some(d)
}

fn rcd(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Rcd> {
    let mut f = Fields::of(value, path, errors)?;
    let sensitivity = f.needed("sensitivity", Field::ResidualCurrent, Amps::new);
    let kind = f.choice("kind", names::RCD_TYPES);
    let delay = f.choice("delay", names::DELAYS);
    f.finish()?;
    match Rcd::new(sensitivity?, kind?, delay?) {
        Ok(rcd) => Some(rcd),
        Err(e) => {
            f.refuse("sensitivity", e);
            None
        }
    }
}

fn conductor(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Conductor> {
    let mut f = Fields::of(value, path, errors)?;
    let material = f.choice("material", names::MATERIALS);
    let csa = f.needed("csa", Field::BondingConductor, SquareMm::new);
    f.finish()?;
    Some(Conductor {
        material: material?,
        csa: csa?,
    })
}

fn earthing_conductor(
    value: &Value,
    path: &Path<'_>,
    errors: &mut Errors,
) -> Option<EarthingConductor> {
    let mut blank = EarthingConductor {
        conductor: CONDUCTOR,
        buried: true,
        mechanical: false,
        corrosion: false,
    };
    let EarthingConductor {
        conductor: Conductor { material, csa },
        buried,
        mechanical,
        corrosion,
    } = &mut blank;
    let mut f = Fields::of(value, path, errors)?;
    f.fill_choice("material", names::MATERIALS, material);
    f.fill("csa", Field::EarthingConductor, SquareMm::new, csa);
    *buried = f.flag("buried");
    *mechanical = f.flag("mechanical");
    *corrosion = f.flag("corrosion");
    f.finish()?;
    Some(blank)
}

pub(super) fn supply(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Supply> {
    const CURRENTS: Choices<bool> = choices! {
        "ac", "a.c." => true;
        "dc", "d.c." => false;
    };
    let mut blank = SUPPLY;
    let Supply {
        u0,
        phases,
        earthing,
        ze,
        ze_origin,
        ra,
        fault_level,
        x_over_r,
        device: incoming,
        neutral,
        tails,
        earthing_conductor: earthing_line,
        extraneous,
        bonding,
    } = &mut blank;
    let mut f = Fields::of(value, path, errors)?;
    let alternating = f.choice("current", CURRENTS);
    f.fill("u0", Field::U0, Volts::new, u0);
    match f.number("phases") {
        Some(1.0) => *phases = Phases::Single,
        Some(3.0) => *phases = Phases::Three,
        other => {
            // What is no number has been named already.
            if other.is_some() || matches!(f.get("phases"), Value::Null) {
                f.wrong("phases", "1 or 3");
            }
        }
    }
    f.fill_choice("earthing", names::SUPPLY_EARTHINGS, earthing);
    f.fill_if_any("ze", Field::Ze, Ohms::new, ze);
    f.fill_choice("ze_from", names::ORIGINS, ze_origin);
    f.fill_if_any("ra", Field::Ra, Ohms::new, ra);
    let level = f.maybe("fault_level", Field::FaultLevel, Amps::new);
    let level_from = f.choice("fault_level_from", names::LEVEL_ORIGINS);
    f.fill_if_any("x_over_r", Field::XOverR, Ratio::new, x_over_r);
    *incoming = f.object("device", device);
    f.fill_if_any("neutral_csa", Field::NeutralCsa, SquareMm::new, neutral);
    f.fill_if_any("tails_csa", Field::Csa, SquareMm::new, tails);
    *earthing_line = f.object("earthing_conductor", earthing_conductor);
    *extraneous = f.flag("extraneous");
    *bonding = f.object("bonding", conductor);
    let _ = f.get("tests");
    f.known()?;
    if alternating == Some(false) {
        f.refuse("current", Reason::DirectCurrent.at(Field::Current));
    }
    f.good.then_some(())?;
    *fault_level = match (level, level_from?) {
        (_, None) => FaultLevel::FromZe,
        (Some(i), Some(origin)) => FaultLevel::Stated(i, origin),
        (None, Some(_)) => FaultLevel::NotKnown,
    };
    if let Err(e) = blank.check() {
        let key = match e.field {
            Field::Ze => "ze",
            Field::FaultLevel => "fault_level",
            _ => "u0",
        };
        f.refuse(key, e);
        return None;
    }
    Some(blank)
}

/// A share or factor, as the profile keeps it.
fn share(v: f32) -> Result<f32, Reason> {
    Ratio::new(v).map(Ratio::get)
}

fn diversity(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Diversity> {
    let mut blank = Profile::IEC.diversity(LoadClass::Other);
    let Diversity {
        first_amps,
        first,
        rest,
        add,
        largest,
        second,
        others,
    } = &mut blank;
    let mut f = Fields::of(value, path, errors)?;
    let mut fill = |key, to| f.fill(key, Field::Diversity, share, to);
    fill("first_amps", first_amps);
    fill("first", first);
    fill("rest", rest);
    fill("add", add);
    fill("largest", largest);
    fill("second", second);
    fill("others", others);
    f.finish()?;
    Some(blank)
}

/// Ready profiles by name.
pub static PROFILES: [(&str, &str, Profile); 2] = [
    ("uk", "United Kingdom", Profile::UK),
    ("iec", "Plain IEC", Profile::IEC),
];

pub(super) fn profile(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Profile> {
    if let Value::Text(name) = value {
        let ready = PROFILES.iter().find(|(n, _, _)| n == name);
        if ready.is_none() {
            errors.at(
                path,
                "no-such-choice",
                "Choose uk or iec, or give a whole profile.".into(),
            );
        }
        return ready.map(|(_, _, p)| *p);
    }
    let mut p = Profile::IEC;
    let Profile {
        cmin,
        cmax,
        drop_lighting,
        drop_other,
        drop_basis,
        source_electrode,
        touch_voltage,
        // A job does not state these: they are the plain profile's.
        additional_protection: _,
        sockets_up_to: _,
        diversity,
    } = &mut p;
    let mut f = Fields::of(value, path, errors)?;
    f.name();
    let mut fill = |key, field, to| f.fill(key, field, share, to);
    fill("cmin", Field::VoltageFactor, cmin);
    fill("cmax", Field::VoltageFactor, cmax);
    fill("drop_lighting", Field::Limit, drop_lighting);
    fill("drop_other", Field::Limit, drop_other);
    fill("source_electrode", Field::Limit, source_electrode);
    fill("touch_voltage", Field::Limit, touch_voltage);
    f.fill_choice("drop_basis", names::DROP_BASES, drop_basis);
    f.fill_part("diversity", diversities, diversity);
    f.finish()?;
    if let Err(e) = p.check() {
        errors.core(path.text(), e);
        return None;
    }
    Some(p)
}

fn diversities(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<[Diversity; 10]> {
    let mut f = Fields::of(value, path, errors)?;
    let mut all = Profile::IEC.diversity;
    for (class, to) in LoadClass::ALL.iter().zip(all.iter_mut()) {
        let key = names::CLASSES.name_of(*class);
        match f.get(key) {
            Value::Null => f.refuse(key, Reason::Missing.at(Field::Diversity)),
            _ => {
                if let Some(d) = f.part(key, diversity) {
                    *to = d;
                }
            }
        }
    }
    f.finish()?;
    Some(all)
}

/// `line` is the section's own line conductor: a core beside the armour is one of the same cable, and so of
/// that size and metal where nothing else is said.
fn protective(
    value: &Value,
    path: &Path<'_>,
    line: Option<Conductor>,
    errors: &mut Errors,
) -> Option<Protective> {
    use ProtectiveKind as Kind;
    let mut f = Fields::of(value, path, errors)?;
    let kind = f.choice("kind", names::PROTECTIVES);
    let mut material = match f.get("material") {
        Value::Null => None,
        _ => f.choice("material", names::MATERIALS),
    };
    let mut csa = f.maybe("csa", Field::ProtectiveCsa, SquareMm::new);
    let resistance = f.maybe("resistance", Field::PerLengthResistance, OhmsPerKm::new);
    f.finish()?;
    let kind = kind?;
    let entered = resistance.map(|resistance| Steel {
        resistance,
        area: if kind == Kind::ArmourAndCore {
            None
        } else {
            csa
        },
    });
    if kind == Kind::ArmourAndCore {
        material = material.or(line.map(|c| c.material));
        csa = csa.or(line.map(|c| c.csa));
    }
    let core = match (material, csa) {
        (Some(material), Some(csa)) => Ok(Conductor { material, csa }),
        (None, _) => Err(("material", Field::Material)),
        (_, None) => Err(("csa", Field::ProtectiveCsa)),
    };
    let made = match kind {
        Kind::Core => core.map(Protective::Core),
        Kind::Separate => core.map(Protective::Separate),
        Kind::Armour => Ok(Protective::Armour(entered)),
        Kind::ArmourAndCore => core.map(|core| Protective::ArmourAndCore(entered, core)),
        Kind::Enclosure => entered
            .map(Protective::Enclosure)
            .ok_or(("resistance", Field::PerLengthResistance)),
        Kind::None => Ok(Protective::None),
    };
    match made {
        Ok(made) => Some(made),
        Err((key, field)) => {
            f.refuse(key, Reason::Missing.at(field));
            None
        }
    }
}

/// An arrangement by itself; where it is none, what it must be.
#[cfg(feature = "evidence")]
pub(crate) fn arrangement(value: &Value) -> Result<Arrangement, String> {
    let mut errors = Errors::default();
    arrangement_at(value, &Path::Root, &mut errors).ok_or_else(|| {
        errors
            .0
            .first()
            .map_or("", |e| e.get("text").text().unwrap_or(""))
            .to_owned()
    })
}

#[allow(clippy::cast_possible_truncation)]
fn arrangement_at(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Arrangement> {
    if let Value::Number(v) = value {
        return match Metres::new(*v as f32) {
            Ok(m) => Some(Arrangement::Gap(m)),
            Err(r) => {
                errors.core(path.text(), r.at(Field::Arrangement));
                None
            }
        };
    }
    let i = errors.pick(value, names::ARRANGEMENTS.words, path)?;
    names::ARRANGEMENTS.values.get(i).copied()
}

fn section(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Section> {
    const PARTS: Choices<Part> = choices! {
        "run", "Run" => Part::Run;
        "spur", "Spur" => Part::Spur;
    };
    let mut blank = SECTION;
    let Section {
        length,
        part,
        spur_fuse,
        material,
        csa,
        neutral,
        insulation,
        construction,
        cores,
        operating_limit: limit,
        protective: earth,
        laying:
            Laying {
                method,
                ambient,
                grouped,
                arrangement,
                soil,
                depth,
                insulation_run: run,
            },
    } = &mut blank;
    let mut f = Fields::of(value, path, errors)?;
    f.fill("length", Field::Length, Metres::new, length);
    f.fill_choice("part", PARTS, part);
    *spur_fuse = f.object("spur_fuse", device);
    let metal = f.choice("material", names::MATERIALS);
    let size = f.needed("csa", Field::Csa, SquareMm::new);
    f.fill_if_any("neutral_csa", Field::NeutralCsa, SquareMm::new, neutral);
    f.fill_choice("insulation", names::INSULATIONS, insulation);
    f.fill_choice("construction", names::CONSTRUCTIONS, construction);
    f.fill_count("cores", Field::Cores, cores);
    f.fill_if_any(
        "operating_limit",
        Field::OperatingTemperature,
        Celsius::new,
        limit,
    );
    let line = metal
        .zip(size)
        .map(|(material, csa)| Conductor { material, csa });
    let protective = protective(
        f.get("protective"),
        &Path::Key(path, "protective"),
        line,
        f.errors,
    );
    f.fill_choice("method", names::METHODS, method);
    f.fill("ambient", Field::Ambient, Celsius::new, ambient);
    f.fill_count("grouped", Field::Grouped, grouped);
    f.fill_part("arrangement", arrangement_at, arrangement);
    f.fill_if_any(
        "soil",
        Field::SoilResistivity,
        KelvinMetresPerWatt::new,
        soil,
    );
    f.fill_if_any("depth", Field::Depth, Metres::new, depth);
    f.fill_if_any("insulation_run", Field::InsulationRun, Metres::new, run);
    f.finish()?;
    (*material, *csa, *earth) = (metal?, size?, protective?);
    Some(blank)
}

fn load(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Load> {
    let mut f = Fields::of(value, path, errors)?;
    let current = f.maybe("current", Field::DesignCurrent, Amps::new);
    let power = f.maybe("power", Field::Power, Watts::new);
    let power_factor = f.needed("power_factor", Field::PowerFactor, Ratio::new);
    let class = f.choice("class", names::CLASSES);
    let points = f.count("points", Field::Points);
    f.known()?;
    if current.is_some() && power.is_some() {
        f.refuse("power", Reason::Contradiction.at(Field::Power));
    }
    f.good.then_some(())?;
    Some(Load {
        demand: match (current, power) {
            (Some(i), _) => Demand::Current(i),
            (None, Some(p)) => Demand::Power(p),
            (None, None) => Demand::Derived,
        },
        power_factor: power_factor?,
        class: class?,
        points: points?,
    })
}

/// A reference by name to something of a list; an unknown one stands as an index beyond all lists, which
/// core refuses.
fn index_of(names: &[&str], name: &str) -> u16 {
    names
        .iter()
        .position(|n| *n == name)
        .and_then(|i| u16::try_from(i).ok())
        .unwrap_or(u16::MAX)
}

/// Whether all of them could be read.
fn sections(
    value: &Value,
    path: &Path<'_>,
    to: &mut heapless::Vec<Section, SECTIONS>,
    errors: &mut Errors,
) -> Option<()> {
    let Value::List(items) = value else {
        errors.kind(path, "a list");
        return None;
    };
    let mut good = Some(());
    for (i, item) in items.iter().enumerate() {
        let path = Path::At(path, i);
        match section(item, &path, errors) {
            Some(s) => {
                if to.push(s).is_err() {
                    errors.core(path.text(), Reason::TooMany.at(Field::Sections));
                    return None;
                }
            }
            None => good = None,
        }
    }
    good
}

/// `blank` is filled; the board's name is looked up among `boards`.
pub(super) fn circuit(
    value: &Value,
    path: &Path<'_>,
    boards: &[&str],
    mut blank: Circuit,
    errors: &mut Errors,
) -> Option<Circuit> {
    let Circuit {
        board,
        phase,
        shape,
        device: own_device,
        rcd: own_rcd,
        purpose,
        outdoors,
        bath,
        concealed,
        dwelling,
        load: own_load,
        sections: all,
    } = &mut blank;
    let mut f = Fields::of(value, path, errors)?;
    let _ = f.get("id");
    f.name();
    let name = f.text("board");
    f.fill_choice("phase", names::PHASES, phase);
    f.fill_choice("shape", names::SHAPES, shape);
    let found = f.object("device", device);
    *own_rcd = f.object("rcd", rcd);
    f.fill_choice("use", names::USES, purpose);
    *outdoors = f.flag("outdoors");
    *bath = f.flag("bath");
    *concealed = f.flag("concealed");
    *dwelling = f.flag("dwelling");
    f.fill_part("load", load, own_load);
    let good = sections(
        f.get("sections"),
        &Path::Key(path, "sections"),
        all,
        f.errors,
    );
    let _ = f.get("tests");
    f.known()?;
    good?;
    *board = BoardId(index_of(boards, name?));
    if matches!(f.get("device"), Value::Null) {
        f.refuse("device", Reason::Missing.at(Field::Rating));
    }
    f.good.then_some(())?;
    *own_device = found?;
    Some(blank)
}

pub(super) fn board(
    value: &Value,
    path: &Path<'_>,
    circuits: &[&str],
    errors: &mut Errors,
) -> Option<Board> {
    const KINDS: Choices<bool> = choices! {
        "as-supply", "As the supply" => false;
        "own-electrode", "By an electrode of its own" => true;
    };
    let mut blank = BOARD;
    let Board {
        fed_by,
        earthing,
        rcd: own_rcd,
        conditional,
        extraneous,
        bonding,
        earthing_conductor: earthing_line,
        demand,
    } = &mut blank;
    let mut f = Fields::of(value, path, errors)?;
    let _ = f.get("id");
    f.name();
    match f.get("fed_by") {
        Value::Null => *fed_by = None,
        Value::Text(name) => *fed_by = Some(CircuitId(index_of(circuits, name))),
        _ => f.wrong("fed_by", "the name of a circuit, or null"),
    }
    let own = f.choice("earthing", KINDS);
    let good = f.good;
    let ra = f.maybe("ra", Field::Ra, Ohms::new);
    match own {
        Some(true) => *earthing = BoardEarthing::OwnElectrode(ra),
        // One that can't be read has been named, but the board has no use for it.
        Some(false) => f.good = good,
        None => {}
    }
    *own_rcd = f.object("rcd", rcd);
    f.fill_if_any(
        "conditional",
        Field::BreakingCapacity,
        Amps::new,
        conditional,
    );
    *extraneous = f.flag("extraneous");
    *bonding = f.object("bonding", conductor);
    *earthing_line = f.object("earthing_conductor", earthing_conductor);
    f.fill_if_any("demand", Field::DesignCurrent, Amps::new, demand);
    let _ = f.get("tests");
    f.finish()?;
    Some(blank)
}
