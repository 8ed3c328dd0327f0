//! What goes back to the page: findings as codes and figures, each figure also as it is shown, rounded to the
//! safe side. What the codes say is in the catalogue, which the page has already.
//!
//! A rule, a unit or a field is its number in core; what is missing or was taken for granted is the bits of its
//! set. What the page itself decides by (an outcome, a check, a kind of place) is a word.

use crate::names;
use crate::out::Out;
use crate::path;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read::{House, Job};
use faultpath::assess::assess;
use faultpath::cable::capacity;
use faultpath::error::Field;
use faultpath::facts::{BoardFacts, CircuitFacts};
use faultpath::network::{
    BoardEarthing, BoardId, Circuit, CircuitId, Demand, Protective, Section, Use,
};
use faultpath::supply::Earthing;
use faultpath::verdict::{
    Check, Figure, Finding, Lacking, Outcome, Place, Recorder, Sense, Step, Topic, Unit,
};
use faultpath::words::{self, Rounding};

/// Digits shown of a value and its limit.
const DIGITS: i32 = 4;

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
pub const CHECKS: [(&str, Check); 15] = [
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
    ("board-fault", Check::BoardFault),
];

/// Figures by name.
pub const FIGURES: [(&str, Figure); 12] = [
    ("ib", Figure::Ib),
    ("in", Figure::In),
    ("iz", Figure::Iz),
    ("r1r2", Figure::R1R2),
    ("zs", Figure::Zs),
    ("ief-min", Figure::IefMin),
    ("ipf-max", Figure::IpfMax),
    ("drop", Figure::Drop),
    ("drop-full", Figure::DropFull),
    ("drop-load", Figure::DropLoad),
    ("drop-share", Figure::DropShare),
    ("demand", Figure::Demand),
];

