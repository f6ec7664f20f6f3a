//! Evaluators for the rows on lethal rate and F0.

use crate::data::{Row, Table, celsius, sample};
use hearthjar::physics::lethality::{self, Lethality};
use hearthjar::physics::{Celsius, Sample};

pub fn lethality(row: &Row) -> Option<f64> {
    let name = row.id.strip_prefix("leth.")?;
    Some(match name {
        "Tref" => Lethality::F0.reference().degrees(),
        "z" => Lethality::F0.z_kelvin(),
        "Tref.exact" => Celsius::from_fahrenheit(250.0).unwrap().degrees(),
        "Tref.effect" => {
            // The row rounds 250 F to 121.11 in words; its number is for the exact 250 F.
            let exact = Celsius::from_fahrenheit(250.0).unwrap();
            ten_minutes(Lethality::new(exact, 10.0).unwrap()) / ten_minutes(Lethality::F0)
        }
        "D" => lethality::D_BOTULINUM,
        "Fmin" => lethality::USUAL_LEAST_F0,
        "12D" => lethality::decimal_reductions(row.input("D_min"), row.input("decades") as u8),
        "fao.sum" => held(row.input("sum_L"), row.input("dt_min")),
        "fao.heating" => {
            let ends = (row.input("L_first") + row.input("L_last")) / 2.0;
            held(ends + row.input("sum_L_between"), row.input("dt_min"))
        }
        "geankoplis" => stepwise(row),
        "odlaug.z" | "odlaug.z.tomato" => fitted_z(&row.list("T_C"), &row.list("D_min")),
        "ramp.exact" => Lethality::F0.total(&ramp(20.0)).unwrap(),
        "pwl.5" => Lethality::F0.total(&ramp(row.input("dt_min"))).unwrap(),
        "ramp.trapz1" | "ramp.trapz5" => trapezoid(&ramp(row.input("dt_min"))),
        "ramp.simpson1" => simpson(&ramp(row.input("dt_min"))),
        "seg.logmean" => {
            let ends =
                [sample(0.0, row.input("T1_C")), sample(row.input("dt_min"), row.input("T2_C"))];
            rule(row).total(&ends).unwrap()
        }
        "jarlog.trapz5" => {
            let table = Table::read(include_str!("lethality-example.csv"));
            let jar = table.lines().filter(|line| line.text("example") == "jar");
            trapezoid(
                &jar.map(|l| sample(l.number("time_min"), l.number("temperature")))
                    .collect::<Vec<_>>(),
            )
        }
        _ if name.starts_with("ball.") && name.ends_with(".g") => {
            row.input("Tr_C") - ball(row, row.input("B_min"))
        }
        _ if name.starts_with("ball.") && name.ends_with(".F") => {
            // Short straight segments along the curve. Where the formula's early
            // values fall below absolute zero there is no lethality to miss.
            let end = row.input("B_min");
            let curve: Vec<_> = (0..=20_000)
                .map(|i| end * f64::from(i) / 20_000.0)
                .filter(|minutes| ball(row, *minutes) > -273.0)
                .map(|minutes| sample(minutes, ball(row, minutes)))
                .collect();
            rule(row).total(&curve).unwrap()
        }
        _ if row.quantity.starts_with("lethal rate") => rule(row).rate(row.temperature()),
        _ => return None,
    })
}

/// The reference and z a row names, in Celsius or Fahrenheit.
fn rule(row: &Row) -> Lethality {
    match row.get("Tref_C") {
        Some(reference) => Lethality::new(celsius(reference), row.input("z_K")),
        None => {
            let reference = Celsius::from_fahrenheit(row.input("Tref_F")).unwrap();
            Lethality::new(reference, row.input("z_F") / 1.8)
        }
    }
    .unwrap()
}

