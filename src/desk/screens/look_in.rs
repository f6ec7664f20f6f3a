//! Looking at a record file, a little at a time.
//!
//! Invariant: the page answers meanwhile, and nothing of a file counts before its digest
//! has been seen to fit.

use crate::app::device::{clock, digest};
use crate::app::store::Store;
use hearthjar::batch::{Archive, Event, Id};
use hearthjar::exchange::{
    Comparison, Digesting, MAX_BATCH_EVENTS, Preview, ReadError, Reading, hex, is_code, preview,
    read_code, tidied,
};

/// Bytes of text read between two turns of the page: some 800 events.
const SLICE_BYTES: usize = 160_000;
/// Batches compared between two turns of the page.
const SLICE_BATCHES: usize = 400;

/// What taking in a text would do.
pub async fn look_in(store: Store, text: &str) -> Result<Preview, ReadError> {
    if is_code(text) {
        let events = read_code(text)?;
        return Ok(store.look_now(|archive| preview(archive, events)));
    }
    let text = tidied(text)?;
    clock::breathe().await;
    let mut reading = Reading::open(&text)?;
    let digest = digest::begin(reading.json()).await;
    clock::breathe().await;
    let file = gather(store, &mut reading).await;
    let digest = match digest {
        Some(digest) => digest.bytes().await,
        None => None,
    };
    let digest = match digest {
        Some(bytes) => hex(&bytes),
        None => worked_out(reading.json()).await,
    };
    // What was altered may lead to any other error.
    reading.check(&digest)?;
    let mut look = Comparison::new(store.record(), file?);
    while look.step(SLICE_BATCHES) {
        clock::breathe().await;
    }
    Ok(look.found)
}

async fn gather(store: Store, reading: &mut Reading<'_>) -> Result<Archive, ReadError> {
    let mut file = store.look_now(Archive::alike);
    loop {
        let events = reading.some(SLICE_BYTES)?;
        if events.is_empty() {
            return Ok(file);
        }
        let batches: Vec<Id> = events.iter().map(Event::batch).collect();
        file.extend(events);
        // Work grows with the square of a batch's events.
        if batches.into_iter().any(|batch| file.events(batch).len() > MAX_BATCH_EVENTS) {
            return Err(ReadError::TooMany);
        }
        clock::breathe().await;
    }
}

async fn worked_out(json: &str) -> String {
    let mut digest = Digesting::default();
    for bytes in json.as_bytes().chunks(SLICE_BYTES) {
        digest.add(bytes);
        clock::breathe().await;
    }
    digest.hex()
}
