//! Quantities: conversions against NIST SP 811 and what people type.
#![allow(clippy::unwrap_used)] // a failed test may panic

use hearthjar::batch::Id;
use hearthjar::present::{Clockface, LocalTime, Route, digits, words};
use hearthjar::units::{Altitude, AltitudeError, EpochMs, Inches, PsiError, PsiGauge, Span};
use proptest::prelude::*;

proptest! {
    #[test]
    fn psi_survives_its_text(tenths in 0_u16..=300) {
        let psi = PsiGauge::from_tenths(tenths).unwrap();
        prop_assert_eq!(PsiGauge::parse(&psi.to_string()), Ok(psi));
        // NIST SP 811, appendix B.8: 1 psi = 6.894757 kPa.
        let kpa = f64::from(tenths) / 10.0 * 6.894_757;
        prop_assert!((f64::from(psi.kpa()) - kpa).abs() <= 0.5);
    }

    #[test]
    fn metres_go_up_to_the_next_foot(decimetres in -4_500_i32..91_000) {
        // NIST SP 811: the international foot is exactly 0.3048 m.
        let feet = f64::from(decimetres) / 10.0 / 0.3048;
        let altitude = Altitude::from_decimetres(decimetres).unwrap();
        prop_assert!(f64::from(altitude.feet()) >= feet - 1e-9);
        prop_assert!(f64::from(altitude.feet()) < feet + 1.0);
        let shown = f64::from(altitude.feet()) * 0.3048;
        prop_assert!((f64::from(altitude.metres()) - shown).abs() <= 0.5 + 1e-9);
    }

    #[test]
    fn nothing_typed_makes_it_panic(text in any::<String>()) {
        let _ = PsiGauge::parse(&text);
        let _ = Altitude::parse(&text, true);
        let _ = Altitude::parse(&text, false);
        let _ = Route::parse(&text);
    }

    #[test]
    fn a_clock_is_never_shown_short(ms in 0_i64..100_000_000) {
        let shown = digits(Span(ms));
        let seconds = shown.split(':').fold(0_i64, |sum, part| sum * 60 + part.parse::<i64>().unwrap());
        prop_assert!(seconds * 1000 >= ms && seconds * 1000 < ms + 1000);
    }

    #[test]
    fn an_address_leads_back(a in any::<[u8; 16]>(), b in any::<[u8; 16]>()) {
        let (a, b) = (Id::from_bytes(a), Id::from_bytes(b));
        for route in [Route::Today, Route::Find, Route::Batch(a), Route::Load(a, b), Route::Plan, Route::Shelf,
            Route::FindFor(a), Route::Raws, Route::Raw(b), Route::Brine, Route::HandOver, Route::More, Route::Safety] {
            prop_assert_eq!(Route::parse(&route.hash()), route);
        }
    }
}

#[test]
fn what_people_type() {
    assert_eq!(PsiGauge::parse(" 10,5 ").unwrap().tenths(), 105);
    assert_eq!(PsiGauge::parse("10.99").unwrap().tenths(), 109);
    assert_eq!(PsiGauge::parse("31"), Err(PsiError::OutOfRange));
    assert_eq!(PsiGauge::parse("-1"), Err(PsiError::OutOfRange));
    for wrong in ["", "ten", "1e1", "NaN", "1.2.3", "99999999999"] {
        assert_eq!(PsiGauge::parse(wrong), Err(PsiError::NotANumber), "{wrong}");
    }
    assert_eq!(Altitude::parse("1,200", false).unwrap().feet(), 1200);
    assert_eq!(Altitude::parse("1 200.2", false).unwrap().feet(), 1201);
    // A point before just three digits sets off thousands, as in Spanish (CLDR 45, `es`).
    assert_eq!(Altitude::parse("1.200", false).unwrap().feet(), 1200);
    assert_eq!(Altitude::parse("12.345", false).unwrap().feet(), 12_345);
    assert_eq!(Altitude::parse("1.500", true).unwrap().feet(), 4922);
    assert_eq!(Altitude::parse("1200.250", false).unwrap().feet(), 1201);
    assert_eq!(Altitude::parse("-282", false).unwrap().feet(), -282);
    // 2,000 ft is 609.6 m exactly; a hair more is the next band.
    assert_eq!(Altitude::parse("609.6", true).unwrap().feet(), 2000);
    assert_eq!(Altitude::parse("609.61", true).unwrap().feet(), 2001);
    assert_eq!(Altitude::parse("40000", false), Err(AltitudeError::OutOfRange));
    assert_eq!(Altitude::parse("high", false), Err(AltitudeError::NotANumber));
}

#[test]
fn lengths_and_times_in_words() {
    assert_eq!(Inches::quarters(5).to_string(), "1 1/4");
    assert_eq!(Inches::quarters(4).millimetres(), 25); // 25.4 mm to the inch
    assert_eq!(Inches::quarters(2).to_string(), "1/2");
    assert_eq!(words(Span::minutes(100)), "1 h 40 min");
    assert_eq!(words(Span::hours(51)), "2 days 3 h");
    assert_eq!(digits(Span::minutes(100)), "1:40:00");
    assert_eq!(digits(Span(1)), "0:01");
    let time = LocalTime { year: 2026, month: 3, day: 8, weekday: 0, hour: 0, minute: 5 };
    assert_eq!(time.clock(Clockface::Twelve), "12:05 am");
    assert_eq!(time.day_and_clock(Clockface::TwentyFour), "Sun 0:05");
    assert_eq!(time.date(), "2026-03-08");
    assert_eq!(EpochMs(i64::MAX).plus(Span(1)), EpochMs(i64::MAX));
}
