//! Correction factors: ambient, grouping, thermal insulation, soil and depth.
//!
//! At a printed point the printed figure; between two points the safe side; outside them an error.

use super::{Arrangement, Method};
use crate::check::HAIR;
use crate::conductor::Insulation;
use crate::error::{Error, Field, Reason};
use crate::quantity::{Celsius, KelvinMetresPerWatt, Metres};

/// Hundredths by temperature, every 5 K from 10 °C on.
struct Ambient {
    hundredths: &'static [u8],
}

/// Spacing of the tables of temperature, in kelvin, and their first point, in °C.
const STEP: f32 = 5.0;
const FIRST: f32 = 10.0;

/// BS 7671 Table 4B1, 70 °C: 25 to 55 °C read (25 °C: 1.03, where IEC has 1.06: the smaller stands, and below
/// 25 °C, where BS prints nothing, it is not exceeded); 60 °C by the square-root law.
const AIR_70: Ambient = Ambient {
    hundredths: &[103, 103, 103, 103, 100, 94, 87, 79, 71, 61, 50],
};
/// BS 7671 Table 4B1, 90 °C: 25 °C from memory (IEC has 1.04); the others by the square-root law.
const AIR_90: Ambient = Ambient {
    hundredths: &[
        102, 102, 102, 102, 100, 96, 91, 87, 82, 76, 71, 65, 58, 50, 41,
    ],
};
/// BS 7671 Table 4B2, 70 °C: from memory, and by the square-root law.
const GROUND_70: Ambient = Ambient {
    hundredths: &[110, 105, 100, 95, 89, 84, 77, 71, 63, 55, 45],
};
/// BS 7671 Table 4B2, 90 °C: from memory, and by the square-root law.
const GROUND_90: Ambient = Ambient {
    hundredths: &[
        107, 104, 100, 96, 93, 89, 85, 80, 76, 71, 65, 60, 53, 46, 38,
    ],
};

impl Ambient {
    /// On a straight line between printed points: the law is concave, so the line stays below it.
    fn at(&self, theta: f32) -> Option<f32> {
        let place = (theta - FIRST) / STEP;
        if !(0.0..=100.0).contains(&place) {
            return None;
        }
        let below = place as u8;
        let share = place - f32::from(below);
        let at = |n| self.hundredths.get(n).map(|h| f32::from(*h) / 100.0);
        let low = at(usize::from(below))?;
        if share == 0.0 {
            return Some(low);
        }
        let high = at(usize::from(below) + 1)?;
        // f32 rounds: a hair less.
        Some((low + (high - low) * share) * (1.0 - HAIR))
    }
}

/// Correction for ambient temperature Ca: BS 7671 Table 4B1 in air, 4B2 in the ground
/// (IEC 60364-5-52 Tables B.52.14, B.52.15).
///
/// The tables follow √((θmax − θa)/(θmax − θref)), θref 30 °C in air and 20 °C in the ground, rounded to two
/// places; between their points a straight line. Below 25 °C in air the factor stays at the 1.03 or 1.02 of 25 °C.
/// [`Insulation::Thermoplastic90`] is taken as 70 °C, as its capacity is.
///
/// # Errors
/// [`Reason::OutOfTable`] at [`Field::Ambient`] below 10 °C, and above 60 °C (70 °C insulation) or 80 °C (90 °C).
pub fn ambient_factor(insulation: Insulation, theta: Celsius, ground: bool) -> Result<f32, Error> {
    let table = match (insulation == Insulation::Thermosetting90, ground) {
        (false, false) => &AIR_70,
        (false, true) => &GROUND_70,
        (true, false) => &AIR_90,
        (true, true) => &GROUND_90,
    };
    table
        .at(theta.get())
        .ok_or(Reason::OutOfTable.at(Field::Ambient))
}

/// Counts of circuits of Table 4C1.
const COUNTS: [u8; 11] = [2, 3, 4, 5, 6, 7, 8, 9, 12, 16, 20];
/// 4C1 in hundredths: bunched in air, on a surface, embedded or enclosed. Read.
const BUNCHED: [u8; 11] = [80, 70, 65, 60, 57, 54, 52, 50, 45, 41, 38];
/// 4C1: single layer on wall or floor. Read.
const WALL: [u8; 11] = [85, 79, 75, 73, 72, 72, 71, 70, 70, 70, 70];
/// 4C1: single layer on perforated tray. Read.
const TRAY: [u8; 11] = [88, 82, 77, 75, 73, 73, 72, 72, 72, 72, 72];
/// 4C1: single layer on ladder or cleats. Read.
const LADDER: [u8; 11] = [87, 82, 80, 80, 79, 79, 78, 78, 78, 78, 78];

