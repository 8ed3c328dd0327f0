//! From a job's values to core's types. Every error is collected with its path; what can't be read is kept
//! out and the rest is judged.

use crate::names::{self, Choices, ProtectiveKind, choices};
use crate::out::{Out, joined};
use crate::path::{self, Path};
use crate::value::Value;
use faultpath::cable::{Arrangement, Laying};
use faultpath::device::{Curve, Device, Family, Rcd};
use faultpath::error::{Error, Field, Reason};
use faultpath::network::{
    At, Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Installation, Load, Part, Phase,
    Protective, SECTIONS, Section, Shape, Steel, Use,
};
use faultpath::profile::{Diversity, LoadClass, Profile};
use faultpath::quantity::{
    AmpSquaredSeconds, Amps, Celsius, KelvinMetresPerWatt, Metres, Ohms, OhmsPerKm, Ratio,
    SquareMm, Volts, Watts,
};
use faultpath::supply::{Conductor, Earthing, EarthingConductor, FaultLevel, Phases, Supply};
use faultpath::words;

/// Most boards of a job on the page.
pub const BOARDS: usize = 32;
/// Most circuits of a job on the page.
pub const CIRCUITS: usize = 128;
/// The installation the page judges.
pub type House = Installation<BOARDS, CIRCUITS>;

/// A job that was read, as far as it could be.
pub struct Job<'v> {
    /// The installation, unless the supply or the profile could not be read.
    pub house: Option<Box<House>>,
    /// Names of the boards, in order.
    pub boards: Vec<&'v str>,
    /// Names of the circuits, in order.
    pub circuits: Vec<&'v str>,
    /// Which boards can't be read.
    pub bad_boards: Vec<bool>,
    /// Which circuits can't be read.
    pub bad_circuits: Vec<bool>,
    /// Everything that is wrong: `path`, `field`, `reason`, `text`.
    pub errors: Vec<Out>,
}

impl Job<'_> {
    /// The installation, and the earthing it is judged as where it is to be judged as several.
    #[must_use]
    pub fn reading(&self, judgement: usize) -> Option<(&House, Earthing)> {
        let house = self.house.as_deref()?;
        let earthing = house.supply.earthing.readings().get(judgement)?;
        Some((house, *earthing))
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

/// The errors found so far.
#[derive(Default)]
struct Errors(Vec<Out>);

impl Errors {
    fn say(&mut self, path: String, field: Out, reason: &'static str, text: Out) {
        self.0.push(Out::Fields(vec![
            ("path", path.into()),
            ("field", field),
            ("reason", reason.into()),
            ("text", text),
        ]));
    }

    /// An error at the field the path leads to.
    fn at(&mut self, path: &Path<'_>, reason: &'static str, text: Out) {
        self.say(path.text(), path.last_key().to_owned().into(), reason, text);
    }

    fn core(&mut self, path: String, error: Error) {
        self.say(
            path,
            words::field(error.field).into(),
            reason_name(error.reason),
            words::reason(error.reason).into(),
        );
    }

    fn kind(&mut self, path: &Path<'_>, wanted: &str) {
        let text = joined(&["This must be ", wanted, "."]);
        self.at(path, "wrong-kind", text.into());
    }

    /// The choice a value names, as its place in the list.
    fn pick(
        &mut self,
        value: &Value,
        words: &[(&'static str, &'static str)],
        path: &Path<'_>,
    ) -> Option<usize> {
        let found = value
            .text()
            .and_then(|text| words.iter().position(|(name, _)| *name == text));
        if found.is_none() {
            let mut text = String::new();
            for (name, _) in words {
                text.push_str(if text.is_empty() {
                    "Choose one of: "
                } else {
                    ", "
                });
                text.push_str(name);
            }
            text.push('.');
            self.at(path, "no-such-choice", text.into());
        }
        found
    }
}

/// A map being read: knows which of its keys were asked for, and whether they could be read. What can't be
/// is named among the errors and is `None` here.
struct Fields<'v, 'p, 'e> {
    map: &'v [(String, Value)],
    path: &'p Path<'p>,
    errors: &'e mut Errors,
    seen: u64,
    good: bool,
}

