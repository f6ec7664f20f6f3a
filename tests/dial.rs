//! Dial gauges in the household's record and at the start of a run.
//!
//! Sources: USDA Complete Guide to Home Canning, Guide 1, p. 1-20, 2015 (yearly test,
//! replace over 2 psi, a low reading is not taken off); USDA, Home Canning of Meat and
//! Poultry, gage adjustments (reads high by n: add n).
#![allow(clippy::unwrap_used)] // a failed test may panic

mod common;

use common::{id, plan};
use hearthjar::batch::{Archive, Body, CannerKept, Id, Text};
use hearthjar::physics::gauge::DialCheck;
use hearthjar::present::dial_advice;
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
        gone: false,
    };
    let mut archive = Archive::new();
    let gauge = |reading| Body::GaugeChecked {
        canner,
        reading: PsiGauge::whole(reading),
        standard: PsiGauge::whole(10),
    };
    for (name, body) in [(1, Body::CannerKept(kept)), (2, gauge(12)), (3, gauge(11))] {
        let drafted = archive.draft(Id::HOUSEHOLD, NOW, [(id(name), body)]).unwrap();
        archive.extend(drafted);
    }
    assert_eq!(archive.household().check(canner).unwrap().error_tenths(), 10);
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
