//! Altitudes that were measured.
//!
//! Sources: USDA Complete Guide to Home Canning, p. 1-10 (boiling points 208 F at 2,000
//! ft, 201 F at 6,000 ft, rounded); W3C Geolocation (height above the WGS 84 ellipsoid).
#![allow(clippy::unwrap_used)] // a failed test may panic

use hearthjar::present::{place_by_boiling, place_by_sensor};
use proptest::prelude::*;

#[test]
fn doubt_across_an_edge_takes_the_higher_band_and_says_so() {
    // 590 m is 1,936 ft: the sensor's doubt crosses 2,000 ft.
    let near = place_by_sensor(590.0, 15.0).unwrap();
    assert!(near.altitude.feet() > 2000);
    assert!(near.say.contains("steps up at 2000 ft"), "{}", near.say);
    // 900 m is 2,953 ft: far from an edge.
    let far = place_by_sensor(900.0, 5.0).unwrap();
    assert!(far.say.contains("one pressure band"), "{}", far.say);
    assert!(far.altitude.feet() >= 2953);
}

#[test]
fn published_boiling_points_lie_in_the_range() {
    for (fahrenheit, feet) in [(212, 0), (208, 2000), (204, 4000), (201, 6000), (197, 8000)] {
        let advice = place_by_boiling(fahrenheit * 10, 10).unwrap();
        assert!(advice.altitude.feet() >= feet, "{fahrenheit} F: {}", advice.say);
        assert!(advice.altitude.feet() <= feet + 2_500, "{fahrenheit} F: {}", advice.say);
    }
    assert!(place_by_boiling(400, 10).is_err());
    assert!(place_by_boiling(2120, -5).is_err());
}

proptest! {
    #[test]
    fn the_higher_end_is_never_below_the_reading(
        metres in -400.0_f64..3000.0, doubt in 0.0_f64..500.0,
    ) {
        let advice = place_by_sensor(metres, doubt).unwrap();
        prop_assert!(f64::from(advice.altitude.feet()) * 0.3048 >= metres + doubt - 1e-6);
    }

    #[test]
    fn nonsense_is_an_error_and_no_panic(metres in any::<f64>(), doubt in any::<f64>(), a in any::<i32>(), b in any::<i32>()) {
        let _ = place_by_sensor(metres, doubt);
        let _ = place_by_boiling(a, b);
    }
}
