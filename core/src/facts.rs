//! The figures of a circuit that the checks hold against limits: computed once, from a source and a
//! circuit, with every step on record where steps are wanted.

use crate::cable::Capacity;
use crate::conductor::{self, Material};
use crate::device::Device;
use crate::error::Error;
use crate::impedance::{Pair, Z};
use crate::network::{Circuit, Demand, Part, Phase, Protective, SECTIONS, Section, Shape, Steel};
use crate::profile::Profile;
use crate::quantity::{Celsius, SquareMm};
use crate::source::{Drop, Here, Source, between, larger};
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
    /// Resistance of the line conductor at 20 °C, in Ω/km.
    pub(crate) line_20: f32,
    /// The temperature its conductors may reach in service, in °C.
    pub(crate) operating: f32,
    /// Protective conductor; none where there is none.
    pub protective: Option<Pair>,
    /// Its metal paths.
    pub strands: Vec<Strand, 2>,
}

/// Figures of a circuit. One that rests on a figure of the profile that is not known is no number.
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

/// Figures of a board, or of the supply; no number as those of a circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardFacts {
    /// Demand with diversity by line, in amperes; none where a load is not known.
    pub demand: Option<[f32; 3]>,
    /// What is between one line and neutral of it, by diversity among itself.
    pub single: Option<[f32; 3]>,
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
pub(crate) fn note<R: Recorder + ?Sized, const N: usize>(
    rec: &mut R,
    spot: Spot,
    rule: Rule,
    value: f32,
    unit: Unit,
    operands: [f32; N],
) {
    note_all(rec, spot, rule, value, unit, &operands);
}

fn note_all<R: Recorder + ?Sized>(
    rec: &mut R,
    spot: Spot,
    rule: Rule,
    value: f32,
    unit: Unit,
    operands: &[f32],
) {
    if rec.wants_steps() {
        let mut all = [0.0; 6];
        for (to, from) in all.iter_mut().zip(operands) {
            *to = *from;
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

/// What flows in a circuit, by line.
///
/// Amperes are added up as they stand, which is never too little for a device or a cable; the active and the
/// reactive part are kept apart, so that the drop of loads of unlike power factors is that of their phasors.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Flow {
    /// Current by line; of a single-phase circuit only its own is above zero.
    pub amps: [f32; 3],
    /// Its active part.
    pub active: [f32; 3],
    /// Its reactive part.
    pub reactive: [f32; 3],
}

impl Flow {
    /// A current at a power factor in the lines named.
    #[must_use]
    pub fn new(amps: [f32; 3], power_factor: f32) -> Self {
        let sin = sqrtf((1.0 - power_factor * power_factor).max(0.0));
        let [a, b, c] = amps;
        let part = |share: f32| [a * share, b * share, c * share];
        Self {
            amps,
            active: part(power_factor),
            reactive: part(sin),
        }
    }

    /// The largest line current.
    #[must_use]
    pub fn largest(&self) -> f32 {
        let [a, b, c] = self.amps;
        a.max(b).max(c)
    }

    /// Both together.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        let add = |a: [f32; 3], b: [f32; 3]| {
            let mut out = a;
            for (to, i) in out.iter_mut().zip(b) {
                *to += i;
            }
            out
        };
        Self {
            amps: add(self.amps, other.amps),
            active: add(self.active, other.active),
            reactive: add(self.reactive, other.reactive),
        }
    }

    /// Of one line: current, active, reactive.
    fn of(&self, line: usize) -> (f32, f32, f32) {
        let at = |a: &[f32; 3]| a.get(line).copied().unwrap_or(0.0);
        (at(&self.amps), at(&self.active), at(&self.reactive))
    }

    /// The current of a neutral that has this back, as line `line` sees it: the sum of the three phasors, 120° apart,
    /// its active and reactive part along that line's voltage. Nothing where the three are equal.
    fn neutral_seen_from(&self, line: usize) -> (f32, f32) {
        const SIN_120: f32 = 0.866_025_4;
        let (_, a0, q0) = self.of(line);
        let (_, a1, q1) = self.of((line + 1) % 3);
        let (_, a2, q2) = self.of((line + 2) % 3);
        (
            a0 - 0.5 * (a1 + a2) + SIN_120 * (q2 - q1),
            q0 - 0.5 * (q1 + q2) + SIN_120 * (a1 - a2),
        )
    }
}

