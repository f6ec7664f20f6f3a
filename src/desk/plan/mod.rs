//! Planning a canning day: what there is, what it makes, when, and what to get.
//!
//! Invariant: the screen holds what was typed, in local storage after every change;
//! everything else on it is the library's answer. It goes into the record only when
//! batches are begun from it.

mod amount;
mod begin;
mod canners;
mod day;
mod list;
mod result;
mod times;
mod weigh;

use crate::app::device::{clock, prefs};
use crate::app::draw::{El, Known, Var, button, el, memo, of, region, signal, typed};
use crate::app::parts::{heading, page};
use crate::app::store::Store;
use hearthjar::json::Json;
use hearthjar::plan::{Draft, Field, Sheet, sheet};
use hearthjar::t;
use hearthjar::w;
use hearthjar::words::Word;
use std::sync::Arc;
use wasm_bindgen::JsValue;

/// What is typed and what it amounts to.
#[derive(Clone, Copy)]
struct Plan {
    store: Store,
    draft: Var<Draft>,
    sheet: Known<Arc<Sheet>>,
}

impl Plan {
    fn new(store: Store) -> Self {
        let draft = signal(stored().unwrap_or_else(|| fresh(store)));
        let sheet = memo(move || {
            store.look(|archive| draft.with(|draft| Arc::new(sheet(draft, archive, clock::now()))))
        });
        Self { store, draft, sheet }
    }

    /// Changes the draft and keeps it.
    fn change(self, change: impl FnOnce(&mut Draft)) {
        self.draft.update(change);
        self.draft.with_untracked(|draft| {
            if !prefs::set("plan", &draft.to_json()) {
                self.store.warn(
                    t!("This browser keeps nothing, so the plan is gone when the page is closed. Batches that are begun from it stay."),
                );
            }
        });
    }

    /// A part of the draft, told on only when it changes.
    fn part<T: Clone + PartialEq + Send + Sync + 'static>(
        self,
        part: impl Fn(&Draft) -> T + 'static,
    ) -> Known<T> {
        memo(move || self.draft.with(&part))
    }

    /// A line to type into. `kind` is `text`, `decimal`, `date` or `time`.
    fn line(self, name: &str, kind: &str, field: Field) -> El {
        let input = match kind {
            "date" | "time" => el("input").attr("type", kind),
            keys => el("input").attr("type", "text").attr("inputmode", keys),
        };
        let input = input
            .attr("autocomplete", "off")
            .attr("maxlength", "200")
            .prop_by("value", move || {
                JsValue::from_str(self.draft.with(|draft| draft.text(field).to_owned()).as_str())
            })
            .on("input", move |event| {
                let text = typed(&event);
                self.change(|draft| draft.set(field, &text));
            });
        of("label", "field").child(of("span", "name").text(name)).child(input)
    }
}

fn stored() -> Option<Draft> {
    Draft::from_json(&prefs::get("plan")?)
}

/// An empty plan that begins where the last choices left off.
fn fresh(store: Store) -> Draft {
    let prefs = store.prefs.get_untracked();
    let mut draft = Draft::new(&prefs.product, prefs.pack, prefs.jar, prefs.metric);
    if let Some(altitude) = prefs.altitude {
        let number = if prefs.metric { altitude.metres() } else { altitude.feet() };
        draft.set(Field::Altitude, &number.to_string());
    }
    draft.canners = store.look_now(|archive| {
        archive.household().canners.iter().map(|canner| canner.canner).collect()
    });
    draft
}

const VIEWS: [(&str, Word); 4] =
    [("plan", w!("Plan")), ("day", w!("Day")), ("list", w!("List")), ("weigh", w!("Weigh"))];

/// The planner's screen.
pub fn plan(store: Store) -> Vec<El> {
    let plan = Plan::new(store);
    let last = prefs::get("plan-view").and_then(|view| view.as_str().map(str::to_owned));
    let view = signal(last.unwrap_or_else(|| "plan".to_owned()));
    let tab = |key: &'static str, name: &str| {
        let shown = move || view.with(|view| view == key);
        button("mode", name, move || {
            let _ = prefs::set("plan-view", &Json::text(key));
            view.set(key.to_owned());
        })
        .attr_by("aria-pressed", move || Some(shown().to_string()))
    };
    let tabs = of("div", "modes")
        .attr("role", "group")
        .attr("aria-label", t!("Part of the plan"))
        .children(VIEWS.iter().map(|(key, name)| tab(key, name.say())).collect());
    let body = region(move || match view.get().as_str() {
        "day" => day::day(plan),
        "list" => list::list(plan),
        "weigh" => weigh::weigh(plan),
        _ => {
            let mut parts = amount::form(plan);
            parts.extend(canners::form(plan));
            parts.extend(times::form(plan));
            parts.push(region(move || result::result(plan)));
            parts
        }
    });
    let foot = of("div", "foot").fill(move || match view.get().as_str() {
        "plan" => begin::foot(plan),
        _ => Vec::new(),
    });
    vec![page(vec![heading(t!("Plan a canning day")), tabs, body]), foot]
}
