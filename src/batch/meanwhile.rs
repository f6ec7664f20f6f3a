//! What becomes of a tap made while the one before it is still being written.
//!
//! Invariant: no tap is dropped without a word. A tap at the canner or at a jar waits,
//! with the time it was made, and is tried against the record when its turn comes: the
//! fold checks a waiting time by the time of the tap, so nothing gets shorter by it. A
//! form is not sent twice: it stays filled, and the person is told.

use super::body::Body;
use super::codec;
use super::id::Id;
use super::shelf_event::ShelfEvent;

/// What one tap would record, batch by batch.
pub type Entries = Vec<(Id, Vec<Body>)>;

/// What becomes of the tap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meanwhile {
    /// It waits for its turn.
    Waits,
    /// It is the tap ahead of it once more, as a bouncing finger makes it.
    Same,
    /// It is to be tapped again, if what it was for is not there by then.
    Again,
}

/// What a tap would record, as text: by it the same tap is known again.
#[must_use]
pub fn said(entries: &Entries) -> String {
    let mut said = String::new();
    for (batch, bodies) in entries {
        said.push_str(&batch.to_string());
        for body in bodies {
            said.push_str(&codec::body_to_json(body).to_string());
        }
    }
    said
}

/// What becomes of a tap while another is written; `ahead` is what the last one before it
/// says.
#[must_use]
pub fn meanwhile(ahead: &str, tap: &Entries) -> Meanwhile {
    if ahead == said(tap) {
        return Meanwhile::Same;
    }
    match tap.iter().all(|(_, bodies)| bodies.iter().all(can_wait)) {
        true => Meanwhile::Waits,
        false => Meanwhile::Again,
    }
}

/// Whether it speaks of a load or a jar that is there: what begins something new, or
/// comes out of a form, could be there twice.
const fn can_wait(body: &Body) -> bool {
    matches!(
        body,
        Body::JarsCounted { .. }
            | Body::Ran { .. }
            | Body::SealChecked { .. }
            | Body::UnsealedSettled { .. }
            | Body::Shelved { .. }
            | Body::JarTaken { .. }
            | Body::Undone { .. }
            | Body::AtShelf(ShelfEvent::JarsMoved { .. } | ShelfEvent::LidsUsed { .. })
    )
}
