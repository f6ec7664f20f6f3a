//! The domain of Hearthjar: tested pressure-canning processes, the canner run,
//! the record of a batch and the file that hands it over.
//!
//! Invariant: nothing here knows the web. Every type builds and is tested
//! natively; the page in `main.rs` only shows what this library decides.

pub mod batch;
pub mod brine;
pub mod doubt;
pub mod exchange;
pub mod heat;
pub mod json;
mod keys;
pub mod lot;
pub mod order;
pub mod physics;
pub mod plan;
pub mod present;
pub mod process;
pub mod run;
pub mod shelf;
pub mod units;
pub mod words;
