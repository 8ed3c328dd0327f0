//! From a job's values to core's types. Every error is collected with its path; what can't be read is kept
//! out and the rest is judged.

mod fields;
mod parts;

pub use parts::PROFILES;
#[cfg(feature = "evidence")]
pub(crate) use parts::arrangement;

use crate::out::Out;
use crate::path::{self, Path};
use crate::value::Value;
use faultpath::device::{Curve, Device, Family};
use faultpath::error::{Field, Reason};
use faultpath::network::{At, Installation};
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
pub struct Job<'v> {
    /// The installation, unless the supply or the profile could not be read.
    pub house: Option<Box<House>>,
    /// Names of the boards, in order.
    pub boards: Vec<&'v str>,
    /// Names of the circuits, in order.
    pub circuits: Vec<&'v str>,
    /// Which boards can't be read.
    pub bad_boards: Vec<bool>,
    /// Which circuits can't be read.
    pub bad_circuits: Vec<bool>,
    /// Everything that is wrong: `path`, `field`, `reason`, `text`.
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
    errors.kind(path, "a list");
    &[]
}

/// Names of a list of things, each an error where it is missing or used twice.
fn ids<'v>(list: &'v [Value], path: &Path<'_>, errors: &mut Errors) -> Vec<&'v str> {
    let mut out = Vec::with_capacity(list.len());
    for (i, item) in list.iter().enumerate() {
        let here = Path::At(path, i);
        let here = Path::Key(&here, "id");
        let name = item.get("id").text().unwrap_or("");
        if name.is_empty() {
            errors.kind(&here, "a name of its own");
        } else if out.contains(&name) {
            errors.at(
                &here,
                "used-twice",
                "Another one has the same name. Give each its own.".into(),
            );
        }
        out.push(name);
    }
    out
}

/// What says that this is a job, and of which version.
fn heading(f: &mut Fields<'_, '_, '_>) -> Option<()> {
    let format = f.get("format").text() == Some("faultpath-job");
    if !format {
        f.errors.at(
            &Path::Key(f.path, "format"),
            "no-such-choice",
            "This is not a job of this program: its format must be faultpath-job.".into(),
        );
    }
    let version = match f.get("version") {
        Value::Number(v) => *v,
        _ => 0.0,
    };
    if version != 1.0 {
        let (reason, text) = if version > 1.0 {
            (
                "newer-version",
                "This job was made by a newer version. Update, then open it again.",
            )
        } else {
            ("no-such-choice", "The version must be 1.")
        };
        f.errors
            .at(&Path::Key(f.path, "version"), reason, text.into());
    }
    format.then_some(())
}

/// Reads a whole job.
#[must_use]
pub fn read(value: &Value) -> Job<'_> {
    let mut errors = Errors::default();
    let mut job = Job {
        house: None,
        boards: Vec::new(),
        circuits: Vec::new(),
        bad_boards: Vec::new(),
        bad_circuits: Vec::new(),
        errors: Vec::new(),
    };
    read_into(&mut job, value, &mut errors);
    job.errors = errors.0;
    job
}

fn read_into<'v>(job: &mut Job<'v>, value: &'v Value, errors: &mut Errors) -> Option<()> {
    let root = Path::Root;
    let mut f = Fields::of(value, &root, errors)?;
    let heading = heading(&mut f);
    f.name();
    let _ = f.text("notes");
    // Test readings are read apart, see `tests`.
    let _ = f.get("testing");
    let profile = f.part("profile", parts::profile);
    let supply = f.part("supply", parts::supply);
    let boards_path = Path::Key(&root, "boards");
    let circuits_path = Path::Key(&root, "circuits");
    let board_items = items(f.get("boards"), &boards_path, f.errors);
    let circuit_items = items(f.get("circuits"), &circuits_path, f.errors);
    let _ = f.known();
    job.boards = ids(board_items, &boards_path, errors);
    job.circuits = ids(circuit_items, &circuits_path, errors);

    let mut boards = heapless::Vec::new();
    for (i, item) in board_items.iter().enumerate() {
        let read = parts::board(item, &Path::At(&boards_path, i), &job.circuits, errors);
        job.bad_boards.push(read.is_none());
        if boards.push(read.unwrap_or(parts::BOARD)).is_err() {
            errors.core(boards_path.text(), Reason::TooMany.at(Field::Boards));
            job.bad_boards.resize(board_items.len(), true);
            break;
        }
    }
    // Of any kind: it is in no circuit that is judged.
    let device = Device::new(Family::Breaker(Curve::B), parts::sure(Amps::new(6.0))).ok()?;
    let blank = parts::no_circuit(device);
    let mut circuits = Vec::new();
    for (i, item) in circuit_items.iter().enumerate() {
        if i >= CIRCUITS {
            errors.core(circuits_path.text(), Reason::TooMany.at(Field::Circuits));
            job.bad_circuits.resize(circuit_items.len(), true);
            break;
        }
        let path = Path::At(&circuits_path, i);
        let read = parts::circuit(item, &path, &job.boards, blank.clone(), errors);
        job.bad_circuits.push(read.is_none());
        circuits.push(read);
    }
    heading?;
    let mut house = Box::new(House {
        profile: profile?,
        supply: supply?,
        boards,
        circuits: heapless::Vec::new(),
    });
    for c in circuits {
        // No more than `CIRCUITS` were kept.
        let _ = house.circuits.push(c.unwrap_or_else(|| blank.clone()));
    }
    cross_check(&house, job, errors);
    job.house = Some(house);
    Some(())
}

/// What only the whole shows: references, cycles, phases, sizes that do not go together.
fn cross_check(house: &House, job: &mut Job<'_>, errors: &mut Errors) {
    house.check(|at, e| {
        let (path, bad, said) = match at {
            At::Profile => {
                errors.core("profile".to_owned(), e);
                return;
            }
            At::Supply => {
                errors.core("supply".to_owned(), e);
                return;
            }
            At::Board(id) => (
                path::of_board(id.0, "fed_by"),
                job.bad_boards.get_mut(usize::from(id.0)),
                true,
            ),
            At::Circuit(id, section) => (
                match section {
                    Some(s) => path::of_section(id.0, s, section_key(e.field)),
                    None => path::of_circuit(id.0, circuit_key(e.field)),
                },
                job.bad_circuits.get_mut(usize::from(id.0)),
                // One that can't be read has said so already.
                house.circuit(id).is_none_or(|c| c.sections.is_empty()),
            ),
        };
        let known = bad.as_deref().copied().unwrap_or(true);
        if said && known {
            return;
        }
        if let Some(bad) = bad {
            *bad = true;
        }
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
