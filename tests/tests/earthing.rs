//! Earthing away from the house: what can't be read is named where it is; taking a way over makes the job what
//! the comparison said; electrodes in both directions.

use faultpath::earthing::electrode::{
    Electrode, Layout, Rod, Rods, Season, rod_length, rods_needed,
};
use faultpath::error::Reason;
use faultpath::quantity::{Metres, OhmMetres, Ohms, Ratio};
use faultpath_wasm::answer::answer;
use faultpath_wasm::earthing::{earthing, electrode};
use faultpath_wasm::out::Out;
use faultpath_wasm::read::read;
use faultpath_wasm::value::Value;
use proptest::prelude::*;
use serde_json::json;

type Json = serde_json::Value;

/// The page's own example.
fn example() -> Json {
    serde_json::from_str(include_str!("../../web/src/example-job.json")).unwrap()
}

fn value(job: &Json) -> Value {
    serde_json::from_value(job.clone()).unwrap()
}

/// The answer as the page has it.
fn plain(out: &Out) -> Json {
    serde_json::to_value(out).unwrap()
}

fn compare(job: &Json) -> Json {
    let value = value(job);
    plain(&earthing(&mut read(&value), "dome"))
}

fn planned(job: &Json, target: Option<f32>) -> Json {
    let value = value(job);
    plain(&electrode(&mut read(&value), "dome", target))
}

fn sides(job: &Json) -> Vec<Json> {
    let said = compare(job);
    assert_eq!(said["error"], Json::Null);
    said["judgements"][0]["sides"].as_array().unwrap().clone()
}

/// Puts a value where a path leads: `boards[1].site.count`.
fn put(job: &mut Json, path: &str, to: Json) {
    let pointer = path.replace('[', "/").replace(']', "").replace('.', "/");
    *job.pointer_mut(&format!("/{pointer}")).unwrap() = to;
}

/// The worst of the board, and of all that hangs on it.
fn judged(job: &Json) -> String {
    let value = value(job);
    let said = plain(&answer(read(&value)));
    let ids: Vec<&str> = job["circuits"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|c| c["board"] == "dome")
        .map(|c| c["id"].as_str().unwrap())
        .collect();
    let order = ["pass", "doubtful", "cannot-say", "fail"];
    said["judgements"][0]["places"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|p| {
            let id = p["place"]["id"].as_str().unwrap_or_default();
            (p["place"]["kind"] == "board" && id == "dome")
                || (p["place"]["kind"] == "circuit" && ids.contains(&id))
        })
        .map(|p| p["outcome"].as_str().unwrap())
        .max_by_key(|o| order.iter().position(|x| x == o))
        .unwrap()
        .to_owned()
}

/// Without what keeps the supply's earth from a pass whatever is fitted.
fn indoors() -> Json {
    let mut job = example();
    put(&mut job, "boards[1].site.situations", json!([]));
    put(
        &mut job,
        "boards[1].earthing_conductor",
        json!({
            "material": "copper", "csa": 16, "buried": true, "mechanical": true, "corrosion": true
        }),
    );
    let lawn = job["circuits"]
        .as_array()
        .unwrap()
        .iter()
        .position(|c| c["id"] == "lawn")
        .unwrap();
    // As it is, it drops too much whichever way it is earthed.
    put(
        &mut job,
        &format!("circuits[{lawn}].sections[1].length"),
        json!(6.5),
    );
    for c in job["circuits"].as_array_mut().unwrap() {
        if c["board"] == "dome" {
            c["outdoors"] = json!(false);
        }
    }
    job
}

