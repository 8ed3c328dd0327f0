//! Who is asked whether they notice a change.

use crate::change::Mutant;
use crate::copy::cargo;
use serde_json::Value;
use std::collections::HashMap;
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};
use std::time::{Duration, Instant};

/// The programs whose tests are asked.
const PROGRAMS: &[&[&str]] = &[
    &["-p", "faultpath", "--lib"],
    &["-p", "faultpath-ffi", "--lib"],
    &[
        "-p",
        "faultpath-tests",
        "--test",
        "working",
        "--test",
        "boundaries",
        "--test",
        "readings",
        "--test",
        "earthing",
        "--test",
        "floor",
        "--test",
        "pictures",
        "--test",
        "door",
        "--test",
        "rings",
        "--test",
        "properties",
    ],
];

/// Set for every test: few cases, no seeds kept, nothing made smaller.
const SETTINGS: &[(&str, &str)] = &[
    ("PROPTEST_CASES", "48"),
    ("PROPTEST_MAX_SHRINK_ITERS", "0"),
    ("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "1"),
    ("PROPTEST_RNG_SEED", "20261125"),
];

/// Tests up to this long are asked together, program by program.
const TOGETHER: Duration = Duration::from_millis(30);

/// What takes longer than this is only asked of what nobody else noticed.
const QUICK: Duration = Duration::from_millis(300);

#[derive(Clone)]
struct Test {
    program: PathBuf,
    name: String,
    took: Duration,
    folder: PathBuf,
}

/// Runs tests of one program; false where one fails, aborts, or takes more processor time than it may.
fn run(tests: &[&Test], seconds: u64, set: &[(&str, &str)]) -> bool {
    let mut c = Command::new("sh");
    c.args([
        "-c",
        &format!("ulimit -v 8000000; ulimit -t {seconds}; exec \"$@\""),
        "sh",
    ])
    .arg(&tests[0].program)
    .args(["--exact", "--test-threads", "1", "-q"])
    .args(tests.iter().map(|t| &t.name))
    .current_dir(&tests[0].folder)
    .stdout(Stdio::null())
    .stderr(Stdio::null());
    for (k, v) in SETTINGS.iter().chain(set) {
        c.env(k, v);
    }
    c.status().expect("a test").success()
}

/// Does the same for each of a list, so many at once.
fn each<T: Sync>(jobs: usize, of: &[T], what: impl Fn(&T) + Sync) {
    let next = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for _ in 0..jobs {
            scope.spawn(|| {
                while let Some(t) = of.get(next.fetch_add(1, Relaxed)) {
                    what(t);
                }
            });
        }
    });
}

/// Builds and gives what is built, each with the folder of its package.
fn built(out: &Path, args: &[&str], test: bool) -> Vec<(PathBuf, PathBuf)> {
    let result = cargo(out, args).output().expect("cargo");
    assert!(
        result.status.success(),
        "does not build: {}",
        String::from_utf8_lossy(&result.stdout)
    );
    String::from_utf8_lossy(&result.stdout)
        .lines()
        .filter_map(|line| {
            let v: Value = serde_json::from_str(line).ok()?;
            let program = v["executable"]
                .as_str()
                .filter(|_| v["profile"]["test"] == test)?;
            let folder = Path::new(v["manifest_path"].as_str()?).parent()?;
            Some((PathBuf::from(program), folder.to_owned()))
        })
        .collect()
}

/// The tests, and by which of them each change is come by.
pub struct Tests {
    tests: Vec<Test>,
    by: HashMap<usize, Vec<usize>>,
}

impl Tests {
    /// Builds them and runs each once, to know.
    pub fn traced(out: &Path, jobs: usize) -> Self {
        let mut tests = vec![];
        for (program, folder) in PROGRAMS
            .iter()
            .flat_map(|of| built(out, &[&["test", "--no-run"], *of].concat(), true))
        {
            let list = Command::new(&program)
                .args(["--list", "--format", "terse"])
                .current_dir(&folder)
                .output()
                .expect("a list");
            for name in String::from_utf8_lossy(&list.stdout)
                .lines()
                .filter_map(|l| l.strip_suffix(": test"))
            {
                tests.push(Test {
                    program: program.clone(),
                    name: name.to_owned(),
                    took: Duration::ZERO,
                    folder: folder.clone(),
                });
            }
        }
        let done = Mutex::new(vec![]);
        each(jobs, &tests, |test| {
            let trace = out.join(format!("trace-{:?}", std::thread::current().id()));
            let _ = fs::remove_file(&trace);
            let path = trace.to_str().expect("a path");
            let good = run(&[test], 600, &[("MUTANT_TRACE", path)]);
            let seen: Vec<usize> = fs::read_to_string(&trace)
                .unwrap_or_default()
                .lines()
                .map(|id| id.parse().expect("a number"))
                .collect();
            let began = Instant::now();
            let good = good && run(&[test], 600, &[]);
            let took = began.elapsed();
            if !good {
                println!("fails without any change, and is not asked: {}", test.name);
            } else if !seen.is_empty() {
                let test = Test {
                    took,
                    ..test.clone()
                };
                done.lock().expect("a lock").push((test, seen));
            }
        });
        let mut done = done.into_inner().expect("a lock");
        done.sort_by_key(|(t, _)| t.took);
        let mut by = HashMap::<usize, Vec<usize>>::new();
        for (n, (_, seen)) in done.iter().enumerate() {
            for id in seen {
                by.entry(*id).or_default().push(n);
            }
        }
        let tests: Vec<Test> = done.into_iter().map(|(t, _)| t).collect();
        println!(
            "{} tests come by, {:.1} s one by one",
            tests.len(),
            tests.iter().map(|t| t.took.as_secs_f64()).sum::<f64>()
        );
        Self { tests, by }
    }