/// Counts of circuits of Tables 4C2 and 4C3.
const BURIED_COUNTS: [u8; 5] = [2, 3, 4, 5, 6];
/// 4C2, direct in the ground: touching, from memory.
const GROUND_TOUCHING: [u8; 5] = [75, 65, 60, 55, 50];
/// 4C2: one diameter apart, from memory.
const GROUND_DIAMETER: [u8; 5] = [80, 70, 60, 55, 55];
/// 4C2: gaps in metres, falling, from memory.
const GROUND_GAPS: [(f32, [u8; 5]); 3] = [
    (0.5, [90, 85, 80, 80, 80]),
    (0.25, [90, 80, 75, 70, 70]),
    (0.125, [85, 75, 70, 65, 60]),
];
/// 4C3, in single-way ducts: touching, from memory.
const DUCT_TOUCHING: [u8; 5] = [85, 75, 70, 65, 60];
/// 4C3: gaps in metres, falling, from memory.
const DUCT_GAPS: [(f32, [u8; 5]); 3] = [
    (1.0, [95, 95, 90, 90, 90]),
    (0.5, [95, 90, 85, 85, 80]),
    (0.25, [90, 85, 80, 80, 80]),
];

/// The row of the largest printed gap that is not wider than the real one; closer than all of them: touching.
fn by_gap(
    gap: Metres,
    rows: &'static [(f32, [u8; 5])],
    touching: &'static [u8; 5],
) -> &'static [u8] {
    rows.iter()
        .find(|(printed, _)| gap.get() >= *printed)
        .map_or(touching, |(_, row)| row)
}

/// Correction for grouped circuits Cg: BS 7671 Tables 4C1 (in air), 4C2 (in the ground), 4C3 (in ducts).
///
/// `grouped` counts this circuit too. Between printed counts the next higher counts; a gap counts as the next
/// narrower printed one, and ducts one diameter apart as touching. The arrangement of a single circuit is not
/// looked at.
///
/// | arrangement | with |
/// |---|---|
/// | [`Arrangement::Bunched`] | every method but duct and ground |
/// | [`Arrangement::SingleLayerWall`] | clipped |
/// | [`Arrangement::SingleLayerTray`], [`Arrangement::Ladder`] | air |
/// | [`Arrangement::Touching`], [`Arrangement::GapDiameter`], [`Arrangement::Gap`] | duct, ground |
///
/// # Errors
/// At [`Field::Grouped`]: [`Reason::Zero`]; [`Reason::OutOfTable`] above 20 circuits, or 6 in the ground and in
/// ducts. [`Reason::Contradiction`] at [`Field::Arrangement`] where it does not fit the method.
pub fn grouping_factor(
    method: Method,
    grouped: u8,
    arrangement: Arrangement,
) -> Result<f32, Error> {
    match grouped {
        0 => return Err(Reason::Zero.at(Field::Grouped)),
        1 => return Ok(1.0),
        _ => {}
    }
    let (counts, row): (&[u8], &[u8]) = match (method, arrangement) {
        (Method::Ground, Arrangement::Touching) => (&BURIED_COUNTS, &GROUND_TOUCHING),
        (Method::Ground, Arrangement::GapDiameter) => (&BURIED_COUNTS, &GROUND_DIAMETER),
        (Method::Ground, Arrangement::Gap(gap)) => {
            (&BURIED_COUNTS, by_gap(gap, &GROUND_GAPS, &GROUND_TOUCHING))
        }
        (Method::Duct, Arrangement::Touching | Arrangement::GapDiameter) => {
            (&BURIED_COUNTS, &DUCT_TOUCHING)
        }
        (Method::Duct, Arrangement::Gap(gap)) => {
            (&BURIED_COUNTS, by_gap(gap, &DUCT_GAPS, &DUCT_TOUCHING))
        }
        (Method::Clipped, Arrangement::SingleLayerWall) => (&COUNTS, &WALL),
        (Method::Air, Arrangement::SingleLayerTray) => (&COUNTS, &TRAY),
        (Method::Air, Arrangement::Ladder) => (&COUNTS, &LADDER),
        (m, Arrangement::Bunched) if !m.is_buried() => (&COUNTS, &BUNCHED),
        _ => return Err(Reason::Contradiction.at(Field::Arrangement)),
    };
    counts
        .iter()
        .zip(row)
        .find(|(count, _)| **count >= grouped)
        .map(|(_, hundredths)| f32::from(*hundredths) / 100.0)
        .ok_or(Reason::OutOfTable.at(Field::Grouped))
}

