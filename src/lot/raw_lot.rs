//! Where a raw lot stands and how long it has been where.
//!
//! Invariant: steps follow each other in time; the stretches between them cover
//! all the time from the first step on, without gaps.

use super::step::{Kept, LotEnd, LotMove, LotSaid, LotStart, LotStep};
use crate::brine::Strength;
use crate::process::{Food, Group, Pack};
use crate::units::{EpochMs, Span};

/// A raw lot: a fold over what was recorded of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RawLot {
    start: LotStart,
    moves: Vec<LotMove>,
    brine: Option<Strength>,
    ended: Option<(EpochMs, LotEnd)>,
}

/// Why something does not fit a lot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LotError {
    /// There is no lot here yet.
    None,
    /// It has begun already.
    Twice,
    /// The time lies before its last step, or after the time of writing.
    Time,
    /// Gutted fish cannot go back to being caught.
    Backwards,
    /// It has ended.
    Ended,
}

/// Time out of the cold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OutOfCold {
    /// Out of refrigerator, ice and freezer, the smoker left out.
    pub sitting: Span,
    /// In the smoker.
    pub smoke: Span,
    /// Whether any of the sitting was in air above 90 F.
    pub hot: bool,
}

impl OutOfCold {
    /// All of it.
    #[must_use]
    pub const fn all(self) -> Span {
        self.sitting.plus(self.smoke)
    }
}

/// One step from its beginning to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stretch {
    pub(super) step: LotStep,
    pub(super) kept: Kept,
    pub(super) from: EpochMs,
    pub(super) to: EpochMs,
}

impl Stretch {
    pub(super) const fn length(self) -> Span {
        self.to.since(self.from).at_least_zero()
    }

    pub(super) const fn sits(self) -> bool {
        !matches!(self.step, LotStep::Frozen | LotStep::Smoking) && !matches!(self.kept, Kept::Cold)
    }
}

impl RawLot {
    /// Takes in what was said at an instant.
    ///
    /// # Errors
    /// [`LotError`] if it does not fit; the lot is then unchanged.
    pub fn take(lot: &mut Option<Self>, said: &LotSaid, at: EpochMs) -> Result<(), LotError> {
        if let LotSaid::Started(start) = said {
            if lot.is_some() {
                return Err(LotError::Twice);
            }
            if start.first.since > at {
                return Err(LotError::Time);
            }
            let moves = vec![start.first];
            *lot = Some(Self { start: start.clone(), moves, brine: None, ended: None });
            return Ok(());
        }
        let lot = lot.as_mut().ok_or(LotError::None)?;
        if lot.ended.is_some() {
            return Err(LotError::Ended);
        }
        match said {
            LotSaid::Started(_) => return Err(LotError::Twice),
            LotSaid::Moved(to) => {
                if to.since > at || to.since < lot.now().since {
                    return Err(LotError::Time);
                }
                if to.step == LotStep::Caught && lot.now().step != LotStep::Caught {
                    return Err(LotError::Backwards);
                }
                lot.moves.push(*to);
            }
            // More salt than dissolves is still a saturated brine.
            LotSaid::Brined { salt, water } => {
                lot.brine = Some(Strength::of(*salt, *water).unwrap_or(Strength::SATURATED));
            }
            LotSaid::Ended(end) => lot.ended = Some((at, *end)),
        }
        Ok(())
    }

    /// How it began.
    #[must_use]
    pub const fn start(&self) -> &LotStart {
        &self.start
    }

    /// The step it is at.
    #[must_use]
    pub fn now(&self) -> LotMove {
        self.moves.last().copied().unwrap_or(self.start.first)
    }

    /// Every step so far.
    #[must_use]
    pub fn moves(&self) -> &[LotMove] {
        &self.moves
    }

    /// The strength of the last brine made for it.
    #[must_use]
    pub const fn brine(&self) -> Option<Strength> {
        self.brine
    }

    /// When and how it ended without being canned.
    #[must_use]
    pub const fn ended(&self) -> Option<(EpochMs, LotEnd)> {
        self.ended
    }

    /// Whether it has been in smoke.
    #[must_use]
    pub fn is_smoked(&self) -> bool {
        self.moves.iter().any(|one| one.step == LotStep::Smoking)
    }

    /// Whether it was begun as fish smoked or salted already.
    #[must_use]
    pub fn begun_smoked(&self) -> bool {
        self.start.food == "smoked-fish"
    }

    /// The group of its food, if the catalogue has it.
    #[must_use]
    pub fn group(&self) -> Option<Group> {
        Food::by_key(&self.start.food).map(Food::group)
    }

    /// The food to look up, and the pack that its steps decide.
    #[must_use]
    pub fn canned_as(&self) -> (&str, Option<Pack>) {
        let own = self.start.food.as_str();
        match (self.is_smoked(), self.group()) {
            (false, _) => (own, self.begun_smoked().then_some(Pack::Smoked)),
            (true, Some(Group::Shellfish)) => ("shellfish-smoked", Some(Pack::Smoked)),
            (true, Some(Group::Fish)) if own != "tuna" => ("smoked-fish", Some(Pack::Smoked)),
            (true, _) => (own, Some(Pack::Smoked)),
        }
    }

    /// Its steps as stretches of time, up to an instant.
    pub(super) fn stretches(&self, until: EpochMs) -> impl Iterator<Item = Stretch> {
        let ends = self.moves.iter().skip(1).map(|next| next.since);
        self.moves.iter().zip(ends.chain(core::iter::once(until))).map(move |(one, end)| Stretch {
            step: one.step,
            kept: one.kept,
            from: one.since.min(until),
            to: end.min(until),
        })
    }

    /// Time out of the cold up to an instant: now, or when the heat went on.
    #[must_use]
    pub fn out_of_cold(&self, until: EpochMs) -> OutOfCold {
        let mut out = OutOfCold { sitting: Span::ZERO, smoke: Span::ZERO, hot: false };
        for stretch in self.stretches(until) {
            if stretch.step == LotStep::Smoking {
                out.smoke = out.smoke.plus(stretch.length());
            } else if stretch.sits() {
                out.sitting = out.sitting.plus(stretch.length());
                out.hot |= stretch.kept == Kept::Hot;
            }
        }
        out
    }
}
