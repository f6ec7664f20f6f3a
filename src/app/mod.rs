//! The page: Leptos views over the domain library.
//!
//! Invariant: no rule of canning lives here; views show what the library says.

mod device;
mod prefs;
mod store;
mod ticker;

/// Mounts the page.
pub fn start() {}
