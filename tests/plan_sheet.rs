//! The whole plan: from what is typed to the list, the loads and the batches; and
//! what past batches teach it.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{id, plan, start};
use hearthjar::batch::{Archive, BatchStart, Body, CannerKept, Id, LoadPlan, Text};
use hearthjar::json::parse;
use hearthjar::lot::{LotMove, LotSaid, LotStart, LotStep};
use hearthjar::plan::{
    Alike, Basis, Draft, Field, Food, Holds, Origin, Past, Range, Weighed, begin, goods, past,
    sheet,
};
use hearthjar::process::{Gauge, Jar, Pack};
use hearthjar::run::{DropCause, Page, Step};
use hearthjar::units::{EpochMs, Mass, PsiGauge, Span};
use proptest::prelude::*;

const NOON: EpochMs = EpochMs(1_764_000_000_000);

/// A kitchen with a blue canner of 16 qt and a weighted gauge.
struct Kitchen {
    archive: Archive,
    next: u8,
    at: EpochMs,
}

impl Kitchen {
    fn new() -> Self {
        let mut kitchen = Self { archive: Archive::new(), next: 1, at: NOON };
        kitchen.canner(90, "Blue", Gauge::Weighted, 16);
        kitchen
    }

    fn canner(&mut self, name: u8, called: &str, gauge: Gauge, quarts: u8) {
        let name = id(name);
        let called = Text::new(called).unwrap();
        let kept = CannerKept {
            canner: name,
            name: called,
            gauge,
            quarts,
            notes: Text::default(),
            gone: false,
        };
        self.act(Id::HOUSEHOLD, Body::CannerKept(kept));
    }

    fn act(&mut self, batch: Id, body: Body) -> Id {
        let name = id(self.next);
        self.next += 1;
        let drafted = self.archive.draft(batch, self.at, [(name, body)]).unwrap();
        self.archive.extend(drafted);
        name
    }

    /// One batch of plain fish in pints: its weights, and the minutes of each step.
    fn batch(&mut self, number: u8, jars: u16, weights: &[(Weighed, u32)], minutes: [i64; 8]) {
        let batch = id(100 + number);
        self.act(batch, Body::BatchStarted(start()));
        let canner = Text::new("Blue").unwrap();
        let load = self.act(batch, Body::LoadPlanned(plan(jars).on(canner, PsiGauge::whole(10))));
        for (what, grams) in weights {
            let mass = Mass::from_grams(*grams).unwrap();
            self.act(batch, Body::Weighed { what: *what, mass });
        }
        let steps = [
            Step::HeatOn,
            Step::SteamSteady,
            Step::VentClosed,
            Step::AtPressure,
            Step::HeatOff,
            Step::WeightOff,
            Step::LidOpened,
            Step::Unloaded,
        ];
        for (step, minutes) in steps.into_iter().zip(minutes) {
            self.at = self.at.plus(Span::minutes(minutes));
            self.act(batch, Body::Ran { load, step });
        }
    }

    fn past(&self) -> Past {
        let (food, process, canner) = ("fish", "fish-raw-pint", "Blue");
        past(&self.archive, Alike { food, pack: Pack::Raw, process, canner, quarts: 16 })
    }
}

fn draft(text: &[(Field, &str)]) -> Draft {
    let mut draft = Draft::new("fish", Pack::Raw, Jar::Pint, false);
    draft.canners = vec![id(90)];
    draft.set(Field::Altitude, "640");
    for (field, text) in text {
        draft.set(*field, text);
    }
    draft
}

