//! Lethal rate and F0, the minutes at 121.1 °C that a heating history is worth.
//! Explanation only: a computed F0 never replaces, shortens or approves a
//! tested time.
//!
//! Invariant: temperature is a straight line between readings, and each
//! segment is integrated exactly; splitting a segment changes nothing.

use super::error::{PhysicsError, Quantity, within};
use super::quantity::{Celsius, Sample, seconds_between};

/// Time to a tenfold fall of *C. botulinum* spores at 121.1 °C, minutes.
/// (Lecture on thermal processing, University of Florida; measured values are
/// lower or higher, so it is a convention.)
pub const D_BOTULINUM: f64 = 0.21;

/// The least F0 usually stated for low-acid canned food, minutes. A figure from
/// the literature to explain with; no process is passed or failed by it.
pub const USUAL_LEAST_F0: f64 = 3.0;

/// Minutes at the reference temperature for so many tenfold falls of spores
/// whose decimal reduction time is `d` minutes.
#[must_use]
pub const fn decimal_reductions(d: f64, decades: u8) -> f64 {
    d * decades as f64
}

/// How lethality depends on temperature: reference temperature and z value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lethality {
    reference: Celsius,
    z_kelvin: f64,
}

impl Lethality {
    /// F0: reference 121.1 °C, z 10 K, as the field defines it.
    pub const F0: Self = Self { reference: Celsius::known(121.1), z_kelvin: 10.0 };

    /// Another reference or z.
    ///
    /// # Errors
    /// [`PhysicsError`] if z is no number or outside 1 to 100 K.
    pub fn new(reference: Celsius, z_kelvin: f64) -> Result<Self, PhysicsError> {
        let z_kelvin = within(z_kelvin, 1.0, 100.0, Quantity::ZValue)?;
        within(reference.degrees(), 0.0, 200.0, Quantity::Temperature)?;
        Ok(Self { reference, z_kelvin })
    }

    /// Reference temperature.
    #[must_use]
    pub const fn reference(self) -> Celsius {
        self.reference
    }

    /// z value, K.
    #[must_use]
    pub const fn z_kelvin(self) -> f64 {
        self.z_kelvin
    }

    /// Minutes at the reference temperature that one minute here is worth.
    #[must_use]
    pub fn rate(self, temperature: Celsius) -> f64 {
        self.exponent(temperature.degrees() - self.reference.degrees()).exp()
    }

    /// Equivalent minutes of one straight segment of `minutes`.
    ///
    /// The exact integral is `dt (L2 - L1) / ln(L2 / L1)`. Written with
    /// `exp_m1` it does not cancel when the two rates are nearly equal.
    fn segment(self, from: Celsius, to: Celsius, minutes: f64) -> f64 {
        let rise = self.exponent(to.degrees() - from.degrees());
        let mean = if rise == 0.0 { 1.0 } else { rise.exp_m1() / rise };
        minutes * self.rate(from) * mean
    }

    /// Equivalent minutes gathered up to each reading, the first being 0.
    ///
    /// # Errors
    /// [`PhysicsError::OutOfRange`] if a reading is earlier than the one before it.
    pub fn cumulative(self, history: &[Sample]) -> Result<Vec<f64>, PhysicsError> {
        let mut sum = 0.0;
        let mut last: Option<&Sample> = None;
        history
            .iter()
            .map(|next| {
                if let Some(last) = last {
                    let minutes = seconds_between(last.at, next.at)? / 60.0;
                    sum += self.segment(last.temperature, next.temperature, minutes);
                }
                last = Some(next);
                Ok(sum)
            })
            .collect()
    }

    /// Equivalent minutes of a whole history; 0 for fewer than two readings.
    ///
    /// # Errors
    /// As [`Lethality::cumulative`].
    pub fn total(self, history: &[Sample]) -> Result<f64, PhysicsError> {
        Ok(self.cumulative(history)?.last().copied().unwrap_or(0.0))
    }

    /// Natural logarithm of the factor that a temperature difference makes.
    fn exponent(self, kelvin: f64) -> f64 {
        core::f64::consts::LN_10 * kelvin / self.z_kelvin
    }
}
