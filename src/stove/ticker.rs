//! The page's clock: one tick a second, jumps of the wall clock, alarms.
//!
//! Invariant: nothing is counted here. Each tick reads the wall clock and the
//! steady clock; what they say goes into the record or onto the screen.

use crate::app::device::{buzz, clock, sound, tabs, wake};
use crate::app::draw::{Var, follow, signal, spawn};
use crate::app::prefs::{beat, last_beat};
use crate::app::store::{QUIET, Storage, Store};
use hearthjar::batch::{Body, Id, Load};
use hearthjar::run::{Page, StageKind, Step};
use hearthjar::units::{EpochMs, Span};
use std::cell::Cell;
use std::sync::Arc;

/// A jump smaller than this is noise, milliseconds.
const JUMP_MS: i64 = 2_000;
/// How often the page notes that it saw the clock, milliseconds.
const BEAT_MS: i64 = 10_000;
/// How long the leading tab has the first word on a jump, milliseconds.
const FIRST_WORD_MS: f64 = 2_500.0;
/// Two notes of one jump are at most this far apart, milliseconds: a hidden tab
/// may look only once a minute.
const SAME_JUMP_MS: i64 = 120_000;
/// How long after it was opened a page may not know yet whether it leads, milliseconds.
const OPENING_MS: f64 = 5_000.0;
/// A page closed for longer than this cannot vouch for the clock, milliseconds.
const CLOSED_MS: i64 = 60_000;

/// What the page remembers between looks at the clocks.
#[derive(Clone, Copy)]
struct Seen {
    /// Wall clock less steady clock at the last look, milliseconds.
    offset: i64,
    /// When the last beat was noted.
    beat: EpochMs,
    /// The page was hidden at some time since the last look.
    hidden: bool,
    /// A jump was seen at this time of the steady clock and not yet noted.
    waiting: Option<f64>,
}

thread_local! {
    static SEEN: Cell<Seen> =
        const { Cell::new(Seen { offset: 0, beat: EpochMs(0), hidden: false, waiting: None }) };
    /// This tab rings.
    static HEARD: Cell<bool> = const { Cell::new(false) };
    /// How far the wall clock went while the page was closed, until it is noted; the
    /// inner `None` if nobody noted when it was last seen.
    static CLOSED: Cell<Option<Option<Span>>> = const { Cell::new(None) };
}

/// The alarm: which times are over and not yet quieted.
#[derive(Clone, Copy)]
pub struct Alarm {
    /// Stages quieted by a tap: load and the stage's beginning.
    quieted: Var<Vec<(Id, EpochMs)>>,
    /// The loads that ring: a time is over, or only a look at the gauge is due.
    pub ringing: Var<Vec<(Id, bool)>>,
}

impl Alarm {
    /// Quiets what rings now.
    pub fn quiet(self, store: Store) {
        let over = over(store);
        let told: Vec<String> =
            over.iter().map(|(load, at, _)| format!("{load}@{}", at.0)).collect();
        let over = over.into_iter().map(|(load, at, _)| (load, at));
        self.quieted.update(|quieted| quieted.extend(over));
        tabs::tell(&format!("{QUIET}{}", told.join(" ")));
        ring(store, self);
    }

    /// Quiets what was quieted in another tab.
    pub fn hear(self, store: Store, told: &str) {
        let Some(told) = told.strip_prefix(QUIET) else { return };
        let quieted = told.split(' ').filter_map(|one| {
            let (load, at) = one.split_once('@')?;
            Some((load.parse::<Id>().ok()?, EpochMs(at.parse().ok()?)))
        });
        self.quieted.update(|all| all.extend(quieted));
        ring(store, self);
    }
}

