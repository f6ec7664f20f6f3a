//! The household's canners, each with its gauge, full load and notes; and its places.
//!
//! Invariant: a dial is said to be unchecked, overdue or out of limits wherever its
//! canner is shown; a check that shows nothing is not recorded.

use super::places::places;
use crate::app::draw::{El, Var, button, derive, el, link, memo, of, region, say, signal};
use crate::app::parts::{
    choices, heading, page, psi_stepper, section, stepper, text_field, when_short, why,
};
use crate::app::store::{Store, new_id};
use hearthjar::batch::{Archive, Body, CannerKept, Household, Id, Text};
use hearthjar::doubt::{Suspect, Where, findings, touched};
use hearthjar::physics::gauge::{DialCheck, VALID_FOR};
use hearthjar::plan::{Holds, MOST_JARS};
use hearthjar::present::{DIAL_RULES, Route, dial_advice};
use hearthjar::process::{Gauge, Jar};
use hearthjar::units::PsiGauge;
use hearthjar::words::Word;
use hearthjar::{t, w};

/// When a dial is to be checked, and who says so.
const WHEN: Word = w!(
    "Check a dial every year before use, a new one too, and after a fall, a dunking, rust, broken \
     glass or a pointer off zero."
);
const WHEN_BY: Word = w!(
    "USDA Complete Guide to Home Canning, Guide 1, p. 1-20, 2015; Iowa State Univ. Extension, May \
     2024"
);

/// The screen of canners and places.
pub fn canners(store: Store) -> Vec<El> {
    let household = memo(move || store.look(|archive| archive.household().clone()));
    let list = of("ul", "lines").fill(move || {
        let household = household.get();
        household.canners.iter().map(|canner| card(store, &household, canner)).collect()
    });
    let draft = Draft::new(None);
    let add = button("second", t!("Add the canner"), move || {
        draft.keep(store, new_id(), move || {
            draft.name.set(String::new());
            draft.notes.set(String::new());
        });
    });
    let mut parts = vec![heading(t!("Canners and places")), section(t!("Canners")), list];
    parts.push(
        el("div")
            .child(section(t!("Add a canner")))
            .child(text_field(t!("Name of a canner"), draft.name))
            .children(draft.fields("new"))
            .child(add),
    );
    parts.extend(places(store));
    vec![page(parts)]
}

/// What is being typed of a canner.
#[derive(Clone, Copy)]
struct Draft {
    name: Var<String>,
    gauge: Var<Gauge>,
    quarts: Var<u16>,
    notes: Var<String>,
}

impl Draft {
    fn new(of: Option<&CannerKept>) -> Self {
        let text = |text: Option<&Text>| signal(text.map_or("", Text::as_str).to_owned());
        Self {
            name: text(of.map(|canner| &canner.name)),
            gauge: signal(of.map_or(Gauge::Weighted, |canner| canner.gauge)),
            quarts: signal(of.map_or(16, |canner| canner.quarts.into())),
            notes: text(of.map(|canner| &canner.notes)),
        }
    }

    /// All fields but the name. `form` tells forms on one screen apart.
    fn fields(self, form: &str) -> Vec<El> {
        let gauges = [("weighted", t!("weighted gauge")), ("dial", t!("dial gauge"))];
        let shown = derive(move || self.gauge.get().key().to_owned());
        let choose = move |key: &'static str| {
            self.gauge.set(Gauge::from_key(key).unwrap_or(Gauge::Weighted));
        };
        vec![
            choices(t!("Gauge"), &format!("gauge-{form}"), &gauges, shown, choose),
            stepper(t!("Size, quarts"), self.quarts.into(), 4, 60, move |n| self.quarts.set(n)),
            text_field(t!("Notes from its manual"), self.notes),
        ]
    }

    /// Records it, and then goes on; says what is missing otherwise.
    fn keep(self, store: Store, canner: Id, then: impl FnOnce() + 'static) {
        let (name, notes) = (Text::new(&self.name.get_untracked()), self.notes.get_untracked());
        match (name, Text::new(&notes)) {
            (Ok(name), _) if name.is_empty() => store.warn(t!("Give the canner a name.")),
            (Ok(name), Ok(notes)) => {
                let kept = CannerKept {
                    canner,
                    name,
                    gauge: self.gauge.get_untracked(),
                    quarts: u8::try_from(self.quarts.get_untracked()).unwrap_or(16),
                    notes,
                    gone: false,
                };
                store.act_all(Id::HOUSEHOLD, vec![Body::CannerKept(kept)], |_| then());
            }
            (Err(error), _) | (_, Err(error)) => store.warn(error.to_string()),
        }
    }
}

fn card(store: Store, household: &Household, canner: &CannerKept) -> El {
    let (id, name) = (canner.canner, canner.name.as_str());
    let text = format!("{}, {} qt", canner.gauge.name(), canner.quarts);
    let draft = Draft::new(Some(canner));
    let gone = CannerKept { gone: true, ..canner.clone() };
    let edit = el("details")
        .child(say("summary", t!("Change")))
        .child(text_field(t!("Name"), draft.name))
        .children(draft.fields(&id.short()))
        .child(button("second", t!("Keep the changes"), move || {
            draft.keep(store, id, || {});
        }))
        .child(button("second", &t!("Remove {}", name), move || {
            store.act(Id::HOUSEHOLD, Body::CannerKept(gone.clone()));
        }));
    let notes = (!canner.notes.is_empty())
        .then(|| el("p").child(say("b", t!("Your notes: "))).text(canner.notes.as_str()));
    let dial = (canner.gauge == Gauge::Dial).then(|| dial(store, id, household.check(id)));
    of("li", "lot")
        .child(say("h3", name))
        .child(say("p", &text))
        .maybe(notes)
        .maybe(dial)
        .child(load(store, id, &household.holds(id)))
        .child(edit)
}

