//! Raw lots: the clocks before the canner against a minute-by-minute model, and the
//! published limits. Sources: USDA Complete Guide to Home Canning, 2015, Guide 5,
//! pp. 5-10 and 5-11 (gutting within 2 h) and Guide 1, p. 1-11 (canning within 2
//! days); FDA and USDA consumer advice, 2016 and 2017 (2 h unrefrigerated, 1 h above
//! 90 F); WSU Extension, Smoking/Curing (2 h of smoke); PNW 450 (1 day refrigerated).
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{any_events, id, plan, start};
use hearthjar::batch::{Archive, Body, Event, Id, Refused, Text};
use hearthjar::brine::{Salt, Water};
use hearthjar::exchange::{preview, read, write};
use hearthjar::lot::{
    Kept, Limit, LotEnd, LotError, LotMove, LotSaid, LotStart, LotStep, RawLot, Standing,
    step_words,
};
use hearthjar::present::{cold_line, limit_lines, lot_bars, lot_cards, lot_fits, next_steps};
use hearthjar::process::{Group, Pack};
use hearthjar::run::Step;
use hearthjar::units::{EpochMs, Span};
use proptest::prelude::*;

const DAWN: EpochMs = EpochMs(1_764_000_000_000);

fn minute(minute: i64) -> EpochMs {
    DAWN.plus(Span::minutes(minute))
}

fn go(step: LotStep, kept: Kept, at: i64) -> LotMove {
    LotMove { step, kept, since: minute(at) }
}

fn begun(food: &str, first: LotMove) -> LotSaid {
    let name = Text::new("Whitefish of Tuesday").unwrap();
    LotSaid::Started(LotStart { name, food: food.to_owned(), grams: 4_000, first, demo: false })
}

/// A lot that took steps at minutes of the day.
fn lot(food: &str, moves: &[LotMove]) -> RawLot {
    let mut lot = None;
    RawLot::take(&mut lot, &begun(food, moves[0]), moves[0].since).unwrap();
    for one in &moves[1..] {
        RawLot::take(&mut lot, &LotSaid::Moved(*one), one.since).unwrap();
    }
    lot.unwrap()
}

fn standing(lot: &RawLot, limit: Limit, at: i64) -> Option<Standing> {
    lot.checks(minute(at)).iter().find(|check| check.limit == limit).map(|check| check.standing)
}

use Kept::{Cold, Hot, Room};
use LotStep::{Brining, Caught, Cleaned, Draining, Frozen, Held, Packing, Smoking, Thawing};

