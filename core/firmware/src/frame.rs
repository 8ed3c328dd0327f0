//! Frames on the line: COBS of `length, body, checksum`, then a zero byte.
//!
//! | bytes | what |
//! |---|---|
//! | 2 | length of the body, the low byte first |
//! | length | the body |
//! | 4 | CRC-32 (ISO-HDLC) of length and body, the low byte first |
//!
//! COBS leaves no zero byte inside, so a zero byte always is an end, and after anything at all the next one is where
//! to start anew. A sender writes one in front too, and empty frames are none.
//!
//! ```
//! use faultpath_firmware::frame::{Decoder, encode};
//! let mut line = [0; 32];
//! let n = encode(b"hello", &mut line).unwrap();
//! let mut decoder: Decoder<32> = Decoder::new();
//! let mut got = None;
//! for byte in line.iter().take(n) {
//!     if let Some(body) = decoder.push(*byte) {
//!         got = Some(body.unwrap().len());
//!     }
//! }
//! assert_eq!(got, Some(5));
//! ```

use crc::{CRC_32_ISO_HDLC, Crc, NoTable};
use serde::{Deserialize, Serialize};

/// Slow and small: a frame is short.
const CHECKSUM: Crc<u32, NoTable> = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC);

/// Longest body.
pub const BODY: usize = 240;
/// Longest frame before COBS.
const PLAIN: usize = 2 + BODY + 4;
/// Room that any frame needs on the line, both zero bytes included.
pub const LINE: usize = PLAIN + 5;

/// Why a frame was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Broken {
    /// Longer than any frame is.
    TooLong,
    /// Not what COBS makes.
    Coding,
    /// Shorter than length and checksum.
    TooShort,
    /// The length it says is not the one it has.
    Length,
    /// The checksum is another one.
    Checksum,
    /// Whole, but nothing that is understood.
    Body,
}

/// Puts the frames of a line together, byte by byte.
#[derive(Clone, Debug)]
pub struct Decoder<const N: usize> {
    bytes: [u8; N],
    count: usize,
    full: bool,
    fresh: bool,
}

impl<const N: usize> Default for Decoder<N> {
    fn default() -> Self {
        Self::new()
    }
}

impl<const N: usize> Decoder<N> {
    /// Waits for the first frame.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            bytes: [0; N],
            count: 0,
            full: false,
            fresh: true,
        }
    }

    /// Takes a byte; gives the body of a frame that it ends, or why that was none.
    pub fn push(&mut self, byte: u8) -> Option<Result<&[u8], Broken>> {
        if self.fresh {
            self.count = 0;
            self.full = false;
            self.fresh = false;
        }
        if byte != 0 {
            match self.bytes.get_mut(self.count) {
                Some(to) => {
                    *to = byte;
                    self.count += 1;
                }
                None => self.full = true,
            }
            return None;
        }
        self.fresh = true;
        if self.count == 0 {
            return None;
        }
        Some(self.body())
    }

    fn body(&mut self) -> Result<&[u8], Broken> {
        if self.full {
            return Err(Broken::TooLong);
        }
        let line = self.bytes.get_mut(..self.count).ok_or(Broken::TooLong)?;
        let plain = cobs::decode_in_place(line).map_err(|_| Broken::Coding)?;
        let frame = self.bytes.get(..plain).ok_or(Broken::Coding)?;
        let (said, checksum) = frame.split_last_chunk::<4>().ok_or(Broken::TooShort)?;
        let (length, body) = said.split_first_chunk::<2>().ok_or(Broken::TooShort)?;
        if usize::from(u16::from_le_bytes(*length)) != body.len() {
            return Err(Broken::Length);
        }
        if CHECKSUM.checksum(said) != u32::from_le_bytes(*checksum) {
            return Err(Broken::Checksum);
        }
        Ok(body)
    }
}

