//! The stage machine against a model that keeps true time of its own.
//!
//! Outside sources: USDA Complete Guide to Home Canning, Guide 1 (2015), p. 1-20
//! (vent 10 min), p. 1-22 (a drop restarts the full time; 10 min with the weight
//! off), p. 1-25 (12 to 24 h rest); Guide 5, p. 5-12 (fish in quarts: heat 20 min,
//! heating and venting 30 min or more, 160 min unbroken).

#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::runs::{at, pints};
use hearthjar::run::{DropCause, Page, Run, RunPlan, StageKind, Step, StepError, StopCause};
use hearthjar::units::{EpochMs, Minutes, PsiGauge, Span};
use proptest::prelude::*;

const MIN: i64 = 60_000;

fn quarts() -> RunPlan {
    RunPlan {
        hold: Minutes(160),
        heat_before_vent: Minutes(20),
        heat_plus_vent: Minutes(30),
        ..pints()
    }
}

fn run_to_hold(plan: RunPlan, start: i64) -> Run {
    let mut run = Run::new(plan);
    run.take(Step::HeatOn, at(start)).unwrap();
    run.take(Step::SteamSteady, at(start + 20)).unwrap();
    run.take(Step::VentClosed, at(start + 30)).unwrap();
    run.take(Step::AtPressure, at(start + 35)).unwrap();
    run
}

#[test]
fn a_plain_run_reaches_the_shelf() {
    let mut run = run_to_hold(pints(), 0);
    assert_eq!(run.left(at(35)), Some(Span::minutes(100)));
    assert_eq!(run.due(), Some(at(135)));
    run.take(Step::HeatOff, at(135)).unwrap();
    assert!(run.is_processed());
    run.take(Step::WeightOff, at(175)).unwrap();
    assert_eq!(
        run.take(Step::LidOpened, at(184)),
        Err(StepError::TooSoon { stage: StageKind::Standing, left: Span::minutes(1) })
    );
    run.take(Step::LidOpened, at(185)).unwrap();
    run.take(Step::Unloaded, at(190)).unwrap();
    assert_eq!(run.due(), Some(at(190 + 12 * 60)));
}

#[test]
fn heat_off_is_refused_one_millisecond_early() {
    let mut run = run_to_hold(pints(), 0);
    let early = EpochMs(at(135).0 - 1);
    assert_eq!(
        run.take(Step::HeatOff, early),
        Err(StepError::TooSoon { stage: StageKind::Holding, left: Span(1) })
    );
    assert!(!run.is_processed());
}

#[test]
fn vent_is_ten_minutes_of_steady_steam() {
    let mut run = Run::new(pints());
    run.take(Step::HeatOn, at(0)).unwrap();
    run.take(Step::SteamSteady, at(12)).unwrap();
    assert!(run.take(Step::VentClosed, at(21)).unwrap_err().is_too_soon());
    run.take(Step::SteamFaltered, at(21)).unwrap();
    run.take(Step::SteamSteady, at(22)).unwrap();
    assert!(run.take(Step::VentClosed, at(31)).unwrap_err().is_too_soon());
    run.take(Step::VentClosed, at(32)).unwrap();
}

#[test]
fn quarts_of_fish_heat_twenty_and_thirty_in_all() {
    let mut run = Run::new(quarts());
    run.take(Step::HeatOn, at(0)).unwrap();
    assert_eq!(
        run.take(Step::SteamSteady, at(15)),
        Err(StepError::TooSoon { stage: StageKind::WarmUp, left: Span::minutes(5) })
    );
    run.take(Step::SteamSteady, at(20)).unwrap();
    assert_eq!(run.due(), Some(at(30)));
    // Slow steam: the plain ten minutes are then the longer wait.
    let mut slow = Run::new(quarts());
    slow.take(Step::HeatOn, at(0)).unwrap();
    slow.take(Step::SteamSteady, at(40)).unwrap();
    assert_eq!(slow.due(), Some(at(50)));
}

