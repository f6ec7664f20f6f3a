//! The first screen: what is hot, what is due, and the way to start.
//!
//! Invariant: while the record is still being read it shows the clocks of the
//! last visit, so that a cold start is never without them.

use crate::app::backups;
use crate::app::device::{keep, local};
use crate::app::draw::{El, el, link, memo, of, region, say};
use crate::app::parts::{due_at, foot, heading, page, section};
use crate::app::prefs::{ClockCopy, clocks};
use crate::app::store::Store;
use hearthjar::lot::Standing;
use hearthjar::present::{
    Due, LISTED, LotCard, Need, Route, RunView, agenda, digits, lot_cards, newest, words,
};
use hearthjar::t;
use hearthjar::units::Span;

/// The day's screen; `cold` while the record is being read.
pub fn today(store: Store, cold: bool) -> Vec<El> {
    if cold {
        let cards = clocks().into_iter().map(|copy| cold_card(store, copy)).collect();
        return vec![page(vec![
            heading(t!("Today")),
            of("p", "quiet").text(t!("Reading the record…")),
            of("ul", "cards").children(cards),
        ])];
    }
    // The list changes seldom; the clocks in it change every second.
    let list = memo(move || {
        let now = store.now.get();
        store.look(|archive| agenda(archive, now))
    });
    vec![
        page(vec![
            heading(t!("Today")),
            region(move || {
                let due = list.get();
                if due.is_empty() {
                    return vec![
                        of("p", "lead").text(t!("Nothing is on the stove and nothing is due.")),
                    ];
                }
                let cards = due.into_iter().filter_map(|due| card(store, due)).collect();
                vec![of("ul", "cards").children(cards)]
            }),
            region(move || lots(store)),
            link("second", &Route::Plan.hash(), t!("Plan a day")),
            region(move || backup(store)),
            region(move || batches(store)),
        ]),
        foot(vec![link("main", &Route::Find.hash(), t!("Can something"))]),
    ]
}

fn frame(class: &str, href: &str, big: El, say_text: &str, what: &str) -> El {
    framed(class, href, big, say("span", say_text), what)
}

fn framed(class: &str, href: &str, big: El, says: El, what: &str) -> El {
    let card = of("a", class)
        .attr("href", href)
        .child(big)
        .child(says)
        .child(of("span", "quiet").text(what));
    el("li").child(card)
}

fn big(text: impl Fn() -> String + 'static) -> El {
    of("span", "big").text_by(text)
}

/// Time left, or `over`.
fn left_or_over(left: Span) -> String {
    if left > Span::ZERO { digits(left) } else { t!("over").to_owned() }
}

fn cold_card(store: Store, copy: ClockCopy) -> El {
    let href = Route::Load(copy.batch, copy.load).hash();
    let (due, since) = (copy.due, copy.since);
    let left = big(move || {
        let now = store.now.get();
        due.map_or_else(|| digits(now.since(since)), |due| left_or_over(due.since(now)))
    });
    frame("card hot", &href, left, &copy.title, &copy.content)
}

