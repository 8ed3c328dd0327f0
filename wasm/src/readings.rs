//! The readings of a job against its design, in codes and figures as in [`crate::answer`].

use crate::answer::{outcome_name, place_name};
use crate::names;
use crate::out::Out;
use crate::path;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read::tested::Tests;
use crate::read::{BOARDS, CIRCUITS, House, Job};
use faultpath::assess::assess;
use faultpath::network::{BoardId, CircuitId};
use faultpath::reading::record::{AllDone, BoardPlan, CircuitPlan, Entry, Item, Plan, Record};
use faultpath::reading::ring::{Conductors, Diagnosis};
use faultpath::reading::sequence::{Done, Next, Note, Step, Steps, Stop, When};
use faultpath::reading::{Expected, Lacking, Shown, Side};
use faultpath::supply::Earthing;
use faultpath::verdict::{Outcome, Place, Recorder, Sense, Unit};
use faultpath::words::{self, Rounding};

/// The word of what stops energising.
#[must_use]
pub fn stop_name(stop: Stop) -> &'static str {
    match stop {
        Stop::Design(_) => "design",
        Stop::Missing(_) => "missing",
        Stop::NotPassed(_, Outcome::Fail) => "failed",
        Stop::NotPassed(..) => "not-passed",
        Stop::GearOut => "gear-out",
        Stop::EarthingOut => "earthing-out",
        Stop::Unreadable => "unreadable",
    }
}

/// The word of a note.
#[must_use]
pub fn note_name(note: &Note) -> &'static str {
    match note {
        Note::ElectrodeFirst => "electrode-first",
        Note::MarkCores { .. } => "mark-cores",
        Note::MarkSwitchedLine => "mark-switched-line",
        Note::ArmourAlone { .. } => "armour-alone",
        Note::ArmourBothEnds => "armour-both-ends",
        Note::ArmourSupplyEnd => "armour-supply-end",
        Note::RcdsTogether { .. } => "rcds-together",
        Note::BorrowedNeutral { .. } => "borrowed-neutral",
        Note::Gear => "gear",
        Note::EarthingBack => "earthing-back",
        _ => "",
    }
}

/// Digits shown.
const DIGITS: i32 = 4;

/// A figure as a person reads it, before its unit.
fn shown(value: Option<f32>, way: Rounding) -> Out {
    value.map_or(Out::Null, |v| {
        let mut out = String::new();
        // Writing to a string can't fail.
        let _ = words::rounded(&mut out, v, DIGITS, way);
        out.into()
    })
}

fn flag(yes: bool) -> Out {
    u8::from(yes).into()
}

fn finite(v: Option<f32>) -> Option<f32> {
    v.filter(|v| v.is_finite())
}

/// Where a reading is in the job.
fn path_of(place: Place, item: Item) -> String {
    let (key, at) = match item {
        Item::Bonding(n) => ("bonding", Some(n)),
        Item::R1R2 => ("r1r2", None),
        Item::RingR1R2 => ("ring.sockets", None),
        Item::R2 => ("r2", None),
        Item::Armour => ("armour", None),
        Item::Ring => ("ring", None),
        Item::Insulation(n) => ("insulation", Some(n)),
        Item::Polarity => ("polarity", None),
        Item::Electrode => ("electrode", None),
        Item::Ze => ("ze", None),
        Item::FaultCurrent => ("fault", None),
        Item::Zs => ("zs", None),
        Item::Time(n) => ("rcd", Some(n)),
        Item::Ramp => ("ramp", None),
        Item::PhaseSequence => ("phase_sequence", None),
        Item::VoltDrop => ("volt_drop", None),
    };
    let mut out = match place {
        Place::Supply => path::of_supply("tests"),
        Place::Board(id) => path::of_board(id.0, "tests"),
        Place::Circuit(id) => path::of_circuit(id.0, "tests"),
    };
    out.push('.');
    out.push_str(key);
    if let Some(n) = at {
        out.push('[');
        let _ = words::count(&mut out, n.into());
        out.push(']');
    }
    out
}

fn display(shown: Shown) -> Out {
    let (key, v) = match shown {
        Shown::Value(v) => ("shown", v),
        Shown::Above(v) => ("above", v),
    };
    Out::Fields(vec![(key, v.into())])
}

fn ring_answer(d: &Diagnosis) -> Out {
    let socket = d.socket.and_then(|n| u8::try_from(n).ok());
    Out::Fields(vec![
        ("patterns", Out::Count(d.patterns.bits().into())),
        ("conductors", d.conductors.bits().into()),
        ("socket", socket.into()),
        ("raised", d.raised.into()),
        ("shown_raise", shown(finite(Some(d.raise)), Rounding::Up)),
        ("shown_expected", shown(d.expected, Rounding::Nearest)),
        ("shown_band", shown(d.band, Rounding::Down)),
    ])
}

