//! Canners, places, units, sound, storage, the example.
//!
//! Invariant: what the browser can or cannot do is said as it is.

use crate::app::device::{buzz, keep, sound, worker};
use crate::app::draw::{El, button, derive, el, link, of, region, say, signal, spawn};
use crate::app::parts::{
    choices, heading, number_field, page, psi_stepper, section, stepper, text_field, why,
};
use crate::app::store::{Store, new_id};
use crate::demo;
use hearthjar::batch::{Body, CannerKept, Id, PlaceKept, Text};
use hearthjar::physics::gauge::DialCheck;
use hearthjar::present::{DIAL_RULES, Route, dial_advice};
use hearthjar::process::Gauge;
use hearthjar::units::{Altitude, PsiGauge};
use leptos::prelude::*;

/// The screen of everything else.
pub fn more(store: Store) -> Vec<El> {
    let mut parts = vec![heading("More")];
    parts.extend(canners(store));
    parts.extend(places(store));
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

/// A line of a list with a button that takes it off.
fn kept(text: &str, gone: impl Fn() + 'static) -> El {
    of("li", "line").child(say("span", text)).child(button("pick", "Remove", gone))
}

fn canners(store: Store) -> Vec<El> {
    let name = signal(String::new());
    let gauge = signal("weighted".to_owned());
    let quarts = signal(16_u16);
    let list = of("ul", "lines").fill(move || {
        let canners = store.look(|archive| archive.household().canners.clone());
        canners
            .into_iter()
            .map(|canner| {
                let name = canner.name.as_str();
                let text = format!("{name}, {}, {} qt", canner.gauge.name(), canner.quarts);
                let dial = (canner.gauge == Gauge::Dial).then(|| gauge_check(store, canner.canner));
                kept(&text, move || {
                    let canner = CannerKept { gone: true, ..canner.clone() };
                    store.act(Id::HOUSEHOLD, Body::CannerKept(canner));
                })
                .maybe(dial)
            })
            .collect()
    });
    let add = move || match Text::new(&name.get_untracked()) {
        Ok(text) if text.is_empty() => store.warn("Give the canner a name."),
        Ok(text) => {
            let dial = gauge.with_untracked(|gauge| gauge == "dial");
            let canner = CannerKept {
                canner: new_id(),
                name: text,
                gauge: if dial { Gauge::Dial } else { Gauge::Weighted },
                quarts: u8::try_from(quarts.get_untracked()).unwrap_or(16),
                layers: 1,
                notes: Text::default(),
                gone: false,
            };
            store.act(Id::HOUSEHOLD, Body::CannerKept(canner));
            name.set(String::new());
        }
        Err(error) => store.warn(error.to_string()),
    };
    let gauges = [("weighted", "weighted gauge"), ("dial", "dial gauge")];
    vec![
        section("Canners"),
        list,
        text_field("Name of a canner", name),
        choices("Gauge", "kept-gauge", &gauges, gauge.into(), move |key| gauge.set(key.to_owned())),
        stepper("Size, quarts", quarts.into(), 4, 60, move |n| quarts.set(n)),
        button("second", "Add the canner", add),
    ]
}

/// The yearly check of a dial gauge beside a standard one.
fn gauge_check(store: Store, canner: Id) -> El {
    let (reading, standard) = (signal(100_u16), signal(100_u16));
    let check = store.look_now(|archive| archive.household().check(canner));
    let table = PsiGauge::whole(11);
    let now = store.now.get_untracked();
    let advice = dial_advice(check, table, now).say;
    let lines = advice.iter().map(|line| of("p", "quiet").text(line)).collect();
    let record = move || {
        let psi = |tenths: RwSignal<u16>| PsiGauge::from_tenths(tenths.get_untracked());
        let (Ok(reading), Ok(standard)) = (psi(reading), psi(standard)) else { return };
        match DialCheck::new(reading, standard, store.now.get_untracked()) {
            Ok(_) => {
                store.act(Id::HOUSEHOLD, Body::GaugeChecked { canner, reading, standard });
            }
            Err(refusal) => store.warn(refusal.to_string()),
        }
    };
    el("div")
        .children(lines)
        .child(
            el("details")
                .child(say("summary", "Check the gauge"))
                .child(psi_stepper("This dial shows", reading))
                .child(psi_stepper("The standard shows", standard))
                .child(button("second", "Record the check", record)),
        )
        .child(why("", DIAL_RULES))
}

fn places(store: Store) -> Vec<El> {
    let name = signal(String::new());
    let feet = signal(String::new());
    let list = of("ul", "lines").fill(move || {
        let places = store.look(|archive| archive.household().places.clone());
        places
            .into_iter()
            .map(|place| {
                let altitude = place.altitude;
                let text = format!(
                    "{}, {} ft ({} m)",
                    place.name.as_str(),
                    altitude.feet(),
                    altitude.metres()
                );
                kept(&text, move || {
                    let place = PlaceKept { gone: true, ..place.clone() };
                    store.act(Id::HOUSEHOLD, Body::PlaceKept(place));
                })
            })
            .collect()
    });
    let add = move || {
        let altitude = match Altitude::parse(&feet.get_untracked(), false) {
            Ok(altitude) => altitude,
            Err(error) => return store.warn(error.to_string()),
        };
        match Text::new(&name.get_untracked()) {
            Ok(text) if text.is_empty() => store.warn("Give the place a name."),
            Ok(text) => {
                let place = PlaceKept { place: new_id(), name: text, altitude, gone: false };
                store.act(Id::HOUSEHOLD, Body::PlaceKept(place));
                name.set(String::new());
                feet.set(String::new());
            }
            Err(error) => store.warn(error.to_string()),
        }
    };
    vec![
        section("Places"),
        list,
        text_field("Name of a place", name),
        number_field("Its altitude, feet", feet),
        button("second", "Add the place", add),
    ]
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
