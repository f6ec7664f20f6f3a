//! What the page remembers beside the record: last choices, units, the clock copy.
//!
//! Invariant: nothing here is needed to keep a run right; losing all of it costs
//! only taps.

use super::device::{local, prefs};
use hearthjar::batch::Id;
use hearthjar::present::Clockface;
use hearthjar::process::{Gauge, Jar, Pack};
use hearthjar::units::{Altitude, EpochMs};
use serde::{Deserialize, Serialize};

/// Choices and habits.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Prefs {
    /// Metres and kilopascals first.
    pub metric: bool,
    /// 24-hour clock.
    pub hours_24: bool,
    /// The safety page was read.
    pub safety_read: bool,
    /// Last product key.
    pub product: String,
    /// Last pack.
    pub pack: Pack,
    /// Last jar.
    pub jar: Jar,
    /// Last gauge.
    pub gauge: Gauge,
    /// Last canner size, quarts.
    pub quarts: u8,
    /// Last altitude; `None` until one was given.
    pub altitude: Option<Altitude>,
    /// Last number of jars in a load.
    pub jars: u16,
    /// Last words for what is in the jars.
    pub content: String,
    /// Last shelf place.
    pub shelf_place: String,
    /// Sound at the end of a time.
    pub sound: bool,
}

impl Default for Prefs {
    fn default() -> Self {
        Self {
            // Feet and a 12-hour clock where people are used to them.
            metric: !american(),
            hours_24: !american(),
            safety_read: false,
            product: "fish".to_owned(),
            pack: Pack::Raw,
            jar: Jar::Pint,
            gauge: Gauge::Weighted,
            quarts: 16,
            altitude: None,
            jars: 7,
            content: String::new(),
            shelf_place: String::new(),
            sound: true,
        }
    }
}

fn american() -> bool {
    local::language() == "en-US"
}

impl Prefs {
    /// Reads them; what is missing or garbled takes its default.
    pub fn load() -> Self {
        prefs::get("prefs").unwrap_or_default()
    }

    /// Writes them, if storage lets us.
    pub fn save(&self) {
        prefs::set("prefs", self);
    }

    /// How hours are written.
    pub const fn face(&self) -> Clockface {
        if self.hours_24 { Clockface::TwentyFour } else { Clockface::Twelve }
    }
}

/// A copy of a running clock, so that a cold start shows it before the record
/// is read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClockCopy {
    /// The batch.
    pub batch: Id,
    /// The load.
    pub load: Id,
    /// What the stage is called.
    pub title: String,
    /// What is in the jars.
    pub content: String,
    /// When the stage began.
    pub since: EpochMs,
    /// When its time is over, if it has one.
    pub due: Option<EpochMs>,
}

/// The running clocks as last saved.
pub fn clocks() -> Vec<ClockCopy> {
    prefs::get("clocks").unwrap_or_default()
}

/// Saves the running clocks.
pub fn save_clocks(copies: &[ClockCopy]) {
    prefs::set("clocks", copies);
}

/// When this page last saw the clock, for finding out what happened while it
/// was closed.
pub fn last_beat() -> Option<EpochMs> {
    prefs::get("beat")
}

/// Notes that the clock was seen.
pub fn beat(now: EpochMs) {
    prefs::set("beat", &now);
}
