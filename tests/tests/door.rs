//! The job's door: every field of the schema with everything that can be wrong with it. Each error is at its
//! own field and says what to do, and what has nothing to do with it is judged as before.
//!
//! And the words: those of the schema, of the reader and of the page's types are the same.

use faultpath::assess::assess;
use faultpath::network::{BoardId, CircuitId};
use faultpath::profile::{DropBasis, LoadClass, Profile};
use faultpath::verdict::{Check, Finding, Outcome, Place, Recorder};
use faultpath_wasm::answer::answer;
use faultpath_wasm::catalogue::catalogue;
use faultpath_wasm::names;
use faultpath_wasm::out::Out;
use faultpath_wasm::read::{BOARDS, CIRCUITS, Job, read};
use faultpath_wasm::value::Value;
use serde_json::{Value as Json, json};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

fn text(path: &str) -> String {
    std::fs::read_to_string(format!("{}/../{path}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

fn schema() -> Json {
    serde_json::from_str(&text("web/job.schema.json")).unwrap()
}

/// Through the text, as a file comes.
fn value(json: &Json) -> Value {
    serde_json::from_str(&json.to_string()).unwrap()
}

fn profile() -> Json {
    let p = Profile::UK;
    let diversity: serde_json::Map<String, Json> = LoadClass::ALL
        .iter()
        .zip(p.diversity)
        .map(|(class, d)| {
            let allowance = json!({
                "first_amps": d.first_amps, "first": d.first, "rest": d.rest, "add": d.add,
                "largest": d.largest, "second": d.second, "others": d.others,
            });
            (names::CLASSES.name_of(*class).to_owned(), allowance)
        })
        .collect();
    json!({
        "name": "Ours", "cmin": p.cmin, "cmax": p.cmax, "drop_lighting": p.drop_lighting,
        "drop_other": p.drop_other, "drop_basis": "full", "source_electrode": p.source_electrode,
        "touch_voltage": p.touch_voltage, "diversity": diversity,
    })
}

/// The circuits that are tried: one that feeds a board, and the last on that board.
const FEED: usize = 2;
const LAST: usize = 8;

/// The page's own job with every part there is.
fn base() -> Json {
    let mut job: Json = serde_json::from_str(&text("web/src/example-job.json")).unwrap();
    job["profile"] = profile();
    job["notes"] = json!("none");
    job["supply"]["ra"] = json!(80);
    job["supply"]["x_over_r"] = json!(0.5);
    let board = &mut job["boards"][1];
    board["ra"] = json!(60);
    board["rcd"] = json!({ "sensitivity": 0.3, "kind": "a", "delay": "selective" });
    board["conditional"] = json!(10_000);
    board["earthing_conductor"] = json!({ "material": "copper", "csa": 16, "buried": false, "mechanical": true, "corrosion": true });
    board["demand"] = json!(38);
    let feed = &mut job["circuits"][FEED];
    feed["load"]["current"] = json!(38);
    feed["rcd"] = json!({ "sensitivity": 0.5, "kind": "a", "delay": "selective" });
    feed["device"]["let_through"] = json!(20_000);
    let last = &mut job["circuits"][LAST];
    last["device"]["let_through"] = json!(15_000);
    let mut spur = last["sections"][1].clone();
    spur["part"] = json!("spur");
    spur["spur_fuse"] = json!({ "family": "bs1362", "rating": 13, "breaking": 6000, "let_through": null, "energy_class": null });
    spur["neutral_csa"] = spur["csa"].clone();
    spur["insulation_run"] = json!(0.5);
    spur["protective"]["resistance"] = json!(9);
    last["sections"].as_array_mut().unwrap().push(spur);
    job
}

// ------------------------------------------------------------------------------------ places in a job

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Step {
    Key(String),
    At(usize),
}

type Path = Vec<Step>;

fn shown(path: &[Step]) -> String {
    let mut out = String::new();
    for step in path {
        match step {
            Step::Key(key) => {
                if !out.is_empty() {
                    out.push('.');
                }
                out.push_str(key);
            }
            Step::At(i) => out.push_str(&format!("[{i}]")),
        }
    }
    out
}

fn path(text: &str) -> Path {
    let mut out = Vec::new();
    for part in text.split('.') {
        let mut pieces = part.split('[');
        out.push(Step::Key(pieces.next().unwrap().to_owned()));
        out.extend(pieces.map(|i| Step::At(i.trim_end_matches(']').parse().unwrap())));
    }
    out
}

fn at<'a>(job: &'a mut Value, path: &[Step]) -> &'a mut Value {
    path.iter().fold(job, |at, step| match (step, at) {
        (Step::Key(key), Value::Map(map)) => {
            if !map.iter().any(|(k, _)| k == key) {
                map.push((key.clone(), Value::Null));
            }
            map.iter_mut()
                .find(|(k, _)| k == key)
                .map(|(_, v)| v)
                .unwrap()
        }
        (Step::At(i), Value::List(list)) => &mut list[*i],
        (_, other) => panic!("{path:?} leads through {other:?}"),
    })
}

/// The job with one place changed; taken away with `None`.
fn with(job: &Value, path: &[Step], new: Option<Value>) -> Value {
    let mut job = job.clone();
    match new {
        Some(new) => *at(&mut job, path) = new,
        None => match (at(&mut job, &path[..path.len() - 1]), path.last()) {
            (Value::Map(map), Some(Step::Key(key))) => map.retain(|(k, _)| k != key),
            _ => panic!("{path:?}"),
        },
    }
    job
}

// -------------------------------------------------------------------------------- fields of the schema

/// Read apart, by readers of their own: test readings, and where a board stands.
const APART: [&str; 3] = ["tests", "testing", "site"];

/// A field: where it is, of which part it is, what it may be.
struct Field {
    path: Path,
    of: String,
    key: String,
    types: BTreeSet<String>,
    words: Vec<Json>,
    required: bool,
}

fn resolved<'s>(schema: &'s Json, node: &'s Json) -> (&'s Json, Option<&'s str>) {
    match node["$ref"].as_str() {
        Some(to) => {
            let name = to.strip_prefix("#/$defs/").unwrap();
            (&schema["$defs"][name], Some(name))
        }
        None => (node, None),
    }
}

