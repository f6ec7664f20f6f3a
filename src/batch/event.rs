//! One event of the record, kept as the text it came in.
//!
//! Invariant: the text is canonical JSON (sorted keys) and holds every field,
//! known or not, so a round trip through an older build loses nothing.

use super::body::Body;
use super::codec;
use super::id::Id;
use crate::json::{self, Json};
use crate::run::Watch;
use crate::t;
use crate::units::EpochMs;
use core::cmp::Ordering;
use core::fmt;
use std::sync::Arc;

/// Longest text of one event, bytes.
pub const MAX_EVENT_BYTES: usize = 8_192;
/// Highest place in a batch: far over any real one, so that a forged record
/// cannot use the numbers up.
const MAX_SEQ: u32 = 1_000_000;
/// Last instant a calendar can show, Unix milliseconds (ECMA-262, 21.4.1.1).
pub(super) const MAX_AT: i64 = 8_640_000_000_000_000;

/// One thing that happened.
#[derive(Clone, Debug)]
pub struct Event {
    id: Id,
    batch: Id,
    seq: u32,
    at: EpochMs,
    phone: Option<Id>,
    /// Shared, as is the text, so that a copy of an event costs little.
    body: Option<Arc<Body>>,
    text: Arc<str>,
}

/// Why a text is no event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EventError {
    /// Not JSON, or not an object.
    NotJson,
    /// One of `id`, `batch`, `seq`, `at`, `what` is missing or misshapen.
    NoHead,
    /// Longer than [`MAX_EVENT_BYTES`].
    TooLong,
}

impl fmt::Display for EventError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotJson => t!("an entry is not readable"),
            Self::NoHead => t!("an entry lacks its name, time or place in the record"),
            Self::TooLong => t!("an entry is longer than any this app writes"),
        })
    }
}

impl core::error::Error for EventError {}

impl Event {
    /// A new event. `seq` is one more than the highest in the batch.
    #[must_use]
    pub fn new(id: Id, batch: Id, seq: u32, at: EpochMs, body: Body) -> Self {
        Self::told_on(None, id, batch, seq, at, body)
    }

    /// A new event that says by which phone's clock its time was read.
    #[must_use]
    pub fn told_on(
        phone: Option<Id>,
        id: Id,
        batch: Id,
        seq: u32,
        at: EpochMs,
        body: Body,
    ) -> Self {
        let mut json = Json::object([
            ("id", codec::id(id)),
            ("batch", codec::id(batch)),
            ("seq", Json::whole(i64::from(seq))),
            ("at", Json::whole(at.0)),
            ("what", codec::body_to_json(&body)),
        ]);
        if let (Json::Object(members), Some(phone)) = (&mut json, phone) {
            members.insert("phone".to_owned(), codec::id(phone));
        }
        let text = json.to_string().into();
        Self { id, batch, seq, at, phone, body: Some(Arc::new(body)), text }
    }

    /// Reads an event from its JSON text.
    ///
    /// # Errors
    /// [`EventError`] if the text is no event at all. An unknown kind is no error.
    pub fn parse(text: &str) -> Result<Self, EventError> {
        if text.len() > MAX_EVENT_BYTES {
            return Err(EventError::TooLong);
        }
        let (json, printed) = json::parse_kept(text).map_err(|_| EventError::NotJson)?;
        Self::kept(&json, printed.then_some(text))
    }

    /// Reads an event from parsed JSON.
    ///
    /// # Errors
    /// [`EventError`], as for [`Event::parse`].
    pub fn from_json(json: &Json) -> Result<Self, EventError> {
        Self::kept(json, None)
    }

    /// Reads an event from parsed JSON; `printed` is what that is printed as, if it is
    /// known already.
    ///
    /// # Errors
    /// [`EventError`], as for [`Event::parse`].
    pub fn kept(json: &Json, printed: Option<&str>) -> Result<Self, EventError> {
        if !matches!(json, Json::Object(_)) {
            return Err(EventError::NotJson);
        }
        let text: Arc<str> = match printed {
            Some(text) => text.into(),
            None => json.to_string().into(),
        };
        if text.len() > MAX_EVENT_BYTES {
            return Err(EventError::TooLong);
        }
        Self::headed(json, text).ok_or(EventError::NoHead)
    }

    fn headed(json: &Json, text: Arc<str>) -> Option<Self> {
        let seq: u32 = json.whole_of("seq")?;
        let at = EpochMs(json.whole_of("at")?);
        if seq > MAX_SEQ || !(0..=MAX_AT).contains(&at.0) {
            return None;
        }
        Some(Self {
            id: codec::id_of(json, "id")?,
            batch: codec::id_of(json, "batch")?,
            seq,
            at,
            phone: codec::id_of(json, "phone"),
            body: codec::body_from_json(json.get("what")?).map(Arc::new),
            text,
        })
    }

    /// The event's own name.
    #[must_use]
    pub const fn id(&self) -> Id {
        self.id
    }

    /// The batch it belongs to.
    #[must_use]
    pub const fn batch(&self) -> Id {
        self.batch
    }

    /// Its place in the batch: higher than all its writer had seen.
    #[must_use]
    pub const fn seq(&self) -> u32 {
        self.seq
    }

    /// Wall-clock time at which it was written.
    #[must_use]
    pub const fn at(&self) -> EpochMs {
        self.at
    }

    /// Whose clock its time was read from, if it says.
    #[must_use]
    pub const fn watch(&self) -> Watch {
        match self.phone {
            Some(phone) => Watch(Some(phone.number())),
            None => Watch(None),
        }
    }

    /// What happened; `None` for a kind this build does not know.
    #[must_use]
    pub fn body(&self) -> Option<&Body> {
        self.body.as_deref()
    }

    /// The canonical JSON text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }
}

// Events are ordered as the fold reads them: by place, then by name; the text
// decides between two versions of one event so that every phone picks the same.
impl Ord for Event {
    fn cmp(&self, other: &Self) -> Ordering {
        (self.batch, self.seq, self.id, &self.text).cmp(&(
            other.batch,
            other.seq,
            other.id,
            &other.text,
        ))
    }
}

impl PartialOrd for Event {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Event {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}

impl Eq for Event {}
