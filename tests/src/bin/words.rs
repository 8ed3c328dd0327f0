//! Writes the catalogue of a language: what the codes of an answer say.

use faultpath_wasm::catalogue::{LANGUAGES, catalogue};
use std::io::{BufWriter, Error, Write};

fn main() -> std::io::Result<()> {
    let language = std::env::args().nth(1).unwrap_or_default();
    let Some(words) = catalogue(&language) else {
        let text = format!("`words` takes a language: {}", LANGUAGES.join(", "));
        return Err(Error::other(text));
    };
    let mut out = BufWriter::new(std::io::stdout().lock());
    serde_json::to_writer(&mut out, &words)?;
    writeln!(out)?;
    out.flush()
}
