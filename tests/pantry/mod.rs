//! Loads run from start to shelf in a few words, for tests of the shelf and of doubts.
//!
//! Invariant: every event is one the app could have written.
#![allow(dead_code, clippy::unwrap_used, clippy::indexing_slicing)] // each test uses its own part

use hearthjar::batch::{
    Archive, BatchStart, Body, Event, Id, LoadPlan, Seal, ShelfEvent, Taken, Text,
};
use hearthjar::process::{CannerQuarts, Gauge, Jar, Pack, Question, Vessel, find};
use hearthjar::run::Step;
use hearthjar::units::{Altitude, EpochMs, PsiGauge, Span};
use proptest::prelude::*;
use std::ops::Range;

/// Some instant in November 2025.
pub const DAY_ONE: EpochMs = EpochMs(1_764_000_000_000);

pub fn name(kind: u8, number: u32) -> Id {
    let mut bytes = [0; 16];
    bytes[0] = kind;
    bytes[12..].copy_from_slice(&number.to_be_bytes());
    Id::from_bytes(bytes)
}

pub fn text(words: &str) -> Text {
    Text::new(words).unwrap()
}

pub fn day(days: i64) -> EpochMs {
    DAY_ONE.plus(Span::hours(24 * days))
}

/// One load of fish in pints, a batch of its own.
#[derive(Clone, Debug)]
pub struct Put {
    pub number: u32,
    pub content: &'static str,
    pub gauge: Gauge,
    pub canner: &'static str,
    /// Whole psi held over the table's.
    pub added: u8,
    pub feet: i32,
    pub kitchen: &'static str,
    pub lids: &'static str,
    pub place: &'static str,
    /// Day on which the full time began.
    pub day: i64,
    /// What each jar's check found, and how it left, if it left.
    pub jars: Vec<(Seal, Option<Taken>)>,
    /// Whether the heat went off only after the full time.
    pub finished: bool,
}

impl Put {
    pub fn plain(number: u32, day: i64, jars: usize) -> Self {
        Self {
            number,
            content: "Trout",
            gauge: Gauge::Dial,
            canner: "",
            added: 0,
            feet: 0,
            kitchen: "",
            lids: "",
            place: "Cellar",
            day,
            jars: vec![(Seal::Sealed, None); jars],
            finished: true,
        }
    }

    pub fn batch(&self) -> Id {
        name(1, self.number)
    }

    pub fn load(&self) -> Id {
        name(2, self.number * 100 + 2)
    }

    pub fn jar_count(&self) -> u16 {
        u16::try_from(self.jars.len()).unwrap()
    }

    pub fn events(&self) -> Vec<Event> {
        let quarts = CannerQuarts::new(16).unwrap();
        let altitude = Altitude::from_feet(self.feet).unwrap();
        let vessel = Vessel::PressureCanner { gauge: self.gauge, quarts };
        let question = Question { food: "fish", pack: Pack::Raw, jar: Jar::Pint, vessel, altitude };
        let tested = find(&question).unwrap();
        let setting =
            PsiGauge::from_tenths(tested.pressure().tenths() + u16::from(self.added) * 10);
        let plan = LoadPlan::of(&tested, self.jar_count()).on(text(self.canner), setting.unwrap());
        assert_eq!(plan.added, self.added);
        let (batch, load) = (self.batch(), self.load());
        let mut events: Vec<Event> = Vec::new();
        let mut at = day(self.day).plus(Span::minutes(-40));
        let mut add = |minutes: i64, body: Body| {
            at = at.plus(Span::minutes(minutes));
            let seq = u32::try_from(events.len() + 1).unwrap();
            events.push(Event::new(name(2, self.number * 100 + seq), batch, seq, at, body));
        };
        add(
            0,
            Body::BatchStarted(BatchStart {
                content: text(self.content),
                product: "fish".to_owned(),
                pack: Pack::Raw,
                jar: Jar::Pint,
                altitude,
                place: text(self.kitchen),
                demo: false,
            }),
        );
        add(0, Body::LoadPlanned(plan));
        let lot = text(self.lids);
        add(1, Body::AtShelf(ShelfEvent::LidsUsed { load, lot }));
        let mut steps = vec![
            (5, Step::HeatOn),
            (20, Step::SteamSteady),
            (10, Step::VentClosed),
            (4, Step::AtPressure), // on the day itself
        ];
        if self.finished {
            steps.extend([
                (100, Step::HeatOff),
                (38, Step::WeightOff),
                (11, Step::LidOpened),
                (6, Step::Unloaded),
            ]);
        }
        for (minutes, step) in steps {
            add(minutes, Body::Ran { load, step });
        }
        if !self.finished {
            return events;
        }
        for (jar, (seal, _)) in (1..).zip(&self.jars) {
            let wait = if jar == 1 { 13 * 60 } else { 0 };
            add(wait, Body::SealChecked { load, jar, seal: *seal });
        }
        add(5, Body::Shelved { load, place: text(self.place) });
        for (jar, (seal, taken)) in (1..).zip(&self.jars) {
            if let (Seal::Sealed, Some(how)) = (seal, taken) {
                add(60, Body::JarTaken { load, jar, how: *how });
            }
        }
        events
    }
}

pub fn archive(puts: &[Put]) -> Archive {
    Archive::from_events(puts.iter().flat_map(Put::events))
}

/// Adds what a screen would add, as one tap.
pub fn act(archive: &mut Archive, at: EpochMs, next: &mut u32, entries: Vec<(Id, Vec<Body>)>) {
    for (batch, bodies) in entries {
        let bodies = bodies.into_iter().map(|body| {
            *next += 1;
            (name(9, *next), body)
        });
        let drafted = archive.draft(batch, at, bodies.collect::<Vec<_>>()).unwrap();
        archive.extend(drafted);
    }
}

/// Any loads, each a batch of its own: in whatever order, with jars that did not seal or are
/// gone, some of them never finished.
pub fn any_puts(
    contents: &'static [&'static str; 4],
    places: &'static [&'static str; 3],
    days: Range<i64>,
) -> impl Strategy<Value = Vec<Put>> {
    let jar = (0..3_usize, proptest::option::of(0..4_usize))
        .prop_map(|(seal, how)| (Seal::ALL[seal], how.map(|how| Taken::ALL[how])));
    let jars = proptest::collection::vec(jar, 1..6);
    let put = (0..4_usize, 0..3_usize, days, jars, any::<bool>()).prop_map(
        |(content, place, day, jars, finished)| Put {
            content: contents[content],
            place: places[place],
            jars,
            finished,
            ..Put::plain(0, day, 0)
        },
    );
    proptest::collection::vec(put, 0..12).prop_map(|mut puts| {
        for (number, put) in (1..).zip(&mut puts) {
            put.number = number;
        }
        puts
    })
}
