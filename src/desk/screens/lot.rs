//! The jars of one load on the shelf: take them out, move them, note their lids.
//!
//! Invariant: a held jar can only be thrown out here; a jar thrown out leaves with
//! the words on how to do it safely.

use super::shelf_kept as kept;
use crate::app::device::local;
use crate::app::draw::{El, Known, Var, button, el, later, link, memo_by, of, region, say, signal};
use crate::app::parts::{Pause, any_rules, heading, page, section, text_field};
use crate::app::store::{Notice, Store};
use hearthjar::batch::{Body, Id, Jar, JarNumbers, JarState, Load, ShelfEvent, Taken, Text};
use hearthjar::doubt::said;
use hearthjar::present::{Route, dispute};
use hearthjar::process::Food;
use hearthjar::shelf::BEST_WITHIN;
use hearthjar::t;

thread_local! {
    /// Once a jar was taken.
    static PAUSE: Pause = const { Pause::new() };
}

/// What the parts of the screen share.
#[derive(Clone, Copy)]
struct Here {
    store: Store,
    batch: Id,
    load: Id,
    is: Known<Option<Load>>,
    /// Numbers of the jars picked.
    picked: Var<Vec<u16>>,
}

/// The screen of one load's jars.
pub fn lot(store: Store, batch: Id, load: Id) -> Vec<El> {
    let is = memo_by(
        move || store.look(|archive| archive.stamp(batch)),
        move || store.look(|archive| archive.batch(batch)?.load(load).cloned()),
    );
    let back = of("p", "over-title").child(link("", &Route::Shelf.hash(), t!("Shelf")));
    let Some(now) = is.get_untracked().filter(|load| load.run.told_hold().is_some()) else {
        return vec![page(vec![back, heading(t!("These jars are not on this phone"))])];
    };
    let free = now.jars.iter().find(|jar| stands(jar) && !jar.held);
    let picked = signal(free.map(|jar| jar.number).into_iter().collect::<Vec<u16>>());
    let here = Here { store, batch, load, is, picked };
    let place = signal(now.place_of(1).map_or("", Text::as_str).to_owned());
    let lids = signal(now.lids.as_str().to_owned());
    let mut parts = vec![back];
    parts.extend(about(here, &now));
    parts.push(region(move || held(here)));
    parts.push(say("p", t!("Tap the jars you take.")));
    parts.push(of("div", "jars").fill(move || tiles(here)));
    parts.push(region(move || taking(here)));
    parts.push(later(move || below(here, place, lids)));
    vec![page(parts)]
}

/// What is read or done more seldom than taking jars.
fn below(here: Here, place: Var<String>, lids: Var<String>) -> Vec<El> {
    let mut parts = vec![section(t!("Safe to eat?"))];
    parts.push(any_rules(&["spoilage", "boil-before-eating", "opened", "crystals", "store"]));
    parts.push(section(t!("Throw it out safely")));
    parts.push(any_rules(&["in-doubt", "discard-sealed", "discard-open", "discard-clean"]));
    parts.push(section(t!("Put elsewhere")));
    parts.push(places(here.store));
    let stand = text_field(t!("Where they stand now"), place);
    if let Ok(Some(input)) = stand.raw().query_selector("input") {
        let _ = input.set_attribute("list", "places");
    }
    parts.push(stand);
    parts.push(
        button("second", t!("Move the picked jars"), move || move_to(here, place))
            .disabled_if(move || here.picked.with(Vec::is_empty)),
    );
    parts.push(section(t!("Lids")));
    parts.push(text_field(t!("Lid lot, as printed on their box"), lids));
    parts.push(button("second", t!("Note the lid lot"), move || note_lids(here, lids)));
    parts.push(any_rules(&["lids-once"]));
    parts.push(of("p", "over-title").child(link(
        "",
        &Route::Doubt(here.batch, here.load).hash(),
        t!("Something was wrong with this load"),
    )));
    parts
}

const fn stands(jar: &Jar) -> bool {
    matches!(jar.state, JarState::Sealed(_))
}

