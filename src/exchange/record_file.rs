//! The record file: a text that a phone will share and a person can read.
//!
//! Invariant: `read(write(events))` gives the same events; a text that was cut,
//! changed or is no record file gives an error and nothing else.
//!
//! # Format, version 1
//!
//! UTF-8 text, lines ended by LF (a reader takes CRLF as LF), in this order:
//!
//! 1. `Hearthjar record 1`: the name of the format and its version.
//! 2. Lines for people, none of them empty; readers skip them.
//! 3. `Entries: <n>`: how many events follow, in decimal.
//! 4. `SHA-256: <64 hex digits>` (FIPS 180-4) of the JSON part.
//! 5. One empty line.
//! 6. The JSON part (RFC 8259): one object whose member `events` is an array of
//!    events, one a line. Readers keep members they do not know of each event and
//!    ignore those of the object.
//!
//! The JSON part is digested without its trailing white space and with every CR
//! before an LF taken out, so that mail programs may add either. A byte-order mark
//! and white space before the first line are ignored. Limits: 32 MiB a file,
//! 400,000 events, 10,000 events of one batch, 8 KiB an event as the record writes it,
//! nesting 64 deep, 10,000 JSON values in one event and beside the events. What is
//! over a limit is an error, found before more than one event beyond it is in memory.

use crate::batch::{Event, EventError};
use crate::json::List;
use crate::order;
use crate::t;
use core::fmt;
use sha2::{Digest, Sha256};
use std::borrow::Cow;

/// Format version written, and the newest that is read.
pub const VERSION: u32 = 1;
/// Largest file read, bytes.
pub const MAX_FILE_BYTES: usize = 32 * 1024 * 1024;
/// Most events in one file.
pub const MAX_EVENTS: usize = 400_000;
/// Most events of one batch in one file: work grows with their square.
pub const MAX_BATCH_EVENTS: usize = 10_000;

const NAME: &str = "Hearthjar record ";

/// Why a text is not taken in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadError {
    /// There is nothing in it.
    Empty,
    /// Larger than [`MAX_FILE_BYTES`].
    TooBig,
    /// Not a record file.
    Foreign,
    /// Written by a newer version.
    Newer(u32),
    /// Cut off: the JSON part is missing, incomplete or short of entries.
    Cut,
    /// The digest does not fit: something was changed.
    Altered,
    /// More than [`MAX_EVENTS`].
    TooMany,
    /// An entry, counted from 1, is no event.
    Entry(usize, EventError),
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str(t!("There is nothing in this file. Pick the file again.")),
            Self::TooBig => f.write_str(
                t!("This file is larger than 32 MB, more than Hearthjar reads. Ask for fewer batches in one file."),
            ),
            Self::Foreign => f.write_str(
                t!("This is no Hearthjar record. Pick a file that begins with the words Hearthjar record."),
            ),
            Self::Newer(version) => f.write_str(&t!("This record is of version {}, newer than this Hearthjar reads. Update Hearthjar, then take it in.", version)),
            Self::Cut => f.write_str(
                t!("This record is cut off: part of it is missing. Ask for it to be sent again, as a file."),
            ),
            Self::Altered => f.write_str(
                t!("This record was changed on its way: its check number does not fit. Ask for it to be sent again, as a file."),
            ),
            Self::TooMany => f.write_str(
                t!("This record holds more entries than Hearthjar reads at once. Ask for fewer batches in one file."),
            ),
            Self::Entry(number, why) => f.write_str(&t!("Entry {} of this record cannot be read: {}. Ask for it to be sent again.", number, why)),
        }
    }
}

impl core::error::Error for ReadError {}

impl ReadError {
    /// Whether a newer app would read it.
    #[must_use]
    pub const fn is_newer(&self) -> bool {
        matches!(self, Self::Newer(_))
    }

    /// Whether sending it again may help.
    #[must_use]
    pub const fn is_damage(&self) -> bool {
        matches!(self, Self::Cut | Self::Altered | Self::Entry(..))
    }
}

/// The record file of some events.
#[must_use]
pub fn write<'a>(events: impl IntoIterator<Item = &'a Event>) -> String {
    let mut writing = Writing::default();
    for event in events {
        writing.add(event);
    }
    writing.done()
}

/// A record file written a little at a time.
#[derive(Default)]
pub struct Writing {
    /// The JSON part so far, and the digest of some of it.
    json: String,
    digest: Sha256,
    digested: usize,
    count: usize,
}

impl Writing {
    /// Adds an event.
    pub fn add(&mut self, event: &Event) {
        self.json.push_str(if self.count == 0 { "{\"events\":[\n" } else { ",\n" });
        self.json.push_str(event.text());
        self.count += 1;
    }

    /// Works out the digest of what has been added, which else is done at the end.
    pub fn digest(&mut self) {
        self.digest.update(self.json.as_bytes().get(self.digested..).unwrap_or_default());
        self.digested = self.json.len();
    }

    /// The file.
    #[must_use]
    pub fn done(mut self) -> String {
        self.json.push_str(if self.count == 0 { "{\"events\":[\n\n]}" } else { "\n]}" });
        self.digest();
        format!(
            "{NAME}{VERSION}\nA home canning record. To read it: open Hearthjar, Hand over, Take \
             in a file.\nEntries: {}\nSHA-256: {}\n\n{}\n",
            self.count,
            hex(&self.digest.finalize()),
            self.json
        )
    }
}

fn digest(json: &str) -> String {
    hex(&Sha256::digest(json.as_bytes()))
}

/// A SHA-256 digest worked out a little at a time.
#[derive(Clone, Default)]
pub struct Digesting(Sha256);

