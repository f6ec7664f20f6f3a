//! What heat a finished run delivered: at the jar wall, and by estimate at the cold
//! point of a jar of fish.
//!
//! Invariant: there is no account of a run that did not have its full time, so no
//! number can be held up against a load that is not processed; and an account is
//! always a range.

use super::history::{Bound, Canner, steam_history};
use super::pack::{self, jar, start};
use super::plot::{Level, Scale, Tick, degrees, hundredths};
use crate::batch::{BatchStart, Load};
use crate::physics::lethality::Lethality;
use crate::physics::{Celsius, PhysicsError, Sample};
use crate::process::{Food, Group, by_id};
use crate::units::Span;

/// F0 from the least to the most the record allows, tenths of a minute at 250 °F.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Delivered {
    /// With everything unknown taken as its coolest.
    pub least: u32,
    /// As is likely.
    pub likely: u32,
    /// With everything unknown taken as its hottest.
    pub most: u32,
}

/// What can be said of the cold point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cold {
    /// An estimate.
    Estimated {
        /// By the make-up of fish, jar sizes, glass and readings.
        by_make_up: Delivered,
        /// The same for packs as slow and as fast as were ever measured.
        as_measured: Delivered,
    },
    /// Not fish: liquid moves in the jar, or its make-up is not on file.
    NotFish,
    /// No size of this jar is on file.
    NoSize,
}

/// The heat a run delivered, with a chart of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Account {
    /// At the outside of the jars.
    pub wall: Delivered,
    /// At the cold point.
    pub cold: Cold,
    /// The steam as is likely, as an SVG path.
    pub steam: String,
    /// The cold point as is likely; empty without an estimate.
    pub centre: String,
    /// Between the least and the most of the cold point, as a closed path.
    pub band: String,
    /// Lines across: °F at the left, °C at the right.
    pub levels: Vec<Level>,
    /// Minutes since the heat went on.
    pub ticks: Vec<Tick>,
    /// Every quarter of an hour: minutes, steam, and the cold point, in words.
    pub rows: Vec<[String; 3]>,
}

const BOUNDS: [Bound; 3] = [Bound::Least, Bound::Likely, Bound::Most];
/// Between two points of a curve, milliseconds: F0 then differs by under 1 per cent
/// from that of a curve twice as fine.
const STEP_MS: i64 = 120_000;
const ROW_MS: i64 = 900_000;

/// The account of a load; `None` without the full time, or before the pressure is
/// gone, or if the record holds a time no run can have.
#[must_use]
pub fn account(load: &Load, start: &BatchStart) -> Option<Account> {
    if !load.run.is_processed() {
        return None;
    }
    work_out(load, start).ok().flatten()
}

fn work_out(load: &Load, batch: &BatchStart) -> Result<Option<Account>, PhysicsError> {
    let required = load.run.plan().pressure;
    let canner = Canner { height: batch.altitude.into(), required, added: load.plan.added };
    let mut steams = Vec::with_capacity(BOUNDS.len());
    for bound in BOUNDS {
        match steam_history(&load.run, canner, start(bound)?, bound)? {
            Some(history) => steams.push(finer(&history)),
            None => return Ok(None),
        }
    }
    let [least, likely, most] = &steams[..] else { return Ok(None) };
    let wall = delivered([least, likely, most])?;
    let end = likely.last().map_or(Span::ZERO, |last| last.at);
    let scale = Scale { x: (0, end.0), y: (0, 13_000) };
    let mut account = Account {
        wall,
        cold: Cold::NotFish,
        steam: curve(scale, likely),
        centre: String::new(),
        band: String::new(),
        levels: temperature_levels(scale),
        ticks: scale.minutes(),
        rows: Vec::new(),
    };
    let is_fish = Food::by_key(&batch.product).is_some_and(|food| food.group() == Group::Fish);
    if !is_fish {
        account.rows = rows(likely, &[]);
        return Ok(Some(account));
    }
    if !pack::is_known(batch.jar) {
        account.cold = Cold::NoSize;
        account.rows = rows(likely, &[]);
        return Ok(Some(account));
    }
    let headspace =
        by_id(&load.plan.process).map_or(25, |process| process.headspace().millimetres());
    let centre = |bound: Bound, scatter: bool| -> Result<Vec<Sample>, PhysicsError> {
        let Some(jar) = jar(batch.jar, f64::from(headspace), bound, scatter)? else {
            return Ok(Vec::new());
        };
        let steam = bound.of([least, likely, most]);
        jar.centre(start(bound)?, steam)
    };
    let mut centres = Vec::with_capacity(BOUNDS.len());
    for bound in BOUNDS {
        centres.push(centre(bound, false)?);
    }
    let [cool, middling, hot] = &centres[..] else { return Ok(None) };
    let by_make_up = delivered([cool, middling, hot])?;
    let (slow, fast) = (centre(Bound::Least, true)?, centre(Bound::Most, true)?);
    account.cold =
        Cold::Estimated { by_make_up, as_measured: delivered([&slow, middling, &fast])? };
    account.centre = curve(scale, middling);
    account.band = closed(scale, cool, hot);
    account.rows = rows(likely, middling);
    Ok(Some(account))
}