/// The name in a list.
pub(crate) fn name_in<T: PartialEq>(list: &[(&'static str, T)], one: T) -> &'static str {
    list.iter()
        .find(|(_, other)| *other == one)
        .map_or("", |(name, _)| name)
}

/// What is in a list under a name.
pub(crate) fn named<T: Copy>(list: &[(&'static str, T)], name: &str) -> Option<T> {
    list.iter().find(|(n, _)| *n == name).map(|(_, one)| *one)
}

/// A value as a person reads it, before its unit.
#[must_use]
pub fn shown(value: Option<f32>, unit: Unit, way: Rounding) -> Out {
    value.map_or(Out::Null, |v| {
        let mut out = String::new();
        // Writing to a string can't fail.
        let _ = words::figure(&mut out, v, unit, DIGITS, way);
        out.into()
    })
}

pub(crate) fn place_name(job: &Job<'_>, place: Place) -> Out {
    let (kind, id) = match place {
        Place::Supply => ("supply", None),
        Place::Board(id) => ("board", job.boards.get(usize::from(id.0))),
        Place::Circuit(id) => ("circuit", job.circuits.get(usize::from(id.0))),
    };
    let mut out = vec![("kind", kind.into())];
    if let Some(id) = id {
        out.push(("id", (*id).to_owned().into()));
    }
    Out::Fields(out)
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

/// The thing whose field gives what is missing.
#[derive(Clone, Copy)]
enum Of {
    Supply,
    /// The board, or the supply at the origin.
    Board,
    /// The board with the electrode, or the supply.
    Electrode,
    /// The circuit, of a board the one that feeds it, or the supply.
    Feeder,
    Circuit,
    /// A circuit whose load is not stated, of those behind.
    Loads,
    /// The same, of those that share a feed with it.
    Upstream,
    /// The first section for which it is missing.
    Section,
}

const ENTRIES: [(Lacking, Of, &str); 19] = [
    (Lacking::ZE, Of::Supply, "ze"),
    (Lacking::RA, Of::Electrode, "ra"),
    (Lacking::FAULT_LEVEL, Of::Supply, "fault_level"),
    (Lacking::LOAD, Of::Circuit, "load.current"),
    (Lacking::LOADS, Of::Loads, "load.current"),
    (Lacking::UPSTREAM, Of::Upstream, "load.current"),
    (Lacking::BREAKING, Of::Feeder, "device.breaking"),
    (Lacking::LET_THROUGH, Of::Circuit, "device.let_through"),
    (Lacking::CURVE, Of::Feeder, "device.family"),
    (Lacking::PROTECTIVE, Of::Section, "protective.kind"),
    (Lacking::PROTECTIVE_AREA, Of::Section, "protective.csa"),
    (Lacking::CAPACITY, Of::Section, "method"),
    (Lacking::RCD, Of::Circuit, "rcd"),
    (Lacking::INCOMING, Of::Supply, "device"),
    (Lacking::NEUTRAL, Of::Supply, "neutral_csa"),
    (Lacking::TAILS, Of::Supply, "tails_csa"),
    (Lacking::EARTHING_CONDUCTOR, Of::Board, "earthing_conductor"),
    (Lacking::BONDING, Of::Board, "bonding"),
    (Lacking::ENCLOSURE, Of::Board, "enclosure"),
];

/// What a section lacks: the entry that decides it.
fn section_lacks(circuit: &Circuit, s: &Section, lacking: Lacking) -> Option<&'static str> {
    match s.protective {
        _ if lacking == Lacking::CAPACITY => {
            let found = capacity(
                s.material,
                s.csa,
                s.insulation,
                s.operating_limit,
                s.construction,
                circuit.loaded(),
                &s.laying,
            );
            Some(match found.err()?.field {
                Field::SoilResistivity => "soil",
                Field::Depth => "depth",
                Field::Ambient => "ambient",
                Field::Grouped => "grouped",
                Field::Arrangement => "arrangement",
                Field::Csa => "csa",
                _ => "method",
            })
        }
        Protective::None => (lacking == Lacking::PROTECTIVE).then_some("protective.kind"),
        Protective::Armour(Some(steel))
        | Protective::ArmourAndCore(Some(steel), _)
        | Protective::Enclosure(steel) => (lacking == Lacking::PROTECTIVE_AREA
            && steel.area.is_none())
        .then_some("protective.csa"),
        _ => None,
    }
}

/// The circuit that feeds the board of another.
fn feed_of(house: &House, id: CircuitId) -> Option<CircuitId> {
    house.board(house.circuit(id)?.board)?.fed_by
}

/// What a thing missing at a place is entered of, in which section, and as what; none where no field of its own
/// gives it.
fn entry_of(
    house: &House,
    place: Place,
    section: Option<u8>,
    lacking: Lacking,
) -> Option<(Place, Option<u8>, &'static str)> {
    let (_, of, key) = *ENTRIES.iter().find(|(one, _, _)| *one == lacking)?;
    let feed = match place {
        Place::Circuit(id) => Some(id),
        Place::Board(id) => house.board(id)?.fed_by,
        Place::Supply => None,
    };
    let at = match of {
        Of::Supply => Place::Supply,
        Of::Electrode => electrode_board(house, place).map_or(Place::Supply, Place::Board),
        Of::Board => place,
        Of::Feeder => feed.map_or(Place::Supply, Place::Circuit),
        Of::Circuit => Place::Circuit(feed?),
        Of::Loads => Place::Circuit(without_load(house, feed)?),
        Of::Upstream => {
            let mut top = feed?;
            for _ in 0..house.boards.len() {
                top = feed_of(house, top).unwrap_or(top);
            }
            Place::Circuit(without_load(house, Some(top))?)
        }
        Of::Section => {
            // Its own, or one nearer the supply. It need not be the section that decides.
            let mut at = feed?;
            for _ in 0..=house.boards.len() {
                let circuit = house.circuit(at)?;
                for (n, s) in (0u8..).zip(&circuit.sections) {
                    if let Some(key) = section_lacks(circuit, s, lacking) {
                        return Some((Place::Circuit(at), Some(n), key));
                    }
                }
                at = feed_of(house, at).unwrap_or(at);
            }
            return Some((Place::Circuit(feed?), Some(section.unwrap_or(0)), key));
        }
    };
    Some((at, None, key))
}

fn lacking_path(
    house: &House,
    place: Place,
    section: Option<u8>,
    lacking: Lacking,
) -> Option<String> {
    let (at, section, key) = entry_of(house, place, section, lacking)?;
    Some(match (at, section) {
        (Place::Supply, _) => path::of_supply(key),
        (Place::Board(id), _) => path::of_board(id.0, key),
        (Place::Circuit(id), None) => path::of_circuit(id.0, key),
        (Place::Circuit(id), Some(n)) => path::of_section(id.0, n, key),
    })
}

/// The first circuit whose load is not stated, of those that hang on a feed.
fn without_load(house: &House, feed: Option<CircuitId>) -> Option<CircuitId> {
    let open = |c: &Circuit| match c.load.demand {
        Demand::NotKnown => true,
        Demand::Derived => c.purpose != Use::Distribution,
        _ => false,
    };
    let mut all = house.circuits().filter(|(_, c)| open(c));
    let found = all.find(|(id, _)| feed.is_none_or(|feed| house.is_within(*id, feed)));
    found.map(|(id, _)| id)
}

/// The fields of all that is missing, in the order of the bits.
pub(crate) fn lacking_paths(house: &House, place: Place, section: Option<u8>, of: Lacking) -> Out {
    let paths = of
        .iter()
        .map(|one| lacking_path(house, place, section, one).into());
    Out::List(paths.collect())
}

/// A finding in codes and figures.
pub(crate) fn finding_answer(house: &House, f: &Finding) -> Out {
    let (sense, value_way, limit_way) = match f.sense {
        Sense::AtMost => ("at-most", Rounding::Up, Rounding::Down),
        Sense::AtLeast => ("at-least", Rounding::Down, Rounding::Up),
    };
    Out::Fields(vec![
        ("check", name_in(&CHECKS, f.check).into()),
        ("outcome", outcome_name(f.outcome).into()),
        ("value", f.value.into()),
        ("limit", f.limit.into()),
        ("unit", (f.unit as u8).into()),
        ("sense", sense.into()),
        ("margin", f.margin().into()),
        ("section", f.section.into()),
        ("shown_value", shown(f.value, f.unit, value_way)),
        ("shown_limit", shown(f.limit, f.unit, limit_way)),
        ("rule", (f.rule as u8).into()),
        ("lacking", Out::Count(f.lacking.bits())),
        ("paths", lacking_paths(house, f.place, f.section, f.lacking)),
        ("assumed", Out::Count(f.assumed.bits().into())),
    ])
}

fn fact(figure: Figure, value: Option<f32>, way: Rounding) -> Out {
    let value = value.filter(|v| v.is_finite());
    Out::Fields(vec![
        ("fact", name_in(&FIGURES, figure).into()),
        ("value", value.into()),
        ("shown", shown(value, figure.unit(), way)),
    ])
}

/// Figures of a place, each with the side it is rounded to.
type Figures = Vec<(Figure, Option<f32>, Rounding)>;

fn circuit_figures(f: &CircuitFacts, u0: f32) -> Figures {
    use Rounding::{Down, Nearest, Up};
    vec![
        (Figure::Ib, f.ib, Up),
        (Figure::In, Some(f.rating), Nearest),
        (Figure::Iz, f.iz, Down),
        (Figure::R1R2, f.r1r2_cold, Nearest),
        (Figure::Zs, f.zs, Up),
        (Figure::IefMin, f.if_min, Down),
        (Figure::IpfMax, f.ipf_max, Up),
        (Figure::Drop, f.drop, Up),
        (Figure::DropFull, f.drop_full, Up),
        (Figure::DropLoad, f.drop_load, Up),
        (Figure::DropShare, f.drop.map(|d| d / u0), Up),
    ]
}

fn board_figures(f: &BoardFacts, u0: f32) -> Figures {
    use Rounding::Up;
    let largest = |[a, b, c]: [f32; 3]| a.max(b).max(c);
    let drop = f.drop.map(largest);
    vec![
        (Figure::Demand, f.demand.map(largest), Up),
        (Figure::Zs, f.zs, Up),
        (Figure::IpfMax, f.ipf_max, Up),
        (Figure::Drop, drop, Up),
        (Figure::DropShare, drop.map(|d| d / u0), Up),
    ]
}

/// What the walk told of one place.
#[derive(Default)]
struct Told {
    worst: Option<Outcome>,
    facts: Option<Vec<Out>>,
    findings: Vec<Out>,
}

/// Collects what the walk tells, place by place: the supply, the boards, the circuits.
struct Collector<'a> {
    job: &'a Job<'a>,
    house: &'a House,
    told: Vec<Told>,
}

impl Collector<'_> {
    fn at(&mut self, place: Place) -> Option<&mut Told> {
        let index = match place {
            Place::Supply => 0,
            Place::Board(id) => 1 + usize::from(id.0),
            Place::Circuit(id) => 1 + self.job.boards.len() + usize::from(id.0),
        };
        self.told.get_mut(index)
    }

    fn figures(&mut self, place: Place, figures: Figures) {
        if let Some(told) = self.at(place) {
            let facts = figures
                .into_iter()
                .map(|(f, value, way)| fact(f, value, way));
            told.facts.get_or_insert_with(|| facts.collect());
        }
    }
}

impl Recorder for Collector<'_> {
    fn finding(&mut self, finding: &Finding) {
        let answer = finding_answer(self.house, finding);
        if let Some(told) = self.at(finding.place) {
            told.worst = told.worst.max(Some(finding.outcome));
            told.findings.push(answer);
        }
    }
    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        let u0 = self.house.supply.u0.get();
        self.figures(Place::Circuit(id), circuit_figures(facts, u0));
    }
    fn board(&mut self, place: Place, facts: &BoardFacts) {
        let u0 = self.house.supply.u0.get();
        self.figures(place, board_figures(facts, u0));
    }
}

fn judgement(job: &Job<'_>, house: &House, earthing: Earthing) -> (Outcome, Out) {
    let mut all = Collector {
        job,
        house,
        told: Vec::new(),
    };
    let count = 1 + job.boards.len() + job.circuits.len();
    all.told.resize_with(count, Told::default);
    // A file without the working has no code for it; one with it has the walk once.
    #[cfg(feature = "site")]
    let mut outcome = assess(house, earthing, &mut all as &mut dyn Recorder);
    #[cfg(not(feature = "site"))]
    let mut outcome = assess(house, earthing, &mut all);
    if !job.errors.is_empty() {
        outcome = outcome.worse(Outcome::CannotSay);
    }
    let boards = (0..).zip(&job.bad_boards);
    let circuits = (0..).zip(&job.bad_circuits);
    let order = core::iter::once((Place::Supply, &job.bad_supply))
        .chain(boards.map(|(i, bad)| (Place::Board(BoardId(i)), bad)))
        .chain(circuits.map(|(i, bad)| (Place::Circuit(CircuitId(i)), bad)));
    let places = order
        .zip(all.told)
        .map(|((place, bad), told)| {
            let mut worst = told.worst.unwrap_or(Outcome::Pass);
            // Nothing was said of it: it could not be reached or read.
            if *bad || told.facts.is_none() {
                worst = worst.worse(Outcome::CannotSay);
            }
            Out::Fields(vec![
                ("place", place_name(job, place)),
                ("outcome", outcome_name(worst).into()),
                ("facts", Out::List(told.facts.unwrap_or_default())),
                ("findings", Out::List(told.findings)),
            ])
        })
        .collect();
    let judgement = Out::Fields(vec![
        ("earthing", names::EARTHINGS.name_of(earthing).into()),
        ("outcome", outcome_name(outcome).into()),
        ("places", Out::List(places)),
    ]);
    (outcome, judgement)
}

/// Judges a job that was read.
#[must_use]
pub fn answer(job: Job<'_>) -> Out {
    let mut worst = Outcome::Pass;
    if job.house.is_none() || !job.errors.is_empty() {
        worst = Outcome::CannotSay;
    }
    let mut judgements = Vec::new();
    if let Some(house) = &job.house {
        for earthing in house.supply.earthing.readings() {
            let (outcome, judgement) = judgement(&job, house, *earthing);
            worst = worst.worse(outcome);
            judgements.push(judgement);
        }
    }
    Out::Fields(vec![
        ("outcome", outcome_name(worst).into()),
        ("errors", Out::List(job.errors)),
        ("judgements", Out::List(judgements)),
    ])
}

/// Keeps the steps of some groups at one place, or at two, and the figures of the last.
struct Stepper {
    places: [Option<Place>; 2],
    topics: &'static [Topic],
    steps: Vec<Step>,
    u0: f32,
    figures: Figures,
}

impl Recorder for Stepper {
    fn wants_steps(&self) -> bool {
        true
    }
    fn finding(&mut self, _: &Finding) {}
    fn step(&mut self, step: &Step) {
        if self.places.contains(&Some(step.place)) && self.topics.contains(&step.topic) {
            self.steps.push(*step);
        }
    }
    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        if self.places[1] == Some(Place::Circuit(id)) {
            self.figures = circuit_figures(facts, self.u0);
        }
    }
    fn board(&mut self, place: Place, facts: &BoardFacts) {
        if self.places[1] == Some(place) {
            self.figures = board_figures(facts, self.u0);
        }
    }
}