#[test]
fn thirty_pounds_of_fish_from_the_lake_to_the_shelf() {
    let kitchen = Kitchen::new();
    let draft = draft(&[(Field::Weight, "30")]);
    let sheet = sheet(&draft, &kitchen.archive, NOON);
    assert_eq!(sheet.problems, []);
    // 25 to 35 lb a dozen pints (Michigan State University Extension no. 01600573).
    assert_eq!(sheet.jars, [(Jar::Pint, Range::new(10, 14))]);
    // 8 pints a load at least (Guide 1, p. 1-17): 8 sure, then 2 sure of 6.
    let loads: Vec<_> = sheet.loads.iter().map(|load| (load.jars, load.sure)).collect();
    assert_eq!(loads, [(8, 8), (6, 2)]);
    assert_eq!(sheet.loads[0].tested.minutes().0, 100);
    let list = goods(&draft, &sheet);
    let amount =
        |key: &str| list.iter().find(|good| good.key == key).map(|good| good.amount.as_str());
    assert_eq!(amount("jars-pint"), Some("10 to 14"));
    assert_eq!(amount("lids"), Some("14"));
    // 1 tsp a pint (Guide 5, pp. 5-10 and 5-11); 4 3/4 tbsp, rounded.
    assert_eq!(amount("salt-pint"), Some("14 tsp (about 5 tbsp)"));
    assert_eq!(
        amount("water-fish-raw-pint"),
        Some("2 to 3 in (5 to 8 cm), about 3 qt for each of 2 loads")
    );
    // Nobody has published what a stove burns: without an own figure, no line.
    assert_eq!(amount("fuel"), None);
}

#[test]
fn rims_are_wiped_as_the_page_of_each_food_says() {
    let kitchen = Kitchen::new();
    // Guide 5: fish pp. 5-10 and 5-11, smoked fish p. 5-13 (only damp), tuna p. 5-14.
    for (food, how, page) in [
        ("fish", "damp, then dry", "pp. 5-10 and 5-11"),
        ("smoked-fish", "damp", "p. 5-13"),
        ("tuna", "damp, then dry", "p. 5-14"),
    ] {
        let mut draft = draft(&[(Field::Weight, "10")]);
        draft.food = food.to_owned();
        draft.pack = if food == "smoked-fish" { Pack::Smoked } else { Pack::Raw };
        draft.wants = vec![(Jar::Pint, "7".to_owned())];
        draft.by = Food::Jars;
        let worked = sheet(&draft, &kitchen.archive, NOON);
        let list = goods(&draft, &worked);
        let found = list.iter().find(|good| good.key == "wipes").unwrap();
        assert_eq!(found.amount, how);
        let Origin::Published(publication) = found.origin else { panic!("{:?}", found.origin) };
        assert!(publication.contains(page), "{food}: {publication}");
    }
}

#[test]
fn fuel_is_reckoned_from_the_persons_own_figure_only() {
    let kitchen = Kitchen::new();
    let mut draft = draft(&[(Field::Weight, "20"), (Field::Burn, "0.6"), (Field::BurnUnit, "lb")]);
    let worked = sheet(&draft, &kitchen.archive, NOON);
    assert_eq!(worked.loads.len(), 2);
    // Two loads of 12 + 10 + 3 + 100 to 15 + 10 + 5 + 100 minutes at 0.6 lb an hour:
    // 2.5 to 2.6 lb.
    let list = goods(&draft, &worked);
    let fuel = list.iter().find(|good| good.key == "fuel").unwrap();
    assert_eq!((fuel.amount.as_str(), fuel.origin), ("2.5 to 2.6 lb", Origin::Own));
    draft.set(Field::Burn, "plenty");
    assert!(hearthjar::plan::fuel_is_bad(&draft));
    assert!(!goods(&draft, &worked).iter().any(|good| good.key == "fuel"));
}

#[test]
fn so_many_jars_of_asparagus_take_the_printed_pounds() {
    let kitchen = Kitchen::new();
    let mut draft = Draft::new("asparagus", Pack::Hot, Jar::Quart, false);
    draft.by = Food::Jars;
    draft.wants = vec![(Jar::Quart, "7".to_owned())];
    draft.canners = vec![id(90)];
    draft.set(Field::Altitude, "640");
    let worked = sheet(&draft, &kitchen.archive, NOON);
    // 24 1/2 lb a canner load of 7 quarts; a 31 lb crate fills 7 to 12 (Guide 4, p. 4-5).
    let list = goods(&draft, &worked);
    assert_eq!(list[0].amount, "usually 24.5 lb, 18.1 to 31 lb");
    assert_eq!(worked.loads.len(), 1);
    assert_eq!(worked.loads[0].tested.minutes().0, 40);
}

