//! The seal check at the counter, and the label and shelf that follow it.
//!
//! Invariant: one tap a jar; a jar is on the shelf only after every jar of the
//! load was checked.

use super::batch::another_load;
use super::dispute::{dispute, jars_in_dispute};
use super::load::Here;
use super::unsealed::{unsealed, way_name};
use crate::app::device::local;
use crate::app::draw::{El, Var, button, el, link, of, region, say, signal};
use crate::app::parts::{heading, page, rules, section, take_back, text_field, translated};
use hearthjar::batch::{Body, Jar, JarState, Load, Seal, Text};
use hearthjar::exchange::label;
use hearthjar::present::Route;
use hearthjar::t;

/// The seal check of a load.
pub(super) fn seals(here: Here) -> Vec<El> {
    let mark = signal(Seal::Sealed);
    let place = signal(here.store.habit(|prefs| prefs.shelf_place.clone()));
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
            here.look(|load| load.map_or_else(Vec::new, |load| tiles(here, load, mark)))
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
    vec![page(parts), of("div", "foot").fill(move || way_on(here, place))]
}

fn counts(load: &Load) -> String {
    let all = load.jars.len();
    t!("{} of {} checked. {} sealed.", all - load.unchecked(), all, load.found_sealed())
}

fn tiles(here: Here, load: &Load, mark: Var<Seal>) -> Vec<El> {
    load.jars.iter().map(|jar| tile(here, *jar, mark)).collect()
}

fn tile(here: Here, jar: Jar, mark: Var<Seal>) -> El {
    let (class, words) = match jar.state {
        JarState::Unchecked => ("tile", t!("not checked")),
        JarState::Sealed(_) if jar.held => ("tile open", t!("sealed")),
        JarState::Sealed(_) => ("tile sealed", t!("sealed")),
        JarState::NotSealed(_) => ("tile open", t!("not sealed")),
        JarState::Broken(_) => ("tile open", t!("broken")),
        JarState::Settled(_, way) => ("tile done", way_name(way)),
        JarState::Taken(..) => ("tile done", t!("taken")),
    };
    let fixed = matches!(jar.state, JarState::Taken(..) | JarState::Settled(..));
    el("button")
        .attr("type", "button")
        .attr("class", class)
        .child(say("b", &jar.number.to_string()))
        .text(" ")
        .child(say("span", words))
        .maybe(jar.held.then(|| say("span", t!("held##jar"))))
        .disabled_if(move || fixed)
        .on("click", move |_| {
            // A hand goes from jar to jar faster than a row becomes durable: taps wait.
            let (batch, load, seal) = (here.batch, here.load, mark.get_untracked());
            let taps = here.store.look_now(|all| all.seal_taps(batch, load, jar.number, seal));
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

/// Says beside the main action that jars wait which did not seal.
fn waiting(here: Here) -> Option<El> {
    let left = here.look(|load| load.map_or(0, Load::unsettled));
    (left > 0).then(|| say("p", &t!("Not sealed, still to be dealt with: {}", left)))
}

/// The main action: the shelf once every jar is checked, else back to the day.
fn way_on(here: Here, place: Var<String>) -> Vec<El> {
    let ready = here.look(|load| {
        load.is_some_and(|load| load.unchecked() == 0 && load.sealed() > 0 && load.place.is_none())
    });
    if !ready {
        // While jars wait to be tapped, nothing else calls for the hand.
        let waits = here.look(|load| load.is_some_and(|load| load.unchecked() > 0));
        let today = link(if waits { "second" } else { "main" }, &Route::Today.hash(), t!("Today"));
        return match here.is.get() {
            Some(load) if !waits => {
                let mut way = Vec::from_iter(waiting(here));
                way.push(another_load(here.store, here.batch, "second", &load.plan));
                way.push(today);
                way
            }
            _ => vec![today],
        };
    }
    let mut way = Vec::from_iter(waiting(here));
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
