//! One raw lot: its step, its clocks, what to know, and the way on.
//!
//! Invariant: with a published limit passed there is no way to the canner from
//! here; what was tapped wrong can be taken back.

use crate::app::device::dom::show;
use crate::app::draw::{Derived, El, Var, button, derive, el, link, memo, of, region, say, signal};
use crate::app::parts::{
    choices, due_at, foot, heading, items, page, section, stepper, take_back, when_short, why,
};
use crate::app::store::Store;
use hearthjar::batch::{Batch, Body, Id};
use hearthjar::lot::{Kept, LotEnd, LotMove, LotSaid, LotStep, RawLot, Standing, step_words};
use hearthjar::present::{
    Route, cold_line, digits, kept_choices, limit_lines, next_steps, not_yet,
};
use hearthjar::process::Food;
use hearthjar::t;
use hearthjar::units::{EpochMs, Span};

/// The lot's screen.
pub fn raw(store: Store, id: Id) -> Vec<El> {
    let is = memo(move || store.look(|archive| archive.batch(id).cloned()));
    vec![region(move || {
        let Some(batch) = is.get() else { return gone() };
        let Some(lot) = batch.lot.clone() else { return gone() };
        shown(store, &batch, lot)
    })]
}

fn gone() -> Vec<El> {
    vec![page(vec![
        heading(t!("Not here")),
        of("p", "lead").text(t!("This phone has no such lot.")),
        link("second", &Route::Raws.hash(), t!("All lots")),
    ])]
}

/// Until when the lot's clocks run: now, or when the last load's heat went on.
fn until(batch: &Batch, now: EpochMs) -> EpochMs {
    if batch.waiting_lot().is_some() {
        return now;
    }
    let heats = batch.loads.iter().filter_map(|load| load.run.heat_on());
    heats.max().unwrap_or(now)
}

fn shown(store: Store, batch: &Batch, lot: RawLot) -> Vec<El> {
    let id = batch.id;
    let at = lot.now();
    let food = Food::by_key(&lot.start().food).map_or("", Food::name);
    let mut parts = vec![
        of("p", "over-title").child(link("", &Route::Raws.hash(), t!("Before the canner"))),
        heading(lot.start().name.as_str()),
    ];
    if lot.start().demo {
        parts.push(of("p", "said").text(t!("Invented example")));
    }
    parts.push(of("p", "lead").text(food));
    parts.push(clock(store, batch, &lot));
    parts.push(state(at, batch, store));
    if let Some(strength) = lot.brine() {
        let text = t!(
            "Brine: {} percent salt by weight, {} degrees salometer.",
            strength.percent(),
            strength.degrees()
        );
        parts.push(say("p", &text));
    }
    parts.push(limits(store, batch, &lot));
    let open = lot.ended().is_none() && batch.waiting_lot().is_some();
    if open {
        let words = step_words(at.step, lot.group());
        if !words.is_empty() {
            let lines = words
                .iter()
                .map(|one| {
                    say("li", one.text())
                        .text(" ")
                        .child(of("span", "source").text(one.publication()))
                })
                .collect();
            parts.push(section(t!("At this step")));
            parts.push(of("ul", "plain").children(lines));
        }
        parts.push(section(t!("Next")).attr("id", "next"));
        parts.push(next(store, id, &lot));
    }
    parts.push(history(store, &lot));
    parts.push(leave(store, batch, open));
    let mut lower = vec![way_on(store, batch, &lot, open)];
    if open {
        lower.insert(0, button("second", t!("Record its next step"), || show("next")));
    }
    vec![page(parts), foot(lower)]
}

/// The step's own clock.
fn clock(store: Store, batch: &Batch, lot: &RawLot) -> El {
    let (since, lot) = (lot.now().since, lot.clone());
    let batch = batch.clone();
    let name = lot.now().step.name();
    of("div", "lot-clock")
        .child(say("b", name))
        .child(of("p", "big").text_by(move || {
            let now = until(&batch, store.now.get());
            digits(now.since(since))
        }))
        .child(of("p", "quiet").text(&t!("since {}", due_at(store, since))))
}

fn state(at: LotMove, batch: &Batch, store: Store) -> El {
    let place = match at.step {
        LotStep::Frozen | LotStep::Smoking => String::new(),
        _ => t!("Kept: {}. ", at.kept.name()),
    };
    let batch = batch.clone();
    el("p").text(&place).text_by(move || {
        let until = until(&batch, store.now.get());
        batch.lot.as_ref().map_or_else(String::new, |lot| cold_line(lot, until))
    })
}

/// Every limit; drawn anew only when one begins, comes near or is passed.
fn limits(store: Store, batch: &Batch, lot: &RawLot) -> El {
    let (batch, lot) = (batch.clone(), lot.clone());
    let now = memo(move || {
        let until = until(&batch, store.now.get());
        (limit_lines(&lot, until), lot.together(until))
    });
    // All but what is left of each: a reason that was opened stays open meanwhile.
    let lines = memo(move || {
        let (mut lines, together) = now.get();
        for line in &mut lines {
            line.left.clear();
        }
        (lines, together)
    });
    of("ul", "limits").attr("aria-label", t!("Limits")).fill(move || {
        let (lines, together) = lines.get();
        let mut list: Vec<El> = lines
            .into_iter()
            .enumerate()
            .map(|(at, line)| {
                let left = move || {
                    now.with(|(lines, _)| lines.get(at).map(|line| line.left.clone()))
                        .unwrap_or_default()
                };
                let class = match line.standing {
                    Standing::Inside => "limit",
                    Standing::Near => "limit near",
                    Standing::Over => "limit over",
                };
                let word = match line.standing {
                    Standing::Inside => "",
                    Standing::Near => t!("Soon: "),
                    Standing::Over => t!("Passed: "),
                };
                of("li", class)
                    .child(el("b").text(word).text_by(left))
                    .child(say("p", line.text))
                    .maybe(line.over.map(|over| say("p", over)))
                    .child(why("", line.publication))
            })
            .collect();
        list.extend(together.map(|text| of("li", "limit near").text(text)));
        list
    })
}

