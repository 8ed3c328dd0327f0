//! What a circuit's design expects of a reading, at the temperature at which it is taken.
//!
//! The design's figures are at 20 °C and hot; a test is made at some ambient temperature. Each conductor's own
//! coefficient takes its resistance there: R(θ) = R20·(β + θ)/(β + 20), β of its material (IEC 60364-5-54 Annex A,
//! from memory; supported by a published example, see `vectors/readings.json`).

use crate::check::disconnection;
use crate::conductor::{self, Material, ac_factor, exact_temperature_factor};
use crate::facts::{ARMOUR_AC, CircuitFacts, section_facts};
use crate::impedance::Z;
use crate::network::{Circuit, CircuitId, Part, Protective, Section, Shape};
use crate::profile::Profile;
use crate::quantity::{Celsius, SquareMm};
use crate::source::Source;
use crate::verdict::{Outcome, Place, Worst};

/// A circuit as designed, what feeds it, and the temperature of its conductors while it is tested.
#[derive(Clone, Copy, Debug)]
pub struct Design<'a> {
    /// Choices.
    pub profile: &'a Profile,
    /// What feeds it.
    pub source: &'a Source,
    /// The circuit.
    pub circuit: &'a Circuit,
    /// Its figures, from the walk.
    pub facts: &'a CircuitFacts,
    /// The temperature of its conductors during the test.
    pub ambient: Celsius,
}

/// End-to-end resistances of a ring, or of any run, in ohms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ends {
    /// r1, line.
    pub line: f32,
    /// rn, neutral.
    pub neutral: f32,
    /// r2, protective conductor.
    pub protective: f32,
}

/// The largest Zs of a circuit, conductors hot, in ohms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MaxZs {
    /// The one the design rests on.
    pub limit: f32,
    /// It is by an RCD.
    pub by_rcd: bool,
    /// That of the overcurrent device, where its curve is known there.
    pub of_device: Option<f32>,
    /// That of the best of the RCDs, where there is one.
    pub of_rcd: Option<f32>,
}

/// A figure of the design to look for on the display, in ohms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Expected {
    /// R1 + R2 to the furthest point.
    R1R2,
    /// R1 to the furthest point.
    R1,
    /// R2 to the furthest point.
    R2,
    /// r1 of a ring, end to end.
    LineEnds,
    /// rn of a ring, end to end.
    NeutralEnds,
    /// r2 of a ring, end to end.
    ProtectiveEnds,
    /// At every socket of a ring, line and neutral cross-connected.
    CrossedNeutral,
    /// At the middle of a ring, line and protective conductor cross-connected.
    CrossedProtective,
    /// Armour, end to end.
    Armour,
    /// Zs at the furthest point.
    Zs,
    /// Largest R1 + R2.
    MaxR1R2,
    /// Largest Zs, as read cold.
    MaxZs,
}

impl Expected {
    /// Every figure.
    pub const ALL: [Expected; 12] = [
        Expected::R1R2,
        Expected::R1,
        Expected::R2,
        Expected::LineEnds,
        Expected::NeutralEnds,
        Expected::ProtectiveEnds,
        Expected::CrossedNeutral,
        Expected::CrossedProtective,
        Expected::Armour,
        Expected::Zs,
        Expected::MaxR1R2,
        Expected::MaxZs,
    ];

    /// It is a limit, not a value.
    #[must_use]
    pub const fn is_limit(self) -> bool {
        matches!(self, Expected::MaxR1R2 | Expected::MaxZs)
    }
}

/// A resistance taken from one temperature to another by the exact coefficient.
///
/// ```
/// use faultpath::{conductor::Material, quantity::Celsius, reading::design::at_temperature};
/// let theta = |t| Celsius::new(t).unwrap();
/// let r = at_temperature(Material::Copper, 100.0, theta(30.0), theta(20.0));
/// assert!((r - 96.22).abs() < 0.005);
/// ```
#[must_use]
pub fn at_temperature(material: Material, ohms: f32, from: Celsius, to: Celsius) -> f32 {
    ohms * exact_temperature_factor(material, to) / exact_temperature_factor(material, from)
}

/// At which temperature resistances are wanted.
#[derive(Clone, Copy)]
enum At {
    /// All at one, d.c.
    Ambient(Celsius),
    /// Each at its own in service, d.c.
    Hot,
    /// The same with the a.c. factors, as in Zs.
    HotAc,
}

/// One conductor: its d.c. resistance at 20 °C, and what changes it.
#[derive(Clone, Copy)]
struct Metal {
    r20: f32,
    material: Material,
    csa: Option<SquareMm>,
    hot: f32,
    armour_ac: bool,
}

