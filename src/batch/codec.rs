//! Bodies of events to JSON and back.
//!
//! Invariant: a body written and read again is the same body; a member that is
//! missing, misshapen or out of range makes the whole body unread, never guessed.

use super::body::{BatchStart, Body, CannerKept, LoadPlan, PlaceKept, Seal, Settled, Taken, Text};
use super::codec_plan;
use super::id::Id;
use super::shelf_codec;
use crate::json::Json;
use crate::process::{Gauge, Jar, Pack};
use crate::run::{DropCause, Page, Step, StopCause};
use crate::units::{Altitude, Minutes, PsiGauge, Span};

pub(super) fn id(id: Id) -> Json {
    Json::Text(id.to_string())
}

pub(super) fn number(number: u16) -> Json {
    Json::whole(i64::from(number))
}

pub(super) fn text(text: &Text) -> Json {
    Json::text(text.as_str())
}

pub(super) fn id_of(json: &Json, name: &str) -> Option<Id> {
    json.str_of(name)?.parse().ok()
}

pub(super) fn text_of(json: &Json, name: &str) -> Option<Text> {
    Text::new(json.str_of(name)?).ok()
}

/// A text that may be left out.
fn text_or_none(json: &Json, name: &str) -> Option<Text> {
    if json.get(name).is_none() { Some(Text::default()) } else { text_of(json, name) }
}

fn minutes_of(json: &Json, name: &str) -> Option<Minutes> {
    json.whole_of(name).map(Minutes)
}

fn psi_of(json: &Json, name: &str) -> Option<PsiGauge> {
    PsiGauge::from_tenths(json.whole_of(name)?).ok()
}

fn altitude_of(json: &Json) -> Option<Altitude> {
    Altitude::from_feet(json.whole_of("altitude")?).ok()
}

/// Writes a body.
pub(super) fn body_to_json(body: &Body) -> Json {
    let jar_event = |name, load: Id, jar: u16, member: &str, key: &str| {
        let members = [("load", id(load)), ("jar", number(jar)), (member, Json::text(key))];
        Json::tagged(name, Json::object(members))
    };
    match body {
        Body::BatchStarted(start) => Json::tagged("batch_started", start_to_json(start)),
        Body::LoadPlanned(plan) => Json::tagged("load_planned", plan_to_json(plan)),
        Body::JarsCounted { load, jars } => Json::tagged(
            "jars_counted",
            Json::object([("load", id(*load)), ("jars", number(*jars))]),
        ),
        Body::Ran { load, step } => {
            let step = step_to_json(*step);
            Json::tagged("ran", Json::object([("load", id(*load)), ("step", step)]))
        }
        Body::SealChecked { load, jar, seal } => {
            jar_event("seal_checked", *load, *jar, "seal", seal.key())
        }
        Body::UnsealedSettled { load, jar, way } => {
            jar_event("unsealed_settled", *load, *jar, "way", way.key())
        }
        Body::JarTaken { load, jar, how } => jar_event("jar_taken", *load, *jar, "how", how.key()),
        Body::Shelved { load, place } => {
            let members = [("load", id(*load)), ("place", text(place))];
            Json::tagged("shelved", Json::object(members))
        }
        Body::Noted { load, text: note } => {
            let load = load.map_or(Json::Null, id);
            Json::tagged("noted", Json::object([("load", load), ("text", text(note))]))
        }
        Body::AtShelf(event) => shelf_codec::to_json(event),
        Body::Undone { event } => Json::tagged("undone", Json::tagged("event", id(*event))),
        Body::Lot(said) => super::lot_codec::to_json(said),
        Body::CannerKept(kept) => Json::tagged(
            "canner_kept",
            Json::object([
                ("canner", id(kept.canner)),
                ("name", text(&kept.name)),
                ("gauge", Json::text(kept.gauge.key())),
                ("quarts", number(u16::from(kept.quarts))),
                ("notes", text(&kept.notes)),
                ("gone", Json::Bool(kept.gone)),
            ]),
        ),
        Body::GaugeChecked { canner, reading, standard } => Json::tagged(
            "gauge_checked",
            Json::object([
                ("canner", id(*canner)),
                ("reading", number(reading.tenths())),
                ("standard", number(standard.tenths())),
            ]),
        ),
        Body::Weighed { what, mass } => codec_plan::weighed(*what, *mass),
        Body::CannerHolds { canner, holds } => codec_plan::holds(*canner, *holds),
        Body::PlaceKept(kept) => Json::tagged(
            "place_kept",
            Json::object([
                ("place", id(kept.place)),
                ("name", text(&kept.name)),
                ("altitude", Json::whole(i64::from(kept.altitude.feet()))),
                ("gone", Json::Bool(kept.gone)),
            ]),
        ),
    }
}

