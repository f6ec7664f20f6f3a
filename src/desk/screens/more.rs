//! Ways to the rest: canners, clock and sound, storage, the example.
//!
//! Invariant: what the browser can or cannot do is said as it is.

use crate::app::device::{buzz, keep, sound, worker};
use crate::app::draw::{El, button, derive, el, link, of, region, signal, spawn};
use crate::app::parts::{choices, heading, page, section};
use crate::app::store::Store;
use crate::demo;
use hearthjar::present::Route;
use hearthjar::t;

/// The screen of everything else.
pub fn more(store: Store) -> Vec<El> {
    let mut parts = vec![heading(t!("More"))];
    parts.push(of("p", "over-title").child(link(
        "",
        &Route::Canners.hash(),
        t!("Canners and places"),
    )));
    parts.push(of("p", "over-title").child(link(
        "",
        &Route::Warming.hash(),
        t!("Why the full time"),
    )));
    parts.extend(super::language::language(store));
    parts.extend(habits(store));
    parts.extend(storage(store));
    parts.push(section(t!("Example")));
    parts.push(
        of("p", "quiet").text(t!("Invented people and an invented lake, to look around with.")),
    );
    parts.push(region(move || {
        let there = store.look(|archive| archive.batches().any(|batch| batch.is_demo()));
        vec![if there {
            button("second", t!("Remove the example"), move || demo::remove(store))
        } else {
            button("second", t!("Load the example"), move || demo::load(store))
        }]
    }));
    parts.push(section(t!("About")));
    parts.push(of("p", "over-title").child(link(
        "",
        &Route::Safety.hash(),
        t!("What Hearthjar is not"),
    )));
    parts.push(button("second", t!("Look for a new Hearthjar"), move || {
        worker::look_for_update();
        store.say(t!("Looking for a new Hearthjar. It is never used during a run."));
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
            sound::Sound::Missing => t!("This browser makes no sound."),
            _ => t!("You should hear three notes. If not, turn the phone up."),
        });
    };
    let buzzes =
        if buzz::can() { t!("This phone can buzz.") } else { t!("This browser cannot buzz.") };
    vec![
        section(t!("Clock and sound")),
        choices(
            t!("Time of day"),
            "hours",
            &[("12", t!("2:05 pm")), ("24", "14:05")],
            hours,
            move |key| {
                store.prefer(|prefs| prefs.hours_24 = key == "24");
            },
        ),
        choices(
            t!("Sound when a time is over"),
            "sound",
            &[("on", t!("on")), ("off", t!("off"))],
            sounds,
            move |key| store.prefer(|prefs| prefs.sound = key == "on"),
        ),
        button("second", t!("Try the sound"), test),
        of("p", "quiet").text(buzzes).text(t!(" A locked or sleeping phone may not ring.")),
    ]
}

fn storage(store: Store) -> Vec<El> {
    let says = signal(String::new());
    let ask = move || {
        spawn(async move {
            let kept = match keep::ask().await {
                keep::Kept::Yes => t!("The browser keeps the record until you clear it."),
                keep::Kept::No => {
                    t!("The browser may clear the record when space runs short. Put Hearthjar \
                         on the home screen, and hand over a file now and then.")
                }
                keep::Kept::Unknown => {
                    t!("This browser does not say. Hand over a file now and then.")
                }
            };
            let used = keep::usage().await;
            let used =
                used.map_or(String::new(), |(used, quota)| t!(" {} of {} MB used.", used, quota));
            says.set(format!("{kept}{used}"));
        });
    };
    vec![
        section(t!("Storage")),
        el("p").text_by(move || {
            let events = store.look(|archive| archive.all_events().count());
            t!("{} entries on this phone.", events)
        }),
        button("second", t!("Ask the browser to keep the record"), ask),
        el("p").attr("role", "status").text_by(move || says.get()),
    ]
}
