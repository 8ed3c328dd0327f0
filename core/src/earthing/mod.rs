//! Earthing of a building away from the house: what an electrode will be, how the ways of earthing a board
//! compare on the job's own figures, what metal does when the supply's neutral is lost.
//!
//! Soil is no conductor with a data sheet. What is computed here is a design figure; the electrode in the
//! ground is measured.

pub mod electrode;
pub mod lost_neutral;
pub mod options;
pub mod situations;

use crate::verdict::Unit;

/// The formulas and rules used here; their words and sources are in `words::earthing_en`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Formula {
    /// One rod.
    Rod,
    /// Several rods.
    Rods,
    /// λ of several rods.
    Lambda,
    /// Plate.
    Plate,
    /// Level wire or tape.
    Tape,
    /// Foundation.
    Foundation,
    /// The factor for the seasons.
    Season,
    /// Typical resistivities.
    Soil,
    /// RA·IΔn.
    TouchVoltage,
    /// An RA that stays.
    Stable,
    /// Selectivity of two RCDs.
    Selectivity,
    /// Electrodes joined.
    Joined,
    /// Voltage on metal by a lost neutral, nothing leading away from it.
    LostOpen,
    /// The same, one phase and an electrode.
    LostSingle,
    /// The same, three phases.
    LostThree,
    /// The current it drives through an electrode.
    LostCurrent,
    /// The electrode that keeps it low.
    LostSought,
}

impl Formula {
    /// Every one.
    pub const ALL: [Formula; 17] = [
        Formula::Rod,
        Formula::Rods,
        Formula::Lambda,
        Formula::Plate,
        Formula::Tape,
        Formula::Foundation,
        Formula::Season,
        Formula::Soil,
        Formula::TouchVoltage,
        Formula::Stable,
        Formula::Selectivity,
        Formula::Joined,
        Formula::LostOpen,
        Formula::LostSingle,
        Formula::LostThree,
        Formula::LostCurrent,
        Formula::LostSought,
    ];
}

/// A line of working: a formula, what goes in by the numbers its template gives them, what comes out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worked {
    /// Which.
    pub formula: Formula,
    /// What goes in, in plain SI; none that is a number where there is none.
    pub operands: [f32; 4],
    /// What comes out.
    pub value: f32,
    /// In what.
    pub unit: Unit,
}

impl Worked {
    fn new(formula: Formula, given: &[f32], value: f32, unit: Unit) -> Self {
        let mut operands = [f32::NAN; 4];
        for (to, from) in operands.iter_mut().zip(given) {
            *to = *from;
        }
        Self {
            formula,
            operands,
            value,
            unit,
        }
    }
}

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

#[cfg(test)]
mod tests;
