//! One question of the evidence: the name of a function of core, its inputs by name, its value.
//!
//! Every row of `vectors/` is such a question. A question answers `{"value": …}`, or `{"error": …}` with
//! `not-known` where core knows no value, else the reason of the refusal.

#![allow(missing_docs)] // the field names are those of the reply

use crate::answer::{answer, check_of};
use crate::names::{self, Choices};
use crate::read::{self, reason_name};
use crate::value::Value;
use faultpath::cable::{self, Laying};
use faultpath::conductor;
use faultpath::device::{self, Device, Known, Rcd};
use faultpath::error::{Error, Field, Reason};
use faultpath::profile::{long_time, short_time};
use faultpath::quantity::{
    AmpSquaredSeconds, Amps, Celsius, KelvinMetresPerWatt, Metres, Ratio, Seconds, SquareMm, Volts,
};
use serde::Serialize;

/// What comes back.
#[derive(Serialize)]
#[serde(untagged)]
pub enum Reply {
    /// A number.
    Number { value: f32 },
    /// A word.
    Word { value: String },
    /// A whole answer.
    Answer { value: Box<crate::answer::Answer> },
    /// The errors of a job.
    Errors { errors: Vec<read::FieldError> },
    /// The answers of the solver.
    Solutions {
        value: Box<crate::solutions::Solutions>,
    },
    /// No value.
    Error { error: String },
}

enum No {
    NotKnown,
    Refused(Error),
    Question(String),
}

impl From<Error> for No {
    fn from(e: Error) -> Self {
        No::Refused(e)
    }
}

struct Inputs<'v>(&'v [(String, Value)]);

const NULL: Value = Value::Null;

impl<'v> Inputs<'v> {
    fn get(&self, key: &str) -> &'v Value {
        self.0
            .iter()
            .find(|(k, _)| k == key || k.replace('-', "_") == key)
            .map_or(&NULL, |(_, v)| v)
    }

    #[allow(clippy::cast_possible_truncation)]
    fn number(&self, key: &str) -> Result<Option<f32>, No> {
        match self.get(key) {
            Value::Number(v) => Ok(Some(*v as f32)),
            Value::Null => Ok(None),
            _ => Err(No::Question(format!("{key} is not a number"))),
        }
    }

    fn maybe<T>(
        &self,
        key: &str,
        field: Field,
        make: impl Fn(f32) -> Result<T, Reason>,
    ) -> Result<Option<T>, No> {
        match self.number(key)? {
            Some(v) => Ok(Some(make(v).map_err(|r| r.at(field))?)),
            None => Ok(None),
        }
    }

    fn need<T>(
        &self,
        key: &str,
        field: Field,
        make: impl Fn(f32) -> Result<T, Reason>,
    ) -> Result<T, No> {
        self.maybe(key, field, make)?
            .ok_or_else(|| No::Question(format!("{key} is missing")))
    }

    fn choice<T: Copy>(&self, key: &str, choices: Choices<T>) -> Result<T, No> {
        if let Value::Text(t) = self.get(key) {
            if let Some((_, _, v)) = choices.iter().find(|(name, _, _)| name == t) {
                return Ok(*v);
            }
        }
        Err(No::Question(format!("{key} is none of the choices")))
    }

    fn text(&self, key: &str) -> Result<&'v str, No> {
        match self.get(key) {
            Value::Text(t) => Ok(t),
            _ => Err(No::Question(format!("{key} is not a text"))),
        }
    }

    fn flag(&self, key: &str) -> bool {
        *self.get(key) == Value::Bool(true)
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn count(&self, key: &str) -> Result<u8, No> {
        let v = self.need(key, Field::Points, Ok)?;
        if (0.0..=255.0).contains(&v) && v.fract() == 0.0 {
            Ok(v as u8)
        } else {
            Err(No::Question(format!("{key} is no count")))
        }
    }

    fn csa(&self) -> Result<SquareMm, No> {
        self.need("csa", Field::Csa, SquareMm::new)
    }

    fn device(&self) -> Result<Device, No> {
        let family = self.choice("family", names::FAMILIES)?;
        let mut d = Device::new(family, self.need("rating", Field::Rating, Amps::new)?)?;
        if let Some(b) = self.maybe("breaking", Field::BreakingCapacity, Amps::new)? {
            d = d.with_breaking(b);
        }
        if let Some(e) = self.maybe("let_through", Field::LetThrough, AmpSquaredSeconds::new)? {
            d = d.with_let_through(e);
        }
        if self.number("energy_class")? == Some(3.0) {
            d = d.with_energy_class_3();
        }
        Ok(d)
    }

    fn rcd(&self) -> Result<Rcd, No> {
        Ok(Rcd::new(
            self.need("sensitivity", Field::ResidualCurrent, Amps::new)?,
            self.choice("kind", names::RCD_TYPES)?,
            self.choice("delay", names::DELAYS)?,
        )?)
    }

    fn current(&self) -> Result<Amps, No> {
        self.need("current", Field::DesignCurrent, Amps::new)
    }

    fn time(&self) -> Result<Seconds, No> {
        self.need("time", Field::Time, Seconds::new)
    }

    fn arrangement(&self) -> Result<cable::Arrangement, No> {
        read::arrangement(self.get("arrangement"), "arrangement").map_err(|e| No::Question(e.text))
    }

    fn laying(&self) -> Result<Laying, No> {
        Ok(Laying {
            method: self.choice("method", names::METHODS)?,
            ambient: self.need("ambient", Field::Ambient, Celsius::new)?,
            grouped: self.count("grouped")?,
            arrangement: self.arrangement()?,
            soil: self.maybe("soil", Field::SoilResistivity, KelvinMetresPerWatt::new)?,
            depth: self.maybe("depth", Field::Depth, Metres::new)?,
            insulation_run: self.maybe("insulation_run", Field::InsulationRun, Metres::new)?,
        })
    }
}

