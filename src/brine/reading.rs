//! What a salometer float shows, put right for the brine's temperature.
//!
//! Invariant: the strength is that at 60 F; one degree of the scale is added for
//! each 10 F above 60 and taken off for each 10 F below ("Preparing a Saltbrine",
//! Fish Safety Notes), which is a tenth of a degree for each degree Fahrenheit.

use super::strength::{Degrees, Strength};
use crate::t;
use crate::units::decimal;
use core::fmt;

/// A float's reading with the temperature of the brine, both in tenths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    degrees: Degrees,
    tenths_f: i32,
}

/// Why a reading says nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingError {
    /// Not two numbers.
    NotANumber,
    /// Not on the scale of 0 to 100 degrees.
    OffTheScale,
    /// Brine is read between 28 and 100 F here.
    Temperature,
}

impl fmt::Display for ReadingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotANumber => t!("Give both as numbers, such as 60 and 50."),
            Self::OffTheScale => t!("A salometer shows 0 to 100 degrees. Check the scale."),
            Self::Temperature => {
                t!("Let the brine come to between 28 and 100 F (-2 and 38 C) first.")
            }
        })
    }
}

impl core::error::Error for ReadingError {}

impl Reading {
    /// What was typed: degrees of the scale, and degrees Fahrenheit or Celsius.
    ///
    /// # Errors
    /// [`ReadingError`] with a sentence that says what to type.
    pub fn parse(scale: &str, temperature: &str, celsius: bool) -> Result<Self, ReadingError> {
        let tenths = decimal(scale, 1).ok_or(ReadingError::NotANumber)?;
        let heat = decimal(temperature, 1).ok_or(ReadingError::NotANumber)?;
        let tenths_f = if celsius {
            heat.checked_mul(9).map_or(i32::MAX, |ninefold| ninefold / 5).saturating_add(320)
        } else {
            heat
        };
        if !(280..=1000).contains(&tenths_f) {
            return Err(ReadingError::Temperature);
        }
        let degrees = u16::try_from(tenths).map_err(|_| ReadingError::OffTheScale)?;
        let degrees = Degrees::tenths(degrees).map_err(|_| ReadingError::OffTheScale)?;
        Ok(Self { degrees, tenths_f })
    }

    /// Degrees at 60 F.
    ///
    /// # Errors
    /// [`ReadingError::OffTheScale`] if the correction leads off it.
    pub fn at_60_f(self) -> Result<Degrees, ReadingError> {
        let over = self.tenths_f - 600;
        // Tenths of a Fahrenheit degree to tenths of a scale degree, to the nearest.
        let more = (over.abs() + 5) / 10 * over.signum();
        u16::try_from(i32::from(self.degrees.in_tenths()) + more)
            .ok()
            .and_then(|tenths| Degrees::tenths(tenths).ok())
            .ok_or(ReadingError::OffTheScale)
    }

    /// The strength it stands for.
    ///
    /// # Errors
    /// [`ReadingError::OffTheScale`] if the correction leads off the scale.
    pub fn strength(self) -> Result<Strength, ReadingError> {
        self.at_60_f().map(Strength::from)
    }
}
