//! A job as it comes from a file: read, judged, its readings judged, searched and compared, whatever is in it.

use super::Random;
use faultpath_wasm::out::Out;
use faultpath_wasm::read::{read, tested};
use faultpath_wasm::value::Value;
use faultpath_wasm::{answer, earthing, readings, solutions};
use serde_json::{Value as Json, json};

/// Numbers of an answer are numbers.
fn sound(out: &Out) {
    match out {
        Out::Number(v) => assert!(v.is_finite(), "{v}"),
        Out::List(items) => items.iter().for_each(sound),
        Out::Fields(fields) => fields.iter().for_each(|(_, v)| sound(v)),
        _ => {}
    }
}

/// From the worst that is in an answer.
fn worst(judgement: &Out) -> &str {
    const ORDER: [&str; 4] = ["pass", "doubtful", "cannot-say", "fail"];
    let places = judgement.get("places").items();
    let outcomes = places.iter().filter_map(|p| p.get("outcome").text());
    let rank = |o: &str| {
        ORDER
            .iter()
            .position(|name| *name == o)
            .expect("an outcome")
    };
    outcomes.map(rank).max().map_or("pass", |n| ORDER[n])
}

/// Whether there was an installation in it.
pub fn job(data: &[u8]) -> bool {
    let Ok(value) = serde_json::from_slice::<Value>(data) else {
        return false;
    };
    let mut job = read(&value);
    let answered = answer::answer(read(&value));
    assert_eq!(answered, answer::answer(read(&value)));
    sound(&answered);
    let outcome = answered.get("outcome").text().expect("an outcome");
    if !job.errors.is_empty() || job.house.is_none() {
        assert_ne!(outcome, "pass", "with an error");
    }
    for judgement in answered.get("judgements").items() {
        // A pass of the whole is a pass of every place.
        if judgement.get("outcome").text() == Some("pass") {
            assert_eq!(worst(judgement), "pass");
        }
        if outcome == "pass" {
            assert_eq!(judgement.get("outcome").text(), Some("pass"));
        }
    }
    sound(&readings::readings(&job, &tested::tests(&value)));

    // The dear ones of one place, which the job's length chooses.
    let pick =
        |names: &[&str]| (!names.is_empty()).then(|| names[data.len() % names.len()].to_owned());
    let (circuit, board) = (pick(&job.circuits), pick(&job.boards));
    match (data.len() % 4, circuit, board) {
        (0, Some(circuit), _) if job.circuits.len() <= 12 => {
            let before = job.house.clone();
            sound(&solutions::solve(&mut job, 0, &circuit));
            // Not by ==: what is not known is no number.
            assert_eq!(format!("{before:?}"), format!("{:?}", job.house));
        }
        (1, _, Some(board)) => sound(&earthing::earthing(&mut job, &board)),
        (2, _, Some(board)) => sound(&earthing::electrode(
            &mut job,
            &board,
            Some(data.len() as f32),
        )),
        (3, Some(circuit), _) => {
            let place = answer::place_of(&job, "circuit", &circuit).expect("a circuit of the job");
            for (_, check) in answer::CHECKS {
                sound(&answer::working(
                    &job,
                    0,
                    place,
                    answer::Worked::Check(check),
                ));
            }
            for (_, figure) in answer::FIGURES {
                sound(&answer::working(
                    &job,
                    0,
                    place,
                    answer::Worked::Figure(figure),
                ));
            }
        }
        _ => {}
    }
    job.house.is_some()
}

/// Numbers that are an end of something.
const NUMBERS: [f64; 20] = [
    0.0, -0.0, 1.0, -1.0, 0.03, 0.5, 2.0, 2.5, 3.0, 6.0, 16.0, 32.0, 50.0, 100.0, 230.0, 1e-40,
    1e-5, 1e5, 1e9, 1e39,
];

/// Every value below one.
fn count(json: &Json) -> usize {
    1 + match json {
        Json::Array(items) => items.iter().map(count).sum(),
        Json::Object(fields) => fields.values().map(count).sum::<usize>(),
        _ => 0,
    }
}

/// The value of a number, counted as they stand.
fn nth<'j>(json: &'j mut Json, n: &mut usize) -> Option<&'j mut Json> {
    if *n == 0 {
        return Some(json);
    }
    *n -= 1;
    match json {
        Json::Array(items) => items.iter_mut().find_map(|v| nth(v, n)),
        Json::Object(fields) => fields.values_mut().find_map(|v| nth(v, n)),
        _ => None,
    }
}

/// Changes one value, mostly to one that another place of the job has.
fn change(job: &mut Json, random: &mut Random) -> Option<()> {
    let all = count(job);
    let other = nth(job, &mut random.below(all))?.clone();
    let here = nth(job, &mut random.below(all))?;
    let random_number = NUMBERS[random.below(NUMBERS.len())];
    match (random.below(8), here) {
        (0, here) => *here = Json::Null,
        (1, here) => *here = json!(random_number),
        (2, Json::Array(items)) if !items.is_empty() => {
            items.remove(random.below(items.len()));
        }
        (3, Json::Array(items)) if !items.is_empty() && items.len() < 40 => {
            items.push(items[random.below(items.len())].clone());
        }
        (4, Json::Object(fields)) if !fields.is_empty() => {
            let key = fields.keys().nth(random.below(fields.len()))?.clone();
            fields.remove(&key);
        }
        (5, Json::Number(n)) => *n = serde_json::Number::from_f64(n.as_f64()? * random_number)?,
        (_, Json::Bool(b)) => *b = !*b,
        (_, Json::Number(n)) => {
            let near = n.as_f64()? * (0.5 + random.below(1000) as f64 / 500.0);
            *n = serde_json::Number::from_f64(near)?;
        }
        (_, here) if count(&other) < 60 => *here = other,
        _ => return None,
    }
    Some(())
}

/// The text of a job with some of its values changed; none of what is no JSON.
///
/// Bytes changed anyhow are mostly no JSON any more.
pub fn changed(text: &[u8], random: &mut Random) -> Option<String> {
    let mut job = serde_json::from_slice::<Json>(text).ok()?;
    for _ in 0..=random.below(4) {
        let _ = change(&mut job, random);
    }
    Some(job.to_string())
}
