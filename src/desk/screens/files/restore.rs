//! A backup put in the place of the record.
//!
//! Invariant: what would come and go is shown first; what is done is what was
//! shown; never while a canner is hot; and it can be taken back, after a reload too.

use crate::app::device::{clock, files, local};
use crate::app::draw::{El, Var, button, el, of, region, say, signal, spawn};
use crate::app::store::Store;
use hearthjar::batch::Event;
use hearthjar::exchange::{
    BatchFate, Fate, MAX_FILE_BYTES, ReadError, Restore, Swap, read, restore,
};
use hearthjar::units::EpochMs;
use hearthjar::words::Word;
use hearthjar::{t, w};

const HOT: Word =
    w!("A canner is hot. Finish that run first: nothing is replaced under a running clock.");
const FIRST: Word = w!(
    "First decide about the last restore, below: put back what was here before it, or keep that backup for good."
);
/// Most batches listed one by one.
const LISTED: usize = 40;

/// What is being looked at.
#[derive(Clone, PartialEq)]
enum Look {
    Nothing,
    Bad(String),
    /// The file's events, and what they would do.
    Good(Box<(Vec<Event>, Restore)>),
}

type Back = Var<Option<(EpochMs, Swap)>>;

/// The part of the screen for restoring.
pub(super) fn restore_part(store: Store) -> Vec<El> {
    let look = signal(Look::Nothing);
    let back: Back = signal(None);
    refresh(store, back);
    let pick = move || {
        spawn(async move {
            let found = match files::pick(MAX_FILE_BYTES).await {
                files::Picked::Text(text) => examine(store, &text).await,
                files::Picked::TooBig => Look::Bad(ReadError::TooBig.to_string()),
                files::Picked::NotText => Look::Bad(ReadError::Foreign.to_string()),
                files::Picked::Cancelled => return,
            };
            look.set(found);
        });
    };
    vec![
        el("details")
            .child(say("summary", t!("Restore a backup")))
            .child(say(
                "p",
                t!("A restore puts a backup in the place of what is on this phone. To add to it \
                     instead, take the file in under Hand over. You see what would change first."),
            ))
            .child(button("second", t!("Choose a backup"), pick)),
        region(move || match look.get() {
            Look::Nothing => Vec::new(),
            Look::Bad(text) => vec![of("p", "answer no").attr("role", "alert").text(&text)],
            Look::Good(found) => vec![shown(store, *found, look, back)],
        })
        .attr("aria-live", "polite"),
        region(move || {
            back.get().map(|(at, swap)| way_back(store, at, swap, back)).into_iter().collect()
        }),
    ]
}

/// Looks whether the last restore can be taken back.
fn refresh(store: Store, back: Back) {
    spawn(async move {
        back.set(store.way_back().await);
    });
}

/// Looks at a text beside the record as it is on disk now.
async fn examine(store: Store, text: &str) -> Look {
    match read(text) {
        Ok(events) if store.freshen().await => {
            let found = store.look_now(|archive| restore(archive, events.clone()));
            Look::Good(Box::new((events, found)))
        }
        Ok(_) => {
            Look::Bad(t!("Nothing can be saved here now, so nothing can be restored.").to_owned())
        }
        Err(error) => Look::Bad(error.to_string()),
    }
}

fn entries(count: usize) -> String {
    if count == 1 { t!("1 entry").to_owned() } else { t!("{} entries", count) }
}

fn batches(count: usize) -> String {
    if count == 1 { t!("1 batch").to_owned() } else { t!("{} batches", count) }
}

fn line(one: &BatchFate) -> El {
    let content = one.content.as_ref().map_or(t!("Batch without its beginning"), |c| c.as_str());
    let day = one.began.map_or(String::new(), |at| format!(", {}", local::time(at).date()));
    let fate = match one.fate {
        Fate::New => t!("would come").to_owned(),
        Fate::Same => t!("stays as it is").to_owned(),
        Fate::Changed { come, go: 0 } => t!("{} would come", entries(come)),
        Fate::Changed { come: 0, go } => t!("{} would go", entries(go)),
        Fate::Changed { come, go } => t!("{} would come, {} would go", entries(come), go),
        Fate::Gone => t!("would go: it is not in the backup").to_owned(),
    };
    let class = if matches!(one.fate, Fate::Gone) { "late" } else { "" };
    el("li").text(&format!("{content}{day}: ")).child(of("span", class).text(&fate))
}

