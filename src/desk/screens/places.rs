//! The household's places, each with its altitude.
//!
//! Invariant: an altitude that cannot be read is never guessed; metres become feet
//! upwards, the safer way.

use crate::app::draw::{El, button, of, say, signal};
use crate::app::parts::{number_field, section, text_field};
use crate::app::store::{Store, new_id};
use hearthjar::batch::{Body, Id, PlaceKept, Text};
use hearthjar::t;
use hearthjar::units::Altitude;

/// The list of places, and a form for another.
pub(super) fn places(store: Store) -> Vec<El> {
    let name = signal(String::new());
    let height = signal(String::new());
    let metric = store.prefs.get_untracked().metric;
    let list = of("ul", "lines").fill(move || {
        let places = store.look(|archive| archive.household().places.clone());
        places.into_iter().map(|place| line(store, place)).collect()
    });
    let add = move || {
        let altitude = match Altitude::parse(&height.get_untracked(), metric) {
            Ok(altitude) => altitude,
            Err(error) => return store.warn(error.to_string()),
        };
        match Text::new(&name.get_untracked()) {
            Ok(text) if text.is_empty() => store.warn(t!("Give the place a name.")),
            Ok(text) => {
                let place = PlaceKept { place: new_id(), name: text, altitude, gone: false };
                store.act_all(Id::HOUSEHOLD, vec![Body::PlaceKept(place)], move |_| {
                    name.set(String::new());
                    height.set(String::new());
                });
            }
            Err(error) => store.warn(error.to_string()),
        }
    };
    vec![
        section(t!("Places")),
        list,
        text_field(t!("Name of a place"), name),
        number_field(
            if metric { t!("Its altitude, metres") } else { t!("Its altitude, feet") },
            height,
        ),
        button("second", t!("Add the place"), add),
    ]
}

fn line(store: Store, place: PlaceKept) -> El {
    let (name, altitude) = (place.name.as_str(), place.altitude);
    let text = t!("{}, {} ft ({} m)", name, altitude.feet(), altitude.metres());
    of("li", "line").child(say("span", &text)).child(button("pick", t!("Remove"), move || {
        let place = PlaceKept { gone: true, ..place.clone() };
        store.act(Id::HOUSEHOLD, Body::PlaceKept(place));
    }))
}
