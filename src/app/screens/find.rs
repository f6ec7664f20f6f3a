//! Find a tested process, or be told that none exists; then start a batch with it.
//!
//! Invariant: the answer is the finder's; without one there is no way on.

use crate::app::parts::{
    Choice, choices, heading, number_field, section, stepper, text_field, why,
};
use crate::app::store::{Store, new_id};
use hearthjar::batch::{BatchStart, Body, CannerKept, LoadPlan, Text};
use hearthjar::present::Route;
use hearthjar::process::{
    CannerQuarts, Food, Gauge, Jar, Pack, Question, Refusal, Tested, Vessel, find as find_process,
    search,
};
use hearthjar::units::Altitude;
use leptos::prelude::*;

/// What the person has chosen so far.
#[derive(Clone, Copy)]
struct Chosen {
    food: RwSignal<String>,
    pack: RwSignal<Pack>,
    jar: RwSignal<Jar>,
    vessel: RwSignal<String>,
    quarts: RwSignal<u16>,
    altitude: RwSignal<String>,
    metric: RwSignal<bool>,
    content: RwSignal<String>,
    jars: RwSignal<u16>,
    typed: RwSignal<String>,
}

/// An answer, or what is still missing.
#[derive(Clone, PartialEq)]
enum Answer {
    Missing(String),
    Refused(&'static Refusal),
    Found(Tested, Altitude),
}

/// The finder's screen.
pub fn find(store: Store) -> AnyView {
    let prefs = store.prefs.get_untracked();
    let metric = prefs.metric;
    let altitude = prefs.altitude.map_or(String::new(), |altitude| {
        if metric { altitude.metres().to_string() } else { altitude.feet().to_string() }
    });
    let chosen = Chosen {
        food: RwSignal::new(prefs.product),
        pack: RwSignal::new(prefs.pack),
        jar: RwSignal::new(prefs.jar),
        vessel: RwSignal::new(gauge_key(prefs.gauge).to_owned()),
        quarts: RwSignal::new(u16::from(prefs.quarts)),
        altitude: RwSignal::new(altitude),
        metric: RwSignal::new(metric),
        content: RwSignal::new(prefs.content),
        jars: RwSignal::new(prefs.jars),
        typed: RwSignal::new(String::new()),
    };
    let answer = Memo::new(move |_| answer(chosen));
    view! {
        {heading("Find a tested process")}
        {food_part(chosen)}
        {pack_part(chosen)}
        {jar_part(chosen)}
        {canner_part(store, chosen)}
        {altitude_part(store, chosen)}
        <section id="answer" aria-live="polite">{move || show(store, chosen, answer.get())}</section>
    }
    .into_any()
}

const fn gauge_key(gauge: Gauge) -> &'static str {
    match gauge {
        Gauge::Dial => "dial",
        Gauge::Weighted => "weighted",
    }
}

fn answer(chosen: Chosen) -> Answer {
    let altitude = match Altitude::parse(&chosen.altitude.get(), chosen.metric.get()) {
        Ok(altitude) => altitude,
        Err(_) if chosen.altitude.with(|text| text.trim().is_empty()) => {
            return Answer::Missing("Give the altitude: it decides the pressure.".to_owned());
        }
        Err(error) => return Answer::Missing(error.to_string()),
    };
    let quarts = u8::try_from(chosen.quarts.get()).unwrap_or(u8::MAX);
    let pressure_canner =
        |gauge| CannerQuarts::new(quarts).map(|quarts| Vessel::PressureCanner { gauge, quarts });
    let vessel = match chosen.vessel.get().as_str() {
        "dial" => pressure_canner(Gauge::Dial),
        "weighted" => pressure_canner(Gauge::Weighted),
        "small" => Ok(Vessel::SmallPressureCanner),
        "multicooker" => Ok(Vessel::Multicooker),
        "steam" => Ok(Vessel::AtmosphericSteam),
        "oven" => Ok(Vessel::Oven),
        _ => Ok(Vessel::BoilingWater),
    };
    let vessel = match vessel {
        Ok(vessel) => vessel,
        Err(error) => return Answer::Missing(error.to_string()),
    };
    let food = chosen.food.get();
    let pack = chosen.pack.get();
    let jar = chosen.jar.get();
    match find_process(&Question { food: &food, pack, jar, vessel, altitude }) {
        Ok(tested) => Answer::Found(tested, altitude),
        Err(refusal) => Answer::Refused(refusal),
    }
}

