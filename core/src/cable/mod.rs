//! Cables as they are laid: methods of installation, current-carrying capacity, correction factors, and the
//! voltage drop per ampere and metre for comparison with print.
//!
//! Iz = It · Ca · Cg · Ci · Cs · Cd. Tables are for 30 °C in air, 20 °C in the ground, soil of 2.5 K·m/W, 0.7 m
//! deep. A size, a method or a temperature that a table does not have is an error: nothing is extrapolated.
//!
//! ```
//! use faultpath::cable::{capacity, Arrangement, Construction, Laying, Method};
//! use faultpath::conductor::{Insulation, Material};
//! use faultpath::quantity::{Celsius, SquareMm};
//! let laying = Laying {
//!     method: Method::Clipped,
//!     ambient: Celsius::new(40.0).unwrap(),
//!     grouped: 2,
//!     arrangement: Arrangement::SingleLayerWall,
//!     soil: None,
//!     depth: None,
//!     insulation_run: None,
//! };
//! let iz = capacity(
//!     Material::Copper, SquareMm::new(16.0).unwrap(), Insulation::Thermosetting90, None,
//!     Construction::Armoured, 2, &laying,
//! ).unwrap();
//! assert_eq!(iz.tabulated.get(), 110.0);
//! assert!((iz.effective.get() - 110.0 * 0.91 * 0.85).abs() < 1e-3);
//! ```

mod factors;
mod fit;
mod tables;
#[cfg(test)]
mod tests;

pub use crate::conductor::Construction;
pub use factors::{ambient_factor, depth_factor, grouping_factor, insulation_factor, soil_factor};

use crate::check::HAIR;
use crate::conductor::{self, Insulation, Material};
use crate::error::{Error, Field, Reason};
use crate::quantity::{Amps, Celsius, KelvinMetresPerWatt, Metres, SquareMm};
use libm::sqrtf;
use tables::{Flat, Pair, SIZES, Table};

/// Method of installation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Method {
    /// A: in conduit in a thermally insulated wall (A1 single cores, A2 multicore).
    InsulatedWall,
    /// B: in conduit or trunking on a wall (B1 single cores, B2 multicore).
    Conduit,
    /// C: clipped direct to a surface.
    Clipped,
    /// E, F: in free air, on perforated tray, ladder, cleats.
    Air,
    /// D1: in a duct in the ground.
    Duct,
    /// D2: direct in the ground.
    Ground,
    /// 100: flat cable above a plasterboard ceiling, covered by at most 100 mm of thermal insulation.
    CeilingThin,
    /// 101: the same, more than 100 mm.
    CeilingThick,
    /// 102: flat cable in an insulated stud wall, touching the inner surface.
    StudTouching,
    /// 103: the same, not touching.
    StudApart,
    /// Surrounded by thermal insulation for 0.5 m or more: half of method C.
    Surrounded,
}

impl Method {
    /// Whether soil is around it.
    #[must_use]
    pub const fn is_buried(self) -> bool {
        matches!(self, Method::Duct | Method::Ground)
    }
}

/// How grouped circuits lie to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Arrangement {
    /// Bunched in air, on a surface, or enclosed together.
    Bunched,
    /// A single layer on a wall or floor.
    SingleLayerWall,
    /// A single layer on perforated tray.
    SingleLayerTray,
    /// A single layer on ladder or cleats.
    Ladder,
    /// Buried, touching.
    Touching,
    /// Buried, one cable diameter apart.
    GapDiameter,
    /// Buried, this far apart.
    Gap(Metres),
}

/// How a length of cable is laid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laying {
    /// Method of installation.
    pub method: Method,
    /// Temperature of the air, or of the ground, around it.
    pub ambient: Celsius,
    /// Circuits in the group, this one included.
    pub grouped: u8,
    /// How they lie to each other.
    pub arrangement: Arrangement,
    /// Thermal resistivity of the soil, in a duct or in the ground.
    pub soil: Option<KelvinMetresPerWatt>,
    /// Depth, in a duct or in the ground.
    pub depth: Option<Metres>,
    /// Length that passes through thermal insulation.
    pub insulation_run: Option<Metres>,
}

/// Current-carrying capacity as installed, with all it is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capacity {
    /// It, as tabulated for the reference conditions.
    pub tabulated: Amps,
    /// Ca, for temperature: of the surroundings, and of a limit below the table's.
    pub ambient: f32,
    /// Cg, for grouping.
    pub grouping: f32,
    /// Ci, for thermal insulation.
    pub insulation: f32,
    /// Cs, for thermal resistivity of soil.
    pub soil: f32,
    /// Cd, for depth.
    pub depth: f32,
    /// Iz = It · Ca · Cg · Ci · Cs · Cd.
    pub effective: Amps,
}