fn step_answer(job: &Job<'_>, step: &Step) -> Out {
    let value = Some(step.value).filter(|v| v.is_finite());
    // One without a value stands in the formula under its symbol.
    let operands = step.operands.iter().map(|v| {
        let v = Some(*v).filter(|v| v.is_finite());
        shown(v, Unit::Factor, Rounding::Nearest)
    });
    Out::Fields(vec![
        ("place", place_name(job, step.place)),
        ("section", step.section.into()),
        ("rule", (step.rule as u8).into()),
        ("operands", Out::List(operands.collect())),
        ("value", value.into()),
        ("unit", (step.unit as u8).into()),
        ("shown", shown(value, step.unit, Rounding::Nearest)),
    ])
}

/// What there is a working of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Worked {
    /// A check.
    Check(Check),
    /// A figure.
    Figure(Figure),
}

/// The working of a check or a figure at a place.
#[must_use]
pub fn working(job: &Job<'_>, judgement: usize, place: Place, of: Worked) -> Out {
    let mut out = Vec::new();
    if let Some((house, earthing)) = job.reading(judgement) {
        let (topics, by_feed) = match of {
            Worked::Check(check) => (check.topics(), false),
            Worked::Figure(figure) => (figure.topics(), figure.comes_by_feed()),
        };
        let feed = match place {
            Place::Board(id) if by_feed => house.board(id).and_then(|b| b.fed_by),
            _ => None,
        };
        // The feed first, then what it comes to.
        let places = [feed.map(Place::Circuit), Some(place)];
        let mut all = Stepper {
            places,
            topics,
            steps: Vec::new(),
            u0: house.supply.u0.get(),
            figures: Vec::new(),
        };
        let _ = assess(house, earthing, &mut all as &mut dyn Recorder);
        // In the order a person would work them, group by group.
        let mut steps = Vec::new();
        for place in places.into_iter().flatten() {
            for topic in topics {
                let group = all.steps.iter();
                steps.extend(group.filter(|s| s.place == place && s.topic == *topic));
            }
        }
        if let Worked::Figure(figure) = of {
            // No further than to the figure itself, where a group goes on.
            let value = all.figures.iter().find(|(f, ..)| *f == figure);
            let value = value.and_then(|(_, value, _)| *value);
            let is = |s: &&Step| Some(s.value) == value && s.unit == figure.unit();
            if let Some(last) = steps.iter().rposition(is) {
                steps.truncate(last + 1);
            }
        }
        out.extend(steps.into_iter().map(|step| step_answer(job, step)));
    }
    Out::List(out)
}

/// A place by its kind and name.
#[must_use]
pub fn place_of(job: &Job<'_>, kind: &str, id: &str) -> Option<Place> {
    let at = |names: &[&str]| {
        names
            .iter()
            .position(|n| *n == id)
            .and_then(|i| u16::try_from(i).ok())
    };
    match kind {
        "supply" => Some(Place::Supply),
        "board" => at(&job.boards).map(|i| Place::Board(BoardId(i))),
        "circuit" => at(&job.circuits).map(|i| Place::Circuit(CircuitId(i))),
        _ => None,
    }
}

/// A check or a figure by its name.
#[must_use]
pub fn worked_of(name: &str) -> Option<Worked> {
    let check = check_of(name).map(Worked::Check);
    check.or_else(|| named(&FIGURES, name).map(Worked::Figure))
}

/// A check by its name.
#[must_use]
pub fn check_of(name: &str) -> Option<Check> {
    named(&CHECKS, name)
}
