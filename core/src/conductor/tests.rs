#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

extern crate std;

use proptest::num::f32::ANY;
use proptest::prelude::*;

use super::armour::{AREA_TIMES_RESISTANCE, rows};
use super::*;

const METALS: [Material; 4] = [
    Material::Copper,
    Material::Aluminium,
    Material::Steel,
    Material::Lead,
];
const INSULATIONS: [Insulation; 3] = [
    Insulation::Thermoplastic70,
    Insulation::Thermoplastic90,
    Insulation::Thermosetting90,
];
const CONSTRUCTIONS: [Construction; 4] = [
    Construction::SingleCores,
    Construction::Multicore,
    Construction::Armoured,
    Construction::FlatTwin,
];

fn mm2(s: f32) -> SquareMm {
    SquareMm::new(s).unwrap()
}
fn celsius(t: f32) -> Celsius {
    Celsius::new(t).unwrap()
}
fn r20(material: Material, s: f32) -> f32 {
    resistance_20(material, mm2(s)).unwrap().get()
}
fn x(s: f32, construction: Construction) -> f32 {
    reactance(mm2(s), construction).get()
}
fn swa(s: f32, cores: u8) -> Result<Armour, Error> {
    armour(mm2(s), cores, Insulation::Thermosetting90)
}

#[test]
fn resistance_is_that_of_the_metal_and_a_little_more() {
    // Stranding, tolerance and compaction add 0 to 15 %; a wrong digit falls out of that.
    for material in [Material::Copper, Material::Aluminium] {
        for s in made(material) {
            let excess = r20(material, *s) * s / (material.resistivity() * 1e6);
            assert!((1.03..1.15).contains(&excess), "{material:?} {s} {excess}");
        }
    }
}

#[test]
fn large_sizes_are_class_2() {
    // Class 1 has 0.101, 0.0775, 0.0620.
    for (s, r) in [(185.0, 0.0991), (240.0, 0.0754), (300.0, 0.0601)] {
        assert_eq!(r20(Material::Copper, s), r);
    }
}

#[test]
fn what_is_not_made_is_refused() {
    let size = Err(Reason::NotMade.at(Field::Csa));
    let metal = Err(Reason::NotMade.at(Field::Material));
    // 0.5 and 0.75 mm² are for cords, aluminium starts at 10 mm².
    for s in [0.5, 0.75, 3.0, 400.0, 2.500_001] {
        assert_eq!(resistance_20(Material::Copper, mm2(s)), size);
    }
    for s in [1.0, 6.0] {
        assert_eq!(resistance_20(Material::Aluminium, mm2(s)), size);
    }
    for m in [Material::Steel, Material::Lead] {
        assert_eq!(resistance_20(m, mm2(16.0)), metal);
        assert_eq!(resistance_at(m, mm2(16.0), celsius(20.0)), metal);
        assert!(made(m).is_empty());
    }
}

#[test]
fn drop_tables_follow_from_the_resistance() {
    // BS 7671 Tables 4E1B and 4E4B, single phase, mV/A/m at 90 °C, read in two reprints.
    for (s, printed, half_digit) in [
        (1.5, 31.0, 0.5),
        (2.5, 19.0, 0.5),
        (4.0, 12.0, 0.5),
        (6.0, 7.9, 0.05),
        (10.0, 4.7, 0.05),
        (16.0, 2.9, 0.05),
    ] {
        let r = resistance_at(Material::Copper, mm2(s), celsius(90.0)).unwrap();
        let there_and_back = 2.0 * r.get();
        assert!((there_and_back - printed).abs() <= half_digit, "{s}");
    }
}

#[test]
fn temperature_factor_is_that_of_the_tables_and_never_below_the_exact() {
    let cu = |t| temperature_factor(Material::Copper, celsius(t));
    for (t, f) in [(20.0, 1.0), (30.0, 1.04), (70.0, 1.2), (90.0, 1.28)] {
        assert!((cu(t) - f).abs() < 2e-7, "{t}");
    }
    // The gaps the documentation speaks of.
    let gap =
        |m, t| temperature_factor(m, celsius(t)) / exact_temperature_factor(m, celsius(t)) - 1.0;
    assert!((0.0028..0.0031).contains(&gap(Material::Copper, 70.0)));
    assert!((0.0038..0.0041).contains(&gap(Material::Copper, 90.0)));
    assert_eq!(gap(Material::Copper, 5.0), 0.0);
    assert!(temperature_factor(Material::Aluminium, celsius(90.0)) > 1.282);
    assert!(temperature_factor(Material::Steel, celsius(80.0)) > 1.270_2);
}

