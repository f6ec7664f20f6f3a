//! Weights and volumes as scales and jugs give them.
//!
//! Invariant: a value that exists is above zero and within what a kitchen holds;
//! milligrams and millilitres, whole numbers only.

use crate::t;
use crate::units::decimal;
use core::fmt;

/// Micrograms in an avoirdupois ounce (NIST SP 811, appendix B.8: exactly
/// 28.349523125 g).
const UG_PER_OUNCE: i64 = 28_349_523;
/// Microlitres in a US liquid quart (NIST SP 811: 0.9463529 L). An imperial quart
/// is a fifth more: tables in imperial gallons give more salt a gallon.
const UL_PER_QUART: i64 = 946_353;

/// Why a number is no weight or volume here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeasureError {
    /// Not a number.
    NotANumber,
    /// Zero, below it, or more than a kitchen holds.
    OutOfRange,
}

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotANumber => t!("Give it as a number, such as 12 or 12.5."),
            Self::OutOfRange => {
                t!("That is nothing, or more than a kitchen holds. Check the unit.")
            }
        })
    }
}

impl core::error::Error for MeasureError {}

/// Salt, milligrams: over 0 to 100 kg.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Salt(i64);

/// Water, millilitres: over 0 to 1,000 L.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Water(i64);

/// Fish to be salted dry, grams: over 0 to 1,000 kg.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fish(i64);

fn within(value: i64, most: i64) -> Result<i64, MeasureError> {
    if (1..=most).contains(&value) { Ok(value) } else { Err(MeasureError::OutOfRange) }
}

/// Hundredths of what was typed.
fn hundredths(typed: &str) -> Result<i64, MeasureError> {
    decimal(typed, 2).map(i64::from).ok_or(MeasureError::NotANumber)
}

const fn round(number: i64, by: i64) -> i64 {
    (number + by / 2) / by
}

impl Salt {
    /// So many milligrams.
    ///
    /// # Errors
    /// [`MeasureError::OutOfRange`] for none, or over 100 kg.
    pub fn milligrams(milligrams: i64) -> Result<Self, MeasureError> {
        within(milligrams, 100_000_000).map(Self)
    }

    /// Reads grams or ounces, to a hundredth.
    ///
    /// # Errors
    /// [`MeasureError`] with a sentence that says what to type.
    pub fn parse(typed: &str, metric: bool) -> Result<Self, MeasureError> {
        let hundredths = hundredths(typed)?;
        Self::milligrams(if metric {
            hundredths * 10
        } else {
            round(hundredths * UG_PER_OUNCE, 100_000)
        })
    }

    /// Milligrams.
    #[must_use]
    pub const fn in_milligrams(self) -> i64 {
        self.0
    }

    /// As a scale shows it: `454 g`, or `1 lb 0.0 oz`.
    #[must_use]
    pub fn shown(self, metric: bool) -> String {
        weight(self.0, metric)
    }
}

/// Grams to a whole gram, under ten to a tenth; ounces to a tenth.
fn weight(milligrams: i64, metric: bool) -> String {
    if metric {
        return match round(milligrams, 1000) {
            ..10 => tenths(round(milligrams, 100), " g"),
            grams => format!("{grams} g"),
        };
    }
    let ounces = round(milligrams * 10_000, UG_PER_OUNCE);
    match (ounces / 160, ounces % 160) {
        (0, rest) => tenths(rest, " oz"),
        (pounds, rest) => format!("{pounds} lb {}", tenths(rest, " oz")),
    }
}

fn tenths(tenths: i64, unit: &str) -> String {
    format!("{}{unit}", crate::units::with_tenth(tenths.unsigned_abs()))
}

impl Water {
    /// So many millilitres.
    ///
    /// # Errors
    /// [`MeasureError::OutOfRange`] for none, or over 1,000 L.
    pub fn millilitres(millilitres: i64) -> Result<Self, MeasureError> {
        within(millilitres, 1_000_000).map(Self)
    }

    /// Reads litres or US quarts, to a hundredth.
    ///
    /// # Errors
    /// [`MeasureError`] with a sentence that says what to type.
    pub fn parse(typed: &str, metric: bool) -> Result<Self, MeasureError> {
        let hundredths = hundredths(typed)?;
        Self::millilitres(if metric {
            hundredths * 10
        } else {
            round(hundredths * UL_PER_QUART, 100_000)
        })
    }

    /// Millilitres.
    #[must_use]
    pub const fn in_millilitres(self) -> i64 {
        self.0
    }

    /// As a jug shows it: `3.8 L`, or `4.0 qt`.
    #[must_use]
    pub fn shown(self, metric: bool) -> String {
        if metric {
            tenths(round(self.0, 100), " L")
        } else {
            tenths(round(self.0 * 10_000, UL_PER_QUART), " qt")
        }
    }
}

impl Fish {
    /// Reads kilograms or pounds, to a hundredth.
    ///
    /// # Errors
    /// [`MeasureError`] with a sentence that says what to type.
    pub fn parse(typed: &str, metric: bool) -> Result<Self, MeasureError> {
        let hundredths = hundredths(typed)?;
        let grams = if metric {
            hundredths * 10
        } else {
            round(hundredths * UG_PER_OUNCE * 16, 100_000_000)
        };
        within(grams, 1_000_000).map(Self)
    }

    /// Grams.
    #[must_use]
    pub const fn in_grams(self) -> i64 {
        self.0
    }
}