#[test]
fn a_drop_restarts_the_full_time_and_says_why() {
    let mut run = run_to_hold(pints(), 0);
    run.take(Step::Dropped(DropCause::HeatTooLow), at(134)).unwrap();
    assert_eq!(run.stage().kind(), StageKind::Rising);
    run.take(Step::AtPressure, at(140)).unwrap();
    assert!(run.take(Step::HeatOff, at(239)).unwrap_err().is_too_soon());
    run.take(Step::HeatOff, at(240)).unwrap();
    let restart = run.restarts()[0];
    assert_eq!((restart.cause, restart.held), (DropCause::HeatTooLow, Span::minutes(99)));
}

#[test]
fn a_low_reading_is_a_drop() {
    let mut run = run_to_hold(pints(), 0);
    run.take(Step::Reading(PsiGauge::whole(11)), at(60)).unwrap();
    assert_eq!(run.stage().kind(), StageKind::Holding);
    run.take(Step::Reading(PsiGauge::from_tenths(109).unwrap()), at(61)).unwrap();
    assert_eq!(run.stage().kind(), StageKind::Rising);
    assert_eq!(run.restarts()[0].cause, DropCause::LowReading);
}

#[test]
fn a_clock_set_forward_gains_nothing() {
    let mut run = run_to_hold(pints(), 0);
    let jump = Step::ClockMoved { by: Span::minutes(60), page: Page::Shown };
    run.take(jump, at(100)).unwrap();
    assert_eq!(run.left(at(100)), Some(Span::minutes(95)));
    assert_eq!(run.due(), Some(at(195)));
    run.take(Step::ClockWrong, at(100)).unwrap();
    assert_eq!(run.left(at(100)), Some(Span::minutes(95)));
    assert_eq!(run.doubtful_time(), Span::ZERO);
}

#[test]
fn sleep_counts_once_the_person_says_the_clock_is_right() {
    let mut run = run_to_hold(pints(), 0);
    let jump = Step::ClockMoved { by: Span::minutes(60), page: Page::Hidden };
    run.take(jump, at(100)).unwrap();
    assert_eq!(run.left(at(100)), Some(Span::minutes(95)));
    assert_eq!(run.doubtful_time(), Span::minutes(60));
    run.take(Step::ClockRight, at(100)).unwrap();
    assert_eq!(run.left(at(100)), Some(Span::minutes(35)));
    assert_eq!(run.due(), Some(at(135)));
}

#[test]
fn a_clock_set_back_loses_nothing_that_was_seen_to_pass() {
    let mut run = run_to_hold(pints(), 0);
    // At true minute 95 the clock is set back an hour.
    run.take(Step::ClockMoved { by: Span::minutes(-60), page: Page::Shown }, at(35)).unwrap();
    assert_eq!(run.left(at(35)), Some(Span::minutes(40)));
    assert_eq!(run.due(), Some(at(75)));
}

#[test]
fn a_run_given_up_is_never_processed() {
    let mut run = run_to_hold(pints(), 0);
    run.take(Step::Stopped(StopCause::FuelOut), at(90)).unwrap();
    assert!(!run.is_processed());
    for step in [Step::HeatOff, Step::AtPressure, Step::WeightOff, Step::Unloaded] {
        assert_eq!(run.take(step, at(400)), Err(StepError::NotNow(StageKind::Stopped)));
    }
}

/// What may happen at the stove: a step, true time passing, the clock being
/// changed or the phone asleep, and an honest answer about it.
#[derive(Clone, Debug)]
enum Act {
    Take(Step),
    Pass(i64),
    SetClock(i64),
    Sleep(i64),
}

fn act() -> impl Strategy<Value = Act> {
    let step = prop_oneof![
        1 => Just(Step::HeatOn),
        1 => Just(Step::SteamSteady),
        1 => Just(Step::SteamFaltered),
        1 => Just(Step::VentClosed),
        3 => Just(Step::AtPressure),
        1 => Just(Step::Dropped(DropCause::Unsure)),
        1 => (100_u16..120).prop_map(|t| Step::Reading(PsiGauge::from_tenths(t).unwrap())),
        1 => Just(Step::WeightSteady),
        4 => Just(Step::HeatOff),
        1 => Just(Step::WeightOff),
        1 => Just(Step::LidOpened),
        1 => Just(Step::Unloaded),
    ];
    prop_oneof![
        5 => step.prop_map(Act::Take),
        4 => (0_i64..130 * MIN).prop_map(Act::Pass),
        1 => (-300 * MIN..300 * MIN).prop_map(Act::SetClock),
        1 => (3_000_i64..130 * MIN).prop_map(Act::Sleep),
    ]
}

