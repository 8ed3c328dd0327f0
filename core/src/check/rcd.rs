//! Additional protection by an RCD of 30 mA: sockets up to 32 A, mobile equipment outdoors, rooms with a
//! bath or shower, cables concealed in walls, lighting in dwellings (BS 7671 411.3.3, 411.3.4, 415.1,
//! 522.6.202, 701.411.3.3; IEC 60364-4-41:2017 411.3.3, 411.3.4; from memory).

use super::{Case, finding, finite};
use crate::device::RcdDelay;
use crate::facts::note;
use crate::network::Use;
use crate::verdict::{Check, Lacking, Outcome, Recorder, Rule, Sense, Topic, Unit};

/// Whether a circuit is asked to have one.
pub(crate) fn asked(case: &Case<'_>) -> bool {
    let c = case.circuit;
    // A limit that is not known lets none off.
    let up_to = case.here.profile.sockets_up_to;
    let up_to = up_to.is_nan() || case.facts.rating <= up_to;
    match c.purpose {
        Use::Distribution => c.concealed,
        Use::Sockets => up_to || c.bath || c.concealed,
        Use::Lighting => c.dwelling || c.bath || c.concealed || (c.outdoors && up_to),
        Use::Fixed => c.bath || c.concealed || (c.outdoors && up_to),
    }
}

pub(crate) fn check<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) {
    if !asked(case) {
        return;
    }
    let limit = case.here.profile.additional_protection;
    let mut f = finding(
        case.place,
        Check::Rcd,
        Rule::AdditionalProtection,
        Unit::Ampere,
        Sense::AtMost,
    );
    f.limit = finite(limit);
    // One with a delay is not additional protection.
    let best = case
        .rcds()
        .filter(|r| r.delay() == RcdDelay::None)
        .map(|r| r.sensitivity().get())
        .fold(f32::INFINITY, f32::min);
    if best.is_finite() {
        f.hold(best, limit);
        f.assumed = case.rcd_assumption();
        note(
            rec,
            case.spot(Topic::Rcd),
            Rule::AdditionalProtection,
            best,
            Unit::Ampere,
            [best, limit],
        );
    } else {
        f.lacking = Lacking::RCD;
        if limit.is_finite() && case.here.profile.sockets_up_to.is_finite() {
            f.outcome = Outcome::Fail;
        }
    }
    rec.finding(&f);
}
