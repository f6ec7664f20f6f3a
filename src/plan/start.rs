//! A plan turned into batches, their loads ready to be run.
//!
//! Invariant: a batch holds one jar size, as its record does; each load carries the
//! finder's numbers and the setting its dial was given.

use super::draft::{Draft, Field};
use super::sheet::Sheet;
use crate::batch::{BatchStart, Body, LoadPlan, Text};
use crate::process::{Food, Jar};
use crate::t;
use crate::units::Altitude;

/// One batch to begin: its jar size, and what to record, the start first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Begin {
    /// The jars' size.
    pub jar: Jar,
    /// What to record.
    pub bodies: Vec<Body>,
}

/// The batches a plan begins: one for each jar size that has loads.
///
/// # Errors
/// A sentence for a plan that is barred and for a name that is too long.
pub fn begin(draft: &Draft, sheet: &Sheet) -> Result<Vec<Begin>, String> {
    if sheet.barred {
        return Err(t!("This plan breaks a published limit. Change it as it says.").to_owned());
    }
    let Ok(altitude) = Altitude::parse(draft.text(Field::Altitude), draft.metric) else {
        return Ok(Vec::new());
    };
    let typed = draft.text(Field::Content).trim();
    let mut begun: Vec<Begin> = Vec::new();
    for load in &sheet.loads {
        let (process, jar) = (load.tested.process(), load.tested.jar());
        let fallback = Food::by_key(process.product()).map_or(t!("Food"), Food::short);
        let name = if typed.is_empty() { fallback } else { typed };
        let canner = sheet.lanes.get(load.lane).map(|lane| lane.name.clone());
        let plan = LoadPlan::of(&load.tested, load.jars);
        let planned = Body::LoadPlanned(plan.on(canner.unwrap_or_default(), load.setting));
        if let Some(begin) = begun.iter_mut().find(|begin| begin.jar == jar) {
            begin.bodies.push(planned);
            continue;
        }
        let start = BatchStart {
            content: Text::new(name).map_err(|error| error.to_string())?,
            product: process.product().to_owned(),
            pack: process.pack(),
            jar,
            altitude,
            place: Text::default(),
            demo: false,
        };
        begun.push(Begin { jar, bodies: vec![Body::BatchStarted(start), planned] });
    }
    Ok(begun)
}
