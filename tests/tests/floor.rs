//! The floor of the benches does the work of the checks: each value and limit of core, to the bit, and no more.

use faultpath::assess::assess;
use faultpath::supply::Earthing;
use faultpath::verdict::{Finding, Recorder, Sense};
use faultpath_tests::floor::{self, Told};
use faultpath_tests::sub_main::sub_main;

/// Value and limit, as bits.
type Row = Option<(u32, u32)>;

#[derive(Default)]
struct Rows(Vec<(Row, String)>);

fn row(value: f32, limit: f32) -> Row {
    Some((value.to_bits(), limit.to_bits()))
}

impl Recorder for Rows {
    fn finding(&mut self, f: &Finding) {
        let row = f.value.zip(f.limit).and_then(|(v, l)| match f.sense {
            Sense::AtMost => row(v, l),
            Sense::AtLeast => row(l, v),
        });
        self.0.push((row, format!("{f:?}")));
    }
}

impl Told for Rows {
    fn at_most(&mut self, value: f32, limit: f32) {
        self.0.push((row(value, limit), format!("{value} {limit}")));
    }
    fn deemed(&mut self) {
        self.0.push((None, "deemed".into()));
    }
}

fn same<const C: usize>() {
    let house = sub_main::<C>();
    let (mut core, mut floor) = (Rows::default(), Rows::default());
    assess(&house, Earthing::TnCS, &mut core);
    floor::check(&floor::figures(C - 1), &mut floor);
    for ((a, said), (b, other)) in core.0.iter().zip(&floor.0) {
        assert_eq!(a, b, "{said}\n{other}");
    }
    assert_eq!(core.0.len(), floor.0.len());
    assert!(core.0.len() > 8 * C);
}

#[test]
fn the_floor_is_the_same_work() {
    same::<13>();
    same::<40>();
}
