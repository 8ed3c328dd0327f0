//! Bytes of a line, whatever they are: nothing but a whole frame is taken, and the next whole one always is.

use faultpath_firmware::frame::{Broken, Decoder, LINE, encode};
use faultpath_firmware::message::{Outcome, Request};
use faultpath_firmware::table::Instrument;
use std::sync::LazyLock;

static INSTRUMENT: LazyLock<Instrument> = LazyLock::new(Instrument::new);

/// What comes of a line, frame by frame.
fn frames(line: &[u8]) -> Vec<Result<Vec<u8>, Broken>> {
    let mut decoder: Decoder<LINE> = Decoder::new();
    let bodies = line
        .iter()
        .filter_map(|byte| decoder.push(*byte).map(|f| f.map(<[u8]>::to_vec)));
    bodies.collect()
}

/// Whether it was one that got a verdict.
fn request(body: &[u8]) -> bool {
    let Ok(Request::Judge(reading)) = postcard::from_bytes(body) else {
        return false;
    };
    let Ok(verdict) = INSTRUMENT.clone().judge(&reading) else {
        return false;
    };
    assert_eq!(verdict.number, reading.number);
    // A pass has a limit, and an end of its band that can be held against it.
    if verdict.outcome == Outcome::Pass {
        let limit = verdict.limit.expect("a pass without a limit");
        let low = verdict.low.expect("a pass without a reading");
        assert!(
            verdict.high.is_some_and(|high| high <= limit) || low >= limit,
            "{verdict:?}"
        );
    }
    true
}

/// Whether a reading in it was judged.
pub fn frame(data: &[u8]) -> bool {
    let mut judged = false;
    // As a line.
    for body in frames(data).into_iter().flatten() {
        judged |= request(&body);
        let mut again = [0; LINE];
        let n = encode(&body, &mut again).expect("a body that came in a frame fits one");
        assert_eq!(frames(&again[..n]), [Ok(body)]);
    }

    // As a body, and behind anything.
    judged |= request(data);
    let mut line = [0; LINE];
    let Some(n) = encode(data, &mut line) else {
        return judged;
    };
    assert_eq!(frames(&line[..n]), [Ok(data.to_vec())]);
    let behind = [data, &line[..n]].concat();
    assert_eq!(frames(&behind).last(), Some(&Ok(data.to_vec())));

    // With one bit changed it is no frame, or the frame that it was.
    let Some(first) = data.first() else {
        return judged;
    };
    let bit = usize::from(*first) * 31 % (8 * n);
    line[bit / 8] ^= 1 << (bit % 8);
    for body in frames(&line[..n]).into_iter().flatten() {
        assert_eq!(body, data);
    }
    judged
}
