//! Exercises for a class, made from a seed: the figures given, the answer, what comes out by each slip that learners
//! make, and the working.
//!
//! The generator counts in whole numbers, so a set is the same on every target. Answers come of the same functions that
//! judge an installation; a slip is the same sum with one step wrong. Only sizes and ratings that are made are asked.
//!
//! ```
//! use faultpath::lesson::{exercise, Kind, Told};
//! let one = exercise(Kind::MaxZs, 4711, 0, 0);
//! assert_eq!(one.judge(one.answer), Told::Right);
//! let (slip, wrong) = one.slips[0];
//! assert!(matches!(one.judge(wrong), Told::Slips(all) if all.contains(slip)));
//! ```

use crate::conductor::{self, Insulation, Material};
use crate::device::{Curve, Device, Family, max_zs};
use crate::facts::{RING_MIDDLE, carried};
use crate::impedance::{External, Z};
use crate::quantity::{Amps, Ohms, Ratio, Seconds, SquareMm, Volts};
use crate::verdict::{Rule, Unit};
use heapless::Vec;
use libm::{fabsf, sqrtf};

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// R1 + R2 of a radial circuit at 20 °C.
    R1R2,
    /// R1 + R2 of a ring at 20 °C, at its middle.
    RingR1R2,
    /// Zs, hot, from Ze and R1 + R2 at 20 °C.
    Zs,
    /// The largest Zs for a device and a time.
    MaxZs,
    /// The smallest earth fault current from Zs.
    FaultCurrent,
    /// Volt drop of a radial circuit, all of the load at its end.
    DropRadial,
    /// Volt drop of a radial circuit with equal points along it.
    DropSpread,
    /// Volt drop of a ring, all of the load at its middle.
    DropRing,
    /// Smallest size by the adiabatic equation.
    Adiabatic,
    /// Capacity as installed, Iz.
    Capacity,
    /// Tabulated capacity a cable must have, It.
    Tabulated,
    /// Design current of a single-phase load.
    DesignCurrent,
    /// Voltage that may stand on metal: RA · IΔn.
    TouchVoltage,
}

crate::list::listed! {
    Kind:
    R1R2 RingR1R2 Zs MaxZs FaultCurrent DropRadial DropSpread DropRing Adiabatic Capacity Tabulated DesignCurrent
    TouchVoltage
}

/// A figure that is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Given {
    /// Size of line (and neutral) conductor, in mm².
    Line,
    /// Size of protective conductor, in mm².
    Protective,
    /// Resistance of the line conductor at 20 °C, in Ω/km.
    LinePerKm,
    /// Resistance of the protective conductor at 20 °C, in Ω/km.
    ProtectivePerKm,
    /// Length of the circuit, in m.
    Length,
    /// Length of the whole ring, in m.
    RingLength,
    /// Ze, in Ω.
    Ze,
    /// R1 + R2 as read at 20 °C, in Ω.
    R1R2,
    /// Temperature of the conductors in service, in °C.
    Service,
    /// Factor from 20 °C to that.
    Factor,
    /// U0, in V.
    U0,
    /// cmin.
    Cmin,
    /// Rated current, in A.
    Rating,
    /// Time of disconnection, in s.
    Time,
    /// Current that disconnects in that time, in A.
    Ia,
    /// Zs, in Ω.
    Zs,
    /// Design current, in A.
    Ib,
    /// Volt drop per ampere and metre, in thousandths of a volt.
    MilliVolts,
    /// Equal points, the last at the end.
    Points,
    /// Earth fault current, in A.
    If,
    /// k.
    K,
    /// Tabulated capacity, in A.
    It,
    /// Factor of ambient temperature.
    Ca,
    /// Factor of grouping.
    Cg,
    /// Power, in W.
    Power,
    /// Power factor.
    PowerFactor,
    /// Resistance of the electrode, in Ω.
    Ra,
    /// IΔn, in A.
    Residual,
}

