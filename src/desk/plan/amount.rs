//! The food, how much of it, and the jars it goes into.
//!
//! Invariant: choices of foods and packs are those of the tables; a food without a
//! tested process cannot be planned.

use super::Plan;
use crate::app::draw::{El, button, derive, el, of, region, say, typed};
use crate::app::parts::{choices, section, why};
use hearthjar::plan::{Basis, Field, Food as By, yield_of};
use hearthjar::process::{Food, Group, Jar, Pack, foods};
use hearthjar::t;
use hearthjar::w;
use hearthjar::words::Word;
use wasm_bindgen::JsValue;

const GROUPS: [(Group, Word); 7] = [
    (Group::Fish, w!("Fish")),
    (Group::Shellfish, w!("Shellfish")),
    (Group::Meat, w!("Meat and large game")),
    (Group::Poultry, w!("Poultry and rabbit")),
    (Group::Stock, w!("Stock")),
    (Group::Soup, w!("Soup")),
    (Group::Vegetable, w!("Vegetables")),
];

/// A list to choose one of, with its name; `list` pairs keys with the names shown.
pub(super) fn select(
    name: &str,
    options: Vec<El>,
    chosen: impl Fn() -> String + 'static,
    choose: impl Fn(String) + 'static,
) -> El {
    let select = el("select")
        .children(options)
        .prop_by("value", move || JsValue::from_str(&chosen()))
        .on("change", move |event| choose(typed(&event)));
    of("label", "field").child(of("span", "name").text(name)).child(select)
}

pub(super) fn option(key: &str, name: &str) -> El {
    el("option").attr("value", key).text(name)
}

/// The form's first part.
pub(super) fn form(plan: Plan) -> Vec<El> {
    let metric = derive(move || plan.draft.with(|draft| key_of(draft.metric)).to_owned());
    vec![
        food(plan),
        region({
            let food = plan.part(|draft| draft.food.clone());
            move || packs(plan, &food.get())
        }),
        plan.line(t!("What to call it, if you like"), "text", Field::Content),
        section(t!("How much")),
        choices(
            t!("Units"),
            "plan-units",
            &[("us", "lb, ft"), ("si", "kg, m")],
            metric,
            move |key| {
                plan.change(|draft| draft.measure(key == "si"));
                plan.store.prefer(|prefs| prefs.metric = key == "si");
            },
        ),
        by(plan),
        region({
            let shape =
                plan.part(|draft| (draft.by, draft.basis, draft.metric, draft.food.clone()));
            move || {
                let (by, basis, metric, food) = shape.get();
                amount(plan, by, basis, metric, &food)
            }
        }),
        section(t!("Jars")),
        jars(plan),
    ]
}

const fn key_of(metric: bool) -> &'static str {
    if metric { "si" } else { "us" }
}

fn food(plan: Plan) -> El {
    let groups = GROUPS.iter().map(|(group, name)| {
        let mine = foods().iter().filter(|food| food.group() == *group && food.has_process());
        el("optgroup")
            .attr("label", name.say())
            .children(mine.map(|food| option(food.key(), food.name())).collect())
    });
    let chosen = move || plan.draft.with(|draft| draft.food.clone());
    select(t!("Food"), groups.collect(), chosen, move |key| {
        plan.change(|draft| {
            if let Some(food) = Food::by_key(&key)
                && !food.packs().any(|pack| pack == draft.pack)
                && let Some(first) = food.packs().next()
            {
                draft.pack = first;
            }
            // Where a yield is published it is known how the food has to be weighed.
            if let Some(found) = yield_of(&key) {
                draft.basis = found.basis;
            }
            draft.food = key;
        });
    })
}

fn packs(plan: Plan, food: &str) -> Vec<El> {
    let Some(food) = Food::by_key(food) else { return Vec::new() };
    let packs: Vec<_> = food.packs().map(|pack| (pack.key(), pack.name())).collect();
    if packs.len() < 2 {
        return Vec::new();
    }
    let now = derive(move || plan.draft.with(|draft| draft.pack.key()).to_owned());
    vec![choices(t!("Preparation"), "plan-pack", &packs, now, move |key| {
        if let Some(pack) = Pack::from_key(key) {
            plan.change(|draft| draft.pack = pack);
        }
    })]
}

fn by(plan: Plan) -> El {
    let ways = [
        ("weight", t!("A weight")),
        ("count", t!("A number of fish")),
        ("jars", t!("The jars I want")),
    ];
    let now = derive(move || plan.draft.with(|draft| draft.by.key()).to_owned());
    choices(t!("I know"), "plan-by", &ways, now, move |key| {
        if let Some(by) = By::from_key(key) {
            plan.change(|draft| draft.by = by);
        }
    })
}

