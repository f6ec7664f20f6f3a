//! An invented example, loaded on request and removable.
//!
//! Invariant: every batch of it is marked as the example; removing it touches
//! nothing else.

use crate::app::device::clock;
use crate::app::store::{Store, new_id};
use hearthjar::batch::{Archive, BatchStart, Body, Event, Id, LoadPlan, Seal, Text};
use hearthjar::lot::{Kept, LotMove, LotSaid, LotStart, LotStep};
use hearthjar::process::{CannerQuarts, Gauge, Jar, Pack, Question, Vessel, find};
use hearthjar::run::{DropCause, Step};
use hearthjar::t;
use hearthjar::units::{Altitude, EpochMs, Span};

/// One invented batch.
struct Story {
    content: &'static str,
    food: &'static str,
    pack: Pack,
    jar: Jar,
    feet: i32,
    jars: u16,
    days_ago: i64,
    unsealed: Option<u16>,
    dropped: bool,
    place: &'static str,
}

const STORIES: [Story; 3] = [
    Story {
        content: "Lake trout, Lake Ostermere",
        food: "fish",
        pack: Pack::Raw,
        jar: Jar::Pint,
        feet: 640,
        jars: 8,
        days_ago: 400,
        unsealed: None,
        dropped: false,
        place: "Cellar, left",
    },
    Story {
        content: "Smoked char, Tove and Anselm",
        food: "smoked-fish",
        pack: Pack::Smoked,
        jar: Jar::HalfPint,
        feet: 640,
        jars: 12,
        days_ago: 60,
        unsealed: Some(5),
        dropped: true,
        place: "Cellar, right",
    },
    Story {
        content: "Venison, Anselm's stand",
        food: "meat-pieces",
        pack: Pack::Hot,
        jar: Jar::Quart,
        feet: 2_150,
        jars: 7,
        days_ago: 12,
        unsealed: None,
        dropped: false,
        place: "Cabin shelf",
    },
];

/// Loads the example.
pub fn load(store: Store) {
    let now = clock::now();
    let mut events: Vec<Event> = STORIES.iter().flat_map(|story| tell(story, now)).collect();
    events.extend(raw_lot(now));
    crate::app::draw::spawn(async move {
        if store.keep(events).await {
            store.say(t!("The example is on the shelf. Remove it here when you are done."));
        }
    });
}

/// Takes the example out.
pub fn remove(store: Store) {
    let names: Vec<(Id, Id)> = store.look_now(|archive| {
        archive
            .batches()
            .filter(|batch| batch.is_demo())
            .flat_map(|batch| archive.events(batch.id).iter().map(|e| (e.batch(), e.id())))
            .collect()
    });
    crate::app::draw::spawn(async move {
        if store.drop_events(names).await {
            store.say(t!("The example is gone."));
        }
    });
}

/// A raw lot on its way: caught six hours ago, in the brine now.
fn raw_lot(now: EpochMs) -> Vec<Event> {
    let Ok(name) = Text::new("Whitefish, Anselm's net") else { return Vec::new() };
    let ago = |minutes: i64| now.plus(Span::minutes(-minutes));
    let go = |step, kept, minutes| LotMove { step, kept, since: ago(minutes) };
    let first = go(LotStep::Caught, Kept::Room, 360);
    let started = LotStart { name, food: "fish".to_owned(), grams: 4_200, first, demo: true };
    let said = [
        (360, LotSaid::Started(started)),
        (335, LotSaid::Moved(go(LotStep::Cleaned, Kept::Cold, 335))),
        (25, LotSaid::Moved(go(LotStep::Brining, Kept::Cold, 25))),
    ];
    let batch = new_id();
    let mut archive = Archive::new();
    for (minutes, said) in said {
        let drafted = archive.draft(batch, ago(minutes), [(new_id(), Body::Lot(said))]);
        archive.extend(drafted.unwrap_or_default());
    }
    archive.all_events().cloned().collect()
}

/// The events of one story, written as taps would have written them.
fn tell(story: &Story, now: EpochMs) -> Vec<Event> {
    let (Ok(quarts), Ok(altitude), Ok(content), Ok(place)) = (
        CannerQuarts::new(16),
        Altitude::from_feet(story.feet),
        Text::new(story.content),
        Text::new(story.place),
    ) else {
        return Vec::new();
    };
    let vessel = Vessel::PressureCanner { gauge: Gauge::Weighted, quarts };
    let question =
        Question { food: story.food, pack: story.pack, jar: story.jar, vessel, altitude };
    let Ok(tested) = find(&question) else { return Vec::new() };
    let batch = new_id();
    let mut archive = Archive::new();
    let mut at = now.plus(Span::hours(-24 * story.days_ago));
    let mut add = |minutes: i64, body: Body| {
        at = at.plus(Span::minutes(minutes));
        let drafted = archive.draft(batch, at, [(new_id(), body)]).unwrap_or_default();
        let id = drafted.first().map(Event::id);
        archive.extend(drafted);
        id
    };
    add(
        0,
        Body::BatchStarted(BatchStart {
            content,
            product: tested.process().product().to_owned(),
            pack: story.pack,
            jar: story.jar,
            altitude,
            place: Text::default(),
            demo: true,
        }),
    );
    let Some(load) = add(2, Body::LoadPlanned(LoadPlan::of(&tested, story.jars))) else {
        return Vec::new();
    };
    let hold = i64::from(tested.minutes().0);
    let mut steps = vec![
        (40, Step::HeatOn),
        (22, Step::SteamSteady),
        (10, Step::VentClosed),
        (5, Step::AtPressure),
    ];
    if story.dropped {
        steps.extend([(35, Step::Dropped(DropCause::HeatTooLow)), (4, Step::AtPressure)]);
    }
    steps.extend([
        (hold + 1, Step::HeatOff),
        (38, Step::WeightOff),
        (11, Step::LidOpened),
        (6, Step::Unloaded),
    ]);
    for (minutes, step) in steps {
        add(minutes, Body::Ran { load, step });
    }
    for jar in 1..=story.jars {
        let seal = if story.unsealed == Some(jar) { Seal::NotSealed } else { Seal::Sealed };
        add(if jar == 1 { 14 * 60 } else { 0 }, Body::SealChecked { load, jar, seal });
    }
    if let Some(jar) = story.unsealed {
        let way = hearthjar::batch::Settled::Refrigerated;
        add(3, Body::UnsealedSettled { load, jar, way });
    }
    add(5, Body::Shelved { load, place });
    archive.all_events().cloned().collect()
}
