//! From text to a JSON value.
//!
//! Invariant: takes exactly the texts RFC 8259 calls JSON, down to a depth of 64;
//! anything else is an error, never a panic and never a deep recursion. A long list
//! can be read entry by entry, so that a text made to swell in memory does not.

use super::{Json, Members};

/// A text that is no JSON, or is nested deeper than 64.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JsonError;

const MAX_DEPTH: u8 = 64;
/// Most values in one entry of a list that is read entry by entry, and in what
/// stands beside the list.
const MAX_ENTRY_VALUES: u32 = 10_000;

/// Parses a whole text.
///
/// # Errors
/// [`JsonError`] if it is no JSON, is followed by anything but white space, or is
/// nested deeper than 64.
pub fn parse(text: &str) -> Result<Json, JsonError> {
    parse_kept(text).map(|(value, _)| value)
}

/// Parses a whole text, and says whether it is letter for letter what the value is
/// printed as. It may say no to a text that is; never yes to one that is not.
///
/// # Errors
/// [`JsonError`], as for [`parse`].
pub fn parse_kept(text: &str) -> Result<(Json, bool), JsonError> {
    let mut reader = Reader::new(text, u32::MAX);
    let value = reader.value(0)?;
    reader.end()?;
    Ok((value, reader.as_printed))
}

/// One entry of a long list.
pub struct Entry<'a> {
    /// What it is.
    pub json: Json,
    /// Its own text, if that is letter for letter what it is printed as.
    pub printed: Option<&'a str>,
}

/// A text that is an object with one long list, read entry by entry: no more than one
/// entry is in memory at a time, and the reading can stand still between any two.
pub struct List<'a> {
    reader: Reader<'a>,
    name: &'a str,
    /// How many values may still stand beside the list.
    beside: u32,
    /// No entry has been read yet.
    first: bool,
    done: bool,
}

impl<'a> List<'a> {
    /// Reads up to the first entry of the list `name`.
    ///
    /// # Errors
    /// [`JsonError`] as for [`parse`]; also if there is no member `name`, if it is no
    /// list, or if what stands beside it is very large.
    pub fn open(text: &'a str, name: &'a str) -> Result<Self, JsonError> {
        let mut reader = Reader::new(text, MAX_ENTRY_VALUES);
        reader.space();
        reader.expect(b'{')?;
        while reader.member()? != name {
            reader.value(1)?;
            reader.space();
            reader.expect(b',')?;
        }
        reader.space();
        reader.expect(b'[')?;
        reader.space();
        let beside = reader.left;
        Ok(Self { reader, name, beside, first: true, done: false })
    }

    /// How many bytes have been read.
    #[must_use]
    pub const fn at(&self) -> usize {
        self.reader.at
    }

    /// The next entry; `None` once the whole text has been read to its end.
    ///
    /// # Errors
    /// [`JsonError`] as for [`List::open`]; also if an entry is very large, or if there
    /// is a second list of the name.
    pub fn next_entry(&mut self) -> Result<Option<Entry<'a>>, JsonError> {
        if self.done {
            return Ok(None);
        }
        let reader = &mut self.reader;
        reader.space();
        if reader.take(b']') {
            return self.rest();
        }
        if !self.first {
            reader.expect(b',')?;
            reader.space();
        }
        self.first = false;
        reader.left = MAX_ENTRY_VALUES;
        reader.as_printed = true;
        let from = reader.at;
        let json = reader.value(2)?;
        let text = reader.text.get(from..reader.at);
        Ok(Some(Entry { json, printed: text.filter(|_| reader.as_printed) }))
    }

    fn rest(&mut self) -> Result<Option<Entry<'a>>, JsonError> {
        let reader = &mut self.reader;
        reader.left = self.beside;
        loop {
            reader.space();
            if reader.take(b'}') {
                break;
            }
            reader.expect(b',')?;
            if reader.member()? == self.name {
                return Err(JsonError);
            }
            reader.value(1)?;
        }
        reader.end()?;
        self.done = true;
        Ok(None)
    }
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    /// How many values may still come.
    left: u32,
    /// Nothing was met so far that the printer writes otherwise.
    as_printed: bool,
}

impl<'a> Reader<'a> {
    const fn new(text: &'a str, left: u32) -> Self {
        Self { text, at: 0, left, as_printed: true }
    }
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn take(&mut self, byte: u8) -> bool {
        let is = self.peek() == Some(byte);
        self.at += usize::from(is);
        is
    }

    fn expect(&mut self, byte: u8) -> Result<(), JsonError> {
        if self.take(byte) { Ok(()) } else { Err(JsonError) }
    }

