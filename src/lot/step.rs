//! What is recorded of a raw lot.
//!
//! Invariant: each step says where the food is kept, so that no time is without
//! a temperature.

use crate::batch::Text;
use crate::brine::{Salt, Water};
use crate::keys::keys;
use crate::t;
use crate::units::EpochMs;

/// A step between the catch and the jar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LotStep {
    /// Caught, not yet gutted.
    Caught,
    /// Gutted or dressed, raw.
    Cleaned,
    /// In the freezer.
    Frozen,
    /// Thawing.
    Thawing,
    /// In brine, or under dry salt.
    Brining,
    /// Rinsed; dripping and drying until the skin is tacky.
    Draining,
    /// In light smoke, not cooked.
    Smoking,
    /// Waiting for the jars, salted or smoked.
    Held,
    /// Going into jars.
    Packing,
}

/// Where it is kept meanwhile. Freezer and smoker go without saying.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kept {
    /// On ice or in a refrigerator, 40 F (4 C) or colder.
    Cold,
    /// Not refrigerated, air at 90 F (32 C) or less.
    Room,
    /// Not refrigerated, air above 90 F (32 C).
    Hot,
}

/// How a lot ended without being canned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LotEnd {
    /// Cooked and eaten, or used some other way.
    Used,
    /// Thrown out.
    Discarded,
}

keys!(LotStep {
    Caught = "caught",
    Cleaned = "cleaned",
    Frozen = "frozen",
    Thawing = "thawing",
    Brining = "brining",
    Draining = "draining",
    Smoking = "smoking",
    Held = "held",
    Packing = "packing",
});
keys!(Kept { Cold = "cold", Room = "room", Hot = "hot" });
keys!(LotEnd { Used = "used", Discarded = "discarded" });

impl LotStep {
    /// What the step is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Caught => t!("Caught, not yet gutted"),
            Self::Cleaned => t!("Gutted or dressed, raw"),
            Self::Frozen => t!("In the freezer"),
            Self::Thawing => t!("Thawing"),
            Self::Brining => t!("In salt or brine"),
            Self::Draining => t!("Dripping and drying"),
            Self::Smoking => t!("In light smoke"),
            Self::Held => t!("Held before canning"),
            Self::Packing => t!("Going into jars"),
        }
    }

    /// Where food at this step is kept if nothing else is said: cold wherever the
    /// publications ask for cold.
    #[must_use]
    pub const fn usual(self) -> Kept {
        match self {
            Self::Caught | Self::Draining | Self::Packing | Self::Smoking => Kept::Room,
            Self::Cleaned | Self::Frozen | Self::Thawing | Self::Brining | Self::Held => Kept::Cold,
        }
    }
}

impl Kept {
    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Cold => t!("refrigerator or ice"),
            Self::Room => t!("not refrigerated"),
            Self::Hot => t!("not refrigerated, above 90 F (32 C)"),
        }
    }
}

/// A step with where and since when.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LotMove {
    /// The step.
    pub step: LotStep,
    /// Where it is kept meanwhile.
    pub kept: Kept,
    /// When it began: at most the time it was written down.
    pub since: EpochMs,
}

/// How a lot begins.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotStart {
    /// What the person calls it.
    pub name: Text,
    /// Key of the food in the catalogue.
    pub food: String,
    /// Its weight as it came, grams; 0 if nobody weighed it.
    pub grams: u32,
    /// The first step known of.
    pub first: LotMove,
    /// Whether this is the invented example.
    pub demo: bool,
}

/// Everything an event can say of a lot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LotSaid {
    /// The lot begins.
    Started(LotStart),
    /// It went on to another step, or to another place.
    Moved(LotMove),
    /// The brine that was made for it.
    Brined {
        /// Salt.
        salt: Salt,
        /// Water.
        water: Water,
    },
    /// It will not be canned.
    Ended(LotEnd),
}
