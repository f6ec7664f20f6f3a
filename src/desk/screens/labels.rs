//! Labels of a batch, laid out on paper for the browser to print.
//!
//! Invariant: what is printed is what is shown; the geometry is the library's.

use crate::app::device::{dom, local, prefs};
use crate::app::draw::{El, Var, button, derive, el, link, memo, of, region, signal, svg};
use crate::app::parts::{choices, foot, heading, page, stepper};
use crate::app::store::Store;
use hearthjar::batch::Id;
use hearthjar::exchange::{Block, Drawn, LIDS, Paper, Placed, Shape, label, sheets};
use hearthjar::json::Json;
use hearthjar::present::Route;
use hearthjar::words::Word;
use hearthjar::{t, w};

/// What was chosen, kept for the next time.
#[derive(Clone, Copy, PartialEq)]
struct Choice {
    letter: bool,
    /// Kind of label: place in `LIDS`, or past its end for the side of a jar.
    kind: usize,
    /// Diameters for each lid, then width and height of a side label, mm.
    sizes: [u16; 4],
}

const KEY: &str = "labels";
const KINDS: [(&str, Word); 3] =
    [("regular", w!("Lid, regular")), ("wide", w!("Lid, wide")), ("side", w!("Side of the jar"))];
/// Name, least and most of each size, mm.
const SIZES: [(Word, u16, u16); 4] = [
    (w!("Diameter, mm"), 40, 70),
    (w!("Diameter, mm"), 40, 86),
    (w!("Width, mm"), 40, 150),
    (w!("Height, mm"), 25, 100),
];

impl Choice {
    fn load() -> Self {
        let [regular, wide] = LIDS;
        let language = local::language();
        // Letter is the paper of these lands (common practice, no source).
        let letter = language.ends_with("-US") || language.ends_with("-CA");
        let mut choice = Self { letter, kind: 0, sizes: [regular.label, wide.label, 80, 45] };
        let Some(json) = prefs::get(KEY) else { return choice };
        choice.letter = json.flag_of("letter");
        choice.kind = json.whole_of("kind").unwrap_or(0).min(KINDS.len() - 1);
        for ((size, name), (_, least, most)) in choice.sizes.iter_mut().zip(NAMES).zip(SIZES) {
            *size = json.whole_of(name).unwrap_or(*size).clamp(least, most);
        }
        choice
    }

    fn save(self) {
        let whole = |number: u16| Json::whole(i64::from(number));
        let [regular, wide, width, height] = self.sizes;
        prefs::set(
            KEY,
            &Json::object([
                ("letter", Json::Bool(self.letter)),
                ("kind", whole(u16::try_from(self.kind).unwrap_or(0))),
                ("regular", whole(regular)),
                ("wide", whole(wide)),
                ("width", whole(width)),
                ("height", whole(height)),
            ]),
        );
    }

    const fn paper(self) -> Paper {
        if self.letter { Paper::Letter } else { Paper::A4 }
    }

    fn shape(self) -> Shape {
        let [regular, wide, width, height] = self.sizes.map(|mm| u32::from(mm) * 100);
        match self.kind {
            0 => Shape::Round(regular),
            1 => Shape::Round(wide),
            _ => Shape::Side(width, height),
        }
    }
}

const NAMES: [&str; 4] = ["regular", "wide", "width", "height"];

/// The screen of a batch's labels.
pub fn labels(store: Store, batch: Id) -> Vec<El> {
    let choice = signal(Choice::load());
    let change = move |with: &dyn Fn(&mut Choice)| {
        choice.update(|choice| with(choice));
        choice.get_untracked().save();
    };
    // Drawn anew only when the words themselves change.
    let words = memo(move || {
        store.look(|archive| {
            let mut words: Vec<(u16, Vec<Vec<Block>>)> = Vec::new();
            let Some(batch) = archive.batch(batch) else { return words };
            for load in &batch.loads {
                if let Some(label) = label(batch, load) {
                    let jars = label.jars.iter().map(|jar| label.blocks(*jar, &local::time));
                    words.push((load.number, jars.collect()));
                }
            }
            words
        })
    });
    let load = signal(0_u16);
    let chosen = move || -> Vec<Vec<Block>> {
        let one = load.get();
        let mut all = Vec::new();
        for (number, jars) in words.get() {
            if one == 0 || one == number {
                all.extend(jars);
            }
        }
        all
    };
    let paper = derive(move || if choice.get().letter { "letter" } else { "a4" }.to_owned());
    let kind =
        derive(move || KINDS.get(choice.get().kind).map_or("side", |(key, _)| key).to_owned());
    let kept = memo(move || choice.get().kind);
    let controls = vec![
        heading(t!("Labels")),
        of("p", "quiet").text(t!(
            "Print at full size: 100 %, not “fit to page”. Stick them on once the jars are \
                 wiped and the seals checked."
        )),
        choices(
            t!("Paper"),
            "paper",
            &[("a4", "A4"), ("letter", t!("Letter"))],
            paper,
            move |key| {
                change(&move |choice| choice.letter = key == "letter");
            },
        ),
        choices(
            t!("Label for"),
            "kind",
            &KINDS.map(|(key, name)| (key, name.say())),
            kind,
            move |key| {
                let place = KINDS.iter().position(|(own, _)| *own == key).unwrap_or(0);
                change(&move |choice| choice.kind = place);
            },
        ),
        region(move || sizes(choice, kept.get(), change)),
        region(move || loads(load, words.get().iter().map(|(number, _)| *number).collect())),
        el("p").attr("role", "status").text_by(move || {
            let (labels, sheets) = (chosen().len(), laid(choice.get(), &chosen()).len());
            match (labels, sheets) {
                (1, 1) => t!("1 label on 1 sheet.").to_owned(),
                (1, sheets) => t!("1 label on {} sheets.", sheets),
                (labels, 1) => t!("{} labels on 1 sheet.", labels),
                (labels, sheets) => t!("{} labels on {} sheets.", labels, sheets),
            }
        }),
    ];
    let back = link("", &Route::Batch(batch).hash(), t!("Back to the batch"));
    vec![
        page(vec![
            of("div", "unprinted").children(controls),
            of("div", "papers").fill(move || {
                let choice = choice.get();
                let sheets = laid(choice, &chosen());
                sheets.iter().map(|sheet| draw(choice.paper(), sheet)).collect()
            }),
            of("p", "over-title unprinted").child(back),
        ]),
        foot(vec![region(move || vec![print_button(store, words.get().is_empty())])]),
    ]
}

