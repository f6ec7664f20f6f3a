//! Cross-check against published libraries: every line of
//! `tests/physics/reference.csv`, which `reference.py` beside it writes with
//! iapws, CoolProp, ambiance, fluids and scipy.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

#[path = "physics/data.rs"]
mod data;

use data::{Table, celsius, sample};
use hearthjar::physics::atmosphere::{self, Geometric};
use hearthjar::physics::bessel::j0_j1;
use hearthjar::physics::boiling::{self, Weather};
use hearthjar::physics::conduction::{Modes, Shape};
use hearthjar::physics::food::Component;
use hearthjar::physics::jar::{Cylinder, Jar, Surface};
use hearthjar::physics::lethality::Lethality;
use hearthjar::physics::steam::{self, AirFraction};
use hearthjar::physics::{Diffusivity, Pascal, saturation};
use hearthjar::units::{Altitude, PsiGauge};

/// The canner run of the script's `run` lines, minutes and °C.
const STEAM: [(f64, f64); 7] = [
    (0.0, 20.0),
    (12.0, 100.0),
    (22.0, 100.0),
    (30.0, 115.6),
    (130.0, 115.6),
    (170.0, 95.0),
    (200.0, 30.0),
];

fn ours(kind: &str, input: &[f64]) -> f64 {
    match (kind, input) {
        ("air_pressure", &[metres]) => {
            atmosphere::pressure(Geometric::new(metres).unwrap()).pascals()
        }
        ("air_height", &[pascals]) => {
            let height = atmosphere::height(Pascal::new(pascals).unwrap()).unwrap();
            Geometric::from(height).metres()
        }
        ("boiling_pressure", &[degrees]) => {
            saturation::pressure(celsius(degrees)).unwrap().pascals()
        }
        ("boiling_point", &[pascals]) => {
            saturation::temperature(Pascal::new(pascals).unwrap()).unwrap().degrees()
        }
        ("steam", &[psi, feet, share]) => {
            let gauge = PsiGauge::from_tenths((psi * 10.0).round() as u16).unwrap();
            let height = Altitude::from_feet(feet as i32).unwrap().into();
            let air = AirFraction::new(share).unwrap();
            steam::temperature(gauge, height, air).unwrap().degrees()
        }
        ("boiling_height", &[degrees]) => {
            let fit = boiling::altitude(celsius(degrees), 0.0, Weather::Standard).unwrap();
            fit.reading.metres()
        }
        ("water_k", &[t]) => Component::Water.properties(celsius(t)).unwrap().conductivity,
        ("water_rho", &[t]) => Component::Water.properties(celsius(t)).unwrap().density,
        ("water_cp", &[t]) => Component::Water.properties(celsius(t)).unwrap().specific_heat,
        ("j0", &[x]) => j0_j1(x).unwrap().0,
        ("j1", &[x]) => j0_j1(x).unwrap().1,
        ("j0_zero", &[n]) => {
            Modes::new(Shape::Cylinder, 0.0).unwrap().all()[n as usize - 1].decay.sqrt()
        }
        ("f0_segment", &[from, to, minutes]) => {
            Lethality::F0.total(&[sample(0.0, from), sample(minutes, to)]).unwrap()
        }
        ("f0_ball", &[retort, j, start, fh, minutes]) => {
            let curve = |t: f64| retort - j * (retort - start) * 10f64.powf(-t / fh);
            let times = (0..=20_000).map(|i| minutes * f64::from(i) / 20_000.0);
            Lethality::F0.total(&times.map(|t| sample(t, curve(t))).collect::<Vec<_>>()).unwrap()
        }
        ("run", &[radius, half_height, alpha, film, k, start, minutes]) => {
            let surface =
                if film == 0.0 { Surface::AT_STEAM } else { Surface::through(film, k).unwrap() };
            let food = Cylinder::new(radius, half_height).unwrap();
            let jar = Jar::new(food, Diffusivity::new(alpha).unwrap(), surface).unwrap();
            centre_after(&jar, start, minutes)
        }
        (kind, &[inverse_biot, at]) => {
            let shape = if kind.starts_with("slab") { Shape::Slab } else { Shape::Cylinder };
            let modes = Modes::new(shape, inverse_biot).unwrap();
            match kind.split_once('_').unwrap().1 {
                "root" => modes.all()[at as usize - 1].decay.sqrt(),
                "weight" => modes.all()[at as usize - 1].weight,
                "ratio" => modes.centre_ratio(at).unwrap(),
                other => panic!("kind {other}"),
            }
        }
        _ => panic!("no evaluator for {kind} {input:?}"),
    }
}

/// The centre's temperature after so many minutes of [`STEAM`].
fn centre_after(jar: &Jar, start: f64, minutes: f64) -> f64 {
    let mut steam = vec![];
    for pair in STEAM.windows(2) {
        let [(t0, s0), (t1, s1)] = pair else { panic!() };
        if *t0 < minutes {
            steam.push(sample(*t0, *s0));
            let end = t1.min(minutes);
            steam.push(sample(end, s0 + (s1 - s0) * (end - t0) / (t1 - t0)));
        }
    }
    jar.centre(celsius(start), &steam).unwrap().last().unwrap().temperature.degrees()
}

#[test]
fn libraries_agree() {
    let table = Table::read(include_str!("physics/reference.csv"));
    let mut faults = Vec::new();
    let mut worst = std::collections::BTreeMap::<String, f64>::new();
    let mut lines = 0;
    for line in table.lines() {
        let (kind, source) = (line.text("kind"), line.text("source"));
        let input: Vec<f64> =
            line.text("inputs").split(' ').map(|number| number.parse().unwrap()).collect();
        let (expected, tolerance) = (line.number("expected"), line.number("tolerance"));
        let off = (ours(kind, &input) - expected).abs();
        if off.is_nan() || off > tolerance {
            faults.push(format!(
                "{kind} {input:?}: off by {off:e}, allowed {tolerance:e} ({source})"
            ));
        }
        let most = worst.entry(format!("{kind} / {source}")).or_default();
        *most = most.max(off);
        lines += 1;
    }
    for (kind, off) in worst {
        println!("{kind}: at most {off:.2e}");
    }
    assert!(faults.is_empty(), "{} of {lines}:\n{}", faults.len(), faults.join("\n"));
    assert!(lines > 600, "only {lines} lines were read");
}
