//! Choices, steppers and fields, large enough for wet hands.
//!
//! Invariant: every control has a visible name; nothing needs a gesture.

use crate::app::draw::{Derived, El, Var, el, of, say, typed};
use hearthjar::t;
use hearthjar::units::PsiGauge;
use leptos::prelude::*;
use std::rc::Rc;
use wasm_bindgen::JsValue;

/// A set of which one is chosen; `list` pairs keys with the names shown.
pub fn choices(
    legend: &str,
    name: &str,
    list: &[(&'static str, &str)],
    chosen: Derived<String>,
    choose: impl Fn(&'static str) + 'static,
) -> El {
    let choose: Rc<dyn Fn(&'static str)> = Rc::new(choose);
    let labels = list
        .iter()
        .map(|(key, shown)| {
            let (key, choose, chosen) = (*key, Rc::clone(&choose), chosen.clone());
            let input = el("input")
                .attr("type", "radio")
                .attr("name", name)
                .prop_by("checked", move || JsValue::from_bool(chosen.get() == key))
                .on("change", move |_| choose(key));
            of("label", "choice").child(input).child(say("span", shown))
        })
        .collect();
    of("fieldset", "choices").child(say("legend", legend)).child(of("div", "row").children(labels))
}

/// A whole number with minus and plus.
pub fn stepper(
    name: &str,
    value: Derived<u16>,
    least: u16,
    most: u16,
    set: impl Fn(u16) + 'static,
) -> El {
    let set: Rc<dyn Fn(u16)> = Rc::new(set);
    let step = |sign: &str, what: &str, change: fn(u16) -> u16, at_end: u16| {
        let (set, now, value) = (Rc::clone(&set), value.clone(), value.clone());
        el("button")
            .attr("type", "button")
            .attr("aria-label", &format!("{name}: {what}"))
            .text(sign)
            .disabled_if(move || now.get() == at_end)
            .on("click", move |_| set(change(value.get_untracked()).clamp(least, most)))
    };
    let shown = value.clone();
    of("div", "stepper")
        .attr("role", "group")
        .attr("aria-label", name)
        .child(of("span", "name").text(name))
        .child(
            of("span", "count")
                .child(step("−", t!("one less"), |n| n.saturating_sub(1), least))
                .child(el("output").text_by(move || shown.get().to_string()))
                .child(step("+", t!("one more"), |n| n.saturating_add(1), most)),
        )
}

/// A line of text.
pub fn text_field(name: &str, value: Var<String>) -> El {
    field(name, "text", value)
}

/// A number, with the phone's number keys.
pub fn number_field(name: &str, value: Var<String>) -> El {
    field(name, "decimal", value)
}

fn field(name: &str, keys: &str, value: Var<String>) -> El {
    let input = el("input")
        .attr("type", "text")
        .attr("inputmode", keys)
        .attr("autocomplete", "off")
        .attr("maxlength", "200")
        .prop_by("value", move || JsValue::from_str(&value.get()))
        .on("input", move |event| value.set(typed(&event)));
    of("label", "field").child(of("span", "name").text(name)).child(input)
}

/// A pressure with minus and plus, half a psi a tap.
pub fn psi_stepper(name: &str, tenths: Var<u16>) -> El {
    let step = |sign: &str, what: &str, by: i32| {
        let label = format!("{name}: {what}");
        el("button").attr("type", "button").attr("aria-label", &label).text(sign).on(
            "click",
            move |_| {
                let next = i32::from(tenths.get_untracked()) + by;
                let next = next.clamp(0, i32::from(PsiGauge::MAX_TENTHS));
                tenths.set(u16::try_from(next).unwrap_or(0));
            },
        )
    };
    let shown = move || {
        PsiGauge::from_tenths(tenths.get()).map_or_else(|_| String::new(), |psi| psi.to_string())
    };
    of("div", "stepper")
        .attr("role", "group")
        .attr("aria-label", name)
        .child(of("span", "name").text(name))
        .child(
            of("span", "count")
                .child(step("−", t!("half a psi less"), -5))
                .child(el("output").text_by(shown))
                .child(step("+", t!("half a psi more"), 5)),
        )
}