#[test]
fn each_published_limit_to_the_minute() {
    let caught = lot("fish", &[go(Caught, Cold, 0)]);
    assert_eq!(standing(&caught, Limit::Gutting, 60), Some(Standing::Inside));
    assert_eq!(standing(&caught, Limit::Gutting, 90), Some(Standing::Near));
    assert_eq!(standing(&caught, Limit::Gutting, 120), Some(Standing::Near));
    assert_eq!(standing(&caught, Limit::Gutting, 121), Some(Standing::Over));
    // Gutted in time: that clock stands still. Gutted late: over for good.
    let gutted = lot("fish", &[go(Caught, Cold, 0), go(Cleaned, Cold, 110)]);
    assert_eq!(standing(&gutted, Limit::Gutting, 900), Some(Standing::Near));
    let late = lot("fish", &[go(Caught, Cold, 0), go(Cleaned, Cold, 150)]);
    assert_eq!(standing(&late, Limit::Gutting, 900), Some(Standing::Over));
    // Meat is not gutted by the fish rule, and has no two days.
    let meat = lot("meat-pieces", &[go(Caught, Room, 0)]);
    assert_eq!(standing(&meat, Limit::Gutting, 900), None);
    assert_eq!(standing(&meat, Limit::TwoDays, 9_000), None);
    assert_eq!(standing(&meat, Limit::Sitting, 121), Some(Standing::Over));

    let out = lot("fish", &[go(Cleaned, Cold, 0), go(Draining, Room, 100)]);
    assert_eq!(standing(&lot("fish", &[go(Cleaned, Cold, 0)]), Limit::Sitting, 999), None);
    assert_eq!(standing(&out, Limit::Sitting, 190), Some(Standing::Near));
    assert_eq!(standing(&out, Limit::Sitting, 189), Some(Standing::Inside));
    assert_eq!(standing(&out, Limit::Sitting, 220), Some(Standing::Near));
    assert_eq!(standing(&out, Limit::Sitting, 221), Some(Standing::Over));
    let hot = lot("fish", &[go(Cleaned, Hot, 0), go(Held, Cold, 40), go(Packing, Room, 50)]);
    assert_eq!(standing(&hot, Limit::SittingHot, 70), Some(Standing::Near));
    assert_eq!(standing(&hot, Limit::SittingHot, 71), Some(Standing::Over));

    let smoke = [go(Cleaned, Cold, 0), go(Smoking, Room, 60), go(Held, Cold, 180)];
    assert_eq!(standing(&lot("fish", &smoke[..2]), Limit::Smoke, 180), Some(Standing::Near));
    assert_eq!(standing(&lot("fish", &smoke[..2]), Limit::Smoke, 181), Some(Standing::Over));
    assert_eq!(standing(&lot("fish", &smoke[..2]), Limit::SmokedHold, 181), None);
    let held = lot("fish", &smoke);
    assert_eq!(standing(&held, Limit::SmokedHold, 180 + 24 * 60), Some(Standing::Near));
    assert_eq!(standing(&held, Limit::SmokedHold, 181 + 24 * 60), Some(Standing::Over));
    assert_eq!(standing(&held, Limit::TwoDays, 48 * 60), Some(Standing::Near));
    assert_eq!(standing(&held, Limit::TwoDays, 48 * 60 + 1), Some(Standing::Over));
    // The freezer stops both of those, but gives nothing back.
    let frozen = lot(
        "fish",
        &[smoke[0], smoke[1], smoke[2], go(Frozen, Cold, 200), go(Thawing, Cold, 90_000)],
    );
    assert_eq!(standing(&frozen, Limit::SmokedHold, 89_000), Some(Standing::Inside));
    assert_eq!(standing(&frozen, Limit::SmokedHold, 90_000 + 24 * 60 - 20), Some(Standing::Near));
    assert_eq!(standing(&frozen, Limit::SmokedHold, 90_001 + 24 * 60 - 20), Some(Standing::Over));
    assert_eq!(standing(&frozen, Limit::TwoDays, 90_000), Some(Standing::Inside));
}

#[test]
fn fish_begun_as_smoked_has_its_one_day_too() {
    // PNW 450: at once, or after 1 day at most in the refrigerator.
    let day = 24 * 60;
    let held = lot("smoked-fish", &[go(Held, Cold, 0)]);
    assert_eq!(standing(&held, Limit::SmokedHold, day), Some(Standing::Near));
    assert_eq!(standing(&held, Limit::SmokedHold, day + 1), Some(Standing::Over));
    assert!(held.passed(minute(day + 1)).iter().any(|one| one.limit == Limit::SmokedHold));
    let thawed =
        lot("smoked-fish", &[go(Held, Cold, 0), go(Frozen, Cold, 60), go(Thawing, Cold, 9_000)]);
    assert_eq!(standing(&thawed, Limit::SmokedHold, 9_000), Some(Standing::Inside));
    assert_eq!(standing(&thawed, Limit::SmokedHold, 9_000 + day - 60), Some(Standing::Near));
    assert_eq!(standing(&thawed, Limit::SmokedHold, 9_001 + day - 60), Some(Standing::Over));
    // Smoked here, in time: from the smoke on. Too late: over for good.
    let here = lot("smoked-fish", &[go(Held, Cold, 0), go(Smoking, Room, 60), go(Held, Cold, 120)]);
    assert_eq!(standing(&here, Limit::SmokedHold, 120 + day), Some(Standing::Near));
    assert_eq!(standing(&here, Limit::SmokedHold, 121 + day), Some(Standing::Over));
    let late = lot("smoked-fish", &[go(Held, Cold, 0), go(Smoking, Room, day + 1)]);
    assert_eq!(standing(&late, Limit::SmokedHold, day + 30), Some(Standing::Over));
    let plain = lot("fish", &[go(Held, Cold, 0)]);
    assert_eq!(standing(&plain, Limit::SmokedHold, day + 1), None);
    // Not yet gutted when it was begun, it cannot have been smoked; once it is, it counts.
    let caught = lot("smoked-fish", &[go(Caught, Cold, 0), go(Cleaned, Cold, 60)]);
    assert_eq!(standing(&caught, Limit::SmokedHold, 90), None);
    let smoked = lot(
        "smoked-fish",
        &[go(Caught, Cold, 0), go(Cleaned, Cold, 60), go(Smoking, Room, 90), go(Held, Cold, 120)],
    );
    assert_eq!(standing(&smoked, Limit::SmokedHold, 121 + day), Some(Standing::Over));
}