fn entry_answer(e: &Entry<'_>) -> Out {
    use Rounding::{Down, Nearest, Up};
    let j = e.judged;
    let (sense, value_way, limit_way) = match j.sense {
        Sense::AtMost => ("at-most", Up, Down),
        Sense::AtLeast => ("at-least", Down, Up),
    };
    let low = finite(j.interval.map(|i| i.low));
    let high = finite(j.interval.and_then(|i| i.high));
    let band = j.compared;
    let side = band.filter(|_| e.taken && j.value.is_some()).map(|c| {
        Out::from(match c.side {
            Side::Below => "below",
            Side::Within => "within",
            Side::Above => "above",
        })
    });
    let quick = j.quick.map(|q| {
        Out::Fields(vec![
            ("quick", (q.rule as u8).into()),
            ("shown_limit", shown(Some(q.limit), limit_way)),
            ("outcome", outcome_name(q.outcome).into()),
        ])
    });
    Out::Fields(vec![
        ("test", (j.test as u8).into()),
        ("path", path_of(e.place, e.item).into()),
        ("taken", flag(e.taken)),
        ("outcome", outcome_name(j.outcome).into()),
        ("shown", j.shown.map_or(Out::Null, display)),
        ("value", finite(j.value).into()),
        ("low", low.into()),
        ("high", high.into()),
        ("limit", finite(j.limit).into()),
        ("shown_value", shown(j.value, value_way)),
        ("shown_low", shown(low, Down)),
        ("shown_high", shown(high, Up)),
        ("shown_limit", shown(j.limit, limit_way)),
        ("unit", (j.unit as u8).into()),
        ("sense", sense.into()),
        ("expected", band.map(|c| c.expected).into()),
        ("band_low", band.map(|c| c.low).into()),
        ("band_high", band.map(|c| c.high).into()),
        ("shown_expected", shown(band.map(|c| c.expected), Nearest)),
        // Inwards: what is outside is outside.
        ("shown_band_low", shown(band.map(|c| c.low), Up)),
        ("shown_band_high", shown(band.map(|c| c.high), Down)),
        ("side", side.unwrap_or(Out::Null)),
        ("quick", quick.unwrap_or(Out::Null)),
        ("meaning", (j.meaning as u8).into()),
        ("suspects", Out::Count(j.suspects.bits().into())),
        ("lacking", Out::Count(j.lacking.bits().into())),
        ("entry", entry_for(j.lacking).into()),
        ("rule", (j.rule as u8).into()),
        ("ring", e.ring.map_or(Out::Null, ring_answer)),
    ])
}

/// Where that is entered, if it is nothing of the place itself.
fn entry_for(lacking: Lacking) -> Option<&'static str> {
    if lacking.contains(Lacking::AMBIENT) {
        Some("testing.ambient")
    } else if lacking.contains(Lacking::ACCURACY) {
        Some("testing.instruments")
    } else {
        None
    }
}

fn step_code(step: Step) -> Out {
    (step as u8).into()
}

fn next_answer(next: Option<Next>) -> Out {
    let (kind, test) = match next {
        Some(Next::Test {
            step,
            before,
            again,
        }) => ("test", Some((step, before, again))),
        Some(Next::Complete) => ("complete", None),
        _ => ("energise", None),
    };
    let mut out = vec![("kind", kind.into())];
    if let Some((step, before, again)) = test {
        out.push(("step", step_code(step)));
        out.push(("before", Out::Count(before.bits().into())));
        out.push(("again", again.map(outcome_name).into()));
    }
    Out::Fields(out)
}

/// The sequence of a place: what it needs, and what was made.
fn steps_answer(needs: Steps, done: Option<&Done>) -> Out {
    let made = done.map_or(Steps::empty(), Done::made);
    let step = |step: &Step| {
        let phase = match step.phase() {
            When::Dead => "dead",
            When::SupplyOnly => "supply-only",
            When::Live => "live",
        };
        Out::Fields(vec![
            ("step", step_code(*step)),
            ("when", phase.into()),
            ("before", Out::Count(step.before().bits().into())),
            ("needed", flag(needs.contains(step.flag()))),
            (
                "outcome",
                done.and_then(|d| d.get(*step)).map(outcome_name).into(),
            ),
        ])
    };
    let all = Step::ALL.iter();
    let all = all.filter(|s| (needs | made).contains(s.flag()));
    Out::List(all.map(step).collect())
}

fn stop_answer(job: &Job<'_>, place: Place, stop: Stop) -> Out {
    let (step, outcome) = match stop {
        Stop::Design(outcome) => (None, Some(outcome)),
        Stop::Missing(step) => (Some(step), None),
        Stop::NotPassed(step, outcome) => (Some(step), Some(outcome)),
        Stop::GearOut | Stop::EarthingOut | Stop::Unreadable => (None, None),
    };
    Out::Fields(vec![
        ("place", place_name(job, place)),
        ("stop", stop_name(stop).into()),
        ("step", step.map_or(Out::Null, step_code)),
        ("outcome", outcome.map(outcome_name).into()),
    ])
}

