//! Writes the rows the instrument checks itself by; hands the linker the board's memory, and its script to the
//! programs for a board.

use serde_json::Value;
use std::fmt::Write;
use std::path::Path;
use std::{env, fs};

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-changed=instrument.x");
    println!("cargo:rerun-if-changed=probe.x");
    let out = env::var("OUT_DIR").expect("cargo sets it");
    fs::write(Path::new(&out).join("rows.rs"), rows()).expect("a place for the rows");
    if env::var("CARGO_CFG_TARGET_OS").as_deref() != Ok("none") {
        return;
    }
    fs::copy("instrument.x", Path::new(&out).join("memory.x")).expect("a place for memory.x");
    let here = env::var("CARGO_MANIFEST_DIR").expect("cargo sets it");
    println!("cargo:rustc-link-search={out}");
    // Of the boards in QEMU: mps2, and virt, which has nothing but RAM.
    let riscv = env::var("CARGO_CFG_TARGET_ARCH").as_deref() == Ok("riscv32");
    let (flash, ram) = if riscv {
        ("0x80000000", "0x80400000")
    } else {
        ("0x00000000", "0x20000000")
    };
    let memory = format!(
        "MEMORY {{ FLASH : ORIGIN = {flash}, LENGTH = 4M  RAM : ORIGIN = {ram}, LENGTH = 4M }}\n"
    );
    fs::write(Path::new(&out).join("probe-memory.x"), memory).expect("a place for it");
    println!("cargo:rustc-link-arg-bin=instrument=-Tlink.x");
    for probe in ["probe-zs", "probe-circuit", "probe-all"] {
        println!("cargo:rustc-link-arg-bin={probe}=-T{here}/probe.x");
    }
}

/// The rows of `vectors/` that [`ask`] has a form for, as Rust.
fn rows() -> String {
    let mut list = String::new();
    let mut count = 0;
    for topic in ["conductors", "devices", "readings"] {
        let path = format!("../../vectors/{topic}.json");
        println!("cargo:rerun-if-changed={path}");
        let text = fs::read_to_string(&path).expect(&path);
        let file: Value = serde_json::from_str(&text).expect(&path);
        for row in file["rows"].as_array().expect("rows") {
            if let Some((ask, expected)) = ask(row).zip(expected(row)) {
                writeln!(list, "    row(Ask::{ask}, Expected::{expected}),").expect("a string");
                count += 1;
            }
        }
    }
    format!("/// The rows.\npub static ROWS: [Row; {count}] = [\n{list}];\n")
}

fn expected(row: &Value) -> Option<String> {
    let (expect, tolerance) = (&row["expect"], &row["tolerance"]);
    if let Some(word) = expect.as_str() {
        let verdict = match word {
            "pass" => "Pass",
            "doubtful" => "Doubtful",
            "fail" => "Fail",
            _ => return None,
        };
        return Some(format!("Verdict(Outcome::{verdict})"));
    }
    let tolerance = match (tolerance["abs"].as_f64(), tolerance["rel"].as_f64()) {
        (Some(abs), None) => format!("Abs({abs:?})"),
        (None, Some(rel)) => format!("Rel({rel:?})"),
        _ => return None,
    };
    let figure = expect.as_f64()?;
    Some(format!("Figure({figure:?}, Tolerance::{tolerance})"))
}

/// What the limits and verdicts of the instrument rest on: breakers, copper, and the readings it takes.
fn ask(row: &Value) -> Option<String> {
    let inputs = &row["inputs"];
    let text = |name: &str| inputs[name].as_str();
    let number = |name: &str| Some(format!("{name}: {:?}", inputs[name].as_f64()?));
    let copper =
        || (text("material")? == "copper").then(|| "material: Material::Copper".to_owned());
    let (kind, fields) = match row["ask"].as_str()? {
        "max-zs" => {
            let family = match text("family")? {
                "breaker-b" => "Breaker(Curve::B)",
                "breaker-c" => "Breaker(Curve::C)",
                "rcbo-b" => "Rcbo(Curve::B)",
                "rcbo-c" => "Rcbo(Curve::C)",
                _ => return None,
            };
            let family = format!("family: Family::{family}");
            let rest = [
                number("rating")?,
                number("time")?,
                number("u0")?,
                number("cmin")?,
            ];
            ("MaxZs", [&[family], &rest[..]].concat())
        }
        "resistance-20" => ("Resistance20", vec![copper()?, number("csa")?]),
        "temperature-factor" => ("TemperatureFactor", vec![copper()?, number("temperature")?]),
        "insulation-least" => ("InsulationLeast", vec![number("voltage")?]),
        "rcd-time-latest" if text("kind")? == "a" => {
            let delay = match text("delay")? {
                "none" => "None",
                "selective" => "Selective",
                _ => return None,
            };
            let multiple = match inputs["multiple"].to_string().as_str() {
                "1" => "One",
                "2" => "Two",
                "5" => "Five",
                _ => return None,
            };
            let fields = vec![
                number("sensitivity")?,
                "kind: RcdType::A".to_owned(),
                format!("delay: RcdDelay::{delay}"),
                format!("multiple: Multiple::{multiple}"),
            ];
            ("RcdTimeLatest", fields)
        }
        "guard-band" => {
            let sense = match text("sense")? {
                "at-most" => "AtMost",
                "at-least" => "AtLeast",
                _ => return None,
            };
            let above = inputs["above"].as_f64();
            let shown = inputs["shown"].as_f64().or(above)?;
            let fields = vec![
                format!("shown: {shown:?}"),
                format!("above: {}", above.is_some()),
                format!("sense: Sense::{sense}"),
                number("limit")?,
                number("share")?,
                number("digits")?,
                number("resolution")?,
            ];
            ("GuardBand", fields)
        }
        _ => return None,
    };
    Some(format!("{kind} {{ {} }}", fields.join(", ")))
}