fn known(k: Known<f32>) -> Result<f32, No> {
    match k {
        Known::Value(v) => Ok(v),
        Known::NotKnown(_) => Err(No::NotKnown),
    }
}

fn number(name: &str, i: &Inputs<'_>) -> Result<f32, No> {
    let material = || i.choice("material", names::MATERIALS);
    let insulation = || i.choice("insulation", names::INSULATIONS);
    let construction = || i.choice("construction", names::CONSTRUCTIONS);
    let method = || i.choice("method", names::METHODS);
    let temperature = || i.need("temperature", Field::Ambient, Celsius::new);
    Ok(match name {
        "max-zs" => known(
            device::max_zs(
                &i.device()?,
                i.time()?,
                i.need("u0", Field::U0, Volts::new)?,
                i.need("cmin", Field::VoltageFactor, Ratio::new)?,
            )
            .map(|z| z.get()),
        )?,
        "disconnecting-current" => {
            known(i.device()?.disconnecting_current(i.time()?).map(Amps::get))?
        }
        "device-time-latest" => known(i.device()?.time(i.current()?).map(|b| b.latest.get()))?,
        "device-let-through" => known(
            i.device()?
                .let_through(i.current()?)
                .map(AmpSquaredSeconds::get),
        )?,
        "conventional-current" => i.device()?.conventional_current().get(),
        "breaking" => i.device()?.breaking().ok_or(No::NotKnown)?.get(),
        "rcd-latest" => known(i.rcd()?.latest(i.current()?).map(Seconds::get))?,
        "short-time" => short_time(
            i.choice("earthing", names::EARTHINGS)?,
            i.need("u0", Field::U0, Volts::new)?,
        )?
        .get(),
        "long-time" => long_time(i.choice("earthing", names::EARTHINGS)?).get(),
        "k" => conductor::k(
            material()?,
            i.need("initial", Field::Ambient, Celsius::new)?,
            i.need("final", Field::Ambient, Celsius::new)?,
        )?,
        "adiabatic" => faultpath::adiabatic(
            i.need("i2t", Field::LetThrough, AmpSquaredSeconds::new)?,
            material()?,
            i.need("initial", Field::Ambient, Celsius::new)?,
            i.need("final", Field::Ambient, Celsius::new)?,
        )?
        .get(),
        "resistance-20" => conductor::resistance_20(material()?, i.csa()?)?.get(),
        "resistance-at" => conductor::resistance_at(material()?, i.csa()?, temperature()?)?.get(),
        "temperature-factor" => conductor::temperature_factor(material()?, temperature()?),
        "exact-temperature-factor" => {
            conductor::exact_temperature_factor(material()?, temperature()?)
        }
        "reactance" => conductor::reactance(i.csa()?, construction()?).get(),
        "armour-area" => conductor::armour(i.csa()?, i.count("cores")?, insulation()?)?
            .area
            .get(),
        "armour-resistance" => conductor::armour(i.csa()?, i.count("cores")?, insulation()?)?
            .resistance_20
            .get(),
        "tabulated-minimum" => conductor::tabulated_minimum(
            i.need("line", Field::Csa, SquareMm::new)?,
            i.need("k_line", Field::Csa, Ok)?,
            i.need("k_protective", Field::Csa, Ok)?,
        )
        .get(),
        "bonding-by-neutral" => {
            conductor::bonding_by_neutral(i.need("neutral", Field::NeutralCsa, SquareMm::new)?)
                .get()
        }
        "flat-twin-protective" => {
            conductor::flat_twin_protective(i.need("line", Field::Csa, SquareMm::new)?)
                .ok_or(No::NotKnown)?
                .get()
        }
        "tabulated-capacity" => cable::tabulated(
            material()?,
            i.csa()?,
            insulation()?,
            construction()?,
            method()?,
            i.count("loaded")?,
        )?
        .get(),
        "effective-capacity" => cable::capacity(
            material()?,
            i.csa()?,
            insulation()?,
            i.maybe("operating_limit", Field::OperatingTemperature, Celsius::new)?,
            construction()?,
            i.count("loaded")?,
            &i.laying()?,
        )?
        .effective
        .get(),
        "fitted-capacity" => cable::fitted(
            material()?,
            i.csa()?,
            insulation()?,
            construction()?,
            method()?,
            i.count("loaded")?,
        )
        .ok_or(No::NotKnown)?
        .get(),
        "ambient-factor" => cable::ambient_factor(insulation()?, temperature()?, i.flag("ground"))?,
        "grouping-factor" => {
            cable::grouping_factor(method()?, i.count("grouped")?, i.arrangement()?)?
        }
        "insulation-factor" => {
            cable::insulation_factor(i.maybe("run", Field::InsulationRun, Metres::new)?)
        }
        "soil-factor" => cable::soil_factor(
            method()?,
            i.maybe("soil", Field::SoilResistivity, KelvinMetresPerWatt::new)?,
        )?,
        "depth-factor" => {
            cable::depth_factor(method()?, i.maybe("depth", Field::Depth, Metres::new)?)?
        }
        "mv-per-a-m" => {
            const PARTS: Choices<cable::Part> = &[
                ("r", "", cable::Part::R),
                ("x", "", cable::Part::X),
                ("z", "", cable::Part::Z),
            ];
            cable::millivolts(
                material()?,
                i.csa()?,
                insulation()?,
                construction()?,
                i.count("loaded")?,
                i.choice("part", PARTS)?,
            )?
        }
        _ => return Err(No::Question(format!("no such question: {name}"))),
    })
}

