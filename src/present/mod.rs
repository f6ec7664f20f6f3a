//! What screens say, worked out without a screen.
//!
//! Invariant: pure functions from state and time to words; the page only lays
//! them out.

mod route;
mod time_text;

pub use route::Route;
pub use time_text::{Clockface, LocalTime, digits, words};
