//! JSON (RFC 8259) as far as the record needs it.
//!
//! Invariant: a value printed and parsed again is the same value, and is always
//! printed the same way: members sorted by name, numbers as they were written.
//!
//! Why not serde_json in the page: its floating-point tables and generated
//! visitors weigh some 40 kB of compressed wasm, more than a quarter of the whole
//! budget, and its member order depends on features other crates switch on. The
//! tests hold this module against serde_json, which stays a test dependency.

mod members;
mod parse;
mod print;

pub use members::Members;
pub use parse::{Entry, JsonError, List, parse, parse_kept};

use core::mem::{self, ManuallyDrop};

/// A JSON value. Numbers keep their own digits, so none is rounded on the way.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Json {
    /// `null`.
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// A number, as written.
    Number(Box<str>),
    /// A string.
    Text(String),
    /// An array.
    List(Vec<Json>),
    /// An object; of two members of one name the later counts.
    Object(Members),
}

impl Json {
    /// An object of the given members.
    #[must_use]
    pub fn object<const N: usize>(members: [(&str, Self); N]) -> Self {
        // Its values are taken out below, so nothing is left to drop.
        Self::object_of(&mut *ManuallyDrop::new(members))
    }

    // Apart, so that it is compiled once and not for every number of members.
    #[inline(never)]
    fn object_of(members: &mut [(&str, Self)]) -> Self {
        let mut object = Members::default();
        for (name, value) in members {
            object.insert((*name).to_owned(), mem::replace(value, Self::Null));
        }
        Self::Object(object)
    }

    /// An object of one member.
    #[must_use]
    pub fn tagged(name: &str, value: Self) -> Self {
        Self::object([(name, value)])
    }

    /// A whole number.
    #[must_use]
    pub fn whole(number: i64) -> Self {
        Self::Number(number.to_string().into_boxed_str())
    }

    /// A string.
    #[must_use]
    pub fn text(text: &str) -> Self {
        Self::Text(text.to_owned())
    }

    /// A member of an object.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Self> {
        match self {
            Self::Object(members) => members.get(name),
            _ => None,
        }
    }

    /// The only member of an object that has just one, or the name alone if the
    /// value is a string.
    #[must_use]
    pub fn tag(&self) -> Option<(&str, &Self)> {
        match self {
            Self::Text(name) => Some((name, &Self::Null)),
            Self::Object(members) => members.only(),
            _ => None,
        }
    }

    /// The string, if it is one.
    #[must_use]
    pub fn as_str(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text),
            _ => None,
        }
    }

    /// The whole number, if it is one and fits.
    #[must_use]
    pub fn as_whole(&self) -> Option<i64> {
        match self {
            Self::Number(digits) => digits.parse().ok(),
            _ => None,
        }
    }

    /// The truth value, if it is one.
    #[must_use]
    pub const fn as_bool(&self) -> Option<bool> {
        match self {
            Self::Bool(value) => Some(*value),
            _ => None,
        }
    }

    /// A member as text.
    #[must_use]
    pub fn str_of(&self, name: &str) -> Option<&str> {
        self.get(name)?.as_str()
    }

    /// A member as a whole number of the wanted type.
    #[must_use]
    pub fn whole_of<T: TryFrom<i64>>(&self, name: &str) -> Option<T> {
        T::try_from(self.get(name)?.as_whole()?).ok()
    }

    /// A member as a truth value; `false` if it is not there.
    #[must_use]
    pub fn flag_of(&self, name: &str) -> bool {
        self.get(name).and_then(Self::as_bool).unwrap_or(false)
    }
}
