//! From a job's values to core's types. Every error is collected with its path; what can't be read is kept
//! out and the rest is judged.

#![allow(missing_docs)] // the field names are those of the answer, which the page's types describe

use crate::names::{self, Choices};
use crate::value::Value;
use faultpath::cable::{Arrangement, Laying};
use faultpath::device::{Device, Rcd};
use faultpath::error::{Error, Field, Reason};
use faultpath::network::{
    At, Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Installation, Load, Part, Phase,
    Protective, SECTIONS, Section, Shape, Steel, Use,
};
use faultpath::profile::{Diversity, DropBasis, LoadClass, Profile};
use faultpath::quantity::{
    AmpSquaredSeconds, Amps, Celsius, KelvinMetresPerWatt, Metres, Ohms, OhmsPerKm, Ratio,
    SquareMm, Volts, Watts,
};
use faultpath::supply::{
    Conductor, Earthing, EarthingConductor, FaultLevel, Origin, Phases, Supply, SupplyEarthing,
};
use faultpath::words;
use serde::Serialize;

/// Most boards of a job on the page.
pub const BOARDS: usize = 32;
/// Most circuits of a job on the page.
pub const CIRCUITS: usize = 128;
/// The installation the page judges.
pub type House = Installation<BOARDS, CIRCUITS>;

/// An error at a field of the job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FieldError {
    /// Where, as `circuits[2].sections[0].length`.
    pub path: String,
    /// Name of the field.
    pub field: String,
    /// Why, in a word.
    pub reason: &'static str,
    /// Why, and what to do.
    pub text: String,
}

/// A job that was read, as far as it could be.
pub struct Job {
    /// The installation, unless the supply or the profile could not be read.
    pub house: Option<Box<House>>,
    /// Names of the boards, in order.
    pub boards: Vec<String>,
    /// Names of the circuits, in order.
    pub circuits: Vec<String>,
    /// Which boards can't be read.
    pub bad_boards: Vec<bool>,
    /// Which circuits can't be read.
    pub bad_circuits: Vec<bool>,
    /// Everything that is wrong.
    pub errors: Vec<FieldError>,
}

/// Where the reader is, without a string until one is needed.
#[derive(Clone, Copy)]
pub enum Path<'a> {
    Root,
    Key(&'a Path<'a>, &'a str),
    At(&'a Path<'a>, usize),
}

impl Path<'_> {
    fn write(&self, out: &mut String) {
        match self {
            Path::Root => {}
            Path::Key(up, key) => {
                up.write(out);
                if !out.is_empty() {
                    out.push('.');
                }
                out.push_str(key);
            }
            Path::At(up, index) => {
                up.write(out);
                out.push('[');
                out.push_str(&index.to_string());
                out.push(']');
            }
        }
    }

    fn text(&self) -> String {
        let mut out = String::new();
        self.write(&mut out);
        out
    }
}

/// A word for a reason.
#[must_use]
pub fn reason_name(reason: Reason) -> &'static str {
    match reason {
        Reason::NotANumber => "not-a-number",
        Reason::Infinite => "infinite",
        Reason::Negative => "negative",
        Reason::Zero => "zero",
        Reason::TooLarge => "too-large",
        Reason::TooSmall => "too-small",
        Reason::NotMade => "not-made",
        Reason::OutOfTable => "out-of-table",
        Reason::Missing => "missing",
        Reason::DirectCurrent => "direct-current",
        Reason::Dangling => "dangling",
        Reason::Cycle => "cycle",
        Reason::TooMany => "too-many",
        Reason::Contradiction => "contradiction",
        _ => "refused",
    }
}

#[derive(Default)]
struct Errors(Vec<FieldError>);

impl Errors {
    fn say(&mut self, path: String, field: &str, reason: &'static str, text: String) {
        self.0.push(FieldError {
            path,
            field: field.to_owned(),
            reason,
            text,
        });
    }

    fn core(&mut self, path: String, error: Error) {
        let text = words::reason(error.reason).to_owned();
        self.say(
            path,
            words::field(error.field),
            reason_name(error.reason),
            text,
        );
    }

    fn kind(&mut self, path: &Path<'_>, wanted: &str) {
        let text = format!("This must be {wanted}.");
        self.say(path.text(), last_key(path), "wrong-kind", text);
    }
}

fn last_key<'a>(path: &Path<'a>) -> &'a str {
    match path {
        Path::Root => "job",
        Path::Key(_, key) => key,
        Path::At(up, _) => last_key(up),
    }
}

/// A map being read: knows which of its keys were asked for.
struct Fields<'v, 'p> {
    map: &'v [(String, Value)],
    path: &'p Path<'p>,
    seen: u64,
}

const NOTHING: Value = Value::Null;

