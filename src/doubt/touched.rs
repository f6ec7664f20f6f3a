//! The jars a finding touches.
//!
//! Invariant: only loads whose full time was told have jars to doubt; a load that
//! the record neither clears nor names is listed as not sure, never left out.

use super::gauge::Against;
use crate::batch::{Archive, Batch, Id, Jar, JarState, Load, Settled, Taken, Text};
use crate::order;
use crate::process::by_id;
use crate::units::{Altitude, EpochMs};

/// What was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Suspect {
    /// A check, by its event, found a dial reading high.
    Gauge(Id),
    /// The place where `used` was taken for the altitude lies at `really`.
    Altitude {
        /// The altitude on record.
        used: Altitude,
        /// The place on record; `None` for every place with that altitude.
        place: Option<Text>,
        /// The true altitude.
        really: Altitude,
    },
    /// The pressure of a load fell and it was noticed too late.
    Dip(Id, Id),
    /// Lids of a lot fail.
    Lids(Text),
    /// Something about a whole batch.
    Batch(Id),
}

/// Where a jar in doubt is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Where {
    /// In the house.
    Here,
    /// In the house and held for a doubt.
    Held,
    /// Eaten.
    Eaten,
    /// Given away: whoever has it must be told.
    Given,
    /// Thrown out, broken or packed again.
    Gone,
}

/// A load with jars in doubt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LoadTouched {
    /// The batch.
    pub batch: Id,
    /// The load.
    pub load: Id,
    /// Number of the load in its batch, from 1.
    pub load_number: u16,
    /// What is in the jars.
    pub content: Text,
    /// When the full time ended.
    pub canned: EpochMs,
    /// Whether the record names it, or only cannot clear it.
    pub sure: bool,
    /// Every jar of it, by number.
    pub jars: Vec<(u16, Where)>,
}

/// What a finding touches, the oldest load first.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Touched {
    /// The loads.
    pub loads: Vec<LoadTouched>,
    /// Loads that cannot be told apart, as no lid lot is on record for them.
    pub unknown: usize,
}

impl Touched {
    /// How many jars are somewhere.
    #[must_use]
    pub fn count(&self, is: Where) -> usize {
        let jars = self.loads.iter().flat_map(|load| &load.jars);
        jars.filter(|(_, now)| *now == is).count()
    }
}

impl Where {
    /// Where a jar is.
    #[must_use]
    pub const fn of(jar: &Jar) -> Self {
        match jar.state {
            JarState::Taken(_, Taken::Eaten) => Self::Eaten,
            JarState::Taken(_, Taken::Given) => Self::Given,
            JarState::Broken(_) | JarState::Taken(..) => Self::Gone,
            JarState::Settled(_, Settled::Discarded | Settled::Reprocessed) => Self::Gone,
            _ if jar.held => Self::Held,
            _ => Self::Here,
        }
    }
}

/// Every jar a finding touches.
#[must_use]
pub fn touched(archive: &Archive, suspect: &Suspect) -> Touched {
    let against = match suspect {
        Suspect::Gauge(check) => Against::new(archive, *check),
        _ => None,
    };
    let mut touched = Touched::default();
    for batch in archive.batches() {
        for load in &batch.loads {
            let Some((began, canned)) = load.run.told_hold() else { continue };
            let sure = match suspect {
                Suspect::Gauge(_) => against.as_ref().and_then(|a| a.touches(load, began)),
                Suspect::Altitude { used, place, really } => {
                    at_altitude(batch, load, *used, place.as_ref(), *really)
                }
                Suspect::Dip(in_batch, one) => {
                    (batch.id == *in_batch && load.id == *one).then_some(true)
                }
                Suspect::Lids(lot) => {
                    touched.unknown += usize::from(load.lids.is_empty());
                    same_lot(&load.lids, lot).then_some(true)
                }
                Suspect::Batch(one) => (batch.id == *one).then_some(true),
            };
            if let Some(sure) = sure {
                touched.loads.push(LoadTouched {
                    batch: batch.id,
                    load: load.id,
                    load_number: load.number,
                    content: batch
                        .start
                        .as_ref()
                        .map_or_else(Text::default, |(_, start)| start.content.clone()),
                    canned,
                    sure,
                    jars: load.jars.iter().map(|jar| (jar.number, Where::of(jar))).collect(),
                });
            }
        }
    }
    touched.loads = order::by_key(touched.loads, |load| (load.canned.0, load.batch.number()));
    touched
}

fn at_altitude(
    batch: &Batch,
    load: &Load,
    used: Altitude,
    place: Option<&Text>,
    really: Altitude,
) -> Option<bool> {
    let (_, start) = batch.start.as_ref()?;
    let elsewhere = place.is_some_and(|place| !start.place.is_empty() && start.place != *place);
    if start.altitude != used || elsewhere {
        return None;
    }
    let plan = load.run.plan();
    let short = match by_id(&load.plan.process) {
        // What the dial reads high is asked for on top of the table's pressure.
        Some(process) => process
            .pressure_at(load.plan.gauge, really)
            .and_then(|table| table.plus_whole(load.plan.added))
            .is_none_or(|needed| needed > plan.pressure),
        None => really > used,
    };
    short.then(|| place.is_none_or(|place| start.place == *place))
}

/// Lots are the same whatever their capitals.
fn same_lot(one: &Text, other: &Text) -> bool {
    !one.is_empty() && one.as_str().to_lowercase() == other.as_str().to_lowercase()
}

/// Every lid lot on record, as first written.
#[must_use]
pub fn lid_lots(archive: &Archive) -> Vec<Text> {
    let mut lots: Vec<Text> = Vec::new();
    for load in archive.batches().flat_map(|batch| &batch.loads) {
        if !load.lids.is_empty() && !lots.iter().any(|lot| same_lot(lot, &load.lids)) {
            lots.push(load.lids.clone());
        }
    }
    lots
}

/// Every altitude batches were canned at, with the place on record.
#[must_use]
pub fn altitudes(archive: &Archive) -> Vec<(Altitude, Text)> {
    let mut altitudes: Vec<(Altitude, Text)> = Vec::new();
    for (_, start) in archive.batches().filter_map(|batch| batch.start.as_ref()) {
        let known = |(at, place): &(Altitude, Text)| *at == start.altitude && *place == start.place;
        if !altitudes.iter().any(known) {
            altitudes.push((start.altitude, start.place.clone()));
        }
    }
    order::by_key(altitudes, |(altitude, _)| (i64::from(altitude.feet()), 0))
}
