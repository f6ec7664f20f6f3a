//! From food to jars, held against the published yields.
//!
//! `tables/yields.csv` is a second transcription of the printed figures, made apart
//! from the library's own; every row names its page.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

use hearthjar::plan::{
    Basis, Need, NoNeed, Origin, Own, Past, Range, Want, fill, needed, yield_of,
};
use hearthjar::process::{Jar, foods};
use hearthjar::units::{Mass, MassError};
use proptest::prelude::*;

struct Row {
    food: String,
    basis: Basis,
    jar: Jar,
    jars: (u16, u16),
    pounds: (f64, f64),
    kind: String,
}

fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    for line in include_str!("tables/yields.csv").lines() {
        if line.starts_with('#') || line.starts_with("food,") {
            continue;
        }
        let cells: Vec<&str> = line.splitn(9, ',').collect();
        assert!(!cells[8].is_empty(), "no source: {line}");
        rows.push(Row {
            food: cells[0].to_owned(),
            basis: Basis::from_key(cells[1]).unwrap(),
            jar: Jar::from_key(cells[2]).unwrap(),
            jars: (cells[3].parse().unwrap(), cells[4].parse().unwrap()),
            pounds: (cells[5].parse().unwrap(), cells[6].parse().unwrap()),
            kind: cells[7].to_owned(),
        });
    }
    assert_eq!(rows.len(), 67);
    rows
}

fn need(food: &str, basis: Basis, jar: Jar) -> Need {
    Need::of(food, basis, jar, &Own::default(), &Past::default()).unwrap()
}

fn pounds(mass: Mass) -> f64 {
    f64::from(mass.grams()) / 453.592_37
}

#[test]
fn a_full_load_takes_what_the_page_says() {
    for row in rows() {
        let need = need(&row.food, row.basis, row.jar);
        let Row { food, kind, .. } = &row;
        let (most_jars, least_jars) = (need.food(row.jars.1), need.food(row.jars.0));
        // The range holds every printed figure, to the gram.
        assert!(pounds(most_jars.least()) <= row.pounds.0 + 0.003, "{food} {kind}");
        assert!(pounds(least_jars.most()) >= row.pounds.1 - 0.003, "{food} {kind}");
        if kind == "load" {
            let usual = need.usual(row.jars.0).unwrap();
            assert!((pounds(usual) - row.pounds.0).abs() < 0.01, "{food}: {}", pounds(usual));
            assert!(matches!(need.origin, Origin::Published(_)), "{food}");
        }
    }
}

#[test]
fn a_range_is_no_wider_than_what_is_printed() {
    let rows = rows();
    for row in &rows {
        let need = need(&row.food, row.basis, row.jar);
        let volume = |jar: Jar| f64::from(jar.millilitres());
        // Every printed figure for the food, for one jar of this size.
        let (mut least, mut most) = (f64::MAX, 0.0_f64);
        for other in rows.iter().filter(|other| other.food == row.food) {
            let scale = volume(row.jar) / volume(other.jar);
            least = least.min(other.pounds.0 / f64::from(other.jars.1) * scale);
            most = most.max(other.pounds.1 / f64::from(other.jars.0) * scale);
        }
        let each = need.milligrams();
        let of = |milligrams: u64| milligrams as f64 / 453_592.37;
        assert!((of(each.least()) - least).abs() < 0.002, "{}", row.food);
        assert!((of(each.most()) - most).abs() < 0.002, "{}", row.food);
    }
}

#[test]
fn yields_and_their_second_transcription_speak_of_the_same_foods() {
    let rows = rows();
    let lima = ["beans-lima-small", "beans-lima-large"];
    for food in foods() {
        let there = yield_of(food.key()).is_some();
        let printed = rows.iter().any(|row| row.food == food.key());
        assert_eq!(there, printed || lima.contains(&food.key()), "{}", food.key());
        if there {
            assert!(food.has_process(), "{}", food.key());
        }
    }
}

#[test]
fn what_nobody_has_published_is_asked_for() {
    let none = (Own::default(), Past::default());
    let ask = |food, basis, jar| Need::of(food, basis, jar, &none.0, &none.1);
    // The 2015 guide gives no weights for meat; no page gives dressed fish.
    assert_eq!(ask("meat-pieces", Basis::Whole, Jar::Pint), Err(NoNeed::Fill));
    assert_eq!(ask("fish", Basis::Ready, Jar::Pint), Err(NoNeed::Fill));
    assert_eq!(ask("fish", Basis::Dressed, Jar::Pint), Err(NoNeed::Fill));
    // Smoked fish is published by its smoked weight only.
    assert_eq!(ask("smoked-fish", Basis::Whole, Jar::Pint), Err(NoNeed::Kept));
    let scaled = ask("fish", Basis::Whole, Jar::HalfPint).unwrap();
    assert!(matches!(scaled.origin, Origin::Scaled(_)));
}

#[test]
fn own_figures_stand_above_published_ones() {
    let half = Mass::centipounds(50);
    let own =
        Own { fill: Some((Range::just(half), Jar::HalfPint)), kept: Some(Range::new(40, 50)) };
    let need = Need::of("fish", Basis::Whole, Jar::Pint, &own, &Past::default()).unwrap();
    // Half a pound a half-pint is a pound a pint (473 mL to 237), of which 40 to 50
    // in 100 is left: 2 to 2.5 lb of whole fish.
    let each = need.food(1);
    assert!((pounds(each.least()) - 2.0 * 473.0 / 474.0).abs() < 0.01);
    assert!((pounds(each.most()) - 2.5 * 473.0 / 474.0).abs() < 0.01);
    assert_eq!(need.origin, Origin::Own);
    assert_eq!(need.usual(1), None);
}

