//! What the pictures of one circuit are drawn from: points, bands and cells, all of core. Codes and figures go out, the
//! page only places them.

use crate::answer::{CHECKS, name_in, outcome_name, place_name, shown};
use crate::out::Out;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read::{House, Job};
use faultpath::assess::assess;
use faultpath::conductor;
use faultpath::device::{Device, Order, Point, Rcd, order, orders};
use faultpath::facts::{CircuitFacts, drop_along};
use faultpath::network::{CircuitId, Part};
use faultpath::quantity::{Amps, Metres, SquareMm};
use faultpath::solve;
use faultpath::supply::Earthing;
use faultpath::verdict::{Check, Finding, Place, Recorder, Rule, Step, Topic, Unit};
use faultpath::words::Rounding;

/// Orders by name.
pub const ORDERS: [(&str, Order); 6] = [
    ("load-side-first", Order::LoadSideFirst),
    ("either", Order::Either),
    ("supply-side-first", Order::SupplySideFirst),
    ("too-quick", Order::TooQuick),
    ("no-lower-edge", Order::NoLowerEdge),
    ("not-certain", Order::NotCertain),
];

/// Most sizes and lengths of the map.
const SIZES: usize = 10;
const LENGTHS: u8 = 20;

fn circuit_id(job: &Job<'_>, name: &str) -> Option<CircuitId> {
    let at = job.circuits.iter().position(|n| *n == name)?;
    u16::try_from(at).ok().map(CircuitId)
}

/// A figure with its text.
fn figure(value: Option<f32>, unit: Unit, way: Rounding) -> Out {
    let Some(value) = value.filter(|v| v.is_finite()) else {
        return Out::Null;
    };
    Out::Fields(vec![
        ("value", value.into()),
        ("unit", (unit as u8).into()),
        ("shown", shown(Some(value), unit, way)),
    ])
}

/// The circuits from the origin to this one, it included.
fn chain(house: &House, id: CircuitId) -> Vec<CircuitId> {
    let mut out = vec![id];
    let mut at = id;
    while let Some(feed) = house
        .circuit(at)
        .and_then(|c| house.board(c.board))
        .and_then(|b| b.fed_by)
    {
        // One that feeds itself is not judged.
        if out.contains(&feed) || house.circuit(feed).is_none() {
            break;
        }
        out.push(feed);
        at = feed;
    }
    out.reverse();
    out
}

/// Keeps what the walk says of the circuits of a chain.
struct Along<'a> {
    chain: &'a [CircuitId],
    facts: Vec<Option<CircuitFacts>>,
    /// Drop of each section, by circuit, and at the board it starts from.
    volts: Vec<Vec<f32>>,
    begin: Vec<Option<f32>>,
    findings: Vec<Finding>,
    /// Largest current at the origin.
    origin: Option<f32>,
}

impl<'a> Along<'a> {
    fn of(house: &House, earthing: Earthing, chain: &'a [CircuitId]) -> Self {
        let sections = |id: &CircuitId| house.circuit(*id).map_or(0, |c| c.sections.len());
        let mut all = Self {
            chain,
            facts: vec![None; chain.len()],
            volts: chain.iter().map(|id| vec![0.0; sections(id)]).collect(),
            begin: vec![None; chain.len()],
            findings: Vec::new(),
            origin: None,
        };
        assess(house, earthing, &mut all as &mut dyn Recorder);
        all
    }

    fn at(&self, place: Place) -> Option<usize> {
        let Place::Circuit(id) = place else {
            return None;
        };
        self.chain.iter().position(|one| *one == id)
    }

    fn last(&self) -> Option<&CircuitFacts> {
        self.facts.last()?.as_ref()
    }
}

impl Recorder for Along<'_> {
    fn wants_steps(&self) -> bool {
        true
    }
    fn finding(&mut self, f: &Finding) {
        if self.at(f.place) == Some(self.chain.len() - 1) {
            self.findings.push(*f);
        }
    }
    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        if let Some(to) = self
            .at(Place::Circuit(id))
            .and_then(|n| self.facts.get_mut(n))
        {
            *to = Some(facts.clone());
        }
    }
    fn board(&mut self, place: Place, facts: &faultpath::facts::BoardFacts) {
        if place == Place::Supply {
            self.origin = facts.ipf_max;
        }
    }
    fn step(&mut self, step: &Step) {
        let Some(n) = self.at(step.place).filter(|_| step.topic == Topic::Drop) else {
            return;
        };
        match (step.rule, step.section) {
            (Rule::DropSingle | Rule::DropThree | Rule::DropRing, Some(section)) => {
                if let Some(to) = self
                    .volts
                    .get_mut(n)
                    .and_then(|all| all.get_mut(usize::from(section)))
                {
                    *to = step.value;
                }
            }
            (Rule::DropBoard, _) => {
                if let Some(to) = self.begin.get_mut(n) {
                    *to = Some(step.value);
                }
            }
            _ => {}
        }
    }
}

