//! Steam temperature in a canner from its gauge and the altitude, and back.
//! Explanation only: a table's pressure stands even where this arithmetic
//! gives 239.3 °F for it, and no process is judged by a computed temperature.
//!
//! Invariant: the steam is saturated; with air in it only the steam's own
//! share of the pressure counts (Dalton's law).

use super::atmosphere::{self, Geometric};
use super::error::{PhysicsError, Quantity, within};
use super::quantity::{Celsius, PA_PER_PSI, Pascal};
use super::saturation;
use crate::units::PsiGauge;

/// Share of air in the steam by volume, 0 to below 1.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct AirFraction(f64);

impl AirFraction {
    /// A well-vented canner.
    pub const NONE: Self = Self(0.0);

    /// A share of air, 0 for pure steam.
    ///
    /// # Errors
    /// [`PhysicsError`] for what is no number or outside 0 to 0.99.
    pub fn new(share: f64) -> Result<Self, PhysicsError> {
        within(share, 0.0, 0.99, Quantity::AirFraction).map(Self)
    }
}

/// Absolute pressure in the canner: standard air pressure plus the gauge's.
#[must_use]
pub fn absolute(gauge: PsiGauge, height: Geometric) -> Pascal {
    Pascal::known(atmosphere::pressure(height).pascals() + gauge.psi() * PA_PER_PSI)
}

/// Temperature of the steam at a gauge pressure and altitude.
///
/// # Errors
/// [`PhysicsError::OutOfRange`] if so little steam is left that it would be ice.
pub fn temperature(
    gauge: PsiGauge,
    height: Geometric,
    air: AirFraction,
) -> Result<Celsius, PhysicsError> {
    let steam = absolute(gauge, height).pascals() * (1.0 - air.0);
    saturation::temperature(Pascal::known(steam))
}

/// Gauge pressure at which air-free steam has this temperature. The result is
/// a pressure above the standard air's.
///
/// # Errors
/// [`PhysicsError::OutOfRange`] if open-air boiling is hotter already, or the
/// temperature lies outside 0 to 373.946 °C.
pub fn gauge_pressure(steam: Celsius, height: Geometric) -> Result<Pascal, PhysicsError> {
    let above = saturation::pressure(steam)?.pascals() - atmosphere::pressure(height).pascals();
    within(above, 0.0, 25e6, Quantity::Pressure).map(Pascal::known)
}

/// How much cooler the steam is for the air left in it, in kelvin.
///
/// # Errors
/// As [`temperature`].
pub fn cooling_by_air(
    gauge: PsiGauge,
    height: Geometric,
    air: AirFraction,
) -> Result<f64, PhysicsError> {
    let pure = temperature(gauge, height, AirFraction::NONE)?;
    Ok(pure.degrees() - temperature(gauge, height, air)?.degrees())
}

/// Temperature of air-free steam at a gauge pressure in psi, 0 to 60, where the
/// absolute pressure may be off by `off` pascals, -20,000 to 20,000: the weather's
/// part and the gauge's own doubt.
///
/// # Errors
/// [`PhysicsError`] for what is no number or outside those ranges, and where no
/// liquid water is left.
pub fn doubtful(psi: f64, height: Geometric, off: f64) -> Result<Celsius, PhysicsError> {
    let psi = within(psi, 0.0, 60.0, Quantity::Pressure)?;
    let off = within(off, -20_000.0, 20_000.0, Quantity::Uncertainty)?;
    let absolute = atmosphere::pressure(height).pascals() + psi * PA_PER_PSI + off;
    saturation::temperature(Pascal::new(absolute)?)
}
