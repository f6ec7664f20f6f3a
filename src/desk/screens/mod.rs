//! The desk's screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod files;
mod labels;
mod more;
mod picture;
mod shelf;

pub use files::files_screen;
pub use labels::labels;
pub use more::more;
pub use picture::picture_screen;
pub use shelf::shelf;
