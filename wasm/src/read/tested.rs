//! Test readings of a job. All of them may be absent; what can't be read is named, and its place then says so.
//!
//! Apart from the design: an error here takes nothing from the design's verdict, and [`super::read`] does not look.

use super::fields::{Errors, Fields, Make, Reader};
use super::{BOARDS, CIRCUITS, Wrong};
use crate::names::{self, Choices};
use crate::out::Out;
use crate::path::Path;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::value::Value;
use faultpath::error::{Field, Reason};
use faultpath::network::{BoardId, CircuitId};
use faultpath::quantity::{Celsius, Metres, SquareMm, Volts};
use faultpath::reading::insulation::Made;
use faultpath::reading::rcd::Multiple;
use faultpath::reading::record::{
    BoardTests, Bonding, CircuitTests, Electrode, FaultReadings, Instruments, Insulation, Ramp,
    Readings, Ring, SupplyTests, Testing, Time, VoltDrop,
};
use faultpath::reading::ring::Socket;
use faultpath::reading::{Accuracy, Shown};
use faultpath::supply::Conductor;
use faultpath::verdict::Place;
use heapless::Vec as Few;

/// Every reading of a job, as far as it could be read.
pub struct Tests {
    testing: Testing,
    supply: Kept<SupplyTests>,
    boards: Vec<Kept<BoardTests>>,
    circuits: Vec<Kept<CircuitTests>>,
    /// Everything that is wrong: `path`, `field`, `reason`, `text`.
    pub errors: Vec<Out>,
}

/// The readings of a place, and whether all could be read.
struct Kept<T> {
    tests: Option<Box<T>>,
    bad: bool,
}

impl Readings for Tests {
    fn testing(&self) -> &Testing {
        &self.testing
    }
    fn supply(&self) -> Option<&SupplyTests> {
        self.supply.tests.as_deref()
    }
    fn board(&self, id: BoardId) -> Option<&BoardTests> {
        self.boards.get(usize::from(id.0))?.tests.as_deref()
    }
    fn circuit(&self, id: CircuitId) -> Option<&CircuitTests> {
        self.circuits.get(usize::from(id.0))?.tests.as_deref()
    }
    fn unreadable(&self, place: Place) -> bool {
        match place {
            Place::Supply => self.supply.bad,
            Place::Board(id) => self.boards.get(usize::from(id.0)).is_some_and(|k| k.bad),
            Place::Circuit(id) => self.circuits.get(usize::from(id.0)).is_some_and(|k| k.bad),
        }
    }
}

fn shown(v: f32) -> Result<Shown, Reason> {
    Shown::value(v).map_err(|e| e.reason)
}

fn above(v: f32) -> Result<Shown, Reason> {
    Shown::above(v).map_err(|e| e.reason)
}

/// `shown` or `above`, one of both.
fn reading(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Shown> {
    let mut f = Fields::of(value, path, errors)?;
    let (key, make): (_, Make<Shown>) = match (f.has("shown"), f.has("above")) {
        (true, true) => {
            f.refuse("above", Reason::Contradiction.at(Field::Reading));
            return None;
        }
        (false, true) => ("above", above),
        _ => ("shown", shown),
    };
    let read = f.needed(key, Field::Reading, make);
    f.finish()?;
    read
}

impl Fields<'_, '_, '_> {
    /// What can't be read is named, and is nothing here.
    fn fill_any<T>(&mut self, key: &str, read: Reader<T>, to: &mut Option<T>) {
        *to = self.object(key, read);
    }

    fn fill_any_choice<T: Copy>(&mut self, key: &str, choices: Choices<T>, to: &mut Option<T>) {
        if !matches!(self.get(key), Value::Null) {
            *to = self.choice(key, choices);
        }
    }

    fn fill_flag(&mut self, key: &str, to: &mut bool) {
        match self.get(key) {
            Value::Null => {}
            Value::Bool(b) => *to = *b,
            _ => self.wrong(key, Wrong::Flag),
        }
    }

    fn fill_list<T, const N: usize>(&mut self, key: &str, read: Reader<T>, to: &mut Few<T, N>) {
        let items = match self.get(key) {
            Value::Null => return,
            Value::List(items) => items,
            _ => {
                self.wrong(key, Wrong::List);
                return;
            }
        };
        let path = Path::Key(self.path, key);
        for (i, item) in items.iter().enumerate() {
            match read(item, &Path::At(&path, i), self.errors) {
                Some(one) => {
                    if to.push(one).is_err() {
                        self.refuse(key, Reason::TooMany.at(Field::Reading));
                        return;
                    }
                }
                None => self.good = false,
            }
        }
    }
}

