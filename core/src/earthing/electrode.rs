//! Resistance of an earth electrode from the resistivity of the soil, and the reverse.
//!
//! The formulas are of uniform soil. Where several forms are in use, the one that gives more resistance is
//! taken, and the doc comment says what the other would give.
//!
//! ```
//! use faultpath::earthing::electrode::Rod;
//! use faultpath::quantity::{Metres, OhmMetres};
//! let rod = Rod::new(Metres::new(1.8).unwrap(), Metres::new(0.019).unwrap()).unwrap();
//! let r = rod.resistance(OhmMetres::new(180.0).unwrap());
//! assert!((r.get() - 89.6).abs() < 0.05);
//! ```

use super::{Formula, Worked, greatest, least};
use crate::error::{Error, Field, Reason};
use crate::quantity::{Amps, Metres, OhmMetres, Ohms, Ratio, Volts};
use crate::verdict::Unit;
use core::f32::consts::PI;
use libm::{cbrtf, logf, sqrtf};

/// Above this an electrode's resistance may not stay what it was, in ohms (common practice; BS 7671
/// Table 41.5 note, from memory).
pub const STABLE: f32 = 200.0;

/// Most rods in a line: as far as the table of BS 7430 goes.
pub const LINE_MAX: u8 = 10;
/// Most rods along a side of a hollow square: as far as the table of BS 7430 goes.
pub const SIDE_MAX: u8 = 20;

fn within(value: f32, from: f32, to: f32, field: Field) -> Result<(), Error> {
    if value < from {
        Err(Reason::TooSmall.at(field))
    } else if value > to {
        Err(Reason::TooLarge.at(field))
    } else {
        Ok(())
    }
}

/// Soil, by what is typically found of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Soil {
    /// Clay.
    Clay,
    /// Sandy clay.
    SandyClay,
    /// Surface soil, loam.
    SurfaceSoil,
    /// Moist gravel.
    MoistGravel,
    /// Dry gravel.
    DryGravel,
    /// Limestone.
    Limestone,
    /// Sandstone.
    Sandstone,
    /// Granite.
    Granite,
    /// Concrete.
    Concrete,
}

impl Soil {
    /// Every one.
    pub const ALL: [Soil; 9] = [
        Soil::Clay,
        Soil::SandyClay,
        Soil::SurfaceSoil,
        Soil::MoistGravel,
        Soil::DryGravel,
        Soil::Limestone,
        Soil::Sandstone,
        Soil::Granite,
        Soil::Concrete,
    ];

    /// The range that is typically found, lowest and highest (quoted from IEEE 142 and BS 7430 in *Earth Rod
    /// Electrode Resistance*, section 1.1, read). A range and no default: measure.
    #[must_use]
    pub const fn typical_resistivity(self) -> (OhmMetres, OhmMetres) {
        let (from, to) = match self {
            Soil::Clay => (2.0, 100.0),
            Soil::SandyClay => (100.0, 150.0),
            Soil::SurfaceSoil => (1.0, 50.0),
            Soil::MoistGravel => (50.0, 700.0),
            Soil::DryGravel => (700.0, 1200.0),
            Soil::Limestone => (5.0, 10_000.0),
            Soil::Sandstone => (20.0, 2000.0),
            Soil::Granite => (900.0, 1100.0),
            Soil::Concrete => (300.0, 500.0),
        };
        (OhmMetres::raw(from), OhmMetres::raw(to))
    }
}

/// How many times the resistance may be, when the soil is dry or frozen, what it is on the day for which the
/// resistivity holds. Never below 1.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Season(f32);

impl Season {
    /// The resistivity is already that of the worst season.
    pub const WORST_ALREADY: Self = Self(1.0);
    /// What is typically allowed for, from and to (common practice): the dry or frozen top layer costs a rod
    /// of two metres and more little, and a shallow electrode a lot.
    pub const TYPICAL: (f32, f32) = (1.2, 2.0);

    /// Takes a factor from 1 to 5.
    ///
    /// # Errors
    /// At [`Field::Season`]: [`Reason::TooSmall`] below 1, [`Reason::TooLarge`] above 5.
    pub fn new(factor: Ratio) -> Result<Self, Error> {
        within(factor.get(), 1.0, 5.0, Field::Season)?;
        Ok(Self(factor.get()))
    }

    /// The factor.
    #[must_use]
    pub const fn get(self) -> f32 {
        self.0
    }
}

/// A rod driven upright from the surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rod {
    length: Metres,
    diameter: Metres,
}

