//! A batch taken through a whole run, for tests of what comes after.

use super::plan;
use hearthjar::batch::{Archive, BatchStart, Body, Event, Id, Seal};
use hearthjar::present::LocalTime;
use hearthjar::run::Step;
use hearthjar::units::{EpochMs, Span};

/// 2025-11-24 16:00:00 UTC (chrono, a reference library, works it out).
pub const BEGUN: EpochMs = EpochMs(1_764_000_000_000);

/// UTC as the local zone.
pub fn utc(at: EpochMs) -> LocalTime {
    use chrono::{Datelike, Timelike};
    let at = chrono::DateTime::from_timestamp_millis(at.0).unwrap();
    LocalTime {
        year: u16::try_from(at.year()).unwrap(),
        month: u8::try_from(at.month()).unwrap(),
        day: u8::try_from(at.day()).unwrap(),
        weekday: 0,
        hour: u8::try_from(at.hour()).unwrap(),
        minute: u8::try_from(at.minute()).unwrap(),
    }
}

/// A name of 16 unalike bytes, as phones make them, that may be had again.
pub fn random_id(seed: u64) -> Id {
    let mut state = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
    Id::from_bytes(std::array::from_fn(|_| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        state.to_be_bytes()[3]
    }))
}

/// A processed load of so many pints, each checked as said; returns the load's name.
pub fn processed(batch: Id, start: BatchStart, jars: u16, seals: &[Seal]) -> (Archive, Id) {
    let mut archive = Archive::new();
    let mut at = BEGUN;
    let mut next = 1;
    let mut act = |archive: &mut Archive, minutes, body| -> Id {
        at = at.plus(Span::minutes(minutes)).plus(Span(next * 317 % 1000));
        let name = random_id(next.unsigned_abs() ^ (batch.number() as u64));
        next += 1;
        let events: Vec<Event> = archive.draft(batch, at, [(name, body)]).unwrap();
        archive.extend(events);
        name
    };
    act(&mut archive, 0, Body::BatchStarted(start));
    let load = act(&mut archive, 0, Body::LoadPlanned(plan(jars)));
    for (minutes, step) in [
        (5, Step::HeatOn),
        (15, Step::SteamSteady),
        (11, Step::VentClosed),
        (4, Step::AtPressure),
        (101, Step::HeatOff),
        (40, Step::WeightOff),
        (11, Step::LidOpened),
        (2, Step::Unloaded),
    ] {
        act(&mut archive, minutes, Body::Ran { load, step });
    }
    for (jar, seal) in (1..).zip(seals) {
        let minutes = if jar == 1 { 730 } else { 0 };
        act(&mut archive, minutes, Body::SealChecked { load, jar, seal: *seal });
    }
    (archive, load)
}
