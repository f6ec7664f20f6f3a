//! The desk's screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod doubt_new;
mod doubts;
mod lot;
mod more;
mod rows;
mod shelf;
mod shelf_kept;
mod year;
mod year_charts;

pub use doubts::doubts;
pub use lot::lot;
pub use more::more;
pub use shelf::shelf;
pub use year::year;
