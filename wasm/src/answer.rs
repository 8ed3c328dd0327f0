//! What goes back to the page: findings with their words, numbers already rounded to the safe side.

#![allow(missing_docs)] // the field names are those of the answer, which the page's types describe

use crate::names;
use crate::read::{FieldError, House, Job};
use faultpath::assess::assess;
use faultpath::facts::{BoardFacts, CircuitFacts};
use faultpath::network::{BoardEarthing, BoardId, CircuitId};
use faultpath::supply::Earthing;
use faultpath::verdict::{
    Check, Finding, Lacking, Outcome, Place, Recorder, Rule, Sense, Step, Topic, Unit,
};
use faultpath::words::{self, Rounding};
use serde::Serialize;

/// Digits shown of a value and its limit.
const DIGITS: i32 = 4;

/// The whole answer.
#[derive(Debug, Serialize)]
pub struct Answer {
    pub outcome: &'static str,
    pub errors: Vec<FieldError>,
    pub judgements: Vec<Judgement>,
}

/// All of it, judged as one system of earthing.
#[derive(Debug, Serialize)]
pub struct Judgement {
    pub earthing: &'static str,
    pub outcome: &'static str,
    pub places: Vec<PlaceAnswer>,
}

/// Where.
#[derive(Debug, Serialize)]
pub struct PlaceName {
    pub kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
}

/// One place.
#[derive(Debug, Serialize)]
pub struct PlaceAnswer {
    pub place: PlaceName,
    pub outcome: &'static str,
    pub facts: Vec<Fact>,
    pub findings: Vec<FindingAnswer>,
}

/// A figure of a place.
#[derive(Debug, Serialize)]
pub struct Fact {
    pub fact: &'static str,
    pub symbol: &'static str,
    pub name: &'static str,
    pub value: Option<f32>,
    pub unit: &'static str,
    pub shown: String,
}

/// Something missing, and the field that would give it.
#[derive(Debug, Serialize)]
pub struct LackingAnswer {
    pub text: &'static str,
    pub path: Option<String>,
}

/// One finding.
#[derive(Debug, Serialize)]
pub struct FindingAnswer {
    pub check: &'static str,
    pub name: &'static str,
    pub outcome: &'static str,
    pub value: Option<f32>,
    pub limit: Option<f32>,
    pub unit: &'static str,
    pub sense: &'static str,
    pub margin: Option<f32>,
    pub section: Option<u8>,
    pub shown_value: String,
    pub shown_limit: String,
    pub basis: String,
    pub source: &'static str,
    pub standing: &'static str,
    pub text: &'static str,
    pub lacking: Vec<LackingAnswer>,
    pub assumed: Vec<&'static str>,
}

/// One step of the working.
#[derive(Debug, Serialize)]
pub struct StepAnswer {
    pub place: PlaceName,
    pub section: Option<u8>,
    pub symbol: &'static str,
    pub name: &'static str,
    pub formula: String,
    pub filled: String,
    pub value: Option<f32>,
    pub unit: &'static str,
    pub shown: String,
    pub source: &'static str,
    pub standing: &'static str,
}

/// The name of an outcome.
#[must_use]
pub fn outcome_name(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Pass => "pass",
        Outcome::Doubtful => "doubtful",
        Outcome::CannotSay => "cannot-say",
        Outcome::Fail => "fail",
    }
}

/// Checks by name.
pub const CHECKS: [(&str, Check); 14] = [
    ("design-current", Check::DesignCurrent),
    ("capacity", Check::Capacity),
    ("overload", Check::Overload),
    ("volt-drop", Check::VoltDrop),
    ("disconnection", Check::Disconnection),
    ("electrode", Check::Electrode),
    ("protective-thermal", Check::ProtectiveThermal),
    ("line-thermal", Check::LineThermal),
    ("breaking", Check::Breaking),
    ("rcd", Check::Rcd),
    ("demand", Check::Demand),
    ("bonding", Check::Bonding),
    ("feed-bonding", Check::FeedBonding),
    ("earthing-conductor", Check::EarthingConductor),
];

fn check_name(check: Check) -> &'static str {
    CHECKS
        .iter()
        .find(|(_, c)| *c == check)
        .map_or("", |(name, _)| name)
}

fn shown(value: Option<f32>, unit: Unit, way: Rounding) -> String {
    let mut out = String::new();
    match value {
        // Writing to a string can't fail.
        Some(v) => drop(words::measure(&mut out, v, unit, DIGITS, way)),
        None => out.push('–'),
    }
    out
}

