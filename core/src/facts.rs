//! The figures of a circuit that the checks hold against limits: computed once, from a source and a
//! circuit, with every step on record where steps are wanted.

use crate::cable::{Capacity, Construction};
use crate::conductor::{self, Material};
use crate::device::Device;
use crate::error::Error;
use crate::impedance::{Pair, Z};
use crate::network::{Circuit, Demand, Part, Phase, Protective, SECTIONS, Section, Shape, Steel};
use crate::profile::Profile;
use crate::quantity::{Celsius, SquareMm};
use crate::source::{Drop, Source};
use crate::verdict::{Assumed, Place, Recorder, Rule, Step, Topic, Unit};
use heapless::Vec;
use libm::sqrtf;

/// A.c. resistance of steel armour over its d.c. resistance, in cables above 16 mm²
/// (guidance to BS 7671 on armour as protective conductor, from memory).
pub const ARMOUR_AC: f32 = 1.1;
/// Reactance of steel armour in the earth fault loop, in ohms per kilometre, in cables above 16 mm²
/// (the same guidance, from memory).
pub const ARMOUR_REACTANCE: f32 = 0.4;
/// The current one unfused spur is taken to carry at most, in amperes: one twin socket-outlet
/// (common practice).
pub const SPUR_CURRENT: f32 = 20.0;

/// One metal path of the protective conductor of a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strand {
    /// Material.
    pub material: Material,
    /// Area in mm²; none where it was not given.
    pub area: Option<f32>,
    /// Share of the earth fault current it carries.
    pub share: f32,
    /// Its temperature before the fault at full load, in °C.
    pub initial: f32,
    /// The temperature it may reach, in °C.
    pub last: f32,
    /// It lies in the cable, and so is cooler where the cable is not fully loaded.
    pub in_cable: bool,
}

/// Figures of one section.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionFacts {
    /// Capacity as installed, or what the tables do not have.
    pub capacity: Result<Capacity, Error>,
    /// Line conductor, in ohms.
    pub line: Pair,
    /// Neutral.
    pub neutral: Pair,
    /// Protective conductor; none where there is none.
    pub protective: Option<Pair>,
    /// Its metal paths.
    pub strands: Vec<Strand, 2>,
}

/// Figures of a circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct CircuitFacts {
    /// Rated current, in amperes.
    pub rating: f32,
    /// Design current Ib, in amperes; of the most loaded line.
    pub ib: Option<f32>,
    /// Smallest capacity Iz of the run, in amperes.
    pub iz: Option<f32>,
    /// R1 + R2 at 20 °C to the furthest point, as a continuity test would read it, in ohms.
    pub r1r2_cold: Option<f32>,
    /// Line conductor to the furthest point.
    pub line: Pair,
    /// Neutral to the furthest point.
    pub neutral: Pair,
    /// Protective conductor to the furthest point.
    pub protective: Option<Pair>,
    /// Earth fault loop impedance at the furthest point, hot, in ohms.
    pub zs: Option<f32>,
    /// Smallest earth fault current, in amperes.
    pub if_min: Option<f32>,
    /// Largest prospective current at the circuit's device, in amperes.
    pub ipf_max: Option<f32>,
    /// Drop from the origin to the furthest point, full temperature, worst line, in volts.
    pub drop_full: Option<f32>,
    /// The same, conductors at the temperature of the load.
    pub drop_load: Option<f32>,
    /// The one that decides, in volts.
    pub drop: Option<f32>,
    /// Drop at the end of the run by line, for what hangs on it.
    pub drop_lines: Option<Drop>,
    /// What was taken for granted.
    pub assumed: Assumed,
}

/// Figures of a board, or of the supply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardFacts {
    /// Demand with diversity by line, in amperes; none where a load is not known.
    pub demand: Option<[f32; 3]>,
    /// Earth fault loop impedance at the board, hot, in ohms.
    pub zs: Option<f32>,
    /// Largest prospective fault current at the board, in amperes.
    pub ipf_max: Option<f32>,
    /// Drop from the origin by line, the deciding one, in volts.
    pub drop: Option<[f32; 3]>,
}

