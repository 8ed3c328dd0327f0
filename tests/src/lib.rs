//! The evidence: reads every row of `vectors/`, puts its question to the native build, and holds the answer
//! against what the row expects.
//!
//! How a row is written is said in `vectors/README.md`.

pub mod floor;
pub mod fuzz;
pub mod report;
pub mod sub_main;
pub mod vectors;