#[test]
fn chilling_gives_no_time_back_and_smoke_is_said_apart() {
    let lot = lot(
        "fish",
        &[
            go(Caught, Room, 0),
            go(Cleaned, Cold, 50),
            go(Brining, Cold, 100),
            go(Draining, Room, 160),
            go(Smoking, Room, 190),
            go(Held, Cold, 250),
            go(Packing, Room, 300),
        ],
    );
    let out = lot.out_of_cold(minute(315));
    assert_eq!((out.sitting, out.smoke, out.hot), (Span::minutes(95), Span::minutes(60), false));
    assert!(lot.passed(minute(315)).is_empty());
    assert!(lot.together(minute(315)).is_some());
    assert_eq!(lot.together(minute(220)), None);
    // 50 + 30 min are used: 40 are left from minute 300.
    let tight = lot.tightest(minute(315)).unwrap();
    assert_eq!((tight.limit, tight.due), (Limit::Sitting, Some(minute(340))));
    assert_eq!(lot.passed(minute(341))[0].limit, Limit::Sitting);
}

#[test]
fn smoke_decides_what_it_is_canned_as() {
    let smoked = |food: &str| {
        let moves = [go(Cleaned, Cold, 0), go(Smoking, Room, 10)];
        let lot = lot(food, &moves);
        let (food, pack) = lot.canned_as();
        (food.to_owned(), pack)
    };
    // Guide 5, p. 5-13: fish only; other smoked seafood has no tested process.
    assert_eq!(smoked("fish"), ("smoked-fish".to_owned(), Some(Pack::Smoked)));
    assert_eq!(smoked("lean-fish"), ("smoked-fish".to_owned(), Some(Pack::Smoked)));
    assert_eq!(smoked("clams"), ("shellfish-smoked".to_owned(), Some(Pack::Smoked)));
    assert_eq!(smoked("meat-pieces"), ("meat-pieces".to_owned(), Some(Pack::Smoked)));
    assert_eq!(lot("fish", &[go(Cleaned, Cold, 0)]).canned_as(), ("fish", None));
    assert_eq!(
        lot("smoked-fish", &[go(Thawing, Cold, 0)]).canned_as(),
        ("smoked-fish", Some(Pack::Smoked))
    );
}

#[test]
fn salt_and_smoke_are_refused_as_preservation_at_their_step() {
    let said = |step| {
        let words = step_words(step, Some(Group::Fish));
        assert!(!words.is_empty(), "{step:?}");
        assert!(words.iter().all(|caution| caution.publication().len() > 10));
        words.iter().map(|caution| caution.text()).collect::<Vec<_>>().join(" ")
    };
    assert!(said(Brining).contains("Salt keeps nothing here"));
    assert!(said(Smoking).contains("Smoke keeps nothing") && said(Smoking).contains("never taste"));
    assert!(said(Held).contains("Neither salt nor smoke"));
    for step in LotStep::ALL {
        said(*step);
    }
    let other = step_words(Smoking, Some(Group::Shellfish));
    assert!(other[0].text().contains("cannot be canned"));
}

#[test]
fn what_does_not_fit_is_refused() {
    let mut lot = None;
    let first = go(Cleaned, Cold, 100);
    let mut take = |said: &LotSaid, at: i64| RawLot::take(&mut lot, said, minute(at));
    assert_eq!(take(&LotSaid::Moved(first), 100), Err(LotError::None));
    assert_eq!(take(&begun("fish", first), 99), Err(LotError::Time));
    take(&begun("fish", first), 130).unwrap();
    assert_eq!(take(&begun("fish", first), 131), Err(LotError::Twice));
    assert_eq!(take(&LotSaid::Moved(go(Brining, Cold, 99)), 140), Err(LotError::Time));
    assert_eq!(take(&LotSaid::Moved(go(Brining, Cold, 141)), 140), Err(LotError::Time));
    assert_eq!(take(&LotSaid::Moved(go(Caught, Cold, 139)), 140), Err(LotError::Backwards));
    take(&LotSaid::Moved(go(Brining, Cold, 135)), 140).unwrap();
    let brined = LotSaid::Brined {
        salt: Salt::milligrams(187_800).unwrap(),
        water: Water::millilitres(1_000).unwrap(),
    };
    take(&brined, 141).unwrap();
    take(&LotSaid::Ended(LotEnd::Used), 150).unwrap();
    assert_eq!(take(&LotSaid::Moved(go(Held, Cold, 160)), 160), Err(LotError::Ended));
    let lot = lot.unwrap();
    // 187.8 g a litre is 60 degrees ("Preparing a Saltbrine").
    assert!((595..=605).contains(&lot.brine().unwrap().degrees().in_tenths()));
    assert_eq!(lot.ended(), Some((minute(150), LotEnd::Used)));
    // Its clocks stop with it.
    assert_eq!(lot.checks(minute(150)), lot.checks(minute(99_999)));
}

