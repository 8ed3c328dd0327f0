//! Main protective bonding: BS 7671 544.1.1 and Table 54.8 (figures read at second hand, see `vectors`).
//!
//! TN-C-S: by the size of the supply neutral, as the neutral's current may take that way. Otherwise half
//! the earthing conductor that is needed, 6 mm² at least, not more than 25 mm² of copper. Where the feed of
//! a board further away carries bonding current in its protective conductor, that must conduct as well as
//! the bonding conductor would.

use super::{earthing_conductor, finding};
use crate::conductor::{self, Material};
use crate::facts::{SectionFacts, Spot, note};
use crate::network::{Circuit, Protective};
use crate::quantity::SquareMm;
use crate::source::between;
use crate::supply::{Conductor, Earthing};
use crate::verdict::{Check, Finding, Lacking, Outcome, Place, Recorder, Rule, Sense, Topic, Unit};

/// Area of a metal that conducts as 1 mm² of copper does, in mm².
pub(crate) fn conductance_ratio(material: Material) -> f32 {
    material.resistivity() / Material::Copper.resistivity()
}

/// The copper size asked for, in mm², and the rule; or what is missing to say.
pub(crate) fn needed(
    earthing: Earthing,
    neutral: Option<SquareMm>,
    line: Option<SquareMm>,
) -> Result<(f32, Rule), Lacking> {
    match earthing {
        Earthing::TnCS => {
            let neutral = neutral.ok_or(Lacking::NEUTRAL)?;
            Ok((
                conductor::bonding_by_neutral(neutral).get(),
                Rule::BondingByNeutral,
            ))
        }
        Earthing::TnS | Earthing::Tt => {
            let line = line.ok_or(Lacking::TAILS)?;
            let half = 0.5 * earthing_conductor::by_line(line, Material::Copper);
            Ok((between(half, 6.0, 25.0), Rule::BondingByEarthing))
        }
    }
}

pub(crate) fn judge<R: Recorder + ?Sized>(
    place: Place,
    given: Option<Conductor>,
    needed: Result<(f32, Rule), Lacking>,
    rec: &mut R,
) -> Finding {
    let mut f = finding(
        place,
        Check::Bonding,
        Rule::BondingByNeutral,
        Unit::SquareMm,
        Sense::AtLeast,
    );
    f.value = given.map(|c| c.csa.get());
    match needed {
        Ok((copper, rule)) => {
            f.rule = rule;
            let ratio = given.map_or(1.0, |c| conductance_ratio(c.material));
            let limit = copper * ratio;
            f.limit = Some(limit);
            note(
                rec,
                Spot::at(place, Topic::Bonding),
                rule,
                limit,
                Unit::SquareMm,
                [copper, ratio],
            );
            match given {
                Some(c) if c.material == Material::Copper => f.hold(c.csa.get(), limit),
                Some(c) => f.hold_worked(c.csa.get(), limit),
                None => f.lacking = Lacking::BONDING,
            }
        }
        Err(lacking) => {
            f.lacking = lacking;
            if given.is_none() {
                f.lacking |= Lacking::BONDING;
            }
        }
    }
    f
}

