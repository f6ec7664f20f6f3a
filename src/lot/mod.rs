//! A raw lot on its way to the canner: thaw, brine, drip, smoke, hold, pack.
//!
//! Invariant: time out of the cold only ever adds up, from the catch until the
//! heat is on; a published limit that was passed stays passed. Salt and smoke keep
//! nothing: no step here ends in a shelf.

mod limits;
mod raw_lot;
mod step;
mod words;

pub use limits::{Check, Limit, Standing};
pub use raw_lot::{LotError, OutOfCold, RawLot};
pub use step::{Kept, LotEnd, LotMove, LotSaid, LotStart, LotStep};
pub use words::step_words;