    /// Asks the quick ones, or the slow ones.
    pub fn ask(
        &self,
        slow: bool,
        open: &[&Mutant],
        jobs: usize,
        told: &(dyn Fn(usize, &str) + Sync),
    ) {
        // How often a test noticed a change of a function: it is asked the sooner of the next one.
        let noticed: Mutex<HashMap<(String, String), u32>> = Mutex::default();
        each(jobs, open, |m| {
            let mut groups: Vec<Vec<&Test>> = vec![];
            for t in self.by.get(&m.id).into_iter().flatten() {
                let t = &self.tests[*t];
                if (t.took > QUICK) != slow {
                    continue;
                }
                let small =
                    |g: &&mut Vec<&Test>| g[0].program == t.program && g[0].took <= TOGETHER;
                match groups.iter_mut().find(small) {
                    Some(g) if t.took <= TOGETHER => g.push(t),
                    _ => groups.push(vec![t]),
                }
            }
            let function = format!("{} {}", m.file, m.function);
            let took = |g: &Vec<&Test>| g.iter().map(|t| t.took).sum::<Duration>();
            {
                let noticed = noticed.lock().expect("a lock");
                groups.sort_by_cached_key(|g| {
                    let before = noticed.get(&(function.clone(), name(g)));
                    took(g) / (1 + 4 * before.copied().unwrap_or(0))
                });
            }
            let id = m.id.to_string();
            let by = groups
                .iter()
                .find(|g| !run(g, 5 + 5 * took(g).as_secs(), &[("MUTANT", &id)]));
            let Some(by) = by.map(|g| name(g)) else {
                told(m.id, MISSED);
                return;
            };
            told(m.id, &by);
            let mut noticed = noticed.lock().expect("a lock");
            *noticed.entry((function, by)).or_default() += 1;
        });
    }
}

/// What tests that are asked together are called.
fn name(of: &[&Test]) -> String {
    if of[0].took > TOGETHER {
        return of[0].name.clone();
    }
    let name = of[0].program.file_name().and_then(|n| n.to_str());
    let name = name.and_then(|n| n.rsplit_once('-'));
    name.map_or("tests", |(n, _)| n).to_owned()
}

/// What is said of a change that nobody noticed.
pub const MISSED: &str = "missed";

/// A program that reads numbers and says of each who noticed it: so many of them, each with its part.
fn told_by(
    program: &(dyn Fn() -> Command + Sync),
    open: &[&Mutant],
    jobs: usize,
    told: &(dyn Fn(usize, &str) + Sync),
) {
    let parts: Vec<usize> = (0..jobs).collect();
    each(jobs, &parts, |part| {
        let mut child = program()
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("a program");
        let ids: String = open
            .iter()
            .skip(*part)
            .step_by(jobs)
            .map(|m| format!("{}\n", m.id))
            .collect();
        let mut to = child.stdin.take().expect("a pipe");
        let from = BufReader::new(child.stdout.take().expect("a pipe"));
        std::thread::scope(|scope| {
            scope.spawn(move || to.write_all(ids.as_bytes()).expect("a reader"));
            for line in from.lines().map(|l| l.expect("a line")) {
                let (id, word) = line.split_once(' ').expect("a number and a word");
                told(id.parse().expect("a number"), word);
            }
        });
        assert!(child.wait().expect("an end").success(), "it broke");
    });
}

/// Every row of `vectors/`.
pub fn rows(out: &Path, open: &[&Mutant], jobs: usize, told: &(dyn Fn(usize, &str) + Sync)) {
    let programs = built(
        out,
        &["build", "-p", "faultpath-tests", "--bin", "rows"],
        false,
    );
    let (program, folder) = programs.last().expect("a program");
    let program = || {
        let mut c = Command::new(program);
        c.current_dir(folder);
        c
    };
    told_by(&program, open, jobs, told);
}

/// The second computation, in Python.
pub fn second(out: &Path, open: &[&Mutant], jobs: usize, told: &(dyn Fn(usize, &str) + Sync)) {
    let Ok(python) = std::env::var("PYTHON") else {
        println!("the second computation is not asked: PYTHON names no interpreter");
        return;
    };
    let programs = built(
        out,
        &["build", "-p", "faultpath-tests", "--bin", "ask"],
        false,
    );
    let (ask, _) = programs.last().expect("a program");
    let program = || {
        let mut c = Command::new(&python);
        c.arg("tests/oracle/noticed.py")
            .current_dir(out)
            .env("FAULTPATH_ASK", ask);
        c
    };
    told_by(&program, open, jobs, told);
}