fn food_part(chosen: Chosen) -> AnyView {
    let open = RwSignal::new(chosen.food.with_untracked(String::is_empty));
    let name =
        move || chosen.food.with(|key| Food::by_key(key).map_or("Choose a food", Food::name));
    let pick = move |food: &'static Food| {
        chosen.food.set(food.key().to_owned());
        let packs: Vec<Pack> = food.packs().collect();
        if !packs.contains(&chosen.pack.get_untracked())
            && let Some(first) = packs.first()
        {
            chosen.pack.set(*first);
        }
        open.set(false);
    };
    let list = move || {
        let found = chosen.typed.with(|typed| search(typed));
        let none = found.is_empty();
        let items: Vec<AnyView> = found
            .into_iter()
            .map(|food| {
                let note = (!food.has_process()).then(|| {
                    view! { <span class="quiet">"no tested process"</span> }
                });
                view! {
                    <li><button type="button" class="line" on:click=move |_| pick(food)>
                        <span>{food.name()}</span>{note}
                    </button></li>
                }
                .into_any()
            })
            .collect();
        let nothing = none.then(|| {
            view! {
                <p>"No such food in the published tables. Without a tested process it cannot be \
                    canned: freeze it, or ask your extension office."</p>
            }
        });
        view! { {nothing}<ul class="lines scroll">{items}</ul> }
    };
    view! {
        {section("Food")}
        <Show when=move || open.get()
            fallback=move || view! {
                <button type="button" class="chosen" on:click=move |_| open.set(true)>
                    <span>{name}</span><span class="quiet">"Change"</span>
                </button>
            }>
            {text_field("Search foods", chosen.typed.into(), move |text| chosen.typed.set(text))}
            {list}
        </Show>
    }
    .into_any()
}

fn pack_part(chosen: Chosen) -> AnyView {
    let list = || Pack::ALL.into_iter().map(|pack| Choice::new(pack.key(), pack.name())).collect();
    let now = Signal::derive(move || chosen.pack.get().key().to_owned());
    choices("Preparation", "pack", list(), now, move |key| {
        if let Some(pack) = Pack::ALL.into_iter().find(|pack| pack.key() == key) {
            chosen.pack.set(pack);
            // Plain and smoked fish stand in separate tables.
            let food = chosen.food.get_untracked();
            let other = match (food.as_str(), pack) {
                ("fish" | "lean-fish", Pack::Smoked) => Some("smoked-fish"),
                ("smoked-fish", Pack::Raw) => Some("fish"),
                _ => None,
            };
            if let Some(other) = other {
                chosen.food.set(other.to_owned());
            }
        }
    })
}

fn jar_part(chosen: Chosen) -> AnyView {
    let list = Jar::ALL.into_iter().map(|jar| Choice::new(jar.key(), jar.name())).collect();
    let now = Signal::derive(move || chosen.jar.get().key().to_owned());
    choices("Jar", "jar", list, now, move |key| {
        if let Some(jar) = Jar::from_key(&key) {
            chosen.jar.set(jar);
        }
    })
}

fn canner_part(store: Store, chosen: Chosen) -> AnyView {
    let kept = move || {
        let canners = store.archive.with(|archive| archive.household().canners.clone());
        let items: Vec<AnyView> = canners
            .into_iter()
            .map(|canner: CannerKept| {
                let name = format!("{}, {} qt", canner.name.as_str(), canner.quarts);
                view! {
                    <button type="button" class="pick" on:click=move |_| {
                        chosen.vessel.set(gauge_key(canner.gauge).to_owned());
                        chosen.quarts.set(u16::from(canner.quarts));
                    }>{name}</button>
                }
                .into_any()
            })
            .collect();
        (!items.is_empty()).then(|| view! { <div class="row">{items}</div> })
    };
    let list = vec![
        Choice::new("weighted", "Pressure canner, weighted gauge"),
        Choice::new("dial", "Pressure canner, dial gauge"),
        Choice::new("small", "Smaller: no room for 4 quart jars"),
        Choice::new("multicooker", "Electric multicooker"),
        Choice::new("water", "Boiling-water canner"),
        Choice::new("steam", "Steam canner without pressure"),
        Choice::new("oven", "Oven or open kettle"),
    ];
    let is_canner = move || matches!(chosen.vessel.get().as_str(), "weighted" | "dial");
    view! {
        {section("Canner")}
        {kept}
        {choices("Kind", "vessel", list, chosen.vessel.into(), move |key| chosen.vessel.set(key))}
        <Show when=is_canner>
            {stepper("Size, quarts", chosen.quarts.into(), 4, 60, move |n| chosen.quarts.set(n))}
        </Show>
    }
    .into_any()
}

fn altitude_part(store: Store, chosen: Chosen) -> AnyView {
    let kept = move || {
        let places = store.archive.with(|archive| archive.household().places.clone());
        let items: Vec<AnyView> = places
            .into_iter()
            .map(|place| {
                let name = format!("{}, {} ft", place.name.as_str(), place.altitude.feet());
                let feet = place.altitude.feet();
                view! {
                    <button type="button" class="pick" on:click=move |_| {
                        chosen.metric.set(false);
                        chosen.altitude.set(feet.to_string());
                    }>{name}</button>
                }
                .into_any()
            })
            .collect();
        (!items.is_empty()).then(|| view! { <div class="row">{items}</div> })
    };
    let unit = Signal::derive(move || if chosen.metric.get() { "m" } else { "ft" }.to_owned());
    let units = vec![Choice::new("ft", "feet"), Choice::new("m", "metres")];
    view! {
        {section("Altitude")}
        {kept}
        {number_field("Height above sea level", chosen.altitude.into(),
            move |text| chosen.altitude.set(text))}
        {choices("In", "unit", units, unit, move |key| chosen.metric.set(key == "m"))}
    }
    .into_any()
}

