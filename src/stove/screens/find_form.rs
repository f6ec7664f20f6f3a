//! The questions the finder asks, as a form.
//!
//! Invariant: the form only holds what was chosen; the answer is worked out in
//! the library.

use crate::app::device::position::{self, Height};
use crate::app::draw::{El, Var, button, derive, el, later, of, region, say, signal, spawn};
use crate::app::parts::{choices, number_field, section, stepper, text_field};
use crate::app::prefs::Prefs;
use crate::app::store::Store;
use hearthjar::batch::Id;
use hearthjar::present::{NoPlace, PlaceAdvice, place_by_boiling, place_by_sensor};
use hearthjar::process::{CannerQuarts, CannerQuartsError, Food, Gauge, Jar, Pack, Vessel, search};
use hearthjar::t;
use hearthjar::units::{Altitude, decimal};
use leptos::prelude::*;

/// What the person has chosen so far.
#[derive(Clone, Copy)]
pub(super) struct Chosen {
    pub food: Var<String>,
    pub pack: Var<Pack>,
    pub jar: Var<Jar>,
    pub vessel: Var<String>,
    pub quarts: Var<u16>,
    pub altitude: Var<String>,
    pub metric: Var<bool>,
    pub content: Var<String>,
    pub jars: Var<u16>,
    /// The canner of the household, if one was picked.
    pub canner: Var<Option<Id>>,
}

impl Chosen {
    /// The choices of last time.
    pub fn last(prefs: Prefs) -> Self {
        let altitude = prefs.altitude.map_or(String::new(), |altitude| {
            let number = if prefs.metric { altitude.metres() } else { altitude.feet() };
            number.to_string()
        });
        Self {
            food: signal(prefs.product),
            pack: signal(prefs.pack),
            jar: signal(prefs.jar),
            vessel: signal(prefs.gauge.key().to_owned()),
            quarts: signal(u16::from(prefs.quarts)),
            altitude: signal(altitude),
            metric: signal(prefs.metric),
            content: signal(prefs.content),
            jars: signal(prefs.jars),
            canner: signal(prefs.canner),
        }
    }

    /// What the jars are heated in.
    pub fn vessel(&self) -> Result<Vessel, CannerQuartsError> {
        let quarts = u8::try_from(self.quarts.get()).unwrap_or(u8::MAX);
        let canner = |gauge| {
            CannerQuarts::new(quarts).map(|quarts| Vessel::PressureCanner { gauge, quarts })
        };
        match self.vessel.get().as_str() {
            "dial" => canner(Gauge::Dial),
            "weighted" => canner(Gauge::Weighted),
            "small" => Ok(Vessel::SmallPressureCanner),
            "multicooker" => Ok(Vessel::Multicooker),
            "steam" => Ok(Vessel::AtmosphericSteam),
            "oven" => Ok(Vessel::Oven),
            _ => Ok(Vessel::BoilingWater),
        }
    }

    /// Keeps the choices for the next time; what is no answer yet stays as it was.
    pub fn keep(self, store: Store, content: &str) {
        let metric = self.metric.get_untracked();
        let vessel = untrack(|| self.vessel());
        let altitude = Altitude::parse(&self.altitude.get_untracked(), metric);
        store.prefer(|prefs| {
            prefs.product = self.food.get_untracked();
            prefs.pack = self.pack.get_untracked();
            prefs.jar = self.jar.get_untracked();
            if let Ok(Vessel::PressureCanner { gauge, quarts }) = vessel {
                prefs.gauge = gauge;
                prefs.quarts = quarts.get();
            }
            prefs.canner = self.canner.get_untracked();
            if let Ok(altitude) = altitude {
                prefs.altitude = Some(altitude);
            }
            prefs.metric = metric;
            prefs.jars = self.jars.get_untracked();
            content.clone_into(&mut prefs.content);
        });
    }

    fn choose_food(&self, food: &'static Food) {
        self.food.set(food.key().to_owned());
        let mut packs = food.packs();
        let pack = self.pack.get_untracked();
        if let Some(first) = food.packs().next()
            && !packs.any(|one| one == pack)
        {
            self.pack.set(first);
        }
    }