/// Minutes gathered where one minute is worth `rate`, after `minutes` of it: the
/// readings behind a printed sum were not printed, so their sum is held instead.
fn held(rate: f64, minutes: f64) -> f64 {
    let degrees = Lethality::F0.reference().degrees() + 10.0 * rate.log10();
    Lethality::F0.total(&[sample(0.0, degrees), sample(minutes, degrees)]).unwrap()
}

fn ten_minutes(lethality: Lethality) -> f64 {
    lethality.total(&[sample(0.0, 115.0), sample(10.0, 118.0)]).unwrap()
}

/// The ramp-hold-ramp history of the rows, read every `every` minutes.
fn ramp(every: f64) -> Vec<Sample> {
    let temperature = |t: f64| match t {
        ..=20.0 => 101.1 + t,
        ..=30.0 => 121.1,
        _ => 121.1 - 2.0 * (t - 30.0),
    };
    // A reading every 20 min would miss the end of the hold.
    let mut times: Vec<f64> = (0..=(40.0 / every) as u32).map(|i| f64::from(i) * every).collect();
    if !times.contains(&30.0) {
        times.insert(2, 30.0);
    }
    times.into_iter().map(|t| sample(t, temperature(t))).collect()
}

/// Ball's log-linear heating curve, °C at a time in minutes.
fn ball(row: &Row, minutes: f64) -> f64 {
    let (retort, start) = (row.input("Tr_C"), row.input("Ti_C"));
    retort - row.input("j") * (retort - start) * 10f64.powf(-minutes / row.input("fh_min"))
}

/// Constant within each step: two readings at each end of it.
fn stepwise(row: &Row) -> f64 {
    let times = row.list("t_min");
    let steps = times.windows(2).zip(row.list("T_F"));
    let history: Vec<_> = steps
        .flat_map(|(ends, f)| {
            let degrees = (f - 32.0) / 1.8;
            [sample(ends[0], degrees), sample(ends[1], degrees)]
        })
        .collect();
    rule(row).total(&history).unwrap()
}

/// The textbook rule on lethal rates, to hold the exact one against.
pub fn trapezoid(history: &[Sample]) -> f64 {
    let rate = |sample: &Sample| Lethality::F0.rate(sample.temperature);
    history
        .windows(2)
        .map(|two| {
            let minutes = (two[1].at.0 - two[0].at.0) as f64 / 60_000.0;
            minutes * (rate(&two[0]) + rate(&two[1])) / 2.0
        })
        .sum()
}

fn simpson(history: &[Sample]) -> f64 {
    let rate = |sample: &Sample| Lethality::F0.rate(sample.temperature);
    let panel = |three: &[Sample]| {
        let minutes = (three[2].at.0 - three[0].at.0) as f64 / 60_000.0;
        minutes / 6.0 * (rate(&three[0]) + 4.0 * rate(&three[1]) + rate(&three[2]))
    };
    history.windows(3).step_by(2).map(panel).sum()
}

/// The z value whose lethal rates best follow the inverse of measured D values:
/// least squares of log D on temperature.
fn fitted_z(temperatures: &[f64], d_values: &[f64]) -> f64 {
    let count = temperatures.len() as f64;
    let logs: Vec<f64> = d_values.iter().map(|d| d.log10()).collect();
    let (mean_t, mean_d) =
        (temperatures.iter().sum::<f64>() / count, logs.iter().sum::<f64>() / count);
    let pairs = || temperatures.iter().zip(&logs).map(|(t, d)| (t - mean_t, d - mean_d));
    let z = -pairs().map(|(t, _)| t * t).sum::<f64>() / pairs().map(|(t, d)| t * d).sum::<f64>();
    // Our lethal rate with that z must give back the measured fall in D.
    let ours = Lethality::new(celsius(temperatures[0]), z).unwrap();
    let last = temperatures.len() - 1;
    let fall = ours.rate(celsius(temperatures[last])) * d_values[last] / d_values[0];
    assert!((0.8..1.25).contains(&fall), "fitted z {z} leaves {fall}");
    z
}
