//! The rated short-circuit capacity against the largest prospective fault current where the device sits:
//! BS 7671 434.5.1, IEC 60364-4-43 434.5.1 (from memory). An assembly's conditional rating, where its maker
//! gives one for the device upstream, counts in its place (BS EN 61439-3, from memory).

use super::{Case, finding, finite};
use crate::device::Device;
use crate::facts::Spot;
use crate::facts::note;
use crate::quantity::Amps;
use crate::source::Source;
use crate::verdict::{Assumed, Check, Lacking, Outcome, Place, Recorder, Rule, Sense, Topic, Unit};

pub(crate) fn check<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) -> Outcome {
    judge(
        case.place,
        case.here.source,
        case.facts.ipf_max,
        &case.circuit.device,
        case.conditional,
        rec,
    )
}

/// What it is held against, in amperes: its own rating, or the assembly's conditional one where that is more.
pub(crate) fn rated(device: &Device, conditional: Option<Amps>) -> Option<f32> {
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
    device: &Device,
    conditional: Option<Amps>,
    rec: &mut R,
) -> Outcome {
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
            if source.level == Some(i) {
                // As it was stated: a device of just that capacity is good enough.
                f.hold(i, limit);
            } else {
                f.hold_worked(i, limit);
            }
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
    rec.finding(&f);
    f.outcome
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::device::{Curve, Family};
    use crate::profile::Profile;
    use crate::quantity::Volts;
    use crate::supply::{Earthing, FaultLevel, Origin, Phases, Supply, SupplyEarthing};
    use crate::verdict::{Finding, Report};

    fn source() -> Source {
        let supply = Supply {
            u0: Volts::raw(230.0),
            phases: Phases::Single,
            earthing: SupplyEarthing::Known(Earthing::TnS),
            ze: None,
            ze_origin: Origin::Measured,
            ra: None,
            fault_level: FaultLevel::NotKnown,
            x_over_r: None,
            device: None,
            neutral: None,
            tails: None,
            earthing_conductor: None,
            extraneous: false,
            bonding: None,
        };
        Source::at_origin(&supply, Earthing::TnS, &Profile::IEC)
    }

    fn at(
        own: Option<f32>,
        conditional: Option<f32>,
        level: Option<f32>,
        largest: Option<f32>,
    ) -> Finding {
        let device = Device::new(Family::Breaker(Curve::B), Amps::raw(16.0)).unwrap();
        let device = own.map_or(device, |i| device.with_breaking(Amps::raw(i)));
        let mut source = source();
        source.level = level;
        let conditional = conditional.map(Amps::raw);
        let mut told = Report::<1>::default();
        let outcome = judge(
            Place::Supply,
            &source,
            largest,
            &device,
            conditional,
            &mut told,
        );
        let f = told.findings[0];
        assert_eq!(f.outcome, outcome);
        f
    }

    #[test]
    fn the_level_as_stated_may_be_the_rating_a_worked_out_one_only_nearly() {
        let rated = Some(6000.0);
        assert_eq!(at(rated, None, rated, rated).outcome, Outcome::Pass);
        assert_eq!(
            at(rated, None, Some(6000.5), Some(6000.5)).outcome,
            Outcome::Fail
        );
        assert_eq!(at(rated, None, Some(9000.0), rated).outcome, Outcome::Fail);
        assert_eq!(
            at(rated, None, Some(9000.0), Some(5999.9)).outcome,
            Outcome::Pass
        );
    }

    #[test]
    fn the_assembly_s_rating_counts_only_where_it_is_more_and_is_then_said() {
        let i = Some(9000.0);
        let f = at(Some(6000.0), Some(10_000.0), i, i);
        assert_eq!((f.outcome, f.limit), (Outcome::Pass, Some(10_000.0)));
        assert!(f.assumed.contains(Assumed::CONDITIONAL_RATING));
        let f = at(Some(10_000.0), Some(6000.0), i, i);
        assert_eq!((f.outcome, f.limit), (Outcome::Pass, Some(10_000.0)));
        assert!(!f.assumed.contains(Assumed::CONDITIONAL_RATING));
    }

    #[test]
    fn all_that_is_lacking_is_said() {
        let f = at(None, None, None, None);
        assert_eq!(f.lacking, Lacking::FAULT_LEVEL | Lacking::BREAKING);
        assert_eq!(at(None, None, None, Some(900.0)).lacking, Lacking::BREAKING);
        let f = at(Some(6000.0), None, None, None);
        assert_eq!((f.lacking, f.limit), (Lacking::FAULT_LEVEL, Some(6000.0)));
        assert_eq!(f.outcome, Outcome::CannotSay);
    }
}
