//! The canners and stoves of the day, and how many jars fill each.
//!
//! Invariant: a count is the person's own or published; it is written to the record,
//! so that it is asked for once.

use super::Plan;
use crate::app::draw::{El, button, derive, el, link, of, region, say, signal, typed};
use crate::app::parts::{section, stepper, why};
use hearthjar::batch::{Body, Id, KeptCanner};
use hearthjar::plan::{CAPACITY, Field, Holds, Origin, TWO_LAYERS, published_capacity};
use hearthjar::present::Route;
use hearthjar::process::Jar;
use hearthjar::t;
use wasm_bindgen::JsValue;

/// A box to tick; the text is part of it.
pub(super) fn tick(
    children: Vec<El>,
    on: impl Fn() -> bool + 'static,
    flip: impl Fn() + 'static,
) -> El {
    let input = el("input")
        .attr("type", "checkbox")
        .prop_by("checked", move || JsValue::from_bool(on()))
        .on("change", move |_| flip());
    of("label", "choice wide").child(input).child(el("span").children(children))
}

/// The form's part on canners and altitude.
pub(super) fn form(plan: Plan) -> Vec<El> {
    let sizes = plan.part(|draft| draft.wants.iter().map(|(jar, _)| *jar).collect::<Vec<Jar>>());
    let used = plan.part(|draft| draft.canners.clone());
    let list = region(move || {
        let canners = plan.store.look(|archive| archive.household().canners.clone());
        if canners.is_empty() {
            let add = link("", &Route::More.hash(), t!("Add your canner under More"));
            return vec![el("p").child(add).text(t!(", with its gauge and size, then come back."))];
        }
        let (sizes, used) = (sizes.get(), used.get());
        canners.iter().flat_map(|canner| one(plan, canner, &sizes, &used)).collect()
    });
    let stoves = derive(move || plan.draft.with(|draft| draft.stoves));
    let several = plan.part(|draft| draft.canners.len() > 1);
    let stove = region(move || {
        if !several.get() {
            return Vec::new();
        }
        vec![stepper(t!("Stoves or burners for canners"), stoves.clone(), 1, 6, move |stoves| {
            plan.change(|draft| draft.stoves = stoves);
        })]
    });
    let metric = plan.part(|draft| draft.metric);
    let altitude = region(move || {
        let name = if metric.get() {
            t!("Height above sea level, m")
        } else {
            t!("Height above sea level, ft")
        };
        vec![plan.line(name, "decimal", Field::Altitude)]
    });
    vec![section(t!("Canners")), list, stove, altitude]
}

fn one(plan: Plan, canner: &KeptCanner, sizes: &[Jar], used: &[Id]) -> Vec<El> {
    let id = canner.canner;
    let text = format!("{}, {}, {} qt", canner.name.as_str(), canner.gauge.name(), canner.quarts);
    let on = move || plan.draft.with(|draft| draft.canners.contains(&id));
    let flip = move || {
        plan.change(|draft| match draft.canners.iter().position(|one| *one == id) {
            Some(place) => drop(draft.canners.remove(place)),
            None => draft.canners.push(id),
        });
    };
    let mut parts = vec![tick(vec![say("span", &text)], on, flip)];
    if used.contains(&id) {
        parts.extend(sizes.iter().map(|jar| holds(plan, canner, *jar)));
    }
    parts
}

/// How many jars of a size fill the canner, and the way to write a count down.
fn holds(plan: Plan, canner: &KeptCanner, jar: Jar) -> El {
    let id = canner.canner;
    let counted = plan.store.look_now(|archive| archive.household().holds(id));
    let counted = counted.into_iter().find(|holds| holds.jar() == jar);
    let published = published_capacity(canner.quarts, jar);
    let (says, source) = match (counted, published) {
        (Some(holds), _) => {
            let says = if holds.layers() > 1 {
                t!("{} {} jars fill it in two layers.", holds.jars(), jar.name())
            } else {
                t!("{} {} jars fill it.", holds.jars(), jar.name())
            };
            (says, Origin::Own.words())
        }
        (None, Some((range, origin))) => {
            (t!("{} {} jars in a typical load.", range, jar.name()), origin.words())
        }
        (None, None) => {
            let says = t!("Nothing is published for {} jars: count them.", jar.name());
            (says, CAPACITY.say().to_owned())
        }
    };
    let (count, layers) = (signal(String::new()), signal(1_u16));
    let name = t!("{} jars that fill {}", jar.name(), canner.name.as_str());
    let input = el("input")
        .attr("type", "text")
        .attr("inputmode", "numeric")
        .attr("maxlength", "3")
        .prop_by("value", move || JsValue::from_str(&count.get()))
        .on("input", move |event| count.set(typed(&event)));
    let write = move || {
        let jars = count.with_untracked(|text| text.trim().parse::<u16>().unwrap_or(0));
        let layers = u8::try_from(layers.get_untracked()).unwrap_or(1);
        match Holds::new(jar, jars, layers) {
            Ok(holds) => {
                plan.store.act(Id::HOUSEHOLD, Body::CannerHolds { canner: id, holds });
            }
            Err(error) => plan.store.warn(error.to_string()),
        }
    };
    let mut details = el("details")
        .child(say("summary", &t!("Count {} jars on the rack", jar.name())))
        .child(of("label", "field").child(of("span", "name").text(&name)).child(input));
    if !matches!(jar, Jar::Quart | Jar::PintAndHalf) {
        details = details
            .child(stepper(t!("Layers"), layers.into(), 1, 2, move |n| layers.set(n)))
            .child(why(
                t!("Two layers need a tall canner, with a rack between or the jars staggered."),
                TWO_LAYERS.say(),
            ));
    }
    of("div", "held")
        .child(say("p", &says))
        .child(of("p", "source").text(&source))
        .child(details.child(button("second", t!("Write it down"), write)))
}
