//! The rows of `vectors/boundaries.json` from the core's side: between a row just inside and the one just outside
//! the answer turns once, on every f32 there is between them; and no rule with a limit is without such a pair.

use faultpath::reading;
use faultpath::verdict::Rule;
use faultpath_tests::vectors::{Row, load, question};
use faultpath_wasm::evidence::{Reply, ask};
use faultpath_wasm::out::Out;
use faultpath_wasm::value::Value;
use std::collections::BTreeSet;

/// More f32 than lie in five millionths, the distance of a row inside a limit that is held with a hair in hand.
const APART: u32 = 200;

fn rows() -> Vec<Row> {
    load("boundaries").unwrap_or_else(|e| panic!("{e}")).rows
}

fn put(of: &Row) -> Value {
    question(of).unwrap_or_else(|e| panic!("{e}"))
}

fn said(question: &Value) -> String {
    match ask(question) {
        Reply::Number { value } => value.to_string(),
        Reply::Word { value } => value,
        Reply::Error { error } => error,
        _ => panic!("neither a figure nor a word: {question:?}"),
    }
}

/// The only number in which two trees differ.
fn moved<'v>(a: &'v Value, b: &'v Value) -> Option<(f64, f64)> {
    let all = |pairs: &mut dyn Iterator<Item = (&'v Value, &'v Value)>| {
        let mut found = None;
        for (x, y) in pairs.filter(|(x, y)| x != y) {
            if found.is_some() {
                return None;
            }
            found = Some(moved(x, y)?);
        }
        found
    };
    match (a, b) {
        (Value::Number(x), Value::Number(y)) if x != y => Some((*x, *y)),
        (Value::List(x), Value::List(y)) if x.len() == y.len() => all(&mut x.iter().zip(y)),
        (Value::Map(x), Value::Map(y)) if x.len() == y.len() => {
            let named = x.iter().zip(y).all(|((n, _), (m, _))| n == m);
            named.then(|| all(&mut x.iter().zip(y).map(|((_, v), (_, w))| (v, w))))?
        }
        _ => None,
    }
}

/// The tree with that number in its place.
fn with(of: &Value, old: f64, new: f64) -> Value {
    match of {
        Value::Number(v) if *v == old => Value::Number(new),
        Value::List(items) => Value::List(items.iter().map(|v| with(v, old, new)).collect()),
        Value::Map(map) => Value::Map(
            map.iter()
                .map(|(n, v)| {
                    // A job stays as it is: what is moved in it comes with `with`.
                    let v = if n == "job" {
                        v.clone()
                    } else {
                        with(v, old, new)
                    };
                    (n.clone(), v)
                })
                .collect(),
        ),
        other => other.clone(),
    }
}

/// Neighbouring rows that ask the same of two numbers close together.
fn pairs(rows: &[Row]) -> Vec<(&Row, &Row, f32, f32)> {
    rows.windows(2)
        .filter_map(|two| {
            let [a, b] = two else { return None };
            if a.ask != b.ask || a.expect == b.expect {
                return None;
            }
            #[allow(clippy::cast_possible_truncation)]
            let (x, y) = moved(&a.inputs, &b.inputs).map(|(x, y)| (x as f32, y as f32))?;
            let near = x.is_sign_positive() == y.is_sign_positive()
                && x.to_bits().abs_diff(y.to_bits()) <= APART;
            near.then_some((a, b, x, y))
        })
        .collect()
}

#[test]
fn the_answer_turns_once_between_inside_and_outside() {
    let rows = rows();
    let pairs = pairs(&rows);
    let (mut at_once, mut asked) = (0, 0);
    for (a, b, x, y) in &pairs {
        let (inside, outside) = (put(a), put(b));
        let (first, last) = (said(&inside), said(&outside));
        assert_ne!(first, last, "{:?}", a.inputs);
        let old = moved(&a.inputs, &b.inputs).expect("a number").0;
        let (from, to) = (x.to_bits(), y.to_bits());
        at_once += u32::from(from.abs_diff(to) == 1);
        let mut turned = false;
        for step in 1..from.abs_diff(to) {
            let bits = if to > from { from + step } else { from - step };
            let here = said(&with(&inside, old, f64::from(f32::from_bits(bits))));
            asked += 1;
            if turned || here != first {
                turned = true;
                assert_eq!(here, last, "{} of {:?}", f32::from_bits(bits), a.inputs);
            }
        }
    }
    println!(
        "{} pairs, {at_once} of neighbours, {asked} f32 between the others",
        pairs.len()
    );
    assert!(
        pairs.len() > 150 && at_once > 90,
        "{} {at_once}",
        pairs.len()
    );
}

/// Rules that are a step of the working: they give a figure, and hold it against nothing.
const STEPS: &[Rule] = &[
    Rule::IbSingle,
    Rule::IbThree,
    Rule::IbStated,
    Rule::IbDemand,
    Rule::It,
    Rule::Iz,
    Rule::I2,
    Rule::RLine,
    Rule::RNeutral,
    Rule::RProtective,
    Rule::RSteel,
    Rule::Reactance,
    Rule::RParallel,
    Rule::R1R2,
    Rule::RingR1R2,
    Rule::ZsBoard,
    Rule::ZsSum,
    Rule::ZsVector,
    Rule::IfMin,
    Rule::TimeAllowed,
    Rule::Ia,
    Rule::IaRcd,
    Rule::DropSingle,
    Rule::DropThree,
    Rule::DropRing,
    Rule::LoadTemperature,
    Rule::DropBoard,
    Rule::DropTotal,
    Rule::ZSupplyMin,
    Rule::IkThree,
    Rule::IkNeutral,
    Rule::IkEarth,
    Rule::K,
    Rule::InitialTemperature,
    Rule::EnergyFar,
    Rule::EnergyNear,
    Rule::DemandSum,
    Rule::DemandStated,
    Rule::Rated,
    Rule::R1R2Cold,
    Rule::DropShare,
];