fn delivered(histories: [&Vec<Sample>; 3]) -> Result<Delivered, PhysicsError> {
    let [least, likely, most] = histories.map(|history| tenths(history));
    Ok(Delivered { least: least?, likely: likely?, most: most? })
}

/// F0 in tenths of a minute.
pub(super) fn tenths(history: &[Sample]) -> Result<u32, PhysicsError> {
    Lethality::F0.total(history).map(|f0| (f0 * 10.0).round() as u32)
}

/// The same straight lines with more points on them.
pub(super) fn finer(history: &[Sample]) -> Vec<Sample> {
    let mut finer: Vec<Sample> = Vec::with_capacity(history.len() * 2);
    for next in history {
        if let Some(last) = finer.last().copied() {
            let gap = next.at.minus(last.at).0;
            let parts = gap / STEP_MS + 1;
            let from = last.temperature.degrees();
            let rise = next.temperature.degrees() - from;
            for part in 1..parts {
                let way = part as f64 / parts as f64;
                if let Ok(temperature) = Celsius::new(from + rise * way) {
                    finer.push(Sample { at: last.at.plus(Span(gap * part / parts)), temperature });
                }
            }
        }
        finer.push(*next);
    }
    finer
}

/// A history as an SVG path.
pub(super) fn curve(scale: Scale, history: &[Sample]) -> String {
    scale.path(history.iter().map(|sample| Some((sample.at.0, hundredths(sample.temperature)))))
}

/// What lies between two histories, as a closed SVG path.
pub(super) fn closed(scale: Scale, under: &[Sample], over: &[Sample]) -> String {
    let both = under.iter().chain(over.iter().rev());
    scale.path(both.map(|sample| Some((sample.at.0, hundredths(sample.temperature))))) + "Z"
}

/// Lines at round Fahrenheit temperatures.
pub(super) fn temperature_levels(scale: Scale) -> Vec<Level> {
    let mut levels = Vec::new();
    for fahrenheit in [50, 100, 150, 212, 240] {
        if let Ok(temperature) = Celsius::from_fahrenheit(f64::from(fahrenheit)) {
            levels.push(Level {
                y: scale.y(hundredths(temperature)),
                left: fahrenheit.to_string(),
                right: degrees(temperature, true),
            });
        }
    }
    levels
}

/// A history's temperature at a moment.
pub(super) fn at(history: &[Sample], moment: Span) -> Option<Celsius> {
    let next = history.iter().position(|sample| sample.at >= moment)?;
    let after = history.get(next)?;
    let Some(before) = next.checked_sub(1).and_then(|index| history.get(index)) else {
        return Some(after.temperature);
    };
    let gap = after.at.minus(before.at).0.max(1) as f64;
    let way = moment.minus(before.at).0 as f64 / gap;
    let (from, to) = (before.temperature.degrees(), after.temperature.degrees());
    Celsius::new(from + (to - from) * way).ok()
}

fn rows(steam: &[Sample], centre: &[Sample]) -> Vec<[String; 3]> {
    let end = steam.last().map_or(0, |last| last.at.0);
    let both = |degree: Option<Celsius>| degree.map_or_else(String::new, |t| t.to_string());
    let mut rows = Vec::new();
    let mut moment = 0;
    while moment <= end && rows.len() < 60 {
        let now = Span(moment);
        rows.push([(moment / 60_000).to_string(), both(at(steam, now)), both(at(centre, now))]);
        moment += ROW_MS;
    }
    rows
}
