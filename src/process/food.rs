//! The catalogue of foods, with and without a tested process.
//!
//! Invariant: every food either has a process row or a refusal.

use super::table::{Pack, all_foods, processes};

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
    pub(super) name: &'static str,
    pub(super) short: &'static str,
    pub(super) group: Group,
    pub(super) aka: &'static [&'static str],
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
    pub const fn name(&self) -> &'static str {
        self.name
    }

    /// A name short enough for a label.
    #[must_use]
    pub const fn short(&self) -> &'static str {
        self.short
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
        Pack::ALL.into_iter().filter(move |pack| {
            processes().iter().any(|process| process.product == key && process.pack == *pack)
        })
    }

    /// How well a search fits: 0 a name begins with it, 1 a word of a name does,
    /// 2 it stands somewhere; `None` if it does not stand anywhere.
    fn rank(&self, wanted: &str) -> Option<u8> {
        core::iter::once(self.name)
            .chain(self.aka.iter().copied())
            .filter_map(|name| {
                let name = name.to_lowercase();
                let place = name.find(wanted)?;
                let word_start =
                    place == 0 || !name.as_bytes().get(place - 1)?.is_ascii_alphanumeric();
                Some(if place == 0 {
                    0
                } else if word_start {
                    1
                } else {
                    2
                })
            })
            .min()
    }
}

/// Every food.
#[must_use]
pub fn foods() -> &'static [Food] {
    all_foods()
}

/// The foods that fit a search, best first; all of them for an empty one.
#[must_use]
pub fn search(typed: &str) -> Vec<&'static Food> {
    let wanted = typed.trim().to_lowercase();
    let mut found: Vec<(u8, &'static Food)> =
        all_foods().iter().filter_map(|food| food.rank(&wanted).map(|rank| (rank, food))).collect();
    found.sort_by_key(|(rank, _)| *rank);
    found.into_iter().map(|(_, food)| food).collect()
}
