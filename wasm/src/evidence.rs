//! One question of the evidence: the name of a function of core, its inputs by name, its value.
//!
//! Every row of `vectors/` is such a question. A question answers `{"value": …}`, or `{"error": …}` with
//! `not-known` where core knows no value, else the reason of the refusal.

mod earthing;
pub mod held;
mod reading;

use crate::answer::{answer, check_of};
use crate::earthing as compare;
use crate::lesson;
use crate::names::{self, Choices, choices};
use crate::out::{Out, joined};
use crate::pictures;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read::{self, reason_name};
use crate::readings::readings;
use crate::solutions;
use crate::value::Value;
use core::cell::Cell;
use faultpath::cable::{self, Laying};
use faultpath::conductor;
use faultpath::device::{self, Device, Known, Rcd};
use faultpath::error::{Error, Reason};
use faultpath::profile::{long_time, short_time};
use faultpath::quantity::{
    AmpSquaredSeconds, Amps, Celsius, KelvinMetresPerWatt, Metres, Ratio, Seconds, SquareMm, Volts,
};
use serde::ser::{Serialize, SerializeStruct, Serializer};

/// What comes back.
pub enum Reply {
    /// A number.
    Number {
        /// The number.
        value: f32,
    },
    /// A word.
    Word {
        /// The word.
        value: String,
    },
    /// A whole answer: of the judge, or of the solver.
    Answer {
        /// The answer.
        value: Out,
    },
    /// The errors of a job.
    Errors {
        /// Each as in an answer.
        errors: Out,
    },
    /// No value.
    Error {
        /// Why.
        error: String,
    },
}

impl From<Reply> for Out {
    fn from(reply: Reply) -> Self {
        let (name, value) = match reply {
            Reply::Number { value } => ("value", value.into()),
            Reply::Word { value } => ("value", value.into()),
            Reply::Answer { value } => ("value", value),
            Reply::Errors { errors } => ("errors", errors),
            Reply::Error { error } => ("error", error.into()),
        };
        Out::Fields(vec![(name, value)])
    }
}

impl Serialize for Reply {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        let mut out = s.serialize_struct("Reply", 1)?;
        match self {
            Reply::Number { value } => out.serialize_field("value", value)?,
            Reply::Word { value } => out.serialize_field("value", value)?,
            Reply::Answer { value } => out.serialize_field("value", value)?,
            Reply::Errors { errors } => out.serialize_field("errors", errors)?,
            Reply::Error { error } => out.serialize_field("error", error)?,
        }
        out.end()
    }
}

/// Why there is no value.
enum No {
    NotKnown,
    Refused(Reason),
    Question(String),
}

/// The inputs of a question by name. What can't be taken leaves the reason here.
struct Inputs<'v> {
    map: &'v Value,
    no: &'v Cell<No>,
}

impl<'v> Inputs<'v> {
    /// The question itself is wrong.
    fn wrong<T>(&self, parts: &[&str]) -> Option<T> {
        self.no.set(No::Question(joined(parts)));
        None
    }

    fn refused<T>(&self, reason: Reason) -> Option<T> {
        self.no.set(No::Refused(reason));
        None
    }

    /// What core gave.
    fn given<T>(&self, result: Result<T, Error>) -> Option<T> {
        match result {
            Ok(v) => Some(v),
            Err(e) => self.refused(e.reason),
        }
    }

