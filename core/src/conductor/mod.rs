//! Conductors: sizes, resistance, reactance, k of the adiabatic equation, steel wire armour.
//!
//! ```
//! use faultpath::conductor::{k, resistance_at, Insulation, Material};
//! use faultpath::quantity::SquareMm;
//! let csa = SquareMm::new(2.5).unwrap();
//! let hot = Insulation::Thermoplastic70.max_operating();
//! // 7.41 Ω/km at 20 °C, times 1.2.
//! assert_eq!(resistance_at(Material::Copper, csa, hot).unwrap().get(), 8.892);
//! // Tables print 115.
//! let k = k(Material::Copper, hot, Insulation::Thermoplastic70.final_temperature(csa)).unwrap();
//! assert!((k - 114.8).abs() < 0.05);
//! ```

mod alternating;
mod armour;
#[cfg(test)]
mod tests;

pub(crate) use alternating::factor as ac_factor_by;
pub use alternating::{FREQUENCY, ac_factor};
pub use armour::{Armour, armour};

use crate::error::{Error, Field, Reason};
use crate::quantity::{Celsius, OhmsPerKm, SquareMm};
use libm::{log1pf, sqrtf};

/// What a conductor is made of.
///
/// Its constants are those of IEC 60364-5-54 Annex A, from memory; supported by the printed k, see [`k`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Material {
    /// Copper.
    Copper,
    /// Aluminium.
    Aluminium,
    /// Steel, of armour, conduit, trunking.
    Steel,
    /// Lead, of sheaths.
    Lead,
}

impl Material {
    /// β, the reciprocal of the temperature coefficient of resistance at 0 °C, in °C.
    #[must_use]
    pub const fn beta(self) -> f32 {
        match self {
            Self::Copper => 234.5,
            Self::Aluminium => 228.0,
            Self::Steel => 202.0,
            Self::Lead => 230.0,
        }
    }

    /// Qc, the heat capacity per volume at 20 °C, in J/(K·mm³).
    #[must_use]
    pub const fn heat_capacity(self) -> f32 {
        match self {
            Self::Copper => 3.45e-3,
            Self::Aluminium => 2.5e-3,
            Self::Steel => 3.8e-3,
            Self::Lead => 1.45e-3,
        }
    }

    /// ρ20, the resistivity at 20 °C, in Ω·mm.
    #[must_use]
    pub const fn resistivity(self) -> f32 {
        match self {
            Self::Copper => 17.241e-6,
            Self::Aluminium => 28.264e-6,
            Self::Steel => 138e-6,
            Self::Lead => 214e-6,
        }
    }

    /// K = √(Qc·(β + 20)/ρ20) as Annex A prints it, in A·√s/mm².
    const fn printed(self) -> f32 {
        match self {
            Self::Copper => 226.0,
            Self::Aluminium => 148.0,
            Self::Steel => 78.0,
            Self::Lead => 41.0,
        }
    }

    /// The rounded temperature coefficient at 20 °C of the tables, per kelvin.
    const fn alpha(self) -> f32 {
        match self {
            Self::Copper | Self::Aluminium | Self::Lead => 0.004,
            Self::Steel => 0.0045,
        }
    }
}

/// Insulation of a conductor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Insulation {
    /// Thermoplastic (PVC), 70 °C.
    Thermoplastic70,
    /// Thermoplastic (PVC), 90 °C.
    Thermoplastic90,
    /// Thermosetting (XLPE, EPR), 90 °C.
    Thermosetting90,
}

impl Insulation {
    /// The temperature of the conductor it stands for good: BS 7671 Table 52.1, from memory.
    #[must_use]
    pub const fn max_operating(self) -> Celsius {
        Celsius::raw(match self {
            Self::Thermoplastic70 => 70.0,
            Self::Thermoplastic90 | Self::Thermosetting90 => 90.0,
        })
    }

    /// The temperature of a conductor of this size it stands for the length of a fault, at most 5 s:
    /// BS 7671 Table 43.1, from memory; the printed k follow from it.
    #[must_use]
    pub fn final_temperature(self, csa: SquareMm) -> Celsius {
        Celsius::raw(match self {
            Self::Thermosetting90 => 250.0,
            _ if csa.get() > 300.0 => 140.0,
            _ => 160.0,
        })
    }
}

/// How a cable is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Construction {
    /// Single-core cables, unarmoured.
    SingleCores,
    /// Multicore cable, unarmoured.
    Multicore,
    /// Multicore cable with steel wire armour.
    Armoured,
    /// Flat twin cable with a protective conductor.
    FlatTwin,
}

/// Sizes of conductors for fixed wiring, in mm²; the last twelve also of aluminium.
pub(crate) const SIZES: [f32; 17] = [
    1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0, 150.0, 185.0, 240.0,
    300.0,
];
const ALUMINIUM_SIZES: &[f32] = SIZES.split_at(5).1;