/// Starts the clock of the page.
pub fn start(store: Store) -> Alarm {
    let alarm = Alarm { quieted: signal(Vec::new()), ringing: signal(Vec::new()) };
    SEEN.set(Seen { offset: offset(), ..SEEN.get() });
    CLOSED.set(Some(last_beat().map(|last| clock::now().since(last))));
    let tick = move || {
        let now = clock::now();
        if !store.now.try_set(now) {
            return;
        }
        look_back(store);
        let moved = clock_moved(store);
        from_elsewhere(store);
        // A jump that is not yet noted would ring for an end that has not come.
        if !moved && !store.busy.get_untracked() {
            ring(store, alarm);
        }
        store.try_again_in_time();
        store.keep_front_in_time();
    };
    clock::on_second(tick);
    clock::on_shown(move || {
        SEEN.set(Seen { hidden: true, ..SEEN.get() });
        tick();
    });
    clock::on_hidden(move || {
        SEEN.set(Seen { hidden: true, ..SEEN.get() });
        beat(clock::now());
    });
    // What a tap has answered rings no more, at once: the bar that said so must not go
    // a moment later, from over what the next tap aims at.
    follow(move || {
        store.look(|_| ());
        ring_of(store, alarm, false);
    });
    // The lamp stays lit only while a canner is hot.
    follow(move || if store.is_running() { wake::hold() } else { wake::release() });
    alarm
}

fn offset() -> i64 {
    clock::now().0 - clock::steady() as i64
}

/// Compares the two clocks; notes a jump in every load it matters to. Says whether
/// there was one, so that no tap is recorded between a jump and its note.
pub fn clock_moved(store: Store) -> bool {
    let before = SEEN.get();
    let offset = offset();
    let by = offset - before.offset;
    if by.abs() <= JUMP_MS {
        let now = clock::now();
        let due = now.0 - before.beat.0 >= BEAT_MS || now < before.beat;
        if due {
            beat(now);
        }
        let beat = if due { now } else { before.beat };
        SEEN.set(Seen { offset, beat, hidden: clock::is_hidden(), waiting: None });
        return false;
    }
    let waiting = before.waiting.unwrap_or_else(clock::steady);
    SEEN.set(Seen { waiting: Some(waiting), ..before });
    // Another tab leads: it has the first word, and mostly the only one.
    let mine = tabs::leads() || clock::steady() - waiting >= FIRST_WORD_MS;
    let open = store.storage.get_untracked() != Storage::Opening && !store.busy.get_untracked();
    if mine && open {
        let hidden = before.hidden || clock::is_hidden();
        // Noted twice, a step back would count time that never passed: it is the leading
        // tab's alone. Not noted yet, it makes a wait longer, never shorter.
        if by < 0 && !tabs::leads() {
            SEEN.set(Seen { offset, waiting: None, ..before });
            return false;
        }
        jumped(store, Span(by), if hidden { Page::Hidden } else { Page::Shown });
        SEEN.set(Seen { offset, waiting: None, ..before });
    }
    true
}

/// Once the record is read, however late: what happened to the clock while the page
/// was closed. What was last noted may be older than a stage: then all of the stage
/// is in doubt.
pub fn look_back(store: Store) {
    if store.storage.get_untracked() != Storage::Ready || store.busy.get_untracked() {
        return;
    }
    let back = matches!(CLOSED.get(), Some(Some(gap)) if gap < Span::ZERO);
    // A tab learns soon after it opens whether it leads.
    if back && !tabs::leads() && clock::steady() < OPENING_MS {
        return;
    }
    let Some(gap) = CLOSED.take().filter(|_| !back || tabs::leads()) else { return };
    let now = clock::now();
    let moved = timed(store)
        .into_iter()
        .filter_map(|load| {
            let counted = load.run.elapsed(now);
            let by = gap.map_or(counted, |gap| if gap > counted { counted } else { gap });
            let matters = by.0 > CLOSED_MS || by.0 < -JUMP_MS;
            (matters && !is_noted(&load, by, now)).then_some((load.id, by))
        })
        .collect();
    note(store, moved, Page::Closed);
}

/// The loads whose minutes a doubtful clock could cut short.
fn timed(store: Store) -> Vec<Arc<Load>> {
    let attended = store.attended().into_iter().map(|(_, load)| load);
    attended.filter(|load| load.run.is_timed_for_safety()).collect()
}