fn fault(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<FaultReadings> {
    let mut read = FaultReadings::default();
    let mut f = Fields::of(value, path, errors)?;
    f.fill_any("line_neutral", reading, &mut read.line_neutral);
    f.fill_any("line_earth", reading, &mut read.line_earth);
    f.fill_any("three_phase", reading, &mut read.three_phase);
    f.finish()?;
    Some(read)
}

fn electrode(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Electrode> {
    let mut f = Fields::of(value, path, errors)?;
    let read = match f.choice("kind", names::ELECTRODE_TESTS) {
        Some(true) => Electrode::ThreePoint(f.part("readings", three)?),
        Some(false) => Electrode::Loop(f.object("reading", reading)),
        None => return None,
    };
    f.finish()?;
    Some(read)
}

fn three(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<[Option<Shown>; 3]> {
    let mut out = [None; 3];
    match value {
        Value::List(items) if items.len() == 3 => {
            let mut good = Some(out);
            for (i, (item, to)) in items.iter().zip(&mut out).enumerate() {
                if matches!(item, Value::Null) {
                    continue;
                }
                *to = reading(item, &Path::At(path, i), errors);
                if to.is_none() {
                    good = None;
                }
            }
            good.map(|_| out)
        }
        _ => {
            errors.at(path, Wrong::ThreeReadings);
            None
        }
    }
}

fn bonding(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Bonding> {
    let mut f = Fields::of(value, path, errors)?;
    if !matches!(f.get("name"), Value::Text(_)) {
        f.wrong("name", Wrong::Text);
    }
    let length = f.needed("length", Field::Length, Metres::new);
    let material = f.choice("material", names::MATERIALS);
    let csa = f.needed("csa", Field::BondingConductor, SquareMm::new);
    let reading = f.object("reading", reading);
    f.finish()?;
    Some(Bonding {
        length: length?,
        conductor: Conductor {
            material: material?,
            csa: csa?,
        },
        reading,
    })
}

fn time(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Time> {
    let mut f = Fields::of(value, path, errors)?;
    let multiple = match f.get("multiple") {
        Value::Number(0.5) => Some(Multiple::Half),
        Value::Number(1.0) => Some(Multiple::One),
        Value::Number(2.0) => Some(Multiple::Two),
        Value::Number(5.0) => Some(Multiple::Five),
        _ => {
            f.wrong("multiple", Wrong::Multiple);
            None
        }
    };
    let wave = f.choice("wave", names::WAVES);
    let reading = f.object("reading", reading);
    f.finish()?;
    Some(Time {
        multiple: multiple?,
        wave: wave?,
        reading,
    })
}

fn ramp(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Ramp> {
    let mut f = Fields::of(value, path, errors)?;
    let wave = f.choice("wave", names::WAVES);
    let reading = f.object("reading", reading);
    f.finish()?;
    Some(Ramp {
        wave: wave?,
        reading,
    })
}

fn socket(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Socket> {
    let mut f = Fields::of(value, path, errors)?;
    let line_neutral = f.object("line_neutral", reading);
    let line_protective = f.object("line_protective", reading);
    let cables = match f.get("cables") {
        Value::Null => None,
        _ => f.count("cables", Field::Reading),
    };
    f.finish()?;
    Some(Socket {
        line_neutral,
        line_protective,
        cables,
    })
}

fn ring(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Ring> {
    let mut read = Ring::default();
    let mut f = Fields::of(value, path, errors)?;
    f.fill_any("r1", reading, &mut read.line);
    f.fill_any("rn", reading, &mut read.neutral);
    f.fill_any("r2", reading, &mut read.protective);
    f.fill_list("sockets", socket, &mut read.sockets);
    f.finish()?;
    Some(read)
}

fn insulation(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Insulation> {
    let mut f = Fields::of(value, path, errors)?;
    let volts = f.needed("test_voltage", Field::Reading, Volts::new);
    let circuits = f.count("circuits", Field::Reading);
    if circuits == Some(0) {
        f.refuse("circuits", Reason::Zero.at(Field::Reading));
    }
    let (mut gear, mut fixed_gear) = (false, false);
    f.fill_flag("gear", &mut gear);
    f.fill_flag("fixed_gear", &mut fixed_gear);
    let reading = f.object("reading", reading);
    f.finish()?;
    Some(Insulation {
        made: Made {
            test_voltage: volts?.get(),
            gear,
            fixed_gear,
            circuits: circuits?,
        },
        reading,
    })
}

fn volt_drop(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<VoltDrop> {
    let mut f = Fields::of(value, path, errors)?;
    let mut get = |key| f.object(key, reading);
    let read = match get_kind(value) {
        Some("voltages") => VoltDrop::Voltages {
            unloaded: get("unloaded"),
            loaded: get("loaded"),
            current: get("current"),
        },
        _ => VoltDrop::Impedances {
            point: get("point"),
            origin: get("origin"),
        },
    };
    f.choice("kind", names::VOLT_DROPS)?;
    f.finish()?;
    Some(read)
}

fn get_kind(value: &Value) -> Option<&str> {
    value.get("kind").text()
}

fn supply(f: &mut Fields<'_, '_, '_>, to: &mut SupplyTests) {
    f.fill_any("ze", reading, &mut to.ze);
    f.fill_any("fault", fault, &mut to.fault);
    f.fill_any("electrode", electrode, &mut to.electrode);
    f.fill_list("bonding", bonding, &mut to.bonding);
    f.fill_any_choice("phase_sequence", names::ROTATIONS, &mut to.phase_sequence);
    f.fill_flag("earthing_out", &mut to.earthing_out);
    f.fill_flag("energised", &mut to.energised);
}

fn board(f: &mut Fields<'_, '_, '_>, to: &mut BoardTests) {
    f.fill_any("electrode", electrode, &mut to.electrode);
    f.fill_any("fault", fault, &mut to.fault);
    f.fill_list("bonding", bonding, &mut to.bonding);
    f.fill_any_choice("phase_sequence", names::ROTATIONS, &mut to.phase_sequence);
    f.fill_list("rcd", time, &mut to.rcd);
    f.fill_any("ramp", ramp, &mut to.ramp);
    f.fill_flag("earthing_out", &mut to.earthing_out);
}

fn circuit(f: &mut Fields<'_, '_, '_>, to: &mut CircuitTests) {
    f.fill_any("r1r2", reading, &mut to.r1r2);
    f.fill_any("r2", reading, &mut to.r2);
    f.fill_any("armour", reading, &mut to.armour);
    f.fill_any("ring", ring, &mut to.ring);
    f.fill_list("insulation", insulation, &mut to.insulation);
    f.fill_any_choice("polarity", names::POLARITIES, &mut to.polarity);
    f.fill_any("zs", reading, &mut to.zs);
    f.fill_list("rcd", time, &mut to.rcd);
    f.fill_any("ramp", ramp, &mut to.ramp);
    f.fill_any_choice("phase_sequence", names::ROTATIONS, &mut to.phase_sequence);
    f.fill_any("volt_drop", volt_drop, &mut to.volt_drop);
    f.fill_flag("gear", &mut to.gear);
    f.fill_flag("gear_out", &mut to.gear_out);
    f.fill_flag("energised", &mut to.energised);
}

/// The `tests` of a supply, board or circuit: what could be read of them is kept.
fn kept<T: Default>(
    of: &Value,
    path: &Path<'_>,
    errors: &mut Errors,
    fill: fn(&mut Fields<'_, '_, '_>, &mut T),
) -> Kept<T> {
    let value = of.get("tests");
    let mut out = Kept {
        tests: None,
        bad: false,
    };
    if matches!(value, Value::Null) {
        return out;
    }
    let path = Path::Key(path, "tests");
    let Some(mut f) = Fields::of(value, &path, errors) else {
        out.bad = true;
        return out;
    };
    fill(&mut f, out.tests.insert(Box::default()));
    out.bad = f.finish().is_none();
    out
}

fn instrument(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Accuracy> {
    let mut f = Fields::of(value, path, errors)?;
    // One at a time, so that the one that is wrong is named.
    let share: Make<f32> = |v| Accuracy::new(v, 0.0, 1.0).map(|_| v).map_err(|e| e.reason);
    let digits: Make<f32> = |v| Accuracy::new(0.0, v, 1.0).map(|_| v).map_err(|e| e.reason);
    let step: Make<f32> = |v| Accuracy::new(0.0, 0.0, v).map(|_| v).map_err(|e| e.reason);
    let share = f.needed("share", Field::Uncertainty, share);
    let digits = f.needed("digits", Field::Uncertainty, digits);
    let step = f.needed("resolution", Field::Resolution, step);
    let lead = f.number("lead").unwrap_or(0.0);
    let from = f.number("from").unwrap_or(0.0);
    let to = f.number("to");
    f.finish()?;
    let made = Accuracy::new(share?, digits?, step?).ok()?;
    let made = made.with_lead(lead).map_err(|e| ("lead", e));
    let made = made.and_then(|m| m.with_range(from, None).map_err(|e| ("from", e)));
    match made.and_then(|m| m.with_range(from, to).map_err(|e| ("to", e))) {
        Ok(made) => Some(made),
        Err((key, e)) => {
            f.refuse(key, e);
            None
        }
    }
}

/// Absent is that of IEC 61557; what can't be read is not known.
fn instruments(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Instruments> {
    let mut all = Instruments::STANDARD;
    let mut f = Fields::of(value, path, errors)?;
    let mut fill = |key, to: &mut Option<Accuracy>| {
        if !matches!(f.get(key), Value::Null) {
            *to = f.part(key, instrument);
        }
    };
    fill("insulation", &mut all.insulation);
    fill("loop", &mut all.fault_loop);
    fill("fault_current", &mut all.fault_current);
    fill("low_resistance", &mut all.low_resistance);
    fill("earth_resistance", &mut all.earth_resistance);
    fill("rcd_time", &mut all.rcd_time);
    fill("rcd_current", &mut all.rcd_current);
    fill("voltage", &mut all.voltage);
    fill("current", &mut all.current);
    // A stranger may be an instrument whose name is misspelt: then none is sure.
    f.known()?;
    Some(all)
}

/// Of no instrument is anything known.
const NOTHING: Instruments = Instruments {
    insulation: None,
    fault_loop: None,
    fault_current: None,
    low_resistance: None,
    earth_resistance: None,
    rcd_time: None,
    rcd_current: None,
    voltage: None,
    current: None,
};

fn testing(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Testing {
    let mut out = Testing::default();
    if matches!(value, Value::Null) {
        return out;
    }
    let Some(mut f) = Fields::of(value, path, errors) else {
        out.instruments = NOTHING;
        return out;
    };
    out.ambient = f.maybe("ambient", Field::Ambient, Celsius::new);
    if !matches!(f.get("instruments"), Value::Null) {
        out.instruments = f.part("instruments", instruments).unwrap_or(NOTHING);
    }
    if f.known().is_none() {
        out = Testing {
            ambient: None,
            instruments: NOTHING,
        };
    }
    out
}

/// Reads the readings of a job.
#[must_use]
pub fn tests(value: &Value) -> Tests {
    let mut errors = Errors::default();
    let root = Path::Root;
    let items = |key| match value.get(key) {
        Value::List(items) => items.as_slice(),
        _ => &[],
    };
    let testing = testing(
        value.get("testing"),
        &Path::Key(&root, "testing"),
        &mut errors,
    );
    let supply = kept(
        value.get("supply"),
        &Path::Key(&root, "supply"),
        &mut errors,
        supply,
    );
    let path = Path::Key(&root, "boards");
    let list = items("boards").iter().enumerate().take(BOARDS);
    let boards = list.map(|(i, b)| kept(b, &Path::At(&path, i), &mut errors, board));
    let boards = boards.collect();
    let path = Path::Key(&root, "circuits");
    let list = items("circuits").iter().enumerate().take(CIRCUITS);
    let circuits = list.map(|(i, c)| kept(c, &Path::At(&path, i), &mut errors, circuit));
    let circuits = circuits.collect();
    Tests {
        testing,
        supply,
        boards,
        circuits,
        errors: errors.0,
    }
}
