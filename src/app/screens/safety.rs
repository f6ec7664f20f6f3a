//! What this tool is not. Read once before anything else, and at any time after.
//!
//! Invariant: nothing can be canned with this tool before it was shown.

use crate::app::parts::heading;
use crate::app::store::Store;
use hearthjar::present::Route;
use leptos::prelude::*;

/// The safety page.
pub fn safety(store: Store) -> AnyView {
    let first = !store.prefs.with_untracked(|prefs| prefs.safety_read);
    let go_on = move |_| {
        store.prefer(|prefs| prefs.safety_read = true);
        store.go(Route::Today);
        store.route.set(Route::Today);
    };
    let button = first.then(|| {
        view! {
            <div class="foot">
                <button type="button" class="main" on:click=go_on>"I have read this"</button>
            </div>
        }
    });
    view! {
        {heading("Before you can")}
        <p class="lead">"Fish and other low-acid food, canned wrong, can grow botulism: no smell, no \
            taste, and it kills."</p>
        <ul class="plain">
            <li>"Hearthjar shows tested processes as published, with the publication beside each \
                number. Where none exists it says no. It never shortens a time."</li>
            <li>"It measures nothing. You read the gauge, see the steam and check the seals."</li>
            <li>"It does not replace your canner's manual, the published guide, or your local \
                extension office. Where they say otherwise, follow them. Local rules and licensed \
                practice come first, above all if you sell or serve what you can."</li>
            <li>"Stay by a hot canner. A locked or sleeping phone may not ring: set a kitchen timer \
                too."</li>
            <li>"Never taste food to find out whether it is safe. In doubt, throw it out."</li>
            <li>"The tables were typed from machine-read copies. Compare a number with the printed \
                page before you rely on it."</li>
        </ul>
        <p class="source">"USDA Complete Guide to Home Canning, Agriculture Information Bulletin 539, \
            2015, Guides 1, 4 and 5, and the extension publications named at each number."</p>
        {button}
    }
    .into_any()
}
