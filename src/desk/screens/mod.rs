//! The desk's screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod brine;
mod canners;
mod doubt_new;
mod doubts;
mod heat;
mod lot;
mod more;
mod places;
mod raw;
mod raws;
mod rows;
mod shelf;
mod shelf_kept;
mod warming;
mod year;
mod year_charts;

pub use brine::brine;
pub use canners::canners;
pub use doubts::doubts;
pub use heat::heat;
pub use lot::lot;
pub use more::more;
pub use raw::raw;
pub use raws::raws;
pub use shelf::shelf;
pub use warming::warming;
pub use year::year;