/// Where a step is, so that recording one stays one line.
#[derive(Clone, Copy)]
pub(crate) struct Spot {
    pub place: Place,
    pub section: Option<u8>,
    pub topic: Topic,
}

impl Spot {
    pub fn at(place: Place, topic: Topic) -> Self {
        Self {
            place,
            section: None,
            topic,
        }
    }

    fn of(self, section: u8) -> Self {
        Self {
            section: Some(section),
            ..self
        }
    }
}

/// Records a step, where steps are wanted.
pub(crate) fn note<R: Recorder, const N: usize>(
    rec: &mut R,
    spot: Spot,
    rule: Rule,
    value: f32,
    unit: Unit,
    operands: [f32; N],
) {
    if R::STEPS {
        let mut all = [0.0; 6];
        for (to, from) in all.iter_mut().zip(operands) {
            *to = from;
        }
        rec.step(&Step {
            place: spot.place,
            section: spot.section,
            topic: spot.topic,
            rule,
            value,
            unit,
            operands: all,
        });
    }
}

/// Currents of a circuit by line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Currents {
    /// By line; of a single-phase circuit only its own is above zero.
    pub line: [f32; 3],
    /// In the neutral.
    pub neutral: f32,
}

impl Currents {
    /// The largest line current.
    #[must_use]
    pub fn largest(&self) -> f32 {
        let [a, b, c] = self.line;
        a.max(b).max(c)
    }
}

/// Current in the neutral of three lines at 120°, all at one power factor.
fn neutral_of([a, b, c]: [f32; 3]) -> f32 {
    if a == b && b == c {
        return 0.0;
    }
    let square = a * a + b * b + c * c - a * b - b * c - c * a;
    if square > 0.0 { sqrtf(square) } else { 0.0 }
}

/// Which line (0..=2) a single-phase circuit is on.
pub(crate) fn line_index(source: &Source, phase: Phase) -> usize {
    if !source.three_phase {
        return source.line_index;
    }
    match phase {
        Phase::L1 | Phase::Three => 0,
        Phase::L2 => 1,
        Phase::L3 => 2,
    }
}

/// Design current by line: as stated, from the power, or from what hangs on the circuit.
pub(crate) fn currents(
    source: &Source,
    circuit: &Circuit,
    derived: Option<[f32; 3]>,
) -> Option<Currents> {
    let pf = circuit.load.power_factor.get();
    let three = circuit.phase == Phase::Three;
    let own = match circuit.load.demand {
        Demand::Current(i) => i.get(),
        Demand::Power(p) if three => p.get() / (3.0 * source.u0 * pf),
        Demand::Power(p) => p.get() / (source.u0 * pf),
        Demand::Derived => {
            let line = derived?;
            return Some(if three {
                Currents {
                    line,
                    neutral: neutral_of(line),
                }
            } else {
                let [a, b, c] = line;
                let i = a.max(b).max(c);
                single(source, circuit.phase, i)
            });
        }
    };
    Some(if three {
        Currents {
            line: [own; 3],
            neutral: 0.0,
        }
    } else {
        single(source, circuit.phase, own)
    })
}

fn single(source: &Source, phase: Phase, i: f32) -> Currents {
    let mut line = [0.0; 3];
    if let Some(own) = line.get_mut(line_index(source, phase)) {
        *own = i;
    }
    Currents { line, neutral: i }
}

/// Resistance of a section in ohms: r·L/1000 at the temperature.
fn resistance(material: Material, csa: SquareMm, theta: f32, length: f32) -> f32 {
    match conductor::resistance_at(material, csa, Celsius::raw(theta)) {
        Ok(r) => r.get() * length / 1000.0,
        // Sizes were checked with the network; were one not, the answer must not be a pass.
        Err(_) => f32::NAN,
    }
}

