//! "Why the full time": the picture of a cold point warming.
//!
//! Sources: times and pressures, USDA Complete Guide to Home Canning, Guide 5,
//! pp. 5-10 to 5-12, 2015; steam at 11 psi and 2,000 ft 115.159 °C,
//! `tests/physics/gauge-temperature.csv`; the cold point against the finite-difference
//! solver in `tests/physics/`; properties of sockeye, `tests/physics/fish-composition.csv`.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

#[path = "physics/finite_difference.rs"]
mod finite_difference;

use finite_difference::Case;
use hearthjar::batch::LoadPlan;
use hearthjar::heat::{FoodStart, Setting, Warming, offered_jars, setting_of, settings, warming};
use hearthjar::process::{CannerQuarts, Gauge, Jar, Pack, Question, Vessel, find};
use hearthjar::units::{Altitude, PsiGauge};
use std::time::Instant;

fn eleven() -> Setting {
    settings(Jar::Pint)[0]
}

fn pint(off: u16) -> Warming {
    warming(Jar::Pint, eleven(), FoodStart::Cold, off).unwrap()
}

#[test]
fn the_choices_are_those_of_the_tables() {
    assert_eq!(offered_jars(), [Jar::HalfPint, Jar::TwelveOunce, Jar::Pint, Jar::Quart]);
    let listed: Vec<_> =
        settings(Jar::Quart).into_iter().map(|one| (one.gauge, one.psi, one.to.feet())).collect();
    let dial = |psi, to| (Gauge::Dial, PsiGauge::whole(psi), to);
    let weighted = |psi, to| (Gauge::Weighted, PsiGauge::whole(psi), to);
    // Guide 5, p. 5-12; the weighted table has no upper end, the dial one ends at 8,000 ft.
    assert_eq!(
        listed,
        [
            dial(11, 2_000),
            dial(12, 4_000),
            dial(13, 6_000),
            dial(14, 8_000),
            weighted(10, 1_000),
            weighted(15, 8_000)
        ]
    );
    let full = |jar| warming(jar, settings(jar)[0], FoodStart::Cold, 0).unwrap().full;
    assert_eq!((full(Jar::HalfPint), full(Jar::Pint), full(Jar::Quart)), (100, 100, 160));
    // No jar and no pressure beyond the tables.
    assert_eq!(settings(Jar::HalfGallon), []);
    assert_eq!(warming(Jar::HalfGallon, eleven(), FoodStart::Cold, 10), None);
    let ten = Setting { psi: PsiGauge::whole(10), ..eleven() };
    assert_eq!(warming(Jar::Pint, ten, FoodStart::Cold, 10), None);
    let lower = Setting { to: Altitude::SEA_LEVEL, ..eleven() };
    assert_eq!(warming(Jar::Pint, lower, FoodStart::Cold, 10), None);
}

/// `239.3 °F (115.2 °C)` in °C.
fn celsius(text: &str) -> f64 {
    let (_, celsius) = text.split_once('(').unwrap();
    celsius.trim_end_matches(" °C)").parse().unwrap()
}

#[test]
fn the_cold_point_is_where_an_independent_solver_has_it() {
    // A middling pint: 78.5 mm across, 132 mm high, 3 mm of glass, 1 in left free.
    let (radius, half_height) = (0.078_5 / 2.0 - 0.003, (0.132 - 0.025 - 0.003) / 2.0);
    let coefficient = 1.0 / (1.0 / 5_000.0 + 0.003 / 1.0);
    let open = 97.962; // at 94.2136 kPa (IAPWS-IF97 by iapws 1.5.5)
    let case = Case {
        radius,
        half_height,
        alpha: 1.567_66e-7,
        film: Some(coefficient / 0.578_55),
        start: 40.0_f64.mul_add(5.0 / 9.0, -160.0 / 9.0),
        steam: vec![(0, 4.444), (20, open), (30, open), (35, 115.159), (135, 115.159)],
    };
    let picture = pint(60);
    let minutes: Vec<u32> = picture.rows.iter().map(|row| 35 + u32::from(row.minutes)).collect();
    for (row, (grid, _)) in picture.rows.iter().zip(case.centre(&minutes)) {
        // Printed to a tenth.
        assert!((celsius(&row.cold) - grid).abs() < 0.1, "{row:?} {grid}");
    }
    assert_eq!(picture.steam_at, "239.3 °F (115.2 °C)");
}

