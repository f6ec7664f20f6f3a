//! Wall-clock instants and lengths of time.
//!
//! Invariant: an instant is Unix milliseconds, never a count of ticks; sums
//! saturate, so no input can overflow them.

use core::fmt;

/// A wall-clock instant in Unix milliseconds (UTC).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct EpochMs(pub i64);

/// A length of time in milliseconds; negative when it points back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Span(pub i64);

/// Whole minutes as process tables print them, 0 to 65,535.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Minutes(pub u16);

impl EpochMs {
    /// The time from `earlier` to this instant.
    #[must_use]
    pub const fn since(self, earlier: Self) -> Span {
        Span(self.0.saturating_sub(earlier.0))
    }

    /// This instant moved by a span.
    #[must_use]
    pub const fn plus(self, span: Span) -> Self {
        Self(self.0.saturating_add(span.0))
    }
}

impl Span {
    /// No time at all.
    pub const ZERO: Self = Self(0);

    /// So many whole minutes.
    #[must_use]
    pub const fn minutes(minutes: i64) -> Self {
        Self(minutes.saturating_mul(60_000))
    }

    /// So many whole hours.
    #[must_use]
    pub const fn hours(hours: i64) -> Self {
        Self(hours.saturating_mul(3_600_000))
    }

    /// The sum of two spans.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    /// This span less another.
    #[must_use]
    pub const fn minus(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }

    /// This span, or zero if it points back.
    #[must_use]
    pub const fn at_least_zero(self) -> Self {
        if self.0 < 0 { Self(0) } else { self }
    }
}

impl Minutes {
    /// The same length as a span.
    #[must_use]
    pub const fn span(self) -> Span {
        Span::minutes(self.0 as i64)
    }
}

impl fmt::Display for Minutes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}
