//! Demand with diversity against the device in front of a board (common practice for the allowances).

use super::{finding, finite};
use crate::facts::{BoardFacts, Spot, note};
use crate::source::larger;
use crate::verdict::{Assumed, Check, Finding, Lacking, Place, Recorder, Rule, Sense, Topic, Unit};

/// Records the demand itself, which a board has whatever is in front of it.
pub(crate) fn note_demand<R: Recorder + ?Sized>(
    place: Place,
    facts: &BoardFacts,
    stated: bool,
    rec: &mut R,
) {
    if let Some([a, b, c]) = facts.demand {
        let rule = if stated {
            Rule::DemandStated
        } else {
            Rule::DemandSum
        };
        let spot = Spot::at(place, Topic::Demand);
        let largest = larger(larger(a, b), c);
        note(rec, spot, rule, largest, Unit::Ampere, [a, b, c]);
    }
}

/// `rating` is that of the device in front; none where it is not known.
pub(crate) fn judge<R: Recorder + ?Sized>(
    place: Place,
    facts: &BoardFacts,
    stated: bool,
    rating: Option<f32>,
    rec: &mut R,
) -> Finding {
    let mut f = finding(
        place,
        Check::Demand,
        Rule::DemandDevice,
        Unit::Ampere,
        Sense::AtMost,
    );
    f.limit = rating;
    if !stated {
        f.assumed = Assumed::DIVERSITY;
    }
    let spot = Spot::at(place, Topic::Demand);
    match (facts.demand, rating) {
        (Some([a, b, c]), Some(rating)) => {
            let largest = larger(larger(a, b), c);
            note(
                rec,
                spot,
                Rule::DemandDevice,
                largest,
                Unit::Ampere,
                [largest, rating],
            );
            f.hold(largest, rating);
        }
        (demand, rating) => {
            if let Some([a, b, c]) = demand {
                f.value = finite(larger(larger(a, b), c));
            } else {
                f.lacking |= Lacking::LOADS;
            }
            if rating.is_none() {
                f.lacking |= Lacking::INCOMING;
            }
        }
    }
    f
}