fn pair(material: Material, csa: SquareMm, theta: f32, length: f32, reactance: f32) -> Pair {
    let x = reactance * length / 1000.0;
    Pair {
        hot: Z {
            r: resistance(material, csa, theta, length),
            x,
        },
        cold: Z {
            r: resistance(material, csa, 20.0, length),
            x,
        },
    }
}

/// The armour's or enclosure's own resistance, hot and cold.
fn steel_pair(steel: Steel, theta: f32, length: f32, ac: bool) -> Pair {
    let r20 = steel.resistance.get() * length / 1000.0;
    let hot = r20 * conductor::temperature_factor(Material::Steel, Celsius::raw(theta));
    Pair {
        hot: Z {
            r: if ac { hot * ARMOUR_AC } else { hot },
            x: if ac {
                ARMOUR_REACTANCE * length / 1000.0
            } else {
                0.0
            },
        },
        cold: Z { r: r20, x: 0.0 },
    }
}

fn parallel(a: Z, b: Z) -> Z {
    let sum = a + b;
    let square = sum.r * sum.r + sum.x * sum.x;
    // a·b / (a + b), numerator times the conjugate of the denominator.
    let (re, im) = (a.r * b.r - a.x * b.x, a.r * b.x + a.x * b.r);
    Z {
        r: (re * sum.r + im * sum.x) / square,
        x: (im * sum.r - re * sum.x) / square,
    }
}

/// The armour of a section: as entered, or by the standard's table.
fn armour_of(section: &Section, entered: Option<Steel>) -> Option<Steel> {
    match entered {
        Some(steel) => Some(steel),
        None => {
            let a = conductor::armour(section.csa, section.cores, section.insulation).ok()?;
            Some(Steel {
                resistance: a.resistance_20,
                area: Some(a.area),
            })
        }
    }
}

/// Degrees by which armour stays below the conductors it surrounds: the start temperatures of 60 and 80 °C
/// behind BS 7671 Table 54.4 (read: k 51 and 46) for cables of 70 and 90 °C.
pub const ARMOUR_BELOW: f32 = 10.0;
/// Degrees by which conduit or trunking stays below the conductors in it (BS 7671 Table 54.5: 50 and 60 °C;
/// the smaller difference is taken).
pub const ENCLOSURE_BELOW: f32 = 20.0;
/// Temperature of a protective conductor not bunched with others, before the fault, in °C
/// (BS 7671 Table 54.2).
pub const SEPARATE_INITIAL: f32 = 30.0;
/// Temperature armour may reach, in °C (BS 7671 Table 54.4).
pub const ARMOUR_FINAL: f32 = 200.0;