/// Lengths in metres and factors in hundredths.
const INSULATION: [(f32, u8); 5] = [(0.05, 88), (0.1, 78), (0.2, 63), (0.4, 51), (0.5, 50)];
/// From 0.5 m on.
const SURROUNDED: f32 = 0.5;

/// Correction for a run through thermal insulation Ci: BS 7671 Table 52.2, by the length in the insulation.
///
/// 0.88, 0.78, 0.63, 0.51 up to 50, 100, 200, 400 mm (from memory), 0.50 above (0.50 read). Older editions
/// have 0.89, 0.81, 0.68, 0.55 (read): the smaller stand. Between two lengths that of the longer counts, for the
/// curve sags below a straight line.
#[must_use]
pub fn insulation_factor(run: Option<Metres>) -> f32 {
    let Some(run) = run else { return 1.0 };
    INSULATION
        .iter()
        .find(|(length, _)| run.get() <= *length)
        .map_or(SURROUNDED, |(_, hundredths)| f32::from(*hundredths) / 100.0)
}

/// Resistivity in K·m/W, hundredths in ducts, hundredths direct in the ground.
const SOIL: [(f32, u8, u8); 7] = [
    (0.5, 128, 188),
    (0.7, 120, 162),
    (1.0, 118, 150),
    (1.5, 110, 128),
    (2.0, 105, 112),
    (2.5, 100, 100),
    (3.0, 96, 90),
];

/// Correction for thermal resistivity of soil Cs: BS 7671 Table 4B3, IEC 60364-5-52 Table B.52.16; 1 in air.
///
/// All from memory, with nothing to support it but the law's shape. Whether the second column stands at 0.7 (IEC) or
/// 0.8 K·m/W (BS) is not sure: it is taken at 0.7, where it promises less. Between two columns that of the
/// poorer soil counts.
///
/// # Errors
/// At [`Field::SoilResistivity`]: [`Reason::Missing`] where it is needed and not given,
/// [`Reason::OutOfTable`] above 3 K·m/W.
pub fn soil_factor(method: Method, resistivity: Option<KelvinMetresPerWatt>) -> Result<f32, Error> {
    if !method.is_buried() {
        return Ok(1.0);
    }
    let soil = resistivity.ok_or(Reason::Missing.at(Field::SoilResistivity))?;
    SOIL.iter()
        .find(|(printed, _, _)| soil.get() <= *printed)
        .map(|(_, duct, direct)| if method == Method::Duct { duct } else { direct })
        .map(|hundredths| f32::from(*hundredths) / 100.0)
        .ok_or(Reason::OutOfTable.at(Field::SoilResistivity))
}

/// Depth in metres, hundredths.
const DEPTH: [(f32, u8); 4] = [(0.7, 100), (1.0, 97), (1.25, 95), (1.5, 94)];

/// Correction for depth of laying Cd: BS 7671 Table 4B4; 1 in air.
///
/// Low confidence: of this table only 0.7 m = 1.00 is firm. Less depth gives no more than 1; the figures of 1.0, 1.25
/// and 1.5 m (0.97, 0.95, 0.94) are remembered, those of cables direct in the ground being used for ducts too, for
/// they are smaller. They agree within 0.01 with √(1/(1 + 0.8·(ln(4L/D)/ln(4·0.7/D) − 1))), D 30 mm, the share of
/// soil in all the thermal resistance being 0.8. Between two depths that of the deeper counts.
///
/// # Errors
/// At [`Field::Depth`]: [`Reason::Missing`] where it is needed and not given, [`Reason::OutOfTable`] below 1.5 m.
pub fn depth_factor(method: Method, depth: Option<Metres>) -> Result<f32, Error> {
    if !method.is_buried() {
        return Ok(1.0);
    }
    let depth = depth.ok_or(Reason::Missing.at(Field::Depth))?;
    DEPTH
        .iter()
        .find(|(printed, _)| depth.get() <= *printed)
        .map(|(_, hundredths)| f32::from(*hundredths) / 100.0)
        .ok_or(Reason::OutOfTable.at(Field::Depth))
}
