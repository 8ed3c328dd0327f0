//! What only the second file has.

use super::{asked, from_js, to_js};
use crate::{
    answer, earthing as ways, evidence, lesson, pictures, read, readings as tests, solutions,
};
use wasm_bindgen::prelude::*;

/// Which of the answers told in turns is that of [`readings`].
const READ: usize = 1;

/// The working of one check or figure at one place, step by step.
///
/// # Errors
/// As [`judge`](super::judge); and for a place, check or figure that is not there.
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
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn solve(job: JsValue, judgement: usize, circuit: &str) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&solutions::solve(&mut read::read(&job), judgement, circuit))
}

/// Judges the test readings of a job.
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn readings(job: JsValue, turn: u32) -> Result<JsValue, JsValue> {
    asked(job, turn, READ, |job| {
        tests::readings(&read::read(job), &read::tested::tests(job))
    })
}

/// The ways of earthing a board away from the house, side by side.
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn earthing(job: JsValue, board: &str) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&ways::earthing(&mut read::read(&job), board))
}

/// What the electrode of a board will be, and what a resistance in ohms that is looked for takes.
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn electrode(job: JsValue, board: &str, target: Option<f32>) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&ways::electrode(&mut read::read(&job), board, target))
}

/// The bands of the devices in series up to a circuit, which goes first, and the fault currents.
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn curves(job: JsValue, judgement: usize, circuit: &str) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&pictures::curves(&read::read(&job), judgement, circuit))
}

/// How the volt drop grows from the origin to the end of a circuit.
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn drop_profile(job: JsValue, judgement: usize, circuit: &str) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&pictures::drop_profile(
        &read::read(&job),
        judgement,
        circuit,
    ))
}

/// How a circuit comes out by size and length.
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn area_map(job: JsValue, judgement: usize, circuit: &str) -> Result<JsValue, JsValue> {
    let job = from_js(job)?;
    to_js(&pictures::area_map(
        &mut read::read(&job),
        judgement,
        circuit,
    ))
}

/// What is asked in a set of exercises; `kinds` are names parted by points, `learner` 0 where all have the same.
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn lesson_questions(
    seed: u32,
    learner: u32,
    kinds: &str,
    count: u32,
) -> Result<JsValue, JsValue> {
    let kinds = lesson::kinds(kinds);
    to_js(&lesson::questions(seed, learner, &kinds, count))
}

/// What an entry at one exercise is told.
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn lesson_told(
    seed: u32,
    learner: u32,
    kinds: &str,
    number: u32,
    entered: f32,
) -> Result<JsValue, JsValue> {
    let kinds = lesson::kinds(kinds);
    to_js(&lesson::told(seed, learner, &kinds, number, entered))
}

/// The answers of a set.
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn lesson_answers(
    seed: u32,
    learner: u32,
    kinds: &str,
    count: u32,
) -> Result<JsValue, JsValue> {
    let kinds = lesson::kinds(kinds);
    to_js(&lesson::answers(seed, learner, &kinds, count))
}

/// Answers one question of the evidence, see [`crate::evidence`].
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn ask(question: JsValue) -> Result<JsValue, JsValue> {
    to_js(&evidence::ask(&from_js(question)?).into())
}

/// Rows of the evidence and whether each agrees, see [`evidence::held::rows`].
///
/// # Errors
/// As [`judge`](super::judge).
#[wasm_bindgen]
pub fn held(rows: JsValue, job: JsValue) -> Result<JsValue, JsValue> {
    to_js(&evidence::held::rows(&from_js(rows)?, &from_js(job)?))
}
