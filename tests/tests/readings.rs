//! Test readings through the page's door: every kind of reading, outcome and stop; what is absent, wrong or odd.

use faultpath::reading::sequence::Step;
use faultpath::reading::{Lacking, Meaning};
use faultpath_wasm::answer::answer;
use faultpath_wasm::out::Out;
use faultpath_wasm::read::{read, tested::tests};
use faultpath_wasm::readings::readings;
use faultpath_wasm::value::Value;
use proptest::prelude::*;
use proptest::sample::select;
use serde_json::json;
use std::path::Path;
use std::sync::OnceLock;

fn load(path: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path);
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// The page's example: its supply, boards, kitchen, hall and hill are tested through.
fn house() -> Value {
    static ONCE: OnceLock<Value> = OnceLock::new();
    ONCE.get_or_init(|| load("web/src/example-job.json"))
        .clone()
}

fn value(v: serde_json::Value) -> Value {
    serde_json::from_value(v).unwrap()
}

/// The place in a job that a path leads to; fields on the way are made.
fn at<'v>(job: &'v mut Value, path: &str) -> &'v mut Value {
    let mut here = job;
    for part in path.split(['.', '[']) {
        here = match (here, part.strip_suffix(']')) {
            (Value::List(items), Some(n)) => &mut items[n.parse::<usize>().unwrap()],
            (Value::Map(map), None) => {
                let n = map.iter().position(|(k, _)| k == part).unwrap_or_else(|| {
                    map.push((part.to_owned(), Value::Null));
                    map.len() - 1
                });
                &mut map[n].1
            }
            (other, _) => panic!("{path}: {other:?} has no {part}"),
        };
    }
    here
}

fn with(mut job: Value, path: &str, v: Value) -> Value {
    *at(&mut job, path) = v;
    job
}

fn judged(job: &Value) -> Out {
    readings(&read(job), &tests(job))
}

fn places(answer: &Out) -> &[Out] {
    answer.get("judgements").items()[0].get("places").items()
}

fn place<'a>(answer: &'a Out, id: &str) -> &'a Out {
    let here = |p: &&Out| {
        let place = p.get("place");
        place.get("id").text().or(place.get("kind").text()) == Some(id)
    };
    places(answer).iter().find(here).unwrap()
}

fn reading<'a>(answer: &'a Out, path: &str) -> &'a Out {
    let mut all = places(answer).iter().flat_map(|p| p.get("tests").items());
    all.find(|t| t.get("path").text() == Some(path))
        .unwrap_or_else(|| panic!("no {path}"))
}

fn may(answer: &Out, id: &str) -> bool {
    *place(answer, id).get("may") == Out::Count(1)
}

/// What stops a place: whose it is, the word, and the step.
fn stops(answer: &Out, id: &str) -> Vec<(String, String, Option<u32>)> {
    let of = |s: &Out| {
        let place = s.get("place");
        let whose = place.get("id").text().or(place.get("kind").text());
        let step = match s.get("step") {
            Out::Count(n) => Some(*n),
            _ => None,
        };
        (
            whose.unwrap().to_owned(),
            s.get("stop").text().unwrap().to_owned(),
            step,
        )
    };
    let stops = place(answer, id).get("stops").items();
    stops.iter().map(of).collect()
}

fn errors(answer: &Out) -> Vec<(String, String)> {
    let of = |e: &Out| {
        let text = |key| e.get(key).text().unwrap().to_owned();
        (text("path"), text("reason"))
    };
    answer.get("errors").items().iter().map(of).collect()
}

const HALL: &str = "circuits[1].tests";
const HILL: &str = "circuits[2].tests";
const KITCHEN: &str = "circuits[0].tests";