/// A figure or an outcome of a judged job: `fact:zs`, `outcome:volt-drop`, `finding:volt-drop:value`,
/// `outcome` of the place; with no place, of the job.
fn of_job(i: &Inputs<'_>) -> Result<Reply, No> {
    let all = answer(read::read(i.get("job")));
    let want = i.text("want")?;
    let word = |value: &str| Reply::Word {
        value: value.to_owned(),
    };
    let Value::Map(place) = i.get("place") else {
        return Ok(word(all.outcome));
    };
    let place = Inputs(place);
    let kind = place.text("kind")?;
    let id = place.text("id").ok();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let which = i.number("judgement")?.unwrap_or(0.0) as usize;
    let judgement = all.judgements.get(which).ok_or(No::NotKnown)?;
    let here = judgement
        .places
        .iter()
        .find(|p| p.place.kind == kind && p.place.id.as_deref() == id)
        .ok_or_else(|| No::Question("no such place".to_owned()))?;
    let parts: Vec<&str> = want.split(':').collect();
    let finding = |name: &str| {
        if check_of(name).is_none() {
            return Err(No::Question(format!("no such check: {name}")));
        }
        here.findings
            .iter()
            .find(|f| f.check == name)
            .ok_or(No::NotKnown)
    };
    let figure = |v: Option<f32>| v.map(|value| Reply::Number { value }).ok_or(No::NotKnown);
    match parts.as_slice() {
        ["outcome"] => Ok(word(here.outcome)),
        ["outcome", name] => Ok(word(finding(name)?.outcome)),
        ["finding", name, "value"] => figure(finding(name)?.value),
        ["finding", name, "limit"] => figure(finding(name)?.limit),
        ["fact", name] => figure(
            here.facts
                .iter()
                .find(|f| f.fact == *name)
                .ok_or_else(|| No::Question(format!("no such fact: {name}")))?
                .value,
        ),
        _ => Err(No::Question(format!("no such want: {want}"))),
    }
}

fn reply(question: &Value) -> Result<Reply, No> {
    let Value::Map(question) = question else {
        return Err(No::Question("a question is an object".to_owned()));
    };
    let question = Inputs(question);
    let name = question.text("ask")?;
    let Value::Map(inputs) = question.get("inputs") else {
        return Err(No::Question("inputs is not an object".to_owned()));
    };
    let inputs = Inputs(inputs);
    match name {
        "job" => of_job(&inputs),
        "judge" => Ok(Reply::Answer {
            value: Box::new(answer(read::read(inputs.get("job")))),
        }),
        "read" => Ok(Reply::Errors {
            errors: read::read(inputs.get("job")).errors,
        }),
        "solve" => Ok(Reply::Solutions {
            value: Box::new(crate::solutions::solve(
                &mut read::read(inputs.get("job")),
                0,
                inputs.text("circuit")?,
            )),
        }),
        _ => number(name, &inputs).map(|value| Reply::Number { value }),
    }
}

/// Answers a question.
#[must_use]
pub fn ask(question: &Value) -> Reply {
    let error = match reply(question) {
        Ok(r) => return r,
        Err(No::NotKnown) => "not-known".to_owned(),
        Err(No::Refused(e)) => reason_name(e.reason).to_owned(),
        Err(No::Question(text)) => text,
    };
    Reply::Error { error }
}
