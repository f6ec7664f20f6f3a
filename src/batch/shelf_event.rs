//! What happens to jars once they are put up: lids, moves, doubts.
//!
//! Invariant: a list of jars is never empty, sorted, without doubles, and every
//! number could be that of a jar.

use super::body::Text;
use super::fold::MAX_JARS;
use super::id::Id;
use crate::keys::keys;

/// Numbers of some jars of one load.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct JarNumbers(Vec<u16>);

impl JarNumbers {
    /// Some jars, in any order; `None` if there is none, or a number is not 1 to 60.
    #[must_use]
    pub fn new(numbers: impl IntoIterator<Item = u16>) -> Option<Self> {
        let mut jars: Vec<u16> = Vec::new();
        for number in numbers {
            if number == 0 || number > MAX_JARS {
                return None;
            }
            if let Err(place) = jars.binary_search(&number) {
                jars.insert(place, number);
            }
        }
        (!jars.is_empty()).then_some(Self(jars))
    }

    /// The numbers, lowest first.
    #[must_use]
    pub fn as_slice(&self) -> &[u16] {
        &self.0
    }

    /// Whether a jar is among them.
    #[must_use]
    pub fn has(&self, jar: u16) -> bool {
        self.0.binary_search(&jar).is_ok()
    }
}

/// What put jars in doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// A dial gauge was found reading high: the canner held less than it showed.
    GaugeHigh,
    /// A place lies higher than the altitude that was used.
    WrongAltitude,
    /// The pressure fell and it was noticed too late.
    LateDip,
    /// Lids of one lot fail.
    LidLot,
    /// Anything about one batch.
    Batch,
}

/// What was decided about jars in doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Kept apart; nobody eats or gives them until the doubt is lifted.
    Held,
    /// Thrown out.
    Discarded,
}

/// Jars of one load in doubt, with the reason in words, so that the batch carries
/// it wherever it is handed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doubted {
    /// The doubt: one name for all batches it touches.
    pub doubt: Id,
    /// What kind of doubt.
    pub cause: Cause,
    /// The doubt in a sentence.
    pub say: Text,
    /// The load.
    pub load: Id,
    /// The jars.
    pub jars: JarNumbers,
    /// What was decided.
    pub verdict: Verdict,
}

/// Everything that can happen at the shelf, beside jars leaving it one by one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ShelfEvent {
    /// A load's lids are of a lot, as printed on their box. Empty: not known.
    LidsUsed {
        /// The load.
        load: Id,
        /// The lot.
        lot: Text,
    },
    /// Some jars of a load were put in another place.
    JarsMoved {
        /// The load.
        load: Id,
        /// The jars.
        jars: JarNumbers,
        /// Where they stand now.
        place: Text,
    },
    /// Jars are in doubt.
    Doubted(Doubted),
    /// A doubt about this batch is lifted.
    DoubtLifted {
        /// The doubt.
        doubt: Id,
        /// Why.
        reason: Text,
    },
}

keys!(Cause {
    GaugeHigh = "gauge_high",
    WrongAltitude = "wrong_altitude",
    LateDip = "late_dip",
    LidLot = "lid_lot",
    Batch = "batch",
});
keys!(Verdict { Held = "held", Discarded = "discarded" });
