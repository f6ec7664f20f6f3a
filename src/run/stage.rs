//! Where a run stands.
//!
//! Invariant: each stage carries the instant it began and nothing that could
//! contradict it.

use super::step::Step;
use crate::units::EpochMs;

/// A stage with the instant it began.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Jars and water go in; no heat yet.
    Loading,
    /// Heat is on, no steady steam yet.
    WarmUp(EpochMs),
    /// Steam flows in a steady funnel, vent open.
    Venting(EpochMs),
    /// Vent closed, pressure is climbing to the table's figure.
    Rising(EpochMs),
    /// At pressure: the full time is running.
    Holding(EpochMs),
    /// Heat off after the full time; pressure falls on its own.
    Falling(EpochMs),
    /// Weight off at zero: ten minutes before the lid.
    Standing(EpochMs),
    /// Lid open, jars are coming out.
    Unloading(EpochMs),
    /// Jars rest untouched.
    Resting(EpochMs),
    /// Given up before the full time: the load is not processed.
    Stopped(EpochMs),
}

/// The stages by name, without times.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StageKind {
    /// See [`Stage::Loading`].
    Loading,
    /// See [`Stage::WarmUp`].
    WarmUp,
    /// See [`Stage::Venting`].
    Venting,
    /// See [`Stage::Rising`].
    Rising,
    /// See [`Stage::Holding`].
    Holding,
    /// See [`Stage::Falling`].
    Falling,
    /// See [`Stage::Standing`].
    Standing,
    /// See [`Stage::Unloading`].
    Unloading,
    /// See [`Stage::Resting`].
    Resting,
    /// See [`Stage::Stopped`].
    Stopped,
}

impl Stage {
    /// The stage's name.
    #[must_use]
    pub const fn kind(self) -> StageKind {
        match self {
            Self::Loading => StageKind::Loading,
            Self::WarmUp(_) => StageKind::WarmUp,
            Self::Venting(_) => StageKind::Venting,
            Self::Rising(_) => StageKind::Rising,
            Self::Holding(_) => StageKind::Holding,
            Self::Falling(_) => StageKind::Falling,
            Self::Standing(_) => StageKind::Standing,
            Self::Unloading(_) => StageKind::Unloading,
            Self::Resting(_) => StageKind::Resting,
            Self::Stopped(_) => StageKind::Stopped,
        }
    }

    /// When the stage began; `None` before the heat is on.
    #[must_use]
    pub const fn since(self) -> Option<EpochMs> {
        match self {
            Self::Loading => None,
            Self::WarmUp(t)
            | Self::Venting(t)
            | Self::Rising(t)
            | Self::Holding(t)
            | Self::Falling(t)
            | Self::Standing(t)
            | Self::Unloading(t)
            | Self::Resting(t)
            | Self::Stopped(t) => Some(t),
        }
    }

    /// Whether a step is the one this stage begins with.
    #[must_use]
    pub const fn is_begun_by(self, step: Step) -> bool {
        matches!(
            (self, step),
            (Self::WarmUp(_), Step::HeatOn)
                | (Self::Venting(_), Step::SteamSteady)
                | (Self::Rising(_), Step::VentClosed)
                | (Self::Holding(_), Step::AtPressure)
                | (Self::Falling(_), Step::HeatOff)
                | (Self::Standing(_), Step::WeightOff)
                | (Self::Unloading(_), Step::LidOpened)
                | (Self::Resting(_), Step::Unloaded)
        )
    }

    /// Whether the canner is hot or under pressure: someone must stay by it.
    #[must_use]
    pub const fn is_attended(self) -> bool {
        !matches!(self, Self::Loading | Self::Resting(_) | Self::Stopped(_))
    }
}
