//! Events of the shelf to JSON and back.
//!
//! Invariant: as for all bodies, what is missing or out of range makes the whole
//! body unread, never guessed.

use super::codec::{id, id_of, text, text_of};
use super::shelf_event::{Cause, Doubted, JarNumbers, ShelfEvent, Verdict};
use crate::json::Json;

pub(super) fn to_json(event: &ShelfEvent) -> Json {
    match event {
        ShelfEvent::LidsUsed { load, lot } => {
            Json::tagged("lids_used", Json::object([("load", id(*load)), ("lot", text(lot))]))
        }
        ShelfEvent::JarsMoved { load, jars, place } => Json::tagged(
            "jars_moved",
            Json::object([("load", id(*load)), ("jars", numbers(jars)), ("place", text(place))]),
        ),
        ShelfEvent::Doubted(doubted) => Json::tagged(
            "doubted",
            Json::object([
                ("doubt", id(doubted.doubt)),
                ("cause", Json::text(doubted.cause.key())),
                ("say", text(&doubted.say)),
                ("load", id(doubted.load)),
                ("jars", numbers(&doubted.jars)),
                ("verdict", Json::text(doubted.verdict.key())),
            ]),
        ),
        ShelfEvent::DoubtLifted { doubt, reason } => Json::tagged(
            "doubt_lifted",
            Json::object([("doubt", id(*doubt)), ("reason", text(reason))]),
        ),
    }
}

pub(super) fn from_json(kind: &str, json: &Json) -> Option<ShelfEvent> {
    let load = || id_of(json, "load");
    Some(match kind {
        "lids_used" => ShelfEvent::LidsUsed { load: load()?, lot: text_of(json, "lot")? },
        "jars_moved" => ShelfEvent::JarsMoved {
            load: load()?,
            jars: numbers_of(json)?,
            place: text_of(json, "place")?,
        },
        "doubted" => ShelfEvent::Doubted(Doubted {
            doubt: id_of(json, "doubt")?,
            cause: Cause::from_key(json.str_of("cause")?)?,
            say: text_of(json, "say")?,
            load: load()?,
            jars: numbers_of(json)?,
            verdict: Verdict::from_key(json.str_of("verdict")?)?,
        }),
        "doubt_lifted" => ShelfEvent::DoubtLifted {
            doubt: id_of(json, "doubt")?,
            reason: text_of(json, "reason")?,
        },
        _ => return None,
    })
}

fn numbers(jars: &JarNumbers) -> Json {
    Json::List(jars.as_slice().iter().map(|jar| Json::whole(i64::from(*jar))).collect())
}

fn numbers_of(json: &Json) -> Option<JarNumbers> {
    let Json::List(list) = json.get("jars")? else { return None };
    let mut jars = Vec::with_capacity(list.len().min(64));
    for number in list {
        jars.push(u16::try_from(number.as_whole()?).ok()?);
    }
    JarNumbers::new(jars)
}
