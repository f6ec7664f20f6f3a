//! What a batch weighed, written down so that the next plan knows better.
//!
//! Invariant: a weight goes to the record as an event; a later one replaces it.

use super::Plan;
use super::amount::{option, select};
use crate::app::device::local;
use crate::app::draw::{El, button, el, memo, of, region, signal, typed};
use crate::app::parts::section;
use hearthjar::batch::{Body, Id};
use hearthjar::plan::Weighed;
use hearthjar::present::newest;
use hearthjar::t;
use hearthjar::units::Mass;
use hearthjar::w;
use hearthjar::words::Word;
use wasm_bindgen::JsValue;

const WEIGHINGS: [(Weighed, Word); 3] = [
    (Weighed::Whole, w!("As caught or bought")),
    (Weighed::Dressed, w!("Dressed")),
    (Weighed::Packed, w!("What went into the jars")),
];

/// The screen's part on weights.
pub(super) fn weigh(plan: Plan) -> Vec<El> {
    let batches = plan.store.look_now(|archive| {
        let mut list = Vec::new();
        for (at, id) in newest(archive, 30) {
            let start = archive.batch(id).and_then(|batch| batch.start.as_ref());
            let content = start.map_or("", |(_, start)| start.content.as_str());
            list.push((id, format!("{content}, {}", local::time(at).date())));
        }
        list
    });
    let Some((first, _)) = batches.first() else {
        let text = t!("No batch yet. When there is one, write its weights down here.");
        return vec![of("p", "lead").text(text)];
    };
    let chosen = signal(*first);
    let options = batches.iter().map(|(id, name)| option(&id.to_string(), name)).collect();
    let pick = select(
        t!("Batch"),
        options,
        move || chosen.get().to_string(),
        move |key| {
            if let Ok(id) = key.parse::<Id>() {
                chosen.set(id);
            }
        },
    );
    let intro = of("p", "quiet").text(t!(
        "Three of your own batches and their figures stand for themselves; fewer only widen the \
             published range."
    ));
    let metric = memo(move || plan.draft.with(|draft| draft.metric));
    let fields = region(move || {
        let (batch, metric) = (chosen.get(), metric.get());
        WEIGHINGS.iter().map(|(what, name)| one(plan, batch, *what, name.say(), metric)).collect()
    });
    vec![section(t!("Weights of a batch")), intro, pick, fields]
}

fn one(plan: Plan, batch: Id, what: Weighed, name: &'static str, metric: bool) -> El {
    let unit = if metric { "kg" } else { "lb" };
    let now = plan.store.look_now(|archive| archive.batch(batch)?.weights.get(what));
    let text = signal(now.map_or(String::new(), |mass| mass.number(metric)));
    let input = el("input")
        .attr("type", "text")
        .attr("inputmode", "decimal")
        .attr("autocomplete", "off")
        .attr("maxlength", "12")
        .prop_by("value", move || JsValue::from_str(&text.get()))
        .on("input", move |event| text.set(typed(&event)));
    let label = format!("{name}, {unit}");
    let write = move || match Mass::parse(&text.get_untracked(), metric) {
        Ok(mass) => plan.store.act(batch, Body::Weighed { what, mass }),
        Err(error) => plan.store.warn(error.to_string()),
    };
    let kept = el("p").attr("role", "status").text_by(move || {
        let mass = plan.store.look(|archive| archive.batch(batch)?.weights.get(what));
        mass.map_or(String::new(), |mass| t!("Written down: {}", mass.show(metric)))
    });
    of("div", "held")
        .child(of("label", "field").child(of("span", "name").text(&label)).child(input))
        .child(button("second", &t!("Write down: {}", name.to_lowercase()), write))
        .child(kept)
}
