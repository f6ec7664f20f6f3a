//! Quantities as types of their own, so a foot is never taken for a minute.
//!
//! Invariant: a value that exists is inside the range its type names; all
//! arithmetic that could leave that range returns `None` or an error.

mod altitude;
mod length;
mod mass;
mod pressure;
mod time;

pub use altitude::{Altitude, AltitudeError};
pub use length::Inches;
pub use mass::{Mass, MassError};
pub use pressure::{PsiError, PsiGauge};
pub use time::{EpochMs, Minutes, Span};

use crate::words::decimal_mark;

/// A number of tenths as people of the phone's region write it: `11.5`, or `11,5`.
#[must_use]
pub fn with_tenth(tenths: u64) -> String {
    format!("{}{}{}", tenths / 10, decimal_mark(), tenths % 10)
}

/// Reads a decimal number as a whole number of its last place: `decimal("10.55", 1)`
/// is 105. A comma counts as a point; finer digits are dropped. `None` for what is
/// no number or does not fit.
#[must_use]
pub fn decimal(text: &str, places: usize) -> Option<i32> {
    let text = text.trim();
    let (negative, digits) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text),
    };
    let (whole, finer) = digits.split_once(['.', ',']).unwrap_or((digits, ""));
    if whole.is_empty() || !whole.bytes().chain(finer.bytes()).all(|b| b.is_ascii_digit()) {
        return None;
    }
    let zeros = core::iter::repeat(b'0');
    let mut number: i32 = 0;
    for digit in whole.bytes().chain(finer.bytes().chain(zeros).take(places)) {
        number = number.checked_mul(10)?.checked_add(i32::from(digit - b'0'))?;
    }
    Some(if negative { -number } else { number })
}