#[test]
fn what_cannot_be_read_is_named_where_it_is() {
    let cases = [
        ("boards[1].site.soil", json!("mud"), "no-such-choice"),
        ("boards[1].site.resistivity", json!(-1), "negative"),
        ("boards[1].site.resistivity", json!("wet"), "wrong-kind"),
        ("boards[1].site.season", json!(0.5), "too-small"),
        ("boards[1].site.season", json!(7), "too-large"),
        ("boards[1].site.least_load", json!(1.5), "too-large"),
        ("boards[1].site.limit", json!(0), "zero"),
        ("boards[1].site.target", json!(-3), "negative"),
        ("boards[1].site.rcd_kind", json!("z"), "no-such-choice"),
        ("boards[1].site.in_addition", json!(null), "wrong-kind"),
        ("boards[1].site.situations", json!("mast"), "wrong-kind"),
        (
            "boards[1].site.electrode.kind",
            json!("nail"),
            "no-such-choice",
        ),
        ("boards[1].site.electrode.length", json!(0.2), "too-small"),
        ("boards[1].site.electrode.length", json!(31), "too-large"),
        (
            "boards[1].site.electrode.diameter",
            json!(0.001),
            "too-small",
        ),
        ("boards[1].site.electrode.spacing", json!(1), "out-of-table"),
        ("boards[1].site.electrode.count", json!(11), "out-of-table"),
        ("boards[1].site.electrode.count", json!(0), "zero"),
        ("boards[1].site.electrode.count", json!(2.5), "wrong-kind"),
        (
            "boards[1].site.electrode.layout",
            json!("ring"),
            "no-such-choice",
        ),
    ];
    for (path, bad, reason) in cases {
        let mut job = example();
        put(&mut job, path, bad.clone());
        let value = value(&job);
        let read = read(&value);
        let found: Vec<_> = read
            .errors
            .iter()
            .map(|e| {
                (
                    e.get("path").text().unwrap(),
                    e.get("reason").text().unwrap(),
                )
            })
            .collect();
        assert_eq!(found, [(path, reason)], "{bad}");
        let compared = compare(&job);
        if path.ends_with("in_addition") {
            // Which is compared by nothing.
            for side in compared["judgements"][0]["sides"].as_array().unwrap() {
                assert_ne!(side["outcome"], "pass");
            }
        } else {
            assert_eq!(compared["error"], "unread", "{path}");
            assert_eq!(planned(&job, None)["error"], "unread");
        }
        // The rest is judged, and nothing is called good.
        let said = plain(&answer(read));
        assert_ne!(said["outcome"], "pass");
        assert_eq!(said["judgements"].as_array().unwrap().len(), 1);
    }
}

#[test]
fn a_side_that_is_wrong_is_named_by_itself() {
    for (kind, sizes, wrong) in [
        ("plate", json!({"width": 0.1, "height": 0.9}), "width"),
        ("plate", json!({"width": 0.9, "height": 9}), "height"),
        (
            "tape",
            json!({"length": 20, "width": 0.001, "depth": 0.5}),
            "width",
        ),
        (
            "tape",
            json!({"length": 20, "width": 0.03, "depth": 0.1}),
            "depth",
        ),
        (
            "wire",
            json!({"length": 4, "diameter": 0.01, "depth": 0.5}),
            "length",
        ),
        (
            "wire",
            json!({"length": 20, "diameter": 0.5, "depth": 0.5}),
            "diameter",
        ),
        (
            "foundation",
            json!({"length": 8, "width": 0.05, "depth": 0.3, "in_contact": true}),
            "width",
        ),
        (
            "foundation",
            json!({"length": 8, "width": 5, "depth": 200, "in_contact": true}),
            "depth",
        ),
        (
            "foundation",
            json!({"length": 8, "width": 5, "depth": 0.3, "in_contact": false}),
            "in_contact",
        ),
    ] {
        let mut job = example();
        let mut electrode = sizes;
        electrode["kind"] = json!(kind);
        put(&mut job, "boards[1].site.electrode", electrode);
        let value = value(&job);
        let read = read(&value);
        let paths: Vec<_> = read
            .errors
            .iter()
            .map(|e| e.get("path").text().unwrap())
            .collect();
        assert_eq!(
            paths,
            [format!("boards[1].site.electrode.{wrong}")],
            "{kind}"
        );
    }
}

