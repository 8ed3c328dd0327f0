//! Volt drop from the origin to the furthest point of a final circuit, as a share of U0: limits of
//! BS 7671 Appendix 4 section 6.4 and IEC 60364-5-52 Annex G, 3 % lighting and 5 % other (from memory),
//! editable in the profile. A distribution circuit has no limit of its own; its drop counts in every
//! circuit behind it.

use super::{Case, finding, finite};
use crate::facts::note;
use crate::network::Use;
use crate::profile::LoadClass;
use crate::verdict::{Check, Lacking, Recorder, Rule, Sense, Topic, Unit};

pub(crate) fn check<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) {
    if case.circuit.purpose == Use::Distribution {
        return;
    }
    let lighting =
        case.circuit.purpose == Use::Lighting || case.circuit.load.class == LoadClass::Lighting;
    let limit = if lighting {
        case.here.profile.drop_lighting
    } else {
        case.here.profile.drop_other
    };
    let mut f = finding(
        case.place,
        Check::VoltDrop,
        Rule::DropLimit,
        Unit::Share,
        Sense::AtMost,
    );
    f.assumed = case.facts.assumed;
    f.limit = finite(limit);
    match case.facts.drop {
        Some(volts) => {
            let share = volts / case.here.source.u0;
            note(
                rec,
                case.spot(Topic::Drop),
                Rule::DropLimit,
                share,
                Unit::Share,
                [volts, case.here.source.u0, limit],
            );
            f.hold_worked(share, limit);
        }
        None if case.facts.ib.is_none() => f.lacking = Lacking::LOAD,
        None => f.lacking = Lacking::UPSTREAM,
    }
    rec.finding(&f);
}
