//! Earthing conductor: BS 7671 542.3 and 543.1, Tables 54.1 and 54.7 (the figures of 54.1 read, see
//! `vectors`; IEC 60364-5-54 542.3 from memory).

use super::finding;
use crate::conductor::{self, Material};
use crate::facts::{Spot, note};
use crate::quantity::SquareMm;
use crate::supply::EarthingConductor;
use crate::verdict::{Check, Finding, Lacking, Place, Recorder, Rule, Sense, Topic, Unit};

/// Smallest size in the ground or by mechanical protection, in mm², for copper and steel.
fn least(c: &EarthingConductor) -> Option<f32> {
    let steel = match c.conductor.material {
        Material::Copper => false,
        Material::Steel => true,
        // Bare aluminium is not laid in the ground, and no table has it.
        Material::Aluminium | Material::Lead => return (!c.buried).then_some(16.0),
    };
    Some(match (c.buried, c.corrosion, c.mechanical) {
        (true, false, _) if steel => 50.0,
        (true, false, _) => 25.0,
        (true, true, false) => 16.0,
        (true, true, true) | (false, _, true) => 2.5,
        (false, _, false) => 4.0,
    })
}

/// What the earthing conductor must be by the line conductors at this place, in mm².
///
/// Copper on copper: the tabulated size itself, as k is the same for both.
pub(crate) fn by_line(line: SquareMm, material: Material) -> f32 {
    let k = |m: Material| {
        conductor::k(
            m,
            crate::quantity::Celsius::raw(30.0),
            crate::quantity::Celsius::raw(160.0),
        )
        .unwrap_or(f32::NAN)
    };
    conductor::tabulated_minimum(line, k(Material::Copper), k(material)).get()
}

/// `floor` is what bonding asks of it in its place (TN-C-S), in mm² of copper.
pub(crate) fn judge<R: Recorder + ?Sized>(
    place: Place,
    given: Option<EarthingConductor>,
    line: Option<SquareMm>,
    floor: Option<f32>,
    rec: &mut R,
) -> Finding {
    let mut f = finding(
        place,
        Check::EarthingConductor,
        Rule::EarthingByLine,
        Unit::SquareMm,
        Sense::AtLeast,
    );
    let Some(c) = given else {
        f.lacking = Lacking::EARTHING_CONDUCTOR;
        return f;
    };
    let own = c.conductor.csa.get();
    f.value = Some(own);
    let spot = Spot::at(place, Topic::EarthingConductor);
    let Some(least) = least(&c) else {
        f.rule = Rule::EarthingBuried;
        f.lacking = Lacking::LIMIT;
        return f;
    };
    note(
        rec,
        spot,
        Rule::EarthingBuried,
        least,
        Unit::SquareMm,
        [own],
    );
    let Some(line) = line else {
        f.limit = Some(least);
        f.lacking = Lacking::TAILS;
        return f;
    };
    let by_line = by_line(line, c.conductor.material);
    note(
        rec,
        spot,
        Rule::EarthingByLine,
        by_line,
        Unit::SquareMm,
        [line.get()],
    );
    let mut needed = by_line;
    if least > needed {
        needed = least;
        f.rule = Rule::EarthingBuried;
    }
    if let Some(floor) = floor {
        let floor = floor * super::bonding::conductance_ratio(c.conductor.material);
        if floor > needed {
            needed = floor;
            f.rule = Rule::BondingByNeutral;
            note(rec, spot, Rule::BondingByNeutral, floor, Unit::SquareMm, []);
        }
    }
    // Of copper, and in the ground, it is the size of the table itself.
    if c.conductor.material == Material::Copper || f.rule == Rule::EarthingBuried {
        f.hold(own, needed);
    } else {
        f.hold_worked(own, needed);
    }
    f
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::supply::Conductor;
    use crate::verdict::{Outcome, Worst};

    fn given(material: Material, csa: f32, buried: bool) -> EarthingConductor {
        let csa = SquareMm::raw(csa);
        EarthingConductor {
            conductor: Conductor { material, csa },
            buried,
            mechanical: true,
            corrosion: false,
        }
    }

    fn at_supply(c: EarthingConductor, line: f32, floor: Option<f32>) -> (Outcome, Rule) {
        let line = Some(SquareMm::raw(line));
        let f = judge(Place::Supply, Some(c), line, floor, &mut Worst::default());
        (f.outcome, f.rule)
    }

    #[test]
    fn each_metal_by_each_of_its_rules() {
        use Material::{Aluminium, Copper, Steel};
        use Outcome::{Fail, Pass};
        use Rule::{BondingByNeutral, EarthingBuried, EarthingByLine};
        for (c, line, floor, came) in [
            // Copper by copper is the size itself.
            (
                given(Copper, 16.0, false),
                25.0,
                None,
                (Pass, EarthingByLine),
            ),
            (
                given(Copper, 15.99, false),
                25.0,
                None,
                (Fail, EarthingByLine),
            ),
            // k 143 by 95 and by 52 (IEC 60364-5-54 from 30 to 160 °C): 1.51 and 2.75 times.
            (
                given(Aluminium, 24.0, false),
                16.0,
                None,
                (Fail, EarthingByLine),
            ),
            (
                given(Aluminium, 24.5, false),
                16.0,
                None,
                (Pass, EarthingByLine),
            ),
            (
                given(Steel, 43.0, false),
                16.0,
                None,
                (Fail, EarthingByLine),
            ),
            (
                given(Steel, 45.0, false),
                16.0,
                None,
                (Pass, EarthingByLine),
            ),
            // In the ground the table's own size, and just that passes.
            (given(Copper, 25.0, true), 4.0, None, (Pass, EarthingBuried)),
            (given(Copper, 24.9, true), 4.0, None, (Fail, EarthingBuried)),
            (given(Steel, 50.0, true), 4.0, None, (Pass, EarthingBuried)),
            (given(Steel, 49.9, true), 4.0, None, (Fail, EarthingBuried)),
            // What bonding asks in its place, by conductance: 8.004 times for steel.
            (
                given(Copper, 10.0, false),
                4.0,
                Some(10.0),
                (Pass, BondingByNeutral),
            ),
            (
                given(Copper, 9.9, false),
                4.0,
                Some(10.0),
                (Fail, BondingByNeutral),
            ),
            (
                given(Steel, 80.0, false),
                4.0,
                Some(10.0),
                (Fail, BondingByNeutral),
            ),
            (
                given(Steel, 80.1, false),
                4.0,
                Some(10.0),
                (Pass, BondingByNeutral),
            ),
        ] {
            assert_eq!(at_supply(c, line, floor), came, "{c:?}");
        }
        // Aluminium is not laid in the ground.
        let (outcome, rule) = at_supply(given(Aluminium, 50.0, true), 4.0, None);
        assert_eq!((outcome, rule), (Outcome::CannotSay, EarthingBuried));
    }
}
