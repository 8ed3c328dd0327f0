use super::electrode::*;
use super::lost_neutral::*;
use super::options::*;
use super::situations::{Situation, Stance, raised};
use super::{Formula, Worked, options};
use crate::cable::Construction;
use crate::conductor::{Insulation, Material};
use crate::device::{Curve, Rcd, RcdDelay, RcdType};
use crate::error::{Error, Field, Reason};
use crate::fixture::{
    amps, board, breaker, circuit, house, lamp, m, mm2, near, ohms, ratio, rcd, section, step,
    volts,
};
use crate::network::{
    BoardEarthing, BoardId, CircuitId, Demand, Enclosure, Installation, Phase, Protective, Steel,
    Use,
};
use crate::quantity::{Amps, Metres, OhmMetres, Ohms, OhmsPerKm, Ratio, SquareMm, Volts};
use crate::supply::{
    Conductor, Earthing, EarthingConductor, FaultLevel, Origin, Phases, SupplyEarthing,
};
use crate::verdict::{Assumed, Check, Lacking, Outcome, Place, Unit};
use proptest::prelude::*;

fn rho(v: f32) -> OhmMetres {
    OhmMetres::new(v).unwrap()
}
fn rod(length: f32, diameter: f32) -> Rod {
    Rod::new(m(length), m(diameter)).unwrap()
}

// Electrodes.

#[test]
fn one_rod() {
    near(
        rod(1.8, 0.019).resistance(rho(180.0)).get(),
        89.612_91,
        1e-6,
    );
    near(
        rod(2.4, 0.015).resistance(rho(100.0)).get(),
        40.814_06,
        1e-6,
    );
}

#[test]
fn the_season_multiplies() {
    let season = Season::new(ratio(1.5)).unwrap();
    for e in [
        Electrode::Rod(rod(2.4, 0.016)),
        Electrode::Plate(Plate::new(m(0.6), m(0.6)).unwrap()),
    ] {
        let alone = e.resistance(rho(100.0), Season::WORST_ALREADY).get();
        assert_eq!(e.resistance(rho(100.0), season).get(), 1.5 * alone);
    }
}

#[test]
fn lambda_is_that_of_the_tables_and_not_below() {
    // BS 7430, from memory.
    let line = [1.0, 1.66, 2.15, 2.54, 2.87, 3.15, 3.39, 3.61, 3.81];
    for (n, printed) in (2..).zip(line) {
        let own = Layout::Line(n).lambda();
        assert!(
            own >= 0.9999 * printed && own <= 1.014 * printed,
            "{n}: {own}"
        );
    }
    let square = [2.71, 4.51, 5.48, 6.13, 6.63, 7.03, 7.36, 7.65, 7.90];
    for (n, printed) in (2..).zip(square) {
        let own = Layout::HollowSquare(n).lambda();
        assert!(
            own >= 0.998 * printed && own <= 1.005 * printed,
            "{n}: {own}"
        );
    }
    assert_eq!(Layout::Line(1).lambda(), 0.0);
    assert_eq!(Layout::HollowSquare(5).rods(), 16);
    assert_eq!(Layout::HollowSquare(20).rods(), 76);
    // In a line the mean has a closed form: 2·(H − (n − 1)/n).
    let harmonic: f32 = (1..10u8).map(|k| 1.0 / f32::from(k)).sum();
    near(
        Layout::Line(10).lambda(),
        2.0 * (harmonic - 9.0 / 10.0),
        1e-5,
    );
}

#[test]
fn two_rods_against_a_sum_of_half_balls() {
    // Rn = R·(1 + α)/2.
    let one = rod(2.4, 0.016);
    let two = Rods::new(one, Layout::Line(2), m(3.0)).unwrap();
    let (r, p) = (one.resistance(rho(100.0)).get(), 100.0);
    let mutual = p / (2.0 * core::f32::consts::PI * 3.0);
    near(two.resistance(rho(p)).get(), (r + mutual) / 2.0, 1e-6);
    let alone = Rods::new(one, Layout::Line(1), m(3.0)).unwrap();
    assert_eq!(alone.resistance(rho(p)).get(), r);
}

#[test]
fn what_is_not_in_the_tables_is_refused() {
    let one = rod(2.4, 0.016);
    let no = |layout, spacing: f32| Rods::new(one, layout, m(spacing)).unwrap_err();
    assert_eq!(no(Layout::Line(0), 3.0), Reason::Zero.at(Field::Rods));
    assert_eq!(
        no(Layout::HollowSquare(0), 3.0),
        Reason::Zero.at(Field::Rods)
    );
    for layout in [
        Layout::Line(11),
        Layout::HollowSquare(1),
        Layout::HollowSquare(21),
        Layout::HollowSquare(255),
    ] {
        assert_eq!(no(layout, 3.0), Reason::OutOfTable.at(Field::Rods));
    }
    assert_eq!(
        no(Layout::Line(2), 2.39),
        Reason::OutOfTable.at(Field::Spacing)
    );
    assert_eq!(
        no(Layout::Line(2), 101.0),
        Reason::TooLarge.at(Field::Spacing)
    );
    assert_eq!(
        Rod::new(m(0.49), m(0.01)),
        Err(Reason::TooSmall.at(Field::Length))
    );
    assert_eq!(
        Rod::new(m(30.1), m(0.02)),
        Err(Reason::TooLarge.at(Field::Length))
    );
    assert_eq!(
        Rod::new(m(1.0), m(0.004)),
        Err(Reason::TooSmall.at(Field::Diameter))
    );
    assert_eq!(
        Rod::new(m(1.0), m(0.06)),
        Err(Reason::OutOfTable.at(Field::Diameter))
    );
    assert_eq!(
        Tape::wire(m(5.0), m(0.6), m(0.008)),
        Err(Reason::OutOfTable.at(Field::Length))
    );
    assert_eq!(
        Tape::wire(m(5.0), m(0.2), m(0.008)),
        Err(Reason::TooSmall.at(Field::Depth))
    );
    assert_eq!(
        Plate::new(m(0.2), m(1.0)),
        Err(Reason::TooSmall.at(Field::Side))
    );
    assert_eq!(
        Foundation::new(m(5.0), m(5.0), m(0.5), false),
        Err(Reason::Contradiction.at(Field::Side))
    );
    assert_eq!(
        Season::new(ratio(0.99)),
        Err(Reason::TooSmall.at(Field::Season))
    );
    assert_eq!(
        Season::new(ratio(5.01)),
        Err(Reason::TooLarge.at(Field::Season))
    );
}

/// The approximations of IEC 60364-5-54, from memory: a second opinion from elsewhere.
#[test]
fn the_approximations_are_near() {
    let p = rho(100.0);
    let both = |e: Electrode| {
        let full = e.resistance(p, Season::WORST_ALREADY).get();
        full / e.approximate(p).unwrap().get()
    };
    for (l, d) in [(1.2, 0.016), (2.4, 0.016), (4.8, 0.019)] {
        let share = both(Electrode::Rod(rod(l, d)));
        assert!((0.8..1.15).contains(&share), "{share}");
    }
    for l in [10.0, 20.0, 50.0] {
        let tape = Tape::strip(m(l), m(0.6), m(0.025)).unwrap();
        let share = both(Electrode::Tape(tape));
        assert!((0.65..1.0).contains(&share), "{share}");
    }
    // In the surface twice what it is deep down.
    let plate = Plate::new(m(0.9), m(0.9)).unwrap();
    let share = both(Electrode::Plate(plate));
    assert!((2.0..2.3).contains(&share), "{share}");
    let slab = Foundation::new(m(8.0), m(5.0), m(0.3), true).unwrap();
    let share = both(Electrode::Foundation(slab));
    assert!((1.0..1.03).contains(&share), "{share}");
}

#[test]
fn closed_forms_elsewhere() {
    // A disc in the surface: ρ/4a.
    let plate = Plate::new(m(1.0), m(core::f32::consts::PI)).unwrap();
    near(plate.resistance(rho(100.0)).get(), 25.0, 1e-6);
    // A wire of length L and diameter d at depth h, by its image: ρ/(2πL)·(ln(4L²/(d·h)) − 2).
    let (l, h, d) = (40.0f32, 0.6f32, 0.008f32);
    let wire = Tape::wire(m(l), m(h), m(d)).unwrap();
    let image = 100.0 / (2.0 * core::f32::consts::PI * l) * ((4.0 * l * l / (d * h)).ln() - 2.0);
    let own = wire.resistance(rho(100.0)).get();
    assert!(own >= image && own < 1.002 * image, "{own} {image}");
    // A tape does as much as a wire of half its width, and no more than BS 7430 lets it.
    let tape = Tape::strip(m(l), m(h), m(2.0 * d)).unwrap();
    assert_eq!(tape.resistance(rho(100.0)).get(), own);
    let printed = 100.0 / (2.0 * core::f32::consts::PI * l) * (l * l / (1.36 * h * 2.0 * d)).ln();
    assert!(own > printed && own < 1.06 * printed, "{own} {printed}");
    // Half a ball of 1 m radius: ρ/2π.
    let side = (2.0 * core::f32::consts::PI / 3.0).cbrt();
    let ball = Foundation::new(m(side), m(side), m(side), true).unwrap();
    near(ball.resistance(rho(100.0)).get(), 15.915_494, 1e-6);
}

#[test]
fn soils_are_ranges() {
    for soil in Soil::ALL {
        let (low, high) = soil.typical_resistivity();
        assert!(low < high, "{soil:?}");
        assert!(OhmMetres::new(low.get()).is_ok() && OhmMetres::new(high.get()).is_ok());
    }
}

#[test]
fn the_reverse_is_not_a_hair_too_short() {
    let season = Season::new(ratio(1.3)).unwrap();
    let found = rod_length(ohms(60.0), m(0.016), rho(150.0), season).unwrap();
    let at = |l: f32| Electrode::Rod(rod(l, 0.016)).resistance(rho(150.0), season);
    assert!(at(found.get()).get() <= 60.0);
    assert!(at(step(found.get(), -1)).get() > 60.0);
    // Good enough at the shortest already; not even the longest.
    let all = |target: f32| rod_length(ohms(target), m(0.016), rho(150.0), season);
    assert_eq!(all(1000.0).unwrap().get(), Rod::LENGTH_MIN);
    assert_eq!(all(1.0), Err(Reason::OutOfTable.at(Field::Length)));
    assert_eq!(
        rod_length(ohms(1000.0), m(0.1), rho(100.0), season)
            .unwrap()
            .get(),
        2.0
    );
    let none = Season::WORST_ALREADY;
    let rods = |target: f32, kind| {
        rods_needed(
            ohms(target),
            rod(1.2, 0.016),
            kind,
            m(2.4),
            rho(100.0),
            none,
        )
    };
    // One has 71.6 Ω.
    assert_eq!(
        rods(80.0, Layout::Line(0)).unwrap().layout(),
        Layout::Line(1)
    );
    assert_eq!(
        rods(20.0, Layout::Line(0)).unwrap().layout(),
        Layout::Line(5)
    );
    assert_eq!(
        rods(5.0, Layout::Line(0)),
        Err(Reason::OutOfTable.at(Field::Rods))
    );
    let square = rods(5.0, Layout::HollowSquare(0)).unwrap();
    let Layout::HollowSquare(n) = square.layout() else {
        panic!("no square")
    };
    assert!(square.resistance(rho(100.0)).get() <= 5.0);
    let fewer = Rods::new(rod(1.2, 0.016), Layout::HollowSquare(n - 1), m(2.4)).unwrap();
    assert!(fewer.resistance(rho(100.0)).get() > 5.0);
}

