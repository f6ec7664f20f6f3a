//! The page: Leptos views over the domain library.
//!
//! Invariant: no rule of canning lives here; views show what the library says.

/// Mounts the page.
pub fn start() {}