/// Records bodies one after the other, a minute apart, as the app would.
fn record(archive: &mut Archive, at: i64, name: u8, body: Body) -> Result<(), Refused> {
    let drafted = archive.draft(id(100), minute(at), [(id(name), body)])?;
    // Through its text, as storage and files keep it.
    archive.extend(drafted.iter().map(|event| Event::parse(event.text()).unwrap()));
    Ok(())
}

#[test]
fn a_lot_becomes_the_batch_that_is_canned_from_it() {
    let mut archive = Archive::new();
    let mut say = |at, name, body| record(&mut archive, at, name, body);
    say(0, 1, Body::Lot(begun("fish", go(Caught, Room, 0)))).unwrap();
    say(30, 2, Body::Lot(LotSaid::Moved(go(Cleaned, Cold, 30)))).unwrap();
    let early = Body::Lot(LotSaid::Moved(go(Brining, Cold, 20)));
    assert_eq!(say(40, 9, early), Err(Refused::Lot(LotError::Time)));
    say(60, 3, Body::Lot(LotSaid::Moved(go(Packing, Room, 60)))).unwrap();
    say(70, 4, Body::BatchStarted(start())).unwrap();
    say(71, 5, Body::LoadPlanned(plan(3))).unwrap();
    let load = id(5);
    say(80, 6, Body::Ran { load, step: Step::HeatOn }).unwrap();
    let batch = archive.batch(id(100)).unwrap();
    assert!(batch.waiting_lot().is_none(), "the heat is on");
    let until = batch.load(load).unwrap().run.heat_on().unwrap();
    let lot = batch.lot.as_ref().unwrap();
    assert_eq!(lot.out_of_cold(until).sitting, Span::minutes(50));
    // The heat was not on after all: the clock runs on.
    record(&mut archive, 90, 7, Body::Undone { event: id(6) }).unwrap();
    let batch = archive.batch(id(100)).unwrap();
    assert_eq!(batch.waiting_lot().unwrap().out_of_cold(minute(90)).sitting, Span::minutes(60));
    // Taking back the packing leaves it on ice.
    record(&mut archive, 91, 8, Body::Undone { event: id(3) }).unwrap();
    let lot = archive.batch(id(100)).unwrap().lot.clone().unwrap();
    assert_eq!(lot.now().step, Cleaned);
    assert_eq!(lot.out_of_cold(minute(95)).sitting, Span::minutes(30));
}

#[test]
fn a_lot_past_its_limit_bars_the_heat_and_another_load() {
    let mut archive = Archive::new();
    let out = begun("fish", go(Cleaned, Cold, 0));
    record(&mut archive, 0, 1, Body::Lot(out)).unwrap();
    record(&mut archive, 60, 2, Body::Lot(LotSaid::Moved(go(Packing, Room, 60)))).unwrap();
    record(&mut archive, 61, 3, Body::BatchStarted(start())).unwrap();
    record(&mut archive, 62, 4, Body::LoadPlanned(plan(7))).unwrap();
    let bars = |archive: &Archive, at| lot_bars(archive.batch(id(100)).unwrap(), minute(at));
    // No more than 2 hours out of refrigerator and ice: FDA and USDA consumer advice.
    assert_eq!(bars(&archive, 180), None);
    assert_eq!(bars(&archive, 181), Some(Limit::Sitting.over()));
    // One load in time; what is left of the lot is barred later all the same.
    let load = id(4);
    record(&mut archive, 170, 5, Body::Ran { load, step: Step::HeatOn }).unwrap();
    assert_eq!(bars(&archive, 400), Some(Limit::Sitting.over()));
    // Ended, there is nothing left of it to bar.
    record(&mut archive, 175, 6, Body::Lot(LotSaid::Ended(LotEnd::ALL[0]))).unwrap();
    assert_eq!(bars(&archive, 400), None);
}

