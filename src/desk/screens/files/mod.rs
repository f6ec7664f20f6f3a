//! Backup, tables, calendar: what leaves the phone as a file.
//!
//! Invariant: each file says what happened to it; nothing here changes the record
//! but a restore, which says so first.

mod restore;

use crate::app::backups;
use crate::app::device::{clock, files, local};
use crate::app::draw::{El, button, link, of, region, say, signal, spawn};
use crate::app::parts::{heading, page, section};
use crate::app::store::Store;
use crate::app::written::written;
use hearthjar::batch::Archive;
use hearthjar::exchange::{Local, batch_table, calendar, jar_table, reminders};
use hearthjar::present::Route;
use hearthjar::t;

/// The screen of files.
pub fn files_screen(store: Store) -> Vec<El> {
    let mut parts = vec![heading(t!("Backup and files")), section(t!("Backup"))];
    parts.extend(backup(store));
    parts.extend(restore::restore_part(store));
    parts.extend(tables(store));
    parts.extend(reminders_part(store));
    parts.push(section(t!("Family")));
    parts.push(of("p", "quiet").text(t!(
        "Hand over gives single batches out and takes files in. Labels and picture codes are \
             on each batch's own screen."
    )));
    parts.push(of("p", "over-title").child(link("", &Route::HandOver.hash(), t!("Hand over"))));
    vec![page(parts)]
}

/// A file's name with today's date.
fn dated(store: Store, what: &str, end: &str) -> String {
    format!("hearthjar-{what}-{}.{end}", local::time(store.now.get_untracked()).date())
}

/// Gives a file out and says how that went; `done` runs if it left the phone.
fn give(store: Store, name: String, mime: &'static str, text: String, done: impl Fn() + 'static) {
    spawn(async move {
        match files::offer(&name, mime, &text).await {
            files::Offered::Shared => {
                done();
                store.say(t!("{} was shared.", name));
            }
            files::Offered::Downloaded => {
                done();
                store.say(t!("Saved as {}.", name));
            }
            files::Offered::Cancelled => {}
            files::Offered::Failed => store.warn(t!("This browser gives out no files.")),
        }
    });
}

fn backup(store: Store) -> Vec<El> {
    let made = signal(0_u32);
    let save = move || {
        spawn(async move {
            let text = written(store, &[]).await;
            give(store, dated(store, "backup", "txt"), "text/plain", text, move || {
                backups::made(store);
                made.update(|count| *count += 1);
            });
        });
    };
    vec![
        say(
            "p",
            t!("All batches, canners and places in one file. Keep it somewhere else than on this \
                 phone."),
        ),
        region(move || {
            made.track();
            let last =
                backups::last().map(|last| t!("Last backup: {}.", local::time(last.at).date()));
            let due = backups::reminder(store);
            let quiet = last.map(|text| of("p", "quiet").text(&text));
            let due = due.map(|text| of("p", "said").text(&text));
            quiet.into_iter().chain(due).collect()
        }),
        button("main", t!("Save a backup"), save),
    ]
}

fn tables(store: Store) -> Vec<El> {
    let table = move |what: &'static str, of: fn(&Archive, Local<'_>) -> String| {
        let text = store.look_now(|archive| of(archive, &local::time));
        give(store, dated(store, what, "csv"), "text/csv", text, || {});
    };
    vec![
        section(t!("Tables")),
        say("p", t!("For a spreadsheet: one row a jar, or one row a batch.")),
        button("second", t!("Jars as a table"), move || table("jars", jar_table)),
        button("second", t!("Batches as a table"), move || table("batches", batch_table)),
    ]
}

fn reminders_part(store: Store) -> Vec<El> {
    let all = move || {
        let now = clock::now();
        let list = store.look_now(|archive| reminders(archive, now, &local::time));
        if list.is_empty() {
            return store.say(t!("Nothing lies ahead: no rest, no deadline, no best-by date."));
        }
        give(store, dated(store, "reminders", "ics"), "text/calendar", calendar(&list, now), || {});
    };
    vec![
        section(t!("Calendar")),
        say(
            "p",
            t!("Ends of rests, deadlines for unsealed jars, best-by dates and gauge checks for \
                 the phone's own calendar. Take the file in again after changes: entries it knows \
                 are replaced."),
        ),
        button("second", t!("Reminders for my calendar"), all),
    ]
}