/// Everything a node may be, alternatives laid out.
fn alternatives<'s>(schema: &'s Json, node: &'s Json) -> Vec<(&'s Json, Option<&'s str>)> {
    let (node, name) = resolved(schema, node);
    match node["anyOf"].as_array() {
        Some(all) => all.iter().flat_map(|n| alternatives(schema, n)).collect(),
        None => vec![(node, name)],
    }
}

fn fields(schema: &Json, node: &Json, of: &str, job: &Json, here: &Path, out: &mut Vec<Field>) {
    for (node, name) in alternatives(schema, node) {
        let of = name.unwrap_or(of);
        if let (Some(properties), Some(_)) = (node["properties"].as_object(), job.as_object()) {
            for (key, sub) in properties {
                if APART.contains(&key.as_str()) {
                    continue;
                }
                let mut path = here.clone();
                path.push(Step::Key(key.clone()));
                let (mut types, mut words) = (BTreeSet::new(), Vec::new());
                for (one, _) in alternatives(schema, sub) {
                    let mut add = |t: &Json| {
                        types.insert(t.as_str().unwrap().to_owned());
                    };
                    match &one["type"] {
                        Json::Array(all) => all.iter().for_each(&mut add),
                        Json::Null => {}
                        t => add(t),
                    }
                    words.extend(one["enum"].as_array().into_iter().flatten().cloned());
                    words.extend(one.get("const").cloned());
                }
                let needed = node["required"].as_array().into_iter().flatten();
                out.push(Field {
                    path: path.clone(),
                    of: of.to_owned(),
                    key: key.clone(),
                    types,
                    words,
                    required: needed.into_iter().any(|k| k == key),
                });
                fields(schema, sub, key, &job[key], &path, out);
            }
        }
        if let (Some(items), Some(list)) = (node.get("items"), job.as_array()) {
            for (i, item) in list.iter().enumerate() {
                if here == &path("circuits") && i != FEED && i != LAST {
                    continue;
                }
                let mut path = here.clone();
                path.push(Step::At(i));
                fields(schema, items, of, item, &path, out);
            }
        }
    }
}

fn all_fields(job: &Json) -> Vec<Field> {
    let (schema, mut out) = (schema(), Vec::new());
    fields(&schema, &schema, "job", job, &Vec::new(), &mut out);
    out
}

impl Field {
    fn may_be(&self, one: &str) -> bool {
        self.types.contains(one)
    }

    /// Where less than nothing, or nothing, is something.
    fn takes(&self, v: f64) -> bool {
        match self.key.as_str() {
            // A temperature.
            "ambient" => v > -60.0 && v < 1000.0,
            "x_over_r" => v == 0.0,
            // Shares.
            _ if self.of == "allowance" => v == 0.0,
            _ => false,
        }
    }

    /// Everything that is wrong here; `None`: taken away.
    fn wrongs(&self) -> Vec<Option<Value>> {
        let mut out = Vec::new();
        let null = self.may_be("null") || self.words.contains(&Json::Null);
        if !null {
            out.push(Some(Value::Null));
            if self.required {
                out.push(None);
            }
        }
        if !self.may_be("boolean") {
            out.push(Some(Value::Bool(true)));
        }
        if !self.may_be("array") {
            out.push(Some(Value::List(vec![])));
            out.push(Some(Value::List(vec![Value::Number(1.0)])));
        }
        if !self.may_be("object") {
            out.push(Some(Value::Map(vec![])));
        }
        // Not a name; and no text at all, where it is one of a thing.
        if !self.may_be("string") {
            out.push(Some(Value::Text("stranger".to_owned())));
            out.push(Some(Value::Text(String::new())));
            out.push(Some(Value::Text("230".to_owned())));
        }
        let numbers: &[f64] = if self.may_be("integer") {
            &[
                f64::NAN,
                f64::INFINITY,
                f64::NEG_INFINITY,
                -1.0,
                0.0,
                1.5,
                256.0,
                1e30,
                1e-30,
                1.000_000_001,
            ]
        } else if self.may_be("number") {
            &[
                f64::NAN,
                f64::INFINITY,
                f64::NEG_INFINITY,
                -1.0,
                -1e30,
                0.0,
                -0.0,
                1e30,
                1e300,
                1e-30,
            ]
        } else {
            &[f64::NAN, f64::INFINITY, 7.25, -1.0, 0.0]
        };
        let numbers = numbers.iter().filter(|v| !self.takes(**v));
        out.extend(numbers.map(|v| Some(Value::Number(*v))));
        out
    }
}

// ------------------------------------------------------------------------------------- what was judged

type Findings = BTreeMap<String, Vec<Finding>>;

#[derive(Default)]
struct Told(Findings);

fn place_name(place: Place) -> String {
    match place {
        Place::Supply => "supply".to_owned(),
        Place::Board(BoardId(i)) => format!("boards[{i}]"),
        Place::Circuit(CircuitId(i)) => format!("circuits[{i}]"),
    }
}

impl Recorder for Told {
    fn finding(&mut self, f: &Finding) {
        self.0.entry(place_name(f.place)).or_default().push(*f);
    }
}

/// By the first of the earthings it is to be judged as.
fn findings(job: &Job<'_>) -> Option<Findings> {
    let (house, earthing) = job.reading(0)?;
    let mut told = Told::default();
    let _ = assess(house, earthing, &mut told);
    Some(told.0)
}

fn checks(all: &Findings, place: &str) -> Vec<Check> {
    all.get(place)
        .into_iter()
        .flatten()
        .map(|f| f.check)
        .collect()
}

