//! Files out: the record handed to family; the desk draws the way in below.
//!
//! Invariant: what goes out is the record's own text, whole batches of it.

use super::desk;
use crate::app::device::{files, local};
use crate::app::draw::{El, Var, button, el, link, of, region, say, signal, spawn};
use crate::app::parts::{heading, page, section};
use crate::app::store::Store;
use crate::app::written::written;
use hearthjar::batch::{Batch, Id};
use hearthjar::present::{Route, begun};
use hearthjar::t;
use wasm_bindgen::JsValue;

/// Batches listed before the older ones are asked for.
const LISTED: usize = 50;

/// The screen of both ways.
pub fn hand_over(store: Store) -> Vec<El> {
    let left_out = signal(Vec::<Id>::new());
    let all = signal(false);
    let mut parts = vec![
        heading(t!("Hand over")),
        section(t!("Give out")),
        region(move || give_out(store, left_out, all)),
        section(t!("Take in")),
    ];
    // Reading files is the desk's: what goes out must not wait for it.
    parts.extend(desk());
    parts.push(section(t!("Files")));
    let more = link("", &Route::Files.hash(), t!("Backup, tables, calendar"));
    parts.push(of("p", "over-title").child(more));
    vec![page(parts)]
}

fn give_out(store: Store, left_out: Var<Vec<Id>>, all: Var<bool>) -> Vec<El> {
    let (lines, more): (Vec<El>, usize) = store.look(|archive| {
        let batches = begun(archive);
        let most = if all.get() { batches.len() } else { LISTED };
        let some = batches.iter().take(most);
        let lines = some.filter_map(|id| line(archive.batch(*id)?, left_out)).collect();
        (lines, batches.len().saturating_sub(most))
    });
    if lines.is_empty() {
        return vec![of("p", "quiet").text(t!("No batches yet."))];
    }
    let more = match more {
        0 => el("div"),
        more => button("second", &t!("And {} older: show all", more), move || all.set(true)),
    };
    vec![
        of("ul", "lines").children(lines),
        more,
        button("main", t!("Share or save the file"), move || give(store, left_out)),
        button("second", t!("Copy as text"), move || copy(store, left_out)),
    ]
}

fn line(batch: &Batch, left_out: Var<Vec<Id>>) -> Option<El> {
    let (at, content) = batch.begun()?;
    let id = batch.id;
    let input = el("input")
        .attr("type", "checkbox")
        .prop_by("checked", move || JsValue::from_bool(left_out.with(|out| !out.contains(&id))))
        .on("change", move |_| {
            left_out.update(|out| {
                let before = out.len();
                out.retain(|one| *one != id);
                if out.len() == before {
                    out.push(id);
                }
            });
        });
    let name = format!("{}, {}", content.as_str(), local::time(at).date());
    Some(el("li").child(of("label", "choice wide").child(input).child(say("span", &name))))
}

fn give(store: Store, left_out: Var<Vec<Id>>) {
    let out = left_out.get_untracked();
    let name = format!("hearthjar-{}.txt", local::time(store.now.get_untracked()).date());
    spawn(async move {
        let text = written(store, &out).await;
        match files::offer(&name, "text/plain", &text).await {
            files::Offered::Shared => store.say(t!("Handed over.")),
            files::Offered::Downloaded => store.say(t!("Saved as {}.", name)),
            files::Offered::Cancelled => {}
            files::Offered::Failed => {
                store.warn(t!("This browser gives out no files. Copy it instead."));
            }
        }
    });
}

fn copy(store: Store, left_out: Var<Vec<Id>>) {
    let out = left_out.get_untracked();
    spawn(async move {
        let text = written(store, &out).await;
        if files::copy(&text).await {
            store.say(t!("Copied. Paste it into a message."));
        } else {
            store.warn(t!("This browser would not copy. Use the file instead."));
        }
    });
}
