//! The seal check at the counter, and what follows it.
//!
//! Invariant: one tap a jar; the way out of a failed seal is one the publications
//! allow for this pack.

use crate::app::parts::{due_at, heading, section, text_field, why};
use crate::app::store::Store;
use hearthjar::batch::{Body, Id, Jar, JarState, Load, Seal, Settled, Text};
use hearthjar::exchange::label;
use hearthjar::present::{Route, words};
use hearthjar::process::{Pack, rule};
use hearthjar::units::Span;
use leptos::prelude::*;

/// The seal check of a load.
pub fn seals(store: Store, batch: Id, load: Load, what: String) -> AnyView {
    let mark = RwSignal::new(Seal::Sealed);
    let marks =
        [(Seal::Sealed, "Sealed"), (Seal::NotSealed, "Not sealed"), (Seal::Broken, "Broken")];
    let modes: Vec<AnyView> = marks
        .into_iter()
        .map(|(seal, name)| {
            view! {
                <button type="button" class="mode" aria-pressed=move || (mark.get() == seal).to_string()
                    on:click=move |_| mark.set(seal)>{name}</button>
            }
            .into_any()
        })
        .collect();
    let id = load.id;
    let jars: Vec<AnyView> =
        load.jars.iter().map(|jar| tile(store, batch, id, *jar, mark)).collect();
    let counts = format!(
        "{} of {} checked. {} sealed.",
        load.jars.len() - load.unchecked(),
        load.jars.len(),
        load.sealed()
    );
    let tests: Vec<AnyView> = ["seal-press", "seal-tap", "seal-look", "seal-no-proof"]
        .into_iter()
        .filter_map(rule)
        .map(|rule| {
            view! { <li>{rule.text()}" "<span class="source">{rule.publication()}</span></li> }
                .into_any()
        })
        .collect();
    let open = load.unchecked() == load.jars.len();
    view! {
        <p class="over-title"><a href=Route::Batch(batch).hash()>{what}</a></p>
        {heading("Check the seals")}
        <details open=open><summary>"How to tell"</summary><ul class="plain">{tests}</ul></details>
        <div class="modes" role="group" aria-label="Mark jars as">{modes}</div>
        <div class="jars">{jars}</div>
        <p role="status">{counts}</p>
        {undo(store, batch)}
        {unsealed(store, batch, &load)}
        {shelve(store, batch, &load)}
        <div class="foot"><a class="main" href=Route::Today.hash()>"Today"</a></div>
    }
    .into_any()
}

const fn state_words(state: JarState) -> (&'static str, &'static str) {
    match state {
        JarState::Unchecked => ("jar", "not checked"),
        JarState::Sealed(_) => ("jar sealed", "sealed"),
        JarState::NotSealed(_) => ("jar open", "not sealed"),
        JarState::Broken(_) => ("jar open", "broken"),
        JarState::Settled(..) => ("jar done", "dealt with"),
        JarState::Taken(..) => ("jar done", "taken"),
    }
}

fn tile(store: Store, batch: Id, load: Id, jar: Jar, mark: RwSignal<Seal>) -> AnyView {
    let (class, words) = state_words(jar.state);
    let tap = move |_| {
        let seal = mark.get_untracked();
        store.act(batch, Body::SealChecked { load, jar: jar.number, seal });
    };
    let fixed = matches!(jar.state, JarState::Taken(..) | JarState::Settled(..));
    view! {
        <button type="button" class=class disabled=fixed on:click=tap>
            <b>{jar.number.to_string()}</b><span>{words}</span>
        </button>
    }
    .into_any()
}

fn undo(store: Store, batch: Id) -> Option<AnyView> {
    let event = store.archive.with_untracked(|archive| archive.batch(batch)?.last)?;
    Some(
        view! {
            <button type="button" class="second"
                on:click=move |_| store.act(batch, Body::Undone { event })>
                "Take back the last tap"
            </button>
        }
        .into_any(),
    )
}