#[test]
fn what_is_left_empty_is_asked_for_and_no_error() {
    let mut job = example();
    for (key, field) in [
        ("boards[1].site.electrode.length", "length"),
        ("boards[1].site.electrode.spacing", "spacing"),
        ("boards[1].site.resistivity", "resistivity"),
        ("boards[1].site.season", "season"),
    ] {
        put(&mut job, key, json!(null));
        let said = planned(&job, Some(100.0));
        let open: Vec<_> = said["open"].as_array().unwrap().iter().collect();
        assert!(open.contains(&&json!(key)), "{field}: {open:?}");
        assert_eq!(said["resistance"], Json::Null, "{field}");
        assert_eq!(compare(&job)["electrode"], Json::Null);
        let value = value(&job);
        assert!(read(&value).errors.is_empty());
        job = example();
    }
    put(&mut job, "boards[1].site", json!(null));
    let bare = planned(&job, None);
    assert_eq!(bare["open"].as_array().unwrap().len(), 3);
    // With none, its own earth can't be judged, and is no pass.
    let own = &sides(&job)[1];
    assert_ne!(own["outcome"], "pass");
    // The measured one counts before the planned.
    let mut job = example();
    put(&mut job, "boards[1].ra", json!(40));
    let said = compare(&job);
    assert_eq!(said["electrode"]["value"], json!(40.0));
    assert_eq!(said["electrode_from"], "entered");
}

#[test]
fn a_board_at_the_supply_has_no_ways() {
    let job = value(&example());
    let said = plain(&earthing(&mut read(&job), "house"));
    assert_eq!(said["error"], "missing");
    let none = plain(&earthing(&mut read(&job), "nowhere"));
    assert_eq!(none["error"], "unread");
}

#[test]
fn taking_a_way_over_makes_the_job_what_was_said() {
    let mut seen = Vec::new();
    for earthing in ["tn-c-s", "tn-s"] {
        for ra in [json!(null), json!(20), json!(900), json!(30000)] {
            for board_rcd in [
                json!(null),
                json!({"sensitivity": 0.1, "kind": "a", "delay": "selective"}),
            ] {
                let mut job = indoors();
                put(&mut job, "supply.earthing", json!(earthing));
                put(&mut job, "boards[1].ra", ra.clone());
                if ra == json!(20) {
                    put(&mut job, "boards[1].earthing_conductor", json!(null));
                }
                put(&mut job, "boards[1].rcd", board_rcd);
                for side in sides(&job) {
                    let mut taken = job.clone();
                    for edit in side["edits"].as_array().unwrap() {
                        put(
                            &mut taken,
                            edit["path"].as_str().unwrap(),
                            edit["value"].clone(),
                        );
                    }
                    let said = match side["rcd"]["need"].as_str().unwrap() {
                        "this" => side["rcd"]["outcome"].as_str().unwrap(),
                        _ => side["outcome"].as_str().unwrap(),
                    };
                    // The walk does not know the conductor of an electrode in addition: it may say less.
                    let got = judged(&taken);
                    if side["scheme"] == 2 && side["check"] == "earthing-conductor" {
                        assert_ne!(said, "pass");
                    } else {
                        assert_eq!(said, got, "{earthing} {ra} {}", side["scheme"]);
                    }
                    seen.push(said.to_owned());
                    // Taken over, it is as it was compared.
                    let again =
                        &sides(&taken)[usize::try_from(side["scheme"].as_u64().unwrap()).unwrap()];
                    assert_eq!(again["outcome"].as_str().unwrap(), said);
                }
            }
        }
    }
    assert!(
        seen.iter().any(|s| s == "pass") && seen.iter().any(|s| s != "pass"),
        "{seen:?}"
    );
}

