//! The circuits of the hut the instrument is tried in, what each may read, and the verdict.
//!
//! An amateur observatory on a hill, fed from the warden's house: here the board in the dome. The limits are worked
//! out by `faultpath` once, as the instrument starts; no formula and no limit of its own is here.

use crate::message::{Kind, Outcome, Reading, Status, Verdict, Why};
use crate::samples::{Wired, circuit, supply};
use crate::self_check::{self, ROWS as EVIDENCE, Row as Asked};
use faultpath::assess::assess_circuit;
use faultpath::conductor::Construction;
use faultpath::device::Curve;
use faultpath::network::Use;
use faultpath::profile::Profile;
use faultpath::quantity::{Celsius, Volts};
use faultpath::reading::interval::{believable, interval, judge};
use faultpath::reading::rcd::{Multiple, latest};
use faultpath::reading::{Accuracy, Design, Interval, Shown, insulation};
use faultpath::source::Source;
use faultpath::supply::Earthing;
use faultpath::verdict::{self, Sense, Worst};

/// Circuits of the table.
pub const CIRCUITS: usize = 4;

/// What one circuit may read; none where there is no limit, which is never a pass.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// Largest Zs, at the temperature of the test, in Ω.
    pub zs: Option<f32>,
    /// Largest R1 + R2, at the temperature of the test, in Ω.
    pub r1r2: Option<f32>,
    /// Least insulation resistance, in MΩ.
    pub insulation: Option<f32>,
    /// Longest operating time of its RCD at 5 IΔn, in s.
    pub rcd: Option<f32>,
}

const fn row(
    curve: Curve,
    rating: f32,
    rcd: Option<f32>,
    purpose: Use,
    csa: f32,
    protective: f32,
    metres: f32,
) -> Wired {
    Wired {
        curve,
        rating,
        rcd,
        purpose,
        csa,
        protective,
        metres,
        construction: Construction::FlatTwin,
        load: None,
    }
}

static ROWS: [Wired; CIRCUITS] = [
    row(Curve::B, 6.0, None, Use::Lighting, 1.5, 1.0, 24.0),
    row(Curve::B, 16.0, Some(0.03), Use::Sockets, 2.5, 1.5, 18.0),
    row(Curve::C, 10.0, Some(0.03), Use::Fixed, 1.5, 1.0, 9.0),
    row(Curve::B, 20.0, None, Use::Fixed, 4.0, 1.5, 12.0),
];

static PROFILE: Profile = Profile::UK;

/// Temperature of the conductors during the tests, in °C.
const AMBIENT: f32 = 10.0;

/// Zs was measured at the board in the dome: its feed is in it.
const ZE: f32 = 0.51;

fn limits(row: &Wired) -> Option<Limits> {
    let circuit = circuit(row)?;
    let source = Source::at_origin(&supply(ZE)?, Earthing::TnCS, &PROFILE);
    let (_, facts) =
        assess_circuit(&PROFILE, &source, &circuit, None, &mut Worst::default()).ok()?;
    let design = Design {
        profile: &PROFILE,
        source: &source,
        circuit: &circuit,
        facts: &facts,
        ambient: Celsius::new(AMBIENT).ok()?,
    };
    let mains = insulation::Class::Nominal(Volts::new(230.0).ok()?);
    Some(Limits {
        // By the device alone where its curve is known: an RCD that does not operate is no reason to pass.
        zs: design
            .max_zs()
            .and_then(|max| design.zs_cold(max.of_device.unwrap_or(max.limit))),
        r1r2: design.max_r1r2(),
        insulation: Some(insulation::required(mains).least),
        rcd: circuit.rcd.and_then(|rcd| latest(&rcd, Multiple::Five)),
    })
}

/// The table, and what has come so far.
#[derive(Clone, Debug)]
pub struct Instrument {
    table: [Limits; CIRCUITS],
    ohms: Option<Accuracy>,
    megohms: Option<Accuracy>,
    clock: Option<Accuracy>,
    /// Frames so far.
    pub status: Status,
}

impl Default for Instrument {
    fn default() -> Self {
        Self::new()
    }
}

impl Instrument {
    /// Checks itself and works out the limits.
    #[must_use]
    pub fn new() -> Self {
        Self::checked_by(&EVIDENCE)
    }

    fn checked_by(evidence: &[Asked]) -> Self {
        let (agreed, off) = self_check::run(evidence);
        let mut table = [Limits::default(); CIRCUITS];
        for (to, row) in table.iter_mut().zip(&ROWS) {
            *to = limits(row).unwrap_or_default();
        }
        Self {
            table,
            ohms: Accuracy::new(0.03, 5.0, 0.01).ok(),
            megohms: Accuracy::new(0.05, 2.0, 0.01).ok(),
            clock: Accuracy::new(0.02, 2.0, 0.001).ok(),
            status: Status {
                agreed,
                off,
                ..Status::default()
            },
        }
    }

    /// Every row of the evidence agreed, and there were some.
    const fn is_sound(&self) -> bool {
        self.status.off == 0 && self.status.agreed > 0
    }

    /// What each circuit may read.
    #[must_use]
    pub const fn table(&self) -> &[Limits; CIRCUITS] {
        &self.table
    }