/// Writes a frame, zero bytes at both ends, and gives its length; none where the body is longer than [`BODY`] or the
/// room too small.
#[must_use]
pub fn encode(body: &[u8], line: &mut [u8]) -> Option<usize> {
    let mut plain = [0; PLAIN];
    let length = u16::try_from(body.len()).ok()?;
    let said = 2 + body.len();
    plain.get_mut(..2)?.copy_from_slice(&length.to_le_bytes());
    plain.get_mut(2..said)?.copy_from_slice(body);
    let checksum = CHECKSUM.checksum(plain.get(..said)?);
    let end = said + 4;
    plain
        .get_mut(said..end)?
        .copy_from_slice(&checksum.to_le_bytes());
    *line.first_mut()? = 0;
    let coded = cobs::try_encode(plain.get(..end)?, line.get_mut(1..)?).ok()?;
    *line.get_mut(1 + coded)? = 0;
    Some(coded + 2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::vec::Vec;

    fn line_of(body: &[u8]) -> Vec<u8> {
        let mut line = [0; LINE];
        let n = encode(body, &mut line).expect("a frame");
        line[..n].to_vec()
    }

    fn decoded(line: &[u8]) -> Vec<Result<Vec<u8>, Broken>> {
        let mut decoder: Decoder<LINE> = Decoder::new();
        line.iter()
            .filter_map(|b| decoder.push(*b).map(|r| r.map(<[u8]>::to_vec)))
            .collect()
    }

    #[test]
    fn there_and_back() {
        for n in 0..=BODY {
            for fill in [0, 1, 255, 7] {
                let body: Vec<u8> = (0..n)
                    .map(|k| if fill == 7 { k as u8 } else { fill })
                    .collect();
                assert_eq!(decoded(&line_of(&body)), [Ok(body)]);
            }
        }
        assert_eq!(encode(&[0; BODY + 1], &mut [0; 2 * LINE]), None);
        assert_eq!(encode(&[1; 9], &mut [0; 12]), None);
    }

    #[test]
    fn the_checksum_is_the_usual_one() {
        assert_eq!(CHECKSUM.checksum(b"123456789"), 0xCBF4_3926);
    }

    /// Any one bit, any one byte left out or put in: never a body, and what follows is whole.
    #[test]
    fn one_thing_wrong_is_seen_and_the_next_frame_is_whole() {
        let good = line_of(b"\x00\x01reading\x00");
        let next = line_of(b"next");
        let after = |bad: Vec<u8>| {
            let mut line = bad;
            line.extend(&next);
            let got = decoded(&line);
            assert_eq!(got.last(), Some(&Ok(b"next".to_vec())));
            assert!(
                got.iter().rev().skip(1).all(Result::is_err),
                "{line:?}: {got:?}"
            );
        };
        // Between the zero bytes; those themselves only join or part frames.
        for at in 1..good.len() - 1 {
            for bit in 0..8 {
                let mut bad = good.clone();
                bad[at] ^= 1 << bit;
                after(bad);
            }
            let mut bad = good.clone();
            bad.remove(at);
            after(bad);
            let mut bad = good.clone();
            bad.insert(at, 0x55);
            after(bad);
            after(good[..at].to_vec());
        }
        after([0xAA; 3 * LINE].to_vec());
    }

    #[test]
    fn each_refusal_has_its_reason() {
        let mut wrong = [0; LINE];
        let mut raw = |plain: &[u8]| {
            let n = cobs::encode(plain, &mut wrong);
            let mut line = wrong[..n].to_vec();
            line.push(0);
            decoded(&line)
        };
        assert_eq!(raw(b"abc"), [Err(Broken::TooShort)]);
        assert_eq!(raw(b"\x09\x00abcd\x00\x00\x00\x00"), [Err(Broken::Length)]);
        assert_eq!(
            raw(b"\x04\x00abcd\x00\x00\x00\x00"),
            [Err(Broken::Checksum)]
        );
        assert_eq!(decoded(&[9, 1, 0]), [Err(Broken::Coding)]);
        assert_eq!(
            decoded(&[[1; LINE + 1].as_slice(), &[0]].concat()),
            [Err(Broken::TooLong)]
        );
        assert_eq!(decoded(&[0; 50]), []);
    }
}
