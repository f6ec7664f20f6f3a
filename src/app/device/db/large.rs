//! Large changes of the record on disk, so that the page answers meanwhile.
//!
//! Invariant: each is one transaction, all or nothing; between two requests of it the
//! page has its turn. Only waiting for a request of its own keeps a transaction open.

use super::{Db, DbError, LONG_PATIENCE_MS, Row, ask, call, complete, given_up, range, settled};
use hearthjar::batch::Id;
use hearthjar::exchange::row_key;
use js_sys::Array;
use wasm_bindgen::JsValue;

/// Rows asked for between two turns of the page.
const AT_A_TIME: usize = 100;
/// Counted as many rows: the browser is given long to finish.
const MANY: usize = 1_000;

/// The range of the keys that begin so.
fn beginning(with: &str) -> Result<JsValue, DbError> {
    range("bound", &[JsValue::from_str(with), JsValue::from_str(&format!("{with}\u{ffff}"))])
}

impl Db {
    /// Writes rows as `next` makes them, all or none.
    pub async fn put_each(
        &self,
        next: &mut dyn FnMut() -> Option<(String, String)>,
    ) -> Result<(), DbError> {
        let (transaction, store) = self.transaction("readwrite")?;
        let failed = |error| given_up(&transaction, &error);
        while let Some((key, text)) = next() {
            let put = call(&store, "put", &[JsValue::from_str(&text), JsValue::from_str(&key)]);
            let put = settled(&put.map_err(failed)?, "onsuccess", LONG_PATIENCE_MS);
            put.await.map_err(failed)?;
        }
        let done = complete(&transaction, MANY).await;
        if done.is_err() {
            // What is too slow to be waited for must not come after all.
            let _ = call(&transaction, "abort", &[]);
        }
        done
    }

    /// The first row whose key begins so and comes after another.
    pub async fn first_after(&self, key: &str, with: &str) -> Result<Option<Row>, DbError> {
        Ok(self.rows_after(key, &format!("{with}\u{ffff}"), 1).await?.into_iter().next())
    }

    /// Writes rows if a row is there, and takes that out as well if `last`; whether it
    /// was there.
    pub async fn put_while(
        &self,
        there: &str,
        rows: &[(String, String)],
        last: bool,
    ) -> Result<bool, DbError> {
        let (transaction, store) = self.transaction("readwrite")?;
        let count = ask(&store, "count", &[JsValue::from_str(there)])?;
        if count.await?.as_f64() != Some(1.0) {
            return Ok(false);
        }
        let gone = if last { vec![there.to_owned()] } else { Vec::new() };
        self.ask(&transaction, &store, &gone, rows).await?;
        complete(&transaction, rows.len()).await?;
        Ok(true)
    }

    /// Takes out the rows whose keys begin so, and the events that `others` names, told
    /// which is the first of those rows; and writes rows.
    pub async fn take_back(
        &self,
        with: &str,
        others: &dyn Fn(Option<String>) -> Vec<(Id, Id)>,
        rows: &[(String, String)],
    ) -> Result<(), DbError> {
        let (transaction, store) = self.transaction("readwrite")?;
        let failed = |error| given_up(&transaction, &error);
        let pieces = beginning(with)?;
        let first = call(&store, "getAllKeys", &[pieces.clone(), JsValue::from_f64(1.0)]);
        let first = settled(&first.map_err(failed)?, "onsuccess", LONG_PATIENCE_MS);
        let first = Array::from(&first.await.map_err(failed)?).get(0).as_string();
        call(&store, "delete", &[pieces]).map_err(failed)?;
        for names in others(first).chunks(AT_A_TIME) {
            let mut last = JsValue::UNDEFINED;
            for (batch, event) in names {
                let key = JsValue::from_str(&row_key(*batch, *event));
                last = call(&store, "delete", &[key]).map_err(failed)?;
            }
            settled(&last, "onsuccess", LONG_PATIENCE_MS).await.map_err(failed)?;
        }
        self.ask(&transaction, &store, &[], rows).await?;
        complete(&transaction, MANY).await
    }
}
