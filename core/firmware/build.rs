//! Hands the linker the board's memory, and its script to the programs for a board.

use std::path::Path;
use std::{env, fs};

fn main() {
    println!("cargo:rerun-if-changed=instrument.x");
    println!("cargo:rerun-if-changed=probe.x");
    if env::var("CARGO_CFG_TARGET_OS").as_deref() != Ok("none") {
        return;
    }
    let out = env::var("OUT_DIR").expect("cargo sets it");
    fs::copy("instrument.x", Path::new(&out).join("memory.x")).expect("a place for memory.x");
    let here = env::var("CARGO_MANIFEST_DIR").expect("cargo sets it");
    println!("cargo:rustc-link-search={out}");
    println!("cargo:rustc-link-arg-bin=instrument=-Tlink.x");
    for probe in ["probe-zs", "probe-circuit", "probe-all"] {
        println!("cargo:rustc-link-arg-bin={probe}=-T{here}/probe.x");
    }
}
