//! The strength of a brine, by weight and in degrees of the salometer.
//!
//! Invariant: from no salt to saturation at 60 F, 26.395 percent by weight, which
//! is 100 degrees (Salt Institute solubility table, 60 F). One degree is 0.26395
//! percent, so whole degrees are exact.

use super::measure::{Salt, Water};
use crate::t;
use core::fmt;

/// Steps in a whole degree: hundred-thousandths of a percent.
const PER_DEGREE: i64 = 26_395;
/// All of a brine, in the same steps.
const WHOLE: i64 = 10_000_000;
/// Micrograms in a millilitre of water, thousandths: 8.328 lb a US gallon, the
/// zero row of the standard brine table, so that salt agrees with that table.
const WATER_UG_PER_ML: i64 = 997_914;

/// Strength, hundred-thousandths of a percent of salt by weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Strength(i64);

/// Degrees of the salometer, tenths: 0 to 100.0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Degrees(u16);

/// Why there is no such brine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BrineError {
    /// More salt than the water can dissolve.
    Undissolved,
    /// More than a kitchen holds.
    TooMuch,
}

impl fmt::Display for BrineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Undissolved => {
                t!("Water cannot dissolve that much salt: 26.4 percent at 60 F (16 C) is the most. Take less salt or more water.")
            }
            Self::TooMuch => t!("That is more than a kitchen holds. Check the unit."),
        })
    }
}

impl core::error::Error for BrineError {}

impl Degrees {
    /// So many tenths of a degree.
    ///
    /// # Errors
    /// [`BrineError::Undissolved`] over 100 degrees.
    pub const fn tenths(tenths: u16) -> Result<Self, BrineError> {
        if tenths > 1000 { Err(BrineError::Undissolved) } else { Ok(Self(tenths)) }
    }

    /// Tenths of a degree.
    #[must_use]
    pub const fn in_tenths(self) -> u16 {
        self.0
    }
}

impl fmt::Display for Degrees {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&crate::units::with_tenth(self.0.into()))
    }
}

impl From<Degrees> for Strength {
    fn from(degrees: Degrees) -> Self {
        Self((i64::from(degrees.0) * PER_DEGREE + 5) / 10)
    }
}

impl Strength {
    /// All the salt that dissolves at 60 F.
    pub const SATURATED: Self = Self(100 * PER_DEGREE);

    /// The strength of so much salt in so much water.
    ///
    /// # Errors
    /// [`BrineError::Undissolved`] past saturation at 60 F.
    pub const fn of(salt: Salt, water: Water) -> Result<Self, BrineError> {
        let salt = salt.in_milligrams();
        let all = salt + water_milligrams(water);
        let strength = (salt * WHOLE + all / 2) / all;
        if strength > 100 * PER_DEGREE { Err(BrineError::Undissolved) } else { Ok(Self(strength)) }
    }

    /// So many tenths of a percent of salt by weight.
    ///
    /// # Errors
    /// [`BrineError::Undissolved`] past saturation at 60 F.
    pub const fn percent_tenths(tenths: u16) -> Result<Self, BrineError> {
        let strength = tenths as i64 * (WHOLE / 1000);
        if strength > 100 * PER_DEGREE { Err(BrineError::Undissolved) } else { Ok(Self(strength)) }
    }

    /// Percent of salt by weight, thousandths.
    #[must_use]
    pub const fn percent_thousandths(self) -> i64 {
        (self.0 + 50) / 100
    }

    /// Percent of salt by weight, to a tenth: `15.8`.
    #[must_use]
    pub fn percent(self) -> String {
        let tenths = (self.0 + 5_000) / 10_000;
        crate::units::with_tenth(tenths.unsigned_abs())
    }

    /// Degrees of the salometer at 60 F, to the nearest tenth.
    #[must_use]
    pub fn degrees(self) -> Degrees {
        // 0 to 2,639,500 steps, so 0 to 1000 tenths.
        Degrees(u16::try_from((self.0 * 10 + PER_DEGREE / 2) / PER_DEGREE).unwrap_or(1000))
    }

    /// The salt to weigh for so much water.
    ///
    /// # Errors
    /// [`BrineError::TooMuch`] for no salt at all, or over 100 kg.
    pub fn salt_for(self, water: Water) -> Result<Salt, BrineError> {
        let rest = WHOLE - self.0;
        let salt = (water_milligrams(water) * self.0 + rest / 2) / rest;
        Salt::milligrams(salt).map_err(|_| BrineError::TooMuch)
    }

    /// The water that so much salt makes to this strength.
    ///
    /// # Errors
    /// [`BrineError::TooMuch`] for a brine without salt, or over 1,000 L.
    pub fn water_for(self, salt: Salt) -> Result<Water, BrineError> {
        let by = self.0.saturating_mul(WATER_UG_PER_ML);
        if by == 0 {
            return Err(BrineError::TooMuch);
        }
        let water = salt.in_milligrams() * 1_000 * (WHOLE - self.0) / by;
        Water::millilitres(water).map_err(|_| BrineError::TooMuch)
    }
}

const fn water_milligrams(water: Water) -> i64 {
    water.in_millilitres() * WATER_UG_PER_ML / 1_000
}
