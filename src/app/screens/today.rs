//! The first screen: what is hot, what is due, and the way to start.
//!
//! Invariant: while the record is still being read it shows the clocks of the
//! last visit, so that a cold start is never without them.

use crate::app::parts::{due_at, heading, section};
use crate::app::prefs::clocks;
use crate::app::store::{Storage, Store};
use hearthjar::batch::{Archive, Load, Text};
use hearthjar::present::{Due, Need, Route, agenda, digits, words};
use hearthjar::units::Span;
use leptos::prelude::*;

/// The day's screen.
pub fn today(store: Store) -> AnyView {
    if store.storage.with(|storage| *storage == Storage::Opening) {
        return cold(store);
    }
    // The list changes seldom; the clocks in it change every second.
    let list = Memo::new(move |_| {
        let now = store.now.get();
        store.archive.with(|archive| agenda(archive, now))
    });
    let entries = move || {
        let due = list.get();
        if due.is_empty() {
            return view! {
                <p class="lead">"Nothing is on the stove and nothing is due."</p>
            }
            .into_any();
        }
        let items: Vec<AnyView> = due.into_iter().map(|due| entry(store, due)).collect();
        view! { <ul class="cards">{items}</ul> }.into_any()
    };
    view! {
        {heading("Today")}
        {entries}
        {batches(store)}
        <div class="foot">
            <a class="main" href=Route::Find.hash()>"Can something"</a>
        </div>
    }
    .into_any()
}

/// The clocks of the last visit.
fn cold(store: Store) -> AnyView {
    let items: Vec<AnyView> = clocks()
        .into_iter()
        .map(|copy| {
            let left = move || {
                let now = store.now.get();
                match copy.due {
                    Some(due) if due > now => digits(due.since(now)),
                    Some(_) => "over".to_owned(),
                    None => digits(now.since(copy.since)),
                }
            };
            view! {
                <li><a class="card hot" href=Route::Load(copy.batch, copy.load).hash()>
                    <span class="big">{left}</span>
                    <span>{copy.title.clone()}</span>
                    <span class="quiet">{copy.content.clone()}</span>
                </a></li>
            }
            .into_any()
        })
        .collect();
    view! {
        {heading("Today")}
        <p class="quiet">"Reading the record…"</p>
        <ul class="cards">{items}</ul>
    }
    .into_any()
}

fn content_of(archive: &Archive, due: &Due) -> Option<(Text, Load)> {
    let batch = archive.batch(due.batch)?;
    let content = batch.start.as_ref().map(|(_, start)| start.content.clone()).unwrap_or_default();
    Some((content, batch.load(due.load)?.clone()))
}

fn entry(store: Store, due: Due) -> AnyView {
    let Some((content, load)) = store.archive.with_untracked(|a| content_of(a, &due)) else {
        return ().into_any();
    };
    let what = format!("{}, load {}", content.as_str(), load.number);
    let href = Route::Load(due.batch, due.load).hash();
    let (class, big, say) = match due.need {
        Need::Running => {
            let title =
                hearthjar::present::RunView::of(&load, store.now.get_untracked(), "", &[]).title;
            let left = move || {
                let now = store.now.get();
                match load.run.left(now) {
                    Some(left) if left > Span::ZERO => digits(left),
                    Some(_) => "over".to_owned(),
                    None => digits(load.run.elapsed(now)),
                }
            };
            ("card hot", left.into_any(), title)
        }
        Need::Unsealed(deadline) => {
            let left = move || {
                let left = deadline.since(store.now.get());
                if left > Span::ZERO { words(left) } else { "too late".to_owned() }
            };
            ("card due", left.into_any(), "left to deal with jars that did not seal".to_owned())
        }
        Need::CheckSeals => ("card due", "Check".into_any(), "Rested: check the seals".to_owned()),
        Need::Planned => ("card", "Load".into_any(), "Planned: load the canner".to_owned()),
        Need::Resting(until) => {
            let at = due_at(store, until);
            ("card", at.into_any(), "Resting. Check the seals then".to_owned())
        }
    };
    view! {
        <li><a class=class href=href>
            <span class="big">{big}</span>
            <span>{say}</span>
            <span class="quiet">{what}</span>
        </a></li>
    }
    .into_any()
}

/// The latest batches, newest first.
fn batches(store: Store) -> AnyView {
    let list = move || {
        store.archive.with(|archive| {
            let mut batches: Vec<_> = archive
                .batches()
                .filter_map(|batch| {
                    let (at, start) = batch.start.as_ref()?;
                    Some((*at, batch.id, start.content.clone(), batch.loads.len()))
                })
                .collect();
            batches.sort_by_key(|(at, ..)| core::cmp::Reverse(*at));
            batches.truncate(20);
            batches
        })
    };
    let items = move || {
        list()
            .into_iter()
            .map(|(at, id, content, loads)| {
                let day = crate::app::device::local::time(at).date();
                let loads = if loads == 1 { "1 load".to_owned() } else { format!("{loads} loads") };
                view! {
                    <li><a class="line" href=Route::Batch(id).hash()>
                        <span>{content.as_str().to_owned()}</span>
                        <span class="quiet">{format!("{day}, {loads}")}</span>
                    </a></li>
                }
                .into_any()
            })
            .collect::<Vec<_>>()
    };
    view! {
        {move || (!list().is_empty()).then(|| view! {
            {section("Batches")}
            <ul class="lines">{items()}</ul>
        })}
    }
    .into_any()
}
