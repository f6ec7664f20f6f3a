//! Strategies that several tests share.
//!
//! Invariant: every generated event is one the app could have written, or one a
//! newer app could.
#![allow(dead_code, clippy::unwrap_used, clippy::indexing_slicing)] // each test uses its own part

pub mod finished;
pub mod runs;

use hearthjar::batch::{
    BatchStart, Body, CannerKept, Cause, Doubted, Event, Id, JarNumbers, LoadPlan, Seal, Settled,
    ShelfEvent, Taken, Text, Verdict,
};
use hearthjar::brine::{Salt, Water};
use hearthjar::lot::{Kept, LotEnd, LotMove, LotSaid, LotStart, LotStep};
use hearthjar::plan::{Holds, Weighed};
use hearthjar::process::{CannerQuarts, Gauge, Jar, Pack, Question, Vessel, find};
use hearthjar::run::{DropCause, Page, Step, StopCause};
use hearthjar::units::{Altitude, EpochMs, Mass, PsiGauge, Span};
use proptest::prelude::*;

/// A small pool of names, so that events meet each other.
pub fn id(number: u8) -> Id {
    let mut bytes = [0; 16];
    bytes[15] = number;
    bytes[0] = 7;
    Id::from_bytes(bytes)
}

/// Plain pints of fish at sea level: 100 min at 10 psi (USDA Complete Guide to Home
/// Canning, Guide 5, pp. 5-10 and 5-11, 2015).
pub fn plan(jars: u16) -> LoadPlan {
    let quarts = CannerQuarts::new(16).unwrap();
    let vessel = Vessel::PressureCanner { gauge: Gauge::Weighted, quarts };
    let altitude = Altitude::SEA_LEVEL;
    let (pack, jar) = (Pack::Raw, Jar::Pint);
    LoadPlan::of(&find(&Question { food: "fish", pack, jar, vessel, altitude }).unwrap(), jars)
}

pub fn start() -> BatchStart {
    BatchStart {
        content: Text::new("Trout, \"Ostermere\"\u{1f41f}").unwrap(),
        product: "fish".to_owned(),
        pack: Pack::Raw,
        jar: Jar::Pint,
        altitude: Altitude::SEA_LEVEL,
        place: Text::default(),
        demo: false,
    }
}

pub fn any_step() -> impl Strategy<Value = Step> {
    prop_oneof![
        Just(Step::HeatOn),
        Just(Step::SteamSteady),
        Just(Step::SteamFaltered),
        Just(Step::VentClosed),
        Just(Step::AtPressure),
        (0_u16..=300).prop_map(|t| Step::Reading(PsiGauge::from_tenths(t).unwrap())),
        (0..DropCause::ALL.len()).prop_map(|i| Step::Dropped(DropCause::ALL[i])),
        Just(Step::WeightSteady),
        Just(Step::HeatOff),
        Just(Step::WeightOff),
        Just(Step::LidOpened),
        Just(Step::Unloaded),
        (any::<i32>(), 0..Page::ALL.len())
            .prop_map(|(by, i)| Step::ClockMoved { by: Span(by.into()), page: Page::ALL[i] }),
        Just(Step::ClockRight),
        Just(Step::ClockWrong),
        (0..StopCause::ALL.len()).prop_map(|i| Step::Stopped(StopCause::ALL[i])),
    ]
}

pub fn any_move() -> impl Strategy<Value = LotMove> {
    let since = (0_i64..600_000_000).prop_map(|ms| EpochMs(1_764_000_000_000 + ms));
    (0..LotStep::ALL.len(), 0..Kept::ALL.len(), since).prop_map(|(step, kept, since)| LotMove {
        step: LotStep::ALL[step],
        kept: Kept::ALL[kept],
        since,
    })
}

pub fn any_lot_said() -> impl Strategy<Value = LotSaid> {
    let foods = ["fish", "smoked-fish", "tuna", "clams", "meat-pieces", "no such food"];
    prop_oneof![
        (".{0,20}", 0..foods.len(), 0_u32..50_000, any_move()).prop_map(
            move |(name, food, grams, first)| LotSaid::Started(LotStart {
                name: Text::new(&name).unwrap(),
                food: foods[food].to_owned(),
                grams,
                first,
                demo: false,
            })
        ),
        any_move().prop_map(LotSaid::Moved),
        (1_i64..=100_000_000, 1_i64..=1_000_000).prop_map(|(salt, water)| LotSaid::Brined {
            salt: Salt::milligrams(salt).unwrap(),
            water: Water::millilitres(water).unwrap(),
        }),
        (0..LotEnd::ALL.len()).prop_map(|i| LotSaid::Ended(LotEnd::ALL[i])),
    ]
}