/// Steps that lead towards a finished run, so that random acts reach the end often.
fn forward(kind: StageKind) -> Option<Step> {
    Some(match kind {
        StageKind::Loading => Step::HeatOn,
        StageKind::WarmUp => Step::SteamSteady,
        StageKind::Venting => Step::VentClosed,
        StageKind::Rising => Step::AtPressure,
        StageKind::Holding => Step::HeatOff,
        StageKind::Falling => Step::WeightOff,
        StageKind::Standing => Step::LidOpened,
        StageKind::Unloading => Step::Unloaded,
        StageKind::Resting | StageKind::Stopped => return None,
    })
}

/// An honest answer to "by another clock, has it been that long?"
fn answer(run: &mut Run, wall: i64, really: i64) {
    let Some(since) = run.stage().since() else { return };
    let by_wall = wall - since.0;
    let step = if by_wall <= really { Step::ClockRight } else { Step::ClockWrong };
    let _ = run.take(step, EpochMs(wall));
}

proptest! {
    #[test]
    fn no_run_is_processed_without_the_full_unbroken_time(
        quart in any::<bool>(),
        acts in proptest::collection::vec((act(), any::<bool>()), 1..80),
    ) {
        let plan = if quart { quarts() } else { pints() };
        let mut run = Run::new(plan);
        let (mut truth, mut wall) = (0_i64, 1_764_000_000_000_i64);
        let (mut heat_true, mut steam_true, mut hold_true) = (None, None, None);
        let mut stage_true = 0;
        for (act, push) in acts {
            match act {
                Act::Pass(ms) => { truth += ms; wall += ms; }
                Act::SetClock(by) => {
                    wall += by;
                    let jump = Step::ClockMoved { by: Span(by), page: Page::Shown };
                    let _ = run.take(jump, EpochMs(wall));
                    if push { answer(&mut run, wall, truth - stage_true); }
                }
                Act::Sleep(ms) => {
                    truth += ms; wall += ms;
                    let jump = Step::ClockMoved { by: Span(ms), page: Page::Hidden };
                    let _ = run.take(jump, EpochMs(wall));
                    if push { answer(&mut run, wall, truth - stage_true); }
                }
                Act::Take(step) => {
                    let step = if push { forward(run.stage().kind()).unwrap_or(step) } else { step };
                    let before = run.stage().kind();
                    let was = run.clone();
                    if run.take(step, EpochMs(wall)).is_err() {
                        prop_assert_eq!(&was, &run, "a refused step changed the run");
                        continue;
                    }
                    if run.stage().kind() != before {
                        stage_true = truth;
                    }
                    if step == Step::SteamFaltered {
                        stage_true = heat_true.unwrap();
                    }
                    match step {
                        Step::HeatOn => heat_true = Some(truth),
                        Step::SteamSteady => {
                            steam_true = Some(truth);
                            let heated = truth - heat_true.unwrap();
                            prop_assert!(heated >= i64::from(plan.heat_before_vent.0) * MIN);
                        }
                        Step::VentClosed => {
                            prop_assert!(truth - steam_true.unwrap() >= 10 * MIN);
                            let both = truth - heat_true.unwrap();
                            prop_assert!(both >= i64::from(plan.heat_plus_vent.0) * MIN);
                        }
                        Step::AtPressure => hold_true = Some(truth),
                        Step::Dropped(_) => hold_true = None,
                        Step::Reading(psi) if before == StageKind::Holding && psi < plan.pressure => {
                            hold_true = None;
                        }
                        Step::HeatOff => {
                            let held = truth - hold_true.unwrap();
                            prop_assert!(held >= i64::from(plan.hold.0) * MIN, "held {held} ms");
                        }
                        _ => {}
                    }
                }
            }
            if run.is_processed() {
                prop_assert!(hold_true.is_some());
                prop_assert!(run.stage().kind() >= StageKind::Falling);
            } else {
                prop_assert!(run.stage().kind() < StageKind::Falling);
            }
        }
    }
}