impl<'v, 'p> Fields<'v, 'p> {
    fn of(value: &'v Value, path: &'p Path<'p>, errors: &mut Errors) -> Option<Self> {
        match value {
            Value::Map(map) if map.len() <= 64 => Some(Self { map, path, seen: 0 }),
            Value::Map(_) => {
                errors.kind(path, "an object with the fields of the format only");
                None
            }
            _ => {
                errors.kind(path, "an object");
                None
            }
        }
    }

    fn get(&mut self, key: &str) -> &'v Value {
        match self.map.iter().position(|(k, _)| k == key) {
            Some(i) => {
                self.seen |= 1 << i;
                &self.map[i].1
            }
            None => &NOTHING,
        }
    }

    /// Every field nobody asked for is an error: a misspelt name must not pass as an empty field.
    fn finish(self, errors: &mut Errors) -> bool {
        let mut clean = true;
        for (i, (key, _)) in self.map.iter().enumerate() {
            if self.seen & (1 << i) == 0 {
                clean = false;
                errors.say(
                    Path::Key(self.path, key).text(),
                    key,
                    "unknown-field",
                    "The format has no such field. Check its name, or remove it.".to_owned(),
                );
            }
        }
        clean
    }

    #[allow(clippy::cast_possible_truncation)]
    fn number(&mut self, key: &str, errors: &mut Errors) -> Result<Option<f32>, ()> {
        match self.get(key) {
            Value::Null => Ok(None),
            Value::Number(v) => Ok(Some(*v as f32)),
            _ => {
                errors.kind(&Path::Key(self.path, key), "a number");
                Err(())
            }
        }
    }

    /// A number that may be absent, made into a quantity.
    fn maybe<T>(
        &mut self,
        key: &str,
        field: Field,
        make: impl Fn(f32) -> Result<T, Reason>,
        errors: &mut Errors,
    ) -> Result<Option<T>, ()> {
        match self.number(key, errors)? {
            None => Ok(None),
            Some(v) => match make(v) {
                Ok(v) => Ok(Some(v)),
                Err(r) => {
                    errors.core(Path::Key(self.path, key).text(), r.at(field));
                    Err(())
                }
            },
        }
    }

    fn needed<T>(
        &mut self,
        key: &str,
        field: Field,
        make: impl Fn(f32) -> Result<T, Reason>,
        errors: &mut Errors,
    ) -> Result<T, ()> {
        match self.maybe(key, field, make, errors)? {
            Some(v) => Ok(v),
            None => {
                errors.core(Path::Key(self.path, key).text(), Reason::Missing.at(field));
                Err(())
            }
        }
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn count(&mut self, key: &str, field: Field, errors: &mut Errors) -> Result<u8, ()> {
        let path = Path::Key(self.path, key);
        let v = self.needed(key, field, Ok, errors)?;
        if v.is_finite() && libm_trunc(v) == v && (0.0..=255.0).contains(&v) {
            Ok(v as u8)
        } else {
            errors.kind(&path, "a whole number up to 255");
            Err(())
        }
    }

    fn flag(&mut self, key: &str, errors: &mut Errors) -> Result<bool, ()> {
        match self.get(key) {
            Value::Bool(b) => Ok(*b),
            Value::Null => Ok(false),
            _ => {
                errors.kind(&Path::Key(self.path, key), "true or false");
                Err(())
            }
        }
    }

    fn text(&mut self, key: &str, errors: &mut Errors) -> Result<String, ()> {
        match self.get(key) {
            Value::Text(t) => Ok(t.clone()),
            Value::Null => Ok(String::new()),
            _ => {
                errors.kind(&Path::Key(self.path, key), "text");
                Err(())
            }
        }
    }

    fn choice<T: Copy>(
        &mut self,
        key: &str,
        choices: Choices<T>,
        errors: &mut Errors,
    ) -> Result<T, ()> {
        let path = Path::Key(self.path, key);
        pick(self.get(key), choices, &path, errors)
    }

    /// An object or null.
    fn object<T>(
        &mut self,
        key: &str,
        errors: &mut Errors,
        read: impl FnOnce(&Value, &Path<'_>, &mut Errors) -> Result<T, ()>,
    ) -> Result<Option<T>, ()> {
        match self.get(key) {
            Value::Null => Ok(None),
            v => read(v, &Path::Key(self.path, key), errors).map(Some),
        }
    }
}

fn libm_trunc(v: f32) -> f32 {
    v.trunc()
}

fn pick<T: Copy>(
    value: &Value,
    choices: Choices<T>,
    path: &Path<'_>,
    errors: &mut Errors,
) -> Result<T, ()> {
    if let Value::Text(t) = value {
        if let Some((_, _, v)) = choices.iter().find(|(name, _, _)| name == t) {
            return Ok(*v);
        }
    }
    let mut text = "Choose one of: ".to_owned();
    for (i, (name, _, _)) in choices.iter().enumerate() {
        if i > 0 {
            text.push_str(", ");
        }
        text.push_str(name);
    }
    text.push('.');
    errors.say(path.text(), last_key(path), "no-such-choice", text);
    Err(())
}

fn device(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Result<Device, ()> {
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let family = f.choice("family", names::FAMILIES, errors);
    let rating = f.needed("rating", Field::Rating, Amps::new, errors);
    let breaking = f.maybe("breaking", Field::BreakingCapacity, Amps::new, errors);
    let energy = f.maybe(
        "let_through",
        Field::LetThrough,
        AmpSquaredSeconds::new,
        errors,
    );
    let class = f.number("energy_class", errors);
    let class_path = Path::Key(path, "energy_class").text();
    if !f.finish(errors) {
        return Err(());
    }
    let (family, rating, breaking, energy, class) = (family?, rating?, breaking?, energy?, class?);
    let mut d = Device::new(family, rating).map_err(|e| {
        errors.core(Path::Key(path, "rating").text(), e);
    })?;
    if let Some(b) = breaking {
        d = d.with_breaking(b);
    }
    if let Some(e) = energy {
        d = d.with_let_through(e);
    }
    match class {
        None => {}
        Some(3.0) => d = d.with_energy_class_3(),
        Some(_) => {
            errors.core(class_path, Reason::NotMade.at(Field::LetThrough));
            return Err(());
        }
    }
    Ok(d)
}

fn rcd(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Result<Rcd, ()> {
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let sensitivity = f.needed("sensitivity", Field::ResidualCurrent, Amps::new, errors);
    let kind = f.choice("kind", names::RCD_TYPES, errors);
    let delay = f.choice("delay", names::DELAYS, errors);
    if !f.finish(errors) {
        return Err(());
    }
    Rcd::new(sensitivity?, kind?, delay?)
        .map_err(|e| errors.core(Path::Key(path, "sensitivity").text(), e))
}

fn conductor(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Result<Conductor, ()> {
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let material = f.choice("material", names::MATERIALS, errors);
    let csa = f.needed("csa", Field::BondingConductor, SquareMm::new, errors);
    if !f.finish(errors) {
        return Err(());
    }
    Ok(Conductor {
        material: material?,
        csa: csa?,
    })
}

fn earthing_conductor(
    value: &Value,
    path: &Path<'_>,
    errors: &mut Errors,
) -> Result<EarthingConductor, ()> {
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let material = f.choice("material", names::MATERIALS, errors);
    let csa = f.needed("csa", Field::EarthingConductor, SquareMm::new, errors);
    let buried = f.flag("buried", errors);
    let mechanical = f.flag("mechanical", errors);
    let corrosion = f.flag("corrosion", errors);
    if !f.finish(errors) {
        return Err(());
    }
    Ok(EarthingConductor {
        conductor: Conductor {
            material: material?,
            csa: csa?,
        },
        buried: buried?,
        mechanical: mechanical?,
        corrosion: corrosion?,
    })
}

const FROM_ZE: &str = "from-ze";

/// Where the fault level comes from; `None` is from Ze.
const LEVEL_ORIGINS: Choices<Option<Origin>> = &[
    ("measured", "Measured here", Some(Origin::Measured)),
    (
        "declared",
        "Declared by the distributor",
        Some(Origin::Declared),
    ),
    ("typical", "Typical figure", Some(Origin::Typical)),
    (FROM_ZE, "From the measured Ze (TN-C-S)", None),
];

/// The choices of where the fault level comes from.
#[must_use]
pub fn level_origins() -> Choices<Option<Origin>> {
    LEVEL_ORIGINS
}

fn supply(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Result<Supply, ()> {
    const CURRENTS: Choices<bool> = &[("ac", "a.c.", true), ("dc", "d.c.", false)];
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let alternating = f.choice("current", CURRENTS, errors);
    let u0 = f.needed("u0", Field::U0, Volts::new, errors);
    let phases = match f.number("phases", errors) {
        Ok(Some(1.0)) => Ok(Phases::Single),
        Ok(Some(3.0)) => Ok(Phases::Three),
        Ok(_) => {
            errors.kind(&Path::Key(path, "phases"), "1 or 3");
            Err(())
        }
        Err(()) => Err(()),
    };
    let earthing = f.choice("earthing", names::SUPPLY_EARTHINGS, errors);
    let ze = f.maybe("ze", Field::Ze, Ohms::new, errors);
    let ze_origin = f.choice("ze_from", names::ORIGINS, errors);
    let ra = f.maybe("ra", Field::Ra, Ohms::new, errors);
    let level = f.maybe("fault_level", Field::FaultLevel, Amps::new, errors);
    let level_from = f.choice("fault_level_from", LEVEL_ORIGINS, errors);
    let x_over_r = f.maybe("x_over_r", Field::XOverR, Ratio::new, errors);
    let incoming = f.object("device", errors, device);
    let neutral = f.maybe("neutral_csa", Field::NeutralCsa, SquareMm::new, errors);
    let tails = f.maybe("tails_csa", Field::Csa, SquareMm::new, errors);
    let earthing_conductor = f.object("earthing_conductor", errors, earthing_conductor);
    let extraneous = f.flag("extraneous", errors);
    let bonding = f.object("bonding", errors, conductor);
    if !f.finish(errors) {
        return Err(());
    }
    if !alternating? {
        errors.core(
            Path::Key(path, "current").text(),
            Reason::DirectCurrent.at(Field::Current),
        );
        return Err(());
    }
    let supply = Supply {
        u0: u0?,
        phases: phases?,
        earthing: earthing?,
        ze: ze?,
        ze_origin: ze_origin?,
        ra: ra?,
        fault_level: match (level?, level_from?) {
            (_, None) => FaultLevel::FromZe,
            (Some(i), Some(origin)) => FaultLevel::Stated(i, origin),
            (None, Some(_)) => FaultLevel::NotKnown,
        },
        x_over_r: x_over_r?,
        device: incoming?,
        neutral: neutral?,
        tails: tails?,
        earthing_conductor: earthing_conductor?,
        extraneous: extraneous?,
        bonding: bonding?,
    };
    supply.check().map_err(|e| {
        let key = match e.field {
            Field::Ze => "ze",
            Field::FaultLevel => "fault_level",
            _ => "u0",
        };
        errors.core(Path::Key(path, key).text(), e);
    })?;
    Ok(supply)
}

fn diversity(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Result<Diversity, ()> {
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let mut of = |key| {
        f.needed(key, Field::Diversity, Ratio::new, errors)
            .map(Ratio::get)
    };
    let (first_amps, first, rest, add) = (of("first_amps"), of("first"), of("rest"), of("add"));
    let (largest, second, others) = (of("largest"), of("second"), of("others"));
    if !f.finish(errors) {
        return Err(());
    }
    Ok(Diversity {
        first_amps: first_amps?,
        first: first?,
        rest: rest?,
        add: add?,
        largest: largest?,
        second: second?,
        others: others?,
    })
}

/// Ready profiles by name.
pub const PROFILES: [(&str, &str, Profile); 2] = [
    ("uk", "United Kingdom", Profile::UK),
    ("iec", "Plain IEC", Profile::IEC),
];

fn profile(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Result<Profile, ()> {
    if let Value::Text(name) = value {
        if let Some((_, _, p)) = PROFILES.iter().find(|(n, _, _)| n == name) {
            return Ok(*p);
        }
        errors.say(
            path.text(),
            "profile",
            "no-such-choice",
            "Choose uk or iec, or give a whole profile.".to_owned(),
        );
        return Err(());
    }
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let _ = f.text("name", errors);
    let mut of = |key, field| f.needed(key, field, Ratio::new, errors).map(Ratio::get);
    let cmin = of("cmin", Field::VoltageFactor);
    let cmax = of("cmax", Field::VoltageFactor);
    let drop_lighting = of("drop_lighting", Field::Limit);
    let drop_other = of("drop_other", Field::Limit);
    let source_electrode = of("source_electrode", Field::Limit);
    let touch_voltage = of("touch_voltage", Field::Limit);
    let drop_basis = f.choice("drop_basis", names::DROP_BASES, errors);
    let table = f.get("diversity");
    let all = read_all_diversity(table, &Path::Key(path, "diversity"), errors);
    if !f.finish(errors) {
        return Err(());
    }
    let p = Profile {
        cmin: cmin?,
        cmax: cmax?,
        drop_lighting: drop_lighting?,
        drop_other: drop_other?,
        drop_basis: drop_basis?,
        source_electrode: source_electrode?,
        touch_voltage: touch_voltage?,
        diversity: all?,
        ..Profile::IEC
    };
    p.check().map_err(|e| errors.core(path.text(), e))?;
    Ok(p)
}

fn read_all_diversity(
    value: &Value,
    path: &Path<'_>,
    errors: &mut Errors,
) -> Result<[Diversity; 10], ()> {
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let mut all = Profile::IEC.diversity;
    let mut good = true;
    for (class, to) in LoadClass::ALL.iter().zip(all.iter_mut()) {
        let key = names::name_of(names::CLASSES, *class);
        match f.object(key, errors, diversity) {
            Ok(Some(d)) => *to = d,
            Ok(None) => {
                errors.core(
                    Path::Key(path, key).text(),
                    Reason::Missing.at(Field::Diversity),
                );
                good = false;
            }
            Err(()) => good = false,
        }
    }
    if f.finish(errors) && good {
        Ok(all)
    } else {
        Err(())
    }
}

/// `line` is the section's own line conductor: a core beside the armour is one of the same cable, and so of
/// that size and metal where nothing else is said.
fn protective(
    value: &Value,
    path: &Path<'_>,
    line: Option<Conductor>,
    errors: &mut Errors,
) -> Result<Protective, ()> {
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let kind = f.choice("kind", names::PROTECTIVES, errors);
    let material = match f.get("material") {
        Value::Null => Ok(None),
        v => pick(v, names::MATERIALS, &Path::Key(path, "material"), errors).map(Some),
    };
    let csa = f.maybe("csa", Field::ProtectiveCsa, SquareMm::new, errors);
    let resistance = f.maybe(
        "resistance",
        Field::PerLengthResistance,
        OhmsPerKm::new,
        errors,
    );
    if !f.finish(errors) {
        return Err(());
    }
    let (kind, mut material, mut csa, resistance) = (kind?, material?, csa?, resistance?);
    if kind == "armour-and-core" {
        material = material.or(line.map(|c| c.material));
        csa = csa.or(line.map(|c| c.csa));
    }
    let mut missing = |key, field| {
        errors.core(Path::Key(path, key).text(), Reason::Missing.at(field));
    };
    let mut core = || match (material, csa) {
        (Some(material), Some(csa)) => Ok(Conductor { material, csa }),
        (None, _) => {
            missing("material", Field::Material);
            Err(())
        }
        (_, None) => {
            missing("csa", Field::ProtectiveCsa);
            Err(())
        }
    };
    let entered = resistance.map(|resistance| Steel {
        resistance,
        area: if kind == "armour-and-core" { None } else { csa },
    });
    Ok(match kind {
        "core" => Protective::Core(core()?),
        "separate" => Protective::Separate(core()?),
        "armour" => Protective::Armour(entered),
        "armour-and-core" => Protective::ArmourAndCore(entered, core()?),
        "enclosure" => match entered {
            Some(s) => Protective::Enclosure(s),
            None => {
                missing("resistance", Field::PerLengthResistance);
                return Err(());
            }
        },
        _ => Protective::None,
    })
}

#[allow(clippy::cast_possible_truncation)]
pub(crate) fn arrangement(value: &Value, path: &str) -> Result<Arrangement, FieldError> {
    let mut errors = Errors::default();
    let root = Path::Root;
    arrangement_at(value, &Path::Key(&root, path), &mut errors).map_err(|()| {
        errors.0.pop().unwrap_or(FieldError {
            path: path.to_owned(),
            field: path.to_owned(),
            reason: "refused",
            text: String::new(),
        })
    })
}

#[allow(clippy::cast_possible_truncation)]
fn arrangement_at(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Result<Arrangement, ()> {
    match value {
        Value::Number(v) => match Metres::new(*v as f32) {
            Ok(m) => Ok(Arrangement::Gap(m)),
            Err(r) => {
                errors.core(path.text(), r.at(Field::Arrangement));
                Err(())
            }
        },
        v => pick(v, names::ARRANGEMENTS, path, errors),
    }
}

fn section(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Result<Section, ()> {
    const PARTS: Choices<Part> = &[("run", "Run", Part::Run), ("spur", "Spur", Part::Spur)];
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let length = f.needed("length", Field::Length, Metres::new, errors);
    let part = f.choice("part", PARTS, errors);
    let spur_fuse = f.object("spur_fuse", errors, device);
    let material = f.choice("material", names::MATERIALS, errors);
    let csa = f.needed("csa", Field::Csa, SquareMm::new, errors);
    let neutral = f.maybe("neutral_csa", Field::NeutralCsa, SquareMm::new, errors);
    let insulation = f.choice("insulation", names::INSULATIONS, errors);
    let construction = f.choice("construction", names::CONSTRUCTIONS, errors);
    let cores = f.count("cores", Field::Cores, errors);
    let limit = f.maybe(
        "operating_limit",
        Field::OperatingTemperature,
        Celsius::new,
        errors,
    );
    let protective_value = f.get("protective");
    let line = match (&material, &csa) {
        (Ok(material), Ok(csa)) => Some(Conductor {
            material: *material,
            csa: *csa,
        }),
        _ => None,
    };
    let protective = protective(
        protective_value,
        &Path::Key(path, "protective"),
        line,
        errors,
    );
    let method = f.choice("method", names::METHODS, errors);
    let ambient = f.needed("ambient", Field::Ambient, Celsius::new, errors);
    let grouped = f.count("grouped", Field::Grouped, errors);
    let arrangement_value = f.get("arrangement");
    let arrangement = arrangement_at(arrangement_value, &Path::Key(path, "arrangement"), errors);
    let soil = f.maybe(
        "soil",
        Field::SoilResistivity,
        KelvinMetresPerWatt::new,
        errors,
    );
    let depth = f.maybe("depth", Field::Depth, Metres::new, errors);
    let insulation_run = f.maybe("insulation_run", Field::InsulationRun, Metres::new, errors);
    if !f.finish(errors) {
        return Err(());
    }
    Ok(Section {
        length: length?,
        part: part?,
        spur_fuse: spur_fuse?,
        material: material?,
        csa: csa?,
        neutral: neutral?,
        insulation: insulation?,
        construction: construction?,
        cores: cores?,
        operating_limit: limit?,
        protective: protective?,
        laying: Laying {
            method: method?,
            ambient: ambient?,
            grouped: grouped?,
            arrangement: arrangement?,
            soil: soil?,
            depth: depth?,
            insulation_run: insulation_run?,
        },
    })
}

fn load(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Result<Load, ()> {
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let current = f.maybe("current", Field::DesignCurrent, Amps::new, errors);
    let power = f.maybe("power", Field::Power, Watts::new, errors);
    let power_factor = f.needed("power_factor", Field::PowerFactor, Ratio::new, errors);
    let class = f.choice("class", names::CLASSES, errors);
    let points = f.count("points", Field::Points, errors);
    if !f.finish(errors) {
        return Err(());
    }
    let demand = match (current?, power?) {
        (None, None) => Demand::Derived,
        (Some(i), None) => Demand::Current(i),
        (None, Some(p)) => Demand::Power(p),
        (Some(_), Some(_)) => {
            errors.core(
                Path::Key(path, "power").text(),
                Reason::Contradiction.at(Field::Power),
            );
            return Err(());
        }
    };
    Ok(Load {
        demand,
        power_factor: power_factor?,
        class: class?,
        points: points?,
    })
}

/// A reference by name to something of a list; an unknown one stands as an index beyond all lists, which
/// core refuses.
fn index_of(names: &[String], name: &str) -> u16 {
    names
        .iter()
        .position(|n| n == name)
        .and_then(|i| u16::try_from(i).ok())
        .unwrap_or(u16::MAX)
}

fn circuit(
    value: &Value,
    path: &Path<'_>,
    boards: &[String],
    errors: &mut Errors,
) -> Result<Circuit, ()> {
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let _ = f.get("id");
    let _ = f.text("name", errors);
    let board = f.text("board", errors);
    let phase = f.choice("phase", names::PHASES, errors);
    let shape = f.choice("shape", names::SHAPES, errors);
    let protective_device = f.object("device", errors, device);
    let own_rcd = f.object("rcd", errors, rcd);
    let purpose = f.choice("use", names::USES, errors);
    let outdoors = f.flag("outdoors", errors);
    let bath = f.flag("bath", errors);
    let concealed = f.flag("concealed", errors);
    let dwelling = f.flag("dwelling", errors);
    let load_value = f.get("load");
    let load = load(load_value, &Path::Key(path, "load"), errors);
    let list = f.get("sections");
    let list_path = Path::Key(path, "sections");
    let mut sections = heapless::Vec::<Section, SECTIONS>::new();
    let mut good = true;
    match list {
        Value::List(items) => {
            for (i, item) in items.iter().enumerate() {
                match section(item, &Path::At(&list_path, i), errors) {
                    Ok(s) => {
                        if sections.push(s).is_err() {
                            errors.core(
                                Path::At(&list_path, i).text(),
                                Reason::TooMany.at(Field::Sections),
                            );
                            good = false;
                            break;
                        }
                    }
                    Err(()) => good = false,
                }
            }
        }
        _ => {
            errors.kind(&list_path, "a list");
            good = false;
        }
    }
    if !f.finish(errors) || !good {
        return Err(());
    }
    let board = index_of(boards, &board?);
    let protective_device = match protective_device? {
        Some(d) => d,
        None => {
            errors.core(
                Path::Key(path, "device").text(),
                Reason::Missing.at(Field::Rating),
            );
            return Err(());
        }
    };
    Ok(Circuit {
        board: BoardId(board),
        phase: phase?,
        shape: shape?,
        device: protective_device,
        rcd: own_rcd?,
        purpose: purpose?,
        outdoors: outdoors?,
        bath: bath?,
        concealed: concealed?,
        dwelling: dwelling?,
        load: load?,
        sections,
    })
}

fn board(
    value: &Value,
    path: &Path<'_>,
    circuits: &[String],
    errors: &mut Errors,
) -> Result<Board, ()> {
    const KINDS: Choices<bool> = &[
        ("as-supply", "As the supply", false),
        ("own-electrode", "By an electrode of its own", true),
    ];
    let mut f = Fields::of(value, path, errors).ok_or(())?;
    let _ = f.get("id");
    let _ = f.text("name", errors);
    let fed_by = match f.get("fed_by") {
        Value::Null => Ok(None),
        Value::Text(name) => Ok(Some(CircuitId(index_of(circuits, name)))),
        _ => {
            errors.kind(&Path::Key(path, "fed_by"), "the name of a circuit, or null");
            Err(())
        }
    };
    let own = f.choice("earthing", KINDS, errors);
    let ra = f.maybe("ra", Field::Ra, Ohms::new, errors);
    let rcd = f.object("rcd", errors, rcd);
    let conditional = f.maybe("conditional", Field::BreakingCapacity, Amps::new, errors);
    let extraneous = f.flag("extraneous", errors);
    let bonding = f.object("bonding", errors, conductor);
    let earthing_conductor = f.object("earthing_conductor", errors, earthing_conductor);
    let demand = f.maybe("demand", Field::DesignCurrent, Amps::new, errors);
    if !f.finish(errors) {
        return Err(());
    }
    Ok(Board {
        fed_by: fed_by?,
        earthing: if own? {
            BoardEarthing::OwnElectrode(ra?)
        } else {
            BoardEarthing::AsSupply
        },
        rcd: rcd?,
        conditional: conditional?,
        extraneous: extraneous?,
        bonding: bonding?,
        earthing_conductor: earthing_conductor?,
        demand: demand?,
    })
}

/// Stands in the place of a circuit that can't be read, so that the others keep their places. It has no
/// sections, which core refuses: nothing with it can pass.
fn no_circuit(device: Device) -> Circuit {
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
            power_factor: ONE,
            class: LoadClass::Other,
            points: 1,
        },
        sections: heapless::Vec::new(),
    }
}

const ONE: Ratio = match Ratio::new(1.0) {
    Ok(one) => one,
    Err(_) => panic!("one is a ratio"),
};

/// Stands in the place of a board that can't be read: fed by nothing there is.
fn no_board() -> Board {
    Board {
        fed_by: Some(CircuitId(u16::MAX)),
        earthing: BoardEarthing::AsSupply,
        rcd: None,
        conditional: None,
        extraneous: false,
        bonding: None,
        earthing_conductor: None,
        demand: None,
    }
}

fn items<'v>(value: &'v Value, path: &Path<'_>, errors: &mut Errors) -> &'v [Value] {
    match value {
        Value::List(items) => items,
        _ => {
            errors.kind(path, "a list");
            &[]
        }
    }
}

/// Names of a list of things, each an error where it is missing or used twice.
fn ids(list: &[Value], path: &Path<'_>, errors: &mut Errors) -> Vec<String> {
    let mut out: Vec<String> = Vec::with_capacity(list.len());
    for (i, item) in list.iter().enumerate() {
        let here = Path::At(path, i);
        let id = match item {
            Value::Map(map) => map
                .iter()
                .find(|(k, _)| k == "id")
                .map(|(_, v)| v.clone())
                .unwrap_or(Value::Null),
            _ => Value::Null,
        };
        let name = match id {
            Value::Text(t) if !t.is_empty() => t,
            _ => {
                errors.kind(&Path::Key(&here, "id"), "a name of its own");
                String::new()
            }
        };
        if !name.is_empty() && out.contains(&name) {
            errors.say(
                Path::Key(&here, "id").text(),
                "id",
                "used-twice",
                "Another one has the same name. Give each its own.".to_owned(),
            );
        }
        out.push(name);
    }
    out
}

/// Reads a whole job.
#[must_use]
pub fn read(value: &Value) -> Job {
    let mut errors = Errors::default();
    let root = Path::Root;
    let mut job = Job {
        house: None,
        boards: Vec::new(),
        circuits: Vec::new(),
        bad_boards: Vec::new(),
        bad_circuits: Vec::new(),
        errors: Vec::new(),
    };
    let Some(mut f) = Fields::of(value, &root, &mut errors) else {
        job.errors = errors.0;
        return job;
    };
    let format = matches!(f.get("format"), Value::Text(t) if t == "faultpath-job");
    if !format {
        errors.say(
            "format".to_owned(),
            "format",
            "no-such-choice",
            "This is not a job of this program: its format must be faultpath-job.".to_owned(),
        );
    }
    let version = f.get("version");
    if *version != Value::Number(1.0) {
        let newer = matches!(version, Value::Number(v) if *v > 1.0);
        errors.say(
            "version".to_owned(),
            "version",
            if newer {
                "newer-version"
            } else {
                "no-such-choice"
            },
            if newer {
                "This job was made by a newer version. Update, then open it again.".to_owned()
            } else {
                "The version must be 1.".to_owned()
            },
        );
    }
    let _ = f.text("name", &mut errors);
    let _ = f.text("notes", &mut errors);
    let profile_value = f.get("profile");
    let profile = profile(profile_value, &Path::Key(&root, "profile"), &mut errors);
    let supply_value = f.get("supply");
    let supply = supply(supply_value, &Path::Key(&root, "supply"), &mut errors);
    let boards_path = Path::Key(&root, "boards");
    let circuits_path = Path::Key(&root, "circuits");
    let boards_value = f.get("boards");
    let circuits_value = f.get("circuits");
    let board_items = items(boards_value, &boards_path, &mut errors);
    let circuit_items = items(circuits_value, &circuits_path, &mut errors);
    f.finish(&mut errors);
    job.boards = ids(board_items, &boards_path, &mut errors);
    job.circuits = ids(circuit_items, &circuits_path, &mut errors);

    let mut boards = heapless::Vec::<Board, BOARDS>::new();
    for (i, item) in board_items.iter().enumerate() {
        let read = board(item, &Path::At(&boards_path, i), &job.circuits, &mut errors);
        job.bad_boards.push(read.is_err());
        if boards.push(read.unwrap_or_else(|()| no_board())).is_err() {
            errors.core(boards_path.text(), Reason::TooMany.at(Field::Boards));
            job.bad_boards.resize(board_items.len(), true);
            break;
        }
    }
    let mut circuits = Vec::new();
    for (i, item) in circuit_items.iter().enumerate() {
        if i >= CIRCUITS {
            errors.core(circuits_path.text(), Reason::TooMany.at(Field::Circuits));
            job.bad_circuits.resize(circuit_items.len(), true);
            break;
        }
        let read = circuit(item, &Path::At(&circuits_path, i), &job.boards, &mut errors);
        job.bad_circuits.push(read.is_err());
        circuits.push(read);
    }
    let stand_in = Device::new(
        faultpath::device::Family::Breaker(faultpath::device::Curve::B),
        match Amps::new(6.0) {
            Ok(a) => a,
            Err(_) => unreachable!("6 A is a current"),
        },
    );
    if let (Ok(profile), Ok(supply), Ok(stand_in), true) = (profile, supply, stand_in, format) {
        let mut house = Box::new(House {
            profile,
            supply,
            boards,
            circuits: heapless::Vec::new(),
        });
        for c in circuits {
            let c = c.unwrap_or_else(|()| no_circuit(stand_in));
            // No more than `CIRCUITS` were kept.
            let _ = house.circuits.push(c);
        }
        cross_check(&house, &mut job, &mut errors);
        job.house = Some(house);
    }
    job.errors = errors.0;
    job
}

/// What only the whole shows: references, cycles, phases, sizes that do not go together.
fn cross_check(house: &House, job: &mut Job, errors: &mut Errors) {
    let mut found: Vec<(At, Error)> = Vec::new();
    house.check(|at, e| found.push((at, e)));
    for (at, e) in found {
        let path = match at {
            At::Profile => "profile".to_owned(),
            At::Supply => "supply".to_owned(),
            At::Board(id) => {
                let i = usize::from(id.0);
                if job.bad_boards.get(i).copied().unwrap_or(true) {
                    continue;
                }
                if let Some(b) = job.bad_boards.get_mut(i) {
                    *b = true;
                }
                format!("boards[{i}].fed_by")
            }
            At::Circuit(id, section) => {
                let i = usize::from(id.0);
                // One that can't be read has said so already.
                if house.circuits.get(i).is_none_or(|c| c.sections.is_empty())
                    && job.bad_circuits.get(i).copied().unwrap_or(true)
                {
                    continue;
                }
                if let Some(b) = job.bad_circuits.get_mut(i) {
                    *b = true;
                }
                match section {
                    Some(s) => format!("circuits[{i}].sections[{s}].{}", section_key(e.field)),
                    None => format!("circuits[{i}].{}", circuit_key(e.field)),
                }
            }
        };
        errors.core(path, e);
    }
}

fn section_key(field: Field) -> &'static str {
    match field {
        Field::NeutralCsa => "neutral_csa",
        Field::ProtectiveCsa => "protective.csa",
        Field::Material => "material",
        Field::Construction => "construction",
        Field::Cores => "cores",
        Field::Insulation => "insulation",
        Field::OperatingTemperature => "operating_limit",
        Field::Grouped => "grouped",
        Field::Rating => "spur_fuse",
        Field::Method => "method",
        Field::PerLengthResistance => "protective.resistance",
        Field::Sections => "part",
        _ => "csa",
    }
}

fn circuit_key(field: Field) -> &'static str {
    match field {
        Field::Board => "board",
        Field::Phase => "phase",
        Field::Shape => "shape",
        Field::PowerFactor => "load.power_factor",
        Field::Points => "load.points",
        Field::ResidualCurrent => "rcd",
        _ => "sections",
    }
}

/// Whether any earthing but one is to be judged.
#[must_use]
pub fn readings(house: &House) -> &'static [Earthing] {
    house.supply.earthing.readings()
}

/// Basis of drop by name; for the profile as it is handed out.
#[must_use]
pub fn drop_basis_name(basis: DropBasis) -> &'static str {
    names::name_of(names::DROP_BASES, basis)
}

/// Whether the supply's earthing is known.
#[must_use]
pub fn is_known(supply: &Supply) -> bool {
    matches!(supply.earthing, SupplyEarthing::Known(_))
}