fn place_name(job: &Job, place: Place) -> PlaceName {
    let of = |names: &[String], i: u16| names.get(usize::from(i)).cloned();
    match place {
        Place::Supply => PlaceName {
            kind: "supply",
            id: None,
        },
        Place::Board(id) => PlaceName {
            kind: "board",
            id: of(&job.boards, id.0),
        },
        Place::Circuit(id) => PlaceName {
            kind: "circuit",
            id: of(&job.circuits, id.0),
        },
    }
}

/// The board at whose electrode the earth fault of a place closes, if it has its own.
fn electrode_board(house: &House, place: Place) -> Option<BoardId> {
    let mut at = match place {
        Place::Supply => return None,
        Place::Board(id) => id,
        Place::Circuit(id) => house.circuit(id)?.board,
    };
    for _ in 0..=house.boards.len() {
        let board = house.board(at)?;
        if matches!(board.earthing, BoardEarthing::OwnElectrode(_)) {
            return Some(at);
        }
        at = house.circuit(board.fed_by?)?.board;
    }
    None
}

fn lacking_path(house: &House, f: &Finding, lacking: Lacking) -> Option<String> {
    let section = |c: CircuitId, key: &str| {
        let s = f.section.unwrap_or(0);
        Some(format!("circuits[{}].sections[{s}].{key}", c.0))
    };
    let circuit = match f.place {
        Place::Circuit(id) => Some(id),
        _ => None,
    };
    let board = |key: &str| match f.place {
        Place::Board(id) => Some(format!("boards[{}].{key}", id.0)),
        _ => Some(format!("supply.{key}")),
    };
    let own = |key: &str| circuit.map(|c| format!("circuits[{}].{key}", c.0));
    if lacking == Lacking::ZE {
        Some("supply.ze".to_owned())
    } else if lacking == Lacking::RA {
        Some(match electrode_board(house, f.place) {
            Some(id) => format!("boards[{}].ra", id.0),
            None => "supply.ra".to_owned(),
        })
    } else if lacking == Lacking::FAULT_LEVEL {
        Some("supply.fault_level".to_owned())
    } else if lacking == Lacking::LOAD {
        own("load.current")
    } else if lacking == Lacking::BREAKING {
        own("device.breaking").or_else(|| Some("supply.device.breaking".to_owned()))
    } else if lacking == Lacking::LET_THROUGH {
        own("device.let_through")
    } else if lacking == Lacking::CURVE {
        own("device.family")
    } else if lacking == Lacking::PROTECTIVE {
        circuit.and_then(|c| section(c, "protective.kind"))
    } else if lacking == Lacking::PROTECTIVE_AREA {
        circuit.and_then(|c| section(c, "protective.csa"))
    } else if lacking == Lacking::CAPACITY {
        circuit.and_then(|c| section(c, "method"))
    } else if lacking == Lacking::RCD {
        own("rcd")
    } else if lacking == Lacking::INCOMING {
        Some("supply.device".to_owned())
    } else if lacking == Lacking::NEUTRAL {
        Some("supply.neutral_csa".to_owned())
    } else if lacking == Lacking::TAILS {
        Some("supply.tails_csa".to_owned())
    } else if lacking == Lacking::EARTHING_CONDUCTOR {
        board("earthing_conductor")
    } else if lacking == Lacking::BONDING {
        board("bonding")
    } else {
        None
    }
}

fn formula_of(rule: Rule) -> String {
    let mut out = String::new();
    let _ = words::formula(&mut out, &words::rule(rule));
    out
}

fn finding_answer(house: &House, f: &Finding) -> FindingAnswer {
    let (value_way, limit_way) = match f.sense {
        Sense::AtMost => (Rounding::Up, Rounding::Down),
        Sense::AtLeast => (Rounding::Down, Rounding::Up),
    };
    let rule = words::rule(f.rule);
    FindingAnswer {
        check: check_name(f.check),
        name: words::check(f.check),
        outcome: outcome_name(f.outcome),
        value: f.value,
        limit: f.limit,
        unit: words::unit(f.unit),
        sense: match f.sense {
            Sense::AtMost => "at-most",
            Sense::AtLeast => "at-least",
        },
        margin: f.margin(),
        section: f.section,
        shown_value: shown(f.value, f.unit, value_way),
        shown_limit: shown(f.limit, f.unit, limit_way),
        basis: format!("{}: {}", rule.name, formula_of(f.rule)),
        source: rule.source,
        standing: rule.standing.text(),
        text: words::sentence(f.check, f.outcome),
        lacking: words::lacking(f.lacking)
            .map(|(one, text)| LackingAnswer {
                text,
                path: lacking_path(house, f, one),
            })
            .collect(),
        assumed: words::assumed(f.assumed).collect(),
    }
}