    fn space(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\t' | b'\n' | b'\r')) {
            self.at += 1;
            self.as_printed = false;
        }
    }

    /// The name of a member, up to its value.
    fn member(&mut self) -> Result<String, JsonError> {
        self.space();
        let name = self.string()?;
        self.space();
        self.expect(b':')?;
        Ok(name)
    }

    fn word(&mut self, word: &str, value: Json) -> Result<Json, JsonError> {
        for byte in word.bytes() {
            self.expect(byte)?;
        }
        Ok(value)
    }

    fn end(&mut self) -> Result<(), JsonError> {
        self.space();
        if self.at == self.text.len() { Ok(()) } else { Err(JsonError) }
    }

    fn value(&mut self, depth: u8) -> Result<Json, JsonError> {
        if depth > MAX_DEPTH {
            return Err(JsonError);
        }
        self.left = self.left.checked_sub(1).ok_or(JsonError)?;
        self.space();
        match self.peek() {
            Some(b'{') => self.object(depth),
            Some(b'[') => self.list(depth),
            Some(b'"') => self.string().map(Json::Text),
            Some(b't') => self.word("true", Json::Bool(true)),
            Some(b'f') => self.word("false", Json::Bool(false)),
            Some(b'n') => self.word("null", Json::Null),
            _ => self.number(),
        }
    }

    fn object(&mut self, depth: u8) -> Result<Json, JsonError> {
        self.expect(b'{')?;
        let mut members = Members::default();
        self.space();
        if self.take(b'}') {
            return Ok(Json::Object(members));
        }
        loop {
            let name = self.member()?;
            let value = self.value(depth + 1)?;
            self.as_printed &= members.insert(name, value);
            self.space();
            if self.take(b'}') {
                return Ok(Json::Object(members));
            }
            self.expect(b',')?;
        }
    }

    fn list(&mut self, depth: u8) -> Result<Json, JsonError> {
        self.expect(b'[')?;
        let mut list = Vec::new();
        self.space();
        if self.take(b']') {
            return Ok(Json::List(list));
        }
        loop {
            list.push(self.value(depth + 1)?);
            self.space();
            if self.take(b']') {
                return Ok(Json::List(list));
            }
            self.expect(b',')?;
        }
    }

    fn number(&mut self) -> Result<Json, JsonError> {
        let start = self.at;
        self.take(b'-');
        if !self.take(b'0') {
            self.digits()?;
        }
        if self.take(b'.') {
            self.digits()?;
        }
        if self.take(b'e') || self.take(b'E') {
            if !self.take(b'+') {
                self.take(b'-');
            }
            self.digits()?;
        }
        self.text.get(start..self.at).map(|digits| Json::Number(digits.into())).ok_or(JsonError)
    }

    fn digits(&mut self) -> Result<(), JsonError> {
        let start = self.at;
        while matches!(self.peek(), Some(b'0'..=b'9')) {
            self.at += 1;
        }
        if self.at > start { Ok(()) } else { Err(JsonError) }
    }

    fn string(&mut self) -> Result<String, JsonError> {
        self.expect(b'"')?;
        let mut out = String::new();
        loop {
            let start = self.at;
            while !matches!(self.peek(), None | Some(b'"' | b'\\' | 0..=0x1f)) {
                self.at += 1;
            }
            out.push_str(self.text.get(start..self.at).ok_or(JsonError)?);
            if self.take(b'"') {
                return Ok(out);
            }
            self.expect(b'\\')?;
            out.push(self.escape()?);
        }
    }

    fn escape(&mut self) -> Result<char, JsonError> {
        let byte = self.peek().ok_or(JsonError)?;
        self.at += 1;
        Ok(match byte {
            b'"' | b'\\' => char::from(byte),
            b'/' => {
                self.as_printed = false;
                '/'
            }
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => {
                // Some of these are printed so; they are too rare to be told apart.
                self.as_printed = false;
                let first = self.hex()?;
                let code = if (0xd800..0xdc00).contains(&first) {
                    self.expect(b'\\')?;
                    self.expect(b'u')?;
                    let second = self.hex()?;
                    if !(0xdc00..0xe000).contains(&second) {
                        return Err(JsonError);
                    }
                    0x1_0000 + ((first - 0xd800) << 10) + (second - 0xdc00)
                } else {
                    first
                };
                char::from_u32(code).ok_or(JsonError)?
            }
            _ => return Err(JsonError),
        })
    }

    fn hex(&mut self) -> Result<u32, JsonError> {
        let mut code = 0;
        for _ in 0..4 {
            let digit = self.peek().and_then(|byte| char::from(byte).to_digit(16));
            code = code * 16 + digit.ok_or(JsonError)?;
            self.at += 1;
        }
        Ok(code)
    }
}