/// Path and reason of every error, each with its text as the page puts it together.
fn errors(job: &Job<'_>) -> Vec<(String, String, String)> {
    static CATALOGUE: OnceLock<Out> = OnceLock::new();
    let words = CATALOGUE.get_or_init(|| catalogue("en").unwrap());
    let of = |e: &Out, key| e.get(key).text().unwrap_or("").to_owned();
    let said = |e: &Out| {
        let mut own = words.get("errors").items().iter();
        let own = own
            .find(|one| {
                ["field", "reason"]
                    .iter()
                    .all(|key| of_any(one.get(key)) == of_any(e.get(key)))
            })
            .map(|one| of(one, "text"));
        let plain = words.get("reasons").get(e.get("reason").text().unwrap());
        let mut text = match e.get("wrong") {
            Out::Count(n) => {
                let names = e.get("names").items().iter().filter_map(Out::text);
                let names = names.collect::<Vec<_>>().join(", ");
                let words = words.get("wrong").items()[*n as usize].text().unwrap();
                words.replace("{names}", &names)
            }
            _ => own.unwrap_or_else(|| plain.text().unwrap().to_owned()),
        };
        if *e.get("deep") != Out::Null {
            text.push(' ');
            text.push_str(words.get("deep").text().unwrap());
        }
        text
    };
    let all = job.errors.iter();
    all.map(|e| (of(e, "path"), of(e, "reason"), said(e)))
        .collect()
}

fn of_any(v: &Out) -> String {
    format!("{v:?}").replace("Word(", "Text(")
}

fn outcome(job: &Job<'_>) -> String {
    answer(job.clone())
        .get("outcome")
        .text()
        .unwrap_or("")
        .to_owned()
}

fn is_bad(job: &Job<'_>, place: &str) -> bool {
    match path(place).as_slice() {
        [Step::Key(list), Step::At(i), ..] if list == "boards" => job.bad_boards[*i],
        [Step::Key(_), Step::At(i), ..] => job.bad_circuits[*i],
        _ => job.bad_supply,
    }
}

const DEEP: &str = "Nothing is judged until then.";
/// Without these nothing can be judged.
const ALL_RESTS_ON: [&str; 6] = [
    "format",
    "version",
    "supply",
    "supply.current",
    "supply.u0",
    "supply.phases",
];
/// A circuit is judged without these.
const SPARED: [&str; 16] = [
    "name",
    "rcd",
    "outdoors",
    "bath",
    "concealed",
    "dwelling",
    "device.breaking",
    "device.let_through",
    "device.energy_class",
    "load.current",
    "load.power",
    "protective",
    "protective.kind",
    "protective.material",
    "protective.csa",
    "protective.resistance",
];

/// What a job with one error at `place` must be like. `before`: what was found without it.
fn hold(said: &str, place: &str, job: &Job<'_>, before: &Findings) {
    let all = errors(job);
    assert!(!all.is_empty(), "{said}: no error");
    for (at, reason, text) in &all {
        assert_eq!(at, place, "{said}: {text}");
        assert!(!reason.is_empty() && reason != "refused", "{said}");
        assert!(text.len() > 15 && text.ends_with('.'), "{said}: {text:?}");
    }
    let outcome = outcome(job);
    assert!(
        ["cannot-say", "fail"].contains(&outcome.as_str()),
        "{said}: {outcome}"
    );
    let deep = ALL_RESTS_ON.contains(&place) || place.is_empty();
    for (_, _, text) in &all {
        assert_eq!(text.contains(DEEP), deep, "{said}: {text}");
    }
    let Some(now) = findings(job) else {
        assert!(deep, "{said}: nothing is judged");
        assert_eq!(outcome, "cannot-say");
        return;
    };
    assert!(!deep, "{said}");
    if let Some(item) = ["supply", "boards", "circuits"]
        .iter()
        .find(|l| place.starts_with(**l))
    {
        if place != *item {
            assert!(is_bad(job, place), "{said}");
        }
    }
    for (other, was) in before {
        let (is, was) = (
            checks(&now, other),
            was.iter().map(|f| f.check).collect::<Vec<_>>(),
        );
        let own = place.strip_prefix(other.as_str());
        // The board that is fed, and all on it.
        let by_feed = ["supply", "circuits[0]", "circuits[1]", "circuits[2]"];
        let fed = !by_feed.contains(&other.as_str());
        let of_board = |i: usize| {
            ["fed_by", "earthing"]
                .iter()
                .any(|k| place == format!("boards[{i}].{k}"))
        };
        let lost = match place {
            _ if place.starts_with("circuits[2]") || of_board(1) => fed,
            "boards" | "circuits" => true,
            _ => of_board(0) && other != "supply",
        };
        match own {
            Some(field) if other.starts_with("circuits") => {
                let field = field.trim_start_matches('.').rsplit("].").next().unwrap();
                // An RCBO is none without; a size that can be read goes to core, which knows none like it.
                let needed = place.contains("spur_fuse")
                    || (field == "rcd" && other == "circuits[8]")
                    || (field == "protective.csa" && all[0].1 == "not-made");
                if SPARED.contains(&field) && !needed {
                    assert!(!is.is_empty(), "{said}: {other} is not judged");
                }
            }
            Some(_) if lost => {}
            // A finding of its own may go with the part it is about.
            Some(_) => assert!(!is.is_empty(), "{said}: {other} is not judged"),
            None if lost => {}
            // Behind a board whose part is not known.
            None if fed && place.starts_with("boards[1].") => {
                assert!(!is.is_empty(), "{said}: {other}")
            }
            None => assert_eq!(is, was, "{said}: {other}"),
        }
    }
}

