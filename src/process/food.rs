//! The catalogue of foods, with and without a tested process.
//!
//! Invariant: every food either has a process row or a refusal.

use super::table::{Pack, all_foods, processes};
use crate::words::{Word, bare};

/// A group of foods.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Group {
    /// Fish.
    Fish,
    /// Shellfish.
    Shellfish,
    /// Meat and large game.
    Meat,
    /// Poultry and rabbit.
    Poultry,
    /// Stock.
    Stock,
    /// Soup.
    Soup,
    /// Vegetables.
    Vegetable,
}

/// A food of the catalogue.
#[derive(Debug, PartialEq, Eq)]
pub struct Food {
    pub(super) key: &'static str,
    pub(super) name: Word,
    pub(super) short: Word,
    pub(super) group: Group,
    pub(super) aka: &'static [Word],
    pub(super) refusal: Option<&'static str>,
}

impl Food {
    /// The food with a key.
    #[must_use]
    pub fn by_key(key: &str) -> Option<&'static Self> {
        all_foods().iter().find(|food| food.key == key)
    }

    /// The stable key used in records.
    #[must_use]
    pub const fn key(&self) -> &'static str {
        self.key
    }

    /// The name shown.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.name.say()
    }

    /// A name short enough for a label.
    #[must_use]
    pub fn short(&self) -> &'static str {
        self.short.say()
    }

    /// Its group.
    #[must_use]
    pub const fn group(&self) -> Group {
        self.group
    }

    /// Whether any tested process exists.
    #[must_use]
    pub const fn has_process(&self) -> bool {
        self.refusal.is_none()
    }

    /// The styles of pack the tables list for it.
    pub fn packs(&self) -> impl Iterator<Item = Pack> + use<> {
        let key = self.key;
        Pack::ALL.iter().copied().filter(move |pack| {
            processes().iter().any(|process| process.product == key && process.pack == *pack)
        })
    }

    /// How well a search fits: 0 each word begins a name, 1 each begins a word of
    /// one, 2 each stands somewhere; `None` if one does not stand anywhere.
    fn rank(&self, wanted: &str) -> Option<u8> {
        let mut worst = 0;
        for word in wanted.split_whitespace() {
            let names = core::iter::once(&self.name).chain(self.aka);
            worst = names.filter_map(|name| rank(&plain(name.say()), word)).min()?.max(worst);
        }
        Some(worst)
    }
}

/// Small letters without their accents; every name here is in Latin letters.
fn plain(text: &str) -> String {
    text.chars().map(|letter| bare(letter).to_ascii_lowercase()).collect()
}

fn rank(name: &str, wanted: &str) -> Option<u8> {
    // No word is empty. A search for long texts, as the library has it, is 1 kB of the page.
    let mut places = name.as_bytes().windows(wanted.len().max(1));
    let place = places.position(|part| part == wanted.as_bytes())?;
    let before = place.checked_sub(1).and_then(|index| name.as_bytes().get(index));
    Some(match before {
        None => 0,
        Some(byte) if byte.is_ascii_alphanumeric() => 2,
        Some(_) => 1,
    })
}

/// Every food.
#[must_use]
pub fn foods() -> &'static [Food] {
    all_foods()
}

/// The foods that fit a search, best first; all of them for an empty one.
#[must_use]
pub fn search(typed: &str) -> Vec<&'static Food> {
    let wanted = plain(typed.trim());
    let mut found = Vec::new();
    for rank in 0..=2 {
        found.extend(all_foods().iter().filter(|food| food.rank(&wanted) == Some(rank)));
    }
    found
}