fn protective(section: &Section) -> Option<(Pair, Vec<Strand, 2>)> {
    let length = section.length.get();
    let operating = section.operating().get();
    let ac = section.csa.get() > 16.0;
    let x_core = |csa| conductor::reactance(csa, section.construction).get();
    let core = |c: crate::supply::Conductor, in_cable: bool| {
        let theta = if in_cable {
            operating
        } else {
            SEPARATE_INITIAL
        };
        let z = pair(c.material, c.csa, theta, length, x_core(c.csa));
        let strand = Strand {
            material: c.material,
            area: Some(c.csa.get()),
            share: 1.0,
            initial: theta,
            last: section.insulation.final_temperature(c.csa).get(),
            in_cable,
        };
        (z, strand)
    };
    let steel = |s: Steel, below: f32, last: f32, ac: bool| {
        let theta = operating - below;
        let z = steel_pair(s, theta, length, ac);
        let strand = Strand {
            material: Material::Steel,
            area: s.area.map(SquareMm::get),
            share: 1.0,
            initial: theta,
            last,
            in_cable: true,
        };
        (z, strand)
    };
    let mut strands = Vec::new();
    let z = match section.protective {
        Protective::None => return None,
        Protective::Core(c) => {
            let (z, s) = core(c, true);
            strands.push(s).ok()?;
            z
        }
        Protective::Separate(c) => {
            let (z, s) = core(c, false);
            strands.push(s).ok()?;
            z
        }
        Protective::Armour(entered) => {
            let (z, s) = steel(armour_of(section, entered)?, ARMOUR_BELOW, ARMOUR_FINAL, ac);
            strands.push(s).ok()?;
            z
        }
        Protective::Enclosure(s) => {
            let last = section.insulation.final_temperature(section.csa).get();
            let (z, s) = steel(s, ENCLOSURE_BELOW, last, false);
            strands.push(s).ok()?;
            z
        }
        Protective::ArmourAndCore(entered, c) => {
            let (za, mut sa) = steel(armour_of(section, entered)?, ARMOUR_BELOW, ARMOUR_FINAL, ac);
            let (zc, mut sc) = core(c, true);
            // Hot or cold the larger share of each counts, so that neither is judged too kindly.
            let share = |one: Z, other: Z| other.magnitude() / (one + other).magnitude();
            sa.share = share(za.hot, zc.hot).max(share(za.cold, zc.cold));
            sc.share = share(zc.hot, za.hot).max(share(zc.cold, za.cold));
            strands.push(sa).ok()?;
            strands.push(sc).ok()?;
            Pair {
                hot: parallel(za.hot, zc.hot),
                cold: parallel(za.cold, zc.cold),
            }
        }
    };
    Some((z, strands))
}

/// Figures of one section, for a number of loaded conductors.
pub(crate) fn section_facts<R: Recorder>(
    section: &Section,
    loaded: u8,
    index: u8,
    place: Place,
    rec: &mut R,
) -> SectionFacts {
    let capacity = crate::cable::capacity(
        section.material,
        section.csa,
        section.insulation,
        section.operating_limit,
        section.construction,
        loaded,
        &section.laying,
    );
    let length = section.length.get();
    let operating = section.operating().get();
    let x = |csa| conductor::reactance(csa, section.construction).get();
    let line = pair(
        section.material,
        section.csa,
        operating,
        length,
        x(section.csa),
    );
    let n = section.neutral_csa();
    let neutral = pair(section.material, n, operating, length, x(n));
    let (protective, strands) = match protective(section) {
        Some((z, s)) => (Some(z), s),
        None => (None, Vec::new()),
    };
    if R::STEPS {
        let cap = Spot::at(place, Topic::Capacity).of(index);
        if let Ok(c) = &capacity {
            note(
                rec,
                cap,
                Rule::It,
                c.tabulated.get(),
                Unit::Ampere,
                [section.csa.get()],
            );
            note(
                rec,
                cap,
                Rule::Iz,
                c.effective.get(),
                Unit::Ampere,
                [
                    c.tabulated.get(),
                    c.ambient,
                    c.grouping,
                    c.insulation,
                    c.soil,
                    c.depth,
                ],
            );
        }
        let res = Spot::at(place, Topic::Resistance).of(index);
        for (rule, z, csa) in [
            (Rule::RLine, line, section.csa),
            (Rule::RNeutral, neutral, n),
        ] {
            note(
                rec,
                res,
                rule,
                z.hot.r,
                Unit::Ohm,
                [csa.get(), z.cold.r, operating, z.hot.x],
            );
        }
        if let Some(z) = protective {
            let parts = [strands.first(), strands.get(1)];
            for s in parts.into_iter().flatten() {
                note(
                    rec,
                    res,
                    Rule::RProtective,
                    z.hot.r,
                    Unit::Ohm,
                    [s.area.unwrap_or(f32::NAN), z.cold.r, s.initial, z.hot.x],
                );
            }
            if parts.iter().all(Option::is_some) {
                note(
                    rec,
                    res,
                    Rule::RParallel,
                    z.hot.magnitude(),
                    Unit::Ohm,
                    [z.hot.r, z.hot.x],
                );
            }
        }
    }
    SectionFacts {
        capacity,
        line,
        neutral,
        protective,
        strands,
    }
}

