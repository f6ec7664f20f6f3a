//! The running clock: digits to be read across a kitchen, and a filling jar.
//!
//! Invariant: drawn from the load and the wall clock at each tick; it holds no time.

use super::text::due_at;
use crate::app::store::Store;
use hearthjar::batch::Load;
use hearthjar::present::{Clock, RunView, digits, words};
use hearthjar::units::EpochMs;
use leptos::prelude::*;

/// The inside of the drawn jar: top and height, in its own units.
const TOP: f64 = 26.0;
const HEIGHT: f64 = 88.0;

/// The clock of a load.
pub fn clock_face(store: Store, load: Memo<Option<Load>>) -> AnyView {
    let clock = Memo::new(move |_| {
        let now = store.now.get();
        load.with(|load| load.as_ref().map_or(Clock::None, |load| view_clock(load, now)))
    });
    view! {
        {move || match clock.get() {
            Clock::None => ().into_any(),
            Clock::Since(_) | Clock::Left { .. } | Clock::Over { .. } => {
                view! {
                    <div class="clock" class:over=move || matches!(clock.get(), Clock::Over { .. })>
                        {jar(clock)}
                        <div>
                            <p class="digits" role="timer" aria-atomic="true">
                                {move || digits_of(clock.get())}
                            </p>
                            <p class="below">{move || below(store, clock.get())}</p>
                        </div>
                    </div>
                }
                .into_any()
            }
        }}
    }
    .into_any()
}

fn view_clock(load: &Load, now: EpochMs) -> Clock {
    RunView::of(load, now, "", &[]).clock
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
        Clock::Since(_) => "since this step began".to_owned(),
        Clock::Left { due, .. } => format!("left, until {}", due_at(store, due)),
        Clock::Over { by, due } => {
            format!("over since {}, {} ago", due_at(store, due), words(by))
        }
    }
}

/// A jar that fills as the time runs.
fn jar(clock: Memo<Clock>) -> AnyView {
    let filled = move || match clock.get() {
        Clock::Left { left, whole, .. } if whole.0 > 0 => 1.0 - left.0 as f64 / whole.0 as f64,
        Clock::Over { .. } => 1.0,
        _ => 0.0,
    };
    // Whole units only: the drawing then changes seldom, and so does the screen.
    let level = Memo::new(move |_| (filled() * HEIGHT).round());
    view! {
        <svg class="jar" viewBox="0 0 80 124" aria-hidden="true">
            <rect class="jar-fill" x="10" width="60"
                y=move || TOP + HEIGHT - level.get() height=move || level.get() />
            <path class="jar-glass" d="M18 14h44v7c9 3 12 8 12 16v68c0 8-4 12-12 12H18c-8 0-12-4-12-12V37c0-8 3-13 12-16z" />
            <path class="jar-band" d="M16 4h48v9H16z" />
        </svg>
    }
    .into_any()
}
