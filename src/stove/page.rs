//! The stove's page: the bars, the screens, the way between them.
//!
//! Invariant: the clock, the alarm and the record work without the desk's half.

use crate::app::device::{self, dom, tabs, texts, wake, worker};
use crate::app::draw::{El, button, el, link, memo, of, region, say, spawn, svg};
use crate::app::parts::{lost_bars, notice_box, page as page_of};
use crate::app::store::rescue::in_pieces;
use crate::app::store::{Storage, Store};
use crate::{ahead, screens, ticker};
use hearthjar::present::Route;
use hearthjar::t;

/// Mounts the page and takes the skeleton away.
pub fn start() {
    texts::take();
    leptos::mount::mount_to_body(page);
    dom::remove("boot");
    dom::set_root("data-ready", "yes");
}

fn page() {
    let store = Store::new(Route::parse(&dom::hash()), ticker::clock_moved);
    wake::start();
    let alarm = ticker::start(store);
    worker::watch(store.update);
    tabs::join(move |told| {
        alarm.hear(store, &told);
        store.hear(&told);
    });
    tabs::stand();
    dom::lead_links();
    dom::on_hash(move |hash| {
        if store.route.try_set(Route::parse(&hash)) {
            store.notice.set(None);
            // After the screen has been drawn.
            spawn(async {
                leptos::task::tick().await;
                dom::focus("title");
                // It takes its screen away, if it has one.
                dom::call_desk();
            });
        }
    });
    spawn(async move {
        store.open().await;
        ticker::look_back(store);
        ahead::draw(store);
        // What a large take-in has left to do is done by the desk's half.
        if in_pieces() {
            dom::set_root("data-pieces", "");
            dom::call_desk();
        }
        // A cold start with no hot canner is the moment for a waiting build.
        if store.update.get_untracked() && !store.is_running() {
            worker::take_over();
        }
    });
    let skip = link("skip", "#title", t!("Skip to the content")).on("click", |event| {
        let _ = device::prevent_default(&event);
        dom::focus("title");
    });
    skip.mount();
    of("div", "bars").attr("role", "alert").fill(move || bars(store, alarm)).mount();
    let read = memo(move || read_safety(store));
    let which = memo(move || {
        let opening = store.storage.with(|storage| *storage == Storage::Opening);
        match store.route.get() {
            _ if !read.get() => (Route::Safety, false),
            Route::Safety => (Route::Safety, false),
            // Until the record is read: the clocks of the last visit.
            _ if opening => (Route::Today, true),
            Route::Today if store.lacks.get() => (Route::Today, true),
            route if !store.whole.get() && needs_rest(store, route) => (route, true),
            route => (route, false),
        }
    });
    el("main").fill(move || screen(store, which.get())).mount();
    of("div", "notices").attr("role", "status").fill(move || notices(store)).mount();
    of("div", "notices").attr("role", "status").attr("id", "desk-says").mount();
    region(move || if read.get() { nav(store) } else { Vec::new() }).mount();
}

fn title(route: Route) -> &'static str {
    match route {
        Route::Today => t!("Today"),
        Route::Find | Route::FindFor(_) => t!("Find a process"),
        Route::Batch(_) => t!("Batch"),
        Route::Load(..) => t!("Load##noun"),
        Route::HandOver => t!("Hand over"),
        Route::Safety => t!("Before you can"),
        // The desk names its own.
        _ => "Hearthjar",
    }
}

/// Whether a screen shows more than was read first.
fn needs_rest(store: Store, route: Route) -> bool {
    match route {
        Route::HandOver => true,
        Route::Batch(batch) | Route::Load(batch, _) | Route::FindFor(batch) => {
            store.look_now(|archive| archive.batch(batch).is_none())
        }
        _ => false,
    }
}

fn screen(store: Store, (route, cold): (Route, bool)) -> Vec<El> {
    dom::set_title(title(route));
    match route {
        Route::Today => screens::today(store, cold),
        _ if cold => vec![page_of(vec![say("p", t!("Reading the record…"))])],
        Route::Find => screens::find(store, None),
        Route::FindFor(lot) => screens::find(store, Some(lot)),
        Route::Batch(batch) => screens::batch(store, batch),
        Route::Load(batch, load) => screens::load(store, batch, load),
        Route::HandOver => screens::hand_over(store),
        Route::Safety => screens::safety(store),
        _ => screens::desk(),
    }
}

/// Whether the safety page was read. A phone that dies may forget the preference,
/// never the record: who has a batch has read it, and must not be kept from a run.
fn read_safety(store: Store) -> bool {
    store.habit(|prefs| prefs.safety_read)
        || store.look(|archive| archive.batches().next().is_some())
}

fn nav(store: Store) -> Vec<El> {
    let links = [
        (Route::Today, "#mark-today", t!("Today")),
        (Route::Shelf, "#mark-shelf", t!("Shelf")),
        (Route::HandOver, "#mark-hand-over", t!("Hand over")),
        (Route::More, "#mark-more", t!("More")),
    ];
    let links = links
        .into_iter()
        .map(|(route, mark, name)| {
            let mark = svg("svg").attr("aria-hidden", "true").child(svg("use").attr("href", mark));
            of("a", "tab")
                .attr("href", &route.hash())
                .child(mark)
                .text(name)
                .attr_by("aria-current", move || {
                    (store.route.get() == route).then(|| "page".to_owned())
                })
        })
        .collect();
    vec![el("nav").attr("aria-label", t!("Main")).children(links)]
}

/// Bars that must be seen: a time that is over, a record that is not being saved.
fn bars(store: Store, alarm: ticker::Alarm) -> Vec<El> {
    let mut bars = Vec::new();
    let ringing = alarm.ringing.get();
    if !ringing.is_empty() {
        let looks = ringing.iter().all(|(_, look)| *look);
        let says = if looks { t!("Look at the gauge. ") } else { t!("Time is over. ") };
        let mut over = el("p").text(says);
        for (batch, load) in store.attended() {
            // Its own screen says what to do.
            let route = Route::Load(batch, load.id);
            if ringing.contains(&(load.id, looks)) && store.route.get() != route {
                let href = route.hash();
                over = over.child(link("", &href, &store.name_of(batch, load.number))).text(" ");
            }
        }
        let quiet = button("", t!("Quiet"), move || alarm.quiet(store));
        bars.push(of("div", "alarm").child(over).child(quiet));
    }
    bars.extend(lost_bars(store));
    bars
}

fn notices(store: Store) -> Vec<El> {
    let mut list = notice_box(store);
    if store.update.get() && !store.is_running() {
        list.push(
            of("div", "notice").child(say("p", t!("A new Hearthjar is ready."))).child(button(
                "",
                t!("Use it now"),
                worker::take_over,
            )),
        );
    }
    list
}