#[test]
fn every_field_with_everything_that_can_be_wrong() {
    let job = base();
    let whole = value(&job);
    let good = read(&whole);
    assert_eq!(errors(&good), []);
    let before = findings(&good).unwrap();
    let (mut tried, mut of) = (0, BTreeSet::new());
    for field in all_fields(&job) {
        let here = shown(&field.path);
        of.insert((field.of.clone(), field.key.clone()));
        for wrong in field.wrongs() {
            let said = format!("{here} := {wrong:?}");
            let spoilt = with(&whole, &field.path, wrong);
            let read = read(&spoilt);
            if field.key == "id" {
                // What points to it points nowhere now.
                let all = errors(&read);
                assert!(all.iter().any(|(at, ..)| *at == here), "{said}: {all:?}");
                assert!(
                    all.iter()
                        .all(|(at, reason, _)| *at == here || reason == "dangling"),
                    "{said}: {all:?}"
                );
                assert_ne!(outcome(&read), "pass");
            } else {
                hold(&said, &here, &read, &before);
            }
            tried += 1;
        }
    }
    assert!(tried > 3000, "{tried}");
    // Every field of every part of the schema was there to be tried.
    let schema = schema();
    let mut parts: Vec<(&str, &Json)> = schema["$defs"]
        .as_object()
        .unwrap()
        .iter()
        .map(|(k, v)| (k.as_str(), v))
        .collect();
    parts.push(("job", &schema));
    let reader = [
        "job",
        "supply",
        "board",
        "circuit",
        "load",
        "section",
        "protective",
        "device",
        "rcd",
        "conductor",
        "earthing_conductor",
        "allowance",
        "profile",
    ];
    for (part, node) in parts {
        if !reader.contains(&part) {
            continue;
        }
        for key in node["properties"].as_object().unwrap().keys() {
            let apart = APART.contains(&key.as_str());
            assert!(
                apart || of.contains(&(part.to_owned(), key.clone())),
                "{part}.{key} was not tried"
            );
        }
    }
}

#[test]
fn a_stranger_is_named_wherever_it_is() {
    let job = base();
    let whole = value(&job);
    let before = findings(&read(&whole)).unwrap();
    let mut places: BTreeSet<Path> = BTreeSet::new();
    for field in all_fields(&job) {
        places.insert(field.path[..field.path.len() - 1].to_vec());
    }
    assert!(places.len() > 30);
    for mut place in places {
        place.push(Step::Key("stranger".to_owned()));
        let here = shown(&place);
        let spoilt = with(&whole, &place, Some(Value::Number(1.0)));
        hold(&format!("{here} added"), &here, &read(&spoilt), &before);
    }
}

#[test]
fn what_is_no_job() {
    let all = [
        Value::Null,
        Value::Bool(false),
        Value::Number(f64::NAN),
        Value::Text("faultpath-job".to_owned()),
        Value::List(vec![]),
    ];
    for job in all {
        let read = read(&job);
        hold(&format!("{job:?}"), "", &read, &Findings::new());
    }
    let empty = Value::Map(vec![]);
    let read = read(&empty);
    let named: BTreeSet<String> = errors(&read).into_iter().map(|(at, ..)| at).collect();
    let needed = schema()["required"]
        .as_array()
        .unwrap()
        .iter()
        .map(|k| k.as_str().unwrap().to_owned())
        .collect();
    assert_eq!(named, needed);
    assert_eq!(outcome(&read), "cannot-say");
}

/// Ratings, sizes and sensitivities nobody makes, by the field.
#[test]
fn only_what_is_made() {
    let job = base();
    let whole = value(&job);
    let before = findings(&read(&whole)).unwrap();
    for (place, v, reason) in [
        ("supply.device.rating", 99.0, "not-made"),
        ("supply.device.energy_class", 2.0, "not-made"),
        ("circuits[8].device.rating", 17.0, "not-made"),
        ("circuits[8].sections[2].spur_fuse.rating", 14.0, "not-made"),
        ("circuits[8].sections[0].csa", 3.0, "not-made"),
        ("circuits[8].sections[2].neutral_csa", 3.0, "not-made"),
        ("circuits[8].sections[0].protective.csa", 3.0, "not-made"),
        ("circuits[7].sections[0].cores", 49.0, "not-made"),
        ("circuits[8].rcd.sensitivity", 0.031, "not-made"),
        ("boards[1].rcd.sensitivity", 0.05, "not-made"),
        ("supply.u0", 1001.0, "too-large"),
        ("supply.ze", 0.0001, "too-small"),
        ("supply.fault_level", 0.5, "too-small"),
        ("circuits[8].load.power_factor", 1.1, "too-large"),
        ("circuits[8].load.power_factor", 0.01, "too-small"),
        ("profile.cmin", 1.05, "too-large"),
        ("profile.cmax", 0.9, "too-small"),
        ("profile.drop_lighting", 3.0, "too-large"),
        ("profile.touch_voltage", 230.0, "too-large"),
        ("profile.diversity.sockets.second", 1.5, "contradiction"),
        ("profile.diversity.sockets.others", 0.9, "contradiction"),
    ] {
        let here = path(place);
        let spoilt = with(&whole, &here, Some(Value::Number(v)));
        let read = read(&spoilt);
        let said = format!("{place} := {v}");
        hold(&said, place, &read, &before);
        assert!(
            errors(&read).iter().all(|(_, r, _)| r == reason),
            "{said}: {:?}",
            errors(&read)
        );
    }
}

