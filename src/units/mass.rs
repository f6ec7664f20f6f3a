//! Weights of food, in whole grams.
//!
//! Invariant: 0 to 2,000 kg. The pound is the international one, exactly
//! 453.59237 g (NIST SP 811, appendix B.8); a weight typed in pounds and shown
//! again reads the same to the tenth.

use crate::t;
use crate::words::decimal_mark;
use core::fmt;

/// A hundredth of a pound in ten-millionths of a gram.
const PER_CENTIPOUND: u64 = 45_359_237;
const TEN_MILLION: u64 = 10_000_000;

/// A weight in grams, 0 to 2,000,000.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Mass(u32);

/// Why a number is no weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MassError {
    /// Over 2,000 kg, or below zero.
    OutOfRange,
    /// Not a number at all.
    NotANumber,
}

impl fmt::Display for MassError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::OutOfRange => t!("Give a weight from 0 to 2,000 kg (4,400 lb)."),
            Self::NotANumber => t!("Give the weight as a number, such as 12.5."),
        })
    }
}

impl core::error::Error for MassError {}

impl Mass {
    /// No weight.
    pub const ZERO: Self = Self(0);
    /// The largest weight, grams.
    pub const MAX_GRAMS: u32 = 2_000_000;

    /// A weight in grams.
    ///
    /// # Errors
    /// [`MassError::OutOfRange`] over 2,000,000 g.
    pub const fn from_grams(grams: u32) -> Result<Self, MassError> {
        if grams > Self::MAX_GRAMS { Err(MassError::OutOfRange) } else { Ok(Self(grams)) }
    }

    /// A weight in hundredths of a pound, to the nearest gram; anything over the
    /// largest weight becomes the largest.
    #[must_use]
    pub const fn centipounds(hundredths: u32) -> Self {
        let grams = (hundredths as u64 * PER_CENTIPOUND + TEN_MILLION / 2) / TEN_MILLION;
        if grams > Self::MAX_GRAMS as u64 { Self(Self::MAX_GRAMS) } else { Self(grams as u32) }
    }

    /// Reads what a person typed: kilograms to the gram, or pounds to the hundredth.
    ///
    /// # Errors
    /// [`MassError`] with a sentence that says what to type.
    pub fn parse(text: &str, metric: bool) -> Result<Self, MassError> {
        let places = if metric { 3 } else { 2 };
        let whole = text.trim().split(['.', ',']).next().unwrap_or("");
        if whole.len() > 6 && whole.bytes().all(|b| b.is_ascii_digit()) {
            return Err(MassError::OutOfRange);
        }
        let number = super::decimal(text, places).ok_or(MassError::NotANumber)?;
        let number = u32::try_from(number).map_err(|_| MassError::OutOfRange)?;
        let grams = if metric {
            u64::from(number)
        } else {
            (u64::from(number) * PER_CENTIPOUND + TEN_MILLION / 2) / TEN_MILLION
        };
        u32::try_from(grams).map_err(|_| MassError::OutOfRange).and_then(Self::from_grams)
    }

    /// Grams.
    #[must_use]
    pub const fn grams(self) -> u32 {
        self.0
    }

    /// The number as a person would type it: pounds or kilograms, to the tenth;
    /// under a pound or a kilogram to the hundredth.
    #[must_use]
    pub fn number(self, metric: bool) -> String {
        let grams = u64::from(self.0);
        // So many parts of a pound or kilogram, to the nearest.
        let parts = |part: u64| {
            let unit = if metric { 1_000 * TEN_MILLION } else { 100 * PER_CENTIPOUND };
            (grams * TEN_MILLION * part + unit / 2) / unit
        };
        let hundredths = parts(100);
        if hundredths >= 100 {
            let tenths = parts(10);
            return match tenths % 10 {
                0 => format!("{}", tenths / 10),
                _ => super::with_tenth(tenths),
            };
        }
        match hundredths % 10 {
            0 if hundredths == 0 => "0".to_owned(),
            0 => super::with_tenth(hundredths / 10),
            _ => format!("0{}{hundredths:02}", decimal_mark()),
        }
    }

    /// The weight with its unit.
    #[must_use]
    pub fn show(self, metric: bool) -> String {
        format!("{} {}", self.number(metric), unit(metric))
    }
}

/// The unit's name.
#[must_use]
pub const fn unit(metric: bool) -> &'static str {
    if metric { "kg" } else { "lb" }
}
