//! What the instrument asks itself as it starts: the rows of `vectors/` on what its limits and verdicts rest on,
//! compiled in by the build script.

use faultpath::conductor::{self, Material};
use faultpath::device::{Curve, Device, Family, Known, Rcd, RcdDelay, RcdType, max_zs};
use faultpath::evidence::{Tolerance, held};
use faultpath::quantity::{Amps, Celsius, Ratio, Seconds, SquareMm, Volts};
use faultpath::reading::insulation::{Class, required};
use faultpath::reading::interval::{interval, judge};
use faultpath::reading::rcd::{Multiple, latest};
use faultpath::reading::{Accuracy, Shown};
use faultpath::verdict::{Outcome, Sense};

/// A question, in the units of `vectors/`.
#[derive(Clone, Copy, Debug)]
pub enum Ask {
    /// Largest Zs of a device.
    MaxZs {
        /// Kind of device.
        family: Family,
        /// In.
        rating: f32,
        /// Disconnection time.
        time: f32,
        /// U0.
        u0: f32,
        /// cmin.
        cmin: f32,
    },
    /// Resistance of a conductor at 20 °C.
    Resistance20 {
        /// Metal.
        material: Material,
        /// Area.
        csa: f32,
    },
    /// Resistance at a temperature over that at 20 °C.
    TemperatureFactor {
        /// Metal.
        material: Material,
        /// Temperature.
        temperature: f32,
    },
    /// Least insulation resistance.
    InsulationLeast {
        /// Nominal voltage.
        voltage: f32,
    },
    /// Longest operating time of an RCD.
    RcdTimeLatest {
        /// IΔn.
        sensitivity: f32,
        /// What it is sensitive to.
        kind: RcdType,
        /// Delay.
        delay: RcdDelay,
        /// The test current in IΔn.
        multiple: Multiple,
    },
    /// A display against a limit.
    GuardBand {
        /// The display.
        shown: f32,
        /// It was over range.
        above: bool,
        /// The good side of the limit.
        sense: Sense,
        /// The limit.
        limit: f32,
        /// Operating uncertainty as a share.
        share: f32,
        /// Its digits.
        digits: f32,
        /// A step of the display.
        resolution: f32,
    },
}

/// What a row expects.
#[derive(Clone, Copy, Debug)]
pub enum Expected {
    /// A figure within a tolerance.
    Figure(f64, Tolerance),
    /// A verdict.
    Verdict(Outcome),
}

/// A row of `vectors/`.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// The question.
    pub ask: Ask,
    /// The answer.
    pub expected: Expected,
}

const fn row(ask: Ask, expected: Expected) -> Row {
    Row { ask, expected }
}

include!(concat!(env!("OUT_DIR"), "/rows.rs"));

enum Came {
    Figure(f32),
    Verdict(Outcome),
}

fn known<T>(known: Known<T>) -> Option<T> {
    match known {
        Known::Value(v) => Some(v),
        Known::NotKnown(_) => None,
    }
}

fn answer(ask: &Ask) -> Option<Came> {
    Some(Came::Figure(match *ask {
        Ask::MaxZs {
            family,
            rating,
            time,
            u0,
            cmin,
        } => {
            let device = Device::new(family, Amps::new(rating).ok()?).ok()?;
            let (time, u0) = (Seconds::new(time).ok()?, Volts::new(u0).ok()?);
            known(max_zs(&device, time, u0, Ratio::new(cmin).ok()?))?.get()
        }
        Ask::Resistance20 { material, csa } => {
            conductor::resistance_20(material, SquareMm::new(csa).ok()?)
                .ok()?
                .get()
        }
        Ask::TemperatureFactor {
            material,
            temperature,
        } => conductor::temperature_factor(material, Celsius::new(temperature).ok()?),
        Ask::InsulationLeast { voltage } => {
            required(Class::Nominal(Volts::new(voltage).ok()?)).least
        }
        Ask::RcdTimeLatest {
            sensitivity,
            kind,
            delay,
            multiple,
        } => latest(
            &Rcd::new(Amps::new(sensitivity).ok()?, kind, delay).ok()?,
            multiple,
        )?,
        Ask::GuardBand {
            shown,
            above,
            sense,
            limit,
            share,
            digits,
            resolution,
        } => {
            let shown = if above {
                Shown::above(shown)
            } else {
                Shown::value(shown)
            };
            let accuracy = Accuracy::new(share, digits, resolution).ok()?;
            let band = interval(shown.ok()?, &accuracy);
            return Some(Came::Verdict(judge(sense, band, limit)));
        }
    }))
}

fn agrees(row: &Row) -> bool {
    match (answer(&row.ask), row.expected) {
        (Some(Came::Figure(v)), Expected::Figure(expected, tolerance)) => {
            held(v, expected, tolerance).agrees
        }
        (Some(Came::Verdict(v)), Expected::Verdict(expected)) => v == expected,
        _ => false,
    }
}

/// How many rows agree, and how many do not.
#[must_use]
pub fn run(rows: &[Row]) -> (u16, u16) {
    let (mut agreed, mut off) = (0u16, 0u16);
    for row in rows {
        let count = if agrees(row) { &mut agreed } else { &mut off };
        *count = count.saturating_add(1);
    }
    (agreed, off)
}

#[cfg(test)]
impl Row {
    /// The same row expecting something else.
    pub fn spoilt(&self) -> Row {
        let expected = match self.expected {
            Expected::Figure(v, tolerance) => {
                Expected::Figure(v + 2.01 * tolerance.around(v) + 1e-3 * v, tolerance)
            }
            Expected::Verdict(Outcome::Pass) => Expected::Verdict(Outcome::Fail),
            Expected::Verdict(_) => Expected::Verdict(Outcome::Pass),
        };
        row(self.ask, expected)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_agree_and_each_kind_is_there() {
        assert_eq!(run(&ROWS), (u16::try_from(ROWS.len()).unwrap(), 0));
        let kinds: [fn(&Ask) -> bool; 6] = [
            |a| matches!(a, Ask::MaxZs { .. }),
            |a| matches!(a, Ask::Resistance20 { .. }),
            |a| matches!(a, Ask::TemperatureFactor { .. }),
            |a| matches!(a, Ask::InsulationLeast { .. }),
            |a| matches!(a, Ask::RcdTimeLatest { .. }),
            |a| matches!(a, Ask::GuardBand { .. }),
        ];
        for (at, kind) in kinds.iter().enumerate() {
            let found = ROWS.iter().filter(|row| kind(&row.ask)).count();
            assert!(found >= 4, "kind {at}: {found}");
        }
    }
}
