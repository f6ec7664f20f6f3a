//! Dial gauges in the household's record and at the start of a run.
//!
//! Sources: USDA Complete Guide to Home Canning, Guide 1, p. 1-20, 2015 (yearly test,
//! replace over 2 psi, a low reading is not taken off); USDA, Home Canning of Meat and
//! Poultry, gage adjustments (reads high by n: add n).
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{id, plan};
use hearthjar::batch::{Archive, Body, CannerKept, Id, LoadPlan, Text};
use hearthjar::physics::gauge::DialCheck;
use hearthjar::present::{dial_advice, dial_at_run};
use hearthjar::process::Gauge;
use hearthjar::units::{EpochMs, PsiGauge, Span};

const NOW: EpochMs = EpochMs(1_764_000_000_000);

fn check(reading: u16, standard: u16, days_ago: i64) -> DialCheck {
    let psi = |tenths| PsiGauge::from_tenths(tenths).unwrap();
    DialCheck::new(psi(reading), psi(standard), NOW.plus(Span::hours(-24 * days_ago))).unwrap()
}

#[test]
fn a_dial_that_reads_high_is_corrected_up_and_only_up() {
    let at = |check| dial_advice(Some(check), PsiGauge::whole(11), NOW).setting;
    assert_eq!(at(check(110, 110, 10)), Some(PsiGauge::whole(11)));
    assert_eq!(at(check(120, 110, 10)), Some(PsiGauge::whole(12)));
    assert_eq!(at(check(130, 110, 10)), Some(PsiGauge::whole(13)));
    assert_eq!(at(check(100, 110, 10)), Some(PsiGauge::whole(11)));
    // Over 2 psi either way: replaced, not used.
    assert_eq!(at(check(131, 110, 10)), None);
    assert_eq!(at(check(89, 110, 10)), None);
    // 14 psi and 2 more would pass the 15 psi ceiling.
    assert_eq!(dial_advice(Some(check(130, 110, 1)), PsiGauge::whole(14), NOW).setting, None);
}

#[test]
fn an_overdue_or_missing_check_is_said() {
    let advice = dial_advice(Some(check(120, 110, 366)), PsiGauge::whole(11), NOW);
    assert!(advice.say.first().unwrap().contains("over 12 months ago"));
    assert_eq!(advice.setting, Some(PsiGauge::whole(12)));
    let none = dial_advice(None, PsiGauge::whole(11), NOW);
    assert!(none.say.first().unwrap().contains("every year"));
    assert_eq!(none.setting, Some(PsiGauge::whole(11)));
}

#[test]
fn the_newest_check_of_a_canner_holds() {
    let canner = id(7);
    let kept = CannerKept {
        canner,
        name: Text::new("Blue one").unwrap(),
        gauge: Gauge::Dial,
        quarts: 16,
        notes: Text::new("Let the lock drop before the weight comes off").unwrap(),
        gone: false,
    };
    let mut archive = Archive::new();
    let gauge = |reading| Body::GaugeChecked {
        canner,
        reading: PsiGauge::whole(reading),
        standard: PsiGauge::whole(10),
    };
    let mut say = |name, hours, body| {
        let at = NOW.plus(Span::hours(hours));
        let drafted = archive.draft(Id::HOUSEHOLD, at, [(id(name), body)]).unwrap();
        archive.extend(drafted);
        archive.household().check(canner).map(DialCheck::error_tenths)
    };
    assert_eq!(say(1, 0, Body::CannerKept(kept)), None);
    assert_eq!(say(2, 1, gauge(12)), Some(20));
    assert_eq!(say(3, 9, gauge(11)), Some(10));
    // Written down later, as by another phone, but made earlier: the later check holds.
    assert_eq!(say(4, 5, gauge(10)), Some(10));
    // At one instant the one that reads higher holds, in whatever order.
    assert_eq!(say(5, 9, gauge(10)), Some(10));
    assert_eq!(say(6, 9, gauge(12)), Some(20));
    assert_eq!(archive.household().check(id(8)), None);
}

#[test]
fn a_plan_takes_a_raised_setting_and_no_lower_one() {
    let name = Text::new("Blue one").unwrap();
    let raised = plan(3).on(name.clone(), PsiGauge::whole(12));
    assert_eq!((raised.pressure, raised.added), (PsiGauge::whole(12), 2));
    let same = plan(3).on(name, PsiGauge::whole(5));
    assert_eq!((same.pressure, same.added), (PsiGauge::whole(10), 0));
}