fn show(store: Store, chosen: Chosen, answer: Answer) -> AnyView {
    match answer {
        Answer::Missing(text) => view! { <p class="lead">{text}</p> }.into_any(),
        Answer::Refused(refusal) => refused(refusal),
        Answer::Found(tested, altitude) => found(store, chosen, tested, altitude),
    }
}

fn refused(refusal: &'static Refusal) -> AnyView {
    view! {
        <div class="answer no">
            <h2>"No tested process"</h2>
            <p>{refusal.reason()}</p>
            <p><strong>"Instead: "</strong>{refusal.instead()}</p>
            <p class="source">{refusal.publication()}</p>
        </div>
    }
    .into_any()
}

fn found(store: Store, chosen: Chosen, tested: Tested, altitude: Altitude) -> AnyView {
    let process = tested.process();
    let pressure = tested.pressure();
    let headspace = tested.headspace();
    let band = match tested.band() {
        (from, Some(to)) => format!("{from} to {to} ft"),
        (from, None) => format!("above {from} ft"),
    };
    let stand_in = (!process.jars().contains(&tested.jar())).then(|| {
        why(
            format!("A {} jar takes the time of the next larger tested size.", tested.jar().name()),
            "NCHFP, Jar Size Choices Have You Frustrated?; K-State Extension, Canning in Odd-Sized \
             Jars, 2022",
        )
    });
    let cautions: Vec<AnyView> = tested
        .cautions()
        .into_iter()
        .map(|caution| {
            view! { <li>{caution.text}" "<span class="source">{caution.publication}</span></li> }
                .into_any()
        })
        .collect();
    let notes: Vec<AnyView> =
        process.notes().iter().map(|note| view! { <li>{*note}</li> }.into_any()).collect();
    view! {
        <div class="answer yes">
            <h2>"Tested process"</h2>
            <p class="figures">
                <span><b>{tested.minutes().to_string()}</b>" min"</span>
                <span><b>{pressure.to_string()}</b>" psi"</span>
            </p>
            <p>{format!("{} ({} kPa) on the {}, {band}", pressure_words(pressure.to_string()),
                pressure.kpa(), tested.gauge().name())}</p>
            <p class="source">{process.publication()}</p>
            {stand_in}
            <dl>
                <dt>"Vent first"</dt><dd>{format!("{} min of steady steam", tested.vent())}</dd>
                <dt>"Headspace"</dt>
                <dd>{format!("{headspace} in ({} mm)", headspace.millimetres())}</dd>
                <dt>"Canner water"</dt><dd>{process.water()}</dd>
            </dl>
            <ul class="plain">{cautions}</ul>
            <details><summary>"Prepare and fill"</summary><ol>{notes}</ol></details>
        </div>
        {text_field("What is in the jars", chosen.content.into(), move |text| chosen.content.set(text))}
        {stepper("Jars in this load", chosen.jars.into(), 1, 60, move |n| chosen.jars.set(n))}
        <div class="foot">
            <button type="button" class="main" disabled=move || store.busy.get()
                on:click=move |_| begin(store, chosen, tested, altitude)>
                "Start this batch"
            </button>
        </div>
    }
    .into_any()
}

fn pressure_words(psi: String) -> String {
    format!("{psi} psi")
}

/// Records the batch and its first load, then goes to the load.
fn begin(store: Store, chosen: Chosen, tested: Tested, altitude: Altitude) {
    let process = tested.process();
    let typed = chosen.content.get_untracked();
    let fallback = Food::by_key(process.product()).map_or("Food", Food::short);
    let name = if typed.trim().is_empty() { fallback } else { typed.trim() };
    let Ok(content) = Text::new(name) else {
        store.warn("Keep the name to 200 characters.");
        return;
    };
    let jars = chosen.jars.get_untracked();
    store.prefer(|prefs| {
        prefs.product = chosen.food.get_untracked();
        prefs.pack = chosen.pack.get_untracked();
        prefs.jar = chosen.jar.get_untracked();
        prefs.gauge = tested.gauge();
        prefs.quarts = tested.quarts();
        prefs.altitude = Some(altitude);
        prefs.metric = chosen.metric.get_untracked();
        prefs.jars = jars;
        prefs.content = content.as_str().to_owned();
    });
    let start = BatchStart {
        content,
        product: process.product().to_owned(),
        pack: process.pack(),
        jar: tested.jar(),
        altitude,
        place: Text::default(),
        demo: false,
    };
    let batch = new_id();
    let bodies = vec![Body::BatchStarted(start), Body::LoadPlanned(LoadPlan::of(&tested, jars))];
    store.act_all(batch, bodies, move |ids| {
        if let Some(load) = ids.last() {
            store.go(Route::Load(batch, *load));
        }
    });
}