crate::list::listed! {
    Given:
    Line Protective LinePerKm ProtectivePerKm Length RingLength Ze R1R2 Service Factor U0 Cmin Rating Time Ia Zs Ib
    MilliVolts Points If K It Ca Cg Power PowerFactor Ra Residual
}

impl Given {
    /// Its unit; of [`Given::MilliVolts`] a thousandth of it for each ampere and metre.
    #[must_use]
    pub const fn unit(self) -> Unit {
        match self {
            Given::Line | Given::Protective => Unit::SquareMm,
            Given::LinePerKm | Given::ProtectivePerKm => Unit::OhmPerKm,
            Given::Length | Given::RingLength => Unit::Metre,
            Given::Ze | Given::R1R2 | Given::Zs | Given::Ra => Unit::Ohm,
            Given::Service => Unit::Celsius,
            Given::U0 => Unit::Volt,
            Given::Rating | Given::Ia | Given::Ib | Given::If | Given::It | Given::Residual => {
                Unit::Ampere
            }
            Given::Time => Unit::Second,
            Given::K => Unit::KFactor,
            Given::Power => Unit::Watt,
            Given::Factor
            | Given::Cmin
            | Given::MilliVolts
            | Given::Points
            | Given::Ca
            | Given::Cg
            | Given::PowerFactor => Unit::Factor,
        }
    }
}

bitflags::bitflags! {
    /// What went wrong.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Slips: u32 {
        /// A thousand times too much: mΩ for Ω, mV for V, mA for A, a kilometre's for a metre's.
        const THOUSAND = 1;
        /// A thousandth: kA for A.
        const THOUSANDTH = 1 << 1;
        /// Hot resistance where that at 20 °C is asked.
        const HOT = 1 << 2;
        /// Resistance at 20 °C where the hot one is asked.
        const COLD = 1 << 3;
        /// cmin left out.
        const NO_CMIN = 1 << 4;
        /// The voltage between lines for that to earth or neutral.
        const LINE_TO_LINE = 1 << 5;
        /// R1 only: the protective conductor left out.
        const LINE_ONLY = 1 << 6;
        /// Both ways counted where the figure has both already.
        const TWICE = 1 << 7;
        /// One conductor where both carry it.
        const ONE_WAY = 1 << 8;
        /// A ring not quartered.
        const NOT_QUARTERED = 1 << 9;
        /// A ring halved in place of quartered.
        const HALVED = 1 << 10;
        /// Ze left out.
        const NO_ZE = 1 << 11;
        /// Ze taken to the temperature of the conductors too.
        const HOT_ZE = 1 << 12;
        /// The rated current in place of the one that disconnects in time.
        const RATING = 1 << 13;
        /// All of the load taken at the far end.
        const AT_END = 1 << 14;
        /// The mean of no load and all of it, in place of that of the points.
        const MEAN = 1 << 15;
        /// The root left out.
        const NO_ROOT = 1 << 16;
        /// The current not squared.
        const NO_SQUARE = 1 << 17;
        /// The time left out.
        const NO_TIME = 1 << 18;
        /// The factor of temperature left out.
        const NO_CA = 1 << 19;
        /// The factor of grouping left out.
        const NO_CG = 1 << 20;
        /// Divided by the factors in place of multiplied.
        const DIVIDED = 1 << 21;
        /// Multiplied by the factors in place of divided.
        const MULTIPLIED = 1 << 22;
        /// The power factor left out.
        const NO_POWER_FACTOR = 1 << 23;
        /// Multiplied by the power factor in place of divided.
        const TIMES_POWER_FACTOR = 1 << 24;
        /// Five times IΔn.
        const FIVE_TIMES = 1 << 25;
    }
}

/// A formula of the working that is in no check as it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Formula {
    /// r20·L/1000.
    Cold,
    /// R1 + R2.
    Sum,
    /// (r1 + r2)/4.
    Quarter,
    /// F·(R1 + R2).
    Hot,
    /// Ze + hot R1 + R2.
    Loop,
    /// mV·Ib·L/1000.
    Table,
    /// (n + 1)/(2·n).
    Spread,
    /// Drop times that.
    SpreadDrop,
    /// Drop over four.
    RingDrop,
    /// √(I²·t)/k.
    Size,
    /// It·Ca·Cg.
    Capacity,
    /// In/(Ca·Cg).
    Tabulated,
    /// P/(U0·cosφ).
    Power,
    /// RA·IΔn.
    Touch,
}

