//! Continuity of protective conductors: R1 + R2, R2, armour, bonding (IEC 60364-6 6.4.3.2, BS 7671 643.2, from
//! memory). The standards ask for continuity and give no figure; the figure follows from the largest Zs.
//!
//! - R1 + R2: the largest with which the circuit, hot, stays within its largest Zs ([`Design::max_r1r2`]).
//! - R2: the same less R1 of the design.
//! - Armour: as R2 where it is the protective conductor; otherwise the band around the table's value.
//! - Bonding: the conductor's own resistance by length and size, and 0.05 Ω for its connections (common practice).
//! - Supplementary bonding: R ≤ 50 V/Ia (BS 7671 415.2.2, IEC 60364-4-41 415.2.2, from memory).
//!
//! **Beside the design** a reading far off is a finding: below, another metal path, a shorter or a larger
//! conductor; above, a loose joint, a longer or a smaller one. The band is 0.85 and 1.15 times the design, wider by
//! two steps of the display either way, and by 0.02 Ω for contacts above. A reading outside it is no pass until it
//! is explained: above always, below for what parallel paths can hide.

use super::{
    CONTACTS, Design, Judged, Lacking, Meaning, QuickRule, Rule, Side, Suspects, Test,
    interval::{Accuracy, Shown},
};
use crate::conductor::{self, Material, exact_temperature_factor, resistance_20};
use crate::error::Error;
use crate::network::{Part, Protective};
use crate::quantity::{Amps, Celsius, Metres, SquareMm, Volts};
use crate::supply::Conductor;
use crate::verdict::{Outcome, Sense, Unit};

/// What connections of a bonding conductor may add, in ohms: the 0.05 Ω of the trade (common practice).
pub const BONDING_CONNECTIONS: f32 = 0.05;

/// How near a ratio of resistances must be to that of two sizes, as a share, to name the size (own).
const SIZE_NEAR: f32 = 0.08;

fn slack(accuracy: &Accuracy) -> f32 {
    if accuracy.lead() == 0.0 {
        accuracy.fixed()
    } else {
        2.0 * accuracy.fixed()
    }
}

/// A reading of a conductor, held against a limit if there is one, else against the design's band.
fn conductor_reading(
    test: Test,
    rule: Rule,
    shown: Option<Shown>,
    accuracy: &Accuracy,
    limit: Option<f32>,
    expected: Option<f32>,
) -> Judged {
    let mut j = Judged::new(test, rule, Unit::Ohm, Sense::AtMost).read(shown, accuracy);
    if let Some(expected) = expected {
        j = j.beside(expected, accuracy.resolution());
    }
    j = match (limit, j.compared) {
        (Some(limit), _) => j.against(limit),
        (None, Some(c)) => {
            j.rule = Rule::DesignBand;
            j.against(c.high)
        }
        (None, None) => j.without(Lacking::LIMIT),
    };
    // Over range is no continuity, however much the limit would allow.
    if let (Some(Shown::Above(_)), Some(i)) = (shown, j.interval) {
        if j.compared.is_none_or(|c| i.low > c.high) {
            j.outcome = Outcome::Fail;
            j.meaning = Meaning::Open;
            j.suspects = Suspects::LOOSE_JOINT.union(Suspects::LEADS);
            return j;
        }
    }
    j.unless_strange(true, true)
}

/// R1 + R2 to the furthest point.
#[must_use]
pub fn r1r2(design: &Design<'_>, shown: impl Into<Option<Shown>>, accuracy: &Accuracy) -> Judged {
    let expected = design.r1r2();
    let mut j = conductor_reading(
        Test::R1R2,
        Rule::MaxR1R2,
        shown.into(),
        accuracy,
        design.max_r1r2(),
        expected,
    );
    if expected.is_none() {
        j = j.without(Lacking::PROTECTIVE);
    }
    j.suspects |= suspects(design, &j, true);
    j
}

/// R2 to the furthest point.
#[must_use]
pub fn r2(design: &Design<'_>, shown: impl Into<Option<Shown>>, accuracy: &Accuracy) -> Judged {
    protective(design, Test::R2, shown.into(), accuracy, design.r2())
}

