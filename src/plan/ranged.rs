//! Figures that are honest about how well they are known: from, to, and whose.
//!
//! Invariant: `least` is never over `most`.

use crate::t;
use core::fmt;

/// From the least to the most.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Range<T> {
    least: T,
    most: T,
}

impl<T: Copy + Ord> Range<T> {
    /// A range between two ends, given in either order.
    #[must_use]
    pub fn new(one: T, other: T) -> Self {
        Self { least: one.min(other), most: one.max(other) }
    }

    /// A range of one value.
    #[must_use]
    pub const fn just(value: T) -> Self {
        Self { least: value, most: value }
    }

    /// The least.
    #[must_use]
    pub const fn least(self) -> T {
        self.least
    }

    /// The most.
    #[must_use]
    pub const fn most(self) -> T {
        self.most
    }

    /// The smallest range that holds both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self { least: self.least.min(other.least), most: self.most.max(other.most) }
    }

    /// The same range with nothing under `floor`.
    #[must_use]
    pub fn at_least(self, floor: T) -> Self {
        Self { least: self.least.max(floor), most: self.most.max(floor) }
    }

    /// Whether both ends are the same.
    #[must_use]
    pub fn is_single(self) -> bool {
        self.least == self.most
    }
}

impl<T: Copy + Ord + fmt::Display> fmt::Display for Range<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_single() {
            write!(f, "{}", self.least)
        } else {
            f.write_str(&t!("{} to {}", self.least, self.most))
        }
    }
}

/// Where a figure comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Printed there.
    Published(&'static str),
    /// Printed there for another jar size, and scaled by the jars' volumes.
    Scaled(&'static str),
    /// Typed in by the person.
    Own,
    /// Measured in so many of the person's past loads or batches.
    Past(u16),
    /// The published range, widened to hold the person's few measured ones.
    Widened(&'static str, u16),
    /// Nobody has said; nothing is counted for it.
    Unknown,
    /// Left to the person, with why; nothing is counted for it.
    Open(&'static str),
}

/// Fewer measured values than this only widen a published range; from here on they
/// stand for themselves (our own rule, no source: two days at a stove are chance).
pub const ENOUGH: u16 = 3;

impl Origin {
    /// The words shown beside the figure.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Published(words) | Self::Open(words) => words.to_owned(),
            Self::Scaled(publication) => {
                t!("{}; scaled here by jar volume (NIST SP 430)", publication)
            }
            Self::Own => t!("Your own figure").to_owned(),
            Self::Past(count) => t!("Your own past batches: {} measured", count),
            Self::Widened(publication, count) => {
                t!("{}; widened to hold your own {} measured so far", publication, count)
            }
            Self::Unknown => t!("No published figure. Nothing is counted for it").to_owned(),
        }
    }

    /// A published range and measured ones made into the figure to use.
    #[must_use]
    pub fn settle<T: Copy + Ord>(
        published: Option<(Range<T>, &'static str)>,
        measured: Option<(Range<T>, u16)>,
    ) -> Option<(Range<T>, Self)> {
        match (published, measured) {
            (Some((range, publication)), Some((own, count))) if count < ENOUGH => {
                Some((range.with(own), Self::Widened(publication, count)))
            }
            (Some((range, publication)), None) => Some((range, Self::Published(publication))),
            (_, Some((own, count))) => Some((own, Self::Past(count))),
            (None, None) => None,
        }
    }
}
