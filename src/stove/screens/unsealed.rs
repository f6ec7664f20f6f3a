//! Jars that did not seal: the deadline, and the ways out.
//!
//! Invariant: only ways that the publications allow for this pack and this hour
//! are offered.

use super::load::{Here, remind};
use crate::app::draw::{El, button, el, memo, of, say};
use crate::app::parts::{due_at, rules, section};
use hearthjar::batch::{Body, Jar, JarState, Settled};
use hearthjar::present::words;
use hearthjar::process::Pack;
use hearthjar::t;
use hearthjar::units::{EpochMs, Span};

/// A way out: what is recorded, the rule behind it.
type Way = (Settled, &'static str);

/// What was done with a jar, in words.
pub(super) fn way_name(way: Settled) -> &'static str {
    match way {
        Settled::Refrigerated => t!("Refrigerated"),
        Settled::Frozen => t!("Frozen"),
        Settled::Reprocessed => t!("Run again"),
        Settled::Discarded => t!("Thrown out"),
    }
}

fn ways(hot: bool, late: bool) -> Vec<Way> {
    let mut ways = Vec::new();
    if !late {
        ways.push((Settled::Refrigerated, "unsealed-refrigerate"));
        ways.push((Settled::Frozen, "unsealed-freeze"));
        if hot {
            ways.push((Settled::Reprocessed, "unsealed-reprocess"));
        }
    }
    ways.push((Settled::Discarded, "discard-open"));
    ways
}

/// The part of the seal check about jars that did not seal.
pub(super) fn unsealed(here: Here) -> Vec<El> {
    let Some(load) = here.is.get() else { return Vec::new() };
    let Some(deadline) = load.unsealed_deadline() else { return Vec::new() };
    if load.unsettled() == 0 {
        return Vec::new();
    }
    let store = here.store;
    // Changes once, at the deadline.
    let late = memo(move || store.now.get() >= deadline);
    let late = late.get();
    let hot = store.look_now(|archive| {
        let start = archive.batch(here.batch).and_then(|batch| batch.start.as_ref());
        start.is_some_and(|(_, start)| start.pack == Pack::Hot)
    });
    let ways = ways(hot, late);
    let mut ids: Vec<&str> = ways.iter().map(|(_, id)| *id).collect();
    if !hot && !late {
        ids.push("unsealed-raw");
    }
    let jars = load
        .jars
        .iter()
        .filter(|jar| matches!(jar.state, JarState::NotSealed(_)))
        .map(|jar| one(here, *jar, &ways))
        .collect();
    let remind_me = (!late).then(|| {
        button("second", t!("Put the deadline in my calendar"), move || {
            let what = t!("Unsealed jars: {}", here.what());
            remind(
                here,
                "unsealed",
                deadline.plus(Span::hours(-1)),
                what,
                t!("One hour is left to deal with the jars that did not seal."),
            );
        })
    });
    vec![
        section(t!("Jars that did not seal")),
        of("p", if late { "lead late" } else { "lead" })
            .text_by(move || time(store.now.get(), deadline, due_at(store, deadline))),
        of("ul", "lines").children(jars),
        el("div").maybe(remind_me),
        rules(&ids),
    ]
}

fn time(now: EpochMs, deadline: EpochMs, at: String) -> String {
    let left = deadline.since(now);
    if left > Span::ZERO {
        t!(
            "{} left to deal with them, until {}: 24 hours from the end of the full time.",
            words(left),
            at
        )
    } else {
        t!("The 24 hours ended {} ago: throw these jars out.", words(now.since(deadline)))
    }
}

fn one(here: Here, jar: Jar, ways: &[Way]) -> El {
    let (held, jar) = (jar.held, jar.number);
    // A held jar is not kept for eating.
    let buttons = ways
        .iter()
        .filter(|(way, ..)| !held || *way == Settled::Discarded)
        .map(|(way, _)| {
            let way = *way;
            button("pick", way_name(way), move || {
                let load = here.load;
                here.store.act(here.batch, Body::UnsealedSettled { load, jar, way });
            })
        })
        .collect();
    let held = held.then(|| say("span", t!("held##jar")));
    el("li")
        .child(say("b", &t!("Jar {}", jar)))
        .text(" ")
        .maybe(held)
        .child(of("div", "row").children(buttons))
}