fn about(here: Here, load: &Load) -> Vec<El> {
    let start = here.store.look_now(|archive| archive.batch(here.batch)?.start.clone());
    let Some((_, start)) = start else { return Vec::new() };
    let several = here.store.look_now(|archive| Some(archive.batch(here.batch)?.loads.len() > 1));
    let number = match several {
        Some(true) => t!("Load {}", load.number) + ". ",
        _ => String::new(),
    };
    let food = Food::by_key(&start.product).map_or("", |food| food.short());
    let Some((_, canned)) = load.run.told_hold() else { return Vec::new() };
    let best = canned.plus(BEST_WITHIN);
    let day = |at| local::time(at).date();
    let year = match here.store.now.get_untracked() > best {
        true => t!("Best before {}: past its best year.", day(best)),
        false => t!("Best by {}.", day(best)),
    };
    vec![
        heading(start.content.as_str()),
        say("p", &t!("{}, {}, {} jars", food, start.pack.name(), start.jar.name())),
        of("p", "quiet").text(&number).text(&t!("Canned {}. {} ", day(canned), year)).child(link(
            "",
            &Route::Batch(here.batch).hash(),
            t!("The whole record"),
        )),
    ]
}

/// The open doubts about this load, and where two phones disagree.
fn held(here: Here) -> Vec<El> {
    let says = here.store.look(|archive| {
        let batch = archive.batch(here.batch)?;
        let open = batch.holds.iter().filter(|hold| {
            hold.said.load == here.load
                && hold.said.jars.as_slice().iter().any(|jar| hold.keeps(here.load, *jar))
        });
        Some(
            open.map(|hold| said::shown(hold.said.cause, hold.said.say.as_str()))
                .collect::<Vec<String>>(),
        )
    });
    let differ = here.store.look(|archive| {
        let conflicts = archive.batch(here.batch)?.conflicts.iter();
        let mut jars: Vec<u16> = conflicts.filter(|c| c.load == here.load).map(|c| c.jar).collect();
        jars.dedup();
        Some(jars)
    });
    let differ = differ.unwrap_or_default().into_iter().map(|jar| {
        of("p", "lost").text(&t!(
            "Two phones say different things about jar {}. Look whether and how it stands here.",
            jar
        ))
    });
    // Settled where the load's seals are checked.
    let dispute = here.is.with(|load| load.as_ref().and_then(dispute)).map(|text| {
        let load = Route::Load(here.batch, here.load).hash();
        of("p", "lost").text(text).text(" ").child(link("", &load, t!("Settle")))
    });
    says.unwrap_or_default()
        .iter()
        .map(|text| {
            of("p", "lost").child(say("strong", t!("Held: "))).text(text).text(" ").child(link(
                "",
                &Route::Doubts.hash(),
                t!("The doubts"),
            ))
        })
        .chain(differ)
        .chain(dispute)
        .collect()
}

fn tiles(here: Here) -> Vec<El> {
    let Some(load) = here.is.get() else { return Vec::new() };
    let tile = |jar: &Jar| {
        let (number, held) = (jar.number, jar.held);
        let place = load.moved.iter().find(|(moved, _)| *moved == number);
        let words = if held { t!("held") } else { place.map_or("", |(_, place)| place.as_str()) };
        let class = if held { "tile open" } else { "tile" };
        of("button", class)
            .attr("type", "button")
            .attr_by("aria-pressed", move || {
                Some(here.picked.with(|picked| picked.contains(&number)).to_string())
            })
            .child(say("b", &number.to_string()))
            .text(" ")
            .child(say("span", words))
            .on("click", move |_| {
                here.picked.update(|picked| match picked.iter().position(|one| *one == number) {
                    Some(at) => drop(picked.remove(at)),
                    None => picked.push(number),
                });
            })
    };
    let tiles: Vec<El> = load.jars.iter().filter(|jar| stands(jar)).map(tile).collect();
    if tiles.is_empty() {
        return vec![
            of("p", "quiet").text(t!("No jar of this load stands on the shelf any more.")),
        ];
    }
    tiles
}

