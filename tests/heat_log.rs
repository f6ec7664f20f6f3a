//! The pressure log: what a run keeps of its readings, when the next one is due,
//! and the chart.
//!
//! Sources: USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015 (a drop
//! restarts the full time); steam temperatures from `tests/physics/gauge-temperature.csv`
//! (U.S. Standard Atmosphere 1976 and IAPWS-IF97 by public libraries).
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{id, plan, start};
use hearthjar::batch::{Archive, Body, Load};
use hearthjar::heat::{FRAME, look_text, pressure_log};
use hearthjar::process::Gauge;
use hearthjar::run::{DropCause, Happened, Page, StageKind, Step};
use hearthjar::units::{Altitude, EpochMs, PsiGauge, Span};

const START: EpochMs = EpochMs(1_764_000_000_000);

fn at(minutes: i64) -> EpochMs {
    START.plus(Span::minutes(minutes))
}

fn psi(tenths: u16) -> PsiGauge {
    PsiGauge::from_tenths(tenths).unwrap()
}

/// A load of pints on a dial at 11 psi, for 100 min, with steps at minutes.
fn load(steps: &[(i64, Step)]) -> Load {
    let mut dial = plan(3);
    (dial.gauge, dial.pressure) = (Gauge::Dial, PsiGauge::whole(11));
    told(dial, steps)
}

fn told(plan: hearthjar::batch::LoadPlan, steps: &[(i64, Step)]) -> Load {
    let mut archive = Archive::new();
    let (batch, load) = (id(100), id(2));
    let mut say = |name, minute, body| {
        let drafted = archive.draft(batch, at(minute), [(id(name), body)]).unwrap();
        archive.extend(drafted);
    };
    say(1, 0, Body::BatchStarted(start()));
    say(2, 0, Body::LoadPlanned(plan));
    for (name, (minute, step)) in (3..).zip(steps) {
        say(name, *minute, Body::Ran { load, step: *step });
    }
    archive.batch(batch).unwrap().loads[0].clone()
}

const UP: [(i64, Step); 4] =
    [(0, Step::HeatOn), (20, Step::SteamSteady), (30, Step::VentClosed), (35, Step::AtPressure)];

fn with(more: &[(i64, Step)]) -> Load {
    load(&[&UP[..], more].concat())
}

#[test]
fn the_next_reading_is_due_from_the_last_one() {
    let every = Span::minutes(10);
    assert_eq!(with(&[]).run.look_due(every, at(36)), Some(at(45)));
    let read = with(&[(44, Step::Reading(psi(115)))]);
    assert_eq!(read.run.look_due(every, at(36)), Some(at(54)));
    // Not looked: it is due again, ten minutes after each.
    assert_eq!(with(&[]).run.look_due(every, at(54)), Some(at(45)));
    assert_eq!(with(&[]).run.look_due(every, at(68)), Some(at(65)));
    assert_eq!(with(&[]).run.look_due(Span::ZERO, at(68)), None);
    // Near the end the full time rings by itself.
    let late = with(&[(126, Step::Reading(psi(115)))]);
    assert_eq!((late.run.due(), late.run.look_due(every, at(36))), (Some(at(135)), None));
    // A low reading restarts: nothing is due until it is at pressure again.
    let low = with(&[(44, Step::Reading(psi(105)))]);
    assert_eq!(low.run.look_due(every, at(36)), None);
    let again = with(&[(44, Step::Reading(psi(105))), (50, Step::AtPressure)]);
    assert_eq!(again.run.look_due(every, at(36)), Some(at(60)));
}

#[test]
fn a_clock_that_moves_never_puts_the_reading_off() {
    let every = Span::minutes(10);
    let moved =
        |at: i64, by: i64| (at, Step::ClockMoved { by: Span::minutes(by), page: Page::Shown });
    // At minute 40 the clock is set back to minute 10: ten true minutes after the
    // hold began it shows minute 15.
    assert_eq!(with(&[moved(10, -30)]).run.look_due(every, at(11)), Some(at(15)));
    // Set forward: due at once, a look too soon costs nothing.
    assert_eq!(with(&[moved(100, 60)]).run.look_due(every, at(36)), Some(at(45)));
}

