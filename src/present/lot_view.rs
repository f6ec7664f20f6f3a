//! A raw lot as screens show it: a card for the day, and every limit it runs against.
//!
//! Invariant: a limit that was passed is named before one that still runs.

use super::time_text::words;
use crate::batch::{Archive, Batch, Id};
use crate::lot::{Check, Kept, Limit, LotStep, RawLot, Standing};
use crate::order;
use crate::t;
use crate::units::{EpochMs, Span};

/// A lot waiting for its canner, for the day's screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotCard {
    /// The lot, and the batch it becomes.
    pub batch: Id,
    /// What the person calls it.
    pub name: String,
    /// The step it is at.
    pub step: &'static str,
    /// When the step began.
    pub since: EpochMs,
    /// When the tightest limit is reached, if one runs.
    pub due: Option<EpochMs>,
    /// What that limit is about, or what was passed.
    pub say: &'static str,
    /// How it stands against that limit.
    pub standing: Standing,
}

/// One limit in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LimitLine {
    /// The limit as published.
    pub text: &'static str,
    /// How much is left, used up, or over.
    pub left: String,
    /// What to do if it is over.
    pub over: Option<&'static str>,
    /// Where it is published.
    pub publication: &'static str,
    /// How the lot stands against it.
    pub standing: Standing,
}

/// The lots that wait for heat, the most pressing first.
#[must_use]
pub fn lot_cards(archive: &Archive, now: EpochMs) -> Vec<LotCard> {
    let mut cards = Vec::new();
    for batch in archive.at_work() {
        if let Some(lot) = batch.waiting_lot() {
            cards.push(card(batch, lot, now));
        }
    }
    order::by_key(cards, |card| {
        let due = card.due.map_or(i64::MAX, |due| due.0);
        (if card.standing == Standing::Over { i64::MIN } else { due }, card.batch.number())
    })
}

fn card(batch: &Batch, lot: &RawLot, now: EpochMs) -> LotCard {
    let at = lot.now();
    let tight = lot.tightest(now);
    LotCard {
        batch: batch.id,
        name: lot.start().name.as_str().to_owned(),
        step: at.step.name(),
        since: at.since,
        due: tight.and_then(|check| check.due),
        say: tight.map_or("", short),
        standing: tight.map_or(Standing::Inside, |check| check.standing),
    }
}

fn short(check: Check) -> &'static str {
    match (check.standing, check.limit) {
        (Standing::Over, Limit::Gutting) => t!("gutted too late: do not can it"),
        (Standing::Over, Limit::Sitting | Limit::SittingHot) => {
            t!("too long out of the cold: do not can it")
        }
        (Standing::Over, Limit::Smoke) => t!("too long in smoke: do not can it"),
        (Standing::Over, Limit::SmokedHold) => t!("held too long after smoke: do not can it"),
        (Standing::Over, Limit::TwoDays) => t!("over 2 days since the catch: do not can it"),
        (_, Limit::Gutting) => t!("left to gut it"),
        (_, Limit::Sitting) => t!("left out of the cold"),
        (_, Limit::SittingHot) => t!("left out of the cold above 90 F"),
        (_, Limit::Smoke) => t!("left in smoke"),
        (_, Limit::SmokedHold) => t!("left to can smoked fish"),
        (_, Limit::TwoDays) => t!("left to can or freeze it"),
    }
}

/// Every limit that applies, those passed first.
#[must_use]
pub fn limit_lines(lot: &RawLot, at: EpochMs) -> Vec<LimitLine> {
    let mut lines = Vec::new();
    for check in lot.checks(at) {
        let over = check.standing == Standing::Over;
        // Gutted in time: that is done with.
        if check.limit == Limit::Gutting && check.due.is_none() && !over {
            continue;
        }
        let left = match (over, check.due) {
            (true, _) => t!("over by {}", words(Span(0).minus(check.left))),
            (false, Some(_)) => t!("{} left, running", words(check.left)),
            (false, None) => t!("{} left, standing still", words(check.left)),
        };
        lines.push(LimitLine {
            text: check.limit.text(),
            left,
            over: over.then(|| check.limit.over()),
            publication: check.limit.publication(),
            standing: check.standing,
        });
    }
    let rank = |line: &LimitLine| (i64::from(line.standing != Standing::Over), 0);
    order::by_key(lines, rank)
}

