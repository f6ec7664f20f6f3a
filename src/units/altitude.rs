//! Height above sea level, which decides the pressure band.
//!
//! Invariant: -1,500 to 30,000 ft. Metres are turned into feet upwards, because
//! the higher band is the safer one.

use core::fmt;
use serde::{Deserialize, Serialize};

/// Feet in a metre: the international foot is exactly 0.3048 m (NIST SP 811).
const METRES_PER_FOOT: f64 = 0.3048;

/// Height above sea level in whole feet, -1,500 to 30,000.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "i32", into = "i32")]
pub struct Altitude(i32);

/// Why a number is no altitude.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AltitudeError {
    /// Outside the places people live and cook.
    OutOfRange,
    /// Not a number at all.
    NotANumber,
}

impl fmt::Display for AltitudeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::OutOfRange => "Give an altitude from -1,500 to 30,000 ft (-457 to 9,144 m).",
            Self::NotANumber => "Give the altitude as a whole number, such as 1200.",
        })
    }
}

impl core::error::Error for AltitudeError {}

impl Altitude {
    /// Sea level.
    pub const SEA_LEVEL: Self = Self(0);
    /// Lowest altitude accepted, feet.
    pub const MIN_FT: i32 = -1_500;
    /// Highest altitude accepted, feet.
    pub const MAX_FT: i32 = 30_000;

    /// An altitude in feet.
    ///
    /// # Errors
    /// [`AltitudeError::OutOfRange`] outside -1,500 to 30,000 ft.
    pub const fn from_feet(feet: i32) -> Result<Self, AltitudeError> {
        if feet < Self::MIN_FT || feet > Self::MAX_FT {
            Err(AltitudeError::OutOfRange)
        } else {
            Ok(Self(feet))
        }
    }

    /// An altitude in metres, rounded up to the next foot.
    ///
    /// # Errors
    /// [`AltitudeError`] for what is not a number or lies outside the range.
    pub fn from_metres(metres: f64) -> Result<Self, AltitudeError> {
        if !metres.is_finite() {
            return Err(AltitudeError::NotANumber);
        }
        let feet = (metres / METRES_PER_FOOT - 1e-9).ceil();
        if !(f64::from(Self::MIN_FT)..=f64::from(Self::MAX_FT)).contains(&feet) {
            return Err(AltitudeError::OutOfRange);
        }
        Ok(Self(feet as i32))
    }

    /// Reads what a person typed, in feet or metres; thousands may be set off
    /// by a comma, a space or an apostrophe.
    ///
    /// # Errors
    /// [`AltitudeError`] with a sentence that says what to type.
    pub fn parse(text: &str, metric: bool) -> Result<Self, AltitudeError> {
        let digits: String =
            text.trim().chars().filter(|c| !matches!(c, ',' | ' ' | '\u{a0}' | '\'')).collect();
        let value: f64 = digits.parse().map_err(|_| AltitudeError::NotANumber)?;
        if !value.is_finite() {
            return Err(AltitudeError::NotANumber);
        }
        if metric {
            return Self::from_metres(value);
        }
        let feet = value.ceil();
        if !(f64::from(Self::MIN_FT)..=f64::from(Self::MAX_FT)).contains(&feet) {
            return Err(AltitudeError::OutOfRange);
        }
        Self::from_feet(feet as i32)
    }

    /// Feet.
    #[must_use]
    pub const fn feet(self) -> i32 {
        self.0
    }

    /// Metres, rounded to a whole number, for showing beside the feet.
    #[must_use]
    pub fn metres(self) -> i32 {
        (f64::from(self.0) * METRES_PER_FOOT).round() as i32
    }
}

impl TryFrom<i32> for Altitude {
    type Error = AltitudeError;
    fn try_from(feet: i32) -> Result<Self, AltitudeError> {
        Self::from_feet(feet)
    }
}

impl From<Altitude> for i32 {
    fn from(value: Altitude) -> Self {
        value.0
    }
}
