//! What an event says happened.
//!
//! Invariant: every field is parsed into a type that cannot hold nonsense; a
//! kind this build does not know stays in the record unread.

use super::id::Id;
use super::shelf_event::ShelfEvent;
use crate::keys::keys;
use crate::lot::LotSaid;
use crate::plan::{Holds, Weighed};
use crate::process::{Gauge, Jar as JarSize, Pack, Tested};
use crate::run::Step;
use crate::t;
use crate::units::{Altitude, Mass, Minutes, PsiGauge};
use core::fmt;

/// A short text a person typed: trimmed, at most 200 characters, no control
/// characters.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Text(String);

/// Why a text is not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TextError;

impl fmt::Display for TextError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(t!("Keep the text to 200 characters."))
    }
}

impl core::error::Error for TextError {}

impl Text {
    /// Longest text, in characters.
    pub const MAX: usize = 200;

    /// Takes what was typed; control characters become spaces.
    ///
    /// # Errors
    /// [`TextError`] over 200 characters.
    pub fn new(typed: &str) -> Result<Self, TextError> {
        let clean: String = typed.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let clean = clean.trim();
        if clean.chars().count() > Self::MAX { Err(TextError) } else { Ok(Self(clean.to_owned())) }
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether nothing was typed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

/// How a batch begins: what goes into which jars, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchStart {
    /// What is in the jars, in the person's own words.
    pub content: Text,
    /// Key of the product in the process tables.
    pub product: String,
    /// How it is packed.
    pub pack: Pack,
    /// Jar size.
    pub jar: JarSize,
    /// Height above sea level.
    pub altitude: Altitude,
    /// Where it was canned, if said.
    pub place: Text,
    /// Whether this is the invented example.
    pub demo: bool,
}

/// One canner load and the tested process it is held to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LoadPlan {
    /// Key of the process row.
    pub process: String,
    /// The hold at pressure, minutes.
    pub minutes: Minutes,
    /// The pressure the gauge must show, tenths of psi gauge: the table's, and
    /// what this gauge reads high.
    pub pressure: PsiGauge,
    /// Kind of gauge.
    pub gauge: Gauge,
    /// Steady steam before the vent is closed, minutes.
    pub vent: Minutes,
    /// Least heating before venting, minutes.
    pub heat_before_vent: Minutes,
    /// Least heating and venting together, minutes.
    pub heat_plus_vent: Minutes,
    /// Nominal canner size, quarts.
    pub canner_quarts: u8,
    /// What the person calls the canner.
    pub canner: Text,
    /// Jars in the load, 1 to 60.
    pub jars: u16,
    /// Where the numbers are published.
    pub publication: String,
    /// Whole psi added to the table's pressure because the dial reads high.
    pub added: u8,
}

impl LoadPlan {
    /// The same load on a canner of the household: its name, and a dial that must
    /// show `setting`. A setting below the plan's changes nothing.
    #[must_use]
    pub fn on(mut self, canner: Text, setting: PsiGauge) -> Self {
        self.canner = canner;
        let more = setting.tenths().saturating_sub(self.pressure.tenths()).div_ceil(10);
        if let (Ok(more), true) = (u8::try_from(more), setting > self.pressure) {
            self.added = self.added.saturating_add(more);
            self.pressure = setting;
        }
        self
    }

    /// The table's pressure: the plan's without what makes up for the dial.
    #[must_use]
    pub fn table_pressure(&self) -> PsiGauge {
        let added = u16::from(self.added) * 10;
        PsiGauge::from_tenths(self.pressure.tenths().saturating_sub(added)).unwrap_or(self.pressure)
    }

    /// A load of so many jars held to a tested process.
    #[must_use]
    pub fn of(tested: &Tested, jars: u16) -> Self {
        let process = tested.process();
        Self {
            process: process.id().to_owned(),
            minutes: tested.minutes(),
            pressure: tested.pressure(),
            gauge: tested.gauge(),
            vent: tested.vent(),
            heat_before_vent: process.heat_before_vent(),
            heat_plus_vent: process.heat_plus_vent(),
            canner_quarts: tested.quarts(),
            canner: Text::default(),
            jars,
            publication: process.publication().to_owned(),
            added: 0,
        }
    }
}

