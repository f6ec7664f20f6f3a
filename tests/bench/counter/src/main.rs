//! A counter, written as the framework's own examples write one.
use leptos::prelude::*;

fn main() {
    leptos::mount::mount_to_body(|| {
        let (count, set_count) = signal(0);
        view! {
            <h1>"Counter"</h1>
            <button on:click=move |_| *set_count.write() += 1>{count}</button>
        }
    });
    let _ = document().document_element().map(|root| root.set_attribute("data-ready", "yes"));
}
