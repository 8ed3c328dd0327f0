//! The page's door to faultpath: a job in, findings out. Nothing is decided here.
//!
//! The same functions serve the page (through `serde-wasm-bindgen`) and the native tests (through
//! `serde_json`): a job comes in as [`value::Value`], an answer goes out as [`out::Out`].
//!
//! Where there is no operating system the page's side is left out; the rest needs an allocator there.
#![cfg_attr(target_os = "none", no_std)]

#[cfg_attr(target_os = "none", macro_use)]
extern crate alloc;

pub mod answer;
#[cfg(feature = "words")]
pub mod catalogue;
#[cfg(feature = "words")]
pub mod choices;
pub mod earthing;
#[cfg(feature = "evidence")]
pub mod evidence;
#[cfg(not(target_os = "none"))]
mod js;
pub mod names;
pub mod out;
pub mod path;
#[cfg(target_os = "none")]
mod prelude;
pub mod read;
pub mod readings;
pub mod solutions;
pub mod value;

#[cfg(not(target_os = "none"))]
use out::Out;
#[cfg(not(target_os = "none"))]
use serde::Serialize;
#[cfg(not(target_os = "none"))]
use value::Value;
#[cfg(not(target_os = "none"))]
use wasm_bindgen::prelude::*;

/// A third of the size of the standard library's, and as fast.
#[cfg(target_arch = "wasm32")]
#[global_allocator]
static ALLOCATOR: talc::wasm::WasmDynamicTalc = talc::wasm::new_wasm_dynamic_allocator();

#[cfg(not(target_os = "none"))]
fn to_js(out: &Out) -> Result<JsValue, JsValue> {
    Ok(out.serialize(&serde_wasm_bindgen::Serializer::json_compatible())?)
}

#[cfg(not(target_os = "none"))]
fn from_js(value: JsValue) -> Result<Value, JsValue> {
    js::read(&value)
}

/// Judges a job.
///
/// # Errors
/// Only where the value is no plain data at all; everything else is an error in the answer.
#[cfg(not(target_os = "none"))]
#[wasm_bindgen]
pub fn judge(job: JsValue) -> Result<JsValue, JsValue> {
    to_js(&answer::answer(&read::read(&from_js(job)?)))
}

/// The working of one check or figure at one place, step by step.
///
/// # Errors
/// As [`judge`]; and for a place, check or figure that is not there.
#[cfg(not(target_os = "none"))]
#[wasm_bindgen]
pub fn working(
    job: JsValue,
    judgement: usize,
    place: JsValue,
    of: &str,
) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    let job = read::read(&job);
    let place = from_js(place)?;
    let text = |key| place.get(key).text().unwrap_or_default();
    let place = answer::place_of(&job, text("kind"), text("id"))
        .ok_or_else(|| JsError::new("no such place"))?;
    let of = answer::worked_of(of).ok_or_else(|| JsError::new("no such check or figure"))?;
    to_js(&answer::working(&job, judgement, place, of))
}

/// The questions the other way round, for one circuit.
///
/// # Errors
/// As [`judge`].
#[cfg(not(target_os = "none"))]
#[wasm_bindgen]
pub fn solve(job: JsValue, judgement: usize, circuit: &str) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&solutions::solve(&mut read::read(&job), judgement, circuit))
}

/// Judges the test readings of a job.
///
/// # Errors
/// As [`judge`].
#[cfg(not(target_os = "none"))]
#[wasm_bindgen]
pub fn readings(job: JsValue) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&readings::readings(
        &read::read(&job),
        &read::tested::tests(&job),
    ))
}

/// The ways of earthing a board away from the house, side by side.
///
/// # Errors
/// As [`judge`].
#[cfg(not(target_os = "none"))]
#[wasm_bindgen]
pub fn earthing(job: JsValue, board: &str) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&earthing::earthing(&mut read::read(&job), board))
}

/// What the electrode of a board will be, and what a resistance in ohms that is looked for takes.
///
/// # Errors
/// As [`judge`].
#[cfg(not(target_os = "none"))]
#[wasm_bindgen]
pub fn electrode(job: JsValue, board: &str, target: Option<f32>) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&earthing::electrode(&mut read::read(&job), board, target))
}

/// Answers one question of the evidence, see [`evidence`]. Not in the page's file.
///
/// # Errors
/// As [`judge`].
#[cfg(feature = "evidence")]
#[cfg(not(target_os = "none"))]
#[wasm_bindgen]
pub fn ask(question: JsValue) -> Result<JsValue, JsValue> {
    to_js(&evidence::ask(&from_js(question)?).into())
}