impl Metal {
    fn at(&self, at: At) -> f32 {
        let theta = match at {
            At::Ambient(t) => t,
            At::Hot | At::HotAc => Celsius::raw(self.hot),
        };
        let r = self.r20 * exact_temperature_factor(self.material, theta);
        match (at, self.csa) {
            (At::HotAc, Some(csa)) => r * ac_factor(self.material, csa, theta).unwrap_or(f32::NAN),
            (At::HotAc, None) if self.armour_ac => r * ARMOUR_AC,
            _ => r,
        }
    }
}

fn table(material: Material, csa: SquareMm, length: f32) -> f32 {
    conductor::resistance_20(material, csa).map_or(f32::NAN, |r| r.get() * length / 1000.0)
}

/// Resistances of one section, or of several.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Sum {
    line: f32,
    neutral: f32,
    protective: f32,
    /// A section without a protective conductor is among them.
    bare: bool,
}

impl Sum {
    fn plus(self, other: Self) -> Self {
        Self {
            line: self.line + other.line,
            neutral: self.neutral + other.neutral,
            protective: self.protective + other.protective,
            bare: self.bare || other.bare,
        }
    }

    fn quarter(self) -> Self {
        Self {
            line: 0.25 * self.line,
            neutral: 0.25 * self.neutral,
            protective: 0.25 * self.protective,
            bare: self.bare,
        }
    }
}

fn section_at(section: &Section, loaded: u8, at: At) -> (Sum, f32) {
    let length = section.length.get();
    let own = |csa| Metal {
        r20: table(section.material, csa, length),
        material: section.material,
        csa: Some(csa),
        hot: section.operating().get(),
        armour_ac: false,
    };
    let place = Place::Circuit(CircuitId(0));
    let facts = section_facts(section, loaded, 0, place, &mut Worst(Outcome::Pass));
    let ac = section.csa.get() > 16.0;
    let hot = |n: usize| facts.strands.get(n).map_or(f32::NAN, |s| s.initial);
    let steel = |r20: f32, armour: bool| Metal {
        r20,
        material: Material::Steel,
        csa: None,
        hot: hot(0),
        armour_ac: armour && ac,
    };
    let whole = facts.protective.map(|p| p.cold.r);
    let protective = match (section.protective, whole) {
        (Protective::Core(c) | Protective::Separate(c), Some(r20)) => Some(
            Metal {
                r20,
                material: c.material,
                csa: Some(c.csa),
                hot: hot(0),
                armour_ac: false,
            }
            .at(at),
        ),
        (Protective::Armour(_), Some(r20)) => Some(steel(r20, true).at(at)),
        (Protective::Enclosure(_), Some(r20)) => Some(steel(r20, false).at(at)),
        (Protective::ArmourAndCore(_, c), Some(r20)) => {
            let core = table(c.material, c.csa, length);
            // Both in parallel are `r20`.
            let armour = r20 * core / (core - r20);
            let a = steel(armour, true).at(at);
            let b = Metal {
                r20: core,
                material: c.material,
                csa: Some(c.csa),
                hot: hot(1),
                armour_ac: false,
            }
            .at(at);
            Some(a * b / (a + b))
        }
        (Protective::None, _) | (_, None) => None,
    };
    let sum = Sum {
        line: own(section.csa).at(at),
        neutral: own(section.neutral_csa()).at(at),
        protective: protective.unwrap_or(0.0),
        bare: protective.is_none(),
    };
    let loop_hot = facts.protective.unwrap_or(crate::impedance::Pair::ZERO) + facts.line;
    (sum, loop_hot.hot.magnitude())
}

