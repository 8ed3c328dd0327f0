//! The copy of the tree in which every change is, behind its switch.

use crate::change::{Changer, Mutant, switch};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
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
pub fn copy(root: &Path, out: &Path) {
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
        put(&out.join(name), &bytes);
    }
    // The program that puts the rows is built among the tests.
    let rows = fs::read(root.join("tests/mutants/rows.rs")).expect("rows.rs");
    put(&out.join("tests/src/bin/rows.rs"), &rows);
}

/// Writes a file; what is the same keeps its time, so that it is not built again.
fn put(to: &Path, bytes: &[u8]) {
    if fs::read(to).is_ok_and(|b| b == bytes) {
        return;
    }
    fs::create_dir_all(to.parent().expect("a folder")).expect("a folder");
    fs::write(to, bytes).expect("a copy");
}

/// The sources with the changes in them.
fn changed(
    root: &Path,
    left_out: &BTreeSet<usize>,
    constants: &BTreeSet<String>,
) -> (Vec<Mutant>, Vec<(PathBuf, String)>) {
    let from = root.join("core/src");
    let mut files = vec![];
    for of in FILES {
        sources(&from, of, &mut files);
    }
    let (mut found, mut texts) = (vec![], vec![]);
    let parsed = |file: &Path| {
        let text = fs::read_to_string(from.join(file)).expect("a source");
        syn::parse_file(&text).expect("Rust")
    };
    for file in files {
        let mut parsed = parsed(&file);
        let name = file.to_str().expect("a name").to_owned();
        Changer::new(name, &mut found, left_out, constants).visit_file_mut(&mut parsed);
        texts.push((file, prettyplease::unparse(&parsed)));
    }
    let mut library = parsed(Path::new("lib.rs"));
    switch(&mut library);
    texts.push((PathBuf::from("lib.rs"), prettyplease::unparse(&library)));
    (found, texts)
}

pub fn cargo(out: &Path, args: &[&str]) -> Command {
    let mut c = Command::new("cargo");
    c.args(args)
        .args(["--message-format", "json", "-q"])
        .current_dir(out)
        .env("CARGO_TARGET_DIR", out.join("target"))
        .env("CARGO_PROFILE_TEST_OPT_LEVEL", "2")
        .env("CARGO_PROFILE_DEV_OPT_LEVEL", "2")
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
pub fn compiled(root: &Path, out: &Path) -> (Vec<Mutant>, BTreeSet<usize>) {
    // What an earlier run found out, to begin with.
    let log = out.join("left-out.json");
    let (known, mut constants): (BTreeSet<String>, BTreeSet<String>) = fs::read_to_string(&log)
        .ok()
        .and_then(|t| serde_json::from_str(&t).ok())
        .unwrap_or_default();
    let mut left_out: BTreeSet<usize> = changed(root, &BTreeSet::new(), &constants)
        .0
        .iter()
        .filter(|m| known.contains(&m.key))
        .map(|m| m.id)
        .collect();
    loop {
        let (found, texts) = changed(root, &left_out, &constants);
        for (file, text) in texts {
            put(&out.join("core/src").join(file), text.as_bytes());
        }
        let failed = [
            &["-p", "faultpath", "--lib"][..],
            &["-p", "faultpath-wasm", "--features", "words"],
        ]
        .iter()
        .map(|of| {
            cargo(out, &[&["check"], *of].concat())
                .output()
                .expect("cargo")
        })
        .find(|r| !r.status.success());
        let Some(result) = failed else {
            let left: BTreeSet<&String> = found
                .iter()
                .filter(|m| left_out.contains(&m.id))
                .map(|m| &m.key)
                .collect();
            let text = serde_json::to_string(&(left, constants)).expect("names");
            fs::write(log, text).expect("a log");
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
                let name = name.split("::<").next().unwrap_or("");
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
