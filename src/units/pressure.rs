//! Gauge pressure, the only pressure a canner shows.
//!
//! Invariant: 0 to 30 psi in steps of a tenth; the finer digits of a home dial
//! are not readable.

use core::fmt;
use serde::{Deserialize, Serialize};

/// Pascals in one psi (NIST SP 811, appendix B.8: 6.894757 kPa).
const KPA_PER_PSI: f64 = 6.894757;

/// A gauge pressure in psi, 0.0 to 30.0, kept in tenths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "u16", into = "u16")]
pub struct PsiGauge(u16);

/// Why a number is no gauge pressure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PsiError {
    /// Over 30 psi, or below zero.
    OutOfRange,
    /// Not a number at all.
    NotANumber,
}

impl fmt::Display for PsiError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::OutOfRange => "Give a gauge pressure from 0 to 30 psi.",
            Self::NotANumber => "Give the pressure as a number, such as 11 or 10.5.",
        })
    }
}

impl core::error::Error for PsiError {}

impl PsiGauge {
    /// The largest pressure accepted, 30 psi: twice what any table asks for.
    pub const MAX_TENTHS: u16 = 300;

    /// A whole number of psi, as tables print it; anything over 30 becomes 30.
    #[must_use]
    pub const fn whole(psi: u8) -> Self {
        let tenths = psi as u16 * 10;
        if tenths > Self::MAX_TENTHS { Self(Self::MAX_TENTHS) } else { Self(tenths) }
    }

    /// A pressure in tenths of a psi.
    ///
    /// # Errors
    /// [`PsiError::OutOfRange`] over 300 tenths.
    pub const fn from_tenths(tenths: u16) -> Result<Self, PsiError> {
        if tenths > Self::MAX_TENTHS { Err(PsiError::OutOfRange) } else { Ok(Self(tenths)) }
    }

    /// Reads what a person typed: `11`, `10.5` or `10,5`.
    ///
    /// # Errors
    /// [`PsiError`] with a sentence that says what to type.
    pub fn parse(text: &str) -> Result<Self, PsiError> {
        let value: f64 = text.trim().replace(',', ".").parse().map_err(|_| PsiError::NotANumber)?;
        if !value.is_finite() {
            return Err(PsiError::NotANumber);
        }
        if !(0.0..=30.0).contains(&value) {
            return Err(PsiError::OutOfRange);
        }
        // In range, so the cast is exact; rounding down never overstates a reading.
        Self::from_tenths((value * 10.0 + 1e-9) as u16)
    }

    /// Tenths of a psi.
    #[must_use]
    pub const fn tenths(self) -> u16 {
        self.0
    }

    /// Psi as a decimal number.
    #[must_use]
    pub fn psi(self) -> f64 {
        f64::from(self.0) / 10.0
    }

    /// Kilopascals, rounded to a whole number, for showing beside the psi.
    #[must_use]
    pub fn kpa(self) -> u16 {
        (self.psi() * KPA_PER_PSI).round() as u16
    }

    /// The same pressure raised by whole psi, unless that leaves the range.
    #[must_use]
    pub const fn plus_whole(self, psi: u8) -> Option<Self> {
        match Self::from_tenths(self.0 + psi as u16 * 10) {
            Ok(sum) => Some(sum),
            Err(_) => None,
        }
    }
}

impl TryFrom<u16> for PsiGauge {
    type Error = PsiError;
    fn try_from(tenths: u16) -> Result<Self, PsiError> {
        Self::from_tenths(tenths)
    }
}

impl From<PsiGauge> for u16 {
    fn from(value: PsiGauge) -> Self {
        value.0
    }
}

impl fmt::Display for PsiGauge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_multiple_of(10) {
            write!(f, "{}", self.0 / 10)
        } else {
            write!(f, "{}.{}", self.0 / 10, self.0 % 10)
        }
    }
}