#[test]
fn what_is_missing_is_named_and_the_rest_is_shown() {
    let kitchen = Kitchen::new();
    let mut typed = draft(&[(Field::Weight, "a bucket"), (Field::Drip, "a while")]);
    let worked = sheet(&typed, &kitchen.archive, NOON);
    let fields: Vec<_> = worked.problems.iter().map(|problem| problem.field).collect();
    assert!(fields.contains(&Some(Field::Weight)) && fields.contains(&Some(Field::Drip)));
    typed.set(Field::Weight, "40");
    typed.set(Field::Altitude, "");
    typed.set(Field::Drip, "60");
    let worked = sheet(&typed, &kitchen.archive, NOON);
    assert_eq!(worked.problems.len(), 1);
    assert_eq!(worked.problems[0].field, Some(Field::Altitude));
    assert!(worked.loads.is_empty() && !worked.jars.is_empty());
    typed.set(Field::Altitude, "8001");
    let worked = sheet(&typed, &kitchen.archive, NOON);
    assert!(worked.loads.is_empty());
    assert!(worked.problems[0].publication.is_some());
    // More than two hours of smoke (Washington State University Extension).
    typed.set(Field::Altitude, "640");
    typed.set(Field::Weight, "10");
    typed.set(Field::Smoke, "180");
    typed.pack = Pack::Smoked;
    typed.food = "smoked-fish".to_owned();
    typed.basis = Basis::Ready;
    let worked = sheet(&typed, &kitchen.archive, NOON);
    assert_eq!(worked.problems.len(), 1);
    assert!(worked.problems[0].say.contains("2 hours at most"));
    // A quart of smoked fish has no process (Guide 5, p. 5-13).
    typed.wants = vec![(Jar::Quart, String::new())];
    typed.set(Field::Smoke, "");
    let worked = sheet(&typed, &kitchen.archive, NOON);
    assert!(worked.loads.is_empty() && worked.schedule.is_none());
    assert!(worked.problems[0].say.contains("larger than one pint"));
}

/// Smoked fish is canned within a day (PNW 450): nine loads on one canner take longer.
#[test]
fn too_much_smoked_fish_for_one_day_is_said() {
    let mut kitchen = Kitchen::new();
    kitchen.canner(91, "Red", Gauge::Weighted, 22);
    let mut draft = draft(&[(Field::Weight, "45")]);
    draft.food = "smoked-fish".to_owned();
    draft.pack = Pack::Smoked;
    draft.basis = Basis::Ready;
    let worked = sheet(&draft, &kitchen.archive, NOON);
    assert_eq!(worked.loads.len(), 9);
    assert!(worked.problems.iter().any(|problem| problem.say.contains("over a day after smoking")));
    // And nothing can be begun from it.
    assert!(begin(&draft, &worked).is_err());
    draft.canners.push(id(91));
    draft.stoves = 2;
    let worked = sheet(&draft, &kitchen.archive, NOON);
    assert_eq!(worked.problems, []);
}

#[test]
fn a_plan_begins_its_batches_with_their_loads() {
    let mut kitchen = Kitchen::new();
    let holds = Holds::new(Jar::HalfPint, 12, 2).unwrap();
    kitchen.act(Id::HOUSEHOLD, Body::CannerHolds { canner: id(90), holds });
    let mut draft = draft(&[(Field::Weight, "30"), (Field::Content, "Trout, Lake Ostermere")]);
    draft.wants = vec![(Jar::HalfPint, "10".to_owned()), (Jar::Pint, String::new())];
    let worked = sheet(&draft, &kitchen.archive, NOON);
    let begun = begin(&draft, &worked).unwrap();
    let sizes: Vec<_> = begun.iter().map(|begin| (begin.jar, begin.bodies.len())).collect();
    assert_eq!(sizes, [(Jar::HalfPint, 2), (Jar::Pint, 3)]);
    for (number, begin) in begun.into_iter().enumerate() {
        let batch = id(150 + u8::try_from(number).unwrap());
        let jars = begin.jar;
        for body in begin.bodies {
            kitchen.act(batch, body);
        }
        let batch = kitchen.archive.batch(batch).unwrap();
        let start: &BatchStart = &batch.start.as_ref().unwrap().1;
        assert_eq!((start.jar, start.content.as_str()), (jars, "Trout, Lake Ostermere"));
        let plans: Vec<&LoadPlan> = batch.loads.iter().map(|load| &load.plan).collect();
        assert!(plans.iter().all(|plan| plan.canner.as_str() == "Blue" && plan.minutes.0 == 100));
        let planned = worked.loads.iter().filter(|load| load.tested.jar() == jars);
        assert!(planned.map(|load| load.jars).eq(plans.iter().map(|plan| plan.jars)));
        assert_eq!(batch.refused, []);
    }
}