fn points(all: impl Iterator<Item = Point>) -> Out {
    let point = |p: Point| Out::List(vec![p.current.get().into(), p.time.get().into()]);
    Out::List(all.map(point).collect())
}

/// A device on the way, and the currents of faults behind it: the least earth fault current at the far end, the
/// largest current at its terminals.
struct Behind {
    place: Place,
    device: Option<Device>,
    low: Option<f32>,
    high: Option<f32>,
}

/// One below the other, the order over the currents of faults behind the lower one.
fn pair(supply_side: (u32, &Device), load_side: (u32, &Device), behind: &Behind) -> Out {
    let (n, above) = supply_side;
    let (m, below) = load_side;
    let first = below.points().next().map(|p| p.current);
    // Where the largest current is not known, as far as the bands go.
    let last = behind.high.or_else(|| {
        let ends = [above, below].map(|d| d.points().last().map(|p| p.current.get()));
        ends.into_iter().flatten().reduce(f32::max)
    });
    let mut stretches = Vec::new();
    // From the least fault current on: up to where the lower one surely goes first.
    let mut selective = None;
    if let (Some(from), Some(to)) = (first, last.and_then(|i| Amps::new(i).ok())) {
        orders(above, below, from, to, |from, to, order| {
            let least = behind.low.filter(|i| *i > from.get() && *i <= to.get());
            if order == Order::LoadSideFirst && least.is_some() {
                selective = Some(to.get());
            }
            stretches.push(Out::Fields(vec![
                ("order", name_in(&ORDERS, order).into()),
                ("from", figure(Some(from.get()), Unit::Ampere, Rounding::Up)),
                ("to", figure(Some(to.get()), Unit::Ampere, Rounding::Down)),
            ]));
        });
    }
    let at = |i: Option<f32>| {
        let i = i.and_then(|i| Amps::new(i).ok())?;
        Some(name_in(&ORDERS, order(above, below, i)))
    };
    Out::Fields(vec![
        ("supply_side", Out::Count(n)),
        ("load_side", Out::Count(m)),
        ("stretches", Out::List(stretches)),
        ("to_known", Out::Bool(behind.high.is_some())),
        (
            "selective_to",
            figure(selective, Unit::Ampere, Rounding::Down),
        ),
        (
            "selective",
            Out::Bool(selective.is_some() && selective == behind.high),
        ),
        ("at_low", at(behind.low).into()),
        ("at_high", at(behind.high).into()),
    ])
}

/// The devices in series from the origin to a circuit's own, and its RCDs.
#[must_use]
pub fn curves(job: &Job<'_>, judgement: usize, circuit: &str) -> Out {
    let (Some((house, earthing)), Some(id)) = (job.reading(judgement), circuit_id(job, circuit))
    else {
        return Out::Null;
    };
    let chain = chain(house, id);
    let walk = Along::of(house, earthing, &chain);
    let mut all = vec![Behind {
        place: Place::Supply,
        device: house.supply.device,
        low: None,
        high: walk.origin,
    }];
    for (id, facts) in chain.iter().zip(&walk.facts) {
        all.push(Behind {
            place: Place::Circuit(*id),
            device: house.circuit(*id).map(|c| c.device),
            low: facts.as_ref().and_then(|f| f.if_min),
            high: facts.as_ref().and_then(|f| f.ipf_max),
        });
    }
    let mut devices = Vec::new();
    let mut pairs = Vec::new();
    let mut above: Option<(u32, &Device)> = None;
    for (n, one) in (0u32..).zip(&all) {
        devices.push(Out::Fields(vec![
            ("place", place_name(job, one.place)),
            (
                "family",
                one.device
                    .map(|d| crate::names::FAMILIES.name_of(d.family()))
                    .into(),
            ),
            (
                "rating",
                figure(
                    one.device.map(|d| d.rating().get()),
                    Unit::Ampere,
                    Rounding::Nearest,
                ),
            ),
            (
                "breaking",
                one.device
                    .and_then(|d| d.breaking())
                    .map(|i| i.get())
                    .into(),
            ),
            (
                "late",
                one.device
                    .map_or(Out::List(Vec::new()), |d| points(d.late_edge())),
            ),
            (
                "early",
                one.device
                    .map_or(Out::List(Vec::new()), |d| points(d.early_edge())),
            ),
            ("low", figure(one.low, Unit::Ampere, Rounding::Down)),
            ("high", figure(one.high, Unit::Ampere, Rounding::Up)),
        ]));
        if let Some(device) = &one.device {
            if let Some(above) = above {
                pairs.push(pair(above, (n, device), one));
            }
            above = Some((n, device));
        }
    }
    Out::Fields(vec![
        ("devices", Out::List(devices)),
        ("pairs", Out::List(pairs)),
        ("rcds", Out::List(rcds(job, house, &chain))),
    ])
}

