//! Canners, places, units, sound, storage, the example.
//!
//! Invariant: what the browser can or cannot do is said as it is.

use crate::app::demo;
use crate::app::device::{buzz, keep, sound, worker};
use crate::app::parts::{Choice, choices, heading, number_field, section, stepper, text_field};
use crate::app::store::{Store, new_id};
use hearthjar::batch::{Body, CannerKept, Id, PlaceKept, Text};
use hearthjar::present::Route;
use hearthjar::process::Gauge;
use hearthjar::units::Altitude;
use leptos::prelude::*;

/// The screen of everything else.
pub fn more(store: Store) -> AnyView {
    view! {
        {heading("More")}
        {canners(store)}
        {places(store)}
        {hours(store)}
        {sounds(store)}
        {storage(store)}
        {example(store)}
        {section("About")}
        <p><a href=Route::Safety.hash()>"What Hearthjar is not"</a></p>
        <button type="button" class="second" on:click=move |_| {
            worker::look_for_update();
            store.say("Looking for a new Hearthjar. It is never used during a run.");
        }>"Look for a new Hearthjar"</button>
    }
    .into_any()
}

fn canners(store: Store) -> AnyView {
    let name = RwSignal::new(String::new());
    let gauge = RwSignal::new("weighted".to_owned());
    let quarts = RwSignal::new(16_u16);
    let list = move || {
        store
            .archive
            .with(|archive| archive.household().canners.clone())
            .into_iter()
            .map(|canner| {
                let text = format!(
                    "{}, {}, {} qt",
                    canner.name.as_str(),
                    canner.gauge.name(),
                    canner.quarts
                );
                let gone = move |_| {
                    let canner = CannerKept { gone: true, ..canner.clone() };
                    store.act(Id::HOUSEHOLD, Body::CannerKept(canner));
                };
                view! {
                    <li class="line"><span>{text}</span>
                        <button type="button" class="pick" on:click=gone>"Remove"</button></li>
                }
                .into_any()
            })
            .collect::<Vec<_>>()
    };
    let add = move |_| match Text::new(&name.get_untracked()) {
        Ok(text) if text.is_empty() => store.warn("Give the canner a name."),
        Ok(text) => {
            let kept = CannerKept {
                canner: new_id(),
                name: text,
                gauge: if gauge.get_untracked() == "dial" { Gauge::Dial } else { Gauge::Weighted },
                quarts: u8::try_from(quarts.get_untracked()).unwrap_or(16),
                gone: false,
            };
            store.act(Id::HOUSEHOLD, Body::CannerKept(kept));
            name.set(String::new());
        }
        Err(error) => store.warn(error.to_string()),
    };
    let gauges = vec![Choice::new("weighted", "weighted gauge"), Choice::new("dial", "dial gauge")];
    view! {
        {section("Canners")}
        <ul class="lines">{list}</ul>
        {text_field("Name of a canner", name.into(), move |text| name.set(text))}
        {choices("Gauge", "kept-gauge", gauges, gauge.into(), move |key| gauge.set(key))}
        {stepper("Size, quarts", quarts.into(), 4, 60, move |n| quarts.set(n))}
        <button type="button" class="second" on:click=add>"Add the canner"</button>
    }
    .into_any()
}