/// Part of an impedance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Resistance r.
    R,
    /// Reactance x.
    X,
    /// Impedance z = √(r² + x²).
    Z,
}

/// The lowest limit of operating temperature that capacity is computed for, in °C.
pub const LOWEST_LIMIT: f32 = 40.0;

/// The largest flat twin, in mm² (4D5).
const FLAT_TWIN_TO: f32 = 16.0;

/// A column by size, and the index of its first size in the list of all.
type Column = (&'static [u8], usize);

fn column(
    material: Material,
    thermosetting: bool,
    pair: Pair,
    loaded: u8,
) -> Result<Column, Error> {
    fn of<const N: usize>(table: &'static Table<N>, pair: Pair, loaded: u8) -> Option<Column> {
        let columns = table.get(pair as usize)?;
        let column = columns.get(usize::from(loaded == 3))?;
        Some((column, SIZES.len() - N))
    }
    let found = match (material, thermosetting) {
        (Material::Copper, false) => of(&tables::COPPER_70, pair, loaded),
        // Those of cables that were left out are not even named, see the features.
        (Material::Copper, true) if cfg!(feature = "thermosetting") => {
            of(&tables::COPPER_90, pair, loaded)
        }
        (Material::Aluminium, false) if cfg!(feature = "aluminium") => {
            of(&tables::ALUMINIUM_70, pair, loaded)
        }
        (Material::Aluminium, true)
            if cfg!(all(feature = "aluminium", feature = "thermosetting")) =>
        {
            of(&tables::ALUMINIUM_90, pair, loaded)
        }
        _ => None,
    };
    found.ok_or(Reason::NotMade.at(Field::Material))
}

/// Whether there is a table at all; what was left out has none, see the features.
fn tabled(material: Material, thermosetting: bool) -> Result<(), Error> {
    match (material, thermosetting) {
        (Material::Copper, false) => Ok(()),
        (_, true) if !cfg!(feature = "thermosetting") => {
            Err(Reason::OutOfTable.at(Field::Insulation))
        }
        (Material::Aluminium, _) if !cfg!(feature = "aluminium") => {
            Err(Reason::OutOfTable.at(Field::Material))
        }
        (Material::Copper | Material::Aluminium, _) => Ok(()),
        (Material::Steel | Material::Lead, _) => Err(Reason::NotMade.at(Field::Material)),
    }
}

fn pair(construction: Construction, method: Method) -> Option<Pair> {
    use Construction::{Armoured, FlatTwin, Multicore, SingleCores};
    Some(match (construction, method) {
        (SingleCores, Method::InsulatedWall) => Pair::A1,
        (SingleCores, Method::Conduit) => Pair::B1,
        (SingleCores, Method::Clipped | Method::Surrounded) => Pair::SingleC,
        (SingleCores, Method::Air) => Pair::F,
        (Multicore, Method::InsulatedWall) => Pair::A2,
        (Multicore | FlatTwin, Method::Conduit) => Pair::B2,
        (Multicore, Method::Clipped | Method::Surrounded) => Pair::C,
        (Multicore | FlatTwin, Method::Air) => Pair::E,
        (SingleCores | Multicore, Method::Ground) => Pair::D2,
        (Armoured, Method::Clipped | Method::Surrounded) => Pair::ArmouredC,
        (Armoured, Method::Air) => Pair::ArmouredE,
        // BS 7671 has one column D for armoured cable, in the ground or in ducts: that of ducts, the lower.
        (SingleCores | Multicore, Method::Duct) | (Armoured, Method::Duct | Method::Ground) => {
            Pair::D1
        }
        _ => return None,
    })
}

fn flat(method: Method) -> Option<Column> {
    let column = match method {
        Method::CeilingThin => Flat::CeilingThin,
        Method::CeilingThick => Flat::CeilingThick,
        Method::StudTouching => Flat::StudTouching,
        // Half of column C, and less than that at 4 mm².
        Method::StudApart | Method::Surrounded => Flat::StudApart,
        Method::Clipped => Flat::Clipped,
        Method::InsulatedWall => Flat::InsulatedWall,
        _ => return None,
    };
    Some((tables::FLAT.get(column as usize)?, 0))
}

/// Current-carrying capacity It from the tables, in amperes, for `loaded` conductors (2 or 3).
///
/// BS 7671 Appendix 4 and IEC 60364-5-52 Annex B; which column is which and how far each was read is said in the
/// source of the tables. Some choices:
/// - [`Insulation::Thermoplastic90`] has the 70 °C tables, below its own.
/// - Armoured cable in the ground has column D of its BS table, which is that of ducts.
/// - Flat twin in conduit and in free air is a multicore cable (4D2A).
/// - [`Method::Surrounded`] is half of method C; for flat twin method 103.
/// - Single cores in free air: two touching, three in trefoil.
///
/// # Errors
/// [`Reason::OutOfTable`] at [`Field::Material`], [`Field::Insulation`] or [`Field::Construction`] for a table that was
/// left out (see the features);
/// [`Reason::NotMade`] at [`Field::Material`] for steel, lead, and flat twin of aluminium;
/// [`Reason::OutOfTable`] at [`Field::Cores`] where `loaded` is not 2 or 3 (flat twin: not 2), at
/// [`Field::Insulation`] for thermosetting flat twin, at [`Field::Method`] where the table has no such method, at
/// [`Field::Csa`] where it has no such size.
///
/// ```
/// use faultpath::cable::{tabulated, Construction, Method};
/// use faultpath::conductor::{Insulation, Material};
/// use faultpath::quantity::SquareMm;
/// let it = tabulated(
///     Material::Copper, SquareMm::new(2.5).unwrap(), Insulation::Thermoplastic70,
///     Construction::FlatTwin, Method::Clipped, 2,
/// );
/// assert_eq!(it.unwrap().get(), 27.0);
/// ```
pub fn tabulated(
    material: Material,
    csa: SquareMm,
    insulation: Insulation,
    construction: Construction,
    method: Method,
    loaded: u8,
) -> Result<Amps, Error> {
    let thermosetting = insulation == Insulation::Thermosetting90;
    tabled(material, thermosetting)?;
    if loaded != 2 && loaded != 3 {
        return Err(Reason::OutOfTable.at(Field::Cores));
    }
    let flat_column = if construction == Construction::FlatTwin {
        if !cfg!(feature = "flat-twin") {
            return Err(Reason::OutOfTable.at(Field::Construction));
        }
        if material != Material::Copper {
            return Err(Reason::NotMade.at(Field::Material));
        }
        if thermosetting {
            return Err(Reason::OutOfTable.at(Field::Insulation));
        }
        if loaded != 2 {
            return Err(Reason::OutOfTable.at(Field::Cores));
        }
        flat(method)
    } else {
        None
    };
    let ((column, first), halves, own) = match flat_column {
        Some(column) => (column, 1, true),
        None => {
            let pair = pair(construction, method).ok_or(Reason::OutOfTable.at(Field::Method))?;
            let column = column(material, thermosetting, pair, loaded)?;
            (column, tables::halves(pair), false)
        }
    };
    if construction == Construction::FlatTwin && csa.get() > FLAT_TWIN_TO {
        return Err(Reason::OutOfTable.at(Field::Csa));
    }
    let amps =
        tables::amps(column, first, csa.get(), halves).ok_or(Reason::OutOfTable.at(Field::Csa))?;
    let half = method == Method::Surrounded && !own;
    Ok(Amps::raw(if half { amps * 0.5 } else { amps }))
}

/// Current-carrying capacity as installed.
///
/// `operating_limit` below the insulation's own temperature (70 °C for thermosetting insulation on accessories made
/// for 70 °C, say) lowers it by the square-root law to √((limit − θa)/(θmax − θa)) of what it was at the same
/// ambient; where the cable's table of 70 °C exists, the same is done from there, and the smaller stands.
/// [`Capacity::tabulated`] is then the figure of the table that decided, and [`Capacity::ambient`] has the rest.
///
/// In [`Method::Surrounded`] all of the insulation is counted already, so that [`Laying::insulation_run`] is not
/// counted again.
///
/// # Errors
/// Those of [`tabulated`] and of the factors; at [`Field::OperatingTemperature`] [`Reason::TooSmall`] for a limit
/// below [`LOWEST_LIMIT`]; at [`Field::Ambient`] [`Reason::OutOfTable`] where less than 10 K are left to a limit.
pub fn capacity(
    material: Material,
    csa: SquareMm,
    insulation: Insulation,
    operating_limit: Option<Celsius>,
    construction: Construction,
    loaded: u8,
    laying: &Laying,
) -> Result<Capacity, Error> {
    let method = laying.method;
    let theta = laying.ambient;
    let own = |insulation| -> Result<(Amps, f32), Error> {
        Ok((
            tabulated(material, csa, insulation, construction, method, loaded)?,
            ambient_factor(insulation, theta, method.is_buried())?,
        ))
    };
    let (mut it, mut ca) = own(insulation)?;
    // Thermoplastic of 90 °C is rated at 70 °C, so that a limit above that changes nothing.
    let rated = rated_at(insulation);
    if let Some(limit) = operating_limit {
        let limit = limit.get();
        if limit < LOWEST_LIMIT {
            return Err(Reason::TooSmall.at(Field::OperatingTemperature));
        }
        if limit < rated {
            let left = limit - theta.get();
            if left < LEAST_RISE {
                return Err(Reason::OutOfTable.at(Field::Ambient));
            }
            // f32 rounds: a hair less.
            let lower = |rated: f32| match left / (rated - theta.get()) {
                1.0 => 1.0,
                share => sqrtf(share) * (1.0 - HAIR),
            };
            ca *= lower(rated);
            let colder = Insulation::Thermoplastic70;
            if let Ok((it_70, ca_70)) = own(colder) {
                let ca_70 = ca_70 * lower(rated_at(colder));
                if it_70.get() * ca_70 < it.get() * ca {
                    (it, ca) = (it_70, ca_70);
                }
            }
        }
    }
    let grouping = grouping_factor(method, laying.grouped, laying.arrangement)?;
    let insulated = match method {
        Method::Surrounded => 1.0,
        _ => insulation_factor(laying.insulation_run),
    };
    let soil = soil_factor(method, laying.soil)?;
    let depth = depth_factor(method, laying.depth)?;
    Ok(Capacity {
        tabulated: it,
        ambient: ca,
        grouping,
        insulation: insulated,
        soil,
        depth,
        effective: Amps::raw(it.get() * ca * grouping * insulated * soil * depth),
    })
}

/// Kelvin the tables of temperature leave between their last point and the insulation's limit.
const LEAST_RISE: f32 = 10.0;

/// The temperature the table used for an insulation is made for, in °C.
const fn rated_at(insulation: Insulation) -> f32 {
    match insulation {
        Insulation::Thermosetting90 => 90.0,
        Insulation::Thermoplastic70 | Insulation::Thermoplastic90 => 70.0,
    }
}

/// Voltage drop in mV/A/m at the insulation's operating temperature: 2 r (two loaded conductors) or √3 r (three), r
/// in Ω/km by IEC 60228 with [`conductor::ac_factor`]; the same with reactance.
///
/// For comparison with the printed tables (BS 7671 4D1B, 4D2B, 4D4B, 4D5, 4E1B, 4E4B), of which those of 90 °C
/// were read up to 16 mm². Print has two digits. Up to 120 mm² its r and z are at most 2.7 % below this, the
/// safe side. They are above this by at most 1.7 % up to 16 mm², and from 25 mm² by at most 2.7 % in r and 0.8 % in z
/// (multicore and armoured), 5.1 % in r and 3.2 % in z (single cores in conduit, thought to be a steel one, whose
/// losses are not counted here).
///
/// # Errors
/// Those of [`conductor::resistance_at`]; [`Reason::OutOfTable`] at [`Field::Cores`] where `loaded` is not 2 or 3.
pub fn millivolts(
    material: Material,
    csa: SquareMm,
    insulation: Insulation,
    construction: Construction,
    loaded: u8,
    part: Part,
) -> Result<f32, Error> {
    let lines = match loaded {
        2 => 2.0,
        3 => sqrtf(3.0),
        _ => return Err(Reason::OutOfTable.at(Field::Cores)),
    };
    let hot = insulation.max_operating();
    let r = conductor::resistance_at(material, csa, hot)?.get()
        * conductor::ac_factor(material, csa, hot)?;
    let x = conductor::reactance(csa, construction).get();
    Ok(lines
        * match part {
            Part::R => r,
            Part::X => x,
            Part::Z => sqrtf(r * r + x * x),
        })
}

/// Capacity by the fitted form of IEC 60364-5-52, I = A·S^m, where it has one for this cable and method.
///
/// From 1.5 mm² (aluminium 10 mm²) to 300 mm². For comparison with [`tabulated`]; no verdict uses it. The
/// tables lie within 1.9 % of it up to 120 mm²; above, at most 0.7 % over it, and up to 10.1 % under it (methods B).
#[must_use]
pub fn fitted(
    material: Material,
    csa: SquareMm,
    insulation: Insulation,
    construction: Construction,
    method: Method,
    loaded: u8,
) -> Option<Amps> {
    let thermosetting = insulation == Insulation::Thermosetting90;
    fit::fitted(
        material,
        csa.get(),
        thermosetting,
        construction,
        method,
        loaded,
    )
    .map(Amps::raw)
}
