//! What the person has put into a plan, as typed.
//!
//! Invariant: a draft written and read again is the same draft; nothing typed is
//! lost because it cannot be understood yet.

use super::amount::Basis;
use super::ranged::Range;
use crate::batch::Id;
use crate::json::Json;
use crate::keys::keys;
use crate::process::{Jar, Pack};
use crate::t;
use crate::units::{Altitude, Mass};

/// How the amount of food is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Food {
    /// By weight.
    Weight,
    /// So many fish of a usual weight.
    Count,
    /// The other way round: so many jars are wanted.
    Jars,
}

keys!(Food { Weight = "weight", Count = "count", Jars = "jars" });

/// A line the person types.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// What is in the jars.
    Content,
    /// Weight of the food.
    Weight,
    /// How many fish.
    Count,
    /// The usual weight of one.
    Each,
    /// Of 100 parts weighed, how many are ready to pack.
    Kept,
    /// Ready food in one jar.
    PerJar,
    /// Height above sea level.
    Altitude,
    /// Hours to thaw.
    Thaw,
    /// Minutes in the brine.
    Brine,
    /// Minutes to drip and dry.
    Drip,
    /// Minutes in the smoke.
    Smoke,
    /// Minutes to pack and load one canner.
    Pack,
    /// Minutes to take the jars out.
    Unload,
    /// Minutes to ready the canner again.
    Between,
    /// Fuel an hour.
    Burn,
    /// What that is counted in.
    BurnUnit,
    /// The date the day ends or begins.
    Date,
    /// The time of day.
    Time,
}

keys!(Field {
    Content = "content",
    Weight = "weight",
    Count = "count",
    Each = "each",
    Kept = "kept",
    PerJar = "per_jar",
    Altitude = "altitude",
    Thaw = "thaw",
    Brine = "brine",
    Drip = "drip",
    Smoke = "smoke",
    Pack = "pack_minutes",
    Unload = "unload",
    Between = "between",
    Burn = "burn",
    BurnUnit = "burn_unit",
    Date = "date",
    Time = "time",
});

/// A plan in the making.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// Key of the food.
    pub food: String,
    /// Style of pack.
    pub pack: Pack,
    /// How the amount is given.
    pub by: Food,
    /// At what point the food is weighed.
    pub basis: Basis,
    /// Kilograms and metres.
    pub metric: bool,
    /// Jar sizes wanted, each with a number or nothing for the rest of the food.
    pub wants: Vec<(Jar, String)>,
    /// Canners of the household that are used.
    pub canners: Vec<Id>,
    /// How many of them can be heated at once.
    pub stoves: u16,
    /// The time given is when the last jar is out, not when to begin.
    pub ends: bool,
    /// What is ticked off, by key.
    pub ticks: Vec<String>,
    /// Batches begun from it.
    pub batches: Vec<Id>,
    texts: Vec<String>,
}

impl Draft {
    /// An empty plan for a food.
    #[must_use]
    pub fn new(food: &str, pack: Pack, jar: Jar, metric: bool) -> Self {
        Self {
            food: food.to_owned(),
            pack,
            by: Food::Weight,
            basis: Basis::Whole,
            metric,
            wants: vec![(jar, String::new())],
            canners: Vec::new(),
            stoves: 1,
            ends: true,
            ticks: Vec::new(),
            batches: Vec::new(),
            texts: Field::ALL.iter().map(|_| String::new()).collect(),
        }
    }

    /// What was typed into a line.
    #[must_use]
    pub fn text(&self, field: Field) -> &str {
        self.texts.get(field as usize).map_or("", String::as_str)
    }

    /// Types into a line.
    pub fn set(&mut self, field: Field, text: &str) {
        if let Some(old) = self.texts.get_mut(field as usize) {
            text.clone_into(old);
        }
    }

    /// Ticks a line of the list off, or takes the tick back.
    pub fn tick(&mut self, key: &str) {
        match self.ticks.iter().position(|one| one == key) {
            Some(place) => drop(self.ticks.remove(place)),
            None => self.ticks.push(key.to_owned()),
        }
    }

    /// Changes the units; what was typed in the old ones is turned into the new.
    /// What is no number stays as it is.
    pub fn measure(&mut self, metric: bool) {
        if metric == self.metric {
            return;
        }
        for field in [Field::Weight, Field::Each, Field::PerJar] {
            if let Ok(Some(range)) = masses(self.text(field), self.metric) {
                let number = |mass: Mass| mass.number(metric);
                let text = if range.is_single() {
                    number(range.least())
                } else {
                    t!("{} to {}", number(range.least()), number(range.most()))
                };
                self.set(field, &text);
            }
        }
        if let Ok(altitude) = Altitude::parse(self.text(Field::Altitude), self.metric) {
            let number = if metric { altitude.metres() } else { altitude.feet() };
            self.set(Field::Altitude, &number.to_string());
        }
        self.metric = metric;
    }

