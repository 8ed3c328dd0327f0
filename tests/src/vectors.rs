//! Rows of `vectors/`: read, refused where they lack something, asked, compared.

use faultpath_wasm::evidence::{Reply, ask};
use faultpath_wasm::value::Value;
use serde::Deserialize;
use std::collections::HashSet;
use std::fmt;
use std::path::{Component, Path, PathBuf};

/// What a row rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
pub enum Standing {
    /// Its print was read.
    #[serde(rename = "published")]
    Published,
    /// A rule of thumb of the trade.
    #[serde(rename = "common practice")]
    CommonPractice,
    /// Remembered; not read anywhere.
    #[serde(rename = "from memory")]
    FromMemory,
    /// An example of our own, which rests on a second computation.
    #[serde(rename = "own")]
    Own,
}

impl fmt::Display for Standing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Standing::Published => "published",
            Standing::CommonPractice => "common practice",
            Standing::FromMemory => "from memory",
            Standing::Own => "own",
        })
    }
}

/// What a row expects.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum Expect {
    /// A figure.
    Number(f64),
    /// An outcome, `not-known`, or the reason of a refusal.
    Word(String),
}

impl fmt::Display for Expect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Expect::Number(v) => write!(f, "{v}"),
            Expect::Word(w) => f.write_str(w),
        }
    }
}

/// How far an answer may lie from what is expected, and why that far. One of both, never both.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tolerance {
    /// In the unit of the row.
    pub abs: Option<f64>,
    /// As a share of what is expected.
    pub rel: Option<f64>,
    /// The reason.
    pub why: String,
}

impl Tolerance {
    /// The distance allowed around `expected`.
    #[must_use]
    pub fn around(&self, expected: f64) -> f64 {
        match (self.abs, self.rel) {
            (Some(abs), None) => abs,
            (None, Some(rel)) => rel * expected.abs(),
            // Such a row was refused when it was read.
            _ => f64::NAN,
        }
    }
}

/// One question with its answer.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// Name of the question.
    pub ask: String,
    /// Its inputs.
    pub inputs: Value,
    /// What is expected.
    pub expect: Expect,
    /// Unit; empty for a factor.
    pub unit: String,
    /// Tolerance.
    pub tolerance: Tolerance,
    /// Document, table, edition.
    pub source: String,
    /// What it rests on.
    pub standing: Standing,
    /// The second thing that says so; begins with `none` where there is none.
    pub support: String,
}

/// One file of rows.
#[derive(Clone, Debug)]
pub struct File {
    /// Name without `.json`; the topic of its rows.
    pub topic: String,
    /// The rows, at least one.
    pub rows: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Raw {
    topic: String,
    rows: Vec<Row>,
}

/// The folder of the vectors.
#[must_use]
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../vectors")
}

/// Names of all files of rows, sorted.
///
/// # Panics
/// Where the folder can't be read.
#[must_use]
pub fn topics() -> Vec<String> {
    let mut out: Vec<String> = std::fs::read_dir(folder())
        .expect("the folder of the vectors")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "json"))
        .filter_map(|path| Some(path.file_stem()?.to_str()?.to_owned()))
        .collect();
    out.sort();
    out
}

fn check(row: &Row) -> Result<(), String> {
    let filled = [
        ("ask", &row.ask),
        ("tolerance.why", &row.tolerance.why),
        ("source", &row.source),
        ("support", &row.support),
    ];
    for (name, text) in filled {
        if text.trim().is_empty() {
            return Err(format!("{name} is empty"));
        }
    }
    let tolerance = match (row.tolerance.abs, row.tolerance.rel) {
        (Some(t), None) | (None, Some(t)) => t,
        _ => return Err("tolerance needs either abs or rel".to_owned()),
    };
    if !tolerance.is_finite() || tolerance < 0.0 {
        return Err(format!("a tolerance of {tolerance}"));
    }
    match &row.expect {
        Expect::Number(v) if !v.is_finite() => Err(format!("expects {v}")),
        // A sentence is what a question that is not understood answers, and that must never be expected.
        Expect::Word(w) if w.is_empty() || w.contains(char::is_whitespace) => {
            Err(format!("expects the words {w:?}"))
        }
        Expect::Word(_) if tolerance != 0.0 => Err("a word has a tolerance of 0".to_owned()),
        _ => Ok(()),
    }
}