crate::list::listed! {
    Formula: Cold Sum Quarter Hot Loop Table Spread SpreadDrop RingDrop Size Capacity Tabulated Power Touch
}

/// What a line of working goes by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// A rule of the checks.
    Rule(Rule),
    /// A formula of the lesson.
    Formula(Formula),
}

/// A line of the working.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// The formula.
    pub by: By,
    /// What comes out.
    pub value: f32,
    /// Its unit.
    pub unit: Unit,
    /// What goes in, in the order the formula names it; 0 beyond.
    pub operands: [f32; 4],
}

/// What a learner is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    /// Right.
    Right,
    /// Right but for rounding.
    Rounded,
    /// Wrong by one of these; several where they come to the same.
    Slips(Slips),
    /// Wrong in a way nobody foresaw.
    Wrong,
}

/// This near counts as right: what three figures round away.
pub const RIGHT: f32 = 0.005;
/// This near is right but for rounding: two figures, or rounded on the way.
pub const ROUNDED: f32 = 0.035;
/// This near to what a slip gives is that slip.
pub const SLIP: f32 = 0.01;
/// A slip nearer to the answer than this can't be told and is not looked for.
const APART: f32 = 0.05;

/// An exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Exercise {
    /// What is asked.
    pub kind: Kind,
    /// The device it is of, if it is of one.
    pub device: Option<Device>,
    /// What is given.
    pub given: Vec<(Given, f32), 8>,
    /// The answer, not rounded.
    pub answer: f32,
    /// Its unit.
    pub unit: Unit,
    /// What comes out by each slip that can be told.
    pub slips: Vec<(Slips, f32), 8>,
    /// The working.
    pub working: Vec<Line, 4>,
}

fn near(value: f32, to: f32, share: f32) -> bool {
    fabsf(value - to) <= share * fabsf(to)
}

impl Exercise {
    fn new(kind: Kind, unit: Unit) -> Self {
        Self {
            kind,
            device: None,
            given: Vec::new(),
            answer: f32::NAN,
            unit,
            slips: Vec::new(),
            working: Vec::new(),
        }
    }

    // Each list has room for all that is put in.
    fn give(&mut self, what: Given, value: f32) {
        let _ = self.given.push((what, value));
    }

    fn line(&mut self, by: By, value: f32, unit: Unit, operands: &[f32]) {
        let mut all = [0.0; 4];
        for (to, from) in all.iter_mut().zip(operands) {
            *to = *from;
        }
        let _ = self.working.push(Line {
            by,
            value,
            unit,
            operands: all,
        });
        // The last line is the answer.
        self.answer = value;
    }

    fn slip(&mut self, slip: Slips, value: f32) {
        if !near(value, self.answer, APART) {
            let _ = self.slips.push((slip, value));
        }
    }

    /// What a learner who enters this, in the unit of the exercise, is told.
    #[must_use]
    pub fn judge(&self, entered: f32) -> Told {
        if near(entered, self.answer, RIGHT) {
            return Told::Right;
        }
        let mut slips = Slips::empty();
        for (slip, value) in &self.slips {
            if near(entered, *value, SLIP) {
                slips |= *slip;
            }
        }
        if !slips.is_empty() {
            Told::Slips(slips)
        } else if near(entered, self.answer, ROUNDED) {
            Told::Rounded
        } else {
            Told::Wrong
        }
    }
}

/// Whole numbers from a seed.
struct Dice(u32);

impl Dice {
    /// A set, a learner and a number in it each lead to a course of their own.
    fn new(seed: u32, learner: u32, number: u32) -> Self {
        let mut dice = Self(seed);
        for more in [learner, number] {
            dice.0 = dice.next() ^ more.wrapping_mul(0x9e37_79b9);
        }
        dice
    }

