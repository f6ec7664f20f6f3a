//! What screens say, worked out without a screen.
//!
//! Invariant: pure functions from state and time to words; the page only lays
//! them out.

mod agenda;
mod dial;
mod front;
mod lot_view;
mod milestone;
mod place;
mod route;
mod run_view;
mod tap_name;
mod time_text;

pub use agenda::{Due, Need, agenda};
pub use dial::{DIAL_RULES, DialAdvice, dial_advice, dial_at_run};
pub use front::{Front, LISTED, MOST_CHANGED, Since, begun, newest};
pub use lot_view::{
    LimitLine, LotCard, cold_line, kept_choices, limit_lines, lot_bars, lot_cards, lot_fits,
    next_steps, not_yet,
};
pub use milestone::milestone;
pub use place::{NoPlace, PlaceAdvice, place_by_boiling, place_by_sensor};
pub use route::Route;
pub use run_view::{Action, Clock, MIND_VENT, Mind, RunView, clock, dispute};
pub use tap_name::tap_name;
pub use time_text::{Clockface, LocalTime, digits, words};