/// The RCDs on the way, each with whether it surely lets the next one behind it go first.
fn rcds(job: &Job<'_>, house: &House, chain: &[CircuitId]) -> Vec<Out> {
    let mut all: Vec<(Place, Rcd)> = Vec::new();
    for id in chain {
        let Some(circuit) = house.circuit(*id) else {
            continue;
        };
        if let Some(rcd) = house.board(circuit.board).and_then(|b| b.rcd) {
            all.push((Place::Board(circuit.board), rcd));
        }
        if let Some(rcd) = circuit.rcd {
            all.push((Place::Circuit(*id), rcd));
        }
    }
    let waits = |n: usize, rcd: &Rcd| {
        let (_, behind) = all.get(n + 1)?;
        let general = behind.delay() == faultpath::device::RcdDelay::None;
        Some(Out::Bool(rcd.lets_go_first(behind.sensitivity(), general)))
    };
    all.iter()
        .enumerate()
        .map(|(n, (place, rcd))| {
            Out::Fields(vec![
                ("place", place_name(job, *place)),
                ("sensitivity", rcd.sensitivity().get().into()),
                ("delay", crate::names::DELAYS.name_of(rcd.delay()).into()),
                ("waits", waits(n, rcd).unwrap_or(Out::Null)),
            ])
        })
        .collect()
}

/// How the drop grows from the origin to the end of a circuit, with its limit; conductors at full temperature.
///
/// Up to a board it is that of the line that has most. Where the check goes by another temperature its own figure
/// stands beside it.
#[must_use]
pub fn drop_profile(job: &Job<'_>, judgement: usize, circuit: &str) -> Out {
    let (Some((house, earthing)), Some(id)) = (job.reading(judgement), circuit_id(job, circuit))
    else {
        return Out::Null;
    };
    let chain = chain(house, id);
    let walk = Along::of(house, earthing, &chain);
    let check = walk.findings.iter().find(|f| f.check == Check::VoltDrop);
    let limit = check.and_then(|f| f.limit);
    let u0 = house.supply.u0.get();
    let mut runs = Vec::new();
    for (n, id) in chain.iter().enumerate() {
        let (Some(c), Some(Some(begin)), Some(volts)) =
            (house.circuit(*id), walk.begin.get(n), walk.volts.get(n))
        else {
            continue;
        };
        let mut points = Vec::new();
        drop_along(c, volts, &mut |p| {
            let spur = c
                .sections
                .get(usize::from(p.section))
                .is_some_and(|s| s.part == Part::Spur);
            points.push(Out::Fields(vec![
                ("section", p.section.into()),
                ("spur", Out::Bool(spur)),
                ("length", p.length.into()),
                ("volts", p.volts.into()),
            ]));
        });
        let end = walk.facts.get(n).and_then(|f| f.as_ref()?.drop_full);
        let length: f32 = c
            .sections
            .iter()
            .filter(|s| s.part == Part::Run)
            .map(|s| s.length.get())
            .sum();
        runs.push(Out::Fields(vec![
            ("place", place_name(job, Place::Circuit(*id))),
            (
                "length",
                figure(Some(length), Unit::Metre, Rounding::Nearest),
            ),
            ("begin", figure(Some(*begin), Unit::Volt, Rounding::Up)),
            ("end", figure(end, Unit::Volt, Rounding::Up)),
            ("points", Out::List(points)),
        ]));
    }
    let (drop, full) = walk.last().map_or((None, None), |f| (f.drop, f.drop_full));
    Out::Fields(vec![
        ("u0", u0.into()),
        ("limit", figure(limit, Unit::Share, Rounding::Down)),
        (
            "limit_volts",
            figure(limit.map(|l| l * u0), Unit::Volt, Rounding::Down),
        ),
        ("outcome", check.map(|f| outcome_name(f.outcome)).into()),
        ("drop", figure(drop, Unit::Volt, Rounding::Up)),
        (
            "share",
            figure(drop.map(|d| d / u0), Unit::Share, Rounding::Up),
        ),
        ("full", figure(full, Unit::Volt, Rounding::Up)),
        ("as_drawn", Out::Bool(drop == full)),
        ("runs", Out::List(runs)),
    ])
}