#[test]
fn a_place_to_which_that_earth_is_not_taken_is_no_pass() {
    let mut job = indoors();
    let before = sides(&job);
    assert_eq!(before[0]["outcome"], "pass");
    for (situation, least) in [
        ("caravan", "cannot-say"),
        ("livestock", "doubtful"),
        ("timber", "pass"),
    ] {
        put(&mut job, "boards[1].site.situations", json!([situation]));
        let now = sides(&job);
        for n in [0, 2] {
            if before[n]["outcome"] == "pass" {
                assert_eq!(now[n]["outcome"], least, "{situation} {n}");
            }
        }
        assert_eq!(now[1]["outcome"], before[1]["outcome"]);
        // Of another supply it is not said.
        let mut other = job.clone();
        put(&mut other, "supply.earthing", json!("tn-s"));
        assert_eq!(sides(&other)[0]["outcome"], "pass");
        assert_eq!(compare(&job)["situations"].as_array().unwrap().len(), 1);
    }
}

#[test]
fn both_ways_where_the_supply_is_not_known() {
    let mut job = example();
    put(&mut job, "supply.earthing", json!("not-known"));
    let said = compare(&job);
    let all = said["judgements"].as_array().unwrap();
    assert!(all.len() > 1);
    assert!(
        all.iter()
            .all(|j| j["sides"].as_array().unwrap().len() == 3)
    );
}

fn rank(outcome: &Json) -> usize {
    ["pass", "doubtful", "cannot-say", "fail"]
        .iter()
        .position(|o| outcome == o)
        .unwrap()
}

#[test]
fn a_greater_resistance_never_makes_a_better_outcome() {
    let mut job = indoors();
    put(
        &mut job,
        "boards[1].rcd",
        json!({"sensitivity": 0.3, "kind": "a", "delay": "selective"}),
    );
    let mut last = 0;
    let mut outcomes = Vec::new();
    for n in 0..40 {
        let ra = 1.3f64.powi(n) * 0.5;
        put(&mut job, "boards[1].ra", json!(ra));
        let own = &sides(&job)[1];
        let now = rank(&own["outcome"]);
        assert!(now >= last, "{ra}: {own}");
        // What is sought is what turns it.
        let sought = own["electrode_sought"]["ra"]["value"].as_f64();
        if let (0, Some(sought)) = (now, sought) {
            assert!(ra <= sought * 1.000_001, "{ra} {sought}");
        }
        last = now;
        outcomes.push(now);
    }
    assert!(outcomes[0] == 0 && last > 0, "{outcomes:?}");
}

fn ohms(v: f32) -> Ohms {
    Ohms::new(v).unwrap()
}
fn metres(v: f32) -> Metres {
    Metres::new(v).unwrap()
}

