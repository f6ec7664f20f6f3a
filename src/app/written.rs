//! The record as the text of a file, written so that the page answers meanwhile.
//!
//! Invariant: it is the record as it was when it was asked for, batch by batch.

use super::device::clock;
use super::store::Store;
use hearthjar::batch::Id;
use hearthjar::exchange::Writing;

/// Batches written between two turns of the page: fewer of them are written at once, as
/// a share sheet has to follow its tap closely.
const AT_A_TIME: usize = 20;

/// The record file of all batches but some.
pub async fn written(store: Store, left_out: &[Id]) -> String {
    let record = store.record();
    let mut writing = Writing::default();
    for (number, batch) in (1..).zip(record.names()) {
        if left_out.contains(&batch) {
            continue;
        }
        for event in record.events(batch) {
            writing.add(event);
        }
        if number % AT_A_TIME == 0 {
            writing.digest();
            clock::breathe().await;
        }
    }
    writing.done()
}
