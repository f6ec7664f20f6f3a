//! Choices, steppers and fields, large enough for wet hands.
//!
//! Invariant: every control has a visible name; nothing needs a gesture.

use leptos::prelude::*;

/// One choice of a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What is chosen.
    pub key: String,
    /// The name shown.
    pub name: String,
}

impl Choice {
    /// A choice.
    pub fn new(key: impl Into<String>, name: impl Into<String>) -> Self {
        Self { key: key.into(), name: name.into() }
    }
}

/// A set of which one is chosen.
pub fn choices(
    legend: &'static str,
    name: &'static str,
    list: Vec<Choice>,
    chosen: Signal<String>,
    choose: impl Fn(String) + Copy + 'static,
) -> AnyView {
    let items: Vec<AnyView> = list
        .into_iter()
        .map(|choice| {
            let key = choice.key.clone();
            let is = move || chosen.get() == key;
            let key = choice.key;
            view! {
                <label class="choice">
                    <input type="radio" name=name prop:checked=is
                        on:change=move |_| choose(key.clone()) />
                    <span>{choice.name}</span>
                </label>
            }
            .into_any()
        })
        .collect();
    view! {
        <fieldset class="choices">
            <legend>{legend}</legend>
            <div class="row">{items}</div>
        </fieldset>
    }
    .into_any()
}

/// A whole number with minus and plus.
pub fn stepper(
    name: &'static str,
    value: Signal<u16>,
    least: u16,
    most: u16,
    set: impl Fn(u16) + Copy + 'static,
) -> AnyView {
    let lowest = move || value.get() <= least;
    let highest = move || value.get() >= most;
    view! {
        <div class="stepper" role="group" aria-label=name>
            <span class="name">{name}</span>
            <button type="button" aria-label=format!("{name}: one less")
                disabled=lowest
                on:click=move |_| set(value.get_untracked().saturating_sub(1).max(least))>"−"</button>
            <output>{move || value.get().to_string()}</output>
            <button type="button" aria-label=format!("{name}: one more")
                disabled=highest
                on:click=move |_| set(value.get_untracked().saturating_add(1).min(most))>"+"</button>
        </div>
    }
    .into_any()
}

/// A line of text.
pub fn text_field(
    name: &'static str,
    value: Signal<String>,
    set: impl Fn(String) + Copy + 'static,
) -> AnyView {
    field(name, "text", value, set)
}

/// A number, with the phone's number keys.
pub fn number_field(
    name: &'static str,
    value: Signal<String>,
    set: impl Fn(String) + Copy + 'static,
) -> AnyView {
    field(name, "decimal", value, set)
}

fn field(
    name: &'static str,
    keys: &'static str,
    value: Signal<String>,
    set: impl Fn(String) + Copy + 'static,
) -> AnyView {
    view! {
        <label class="field">
            <span class="name">{name}</span>
            <input type="text" inputmode=keys autocomplete="off" maxlength="200"
                prop:value=move || value.get()
                on:input=move |event| set(event_target_value(&event)) />
        </label>
    }
    .into_any()
}
