//! Laws of lethality and conduction: sums, scaling, superposition.

use crate::data::celsius;
use hearthjar::physics::conduction::{Modes, Shape};
use hearthjar::physics::food::Composition;
use hearthjar::physics::jar::{Cylinder, Jar, Surface};
use hearthjar::physics::lethality::Lethality;
use hearthjar::physics::{Diffusivity, PhysicsError, Quantity, Sample};
use hearthjar::units::Span;
use proptest::prelude::*;

/// A history of 2 to 12 readings, times never falling.
fn history() -> impl Strategy<Value = Vec<Sample>> {
    prop::collection::vec((0..1_800_000i64, -20.0..135.0f64), 2..12).prop_map(|readings| {
        let mut at = 0;
        let mut next = |(gap, degrees): (i64, f64)| {
            at += gap;
            Sample { at: Span(at), temperature: celsius(degrees) }
        };
        readings.into_iter().map(&mut next).collect()
    })
}

fn food() -> impl Strategy<Value = Cylinder> {
    (0.01..0.08f64, 0.01..0.12f64).prop_map(|(r, l)| Cylinder::new(r, l).unwrap())
}

fn surface() -> impl Strategy<Value = Surface> {
    prop_oneof![
        Just(Surface::AT_STEAM),
        (5.0..5e3f64, 0.1..1.0f64).prop_map(|(h, k)| Surface::through(h, k).unwrap()),
    ]
}

