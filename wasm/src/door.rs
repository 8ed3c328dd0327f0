//! What the page calls. Its two files are by a feature: without `site` it judges and no more, so that the verdict
//! is there soon; with it it has everything, and takes the judging over. What is wrong with a board's `site` the
//! first does not see: no figure of the design rests on it.

use crate::answer;
use crate::out::Out;
use crate::read;
use crate::value::Value;
use core::cell::Cell;
use core::mem;
use serde::Serialize;
use wasm_bindgen::prelude::*;

#[cfg(feature = "site")]
mod site;

fn to_js(out: &Out) -> Result<JsValue, JsValue> {
    Ok(out.serialize(&serde_wasm_bindgen::Serializer::json_compatible())?)
}

fn from_js(value: JsValue) -> Result<Value, JsValue> {
    Ok(serde_wasm_bindgen::from_value(value)?)
}

thread_local! {
    /// The circuits of the job asked of last, and the turn that was.
    static HELD: Cell<(u32, Vec<Value>)> = const { Cell::new((0, Vec::new())) };
}

/// Asks of a job. In turns, a circuit may come as its place among those of the turn before: bringing one over takes
/// longer than judging it, and an edit is of one. The first turn is 1; outside of turns, 0, all of the job is there.
///
/// # Errors
/// Where the value is no plain data, and where it was not this turn.
fn asked(job: JsValue, turn: u32, ask: impl FnOnce(&Value) -> Out) -> Result<JsValue, JsValue> {
    let mut job = from_js(job)?;
    if turn > 0 {
        let (last, mut held) = HELD.take();
        if turn > 1 && turn - 1 != last {
            return Err(JsValue::NULL);
        }
        for circuit in job.list_mut("circuits").into_iter().flatten() {
            if let Value::Number(at) = *circuit {
                *circuit = held.get_mut(at as usize).map_or(Value::Null, mem::take);
            }
        }
    }
    let out = ask(&job);
    if turn > 0 {
        HELD.set((
            turn,
            job.list_mut("circuits").map(mem::take).unwrap_or_default(),
        ));
    }
    to_js(&out)
}

/// Judges a job, see [`asked`].
///
/// # Errors
/// Only where the value is no plain data at all; everything else is an error in the answer.
#[wasm_bindgen]
pub fn judge(job: JsValue, turn: u32) -> Result<JsValue, JsValue> {
    asked(job, turn, |job| answer::answer(read::read(job)))
}
