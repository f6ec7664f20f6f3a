//! What a listener is told while a time runs: a screen that is only heard must not
//! speak every second, nor stay silent for a hundred minutes.
//!
//! Invariant: each sentence is true from its moment until the next one, and the
//! sentences of a time come in one order only.

use super::time_text::words;
use crate::t;
use crate::units::Span;

/// Minutes before the end, the last first.
const POINTS: [i64; 4] = [1, 5, 10, 30];

/// The latest milestone of a time of which `left` still runs; `None` before the
/// first one, and when the time is over (the alarm says that).
#[must_use]
pub fn milestone(left: Span, whole: Span) -> Option<String> {
    if left <= Span::ZERO {
        return None;
    }
    let passed =
        POINTS.into_iter().map(Span::minutes).find(|point| *point < whole && left <= *point);
    match passed {
        // The half of a time comes before the points nearer its end.
        Some(point) if point.0.saturating_mul(2) <= whole.0 => {
            Some(t!("{} or less to go.", words(point)))
        }
        _ if left.0.saturating_mul(2) <= whole.0 => Some(t!("Half the time is over.").to_owned()),
        Some(point) => Some(t!("{} or less to go.", words(point))),
        None => None,
    }
}
