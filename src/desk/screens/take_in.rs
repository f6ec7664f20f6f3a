//! Files in: looked at first, then taken in whole or not at all.
//!
//! Invariant: nothing changes before the tap that says so, and one tap takes it
//! out again.

use super::look_in::look_in;
use crate::app::device::{clock, files, local};
use crate::app::draw::{El, Var, button, el, of, region, say, signal, spawn, typed};
use crate::app::store::intake::TakenIn;
use crate::app::store::{Storage, Store};
use hearthjar::exchange::{BatchChange, Change, MAX_FILE_BYTES, Preview, ReadError};
use hearthjar::order;
use hearthjar::t;
use std::sync::Arc;
use wasm_bindgen::JsValue;

/// Most batches listed one by one, but for those that need a word.
const LISTED: usize = 50;
/// A text longer than this takes a moment, bytes.
const LONG: usize = 400_000;

/// What is being looked at.
#[derive(Clone)]
enum Look {
    Nothing,
    /// A text, the so-manieth, is being looked at; whether that takes a moment.
    Looking(u32, bool),
    Bad(String),
    Good(Arc<Preview>),
    /// It is being taken in; how many entries.
    Taking(usize),
    TakenIn(Arc<TakenIn>),
}

/// Looks at a text; a later one takes its place.
async fn examine(store: Store, look: Var<Look>, text: String) {
    let turn = match look.try_get_untracked() {
        Some(Look::Looking(turn, _)) => turn.wrapping_add(1),
        _ => 0,
    };
    let long = text.len() > LONG;
    look.set(Look::Looking(turn, long));
    if long {
        clock::breathe().await;
    }
    let found = look_in(store, &text).await;
    if matches!(look.try_get_untracked(), Some(Look::Looking(now, _)) if now == turn) {
        look.set(match found {
            Ok(found) => Look::Good(Arc::new(found)),
            Err(error) => Look::Bad(error.to_string()),
        });
    }
}

/// The lower part of the hand-over screen, drawn into the place left for it there.
pub fn take_in(store: Store) -> Vec<El> {
    let look = signal(Look::Nothing);
    let pasted = signal(String::new());
    let pick = move || {
        spawn(async move {
            match files::pick(MAX_FILE_BYTES).await {
                files::Picked::Text(text) => examine(store, look, text).await,
                files::Picked::TooBig => look.set(Look::Bad(ReadError::TooBig.to_string())),
                files::Picked::NotText => look.set(Look::Bad(ReadError::Foreign.to_string())),
                files::Picked::Cancelled => {}
            }
        });
    };
    let paste = el("textarea")
        .attr("rows", "3")
        .prop_by("value", move || JsValue::from_str(&pasted.get()))
        .on("input", move |event| pasted.set(typed(&event)));
    vec![
        say("p", t!("You see what a file holds before anything changes.")),
        button("main", t!("Choose a file"), pick),
        of("label", "field")
            .child(of("span", "name").text(t!("Or paste its text, or that of a picture code")))
            .child(paste),
        button("second", t!("Look at the pasted text"), move || {
            spawn(examine(store, look, pasted.get_untracked()));
        }),
        region(move || match look.get() {
            Look::Nothing | Look::Looking(_, false) => Vec::new(),
            Look::Looking(_, true) => vec![of("p", "quiet").text(t!("Looking at the file…"))],
            Look::Bad(text) => vec![of("p", "answer no").attr("role", "alert").text(&text)],
            Look::Good(found) => vec![looked(store, &found, look)],
            Look::Taking(entries) => {
                vec![of("p", "quiet").text(&t!("Taking in {} entries…", entries))]
            }
            Look::TakenIn(taken) => vec![took(store, taken, look)],
        })
        .attr("aria-live", "polite"),
    ]
}

fn line(one: &BatchChange) -> El {
    let content = one.content.as_ref().map_or(t!("Batch without its beginning"), |c| c.as_str());
    let day = one.began.map_or(String::new(), |at| format!(", {}", local::time(at).date()));
    let change = match one.change {
        Change::New => t!("new").to_owned(),
        Change::Same => t!("the same as here").to_owned(),
        Change::Grown(1) => t!("1 entry more").to_owned(),
        Change::Grown(entries) => t!("{} entries more", entries),
    };
    let line = say("li", &format!("{content}{day}: {change}"));
    if one.disputed.is_empty() {
        return line;
    }
    line.text(" ").child(of("span", "late").text(t!(
        "Another phone says that the pressure fell in a load of it: its jars would be held until you settle that."
    )))
}

/// The lines of what needs a word, then of the newest batches; and how many are left out.
fn lines(found: &Preview) -> (Vec<El>, usize) {
    let all: Vec<&BatchChange> = found.batches.iter().collect();
    let sorted = order::by_key(all, |one| match (one.disputed.is_empty(), one.began) {
        (false, _) => (i64::MIN, 0),
        (true, Some(began)) => (-began.0, 1),
        (true, None) => (0, 1),
    });
    let most = sorted.iter().filter(|one| !one.disputed.is_empty()).count().max(LISTED);
    let left = sorted.len().saturating_sub(most);
    (sorted.into_iter().take(most).map(line).collect(), left)
}

fn looked(store: Store, found: &Arc<Preview>, look: Var<Look>) -> El {
    let household = (found.household > 0)
        .then(|| say("p", &t!("Canners and places: {} entries more.", found.household)));
    let (lines, left) = lines(found);
    let more = (left > 0).then(|| {
        let batches = if left == 1 { t!("1 batch").into() } else { t!("{} batches", left) };
        say("p", &t!("And {} more.", batches))
    });
    let main = if found.intake.count == 0 {
        of("p", "lead").text(t!("All of it is here already."))
    } else if store.storage.with_untracked(|storage| *storage != Storage::Ready) {
        of("p", "lead").text(t!("Nothing can be saved now. Keep the file, and take it in later."))
    } else {
        let found = Arc::clone(found);
        button("main", t!("Take it in"), move || {
            let found = Arc::clone(&found);
            // Once, however often it is tapped.
            look.set(Look::Taking(found.intake.count));
            spawn(async move {
                match store.take_in(Arc::new(found.intake.clone())).await {
                    Ok(taken) => look.set(Look::TakenIn(Arc::new(taken))),
                    Err(why) => {
                        store.warn(why);
                        look.set(Look::Good(found));
                    }
                }
            });
        })
    };
    of("div", "answer yes")
        .child(say("h2", t!("In this file")))
        .child(of("ul", "plain").children(lines))
        .maybe(more)
        .maybe(household)
        .child(main)
        .child(button("second", t!("Leave it"), move || look.set(Look::Nothing)))
}

fn took(store: Store, taken: Arc<TakenIn>, look: Var<Look>) -> El {
    let text = t!("{} entries were taken in.", taken.intake.count);
    of("div", "notice").child(say("p", &text)).child(button(
        "",
        t!("Take them out again"),
        move || {
            let taken = Arc::clone(&taken);
            spawn(async move {
                store.take_out(&taken).await;
                look.set(Look::Nothing);
            });
        },
    ))
}
