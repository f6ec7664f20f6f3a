//! Taps that come quickly: while another is written, twice on one drawing; and the
//! order of the day's list. Rules of this app, no source outside it: nothing is done
//! twice, and nothing is dropped without a word.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{any_body, id, plan, start};
use hearthjar::batch::{Archive, Body, Event, Id, Meanwhile, Seal, meanwhile, said};
use hearthjar::present::agenda;
use hearthjar::run::Step;
use hearthjar::units::EpochMs;
use proptest::prelude::*;

const NOW: EpochMs = EpochMs(1_764_000_000_000);

fn entries(body: Body) -> Vec<(Id, Vec<Body>)> {
    vec![(id(100), vec![body])]
}

#[test]
fn a_tap_at_the_canner_or_a_jar_waits_its_turn() {
    let load = id(2);
    let ahead = entries(Body::JarsCounted { load, jars: 3 });
    for body in [
        Body::Ran { load, step: Step::HeatOn },
        Body::Ran { load, step: Step::HeatOff },
        Body::SealChecked { load, jar: 1, seal: Seal::Sealed },
        Body::JarsCounted { load, jars: 4 },
        Body::Undone { event: id(9) },
    ] {
        assert_eq!(meanwhile(&said(&ahead), &entries(body)), Meanwhile::Waits);
    }
    assert_eq!(meanwhile(&said(&ahead), &ahead), Meanwhile::Same);
    for body in [Body::BatchStarted(start()), Body::LoadPlanned(plan(3))] {
        assert_eq!(meanwhile(&said(&ahead), &entries(body)), Meanwhile::Again);
    }
}

proptest! {
    #[test]
    fn every_tap_waits_or_is_told_of_unless_it_is_the_same(one in any_body(), two in any_body()) {
        let (ahead, tap) = (entries(one.clone()), entries(two.clone()));
        let became = meanwhile(&said(&ahead), &tap);
        prop_assert_eq!(became == Meanwhile::Same, one == two);
        // What names itself by the event that writes it is never written twice.
        if matches!(two, Body::LoadPlanned(_) | Body::BatchStarted(_)) {
            prop_assert_ne!(became, Meanwhile::Waits);
        }
    }

    #[test]
    fn an_undo_tapped_twice_takes_one_tap_back(times in 1_usize..4, later in any::<bool>()) {
        let mut archive = Archive::new();
        let mut name = 0;
        let mut act = |archive: &mut Archive, body| {
            name += 1;
            let drafted = archive.draft(id(100), NOW, [(id(name), body)]).unwrap();
            archive.extend(drafted);
            id(name)
        };
        act(&mut archive, Body::BatchStarted(start()));
        let load = act(&mut archive, Body::LoadPlanned(plan(3)));
        act(&mut archive, Body::JarsCounted { load, jars: 2 });
        let shown = act(&mut archive, Body::Ran { load, step: Step::HeatOn });
        let before = archive.all_events().count();
        for _ in 0..times {
            act(&mut archive, Body::Undone { event: shown });
        }
        let found = archive.batch(id(100)).unwrap().load(load).unwrap();
        prop_assert_eq!((found.run.heat_on(), found.jars.len()), (None, 2));
        prop_assert_eq!(archive.all_events().count(), before + 1);
        // Taken back once, it can be done and taken back again.
        if later {
            let again = act(&mut archive, Body::Ran { load, step: Step::HeatOn });
            act(&mut archive, Body::Undone { event: again });
            prop_assert_eq!(archive.all_events().count(), before + 3);
        }
    }

    #[test]
    fn loads_planned_at_one_moment_stand_by_number(names in proptest::sample::subsequence((2_u8..90).collect::<Vec<_>>(), 3..9), turn in 0_usize..9) {
        let mut names = names;
        let by = turn % names.len();
        names.rotate_left(by);
        let mut events = vec![Event::new(id(1), id(100), 1, NOW, Body::BatchStarted(start()))];
        for (seq, name) in (2..).zip(&names) {
            events.push(Event::new(id(*name), id(100), seq, NOW, Body::LoadPlanned(plan(7))));
        }
        let archive = Archive::from_events(events);
        let order: Vec<Id> = agenda(&archive, NOW).into_iter().map(|due| due.load).collect();
        prop_assert_eq!(order, names.into_iter().map(id).collect::<Vec<_>>());
    }
}
