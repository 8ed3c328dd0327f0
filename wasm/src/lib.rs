//! The page's door to faultpath: a job in, findings out. Nothing is decided here.
//!
//! The same functions serve the page (through `serde-wasm-bindgen`) and the native tests (through
//! `serde_json`): both go by [`value::Value`].

pub mod answer;
pub mod choices;
pub mod evidence;
pub mod names;
pub mod read;
pub mod solutions;
pub mod value;

use serde::{Deserialize, Serialize};
use value::Value;
use wasm_bindgen::prelude::*;

fn to_js(value: &impl Serialize) -> Result<JsValue, JsError> {
    value
        .serialize(&serde_wasm_bindgen::Serializer::json_compatible())
        .map_err(|e| JsError::new(&e.to_string()))
}

fn from_js(value: JsValue) -> Result<Value, JsError> {
    serde_wasm_bindgen::from_value(value).map_err(|e| JsError::new(&e.to_string()))
}

/// Judges a job.
///
/// # Errors
/// Only where the value is no plain data at all; everything else is an error in the answer.
#[wasm_bindgen]
pub fn judge(job: JsValue) -> Result<JsValue, JsError> {
    to_js(&answer::answer(read::read(&from_js(job)?)))
}

#[derive(Deserialize)]
struct PlaceWanted {
    kind: String,
    #[serde(default)]
    id: String,
}

/// The working of one check at one place, step by step.
///
/// # Errors
/// As [`judge`]; and for a place or check that is not there.
#[wasm_bindgen]
pub fn working(
    job: JsValue,
    judgement: usize,
    place: JsValue,
    check: &str,
) -> Result<JsValue, JsError> {
    let job = read::read(&from_js(job)?);
    let wanted: PlaceWanted =
        serde_wasm_bindgen::from_value(place).map_err(|e| JsError::new(&e.to_string()))?;
    let place = answer::place_of(&job, &wanted.kind, &wanted.id)
        .ok_or_else(|| JsError::new("no such place"))?;
    let check = answer::check_of(check).ok_or_else(|| JsError::new("no such check"))?;
    to_js(&answer::working(&job, judgement, place, check))
}

/// The questions the other way round, for one circuit.
///
/// # Errors
/// As [`judge`].
#[wasm_bindgen]
pub fn solve(job: JsValue, judgement: usize, circuit: &str) -> Result<JsValue, JsError> {
    let mut job = read::read(&from_js(job)?);
    to_js(&solutions::solve(&mut job, judgement, circuit))
}

/// What there is to choose from.
///
/// # Errors
/// None that is known.
#[wasm_bindgen]
pub fn choices() -> Result<JsValue, JsError> {
    to_js(&choices::choices())
}

/// Answers one question of the evidence, see [`evidence`].
///
/// # Errors
/// As [`judge`].
#[wasm_bindgen]
pub fn ask(question: JsValue) -> Result<JsValue, JsError> {
    to_js(&evidence::ask(&from_js(question)?))
}