/// Reads one thing.
type Reader<T> = fn(&Value, &Path<'_>, &mut Errors) -> Option<T>;

impl<'v, 'p, 'e> Fields<'v, 'p, 'e> {
    fn of(value: &'v Value, path: &'p Path<'p>, errors: &'e mut Errors) -> Option<Self> {
        let wanted = match value {
            Value::Map(map) if map.len() <= 64 => {
                return Some(Self {
                    map,
                    path,
                    errors,
                    seen: 0,
                    good: true,
                });
            }
            Value::Map(_) => "an object with the fields of the format only",
            _ => "an object",
        };
        errors.kind(path, wanted);
        None
    }

    fn get(&mut self, key: &str) -> &'v Value {
        let mut mask = 1;
        for (name, value) in self.map {
            if name == key {
                self.seen |= mask;
                return value;
            }
            mask <<= 1;
        }
        &Value::Null
    }

    /// Every field nobody asked for is an error: a misspelt name must not pass as an empty field.
    fn known(&mut self) -> Option<()> {
        let mut clean = Some(());
        for (i, (key, _)) in self.map.iter().enumerate() {
            if self.seen & (1 << i) == 0 {
                clean = None;
                self.errors.at(
                    &Path::Key(self.path, key),
                    "unknown-field",
                    "The format has no such field. Check its name, or remove it.".into(),
                );
            }
        }
        clean
    }

    /// Whether every field is known and could be read.
    fn finish(&mut self) -> Option<()> {
        self.known()?;
        self.good.then_some(())
    }

    fn wrong(&mut self, key: &str, wanted: &str) {
        self.errors.kind(&Path::Key(self.path, key), wanted);
        self.good = false;
    }

    fn refuse(&mut self, key: &str, error: Error) {
        self.errors.core(Path::Key(self.path, key).text(), error);
        self.good = false;
    }

    #[allow(clippy::cast_possible_truncation)]
    fn number(&mut self, key: &str) -> Option<f32> {
        match self.get(key) {
            Value::Null => None,
            Value::Number(v) => Some(*v as f32),
            _ => {
                self.wrong(key, "a number");
                None
            }
        }
    }

    /// A number that may be absent, made into a quantity.
    fn maybe<T>(
        &mut self,
        key: &str,
        field: Field,
        make: fn(f32) -> Result<T, Reason>,
    ) -> Option<T> {
        match make(self.number(key)?) {
            Ok(v) => Some(v),
            Err(reason) => {
                self.refuse(key, reason.at(field));
                None
            }
        }
    }

    fn needed<T>(
        &mut self,
        key: &str,
        field: Field,
        make: fn(f32) -> Result<T, Reason>,
    ) -> Option<T> {
        if matches!(self.get(key), Value::Null) {
            self.refuse(key, Reason::Missing.at(field));
        }
        self.maybe(key, field, make)
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn count(&mut self, key: &str, field: Field) -> Option<u8> {
        let v = self.needed(key, field, Ok)?;
        let whole = v as u8;
        if f32::from(whole) == v {
            return Some(whole);
        }
        self.wrong(key, "a whole number up to 255");
        None
    }

    fn flag(&mut self, key: &str) -> bool {
        match self.get(key) {
            Value::Bool(b) => return *b,
            // What was not said is not taken for no: less would be asked for.
            _ => self.wrong(key, "true or false"),
        }
        false
    }

    /// A name for a person: there must be one, though nothing is lost with it.
    fn name(&mut self) {
        if !matches!(self.get("name"), Value::Text(_)) {
            self.errors.kind(&Path::Key(self.path, "name"), "text");
        }
    }

    /// A text; nothing is lost where it can't be read, unless the caller says so.
    fn text(&mut self, key: &str) -> Option<&'v str> {
        match self.get(key) {
            Value::Text(t) => Some(t),
            Value::Null => Some(""),
            _ => {
                self.errors.kind(&Path::Key(self.path, key), "text");
                None
            }
        }
    }

    fn pick(&mut self, key: &str, words: &[(&'static str, &'static str)]) -> Option<usize> {
        let value = self.get(key);
        let found = self.errors.pick(value, words, &Path::Key(self.path, key));
        self.good &= found.is_some();
        found
    }

    fn choice<T: Copy>(&mut self, key: &str, choices: Choices<T>) -> Option<T> {
        let i = self.pick(key, choices.words)?;
        choices.values.get(i).copied()
    }

    /// A thing that must be there.
    fn part<T>(&mut self, key: &str, read: Reader<T>) -> Option<T> {
        let value = self.get(key);
        let found = read(value, &Path::Key(self.path, key), self.errors);
        self.good &= found.is_some();
        found
    }

    /// A thing, or null.
    fn object<T>(&mut self, key: &str, read: Reader<T>) -> Option<T> {
        match self.get(key) {
            Value::Null => None,
            _ => self.part(key, read),
        }
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
    let mut f = Fields::of(value, path, errors)?;
    let material = f.choice("material", names::MATERIALS);
    let csa = f.needed("csa", Field::EarthingConductor, SquareMm::new);
    let buried = f.flag("buried");
    let mechanical = f.flag("mechanical");
    let corrosion = f.flag("corrosion");
    f.finish()?;
    Some(EarthingConductor {
        conductor: Conductor {
            material: material?,
            csa: csa?,
        },
        buried,
        mechanical,
        corrosion,
    })
}

fn supply(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Supply> {
    const CURRENTS: Choices<bool> = choices! {
        "ac", "a.c." => true;
        "dc", "d.c." => false;
    };
    let mut f = Fields::of(value, path, errors)?;
    let alternating = f.choice("current", CURRENTS);
    let u0 = f.needed("u0", Field::U0, Volts::new);
    let phases = match f.number("phases") {
        Some(1.0) => Some(Phases::Single),
        Some(3.0) => Some(Phases::Three),
        other => {
            // What is no number has been named already.
            if other.is_some() || matches!(f.get("phases"), Value::Null) {
                f.wrong("phases", "1 or 3");
            }
            None
        }
    };
    let earthing = f.choice("earthing", names::SUPPLY_EARTHINGS);
    let ze = f.maybe("ze", Field::Ze, Ohms::new);
    let ze_origin = f.choice("ze_from", names::ORIGINS);
    let ra = f.maybe("ra", Field::Ra, Ohms::new);
    let level = f.maybe("fault_level", Field::FaultLevel, Amps::new);
    let level_from = f.choice("fault_level_from", names::LEVEL_ORIGINS);
    let x_over_r = f.maybe("x_over_r", Field::XOverR, Ratio::new);
    let incoming = f.object("device", device);
    let neutral = f.maybe("neutral_csa", Field::NeutralCsa, SquareMm::new);
    let tails = f.maybe("tails_csa", Field::Csa, SquareMm::new);
    let earthing_conductor = f.object("earthing_conductor", earthing_conductor);
    let extraneous = f.flag("extraneous");
    let bonding = f.object("bonding", conductor);
    f.known()?;
    if alternating == Some(false) {
        f.refuse("current", Reason::DirectCurrent.at(Field::Current));
    }
    f.good.then_some(())?;
    let supply = Supply {
        u0: u0?,
        phases: phases?,
        earthing: earthing?,
        ze,
        ze_origin: ze_origin?,
        ra,
        fault_level: match (level, level_from?) {
            (_, None) => FaultLevel::FromZe,
            (Some(i), Some(origin)) => FaultLevel::Stated(i, origin),
            (None, Some(_)) => FaultLevel::NotKnown,
        },
        x_over_r,
        device: incoming,
        neutral,
        tails,
        earthing_conductor,
        extraneous,
        bonding,
    };
    if let Err(e) = supply.check() {
        let key = match e.field {
            Field::Ze => "ze",
            Field::FaultLevel => "fault_level",
            _ => "u0",
        };
        f.refuse(key, e);
        return None;
    }
    Some(supply)
}

fn diversity(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Diversity> {
    let mut f = Fields::of(value, path, errors)?;
    let mut of = |key| f.needed(key, Field::Diversity, Ratio::new).map(Ratio::get);
    let (first_amps, first, rest, add) = (of("first_amps"), of("first"), of("rest"), of("add"));
    let (largest, second, others) = (of("largest"), of("second"), of("others"));
    f.finish()?;
    Some(Diversity {
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

fn profile(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Profile> {
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
    let mut f = Fields::of(value, path, errors)?;
    f.name();
    let mut of = |key, field| f.needed(key, field, Ratio::new).map(Ratio::get);
    let cmin = of("cmin", Field::VoltageFactor);
    let cmax = of("cmax", Field::VoltageFactor);
    let drop_lighting = of("drop_lighting", Field::Limit);
    let drop_other = of("drop_other", Field::Limit);
    let source_electrode = of("source_electrode", Field::Limit);
    let touch_voltage = of("touch_voltage", Field::Limit);
    let drop_basis = f.choice("drop_basis", names::DROP_BASES);
    let diversity = f.part("diversity", diversities);
    f.finish()?;
    let p = Profile {
        cmin: cmin?,
        cmax: cmax?,
        drop_lighting: drop_lighting?,
        drop_other: drop_other?,
        drop_basis: drop_basis?,
        source_electrode: source_electrode?,
        touch_voltage: touch_voltage?,
        diversity: diversity?,
        ..Profile::IEC
    };
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
    let mut f = Fields::of(value, path, errors)?;
    let length = f.needed("length", Field::Length, Metres::new);
    let part = f.choice("part", PARTS);
    let spur_fuse = f.object("spur_fuse", device);
    let material = f.choice("material", names::MATERIALS);
    let csa = f.needed("csa", Field::Csa, SquareMm::new);
    let neutral = f.maybe("neutral_csa", Field::NeutralCsa, SquareMm::new);
    let insulation = f.choice("insulation", names::INSULATIONS);
    let construction = f.choice("construction", names::CONSTRUCTIONS);
    let cores = f.count("cores", Field::Cores);
    let limit = f.maybe("operating_limit", Field::OperatingTemperature, Celsius::new);
    let line = material
        .zip(csa)
        .map(|(material, csa)| Conductor { material, csa });
    let protective = protective(
        f.get("protective"),
        &Path::Key(path, "protective"),
        line,
        f.errors,
    );
    let method = f.choice("method", names::METHODS);
    let ambient = f.needed("ambient", Field::Ambient, Celsius::new);
    let grouped = f.count("grouped", Field::Grouped);
    let arrangement = f.part("arrangement", arrangement_at);
    let soil = f.maybe("soil", Field::SoilResistivity, KelvinMetresPerWatt::new);
    let depth = f.maybe("depth", Field::Depth, Metres::new);
    let insulation_run = f.maybe("insulation_run", Field::InsulationRun, Metres::new);
    f.finish()?;
    Some(Section {
        length: length?,
        part: part?,
        spur_fuse,
        material: material?,
        csa: csa?,
        neutral,
        insulation: insulation?,
        construction: construction?,
        cores: cores?,
        operating_limit: limit,
        protective: protective?,
        laying: Laying {
            method: method?,
            ambient: ambient?,
            grouped: grouped?,
            arrangement: arrangement?,
            soil,
            depth,
            insulation_run,
        },
    })
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

type Sections = heapless::Vec<Section, SECTIONS>;

fn sections(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Sections> {
    let Value::List(items) = value else {
        errors.kind(path, "a list");
        return None;
    };
    let mut sections = Sections::new();
    let mut good = Some(());
    for (i, item) in items.iter().enumerate() {
        let path = Path::At(path, i);
        match section(item, &path, errors) {
            Some(s) => {
                if sections.push(s).is_err() {
                    errors.core(path.text(), Reason::TooMany.at(Field::Sections));
                    return None;
                }
            }
            None => good = None,
        }
    }
    good.map(|()| sections)
}

fn circuit(
    value: &Value,
    path: &Path<'_>,
    boards: &[&str],
    errors: &mut Errors,
) -> Option<Circuit> {
    let mut f = Fields::of(value, path, errors)?;
    let _ = f.get("id");
    f.name();
    let board = f.text("board");
    let phase = f.choice("phase", names::PHASES);
    let shape = f.choice("shape", names::SHAPES);
    let protective_device = f.object("device", device);
    let own_rcd = f.object("rcd", rcd);
    let purpose = f.choice("use", names::USES);
    let outdoors = f.flag("outdoors");
    let bath = f.flag("bath");
    let concealed = f.flag("concealed");
    let dwelling = f.flag("dwelling");
    let load = f.part("load", load);
    let sections = f.part("sections", sections);
    f.known()?;
    let (sections, board) = (sections?, board?);
    if matches!(f.get("device"), Value::Null) {
        f.refuse("device", Reason::Missing.at(Field::Rating));
    }
    f.good.then_some(())?;
    Some(Circuit {
        board: BoardId(index_of(boards, board)),
        phase: phase?,
        shape: shape?,
        device: protective_device?,
        rcd: own_rcd,
        purpose: purpose?,
        outdoors,
        bath,
        concealed,
        dwelling,
        load: load?,
        sections,
    })
}

fn board(value: &Value, path: &Path<'_>, circuits: &[&str], errors: &mut Errors) -> Option<Board> {
    const KINDS: Choices<bool> = choices! {
        "as-supply", "As the supply" => false;
        "own-electrode", "By an electrode of its own" => true;
    };
    let mut f = Fields::of(value, path, errors)?;
    let _ = f.get("id");
    f.name();
    let fed_by = match f.get("fed_by") {
        Value::Null => None,
        Value::Text(name) => Some(CircuitId(index_of(circuits, name))),
        _ => {
            f.wrong("fed_by", "the name of a circuit, or null");
            None
        }
    };
    let own = f.choice("earthing", KINDS);
    let good = f.good;
    let ra = f.maybe("ra", Field::Ra, Ohms::new);
    if own == Some(false) {
        // Named where it can't be read, but the board has no use for it.
        f.good = good;
    }
    let rcd = f.object("rcd", rcd);
    let conditional = f.maybe("conditional", Field::BreakingCapacity, Amps::new);
    let extraneous = f.flag("extraneous");
    let bonding = f.object("bonding", conductor);
    let earthing_conductor = f.object("earthing_conductor", earthing_conductor);
    let demand = f.maybe("demand", Field::DesignCurrent, Amps::new);
    f.finish()?;
    Some(Board {
        fed_by,
        earthing: if own? {
            BoardEarthing::OwnElectrode(ra)
        } else {
            BoardEarthing::AsSupply
        },
        rcd,
        conditional,
        extraneous,
        bonding,
        earthing_conductor,
        demand,
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

const SIX: Amps = match Amps::new(6.0) {
    Ok(six) => six,
    Err(_) => panic!("six amperes are a current"),
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
    if let Value::List(items) = value {
        return items;
    }
    errors.kind(path, "a list");
    &[]
}

/// Names of a list of things, each an error where it is missing or used twice.
fn ids<'v>(list: &'v [Value], path: &Path<'_>, errors: &mut Errors) -> Vec<&'v str> {
    let mut out = Vec::with_capacity(list.len());
    for (i, item) in list.iter().enumerate() {
        let here = Path::At(path, i);
        let here = Path::Key(&here, "id");
        let name = item.get("id").text().unwrap_or("");
        if name.is_empty() {
            errors.kind(&here, "a name of its own");
        } else if out.contains(&name) {
            errors.at(
                &here,
                "used-twice",
                "Another one has the same name. Give each its own.".into(),
            );
        }
        out.push(name);
    }
    out
}

/// What says that this is a job, and of which version.
fn heading(f: &mut Fields<'_, '_, '_>) -> Option<()> {
    let format = f.get("format").text() == Some("faultpath-job");
    if !format {
        f.errors.at(
            &Path::Key(f.path, "format"),
            "no-such-choice",
            "This is not a job of this program: its format must be faultpath-job.".into(),
        );
    }
    let version = match f.get("version") {
        Value::Number(v) => *v,
        _ => 0.0,
    };
    if version != 1.0 {
        let (reason, text) = if version > 1.0 {
            (
                "newer-version",
                "This job was made by a newer version. Update, then open it again.",
            )
        } else {
            ("no-such-choice", "The version must be 1.")
        };
        f.errors
            .at(&Path::Key(f.path, "version"), reason, text.into());
    }
    format.then_some(())
}

/// Reads a whole job.
#[must_use]
pub fn read(value: &Value) -> Job<'_> {
    let mut errors = Errors::default();
    let mut job = Job {
        house: None,
        boards: Vec::new(),
        circuits: Vec::new(),
        bad_boards: Vec::new(),
        bad_circuits: Vec::new(),
        errors: Vec::new(),
    };
    read_into(&mut job, value, &mut errors);
    job.errors = errors.0;
    job
}

fn read_into<'v>(job: &mut Job<'v>, value: &'v Value, errors: &mut Errors) -> Option<()> {
    let root = Path::Root;
    let mut f = Fields::of(value, &root, errors)?;
    let heading = heading(&mut f);
    f.name();
    let _ = f.text("notes");
    let profile = f.part("profile", profile);
    let supply = f.part("supply", supply);
    let boards_path = Path::Key(&root, "boards");
    let circuits_path = Path::Key(&root, "circuits");
    let board_items = items(f.get("boards"), &boards_path, f.errors);
    let circuit_items = items(f.get("circuits"), &circuits_path, f.errors);
    let _ = f.known();
    job.boards = ids(board_items, &boards_path, errors);
    job.circuits = ids(circuit_items, &circuits_path, errors);

    let mut boards = heapless::Vec::<Board, BOARDS>::new();
    for (i, item) in board_items.iter().enumerate() {
        let read = board(item, &Path::At(&boards_path, i), &job.circuits, errors);
        job.bad_boards.push(read.is_none());
        if boards.push(read.unwrap_or_else(no_board)).is_err() {
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
        let read = circuit(item, &Path::At(&circuits_path, i), &job.boards, errors);
        job.bad_circuits.push(read.is_none());
        circuits.push(read);
    }
    heading?;
    let stand_in = Device::new(Family::Breaker(Curve::B), SIX).ok()?;
    let mut house = Box::new(House {
        profile: profile?,
        supply: supply?,
        boards,
        circuits: heapless::Vec::new(),
    });
    for c in circuits {
        // No more than `CIRCUITS` were kept.
        let _ = house
            .circuits
            .push(c.unwrap_or_else(|| no_circuit(stand_in)));
    }
    cross_check(&house, job, errors);
    job.house = Some(house);
    Some(())
}

/// What only the whole shows: references, cycles, phases, sizes that do not go together.
fn cross_check(house: &House, job: &mut Job<'_>, errors: &mut Errors) {
    house.check(|at, e| {
        let (path, bad, said) = match at {
            At::Profile => {
                errors.core("profile".to_owned(), e);
                return;
            }
            At::Supply => {
                errors.core("supply".to_owned(), e);
                return;
            }
            At::Board(id) => (
                path::of_board(id.0, "fed_by"),
                job.bad_boards.get_mut(usize::from(id.0)),
                true,
            ),
            At::Circuit(id, section) => (
                match section {
                    Some(s) => path::of_section(id.0, s, section_key(e.field)),
                    None => path::of_circuit(id.0, circuit_key(e.field)),
                },
                job.bad_circuits.get_mut(usize::from(id.0)),
                // One that can't be read has said so already.
                house.circuit(id).is_none_or(|c| c.sections.is_empty()),
            ),
        };
        let known = bad.as_deref().copied().unwrap_or(true);
        if said && known {
            return;
        }
        if let Some(bad) = bad {
            *bad = true;
        }
        errors.core(path, e);
    });
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