    /// Judges a reading.
    ///
    /// # Errors
    /// For a circuit that is not in the table, or a figure that is none; always, where the self-check failed.
    pub fn judge(&mut self, reading: &Reading) -> Result<Verdict, Why> {
        let verdict = self.verdict(reading);
        match verdict {
            Ok(_) => self.status.verdicts = self.status.verdicts.wrapping_add(1),
            Err(_) => self.status.refused = self.status.refused.wrapping_add(1),
        }
        verdict
    }

    fn verdict(&self, reading: &Reading) -> Result<Verdict, Why> {
        if !self.is_sound() {
            return Err(Why::NotSound);
        }
        let limits = self
            .table
            .get(usize::from(reading.circuit))
            .ok_or(Why::NoSuchCircuit)?;
        let shown = if reading.above {
            Shown::above(reading.figure)
        } else {
            Shown::value(reading.figure)
        }
        .map_err(|_| Why::NoFigure)?;
        let (limit, sense, meter) = match reading.kind {
            Kind::Zs => (limits.zs, Sense::AtMost, &self.ohms),
            Kind::R1R2 => (limits.r1r2, Sense::AtMost, &self.ohms),
            Kind::Insulation => (limits.insulation, Sense::AtLeast, &self.megohms),
            Kind::RcdTime => (limits.rcd, Sense::AtMost, &self.clock),
        };
        let band: Option<Interval> = match meter {
            Some(meter) if believable(shown, meter) => Some(interval(shown, meter)),
            _ => None,
        };
        let outcome = match (band, limit) {
            (Some(band), Some(limit)) => judge(sense, band, limit),
            _ => verdict::Outcome::CannotSay,
        };
        Ok(Verdict {
            number: reading.number,
            outcome: match outcome {
                verdict::Outcome::Pass => Outcome::Pass,
                verdict::Outcome::Doubtful => Outcome::Doubtful,
                verdict::Outcome::CannotSay => Outcome::CannotSay,
                verdict::Outcome::Fail => Outcome::Fail,
            },
            limit,
            low: band.map(|b| b.low),
            high: band.and_then(|b| b.high),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outcome(circuit: u8, kind: Kind, figure: f32, above: bool) -> Result<Outcome, Why> {
        let reading = Reading {
            number: 7,
            circuit,
            kind,
            figure,
            above,
        };
        Instrument::new().judge(&reading).map(|v| v.outcome)
    }

    #[test]
    fn every_circuit_has_its_limits() {
        for (l, row) in Instrument::new().table().iter().zip(&ROWS) {
            let (zs, r1r2) = (l.zs.unwrap(), l.r1r2.unwrap());
            // Cold below the hot limit by what copper warms, and above 80 % of it.
            let hot = 0.95 * 230.0 / (row.rating * if row.curve == Curve::B { 5.0 } else { 10.0 });
            assert!(zs < hot && zs > 0.8 * hot, "{zs} {hot}");
            // Behind an RCD that allows far more.
            assert!(r1r2 > 0.0 && (row.rcd.is_some() || r1r2 < hot), "{r1r2}");
            assert_eq!(l.insulation, Some(1.0));
            assert_eq!(l.rcd, row.rcd.map(|_| 0.04));
        }
    }

    #[test]
    fn one_row_that_is_off_and_nothing_is_judged() {
        let good = Reading {
            number: 1,
            circuit: 1,
            kind: Kind::Zs,
            figure: 0.9,
            above: false,
        };
        let mut sound = Instrument::new();
        assert_eq!(usize::from(sound.status.agreed), EVIDENCE.len());
        assert!(sound.judge(&good).is_ok());
        for at in 0..EVIDENCE.len() {
            let mut rows = EVIDENCE;
            rows[at] = rows[at].spoilt();
            let mut off = Instrument::checked_by(&rows);
            assert_eq!(off.status.off, 1, "{:?}", rows[at]);
            assert_eq!(off.judge(&good), Err(Why::NotSound));
            assert_eq!((off.status.verdicts, off.status.refused), (0, 1));
        }
        // No evidence is none that agrees.
        assert_eq!(Instrument::checked_by(&[]).judge(&good), Err(Why::NotSound));
    }

    #[test]
    fn verdicts() {
        use Outcome::{CannotSay, Doubtful, Fail, Pass};
        assert_eq!(outcome(1, Kind::Zs, 0.9, false), Ok(Pass));
        assert_eq!(outcome(1, Kind::Zs, 2.9, false), Ok(Fail));
        assert_eq!(outcome(1, Kind::Zs, 2.4, false), Ok(Doubtful));
        assert_eq!(outcome(1, Kind::Zs, 20.0, true), Ok(Fail));
        assert_eq!(outcome(1, Kind::Zs, -3.0, false), Ok(CannotSay));
        assert_eq!(outcome(0, Kind::Insulation, 99.0, true), Ok(Pass));
        assert_eq!(outcome(0, Kind::Insulation, 0.4, false), Ok(Fail));
        assert_eq!(outcome(2, Kind::RcdTime, 0.021, false), Ok(Pass));
        assert_eq!(outcome(2, Kind::RcdTime, 0.06, false), Ok(Fail));
        // No RCD: no limit, no pass.
        assert_eq!(outcome(3, Kind::RcdTime, 0.021, false), Ok(CannotSay));
        assert_eq!(outcome(4, Kind::Zs, 0.9, false), Err(Why::NoSuchCircuit));
        assert_eq!(outcome(1, Kind::Zs, f32::NAN, false), Err(Why::NoFigure));
        assert_eq!(
            outcome(1, Kind::Zs, f32::INFINITY, true),
            Err(Why::NoFigure)
        );
    }
}
