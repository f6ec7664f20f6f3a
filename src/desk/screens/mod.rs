//! The desk's screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod more;
mod shelf;

pub use more::more;
pub use shelf::shelf;
