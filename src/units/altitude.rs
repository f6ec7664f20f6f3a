//! Height above sea level, which decides the pressure band.
//!
//! Invariant: -1,500 to 30,000 ft. Metres are turned into feet upwards, because
//! the higher band is the safer one.

use crate::t;
use core::fmt;

/// The international foot is exactly 0.3048 m (NIST SP 811), in tenths of a
/// millimetre.
const UNITS_PER_FOOT: i64 = 3_048;

/// Height above sea level in whole feet, -1,500 to 30,000.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
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
            Self::OutOfRange => t!("Give an altitude from -1,500 to 30,000 ft (-457 to 9,144 m)."),
            Self::NotANumber => t!("Give the altitude as a whole number, such as 1200."),
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

    /// An altitude in tenths of a metre, rounded up to the next foot.
    ///
    /// # Errors
    /// [`AltitudeError::OutOfRange`] outside -1,500 to 30,000 ft.
    pub const fn from_decimetres(decimetres: i32) -> Result<Self, AltitudeError> {
        // A foot is 3,048 tenths of a millimetre, a decimetre 1,000.
        let units = decimetres as i64 * 1_000;
        let feet = -((-units).div_euclid(UNITS_PER_FOOT));
        if feet < Self::MIN_FT as i64 || feet > Self::MAX_FT as i64 {
            return Err(AltitudeError::OutOfRange);
        }
        Ok(Self(feet as i32))
    }

    /// An altitude in metres, rounded up to the next foot.
    ///
    /// # Errors
    /// [`AltitudeError`] for what is not a number or lies outside the range.
    pub fn from_metres(metres: f64) -> Result<Self, AltitudeError> {
        if !metres.is_finite() {
            return Err(AltitudeError::NotANumber);
        }
        let feet = (metres / (UNITS_PER_FOOT as f64 / 10_000.0) - 1e-9).ceil();
        if !(f64::from(Self::MIN_FT)..=f64::from(Self::MAX_FT)).contains(&feet) {
            return Err(AltitudeError::OutOfRange);
        }
        Ok(Self(feet as i32))
    }

    /// Reads what a person typed, in feet or metres. Thousands may be set off by a
    /// comma, a space, an apostrophe, or by a point before just three digits, as in
    /// Spanish: `1.200` is 1,200, which is the safe side. Any other point is the decimal one.
    ///
    /// # Errors
    /// [`AltitudeError`] with a sentence that says what to type.
    pub fn parse(text: &str, metric: bool) -> Result<Self, AltitudeError> {
        let digits: String =
            text.trim().chars().filter(|c| !matches!(c, ',' | ' ' | '\u{a0}' | '\'')).collect();
        let digits = if thousands(&digits) { digits.replace('.', "") } else { digits };
        let tenths = super::decimal(&digits, 1).ok_or(AltitudeError::NotANumber)?;
        // Finer digits were dropped: the next tenth up is on the safe side.
        let cut = digits.split_once('.').is_some_and(|(_, finer)| finer.len() > 1);
        let tenths = tenths.saturating_add(i32::from(cut));
        if metric {
            return Self::from_decimetres(tenths);
        }
        Self::from_feet(-((-tenths).div_euclid(10)))
    }

    /// Feet.
    #[must_use]
    pub const fn feet(self) -> i32 {
        self.0
    }

    /// Metres, rounded to a whole number, for showing beside the feet.
    #[must_use]
    pub const fn metres(self) -> i32 {
        (self.0 as i64 * UNITS_PER_FOOT + 5_000).div_euclid(10_000) as i32
    }
}

/// Whether the points of a number set off its thousands: one to three digits, then
/// three after each point.
fn thousands(digits: &str) -> bool {
    let mut groups = digits.trim_start_matches('-').split('.');
    let first = groups.next().map_or(0, str::len);
    let mut rest = groups.peekable();
    (1..=3).contains(&first) && rest.peek().is_some() && rest.all(|group| group.len() == 3)
}
