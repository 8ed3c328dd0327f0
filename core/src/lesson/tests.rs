#![allow(clippy::float_cmp)]

use super::*;
fn each(mut look: impl FnMut(Kind, u32, &Exercise)) {
    for kind in Kind::ALL {
        for seed in 0..400u32 {
            look(
                kind,
                seed,
                &exercise(kind, seed.wrapping_mul(7919), seed % 3, seed % 11),
            );
        }
    }
}

#[test]
fn the_right_answer_is_told_right_and_each_slip_as_that_slip() {
    let mut told = Slips::empty();
    each(|kind, seed, x| {
        assert!(x.answer.is_finite() && x.answer > 0.0, "{kind:?} {seed}");
        assert!(
            !x.slips.is_empty() && !x.given.is_empty(),
            "{kind:?} {seed}"
        );
        assert_eq!(x.working.last().unwrap().value, x.answer);
        for right in [1.0, 1.0049, 0.9951] {
            assert_eq!(x.judge(right * x.answer), Told::Right, "{kind:?} {seed}");
        }
        for rounded in [1.03, 0.97] {
            assert_eq!(
                x.judge(rounded * x.answer),
                Told::Rounded,
                "{kind:?} {seed}"
            );
        }
        for (slip, value) in &x.slips {
            let Told::Slips(found) = x.judge(*value) else {
                panic!("{kind:?} {seed}: {slip:?} {:?}", x.judge(*value));
            };
            assert!(found.contains(*slip));
            told |= found;
            // Another one only where it comes to the same.
            for (other, near) in &x.slips {
                if found.contains(*other) {
                    assert!(
                        (near / value - 1.0).abs() <= 0.0101,
                        "{kind:?} {other:?} {slip:?}"
                    );
                }
            }
        }
        for nonsense in [f32::NAN, f32::INFINITY, 0.0, -x.answer, 1e30] {
            assert_eq!(x.judge(nonsense), Told::Wrong, "{kind:?} {seed}");
        }
    });
    assert_eq!(told, Slips::all(), "a slip that nobody can make");
}

#[test]
fn a_seed_makes_the_same_again_and_another_makes_another() {
    for kind in Kind::ALL {
        assert_eq!(exercise(kind, 5, 2, 1), exercise(kind, 5, 2, 1));
        let answers = |f: &dyn Fn(u32) -> Exercise| {
            let mut all: std::vec::Vec<u32> = (0..50).map(|n| f(n).answer.to_bits()).collect();
            all.sort_unstable();
            all.dedup();
            all.len()
        };
        assert!(answers(&|n| exercise(kind, n, 0, 0)) > 10, "{kind:?}");
        assert!(answers(&|n| exercise(kind, 5, n, 0)) > 10, "{kind:?}");
        assert!(answers(&|n| exercise(kind, 5, 0, n)) > 10, "{kind:?}");
    }
}
