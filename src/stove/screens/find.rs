//! Find a tested process, or be told that none exists; then start a batch with it.
//!
//! Invariant: the answer is the finder's; without one there is no way on.

use super::find_form::{Chosen, form};
use super::find_lot;
use crate::app::device::{dom::show, keep};
use crate::app::draw::{El, button, el, memo, of, say, spawn};
use crate::app::parts::{heading, page, prep, stepper, text_field, translated, why};
use crate::app::store::{Store, new_id};
use hearthjar::batch::{BatchStart, Body, Id, LoadPlan, Text};
use hearthjar::present::{DIAL_RULES, DialAdvice, MIND_VENT, Route, dial_advice};
use hearthjar::process::{
    Food, Gauge, Jar, PrepStep, Question, Refusal, Tested, find as find_process, tested_jar,
};
use hearthjar::t;
use hearthjar::units::{Altitude, PsiGauge};

/// An answer, or what is still missing.
#[derive(Clone, PartialEq)]
enum Answer {
    Missing(String),
    /// Why not, and the jar that there is a process for.
    Refused(&'static Refusal, Option<Jar>),
    Found(Tested, Altitude),
}

/// The finder's screen.
pub fn find(store: Store, lot: Option<Id>) -> Vec<El> {
    let chosen = Chosen::last(store.prefs.get_untracked());
    if let Some(lot) = lot {
        find_lot::preset(store, lot, chosen);
    }
    let answer = memo(move || answer(chosen));
    let mut parts = vec![heading(t!("Find a tested process"))];
    parts.extend(lot.map(|lot| find_lot::says(store, lot, chosen)));
    parts.extend(form(store, chosen));
    let section = el("section").attr("id", "answer").attr("aria-live", "polite");
    parts.push(section.fill(move || match answer.get() {
        Answer::Missing(text) => vec![of("p", "lead").text(&text)],
        Answer::Refused(refusal, jar) => {
            let mut said = vec![refused(chosen, refusal, jar)];
            said.extend(in_english(store, chosen));
            said
        }
        Answer::Found(tested, _) => found(store, chosen, tested),
    }));
    let way_on = of("div", "foot").fill(move || vec![way_on(store, lot, chosen, answer.get())]);
    vec![page(parts), way_on]
}

fn answer(chosen: Chosen) -> Answer {
    if chosen.altitude.with(|text| text.trim().is_empty()) {
        return Answer::Missing(t!("Give the altitude: it decides the pressure.").to_owned());
    }
    let altitude = match Altitude::parse(&chosen.altitude.get(), chosen.metric.get()) {
        Ok(altitude) => altitude,
        Err(error) => return Answer::Missing(error.to_string()),
    };
    let vessel = match chosen.vessel() {
        Ok(vessel) => vessel,
        Err(error) => return Answer::Missing(error.to_string()),
    };
    let (food, pack, jar) = (chosen.food.get(), chosen.pack.get(), chosen.jar.get());
    let question = Question { food: &food, pack, jar, vessel, altitude };
    match find_process(&question) {
        Ok(tested) => Answer::Found(tested, altitude),
        Err(refusal) => Answer::Refused(refusal, tested_jar(&question)),
    }
}

fn refused(chosen: Chosen, refusal: &'static Refusal, jar: Option<Jar>) -> El {
    let other = jar.map(|jar| {
        button("second", &t!("Tested in a {} jar: show it", jar.name()), move || {
            chosen.jar.set(jar);
            show("answer");
        })
    });
    of("div", "answer no")
        .child(say("h2", t!("No tested process")))
        .child(say("p", refusal.reason()))
        .child(el("p").child(say("strong", t!("Instead: "))).text(refusal.instead()))
        .child(of("p", "source").text(refusal.publication()))
        .maybe(other)
}

/// The word on the translation; the way to English keeps what was chosen.
fn in_english(store: Store, chosen: Chosen) -> Option<El> {
    translated(move || chosen.keep(store, &chosen.content.get_untracked()))
}

fn figure(number: &str, unit: &str) -> El {
    el("span").child(say("b", number)).text(unit)
}

fn found(store: Store, chosen: Chosen, tested: Tested) -> Vec<El> {
    let process = tested.process();
    let pressure = tested.pressure();
    let headspace = tested.headspace();
    let band = match tested.band() {
        (from, Some(to)) => t!("{} to {} ft", from, to),
        (from, None) => t!("above {} ft", from),
    };
    let stand_in = (!process.jars().contains(&tested.jar())).then(|| {
        why(
            &t!("A {} jar takes the time of the next larger tested size.", tested.jar().name()),
            t!("NCHFP, Jar Size Choices Have You Frustrated?; K-State Extension, Canning in \
                 Odd-Sized Jars, 2022"),
        )
    });
    let cautions = tested
        .cautions()
        .into_iter()
        .map(|caution| {
            say("li", caution.text())
                .text(" ")
                .child(of("span", "source").text(caution.publication()))
        })
        .collect();
    let vent = t!("{} min of steady steam", tested.vent());
    let space = t!("{} in ({} mm)", headspace, headspace.millimetres());
    let facts = el("dl").children(vec![
        say("dt", t!("Vent first")),
        say("dd", &vent),
        say("dt", t!("Headspace")),
        say("dd", &space),
        say("dt", t!("Canner water")),
        say("dd", process.water()),
    ]);
    let reasons = why(MIND_VENT.why.say(), MIND_VENT.publication.say())
        .child(say("p", t!("Headspace and canner water are printed with the time.")))
        .child(of("p", "source").text(process.publication()));
    let card = of("div", "answer yes")
        .child(say("h2", t!("Tested process")))
        .child(
            of("p", "figures")
                .child(figure(&tested.minutes().to_string(), "\u{a0}min"))
                .child(figure(&pressure.to_string(), "\u{a0}psi")),
        )
        .child(say(
            "p",
            &t!(
                "{} psi ({} kPa) on the {}, {}",
                pressure,
                pressure.kpa(),
                tested.gauge().name(),
                band
            ),
        ))
        .child(of("p", "source").text(process.publication()))
        .maybe(stand_in)
        .child(facts)
        .child(reasons)
        .child(of("ul", "plain").children(cautions))
        .children(
            [PrepStep::Keep, PrepStep::Prepare, PrepStep::Fill, PrepStep::Open]
                .into_iter()
                .filter_map(|at| prep(process, at, false))
                .collect(),
        );
    vec![
        card,
        of("div", "gauge").fill(move || gauge_part(store, chosen, tested)),
        el("div").maybe(in_english(store, chosen)),
        text_field(t!("What is in the jars"), chosen.content),
        stepper(t!("Jars in this load"), chosen.jars.into(), 1, 60, move |n| chosen.jars.set(n)),
    ]
}

/// What the last check of a dial means for this run.
fn advice(store: Store, chosen: Chosen, tested: Tested) -> Option<DialAdvice> {
    if tested.gauge() != Gauge::Dial {
        return None;
    }
    let check = chosen.canner.get().and_then(|id| store.look(|a| a.household().check(id)));
    Some(dial_advice(check, tested.pressure(), store.now.get_untracked()))
}

fn gauge_part(store: Store, chosen: Chosen, tested: Tested) -> Vec<El> {
    let Some(advice) = advice(store, chosen, tested) else { return Vec::new() };
    let class = if advice.setting.is_some() { "said" } else { "answer no" };
    let mut lines: Vec<El> = advice.say.iter().map(|say| of("p", class).text(say)).collect();
    lines.push(why("", DIAL_RULES.say()));
    lines
}

/// The main action: always in reach, so that a known answer needs no scrolling.
fn way_on(store: Store, lot: Option<Id>, chosen: Chosen, answer: Answer) -> El {
    match answer {
        Answer::Found(tested, altitude) => {
            if lot.is_some_and(|lot| find_lot::bar(store, lot, chosen).is_some()) {
                return button("danger", t!("Not this lot: see why"), || show("lot-says"));
            }
            let setting = match advice(store, chosen, tested) {
                Some(advice) => advice.setting,
                None => Some(tested.pressure()),
            };
            let Some(setting) = setting else {
                return button("danger", t!("Not with this gauge: see why"), || show("answer"));
            };
            let label = t!("Start: {} min at {} psi", tested.minutes(), setting);
            button("main", &label, move || {
                begin(store, lot, chosen, tested, altitude, setting);
            })
            .disabled_if(move || store.busy.get())
        }
        Answer::Refused(..) => {
            button("danger", t!("No tested process: see why"), || show("answer"))
        }
        Answer::Missing(text) => button("second", &text, || show("altitude")),
    }
}

/// Records the batch and its first load, then goes to the load. A raw lot becomes
/// its batch.
fn begin(
    store: Store,
    lot: Option<Id>,
    chosen: Chosen,
    tested: Tested,
    altitude: Altitude,
    setting: PsiGauge,
) {
    let process = tested.process();
    let typed = chosen.content.get_untracked();
    let fallback = Food::by_key(process.product()).map_or(t!("Food"), Food::short);
    let name = if typed.trim().is_empty() { fallback } else { typed.trim() };
    let content = match Text::new(name) {
        Ok(content) => content,
        Err(error) => return store.warn(error.to_string()),
    };
    let jars = chosen.jars.get_untracked();
    chosen.keep(store, content.as_str());
    let start = BatchStart {
        content,
        product: process.product().to_owned(),
        pack: process.pack(),
        jar: tested.jar(),
        altitude,
        place: Text::default(),
        demo: false,
    };
    let batch = lot.unwrap_or_else(new_id);
    let canner = chosen.canner.get_untracked().and_then(|id| {
        store.look_now(|archive| {
            let canners = &archive.household().canners;
            canners.iter().find(|canner| canner.canner == id).map(|canner| canner.name.clone())
        })
    });
    let plan = LoadPlan::of(&tested, jars).on(canner.unwrap_or_default(), setting);
    let bodies = vec![Body::BatchStarted(start), Body::LoadPlanned(plan)];
    store.act_all(batch, bodies, move |ids| {
        // From the first record on there is something to keep.
        spawn(async {
            keep::ask().await;
        });
        if let Some(load) = ids.last() {
            store.go(Route::Load(batch, *load));
        }
    });
}
