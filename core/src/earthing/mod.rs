//! Earthing of a building away from the house: what an electrode will be, how the ways of earthing a board
//! compare on the job's own figures, what metal does when the supply's neutral is lost.
//!
//! Soil is no conductor with a data sheet. What is computed here is a design figure; the electrode in the
//! ground is measured.

pub mod electrode;
pub mod lost_neutral;
pub mod options;
pub mod situations;

/// The smallest `f32` from `low` to `high` at which `good` holds, where it holds from some point upwards;
/// none where it does not hold at `high`. The neighbour below was tried and did not hold.
pub(crate) fn least(low: f32, high: f32, mut good: impl FnMut(f32) -> bool) -> Option<f32> {
    if good(low) {
        return Some(low);
    }
    if !good(high) {
        return None;
    }
    // Bits of positive numbers are in the order of the numbers.
    let (mut bad, mut found) = (low.to_bits(), high.to_bits());
    while found.saturating_sub(bad) > 1 {
        let middle = bad + (found - bad) / 2;
        if good(f32::from_bits(middle)) {
            found = middle;
        } else {
            bad = middle;
        }
    }
    Some(f32::from_bits(found))
}

/// The largest `f32` from `low` to `high` at which `good` holds, where it holds up to some point.
pub(crate) fn greatest(low: f32, high: f32, mut good: impl FnMut(f32) -> bool) -> Option<f32> {
    if good(high) {
        return Some(high);
    }
    if !good(low) {
        return None;
    }
    let (mut found, mut bad) = (low.to_bits(), high.to_bits());
    while bad.saturating_sub(found) > 1 {
        let middle = found + (bad - found) / 2;
        if good(f32::from_bits(middle)) {
            found = middle;
        } else {
            bad = middle;
        }
    }
    Some(f32::from_bits(found))
}