#[test]
fn the_day_shows_each_waiting_lot_the_most_pressing_first() {
    let mut archive = Archive::new();
    let mut say = |log: u8, at, name, said| {
        let body = Body::Lot(said);
        archive.extend(archive.draft(id(log), minute(at), [(id(name), body)]).unwrap());
    };
    say(100, 0, 1, begun("fish", go(Frozen, Cold, 0)));
    say(101, 0, 2, begun("fish", go(Cleaned, Cold, 0)));
    say(102, 0, 3, begun("smoked-fish", go(Held, Room, 0)));
    say(103, 0, 4, begun("fish", go(Cleaned, Cold, 0)));
    say(103, 1, 5, LotSaid::Ended(LotEnd::Used));
    let cards = |at| {
        let cards = lot_cards(&archive, minute(at));
        cards.into_iter().map(|card| (card.batch, card.say, card.due)).collect::<Vec<_>>()
    };
    assert_eq!(
        cards(30),
        [
            (id(102), "left out of the cold", Some(minute(120))),
            (id(101), "left to can or freeze it", Some(minute(48 * 60))),
            (id(100), "", None),
        ]
    );
    let late = cards(121);
    assert_eq!((late[0].0, late[0].1), (id(102), "too long out of the cold: do not can it"));
}

#[test]
fn a_lot_is_canned_only_as_what_it_is() {
    let plain = lot("fish", &[go(Cleaned, Cold, 0)]);
    let smoked = lot("fish", &[go(Cleaned, Cold, 0), go(Smoking, Room, 9), go(Held, Cold, 60)]);
    assert_eq!(lot_fits(&plain, "fish", Pack::Raw), Ok(()));
    assert_eq!(lot_fits(&plain, "tuna", Pack::Precooked), Ok(()));
    assert!(lot_fits(&plain, "smoked-fish", Pack::Smoked).unwrap_err().contains("No smoke"));
    assert!(lot_fits(&plain, "meat-pieces", Pack::Raw).unwrap_err().contains("another kind"));
    // PNW 450: the plain-fish time is never used for smoked fish.
    assert!(lot_fits(&smoked, "fish", Pack::Raw).unwrap_err().contains("been in smoke"));
    assert_eq!(lot_fits(&smoked, "smoked-fish", Pack::Smoked), Ok(()));
}

#[test]
fn every_limit_is_said_with_what_is_left_and_its_publication() {
    let late = lot("fish", &[go(Caught, Cold, 0), go(Cleaned, Cold, 150), go(Packing, Room, 200)]);
    let lines = limit_lines(&late, minute(260));
    let said: Vec<_> = lines.iter().map(|line| line.left.as_str()).collect();
    assert_eq!(said, ["over by 30 min", "1 h left, running", "1 day 19 h left, running"]);
    assert!(lines[0].over.is_some() && lines[1].over.is_none());
    assert!(lines.iter().all(|line| line.publication.len() > 10));
    assert_eq!(
        cold_line(&lot("fish", &[go(Cleaned, Cold, 0)]), minute(9)),
        "Not out of the cold so far."
    );
    assert_eq!(cold_line(&late, minute(260)), "Out of the cold 1 h so far.");
    // No step leads to a shelf, and no step is a dead end.
    for step in LotStep::ALL {
        let first = go(*step, Cold, 0);
        assert!(!next_steps(&lot("fish", &[first])).is_empty(), "{step:?}");
    }
}

#[test]
fn a_lot_that_is_no_batch_yet_is_handed_over_by_its_name() {
    let mut ours = Archive::new();
    record(&mut ours, 5, 1, Body::Lot(begun("fish", go(Caught, Cold, 0)))).unwrap();
    let file = write(ours.all_events());
    let events = read(&file).unwrap();
    let seen = preview(&Archive::new(), events.clone());
    assert_eq!(seen.batches.len(), 1);
    assert_eq!(seen.batches[0].content.as_ref().map(Text::as_str), Some("Whitefish of Tuesday"));
    assert_eq!(seen.batches[0].began, Some(minute(0)));
    let theirs = Archive::from_events(events);
    assert_eq!(theirs.batch(id(100)).unwrap().lot, ours.batch(id(100)).unwrap().lot);
}

