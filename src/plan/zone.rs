//! A date and time of day as a person says them, and the instant they mean.
//!
//! Invariant: the zone is asked, never worked out: what offset holds at an instant
//! is the browser's answer. Where the clocks go back, a time of day comes twice and
//! the first is meant; where they go forward one is left out and the hour before it
//! is taken. Both are the earlier, so a plan made for it is never late.

use crate::t;
use crate::units::{EpochMs, Span};
use chrono::{NaiveDate, NaiveTime};

/// A date and time of day on the wall, without a zone: minutes since 1970-01-01 0:00.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Wall(i64);

/// What a time on the wall means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moment {
    /// Just this instant.
    Once(EpochMs),
    /// The clocks go back over it; this is the first of the two.
    First(EpochMs),
    /// The clocks go forward over it; this is as long before the change as the time
    /// is after it.
    Skipped(EpochMs),
}

impl Moment {
    /// The instant.
    #[must_use]
    pub const fn at(self) -> EpochMs {
        match self {
            Self::Once(at) | Self::First(at) | Self::Skipped(at) => at,
        }
    }

    /// What to say about it, if anything.
    #[must_use]
    pub fn words(self) -> Option<&'static str> {
        match self {
            Self::Once(_) => None,
            Self::First(_) => {
                Some(t!("The clocks go back then, so this time comes twice: the first is meant."))
            }
            Self::Skipped(_) => {
                Some(t!("The clocks go forward over this time: an earlier one is taken."))
            }
        }
    }
}

impl Wall {
    /// Reads a date and a time of day as forms give them (HTML, valid date and time
    /// strings): `2026-11-29` and `18:00`, seconds dropped.
    #[must_use]
    pub fn parse(date: &str, time: &str) -> Option<Self> {
        let mut numbers = date.trim().splitn(3, '-').map(|part| part.parse::<u16>().ok());
        let (year, month, day) = (numbers.next()??, numbers.next()??, numbers.next()??);
        let date = NaiveDate::from_ymd_opt(i32::from(year), u32::from(month), u32::from(day))?;
        let mut numbers = time.trim().split(':').map(|part| part.parse::<u32>().ok());
        let (hour, minute) = (numbers.next()??, numbers.next()??);
        let time = NaiveTime::from_hms_opt(hour, minute, 0)?;
        Some(Self(date.and_time(time).and_utc().timestamp() / 60))
    }

    const fn less(self, offset: i32) -> EpochMs {
        EpochMs((self.0 - offset as i64) * 60_000)
    }
}

/// The instant a wall time means in the zone whose offset, minutes east of UTC, is
/// `offset` at an instant.
#[must_use]
pub fn resolve(wall: Wall, offset: &dyn Fn(EpochMs) -> i32) -> Moment {
    // Offsets lie within a day of UTC, and changes are months apart, so a day to
    // either side sees what holds before and after.
    let day = Span::hours(24);
    let naive = wall.less(0);
    let (before, after) = (offset(naive.plus(Span(-day.0))), offset(naive.plus(day)));
    let holds = |one: i32| offset(wall.less(one)) == one;
    match (holds(before), holds(after)) {
        (true, true) if before != after => Moment::First(wall.less(before).min(wall.less(after))),
        (true, _) => Moment::Once(wall.less(before)),
        (false, true) => Moment::Once(wall.less(after)),
        (false, false) => Moment::Skipped(wall.less(before).min(wall.less(after))),
    }
}