fn fact(
    name: &'static str,
    symbol: &'static str,
    long: &'static str,
    value: Option<f32>,
    unit: Unit,
    way: Rounding,
) -> Fact {
    let value = value.filter(|v| v.is_finite());
    Fact {
        fact: name,
        symbol,
        name: long,
        value,
        unit: words::unit(unit),
        shown: shown(value, unit, way),
    }
}

fn circuit_facts(f: &CircuitFacts, u0: f32) -> Vec<Fact> {
    use Rounding::{Down, Nearest, Up};
    vec![
        fact("ib", "Ib", "design current", f.ib, Unit::Ampere, Up),
        fact(
            "in",
            "In",
            "rated current",
            Some(f.rating),
            Unit::Ampere,
            Nearest,
        ),
        fact(
            "iz",
            "Iz",
            "capacity as installed",
            f.iz,
            Unit::Ampere,
            Down,
        ),
        fact(
            "r1r2",
            "R1+R2",
            "at 20 °C, as a meter reads it",
            f.r1r2_cold,
            Unit::Ohm,
            Nearest,
        ),
        fact("zs", "Zs", "earth fault loop, hot", f.zs, Unit::Ohm, Up),
        fact(
            "ief-min",
            "If",
            "smallest earth fault current",
            f.if_min,
            Unit::Ampere,
            Down,
        ),
        fact(
            "ipf-max",
            "Ipf",
            "largest fault current at the device",
            f.ipf_max,
            Unit::Ampere,
            Up,
        ),
        fact("drop", "ΔU", "drop from the origin", f.drop, Unit::Volt, Up),
        fact(
            "drop-full",
            "ΔU full",
            "drop, conductors at full temperature",
            f.drop_full,
            Unit::Volt,
            Up,
        ),
        fact(
            "drop-load",
            "ΔU load",
            "drop, conductors at the load's temperature",
            f.drop_load,
            Unit::Volt,
            Up,
        ),
        fact(
            "drop-share",
            "ΔU/U0",
            "drop as a share",
            f.drop.map(|d| d / u0),
            Unit::Share,
            Up,
        ),
    ]
}

fn board_facts(f: &BoardFacts, u0: f32) -> Vec<Fact> {
    use Rounding::{Nearest, Up};
    let largest = |[a, b, c]: [f32; 3]| a.max(b).max(c);
    let demand = f.demand.map(largest);
    let drop = f.drop.map(largest);
    vec![
        fact(
            "demand",
            "I",
            "demand with diversity",
            demand,
            Unit::Ampere,
            Up,
        ),
        fact("zs", "Zs", "earth fault loop, hot", f.zs, Unit::Ohm, Up),
        fact(
            "ipf-max",
            "Ipf",
            "largest fault current here",
            f.ipf_max,
            Unit::Ampere,
            Up,
        ),
        fact(
            "drop",
            "ΔU",
            "drop from the origin",
            drop,
            Unit::Volt,
            Nearest,
        ),
        fact(
            "drop-share",
            "ΔU/U0",
            "drop as a share",
            drop.map(|d| d / u0),
            Unit::Share,
            Nearest,
        ),
    ]
}

/// Collects what the walk tells, place by place.
#[derive(Default)]
struct Collector {
    findings: Vec<Finding>,
    circuits: Vec<(CircuitId, CircuitFacts)>,
    boards: Vec<(Place, BoardFacts)>,
}

impl Recorder for Collector {
    fn finding(&mut self, finding: &Finding) {
        self.findings.push(*finding);
    }
    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        self.circuits.push((id, facts.clone()));
    }
    fn board(&mut self, place: Place, facts: &BoardFacts) {
        self.boards.push((place, *facts));
    }
}

