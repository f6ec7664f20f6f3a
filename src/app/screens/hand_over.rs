//! Files out and in: the record handed to family, and taken in from them.
//!
//! Invariant: a file is looked at first, taken in whole or not at all, and can be
//! taken out again with one tap.

use crate::app::device::{files, local};
use crate::app::parts::{heading, section};
use crate::app::store::Store;
use hearthjar::batch::{Event, Id};
use hearthjar::exchange::{
    Change, Intake, MAX_FILE_BYTES, Preview, ReadError, preview, read, write,
};
use leptos::prelude::*;
use std::collections::BTreeSet;

/// The screen of both ways.
pub fn hand_over(store: Store) -> AnyView {
    view! {
        {heading("Hand over")}
        {out(store)}
        {take_in(store)}
    }
    .into_any()
}

fn out(store: Store) -> AnyView {
    let left_out = RwSignal::new(BTreeSet::<Id>::new());
    let list = move || {
        store.archive.with(|archive| {
            archive
                .batches()
                .filter_map(|batch| {
                    let (at, start) = batch.start.as_ref()?;
                    Some((batch.id, *at, start.content.as_str().to_owned()))
                })
                .collect::<Vec<_>>()
        })
    };
    let items = move || {
        list()
            .into_iter()
            .map(|(id, at, content)| {
                let day = local::time(at).date();
                view! {
                    <li><label class="choice wide">
                        <input type="checkbox" prop:checked=move || left_out.with(|out| !out.contains(&id))
                            on:change=move |_| left_out.update(|out| {
                                if !out.remove(&id) {
                                    out.insert(id);
                                }
                            }) />
                        <span>{format!("{content}, {day}")}</span>
                    </label></li>
                }
                .into_any()
            })
            .collect::<Vec<_>>()
    };
    let text = move || {
        let out = left_out.get_untracked();
        store.archive.with_untracked(|archive| {
            write(archive.all_events().filter(|event| !out.contains(&event.batch())))
        })
    };
    let give = move |_| {
        let text = text();
        let day = local::time(store.now.get_untracked()).date();
        leptos::task::spawn_local(async move {
            let name = format!("hearthjar-{day}.txt");
            match files::offer(&name, "text/plain", &text).await {
                files::Offered::Shared => store.say("Handed over."),
                files::Offered::Downloaded => store.say(format!("Saved as {name}.")),
                files::Offered::Cancelled => {}
                files::Offered::Failed => {
                    store.warn("This browser gives out no files. Copy it instead.")
                }
            }
        });
    };
    let copy = move |_| {
        let text = text();
        leptos::task::spawn_local(async move {
            if files::copy(&text).await {
                store.say("Copied. Paste it into a message.");
            } else {
                store.warn("This browser would not copy. Use the file instead.");
            }
        });
    };
    let empty = move || list().is_empty();
    view! {
        {section("Give out")}
        <Show when=move || !empty() fallback=|| view! { <p class="quiet">"No batches yet."</p> }>
            <ul class="lines">{items}</ul>
            <button type="button" class="main" on:click=give>"Share or save the file"</button>
            <button type="button" class="second" on:click=copy>"Copy as text"</button>
        </Show>
    }
    .into_any()
}

/// What is being looked at.
#[derive(Clone, PartialEq)]
enum Look {
    Nothing,
    Bad(String),
    Good(Preview),
}

fn take_in(store: Store) -> AnyView {
    let look = RwSignal::new(Look::Nothing);
    let pasted = RwSignal::new(String::new());
    let undo = RwSignal::new(None::<Intake>);
    let examine = move |text: String| {
        look.set(match read(&text) {
            Ok(events) => Look::Good(store.archive.with_untracked(|a| preview(a, events))),
            Err(error) => Look::Bad(error.to_string()),
        });
    };
    let pick = move |_| {
        leptos::task::spawn_local(async move {
            match files::pick(MAX_FILE_BYTES).await {
                files::Picked::Text(text) => examine(text),
                files::Picked::TooBig => look.set(Look::Bad(ReadError::TooBig.to_string())),
                files::Picked::NotText => look.set(Look::Bad(ReadError::Foreign.to_string())),
                files::Picked::Cancelled => {}
            }
        });
    };
    let undo_part = move || {
        undo.get().map(|intake| {
            view! {
                <div class="notice">
                    <p>{format!("{} entries were taken in.", intake.add.len())}</p>
                    <button type="button" on:click=move |_| {
                        take_out(store, intake.clone());
                        undo.set(None);
                    }>"Take them out again"</button>
                </div>
            }
        })
    };
    let shown = move || match look.get() {
        Look::Nothing => ().into_any(),
        Look::Bad(text) => view! { <p class="answer no" role="alert">{text}</p> }.into_any(),
        Look::Good(found) => looked(store, found, look, undo),
    };
    view! {
        {section("Take in")}
        <p>"You see what a file holds before anything changes."</p>
        <button type="button" class="main" on:click=pick>"Choose a file"</button>
        <label class="field">
            <span class="name">"Or paste its text"</span>
            <textarea rows="3" prop:value=move || pasted.get()
                on:input=move |event| pasted.set(event_target_value(&event))></textarea>
        </label>
        <button type="button" class="second" on:click=move |_| examine(pasted.get_untracked())>
            "Look at the pasted text"
        </button>
        <section aria-live="polite">{shown}{undo_part}</section>
    }
    .into_any()
}

fn looked(
    store: Store,
    found: Preview,
    look: RwSignal<Look>,
    undo: RwSignal<Option<Intake>>,
) -> AnyView {
    let items: Vec<AnyView> = found
        .batches
        .iter()
        .map(|one| {
            let content =
                one.content.as_ref().map_or("Batch without its beginning", |c| c.as_str());
            let day = one.began.map_or(String::new(), |at| format!(", {}", local::time(at).date()));
            let change = match one.change {
                Change::New => "new".to_owned(),
                Change::Same => "the same as here".to_owned(),
                Change::Grown(1) => "1 entry more".to_owned(),
                Change::Grown(entries) => format!("{entries} entries more"),
            };
            view! { <li>{format!("{content}{day}: {change}")}</li> }.into_any()
        })
        .collect();
    let household = (found.household > 0).then(|| {
        view! { <p>{format!("Canners and places: {} entries more.", found.household)}</p> }
    });
    let nothing = found.intake.add.is_empty();
    let intake = found.intake;
    let accept = move |_| {
        let intake = intake.clone();
        leptos::task::spawn_local(async move {
            if store.keep(intake.add.clone()).await {
                look.set(Look::Nothing);
                undo.set(Some(intake));
            }
        });
    };
    let button = if nothing {
        view! { <p class="lead">"All of it is here already."</p> }.into_any()
    } else {
        view! { <button type="button" class="main" on:click=accept>"Take it in"</button> }
            .into_any()
    };
    view! {
        <div class="answer yes">
            <h2>"In this file"</h2>
            <ul class="plain">{items}</ul>
            {household}
            {button}
            <button type="button" class="second" on:click=move |_| look.set(Look::Nothing)>
                "Leave it"
            </button>
        </div>
    }
    .into_any()
}

fn take_out(store: Store, intake: Intake) {
    let names = intake.names();
    let replaced: Vec<Event> = intake.replaced;
    leptos::task::spawn_local(async move {
        if store.drop_events(names).await && !replaced.is_empty() {
            store.keep(replaced).await;
        }
    });
}