/// What is bad is missing, and is said to be: no check that needs it passes.
#[test]
fn what_is_bad_counts_as_missing() {
    let job = base();
    for (spoil, place, check) in [
        ("supply.device.rating", "supply", Check::Demand),
        ("supply.bonding.csa", "supply", Check::Bonding),
        (
            "supply.earthing_conductor.csa",
            "supply",
            Check::EarthingConductor,
        ),
        ("supply.neutral_csa", "supply", Check::Bonding),
        ("supply.ze", "circuits[0]", Check::Disconnection),
        ("supply.fault_level", "circuits[0]", Check::Breaking),
        ("supply.fault_level_from", "circuits[0]", Check::Breaking),
        ("boards[1].bonding.csa", "boards[1]", Check::Bonding),
        ("boards[1].demand", "boards[1]", Check::Demand),
        (
            "circuits[2].load.current",
            "circuits[2]",
            Check::DesignCurrent,
        ),
        ("circuits[2].load.current", "circuits[8]", Check::VoltDrop),
        ("circuits[2].load.current", "supply", Check::Demand),
        (
            "circuits[8].load.current",
            "circuits[8]",
            Check::DesignCurrent,
        ),
        ("circuits[8].load.power_factor", "supply", Check::Demand),
        (
            "circuits[8].sections[0].protective.kind",
            "circuits[8]",
            Check::Disconnection,
        ),
        ("profile.cmin", "circuits[8]", Check::Disconnection),
        ("profile.drop_other", "circuits[8]", Check::VoltDrop),
        ("profile.drop_basis", "circuits[1]", Check::VoltDrop),
        ("profile.diversity.lighting.first", "supply", Check::Demand),
        ("profile.diversity.lighting", "supply", Check::Demand),
        ("profile", "circuits[0]", Check::VoltDrop),
    ] {
        let mut spoilt = value(&job);
        if check == Check::Demand && place == "supply" {
            // What hangs on the boards counts, and is not stated.
            spoilt = with(&spoilt, &path("boards[1].demand"), Some(Value::Null));
            spoilt = with(
                &spoilt,
                &path("circuits[2].load.current"),
                Some(Value::Null),
            );
        }
        let find = |job: &Value| {
            let all = findings(&read(job)).unwrap();
            all[place]
                .iter()
                .find(|f| f.check == check)
                .copied()
                .unwrap()
        };
        assert_ne!(
            find(&spoilt).outcome,
            Outcome::CannotSay,
            "{spoil}: {place} {check:?} before"
        );
        spoilt = with(&spoilt, &path(spoil), Some(Value::Number(-1.0)));
        let after = find(&spoilt);
        assert_eq!(
            after.outcome,
            Outcome::CannotSay,
            "{spoil}: {place} {check:?} {after:?}"
        );
        assert!(!after.lacking.is_empty());
    }
}

// ------------------------------------------------------------------------------------ the whole of a job

fn named(job: &Json) -> Vec<(String, String)> {
    let value = value(job);
    let read = read(&value);
    assert_ne!(outcome(&read), "pass");
    for (at, _, text) in errors(&read) {
        assert!(text.len() > 15 && text.ends_with('.'), "{at}: {text}");
    }
    errors(&read)
        .into_iter()
        .map(|(at, reason, _)| (at, reason))
        .collect()
}

fn one(at: &str, reason: &str) -> Vec<(String, String)> {
    vec![(at.to_owned(), reason.to_owned())]
}

#[test]
fn what_a_buried_cable_lacks_is_pointed_to() {
    let pointed = |soil: Json, depth: Json, ambient: f32| {
        let mut job: Json = serde_json::from_str(&text("web/src/example-job.json")).unwrap();
        let section = &mut job["circuits"][LAST]["sections"][1];
        assert_eq!(section["method"], "ground");
        section["soil"] = soil;
        section["depth"] = depth;
        section["ambient"] = json!(ambient);
        let value = value(&job);
        let out = answer(read(&value));
        let judged = &out.get("judgements").items()[0];
        let id = job["circuits"][LAST]["id"].as_str();
        let at = |one: &&Out| one.get("place").get("id").text() == id;
        let place = judged.get("places").items().iter().find(at).unwrap();
        let of = |one: &&Out| one.get("check").text() == Some("capacity");
        let found = place.get("findings").items().iter().find(of).unwrap();
        let first = found.get("paths").items().first();
        first.and_then(Out::text).map(str::to_owned)
    };
    let here = |key: &str| Some(format!("circuits[{LAST}].sections[1].{key}"));
    assert_eq!(pointed(Json::Null, Json::Null, 20.0), here("soil"));
    assert_eq!(pointed(Json::Null, json!(0.5), 20.0), here("soil"));
    assert_eq!(pointed(json!(2.5), Json::Null, 20.0), here("depth"));
    // Hotter than any table: neither of them, though the section that decides is another.
    assert_eq!(pointed(json!(2.5), json!(0.5), 99.0), here("ambient"));
    assert_eq!(pointed(json!(2.5), json!(0.5), 20.0), None);
}

/// Where a finding of the example, changed at some entries, points for what it lacks.
fn points_to(edits: &[(&str, Json)], place: &str, check: &str) -> Vec<Option<String>> {
    let job: Json = serde_json::from_str(&text("web/src/example-job.json")).unwrap();
    let mut value = value(&job);
    for (at, to) in edits {
        value = with(&value, &path(at), Some(self::value(to)));
    }
    let out = answer(read(&value));
    assert!(out.get("errors").items().is_empty(), "{edits:?}");
    let judged = &out.get("judgements").items()[0];
    let at = |one: &&Out| {
        let place_of = one.get("place");
        place_of.get("id").text().or(place_of.get("kind").text()) == Some(place)
    };
    let found = judged.get("places").items().iter().find(at).unwrap();
    let of = |one: &&Out| one.get("check").text() == Some(check);
    let found = found.get("findings").items().iter().find(of).unwrap();
    assert_eq!(
        found.get("outcome").text(),
        Some("cannot-say"),
        "{edits:?} {place} {check}"
    );
    let paths = found.get("paths").items().iter();
    paths.map(|one| one.text().map(str::to_owned)).collect()
}