/// A length a person would choose, not below this one: 1, 2 or 5 times a power of ten.
fn round_up(v: f32) -> f32 {
    let mut unit = 1.0;
    while unit < 100_000.0 {
        for times in [1.0, 2.0, 5.0] {
            if unit * times >= v {
                return unit * times;
            }
        }
        unit *= 10.0;
    }
    v
}

/// How a circuit comes out, and which check governs, by the size of its line conductors and the length of the longest
/// section of its run: each cell the walk over the job with that change, as the solver makes it.
#[must_use]
pub fn area_map(job: &mut Job<'_>, judgement: usize, circuit: &str) -> Out {
    let earthing = job.reading(judgement).map(|(_, earthing)| earthing);
    let id = circuit_id(job, circuit);
    let names = place_names(job);
    let (Some(earthing), Some(id), Some(house)) = (earthing, id, job.house.as_deref_mut()) else {
        return Out::Null;
    };
    let slot = usize::from(id.0);
    let Some(original) = house.circuit(id).cloned() else {
        return Out::Null;
    };
    let (Some(material), Some((section, present))) =
        (solve::material(&original), solve::longest(&original))
    else {
        return Out::Null;
    };
    let Some(csa) = original.sections.get(usize::from(section)).map(|s| s.csa) else {
        return Out::Null;
    };
    let made = conductor::made(material);
    let here = made.iter().position(|s| *s == csa.get()).unwrap_or(0);
    let first = here.saturating_sub(4).min(made.len().saturating_sub(SIZES));
    let sizes: Vec<f32> = made.iter().skip(first).take(SIZES).copied().collect();
    let longest = solve::greatest_length(house, earthing, id)
        .ok()
        .map(|(_, length)| length.get());
    // So that the end of what passes is seen, and what is there now.
    let most = longest.unwrap_or(0.0).min(30.0 * present).max(present);
    let step = round_up(1.3 * most / f32::from(LENGTHS));
    let lengths: Vec<f32> = (1..=LENGTHS).map(|n| step * f32::from(n)).collect();
    let mut rows = Vec::new();
    for size in &sizes {
        let mut cells = Vec::new();
        for length in &lengths {
            let mut changed = original.clone();
            solve::set_csa(&mut changed, size_of(*size, csa));
            if let (Some(s), Ok(length)) = (
                changed.sections.get_mut(usize::from(section)),
                Metres::new(*length),
            ) {
                s.length = length;
            }
            let good = changed.check().is_ok();
            if let Some(c) = house.circuits.get_mut(slot) {
                *c = changed;
            }
            let found = good
                .then(|| solve::governing(house, earthing, id))
                .flatten();
            cells.push(cell(found, id, &names));
        }
        rows.push(Out::Fields(vec![
            (
                "csa",
                figure(Some(*size), Unit::SquareMm, Rounding::Nearest),
            ),
            ("cells", Out::List(cells)),
        ]));
    }
    if let Some(c) = house.circuits.get_mut(slot) {
        *c = original;
    }
    Out::Fields(vec![
        ("section", section.into()),
        (
            "csa",
            figure(Some(csa.get()), Unit::SquareMm, Rounding::Nearest),
        ),
        (
            "length",
            figure(Some(present), Unit::Metre, Rounding::Nearest),
        ),
        ("step", step.into()),
        ("lengths", Out::from(lengths.as_slice())),
        ("rows", Out::List(rows)),
    ])
}

/// A size from the list of what is made; the present one where it would be refused, which none is.
fn size_of(size: f32, present: SquareMm) -> SquareMm {
    SquareMm::new(size).unwrap_or(present)
}

/// The names of all places, kept apart from the job while its installation is being changed.
fn place_names(job: &Job<'_>) -> Vec<(Place, Out)> {
    let boards = (0u16..).zip(&job.boards).map(|(n, _)| {
        let place = Place::Board(faultpath::network::BoardId(n));
        (place, place_name(job, place))
    });
    let circuits = (0u16..).zip(&job.circuits).map(|(n, _)| {
        let place = Place::Circuit(CircuitId(n));
        (place, place_name(job, place))
    });
    boards.chain(circuits).collect()
}

/// Where the governing check is not the circuit's own, its place too.
fn cell(found: Option<Finding>, id: CircuitId, names: &[(Place, Out)]) -> Out {
    let Some(f) = found else {
        return Out::Null;
    };
    let elsewhere = (f.place != Place::Circuit(id))
        .then(|| names.iter().find(|(place, _)| *place == f.place))
        .flatten()
        .map(|(_, name)| name.clone());
    Out::Fields(vec![
        ("outcome", outcome_name(f.outcome).into()),
        ("check", name_in(&CHECKS, f.check).into()),
        ("place", elsewhere.unwrap_or(Out::Null)),
    ])
}
