//! One batch: its loads, what was recorded, and another load.
//!
//! Invariant: the record is shown as it is, with what did not fit it.

use crate::app::parts::{heading, section, when_short};
use crate::app::store::Store;
use hearthjar::batch::{Batch, Body, Id, Load, Text};
use hearthjar::present::{Route, RunView, words};
use hearthjar::process::Food;
use leptos::prelude::*;

/// The batch's screen.
pub fn batch(store: Store, id: Id) -> AnyView {
    let is = Memo::new(move |_| store.archive.with(|archive| archive.batch(id).cloned()));
    view! {
        {move || match is.get() {
            Some(batch) => shown(store, batch),
            None => view! {
                {heading("Not here")}
                <p class="lead">"This batch is not in the record on this phone."</p>
            }.into_any(),
        }}
    }
    .into_any()
}

fn shown(store: Store, batch: Batch) -> AnyView {
    let id = batch.id;
    let Some((at, start)) = batch.start.clone() else {
        return view! {
            {heading("Batch without its beginning")}
            <p class="lead">"Entries of this batch are here, but not its first one. Take in a \
                whole file of it."</p>
        }
        .into_any();
    };
    let food = Food::by_key(&start.product).map_or("", Food::name);
    let facts = format!(
        "{food}, {}, {} jars, {} ft ({} m)",
        start.pack.name(),
        start.jar.name(),
        start.altitude.feet(),
        start.altitude.metres()
    );
    let loads: Vec<AnyView> = batch.loads.iter().map(|load| line(store, id, load)).collect();
    let again = batch.loads.last().map(|last| {
        let plan = last.plan.clone();
        view! {
            <button type="button" class="main" on:click=move |_| {
                store.act_all(id, vec![Body::LoadPlanned(plan.clone())], move |ids| {
                    if let Some(load) = ids.last() {
                        store.go(Route::Load(id, *load));
                    }
                });
            }>"Plan another load"</button>
        }
    });
    view! {
        {heading(start.content.as_str())}
        {start.demo.then(|| view! { <p class="said">"Invented example"</p> })}
        <p class="lead">{facts}</p>
        <p class="quiet">{format!("Begun {}. Batch {}.", when_short(store, at), id.short())}</p>
        {section("Loads")}
        <ul class="lines">{loads}</ul>
        {notes(store, &batch)}
        {oddities(&batch)}
        <div class="foot">{again}</div>
    }
    .into_any()
}

fn line(store: Store, batch: Id, load: &Load) -> AnyView {
    let now = store.now.get_untracked();
    let title = RunView::of(load, now, "", &[]).title;
    let held = load.run.full_hold().map(|(from, to)| {
        let span = words(to.since(from));
        view! { <span class="quiet">{format!("held {span} from {}", when_short(store, from))}</span> }
    });
    let seals = (load.unchecked() < load.jars.len()).then(|| {
        view! { <span class="quiet">{format!("{} of {} sealed", load.sealed(), load.jars.len())}</span> }
    });
    let restarts = load.run.restarts().len();
    let restarts = (restarts > 0).then(|| {
        view! { <span class="quiet">{format!("full time started over {restarts} times")}</span> }
    });
    view! {
        <li><a class="line" href=Route::Load(batch, load.id).hash()>
            <span><b>{format!("Load {}", load.number)}</b>{format!(", {} jars. {title}", load.jars.len())}</span>
            {held}{restarts}{seals}
        </a></li>
    }
    .into_any()
}

fn notes(store: Store, batch: &Batch) -> AnyView {
    let id = batch.id;
    let list: Vec<AnyView> = batch
        .notes
        .iter()
        .map(|(at, _, text)| {
            view! {
                <li>{text.as_str().to_owned()}" "
                    <span class="quiet">{when_short(store, *at)}</span></li>
            }
            .into_any()
        })
        .collect();
    let typed = RwSignal::new(String::new());
    let add = move |_| match Text::new(&typed.get_untracked()) {
        Ok(text) if text.is_empty() => {}
        Ok(text) => store.act(id, Body::Noted { load: None, text }),
        Err(error) => store.warn(error.to_string()),
    };
    view! {
        {section("Notes")}
        <ul class="plain">{list}</ul>
        {crate::app::parts::text_field("Note", typed.into(), move |text| typed.set(text))}
        <button type="button" class="second" on:click=add>"Add the note"</button>
    }
    .into_any()
}

/// What the fold could not use, in words.
fn oddities(batch: &Batch) -> Option<AnyView> {
    let mut lines = Vec::new();
    if batch.unknown > 0 {
        lines.push(format!(
            "{} entries come from a newer Hearthjar. They are kept, but not shown here.",
            batch.unknown
        ));
    }
    if !batch.refused.is_empty() {
        lines.push(format!(
            "{} entries did not fit where the batch stood. They are kept, but change nothing.",
            batch.refused.len()
        ));
    }
    for conflict in &batch.conflicts {
        lines.push(format!(
            "Two phones say different things about jar {}. Check that jar again.",
            conflict.jar
        ));
    }
    let items: Vec<AnyView> =
        lines.into_iter().map(|line| view! { <li>{line}</li> }.into_any()).collect();
    (!items.is_empty())
        .then(|| view! { {section("To know")}<ul class="plain">{items}</ul> }.into_any())
}
