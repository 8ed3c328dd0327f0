#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

extern crate std;
use super::*;

#[test]
fn halves() {
    let got = tabulated(
        Material::Copper,
        SquareMm::new(2.5).unwrap(),
        Insulation::Thermoplastic70,
        Construction::Multicore,
        Method::Surrounded,
        2,
    );
    assert_eq!(got.unwrap().get(), 13.5);
}
