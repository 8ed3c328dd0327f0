//! RA·IΔn ≤ 50 V where the system is TT: BS 7671 411.5.3, IEC 60364-4-41 411.5.3 (from memory).
//!
//! Without an RCD there is no finding here: then the whole loop must be low enough for the overcurrent
//! device, which the check of disconnection judges.

use super::{Case, finding, finite};
use crate::facts::note;
use crate::supply::Earthing;
use crate::verdict::{Assumed, Check, Lacking, Recorder, Rule, Sense, Topic, Unit};

pub(crate) fn check<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) {
    if case.here.source.earthing != Earthing::Tt {
        return;
    }
    // The most sensitive one sets the voltage that may stand.
    let sensitivity = case
        .rcds()
        .map(|r| r.sensitivity().get())
        .fold(f32::INFINITY, f32::min);
    if sensitivity.is_infinite() {
        return;
    }
    let limit = case.here.profile.touch_voltage;
    let mut f = finding(
        case.place,
        Check::Electrode,
        Rule::TouchVoltage,
        Unit::Volt,
        Sense::AtMost,
    );
    f.limit = finite(limit);
    f.assumed = case.rcd_assumption() | (case.here.source.assumed_loop & Assumed::RA_FROM_LOOP);
    match (case.here.source.ra, case.facts.protective) {
        (Some(ra), Some(own)) => {
            // RA is the electrode with its conductor; what the circuit adds up to the exposed part counts too.
            let total = ra + (case.here.source.protective + own).hot.r;
            let volts = total * sensitivity;
            note(
                rec,
                case.spot(Topic::Electrode),
                Rule::TouchVoltage,
                volts,
                Unit::Volt,
                [total, sensitivity, limit],
            );
            f.hold_worked(volts, limit);
        }
        (None, _) => f.lacking = Lacking::RA,
        (_, None) => f.lacking = Lacking::PROTECTIVE,
    }
    rec.finding(&f);
}
