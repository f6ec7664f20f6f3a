//! What the jars are heated in.
//!
//! Invariant: only a pressure canner has a gauge and a size.

use crate::keys::keys;
use crate::t;
use core::fmt;

/// Kind of pressure gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gauge {
    /// A dial is read; the weight, if any, only closes the vent.
    Dial,
    /// A weight of 5, 10 or 15 psi controls the pressure.
    Weighted,
}

impl Gauge {
    /// The name shown.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Dial => t!("dial gauge"),
            Self::Weighted => t!("weighted gauge"),
        }
    }
}

/// Nominal size of a canner, 4 to 60 US quarts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CannerQuarts(u8);

/// A size outside 4 to 60 quarts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CannerQuartsError;

impl fmt::Display for CannerQuartsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(t!(
            "Give the canner's size as 4 to 60 quarts: it is stamped on it or in its manual."
        ))
    }
}

impl core::error::Error for CannerQuartsError {}

impl CannerQuarts {
    /// A size in quarts.
    ///
    /// # Errors
    /// [`CannerQuartsError`] outside 4 to 60.
    pub const fn new(quarts: u8) -> Result<Self, CannerQuartsError> {
        if quarts < 4 || quarts > 60 { Err(CannerQuartsError) } else { Ok(Self(quarts)) }
    }

    /// The size in quarts.
    #[must_use]
    pub const fn get(self) -> u8 {
        self.0
    }
}

/// What the jars are heated in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Vessel {
    /// A pressure canner that holds at least four quart jars upright.
    PressureCanner {
        /// Its gauge.
        gauge: Gauge,
        /// Its nominal size.
        quarts: CannerQuarts,
    },
    /// A pressure saucepan or a canner too small for four quart jars.
    SmallPressureCanner,
    /// An electric multicooker.
    Multicooker,
    /// A boiling-water canner.
    BoilingWater,
    /// A steam canner without pressure.
    AtmosphericSteam,
    /// Oven, microwave, dishwasher, open kettle.
    Oven,
}

keys!(Gauge { Dial = "dial", Weighted = "weighted" });