#[test]
fn k_is_what_the_tables_print() {
    use Material::{Aluminium, Copper, Lead, Steel};
    let at = |m, from, to| k(m, celsius(from), celsius(to)).unwrap();
    for (m, from, to, printed) in [
        // Table 43.1 and, the same, 54.3.
        (Copper, 70.0, 160.0, 115.0),
        (Copper, 70.0, 140.0, 103.0),
        (Copper, 90.0, 160.0, 100.0),
        (Copper, 60.0, 200.0, 141.0),
        (Copper, 90.0, 250.0, 143.0),
        (Aluminium, 70.0, 160.0, 76.0),
        (Aluminium, 70.0, 140.0, 68.0),
        (Aluminium, 90.0, 160.0, 66.0),
        (Aluminium, 90.0, 140.0, 57.0),
        (Aluminium, 90.0, 250.0, 94.0),
        // 54.2
        (Copper, 30.0, 160.0, 143.0),
        (Copper, 30.0, 140.0, 133.0),
        (Copper, 30.0, 250.0, 176.0),
        (Aluminium, 30.0, 160.0, 95.0),
        (Aluminium, 30.0, 140.0, 88.0),
        (Aluminium, 30.0, 250.0, 116.0),
        (Steel, 30.0, 160.0, 52.0),
        (Steel, 30.0, 250.0, 64.0),
        // 54.4
        (Aluminium, 60.0, 200.0, 93.0),
        (Aluminium, 80.0, 200.0, 85.0),
        (Steel, 60.0, 200.0, 51.0),
        (Steel, 80.0, 200.0, 46.0),
        (Lead, 60.0, 200.0, 26.0),
        (Lead, 80.0, 200.0, 23.0),
        // 54.5
        (Steel, 50.0, 160.0, 47.0),
        (Steel, 60.0, 160.0, 44.0),
        (Steel, 60.0, 250.0, 58.0),
        // 54.6
        (Copper, 30.0, 500.0, 228.0),
        (Copper, 30.0, 200.0, 159.0),
        (Copper, 30.0, 150.0, 138.0),
        (Aluminium, 30.0, 300.0, 125.0),
        (Aluminium, 30.0, 200.0, 105.0),
        (Aluminium, 30.0, 150.0, 91.0),
        (Steel, 30.0, 500.0, 82.0),
        (Steel, 30.0, 200.0, 58.0),
        (Steel, 30.0, 150.0, 50.0),
    ] {
        let k = at(m, from, to);
        assert!((k - printed).abs() <= 0.5, "{m:?} {from} {to} {k}");
        // What was rounded up is not much more.
        assert!(printed / k < 1.011, "{m:?} {from} {to} {k}");
    }
    // The one print that its K of 226 lifts over the half.
    let k = at(Copper, 90.0, 140.0);
    assert!(k < 85.5 && k * 226.0 / 225.67 > 85.5, "{k}");
}

#[test]
fn printed_constants_follow_from_the_others() {
    for m in METALS {
        let exact = libm::sqrtf(m.heat_capacity() * (m.beta() + 20.0) / m.resistivity());
        assert_eq!(factor_of_k(m), exact.min(m.printed()));
        assert!((exact - m.printed()).abs() < 0.5, "{m:?} {exact}");
    }
}

#[test]
fn k_refuses_a_fault_that_does_not_heat() {
    let none = Err(Reason::Contradiction.at(Field::OperatingTemperature));
    for m in METALS {
        assert_eq!(k(m, celsius(70.0), celsius(70.0)), none);
        assert_eq!(k(m, celsius(160.0), celsius(70.0)), none);
    }
}

