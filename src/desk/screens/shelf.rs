//! The jars put up: oldest first, found by a word, narrowed by choice.
//!
//! Invariant: a key typed touches only the rows in view; a held lot says so in
//! words on its row.

use super::rows::{Row, Rows};
use super::shelf_kept::{self as kept, Left};
use crate::app::device::local;
use crate::app::draw::{El, Var, el, follow, link, of, say, signal, spawn, typed};
use crate::app::parts::{any_rules, heading, page, text_field};
use crate::app::store::Store;
use hearthjar::batch::Text;
use hearthjar::present::Route;
use hearthjar::process::{Group, Jar};
use hearthjar::shelf::{Filter, Lot};
use hearthjar::t;
use hearthjar::units::EpochMs;
use hearthjar::words::joined;
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::JsValue;

/// The shelf's screen.
pub fn shelf(store: Store) -> Vec<El> {
    let Left { typed, filter, top } = kept::left();
    let typed = signal(typed);
    let filter = signal(filter);
    let today = store.now.get_untracked();
    let list = of("ul", "rows").attr("aria-label", t!("Jars by load"));
    let (count, says) = of("p", "quiet").attr("role", "status").slot();
    let ways = of("p", "ways")
        .child(link("", &Route::Year.hash(), t!("Jars by year")))
        .child(link("", &Route::Doubts.hash(), t!("Jars in doubt")));
    let page = page(vec![
        heading(t!("Shelf")),
        text_field(t!("Search: food, size, place, lids"), typed),
        of("div", "folds").child(fold(t!("Narrow it down"), choices(store, filter, today))).child(
            fold(
                t!("Before you eat"),
                any_rules(&[
                    "in-doubt",
                    "spoilage",
                    "discard-sealed",
                    "discard-open",
                    "discard-clean",
                    "crystals",
                    "boil-before-eating",
                    "opened",
                    "store",
                ]),
            ),
        ),
        ways,
        count,
        list.clone(),
    ])
    .attr("class", "page long");
    let rows = Rows::new(&page, list, move || row(today));
    let scrolled = Rc::clone(&rows);
    let page = page.on("scroll", move |_| {
        scrolled.scroll();
        kept::leave(|left| left.top = scrolled.top());
    });
    let shown = Rc::clone(&rows);
    let said = std::cell::RefCell::new(String::new());
    follow(move || {
        let (lots, jars) =
            typed.with(|typed| filter.with(|filter| kept::find(store, typed, filter)));
        shown.show(lots);
        let now = counted(jars, lots);
        if let Some(says) = &says
            && *said.borrow() != now
        {
            says.set_data(&joined(&now));
            *said.borrow_mut() = now;
        }
        kept::leave(|left| {
            typed.with_untracked(|typed| left.typed.clone_from(typed));
            filter.with_untracked(|filter| left.filter.clone_from(filter));
        });
    });
    spawn(async move {
        // Once the list is in the page and the focus has been set.
        leptos::task::tick().await;
        leptos::task::tick().await;
        rows.measure();
        rows.return_to(top);
    });
    vec![page]
}

fn fold(name: &str, inside: El) -> El {
    el("details").child(say("summary", name)).child(inside)
}

fn counted(jars: usize, lots: usize) -> String {
    match (jars, lots) {
        (0, _) => t!("No jars found.").to_owned(),
        (1, _) => t!("1 jar.").to_owned(),
        (jars, 1) => t!("{} jars.", jars),
        (jars, lots) => t!("{} jars in {} lots, oldest first.", jars, lots),
    }
}

/// An empty row, and what writes a line into it.
fn row(today: EpochMs) -> Row {
    let (name, title) = el("b").slot();
    let (many, much) = el("span").slot();
    let (dates, when) = of("span", "quiet").slot();
    let (held, back) = of("strong", "held-mark").slot();
    let line = el("a").child(name).child(el("span").child(held.clone()).child(many)).child(dates);
    let row = of("li", "row-line").child(line.clone());
    let (shown, marked) = (Cell::new(None), Cell::new(0));
    let li = row.raw().clone();
    let write = move |number: usize| {
        kept::line(number, &shown, |lot| {
            let put = |slot: &Option<web_sys::Text>, text: &str| {
                if let Some(slot) = slot {
                    slot.set_data(&joined(text));
                }
            };
            put(&title, lot.content.as_str());
            put(&much, &amount(lot));
            put(&when, &dated(lot, today));
            let to = Route::Lot(lot.batch, lot.load).hash();
            let _ = line.raw().set_attribute("href", &to);
            let held = lot.held.len();
            if marked.replace(held) != held {
                let says = if held > 0 { t!("{} held. ", held) } else { String::new() };
                put(&back, &says);
                let _ = li.class_list().toggle_with_force("held-lot", held > 0);
            }
        });
    };
    (row, Box::new(write))
}

