//! The published limits a raw lot runs against.
//!
//! Invariant: a limit is never longer than its publication prints; the shorter
//! reading of one is taken; once over it stays over.

use super::raw_lot::RawLot;
use super::step::{Kept, LotStep};
use crate::process::Group;
use crate::t;
use crate::units::{EpochMs, Span};

/// A published limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limit {
    /// Bled and gutted within 2 hours of the catch.
    Gutting,
    /// Out of refrigeration 2 hours at most.
    Sitting,
    /// In air above 90 F, 1 hour at most.
    SittingHot,
    /// In smoke 2 hours at most.
    Smoke,
    /// Smoked: canned at once, or after a day in the refrigerator.
    SmokedHold,
    /// Canned within 2 days of the catch.
    TwoDays,
}

/// How a lot stands against a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Well inside.
    Inside,
    /// A quarter of the time or less is left.
    Near,
    /// Over.
    Over,
}

/// One limit that applies to a lot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Check {
    /// The limit.
    pub limit: Limit,
    /// How much of it is left; below zero when over.
    pub left: Span,
    /// When it is reached if the lot stays as it is; `None` while its time stands
    /// still.
    pub due: Option<EpochMs>,
    /// How the lot stands.
    pub standing: Standing,
}

impl Limit {
    /// The longest time.
    #[must_use]
    pub const fn longest(self) -> Span {
        Span::hours(match self {
            Self::SittingHot => 1,
            Self::Gutting | Self::Sitting | Self::Smoke => 2,
            Self::SmokedHold => 24,
            Self::TwoDays => 48,
        })
    }

    /// The limit in words.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Gutting => {
                t!("Bleed and gut fish at once, 2 hours after the catch at the latest.")
            }
            Self::Sitting => {
                t!("No more than 2 hours out of refrigerator and ice, all steps together.")
            }
            Self::SittingHot => {
                t!("Above 90 F (32 C): no more than 1 hour out of refrigerator and ice, all steps \
                 together.")
            }
            Self::Smoke => t!("Smoke fish for canning 2 hours at most."),
            Self::SmokedHold => {
                t!("Can lightly smoked fish at once, or after 1 day at most in the refrigerator.")
            }
            Self::TwoDays => t!("Can within 2 days of the catch; otherwise freeze it in time."),
        }
    }

    /// What to do once it is over.
    #[must_use]
    pub fn over(self) -> &'static str {
        match self {
            Self::Gutting | Self::Sitting | Self::SittingHot => {
                t!(
                    "Over: do not can this lot. Food left out longer than that is thrown out; pressure \
                 does not mend it."
                )
            }
            Self::Smoke => {
                t!("Over: do not can this lot. Longer smoke dries it beyond what the process was \
                 tested on. Cook it through and eat it, or freeze it.")
            }
            Self::SmokedHold => {
                t!(
                    "Over: do not can this lot. Lightly smoked fish is not cooked and does not keep: \
                 smoke is no preservation."
                )
            }
            Self::TwoDays => {
                t!(
                    "Over: do not can this lot. Canning does not mend fish that has waited too long."
                )
            }
        }
    }

    /// Where the limit is published.
    #[must_use]
    pub fn publication(self) -> &'static str {
        match self {
            Self::Gutting => {
                t!("USDA Complete Guide to Home Canning, Guide 5, pp. 5-10 and 5-11, 2015")
            }
            Self::Sitting | Self::SittingHot => t!("FDA and USDA consumer advice, 2016 and 2017"),
            Self::Smoke => {
                t!("Washington State Univ. Extension, Preservation Tips: Smoking/Curing")
            }
            Self::SmokedHold => t!("PNW 450, Canning Smoked Fish at Home"),
            Self::TwoDays => t!("USDA Complete Guide to Home Canning, Guide 1, p. 1-11, 2015"),
        }
    }
}

