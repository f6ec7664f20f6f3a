//! The record on disk: IndexedDB, one row an event.
//!
//! Invariant: a write is done when its transaction is complete with strict
//! durability, not before; rows that cannot be read are handed on, not skipped, and
//! never written over. Nothing is waited for without end.

mod large;

use super::js::{call, error_name, get, listen, promise, set, window};
use hearthjar::t;
use js_sys::{Array, Object};
use std::cell::RefCell;
use std::fmt;
use std::rc::Rc;
use wasm_bindgen::{JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;

const NAME: &str = "hearthjar";
const VERSION: f64 = 1.0;
const EVENTS: &str = "events";
/// How long the browser may take to open the record or to write some rows.
const PATIENCE_MS: f64 = 12_000.0;
/// How long it may take to read or write everything.
const LONG_PATIENCE_MS: f64 = 120_000.0;
/// Under this name a row is kept whose own name a readable row has taken.
const ASIDE: &str = "unread/";

/// A row: its key, and its text; `Err` holds what can be said of a row that is none.
pub type Row = (String, Result<String, String>);

/// An open database.
#[derive(Clone)]
pub struct Db {
    handle: JsValue,
    /// Keys of the rows that could not be read.
    unread: Rc<RefCell<Vec<String>>>,
}

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
    /// The browser does not answer.
    Slow,
    /// Anything else; the browser's own name for it.
    Failed(String),
}

impl fmt::Display for DbError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing => f.write_str(t!(
                "This browser keeps nothing here: the window is private, or storage is \
                     switched off for this site. Open Hearthjar in a normal window, or allow it \
                     to store."
            )),
            Self::Blocked => {
                f.write_str(t!("Another tab holds an older Hearthjar open. Close that tab."))
            }
            Self::Newer => f.write_str(t!(
                "The record was written by a newer Hearthjar; this one will not write. \
                     Reload to get the newer one."
            )),
            Self::Full => f.write_str(t!("The phone is out of space. Free some.")),
            Self::Slow => f.write_str(t!("The phone's storage does not answer. Close other apps.")),
            Self::Failed(name) => f.write_str(&t!("The browser could not save ({}).", name)),
        }
    }
}

