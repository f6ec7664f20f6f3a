//! Brine by weight: how strong it is, what to weigh, and what is published about
//! soaking and light smoking before canning.
//!
//! Invariant: salt and smoke are taste here, never preservation; a soaking time is
//! only ever one that a publication prints, for the piece it prints it for.

mod measure;
mod reading;
mod soak;
mod strength;

pub use measure::{Fish, MeasureError, Salt, Water};
pub use reading::{Reading, ReadingError};
pub use soak::{CAUTIONS, FOR_CANNING, RECIPES, Recipe, SOAKS, Soak, dry_salt};
pub use strength::{BrineError, Degrees, Strength};