fn amount(plan: Plan, by: By, basis: Basis, metric: bool, food: &str) -> Vec<El> {
    let unit = if metric { "kg" } else { "lb" };
    let mut parts = Vec::new();
    match by {
        By::Weight => {
            parts.push(plan.line(&t!("Weight, {}", unit), "decimal", Field::Weight));
        }
        By::Count => {
            parts.push(plan.line(t!("How many"), "text", Field::Count));
            let each = t!("Usual weight of one, {}, such as 2 to 3", unit);
            parts.push(plan.line(&each, "text", Field::Each));
        }
        By::Jars => {}
    }
    let bases = [
        ("whole", t!("As caught or bought")),
        ("dressed", t!("Dressed: cleaned, head off")),
        ("ready", t!("Ready for the jar")),
    ];
    let now = derive(move || plan.draft.with(|draft| draft.basis.key()).to_owned());
    parts.push(choices(t!("It is weighed"), "plan-basis", &bases, now, move |key| {
        if let Some(basis) = Basis::from_key(key) {
            plan.change(|draft| draft.basis = basis);
        }
    }));
    if let Some(found) = yield_of(food) {
        let said = t!("Published for this food: {}.", found.weighed.say());
        parts.push(of("p", "quiet").text(&said));
        parts.push(why("", found.publication.say()));
    }
    let mut own = el("details")
        .child(say("summary", t!("Your own figures")))
        .child(of("p", "quiet").text(t!(
            "They stand above the published ones. Batches you weigh (under Weigh) are taken in by \
                 themselves."
        )))
        .child(plan.line(
            &t!("Ready food in one jar of the first size, {}", unit),
            "text",
            Field::PerJar,
        ));
    if basis != Basis::Ready {
        own = own.child(plan.line(
            t!("Of 100 parts weighed, how many are ready for the jar, such as 40 to 50"),
            "text",
            Field::Kept,
        ));
    }
    parts.push(own);
    parts
}

/// The sizes that some process takes, the usual ones first.
const SIZES: [Jar; 7] = [
    Jar::Pint,
    Jar::HalfPint,
    Jar::Quart,
    Jar::TwelveOunce,
    Jar::PintAndHalf,
    Jar::FourOunce,
    Jar::Ml250,
];

fn jars(plan: Plan) -> El {
    let sizes =
        plan.part(|draft| (draft.by, draft.wants.iter().map(|(jar, _)| *jar).collect::<Vec<_>>()));
    region(move || {
        let (by, sizes) = sizes.get();
        let several = sizes.len() > 1;
        let mut parts: Vec<El> =
            sizes.iter().enumerate().map(|(place, jar)| want(plan, place, *jar, several)).collect();
        if by != By::Jars {
            let text = t!("No number: as many as the food fills.");
            parts.push(of("p", "quiet").text(text));
        }
        if let Some(next) = SIZES.iter().find(|jar| !sizes.contains(jar)).copied() {
            parts.push(button("second", t!("Add a jar size"), move || {
                plan.change(|draft| draft.wants.push((next, String::new())));
            }));
        }
        parts
    })
}

fn want(plan: Plan, place: usize, jar: Jar, several: bool) -> El {
    let options = SIZES.iter().map(|jar| option(jar.key(), jar.name())).collect();
    let size = select(
        t!("Size"),
        options,
        move || jar.key().to_owned(),
        move |key| {
            if let Some(jar) = Jar::from_key(&key) {
                plan.change(|draft| {
                    if let Some(want) = draft.wants.get_mut(place) {
                        want.0 = jar;
                    }
                });
            }
        },
    );
    let input = el("input")
        .attr("type", "text")
        .attr("inputmode", "numeric")
        .attr("autocomplete", "off")
        .attr("maxlength", "9")
        .prop_by("value", move || {
            let number = plan.draft.with(|draft| draft.wants.get(place).map(|want| want.1.clone()));
            JsValue::from_str(&number.unwrap_or_default())
        })
        .on("input", move |event| {
            let text = typed(&event);
            plan.change(|draft| {
                if let Some(want) = draft.wants.get_mut(place) {
                    want.1 = text;
                }
            });
        });
    let number = of("label", "field").child(of("span", "name").text(t!("How many"))).child(input);
    let gone = several.then(|| {
        let label = t!("Remove {}", jar.name());
        button("pick", &label, move || {
            plan.change(|draft| {
                if place < draft.wants.len() {
                    draft.wants.remove(place);
                }
            });
        })
    });
    of("div", "pair").child(size).child(number).maybe(gone)
}
