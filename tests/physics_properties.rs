//! Laws that hold for every input: direction, inverses, sums, scaling, and that
//! no input at all makes NaN.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

#[path = "physics/data.rs"]
mod data;
#[path = "physics/laws_of_heat.rs"]
mod laws_of_heat;

use data::{celsius, sample};
use hearthjar::physics::atmosphere::{self, Geometric, Geopotential};
use hearthjar::physics::bessel::j0_j1;
use hearthjar::physics::boiling::{self, Weather};
use hearthjar::physics::conduction::{Modes, Shape};
use hearthjar::physics::food::{Component, Composition};
use hearthjar::physics::jar::{Cylinder, Jar, Surface};
use hearthjar::physics::lethality::Lethality;
use hearthjar::physics::steam::{self, AirFraction};
use hearthjar::physics::{
    Celsius, Diffusivity, Pascal, PhysicsError, Quantity, Sample, saturation,
};
use hearthjar::units::{Altitude, PsiGauge, Span};
use proptest::prelude::*;

/// Any altitude a person can give, from below sea level to far over 4,000 m.
fn height() -> impl Strategy<Value = Geometric> {
    (Altitude::MIN_FT..=Altitude::MAX_FT).prop_map(|ft| Altitude::from_feet(ft).unwrap().into())
}

fn gauge() -> impl Strategy<Value = PsiGauge> {
    (0..=300u16).prop_map(|tenths| PsiGauge::from_tenths(tenths).unwrap())
}

/// Any float there is: infinities, NaN, zeros of both signs, the tiniest, the largest.
fn anything() -> impl Strategy<Value = f64> {
    prop_oneof![any::<f64>(), -1e4..1e4f64, Just(0.0), Just(f64::NAN), Just(f64::INFINITY)]
}

fn alpha() -> Diffusivity {
    Diffusivity::new(1.4e-7).unwrap()
}

