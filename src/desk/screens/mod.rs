//! The desk's screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod canners;
mod heat;
mod more;
mod places;
mod shelf;
mod warming;

pub use canners::canners;
pub use heat::heat;
pub use more::more;
pub use shelf::shelf;
pub use warming::warming;
