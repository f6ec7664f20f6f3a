//! What the page remembers beside the record: last choices, units, the clock copy.
//!
//! Invariant: nothing here is needed to keep a run right; losing all of it costs
//! only taps.

use super::device::{local, prefs};
use hearthjar::batch::Id;
use hearthjar::json::Json;
use hearthjar::present::Clockface;
use hearthjar::process::{Gauge, Jar, Pack};
use hearthjar::units::{Altitude, EpochMs};

/// Choices and habits.
#[derive(Clone, Debug, PartialEq)]
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
    /// Last canner of the household.
    pub canner: Option<Id>,
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
    /// Minutes from one look at the gauge to the reminder of the next; 0 for none.
    pub look_every: u16,
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
            canner: None,
            altitude: None,
            jars: 7,
            content: String::new(),
            shelf_place: String::new(),
            sound: true,
            look_every: 0,
        }
    }
}

fn american() -> bool {
    local::language() == "en-US"
}

impl Prefs {
    /// Reads them; what is missing or garbled takes its default.
    pub fn load() -> Self {
        Self::stored().unwrap_or_default()
    }

    /// Reads them; `None` if nothing was ever saved or storage denies it.
    pub fn stored() -> Option<Self> {
        let mut kept = Self::default();
        let json = prefs::get("prefs")?;
        let flag = |name, or| json.get(name).and_then(Json::as_bool).unwrap_or(or);
        let text = |name, or: &str| json.str_of(name).unwrap_or(or).to_owned();
        kept.metric = flag("metric", kept.metric);
        kept.hours_24 = flag("hours_24", kept.hours_24);
        kept.safety_read = flag("safety_read", kept.safety_read);
        kept.sound = flag("sound", kept.sound);
        kept.product = text("product", &kept.product);
        kept.content = text("content", "");
        kept.shelf_place = text("shelf_place", "");
        kept.pack = json.str_of("pack").and_then(Pack::from_key).unwrap_or(kept.pack);
        kept.jar = json.str_of("jar").and_then(Jar::from_key).unwrap_or(kept.jar);
        kept.gauge = json.str_of("gauge").and_then(Gauge::from_key).unwrap_or(kept.gauge);
        kept.quarts = json.whole_of("quarts").unwrap_or(kept.quarts);
        kept.jars = json.whole_of("jars").unwrap_or(kept.jars);
        kept.look_every = json.whole_of("look_every").unwrap_or(0);
        kept.canner = json.str_of("canner").and_then(|id| id.parse().ok());
        kept.altitude = json.whole_of("altitude").and_then(|ft| Altitude::from_feet(ft).ok());
        Some(kept)
    }

    /// Writes them, if storage lets us.
    pub fn save(&self) {
        let canner = self.canner.map_or(Json::Null, |id| Json::text(&id.to_string()));
        let altitude = self.altitude.map_or(Json::Null, |a| Json::whole(i64::from(a.feet())));
        prefs::set(
            "prefs",
            &Json::object([
                ("metric", Json::Bool(self.metric)),
                ("hours_24", Json::Bool(self.hours_24)),
                ("safety_read", Json::Bool(self.safety_read)),
                ("sound", Json::Bool(self.sound)),
                ("product", Json::text(&self.product)),
                ("content", Json::text(&self.content)),
                ("shelf_place", Json::text(&self.shelf_place)),
                ("pack", Json::text(self.pack.key())),
                ("jar", Json::text(self.jar.key())),
                ("gauge", Json::text(self.gauge.key())),
                ("quarts", Json::whole(i64::from(self.quarts))),
                ("jars", Json::whole(i64::from(self.jars))),
                ("look_every", Json::whole(i64::from(self.look_every))),
                ("canner", canner),
                ("altitude", altitude),
            ]),
        );
    }

    /// How hours are written.
    pub const fn face(&self) -> Clockface {
        if self.hours_24 { Clockface::TwentyFour } else { Clockface::Twelve }
    }
}

/// A copy of a running clock, so that a cold start shows it before the record
/// is read.
#[derive(Clone, Debug, PartialEq)]
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

impl ClockCopy {
    fn to_json(&self) -> Json {
        Json::object([
            ("batch", Json::text(&self.batch.to_string())),
            ("load", Json::text(&self.load.to_string())),
            ("title", Json::text(&self.title)),
            ("content", Json::text(&self.content)),
            ("since", Json::whole(self.since.0)),
            ("due", self.due.map_or(Json::Null, |due| Json::whole(due.0))),
        ])
    }

    fn from_json(json: &Json) -> Option<Self> {
        Some(Self {
            batch: json.str_of("batch")?.parse().ok()?,
            load: json.str_of("load")?.parse().ok()?,
            title: json.str_of("title")?.to_owned(),
            content: json.str_of("content")?.to_owned(),
            since: EpochMs(json.whole_of("since")?),
            due: json.whole_of("due").map(EpochMs),
        })
    }
}

/// The running clocks as last saved.
pub fn clocks() -> Vec<ClockCopy> {
    match prefs::get("clocks") {
        Some(Json::List(list)) => list.iter().filter_map(ClockCopy::from_json).collect(),
        _ => Vec::new(),
    }
}

/// Saves the running clocks.
pub fn save_clocks(copies: &[ClockCopy]) {
    prefs::set("clocks", &Json::List(copies.iter().map(ClockCopy::to_json).collect()));
}

/// When this page last saw the clock, for finding out what happened while it
/// was closed.
pub fn last_beat() -> Option<EpochMs> {
    prefs::get("beat")?.as_whole().map(EpochMs)
}

/// Notes that the clock was seen.
pub fn beat(now: EpochMs) {
    prefs::set("beat", &Json::whole(now.0));
}