    /// The plan as JSON.
    #[must_use]
    pub fn to_json(&self) -> Json {
        let texts = Field::ALL
            .iter()
            .map(|field| Json::List(vec![Json::text(field.key()), Json::text(self.text(*field))]));
        let wants = self
            .wants
            .iter()
            .map(|(jar, number)| Json::List(vec![Json::text(jar.key()), Json::text(number)]));
        let ids =
            |ids: &[Id]| Json::List(ids.iter().map(|id| Json::text(&id.to_string())).collect());
        Json::object([
            ("food", Json::text(&self.food)),
            ("pack", Json::text(self.pack.key())),
            ("by", Json::text(self.by.key())),
            ("basis", Json::text(self.basis.key())),
            ("metric", Json::Bool(self.metric)),
            ("wants", Json::List(wants.collect())),
            ("canners", ids(&self.canners)),
            ("stoves", Json::whole(i64::from(self.stoves))),
            ("ends", Json::Bool(self.ends)),
            ("ticks", Json::List(self.ticks.iter().map(|key| Json::text(key)).collect())),
            ("batches", ids(&self.batches)),
            ("texts", Json::List(texts.collect())),
        ])
    }

    /// Reads a plan; what is missing or garbled is left empty. `None` if it is no
    /// plan at all.
    #[must_use]
    pub fn from_json(json: &Json) -> Option<Self> {
        let pack = json.str_of("pack").and_then(Pack::from_key)?;
        let mut draft = Self::new(json.str_of("food")?, pack, Jar::Pint, json.flag_of("metric"));
        draft.by = json.str_of("by").and_then(Food::from_key).unwrap_or(draft.by);
        draft.basis = json.str_of("basis").and_then(Basis::from_key).unwrap_or(draft.basis);
        draft.stoves = json.whole_of("stoves").unwrap_or(1);
        draft.ends = json.flag_of("ends");
        draft.wants = pairs(json, "wants")
            .filter_map(|(key, number)| Some((Jar::from_key(key)?, number.to_owned())))
            .collect();
        for (key, text) in pairs(json, "texts") {
            if let Some(field) = Field::from_key(key) {
                draft.set(field, text);
            }
        }
        let ids = |name| list(json, name).filter_map(|id| id.as_str()?.parse().ok()).collect();
        draft.canners = ids("canners");
        draft.batches = ids("batches");
        draft.ticks =
            list(json, "ticks").filter_map(|key| key.as_str().map(str::to_owned)).collect();
        Some(draft)
    }
}

fn list<'a>(json: &'a Json, name: &str) -> impl Iterator<Item = &'a Json> {
    match json.get(name) {
        Some(Json::List(list)) => list.iter(),
        _ => [].iter(),
    }
}

fn pairs<'a>(json: &'a Json, name: &str) -> impl Iterator<Item = (&'a str, &'a str)> {
    list(json, name).filter_map(|pair| match pair {
        Json::List(pair) => match pair.as_slice() {
            [Json::Text(key), Json::Text(text)] => Some((key.as_str(), text.as_str())),
            _ => None,
        },
        _ => None,
    })
}

/// A number or two with "to" (in Spanish "a") or a dash between them; `None` for an empty line.
fn ends(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    let two = text.split_once("to").or_else(|| text.split_once(['-', '\u{2013}', 'a']));
    Some(two.map_or((text, text), |(one, other)| (one.trim(), other.trim())))
}

/// Reads whole numbers up to `most`.
///
/// # Errors
/// `()` for what is no number or over `most`; the caller says what to type.
pub(super) fn wholes(text: &str, most: u32) -> Result<Option<Range<u32>>, ()> {
    let Some((one, other)) = ends(text) else { return Ok(None) };
    let whole = |text: &str| text.parse::<u32>().ok().filter(|number| *number <= most).ok_or(());
    Ok(Some(Range::new(whole(one)?, whole(other)?)))
}

/// Reads weights.
///
/// # Errors
/// A sentence that says what to type.
pub(super) fn masses(text: &str, metric: bool) -> Result<Option<Range<Mass>>, String> {
    let Some((one, other)) = ends(text) else { return Ok(None) };
    let mass = |text: &str| Mass::parse(text, metric).map_err(|error| error.to_string());
    Ok(Some(Range::new(mass(one)?, mass(other)?)))
}

/// The person's own times, minutes; `None` where none was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Hours {
    /// Thawing.
    pub thaw: Option<Range<u32>>,
    /// Brining.
    pub brine: Option<Range<u32>>,
    /// Dripping and drying.
    pub drip: Option<Range<u32>>,
    /// Smoking.
    pub smoke: Option<Range<u32>>,
    /// Packing and loading one canner.
    pub pack: Option<Range<u32>>,
    /// Taking the jars out.
    pub unload: Option<Range<u32>>,
    /// Readying the canner again.
    pub between: Option<Range<u32>>,
}

impl Hours {
    /// Reads the lines of a draft; the fields that cannot be read are listed.
    #[must_use]
    pub fn of(draft: &Draft) -> (Self, Vec<Field>) {
        let mut bad = Vec::new();
        // A week of thawing, a day of anything else.
        let mut read = |field, most: u32, unit: u32| match wholes(draft.text(field), most) {
            Ok(range) => range.map(|r| Range::new(r.least() * unit, r.most() * unit)),
            Err(()) => {
                bad.push(field);
                None
            }
        };
        let hours = Self {
            thaw: read(Field::Thaw, 168, 60),
            brine: read(Field::Brine, 1_440, 1),
            drip: read(Field::Drip, 1_440, 1),
            smoke: read(Field::Smoke, 1_440, 1),
            pack: read(Field::Pack, 1_440, 1),
            unload: read(Field::Unload, 1_440, 1),
            between: read(Field::Between, 1_440, 1),
        };
        (hours, bad)
    }
}
