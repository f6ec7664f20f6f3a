//! The page's state: the record in memory, and the one way to add to it.
//!
//! Invariant: an event is in the archive signal only after its row is durable,
//! or after the person has been told that nothing can be saved.

mod front;
pub mod intake;
pub mod kept;
pub mod rescue;
mod swap;

use super::device::{clock, db, random, tabs};
use super::prefs::{ClockCopy, Prefs, clocks, save_clocks};
use crate::app::draw::{Var, signal};
use hearthjar::batch::{
    Archive, Body, Entries, Event, Id, Load, Meanwhile, Refused, meanwhile, said,
};
use hearthjar::exchange::row_key;
use hearthjar::lot::LotError;
use hearthjar::present::{Route, RunView};
use hearthjar::run::StepError;
use hearthjar::t;
use hearthjar::units::EpochMs;
pub use rescue::Unread;
use std::cell::{Cell, RefCell};
use std::ops::Deref;
use std::sync::Arc;

/// Whether the record reaches storage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Storage {
    /// Still reading it.
    Opening,
    /// Every tap is kept.
    Ready,
    /// Nothing can be saved; says why and what to do.
    Lost(String),
}

/// A sentence for the person, with an undo if there is one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// The sentence.
    pub text: String,
    /// Whether it is bad news.
    pub bad: bool,
    /// The events an undo would take back, each with its batch.
    pub undo: Vec<(Id, Id)>,
}

/// What follows once events are recorded; handed their batches and ids.
type Then = Box<dyn FnOnce(Vec<(Id, Id)>)>;

/// A tap: what it records, when it was made, what follows.
struct Tap {
    entries: Entries,
    at: EpochMs,
    then: Then,
}

thread_local! {
    /// What the tap being written says, and those that wait for their turn.
    static TAPS: RefCell<(String, Vec<Tap>)> = const { RefCell::new((String::new(), Vec::new())) };
    /// The clocks are going to be copied.
    static COPYING: Cell<bool> = const { Cell::new(false) };
}

/// A write of a tap is usually done within a frame or two; from then on it is shown.
const SLOW_MS: f64 = 150.0;
/// How long what a tap did may take to reach the screen before other work is done.
const COPY_MS: f64 = 60.0;

