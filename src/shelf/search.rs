//! Finding lots on the shelf by words and by filters.
//!
//! Invariant: a search that goes on from the last one finds what a search from
//! scratch would find.

use super::index::Shelf;
use super::lot::{Lot, plain};
use crate::batch::Text;
use crate::process::{Group, Jar as JarSize};
use crate::units::EpochMs;

/// What is to be shown, beside the words typed.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Filter {
    /// Only this group of foods.
    pub group: Option<Group>,
    /// Only this size.
    pub size: Option<JarSize>,
    /// Only what stands here.
    pub place: Option<Text>,
    /// Only lots with jars held for a doubt.
    pub held: bool,
    /// Only lots past their best year at this time.
    pub past_best: Option<EpochMs>,
}

impl Filter {
    fn takes(&self, lot: &Lot) -> bool {
        self.group.is_none_or(|group| lot.group == Some(group))
            && self.size.is_none_or(|size| lot.size == size)
            && self.place.as_ref().is_none_or(|place| lot.place.as_ref() == Some(place))
            && (!self.held || !lot.held.is_empty())
            && self.past_best.is_none_or(|now| lot.is_past_best(now))
    }
}

/// Whether a text holds a word. `str::contains` makes itself ready for each text anew,
/// which for texts as short as these takes longer than looking.
fn is_in(word: &str, text: &str) -> bool {
    let Some((first, rest)) = word.as_bytes().split_first() else { return true };
    let mut text = text.as_bytes();
    while let Some(at) = text.iter().position(|byte| byte == first) {
        text = text.get(at + 1..).unwrap_or_default();
        if text.starts_with(rest) {
            return true;
        }
    }
    false
}

/// A search and what it found.
#[derive(Debug, Default)]
pub struct Search {
    typed: String,
    filter: Filter,
    turn: u64,
    hits: Vec<u32>,
    jars: usize,
}

impl Search {
    /// Looks for lots that hold every word typed. What was found before is searched
    /// on when more was typed at the end and nothing else has changed.
    pub fn find(&mut self, shelf: &Shelf, typed: &str, filter: &Filter) {
        let typed = plain(typed);
        let same = self.turn == shelf.turn() && self.filter == *filter;
        if same && typed == self.typed {
            return;
        }
        // With more typed at the end every word is as before or longer, or is new:
        // only fewer lots can hold them all.
        if !(same && typed.starts_with(&self.typed)) {
            self.hits.clear();
            self.hits.extend(0..u32::try_from(shelf.len()).unwrap_or(u32::MAX));
            if *filter != Filter::default() {
                self.hits.retain(|number| {
                    shelf.lot(*number as usize).is_some_and(|lot| filter.takes(lot))
                });
            }
        }
        let words: Vec<&str> = typed.split_whitespace().collect();
        let mut jars = 0;
        self.hits.retain(|number| {
            let text = shelf.words(*number as usize);
            let holds = words.iter().all(|word| is_in(word, text));
            if holds {
                jars += shelf.lot(*number as usize).map_or(0, |lot| lot.jars.len());
            }
            holds
        });
        self.jars = jars;
        self.typed = typed;
        self.turn = shelf.turn();
        if self.filter != *filter {
            self.filter = filter.clone();
        }
    }

    /// How many lots were found.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.hits.len()
    }

    /// Whether nothing was found.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.hits.is_empty()
    }

    /// How many jars were found.
    #[must_use]
    pub const fn jars(&self) -> usize {
        self.jars
    }

    /// A mark of what a line shows: the same mark, the same lot in the same state.
    #[must_use]
    pub fn mark(&self, line: usize) -> Option<(u64, u32)> {
        self.hits.get(line).map(|number| (self.turn, *number))
    }

    /// The lot in a line of what was found, from 0.
    #[must_use]
    pub fn line<'a>(&self, shelf: &'a Shelf, line: usize) -> Option<&'a Lot> {
        shelf.lot(*self.hits.get(line)? as usize)
    }
}
