//! What planning adds to the record, to JSON and back: weights, and what a canner
//! holds.
//!
//! Invariant: as in `codec`: nothing is guessed.

use super::body::Body;
use super::codec::{id, id_of};
use super::id::Id;
use crate::json::Json;
use crate::plan::{Holds, Weighed};
use crate::process::Jar;
use crate::units::Mass;

pub(super) fn weighed(what: Weighed, mass: Mass) -> Json {
    let members =
        [("what", Json::text(what.key())), ("grams", Json::whole(i64::from(mass.grams())))];
    Json::tagged("weighed", Json::object(members))
}

pub(super) fn weighed_of(json: &Json) -> Option<Body> {
    let what = Weighed::from_key(json.str_of("what")?)?;
    let mass = Mass::from_grams(json.whole_of("grams")?).ok()?;
    Some(Body::Weighed { what, mass })
}

pub(super) fn holds(canner: Id, holds: Holds) -> Json {
    let members = [
        ("canner", id(canner)),
        ("jar", Json::text(holds.jar().key())),
        ("jars", Json::whole(i64::from(holds.jars()))),
        ("layers", Json::whole(i64::from(holds.layers()))),
    ];
    Json::tagged("canner_holds", Json::object(members))
}

pub(super) fn holds_of(json: &Json) -> Option<Body> {
    let canner = id_of(json, "canner")?;
    let jar = Jar::from_key(json.str_of("jar")?)?;
    let holds = Holds::new(jar, json.whole_of("jars")?, json.whole_of("layers")?).ok()?;
    Some(Body::CannerHolds { canner, holds })
}