fn note_answer(job: &Job<'_>, note: &Note) -> Out {
    let section = match note {
        Note::MarkCores { section, .. } | Note::ArmourAlone { section } => Some(*section),
        _ => None,
    };
    let conductors = match note {
        Note::MarkCores { conductors, .. } => *conductors,
        _ => Conductors::empty(),
    };
    let circuit = match note {
        Note::BorrowedNeutral { other } => job.circuits.get(usize::from(other.0)),
        _ => None,
    };
    Out::Fields(vec![
        ("note", note_name(note).into()),
        ("section", section.into()),
        ("conductors", conductors.bits().into()),
        (
            "circuit",
            circuit.map_or(Out::Null, |id| (*id).to_owned().into()),
        ),
    ])
}

/// What to look for on the display, limits rounded down.
fn expected_answer(record: &Record<'_, BOARDS, CIRCUITS, Tests>, place: Place) -> Out {
    let Place::Circuit(id) = place else {
        return Out::List(Vec::new());
    };
    let Some(design) = record.design(id) else {
        return Out::List(Vec::new());
    };
    let mut out = Vec::new();
    for figure in Expected::ALL {
        let Some(v) = finite(design.expected(figure)) else {
            continue;
        };
        let way = if figure.is_limit() {
            Rounding::Down
        } else {
            Rounding::Nearest
        };
        out.push(Out::Fields(vec![
            ("figure", (figure as u8).into()),
            ("value", v.into()),
            ("unit", (Unit::Ohm as u8).into()),
            ("shown", shown(Some(v), way)),
        ]));
    }
    Out::List(out)
}

fn place_answer(
    job: &Job<'_>,
    record: &Record<'_, BOARDS, CIRCUITS, Tests>,
    done: &AllDone<BOARDS, CIRCUITS>,
    place: Place,
    tests: Vec<Out>,
) -> (Outcome, Out) {
    let outcome = record.outcome(done, place);
    let mut stops = Vec::new();
    record.stops(done, place, &mut |whose, stop| {
        stops.push(stop_answer(job, whose, stop));
    });
    let mut notes = Vec::new();
    record.notes(place, &mut |note| notes.push(note_answer(job, note)));
    let answer = Out::Fields(vec![
        ("place", place_name(job, place)),
        ("outcome", outcome_name(outcome).into()),
        ("expected", expected_answer(record, place)),
        ("steps", steps_answer(record.needs(place), done.at(place))),
        ("tests", Out::List(tests)),
        ("next", next_answer(record.next(done, place))),
        ("may", flag(stops.is_empty())),
        ("stops", Out::List(stops)),
        ("notes", Out::List(notes)),
    ]);
    (outcome, answer)
}

fn judgement(job: &Job<'_>, house: &House, tests: &Tests, earthing: Earthing) -> (Outcome, Out) {
    let mut boards = vec![BoardPlan::default(); house.boards.len()];
    let mut circuits = vec![CircuitPlan::default(); house.circuits.len()];
    let mut plan = Plan {
        supply: BoardPlan::default(),
        boards: &mut boards,
        circuits: &mut circuits,
    };
    assess(house, earthing, &mut plan as &mut dyn Recorder);
    let boards = (0..).map(BoardId).map(Place::Board).zip(&job.bad_boards);
    let circuits = (0..)
        .map(CircuitId)
        .map(Place::Circuit)
        .zip(&job.bad_circuits);
    for (place, bad) in core::iter::once((Place::Supply, &job.bad_supply))
        .chain(boards)
        .chain(circuits)
    {
        if *bad {
            plan.incomplete(place);
        }
    }
    let record = Record {
        inst: house,
        earthing,
        plan: &plan,
        readings: tests,
    };
    // In the order in which they are told: place by place.
    let mut told: Vec<(Place, Out)> = Vec::new();
    let done = record.all(&mut |e| told.push((e.place, entry_answer(e))));
    let mut told = told.into_iter().peekable();
    let mut worst = Outcome::Pass;
    let mut places = Vec::new();
    for place in record.places() {
        let mut own = Vec::new();
        while let Some((_, entry)) = told.next_if(|(at, _)| *at == place) {
            own.push(entry);
        }
        let (outcome, answer) = place_answer(job, &record, &done, place, own);
        worst = worst.worse(outcome);
        places.push(answer);
    }
    let answer = Out::Fields(vec![
        ("earthing", names::EARTHINGS.name_of(earthing).into()),
        ("outcome", outcome_name(worst).into()),
        ("places", Out::List(places)),
    ]);
    (worst, answer)
}

/// Judges the readings of a job that was read.
#[must_use]
pub fn readings(job: &Job<'_>, tests: &Tests) -> Out {
    let mut worst = Outcome::Pass;
    if job.house.is_none() || !job.errors.is_empty() || !tests.errors.is_empty() {
        worst = Outcome::CannotSay;
    }
    let mut judgements = Vec::new();
    if let Some(house) = &job.house {
        for earthing in house.supply.earthing.readings() {
            let (outcome, answer) = judgement(job, house, tests, *earthing);
            worst = worst.worse(outcome);
            judgements.push(answer);
        }
    }
    Out::Fields(vec![
        ("outcome", outcome_name(worst).into()),
        ("errors", Out::List(tests.errors.clone())),
        ("judgements", Out::List(judgements)),
    ])
}
