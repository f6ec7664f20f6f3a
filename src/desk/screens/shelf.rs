//! The jars put up: oldest first, found by a word, taken out one by one.
//!
//! Invariant: a jar that lost its seal leaves with the words on how to throw it out.

use crate::app::device::local;
use crate::app::draw::{El, button, el, link, memo, of, say, signal};
use crate::app::parts::{heading, page, rules, section, text_field};
use crate::app::store::{Notice, Store};
use hearthjar::batch::{Body, Id, Taken};
use hearthjar::present::Route;
use hearthjar::process::rule;
use hearthjar::shelf::{Lot, lots};
use hearthjar::units::EpochMs;
use leptos::prelude::*;

/// The shelf's screen.
pub fn shelf(store: Store) -> Vec<El> {
    let typed = signal(String::new());
    let list = memo(move || {
        let search = typed.get();
        store.look(|archive| lots(archive, &search))
    });
    let today = store.now.get_untracked();
    vec![page(vec![
        heading("Shelf"),
        text_field("Search by food, size or place", typed),
        el("p").attr("role", "status").text_by(move || {
            let jars: usize = list.with(|lots| lots.iter().map(|lot| lot.jars.len()).sum());
            format!("{jars} jars, oldest first.")
        }),
        of("ul", "lines")
            .fill(move || list.get().into_iter().map(|lot| line(store, lot, today)).collect()),
        section("Before you open or eat"),
        rules(&[
            "spoilage",
            "discard-sealed",
            "discard-open",
            "discard-clean",
            "crystals",
            "boil-before-eating",
            "opened",
            "store",
        ]),
    ])]
}

fn line(store: Store, lot: Lot, today: EpochMs) -> El {
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
    let buttons = take
        .into_iter()
        .map(|(how, name)| button("pick", name, move || take_out(store, batch, load, first, how)))
        .collect();
    let name = link("", &Route::Batch(batch).hash(), lot.content.as_str());
    of("li", "lot")
        .child(el("p").child(say("b", "").child(name)).text(&format!(", {}", lot.pack.name())))
        .child(say("p", &format!("{} × {}{place}", lot.jars.len(), lot.size.name())))
        .child(of("p", "quiet").text(&format!("canned {canned}, {best}")))
        .child(
            el("details")
                .child(say("summary", &format!("Take out jar {first}")))
                .child(of("div", "row").children(buttons)),
        )
}

fn take_out(store: Store, batch: Id, load: Id, jar: u16, how: Taken) {
    store.act_all(batch, vec![Body::JarTaken { load, jar, how }], move |ids| {
        let text = match how {
            Taken::Eaten => {
                "Taken out. Once open: refrigerate at once, eat within 3 days.".to_owned()
            }
            Taken::Given => "Given. Hand the record over with it.".to_owned(),
            Taken::LostSeal | Taken::Spoiled | Taken::Doubted => {
                let rule = rule("discard-open").map_or("", |rule| rule.text());
                format!("Do not taste it, and keep animals off. {rule}")
            }
        };
        let undo = ids.last().map(|event| (batch, *event));
        let bad = matches!(how, Taken::LostSeal | Taken::Spoiled);
        store.notice.set(Some(Notice { text, bad, undo }));
    });
}
