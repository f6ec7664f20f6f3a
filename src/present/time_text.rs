//! Lengths of time and times of day as people read them.
//!
//! Invariant: a running clock is never shown shorter than it is: what is left is
//! rounded up to the next second.

use crate::units::Span;
use crate::words::Word;
use crate::{t, w};

/// Local calendar fields of an instant, as the browser's zone has them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct LocalTime {
    /// Year, four digits.
    pub year: u16,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, 1 to 31.
    pub day: u8,
    /// Day of the week, 0 for Sunday.
    pub weekday: u8,
    /// Hour, 0 to 23.
    pub hour: u8,
    /// Minute, 0 to 59.
    pub minute: u8,
}

/// How hours are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clockface {
    /// 2:05 pm.
    Twelve,
    /// 14:05.
    TwentyFour,
}

const DAYS: [Word; 7] =
    [w!("Sun"), w!("Mon"), w!("Tue"), w!("Wed"), w!("Thu"), w!("Fri"), w!("Sat")];

impl LocalTime {
    /// The time of day.
    #[must_use]
    pub fn clock(self, face: Clockface) -> String {
        match face {
            Clockface::TwentyFour => format!("{}:{:02}", self.hour, self.minute),
            Clockface::Twelve => {
                let hour = match self.hour % 12 {
                    0 => 12,
                    hour => hour,
                };
                let half = if self.hour < 12 { t!("am") } else { t!("pm") };
                format!("{hour}:{:02} {half}", self.minute)
            }
        }
    }

    /// The date, the same in every language: 2026-11-25 (ISO 8601).
    #[must_use]
    pub fn date(self) -> String {
        format!("{}-{:02}-{:02}", self.year, self.month, self.day)
    }

    /// Weekday and time of day.
    #[must_use]
    pub fn day_and_clock(self, face: Clockface) -> String {
        let day = DAYS.get(usize::from(self.weekday)).map_or("", |day| day.say());
        format!("{day} {}", self.clock(face))
    }
}

/// A running clock: `9:58`, `1:39:07`. Rounded up, so that 0:00 means over.
#[must_use]
pub fn digits(span: Span) -> String {
    let seconds = span.at_least_zero().0.saturating_add(999) / 1000;
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    if hours > 0 {
        format!("{hours}:{minutes:02}:{seconds:02}")
    } else {
        format!("{minutes}:{seconds:02}")
    }
}

/// A length in words, two units at most: `2 days 3 h`, `1 h 40 min`, `12 min`, `45 s`.
/// Rounded down; under a second it says `0 s`.
#[must_use]
pub fn words(span: Span) -> String {
    let seconds = span.at_least_zero().0 / 1000;
    let (days, hours, minutes) = (seconds / 86_400, seconds / 3600 % 24, seconds / 60 % 60);
    match (days, hours, minutes) {
        (0, 0, 0) => format!("{seconds} s"),
        (0, 0, minutes) => format!("{minutes} min"),
        (0, hours, 0) => format!("{hours} h"),
        (0, hours, minutes) => format!("{hours} h {minutes} min"),
        (1, 0, _) => t!("1 day").to_owned(),
        (1, hours, _) => t!("1 day {} h", hours),
        (days, 0, _) => t!("{} days", days),
        (days, hours, _) => t!("{} days {} h", days, hours),
    }
}