/// Rules by which a check passes or not, and why there is no pair.
const WITHOUT: &[(Rule, &str)] = &[
    (Rule::Deemed, "two other checks pass: no figure of its own"),
    (Rule::InsulatedFront, "of class II or not: no figure"),
    (
        Rule::AdditionalProtection,
        "IΔn are made in steps: 30 mA passes and 100 mA, the next, does not (fails-rcd.json); what lies between is refused",
    ),
];

#[test]
fn every_rule_with_a_limit_has_a_pair() {
    let rows = rows();
    let mut covered = BTreeSet::new();
    for (a, b, ..) in pairs(&rows).iter().filter(|(a, ..)| a.ask == "job") {
        for row in [a, b] {
            covered.insert(rule_of(row));
        }
    }
    for rule in Rule::ALL {
        let places = usize::from(covered.contains(&(rule as usize)))
            + usize::from(STEPS.contains(&rule))
            + usize::from(WITHOUT.iter().any(|(r, why)| *r == rule && !why.is_empty()));
        assert_eq!(
            places, 1,
            "{rule:?} is in {places} of: pairs, steps of the working, without a pair"
        );
    }
}

/// The rule of the finding a row of a job asks for.
fn rule_of(row: &Row) -> usize {
    let Value::Map(mut question) = put(row) else {
        panic!("no question")
    };
    for (name, value) in &mut question {
        if name == "ask" {
            *value = Value::Text("judge".to_owned());
        }
    }
    let Reply::Answer { value } = ask(&Value::Map(question)) else {
        panic!("no answer")
    };
    let place = row.inputs.get("place");
    let check = row
        .inputs
        .get("want")
        .text()
        .and_then(|w| w.strip_prefix("outcome:"));
    let judgements = value.get("judgements").items();
    let places = judgements
        .first()
        .expect("a judgement")
        .get("places")
        .items();
    let here = places.iter().find(|p| {
        let own = p.get("place");
        own.get("kind").text() == place.get("kind").text()
            && own.get("id").text() == place.get("id").text()
    });
    let findings = here.expect("the place").get("findings").items();
    let finding = findings.iter().find(|f| f.get("check").text() == check);
    match finding.expect("the finding").get("rule") {
        Out::Count(n) => usize::try_from(*n).expect("a rule"),
        other => panic!("{other:?} is no rule"),
    }
}

/// Rules of readings without a pair, and why.
const READINGS_WITHOUT: &[(reading::Rule, &str)] = &[
    (
        reading::Rule::DesignBand,
        "a band of ours around the design, never a pass beyond a limit",
    ),
    (
        reading::Rule::RingPattern,
        "a pattern of many readings: tests/rings.rs",
    ),
    (reading::Rule::Polarity, "right or wrong: no figure"),
    (reading::Rule::PhaseSequence, "right or wrong: no figure"),
    (
        reading::Rule::MaxZe,
        "of the whole installation, by the interval that all readings are held by; tests/oracle/reading_forms.py",
    ),
    (
        reading::Rule::MaxZsRcd,
        "as MaxZs, by the RCD's limit; tests/oracle/reading_forms.py",
    ),
    (
        reading::Rule::FallOfPotential,
        "asked as fall-of-potential-valid, which has its pair and no rule to tell",
    ),
    (
        reading::Rule::DropLimit,
        "two readings and a current in one; unit tests of reading::volt_drop",
    ),
];

#[test]
fn every_rule_of_readings_with_a_limit_has_a_pair() {
    let rows = rows();
    let mut covered = BTreeSet::new();
    for (a, ..) in pairs(&rows) {
        let Value::Map(mut question) = put(a) else {
            panic!("no question")
        };
        if let Some((_, Value::Map(inputs))) = question.iter_mut().find(|(n, _)| n == "inputs") {
            inputs.retain(|(n, _)| n != "want");
            inputs.push(("want".to_owned(), Value::Text("rule".to_owned())));
        }
        if let Reply::Number { value } = ask(&Value::Map(question)) {
            // Other questions answer a figure whatever is wanted.
            if matches!(a.expect, faultpath_tests::vectors::Expect::Word(_)) {
                covered.insert(reading::Rule::ALL.into_iter().position(|r| {
                    let place = reading::Rule::ALL.iter().position(|o| *o == r);
                    place.and_then(|n| u8::try_from(n).ok()).map(f32::from) == Some(value)
                }));
            }
        }
    }
    for (n, rule) in reading::Rule::ALL.into_iter().enumerate() {
        let places = usize::from(covered.contains(&Some(n)))
            + usize::from(
                READINGS_WITHOUT
                    .iter()
                    .any(|(r, why)| *r == rule && !why.is_empty()),
            );
        assert_eq!(
            places, 1,
            "{rule:?} is in {places} of: pairs, without a pair"
        );
    }
}