impl DbError {
    fn of(error: &JsValue) -> Self {
        match error_name(error).as_str() {
            "QuotaExceededError" => Self::Full,
            "VersionError" => Self::Newer,
            "Blocked" => Self::Blocked,
            "Slow" => Self::Slow,
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
    patience_ms: f64,
) -> impl Future<Output = Result<JsValue, JsValue>> + use<> {
    let mut handlers: Vec<Closure<dyn FnMut(JsValue)>> = Vec::new();
    let promise = promise(|yes, no| {
        let done = target.clone();
        handlers.push(Closure::new(move |_| {
            let value = get(&done, "result").unwrap_or(JsValue::UNDEFINED);
            let _ = yes.call1(&JsValue::UNDEFINED, &value);
        }));
        let failed = target.clone();
        let refuse_late = JsValue::from(no.clone());
        let refuse = no.clone();
        handlers.push(Closure::new(move |_| {
            let error = get(&failed, "error").unwrap_or(JsValue::UNDEFINED);
            let _ = refuse.call1(&JsValue::UNDEFINED, &error);
        }));
        handlers.push(Closure::new(move |_| {
            let _ = no.call1(&JsValue::UNDEFINED, &named("Blocked"));
        }));
        let late = [refuse_late, JsValue::from_f64(patience_ms), named("Slow")];
        let _ = call(&window(), "setTimeout", &late);
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

/// A transaction in which something failed: what was asked for so far must not be kept.
fn given_up(transaction: &JsValue, error: &JsValue) -> DbError {
    let _ = call(transaction, "abort", &[]);
    DbError::of(error)
}

/// Something with a name, as exceptions have one.
fn named(name: &str) -> JsValue {
    let error = Object::new();
    set(&error, "name", &JsValue::from_str(name));
    error.into()
}

/// A key or value that is no text, in words as far as there are any.
fn words(value: &JsValue) -> String {
    js_sys::JSON::stringify(value).ok().and_then(|text| text.as_string()).unwrap_or_default()
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
        let opened = settled(&request, "onsuccess", PATIENCE_MS).await;
        if opened.is_err() {
            // One that opens after all must not stand in the way of the next try.
            let late = request.clone();
            let close = Closure::once_into_js(move |_: JsValue| {
                if let Some(db) = get(&late, "result") {
                    let _ = call(&db, "close", &[]);
                }
            });
            set(&request, "onsuccess", &close);
        }
        let db = opened.map_err(|error| match error_name(&error).as_str() {
            "InvalidStateError" | "SecurityError" | "UnknownError" => DbError::Missing,
            _ => DbError::of(&error),
        })?;
        let gone = Rc::new(gone);
        let newer = Rc::clone(&gone);
        let closing = db.clone();
        listen(&db, "versionchange", move |_| {
            let _ = call(&closing, "close", &[]);
            newer(DbError::Newer);
        });
        listen(&db, "close", move |_| gone(DbError::Failed("closed".to_owned())));
        Ok(Self { handle: db, unread: Rc::default() })
    }

    fn transaction(&self, mode: &str) -> Result<(JsValue, JsValue), DbError> {
        let options = Object::new();
        set(&options, "durability", &JsValue::from_str("strict"));
        let names = JsValue::from_str(EVENTS);
        let transaction = call(
            &self.handle,
            "transaction",
            &[names.clone(), JsValue::from_str(mode), options.into()],
        )
        .map_err(|error| DbError::of(&error))?;
        let store = call(&transaction, "objectStore", &[names]).map_err(|e| DbError::of(&e))?;
        Ok((transaction, store))
    }

    /// Every row.
    pub async fn rows(&self) -> Result<Vec<Row>, DbError> {
        self.rows_in(&[]).await
    }

    /// Some rows after the one with this key and up to `end`, in the order of the keys.
    pub async fn rows_after(&self, key: &str, end: &str, most: u32) -> Result<Vec<Row>, DbError> {
        let ends = [JsValue::from_str(key), JsValue::from_str(end), JsValue::TRUE];
        self.rows_in(&[range("bound", &ends)?, most.into()]).await
    }

    /// The rows of some batches, all asked for at once.
    pub async fn rows_of(&self, batches: &[String]) -> Result<Vec<Row>, DbError> {
        let (transaction, store) = self.transaction("readonly")?;
        let mut asked = Vec::with_capacity(batches.len());
        for batch in batches {
            // `0` comes next after `/`.
            let ends = ["/", "0"].map(|end| JsValue::from_str(&format!("{batch}{end}")));
            let which = [range("bound", &ends)?];
            let ask = |what| call(&store, what, &which).map_err(|error| DbError::of(&error));
            asked.push((ask("getAllKeys")?, ask("getAll")?));
        }
        complete(&transaction, batches.len()).await?;
        let mut rows = Vec::new();
        for (keys, values) in asked {
            let answer =
                |request| get(request, "result").as_ref().map(Array::from).unwrap_or_default();
            let (keys, values) = (answer(&keys), answer(&values));
            rows.extend(keys.iter().zip(values.iter()).map(|(key, value)| row(&key, &value)));
        }
        Ok(rows)
    }

    /// How many rows there are.
    pub async fn count(&self) -> Result<u32, DbError> {
        self.counting()?.await
    }

    /// The same, begun at once.
    pub fn counting(&self) -> Result<impl Future<Output = Result<u32, DbError>>, DbError> {
        let (_, store) = self.transaction("readonly")?;
        let count = ask(&store, "count", &[])?;
        Ok(async { count.await?.as_f64().map(|count| count as u32).ok_or(DbError::Slow) })
    }

    async fn rows_in(&self, which: &[JsValue]) -> Result<Vec<Row>, DbError> {
        let (_, store) = self.transaction("readonly")?;
        let keys = ask(&store, "getAllKeys", which)?;
        let values = ask(&store, "getAll", which);
        let keys = Array::from(&keys.await?);
        let values = match values {
            Ok(values) => values.await,
            Err(error) => Err(error),
        };
        let Ok(values) = values else { return Ok(self.one_by_one(&keys).await) };
        let values = Array::from(&values);
        let pairs = keys.iter().zip(values.iter());
        Ok(pairs.map(|(key, value)| row(&key, &value)).collect())
    }

    /// Every row, where one that the browser itself cannot read spoils the rest.
    async fn one_by_one(&self, keys: &Array) -> Vec<Row> {
        let mut rows = Vec::new();
        for key in keys.iter() {
            let request = self
                .transaction("readonly")
                .and_then(|(_, store)| {
                    call(&store, "get", std::slice::from_ref(&key)).map_err(|e| DbError::of(&e))
                })
                .map(|request| settled(&request, "onsuccess", PATIENCE_MS));
            let value = match request {
                Ok(value) => value.await.unwrap_or(JsValue::UNDEFINED),
                Err(_) => JsValue::UNDEFINED,
            };
            rows.push(row(&key, &value));
        }
        rows
    }

    /// The texts of the rows with these keys; rows that are not there are left out.
    pub async fn texts(&self, keys: &[String]) -> Result<Vec<String>, DbError> {
        let (_, store) = self.transaction("readonly")?;
        let mut asked = Vec::with_capacity(keys.len());
        for key in keys {
            let request = call(&store, "get", &[JsValue::from_str(key)]);
            let request = request.map_err(|e| DbError::of(&e))?;
            asked.push(settled(&request, "onsuccess", LONG_PATIENCE_MS));
        }
        let mut texts = Vec::with_capacity(asked.len());
        for one in asked {
            texts.extend(one.await.map_err(|e| DbError::of(&e))?.as_string());
        }
        Ok(texts)
    }

    /// Notes which rows could not be read, so that none is written over.
    pub fn note_unread(&self, keys: Vec<String>) {
        *self.unread.borrow_mut() = keys;
    }

    /// The text of the row with this key; `text` from now on if there was none.
    pub async fn claim(&self, key: &str, text: &str) -> Result<String, DbError> {
        let (transaction, store) = self.transaction("readwrite")?;
        let asked = |error: JsValue| DbError::of(&error);
        let name = JsValue::from_str(key);
        let kept = call(&store, "get", std::slice::from_ref(&name)).map_err(asked)?;
        let kept = settled(&kept, "onsuccess", PATIENCE_MS).await.map_err(asked)?;
        if !kept.is_undefined() {
            return Ok(kept.as_string().unwrap_or_default());
        }
        call(&store, "put", &[JsValue::from_str(text), name]).map_err(asked)?;
        complete(&transaction, 1).await?;
        Ok(text.to_owned())
    }

    /// Writes rows, all or none; done means durable.
    pub async fn put(&self, rows: &[(String, String)]) -> Result<(), DbError> {
        self.exchange(&[], rows).await
    }

    /// Takes rows out, all or none.
    pub async fn delete(&self, keys: &[String]) -> Result<(), DbError> {
        self.exchange(keys, &[]).await
    }

    /// Takes rows out and writes others in one transaction: a phone that dies on the
    /// way has either all of it or none. A row that could not be read and has a name
    /// that is written now is put aside in the same stroke.
    pub async fn exchange(
        &self,
        gone: &[String],
        rows: &[(String, String)],
    ) -> Result<(), DbError> {
        let (transaction, store) = self.transaction("readwrite")?;
        self.ask(&transaction, &store, gone, rows).await?;
        complete(&transaction, gone.len() + rows.len()).await
    }

    /// Asks for an exchange within a transaction.
    async fn ask(
        &self,
        transaction: &JsValue,
        store: &JsValue,
        gone: &[String],
        rows: &[(String, String)],
    ) -> Result<(), DbError> {
        let failed = |error| given_up(transaction, &error);
        let unread = self.unread.borrow().clone();
        for (key, _) in rows.iter().filter(|(key, _)| unread.contains(key)) {
            let old = call(store, "get", &[JsValue::from_str(key)]).map_err(failed)?;
            let old = settled(&old, "onsuccess", PATIENCE_MS).await.map_err(failed)?;
            let aside = JsValue::from_str(&format!("{ASIDE}{key}"));
            call(store, "put", &[old, aside]).map_err(failed)?;
        }
        for key in gone {
            call(store, "delete", &[JsValue::from_str(key)]).map_err(failed)?;
        }
        for (key, text) in rows {
            call(store, "put", &[JsValue::from_str(text), JsValue::from_str(key)])
                .map_err(failed)?;
        }
        Ok(())
    }
}

/// Asks for something to be read; the answer comes later.
fn ask(
    store: &JsValue,
    what: &str,
    which: &[JsValue],
) -> Result<impl Future<Output = Result<JsValue, DbError>> + use<>, DbError> {
    let request = call(store, what, which).map_err(|error| DbError::of(&error))?;
    let answer = settled(&request, "onsuccess", LONG_PATIENCE_MS);
    Ok(async move { answer.await.map_err(|error| DbError::of(&error)) })
}

fn range(kind: &str, ends: &[JsValue]) -> Result<JsValue, DbError> {
    let ranges = get(&window(), "IDBKeyRange").ok_or(DbError::Missing)?;
    call(&ranges, kind, ends).map_err(|error| DbError::of(&error))
}

async fn complete(transaction: &JsValue, rows: usize) -> Result<(), DbError> {
    let patience = if rows > 500 { LONG_PATIENCE_MS } else { PATIENCE_MS };
    let done = settled(transaction, "oncomplete", patience).await;
    done.map(drop).map_err(|error| DbError::of(&error))
}

fn row(key: &JsValue, value: &JsValue) -> Row {
    let name = key.as_string().unwrap_or_else(|| words(key));
    (name, value.as_string().ok_or_else(|| words(value)))
}
