//! The page's clock: one tick a second, jumps of the wall clock, alarms.
//!
//! Invariant: nothing is counted here. Each tick reads the wall clock and the
//! steady clock; what they say goes into the record or onto the screen.

use super::device::{buzz, clock, sound, tabs, wake};
use super::prefs::{beat, last_beat};
use super::store::{Storage, Store};
use crate::app::draw::signal;
use hearthjar::batch::{Body, Id};
use hearthjar::run::{Page, StageKind, Step};
use hearthjar::units::{EpochMs, Span};
use leptos::prelude::*;

/// A jump smaller than this is noise, milliseconds.
const JUMP_MS: i64 = 2_000;
/// How often the page notes that it saw the clock, milliseconds.
const BEAT_MS: i64 = 10_000;
/// A page closed for longer than this cannot vouch for the clock, milliseconds.
const CLOSED_MS: i64 = 60_000;

/// What the ticker remembers between ticks.
#[derive(Clone, Copy)]
struct Seen {
    /// Wall clock less steady clock at the last tick, milliseconds.
    offset: i64,
    /// When the last beat was noted.
    beat: EpochMs,
    /// The page was hidden at some time since the last tick.
    hidden: bool,
}

/// The alarm: which times are over and not yet quieted.
#[derive(Clone, Copy)]
pub struct Alarm {
    /// Stages quieted by a tap: load and the stage's beginning.
    quieted: RwSignal<Vec<(Id, EpochMs)>>,
    /// The loads whose time is over and ringing.
    pub ringing: RwSignal<Vec<Id>>,
}

impl Alarm {
    /// Quiets what rings now.
    pub fn quiet(self, store: Store) {
        let over = over(store);
        self.quieted.update(|quieted| quieted.extend(over));
        self.ringing.set(Vec::new());
        sound::ring_off();
    }
}

/// Starts the clock of the page.
pub fn start(store: Store) -> Alarm {
    let alarm = Alarm { quieted: signal(Vec::new()), ringing: signal(Vec::new()) };
    let seen = StoredValue::new(Seen { offset: offset(), beat: EpochMs(0), hidden: false });
    let tick = move || {
        let now = clock::now();
        if store.now.try_set(now).is_some() {
            return;
        }
        look(store, seen, now);
        ring(store, alarm);
    };
    clock::on_second(tick);
    clock::on_shown(move || {
        let _ = seen.try_update_value(|seen| seen.hidden = true);
        tick();
    });
    clock::on_hidden(move || {
        let _ = seen.try_update_value(|seen| seen.hidden = true);
        beat(clock::now());
    });
    // The lamp stays lit only while a canner is hot.
    Effect::new(move |_| if store.is_running() { wake::hold() } else { wake::release() });
    alarm
}

fn offset() -> i64 {
    clock::now().0 - clock::steady() as i64
}

/// Compares the two clocks and notes a jump in every load it matters to.
fn look(store: Store, seen: StoredValue<Seen>, now: EpochMs) {
    let Some(before) = seen.try_get_value() else { return };
    let offset = offset();
    let by = offset - before.offset;
    let page = if before.hidden || clock::is_hidden() { Page::Hidden } else { Page::Shown };
    let mut after = Seen { offset, hidden: clock::is_hidden(), ..before };
    if by.abs() > JUMP_MS {
        if store.storage.get_untracked() == Storage::Opening || store.busy.get_untracked() {
            // Look again at the next tick, when the jump can be written down.
            return;
        }
        note(store, Span(by), page);
    }
    if now.0 - after.beat.0 >= BEAT_MS || now < after.beat {
        after.beat = now;
        beat(now);
    }
    let _ = seen.try_set_value(after);
}

/// Once the record is open: what happened to the clock while the page was closed.
pub fn look_back(store: Store) {
    let now = clock::now();
    let Some(last) = last_beat() else { return };
    let gap = now.since(last);
    if gap.0 > CLOSED_MS || gap.0 < -JUMP_MS {
        note(store, gap, Page::Closed);
    }
    beat(now);
}

fn note(store: Store, by: Span, page: Page) {
    let step = Step::ClockMoved { by, page };
    let now = clock::now();
    let events: Vec<_> = store
        .attended()
        .into_iter()
        .filter(|(_, load)| load.run.is_timed_for_safety())
        // A stage that began after the jump's start is not touched by it.
        .filter(|(_, load)| load.run.stage().since().is_some_and(|since| now.since(since) >= by))
        .filter_map(|(batch, load)| {
            let body = Body::Ran { load: load.id, step };
            let drafted = store
                .look_now(|archive| archive.draft(batch, now, [(super::store::new_id(), body)]));
            drafted.ok()
        })
        .flatten()
        .collect();
    if !events.is_empty() {
        crate::app::draw::spawn(async move {
            store.keep(events).await;
        });
    }
}

/// The stages whose time is over: load and the stage's beginning.
fn over(store: Store) -> Vec<(Id, EpochMs)> {
    let now = clock::now();
    store
        .attended()
        .into_iter()
        .filter(|(_, load)| {
            matches!(
                load.run.stage().kind(),
                StageKind::WarmUp | StageKind::Venting | StageKind::Holding | StageKind::Standing
            )
        })
        .filter(|(_, load)| load.run.left(now) == Some(Span::ZERO))
        .filter_map(|(_, load)| Some((load.id, load.run.stage().since()?)))
        .collect()
}

fn ring(store: Store, alarm: Alarm) {
    let over = over(store);
    let Some(quieted) = alarm.quieted.try_get_untracked() else { return };
    let loud: Vec<Id> =
        over.iter().filter(|one| !quieted.contains(one)).map(|(load, _)| *load).collect();
    if alarm.ringing.try_get_untracked().as_ref() == Some(&loud) {
        return;
    }
    if loud.is_empty() {
        sound::ring_off();
    } else {
        let sounds = store.prefs.try_get_untracked().is_some_and(|prefs| prefs.sound);
        crate::app::draw::spawn(async move {
            if tabs::only_one_rings("alarm").await {
                if sounds {
                    sound::ring_on();
                }
                buzz::buzz(&[400, 200, 400, 200, 800]);
            }
        });
    }
    let _ = alarm.ringing.try_set(loud);
}
