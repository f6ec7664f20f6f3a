//! The shelf kept from visit to visit, so that a large one opens at once.
//!
//! Invariant: it is of this build, this language and this very record, or it is not shown.
//! All of it is worked out anew from the record behind the page: what differs is replaced
//! on the screen, and the shelf is kept anew.

use crate::app::device::{clock, dom};
use crate::app::draw::spawn;
use crate::app::store::{Store, new_id};
use crate::screens::shelf_kept as kept;
use hearthjar::batch::{Archive, Id};
use hearthjar::shelf::{Lot, Shelf};
use hearthjar::t;
use std::cell::{Cell, RefCell};
use std::sync::{Arc, Weak};

/// Lots read, or batches looked at, between two turns of the page.
const AT_A_TIME: usize = 200;
/// As many batches changed, or fewer, are read beside a kept shelf sooner than it is
/// kept anew.
const FEW_CHANGED: usize = 20;
/// The record rests so many seconds before its shelf is kept.
const REST_SECONDS: u32 = 5;

thread_local! {
    /// The shelf has been compared with the whole record.
    static CHECKED: Cell<bool> = const { Cell::new(true) };
    /// It differed, or there was none.
    static WANTED: Cell<bool> = const { Cell::new(true) };
    /// The shelf is being checked or kept.
    static BUSY: Cell<bool> = const { Cell::new(false) };
    /// The record last looked at, and since how many seconds it is the same.
    static RESTS: RefCell<(Weak<Archive>, u32)> = const { RefCell::new((Weak::new(), 0)) };
}

/// What a kept shelf begins with: another build may know other rules, another language has
/// other words to search.
fn head(name: Id) -> String {
    format!("{} {} {name}\n", dom::desk_name(), t!("en##language"))
}

/// What it ends with: a part of a text is none.
const END: &str = ".";

/// Takes a kept shelf in; `false` if it is of no use.
pub async fn take(text: String, name: Id) -> bool {
    let Some(lines) = text.strip_prefix(&head(name)).and_then(|text| text.strip_suffix(END)) else {
        return false;
    };
    let mut lots = Vec::new();
    for line in lines.lines() {
        let Some(lot) = Lot::from_line(line) else { return false };
        lots.push(lot);
        if lots.len() % AT_A_TIME == 0 {
            clock::breathe().await;
        }
    }
    let Some(shelf) = Shelf::of_kept(lots) else { return false };
    kept::believe(shelf);
    WANTED.set(false);
    CHECKED.set(false);
    true
}

/// Compares the shelf with the record once all of it is there, and keeps it when the
/// record has come to rest; call it every second.
pub fn in_time(store: Store) {
    let seconds = rested(store);
    if BUSY.get() || !store.is_whole() {
        return;
    }
    let check = !CHECKED.get();
    if check || (seconds == REST_SECONDS && is_wanted(store)) {
        BUSY.set(true);
        spawn(async move {
            if check {
                compare(store).await;
            } else {
                let _ = keep(store).await;
            }
            BUSY.set(false);
        });
    }
}

/// Since how many seconds the record is the same.
fn rested(store: Store) -> u32 {
    let record = Arc::downgrade(&store.record());
    RESTS.with_borrow_mut(|(last, seconds)| {
        *seconds = if last.ptr_eq(&record) { seconds.saturating_add(1) } else { 0 };
        *last = record;
        *seconds
    })
}

fn is_wanted(store: Store) -> bool {
    WANTED.get() || store.changed_since_kept().is_none_or(|changed| changed > FEW_CHANGED)
}

async fn compare(store: Store) {
    let mut last = Some(Id::HOUSEHOLD);
    while let Some(after) = last {
        if !store.is_whole() {
            return;
        }
        let (seen, wrong) = kept::check(store, after, AT_A_TIME);
        if wrong {
            WANTED.set(true);
            store.look_again();
        }
        last = seen;
        clock::idle().await;
    }
    CHECKED.set(true);
    // Whether it has to be kept anew is asked after a rest.
    RESTS.with_borrow_mut(|(_, seconds)| *seconds = 0);
}

/// Keeps the shelf; nothing is kept if the record changes meanwhile.
async fn keep(store: Store) -> Option<()> {
    let rows = store.settled_rows().await?;
    let record = Arc::downgrade(&store.record());
    let name = new_id();
    let mut text = head(name);
    let mut from = 0;
    while let Some(lines) = kept::shelf(store, |shelf| lines(shelf, from))? {
        text.push_str(&lines);
        from += AT_A_TIME;
        clock::idle().await;
        if !store.is_still(&record) {
            return None;
        }
    }
    text.push_str(END);
    if store.keep_shelf(&text, name, rows, &record).await {
        WANTED.set(false);
    }
    Some(())
}

/// Some lots' lines, `Some(None)` after the last; `None` if one cannot be kept.
fn lines(shelf: &Shelf, from: usize) -> Option<Option<String>> {
    let Some(lots) = shelf.to_keep(from, AT_A_TIME) else { return Some(None) };
    let mut lines = String::new();
    for lot in lots {
        lines.push_str(&lot.to_line()?);
        lines.push('\n');
    }
    Some(Some(lines))
}