fn is_number_or_error(result: Result<f64, PhysicsError>) {
    assert!(result.is_err() || result.unwrap().is_finite());
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(128) })]

    #[test]
    fn air_thins_with_height_and_back(a in height(), b in height()) {
        let pressure = atmosphere::pressure(a);
        let back = Geometric::from(atmosphere::height(pressure).unwrap());
        prop_assert!((back.metres() - a.metres()).abs() < 1e-6);
        prop_assert_eq!(a > b, pressure < atmosphere::pressure(b));
        let round = Geometric::from(Geopotential::from(a));
        prop_assert!((round.metres() - a.metres()).abs() < 1e-8);
    }

    /// The law of the 1976 standard by the general power function, Rust's own.
    #[test]
    fn air_pressure_is_the_power_law(a in height()) {
        use atmosphere::{EXPONENT, LAPSE, SEA_LEVEL_K, SEA_LEVEL_PA};
        let ratio = 1.0 + LAPSE / SEA_LEVEL_K * Geopotential::from(a).metres();
        let law = SEA_LEVEL_PA * ratio.powf(EXPONENT);
        let pressure = atmosphere::pressure(a);
        prop_assert!((pressure.pascals() / law - 1.0).abs() < 1e-13);
        let back = atmosphere::height(pressure).unwrap().metres();
        let ratio = (pressure.pascals() / SEA_LEVEL_PA).powf(1.0 / EXPONENT);
        prop_assert!((back - (ratio - 1.0) * SEA_LEVEL_K / LAPSE).abs() < 1e-8);
    }

    #[test]
    fn boiling_rises_with_pressure_and_back(pascals in 611.3..22.063e6f64) {
        let boiling = saturation::temperature(Pascal::new(pascals).unwrap()).unwrap();
        let back = saturation::pressure(boiling).unwrap().pascals();
        prop_assert!((back / pascals - 1.0).abs() < 1e-7, "{pascals} {back}");
        let higher = saturation::temperature(Pascal::new(pascals * 1.000_01).unwrap());
        prop_assert!(higher.is_err() || higher.unwrap() > boiling);
    }

    #[test]
    fn steam_is_hotter_under_more_pressure_lower_down_and_without_air(
        psi in gauge(), place in height(), share in 0.001..0.9f64,
    ) {
        let pure = steam::temperature(psi, place, AirFraction::NONE).unwrap();
        if let Some(more) = psi.plus_whole(1) {
            prop_assert!(steam::temperature(more, place, AirFraction::NONE).unwrap() > pure);
        }
        let lower = Geometric::new(place.metres() - 30.0).unwrap();
        prop_assert!(steam::temperature(psi, lower, AirFraction::NONE).unwrap() > pure);
        let air = AirFraction::new(share).unwrap();
        prop_assert!(steam::cooling_by_air(psi, place, air).unwrap() > 0.0);
        let psi_back = steam::gauge_pressure(pure, place);
        // At 0 psi rounding may fall on the other side of zero.
        prop_assert!(psi.tenths() == 0 || (psi_back.unwrap().psi() - psi.psi()).abs() < 1e-6);
    }

    #[test]
    fn doubt_about_pressure_moves_the_steam_its_own_way(
        psi in gauge(), place in height(), off in 1.0..15_000.0f64,
    ) {
        let exact = steam::temperature(psi, place, AirFraction::NONE).unwrap().degrees();
        let at = |off| steam::doubtful(psi.psi(), place, off).unwrap().degrees();
        prop_assert!((at(0.0) - exact).abs() < 1e-9);
        prop_assert!(at(-off) < exact && exact < at(off));
    }

    #[test]
    fn the_boiling_range_holds_the_place_and_widens_with_doubt(
        place in height(), doubt in 0.0..1.5f64, error in -1.0..1.0f64,
    ) {
        let measured = celsius(boiling::boiling_point(place).degrees() + doubt * error);
        let range = boiling::altitude(measured, doubt, Weather::Standard).unwrap();
        prop_assert!(range.low.metres() - 1e-5 <= place.metres());
        prop_assert!(place.metres() <= range.high.metres() + 1e-5);
        prop_assert!(range.low <= range.reading && range.reading <= range.high);
        // A 3 kPa day may reach past the model's 11 km: then it is an error, not a guess.
        if let Ok(wider) = boiling::altitude(measured, doubt, Weather::Unknown) {
            prop_assert!(wider.low < range.low && wider.high > range.high);
            prop_assert_eq!(wider.reading, range.reading);
        }
    }

    #[test]
    fn no_input_makes_nan(a in anything(), b in anything(), c in anything()) {
        is_number_or_error(Celsius::new(a).map(Celsius::fahrenheit));
        is_number_or_error(Celsius::from_fahrenheit(a).map(Celsius::degrees));
        is_number_or_error(Celsius::from_kelvin(a).map(Celsius::degrees));
        is_number_or_error(Celsius::new(a).map(|t| Lethality::F0.rate(t)));
        is_number_or_error(Geometric::new(a).map(|z| atmosphere::pressure(z).pascals()));
        is_number_or_error(Geopotential::new(a).map(|h| atmosphere::temperature(h).degrees()));
        is_number_or_error(Pascal::new(a).and_then(atmosphere::height).map(Geopotential::metres));
        is_number_or_error(Pascal::new(a).and_then(saturation::temperature).map(Celsius::degrees));
        is_number_or_error(Celsius::new(a).and_then(saturation::pressure).map(Pascal::pascals));
        is_number_or_error(j0_j1(a).map(|(j0, j1)| j0 + j1));
        is_number_or_error(Diffusivity::new(a).map(Diffusivity::square_metres_per_second));
        is_number_or_error(Modes::new(Shape::Slab, a).and_then(|m| m.centre_ratio(b)));
        is_number_or_error(Modes::new(Shape::Cylinder, a).and_then(|m| m.centre_ratio(b)));
        is_number_or_error(
            Composition::new([a, b, c, 0.0, 0.0, 1.0])
                .and_then(|food| food.properties(celsius(60.0)))
                .map(|found| found.density + found.conductivity + found.specific_heat),
        );
        for component in [Component::Water, Component::Fat, Component::Ice] {
            is_number_or_error(
                Celsius::new(a).and_then(|t| component.properties(t)).map(|found| found.density),
            );
        }
        is_number_or_error(Celsius::new(a).and_then(|boils| {
            boiling::altitude(boils, b, Weather::Unknown).map(|range| range.high.metres())
        }));
        is_number_or_error(AirFraction::new(a).and_then(|air| {
            steam::temperature(PsiGauge::whole(11), Geometric::new(b)?, air).map(Celsius::degrees)
        }));
        is_number_or_error(Geometric::new(a).and_then(|place| {
            steam::doubtful(b, place, c).map(Celsius::degrees)
        }));
        is_number_or_error(Lethality::new(celsius(121.1), a).and_then(|rule| {
            let ends = [sample(0.0, 20.0), Sample { at: Span(600_000), temperature: Celsius::new(b)? }];
            rule.total(&ends)
        }));
        is_number_or_error(Cylinder::inside(a, b, c, 25.4).and_then(|food| {
            let jar = Jar::new(food, alpha(), Surface::AT_STEAM)?;
            let mut run = jar.start(celsius(5.0), celsius(100.0));
            run.advance(60.0, celsius(115.6))?;
            Ok(run.centre().degrees())
        }));
        is_number_or_error(Surface::through(a, b).and_then(|wall| {
            let jar = Jar::new(Cylinder::new(0.04, 0.06)?, alpha(), wall)?;
            let mut run = jar.start(celsius(5.0), celsius(100.0));
            run.advance(c, celsius(115.6))?;
            Ok(run.centre().degrees())
        }));
    }
}

