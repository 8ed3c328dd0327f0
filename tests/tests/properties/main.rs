//! Properties of whole installations made up at random.
//!
//! PROPTEST_CASES sets how many of each. A failure leaves its seed in `tests/tests/proptest-regressions`, from
//! where it is tried first next time.

mod any;
mod input;
mod monotone;
mod said;
mod scaling;
mod solver;
mod verdicts;

use any::House;
use faultpath::assess::assess;
use faultpath::facts::{BoardFacts, CircuitFacts};
use faultpath::network::{At, CircuitId};
use faultpath::supply::Earthing;
use faultpath::verdict::{Assumed, Check, Finding, Outcome, Place, Recorder, Rule, Sense};
use proptest::prelude::ProptestConfig;
use std::collections::BTreeMap;

/// More than the default, and no end of the search for a small counterexample.
fn config() -> ProptestConfig {
    let mut config = ProptestConfig::default();
    if std::env::var_os("PROPTEST_CASES").is_none() {
        config.cases = 400;
    }
    config.max_shrink_iters = 20_000;
    config.max_global_rejects = 100 * config.cases;
    config.max_local_rejects = 1000 * config.cases;
    config
}

/// Keeps everything that is told.
#[derive(Clone, Debug, Default, PartialEq)]
struct Seen {
    findings: Vec<Finding>,
    circuits: BTreeMap<u16, CircuitFacts>,
    boards: Vec<(Place, BoardFacts)>,
}

impl Recorder for Seen {
    fn finding(&mut self, finding: &Finding) {
        self.findings.push(*finding);
    }
    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        let twice = self.circuits.insert(id.0, facts.clone());
        assert!(twice.is_none());
    }
    fn board(&mut self, place: Place, facts: &BoardFacts) {
        self.boards.push((place, *facts));
    }
}

impl Seen {
    fn of(house: &House, earthing: Earthing) -> (Outcome, Self) {
        let mut seen = Self::default();
        let outcome = assess(house, earthing, &mut seen);
        (outcome, seen)
    }

    /// Outcomes by place and check.
    fn outcomes(&self) -> Vec<((Place, Check), Outcome)> {
        self.findings
            .iter()
            .map(|f| ((f.place, f.check), f.outcome))
            .collect()
    }

    fn worst(&self) -> Outcome {
        self.findings
            .iter()
            .fold(Outcome::Pass, |worst, f| worst.worse(f.outcome))
    }
}

/// Every reading of a house.
fn readings(house: &House) -> &'static [Earthing] {
    house.supply.earthing.readings()
}

/// Whether there is nothing to refuse; what there is, if there is.
fn refusals(house: &House) -> Vec<(At, faultpath::error::Error)> {
    let mut all = Vec::new();
    house.check(|at, error| all.push((at, error)));
    all
}

/// What is wrong with a finding by itself: a pass without a figure to show for it, a figure that is none,
/// nothing named where nothing can be said.
fn blemish(f: &Finding) -> Option<String> {
    for v in [f.value, f.limit].into_iter().flatten() {
        if !v.is_finite() {
            return Some(format!("shows {v}: {f:?}"));
        }
    }
    match f.outcome {
        Outcome::Pass if f.rule == Rule::Deemed => None,
        // Nothing disconnects: it is said what was taken for granted.
        Outcome::Pass if f.rule == Rule::InsulatedFront => {
            (!f.assumed.contains(Assumed::INSULATED_FRONT)).then(|| format!("hides why: {f:?}"))
        }
        Outcome::Pass => match (f.value, f.limit, f.sense) {
            (Some(v), Some(l), Sense::AtMost) if v <= l => None,
            (Some(v), Some(l), Sense::AtLeast) if v >= l => None,
            _ => Some(format!("passes without showing it: {f:?}")),
        },
        Outcome::Fail => match (f.value, f.limit, f.sense) {
            (Some(v), Some(l), Sense::AtMost) if v > l => None,
            (Some(v), Some(l), Sense::AtLeast) if v < l => None,
            // No RCD at all where one is asked for.
            (None, Some(_), _) if f.check == Check::Rcd && !f.lacking.is_empty() => None,
            _ => Some(format!("fails without showing it: {f:?}")),
        },
        Outcome::CannotSay if f.lacking.is_empty() => Some(format!("lacks nothing: {f:?}")),
        Outcome::CannotSay => None,
        // Of readings only.
        Outcome::Doubtful => Some(format!("is in doubt: {f:?}")),
    }
}
