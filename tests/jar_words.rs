//! What two phones say of one jar: which words contradict each other, what a doubt
//! reaches, and that nothing else is taken for a disagreement.
//!
//! Events are put side by side as two phones would write them that did not know of each
//! other: at the same place in the batch (concurrent in the sense of Lamport, Time,
//! Clocks, and the Ordering of Events, 1978, from memory). What an unsealed jar may
//! become: USDA Complete Guide to Home Canning, Guide 1, p. 1-26 (2015).
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::finished::processed;
use common::{id, plan, start};
use hearthjar::batch::{
    Archive, Batch, Body, Cause, Doubted, Event, Id, Jar, JarNumbers, JarState, Load, Refused,
    Seal, Settled, ShelfEvent, Taken, Text, Verdict,
};
use hearthjar::units::EpochMs;

const BATCH: u8 = 100;
const AT: EpochMs = EpochMs(1_764_900_000_000);

fn text(words: &str) -> Text {
    Text::new(words).unwrap()
}

/// Four jars at rest, checked as said, and words about them from any phone.
struct Shelf {
    archive: Archive,
    load: Id,
    base: u32,
}

impl Shelf {
    fn new(seals: &[Seal]) -> Self {
        let (archive, load) = processed(id(BATCH), start(), 4, seals);
        let base = archive.events(id(BATCH)).last().unwrap().seq();
        Self { archive, load, base }
    }

    fn sealed() -> Self {
        Self::new(&[Seal::Sealed; 4])
    }

    /// A word at so many places after all that both phones knew.
    fn say(&mut self, name: u8, after: u32, body: Body) -> Id {
        let event = Event::new(id(name), id(BATCH), self.base + after, AT, body);
        self.archive.insert(event);
        id(name)
    }

    fn batch(&self) -> &Batch {
        self.archive.batch(id(BATCH)).unwrap()
    }

    fn load(&self) -> &Load {
        self.batch().load(self.load).unwrap()
    }

    fn state(&self, jar: u16) -> JarState {
        self.load().jar(jar).unwrap().state
    }

    fn check(&self, jar: u16, seal: Seal) -> Body {
        Body::SealChecked { load: self.load, jar, seal }
    }

    fn take(&self, jar: u16, how: Taken) -> Body {
        Body::JarTaken { load: self.load, jar, how }
    }

    fn settle(&self, jar: u16, way: Settled) -> Body {
        Body::UnsealedSettled { load: self.load, jar, way }
    }

    fn shift(&self, jars: &[u16], place: &str) -> Body {
        let jars = JarNumbers::new(jars.iter().copied()).unwrap();
        Body::AtShelf(ShelfEvent::JarsMoved { load: self.load, jars, place: text(place) })
    }

    fn doubt(&self, doubt: u8, jars: &[u16], verdict: Verdict) -> Body {
        Body::AtShelf(ShelfEvent::Doubted(Doubted {
            doubt: id(doubt),
            cause: Cause::LidLot,
            say: text("Lids of one box lift"),
            load: self.load,
            jars: JarNumbers::new(jars.iter().copied()).unwrap(),
            verdict,
        }))
    }

    /// Pairs of events that disagree, with the jar.
    fn conflicts(&self) -> Vec<(u16, Id, Id)> {
        let all = self.batch().conflicts.iter();
        all.map(|found| (found.jar, found.events.0, found.events.1)).collect()
    }

    fn refused(&self) -> Vec<(Id, Refused)> {
        self.batch().refused.clone()
    }
}

fn lift(doubt: u8, reason: &str) -> Body {
    Body::AtShelf(ShelfEvent::DoubtLifted { doubt: id(doubt), reason: text(reason) })
}

