//! Jars in doubt: what is held, what was thrown out, what was lifted and why.
//!
//! Invariant: lifting needs a reason; throwing out comes with the words on how to
//! do it safely.

use super::doubt_new::new_doubt;
use crate::app::device::local;
use crate::app::draw::{El, Var, button, el, link, of, region, say, signal};
use crate::app::parts::{any_rules, heading, page, section, text_field};
use crate::app::store::{Notice, Store};
use hearthjar::batch::{Id, Text};
use hearthjar::doubt::{DoubtKept, discard, doubts as kept, lift, said};
use hearthjar::present::Route;
use hearthjar::t;

/// The screen of doubts; `about` a load, if it was opened from one.
pub fn doubts(store: Store, about: Option<(Id, Id)>) -> Vec<El> {
    let asked = signal(None::<Id>);
    let reason = signal(String::new());
    let back = match about {
        Some((batch, load)) => link("", &Route::Lot(batch, load).hash(), t!("The jars")),
        None => link("", &Route::Shelf.hash(), t!("Shelf")),
    };
    let mut parts = vec![
        of("p", "over-title").child(back),
        heading(t!("Jars in doubt")),
        of("p", "lead").text(t!(
            "A dial that read high, a wrong altitude, a dip seen too late, lids that fail: \
                 find every jar it touches and hold it back."
        )),
    ];
    parts.push(region(move || {
        let list = store.look(kept);
        if list.is_empty() {
            return vec![of("p", "quiet").text(t!("No jar is in doubt on record."))];
        }
        let cards = list.into_iter().map(|doubt| card(store, doubt, asked, reason)).collect();
        vec![section(t!("On record")), of("ul", "cards").children(cards)]
    }));
    parts.extend(new_doubt(store, about));
    parts.push(section(t!("To know")));
    parts.push(any_rules(&[
        "in-doubt",
        "seal-no-proof",
        "gauge-short",
        "spoilage",
        "boil-before-eating",
        "discard-sealed",
        "discard-open",
        "discard-clean",
    ]));
    vec![page(parts)]
}

fn jars(count: usize) -> String {
    if count == 1 { t!("1 jar").to_owned() } else { t!("{} jars", count) }
}

fn card(store: Store, doubt: DoubtKept, asked: Var<Option<Id>>, reason: Var<String>) -> El {
    let id = doubt.doubt;
    let (held, out) = (doubt.held.len(), doubt.discarded.len());
    let mut says = t!("Since {}. ", local::time(doubt.at).date());
    if held > 0 {
        says.push_str(&t!("{} held. ", jars(held)));
    }
    if out > 0 {
        says.push_str(&t!("{} thrown out. ", jars(out)));
    }
    if doubt.lifted.is_none() && !doubt.before.is_empty() {
        says.push_str(&t!("{} eaten or given before. ", jars(doubt.before.len())));
    }
    if doubt.lifted.is_none() && !doubt.since.is_empty() {
        says.push_str(&t!("{} eaten or given since. ", jars(doubt.since.len())));
    }
    let class = if held > 0 { "card due" } else { "card" };
    let mut card = of("li", class)
        .child(say("b", &said::shown(doubt.cause, doubt.say.as_str())))
        .child(say("p", &says));
    if let Some((at, why)) = &doubt.lifted {
        return card.child(of("p", "quiet").text(&t!(
            "Lifted {}: {}",
            local::time(*at).date(),
            why.as_str()
        )));
    }
    if held > 0 {
        let entries = discard(&doubt);
        card = card.child(button("danger", &t!("Thrown out: {}", jars(held)), move || {
            store.act_many(entries.clone(), move |undo| {
                let text = t!("Noted as thrown out. How to do it safely stands below.").to_owned();
                store.notice.set(Some(Notice { text, bad: true, undo }));
            });
        }));
    }
    let sure = region(move || {
        if asked.get() != Some(id) {
            return vec![button("second", t!("Lift this doubt"), move || asked.set(Some(id)))];
        }
        vec![
            text_field(t!("Why it is lifted"), reason),
            button("second", t!("Lift it and free the jars"), move || lift_it(store, id, reason)),
            button("second", t!("Keep it"), move || asked.set(None)),
        ]
    });
    card.child(el("div").child(sure))
}

fn lift_it(store: Store, doubt: Id, reason: Var<String>) {
    match reason.with_untracked(|typed| Text::new(typed)) {
        Ok(why) if why.is_empty() => store.warn(t!("Say why, so that it can be judged later.")),
        Ok(why) => {
            let entries = store.look_now(|archive| lift(archive, doubt, &why));
            store.act_many(entries, move |undo| {
                reason.set(String::new());
                let text = t!("Lifted. Its jars are free again.").to_owned();
                store.notice.set(Some(Notice { text, bad: false, undo }));
            });
        }
        Err(error) => store.warn(error.to_string()),
    }
}
