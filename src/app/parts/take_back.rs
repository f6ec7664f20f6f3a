//! The button that takes the last tap back.
//!
//! Invariant: it names the tap and is bound to it: tapped twice it takes back one. The
//! next one, drawn in its place, is no sooner alive than a hand can have seen it.

use super::pause::Pause;
use crate::app::draw::{El, button};
use crate::app::store::Store;
use hearthjar::batch::{Archive, Body, Id};
use hearthjar::present::tap_name;
use hearthjar::t;
use leptos::prelude::*;

thread_local! {
    static PAUSE: Pause = const { Pause::new() };
}

/// The button for an event of a batch.
pub fn take_back(store: Store, batch: Id, event: Id) -> El {
    let label = match store.look_now(|archive| name_of(archive, batch, event)) {
        Some(name) => t!("Take back the last tap: {}", name),
        None => t!("Take back the last tap").to_owned(),
    };
    button("second", &label, move || {
        PAUSE.with(Pause::begin);
        store.act(batch, Body::Undone { event });
    })
    .disabled_if(move || PAUSE.with(|pause| pause.lasts(store)))
}

/// What an event of a batch recorded, in words.
pub fn name_of(archive: &Archive, batch: Id, event: Id) -> Option<String> {
    let found = archive.events(batch).iter().find(|one| one.id() == event);
    tap_name(found?.body()?)
}
