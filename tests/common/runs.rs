//! Plans and times of runs, for tests of the stage machine.

use hearthjar::run::RunPlan;
use hearthjar::units::{EpochMs, Minutes, PsiGauge};

/// Pints of fish on a dial at sea level: 100 min at 11 psi (USDA Complete Guide to Home
/// Canning, Guide 5, p. 5-11, 2015).
pub fn pints() -> RunPlan {
    RunPlan {
        pressure: PsiGauge::whole(11),
        hold: Minutes(100),
        vent: Minutes(10),
        heat_before_vent: Minutes(0),
        heat_plus_vent: Minutes(0),
    }
}

/// An instant, minutes after one that every test of runs begins at.
pub fn at(minutes: i64) -> EpochMs {
    EpochMs(1_764_000_000_000 + minutes * 60_000)
}