/// What is drawn behind a circuit that feeds boards.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Drawn {
    /// All of it.
    pub all: Flow,
    /// What is between one line and neutral of it, by diversity among itself: that comes back by the neutral. A load
    /// on three lines may come first of its class on one of them and behind others on the next, and what is allowed
    /// for it there alone is no current that the neutral is spared.
    pub single: Flow,
}

impl Drawn {
    /// Of what is on three lines nothing comes back by the neutral.
    #[must_use]
    pub fn new(all: Flow, three: bool) -> Self {
        let single = if three { Flow::default() } else { all };
        Self { all, single }
    }

    /// Both together.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        Self {
            all: self.all.plus(&other.all),
            single: self.single.plus(&other.single),
        }
    }
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
    derived: Option<&Drawn>,
) -> Option<Flow> {
    let pf = circuit.load.power_factor.get();
    let three = circuit.phase == Phase::Three;
    let own = match circuit.load.demand {
        Demand::Current(i) => i.get(),
        Demand::Power(p) if three => p.get() / (3.0 * source.u0 * pf),
        Demand::Power(p) => p.get() / (source.u0 * pf),
        // A board behind one line has its demand on that line.
        Demand::Derived => return derived.map(|d| d.all),
        Demand::NotKnown => return None,
    };
    let line = line_index(source, circuit.phase);
    let on = |k| if three || k == line { own } else { 0.0 };
    Some(Flow::new([on(0), on(1), on(2)], pf))
}

/// A length of one conductor, looked up once.
struct Wire {
    material: Material,
    csa: SquareMm,
    length: f32,
    /// At 20 °C, in Ω/km.
    r20: f32,
}

impl Wire {
    fn new(material: Material, csa: SquareMm, length: f32) -> Self {
        // Sizes were checked with the network; were one not, the answer must not be a pass.
        let r20 = conductor::resistance_20(material, csa).map_or(f32::NAN, |r| r.get());
        Self {
            material,
            csa,
            length,
            r20,
        }
    }

    /// Resistance at a temperature in ohms, a.c.: r·L/1000·F~.
    fn ac(&self, theta: f32) -> f32 {
        let r = self.r20 * conductor::temperature_factor(self.material, Celsius::raw(theta));
        r * self.length / 1000.0 * conductor::ac_factor_by(self.csa, r)
    }

