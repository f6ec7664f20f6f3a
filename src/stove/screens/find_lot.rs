//! The finder asked for a raw lot: what the lot decides, and what bars it.
//!
//! Invariant: a lot past a published limit, or with a process that its smoke does
//! not fit, has no way on.

use super::find_form::Chosen;
use crate::app::draw::{El, link, memo, of, say};
use crate::app::store::Store;
use hearthjar::batch::Id;
use hearthjar::lot::RawLot;
use hearthjar::present::{Route, cold_line, lot_fits, not_yet};
use hearthjar::process::{Food, Pack};
use hearthjar::t;
use leptos::prelude::*;

fn look<T>(store: Store, lot: Id, read: impl FnOnce(&RawLot) -> T) -> Option<T> {
    store.look(|archive| archive.batch(lot).and_then(|batch| batch.lot.as_ref()).map(read))
}

/// Chooses the lot's food and pack.
pub(super) fn preset(store: Store, lot: Id, chosen: Chosen) {
    let found = untrack(|| {
        look(store, lot, |lot| {
            let (food, pack) = lot.canned_as();
            (food.to_owned(), pack, lot.start().name.as_str().to_owned())
        })
    });
    let Some((food, pack, name)) = found else { return };
    let mut packs = Food::by_key(&food).into_iter().flat_map(Food::packs);
    let (first, now) = (packs.next(), chosen.pack.get_untracked());
    let fits = now != Pack::Smoked && (first == Some(now) || packs.any(|one| one == now));
    if let Some(pack) = pack.or(first.filter(|_| !fits)) {
        chosen.pack.set(pack);
    }
    chosen.food.set(food);
    chosen.content.set(name);
}

/// Why this lot is not canned as chosen.
pub(super) fn bar(store: Store, lot: Id, chosen: Chosen) -> Option<&'static str> {
    let now = store.now.get();
    look(store, lot, |lot| match lot.passed(now).first() {
        Some(check) => Some(check.limit.over()),
        None => not_yet(lot.now().step)
            .or_else(|| chosen.food.with(|food| lot_fits(lot, food, chosen.pack.get()).err())),
    })
    .flatten()
}

/// The lot, its time out of the cold, and what bars it.
pub(super) fn says(store: Store, lot: Id, chosen: Chosen) -> El {
    let barred = memo(move || bar(store, lot, chosen));
    let name = look(store, lot, |lot| lot.start().name.as_str().to_owned());
    let name = link("", &Route::Raw(lot).hash(), &name.unwrap_or_default());
    let line = of("p", "quiet").text_by(move || {
        let now = store.now.get();
        look(store, lot, |lot| cold_line(lot, now)).unwrap_or_default()
    });
    of("section", "lot-says")
        .attr("id", "lot-says")
        .child(of("p", "lead").text(t!("For the lot ")).child(name))
        .child(line)
        .child(of("div", "region").attr("role", "status").fill(move || {
            barred
                .get()
                .map(|text| of("div", "answer no").child(say("p", text)))
                .into_iter()
                .collect()
        }))
}
