//! Small things kept in local storage.
//!
//! Invariant: storage that is denied, full or garbled reads as nothing and never
//! stops the page.

use gloo_storage::{LocalStorage, Storage as _};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// Reads a value.
pub fn get<T: DeserializeOwned>(key: &str) -> Option<T> {
    LocalStorage::get(format!("hearthjar/{key}")).ok()
}

/// Writes a value; `false` if storage would not have it.
pub fn set<T: Serialize + ?Sized>(key: &str, value: &T) -> bool {
    LocalStorage::set(format!("hearthjar/{key}"), value).is_ok()
}
