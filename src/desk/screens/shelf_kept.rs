//! The shelf kept from screen to screen, so that a search starts at once and the
//! way back leads to where the list was left.
//!
//! Invariant: what is read here is of the record as the store has it now.

use crate::app::store::Store;
use hearthjar::batch::{Archive, Id};
use hearthjar::shelf::{Filter, Lot, Search, Shelf};
use std::cell::{Cell, RefCell};

#[derive(Default)]
struct Kept {
    shelf: Shelf,
    search: Search,
    left: Left,
}

/// How the shelf was left.
#[derive(Clone, Default)]
pub struct Left {
    /// What was typed.
    pub typed: String,
    /// What was chosen.
    pub filter: Filter,
    /// How far it was scrolled, px.
    pub top: i32,
}

thread_local! {
    static KEPT: RefCell<Kept> = RefCell::default();
}

/// Searches the shelf; gives the numbers of lots and jars found. Asked again when
/// the record changes.
pub fn find(store: Store, typed: &str, filter: &Filter) -> (usize, usize) {
    KEPT.with_borrow_mut(|kept| {
        let whole = store.is_whole();
        store.look(|archive| follow(&mut kept.shelf, archive, whole));
        kept.search.find(&kept.shelf, typed, filter);
        (kept.search.len(), kept.search.jars())
    })
}

/// Looks at the lot in a line of what was found, unless it is what `shown` marks.
pub fn line(line: usize, shown: &Cell<Option<(u64, u32)>>, look: impl FnOnce(&Lot)) {
    KEPT.with_borrow(|kept| {
        let mark = kept.search.mark(line);
        if let Some(lot) = kept.search.line(&kept.shelf, line)
            && shown.replace(mark) != mark
        {
            look(lot);
        }
    });
}

/// Looks at the whole shelf, once: a screen that asked again would be drawn anew
/// with every jar.
pub fn shelf<T>(store: Store, look: impl FnOnce(&Shelf) -> T) -> T {
    KEPT.with_borrow_mut(|kept| {
        let whole = store.is_whole();
        store.look_now(|archive| follow(&mut kept.shelf, archive, whole));
        look(&kept.shelf)
    })
}

/// While the rest of the record is being read, or cannot be, a kept shelf stands for it.
fn follow(shelf: &mut Shelf, archive: &Archive, whole: bool) {
    if whole {
        shelf.follow(archive);
    } else {
        shelf.follow_part(archive);
    }
}

/// Takes a kept shelf for the one there is.
pub fn believe(shelf: Shelf) {
    KEPT.with_borrow_mut(|kept| kept.shelf = shelf);
}

/// Compares some of what was believed with the whole record, from the batch after `last`
/// on: see [`Shelf::check`].
pub fn check(store: Store, last: Id, most: usize) -> (Option<Id>, bool) {
    KEPT.with_borrow_mut(|kept| {
        store.look_now(|archive| {
            kept.shelf.follow(archive);
            kept.shelf.check(archive, last, most)
        })
    })
}

/// How the shelf was left.
pub fn left() -> Left {
    KEPT.with_borrow(|kept| kept.left.clone())
}

/// Leaves the shelf.
pub fn leave(change: impl FnOnce(&mut Left)) {
    KEPT.with_borrow_mut(|kept| change(&mut kept.left));
}