#[test]
fn temperatures_of_insulation() {
    let operating = INSULATIONS.map(|i| i.max_operating().get());
    assert_eq!(operating, [70.0, 90.0, 90.0]);
    for (insulation, last) in INSULATIONS.into_iter().zip([140.0, 140.0, 250.0]) {
        assert_eq!(insulation.final_temperature(mm2(300.1)).get(), last);
        let up_to = insulation.final_temperature(mm2(300.0)).get();
        assert_eq!(up_to, last.max(160.0));
    }
}

#[test]
fn reactance_is_never_below_the_tables() {
    let root3 = 1.732_050_8;
    // x in mV/A/m, BS 7671, from memory: 4D1B single phase enclosed, touching, three-phase enclosed, trefoil;
    // 4D2B and 4D4B two-core, three- and four-core.
    for (s, [enclosed, touching, three, trefoil, two_core, three_core]) in [
        (25.0, [0.33, 0.20, 0.29, 0.175, 0.170, 0.145]),
        (35.0, [0.31, 0.195, 0.27, 0.170, 0.165, 0.145]),
        (50.0, [0.30, 0.190, 0.26, 0.165, 0.165, 0.140]),
        (70.0, [0.29, 0.185, 0.25, 0.160, 0.160, 0.140]),
        (95.0, [0.28, 0.180, 0.24, 0.155, 0.155, 0.135]),
        (120.0, [0.27, 0.175, 0.23, 0.150, 0.155, 0.135]),
    ] {
        let single = x(s, Construction::SingleCores);
        for printed in [
            enclosed / 2.0,
            touching / 2.0,
            three / root3 - 0.003, // 0.005 of rounding over √3
            trefoil / root3,
        ] {
            assert!(single >= printed, "{s} {printed}");
        }
        for c in [Construction::Multicore, Construction::Armoured] {
            assert!(x(s, c) >= two_core / 2.0);
            assert!(x(s, c) >= three_core / root3);
        }
    }
    for c in CONSTRUCTIONS {
        assert_eq!(x(16.0, c), 0.0);
        assert!(x(16.1, c) >= x(25.0, c));
        assert_eq!(x(300.0, c), x(120.0, c));
    }
}

/// Line conductor, armour wire, oversheath and overall diameter of two-core cables, mm; of the smaller
/// (shaped) kind where there are two. Read in a copy of BS 5467.
const TWO_CORE: [(f32, f32, f32, f32); 12] = [
    (1.5, 0.9, 1.3, 12.1),
    (2.5, 0.9, 1.4, 13.6),
    (4.0, 0.9, 1.4, 14.7),
    (6.0, 0.9, 1.4, 15.9),
    (10.0, 0.9, 1.5, 18.0),
    (16.0, 1.25, 1.5, 20.4),
    (25.0, 1.25, 1.6, 20.4),
    (35.0, 1.6, 1.7, 23.3),
    (50.0, 1.6, 1.8, 25.8),
    (70.0, 1.6, 1.9, 29.0),
    (95.0, 2.0, 2.0, 33.1),
    (120.0, 2.0, 2.1, 36.1),
];

#[test]
fn no_more_armour_wires_than_lie_side_by_side() {
    let pi = core::f32::consts::PI;
    // n = π·D/d wires of π·d²/4.
    let covered = |area: f32, pitch: f32, wire: f32| area / (pi * pi * pitch * wire / 4.0);
    for (s, wire, sheath, overall) in TWO_CORE {
        let pitch = overall - 2.0 * sheath - wire;
        let share = covered(swa(s, 2).unwrap().area.get(), pitch, wire);
        assert!((0.75..0.9).contains(&share), "{s} {share}");
        for cores in 3..=5 {
            let Ok(a) = swa(s, cores) else { continue };
            // Wire from memory; where it grows the resistance drops.
            let own: f32 = match (cores, s) {
                (4, 120.0) => 2.5,
                (3, 95.0 | 120.0) | (4, 70.0 | 95.0) => 2.0,
                (3, 10.0 | 16.0) | (4, 6.0 | 10.0 | 16.0) | (5, 6.0) => 1.25,
                (3 | 4, 25.0..) => 1.6,
                _ => 0.9,
            };
            // What lies within the armour grows no more than the circle round laid-up cores; of shaped
            // cores, than with the square root of their number.
            let n = f32::from(cores);
            let grown = match cores {
                _ if s > 16.0 => libm::sqrtf(n / 2.0),
                3 => 1.077_4,
                4 => 1.207_1,
                _ => 1.350_7,
            };
            let pitch = pitch * grown + own - wire;
            let share = covered(a.area.get(), pitch, own);
            assert!((0.65..0.85).contains(&share), "{s} {cores} {share}");
        }
    }
}

