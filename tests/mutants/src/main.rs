//! Which changes of core do the tests notice?
//!
//! The changes are those of cargo-mutants (another operator, no sign, a function that returns at once, an arm
//! of a match that is gone). That builds anew for each; here all are written into one copy of the library, each
//! behind a switch, so that it is built once. Who is quickest is asked first, and of each change only those who come
//! by it, until one notices. See `tests/MUTANTS.md`.

mod asking;
mod change;
mod copy;

use asking::{MISSED, Tests};
use change::Mutant;
use serde_json::json;
use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::sync::Mutex;
use std::time::Instant;

/// The share that is asked for, in per cent.
const GOAL: f64 = 95.0;

fn main() {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .canonicalize()
        .expect("the tree");
    let mut args = std::env::args().skip(1);
    let out = args
        .next()
        .map_or_else(|| root.join("target/mutants"), PathBuf::from);
    // Only mutants of files that begin so.
    let only: Vec<String> = args.collect();
    copy::copy(&root, &out);
    let (found, left_out) = copy::compiled(&root, &out);
    let constant = found.iter().filter(|m| m.constant).count();
    println!(
        "{} changes, {} of them do not compile, {constant} are in functions that have to stay const",
        found.len(),
        left_out.len()
    );
    let log = out.join("outcomes.json");
    // Again only those that an earlier run missed, or all.
    let earlier: BTreeMap<String, String> = fs::read_to_string(&log)
        .ok()
        .filter(|_| std::env::var("MUTANTS_MISSED").is_ok())
        .and_then(|t| serde_json::from_str(&t).ok())
        .unwrap_or_default();
    let jobs = std::env::var("MUTANTS_JOBS")
        .ok()
        .and_then(|v| v.parse().ok())
        .unwrap_or(1);
    let asked: Vec<&Mutant> = found
        .iter()
        .filter(|m| only.is_empty() || only.iter().any(|o| m.file.starts_with(o.as_str())))
        .filter(|m| !m.constant && !left_out.contains(&m.id))
        .collect();
    let outcomes: Mutex<BTreeMap<usize, String>> = Mutex::default();
    for m in &asked {
        if let Some(by) = earlier.get(&m.key).filter(|by| *by != MISSED) {
            outcomes.lock().expect("a lock").insert(m.id, by.clone());
        }
    }
    let began = Instant::now();
    let told = |id: usize, by: &str| {
        outcomes.lock().expect("a lock").insert(id, by.to_owned());
    };
    let mut tests = None;
    // All of them, or those that are named.
    let stages = std::env::var("MUTANTS_STAGES").ok();
    for stage in ["rows", "quick tests", "second computation", "slow tests"] {
        if stages.as_ref().is_some_and(|s| !s.contains(stage)) {
            continue;
        }
        let open: Vec<&Mutant> = {
            let outcomes = outcomes.lock().expect("a lock");
            let open = |m: &&Mutant| outcomes.get(&m.id).is_none_or(|by| by == MISSED);
            asked.iter().copied().filter(open).collect()
        };
        if open.is_empty() {
            break;
        }
        let began = Instant::now();
        if stage == "rows" {
            asking::rows(&out, &open, jobs, &told);
        } else if stage == "second computation" {
            asking::second(&out, &open, jobs, &told);
        } else {
            let tests = tests.get_or_insert_with(|| Tests::traced(&out, jobs));
            tests.ask(stage == "slow tests", &open, jobs, &told);
        }
        let outcomes = outcomes.lock().expect("a lock");
        let left = open
            .iter()
            .filter(|m| outcomes.get(&m.id).is_some_and(|by| by == MISSED));
        println!(
            "{stage}: {} asked, {} missed, {:.0} s",
            open.len(),
            left.count(),
            began.elapsed().as_secs_f64()
        );
        let all: BTreeMap<String, &String> = found
            .iter()
            .filter_map(|m| Some((m.key.clone(), outcomes.get(&m.id)?)))
            .collect();
        fs::write(&log, serde_json::to_string_pretty(&all).expect("outcomes")).expect("a log");
    }
    let outcomes = outcomes.into_inner().expect("a lock");
    let mut tally: Vec<(&str, [usize; 2])> = vec![];
    let mut missed = vec![];
    println!();
    for m in &asked {
        let file = m
            .file
            .rsplit_once('/')
            .map_or(m.file.as_str(), |(folder, _)| folder);
        if tally.last().is_none_or(|(f, _)| *f != file) {
            tally.push((file, [0; 2]));
        }
        let good = outcomes.get(&m.id).is_some_and(|by| by != MISSED);
        tally.last_mut().expect("a row").1[usize::from(!good)] += 1;
        if !good {
            println!("missed {} {}", m.id, m.place());
            missed.push(m.place());
        }
    }
    println!("\n{:14} {:>8} {:>8}", "", "caught", "missed");
    for (file, [a, b]) in &tally {
        println!("{file:14} {a:8} {b:8}");
    }
    let caught = asked.len() - missed.len();
    #[allow(clippy::cast_precision_loss)]
    let share = 100.0 * caught as f64 / asked.len().max(1) as f64;
    println!(
        "caught {caught} of {}, {share:.2} %, in {:.0} s",
        asked.len(),
        began.elapsed().as_secs_f64()
    );
    let summary = json!({"caught": caught, "missed": missed});
    fs::write(out.join("summary.json"), summary.to_string()).expect("a summary");
    if share < GOAL {
        println!("less than {GOAL} %");
        std::process::exit(1);
    }
}
