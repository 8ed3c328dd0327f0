//! What a combination of core's features compiles hangs on `words` and `lesson` alone, so that four builds stand for
//! all combinations: the other features are constants in expressions (`cfg!`), whose both sides are compiled always.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// The features that may leave out an item.
const GATES: [&str; 2] = ["lesson", "words"];

/// Features named in attributes, and those named in expressions.
fn named(source: &str) -> (BTreeSet<&str>, BTreeSet<&str>) {
    let (mut attributes, mut expressions) = (BTreeSet::new(), BTreeSet::new());
    for (at, word) in source.match_indices("feature = \"") {
        let name = &source[at + word.len()..];
        let name = &name[..name.find('"').unwrap()];
        let before = &source[..at];
        let opened = before.rfind("cfg").unwrap();
        if before[opened..].starts_with("cfg!(") {
            expressions.insert(name);
        } else {
            attributes.insert(name);
        }
    }
    (attributes, expressions)
}

fn sources(folder: &Path, found: &mut Vec<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(fs::read_to_string(path).unwrap());
        }
    }
}

#[test]
fn attributes_are_told_from_expressions() {
    let source = r#"
        #[cfg(all(test, feature = "one"))]
        fn f() -> bool {
            cfg!(any(feature = "two", feature = "three"))
        }
        #![cfg_attr(
            feature = "four",
            allow(dead_code)
        )]
    "#;
    let (attributes, expressions) = named(source);
    assert_eq!(attributes, BTreeSet::from(["one", "four"]));
    assert_eq!(expressions, BTreeSet::from(["two", "three"]));
}

#[test]
fn only_words_and_lesson_leave_out_what_is_compiled() {
    let core = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core");
    let mut files = Vec::new();
    sources(&core.join("src"), &mut files);
    let (mut attributes, mut expressions) = (BTreeSet::new(), BTreeSet::new());
    for (a, e) in files.iter().map(|f| named(f)) {
        attributes.extend(a);
        expressions.extend(e);
    }
    assert_eq!(attributes, BTreeSet::from(GATES));
    // Every table of the manifest is asked for somewhere, and nothing that is not there.
    let manifest = fs::read_to_string(core.join("Cargo.toml")).unwrap();
    let list = manifest.split_once("tables = [").unwrap().1;
    let list = list.split_once(']').unwrap().0;
    let tables = list.split('"').skip(1).step_by(2).collect();
    assert_eq!(expressions, tables);
    // Nothing else of the crate hangs on a feature: no build script, no optional dependency.
    assert!(!core.join("build.rs").exists() && !manifest.contains("optional"));
}