/// Handles on everything the screens share: one set for the life of the page, so that
/// what a screen carries of it is a single pointer.
#[derive(Clone, Copy)]
pub struct Store(&'static Shared);

impl Deref for Store {
    type Target = Shared;

    fn deref(&self) -> &Shared {
        self.0
    }
}

/// The database, once it is open.
struct Open(RefCell<Option<db::Db>>);

impl Open {
    fn get_value(&self) -> Option<db::Db> {
        self.0.borrow().clone()
    }

    fn set_value(&self, db: Option<db::Db>) {
        self.0.replace(db);
    }
}

/// What the screens share.
pub struct Shared {
    /// The record; shared, so that reading it copies nothing.
    archive: Var<Arc<Archive>>,
    /// Wall-clock time, renewed every second.
    pub now: Var<EpochMs>,
    /// The screen shown.
    pub route: Var<Route>,
    /// Whether the record reaches storage.
    pub storage: Var<Storage>,
    /// Everything is in memory, not only what the first screen needs.
    pub whole: Var<bool>,
    /// The first screen lacks something that is still being read.
    pub lacks: Var<bool>,
    /// The latest sentence.
    pub notice: Var<Option<Notice>>,
    /// A write is under way: taps wait.
    pub busy: Var<bool>,
    /// It takes so long that a screen should show it.
    pub slow: Var<bool>,
    /// Choices and habits.
    pub prefs: Var<Prefs>,
    /// A new build waits to be used.
    pub update: Var<bool>,
    /// Rows that could not be read, kept apart.
    pub apart: Var<Vec<Unread>>,
    db: Open,
    /// Asked before each tap is recorded: whether the clock has just moved.
    moved: fn(Store) -> bool,
}

impl Store {
    /// A store that has not read anything yet. `moved` says whether the clock moved
    /// since the last look, so that no tap gets in before its note.
    pub fn new(route: Route, moved: fn(Self) -> bool) -> Self {
        Self(Box::leak(Box::new(Shared {
            archive: signal(Arc::default()),
            now: signal(clock::now()),
            route: signal(route),
            storage: signal(Storage::Opening),
            whole: signal(false),
            lacks: signal(false),
            notice: signal(None),
            busy: signal(false),
            slow: signal(false),
            prefs: signal(Prefs::load()),
            update: signal(false),
            apart: signal(Vec::new()),
            db: Open(RefCell::new(None)),
            moved,
        })))
    }

    /// Looks something up in the record; asked again when the record changes.
    pub fn look<T>(self, read: impl FnOnce(&Archive) -> T) -> T {
        self.archive.with(|archive| read(archive))
    }

    /// Looks something up in the record, once.
    pub fn look_now<T>(self, read: impl FnOnce(&Archive) -> T) -> T {
        self.archive.with_untracked(|archive| read(archive))
    }

    /// The record as it is now.
    pub fn record(self) -> Arc<Archive> {
        self.archive.get_untracked()
    }

    /// Has the screens show this record, which reaches storage some other way or not at all.
    pub fn show(self, archive: Archive) {
        self.archive.set(Arc::new(archive));
    }

    /// Has every screen look the record up again.
    pub fn look_again(self) {
        self.archive.update(|_| {});
    }

    /// Looks up a choice or habit.
    pub fn habit<T>(self, read: impl FnOnce(&Prefs) -> T) -> T {
        self.prefs.with(read)
    }

    /// Follows what another tab, or the other half of the page, tells.
    pub fn hear(self, told: &str) {
        if told.starts_with(QUIET) {
            // For the alarm only.
        } else if told == HABITS {
            if let Some(prefs) = Prefs::stored() {
                self.prefs.set(prefs);
            }
        } else if let Some(texts) = told.strip_prefix(UNSAVED) {
            let events = texts.lines().filter_map(|text| Event::parse(text).ok()).collect();
            // Storage may work here where it failed there.
            crate::app::draw::spawn(async move {
                self.keep_told(events).await;
            });
        } else if let Some(keys) = told.strip_prefix(ROWS) {
            let keys = keys.split(' ').map(str::to_owned).collect();
            crate::app::draw::spawn(self.reread(Some(keys)));
        } else {
            // Which batches is not known.
            front::note_since(None);
            crate::app::draw::spawn(self.reread(None));
        }
    }

    /// Reads the record again after another tab has changed it: the rows it named,
    /// or all.
    ///
    /// Not while nothing can be saved: what only memory holds would be gone.
    async fn reread(self, keys: Option<Vec<String>>) {
        if self.storage.get_untracked() != Storage::Ready {
            return front::again_once_open();
        }
        let Some(db) = self.db.get_value() else { return };
        let Some(keys) = keys else { return self.read_anew(db).await };
        if !self.whole.get_untracked() {
            // A batch may not be in memory yet, and then must not come there in part.
            let batches: Vec<Id> = keys.iter().filter_map(|key| batch_of(key)).collect();
            return self.fetch(&batches).await;
        }
        let Ok(texts) = db.texts(&keys).await else { return };
        self.take(texts.iter().filter_map(|text| Event::parse(text).ok()).collect());
    }

    /// Takes events into memory.
    fn take(self, events: Vec<Event>) {
        front::came(&events);
        self.archive.update(|archive| Arc::make_mut(archive).extend(events));
        self.note_changed();
        self.copy_clocks();
    }

    /// Adds what happened to a batch; the screen changes once it is durable.
    pub fn act(self, batch: Id, body: Body) {
        self.act_all(batch, vec![body], |_| {});
    }

    /// Adds several things at once, then hands over the new events' ids.
    pub fn act_all(self, batch: Id, bodies: Vec<Body>, then: impl FnOnce(Vec<Id>) + 'static) {
        self.act_many(vec![(batch, bodies)], |names| {
            then(names.into_iter().map(|(_, event)| event).collect());
        });
    }

    /// Adds things to several batches, all or none, then hands over the new events'
    /// batches and ids.
    pub fn act_many(self, entries: Entries, then: impl FnOnce(Vec<(Id, Id)>) + 'static) {
        self.act_boxed(entries, Box::new(then));
    }

    #[inline(never)]
    fn act_boxed(self, entries: Entries, then: Then) {
        let tap = Tap { entries, at: clock::now(), then };
        if !self.busy.get_untracked() {
            return self.write(tap);
        }
        let became = TAPS.with_borrow_mut(|(ahead, taps)| {
            let last = taps.last().map(|last| said(&last.entries));
            let became = meanwhile(last.as_ref().unwrap_or(ahead), &tap.entries);
            if became == Meanwhile::Waits {
                taps.push(tap);
            }
            became
        });
        if became == Meanwhile::Again {
            self.warn(t!(
                "Another tap is still being written. If this one is not there: tap again."
            ));
        }
    }

    /// Records a tap, if it fits the record as it stands by now.
    fn write(self, tap: Tap) {
        if (self.moved)(self) {
            self.warn(t!("The phone's clock just moved. Look at the screen, then tap again."));
            return;
        }
        let Tap { entries, at, then } = tap;
        let says = said(&entries);
        let mut events = Vec::new();
        for (batch, bodies) in entries {
            let mut named = Vec::with_capacity(bodies.len());
            for body in bodies {
                named.push((new_id(), body));
            }
            match self.look_now(|archive| archive.draft(batch, at, named)) {
                Ok(drafted) => events.extend(drafted),
                Err(why) => return self.say_refused(why),
            }
        }
        TAPS.with_borrow_mut(|(ahead, _)| *ahead = says);
        self.busy.set(true);
        clock::after(SLOW_MS, move || {
            if self.busy.get_untracked() {
                self.slow.set(true);
            }
        });
        crate::app::draw::spawn(async move {
            let names = events.iter().map(|event| (event.batch(), event.id())).collect();
            if self.keep(events).await {
                then(names);
            }
            self.free();
        });
    }

    /// The write is done: the taps made meanwhile have their turn, one after another.
    pub fn free(self) {
        self.busy.set(false);
        if self.slow.get_untracked() {
            self.slow.set(false);
        }
        while !self.busy.get_untracked()
            && let Some(tap) =
                TAPS.with_borrow_mut(
                    |(_, taps)| {
                        if taps.is_empty() { None } else { Some(taps.remove(0)) }
                    },
                )
        {
            self.write(tap);
        }
    }

    /// Takes events back, each named with its batch.
    pub fn undo(self, names: Vec<(Id, Id)>) {
        let mut entries = Entries::new();
        for (batch, event) in names {
            let body = Body::Undone { event };
            match entries.last_mut() {
                Some((last, bodies)) if *last == batch => bodies.push(body),
                _ => entries.push((batch, vec![body])),
            }
        }
        self.act_many(entries, |_| {});
    }

    /// Writes events and then shows them. With storage lost they live in memory
    /// only, which the page says all the time.
    pub async fn keep(self, events: Vec<Event>) -> bool {
        let rows = rows_of(&events);
        if let Some(db) = self.db.get_value()
            && self.storage.get_untracked() == Storage::Ready
            && let Err(error) = db.put(&rows).await
        {
            self.lose(&error);
        }
        self.take(events);
        let saved = self.storage.get_untracked() == Storage::Ready;
        tabs::tell(&told_of(rows, saved));
        true
    }

    /// Says a sentence.
    pub fn say(self, text: impl Into<String>) {
        self.notice.set(Some(Notice { text: text.into(), bad: false, undo: Vec::new() }));
    }

    /// Says bad news.
    pub fn warn(self, text: impl Into<String>) {
        self.notice.set(Some(Notice { text: text.into(), bad: true, undo: Vec::new() }));
    }

    fn say_refused(self, why: Refused) {
        let text = match why {
            Refused::Step(StepError::TooSoon { left, .. }) => {
                t!("Not yet: {} to go.", hearthjar::present::words(left))
            }
            Refused::JarCount => {
                t!("A load holds 1 to 60 jars, counted before the heat is on.").into()
            }
            Refused::Held => {
                t!("This jar is held for a doubt. It can be thrown out, or the doubt lifted first.")
                    .to_owned()
            }
            Refused::NotProcessed => {
                t!("Seals are checked after the full time, when the jars are out.").into()
            }
            Refused::Lot(LotError::Time) => {
                t!("That time lies before the lot's last step, or ahead of this phone's clock.")
                    .into()
            }
            _ => t!("That does not fit where this load stands now.").to_owned(),
        };
        self.warn(text);
    }

    /// Changes the preferences and saves them.
    pub fn prefer(self, change: impl FnOnce(&mut Prefs)) {
        // The other half or another tab may have saved since: its choices stay.
        let mut prefs = Prefs::stored().unwrap_or_else(|| self.prefs.get_untracked());
        change(&mut prefs);
        prefs.save();
        self.prefs.set(prefs);
        tabs::tell(HABITS);
    }

    /// Goes to a screen.
    pub fn go(self, route: Route) {
        super::device::dom::go(&route.hash());
    }

    /// The loads whose clocks matter now.
    pub fn attended(self) -> Vec<(Id, Arc<Load>)> {
        self.look_now(|archive| {
            let mut attended = Vec::new();
            for (batch, load) in archive.loads_at_work() {
                if load.run.stage().is_attended() {
                    attended.push((batch.id, Arc::new(load.clone())));
                }
            }
            attended
        })
    }

    /// What people call a load: what is in the jars, and its number.
    pub fn name_of(self, batch: Id, number: u16) -> String {
        self.look_now(|archive| {
            let start = archive.batch(batch).and_then(|batch| batch.start.as_ref());
            let content = start.map_or("", |(_, start)| start.content.as_str());
            t!("{}, load {}", content, number)
        })
    }

    /// Renews the copy of the running clocks for the next cold start, once what a tap
    /// did is on the screen.
    fn copy_clocks(self) {
        if !COPYING.replace(true) {
            clock::after(COPY_MS, move || {
                COPYING.set(false);
                self.copy_clocks_now();
            });
        }
    }

    fn copy_clocks_now(self) {
        let now = clock::now();
        let mut copies: Vec<ClockCopy> = self
            .attended()
            .into_iter()
            .filter_map(|(batch, load)| {
                let since = load.run.stage().since()?;
                let title = RunView::of(&load, now, "", &[]).title;
                let content = self.look_now(|archive| {
                    let start = &archive.batch(batch)?.start;
                    start.as_ref().map(|(_, start)| start.content.as_str().to_owned())
                });
                Some(ClockCopy {
                    batch,
                    load: load.id,
                    title,
                    content: content.unwrap_or_default(),
                    since,
                    due: load.run.due(),
                })
            })
            .collect();
        if !self.whole.get_untracked() {
            copies.extend(self.clocks_elsewhere());
        }
        save_clocks(&copies);
    }

    /// The copies of clocks whose batches are not in memory.
    fn clocks_elsewhere(self) -> Vec<ClockCopy> {
        let mut copies = clocks();
        copies.retain(|copy| self.look_now(|archive| archive.batch(copy.batch).is_none()));
        copies
    }

    /// Whether any canner is hot, so that nothing may interrupt the page.
    pub fn is_running(self) -> bool {
        self.look(|archive| archive.loads_at_work().any(|(_, load)| load.run.stage().is_attended()))
    }
}

/// Told when anything may have changed, rows gone too.
const CHANGED: &str = "changed";
/// Told with the stages whose alarm a person has quieted.
pub const QUIET: &str = "quiet ";
/// Told when choices and habits have changed.
const HABITS: &str = "habits";
/// Told with the texts of events that only memory holds.
const UNSAVED: &str = "unsaved ";
/// Told with the keys of rows that were added.
const ROWS: &str = "rows ";
/// More rows than this are told of as a change of everything.
const MOST_NAMED: usize = 200;

fn told_of(rows: Vec<(String, String)>, saved: bool) -> String {
    if !saved {
        let texts: Vec<String> = rows.into_iter().map(|(_, text)| text).collect();
        return format!("{UNSAVED}{}", texts.join("\n"));
    }
    if rows.len() > MOST_NAMED {
        return CHANGED.to_owned();
    }
    let keys: Vec<String> = rows.into_iter().map(|(key, _)| key).collect();
    format!("{ROWS}{}", keys.join(" "))
}

/// A fresh random name.
pub fn new_id() -> Id {
    Id::from_bytes(random::random_bytes())
}

/// The batch a row belongs to.
fn batch_of(key: &str) -> Option<Id> {
    key.split_once('/')?.0.parse().ok()
}

fn key_of(event: &Event) -> String {
    row_key(event.batch(), event.id())
}

/// The rows of events.
fn rows_of<'a>(events: impl IntoIterator<Item = &'a Event>) -> Vec<(String, String)> {
    events.into_iter().map(|event| (key_of(event), event.text().to_owned())).collect()
}
