//! The fitted form of IEC 60364-5-52 (its annex on formulas for capacity): I = A·S^m.
//!
//! The coefficients are from memory. From 1.5 to 120 mm² the tables lie within 1.9 % of the fit, rounding
//! included; above, at most 0.7 % over it, and up to 10.1 % under it in columns B1 and B2 only, which the standard
//! lowered there. A test holds these figures. The second term of the annex, − B·S^n, is zero for every column
//! given here. For the nominal 50 mm² the annex has 47.5 mm².

use super::{Construction, Method};
use crate::conductor::Material;

/// A and m.
struct Law(f32, f32);

impl Law {
    fn at(&self, s: f32) -> f32 {
        self.0 * libm::powf(s, self.1)
    }
}

/// Two laws, the second above a size in mm².
struct Split(Law, f32, Law);

/// The laws of one table of the standard.
struct Laws {
    a1: Law,
    a2: Split,
    b1: Law,
    b2: Law,
    c: Split,
    d1: Option<Law>,
    e: Split,
}

/// Copper, 70 °C, two loaded conductors.
static COPPER_70_2: Laws = Laws {
    a1: Law(11.2, 0.6118),
    a2: Split(Law(10.8, 0.6015), 120.0, Law(10.19, 0.6118)),
    b1: Law(13.5, 0.625),
    b2: Law(13.1, 0.600),
    c: Split(Law(15.0, 0.625), 16.0, Law(15.0, 0.625)),
    d1: Some(Law(17.42, 0.540)),
    e: Split(Law(16.8, 0.62), 16.0, Law(14.9, 0.646)),
};
/// Copper, 70 °C, three loaded conductors.
static COPPER_70_3: Laws = Laws {
    a1: Law(10.4, 0.605),
    a2: Split(Law(10.1, 0.592), 120.0, Law(9.462, 0.605)),
    b1: Law(11.84, 0.628),
    b2: Law(11.65, 0.6005),
    c: Split(Law(13.5, 0.625), 16.0, Law(12.4, 0.635)),
    d1: Some(Law(14.34, 0.542)),
    e: Split(Law(14.3, 0.62), 16.0, Law(12.9, 0.64)),
};
/// Copper, 90 °C, two loaded conductors.
static COPPER_90_2: Laws = Laws {
    a1: Law(14.9, 0.611),
    a2: Split(Law(14.46, 0.598), 120.0, Law(13.56, 0.611)),
    b1: Law(17.76, 0.625),
    b2: Law(17.25, 0.600),
    c: Split(Law(18.77, 0.628), 16.0, Law(17.0, 0.650)),
    d1: Some(Law(20.25, 0.542)),
    e: Split(Law(20.5, 0.623), 16.0, Law(18.6, 0.646)),
};
/// Copper, 90 °C, three loaded conductors.
static COPPER_90_3: Laws = Laws {
    a1: Law(13.34, 0.611),
    a2: Split(Law(12.95, 0.598), 120.0, Law(12.14, 0.611)),
    b1: Law(15.62, 0.6252),
    b2: Law(15.17, 0.600),
    c: Split(Law(17.0, 0.623), 16.0, Law(15.4, 0.635)),
    d1: Some(Law(16.88, 0.539)),
    e: Split(Law(17.8, 0.623), 16.0, Law(16.4, 0.637)),
};
/// Aluminium, 70 °C, two loaded conductors.
static ALUMINIUM_70_2: Laws = Laws {
    a1: Law(8.61, 0.616),
    a2: Split(Law(8.361, 0.6025), 120.0, Law(7.84, 0.616)),
    b1: Law(10.51, 0.6254),
    b2: Law(10.24, 0.5994),
    c: Split(Law(11.6, 0.625), 16.0, Law(10.55, 0.640)),
    d1: None,
    e: Split(Law(12.8, 0.627), 16.0, Law(11.4, 0.64)),
};
/// Aluminium, 70 °C, three loaded conductors.
static ALUMINIUM_70_3: Laws = Laws {
    a1: Law(7.94, 0.612),
    a2: Split(Law(7.712, 0.5984), 120.0, Law(7.225, 0.612)),
    b1: Law(9.265, 0.627),
    b2: Law(9.03, 0.601),
    c: Split(Law(10.5, 0.625), 16.0, Law(9.536, 0.6324)),
    d1: None,
    e: Split(Law(11.0, 0.62), 16.0, Law(9.9, 0.64)),
};
/// Aluminium, 90 °C, two loaded conductors.
static ALUMINIUM_90_2: Laws = Laws {
    a1: Law(11.6, 0.615),
    a2: Split(Law(11.26, 0.602), 120.0, Law(10.56, 0.615)),
    b1: Law(13.95, 0.627),
    b2: Law(13.5, 0.603),
    c: Split(Law(14.8, 0.625), 16.0, Law(12.6, 0.648)),
    d1: None,
    e: Split(Law(16.0, 0.625), 16.0, Law(13.4, 0.649)),
};
/// Aluminium, 90 °C, three loaded conductors.
static ALUMINIUM_90_3: Laws = Laws {
    a1: Law(10.9, 0.605),
    a2: Split(Law(10.58, 0.592), 120.0, Law(9.92, 0.605)),
    b1: Law(12.3, 0.630),
    b2: Law(11.95, 0.605),
    c: Split(Law(13.5, 0.625), 16.0, Law(11.5, 0.639)),
    d1: None,
    e: Split(Law(13.7, 0.623), 16.0, Law(12.6, 0.635)),
};