/// Positive numbers, evenly in the logarithm.
fn spread(low: f32, high: f32) -> impl Strategy<Value = f32> {
    (0u32..=1 << 16).prop_map(move |n| low * (high / low).powf(n as f32 / 65536.0))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn a_longer_rod_is_never_worse(
        rho in spread(1.0, 5000.0),
        length in spread(0.6, 25.0),
        more in 0.001f32..5.0,
        diameter in 0.008f32..0.028,
        season in 1.0f32..5.0,
    ) {
        let season = Season::new(Ratio::new(season).unwrap()).unwrap();
        let rho = OhmMetres::new(rho).unwrap();
        let of = |l: f32| {
            let rod = Rod::new(metres(l), metres(diameter)).unwrap();
            Electrode::Rod(rod).resistance(rho, season).get()
        };
        prop_assert!(of((length + more).min(30.0)) <= of(length));
    }

    #[test]
    fn the_length_sought_is_that_of_a_plain_scan(
        rho in spread(1.0, 3000.0),
        target in spread(1.0, 500.0),
        diameter in 0.008f32..0.024,
        season in 1.0f32..5.0,
    ) {
        let season = Season::new(Ratio::new(season).unwrap()).unwrap();
        let rho = OhmMetres::new(rho).unwrap();
        let good = |l: f32| {
            Rod::new(metres(l), metres(diameter))
                .map(Electrode::Rod)
                .is_ok_and(|e| e.resistance(rho, season).get() <= target)
        };
        // Every centimetre from the shortest to the longest.
        let shortest = 0.5f32.max(20.0 * diameter);
        let scan = core::iter::once(shortest)
            .chain((0..=3000u16).map(|n| f32::from(n) / 100.0).filter(|l| *l > shortest))
            .find(|l| good(*l));
        match (rod_length(ohms(target), metres(diameter), rho, season), scan) {
            (Ok(found), Some(scanned)) => {
                prop_assert!(good(found.get()));
                prop_assert!(found.get() <= scanned && scanned <= found.get() + 0.010_1, "{} {scanned}", found.get());
            }
            (Err(e), None) => prop_assert_eq!(e.reason, Reason::OutOfTable),
            (found, scan) => prop_assert!(false, "{found:?} {scan:?}"),
        }
    }

    #[test]
    fn the_rods_needed_are_those_of_a_plain_scan(
        rho in spread(1.0, 3000.0),
        target in spread(0.5, 500.0),
        length in 0.6f32..4.0,
        apart in 1.0f32..4.0,
        square in any::<bool>(),
    ) {
        let rho = OhmMetres::new(rho).unwrap();
        let rod = Rod::new(metres(length), metres(0.016)).unwrap();
        let spacing = metres((length * apart).max(length));
        let layout = |n| if square { Layout::HollowSquare(n) } else { Layout::Line(n) };
        let most = if square { 2..=20 } else { 1..=10 };
        let scan = most.clone().find(|n| {
            let rods = Rods::new(rod, layout(*n), spacing).unwrap();
            Electrode::Rods(rods).resistance(rho, Season::WORST_ALREADY).get() <= target
        });
        let found = rods_needed(ohms(target), rod, layout(0), spacing, rho, Season::WORST_ALREADY);
        prop_assert_eq!(found.ok().map(|r| r.layout()), scan.map(layout));
    }

    #[test]
    fn what_is_shown_errs_on_the_safe_side(
        rho in spread(1.0, 3000.0),
        target in spread(1.0, 200.0),
        season in 1.0f64..4.0,
    ) {
        let mut job = example();
        put(&mut job, "boards[1].site.resistivity", json!(rho));
        put(&mut job, "boards[1].site.season", json!(season));
        put(&mut job, "boards[1].site.electrode.kind", json!("rod"));
        let said = planned(&job, Some(target));
        let shown = |figure: &Json| figure["shown"].as_str().unwrap().parse::<f64>().unwrap();
        let r = &said["resistance"];
        prop_assert!(shown(r) >= r["value"].as_f64().unwrap() * (1.0 - 1e-7));
        let reverse = &said["reverse"];
        prop_assert!(shown(&reverse["target"]) <= f64::from(target) * (1.0 + 1e-7));
        // As said, it does what was looked for.
        if let Some(length) = reverse["rod_length"]["shown"].as_str() {
            put(&mut job, "boards[1].site.electrode.length", json!(length.parse::<f64>().unwrap()));
            let again = planned(&job, Some(target));
            prop_assert_eq!(&again["reverse"]["meets"], &json!(true));
        } else {
            prop_assert_eq!(&reverse["rod_length"]["reason"], &json!("out-of-table"));
        }
        if let Some(edits) = reverse["rods"]["edits"].as_array() {
            for edit in edits {
                put(&mut job, edit["path"].as_str().unwrap(), edit["value"].clone());
            }
            put(&mut job, "boards[1].site.electrode.length", json!(2.4));
            let again = planned(&job, Some(target));
            prop_assert_eq!(&again["reverse"]["meets"], &json!(true), "{}", again);
        }
    }
}
