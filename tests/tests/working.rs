//! The working, worked again: every step of every example job by the formula its rule shows, typed anew in f64; and
//! every figure and finding is a step of its own working, or an operand of one.

use faultpath::assess::assess;
use faultpath::facts::CircuitFacts;
use faultpath::network::CircuitId;
use faultpath::verdict::{Check, Figure, Finding, Place, Recorder, Rule, Step, Topic};
use faultpath_tests::vectors::folder;
use faultpath_wasm::read::read;
use faultpath_wasm::value::Value;
use std::collections::BTreeMap;

#[derive(Default)]
struct Kept {
    steps: Vec<Step>,
    findings: Vec<Finding>,
    circuits: Vec<(CircuitId, CircuitFacts)>,
}

impl Recorder for Kept {
    fn wants_steps(&self) -> bool {
        true
    }
    fn finding(&mut self, f: &Finding) {
        self.findings.push(*f);
    }
    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        self.circuits.push((id, facts.clone()));
    }
    fn step(&mut self, step: &Step) {
        self.steps.push(*step);
    }
}

/// Every example job, as each of the systems it is judged as.
fn each_job(mut tell: impl FnMut(&str, &Kept)) {
    let folder = folder().join("examples");
    for entry in std::fs::read_dir(folder).expect("the examples") {
        let path = entry.expect("an entry").path();
        let text = std::fs::read_to_string(&path).expect("a job");
        let value: Value = serde_json::from_str(&text).expect("a job");
        let job = read(&value);
        let name = path.file_stem().and_then(|n| n.to_str()).expect("a name");
        let mut judgement = 0;
        while let Some((house, earthing)) = job.reading(judgement) {
            let mut kept = Kept::default();
            let _ = assess(house, earthing, &mut kept);
            tell(name, &kept);
            judgement += 1;
        }
    }
}

/// What the formula of a rule gives: one value, or the bounds of one where it says less.
enum Worked {
    Is(f64),
    Within(f64, f64),
    /// A table, a curve, or as entered: no formula.
    Looked,
}

fn worked(step: &Step) -> Worked {
    use Worked::{Is, Looked, Within};
    let [a, b, c, d, e, f] = step.operands.map(f64::from);
    match step.rule {
        Rule::IbSingle => Is(a / (b * c)),
        Rule::IbThree => Is(a / (3.0 * b * c)),
        Rule::Iz => Is(a * b * c * d * e * f),
        Rule::I2 | Rule::TouchVoltage => Is(a * b),
        Rule::I2Iz => Is(1.45 * b),
        Rule::InIz | Rule::RingIz | Rule::SpurIz => Is(b),
        Rule::RLine | Rule::RNeutral | Rule::RProtective | Rule::RSteel => {
            Is(a * b / 1000.0 * c * d)
        }
        Rule::Reactance => Is(a * b / 1000.0),
        Rule::RParallel => Is(a.hypot(b)),
        Rule::R1R2 | Rule::RingR1R2 => Is((a + b).hypot(c)),
        // Of the supply's angle it is known only that it is in the first quadrant, as the conductors' is.
        Rule::ZsBoard => Within(a.hypot((b + c).hypot(d)), a + (b + c).hypot(d)),
        Rule::ZsSum | Rule::DropTotal | Rule::R1R2Cold => Is(a + b),
        Rule::ZsVector => Is(a.hypot(b)),
        Rule::IfMin
        | Rule::MaxZs
        | Rule::MaxZsRcd
        | Rule::BoardMaxZs
        | Rule::IkThree
        | Rule::IkNeutral
        | Rule::IkEarth => Is(a * b / c),
        Rule::DropSingle | Rule::DropRing => Is(a * (b * c + d * e)),
        Rule::DropThree => Is(a * (b + c)),
        Rule::LoadTemperature => Is(a + (b - a) * (c / d).powi(2)),
        // Never above full temperature, which is taken for a ring too.
        Rule::InitialTemperature if step.value == step.operands[1] => Is(b),
        Rule::InitialTemperature => Is(a + (b - a) * (c / d).powi(2)),
        Rule::DropLimit | Rule::DropShare => Is(a / b),
        Rule::K => Is(a * ((b + d) / (b + c)).ln().sqrt()),
        Rule::Adiabatic => Is(a * b.sqrt() / c),
        // The table's own size up to 16 mm², 16 up to 35, half of it above.
        Rule::TabulatedMinimum => {
            let size = if a <= 16.0 {
                a
            } else if a <= 35.0 {
                16.0
            } else {
                a / 2.0
            };
            Is(size * b / c)
        }
        Rule::IbIn | Rule::DemandDevice | Rule::AdditionalProtection | Rule::BreakingCapacity => {
            Is(a)
        }
        Rule::FeedAsBonding => Is(a),
        Rule::DemandSum | Rule::DemandStated => Is(a.max(b).max(c)),
        Rule::BondingByNeutral | Rule::BondingByEarthing if a > 0.0 => Is(a * b),
        _ => Looked,
    }
}

