#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

extern crate std;
use std::println;
use std::vec::Vec;

use proptest::prelude::*;

use super::tables::SIZES;
use super::*;

const MATERIALS: [Material; 4] = [
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
const METHODS: [Method; 11] = [
    Method::InsulatedWall,
    Method::Conduit,
    Method::Clipped,
    Method::Air,
    Method::Duct,
    Method::Ground,
    Method::CeilingThin,
    Method::CeilingThick,
    Method::StudTouching,
    Method::StudApart,
    Method::Surrounded,
];
const CU: Material = Material::Copper;
const AL: Material = Material::Aluminium;
const PVC: Insulation = Insulation::Thermoplastic70;
const XLPE: Insulation = Insulation::Thermosetting90;

fn mm2(csa: f32) -> SquareMm {
    SquareMm::new(csa).unwrap()
}
fn celsius(theta: f32) -> Celsius {
    Celsius::new(theta).unwrap()
}
fn metres(m: f32) -> Metres {
    Metres::new(m).unwrap()
}

#[derive(Clone, Copy, Debug)]
struct Cable {
    material: Material,
    insulation: Insulation,
    construction: Construction,
    method: Method,
    loaded: u8,
}

impl Cable {
    fn it(self, csa: f32) -> Result<f32, Error> {
        let Self {
            material,
            insulation,
            construction,
            method,
            loaded,
        } = self;
        tabulated(material, mm2(csa), insulation, construction, method, loaded).map(Amps::get)
    }

    fn fit(self, csa: f32) -> Option<f32> {
        let Self {
            material,
            insulation,
            construction,
            method,
            loaded,
        } = self;
        fitted(material, mm2(csa), insulation, construction, method, loaded).map(Amps::get)
    }

    fn iz(self, csa: f32, limit: Option<f32>, laying: &Laying) -> Result<Capacity, Error> {
        capacity(
            self.material,
            mm2(csa),
            self.insulation,
            limit.map(celsius),
            self.construction,
            self.loaded,
            laying,
        )
    }
}

fn cable(
    material: Material,
    insulation: Insulation,
    construction: Construction,
    method: Method,
    loaded: u8,
) -> Cable {
    Cable {
        material,
        insulation,
        construction,
        method,
        loaded,
    }
}

/// Every combination, whether a table has it or not.
fn all() -> Vec<Cable> {
    let mut every = Vec::new();
    for material in MATERIALS {
        for insulation in INSULATIONS {
            for construction in CONSTRUCTIONS {
                for method in METHODS {
                    for loaded in [2, 3] {
                        every.push(cable(material, insulation, construction, method, loaded));
                    }
                }
            }
        }
    }
    every
}

fn laying(method: Method, ambient: f32) -> Laying {
    let buried = method.is_buried();
    Laying {
        method,
        ambient: celsius(ambient),
        grouped: 1,
        arrangement: Arrangement::Bunched,
        soil: buried.then(|| KelvinMetresPerWatt::new(2.5).unwrap()),
        depth: buried.then(|| metres(0.7)),
        insulation_run: None,
    }
}

#[test]
fn printed_rows() {
    use Construction::{Armoured, FlatTwin, Multicore, SingleCores};
    for (c, csa, printed) in [
        // Read in print.
        (cable(CU, XLPE, Armoured, Method::Clipped, 2), 16.0, 110.0),
        (cable(CU, XLPE, Armoured, Method::Ground, 2), 4.0, 43.0),
        (cable(CU, XLPE, Armoured, Method::Air, 3), 120.0, 353.0),
        (cable(CU, XLPE, SingleCores, Method::Clipped, 2), 1.0, 19.0),
        (cable(CU, XLPE, SingleCores, Method::Air, 3), 120.0, 383.0),
        (cable(CU, PVC, SingleCores, Method::Conduit, 2), 95.0, 232.0),
        (cable(CU, PVC, Multicore, Method::Conduit, 3), 120.0, 206.0),
        // From memory.
        (
            cable(CU, PVC, SingleCores, Method::InsulatedWall, 2),
            2.5,
            19.5,
        ),
        (cable(CU, PVC, Multicore, Method::Air, 2), 300.0, 593.0),
        (cable(CU, PVC, FlatTwin, Method::StudApart, 2), 4.0, 17.5),
        (cable(CU, PVC, FlatTwin, Method::Surrounded, 2), 4.0, 17.5),
        (cable(CU, PVC, FlatTwin, Method::Conduit, 2), 2.5, 23.0),
        (
            cable(CU, PVC, SingleCores, Method::Surrounded, 2),
            2.5,
            13.5,
        ),
        (cable(AL, PVC, Multicore, Method::Duct, 3), 16.0, 50.0),
        (cable(AL, XLPE, Armoured, Method::Air, 3), 300.0, 488.0),
    ] {
        assert_eq!(c.it(csa), Ok(printed), "{c:?} {csa}");
    }
}

#[test]
fn refusals() {
    use Construction::{Armoured, FlatTwin, Multicore, SingleCores};
    for (c, csa, reason, field) in [
        (
            cable(Material::Steel, PVC, Multicore, Method::Air, 2),
            16.0,
            Reason::NotMade,
            Field::Material,
        ),
        (
            cable(AL, PVC, FlatTwin, Method::Clipped, 2),
            16.0,
            Reason::NotMade,
            Field::Material,
        ),
        (
            cable(CU, XLPE, FlatTwin, Method::Clipped, 2),
            2.5,
            Reason::OutOfTable,
            Field::Insulation,
        ),
        (
            cable(CU, PVC, FlatTwin, Method::Clipped, 3),
            2.5,
            Reason::OutOfTable,
            Field::Cores,
        ),
        (
            cable(CU, PVC, Multicore, Method::Clipped, 4),
            2.5,
            Reason::OutOfTable,
            Field::Cores,
        ),
        (
            cable(CU, PVC, Armoured, Method::Conduit, 2),
            2.5,
            Reason::OutOfTable,
            Field::Method,
        ),
        (
            cable(CU, PVC, FlatTwin, Method::Ground, 2),
            2.5,
            Reason::OutOfTable,
            Field::Method,
        ),
        (
            cable(CU, PVC, Multicore, Method::CeilingThin, 2),
            2.5,
            Reason::OutOfTable,
            Field::Method,
        ),
        (
            cable(CU, PVC, Armoured, Method::Air, 2),
            1.0,
            Reason::OutOfTable,
            Field::Csa,
        ),
        (
            cable(CU, PVC, SingleCores, Method::Air, 3),
            16.0,
            Reason::OutOfTable,
            Field::Csa,
        ),
        (
            cable(CU, PVC, SingleCores, Method::Air, 3),
            150.0,
            Reason::OutOfTable,
            Field::Csa,
        ),
        (
            cable(AL, XLPE, Armoured, Method::Clipped, 2),
            120.0,
            Reason::OutOfTable,
            Field::Csa,
        ),
        (
            cable(CU, PVC, Multicore, Method::Clipped, 2),
            3.0,
            Reason::OutOfTable,
            Field::Csa,
        ),
    ] {
        assert_eq!(c.it(csa), Err(reason.at(field)), "{c:?} {csa}");
    }
}

#[test]
fn every_column_rises_with_size_and_falls_with_loaded_conductors() {
    let mut found = 0;
    for c in all() {
        let column: Vec<(f32, f32)> = SIZES
            .into_iter()
            .filter_map(|s| c.it(s).ok().map(|i| (s, i)))
            .collect();
        for w in column.windows(2) {
            assert!(w[0].1 < w[1].1, "{c:?} {w:?}");
            // A slip of the pen in one row would show as a kink: I ~ S^0.6 throughout.
            let [a, b] = [w[0], w[1]].map(|(s, i)| (if s == 50.0 { 47.5 } else { s }, i));
            let slope = (b.1 / a.1).ln() / (b.0 / a.0).ln();
            let least = match c.method {
                // Column B was lowered above 120 mm² only.
                Method::Conduit if a.0 == 120.0 => 0.27,
                // The fit too has another law above 16 mm².
                _ if c.material == AL && a.0 == 16.0 => 0.35,
                _ => 0.45,
            };
            let single_c = c.construction == Construction::SingleCores
                && matches!(c.method, Method::Clipped | Method::Surrounded);
            let most = match c.material {
                // Both reprints have this step, which is in the standard.
                CU if single_c && a.0 == 35.0 => 0.87,
                // Method 103 has an ampere less than half of C would be, at 4 mm² only.
                CU if c.construction == Construction::FlatTwin && a.0 == 4.0 => 0.73,
                // 14 to 19 A, read: whole amperes are coarse there.
                _ if a.0 == 1.0 => 0.76,
                _ => 0.71,
            };
            assert!((least..most).contains(&slope), "{c:?} {w:?} {slope}");
        }
        for &(s, two) in &column {
            if let (2, Ok(three)) = (c.loaded, (Cable { loaded: 3, ..c }).it(s)) {
                assert!(three < two, "{c:?} {s}");
                assert!(three > 0.75 * two, "{c:?} {s}");
            }
            let surrounded = Cable {
                method: Method::Surrounded,
                ..c
            };
            if let Ok(half) = surrounded.it(s) {
                assert!(half <= two, "{c:?} {s}");
            }
        }
        found += column.len();
    }
    println!("{found} values");
    assert!(found > 1500);
}

#[test]
fn the_fit_and_the_tables() {
    // By size up to 120 mm²: both ways. Above: only how far the table lies over the fit, and under it.
    let (mut near, mut over, mut under, mut count) = (0.0f32, 0.0f32, 0.0f32, 0);
    for c in all() {
        for csa in SIZES {
            if let (Some(fit), Ok(table)) = (c.fit(csa), c.it(csa)) {
                let gap = table / fit - 1.0;
                if csa <= 120.0 {
                    near = near.max(gap.abs());
                } else {
                    over = over.max(gap);
                    under = under.max(-gap);
                }
                count += 1;
            }
        }
    }
    println!("{count} values: to 120 mm² ±{near}, above +{over} −{under}");
    assert!(count > 700);
    assert!(near < 0.019);
    assert!(over < 0.008);
    assert!(under < 0.102);
    // It is a law of its own, not the table.
    let a1 = cable(CU, PVC, Construction::SingleCores, Method::InsulatedWall, 2);
    let fit = a1.fit(50.0).unwrap();
    assert!((fit - 11.2 * 47.5f32.powf(0.6118)).abs() < 1e-3);
    assert!(fit != a1.it(50.0).unwrap());
    assert_eq!(a1.fit(1.0), None);
    assert_eq!(a1.fit(400.0), None);
}

/// Ratio to the multicore column of the same method at a size.
fn to_multicore(c: Cable, csa: f32) -> Option<f32> {
    let multicore = Cable {
        construction: Construction::Multicore,
        ..c
    };
    Some(c.it(csa).ok()? / multicore.it(csa).ok()?)
}

#[test]
fn remembered_large_sizes_keep_their_ratio() {
    for method in [Method::Clipped, Method::Air] {
        for construction in [Construction::SingleCores, Construction::Armoured] {
            for insulation in [PVC, XLPE] {
                for loaded in [2, 3] {
                    let c = cable(CU, insulation, construction, method, loaded);
                    let at_120 = to_multicore(c, 120.0).unwrap();
                    for csa in [150.0, 185.0, 240.0, 300.0] {
                        if let Some(ratio) = to_multicore(c, csa) {
                            assert!(ratio < at_120 * 1.016, "{c:?} {csa} {ratio} {at_120}");
                            assert!(ratio > at_120 * 0.96, "{c:?} {csa} {ratio} {at_120}");
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn aluminium_carries_what_its_resistance_lets_it() {
    // Equal heat: I ~ 1/√R, so √(R copper / R aluminium) of copper, which is 0.77 to 0.78. For the columns that
    // have no fit; 3 % over it is the rounding to whole amperes at 10 mm².
    let mut count = 0;
    let derived = |c: &Cable| c.method == Method::Surrounded;
    for c in all()
        .into_iter()
        .filter(|c| c.material == AL && !derived(c))
    {
        for csa in SIZES {
            let copper = Cable { material: CU, ..c };
            if let (Ok(al), Ok(cu), None) = (c.it(csa), copper.it(csa), c.fit(csa)) {
                let by_resistance = sqrtf(
                    conductor::resistance_20(CU, mm2(csa)).unwrap().get()
                        / conductor::resistance_20(AL, mm2(csa)).unwrap().get(),
                );
                let ratio = al / cu;
                assert!(ratio < by_resistance * 1.03, "{c:?} {csa} {ratio}");
                assert!(ratio > by_resistance * 0.92, "{c:?} {csa} {ratio}");
                count += 1;
            }
        }
    }
    println!("{count} values");
    assert!(count > 300);
}

#[test]
fn ground_and_duct_hold_each_other() {
    for c in all().into_iter().filter(|c| c.method == Method::Ground) {
        let duct = Cable {
            method: Method::Duct,
            ..c
        };
        for csa in SIZES {
            // From nothing at small sizes, where D2 is rounded down, to 16 % at 240 mm².
            if let (Ok(g), Ok(d)) = (c.it(csa), duct.it(csa)) {
                assert!((0.96..1.16).contains(&(g / d)), "{c:?} {csa} {}", g / d);
            }
        }
    }
}

#[test]
fn flat_twin_columns_hold_each_other() {
    let of = |method, csa| {
        cable(CU, PVC, Construction::FlatTwin, method, 2)
            .it(csa)
            .unwrap()
    };
    for csa in [1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0] {
        // 103 is half of C, rounded down to half an ampere, but at 4 mm² one less.
        let half = of(Method::Clipped, csa) / 2.0;
        let apart = of(Method::StudApart, csa);
        assert!(apart <= half && half - apart <= 1.0, "{csa}");
        assert!(of(Method::CeilingThick, csa) < of(Method::CeilingThin, csa));
        assert!(of(Method::CeilingThin, csa) < of(Method::Clipped, csa));
        assert!(of(Method::StudTouching, csa) < of(Method::Clipped, csa));
        assert!(of(Method::InsulatedWall, csa) < of(Method::Clipped, csa));
        assert!(of(Method::StudApart, csa) < of(Method::CeilingThick, csa));
    }
}

#[test]
fn ambient_tables_follow_the_square_root_law() {
    for (insulation, max) in [(PVC, 70.0), (XLPE, 90.0)] {
        for (ground, reference) in [(false, 30.0), (true, 20.0)] {
            let mut theta = 10.0;
            while theta <= max - 10.0 {
                let law = f32::sqrt((max - theta) / (max - reference));
                let got = ambient_factor(insulation, celsius(theta), ground).unwrap();
                // Print has two places; a line between printed points stays under the law.
                assert!(got <= law + 0.0051, "{insulation:?} {theta} {got} {law}");
                let cool = !ground && theta < 30.0;
                assert!(cool || got >= law - 0.03, "{insulation:?} {theta} {got}");
                assert!(!cool || got <= 1.03);
                theta += 0.5;
            }
            for outside in [9.9, max - 9.9, max, 200.0] {
                assert_eq!(
                    ambient_factor(insulation, celsius(outside), ground),
                    Err(Reason::OutOfTable.at(Field::Ambient))
                );
            }
        }
    }
    let air = |theta| ambient_factor(PVC, celsius(theta), false).unwrap();
    // Read in print.
    assert_eq!(
        [25.0, 35.0, 40.0, 45.0, 50.0, 55.0].map(air),
        [1.03, 0.94, 0.87, 0.79, 0.71, 0.61]
    );
    assert_eq!(air(30.0), 1.0);
    // On the line, a hair below.
    assert!(air(42.5) < 0.83 && air(42.5) > 0.83 - 3e-6);
    assert_eq!(
        ambient_factor(Insulation::Thermoplastic90, celsius(40.0), false),
        Ok(0.87)
    );
}

#[test]
fn grouping() {
    use Arrangement::*;
    let cg = grouping_factor;
    assert_eq!(cg(Method::Conduit, 3, Bunched), Ok(0.70));
    assert_eq!(cg(Method::Conduit, 10, Bunched), Ok(0.45));
    assert_eq!(cg(Method::Conduit, 20, Bunched), Ok(0.38));
    assert_eq!(cg(Method::Clipped, 2, SingleLayerWall), Ok(0.85));
    assert_eq!(cg(Method::Air, 4, SingleLayerTray), Ok(0.77));
    assert_eq!(cg(Method::Air, 4, Ladder), Ok(0.80));
    assert_eq!(cg(Method::Ground, 2, Touching), Ok(0.75));
    assert_eq!(cg(Method::Ground, 6, GapDiameter), Ok(0.55));
    assert_eq!(cg(Method::Ground, 3, Gap(metres(0.3))), Ok(0.80));
    assert_eq!(cg(Method::Ground, 3, Gap(metres(0.1))), Ok(0.65));
    assert_eq!(cg(Method::Duct, 3, GapDiameter), Ok(0.75));
    assert_eq!(cg(Method::Duct, 3, Gap(metres(2.0))), Ok(0.95));
    assert_eq!(cg(Method::Duct, 3, Gap(metres(0.2))), Ok(0.75));
    assert_eq!(cg(Method::Duct, 1, Bunched), Ok(1.0));
    let no = |reason: Reason, field| Err(reason.at(field));
    assert_eq!(
        cg(Method::Duct, 0, Touching),
        no(Reason::Zero, Field::Grouped)
    );
    assert_eq!(
        cg(Method::Duct, 7, Touching),
        no(Reason::OutOfTable, Field::Grouped)
    );
    assert_eq!(
        cg(Method::Clipped, 21, Bunched),
        no(Reason::OutOfTable, Field::Grouped)
    );
    for (method, arrangement) in [
        (Method::Duct, Bunched),
        (Method::Ground, SingleLayerWall),
        (Method::Clipped, Touching),
        (Method::Air, SingleLayerWall),
        (Method::Conduit, SingleLayerWall),
        (Method::CeilingThin, Gap(metres(0.5))),
    ] {
        assert_eq!(
            cg(method, 2, arrangement),
            no(Reason::Contradiction, Field::Arrangement)
        );
    }
}

#[test]
fn insulation_soil_depth() {
    let ci = |m| insulation_factor(Some(metres(m)));
    assert_eq!(insulation_factor(None), 1.0);
    assert_eq!(
        [0.01, 0.05, 0.06, 0.1, 0.2, 0.3, 0.4, 0.45, 0.5, 9.0].map(ci),
        [0.88, 0.88, 0.78, 0.78, 0.63, 0.51, 0.51, 0.50, 0.50, 0.50]
    );
    let cs = |method, r| soil_factor(method, Some(KelvinMetresPerWatt::new(r).unwrap()));
    assert_eq!(cs(Method::Duct, 2.5), Ok(1.0));
    assert_eq!(cs(Method::Ground, 2.5), Ok(1.0));
    assert_eq!(cs(Method::Duct, 3.0), Ok(0.96));
    assert_eq!(cs(Method::Ground, 2.6), Ok(0.90));
    assert_eq!(cs(Method::Ground, 0.7), Ok(1.62));
    assert_eq!(cs(Method::Ground, 0.8), Ok(1.50));
    let out = Reason::OutOfTable;
    let missing = Reason::Missing;
    assert_eq!(cs(Method::Ground, 3.1), Err(out.at(Field::SoilResistivity)));
    assert_eq!(
        soil_factor(Method::Duct, None),
        Err(missing.at(Field::SoilResistivity))
    );
    assert_eq!(soil_factor(Method::Air, None), Ok(1.0));
    let cd = |m| depth_factor(Method::Ground, Some(metres(m)));
    assert_eq!(
        [0.3, 0.7, 0.8, 1.0, 1.25, 1.5].map(cd),
        [1.0, 1.0, 0.97, 0.97, 0.95, 0.94].map(Ok)
    );
    assert_eq!(cd(1.6), Err(out.at(Field::Depth)));
    assert_eq!(
        depth_factor(Method::Duct, None),
        Err(missing.at(Field::Depth))
    );
    assert_eq!(depth_factor(Method::Clipped, None), Ok(1.0));
    // The remembered depths against a line source under the surface, soil having 0.8 of all resistance.
    for (depth, printed) in [(1.0f32, 0.97f32), (1.25, 0.95), (1.5, 0.94)] {
        let ratio = (4.0 * depth / 0.03).ln() / f32::ln(4.0 * 0.7 / 0.03);
        let law = (1.0 / (1.0 + 0.8 * (ratio - 1.0))).sqrt();
        assert!((law - printed).abs() < 0.01, "{depth} {law}");
    }
}

#[test]
fn capacities_read_in_an_installation_manual() {
    // IEC 60364-5-52 as quoted there, PVC, three loaded, whole amperes, at 40, 45, 50, 55 °C.
    for (method, csa, printed) in [
        (Method::Conduit, 4.0, [23.0, 21.0, 19.0, 16.0]),
        (Method::Conduit, 25.0, [70.0, 63.0, 57.0, 49.0]),
        (Method::Conduit, 120.0, [179.0, 163.0, 146.0, 126.0]),
        (Method::Clipped, 35.0, [104.0, 94.0, 84.0, 73.0]),
    ] {
        let c = cable(CU, PVC, Construction::Multicore, method, 3);
        for (ambient, printed) in [40.0, 45.0, 50.0, 55.0].into_iter().zip(printed) {
            let iz = c.iz(csa, None, &laying(method, ambient)).unwrap();
            assert_eq!(iz.effective.get().round(), printed, "{method:?} {csa}");
        }
    }
}

#[test]
fn a_limit_of_70_degrees_leaves_the_smaller_of_two() {
    let method = Method::Clipped;
    let at = |insulation, limit, ambient| {
        cable(CU, insulation, Construction::Armoured, method, 2)
            .iz(16.0, limit, &laying(method, ambient))
            .unwrap()
    };
    // √(40/60) of 110 is 89.8; the 70 °C table has 89.
    let limited = at(XLPE, Some(70.0), 30.0);
    assert_eq!(limited, at(PVC, None, 30.0));
    assert_eq!(limited.effective.get(), 89.0);
    // And the ambient counts as for 70 °C.
    assert_eq!(at(XLPE, Some(70.0), 40.0), at(PVC, None, 40.0));
    assert_eq!(at(XLPE, Some(90.0), 40.0), at(XLPE, None, 40.0));
    assert_eq!(at(XLPE, Some(120.0), 40.0), at(XLPE, None, 40.0));
    let c = cable(CU, XLPE, Construction::Armoured, method, 2);
    assert_eq!(
        c.iz(16.0, Some(39.0), &laying(method, 20.0)),
        Err(Reason::TooSmall.at(Field::OperatingTemperature))
    );
    assert_eq!(
        c.iz(16.0, Some(60.0), &laying(method, 51.0)),
        Err(Reason::OutOfTable.at(Field::Ambient))
    );
}

/// From 40 °C on, and with 10 K left; one step beyond either is refused.
#[test]
fn limits_of_temperature_from_both_sides() {
    let c = cable(CU, XLPE, Construction::Multicore, Method::Clipped, 2);
    let up = |v: f32| f32::from_bits(v.to_bits() + 1);
    let down = |v: f32| f32::from_bits(v.to_bits() - 1);
    let of = |limit, ambient| {
        c.iz(16.0, Some(limit), &laying(Method::Clipped, ambient))
            .map(|_| ())
    };
    let low = Reason::TooSmall.at(Field::OperatingTemperature);
    let near = Reason::OutOfTable.at(Field::Ambient);
    assert_eq!((of(40.0, 20.0), of(down(40.0), 20.0)), (Ok(()), Err(low)));
    for (limit, ambient) in [(40.0, 30.0), (60.0, 50.0), (70.0, 60.0)] {
        assert_eq!(of(limit, ambient), Ok(()));
        assert_eq!(of(limit, up(ambient)), Err(near), "{limit} {ambient}");
    }
}

/// Steel is refused as what it is, whatever else there is no table for.
#[test]
fn metals_without_tables_are_refused_first() {
    for material in [Material::Steel, Material::Lead] {
        for method in METHODS {
            for loaded in 0..5 {
                for construction in CONSTRUCTIONS {
                    let c = cable(material, PVC, construction, method, loaded);
                    assert_eq!(c.it(16.0), Err(Reason::NotMade.at(Field::Material)));
                }
            }
        }
    }
}

#[test]
fn what_surrounds_is_not_counted_twice() {
    let c = cable(CU, PVC, Construction::Multicore, Method::Surrounded, 2);
    let mut l = laying(Method::Surrounded, 30.0);
    l.insulation_run = Some(metres(3.0));
    assert_eq!(c.iz(2.5, None, &l).unwrap().effective.get(), 13.5);
    let clipped = Cable {
        method: Method::Clipped,
        ..c
    };
    l.method = Method::Clipped;
    assert_eq!(clipped.iz(2.5, None, &l).unwrap().effective.get(), 13.5);
}

#[test]
fn ground_needs_soil_and_depth() {
    let c = cable(CU, XLPE, Construction::Armoured, Method::Ground, 3);
    let mut l = laying(Method::Ground, 20.0);
    assert_eq!(c.iz(16.0, None, &l).unwrap().effective.get(), 75.0);
    l.depth = None;
    assert_eq!(c.iz(16.0, None, &l), Err(Reason::Missing.at(Field::Depth)));
    l.soil = None;
    assert_eq!(
        c.iz(16.0, None, &l),
        Err(Reason::Missing.at(Field::SoilResistivity))
    );
}

#[test]
fn millivolts_against_print() {
    // Single phase r up to 16 mm² and of two cores above, 70 °C, from memory; 90 °C read in reprints.
    let pvc = [
        (1.0, 44.0),
        (1.5, 29.0),
        (2.5, 18.0),
        (4.0, 11.0),
        (6.0, 7.3),
        (10.0, 4.4),
        (16.0, 2.8),
        (25.0, 1.75),
        (35.0, 1.25),
        (50.0, 0.93),
        (70.0, 0.63),
        (95.0, 0.47),
        (120.0, 0.38),
    ];
    let xlpe = [
        (1.0, 46.0),
        (1.5, 31.0),
        (2.5, 19.0),
        (4.0, 12.0),
        (6.0, 7.9),
        (10.0, 4.7),
        (16.0, 2.9),
    ];
    let mut most = 0.0f32;
    for (insulation, rows) in [(PVC, &pvc[..]), (XLPE, &xlpe[..])] {
        for &(csa, printed) in rows {
            let ask = |loaded, part| {
                millivolts(
                    CU,
                    mm2(csa),
                    insulation,
                    Construction::Multicore,
                    loaded,
                    part,
                )
                .unwrap()
            };
            let r = ask(2, Part::R);
            most = most.max((printed / r - 1.0).abs());
            assert!((ask(3, Part::R) * 2.0 / r - sqrtf(3.0)).abs() < 1e-6);
            let (x, z) = (ask(2, Part::X), ask(2, Part::Z));
            assert!((z * z - r * r - x * x).abs() < 1e-3 * z * z);
        }
    }
    println!("largest gap {most}");
    assert!(most < 0.025);
    assert_eq!(
        millivolts(CU, mm2(1.0), PVC, Construction::Multicore, 1, Part::R),
        Err(Reason::OutOfTable.at(Field::Cores))
    );
}

fn any_cable() -> impl Strategy<Value = Cable> {
    (
        prop::sample::select(&MATERIALS[..]),
        prop::sample::select(&INSULATIONS[..]),
        prop::sample::select(&CONSTRUCTIONS[..]),
        prop::sample::select(&METHODS[..]),
        0u8..5,
    )
        .prop_map(|(m, i, c, method, loaded)| cable(m, i, c, method, loaded))
}

fn any_arrangement() -> impl Strategy<Value = Arrangement> {
    prop_oneof![
        Just(Arrangement::Bunched),
        Just(Arrangement::SingleLayerWall),
        Just(Arrangement::SingleLayerTray),
        Just(Arrangement::Ladder),
        Just(Arrangement::Touching),
        Just(Arrangement::GapDiameter),
        (0.001f32..3.0).prop_map(|m| Arrangement::Gap(metres(m))),
    ]
}

/// A value that a constructor takes, out of any bits.
fn any_metres() -> impl Strategy<Value = Option<Metres>> {
    prop_oneof![
        any::<f32>().prop_map(|v| Metres::new(v).ok()),
        (0.001f32..3.0).prop_map(|v| Metres::new(v).ok()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_input_panics_and_no_answer_is_mad(
        c in any_cable(),
        size in prop_oneof![any::<f32>(), prop::sample::select(&SIZES[..])],
        ambient in prop_oneof![any::<f32>(), -60.0f32..120.0],
        limit in prop_oneof![Just(None), any::<f32>().prop_map(Some), (0.0f32..120.0).prop_map(Some)],
        grouped in any::<u8>(),
        arrangement in any_arrangement(),
        soil in prop_oneof![any::<f32>(), 0.01f32..4.0],
        depth in any_metres(),
        insulation_run in any_metres(),
    ) {
        let (Ok(csa), Ok(ambient)) = (SquareMm::new(size), Celsius::new(ambient)) else { return Ok(()) };
        let limit = limit.and_then(|l| Celsius::new(l).ok());
        let l = Laying {
            method: c.method,
            ambient,
            grouped,
            arrangement,
            soil: KelvinMetresPerWatt::new(soil).ok(),
            depth,
            insulation_run,
        };
        let _ = fitted(c.material, csa, c.insulation, c.construction, c.method, c.loaded);
        let _ = millivolts(c.material, csa, c.insulation, c.construction, c.loaded, Part::Z);
        if let Ok(iz) = capacity(c.material, csa, c.insulation, limit, c.construction, c.loaded, &l) {
            prop_assert!(iz.effective.get() > 0.0 && iz.effective.get().is_finite());
            for factor in [iz.grouping, iz.insulation, iz.depth] {
                prop_assert!(factor > 0.0 && factor <= 1.0);
            }
            prop_assert!(iz.ambient > 0.0 && iz.ambient <= 1.1);
            prop_assert!(iz.soil > 0.0 && iz.soil <= 1.88);
        }
    }

    #[test]
    fn hotter_is_never_better(
        insulation in prop::sample::select(&INSULATIONS[..]),
        ground: bool,
        a in 10.0f32..80.0,
        b in 10.0f32..80.0,
    ) {
        let (cool, hot) = (a.min(b), a.max(b));
        if let Ok(hot) = ambient_factor(insulation, celsius(hot), ground) {
            prop_assert!(hot <= ambient_factor(insulation, celsius(cool), ground).unwrap());
        }
    }

    #[test]
    fn a_lower_limit_is_never_better(
        c in any_cable(),
        csa in prop::sample::select(&SIZES[..]),
        ambient in 10.0f32..80.0,
        a in 40.0f32..100.0,
        b in prop_oneof![40.0f32..100.0, prop::sample::select(&[70.0f32, 90.0][..])],
    ) {
        let l = laying(c.method, ambient);
        let (low, high) = (a.min(b), a.max(b));
        if let Ok(low) = c.iz(csa, Some(low), &l) {
            let high = c.iz(csa, Some(high), &l).unwrap();
            // One part in a million for rounding.
            prop_assert!(low.effective.get() <= high.effective.get() * 1.000_001);
            let none = c.iz(csa, None, &l).unwrap();
            prop_assert!(high.effective.get() <= none.effective.get() * 1.000_001);
        }
    }

    #[test]
    fn more_circuits_are_never_better_nor_closer_ones(
        method in prop::sample::select(&METHODS[..]),
        arrangement in any_arrangement(),
        a in 1u8..25,
        b in 1u8..25,
        near in 0.001f32..2.0,
        far in 0.001f32..2.0,
    ) {
        let (few, many) = (a.min(b), a.max(b));
        if let Ok(many) = grouping_factor(method, many, arrangement) {
            prop_assert!(many <= grouping_factor(method, few, arrangement).unwrap_or(1.0));
        }
        let (near, far) = (near.min(far), near.max(far));
        let gap = |m| grouping_factor(method, many, Arrangement::Gap(metres(m)));
        if let (Ok(near), Ok(far)) = (gap(near), gap(far)) {
            prop_assert!(near <= far);
            prop_assert!(grouping_factor(method, many, Arrangement::Touching).unwrap() <= near);
        }
    }

    #[test]
    fn longer_poorer_deeper_is_never_better(
        method in prop::sample::select(&METHODS[..]),
        a in 0.01f32..3.5,
        b in 0.01f32..3.5,
    ) {
        let (low, high) = (a.min(b), a.max(b));
        prop_assert!(insulation_factor(Some(metres(high))) <= insulation_factor(Some(metres(low))));
        let soil = |r| soil_factor(method, Some(KelvinMetresPerWatt::new(r).unwrap()));
        if let Ok(poor) = soil(high) {
            prop_assert!(poor <= soil(low).unwrap());
        }
        if let Ok(deep) = depth_factor(method, Some(metres(high))) {
            prop_assert!(deep <= depth_factor(method, Some(metres(low))).unwrap());
        }
    }

    #[test]
    fn a_larger_conductor_is_never_worse(
        c in any_cable(),
        a in 0usize..17,
        b in 0usize..17,
        ambient in 10.0f32..60.0,
        limit in prop_oneof![Just(None), (40.0f32..100.0).prop_map(Some)],
    ) {
        let l = laying(c.method, ambient);
        let (small, large) = (SIZES[a.min(b)], SIZES[a.max(b)]);
        if let (Ok(small), Ok(large)) = (c.iz(small, limit, &l), c.iz(large, limit, &l)) {
            prop_assert!(small.effective.get() <= large.effective.get());
        }
    }
}