/// Average share of the design current that a length [a, b] of a run of length `total` carries, where n
/// equal points are evenly spread, the last at its end.
fn carried(a: f32, b: f32, total: f32, n: u8) -> f32 {
    if n <= 1 || b <= a {
        return 1.0;
    }
    let count = f32::from(n);
    let mut sum = 0.0;
    for i in 1..=n {
        let at = total * f32::from(i) / count;
        sum += (at - a).clamp(0.0, b - a);
    }
    sum / (count * (b - a))
}

/// Drop at the middle point of a ring of n equal points over I·Z of the whole loop: 1/4 for one, towards
/// 1/8 for many. Both ends are at the same potential, so the influence of a current at x on point y is
/// min(x, y)·(1 − max(x, y)).
fn ring_share(n: u8) -> f32 {
    let count = f32::from(n.max(1));
    let place = |i: u8| f32::from(i) / (count + 1.0);
    let middle = place(n.max(1).div_ceil(2));
    let mut sum = 0.0;
    for i in 1..=n.max(1) {
        let x = place(i);
        sum += x.min(middle) * (1.0 - x.max(middle));
    }
    sum / count
}

/// Current of a spur: its fuse, or what one twin socket takes; never more than the circuit's own.
pub(crate) fn spur_current(section: &Section, ib: f32) -> f32 {
    let most = section
        .spur_fuse
        .map_or(SPUR_CURRENT, |f: Device| f.rating().get());
    ib.min(most)
}

/// Sums of a circuit: run, worst spur, and both to the furthest point.
pub(crate) struct Sums {
    pub line: Pair,
    pub neutral: Pair,
    pub protective: Option<Pair>,
}

fn to_furthest(circuit: &Circuit, sections: &[SectionFacts]) -> Sums {
    let mut line = Pair::ZERO;
    let mut neutral = Pair::ZERO;
    let mut protective = Some(Pair::ZERO);
    let mut spur: Option<&SectionFacts> = None;
    let loop_of = |f: &SectionFacts| {
        (f.line + f.protective.unwrap_or(Pair::ZERO))
            .hot
            .magnitude()
    };
    for (s, f) in circuit.sections.iter().zip(sections) {
        match s.part {
            Part::Run => {
                line = line + f.line;
                neutral = neutral + f.neutral;
                protective = match (protective, f.protective) {
                    (Some(a), Some(b)) => Some(a + b),
                    _ => None,
                };
            }
            Part::Spur => {
                if f.protective.is_none() {
                    protective = None;
                }
                let worse = match spur {
                    Some(other) => loop_of(f) > loop_of(other),
                    None => true,
                };
                if worse {
                    spur = Some(f);
                }
            }
        }
    }
    if circuit.shape == Shape::Ring {
        line = line.times(0.25);
        neutral = neutral.times(0.25);
        protective = protective.map(|p| p.times(0.25));
    }
    if let Some(f) = spur {
        line = line + f.line;
        neutral = neutral + f.neutral;
        protective = match (protective, f.protective) {
            (Some(a), Some(b)) => Some(a + b),
            _ => None,
        };
    }
    Sums {
        line,
        neutral,
        protective,
    }
}

/// Temperature of the conductors at a current: θa + (θmax − θa)·(I/Iz)².
fn load_temperature(section: &Section, iz: f32, i: f32) -> f32 {
    let ambient = section.laying.ambient.get();
    let ratio = i / iz;
    ambient + (section.operating().get() - ambient) * ratio * ratio
}

/// An impedance with its resistance taken to another temperature.
fn at_temperature(z: Pair, material: Material, theta: f32) -> Z {
    Z {
        r: z.cold.r * conductor::temperature_factor(material, Celsius::raw(theta)),
        x: z.cold.x,
    }
}

/// Drop of the circuit's own sections: at the end of the run by line, and to the furthest point.
struct OwnDrop {
    run: Drop,
    spur_full: f32,
    spur_load: f32,
    /// Every section's load temperature was known.
    load_known: bool,
}

