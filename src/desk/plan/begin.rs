//! From the plan to batches with their loads.
//!
//! Invariant: begun once; the plan then points to its batches until it is cleared.

use super::{Plan, fresh};
use crate::app::device::dom::show;
use crate::app::device::keep;
use crate::app::draw::{El, button, link, spawn};
use crate::app::store::new_id;
use hearthjar::batch::Id;
use hearthjar::plan::{Begin, begin};
use hearthjar::present::Route;
use leptos::prelude::*;

/// The bar at the lower edge.
pub(super) fn foot(plan: Plan) -> Vec<El> {
    let begun = plan.draft.with(|draft| draft.batches.clone());
    let there: Vec<Id> = plan
        .store
        .look(|archive| begun.into_iter().filter(|id| archive.batch(*id).is_some()).collect());
    if let Some(first) = there.first() {
        let text = match there.len() {
            1 => "Go to the batch".to_owned(),
            many => format!("{many} batches begun: go to the first"),
        };
        let anew = button("second", "Plan another day", move || {
            let store = plan.store;
            plan.change(|draft| *draft = fresh(store));
        });
        return vec![link("main", &Route::Batch(*first).hash(), &text), anew];
    }
    let sheet = plan.sheet.get();
    if sheet.loads.is_empty() {
        let why = sheet.problems.first().map_or("Not complete yet", |problem| &problem.say);
        let short = if why.len() > 60 { "Not complete yet: see why" } else { why };
        return vec![button("second", short, || show("answer"))];
    }
    if sheet.barred {
        return vec![button("danger", "Not like this: see why", || show("answer"))];
    }
    let loads = sheet.loads.len();
    let text = if loads == 1 { "Begin: 1 load".into() } else { format!("Begin: {loads} loads") };
    vec![
        button("main", &text, move || {
            let begins =
                plan.draft.with_untracked(|draft| begin(draft, &plan.sheet.get_untracked()));
            match begins {
                Ok(begins) => next(plan, begins),
                Err(error) => plan.store.warn(error),
            }
        })
        .disabled_if(move || plan.store.busy.get()),
    ]
}

/// Records one batch after the other: the store takes one thing at a time.
fn next(plan: Plan, mut begins: Vec<Begin>) {
    if begins.is_empty() {
        let first = plan.draft.with_untracked(|draft| draft.batches.first().copied());
        spawn(async {
            keep::ask().await;
        });
        if let Some(first) = first {
            plan.store.go(Route::Batch(first));
        }
        return;
    }
    let begin = begins.remove(0);
    let batch = new_id();
    plan.store.act_all(batch, begin.bodies, move |_| {
        plan.change(|draft| draft.batches.push(batch));
        spawn(async move {
            // Until the store is free again.
            leptos::task::tick().await;
            next(plan, begins);
        });
    });
}