/// How many jars fill it, as counted on its racks.
fn load(store: Store, canner: Id, counted: &[Holds]) -> El {
    let lines = counted
        .iter()
        .map(|holds| {
            let (jars, jar) = (holds.jars(), holds.jar().name());
            let text = match holds.layers() {
                1 => t!("Holds {} {} jars in one layer.", jars, jar),
                _ => t!("Holds {} {} jars in two layers.", jars, jar),
            };
            say("p", &text)
        })
        .collect();
    let (jar, jars, layers) = (signal(Jar::Pint), signal(7_u16), signal(1_u16));
    let sizes = [Jar::HalfPint, Jar::Pint, Jar::Quart].map(|jar| (jar.key(), jar.name()));
    let keep = move || {
        let layers = u8::try_from(layers.get_untracked()).unwrap_or(1);
        match Holds::new(jar.get_untracked(), jars.get_untracked(), layers) {
            Ok(holds) => store.act(Id::HOUSEHOLD, Body::CannerHolds { canner, holds }),
            Err(error) => store.warn(error.to_string()),
        }
    };
    let form = el("details")
        .child(say("summary", t!("Count its jars")))
        .child(choices(
            t!("Jars of"),
            &format!("holds-{}", canner.short()),
            &sizes,
            derive(move || jar.get().key().to_owned()),
            move |key| jar.set(Jar::from_key(key).unwrap_or(Jar::Pint)),
        ))
        .child(stepper(t!("Jars in a full load"), jars.into(), 1, MOST_JARS, move |n| jars.set(n)))
        .child(stepper(t!("Layers, each on its rack"), layers.into(), 1, 2, move |n| layers.set(n)))
        .child(button("second", t!("Keep the count"), keep));
    el("div").children(lines).child(form)
}

/// How many jars a check touches that are here and not held.
fn in_doubt(archive: &Archive, check: Id) -> usize {
    touched(archive, &Suspect::Gauge(check)).count(Where::Here)
}

/// The yearly check of a dial gauge beside a standard one.
fn dial(store: Store, canner: Id, check: Option<DialCheck>) -> El {
    let advice = dial_advice(check, PsiGauge::whole(11), store.now.get_untracked());
    let class = if advice.setting.is_some() { "said" } else { "answer no" };
    let lines = advice.say.iter().map(|line| of("p", class).text(line)).collect();
    let last = check.map(|check| {
        of("p", "quiet").text(&t!(
            "Checked {}: it showed {} psi where the standard showed {}. The next check is due by \
             {}.",
            when_short(store, check.at()),
            check.reading(),
            check.standard(),
            when_short(store, check.at().plus(VALID_FOR))
        ))
    });
    let (reading, standard) = (signal(100_u16), signal(100_u16));
    let record = move || {
        let psi = |tenths: Var<u16>| PsiGauge::from_tenths(tenths.get_untracked());
        let (Ok(reading), Ok(standard)) = (psi(reading), psi(standard)) else { return };
        match DialCheck::new(reading, standard, store.now.get_untracked()) {
            Ok(_) => {
                let check = Body::GaugeChecked { canner, reading, standard };
                store.act_all(Id::HOUSEHOLD, vec![check], move |ids| {
                    let check = ids.last().copied();
                    let jars = check.map_or(0, |check| store.look_now(|all| in_doubt(all, check)));
                    if jars > 0 {
                        store.warn(t!(
                            "A check found this dial reading high. It touches {} jars that are not held yet.",
                            jars
                        ));
                    }
                });
            }
            Err(refusal) => store.warn(refusal.to_string()),
        }
    };
    let form = el("details")
        .child(say("summary", t!("Check the gauge")))
        .child(say("p", WHEN.say()))
        .child(psi_stepper(t!("This dial shows"), reading))
        .child(psi_stepper(t!("The standard shows"), standard))
        .child(button("second", t!("Record the check"), record))
        .child(of("p", "source").text(WHEN_BY.say()));
    // The last check, for as long as jars it touches are neither held nor gone.
    let touches = region(move || {
        let jars = store.look(|all| {
            let check = findings(all).into_iter().find(|one| one.canner == canner)?;
            Some(in_doubt(all, check.event)).filter(|jars| *jars > 0)
        });
        let line = jars.map(|jars| {
            of("p", "lost")
                .text(&t!("A check found this dial reading high. It touches {} jars that are not held yet.", jars))
                .text(" ")
                .child(link("", &Route::Doubts.hash(), t!("Jars in doubt")))
        });
        line.into_iter().collect()
    });
    el("div")
        .children(lines)
        .maybe(last)
        .child(touches)
        .child(form)
        .child(why("", DIAL_RULES.say()))
}
