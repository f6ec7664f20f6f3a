//! What belongs to the household rather than to one batch: canners and places.
//!
//! Invariant: the newest word on each canner or place holds; of a dial's checks the
//! one with the latest date, whichever phone wrote it.

use super::body::{Body, CannerKept, PlaceKept, Text};
use super::event::Event;
use super::fold::taken_back;
use super::id::Id;
use crate::physics::gauge::DialCheck;
use crate::plan::Holds;

/// A canner as last described.
pub type KeptCanner = CannerKept;
/// A place as last described.
pub type KeptPlace = PlaceKept;

/// The household's canners and places.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Household {
    /// Canners in use, in the order they were first named.
    pub canners: Vec<KeptCanner>,
    /// Places in use, in the order they were first named.
    pub places: Vec<KeptPlace>,
    /// How many jars of each size fill a canner, as last counted.
    holds: Vec<(Id, Holds)>,
    /// The last check of each dial gauge.
    checks: Vec<(Id, DialCheck)>,
    /// Every name a canner ever had, those of canners no longer in use too.
    names: Vec<(Id, Text)>,
}

impl Household {
    /// The state the household's events amount to; `events` sorted, no doubles.
    #[must_use]
    pub fn fold(events: &[Event]) -> Self {
        let gone = taken_back(events);
        let mut household = Self::default();
        for event in events.iter().filter(|event| !gone.contains(&event.id())) {
            match event.body() {
                Some(Body::CannerKept(kept)) => {
                    keep(&mut household.canners, kept, |c| c.canner == kept.canner);
                    household.names.push((kept.canner, kept.name.clone()));
                }
                Some(Body::GaugeChecked { canner, reading, standard }) => {
                    // A check too low to show anything stays in the record, unused.
                    if let Ok(check) = DialCheck::new(*reading, *standard, event.at())
                        && household.check(*canner).is_none_or(|old| supersedes(check, old))
                    {
                        keep(&mut household.checks, &(*canner, check), |(id, _)| id == canner);
                    }
                }
                Some(Body::CannerHolds { canner, holds }) => {
                    keep(&mut household.holds, &(*canner, *holds), |(id, old)| {
                        id == canner && old.jar() == holds.jar()
                    });
                }
                Some(Body::PlaceKept(kept)) => {
                    keep(&mut household.places, kept, |p| p.place == kept.place);
                }
                _ => {}
            }
        }
        household.canners.retain(|canner| !canner.gone);
        household.places.retain(|place| !place.gone);
        household
    }
}

impl Household {
    /// The last check of a canner's dial gauge.
    #[must_use]
    pub fn check(&self, canner: Id) -> Option<DialCheck> {
        self.checks.iter().find(|(id, _)| *id == canner).map(|(_, check)| *check)
    }
}

impl Household {
    /// The canners a name may mean: those called so now; where none is, every one that
    /// was ever called so.
    #[must_use]
    pub fn named(&self, name: &Text) -> Vec<Id> {
        let mut named = Vec::new();
        for canner in self.canners.iter().filter(|canner| canner.name == *name) {
            named.push(canner.canner);
        }
        if named.is_empty() && !name.is_empty() {
            for (canner, _) in self.names.iter().filter(|(_, one)| one == name) {
                named.push(*canner);
            }
        }
        named
    }

    /// Every name a canner ever had, the last one last.
    #[must_use]
    pub fn names_of(&self, canner: Id) -> Vec<Text> {
        let mut names: Vec<Text> = Vec::new();
        for (_, name) in self.names.iter().filter(|(one, _)| *one == canner) {
            names.retain(|old| old != name);
            names.push(name.clone());
        }
        names
    }

    /// The jars of each size that fill a canner, as counted.
    #[must_use]
    pub fn holds(&self, canner: Id) -> Vec<Holds> {
        self.holds.iter().filter(|(id, _)| *id == canner).map(|(_, holds)| *holds).collect()
    }
}

/// The later check counts; of two at one instant the stricter.
fn supersedes(check: DialCheck, old: DialCheck) -> bool {
    let rank = |check: DialCheck| (check.at(), check.error_tenths());
    rank(check) > rank(old)
}

fn keep<T: Clone>(list: &mut Vec<T>, kept: &T, same: impl Fn(&T) -> bool) {
    match list.iter_mut().find(|one| same(one)) {
        Some(one) => *one = kept.clone(),
        None => list.push(kept.clone()),
    }
}
