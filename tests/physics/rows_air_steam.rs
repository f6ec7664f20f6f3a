//! Evaluators for the rows on air pressure, boiling and steam.

use crate::auxiliary;
use crate::data::Row;
use hearthjar::physics::atmosphere::{self, Geopotential};
use hearthjar::physics::boiling::{self, Weather};
use hearthjar::physics::steam::{self, AirFraction};
use hearthjar::physics::{Celsius, Pascal, saturation};
use hearthjar::units::PsiGauge;

pub fn atmosphere(row: &Row) -> Option<f64> {
    if let Some(name) = row.id.strip_prefix("atm.const.") {
        return Some(match name {
            "g0" => atmosphere::GRAVITY,
            "P0" => atmosphere::SEA_LEVEL_PA,
            "T0" => atmosphere::SEA_LEVEL_K,
            "lapse" => atmosphere::LAPSE,
            "Rstar" => atmosphere::GAS_CONSTANT,
            "M0" => atmosphere::MOLAR_MASS,
            "r0" => atmosphere::EARTH_RADIUS,
            "exponent" => atmosphere::EXPONENT,
            _ => return None,
        });
    }
    match row.quantity.as_str() {
        "standard pressure at geometric altitude"
        | "standard pressure at geometric altitude, printed table"
        | "standard pressure, printed table" => {
            let pressure = atmosphere::pressure(row.height());
            in_unit(pressure, &row.unit)
        }
        "geopotential altitude of a geometric altitude" => {
            Some(Geopotential::from(row.height()).metres())
        }
        "standard air temperature at geometric altitude" => {
            Some(atmosphere::temperature(row.height()).kelvin())
        }
        _ => None,
    }
}

pub fn saturation(row: &Row) -> Option<f64> {
    if let Some(number) = row.id.strip_prefix("sat.if97.t34.n") {
        return saturation::COEFFICIENTS.get(number.parse::<usize>().ok()? - 1).copied();
    }
    if let Some(name) = row.id.strip_prefix("sat.sr1.") {
        return Some(match name {
            "Tc" => auxiliary::TC,
            "pc" => auxiliary::PC,
            "tp" | "nbp" => auxiliary::pressure(row.input("T_K")),
            _ => *auxiliary::A.get(name.strip_prefix('a')?.parse::<usize>().ok()? - 1)?,
        });
    }
    if row.quantity.starts_with("slope of saturation temperature") {
        let pressure = match row.get("p_kPa_abs") {
            Some(_) => row.pressure(),
            None => saturation::pressure(row.temperature()).unwrap(),
        };
        let at = |kpa: f64| {
            let shifted = Pascal::new(pressure.pascals() + kpa * 1e3).unwrap();
            saturation::temperature(shifted).unwrap().degrees()
        };
        return Some((at(0.05) - at(-0.05)) / 0.1);
    }
    if row.quantity.starts_with("saturation pressure") {
        in_unit(saturation::pressure(row.temperature()).unwrap(), &row.unit)
    } else if row.quantity.starts_with("saturation temperature") {
        degrees_in_unit(saturation::temperature(row.pressure()).unwrap(), &row.unit)
    } else {
        None
    }
}

pub fn steam(row: &Row) -> Option<f64> {
    match row.quantity.as_str() {
        "boiling point of water in the standard atmosphere" => {
            degrees_in_unit(boiling::boiling_point(row.height()), &row.unit)
        }
        "saturated-steam temperature at a gauge pressure"
        | "saturated-steam temperature at a gauge pressure, published round figure" => {
            let gauge = PsiGauge::from_tenths((row.input("gauge_psi") * 10.0).round() as u16);
            let steam = steam::temperature(gauge.unwrap(), row.height(), AirFraction::NONE);
            degrees_in_unit(steam.unwrap(), &row.unit)
        }
        "geometric altitude whose standard atmosphere boils water at this temperature" => {
            let fit = boiling::altitude(row.temperature(), 0.0, Weather::Standard).unwrap();
            match row.unit.as_str() {
                "m" => Some(fit.reading.metres()),
                "ft" => Some(fit.reading.feet()),
                _ => None,
            }
        }
        "gauge pressure needed for a steam temperature" => {
            in_unit(steam::gauge_pressure(row.temperature(), row.height()).unwrap(), &row.unit)
        }
        _ => None,
    }
}

fn in_unit(pressure: Pascal, unit: &str) -> Option<f64> {
    Some(match unit {
        "Pa" => pressure.pascals(),
        "kPa (absolute)" | "kPa (gauge)" => pressure.pascals() / 1e3,
        "MPa" => pressure.pascals() / 1e6,
        "psi" | "psi (gauge)" => pressure.psi(),
        _ => return None,
    })
}

fn degrees_in_unit(temperature: Celsius, unit: &str) -> Option<f64> {
    Some(match unit {
        "degC" | "degC (ITS-90)" => temperature.degrees(),
        "degF" => temperature.fahrenheit(),
        "K" => temperature.kelvin(),
        _ => return None,
    })
}
