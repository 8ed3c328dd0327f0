//! The answers of a lesson are what the verdict has of the same circuit.

use faultpath::lesson::{Exercise, Given, Kind, exercise};
use faultpath_wasm::answer::answer;
use faultpath_wasm::read::read;
use faultpath_wasm::value::Value;
use serde_json::json;

type Json = serde_json::Value;

fn given(x: &Exercise, what: Given) -> Option<f32> {
    x.given.iter().find(|(g, _)| *g == what).map(|(_, v)| *v)
}

/// The motor's circuit of the example, of single cores, at the origin, with the figures of the exercise.
fn job(x: &Exercise) -> Json {
    let mut job: Json =
        serde_json::from_str(include_str!("../../web/src/example-job.json")).unwrap();
    let circuits = job["circuits"].as_array_mut().unwrap();
    circuits.retain(|c| c["id"] == "motor");
    let circuit = &mut circuits[0];
    circuit["board"] = json!("house");
    circuit["shape"] = json!(if matches!(x.kind, Kind::RingR1R2 | Kind::DropRing) {
        "ring"
    } else {
        "radial"
    });
    let load = &mut circuit["load"];
    load["power_factor"] = json!(given(x, Given::PowerFactor).unwrap_or(1.0));
    load["power"] = json!(given(x, Given::Power));
    load["current"] = json!(given(x, Given::Ib));
    load["points"] = json!(given(x, Given::Points).unwrap_or(1.0));
    let section = &mut circuit["sections"][0];
    if let Some(csa) = given(x, Given::Line) {
        section["csa"] = json!(csa);
    }
    if let Some(csa) = given(x, Given::Protective) {
        section["protective"]["csa"] = json!(csa);
    }
    if let Some(length) = given(x, Given::Length).or(given(x, Given::RingLength)) {
        section["length"] = json!(length);
    }
    job["boards"]
        .as_array_mut()
        .unwrap()
        .retain(|b| b["id"] == "house");
    job
}

fn fact(job: &Json, name: &str) -> f64 {
    let value: Value = serde_json::from_value(job.clone()).unwrap();
    let said = serde_json::to_value(answer(read(&value))).unwrap();
    assert_eq!(said["errors"], json!([]), "{said}");
    let places = said["judgements"][0]["places"].as_array().unwrap();
    let place = places.iter().find(|p| p["place"]["id"] == "motor").unwrap();
    let facts = place["facts"].as_array().unwrap();
    facts.iter().find(|f| f["fact"] == name).unwrap()["value"]
        .as_f64()
        .unwrap()
}

#[test]
fn what_is_asked_is_what_the_verdict_has() {
    for seed in 0..20 {
        for (kind, name) in [
            (Kind::R1R2, "r1r2"),
            (Kind::RingR1R2, "r1r2"),
            (Kind::DesignCurrent, "ib"),
            (Kind::DropRadial, "drop-full"),
            (Kind::DropSpread, "drop-full"),
            (Kind::DropRing, "drop-full"),
        ] {
            let x = exercise(kind, seed, 0, 0);
            let mut expected = fact(&job(&x), name);
            // The example's cable is one of 70 °C.
            if name == "drop-full" {
                let r20 = faultpath::conductor::resistance_20(
                    faultpath::conductor::Material::Copper,
                    faultpath::quantity::SquareMm::new(given(&x, Given::Line).unwrap()).unwrap(),
                );
                let milli = f64::from(given(&x, Given::MilliVolts).unwrap());
                expected *= milli / (2.4 * f64::from(r20.unwrap().get()));
            }
            let answer = f64::from(x.answer);
            assert!(
                (answer / expected - 1.0).abs() < 1e-4,
                "{kind:?} {seed}: {answer} {expected}"
            );
        }
    }
}
