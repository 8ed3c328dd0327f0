//! What makes a design worse never shows as better.

use crate::any::{House, between, house, mm2, section};
use crate::{Seen, config, readings};
use faultpath::conductor::made;
use faultpath::facts::CircuitFacts;
use faultpath::network::{CircuitId, Demand, Part, Phase, Protective, Section, Use};
use faultpath::quantity::{Amps, Metres, Ohms, Watts};
use faultpath::solve::set_csa;
use faultpath::supply::{FaultLevel, Origin};
use faultpath::verdict::{Check, Lacking, Outcome, Place};
use proptest::prelude::*;
use proptest::sample::Index;
use std::collections::BTreeMap;

/// Outcomes of the checks named, by place.
fn of(seen: &Seen, checks: &[Check]) -> BTreeMap<String, (Outcome, Place)> {
    seen.outcomes()
        .into_iter()
        .filter(|((_, check), _)| checks.contains(check))
        .map(|((place, check), outcome)| (format!("{place:?} {check:?}"), (outcome, place)))
        .collect()
}

/// No check named comes out better in `worse` than in `better`.
fn none_better(worse: &Seen, better: &Seen, checks: &[Check]) -> Result<(), TestCaseError> {
    let (worse, better) = (of(worse, checks), of(better, checks));
    prop_assert_eq!(
        worse.keys().collect::<Vec<_>>(),
        better.keys().collect::<Vec<_>>()
    );
    for (key, (outcome, _)) in &worse {
        prop_assert!(*outcome >= better[key].0, "{} is {:?}", key, outcome);
    }
    Ok(())
}

/// A figure that is the greater the worse. One that is not known any more is no improvement.
fn not_less(name: &str, worse: Option<f32>, better: Option<f32>) -> Result<(), TestCaseError> {
    if let (Some(w), Some(b)) = (worse, better) {
        prop_assert!(w >= b, "{}: {} where it was {}", name, w, b);
    }
    prop_assert!(worse.is_none() || better.is_some(), "{name} became known");
    Ok(())
}

/// The drop at the load's temperature, which is not monotone to the last bit: above 16 mm² the a.c. factor falls as
/// the resistance rises with temperature, and where the rise is a thousandth of a degree their product can come
/// out a step of f32 lower (seen: 5.9e-2 by one step, 240 mm²). Four steps are allowed; the verdict none.
fn drop_not_less(name: &str, worse: Option<f32>, better: Option<f32>) -> Result<(), TestCaseError> {
    let least = better.map(|b| b * (1.0 - 4.0 * f32::EPSILON));
    not_less(name, worse, least)
}

fn loop_not_less(
    house: &House,
    at: usize,
    w: &CircuitFacts,
    b: &CircuitFacts,
) -> Result<(), TestCaseError> {
    not_less("Zs", w.zs, b.zs)?;
    // Of two spurs the one with the greater loop when hot is meant, which need not be the greater one cold.
    if house.circuits[at].sections.len() < 3 {
        not_less("R1+R2", w.r1r2_cold, b.r1r2_cold)?;
    }
    Ok(())
}

fn figures_not_less(house: &House, worse: &Seen, better: &Seen) -> Result<(), TestCaseError> {
    for (id, w) in &worse.circuits {
        let b = &better.circuits[id];
        loop_not_less(house, usize::from(*id), w, b)?;
        drop_not_less("drop", w.drop, b.drop)?;
        not_less("drop, full", w.drop_full, b.drop_full)?;
        drop_not_less("drop, load", w.drop_load, b.drop_load)?;
    }
    Ok(())
}

/// Checks that a longer cable can only make worse. The others may gain: what a device must break, and what
/// a conductor must stand near the board, falls with the fault current.
const BY_LENGTH: &[Check] = &[
    Check::VoltDrop,
    Check::Disconnection,
    Check::Electrode,
    Check::Capacity,
    Check::Overload,
    Check::DesignCurrent,
    Check::Rcd,
];