/// Reads a body; `None` for a kind or a shape this build does not know.
pub(super) fn body_from_json(json: &Json) -> Option<Body> {
    let (kind, json) = json.tag()?;
    let load = || id_of(json, "load");
    let jar = || json.whole_of("jar");
    Some(match kind {
        "batch_started" => Body::BatchStarted(start_from_json(json)?),
        "load_planned" => Body::LoadPlanned(plan_from_json(json)?),
        "jars_counted" => Body::JarsCounted { load: load()?, jars: json.whole_of("jars")? },
        "ran" => Body::Ran { load: load()?, step: step_from_json(json.get("step")?)? },
        "seal_checked" => {
            let seal = Seal::from_key(json.str_of("seal")?)?;
            Body::SealChecked { load: load()?, jar: jar()?, seal }
        }
        "unsealed_settled" => {
            let way = Settled::from_key(json.str_of("way")?)?;
            Body::UnsealedSettled { load: load()?, jar: jar()?, way }
        }
        "jar_taken" => {
            let how = Taken::from_key(json.str_of("how")?)?;
            Body::JarTaken { load: load()?, jar: jar()?, how }
        }
        "shelved" => Body::Shelved { load: load()?, place: text_of(json, "place")? },
        "noted" => {
            let load = match json.get("load") {
                None | Some(Json::Null) => None,
                Some(_) => Some(load()?),
            };
            Body::Noted { load, text: text_of(json, "text")? }
        }
        kind if kind.starts_with("lot_") => Body::Lot(super::lot_codec::from_json(kind, json)?),
        "undone" => Body::Undone { event: id_of(json, "event")? },
        "canner_kept" => Body::CannerKept(CannerKept {
            canner: id_of(json, "canner")?,
            name: text_of(json, "name")?,
            gauge: Gauge::from_key(json.str_of("gauge")?)?,
            quarts: json.whole_of("quarts")?,
            // Records from before notes were kept have none.
            notes: text_or_none(json, "notes")?,
            gone: json.flag_of("gone"),
        }),
        "gauge_checked" => Body::GaugeChecked {
            canner: id_of(json, "canner")?,
            reading: psi_of(json, "reading")?,
            standard: psi_of(json, "standard")?,
        },
        "weighed" => codec_plan::weighed_of(json)?,
        "canner_holds" => codec_plan::holds_of(json)?,
        "place_kept" => Body::PlaceKept(PlaceKept {
            place: id_of(json, "place")?,
            name: text_of(json, "name")?,
            altitude: altitude_of(json)?,
            gone: json.flag_of("gone"),
        }),
        other => Body::AtShelf(shelf_codec::from_json(other, json)?),
    })
}

fn start_to_json(start: &BatchStart) -> Json {
    Json::object([
        ("content", text(&start.content)),
        ("product", Json::text(&start.product)),
        ("pack", Json::text(start.pack.key())),
        ("jar", Json::text(start.jar.key())),
        ("altitude", Json::whole(i64::from(start.altitude.feet()))),
        ("place", text(&start.place)),
        ("demo", Json::Bool(start.demo)),
    ])
}

