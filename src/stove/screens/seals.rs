//! The seal check at the counter, and the label and shelf that follow it.
//!
//! Invariant: one tap a jar; a jar is on the shelf only after every jar of the
//! load was checked.

use super::batch::another_load;
use super::dispute::{dispute, jars_in_dispute};
use super::load::Here;
use super::unsealed::{unsealed, way_name};
use crate::app::device::local;
use crate::app::draw::{El, Var, button, el, link, memo, of, region, say, signal};
use crate::app::parts::{heading, page, rules, section, take_back, text_field, translated};
use hearthjar::batch::{Body, Jar, JarState, Load, Seal, Text};
use hearthjar::exchange::label;
use hearthjar::present::Route;
use hearthjar::t;

/// The seal check of a load.
pub(super) fn seals(here: Here) -> Vec<El> {
    let mark = signal(Seal::Sealed);
    // Looked up once: the place is noted by the very tap that leaves the screen standing.
    let place = signal(here.store.prefs.with_untracked(|prefs| prefs.shelf_place.clone()));
    let marks = [
        (Seal::Sealed, t!("Sealed")),
        (Seal::NotSealed, t!("Not sealed")),
        (Seal::Broken, t!("Broken")),
    ];
    let modes = marks
        .into_iter()
        .map(|(seal, name)| {
            button("mode", name, move || mark.set(seal))
                .attr_by("aria-pressed", move || Some((mark.get() == seal).to_string()))
        })
        .collect();
    let checking = here.is.get_untracked().is_some_and(|load| load.unchecked() > 0);
    let tests = el("details").child(say("summary", t!("How to tell"))).child(rules(&[
        "seal-press",
        "seal-tap",
        "seal-look",
        "seal-no-proof",
    ]));
    let tests = if checking { tests.attr("open", "") } else { tests };
    let back = link("", &Route::Batch(here.batch).hash(), &here.what());
    let count = memo(move || here.look(|load| load.map_or(0, |load| load.jars.len() as u64)));
    let turn = memo(move || here.look(|load| load.map_or(0, turn_of)));
    let parts = vec![
        of("p", "over-title").child(back),
        heading(t!("Check the seals")),
        region(move || dispute(here)),
        say("p", t!("Take the bands off. Press, tap and look at each jar, then tap it here.")),
        of("div", "modes")
            .attr("role", "group")
            .attr("aria-label", t!("Mark jars as"))
            .children(modes),
        of("div", "jars").fill(move || {
            let count = u16::try_from(count.get()).unwrap_or(u16::MAX);
            (1..=count).map(|number| tile(here, number, mark)).collect()
        }),
        el("p")
            .attr("role", "status")
            .text_by(move || here.look(|load| load.map_or_else(String::new, counts))),
        region(move || jars_in_dispute(here)),
        region(move || undo(here)),
        // They have a deadline: what to do with them comes before how to tell.
        region(move || unsealed(here)),
        tests,
        region(move || shelve(here, place)),
        el("div").maybe(translated(move || {
            here.store.prefer(|prefs| prefs.shelf_place = place.get_untracked());
        })),
    ];
    vec![
        page(parts),
        of("div", "foot").fill(move || {
            turn.get();
            way_on(here, place)
        }),
    ]
}

fn counts(load: &Load) -> String {
    let all = load.jars.len();
    t!("{} of {} checked. {} sealed.", all - load.unchecked(), all, load.found_sealed())
}

/// The class of a jar's tile, and its word.
fn face(jar: Jar) -> (&'static str, &'static str) {
    match jar.state {
        JarState::Unchecked => ("tile", t!("not checked")),
        JarState::Sealed(_) if jar.held => ("tile open", t!("sealed")),
        JarState::Sealed(_) => ("tile sealed", t!("sealed")),
        JarState::NotSealed(_) => ("tile open", t!("not sealed")),
        JarState::Broken(_) => ("tile open", t!("broken")),
        JarState::Settled(_, way) => ("tile done", way_name(way)),
        JarState::Taken(..) => ("tile done", t!("taken")),
    }
}

