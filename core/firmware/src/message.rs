//! What the body of a frame says, in `postcard`.

use crate::frame::Broken;
use serde::{Deserialize, Serialize};

/// What was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Kind {
    /// Earth fault loop impedance at the furthest point, in Ω.
    Zs,
    /// R1 + R2 to the furthest point, in Ω.
    R1R2,
    /// Insulation resistance at the circuit's test voltage, in MΩ.
    Insulation,
    /// Operating time of the RCD at 5 IΔn, in s.
    RcdTime,
}

/// A reading.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// A number of the sender's, which comes back with the verdict.
    pub number: u32,
    /// Which circuit of the table.
    pub circuit: u8,
    /// What was measured.
    pub kind: Kind,
    /// The figure on the display.
    pub figure: f32,
    /// It was over range: more than the figure.
    pub above: bool,
}

/// What the instrument is asked.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Request<'a> {
    /// Judge a reading.
    Judge(Reading),
    /// How many frames there were.
    Status,
    /// A piece of a question of the vectors; the last one is answered. Built without them: [`Why::NoSuchRequest`].
    Piece {
        /// The question ends here.
        last: bool,
        /// The piece.
        bytes: &'a [u8],
    },
}

/// How it came out. Only the first is a pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Outcome {
    /// On the good side of the limit, whatever the instrument's uncertainty.
    Pass,
    /// Too near the limit for the instrument to tell.
    Doubtful,
    /// There is no limit to hold it against.
    CannotSay,
    /// On the bad side.
    Fail,
}

/// A reading with its verdict.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Verdict {
    /// The sender's number.
    pub number: u32,
    /// How it came out.
    pub outcome: Outcome,
    /// The limit, as it applies to the reading.
    pub limit: Option<f32>,
    /// The smallest true value the display allows.
    pub low: Option<f32>,
    /// The largest; none where it was over range.
    pub high: Option<f32>,
}

/// Why a whole frame was not answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Why {
    /// The table has no such circuit.
    NoSuchCircuit,
    /// The figure is no number, or none that is read.
    NoFigure,
    /// This build does not know it.
    NoSuchRequest,
    /// A question without its end, or one too long.
    NoQuestion,
    /// As it started a row of the evidence did not agree: nothing is judged.
    NotSound,
}

/// Frames so far, and the self-check.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Status {
    /// Rows of the evidence that agreed as it started.
    pub agreed: u16,
    /// Rows that did not.
    pub off: u16,
    /// Readings that got a verdict.
    pub verdicts: u32,
    /// Readings that were whole and refused.
    pub refused: u32,
    /// Frames that were not whole, or not understood.
    pub broken: u32,
}

/// What goes out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Reply<'a> {
    /// The verdict.
    Verdict(Verdict),
    /// A whole frame that can't be answered; the number, where it had one.
    Refused {
        /// The sender's number.
        number: u32,
        /// Why.
        why: Why,
    },
    /// A frame that was not whole, or not understood.
    Broken(Broken),
    /// Frames so far.
    Status(Status),
    /// A piece of the answer to a question of the vectors.
    Piece {
        /// The answer ends here.
        last: bool,
        /// The piece.
        bytes: &'a [u8],
    },
}
