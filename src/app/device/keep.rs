//! Asking the browser to keep the record.
//!
//! Invariant: the answer is shown as it is; a no is no error.

use super::js::{get, later, navigator};

/// What the browser says about keeping storage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    /// It will not be cleared without asking.
    Yes,
    /// It may be cleared when the phone runs short of space.
    No,
    /// The browser does not say.
    Unknown,
}

/// Whether the phone keeps a home-screen app's storage apart from this browser's and
/// the page is not yet opened from there. Phones that do so say it by this property.
pub fn is_before_home_screen() -> bool {
    get(&navigator(), "standalone").and_then(|value| value.as_bool()) == Some(false)
}

/// Asks for storage to be kept (Storage Standard, `persist`).
pub async fn ask() -> Kept {
    let Some(storage) = get(&navigator(), "storage") else { return Kept::Unknown };
    for method in ["persisted", "persist"] {
        match later(&storage, method, &[]).await.ok().and_then(|value| value.as_bool()) {
            Some(true) => return Kept::Yes,
            Some(false) => {}
            None => return Kept::Unknown,
        }
    }
    Kept::No
}

/// Megabytes used and allowed.
pub async fn usage() -> Option<(u32, u32)> {
    let storage = get(&navigator(), "storage")?;
    let estimate = later(&storage, "estimate", &[]).await.ok()?;
    let megabytes = |name| Some((get(&estimate, name)?.as_f64()? / 1e6).ceil() as u32);
    Some((megabytes("usage")?, megabytes("quota")?))
}