impl Design<'_> {
    /// A figure at the ambient temperature, in ohms; none where it is not known, or there is no such thing.
    #[must_use]
    pub fn expected(&self, figure: Expected) -> Option<f32> {
        let ring = || match self.circuit.shape {
            Shape::Ring => self.ends(),
            Shape::Radial => None,
        };
        match figure {
            Expected::R1R2 => self.r1r2(),
            Expected::R1 => self.r1(),
            Expected::R2 => self.r2(),
            Expected::LineEnds => ring().map(|e| e.line),
            Expected::NeutralEnds => ring().map(|e| e.neutral),
            Expected::ProtectiveEnds => ring().map(|e| e.protective),
            Expected::CrossedNeutral => ring().map(|e| super::ring::expected(e.line, e.neutral).1),
            Expected::CrossedProtective => {
                ring().map(|e| super::ring::expected(e.line, e.protective).1)
            }
            Expected::Armour => self.armour(),
            Expected::Zs => self.zs(),
            Expected::MaxR1R2 => self.max_r1r2(),
            Expected::MaxZs => self.zs_cold(self.max_zs()?.limit),
        }
    }

    fn run(&self, at: At) -> Sum {
        let mut sum = Sum::default();
        for s in &self.circuit.sections {
            if s.part == Part::Run {
                sum = sum.plus(section_at(s, self.circuit.loaded(), at).0);
            }
        }
        sum
    }

    /// To the furthest point: the run, a quarter of a ring, and the worst spur.
    fn furthest(&self, at: At) -> Sum {
        let mut sum = self.run(at);
        if self.circuit.shape == Shape::Ring {
            sum = sum.quarter();
        }
        let mut worst: Option<(Sum, f32)> = None;
        for s in &self.circuit.sections {
            if s.part == Part::Spur {
                let (own, z) = section_at(s, self.circuit.loaded(), at);
                if own.bare {
                    sum.bare = true;
                }
                if worst.is_none_or(|(_, most)| z > most) {
                    worst = Some((own, z));
                }
            }
        }
        match worst {
            Some((spur, _)) => sum.plus(spur),
            None => sum,
        }
    }

    fn with_protective(sum: Sum) -> Option<Sum> {
        let sound = !sum.bare && (sum.line + sum.neutral + sum.protective).is_finite();
        sound.then_some(sum)
    }

    /// R1 + R2 to the furthest point at the ambient temperature, in ohms.
    #[must_use]
    pub fn r1r2(&self) -> Option<f32> {
        let s = Self::with_protective(self.furthest(At::Ambient(self.ambient)))?;
        Some(s.line + s.protective)
    }

    /// R2 to the furthest point at the ambient temperature, in ohms.
    #[must_use]
    pub fn r2(&self) -> Option<f32> {
        let s = Self::with_protective(self.furthest(At::Ambient(self.ambient)))?;
        Some(s.protective)
    }

    /// R1 to the furthest point at the ambient temperature, in ohms.
    #[must_use]
    pub fn r1(&self) -> Option<f32> {
        let r = self.furthest(At::Ambient(self.ambient)).line;
        r.is_finite().then_some(r)
    }

    /// Line and neutral together to the furthest point at the ambient temperature, in ohms.
    #[must_use]
    pub fn r1rn(&self) -> Option<f32> {
        let s = self.furthest(At::Ambient(self.ambient));
        let r = s.line + s.neutral;
        r.is_finite().then_some(r)
    }

    /// End-to-end resistances of the run at the ambient temperature, spurs left out.
    #[must_use]
    pub fn ends(&self) -> Option<Ends> {
        let s = Self::with_protective(self.run(At::Ambient(self.ambient)))?;
        Some(Ends {
            line: s.line,
            neutral: s.neutral,
            protective: s.protective,
        })
    }

    /// Armour of the run at the ambient temperature, in ohms, whatever it serves for: by the standard's table, or
    /// as entered.
    #[must_use]
    pub fn armour(&self) -> Option<f32> {
        let mut sum = 0.0;
        for s in &self.circuit.sections {
            if s.part != Part::Run {
                continue;
            }
            let per_km = match s.protective {
                Protective::Armour(Some(steel)) | Protective::ArmourAndCore(Some(steel), _) => {
                    steel.resistance
                }
                _ if s.construction == conductor::Construction::Armoured => {
                    conductor::armour(s.csa, s.cores, s.insulation)
                        .ok()?
                        .resistance_20
                }
                _ => return None,
            };
            sum += per_km.get() * s.length.get() / 1000.0;
        }
        let r = sum * exact_temperature_factor(Material::Steel, self.ambient);
        (r > 0.0 && r.is_finite()).then_some(r)
    }

    /// R1 + R2 in service over R1 + R2 at the ambient temperature, never below 1.
    #[must_use]
    pub fn hot_factor(&self) -> Option<f32> {
        let cold = Self::with_protective(self.furthest(At::Ambient(self.ambient)))?;
        let hot = self.furthest(At::Hot);
        let f = (hot.line + hot.protective) / (cold.line + cold.protective);
        f.is_finite().then_some(f.max(1.0))
    }

    /// The same of line and neutral.
    #[must_use]
    pub fn hot_factor_neutral(&self) -> Option<f32> {
        let cold = self.furthest(At::Ambient(self.ambient));
        let hot = self.furthest(At::Hot);
        let f = (hot.line + hot.neutral) / (cold.line + cold.neutral);
        f.is_finite().then_some(f.max(1.0))
    }

    /// The conductors' part of the loop, upstream too: at the ambient temperature and hot, d.c., in ohms.
    ///
    /// What upstream is made of is not known here: the metal that warms most is taken.
    fn conductors(&self) -> Option<(f32, f32)> {
        let up = self.source.line + self.source.protective;
        let coldest = [Material::Copper, Material::Aluminium, Material::Steel]
            .map(|m| exact_temperature_factor(m, self.ambient))
            .into_iter()
            .fold(f32::INFINITY, f32::min);
        let cold = Self::with_protective(self.furthest(At::Ambient(self.ambient)))?;
        let hot = self.furthest(At::Hot);
        Some((
            cold.line + cold.protective + up.cold.r * coldest,
            hot.line + hot.protective + up.hot.r,
        ))
    }

    /// Zs the design expects at the ambient temperature, in ohms.
    #[must_use]
    pub fn zs(&self) -> Option<f32> {
        let external = self.source.loop_external?;
        let own = Self::with_protective(self.furthest(At::Ambient(self.ambient)))?;
        let up = self.source.line + self.source.protective;
        let r = own.line
            + own.protective
            + up.cold.r * exact_temperature_factor(Material::Copper, self.ambient);
        let x = up.hot.x + self.own_reactance();
        let z = external.largest_with(Z { r, x });
        z.is_finite().then_some(z)
    }

    fn own_reactance(&self) -> f32 {
        self.facts.line.hot.x + self.facts.protective.map_or(0.0, |p| p.hot.x)
    }

    /// The largest Zs the check of disconnection rests on: that of the device where the design disconnects by it,
    /// that of the RCD only where it does not. Where Zs of the design is not known: the device's, in TT the RCD's.
    #[must_use]
    pub fn max_zs(&self) -> Option<MaxZs> {
        let limits = disconnection::limits(self.profile, self.source, self.circuit)?;
        let (limit, by_rcd) = limits.rests_on(self.facts.zs, self.source.earthing)?;
        limit.is_finite().then_some(MaxZs {
            limit,
            by_rcd,
            of_device: limits.device.map(|(z, _)| z),
            of_rcd: limits.rcd.map(|(z, _)| z),
        })
    }

    /// What a Zs read at the ambient temperature is with the conductors hot, in ohms.
    ///
    /// Only the conductors' part warms: Zs + (f − 1)·part, f being hot over cold of the design's conductors from
    /// the origin. The part is what the reading has beyond the supply's loop, and never less than the design's
    /// conductors have (a supply may be better than it was taken to be); where the loop is not known, all of it.
    /// Adding resistances to a magnitude is never too little.
    #[must_use]
    pub fn zs_hot(&self, zs: f32) -> Option<f32> {
        let (cold, hot) = self.conductors()?;
        let f = (hot / cold).max(1.0);
        let supply = self.source.loop_external.map_or(0.0, |e| e.magnitude);
        let part = (zs - supply).max(zs.min(cold));
        let z = zs + (f - 1.0) * part;
        z.is_finite().then_some(z)
    }

    /// The largest reading at the ambient temperature with which Zs, hot, is `limit` at most: the other way round.
    #[must_use]
    pub fn zs_cold(&self, limit: f32) -> Option<f32> {
        let (cold, hot) = self.conductors()?;
        let f = (hot / cold).max(1.0);
        let supply = self.source.loop_external.map_or(0.0, |e| e.magnitude);
        // Where the part is what is beyond the supply; where it is the design's; where it is all.
        let beyond = (limit + (f - 1.0) * supply) / f;
        let designed = limit - (f - 1.0) * cold;
        let all = limit / f;
        let by_design = if designed >= cold { designed } else { all };
        let z = beyond.min(by_design);
        z.is_finite().then_some(z)
    }

    /// The largest R1 + R2 at the ambient temperature with which the circuit, hot, stays within its largest Zs;
    /// zero where the loop up to the board leaves no room.
    #[must_use]
    pub fn max_r1r2(&self) -> Option<f32> {
        let external = self.source.loop_external?;
        let up = (self.source.line + self.source.protective).hot;
        let x_own = self.own_reactance();
        let limit = self.max_zs()?.limit;
        // |(R + r) + j(X + x)| ≤ limit, with the supply's part a vector where its angle is known.
        let (room, r, x) = match external.parts() {
            Some(z) => (limit, z.r + up.r, z.x + up.x + x_own),
            None => (limit - external.magnitude, up.r, up.x + x_own),
        };
        let square = room * room - x * x;
        if room <= 0.0 || square <= 0.0 {
            return Some(0.0);
        }
        let hot = libm::sqrtf(square) - r;
        let cold = Self::with_protective(self.furthest(At::Ambient(self.ambient)))?;
        let warm = self.furthest(At::HotAc);
        let f = ((warm.line + warm.protective) / (cold.line + cold.protective)).max(1.0);
        let most = hot / f;
        most.is_finite().then_some(most.max(0.0))
    }

    /// The largest Ze with which this circuit, as designed and hot, stays within its largest Zs: what is left of
    /// the limit beside the magnitude of the conductors. Zero where nothing is.
    #[must_use]
    pub fn max_ze(&self) -> Option<f32> {
        let limit = self.max_zs()?.limit;
        let up = (self.source.line + self.source.protective).hot;
        let own = self.facts.line.hot + self.facts.protective?.hot;
        let left = limit - (up + own).magnitude();
        left.is_finite().then_some(left.max(0.0))
    }
}