/// Jars that did not seal: the deadline, and the ways out for this pack.
fn unsealed(store: Store, batch: Id, load: &Load) -> Option<AnyView> {
    if load.unsettled() == 0 {
        return None;
    }
    let deadline = load.unsealed_deadline()?;
    let late = deadline.since(store.now.get_untracked()) <= Span::ZERO;
    let pack = store.archive.with_untracked(|archive| {
        archive.batch(batch)?.start.as_ref().map(|(_, start)| start.pack)
    });
    let hot = pack == Some(Pack::Hot);
    let time = move || {
        let left = deadline.since(store.now.get());
        if left > Span::ZERO {
            format!("{} left, until {}.", words(left), due_at(store, deadline))
        } else {
            format!("The 24 hours ended {} ago.", words(Span(-left.0)))
        }
    };
    let id = load.id;
    let mut ways = vec![];
    if !late {
        ways.push((Settled::Refrigerated, "Refrigerated", "unsealed-refrigerate"));
        ways.push((Settled::Frozen, "Frozen", "unsealed-freeze"));
        if hot {
            ways.push((Settled::Reprocessed, "Run again", "unsealed-reprocess"));
        }
    }
    ways.push((Settled::Discarded, "Thrown out", "discard-open"));
    let rules: Vec<AnyView> = ways
        .iter()
        .filter_map(|(_, name, id)| Some((*name, rule(id)?)))
        .map(|(name, rule)| {
            view! {
                <li><strong>{name}": "</strong>{rule.text()}" "
                    <span class="source">{rule.publication()}</span></li>
            }
            .into_any()
        })
        .collect();
    let raw = (!hot).then(|| rule("unsealed-raw")).flatten().map(|rule| {
        view! { <p>{rule.text()}</p><p class="source">{rule.publication()}</p> }
    });
    let jars: Vec<AnyView> = load
        .jars
        .iter()
        .filter(|jar| matches!(jar.state, JarState::NotSealed(_)))
        .map(|jar| {
            let number = jar.number;
            let buttons: Vec<AnyView> = ways
                .iter()
                .map(|(way, name, _)| {
                    let way = *way;
                    view! {
                        <button type="button" class="pick" on:click=move |_| store.act(
                            batch, Body::UnsealedSettled { load: id, jar: number, way })>{*name}</button>
                    }
                    .into_any()
                })
                .collect();
            view! { <li><b>{format!("Jar {number}")}</b><div class="row">{buttons}</div></li> }.into_any()
        })
        .collect();
    Some(
        view! {
            {section("Jars that did not seal")}
            <p class="lead" class:late=late>{time}</p>
            <ul class="plain">{rules}</ul>
            {raw}
            <ul class="lines">{jars}</ul>
        }
        .into_any(),
    )
}

/// Label text, and the place on the shelf.
fn shelve(store: Store, batch: Id, load: &Load) -> Option<AnyView> {
    if load.unchecked() > 0 || load.sealed() == 0 {
        return None;
    }
    let text = store.archive.with_untracked(|archive| {
        let batch = archive.batch(batch)?;
        label(batch, load)
    })?;
    let canned = crate::app::device::local::time(text.canned).date();
    let best_by = crate::app::device::local::time(text.best_by).date();
    let typed = load.place.clone().map_or_else(
        || store.prefs.with_untracked(|prefs| prefs.shelf_place.clone()),
        |place| place.as_str().to_owned(),
    );
    let place = RwSignal::new(typed);
    let id = load.id;
    let on_shelf = load.place.clone().map(|place| {
        view! { <p class="said">{format!("On the shelf: {}", place.as_str())}</p> }
    });
    let bands = rule("bands-off").map(|rule| {
        view! { <p>{rule.text()}</p>{why("", rule.publication())} }
    });
    let put = move |_| {
        let typed = place.get_untracked();
        match Text::new(&typed) {
            Ok(place) => {
                store.prefer(|prefs| typed.clone_into(&mut prefs.shelf_place));
                store.act(batch, Body::Shelved { load: id, place });
            }
            Err(error) => store.warn(error.to_string()),
        }
    };
    Some(
        view! {
            {section("Label")}
            <div class="label">
                <p><b>{text.content.as_str().to_owned()}</b></p>
                <p>{text.pack}</p>
                <p>{format!("Canned {canned}. Best by {best_by}.")}</p>
                <p>{text.load.clone()}</p>
                <p>{text.process.clone()}</p>
            </div>
            {section("Shelf")}
            {bands}
            {on_shelf}
            {text_field("Where they stand", place.into(), move |text| place.set(text))}
            <button type="button" class="second" on:click=put>"Put on the shelf"</button>
        }
        .into_any(),
    )
}