fn own_drop<R: Recorder>(
    circuit: &Circuit,
    sections: &[SectionFacts],
    currents: &Currents,
    place: Place,
    rec: &mut R,
) -> OwnDrop {
    let pf = circuit.load.power_factor.get();
    let sin = sqrtf((1.0 - pf * pf).max(0.0));
    let along = |z: Z| z.r * pf + z.x * sin;
    let three = circuit.phase == Phase::Three;
    let ring = circuit.shape == Shape::Ring;
    let n = circuit.load.points;
    let mut out = OwnDrop {
        run: Drop::default(),
        spur_full: 0.0,
        spur_load: 0.0,
        load_known: true,
    };
    let total = circuit
        .sections
        .iter()
        .filter(|s| s.part == Part::Run)
        .fold(0.0, |sum, s| sum + s.length.get());
    let mut from = 0.0;
    let ring_part = ring_share(n);
    for (index, (s, f)) in (0u8..).zip(circuit.sections.iter().zip(sections)) {
        let spot = Spot::at(place, Topic::Drop).of(index);
        let largest = currents.largest();
        let heating = match (s.part, ring) {
            (Part::Spur, _) => spur_current(s, largest),
            // Half of the load comes from either side.
            (Part::Run, true) => 0.5 * largest,
            (Part::Run, false) => largest,
        };
        let (hot_line, hot_neutral) = (f.line.hot, f.neutral.hot);
        let (load_line, load_neutral) = match &f.capacity {
            Ok(c) => {
                let theta = load_temperature(s, c.effective.get(), heating);
                note(
                    rec,
                    spot,
                    Rule::LoadTemperature,
                    theta,
                    Unit::Celsius,
                    [
                        s.laying.ambient.get(),
                        s.operating().get(),
                        heating,
                        c.effective.get(),
                    ],
                );
                (
                    at_temperature(f.line, s.material, theta),
                    at_temperature(f.neutral, s.material, theta),
                )
            }
            Err(_) => {
                out.load_known = false;
                (hot_line, hot_neutral)
            }
        };
        match s.part {
            Part::Spur => {
                let i = heating;
                let full = i * along(hot_line + hot_neutral);
                let load = i * along(load_line + load_neutral);
                note(
                    rec,
                    spot,
                    Rule::DropSingle,
                    full,
                    Unit::Volt,
                    [
                        i,
                        hot_line.r + hot_neutral.r,
                        pf,
                        hot_line.x + hot_neutral.x,
                        sin,
                    ],
                );
                // Each spur hangs on the run by itself: the worst one counts.
                out.spur_full = out.spur_full.max(full);
                out.spur_load = out.spur_load.max(load);
            }
            Part::Run => {
                let to = from + s.length.get();
                let share = if ring {
                    ring_part
                } else {
                    carried(from, to, total, n)
                };
                from = to;
                for ((full, load), i) in out
                    .run
                    .full
                    .iter_mut()
                    .zip(out.run.load.iter_mut())
                    .zip(currents.line)
                {
                    if i == 0.0 {
                        continue;
                    }
                    *full += share * (i * along(hot_line) + currents.neutral * along(hot_neutral));
                    *load +=
                        share * (i * along(load_line) + currents.neutral * along(load_neutral));
                }
                let i = largest;
                if three {
                    note(
                        rec,
                        spot,
                        Rule::DropThree,
                        share * (i * along(hot_line) + currents.neutral * along(hot_neutral)),
                        Unit::Volt,
                        [
                            share,
                            i,
                            along(hot_line),
                            currents.neutral,
                            along(hot_neutral),
                        ],
                    );
                } else {
                    let z = hot_line + hot_neutral;
                    let rule = if ring {
                        Rule::DropRing
                    } else {
                        Rule::DropSingle
                    };
                    note(
                        rec,
                        spot,
                        rule,
                        share * i * along(z),
                        Unit::Volt,
                        [share * i, z.r, pf, z.x, sin],
                    );
                }
            }
        }
    }
    out
}