    /// Plain and smoked fish stand in separate tables, so the pack may change
    /// the food.
    fn choose_pack(&self, key: &str) {
        let Some(pack) = Pack::from_key(key) else { return };
        let other = match (self.food.get_untracked().as_str(), pack) {
            ("fish" | "lean-fish", Pack::Smoked) => Some("smoked-fish"),
            ("smoked-fish", Pack::Raw) => Some("fish"),
            _ => None,
        };
        self.pack.set(pack);
        if let Some(other) = other {
            self.food.set(other.to_owned());
        }
    }
}

/// The whole form.
pub(super) fn form(store: Store, chosen: Chosen) -> Vec<El> {
    let packs: Vec<_> = Pack::ALL.iter().map(|pack| (pack.key(), pack.name())).collect();
    let jars: Vec<_> = Jar::ALL.iter().map(|jar| (jar.key(), jar.name())).collect();
    let pack_now = derive(move || chosen.pack.get().key().to_owned());
    let jar_now = derive(move || chosen.jar.get().key().to_owned());
    // What stays from time to time is one line, to be looked at first; the rest follows.
    let known = chosen.altitude.with_untracked(|text| !text.is_empty());
    let mut form = Vec::new();
    if known {
        form.push(height(store, chosen, false));
    }
    form.extend([section(t!("Food")), food(chosen)]);
    form.push(choices(t!("Preparation"), "pack", &packs, pack_now, move |key| {
        chosen.choose_pack(key)
    }));
    form.push(choices(t!("Jar"), "jar", &jars, jar_now, move |key| {
        if let Some(jar) = Jar::from_key(key) {
            chosen.jar.set(jar);
        }
    }));
    form.push(later(move || {
        let mut rest = canner(store, chosen, known);
        if !known {
            rest.push(height(store, chosen, true));
        }
        rest
    }));
    form
}

/// The height above the sea, asked for or in one line.
fn height(store: Store, chosen: Chosen, open: bool) -> El {
    let says = move || {
        let unit = if chosen.metric.get() { "m" } else { "ft" };
        t!("{} {} above sea level", chosen.altitude.get(), unit)
    };
    folded(signal(open), Box::new(says), Box::new(move || altitude(store, chosen)))
}

/// What is chosen in one line, until a tap opens all there is to choose.
fn folded(open: Var<bool>, says: Box<dyn Fn() -> String>, inside: Box<dyn Fn() -> Vec<El>>) -> El {
    region(move || {
        if open.get() {
            return inside();
        }
        let line = el("button")
            .attr("type", "button")
            .attr("class", "chosen")
            .child(say("span", &says()))
            .child(of("span", "quiet").text(t!("Change")))
            .on("click", move |_| open.set(true));
        vec![line]
    })
}

fn food(chosen: Chosen) -> El {
    let open = signal(chosen.food.with_untracked(|key| Food::by_key(key).is_none()));
    let typed = signal(String::new());
    let name = move || chosen.food.with(|key| Food::by_key(key).map_or("", Food::name)).to_owned();
    let inside = move || {
        let list = of("ul", "lines scroll").attr("aria-label", t!("Foods")).fill(move || {
            let found = typed.with(|typed| search(typed));
            if found.is_empty() {
                let none = t!(
                    "No such food in the published tables. Without a tested process it cannot be \
                     canned: freeze it, or ask your extension office."
                );
                return vec![say("li", none)];
            }
            found.into_iter().map(|food| food_line(chosen, food, open)).collect()
        });
        vec![text_field(t!("Search foods"), typed), list]
    };
    folded(open, Box::new(name), Box::new(inside))
}

fn food_line(chosen: Chosen, food: &'static Food, open: Var<bool>) -> El {
    let note = (!food.has_process()).then(|| of("span", "quiet").text(t!("no tested process")));
    let pick = el("button")
        .attr("type", "button")
        .attr("class", "line")
        .child(say("span", food.name()))
        .maybe(note)
        .on("click", move |_| {
            chosen.choose_food(food);
            open.set(false);
        });
    el("li").child(pick)
}