    fn pair(&self, theta: f32, reactance: f32) -> Pair {
        Pair {
            hot: Z {
                r: self.ac(theta),
                x: reactance * self.length / 1000.0,
            },
            // For the largest current: d.c., and no reactance, as less than the upper figures is always possible.
            cold: Z {
                r: self.r20 * self.length / 1000.0,
                x: 0.0,
            },
        }
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
/// (BS 7671 Table 54.2); the ambient one where that is higher.
pub const SEPARATE_INITIAL: f32 = 30.0;
/// Temperature armour may reach, in °C (BS 7671 Table 54.4).
pub const ARMOUR_FINAL: f32 = 200.0;

/// The protective conductor of a section, and its metal paths, of which there were none.
fn protective(section: &Section, operating: f32, strands: &mut Vec<Strand, 2>) -> Option<Pair> {
    let length = section.length.get();
    let steel = match section.protective {
        Protective::Armour(entered) | Protective::ArmourAndCore(entered, _) => {
            let own = armour_of(section, entered)?;
            Some((own, ARMOUR_BELOW, ARMOUR_FINAL, section.csa.get() > 16.0))
        }
        Protective::Enclosure(own) => {
            let last = section.insulation.final_temperature(section.csa).get();
            Some((own, ENCLOSURE_BELOW, last, false))
        }
        Protective::None | Protective::Core(_) | Protective::Separate(_) => None,
    };
    let core = match section.protective {
        Protective::Core(own) | Protective::ArmourAndCore(_, own) => Some((own, operating, true)),
        Protective::Separate(own) => {
            let theta = SEPARATE_INITIAL.max(section.laying.ambient.get());
            Some((own, theta, false))
        }
        Protective::None | Protective::Armour(_) | Protective::Enclosure(_) => None,
    };
    // No more paths than there is room for.
    let steel = steel.map(|(own, below, last, ac)| {
        let initial = operating - below;
        let _ = strands.push(Strand {
            material: Material::Steel,
            area: own.area.map(SquareMm::get),
            share: 1.0,
            initial,
            last,
            in_cable: true,
        });
        steel_pair(own, initial, length, ac)
    });
    let core = core.map(|(own, initial, in_cable)| {
        let _ = strands.push(Strand {
            material: own.material,
            area: Some(own.csa.get()),
            share: 1.0,
            initial,
            last: section.insulation.final_temperature(own.csa).get(),
            in_cable,
        });
        let reactance = conductor::reactance(own.csa, section.construction).get();
        Wire::new(own.material, own.csa, length).pair(initial, reactance)
    });
    let (Some(zs), Some(zc)) = (steel, core) else {
        return steel.or(core);
    };
    // Hot or cold the larger share of each counts, so that neither is judged too kindly.
    let share = |one: Z, other: Z| other.magnitude() / (one + other).magnitude();
    if let [of_steel, of_core] = strands.as_mut_slice() {
        of_steel.share = share(zs.hot, zc.hot).max(share(zs.cold, zc.cold));
        of_core.share = share(zc.hot, zs.hot).max(share(zc.cold, zs.cold));
    }
    Some(Pair {
        hot: parallel(zs.hot, zc.hot),
        cold: parallel(zs.cold, zc.cold),
    })
}

/// Figures of one section, for a number of loaded conductors.
pub(crate) fn section_facts<R: Recorder + ?Sized>(
    section: &Section,
    loaded: u8,
    index: u8,
    place: Place,
    rec: &mut R,
) -> SectionFacts {
    let mut out = SectionFacts::live(section, loaded);
    out.add_protective(section);
    out.note(section, index, place, rec);
    out
}

impl SectionFacts {
    /// Capacity and live conductors, before the protective conductor is looked at.
    #[inline]
    fn live(section: &Section, loaded: u8) -> Self {
        let length = section.length.get();
        let operating = section.operating().get();
        let x = |csa| conductor::reactance(csa, section.construction).get();
        let of = |csa| Wire::new(section.material, csa, length);
        let wire = of(section.csa);
        let line = wire.pair(operating, x(section.csa));
        let n = section.neutral_csa();
        Self {
            capacity: crate::cable::capacity(
                section.material,
                section.csa,
                section.insulation,
                section.operating_limit,
                section.construction,
                loaded,
                &section.laying,
            ),
            line,
            neutral: if n == section.csa {
                line
            } else {
                of(n).pair(operating, x(n))
            },
            line_20: wire.r20,
            operating,
            protective: None,
            strands: Vec::new(),
        }
    }

    /// The protective conductor, where all of it is kept: moved once more it takes a tenth of the time of a check.
    fn add_protective(&mut self, section: &Section) {
        self.protective = protective(section, self.operating, &mut self.strands);
    }

    /// Records what leads to them.
    fn note<R: Recorder + ?Sized>(&self, section: &Section, index: u8, place: Place, rec: &mut R) {
        if !rec.wants_steps() {
            return;
        }
        let length = section.length.get();
        let operating = self.operating;
        let n = section.neutral_csa();
        let x = |csa| conductor::reactance(csa, section.construction).get();
        let cap = Spot::at(place, Topic::Capacity).of(index);
        if let Ok(c) = &self.capacity {
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
        for (rule, csa) in [(Rule::RLine, section.csa), (Rule::RNeutral, n)] {
            note_resistance(rec, res, rule, section.material, csa, operating, length);
            let reactance = x(csa);
            if reactance > 0.0 {
                let all = reactance * length / 1000.0;
                note(
                    rec,
                    res,
                    Rule::Reactance,
                    all,
                    Unit::Ohm,
                    [reactance, length],
                );
            }
        }
        match section.protective {
            Protective::Core(c) | Protective::Separate(c) | Protective::ArmourAndCore(_, c) => {
                let theta = self.strands.last().map_or(operating, |s| s.initial);
                note_resistance(
                    rec,
                    res,
                    Rule::RProtective,
                    c.material,
                    c.csa,
                    theta,
                    length,
                );
            }
            _ => {}
        }
        let steel = match section.protective {
            Protective::Armour(entered) | Protective::ArmourAndCore(entered, _) => {
                armour_of(section, entered).map(|s| (s, ARMOUR_BELOW, section.csa.get() > 16.0))
            }
            Protective::Enclosure(s) => Some((s, ENCLOSURE_BELOW, false)),
            _ => None,
        };
        if let Some((s, below, ac)) = steel {
            let z = steel_pair(s, operating - below, length, ac).hot;
            let theta = Celsius::raw(operating - below);
            let factor = conductor::temperature_factor(Material::Steel, theta);
            let more = if ac { ARMOUR_AC } else { 1.0 };
            let operands = [s.resistance.get(), length, factor, more];
            note(rec, res, Rule::RSteel, z.r, Unit::Ohm, operands);
            if z.x > 0.0 {
                note(
                    rec,
                    res,
                    Rule::Reactance,
                    z.x,
                    Unit::Ohm,
                    [ARMOUR_REACTANCE, length],
                );
            }
        }
        if let (Some(z), Protective::ArmourAndCore(..)) = (self.protective, section.protective) {
            let operands = [z.hot.r, z.hot.x];
            note(
                rec,
                res,
                Rule::RParallel,
                z.hot.magnitude(),
                Unit::Ohm,
                operands,
            );
        }
    }
}

/// Records R = r·L/1000·Fθ·F~ of a conductor.
fn note_resistance<R: Recorder + ?Sized>(
    rec: &mut R,
    spot: Spot,
    rule: Rule,
    material: Material,
    csa: SquareMm,
    theta: f32,
    length: f32,
) {
    let (Ok(r), Ok(ac)) = (
        conductor::resistance_20(material, csa),
        conductor::ac_factor(material, csa, Celsius::raw(theta)),
    ) else {
        return;
    };
    let factor = conductor::temperature_factor(material, Celsius::raw(theta));
    let hot = Wire::new(material, csa, length).ac(theta);
    note(
        rec,
        spot,
        rule,
        hot,
        Unit::Ohm,
        [r.get(), length, factor, ac],
    );
}

/// Average share of the design current that a length [a, b] of a run of length `total` carries, where n
/// equal points are evenly spread, the last at its end.
pub(crate) fn carried(a: f32, b: f32, total: f32, n: u8) -> f32 {
    if n <= 1 || b <= a {
        return 1.0;
    }
    let count = f32::from(n);
    let mut sum = 0.0;
    for i in 1..=n {
        let at = total * f32::from(i) / count;
        sum += between(at - a, 0.0, b - a);
    }
    sum / (count * (b - a))
}

/// The loop of a ring: the points on it evenly spaced by length, a single one in its middle, and where they are in
/// shares of what is spread over it.
struct Loop<'a> {
    circuit: &'a Circuit,
    /// Of all sections, spurs too.
    weights: &'a [f32],
    length: f32,
    weight: f32,
    points: u8,
}

impl<'a> Loop<'a> {
    fn new(circuit: &'a Circuit, weights: &'a [f32]) -> Self {
        let mut all = Self {
            circuit,
            weights,
            length: 0.0,
            weight: 0.0,
            points: circuit.load.points,
        };
        for (s, own) in circuit.sections.iter().zip(weights) {
            if s.part == Part::Run {
                all.length += s.length.get();
                all.weight += own;
            }
        }
        all
    }

    /// Share of the weight up to a length along it.
    fn share_at(&self, at: f32) -> f32 {
        let mut length = 0.0;
        let mut sum = 0.0;
        for (s, weight) in self.circuit.sections.iter().zip(self.weights) {
            if s.part == Part::Run {
                sum += between((at - length) / s.length.get(), 0.0, 1.0) * weight;
                length += s.length.get();
            }
        }
        sum / self.weight
    }

    /// How far along point `i`, counted from 1, is.
    fn length_of(&self, i: u8) -> f32 {
        self.length * f32::from(i) / (f32::from(self.points) + 1.0)
    }

    /// Drop at the share `v` over that of all of the load through all of the loop.
    ///
    /// Both ends are at one potential, so the influence of a current at w on a point at v is
    /// min(w, v)·(1 − max(w, v)).
    fn drop_at(&self, v: f32) -> f32 {
        if self.points <= 1 {
            return 0.5f32.min(v) * (1.0 - 0.5f32.max(v));
        }
        let mut sum = 0.0;
        for i in 1..=self.points {
            let w = self.share_at(self.length_of(i));
            sum += w.min(v) * (1.0 - w.max(v));
        }
        sum / f32::from(self.points)
    }

    /// The worst of them: 1/4 with all in the middle, towards 1/8 for many points.
    fn worst(&self) -> f32 {
        if self.points <= 1 {
            return RING_MIDDLE;
        }
        let mut worst: f32 = 0.0;
        for j in 1..=self.points {
            worst = worst.max(self.drop_at(self.share_at(self.length_of(j))));
        }
        worst
    }
}

/// Share of the impedance of a whole loop that two halves in parallel have, at its middle.
pub(crate) const RING_MIDDLE: f32 = 0.25;

/// A point along a circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Along {
    /// The section it is in, or at the end of.
    pub section: u8,
    /// How far from the board along the run, in metres; of a spur from the run.
    pub length: f32,
    /// Drop from the board, in volts; of a spur from the run.
    pub volts: f32,
}

/// Tells how the drop grows along a circuit whose sections have these drops, in volts, as the working has them:
/// straight between the points told, which are the ends of sections and where load is taken off. A ring comes back to
/// nothing. A spur is told by its end.
///
/// A section that has no drop told is left out.
pub fn drop_along(circuit: &Circuit, volts: &[f32], tell: &mut dyn FnMut(Along)) {
    let n = circuit.load.points;
    let ring = circuit.shape == Shape::Ring;
    let whole = Loop::new(circuit, volts);
    let total = whole.length;
    let worst = if ring { whole.worst() } else { 1.0 };
    let taken = |i: u8| {
        if ring {
            whole.length_of(i)
        } else {
            total * f32::from(i) / f32::from(n)
        }
    };
    let (mut from, mut before) = (0.0, 0.0);
    for (section, (s, own)) in (0u8..).zip(circuit.sections.iter().zip(volts)) {
        if s.part == Part::Spur {
            tell(Along {
                section,
                length: s.length.get(),
                volts: *own,
            });
            continue;
        }
        let to = from + s.length.get();
        let all = carried(from, to, total, n) * (to - from);
        let at = |x: f32| {
            if ring {
                whole.weight * whole.drop_at(whole.share_at(x)) / worst
            } else {
                before + own * (carried(from, x, total, n) * (x - from) / all)
            }
        };
        let inside = (1..=n).map(taken).filter(|x| *x > from && *x < to);
        for length in inside.chain(core::iter::once(to)) {
            let volts = at(length);
            tell(Along {
                section,
                length,
                volts,
            });
        }
        before += own;
        from = to;
    }
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

fn to_furthest(source: &Source, circuit: &Circuit, sections: &[SectionFacts]) -> Sums {
    let mut line = Pair::ZERO;
    let mut neutral = Pair::ZERO;
    let mut protective = Some(Pair::ZERO);
    let both = |a: Option<Pair>, b: Option<Pair>| Some(a? + b?);
    let mut branched = false;
    for (s, f) in circuit.sections.iter().zip(sections) {
        if s.part == Part::Spur {
            branched = true;
            continue;
        }
        line = line + f.line;
        neutral = neutral + f.neutral;
        protective = both(protective, f.protective);
    }
    if circuit.shape == Shape::Ring {
        line = line.times(RING_MIDDLE);
        neutral = neutral.times(RING_MIDDLE);
        protective = protective.map(|p| p.times(RING_MIDDLE));
    }
    if !branched {
        return Sums {
            line,
            neutral,
            protective,
        };
    }
    // The spur with the greatest loop, all that is upstream counted: of two that are alike the angle decides.
    let upstream = source.line.hot + source.protective.hot;
    let run = upstream + line.hot + protective.unwrap_or(Pair::ZERO).hot;
    let mut spur: Option<(&SectionFacts, f32)> = None;
    let mut whole = protective;
    let spurs = circuit.sections.iter().zip(sections);
    for (_, f) in spurs.filter(|(s, _)| s.part == Part::Spur) {
        whole = both(whole, f.protective);
        let z = run + (f.line + f.protective.unwrap_or(Pair::ZERO)).hot;
        let loop_of = match source.loop_external {
            Some(external) => external.largest_with(z),
            None => z.magnitude(),
        };
        if spur.is_none_or(|(_, other)| loop_of > other) {
            spur = Some((f, loop_of));
        }
    }
    protective = whole.and(protective);
    if let Some((f, _)) = spur {
        line = line + f.line;
        neutral = neutral + f.neutral;
        protective = both(protective, f.protective);
    }
    Sums {
        line,
        neutral,
        protective,
    }
}

/// Temperature of the conductors at a current: θa + (θmax − θa)·(I/Iz)².
fn load_temperature(section: &Section, operating: f32, iz: f32, i: f32) -> f32 {
    let ambient = section.laying.ambient.get();
    let ratio = i / iz;
    ambient + (operating - ambient) * ratio * ratio
}

/// Resistance of line and neutral of a section taken to another temperature.
fn at_temperature(own: &SectionFacts, section: &Section, theta: f32) -> (f32, f32) {
    let (material, length) = (section.material, section.length.get());
    let wire = Wire {
        material,
        csa: section.csa,
        length,
        r20: own.line_20,
    };
    let line = wire.ac(theta);
    let n = section.neutral_csa();
    if n == section.csa {
        (line, line)
    } else {
        (line, Wire::new(material, n, length).ac(theta))
    }
}

/// Drop of the circuit's own sections: at the end of the run by line, and what a spur adds.
#[derive(Default)]
struct OwnDrop {
    run: Drop,
    spur_full: f32,
    spur_load: f32,
}

/// What a neutral has of the flow in a circuit.
#[derive(Clone, Copy)]
pub(crate) enum Back<'a> {
    /// All of it: one line and neutral.
    Own,
    /// Nothing: a load on three lines.
    Nothing,
    /// What the lines of a feed do not balance.
    Of(&'a Flow),
}

impl<'a> Back<'a> {
    pub fn of(circuit: &Circuit, derived: Option<&'a Drawn>) -> Self {
        match (circuit.phase, circuit.load.demand, derived) {
            (Phase::Three, Demand::Derived, Some(d)) => Back::Of(&d.single),
            (Phase::Three, ..) => Back::Nothing,
            _ => Back::Own,
        }
    }
}

/// Drop along one line of a section: its own part and the neutral's.
fn line_drop(flow: &Flow, back: Back<'_>, line: usize, z_line: Z, z_neutral: Z) -> f32 {
    let (_, active, reactive) = flow.of(line);
    let own = active * z_line.r + reactive * z_line.x;
    let (active, reactive) = match back {
        Back::Own => return own + active * z_neutral.r + reactive * z_neutral.x,
        Back::Nothing => return own,
        Back::Of(single) => single.neutral_seen_from(line),
    };
    let neutral = active * z_neutral.r + reactive * z_neutral.x;
    // What the other lines take back may be switched off.
    own + neutral.max(0.0)
}

/// Adds to what is there.
fn own_drop<R: Recorder + ?Sized>(
    circuit: &Circuit,
    sections: &[SectionFacts],
    flow: &Flow,
    back: Back<'_>,
    place: Place,
    out: &mut OwnDrop,
    rec: &mut R,
) {
    let three = circuit.phase == Phase::Three;
    let ring = circuit.shape == Shape::Ring;
    let n = circuit.load.points;
    let largest = flow.largest();
    // The line that carries most, for spurs and for the working.
    let main = (0..3).find(|k| flow.of(*k).0 == largest).unwrap_or(0);
    let (_, active, reactive) = flow.of(main);
    let (cos, sin) = (active / largest, reactive / largest);
    let total = circuit
        .sections
        .iter()
        .filter(|s| s.part == Part::Run)
        .fold(0.0, |sum, s| sum + s.length.get());
    // Resistance of line and neutral of every section at the temperature of the load; the reactance stays.
    let mut loaded: Vec<(f32, f32), SECTIONS> = Vec::new();
    // The current that heats it.
    let heating = |s: &Section| match (s.part, ring) {
        (Part::Spur, _) => spur_current(s, largest),
        // Half of the load comes from either side.
        (Part::Run, true) => 0.5 * largest,
        (Part::Run, false) => largest,
    };
    for (index, (s, f)) in (0u8..).zip(circuit.sections.iter().zip(sections)) {
        let spot = Spot::at(place, Topic::Drop).of(index);
        // Where the capacity is not known, full temperature stands for that of the load.
        let r = match &f.capacity {
            Ok(c) => {
                let (i, iz) = (heating(s), c.effective.get());
                let theta = load_temperature(s, f.operating, iz, i);
                let ambient = s.laying.ambient.get();
                note(
                    rec,
                    spot,
                    Rule::LoadTemperature,
                    theta,
                    Unit::Celsius,
                    [ambient, f.operating, i, iz],
                );
                at_temperature(f, s, theta)
            }
            Err(_) => (f.line.hot.r, f.neutral.hot.r),
        };
        // As many as there are sections.
        let _ = loaded.push(r);
    }
    let (mut ring_full, mut ring_load) = (1.0, 1.0);
    if ring {
        // Over I·Z of the whole loop, by what is in each section.
        let mut weights: Vec<f32, SECTIONS> = Vec::new();
        for f in sections {
            let _ = weights.push((f.line.hot + f.neutral.hot).magnitude());
        }
        ring_full = Loop::new(circuit, &weights).worst();
        for (weight, (f, (line, neutral))) in weights.iter_mut().zip(sections.iter().zip(&loaded)) {
            let x = (f.line.hot + f.neutral.hot).x;
            let r = line + neutral;
            *weight = Z { r, x }.magnitude();
        }
        ring_load = Loop::new(circuit, &weights).worst();
    }
    let mut from = 0.0;
    let all = circuit.sections.iter().zip(sections).zip(&loaded);
    for (index, ((s, f), load)) in (0u8..).zip(all) {
        let spot = Spot::at(place, Topic::Drop).of(index);
        let heating = heating(s);
        let hot = (f.line.hot, f.neutral.hot);
        let with = |z: Z, r| Z { r, ..z };
        let load = (with(hot.0, load.0), with(hot.1, load.1));
        match s.part {
            Part::Spur => {
                let z = hot.0 + hot.1;
                let full = heating * (cos * z.r + sin * z.x);
                let at_load = load.0 + load.1;
                let loaded = heating * (cos * at_load.r + sin * at_load.x);
                note(
                    rec,
                    spot,
                    Rule::DropSingle,
                    full,
                    Unit::Volt,
                    [heating, z.r, cos, z.x, sin],
                );
                // Each spur hangs on the run by itself: the worst one counts.
                out.spur_full = out.spur_full.max(full);
                out.spur_load = out.spur_load.max(loaded);
            }
            Part::Run => {
                let to = from + s.length.get();
                let (share, load_share) = if ring {
                    (ring_full, ring_load)
                } else {
                    let share = carried(from, to, total, n);
                    (share, share)
                };
                from = to;
                let lines = out.run.full.iter_mut().zip(out.run.load.iter_mut());
                for (k, (full, loaded)) in lines.enumerate() {
                    if flow.of(k).0 > 0.0 {
                        *full += share * line_drop(flow, back, k, hot.0, hot.1);
                        *loaded += load_share * line_drop(flow, back, k, load.0, load.1);
                    }
                }
                if rec.wants_steps() {
                    let volts = share * line_drop(flow, back, main, hot.0, hot.1);
                    if three {
                        let own = active * hot.0.r + reactive * hot.0.x;
                        let neutral = volts / share - own;
                        note(
                            rec,
                            spot,
                            Rule::DropThree,
                            volts,
                            Unit::Volt,
                            [share, own, neutral],
                        );
                    } else {
                        let z = hot.0 + hot.1;
                        let rule = if ring {
                            Rule::DropRing
                        } else {
                            Rule::DropSingle
                        };
                        note(
                            rec,
                            spot,
                            rule,
                            volts,
                            Unit::Volt,
                            [share * largest, z.r, cos, z.x, sin],
                        );
                    }
                }
            }
        }
    }
}

/// All figures of a circuit.
///
/// `derived` is the demand by line of what hangs on it, for a distribution circuit. Those of its sections go where the
/// caller has room for them: by value they would be on the stack twice.
///
/// Not a part of the walk: what is far down a large frame takes longer instructions.
#[inline(never)]
pub(crate) fn circuit_facts<R: Recorder + ?Sized>(
    here: &Here<'_>,
    circuit: &Circuit,
    derived: Option<&Drawn>,
    place: Place,
    sections: &mut Vec<SectionFacts, SECTIONS>,
    rec: &mut R,
) -> CircuitFacts {
    let Here {
        profile, source, ..
    } = *here;
    sections.clear();
    for (index, s) in (0u8..).zip(circuit.sections.iter()) {
        // As many as the circuit has; both hold `SECTIONS`.
        if sections
            .push(SectionFacts::live(s, circuit.loaded()))
            .is_err()
        {
            break;
        }
        if let Some(f) = sections.last_mut() {
            f.add_protective(s);
            f.note(s, index, place, rec);
        }
    }
    let rating = circuit.device.rating().get();
    let currents = currents(source, circuit, derived);
    let ib = currents.map(|c| c.largest());
    if rec.wants_steps() {
        note_load(source, circuit, ib, place, rec);
    }

    let mut iz: Option<f32> = None;
    for (s, f) in circuit.sections.iter().zip(&*sections) {
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

    let sums = to_furthest(source, circuit, sections);
    let spot = Spot::at(place, Topic::Loop);
    let r1r2_cold = sums.protective.map(|p| {
        let (r1, r2) = (sums.line.cold.r, p.cold.r);
        let spot = Spot::at(place, Topic::Cold);
        note(rec, spot, Rule::R1R2Cold, r1 + r2, Unit::Ohm, [r1, r2]);
        r1 + r2
    });
    note(
        rec,
        Spot::at(place, Topic::Rated),
        Rule::Rated,
        rating,
        Unit::Ampere,
        [],
    );
    let zs = match (source.loop_external, sums.protective) {
        (Some(external), Some(p)) => {
            let upstream = source.line.hot + source.protective.hot;
            let own = sums.line.hot + p.hot;
            let zs = external.largest_with(upstream + own);
            if rec.wants_steps() {
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
            Spot::at(place, Topic::Smallest),
            Rule::IfMin,
            i,
            Unit::Ampere,
            [profile.cmin, source.u0, z],
        );
        i
    });

    let ipf_max = here.largest();
    if rec.wants_steps() {
        note_largest(profile, source, place, rec);
    }

    let mut assumed = Assumed::empty();
    if circuit.phase == Phase::Three
        && matches!(circuit.load.demand, Demand::Current(_) | Demand::Power(_))
    {
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
        let mut own = OwnDrop::default();
        let back = Back::of(circuit, derived);
        own_drop(circuit, sections, &currents, back, place, &mut own, rec);
        let mut lines = before;
        let mut full: f32 = 0.0;
        let mut load: f32 = 0.0;
        let mut at_board: f32 = 0.0;
        let mut at_board_load: f32 = 0.0;
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
                if *l + own.spur_load > load {
                    at_board_load = of(&before.load);
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
        note(
            rec,
            Spot::at(place, Topic::LoadDrop),
            Rule::DropTotal,
            load,
            Unit::Volt,
            [at_board_load, load - at_board_load],
        );
        let drop = deciding(profile, full, load);
        note_share(source.u0, drop, place, rec);
        facts.drop_full = Some(full);
        facts.drop_load = Some(load);
        facts.drop = Some(drop);
        facts.drop_lines = Some(lines);
    }
    facts
}

/// The drop that decides: by full temperature, unless the profile asks for that of the load; an overloaded
/// cable is hotter than its full temperature and never counts less.
pub(crate) fn deciding(profile: &Profile, full: f32, load: f32) -> f32 {
    match profile.drop_basis {
        crate::profile::DropBasis::Load => load,
        crate::profile::DropBasis::Full => full.max(load),
    }
}

fn note_load<R: Recorder + ?Sized>(
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
        Demand::Derived | Demand::NotKnown => {
            note(rec, spot, Rule::IbDemand, ib, Unit::Ampere, []);
        }
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

fn note_share<R: Recorder + ?Sized>(u0: f32, drop: f32, place: Place, rec: &mut R) {
    let spot = Spot::at(place, Topic::Share);
    note(
        rec,
        spot,
        Rule::DropShare,
        drop / u0,
        Unit::Share,
        [drop, u0],
    );
}

/// Records what leads to the figures of a board, or of the supply.
pub(crate) fn note_board<R: Recorder + ?Sized>(
    profile: &Profile,
    source: &Source,
    facts: &BoardFacts,
    place: Place,
    rec: &mut R,
) {
    if !rec.wants_steps() {
        return;
    }
    if let (Some(external), Some(zs)) = (source.loop_external, facts.zs) {
        let upstream = source.line.hot + source.protective.hot;
        let operands = [
            external.magnitude,
            source.line.hot.r,
            source.protective.hot.r,
            upstream.x,
        ];
        let spot = Spot::at(place, Topic::Loop);
        note(rec, spot, Rule::ZsBoard, zs, Unit::Ohm, operands);
    }
    note_largest(profile, source, place, rec);
    if let Some([a, b, c]) = facts.drop {
        let drop = larger(larger(a, b), c);
        let spot = Spot::at(place, Topic::Drop);
        note(rec, spot, Rule::DropBoard, drop, Unit::Volt, []);
        note_share(source.u0, drop, place, rec);
    }
}

fn note_largest<R: Recorder + ?Sized>(
    profile: &Profile,
    source: &Source,
    place: Place,
    rec: &mut R,
) {
    let spot = Spot::at(place, Topic::Largest);
    let Some(supply) = source.supply_min else {
        return;
    };
    note(rec, spot, Rule::ZSupplyMin, supply.magnitude, Unit::Ohm, []);
    let line = source.line.cold;
    let with_neutral = line + source.neutral.cold;
    let operands = |z| [profile.cmax, source.u0, z];
    // The currents themselves, since a level that was stated is not worked out.
    if let (true, Some(i)) = (source.three_phase, source.ik_three(profile, Pair::ZERO)) {
        let z = operands(supply.smallest_with(line));
        note(rec, spot, Rule::IkThree, i, Unit::Ampere, z);
    }
    if let Some(i) = source.ik_neutral(profile, Pair::ZERO) {
        let z = operands(supply.smallest_with(with_neutral));
        note(rec, spot, Rule::IkNeutral, i, Unit::Ampere, z);
    }
    if let (Some(external), Some(i)) = (
        source.loop_external_min,
        source.ik_earth(profile, Pair::ZERO),
    ) {
        let z = operands(external.smallest_with(line + source.protective.cold));
        note(rec, spot, Rule::IkEarth, i, Unit::Ampere, z);
    }
}

#[cfg(test)]
mod tests;
