//! The record on disk: IndexedDB, one row an event.
//!
//! Invariant: a write is done when its transaction is complete with strict
//! durability, not before; rows that cannot be read are handed on, not skipped.

use super::js::{call, error_name, get, listen, promise, set, window};
use js_sys::{Array, Object};
use std::fmt;
use std::rc::Rc;
use wasm_bindgen::{JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;

const NAME: &str = "hearthjar";
const VERSION: f64 = 1.0;
const EVENTS: &str = "events";

/// An open database.
#[derive(Clone)]
pub struct Db(JsValue);

/// Why the record cannot be read or written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DbError {
    /// The browser offers no database, often in a private window.
    Missing,
    /// Another tab holds an older version open.
    Blocked,
    /// The record was written by a newer build.
    Newer,
    /// The phone or the browser is out of space.
    Full,
    /// Anything else; the browser's own name for it.
    Failed(String),
}

impl fmt::Display for DbError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing => f.write_str(
                "This browser keeps nothing here, perhaps because the window is private. Open \
                 Hearthjar in a normal window.",
            ),
            Self::Blocked => {
                f.write_str("Another tab holds an older Hearthjar open. Close it, then reload.")
            }
            Self::Newer => f.write_str(
                "The record was written by a newer Hearthjar. Reload to get it; this one will not \
                 write.",
            ),
            Self::Full => f.write_str("The phone is out of space. Free some, then reload."),
            Self::Failed(name) => write!(f, "The browser could not save ({name}). Reload."),
        }
    }
}

impl DbError {
    fn of(error: &JsValue) -> Self {
        match error_name(error).as_str() {
            "QuotaExceededError" => Self::Full,
            "VersionError" => Self::Newer,
            name => Self::Failed(name.to_owned()),
        }
    }
}

/// Waits for one of a request's or transaction's events.
///
/// The handlers are set at once, not at the first poll, so no event is missed.
fn settled(
    target: &JsValue,
    good: &'static str,
) -> impl Future<Output = Result<JsValue, JsValue>> + use<> {
    let mut handlers: Vec<Closure<dyn FnMut(JsValue)>> = Vec::new();
    let promise = promise(|yes, no| {
        let done = target.clone();
        handlers.push(Closure::new(move |_| {
            let value = get(&done, "result").unwrap_or(JsValue::UNDEFINED);
            let _ = yes.call1(&JsValue::UNDEFINED, &value);
        }));
        let failed = target.clone();
        let refuse = no.clone();
        handlers.push(Closure::new(move |_| {
            let error = get(&failed, "error").unwrap_or(JsValue::UNDEFINED);
            let _ = refuse.call1(&JsValue::UNDEFINED, &error);
        }));
        handlers.push(Closure::new(move |_| {
            let blocked = Object::new();
            set(&blocked, "name", &JsValue::from_str("Blocked"));
            let _ = no.call1(&JsValue::UNDEFINED, &blocked);
        }));
        let on = [(good, 0), ("onerror", 1), ("onabort", 1), ("onblocked", 2)];
        for (event, handler) in on {
            if let Some(handler) = handlers.get(handler) {
                set(target, event, handler.as_ref());
            }
        }
    });
    async move {
        let settled = JsFuture::from(promise).await;
        drop(handlers);
        settled
    }
}

impl Db {
    /// Opens the database, making it on the first visit. `gone` is told when the
    /// browser or a newer build closes it.
    pub async fn open(gone: impl Fn(DbError) + 'static) -> Result<Self, DbError> {
        let factory = get(&window(), "indexedDB").ok_or(DbError::Missing)?;
        let request =
            call(&factory, "open", &[JsValue::from_str(NAME), JsValue::from_f64(VERSION)])
                .map_err(|_| DbError::Missing)?;
        let upgrading = request.clone();
        let upgrade = Closure::once_into_js(move |_: JsValue| {
            if let Some(db) = get(&upgrading, "result") {
                let _ = call(&db, "createObjectStore", &[JsValue::from_str(EVENTS)]);
            }
        });
        set(&request, "onupgradeneeded", &upgrade);
        let db = settled(&request, "onsuccess").await.map_err(|error| {
            match error_name(&error).as_str() {
                "Blocked" => DbError::Blocked,
                "InvalidStateError" | "SecurityError" | "UnknownError" => DbError::Missing,
                _ => DbError::of(&error),
            }
        })?;
        let gone = Rc::new(gone);
        let newer = Rc::clone(&gone);
        let closing = db.clone();
        listen(&db, "versionchange", move |_| {
            let _ = call(&closing, "close", &[]);
            newer(DbError::Newer);
        });
        listen(&db, "close", move |_| gone(DbError::Failed("closed".to_owned())));
        Ok(Self(db))
    }

    fn transaction(&self, mode: &str) -> Result<(JsValue, JsValue), DbError> {
        let options = Object::new();
        set(&options, "durability", &JsValue::from_str("strict"));
        let names = JsValue::from_str(EVENTS);
        let transaction =
            call(&self.0, "transaction", &[names.clone(), JsValue::from_str(mode), options.into()])
                .map_err(|error| DbError::of(&error))?;
        let store = call(&transaction, "objectStore", &[names]).map_err(|e| DbError::of(&e))?;
        Ok((transaction, store))
    }

    /// Every row: its key, and its text if it holds one.
    pub async fn rows(&self) -> Result<Vec<(String, Option<String>)>, DbError> {
        let (_, store) = self.transaction("readonly")?;
        let keys = call(&store, "getAllKeys", &[]).map_err(|e| DbError::of(&e))?;
        let values = call(&store, "getAll", &[]).map_err(|e| DbError::of(&e))?;
        let keys = settled(&keys, "onsuccess");
        let values = settled(&values, "onsuccess");
        let keys = Array::from(&keys.await.map_err(|e| DbError::of(&e))?);
        let values = Array::from(&values.await.map_err(|e| DbError::of(&e))?);
        Ok(keys
            .iter()
            .zip(values.iter())
            .map(|(key, value)| (key.as_string().unwrap_or_default(), value.as_string()))
            .collect())
    }

    /// The texts of the rows with these keys; rows that are not there are left out.
    pub async fn texts(&self, keys: &[String]) -> Result<Vec<String>, DbError> {
        let (_, store) = self.transaction("readonly")?;
        let mut asked = Vec::with_capacity(keys.len());
        for key in keys {
            let request = call(&store, "get", &[JsValue::from_str(key)]);
            asked.push(settled(&request.map_err(|e| DbError::of(&e))?, "onsuccess"));
        }
        let mut texts = Vec::with_capacity(asked.len());
        for one in asked {
            texts.extend(one.await.map_err(|e| DbError::of(&e))?.as_string());
        }
        Ok(texts)
    }

    /// Writes rows, all or none; done means durable.
    pub async fn put(&self, rows: &[(String, String)]) -> Result<(), DbError> {
        let (transaction, store) = self.transaction("readwrite")?;
        for (key, text) in rows {
            call(&store, "put", &[JsValue::from_str(text), JsValue::from_str(key)])
                .map_err(|error| DbError::of(&error))?;
        }
        settled(&transaction, "oncomplete").await.map(drop).map_err(|e| DbError::of(&e))
    }

    /// Takes rows out, all or none.
    pub async fn delete(&self, keys: &[String]) -> Result<(), DbError> {
        let (transaction, store) = self.transaction("readwrite")?;
        for key in keys {
            call(&store, "delete", &[JsValue::from_str(key)]).map_err(|e| DbError::of(&e))?;
        }
        settled(&transaction, "oncomplete").await.map(drop).map_err(|e| DbError::of(&e))
    }
}