#[test]
fn what_happened_is_kept_in_order_on_sure_time() {
    let jump = Step::ClockMoved { by: Span::minutes(60), page: Page::Shown };
    let load = with(&[(40, Step::Reading(psi(120))), (110, jump), (110, Step::Reading(psi(115)))]);
    let happened = load.run.happened();
    let expected = [
        (0, Happened::Began(StageKind::WarmUp)),
        (20, Happened::Began(StageKind::Venting)),
        (30, Happened::Began(StageKind::Rising)),
        (35, Happened::Began(StageKind::Holding)),
        (40, Happened::Reading(psi(120))),
        // An hour of it may not have passed.
        (50, Happened::Reading(psi(115))),
    ];
    assert_eq!(happened, expected.map(|(minute, what)| (Span::minutes(minute), what)));
    assert_eq!(load.run.since_heat(at(120)), Some(Span::minutes(60)));
    assert_eq!(load.run.readings().len(), 2);
    // A clock set back does not turn the order round.
    let back = Step::ClockMoved { by: Span::minutes(-35), page: Page::Shown };
    let load = with(&[(5, back), (10, Step::Reading(psi(120)))]);
    assert_eq!(load.run.happened().last().unwrap().0, Span::minutes(45));
}

#[test]
fn a_weight_is_seen_moving_only_in_the_hold() {
    let load = told(plan(3), &[&UP[..], &[(45, Step::WeightSteady)]].concat());
    assert_eq!(load.run.looks(), [(at(45), Happened::WeightSteady)]);
    assert_eq!(load.run.look_due(Span::minutes(10), at(46)), Some(at(55)));
    assert_eq!(load.run.restarts(), []);
    let mut rising = told(plan(3), &UP[..3]).run;
    assert!(rising.take(Step::WeightSteady, at(32)).is_err());
    let chart = pressure_log(&load, Altitude::SEA_LEVEL, at(50), false).unwrap();
    assert_eq!(chart.words, "Required: 10 psi. Weight seen moving once.");
    assert!(!chart.line.is_empty());
    // Nothing seen: the tap that began the hold is no reading, and no line.
    let unseen = told(plan(3), &UP);
    let chart = pressure_log(&unseen, Altitude::SEA_LEVEL, at(50), false).unwrap();
    assert_eq!(
        (chart.words.as_str(), chart.line.as_str()),
        ("Required: 10 psi. Nothing logged yet.", "")
    );
}

#[test]
fn the_chart_joins_what_was_read_and_marks_drops() {
    assert_eq!(pressure_log(&load(&UP[..2]), Altitude::SEA_LEVEL, at(25), false), None);
    let load = with(&[
        (60, Step::Reading(psi(125))),
        (70, Step::Reading(psi(100))),
        (75, Step::AtPressure),
        (80, Step::Dropped(DropCause::FuelOut)),
        (90, Step::AtPressure),
    ]);
    let chart = pressure_log(&load, Altitude::SEA_LEVEL, at(95), false).unwrap();
    // Vent closed, at pressure, two readings and up again; after a drop nobody read, a gap.
    let strokes: Vec<&str> = chart.line.split('M').skip(1).collect();
    assert_eq!(strokes.len(), 2, "{}", chart.line);
    assert_eq!(strokes[0].matches('L').count(), 4);
    assert_eq!(chart.looks.matches("h0").count(), 2);
    assert_eq!(chart.dips.matches('z').count(), 2);
    assert!(chart.words.ends_with(
        "Logged 2 times, from 10 to 12.5 psi. Pressure dropped 2 times, and the full time started over."
    ));
    // 227.1, 239.4 and 249.7 F at 5, 10 and 15 psi: gauge-temperature.csv, 0 ft.
    let steam: Vec<&str> = chart.levels.iter().map(|level| level.right.as_str()).collect();
    assert_eq!(steam, ["212 °F", "227 °F", "239 °F", "250 °F"]);
    let (left, right, top, bottom) = FRAME;
    for level in &chart.levels {
        assert!((top..=bottom).contains(&level.y));
    }
    // 11 psi lies between the lines of 10 and 15 psi.
    assert!(chart.required < chart.levels[2].y && chart.required > chart.levels[3].y);
    assert!(chart.ticks.iter().all(|tick| (left..=right).contains(&tick.x)));
    assert_eq!(chart.ticks[0].text, "0");
    // The frame reaches to the end of the full time, 190 min after the heat went on.
    assert_eq!(chart.ticks.last().unwrap().text, "150");
}

#[test]
fn a_reading_is_worth_the_steam_it_stands_for() {
    let load = with(&[]);
    let say = |load: &Load, tenths, feet, metric| {
        let altitude = Altitude::from_feet(feet).unwrap();
        look_text(load, altitude, Happened::Reading(psi(tenths)), metric)
    };
    // gauge-temperature.csv: 11 psi, 0 ft is 241.558 F or 116.421 C.
    assert_eq!(say(&load, 110, 0, false), "11 psi, steam at 242 °F");
    assert_eq!(say(&load, 110, 0, true), "11 psi, steam at 116 °C");
    // A dial that reads 1 psi high shows 12 for 11.
    let mut high = load;
    high.plan.added = 1;
    assert_eq!(say(&high, 120, 0, false), "12 psi, steam at 242 °F");
}