/// The armour of the run, end to end.
#[must_use]
pub fn armour(design: &Design<'_>, shown: impl Into<Option<Shown>>, accuracy: &Accuracy) -> Judged {
    let shown = shown.into();
    let alone = design
        .circuit
        .sections
        .iter()
        .filter(|s| s.part == Part::Run)
        .all(|s| matches!(s.protective, Protective::Armour(_)));
    let expected = design.armour();
    if alone {
        return protective(design, Test::Armour, shown, accuracy, expected);
    }
    let mut j = conductor_reading(
        Test::Armour,
        Rule::DesignBand,
        shown,
        accuracy,
        None,
        expected,
    );
    if expected.is_none() {
        j.lacking = Lacking::ARMOUR;
    }
    j.suspects |= plain_suspects(&j);
    j
}

fn protective(
    design: &Design<'_>,
    test: Test,
    shown: Option<Shown>,
    accuracy: &Accuracy,
    expected: Option<f32>,
) -> Judged {
    let limit = match (design.max_r1r2(), design.r1()) {
        (Some(both), Some(line)) => Some((both - line).max(0.0)),
        _ => None,
    };
    let mut j = conductor_reading(test, Rule::MaxR2, shown, accuracy, limit, expected);
    if expected.is_none() {
        j = j.without(Lacking::PROTECTIVE);
    }
    j.suspects |= suspects(design, &j, false);
    j
}

/// What a reading on the wrong side of the design may come from, sizes aside.
fn plain_suspects(j: &Judged) -> Suspects {
    match j.compared.map(|c| c.side) {
        Some(Side::Above) => Suspects::MORE,
        Some(Side::Below) => Suspects::LESS,
        _ => Suspects::empty(),
    }
}

/// The same; a size is named only where the ratio is that of a neighbouring size.
fn suspects(design: &Design<'_>, j: &Judged, with_line: bool) -> Suspects {
    let (Some(c), Some(value)) = (j.compared, j.value) else {
        return Suspects::empty();
    };
    let mut s = plain_suspects(j);
    if c.side == Side::Within {
        return s;
    }
    // Of a run of unlike cables any could be the one: sizes stay.
    let mut runs = design
        .circuit
        .sections
        .iter()
        .filter(|s| s.part == Part::Run);
    let (Some(run), None) = (runs.next(), runs.next()) else {
        return s;
    };
    let Protective::Core(own) = run.protective else {
        return s;
    };
    let down = c.side == Side::Above;
    let line = step_ratio(run.material, run.csa, down);
    let core = step_ratio(own.material, own.csa, down);
    let (Some(r1), Some(r2)) = (design.r1(), design.r2()) else {
        return s;
    };
    let changed = |line: f32, core: f32| {
        if with_line {
            r1 * line + r2 * core
        } else {
            r2 * core
        }
    };
    let ratio = value - CONTACTS.min(0.5 * value);
    let near = |v: f32| (value - v).abs() <= SIZE_NEAR * v || (ratio - v).abs() <= SIZE_NEAR * v;
    let both = line.zip(core).is_some_and(|(l, p)| near(changed(l, p)));
    let by_line = with_line && line.is_some_and(|l| near(changed(l, 1.0)));
    let by_core = core.is_some_and(|p| near(changed(1.0, p)));
    if !both && !by_line && !by_core {
        s.remove(Suspects::SIZE);
    }
    s
}

/// Resistance of the next smaller (`down`) or larger size over that of this one.
fn step_ratio(material: Material, csa: SquareMm, down: bool) -> Option<f32> {
    let sizes = conductor::made(material);
    let at = sizes.iter().position(|s| *s == csa.get())?;
    let next = if down {
        sizes.get(at.checked_sub(1)?)?
    } else {
        sizes.get(at + 1)?
    };
    let next = resistance_20(material, SquareMm::raw(*next)).ok()?;
    Some(next.get() / resistance_20(material, csa).ok()?.get())
}