fn canner(store: Store, chosen: Chosen, known: bool) -> Vec<El> {
    let kept = of("div", "row").fill(move || {
        let canners = store.look(|archive| archive.household().canners.clone());
        canners
            .into_iter()
            .map(|canner| {
                let name = format!("{}, {} qt", canner.name.as_str(), canner.quarts);
                button("pick", &name, move || {
                    chosen.vessel.set(canner.gauge.key().to_owned());
                    chosen.quarts.set(u16::from(canner.quarts));
                    chosen.canner.set(Some(canner.canner));
                })
            })
            .collect()
    });
    let kinds = [
        ("weighted", t!("Pressure canner, weighted gauge")),
        ("dial", t!("Pressure canner, dial gauge")),
        ("small", t!("Smaller: no room for 4 quart jars")),
        ("multicooker", t!("Electric multicooker")),
        ("water", t!("Boiling-water canner")),
        ("steam", t!("Steam canner without pressure")),
        ("oven", t!("Oven or open kettle")),
    ];
    let kind = chosen.vessel;
    let pressured = move || kind.with(|kind| kind == "weighted" || kind == "dial");
    let now = move || {
        let name = kinds.iter().find(|(key, _)| kind.with(|kind| kind == key));
        let name = name.map_or("", |(_, name)| *name);
        match pressured() {
            true => format!("{name}, {} qt", chosen.quarts.get()),
            false => name.to_owned(),
        }
    };
    let inside = move || {
        let size = region(move || {
            if !pressured() {
                return Vec::new();
            }
            vec![stepper(t!("Size, quarts"), chosen.quarts.into(), 4, 60, move |n| {
                chosen.quarts.set(n);
                chosen.canner.set(None);
            })]
        });
        let kinds = choices(t!("Kind"), "vessel", &kinds, kind.into(), move |key| {
            kind.set(key.to_owned());
            chosen.canner.set(None);
        });
        vec![kinds, size]
    };
    let all = folded(signal(!known), Box::new(now), Box::new(inside));
    vec![section(t!("Canner")), kept, all]
}

fn altitude(store: Store, chosen: Chosen) -> Vec<El> {
    let kept = of("div", "row").fill(move || {
        let places = store.look(|archive| archive.household().places.clone());
        places
            .into_iter()
            .map(|place| {
                let feet = place.altitude.feet();
                let name = format!("{}, {feet} ft", place.name.as_str());
                button("pick", &name, move || {
                    chosen.metric.set(false);
                    chosen.altitude.set(feet.to_string());
                })
            })
            .collect()
    });
    let unit = derive(move || if chosen.metric.get() { "m" } else { "ft" }.to_owned());
    vec![
        section(t!("Altitude")).attr("id", "altitude"),
        kept,
        number_field(t!("Height above sea level"), chosen.altitude),
        measured(chosen),
        choices(t!("In"), "unit", &[("ft", t!("feet")), ("m", t!("metres"))], unit, move |key| {
            chosen.metric.set(key == "m");
        }),
    ]
}

/// The altitude by the phone's sensor or by a boiling test.
fn measured(chosen: Chosen) -> El {
    let says = signal(String::new());
    let boils = signal(String::new());
    let within = signal("1".to_owned());
    let take = move |found: Result<PlaceAdvice, NoPlace>| match found {
        Ok(advice) => {
            chosen.metric.set(false);
            chosen.altitude.set(advice.altitude.feet().to_string());
            says.set(advice.say);
        }
        Err(error) => says.set(error.to_string()),
    };
    let sensor = button("second", t!("Use the phone's position"), move || {
        says.set(
            t!("Asking the phone, up to half a minute. It needs a view of the sky.").to_owned(),
        );
        spawn(async move {
            match position::height().await {
                Height::Known(metres, doubt) => take(place_by_sensor(metres, doubt)),
                Height::Denied => says.set(
                    t!("The phone may not tell its position. Allow it in the browser's \
                         settings, or type the altitude in.")
                    .to_owned(),
                ),
                Height::Unknown => {
                    says.set(
                        t!("The phone has no height to tell. Type the altitude in.").to_owned(),
                    );
                }
            }
        });
    });
    let work_out = button("second", t!("Work it out"), move || {
        let number = |text: Var<String>| text.with_untracked(|text| decimal(text, 1));
        match (number(boils), number(within)) {
            (Some(boils), Some(within)) => take(place_by_boiling(boils, within)),
            _ => says.set(t!("Give both temperatures as numbers, such as 208 and 1.").to_owned()),
        }
    });
    let test = el("details")
        .child(say("summary", t!("By a boiling test")))
        .child(say("p", t!("Thermometer in the middle of a pot of plain water at a full boil.")))
        .child(number_field(t!("It boils at, F"), boils))
        .child(number_field(t!("The thermometer is right within, F"), within))
        .child(work_out);
    el("div")
        .child(sensor)
        .child(test)
        .child(el("p").attr("role", "status").text_by(move || says.get()))
}
