//! The desk's page: drawn into the place that the stove's half leaves for it.
//!
//! Invariant: it is like another tab over the same record. Nothing the stove shows
//! waits for it, and its fault does not touch a running clock.

use crate::app::device::{clock, dom, tabs, texts};
use crate::app::draw::{El, follow, memo, of, say, signal, spawn};
use crate::app::parts::{lost_bars, notice_box, translated_here};
use crate::app::store::{Storage, Store};
use crate::screens::shelf_kept;
use crate::{kept, plan, screens};
use hearthjar::batch::Id;
use hearthjar::present::Route;
use hearthjar::t;

/// Draws into its place, now and whenever the stove's half makes a new one.
pub fn start() {
    texts::take();
    leptos::mount::mount_to_body(page);
}

fn page() {
    let store = Store::new(Route::parse(&dom::hash()), |_| false);
    // Counts up whenever the stove's half has made, or taken away, the desk's place.
    let places = signal(0_u32);
    dom::on_desk(move || {
        store.notice.set(None);
        store.route.set(Route::parse(&dom::hash()));
        places.update(|count| *count = count.wrapping_add(1));
    });
    tabs::join(move |told| store.hear(&told));
    let tick = move || {
        if store.now.try_set(clock::now()) {
            store.try_again_in_time();
            kept::in_time(store);
        }
    };
    clock::on_second(tick);
    clock::on_shown(tick);
    spawn(async move {
        store.open_kept(kept::take).await;
        if !store.whole.get_untracked() {
            // What changed since it was kept: then the record takes its place.
            shelf_kept::shelf(store, |_| ());
        }
        store.write_on();
    });
    let opening = memo(move || waits(store));
    follow(move || {
        if let Some(batch) = lot_to_fetch(store) {
            spawn(async move { store.fetch(&[batch]).await });
        }
    });
    follow(move || {
        if places.get() == 0 {
            return;
        }
        if let Some(place) = El::found("desk") {
            place.fill(move || match opening.get() {
                true => vec![of("div", "page").child(say("p", t!("Reading the record…")))],
                // Each new route comes with a new place: it is not followed here as well.
                false => screen(store, store.route.get_untracked()),
            });
        }
    });
    // Who hears or types begins at the heading, also of a screen that waited for the
    // record.
    follow(move || {
        if places.get() > 0 && !opening.get() {
            spawn(async {
                leptos::task::tick().await;
                dom::focus("title");
            });
        }
    });
    if let Some(place) = El::found("desk-says") {
        place.fill(move || {
            let mut says = lost_bars(store);
            says.extend(notice_box(store));
            says
        });
    }
}

/// Whether the screen needs more of the record than is in memory.
fn waits(store: Store) -> bool {
    if store.storage.with(|storage| *storage == Storage::Opening) {
        return true;
    }
    !store.whole.get()
        && match store.route.get() {
            Route::Shelf => false,
            Route::Lot(batch, _) => store.look(|archive| archive.batch(batch).is_none()),
            _ => true,
        }
}

/// The batch whose jars are to be shown and that is not in memory yet.
fn lot_to_fetch(store: Store) -> Option<Id> {
    let Route::Lot(batch, _) = store.route.get() else { return None };
    let open = store.storage.with(|storage| *storage == Storage::Ready) && !store.whole.get();
    (open && store.look_now(|archive| archive.batch(batch).is_none())).then_some(batch)
}

/// The title of a screen; `None` where the stove's half has named it.
fn title(route: Route) -> Option<&'static str> {
    Some(match route {
        Route::Plan => t!("Plan · Hearthjar"),
        Route::Raws | Route::Raw(_) => t!("Before the canner · Hearthjar"),
        Route::Brine => t!("Brine and smoke · Hearthjar"),
        Route::Shelf | Route::Lot(..) => t!("Shelf · Hearthjar"),
        Route::Year => t!("Jars by year · Hearthjar"),
        Route::Doubts | Route::Doubt(..) => t!("Jars in doubt · Hearthjar"),
        Route::More => t!("More · Hearthjar"),
        Route::Canners => t!("Canners and places · Hearthjar"),
        Route::Heat(..) => t!("Heat the jars got · Hearthjar"),
        Route::Warming => t!("Why the full time · Hearthjar"),
        Route::Files => t!("Backup and files · Hearthjar"),
        Route::Labels(_) => t!("Labels · Hearthjar"),
        Route::Picture(_) => t!("Picture code · Hearthjar"),
        _ => return None,
    })
}

fn screen(store: Store, route: Route) -> Vec<El> {
    if let Some(title) = title(route) {
        dom::set_title(title);
    }
    let parts = drawn(store, route);
    // Where the screen's rules decide safety, a translation says that it is one.
    let rules = !matches!(
        route,
        Route::HandOver
            | Route::Year
            | Route::More
            | Route::Files
            | Route::Labels(_)
            | Route::Picture(_)
    );
    if let Some(page) = parts.first().filter(|_| rules) {
        let _ = page.clone().maybe(translated_here());
    }
    parts
}

fn drawn(store: Store, route: Route) -> Vec<El> {
    match route {
        Route::Plan => plan::plan(store),
        Route::HandOver => screens::take_in(store),
        Route::Shelf => screens::shelf(store),
        Route::Raws => screens::raws(store),
        Route::Raw(lot) => screens::raw(store, lot),
        Route::Brine => screens::brine(store),
        Route::Lot(batch, load) => screens::lot(store, batch, load),
        Route::Year => screens::year(store),
        Route::Doubts => screens::doubts(store, None),
        Route::Doubt(batch, load) => screens::doubts(store, Some((batch, load))),
        Route::More => screens::more(store),
        Route::Canners => screens::canners(store),
        Route::Heat(batch, load) => screens::heat(store, batch, load),
        Route::Warming => screens::warming(store),
        Route::Files => screens::files_screen(store),
        Route::Labels(batch) => screens::labels(store, batch),
        Route::Picture(batch) => screens::picture_screen(store, batch),
        // The stove's own screens; the desk has no place then.
        _ => Vec::new(),
    }
}