#[test]
fn words_of_two_phones_conflict_only_if_they_differ_on_one_matter() {
    use Seal::{NotSealed, Sealed};
    let shelf = Shelf::sealed();
    let (held, out) = (Verdict::Held, Verdict::Discarded);
    for (one, other, conflict) in [
        (shelf.check(1, Sealed), shelf.check(1, NotSealed), true),
        (shelf.check(1, NotSealed), shelf.check(1, NotSealed), false),
        (shelf.check(1, NotSealed), shelf.check(2, Sealed), false),
        (shelf.take(1, Taken::Eaten), shelf.take(1, Taken::Given), true),
        (shelf.take(1, Taken::Eaten), shelf.take(1, Taken::Eaten), false),
        (shelf.take(1, Taken::Eaten), shelf.take(2, Taken::Given), false),
        (shelf.shift(&[1], "Cellar"), shelf.shift(&[1], "Loft"), true),
        (shelf.shift(&[1], "Cellar"), shelf.shift(&[1], "Cellar"), false),
        (shelf.shift(&[1], "Cellar"), shelf.shift(&[2], "Loft"), false),
        // A jar moved and eaten, or moved and found loose, is no contradiction.
        (shelf.shift(&[1], "Cellar"), shelf.take(1, Taken::Eaten), false),
        (shelf.shift(&[1], "Cellar"), shelf.check(1, Sealed), false),
        (shelf.doubt(8, &[1], held), shelf.doubt(9, &[1], held), false),
        (shelf.doubt(8, &[1], held), shelf.shift(&[1], "Loft"), false),
        (shelf.doubt(8, &[1], held), shelf.check(1, Sealed), false),
        (shelf.doubt(8, &[1], held), shelf.doubt(9, &[1], out), true),
        (shelf.doubt(8, &[1], held), shelf.doubt(9, &[2], out), false),
    ] {
        let mut shelf = Shelf::sealed();
        let (first, second) = (shelf.say(1, 1, one.clone()), shelf.say(2, 1, other.clone()));
        let found = shelf.conflicts();
        let wanted = if conflict { vec![(1, first, second)] } else { Vec::new() };
        assert_eq!(found, wanted, "{one:?} beside {other:?}");
    }
}

#[test]
fn who_knew_of_the_word_before_may_change_it() {
    let mut shelf = Shelf::sealed();
    let words = [
        shelf.check(1, Seal::NotSealed),
        shelf.check(1, Seal::Sealed),
        shelf.shift(&[1, 2], "Cellar"),
        shelf.shift(&[1], "Loft"),
        shelf.doubt(8, &[1], Verdict::Held),
    ];
    for (number, word) in (1..).zip(words) {
        shelf.say(number, u32::from(number), word);
    }
    assert_eq!((shelf.conflicts(), shelf.refused()), (vec![], vec![]));
    // Two loads are two matters, whatever their jars are called.
    let other = shelf.say(10, 10, Body::LoadPlanned(plan(2)));
    let load = shelf.load;
    shelf.say(11, 11, Body::Shelved { load, place: text("Cellar") });
    shelf.say(12, 11, Body::Shelved { load: other, place: text("Loft") });
    assert_eq!(shelf.conflicts(), []);
    let again = shelf.say(13, 11, Body::Shelved { load, place: text("Barn") });
    let jars: Vec<_> = (1..=4).map(|jar| (jar, id(11), again)).collect();
    assert_eq!(shelf.conflicts(), jars);
}

#[test]
fn a_jar_that_left_one_way_and_then_another_is_a_conflict_told_once() {
    let mut shelf = Shelf::sealed();
    let eaten = shelf.say(1, 1, shelf.take(2, Taken::Eaten));
    shelf.say(2, 2, shelf.take(2, Taken::Eaten));
    assert_eq!(shelf.conflicts(), []);
    let given = shelf.say(3, 3, shelf.take(2, Taken::Given));
    assert_eq!(shelf.state(2), JarState::Taken(AT, Taken::Given));
    assert_eq!(shelf.conflicts(), [(2, id(2), given)]);
    assert_eq!(shelf.refused(), []);
    // What is gone is not checked, and whoever checks it had not known.
    let late = shelf.say(4, 4, shelf.check(2, Seal::NotSealed));
    assert_eq!(shelf.refused(), [(late, Refused::JarState)]);
    assert_eq!(shelf.conflicts(), [(2, id(2), given), (2, given, late)]);
    assert_ne!(eaten, given);
    // One that never sealed cannot be eaten from the shelf.
    let mut shelf = Shelf::new(&[Seal::Sealed, Seal::NotSealed]);
    let found = shelf.archive.events(id(BATCH)).last().unwrap().id();
    let eaten = shelf.say(1, 1, shelf.take(2, Taken::Eaten));
    assert_eq!(shelf.refused(), [(eaten, Refused::JarState)]);
    assert_eq!(shelf.conflicts(), [(2, found, eaten)]);
}

