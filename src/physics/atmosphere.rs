//! Air pressure and altitude in the U.S. Standard Atmosphere 1976, below 11 km.
//! Explanation only: bands of altitude in a process table are never moved by it.
//!
//! Invariant: geometric height (what a map or a person means) and geopotential
//! height (what the model runs on) are different types and cannot be mixed up.

use super::error::{PhysicsError, Quantity, within};
use super::quantity::{Celsius, METRES_PER_FOOT, Pascal};
use crate::units::{Altitude, AltitudeError};

/// Standard gravity, m/s².
pub const GRAVITY: f64 = 9.80665;
/// Pressure at sea level, Pa.
pub const SEA_LEVEL_PA: f64 = 101_325.0;
/// Temperature at sea level, K.
pub const SEA_LEVEL_K: f64 = 288.15;
/// Change of temperature with geopotential height below 11 km, K/m.
pub const LAPSE: f64 = -0.0065;
/// Gas constant of the 1976 standard, J/(kmol K); not today's CODATA value.
pub const GAS_CONSTANT: f64 = 8_314.32;
/// Molar mass of air at sea level, kg/kmol.
pub const MOLAR_MASS: f64 = 28.9644;
/// Effective radius of the Earth, m.
pub const EARTH_RADIUS: f64 = 6_356_766.0;
/// Exponent of the pressure law, about 5.255876.
pub const EXPONENT: f64 = GRAVITY * MOLAR_MASS / (GAS_CONSTANT * -LAPSE);

/// Lowest and highest geopotential height of the layer, m. The standard's own
/// table starts at -5 km.
const LAYER: (f64, f64) = (-5_000.0, 11_000.0);

/// Height above sea level as a tape would measure it, in metres.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Geometric(f64);

/// Height with gravity's fall-off taken out, in metres: -5,000 to 11,000.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Geopotential(f64);

impl Geometric {
    /// A geometric height in metres.
    ///
    /// # Errors
    /// [`PhysicsError`] for what is no number or outside the layer, about
    /// -4,996 to 11,019 m.
    pub fn new(metres: f64) -> Result<Self, PhysicsError> {
        let metres = within(metres, -5_000.0, 12_000.0, Quantity::Altitude)?;
        Geopotential::new(EARTH_RADIUS * metres / (EARTH_RADIUS + metres)).map(|_| Self(metres))
    }

    /// Metres.
    #[must_use]
    pub const fn metres(self) -> f64 {
        self.0
    }

    /// Feet.
    #[must_use]
    pub const fn feet(self) -> f64 {
        self.0 / METRES_PER_FOOT
    }

    /// This height as a table altitude, rounded up: the safer way.
    ///
    /// # Errors
    /// [`AltitudeError`] outside -1,500 to 30,000 ft.
    pub fn altitude(self) -> Result<Altitude, AltitudeError> {
        Altitude::from_metres(self.0)
    }
}

impl Geopotential {
    /// A geopotential height in metres.
    ///
    /// # Errors
    /// [`PhysicsError`] for what is no number or outside -5,000 to 11,000 m.
    pub fn new(metres: f64) -> Result<Self, PhysicsError> {
        within(metres, LAYER.0, LAYER.1, Quantity::Altitude).map(Self)
    }

    /// Metres.
    #[must_use]
    pub const fn metres(self) -> f64 {
        self.0
    }
}

impl From<Altitude> for Geometric {
    fn from(altitude: Altitude) -> Self {
        // Every altitude a person can give, -457 to 9,144 m, is inside the layer.
        Self(f64::from(altitude.feet()) * METRES_PER_FOOT)
    }
}

impl From<Geometric> for Geopotential {
    fn from(height: Geometric) -> Self {
        Self(EARTH_RADIUS * height.0 / (EARTH_RADIUS + height.0))
    }
}

impl From<Geopotential> for Geometric {
    fn from(height: Geopotential) -> Self {
        Self(EARTH_RADIUS * height.0 / (EARTH_RADIUS - height.0))
    }
}

/// Standard air temperature at a height.
#[must_use]
pub fn temperature(height: impl Into<Geopotential>) -> Celsius {
    Celsius::known(SEA_LEVEL_K + LAPSE * height.into().0 - super::quantity::ICE_POINT_K)
}

/// Standard air pressure at a height. Weather moves the real one by about
/// 3 kPa either way.
#[must_use]
pub fn pressure(height: impl Into<Geopotential>) -> Pascal {
    let ratio = 1.0 + LAPSE / SEA_LEVEL_K * height.into().0;
    Pascal::known(SEA_LEVEL_PA * power(ratio, EXPONENT))
}

/// The height at which the standard air pressure is this.
///
/// # Errors
/// [`PhysicsError::OutOfRange`] if that lies outside -5 to 11 km.
pub fn height(pressure: Pascal) -> Result<Geopotential, PhysicsError> {
    let ratio = power(pressure.pascals() / SEA_LEVEL_PA, 1.0 / EXPONENT);
    let metres = (ratio - 1.0) * SEA_LEVEL_K / LAPSE;
    // The layer's own ends must survive the round trip.
    let rounding = 1e-6;
    within(metres, LAYER.0 - rounding, LAYER.1 + rounding, Quantity::Altitude)
        .map(|metres| Geopotential(metres.clamp(LAYER.0, LAYER.1)))
}

/// `base` to the power of `exponent`, to 1e-13 of it, as far as this module asks: `base`
/// from 0.005 to 250, the power from 0.1 to 10. The general function is 2 kB of the page.
fn power(base: f64, exponent: f64) -> f64 {
    // A fourth root is near enough to 1 for ln(x) = 2 artanh((x - 1) / (x + 1)) by its series.
    let root = base.sqrt().sqrt();
    let z = (root - 1.0) / (root + 1.0);
    let (mut sum, mut term, mut n) = (0.0, z, 1.0);
    while n < 80.0 {
        sum += term / n;
        term *= z * z;
        n += 2.0;
    }
    let x = 8.0 * sum * exponent;
    let (mut power, mut term, mut n) = (1.0, 1.0, 1.0);
    while n < 40.0 {
        term *= x / n;
        power += term;
        n += 1.0;
    }
    power
}
