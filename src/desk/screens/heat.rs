//! The heat a load was given: at the outside of the jars and at the cold point.
//!
//! Invariant: said to be an explanation before any figure is shown, and every figure
//! has its range and what it rests on.

use crate::app::draw::{El, el, link, memo, of, region, say};
use crate::app::parts::{chart, foot, heading, items, legend, page, section, stroke};
use crate::app::store::Store;
use hearthjar::batch::Id;
use hearthjar::heat::{Account, COMPOSITION, Cold, Delivered, JAR_SIZES, SCATTER, account};
use hearthjar::present::Route;
use hearthjar::words::Word;
use hearthjar::{t, w};

const NO_PROOF: Word = w!(
    "This explains what the canner did. It neither proves nor replaces the tested process: a load \
     is processed by its full time at the tested pressure, and by nothing else."
);
const UNIT: Word = w!(
    "Figures are in minutes at 250 °F (121.1 °C) that would kill as much as the whole run did, 18 \
     °F (10 °C) making a tenfold difference: the F0 of the trade."
);
const NONE: Word = w!(
    "Nothing to show for this load yet. It is worked out once the full time is over and the pressure is gone. A load that did not get its full time never has any: no other heat makes up for that."
);

/// The screen of a load's heat.
pub fn heat(store: Store, batch: Id, load: Id) -> Vec<El> {
    let found = memo(move || {
        store.look(|archive| {
            let batch = archive.batch(batch)?;
            account(batch.load(load)?, &batch.start.as_ref()?.1)
        })
    });
    let number = store
        .look_now(|archive| archive.batch(batch)?.load(load).map(|load| load.number))
        .unwrap_or(1);
    let what = store.name_of(batch, number);
    let back = Route::Load(batch, load).hash();
    vec![
        region(move || {
            let mut parts = vec![
                of("p", "over-title").child(link("", &back, &what)),
                heading(t!("Heat the jars got")),
            ];
            match found.get() {
                Some(account) => parts.extend(shown(&account)),
                None => parts.push(of("p", "lead").text(NONE.say())),
            }
            let why = link("", &Route::Warming.hash(), t!("Why the full time"));
            parts.push(of("p", "over-title").child(why));
            vec![page(parts)]
        }),
        foot(vec![link("main", &Route::Load(batch, load).hash(), t!("Back to the load"))]),
    ]
}

/// Tenths of a minute as text.
fn minutes(tenths: u32) -> String {
    if tenths == 0 {
        t!("under 0.1").to_owned()
    } else {
        hearthjar::units::with_tenth(tenths.into())
    }
}

fn range(of: Delivered) -> String {
    t!("{} to {} min##of heat", minutes(of.least), minutes(of.most))
}

fn figure(name: &str, delivered: Delivered) -> El {
    of("div", "lot")
        .child(say("p", name))
        .child(of("p", "big").text(&t!("about {} min", minutes(delivered.likely))))
        .child(of("p", "quiet").text(&t!("somewhere from {}", range(delivered))))
}

fn shown(account: &Account) -> Vec<El> {
    let mut parts = vec![of("p", "said").text(NO_PROOF.say()), of("p", "quiet").text(UNIT.say())];
    parts.push(figure(t!("At the outside of the jars"), account.wall));
    match account.cold {
        Cold::Estimated { by_make_up, as_measured } => {
            parts.push(figure(t!("At the cold point of a jar, by estimate"), by_make_up));
            parts.push(of("p", "").text(&t!(
                "Packs as slow and as fast as were ever measured would have had {}. So no sum \
                 like this can stand in for a tested time.",
                range(as_measured)
            )));
        }
        Cold::NotFish => parts.push(of("p", "").text(t!(
            "No estimate for the cold point: in this food liquid moves and carries the heat, \
                 or its make-up is not on file. The picture of a solid pack does not hold."
        ))),
        Cold::NoSize => parts.push(
            of("p", "")
                .text(t!("No estimate for the cold point: the size of this jar is not on file.")),
        ),
    }
    parts.push(drawing(account));
    parts.push(table(account));
    parts.push(section(t!("What this rests on")));
    parts.push(items("plain", RESTS_ON.map(Word::say)));
    parts.extend([COMPOSITION, JAR_SIZES, SCATTER].map(|text| of("p", "source").text(text.say())));
    parts.push(of("p", "source").text(t!(
        "Steam: U.S. Standard Atmosphere 1976 and IAPWS-IF97. Warming: conduction in a \
             cylinder, Carslaw and Jaeger."
    )));
    parts
}

const RESTS_ON: [Word; 7] = [
    w!("Between two readings the pressure was at least at the figure: the least. The likely line \
         joins the readings."),
    w!("A gauge may be half a psi off (an allowance, no source), the day's air 3 kPa."),
    w!("A drop that nobody read may have gone down to zero."),
    w!("Fish goes in at 32 to 77 °F (0 to 25 °C); glass is 1 to 5 mm thick (allowances, no \
         source)."),
    w!("The pressure was gone at some time from halfway between heat off and the weight coming \
         off."),
    w!("The pack is solid fish without moving juice; its middle is the cold point."),
    w!("Least and most take everything unknown at its worst and its best at once."),
];

fn drawing(account: &Account) -> El {
    let words =
        t!("Steam and the cold point of a jar against time; the table below has the figures.");
    let mut drawing = chart(
        words,
        ["°F", t!("minutes since the heat went on"), "°C"],
        &account.levels,
        &account.ticks,
    );
    let mut lines = vec![("steam", t!("steam"))];
    if !account.centre.is_empty() {
        drawing =
            drawing.child(stroke("band", &account.band)).child(stroke("centre", &account.centre));
        lines.extend([("centre", t!("cold point, likely")), ("band", t!("least to most"))]);
    }
    el("figure").child(drawing.child(stroke("steam", &account.steam))).child(legend(&lines))
}

fn table(account: &Account) -> El {
    let head = [t!("Minutes"), t!("Steam"), t!("Cold point")]
        .map(|name| say("th", name).attr("scope", "col"));
    let rows = account
        .rows
        .iter()
        .map(|row| el("tr").children(row.iter().map(|cell| say("td", cell)).collect()));
    el("details").child(say("summary", t!("As a table"))).child(
        of("table", "figures-table")
            .child(el("thead").child(el("tr").children(head.into())))
            .child(el("tbody").children(rows.collect())),
    )
}