#[test]
fn a_held_jar_is_not_put_to_use_and_may_be_thrown_out() {
    let mut shelf = Shelf::new(&[Seal::Sealed, Seal::Sealed, Seal::NotSealed, Seal::NotSealed]);
    let hold = shelf.say(1, 1, shelf.doubt(8, &[1, 3], Verdict::Held));
    for (name, word) in [
        (2, shelf.take(1, Taken::Eaten)),
        (3, shelf.take(1, Taken::Given)),
        (4, shelf.settle(3, Settled::Frozen)),
        (5, shelf.settle(3, Settled::Refrigerated)),
        (6, shelf.settle(3, Settled::Reprocessed)),
    ] {
        let jar = if name < 4 { 1 } else { 3 };
        let event = shelf.say(name, u32::from(name), word);
        assert_eq!(shelf.refused().last(), Some(&(event, Refused::Held)));
        assert_eq!(shelf.conflicts().last(), Some(&(jar, hold, event)));
    }
    let told = shelf.conflicts().len();
    shelf.say(7, 7, shelf.take(1, Taken::Spoiled));
    shelf.say(9, 9, shelf.settle(3, Settled::Discarded));
    assert_eq!(shelf.state(1), JarState::Taken(AT, Taken::Spoiled));
    assert_eq!(shelf.state(3), JarState::Settled(AT, Settled::Discarded));
    // The others were never held.
    shelf.say(10, 10, shelf.take(2, Taken::Eaten));
    shelf.say(11, 11, shelf.settle(4, Settled::Frozen));
    assert_eq!(shelf.state(2), JarState::Taken(AT, Taken::Eaten));
    assert_eq!(shelf.state(4), JarState::Settled(AT, Settled::Frozen));
    assert_eq!((shelf.conflicts().len(), shelf.refused().len()), (told, 5));
}

#[test]
fn a_jar_is_free_only_when_every_doubt_about_it_is_lifted() {
    let mut shelf = Shelf::sealed();
    shelf.say(1, 1, shelf.doubt(50, &[1, 2], Verdict::Held));
    shelf.say(2, 2, shelf.doubt(51, &[2, 3], Verdict::Held));
    let held = |shelf: &Shelf| shelf.load().jars.iter().map(|jar| jar.held).collect::<Vec<_>>();
    assert_eq!(held(&shelf), [true, true, true, false]);
    shelf.say(3, 3, lift(50, "New lids"));
    assert_eq!(held(&shelf), [false, true, true, false]);
    let lifted = |shelf: &Shelf| -> Vec<_> {
        let all = shelf.batch().holds.iter();
        all.map(|hold| hold.lifted.as_ref().map(|(_, why)| why.clone())).collect()
    };
    assert_eq!(lifted(&shelf), [Some(text("New lids")), None]);
    for (name, doubt) in [(4, 50), (5, 52)] {
        let event = shelf.say(name, u32::from(name), lift(doubt, "Again"));
        assert_eq!(shelf.refused().last(), Some(&(event, Refused::NoDoubt)));
    }
    assert_eq!(lifted(&shelf), [Some(text("New lids")), None]);
    shelf.say(6, 6, lift(51, "Dial was right"));
    assert_eq!(held(&shelf), [false; 4]);
}

