//! SAFETY.md names the test behind each claim: every one of them is there.

use std::path::Path;

fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}

/// What stands between backticks.
fn quoted(text: &str) -> impl Iterator<Item = &str> {
    text.split('`').skip(1).step_by(2)
}

/// What a claim names that is not there; none if it is.
fn missing(claim: &str) -> Option<String> {
    let (file, test) = match claim.split_once(": ") {
        Some((file, test)) => (file, Some(test)),
        None => (claim, None),
    };
    let Ok(text) = std::fs::read_to_string(root().join(file)) else {
        return Some(format!("{file}: no such file"));
    };
    let test = test?;
    let found = text.contains(&format!("fn {test}(")) || text.contains(&format!("{test} = "));
    (!found).then(|| format!("{file}: no test {test}"))
}

fn claims(text: &str) -> impl Iterator<Item = &str> {
    quoted(text).filter(|q| q.contains('/') && !q.starts_with("./"))
}

#[test]
fn every_test_that_is_named_is_there() {
    let text = std::fs::read_to_string(root().join("SAFETY.md")).unwrap();
    let all: Vec<&str> = claims(&text).collect();
    assert!(all.len() > 40, "{all:?}");
    let gone: Vec<String> = all.into_iter().filter_map(missing).collect();
    assert!(gone.is_empty(), "{gone:#?}");
}

#[test]
fn what_is_gone_is_noticed() {
    assert!(missing("tests/tests/safety.rs: what_was_never_written").is_some());
    assert!(missing("tests/tests/none.rs").is_some());
    assert!(missing("tests/tests/safety.rs: what_is_gone_is_noticed").is_none());
}

#[test]
fn every_check_has_its_hazard() {
    let text = std::fs::read_to_string(root().join("SAFETY.md")).unwrap();
    for topic in [
        "capacity",
        "Volt drop",
        "Disconnection",
        "Electrode",
        "conductor in a fault",
        "Breaking",
        "RCD",
        "Demand",
        "Bonding",
        "earthing conductor",
    ] {
        assert!(text.contains(topic), "{topic}");
    }
}
