//! What the plan comes to, in short: what is missing, jars, loads, the start.
//!
//! Invariant: every figure is a range with its origin, and every load names the
//! publication of its minutes.

use super::Plan;
use super::day::start_line;
use crate::app::draw::{El, el, of, say};
use crate::app::parts::section;
use hearthjar::plan::{Planned, Range, Sheet};
use hearthjar::t;
use hearthjar::units::Mass;

/// The answer.
pub(super) fn result(plan: Plan) -> Vec<El> {
    let sheet = plan.sheet.get();
    let metric = plan.draft.with(|draft| draft.metric);
    let mut parts = vec![section(t!("The plan"))];
    parts.extend(problems(&sheet));
    if !sheet.jars.is_empty() && sheet.jars.iter().any(|(_, count)| count.most() > 0) {
        parts.push(amounts(&sheet, metric));
    }
    parts.extend(loads(&sheet));
    parts.extend(start_line(plan, &sheet));
    parts.extend(cautions(&sheet));
    vec![el("section").attr("id", "answer").attr("aria-live", "polite").children(parts)]
}

/// What stands in the way.
pub(super) fn problems(sheet: &Sheet) -> Vec<El> {
    let one = |problem: &hearthjar::plan::Problem| {
        let refused = problem.publication.is_some();
        let source = problem.publication.map(|publication| of("p", "source").text(publication));
        of("div", if refused { "answer no" } else { "said" })
            .child(say("p", &problem.say))
            .maybe(source)
    };
    sheet.problems.iter().map(one).collect()
}

/// Weights from least to most, with their unit.
pub(super) fn weights(range: Range<Mass>, metric: bool) -> String {
    if range.is_single() {
        return range.most().show(metric);
    }
    t!("{} to {}", range.least().number(metric), range.most().show(metric))
}

fn amounts(sheet: &Sheet, metric: bool) -> El {
    let lines = sheet.jars.iter().filter(|(_, count)| count.most() > 0).map(|(jar, count)| {
        let need = sheet.needs.iter().find(|need| need.jar == *jar);
        let takes = need.map(|need| {
            el("p")
                .text(&t!("One takes {}. ", weights(need.food(1), metric)))
                .child(of("span", "source").text(&need.origin.words()))
        });
        el("li")
            .child(el("p").child(say("b", &count.to_string())).text(" × ").text(jar.name()))
            .maybe(takes)
    });
    let food = sheet.food.map(|food| {
        let weights = weights(food, metric);
        let text = match sheet.usual {
            Some(usual) => t!("Food: {} (usually {})", weights, usual.show(metric)),
            None => t!("Food: {}", weights),
        };
        say("p", &text)
    });
    of("div", "answer yes")
        .child(say("h3", t!("Jars")))
        .maybe(food)
        .child(of("ul", "plain").children(lines.collect()))
}

/// A load in a line: `8 pint jars on Blue, 100 min at 10 psi`.
pub(super) fn load_line(sheet: &Sheet, load: &Planned) -> String {
    let lane = sheet.lanes.get(load.lane).map_or("", |lane| lane.name.as_str());
    t!(
        "{} {} jars on {}: {} min at {} psi",
        load.jars,
        load.tested.jar().name(),
        lane,
        load.tested.minutes(),
        load.setting
    )
}

/// Whether a load depends on a good yield.
pub(super) fn if_enough(load: &Planned) -> Option<&'static str> {
    match load.sure {
        0 => Some(t!("only if there is enough")),
        sure if sure < load.jars => Some(t!("perhaps not full")),
        _ => None,
    }
}

fn loads(sheet: &Sheet) -> Vec<El> {
    if sheet.loads.is_empty() {
        return Vec::new();
    }
    let lines = sheet.loads.iter().map(|load| {
        let enough = if_enough(load).map(|text| of("span", "quiet").text(&format!(" ({text})")));
        el("li").child(say("span", &load_line(sheet, load))).maybe(enough)
    });
    let mut pages: Vec<&str> = Vec::new();
    for load in &sheet.loads {
        let page = load.tested.process().publication();
        if !pages.contains(&page) {
            pages.push(page);
        }
    }
    let pages = pages.iter().map(|page| of("p", "source").text(page)).collect();
    let count = sheet.loads.len();
    let title = if count == 1 { t!("1 load").to_owned() } else { t!("{} loads", count) };
    let begin = t!("Begin makes a batch of them. Nothing is heated until you say so.");
    let list = el("ol").children(lines.collect());
    let quiet = of("p", "quiet").text(begin);
    vec![of("div", "answer yes").child(say("h3", &title)).child(list).children(pages).child(quiet)]
}

/// What to know.
fn cautions(sheet: &Sheet) -> Vec<El> {
    if sheet.cautions.is_empty() {
        return Vec::new();
    }
    let lines = sheet.cautions.iter().map(|caution| {
        say("li", caution.text()).text(" ").child(of("span", "source").text(caution.publication()))
    });
    vec![say("h3", t!("Mind")), of("ul", "plain").children(lines.collect())]
}