#[test]
fn a_doubt_throws_out_what_is_in_the_house_and_nothing_else() {
    use Settled::{Discarded, Frozen, Refrigerated, Reprocessed};
    // Every state a jar can be in, and whether it is still in the house then: of the
    // unsealed, what was refrigerated or frozen (Guide 1, p. 1-26).
    let states = [
        (JarState::Unchecked, true),
        (JarState::Sealed(AT), true),
        (JarState::NotSealed(AT), true),
        (JarState::Broken(AT), false),
        (JarState::Settled(AT, Refrigerated), true),
        (JarState::Settled(AT, Frozen), true),
        (JarState::Settled(AT, Reprocessed), false),
        (JarState::Settled(AT, Discarded), false),
        (JarState::Taken(AT, Taken::Eaten), false),
        (JarState::Taken(AT, Taken::Given), false),
        (JarState::Taken(AT, Taken::Spoiled), false),
        (JarState::Taken(AT, Taken::LostSeal), false),
        (JarState::Taken(AT, Taken::Doubted), false),
    ];
    for (state, here) in states {
        assert_eq!(
            Jar { number: 1, state, found: None, held: false }.in_house(),
            here,
            "{state:?}"
        );
    }
    // Sealed; frozen; broken; never checked.
    let build = || {
        let mut shelf = Shelf::new(&[Seal::Sealed, Seal::NotSealed, Seal::Broken]);
        shelf.say(1, 1, shelf.settle(2, Frozen));
        shelf
    };
    let mut held = build();
    let before: Vec<_> = (1..=4).map(|jar| held.state(jar)).collect();
    held.say(2, 2, held.doubt(8, &[1, 2, 3, 4], Verdict::Held));
    assert_eq!((1..=4).map(|jar| held.state(jar)).collect::<Vec<_>>(), before);
    let mut out = build();
    out.say(2, 2, out.doubt(8, &[1, 2, 3, 4], Verdict::Discarded));
    let gone = JarState::Taken(AT, Taken::Doubted);
    assert_eq!(
        (1..=4).map(|jar| out.state(jar)).collect::<Vec<_>>(),
        [gone, gone, before[2], gone]
    );
    assert_eq!((out.conflicts(), out.refused()), (vec![], vec![]));
    // A number no jar has: none of it is done.
    let mut wrong = build();
    let event = wrong.say(2, 2, wrong.doubt(8, &[1, 5], Verdict::Discarded));
    assert_eq!(wrong.refused(), [(event, Refused::NoJar)]);
    assert_eq!((1..=4).map(|jar| wrong.state(jar)).collect::<Vec<_>>(), before);
}

#[test]
fn a_doubt_that_comes_after_the_meal_is_told_with_the_meal() {
    let mut shelf = Shelf::sealed();
    shelf.say(1, 1, shelf.shift(&[1, 2, 3], "Cellar"));
    shelf.say(2, 2, shelf.take(1, Taken::Given));
    let eaten = shelf.say(3, 3, shelf.take(2, Taken::Eaten));
    shelf.say(4, 4, shelf.take(3, Taken::Spoiled));
    // Another load's words about a jar of that number stand first in no way.
    let doubt = shelf.say(5, 5, shelf.doubt(8, &[2, 3, 4], Verdict::Held));
    assert_eq!(shelf.conflicts(), [(2, eaten, doubt)]);
    assert_eq!(shelf.state(2), JarState::Taken(AT, Taken::Eaten));
    assert_eq!(shelf.refused(), []);
}

#[test]
fn only_sealed_jars_are_moved_and_each_has_its_last_place() {
    let mut shelf = Shelf::new(&[Seal::Sealed, Seal::Sealed, Seal::NotSealed]);
    let load = shelf.load;
    shelf.say(1, 1, Body::Shelved { load, place: text("Cellar") });
    shelf.say(2, 2, shelf.shift(&[1, 3], "Loft"));
    let places = |shelf: &Shelf| -> Vec<String> {
        (1..=3).map(|jar| shelf.load().place_of(jar).unwrap().as_str().to_owned()).collect()
    };
    assert_eq!(places(&shelf), ["Loft", "Cellar", "Cellar"]);
    shelf.say(3, 3, shelf.shift(&[1, 2], "Barn"));
    assert_eq!(places(&shelf), ["Barn", "Barn", "Cellar"]);
    shelf.say(4, 4, shelf.shift(&[2], "Boat"));
    assert_eq!(places(&shelf), ["Barn", "Boat", "Cellar"]);
    assert_eq!(shelf.load().moved.len(), 2);
    let event = shelf.say(5, 5, shelf.shift(&[3, 4], "Barn"));
    assert_eq!(shelf.refused(), [(event, Refused::JarState)]);
    shelf.say(6, 6, Body::Shelved { load, place: text("Larder") });
    assert_eq!(places(&shelf), ["Larder"; 3]);
    shelf.say(7, 7, Body::AtShelf(ShelfEvent::LidsUsed { load, lot: text("L-204") }));
    assert_eq!(shelf.load().lids, text("L-204"));
}