/// Which conductor a difference is in, where both R1 + R2 and R2 were read: the line where R1, their difference,
/// is outside its band, the protective conductor where R2 is. Both by the same share: the length.
#[must_use]
pub fn which(design: &Design<'_>, r1r2: f32, r2: f32, accuracy: &Accuracy) -> Suspects {
    let (Some(e1), Some(e2)) = (design.r1(), design.r2()) else {
        return Suspects::empty();
    };
    let slack = slack(accuracy);
    let side = |v: f32, e: f32, slack: f32| {
        if v > super::BAND_ABOVE * e + slack + CONTACTS {
            Side::Above
        } else if v < super::BAND_BELOW * e - slack {
            Side::Below
        } else {
            Side::Within
        }
    };
    let r1 = r1r2 - r2;
    let (s1, s2) = (side(r1, e1, 2.0 * slack), side(r2, e2, slack));
    let mut s = Suspects::empty();
    if s1 != Side::Within {
        s |= Suspects::LINE;
    }
    if s2 != Side::Within {
        s |= Suspects::PROTECTIVE;
    }
    let (q1, q2) = (r1 / e1, r2 / e2);
    let alike = (q1 - q2).abs() <= 0.1 * q1.max(q2) + 2.0 * slack / e1 + slack / e2;
    match (s1, s2) {
        (Side::Above, Side::Above) if alike => {
            s |= Suspects::MORE.difference(Suspects::LOOSE_JOINT)
        }
        (Side::Above, _) | (_, Side::Above) => s |= Suspects::MORE.difference(Suspects::LONGER),
        // Nothing runs beside an insulated line conductor.
        (Side::Within, Side::Below) => s |= Suspects::LESS.difference(Suspects::SHORTER),
        (Side::Below, _) => s |= Suspects::LESS.difference(Suspects::PARALLEL_PATH),
        (Side::Within, Side::Within) => {}
    }
    s
}

/// What a bonding conductor may show end to end at the ambient temperature, in ohms: its own resistance by length
/// and size (IEC 60228 at most), and [`BONDING_CONNECTIONS`].
///
/// # Errors
/// As [`resistance_20`].
pub fn bonding_limit(conductor: Conductor, length: Metres, ambient: Celsius) -> Result<f32, Error> {
    let own = resistance_20(conductor.material, conductor.csa)?.get() * length.get() / 1000.0;
    Ok(own * exact_temperature_factor(conductor.material, ambient) + BONDING_CONNECTIONS)
}

/// A bonding conductor end to end, from the main earthing terminal to the bonded part.
///
/// # Errors
/// As [`bonding_limit`].
pub fn bonding(
    conductor: Conductor,
    length: Metres,
    ambient: Celsius,
    shown: impl Into<Option<Shown>>,
    accuracy: &Accuracy,
) -> Result<Judged, Error> {
    let shown = shown.into();
    let limit = bonding_limit(conductor, length, ambient)?;
    let mut j = Judged::new(
        Test::Bonding,
        Rule::BondingByLength,
        Unit::Ohm,
        Sense::AtMost,
    )
    .read(shown, accuracy)
    .against(limit)
    .beside(limit - BONDING_CONNECTIONS, accuracy.resolution())
    .with_quick(QuickRule::Bonding, BONDING_CONNECTIONS);
    if shown.is_some_and(Shown::is_above) {
        j.outcome = Outcome::Fail;
        j.meaning = Meaning::Open;
    }
    j.suspects |= match (j.outcome, j.compared.map(|c| c.side)) {
        (Outcome::Fail, _) => Suspects::MORE,
        (_, Some(Side::Below)) => Suspects::PARALLEL_PATH,
        _ => Suspects::empty(),
    };
    // A path beside it hides whether it is there at all.
    Ok(j.unless_strange(false, true))
}

/// Supplementary bonding between parts touched together: R ≤ 50 V/Ia.
///
/// `ia` is the current that operates the device within 5 s, or IΔn of the RCD.
#[must_use]
pub fn supplementary(touch: Volts, ia: Amps, shown: Shown, accuracy: &Accuracy) -> Judged {
    Judged::new(
        Test::Bonding,
        Rule::BondingByTouch,
        Unit::Ohm,
        Sense::AtMost,
    )
    .read(Some(shown), accuracy)
    .against(touch.get() / ia.get())
}
