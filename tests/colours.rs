//! The contrast of every pair of colours that text or edges use, light and dark.
//!
//! Outside source: W3C, Web Content Accessibility Guidelines 2.2 (2023): relative
//! luminance and contrast ratio as defined there; 1.4.6 (7:1 for text, level AAA)
//! and 1.4.11 (3:1 for the edges of controls, level AA).

#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

use std::collections::BTreeMap;

/// Text, and what it stands on.
const TEXT: [(&str, &[&str]); 9] = [
    (
        "ink",
        &[
            "ground",
            "raised",
            "rim-ground",
            "ember-ground",
            "due-ground",
            "good-ground",
            "bad-ground",
        ],
    ),
    ("soft", &["ground", "raised", "rim-ground", "ember-ground", "due-ground", "bad-ground"]),
    ("rim", &["ground", "raised", "rim-ground", "due-ground"]),
    ("rim-ink", &["rim"]),
    ("ember", &["ground", "raised", "ember-ground"]),
    ("ember-ink", &["ember"]),
    ("good", &["ground", "raised", "good-ground"]),
    ("bad", &["ground", "raised", "bad-ground"]),
    // The bar of the alarm holds a plain button.
    ("raised", &["ink"]),
];

/// Edges of controls, and what is beside them.
const EDGES: [(&str, &[&str]); 4] = [
    ("line", &["ground", "raised"]),
    ("rim", &["ground", "raised"]),
    ("ember", &["ground", "due-ground"]),
    ("bad", &["ground", "bad-ground"]),
];

type Colour = [f64; 3];

fn colour(hex: &str) -> Option<Colour> {
    let hex = hex.trim().strip_prefix('#')?;
    let part = |at| u8::from_str_radix(hex.get(at..at + 2)?, 16).ok().map(f64::from);
    Some([part(0)?, part(2)?, part(4)?])
}

fn luminance(colour: Colour) -> f64 {
    let [red, green, blue] = colour.map(|part| {
        let part = part / 255.0;
        if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

fn contrast(one: Colour, other: Colour) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// The named colours of the light and of the dark set.
fn sets() -> [BTreeMap<String, Colour>; 2] {
    let style = std::fs::read_to_string("style/base.css").unwrap();
    let sets: Vec<_> = style
        .split(":root {")
        .skip(1)
        .map(|set| {
            let inside = set.split('}').next().unwrap();
            inside
                .split(';')
                .filter_map(|line| line.trim().strip_prefix("--")?.split_once(':'))
                .filter_map(|(name, value)| Some((name.to_owned(), colour(value)?)))
                .collect()
        })
        .collect();
    sets.try_into().unwrap()
}

fn check(pairs: &[(&str, &[&str])], least: f64) {
    for (set, name) in sets().into_iter().zip(["light", "dark"]) {
        for (front, grounds) in pairs {
            for ground in *grounds {
                let ratio = contrast(set[*front], set[*ground]);
                println!("{name}: {front} on {ground} {ratio:.1}");
                assert!(ratio >= least, "{name}: {front} on {ground} is {ratio:.2}");
            }
        }
    }
}

#[test]
fn the_ratio_is_the_published_one() {
    let (white, black) = (colour("#ffffff").unwrap(), colour("#000000").unwrap());
    assert!((contrast(white, black) - 21.0).abs() < 1e-9);
    assert!((contrast(white, white) - 1.0).abs() < 1e-9);
    // WebAIM, WCAG 2.0 and Link Colors: of the blues, about #6a5eff still has 4.5:1 on
    // white, and about #531fff still 3:1 beside black.
    assert!((contrast(colour("#6a5eff").unwrap(), white) - 4.5).abs() < 0.05);
    assert!((contrast(colour("#531fff").unwrap(), black) - 3.0).abs() < 0.05);
}

#[test]
fn text_stands_at_seven_to_one() {
    check(&TEXT, 7.0);
}

#[test]
fn edges_stand_at_three_to_one() {
    check(&EDGES, 3.0);
}
