//! The heat a finished run delivered.
//!
//! Sources: lethal rates at steam temperatures, `tests/physics/gauge-temperature.csv`
//! (public libraries); F0 with T_ref 121.1 °C and z 10 K as the field defines it; the
//! cold point against the finite-difference solver in `tests/physics/`.
#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{id, plan, start};
use hearthjar::batch::{Archive, Batch, BatchStart, Body, LoadPlan};
use hearthjar::heat::{Account, Cold, FRAME, account};
use hearthjar::process::{Gauge, Jar};
use hearthjar::run::{DropCause, Step, StopCause};
use hearthjar::units::{Altitude, EpochMs, PsiGauge, Span};
use proptest::prelude::*;

const START: EpochMs = EpochMs(1_764_000_000_000);

fn psi(tenths: u16) -> PsiGauge {
    PsiGauge::from_tenths(tenths).unwrap()
}

/// Pints of fish on a dial at 11 psi for 100 min.
fn dial() -> LoadPlan {
    LoadPlan { gauge: Gauge::Dial, pressure: PsiGauge::whole(11), ..plan(3) }
}

fn told(start: BatchStart, plan: LoadPlan, steps: &[(i64, Step)]) -> Batch {
    let mut archive = Archive::new();
    let (batch, load) = (id(100), id(2));
    let bodies = [Body::BatchStarted(start), Body::LoadPlanned(plan)].map(|body| (0, body));
    let steps = steps.iter().map(|(minute, step)| (*minute, Body::Ran { load, step: *step }));
    for (name, (minute, body)) in (1..).zip(bodies.into_iter().chain(steps)) {
        let now = START.plus(Span::minutes(minute));
        let drafted = archive.draft(batch, now, [(id(name), body)]).unwrap();
        archive.extend(drafted);
    }
    archive.batch(batch).unwrap().clone()
}

fn of(batch: &Batch) -> Option<Account> {
    account(&batch.loads[0], &batch.start.as_ref().unwrap().1)
}

const UP: [(i64, Step); 4] =
    [(0, Step::HeatOn), (20, Step::SteamSteady), (30, Step::VentClosed), (35, Step::AtPressure)];
const DOWN: [(i64, Step); 3] =
    [(135, Step::HeatOff), (175, Step::WeightOff), (186, Step::LidOpened)];

fn whole(plan: LoadPlan, between: &[(i64, Step)]) -> Account {
    of(&told(start(), plan, &[&UP[..], between, &DOWN[..]].concat())).unwrap()
}

/// F0 in minutes of a straight line of so many minutes between two temperatures.
fn line(minutes: f64, from: f64, to: f64) -> f64 {
    let rate = |t: f64| 10_f64.powf((t - 121.1) / 10.0);
    if from == to {
        return minutes * rate(from);
    }
    minutes * (rate(to) - rate(from)) / (rate(to) / rate(from)).ln()
}

#[test]
fn the_wall_has_the_heat_of_the_steam() {
    let account = whole(dial(), &[]);
    // 11 psi at sea level: 116.421 C, 0.3405 min a minute (gauge-temperature.csv);
    // water boils there at 99.974 C (IAPWS-IF97). The fall counts for 30 of its 40 min.
    let (open, hot) = (99.974, 116.4212);
    let expected = 100.0 * 0.3405
        + line(5.0, open, hot)
        + line(30.0, hot, open)
        + line(20.0, 5.0, open)
        + 21.0 * line(1.0, open, open)
        + 10.0 * line(1.0, open, open);
    let got = f64::from(account.wall.likely) / 10.0;
    assert!((got - expected).abs() < 0.06, "{got} {expected}");
    // At the least: half a psi short and 3 kPa less air, 11 - 0.5 - 0.435 psi.
    assert!(account.wall.least < 300 && account.wall.least > 250, "{}", account.wall.least);
    assert!(account.wall.most > 420 && account.wall.most < 520, "{}", account.wall.most);
}

#[test]
fn higher_readings_mean_more_heat_but_never_less_than_the_figure() {
    let plain = whole(dial(), &[]);
    let read: Vec<_> = (4..=13).map(|ten| (ten * 10, Step::Reading(psi(130)))).collect();
    let more = whole(dial(), &read);
    assert!(more.wall.likely > plain.wall.likely && more.wall.most > plain.wall.most);
    // Between readings the pressure may have been at the figure all the time.
    assert!(more.wall.least >= plain.wall.least);
    // A dial that reads 2 psi high and shows 13 holds 11.
    let corrected = LoadPlan { pressure: PsiGauge::whole(13), added: 2, ..dial() };
    assert_eq!(whole(corrected, &[]).wall, plain.wall);
}

