//! A large take-in on its way into the record.
//!
//! The record keeps an event in a row of its own. So many rows take a browser many
//! seconds; a few large ones take it a moment. So the events are first kept in pieces,
//! rows of many events each, and count as taken in; then they get rows of their own, a
//! few at a time, and a piece goes in one stroke with the last of its rows.
//!
//! Invariant: an event of the take-in is in a piece or in a row of its own, or in both,
//! never in neither. Rows are only written for a piece that is still there, so what was
//! taken out again with its pieces does not come back.

use crate::batch::{Archive, Event, Id};
use core::str::Lines;

/// How the key of every piece begins; no event has a key like it.
pub const PIECES: &str = "intake/";
/// Take-ins of more events than this go by pieces.
pub const FEW: usize = 500;
/// About how many bytes of text a piece holds: little enough to be read in one go.
pub const PIECE_BYTES: usize = 200_000;

/// The key of an event's own row.
#[must_use]
pub fn row_key(batch: Id, event: Id) -> String {
    format!("{batch}/{event}")
}

/// The key of a piece; `name` tells take-ins apart, pieces are counted from 0.
#[must_use]
pub fn piece_key(name: &str, number: usize) -> String {
    format!("{PIECES}{name}/{number:05}")
}

/// The number in such a key.
#[must_use]
pub fn piece_number(key: &str) -> Option<usize> {
    key.strip_prefix(PIECES)?.rsplit_once('/')?.1.parse().ok()
}

/// The text of the next piece, an event a line; `None` when there are no more events.
pub fn next_piece(events: &mut dyn Iterator<Item = &Event>) -> Option<String> {
    let mut text = String::new();
    for event in events {
        if !text.is_empty() {
            text.push('\n');
        }
        text.push_str(event.text());
        if text.len() >= PIECE_BYTES {
            break;
        }
    }
    (!text.is_empty()).then_some(text)
}

/// The events of a piece, and whether that is all it holds.
#[must_use]
pub fn piece_events(text: &str) -> (Vec<Event>, bool) {
    let mut events = Vec::new();
    let mut all = true;
    for line in text.lines() {
        match Event::parse(line) {
            Ok(event) => events.push(event),
            Err(_) => all = false,
        }
    }
    (events, all)
}

/// The events of a take-in that may have rows of their own, by batch and name: those of
/// the pieces that are gone, and of the first that is left, which was being written.
#[must_use]
pub fn maybe_written(
    events: &mut dyn Iterator<Item = &Event>,
    first_left: Option<usize>,
) -> Vec<(Id, Id)> {
    let mut names = Vec::new();
    let (mut piece, mut bytes) = (0, 0);
    for event in events {
        if first_left.is_some_and(|left| piece > left) {
            break;
        }
        names.push((event.batch(), event.id()));
        // As `next_piece` cuts.
        bytes += event.text().len() + usize::from(bytes > 0);
        if bytes >= PIECE_BYTES {
            (piece, bytes) = (piece + 1, 0);
        }
    }
    names
}

/// What one stroke writes of a piece.
pub struct Part {
    /// The events whose rows are written.
    pub events: Vec<Event>,
    /// Whether the piece goes with it.
    pub last: bool,
}

/// A piece being written, part by part.
pub struct Parts<'a> {
    lines: Lines<'a>,
    whole: bool,
    done: bool,
}

impl<'a> Parts<'a> {
    /// Nothing of it is written yet.
    #[must_use]
    pub fn of(text: &'a str) -> Self {
        Self { lines: text.lines(), whole: true, done: false }
    }

    /// The next part, of at most so many events; `None` once there are no more. Of two
    /// texts of one event the archive's own rule decides. A piece with a line that
    /// cannot be read never goes.
    pub fn next_part(&mut self, archive: &Archive, most: usize) -> Option<Part> {
        if self.done {
            return None;
        }
        let mut events = Vec::new();
        while events.len() < most {
            let Some(line) = self.lines.next() else {
                self.done = true;
                break;
            };
            match Event::parse(line) {
                Ok(theirs) => {
                    let mut here = archive.events(theirs.batch()).iter();
                    let own = here.find(|own| own.id() == theirs.id() && **own > theirs);
                    events.push(own.cloned().unwrap_or(theirs));
                }
                Err(_) => self.whole = false,
            }
        }
        Some(Part { events, last: self.done && self.whole })
    }
}
