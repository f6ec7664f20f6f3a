//! What a person does or reads at the canner, as one tap each.
//!
//! Invariant: a step that does not fit the stage is an error and changes nothing.

use super::clock::Page;
use super::stage::StageKind;
use crate::keys::keys;
use crate::units::{PsiGauge, Span};

/// One thing done or seen at the canner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Lid on, vent open, heat on.
    HeatOn,
    /// A steady funnel of steam: venting starts.
    SteamSteady,
    /// The steam faltered: venting starts again when it is steady.
    SteamFaltered,
    /// Weight on or petcock closed.
    VentClosed,
    /// The table's pressure is reached: the full time starts.
    AtPressure,
    /// A dial reading, tenths of psi.
    Reading(PsiGauge),
    /// The weight moves as its maker describes: a weighted gauge's reading.
    WeightSteady,
    /// Pressure fell below the table's figure: the full time starts over.
    Dropped(DropCause),
    /// Full time done, heat off.
    HeatOff,
    /// Gauge at zero, weight taken off.
    WeightOff,
    /// Lid opened, away from the face.
    LidOpened,
    /// Jars out, upright, an inch apart.
    Unloaded,
    /// The wall clock moved against the steady clock, milliseconds.
    ClockMoved {
        /// How far; negative is back.
        by: Span,
        /// What the page was doing.
        page: Page,
    },
    /// By another clock the stage has lasted as long as the wall clock says:
    /// the phone only slept, and that counts.
    ClockRight,
    /// It has not, or the person cannot say: the jump does not count.
    ClockWrong,
    /// Given up before the full time.
    Stopped(StopCause),
}

/// Why the pressure fell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DropCause {
    /// Heat too low, or turned down too far.
    HeatTooLow,
    /// Fuel or power ran out.
    FuelOut,
    /// The weight stopped moving.
    WeightStill,
    /// The weight or lid leaked or was touched.
    Leak,
    /// A logged reading was below the figure.
    LowReading,
    /// Seen too late to tell, or not sure.
    Unsure,
}

/// Why a run was given up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopCause {
    /// Fuel or power ran out.
    FuelOut,
    /// The canner leaked or failed.
    CannerFault,
    /// The canner may have boiled dry.
    BoiledDry,
    /// Something else.
    Other,
}

/// Why a step was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepError {
    /// The step does not belong to this stage.
    NotNow(StageKind),
    /// A waiting time is not over.
    TooSoon {
        /// The stage whose time is running.
        stage: StageKind,
        /// Time still to run.
        left: Span,
    },
}

impl StepError {
    /// Whether waiting is all that is missing.
    #[must_use]
    pub const fn is_too_soon(self) -> bool {
        matches!(self, Self::TooSoon { .. })
    }
}

keys!(DropCause {
    HeatTooLow = "heat_too_low",
    FuelOut = "fuel_out",
    WeightStill = "weight_still",
    Leak = "leak",
    LowReading = "low_reading",
    Unsure = "unsure",
});
keys!(StopCause {
    FuelOut = "fuel_out",
    CannerFault = "canner_fault",
    BoiledDry = "boiled_dry",
    Other = "other",
});
