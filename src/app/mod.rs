//! The page: Leptos views over the domain library.
//!
//! Invariant: no rule of canning lives here; views show what the library says.

mod demo;
mod device;
mod parts;
mod prefs;
mod screens;
mod store;
mod ticker;

use device::{dom, tabs, wake, worker};
use hearthjar::present::Route;
use leptos::prelude::*;
use store::{Storage, Store};

/// Mounts the page and takes the skeleton away.
pub fn start() {
    dom::remove("boot");
    mount_to_body(page);
    dom::set_root("data-ready", "yes");
}

/// The state of the screen's wake lock, shared by context.
#[derive(Clone, Copy)]
struct Lamp(RwSignal<wake::Wake>);

fn page() -> impl IntoView {
    let store = Store::new(Route::parse(&dom::hash()));
    provide_context(store);
    provide_context(Lamp(wake::start()));
    let alarm = ticker::start(store);
    provide_context(alarm);
    worker::watch(store.update);
    tabs::join(move |_| leptos::task::spawn_local(store.reread()));
    dom::on_hash(move |hash| {
        let route = Route::parse(&hash);
        if store.route.try_set(route).is_none() {
            dom::to_top();
            dom::focus("title");
        }
    });
    leptos::task::spawn_local(async move {
        store.open().await;
        ticker::look_back(store);
        // A cold start with no hot canner is the moment for a waiting build.
        if store.update.get_untracked() && !store.is_running() {
            worker::take_over();
        }
    });
    view! {
        <a class="skip" href="#title" on:click=move |event| {
            event.prevent_default();
            dom::focus("title");
        }>"Skip to the content"</a>
        {alarm_bar(store, alarm)}
        {storage_bar(store)}
        <main>{move || screen(store)}</main>
        {notice_bar(store)}
        {nav(store)}
    }
}

const fn title(route: Route) -> &'static str {
    match route {
        Route::Today => "Today · Hearthjar",
        Route::Find => "Find a process · Hearthjar",
        Route::Batch(_) => "Batch · Hearthjar",
        Route::Load(..) => "Load · Hearthjar",
        Route::Shelf => "Shelf · Hearthjar",
        Route::HandOver => "Hand over · Hearthjar",
        Route::More => "More · Hearthjar",
        Route::Safety => "Before you can · Hearthjar",
    }
}

fn screen(store: Store) -> AnyView {
    let route = store.route.get();
    dom::set_title(title(route));
    let read = store.prefs.with(|prefs| prefs.safety_read);
    let opening = store.storage.with(|storage| *storage == Storage::Opening);
    match route {
        _ if !read => screens::safety(store),
        Route::Safety => screens::safety(store),
        _ if opening => screens::today(store),
        Route::Today => screens::today(store),
        Route::Find => screens::find(store),
        Route::Batch(batch) => screens::batch(store, batch),
        Route::Load(batch, load) => screens::load(store, batch, load),
        Route::Shelf => screens::shelf(store),
        Route::HandOver => screens::hand_over(store),
        Route::More => screens::more(store),
    }
}

fn nav(store: Store) -> AnyView {
    let links = [
        (Route::Today, "Today"),
        (Route::Shelf, "Shelf"),
        (Route::HandOver, "Hand over"),
        (Route::More, "More"),
    ];
    let items = move || {
        links
            .into_iter()
            .map(|(route, name)| {
                let here = move || (store.route.get() == route).then_some("page");
                view! { <a href=route.hash() aria-current=here>{name}</a> }.into_any()
            })
            .collect::<Vec<_>>()
    };
    view! {
        {move || store.prefs.with(|prefs| prefs.safety_read).then(|| {
            view! { <nav aria-label="Main">{items()}</nav> }
        })}
    }
    .into_any()
}

fn alarm_bar(store: Store, alarm: ticker::Alarm) -> AnyView {
    view! {
        <div role="alert">
            {move || (!alarm.ringing.get().is_empty()).then(|| view! {
                <div class="alarm">
                    <p>"Time is over."</p>
                    <button type="button" on:click=move |_| alarm.quiet(store)>"Quiet"</button>
                </div>
            })}
        </div>
    }
    .into_any()
}

fn storage_bar(store: Store) -> AnyView {
    view! {
        <div role="alert">
            {move || match store.storage.get() {
                Storage::Lost(why) => view! {
                    <div class="lost">
                        <p><strong>"Nothing is being saved. "</strong>{why}</p>
                        <p>"The run goes on while this page stays open. "
                            <a href=Route::HandOver.hash()>"Hand over what is here now"</a>"."</p>
                    </div>
                }.into_any(),
                _ => ().into_any(),
            }}
            {move || (store.apart.get() > 0).then(|| view! {
                <p class="lost">
                    {format!("{} rows of the record could not be read. They are left as they \
                              are and not written over.", store.apart.get())}
                </p>
            })}
        </div>
    }
    .into_any()
}

fn notice_bar(store: Store) -> AnyView {
    let update = move || {
        (store.update.get() && !store.is_running()).then(|| {
            view! {
                <div class="notice">
                    <p>"A new Hearthjar is ready."</p>
                    <button type="button" on:click=move |_| worker::take_over()>"Use it now"</button>
                </div>
            }
        })
    };
    view! {
        <div class="notices" role="status">
            {move || store.notice.get().map(|notice| {
                let undo = notice.undo.map(|(batch, event)| view! {
                    <button type="button" on:click=move |_| {
                        store.notice.set(None);
                        store.act(batch, hearthjar::batch::Body::Undone { event });
                    }>"Undo"</button>
                });
                view! {
                    <div class="notice" class:bad=notice.bad>
                        <p>{notice.text}</p>
                        {undo}
                        <button type="button" on:click=move |_| store.notice.set(None)>"Close"</button>
                    </div>
                }
            })}
            {update}
        </div>
    }
    .into_any()
}
