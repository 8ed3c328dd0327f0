//! The parts of a job, one function for each: supply, profile, board, circuit and what they hold.

use super::Wrong;
use super::fields::{Errors, Fields};
use crate::names::{self, ProtectiveKind};
#[cfg(feature = "site")]
use crate::out::Out;
use crate::path::Path;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::value::Value;
use faultpath::cable::{Arrangement, Construction, Laying, Method};
use faultpath::conductor::{Insulation, Material};
use faultpath::device::{Device, Rcd};
use faultpath::error::{Field, Reason};
use faultpath::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Load, Part, Phase, Protective,
    SECTIONS, Section, Shape, Steel, Use,
};
use faultpath::profile::{Allowance, Diversity, Entry, LoadClass, Profile};
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
    enclosure: None,
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

/// A device whose curve is known; what else is marked on it may be missing.
fn device(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Device> {
    let mut f = Fields::of(value, path, errors)?;
    let family = f.choice("family", names::FAMILIES);
    let rating = f.needed("rating", Field::Rating, Amps::new);
    let (breaking, energy, class) = f.spare(|f| {
        (
            f.maybe("breaking", Field::BreakingCapacity, Amps::new),
            f.maybe("let_through", Field::LetThrough, AmpSquaredSeconds::new),
            f.number("energy_class"),
        )
    });
    let _ = f.known();
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
    match class {
        None => {}
        Some(3.0) => d = d.with_energy_class_3(),
        Some(_) => f.refuse("energy_class", Reason::NotMade.at(Field::LetThrough)),
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
    *buried = f.flag("buried", true);
    *mechanical = f.flag("mechanical", false);
    *corrosion = f.flag("corrosion", false);
    f.finish()?;
    Some(blank)
}

/// Without what kind of current there is, its voltage and its phases nothing can be judged.
pub(super) fn supply(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Supply> {
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
    let since = errors.0.len();
    let Some(mut f) = Fields::of(value, path, errors) else {
        errors.deep(since);
        return None;
    };
    if f.choice("current", names::CURRENTS) == Some(false) {
        f.refuse("current", Reason::DirectCurrent.at(Field::Current));
    }
    f.fill("u0", Field::U0, Volts::new, u0);
    match f.get("phases") {
        Value::Number(1.0) => *phases = Phases::Single,
        Value::Number(3.0) => *phases = Phases::Three,
        _ => f.wrong("phases", Wrong::Phases),
    }
    let good = f.good;
    f.errors.deep(since);

    // Where this can't be told it is judged both ways.
    f.fill_choice("earthing", names::SUPPLY_EARTHINGS, earthing);
    f.fill_if_any("ze", Field::Ze, Ohms::new, ze);
    f.fill_choice("ze_from", names::ORIGINS, ze_origin);
    f.fill_if_any("ra", Field::Ra, Ohms::new, ra);
    let level = f.maybe("fault_level", Field::FaultLevel, Amps::new);
    *fault_level = match (level, f.choice("fault_level_from", names::LEVEL_ORIGINS)) {
        (_, Some(None)) => FaultLevel::FromZe,
        (Some(i), Some(Some(origin))) => FaultLevel::Stated(i, origin),
        _ => FaultLevel::NotKnown,
    };
    f.fill_if_any("x_over_r", Field::XOverR, Ratio::new, x_over_r);
    *incoming = f.object("device", device);
    f.fill_if_any("neutral_csa", Field::NeutralCsa, SquareMm::new, neutral);
    f.fill_if_any("tails_csa", Field::Csa, SquareMm::new, tails);
    *earthing_line = f.object("earthing_conductor", earthing_conductor);
    *extraneous = f.flag("extraneous", true);
    *bonding = f.object("bonding", conductor);
    let _ = f.get("tests");
    let _ = f.known();

    // One error at a time: each time what it is about is left out.
    while let (true, Err(e)) = (good, blank.check()) {
        let since = f.errors.0.len();
        match e.field {
            Field::Ze => {
                f.refuse("ze", e);
                blank.ze = None;
            }
            Field::FaultLevel => {
                f.refuse("fault_level", e);
                blank.fault_level = FaultLevel::NotKnown;
            }
            _ => {
                f.refuse("u0", e);
                f.errors.deep(since);
                return None;
            }
        }
    }
    good.then_some(blank)
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
    let _ = f.known();
    f.good.then_some(blank)
}

/// Ready profiles by name.
pub static PROFILES: [(&str, &str, Profile); 2] = [
    ("uk", "United Kingdom", Profile::UK),
    ("iec", "Plain IEC", Profile::IEC),
];

/// Texts for the printed record. Nothing is judged by them.
pub(super) fn record(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<()> {
    let mut f = Fields::of(value, path, errors)?;
    for key in [
        "site", "client", "work", "by", "licence", "on", "meters", "remarks",
    ] {
        let _ = f.text(key);
    }
    f.finish()
}

/// What can't be read of it is not known, and what rests on that can't be said.
pub(super) fn profile(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Profile {
    if let Value::Text(name) = value {
        if let Some((_, _, p)) = PROFILES.iter().find(|(n, _, _)| n == name) {
            return *p;
        }
        errors.at(path, Wrong::Profile);
        return Profile::NOT_KNOWN;
    }
    let mut p = Profile::NOT_KNOWN;
    let Profile {
        cmin,
        cmax,
        drop_lighting,
        drop_other,
        drop_basis,
        source_electrode,
        touch_voltage,
        additional_protection,
        sockets_up_to,
        diversity,
    } = &mut p;
    let Some(mut f) = Fields::of(value, path, errors) else {
        return p;
    };
    // A job does not state these.
    *additional_protection = Profile::IEC.additional_protection;
    *sockets_up_to = Profile::IEC.sockets_up_to;
    f.name();
    let mut fill = |key, field, to| f.fill(key, field, share, to);
    fill("cmin", Field::VoltageFactor, cmin);
    fill("cmax", Field::VoltageFactor, cmax);
    fill("drop_lighting", Field::Limit, drop_lighting);
    fill("drop_other", Field::Limit, drop_other);
    fill("source_electrode", Field::Limit, source_electrode);
    fill("touch_voltage", Field::Limit, touch_voltage);
    match f.choice("drop_basis", names::DROP_BASES) {
        Some(basis) => *drop_basis = basis,
        // Without it no drop is the one that decides.
        None => (*drop_lighting, *drop_other) = (f32::NAN, f32::NAN),
    }
    let all = f.get("diversity");
    diversities(all, &Path::Key(path, "diversity"), f.errors, diversity);
    let _ = f.known();
    // What could not be read is no number, and has been named.
    let (known, _) = p.sift(&mut |entry, e| {
        if e.reason != Reason::NotANumber {
            errors.core(entry_path(entry, path), e);
        }
    });
    known
}

fn entry_path(entry: Entry, path: &Path<'_>) -> String {
    let key = match entry {
        Entry::Cmin => "cmin",
        Entry::Cmax => "cmax",
        Entry::DropLighting => "drop_lighting",
        Entry::DropOther => "drop_other",
        Entry::SourceElectrode => "source_electrode",
        Entry::TouchVoltage => "touch_voltage",
        Entry::AdditionalProtection => "additional_protection",
        Entry::SocketsUpTo => "sockets_up_to",
        Entry::Diversity(class, of) => {
            let path = Path::Key(path, "diversity");
            let path = Path::Key(&path, names::CLASSES.name_of(class));
            let key = match of {
                Allowance::FirstAmps => "first_amps",
                Allowance::First => "first",
                Allowance::Rest => "rest",
                Allowance::Add => "add",
                Allowance::Largest => "largest",
                Allowance::Second => "second",
                Allowance::Others => "others",
            };
            return Path::Key(&path, key).text();
        }
    };
    Path::Key(path, key).text()
}

fn diversities(value: &Value, path: &Path<'_>, errors: &mut Errors, all: &mut [Diversity; 10]) {
    let Some(mut f) = Fields::of(value, path, errors) else {
        return;
    };
    for (class, to) in LoadClass::ALL.iter().zip(all.iter_mut()) {
        let key = names::CLASSES.name_of(*class);
        match f.get(key) {
            Value::Null => f.refuse(key, Reason::Missing.at(Field::Diversity)),
            _ => f.fill_part(key, diversity, to),
        }
    }
    let _ = f.known();
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
#[cfg(feature = "site")]
pub(crate) fn arrangement(value: &Value) -> Result<Arrangement, String> {
    let mut errors = Errors::default();
    arrangement_at(value, &Path::Root, &mut errors).ok_or_else(|| {
        let first = errors.0.first().unwrap_or(&Out::Null);
        first.get("reason").text().unwrap_or_default().to_owned()
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
    let i = errors.pick(value, names::ARRANGEMENTS.names, path)?;
    names::ARRANGEMENTS.values.get(i).copied()
}

fn section(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Section> {
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
    f.fill_choice("part", names::PARTS, part);
    *spur_fuse = f.object("spur_fuse", device);
    let metal = f.choice("material", names::LINE_MATERIALS);
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
    // Without it what rests on the earth fault can't be said, the rest can.
    let here = Path::Key(path, "protective");
    if let Some(p) = protective(f.get("protective"), &here, line, f.errors) {
        *earth = p;
    }
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
    (*material, *csa) = (metal?, size?);
    Some(blank)
}

fn load(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Load> {
    let mut f = Fields::of(value, path, errors)?;
    let (current, power, said) = f.spare(|f| {
        f.good = true;
        let current = f.maybe("current", Field::DesignCurrent, Amps::new);
        let power = f.maybe("power", Field::Power, Watts::new);
        if current.is_some() && power.is_some() {
            f.refuse("power", Reason::Contradiction.at(Field::Power));
        }
        (current, power, f.good)
    });
    let power_factor = f.needed("power_factor", Field::PowerFactor, Ratio::new);
    let class = f.choice("class", names::CLASSES);
    let points = f.count("points", Field::Points);
    let known = f.known().is_some();
    f.good.then_some(())?;
    Some(Load {
        // One that is meant to be stated and can't be read is not what hangs on it.
        demand: match (current, power) {
            _ if !(said && known) => Demand::NotKnown,
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
        .position(|n| *n == name && !name.is_empty())
        .and_then(|i| u16::try_from(i).ok())
        .unwrap_or(u16::MAX)
}

/// The board a circuit says it starts from.
pub(super) fn board_of(circuit: &Value, boards: &[&str]) -> BoardId {
    BoardId(index_of(
        boards,
        circuit.get("board").text().unwrap_or_default(),
    ))
}

/// Whether all of them could be read.
fn sections(
    value: &Value,
    path: &Path<'_>,
    to: &mut heapless::Vec<Section, SECTIONS>,
    errors: &mut Errors,
) -> Option<()> {
    let Value::List(items) = value else {
        errors.at(path, Wrong::List);
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
    if name == Some("") {
        f.refuse("board", Reason::Missing.at(Field::Board));
    }
    f.fill_choice("phase", names::PHASES, phase);
    f.fill_choice("shape", names::SHAPES, shape);
    let found = f.object("device", device);
    *own_rcd = f.spare(|f| f.object("rcd", rcd));
    f.fill_choice("use", names::USES, purpose);
    *outdoors = f.flag("outdoors", true);
    *bath = f.flag("bath", true);
    *concealed = f.flag("concealed", true);
    *dwelling = f.flag("dwelling", true);
    f.fill_part("load", load, own_load);
    let good = sections(
        f.get("sections"),
        &Path::Key(path, "sections"),
        all,
        f.errors,
    );
    let _ = f.get("tests");
    let _ = f.known();
    if matches!(f.get("device"), Value::Null) {
        f.refuse("device", Reason::Missing.at(Field::Rating));
    }
    good?;
    *board = BoardId(index_of(boards, name?));
    f.good.then_some(())?;
    *own_device = found?;
    // An RCBO without its RCD is none; that it can't be read has been said.
    if own_device.family().has_rcd() && own_rcd.is_none() && !matches!(f.get("rcd"), Value::Null) {
        return None;
    }
    Some(blank)
}

pub(super) fn board(
    value: &Value,
    path: &Path<'_>,
    circuits: &[&str],
    errors: &mut Errors,
) -> Option<Board> {
    let mut blank = BOARD;
    let Board {
        fed_by,
        earthing,
        enclosure,
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
        _ => f.wrong("fed_by", Wrong::Feed),
    }
    // By which rules to judge what is behind it can't be told without.
    let own = f.choice("earthing", names::BOARD_EARTHINGS);
    let good = f.good;
    let ra = f.maybe("ra", Field::Ra, Ohms::new);
    if own == Some(true) {
        *earthing = BoardEarthing::OwnElectrode(ra);
    }
    if !matches!(f.get("enclosure"), Value::Null) {
        *enclosure = f.choice("enclosure", names::ENCLOSURES);
    }
    *own_rcd = f.object("rcd", rcd);
    f.fill_if_any(
        "conditional",
        Field::BreakingCapacity,
        Amps::new,
        conditional,
    );
    *extraneous = f.flag("extraneous", true);
    *bonding = f.object("bonding", conductor);
    *earthing_line = f.object("earthing_conductor", earthing_conductor);
    f.good = true;
    f.fill_if_any("demand", Field::DesignCurrent, Amps::new, demand);
    // Read apart, see `site`.
    let _ = f.get("site");
    let mut stated = f.good;
    let _ = f.get("tests");
    if f.known().is_none() {
        // One of the strangers may be meant for a field that is not there.
        stated &= f.has("demand");
        if !f.has("fed_by") {
            return None;
        }
    }
    if !stated {
        *demand = Board::DEMAND_NOT_KNOWN;
    }
    good.then_some(())?;
    Some(blank)
}
