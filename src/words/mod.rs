//! What the app says, in the languages it speaks.
//!
//! Every text stands in the code in English, inside [`t!`](crate::t) or
//! [`w!`](crate::w), and once in a file of this folder beside its translation. The
//! compiler turns it into a number; the texts themselves travel in a file of their own,
//! one for each language, so that the code carries none of them.
//!
//! Invariant: a text without its translation, or with other gaps than its translation,
//! does not compile; a file of texts of another build is refused.

#[allow(clippy::large_const_arrays, reason = "read in the compiler only")]
mod catalogue;
mod fill;
mod joined;
mod load;
mod plain;

pub use fill::fill;
pub use joined::joined;
pub use load::{Foreign, decimal_mark, load, set_decimal_mark};
pub use plain::bare;

/// A text of the catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word(u16);

impl Word {
    /// The text that reads so in English: `"Load {}"`, or, where English has one word
    /// for two things, with a remark after two number signs: `"Load##the jars"`.
    ///
    /// Only for constants: an unknown text then stops the compiler, naming the place.
    #[must_use]
    #[allow(clippy::panic, clippy::indexing_slicing, reason = "happens in the compiler only")]
    pub const fn of(english: &str) -> Self {
        let wanted = hash(english);
        let (mut low, mut high) = (0, catalogue::HASHES.len());
        while low < high {
            let middle = usize::midpoint(low, high);
            let (found, number) = catalogue::HASHES[middle];
            if found == wanted {
                return Self(number);
            }
            if found < wanted {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        panic!("this text is in no file of src/words: add it there with its translation")
    }

    /// The text of a number that the build has worked out.
    pub(crate) const fn at(number: u16) -> Self {
        Self(number)
    }

    /// The text in the language in use.
    #[must_use]
    #[inline(always)]
    pub fn say(self) -> &'static str {
        self.place()
    }

    /// Where the text in the language in use lies: one value to hand over at each of
    /// some hundred places, where the text itself is two.
    #[must_use]
    #[inline(never)]
    pub fn place(self) -> &'static &'static str {
        load::text(self.0)
    }
}

impl core::fmt::Display for Word {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.say())
    }
}

/// FNV-1a, 64 bits (draft-eastlake-fnv): the build and this code must agree on it.
const fn hash(text: &str) -> u64 {
    let bytes = text.as_bytes();
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    let mut at = 0;
    while at < bytes.len() {
        #[allow(clippy::indexing_slicing, reason = "bounded by the loop")]
        let byte = bytes[at];
        hash = (hash ^ byte as u64).wrapping_mul(0x0100_0000_01b3);
        at += 1;
    }
    hash
}

/// A text in the language in use: `t!("Hand over")` is a `&'static str`, and
/// `t!("{} of {} jars", here, all)` a `String`. Gaps are filled in order; a
/// translation may number them, `{1}` before `{0}`.
#[macro_export]
macro_rules! t {
    ($text:literal) => {
        *$crate::w!($text).place()
    };
    ($text:literal, $($value:expr),+ $(,)?) => {
        $crate::words::fill($crate::w!($text), &[$(&$value as &dyn ::core::fmt::Display),+])
    };
}

/// A text for a constant, to be said later.
#[macro_export]
macro_rules! w {
    ($text:literal) => {{
        const WORD: $crate::words::Word = $crate::words::Word::of($text);
        WORD
    }};
}
