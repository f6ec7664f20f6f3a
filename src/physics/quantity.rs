//! Temperature, pressure and diffusivity as types of their own.
//!
//! Invariant: a value that exists is finite and inside the range its type
//! names, so the formulas that take it cannot make NaN.

use super::error::{PhysicsError, Quantity, within};
use crate::units::Span;
use core::fmt;

/// Kelvin at 0 °C, exact (SI).
pub(super) const ICE_POINT_K: f64 = 273.15;
/// Pascals in one psi: 0.45359237 kg x 9.80665 m/s² / (0.0254 m)², all exact
/// (NIST SP 811, appendix B).
pub(super) const PA_PER_PSI: f64 = 6_894.757_293_168_361;
/// Metres in a foot, exact (NIST SP 811).
pub(super) const METRES_PER_FOOT: f64 = 0.3048;

/// A temperature in degrees Celsius (ITS-90), -273.15 to 1,000.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Celsius(f64);

impl Celsius {
    /// A temperature in degrees Celsius.
    ///
    /// # Errors
    /// [`PhysicsError`] for what is no number or outside -273.15 to 1,000 °C.
    pub fn new(degrees: f64) -> Result<Self, PhysicsError> {
        within(degrees, -ICE_POINT_K, 1_000.0, Quantity::Temperature).map(Self)
    }

    /// A temperature in degrees Fahrenheit.
    ///
    /// # Errors
    /// As [`Celsius::new`].
    pub fn from_fahrenheit(degrees: f64) -> Result<Self, PhysicsError> {
        Self::new((degrees - 32.0) / 1.8)
    }

    /// A temperature in kelvin.
    ///
    /// # Errors
    /// As [`Celsius::new`].
    pub fn from_kelvin(kelvin: f64) -> Result<Self, PhysicsError> {
        Self::new(kelvin - ICE_POINT_K)
    }

    /// A temperature a formula made from checked input, so already in range.
    pub(super) const fn known(degrees: f64) -> Self {
        Self(degrees)
    }

    /// Degrees Celsius.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }

    /// Kelvin.
    #[must_use]
    pub const fn kelvin(self) -> f64 {
        self.0 + ICE_POINT_K
    }

    /// Degrees Fahrenheit.
    #[must_use]
    pub const fn fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }
}

impl fmt::Display for Celsius {
    /// Fahrenheit first, as a canner's dial has it, to a tenth: `240.1 °F (115.6 °C)`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        tenths(f, self.fahrenheit())?;
        f.write_str(" °F (")?;
        tenths(f, self.0)?;
        f.write_str(" °C)")
    }
}

/// Writes a number to one decimal by way of an integer: less code than printing a float.
fn tenths(f: &mut fmt::Formatter<'_>, value: f64) -> fmt::Result {
    let tenths = (value * 10.0).round() as i32;
    let sign = if tenths < 0 { "-" } else { "" };
    write!(f, "{sign}{}", crate::units::with_tenth(tenths.unsigned_abs().into()))
}

/// A pressure in pascals, 0 to 25 MPa; absolute unless its source says gauge.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Pascal(f64);

impl Pascal {
    /// A pressure in pascals.
    ///
    /// # Errors
    /// [`PhysicsError`] for what is no number or outside 0 to 25 MPa.
    pub fn new(pascals: f64) -> Result<Self, PhysicsError> {
        within(pascals, 0.0, 25e6, Quantity::Pressure).map(Self)
    }

    /// A pressure a formula made from checked input, so already in range.
    pub(super) const fn known(pascals: f64) -> Self {
        Self(pascals)
    }

    /// Pascals.
    #[must_use]
    pub const fn pascals(self) -> f64 {
        self.0
    }

    /// Pounds-force per square inch.
    #[must_use]
    pub const fn psi(self) -> f64 {
        self.0 / PA_PER_PSI
    }
}

/// A thermal diffusivity, 1e-9 to 1e-3 m²/s: from insulation to silver.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Diffusivity(f64);

impl Diffusivity {
    /// A diffusivity in square metres a second.
    ///
    /// # Errors
    /// [`PhysicsError`] for what is no number or outside 1e-9 to 1e-3 m²/s.
    pub fn new(square_metres_per_second: f64) -> Result<Self, PhysicsError> {
        within(square_metres_per_second, 1e-9, 1e-3, Quantity::Diffusivity).map(Self)
    }

    /// Square metres a second.
    #[must_use]
    pub const fn square_metres_per_second(self) -> f64 {
        self.0
    }
}

/// A temperature at a moment, counted from the start of a history.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Time since the start of the history.
    pub at: Span,
    /// Temperature at that time.
    pub temperature: Celsius,
}

/// Seconds from one moment to a later one.
///
/// # Errors
/// [`PhysicsError::OutOfRange`] if time runs backwards or spans over a year.
pub(super) fn seconds_between(earlier: Span, later: Span) -> Result<f64, PhysicsError> {
    const YEAR_MS: i64 = 366 * 86_400_000;
    match later.minus(earlier).0 {
        gap @ 0..=YEAR_MS => Ok(gap as f64 / 1_000.0),
        _ => Err(PhysicsError::OutOfRange(Quantity::Time)),
    }
}
