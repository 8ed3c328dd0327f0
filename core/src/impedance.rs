//! Resistance and reactance, summed apart.

use libm::sqrtf;

/// An impedance, in ohms.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Z {
    /// Resistance.
    pub r: f32,
    /// Reactance.
    pub x: f32,
}

impl Z {
    /// Nothing at all.
    pub const ZERO: Self = Self { r: 0.0, x: 0.0 };

    /// Its magnitude.
    #[must_use]
    pub fn magnitude(self) -> f32 {
        if self.x == 0.0 {
            return self.r.abs();
        }
        sqrtf(self.r * self.r + self.x * self.x)
    }

    /// Both multiplied.
    #[must_use]
    pub fn times(self, factor: f32) -> Self {
        Self {
            r: self.r * factor,
            x: self.x * factor,
        }
    }
}

impl core::ops::Add for Z {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            r: self.r + other.r,
            x: self.x + other.x,
        }
    }
}

/// Hot for the smallest fault current and for drop, cold (20 °C) for the largest.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pair {
    /// At the temperature of service.
    pub hot: Z,
    /// At 20 °C.
    pub cold: Z,
}

impl Pair {
    /// Nothing at all.
    pub const ZERO: Self = Self {
        hot: Z::ZERO,
        cold: Z::ZERO,
    };

    /// Both multiplied.
    #[must_use]
    pub fn times(self, factor: f32) -> Self {
        Self {
            hot: self.hot.times(factor),
            cold: self.cold.times(factor),
        }
    }
}

impl core::ops::Add for Pair {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            hot: self.hot + other.hot,
            cold: self.cold + other.cold,
        }
    }
}

/// An impedance of which the magnitude is known, and perhaps the ratio of its parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct External {
    /// Magnitude, in ohms.
    pub magnitude: f32,
    /// X/R, if known.
    pub x_over_r: Option<f32>,
}

impl External {
    /// Its parts, if its angle is known.
    #[must_use]
    pub fn parts(self) -> Option<Z> {
        let q = self.x_over_r?;
        let r = self.magnitude / sqrtf(1.0 + q * q);
        Some(Z { r, x: r * q })
    }

    /// The largest the sum with `z` can be: |Z| of the vector sum where the angle is known, else the sum
    /// of the magnitudes.
    #[must_use]
    pub fn largest_with(self, z: Z) -> f32 {
        match self.parts() {
            Some(own) => (own + z).magnitude(),
            None => self.magnitude + z.magnitude(),
        }
    }

    /// The smallest the sum with `z` can be: the vector sum where the angle is known, else the smaller of
    /// all resistance and all reactance.
    #[must_use]
    pub fn smallest_with(self, z: Z) -> f32 {
        match self.parts() {
            Some(own) => (own + z).magnitude(),
            None => {
                let m = self.magnitude;
                let as_r = Z { r: m + z.r, x: z.x }.magnitude();
                let as_x = Z { r: z.r, x: m + z.x }.magnitude();
                as_r.min(as_x)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Also of a phasor that points backwards, as sums of loads on the other two lines do.
    #[test]
    fn a_magnitude_is_never_below_zero() {
        for (r, x, magnitude) in [
            (-3.0, 0.0, 3.0),
            (3.0, -0.0, 3.0),
            (0.0, -4.0, 4.0),
            (-3.0, -4.0, 5.0),
        ] {
            assert_eq!(Z { r, x }.magnitude(), magnitude);
        }
    }

    /// Whatever the angle of the outside part, the sum lies between what is said where it is not known.
    #[test]
    fn an_angle_that_is_not_known_is_taken_at_its_worse_end() {
        for (r, x) in [(2.0, 1.0), (1.0, 2.0), (0.5, 0.0), (0.0, 0.5), (3.0, 3.0)] {
            for magnitude in [0.1, 1.0, 5.0] {
                let z = Z { r, x };
                let of = |x_over_r| External {
                    magnitude,
                    x_over_r,
                };
                let (least, most) = (of(None).smallest_with(z), of(None).largest_with(z));
                let mut smallest = f32::INFINITY;
                for q in (0..2000i16).map(|k| 1.02f32.powi(k.into()) - 1.0) {
                    let sum = of(Some(q)).largest_with(z);
                    assert_eq!(sum, of(Some(q)).smallest_with(z));
                    assert!(sum >= 0.999_999 * least && sum <= 1.000_001 * most);
                    smallest = smallest.min(sum);
                }
                // And it is not lower than it need be: all resistance or all reactance is an angle too.
                assert!(smallest <= 1.000_1 * least, "{smallest} {least}");
            }
        }
    }
}
