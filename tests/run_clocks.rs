//! A run step by step: what it says of itself at each stage, and whose clock judges
//! which wait when several phones tell of it.
//!
//! Outside sources: USDA Complete Guide to Home Canning, Guide 1 (2015), p. 1-20 (vent
//! 10 min), p. 1-22 (a drop restarts the full time; 10 min with the weight off),
//! p. 1-25 (12 h rest); Guide 5, p. 5-12 (fish in quarts: heat 20 min, heating and
//! venting 30 min or more).
#![allow(clippy::unwrap_used)] // a failed test may panic

mod common;

use common::runs::{at, pints};
use hearthjar::run::{
    DropCause, Happened, Page, Run, RunPlan, Stage, StageKind, Step, StepError, StopCause, Trust,
    Watch,
};
use hearthjar::units::{Minutes, PsiGauge, Span};

/// Two phones, and one that was never near.
const OURS: Watch = Watch(Some(1));
const THEIRS: Watch = Watch(Some(2));
/// By how many minutes the clock of the second is ahead.
const AHEAD: i64 = 1_000;

/// A run told by our phone, up to and with a step.
fn told(plan: RunPlan, steps: usize) -> Run {
    let mut run = Run::new(plan);
    let way = [
        (0, Step::HeatOn),
        (20, Step::SteamSteady),
        (30, Step::VentClosed),
        (35, Step::AtPressure),
        (135, Step::HeatOff),
        (175, Step::WeightOff),
        (185, Step::LidOpened),
        (190, Step::Unloaded),
    ];
    for (minute, step) in way.into_iter().take(steps) {
        run.take_by(OURS, step, at(minute)).unwrap();
    }
    run.look_from(OURS);
    run
}

fn jump(by: i64, page: Page) -> Step {
    Step::ClockMoved { by: Span::minutes(by), page }
}

fn too_soon(stage: StageKind, minutes: i64) -> Result<(), StepError> {
    Err(StepError::TooSoon { stage, left: Span::minutes(minutes) })
}

#[test]
fn each_stage_has_its_time_its_care_and_its_next_step() {
    // Stage, begun at, least minutes, someone must stay by it, a wrong clock matters.
    let stages = [
        (StageKind::Loading, None, None, false, false),
        (StageKind::WarmUp, Some(0), None, true, true),
        (StageKind::Venting, Some(20), Some(10), true, true),
        (StageKind::Rising, Some(30), None, true, false),
        (StageKind::Holding, Some(35), Some(100), true, true),
        (StageKind::Falling, Some(135), None, true, false),
        (StageKind::Standing, Some(175), Some(10), true, true),
        (StageKind::Unloading, Some(185), None, true, false),
        (StageKind::Resting, Some(190), Some(12 * 60), false, false),
    ];
    for (steps, (kind, begun, least, attended, matters)) in stages.into_iter().enumerate() {
        let run = told(pints(), steps);
        assert_eq!(run.stage().kind(), kind);
        assert_eq!(run.stage().since(), begun.map(at), "{kind:?}");
        assert_eq!(run.least(), least.map(Span::minutes), "{kind:?}");
        assert_eq!(run.stage().is_attended(), attended, "{kind:?}");
        assert_eq!(run.is_timed_for_safety(), matters, "{kind:?}");
        assert_eq!(run.heat_on(), (steps > 0).then_some(at(0)), "{kind:?}");
        let full = (steps > 4).then_some((at(35), at(135)));
        assert_eq!((run.full_hold(), run.is_processed()), (full, full.is_some()), "{kind:?}");
        assert_eq!((run.plan(), run.hold_minutes()), (pints(), Minutes(100)));
        assert_eq!((run.stopped(), run.is_seen_here()), (None, steps > 0), "{kind:?}");
        // One minute on: what has passed, what is left, and when it is over.
        let Some(begun) = begun else {
            assert_eq!((run.left(at(1)), run.due()), (None, None));
            continue;
        };
        assert_eq!(run.elapsed(at(begun + 1)), Span::minutes(1), "{kind:?}");
        assert_eq!(run.left(at(begun + 1)), least.map(|least| Span::minutes(least - 1)));
        assert_eq!(run.due(), least.map(|least| at(begun + least)), "{kind:?}");
    }
    // Guide 5, p. 5-12: only fish in quarts has a least time of heating.
    let quarts = RunPlan { heat_before_vent: Minutes(20), heat_plus_vent: Minutes(30), ..pints() };
    assert_eq!(told(quarts, 1).least(), Some(Span::minutes(20)));
}

