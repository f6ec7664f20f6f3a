//! The running clock: digits to be read across a kitchen, and a filling jar.
//!
//! Invariant: drawn from the load and the wall clock at each tick; it holds no time.

use super::text::due_at;
use crate::app::draw::{El, Known, memo, of, svg};
use crate::app::store::Store;
use hearthjar::batch::Load;
use hearthjar::present::{Clock, clock, digits, milestone, words};
use hearthjar::t;
use leptos::prelude::*;
use std::sync::Arc;

/// The inside of the drawn jar: top and height, in its own units.
const TOP: i64 = 26;
const HEIGHT: i64 = 88;

/// The clock of a load.
pub fn clock_face(store: Store, load: Known<Option<Arc<Load>>>) -> El {
    let clock = move || {
        let now = store.now.get();
        load.get().map_or(Clock::None, |load| clock(&load.run, now))
    };
    let parts = move || {
        let digits = digits_of(clock());
        // Hours and minutes are read from across the room, seconds are not.
        let cut = if digits.len() > 5 { digits.len() - 3 } else { digits.len() };
        (digits.get(..cut).unwrap_or("").to_owned(), digits.get(cut..).unwrap_or("").to_owned())
    };
    let heard = memo(move || match clock() {
        Clock::Left { left, whole, .. } => milestone(left, whole).unwrap_or_default(),
        _ => String::new(),
    });
    let read = of("div", "read")
        .child(
            of("p", "digits")
                .class_if("longest", move || digits_of(clock()).len() > 7)
                .attr("role", "timer")
                .text_by(move || parts().0)
                .child(of("span", "seconds").text_by(move || parts().1)),
        )
        .child(of("p", "below").text_by(move || below(store, clock())))
        .child(of("p", "heard").attr("role", "status").text_by(move || heard.get()));
    of("div", "clock")
        .class_if("none", move || clock() == Clock::None)
        .class_if("over", move || matches!(clock(), Clock::Over { .. }))
        .child(jar(clock))
        .child(read)
}

fn digits_of(clock: Clock) -> String {
    match clock {
        Clock::None => String::new(),
        Clock::Since(span) | Clock::Over { by: span, .. } => digits(span),
        Clock::Left { left, .. } => digits(left),
    }
}

fn below(store: Store, clock: Clock) -> String {
    match clock {
        Clock::None => String::new(),
        Clock::Since(_) => t!("since this step began").to_owned(),
        Clock::Left { due, .. } => t!("left, until {}", due_at(store, due)),
        Clock::Over { by, due } => {
            t!("over since {}, {} ago", due_at(store, due), words(by))
        }
    }
}

/// A jar that fills as the time runs, in whole units: it is drawn anew only when
/// the level changes.
fn jar(clock: impl Fn() -> Clock + Copy + 'static) -> El {
    let level = move || match clock() {
        Clock::Left { left, whole, .. } if whole.0 > 0 => {
            (whole.0 - left.0).clamp(0, whole.0) * HEIGHT / whole.0
        }
        Clock::Over { .. } => HEIGHT,
        _ => 0,
    };
    let fill = svg("rect")
        .attr("class", "jar-fill")
        .attr("x", "10")
        .attr("width", "60")
        .attr_by("y", move || Some((TOP + HEIGHT - level()).to_string()))
        .attr_by("height", move || Some(level().to_string()));
    let glass =
        "M18 14h44v7c9 3 12 8 12 16v68c0 8-4 12-12 12H18c-8 0-12-4-12-12V37c0-8 3-13 12-16z";
    svg("svg")
        .attr("class", "jar")
        .attr("viewBox", "0 0 80 124")
        .attr("aria-hidden", "true")
        .child(fill)
        .child(svg("path").attr("class", "jar-glass").attr("d", glass))
        .child(svg("path").attr("class", "jar-band").attr("d", "M16 4h48v9H16z"))
}