/// 25 to 35 lb of fresh fish fill a dozen pints (Michigan State University Extension
/// no. 01600573, 1997), so 30 lb fill 10 to 14.
#[test]
fn thirty_pounds_of_fish() {
    let wants = [(Want { jar: Jar::Pint, jars: None }, need("fish", Basis::Whole, Jar::Pint))];
    let filled = fill(Mass::centipounds(3_000), &wants);
    assert_eq!(filled, [(Jar::Pint, Range::new(10, 14))]);
    let dozen = [(Want { jar: Jar::Pint, jars: Some(12) }, wants[0].1)];
    let (food, usual) = needed(&dozen);
    assert_eq!(
        (food.least().show(false), food.most().show(false)),
        ("25 lb".into(), "35 lb".into())
    );
    assert_eq!(usual, None);
    // About 2/3 lb of smoked fish a pint (Univ. of Alaska Fairbanks FNH-00223).
    let smoked = need("smoked-fish", Basis::Ready, Jar::Pint);
    assert_eq!(fill(Mass::centipounds(1_000), &[(wants[0].0, smoked)])[0].1, Range::just(14));
}

/// 453.59237 g to the pound (NIST SP 811, appendix B.8).
#[test]
fn pounds_and_kilograms() {
    assert_eq!(Mass::parse("1", false).unwrap().grams(), 454);
    assert_eq!(Mass::parse("100", false).unwrap().grams(), 45_359);
    assert_eq!(Mass::parse("1,25", true).unwrap().grams(), 1_250);
    assert_eq!(Mass::parse("12.5", false).unwrap().show(false), "12.5 lb");
    assert_eq!(Mass::parse("0.67", false).unwrap().show(false), "0.67 lb");
    assert_eq!(Mass::parse("0.07", false).unwrap().show(false), "0.07 lb");
    assert_eq!(Mass::parse("0", true).unwrap().show(true), "0 kg");
    assert_eq!(Mass::parse("-3", true), Err(MassError::OutOfRange));
    assert_eq!(Mass::parse("99999999999", true), Err(MassError::OutOfRange));
    assert_eq!(Mass::parse("2001", true), Err(MassError::OutOfRange));
    assert_eq!(Mass::parse("a few", true), Err(MassError::NotANumber));
}

fn any_wants() -> impl Strategy<Value = Vec<(Want, Need)>> {
    let foods = ["fish", "asparagus", "greens", "peas", "okra"];
    let sizes = [Jar::HalfPint, Jar::TwelveOunce, Jar::Pint, Jar::Quart];
    let want = (0..sizes.len(), proptest::option::of(0_u16..60));
    (0..foods.len(), proptest::collection::vec(want, 1..4)).prop_map(move |(food, wants)| {
        let want = |(size, jars): (usize, Option<u16>)| {
            let jar = sizes[size];
            (Want { jar, jars }, need(foods[food], Basis::Whole, jar))
        };
        wants.into_iter().map(want).collect()
    })
}

proptest! {
    #[test]
    fn jars_conserve_food(grams in 0_u32..=300_000, wants in any_wants()) {
        let food = Mass::from_grams(grams).unwrap();
        let filled = fill(food, &wants);
        prop_assert_eq!(filled.len(), wants.len());
        let whole = u64::from(grams) * 1_000;
        let sum = |count: fn(Range<u16>) -> u16, each: fn(Range<u64>) -> u64| -> u64 {
            filled.iter().zip(&wants)
                .map(|((_, jars), (_, need))| u64::from(count(*jars)) * each(need.milligrams()))
                .sum()
        };
        // Neither the least nor the most jars take more than there is.
        let (least, most) = (sum(Range::least, Range::most), sum(Range::most, Range::least));
        prop_assert!(least <= whole && most <= whole);
        // What is left does not fill one more of the jars that take the rest.
        let room = |count: fn(Range<u16>) -> u16| {
            filled.iter().zip(&wants).filter(|(_, (want, _))| want.jars.is_none())
                .all(|((_, jars), _)| count(*jars) < 2_000)
        };
        if let Some((_, need)) = wants.iter().find(|(want, _)| want.jars.is_none()) {
            if room(Range::least) && wants.len() == 1 {
                prop_assert!(whole - least < need.milligrams().most());
            }
            if room(Range::most) {
                prop_assert!(whole - most < need.milligrams().least());
            }
        }
        for ((jar, jars), (want, _)) in filled.iter().zip(&wants) {
            prop_assert_eq!(*jar, want.jar);
            prop_assert!(want.jars.is_none_or(|asked| jars.most() <= asked));
        }
    }

    #[test]
    fn jars_wanted_and_the_food_they_take_agree(wants in any_wants()) {
        // The most food the wanted jars may take does fill them.
        let (food, _) = needed(&wants);
        let numbered: Vec<_> = wants.iter().copied().filter(|(want, _)| want.jars.is_some()).collect();
        for ((_, jars), (want, _)) in fill(food.most(), &numbered).iter().zip(&numbered) {
            prop_assert_eq!(jars.least(), want.jars.unwrap());
        }
    }

    #[test]
    fn a_weight_shown_and_typed_again_is_the_same_to_its_last_place(
        grams in 0_u32..=2_000_000, metric in any::<bool>(),
    ) {
        let mass = Mass::from_grams(grams).unwrap();
        let again = Mass::parse(&mass.number(metric), metric).unwrap();
        let step = if metric { 50 } else { 23 };
        prop_assert!(again.grams().abs_diff(grams) <= step, "{} {}", mass.number(metric), grams);
    }
}
