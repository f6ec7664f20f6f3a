//! Tested processes: the tables, the catalogue of foods, and the finder.
//!
//! Invariant: an answer is always one row of a published table. Nothing is
//! interpolated, worked out from physics, or overridden.

mod finder;
mod food;
mod jar;
mod table;
mod vessel;

pub use finder::{Caution, Question, Tested, find, tested_jar};
pub use food::{Food, Group, foods, search};
pub use jar::Jar;
pub use table::{
    Note, Pack, PrepStep, Process, Refusal, RefusalKind, Rule, any_rule, by_id, processes,
    refusals, rule,
};
pub use vessel::{CannerQuarts, CannerQuartsError, Gauge, Vessel};