fn alpha() -> Diffusivity {
    Diffusivity::new(1.4e-7).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(128) })]

    #[test]
    fn lethality_adds_up_over_any_split(log in history(), cut in 0.0..1.0f64) {
        let whole = Lethality::F0.total(&log).unwrap();
        let series = Lethality::F0.cumulative(&log).unwrap();
        prop_assert!(series.windows(2).all(|two| two[1] >= two[0]));
        prop_assert!(whole.is_finite() && *series.last().unwrap() == whole);
        // A reading put in on the straight line changes nothing.
        let [a, b] = [log[0], log[1]];
        let at = Span(a.at.0 + ((b.at.0 - a.at.0) as f64 * cut) as i64);
        prop_assume!(b.at > a.at);
        let share = (at.0 - a.at.0) as f64 / (b.at.0 - a.at.0) as f64;
        let rise = b.temperature.degrees() - a.temperature.degrees();
        let between = Sample { at, temperature: celsius(a.temperature.degrees() + rise * share) };
        let mut split = log.clone();
        split.insert(1, between);
        prop_assert!((Lethality::F0.total(&split).unwrap() - whole).abs() <= 1e-11 * whole.max(1e-9));
        // So does cutting the log in two.
        let parts = Lethality::F0.total(&split[..2]).unwrap() + Lethality::F0.total(&split[1..]).unwrap();
        prop_assert!((parts - whole).abs() <= 1e-11 * whole.max(1e-9));
    }

    #[test]
    fn lethality_scales(log in history()) {
        let whole = Lethality::F0.total(&log).unwrap();
        // One z hotter is ten times as lethal; twice as slow is twice as long.
        let hotter: Vec<_> = log.iter()
            .map(|s| Sample { temperature: celsius(s.temperature.degrees() + 10.0), ..*s }).collect();
        prop_assert!((Lethality::F0.total(&hotter).unwrap() - 10.0 * whole).abs() <= 1e-11 * whole);
        let slower: Vec<_> = log.iter().map(|s| Sample { at: Span(s.at.0 * 2), ..*s }).collect();
        prop_assert!((Lethality::F0.total(&slower).unwrap() - 2.0 * whole).abs() <= 1e-12 * whole);
        let mut backwards = log.clone();
        backwards.push(Sample { at: Span(log[log.len() - 1].at.0 - 1), ..log[0] });
        prop_assert_eq!(Lethality::F0.total(&backwards), Err(PhysicsError::OutOfRange(Quantity::Time)));
    }

    #[test]
    fn the_centre_stays_between_start_and_steam(
        jar in food(), wall in surface(), steam in history(), start in 0.0..90.0f64,
    ) {
        let jar = Jar::new(jar, alpha(), wall).unwrap();
        let temperatures = steam.iter().map(|s| s.temperature.degrees());
        let (low, high) = temperatures.fold((start, start), |(l, h), t| (l.min(t), h.max(t)));
        // Room for what the 25 modes leave out in the first seconds after a step.
        let room = 1e-3 + 1.5e-4 * (high - low);
        for food in jar.centre(celsius(start), &steam).unwrap() {
            let degrees = food.temperature.degrees();
            prop_assert!(low - room <= degrees && degrees <= high + room, "{low} {degrees} {high}");
        }
    }

    #[test]
    fn a_jar_twice_the_size_takes_four_times_as_long(
        r in 0.01..0.05f64, l in 0.01..0.06f64, steam in history(),
    ) {
        let jar = |scale| Jar::new(Cylinder::new(r * scale, l * scale).unwrap(), alpha(), Surface::AT_STEAM).unwrap();
        let slower: Vec<_> = steam.iter().map(|s| Sample { at: Span(s.at.0 * 4), ..*s }).collect();
        let small = jar(1.0).centre(celsius(15.0), &steam).unwrap();
        let large = jar(2.0).centre(celsius(15.0), &slower).unwrap();
        for (a, b) in small.iter().zip(&large) {
            prop_assert!((a.temperature.degrees() - b.temperature.degrees()).abs() < 1e-7);
        }
        prop_assert!((jar(2.0).heating_rate_index() / jar(1.0).heating_rate_index() - 4.0).abs() < 1e-9);
    }

    #[test]
    fn a_reading_on_the_line_changes_nothing_and_starts_superpose(
        jar in food(), wall in surface(), steam in history(), start in 0.0..90.0f64,
    ) {
        let jar = Jar::new(jar, alpha(), wall).unwrap();
        let whole = jar.centre(celsius(start), &steam).unwrap();
        let halved: Vec<_> = steam.windows(2).flat_map(|two| {
            let middle = (two[0].temperature.degrees() + two[1].temperature.degrees()) / 2.0;
            [two[0], Sample { at: Span((two[0].at.0 + two[1].at.0) / 2), temperature: celsius(middle) }]
        }).chain(steam.last().copied()).collect();
        // Half a millisecond lost to whole milliseconds matters on short segments only.
        prop_assume!(steam.windows(2).all(|two| two[1].at.0 - two[0].at.0 > 60_000));
        let fine = jar.centre(celsius(start), &halved).unwrap();
        for (a, b) in whole.iter().zip(fine.iter().step_by(2)) {
            prop_assert!((a.temperature.degrees() - b.temperature.degrees()).abs() < 2e-3);
        }
        // Heat flow is linear: 10 K more everywhere is 10 K more in the centre.
        let warmer: Vec<_> = steam.iter()
            .map(|s| Sample { temperature: celsius(s.temperature.degrees() + 10.0), ..*s }).collect();
        let shifted = jar.centre(celsius(start + 10.0), &warmer).unwrap();
        for (a, b) in whole.iter().zip(&shifted) {
            prop_assert!((a.temperature.degrees() + 10.0 - b.temperature.degrees()).abs() < 1e-9);
        }
    }

    #[test]
    fn modes_sum_to_one_and_decay_in_order(inverse in prop_oneof![Just(0.0), 1e-9..1e3f64]) {
        for shape in [Shape::Slab, Shape::Cylinder] {
            let modes = Modes::new(shape, inverse).unwrap();
            let sum: f64 = modes.all().iter().map(|mode| mode.weight).sum();
            prop_assert!((sum - 1.0).abs() < 1e-12);
            prop_assert!(modes.all().windows(2).all(|two| two[0].decay < two[1].decay));
            prop_assert!(modes.slowest().decay > 0.0);
        }
    }

    #[test]
    fn fattier_fish_conducts_less_and_shares_scale(fat in 1.0..20.0f64, t in 0.0..149.0f64) {
        let fish = |fat: f64, scale: f64| {
            Composition::new([70.0, 20.0, fat, 0.0, 0.0, 1.5].map(|g| g * scale)).unwrap()
                .properties(celsius(t)).unwrap()
        };
        prop_assert!(fish(fat + 1.0, 1.0).conductivity < fish(fat, 1.0).conductivity);
        prop_assert!((fish(fat, 7.0).density - fish(fat, 1.0).density).abs() < 1e-9);
        prop_assert!(fish(fat, 1.0).diffusivity().unwrap().square_metres_per_second() > 1e-7);
    }
}
