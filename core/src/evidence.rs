//! How a figure agrees with the one that is expected: the one comparison of whoever holds this library against the
//! rows of `vectors/`, be it a test, the page, or an instrument as it starts.
//!
//! ```
//! use faultpath::evidence::{Tolerance, held};
//!
//! // Printed as 1.37: half of its last step is allowed.
//! assert!(held(1.3656, 1.37, Tolerance::Abs(0.005)).agrees);
//! assert!(!held(1.3756, 1.37, Tolerance::Abs(0.005)).agrees);
//! ```

/// How far a figure may lie from the one expected. In `f64`, as the decimals of a row are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tolerance {
    /// In the unit of the figure.
    Abs(f64),
    /// As a share of the figure expected.
    Rel(f64),
}

impl Tolerance {
    /// The distance allowed around `expected`.
    #[must_use]
    pub fn around(self, expected: f64) -> f64 {
        match self {
            Tolerance::Abs(abs) => abs,
            Tolerance::Rel(rel) => rel * libm::fabs(expected),
        }
    }
}

/// A figure held against the one expected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// Whether it agrees.
    pub agrees: bool,
    /// What came less what was expected.
    pub off: f64,
    /// The same without its sign, in units of the tolerance: 0 to 1 where it agrees.
    pub share: f64,
}

/// Holds a figure against the one expected. What is no number agrees with nothing.
#[must_use]
pub fn held(value: f32, expected: f64, tolerance: Tolerance) -> Held {
    let off = f64::from(value) - expected;
    let (far, allowed) = (libm::fabs(off), tolerance.around(expected));
    Held {
        agrees: far <= allowed,
        off,
        share: if far == 0.0 { 0.0 } else { far / allowed },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn up_to_the_tolerance_and_no_further() {
        for (value, agrees) in [
            (1.0, true),
            (1.5, true),
            (0.5, true),
            (1.500_001, false),
            (0.499_999, false),
        ] {
            let h = held(value, 1.0, Tolerance::Abs(0.5));
            assert_eq!(h.agrees, agrees, "{value}");
            assert_eq!(h.share <= 1.0, agrees, "{value}");
            assert!((h.off - (f64::from(value) - 1.0)).abs() < 1e-9);
        }
        assert!(held(-2.2, -2.0, Tolerance::Rel(0.11)).agrees);
        assert!(!held(-2.2, -2.0, Tolerance::Rel(0.09)).agrees);
        assert!(held(3.0, 3.0, Tolerance::Abs(0.0)).agrees);
        assert_eq!(held(3.0, 3.0, Tolerance::Abs(0.0)).share, 0.0);
    }

    #[test]
    fn what_is_no_number_agrees_with_nothing() {
        for (value, expected, abs) in [
            (f32::NAN, 1.0, 1.0),
            (f32::INFINITY, 1.0, 1.0),
            (1.0, f64::NAN, 1.0),
            (1.0, 1.0, f64::NAN),
            (1.0, 1.0, -1.0),
        ] {
            assert!(
                !held(value, expected, Tolerance::Abs(abs)).agrees,
                "{value} {expected} {abs}"
            );
        }
    }
}
