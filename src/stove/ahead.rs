//! The screens of a job drawn once out of sight, while there is nothing else to do: a
//! browser translates code when it is first run, and the first tap that leads to a screen
//! would wait for that.
//!
//! Invariant: nothing of it is put in the page, kept, or told to anyone; the load in it
//! is invented and goes with it.

use crate::app::device::clock;
use crate::app::draw::{El, spawn};
use crate::app::store::{Store, new_id};
use crate::screens;
use hearthjar::batch::{Archive, BatchStart, Body, Id, LoadPlan, Text};
use hearthjar::present::Route;
use hearthjar::process::{CannerQuarts, Gauge, Jar, Pack, Question, Vessel, find};
use hearthjar::run::Step;
use hearthjar::units::{Altitude, Span};
use leptos::prelude::Owner;

/// The steps of a load, and minutes after the one before: more than any of them must last.
const STEPS: [(i64, Step); 8] = [
    (1, Step::HeatOn),
    (60, Step::SteamSteady),
    (60, Step::VentClosed),
    (5, Step::AtPressure),
    (300, Step::HeatOff),
    (120, Step::WeightOff),
    (60, Step::LidOpened),
    (5, Step::Unloaded),
];

/// Draws what a job leads through, one screen at a time. Not beside a hot canner.
pub fn draw(store: Store) {
    if store.is_running() {
        return;
    }
    spawn(async move {
        let owner = Owner::new();
        let tried = owner.with(|| Store::new(Route::Today, |_| false));
        once(&owner, || screens::today(tried, false)).await;
        once(&owner, || screens::find(tried, None)).await;
        let (mut archive, batch, load) = (Archive::new(), new_id(), new_id());
        // Long enough ago for the jars to have rested.
        let mut at = clock::now().plus(Span::hours(-24));
        let mut steps = STEPS.into_iter();
        let mut named = planned(load).unwrap_or_default();
        while let Ok(events) = archive.draft(batch, at, named) {
            archive.extend(events);
            tried.show(archive.clone());
            once(&owner, || screens::load(tried, batch, load)).await;
            let Some((minutes, step)) = steps.next() else { break };
            at = at.plus(Span::minutes(minutes));
            named = vec![(new_id(), Body::Ran { load, step })];
        }
        owner.cleanup();
    });
}

/// Draws a screen and what of it comes later, and lets it go.
async fn once(owner: &Owner, draw: impl FnOnce() -> Vec<El>) {
    clock::idle().await;
    let own = owner.child();
    let drawn = own.with(draw);
    clock::idle().await;
    drop(drawn);
    own.cleanup();
}

/// What begins a batch with one load of one jar.
fn planned(load: Id) -> Option<Vec<(Id, Body)>> {
    let vessel = Vessel::PressureCanner { gauge: Gauge::Dial, quarts: CannerQuarts::new(16).ok()? };
    let altitude = Altitude::from_feet(0).ok()?;
    let question = Question { food: "fish", pack: Pack::Raw, jar: Jar::Pint, vessel, altitude };
    let tested = find(&question).ok()?;
    let start = BatchStart {
        content: Text::default(),
        product: tested.process().product().to_owned(),
        pack: question.pack,
        jar: question.jar,
        altitude,
        place: Text::default(),
        demo: true,
    };
    let plan = LoadPlan::of(&tested, 1);
    Some(vec![(new_id(), Body::BatchStarted(start)), (load, Body::LoadPlanned(plan))])
}
