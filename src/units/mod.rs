//! Quantities as types of their own, so a foot is never taken for a minute.
//!
//! Invariant: a value that exists is inside the range its type names; all
//! arithmetic that could leave that range returns `None` or an error.

mod altitude;
mod length;
mod pressure;
mod time;

pub use altitude::{Altitude, AltitudeError};
pub use length::Inches;
pub use pressure::{PsiError, PsiGauge};
pub use time::{EpochMs, Minutes, Span};
