//! The rows of the published tables, as the build made them from `data/`.
//!
//! Invariant: static and read-only; every row names its publication.

use super::food::{Food, Group};
use super::jar::Jar;
use super::vessel::Gauge;
use crate::keys::keys;
use crate::units::{Altitude, Inches, Minutes, PsiGauge};
use crate::words::Word;
use crate::{t, w};

/// Style of pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pack {
    /// Raw into the jar.
    Raw,
    /// Heated first and packed hot.
    Hot,
    /// Lightly smoked, not cooked.
    Smoked,
    /// Cooked, cooled, then packed.
    Precooked,
}

impl Pack {
    /// The name shown.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Raw => t!("raw pack"),
            Self::Hot => t!("hot pack"),
            Self::Smoked => t!("lightly smoked"),
            Self::Precooked => t!("precooked"),
        }
    }
}

keys!(Pack { Raw = "raw", Hot = "hot", Smoked = "smoked", Precooked = "precooked" });

/// One altitude band of a table: up to and with `to_ft`, or above the last one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Band {
    pub(super) to_ft: Option<i32>,
    pub(super) psi: PsiGauge,
}

/// One row: a product in one style of pack and some jar sizes.
#[derive(Debug, PartialEq, Eq)]
pub struct Process {
    pub(super) id: &'static str,
    pub(super) product: &'static str,
    pub(super) pack: Pack,
    pub(super) jars: &'static [Jar],
    pub(super) minutes: Minutes,
    pub(super) dial: &'static [Band],
    pub(super) weighted: &'static [Band],
    pub(super) headspace: Inches,
    pub(super) vent: Minutes,
    pub(super) heat_before_vent: Minutes,
    pub(super) heat_plus_vent: Minutes,
    pub(super) canner_quarts: Option<(u8, u8)>,
    pub(super) water: Word,
    pub(super) notes: &'static [&'static Note],
    pub(super) publication: Word,
}

/// When a note of preparation matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PrepStep {
    /// Before it is prepared: the catch, the cold, the choice.
    Keep,
    /// While it is prepared.
    Prepare,
    /// While the jars are filled.
    Fill,
    /// When a jar is opened.
    Open,
}

/// One thing to know or do before or after the canner.
#[derive(Debug, PartialEq, Eq)]
pub struct Note {
    pub(super) at: PrepStep,
    pub(super) text: Word,
    pub(super) publication: Option<Word>,
}

impl Note {
    /// The step it belongs to.
    #[must_use]
    pub const fn at(&self) -> PrepStep {
        self.at
    }

    /// What to know or do.
    #[must_use]
    pub fn text(&self) -> &'static str {
        self.text.say()
    }

    /// Where it is published, if not where the row is.
    #[must_use]
    pub fn publication(&self) -> Option<&'static str> {
        Some(self.publication?.say())
    }
}

/// Altitude above which no table gives a pressure, ft.
pub(super) const TABLES_END_FT: i32 = 8_000;

impl Process {
    /// The row's key in records.
    #[must_use]
    pub const fn id(&self) -> &'static str {
        self.id
    }

    /// Key of the food.
    #[must_use]
    pub const fn product(&self) -> &'static str {
        self.product
    }

    /// Style of pack.
    #[must_use]
    pub const fn pack(&self) -> Pack {
        self.pack
    }

    /// Jar sizes the row answers for.
    #[must_use]
    pub const fn jars(&self) -> &'static [Jar] {
        self.jars
    }

    /// The full time at pressure, minutes.
    #[must_use]
    pub const fn minutes(&self) -> Minutes {
        self.minutes
    }

    /// Headspace.
    #[must_use]
    pub const fn headspace(&self) -> Inches {
        self.headspace
    }

    /// Steady steam before the vent is closed, minutes.
    #[must_use]
    pub const fn vent(&self) -> Minutes {
        self.vent
    }

    /// Least heating before venting, minutes; 0 where none is given.
    #[must_use]
    pub const fn heat_before_vent(&self) -> Minutes {
        self.heat_before_vent
    }

    /// Least heating and venting together, minutes; 0 where none is given.
    #[must_use]
    pub const fn heat_plus_vent(&self) -> Minutes {
        self.heat_plus_vent
    }

    /// Canner sizes named by the process, quarts, if it names any.
    #[must_use]
    pub const fn canner_quarts(&self) -> Option<(u8, u8)> {
        self.canner_quarts
    }

    /// Water in the canner at the start.
    #[must_use]
    pub fn water(&self) -> &'static str {
        self.water.say()
    }

    /// What to know and do at each step of the work, in order.
    #[must_use]
    pub const fn notes(&self) -> &'static [&'static Note] {
        self.notes
    }

    /// The notes of one step.
    pub fn notes_at(&self, at: PrepStep) -> impl Iterator<Item = &'static Note> + use<> {
        self.notes.iter().copied().filter(move |note| note.at == at)
    }

    /// Where the row is published.
    #[must_use]
    pub fn publication(&self) -> &'static str {
        self.publication.say()
    }

    /// The pressure of the lowest band: no run of this process asks for less.
    #[must_use]
    pub fn lowest_pressure(&self, gauge: Gauge) -> PsiGauge {
        self.bands(gauge).first().map_or(PsiGauge::whole(15), |band| band.psi)
    }

    /// The pressures printed for a gauge, lowest band first, each with the highest
    /// place it answers for.
    pub fn pressures(&self, gauge: Gauge) -> impl Iterator<Item = (PsiGauge, Altitude)> {
        self.bands(gauge).iter().filter_map(|band| {
            let top = Altitude::from_feet(band.to_ft.unwrap_or(TABLES_END_FT)).ok()?;
            Some((band.psi, top))
        })
    }

    /// The pressure printed for an altitude; `None` above the tables' end.
    #[must_use]
    pub fn pressure_at(&self, gauge: Gauge, altitude: Altitude) -> Option<PsiGauge> {
        self.band(gauge, altitude).map(|(psi, ..)| psi)
    }

    fn bands(&self, gauge: Gauge) -> &'static [Band] {
        match gauge {
            Gauge::Dial => self.dial,
            Gauge::Weighted => self.weighted,
        }
    }

    /// The pressure printed for an altitude, with the band's ends in feet;
    /// `None` above the tables' end.
    pub(super) fn band(
        &self,
        gauge: Gauge,
        altitude: Altitude,
    ) -> Option<(PsiGauge, i32, Option<i32>)> {
        if altitude.feet() > TABLES_END_FT {
            return None;
        }
        let mut from = 0;
        for band in self.bands(gauge) {
            match band.to_ft {
                Some(to) if altitude.feet() > to => from = to,
                to => return Some((band.psi, from, to)),
            }
        }
        None
    }
}

