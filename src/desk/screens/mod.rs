//! The desk's screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod brine;
mod raw;
mod raws;
mod more;
mod shelf;

pub use brine::brine;
pub use raw::raw;
pub use raws::raws;
pub use more::more;
pub use shelf::shelf;
