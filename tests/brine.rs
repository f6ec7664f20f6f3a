//! Brine against the standard brine table: `tests/tables/brine.csv`, US units at
//! 60 F (Salt Institute solubility table; Sea Fish Industry Authority brine strength
//! table for 10, 20 .. 100 degrees; the file's head says what was read where). The
//! specific gravities of that file are not used: a density in them is recalled.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

use hearthjar::brine::{
    BrineError, CAUTIONS, Degrees, FOR_CANNING, Fish, MeasureError, RECIPES, Reading, ReadingError,
    SOAKS, Salt, Strength, Water, dry_salt,
};
use proptest::prelude::*;

/// NIST SP 811, appendix B.8: grams in a pound, litres in a US and an imperial gallon.
const POUND_G: f64 = 453.592_37;
const US_GALLON_L: f64 = 3.785_412;
const IMPERIAL_GALLON_L: f64 = 4.546_09;

fn table() -> Vec<[f64; 4]> {
    let path = format!("{}/tests/tables/brine.csv", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines
        .map(|line| {
            let row: Vec<f64> = line.split(',').map(|field| field.parse().unwrap()).collect();
            [row[0], row[1], row[2], row[3]]
        })
        .collect()
}

fn grams(grams: f64) -> Salt {
    Salt::milligrams((grams * 1000.0).round() as i64).unwrap()
}

fn litres(litres: f64) -> Water {
    Water::millilitres((litres * 1000.0).round() as i64).unwrap()
}

fn degrees(strength: Strength) -> f64 {
    f64::from(strength.degrees().in_tenths()) / 10.0
}

#[test]
fn every_row_of_the_salometer_table_within_its_rounding() {
    let rows = table();
    assert_eq!(rows.len(), 101);
    for [degree, percent, _, pounds] in rows {
        let strength = Strength::from(Degrees::tenths((degree * 10.0) as u16).unwrap());
        let ours = strength.percent_thousandths() as f64 / 1000.0;
        assert!((ours - percent).abs() < 0.000_51, "{degree}: {ours} for {percent}");
        // Ten gallons, so that our rounding to a milligram and a millilitre is small.
        let gallons = litres(10.0 * US_GALLON_L);
        if pounds > 0.0 {
            let salt = strength.salt_for(gallons).unwrap();
            let ours = salt.in_milligrams() as f64 / 1000.0 / POUND_G / 10.0;
            assert!((ours - pounds).abs() < 0.000_51, "{degree}: {ours} for {pounds}");
            // And back: from the table's pounds to its degree and percent. Its
            // pounds are rounded to 0.001, which is under 0.05 degree everywhere.
            match Strength::of(grams(10.0 * pounds * POUND_G), gallons) {
                Ok(back) => {
                    assert!((degrees(back) - degree).abs() <= 0.1, "{degree}");
                    let back = back.percent_thousandths() as f64 / 1000.0;
                    assert!((back - percent).abs() < 0.02, "{degree}: {back} for {percent}");
                }
                Err(error) => assert!(degree > 99.9, "{degree}: {error}"),
            }
        }
    }
}

#[test]
fn an_imperial_gallon_is_not_a_us_gallon() {
    // "Preparing a Saltbrine" prints 1.882 lb a gallon for 60 degrees, with 15
    // gallons as about 68 L: imperial ones. The US table has 1.567 lb.
    let imperial = Strength::of(grams(1.882 * POUND_G), litres(IMPERIAL_GALLON_L)).unwrap();
    assert!((degrees(imperial) - 60.0).abs() <= 0.1, "{imperial:?}");
    let us = Strength::of(grams(1.567 * POUND_G), litres(US_GALLON_L)).unwrap();
    assert!((degrees(us) - 60.0).abs() <= 0.1, "{us:?}");
    let trap = Strength::of(grams(1.882 * POUND_G), litres(US_GALLON_L)).unwrap();
    assert!(degrees(trap) > 69.0);
    // The same sheet in metric: 187.8 g a litre of water.
    let metric = Strength::of(grams(187.8), litres(1.0)).unwrap();
    assert!((degrees(metric) - 60.0).abs() <= 0.1, "{metric:?}");
}

#[test]
fn a_float_is_put_right_for_temperature() {
    // "Preparing a Saltbrine": 1 degree more for each 10 F above 60, less below.
    for (scale, temperature, celsius, expected) in [
        ("60", "60", false, 600),
        ("60", "80", false, 620),
        ("60", "40", false, 580),
        ("60.5", "65", false, 610),
        ("60", "15.5", true, 600), // 59.9 F
        ("60", "4", true, 579),    // 39.2 F
        ("0", "60", false, 0),
    ] {
        let reading = Reading::parse(scale, temperature, celsius).unwrap();
        assert_eq!(reading.at_60_f().unwrap().in_tenths(), expected, "{scale} at {temperature}");
    }
    for (scale, temperature, error) in [
        ("x", "60", ReadingError::NotANumber),
        ("60", "", ReadingError::NotANumber),
        ("101", "60", ReadingError::OffTheScale),
        ("-1", "60", ReadingError::OffTheScale),
        ("60", "140", ReadingError::Temperature),
        ("60", "200000000", ReadingError::Temperature),
    ] {
        assert_eq!(Reading::parse(scale, temperature, false), Err(error), "{scale}, {temperature}");
    }
    assert_eq!(Reading::parse("60", "200000000", true), Err(ReadingError::Temperature));
    assert_eq!(
        Reading::parse("1", "30", false).unwrap().strength(),
        Err(ReadingError::OffTheScale)
    );
    assert_eq!(
        Reading::parse("99", "90", false).unwrap().strength(),
        Err(ReadingError::OffTheScale)
    );
}

#[test]
fn recipes_times_and_cautions_are_the_published_ones() {
    // FNH-00325: heavy 2.5 lb, medium 1.5 lb a US gallon; worked out by the brine
    // table's own rule as about 23 percent (87 degrees) and 15 percent (58 degrees).
    let strength = |name| RECIPES.iter().find(|r| r.name.say() == name).unwrap().strength();
    let heavy = strength("Heavy brine").unwrap();
    assert!((degrees(heavy) - 87.5).abs() < 0.6 && heavy.percent() == "23.1", "{heavy:?}");
    let medium = strength("Medium brine").unwrap();
    assert!((degrees(medium) - 57.8).abs() < 0.6 && medium.percent() == "15.3", "{medium:?}");
    // By volume the strength depends on the salt, so none is said.
    assert_eq!(strength("Standard smoking brine"), None);
    // WSU Preservation Tips; Kitsap Extension 1992; Michigan State 01600573 (1997).
    let times: Vec<_> = SOAKS.iter().map(|soak| (soak.smoke, soak.minutes)).collect();
    assert_eq!(times, [(true, (60, 60)), (true, (120, 120)), (false, (10, 15)), (false, (60, 60))]);
    // What the smoking times are not for is said with each, and in full.
    for soak in SOAKS {
        assert_eq!(
            soak.smoke,
            soak.piece.say().ends_with("smoked and eaten now"),
            "{}",
            soak.piece.say()
        );
    }
    assert!(FOR_CANNING.say().contains("canned, shorter times are published, not read here"));
    assert!(CAUTIONS[0].text().contains("does not keep"));
    for text in
        CAUTIONS.iter().map(|c| c.publication()).chain(SOAKS.iter().map(|s| s.publication.say()))
    {
        assert!(text.len() > 10);
    }
}

#[test]
fn what_people_type_is_read_or_said_to_be_wrong() {
    assert_eq!(Salt::parse("16", false).unwrap().shown(false), "1 lb 0.0 oz");
    assert_eq!(Salt::parse("16", false).unwrap().shown(true), "454 g");
    assert_eq!(Salt::parse("187,8", true).unwrap().shown(true), "188 g");
    assert_eq!(Salt::parse("3.5", true).unwrap().shown(true), "3.5 g");
    assert_eq!(Water::parse("4", false).unwrap().shown(true), "3.8 L");
    assert_eq!(Water::parse("1", true).unwrap().shown(false), "1.1 qt");
    assert_eq!(Salt::parse("much", true), Err(MeasureError::NotANumber));
    for none in ["0", "-3", "0.001", "9999999"] {
        assert_eq!(Salt::parse(none, true), Err(MeasureError::OutOfRange), "{none}");
        assert_eq!(Water::parse(none, true), Err(MeasureError::OutOfRange), "{none}");
        assert_eq!(Fish::parse(none, true), Err(MeasureError::OutOfRange), "{none}");
    }
    let half = Strength::of(Salt::parse("500", true).unwrap(), Water::parse("1", true).unwrap());
    assert_eq!(half, Err(BrineError::Undissolved));
    assert_eq!(Degrees::tenths(1001), Err(BrineError::Undissolved));
    assert_eq!(Strength::percent_tenths(264), Err(BrineError::Undissolved));
    // Dry: 2.5 percent of 4 kg is 100 g.
    let fish = Fish::parse("4", true).unwrap();
    assert_eq!(dry_salt(fish, 25).unwrap().shown(true), "100 g");
    assert_eq!(dry_salt(fish, 0), Err(MeasureError::OutOfRange));
    assert_eq!(Fish::parse("10", false).unwrap().in_grams(), 4536);
}

proptest! {
    #[test]
    fn strength_and_salt_undo_each_other(tenths in 1_u16..=1000, ml in 500_i64..=1_000_000) {
        let strength = Strength::from(Degrees::tenths(tenths).unwrap());
        let water = Water::millilitres(ml).unwrap();
        if let Ok(salt) = strength.salt_for(water) {
            // At saturation the rounding of the salt may tip it over.
            match Strength::of(salt, water) {
                Ok(back) => prop_assert_eq!(back.degrees(), strength.degrees()),
                Err(_) => prop_assert_eq!(tenths, 1000),
            }
            let again = strength.water_for(salt).unwrap().in_millilitres();
            prop_assert!((again - ml).abs() <= 1 + ml / 1000, "{} for {}", again, ml);
        }
    }

    #[test]
    fn more_salt_is_stronger_and_more_water_weaker(
        mg in 1_i64..50_000_000, more in 1_i64..50_000_000, ml in 1_i64..500_000,
    ) {
        let water = Water::millilitres(ml).unwrap();
        let jug = Water::millilitres(2 * ml).unwrap();
        let (less, salt) = (Salt::milligrams(mg).unwrap(), Salt::milligrams(mg + more).unwrap());
        if let Ok(strong) = Strength::of(salt, water) {
            prop_assert!(Strength::of(less, water).unwrap() <= strong);
            prop_assert!(Strength::of(salt, jug).unwrap() <= strong);
            prop_assert!(strong.percent_thousandths() <= 26_395);
        }
    }

    #[test]
    fn nothing_typed_makes_it_panic(a in any::<String>(), b in any::<String>(), c in any::<bool>()) {
        let _ = (Salt::parse(&a, c), Water::parse(&a, c), Fish::parse(&a, c));
        let _ = Reading::parse(&a, &b, c).map(Reading::strength);
    }

    #[test]
    fn no_number_overflows(n in any::<i32>(), c in any::<bool>()) {
        let text = n.to_string();
        let _ = Reading::parse(&text, &text, c).map(Reading::strength);
        if let (Ok(salt), Ok(water)) = (Salt::parse(&text, c), Water::parse(&text, c)) {
            let _ = Strength::of(salt, water).map(|s| (s.salt_for(water), s.water_for(salt)));
        }
    }
}
