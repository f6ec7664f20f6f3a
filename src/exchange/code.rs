//! A batch as a text of digits, short enough for a picture code.
//!
//! Invariant: `read(write(events))` gives the same events; a text that was cut or
//! changed gives an error and nothing else.
//!
//! # Format, version 1
//!
//! `HEARTHJAR CODE 1 <bytes> <digits>`. The digits stand for so many bytes: a packed
//! batch (see [`packed`](super::packed)) and the first four bytes of its SHA-256
//! (FIPS 180-4). Each eight bytes, read as one big-endian number, are 20 digits; a
//! last piece of 1 to 7 bytes is 3, 5, 8, 10, 13, 15 or 17 digits. White space is
//! ignored, the case of letters too.
//!
//! Digits, because picture codes hold them most tightly (ISO/IEC 18004, numeric
//! mode: 10 bits for three), and because no keyboard, messenger or camera changes
//! them on the way.

use super::packed::{MAX_BYTES, pack, unpack};
use super::record_file::ReadError;
use crate::batch::Event;
use sha2::{Digest, Sha256};

/// Format version written, and the newest that is read.
const VERSION: u32 = 1;
const NAME: &str = "HEARTHJAR CODE ";
/// Digits of a piece of so many bytes.
const DIGITS: [usize; 9] = [0, 3, 5, 8, 10, 13, 15, 17, 20];
const CHECK_BYTES: usize = 4;

/// The two parts of a code's text: letters and digits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    /// Name, version and length, with a space at the end.
    pub head: String,
    /// The digits.
    pub digits: String,
}

impl Code {
    /// The code of one batch's events; `None` if they are none or too many.
    #[must_use]
    pub fn of(events: &[Event]) -> Option<Self> {
        let mut bytes = pack(events)?;
        let check = Sha256::digest(&bytes);
        bytes.extend(check.iter().take(CHECK_BYTES));
        let mut digits = String::new();
        for piece in bytes.chunks(8) {
            let number = piece.iter().fold(0_u64, |sum, byte| sum << 8 | u64::from(*byte));
            let width = DIGITS.get(piece.len()).copied().unwrap_or(0);
            digits.push_str(&format!("{number:0width$}"));
        }
        Some(Self { head: format!("{NAME}{VERSION} {} ", bytes.len()), digits })
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> String {
        format!("{}{}", self.head, self.digits)
    }
}

/// Whether a text is meant as a code.
#[must_use]
pub fn is_code(text: &str) -> bool {
    text.trim_start().get(..NAME.len()).is_some_and(|head| head.eq_ignore_ascii_case(NAME))
}

/// Reads a code.
///
/// # Errors
/// [`ReadError`], with a sentence that says what to do; nothing is taken in.
pub fn read_code(text: &str) -> Result<Vec<Event>, ReadError> {
    let text = text.trim_start().get(NAME.len()..).unwrap_or_default();
    let mut words = text.split_whitespace();
    let mut whole = || words.next().and_then(|word| word.parse::<u32>().ok());
    let version = whole().ok_or(ReadError::Foreign)?;
    if version > VERSION {
        return Err(ReadError::Newer(version));
    }
    let length = whole().and_then(|length| usize::try_from(length).ok()).ok_or(ReadError::Cut)?;
    if length > MAX_BYTES + CHECK_BYTES {
        return Err(ReadError::TooMany);
    }
    let digits: String = words.collect();
    let bytes = bytes(&digits, length)?;
    let (packed, check) = bytes
        .len()
        .checked_sub(CHECK_BYTES)
        .and_then(|end| bytes.split_at_checked(end))
        .ok_or(ReadError::Cut)?;
    if !Sha256::digest(packed).iter().take(CHECK_BYTES).eq(check) {
        return Err(ReadError::Altered);
    }
    unpack(packed).ok_or(ReadError::Altered)
}

fn bytes(digits: &str, length: usize) -> Result<Vec<u8>, ReadError> {
    if !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(ReadError::Altered);
    }
    let mut bytes = Vec::with_capacity(length);
    let mut rest = digits;
    while bytes.len() < length {
        let size = (length - bytes.len()).min(8);
        let width = DIGITS.get(size).copied().unwrap_or(0);
        let (piece, after) = rest.split_at_checked(width).ok_or(ReadError::Cut)?;
        rest = after;
        let number: u64 = piece.parse().map_err(|_| ReadError::Altered)?;
        let eight = number.to_be_bytes();
        let (zeros, own) = eight.split_at_checked(8 - size).ok_or(ReadError::Altered)?;
        if zeros.iter().any(|byte| *byte != 0) {
            return Err(ReadError::Altered);
        }
        bytes.extend(own);
    }
    if rest.is_empty() { Ok(bytes) } else { Err(ReadError::Altered) }
}
