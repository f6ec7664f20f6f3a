//! The jars put up: oldest first, found by a word, taken out one by one.
//!
//! Invariant: a jar that lost its seal leaves with the words on how to throw it out.

use crate::app::device::local;
use crate::app::parts::{heading, section, text_field};
use crate::app::store::Store;
use hearthjar::batch::{Body, Taken};
use hearthjar::present::Route;
use hearthjar::process::rule;
use hearthjar::shelf::{Lot, lots};
use hearthjar::units::EpochMs;
use leptos::prelude::*;

/// The shelf's screen.
pub fn shelf(store: Store) -> AnyView {
    let typed = RwSignal::new(String::new());
    let list = Memo::new(move |_| {
        let search = typed.get();
        store.archive.with(|archive| lots(archive, &search))
    });
    let total = move || {
        let jars: usize = list.with(|lots| lots.iter().map(|lot| lot.jars.len()).sum());
        format!("{jars} jars, oldest first.")
    };
    let today = store.now.get_untracked();
    let items =
        move || list.get().into_iter().map(|lot| line(store, lot, today)).collect::<Vec<_>>();
    let rules: Vec<AnyView> = [
        "spoilage",
        "discard-sealed",
        "discard-open",
        "discard-clean",
        "crystals",
        "boil-before-eating",
        "opened",
        "store",
    ]
    .into_iter()
    .filter_map(rule)
    .map(|rule| {
        view! { <li>{rule.text()}" "<span class="source">{rule.publication()}</span></li> }
            .into_any()
    })
    .collect();
    view! {
        {heading("Shelf")}
        {text_field("Search by food, size or place", typed.into(), move |text| typed.set(text))}
        <p role="status">{total}</p>
        <ul class="lines">{items}</ul>
        {section("Before you open or eat")}
        <ul class="plain">{rules}</ul>
    }
    .into_any()
}

fn line(store: Store, lot: Lot, today: EpochMs) -> AnyView {
    let first = lot.jars.first().copied().unwrap_or(1);
    let canned = local::time(lot.canned).date();
    let best = if today > lot.best_by {
        "past its best year".to_owned()
    } else {
        format!("best by {}", local::time(lot.best_by).date())
    };
    let place = lot.place.as_ref().map_or(String::new(), |place| format!(", {}", place.as_str()));
    let take = [
        (Taken::Eaten, "Eaten"),
        (Taken::Given, "Given"),
        (Taken::LostSeal, "Lost its seal"),
        (Taken::Spoiled, "Spoiled"),
    ];
    let (batch, load) = (lot.batch, lot.load);
    let buttons: Vec<AnyView> = take
        .into_iter()
        .map(|(how, name)| {
            view! {
                <button type="button" class="pick"
                    on:click=move |_| take_out(store, batch, load, first, how)>{name}</button>
            }
            .into_any()
        })
        .collect();
    view! {
        <li class="lot">
            <p><a href=Route::Batch(batch).hash()><b>{lot.content.as_str().to_owned()}</b></a>
                {format!(", {}", lot.pack.name())}</p>
            <p>{format!("{} × {}{place}", lot.jars.len(), lot.size.name())}</p>
            <p class="quiet">{format!("canned {canned}, {best}")}</p>
            <details><summary>{format!("Take out jar {first}")}</summary>
                <div class="row">{buttons}</div>
            </details>
        </li>
    }
    .into_any()
}

fn take_out(
    store: Store,
    batch: hearthjar::batch::Id,
    load: hearthjar::batch::Id,
    jar: u16,
    how: Taken,
) {
    store.act_all(batch, vec![Body::JarTaken { load, jar, how }], move |ids| {
        let text = match how {
            Taken::Eaten => "Oldest first: well chosen.".to_owned(),
            Taken::Given => "Give the label and the process with it.".to_owned(),
            Taken::LostSeal | Taken::Spoiled => {
                let rule = rule("discard-open").map_or("", |rule| rule.text());
                format!("Do not taste it, and keep animals off. {rule}")
            }
        };
        let undo = ids.last().map(|event| (batch, *event));
        let bad = matches!(how, Taken::LostSeal | Taken::Spoiled);
        store.notice.set(Some(crate::app::store::Notice { text, bad, undo }));
    });
}