impl Rod {
    /// Shortest rod, in metres.
    pub const LENGTH_MIN: f32 = 0.5;
    /// Longest rod, of however many pieces, in metres. Soil is not uniform further down.
    pub const LENGTH_MAX: f32 = 30.0;
    /// Its length is at least so many diameters: the formula is of a thin rod.
    pub const SLENDER: f32 = 20.0;

    /// A rod of this length in the ground and this diameter.
    ///
    /// # Errors
    /// At [`Field::Length`], [`Field::Diameter`]: [`Reason::TooSmall`], [`Reason::TooLarge`];
    /// [`Reason::OutOfTable`] where it is too thick for its length.
    pub fn new(length: Metres, diameter: Metres) -> Result<Self, Error> {
        within(
            length.get(),
            Self::LENGTH_MIN,
            Self::LENGTH_MAX,
            Field::Length,
        )?;
        within(diameter.get(), 0.005, 0.2, Field::Diameter)?;
        if length.get() < Self::SLENDER * diameter.get() {
            return Err(Reason::OutOfTable.at(Field::Diameter));
        }
        Ok(Self { length, diameter })
    }

    /// Length in the ground.
    #[must_use]
    pub const fn length(&self) -> Metres {
        self.length
    }

    /// Diameter.
    #[must_use]
    pub const fn diameter(&self) -> Metres {
        self.diameter
    }

    /// R = ρ/(2πL)·(ln(8L/d) − 1): BS 7430, IEEE 142 (the formula read, in *Earth Rod Electrode Resistance*,
    /// section 1.1).
    #[must_use]
    pub fn resistance(&self, rho: OhmMetres) -> Ohms {
        let (l, d) = (self.length.get(), self.diameter.get());
        Ohms::raw(rho.get() / (2.0 * PI * l) * (logf(8.0 * l / d) - 1.0))
    }
}

/// How several rods stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layout {
    /// So many in a straight line, evenly spaced.
    Line(u8),
    /// Along the sides of a square, so many a side, corners counted on both.
    HollowSquare(u8),
}

impl Layout {
    /// How many rods there are.
    #[must_use]
    pub const fn rods(self) -> u8 {
        match self {
            Layout::Line(n) => n,
            // At most 20 a side.
            Layout::HollowSquare(n) => n.saturating_sub(1).saturating_mul(4),
        }
    }

    /// Where rod `k` stands, in spacings.
    fn place(self, k: u8) -> (f32, f32) {
        let Layout::HollowSquare(n) = self else {
            return (f32::from(k), 0.0);
        };
        let side = n.saturating_sub(1).max(1);
        let (along, end) = (f32::from(k % side), f32::from(side));
        match k / side {
            0 => (along, 0.0),
            1 => (end, along),
            2 => (end - along, end),
            _ => (0.0, end - along),
        }
    }

    /// λ of Rn = R·(1 + λα)/n: what the other rods add to the potential of one, as a mean over all rods, in
    /// units of ρI/(2πs) a rod; rods seen as hemispheres, with equal currents.
    ///
    /// Equal currents are the worst there are, so this is not below the λ of real rods. The two tables of
    /// BS 7430 for it (from memory) are within 1.4 % of this, and lie below it.
    #[must_use]
    pub fn lambda(self) -> f32 {
        let n = self.rods();
        let mut sum = 0.0;
        for a in 0..n {
            let (xa, ya) = self.place(a);
            for b in 0..n {
                if a != b {
                    let (xb, yb) = self.place(b);
                    let (x, y) = (xa - xb, ya - yb);
                    sum += 1.0 / sqrtf(x * x + y * y);
                }
            }
        }
        sum / f32::from(n.max(1))
    }
}

/// Several equal rods, joined.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rods {
    rod: Rod,
    layout: Layout,
    spacing: Metres,
}

impl Rods {
    /// Furthest apart, in metres.
    pub const SPACING_MAX: f32 = 100.0;

