//! The dial gauge's rules and the choice of altitude.
//!
//! Sources for the gauge: USDA *Complete Guide to Home Canning* (AIB 539, 2015)
//! p. 1-20; USDA *Home Canning of Meat and Poultry*, gage adjustments. Altitude
//! bands: the same guide, pp. 5-11 to 5-15.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

use hearthjar::physics::boiling::{self, Weather};
use hearthjar::physics::gauge::{DialCheck, DialError, DialRefusal};
use hearthjar::physics::place::{Datum, Place};
use hearthjar::physics::{Celsius, PhysicsError, Quantity};
use hearthjar::units::{Altitude, AltitudeError, EpochMs, PsiGauge, Span};

const CHECKED: EpochMs = EpochMs(1_700_000_000_000);

fn tenths(tenths: i16) -> PsiGauge {
    PsiGauge::from_tenths(tenths as u16).unwrap()
}

/// A check against 11.0 psi, the dial so many tenths away from it.
fn off_by(error: i16) -> DialCheck {
    DialCheck::new(tenths(110 + error), tenths(110), CHECKED).unwrap()
}

#[test]
fn a_gauge_that_reads_high_is_set_higher() {
    // 11 becomes 12 for 1 psi high, 13 for 2 psi high (gage adjustments).
    for (error, setting) in [(0, 11), (10, 12), (20, 13)] {
        assert_eq!(
            off_by(error).setting(PsiGauge::whole(11), CHECKED),
            Ok(PsiGauge::whole(setting))
        );
    }
    // A part of a psi counts as a whole one.
    for (error, setting) in [(1, 12), (5, 12), (11, 13), (19, 13)] {
        assert_eq!(
            off_by(error).setting(PsiGauge::whole(11), CHECKED),
            Ok(PsiGauge::whole(setting))
        );
    }
}

#[test]
fn a_gauge_that_reads_low_is_never_set_lower() {
    for error in -20..0 {
        assert_eq!(off_by(error).verdict(), Ok(DialError::Low));
        assert_eq!(off_by(error).setting(PsiGauge::whole(12), CHECKED), Ok(PsiGauge::whole(12)));
    }
}

#[test]
fn a_gauge_over_two_psi_off_is_refused_either_way() {
    for error in [-110, -30, -21, 21, 30, 190] {
        let check = off_by(error);
        assert_eq!(check.verdict(), Err(DialRefusal::Replace(error)));
        assert_eq!(check.setting(PsiGauge::whole(11), CHECKED), Err(DialRefusal::Replace(error)));
        assert!(check.better_replaced());
    }
    assert!(off_by(10).better_replaced() && off_by(-10).better_replaced());
    assert!(!off_by(9).better_replaced() && !off_by(-9).better_replaced());
}

#[test]
fn a_correction_past_fifteen_psi_is_refused() {
    // 14 psi is the table's pressure at 8,000 ft; 15 the most a weight holds.
    let set = |error, table| off_by(error).setting(PsiGauge::whole(table), CHECKED);
    assert_eq!(set(10, 14), Ok(PsiGauge::whole(15)));
    assert_eq!(set(20, 14), Err(DialRefusal::OverCeiling));
    assert_eq!(set(1, 15), Err(DialRefusal::OverCeiling));
    assert_eq!(set(0, 15), Ok(PsiGauge::whole(15)));
    assert_eq!(set(0, 16), Err(DialRefusal::OverCeiling));
}

#[test]
fn a_check_holds_for_twelve_months_and_not_before_it_was_made() {
    let check = off_by(0);
    let day = Span::hours(24).0;
    let later = |ms| EpochMs(CHECKED.0 + ms);
    assert_eq!(check.in_date(later(365 * day)), Ok(()));
    assert_eq!(check.in_date(later(365 * day + 1)), Err(DialRefusal::Overdue));
    assert_eq!(check.in_date(later(-1)), Err(DialRefusal::DatedAhead));
    assert_eq!(check.setting(PsiGauge::whole(11), later(400 * day)), Err(DialRefusal::Overdue));
    assert_eq!(check.in_date(EpochMs(i64::MAX)), Err(DialRefusal::Overdue));
    assert_eq!(check.in_date(EpochMs(i64::MIN)), Err(DialRefusal::DatedAhead));
}

