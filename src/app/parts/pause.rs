//! A pause of buttons after a tap, where the next one stands in the same place.
//!
//! Invariant: it ends by the steady clock; a change of the phone's clock neither ends
//! nor lengthens it.

use crate::app::device::clock;
use crate::app::store::Store;
use std::cell::Cell;

/// How long it lasts, milliseconds: no sooner than a hand can have seen what changed.
const PAUSE_MS: f64 = 600.0;

/// A pause, to be kept beside the buttons it is for.
pub struct Pause(Cell<f64>);

impl Pause {
    /// One that is over.
    pub const fn new() -> Self {
        Self(Cell::new(-PAUSE_MS))
    }

    /// Begins.
    pub fn begin(&self) {
        self.0.set(clock::steady());
    }

    /// Whether it lasts; asked again every second.
    pub fn lasts(&self, store: Store) -> bool {
        let _ = store.now.get();
        clock::steady() - self.0.get() < PAUSE_MS
    }
}