fn jumped(store: Store, by: Span, page: Page) {
    let now = clock::now();
    let moved = timed(store)
        .into_iter()
        // A stage that began after the jump's start is not touched by it. By the time
        // that surely passed: a clock set back before may make the stage look younger.
        .filter(|load| load.run.elapsed(now) >= by)
        .filter(|load| !is_noted(load, by, now))
        .map(|load| (load.id, by))
        .collect();
    note(store, moved, page);
}

/// Notes that for some loads the clock moved.
fn note(store: Store, moved: Vec<(Id, Span)>, page: Page) {
    let now = clock::now();
    let mut events = Vec::new();
    for (batch, load) in store.attended() {
        let Some((_, by)) = moved.iter().find(|(id, _)| *id == load.id) else { continue };
        let body = Body::Ran { load: load.id, step: Step::ClockMoved { by: *by, page } };
        let id = crate::app::store::new_id();
        if let Ok(drafted) = store.look_now(|archive| archive.draft(batch, now, [(id, body)])) {
            events.extend(drafted);
        }
    }
    if !events.is_empty() {
        // Busy, so that no tap gets in before the note.
        store.busy.set(true);
        spawn(async move {
            store.keep(events).await;
            store.free();
        });
    }
}

/// Notes, for each run that another phone began, from when this one knows of it.
fn from_elsewhere(store: Store) {
    let open = store.storage.get_untracked() != Storage::Opening && !store.busy.get_untracked();
    if !open || !tabs::leads() {
        return;
    }
    let now = clock::now();
    let moved = timed(store)
        .into_iter()
        .filter(|load| !load.run.is_seen_here())
        .filter_map(|load| Some((load.id, now.since(load.run.stage().since()?))))
        .collect();
    note(store, moved, Page::Elsewhere);
}

/// Whether another tab has noted the same jump.
fn is_noted(load: &Load, by: Span, now: EpochMs) -> bool {
    // Only by the last word: a clock set back and forth is two moves, each to be noted.
    load.run.clock_moves().next_back().is_some_and(|noted| {
        let apart = now.since(noted.at).0.abs();
        apart <= SAME_JUMP_MS && noted.by.minus(by).0.abs() <= JUMP_MS
    })
}

/// What rings: the load, since when, and whether only a look at the gauge is due.
fn over(store: Store) -> Vec<(Id, EpochMs, bool)> {
    let now = clock::now();
    let every = store.prefs.try_get_untracked().map_or(0, |prefs| i64::from(prefs.look_every));
    let mut over = Vec::new();
    for (_, load) in store.attended() {
        let timed = matches!(
            load.run.stage().kind(),
            StageKind::WarmUp | StageKind::Venting | StageKind::Holding | StageKind::Standing
        );
        if timed && load.run.left(now) == Some(Span::ZERO) {
            over.extend(load.run.stage().since().map(|since| (load.id, since, false)));
        } else if every > 0 {
            let due = load.run.look_due(Span::minutes(every), now);
            over.extend(due.filter(|due| *due <= now).map(|due| (load.id, due, true)));
        }
    }
    over
}

fn ring(store: Store, alarm: Alarm) {
    ring_of(store, alarm, true);
}

/// Rings for what is over; only for what rings already unless it may begin.
fn ring_of(store: Store, alarm: Alarm, may_begin: bool) {
    let over = over(store);
    let Some(quieted) = alarm.quieted.try_get_untracked() else { return };
    let Some(before) = alarm.ringing.try_get_untracked() else { return };
    let mut loud = Vec::new();
    for (load, at, look) in over {
        let one = (load, look);
        if !quieted.contains(&(load, at)) && (may_begin || before.contains(&one)) {
            loud.push(one);
        }
    }
    // Only the leading tab is heard; one that comes to lead takes the ringing over.
    let heard = !loud.is_empty() && tabs::leads();
    let same = before == loud;
    if same && heard == HEARD.get() {
        return;
    }
    HEARD.set(heard);
    if heard {
        if store.prefs.try_get_untracked().is_some_and(|prefs| prefs.sound) {
            sound::ring_on();
        }
        buzz::buzz(&[400, 200, 400, 200, 800]);
    } else {
        sound::ring_off();
    }
    if !same {
        alarm.ringing.set(loud);
    }
}
