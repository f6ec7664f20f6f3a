//! A year at the shelf: put up and gone, month by month, and how seals held.
//!
//! Invariant: every chart has its table beside it; the months are those of the
//! phone's time zone.

use super::year_charts::{months_chart, rates_chart, shares_chart};
use crate::app::device::local;
use crate::app::draw::{El, button, el, link, memo, of, region, say, signal};
use crate::app::parts::{heading, page, section};
use crate::app::store::Store;
use hearthjar::present::Route;
use hearthjar::shelf::{Rate, Share, Year, Yield, span, yields};
use hearthjar::t;
use hearthjar::units::Mass;
use hearthjar::w;
use hearthjar::words::Word;

/// Names of the months, short.
pub(super) const MONTHS: [Word; 12] = [
    w!("Jan"),
    w!("Feb"),
    w!("Mar"),
    w!("Apr"),
    w!("May"),
    w!("Jun"),
    w!("Jul"),
    w!("Aug"),
    w!("Sep"),
    w!("Oct"),
    w!("Nov"),
    w!("Dec"),
];

/// The year's screen.
pub fn year(store: Store) -> Vec<El> {
    let this = local::time(store.now.get_untracked()).year;
    let shown = signal(this);
    let years = memo(move || {
        store.look(span).map(|(first, last)| (local::time(first).year, local::time(last).year))
    });
    let turn = region(move || {
        let now = shown.get();
        let (first, last) = years.get().unwrap_or((now, now));
        let step = |label: &str, to: u16, may: bool| {
            button("pick", &to.to_string(), move || shown.set(to))
                .attr("aria-label", &format!("{label}: {to}"))
                .disabled_if(move || !may)
        };
        vec![
            of("div", "row turn")
                .child(step(t!("Year before"), now.saturating_sub(1), now > first))
                .child(say("output", &now.to_string()))
                .child(step(t!("Year after"), now.saturating_add(1), now < last.max(this))),
        ]
    });
    let body = region(move || {
        let now = shown.get();
        let months = local::months(now);
        let [from, .., to] = months;
        let (year, yields) =
            store.look(|archive| (Year::of(archive, &months), yields(archive, from, to)));
        let mut parts = drawn(&year);
        parts.extend(yielded(&yields, store.habit(|prefs| prefs.metric)));
        parts
    });
    vec![page(vec![
        of("p", "over-title").child(link("", &Route::Shelf.hash(), t!("Shelf"))),
        heading(t!("Jars by year")),
        turn,
        body,
    ])]
}

fn drawn(year: &Year) -> Vec<El> {
    let total = year.total();
    if total == hearthjar::shelf::Month::default() && year.canners.is_empty() {
        return vec![of("p", "said").text(t!("Nothing was put up or taken out in this year."))];
    }
    let figure = |count: u32, words: &str| {
        el("span").child(say("b", &count.to_string())).text(" ").text(words)
    };
    let figures = vec![
        figure(total.put_up, t!("put up")),
        figure(total.eaten, t!("eaten")),
        figure(total.given, t!("given")),
        figure(total.thrown, t!("thrown out")),
    ];
    let mut parts = vec![
        of("p", "figures").children(figures),
        section(t!("Jars put up and eaten")),
        months_chart(&year.months),
        months_table(year),
    ];
    parts.extend(rates(t!("Seals by lid lot"), t!("Lid lot"), t!("no lot on record"), &year.lids));
    parts.extend(rates(
        t!("Seals by canner"),
        t!("Canner"),
        t!("no canner on record"),
        &year.canners,
    ));
    parts
}

fn head(names: &[&str]) -> El {
    let cells = names.iter().map(|name| say("th", name).attr("scope", "col")).collect();
    el("thead").child(el("tr").children(cells))
}

fn line(name: &str, numbers: &[String]) -> El {
    let cells = numbers.iter().map(|number| say("td", number)).collect();
    el("tr").child(say("th", name).attr("scope", "row")).children(cells)
}

fn months_table(year: &Year) -> El {
    let busy = MONTHS.iter().zip(&year.months).filter(|(_, month)| **month != Default::default());
    let lines = busy.map(|(name, month)| {
        let counts = [month.put_up, month.eaten, month.given, month.thrown];
        line(name.say(), &counts.map(|count| count.to_string()))
    });
    let heads = [t!("Month"), t!("Put up"), t!("Eaten"), t!("Given"), t!("Thrown out##jars")];
    of("div", "table-box")
        .attr("tabindex", "0")
        .child(el("table").child(head(&heads)).child(el("tbody").children(lines.collect())))
}

fn rates(title: &str, what: &str, unknown: &str, rates: &[Rate]) -> Vec<El> {
    if rates.is_empty() {
        return Vec::new();
    }
    let name = |rate: &Rate| match rate.name.is_empty() {
        true => unknown.to_owned(),
        false => rate.name.as_str().to_owned(),
    };
    let lines = rates.iter().map(|rate| {
        let percent = rate.percent().map_or_else(String::new, |percent| format!("{percent}%"));
        let counts = [rate.checked.to_string(), rate.sealed.to_string(), percent];
        let mut cells = counts.to_vec();
        cells.push(rate.lost.to_string());
        line(&name(rate), &cells)
    });
    let heads = [what, t!("Checked##jars"), t!("Sealed##jars"), t!("Of 100"), t!("Lost later")];
    let table = el("table").child(head(&heads)).child(el("tbody").children(lines.collect()));
    let named: Vec<(String, &Rate)> = rates.iter().map(|rate| (name(rate), rate)).collect();
    vec![
        section(title),
        rates_chart(&named),
        of("div", "table-box").attr("tabindex", "0").child(table),
    ]
}

/// What was weighed and what of it went into jars.
fn yielded(yields: &[Yield], metric: bool) -> Vec<El> {
    if yields.is_empty() {
        return Vec::new();
    }
    let weight = |grams: u64| {
        let mass = u32::try_from(grams).ok().and_then(|grams| Mass::from_grams(grams).ok());
        mass.map_or_else(|| format!("{} kg", grams / 1_000), |mass| mass.show(metric))
    };
    let mut lines = Vec::new();
    let mut bars: Vec<(String, u64)> = Vec::new();
    let mut add = |name: String, share: Share| {
        if let Some(percent) = share.percent() {
            let cells = [weight(share.before), weight(share.packed), format!("{percent}%")];
            lines.push(line(&name, &cells));
            bars.push((name, percent));
        }
    };
    for one in yields {
        add(t!("{}, whole", one.name()), one.whole);
        add(t!("{}, cleaned", one.name()), one.dressed);
    }
    let heads = [t!("Weighed as"), t!("Before"), t!("In jars"), t!("Of 100")];
    let table = el("table").child(head(&heads)).child(el("tbody").children(lines));
    vec![section(t!("Yield")), shares_chart(&bars), of("div", "table-box").child(table)]
}
