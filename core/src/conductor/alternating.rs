//! What alternating current adds to resistance.

use super::{Material, resistance_at};
use crate::error::Error;
use crate::quantity::{Celsius, SquareMm};

/// Frequency of the supply, in hertz.
pub const FREQUENCY: f32 = 50.0;
/// Square of conductor diameter over spacing, for cores that touch with their insulation between.
const CLOSENESS: f32 = 0.756;

/// A.c. resistance over d.c. resistance: skin and proximity effect of round stranded conductors in a
/// three-core cable at 50 Hz, IEC 60287-1-1 clause 2.1 with ks = kp = 1 (from memory); 1 up to 16 mm², where
/// it is below one part in a thousand.
///
/// Supported by the r columns of printed mV/A/m tables, which lie above the d.c. figure by as much. Two cores
/// have less, so for them it is never too little.
///
/// # Errors
/// Those of [`resistance_at`].
///
/// ```
/// use faultpath::conductor::{ac_factor, Material};
/// use faultpath::quantity::{Celsius, SquareMm};
/// let (csa, hot) = (SquareMm::new(120.0).unwrap(), Celsius::new(70.0).unwrap());
/// let factor = ac_factor(Material::Copper, csa, hot).unwrap();
/// assert!(factor > 1.01 && factor < 1.02);
/// ```
pub fn ac_factor(material: Material, csa: SquareMm, theta: Celsius) -> Result<f32, Error> {
    if csa.get() <= 16.0 {
        return Ok(1.0);
    }
    Ok(factor(csa, resistance_at(material, csa, theta)?.get()))
}

/// The same by the d.c. resistance at its temperature, in Ω/km.
pub(crate) fn factor(csa: SquareMm, per_km: f32) -> f32 {
    if csa.get() <= 16.0 {
        return 1.0;
    }
    let per_metre = per_km / 1000.0;
    let x2 = 8.0 * core::f32::consts::PI * FREQUENCY * 1e-7 / per_metre;
    let x4 = x2 * x2;
    let skin = x4 / (192.0 + 0.8 * x4);
    let proximity = skin * CLOSENESS * (0.312 * CLOSENESS + 1.18 / (skin + 0.27));
    1.0 + skin + proximity
}