/// What bars a batch's raw lot from the canner: a published limit that it passed and
/// that is not over by ending the lot.
#[must_use]
pub fn lot_bars(batch: &Batch, now: EpochMs) -> Option<&'static str> {
    let lot = batch.lot.as_ref().filter(|lot| lot.ended().is_none())?;
    lot.passed(now).first().map(|check| check.limit.over())
}

/// Time out of the cold so far, in a sentence.
#[must_use]
pub fn cold_line(lot: &RawLot, until: EpochMs) -> String {
    let out = lot.out_of_cold(until);
    let all = words(out.all());
    if out.all() == Span::ZERO {
        t!("Not out of the cold so far.").to_owned()
    } else if out.smoke > Span::ZERO {
        t!("Out of the cold {} so far, {} of it in smoke.", all, words(out.smoke))
    } else {
        t!("Out of the cold {} so far.", all)
    }
}

/// What a lot needs before it can go into jars at all.
#[must_use]
pub fn not_yet(step: LotStep) -> Option<&'static str> {
    match step {
        LotStep::Caught => Some(t!("Gut it first, and record that.")),
        LotStep::Frozen => Some(t!("Thaw it first, in the refrigerator, and record that.")),
        _ => None,
    }
}

/// Why a lot does not go into jars as asked: its smoke decides the process, and a
/// fish lot holds no meat.
///
/// # Errors
/// A sentence that says what to choose.
pub fn lot_fits(lot: &RawLot, food: &str, pack: crate::process::Pack) -> Result<(), &'static str> {
    use crate::process::{Food, Pack};
    let (own, own_pack) = lot.canned_as();
    match (own_pack, pack) {
        (Some(Pack::Smoked), _) if food != own || pack != Pack::Smoked => {
            Err(t!("This lot has been in smoke. Only the process for lightly smoked fish fits it."))
        }
        (None, Pack::Smoked) => Err(t!(
            "No smoke is on record for this lot. Record it there, or choose the plain process."
        )),
        _ => {
            let group = |key: &str| Food::by_key(key).map(Food::group);
            if group(food) == group(own) {
                Ok(())
            } else {
                Err(t!("This lot is another kind of food. Choose the food it was begun with."))
            }
        }
    }
}

/// The steps a lot may go to next, the usual one first.
#[must_use]
pub fn next_steps(lot: &RawLot) -> Vec<LotStep> {
    use LotStep::{Brining, Cleaned, Draining, Frozen, Held, Packing, Smoking, Thawing};
    let steps: &[LotStep] = match lot.now().step {
        LotStep::Caught => &[Cleaned],
        Cleaned => &[Brining, Packing, Frozen, Smoking],
        Frozen => &[Thawing],
        Thawing if lot.is_smoked() => &[Held, Packing],
        Thawing => &[Brining, Packing, Cleaned],
        Brining => &[Draining, Packing, Smoking],
        Draining => &[Smoking, Held, Packing],
        Smoking => &[Held, Packing],
        Held if lot.is_smoked() => &[Packing, Frozen],
        Held => &[Packing, Smoking, Frozen],
        Packing => &[Held, Frozen],
    };
    steps.to_vec()
}

/// Where food at a step may be kept: freezer and smoker leave no choice.
#[must_use]
pub const fn kept_choices(step: LotStep) -> &'static [Kept] {
    match step {
        LotStep::Frozen | LotStep::Smoking => &[],
        _ => Kept::ALL,
    }
}
