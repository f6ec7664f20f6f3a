//! The numbers one run is held to.
//!
//! Invariant: they come from a tested process and only ever grow on the way.

use crate::units::{Minutes, PsiGauge};

/// What a run must reach and for how long.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RunPlan {
    /// Gauge pressure that must never be undercut, psi.
    pub pressure: PsiGauge,
    /// The unbroken hold at that pressure, minutes.
    pub hold: Minutes,
    /// Steady steam before the vent is closed, minutes.
    pub vent: Minutes,
    /// Least heating before venting may start, minutes; 0 for most foods.
    pub heat_before_vent: Minutes,
    /// Least heating and venting together, minutes; 0 for most foods.
    pub heat_plus_vent: Minutes,
}

impl RunPlan {
    /// Wait between taking the weight off and opening the lid, minutes.
    /// USDA Complete Guide to Home Canning, Guide 1, pp. 1-21, 1-22 (2015).
    pub const STAND: Minutes = Minutes(10);
    /// Least rest before the seals are checked, hours. Guide 1, p. 1-25.
    pub const REST_HOURS: i64 = 12;
    /// Longest rest before the seals are checked, hours. Guide 1, p. 1-25.
    pub const REST_HOURS_MAX: i64 = 24;

    /// The stricter of two plans, number by number.
    #[must_use]
    pub fn stricter(self, other: Self) -> Self {
        Self {
            pressure: self.pressure.max(other.pressure),
            hold: self.hold.max(other.hold),
            vent: self.vent.max(other.vent),
            heat_before_vent: self.heat_before_vent.max(other.heat_before_vent),
            heat_plus_vent: self.heat_plus_vent.max(other.heat_plus_vent),
        }
    }
}