fn laid(choice: Choice, labels: &[Vec<Block>]) -> Vec<Vec<Placed>> {
    sheets(choice.paper(), choice.shape(), labels)
}

/// Printing stops the page, and with it the alarm, so it waits for a hot canner.
fn print_button(store: Store, none: bool) -> El {
    if store.is_running() {
        return of("p", "said").text(t!(
            "A canner is hot. Printing would hold up its alarm: print when the run is over."
        ));
    }
    if none {
        return of("p", "said").text(t!("No load of this batch has had its full time yet."));
    }
    button("main", t!("Print"), dom::print)
}

fn sizes(
    choice: Var<Choice>,
    kind: usize,
    change: impl Fn(&dyn Fn(&mut Choice)) + Copy + 'static,
) -> Vec<El> {
    let own: &[usize] = match kind {
        0 => &[0],
        1 => &[1],
        _ => &[2, 3],
    };
    let mut parts = Vec::new();
    for place in own.iter().copied() {
        let Some((name, least, most)) = SIZES.get(place).copied() else { continue };
        let value = derive(move || choice.get().sizes.get(place).copied().unwrap_or(least));
        parts.push(stepper(name.say(), value, least, most, move |mm| {
            change(&move |choice| {
                if let Some(size) = choice.sizes.get_mut(place) {
                    *size = mm;
                }
            });
        }));
    }
    if let Some(lid) = LIDS.get(kind) {
        parts.push(of("p", "quiet").text(&t!(
            "A {} mouth is {} mm across; {} mm keeps clear of the ring that seals.",
            lid.name,
            lid.mouth,
            lid.label
        )));
    }
    parts
}

/// Which load, if the batch has several.
fn loads(chosen: Var<u16>, numbers: Vec<u16>) -> Vec<El> {
    if numbers.len() < 2 {
        return Vec::new();
    }
    let pick = |number: u16, name: &str| {
        button("pick", name, move || chosen.set(number)).attr_by("aria-pressed", move || {
            Some(if chosen.get() == number { "true" } else { "false" }.to_owned())
        })
    };
    let mut buttons = vec![pick(0, t!("All loads"))];
    buttons.extend(numbers.iter().map(|number| pick(*number, &t!("Load {}", number))));
    vec![
        of("div", "row load-picks")
            .attr("role", "group")
            .attr("aria-label", t!("Loads"))
            .children(buttons),
    ]
}

fn draw(paper: Paper, sheet: &[Placed]) -> El {
    let (width, height) = paper.size();
    let labels = sheet.iter().map(placed).collect();
    let drawn = svg("svg")
        .attr("viewBox", &format!("0 0 {width} {height}"))
        .attr("role", "img")
        .attr("aria-label", &t!("Sheet of {} labels", sheet.len()))
        .children(labels);
    of("div", &format!("paper {}", paper.key())).child(drawn)
}

fn placed(one: &Placed) -> El {
    let Drawn { shape, lines } = &one.label;
    let (width, height) = shape.bounds();
    let number = |value: u32| value.to_string();
    let outline = match shape {
        Shape::Round(diameter) => svg("circle")
            .attr("cx", &number(diameter / 2))
            .attr("cy", &number(diameter / 2))
            .attr("r", &number((diameter / 2).saturating_sub(10))),
        Shape::Side(width, height) => svg("rect")
            .attr("x", "10")
            .attr("y", "10")
            .attr("width", &number(width.saturating_sub(20)))
            .attr("height", &number(height.saturating_sub(20)))
            .attr("rx", "200"),
    };
    let anchor = if matches!(shape, Shape::Round(_)) { "middle" } else { "start" };
    let texts = lines
        .iter()
        .map(|line| {
            svg("text")
                .attr("x", &number(line.x))
                .attr("y", &number(line.y))
                .attr("font-size", &number(line.size))
                .attr("font-weight", if line.strong { "700" } else { "400" })
                .attr("text-anchor", anchor)
                .text(&line.text)
        })
        .collect();
    svg("svg")
        .attr("class", "sticker")
        .attr("x", &number(one.x))
        .attr("y", &number(one.y))
        .attr("width", &number(width))
        .attr("height", &number(height))
        .attr("viewBox", &format!("0 0 {width} {height}"))
        .child(outline.attr("class", "cut"))
        .children(texts)
}
