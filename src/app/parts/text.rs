//! Headings, cautions and the "why?" behind a number.
//!
//! Invariant: a caution is never shown without its publication.

use crate::app::device::local;
use crate::app::draw::{El, el, of, say};
use crate::app::prefs::Prefs;
use crate::app::store::Store;
use hearthjar::present::Mind;
use hearthjar::process::{Rule, any_rule, rule};
use hearthjar::t;
use hearthjar::units::EpochMs;
use leptos::prelude::*;

/// The heading of a screen; takes the focus when the screen changes.
pub fn heading(text: &str) -> El {
    say("h1", text).attr("id", "title").attr("tabindex", "-1")
}

/// A heading inside a screen.
pub fn section(text: &str) -> El {
    say("h2", text)
}

/// What scrolls; the bar with the main action stands below it.
pub fn page(children: Vec<El>) -> El {
    of("div", "page").children(children)
}

/// The bar at the lower edge that holds the main action.
pub fn foot(children: Vec<El>) -> El {
    of("div", "foot").children(children)
}

/// A list of sentences.
pub fn items<'a>(class: &str, texts: impl IntoIterator<Item = &'a str>) -> El {
    let list = if class == "steps" { el("ol") } else { of("ul", class) };
    list.children(texts.into_iter().map(|text| say("li", text)).collect())
}

/// Rules of the trade that are needed until the jars stand on the shelf, each with its
/// publication.
pub fn rules(ids: &[&str]) -> El {
    listed(ids.iter().filter_map(|id| rule(id)).collect())
}

/// Rules of the trade, each with its publication; for the desk.
pub fn any_rules(ids: &[&str]) -> El {
    listed(ids.iter().filter_map(|id| any_rule(id)).collect())
}

fn listed(rules: Vec<&Rule>) -> El {
    let lines = rules
        .into_iter()
        .map(|rule| say("li", rule.text()).text(" ").child(source(rule.publication())))
        .collect();
    of("ul", "plain").children(lines)
}

fn source(publication: &str) -> El {
    of("span", "source").text(publication)
}

/// One tap to the reason and the publication.
pub fn why(text: &str, publication: &str) -> El {
    let reason = (!text.is_empty()).then(|| say("p", text));
    of("details", "why")
        .child(say("summary", t!("Why?")))
        .maybe(reason)
        .child(of("p", "source").text(publication))
}

/// Cautions, each opening to its reason.
pub fn mind_list(minds: &[Mind]) -> El {
    let lines = minds
        .iter()
        .map(|mind| {
            el("li").child(
                of("details", "mind")
                    .child(say("summary", mind.rule.say()))
                    .child(say("p", mind.why.say()))
                    .child(of("p", "source").text(mind.publication.say())),
            )
        })
        .collect();
    of("ul", "minds").children(lines)
}

/// A time of day; with the weekday if it is more than half a day from now.
pub fn due_at(store: Store, at: EpochMs) -> String {
    let face = store.prefs.with_untracked(Prefs::face);
    let far = at.since(store.now.get_untracked()).0.abs() > 12 * 3_600_000;
    let local = local::time(at);
    if far { local.day_and_clock(face) } else { local.clock(face) }
}

/// Date and time of day.
pub fn when_short(store: Store, at: EpochMs) -> String {
    let face = store.prefs.with_untracked(Prefs::face);
    let local = local::time(at);
    format!("{}, {}", local.date(), local.clock(face))
}