fn start_from_json(json: &Json) -> Option<BatchStart> {
    Some(BatchStart {
        content: text_of(json, "content")?,
        product: json.str_of("product")?.to_owned(),
        pack: Pack::from_key(json.str_of("pack")?)?,
        jar: Jar::from_key(json.str_of("jar")?)?,
        altitude: altitude_of(json)?,
        place: text_or_none(json, "place")?,
        demo: json.flag_of("demo"),
    })
}

fn plan_to_json(plan: &LoadPlan) -> Json {
    Json::object([
        ("process", Json::text(&plan.process)),
        ("minutes", number(plan.minutes.0)),
        ("pressure", number(plan.pressure.tenths())),
        ("gauge", Json::text(plan.gauge.key())),
        ("vent", number(plan.vent.0)),
        ("heat_before_vent", number(plan.heat_before_vent.0)),
        ("heat_plus_vent", number(plan.heat_plus_vent.0)),
        ("canner_quarts", number(u16::from(plan.canner_quarts))),
        ("canner", text(&plan.canner)),
        ("jars", number(plan.jars)),
        ("publication", Json::text(&plan.publication)),
        ("added", number(u16::from(plan.added))),
    ])
}

fn plan_from_json(json: &Json) -> Option<LoadPlan> {
    Some(LoadPlan {
        process: json.str_of("process")?.to_owned(),
        minutes: minutes_of(json, "minutes")?,
        pressure: psi_of(json, "pressure")?,
        gauge: Gauge::from_key(json.str_of("gauge")?)?,
        vent: minutes_of(json, "vent")?,
        heat_before_vent: minutes_of(json, "heat_before_vent")?,
        heat_plus_vent: minutes_of(json, "heat_plus_vent")?,
        canner_quarts: json.whole_of("canner_quarts")?,
        canner: text_or_none(json, "canner")?,
        jars: json.whole_of("jars")?,
        publication: json.str_of("publication")?.to_owned(),
        // Records from before gauges were checked have none.
        added: json.whole_of("added").unwrap_or(0),
    })
}

/// Steps without more to say, by key.
const PLAIN_STEPS: [(&str, Step); 12] = [
    ("heat_on", Step::HeatOn),
    ("steam_steady", Step::SteamSteady),
    ("steam_faltered", Step::SteamFaltered),
    ("vent_closed", Step::VentClosed),
    ("at_pressure", Step::AtPressure),
    ("weight_steady", Step::WeightSteady),
    ("heat_off", Step::HeatOff),
    ("weight_off", Step::WeightOff),
    ("lid_opened", Step::LidOpened),
    ("unloaded", Step::Unloaded),
    ("clock_right", Step::ClockRight),
    ("clock_wrong", Step::ClockWrong),
];

fn step_to_json(step: Step) -> Json {
    match step {
        Step::Reading(psi) => Json::tagged("reading", number(psi.tenths())),
        Step::Dropped(cause) => Json::tagged("dropped", Json::text(cause.key())),
        Step::Stopped(cause) => Json::tagged("stopped", Json::text(cause.key())),
        Step::ClockMoved { by, page } => Json::tagged(
            "clock_moved",
            Json::object([("by", Json::whole(by.0)), ("page", Json::text(page.key()))]),
        ),
        plain => PLAIN_STEPS
            .iter()
            .find(|(_, step)| *step == plain)
            .map_or(Json::Null, |(key, _)| Json::text(key)),
    }
}

fn step_from_json(json: &Json) -> Option<Step> {
    let (kind, value) = json.tag()?;
    Some(match kind {
        "reading" => {
            let tenths = u16::try_from(value.as_whole()?).ok()?;
            Step::Reading(PsiGauge::from_tenths(tenths).ok()?)
        }
        "dropped" => Step::Dropped(DropCause::from_key(value.as_str()?)?),
        "stopped" => Step::Stopped(StopCause::from_key(value.as_str()?)?),
        "clock_moved" => Step::ClockMoved {
            by: Span(value.whole_of("by")?),
            page: Page::from_key(value.str_of("page")?)?,
        },
        plain => PLAIN_STEPS.iter().find(|(key, _)| *key == plain).map(|(_, step)| *step)?,
    })
}