const USUAL: [i64; 8] = [0, 20, 10, 6, 100, 35, 10, 4];

#[test]
fn past_batches_widen_then_replace_what_is_printed() {
    let mut kitchen = Kitchen::new();
    let whole = |grams| [(Weighed::Whole, grams)];
    // 3.5 lb of trout a pint is over the printed 35 lb a dozen.
    kitchen.batch(0, 10, &whole(15_876), USUAL);
    let need = |kitchen: &Kitchen| {
        sheet(&draft(&[(Field::Weight, "30")]), &kitchen.archive, NOON).needs[0]
    };
    let one = need(&kitchen);
    assert!(matches!(one.origin, Origin::Widened(_, 1)));
    assert_eq!(one.food(12).most().show(false), "42 lb");
    assert_eq!(one.food(12).least().show(false), "25 lb");
    let worked = sheet(&draft(&[(Field::Weight, "30")]), &kitchen.archive, NOON);
    let warm_up = worked.steps[0].warm_up;
    assert_eq!((warm_up.minutes.least(), warm_up.minutes.most()), (12, 20));
    assert!(matches!(warm_up.origin, Origin::Widened(_, 1)));
    kitchen.batch(1, 10, &whole(13_608), [0, 25, 10, 6, 100, 40, 10, 4]);
    kitchen.batch(2, 10, &whole(14_515), [0, 22, 10, 8, 100, 50, 10, 6]);
    let three = need(&kitchen);
    assert_eq!(three.origin, Origin::Past(3));
    assert_eq!(
        (three.food(10).least().show(false), three.food(10).most().show(false)),
        ("30 lb".into(), "35 lb".into())
    );
    let worked = sheet(&draft(&[(Field::Weight, "30")]), &kitchen.archive, NOON);
    let steps = worked.steps[0];
    let minutes = |step: hearthjar::plan::Step| (step.minutes.least(), step.minutes.most());
    assert_eq!(minutes(steps.warm_up), (20, 25));
    assert_eq!(minutes(steps.rise), (6, 8));
    assert_eq!(minutes(steps.fall), (35, 50));
    assert_eq!(minutes(steps.unload), (4, 6));
    // What is tested stays as tested.
    assert_eq!(
        (minutes(steps.vent), minutes(steps.hold), minutes(steps.wait)),
        ((10, 10), (100, 100), (10, 10))
    );
}

#[test]
fn past_yields_let_a_dressed_weight_be_planned() {
    let mut kitchen = Kitchen::new();
    kitchen.batch(
        0,
        8,
        &[(Weighed::Whole, 10_000), (Weighed::Dressed, 7_000), (Weighed::Packed, 4_000)],
        USUAL,
    );
    let past = kitchen.past();
    assert_eq!(past.kept(Basis::Whole), Some((Range::just(400), 1)));
    assert_eq!(past.kept(Basis::Dressed), Some((Range::just(571), 1)));
    let mut draft = draft(&[(Field::Weight, "7")]);
    draft.measure(true);
    draft.set(Field::Weight, "7");
    draft.basis = Basis::Dressed;
    let worked = sheet(&draft, &kitchen.archive, NOON);
    assert_eq!(worked.problems, []);
    assert_eq!(worked.jars, [(Jar::Pint, Range::just(8))]);
}