fn shown(store: Store, found: (Vec<Event>, Restore), look: Var<Look>, back: Back) -> El {
    let (events, restore) = found;
    let leave = button("second", t!("Leave it"), move || look.set(Look::Nothing));
    let count = |is: fn(&Fate) -> bool| restore.batches.iter().filter(|one| is(&one.fate)).count();
    let (same, gone) = (count(|f| *f == Fate::Same), count(|f| *f == Fate::Gone));
    // What goes stands first; what stays is only counted.
    let (go, rest): (Vec<&BatchFate>, Vec<&BatchFate>) = restore
        .batches
        .iter()
        .filter(|one| one.fate != Fate::Same)
        .partition(|one| one.fate == Fate::Gone);
    let lines: Vec<El> = go.into_iter().chain(rest).take(LISTED).map(line).collect();
    let more = restore.batches.len().saturating_sub(same + lines.len());
    let mut box_ = of("div", "answer")
        .child(say("h2", t!("If you restore this")))
        .child(of("ul", "plain").children(lines));
    if more > 0 {
        box_ = box_.child(say("p", &t!("And {} more.", batches(more))));
    }
    if same > 0 {
        box_ = box_.child(say("p", &t!("The same here and there: {}.", batches(same))));
    }
    let (come, went) = restore.household;
    if come + went > 0 {
        let text = t!("Canners and places: {} would come, {} would go.", entries(come), went);
        box_ = box_.child(say("p", &text));
    }
    if restore.swap.is_empty() {
        return box_
            .child(of("p", "lead").text(t!("The backup and this phone are the same.")))
            .child(leave);
    }
    let label = match gone {
        0 => t!("Replace the record").to_owned(),
        1 => t!("Replace the record: 1 batch goes").to_owned(),
        gone => t!("Replace the record: {} go", batches(gone)),
    };
    // One way back is kept: another restore would write over it.
    if back.with(Option::is_some) {
        return box_.child(of("p", "lead").text(FIRST.say())).child(leave);
    }
    let act = button("danger", &label, move || {
        let (events, shown) = (events.clone(), restore.clone());
        spawn(async move {
            if store.is_hot() {
                return store.warn(HOT.say());
            }
            if !store.freshen().await {
                return store.warn(t!("The record cannot be read now. Reload, then look again."));
            }
            // The other half of the page or another tab may have added something.
            let now =
                store.look_now(|archive| hearthjar::exchange::restore(archive, events.clone()));
            if store.is_hot() {
                return store.warn(HOT.say());
            }
            if now != shown {
                store.warn(t!("The record has changed since you looked. Look again, then tap."));
                look.set(Look::Good(Box::new((events, now))));
                return;
            }
            let text = now.swap.to_text(clock::now());
            match store.swap(now.swap, Some(text)).await {
                Ok(()) => {
                    look.set(Look::Nothing);
                    refresh(store, back);
                    store.say(t!("The backup is in place."));
                }
                Err(why) => store.warn(why),
            }
        });
    });
    box_.child(act).child(leave)
}

fn way_back(store: Store, at: EpochMs, swap: Swap, back: Back) -> El {
    let local = local::time(at);
    let text = t!(
        "On {} a backup took the place of the record here: {} came, {} went.",
        local.date(),
        entries(swap.come.len()),
        swap.go.len()
    );
    let sure = signal(false);
    of("div", "answer")
        .child(say("p", &text))
        .child(button("second", t!("Put back what was here before"), move || {
            let swap = swap.clone();
            spawn(async move {
                if !store.freshen().await || store.is_hot() {
                    return store.warn(HOT.say());
                }
                match store.swap(swap.reverse(), None).await {
                    Ok(()) => {
                        refresh(store, back);
                        store.say(t!("The record is as it was. What was added since has stayed."));
                    }
                    Err(why) => store.warn(why),
                }
            });
        }))
        .child(region(move || {
            if !sure.get() {
                return vec![button("second", t!("Keep the backup for good"), move || {
                    sure.set(true)
                })];
            }
            vec![
                button("danger", t!("For good: what was here before goes"), move || {
                    spawn(async move {
                        if store.let_go().await {
                            store.say(t!("The backup stays. What was here before it is gone."));
                        } else {
                            store.warn(t!(
                                "The phone's storage would not have it. Nothing has changed."
                            ));
                        }
                        refresh(store, back);
                    });
                }),
                button("second", t!("Not yet"), move || sure.set(false)),
            ]
        }))
}
