//! From a job's values to core's types. Every error is collected with its path; what can't be read is kept
//! out and the rest is judged.

mod fields;
mod parts;
#[cfg(feature = "site")]
mod site;
#[cfg(feature = "site")]
pub mod tested;
mod wrong;

pub use parts::PROFILES;
#[cfg(feature = "site")]
pub(crate) use parts::arrangement;
#[cfg(feature = "site")]
pub use site::{Planned, Site};
pub use wrong::Wrong;

use crate::out::Out;
use crate::path::{self, Path};
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::value::Value;
use faultpath::device::{Curve, Device, Family};
use faultpath::error::{Field, Reason};
use faultpath::network::{At, BoardId, Circuit, Installation, Shape};
use faultpath::quantity::Amps;
use faultpath::supply::Earthing;
use fields::{Errors, Fields};

/// Most boards of a job on the page.
pub const BOARDS: usize = 32;
/// Most circuits of a job on the page.
pub const CIRCUITS: usize = 128;
/// The installation the page judges.
pub type House = Installation<BOARDS, CIRCUITS>;

/// A job that was read, as far as it could be.
#[derive(Clone)]
pub struct Job<'v> {
    /// The installation, unless nothing can be judged: of another format, or where what of the supply all
    /// rests on can't be read.
    pub house: Option<Box<House>>,
    /// Names of the boards, in order.
    pub boards: Vec<&'v str>,
    /// Names of the circuits, in order.
    pub circuits: Vec<&'v str>,
    /// Whether something of the supply can't be read.
    pub bad_supply: bool,
    /// Of which boards something can't be read: it counts as missing, or the whole is left out.
    pub bad_boards: Vec<bool>,
    /// Where the boards stand; none that can't be read.
    #[cfg(feature = "site")]
    pub sites: Vec<Option<Site>>,
    /// The same of the circuits.
    pub bad_circuits: Vec<bool>,
    /// Everything that is wrong: `path`, `field`, `reason`, and what is wrong by the format as a [`Wrong`].
    pub errors: Vec<Out>,
}

impl Job<'_> {
    /// The installation, and the earthing it is judged as where it is to be judged as several.
    #[must_use]
    pub fn reading(&self, judgement: usize) -> Option<(&House, Earthing)> {
        let house = self.house.as_deref()?;
        let earthing = house.supply.earthing.readings().get(judgement)?;
        Some((house, *earthing))
    }
}

/// A word for a reason.
#[must_use]
pub fn reason_name(reason: Reason) -> &'static str {
    match reason {
        Reason::NotANumber => "not-a-number",
        Reason::Infinite => "infinite",
        Reason::Negative => "negative",
        Reason::Zero => "zero",
        Reason::TooLarge => "too-large",
        Reason::TooSmall => "too-small",
        Reason::NotMade => "not-made",
        Reason::OutOfTable => "out-of-table",
        Reason::Missing => "missing",
        Reason::DirectCurrent => "direct-current",
        Reason::Dangling => "dangling",
        Reason::Cycle => "cycle",
        Reason::TooMany => "too-many",
        Reason::Contradiction => "contradiction",
        _ => "refused",
    }
}
fn items<'v>(value: &'v Value, path: &Path<'_>, errors: &mut Errors) -> &'v [Value] {
    if let Value::List(items) = value {
        return items;
    }
    errors.at(path, Wrong::List);
    &[]
}

/// Names of a list of things, each an error where it is missing or used twice; which of them are.
fn ids<'v>(
    list: &'v [Value],
    path: &Path<'_>,
    bad: &mut Vec<bool>,
    errors: &mut Errors,
) -> Vec<&'v str> {
    let mut out = Vec::with_capacity(list.len());
    bad.resize(list.len(), false);
    for (i, item) in list.iter().enumerate() {
        let here = Path::At(path, i);
        let here = Path::Key(&here, "id");
        let name = item.get("id").text().unwrap_or("");
        let first = out.iter().position(|n| *n == name);
        if name.is_empty() {
            errors.at(&here, Wrong::Name);
            mark(bad, i);
        } else if let Some(first) = first {
            errors.at(&here, Wrong::UsedTwice);
            // What is said to hang on one of them may hang on the other.
            mark(bad, first);
            mark(bad, i);
        }
        out.push(name);
    }
    out
}

