//! Which changes of core do the tests notice?
//!
//! The changes are those of cargo-mutants (another operator, no sign, a function that returns at once, an arm
//! of a match that is gone). That builds anew for each; here all are written into one copy of the library, each
//! behind a switch, so that it is built once and a change costs the tests that come by it, quickest first, until
//! one fails. See `tests/MUTANTS.md`.

mod change;

use change::{Changer, Mutant, switch};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};
use std::time::{Duration, Instant};
use syn::visit_mut::VisitMut;

/// In order of danger. Words, errors and what only carries data are no checks.
const FILES: &[&str] = &[
    "check",
    "device",
    "reading",
    "conductor",
    "assess.rs",
    "cable",
    "facts.rs",
    "source.rs",
    "impedance.rs",
    "earthing",
    "network.rs",
    "supply.rs",
    "profile.rs",
    "quantity.rs",
    "solve.rs",
    "verdict.rs",
];

/// Set for every test: few cases, no seeds kept, nothing made smaller.
const SETTINGS: &[(&str, &str)] = &[
    ("PROPTEST_CASES", "48"),
    ("PROPTEST_MAX_SHRINK_ITERS", "0"),
    ("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "1"),
    ("PROPTEST_RNG_SEED", "20261125"),
];

struct Test {
    program: PathBuf,
    name: String,
    took: Duration,
    folder: PathBuf,
}

fn sources(core: &Path, of: &str, into: &mut Vec<PathBuf>) {
    let path = core.join(of);
    if path.is_dir() {
        let mut names: Vec<_> = fs::read_dir(&path)
            .expect("a folder")
            .map(|e| {
                e.expect("a file")
                    .file_name()
                    .into_string()
                    .expect("a name")
            })
            .collect();
        names.sort();
        for name in names {
            sources(core, &format!("{of}/{name}"), into);
        }
    } else if of.ends_with(".rs") && !of.ends_with("tests.rs") {
        into.push(PathBuf::from(of));
    }
}

/// A copy of what is under version control or new, without the page.
fn copy(root: &Path, out: &Path) {
    let listed = Command::new("git")
        .args(["ls-files", "--cached", "--others", "--exclude-standard"])
        .current_dir(root)
        .output()
        .expect("git");
    for name in String::from_utf8(listed.stdout).expect("names").lines() {
        if (name.starts_with("web/") && !name.ends_with(".json"))
            || name.starts_with("tests/mutants/")
        {
            continue;
        }
        let Ok(bytes) = fs::read(root.join(name)) else {
            continue;
        };
        // Benches are not run, and what they need takes longest to build.
        let bytes = if name == "tests/Cargo.toml" {
            let text = String::from_utf8(bytes).expect("a manifest");
            let text = text.split("[[bench]]").next().expect("a part");
            let lines = text.lines().filter(|l| !l.starts_with("criterion"));
            lines
                .map(|l| format!("{l}\n"))
                .collect::<String>()
                .into_bytes()
        } else {
            bytes
        };
        let to = out.join(name);
        // What is the same keeps its time, so that it is not built again.
        if fs::read(&to).is_ok_and(|b| b == bytes) {
            continue;
        }
        fs::create_dir_all(to.parent().expect("a folder")).expect("a folder");
        fs::write(&to, bytes).expect("a copy");
    }
}

fn write(
    root: &Path,
    out: &Path,
    left_out: &BTreeSet<usize>,
    constants: &BTreeSet<String>,
) -> Vec<Mutant> {
    let (from, to) = (root.join("core/src"), out.join("core/src"));
    let mut files = vec![];
    for of in FILES {
        sources(&from, of, &mut files);
    }
    let mut found = vec![];
    for file in &files {
        let text = fs::read_to_string(from.join(file)).expect("a source");
        let mut parsed = syn::parse_file(&text).expect("Rust");
        let name = file.to_str().expect("a name").to_owned();
        Changer::new(name, &mut found, left_out, constants).visit_file_mut(&mut parsed);
        put(&to.join(file), &prettyplease::unparse(&parsed));
    }
    let text = fs::read_to_string(from.join("lib.rs")).expect("lib.rs");
    let mut parsed = syn::parse_file(&text).expect("Rust");
    switch(&mut parsed);
    put(&to.join("lib.rs"), &prettyplease::unparse(&parsed));
    found
}

fn put(path: &Path, text: &str) {
    if fs::read_to_string(path).is_ok_and(|t| t == text) {
        return;
    }
    fs::write(path, text).expect("a source");
}

fn cargo(out: &Path, args: &[&str]) -> Command {
    let mut c = Command::new("cargo");
    c.args(args)
        .args(["--message-format", "json", "-q"])
        .current_dir(out)
        .env("CARGO_TARGET_DIR", out.join("target"))
        .env("CARGO_PROFILE_TEST_OPT_LEVEL", "1")
        .env("CARGO_PROFILE_DEV_OPT_LEVEL", "1")
        .env("CARGO_PROFILE_DEV_DEBUG", "0")
        .stderr(Stdio::null());
    c
}

/// The change an error of the compiler is in: the last switch before it.
fn culprit(out: &Path, span: &Value) -> Option<usize> {
    let text = fs::read_to_string(out.join(span["file_name"].as_str()?)).ok()?;
    let line = usize::try_from(span["line_start"].as_u64()?).ok()?;
    let lines: Vec<&str> = text.lines().take(line).collect();
    let near = lines
        .iter()
        .rev()
        .take(40)
        .find(|l| l.contains("mutant::on("))?;
    let (_, after) = near.rsplit_once("mutant::on(")?;
    after.split("usize").next()?.split(')').next()?.parse().ok()
}

/// Leaves out what does not compile, until the rest does.
fn compiled(root: &Path, out: &Path) -> (Vec<Mutant>, BTreeSet<usize>) {
    let mut left_out = BTreeSet::new();
    let mut constants = BTreeSet::new();
    loop {
        let found = write(root, out, &left_out, &constants);
        let failed = [
            &["-p", "faultpath", "--lib"][..],
            &["-p", "faultpath-wasm", "--features", "evidence,words"],
        ]
        .iter()
        .map(|of| {
            cargo(out, &[&["check"], *of].concat())
                .output()
                .expect("cargo")
        })
        .find(|r| !r.status.success());
        let Some(result) = failed else {
            return (found, left_out);
        };
        let before = left_out.len() + constants.len();
        for line in String::from_utf8_lossy(&result.stdout).lines() {
            let Ok(v) = serde_json::from_str::<Value>(line) else {
                continue;
            };
            let m = &v["message"];
            if m["level"] != "error" {
                continue;
            }
            if m["code"]["code"] == "E0015" {
                // Cannot call non-const function `name` in constants.
                let text = m["message"].as_str().unwrap_or("");
                let name = text.split('`').nth(1).unwrap_or("");
                let mut last: Vec<&str> = name.rsplit("::").take(2).collect();
                last.reverse();
                constants.insert(last.join("::"));
                continue;
            }
            let spans = m["spans"].as_array().cloned().unwrap_or_default();
            let at = spans
                .iter()
                .find(|s| s["is_primary"] == true)
                .and_then(|s| culprit(out, s));
            if let Some(id) = at {
                if std::env::var("SHOW").is_ok() {
                    eprintln!("{id} {}", m["rendered"].as_str().unwrap_or(""));
                }
                left_out.insert(id);
            } else {
                eprintln!("{}", m["rendered"].as_str().unwrap_or(""));
            }
        }
        assert!(
            left_out.len() + constants.len() > before,
            "does not compile, and no change is the reason"
        );
        eprintln!("{} of {} do not compile", left_out.len(), found.len());
    }
}

/// The tests in the order they are asked: what takes long is asked only of what was missed before.
const STAGES: &[&[&[&str]]] = &[
    &[
        &["-p", "faultpath", "--lib"],
        &[
            "-p",
            "faultpath-tests",
            "--test",
            "vectors",
            "--test",
            "boundaries",
            "--test",
            "readings",
            "--test",
            "earthing",
            "--test",
            "safety",
        ],
    ],
    &[&[
        "-p",
        "faultpath-tests",
        "--test",
        "door",
        "--test",
        "rings",
        "--test",
        "properties",
    ]],
];

/// One change in so many is asked first, picked by number alone: a fair sample where the time is not enough for all.
const SAMPLE: usize = 12;

/// Builds tests and gives their programs, each with the folder it runs in.
fn programs(out: &Path, of: &[&str]) -> Vec<(PathBuf, PathBuf)> {
    let result = cargo(out, &[&["test", "--no-run"], of].concat())
        .output()
        .expect("cargo");
    assert!(
        result.status.success(),
        "the tests do not build: {}",
        String::from_utf8_lossy(&result.stdout)
    );
    String::from_utf8_lossy(&result.stdout)
        .lines()
        .filter_map(|line| {
            let v: Value = serde_json::from_str(line).ok()?;
            let program = v["executable"]
                .as_str()
                .filter(|_| v["profile"]["test"] == true)?;
            let folder = Path::new(v["manifest_path"].as_str()?).parent()?;
            Some((PathBuf::from(program), folder.to_owned()))
        })
        .collect()
}

/// The tests of programs, and by which of them each change is come by.
fn traced(out: &Path, of: &[&[&str]]) -> (Vec<Test>, HashMap<usize, Vec<usize>>) {
    let (mut tests, mut by) = (vec![], HashMap::<usize, Vec<usize>>::new());
    let trace = out.join("trace");
    for (program, folder) in of.iter().flat_map(|of| programs(out, of)) {
        let list = Command::new(&program)
            .args(["--list", "--format", "terse"])
            .current_dir(&folder)
            .output()
            .expect("a list");
        for name in String::from_utf8_lossy(&list.stdout)
            .lines()
            .filter_map(|l| l.strip_suffix(": test"))
        {
            let (program, folder) = (program.clone(), folder.clone());
            let mut test = Test {
                program,
                name: name.to_owned(),
                took: Duration::ZERO,
                folder,
            };
            let _ = fs::remove_file(&trace);
            let began = Instant::now();
            let good = run(
                &test,
                600,
                &[("MUTANT_TRACE", trace.to_str().expect("a path"))],
            );
            test.took = began.elapsed();
            if !good {
                println!("fails without any change, and is not asked: {name}");
                continue;
            }
            for id in fs::read_to_string(&trace).unwrap_or_default().lines() {
                by.entry(id.parse().expect("a number"))
                    .or_default()
                    .push(tests.len());
            }
            tests.push(test);
        }
    }
    println!(
        "{} tests, {:.0} s one by one",
        tests.len(),
        tests.iter().map(|t| t.took.as_secs_f64()).sum::<f64>()
    );
    (tests, by)
}

/// Runs a test; `None` where it took more processor time than it may.
fn run(test: &Test, seconds: u64, set: &[(&str, &str)]) -> bool {
    let mut c = Command::new("sh");
    c.args(["-c", &format!("ulimit -t {seconds}; exec \"$@\""), "sh"])
        .arg(&test.program)
        .args(["--exact", &test.name, "--test-threads", "1", "-q"])
        .current_dir(&test.folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    for (k, v) in SETTINGS.iter().chain(set) {
        c.env(k, v);
    }
    c.status().expect("a test").success()
}

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
    copy(&root, &out);
    let (found, left_out) = compiled(&root, &out);
    let constant = found.iter().filter(|m| m.constant).count();
    println!(
        "{} changes, {} of them do not compile, {constant} are in functions that have to stay const",
        found.len(),
        left_out.len()
    );

    // What is known of an earlier run of the same change is taken over unless it was missed.
    let log = out.join("outcomes.json");
    let earlier: BTreeMap<String, String> = fs::read_to_string(&log)
        .ok()
        .and_then(|t| serde_json::from_str(&t).ok())
        .unwrap_or_default();
    // As many at once, and for so many minutes.
    let number = |name: &str| std::env::var(name).ok().and_then(|v| v.parse::<u64>().ok());
    let jobs = number("MUTANTS_JOBS").unwrap_or(1);
    let until = number("MUTANTS_MINUTES").map(|m| Duration::from_secs(60 * m));
    let sampled = |m: &Mutant| (m.id.wrapping_mul(2_654_435_761) % (1 << 32) >> 16) % SAMPLE == 0;
    let key = |m: &Mutant| format!("{}:{}:{} {}", m.file, m.line, m.column, m.what);
    let asked: Vec<&Mutant> = found
        .iter()
        .filter(|m| only.is_empty() || only.iter().any(|o| m.file.starts_with(o.as_str())))
        .collect();
    let mut outcomes: BTreeMap<String, String> = earlier;
    outcomes.retain(|k, _| found.iter().any(|m| key(m) == *k));
    let mut reached = BTreeSet::new();
    let began = Instant::now();
    let keep = |outcomes: &BTreeMap<String, String>| {
        fs::write(
            &log,
            serde_json::to_string_pretty(outcomes).expect("outcomes"),
        )
        .expect("a log");
    };
    for stage in STAGES {
        let open: Vec<&Mutant> = asked
            .iter()
            .copied()
            .filter(|m| {
                !m.constant
                    && !left_out.contains(&m.id)
                    && outcomes.get(&key(m)).is_none_or(|by| by == "missed")
            })
            .collect();
        if open.is_empty() {
            break;
        }
        let (tests, by) = traced(&out, stage);
        let (first, rest): (Vec<&Mutant>, Vec<&Mutant>) =
            open.into_iter().partition(|m| sampled(m));
        let open = [first, rest].concat();
        let kills: Mutex<HashMap<(String, usize), usize>> = Mutex::default();
        let (next, shared) = (
            AtomicUsize::new(0),
            Mutex::new((&mut outcomes, &mut reached)),
        );
        let ask = || {
            while let Some(m) = open.get(next.fetch_add(1, Relaxed)) {
                if until.is_some_and(|u| began.elapsed() > u) {
                    break;
                }
                let mut tests_of = by.get(&m.id).cloned().unwrap_or_default();
                let function = format!("{} {}", m.file, m.function);
                // Quickest first; what noticed a change of the same function counts as quicker.
                {
                    let kills = kills.lock().expect("a lock");
                    tests_of.sort_by_key(|t| {
                        let noticed = kills.get(&(function.clone(), *t)).copied().unwrap_or(0);
                        tests[*t].took / u32::try_from(1 + 4 * noticed).expect("a count")
                    });
                }
                let id = m.id.to_string();
                let by = tests_of.iter().copied().find(|t| {
                    let limit = 10 + 10 * tests[*t].took.as_secs();
                    !run(&tests[*t], limit, &[("MUTANT", &id)])
                });
                let mut shared = shared.lock().expect("a lock");
                if !tests_of.is_empty() {
                    shared.1.insert(m.id);
                }
                match by {
                    Some(t) => {
                        *kills
                            .lock()
                            .expect("a lock")
                            .entry((function, t))
                            .or_default() += 1;
                        shared.0.insert(key(m), tests[t].name.clone());
                    }
                    None => {
                        shared.0.insert(key(m), "missed".to_owned());
                        println!("missed so far {:4} {} in {}", m.id, key(m), m.function);
                    }
                }
                keep(shared.0);
            }
        };
        std::thread::scope(|scope| {
            for _ in 0..jobs {
                scope.spawn(ask);
            }
        });
    }
    let mut tally: Vec<(String, [usize; 4])> = vec![];
    let mut missed = vec![];
    println!();
    let mut sample = [0; 2];
    for m in asked {
        if tally.last().is_none_or(|(f, _)| *f != m.file) {
            tally.push((m.file.clone(), [0; 4]));
        }
        let row = &mut tally.last_mut().expect("a row").1;
        if m.constant || left_out.contains(&m.id) {
            row[2] += 1;
            continue;
        }
        let good = match outcomes.get(&key(m)).map(String::as_str) {
            None => {
                row[3] += 1;
                continue;
            }
            Some(by) => by != "missed",
        };
        row[usize::from(!good)] += 1;
        if sampled(m) {
            sample[usize::from(!good)] += 1;
        }
        if !good {
            let never = if reached.contains(&m.id) {
                ""
            } else {
                " (no test comes by)"
            };
            println!("missed {} in {}{never}", key(m), m.function);
            missed.push(key(m));
        }
    }
    println!(
        "\n{:28} {:>8} {:>8} {:>10} {:>10}",
        "file", "caught", "missed", "no switch", "not asked"
    );
    let mut all = [0; 4];
    for (file, [a, b, c, d]) in &tally {
        println!("{file:28} {a:8} {b:8} {c:10} {d:10}");
        all = [all[0] + a, all[1] + b, all[2] + c, all[3] + d];
    }
    println!(
        "{:28} {:8} {:8} {:10} {:10}",
        "all", all[0], all[1], all[2], all[3]
    );
    println!(
        "of the sample of one in {SAMPLE}: {} caught, {} missed",
        sample[0], sample[1]
    );
    #[allow(clippy::cast_precision_loss)]
    let share = 100.0 * all[0] as f64 / (all[0] + all[1]).max(1) as f64;
    println!(
        "caught {share:.1} % of {} in {:.0} s",
        all[0] + all[1],
        began.elapsed().as_secs_f64()
    );
    let summary =
        json!({"caught": all[0], "missed": missed, "no_switch": all[2], "not_asked": all[3]});
    fs::write(out.join("summary.json"), summary.to_string()).expect("a summary");
}