    /// Rods at a distance of at least their length: nearer, they are not far enough for the formula.
    ///
    /// # Errors
    /// [`Reason::OutOfTable`] at [`Field::Spacing`] below a rod's length, at [`Field::Rods`] beyond
    /// [`LINE_MAX`], [`SIDE_MAX`] or below two a side; [`Reason::Zero`] for none; [`Reason::TooLarge`].
    pub fn new(rod: Rod, layout: Layout, spacing: Metres) -> Result<Self, Error> {
        let good = match layout {
            Layout::Line(0) | Layout::HollowSquare(0) => {
                return Err(Reason::Zero.at(Field::Rods));
            }
            Layout::Line(n) => n <= LINE_MAX,
            Layout::HollowSquare(n) => (2..=SIDE_MAX).contains(&n),
        };
        if !good {
            return Err(Reason::OutOfTable.at(Field::Rods));
        }
        if spacing.get() < rod.length.get() {
            return Err(Reason::OutOfTable.at(Field::Spacing));
        }
        if spacing.get() > Self::SPACING_MAX {
            return Err(Reason::TooLarge.at(Field::Spacing));
        }
        Ok(Self {
            rod,
            layout,
            spacing,
        })
    }

    /// How they stand.
    #[must_use]
    pub const fn layout(&self) -> Layout {
        self.layout
    }

    /// α = ρ/(2πRs): a hemisphere that does as much as one rod, in units of the distance.
    fn alpha(&self, rho: OhmMetres) -> f32 {
        let r = self.rod.resistance(rho).get();
        rho.get() / (2.0 * PI * r * self.spacing.get())
    }

    /// Rn = R·(1 + λα)/n, α = ρ/(2πRs): BS 7430 (from memory), λ as of [`Layout::lambda`].
    #[must_use]
    pub fn resistance(&self, rho: OhmMetres) -> Ohms {
        let r = self.rod.resistance(rho).get();
        let n = f32::from(self.layout.rods().max(1));
        Ohms::raw(r * (1.0 + self.layout.lambda() * self.alpha(rho)) / n)
    }
}

/// A rectangular plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    width: Metres,
    height: Metres,
}

impl Plate {
    /// A plate with sides from 0.3 to 5 m.
    ///
    /// # Errors
    /// At [`Field::Side`]: [`Reason::TooSmall`], [`Reason::TooLarge`].
    pub fn new(width: Metres, height: Metres) -> Result<Self, Error> {
        within(width.get(), 0.3, 5.0, Field::Side)?;
        within(height.get(), 0.3, 5.0, Field::Side)?;
        Ok(Self { width, height })
    }

    /// R = ρ/4·√(π/A): BS 7430 (from memory).
    ///
    /// It is that of a disc of the same area in the surface. Of all plates of one area the disc has the most
    /// resistance, and deeper it has less, down to half: this is never too little. IEC's approximation is of
    /// a deep one.
    #[must_use]
    pub fn resistance(&self, rho: OhmMetres) -> Ohms {
        Ohms::raw(0.25 * rho.get() * sqrtf(PI / self.area()))
    }

    /// In square metres.
    fn area(&self) -> f32 {
        self.width.get() * self.height.get()
    }
}

/// A conductor buried level: tape or bare wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tape {
    length: Metres,
    depth: Metres,
    /// Of the wire that does as much.
    diameter: Metres,
}

impl Tape {
    /// Its length is at least so many depths.
    pub const SLENDER: f32 = 10.0;

    fn new(length: Metres, depth: Metres, diameter: f32) -> Result<Self, Error> {
        within(length.get(), 3.0, 200.0, Field::Length)?;
        within(depth.get(), 0.3, 3.0, Field::Depth)?;
        within(diameter, 0.002, 0.1, Field::Diameter)?;
        if length.get() < Self::SLENDER * depth.get() {
            return Err(Reason::OutOfTable.at(Field::Length));
        }
        Ok(Self {
            length,
            depth,
            diameter: Metres::raw(diameter),
        })
    }

    /// A wire or bare cable of this diameter, in one straight length.
    ///
    /// # Errors
    /// At [`Field::Length`], [`Field::Depth`], [`Field::Diameter`]: [`Reason::TooSmall`],
    /// [`Reason::TooLarge`]; [`Reason::OutOfTable`] where it is shorter than ten depths.
    pub fn wire(length: Metres, depth: Metres, diameter: Metres) -> Result<Self, Error> {
        Self::new(length, depth, diameter.get())
    }

    /// A tape of this width, in one straight length. It does as much as a wire of half its width.
    ///
    /// # Errors
    /// As for [`Tape::wire`].
    pub fn strip(length: Metres, depth: Metres, width: Metres) -> Result<Self, Error> {
        Self::new(length, depth, 0.5 * width.get())
    }