/// What was recorded of a raw lot before the jars: two and a half hours in brine, half
/// an hour draining, three hours in smoke. Brine and draining have no other figure
/// (the printed hour or two in brine is for smoking to eat now, not to can), and smoke
/// is never planned over its 2 hours.
#[test]
fn past_lots_teach_the_steps_before_the_jars() {
    let mut kitchen = Kitchen::new();
    let batch = id(100);
    let mut since = kitchen.at;
    let mut step = |step: LotStep, minutes: i64| {
        let to = LotMove { step, kept: step.usual(), since };
        since = since.plus(Span::minutes(minutes));
        to
    };
    let first = step(LotStep::Brining, 150);
    let moves =
        [step(LotStep::Draining, 30), step(LotStep::Smoking, 180), step(LotStep::Packing, 20)];
    kitchen.at = since;
    let name = Text::new("Whitefish").unwrap();
    let lot = LotStart { name, food: "fish".to_owned(), grams: 6_000, first, demo: false };
    kitchen.act(batch, Body::Lot(LotSaid::Started(lot)));
    for to in moves {
        kitchen.act(batch, Body::Lot(LotSaid::Moved(to)));
    }
    let smoked = BatchStart { product: "smoked-fish".to_owned(), pack: Pack::Smoked, ..start() };
    kitchen.act(batch, Body::BatchStarted(smoked));
    let mut draft = draft(&[(Field::Weight, "10")]);
    draft.food = "smoked-fish".to_owned();
    draft.pack = Pack::Smoked;
    draft.basis = Basis::Ready;
    let worked = sheet(&draft, &kitchen.archive, NOON);
    let minutes = |place: usize| {
        let step = worked.before[place];
        (step.minutes.least(), step.minutes.most())
    };
    assert_eq!((minutes(0), minutes(1), minutes(2)), ((150, 150), (30, 30), (0, 120)));
    assert_eq!(worked.before[0].origin, Origin::Past(1));
    assert_eq!(worked.before[1].origin, Origin::Past(1));
}

#[test]
fn loads_that_went_wrong_teach_nothing() {
    let mut kitchen = Kitchen::new();
    let batch = id(100);
    kitchen.act(batch, Body::BatchStarted(start()));
    let canner = Text::new("Blue").unwrap();
    let load = kitchen.act(batch, Body::LoadPlanned(plan(8).on(canner, PsiGauge::whole(10))));
    let steps = [
        (0, Step::HeatOn),
        (15, Step::SteamSteady),
        (10, Step::VentClosed),
        (5, Step::AtPressure),
        (30, Step::Dropped(DropCause::FuelOut)),
        (40, Step::AtPressure),
        (100, Step::HeatOff),
        (40, Step::WeightOff),
        (10, Step::LidOpened),
        (5, Step::Unloaded),
    ];
    for (minutes, step) in steps {
        kitchen.at = kitchen.at.plus(Span::minutes(minutes));
        kitchen.act(batch, Body::Ran { load, step });
    }
    assert_eq!(kitchen.past().warm_up, None);
    assert_eq!(kitchen.past().rise, None);
}

/// A clock that jumped an hour ahead during the warm-up, unanswered: that hour is
/// not measured.
#[test]
fn doubtful_time_is_not_measured() {
    let mut kitchen = Kitchen::new();
    let batch = id(100);
    kitchen.act(batch, Body::BatchStarted(start()));
    let canner = Text::new("Blue").unwrap();
    let load = kitchen.act(batch, Body::LoadPlanned(plan(8).on(canner, PsiGauge::whole(10))));
    let moved = Step::ClockMoved { by: Span::hours(1), page: Page::Shown };
    let steps = [
        (0, Step::HeatOn),
        (65, moved),
        (9, Step::SteamSteady),
        (10, Step::VentClosed),
        (5, Step::AtPressure),
        (100, Step::HeatOff),
        (40, Step::WeightOff),
        (10, Step::LidOpened),
        (5, Step::Unloaded),
    ];
    for (minutes, step) in steps {
        kitchen.at = kitchen.at.plus(Span::minutes(minutes));
        kitchen.act(batch, Body::Ran { load, step });
    }
    assert_eq!(kitchen.past().warm_up, Some((Range::just(Span::minutes(14)), 1)));
}