#[test]
fn what_is_missing_is_pointed_to_where_it_is_entered() {
    let none = json!({ "kind": "none", "material": null, "csa": null, "resistance": null });
    let pipe =
        json!({ "kind": "enclosure", "material": "steel", "csa": null, "resistance": 0.001 });
    let only = |at: &str| vec![Some(at.to_owned())];
    let load = "circuits[4].load";
    let open = [
        ("circuits[4].load.current", Json::Null),
        ("circuits[4].load.power", Json::Null),
    ];
    for (edits, place, check, wanted) in [
        // A load behind the place, whatever stands between.
        (&open[..], "supply", "demand", format!("{load}.current")),
        (&open[..], "dome", "demand", format!("{load}.current")),
        (
            &open[..],
            "hill",
            "design-current",
            format!("{load}.current"),
        ),
        (
            &open[..],
            "dew",
            "design-current",
            format!("{load}.current"),
        ),
        // What shares the feed.
        (&open[..], "warm", "volt-drop", format!("{load}.current")),
        // The section that lacks it, of this circuit or nearer the supply.
        (
            &[("circuits[2].sections[1].protective", none.clone())][..],
            "hill",
            "disconnection",
            "circuits[2].sections[1].protective.kind".to_owned(),
        ),
        (
            &[("circuits[2].sections[1].protective", none.clone())][..],
            "warm",
            "disconnection",
            "circuits[2].sections[1].protective.kind".to_owned(),
        ),
        (
            &[("circuits[2].sections[2].protective", none.clone())][..],
            "dome",
            "feed-bonding",
            "circuits[2].sections[2].protective.kind".to_owned(),
        ),
        (
            &[("circuits[8].sections[1].protective", pipe)][..],
            "lawn",
            "protective-thermal",
            "circuits[8].sections[1].protective.csa".to_owned(),
        ),
        // What no table has, by the entry that is out of it.
        (
            &[("circuits[8].sections[1].grouped", json!(60))][..],
            "lawn",
            "capacity",
            "circuits[8].sections[1].arrangement".to_owned(),
        ),
        (
            &[("circuits[8].sections[0].grouped", json!(60))][..],
            "lawn",
            "capacity",
            "circuits[8].sections[0].grouped".to_owned(),
        ),
    ] {
        assert_eq!(
            points_to(edits, place, check),
            only(&wanted),
            "{place} {check}"
        );
    }
}

#[test]
fn names_used_twice_and_pointers_to_nothing() {
    let mut job = base();
    job["circuits"][8]["id"] = job["circuits"][7]["id"].clone();
    assert_eq!(named(&job), one("circuits[8].id", "used-twice"));
    let v = value(&job);
    let job = read(&v);
    assert!(job.bad_circuits[7] && job.bad_circuits[8] && !job.bad_circuits[6]);
    assert!(findings(&job).unwrap().contains_key("circuits[8]"));

    let mut job = base();
    job["circuits"][8]["board"] = json!("nowhere");
    assert_eq!(named(&job), one("circuits[8].board", "dangling"));
    job["circuits"][8]["board"] = json!("");
    assert_eq!(named(&job), one("circuits[8].board", "missing"));

    // Said of the board, and not of all that is on it.
    let mut job = base();
    job["boards"][1]["fed_by"] = json!("nothing");
    assert_eq!(named(&job), one("boards[1].fed_by", "dangling"));
    // A board is fed by what feeds boards.
    job["boards"][1]["fed_by"] = job["circuits"][0]["id"].clone();
    assert_eq!(named(&job), one("boards[1].fed_by", "contradiction"));
    // Its feed hangs on nothing, which is the feed's error.
    let mut job = base();
    job["circuits"][FEED]["board"] = json!("nowhere");
    assert_eq!(named(&job), one("circuits[2].board", "dangling"));
}

/// Boards one behind another, each with a heater, so many.
fn row(count: usize) -> Json {
    let mut job = base();
    let (board, feed, heater) = (
        job["boards"][0].clone(),
        job["circuits"][FEED].clone(),
        job["circuits"][7].clone(),
    );
    let (mut boards, mut circuits) = (Vec::new(), Vec::new());
    for i in 0..count {
        let mut b = board.clone();
        b["id"] = json!(format!("b{i}"));
        b["fed_by"] = if i == 0 {
            Json::Null
        } else {
            json!(format!("f{i}"))
        };
        boards.push(b);
        let mut c = heater.clone();
        c["id"] = json!(format!("h{i}"));
        c["board"] = json!(format!("b{i}"));
        circuits.push(c);
        if i > 0 {
            let mut c = feed.clone();
            c["id"] = json!(format!("f{i}"));
            c["board"] = json!(format!("b{}", i - 1));
            c["load"]["current"] = Json::Null;
            circuits.push(c);
        }
    }
    job["boards"] = json!(boards);
    job["circuits"] = json!(circuits);
    job
}

#[test]
fn boards_that_feed_themselves_and_boards_too_deep() {
    let mut job = row(4);
    assert!(named_or_none(&job).is_empty());
    // The second and third feed each other; the fourth hangs on them, the first is as it was.
    let feed = job["circuits"]
        .as_array()
        .unwrap()
        .iter()
        .position(|c| c["id"] == "f1")
        .unwrap();
    job["circuits"][feed]["board"] = json!("b2");
    let cycle = |i| (format!("boards[{i}].fed_by"), "cycle".to_owned());
    assert_eq!(named(&job), [cycle(1), cycle(2)]);
    let v = value(&job);
    let read = read(&v);
    let all = findings(&read).unwrap();
    assert!(all.contains_key("circuits[0]") && !all.contains_key("circuits[1]"));
    // By itself.
    let mut job = row(2);
    job["circuits"][2]["board"] = json!("b1");
    assert_eq!(named(&job), [cycle(1)]);

    assert!(named_or_none(&row(8)).is_empty());
    assert_eq!(named(&row(9)), one("boards[8].fed_by", "too-many"));
}

fn named_or_none(job: &Json) -> Vec<(String, String)> {
    let value = value(job);
    errors(&read(&value))
        .into_iter()
        .map(|(at, reason, _)| (at, reason))
        .collect()
}

