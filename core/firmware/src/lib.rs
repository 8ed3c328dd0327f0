//! A small add-on of a test instrument: readings come in over a serial line, the limits of each circuit are in a
//! fixed table, the verdict goes out.
//!
//! - [`frame`]: bytes of the line to bodies and back; what is not whole is refused, the next zero byte is a new start.
//! - [`message`]: what a body says.
//! - [`table`]: the circuits, what they may read at most or at least, and the verdict.
//! - [`samples`]: circuits and a supply of a few figures, for the table and for the probes.
//! - [`self_check`]: rows of `vectors/` that are asked as it starts; where one does not agree nothing is judged.
//! - `evidence`: the questions of `vectors/` in pieces over the same line (feature `evidence`, for the tests).
//!
//! All of it runs on a desk as well; `src/bin` is what needs a board.
#![no_std]
#![forbid(unsafe_code)]

#[cfg(feature = "evidence")]
extern crate alloc;
#[cfg(test)]
extern crate std;

#[cfg(feature = "evidence")]
pub mod evidence;
pub mod frame;
pub mod message;
pub mod samples;
pub mod self_check;
pub mod table;
