//! What to buy and lay out, to be ticked off.
//!
//! Invariant: a tick belongs to a line's key, so it stays when amounts change.

use super::Plan;
use super::canners::tick;
use super::result::problems;
use crate::app::draw::{El, button, of, region, say};
use hearthjar::plan::{Good, fuel_is_bad, goods};
use hearthjar::t;

/// The list.
pub(super) fn list(plan: Plan) -> Vec<El> {
    let lines = crate::app::draw::memo(move || {
        let sheet = plan.sheet.get();
        plan.draft.with(|draft| goods(draft, &sheet))
    });
    let count = of("p", "lead").attr("role", "status").text_by(move || {
        let (lines, ticks) = (lines.get(), plan.draft.with(|draft| draft.ticks.clone()));
        let done = lines.iter().filter(|line| ticks.contains(&line.key)).count();
        t!("{} of {} ticked off", done, lines.len())
    });
    let problems = region(move || problems(&plan.sheet.get()));
    let list = of("div", "ticks")
        .fill(move || lines.get().into_iter().map(|good| line(plan, good)).collect());
    let fuel = region(move || {
        let bad = plan.draft.with(fuel_is_bad);
        let text = if bad {
            t!("The fuel cannot be read: give it as a number, such as 0.5, under your own times.")
        } else if plan.sheet.get().steps.is_empty() {
            return Vec::new();
        } else {
            t!(
                "Fuel is on the list only with a figure of your own: no publication we read says what a \
                 stove burns. Take more than you think: a stove that goes out starts the full time \
                 over."
            )
        };
        vec![of("p", "quiet").text(text)]
    });
    let clear = button("second", t!("Take all ticks off"), move || {
        plan.change(|draft| draft.ticks.clear());
    });
    vec![count, problems, list, fuel, clear]
}

fn line(plan: Plan, good: Good) -> El {
    let (key, again) = (good.key.clone(), good.key);
    let amount = (!good.amount.is_empty()).then(|| say("b", &good.amount));
    let text = of("span", "good")
        .child(say("span", &good.what))
        .maybe(amount)
        .child(of("span", "source").text(&good.origin.words()));
    tick(
        vec![text],
        move || plan.draft.with(|draft| draft.ticks.contains(&key)),
        move || plan.change(|draft| draft.tick(&again)),
    )
}