/// What kind of reason a refusal has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RefusalKind {
    /// The food has no process at all.
    Food,
    /// The vessel is no pressure canner of the size the times assume.
    Vessel,
    /// The altitude is beyond the tables.
    Altitude,
    /// No process for this style of pack.
    Pack,
    /// No process for this jar.
    Jar,
    /// The canner is smaller than this process needs.
    Capacity,
}

/// Why there is no tested answer, and what to do instead.
#[derive(Debug, PartialEq, Eq)]
pub struct Refusal {
    pub(super) id: &'static str,
    pub(super) kind: RefusalKind,
    pub(super) reason: Word,
    pub(super) instead: Word,
    pub(super) publication: Word,
}

impl Refusal {
    /// The refusal's key.
    #[must_use]
    pub const fn id(&self) -> &'static str {
        self.id
    }

    /// What kind of reason it is.
    #[must_use]
    pub const fn kind(&self) -> RefusalKind {
        self.kind
    }

    /// The reason, in a sentence or two.
    #[must_use]
    pub fn reason(&self) -> &'static str {
        self.reason.say()
    }

    /// What can be done instead.
    #[must_use]
    pub fn instead(&self) -> &'static str {
        self.instead.say()
    }

    /// Where it is published.
    #[must_use]
    pub fn publication(&self) -> &'static str {
        self.publication.say()
    }
}

/// A general rule of the trade with its publication.
#[derive(Debug, PartialEq, Eq)]
pub struct Rule {
    pub(super) id: &'static str,
    pub(super) text: Word,
    pub(super) publication: Word,
}

impl Rule {
    /// The rule, in a sentence or two.
    #[must_use]
    pub fn text(&self) -> &'static str {
        self.text.say()
    }

    /// Where it is published.
    #[must_use]
    pub fn publication(&self) -> &'static str {
        self.publication.say()
    }
}

include!(concat!(env!("OUT_DIR"), "/tables.rs"));

/// Every row of the tables.
#[must_use]
pub fn processes() -> &'static [Process] {
    PROCESSES
}

/// Every refusal.
#[must_use]
pub fn refusals() -> &'static [Refusal] {
    REFUSALS
}

/// The row with a key.
#[must_use]
pub fn by_id(id: &str) -> Option<&'static Process> {
    PROCESSES.iter().find(|process| process.id == id)
}

/// The rule with a key, of those that are needed until the jars stand on the shelf.
#[must_use]
pub fn rule(id: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.id == id)
}

/// The rule with a key, of all of them.
#[must_use]
pub fn any_rule(id: &str) -> Option<&'static Rule> {
    rule(id).or_else(|| LATER_RULES.iter().find(|rule| rule.id == id))
}

pub(super) fn refusal(id: &str) -> &'static Refusal {
    REFUSALS.iter().find(|refusal| refusal.id == id).unwrap_or(&LAST_RESORT)
}

pub(super) fn all_foods() -> &'static [Food] {
    FOODS
}

/// Only met if a refusal's key were misspelt; still a refusal.
static LAST_RESORT: Refusal = Refusal {
    id: "no-process",
    kind: RefusalKind::Food,
    reason: w!("No tested process is on file for this."),
    instead: w!("Freeze the food, or ask your extension office."),
    publication: w!("USDA Complete Guide to Home Canning, 2015"),
};
