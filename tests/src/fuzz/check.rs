//! The whole check of structures of any kind: it ends, twice the same, and what it says holds together.

use super::any::{House, circuit, house, profile, source};
use arbitrary::Unstructured;
use faultpath::assess::{assess, assess_circuit};
use faultpath::facts::CircuitFacts;
use faultpath::network::{BoardId, CircuitId};
use faultpath::solve;
use faultpath::supply::Earthing;
use faultpath::verdict::{Finding, Outcome, Recorder, Rule, Sense, Step, Worst};

/// Keeps all that is told.
#[derive(Default)]
struct Seen {
    steps: bool,
    /// Nothing it rests on is unknown or unchecked: every figure is a number, or there is none.
    known: bool,
    alone: bool,
    findings: Vec<Finding>,
    told: usize,
}

impl Recorder for Seen {
    fn wants_steps(&self) -> bool {
        self.steps
    }
    fn finding(&mut self, finding: &Finding) {
        whole(finding);
        // A source that somebody else put together need not say what it lacks.
        let named =
            self.alone || finding.outcome != Outcome::CannotSay || !finding.lacking.is_empty();
        assert!(named, "{finding:?}");
        self.findings.push(*finding);
    }
    fn circuit(&mut self, _: CircuitId, facts: &CircuitFacts) {
        let all = [
            facts.ib,
            facts.iz,
            facts.zs,
            facts.r1r2_cold,
            facts.if_min,
            facts.ipf_max,
            facts.drop,
        ];
        let mut all = all.into_iter().flatten();
        assert!(!self.known || all.all(f32::is_finite), "{facts:?}");
    }
    fn step(&mut self, _: &Step) {
        self.told += 1;
    }
}

impl Seen {
    fn worst(&self) -> Outcome {
        self.findings
            .iter()
            .fold(Outcome::Pass, |worst, f| worst.worse(f.outcome))
    }
}

/// Wider than the hair by which what was worked out is held off its limit.
const NEAR: f32 = 3e-6;

/// A pass shows what it rests on, a fail too, but for a figure a hair inside its limit.
fn whole(f: &Finding) {
    assert!(
        [f.value, f.limit].into_iter().flatten().all(f32::is_finite),
        "{f:?}"
    );
    let good = match (f.value, f.limit, f.sense) {
        (Some(v), Some(l), Sense::AtMost) => Some(v <= l),
        (Some(v), Some(l), Sense::AtLeast) => Some(v >= l),
        _ => None,
    };
    match f.outcome {
        Outcome::Pass => assert!(
            good == Some(true) || matches!(f.rule, Rule::Deemed | Rule::InsulatedFront),
            "{f:?}"
        ),
        Outcome::Fail => assert!(
            good == Some(false)
                || !f.lacking.is_empty()
                || matches!((f.value, f.limit), (Some(v), Some(l)) if (v - l).abs() <= NEAR * v.abs()),
            "{f:?}"
        ),
        Outcome::CannotSay => {}
        Outcome::Doubtful => panic!("{f:?}"),
    }
}

/// Whether anything was said of it.
fn installation(house: &House, earthing: Earthing) -> bool {
    let good = house.check(|_, _| ());
    let mut seen = Seen {
        known: good,
        ..Seen::default()
    };
    let outcome = assess(house, earthing, &mut seen);
    let sound = good && !house.circuits.is_empty();
    let expected = if sound {
        seen.worst()
    } else {
        seen.worst().worse(Outcome::CannotSay)
    };
    assert_eq!(outcome, expected);
    assert_eq!(assess(house, earthing, &mut Worst::default()), outcome);
    // That steps are told changes nothing.
    let mut worked = Seen {
        steps: true,
        ..Seen::default()
    };
    assert_eq!(assess(house, earthing, &mut worked), outcome);
    assert_eq!(worked.findings, seen.findings);
    assert!(worked.told > 0 || worked.findings.is_empty());
    !seen.findings.is_empty()
}

/// What a search finds passes, and the installation is left as it was.
fn search(house: &mut House, earthing: Earthing, id: CircuitId) {
    let before = format!("{house:?}");
    let csa = solve::smallest_csa(house, earthing, id);
    let rating = solve::largest_rating(house, earthing, id);
    let length = solve::greatest_length(house, earthing, id);
    let mut changes = Vec::new();
    solve::changes(house, earthing, id, |change| changes.push(change));
    assert_eq!(format!("{house:?}"), before);
    let Some(original) = house.circuit(id).cloned() else {
        return;
    };
    let mut passes = |change: &dyn Fn(&mut faultpath::network::Circuit)| {
        let c = &mut house.circuits[usize::from(id.0)];
        change(c);
        let outcome = solve::judge(house, earthing, id).0;
        house.circuits[usize::from(id.0)] = original.clone();
        assert_eq!(outcome, Outcome::Pass, "{before}");
    };
    if let Ok(csa) = csa {
        passes(&|c| solve::set_csa(c, csa));
    }
    if let Ok(device) = rating {
        passes(&|c| c.device = device);
    }
    if let Ok((section, length)) = length {
        passes(&|c| c.sections[usize::from(section)].length = length);
    }
    for change in &changes {
        passes(&|c| solve::apply(c, change));
    }
}

/// Whether there was something to judge.
pub fn check(data: &[u8]) -> bool {
    let mut u = Unstructured::new(data);
    let searched = u.ratio(1, 16).unwrap_or(false);
    let alone = u.ratio(1, 4).unwrap_or(false);
    if alone {
        // One circuit against a source that nobody checked.
        let (Ok(p), Ok(s), Ok(c)) = (
            profile(&mut u),
            source(&mut u),
            circuit(&mut u, BoardId(0), false),
        ) else {
            return false;
        };
        let mut seen = Seen {
            alone,
            ..Seen::default()
        };
        let Ok((outcome, _)) = assess_circuit(&p, &s, &c, None, &mut seen) else {
            return false;
        };
        assert_eq!(outcome, seen.worst());
        return true;
    }
    let Ok(mut house) = house(&mut u) else {
        return false;
    };
    let readings = house.supply.earthing.readings();
    let mut judged = false;
    for earthing in readings {
        judged |= installation(&house, *earthing);
    }
    if searched && !house.circuits.is_empty() {
        let id = CircuitId(data.len() as u16 % house.circuits.len() as u16);
        search(&mut house, readings[0], id);
    }
    judged
}