/// Largest d.c. resistance at 20 °C of plain copper, in Ω/km: IEC 60228 class 2, up to 150 mm² class 1 too.
///
/// Read in two or three cable makers' reprints of the standard. Flexible conductors (class 5) have more.
const COPPER: [f32; 17] = [
    18.1, 12.1, 7.41, 4.61, 3.08, 1.83, 1.15, 0.727, 0.524, 0.387, 0.268, 0.193, 0.153, 0.124,
    0.0991, 0.0754, 0.0601,
];

/// The same of aluminium, classes 1 and 2, from 10 mm²; read in the same reprints.
const ALUMINIUM: [f32; 12] = [
    3.08, 1.91, 1.20, 0.868, 0.641, 0.443, 0.320, 0.253, 0.206, 0.164, 0.125, 0.100,
];

/// Sizes made for fixed wiring, in mm²: 1 to 300, of aluminium from 10.
#[must_use]
pub const fn made(material: Material) -> &'static [f32] {
    match material {
        Material::Copper => &SIZES,
        Material::Aluminium => ALUMINIUM_SIZES,
        Material::Steel | Material::Lead => &[],
    }
}

/// Largest d.c. resistance at 20 °C of a conductor: IEC 60228, class 1 up to 16 mm², class 2 from 25 mm²
/// (where they differ, from 185 mm², class 1 is for special cables only).
///
/// # Errors
/// [`Reason::NotMade`]: steel and lead, which have no such table; a size not in [`made`].
pub fn resistance_20(material: Material, csa: SquareMm) -> Result<OhmsPerKm, Error> {
    let table: &[f32] = match material {
        Material::Copper => &COPPER,
        Material::Aluminium => &ALUMINIUM,
        Material::Steel | Material::Lead => return Err(Reason::NotMade.at(Field::Material)),
    };
    let mut sizes = made(material).iter().zip(table);
    match sizes.find(|(size, _)| **size == csa.get()) {
        Some((_, r)) => Ok(OhmsPerKm::raw(*r)),
        None => Err(Reason::NotMade.at(Field::Csa)),
    }
}

/// Resistance at a temperature: R(θ) = R20·[`temperature_factor`].
///
/// # Errors
/// As [`resistance_20`].
pub fn resistance_at(
    material: Material,
    csa: SquareMm,
    theta: Celsius,
) -> Result<OhmsPerKm, Error> {
    let r20 = resistance_20(material, csa)?;
    Ok(OhmsPerKm::raw(
        r20.get() * temperature_factor(material, theta),
    ))
}

/// R(θ)/R20 for design: 1 + α·(θ − 20), and never less than [`exact_temperature_factor`].
///
/// α = 0.004 is the rounded figure behind the tables of BS 7671 (mV/A/m, and the multipliers 1.20 at 70 °C
/// and 1.28 at 90 °C), 0.0045 that of steel; from memory, supported by two cable makers' 1.200 and 1.280.
/// It decides for copper above 20 °C: 0.3 % above the exact factor at 70 °C, 0.4 % at 90 °C. The exact one
/// decides for copper below 20 °C, and above it for aluminium (0.2 % at 90 °C) and steel (0.02 % at 80 °C).
/// So it is on the safe side for the smallest fault current and for volt drop. For the largest fault
/// current a low resistance is the safe one: take that at 20 °C.
#[must_use]
pub fn temperature_factor(material: Material, theta: Celsius) -> f32 {
    let line = 1.0 + material.alpha() * (theta.get() - 20.0);
    line.max(exact_temperature_factor(material, theta))
}

/// R(θ)/R20 = (β + θ)/(β + 20), to bring a reading to another temperature and back.
#[must_use]
pub fn exact_temperature_factor(material: Material, theta: Celsius) -> f32 {
    (material.beta() + theta.get()) / (material.beta() + 20.0)
}

/// k of the adiabatic equation S = √(I²·t)/k, in A·√s/mm².
///
/// k = K·√(ln((β + θf)/(β + θi))), K = √(Qc·(β + 20)/ρ20): IEC 60364-5-54 Annex A, from memory. Annex A also
/// prints K, rounded (226, 148, 78, 41): the smaller of both is taken.
///
/// Support: BS 7671 Tables 43.1 and 54.2 to 54.6, the first four read in a trade body's guide, print what this
/// gives, to the nearest whole number; but 86 for copper from 90 to 140 °C, which is 85.4 here, for they took
/// K as 226. What they rounded up is up to 0.7 % more than this.
///
/// # Errors
/// [`Reason::Contradiction`] where `last` is not above `initial`.
pub fn k(material: Material, initial: Celsius, last: Celsius) -> Result<f32, Error> {
    let (first, last) = (initial.get(), last.get());
    let above = material.beta() + first;
    // Both are above −60 °C, so above −β.
    if last <= first {
        return Err(Reason::Contradiction.at(Field::OperatingTemperature));
    }
    Ok(factor_of_k(material) * sqrtf(log1pf((last - first) / above)))
}