    /// A name in the question may be written as in a job or with hyphens.
    fn get(&self, key: &str) -> &'v Value {
        match self.map.get(key) {
            Value::Null if key.contains('_') => self.map.get(&key.replace('_', "-")),
            found => found,
        }
    }

    /// A number; `Some(None)` where there is none.
    #[allow(clippy::cast_possible_truncation)]
    fn number(&self, key: &str) -> Option<Option<f32>> {
        match self.get(key) {
            Value::Number(v) => Some(Some(*v as f32)),
            Value::Null => Some(None),
            _ => self.wrong(&[key, " is not a number"]),
        }
    }

    fn maybe<T>(&self, key: &str, make: fn(f32) -> Result<T, Reason>) -> Option<Option<T>> {
        match self.number(key)? {
            None => Some(None),
            Some(v) => match make(v) {
                Ok(v) => Some(Some(v)),
                Err(reason) => self.refused(reason),
            },
        }
    }

    fn need<T>(&self, key: &str, make: fn(f32) -> Result<T, Reason>) -> Option<T> {
        match self.maybe(key, make)? {
            Some(v) => Some(v),
            None => self.wrong(&[key, " is missing"]),
        }
    }

    fn choice<T: Copy>(&self, key: &str, choices: Choices<T>) -> Option<T> {
        let i = self.pick(key, choices.names)?;
        choices.values.get(i).copied()
    }

    fn pick(&self, key: &str, names: &[&str]) -> Option<usize> {
        let text = self.get(key).text();
        match names.iter().position(|name| Some(*name) == text) {
            Some(i) => Some(i),
            None => self.wrong(&[key, " is none of the choices"]),
        }
    }

    fn text(&self, key: &str) -> Option<&'v str> {
        match self.get(key).text() {
            Some(text) => Some(text),
            None => self.wrong(&[key, " is not a text"]),
        }
    }

    fn flag(&self, key: &str) -> bool {
        matches!(self.get(key), Value::Bool(true))
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn count(&self, key: &str) -> Option<u8> {
        let v = self.need(key, Ok)?;
        if f32::from(v as u8) == v {
            Some(v as u8)
        } else {
            self.wrong(&[key, " is no count"])
        }
    }

    fn csa(&self) -> Option<SquareMm> {
        self.need("csa", SquareMm::new)
    }

    fn device(&self) -> Option<Device> {
        let family = self.choice("family", names::FAMILIES)?;
        let mut d = self.given(Device::new(family, self.need("rating", Amps::new)?))?;
        if let Some(b) = self.maybe("breaking", Amps::new)? {
            d = d.with_breaking(b);
        }
        if let Some(e) = self.maybe("let_through", AmpSquaredSeconds::new)? {
            d = d.with_let_through(e);
        }
        if self.number("energy_class")? == Some(3.0) {
            d = d.with_energy_class_3();
        }
        Some(d)
    }

    fn rcd(&self) -> Option<Rcd> {
        self.given(Rcd::new(
            self.need("sensitivity", Amps::new)?,
            self.choice("kind", names::RCD_TYPES)?,
            self.choice("delay", names::DELAYS)?,
        ))
    }

    fn current(&self) -> Option<Amps> {
        self.need("current", Amps::new)
    }

    fn time(&self) -> Option<Seconds> {
        self.need("time", Seconds::new)
    }

    fn arrangement(&self) -> Option<cable::Arrangement> {
        match read::arrangement(self.get("arrangement")) {
            Ok(arrangement) => Some(arrangement),
            Err(text) => self.wrong(&[&text]),
        }
    }

    fn laying(&self) -> Option<Laying> {
        Some(Laying {
            method: self.choice("method", names::METHODS)?,
            ambient: self.need("ambient", Celsius::new)?,
            grouped: self.count("grouped")?,
            arrangement: self.arrangement()?,
            soil: self.maybe("soil", KelvinMetresPerWatt::new)?,
            depth: self.maybe("depth", Metres::new)?,
            insulation_run: self.maybe("insulation_run", Metres::new)?,
        })
    }
}

fn known<T>(known: Known<T>) -> Option<T> {
    match known {
        Known::Value(v) => Some(v),
        Known::NotKnown(_) => None,
    }
}

