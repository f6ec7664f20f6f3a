//! Random 128-bit names for events, batches and loads.
//!
//! Invariant: written as 32 lowercase hex digits; two phones never meet on one
//! by chance.

use core::fmt;
use core::str::FromStr;

/// A random 128-bit name.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(u128);

/// A text that is not 32 hex digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct IdError;

impl fmt::Display for IdError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a name is 32 hex digits")
    }
}

impl core::error::Error for IdError {}

impl Id {
    /// The log of what belongs to the household, not to one batch: canners and places.
    pub const HOUSEHOLD: Self = Self(0);

    /// A name from 16 random bytes.
    #[must_use]
    pub const fn from_bytes(bytes: [u8; 16]) -> Self {
        Self(u128::from_be_bytes(bytes))
    }

    /// The name as a number, for sorting.
    #[must_use]
    pub const fn number(self) -> u128 {
        self.0
    }

    /// The first eight hex digits: enough to tell batches apart by eye.
    #[must_use]
    pub fn short(self) -> String {
        let mut text = self.to_string();
        text.truncate(8);
        text
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:032x}", self.0)
    }
}

impl fmt::Debug for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for Id {
    type Err = IdError;
    fn from_str(text: &str) -> Result<Self, IdError> {
        let hex = text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
        if text.len() != 32 || !hex {
            return Err(IdError);
        }
        u128::from_str_radix(text, 16).map(Self).map_err(|_| IdError)
    }
}
