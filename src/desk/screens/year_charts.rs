//! The year's charts: jars as rows of lids, seals as a ruled bar.
//!
//! Invariant: a chart never says what the table beside it does not; it is hidden
//! from readers that speak, which have the table.

use super::year::MONTHS;
use crate::app::draw::{El, svg};
use hearthjar::shelf::{Month, Rate};
use hearthjar::t;

/// Drawing units: a chart is this wide.
const WIDTH: u32 = 360;
/// Height of the months' bars.
const HIGH: u32 = 120;

fn at(tag: &'static str, class: &str, places: &[(&str, u32)]) -> El {
    let mut el = svg(tag).attr("class", class);
    for (name, value) in places {
        el = el.attr(name, &value.to_string());
    }
    el
}

fn chart(height: u32, parts: Vec<El>) -> El {
    svg("svg")
        .attr("class", "chart")
        .attr("viewBox", &format!("0 0 {WIDTH} {height}"))
        .attr("aria-hidden", "true")
        .children(parts)
}

/// Each month a jar's width: put up rises above the shelf board, gone hangs below.
pub(super) fn months_chart(months: &[Month; 12]) -> El {
    let gone = |month: &Month| month.eaten + month.given + month.thrown;
    let most = months.iter().map(|month| month.put_up.max(gone(month))).max().unwrap_or(0).max(1);
    let up = months.iter().map(|month| month.put_up).max().unwrap_or(0);
    let down = months.iter().map(gone).max().unwrap_or(0);
    // The board stands where the tallest of each side just fits.
    let scale = |jars: u32| jars * HIGH / most;
    let board = 24 + scale(up);
    let height = board + 22 + scale(down) + 24;
    let mut parts = Vec::new();
    for (number, (month, name)) in (0_u32..).zip(months.iter().zip(MONTHS)) {
        let x = number * 30 + 3;
        if month.put_up > 0 {
            let tall = scale(month.put_up).max(2);
            parts.push(at(
                "rect",
                "up",
                &[("x", x), ("y", board - tall), ("width", 24), ("height", tall)],
            ));
            parts.push(at(
                "rect",
                "lid",
                &[
                    ("x", x.saturating_sub(1)),
                    ("y", board - tall),
                    ("width", 26),
                    ("height", 5),
                    ("rx", 2),
                ],
            ));
            parts.push(count(x + 12, board - tall - 5, month.put_up));
        }
        let mut y = board + 22;
        let below = [("eaten", month.eaten), ("given", month.given), ("thrown", month.thrown)];
        for (class, jars) in below.into_iter().filter(|(_, jars)| *jars > 0) {
            let tall = scale(jars).max(2);
            parts.push(at("rect", class, &[("x", x), ("y", y), ("width", 24), ("height", tall)]));
            y += tall;
        }
        if gone(month) > 0 {
            parts.push(count(x + 12, y + 14, gone(month)));
        }
        let label = at("text", "month", &[("x", x + 12), ("y", board + 16)]);
        parts.push(label.text(name.say().get(..1).unwrap_or("")));
    }
    parts.push(at("rect", "board", &[("x", 0), ("y", board), ("width", WIDTH), ("height", 3)]));
    parts.extend(legend(height + 8));
    chart(height + 24, parts)
}

/// The colours by name; the sides of the board tell the rest.
fn legend(y: u32) -> Vec<El> {
    let names = [
        ("up", t!("put up")),
        ("eaten", t!("eaten")),
        ("given", t!("given")),
        ("thrown", t!("thrown out")),
    ];
    let mut parts = Vec::new();
    for (number, (class, name)) in (0_u32..).zip(names) {
        let x = number * 84;
        let mark = [("x", x), ("y", y), ("width", 12), ("height", 12)];
        parts.push(at("rect", class, &mark));
        parts.push(at("text", "key", &[("x", x + 16), ("y", y + 11)]).text(name));
    }
    parts
}

fn count(x: u32, y: u32, jars: u32) -> El {
    at("text", "count", &[("x", x), ("y", y)]).text(&jars.to_string())
}

/// One ruled bar a row: sealed filled, the rest dashed open.
pub(super) fn rates_chart(rates: &[(String, &Rate)]) -> El {
    let bars = rates.iter().map(|(name, rate)| Bar {
        name,
        full: rate.sealed.min(rate.checked),
        of: rate.checked.max(1),
        says: format!("{}/{}", rate.sealed, rate.checked),
    });
    ruled(&bars.collect::<Vec<Bar<'_>>>())
}

/// One ruled bar a row: of a hundred parts, those that went into jars.
pub(super) fn shares_chart(shares: &[(String, u64)]) -> El {
    let bars = shares.iter().map(|(name, percent)| Bar {
        name,
        full: u32::try_from(*percent).unwrap_or(100).min(100),
        of: 100,
        says: format!("{percent}%"),
    });
    ruled(&bars.collect::<Vec<Bar<'_>>>())
}

/// A bar: its name, how much of how much, and that in words.
struct Bar<'a> {
    name: &'a str,
    full: u32,
    of: u32,
    says: String,
}

fn ruled(bars: &[Bar<'_>]) -> El {
    let wide = WIDTH - 64;
    let mut parts = Vec::new();
    let mut y = 0;
    for bar in bars {
        let full = wide * bar.full / bar.of;
        parts.push(at("text", "name-of", &[("x", 0), ("y", y + 16)]).text(bar.name));
        parts.push(at("rect", "open", &[("x", 1), ("y", y + 24), ("width", wide), ("height", 16)]));
        parts.push(at("rect", "up", &[("x", 1), ("y", y + 24), ("width", full), ("height", 16)]));
        parts.push(at("text", "share", &[("x", wide + 8), ("y", y + 38)]).text(&bar.says));
        y += 52;
    }
    chart(y, parts)
}