    /// Splitmix, 32 bits.
    fn next(&mut self) -> u32 {
        self.0 = self.0.wrapping_add(0x9e37_79b9);
        let mut z = self.0;
        z = (z ^ (z >> 16)).wrapping_mul(0x85eb_ca6b);
        z = (z ^ (z >> 13)).wrapping_mul(0xc2b2_ae35);
        z ^ (z >> 16)
    }

    /// One of these.
    fn of<T: Copy>(&mut self, all: &[T], otherwise: T) -> T {
        let count = u32::try_from(all.len()).unwrap_or(1).max(1);
        let at = usize::try_from(self.next() % count).unwrap_or(0);
        all.get(at).copied().unwrap_or(otherwise)
    }

    /// A whole number from `low` to `high`, over `parts`.
    fn between(&mut self, low: u16, high: u16, parts: u16) -> f32 {
        let span = u32::from(high.saturating_sub(low)) + 1;
        let more = u16::try_from(self.next() % span).unwrap_or(0);
        f32::from(low.saturating_add(more)) / f32::from(parts)
    }
}

/// Nominal voltages: line to earth and between lines.
const U0: f32 = 230.0;
const U: f32 = 400.0;
/// cmin of the United Kingdom's profile.
const CMIN: f32 = 0.95;

fn per_km(csa: f32) -> f32 {
    conductor::resistance_20(Material::Copper, SquareMm::raw(csa)).map_or(f32::NAN, |r| r.get())
}

/// The factor from 20 °C to service, and that temperature.
fn service(dice: &mut Dice) -> (f32, f32) {
    let insulation = dice.of(
        &[Insulation::Thermoplastic70, Insulation::Thermosetting90],
        Insulation::Thermoplastic70,
    );
    let theta = insulation.max_operating();
    (
        theta.get(),
        conductor::temperature_factor(Material::Copper, theta),
    )
}

/// Sizes up to 16 mm², where resistance alone counts.
const SIZES: [(f32, f32); 7] = [
    (1.0, 1.0),
    (1.5, 1.0),
    (2.5, 1.5),
    (4.0, 1.5),
    (6.0, 2.5),
    (10.0, 4.0),
    (16.0, 6.0),
];

/// One exercise of a set: `learner` 0 where all have the same numbers.
#[must_use]
pub fn exercise(kind: Kind, seed: u32, learner: u32, number: u32) -> Exercise {
    let mut dice = Dice::new(seed, learner, number);
    let dice = &mut dice;
    match kind {
        Kind::R1R2 => r1r2(dice),
        Kind::RingR1R2 => ring_r1r2(dice),
        Kind::Zs => zs(dice),
        Kind::MaxZs => largest_zs(dice),
        Kind::FaultCurrent => fault_current(dice),
        Kind::DropRadial | Kind::DropSpread | Kind::DropRing => drop(kind, dice),
        Kind::Adiabatic => adiabatic(dice),
        Kind::Capacity => capacity(dice),
        Kind::Tabulated => tabulated(dice),
        Kind::DesignCurrent => design_current(dice),
        Kind::TouchVoltage => touch_voltage(dice),
    }
}

/// Cold R1 and R2 of a length: each with its line of working.
fn cold(x: &mut Exercise, line: f32, protective: f32, length: f32) -> (f32, f32) {
    let (r1, r2) = (per_km(line), per_km(protective));
    for (what, value) in [
        (Given::Line, line),
        (Given::Protective, protective),
        (Given::LinePerKm, r1),
        (Given::ProtectivePerKm, r2),
    ] {
        x.give(what, value);
    }
    let of = |r: f32| r * length / 1000.0;
    for r in [r1, r2] {
        x.line(By::Formula(Formula::Cold), of(r), Unit::Ohm, &[r, length]);
    }
    (of(r1), of(r2))
}

