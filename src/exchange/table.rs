//! Tables of jars and batches for a spreadsheet, as comma-separated text.
//!
//! Invariant: RFC 4180 (CRLF, quotes doubled, every row of one width), UTF-8 with
//! a byte-order mark; no text cell can be read as a formula.
//!
//! The byte-order mark is there because spreadsheets otherwise take the text for
//! an old one-byte encoding. A text that begins with `=`, `+`, `-`, `@`, a tab or a
//! line break, or a full-width form of one, gets an apostrophe in front (OWASP, CSV
//! Injection); white space before such a character is looked through, since some
//! spreadsheets do so too. Whole numbers, such as an altitude of -10, stay numbers.

use super::stamp::{Local, utc_extended};
use crate::batch::{Archive, Batch, JarState, Load};
use crate::present::LocalTime;
use crate::process::Food;
use crate::run::Stage;
use crate::shelf::BEST_WITHIN;
use crate::units::EpochMs;

const JAR_HEAD: &[&str] = &[
    "content",
    "food",
    "pack",
    "jar size",
    "batch",
    "load",
    "jar",
    "state",
    "doubt",
    "since (local)",
    "canned (local)",
    "canned (UTC)",
    "best by (local)",
    "place",
    "minutes",
    "psi",
    "gauge",
    "altitude ft",
    "canner",
    "lid lot",
    "publication",
];

const BATCH_HEAD: &[&str] = &[
    "content",
    "food",
    "pack",
    "jar size",
    "batch",
    "begun (local)",
    "begun (UTC)",
    "place",
    "altitude ft",
    "loads",
    "jars",
    "sealed",
    "not sealed or broken",
    "dealt with",
    "taken out",
    "not checked",
    "notes",
];

/// One row a jar, batch by batch.
#[must_use]
pub fn jar_table(archive: &Archive, local: Local<'_>) -> String {
    let mut table = Table::new(JAR_HEAD);
    for (batch, load) in archive.loads() {
        for number in 1..=load.jars.len() {
            jar_row(&mut table, batch, load, number, local);
        }
    }
    table.out
}

fn jar_row(table: &mut Table, batch: &Batch, load: &Load, number: usize, local: Local<'_>) {
    let Some(jar) = u16::try_from(number).ok().and_then(|number| load.jar(number)) else { return };
    heading(table, batch);
    table.whole(i64::from(load.number));
    table.whole(i64::from(jar.number));
    let canned = load.run.full_hold().map(|(_, end)| end);
    let (state, since) = match (canned, load.run.stage()) {
        (None, Stage::Stopped(at)) => ("stopped, not processed", Some(at)),
        (None, Stage::Loading) => ("planned", None),
        (None, stage) if load.is_disputed() => ("full time disputed", stage.since()),
        (None, stage) => ("in the canner", stage.since()),
        (Some(_), _) => state(jar.state),
    };
    table.text(&state.replace('_', " "));
    table.text(if jar.held { "held back" } else { "" });
    table.text(&since.map_or(String::new(), |at| day_and_time(local(at))));
    table.text(&canned.map_or(String::new(), |at| day_and_time(local(at))));
    table.text(&canned.map_or(String::new(), utc_extended));
    table.text(&canned.map_or(String::new(), |at| local(at.plus(BEST_WITHIN)).date()));
    table.text(load.place_of(jar.number).map_or("", |place| place.as_str()));
    let plan = load.run.plan();
    table.whole(i64::from(plan.hold.0));
    // A table is read by machines: its mark is the point, whatever the page shows.
    table.text(&plan.pressure.to_string().replace(',', "."));
    table.text(load.plan.gauge.name());
    altitude(table, batch);
    table.text(load.plan.canner.as_str());
    table.text(load.lids.as_str());
    table.text(&load.plan.publication);
    table.end_row();
}

