//! A new doubt: what was found, which jars it touches, what to do with them.
//!
//! Invariant: the list is shown before anything is marked; jars given away or
//! eaten are listed too, for people to be told.

use crate::app::device::local;
use crate::app::draw::{El, Var, button, derive, el, link, memo, of, region, say, signal};
use crate::app::parts::{choices, number_field, section};
use crate::app::store::{Notice, Store, new_id};
use hearthjar::batch::{Cause, Id, Text, Verdict};
use hearthjar::doubt::{
    LoadTouched, Mark, Suspect, Touched, Where, altitudes, findings, hold, lid_lots, said, touched,
};
use hearthjar::present::Route;
use hearthjar::units::Altitude;
use hearthjar::words::{Word, fill};
use hearthjar::{t, w};

/// Loads listed at once; the rest on request.
const LISTED: usize = 40;

/// Something that may have been found: a suspect, its kind, the words for the record.
#[derive(Clone, PartialEq)]
struct Found {
    suspect: Suspect,
    cause: Cause,
    say: String,
}

const KINDS: &[(&str, Word)] = &[
    ("gauge", w!("A dial read high")),
    ("altitude", w!("A place lies higher")),
    ("lids", w!("Lids fail")),
];
const ABOUT: &[(&str, Word)] = &[
    ("dip", w!("The pressure fell and it was noticed too late")),
    ("batch", w!("Something else about the whole batch")),
];

/// The part of the screen where a doubt begins.
pub(super) fn new_doubt(store: Store, about: Option<(Id, Id)>) -> Vec<El> {
    let kind = signal(String::new());
    let at = signal(usize::MAX);
    let feet = signal(String::new());
    let all = signal(false);
    let found = memo(move || {
        let kind = kind.get();
        let list = offered(store, about, &kind);
        let mut one = match list.as_slice() {
            [only] if kind != "altitude" => Some(only.clone()),
            list => list.get(at.get()).cloned(),
        }?;
        if let Suspect::Altitude { used, really, .. } = &mut one.suspect {
            *really = Altitude::parse(&feet.get(), false).ok()?;
            if *really <= *used {
                return None;
            }
            said::add_really(&mut one.say, *really);
        }
        Some(one)
    });
    let list = if about.is_some() { ABOUT } else { KINDS };
    let list: Vec<(&'static str, &str)> =
        list.iter().map(|(key, name)| (*key, name.say())).collect();
    let picks = region(move || {
        let kind = kind.get();
        let list = offered(store, about, &kind);
        if list.is_empty() && !kind.is_empty() {
            return vec![of("p", "said").text(nothing(&kind))];
        }
        if list.len() == 1 && kind != "altitude" {
            return Vec::new();
        }
        let picks = list.into_iter().enumerate().map(|(number, one)| {
            button("second", &said::shown(one.cause, &one.say), move || at.set(number))
                .attr_by("aria-pressed", move || Some((at.get() == number).to_string()))
        });
        let mut parts: Vec<El> = picks.collect();
        if kind == "altitude" {
            parts.push(number_field(t!("Its true altitude, feet"), feet));
        }
        parts
    });
    vec![
        section(t!("A new doubt")),
        choices(
            t!("What was found"),
            "doubt-kind",
            &list,
            derive(move || kind.get()),
            move |key| {
                at.set(usize::MAX);
                kind.set(key.to_owned());
            },
        ),
        el("div").child(picks),
        region(move || match found.get() {
            Some(one) => outcome(store, one, all, kind),
            None => Vec::new(),
        }),
    ]
}

fn nothing(kind: &str) -> &'static str {
    match kind {
        "gauge" => {
            t!("No check on record found a dial reading high. Note the check first, under More, \
                 Canners.")
        }
        "lids" => t!("No lid lot is on record. Note it with the jars, on the shelf."),
        _ => t!("Nothing is on record that this could touch."),
    }
}

/// What may have been found, of a kind.
fn offered(store: Store, about: Option<(Id, Id)>, kind: &str) -> Vec<Found> {
    let day = |at| local::time(at).date();
    store.look(|archive| match (kind, about) {
        ("gauge", _) => findings(archive)
            .into_iter()
            .map(|finding| Found {
                cause: Cause::GaugeHigh,
                say: said::gauge_high(finding.name.as_str(), finding.high, &day(finding.at)),
                suspect: Suspect::Gauge(finding.event),
            })
            .collect(),
        ("altitude", _) => altitudes(archive)
            .into_iter()
            .map(|(used, place)| Found {
                cause: Cause::WrongAltitude,
                say: said::canned_at(place.as_str(), used),
                suspect: Suspect::Altitude {
                    used,
                    place: (!place.is_empty()).then_some(place),
                    really: used,
                },
            })
            .collect(),
        ("lids", _) => lid_lots(archive)
            .into_iter()
            .map(|lot| Found {
                cause: Cause::LidLot,
                say: said::lids_of(lot.as_str()),
                suspect: Suspect::Lids(lot),
            })
            .collect(),
        ("dip" | "batch", Some((batch, load))) => {
            let Some(state) = archive.batch(batch) else { return Vec::new() };
            let content = state.start.as_ref().map_or("", |(_, start)| start.content.as_str());
            let number = state.load(load).map_or(0, |load| load.number);
            vec![match kind {
                "dip" => Found {
                    suspect: Suspect::Dip(batch, load),
                    cause: Cause::LateDip,
                    say: said::late_dip(content, number),
                },
                _ => Found {
                    suspect: Suspect::Batch(batch),
                    cause: Cause::Batch,
                    say: said::whole_batch(content),
                },
            }]
        }
        _ => Vec::new(),
    })
}

