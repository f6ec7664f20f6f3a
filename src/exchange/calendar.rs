//! Reminders as an iCalendar file (RFC 5545), for a phone that sleeps.
//!
//! Invariant: every line ends in CRLF and is at most 75 octets long; text is
//! escaped, so nothing a person typed can add a property. A reminder keeps its
//! UID for good and a later file has the higher sequence, so that taking the file
//! in again replaces the reminder instead of doubling it (RFC 5546, 2.1.5).

use super::stamp::utc_basic;
use crate::batch::Id;
use crate::present::LocalTime;
use crate::units::{EpochMs, Span};

/// When a reminder is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// At an instant; the alarm sounds so long before it.
    At(EpochMs, Span),
    /// On a day of the calendar, wherever the phone is then; the alarm sounds at
    /// nine in the morning.
    On(LocalTime),
}

/// One reminder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reminder {
    /// The load or canner it is about; with `kind` it names the reminder for good.
    pub about: Id,
    /// A short word that tells one subject's reminders apart, such as `rest`.
    pub kind: &'static str,
    /// When it is due.
    pub when: When,
    /// What it says.
    pub summary: String,
    /// More words.
    pub description: String,
}

/// The calendar file of some reminders, stamped with the time of writing.
#[must_use]
pub fn calendar(reminders: &[Reminder], written: EpochMs) -> String {
    let mut out = String::new();
    for text in ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Hearthjar//Reminders//EN"] {
        line(&mut out, text);
    }
    if let Some(stamp) = utc_basic(written) {
        for reminder in reminders {
            event(&mut out, reminder, &stamp, written);
        }
    }
    line(&mut out, "END:VCALENDAR");
    out
}

fn event(out: &mut String, reminder: &Reminder, stamp: &str, written: EpochMs) {
    let (start, trigger) = match reminder.when {
        When::At(at, ahead) => {
            let Some(at) = utc_basic(at) else { return };
            let minutes = ahead.at_least_zero().0 / 60_000;
            let sign = if minutes > 0 { "-" } else { "" };
            (format!("DTSTART:{at}"), format!("TRIGGER:{sign}PT{minutes}M"))
        }
        When::On(day) => (
            format!("DTSTART;VALUE=DATE:{:04}{:02}{:02}", day.year, day.month, day.day),
            "TRIGGER:PT9H".to_owned(),
        ),
    };
    line(out, "BEGIN:VEVENT");
    line(out, &format!("UID:{}-{}@hearthjar.invalid", reminder.about, reminder.kind));
    line(out, &format!("DTSTAMP:{stamp}"));
    // Minutes since 1970: rises with every writing and fits a 32-bit integer.
    line(out, &format!("SEQUENCE:{}", (written.0 / 60_000).clamp(0, i64::from(i32::MAX))));
    line(out, &start);
    if matches!(reminder.when, When::At(..)) {
        line(out, "DURATION:PT15M");
    }
    line(out, "TRANSP:TRANSPARENT");
    line(out, &format!("SUMMARY:{}", escape(&reminder.summary)));
    line(out, &format!("DESCRIPTION:{}", escape(&reminder.description)));
    line(out, "BEGIN:VALARM");
    line(out, "ACTION:DISPLAY");
    line(out, &trigger);
    line(out, &format!("DESCRIPTION:{}", escape(&reminder.summary)));
    line(out, "END:VALARM");
    line(out, "END:VEVENT");
}

/// TEXT escaping (RFC 5545, 3.3.11).
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(c);
            }
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Adds a content line, folded at 75 octets between characters (RFC 5545, 3.1).
fn line(out: &mut String, text: &str) {
    let mut octets = 0;
    for c in text.chars() {
        if octets + c.len_utf8() > 75 {
            out.push_str("\r\n ");
            octets = 1;
        }
        out.push(c);
        octets += c.len_utf8();
    }
    out.push_str("\r\n");
}
