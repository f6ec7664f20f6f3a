//! A second, independent equation for the boiling pressure of water, to hold
//! IAPWS-IF97 against: IAPWS SR1-86(1992), equation 1 (Wagner & Pruss 1993).

/// Critical temperature, K.
pub const TC: f64 = 647.096;
/// Critical pressure, MPa.
pub const PC: f64 = 22.064;
/// Coefficients a1 to a6.
pub const A: [f64; 6] = [-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502];
const EXPONENTS: [f64; 6] = [1.0, 1.5, 3.0, 3.5, 4.0, 7.5];

/// Boiling pressure in Pa at a temperature in kelvin.
pub fn pressure(kelvin: f64) -> f64 {
    let tau = 1.0 - kelvin / TC;
    let sum: f64 = A.iter().zip(EXPONENTS).map(|(a, e)| a * tau.powf(e)).sum();
    PC * 1e6 * (TC / kelvin * sum).exp()
}