#[test]
fn nonsense_is_named() {
    let cases = [
        (Celsius::new(f64::NAN).unwrap_err(), PhysicsError::NotANumber(Quantity::Temperature)),
        (Celsius::new(-300.0).unwrap_err(), PhysicsError::OutOfRange(Quantity::Temperature)),
        (Pascal::new(-1.0).unwrap_err(), PhysicsError::OutOfRange(Quantity::Pressure)),
        (Geometric::new(20_000.0).unwrap_err(), PhysicsError::OutOfRange(Quantity::Altitude)),
        (AirFraction::new(1.0).unwrap_err(), PhysicsError::OutOfRange(Quantity::AirFraction)),
        (Diffusivity::new(0.0).unwrap_err(), PhysicsError::OutOfRange(Quantity::Diffusivity)),
        (Cylinder::new(0.0, 0.1).unwrap_err(), PhysicsError::OutOfRange(Quantity::Length)),
        (Composition::new([0.0; 6]).unwrap_err(), PhysicsError::OutOfRange(Quantity::Composition)),
        (
            Surface::through(0.0, 0.5).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::SurfaceCoefficient),
        ),
        (
            Surface::through(300.0, 0.0).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::Conductivity),
        ),
        (
            Lethality::new(celsius(121.1), 0.0).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::ZValue),
        ),
        (
            saturation::pressure(celsius(-1.0)).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::Temperature),
        ),
        (
            saturation::pressure(celsius(374.0)).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::Temperature),
        ),
        (
            saturation::temperature(Pascal::new(600.0).unwrap()).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::Pressure),
        ),
        (
            saturation::temperature(Pascal::new(23e6).unwrap()).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::Pressure),
        ),
        (
            steam::doubtful(-1.0, Geometric::new(0.0).unwrap(), 0.0).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::Pressure),
        ),
        (
            steam::doubtful(11.0, Geometric::new(0.0).unwrap(), 30_000.0).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::Uncertainty),
        ),
        // Water on a hilltop boils hotter than this steam: no gauge can show it.
        (
            steam::gauge_pressure(celsius(80.0), Geometric::new(300.0).unwrap()).unwrap_err(),
            PhysicsError::OutOfRange(Quantity::Pressure),
        ),
    ];
    for (got, expected) in cases {
        assert_eq!(got, expected);
        assert!(got.to_string().ends_with('.') && got.quantity() == expected.quantity());
        assert_eq!(got.is_out_of_range(), got != PhysicsError::NotANumber(Quantity::Temperature));
    }
}

#[test]
fn a_temperature_shows_both_scales() {
    assert_eq!(celsius(115.6).to_string(), "240.1 °F (115.6 °C)");
    assert_eq!(celsius(-18.0).to_string(), "-0.4 °F (-18.0 °C)");
}