#[test]
fn a_check_without_pressure_shows_nothing() {
    let check = DialCheck::new(PsiGauge::whole(0), PsiGauge::whole(0), CHECKED);
    assert_eq!(check, Err(DialRefusal::TooLittlePressure));
}

#[test]
fn every_reading_gives_at_least_the_tables_pressure() {
    for reading in 0..=300 {
        for standard in (50..=300).step_by(7) {
            let check = DialCheck::new(tenths(reading), tenths(standard), CHECKED).unwrap();
            for table in [10, 11, 14, 15].map(PsiGauge::whole) {
                let Ok(setting) = check.setting(table, CHECKED) else { continue };
                // What the canner holds when the dial shows the setting.
                let held = setting.tenths() as i16 - check.error_tenths();
                assert!(held >= table.tenths() as i16 && setting >= table);
                assert!(check.error_tenths().abs() <= 20 && setting <= PsiGauge::whole(15));
            }
        }
    }
}

fn feet(feet: i32) -> Altitude {
    Altitude::from_feet(feet).unwrap()
}

#[test]
fn doubt_about_altitude_raises_it() {
    let place = Place::new(feet(1_950), 100, Datum::SeaLevel).unwrap();
    assert_eq!((place.low(), place.to_use()), (feet(1_850), feet(2_050)));
    assert_eq!(place.crossed().collect::<Vec<_>>(), [2_000]);
    // The edge itself still belongs to the lower band: 0 to 2,000 ft.
    let edge = |reading, doubt| Place::new(feet(reading), doubt, Datum::SeaLevel).unwrap();
    assert_eq!(edge(1_950, 50).crossed().count(), 0);
    assert_eq!(edge(2_000, 0).crossed().count(), 0);
    assert_eq!(edge(2_000, 1).crossed().collect::<Vec<_>>(), [2_000]);
    assert_eq!(edge(2_050, 50).crossed().collect::<Vec<_>>(), [2_000]);
    assert_eq!(edge(2_051, 50).crossed().count(), 0);
    let wide = edge(4_000, 5_000);
    assert_eq!(wide.crossed().collect::<Vec<_>>(), [1_000, 2_000, 4_000, 6_000, 8_000]);
}

#[test]
fn a_satellite_height_is_widened_by_the_geoid() {
    let place = Place::new(feet(1_700), 0, Datum::Ellipsoid).unwrap();
    assert!(place.to_use() >= feet(2_051) && place.low() <= feet(1_420));
    assert_eq!(place.crossed().collect::<Vec<_>>(), [2_000]);
}

#[test]
fn an_altitude_beyond_the_range_is_refused() {
    let high = Place::new(feet(29_990), 11, Datum::SeaLevel);
    assert_eq!(high, Err(AltitudeError::OutOfRange));
    assert_eq!(Place::new(feet(-1_500), 11, Datum::SeaLevel).unwrap().low(), feet(-1_500));
}

#[test]
fn a_boiling_point_gives_a_range_of_altitudes() {
    // 208 F is 2,168 ft (row inv.alt.208F); a thermometer good to 1 F spans
    // about 550 ft either way, the weather about 250 m more.
    let boiling = Celsius::from_fahrenheit(208.0).unwrap();
    let fair = boiling::altitude(boiling, 1.0 / 1.8, Weather::Standard).unwrap();
    let (low, high) = fair.feet().unwrap();
    assert!((1_610..1_630).contains(&low.feet()), "{low:?}");
    assert!((2_710..2_725).contains(&high.feet()), "{high:?}");
    assert!((fair.reading.feet() - 2_168.069).abs() < 0.7);
    let foul = boiling::altitude(boiling, 1.0 / 1.8, Weather::Unknown).unwrap();
    assert!((foul.high.metres() - fair.high.metres() - 270.0).abs() < 30.0);
    assert!((fair.low.metres() - foul.low.metres() - 255.0).abs() < 30.0);
    let place = Place::from_boiling(foul).unwrap();
    assert!(place.to_use() > high && place.crossed().eq([1_000, 2_000]));
    let error = boiling::altitude(boiling, -0.1, Weather::Standard);
    assert_eq!(error, Err(PhysicsError::OutOfRange(Quantity::Uncertainty)));
}
