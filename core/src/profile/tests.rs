use super::*;
use crate::fixture::{near, step};
use std::vec::Vec;

fn figure(p: &mut Profile, entry: Entry) -> &mut f32 {
    match entry {
        Entry::Cmin => &mut p.cmin,
        Entry::Cmax => &mut p.cmax,
        Entry::DropLighting => &mut p.drop_lighting,
        Entry::DropOther => &mut p.drop_other,
        Entry::SourceElectrode => &mut p.source_electrode,
        Entry::TouchVoltage => &mut p.touch_voltage,
        Entry::AdditionalProtection => &mut p.additional_protection,
        Entry::SocketsUpTo => &mut p.sockets_up_to,
        Entry::Diversity(class, of) => {
            let d = &mut p.diversity[class as usize];
            match of {
                Allowance::FirstAmps => &mut d.first_amps,
                Allowance::First => &mut d.first,
                Allowance::Rest => &mut d.rest,
                Allowance::Add => &mut d.add,
                Allowance::Largest => &mut d.largest,
                Allowance::Second => &mut d.second,
                Allowance::Others => &mut d.others,
            }
        }
    }
}

fn sifted(p: &Profile) -> (Profile, Vec<(Entry, Error)>) {
    let mut said = Vec::new();
    let (p, good) = p.sift(&mut |entry, e| said.push((entry, e)));
    assert_eq!(good, said.is_empty());
    (p, said)
}

/// The limits of each figure are still good, and one step beyond either is not: it is told, and no number from then
/// on, and the others stay.
#[test]
fn each_figure_up_to_its_ends() {
    for (entry, field, from, to) in RANGES {
        for (value, reason) in [
            (from, None),
            (to, None),
            (step(from, -1), Some(Reason::TooSmall)),
            (0.5 * from, Some(Reason::TooSmall)),
            (step(to, 1), Some(Reason::TooLarge)),
            (2.0 * to, Some(Reason::TooLarge)),
            (f32::NAN, Some(Reason::NotANumber)),
        ] {
            let mut p = Profile::UK;
            *figure(&mut p, entry) = value;
            let (mut after, said) = sifted(&p);
            let hoped: Vec<_> = reason.map(|r| (entry, r.at(field))).into_iter().collect();
            assert_eq!(said, hoped, "{entry:?} {value}");
            let kept = figure(&mut after, entry);
            assert_eq!(kept.is_nan(), reason.is_some(), "{entry:?} {value}");
            *kept = *figure(&mut Profile::UK.clone(), entry);
            assert_eq!(after, Profile::UK);
        }
    }
}

/// One figure of an allowance without a meaning makes its class unknown, and no other.
#[test]
fn each_allowance_by_itself() {
    use Allowance::{Add, First, FirstAmps, Largest, Others, Rest, Second};
    for class in LoadClass::ALL {
        for of in [FirstAmps, First, Rest, Add, Largest, Second, Others] {
            let entry = Entry::Diversity(class, of);
            for bad in [f32::NAN, -1.0, f32::INFINITY] {
                let mut p = Profile::UK;
                *figure(&mut p, entry) = bad;
                let (after, said) = sifted(&p);
                assert!(said.iter().any(|(e, _)| *e == entry), "{entry:?}");
                for other in LoadClass::ALL {
                    let known = after.diversity(other).is_known();
                    assert_eq!(known, other != class, "{entry:?}");
                }
            }
        }
    }
}

/// Common practice for one dwelling, by hand.
#[test]
fn what_a_load_counts() {
    let of = |class, i| Profile::UK.diversity(class).counted(i);
    // 10 A of a cooker in full, 30 % of the rest, and 5 A for the socket in its control unit.
    for (i, counts) in [(8.0, 13.0), (10.0, 15.0), (30.0, 21.0), (45.0, 25.5)] {
        assert_eq!(of(LoadClass::Cooker, i), counts);
    }
    // 10 A of heating in full, half of the rest; two thirds of lighting; water in full.
    assert_eq!(of(LoadClass::Heating, 6.0), 6.0);
    assert_eq!(of(LoadClass::Heating, 30.0), 20.0);
    near(of(LoadClass::Lighting, 10.0), 6.6, 1e-6);
    assert_eq!(of(LoadClass::WaterStorage, 13.0), 13.0);
}
