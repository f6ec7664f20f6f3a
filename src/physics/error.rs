//! Why a number cannot be used in a physical formula.
//!
//! Invariant: an error names the quantity it is about, so a page can point at
//! the field that holds it.

use core::fmt;

/// The quantity an error is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Share of air in the canner's steam, 0 to below 1.
    AirFraction,
    /// Height above sea level.
    Altitude,
    /// Argument of a Bessel function.
    BesselArgument,
    /// Grams of one component in 100 g of food.
    Composition,
    /// Thermal conductivity, W/(m K).
    Conductivity,
    /// Thermal diffusivity, m²/s.
    Diffusivity,
    /// A diameter, height or wall of a jar.
    Length,
    /// Pressure, Pa.
    Pressure,
    /// Surface heat transfer coefficient, W/(m² K).
    SurfaceCoefficient,
    /// Temperature.
    Temperature,
    /// Time of a reading.
    Time,
    /// Doubt about a reading, never negative.
    Uncertainty,
    /// The z value of a lethal rate, K.
    ZValue,
}

/// Why a number cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhysicsError {
    /// Infinite, or not a number at all.
    NotANumber(Quantity),
    /// A number, but outside the range the formula holds for.
    OutOfRange(Quantity),
}

impl PhysicsError {
    /// The quantity at fault.
    #[must_use]
    pub const fn quantity(self) -> Quantity {
        match self {
            Self::NotANumber(quantity) | Self::OutOfRange(quantity) => quantity,
        }
    }

    /// Whether the number lies outside the formula's range.
    #[must_use]
    pub const fn is_out_of_range(self) -> bool {
        matches!(self, Self::OutOfRange(_))
    }
}

impl fmt::Display for PhysicsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.quantity() {
            Quantity::AirFraction => "The share of air",
            Quantity::Altitude => "The altitude",
            Quantity::BesselArgument => "The argument",
            Quantity::Composition => "The composition",
            Quantity::Conductivity => "The thermal conductivity",
            Quantity::Diffusivity => "The thermal diffusivity",
            Quantity::Length => "The jar's size",
            Quantity::Pressure => "The pressure",
            Quantity::SurfaceCoefficient => "The surface coefficient",
            Quantity::Temperature => "The temperature",
            Quantity::Time => "The time of a reading",
            Quantity::Uncertainty => "The uncertainty",
            Quantity::ZValue => "The z value",
        })?;
        f.write_str(match self {
            Self::NotANumber(_) => " is not a number.",
            Self::OutOfRange(_) => " is outside the range this formula holds for.",
        })
    }
}

impl core::error::Error for PhysicsError {}

/// The value itself if it is a number from `low` to `high`, both included.
pub(super) fn within(
    value: f64,
    low: f64,
    high: f64,
    quantity: Quantity,
) -> Result<f64, PhysicsError> {
    if !value.is_finite() {
        Err(PhysicsError::NotANumber(quantity))
    } else if value < low || value > high {
        Err(PhysicsError::OutOfRange(quantity))
    } else {
        Ok(value)
    }
}