    /// R = ρ/(2πL)·ln(L²/(1.83·h·d)): BS 7430 for a round conductor (from memory; the closed form for a
    /// straight wire has e²/4 = 1.85).
    ///
    /// BS 7430 has 1.36 with the width of a tape, and so about 4 % less than a wire of half the width, which
    /// is taken here.
    #[must_use]
    pub fn resistance(&self, rho: OhmMetres) -> Ohms {
        let (l, h, d) = (self.length.get(), self.depth.get(), self.diameter.get());
        Ohms::raw(rho.get() / (2.0 * PI * l) * logf(l * l / (1.83 * h * d)))
    }
}

/// A foundation of concrete in the ground, with its reinforcement joined and brought out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foundation {
    length: Metres,
    width: Metres,
    depth: Metres,
}

impl Foundation {
    /// A foundation by its sides. `in_contact`: no membrane and no insulation between concrete and soil.
    ///
    /// # Errors
    /// At [`Field::Side`]: [`Reason::TooSmall`], [`Reason::TooLarge`] beyond 0.1 to 100 m;
    /// [`Reason::Contradiction`] where it is not in contact with the soil, and so no electrode.
    pub fn new(
        length: Metres,
        width: Metres,
        depth: Metres,
        in_contact: bool,
    ) -> Result<Self, Error> {
        for side in [length, width, depth] {
            within(side.get(), 0.1, 100.0, Field::Side)?;
        }
        if !in_contact {
            return Err(Reason::Contradiction.at(Field::Side));
        }
        Ok(Self {
            length,
            width,
            depth,
        })
    }

    fn volume(&self) -> f32 {
        self.length.get() * self.width.get() * self.depth.get()
    }

    /// R = ρ/(2πr), r = ∛(3V/2π): a half ball of the same volume (own).
    ///
    /// Of all bodies of one volume that lie flush with the surface the half ball has the most resistance.
    /// It is 0.204·ρ/∛V; the approximation of IEC 60364-5-54 (from memory) is 0.2·ρ/∛V. The concrete counts
    /// as soil: it is to be no worse than what is around it.
    #[must_use]
    pub fn resistance(&self, rho: OhmMetres) -> Ohms {
        let r = cbrtf(3.0 * self.volume() / (2.0 * PI));
        Ohms::raw(rho.get() / (2.0 * PI * r))
    }
}

/// An electrode.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Electrode {
    /// One rod.
    Rod(Rod),
    /// Several rods.
    Rods(Rods),
    /// A plate.
    Plate(Plate),
    /// A tape or wire.
    Tape(Tape),
    /// A foundation.
    Foundation(Foundation),
}

impl Electrode {
    /// Its resistance in this soil, in the worst season.
    #[must_use]
    pub fn resistance(&self, rho: OhmMetres, season: Season) -> Ohms {
        Ohms::raw(self.dry(rho).get() * season.get())
    }

    /// Without the season.
    fn dry(&self, rho: OhmMetres) -> Ohms {
        match self {
            Electrode::Rod(e) => e.resistance(rho),
            Electrode::Rods(e) => e.resistance(rho),
            Electrode::Plate(e) => e.resistance(rho),
            Electrode::Tape(e) => e.resistance(rho),
            Electrode::Foundation(e) => e.resistance(rho),
        }
    }

    /// The lines that lead to its resistance, each with what goes in; the last is the resistance itself.
    pub fn work(&self, rho: OhmMetres, season: Season, mut note: impl FnMut(Worked)) {
        let p = rho.get();
        let rod = |e: &Rod| {
            let operands = [p, e.length.get(), e.diameter.get()];
            Worked::new(Formula::Rod, &operands, e.resistance(rho).get(), Unit::Ohm)
        };
        match self {
            Electrode::Rod(e) => note(rod(e)),
            Electrode::Rods(e) => {
                note(rod(&e.rod));
                let (lambda, n) = (e.layout.lambda(), f32::from(e.layout.rods().max(1)));
                note(Worked::new(Formula::Lambda, &[], lambda, Unit::Factor));
                let operands = [e.rod.resistance(rho).get(), lambda, e.alpha(rho), n];
                let r = e.resistance(rho).get();
                note(Worked::new(Formula::Rods, &operands, r, Unit::Ohm));
            }
            Electrode::Plate(e) => {
                let r = e.resistance(rho).get();
                note(Worked::new(Formula::Plate, &[p, e.area()], r, Unit::Ohm));
            }
            Electrode::Tape(e) => {
                let operands = [p, e.length.get(), e.depth.get(), e.diameter.get()];
                let r = e.resistance(rho).get();
                note(Worked::new(Formula::Tape, &operands, r, Unit::Ohm));
            }
            Electrode::Foundation(e) => {
                let r = e.resistance(rho).get();
                note(Worked::new(
                    Formula::Foundation,
                    &[p, e.volume()],
                    r,
                    Unit::Ohm,
                ));
            }
        }
        let (r, worst) = (self.dry(rho).get(), self.resistance(rho, season).get());
        let operands = [r, season.get()];
        note(Worked::new(Formula::Season, &operands, worst, Unit::Ohm));
    }