fn r1r2(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::R1R2, Unit::Ohm);
    let (line, protective) = dice.of(&SIZES, (2.5, 1.5));
    let length = dice.between(8, 60, 1);
    let (r1, r2) = cold(&mut x, line, protective, length);
    x.give(Given::Length, length);
    let sum = r1 + r2;
    x.line(By::Formula(Formula::Sum), sum, Unit::Ohm, &[r1, r2]);
    let (_, factor) = service(dice);
    x.slip(Slips::THOUSAND, 1000.0 * sum);
    x.slip(Slips::HOT, factor * sum);
    x.slip(Slips::LINE_ONLY, r1);
    x.slip(Slips::TWICE, 2.0 * sum);
    x
}

fn ring_r1r2(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::RingR1R2, Unit::Ohm);
    let (line, protective) = dice.of(&[(2.5, 1.5), (4.0, 1.5)], (2.5, 1.5));
    let length = dice.between(30, 100, 1);
    let (r1, r2) = cold(&mut x, line, protective, length);
    x.give(Given::RingLength, length);
    let sum = (r1 + r2) * RING_MIDDLE;
    x.line(By::Formula(Formula::Quarter), sum, Unit::Ohm, &[r1, r2]);
    let (_, factor) = service(dice);
    x.slip(Slips::NOT_QUARTERED, r1 + r2);
    x.slip(Slips::HALVED, 0.5 * (r1 + r2));
    x.slip(Slips::LINE_ONLY, r1 * RING_MIDDLE);
    x.slip(Slips::HOT, factor * sum);
    x.slip(Slips::THOUSAND, 1000.0 * sum);
    x
}

fn zs(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::Zs, Unit::Ohm);
    let ze = dice.between(10, 80, 100);
    let r = dice.between(20, 180, 100);
    let (theta, factor) = service(dice);
    x.give(Given::Ze, ze);
    x.give(Given::R1R2, r);
    x.give(Given::Service, theta);
    x.give(Given::Factor, factor);
    let hot = factor * r;
    // As where the supply's angle is not known: the magnitudes are summed.
    let external = External {
        magnitude: ze,
        x_over_r: None,
    };
    let all = external.largest_with(Z { r: hot, x: 0.0 });
    x.line(By::Formula(Formula::Hot), hot, Unit::Ohm, &[factor, r]);
    x.line(By::Formula(Formula::Loop), all, Unit::Ohm, &[ze, hot]);
    x.slip(Slips::COLD, ze + r);
    x.slip(Slips::NO_ZE, hot);
    x.slip(Slips::HOT_ZE, factor * (ze + r));
    x.slip(Slips::THOUSAND, 1000.0 * all);
    x
}

fn largest_zs(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::MaxZs, Unit::Ohm);
    let family = dice.of(
        &[
            Family::Breaker(Curve::B),
            Family::Breaker(Curve::C),
            Family::Breaker(Curve::D),
            Family::Bs88_2,
            Family::Bs3036,
        ],
        Family::Breaker(Curve::B),
    );
    let fuse = matches!(family, Family::Bs88_2 | Family::Bs3036);
    let rating = if fuse {
        let most = if family == Family::Bs3036 { 30.0 } else { 32.0 };
        let made = Device::ratings(family);
        let few = made.iter().filter(|r| **r <= most && **r >= 4.0).count();
        let skip = made.iter().take_while(|r| **r < 4.0).count();
        let at = usize::from(u16::try_from(dice.next() % 97).unwrap_or(0)) % few.max(1);
        made.get(skip + at).copied().unwrap_or(20.0)
    } else {
        dice.of(&[6.0, 10.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0], 32.0)
    };
    let time = if fuse { dice.of(&[0.4, 5.0], 0.4) } else { 0.4 };
    let Ok(device) = Device::new(family, Amps::raw(rating)) else {
        return x;
    };
    x.device = Some(device);
    let t = Seconds::raw(time);
    let known = max_zs(&device, t, Volts::raw(U0), Ratio::raw(CMIN));
    let (Some(zs), Some(ia)) = (
        known.value().map(Ohms::get),
        device.disconnecting_current(t).value().map(Amps::get),
    ) else {
        return x;
    };
    x.give(Given::Rating, rating);
    x.give(Given::Time, time);
    // That of a breaker is known by its type.
    if fuse {
        x.give(Given::Ia, ia);
    }
    x.give(Given::U0, U0);
    x.give(Given::Cmin, CMIN);
    x.line(By::Rule(Rule::Ia), ia, Unit::Ampere, &[time]);
    x.line(By::Rule(Rule::MaxZs), zs, Unit::Ohm, &[CMIN, U0, ia]);
    x.slip(Slips::NO_CMIN, zs / CMIN);
    x.slip(Slips::LINE_TO_LINE, CMIN * U / ia);
    x.slip(Slips::RATING, CMIN * U0 / rating);
    x.slip(Slips::THOUSAND, 1000.0 * zs);
    x
}

