//! What is said of a raw lot, to JSON and back.
//!
//! Invariant: as for all bodies: written and read again it is the same; anything
//! misshapen makes the whole of it unread.

use super::codec::{text, text_of};
use crate::brine::{Salt, Water};
use crate::json::Json;
use crate::lot::{Kept, LotEnd, LotMove, LotSaid, LotStart, LotStep};
use crate::units::EpochMs;

pub(super) fn to_json(said: &LotSaid) -> Json {
    match said {
        LotSaid::Started(start) => Json::tagged(
            "lot_started",
            Json::object([
                ("name", text(&start.name)),
                ("food", Json::text(&start.food)),
                ("grams", Json::whole(i64::from(start.grams))),
                ("first", move_to_json(start.first)),
                ("demo", Json::Bool(start.demo)),
            ]),
        ),
        LotSaid::Moved(to) => Json::tagged("lot_moved", move_to_json(*to)),
        LotSaid::Brined { salt, water } => Json::tagged(
            "lot_brined",
            Json::object([
                ("salt_mg", Json::whole(salt.in_milligrams())),
                ("water_ml", Json::whole(water.in_millilitres())),
            ]),
        ),
        LotSaid::Ended(end) => {
            Json::tagged("lot_ended", Json::tagged("how", Json::text(end.key())))
        }
    }
}

pub(super) fn from_json(kind: &str, json: &Json) -> Option<LotSaid> {
    Some(match kind {
        "lot_started" => LotSaid::Started(LotStart {
            name: text_of(json, "name")?,
            food: json.str_of("food")?.to_owned(),
            grams: json.whole_of("grams")?,
            first: move_from_json(json.get("first")?)?,
            demo: json.flag_of("demo"),
        }),
        "lot_moved" => LotSaid::Moved(move_from_json(json)?),
        "lot_brined" => LotSaid::Brined {
            salt: Salt::milligrams(json.whole_of("salt_mg")?).ok()?,
            water: Water::millilitres(json.whole_of("water_ml")?).ok()?,
        },
        "lot_ended" => LotSaid::Ended(LotEnd::from_key(json.str_of("how")?)?),
        _ => return None,
    })
}

fn move_to_json(to: LotMove) -> Json {
    Json::object([
        ("step", Json::text(to.step.key())),
        ("kept", Json::text(to.kept.key())),
        ("since", Json::whole(to.since.0)),
    ])
}

fn move_from_json(json: &Json) -> Option<LotMove> {
    let since = json.whole_of("since")?;
    if !(0..=super::event::MAX_AT).contains(&since) {
        return None;
    }
    Some(LotMove {
        step: LotStep::from_key(json.str_of("step")?)?,
        kept: Kept::from_key(json.str_of("kept")?)?,
        since: EpochMs(since),
    })
}