#[test]
fn units_change_what_was_typed_with_them() {
    let mut draft =
        draft(&[(Field::Weight, "30"), (Field::PerJar, "0.9-1.1"), (Field::Each, "about 3")]);
    draft.set(Field::Altitude, "5200");
    draft.measure(true);
    assert_eq!(draft.text(Field::Weight), "13.6");
    assert_eq!(draft.text(Field::PerJar), "0.41 to 0.5");
    assert_eq!(draft.text(Field::Each), "about 3");
    assert_eq!(draft.text(Field::Altitude), "1585");
    draft.measure(false);
    assert_eq!(draft.text(Field::Weight), "30");
    // Rounding a height may never lower its band: 1,585 m is 5,200.1 ft.
    assert_eq!(draft.text(Field::Altitude), "5201");
    // Two numbers as the Spanish texts ask for them: "60 a 90".
    draft.set(Field::PerJar, "0.9 a 1.1");
    draft.measure(true);
    assert_eq!(draft.text(Field::PerJar), "0.41 to 0.5");
}

#[test]
fn ticks_go_on_and_off() {
    let mut draft = draft(&[]);
    draft.tick("lids");
    draft.tick("jars-pint");
    draft.tick("lids");
    assert_eq!(draft.ticks, ["jars-pint"]);
}

fn any_draft() -> impl Strategy<Value = Draft> {
    let texts = proptest::collection::vec(".{0,12}", Field::ALL.len());
    let wants = proptest::collection::vec((0..Jar::ALL.len(), ".{0,5}"), 0..4);
    let ids = || proptest::collection::vec(any::<u8>().prop_map(id), 0..3);
    let picks = (0..Pack::ALL.len(), 0..Food::ALL.len(), 0..Basis::ALL.len());
    (
        texts,
        wants,
        ids(),
        ids(),
        picks,
        any::<(bool, bool, u8)>(),
        proptest::collection::vec(".{0,9}", 0..4),
    )
        .prop_map(
            |(texts, wants, canners, batches, (pack, by, basis), (metric, ends, stoves), ticks)| {
                let mut draft = Draft::new("fish", Pack::ALL[pack], Jar::Pint, metric);
                draft.by = Food::ALL[by];
                draft.basis = Basis::ALL[basis];
                draft.wants =
                    wants.into_iter().map(|(jar, number)| (Jar::ALL[jar], number)).collect();
                draft.canners = canners;
                draft.batches = batches;
                draft.stoves = u16::from(stoves);
                draft.ends = ends;
                draft.ticks = ticks;
                for (field, text) in Field::ALL.iter().zip(texts) {
                    draft.set(*field, &text);
                }
                draft
            },
        )
}

proptest! {
    #[test]
    fn a_draft_survives_its_text(draft in any_draft()) {
        let again = Draft::from_json(&parse(&draft.to_json().to_string()).unwrap());
        prop_assert_eq!(again, Some(draft));
    }

    /// Whatever is typed, a plan is worked out and no load is over its canner.
    #[test]
    fn nothing_typed_breaks_a_plan(draft in any_draft(), number in "[0-9., to-]{0,6}", field in 0..Field::ALL.len()) {
        let kitchen = Kitchen::new();
        let mut draft = draft;
        draft.canners.push(id(90));
        draft.set(Field::Altitude, "640");
        draft.set(Field::Weight, "25");
        draft.set(Field::ALL[field], &number);
        let worked = sheet(&draft, &kitchen.archive, NOON);
        for load in &worked.loads {
            let (most, ..) = worked.lanes[load.lane].capacity(load.tested.jar()).unwrap();
            prop_assert!((1..=most).contains(&load.jars));
        }
        let _ = goods(&draft, &worked);
        let _ = begin(&draft, &worked);
        draft.measure(!draft.metric);
    }
}