fn card(store: Store, due: Due) -> Option<El> {
    let (content, load) = store.look_now(|archive| {
        let batch = archive.batch(due.batch)?;
        let content = batch.start.as_ref().map_or("", |(_, start)| start.content.as_str());
        Some((content.to_owned(), batch.load(due.load)?.clone()))
    })?;
    let what = t!("{}, load {}", content, load.number);
    let href = Route::Load(due.batch, due.load).hash();
    let still = |text: &str| of("span", "big").text(text);
    Some(match due.need {
        Need::Running => {
            let title = RunView::of(&load, store.now.get_untracked(), "", &[]).title;
            let run = load.run;
            let left = big(move || {
                let now = store.now.get();
                run.left(now).map_or_else(|| digits(run.elapsed(now)), left_or_over)
            });
            frame("card hot", &href, left, &title, &what)
        }
        Need::Disputed => frame(
            "card due",
            &href,
            still(t!("Settle")),
            t!("Two phones disagree: eat none of it until that is settled"),
            &what,
        ),
        Need::Unsealed(deadline) => {
            let left = big(move || {
                let left = deadline.since(store.now.get());
                if left > Span::ZERO { words(left) } else { t!("too late").to_owned() }
            });
            let says = move || match deadline > store.now.get() {
                true => t!("left to deal with jars that did not seal").to_owned(),
                false => t!("Throw out the jars that did not seal").to_owned(),
            };
            framed("card due", &href, left, el("span").text_by(says), &what)
        }
        Need::CheckSeals => {
            frame("card due", &href, still(t!("Check")), t!("Rested: check the seals"), &what)
        }
        Need::Planned => {
            frame("card", &href, still(t!("Load##verb")), t!("Planned: load the canner"), &what)
        }
        Need::Resting(until) => {
            let at = due_at(store, until);
            frame("card", &href, still(&at), t!("Resting. Check the seals then"), &what)
        }
    })
}

/// A word when a backup is due; not while a canner is hot.
fn backup(store: Store) -> Vec<El> {
    let due = backups::reminder(store).filter(|_| store.whole.get() && !store.is_running());
    let line = due.map(|text| {
        let way = link("", &Route::Files.hash(), t!("Back up"));
        of("div", "said").child(el("div").text(&text)).child(of("p", "over-title").child(way))
    });
    line.into_iter().collect()
}

/// The raw lots before the canner: one small card each.
fn lots(store: Store) -> Vec<El> {
    let cards = memo(move || {
        let now = store.now.get();
        store.look(|archive| lot_cards(archive, now))
    });
    let list = of("ul", "cards").fill(move || {
        let draw = |card: LotCard| {
            let (due, since, over) = (card.due, card.since, card.standing == Standing::Over);
            let clock = big(move || {
                let now = store.now.get();
                match due {
                    _ if over => t!("Over").to_owned(),
                    Some(due) if due.since(now) < Span::hours(24) => digits(due.since(now)),
                    Some(due) => words(due.since(now)),
                    None => words(now.since(since)),
                }
            });
            let class = if card.standing == Standing::Inside { "card" } else { "card due" };
            let what = format!("{}. {}", card.name, card.step);
            frame(class, &Route::Raw(card.batch).hash(), clock, card.say, &what)
        };
        cards.get().into_iter().map(draw).collect()
    });
    let way = link("line", &Route::Raws.hash(), t!("Thaw, brine, smoke: before the canner"));
    vec![section(t!("Before the canner")), list, way]
}

/// The latest batches, newest first.
fn batches(store: Store) -> Vec<El> {
    let list = store.look(|archive| {
        let mut list = Vec::new();
        for (at, id) in newest(archive, LISTED) {
            let Some(batch) = archive.batch(id) else { continue };
            let Some((_, start)) = &batch.start else { continue };
            let loads = match batch.loads.len() {
                1 => t!("1 load").to_owned(),
                loads => t!("{} loads", loads),
            };
            let when = format!("{}, {loads}", local::time(at).date());
            list.push((id, start.content.as_str().to_owned(), when));
        }
        list
    });
    if list.is_empty() {
        // Told while nothing would be left behind.
        let tell = keep::is_before_home_screen();
        return tell
            .then(|| {
                of("p", "said").text(t!(
            "Before your first batch, put Hearthjar on the home screen: tap Share, then Add to \
             Home Screen, and open it there. That copy keeps a record of its own; this browser \
             may clear the one here after some weeks without a visit."))
            })
            .into_iter()
            .collect();
    }
    let lines = list
        .into_iter()
        .map(|(id, content, when)| {
            el("li").child(
                of("a", "line")
                    .attr("href", &Route::Batch(id).hash())
                    .child(say("span", &content))
                    .child(of("span", "quiet").text(&when)),
            )
        })
        .collect();
    vec![section(t!("Batches")), of("ul", "lines").children(lines)]
}