#[test]
fn a_run_given_up_says_why_and_a_clock_moves_only_a_run_that_has_begun() {
    let mut run = told(pints(), 4);
    run.take_by(OURS, Step::Stopped(StopCause::BoiledDry), at(50)).unwrap();
    assert_eq!(run.stopped(), Some(StopCause::BoiledDry));
    assert_eq!(run.stage(), Stage::Stopped(at(50)));
    assert!(!run.stage().is_attended() && !run.is_timed_for_safety());
    let mut cold = Run::new(pints());
    let refused = cold.take_by(OURS, jump(30, Page::Shown), at(1));
    assert_eq!(refused, Err(StepError::NotNow(StageKind::Loading)));
    assert_eq!(cold, Run::new(pints()));
    assert!(!StepError::NotNow(StageKind::Loading).is_too_soon());
    // A reading while the pressure climbs is kept, however low.
    let mut rising = told(pints(), 3);
    rising.take_by(OURS, Step::Reading(PsiGauge::whole(4)), at(32)).unwrap();
    assert_eq!(rising.readings(), [(at(32), PsiGauge::whole(4))]);
    assert_eq!(rising.looks(), [(at(32), Happened::Reading(PsiGauge::whole(4)))]);
    assert_eq!(rising.stage().kind(), StageKind::Rising);
}

#[test]
fn a_phone_that_was_not_there_counts_from_when_the_run_came_to_it() {
    let mut run = told(pints(), 4);
    run.look_from(THEIRS);
    // It does not know when the hold began: nothing counts, whatever its clock shows.
    assert!(!run.is_seen_here());
    assert_eq!((run.elapsed(at(AHEAD + 65)), run.due()), (Span::ZERO, None));
    assert_eq!(run.left(at(AHEAD + 65)), Some(Span::minutes(100)));
    let early = run.take_by(THEIRS, Step::HeatOff, at(AHEAD + 65));
    assert_eq!(early, too_soon(StageKind::Holding, 100));
    // A jump of its clock, or a step that does not fit, does not make it a witness.
    run.take_by(THEIRS, jump(5, Page::Shown), at(AHEAD + 65)).unwrap();
    assert!(run.take_by(THEIRS, Step::WeightOff, at(AHEAD + 65)).is_err());
    assert!(!run.is_seen_here());
    // The run comes to it 30 true minutes after the hold began.
    let elsewhere = jump(AHEAD + 30, Page::Elsewhere);
    run.take_by(THEIRS, elsewhere, at(AHEAD + 65)).unwrap();
    assert!(run.is_seen_here());
    assert_eq!(run.left(at(AHEAD + 65)), Some(Span::minutes(100)));
    assert_eq!(run.due(), Some(at(AHEAD + 165)));
    assert_eq!(run.doubtful_time(), Span::minutes(AHEAD + 30));
    assert_eq!(run.clock_moves().count(), 2);
    // Our phone's clock did not move, and it waits as before.
    run.look_from(OURS);
    assert_eq!((run.doubtful_time(), run.clock_moves().count()), (Span::ZERO, 0));
    assert_eq!(run.left(at(65)), Some(Span::minutes(70)));
    // Told twice, it still counts from the first time.
    run.take_by(THEIRS, jump(1, Page::Elsewhere), at(AHEAD + 66)).unwrap();
    run.look_from(THEIRS);
    assert_eq!(run.elapsed(at(AHEAD + 67)), Span::minutes(1));
    run.take_by(THEIRS, Step::ClockWrong, at(AHEAD + 67)).unwrap();
    assert_eq!(run.doubtful_time(), Span::ZERO);
    let early = run.take_by(THEIRS, Step::HeatOff, at(AHEAD + 165));
    assert_eq!(early, too_soon(StageKind::Holding, 1));
    run.take_by(THEIRS, Step::HeatOff, at(AHEAD + 166)).unwrap();
    assert!(run.is_processed());
}

#[test]
fn two_phones_that_saw_one_beginning_each_wait_by_their_own_clock() {
    let quarts = RunPlan { heat_before_vent: Minutes(20), heat_plus_vent: Minutes(30), ..pints() };
    let mut run = told(quarts, 2);
    // The other saw the steam, not the heat: for it the whole 30 min are still to come.
    let again = run.take_by(THEIRS, Step::SteamSteady, at(AHEAD + 22));
    assert_eq!(again, Err(StepError::NotNow(StageKind::Venting)));
    assert_eq!(run.due(), Some(at(30)));
    run.look_from(THEIRS);
    assert!(run.is_seen_here());
    assert_eq!(run.least(), Some(Span::minutes(30)));
    assert_eq!(run.due(), Some(at(AHEAD + 52)));
    // Told once more, it changes nothing.
    let before = run.clone();
    assert!(run.take_by(THEIRS, Step::SteamSteady, at(AHEAD + 25)).is_err());
    assert_eq!(run, before);
    // With the heat's time known to be short by a doubtful jump, the rest is vented.
    let both = RunPlan { heat_plus_vent: Minutes(30), ..pints() };
    let mut short = Run::new(both);
    short.take_by(OURS, Step::HeatOn, at(0)).unwrap();
    short.take_by(OURS, jump(15, Page::Hidden), at(20)).unwrap();
    short.take_by(OURS, Step::SteamSteady, at(20)).unwrap();
    short.look_from(OURS);
    assert_eq!(short.least(), Some(Span::minutes(25)));
}

