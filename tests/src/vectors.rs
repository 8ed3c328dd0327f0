//! Rows of `vectors/`: read, refused where they lack something, asked, compared.

use faultpath_wasm::evidence::held::{self, Expected, held};
use faultpath_wasm::evidence::{Reply, ask};
use faultpath_wasm::value::Value;
use serde::Deserialize;
use std::collections::{BTreeMap, HashSet};
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
    /// As it is compared; `None` where there is not exactly one of both.
    #[must_use]
    pub fn compared(&self) -> Option<held::Tolerance> {
        match (self.abs, self.rel) {
            (Some(abs), None) => Some(held::Tolerance::Abs(abs)),
            (None, Some(rel)) => Some(held::Tolerance::Rel(rel)),
            _ => None,
        }
    }

    /// The distance allowed around `expected`.
    #[must_use]
    pub fn around(&self, expected: f64) -> f64 {
        // A row without was refused when it was read.
        self.compared().map_or(f64::NAN, |t| t.around(expected))
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
    /// Unit of each input that is a figure, by its name or by `ask.name`; empty for a factor or a count.
    pub units: BTreeMap<String, String>,
    /// What the sources name, with the edition.
    pub documents: BTreeMap<String, String>,
    /// The rows, at least one.
    pub rows: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Raw {
    topic: String,
    units: BTreeMap<String, String>,
    documents: BTreeMap<String, String>,
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
    let Some(held::Tolerance::Abs(tolerance) | held::Tolerance::Rel(tolerance)) =
        row.tolerance.compared()
    else {
        return Err("tolerance needs either abs or rel".to_owned());
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

fn has_figure(value: &Value) -> bool {
    match value {
        Value::Number(_) => true,
        Value::List(items) => items.iter().any(has_figure),
        // A place or a job says itself what it is in.
        _ => false,
    }
}

/// The names in `units` and `documents` a row makes use of, or what it lacks there.
fn named<'f>(row: &Row, file: &'f Raw) -> Result<Vec<&'f str>, String> {
    let mut used = Vec::new();
    if let Value::Map(inputs) = &row.inputs {
        for (name, _) in inputs.iter().filter(|(_, value)| has_figure(value)) {
            let own = format!("{}.{name}", row.ask);
            let unit = file.units.get_key_value(&own);
            match unit.or_else(|| file.units.get_key_value(name)) {
                Some((key, _)) => used.push(key.as_str()),
                None => return Err(format!("no unit for the input {name}")),
            }
        }
    } else {
        return Err("inputs is no object".to_owned());
    }
    let before = used.len();
    let documents = file.documents.keys();
    used.extend(
        documents
            .filter(|d| row.source.contains(d.as_str()))
            .map(String::as_str),
    );
    // An example of ours rests on no document, a rule of thumb on none in particular.
    if used.len() == before && matches!(row.standing, Standing::Published | Standing::FromMemory) {
        return Err(format!("no document for the source {:?}", row.source));
    }
    Ok(used)
}

/// Reads a file of rows from its text.
///
/// # Errors
/// What is wrong with it: it is no such file, it has no rows, a row lacks something (a unit and a document too),
/// is unknown in its standing, or is there twice.
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
    let mut used = HashSet::new();
    for (n, row) in raw.rows.iter().enumerate() {
        check(row).map_err(|e| format!("{topic}.json, row {n}: {e}"))?;
        used.extend(named(row, &raw).map_err(|e| format!("{topic}.json, row {n}: {e}"))?);
        // The same thing said twice would count twice; another source of it is another row.
        let key = format!("{}|{:?}|{}", row.ask, row.inputs, row.source);
        if !seen.insert(key) {
            return Err(format!("{topic}.json, row {n} is there twice"));
        }
    }
    for name in raw.units.keys().chain(raw.documents.keys()) {
        if !used.contains(name.as_str()) {
            return Err(format!("{topic}.json: no row needs {name:?}"));
        }
    }
    if let Some((name, _)) = raw.documents.iter().find(|(_, edition)| edition.is_empty()) {
        return Err(format!("{topic}.json: no edition of {name:?}"));
    }
    Ok(File {
        topic: raw.topic,
        units: raw.units,
        documents: raw.documents,
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
    let expected = match &row.expect {
        Expect::Number(v) => Expected::Number(*v),
        Expect::Word(w) => Expected::Word(w),
    };
    let Some(tolerance) = row.tolerance.compared() else {
        return Agreement::No("no tolerance".to_owned());
    };
    let held = held(reply, &expected, tolerance);
    match (held.got, held.off) {
        _ if held.agrees => Agreement::Yes(held.share.unwrap_or(0.0)),
        (Some(Expected::Number(v)), Some(off)) => Agreement::No(format!(
            "{v}, off by {off:.3e}, allowed {:.3e}",
            row.tolerance.around(v - off)
        )),
        (Some(Expected::Number(v)), None) => Agreement::No(v.to_string()),
        (Some(Expected::Word(w)), _) => Agreement::No(w.to_owned()),
        (None, _) => Agreement::No("an answer that is neither a figure nor a word".to_owned()),
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