#[test]
fn without_the_full_time_there_is_no_account() {
    let stopped = [&UP[..], &[(134, Step::Stopped(StopCause::FuelOut))]].concat();
    assert_eq!(of(&told(start(), dial(), &stopped)), None);
    for end in 0..UP.len() + 1 {
        let steps = [&UP[..], &DOWN[..]].concat();
        assert_eq!(of(&told(start(), dial(), &steps[..end])), None);
    }
    // Not before the pressure is gone either: the jars are still taking in heat.
    let steps = [&UP[..], &DOWN[..1]].concat();
    assert_eq!(of(&told(start(), dial(), &steps)), None);
    assert!(of(&told(start(), dial(), &[&UP[..], &DOWN[..2]].concat())).is_some());
}

#[test]
fn a_broken_hold_counts_but_its_end_is_not_known() {
    let broken = [
        &UP[..],
        &[(85, Step::Dropped(DropCause::FuelOut)), (95, Step::AtPressure)],
        &[(195, Step::HeatOff), (235, Step::WeightOff)],
    ]
    .concat();
    let account = of(&told(start(), dial(), &broken)).unwrap();
    let plain = whole(dial(), &[]);
    assert!(account.wall.likely > plain.wall.likely + 150);
    // Nothing of the broken hold is sure.
    assert!(account.wall.least < plain.wall.least + 10);
}

#[test]
fn the_cold_point_is_said_only_of_fish_in_jars_on_file() {
    assert!(matches!(whole(dial(), &[]).cold, Cold::Estimated { .. }));
    let steps = [&UP[..], &DOWN[..]].concat();
    let other = |product: &str, jar| {
        let start = BatchStart { product: product.to_owned(), jar, ..start() };
        of(&told(start, dial(), &steps)).unwrap()
    };
    assert_eq!(other("stock-beef", Jar::Pint).cold, Cold::NotFish);
    assert_eq!(other("fish", Jar::HalfGallon).cold, Cold::NoSize);
    assert_eq!(other("fish", Jar::HalfGallon).centre, "");
    let account = other("fish", Jar::Pint);
    let Cold::Estimated { by_make_up, as_measured } = account.cold else { panic!() };
    // Outside, heat arrives first: the cold point has less of it, and packs as slow
    // as were measured have less again (Laine 1968: half to 1.4 times the pace).
    assert!(by_make_up.most < account.wall.most && by_make_up.likely < account.wall.likely);
    assert!(as_measured.least < by_make_up.least && as_measured.most > by_make_up.most);
    assert_eq!(as_measured.likely, by_make_up.likely);
    // A half-pint takes in more, a quart less, in the same steam.
    let likely = |jar| match other("fish", jar).cold {
        Cold::Estimated { by_make_up, .. } => by_make_up.likely,
        _ => panic!(),
    };
    assert!(likely(Jar::HalfPint) > likely(Jar::Pint) && likely(Jar::Pint) > likely(Jar::Quart));
    assert_eq!(account.rows.len(), 13);
    assert_eq!(account.rows[4][0], "60");
    assert_eq!(account.rows[4][1], "241.6 °F (116.4 °C)");
}

fn points(path: &str) -> Vec<(i64, i64)> {
    let numbers = path.trim_end_matches('Z').split(['M', 'L']).filter(|part| !part.is_empty());
    numbers
        .map(|point| {
            let (x, y) = point.split_once(' ').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(24) })]

    /// Whatever was read, wherever: the range is in order and the drawing in its frame.
    #[test]
    fn an_account_is_always_a_range_inside_its_frame(
        feet in Altitude::MIN_FT..=15_000,
        readings in proptest::collection::vec((36_i64..135, 110_u16..200), 0..12),
        drop in proptest::option::of(36_i64..134),
        jar in 0..Jar::ALL.len(),
    ) {
        let mut readings = readings;
        readings.sort_unstable();
        let mut steps = UP.to_vec();
        let mut late = 0;
        if let Some(at) = drop {
            steps.push((at, Step::Dropped(DropCause::Unsure)));
            steps.push((at + 3, Step::AtPressure));
            late = at + 3 - 35;
        }
        steps.extend(readings.iter().map(|(at, tenths)| (at + late, Step::Reading(psi(*tenths)))));
        steps.extend(DOWN.map(|(at, step)| (at + late, step)));
        let altitude = Altitude::from_feet(feet).unwrap();
        let start = BatchStart { altitude, jar: Jar::ALL[jar], ..start() };
        let account = of(&told(start, dial(), &steps)).unwrap();
        let mut ranges = vec![account.wall];
        if let Cold::Estimated { by_make_up, as_measured } = account.cold {
            ranges.extend([by_make_up, as_measured]);
        }
        for range in ranges {
            prop_assert!(range.least <= range.likely && range.likely <= range.most, "{range:?}");
        }
        let (left, right, top, bottom) = FRAME;
        for path in [&account.steam, &account.centre, &account.band] {
            for (x, y) in points(path) {
                prop_assert!((left..=right).contains(&x) && (top..=bottom).contains(&y));
            }
        }
    }
}