/// What a finding touches, and what can be done about it.
fn outcome(store: Store, one: Found, all: Var<bool>, kind: Var<String>) -> Vec<El> {
    let found = store.look(|archive| touched(archive, &one.suspect));
    let (here, held) = (found.count(Where::Here), found.count(Where::Held));
    let counts = [
        (here + held, t!("in the house")),
        (found.count(Where::Given), t!("given away: tell whoever has them")),
        (found.count(Where::Eaten), t!("eaten##of a recall")),
        (found.count(Where::Gone), t!("gone already")),
    ];
    let mut parts = vec![section(t!("What it touches"))];
    if found.loads.is_empty() {
        parts.push(of("p", "said").text(t!("No jar on record is touched by this.")));
        return parts;
    }
    let lines = counts.iter().filter(|(count, _)| *count > 0);
    parts.push(
        of("ul", "plain").children(
            lines
                .map(|(count, words)| {
                    el("li").child(say("b", &count.to_string())).text(&format!(" {words}"))
                })
                .collect(),
        ),
    );
    let unsure = found.loads.iter().filter(|load| !load.sure).count();
    if unsure > 0 {
        parts.push(of("p", "said").text(&t!(
            "{} of these loads have too little on record to be ruled out, so they are listed too.",
            unsure
        )));
    }
    if matches!(one.suspect, Suspect::Lids(_)) && found.unknown > 0 {
        parts.push(of("p", "said").text(&t!(
            "{} other loads have no lid lot on record: look at their lids.",
            found.unknown
        )));
    }
    parts.push(listed(&found, all));
    let many = here + held;
    if many > 0 {
        let ways = [
            (Verdict::Held, "main", t!("Hold {} jars", many)),
            (Verdict::Discarded, "danger", t!("Thrown out: all {} jars", many)),
        ];
        for (verdict, class, label) in ways {
            let (one, found) = (one.clone(), found.clone());
            parts.push(button(class, &label, move || mark(store, &one, &found, verdict, kind)));
        }
    }
    parts
}

fn listed(found: &Touched, all: Var<bool>) -> El {
    let loads: Vec<LoadTouched> = found.loads.clone();
    of("ul", "lines").fill(move || {
        let many = if all.get() { loads.len() } else { LISTED };
        let mut lines: Vec<El> = loads.iter().take(many).map(line).collect();
        if loads.len() > many {
            let more = t!("Show all {} loads", loads.len());
            lines.push(el("li").child(button("second", &more, move || all.set(true))));
        }
        lines
    })
}

fn line(load: &LoadTouched) -> El {
    let count = |is: Where| load.jars.iter().filter(|(_, now)| *now == is).count();
    let parts = [
        (count(Where::Here), w!("{} here")),
        (count(Where::Held), w!("{} held")),
        (count(Where::Given), w!("{} given")),
        (count(Where::Eaten), w!("{} eaten")),
        (count(Where::Gone), w!("{} gone")),
    ];
    let mut jars = String::new();
    for (count, name) in parts.into_iter().filter(|(count, _)| *count > 0) {
        if !jars.is_empty() {
            jars.push_str(", ");
        }
        jars.push_str(&fill(name, &[&count]));
    }
    let name = t!("{}, load {}", load.content.as_str(), load.load_number);
    let day = local::time(load.canned).date();
    let canned = if load.sure { t!("canned {}.", day) } else { t!("canned {}. Not sure.", day) };
    el("li").child(
        of("div", "line")
            .child(link("", &Route::Lot(load.batch, load.load).hash(), &name))
            .child(say("span", &jars))
            .child(of("span", "quiet").text(&canned)),
    )
}

fn mark(store: Store, one: &Found, found: &Touched, verdict: Verdict, kind: Var<String>) {
    let Ok(say) = Text::new(&one.say) else { return };
    let mark = Mark { doubt: new_id(), cause: one.cause, say, verdict };
    store.act_many(hold(found, &mark), move |undo| {
        // The doubt is on record now: the same one is not begun again.
        kind.set(String::new());
        let text = match verdict {
            Verdict::Held => {
                t!("Held. They stay on the shelf, marked, and are not taken out as eaten.")
            }
            Verdict::Discarded => t!("Noted as thrown out. How to do it safely stands below."),
        };
        store.notice.set(Some(Notice { text: text.to_owned(), bad: true, undo }));
    });
}
