//! How many jars a canner holds.
//!
//! Invariant: a count is the person's own, or a published figure for canners of the
//! common sizes; nothing is worked out from a canner's quarts.

use super::ranged::{Origin, Range};
use crate::process::Jar;
use crate::t;
use crate::w;
use crate::words::Word;
use core::fmt;

/// Jars of one size in a full load, 1 to 60, in one or two layers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Holds {
    jar: Jar,
    jars: u16,
    layers: u8,
}

/// A count that is no load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HoldsError;

impl fmt::Display for HoldsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(t!("A load holds 1 to 60 jars in one or two layers. Count them on the rack."))
    }
}

impl core::error::Error for HoldsError {}

/// Most jars in one load.
pub const MOST_JARS: u16 = crate::batch::MAX_JARS;

impl Holds {
    /// A count.
    ///
    /// # Errors
    /// [`HoldsError`] outside 1 to 60 jars or 1 to 2 layers.
    pub const fn new(jar: Jar, jars: u16, layers: u8) -> Result<Self, HoldsError> {
        if jars == 0 || jars > MOST_JARS || layers == 0 || layers > 2 {
            return Err(HoldsError);
        }
        Ok(Self { jar, jars, layers })
    }

    /// The jars' size.
    #[must_use]
    pub const fn jar(self) -> Jar {
        self.jar
    }

    /// How many.
    #[must_use]
    pub const fn jars(self) -> u16 {
        self.jars
    }

    /// In how many layers.
    #[must_use]
    pub const fn layers(self) -> u8 {
        self.layers
    }
}

/// Where typical loads are published.
pub const CAPACITY: Word = w!(
    "USDA Complete Guide to Home Canning, Guide 1, p. 1-17, 2015 (a typical canner: 7 quarts or 8 \
     to 9 pints)"
);

/// Two layers, where the canner is tall enough.
pub const TWO_LAYERS: Word = w!(
    "USDA Complete Guide to Home Canning, Guide 1, p. 1-17, 2015; Ask Extension, answer 477956, \
     August 2018"
);

/// The published load of a canner of 16 to 23 quarts, the common sizes (Guide 1,
/// p. 1-35; PNW 421, p. 5). Other canners and jar sizes have to be counted.
#[must_use]
pub fn published_capacity(quarts: u8, jar: Jar) -> Option<(Range<u16>, Origin)> {
    if !(16..=23).contains(&quarts) {
        return None;
    }
    let range = match jar {
        Jar::Quart => Range::just(7),
        Jar::Pint => Range::new(8, 9),
        _ => return None,
    };
    Some((range, Origin::Published(CAPACITY.say())))
}