fn near(value: f64, expected: f64) -> bool {
    (value - expected).abs() <= 1e-5 * expected.abs() + 1e-9
}

#[test]
fn each_step_comes_to_its_value() {
    let (mut rules, mut looked) = (BTreeMap::new(), BTreeMap::new());
    each_job(|name, kept| {
        for step in &kept.steps {
            let value = f64::from(step.value);
            let count = match worked(step) {
                Worked::Is(v) => {
                    assert!(near(value, v), "{name}: {v} by {step:?}");
                    &mut rules
                }
                Worked::Within(low, high) => {
                    let slack = 1e-5 * high;
                    let good = value >= low - slack && value <= high + slack;
                    assert!(good, "{name}: {low} to {high} by {step:?}");
                    &mut rules
                }
                Worked::Looked => &mut looked,
            };
            *count.entry(step.rule as u8).or_insert(0) += 1;
        }
    });
    let sum = |of: &BTreeMap<u8, i32>| of.values().sum::<i32>();
    println!("{} rules, {} steps worked again", rules.len(), sum(&rules));
    println!("{} rules, {} steps looked up", looked.len(), sum(&looked));
    assert!(rules.len() >= 45 && sum(&rules) > 8000);
}

#[test]
fn every_finding_is_in_its_working() {
    let mut held = 0;
    each_job(|name, kept| {
        for f in &kept.findings {
            let of = |step: &&Step| step.place == f.place && f.check.topics().contains(&step.topic);
            let steps: Vec<&Step> = kept.steps.iter().filter(of).collect();
            // What is as entered needs no step: the conductor that is there.
            let conductor = matches!(f.check, Check::ProtectiveThermal | Check::LineThermal);
            let (value, limit) = match f.check {
                Check::Bonding => (None, f.limit),
                _ if f.value.is_none() => (None, None),
                _ if conductor => (f.value, None),
                _ => (f.value, f.limit),
            };
            for value in [value, limit].into_iter().flatten() {
                let there = |s: &&Step| s.value == value || s.operands.contains(&value);
                assert!(steps.iter().any(there), "{name}: {value} of {f:?}");
                held += 1;
            }
        }
    });
    println!("{held} values and limits");
    assert!(held > 1000, "{held}");
}

#[test]
fn every_figure_is_in_its_working() {
    let mut held = 0;
    each_job(|name, kept| {
        for (id, facts) in &kept.circuits {
            for (figure, value) in [
                (Figure::Ib, facts.ib),
                (Figure::In, Some(facts.rating)),
                (Figure::Iz, facts.iz),
                (Figure::R1R2, facts.r1r2_cold),
                (Figure::Zs, facts.zs),
                (Figure::IefMin, facts.if_min),
                (Figure::IpfMax, facts.ipf_max),
                (Figure::Drop, facts.drop),
                (Figure::DropFull, facts.drop_full),
                (Figure::DropLoad, facts.drop_load),
            ] {
                let Some(value) = value else { continue };
                let mut steps = kept.steps.iter().filter(|s| {
                    s.place == Place::Circuit(*id) && figure.topics().contains(&s.topic)
                });
                let there = steps.any(|s| s.value == value && s.unit == figure.unit());
                assert!(there, "{name}: {figure:?} {value} of {id:?}");
                held += 1;
            }
        }
    });
    assert!(held > 1000, "{held}");
}

/// Steps that go into another are there by themselves: k and the energy of a size, the parts of a loop.
#[test]
fn operands_are_steps_too() {
    let mut held = 0;
    each_job(|name, kept| {
        for step in &kept.steps {
            let (rules, n): (&[Rule], usize) = match step.rule {
                Rule::Adiabatic => (&[Rule::K], 2),
                Rule::IfMin => (&[Rule::ZsSum, Rule::ZsVector], 2),
                Rule::MaxZs | Rule::BoardMaxZs => (&[Rule::Ia], 2),
                Rule::MaxZsRcd => (&[Rule::IaRcd], 2),
                Rule::DropTotal if step.topic == Topic::Drop => (&[Rule::DropBoard], 0),
                Rule::I2Iz => (&[Rule::I2], 0),
                Rule::ZsSum => (&[], 0),
                _ => continue,
            };
            let of = |s: &&Step| s.place == step.place && s.section == step.section;
            let there = kept.steps.iter().filter(of);
            let there = there.filter(|s| rules.contains(&s.rule));
            let good = there.clone().any(|s| s.value == step.operands[n]);
            assert!(good || rules.is_empty(), "{name}: {step:?}");
            held += u32::from(good);
            if step.rule == Rule::Adiabatic {
                let near = kept.steps.iter().filter(of);
                let mut near = near.filter(|s| {
                    matches!(s.rule, Rule::EnergyNear | Rule::EnergyFar) && s.topic == step.topic
                });
                assert!(
                    near.any(|s| s.value == step.operands[1]),
                    "{name}: {step:?}"
                );
            }
        }
    });
    assert!(held > 1000, "{held}");
}