impl RawLot {
    /// Every limit that applies, as of an instant: now, or when the heat went on.
    #[must_use]
    pub fn checks(&self, at: EpochMs) -> Vec<Check> {
        let at = self.ended().map_or(at, |(end, _)| at.min(end));
        let step = self.now();
        let out = self.out_of_cold(at);
        let sea = matches!(self.group(), Some(Group::Fish | Group::Shellfish));
        let frozen = step.step == LotStep::Frozen;
        let mut checks = Vec::new();
        let mut add = |limit: Limit, used: Span, runs: bool| {
            checks.push(Check::new(limit, used, runs.then_some(at)));
        };
        if self.group() == Some(Group::Fish) && self.start().first.step == LotStep::Caught {
            add(
                Limit::Gutting,
                self.spent(at, |s| s == LotStep::Caught),
                step.step == LotStep::Caught,
            );
        }
        let sits = !frozen && step.step != LotStep::Smoking && step.kept != Kept::Cold;
        if sits || out.sitting > Span::ZERO {
            add(if out.hot { Limit::SittingHot } else { Limit::Sitting }, out.sitting, sits);
        }
        if self.is_smoked() {
            add(Limit::Smoke, out.smoke, step.step == LotStep::Smoking);
        }
        if let Some(held) = self.smoked_hold(at) {
            add(Limit::SmokedHold, held, !frozen);
        }
        if sea {
            add(Limit::TwoDays, self.spent(at, |s| s != LotStep::Frozen), !frozen);
        }
        checks
    }

    /// The limits that were passed: with any of them, the lot is not canned.
    #[must_use]
    pub fn passed(&self, at: EpochMs) -> Vec<Check> {
        let mut checks = self.checks(at);
        checks.retain(|check| check.standing == Standing::Over);
        checks
    }

    /// The limit that comes first, or was passed.
    #[must_use]
    pub fn tightest(&self, at: EpochMs) -> Option<Check> {
        let running = |check: &Check| check.due.is_some() || check.standing == Standing::Over;
        let mut first: Option<Check> = None;
        for check in self.checks(at).into_iter().filter(running) {
            if first.is_none_or(|first| check.left < first.left) {
                first = Some(check);
            }
        }
        first
    }

    /// What to say when sitting and smoke together are over 2 hours though neither
    /// is alone.
    #[must_use]
    pub fn together(&self, at: EpochMs) -> Option<&'static str> {
        let out = self.out_of_cold(at);
        let over = out.all() > Limit::Sitting.longest();
        (over && out.sitting > Span::ZERO && out.smoke > Span::ZERO).then_some(
            t!("With the smoke it has been out of the cold for more than 2 hours. No publication says how the two limits add up: chill it or can it now."),
        )
    }

    fn spent(&self, at: EpochMs, counts: fn(LotStep) -> bool) -> Span {
        let mut spent = Span::ZERO;
        for stretch in self.stretches(at) {
            if counts(stretch.step) {
                spent = spent.plus(stretch.length());
            }
        }
        spent
    }

    /// Time held as smoked fish, the freezer left out. What was begun as smoked
    /// already counts from the start, and smoke does not mend it once it is over. Not
    /// yet gutted, it cannot have been smoked.
    fn smoked_hold(&self, at: EpochMs) -> Option<Span> {
        if !self.begun_smoked() || self.start().first.step == LotStep::Caught {
            return self.since_smoke(at);
        }
        let mut before = Span::ZERO;
        for stretch in self.stretches(at) {
            match stretch.step {
                LotStep::Smoking => break,
                LotStep::Frozen => {}
                _ => before = before.plus(stretch.length()),
            }
        }
        let counts = !self.is_smoked() || before > Limit::SmokedHold.longest();
        if counts { Some(before) } else { self.since_smoke(at) }
    }

    /// Time since the first smoke ended, the freezer left out; `None` while it has not.
    fn since_smoke(&self, at: EpochMs) -> Option<Span> {
        let mut held = None;
        let mut smoked = false;
        for stretch in self.stretches(at) {
            if smoked && (held.is_some() || stretch.step != LotStep::Smoking) {
                let more = match stretch.step {
                    LotStep::Frozen => Span::ZERO,
                    _ => stretch.length(),
                };
                held = Some(held.unwrap_or(Span::ZERO).plus(more));
            }
            smoked |= stretch.step == LotStep::Smoking;
        }
        held
    }
}

impl Check {
    fn new(limit: Limit, used: Span, runs_at: Option<EpochMs>) -> Self {
        let longest = limit.longest();
        let left = longest.minus(used);
        let standing = match left.0 {
            ..0 => Standing::Over,
            left if left <= longest.0 / 4 => Standing::Near,
            _ => Standing::Inside,
        };
        Self { limit, left, due: runs_at.map(|at| at.plus(left)), standing }
    }
}