#[test]
fn more_than_there_is_room_for() {
    let with_circuits = |n: usize| {
        let mut job = base();
        let one = job["circuits"][7].clone();
        let all = job["circuits"].as_array_mut().unwrap();
        while all.len() < n {
            let mut c = one.clone();
            c["id"] = json!(format!("more-{}", all.len()));
            all.push(c);
        }
        job
    };
    for fine in [60, 61, CIRCUITS] {
        assert!(named_or_none(&with_circuits(fine)).is_empty());
    }
    for many in [CIRCUITS + 1, 1000] {
        let job = with_circuits(many);
        assert_eq!(named(&job), one("circuits", "too-many"));
        let v = value(&job);
        let read = read(&v);
        let all = findings(&read).unwrap();
        assert!(all.contains_key("supply") && all.contains_key("circuits[127]"));
        assert_eq!(
            read.bad_circuits.iter().filter(|b| **b).count(),
            many - CIRCUITS
        );
    }

    let with_boards = |n: usize| {
        let mut job = base();
        let (board, circuit) = (job["boards"][0].clone(), job["circuits"][7].clone());
        while job["boards"].as_array().unwrap().len() < n {
            let i = job["boards"].as_array().unwrap().len();
            let (mut b, mut c) = (board.clone(), circuit.clone());
            b["id"] = json!(format!("more-{i}"));
            c["id"] = json!(format!("heater-{i}"));
            c["board"] = json!(format!("more-{i}"));
            job["boards"].as_array_mut().unwrap().push(b);
            job["circuits"].as_array_mut().unwrap().push(c);
        }
        job
    };
    assert!(named_or_none(&with_boards(BOARDS)).is_empty());
    let job = with_boards(BOARDS + 2);
    assert_eq!(named(&job), one("boards", "too-many"));
    let v = value(&job);
    let read = read(&v);
    let last = read.circuits.len() - 1;
    // On a board there is no room for: not judged, and not said to point nowhere.
    assert!(read.bad_circuits[last] && read.bad_circuits[last - 1] && !read.bad_circuits[last - 2]);
    assert!(
        findings(&read)
            .unwrap()
            .contains_key(&format!("circuits[{}]", last - 2))
    );

    let mut job = base();
    let section = job["circuits"][7]["sections"][0].clone();
    let sections = job["circuits"][7]["sections"].as_array_mut().unwrap();
    while sections.len() < faultpath::network::SECTIONS {
        sections.push(section.clone());
    }
    assert!(named_or_none(&job).is_empty());
    job["circuits"][7]["sections"]
        .as_array_mut()
        .unwrap()
        .push(section);
    assert_eq!(named(&job), one("circuits[7].sections[6]", "too-many"));
}

/// Long and thin is legal, and fails; no cable at all is an error.
#[test]
fn extremes() {
    let mut job = base();
    job["boards"][1]["rcd"] = Json::Null;
    job["circuits"][FEED]["rcd"] = Json::Null;
    let c = &mut job["circuits"][7];
    c["rcd"] = Json::Null;
    c["device"] = json!({ "family": "breaker-b", "rating": 100, "breaking": 10_000, "let_through": null, "energy_class": 3 });
    c["load"] =
        json!({ "current": 100, "power": null, "power_factor": 1, "class": "other", "points": 1 });
    c["sections"][0]["length"] = json!(1000);
    c["sections"][0]["csa"] = json!(1);
    c["sections"][0]["protective"] =
        json!({ "kind": "core", "material": "copper", "csa": 1, "resistance": null });
    let v = value(&job);
    let legal = read(&v);
    assert_eq!(errors(&legal), []);
    let all = findings(&legal).unwrap();
    for check in [
        Check::Capacity,
        Check::Overload,
        Check::VoltDrop,
        Check::Disconnection,
    ] {
        let f = all["circuits[7]"]
            .iter()
            .find(|f| f.check == check)
            .unwrap();
        assert_eq!(f.outcome, Outcome::Fail, "{check:?}");
        let (value, limit) = (f.value.unwrap(), f.limit.unwrap());
        assert!(value.is_finite() && limit.is_finite() && value != limit);
    }
    assert_eq!(outcome(&legal), "fail");

    job["circuits"][7]["sections"][0]["csa"] = json!(0);
    assert_eq!(named(&job), one("circuits[7].sections[0].csa", "zero"));
    job["circuits"][7]["sections"] = json!([]);
    assert_eq!(named(&job), one("circuits[7].sections", "missing"));

    let mut direct = base();
    direct["supply"]["current"] = json!("dc");
    assert_eq!(named(&direct), one("supply.current", "direct-current"));
    let v = value(&direct);
    assert!(read(&v).house.is_none());

    let mut newer = base();
    newer["version"] = json!(2);
    assert_eq!(named(&newer), one("version", "newer-version"));
}

// ------------------------------------------------------------------------------------------- the words

/// The words of a type of the page, or of a field of one.
fn page_words(types: &str, of: &str, field: Option<&str>) -> Vec<String> {
    let from = types
        .find(&format!("export type {of} ="))
        .unwrap_or_else(|| panic!("no type {of}"));
    let body = &types[from..];
    let body = &body[body.find('=').unwrap() + 1..];
    let text = match field {
        Some(field) => {
            let body = &body[..body.find("};").unwrap()];
            let at = body
                .find(&format!(" {field}:"))
                .unwrap_or_else(|| panic!("no {of}.{field}"));
            let rest = &body[at + field.len() + 2..];
            &rest[..rest.find(';').unwrap_or(rest.len())]
        }
        None => &body[..body.find(';').unwrap()],
    };
    let words: Vec<String> = text
        .split('"')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect();
    if !words.is_empty() {
        return words;
    }
    let alias = text
        .split(|c: char| !c.is_alphanumeric())
        .find(|w| !w.is_empty())
        .unwrap();
    page_words(types, alias, None)
}

type Row = (
    &'static str,
    &'static str,
    &'static str,
    &'static [&'static str],
    &'static [&'static str],
);

