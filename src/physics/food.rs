//! Thermal properties of food from its composition (Choi & Okos 1986).
//! Explanation only: real packs scatter from half to 1.4 times the estimate.
//!
//! Invariant: components sum to one after scaling; water is liquid, so mixtures
//! are defined from 0 to 150 °C only (ice as a component, -40 to 0 °C).

use super::error::{PhysicsError, Quantity, within};
use super::quantity::{Celsius, Diffusivity};

/// A component whose properties are tabulated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Component {
    /// Liquid water.
    Water,
    /// Protein.
    Protein,
    /// Fat and oil.
    Fat,
    /// Sugars and starch.
    Carbohydrate,
    /// Dietary fibre.
    Fibre,
    /// Minerals, salt included.
    Ash,
    /// Frozen water.
    Ice,
}

/// Coefficients c0, c1, c2 of c0 + c1 T + c2 T², T in °C.
type Quadratic = [f64; 3];

/// Conductivity W/(m K), density kg/m³ and specific heat kJ/(kg K).
///
/// Choi & Okos (1986), read in three public transcriptions that agree; the
/// water heat row is the branch above 0 °C.
const fn table(component: Component) -> [Quadratic; 3] {
    match component {
        Component::Water => [
            [0.57109, 1.7625e-3, -6.7036e-6],
            [997.18, 3.1439e-3, -3.7574e-3],
            [4.1762, -9.0864e-5, 5.4731e-6],
        ],
        Component::Protein => [
            [0.17881, 1.1958e-3, -2.7178e-6],
            [1329.9, -0.5184, 0.0],
            [2.0082, 1.2089e-3, -1.3129e-6],
        ],
        Component::Fat => [
            [0.18071, -2.7604e-4, -1.7749e-7],
            [925.59, -0.41757, 0.0],
            [1.9842, 1.4733e-3, -4.8008e-6],
        ],
        Component::Carbohydrate => [
            [0.20141, 1.3874e-3, -4.3312e-6],
            [1599.1, -0.31046, 0.0],
            [1.5488, 1.9625e-3, -5.9399e-6],
        ],
        Component::Fibre => [
            [0.18331, 1.2497e-3, -3.1683e-6],
            [1311.5, -0.36589, 0.0],
            [1.8459, 1.8306e-3, -4.6509e-6],
        ],
        Component::Ash => [
            [0.32962, 1.4011e-3, -2.9069e-6],
            [2423.8, -0.28063, 0.0],
            [1.0926, 1.8896e-3, -3.6817e-6],
        ],
        Component::Ice => {
            [[2.2196, -6.2489e-3, 1.0154e-4], [916.89, -0.13071, 0.0], [2.0623, 6.0769e-3, 0.0]]
        }
    }
}

/// Thermal properties at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Properties {
    /// Thermal conductivity, W/(m K).
    pub conductivity: f64,
    /// Density, kg/m³.
    pub density: f64,
    /// Specific heat, kJ/(kg K).
    pub specific_heat: f64,
}

impl Properties {
    /// Thermal diffusivity, k / (rho cp).
    ///
    /// # Errors
    /// [`PhysicsError::OutOfRange`] if it is no food's: outside 1e-9 to 1e-3 m²/s.
    pub fn diffusivity(self) -> Result<Diffusivity, PhysicsError> {
        Diffusivity::new(self.conductivity / (self.density * self.specific_heat * 1_000.0))
    }
}

impl Component {
    /// Properties of this component alone.
    ///
    /// # Errors
    /// [`PhysicsError::OutOfRange`] outside 0 to 150 °C for water, -40 to 0 °C
    /// for ice, -40 to 150 °C for the others.
    pub fn properties(self, temperature: Celsius) -> Result<Properties, PhysicsError> {
        let (low, high) = match self {
            Self::Water => (0.0, 150.0),
            Self::Ice => (-40.0, 0.0),
            _ => (-40.0, 150.0),
        };
        let t = within(temperature.degrees(), low, high, Quantity::Temperature)?;
        let [conductivity, density, specific_heat] =
            table(self).map(|[c0, c1, c2]| c0 + (c1 + c2 * t) * t);
        Ok(Properties { conductivity, density, specific_heat })
    }
}

/// Shares by mass of the components of a food, summing to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Composition([(Component, f64); 6]);

impl Composition {
    /// A composition from grams of water, protein, fat, carbohydrate, fibre and
    /// ash. Printed analyses seldom sum to 100, so the sum is scaled to 1.
    ///
    /// # Errors
    /// [`PhysicsError`] if a part is no number, negative or over 1e6 g, or if
    /// all are zero.
    pub fn new(grams: [f64; 6]) -> Result<Self, PhysicsError> {
        let mut sum = 0.0;
        for part in grams {
            sum += within(part, 0.0, 1e6, Quantity::Composition)?;
        }
        if sum < 1e-6 {
            return Err(PhysicsError::OutOfRange(Quantity::Composition));
        }
        let [water, protein, fat, carbohydrate, fibre, ash] = grams.map(|part| part / sum);
        Ok(Self([
            (Component::Water, water),
            (Component::Protein, protein),
            (Component::Fat, fat),
            (Component::Carbohydrate, carbohydrate),
            (Component::Fibre, fibre),
            (Component::Ash, ash),
        ]))
    }

    /// Properties of the mixture: volumes and heats add up, and conductivity is
    /// weighted by volume (parallel mixing, an upper bound).
    ///
    /// # Errors
    /// [`PhysicsError::OutOfRange`] outside 0 to 150 °C.
    pub fn properties(&self, temperature: Celsius) -> Result<Properties, PhysicsError> {
        let (mut volume, mut conductivity, mut specific_heat) = (0.0, 0.0, 0.0);
        for (component, share) in self.0 {
            let part = component.properties(temperature)?;
            volume += share / part.density;
            conductivity += share / part.density * part.conductivity;
            specific_heat += share * part.specific_heat;
        }
        Ok(Properties { conductivity: conductivity / volume, density: 1.0 / volume, specific_heat })
    }
}