#[test]
fn fifty_volts() {
    for (i, printed) in [(0.03, 1666.0), (0.1, 500.0), (0.3, 166.0), (0.5, 100.0)] {
        let ra = largest_ra(volts(50.0), amps(i)).unwrap().get();
        assert!(touch_voltage(ohms(ra), amps(i)) <= 50.0);
        assert!(touch_voltage(ohms(step(ra, 1)), amps(i)) > 50.0);
        assert!(ra >= printed && ra < printed + 1.0);
    }
    assert_eq!(
        largest_ra(volts(1e-3), amps(1e6)),
        Err(Reason::TooSmall.at(Field::Ra))
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn a_longer_rod_never_has_more(
        l in 0.5f32..15.0, more in 1.0001f32..2.0, thin in 0.0f32..1.0, p in 0.1f32..1e5,
    ) {
        let thick = (l / Rod::SLENDER).min(0.2);
        let d = 0.005 + thin * (thick - 0.005) * 0.999;
        let r = |l: f32| rod(l, d).resistance(rho(p)).get();
        prop_assert!(r(l * more) <= r(l));
    }

    #[test]
    fn more_rods_never_have_more(
        l in 0.5f32..5.0, d in 0.005f32..0.025, apart in 1.0f32..5.0, p in 0.1f32..1e5, n in 1u8..10, side in 2u8..20,
    ) {
        let r = |layout| Rods::new(rod(l, d), layout, m(l * apart)).unwrap().resistance(rho(p)).get();
        prop_assert!(r(Layout::Line(n + 1)) < r(Layout::Line(n)));
        prop_assert!(r(Layout::HollowSquare(side + 1)) < r(Layout::HollowSquare(side)));
        // Never better than as many rods without each other.
        prop_assert!(r(Layout::Line(n)) * f32::from(n) >= 0.999_999 * r(Layout::Line(1)));
    }

    #[test]
    fn worse_soil_never_has_less(p in 0.1f32..1e4, more in 1.0f32..10.0, factor in 1.0f32..5.0) {
        let season = Season::new(ratio(factor)).unwrap();
        for e in [
            Electrode::Rod(rod(1.2, 0.016)),
            Electrode::Rods(Rods::new(rod(1.2, 0.016), Layout::Line(3), m(1.2)).unwrap()),
            Electrode::Plate(Plate::new(m(0.6), m(0.6)).unwrap()),
            Electrode::Tape(Tape::strip(m(20.0), m(0.6), m(0.025)).unwrap()),
            Electrode::Foundation(Foundation::new(m(5.0), m(4.0), m(0.3), true).unwrap()),
        ] {
            prop_assert!(e.resistance(rho(p * more), season).get() >= e.resistance(rho(p), season).get());
            prop_assert!(e.resistance(rho(p), season).get() >= e.resistance(rho(p), Season::WORST_ALREADY).get());
            prop_assert!(Ohms::new(e.resistance(rho(p), season).get()).is_ok());
        }
    }

    #[test]
    fn the_reverse_of_a_rod(target in 0.1f32..1e4, d in 0.005f32..0.2, p in 0.1f32..1e5, factor in 1.0f32..5.0) {
        let season = Season::new(ratio(factor)).unwrap();
        let at = |l: f32| Rod::new(m(l), m(d)).map(|r| Electrode::Rod(r).resistance(rho(p), season).get());
        match rod_length(ohms(target), m(d), rho(p), season) {
            Ok(found) => {
                prop_assert!(at(found.get()).unwrap() <= target);
                match at(step(found.get(), -1)) {
                    Ok(r) => prop_assert!(r > target),
                    // The shortest there is.
                    Err(e) => prop_assert!(e.field == Field::Length || e.field == Field::Diameter),
                }
            }
            Err(e) => {
                prop_assert_eq!(e, Reason::OutOfTable.at(Field::Length));
                prop_assert!(at(Rod::LENGTH_MAX).unwrap() > target);
            }
        }
    }

    /// Whatever the bits: an error or a value that is one.
    #[test]
    fn any_number_at_all(v in proptest::array::uniform6(any_f32()), n in any::<u8>()) {
        let [a, b, c, d, e, f] = v;
        let p = OhmMetres::new(a).unwrap_or(rho(100.0));
        let season = Ratio::new(b).ok().and_then(|r| Season::new(r).ok()).unwrap_or(Season::WORST_ALREADY);
        let len = |v| Metres::new(v).unwrap_or(m(1.0));
        let (x, y, z) = (len(c), len(d), len(e));
        let any = [
            Rod::new(x, y).ok().map(Electrode::Rod),
            Rod::new(x, y).and_then(|r| Rods::new(r, Layout::Line(n), z)).ok().map(Electrode::Rods),
            Rod::new(x, y).and_then(|r| Rods::new(r, Layout::HollowSquare(n), z)).ok().map(Electrode::Rods),
            Plate::new(x, y).ok().map(Electrode::Plate),
            Tape::wire(x, y, z).ok().map(Electrode::Tape),
            Tape::strip(x, y, z).ok().map(Electrode::Tape),
            Foundation::new(x, y, z, true).ok().map(Electrode::Foundation),
        ];
        for e in any.into_iter().flatten() {
            prop_assert!(Ohms::new(e.resistance(p, season).get()).is_ok());
        }
        let target = Ohms::new(f).unwrap_or(ohms(50.0));
        let _ = rod_length(target, y, p, season);
        if let Ok(rod) = Rod::new(x, y) {
            let _ = rods_needed(target, rod, Layout::Line(n), z, p, season);
            let _ = rods_needed(target, rod, Layout::HollowSquare(n), z, p, season);
        }
        if let (Ok(limit), Ok(i)) = (Volts::new(a), Amps::new(b)) {
            let _ = largest_ra(limit, i);
        }
        // The most extreme loads and electrodes there are.
        let load = |i: f32, pf: f32| Some(LineLoad { current: Amps::new(i).ok()?, power_factor: Ratio::new(pf).ok()? });
        let u0 = Volts::new(f).unwrap_or(volts(230.0));
        let loads = [load(a, b), load(c, d), load(e, 1.0)];
        if let Ok(lost) = LostNeutral::three(u0, ratio(1.1), loads) {
            for re in [Ohms::new(a).ok(), Some(ohms(Ohms::MIN)), Some(ohms(Ohms::MAX)), None] {
                let v = lost.metal(re);
                prop_assert!(v.is_finite() && v >= 0.0, "{}", v);
                let span = lost.span(re, ratio(0.0));
                prop_assert!(span.high.is_finite() && span.low >= 0.0);
            }
        }
    }
}

/// Any bits, or what may well be meant.
fn any_f32() -> impl Strategy<Value = f32> {
    prop_oneof![
        any::<u32>().prop_map(f32::from_bits),
        0.001f32..0.3,
        0.3f32..40.0,
    ]
}

// A lost neutral.

fn line(i: f32, pf: f32) -> LineLoad {
    LineLoad {
        current: amps(i),
        power_factor: ratio(pf),
    }
}

fn single(i: f32, pf: f32, factor: f32) -> LostNeutral {
    LostNeutral::single(volts(230.0), ratio(factor), line(i, pf)).unwrap()
}

/// The potential of the star point by a nodal sum of its own, in `f64`: three sources behind 1 µΩ, loads to
/// the star point, an electrode from there to earth; solved by elimination.
mod nodal {
    type C = (f64, f64);
    fn mul(a: C, b: C) -> C {
        (a.0 * b.0 - a.1 * b.1, a.0 * b.1 + a.1 * b.0)
    }
    fn div(a: C, b: C) -> C {
        let s = b.0 * b.0 + b.1 * b.1;
        mul(a, (b.0 / s, -b.1 / s))
    }
    fn add(a: C, b: C) -> C {
        (a.0 + b.0, a.1 + b.1)
    }
    fn sub(a: C, b: C) -> C {
        (a.0 - b.0, a.1 - b.1)
    }
    fn size(a: C) -> f64 {
        a.0.hypot(a.1)
    }

    /// Voltage of the star point, and across each load.
    pub fn star(
        u: f64,
        loads: [Option<(f64, f64)>; 3],
        u0: f64,
        re: Option<f64>,
    ) -> (f64, [f64; 3]) {
        const SOURCE: f64 = 1e6;
        let mut a = [[(0.0, 0.0); 4]; 4];
        let mut b = [(0.0, 0.0); 4];
        for k in 0..3 {
            let angle = -2.0 * core::f64::consts::PI * k as f64 / 3.0;
            let e = (u * angle.cos(), u * angle.sin());
            a[k][k] = add(a[k][k], (SOURCE, 0.0));
            b[k] = (SOURCE * e.0, SOURCE * e.1);
            if let Some((i, pf)) = loads[k] {
                let y = (i / u0 * pf, -i / u0 * (1.0 - pf * pf).sqrt());
                a[k][k] = add(a[k][k], y);
                a[3][3] = add(a[3][3], y);
                a[k][3] = sub(a[k][3], y);
                a[3][k] = sub(a[3][k], y);
            }
        }
        if let Some(re) = re {
            a[3][3] = add(a[3][3], (1.0 / re, 0.0));
        }
        for p in 0..4 {
            for r in 0..4 {
                if r != p {
                    let f = div(a[r][p], a[p][p]);
                    let pivot = a[p];
                    for (to, from) in a[r].iter_mut().zip(pivot) {
                        *to = sub(*to, mul(f, from));
                    }
                    b[r] = sub(b[r], mul(f, b[p]));
                }
            }
        }
        let v: std::vec::Vec<C> = (0..4).map(|k| div(b[k], a[k][k])).collect();
        (size(v[3]), [0, 1, 2].map(|k| size(sub(v[k], v[3]))))
    }
}

#[test]
fn lost_neutral_by_hand() {
    assert_eq!(single(10.0, 1.0, 1.0).metal(Some(ohms(23.0))), 115.0);
    assert_eq!(single(10.0, 1.0, 1.0).metal(None), 230.0);
    near(single(10.0, 1.0, 1.1).metal(None), 253.0, 1e-6);
    near(single(10.0, 1.0, 1.0).current(ohms(23.0)), 5.0, 1e-6);
    // The same impedance, all reactance but for 5 %: far more stands on the metal.
    assert!(single(10.0, 0.05, 1.0).metal(Some(ohms(23.0))) > 155.0);
    // Balanced: nothing.
    let even = LostNeutral::three(volts(230.0), ratio(1.0), [Some(line(20.0, 0.9)); 3]).unwrap();
    assert!(even.metal(None) < 1e-3);
    // One line alone is a single phase, whichever it is.
    for k in 0..3 {
        let mut loads = [None; 3];
        loads[k] = Some(line(10.0, 1.0));
        let one = LostNeutral::three(volts(230.0), ratio(1.0), loads).unwrap();
        near(one.metal(Some(ohms(23.0))), 115.0, 1e-5);
        near(one.across(Some(ohms(23.0)))[k].unwrap(), 115.0, 1e-5);
    }
    // Two equal lines without electrode, whichever: in series across 400 V, the metal at half U0.
    for none in 0..3 {
        let mut two = [Some(line(10.0, 1.0)); 3];
        two[none] = None;
        let two = LostNeutral::three(volts(230.0), ratio(1.0), two).unwrap();
        near(two.metal(None), 115.0, 1e-5);
        near(two.span(None, ratio(1.0)).high, 115.0, 1e-5);
        let has = (none + 1) % 3;
        near(two.across(None)[has].unwrap(), 230.0 * 0.75f32.sqrt(), 1e-5);
        assert_eq!(two.across(None)[none], None);
    }
}

#[test]
fn what_a_lost_neutral_cant_be_of() {
    let l = line(10.0, 1.0);
    let of = |factor: f32, load| LostNeutral::single(volts(230.0), ratio(factor), load);
    assert_eq!(of(0.9, l), Err(Reason::TooSmall.at(Field::VoltageFactor)));
    assert_eq!(of(1.6, l), Err(Reason::TooLarge.at(Field::VoltageFactor)));
    assert_eq!(
        of(1.0, line(10.0, 0.04)),
        Err(Reason::TooSmall.at(Field::PowerFactor))
    );
    assert_eq!(
        of(1.0, line(10.0, 1.01)),
        Err(Reason::TooLarge.at(Field::PowerFactor))
    );
    assert_eq!(
        LostNeutral::three(volts(230.0), ratio(1.0), [None; 3]),
        Err(Reason::Missing.at(Field::DesignCurrent))
    );
    let only = |loads| of(1.0, l).unwrap().or_only(loads).map(|_| ());
    assert_eq!(
        only([None; 3]),
        Err(Reason::Missing.at(Field::DesignCurrent))
    );
    assert_eq!(
        only([None, None, Some(line(10.0, 1.01))]),
        Err(Reason::TooLarge.at(Field::PowerFactor))
    );
}

/// R = V·U0/(I·(C·U0 − V)), BS 7671 Annex A722, from memory.
#[test]
fn the_electrode_for_seventy_volts() {
    let sought = single(40.0, 1.0, 1.1).electrode_for(volts(VEHICLE_LIMIT), None, ratio(0.1));
    let Ok(Sought::AtMost(r)) = sought else {
        panic!("{sought:?}")
    };
    near(r.get(), 70.0 * 230.0 / (40.0 * (1.1 * 230.0 - 70.0)), 1e-5);
    // With one beside it, it may be worse; and with a good one none is needed.
    let beside =
        |b: f32| single(40.0, 1.0, 1.1).electrode_for(volts(70.0), Some(ohms(b)), ratio(0.1));
    let Ok(Sought::AtMost(less)) = beside(3.0) else {
        panic!()
    };
    near(1.0 / less.get() + 1.0 / 3.0, 1.0 / r.get(), 1e-4);
    assert_eq!(beside(2.0), Ok(Sought::None));
    // Balanced three phases ask for none, until a line is switched off.
    let even = LostNeutral::three(volts(230.0), ratio(1.1), [Some(line(40.0, 1.0)); 3]).unwrap();
    assert_eq!(
        even.electrode_for(volts(70.0), None, ratio(1.0)),
        Ok(Sought::None)
    );
    assert!(matches!(
        even.electrode_for(volts(70.0), None, ratio(0.1)),
        Ok(Sought::AtMost(_))
    ));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn one_phase_is_within_the_voltage_and_monotone(
        i in 1e-3f32..1000.0, pf in 0.05f32..1.0, r in 1e-4f32..1e5, more in 1.0f32..10.0, factor in 1.0f32..1.5,
    ) {
        let lost = single(i, pf, factor);
        let all = 230.0 * factor;
        let (a, b) = (lost.metal(Some(ohms(r))), lost.metal(Some(ohms(r * more))));
        prop_assert!(a >= 0.0 && a <= b && b <= all, "{} {} {}", a, b, all);
        prop_assert_eq!(lost.metal(None), all);
        // More load never gives less.
        prop_assert!(single(i * more, pf, factor).metal(Some(ohms(r))) >= a * 0.999_999);
        let span = lost.span(Some(ohms(r)), ratio(0.1));
        prop_assert_eq!(span.high, a);
        prop_assert!(span.low <= span.high);
    }

    #[test]
    fn three_phases_against_a_nodal_sum(
        i in proptest::array::uniform3(0.0f32..100.0), pf in proptest::array::uniform3(0.05f32..1.0),
        r in 0.5f32..1000.0, any in any::<bool>(),
    ) {
        let mut loads = [None; 3];
        let mut same = [None; 3];
        for k in 0..3 {
            if i[k] > 5.0 {
                loads[k] = Some(line(i[k], pf[k]));
                same[k] = Some((f64::from(i[k]), f64::from(pf[k])));
            }
        }
        prop_assume!(loads.iter().any(Option::is_some));
        let re = any.then(|| ohms(r));
        let lost = LostNeutral::three(volts(230.0), ratio(1.0), loads).unwrap();
        let (star, across) = nodal::star(230.0, same, 230.0, any.then_some(f64::from(r)));
        prop_assert!((f64::from(lost.metal(re)) - star).abs() < 0.02, "{} {}", lost.metal(re), star);
        for (own, other) in lost.across(re).into_iter().zip(across) {
            if let Some(v) = own {
                prop_assert!((f64::from(v) - other).abs() < 0.02, "{} {}", v, other);
            }
        }
    }

    /// At one power factor no load between the ends of the ranges gives more than the span says.
    #[test]
    fn the_span_holds(
        i in proptest::array::uniform3(1.0f32..100.0), pf in 0.05f32..1.0, least in 0.01f32..1.0,
        at in proptest::array::uniform3(0.0f32..1.0), r in 0.5f32..1000.0, any in any::<bool>(),
    ) {
        let re = any.then(|| ohms(r));
        let of = |i: [f32; 3]| LostNeutral::three(volts(230.0), ratio(1.0), i.map(|i| Some(line(i, pf)))).unwrap();
        let span = of(i).span(re, ratio(least));
        let mut between = i;
        for k in 0..3 {
            between[k] *= least + at[k] * (1.0 - least);
        }
        prop_assert!(of(between).metal(re) <= span.high * 1.000_01 + 1e-3);
        prop_assert!(span.low <= of(i).metal(re) * 1.000_001);
    }

    /// Loads that may hold nothing back make the span no narrower.
    #[test]
    fn either_is_in_the_span(
        i in proptest::array::uniform3(1.0f32..100.0), single in proptest::array::uniform3(0.1f32..50.0), pf in 0.05f32..1.0,
        least in 0.01f32..1.0, r in 0.5f32..1000.0, any in any::<bool>(),
    ) {
        let (re, least) = (any.then(|| ohms(r)), ratio(least));
        let of = |i: [f32; 3]| i.map(|i| Some(line(i, pf)));
        let new = |i| LostNeutral::three(volts(230.0), ratio(1.0), of(i)).unwrap();
        let both = new(i).or_only(of(single)).unwrap().span(re, least).high;
        prop_assert_eq!(both, new(i).span(re, least).high.max(new(single).span(re, least).high));
    }

    #[test]
    fn the_electrode_sought_is_the_largest(
        i in proptest::array::uniform3(1.0f32..100.0), pf in 0.5f32..1.0, limit in 1.0f32..300.0, beside in 1.0f32..1000.0,
        any in any::<bool>(),
    ) {
        let beside = any.then(|| ohms(beside));
        let loads = i.map(|i| Some(line(i, pf)));
        let lost = LostNeutral::three(volts(230.0), ratio(1.1), loads).unwrap();
        let least = ratio(0.1);
        let at = |r: f32| lost.span(parallel(Some(Ohms::raw(r)), beside), least).high;
        match lost.electrode_for(volts(limit), beside, least) {
            Ok(Sought::None) => prop_assert!(lost.span(beside, least).high <= limit),
            Ok(Sought::AtMost(r)) => {
                prop_assert!(at(r.get()) <= limit);
                prop_assert!(r.get() == Ohms::MAX || at(step(r.get(), 1)) > limit);
            }
            Err(e) => {
                prop_assert_eq!(e, Reason::TooSmall.at(Field::Ra));
                prop_assert!(at(Ohms::MIN) > limit);
            }
        }
    }
}

// Schemes.

fn building(electrode: Option<f32>) -> Outbuilding {
    Outbuilding {
        board: BoardId(1),
        electrode: electrode.map(ohms),
        rcd_type: RcdType::A,
        least_load: ratio(0.1),
        limit: volts(70.0),
    }
}

/// Compares, and holds the installation against what it was.
fn sides(inst: &mut Installation<4, 8>, what: &Outbuilding) -> [Side; 3] {
    let before = inst.clone();
    let sides = compare(inst, Earthing::TnCS, what).unwrap();
    assert_eq!(*inst, before);
    sides
}

#[test]
fn side_by_side() {
    let [extended, own, both] = sides(&mut house(), &building(Some(100.0)));
    assert_eq!([extended.scheme, own.scheme, both.scheme], Scheme::ALL);
    // The supply's earth: the breaker disconnects, no RCD is needed, the metal can rise to all of cmax·U0.
    assert_eq!(extended.outcome, Outcome::Pass);
    assert_eq!(extended.rcd, RcdNeed::None);
    assert_eq!(extended.touch, None);
    assert_eq!(extended.electrode_sought, None);
    assert_eq!(extended.stable, None);
    let Lost::Rises {
        metal,
        electrode,
        current,
        sought,
    } = extended.lost
    else {
        panic!()
    };
    near(metal.high, 253.0, 1e-6);
    near(metal.low, 253.0, 1e-6);
    assert_eq!((electrode, current), (None, None));
    let Some(Sought::AtMost(r)) = sought else {
        panic!()
    };
    // 22 A in all.
    near(r.get(), 70.0 * 230.0 / (22.0 * 183.0), 1e-4);
    assert!(extended.cautions.contains(
        Caution::ASK_DISTRIBUTOR | Caution::LIVE_METAL | Caution::NO_EQUIPOTENTIAL_OUTSIDE
    ));

    // An electrode of its own: without an RCD nothing disconnects. 500 mA would leave 50.07 V.
    assert_eq!(own.outcome, Outcome::Fail);
    assert_eq!(own.check, Some(Check::Disconnection));
    let RcdNeed::This {
        rcd: needed,
        selective,
        outcome,
        check,
    } = own.rcd
    else {
        panic!("{:?}", own.rcd)
    };
    assert_eq!(needed, rcd(0.3, RcdDelay::None));
    assert_eq!(selective, Selective::NothingBehind);
    assert_eq!((outcome, check), (Outcome::Pass, None));
    // 50/0.3 less the protective conductor to the furthest point: 7.41 Ω/km hot, 15 m.
    let (with, ra) = own.electrode_sought.unwrap();
    assert_eq!(with, needed);
    near(ra.get(), 50.0 / 0.3 - 0.015 * 7.41 * 1.2, 1e-5);
    assert_eq!(own.stable, Some(true));
    // Only the house's metal rises.
    let Lost::Apart(Ok(between)) = own.lost else {
        panic!()
    };
    near(between.high, 253.0, 1e-6);
    assert!(own.cautions.contains(Caution::FEED_CORE_INSULATED));
    assert!(!own.cautions.contains(Caution::ARMOUR_APART));
    assert_eq!(own.armour, Armour::None);

    // With an electrode in addition: 100 Ω beside 10.45 Ω of load do little.
    assert_eq!(both.outcome, Outcome::Pass);
    let Lost::Rises { metal, current, .. } = both.lost else {
        panic!()
    };
    let load = 230.0 / 22.0;
    near(metal.high, 253.0 * 100.0 / (100.0 + load), 1e-5);
    near(metal.low, 253.0 * 100.0 / (100.0 + 10.0 * load), 1e-5);
    near(current.unwrap(), metal.high / 100.0, 1e-6);
    assert!(both.cautions.contains(Caution::ELECTRODE_TOO_POOR));
    near(both.through_electrode.unwrap(), 2.53, 1e-6);
    assert!(!both.cautions.contains(Caution::ADDS_TO_FAULT_CURRENT));
}

#[test]
fn a_selective_one_in_front_of_others() {
    let mut h = house();
    h.circuits[2].rcd = Some(rcd(0.03, RcdDelay::None));
    let [_, own, _] = sides(&mut h, &building(Some(100.0)));
    // The RCD behind makes the circuit itself good already; the board in front of it is not.
    assert_eq!(own.disconnection.unwrap().outcome, Outcome::Pass);
    assert_eq!(own.outcome, Outcome::CannotSay);
    assert_eq!(own.check, Some(Check::BoardFault));
    assert_eq!(own.at_board.unwrap().lacking, Lacking::ENCLOSURE);
    h.boards[1].enclosure = Some(Enclosure::Metal);
    // One of its own is in the board, and so not in front of it.
    for within in [None, Some(rcd(0.1, RcdDelay::Selective))] {
        h.boards[1].rcd = within;
        let [extended, own, _] = sides(&mut h, &building(Some(100.0)));
        assert_eq!(own.outcome, Outcome::Fail);
        assert_eq!(own.at_board.unwrap().outcome, Outcome::Fail);
        assert!(own.cautions.contains(Caution::NO_RCD_IN_FRONT));
        assert!(!extended.cautions.contains(Caution::NO_RCD_IN_FRONT));
        assert_eq!(extended.at_board.unwrap().check, Check::Disconnection);
        // The one it needs is in front, and makes all good.
        assert!(matches!(
            own.rcd,
            RcdNeed::This {
                outcome: Outcome::Pass,
                ..
            }
        ));
    }
    h.boards[1].rcd = None;
    h.boards[1].enclosure = Some(Enclosure::Insulated);
    let [_, own, _] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(own.outcome, Outcome::Pass);
    assert_eq!(own.at_board.unwrap().assumed, Assumed::INSULATED_FRONT);
    assert!(own.cautions.contains(Caution::NO_RCD_IN_FRONT));
    h.boards[1].enclosure = None;
    assert!(matches!(
        own.rcd,
        RcdNeed::This { rcd: r, selective: Selective::Yes, .. } if r == rcd(0.3, RcdDelay::Selective)
    ));
    // 300 mA behind leaves nothing selective at 100 Ω.
    h.circuits[2].rcd = Some(rcd(0.3, RcdDelay::None));
    let [_, own, _] = sides(&mut h, &building(Some(100.0)));
    assert!(matches!(
        own.rcd,
        RcdNeed::This { rcd: r, selective: Selective::No, .. } if r == rcd(0.3, RcdDelay::None)
    ));
    // Nor can there be one in front of another selective one.
    h.circuits[2].rcd = Some(rcd(0.1, RcdDelay::Selective));
    let [_, own, _] = sides(&mut h, &building(Some(100.0)));
    assert!(matches!(
        own.rcd,
        RcdNeed::This {
            selective: Selective::No,
            ..
        }
    ));
    // 30 mA at the house takes the workshop first.
    assert!(!own.cautions.contains(Caution::UPSTREAM_NOT_SELECTIVE));
    h.circuits[0].rcd = Some(rcd(0.03, RcdDelay::None));
    let [_, own, _] = sides(&mut h, &building(Some(100.0)));
    assert!(own.cautions.contains(Caution::UPSTREAM_NOT_SELECTIVE));
    assert_eq!(own.at_board.unwrap().outcome, Outcome::Pass);
    assert!(!own.cautions.contains(Caution::NO_RCD_IN_FRONT));
    // Type S of 300 mA at the board of the house lets a general one of 100 mA go first, but not one of 300.
    h.circuits[0].rcd = None;
    h.circuits[2].rcd = None;
    h.boards[0].rcd = Some(rcd(0.3, RcdDelay::Selective));
    let [_, own, _] = sides(&mut h, &building(Some(400.0)));
    assert!(matches!(own.rcd, RcdNeed::This { rcd: r, .. } if r == rcd(0.1, RcdDelay::None)));
    assert!(!own.cautions.contains(Caution::UPSTREAM_NOT_SELECTIVE));
    let [_, own, _] = sides(&mut h, &building(Some(100.0)));
    assert!(own.cautions.contains(Caution::UPSTREAM_NOT_SELECTIVE));
}

#[test]
fn what_serves_does_not_lean_on_what_is_upstream() {
    let mut h = house();
    h.circuits[0].rcd = Some(rcd(0.03, RcdDelay::None));
    let [_, own, _] = sides(&mut h, &building(Some(400.0)));
    // 400 Ω: 100 mA at most, though 30 mA at the house makes it pass as it stands.
    assert_eq!(own.touch.unwrap().outcome, Outcome::Pass);
    assert!(matches!(own.rcd, RcdNeed::This { rcd: r, .. } if r == rcd(0.1, RcdDelay::None)));
    assert_eq!(own.stable, Some(false));
    assert!(own.cautions.contains(Caution::MAY_NOT_BE_STABLE));
    // 10 kΩ: none that is made, but for 6 mA, would leave 50 V; and that one does.
    let [_, own, _] = sides(&mut h, &building(Some(8000.0)));
    assert!(matches!(own.rcd, RcdNeed::This { rcd: r, .. } if r == rcd(0.006, RcdDelay::None)));
    let [_, own, _] = sides(&mut h, &building(Some(20_000.0)));
    assert_eq!(own.rcd, RcdNeed::NoneServes);
}

/// A poor electrode at the source: 40 + 584 Ω let 0.35 A flow. 300 mA would leave 12 V, and disconnects the
/// board's own metal; but a final circuit only in 0.3 s, and 0.2 s are allowed: 100 mA.
#[test]
fn the_times_count_too_and_only_with_what_is_in_the_building() {
    let needed = |h: &mut Installation<4, 8>| match sides(h, &building(Some(40.0)))[1].rcd {
        RcdNeed::This { rcd, selective, .. } => (rcd, selective),
        other => panic!("{other:?}"),
    };
    let mut h = house();
    h.profile.source_electrode = 584.0;
    let general = (rcd(0.1, RcdDelay::None), Selective::NothingBehind);
    assert_eq!(needed(&mut h), general);
    // 30 mA at the house is no help that is counted here.
    h.boards[0].rcd = Some(rcd(0.03, RcdDelay::None));
    assert_eq!(needed(&mut h), general);
    h.boards[0].rcd = None;
    h.circuits[0].rcd = Some(rcd(0.03, RcdDelay::None));
    assert_eq!(needed(&mut h), general);
    // With one of its own the circuit needs no help from the one in front, which then has a second.
    h.circuits[0].rcd = None;
    h.circuits[2].rcd = Some(rcd(0.03, RcdDelay::None));
    assert_eq!(
        needed(&mut h),
        (rcd(0.3, RcdDelay::Selective), Selective::Yes)
    );
    // 1000 Ω let 0.21 A flow: 300 mA would not see a fault to the board's own metal.
    h.profile.source_electrode = 1000.0;
    assert_eq!(
        needed(&mut h),
        (rcd(0.1, RcdDelay::Selective), Selective::Yes)
    );
}

#[test]
fn an_electrode_not_known_is_said() {
    let [extended, own, both] = sides(&mut house(), &building(None));
    assert_eq!(extended.outcome, Outcome::Pass);
    assert!(own.outcome >= Outcome::CannotSay);
    assert_eq!(own.rcd, RcdNeed::NotKnown(Lacking::RA));
    assert_eq!(own.stable, None);
    let (with, ra) = own.electrode_sought.unwrap();
    assert_eq!(with, rcd(0.1, RcdDelay::None));
    assert!(ra.get() < 500.0 && ra.get() > 499.0);
    // Not known is not there: all of the voltage.
    let Lost::Rises { metal, .. } = both.lost else {
        panic!()
    };
    near(metal.high, 253.0, 1e-6);
    // Nor is a load that is not known no load.
    let mut h = house();
    h.circuits[1].load.demand = Demand::Derived;
    let [extended, own, _] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(extended.lost, Lost::NotKnown(Lacking::LOADS));
    assert_eq!(own.lost, Lost::Apart(Err(Lacking::LOADS)));
    assert!(extended.cautions.contains(Caution::LIVE_METAL));
}

#[test]
fn bonding_goes_by_the_neutral_where_it_is_extended() {
    let mut h = house();
    h.boards[1].extraneous = true;
    h.boards[1].bonding = Some(Conductor {
        material: Material::Copper,
        csa: SquareMm::new(10.0).unwrap(),
    });
    let [extended, own, both] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(extended.bonding_needed.unwrap().get(), 10.0);
    assert_eq!(extended.feed_bonding.unwrap().outcome, Outcome::Pass);
    assert_eq!(both.feed_bonding, extended.feed_bonding);
    assert_eq!(own.feed_bonding, None);
    assert_eq!(own.bonding.unwrap().outcome, Outcome::Pass);
    assert_eq!(own.earthing_conductor.unwrap().outcome, Outcome::Pass);
    // In addition, the electrode's conductor carries what bonding carries: 10 mm², and not the 2.5 mm² that
    // its protection in the ground would let it be.
    let conductor = both.earthing_conductor.unwrap();
    assert_eq!(conductor.limit, Some(10.0));
    assert_eq!(conductor.outcome, Outcome::Pass);
    assert!(!own.cautions.contains(Caution::NO_EXTRANEOUS_ENTERED));
    // A core of 6 mm² carries no bonding.
    h.circuits[0].sections[0] = section(20.0, 6.0);
    let [extended, ..] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(extended.feed_bonding.unwrap().outcome, Outcome::Fail);
    assert_eq!(extended.check, Some(Check::FeedBonding));
    h.supply.neutral = None;
    let [extended, _, both] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(extended.bonding_needed, Err(Lacking::NEUTRAL));
    let conductor = both.earthing_conductor.unwrap();
    assert_eq!(conductor.outcome, Outcome::CannotSay);
    assert!(conductor.lacking.contains(Lacking::NEUTRAL));
    let mut h = house();
    h.boards[1].earthing_conductor = None;
    let [extended, _, both] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(extended.outcome, Outcome::Pass);
    assert_eq!(both.outcome, Outcome::CannotSay);
    assert_eq!(both.check, Some(Check::EarthingConductor));
}

#[test]
fn a_very_good_electrode_adds_to_the_largest_current() {
    // 253 V through 0.2 Ω are 1265 A; the devices of 10 kA have more than that to spare.
    let [.., both] = sides(&mut house(), &building(Some(0.2)));
    near(both.through_electrode.unwrap(), 1265.0, 1e-5);
    assert!(!both.cautions.contains(Caution::ADDS_TO_FAULT_CURRENT));
    let [.., both] = sides(&mut house(), &building(Some(0.02)));
    assert!(both.cautions.contains(Caution::ADDS_TO_FAULT_CURRENT));
    // Not known to have it to spare is not having it.
    let mut h = house();
    h.supply.fault_level = FaultLevel::NotKnown;
    let [.., both] = sides(&mut h, &building(Some(100.0)));
    assert!(both.cautions.contains(Caution::ADDS_TO_FAULT_CURRENT));
}

#[test]
fn a_poor_power_factor_lifts_metal_more() {
    let mut h = house();
    h.circuits[1].load.power_factor = ratio(0.6);
    let [.., both] = sides(&mut h, &building(Some(10.0)));
    let [.., even] = sides(&mut house(), &building(Some(10.0)));
    let high = |side: &Side| match side.lost {
        Lost::Rises { metal, .. } => metal.high,
        _ => panic!(),
    };
    assert!(high(&both) > high(&even));
    // The house's own electrode is beside it.
    h.supply.ra = Some(ohms(10.0));
    let [extended, _, both] = sides(&mut h, &building(Some(10.0)));
    assert!(high(&both) < high(&extended));
}

#[test]
fn armour_joins_no_two_earths() {
    let mut h = house();
    let s = &mut h.circuits[0].sections[0];
    s.construction = Construction::Armoured;
    s.insulation = Insulation::Thermosetting90;
    s.cores = 2;
    s.protective = Protective::Armour(None);
    let [extended, own, _] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(extended.armour, Armour::Through);
    // The other way about a fault in the cable needs an RCD at the house.
    let at_origin = |side: &Side| match side.armour {
        Armour::ApartAtBuilding { apart_at_origin } => apart_at_origin,
        _ => panic!(),
    };
    assert_eq!(at_origin(&own), Outcome::Fail);
    assert!(own.cautions.contains(Caution::ARMOUR_APART));
    assert!(!own.cautions.contains(Caution::FEED_CORE_INSULATED));
    h.circuits[0].rcd = Some(rcd(0.3, RcdDelay::Selective));
    let with = |h: &mut _, ra: Option<f32>| at_origin(&sides(h, &building(ra))[1]);
    assert_eq!(with(&mut h, Some(100.0)), Outcome::Pass);
    assert_eq!(with(&mut h, Some(167.0)), Outcome::Fail);
    assert_eq!(with(&mut h, None), Outcome::CannotSay);
}

#[test]
fn a_long_circuit_needs_an_rcd_on_any_earth() {
    let mut h = house();
    h.circuits[2].sections[0].length = m(200.0);
    let [extended, ..] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(extended.disconnection.unwrap().outcome, Outcome::Fail);
    assert!(matches!(extended.rcd, RcdNeed::This { rcd: r, .. } if r == rcd(1.0, RcdDelay::None)));
}

#[test]
fn nothing_there_is_no_pass() {
    let mut h = house();
    h.circuits[2].board = BoardId(0);
    for side in sides(&mut h, &building(Some(100.0))) {
        assert_eq!(side.outcome, Outcome::CannotSay);
        assert!(!matches!(side.rcd, RcdNeed::This { .. }));
        assert_eq!(side.electrode_sought, None);
    }
}

#[test]
fn what_is_no_building() {
    let mut h = house();
    let mut what = building(None);
    let mut of = |what: &Outbuilding| compare(&mut h, Earthing::TnCS, what).map(|_| ());
    what.board = BoardId(0);
    assert_eq!(of(&what), Err(Reason::Missing.at(Field::FedBy)));
    what.board = BoardId(9);
    assert_eq!(of(&what), Err(Reason::Dangling.at(Field::Board)));
    let mut h = house();
    h.boards[0].fed_by = Some(CircuitId(0));
    let looped: Result<_, Error> = compare(&mut h, Earthing::TnCS, &building(None)).map(|_| ());
    assert_eq!(looped, Err(Reason::Cycle.at(Field::FedBy)));
    h.boards[1].fed_by = Some(CircuitId(9));
    let dangling = compare(&mut h, Earthing::TnCS, &building(None)).map(|_| ());
    assert_eq!(dangling, Err(Reason::Dangling.at(Field::FedBy)));
}

#[test]
fn a_supply_without_combined_conductor_lifts_no_metal() {
    let mut h = house();
    h.supply.earthing = SupplyEarthing::Known(Earthing::TnS);
    let sides = compare(&mut h, Earthing::TnS, &building(Some(100.0))).unwrap();
    for side in sides {
        assert_eq!(side.lost, Lost::NotJoined);
        assert!(!side.cautions.contains(Caution::ASK_DISTRIBUTOR));
    }
}

#[test]
fn situations_are_cautions() {
    let mut h = house();
    assert_eq!(raised(&h, BoardId(1)), None);
    h.circuits[2].outdoors = true;
    assert_eq!(raised(&h, BoardId(1)), Some(Situation::Outdoors));
    // What hangs on the workshop hangs on the house too.
    assert_eq!(raised(&h, BoardId(0)), Some(Situation::Outdoors));
    let [extended, ..] = sides(&mut h, &building(None));
    assert!(extended.cautions.contains(Caution::OUTDOORS));
    assert!(Stance::NotAllowed > Stance::Doubtful && Stance::Doubtful > Stance::Ask);
    assert_eq!(Situation::Caravan.stance(), Stance::NotAllowed);
    for (k, one) in Situation::ALL.iter().enumerate() {
        assert!(!Situation::ALL[..k].contains(one));
    }
}

fn any_rcd() -> impl Strategy<Value = Option<Rcd>> {
    prop_oneof![
        Just(None),
        (0usize..7, any::<bool>()).prop_map(|(k, s)| {
            let delay = if s {
                RcdDelay::Selective
            } else {
                RcdDelay::None
            };
            Rcd::new(amps(Rcd::sensitivities()[k]), RcdType::A, delay).ok()
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// The job is as it was; what is named does; one that does not know its electrode names nothing.
    #[test]
    fn any_house(
        ra in proptest::option::of(0.1f32..1e5), main in proptest::option::of(1.0f32..500.0),
        rcds in proptest::collection::vec(any_rcd(), 5), lengths in proptest::array::uniform2(1.0f32..300.0),
        three in any::<bool>(), any in any::<bool>(), system in 0usize..3, u0 in 51.0f32..500.0,
    ) {
        let mut h = house();
        h.supply.u0 = volts(u0);
        h.supply.ra = main.map(ohms);
        let system = [Earthing::TnCS, Earthing::TnS, Earthing::Tt][system];
        h.supply.earthing = SupplyEarthing::Known(system);
        if three {
            h.supply.phases = Phases::Three;
            h.circuits[0].phase = Phase::Three;
            h.circuits[2].phase = Phase::L2;
        }
        for (c, r) in h.circuits.iter_mut().zip(&rcds) {
            c.rcd = *r;
        }
        for (b, r) in h.boards.iter_mut().zip(&rcds[3..]) {
            b.rcd = *r;
        }
        if three == any {
            h.boards[1].earthing = BoardEarthing::OwnElectrode(main.map(ohms));
        }
        h.circuits[0].sections[0].length = m(lengths[0]);
        h.circuits[2].sections[0].length = m(lengths[1]);
        let before = h.clone();
        let what = building(ra);
        let sides = compare(&mut h, system, &what).unwrap();
        prop_assert_eq!(&h, &before);
        for side in &sides {
            if let Lost::Rises { metal, .. } = side.lost {
                prop_assert!(metal.low >= 0.0 && metal.low <= metal.high);
                prop_assert!(three || metal.high <= 1.1 * u0 * 1.000_001);
            }
            if let RcdNeed::This { rcd, .. } = side.rcd {
                // Alone in the building it leaves no more than the limit.
                if side.scheme == Scheme::OwnElectrode {
                    prop_assert!(touch_voltage(what.electrode.unwrap(), rcd.sensitivity()) <= 50.0);
                    // Where the job has it there, the electrode may be as much as is said.
                    let (_, most) = side.electrode_sought.unwrap();
                    prop_assert!(most.get() >= what.electrode.unwrap().get());
                }
            }
            if ra.is_none() && side.scheme == Scheme::OwnElectrode {
                let named = matches!(side.rcd, RcdNeed::This { .. } | RcdNeed::None);
                prop_assert!(!named);
                prop_assert!(side.outcome >= Outcome::CannotSay);
            }
        }
    }
}

/// Every line of the working, by the formula.
fn lines(inst: &Installation<4, 8>, what: &Outbuilding, side: &Side) -> std::vec::Vec<Worked> {
    let mut out = std::vec::Vec::new();
    options::work(inst, Earthing::TnCS, what, side, |line| out.push(line));
    out
}

/// Found by fuzzing.
#[test]
fn no_line_of_the_working_is_without_a_figure() {
    let what = building(Some(100.0));
    let mut h = house();
    h.profile.cmax = f32::NAN;
    for side in compare(&mut h, Earthing::TnCS, &what).unwrap() {
        let lines = lines(&h, &what, &side);
        assert!(lines.iter().all(|l| l.value.is_finite()), "{lines:?}");
    }
}

#[test]
fn the_working_ends_in_what_was_said() {
    let what = building(Some(100.0));
    for main in [None, Some(8.0)] {
        let mut h = house();
        h.supply.ra = main.map(ohms);
        for side in sides(&mut h, &what) {
            let lines = lines(&h, &what, &side);
            let of = |wanted| lines.iter().find(|l| l.formula == wanted).map(|l| l.value);
            let volts = of(Formula::LostSingle).or(of(Formula::LostOpen)).unwrap();
            match side.lost {
                Lost::Rises {
                    metal,
                    electrode,
                    current,
                    sought,
                } => {
                    assert_eq!(volts, metal.high);
                    assert_eq!(of(Formula::LostCurrent), current);
                    let both = side.scheme == Scheme::ExtendWithElectrode && main.is_some();
                    assert_eq!(of(Formula::Joined).is_some(), both);
                    assert!(!both || of(Formula::Joined) == electrode.map(Ohms::get));
                    let Some(Sought::AtMost(r)) = sought else {
                        panic!()
                    };
                    let line = lines.iter().find(|l| l.formula == Formula::LostSought);
                    let line = line.unwrap();
                    assert_eq!(line.value, r.get());
                    // What is filled in gives what is said.
                    if main.is_none() {
                        let [v, u0, i, c] = line.operands;
                        near(v * u0 / (i * (c * u0 - v)), r.get(), 1e-5);
                    } else {
                        assert!(line.operands.iter().all(|v| v.is_nan()));
                    }
                }
                Lost::Apart(Ok(between)) => assert_eq!(volts, between.high),
                _ => panic!(),
            }
            assert_eq!(
                of(Formula::TouchVoltage),
                (side.scheme == Scheme::OwnElectrode).then_some(100.0 * 0.3)
            );
            assert_eq!(
                of(Formula::Stable).is_some(),
                side.scheme != Scheme::ExtendSupply
            );
        }
    }
}

/// The formula for the electrode sought is of a resistive load alone: of another no operands are shown.
#[test]
fn the_formula_of_the_electrode_sought_is_shown_where_it_holds() {
    let what = building(Some(100.0));
    for pf in [1.0, 0.8] {
        let mut h = house();
        h.circuits[2].load.power_factor = ratio(pf);
        let [extended, ..] = sides(&mut h, &what);
        let lines = lines(&h, &what, &extended);
        let of = |l: &&Worked| l.formula == Formula::LostSought;
        let line = lines.iter().find(of).unwrap();
        let [v, u0, i, c] = line.operands;
        let by_formula = v * u0 / (i * (c * u0 - v));
        if pf == 1.0 {
            near(by_formula, line.value, 1e-5);
        } else {
            assert!(line.operands.iter().all(|v| v.is_nan()));
        }
    }
}

#[test]
fn the_working_of_an_electrode_ends_in_its_resistance() {
    let rho = rho(180.0);
    let season = Season::new(ratio(1.5)).unwrap();
    let rod = rod(2.4, 0.016);
    let all = [
        (Electrode::Rod(rod), Formula::Rod, 2),
        (
            Electrode::Rods(Rods::new(rod, Layout::Line(3), m(4.8)).unwrap()),
            Formula::Rods,
            4,
        ),
        (
            Electrode::Plate(Plate::new(m(0.9), m(0.6)).unwrap()),
            Formula::Plate,
            2,
        ),
        (
            Electrode::Tape(Tape::wire(m(20.0), m(0.6), m(0.008)).unwrap()),
            Formula::Tape,
            2,
        ),
        (
            Electrode::Foundation(Foundation::new(m(8.0), m(5.0), m(0.3), true).unwrap()),
            Formula::Foundation,
            2,
        ),
    ];
    for (electrode, formula, count) in all {
        let mut lines = std::vec::Vec::new();
        electrode.work(rho, season, |line| lines.push(line));
        assert_eq!(lines.len(), count, "{formula:?}");
        let [.., own, last] = lines.as_slice() else {
            panic!()
        };
        assert_eq!(own.formula, formula);
        assert_eq!(last.formula, Formula::Season);
        assert_eq!(last.value, electrode.resistance(rho, season).get());
        assert_eq!(last.operands[0], own.value);
        // The template names no operand that is not there.
        #[cfg(feature = "words")]
        for line in &lines {
            let template = crate::words::earthing_en::formula(line.formula).template;
            for (n, operand) in (0..10).zip(line.operands) {
                let named = template.contains(&std::format!("{{{n}:"));
                assert_eq!(named, operand.is_finite(), "{formula:?} {n}");
            }
        }
    }
}

#[test]
fn an_added_electrode_counts_with_the_rcd_that_is_needed() {
    // A loop that disconnects by an RCD alone, and a poor conductor to the electrode.
    let mut h = house();
    h.supply.ze = Some(ohms(30.0));
    h.boards[1].earthing_conductor = Some(EarthingConductor {
        conductor: Conductor {
            material: Material::Copper,
            csa: SquareMm::new(1.5).unwrap(),
        },
        buried: true,
        mechanical: false,
        corrosion: false,
    });
    let [extended, _, both] = sides(&mut h, &building(Some(100.0)));
    let of = |side: &Side| match side.rcd {
        RcdNeed::This { outcome, check, .. } => (outcome, check),
        other => panic!("{other:?}"),
    };
    assert_ne!(of(&extended).1, Some(Check::EarthingConductor));
    assert_eq!(of(&both), (Outcome::Fail, Some(Check::EarthingConductor)));
}

/// The voltage of each corner of the ranges by the nodal sum: the span's end is the worst of them, and where the load
/// can be even, nothing.
#[test]
fn the_span_is_that_of_its_corners() {
    let least = 0.25;
    for loads in [
        [Some(10.0), Some(20.0), Some(40.0)],
        [Some(10.0), Some(10.0), None],
        [Some(10.0), Some(10.0), Some(3.0)],
        [None, Some(7.0), Some(30.0)],
        [Some(1.0), Some(50.0), Some(50.0)],
    ] {
        for r in [None, Some(0.2), Some(2.0), Some(50.0)] {
            let lost = LostNeutral::three(
                volts(230.0),
                ratio(1.0),
                loads.map(|i| i.map(|i| line(i, 1.0))),
            )
            .unwrap();
            let mut most = 0.0f64;
            for corner in 0..8 {
                let mut same = [None; 3];
                for k in 0..3 {
                    let share = if corner >> k & 1 == 0 { 1.0 } else { least };
                    same[k] = loads[k].map(|i| (f64::from(i * share), 1.0));
                }
                let (star, _) = nodal::star(230.0, same, 230.0, r.map(f64::from));
                most = most.max(star);
            }
            let re = r.map(ohms);
            let span = lost.span(re, ratio(least));
            assert!(
                (f64::from(span.high) - most).abs() < 0.02,
                "{loads:?} {r:?} {span:?} {most}"
            );
            assert_eq!(lost.worst(re, ratio(least)).metal(re), span.high);
            // 10 A each is within reach of 10, 20 and 40 A down to a quarter.
            if loads == [Some(10.0), Some(20.0), Some(40.0)] {
                assert!(span.low < 1e-3, "{span:?}");
            }
        }
    }
}

#[test]
fn limits_of_a_lost_neutral_from_both_sides() {
    let of = |factor| LostNeutral::single(volts(230.0), Ratio::raw(factor), line(10.0, 1.0));
    assert!(of(1.0).is_ok() && of(1.5).is_ok());
    assert_eq!(
        of(step(1.0, -1)),
        Err(Reason::TooSmall.at(Field::VoltageFactor))
    );
    assert_eq!(
        of(step(1.5, 1)),
        Err(Reason::TooLarge.at(Field::VoltageFactor))
    );
    // Just the limit needs no electrode; a hair less does.
    let lost = single(40.0, 1.0, 1.1);
    let beside = Some(ohms(5.0));
    let high = lost.span(beside, ratio(0.1)).high;
    let sought = |limit| lost.electrode_for(Volts::raw(limit), beside, ratio(0.1));
    assert_eq!(sought(high), Ok(Sought::None));
    assert!(matches!(sought(step(high, -1)), Ok(Sought::AtMost(_))));
}

#[test]
fn limits_of_electrodes_from_both_sides() {
    let apart = |v| Rods::new(rod(2.4, 0.016), Layout::Line(2), Metres::raw(v)).map(|_| ());
    assert_eq!((apart(2.4), apart(100.0)), (Ok(()), Ok(())));
    assert_eq!(
        apart(step(2.4, -1)),
        Err(Reason::OutOfTable.at(Field::Spacing))
    );
    assert_eq!(
        apart(step(100.0, 1)),
        Err(Reason::TooLarge.at(Field::Spacing))
    );
    // Ten depths of half a metre.
    let long = |v| Tape::wire(Metres::raw(v), m(0.5), m(0.008)).map(|_| ());
    assert_eq!(long(5.0), Ok(()));
    assert_eq!(
        long(step(5.0, -1)),
        Err(Reason::OutOfTable.at(Field::Length))
    );
    // Just what three rods have asks for three, and a hair less for four.
    let one = rod(1.2, 0.016);
    let three = Rods::new(one, Layout::Line(3), m(2.4)).unwrap();
    let needed = |target| {
        let season = Season::WORST_ALREADY;
        rods_needed(
            Ohms::raw(target),
            one,
            Layout::Line(0),
            m(2.4),
            rho(100.0),
            season,
        )
        .unwrap()
        .layout()
    };
    let r = three.resistance(rho(100.0)).get();
    assert_eq!(needed(r), Layout::Line(3));
    assert_eq!(needed(step(r, -1)), Layout::Line(4));
}

#[test]
fn each_caution_of_tn_c_s_has_its_reason() {
    each_caution_has_its_reason(Earthing::TnCS);
}

#[test]
fn each_caution_of_tn_s_has_its_reason() {
    each_caution_has_its_reason(Earthing::TnS);
}

#[test]
fn each_caution_of_tt_has_its_reason() {
    each_caution_has_its_reason(Earthing::Tt);
}

/// Every caution, by what raises it, over houses that differ in one thing after the other.
fn each_caution_has_its_reason(system: Earthing) {
    // 0.3 Ω are so good that the overcurrent devices disconnect.
    let electrodes = [None, Some(0.3), Some(100.0), Some(200.0), Some(200.1)];
    for (n, electrode) in electrodes.into_iter().cycle().take(80).enumerate() {
        let bit = |k: usize| (n / 5) >> k & 1 == 1;
        let (extraneous, outdoors, front, level) = (bit(0), bit(1), bit(2), bit(3));
        let mut h = house();
        h.supply.earthing = SupplyEarthing::Known(system);
        h.supply.ra = Some(ohms(20.0));
        h.profile.source_electrode = 0.1;
        h.supply.fault_level = if level {
            FaultLevel::Stated(amps(1000.0), Origin::Measured)
        } else {
            FaultLevel::NotKnown
        };
        h.boards[1].extraneous = extraneous;
        h.circuits[2].outdoors = outdoors;
        h.circuits[0].rcd = front.then(|| rcd(0.1, RcdDelay::None));
        let s = &mut h.circuits[0].sections[0];
        let (metal, core) = [(false, true), (true, false), (true, true), (false, true)][n % 4];
        s.protective = match (metal, core) {
            (true, false) => Protective::Enclosure(steel(1.0)),
            (true, true) => Protective::ArmourAndCore(Some(steel(1.0)), copper(10.0)),
            _ if n % 8 < 4 => Protective::Separate(copper(10.0)),
            _ => Protective::Core(copper(10.0)),
        };
        let what = building(electrode);
        for side in compare(&mut h, system, &what).unwrap() {
            let own = side.scheme == Scheme::OwnElectrode;
            let both = side.scheme == Scheme::ExtendWithElectrode;
            let (combined, tt) = (system == Earthing::TnCS, system == Earthing::Tt);
            let good = electrode == Some(0.3);
            let poor = electrode.is_some_and(|r| r > 200.0);
            // A fault at the board: by the feed's breaker, or by the RCD in front where the loop is known.
            let covered = if own {
                electrode.is_some() && (front || good)
            } else {
                front
            };
            let rises = match side.lost {
                Lost::Rises { metal, .. } => metal.high > 70.0,
                Lost::NotKnown(_) => true,
                _ => false,
            };
            let named = matches!(side.rcd, RcdNeed::This { .. });
            let mut all = Caution::empty();
            for (caution, raised) in [
                (Caution::ASK_DISTRIBUTOR, combined && !own),
                (Caution::LIVE_METAL, combined && !own && rises),
                (Caution::NEIGHBOURS, combined && !own),
                (Caution::NO_EQUIPOTENTIAL_OUTSIDE, combined && !own),
                (
                    Caution::DIVERTED_CURRENT,
                    combined && (both || extraneous && !own),
                ),
                (Caution::KEEP_EARTHS_APART, own),
                (Caution::NOT_WITHIN_REACH, own),
                (Caution::ELECTRODE_FIRST, own),
                (Caution::MEASURE, own || both),
                (Caution::MAY_NOT_BE_STABLE, (own || both) && poor),
                (Caution::RCD_ALONE, own),
                (Caution::FEED_CORE_INSULATED, own && core),
                (Caution::ARMOUR_APART, own && metal),
                (Caution::ELECTRODE_AS_BONDING, both && combined),
                (Caution::ELECTRODE_TOO_POOR, both && combined && rises),
                // 253 V through 0.3 Ω are 843 A, and 10 kA are enough where the level is known.
                (
                    Caution::ADDS_TO_FAULT_CURRENT,
                    both && electrode.is_some() && !level,
                ),
                (Caution::OUTDOORS, outdoors),
                (Caution::NO_EXTRANEOUS_ENTERED, !extraneous),
                (Caution::ELECTRODE_MUST_STAY, own && good),
                (Caution::UPSTREAM_NOT_SELECTIVE, named && front),
                (Caution::NO_RCD_IN_FRONT, (own || tt) && !covered),
            ] {
                all.set(caution, raised);
            }
            let of = (system, electrode, side.scheme, n);
            assert_eq!(side.cautions, all, "{of:?} {:?}", side.cautions ^ all);
            let through = electrode.filter(|_| both).map(|r| 253.0 / r);
            assert_eq!(side.through_electrode.is_some(), through.is_some());
            near(
                side.through_electrode.unwrap_or(1.0),
                through.unwrap_or(1.0),
                1e-6,
            );
            let stable = electrode.filter(|_| own || both).map(|r| r <= 200.0);
            assert_eq!(side.stable, stable, "{of:?}");
            assert_eq!(side.lost == Lost::NotJoined, !combined);
        }
    }
}

fn copper(csa: f32) -> Conductor {
    Conductor {
        material: Material::Copper,
        csa: mm2(csa),
    }
}

/// Steel by its maker's figure, in Ω/km.
fn steel(r: f32) -> Steel {
    Steel {
        resistance: OhmsPerKm::new(r).unwrap(),
        area: Some(mm2(100.0)),
    }
}

#[test]
fn metal_around_a_feed_is_armour_or_conduit() {
    let mut h = house();
    for (construction, protective, metal, core) in [
        (
            Construction::SingleCores,
            Protective::Enclosure(steel(1.0)),
            true,
            false,
        ),
        (
            Construction::Armoured,
            Protective::Core(copper(10.0)),
            true,
            true,
        ),
        (
            Construction::Armoured,
            Protective::Armour(Some(steel(1.0))),
            true,
            false,
        ),
        (
            Construction::Multicore,
            Protective::Core(copper(10.0)),
            false,
            true,
        ),
        (
            Construction::SingleCores,
            Protective::Separate(copper(10.0)),
            false,
            true,
        ),
    ] {
        let s = &mut h.circuits[0].sections[0];
        (s.construction, s.protective) = (construction, protective);
        let [extended, own, both] = sides(&mut h, &building(Some(100.0)));
        let through = if metal { Armour::Through } else { Armour::None };
        assert_eq!((extended.armour, both.armour), (through, through));
        assert_eq!(matches!(own.armour, Armour::ApartAtBuilding { .. }), metal);
        assert_eq!(own.cautions.contains(Caution::FEED_CORE_INSULATED), core);
    }
}

/// Armour earthed in the building: what it adds counts in the touch voltage and in the loop.
#[test]
fn a_fault_in_armour_that_is_apart_at_the_origin_returns_through_it() {
    let mut h = house();
    // 2 Ω cold; hot more, and less than 3.2.
    h.circuits[0].sections[0].protective = Protective::Armour(Some(steel(100.0)));
    h.circuits[0].rcd = Some(rcd(0.3, RcdDelay::Selective));
    // Another board comes later in the job, with another loop.
    let other = circuit(
        0,
        Use::Distribution,
        breaker(Curve::B, 16.0),
        None,
        section(5.0, 4.0),
    );
    h.circuits.push(other).unwrap();
    h.boards.push(board(Some(3))).unwrap();
    let mut at_origin = |ra: f32, source: f32| {
        h.profile.source_electrode = source;
        match sides(&mut h, &building(Some(ra)))[1].armour {
            Armour::ApartAtBuilding { apart_at_origin } => apart_at_origin,
            other => panic!("{other:?}"),
        }
    };
    // 50 V by 300 mA are 166.7 Ω.
    assert_eq!(at_origin(163.0, 20.0), Outcome::Pass);
    assert_eq!(at_origin(165.0, 20.0), Outcome::Fail);
    // 218.5 V by 300 mA are 728.3 Ω: the electrodes, 0.05 Ω of line, and the armour.
    assert_eq!(at_origin(100.0, 624.0), Outcome::Pass);
    assert_eq!(at_origin(100.0, 628.0), Outcome::Fail);
    assert_eq!(at_origin(100.0, 640.0), Outcome::Fail);
}

/// Of several circuits there the one that comes out worst is shown; of equals the one nearest its limit, then the first.
#[test]
fn the_worst_circuit_of_the_building_is_shown() {
    let lengths = [5.0, 40.0, 20.0];
    let ways = [
        [0, 1, 2],
        [0, 2, 1],
        [1, 0, 2],
        [1, 2, 0],
        [2, 0, 1],
        [2, 1, 0],
    ];
    for way in ways {
        let mut h = house();
        h.circuits.truncate(2);
        for k in way {
            let s = section(lengths[k], 2.5);
            let c = circuit(1, Use::Fixed, breaker(Curve::B, 16.0), Some(1.0), s);
            h.circuits.push(c).unwrap();
        }
        let at = |k: usize| {
            let place = 2 + way.iter().position(|w| *w == k).unwrap();
            Place::Circuit(CircuitId(u16::try_from(place).unwrap()))
        };
        // All disconnect; the longest has the most of its limit.
        let [extended, ..] = sides(&mut h, &building(Some(100.0)));
        let f = extended.disconnection.unwrap();
        assert_eq!((f.outcome, f.place), (Outcome::Pass, at(1)));
        // By an RCD, RA and its own conductor: the longest again.
        let mut with = h.clone();
        for c in with.circuits.iter_mut().skip(2) {
            c.rcd = Some(rcd(0.03, RcdDelay::None));
        }
        let [_, own, _] = sides(&mut with, &building(Some(100.0)));
        assert_eq!(own.touch.unwrap().place, at(1));
        assert_eq!(own.disconnection.unwrap().place, at(1));
        // The shortest can't be judged: that is worse than any that passes, whatever they have left.
        let mut with = h.clone();
        let Place::Circuit(short) = at(0) else {
            panic!()
        };
        let c = &mut with.circuits[usize::from(short.0)];
        c.sections[0].protective = Protective::None;
        let [extended, ..] = sides(&mut with, &building(Some(100.0)));
        let f = extended.disconnection.unwrap();
        assert_eq!((f.outcome, f.place), (Outcome::CannotSay, at(0)));
        // And one that fails is worse than that.
        let Place::Circuit(middle) = at(2) else {
            panic!()
        };
        with.circuits[usize::from(middle.0)].device = breaker(Curve::D, 63.0);
        let [extended, ..] = sides(&mut with, &building(Some(100.0)));
        let f = extended.disconnection.unwrap();
        assert_eq!((f.outcome, f.place), (Outcome::Fail, at(2)));
    }
    // Of three alike the first.
    let mut h = house();
    for _ in 0..2 {
        let again = h.circuits[2].clone();
        h.circuits.push(again).unwrap();
    }
    let [extended, ..] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(
        extended.disconnection.unwrap().place,
        Place::Circuit(CircuitId(2))
    );
}

/// What is fed from the building counts with it, what is fed from the house does not.
#[test]
fn only_what_hangs_on_the_building_is_judged_with_it() {
    for (from, counts) in [(1, true), (0, false)] {
        let mut h = house();
        let feed = circuit(
            from,
            Use::Distribution,
            breaker(Curve::B, 16.0),
            None,
            section(5.0, 10.0),
        );
        h.circuits.push(feed).unwrap();
        let mut shed = board(Some(3));
        // No bonding where there should be.
        shed.extraneous = true;
        h.boards.push(shed).unwrap();
        h.circuits.push(lamp(2)).unwrap();
        let [extended, ..] = sides(&mut h, &building(Some(100.0)));
        let hoped = if counts {
            (Outcome::CannotSay, Some(Check::Bonding))
        } else {
            (Outcome::Pass, None)
        };
        assert_eq!((extended.outcome, extended.check), hoped);
        // It is not the building's own.
        assert_eq!((extended.bonding, extended.feed_bonding), (None, None));
        // Nor is an RCD at a board further on in front of the building; it goes first, where it hangs there.
        h.boards[2].rcd = Some(rcd(0.03, RcdDelay::None));
        let [_, own, _] = sides(&mut h, &building(Some(100.0)));
        let RcdNeed::This {
            rcd: one,
            selective,
            ..
        } = own.rcd
        else {
            panic!("{:?}", own.rcd)
        };
        let hoped = if counts {
            (rcd(0.3, RcdDelay::Selective), Selective::Yes)
        } else {
            (rcd(0.3, RcdDelay::None), Selective::NothingBehind)
        };
        assert_eq!((one, selective), hoped);
        // The board's own is replaced, and nothing to go first.
        h.boards[2].rcd = None;
        h.boards[1].rcd = Some(rcd(0.03, RcdDelay::None));
        let [_, own, _] = sides(&mut h, &building(Some(100.0)));
        let RcdNeed::This { selective, .. } = own.rcd else {
            panic!("{:?}", own.rcd)
        };
        assert_eq!(selective, Selective::NothingBehind);
    }
}

/// As in `the_times_count_too`: 0.35 A flow, and 300 mA alone are too slow. The board's own RCD is replaced and so no
/// help; that of a board further on is.
#[test]
fn an_rcd_in_the_board_is_replaced_and_one_further_on_is_not() {
    let mut h = house();
    h.profile.source_electrode = 584.0;
    let feed = circuit(
        1,
        Use::Distribution,
        breaker(Curve::B, 16.0),
        None,
        section(5.0, 4.0),
    );
    h.circuits.push(feed).unwrap();
    h.boards.push(board(Some(3))).unwrap();
    h.circuits[2].board = BoardId(2);
    let mut needed = |board: usize| {
        h.boards[1].rcd = None;
        h.boards[2].rcd = None;
        h.boards[board].rcd = Some(rcd(0.03, RcdDelay::None));
        match sides(&mut h, &building(Some(40.0)))[1].rcd {
            RcdNeed::This { rcd, selective, .. } => (rcd, selective),
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(
        needed(1),
        (rcd(0.1, RcdDelay::None), Selective::NothingBehind)
    );
    assert_eq!(needed(2), (rcd(0.3, RcdDelay::Selective), Selective::Yes));
}

#[test]
fn what_is_missing_twice_is_missing() {
    // Of the time and of the touch voltage both.
    let mut h = house();
    h.circuits[2].rcd = Some(rcd(0.03, RcdDelay::None));
    let [_, own, _] = sides(&mut h, &building(None));
    assert_eq!(own.disconnection.unwrap().lacking, Lacking::RA);
    assert_eq!(own.touch.unwrap().lacking, Lacking::RA);
    assert_eq!(own.rcd, RcdNeed::NotKnown(Lacking::RA));
}

#[test]
fn limits_of_the_comparison_from_both_sides() {
    // Up to 200 Ω an electrode stays.
    for (ra, stable) in [(200.0, true), (step(200.0, 1), false)] {
        let [_, own, both] = sides(&mut house(), &building(Some(ra)));
        assert_eq!((own.stable, both.stable), (Some(stable), Some(stable)));
    }
    // Just the limit on metal is no danger.
    let mut what = building(Some(10.0));
    let of = |what: &Outbuilding| sides(&mut house(), what);
    let high = |side: &Side| match side.lost {
        Lost::Rises { metal, .. } => metal.high,
        _ => panic!(),
    };
    let most = high(&of(&what)[2]);
    for (limit, danger) in [(most, false), (step(most, -1), true)] {
        what.limit = Volts::raw(limit);
        let both = &of(&what)[2];
        let raised = [Caution::LIVE_METAL, Caution::ELECTRODE_TOO_POOR];
        assert_eq!(raised.map(|c| both.cautions.contains(c)), [danger; 2]);
    }
    // 253 V over the 0.2 Ω of the supply and the feed there and back when cold is what the device must break; what
    // it can break beyond that may come through the electrode.
    let mut h = house();
    let current = 253.0 / (0.2 + 2.0 * 0.020 * 1.83);
    for (breaking, adds) in [
        (current + 254.0, false),
        (current + 252.0, true),
        (current, true),
    ] {
        h.circuits[2].device = h.circuits[2].device.with_breaking(amps(breaking));
        let [.., both] = sides(&mut h, &building(Some(1.0)));
        assert_eq!(
            both.cautions.contains(Caution::ADDS_TO_FAULT_CURRENT),
            adds,
            "{breaking}"
        );
    }
    // As much as there is to spare is not more than that.
    let [.., both] = sides(&mut h, &building(Some(4.0)));
    let through = both.through_electrode.unwrap();
    let mut report = crate::verdict::Report::<64>::default();
    let _ = crate::assess::assess(&h, Earthing::TnCS, &mut report);
    let place = Place::Circuit(CircuitId(2));
    let own = |f: &&crate::verdict::Finding| f.place == place && f.check == Check::Breaking;
    let value = report.findings.iter().find(own).unwrap().value.unwrap();
    let mut just = 0;
    for k in -64..64 {
        let breaking = step(value + through, k);
        h.circuits[2].device = h.circuits[2].device.with_breaking(amps(breaking));
        let [.., both] = sides(&mut h, &building(Some(4.0)));
        let adds = both.cautions.contains(Caution::ADDS_TO_FAULT_CURRENT);
        assert_eq!(adds, breaking - value < through);
        just += usize::from(breaking - value == through);
    }
    assert!(just > 0);
}

/// A load of 10 A on three lines, and 12 A on the first: without a neutral of its own the one holds nothing back, and
/// the other puts all of the voltage on the metal. With an electrode more current can make more of it.
#[test]
fn a_load_on_three_lines_may_hold_nothing_back() {
    let mut h = house();
    h.supply.phases = Phases::Three;
    h.circuits[1].phase = Phase::Three;
    for (main, high) in [
        (None, 253.0),
        (
            Some(23.0),
            253.0 * (21.0 / 230.0) / (24.0 / 230.0 + 1.0 / 23.0),
        ),
        (
            Some(1000.0),
            253.0 * (12.0 / 230.0) / (12.0 / 230.0 + 1.0 / 1000.0),
        ),
    ] {
        h.supply.ra = main.map(ohms);
        let what = building(Some(100.0));
        let [extended, own, both] = sides(&mut h, &what);
        let Lost::Rises { metal, .. } = extended.lost else {
            panic!("{:?}", extended.lost)
        };
        near(metal.high, high, 1e-5);
        // Even as 1 A on each line, or 1.2 A on one and its neighbours at what they have.
        assert!(metal.low < 30.0);
        assert_eq!(own.lost, Lost::Apart(Ok(metal)));
        // The working ends at it.
        let last = lines(&h, &what, &extended);
        let at = last.iter().rev().find(|w| w.unit == Unit::Volt).unwrap();
        near(at.value, metal.high, 1e-6);
        // What is sought does with either.
        let Lost::Rises {
            sought: Some(Sought::AtMost(r)),
            ..
        } = both.lost
        else {
            panic!("{:?}", both.lost)
        };
        let joined = 1.0 / r.get() + main.map_or(0.0, |r| 1.0 / r);
        for (sum, all) in [(21.0, 24.0), (12.0, 12.0)] {
            let volts = 253.0 * (sum / 230.0) / (all / 230.0 + joined);
            assert!(volts <= 70.0 * 1.000_01, "{volts}");
        }
    }
    // Nothing on one line only: all there is counts, as if it had a neutral.
    h.circuits[0].phase = Phase::Three;
    h.circuits[2].phase = Phase::Three;
    h.supply.ra = None;
    let [extended, ..] = sides(&mut h, &building(None));
    let Lost::Rises { metal, .. } = extended.lost else {
        panic!("{:?}", extended.lost)
    };
    // One line at 22 A, the others at 2.2.
    near(metal.high, 253.0 * (22.0 - 2.2) / (22.0 + 4.4), 1e-5);
}

/// The first check that is as bad as the outcome stays, though the added electrode's conductor is as bad.
#[test]
fn the_first_check_that_is_as_bad_is_told() {
    let mut h = house();
    h.boards[1].earthing_conductor = Some(EarthingConductor {
        conductor: copper(1.5),
        buried: true,
        mechanical: false,
        corrosion: false,
    });
    let [extended, _, both] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(extended.check, None);
    assert_eq!(
        (both.outcome, both.check),
        (Outcome::Fail, Some(Check::EarthingConductor))
    );
    // A load above its device's rating fails before it.
    h.supply.ze = Some(ohms(30.0));
    h.circuits[2].load.demand = Demand::Current(amps(17.0));
    let [.., both] = sides(&mut h, &building(Some(100.0)));
    assert_eq!(
        (both.outcome, both.check),
        (Outcome::Fail, Some(Check::DesignCurrent))
    );
    let RcdNeed::This { outcome, check, .. } = both.rcd else {
        panic!("{:?}", both.rcd)
    };
    assert_eq!(
        (outcome, check),
        (Outcome::Fail, Some(Check::DesignCurrent))
    );
}
