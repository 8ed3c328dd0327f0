//! Values with units.
//!
//! Each type holds one `f32` in the unit its name says. The checked constructors refuse what has no
//! meaning, so that no function below them needs to ask again.
//!
//! ```
//! use faultpath::quantity::Metres;
//! use faultpath::error::Reason;
//! assert_eq!(Metres::new(12.5).unwrap().get(), 12.5);
//! assert_eq!(Metres::new(f32::NAN), Err(Reason::NotANumber));
//! assert_eq!(Metres::new(0.0), Err(Reason::Zero));
//! ```

use crate::error::Reason;

const fn checked(value: f32, min: f32, zero: bool, max: f32) -> Result<f32, Reason> {
    if value > 0.0 && value >= min && value <= max {
        // As most are.
        Ok(value)
    } else if value == 0.0 {
        // -0.0 becomes 0.0, so that equal inputs give equal bits.
        if zero { Ok(0.0) } else { Err(Reason::Zero) }
    } else if value.is_nan() {
        Err(Reason::NotANumber)
    } else if value.is_infinite() {
        Err(Reason::Infinite)
    } else if value < 0.0 {
        Err(Reason::Negative)
    } else if value < min {
        Err(Reason::TooSmall)
    } else {
        Err(Reason::TooLarge)
    }
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal, zero: $zero:literal, $min:literal ..= $max:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f32);

        impl $name {
            /// The unit, as it is written beside a value.
            pub const UNIT: &'static str = $unit;
            /// The smallest value above zero that is accepted.
            pub const MIN: f32 = $min;
            /// The largest value that is accepted.
            pub const MAX: f32 = $max;

            /// Checks and takes a value.
            ///
            /// # Errors
            /// The [`Reason`] why the value has no meaning here; add the field with [`Reason::at`].
            pub const fn new(value: f32) -> Result<Self, Reason> {
                match checked(value, $min, $zero, $max) {
                    Ok(v) => Ok(Self(v)),
                    Err(reason) => Err(reason),
                }
            }

            /// The value, in the unit of the type.
            #[must_use]
            pub const fn get(self) -> f32 {
                self.0
            }

            /// For values computed from checked ones, and for tables.
            #[allow(dead_code)]
            pub(crate) const fn raw(value: f32) -> Self {
                Self(value)
            }
        }
    };
}

quantity!(/// Electric potential, in volts.
    Volts, "V", zero: false, 1e-3 ..= 1e5);
quantity!(/// Current, in amperes.
    Amps, "A", zero: false, 1e-4 ..= 1e6);
quantity!(/// Resistance or impedance, in ohms.
    Ohms, "Ω", zero: false, 1e-5 ..= 1e6);
quantity!(/// Resistance per length, in ohms per kilometre.
    OhmsPerKm, "Ω/km", zero: false, 1e-4 ..= 1e5);
quantity!(/// Length, in metres.
    Metres, "m", zero: false, 1e-3 ..= 1e6);
quantity!(/// Cross-sectional area, in square millimetres.
    SquareMm, "mm²", zero: false, 1e-2 ..= 1e5);
quantity!(/// Time, in seconds.
    Seconds, "s", zero: false, 1e-4 ..= 1e6);
quantity!(/// Let-through energy I²t, in ampere-squared seconds.
    AmpSquaredSeconds, "A²s", zero: false, 1e-2 ..= 1e12);
quantity!(/// Power, in watts.
    Watts, "W", zero: false, 1e-2 ..= 1e8);
quantity!(/// Thermal resistivity of soil, in kelvin metres per watt.
    KelvinMetresPerWatt, "K·m/W", zero: false, 1e-2 ..= 1e2);
quantity!(/// Resistivity of soil to current, in ohm metres.
    OhmMetres, "Ω·m", zero: false, 0.1 ..= 1e5);
quantity!(/// A share or factor without a unit, zero allowed.
    Ratio, "", zero: true, 1e-6 ..= 1e3);

/// Temperature, in degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Celsius(f32);

impl Celsius {
    /// The unit, as it is written beside a value.
    pub const UNIT: &'static str = "°C";
    /// The lowest temperature that is accepted.
    pub const MIN: f32 = -60.0;
    /// The highest temperature that is accepted.
    pub const MAX: f32 = 1000.0;

    /// Checks and takes a temperature.
    ///
    /// # Errors
    /// [`Reason`] where it is not a number or beyond −60..1000 °C.
    pub const fn new(value: f32) -> Result<Self, Reason> {
        if value.is_nan() {
            Err(Reason::NotANumber)
        } else if value.is_infinite() {
            Err(Reason::Infinite)
        } else if value < Self::MIN {
            Err(Reason::TooSmall)
        } else if value > Self::MAX {
            Err(Reason::TooLarge)
        } else if value == 0.0 {
            Ok(Self(0.0))
        } else {
            Ok(Self(value))
        }
    }

    /// The value, in degrees Celsius.
    #[must_use]
    pub const fn get(self) -> f32 {
        self.0
    }

    pub(crate) const fn raw(value: f32) -> Self {
        Self(value)
    }
}
