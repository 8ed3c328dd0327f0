//! The questions of `vectors/`, as bytes: what goes to the board, and what comes back of it to the last bit.
//!
//! A message begins with `J` (a job that is kept for later questions), `Q` (a question), or `M` (a list of questions of
//! the kept job, which is judged once for all of them). Numbers of an answer go as the bits of their `f32`.

use alloc::borrow::ToOwned;
use alloc::string::String;
use alloc::vec::Vec;
use faultpath_wasm::out::Out;
use faultpath_wasm::value::{DEEPEST, Value};

/// In a question: the kept job.
const KEPT: u8 = 7;

/// What became of a message.
pub enum Asked<'a> {
    /// A job to keep.
    Kept(&'a [u8]),
    /// The answer.
    Answer(Vec<u8>),
    /// It was neither.
    Nothing,
}

/// Answers a message; `job` is the one that was kept.
#[must_use]
pub fn answer<'a>(message: &'a [u8], job: &[u8]) -> Asked<'a> {
    match message.split_first() {
        Some((b'J', job)) => Asked::Kept(job),
        Some((b'Q', question)) => {
            let mut bytes = question;
            match read(&mut bytes, job, 0) {
                Some(question) if bytes.is_empty() => {
                    Asked::Answer(bytes_of(&faultpath_wasm::evidence::ask(&question).into()))
                }
                _ => Asked::Nothing,
            }
        }
        Some((b'M', questions)) => many(questions, job).map_or(Asked::Nothing, Asked::Answer),
        _ => Asked::Nothing,
    }
}

fn many(questions: &[u8], job: &[u8]) -> Option<Vec<u8>> {
    let (mut kept, mut bytes) = (job, questions);
    let kept = read(&mut kept, &[], 0)?;
    let answered = faultpath_wasm::answer::answer(faultpath_wasm::read::read(&kept));
    // Of the job the answer is there; the questions come without it.
    let Value::List(questions) = read(&mut bytes, &[0], 0)? else {
        return None;
    };
    let replies = questions
        .iter()
        .map(|q| faultpath_wasm::evidence::ask_of(q, Some(&answered)).into())
        .collect();
    bytes.is_empty().then(|| bytes_of(&Out::List(replies)))
}

/// The message that asks many questions `job` of the job that was kept.
#[must_use]
pub fn ask_many(questions: &[Value]) -> Vec<u8> {
    let mut out = alloc::vec![b'M', 5];
    count(questions.len(), &mut out);
    for question in questions {
        write(question, &mut out, true);
    }
    out
}

/// The message that has a job kept.
#[must_use]
pub fn keep(job: &Value) -> Vec<u8> {
    let mut out = alloc::vec![b'J'];
    write(job, &mut out, false);
    out
}

/// The message that asks a question; with `kept` its job is the one that was kept.
#[must_use]
pub fn ask(question: &Value, kept: bool) -> Vec<u8> {
    let mut out = alloc::vec![b'Q'];
    write(question, &mut out, kept);
    out
}

fn text(text: &str, out: &mut Vec<u8>) {
    count(text.len(), out);
    out.extend_from_slice(text.as_bytes());
}

fn count(n: usize, out: &mut Vec<u8>) {
    // Longer than any; a count that is cut is refused by the reader, for bytes are then left.
    let n = u16::try_from(n).unwrap_or(u16::MAX);
    out.extend_from_slice(&n.to_le_bytes());
}

fn write(value: &Value, out: &mut Vec<u8>, kept: bool) {
    match value {
        Value::Null => out.push(0),
        Value::Bool(v) => out.push(if *v { 2 } else { 1 }),
        Value::Number(v) => {
            out.push(3);
            out.extend_from_slice(&v.to_le_bytes());
        }
        Value::Text(v) => {
            out.push(4);
            text(v, out);
        }
        Value::List(items) => {
            out.push(5);
            count(items.len(), out);
            for item in items {
                write(item, out, kept);
            }
        }
        Value::Map(map) => {
            out.push(6);
            count(map.len(), out);
            for (name, value) in map {
                text(name, out);
                if kept && name == "job" {
                    out.push(KEPT);
                } else {
                    write(value, out, kept);
                }
            }
        }
    }
}

fn take<'a>(bytes: &mut &'a [u8], n: usize) -> Option<&'a [u8]> {
    let (taken, rest) = bytes.split_at_checked(n)?;
    *bytes = rest;
    Some(taken)
}

fn take_count(bytes: &mut &[u8]) -> Option<usize> {
    let n = take(bytes, 2)?.try_into().ok()?;
    Some(usize::from(u16::from_le_bytes(n)))
}

fn take_text(bytes: &mut &[u8]) -> Option<String> {
    let n = take_count(bytes)?;
    Some(core::str::from_utf8(take(bytes, n)?).ok()?.to_owned())
}

fn read(bytes: &mut &[u8], job: &[u8], depth: u8) -> Option<Value> {
    if depth > DEEPEST {
        return None;
    }
    let kind = *take(bytes, 1)?.first()?;
    Some(match kind {
        0 => Value::Null,
        1 | 2 => Value::Bool(kind == 2),
        3 => Value::Number(f64::from_le_bytes(take(bytes, 8)?.try_into().ok()?)),
        4 => Value::Text(take_text(bytes)?),
        5 => {
            let mut items = Vec::new();
            for _ in 0..take_count(bytes)? {
                items.push(read(bytes, job, depth + 1)?);
            }
            Value::List(items)
        }
        6 => {
            let mut map = Vec::new();
            for _ in 0..take_count(bytes)? {
                let name = take_text(bytes)?;
                map.push((name, read(bytes, job, depth + 1)?));
            }
            Value::Map(map)
        }
        KEPT => {
            let mut kept = job;
            // A job has no job in it.
            read(&mut kept, &[], depth + 1)?
        }
        _ => return None,
    })
}

/// An answer as bytes.
#[must_use]
pub fn bytes_of(answer: &Out) -> Vec<u8> {
    let mut out = Vec::new();
    put(answer, &mut out);
    out
}

fn put(value: &Out, out: &mut Vec<u8>) {
    match value {
        Out::Null => out.push(0),
        Out::Bool(v) => out.push(if *v { 7 } else { 6 }),
        Out::Number(v) => {
            out.push(1);
            out.extend_from_slice(&v.to_bits().to_le_bytes());
        }
        Out::Count(n) => {
            out.push(2);
            out.extend_from_slice(&n.to_le_bytes());
        }
        Out::Word(v) => {
            out.push(3);
            text(v, out);
        }
        Out::Text(v) => {
            out.push(3);
            text(v, out);
        }
        Out::List(items) => {
            out.push(4);
            count(items.len(), out);
            for item in items {
                put(item, out);
            }
        }
        Out::Fields(fields) => {
            out.push(5);
            count(fields.len(), out);
            for (name, value) in fields {
                text(name, out);
                put(value, out);
            }
        }
    }
}
