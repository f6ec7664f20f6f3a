//! Doubts: which jars a finding touches, and what was decided about them.
//!
//! Invariant: every jar that had its full time and that the finding can touch is
//! listed, wherever it is now; a jar the record clears is not.

mod book;
mod gauge;
pub mod said;
mod touched;

pub use book::{DoubtKept, Mark, discard, doubts, hold, lift};
pub use gauge::{Finding, findings};
pub use touched::{LoadTouched, Suspect, Touched, Where, altitudes, lid_lots, touched};
