//! The rated short-circuit capacity against the largest prospective fault current where the device sits:
//! BS 7671 434.5.1, IEC 60364-4-43 434.5.1 (from memory). An assembly's conditional rating, where its maker
//! gives one for the device upstream, counts in its place (BS EN 61439-3, from memory).

use super::{Case, finding, finite};
use crate::device::Device;
use crate::facts::Spot;
use crate::facts::note;
use crate::quantity::Amps;
use crate::source::Source;
use crate::verdict::{
    Assumed, Check, Finding, Lacking, Outcome, Place, Recorder, Rule, Sense, Topic, Unit,
};

pub(crate) fn check<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) -> Outcome {
    let f = judge(
        case.place,
        case.source,
        case.facts.ipf_max,
        case.circuit.device,
        case.conditional,
        rec,
    );
    rec.finding(&f);
    f.outcome
}

/// What it is held against, in amperes: its own rating, or the assembly's conditional one where that is more.
pub(crate) fn rated(device: Device, conditional: Option<Amps>) -> Option<f32> {
    let own = device.breaking().map(Amps::get);
    match (own, conditional.map(Amps::get)) {
        (Some(own), Some(c)) => Some(own.max(c)),
        (own, c) => own.or(c),
    }
}

pub(crate) fn judge<R: Recorder + ?Sized>(
    place: Place,
    source: &Source,
    largest: Option<f32>,
    device: Device,
    conditional: Option<Amps>,
    rec: &mut R,
) -> Finding {
    let mut f = finding(
        place,
        Check::Breaking,
        Rule::BreakingCapacity,
        Unit::Ampere,
        Sense::AtMost,
    );
    f.assumed = source.assumed_max;
    let limit = rated(device, conditional);
    f.assumed.set(
        Assumed::CONDITIONAL_RATING,
        limit != device.breaking().map(Amps::get),
    );
    match (largest, limit) {
        (Some(i), Some(limit)) => {
            note(
                rec,
                Spot::at(place, Topic::Breaking),
                Rule::BreakingCapacity,
                i,
                Unit::Ampere,
                [i, limit],
            );
            f = if source.level == Some(i) {
                // As it was stated: a device of just that capacity is good enough.
                f.against(i, limit)
            } else {
                f.against_worked(i, limit)
            };
        }
        (value, limit) => {
            f.value = value.and_then(finite);
            f.limit = limit;
            if value.is_none() {
                f.lacking |= source.lacking_max;
            }
            if limit.is_none() {
                f.lacking |= Lacking::BREAKING;
            }
        }
    }
    f
}
