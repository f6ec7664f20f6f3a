//! Pieces that several screens are made of.
//!
//! Invariant: each piece draws what it is given and decides nothing.

#![allow(unused_imports, reason = "each half uses its own part of the shared pieces")]

mod chart;
mod clock_face;
mod form;
mod notices;
mod pause;
mod prep;
mod take_back;
mod text;
mod translated;

pub use chart::{chart, legend, stroke};
pub use clock_face::clock_face;
pub use form::{choices, number_field, psi_stepper, stepper, text_field};
pub use notices::{lost_bars, notice_box};
pub use pause::Pause;
pub use prep::prep;
pub use take_back::{name_of, take_back};
pub use text::{
    any_rules, due_at, foot, heading, items, mind_list, page, rules, section, when_short, why,
};
pub use translated::{language, translated, translated_here};