#[test]
fn armour_areas_and_resistances_agree() {
    let mut smallest = f32::MAX;
    for (csa, row) in rows() {
        let product = row.area() * row.resistance(2).unwrap();
        smallest = smallest.min(product);
        // 154: the largest product among the rows that were read, up to 6 mm².
        assert!(*csa > 6.0 || product <= 154.0);
        assert!(*csa <= 6.0 || product >= 154.0);
        // Steel as drawn has 138 Ω·mm²/km; the lay and the tolerances add 8 to 18 %.
        assert!((1.08..1.18).contains(&(product / 138.0)), "{csa}");
    }
    assert!((smallest - AREA_TIMES_RESISTANCE).abs() < 1e-4);
    // The remembered areas are no smaller, and no more than 13 % larger.
    for (cores, areas) in [
        (3, [16, 19, 20, 23, 39, 45, 62, 68, 78, 90, 128, 141]),
        (4, [17, 20, 22, 36, 42, 50, 70, 78, 90, 131, 147, 206]),
    ] {
        for ((csa, _), remembered) in rows().zip(areas) {
            let own = swa(*csa, cores).unwrap().area.get();
            let more = remembered as f32 / own;
            assert!((0.999_999..1.13).contains(&more), "{csa} {cores}");
        }
    }
}

#[test]
fn armour_has_more_steel_with_size_and_cores() {
    for ((_, a), (_, b)) in rows().zip(rows().skip(1)) {
        for cores in 2..=5 {
            // None where it is not known, which is less than any.
            assert!(a.resistance(cores) >= b.resistance(cores));
        }
        assert!(a.area() <= b.area());
    }
    for (csa, row) in rows() {
        assert!((2..5).all(|cores| row.resistance(cores) > row.resistance(cores + 1)));
        assert_eq!(swa(*csa, 2).unwrap().area.get(), row.area());
        assert!(swa(*csa, 3).unwrap().area.get() >= row.area());
    }
}

#[test]
fn armour_outside_the_table_is_not_known() {
    let out = |field| Err(Reason::OutOfTable.at(field));
    for s in [1.0, 5.0, 150.0] {
        assert_eq!(swa(s, 3), out(Field::Csa));
    }
    for cores in [0, 1, 6, 255] {
        assert_eq!(swa(4.0, cores), out(Field::Cores));
    }
    assert!(swa(6.0, 5).is_ok());
    assert_eq!(swa(10.0, 5), out(Field::Cores));
    for i in [Insulation::Thermoplastic70, Insulation::Thermoplastic90] {
        assert_eq!(armour(mm2(4.0), 3, i), out(Field::Insulation));
    }
}

#[test]
fn tabulated_minimum_by_the_rule() {
    for (line, least) in [
        (1.0, 1.0),
        (16.0, 16.0),
        (25.0, 16.0),
        (35.0, 16.0),
        (50.0, 25.0),
        (300.0, 150.0),
    ] {
        assert_eq!(tabulated_minimum(mm2(line), 115.0, 115.0).get(), least);
    }
    // Copper line conductors, steel armour.
    let steel = tabulated_minimum(mm2(25.0), 143.0, 46.0).get();
    assert!((steel - 49.739).abs() < 1e-3);
}

#[test]
fn bonding_steps() {
    for (neutral, least) in [
        (16.0, 10.0),
        (35.0, 10.0),
        (35.1, 16.0),
        (50.0, 16.0),
        (50.1, 25.0),
        (95.0, 25.0),
        (95.1, 35.0),
        (150.0, 35.0),
        (150.1, 50.0),
    ] {
        assert_eq!(bonding_by_neutral(mm2(neutral)).get(), least, "{neutral}");
    }
}

#[test]
fn flat_twin_sizes() {
    let protective: std::vec::Vec<f32> = made(Material::Copper)
        .iter()
        .filter_map(|s| flat_twin_protective(mm2(*s)))
        .map(SquareMm::get)
        .collect();
    assert_eq!(protective, [1.0, 1.0, 1.5, 1.5, 2.5, 4.0, 6.0]);
    assert_eq!(flat_twin_protective(mm2(25.0)), None);
}

