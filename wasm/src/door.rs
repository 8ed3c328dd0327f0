//! What the page calls. Its two files are by a feature: without `site` it judges and no more, so that the verdict
//! is there soon; with it it has everything, and takes the judging over. What is wrong with a board's `site` the
//! first does not see: no figure of the design rests on it.

use crate::answer;
use crate::out::{Out, Since};
use crate::read;
use crate::value::Value;
use core::cell::Cell;
use core::mem;
use serde::Serialize;
use wasm_bindgen::prelude::*;

#[cfg(feature = "site")]
mod site;

fn to_js(now: &Out) -> Result<JsValue, JsValue> {
    since(now, &Out::Null)
}

fn since(now: &Out, before: &Out) -> Result<JsValue, JsValue> {
    let bridge = serde_wasm_bindgen::Serializer::json_compatible();
    Ok(Since { now, before }.serialize(&bridge)?)
}

fn from_js(value: JsValue) -> Result<Value, JsValue> {
    Ok(serde_wasm_bindgen::from_value(value)?)
}

/// Which of the answers told in turns is that of [`judge`].
const JUDGED: usize = 0;

/// What the page has too: the turn that was, the circuits of its job, the last answer of each kind.
type Held = (u32, Vec<Value>, [Out; 2]);

const NOTHING: Held = (0, Vec::new(), [Out::Null, Out::Null]);

thread_local! {
    static HELD: Cell<Held> = const { Cell::new(NOTHING) };
}

/// Asks of a job. In turns, a circuit may come as its place among those of the turn before, and the answer is that
/// [since](Since) the last of its kind: bringing one over takes longer than judging it, and an edit changes little.
/// The first turn is 1; outside of turns, 0, all of the job is there, and of the answer.
///
/// # Errors
/// Where the value is no plain data, and where it was not this turn.
fn asked(
    job: JsValue,
    turn: u32,
    kind: usize,
    ask: impl FnOnce(&Value) -> Out,
) -> Result<JsValue, JsValue> {
    let mut job = from_js(job)?;
    let mut told = NOTHING.2;
    if turn > 0 {
        let (last, mut held, answers) = HELD.replace(NOTHING);
        if turn > 1 {
            if turn - 1 != last {
                return Err(JsValue::NULL);
            }
            told = answers;
        }
        for circuit in job.list_mut("circuits").into_iter().flatten() {
            if let Value::Number(at) = *circuit {
                *circuit = held.get_mut(at as usize).map_or(Value::Null, mem::take);
            }
        }
    }
    let out = ask(&job);
    if turn == 0 {
        return to_js(&out);
    }
    let before = told.get(kind).unwrap_or(&Out::Null);
    let came = since(&out, before)?;
    if let Some(last) = told.get_mut(kind) {
        *last = out;
    }
    let circuits = job.list_mut("circuits").map(mem::take);
    HELD.set((turn, circuits.unwrap_or_default(), told));
    Ok(came)
}

/// Judges a job, see [`asked`].
///
/// # Errors
/// Only where the value is no plain data at all; everything else is an error in the answer.
#[wasm_bindgen]
pub fn judge(job: JsValue, turn: u32) -> Result<JsValue, JsValue> {
    asked(job, turn, JUDGED, |job| answer::answer(read::read(job)))
}
