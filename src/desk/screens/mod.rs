//! The desk's screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod brine;
mod lot;
mod lots;
mod more;
mod shelf;

pub use brine::brine;
pub use lot::lot;
pub use lots::lots;
pub use more::more;
pub use shelf::shelf;
