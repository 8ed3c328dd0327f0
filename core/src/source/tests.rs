use super::*;
use crate::fixture::{amps, house, near, ohms, ratio};
use crate::supply::{Origin, SupplyEarthing};

fn set<T: bitflags::Flags + Copy>(of: &[(bool, T)]) -> T {
    let mut out = T::empty();
    for (there, flag) in of {
        if *there {
            out.insert(*flag);
        }
    }
    out
}

const EARTHINGS: [Earthing; 3] = [Earthing::TnS, Earthing::TnCS, Earthing::Tt];
const ORIGINS: [Origin; 3] = [Origin::Measured, Origin::Declared, Origin::Typical];

/// Every way a supply can be known: each flag by its own reason, each figure by hand.
#[test]
fn what_is_known_of_a_supply_and_what_is_taken_for_granted() {
    let mut supply = house().supply;
    for phases in [Phases::Single, Phases::Three] {
        for (ze, origin) in ORIGINS
            .map(|o| (Some(0.35), o))
            .into_iter()
            .chain([(None, ORIGINS[0])])
        {
            for angle in [None, Some(0.0), Some(0.75)] {
                for level in 0..5 {
                    for earthing in EARTHINGS {
                        let of = |o| FaultLevel::Stated(amps(1600.0), o);
                        supply.phases = phases;
                        (supply.ze, supply.ze_origin) = (ze.map(ohms), origin);
                        supply.x_over_r = angle.map(ratio);
                        supply.earthing = SupplyEarthing::Known(earthing);
                        supply.fault_level = match level {
                            0 => FaultLevel::NotKnown,
                            1 => FaultLevel::FromZe,
                            k => of(ORIGINS[k - 2]),
                        };
                        let s = Source::at_origin(&supply, earthing, &Profile::IEC);
                        let tn = earthing != Earthing::Tt;
                        let measured = origin == Origin::Measured;
                        let no_angle = angle.is_none();
                        let three = phases == Phases::Three;

                        // The largest currents.
                        let by_ze =
                            level == 1 && earthing == Earthing::TnCS && ze.is_some() && measured;
                        let current = match level {
                            2.. => Some(1600.0),
                            // 1.1 · 230 V / 0.35 Ω, and twice that of three phases.
                            1 if by_ze && three => Some(1445.7143),
                            1 if by_ze => Some(722.857_1),
                            _ => None,
                        };
                        assert_eq!(s.level.is_some(), current.is_some());
                        if let (Some(level), Some(i)) = (s.level, current) {
                            near(level, i, 1e-6);
                            near(s.supply_min.unwrap().magnitude, 253.0 / i, 1e-6);
                            assert_eq!(s.supply_min.unwrap().x_over_r, angle);
                        }
                        assert_eq!(s.supply_min.is_some(), current.is_some());
                        let assumed = set(&[
                            (level > 2, Assumed::FAULT_LEVEL_NOT_MEASURED),
                            (by_ze && three, Assumed::DOUBLED),
                            (current.is_some() && no_angle, Assumed::SUPPLY_ANGLE),
                        ]);
                        assert_eq!(s.assumed_max, assumed);
                        let lacking = set(&[(current.is_none(), Lacking::FAULT_LEVEL)]);
                        assert_eq!(s.lacking_max, lacking);

                        // The loop.
                        if tn {
                            let outside = s.loop_external;
                            assert_eq!(
                                outside.map(|e| (e.magnitude, e.x_over_r)),
                                ze.map(|z| (z, angle))
                            );
                            assert_eq!(s.loop_external_min, s.supply_min);
                            let assumed = set(&[
                                (ze.is_some() && !measured, Assumed::ZE_NOT_MEASURED),
                                (ze.is_some() && no_angle, Assumed::SUPPLY_ANGLE),
                            ]);
                            assert_eq!(s.assumed_loop, assumed);
                            assert_eq!(s.lacking_loop, set(&[(ze.is_none(), Lacking::ZE)]));
                        } else {
                            let outside = s.loop_external;
                            assert_eq!(
                                outside.map(|e| (e.magnitude, e.x_over_r)),
                                ze.map(|z| (z, Some(0.0)))
                            );
                            assert_eq!(s.ra, ze);
                            assert_eq!(
                                s.assumed_loop,
                                set(&[(ze.is_some(), Assumed::RA_FROM_LOOP)])
                            );
                            assert_eq!(s.lacking_loop, set(&[(ze.is_none(), Lacking::RA)]));
                        }

                        // The largest earth fault current at the origin: of a supply's own earth the level as it
                        // stands, of an electrode what that lets through.
                        let earth = s.ik_earth(&Profile::IEC, Pair::ZERO);
                        if tn {
                            assert_eq!(earth, s.level);
                        } else {
                            assert_eq!(earth.is_some(), ze.is_some());
                            near(earth.unwrap_or(1.0), ze.map_or(1.0, |z| 253.0 / z), 1e-6);
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn what_is_known_of_an_electrode() {
    let mut s = Source::at_origin(&house().supply, Earthing::TnCS, &Profile::IEC);
    for (ra, measured, outside, own, assumed, lacking) in [
        (
            Some(30.0),
            None,
            Some(50.0),
            Some(30.0),
            Assumed::SOURCE_ELECTRODE,
            Lacking::empty(),
        ),
        (
            None,
            Some(45.0),
            Some(45.0),
            Some(45.0),
            Assumed::RA_FROM_LOOP,
            Lacking::empty(),
        ),
        (
            Some(30.0),
            Some(45.0),
            Some(45.0),
            Some(30.0),
            Assumed::empty(),
            Lacking::empty(),
        ),
        // No loop is smaller than the electrode in it.
        (
            Some(50.0),
            Some(45.0),
            Some(50.0),
            Some(50.0),
            Assumed::empty(),
            Lacking::empty(),
        ),
        (None, None, None, None, Assumed::empty(), Lacking::RA),
    ] {
        // Whatever was said before of another earth is gone.
        s.assumed_loop = Assumed::all();
        s.lacking_loop = Lacking::all();
        s.protective = s.protective + Pair::ZERO;
        s.take_electrode(ra.map(ohms), measured.map(ohms), &Profile::IEC);
        assert_eq!((s.assumed_loop, s.lacking_loop), (assumed, lacking));
        assert_eq!((s.loop_external.map(|e| e.magnitude), s.ra), (outside, own));
        assert_eq!(s.loop_external_min.map(|e| e.magnitude), own);
        assert_eq!(s.earthing, Earthing::Tt);
    }
}