/// K, the factor in front of the closed form of [`k`].
pub(crate) const fn factor_of_k(material: Material) -> f32 {
    const fn of(m: Material) -> f32 {
        let square = m.heat_capacity() * (m.beta() + 20.0) / m.resistivity();
        // Heron's, as there is no root at compile time; in f64, so that it is the nearest in f32.
        let mut root = m.printed() as f64;
        let mut n = 0;
        while n < 8 {
            root = 0.5 * (root + square as f64 / root);
            n += 1;
        }
        let exact = root as f32;
        if exact < m.printed() {
            exact
        } else {
            m.printed()
        }
    }
    match material {
        Material::Copper => const { of(Material::Copper) },
        Material::Aluminium => const { of(Material::Aluminium) },
        Material::Steel => const { of(Material::Steel) },
        Material::Lead => const { of(Material::Lead) },
    }
}

/// Reactance of single cores from a size up, in Ω/km (0.165 below): the `x` of a single-phase circuit in
/// conduit or trunking, halved: BS 7671 Table 4D1B, from memory.
const SINGLE_CORES: [(f32, f32); 5] = [
    (35.0, 0.155),
    (50.0, 0.150),
    (70.0, 0.145),
    (95.0, 0.140),
    (120.0, 0.135),
];

/// Reactance of each conductor at 50 Hz.
///
/// Zero up to 16 mm²: the tables print none, and at the smallest resistance there (1.15 Ω/km) 0.1 Ω/km adds
/// 0.4 % to the impedance. Above, never below the tables (BS 7671 Tables 4D1B, 4D2B, 4D4B, from memory, `x`
/// over 2 or √3): 0.085 Ω/km for multicore cables of any size (tables: 0.085 at 25 mm², 0.078 at 120 mm²);
/// single cores as in conduit or trunking, 0.165 to 0.135 Ω/km, which is more than when they touch (0.100 to
/// 0.088). High is the safe side for the smallest fault current and for volt drop; for the largest fault
/// current it is not: take zero.
#[must_use]
pub fn reactance(csa: SquareMm, construction: Construction) -> OhmsPerKm {
    if csa.get() <= 16.0 {
        return OhmsPerKm::raw(0.0);
    }
    OhmsPerKm::raw(match construction {
        Construction::Multicore | Construction::Armoured | Construction::FlatTwin => 0.085,
        Construction::SingleCores => SINGLE_CORES
            .iter()
            .rev()
            .find(|(size, _)| *size <= csa.get())
            .map_or(0.165, |(_, x)| *x),
    })
}

/// Smallest protective conductor without calculation: BS 7671 Table 54.7.
///
/// S up to 16 mm², 16 up to 35, S/2 above, times `k_line`/`k_protective` (that factor from memory, the rest
/// read in a textbook and in teaching notes).
#[must_use]
pub fn tabulated_minimum(line: SquareMm, k_line: f32, k_protective: f32) -> SquareMm {
    let s = line.get();
    let same = if s <= 16.0 {
        s
    } else if s <= 35.0 {
        16.0
    } else {
        s / 2.0
    };
    // The quotient first: equal metals then give the size itself.
    SquareMm::raw(same * (k_line / k_protective))
}

/// The protective conductor in a flat twin cable with this line conductor.
///
/// Read in a handbook to BS 7671, 17th edition; 1 mm² from memory.
#[must_use]
pub fn flat_twin_protective(line: SquareMm) -> Option<SquareMm> {
    [
        (1.0, 1.0),
        (1.5, 1.0),
        (2.5, 1.5),
        (4.0, 1.5),
        (6.0, 2.5),
        (10.0, 4.0),
        (16.0, 6.0),
    ]
    .iter()
    .find(|(size, _)| *size == line.get())
    .map(|(_, protective)| SquareMm::raw(*protective))
}

/// Smallest main protective bonding conductor of copper in an installation with a PME supply, by the
/// supply's neutral, of copper: BS 7671 Table 54.8, read in a handbook and in teaching notes.
#[must_use]
pub fn bonding_by_neutral(neutral: SquareMm) -> SquareMm {
    let n = neutral.get();
    SquareMm::raw(if n <= 35.0 {
        10.0
    } else if n <= 50.0 {
        16.0
    } else if n <= 95.0 {
        25.0
    } else if n <= 150.0 {
        35.0
    } else {
        50.0
    })
}
