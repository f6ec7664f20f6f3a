//! A batch as a picture code for another phone's camera.
//!
//! Invariant: dark on light in every colour scheme, as cameras need it; too large a
//! batch is said to be so, with the way that works.

use crate::app::device::files;
use crate::app::draw::{El, button, el, link, memo, of, region, say, spawn, svg};
use crate::app::parts::{heading, page};
use crate::app::store::Store;
use hearthjar::batch::Id;
use hearthjar::exchange::{Picture, TooLarge, picture};
use hearthjar::present::Route;
use hearthjar::t;

/// The screen of a batch's picture code.
pub fn picture_screen(store: Store, batch: Id) -> Vec<El> {
    let made = memo(move || store.look(|archive| picture(archive.events(batch))));
    let back = link("", &Route::Batch(batch).hash(), t!("Back to the batch"));
    vec![page(vec![
        heading(t!("Picture code")),
        region(move || match made.get() {
            Ok(made) => shown(store, made),
            Err(why) => too_large(why),
        }),
        of("p", "over-title").child(back),
    ])]
}

fn too_large(why: TooLarge) -> Vec<El> {
    vec![
        of("p", "answer no").text(&why.to_string()),
        link("main", &Route::HandOver.hash(), t!("Hand over as a file")),
    ]
}

fn shown(store: Store, made: Picture) -> Vec<El> {
    let side = made.side.to_string();
    let drawn = svg("svg")
        .attr("class", "code")
        .attr("viewBox", &format!("0 0 {side} {side}"))
        .attr("role", "img")
        .attr("aria-label", t!("Picture code of this batch"))
        .child(svg("rect").attr("width", &side).attr("height", &side).attr("fill", "#fff"))
        .child(svg("path").attr("d", &made.path).attr("fill", "#000"));
    let text = made.text.clone();
    let copy = button("second", t!("Copy the text instead"), move || {
        let text = text.clone();
        spawn(async move {
            if files::copy(&text).await {
                store.say(t!("Copied. Paste it into a message."));
            } else {
                store.warn(t!("This browser would not copy. Select the text below."));
            }
        });
    });
    vec![
        drawn,
        of("ol", "plain")
            .child(say(
                "li",
                t!("On the other phone, open the camera and point it at the picture."),
            ))
            .child(say("li", t!("Copy the text it finds, all of it.")))
            .child(say("li", t!("There, open Hearthjar, Hand over, and paste it under Take in."))),
        copy,
        el("details")
            .child(say("summary", t!("The text in the picture")))
            .child(of("p", "digits-text").text(&made.text)),
    ]
}