fn fault_current(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::FaultCurrent, Unit::Ampere);
    let zs = dice.between(25, 250, 100);
    x.give(Given::Zs, zs);
    x.give(Given::U0, U0);
    x.give(Given::Cmin, CMIN);
    let i = CMIN * U0 / zs;
    x.line(By::Rule(Rule::IfMin), i, Unit::Ampere, &[CMIN, U0, zs]);
    x.slip(Slips::NO_CMIN, U0 / zs);
    x.slip(Slips::LINE_TO_LINE, CMIN * U / zs);
    x.slip(Slips::THOUSANDTH, i / 1000.0);
    x
}

fn drop(kind: Kind, dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(kind, Unit::Volt);
    let ring = kind == Kind::DropRing;
    let (size, _) = if ring {
        dice.of(&[(2.5, 1.5), (4.0, 1.5)], (2.5, 1.5))
    } else {
        dice.of(&SIZES, (2.5, 1.5))
    };
    let (_, factor) = service(dice);
    // Line and neutral, in mΩ/m; two figures more than tables print.
    let milli = libm::roundf(200.0 * per_km(size) * factor) / 100.0;
    let length = if ring {
        dice.between(30, 90, 1)
    } else {
        dice.between(8, 50, 1)
    };
    let ib = if ring {
        dice.between(12, 28, 1)
    } else {
        dice.between(4, 25, 1)
    };
    x.give(Given::Line, size);
    x.give(Given::MilliVolts, milli);
    x.give(Given::Ib, ib);
    x.give(
        if ring {
            Given::RingLength
        } else {
            Given::Length
        },
        length,
    );
    let all = milli * ib * length / 1000.0;
    x.line(
        By::Formula(Formula::Table),
        all,
        Unit::Volt,
        &[milli, ib, length],
    );
    match kind {
        Kind::DropRing => {
            let volts = all * RING_MIDDLE;
            x.line(By::Formula(Formula::RingDrop), volts, Unit::Volt, &[all]);
            x.slip(Slips::NOT_QUARTERED, all);
            x.slip(Slips::HALVED, 0.5 * all);
            x.slip(Slips::THOUSAND, 1000.0 * volts);
        }
        Kind::DropSpread => {
            let n = dice.of(&[3u8, 4, 5, 6, 8, 10], 4);
            let points = f32::from(n);
            x.give(Given::Points, points);
            let share = carried(0.0, length, length, n);
            x.line(By::Formula(Formula::Spread), share, Unit::Factor, &[points]);
            let volts = share * all;
            x.line(
                By::Formula(Formula::SpreadDrop),
                volts,
                Unit::Volt,
                &[share, all],
            );
            x.slip(Slips::AT_END, all);
            x.slip(Slips::MEAN, 0.5 * all);
            x.slip(Slips::THOUSAND, 1000.0 * volts);
            x.slip(Slips::TWICE, 2.0 * volts);
        }
        _ => {
            x.slip(Slips::THOUSAND, 1000.0 * all);
            x.slip(Slips::TWICE, 2.0 * all);
            x.slip(Slips::ONE_WAY, 0.5 * all);
        }
    }
    x
}

