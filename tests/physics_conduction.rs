//! The jar's series against an independent finite-difference solution of the
//! heat equation (`tests/physics/finite_difference.rs`): within 0.01 K.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

#[path = "physics/data.rs"]
mod data;
#[path = "physics/finite_difference.rs"]
mod finite_difference;

use data::{celsius, sample};
use finite_difference::Case;
use hearthjar::physics::Diffusivity;
use hearthjar::physics::jar::{Cylinder, Jar, Surface};

/// Wall and steam film as one coefficient over the food's conductivity, 1/m:
/// 3 mm of glass (1.0 W/(m K)) and 5,000 W/(m² K) into food of 0.5 W/(m K).
const GLASS: f64 = 312.5 / 0.5;

/// A whole canner run, minutes and °C: venting, come-up, process, slow cooling.
fn canner() -> Vec<(u32, f64)> {
    vec![(0, 60.0), (8, 100.0), (18, 100.0), (24, 115.6), (124, 115.6), (150, 90.0)]
}

/// Steam at once, then cold water: steps, the hardest history to follow.
fn steps() -> Vec<(u32, f64)> {
    vec![(0, 115.6), (90, 115.6), (90, 20.0), (130, 20.0)]
}

fn agree(
    radius_mm: f64,
    half_height_mm: f64,
    film: Option<f64>,
    start: f64,
    steam: Vec<(u32, f64)>,
) {
    let (radius, half_height, alpha) = (radius_mm / 1e3, half_height_mm / 1e3, 1.45e-7);
    let surface = match film {
        Some(film) => Surface::through(film * 0.5, 0.5).unwrap(),
        None => Surface::AT_STEAM,
    };
    let food = Cylinder::new(radius, half_height).unwrap();
    let jar = Jar::new(food, Diffusivity::new(alpha).unwrap(), surface).unwrap();
    let history: Vec<_> = steam.iter().map(|(t, s)| sample(f64::from(*t), *s)).collect();
    let minutes: Vec<u32> = (1..=13).map(|i| i * 10).collect();
    let case = Case { radius, half_height, alpha, film, start, steam };
    let mut worst = (0.0f64, 0.0f64);
    for (t, (grid, doubt)) in minutes.iter().zip(case.centre(&minutes)) {
        let asked = sample(f64::from(*t), 0.0).at;
        let mut run = jar.start(celsius(start), history[0].temperature);
        let mut last = history[0];
        for next in &history[1..] {
            if last.at >= asked {
                break;
            }
            let whole = (next.at.0 - last.at.0) as f64;
            let part = (asked.0 - last.at.0) as f64;
            let (from, to) = (last.temperature.degrees(), next.temperature.degrees());
            if part < whole {
                run.advance(part / 1e3, celsius(from + (to - from) * part / whole)).unwrap();
            } else {
                run.advance(whole / 1e3, next.temperature).unwrap();
            }
            last = *next;
        }
        let off = (run.centre().degrees() - grid).abs();
        worst = (worst.0.max(off), worst.1.max(doubt));
    }
    println!(
        "{radius_mm} x {half_height_mm} mm: off by {:.5} K, grid to {:.5} K",
        worst.0, worst.1
    );
    assert!(worst.1 < 0.002, "the grid is too coarse to judge by: {worst:?}");
    assert!(worst.0 < 0.01, "{radius_mm} x {half_height_mm} mm from {start}: {worst:?}");
}

// Inside sizes from tests/physics/containers.csv, 3 mm of wall, 1 in of headspace.

#[test]
fn half_pint_from_the_refrigerator() {
    agree(32.0, 33.0, None, 5.0, canner());
}

#[test]
fn pint_behind_glass() {
    agree(36.0, 50.0, Some(GLASS), 5.0, canner());
}

#[test]
fn pint_packed_hot_in_sudden_steam_and_cold_water() {
    agree(36.0, 50.0, None, 60.0, steps());
}

#[test]
fn quart_from_room_temperature() {
    agree(41.0, 72.0, None, 20.0, canner());
}

#[test]
fn quart_behind_glass_in_steps() {
    agree(41.0, 72.0, Some(GLASS), 15.0, steps());
}

#[test]
fn flat_can_thinner_than_wide() {
    agree(42.0, 20.0, None, 15.0, steps());
}
