//! Files in: looked at first, then taken in whole or not at all.
//!
//! Invariant: nothing changes before the tap that says so, and one tap takes it
//! out again.

use crate::app::device::{files, local};
use crate::app::draw::{El, Var, button, el, of, region, say, signal, spawn, typed};
use crate::app::store::{Storage, Store};
use hearthjar::exchange::{
    BatchChange, Change, Intake, MAX_FILE_BYTES, Preview, ReadError, preview, read_any,
};
use hearthjar::t;
use wasm_bindgen::JsValue;

/// What is being looked at.
#[derive(Clone, PartialEq)]
enum Look {
    Nothing,
    Bad(String),
    Good(Box<Preview>),
    TakenIn(Box<Intake>),
}

/// The lower part of the hand-over screen, drawn into the place left for it there.
pub fn take_in(store: Store) -> Vec<El> {
    let look = signal(Look::Nothing);
    let pasted = signal(String::new());
    let examine = move |text: &str| {
        look.set(match read_any(text) {
            Ok(events) => Look::Good(Box::new(store.look_now(|a| preview(a, events)))),
            Err(error) => Look::Bad(error.to_string()),
        });
    };
    let pick = move || {
        spawn(async move {
            match files::pick(MAX_FILE_BYTES).await {
                files::Picked::Text(text) => examine(&text),
                files::Picked::TooBig => look.set(Look::Bad(ReadError::TooBig.to_string())),
                files::Picked::NotText => look.set(Look::Bad(ReadError::Foreign.to_string())),
                files::Picked::Cancelled => {}
            }
        });
    };
    let paste = el("textarea")
        .attr("rows", "3")
        .prop_by("value", move || JsValue::from_str(&pasted.get()))
        .on("input", move |event| pasted.set(typed(&event)));
    vec![
        say("p", t!("You see what a file holds before anything changes.")),
        button("main", t!("Choose a file"), pick),
        of("label", "field")
            .child(of("span", "name").text(t!("Or paste its text, or that of a picture code")))
            .child(paste),
        button("second", t!("Look at the pasted text"), move || {
            pasted.with_untracked(|text| examine(text));
        }),
        region(move || match look.get() {
            Look::Nothing => Vec::new(),
            Look::Bad(text) => vec![of("p", "answer no").attr("role", "alert").text(&text)],
            Look::Good(found) => vec![looked(store, *found, look)],
            Look::TakenIn(intake) => vec![taken(store, *intake, look)],
        })
        .attr("aria-live", "polite"),
    ]
}

fn line(one: &BatchChange) -> El {
    let content = one.content.as_ref().map_or(t!("Batch without its beginning"), |c| c.as_str());
    let day = one.began.map_or(String::new(), |at| format!(", {}", local::time(at).date()));
    let change = match one.change {
        Change::New => t!("new").to_owned(),
        Change::Same => t!("the same as here").to_owned(),
        Change::Grown(1) => t!("1 entry more").to_owned(),
        Change::Grown(entries) => t!("{} entries more", entries),
    };
    let line = say("li", &format!("{content}{day}: {change}"));
    if one.disputed.is_empty() {
        return line;
    }
    line.text(" ").child(of("span", "late").text(t!(
        "Another phone says that the pressure fell in a load of it: its jars would be held until you settle that."
    )))
}

fn looked(store: Store, found: Preview, look: Var<Look>) -> El {
    let household = (found.household > 0)
        .then(|| say("p", &t!("Canners and places: {} entries more.", found.household)));
    let lines = found.batches.iter().map(line).collect();
    let intake = found.intake;
    let main = if intake.add.is_empty() {
        of("p", "lead").text(t!("All of it is here already."))
    } else if store.storage.with_untracked(|storage| *storage != Storage::Ready) {
        of("p", "lead").text(t!("Nothing can be saved now. Keep the file, and take it in later."))
    } else {
        button("main", t!("Take it in"), move || {
            let intake = intake.clone();
            spawn(async move {
                if store.keep(intake.add.clone()).await {
                    look.set(Look::TakenIn(Box::new(intake)));
                }
            });
        })
    };
    of("div", "answer yes")
        .child(say("h2", t!("In this file")))
        .child(of("ul", "plain").children(lines))
        .maybe(household)
        .child(main)
        .child(button("second", t!("Leave it"), move || look.set(Look::Nothing)))
}

fn taken(store: Store, intake: Intake, look: Var<Look>) -> El {
    let text = t!("{} entries were taken in.", intake.add.len());
    of("div", "notice").child(say("p", &text)).child(button(
        "",
        t!("Take them out again"),
        move || {
            let intake = intake.clone();
            spawn(async move {
                if store.drop_events(intake.names()).await && !intake.replaced.is_empty() {
                    store.keep(intake.replaced).await;
                }
                look.set(Look::Nothing);
            });
        },
    ))
}
