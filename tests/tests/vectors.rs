//! Every row of `vectors/`, through the native build.

use faultpath_tests::report;
use faultpath_tests::vectors::{
    Agreement, Expect, File, Row, answer, folder, line, load, parse, topics,
};
use std::io::Write;

fn file(topic: &str) -> File {
    load(topic).unwrap_or_else(|e| panic!("{e}"))
}

fn agrees(topic: &str) {
    let file = file(topic);
    let failing: Vec<String> = file
        .rows
        .iter()
        .filter_map(|row| match answer(row) {
            Agreement::Yes(_) => None,
            Agreement::No(got) => Some(format!("{}\n    got {got}", line(row))),
        })
        .collect();
    assert!(
        failing.is_empty(),
        "{} of {} rows of {topic}.json do not agree:\n{}",
        failing.len(),
        file.rows.len(),
        failing.join("\n")
    );
}

macro_rules! files {
    ($($name:ident $topic:literal)*) => {
        const TESTED: &[&str] = &[$($topic),*];
        $(#[test] fn $name() { agrees($topic); })*
    };
}

files! {
    armour "armour"
    boundaries "boundaries"
    capacity "capacity"
    conductors "conductors"
    devices "devices"
    drop_tables "drop-tables"
    earthing "earthing"
    examples "examples"
    factors "factors"
    k "k"
    readings "readings"
    times "times"
    worked "worked"
}

#[test]
fn every_file_has_its_test() {
    assert_eq!(topics(), TESTED);
}

/// A row whose expectation is moved beyond its tolerance fails, either way; a word that is another one too.
#[test]
fn a_wrong_expectation_fails() {
    let mut moved = 0;
    for topic in topics() {
        for row in file(&topic).rows {
            assert!(answer(&row).is_yes(), "{}", line(&row));
            for sign in [1.0, -1.0] {
                let mut wrong: Row = row.clone();
                wrong.expect = match &row.expect {
                    Expect::Number(v) => {
                        let tolerance = row.tolerance.around(*v);
                        // From anywhere within the tolerance to beyond its other side.
                        Expect::Number(v + sign * (2.01 * tolerance + 1e-6 * v.abs() + 1e-9))
                    }
                    Expect::Word(word) => {
                        Expect::Word(if word == "pass" { "fail" } else { "pass" }.to_owned())
                    }
                };
                if wrong.tolerance.rel.is_some() {
                    // A share of what is expected would move with it.
                    let Expect::Number(v) = row.expect else {
                        panic!("a word with a share: {}", line(&row))
                    };
                    wrong.tolerance.abs = Some(row.tolerance.around(v));
                    wrong.tolerance.rel = None;
                }
                assert!(!answer(&wrong).is_yes(), "passes: {}", line(&wrong));
                moved += 1;
            }
        }
    }
    assert!(moved > 5000, "{moved}");
}

/// A figure is not a word, and the other way round.
#[test]
fn the_wrong_kind_of_answer_fails() {
    let row = file("k").rows.swap_remove(0);
    let mut wrong = row.clone();
    wrong.expect = Expect::Word("not-known".to_owned());
    assert!(!answer(&wrong).is_yes());
    wrong = row.clone();
    wrong.ask = "no-such-question".to_owned();
    assert!(!answer(&wrong).is_yes());
    let refused = file("devices")
        .rows
        .into_iter()
        .find(|r| r.expect == Expect::Word("not-known".to_owned()))
        .expect("a row of what is not known");
    wrong = refused;
    wrong.expect = Expect::Number(1.0);
    wrong.tolerance.abs = Some(f64::MAX);
    assert!(!answer(&wrong).is_yes());
}

const GOOD: &str = r#"{"ask":"k","inputs":{"material":"copper","initial":70,"final":160},"expect":115,"unit":"","tolerance":{"abs":0.5,"why":"print"},"source":"a 1","standing":"from memory","support":"b"}"#;
const UNITS: &str = r#"{"initial":"°C","final":"°C"}"#;
const DOCUMENTS: &str = r#"{"a":"1st edition"}"#;

fn of_file(topic: &str, units: &str, documents: &str, rows: &str) -> String {
    let text =
        format!(r#"{{"topic":"{topic}","units":{units},"documents":{documents},"rows":[{rows}]}}"#);
    parse("t", &text).err().unwrap_or_default()
}

fn refusal(rows: &str) -> String {
    of_file("t", UNITS, DOCUMENTS, rows)
}

/// What lacks anything is refused; the good row itself is not.
#[test]
fn rows_that_lack_something_are_refused() {
    assert_eq!(refusal(GOOD), "");
    assert!(refusal("").contains("no rows"));
    assert!(refusal(&format!("{GOOD},{GOOD}")).contains("twice"));
    let fields: serde_json::Value = serde_json::from_str(GOOD).unwrap();
    for key in fields.as_object().unwrap().keys() {
        let mut less = fields.clone();
        less.as_object_mut().unwrap().remove(key);
        assert!(refusal(&less.to_string()).contains(key), "without {key}");
    }
    for (from, to) in [
        (r#""from memory""#, r#""sure""#),
        (r#""from memory""#, r#""""#),
        (r#""final":160"#, r#""ending":160"#),
        (r#""source":"a 1""#, r#""source":"b 1""#),
        (r#""abs":0.5,"#, ""),
        (r#""abs":0.5,"#, r#""abs":0.5,"rel":0.1,"#),
        (r#""abs":0.5,"#, r#""abs":-0.5,"#),
        (r#""abs":0.5,"#, r#""abs":1e999,"#),
        (r#""why":"print""#, r#""why":" ""#),
        (r#""source":"a 1""#, r#""source":" ""#),
        (r#""support":"b""#, r#""support":"""#),
        (
            r#""expect":115,"unit":"","tolerance":{"abs":0.5"#,
            r#""expect":"no such question","unit":"","tolerance":{"abs":0"#,
        ),
        (r#""expect":115"#, r#""expect":"pass""#),
        (r#""expect":115"#, r#""expect":null"#),
        (r#""unit""#, r#""note":1,"unit""#),
    ] {
        let bad = GOOD.replace(from, to);
        assert_ne!(bad, GOOD);
        assert_ne!(refusal(&bad), "", "{bad}");
    }
    assert_ne!(of_file("other", UNITS, DOCUMENTS, GOOD), "");
    for units in [
        r#"{"initial":"°C"}"#,
        r#"{"initial":"°C","final":"°C","more":"m"}"#,
        "{}",
    ] {
        assert_ne!(of_file("t", units, DOCUMENTS, GOOD), "", "{units}");
    }
    for documents in ["{}", r#"{"a":""}"#, r#"{"a":"1st edition","c":"2nd"}"#] {
        assert_ne!(of_file("t", UNITS, documents, GOOD), "", "{documents}");
    }
    // Its own unit for one question.
    let own = r#"{"initial":"°C","k.final":"°C"}"#;
    assert_eq!(of_file("t", own, DOCUMENTS, GOOD), "");
}

/// A job is looked for under `vectors/` only.
#[test]
fn jobs_come_from_the_vectors() {
    let mut row = file("examples").rows.swap_remove(0);
    for name in ["../Cargo.toml", "/etc/hostname", "examples/none.json"] {
        row.inputs = serde_json::from_str(&format!(r#"{{"job":"{name}","want":"outcome"}}"#))
            .expect("inputs");
        assert!(!answer(&row).is_yes(), "{name}");
    }
}

/// Prints the table, leaves it in `tests/out` as text and as JSON, and holds the README's figures against it.
#[test]
fn the_evidence() {
    let files: Vec<File> = topics().iter().map(|t| file(t)).collect();
    let report = report::of(&files);
    let out = folder().join("../tests/out");
    std::fs::create_dir_all(&out).expect("a folder for the report");
    let text = serde_json::to_string_pretty(&report).expect("a report");
    std::fs::write(out.join("evidence.json"), text + "\n").expect("a place for the report");
    std::fs::write(out.join("evidence.txt"), report.table()).expect("a place for the report");
    // Straight to the standard output, so that it is seen when all is well.
    let _ = write!(std::io::stdout().lock(), "\n{}", report.table());
    assert!(report.rows > 3000, "{}", report.rows);
    assert_eq!(report.rows, report.agree);
    assert_eq!(
        report.rows,
        report.groups.iter().map(|g| g.rows).sum::<usize>()
    );
    let readme = std::fs::read_to_string(folder().join("../README.md")).expect("the README");
    let sentence = report.sentence();
    assert!(
        readme.contains(&sentence),
        "README.md does not say what the report does:\n{sentence}"
    );
}
