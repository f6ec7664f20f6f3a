//! What both halves of the page are made of: the browser, drawing, the store.
//!
//! Invariant: no rule of canning lives here; screens show what the library says.
//! Each half compiles this folder for itself and shares with the other only the
//! database, local storage and what tabs tell each other.

pub mod backups;
pub mod device;
pub mod draw;
pub mod parts;
pub mod prefs;
pub mod store;
pub mod var;
pub mod written;