fn adiabatic(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::Adiabatic, Unit::SquareMm);
    let i = dice.between(20, 250, 1) * 10.0;
    let t = dice.of(&[0.1, 0.2, 0.4, 1.0, 5.0], 0.4);
    // Whole numbers, as tables print k.
    let k = dice.of(&[115.0, 143.0, 176.0], 115.0);
    x.give(Given::If, i);
    x.give(Given::Time, t);
    x.give(Given::K, k);
    let size = sqrtf(i * i * t) / k;
    x.line(By::Formula(Formula::Size), size, Unit::SquareMm, &[i, t, k]);
    x.slip(Slips::NO_ROOT, i * i * t / k);
    x.slip(Slips::NO_SQUARE, sqrtf(i * t) / k);
    x.slip(Slips::NO_TIME, i / k);
    x.slip(Slips::THOUSAND, sqrtf(i * i * t * 1000.0) / k);
    x
}

/// Factors as tables print them (BS 7671 Tables 4B1 and 4C1, from memory).
const CA: [f32; 4] = [0.94, 0.87, 0.79, 0.71];
const CG: [f32; 4] = [0.8, 0.7, 0.65, 0.6];

fn capacity(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::Capacity, Unit::Ampere);
    let it = dice.of(
        &[16.5, 20.0, 23.0, 27.0, 30.0, 37.0, 40.0, 47.0, 64.0, 85.0],
        27.0,
    );
    let (ca, cg) = (dice.of(&CA, 0.87), dice.of(&CG, 0.7));
    x.give(Given::It, it);
    x.give(Given::Ca, ca);
    x.give(Given::Cg, cg);
    let iz = it * ca * cg;
    x.line(
        By::Formula(Formula::Capacity),
        iz,
        Unit::Ampere,
        &[it, ca, cg],
    );
    x.slip(Slips::NO_CA, it * cg);
    x.slip(Slips::NO_CG, it * ca);
    x.slip(Slips::DIVIDED, it / (ca * cg));
    x
}

fn tabulated(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::Tabulated, Unit::Ampere);
    let rating = dice.of(&[6.0, 10.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0], 20.0);
    let (ca, cg) = (dice.of(&CA, 0.87), dice.of(&CG, 0.7));
    x.give(Given::Rating, rating);
    x.give(Given::Ca, ca);
    x.give(Given::Cg, cg);
    let it = rating / (ca * cg);
    x.line(
        By::Formula(Formula::Tabulated),
        it,
        Unit::Ampere,
        &[rating, ca, cg],
    );
    x.slip(Slips::NO_CA, rating / cg);
    x.slip(Slips::NO_CG, rating / ca);
    x.slip(Slips::MULTIPLIED, rating * ca * cg);
    x
}

fn design_current(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::DesignCurrent, Unit::Ampere);
    let power = dice.between(4, 70, 1) * 100.0;
    let pf = dice.of(&[0.7, 0.75, 0.8, 0.85, 0.9], 0.8);
    x.give(Given::Power, power);
    x.give(Given::PowerFactor, pf);
    x.give(Given::U0, U0);
    let ib = power / (U0 * pf);
    x.line(
        By::Formula(Formula::Power),
        ib,
        Unit::Ampere,
        &[power, U0, pf],
    );
    x.slip(Slips::NO_POWER_FACTOR, power / U0);
    x.slip(Slips::TIMES_POWER_FACTOR, power * pf / U0);
    x.slip(Slips::LINE_TO_LINE, power / (U * pf));
    x.slip(Slips::THOUSANDTH, ib / 1000.0);
    x
}

fn touch_voltage(dice: &mut Dice) -> Exercise {
    let mut x = Exercise::new(Kind::TouchVoltage, Unit::Volt);
    let ra = dice.between(2, 40, 1) * 5.0;
    let residual = dice.of(&[0.03, 0.1, 0.3, 0.5], 0.1);
    x.give(Given::Ra, ra);
    x.give(Given::Residual, residual);
    let volts = ra * residual;
    x.line(
        By::Formula(Formula::Touch),
        volts,
        Unit::Volt,
        &[ra, residual],
    );
    x.slip(Slips::THOUSAND, 1000.0 * volts);
    x.slip(Slips::FIVE_TIMES, 5.0 * volts);
    x
}

#[cfg(test)]
mod tests;
