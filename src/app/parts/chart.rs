//! The frame of a chart: lines across with their figures, marks below.
//!
//! Invariant: whole numbers worked out by the library; what the chart shows is also
//! said in words, which is its name for those who cannot see it.

use crate::app::draw::{El, of, svg};
use hearthjar::heat::{FRAME, HEIGHT, Level, Tick, WIDTH};

/// The frame of a chart. `ends` are the units at the left, below, and at the right.
#[inline(never)]
pub fn chart(words: &str, ends: [&str; 3], levels: &[Level], ticks: &[Tick]) -> El {
    let (left, right, top, bottom) = FRAME;
    let [unit, below, steam] = ends;
    let mut across = String::new();
    let mut chart = svg("svg")
        .attr("class", "chart")
        .attr("viewBox", &format!("-6 -6 {} {}", WIDTH + 12, HEIGHT + 12))
        .attr("role", "img")
        .attr("aria-label", words);
    for level in levels {
        across.push_str(&format!("M{left} {}H{right}", level.y));
        chart = chart.child(label(left - 4, level.y + 4, "end", &level.left)).child(label(
            right + 4,
            level.y + 4,
            "start",
            &level.right,
        ));
    }
    for tick in ticks {
        across.push_str(&format!("M{} {bottom}v4", tick.x));
        chart = chart.child(label(tick.x, bottom + 16, "middle", &tick.text));
    }
    chart
        .child(label(left - 4, top - 14, "end", unit))
        .child(label(right + 4, top - 14, "start", steam))
        .child(label((left + right) / 2, bottom + 33, "middle", below))
        .child(stroke("grid", &across))
}

fn label(x: i64, y: i64, anchor: &str, text: &str) -> El {
    svg("text")
        .attr("x", &x.to_string())
        .attr("y", &y.to_string())
        .attr("text-anchor", anchor)
        .text(text)
}

/// A line in a chart.
#[inline(never)]
pub fn stroke(class: &str, path: &str) -> El {
    svg("path").attr("class", class).attr("d", path)
}

/// The class and name of each line, beside a piece of it.
pub fn legend(lines: &[(&str, &str)]) -> El {
    let items = lines
        .iter()
        .map(|(class, name)| {
            let piece = svg("svg")
                .attr("viewBox", "0 0 32 12")
                .attr("aria-hidden", "true")
                .child(stroke(class, "M2 6H30"));
            of("li", "").child(piece).text(name)
        })
        .collect();
    of("ul", "legend").children(items)
}
