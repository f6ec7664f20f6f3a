//! Sentences that must be seen: a record that is not being saved, the latest news.
//!
//! Invariant: bad news about storage stays until it is over; nothing hides it.

use crate::app::draw::{El, button, el, link, of, say};
use crate::app::store::{Storage, Store};
use hearthjar::present::Route;
use hearthjar::t;
use leptos::prelude::*;

/// What is wrong with the record on this phone, if anything.
pub fn lost_bars(store: Store) -> Vec<El> {
    let mut bars = Vec::new();
    if let Storage::Lost(why) = store.storage.get() {
        let stays = say("p", t!("The run goes on while this page stays open. ")).child(link(
            "",
            &Route::HandOver.hash(),
            t!("Hand over what is here now"),
        ));
        bars.push(
            of("div", "lost")
                .child(el("p").child(say("strong", t!("Nothing is being saved. "))).text(&why))
                .child(stays)
                .child(button("", t!("Try to save again"), move || store.try_again(true))),
        );
    }
    let apart = store.apart.with(Vec::len);
    if apart > 0 {
        let rows = match apart {
            1 => t!(
                "1 row of the record could not be read. It is kept as it is and never written over."
            )
            .to_owned(),
            _ => t!(
                "{} rows of the record could not be read. What they hold is kept as it is and \
                 never written over.",
                apart
            ),
        };
        bars.push(of("div", "lost").child(say("p", &rows)).child(button(
            "",
            t!("Hand them out as a file"),
            move || store.hand_out_unread(),
        )));
    }
    bars
}

/// The latest sentence, with its undo.
pub fn notice_box(store: Store) -> Vec<El> {
    let Some(notice) = store.notice.get() else { return Vec::new() };
    let undo = (!notice.undo.is_empty()).then(|| {
        let names = notice.undo.clone();
        button("", t!("Undo"), move || {
            store.notice.set(None);
            store.undo(names.clone());
        })
    });
    vec![
        of("div", if notice.bad { "notice bad" } else { "notice" })
            .child(say("p", &notice.text))
            .maybe(undo)
            .child(button("", t!("Close"), move || store.notice.set(None))),
    ]
}
