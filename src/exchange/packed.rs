//! One batch's events in few bytes, for a picture code.
//!
//! Invariant: `unpack(pack(events))` gives the same events to the byte, unknown
//! members and kinds included; bytes that are no packed batch are an error.
//!
//! # Format, version 1
//!
//! The batch's name (16 bytes), the number of events (varint), then each event: its
//! name (16 bytes), its place less that of the event before (signed varint), its
//! time in milliseconds less that of the event before (signed varint), and the JSON
//! object of its other members as a value.
//!
//! A varint has seven bits a byte, lowest first, the high bit set on all but the
//! last; a signed one maps 0, -1, 1, -2 to 0, 1, 2, 3. A value begins with a byte:
//! its kind in the upper three bits, a count in the lower five; a count of 31 means
//! that a varint with the rest follows.
//!
//! | kind | value |
//! |---|---|
//! | 0 | by count: null, false, true; 3 a new name (16 bytes), 4 a name seen before (varint: how many) |
//! | 1 | the whole number `count` |
//! | 2 | the whole number `-1 - count` |
//! | 3 | any other number, `count` bytes of its digits |
//! | 4 | a new text of `count` bytes, UTF-8 |
//! | 5 | text `count` of the words below, then of the new texts in order |
//! | 6 | a list of `count` values |
//! | 7 | an object of `count` members, each a text (kind 4 or 5) and a value |
//!
//! A name is a text of 32 lowercase hex digits. Names are numbered as they come:
//! the batch's is 0, then those of events and new names.

use crate::batch::{Event, Id};
use crate::json::{Json, Members, parse};

/// Words that records use, most used first: part of the format, never reordered.
/// Numbered from 0; new texts are numbered on from them.
const WORDS: &str = "\
    what ran load step seal_checked seal sealed jar heat_on steam_steady vent_closed \
    at_pressure \
    heat_off weight_off lid_opened unloaded shelved place jar_taken how eaten given not_sealed \
    broken unsealed_settled way refrigerated frozen reading noted text batch_started \
    load_planned content product pack altitude demo process minutes pressure gauge vent \
    heat_before_vent heat_plus_vent canner_quarts canner jars publication added undone event \
    dial weighted raw hot smoked pint half-pint quart fish smoked-fish dropped stopped \
    clock_moved clock_right clock_wrong steam_faltered by page jars_counted discarded \
    reprocessed lost_seal spoiled hidden closed heat_too_low unsure fuel_out ml-250 ml-500 \
    ml-1000 twelve-ounce pint-and-half four-ounce lids_used lot jars_moved doubted doubt cause \
    say verdict held doubt_lifted reason gauge_high wrong_altitude late_dip lid_lot batch shown \
    weight_still leak low_reading canner_fault boiled_dry other precooked";

/// Most bytes read.
pub(super) const MAX_BYTES: usize = 4_096;
/// Deepest nesting read: that of the record's own JSON.
const MAX_DEPTH: u8 = 64;

/// Packs the events of one batch; `None` if they are none, are of several batches,
/// or would not come back the same.
pub(super) fn pack(events: &[Event]) -> Option<Vec<u8>> {
    let batch = events.first()?.batch();
    let mut packer = Packer { out: Vec::new(), names: vec![batch], texts: Vec::new() };
    packer.out.extend(batch.number().to_be_bytes());
    packer.varint(u64::try_from(events.len()).ok()?);
    let (mut seq, mut at) = (0, 0);
    for event in events {
        packer.out.extend(event.id().number().to_be_bytes());
        packer.names.push(event.id());
        packer.signed(i64::from(event.seq()) - seq);
        packer.signed(event.at().0 - at);
        (seq, at) = (i64::from(event.seq()), event.at().0);
        let Ok(Json::Object(mut members)) = parse(event.text()) else { return None };
        for name in ["batch", "id", "seq", "at"] {
            members.remove(name)?;
        }
        packer.value(&Json::Object(members));
    }
    // A number written in an unusual way, such as -0, would come back tidied.
    (unpack(&packer.out).as_deref() == Some(events)).then_some(packer.out)
}

struct Packer {
    out: Vec<u8>,
    names: Vec<Id>,
    texts: Vec<String>,
}

impl Packer {
    fn varint(&mut self, mut number: u64) {
        while number >= 0x80 {
            self.out.push(number.to_le_bytes().first().copied().unwrap_or(0) | 0x80);
            number >>= 7;
        }
        self.out.push(number.to_le_bytes().first().copied().unwrap_or(0));
    }

    fn signed(&mut self, number: i64) {
        self.varint(((number << 1) ^ (number >> 63)).cast_unsigned());
    }

    fn head(&mut self, kind: u8, count: u64) {
        match u8::try_from(count) {
            Ok(count @ 0..31) => self.out.push(kind << 5 | count),
            _ => {
                self.out.push(kind << 5 | 31);
                self.varint(count - 31);
            }
        }
    }

    fn value(&mut self, value: &Json) {
        match value {
            Json::Null => self.head(0, 0),
            Json::Bool(false) => self.head(0, 1),
            Json::Bool(true) => self.head(0, 2),
            Json::Number(digits) => self.number(digits),
            Json::Text(text) => self.text(text),
            Json::List(list) => {
                self.head(6, list.len() as u64);
                for one in list {
                    self.value(one);
                }
            }
            Json::Object(members) => {
                self.head(7, members.iter().count() as u64);
                for (name, value) in members.iter() {
                    self.text(name);
                    self.value(value);
                }
            }
        }
    }