/// Where it is kept, for a step that leaves a choice.
pub(super) fn kept_choice(step: Derived<LotStep>, kept: Var<Kept>, name: &'static str) -> El {
    let names: Vec<_> = Kept::ALL.iter().map(|kept| (kept.key(), kept.name())).collect();
    region(move || {
        if kept_choices(step.get()).is_empty() {
            return Vec::new();
        }
        let now = derive(move || kept.get().key().to_owned());
        vec![choices(t!("Where it is"), name, &names, now, move |key| {
            if let Some(one) = Kept::from_key(key) {
                kept.set(one);
            }
        })]
    })
}

fn next(store: Store, id: Id, lot: &RawLot) -> El {
    let at = lot.now();
    let steps = next_steps(lot);
    let first = steps.first().copied().unwrap_or(LotStep::Packing);
    let step = signal(first);
    let kept = signal(first.usual());
    let ago = signal(0_u16);
    let record = move |step: LotStep, kept: Kept| {
        let back = Span::minutes(i64::from(ago.get_untracked()));
        let since = store.now.get_untracked().plus(Span(0).minus(back));
        store.act(id, Body::Lot(LotSaid::Moved(LotMove { step, kept, since })));
    };
    let mut names: Vec<(&'static str, &'static str)> =
        steps.iter().map(|step| (step.key(), step.name())).collect();
    let stay = kept_choices(at.step);
    if !stay.is_empty() {
        names.push((at.step.key(), t!("same step, another place")));
    }
    let chosen = derive(move || step.get().key().to_owned());
    let go = el("button")
        .attr("type", "button")
        .attr("class", "second")
        .disabled_if(move || store.busy.get())
        .text_by(move || t!("Record: {}", step.get().name().to_lowercase()))
        .on("click", move |_| record(step.get_untracked(), kept.get_untracked()));
    el("div")
        .child(choices(t!("It goes to"), "lot-next", &names, chosen, move |key| {
            if let Some(next) = LotStep::from_key(key) {
                step.set(next);
                kept.set(next.usual());
            }
        }))
        .child(kept_choice(step.into(), kept, "lot-next-kept"))
        .child(stepper(t!("Minutes ago"), ago.into(), 0, 600, move |n| ago.set(n)))
        .child(go)
        .maybe(
            (at.step == LotStep::Brining)
                .then(|| link("second", &Route::Brine.hash(), t!("Work out or record the brine"))),
        )
}

fn history(store: Store, lot: &RawLot) -> El {
    let lines: Vec<String> = lot
        .moves()
        .iter()
        .map(|one| {
            let place = match one.step {
                LotStep::Frozen | LotStep::Smoking => String::new(),
                _ => format!(", {}", one.kept.name()),
            };
            format!("{}: {}{place}", when_short(store, one.since), one.step.name())
        })
        .collect();
    el("details")
        .child(say("summary", t!("All its steps")))
        .child(items("plain", lines.iter().map(String::as_str)))
}

fn leave(store: Store, batch: &Batch, open: bool) -> El {
    let id = batch.id;
    let undo =
        batch.last.filter(|_| batch.loads.is_empty()).map(|event| take_back(store, id, event));
    let end = move |how| store.act(id, Body::Lot(LotSaid::Ended(how)));
    let ends = open.then(|| {
        of("details", "stop")
            .child(say("summary", t!("It will not be canned")))
            .child(button("second", t!("Cooked, eaten or used"), move || end(LotEnd::Used)))
            .child(button("second", t!("Thrown out##a lot"), move || end(LotEnd::Discarded)))
    });
    of("div", "leave").maybe(undo).maybe(ends)
}

/// The main action: to the finder with this lot, unless a limit was passed.
fn way_on(store: Store, batch: &Batch, lot: &RawLot, open: bool) -> El {
    let id = batch.id;
    if let Some((_, end)) = lot.ended() {
        return of("p", "quiet").text(match end {
            LotEnd::Used => t!("Used without canning."),
            LotEnd::Discarded => t!("Thrown out."),
        });
    }
    if let (Some(_), Some(load)) = (&batch.start, batch.loads.last()) {
        return link("main", &Route::Load(id, load.id).hash(), t!("To its load"));
    }
    if !open {
        return link("main", &Route::Batch(id).hash(), t!("To its batch"));
    }
    let lot = lot.clone();
    region(move || {
        let passed = lot.passed(store.now.get());
        vec![match (passed.first(), not_yet(lot.now().step)) {
            (Some(check), _) => of("p", "said").text(check.limit.over()),
            (None, Some(text)) => of("p", "quiet").text(text),
            (None, None) => link("main", &Route::FindFor(id).hash(), t!("Can this lot")),
        }]
    })
}
