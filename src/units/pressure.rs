//! Gauge pressure, the only pressure a canner shows.
//!
//! Invariant: 0 to 30 psi in steps of a tenth; the finer digits of a home dial
//! are not readable.

use crate::t;
use core::fmt;

/// Millipascals in a tenth of a psi (NIST SP 811, appendix B.8: 1 psi is
/// 6.894757 kPa), so 689,475.7 rounded.
const PA_PER_TENTH_PSI: u32 = 689_476;

/// A gauge pressure in psi, 0.0 to 30.0, kept in tenths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
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
            Self::OutOfRange => t!("Give a gauge pressure from 0 to 30 psi."),
            Self::NotANumber => t!("Give the pressure as a number, such as 11 or 10.5."),
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

    /// Reads what a person typed: `11`, `10.5` or `10,5`. Finer digits are dropped,
    /// which never overstates a reading.
    ///
    /// # Errors
    /// [`PsiError`] with a sentence that says what to type.
    pub fn parse(text: &str) -> Result<Self, PsiError> {
        let tenths = super::decimal(text, 1).ok_or(PsiError::NotANumber)?;
        u16::try_from(tenths).map_err(|_| PsiError::OutOfRange).and_then(Self::from_tenths)
    }

    /// Tenths of a psi.
    #[must_use]
    pub const fn tenths(self) -> u16 {
        self.0
    }

    /// Psi as a decimal number, for the physics.
    #[must_use]
    pub fn psi(self) -> f64 {
        f64::from(self.0) / 10.0
    }

    /// Kilopascals, rounded to a whole number, for showing beside the psi.
    #[must_use]
    pub const fn kpa(self) -> u16 {
        let millipascals = self.0 as u32 * PA_PER_TENTH_PSI;
        ((millipascals + 500_000) / 1_000_000) as u16
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

impl fmt::Display for PsiGauge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_multiple_of(10) {
            write!(f, "{}", self.0 / 10)
        } else {
            f.write_str(&super::with_tenth(self.0.into()))
        }
    }
}
