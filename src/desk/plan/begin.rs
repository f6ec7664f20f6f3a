//! From the plan to batches with their loads.
//!
//! Invariant: begun once; the plan then points to its batches until it is cleared.

use super::{Plan, fresh};
use crate::app::device::dom::show;
use crate::app::device::keep;
use crate::app::draw::{El, button, link, spawn};
use crate::app::store::new_id;
use hearthjar::batch::{Body, Id};
use hearthjar::plan::{Begin, begin};
use hearthjar::present::Route;
use hearthjar::t;

/// The bar at the lower edge.
pub(super) fn foot(plan: Plan) -> Vec<El> {
    let begun = plan.draft.with(|draft| draft.batches.clone());
    let there: Vec<Id> = plan
        .store
        .look(|archive| begun.into_iter().filter(|id| archive.batch(*id).is_some()).collect());
    if let Some(first) = there.first() {
        let text = match there.len() {
            1 => t!("Go to the batch").to_owned(),
            many => t!("{} batches begun: go to the first", many),
        };
        let anew = button("second", t!("Plan another day"), move || {
            let store = plan.store;
            plan.change(|draft| *draft = fresh(store));
        });
        return vec![link("main", &Route::Batch(*first).hash(), &text), anew];
    }
    let sheet = plan.sheet.get();
    if sheet.loads.is_empty() {
        let why = sheet.problems.first().map_or(t!("Not complete yet"), |problem| &problem.say);
        let short = if why.len() > 60 { t!("Not complete yet: see why") } else { why };
        return vec![button("second", short, || show("answer"))];
    }
    if sheet.barred {
        return vec![button("danger", t!("Not like this: see why"), || show("answer"))];
    }
    let loads = sheet.loads.len();
    let text = if loads == 1 { t!("Begin: 1 load").into() } else { t!("Begin: {} loads", loads) };
    vec![
        button("main", &text, move || {
            let begins =
                plan.draft.with_untracked(|draft| begin(draft, &plan.sheet.get_untracked()));
            match begins {
                Ok(begins) => record(plan, begins),
                Err(error) => plan.store.warn(error),
            }
        })
        .disabled_if(move || plan.store.busy.get()),
    ]
}

/// Records the batches, all or none. The plan is told of them first: it may have been
/// left by the time they are kept, and one that is not there is not gone to.
fn record(plan: Plan, begins: Vec<Begin>) {
    let entries: Vec<(Id, Vec<Body>)> =
        begins.into_iter().map(|begin| (new_id(), begin.bodies)).collect();
    let batches: Vec<Id> = entries.iter().map(|(batch, _)| *batch).collect();
    let Some(first) = batches.first().copied() else { return };
    plan.change(|draft| draft.batches = batches);
    let store = plan.store;
    store.act_many(entries, move |_| {
        spawn(async {
            keep::ask().await;
        });
        if store.route.get_untracked() == Route::Plan {
            store.go(Route::Batch(first));
        }
    });
}