fn any_metal() -> impl Strategy<Value = Material> {
    (0..4usize).prop_map(|i| METALS[i])
}
fn any_temperature() -> impl Strategy<Value = Celsius> {
    (Celsius::MIN..=Celsius::MAX).prop_map(celsius)
}

proptest! {
    #[test]
    fn resistance_falls_with_size_and_rises_with_temperature(
        aluminium: bool, i in 0usize..16, t in any_temperature(), more in 0.1f32..100.0,
    ) {
        let m = if aluminium { Material::Aluminium } else { Material::Copper };
        let sizes = made(m);
        let i = i % (sizes.len() - 1);
        let r = |s: f32, t| resistance_at(m, mm2(s), t).unwrap().get();
        prop_assert!(r(sizes[i], t) > r(sizes[i + 1], t));
        if let Ok(hotter) = Celsius::new(t.get() + more) {
            prop_assert!(r(sizes[i], hotter) > r(sizes[i], t));
        }
        prop_assert!(r(sizes[i], t) > 0.0);
    }

    #[test]
    fn factor_is_never_below_the_exact(m in any_metal(), t in any_temperature()) {
        let exact = exact_temperature_factor(m, t);
        let factor = temperature_factor(m, t);
        prop_assert!(factor >= exact);
        // Between −10 and 250 °C they stay within 1 %.
        prop_assert!(!(-10.0..=250.0).contains(&t.get()) || factor <= exact * 1.01);
    }

    #[test]
    fn k_rises_with_the_last_and_falls_with_the_first(
        m in any_metal(), a in any_temperature(), b in any_temperature(), more in 1f32..100.0,
    ) {
        let Ok(between) = k(m, a, b) else {
            prop_assert!(a.get() >= b.get());
            return Ok(());
        };
        prop_assert!(between > 0.0 && between.is_finite());
        if let Ok(hotter) = Celsius::new(b.get() + more) {
            prop_assert!(k(m, a, hotter).unwrap() > between);
        }
        if let Ok(warmer) = Celsius::new(a.get() + more) {
            prop_assert!(k(m, warmer, b).is_ok_and(|k| k < between) || warmer >= b);
        }
        // Against the closed form in f64.
        let (beta, a, b) = (f64::from(m.beta()), f64::from(a.get()), f64::from(b.get()));
        let qc = f64::from(m.heat_capacity());
        let big = libm::sqrt(qc * (beta + 20.0) / f64::from(m.resistivity()));
        let exact = big.min(f64::from(m.printed())) * libm::sqrt(libm::log((beta + b) / (beta + a)));
        prop_assert!((f64::from(between) / exact - 1.0).abs() < 1e-6);
    }

    #[test]
    fn nothing_panics(
        s in ANY, t in ANY, u in ANY, k1 in ANY, k2 in ANY, cores: u8, i in 0usize..17,
    ) {
        let s = SquareMm::new(s).unwrap_or_else(|_| mm2(made(Material::Copper)[i]));
        let t = Celsius::new(t).unwrap_or(celsius(30.0));
        let u = Celsius::new(u).unwrap_or(celsius(160.0));
        for m in METALS {
            let known = made(m).contains(&s.get());
            prop_assert_eq!(resistance_at(m, s, t).is_ok(), known);
            prop_assert_eq!(k(m, t, u).is_ok(), u > t);
        }
        for c in CONSTRUCTIONS {
            prop_assert!((0.0..=0.165).contains(&x(s.get(), c)));
        }
        for insulation in INSULATIONS {
            if let Ok(a) = armour(s, cores, insulation) {
                prop_assert!(a.area.get() > 0.0 && a.resistance_20.get() > 0.0);
            }
            prop_assert!(insulation.final_temperature(s) > insulation.max_operating());
        }
        // A k that is no number gives no size a conductor could reach.
        let least = tabulated_minimum(s, k1, k2).get();
        prop_assert!(!(k1.is_nan() || k2.is_nan()) || least.is_nan());
        prop_assert!(bonding_by_neutral(s).get() >= 10.0);
        let _ = flat_twin_protective(s);
    }
}