/// Where they stand comes before how they were packed: a long line is cut at its end.
fn amount(lot: &Lot) -> String {
    let place = lot.place.as_ref().map_or("", Text::as_str);
    let comma = if place.is_empty() { "" } else { ", " };
    format!("{} × {}{comma}{place}, {}", lot.jars.len(), lot.size.name(), lot.pack.name())
}

fn dated(lot: &Lot, today: EpochMs) -> String {
    let until = local::time(lot.best_by).date();
    let dated = if lot.is_past_best(today) {
        t!("Past its best: {}", until)
    } else {
        t!("Best by {}##on a row", until)
    };
    // Two loads of one batch look alike but for this.
    match lot.of_several {
        true => format!("{}. {dated}", t!("Load {}", lot.load_number)),
        false => dated,
    }
}

/// What narrows the list, each a list to pick from.
fn choices(store: Store, filter: Var<Filter>, today: EpochMs) -> El {
    let parts = kept::shelf(store, |shelf| {
        let places: Vec<Text> = shelf.places().into_iter().cloned().collect();
        (shelf.groups(), shelf.sizes(), places)
    });
    let (groups, sizes, places) = parts;
    let now = filter.get_untracked();
    let group = pick(
        t!("Food"),
        groups.iter().map(|group| group_name(*group).to_owned()).collect(),
        groups.iter().position(|group| now.group == Some(*group)),
        move |chosen| {
            filter.update(|filter| filter.group = chosen.and_then(|at| groups.get(at).copied()));
        },
    );
    let size = pick(
        t!("Size"),
        sizes.iter().map(|size: &Jar| size.name().to_owned()).collect(),
        sizes.iter().position(|size| now.size == Some(*size)),
        move |chosen| {
            filter.update(|filter| filter.size = chosen.and_then(|at| sizes.get(at).copied()));
        },
    );
    let place = pick(
        t!("Place"),
        places.iter().map(|place| place.as_str().to_owned()).collect(),
        places.iter().position(|place| now.place.as_ref() == Some(place)),
        move |chosen| {
            filter.update(|filter| filter.place = chosen.and_then(|at| places.get(at).cloned()));
        },
    );
    let which = if now.held { Some(0) } else { now.past_best.map(|_| 1) };
    let names = vec![t!("held for a doubt").to_owned(), t!("past the best year").to_owned()];
    let only = pick(t!("Only jars"), names, which, move |chosen| {
        filter.update(|filter| {
            filter.held = chosen == Some(0);
            filter.past_best = (chosen == Some(1)).then_some(today);
        });
    });
    of("div", "picks").children(vec![group, size, place, only])
}

/// A list to pick one of, or all.
fn pick(
    name: &str,
    options: Vec<String>,
    chosen: Option<usize>,
    choose: impl Fn(Option<usize>) + 'static,
) -> El {
    let mut list = el("select").child(say("option", t!("all")).attr("value", ""));
    for (number, option) in options.iter().enumerate() {
        list = list.child(say("option", option).attr("value", &number.to_string()));
    }
    let now = chosen.map_or_else(String::new, |at| at.to_string());
    let list = list
        .prop_by("value", move || JsValue::from_str(&now))
        .on("change", move |event| choose(typed(&event).parse().ok()));
    of("label", "field").child(of("span", "name").text(name)).child(list)
}

fn group_name(group: Group) -> &'static str {
    match group {
        Group::Fish => t!("Fish"),
        Group::Shellfish => t!("Shellfish"),
        Group::Meat => t!("Meat and game"),
        Group::Poultry => t!("Poultry and rabbit"),
        Group::Stock => t!("Stock"),
        Group::Soup => t!("Soup"),
        Group::Vegetable => t!("Vegetables"),
    }
}