    fn number(&mut self, digits: &str) {
        match digits.parse::<i64>() {
            Ok(whole) if whole.to_string() == digits => {
                let kind = if whole < 0 { 2 } else { 1 };
                self.head(kind, (whole ^ (whole >> 63)).cast_unsigned());
            }
            _ => self.raw(3, digits),
        }
    }

    fn raw(&mut self, kind: u8, text: &str) {
        self.head(kind, text.len() as u64);
        self.out.extend(text.bytes());
    }

    fn text(&mut self, text: &str) {
        if let Ok(name) = text.parse::<Id>() {
            if let Some(place) = self.names.iter().position(|seen| *seen == name) {
                self.head(0, 4);
                self.varint(place as u64);
            } else {
                self.head(0, 3);
                self.out.extend(name.number().to_be_bytes());
                self.names.push(name);
            }
            return;
        }
        let seen = self.texts.iter().map(String::as_str);
        let place = WORDS.split(' ').chain(seen).position(|seen| seen == text);
        match place {
            Some(place) => self.head(5, place as u64),
            None => {
                self.raw(4, text);
                self.texts.push(text.to_owned());
            }
        }
    }
}

/// Unpacks the events of one batch; `None` for bytes that are none.
pub(super) fn unpack(bytes: &[u8]) -> Option<Vec<Event>> {
    if bytes.len() > MAX_BYTES {
        return None;
    }
    let mut reader = Unpacker { rest: bytes, names: Vec::new(), texts: Vec::new() };
    let batch = reader.name()?;
    let count = reader.varint()?;
    let mut events = Vec::new();
    let (mut seq, mut at) = (0_i64, 0_i64);
    for _ in 0..count {
        let id = reader.name()?;
        seq = seq.checked_add(reader.signed()?)?;
        at = at.checked_add(reader.signed()?)?;
        let Json::Object(mut members) = reader.value(0)? else { return None };
        members.insert("batch".to_owned(), Json::Text(batch.to_string()));
        members.insert("id".to_owned(), Json::Text(id.to_string()));
        members.insert("seq".to_owned(), Json::whole(seq));
        members.insert("at".to_owned(), Json::whole(at));
        events.push(Event::from_json(&Json::Object(members)).ok()?);
    }
    reader.rest.is_empty().then_some(events)
}

struct Unpacker<'a> {
    rest: &'a [u8],
    names: Vec<Id>,
    texts: Vec<String>,
}

impl Unpacker<'_> {
    fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.rest.split_first()?;
        self.rest = rest;
        Some(*first)
    }

    fn varint(&mut self) -> Option<u64> {
        let mut number = 0_u64;
        for shift in (0..64).step_by(7) {
            let byte = self.byte()?;
            let bits = u64::from(byte & 0x7f);
            if (bits << shift) >> shift != bits {
                return None;
            }
            number |= bits << shift;
            if byte < 0x80 {
                return Some(number);
            }
        }
        None
    }

    fn signed(&mut self) -> Option<i64> {
        let number = self.varint()?;
        Some((number >> 1).cast_signed() ^ -((number & 1).cast_signed()))
    }

    fn name(&mut self) -> Option<Id> {
        let (name, rest) = self.rest.split_first_chunk::<16>()?;
        self.rest = rest;
        let name = Id::from_bytes(*name);
        self.names.push(name);
        Some(name)
    }

    fn raw(&mut self, length: u64) -> Option<String> {
        let (text, rest) = self.rest.split_at_checked(usize::try_from(length).ok()?)?;
        self.rest = rest;
        String::from_utf8(text.to_vec()).ok()
    }

    fn value(&mut self, depth: u8) -> Option<Json> {
        if depth > MAX_DEPTH {
            return None;
        }
        let head = self.byte()?;
        let count = match u64::from(head & 31) {
            31 => self.varint()?.checked_add(31)?,
            count => count,
        };
        Some(match (head >> 5, count) {
            (0, 0) => Json::Null,
            (0, 1) => Json::Bool(false),
            (0, 2) => Json::Bool(true),
            (0, 3) => Json::Text(self.name()?.to_string()),
            (0, 4) => {
                let place = usize::try_from(self.varint()?).ok()?;
                Json::Text(self.names.get(place)?.to_string())
            }
            (1, count) => Json::whole(i64::try_from(count).ok()?),
            (2, count) => Json::whole(!i64::try_from(count).ok()?),
            (3, count) => {
                let digits = self.raw(count)?;
                let number = parse(&digits).ok()?;
                matches!(number, Json::Number(_)).then_some(number)?
            }
            (4, count) => {
                let text = self.raw(count)?;
                self.texts.push(text.clone());
                Json::Text(text)
            }
            (5, count) => {
                let place = usize::try_from(count).ok()?;
                let seen = self.texts.iter().map(String::as_str);
                Json::Text(WORDS.split(' ').chain(seen).nth(place)?.to_owned())
            }
            (6, count) => {
                let mut list = Vec::new();
                for _ in 0..count {
                    list.push(self.value(depth + 1)?);
                }
                Json::List(list)
            }
            (7, count) => {
                let mut members = Members::default();
                for _ in 0..count {
                    let Json::Text(name) = self.value(depth + 1)? else { return None };
                    members.insert(name, self.value(depth + 1)?);
                }
                Json::Object(members)
            }
            _ => return None,
        })
    }
}
