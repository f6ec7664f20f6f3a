//! Evaluators for the rows on conduction and on properties of food.

use crate::data::{Row, celsius, sample};
use hearthjar::physics::bessel::j0_j1;
use hearthjar::physics::conduction::{Mode, Modes, Shape};
use hearthjar::physics::food::{Component, Composition, Properties};
use hearthjar::physics::jar::{Cylinder, Jar, Surface};
use hearthjar::physics::lethality::Lethality;
use hearthjar::physics::{Diffusivity, Sample};

pub fn conduction(row: &Row) -> Option<f64> {
    let name = row.id.strip_prefix("cond.")?;
    let fixed = |shape| Modes::new(shape, 0.0).unwrap();
    let nth = |number: &str| -> Option<Mode> {
        fixed(Shape::Cylinder).all().get(number.parse::<usize>().ok()? - 1).copied()
    };
    if let Some(number) = name.strip_prefix("j0root.") {
        return Some(nth(number)?.decay.sqrt());
    }
    if let Some(number) = name.strip_prefix("cylC.") {
        return Some(nth(number)?.weight);
    }
    if let Some(x) = name.strip_prefix("J0.") {
        return Some(j0_j1(x.parse().ok()?).unwrap().0);
    }
    if let Some(x) = name.strip_prefix("J1.") {
        return Some(j0_j1(x.parse().ok()?).unwrap().1);
    }
    if let Some(bi) = row.get("Bi") {
        let shape = if row.quantity.ends_with("slab") { Shape::Slab } else { Shape::Cylinder };
        let first = Modes::new(shape, 1.0 / bi).unwrap().slowest();
        return match row.quantity.split(',').next()? {
            "first eigenvalue" => Some(first.decay.sqrt()),
            "first coefficient" => Some(first.weight),
            _ => None,
        };
    }
    if let Some(fourier) = row.get("Fo") {
        let shape = if name.starts_with("theta.slab") { Shape::Slab } else { Shape::Cylinder };
        return Some(fixed(shape).centre_ratio(fourier).unwrap());
    }
    match name {
        // f_h = c / (alpha (1/R² + k / L²)): c from an endless cylinder, k from the axial share.
        "fh.const" => Some(std::f64::consts::LN_10 / fixed(Shape::Cylinder).slowest().decay),
        "fh.axial" => {
            Some(fixed(Shape::Slab).slowest().decay / fixed(Shape::Cylinder).slowest().decay)
        }
        "j.centre" => {
            let food = Cylinder::new(0.038, 0.045).unwrap();
            let alpha = Diffusivity::new(1.4e-7).unwrap();
            Some(Jar::new(food, alpha, Surface::AT_STEAM).unwrap().lag_factor())
        }
        "jar.fh" => Some(jar(row).heating_rate_index()),
        "jar.F0.heat" => Some(f0(row, 0.0, row.input("t_heat_min"))),
        "jar.F0.cool" => Some(f0(row, row.input("t_heat_min"), row.input("t_heat_min") + 100.0)),
        _ if name.starts_with("geankoplis")
            && !name.ends_with("short")
            && !name.ends_with("-4") =>
        {
            // Heat through the wall only: the endless cylinder.
            let (radius, k) = (row.input("radius_m"), row.input("k_W_mK"));
            let modes = Modes::new(Shape::Cylinder, k / (row.input("h_W_m2K") * radius)).unwrap();
            let fourier = row.input("alpha_m2_s") * row.input("t_s") / (radius * radius);
            let ratio = modes.centre_ratio(fourier).unwrap();
            Some(row.input("Ts_C") + (row.input("Ti_C") - row.input("Ts_C")) * ratio)
        }
        _ if row.get("Ti_C").is_some() => {
            let minutes = row.get("t_min").unwrap_or_else(|| row.input("t_s") / 60.0);
            let steam = [sample(0.0, row.input("Ts_C")), sample(minutes, row.input("Ts_C"))];
            let food = jar(row).centre(celsius(row.input("Ti_C")), &steam).unwrap();
            Some(food[1].temperature.degrees())
        }
        _ => None,
    }
}

/// The jar or can a row describes, with its surface coefficient if it has one.
fn jar(row: &Row) -> Jar {
    let alpha = row
        .get("alpha_m2_s")
        .unwrap_or_else(|| row.input("k_W_mK") / (row.input("rho_kg_m3") * row.input("cp_J_kgK")));
    let surface = match row.get("h_W_m2K") {
        Some(h) => Surface::through(h, row.input("k_W_mK")).unwrap(),
        None => Surface::AT_STEAM,
    };
    let food = Cylinder::new(row.input("radius_m"), row.input("half_height_m")).unwrap();
    Jar::new(food, Diffusivity::new(alpha).unwrap(), surface).unwrap()
}

/// F0 gathered at the centre between two times, read every 3 s: steam for the
/// heating time, then the cooling temperature if the row has one.
fn f0(row: &Row, from: f64, to: f64) -> f64 {
    let heating = row.input("t_heat_min");
    let mut steam: Vec<Sample> = Vec::new();
    for tick in 0..=(to * 20.0) as u32 {
        let minutes = f64::from(tick) / 20.0;
        if minutes <= heating {
            steam.push(sample(minutes, row.input("Ts_C")));
        }
        if minutes >= heating && to > heating {
            steam.push(sample(minutes, row.input("Tcool_C")));
        }
    }
    let food = jar(row).centre(celsius(row.input("Ti_C")), &steam).unwrap();
    let wanted: Vec<_> = food.into_iter().filter(|s| s.at.0 as f64 >= from * 60_000.0).collect();
    Lethality::F0.total(&wanted).unwrap()
}

pub fn properties(row: &Row) -> Option<f64> {
    let temperature = row.temperature();
    let found = if row.id.starts_with("prop.water.") {
        Component::Water.properties(temperature).unwrap()
    } else {
        let part = |name| row.get(name).unwrap_or(0.0);
        let names = ["water", "protein", "fat", "carbohydrate", "fibre", "ash"];
        Composition::new(names.map(part)).unwrap().properties(temperature).unwrap()
    };
    let Properties { conductivity, density, specific_heat } = found;
    match row.id.split('.').nth(2)? {
        "k" => Some(conductivity),
        "rho" => Some(density),
        "cp" => Some(specific_heat),
        "alpha" => Some(found.diffusivity().unwrap().square_metres_per_second()),
        _ => None,
    }
}
