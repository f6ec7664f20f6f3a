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
    let mut reader = Reader { text, at: 0, left: u32::MAX };
    let value = reader.value(0)?;
    reader.end()?;
    Ok(value)
}

/// Parses an object and hands over the entries of its list `name` one by one, until
/// `each` says no; no more than one entry is in memory at a time.
///
/// # Errors
/// [`JsonError`] as for [`parse`]; also if there is not just one member `name`, if it
/// is no list, if an entry or what stands beside the list is very large, or if `each`
/// said no. Entries may have been handed over before.
pub fn parse_list(
    text: &str,
    name: &str,
    each: &mut dyn FnMut(Json) -> bool,
) -> Result<(), JsonError> {
    let mut reader = Reader { text, at: 0, left: MAX_ENTRY_VALUES };
    let mut found = false;
    reader.space();
    reader.expect(b'{')?;
    loop {
        reader.space();
        let own = reader.string()?;
        reader.space();
        reader.expect(b':')?;
        if own == name {
            if found {
                return Err(JsonError);
            }
            found = true;
            reader.entries(each)?;
        } else {
            reader.value(1)?;
        }
        reader.space();
        if reader.take(b'}') {
            break;
        }
        reader.expect(b',')?;
    }
    reader.end()?;
    if found { Ok(()) } else { Err(JsonError) }
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    /// How many values may still come.
    left: u32,
}

impl Reader<'_> {
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
        }
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

    fn entries(&mut self, each: &mut dyn FnMut(Json) -> bool) -> Result<(), JsonError> {
        let beside = self.left;
        self.space();
        self.expect(b'[')?;
        self.space();
        if self.take(b']') {
            return Ok(());
        }
        loop {
            self.left = MAX_ENTRY_VALUES;
            if !each(self.value(2)?) {
                return Err(JsonError);
            }
            self.space();
            if self.take(b']') {
                self.left = beside;
                return Ok(());
            }
            self.expect(b',')?;
        }
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
            self.space();
            let name = self.string()?;
            self.space();
            self.expect(b':')?;
            members.insert(name, self.value(depth + 1)?);
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
            b'"' | b'\\' | b'/' => char::from(byte),
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => {
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
