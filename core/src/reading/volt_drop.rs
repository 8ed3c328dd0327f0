//! Measured volt drop, brought to the design current and to hot conductors: IEC 60364-6 6.4.3.11, BS 7671 643.11;
//! limits of BS 7671 Appendix 4 section 6.4, IEC 60364-5-52 Annex G (from memory), as in the profile.
//!
//! - By voltages: (U unloaded − U loaded) · Ib/I. Both voltages with their bands, so a small difference of two
//!   large readings is said to be as poorly known as it is.
//! - By impedances: (Z at the point − Z at the origin) · Ib, line to neutral.
//!
//! Both times the conductors' rise from the ambient temperature to that of service
//! ([`Design::hot_factor_neutral`]); a drop read under load is of conductors that are warm already, and then this
//! is too much rather than too little.

use super::{
    Design, Judged, Lacking, Rule, Test,
    interval::{Accuracy, Interval, Shown, interval},
};
use crate::network::Use;
use crate::profile::LoadClass;
use crate::verdict::{Sense, Unit};

/// Limit of the drop from the origin, in V; none for a distribution circuit.
#[must_use]
pub fn limit(design: &Design<'_>) -> Option<f32> {
    let c = design.circuit;
    if c.purpose == Use::Distribution {
        return None;
    }
    let lighting = c.purpose == Use::Lighting || c.load.class == LoadClass::Lighting;
    let share = if lighting {
        design.profile.drop_lighting
    } else {
        design.profile.drop_other
    };
    Some(share * design.source.u0)
}

fn judged(design: &Design<'_>, value: Option<f32>, i: Option<Interval>) -> Judged {
    let mut j = Judged::new(Test::VoltDrop, Rule::DropLimit, Unit::Volt, Sense::AtMost);
    j.value = value.filter(|v| v.is_finite());
    j.shown = j.value.map(Shown::Value);
    j.interval = i;
    if i.is_none() {
        return j.without(Lacking::READING);
    }
    if let Some(expected) = design.facts.drop {
        j = j.beside(expected, 0.0);
    }
    match limit(design) {
        Some(limit) => j.against(limit),
        None => j.without(Lacking::LIMIT),
    }
}

/// Where the readings are not all there.
pub(crate) fn untaken(design: &Design<'_>) -> Judged {
    let mut j = judged(design, None, None);
    j.limit = limit(design);
    j
}

/// By voltages at the furthest point, in V: unloaded, and with a load of `current` A there.
///
/// The unloaded one is taken with the circuit's load off and everything else as it is, so what is upstream counts
/// as far as this load makes it drop.
#[must_use]
pub fn by_voltages(
    design: &Design<'_>,
    unloaded: Shown,
    loaded: Shown,
    volts: &Accuracy,
    current: Shown,
    amps: &Accuracy,
) -> Judged {
    let (Some(ib), Some(f)) = (design.facts.ib, design.hot_factor_neutral()) else {
        return judged(design, None, None).without(Lacking::DESIGN_CURRENT);
    };
    let i = interval(current, amps);
    let value = (unloaded.figure() - loaded.figure()) * ib / current.figure() * f;
    let drop = interval(unloaded, volts).minus(interval(loaded, volts));
    let scaled = drop.map(|d| Interval {
        low: i.high.map_or(0.0, |most| d.low * ib / most * f),
        high: match d.high {
            Some(h) if i.low > 0.0 => Some(h * ib / i.low * f),
            _ => None,
        },
    });
    judged(design, Some(value), scaled)
}

/// By impedances line to neutral, in Ω: at the furthest point and at the origin.
#[must_use]
pub fn by_impedances(
    design: &Design<'_>,
    point: Shown,
    origin: Shown,
    accuracy: &Accuracy,
) -> Judged {
    let (Some(ib), Some(f)) = (design.facts.ib, design.hot_factor_neutral()) else {
        return judged(design, None, None).without(Lacking::DESIGN_CURRENT);
    };
    let value = (point.figure() - origin.figure()) * ib * f;
    let drop = interval(point, accuracy).minus(interval(origin, accuracy));
    judged(design, Some(value), drop.map(|d| d.map(|z| z * ib * f)))
}
