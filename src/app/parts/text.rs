//! Headings, cautions and the "why?" behind a number.
//!
//! Invariant: a caution is never shown without its publication.

use crate::app::device::local;
use crate::app::store::Store;
use hearthjar::present::Mind;
use hearthjar::units::EpochMs;
use leptos::prelude::*;

/// The heading of a screen; takes the focus when the screen changes.
pub fn heading(text: impl Into<String>) -> AnyView {
    let text: String = text.into();
    view! { <h1 id="title" tabindex="-1">{text}</h1> }.into_any()
}

/// A heading inside a screen.
pub fn section(text: &'static str) -> AnyView {
    view! { <h2>{text}</h2> }.into_any()
}

/// One tap to the reason and the publication.
pub fn why(text: impl Into<String>, publication: impl Into<String>) -> AnyView {
    let (text, publication): (String, String) = (text.into(), publication.into());
    let text = (!text.is_empty()).then(|| view! { <p>{text}</p> });
    view! {
        <details class="why">
            <summary>"Why?"</summary>
            {text}
            <p class="source">{publication}</p>
        </details>
    }
    .into_any()
}

/// Cautions, each opening to its reason.
pub fn mind_list(minds: &[Mind]) -> AnyView {
    let items: Vec<AnyView> = minds
        .iter()
        .map(|mind| {
            view! {
                <li>
                    <details class="mind">
                        <summary>{mind.rule}</summary>
                        <p>{mind.why}</p>
                        <p class="source">{mind.publication}</p>
                    </details>
                </li>
            }
            .into_any()
        })
        .collect();
    view! { <ul class="minds">{items}</ul> }.into_any()
}

/// A time of day; with the weekday if it is more than half a day from now.
pub fn due_at(store: Store, at: EpochMs) -> String {
    let face = store.prefs.with(|prefs| prefs.face());
    let far = at.since(store.now.get_untracked()).0.abs() > 12 * 3_600_000;
    let local = local::time(at);
    if far { local.day_and_clock(face) } else { local.clock(face) }
}

/// Date and time of day.
pub fn when_short(store: Store, at: EpochMs) -> String {
    let face = store.prefs.with(|prefs| prefs.face());
    let local = local::time(at);
    format!("{}, {}", local.date(), local.clock(face))
}
