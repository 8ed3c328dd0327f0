//! Steel wire armour of cables to BS 5467 and BS 6724, with stranded copper conductors.

use super::{Insulation, SIZES};
use crate::error::{Error, Field, Reason};
use crate::quantity::{OhmsPerKm, SquareMm};

/// The armour of a cable, as a protective conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Armour {
    /// Cross-sectional area of all its wires.
    pub area: SquareMm,
    /// Largest d.c. resistance at 20 °C.
    pub resistance_20: OhmsPerKm,
}

/// What a row has beside its size, in whole numbers, which take less.
#[derive(Clone, Copy)]
pub(super) struct Row {
    /// Of the two-core cable, in mm².
    area: u8,
    /// With 2, 3, 4 and 5 cores, in hundredths of an Ω/km; 0 where it is not known.
    hundredths: [u16; 4],
}

impl Row {
    pub(super) fn area(&self) -> f32 {
        f32::from(self.area)
    }

    /// In Ω/km.
    pub(super) fn resistance(&self, cores: u8) -> Option<f32> {
        let hundredths = self.hundredths.get(usize::from(cores.checked_sub(2)?))?;
        (*hundredths > 0).then_some(f32::from(*hundredths) / 100.0)
    }
}

/// In mm² and Ω/km.
const fn row(area: u8, [a, b, c, d]: [f32; 4]) -> Row {
    const fn hundredths(r: f32) -> u16 {
        let whole = (r * 100.0 + 0.5) as u16;
        assert!(whole as f32 / 100.0 == r);
        whole
    }
    Row {
        area,
        hundredths: [hundredths(a), hundredths(b), hundredths(c), hundredths(d)],
    }
}

/// Areas: read in a cable maker's sheet of BS 5467; they keep to the bound by the wire and diameters printed
/// in the standard. Resistances: read in a handbook to BS 7671 up to 6 mm²; above from memory, supported by
/// the areas (none is below 154 Ω·mm²/km over the area, the largest product of the rows that were read).
const ROWS: [Row; 12] = [
    row(15, [10.2, 9.5, 8.8, 8.2]),  // 1.5
    row(17, [8.8, 8.2, 7.7, 6.8]),   // 2.5
    row(19, [7.9, 7.5, 6.8, 6.2]),   // 4.0
    row(22, [7.0, 6.7, 4.3, 3.9]),   // 6.0
    row(26, [6.0, 4.0, 3.7, 0.0]),   // 10.0
    row(42, [3.7, 3.5, 3.1, 0.0]),   // 16.0
    row(42, [3.7, 2.5, 2.3, 0.0]),   // 25.0
    row(60, [2.6, 2.3, 2.0, 0.0]),   // 35.0
    row(68, [2.3, 2.0, 1.8, 0.0]),   // 50.0
    row(80, [2.0, 1.8, 1.2, 0.0]),   // 70.0
    row(113, [1.4, 1.3, 1.1, 0.0]),  // 95.0
    row(125, [1.3, 1.2, 0.76, 0.0]), // 120.0
];

/// From 1.5 mm² on.
pub(super) fn rows() -> impl Iterator<Item = (&'static f32, &'static Row)> {
    SIZES.split_at(1).1.iter().zip(&ROWS)
}

/// Smallest area times resistance of the two-core cables in [`ROWS`] (2.5 mm²), in Ω·mm²/km.
pub(super) const AREA_TIMES_RESISTANCE: f32 = 149.6;

/// Steel wire armour by the line conductor and the number of cores.
///
/// With three cores and more the area is 149.6 Ω·mm²/km over the resistance, or that of the two-core cable,
/// which is thinner, where that is larger (3 × 120 mm²). The remembered areas (16, 19, 20, 23, 39, 45, 62, 68,
/// 78, 90, 128, 141 mm² with three cores, 17, 20, 22, 36, 42, 50, 70, 78, 90, 131, 147, 206 with four) were
/// read nowhere; they agree with it and are never smaller, but by up to 13 % larger.
///
/// # Errors
/// [`Reason::OutOfTable`]: thermoplastic insulation (BS 6346 has other wires; no figure of it was read),
/// a size beyond 1.5 to 120 mm², cores other than 2 to 5, five cores above 6 mm².
pub fn armour(csa: SquareMm, cores: u8, insulation: Insulation) -> Result<Armour, Error> {
    if !cfg!(feature = "armour") {
        return Err(Reason::OutOfTable.at(Field::Construction));
    }
    if insulation != Insulation::Thermosetting90 {
        return Err(Reason::OutOfTable.at(Field::Insulation));
    }
    let (_, row) = rows()
        .find(|(size, _)| **size == csa.get())
        .ok_or(Reason::OutOfTable.at(Field::Csa))?;
    let resistance = row
        .resistance(cores)
        .ok_or(Reason::OutOfTable.at(Field::Cores))?;
    // With two cores the first is the larger one, by the choice of the constant.
    let area = row.area().max(AREA_TIMES_RESISTANCE / resistance);
    Ok(Armour {
        area: SquareMm::raw(area),
        resistance_20: OhmsPerKm::raw(resistance),
    })
}
