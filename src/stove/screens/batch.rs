//! One batch: its loads, what was recorded, and another load.
//!
//! Invariant: the record is shown as it is, with what did not fit it.

use super::not_here;
use crate::app::draw::{El, Var, button, el, link, memo, of, region, say, signal};
use crate::app::parts::{foot, heading, items, page, section, text_field, when_short};
use crate::app::store::Store;
use hearthjar::batch::{Archive, Batch, Body, Id, Load, LoadPlan, Text};
use hearthjar::present::{DialAdvice, Route, RunView, cold_line, dial_at_run, lot_bars, words};
use hearthjar::process::Food;
use hearthjar::t;

/// The batch's screen.
pub fn batch(store: Store, id: Id) -> Vec<El> {
    let stamp = memo(move || store.look(|archive| archive.stamp(id)));
    let typed = signal(String::new());
    vec![region(move || {
        stamp.get();
        store.look_now(|archive| match archive.batch(id) {
            Some(batch) => shown(store, batch, typed),
            None => not_here(t!("This batch is not in the record on this phone.")),
        })
    })]
}

fn shown(store: Store, batch: &Batch, typed: Var<String>) -> Vec<El> {
    let id = batch.id;
    let Some((at, start)) = &batch.start else {
        if let Some(lot) = &batch.lot {
            let text = t!("Not yet in jars.");
            return vec![
                page(vec![heading(lot.start().name.as_str()), of("p", "lead").text(text)]),
                foot(vec![link("main", &Route::Raw(id).hash(), t!("To the lot"))]),
            ];
        }
        return vec![page(vec![
            heading(t!("Batch without its beginning")),
            of("p", "lead").text(t!(
                "Entries of this batch are here, but not its first one. Take in a whole file of it."
            )),
        ])];
    };
    let food = Food::by_key(&start.product).map_or("", Food::name);
    let pack = match start.product.as_str() {
        "smoked-fish" => String::new(), // its name says so already
        _ => format!(", {}", start.pack.name()),
    };
    let facts = t!(
        "{}{}, {} jars, {} ft ({} m)",
        food,
        pack,
        start.jar.name(),
        start.altitude.feet(),
        start.altitude.metres()
    );
    let mut parts = vec![heading(start.content.as_str())];
    if start.demo {
        parts.push(of("p", "said").text(t!("Invented example")));
    }
    parts.push(of("p", "lead").text(&facts));
    let begun = t!("Begun {}. Batch {}.", when_short(store, *at), id.short());
    parts.push(of("p", "quiet").text(&begun));
    if let Some(lot) = &batch.lot {
        let heat = batch.loads.iter().filter_map(|load| load.run.heat_on()).max();
        let cold = cold_line(lot, heat.unwrap_or(store.now.get_untracked()));
        parts.push(of("p", "quiet").text(&cold).text(" ").child(link(
            "",
            &Route::Raw(id).hash(),
            t!("The lot"),
        )));
    }
    parts.push(section(t!("Loads")));
    let loads = batch.loads.iter().map(|load| line(store, id, load)).collect();
    parts.push(of("ul", "lines").children(loads));
    let way = |route: Route, name| of("p", "over-title").child(link("", &route.hash(), name));
    if batch.loads.iter().any(|load| load.run.is_processed()) {
        parts.push(way(Route::Labels(id), t!("Labels to print")));
    }
    parts.push(way(Route::Picture(id), t!("Picture code for another phone")));
    parts.extend(notes(store, batch, typed));
    parts.extend(oddities(batch));
    let mut screen = vec![page(parts)];
    if let Some(last) = batch.loads.last() {
        screen.push(foot(vec![another_load(store, id, "main", &last.plan)]));
    }
    screen
}