fn places(store: Store) -> AnyView {
    let name = RwSignal::new(String::new());
    let feet = RwSignal::new(String::new());
    let list = move || {
        store
            .archive
            .with(|archive| archive.household().places.clone())
            .into_iter()
            .map(|place| {
                let text = format!(
                    "{}, {} ft ({} m)",
                    place.name.as_str(),
                    place.altitude.feet(),
                    place.altitude.metres()
                );
                let gone = move |_| {
                    let place = PlaceKept { gone: true, ..place.clone() };
                    store.act(Id::HOUSEHOLD, Body::PlaceKept(place));
                };
                view! {
                    <li class="line"><span>{text}</span>
                        <button type="button" class="pick" on:click=gone>"Remove"</button></li>
                }
                .into_any()
            })
            .collect::<Vec<_>>()
    };
    let add = move |_| {
        let altitude = match Altitude::parse(&feet.get_untracked(), false) {
            Ok(altitude) => altitude,
            Err(error) => return store.warn(error.to_string()),
        };
        match Text::new(&name.get_untracked()) {
            Ok(text) if text.is_empty() => store.warn("Give the place a name."),
            Ok(text) => {
                let kept = PlaceKept { place: new_id(), name: text, altitude, gone: false };
                store.act(Id::HOUSEHOLD, Body::PlaceKept(kept));
                name.set(String::new());
                feet.set(String::new());
            }
            Err(error) => store.warn(error.to_string()),
        }
    };
    view! {
        {section("Places")}
        <ul class="lines">{list}</ul>
        {text_field("Name of a place", name.into(), move |text| name.set(text))}
        {number_field("Its altitude, feet", feet.into(), move |text| feet.set(text))}
        <button type="button" class="second" on:click=add>"Add the place"</button>
    }
    .into_any()
}

fn hours(store: Store) -> AnyView {
    let now = Signal::derive(move || {
        store.prefs.with(|prefs| if prefs.hours_24 { "24" } else { "12" }.to_owned())
    });
    let list = vec![Choice::new("12", "2:05 pm"), Choice::new("24", "14:05")];
    choices("Time of day", "hours", list, now, move |key| {
        store.prefer(|prefs| prefs.hours_24 = key == "24");
    })
}

fn sounds(store: Store) -> AnyView {
    let now = Signal::derive(move || {
        store.prefs.with(|prefs| if prefs.sound { "on" } else { "off" }.to_owned())
    });
    let list = vec![Choice::new("on", "on"), Choice::new("off", "off")];
    let test = move |_| {
        sound::prime();
        sound::chime();
        buzz::buzz(&[300]);
        store.say(match sound::state() {
            sound::Sound::Missing => "This browser makes no sound.",
            _ => "You should hear three notes. If not, turn the phone up.",
        });
    };
    let buzzes = if buzz::can() { "This phone can buzz." } else { "This browser cannot buzz." };
    view! {
        {choices("Sound when a time is over", "sound", list, now, move |key| {
            store.prefer(|prefs| prefs.sound = key == "on");
        })}
        <button type="button" class="second" on:click=test>"Try the sound"</button>
        <p class="quiet">{buzzes}" A locked or sleeping phone may not ring."</p>
    }
    .into_any()
}

fn storage(store: Store) -> AnyView {
    let says = RwSignal::new(String::new());
    let ask = move |_| {
        leptos::task::spawn_local(async move {
            let kept = match keep::ask().await {
                keep::Kept::Yes => "The browser keeps the record until you clear it.",
                keep::Kept::No => {
                    "The browser may clear the record when space runs short. Put Hearthjar on the \
                     home screen, and hand over a file now and then."
                }
                keep::Kept::Unknown => "This browser does not say. Hand over a file now and then.",
            };
            let used = keep::usage()
                .await
                .map_or(String::new(), |(used, quota)| format!(" {used} of {quota} MB used."));
            let _ = says.try_set(format!("{kept}{used}"));
        });
    };
    let kept = move || {
        let events = store.archive.with(|archive| archive.all_events().count());
        format!("{events} entries on this phone.")
    };
    view! {
        {section("Storage")}
        <p>{kept}</p>
        <button type="button" class="second" on:click=ask>"Ask the browser to keep the record"</button>
        <p role="status">{move || says.get()}</p>
    }
    .into_any()
}

fn example(store: Store) -> AnyView {
    let there =
        move || store.archive.with(|archive| archive.batches().any(|batch| batch.is_demo()));
    view! {
        {section("Example")}
        <p class="quiet">"Invented people and an invented lake, to look around with."</p>
        <Show when=there fallback=move || view! {
            <button type="button" class="second" on:click=move |_| demo::load(store)>"Load the example"</button>
        }>
            <button type="button" class="second" on:click=move |_| demo::remove(store)>"Remove the example"</button>
        </Show>
    }
    .into_any()
}