#[test]
fn ending_early_loses_more_than_its_share_of_time() {
    let picture = pint(70);
    let minutes: Vec<u16> = picture.rows.iter().map(|row| row.minutes).collect();
    assert_eq!(minutes, [0, 20, 40, 60, 70, 80, 100]);
    assert_eq!((picture.now.minutes, picture.off, picture.full), (70, 70, 100));
    assert!(picture.rows.windows(2).all(|pair| pair[0].share[0] <= pair[1].share[0]));
    for row in &picture.rows {
        let [likely, slow, fast] = row.share;
        assert!(slow <= likely && likely <= fast, "{row:?}");
        if row.minutes < 100 {
            // Never the whole, and less than the minutes' share: the heat comes late.
            assert!(fast < 100 && u16::from(likely) < row.minutes.max(1), "{row:?}");
        } else {
            assert_eq!(row.share, [100; 3]);
        }
    }
    assert!(picture.marks[0] < picture.marks[1]);
    assert_ne!(picture.centre[0], picture.centre[1]);
    // The whole of it: nothing to tell the two apart.
    let whole = pint(100);
    assert_eq!(whole.now.share, [100; 3]);
    assert_eq!(whole.marks[0], whole.marks[1]);
    for [whole, ending] in [&whole.steam, &whole.centre] {
        assert!(whole.ends_with(ending.trim_start_matches('M')), "{whole} {ending}");
    }
    // Over the full time there is nothing to draw.
    assert_eq!(pint(900), whole);
}

#[test]
fn every_choice_has_its_picture() {
    for jar in offered_jars() {
        for setting in settings(jar) {
            for food in FoodStart::ALL {
                let picture = warming(jar, setting, *food, 160).unwrap();
                assert!(picture.off == picture.full && !picture.band.is_empty());
            }
        }
    }
    // Warmer food is ahead at every moment.
    let cold = warming(Jar::Quart, settings(Jar::Quart)[0], FoodStart::Iced, 80).unwrap();
    let warm = warming(Jar::Quart, settings(Jar::Quart)[0], FoodStart::Room, 80).unwrap();
    for (cold, warm) in cold.rows.iter().zip(&warm.rows) {
        assert!(celsius(&cold.cold) < celsius(&warm.cold));
    }
}

#[test]
fn a_load_finds_its_own_picture() {
    // Smoked fish at 5,200 ft on a dial: 13 psi, in the band to 6,000 ft (USDA Complete Guide
    // to Home Canning, Guide 5, p. 5-14, 2015); here on a dial that reads 1 psi high.
    let question = Question {
        food: "smoked-fish",
        pack: Pack::Smoked,
        jar: Jar::Pint,
        vessel: Vessel::PressureCanner {
            gauge: Gauge::Dial,
            quarts: CannerQuarts::new(16).unwrap(),
        },
        altitude: Altitude::from_feet(5_200).unwrap(),
    };
    let plan = LoadPlan::of(&find(&question).unwrap(), 7);
    let set_higher =
        LoadPlan { pressure: plan.pressure.plus_whole(1).unwrap(), added: 1, ..plan.clone() };
    for plan in [&plan, &set_higher] {
        let setting = settings(Jar::Pint)[setting_of(Jar::Pint, plan).unwrap()];
        assert_eq!((setting.gauge, setting.psi), (Gauge::Dial, PsiGauge::whole(13)));
    }
    // The size of a three-quarter pint or a half-gallon is not on file, or no table lists it.
    for jar in Jar::ALL.iter().filter(|jar| !offered_jars().contains(jar)) {
        assert_eq!(setting_of(*jar, &plan), None, "{}", jar.name());
    }
    let odd = LoadPlan { pressure: PsiGauge::whole(9), ..plan };
    assert_eq!(setting_of(Jar::Pint, &odd), None);
}

#[test]
fn a_picture_is_quick() {
    let mut times: Vec<u128> = (0..7)
        .map(|round| {
            let begin = Instant::now();
            let picture = pint(10 + round * 10);
            assert!(picture.now.share[0] < 100);
            begin.elapsed().as_micros()
        })
        .collect();
    times.sort_unstable();
    println!("a picture of three jars and seven endings: {} µs", times[3]);
    let allowed = if cfg!(debug_assertions) { 400_000 } else { 40_000 };
    assert!(times[3] < allowed, "{} µs", times[3]);
}