/// The feed of a board whose bonding stands at its far end, TN-C-S.
pub(crate) fn feed<R: Recorder + ?Sized>(
    place: Place,
    circuit: &Circuit,
    sections: &[SectionFacts],
    needed: Result<(f32, Rule), Lacking>,
    rec: &mut R,
) -> Finding {
    let mut f = finding(
        place,
        Check::FeedBonding,
        Rule::FeedAsBonding,
        Unit::OhmPerKm,
        Sense::AtMost,
    );
    let copper = match needed {
        Ok((copper, _)) => copper,
        Err(lacking) => {
            f.lacking = lacking;
            return f;
        }
    };
    let Ok(limit) = conductor::resistance_20(Material::Copper, SquareMm::raw(copper)) else {
        f.lacking = Lacking::LIMIT;
        return f;
    };
    let limit = limit.get();
    f.limit = Some(limit);
    f.outcome = Outcome::Pass;
    let mut worst = 0.0;
    for (index, (s, own)) in (0u8..).zip(circuit.sections.iter().zip(sections)) {
        let Some(p) = own.protective else {
            f.outcome = Outcome::CannotSay;
            f.lacking = Lacking::PROTECTIVE;
            return f;
        };
        // Over the same length of copper of the size asked for, so that the same size gives the same bits.
        let per_km = limit * (p.cold.r / (limit * s.length.get() / 1000.0));
        // A conductor of a size of the table has that size's figure; what is entered per length was worked out here.
        let held = match s.protective {
            Protective::Core(_) | Protective::Separate(_) => per_km,
            _ => super::outwards(Sense::AtMost, per_km),
        };
        f.outcome = f.outcome.worse(super::held(Sense::AtMost, held, limit));
        let mut spot = Spot::at(place, Topic::FeedBonding);
        spot.section = Some(index);
        note(
            rec,
            spot,
            Rule::FeedAsBonding,
            per_km,
            Unit::OhmPerKm,
            [per_km, limit, copper],
        );
        if per_km > worst {
            worst = per_km;
            f.value = super::finite(per_km);
            f.section = Some(index);
        }
    }
    f
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verdict::Worst;

    fn given(material: Material, csa: f32) -> Option<Conductor> {
        let csa = SquareMm::raw(csa);
        Some(Conductor { material, csa })
    }

    fn at_supply(given: Option<Conductor>, needed: Result<(f32, Rule), Lacking>) -> Finding {
        judge(Place::Supply, given, needed, &mut Worst::default())
    }

    #[test]
    fn half_of_what_the_line_conductor_asks_between_6_and_25() {
        let size = |line| needed(Earthing::TnS, None, Some(SquareMm::raw(line)));
        for (line, copper) in [
            (10.0, 6.0),
            (16.0, 8.0),
            (35.0, 8.0),
            (40.0, 10.0),
            (70.0, 17.5),
            (150.0, 25.0),
        ] {
            assert_eq!(size(line), Ok((copper, Rule::BondingByEarthing)), "{line}");
        }
        assert_eq!(needed(Earthing::Tt, None, None), Err(Lacking::TAILS));
        assert_eq!(needed(Earthing::TnCS, None, None), Err(Lacking::NEUTRAL));
    }

    #[test]
    fn another_metal_must_conduct_as_well() {
        let ten = Ok((10.0, Rule::BondingByNeutral));
        assert_eq!(
            at_supply(given(Material::Copper, 10.0), ten).outcome,
            Outcome::Pass
        );
        // 28.264/17.241 = 1.639 times the size; steel 138/17.241 = 8.004 times.
        for (material, too_small, enough) in [
            (Material::Aluminium, 16.39, 16.4),
            (Material::Steel, 80.0, 80.1),
        ] {
            assert_eq!(
                at_supply(given(material, too_small), ten).outcome,
                Outcome::Fail
            );
            let f = at_supply(given(material, enough), ten);
            assert_eq!((f.outcome, f.value), (Outcome::Pass, Some(enough)));
        }
        // Worked out, so a hair more than the quotient itself.
        let limit = 10.0 * conductance_ratio(Material::Aluminium);
        assert_eq!(
            at_supply(given(Material::Aluminium, limit), ten).outcome,
            Outcome::Fail
        );
    }

    #[test]
    fn all_that_is_lacking_is_said() {
        let f = at_supply(None, Err(Lacking::NEUTRAL));
        assert_eq!(f.outcome, Outcome::CannotSay);
        assert_eq!(f.lacking, Lacking::NEUTRAL | Lacking::BONDING);
        let f = at_supply(given(Material::Copper, 10.0), Err(Lacking::NEUTRAL));
        assert_eq!(f.lacking, Lacking::NEUTRAL);
        let f = at_supply(None, Ok((10.0, Rule::BondingByNeutral)));
        assert_eq!((f.limit, f.lacking), (Some(10.0), Lacking::BONDING));
    }
}