/// Plans one more load of a batch, as the one before.
pub(super) fn another_load(store: Store, id: Id, class: &str, plan: &LoadPlan) -> El {
    let plan = plan.clone();
    button(class, t!("Another load"), move || {
        let now = store.now.get_untracked();
        let mut plan = plan.clone();
        let barred = |archive: &Archive| lot_bars(archive.batch(id)?, now);
        if let Some(over) = store.look_now(barred) {
            return store.warn(over);
        }
        // The dial may have been checked since: its pressure only ever rises.
        match store.look_now(|archive| dial_at_run(archive.household(), &plan, now)) {
            Some(DialAdvice { setting: None, say }) => {
                return store.warn(say.first().cloned().unwrap_or_default());
            }
            Some(DialAdvice { setting: Some(setting), .. }) => {
                let canner = plan.canner.clone();
                plan = plan.on(canner, setting);
            }
            None => {}
        }
        store.act_all(id, vec![Body::LoadPlanned(plan)], move |ids| {
            if let Some(load) = ids.last() {
                store.go(Route::Load(id, *load));
            }
        });
    })
}

fn line(store: Store, batch: Id, load: &Load) -> El {
    let title = if load.run.is_processed() && load.unchecked() == 0 {
        t!("Seals checked").to_owned()
    } else {
        RunView::of(load, store.now.get_untracked(), "", &[]).title
    };
    let mut line = of("a", "line").attr("href", &Route::Load(batch, load.id).hash()).child(
        el("span").child(say("b", &t!("Load {}", load.number))).text(&t!(
            ", {} jars. {}",
            load.jars.len(),
            title
        )),
    );
    let mut quiet = |text: String| {
        line = line.clone().child(of("span", "quiet").text(&text));
    };
    if let Some((from, to)) = load.run.full_hold() {
        quiet(t!("held {} from {}", words(to.since(from)), when_short(store, from)));
    }
    if load.is_disputed() {
        quiet(t!("two phones disagree: the full time does not count yet").to_owned());
    }
    match load.run.restarts().len() {
        0 => {}
        1 => quiet(t!("full time started over once").to_owned()),
        restarts => quiet(t!("full time started over {} times", restarts)),
    }
    if load.unchecked() < load.jars.len() {
        quiet(t!("{} of {} sealed", load.found_sealed(), load.jars.len()));
    }
    let heat = load.run.is_processed().then(|| {
        let href = Route::Heat(batch, load.id).hash();
        of("p", "over-title").child(link("", &href, t!("Heat the jars got")))
    });
    el("li").child(line).maybe(heat)
}

fn notes(store: Store, batch: &Batch, typed: Var<String>) -> Vec<El> {
    let id = batch.id;
    let list = batch
        .notes
        .iter()
        .map(|(at, _, text)| {
            say("li", text.as_str())
                .text(" ")
                .child(of("span", "quiet").text(&when_short(store, *at)))
        })
        .collect();
    let add =
        button("second", t!("Add the note"), move || match Text::new(&typed.get_untracked()) {
            Ok(text) if text.is_empty() => {}
            Ok(text) => {
                // Kept in the field until it is written.
                store.act_all(id, vec![Body::Noted { load: None, text }], move |_| {
                    typed.set(String::new());
                });
            }
            Err(error) => store.warn(error.to_string()),
        });
    vec![section(t!("Notes")), of("ul", "plain").children(list), text_field(t!("Note"), typed), add]
}

/// What the fold could not use, in words.
fn oddities(batch: &Batch) -> Vec<El> {
    let mut lines = Vec::new();
    if batch.unknown > 0 {
        lines.push(t!(
            "{} entries come from a newer Hearthjar. They are kept, but not shown here.",
            batch.unknown
        ));
    }
    if !batch.refused.is_empty() {
        lines.push(t!(
            "{} entries did not fit where the batch stood. They are kept, but change nothing.",
            batch.refused.len()
        ));
    }
    for conflict in &batch.conflicts {
        lines.push(t!(
            "Two phones say different things about jar {}. Settle it where its seal is checked.",
            conflict.jar
        ));
    }
    if lines.is_empty() {
        return Vec::new();
    }
    vec![section(t!("To know")), items("plain", lines.iter().map(String::as_str))]
}