/// Every kind of reading with every outcome it has. What is put where; the reading's own path; outcome; meaning.
#[test]
fn every_kind_of_reading_and_outcome() {
    use Meaning as M;
    let shown = |v: f64| json!({ "shown": v });
    let above = |v: f64| json!({ "above": v });
    let insulation = |volts: u16, gear: bool, fixed: bool, circuits: u8, r: serde_json::Value| json!([{ "test_voltage": volts, "gear": gear, "fixed_gear": fixed, "circuits": circuits, "reading": r }]);
    let time = |multiple: f64, r: serde_json::Value| json!([{ "multiple": multiple, "wave": "sine", "reading": r }]);
    let fault =
        |n: serde_json::Value, e: serde_json::Value| json!({ "line_neutral": n, "line_earth": e });
    let bond = |r: serde_json::Value| json!([{ "name": "Pipe", "length": 6, "material": "copper", "csa": 10, "reading": r }]);
    let table: Vec<(String, serde_json::Value, String, &str, M)> = [
        (HALL, "r1r2", shown(1.51), "r1r2", "pass", M::Clear),
        (HALL, "r1r2", shown(2.5), "r1r2", "doubtful", M::AboveDesign),
        (HALL, "r1r2", shown(0.9), "r1r2", "doubtful", M::BelowDesign),
        (HALL, "r1r2", shown(0.0), "r1r2", "doubtful", M::BelowDesign),
        (HALL, "r1r2", above(20.0), "r1r2", "fail", M::Open),
        (HALL, "r1r2", shown(-0.5), "r1r2", "cannot-say", M::NotBelievable),
        (HALL, "r2", shown(0.74), "r2", "pass", M::Clear),
        (HALL, "r2", above(20.0), "r2", "fail", M::Open),
        (HILL, "r1r2", shown(1.9), "r1r2", "fail", M::Beyond),
        (HILL, "armour", shown(0.18), "armour", "pass", M::Clear),
        (HILL, "armour", shown(0.5), "armour", "fail", M::Beyond),
        (HILL, "armour", above(20.0), "armour", "fail", M::Open),
        (HILL, "zs", shown(0.41), "zs", "pass", M::Clear),
        (HILL, "zs", shown(1.1), "zs", "doubtful", M::AboveDesign),
        (HILL, "zs", shown(1.3), "zs", "fail", M::Beyond),
        (HILL, "zs", above(20.0), "zs", "fail", M::Beyond),
        (HILL, "zs", shown(0.0), "zs", "pass", M::Clear),
        // Behind an RCD, the device's limit all the same.
        (HALL, "zs", shown(1.82), "zs", "pass", M::Clear),
        (HALL, "zs", shown(5.9), "zs", "doubtful", M::AboveDesign),
        (HALL, "zs", shown(9.0), "zs", "fail", M::OnlyRcd),
        (HALL, "zs", shown(9000.0), "zs", "fail", M::Beyond),
        (HALL, "zs", above(20.0), "zs", "fail", M::Beyond),
        (HALL, "r1r2", shown(9.0), "r1r2", "fail", M::Beyond),
        (HALL, "insulation", insulation(500, false, false, 1, above(299.0)), "insulation[0]", "pass", M::Clear),
        (HALL, "insulation", insulation(500, false, false, 1, shown(1.02)), "insulation[0]", "doubtful", M::InsideBand),
        (HALL, "insulation", insulation(500, false, false, 1, shown(0.5)), "insulation[0]", "fail", M::Beyond),
        (HALL, "insulation", insulation(500, false, false, 1, shown(0.0)), "insulation[0]", "fail", M::Short),
        (HALL, "insulation", insulation(250, false, false, 1, shown(90.0)), "insulation[0]", "cannot-say", M::TestVoltageTooLow),
        (HALL, "insulation", insulation(250, true, true, 1, shown(90.0)), "insulation[0]", "pass", M::Clear),
        (HALL, "insulation", insulation(500, true, false, 1, shown(0.5)), "insulation[0]", "cannot-say", M::GearConnected),
        (HALL, "insulation", insulation(500, false, false, 6, shown(0.5)), "insulation[0]", "cannot-say", M::TestEachAlone),
        (HALL, "insulation", insulation(500, false, false, 1, json!(null)), "insulation[0]", "cannot-say", M::NotKnown),
        (HALL, "polarity", json!("right"), "polarity", "pass", M::Clear),
        (HALL, "polarity", json!("line-neutral"), "polarity", "fail", M::Crossed),
        (HALL, "polarity", json!("line-protective"), "polarity", "fail", M::Crossed),
        (HALL, "polarity", json!("neutral-protective"), "polarity", "fail", M::Crossed),
        (HALL, "polarity", json!("switch-in-neutral"), "polarity", "fail", M::Crossed),
        (HALL, "polarity", json!("lampholder"), "polarity", "fail", M::Crossed),
        (HALL, "rcd", time(1.0, shown(0.027)), "rcd[0]", "pass", M::Clear),
        (HALL, "rcd", time(1.0, shown(0.3)), "rcd[0]", "doubtful", M::InsideBand),
        (HALL, "rcd", time(1.0, shown(0.35)), "rcd[0]", "fail", M::TooLate),
        (HALL, "rcd", time(1.0, above(2.0)), "rcd[0]", "fail", M::NoTrip),
        (HALL, "rcd", time(1.0, above(0.1)), "rcd[0]", "cannot-say", M::TestTooShort),
        (HALL, "rcd", time(5.0, shown(0.06)), "rcd[0]", "fail", M::TooLate),
        (HALL, "rcd", time(2.0, shown(0.06)), "rcd[0]", "pass", M::Clear),
        (HALL, "rcd", time(0.5, above(1.999)), "rcd[0]", "pass", M::Clear),
        (HALL, "rcd", time(0.5, shown(0.02)), "rcd[0]", "fail", M::TrippedAtHalf),
        (HALL, "rcd", time(0.5, above(0.1)), "rcd[0]", "cannot-say", M::TestTooShort),
        (HALL, "rcd", json!([{ "multiple": 1, "wave": "smooth", "reading": shown(0.02) }]), "rcd[0]", "cannot-say", M::NotKnown),
        (HALL, "ramp", json!({ "wave": "sine", "reading": shown(0.022) }), "ramp", "pass", M::Clear),
        (HALL, "ramp", json!({ "wave": "sine", "reading": shown(0.05) }), "ramp", "fail", M::Beyond),
        (HALL, "ramp", json!({ "wave": "sine", "reading": shown(0.01) }), "ramp", "fail", M::TooSensitive),
        (HALL, "ramp", json!({ "wave": "half", "reading": shown(0.035) }), "ramp", "pass", M::Clear),
        (HALL, "ramp", json!({ "wave": "sine", "reading": above(0.06) }), "ramp", "fail", M::NoTrip),
        (HALL, "volt_drop", json!({ "kind": "impedances", "point": shown(1.7), "origin": shown(0.29) }), "volt_drop", "pass", M::Clear),
        (HALL, "volt_drop", json!({ "kind": "impedances", "point": shown(60.0), "origin": shown(0.29) }), "volt_drop", "fail", M::Beyond),
        (HALL, "volt_drop", json!({ "kind": "voltages", "unloaded": shown(231.0), "loaded": shown(230.0), "current": shown(1.0) }), "volt_drop", "cannot-say", M::NotKnown),
        (HALL, "volt_drop", json!({ "kind": "impedances", "point": shown(1.7) }), "volt_drop", "cannot-say", M::NotKnown),
        ("supply.tests", "ze", shown(0.29), "ze", "pass", M::Clear),
        ("supply.tests", "ze", shown(1.04), "ze", "doubtful", M::InsideBand),
        ("supply.tests", "ze", shown(2.0), "ze", "fail", M::Beyond),
        ("supply.tests", "fault", fault(shown(1180.0), shown(800.0)), "fault", "pass", M::Clear),
        ("supply.tests", "fault", fault(shown(4000.0), shown(800.0)), "fault", "doubtful", M::AboveDesign),
        ("supply.tests", "fault", fault(shown(8000.0), shown(800.0)), "fault", "fail", M::Beyond),
        ("supply.tests", "fault", fault(above(9990.0), shown(800.0)), "fault", "fail", M::Beyond),
        ("supply.tests", "fault", fault(shown(1180.0), json!(null)), "fault", "cannot-say", M::NotKnown),
        ("supply.tests", "bonding", bond(shown(0.02)), "bonding[0]", "pass", M::Clear),
        ("supply.tests", "bonding", bond(shown(0.06)), "bonding[0]", "doubtful", M::InsideBand),
        ("supply.tests", "bonding", bond(shown(0.5)), "bonding[0]", "fail", M::Beyond),
        ("supply.tests", "bonding", bond(above(20.0)), "bonding[0]", "fail", M::Open),
        ("boards[1].tests", "fault", fault(shown(900.0), shown(600.0)), "fault", "pass", M::Clear),
        (KITCHEN, "ring.r1", above(20.0), "ring", "fail", M::RingPattern),
        (KITCHEN, "ring.rn", json!(null), "ring", "cannot-say", M::NotKnown),
        (KITCHEN, "ring.r2", shown(0.57), "ring", "pass", M::Clear),
        (KITCHEN, "ring.sockets", json!([]), "ring", "cannot-say", M::NotKnown),
        (KITCHEN, "ring.sockets[1].line_neutral", shown(0.9), "ring", "fail", M::RingPattern),
        (KITCHEN, "zs", shown(0.53), "ring.sockets", "pass", M::Clear),
    ]
    .into_iter()
    .map(|(base, key, v, own, outcome, meaning)| {
        (format!("{base}.{key}"), v, format!("{base}.{own}"), outcome, meaning)
    })
    .collect();
    let mut wrong = Vec::new();
    for (path, v, own, outcome, meaning) in table {
        let job = with(house(), &path, value(v.clone()));
        let all = judged(&job);
        assert_eq!(errors(&all), [], "{path} {v}");
        let got = reading(&all, &own);
        let found = (got.get("outcome").text(), got.get("meaning"));
        if found != (Some(outcome), &Out::Count(meaning as u32)) {
            wrong.push(format!("{path} {v}: {found:?}, not {outcome} {meaning:?}"));
        }
        // What is said of a reading is what its place is held by.
        let worst = ["pass", "doubtful", "cannot-say", "fail"];
        let rank = |t: &Out| {
            worst
                .iter()
                .position(|w| Some(*w) == t.get("outcome").text())
        };
        let of = own.split(".tests").next().unwrap();
        let id = match of {
            "supply" => "supply",
            "boards[1]" => "dome",
            "circuits[0]" => "kitchen",
            "circuits[1]" => "hall",
            _ => "hill",
        };
        assert!(rank(place(&all, id)) >= rank(got), "{path} {v}");
        assert!(outcome == "pass" || !may(&all, id), "{path} {v}");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn three_phases_and_electrodes() {
    let three = with(
        load("vectors/examples/workshop-three-phase.json"),
        "supply.tests",
        value(json!({ "phase_sequence": "backward" })),
    );
    let n = {
        let all = judged(&three);
        let found = (0..40).find(|n| {
            let path = format!("circuits[{n}].tests.phase_sequence");
            places(&all)
                .iter()
                .flat_map(|p| p.get("tests").items())
                .any(|t| t.get("path").text() == Some(&path))
        });
        assert_eq!(
            reading(&all, "supply.tests.phase_sequence")
                .get("outcome")
                .text(),
            Some("pass")
        );
        found.expect("a three-phase circuit that wants it")
    };
    let path = format!("circuits[{n}].tests.phase_sequence");
    for (here, outcome) in [("backward", "pass"), ("forward", "fail")] {
        let job = with(
            three.clone(),
            &format!("circuits[{n}].tests"),
            value(json!({ "phase_sequence": here })),
        );
        assert_eq!(
            reading(&judged(&job), &path).get("outcome").text(),
            Some(outcome)
        );
    }
    let job = with(three, "supply.tests", Value::Null);
    let job = with(
        job,
        &format!("circuits[{n}].tests"),
        value(json!({ "phase_sequence": "forward" })),
    );
    let all = judged(&job);
    assert_eq!(
        reading(&all, &path).get("lacking"),
        &Out::Count(Lacking::ORIGIN_SEQUENCE.bits().into())
    );

    let tt = load("vectors/examples/stable-tt.json");
    let path = "supply.tests.electrode";
    for (electrode, outcome, meaning) in [
        (
            json!({ "kind": "loop", "reading": { "shown": 95 } }),
            "pass",
            Meaning::Clear,
        ),
        (
            json!({ "kind": "loop", "reading": { "above": 9000 } }),
            "fail",
            Meaning::Beyond,
        ),
        (
            json!({ "kind": "three-point", "readings": [{ "shown": 58 }, { "shown": 55 }, { "shown": 59 }] }),
            "pass",
            Meaning::Clear,
        ),
        (
            json!({ "kind": "three-point", "readings": [{ "shown": 58 }, { "shown": 40 }, { "shown": 59 }] }),
            "cannot-say",
            Meaning::MoveStakes,
        ),
        (
            json!({ "kind": "three-point", "readings": [{ "shown": 58 }, null, { "shown": 59 }] }),
            "cannot-say",
            Meaning::NotKnown,
        ),
    ] {
        let all = judged(&with(
            tt.clone(),
            "supply.tests",
            value(json!({ "electrode": electrode })),
        ));
        let got = reading(&all, path);
        assert_eq!(got.get("outcome").text(), Some(outcome), "{electrode}");
        assert_eq!(
            got.get("meaning"),
            &Out::Count(meaning as u32),
            "{electrode}"
        );
    }
    // No Ze is asked of it, but an electrode before anything is energised.
    let all = judged(&tt);
    let first = stops(&all, "supply");
    assert!(
        first.contains(&(
            "supply".into(),
            "missing".into(),
            Some(Step::Electrode as u32)
        )),
        "{first:?}"
    );
    assert!(
        !first.iter().any(|s| s.2 == Some(Step::Ze as u32)),
        "{first:?}"
    );
}

/// What a Zs may be at the meter is what it may be in the design, cold: behind an RCD too.
#[test]
fn the_limit_of_zs_is_the_design_s() {
    let (mut compared, mut by_rcd) = (0, 0);
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../vectors/examples");
    let names = std::fs::read_dir(examples).unwrap();
    let names = names.map(|f| f.unwrap().file_name().into_string().unwrap());
    let jobs = names.map(|name| load(&format!("vectors/examples/{name}")));
    for job in jobs.chain([house()]) {
        let job = with(job, "testing", at(&mut house(), "testing").clone());
        let (design, tested) = (answer(read(&job)), judged(&job));
        let both = (design.get("judgements"), tested.get("judgements"));
        for (one, other) in both.0.items().iter().zip(both.1.items()) {
            for (a, b) in one
                .get("places")
                .items()
                .iter()
                .zip(other.get("places").items())
            {
                assert_eq!(a.get("place"), b.get("place"));
                let number = |o: &Out| match o {
                    Out::Number(v) => Some(*v),
                    _ => None,
                };
                let own = |t: &&Out| {
                    t.get("path")
                        .text()
                        .is_some_and(|p| p.ends_with(".tests.zs"))
                };
                let of_zs = |f: &&Out| f.get("check").text() == Some("disconnection");
                let hot = a.get("findings").items().iter().find(of_zs);
                let cold = b.get("tests").items().iter().find(own);
                let limit = |o: Option<&Out>| o.and_then(|o| number(o.get("limit")));
                let (Some(hot), Some(cold)) = (limit(hot), limit(cold)) else {
                    continue;
                };
                assert!(cold <= hot && cold >= 0.7 * hot, "{hot} {cold}");
                compared += 1;
                by_rcd += usize::from(hot > 1000.0);
            }
        }
    }
    assert!(compared > 40 && by_rcd > 1, "{compared} {by_rcd}");
}

#[test]
fn a_supply_that_cant_be_told_is_held_against_both() {
    let job = with(house(), "supply.earthing", Value::Text("not-known".into()));
    let all = judged(&job);
    let both: Vec<_> = all
        .get("judgements")
        .items()
        .iter()
        .map(|j| j.get("earthing").text().unwrap())
        .collect();
    assert_eq!(both, ["tn-c-s", "tt"]);
    assert_ne!(all.get("outcome").text(), Some("pass"));
}

#[test]
fn what_stops_a_circuit() {
    let all = judged(&house());
    for id in ["supply", "house", "dome", "kitchen", "hall", "hill"] {
        assert_eq!(stops(&all, id), [], "{id}");
        assert!(
            may(&all, id) && place(&all, id).get("outcome").text() == Some("pass"),
            "{id}"
        );
        assert_eq!(
            place(&all, id).get("next").get("kind").text(),
            Some("complete"),
            "{id}"
        );
    }
    let step = |s: Step| Some(s as u32);
    // What is taken away or left off, whose it is, and whom it stops beside that one.
    for (path, v, whose, word, which, stopped) in [
        (
            "circuits[1].tests.r1r2",
            json!(null),
            "hall",
            "missing",
            step(Step::Protective),
            &["hall"][..],
        ),
        (
            "circuits[1].tests.insulation",
            json!([]),
            "hall",
            "missing",
            step(Step::Insulation),
            &["hall"],
        ),
        (
            "circuits[1].tests.polarity",
            json!(null),
            "hall",
            "missing",
            step(Step::Polarity),
            &["hall"],
        ),
        (
            "circuits[1].tests.polarity",
            json!("line-neutral"),
            "hall",
            "failed",
            step(Step::Polarity),
            &["hall"],
        ),
        (
            "circuits[1].tests.zs",
            json!({ "shown": 9000 }),
            "hall",
            "failed",
            step(Step::Zs),
            &["hall"],
        ),
        (
            "circuits[1].tests.gear_out",
            json!(true),
            "hall",
            "gear-out",
            None,
            &["hall"],
        ),
        (
            "circuits[1].tests.ramp",
            json!(7),
            "hall",
            "unreadable",
            None,
            &["hall"],
        ),
        (
            "circuits[0].tests.ring",
            json!(null),
            "kitchen",
            "missing",
            step(Step::Ring),
            &["kitchen"],
        ),
        (
            "circuits[2].tests.armour",
            json!(null),
            "hill",
            "missing",
            step(Step::Armour),
            &["hill", "dome", "motor", "red"],
        ),
        // The feed's live test stops what hangs on it, and not itself.
        (
            "circuits[2].tests.zs",
            json!(null),
            "hill",
            "missing",
            step(Step::Zs),
            &["motor", "red"],
        ),
        (
            "circuits[2].tests.zs",
            json!({ "shown": 1.3 }),
            "hill",
            "failed",
            step(Step::Zs),
            &["hill", "dome", "motor", "red"],
        ),
        // The board's dead tests stop its feed.
        (
            "boards[1].tests.bonding",
            json!([]),
            "dome",
            "missing",
            step(Step::Bonding),
            &["hill", "dome", "motor", "red"],
        ),
        (
            "boards[1].tests.earthing_out",
            json!(true),
            "dome",
            "earthing-out",
            None,
            &["hill", "dome", "motor"],
        ),
        (
            "supply.tests.ze",
            json!(null),
            "supply",
            "missing",
            step(Step::Ze),
            &[
                "supply", "house", "hill", "dome", "hall", "kitchen", "motor",
            ],
        ),
        (
            "supply.tests.fault",
            json!(null),
            "supply",
            "missing",
            step(Step::FaultCurrent),
            &["supply", "house", "hall", "kitchen", "red"],
        ),
        (
            "supply.tests.earthing_out",
            json!(true),
            "supply",
            "earthing-out",
            None,
            &["supply", "house", "hall", "red"],
        ),
        (
            "supply.tests.bonding[0].reading",
            json!({ "above": 20 }),
            "supply",
            "failed",
            step(Step::Bonding),
            &["supply", "hall"],
        ),
        // The design.
        (
            "supply.bonding",
            json!(null),
            "supply",
            "design",
            None,
            &["supply", "hall", "hill", "motor"],
        ),
        (
            "circuits[1].sections[0].length",
            json!(900),
            "hall",
            "design",
            None,
            &["hall"],
        ),
        (
            "circuits[1].rcd",
            json!({ "sensitivity": -1 }),
            "hall",
            "design",
            None,
            &["hall"],
        ),
    ] {
        let all = judged(&with(house(), path, value(v)));
        let wanted = (whose.to_owned(), word.to_owned(), which);
        for id in stopped {
            assert!(!may(&all, id), "{path}: {id}");
            assert!(
                stops(&all, id).contains(&wanted),
                "{path}: {id}: {:?}",
                stops(&all, id)
            );
        }
        for id in ["kitchen", "hall"] {
            // A circuit that can't be read leaves the demand at the supply unknown.
            if !stopped.contains(&id) && whose != "supply" && path != "circuits[1].rcd" {
                assert!(may(&all, id), "{path}: {id}: {:?}", stops(&all, id));
            }
        }
    }
}

#[test]
fn the_order_of_tests() {
    let mut job = with(house(), HALL, Value::Null);
    let expect = |job: &Value, kind: &str, step: Option<Step>| {
        let all = judged(job);
        let next = place(&all, "hall").get("next").clone();
        assert_eq!(next.get("kind").text(), Some(kind), "{next:?}");
        assert_eq!(
            next.get("step"),
            &step.map_or(Out::Null, |s| Out::Count(s as u32))
        );
    };
    let full = at(&mut house(), HALL).clone();
    for (key, step) in [
        ("r1r2", Step::Protective),
        ("insulation", Step::Insulation),
        ("polarity", Step::Polarity),
    ] {
        expect(&job, "test", Some(step));
        if matches!(at(&mut job, HALL), Value::Null) {
            *at(&mut job, HALL) = Value::Map(Vec::new());
        }
        *at(&mut job, &format!("{HALL}.{key}")) = full.get(key).clone();
    }
    expect(&job, "energise", None);
    assert!(may(&judged(&job), "hall"));
    *at(&mut job, &format!("{HALL}.energised")) = Value::Bool(true);
    expect(&job, "test", Some(Step::Zs));
    *at(&mut job, &format!("{HALL}.zs")) = full.get("zs").clone();
    expect(&job, "test", Some(Step::Rcd));
    // At half alone is no time.
    *at(&mut job, &format!("{HALL}.rcd")) =
        value(json!([{ "multiple": 0.5, "wave": "sine", "reading": { "above": 2 } }]));
    expect(&job, "test", Some(Step::Rcd));
    *at(&mut job, &format!("{HALL}.rcd")) = full.get("rcd").clone();
    expect(&job, "complete", None);
}

/// Every field may be absent, and then is nothing.
#[test]
fn absent_is_nothing() {
    fn bare(v: &mut Value) {
        match v {
            Value::Map(map) => {
                map.retain(|(_, v)| !matches!(v, Value::Null | Value::Bool(false)));
                map.iter_mut().for_each(|(_, v)| bare(v));
            }
            Value::List(items) => items.iter_mut().for_each(bare),
            _ => {}
        }
    }
    let whole = judged(&house());
    let mut job = house();
    bare(at(&mut job, "testing"));
    bare(at(&mut job, "supply.tests"));
    for n in 0..2 {
        bare(at(&mut job, &format!("boards[{n}].tests")));
    }
    for n in 0..9 {
        bare(at(&mut job, &format!("circuits[{n}].tests")));
    }
    assert_eq!(judged(&job), whole);
    // And the design is judged the same with and without.
    let design = answer(read(&house()));
    for path in ["testing", "supply.tests", HALL, KITCHEN] {
        assert_eq!(
            answer(read(&with(house(), path, Value::Bool(true)))),
            design
        );
    }
}

#[test]
fn without_a_temperature_or_an_instrument_nothing_is_said() {
    let all = judged(&with(house(), "testing.ambient", Value::Null));
    for path in ["r1r2", "zs"] {
        let got = reading(&all, &format!("{HALL}.{path}"));
        assert_eq!(got.get("outcome").text(), Some("cannot-say"));
        assert_eq!(
            got.get("lacking"),
            &Out::Count(Lacking::AMBIENT.bits().into())
        );
        assert_eq!(got.get("limit"), &Out::Null);
    }
    assert!(!may(&all, "hall"));
    assert_eq!(
        reading(&all, &format!("{HALL}.insulation[0]"))
            .get("outcome")
            .text(),
        Some("pass")
    );
    // Open is open at any temperature.
    let open = with(
        house(),
        &format!("{HALL}.r1r2"),
        value(json!({ "above": 20 })),
    );
    let all = judged(&with(open, "testing.ambient", Value::Null));
    assert_eq!(
        reading(&all, &format!("{HALL}.r1r2")).get("outcome").text(),
        Some("fail")
    );
    // One that can't be read is not taken to be as good as the standard asks.
    let all = judged(&with(
        house(),
        "testing.instruments.insulation.share",
        Value::Number(-1.0),
    ));
    let path = "testing.instruments.insulation.share".to_owned();
    assert_eq!(errors(&all), [(path, "negative".to_owned())]);
    let got = reading(&all, &format!("{HALL}.insulation[0]"));
    assert_eq!(
        got.get("lacking"),
        &Out::Count(Lacking::ACCURACY.bits().into())
    );
    assert!(!may(&all, "hall"));
    // The limits of the standard where there is none.
    let all = judged(&with(house(), "testing.instruments", Value::Null));
    let got = reading(&all, &format!("{HALL}.r1r2"));
    assert_eq!(got.get("outcome").text(), Some("pass"));
    assert_ne!(
        got.get("low"),
        reading(&judged(&house()), &format!("{HALL}.r1r2")).get("low")
    );
}

/// Errors with their exact paths; the rest is judged.
#[test]
fn what_cant_be_read_is_named() {
    let before = judged(&house());
    let nan = Value::Number(f64::NAN);
    for (path, v, at_path, reason) in [
        ("zs", value(json!(7)), "zs", "wrong-kind"),
        ("zs", value(json!({})), "zs.shown", "missing"),
        ("zs", value(json!({ "shown": null })), "zs.shown", "missing"),
        (
            "zs",
            value(json!({ "shown": "1" })),
            "zs.shown",
            "wrong-kind",
        ),
        ("zs", value(json!({ "above": -1 })), "zs.above", "negative"),
        (
            "zs",
            value(json!({ "shown": 1, "above": 2 })),
            "zs.above",
            "contradiction",
        ),
        (
            "zs",
            value(json!({ "shown": 1, "unit": "kΩ" })),
            "zs.unit",
            "unknown-field",
        ),
        (
            "zs",
            value(json!({ "shown": 1e300 })),
            "zs.shown",
            "infinite",
        ),
        (
            "zs",
            value(json!({ "shown": 1e12 })),
            "zs.shown",
            "too-large",
        ),
        ("zs.shown", nan.clone(), "zs.shown", "not-a-number"),
        (
            "polarity",
            value(json!("sideways")),
            "polarity",
            "no-such-choice",
        ),
        ("rcd", value(json!({})), "rcd", "wrong-kind"),
        (
            "rcd[0].multiple",
            value(json!(3)),
            "rcd[0].multiple",
            "wrong-kind",
        ),
        (
            "rcd[0].wave",
            value(json!("square")),
            "rcd[0].wave",
            "no-such-choice",
        ),
        (
            "rcd[0].reading.shown",
            nan.clone(),
            "rcd[0].reading.shown",
            "not-a-number",
        ),
        (
            "insulation[0].test_voltage",
            nan.clone(),
            "insulation[0].test_voltage",
            "not-a-number",
        ),
        (
            "insulation[0].test_voltage",
            Value::Null,
            "insulation[0].test_voltage",
            "missing",
        ),
        (
            "insulation[0].circuits",
            value(json!(0)),
            "insulation[0].circuits",
            "zero",
        ),
        (
            "insulation[0].circuits",
            value(json!(1.5)),
            "insulation[0].circuits",
            "wrong-kind",
        ),
        (
            "insulation[0].gear",
            value(json!("yes")),
            "insulation[0].gear",
            "wrong-kind",
        ),
        ("gear_out", value(json!(1)), "gear_out", "wrong-kind"),
        ("energised", value(json!("no")), "energised", "wrong-kind"),
        ("zz", value(json!(null)), "zz", "unknown-field"),
        (
            "volt_drop",
            value(json!({ "kind": "guess" })),
            "volt_drop.kind",
            "no-such-choice",
        ),
        (
            "volt_drop",
            value(json!({ "kind": "voltages", "point": null })),
            "volt_drop.point",
            "unknown-field",
        ),
    ] {
        let job = with(house(), &format!("{HALL}.{path}"), v.clone());
        let all = judged(&job);
        assert_eq!(
            errors(&all),
            [(format!("{HALL}.{at_path}"), reason.to_owned())],
            "{path} {v:?}"
        );
        assert!(!may(&all, "hall"), "{path} {v:?}");
        assert_ne!(all.get("outcome").text(), Some("pass"));
        for id in ["supply", "house", "dome", "kitchen", "hill", "motor"] {
            assert_eq!(place(&all, id), place(&before, id), "{path} {v:?}: {id}");
        }
    }
    for (path, v, at_path, reason) in [
        (
            "testing.ambient",
            json!(-400),
            "testing.ambient",
            "too-small",
        ),
        (
            "testing.ambient",
            json!("cold"),
            "testing.ambient",
            "wrong-kind",
        ),
        (
            "testing.instruments.loop.digits",
            json!(-2),
            "testing.instruments.loop.digits",
            "negative",
        ),
        (
            "testing.instruments.loop.resolution",
            json!(0),
            "testing.instruments.loop.resolution",
            "zero",
        ),
        (
            "testing.instruments.loop.lead",
            json!(-2),
            "testing.instruments.loop.lead",
            "negative",
        ),
        (
            "testing.instruments.loop.to",
            json!(0),
            "testing.instruments.loop.to",
            "contradiction",
        ),
        (
            "testing.instruments.loops",
            json!(null),
            "testing.instruments.loops",
            "unknown-field",
        ),
        (
            "supply.tests.electrode",
            json!({ "kind": "three-point", "readings": [null, null] }),
            "supply.tests.electrode.readings",
            "wrong-kind",
        ),
        (
            "supply.tests.electrode",
            json!({ "kind": "spike" }),
            "supply.tests.electrode.kind",
            "no-such-choice",
        ),
        (
            "supply.tests.bonding[0].length",
            json!(null),
            "supply.tests.bonding[0].length",
            "missing",
        ),
        (
            "supply.tests.bonding[0].name",
            json!(null),
            "supply.tests.bonding[0].name",
            "wrong-kind",
        ),
        (
            "supply.tests.fault.line_neutral",
            json!({ "above": "x" }),
            "supply.tests.fault.line_neutral.above",
            "wrong-kind",
        ),
        (
            "boards[1].tests.phase_sequence",
            json!("left"),
            "boards[1].tests.phase_sequence",
            "no-such-choice",
        ),
        (
            "circuits[0].tests.ring.sockets[2].cables",
            json!(2.5),
            "circuits[0].tests.ring.sockets[2].cables",
            "wrong-kind",
        ),
        (
            "circuits[0].tests.ring.sockets[2].cables",
            json!(300),
            "circuits[0].tests.ring.sockets[2].cables",
            "wrong-kind",
        ),
    ] {
        let all = judged(&with(house(), path, value(v.clone())));
        assert_eq!(
            errors(&all),
            [(at_path.to_owned(), reason.to_owned())],
            "{path} {v}"
        );
        let id = if path.starts_with("boards") {
            "hill"
        } else {
            "kitchen"
        };
        assert!(!may(&all, id), "{path} {v}");
    }
    // More of one kind than there is room for.
    let one = value(json!({ "multiple": 1, "wave": "sine", "reading": { "shown": 0.02 } }));
    let all = judged(&with(
        house(),
        &format!("{HALL}.rcd"),
        Value::List(vec![one; 200]),
    ));
    assert_eq!(
        errors(&all),
        [(format!("{HALL}.rcd"), "too-many".to_owned())]
    );
}

/// Every path of the example that holds a figure of a reading, or one of its parts.
fn figures(v: &Value, path: &str, out: &mut Vec<String>) {
    match v {
        Value::Number(_) => out.push(path.to_owned()),
        Value::Map(map) => {
            for (k, v) in map {
                let path = if path.is_empty() {
                    k.clone()
                } else {
                    format!("{path}.{k}")
                };
                figures(v, &path, out);
            }
        }
        Value::List(items) => {
            for (n, v) in items.iter().enumerate() {
                figures(v, &format!("{path}[{n}]"), out);
            }
        }
        _ => {}
    }
}

fn rank(outcome: &Out) -> usize {
    let all = ["pass", "doubtful", "cannot-say", "fail"];
    all.iter().position(|w| outcome.text() == Some(w)).unwrap()
}

fn config() -> ProptestConfig {
    let mut config = ProptestConfig::default();
    if std::env::var_os("PROPTEST_CASES").is_none() {
        config.cases = 200;
    }
    config
}

proptest! {
    #![proptest_config(config())]

    /// Any f32 in any field of any reading: no panic; what is no number is named and is no pass.
    #[test]
    fn any_number_anywhere(
        which in any::<prop::sample::Index>(),
        bits in prop_oneof![any::<u32>(), select(vec![0x7fc0_0000u32, 0x7f80_0000, 0xff80_0000, 0, 0x8000_0000, 1, 0x7f7f_ffff])],
    ) {
        let v = f32::from_bits(bits);
        let mut paths = Vec::new();
        figures(&house(), "", &mut paths);
        paths.retain(|p| p.contains("tests") || p.starts_with("testing"));
        let path = which.get(&paths);
        let all = judged(&with(house(), path, Value::Number(v.into())));
        if !v.is_finite() {
            prop_assert_eq!(errors(&all).len(), 1, "{}", path);
            prop_assert_eq!(&errors(&all)[0].0, path);
            prop_assert!(all.get("outcome").text() != Some("pass"));
        }
    }

    /// Nothing that is needed and missing may be energised, nor anything that rests on it.
    #[test]
    fn nothing_missing_may_be_energised(gone in prop::collection::vec(any::<bool>(), 14)) {
        // What is taken away, and what then may not be energised.
        let all = ["supply", "house", "dome", "hill", "kitchen", "hall", "motor"];
        let hill = ["hill", "dome", "motor"];
        let table: [(&str, &[&str]); 14] = [
            ("supply.tests", &all), ("supply.tests.ze", &all), ("supply.tests.fault", &all), ("supply.tests.bonding", &all),
            ("boards[1].tests", &hill), ("boards[1].tests.bonding", &hill),
            ("circuits[2].tests.r1r2", &hill), ("circuits[2].tests.armour", &hill), ("circuits[2].tests.insulation", &hill),
            ("circuits[2].tests.polarity", &hill), ("circuits[2].tests.zs", &["motor"]),
            ("circuits[0].tests.ring", &["kitchen"]), ("circuits[1].tests.r1r2", &["hall"]), ("testing.ambient", &["kitchen", "hall", "hill", "motor"]),
        ];
        let mut job = house();
        let mut stopped = Vec::new();
        for ((path, ids), gone) in table.iter().zip(&gone) {
            if !*gone { continue }
            stopped.extend(*ids);
            let up = path.rsplit_once('.').map_or("", |(up, _)| up);
            if !matches!(at(&mut job, up), Value::Null) {
                *at(&mut job, path) = Value::Null;
            }
        }
        let answer = judged(&job);
        for id in all {
            if stopped.contains(&id) {
                prop_assert!(!may(&answer, id), "{id}");
            }
        }
    }

    /// A worse reading is never judged better, nor is its place.
    #[test]
    fn a_worse_reading_is_never_better(
        which in select(vec![
            ("circuits[2].tests.zs", false, 0.0f32, 3.0f32), ("circuits[1].tests.zs", false, 0.0, 9000.0),
            ("supply.tests.ze", false, 0.0, 3.0), ("supply.tests.fault.line_neutral", false, 0.0, 9000.0),
            ("supply.tests.fault.line_earth", false, 0.0, 9000.0),
            ("circuits[2].tests.r1r2", false, 0.09, 2.0), ("circuits[2].tests.armour", false, 0.18, 1.0),
            ("supply.tests.bonding[0].reading", false, 0.0, 0.3),
            ("circuits[1].tests.rcd[0].reading", false, 0.0, 0.5), ("circuits[1].tests.insulation[0].reading", true, 0.0, 3.0),
        ]),
        a in 0.0f32..1.0, b in 0.0f32..1.0,
    ) {
        let (path, least, from, to) = which;
        let at_share = |t: f32| {
            let v = from + t * (to - from);
            let all = judged(&with(house(), path, value(json!({ "shown": v }))));
            let own = path.trim_end_matches(".reading").trim_end_matches(".line_neutral").trim_end_matches(".line_earth");
            rank(reading(&all, own).get("outcome"))
        };
        let (low, high) = (at_share(a.min(b)), at_share(a.max(b)));
        if least { prop_assert!(high <= low) } else { prop_assert!(low <= high) }
    }
}
