//! Answers questions of the evidence, a JSON line each, from standard input to standard output.

use faultpath_wasm::evidence::ask;
use faultpath_wasm::value::Value;
use std::io::{BufRead, BufWriter, Write};

fn main() -> std::io::Result<()> {
    let mut out = BufWriter::new(std::io::stdout().lock());
    for line in std::io::stdin().lock().lines() {
        let question: Value = serde_json::from_str(&line?)?;
        serde_json::to_writer(&mut out, &ask(&question))?;
        writeln!(out)?;
    }
    out.flush()
}