/// What the seal check found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Seal {
    /// Lid down, holds.
    Sealed,
    /// Lid springs, lifts or leaks.
    NotSealed,
    /// Jar cracked or bottom out.
    Broken,
}

/// What was done with a jar that did not seal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Settled {
    /// In the refrigerator, to be eaten within days.
    Refrigerated,
    /// Frozen, with more headspace.
    Frozen,
    /// Packed again for a whole new process.
    Reprocessed,
    /// Thrown out.
    Discarded,
}

/// How a jar left the shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Taken {
    /// Opened and eaten.
    Eaten,
    /// Given away.
    Given,
    /// Lost its seal on the shelf: discarded.
    LostSeal,
    /// Spoiled: discarded.
    Spoiled,
    /// In doubt: discarded.
    Doubted,
}

/// A canner the household owns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CannerKept {
    /// The canner's own name; a later event with the same one replaces it.
    pub canner: Id,
    /// What the person calls it.
    pub name: Text,
    /// Kind of gauge.
    pub gauge: Gauge,
    /// Nominal size, quarts.
    pub quarts: u8,
    /// What the person wants to remember of its manual.
    pub notes: Text,
    /// Whether it is no longer used.
    pub gone: bool,
}

/// A place with its altitude.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlaceKept {
    /// The place's own name; a later event with the same one replaces it.
    pub place: Id,
    /// What the person calls it.
    pub name: Text,
    /// Height above sea level.
    pub altitude: Altitude,
    /// Whether it is no longer used.
    pub gone: bool,
}

/// Everything an event can say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Body {
    /// The batch begins.
    BatchStarted(BatchStart),
    /// A load is planned; the event's id names the load.
    LoadPlanned(LoadPlan),
    /// The load has another number of jars, before the heat is on.
    JarsCounted {
        /// The load.
        load: Id,
        /// Jars, 1 to 60.
        jars: u16,
    },
    /// A step at the canner.
    Ran {
        /// The load.
        load: Id,
        /// What was done or seen.
        step: Step,
    },
    /// A jar's seal was checked.
    SealChecked {
        /// The load.
        load: Id,
        /// Jar number, from 1.
        jar: u16,
        /// What was found.
        seal: Seal,
    },
    /// An unsealed jar was dealt with.
    UnsealedSettled {
        /// The load.
        load: Id,
        /// Jar number, from 1.
        jar: u16,
        /// What was done.
        way: Settled,
    },
    /// The load's sealed jars were put in a place.
    Shelved {
        /// The load.
        load: Id,
        /// Where they stand.
        place: Text,
    },
    /// A jar left the shelf.
    JarTaken {
        /// The load.
        load: Id,
        /// Jar number, from 1.
        jar: u16,
        /// How it left.
        how: Taken,
    },
    /// Something at the shelf: lids, moves, doubts.
    AtShelf(ShelfEvent),
    /// A note.
    Noted {
        /// The load it is about, if one.
        load: Option<Id>,
        /// The note.
        text: Text,
    },
    /// An earlier event is taken back.
    Undone {
        /// The event taken back.
        event: Id,
    },
    /// Something about the raw lot that the batch is canned from.
    Lot(LotSaid),
    /// A canner of the household.
    CannerKept(CannerKept),
    /// A place of the household.
    PlaceKept(PlaceKept),
    /// Food of the batch was weighed.
    Weighed {
        /// At what point.
        what: Weighed,
        /// The weight, whole grams.
        mass: Mass,
    },
    /// How many jars of a size fill a canner of the household, as counted.
    CannerHolds {
        /// The canner.
        canner: Id,
        /// The count.
        holds: Holds,
    },
    /// A dial gauge was read beside a standard one.
    GaugeChecked {
        /// The canner.
        canner: Id,
        /// What its dial showed.
        reading: PsiGauge,
        /// What the standard showed.
        standard: PsiGauge,
    },
}

keys!(Seal { Sealed = "sealed", NotSealed = "not_sealed", Broken = "broken" });
keys!(Settled {
    Refrigerated = "refrigerated",
    Frozen = "frozen",
    Reprocessed = "reprocessed",
    Discarded = "discarded",
});
keys!(Taken {
    Eaten = "eaten",
    Given = "given",
    LostSeal = "lost_seal",
    Spoiled = "spoiled",
    Doubted = "doubted",
});