/// All figures of a circuit.
///
/// `derived` is the demand by line of what hangs on it, for a distribution circuit.
pub(crate) fn circuit_facts<R: Recorder>(
    profile: &Profile,
    source: &Source,
    circuit: &Circuit,
    derived: Option<[f32; 3]>,
    place: Place,
    rec: &mut R,
) -> (CircuitFacts, Vec<SectionFacts, SECTIONS>) {
    let mut sections = Vec::new();
    for (index, s) in (0u8..).zip(circuit.sections.iter()) {
        let f = section_facts(s, circuit.loaded(), index, place, rec);
        // As many as the circuit has; both hold `SECTIONS`.
        if sections.push(f).is_err() {
            break;
        }
    }
    let rating = circuit.device.rating().get();
    let currents = currents(source, circuit, derived);
    let ib = currents.map(|c| c.largest());
    if R::STEPS {
        note_load(source, circuit, ib, place, rec);
    }

    let mut iz: Option<f32> = None;
    for (s, f) in circuit.sections.iter().zip(&sections) {
        if s.part == Part::Run {
            match &f.capacity {
                Ok(c) => iz = Some(iz.map_or(c.effective.get(), |z| z.min(c.effective.get()))),
                Err(_) => {
                    iz = None;
                    break;
                }
            }
        }
    }

    let sums = to_furthest(circuit, &sections);
    let spot = Spot::at(place, Topic::Loop);
    let r1r2_cold = sums.protective.map(|p| sums.line.cold.r + p.cold.r);
    let zs = match (source.loop_external, sums.protective) {
        (Some(external), Some(p)) => {
            let upstream = source.line.hot + source.protective.hot;
            let own = sums.line.hot + p.hot;
            let zs = external.largest_with(upstream + own);
            if R::STEPS {
                let rule = if circuit.shape == Shape::Ring {
                    Rule::RingR1R2
                } else {
                    Rule::R1R2
                };
                note(
                    rec,
                    spot,
                    rule,
                    own.magnitude(),
                    Unit::Ohm,
                    [sums.line.hot.r, p.hot.r, own.x],
                );
                note(
                    rec,
                    spot,
                    Rule::ZsBoard,
                    external.largest_with(upstream),
                    Unit::Ohm,
                    [
                        external.magnitude,
                        source.line.hot.r,
                        source.protective.hot.r,
                        upstream.x,
                    ],
                );
                match external.parts() {
                    Some(ext) => {
                        let all = ext + upstream + own;
                        note(rec, spot, Rule::ZsVector, zs, Unit::Ohm, [all.r, all.x]);
                    }
                    None => note(
                        rec,
                        spot,
                        Rule::ZsSum,
                        zs,
                        Unit::Ohm,
                        [external.magnitude, (upstream + own).magnitude()],
                    ),
                }
            }
            Some(zs)
        }
        _ => None,
    };
    let if_min = zs.map(|z| {
        let i = profile.cmin * source.u0 / z;
        note(
            rec,
            spot,
            Rule::IfMin,
            i,
            Unit::Ampere,
            [profile.cmin, source.u0, z],
        );
        i
    });

    let ipf_max = source.largest(profile);
    if R::STEPS {
        note_largest(profile, source, place, rec);
    }

    let mut assumed = Assumed::empty();
    if circuit.phase == Phase::Three && !matches!(circuit.load.demand, Demand::Derived) {
        assumed |= Assumed::BALANCED;
    }
    let mut facts = CircuitFacts {
        rating,
        ib,
        iz,
        r1r2_cold,
        line: sums.line,
        neutral: sums.neutral,
        protective: sums.protective,
        zs,
        if_min,
        ipf_max,
        drop_full: None,
        drop_load: None,
        drop: None,
        drop_lines: None,
        assumed,
    };
    if let (Some(before), Some(currents)) = (source.drop, currents) {
        let own = own_drop(circuit, &sections, &currents, place, rec);
        let mut lines = before;
        let mut full: f32 = 0.0;
        let mut load: f32 = 0.0;
        let mut at_board: f32 = 0.0;
        for k in 0..3 {
            let of = |d: &[f32; 3]| d.get(k).copied().unwrap_or(0.0);
            if circuit.phase != Phase::Three && k != line_index(source, circuit.phase) {
                continue;
            }
            if let (Some(f), Some(l)) = (lines.full.get_mut(k), lines.load.get_mut(k)) {
                *f += of(&own.run.full);
                *l += of(&own.run.load);
                if *f + own.spur_full > full {
                    at_board = of(&before.full);
                }
                full = full.max(*f + own.spur_full);
                load = load.max(*l + own.spur_load);
            }
        }
        let spot = Spot::at(place, Topic::Drop);
        note(rec, spot, Rule::DropBoard, at_board, Unit::Volt, []);
        note(
            rec,
            spot,
            Rule::DropTotal,
            full,
            Unit::Volt,
            [at_board, full - at_board],
        );
        facts.drop_full = Some(full);
        facts.drop_load = own.load_known.then_some(load);
        facts.drop = Some(deciding(profile, full, facts.drop_load));
        if !own.load_known {
            lines.load = lines.full;
        }
        facts.drop_lines = Some(lines);
    }
    (facts, sections)
}