/// Part of the schema, field, type of the page, names of the reader, what a person reads for them.
fn tables() -> Vec<Row> {
    vec![
        (
            "supply",
            "current",
            "Supply",
            names::CURRENTS.names,
            names::CURRENTS.words,
        ),
        (
            "supply",
            "earthing",
            "Supply",
            names::SUPPLY_EARTHINGS.names,
            names::SUPPLY_EARTHINGS.words,
        ),
        (
            "supply",
            "ze_from",
            "Supply",
            names::ORIGINS.names,
            names::ORIGINS.words,
        ),
        (
            "supply",
            "fault_level_from",
            "Supply",
            names::LEVEL_ORIGINS.names,
            names::LEVEL_ORIGINS.words,
        ),
        (
            "board",
            "earthing",
            "Board",
            names::BOARD_EARTHINGS.names,
            names::BOARD_EARTHINGS.words,
        ),
        (
            "board",
            "enclosure",
            "Board",
            names::ENCLOSURES.names,
            names::ENCLOSURES.words,
        ),
        (
            "circuit",
            "phase",
            "Circuit",
            names::PHASES.names,
            names::PHASES.words,
        ),
        (
            "circuit",
            "shape",
            "Circuit",
            names::SHAPES.names,
            names::SHAPES.words,
        ),
        (
            "circuit",
            "use",
            "Circuit",
            names::USES.names,
            names::USES.words,
        ),
        (
            "load",
            "class",
            "Load",
            names::CLASSES.names,
            names::CLASSES.words,
        ),
        (
            "section",
            "part",
            "Section",
            names::PARTS.names,
            names::PARTS.words,
        ),
        (
            "section",
            "material",
            "Section",
            names::LINE_MATERIALS.names,
            names::LINE_MATERIALS.words,
        ),
        (
            "section",
            "insulation",
            "Section",
            names::INSULATIONS.names,
            names::INSULATIONS.words,
        ),
        (
            "section",
            "construction",
            "Section",
            names::CONSTRUCTIONS.names,
            names::CONSTRUCTIONS.words,
        ),
        (
            "section",
            "method",
            "Section",
            names::METHODS.names,
            names::METHODS.words,
        ),
        (
            "section",
            "arrangement",
            "Section",
            names::ARRANGEMENTS.names,
            names::ARRANGEMENTS.words,
        ),
        (
            "protective",
            "kind",
            "Protective",
            names::PROTECTIVES.names,
            names::PROTECTIVES.words,
        ),
        (
            "protective",
            "material",
            "Protective",
            names::MATERIALS.names,
            names::MATERIALS.words,
        ),
        (
            "device",
            "family",
            "Device",
            names::FAMILIES.names,
            names::FAMILIES.words,
        ),
        (
            "rcd",
            "kind",
            "Rcd",
            names::RCD_TYPES.names,
            names::RCD_TYPES.words,
        ),
        (
            "rcd",
            "delay",
            "Rcd",
            names::DELAYS.names,
            names::DELAYS.words,
        ),
        (
            "conductor",
            "material",
            "Conductor",
            names::MATERIALS.names,
            names::MATERIALS.words,
        ),
        (
            "earthing_conductor",
            "material",
            "Conductor",
            names::MATERIALS.names,
            names::MATERIALS.words,
        ),
        (
            "profile",
            "drop_basis",
            "Profile",
            names::DROP_BASES.names,
            names::DROP_BASES.words,
        ),
    ]
}

#[test]
fn schema_reader_and_page_use_the_same_words() {
    let (schema, types) = (schema(), text("web/src/job/types.ts"));
    let tables = tables();
    for (part, field, of, ours, words) in &tables {
        let ours = ours.to_vec();
        let node = &schema["$defs"][part]["properties"][field];
        let alternatives = alternatives(&schema, node);
        let theirs: Vec<&str> = alternatives
            .iter()
            .flat_map(|(n, _)| n["enum"].as_array().into_iter().flatten())
            .filter_map(Json::as_str)
            .collect();
        assert_eq!(ours, theirs, "schema, {part}.{field}");
        assert_eq!(
            ours,
            page_words(&types, of, Some(field)),
            "types.ts, {of}.{field}"
        );
        assert!(
            words.len() == ours.len() && words.iter().all(|said| !said.is_empty()),
            "{part}.{field}"
        );
    }
    // No list of words but those.
    for field in all_fields(&base()) {
        if field.words.iter().any(Json::is_string)
            && field.words != [json!("faultpath-job")]
            && field.words != [json!("uk"), json!("iec")]
        {
            let known = tables
                .iter()
                .any(|(part, key, ..)| *part == field.of && *key == field.key);
            assert!(known, "{}.{}: {:?}", field.of, field.key, field.words);
        }
    }
    let classes: Vec<&str> = LoadClass::ALL
        .iter()
        .map(|c| names::CLASSES.name_of(*c))
        .collect();
    let diversity = schema["$defs"]["profile"]["properties"]["diversity"]["properties"]
        .as_object()
        .unwrap();
    assert_eq!(classes, diversity.keys().collect::<Vec<_>>());
    assert_eq!(names::DROP_BASES.values, [DropBasis::Full, DropBasis::Load]);
}

/// What the page shows for a word comes from here for every one of them.
#[test]
fn every_list_of_words_is_among_the_choices() {
    let all = faultpath_wasm::choices::choices();
    let all = all.get("names");
    let Out::Fields(lists) = all else {
        panic!("no names")
    };
    for (part, field, _, ours, words) in tables() {
        let found = lists.iter().any(|(_, list)| {
            ours.iter()
                .zip(words)
                .all(|(name, said)| list.get(name).text() == Some(*said))
        });
        assert!(found, "{part}.{field}");
    }
    let serialized = serde_json::to_string(&all).unwrap();
    assert!(!serialized.contains("lead\""), "{serialized}");
}