#[test]
fn an_answer_is_about_this_stage_and_this_phone() {
    let trust = |run: &Run| run.clock_moves().map(|m| m.trust).collect::<Vec<_>>();
    // One jump before the hold, unanswered; one in it, and one back.
    let mut run = told(pints(), 3);
    run.take_by(OURS, jump(7, Page::Hidden), at(33)).unwrap();
    run.take_by(OURS, jump(-2, Page::Shown), at(33)).unwrap();
    run.take_by(OURS, Step::AtPressure, at(35)).unwrap();
    run.take_by(OURS, jump(40, Page::Hidden), at(80)).unwrap();
    run.take_by(OURS, jump(-10, Page::Shown), at(80)).unwrap();
    run.take_by(THEIRS, jump(3, Page::Shown), at(AHEAD + 80)).unwrap();
    run.look_from(OURS);
    assert_eq!(trust(&run), [Trust::Open, Trust::Refused, Trust::Open, Trust::Refused]);
    assert_eq!(run.doubtful_time(), Span::minutes(40));
    assert_eq!(run.elapsed(at(80)), Span::minutes(45 - 40 + 10));
    let (mut yes, mut no) = (run.clone(), run);
    // Yes: by another clock the whole stage has lasted as long as this one says.
    yes.take_by(OURS, Step::ClockRight, at(80)).unwrap();
    assert_eq!(trust(&yes), [Trust::Refused, Trust::Refused, Trust::Given, Trust::Given]);
    assert_eq!(yes.elapsed(at(80)), Span::minutes(45));
    // A later no is about what is open then, and takes nothing back.
    yes.take_by(OURS, jump(20, Page::Hidden), at(110)).unwrap();
    yes.take_by(OURS, Step::ClockWrong, at(110)).unwrap();
    assert_eq!(trust(&yes).last(), Some(&Trust::Refused));
    assert_eq!(yes.elapsed(at(110)), Span::minutes(75 - 20));
    // No: none of it counts, and the clock set back takes nothing away.
    no.take_by(OURS, Step::ClockWrong, at(80)).unwrap();
    assert_eq!(trust(&no), [Trust::Refused; 4]);
    assert_eq!(no.elapsed(at(80)), Span::minutes(15));
    // The other phone's jump still waits for its own answer.
    for mut run in [yes, no] {
        run.look_from(THEIRS);
        assert_eq!(trust(&run), [Trust::Open]);
    }
}

#[test]
fn what_was_said_right_in_one_stage_stays_right_in_the_next() {
    let mut run = told(pints(), 1);
    run.take_by(OURS, jump(10, Page::Hidden), at(15)).unwrap();
    run.take_by(OURS, Step::ClockRight, at(15)).unwrap();
    run.take_by(OURS, Step::SteamSteady, at(20)).unwrap();
    run.take_by(OURS, jump(5, Page::Hidden), at(30)).unwrap();
    for answer in [Step::ClockRight, Step::ClockWrong] {
        let mut run = run.clone();
        run.take_by(OURS, answer, at(30)).unwrap();
        assert_eq!(run.clock_moves().next().map(|m| m.trust), Some(Trust::Given), "{answer:?}");
    }
}

#[test]
fn a_hold_that_another_phone_disputes_does_not_count() {
    let mut run = told(pints(), 5);
    let hold = run.full_hold();
    run.dispute();
    assert!(!run.is_processed() && hold.is_some());
    assert_eq!((run.full_hold(), run.told_hold()), (None, hold));
    // The canner is hot all the same: its stages go on.
    assert_eq!((run.stopped(), run.stage().kind()), (None, StageKind::Falling));
    run.take_by(OURS, Step::WeightOff, at(175)).unwrap();
}

#[test]
fn the_log_counts_each_phone_by_its_own_clock() {
    let mut run = told(pints(), 4);
    run.take_by(THEIRS, jump(60, Page::Shown), at(AHEAD + 40)).unwrap();
    run.take_by(OURS, Step::Reading(PsiGauge::whole(12)), at(45)).unwrap();
    // The other's jump takes nothing off our ten minutes.
    assert_eq!(run.happened().last().map(|(passed, _)| *passed), Some(Span::minutes(45)));
    // Nor does it move the next look, which one set back on this phone does.
    let every = Span::minutes(10);
    run.take_by(THEIRS, jump(-60, Page::Shown), at(AHEAD)).unwrap();
    assert_eq!(run.look_due(every, at(46)), Some(at(55)));
    run.take_by(OURS, jump(-20, Page::Shown), at(30)).unwrap();
    assert_eq!(run.look_due(every, at(31)), Some(at(35)));
    assert_eq!(run.since_heat(at(31)), Some(Span::minutes(51)));
    // A look that falls on the end of the full time is not due: that rings anyway.
    let run = told(pints(), 4);
    assert_eq!(run.look_due(Span::minutes(100), at(36)), None);
    assert_eq!(run.look_due(Span::minutes(99), at(36)), Some(at(134)));
    assert_eq!(Run::new(pints()).since_heat(at(5)), None);
    // A drop is kept with its cause and what the hold had lasted.
    let mut run = told(pints(), 4);
    run.take_by(OURS, Step::Dropped(DropCause::Leak), at(75)).unwrap();
    let restart = run.restarts().first().copied().unwrap();
    assert_eq!((restart.at, restart.cause), (at(75), DropCause::Leak));
    assert_eq!(restart.held, Span::minutes(40));
}