/// Reads a file of rows from its text.
///
/// # Errors
/// What is wrong with it: it is no such file, it has no rows, a row lacks something, is unknown in its
/// standing, or is there twice.
pub fn parse(topic: &str, text: &str) -> Result<File, String> {
    let raw: Raw = serde_json::from_str(text).map_err(|e| format!("{topic}.json: {e}"))?;
    if raw.topic != topic {
        return Err(format!(
            "{topic}.json calls itself the topic {:?}",
            raw.topic
        ));
    }
    if raw.rows.is_empty() {
        return Err(format!("{topic}.json has no rows"));
    }
    let mut seen = HashSet::new();
    for (n, row) in raw.rows.iter().enumerate() {
        check(row).map_err(|e| format!("{topic}.json, row {n}: {e}"))?;
        // The same thing said twice would count twice; another source of it is another row.
        let key = format!("{}|{:?}|{}", row.ask, row.inputs, row.source);
        if !seen.insert(key) {
            return Err(format!("{topic}.json, row {n} is there twice"));
        }
    }
    Ok(File {
        topic: raw.topic,
        rows: raw.rows,
    })
}

/// Reads a file of rows.
///
/// # Errors
/// As [`parse`], and where it can't be read.
pub fn load(topic: &str) -> Result<File, String> {
    let path = folder().join(format!("{topic}.json"));
    let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    parse(topic, &text)
}

/// The job of a row, in the place of the name of its file.
fn job(name: &str) -> Result<Value, String> {
    let inside = Path::new(name)
        .components()
        .all(|part| matches!(part, Component::Normal(_)));
    if !inside {
        return Err(format!("{name} is not under vectors/"));
    }
    let text = std::fs::read_to_string(folder().join(name)).map_err(|e| format!("{name}: {e}"))?;
    serde_json::from_str(&text).map_err(|e| format!("{name}: {e}"))
}

/// The question of a row, as it is put: a job that is named is put in.
///
/// # Errors
/// Where the job can't be read.
pub fn question(row: &Row) -> Result<Value, String> {
    let mut inputs = row.inputs.clone();
    if let Value::Map(inputs) = &mut inputs {
        for (key, value) in inputs {
            if let (true, Value::Text(name)) = (key == "job", &*value) {
                *value = job(name)?;
            }
        }
    }
    Ok(Value::Map(vec![
        ("ask".to_owned(), Value::Text(row.ask.clone())),
        ("inputs".to_owned(), inputs),
    ]))
}

/// How an answer came out.
#[derive(Clone, Debug, PartialEq)]
pub enum Agreement {
    /// It agrees; how far off, in units of the tolerance (0 to 1).
    Yes(f64),
    /// It does not, and what came.
    No(String),
}

impl Agreement {
    /// Whether it agrees.
    #[must_use]
    pub fn is_yes(&self) -> bool {
        matches!(self, Agreement::Yes(_))
    }
}

/// Holds an answer against a row.
#[must_use]
pub fn compare(row: &Row, reply: &Reply) -> Agreement {
    let got = match reply {
        Reply::Number { value } => Expect::Number(f64::from(*value)),
        Reply::Word { value } => Expect::Word(value.clone()),
        Reply::Error { error } => Expect::Word(error.clone()),
        _ => return Agreement::No("an answer that is neither a figure nor a word".to_owned()),
    };
    match (&row.expect, &got) {
        (Expect::Number(expected), Expect::Number(value)) => {
            let off = (value - expected).abs();
            let allowed = row.tolerance.around(*expected);
            if off <= allowed {
                Agreement::Yes(if off == 0.0 { 0.0 } else { off / allowed })
            } else {
                Agreement::No(format!("{value}, off by {off:.3e}, allowed {allowed:.3e}"))
            }
        }
        (Expect::Word(expected), Expect::Word(word)) if expected == word => Agreement::Yes(0.0),
        _ => Agreement::No(got.to_string()),
    }
}

/// Puts the question of a row to the native build and compares.
#[must_use]
pub fn answer(row: &Row) -> Agreement {
    match question(row) {
        Ok(question) => compare(row, &ask(&question)),
        Err(e) => Agreement::No(e),
    }
}

/// A row in one line, for a person.
#[must_use]
pub fn line(row: &Row) -> String {
    let inputs = match &row.inputs {
        Value::Map(inputs) => inputs
            .iter()
            .map(|(key, value)| format!("{key} {}", short(value)))
            .collect::<Vec<_>>()
            .join(", "),
        other => short(other),
    };
    format!(
        "{} ({inputs}) expects {} {} [{}; {}]",
        row.ask, row.expect, row.unit, row.source, row.standing
    )
}

fn short(value: &Value) -> String {
    match value {
        Value::Null => "null".to_owned(),
        Value::Bool(b) => b.to_string(),
        Value::Number(v) => v.to_string(),
        Value::Text(t) => t.clone(),
        Value::List(items) => format!("list of {}", items.len()),
        Value::Map(map) => map
            .iter()
            .map(|(_, v)| short(v))
            .collect::<Vec<_>>()
            .join(" "),
    }
}