/// One jar. A tap changes the tile of its jar alone, at its place.
fn tile(here: Here, number: u16, mark: Var<Seal>) -> El {
    let jar = move || here.look(|load| load?.jar(number).copied());
    let word = move || jar().map_or("", |jar| face(jar).1).to_owned();
    let held = move || if jar().is_some_and(|jar| jar.held) { t!("held##jar") } else { "" };
    el("button")
        .attr("type", "button")
        .attr_by("class", move || jar().map(|jar| face(jar).0.to_owned()))
        // The spaces are for who hears it.
        .child(say("b", &format!("{number} ")))
        .child(el("span").text_by(word).text(" "))
        .child(el("span").text_by(move || held().to_owned()))
        .disabled_if(move || {
            let fixed = |jar: Jar| matches!(jar.state, JarState::Taken(..) | JarState::Settled(..));
            jar().is_none_or(fixed)
        })
        .on("click", move |_| {
            // A hand goes from jar to jar faster than a row becomes durable: taps wait.
            let (batch, load, seal) = (here.batch, here.load, mark.get_untracked());
            let taps = here.store.look_now(|all| all.seal_taps(batch, load, number, seal));
            here.store.act_all(batch, taps, |_| {});
        })
}

fn undo(here: Here) -> Vec<El> {
    let last = here.look(|load| load?.last);
    last.into_iter().map(|event| take_back(here.store, here.batch, event)).collect()
}

/// Label text, and the place on the shelf.
fn shelve(here: Here, place: Var<String>) -> Vec<El> {
    let Some(load) = here.is.get() else { return Vec::new() };
    if load.unchecked() > 0 || load.sealed() == 0 {
        return Vec::new();
    }
    let text = here.store.look_now(|archive| label(archive.batch(here.batch)?, &load));
    let Some(text) = text else { return Vec::new() };
    let dates = t!(
        "Canned {}. Best by {}.",
        local::time(text.canned).date(),
        local::time(text.best_by).date()
    );
    let card = of("div", "label")
        .child(el("p").child(say("b", text.content.as_str())))
        .child(say("p", text.pack))
        .child(say("p", &dates))
        .child(say("p", &text.load))
        .child(say("p", &text.process));
    // Once they stand there, the shelf is where the place is changed.
    let stands = match &load.place {
        None => text_field(t!("Where they stand"), place),
        Some(place) => {
            let href = Route::Lot(here.batch, here.load).hash();
            of("p", "said").text(&on_shelf(place.as_str())).text(" ").child(link(
                "",
                &href,
                t!("Take jars, or change the place"),
            ))
        }
    };
    vec![
        section(t!("Label")),
        card,
        of("p", "over-title").child(link(
            "",
            &Route::Labels(here.batch).hash(),
            t!("Labels to print"),
        )),
        section(t!("Shelf")),
        rules(&["bands-off"]),
        stands,
    ]
}

fn on_shelf(place: &str) -> String {
    match place {
        "" => t!("On the shelf.").to_owned(),
        place => t!("On the shelf: {}", place),
    }
}

/// A number that stands for all the way on depends on.
fn turn_of(load: &Load) -> u64 {
    let flags = u64::from(load.unchecked() > 0) * 2 + u64::from(may_shelve(load));
    load.unsettled() as u64 * 4 + flags
}

fn may_shelve(load: &Load) -> bool {
    load.unchecked() == 0 && load.sealed() > 0 && load.place.is_none()
}

/// The main action: the shelf once every jar is checked, else back to the day.
fn way_on(here: Here, place: Var<String>) -> Vec<El> {
    let today = |class| link(class, &Route::Today.hash(), t!("Today"));
    let Some(load) = here.is.get_untracked() else { return vec![today("main")] };
    if load.unchecked() > 0 {
        // While jars wait to be tapped, nothing else calls for the hand.
        return vec![today("second")];
    }
    let mut way = Vec::new();
    if load.unsettled() > 0 {
        // Beside the main action: they have a deadline.
        way.push(say("p", &t!("Not sealed, still to be dealt with: {}", load.unsettled())));
    }
    if !may_shelve(&load) {
        way.push(another_load(here.store, here.batch, "second", &load.plan));
        way.push(today("main"));
        return way;
    }
    way.push(button("main", t!("Put on the shelf"), move || {
        let typed = place.get_untracked();
        match Text::new(&typed) {
            Ok(text) => {
                here.store.prefer(|prefs| prefs.shelf_place = typed);
                let said = on_shelf(text.as_str());
                let shelved = Body::Shelved { load: here.load, place: text };
                here.store.act_all(here.batch, vec![shelved], move |_| here.store.say(said));
            }
            Err(error) => here.store.warn(error.to_string()),
        }
    }));
    way
}