/// What happens at the shelf; doubts are few, so that they meet each other.
pub fn any_shelf_event() -> impl Strategy<Value = ShelfEvent> {
    let load = || (0_u8..6).prop_map(id);
    let doubt = || (30_u8..33).prop_map(id);
    let jars = || {
        proptest::collection::vec(1_u16..6, 1..4).prop_map(|jars| JarNumbers::new(jars).unwrap())
    };
    let text = || ".{0,20}".prop_map(|t: String| Text::new(&t).unwrap());
    prop_oneof![
        (load(), text()).prop_map(|(load, lot)| ShelfEvent::LidsUsed { load, lot }),
        (load(), jars(), text()).prop_map(|(load, jars, place)| ShelfEvent::JarsMoved {
            load,
            jars,
            place
        }),
        (doubt(), 0..Cause::ALL.len(), text(), load(), jars(), 0..Verdict::ALL.len()).prop_map(
            |(doubt, cause, say, load, jars, verdict)| ShelfEvent::Doubted(Doubted {
                doubt,
                cause: Cause::ALL[cause],
                say,
                load,
                jars,
                verdict: Verdict::ALL[verdict],
            })
        ),
        (doubt(), text()).prop_map(|(doubt, reason)| ShelfEvent::DoubtLifted { doubt, reason }),
    ]
}

pub fn any_body() -> impl Strategy<Value = Body> {
    let load = || (0_u8..6).prop_map(id);
    let jar = || 0_u16..6;
    prop_oneof![
        Just(Body::BatchStarted(start())),
        (0_u16..5).prop_map(|jars| Body::LoadPlanned(plan(jars))),
        (load(), 0_u16..70).prop_map(|(load, jars)| Body::JarsCounted { load, jars }),
        (load(), any_step()).prop_map(|(load, step)| Body::Ran { load, step }),
        (load(), jar(), 0..Seal::ALL.len()).prop_map(|(load, jar, i)| Body::SealChecked {
            load,
            jar,
            seal: Seal::ALL[i]
        }),
        (load(), jar(), 0..Settled::ALL.len()).prop_map(|(load, jar, i)| Body::UnsealedSettled {
            load,
            jar,
            way: Settled::ALL[i]
        }),
        (load(), jar(), 0..Taken::ALL.len()).prop_map(|(load, jar, i)| Body::JarTaken {
            load,
            jar,
            how: Taken::ALL[i]
        }),
        (load(), ".{0,20}")
            .prop_map(|(load, t)| Body::Shelved { load, place: Text::new(&t).unwrap() }),
        (proptest::option::of(load()), ".{0,20}")
            .prop_map(|(load, t)| Body::Noted { load, text: Text::new(&t).unwrap() }),
        any_shelf_event().prop_map(Body::AtShelf),
        (0_u8..24).prop_map(|event| Body::Undone { event: id(event) }),
        (load(), ".{0,20}", any::<bool>(), 4_u8..60, any::<bool>()).prop_map(
            |(canner, notes, dial, quarts, gone)| Body::CannerKept(CannerKept {
                canner,
                name: Text::new("Blue one").unwrap(),
                gauge: if dial { Gauge::Dial } else { Gauge::Weighted },
                quarts,
                notes: Text::new(&notes).unwrap(),
                gone,
            })
        ),
        any_lot_said().prop_map(Body::Lot),
        (0..Weighed::ALL.len(), 0_u32..=Mass::MAX_GRAMS).prop_map(|(i, grams)| Body::Weighed {
            what: Weighed::ALL[i],
            mass: Mass::from_grams(grams).unwrap()
        }),
        (load(), 0..Jar::ALL.len(), 1_u16..=60, 1_u8..=2).prop_map(|(canner, i, jars, layers)| {
            Body::CannerHolds { canner, holds: Holds::new(Jar::ALL[i], jars, layers).unwrap() }
        }),
        (load(), 0_u16..=300, 0_u16..=300).prop_map(|(canner, a, b)| Body::GaugeChecked {
            canner,
            reading: PsiGauge::from_tenths(a).unwrap(),
            standard: PsiGauge::from_tenths(b).unwrap(),
        }),
    ]
}

/// An event of one of two batches, or of the household; names, places and times clash
/// on purpose, and clocks are days apart.
pub fn any_event() -> impl Strategy<Value = Event> {
    let home = || prop_oneof![3 => Just(id(100)), 3 => Just(id(101)), 1 => Just(Id::HOUSEHOLD)];
    let known = (0_u8..24, home(), 1_u32..12, 0_i64..600_000_000, any_body()).prop_map(
        |(name, batch, seq, at, body)| {
            // Two phones with names, and one that does not say which it is.
            let phone = (seq % 3 > 0).then(|| id(200 + u8::try_from(seq % 3).unwrap()));
            let at = EpochMs(1_764_000_000_000 + at);
            Event::told_on(phone, id(name), batch, seq, at, body)
        },
    );
    // What a newer app may write: kinds and members this build does not know.
    let newer = (0_u8..24, home(), 1_u32..12, any::<u16>()).prop_map(|(name, batch, seq, n)| {
        let text = format!(
            r#"{{"id":"{}","batch":"{}","seq":{seq},"at":{},"what":{{"kiln_fired":{{"cone":{n}}}}},"zeal":[1.50,null,"é"],"about":{{"b":1,"a":-0e2}}}}"#,
            id(name), batch, 1_764_000_000_000_i64 + i64::from(n)
        );
        Event::parse(&text).unwrap()
    });
    prop_oneof![5 => known, 1 => newer]
}

pub fn any_events() -> impl Strategy<Value = Vec<Event>> {
    proptest::collection::vec(any_event(), 0..40)
}
