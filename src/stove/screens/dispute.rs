//! Where two phones disagree: about a load's full time, or about a jar.
//!
//! Invariant: the unsafe word counts until a person settles it here; both words are
//! shown, and one of them is taken back or borne out.

use super::load::Here;
use crate::app::draw::{El, button, el, of, say};
use crate::app::parts::{due_at, name_of};
use crate::app::store::new_id;
use hearthjar::batch::{Body, Cause, Doubted, Id, Jar, JarNumbers, ShelfEvent, Text, Verdict};
use hearthjar::present::{Route, dispute as words};
use hearthjar::t;

/// The question about the full time, if there is one.
pub(super) fn dispute(here: Here) -> Vec<El> {
    let Some(load) = here.is.get() else { return Vec::new() };
    let (Some(text), Some((event, at))) = (words(&load), load.broke) else { return Vec::new() };
    let name = here.store.look_now(|archive| name_of(archive, here.batch, event));
    let told = t!(
        "Another phone, at {} by its clock: {}.",
        due_at(here.store, at),
        name.unwrap_or_default()
    );
    let mut question = of("div", "question")
        .attr("role", "alert")
        .child(el("p").child(say("strong", text)))
        .child(say("p", &told))
        .child(undo(here, t!("That was a mistake: take it back"), event));
    if load.is_disputed() {
        question = question.child(button("second", t!("It is true: the jars go out"), move || {
            throw_out(here);
        }));
    }
    vec![question]
}

fn undo(here: Here, label: &str, event: Id) -> El {
    button("second", label, move || here.store.act(here.batch, Body::Undone { event }))
}

/// The jars that are still here are thrown out, as for any doubt.
fn throw_out(here: Here) {
    let Some(load) = here.is.get_untracked() else { return };
    let left = load.jars.iter().filter(|jar| Jar::in_house(jar)).map(|jar| jar.number);
    let (Some(jars), Ok(say)) =
        (JarNumbers::new(left), Text::new(t!("The pressure fell within the full time")))
    else {
        return;
    };
    let doubted = ShelfEvent::Doubted(Doubted {
        doubt: new_id(),
        cause: Cause::LateDip,
        say,
        load: here.load,
        jars,
        verdict: Verdict::Discarded,
    });
    let store = here.store;
    // How to throw them out safely stands there.
    store.act_all(here.batch, vec![Body::AtShelf(doubted)], move |_| store.go(Route::Doubts));
}

/// Jars of the load that two phones say different things about.
pub(super) fn jars_in_dispute(here: Here) -> Vec<El> {
    let _ = here.is.get();
    let found = here.store.look_now(|archive| {
        let mut found = Vec::new();
        for one in &archive.batch(here.batch)?.conflicts {
            if one.load == here.load {
                let name = |event| Some((event, name_of(archive, here.batch, event)?));
                found.push((one.jar, [name(one.events.0), name(one.events.1)]));
            }
        }
        Some(found)
    });
    let mut parts = Vec::new();
    for (jar, words) in found.unwrap_or_default() {
        let text =
            t!("Two phones say different things about jar {}. Look at it: which is wrong?", jar);
        let mut question = of("div", "question").child(say("p", &text));
        for (event, name) in words.into_iter().flatten() {
            question = question.child(undo(here, &t!("Take back: {}", name), event));
        }
        parts.push(question);
    }
    parts
}
