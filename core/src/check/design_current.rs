//! Ib ≤ In: BS 7671 433.1.1 (i), IEC 60364-4-43 433.1 (from memory).

use super::{Case, finding};
use crate::facts::note;
use crate::network::Use;
use crate::verdict::{Check, Lacking, Recorder, Rule, Sense, Topic, Unit};

pub(crate) fn check<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) {
    let mut f = finding(
        case.place,
        Check::DesignCurrent,
        Rule::IbIn,
        Unit::Ampere,
        Sense::AtMost,
    );
    let rating = case.facts.rating;
    f.limit = Some(rating);
    match case.facts.ib {
        Some(ib) => {
            f.hold(ib, rating);
            note(
                rec,
                case.spot(Topic::DesignCurrent),
                Rule::IbIn,
                ib,
                Unit::Ampere,
                [ib, rating],
            );
        }
        None if case.circuit.purpose == Use::Distribution => f.lacking = Lacking::LOADS,
        None => f.lacking = Lacking::LOAD,
    }
    rec.finding(&f);
}