    /// The approximation of IEC 60364-5-54 (annex, from memory), as a second opinion: rod ρ/L, plate 0.8·ρ
    /// over its perimeter, level conductor 2ρ/L, foundation 0.2·ρ/∛V. None for several rods.
    #[must_use]
    pub fn approximate(&self, rho: OhmMetres) -> Option<Ohms> {
        let per_rho = match self {
            Electrode::Rod(e) => 1.0 / e.length.get(),
            Electrode::Rods(_) => return None,
            Electrode::Plate(e) => 0.4 / (e.width.get() + e.height.get()),
            Electrode::Tape(e) => 2.0 / e.length.get(),
            Electrode::Foundation(e) => 0.2 / cbrtf(e.volume()),
        };
        Some(Ohms::raw(rho.get() * per_rho))
    }
}

/// The shortest rod whose resistance in the worst season is no more than `target`; not rounded, and never a
/// hair too short. Where the shortest of all is good enough, that.
///
/// # Errors
/// What [`Rod::new`] refuses of the diameter; [`Reason::OutOfTable`] at [`Field::Length`] where the longest
/// is not enough.
pub fn rod_length(
    target: Ohms,
    diameter: Metres,
    rho: OhmMetres,
    season: Season,
) -> Result<Metres, Error> {
    let shortest = Rod::LENGTH_MIN.max(Rod::SLENDER * diameter.get());
    Rod::new(Metres::raw(shortest), diameter)?;
    let good = |length: f32| {
        let rod = Rod {
            length: Metres::raw(length),
            diameter,
        };
        Electrode::Rod(rod).resistance(rho, season).get() <= target.get()
    };
    least(shortest, Rod::LENGTH_MAX, good)
        .map(Metres::raw)
        .ok_or(Reason::OutOfTable.at(Field::Length))
}

/// The fewest rods of this kind, at this distance, whose resistance in the worst season is no more than
/// `target`. In a line from one on; in a hollow square from four on. The number in `kind` is not looked at.
///
/// # Errors
/// What [`Rods::new`] refuses; [`Reason::OutOfTable`] at [`Field::Rods`] where the most are not enough.
pub fn rods_needed(
    target: Ohms,
    rod: Rod,
    kind: Layout,
    spacing: Metres,
    rho: OhmMetres,
    season: Season,
) -> Result<Rods, Error> {
    let (first, last) = match kind {
        Layout::Line(_) => (1, LINE_MAX),
        Layout::HollowSquare(_) => (2, SIDE_MAX),
    };
    for n in first..=last {
        let layout = match kind {
            Layout::Line(_) => Layout::Line(n),
            Layout::HollowSquare(_) => Layout::HollowSquare(n),
        };
        let rods = Rods::new(rod, layout, spacing)?;
        if Electrode::Rods(rods).resistance(rho, season).get() <= target.get() {
            return Ok(rods);
        }
    }
    Err(Reason::OutOfTable.at(Field::Rods))
}

/// Touch voltage RA·IΔn, in volts (BS 7671 and IEC 60364-4-41 411.5.3, from memory).
#[must_use]
pub fn touch_voltage(ra: Ohms, residual: Amps) -> f32 {
    ra.get() * residual.get()
}

/// The largest RA with which RA·IΔn stays at or below `limit`: limit/IΔn, never a hair above.
///
/// # Errors
/// At [`Field::Ra`], [`Reason::TooSmall`] or [`Reason::TooLarge`] where it is no resistance any more.
///
/// ```
/// use faultpath::earthing::electrode::largest_ra;
/// use faultpath::quantity::{Amps, Volts};
/// let ra = largest_ra(Volts::new(50.0).unwrap(), Amps::new(0.03).unwrap()).unwrap();
/// assert!(ra.get() <= 50.0 / 0.03 && ra.get() > 1666.6);
/// ```
pub fn largest_ra(limit: Volts, residual: Amps) -> Result<Ohms, Error> {
    greatest(Ohms::MIN, Ohms::MAX, |ra| {
        touch_voltage(Ohms::raw(ra), residual) <= limit.get()
    })
    .map(Ohms::raw)
    .ok_or(Reason::TooSmall.at(Field::Ra))
}