/// One row a batch.
#[must_use]
pub fn batch_table(archive: &Archive, local: Local<'_>) -> String {
    let mut table = Table::new(BATCH_HEAD);
    for batch in archive.batches() {
        heading(&mut table, batch);
        let begun = batch.start.as_ref().map(|(at, _)| *at);
        table.text(&begun.map_or(String::new(), |at| day_and_time(local(at))));
        table.text(&begun.map_or(String::new(), utc_extended));
        table.text(batch.start.as_ref().map_or("", |(_, start)| start.place.as_str()));
        altitude(&mut table, batch);
        table.count(batch.loads.len());
        table.count(batch.loads.iter().map(|load| load.jars.len()).sum());
        let count = |is: fn(JarState) -> bool| batch.loads.iter().map(|load| load.count(is)).sum();
        table.count(count(|state| matches!(state, JarState::Sealed(_))));
        table.count(count(|state| matches!(state, JarState::NotSealed(_) | JarState::Broken(_))));
        table.count(count(|state| matches!(state, JarState::Settled(..))));
        table.count(count(|state| matches!(state, JarState::Taken(..))));
        table.count(count(|state| matches!(state, JarState::Unchecked)));
        let mut notes = String::new();
        for (_, _, note) in &batch.notes {
            if !notes.is_empty() {
                notes.push('\n');
            }
            notes.push_str(note.as_str());
        }
        table.text(&notes);
        table.end_row();
    }
    table.out
}

/// The first cells of a row in both tables.
fn heading(table: &mut Table, batch: &Batch) {
    let start = batch.start.as_ref().map(|(_, start)| start);
    table.text(start.map_or("", |start| start.content.as_str()));
    let food = start.map_or("", |start| start.product.as_str());
    table.text(Food::by_key(food).map_or(food, |food| food.name()));
    table.text(start.map_or("", |start| start.pack.name()));
    table.text(start.map_or("", |start| start.jar.name()));
    table.text(&batch.id.to_string());
}

fn altitude(table: &mut Table, batch: &Batch) {
    match &batch.start {
        Some((_, start)) => table.whole(i64::from(start.altitude.feet())),
        None => table.text(""),
    }
}

fn day_and_time(at: LocalTime) -> String {
    format!("{} {:02}:{:02}", at.date(), at.hour, at.minute)
}

fn state(state: JarState) -> (&'static str, Option<EpochMs>) {
    match state {
        JarState::Unchecked => ("not checked", None),
        JarState::Sealed(at) => ("sealed", Some(at)),
        JarState::NotSealed(at) => ("not sealed", Some(at)),
        JarState::Broken(at) => ("broken", Some(at)),
        JarState::Settled(at, way) => (way.key(), Some(at)),
        JarState::Taken(at, how) => (how.key(), Some(at)),
    }
}

/// A table being written.
struct Table {
    out: String,
    fresh: bool,
}

impl Table {
    fn new(head: &[&str]) -> Self {
        let mut table = Self { out: String::from("\u{feff}"), fresh: true };
        for name in head {
            table.text(name);
        }
        table.end_row();
        table
    }

    fn next(&mut self) {
        if !self.fresh {
            self.out.push(',');
        }
        self.fresh = false;
    }

    /// A cell of text.
    fn text(&mut self, text: &str) {
        self.next();
        self.out.push('"');
        if is_formula(text) {
            self.out.push('\'');
        }
        for c in text.chars() {
            match c {
                '"' => self.out.push_str("\"\""),
                c => self.out.push(c),
            }
        }
        self.out.push('"');
    }

    /// A cell of a whole number.
    fn whole(&mut self, number: i64) {
        self.next();
        self.out.push_str(&number.to_string());
    }

    fn count(&mut self, number: usize) {
        self.whole(i64::try_from(number).unwrap_or(i64::MAX));
    }

    fn end_row(&mut self) {
        self.out.push_str("\r\n");
        self.fresh = true;
    }
}

/// Whether a spreadsheet might read the text as a formula.
fn is_formula(text: &str) -> bool {
    let danger = |c: char| matches!(c, '=' | '+' | '-' | '@' | '＝' | '＋' | '－' | '＠');
    text.starts_with(['\t', '\r', '\n']) || text.trim_start().starts_with(danger)
}
