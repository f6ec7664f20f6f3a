//! Ways to the rest: canners, clock and sound, storage, the example.
//!
//! Invariant: what the browser can or cannot do is said as it is.

use crate::app::device::{buzz, keep, sound, worker};
use crate::app::draw::{El, button, derive, el, link, of, region, signal, spawn};
use crate::app::parts::{choices, heading, page, section};
use crate::app::store::Store;
use crate::demo;
use hearthjar::present::Route;
use leptos::prelude::*;

/// The screen of everything else.
pub fn more(store: Store) -> Vec<El> {
    let mut parts = vec![heading("More")];
    parts.push(of("p", "over-title").child(link("", &Route::Canners.hash(), "Canners and places")));
    parts.push(of("p", "over-title").child(link("", &Route::Warming.hash(), "Why the full time")));
    parts.extend(super::language::language(store));
    parts.extend(habits(store));
    parts.extend(storage(store));
    parts.push(section("Example"));
    parts.push(of("p", "quiet").text("Invented people and an invented lake, to look around with."));
    parts.push(region(move || {
        let there = store.look(|archive| archive.batches().any(|batch| batch.is_demo()));
        vec![if there {
            button("second", "Remove the example", move || demo::remove(store))
        } else {
            button("second", "Load the example", move || demo::load(store))
        }]
    }));
    parts.push(section("About"));
    parts.push(of("p", "over-title").child(link(
        "",
        &Route::Safety.hash(),
        "What Hearthjar is not",
    )));
    parts.push(button("second", "Look for a new Hearthjar", move || {
        worker::look_for_update();
        store.say("Looking for a new Hearthjar. It is never used during a run.");
    }));
    vec![page(parts)]
}

fn habits(store: Store) -> Vec<El> {
    let hours =
        derive(move || store.habit(|prefs| if prefs.hours_24 { "24" } else { "12" }.to_owned()));
    let sounds =
        derive(move || store.habit(|prefs| if prefs.sound { "on" } else { "off" }.to_owned()));
    let test = move || {
        sound::prime();
        sound::chime();
        buzz::buzz(&[300]);
        store.say(match sound::state() {
            sound::Sound::Missing => "This browser makes no sound.",
            _ => "You should hear three notes. If not, turn the phone up.",
        });
    };
    let buzzes = if buzz::can() { "This phone can buzz." } else { "This browser cannot buzz." };
    vec![
        section("Clock and sound"),
        choices("Time of day", "hours", &[("12", "2:05 pm"), ("24", "14:05")], hours, move |key| {
            store.prefer(|prefs| prefs.hours_24 = key == "24");
        }),
        choices("Sound when a time is over", "sound", &[("on", "on"), ("off", "off")], sounds, {
            move |key| store.prefer(|prefs| prefs.sound = key == "on")
        }),
        button("second", "Try the sound", test),
        of("p", "quiet").text(buzzes).text(" A locked or sleeping phone may not ring."),
    ]
}

fn storage(store: Store) -> Vec<El> {
    let says = signal(String::new());
    let ask = move || {
        spawn(async move {
            let kept = match keep::ask().await {
                keep::Kept::Yes => "The browser keeps the record until you clear it.",
                keep::Kept::No => {
                    "The browser may clear the record when space runs short. Put Hearthjar on the \
                     home screen, and hand over a file now and then."
                }
                keep::Kept::Unknown => "This browser does not say. Hand over a file now and then.",
            };
            let used = keep::usage().await;
            let used =
                used.map_or(String::new(), |(used, quota)| format!(" {used} of {quota} MB used."));
            let _ = says.try_set(format!("{kept}{used}"));
        });
    };
    vec![
        section("Storage"),
        el("p").text_by(move || {
            let events = store.look(|archive| archive.all_events().count());
            format!("{events} entries on this phone.")
        }),
        button("second", "Ask the browser to keep the record", ask),
        el("p").attr("role", "status").text_by(move || says.get()),
    ]
}
