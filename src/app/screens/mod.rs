//! The screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod batch;
mod find;
mod hand_over;
mod load;
mod more;
mod safety;
mod seals;
mod shelf;
mod today;

pub use batch::batch;
pub use find::find;
pub use hand_over::hand_over;
pub use load::load;
pub use more::more;
pub use safety::safety;
pub use shelf::shelf;
pub use today::today;