fn judgement(job: &Job, house: &House, earthing: Earthing) -> (Outcome, Judgement) {
    let mut all = Collector::default();
    let mut outcome = assess(house, earthing, &mut all as &mut dyn Recorder);
    if !job.errors.is_empty() {
        outcome = outcome.worse(Outcome::CannotSay);
    }
    let u0 = house.supply.u0.get();
    let boards = (0u16..).take(job.boards.len());
    let circuits = (0u16..).take(job.circuits.len());
    let order = core::iter::once(Place::Supply)
        .chain(boards.map(|b| Place::Board(BoardId(b))))
        .chain(circuits.map(|c| Place::Circuit(CircuitId(c))));
    let mut by_place: Vec<Vec<&Finding>> = Vec::new();
    by_place.resize_with(1 + job.boards.len() + job.circuits.len(), Vec::new);
    let slot = |place: Place| match place {
        Place::Supply => 0,
        Place::Board(id) => 1 + usize::from(id.0),
        Place::Circuit(id) => 1 + job.boards.len() + usize::from(id.0),
    };
    for f in &all.findings {
        if let Some(list) = by_place.get_mut(slot(f.place)) {
            list.push(f);
        }
    }
    let places = order
        .map(|place| {
            let mut worst = Outcome::Pass;
            let mine = by_place.get(slot(place)).map_or(&[][..], Vec::as_slice);
            for f in mine {
                worst = worst.worse(f.outcome);
            }
            let facts = match place {
                Place::Circuit(id) => all
                    .circuits
                    .iter()
                    .find(|(c, _)| *c == id)
                    .map(|(_, f)| circuit_facts(f, u0)),
                _ => all
                    .boards
                    .iter()
                    .find(|(p, _)| *p == place)
                    .map(|(_, f)| board_facts(f, u0)),
            };
            let bad = match place {
                Place::Supply => false,
                Place::Board(id) => job
                    .bad_boards
                    .get(usize::from(id.0))
                    .copied()
                    .unwrap_or(true),
                Place::Circuit(id) => job
                    .bad_circuits
                    .get(usize::from(id.0))
                    .copied()
                    .unwrap_or(true),
            };
            // Nothing was said of it: it could not be reached or read.
            if bad || facts.is_none() {
                worst = worst.worse(Outcome::CannotSay);
            }
            PlaceAnswer {
                place: place_name(job, place),
                outcome: outcome_name(worst),
                facts: facts.unwrap_or_default(),
                findings: mine.iter().map(|f| finding_answer(house, f)).collect(),
            }
        })
        .collect();
    let name = names::name_of(names::EARTHINGS, earthing);
    (
        outcome,
        Judgement {
            earthing: name,
            outcome: outcome_name(outcome),
            places,
        },
    )
}

/// Judges a job that was read.
#[must_use]
pub fn answer(job: Job) -> Answer {
    let mut worst = if job.errors.is_empty() {
        Outcome::Pass
    } else {
        Outcome::CannotSay
    };
    let mut judgements = Vec::new();
    match &job.house {
        Some(house) => {
            for earthing in crate::read::readings(house) {
                let (outcome, j) = judgement(&job, house, *earthing);
                worst = worst.worse(outcome);
                judgements.push(j);
            }
        }
        None => worst = worst.worse(Outcome::CannotSay),
    }
    Answer {
        outcome: outcome_name(worst),
        errors: job.errors,
        judgements,
    }
}

/// Keeps the steps of one check at one place.
struct Stepper {
    place: Place,
    topics: &'static [Topic],
    steps: Vec<Step>,
}

impl Recorder for Stepper {
    fn wants_steps(&self) -> bool {
        true
    }
    fn finding(&mut self, _: &Finding) {}
    fn step(&mut self, step: &Step) {
        if step.place == self.place && self.topics.contains(&step.topic) {
            self.steps.push(*step);
        }
    }
}

/// The working of a check at a place.
#[must_use]
pub fn working(job: &Job, judgement: usize, place: Place, check: Check) -> Vec<StepAnswer> {
    let Some(house) = &job.house else {
        return Vec::new();
    };
    let Some(earthing) = crate::read::readings(house).get(judgement) else {
        return Vec::new();
    };
    let mut all = Stepper {
        place,
        topics: check.topics(),
        steps: Vec::new(),
    };
    let _ = assess(house, *earthing, &mut all as &mut dyn Recorder);
    // In the order a person would work them, group by group.
    let mut out = Vec::new();
    for topic in check.topics() {
        for step in all.steps.iter().filter(|s| s.topic == *topic) {
            let rule = words::rule(step.rule);
            let mut filled = String::new();
            let _ = words::filled(&mut filled, step);
            let value = Some(step.value).filter(|v| v.is_finite());
            out.push(StepAnswer {
                place: place_name(job, step.place),
                section: step.section,
                symbol: rule.symbol,
                name: rule.name,
                formula: formula_of(step.rule),
                filled,
                value,
                unit: words::unit(step.unit),
                shown: shown(value, step.unit, Rounding::Nearest),
                source: rule.source,
                standing: rule.standing.text(),
            });
        }
    }
    out
}

/// A place by its kind and name.
#[must_use]
pub fn place_of(job: &Job, kind: &str, id: &str) -> Option<Place> {
    let at = |names: &[String]| {
        names
            .iter()
            .position(|n| n == id)
            .and_then(|i| u16::try_from(i).ok())
    };
    match kind {
        "supply" => Some(Place::Supply),
        "board" => at(&job.boards).map(|i| Place::Board(BoardId(i))),
        "circuit" => at(&job.circuits).map(|i| Place::Circuit(CircuitId(i))),
        _ => None,
    }
}

/// A check by its name.
#[must_use]
pub fn check_of(name: &str) -> Option<Check> {
    CHECKS.iter().find(|(n, _)| *n == name).map(|(_, c)| *c)
}
