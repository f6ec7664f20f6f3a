//! Local calendar fields, as the browser's time zone has them.
//!
//! Invariant: daylight saving is the browser's business, never worked out here.

use super::js::{get, navigator};
use hearthjar::present::LocalTime;
use hearthjar::units::EpochMs;
use js_sys::Date;
use wasm_bindgen::JsValue;

/// The local date and time of an instant.
pub fn time(at: EpochMs) -> LocalTime {
    let date = Date::new(&JsValue::from_f64(at.0 as f64));
    LocalTime {
        year: date.get_full_year() as u16,
        month: date.get_month() as u8 + 1,
        day: date.get_date() as u8,
        weekday: date.get_day() as u8,
        hour: date.get_hours() as u8,
        minute: date.get_minutes() as u8,
    }
}

/// How far local time is ahead of UTC at an instant, minutes.
pub fn offset(at: EpochMs) -> i32 {
    // The browser counts it the other way round (ECMA-262, getTimezoneOffset).
    -(Date::new(&JsValue::from_f64(at.0 as f64)).get_timezone_offset() as i32)
}

/// The instants at which the twelve months of a year begin, and the next year.
pub fn months(year: u16) -> [EpochMs; 13] {
    let mut edges = [EpochMs(0); 13];
    for (month, edge) in edges.iter_mut().enumerate() {
        // A thirteenth month is January of the next year (ECMA-262, MakeDay).
        let date = Date::new_with_year_month_day(u32::from(year), month as i32, 1);
        *edge = EpochMs(date.get_time() as i64);
    }
    edges
}

/// The browser's language, such as `en-US`.
pub fn language() -> String {
    get(&navigator(), "language").and_then(|tag| tag.as_string()).unwrap_or_default()
}
