//! What leaves the phone and comes in: the record file and its short code, the
//! calendar file, tables, labels, backups.
//!
//! Invariant: a file is taken in whole or not at all, and what it adds can be
//! taken out again.

mod backup;
mod calendar;
mod code;
mod label;
mod label_fit;
mod label_sheet;
mod packed;
mod picture;
mod pieces;
mod preview;
mod record_file;
mod reminders;
mod restore;
mod stamp;
mod table;

pub use backup::{BACKUP_EVERY, Backup, BackupDue, backup_due, own_entries};
pub use calendar::{Reminder, When, calendar};
pub use code::{Code, is_code, read_code};
pub use label::{Label, label};
pub use label_fit::{Block, Drawn, Line, Shape, Size, fit, width};
pub use label_sheet::{GAP, LIDS, Lid, MARGIN, Paper, Placed, places, sheets};
pub use picture::{LARGEST, Picture, QUIET, TooLarge, picture};
pub use pieces::{
    FEW, PIECE_BYTES, PIECES, Part, Parts, maybe_written, next_piece, piece_events, piece_key,
    piece_number, row_key,
};
pub use preview::{BatchChange, Change, Comparison, Intake, Preview, preview};
pub use record_file::{
    Digesting, MAX_BATCH_EVENTS, MAX_EVENTS, MAX_FILE_BYTES, ReadError, Reading, VERSION, Writing,
    hex, read, tidied, write,
};
pub use reminders::reminders;
pub use restore::{BatchFate, Fate, Restore, Swap, names, restore};
pub use stamp::Local;
pub use table::{batch_table, jar_table};

use crate::batch::Event;

/// Reads what was handed over as text: a record file or a code.
///
/// # Errors
/// [`ReadError`], with a sentence that says what to do; nothing is taken in.
pub fn read_any(text: &str) -> Result<Vec<Event>, ReadError> {
    if is_code(text) { read_code(text) } else { read(text) }
}