proptest! {
    #![proptest_config(config())]

    /// Every section of a circuit longer by the same factor.
    #[test]
    fn a_longer_circuit_is_never_better(house in house(), which in any::<Index>(), factor in between(1.0, 5.0)) {
        let short: House = house;
        let mut long = short.clone();
        let at = which.index(long.circuits.len());
        for s in &mut long.circuits[at].sections {
            s.length = Metres::new(s.length.get() * factor).unwrap();
        }
        for earthing in readings(&short) {
            let (_, better) = Seen::of(&short, *earthing);
            let (_, worse) = Seen::of(&long, *earthing);
            none_better(&worse, &better, BY_LENGTH)?;
            figures_not_less(&short, &worse, &better)?;
        }
    }

    /// One section longer. Where points are spread along unlike sections they move with it, so that more of
    /// them may come to lie on the thicker one: there only the whole counts.
    #[test]
    fn a_longer_section_is_never_better(
        house in house(), which in any::<Index>(), section in any::<Index>(), factor in between(1.0, 5.0),
    ) {
        let mut short: House = house;
        let at = which.index(short.circuits.len());
        short.circuits[at].load.points = 1;
        let mut long = short.clone();
        let section = section.index(long.circuits[at].sections.len());
        let s = &mut long.circuits[at].sections[section];
        s.length = Metres::new(s.length.get() * factor).unwrap();
        for earthing in readings(&short) {
            let (_, better) = Seen::of(&short, *earthing);
            let (_, worse) = Seen::of(&long, *earthing);
            none_better(&worse, &better, BY_LENGTH)?;
            figures_not_less(&short, &worse, &better)?;
        }
    }

    /// Larger line conductors, and what goes with them.
    #[test]
    fn a_larger_conductor_is_never_worse(house in house(), which in any::<Index>(), larger in any::<Index>()) {
        let small: House = house;
        let at = which.index(small.circuits.len());
        let sections = &small.circuits[at].sections;
        let material = sections[0].material;
        prop_assume!(sections.iter().all(|s| s.material == material));
        let least = sections.iter().map(|s| s.csa.get()).fold(0.0, f32::max);
        let sizes: Vec<f32> = made(material).iter().copied().filter(|s| *s >= least).collect();
        let csa = mm2(*larger.get(&sizes));
        // Above 16 mm² of line conductor the reactance of armour counts, and may be more than the conductor gains.
        let armoured = |s: &Section| {
            matches!(s.protective, Protective::Armour(_) | Protective::ArmourAndCore(..))
        };
        let crosses = |s: &Section| s.csa.get() <= 16.0 && csa.get() > 16.0;
        prop_assume!(!sections.iter().any(|s| armoured(s) && crosses(s)));
        let mut large = small.clone();
        set_csa(&mut large.circuits[at], csa);
        prop_assume!(large.circuits[at].check().is_ok());
        for earthing in readings(&small) {
            let (_, worse) = Seen::of(&small, *earthing);
            let (_, better) = Seen::of(&large, *earthing);
            let (w, b) = (&worse.circuits[&(at as u16)], &better.circuits[&(at as u16)]);
            // A size the tables do not have is not known, and that is no pass.
            prop_assume!(w.iz.is_none() || b.iz.is_some());
            not_less("drop, full", w.drop_full, b.drop_full)?;
            loop_not_less(&small, at, w, b)?;
            if let (Some(w), Some(b)) = (w.iz, b.iz) {
                prop_assert!(w <= b);
            }
            none_better(&worse, &better, &[Check::VoltDrop, Check::Disconnection, Check::Electrode])?;
            let own = Place::Circuit(CircuitId(at as u16));
            for check in [Check::Capacity, Check::Overload] {
                let find = |seen: &Seen| {
                    seen.findings.iter().find(|f| f.place == own && f.check == check).map(|f| f.outcome)
                };
                // A size that its table does not have is not to be compared.
                if let (Some(w), Some(b)) = (find(&worse), find(&better)) {
                    prop_assert!(w >= b || w == Outcome::CannotSay || b == Outcome::CannotSay);
                }
            }
        }
    }

    /// A spur more never lessens anything: each hangs on the run by itself, and the worst counts.
    #[test]
    fn a_spur_more_never_helps(house in house(), which in any::<Index>(), spur in section(), fuse in any::<bool>()) {
        let few: House = house;
        let at = which.index(few.circuits.len());
        prop_assume!(few.circuits[at].purpose != Use::Distribution && spur.protective != Protective::None);
        let mut spur: Section = spur;
        spur.part = Part::Spur;
        if !fuse {
            spur.spur_fuse = None;
        }
        let mut many = few.clone();
        many.circuits[at].sections.push(spur).unwrap();
        for earthing in readings(&few) {
            let (_, better) = Seen::of(&few, *earthing);
            let (_, worse) = Seen::of(&many, *earthing);
            none_better(&worse, &better, BY_LENGTH)?;
            let (w, b) = (&worse.circuits[&(at as u16)], &better.circuits[&(at as u16)]);
            not_less("Zs", w.zs, b.zs)?;
            not_less("drop", w.drop, b.drop)?;
        }
    }

    #[test]
    fn a_larger_ze_never_helps(house in house(), factor in between(1.0, 20.0)) {
        let low: House = house;
        prop_assume!(low.supply.ze.is_some());
        let mut high = low.clone();
        high.supply.ze = low.supply.ze.map(|z| Ohms::new(z.get() * factor).unwrap());
        for earthing in readings(&low) {
            let (_, better) = Seen::of(&low, *earthing);
            let (_, worse) = Seen::of(&high, *earthing);
            none_better(&worse, &better, &[Check::Disconnection, Check::Electrode])?;
            for (id, w) in &worse.circuits {
                not_less("Zs", w.zs, better.circuits[id].zs)?;
            }
        }
    }

    #[test]
    fn a_larger_electrode_resistance_never_helps(house in house(), factor in between(1.0, 20.0)) {
        let low: House = house;
        prop_assume!(low.supply.ra.is_some());
        let mut high = low.clone();
        high.supply.ra = low.supply.ra.map(|z| Ohms::new(z.get() * factor).unwrap());
        for earthing in readings(&low) {
            let (_, better) = Seen::of(&low, *earthing);
            let (_, worse) = Seen::of(&high, *earthing);
            none_better(&worse, &better, &[Check::Disconnection, Check::Electrode])?;
        }
    }

    #[test]
    fn a_higher_fault_level_never_helps_breaking(house in house(), level in between(100.0, 20e3), factor in between(1.0, 10.0)) {
        let mut low: House = house;
        low.supply.fault_level = FaultLevel::Stated(Amps::new(level).unwrap(), Origin::Measured);
        let mut high = low.clone();
        high.supply.fault_level = FaultLevel::Stated(Amps::new(level * factor).unwrap(), Origin::Measured);
        for earthing in readings(&low) {
            let (_, better) = Seen::of(&low, *earthing);
            let (_, worse) = Seen::of(&high, *earthing);
            none_better(&worse, &better, &[Check::Breaking])?;
            for (id, w) in &worse.circuits {
                not_less("largest current", w.ipf_max, better.circuits[id].ipf_max)?;
            }
        }
    }

    #[test]
    fn more_in_a_group_never_helps(house in house(), which in any::<Index>(), section in any::<Index>(), more in 1u8..12) {
        let few: House = house;
        let at = which.index(few.circuits.len());
        let section = section.index(few.circuits[at].sections.len());
        let mut many = few.clone();
        many.circuits[at].sections[section].laying.grouped += more;
        for earthing in readings(&few) {
            let (_, better) = Seen::of(&few, *earthing);
            let (_, worse) = Seen::of(&many, *earthing);
            let (w, b) = (&worse.circuits[&(at as u16)], &better.circuits[&(at as u16)]);
            if let (Some(w), Some(b)) = (w.iz, b.iz) {
                prop_assert!(w <= b);
            }
            prop_assert!(w.iz.is_none() || b.iz.is_some());
            let own = [Check::Capacity, Check::Overload];
            let (own_worse, own_better) = (of(&worse, &own), of(&better, &own));
            for (key, (outcome, _)) in &own_worse {
                // Beyond the table it is not known, which may hide a failure but never makes a pass.
                prop_assert!(*outcome != Outcome::Pass || own_better[key].0 == Outcome::Pass, "{}", key);
            }
            // A section whose capacity is not known counts at its full temperature, though it may be overloaded:
            // then the check of capacity is no pass.
            let unknown = worse
                .findings
                .iter()
                .any(|f| f.check == Check::Capacity && f.lacking.contains(Lacking::CAPACITY));
            // What comes back by the neutral of unlike lines can run against a line's own active current: the warmer
            // it is the less that line drops at the temperature of the load. At full temperature nothing changes.
            let feed = &few.circuits[at];
            let warmed = feed.phase == Phase::Three
                && feed.load.demand == Demand::Derived
                && few.circuits.iter().any(|c| c.phase != Phase::Three && c.load.power_factor.get() < 1.0);
            if warmed {
                for (id, w) in &worse.circuits {
                    let b = &better.circuits[id];
                    prop_assert_eq!((w.drop_full, w.zs, w.r1r2_cold), (b.drop_full, b.zs, b.r1r2_cold));
                }
            } else if !unknown {
                none_better(&worse, &better, &[Check::VoltDrop])?;
                figures_not_less(&few, &worse, &better)?;
            }
        }
    }

    /// More load on a circuit never lessens drop or demand, anywhere.
    #[test]
    fn more_load_never_helps(house in house(), which in any::<Index>(), factor in between(1.0, 5.0)) {
        let light: House = house;
        let at = which.index(light.circuits.len());
        let mut heavy = light.clone();
        let load = &mut heavy.circuits[at].load;
        load.demand = match load.demand {
            Demand::Current(i) => Demand::Current(Amps::new(i.get() * factor).unwrap()),
            Demand::Power(p) => Demand::Power(Watts::new(p.get() * factor).unwrap()),
            Demand::Derived | Demand::NotKnown => load.demand,
        };
        for earthing in readings(&light) {
            let (_, better) = Seen::of(&light, *earthing);
            let (_, worse) = Seen::of(&heavy, *earthing);
            none_better(&worse, &better, &[Check::DesignCurrent, Check::Demand])?;
            let own = Place::Circuit(CircuitId(at as u16));
            let drop = |seen: &Seen| seen.findings.iter().find(|f| f.place == own && f.check == Check::VoltDrop).map(|f| f.outcome);
            if light.circuits[at].purpose != Use::Distribution {
                prop_assert!(drop(&worse) >= drop(&better));
                let (w, b) = (&worse.circuits[&(at as u16)], &better.circuits[&(at as u16)]);
                not_less("drop", w.drop, b.drop)?;
                not_less("drop, full", w.drop_full, b.drop_full)?;
                not_less("drop, load", w.drop_load, b.drop_load)?;
            }
        }
    }
}
