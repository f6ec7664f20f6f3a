//! Brine by weight, both ways, the salometer put right, and what is published.
//!
//! Invariant: works out strength only; a soaking time is shown only as published.

use crate::app::draw::{El, Var, button, derive, el, link, memo, of, region, say, signal};
use crate::app::parts::{choices, heading, number_field, page, section, why};
use crate::app::store::Store;
use hearthjar::batch::{Body, Id};
use hearthjar::brine::{
    CAUTIONS, Degrees, FOR_CANNING, Fish, RECIPES, Reading, SOAKS, Salt, Strength, Water, dry_salt,
};
use hearthjar::lot::{LotSaid, LotStep};
use hearthjar::present::Route;
use hearthjar::units::decimal;
use hearthjar::words::Word;
use hearthjar::{t, w};
use leptos::prelude::*;

const TABLE: Word = w!(
    "Standard brine table at 60 F (16 C): Salt Institute; Sea Fish Industry Authority. Salt added \
     to the water, by weight."
);

/// The brine screen.
pub fn brine(store: Store) -> Vec<El> {
    let mut parts = vec![
        heading(t!("Brine and smoke")),
        of("p", "over-title").child(link("", &Route::Raws.hash(), t!("Before the canner"))),
        of("p", "said").text(CAUTIONS.first().map_or("", |caution| caution.text())),
        units(store),
        section(t!("How strong is it?")),
    ];
    parts.extend(strength(store));
    parts.push(section(t!("How much salt?")));
    parts.extend(salt(store));
    parts.push(section(t!("What the salometer says")));
    parts.extend(float(store));
    parts.push(section(t!("Dry salt")));
    parts.extend(dry(store));
    parts.push(section(t!("Published brines")));
    parts.push(recipes());
    parts.push(section(t!("Published soaking times")));
    parts.push(soaks());
    parts.push(section(t!("Mind")));
    parts.push(cautions());
    vec![page(parts)]
}

fn units(store: Store) -> El {
    let now = derive(move || store.habit(|p| if p.metric { "metric" } else { "us" }.to_owned()));
    let list = [("us", t!("ounces and US quarts")), ("metric", t!("grams and litres"))];
    choices(t!("Weigh in"), "brine-units", &list, now, move |key| {
        store.prefer(|prefs| prefs.metric = key == "metric");
    })
}

/// A field whose unit follows the person's habit.
fn field(
    store: Store,
    name: &'static str,
    units: (&'static str, &'static str),
    value: Var<String>,
) -> El {
    region(move || {
        let unit = if store.habit(|prefs| prefs.metric) { units.1 } else { units.0 };
        vec![number_field(&format!("{name}, {unit}"), value)]
    })
}

fn salt_units() -> (&'static str, &'static str) {
    (t!("ounces"), t!("grams"))
}

fn water_units() -> (&'static str, &'static str) {
    (t!("US quarts"), t!("litres"))
}

fn shown(strength: Strength) -> String {
    t!("{} percent salt by weight, {} degrees salometer", strength.percent(), strength.degrees())
}

/// An answer that follows what was typed; nothing while nothing was.
fn answer(id: &str, work: impl Fn() -> Option<Result<String, String>> + 'static) -> El {
    let now = memo(work);
    of("div", "region").attr("id", id).attr("aria-live", "polite").fill(move || match now.get() {
        None => Vec::new(),
        Some(Ok(text)) => {
            vec![
                of("div", "answer yes")
                    .child(of("p", "worked").text(&text))
                    .child(why("", TABLE.say())),
            ]
        }
        Some(Err(text)) => vec![of("p", "said").text(&text)],
    })
}

fn blank(fields: &[Var<String>]) -> bool {
    fields.iter().any(|field| field.with(|text| text.trim().is_empty()))
}

fn strength(store: Store) -> Vec<El> {
    let (salt, water) = (signal(String::new()), signal(String::new()));
    let made = move || {
        let metric = store.habit(|prefs| prefs.metric);
        let salt = Salt::parse(&salt.get(), metric).map_err(|e| t!("Salt: {}", e))?;
        let water = Water::parse(&water.get(), metric).map_err(|e| t!("Water: {}", e))?;
        Ok::<_, String>((salt, water))
    };
    let result = answer("brine-strength", move || {
        if blank(&[salt, water]) {
            return None;
        }
        Some(made().and_then(|(salt, water)| {
            Strength::of(salt, water).map(shown).map_err(|error| error.to_string())
        }))
    });
    let lots = of("div", "row").fill(move || {
        let brining: Vec<(Id, String)> = store.look(|archive| {
            let mut found = Vec::new();
            for batch in archive.batches() {
                if let Some(lot) = batch.waiting_lot()
                    && lot.now().step == LotStep::Brining
                {
                    found.push((batch.id, lot.start().name.as_str().to_owned()));
                }
            }
            found
        });
        let good = !blank(&[salt, water])
            && made().is_ok_and(|(salt, water)| Strength::of(salt, water).is_ok());
        if !good {
            return Vec::new();
        }
        brining
            .into_iter()
            .map(|(batch, name)| {
                button("pick", &t!("Record it for {}", name), move || {
                    if let Ok((salt, water)) = untrack(made) {
                        let body = Body::Lot(LotSaid::Brined { salt, water });
                        store.act_all(batch, vec![body], move |_| store.go(Route::Raw(batch)));
                    }
                })
            })
            .collect()
    });
    vec![
        field(store, t!("Salt"), salt_units(), salt),
        field(store, t!("Water"), water_units(), water),
        result,
        lots,
    ]
}

