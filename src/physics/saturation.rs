//! Pressure and temperature at which water boils: IAPWS-IF97 (R7-97), region 4.
//! Explanation only.
//!
//! Invariant: defined from 273.15 K (0 °C) to the critical point, 647.096 K;
//! both directions solve the one equation, so they undo each other.

use super::error::{PhysicsError, Quantity, within};
use super::quantity::{Celsius, ICE_POINT_K, Pascal};

/// Coefficients n1 to n10 of equations 29 to 31 (IAPWS-IF97, table 34).
pub const COEFFICIENTS: [f64; 10] = [
    0.116_705_214_527_67e4,
    -0.724_213_167_032_06e6,
    -0.170_738_469_400_92e2,
    0.120_208_247_024_70e5,
    -0.323_255_503_223_33e7,
    0.149_151_086_135_30e2,
    -0.482_326_573_615_91e4,
    0.405_113_405_420_57e6,
    -0.238_555_575_678_49,
    0.650_175_348_447_98e3,
];

/// Temperature range of region 4, K.
const KELVIN: (f64, f64) = (273.15, 647.096);
/// Pressure range of region 4, Pa: p(273.15 K) by equation 30, to p_c.
const PASCALS: (f64, f64) = (611.212_677, 22.064e6);

/// The pressure at which water boils at this temperature (equation 30).
///
/// # Errors
/// [`PhysicsError::OutOfRange`] outside 0 to 373.946 °C.
pub fn pressure(temperature: Celsius) -> Result<Pascal, PhysicsError> {
    let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = COEFFICIENTS;
    let kelvin = within(temperature.kelvin(), KELVIN.0, KELVIN.1, Quantity::Temperature)?;
    let theta = kelvin + n9 / (kelvin - n10);
    let a = (theta + n1) * theta + n2;
    let b = (n3 * theta + n4) * theta + n5;
    let c = (n6 * theta + n7) * theta + n8;
    let root = 2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt());
    Ok(Pascal::known(root.powi(4) * 1e6))
}

/// The temperature at which water boils under this absolute pressure (equation 31).
///
/// # Errors
/// [`PhysicsError::OutOfRange`] outside 611.213 Pa to 22.064 MPa.
pub fn temperature(pressure: Pascal) -> Result<Celsius, PhysicsError> {
    within(pressure.pascals(), PASCALS.0, PASCALS.1, Quantity::Pressure).map(boiling_at)
}

/// Equation 31 for a pressure already known to lie inside region 4, Pa.
pub(super) fn boiling_at(pascals: f64) -> Celsius {
    let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = COEFFICIENTS;
    let beta = (pascals / 1e6).sqrt().sqrt();
    let e = (beta + n3) * beta + n6;
    let f = (n1 * beta + n4) * beta + n7;
    let g = (n2 * beta + n5) * beta + n8;
    let d = 2.0 * g / (-f - (f * f - 4.0 * e * g).sqrt());
    let sum = n10 + d;
    let kelvin = (sum - (sum * sum - 4.0 * (n9 + n10 * d)).sqrt()) / 2.0;
    // The end points must stay inside the region after rounding.
    Celsius::known(kelvin.clamp(KELVIN.0, KELVIN.1) - ICE_POINT_K)
}
