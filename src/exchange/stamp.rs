//! Instants as other programs read them.
//!
//! Invariant: always UTC, so that a file means the same in every zone.

use crate::present::LocalTime;
use crate::units::EpochMs;
use chrono::{DateTime, Datelike, Timelike, Utc};

/// How the page turns an instant into local calendar fields: only the browser
/// knows the zone and its daylight saving.
pub type Local<'a> = &'a dyn Fn(EpochMs) -> LocalTime;

fn fields(at: EpochMs) -> Option<DateTime<Utc>> {
    DateTime::from_timestamp_millis(at.0).filter(|at| (0..=9999).contains(&at.year()))
}

/// The form of calendar files: `20261125T140500Z` (RFC 5545, 3.3.5, form 2).
/// `None` outside the years 0 to 9999.
pub(super) fn utc_basic(at: EpochMs) -> Option<String> {
    let at = fields(at)?;
    let (year, month, day) = (at.year(), at.month(), at.day());
    let (hour, minute, second) = (at.hour(), at.minute(), at.second());
    Some(format!("{year:04}{month:02}{day:02}T{hour:02}{minute:02}{second:02}Z"))
}

/// The form of tables: `2026-11-25T14:05:00Z` (RFC 3339). Empty outside the years
/// 0 to 9999.
pub(super) fn utc_extended(at: EpochMs) -> String {
    let Some(at) = fields(at) else { return String::new() };
    let (year, month, day) = (at.year(), at.month(), at.day());
    let (hour, minute, second) = (at.hour(), at.minute(), at.second());
    format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}Z")
}