/// Smallest size the fit is used for, by material, and largest, in mm².
const COPPER_FROM: f32 = 1.5;
const ALUMINIUM_FROM: f32 = 10.0;
const TO: f32 = 300.0;

pub(super) fn fitted(
    material: Material,
    csa: f32,
    thermosetting: bool,
    construction: Construction,
    method: Method,
    loaded: u8,
) -> Option<f32> {
    let (laws, from) = match (material, thermosetting, loaded) {
        (Material::Copper, false, 2) => (&COPPER_70_2, COPPER_FROM),
        (Material::Copper, false, 3) => (&COPPER_70_3, COPPER_FROM),
        (Material::Copper, true, 2) => (&COPPER_90_2, COPPER_FROM),
        (Material::Copper, true, 3) => (&COPPER_90_3, COPPER_FROM),
        (Material::Aluminium, false, 2) => (&ALUMINIUM_70_2, ALUMINIUM_FROM),
        (Material::Aluminium, false, 3) => (&ALUMINIUM_70_3, ALUMINIUM_FROM),
        (Material::Aluminium, true, 2) => (&ALUMINIUM_90_2, ALUMINIUM_FROM),
        (Material::Aluminium, true, 3) => (&ALUMINIUM_90_3, ALUMINIUM_FROM),
        _ => return None,
    };
    if !(from..=TO).contains(&csa) {
        return None;
    }
    let s = if csa == 50.0 { 47.5 } else { csa };
    let split = |law: &Split| if s <= law.1 { law.0.at(s) } else { law.2.at(s) };
    match (construction, method) {
        (Construction::SingleCores, Method::InsulatedWall) => Some(laws.a1.at(s)),
        (Construction::SingleCores, Method::Conduit) => Some(laws.b1.at(s)),
        // Single copper cores have a column C of their own in BS 7671, above this one.
        (Construction::SingleCores, Method::Clipped) if material == Material::Aluminium => {
            Some(split(&laws.c))
        }
        (Construction::Multicore, Method::InsulatedWall) => Some(split(&laws.a2)),
        (Construction::Multicore, Method::Conduit) => Some(laws.b2.at(s)),
        (Construction::Multicore, Method::Clipped) => Some(split(&laws.c)),
        (Construction::Multicore, Method::Air) => Some(split(&laws.e)),
        (Construction::SingleCores | Construction::Multicore, Method::Duct)
        | (Construction::Armoured, Method::Duct | Method::Ground) => {
            laws.d1.as_ref().map(|law| law.at(s))
        }
        _ => None,
    }
}
