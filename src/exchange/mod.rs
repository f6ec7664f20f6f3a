//! What leaves the phone and comes in: the record file, the calendar file, labels.
//!
//! Invariant: a file is taken in whole or not at all, and what it adds can be
//! taken out again.

mod calendar;
mod label;
mod preview;
mod record_file;

pub use calendar::{Reminder, calendar};
pub use label::{Label, label};
pub use preview::{BatchChange, Change, Intake, Preview, preview};
pub use record_file::{MAX_EVENTS, MAX_FILE_BYTES, ReadError, VERSION, read, write};