fn mark(bad: &mut [bool], i: usize) {
    if let Some(bad) = bad.get_mut(i) {
        *bad = true;
    }
}

/// What says that this is a job, and of which version.
fn heading(f: &mut Fields<'_, '_, '_>) -> Option<()> {
    let since = f.errors.0.len();
    if f.get("format").text() != Some("faultpath-job") {
        f.errors.at(&Path::Key(f.path, "format"), Wrong::Format);
    }
    let version = match f.get("version") {
        Value::Number(v) => *v,
        _ => 0.0,
    };
    if version != 1.0 {
        let wrong = if version > 1.0 {
            Wrong::Newer
        } else {
            Wrong::Version
        };
        f.errors.at(&Path::Key(f.path, "version"), wrong);
    }
    f.errors.deep(since);
    (f.errors.0.len() == since).then_some(())
}

/// Reads a whole job.
#[must_use]
pub fn read(value: &Value) -> Job<'_> {
    let mut errors = Errors::default();
    let mut job = Job {
        house: None,
        boards: Vec::new(),
        circuits: Vec::new(),
        bad_supply: false,
        bad_boards: Vec::new(),
        #[cfg(feature = "site")]
        sites: Vec::new(),
        bad_circuits: Vec::new(),
        errors: Vec::new(),
    };
    read_into(&mut job, value, &mut errors);
    job.errors = errors.0;
    job
}

fn read_into<'v>(job: &mut Job<'v>, value: &'v Value, errors: &mut Errors) -> Option<()> {
    let root = Path::Root;
    let since = errors.0.len();
    let Some(mut f) = Fields::of(value, &root, errors) else {
        errors.deep(since);
        return None;
    };
    let heading = heading(&mut f);
    f.name();
    let _ = f.text("notes");
    // Test readings are read apart, see `tests`.
    let _ = f.get("testing");
    let _ = f.object("record", parts::record);
    let profile = f.get("profile");
    let profile = parts::profile(profile, &Path::Key(&root, "profile"), f.errors);
    let since = f.errors.0.len();
    let supply = f.part("supply", parts::supply);
    job.bad_supply = f.errors.0.len() > since;
    let boards_path = Path::Key(&root, "boards");
    let circuits_path = Path::Key(&root, "circuits");
    let (boards_value, circuits_value) = (f.get("boards"), f.get("circuits"));
    let board_items = items(boards_value, &boards_path, f.errors);
    let circuit_items = items(circuits_value, &circuits_path, f.errors);
    let _ = f.known();
    job.boards = ids(board_items, &boards_path, &mut job.bad_boards, errors);
    job.circuits = ids(circuit_items, &circuits_path, &mut job.bad_circuits, errors);

    let mut out = Kept {
        boards: Vec::new(),
        circuits: Vec::new(),
        lists: matches!(
            (boards_value, circuits_value),
            (Value::List(_), Value::List(_))
        ),
    };
    let mut boards = heapless::Vec::new();
    for (i, item) in board_items.iter().enumerate() {
        if i >= BOARDS {
            errors.core(boards_path.text(), Reason::TooMany.at(Field::Boards));
            job.bad_boards
                .iter_mut()
                .skip(i)
                .for_each(|bad| *bad = true);
            break;
        }
        let since = errors.0.len();
        let path = Path::At(&boards_path, i);
        let read = parts::board(item, &path, &job.circuits, errors);
        #[cfg(feature = "site")]
        job.sites.push(site::site(item, &path, errors));
        if errors.0.len() > since {
            mark(&mut job.bad_boards, i);
        }
        out.boards.push(read.is_none());
        let _ = boards.push(read.unwrap_or(parts::BOARD));
    }
    // Of any kind: it is in no circuit that is judged.
    let device = Device::new(Family::Breaker(Curve::B), parts::sure(Amps::new(6.0))).ok()?;
    let blank = || parts::no_circuit(device);
    let mut circuits = Vec::new();
    for (i, item) in circuit_items.iter().enumerate() {
        if i >= CIRCUITS {
            errors.core(circuits_path.text(), Reason::TooMany.at(Field::Circuits));
            job.bad_circuits
                .iter_mut()
                .skip(i)
                .for_each(|bad| *bad = true);
            break;
        }
        let since = errors.0.len();
        let path = Path::At(&circuits_path, i);
        let read = parts::circuit(item, &path, &job.boards, blank(), errors);
        if errors.0.len() > since {
            mark(&mut job.bad_circuits, i);
        }
        out.circuits.push(read.is_none());
        // In its place one that is refused, on the same board: its load is not known, and not nothing.
        circuits.push(read.unwrap_or_else(|| Circuit {
            board: parts::board_of(item, &job.boards),
            ..blank()
        }));
    }
    heading?;
    let mut house = Box::new(House {
        profile,
        supply: supply?,
        boards,
        circuits: heapless::Vec::new(),
    });
    for c in circuits {
        // No more than `CIRCUITS` were kept.
        let _ = house.circuits.push(c);
    }
    cross_check(&house, job, &out, errors);
    job.house = Some(house);
    Some(())
}

