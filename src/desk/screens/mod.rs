//! The desk's screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod brine;
mod canners;
mod doubt_new;
mod doubts;
mod files;
mod heat;
mod labels;
mod language;
mod look_in;
mod lot;
mod more;
mod picture;
mod places;
mod raw;
mod raws;
mod rows;
mod shelf;
pub mod shelf_kept;
mod take_in;
mod warming;
mod year;
mod year_charts;

pub use brine::brine;
pub use canners::canners;
pub use doubts::doubts;
pub use files::files_screen;
pub use heat::heat;
pub use labels::labels;
pub use lot::lot;
pub use more::more;
pub use picture::picture_screen;
pub use raw::raw;
pub use raws::raws;
pub use shelf::shelf;
pub use take_in::take_in;
pub use warming::warming;
pub use year::year;
