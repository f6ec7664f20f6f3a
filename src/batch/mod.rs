//! The record of a batch: an append-only set of events and the fold over it.
//!
//! Invariant: events are never changed or lost; state is only ever what the fold
//! of the set says, in an order every phone agrees on.

mod archive;
mod body;
mod codec;
mod codec_plan;
mod event;
mod fold;
mod fold_hold;
mod fold_seal;
mod fold_shelf;
mod household;
mod id;
mod lot_codec;
mod meanwhile;
mod shelf_codec;
mod shelf_event;
mod state;

pub use archive::{Archive, Inserted};
pub use body::{
    BatchStart, Body, CannerKept, LoadPlan, PlaceKept, Seal, Settled, Taken, Text, TextError,
};
pub use event::{Event, EventError, MAX_EVENT_BYTES};
pub(crate) use fold::{MAX_JARS, taken_back};
pub use fold::{Refused, fold};
pub use household::{Household, KeptCanner, KeptPlace};
pub use id::{Id, IdError};
pub use meanwhile::{Entries, Meanwhile, meanwhile, said};
pub use shelf_event::{Cause, Doubted, JarNumbers, ShelfEvent, Verdict};
pub use state::{Batch, Conflict, Hold, Jar, JarState, Load};
