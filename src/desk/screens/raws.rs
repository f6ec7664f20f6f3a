//! Raw lots on their way to the canner, and the start of a new one.
//!
//! Invariant: what was passed shows first; the clocks are worked out anew from what
//! was recorded, never counted.

use crate::app::draw::{El, Var, button, derive, el, link, of, region, say, signal};
use crate::app::parts::{choices, heading, number_field, page, section, stepper, text_field};
use crate::app::store::{Store, new_id};
use hearthjar::batch::{Body, Text};
use hearthjar::brine::Fish;
use hearthjar::lot::{Kept, LotMove, LotSaid, LotStart, LotStep, Standing};
use hearthjar::present::{Route, lot_cards, words};
use hearthjar::process::{Food, search};
use hearthjar::t;
use hearthjar::units::Span;

/// The screen of all lots.
pub fn raws(store: Store) -> Vec<El> {
    let cards = of("ul", "lines").fill(move || {
        let now = store.now.get();
        let cards = store.look(|archive| lot_cards(archive, now));
        if cards.is_empty() {
            return vec![of("li", "quiet").text(t!("No lot is waiting for the canner."))];
        }
        cards
            .into_iter()
            .map(|card| {
                let clock = match (card.standing, card.due) {
                    (Standing::Over, _) => card.say.to_owned(),
                    (_, Some(due)) => format!("{} {}", words(due.since(now)), card.say),
                    (_, None) => t!("for {}", words(now.since(card.since))),
                };
                let class = if card.standing == Standing::Inside { "quiet" } else { "said" };
                el("li").child(
                    of("a", "line")
                        .attr("href", &Route::Raw(card.batch).hash())
                        .child(
                            el("span")
                                .child(say("b", &card.name))
                                .text(&format!(". {}", card.step)),
                        )
                        .child(of("span", class).text(&clock)),
                )
            })
            .collect()
    });
    let mut parts = vec![
        heading(t!("Before the canner")),
        of("p", "lead")
            .text(t!("Thaw, brine, drip, smoke, hold, pack: with the time out of the cold.")),
        cards,
        link("second", &Route::Brine.hash(), t!("Brine and smoke")),
        section(t!("A new lot")),
    ];
    parts.extend(new_lot(store));
    vec![page(parts)]
}

/// Foods whose way to the canner is worth a clock.
fn food_choice(food: Var<String>) -> El {
    let typed = signal(String::new());
    let open = signal(false);
    region(move || {
        if !open.get() {
            let name = food.with(|key| Food::by_key(key).map_or("", Food::name));
            return vec![
                el("button")
                    .attr("type", "button")
                    .attr("class", "chosen")
                    .child(say("span", name))
                    .child(of("span", "quiet").text(t!("Change")))
                    .on("click", move |_| open.set(true)),
            ];
        }
        let list = of("ul", "lines scroll").attr("aria-label", t!("Foods")).fill(move || {
            let found = typed.with(|typed| search(typed));
            found
                .into_iter()
                .filter(|food| food.has_process())
                .map(|one| {
                    el("li").child(button("line", one.name(), move || {
                        food.set(one.key().to_owned());
                        open.set(false);
                    }))
                })
                .collect()
        });
        vec![text_field(t!("Search foods"), typed), list]
    })
}

fn new_lot(store: Store) -> Vec<El> {
    let name = signal(String::new());
    let food = signal("fish".to_owned());
    let weight = signal(String::new());
    let step = signal(LotStep::Caught);
    let kept = signal(Kept::Cold);
    let (hours, minutes) = (signal(0_u16), signal(0_u16));
    let firsts = [
        ("caught", t!("caught, not yet gutted")),
        ("cleaned", t!("gutted or dressed")),
        ("frozen", t!("in the freezer")),
        ("thawing", t!("thawing")),
        ("held", t!("smoked or salted already")),
    ];
    let step_now = derive(move || step.get().key().to_owned());
    let start = move || {
        let metric = store.prefs.with_untracked(|prefs| prefs.metric);
        let typed = weight.get_untracked();
        let grams = match (typed.trim().is_empty(), Fish::parse(&typed, metric)) {
            (true, _) => 0,
            (false, Ok(fish)) => u32::try_from(fish.in_grams()).unwrap_or(0),
            (false, Err(error)) => return store.warn(t!("Weight: {}", error)),
        };
        let typed = name.get_untracked();
        let short = Food::by_key(&food.get_untracked()).map_or(t!("Food"), Food::short);
        let text = match Text::new(if typed.trim().is_empty() { short } else { &typed }) {
            Ok(text) => text,
            Err(error) => return store.warn(error.to_string()),
        };
        let ago = Span::hours(i64::from(hours.get_untracked()))
            .plus(Span::minutes(i64::from(minutes.get_untracked())));
        let since = store.now.get_untracked().plus(Span(0).minus(ago));
        let first = LotMove { step: step.get_untracked(), kept: kept.get_untracked(), since };
        let food = food.get_untracked();
        let said = LotStart { name: text, food, grams, first, demo: false };
        let batch = new_id();
        let body = Body::Lot(LotSaid::Started(said));
        store.act_all(batch, vec![body], move |_| store.go(Route::Raw(batch)));
    };
    vec![
        food_choice(food),
        text_field(t!("What you call it"), name),
        region(move || {
            let unit = store.habit(|prefs| if prefs.metric { "kg" } else { "lb" });
            vec![number_field(&t!("Weight, {} (may stay empty)", unit), weight)]
        }),
        choices(t!("Now it is"), "lot-first", &firsts, step_now, move |key| {
            if let Some(first) = LotStep::from_key(key) {
                step.set(first);
                kept.set(if first == LotStep::Caught { Kept::Cold } else { first.usual() });
            }
        }),
        super::raw::kept_choice(step.into(), kept, "lot-kept"),
        of("p", "quiet").text(t!("Since when? For fish: since the catch.")),
        stepper(t!("Hours ago"), hours.into(), 0, 240, move |n| hours.set(n)),
        stepper(t!("and minutes"), minutes.into(), 0, 59, move |n| minutes.set(n)),
        button("main", t!("Start this lot"), start),
    ]
}
