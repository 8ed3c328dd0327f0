//! Steel wire armour of cables to BS 5467 and BS 6724, with stranded copper conductors.

use super::Insulation;
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

pub(super) struct Row {
    pub(super) csa: f32,
    /// Of the two-core cable, in mm².
    pub(super) area: f32,
    /// With 2, 3, 4 and 5 cores, in Ω/km; 0 where it is not known.
    pub(super) resistance: [f32; 4],
}

const fn row(csa: f32, area: f32, resistance: [f32; 4]) -> Row {
    Row {
        csa,
        area,
        resistance,
    }
}

/// Areas: read in a cable maker's sheet of BS 5467; they keep to the bound by the wire and diameters printed
/// in the standard. Resistances: read in a handbook to BS 7671 up to 6 mm²; above from memory, supported by
/// the areas (none is below 154 Ω·mm²/km over the area, the largest product of the rows that were read).
pub(super) const TABLE: [Row; 12] = [
    row(1.5, 15.0, [10.2, 9.5, 8.8, 8.2]),
    row(2.5, 17.0, [8.8, 8.2, 7.7, 6.8]),
    row(4.0, 19.0, [7.9, 7.5, 6.8, 6.2]),
    row(6.0, 22.0, [7.0, 6.7, 4.3, 3.9]),
    row(10.0, 26.0, [6.0, 4.0, 3.7, 0.0]),
    row(16.0, 42.0, [3.7, 3.5, 3.1, 0.0]),
    row(25.0, 42.0, [3.7, 2.5, 2.3, 0.0]),
    row(35.0, 60.0, [2.6, 2.3, 2.0, 0.0]),
    row(50.0, 68.0, [2.3, 2.0, 1.8, 0.0]),
    row(70.0, 80.0, [2.0, 1.8, 1.2, 0.0]),
    row(95.0, 113.0, [1.4, 1.3, 1.1, 0.0]),
    row(120.0, 125.0, [1.3, 1.2, 0.76, 0.0]),
];

/// Smallest area times resistance of the two-core cables in [`TABLE`] (2.5 mm²), in Ω·mm²/km.
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
    let row = TABLE
        .iter()
        .find(|row| row.csa == csa.get())
        .ok_or(Reason::OutOfTable.at(Field::Csa))?;
    let resistance = cores
        .checked_sub(2)
        .and_then(|column| row.resistance.get(usize::from(column)))
        .copied()
        .filter(|r| *r > 0.0)
        .ok_or(Reason::OutOfTable.at(Field::Cores))?;
    // With two cores the first is the larger one, by the choice of the constant.
    let area = row.area.max(AREA_TIMES_RESISTANCE / resistance);
    Ok(Armour {
        area: SquareMm::raw(area),
        resistance_20: OhmsPerKm::raw(resistance),
    })
}