fn any_steps() -> impl Strategy<Value = Vec<(LotMove, i64)>> {
    let one = (0..LotStep::ALL.len(), 0..Kept::ALL.len(), 0_i64..300);
    proptest::collection::vec(one, 1..12).prop_map(|steps| {
        let mut at = 0;
        let mut moves = Vec::new();
        for (index, (step, kept, length)) in steps.into_iter().enumerate() {
            let step = LotStep::ALL[step];
            let step = if step == Caught && index > 0 { Cleaned } else { step };
            moves.push((go(step, Kept::ALL[kept], at), length));
            at += length;
        }
        moves
    })
}

proptest! {
    #[test]
    fn the_clocks_are_those_of_a_minute_by_minute_count(steps in any_steps(), end in 0_i64..2_000) {
        let moves: Vec<LotMove> = steps.iter().map(|(one, _)| *one).collect();
        let lot = lot("fish", &moves);
        let (mut sitting, mut smoke, mut unfrozen, mut caught) = (0, 0, 0, 0);
        // Heat that was noted for no time at all counts too: the stricter reading.
        let hot = moves.iter().any(|one| {
            one.kept == Hot && one.step != Smoking && one.step != Frozen
        });
        let last = moves.last().unwrap().since.since(DAWN).0 / 60_000;
        let end = last + end;
        for now in 0..end {
            let at = moves.iter().rev().find(|one| one.since <= minute(now)).unwrap();
            smoke += i64::from(at.step == Smoking);
            let sits = at.kept != Cold && at.step != Smoking && at.step != Frozen;
            sitting += i64::from(sits);
            unfrozen += i64::from(at.step != Frozen);
            caught += i64::from(at.step == Caught);
        }
        let out = lot.out_of_cold(minute(end));
        prop_assert_eq!((out.sitting, out.smoke), (Span::minutes(sitting), Span::minutes(smoke)));
        prop_assert_eq!(out.hot, hot);
        let over = |limit: Limit| standing(&lot, limit, end) == Some(Standing::Over);
        prop_assert_eq!(over(Limit::TwoDays), unfrozen > 2 * 24 * 60);
        prop_assert_eq!(over(Limit::Gutting), caught > 120);
        prop_assert_eq!(over(Limit::Smoke), smoke > 120);
        prop_assert_eq!(over(Limit::Sitting) || over(Limit::SittingHot),
            sitting > if hot { 60 } else { 120 });
        // Nothing that was over is ever inside again.
        for check in lot.passed(minute(end)) {
            let later = lot.passed(minute(end + 500));
            prop_assert!(later.iter().any(|one| one.limit == check.limit
                || (check.limit == Limit::Sitting && one.limit == Limit::SittingHot)));
        }
        // A limit's end is where it turns over, not before.
        for check in lot.checks(minute(end)) {
            if let (Some(due), Standing::Inside | Standing::Near) = (check.due, check.standing) {
                let then = |at: EpochMs| lot.checks(at).into_iter()
                    .find(|one| one.limit == check.limit).unwrap().standing;
                prop_assert_ne!(then(due), Standing::Over);
                prop_assert_eq!(then(due.plus(Span(1))), Standing::Over);
            }
        }
    }

    #[test]
    fn whatever_is_recorded_the_time_out_of_the_cold_never_shrinks(
        events in any_events(), at in 0_i64..30_000, more in 0_i64..30_000,
    ) {
        let archive = Archive::from_events(events);
        for batch in archive.batches() {
            let Some(lot) = &batch.lot else { continue };
            let (now, later) = (minute(at), minute(at + more));
            let (before, after) = (lot.out_of_cold(now), lot.out_of_cold(later));
            prop_assert!(before.sitting <= after.sitting && before.smoke <= after.smoke);
            prop_assert!(lot.moves().windows(2).all(|pair| pair[0].since <= pair[1].since));
            prop_assert!(lot.moves().iter().skip(1).all(|one| one.step != Caught
                || lot.start().first.step == Caught));
            let _ = (lot.tightest(now), lot.together(now), lot.canned_as());
        }
    }

    #[test]
    fn a_lot_handed_over_is_the_same_lot(events in any_events(), split in 0_usize..40) {
        let names = |archive: &Archive| -> Vec<(Id, Option<RawLot>)> {
            archive.batches().map(|batch| (batch.id, batch.lot.clone())).collect()
        };
        let split = split.min(events.len());
        let whole = Archive::from_events(events.clone());
        let mut phone = Archive::from_events(events[split..].iter().cloned());
        phone.extend(events[..split].iter().cloned());
        prop_assert_eq!(names(&whole), names(&phone));
    }
}