impl Digesting {
    /// Takes in some more bytes.
    pub fn add(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    /// The digest as a record file writes it.
    #[must_use]
    pub fn hex(self) -> String {
        hex(&self.0.finalize())
    }
}

/// The bytes of a digest as a record file writes them.
#[must_use]
pub fn hex(digest: &[u8]) -> String {
    let mut hex = String::with_capacity(64);
    for byte in digest {
        for nibble in [byte >> 4, byte & 15] {
            hex.push(char::from_digit(u32::from(nibble), 16).unwrap_or('0'));
        }
    }
    hex
}

/// Reads a record file.
///
/// # Errors
/// [`ReadError`], with a sentence that says what to do; nothing is taken in.
pub fn read(text: &str) -> Result<Vec<Event>, ReadError> {
    let text = tidied(text)?;
    let mut reading = Reading::open(&text)?;
    reading.check(&digest(reading.json()))?;
    let mut events = Vec::new();
    loop {
        let some = reading.some(usize::MAX)?;
        if some.is_empty() {
            break;
        }
        events.extend(some);
    }
    if largest_batch(&events) > MAX_BATCH_EVENTS {
        return Err(ReadError::TooMany);
    }
    Ok(events)
}

/// A text as it left the phone that wrote it, without what mail programs add.
///
/// # Errors
/// [`ReadError`] if there is nothing in it, or too much.
pub fn tidied(text: &str) -> Result<Cow<'_, str>, ReadError> {
    if text.len() > MAX_FILE_BYTES {
        return Err(ReadError::TooBig);
    }
    let text = text.trim_matches(|c: char| c.is_whitespace() || c == '\u{feff}');
    if text.is_empty() {
        return Err(ReadError::Empty);
    }
    // A second copy only where it is needed.
    if text.as_bytes().contains(&b'\r') {
        return Ok(Cow::Owned(text.replace("\r\n", "\n")));
    }
    Ok(Cow::Borrowed(text))
}

/// A record file read a little at a time. What has been read counts only once the end
/// has been reached and the digest fits.
pub struct Reading<'a> {
    json: &'a str,
    /// The digest it says it has.
    digest: &'a str,
    /// How many events it says it has, and how many have been read.
    count: usize,
    taken: usize,
    list: Option<List<'a>>,
}

impl<'a> Reading<'a> {
    /// Reads the head of a [`tidied`] text.
    ///
    /// # Errors
    /// [`ReadError`] if it is no record file, or is cut off.
    pub fn open(text: &'a str) -> Result<Self, ReadError> {
        let version = text.lines().next().and_then(|line| line.strip_prefix(NAME));
        let version = version.ok_or(ReadError::Foreign)?.trim();
        let version: u32 = version.parse().map_err(|_| ReadError::Foreign)?;
        if version > VERSION {
            return Err(ReadError::Newer(version));
        }
        let (head, json) = text.split_once("\n\n").ok_or(ReadError::Cut)?;
        let field =
            |name: &str| head.lines().find_map(|line| line.strip_prefix(name)).map(str::trim);
        let count = field("Entries:").and_then(|n| n.parse().ok()).ok_or(ReadError::Cut)?;
        let digest = field("SHA-256:").ok_or(ReadError::Cut)?;
        if count > MAX_EVENTS {
            return Err(ReadError::TooMany);
        }
        let json = json.trim_end();
        if !json.ends_with('}') {
            return Err(ReadError::Cut);
        }
        Ok(Self { json, digest, count, taken: 0, list: List::open(json, "events").ok() })
    }

    /// What its digest is of.
    #[must_use]
    pub const fn json(&self) -> &'a str {
        self.json
    }

    /// Whether it has this digest. Until that is known, an error of [`Reading::some`]
    /// only says what the damage led to.
    ///
    /// # Errors
    /// [`ReadError`] if it was cut or changed.
    pub fn check(&self, digest: &str) -> Result<(), ReadError> {
        if digest == self.digest {
            return Ok(());
        }
        // A paste that lost its middle still ends well: tell it from a change.
        let short = self.json.matches("\"seq\":").count() < self.count;
        Err(if short { ReadError::Cut } else { ReadError::Altered })
    }

    /// The next events, of some `bytes` of text; none at the end.
    ///
    /// # Errors
    /// [`ReadError`] if an entry is no event, or if there are more or fewer of them
    /// than the file says.
    pub fn some(&mut self, bytes: usize) -> Result<Vec<Event>, ReadError> {
        let list = self.list.as_mut().ok_or(ReadError::Altered)?;
        let end = list.at().saturating_add(bytes);
        let mut events = Vec::new();
        while list.at() < end {
            let Some(entry) = list.next_entry().map_err(|_| ReadError::Altered)? else {
                if self.taken != self.count {
                    return Err(ReadError::Altered);
                }
                break;
            };
            let event = Event::kept(&entry.json, entry.printed);
            if self.taken == MAX_EVENTS {
                return Err(ReadError::TooMany);
            }
            if self.taken == self.count {
                return Err(ReadError::Altered);
            }
            self.taken += 1;
            events.push(event.map_err(|why| ReadError::Entry(self.taken, why))?);
        }
        Ok(events)
    }
}

/// How many events the batch with the most of them has.
fn largest_batch(events: &[Event]) -> usize {
    let batches = events.iter().map(|event| event.batch().number()).collect();
    let batches: Vec<u128> = order::by_key(batches, |batch| (0, *batch));
    batches.chunk_by(|a, b| a == b).map(<[u128]>::len).max().unwrap_or(0)
}