/// The drop that decides: by full temperature, unless the profile asks for that of the load; an overloaded
/// cable is hotter than its full temperature and never counts less.
pub(crate) fn deciding(profile: &Profile, full: f32, load: Option<f32>) -> f32 {
    match (profile.drop_basis, load) {
        (crate::profile::DropBasis::Load, Some(load)) => load,
        (_, Some(load)) => full.max(load),
        (_, None) => full,
    }
}

fn note_load<R: Recorder>(
    source: &Source,
    circuit: &Circuit,
    ib: Option<f32>,
    place: Place,
    rec: &mut R,
) {
    let Some(ib) = ib else { return };
    let spot = Spot::at(place, Topic::Load);
    let pf = circuit.load.power_factor.get();
    match circuit.load.demand {
        Demand::Current(_) => note(rec, spot, Rule::IbStated, ib, Unit::Ampere, []),
        Demand::Derived => note(rec, spot, Rule::IbDemand, ib, Unit::Ampere, []),
        Demand::Power(p) => {
            let rule = if circuit.phase == Phase::Three {
                Rule::IbThree
            } else {
                Rule::IbSingle
            };
            note(rec, spot, rule, ib, Unit::Ampere, [p.get(), source.u0, pf]);
        }
    }
}

fn note_largest<R: Recorder>(profile: &Profile, source: &Source, place: Place, rec: &mut R) {
    let spot = Spot::at(place, Topic::Largest);
    let Some(supply) = source.supply_min else {
        return;
    };
    note(rec, spot, Rule::ZSupplyMin, supply.magnitude, Unit::Ohm, []);
    let line = source.line.cold;
    let with_neutral = line + source.neutral.cold;
    let u = source.u0 * profile.cmax;
    if source.three_phase {
        let z = supply.smallest_with(line);
        note(
            rec,
            spot,
            Rule::IkThree,
            u / z,
            Unit::Ampere,
            [profile.cmax, source.u0, z],
        );
    }
    let z = supply.smallest_with(with_neutral);
    note(
        rec,
        spot,
        Rule::IkNeutral,
        u / z,
        Unit::Ampere,
        [profile.cmax, source.u0, z],
    );
    if let Some(external) = source.loop_external_min {
        let z = external.smallest_with(line + source.protective.cold);
        note(
            rec,
            spot,
            Rule::IkEarth,
            u / z,
            Unit::Ampere,
            [profile.cmax, source.u0, z],
        );
    }
}

/// Whether the table of flat twin cables has an entry.
#[must_use]
pub fn is_flat_twin(section: &Section) -> bool {
    section.construction == Construction::FlatTwin
}
