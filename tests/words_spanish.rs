//! The texts in Spanish, taken in as the page takes them in: once for all of this file.
#![allow(clippy::unwrap_used)] // a failed test may panic

#[path = "common/catalogue.rs"]
mod catalogue;
mod common;

use catalogue::{FILES, language, pairs};
use common::finished::{processed, utc};
use common::{id, start};
use hearthjar::batch::BatchStart;
use hearthjar::exchange::{LIDS, Shape, fit, label};
use hearthjar::process::{Jar, Pack, search};
use hearthjar::t;
use hearthjar::words::{Foreign, Word, fill, load};
use std::sync::Once;

/// Takes the Spanish in, after everything that must be refused was refused.
fn spanish() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let good = language(|pair| match pair.spanish.as_str() {
            "" => pair.shown().to_owned(),
            spanish => spanish.to_owned(),
        });
        let (name, lines) = good.split_once('\n').unwrap();
        assert_eq!(load(String::new()), Err(Foreign));
        assert_eq!(load(lines.to_owned()), Err(Foreign), "without the name");
        let other: String = name.chars().rev().collect();
        assert_eq!(load(format!("{other}\n{lines}")), Err(Foreign), "of another catalogue");
        let first = pairs().iter().filter(|pair| !FILES[1].contains(&pair.file)).count();
        let short: Vec<_> = lines.lines().take(first - 1).collect();
        assert_eq!(load(format!("{name}\n{}\n", short.join("\n"))), Err(Foreign), "cut off");
        assert_eq!(load(good.clone()), Ok(()));
        assert_eq!(load(good), Err(Foreign), "a second time");
    });
}

#[test]
fn every_text_is_said_in_spanish() {
    spanish();
    for pair in pairs().iter().filter(|pair| !pair.spanish.is_empty()) {
        assert_eq!(Word::of(&pair.english).say(), pair.spanish);
    }
    assert_eq!(Jar::HalfPint.name(), "media pinta");
}

#[test]
fn gaps_are_filled_in_spanish() {
    spanish();
    assert_eq!(
        t!("Logged {} times, from {} to {} psi.", 3, 10, 12),
        "Anotado 3 veces, de 10 a 12 psi."
    );
    // Every gap of every text takes its own value, wherever it stands.
    let marks = ["«0»", "«1»", "«2»", "«3»", "«4»", "«5»", "«6»", "«7»", "«8»", "«9»"];
    let values: Vec<&dyn std::fmt::Display> = marks.iter().map(|mark| mark as _).collect();
    for pair in pairs().iter().filter(|pair| !pair.spanish.is_empty()) {
        let gaps = pair.english.matches('{').count();
        let said = fill(Word::of(&pair.english), values.get(..gaps).unwrap());
        for mark in marks.iter().take(gaps) {
            assert_eq!(said.matches(mark).count(), 1, "{} | {said}", pair.english);
        }
        assert!(!said.contains(['{', '}']), "{said}");
    }
}

#[test]
fn foods_are_found_by_their_spanish_names() {
    spanish();
    let best = |typed: &str| search(typed).first().map(|food| food.key());
    assert_eq!(best("salmon"), Some("fish"));
    assert_eq!(best("SALMÓN ahumado"), Some("smoked-fish"));
    assert_eq!(best("atún"), Some("tuna"));
    assert_eq!(best("jaiba"), Some("crab-blue"));
    assert_eq!(best("champiñones"), Some("mushrooms"));
    assert_eq!(best("calabacin"), Some("summer-squash"));
    assert_eq!(best("venado"), Some("meat-pieces"));
}

/// What most speakers call white fish is lean fish, which has no tested process: the
/// word must not lead to the process for fatty fish, whatever English calls a whitefish.
#[test]
fn spanish_words_lead_to_no_process_of_another_food() {
    spanish();
    for (typed, refused) in [
        ("pescado blanco", "lean-fish"),
        ("camarones", "shrimp"),
        ("jamón", "meat-cured"),
        ("pavo guajolote", "birds-other"),
        ("setas silvestres", "mushrooms-wild"),
        ("centollo", ""),
        ("bonito", ""),
        ("ñame", ""),
        ("habas", ""),
    ] {
        let with: Vec<_> = search(typed).into_iter().filter(|food| food.has_process()).collect();
        assert!(with.is_empty(), "{typed}: {:?}", with.first().map(|food| food.key()));
        let found: Vec<_> = search(typed).into_iter().map(|food| food.key()).collect();
        assert_eq!(found.contains(&refused), !refused.is_empty(), "{typed}: {found:?}");
    }
}

#[test]
fn a_spanish_label_fits_the_smallest_lid_whole() {
    spanish();
    let smoked = BatchStart { pack: Pack::Smoked, ..start() };
    let (archive, load) = processed(id(100), smoked, 3, &[]);
    let batch = archive.batch(id(100)).unwrap();
    let blocks = label(batch, batch.load(load).unwrap()).unwrap().blocks(1, &utc);
    let texts: Vec<&str> = blocks.iter().map(|block| block.text.as_str()).collect();
    assert_eq!(
        texts.get(1..4).unwrap(),
        [
            "Ligeramente ahumado",
            "Envasado 2025-11-24",
            "Consumir preferentemente antes del 2026-11-24",
        ]
    );
    let smallest = LIDS.iter().map(|lid| u32::from(lid.label) * 100).min().unwrap();
    let drawn = fit(Shape::Round(smallest), &blocks);
    assert!(drawn.lines.iter().all(|line| !line.text.contains('…')), "{:?}", drawn.lines);
}