fn number(name: &str, i: &Inputs<'_>) -> Option<f32> {
    let material = || i.choice("material", names::TABLE_MATERIALS);
    let insulation = || i.choice("insulation", names::INSULATIONS);
    let construction = || i.choice("construction", names::CONSTRUCTIONS);
    let method = || i.choice("method", names::METHODS);
    let temperature = || i.need("temperature", Celsius::new);
    Some(match name {
        "max-zs" => known(device::max_zs(
            &i.device()?,
            i.time()?,
            i.need("u0", Volts::new)?,
            i.need("cmin", Ratio::new)?,
        ))?
        .get(),
        "disconnecting-current" => known(i.device()?.disconnecting_current(i.time()?))?.get(),
        "device-time-latest" => known(i.device()?.time(i.current()?))?.latest.get(),
        "device-let-through" => known(i.device()?.let_through(i.current()?))?.get(),
        "conventional-current" => i.device()?.conventional_current().get(),
        "breaking" => i.device()?.breaking()?.get(),
        "rcd-latest" => known(i.rcd()?.latest(i.current()?))?.get(),
        "short-time" => i
            .given(short_time(
                i.choice("earthing", names::EARTHINGS)?,
                i.need("u0", Volts::new)?,
            ))?
            .get(),
        "long-time" => long_time(i.choice("earthing", names::EARTHINGS)?).get(),
        "k" => i.given(conductor::k(
            material()?,
            i.need("initial", Celsius::new)?,
            i.need("final", Celsius::new)?,
        ))?,
        "adiabatic" => i
            .given(faultpath::adiabatic(
                i.need("i2t", AmpSquaredSeconds::new)?,
                material()?,
                i.need("initial", Celsius::new)?,
                i.need("final", Celsius::new)?,
            ))?
            .get(),
        "resistance-20" => i
            .given(conductor::resistance_20(material()?, i.csa()?))?
            .get(),
        "resistance-at" => i
            .given(conductor::resistance_at(
                material()?,
                i.csa()?,
                temperature()?,
            ))?
            .get(),
        "temperature-factor" => conductor::temperature_factor(material()?, temperature()?),
        "exact-temperature-factor" => {
            conductor::exact_temperature_factor(material()?, temperature()?)
        }
        "ac-factor" => i.given(conductor::ac_factor(material()?, i.csa()?, temperature()?))?,
        "reactance" => conductor::reactance(i.csa()?, construction()?).get(),
        "armour-area" | "armour-resistance" => {
            let armour = i.given(conductor::armour(
                i.csa()?,
                i.count("cores")?,
                insulation()?,
            ))?;
            if name == "armour-area" {
                armour.area.get()
            } else {
                armour.resistance_20.get()
            }
        }
        "tabulated-minimum" => conductor::tabulated_minimum(
            i.need("line", SquareMm::new)?,
            i.need("k_line", Ok)?,
            i.need("k_protective", Ok)?,
        )
        .get(),
        "bonding-by-neutral" => {
            conductor::bonding_by_neutral(i.need("neutral", SquareMm::new)?).get()
        }
        "flat-twin-protective" => {
            conductor::flat_twin_protective(i.need("line", SquareMm::new)?)?.get()
        }
        "tabulated-capacity" => i
            .given(cable::tabulated(
                material()?,
                i.csa()?,
                insulation()?,
                construction()?,
                method()?,
                i.count("loaded")?,
            ))?
            .get(),
        "effective-capacity" => i
            .given(cable::capacity(
                material()?,
                i.csa()?,
                insulation()?,
                i.maybe("operating_limit", Celsius::new)?,
                construction()?,
                i.count("loaded")?,
                &i.laying()?,
            ))?
            .effective
            .get(),
        "fitted-capacity" => cable::fitted(
            material()?,
            i.csa()?,
            insulation()?,
            construction()?,
            method()?,
            i.count("loaded")?,
        )?
        .get(),
        "ambient-factor" => i.given(cable::ambient_factor(
            insulation()?,
            temperature()?,
            i.flag("ground"),
        ))?,
        "grouping-factor" => i.given(cable::grouping_factor(
            method()?,
            i.count("grouped")?,
            i.arrangement()?,
        ))?,
        "insulation-factor" => cable::insulation_factor(i.maybe("run", Metres::new)?),
        "soil-factor" => i.given(cable::soil_factor(
            method()?,
            i.maybe("soil", KelvinMetresPerWatt::new)?,
        ))?,
        "depth-factor" => i.given(cable::depth_factor(
            method()?,
            i.maybe("depth", Metres::new)?,
        ))?,
        "mv-per-a-m" => {
            const PARTS: Choices<cable::Part> = choices! {
                "r", "" => cable::Part::R;
                "x", "" => cable::Part::X;
                "z", "" => cable::Part::Z;
            };
            i.given(cable::millivolts(
                material()?,
                i.csa()?,
                insulation()?,
                construction()?,
                i.count("loaded")?,
                i.choice("part", PARTS)?,
            ))?
        }
        _ => return i.wrong(&["no such question: ", name]),
    })
}

/// A figure or an outcome of a judged job: `fact:zs`, `outcome:volt-drop`, `finding:volt-drop:value`,
/// `outcome` of the place; with no place, of the job.
fn of_job(i: &Inputs<'_>, answered: Option<&Out>) -> Option<Reply> {
    let own;
    let all = match answered {
        Some(all) => all,
        None => {
            own = answer(read::read(i.get("job")));
            &own
        }
    };
    let want = i.text("want")?;
    let word = |of: &Out| {
        of.get("outcome").text().map(|value| Reply::Word {
            value: value.to_owned(),
        })
    };
    let map = i.get("place");
    if !matches!(map, Value::Map(_)) {
        return word(all);
    }
    let place = Inputs { map, no: i.no };
    let kind = place.text("kind")?;
    let id = place.get("id").text();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let which = i.number("judgement")?.unwrap_or(0.0) as usize;
    let judgement = all.get("judgements").items().get(which)?;
    let here = judgement.get("places").items().iter().find(|p| {
        let place = p.get("place");
        place.get("kind").text() == Some(kind) && place.get("id").text() == id
    });
    let Some(here) = here else {
        return i.wrong(&["no such place"]);
    };
    // The item of a list whose field has this text.
    let item = |list: &str, field: &str, name: &str| {
        let mut items = here.get(list).items().iter();
        items.find(|item| item.get(field).text() == Some(name))
    };
    let finding = |name: &str| match check_of(name) {
        Some(_) => item("findings", "check", name),
        None => i.wrong(&["no such check: ", name]),
    };
    let figure = |of: &Out| match of {
        Out::Number(value) => Some(Reply::Number { value: *value }),
        _ => None,
    };
    let parts: Vec<&str> = want.split(':').collect();
    match parts.as_slice() {
        ["outcome"] => word(here),
        ["outcome", name] => word(finding(name)?),
        ["finding", name, of @ ("value" | "limit")] => figure(finding(name)?.get(of)),
        ["fact", name] => match item("facts", "fact", name) {
            Some(fact) => figure(fact.get("value")),
            None => i.wrong(&["no such fact: ", name]),
        },
        _ => i.wrong(&["no such want: ", want]),
    }
}