#[test]
fn a_dial_is_spoken_of_at_each_run() {
    let canner = id(7);
    let name = Text::new("Blue one").unwrap();
    let kept = CannerKept {
        canner,
        name: name.clone(),
        gauge: Gauge::Dial,
        quarts: 16,
        notes: Text::default(),
        gone: false,
    };
    let table = LoadPlan { gauge: Gauge::Dial, pressure: PsiGauge::whole(11), ..plan(3) };
    let mut archive = Archive::new();
    let mut say = |name, days_ago: i64, body| {
        let at = NOW.plus(Span::hours(-24 * days_ago));
        let drafted = archive.draft(Id::HOUSEHOLD, at, [(id(name), body)]).unwrap();
        archive.extend(drafted);
        archive.household().clone()
    };
    let checked = |reading| Body::GaugeChecked {
        canner,
        reading: PsiGauge::from_tenths(reading).unwrap(),
        standard: PsiGauge::whole(10),
    };
    let bare = say(1, 500, Body::CannerKept(kept));
    let none = dial_at_run(&bare, &table, NOW).unwrap();
    assert!(none.say[0].contains("No check of this dial is on record"));
    // 1 psi high, over a year ago: both are said, and the psi is added.
    let late = say(2, 400, checked(110));
    let plan_late = table.clone().on(name.clone(), PsiGauge::whole(12));
    let advice = dial_at_run(&late, &plan_late, NOW).unwrap();
    assert!(advice.say[0].contains("over 12 months ago"));
    assert_eq!(advice.setting, Some(PsiGauge::whole(12)));
    // Now 2 psi high: the plan of before is too low, another load takes the figure.
    let worse = say(3, 2, checked(120));
    let advice = dial_at_run(&worse, &plan_late, NOW).unwrap();
    assert!(advice.say[0].contains("must now show 13 psi"));
    assert!(advice.bars(plan_late.pressure), "the heat may not go on under the new figure");
    let again = plan_late.on(name.clone(), advice.setting.unwrap());
    assert_eq!((again.pressure, again.added), (PsiGauge::whole(13), 2));
    assert!(!advice.bars(again.pressure));
    assert_eq!(again.table_pressure(), PsiGauge::whole(11));
    assert!(!dial_at_run(&worse, &again, NOW).unwrap().say[0].contains("must now"));
    // A new dial that reads low takes nothing off a load planned on the old one.
    let low = say(4, 1, checked(95));
    let setting = dial_at_run(&low, &again, NOW).unwrap().setting.unwrap();
    assert_eq!(again.clone().on(name, setting).pressure, PsiGauge::whole(13));
    let beyond = say(5, 0, checked(121));
    assert_eq!(dial_at_run(&beyond, &again, NOW).unwrap().setting, None);
    // A weighted gauge has no dial to check.
    assert_eq!(dial_at_run(&beyond, &plan(3), NOW), None);
}

#[test]
fn a_check_is_found_by_every_name_its_canner_had() {
    let canner = |number, name, gone| {
        Body::CannerKept(CannerKept {
            canner: id(number),
            name: Text::new(name).unwrap(),
            gauge: Gauge::Dial,
            quarts: 16,
            notes: Text::default(),
            gone,
        })
    };
    let checked = |number, reading| Body::GaugeChecked {
        canner: id(number),
        reading: PsiGauge::from_tenths(reading).unwrap(),
        standard: PsiGauge::whole(10),
    };
    let mut archive = Archive::new();
    let mut next = 0;
    let mut say = |body| {
        next += 1;
        let drafted = archive.draft(Id::HOUSEHOLD, NOW, [(id(next), body)]).unwrap();
        archive.extend(drafted);
        archive.household().clone()
    };
    let on = |name| {
        LoadPlan { gauge: Gauge::Dial, pressure: PsiGauge::whole(11), ..plan(3) }
            .on(Text::new(name).unwrap(), PsiGauge::whole(11))
    };
    let setting = |household, name| dial_at_run(household, &on(name), NOW).unwrap().setting;
    say(canner(50, "Blue", false));
    say(checked(50, 120));
    // Renamed: the load planned on the old name is held to the check all the same.
    let renamed = say(canner(50, "Old blue", false));
    for name in ["Blue", "Old blue"] {
        assert_eq!(setting(&renamed, name), Some(PsiGauge::whole(13)), "{name}");
    }
    assert_eq!(setting(&renamed, "Red"), Some(PsiGauge::whole(11)));
    // Removed, it still is the canner the load was planned on.
    let gone = say(canner(50, "Old blue", true));
    assert_eq!(setting(&gone, "Blue"), Some(PsiGauge::whole(13)));
    // A second canner that had the name once: the one that asks for more.
    say(canner(51, "Blue", false));
    say(checked(51, 110));
    let two = say(canner(51, "Red", false));
    assert_eq!(setting(&two, "Blue"), Some(PsiGauge::whole(13)));
    let worse = say(checked(51, 130)); // 3 psi off: replaced, not used
    assert_eq!(setting(&worse, "Blue"), None);
    // One that bears it now is the one meant.
    say(canner(52, "Blue", false));
    let new = say(checked(52, 100));
    assert_eq!(setting(&new, "Blue"), Some(PsiGauge::whole(11)));
}
