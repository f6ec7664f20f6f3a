//! Altitude from the temperature at which plain water boils, as a range.
//! Explanation and a cross-check only: a map or survey altitude comes first.
//!
//! Invariant: the range holds every altitude the thermometer (and, if asked,
//! the weather) allows; it never narrows to a single number.

use super::atmosphere::{self, Geometric};
use super::error::{PhysicsError, Quantity, within};
use super::quantity::{Celsius, METRES_PER_FOOT, Pascal};
use super::saturation;
use crate::units::{Altitude, AltitudeError};

/// How far weather moves air pressure from the standard, Pa, either way.
pub const WEATHER_PA: f64 = 3_000.0;

/// Whether the day's weather is allowed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weather {
    /// Standard air: the thermometer is the only doubt.
    Standard,
    /// Air pressure up to 3 kPa off the standard, which is about 250 m either way.
    Unknown,
}

/// Altitudes that fit a boiling point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AltitudeRange {
    /// Lowest altitude that fits.
    pub low: Geometric,
    /// Altitude if the reading is exact and the air standard.
    pub reading: Geometric,
    /// Highest altitude that fits: the one to be safe with.
    pub high: Geometric,
}

impl AltitudeRange {
    /// Both ends in whole feet: the low one rounded down, the high one up.
    ///
    /// # Errors
    /// [`AltitudeError::OutOfRange`] outside -1,500 to 30,000 ft.
    pub fn feet(self) -> Result<(Altitude, Altitude), AltitudeError> {
        let low = Altitude::from_feet((self.low.metres() / METRES_PER_FOOT).floor() as i32)?;
        Ok((low, self.high.altitude()?))
    }
}

/// The boiling point of water in the standard atmosphere.
#[must_use]
pub fn boiling_point(height: Geometric) -> Celsius {
    // Air pressure below 11 km, 22 to 178 kPa, is always inside region 4.
    saturation::boiling_at(atmosphere::pressure(height).pascals())
}

/// Altitudes at which water can boil at `measured`, read to `plus_minus` kelvin.
///
/// # Errors
/// [`PhysicsError`] if the doubt is negative or over 20 K, or if an end of the
/// range lies outside the model's -5 to 11 km.
pub fn altitude(
    measured: Celsius,
    plus_minus: f64,
    weather: Weather,
) -> Result<AltitudeRange, PhysicsError> {
    let doubt = within(plus_minus, 0.0, 20.0, Quantity::Uncertainty)?;
    let weather = match weather {
        Weather::Standard => 0.0,
        Weather::Unknown => WEATHER_PA,
    };
    let at = |shift: f64, weather: f64| -> Result<Geometric, PhysicsError> {
        let boiling = saturation::pressure(Celsius::new(measured.degrees() + shift)?)?;
        // A low-pressure day makes a place boil as if it lay higher, so the
        // standard pressure there is the measured one less what weather added.
        let standard = Pascal::new(boiling.pascals() + weather)?;
        Ok(atmosphere::height(standard)?.into())
    };
    Ok(AltitudeRange {
        low: at(doubt, weather)?,
        reading: at(0.0, 0.0)?,
        high: at(-doubt, -weather)?,
    })
}