/// Which boards and circuits were kept out, a blank in their place. That they can't be read has been said.
struct Kept {
    boards: Vec<bool>,
    circuits: Vec<bool>,
    /// Whether there is a list to point into.
    lists: bool,
}

/// Whether a board is fed, round about, from itself, and does not only hang on one that is.
fn feeds_itself(house: &House, id: BoardId) -> bool {
    let mut at = id;
    for _ in 0..BOARDS {
        let feed = house.board(at).and_then(|b| b.fed_by);
        match feed.and_then(|f| house.circuit(f)) {
            Some(c) => at = c.board,
            None => return false,
        }
        if at == id {
            return true;
        }
    }
    false
}

/// What only the whole shows: references, cycles, phases, sizes that do not go together. Said once, where it
/// is: not again of all that hangs on it.
fn cross_check(house: &House, job: &mut Job<'_>, out: &Kept, errors: &mut Errors) {
    let is = |list: &[bool], i: u16| list.get(usize::from(i)) == Some(&true);
    house.check(|at, e| {
        let path = match at {
            // Each figure of these has been looked at where it was read.
            At::Profile(_) | At::Supply => return,
            At::Board(id) => {
                let feed = house.board(id).and_then(|b| b.fed_by);
                let there = feed.is_some_and(|f| usize::from(f.0) < job.circuits.len());
                let upstream = match e.reason {
                    Reason::Dangling => there || !out.lists,
                    Reason::Cycle => !feeds_itself(house, id),
                    _ => false,
                };
                if upstream || is(&out.boards, id.0) {
                    return;
                }
                mark(&mut job.bad_boards, id.0.into());
                path::of_board(id.0, "fed_by")
            }
            At::Circuit(id, section) => {
                let Some(circuit) = house.circuit(id).filter(|_| !is(&out.circuits, id.0)) else {
                    return;
                };
                let upstream = match (e.field, e.reason) {
                    // It is there, but there is no room for it.
                    (Field::Board, _) => {
                        usize::from(circuit.board.0) < job.boards.len() || !out.lists
                    }
                    // Which phases reach its board can't be told.
                    (Field::Phase, Reason::Contradiction) => {
                        circuit.shape == Shape::Radial && house.depth(circuit.board).is_err()
                    }
                    _ => false,
                };
                mark(&mut job.bad_circuits, id.0.into());
                if upstream {
                    return;
                }
                match section {
                    Some(s) => path::of_section(id.0, s, section_key(e.field)),
                    None => path::of_circuit(id.0, circuit_key(e.field)),
                }
            }
        };
        errors.core(path, e);
    });
}

fn section_key(field: Field) -> &'static str {
    match field {
        Field::NeutralCsa => "neutral_csa",
        Field::ProtectiveCsa => "protective.csa",
        Field::Material => "material",
        Field::Construction => "construction",
        Field::Cores => "cores",
        Field::Insulation => "insulation",
        Field::OperatingTemperature => "operating_limit",
        Field::Grouped => "grouped",
        Field::Rating => "spur_fuse",
        Field::Method => "method",
        Field::PerLengthResistance => "protective.resistance",
        Field::Sections => "part",
        _ => "csa",
    }
}

fn circuit_key(field: Field) -> &'static str {
    match field {
        Field::Board => "board",
        Field::Phase => "phase",
        Field::Shape => "shape",
        Field::PowerFactor => "load.power_factor",
        Field::Points => "load.points",
        Field::ResidualCurrent => "rcd",
        _ => "sections",
    }
}
