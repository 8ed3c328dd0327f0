//! What is given whatever comes to mind: by libFuzzer (`tests/fuzz`), which looks for new ways through the code, and
//! by an ordinary test, which changes what is kept of that.

pub mod any;
mod check;
mod frame;
mod job;

pub use check::check;
pub use frame::frame;
pub use job::{changed, job};

/// Numbers from a seed, the same everywhere.
pub struct Random(pub u64);

impl Random {
    /// One below `n`; 0 where `n` is.
    pub fn below(&mut self, n: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % n.max(1)
    }
}