/// The ways jars leave.
fn taking(here: Here) -> Vec<El> {
    let count = here.picked.with(Vec::len);
    let any_held = here.is.with(|load| {
        load.as_ref().is_some_and(|load| {
            here.picked
                .with(|picked| picked.iter().any(|one| load.jar(*one).is_some_and(|jar| jar.held)))
        })
    });
    let jars = if count == 1 { t!("1 jar").to_owned() } else { t!("{} jars", count) };
    let ways = [
        (Taken::Eaten, t!("Eaten##taken out")),
        (Taken::Given, t!("Given away##taken out")),
        (Taken::LostSeal, t!("Lost its seal##taken out")),
        (Taken::Spoiled, t!("Spoiled##taken out")),
    ];
    let buttons = ways.into_iter().map(|(how, name)| {
        let may = count > 0 && (!any_held || matches!(how, Taken::LostSeal | Taken::Spoiled));
        // The next jar is picked by itself: a second tap of the same hand must not take it.
        let paused = move || PAUSE.with(|pause| pause.lasts(here.store));
        button("mode", name, move || take_out(here, how)).disabled_if(move || !may || paused())
    });
    let mut parts = vec![
        of("p", "name").text(&format!("{jars}:")),
        of("div", "modes wrap").children(buttons.collect()),
    ];
    if any_held {
        parts.push(of("p", "quiet").text(t!(
            "A held jar cannot be eaten or given. Lift the doubt first, or throw the jar out."
        )));
    }
    parts
}

fn take_out(here: Here, how: Taken) {
    PAUSE.with(Pause::begin);
    let (load, store) = (here.load, here.store);
    let mut jars = here.picked.get_untracked();
    jars.sort_unstable();
    let many = jars.len();
    let taken = jars.into_iter().map(|jar| Body::JarTaken { load, jar, how }).collect();
    store.act_many(vec![(here.batch, taken)], move |undo| {
        let out = if many == 1 { t!("Taken out.").to_owned() } else { t!("{} taken out.", many) };
        let text = match how {
            Taken::Eaten => {
                t!("{} Once open: refrigerate at once, eat within 3 days.", out)
            }
            Taken::Given => t!("{} Hand the record over with it.", out),
            Taken::LostSeal | Taken::Spoiled | Taken::Doubted => t!(
                "{} Do not taste it, and keep animals off. How to throw it out safely stands \
                 below.",
                out
            ),
        };
        let bad = !matches!(how, Taken::Eaten | Taken::Given);
        // From the record itself: what the screen follows has not heard of it yet.
        let next = store.look_now(|archive| {
            let free = |jar: &&Jar| stands(jar) && !jar.held;
            archive.batch(here.batch)?.load(load)?.jars.iter().find(free).map(|jar| jar.number)
        });
        here.picked.set(next.into_iter().collect());
        store.notice.set(Some(Notice { text, bad, undo }));
    });
}

/// The places in use, to pick from while typing.
fn places(store: Store) -> El {
    let names: Vec<String> = kept::shelf(store, |shelf| {
        shelf.places().into_iter().map(|place| place.as_str().to_owned()).collect()
    });
    let options = names.iter().map(|name| el("option").attr("value", name)).collect();
    el("datalist").attr("id", "places").children(options)
}

fn move_to(here: Here, place: Var<String>) {
    let store = here.store;
    let jars = JarNumbers::new(here.picked.get_untracked());
    let (Some(jars), Ok(place)) = (jars, place.with_untracked(|typed| Text::new(typed))) else {
        return store.warn(t!("Pick the jars, and say in a few words where they stand."));
    };
    if place.is_empty() {
        return store.warn(t!("Say where they stand now."));
    }
    let moved = ShelfEvent::JarsMoved { load: here.load, jars, place };
    store.act_many(vec![(here.batch, vec![Body::AtShelf(moved)])], move |undo| {
        store.notice.set(Some(Notice { text: t!("Moved.").to_owned(), bad: false, undo }));
    });
}

fn note_lids(here: Here, lids: Var<String>) {
    let store = here.store;
    match lids.with_untracked(|typed| Text::new(typed)) {
        Ok(lot) => {
            let noted = Body::AtShelf(ShelfEvent::LidsUsed { load: here.load, lot });
            store.act_many(vec![(here.batch, vec![noted])], move |undo| {
                let text = t!("Noted. A lot that fails can be found again under Jars in doubt.")
                    .to_owned();
                store.notice.set(Some(Notice { text, bad: false, undo }));
            });
        }
        Err(error) => store.warn(error.to_string()),
    }
}
