//! No allocation: a counting allocator sees nothing of a whole check, of the searches, of readings.

use faultpath::assess::{assess, figures};
use faultpath::network::CircuitId;
use faultpath::quantity::{Celsius, Metres};
use faultpath::reading::{Accuracy, Design, Shown, fault_loop};
use faultpath::solve::{changes, greatest_length, largest_rating, smallest_csa};
use faultpath::supply::Earthing;
use faultpath::verdict::{Finding, Outcome, Recorder, Report, Step, Worst};
use faultpath_tests::sub_main::sub_main;
use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;
use std::hint::black_box;

struct Counting;

thread_local! {
    /// Of this thread alone: the runner of the tests allocates in its own.
    static COUNT: Cell<u64> = const { Cell::new(0) };
}

// SAFETY: the system's own.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        COUNT.set(COUNT.get() + 1);
        unsafe { System.alloc(layout) }
    }
    unsafe fn dealloc(&self, pointer: *mut u8, layout: Layout) {
        unsafe { System.dealloc(pointer, layout) }
    }
}

#[global_allocator]
static COUNTING: Counting = Counting;

/// How often memory was asked for meanwhile.
fn asked<T>(run: impl FnOnce() -> T) -> u64 {
    let before = COUNT.get();
    black_box(run());
    COUNT.get() - before
}

/// Every finding and every step, and keeps none.
#[derive(Default)]
struct Steps(u64);

impl Recorder for Steps {
    fn wants_steps(&self) -> bool {
        true
    }
    fn finding(&mut self, _: &Finding) {}
    fn step(&mut self, _: &Step) {
        self.0 += 1;
    }
}

#[test]
fn nothing_allocates() {
    // Else it would prove nothing.
    assert_eq!(asked(|| Box::new(7)), 1);

    let mut house = sub_main::<13>();
    let id = CircuitId(12);
    let of = Earthing::TnCS;
    assert_eq!(asked(|| assess(&*house, of, &mut Worst::default())), 0);
    let mut report = Report::<256>::default();
    assert_eq!(asked(|| assess(&*house, of, &mut report)), 0);
    assert_eq!((report.outcome, report.dropped), (Outcome::Pass, 0));
    let mut steps = Steps::default();
    assert_eq!(asked(|| assess(&*house, of, &mut steps)), 0);
    assert!(steps.0 > 500);
    assert_eq!(asked(|| house.check(|_, _| ())), 0);

    assert_eq!(asked(|| smallest_csa(&mut *house, of, id).unwrap()), 0);
    assert_eq!(asked(|| largest_rating(&mut *house, of, id).unwrap()), 0);
    assert_eq!(asked(|| greatest_length(&mut *house, of, id).unwrap()), 0);

    let (source, facts) = figures(&house, of, id).unwrap();
    let design = Design {
        profile: &house.profile,
        source: &source,
        circuit: &house.circuits[usize::from(id.0)],
        facts: &facts,
        ambient: Celsius::new(10.0).unwrap(),
    };
    let meter = Accuracy::new(0.03, 5.0, 0.01).unwrap();
    let shown = Shown::value(0.4).unwrap();
    let mut judged = None;
    assert_eq!(
        asked(|| judged = Some(fault_loop::zs(&design, shown, &meter))),
        0
    );
    assert_eq!(judged.unwrap().outcome, Outcome::Pass);

    // Where something fails there is most to be searched.
    house.circuits[12].sections[0].length = Metres::new(140.0).unwrap();
    let mut told = 0;
    assert_eq!(asked(|| changes(&mut *house, of, id, |_| told += 1)), 0);
    assert!(told > 0);
}
