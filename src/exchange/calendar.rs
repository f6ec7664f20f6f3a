//! Reminders as an iCalendar file (RFC 5545), for a phone that sleeps.
//!
//! Invariant: every line ends in CRLF and is at most 75 octets long; text is
//! escaped, so nothing a person typed can add a property.

use crate::batch::Id;
use crate::units::EpochMs;
use chrono::{DateTime, Utc};

/// One reminder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reminder {
    /// The load it is about; with `kind` it names the reminder for good.
    pub load: Id,
    /// A short word that tells the load's reminders apart, such as `rest`.
    pub kind: &'static str,
    /// When it is due.
    pub at: EpochMs,
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
    for reminder in reminders {
        let (Some(at), Some(written)) = (utc(reminder.at), utc(written)) else { continue };
        line(&mut out, "BEGIN:VEVENT");
        line(&mut out, &format!("UID:{}-{}@hearthjar.invalid", reminder.load, reminder.kind));
        line(&mut out, &format!("DTSTAMP:{written}"));
        line(&mut out, &format!("DTSTART:{at}"));
        line(&mut out, "DURATION:PT15M");
        line(&mut out, &format!("SUMMARY:{}", escape(&reminder.summary)));
        line(&mut out, &format!("DESCRIPTION:{}", escape(&reminder.description)));
        line(&mut out, "BEGIN:VALARM");
        line(&mut out, "ACTION:DISPLAY");
        line(&mut out, "TRIGGER:PT0S");
        line(&mut out, &format!("DESCRIPTION:{}", escape(&reminder.summary)));
        line(&mut out, "END:VALARM");
        line(&mut out, "END:VEVENT");
    }
    line(&mut out, "END:VCALENDAR");
    out
}

/// Date and time in UTC form (RFC 5545, 3.3.5, form 2).
fn utc(at: EpochMs) -> Option<String> {
    use chrono::{Datelike, Timelike};
    let at: DateTime<Utc> = DateTime::from_timestamp_millis(at.0)?;
    Some(format!(
        "{:04}{:02}{:02}T{:02}{:02}{:02}Z",
        at.year(),
        at.month(),
        at.day(),
        at.hour(),
        at.minute(),
        at.second()
    ))
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