fn salt(store: Store) -> Vec<El> {
    let (wanted, water) = (signal(String::new()), signal(String::new()));
    let scale = signal("degrees".to_owned());
    let list = [("degrees", t!("degrees salometer")), ("percent", t!("percent by weight"))];
    let result = answer("brine-salt", move || {
        if blank(&[wanted, water]) {
            return None;
        }
        let work = || {
            let metric = store.habit(|prefs| prefs.metric);
            let water = Water::parse(&water.get(), metric).map_err(|e| t!("Water: {}", e))?;
            let tenths = decimal(&wanted.get(), 1).and_then(|tenths| u16::try_from(tenths).ok());
            let tenths =
                tenths.ok_or(t!("Strength: give it as a number, such as 60.").to_owned())?;
            let strength = if scale.with(|scale| scale == "degrees") {
                Degrees::tenths(tenths).map(Strength::from)
            } else {
                Strength::percent_tenths(tenths)
            };
            let strength = strength.map_err(|error| error.to_string())?;
            let salt = strength.salt_for(water).map_err(|error| error.to_string())?;
            Ok(t!(
                "{} ({}) of salt into {} ({}) of water: {}",
                salt.shown(metric),
                salt.shown(!metric),
                water.shown(metric),
                water.shown(!metric),
                shown(strength)
            ))
        };
        Some(work())
    });
    vec![
        number_field(t!("Strength wanted"), wanted),
        choices(t!("In"), "brine-scale", &list, scale.into(), move |key| scale.set(key.to_owned())),
        field(store, t!("Water to salt"), water_units(), water),
        result,
    ]
}

fn float(store: Store) -> Vec<El> {
    let (scale, heat) = (signal(String::new()), signal(String::new()));
    let result = answer("brine-float", move || {
        if blank(&[scale, heat]) {
            return None;
        }
        let celsius = store.habit(|prefs| prefs.metric);
        let reading = Reading::parse(&scale.get(), &heat.get(), celsius);
        let strength = reading.and_then(Reading::strength);
        Some(strength.map(shown).map_err(|error| error.to_string()))
    });
    vec![
        number_field(t!("Degrees on the float"), scale),
        field(store, t!("Brine temperature"), ("F", "C"), heat),
        result,
        why(
            t!("One degree more for each 10 F (5.6 C) above 60 F (16 C), one less for each below."),
            t!("Preparing a Saltbrine, Fish Safety Notes series"),
        ),
    ]
}

fn dry(store: Store) -> Vec<El> {
    let (fish, percent) = (signal(String::new()), signal(String::new()));
    let result =
        of("div", "region").attr("id", "brine-dry").attr("aria-live", "polite").fill(move || {
            if blank(&[fish, percent]) {
                return Vec::new();
            }
            let metric = store.habit(|prefs| prefs.metric);
            let work = || {
                let fish = Fish::parse(&fish.get(), metric).map_err(|e| t!("Fish: {}", e))?;
                let tenths =
                    decimal(&percent.get(), 1).and_then(|tenths| u16::try_from(tenths).ok());
                let tenths =
                    tenths.ok_or(t!("Percent: give it as a number, such as 2.").to_owned())?;
                dry_salt(fish, tenths).map_err(|error| error.to_string())
            };
            let text = match work() {
                Ok(salt) => t!("{} ({}) of salt", salt.shown(metric), salt.shown(!metric)),
                Err(text) => text,
            };
            vec![of("p", "worked").text(&text)]
        });
    vec![
        of("p", "quiet").text(t!(
            "Arithmetic only. No publication on file gives a strength or a time for dry \
                 salting before canning: keep it cold, and rinse before packing (common practice, \
                 no source)."
        )),
        field(store, t!("Fish to salt"), (t!("pounds"), t!("kilograms")), fish),
        number_field(t!("Salt, percent of its weight"), percent),
        result,
    ]
}

fn recipes() -> El {
    let lines = RECIPES
        .iter()
        .map(|recipe| {
            let strength = recipe.strength().map_or(
                t!(" Its strength depends on the salt: weigh it to know.").to_owned(),
                |strength| t!(" That is {}.", shown(strength)),
            );
            el("li")
                .child(say("b", recipe.name.say()))
                .child(el("p").text(recipe.text.say()).text(&strength))
                .child(of("span", "source").text(recipe.publication.say()))
        })
        .collect();
    of("ul", "plain").children(lines)
}

fn soaks() -> El {
    let lines = SOAKS
        .iter()
        .map(|soak| {
            let time = match soak.minutes {
                (least, most) if least == most => t!("about {} min", least),
                (least, most) => t!("{} to {} min", least, most),
            };
            el("li")
                .child(say("b", &format!("{}: {time}", soak.piece.say())))
                .child(say("p", &t!("In {}.", soak.brine.say())))
                .child(of("span", "source").text(soak.publication.say()))
        })
        .collect();
    el("div")
        .child(of("p", "said").text(FOR_CANNING.say()))
        .child(of("ul", "plain").children(lines))
        .child(of("p", "quiet").text(t!(
            "For any other thickness no time is on file, and none is worked out. Less salt is no \
             risk: it is taste only."
        )))
}

fn cautions() -> El {
    let lines = CAUTIONS
        .iter()
        .map(|one| {
            say("li", one.text()).text(" ").child(of("span", "source").text(one.publication()))
        })
        .collect();
    of("ul", "plain").children(lines)
}