/// The inputs with the values of `with` put into their job, each at its path: `circuits.0.load.current`.
fn with_put(inputs: &Value, with: &Value) -> Option<Value> {
    let (Value::Map(values), mut inputs) = (with, inputs.clone()) else {
        return None;
    };
    for (path, value) in values {
        let mut at = &mut inputs;
        for part in core::iter::once("job").chain(path.split('.')) {
            at = match at {
                Value::Map(map) => map
                    .iter_mut()
                    .find(|(name, _)| name == part)
                    .map(|(_, v)| v)?,
                Value::List(items) => items.get_mut(part.parse::<usize>().ok()?)?,
                _ => return None,
            };
        }
        *at = value.clone();
    }
    Some(inputs)
}

fn reply(question: &Inputs<'_>, answered: Option<&Out>) -> Option<Reply> {
    if !matches!(question.map, Value::Map(_)) {
        return question.wrong(&["a question is an object"]);
    }
    let name = question.text("ask")?;
    let map = question.get("inputs");
    if !matches!(map, Value::Map(_)) {
        return question.wrong(&["inputs is not an object"]);
    }
    let altered;
    let (map, answered) = match map.get("with") {
        Value::Null => (map, answered),
        with => {
            altered = match with_put(map, with) {
                Some(map) => map,
                None => return question.wrong(&["with names what the job does not have"]),
            };
            (&altered, None)
        }
    };
    let inputs = Inputs {
        map,
        no: question.no,
    };
    let job = || read::read(inputs.get("job"));
    let tests = || read::tested::tests(inputs.get("job"));
    Some(match name {
        "job" => of_job(&inputs, answered)?,
        "judge" => Reply::Answer {
            value: answer(job()),
        },
        "read" => Reply::Errors {
            errors: Out::List([job().errors, tests().errors].concat()),
        },
        "readings" => Reply::Answer {
            value: readings(&job(), &tests()),
        },
        "solve" => Reply::Answer {
            value: solutions::solve(&mut job(), 0, inputs.text("circuit")?),
        },
        "curves" => Reply::Answer {
            value: pictures::curves(&job(), 0, inputs.text("circuit")?),
        },
        "drop-profile" => Reply::Answer {
            value: pictures::drop_profile(&job(), 0, inputs.text("circuit")?),
        },
        "area-map" => Reply::Answer {
            value: pictures::area_map(&mut job(), 0, inputs.text("circuit")?),
        },
        "lesson" => {
            // Whole numbers in a question.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let whole = |key| Some(inputs.number(key)?? as u32);
            let kinds = lesson::kinds(inputs.text("kinds")?);
            Reply::Answer {
                value: lesson::answers(whole("seed")?, whole("learner")?, &kinds, whole("count")?),
            }
        }
        "earthing" => Reply::Answer {
            value: compare::earthing(&mut job(), inputs.text("board")?),
        },
        "electrode" => Reply::Answer {
            value: compare::electrode(
                &mut job(),
                inputs.text("board")?,
                inputs.maybe("target", Ok)?,
            ),
        },
        _ => match earthing::reply(name, &inputs)? {
            Some(reply) => reply,
            None => match reading::reply(name, &inputs)? {
                Some(reply) => reply,
                None => Reply::Number {
                    value: number(name, &inputs)?,
                },
            },
        },
    })
}

/// Answers a question.
#[must_use]
pub fn ask(question: &Value) -> Reply {
    ask_of(question, None)
}

/// The same, where the job of a question `job` was answered before: many questions are of one job.
#[must_use]
pub fn ask_of(question: &Value, answered: Option<&Out>) -> Reply {
    let no = Cell::new(No::NotKnown);
    let question = Inputs {
        map: question,
        no: &no,
    };
    match reply(&question, answered) {
        // Of plain numbers beyond all measure.
        Some(Reply::Number { value }) if !value.is_finite() => {}
        Some(reply) => return reply,
        None => {}
    }
    Reply::Error {
        error: match no.into_inner() {
            No::NotKnown => "not-known".to_owned(),
            No::Refused(reason) => reason_name(reason).to_owned(),
            No::Question(text) => text,
        },
    }
}
