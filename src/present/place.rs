//! An altitude that was measured, not known: what to use and what to say.
//!
//! Invariant: the altitude used is the highest the measurement allows, so doubt
//! can only raise the pressure.

use crate::physics::boiling::{Weather, altitude};
use crate::physics::place::{Datum, Place};
use crate::physics::{Celsius, PhysicsError};
use crate::t;
use crate::units::{Altitude, AltitudeError};

/// An altitude to use, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlaceAdvice {
    /// The altitude to look up.
    pub altitude: Altitude,
    /// What to say.
    pub say: String,
}

/// Why a measurement gives no altitude.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoPlace;

impl From<AltitudeError> for NoPlace {
    fn from(_: AltitudeError) -> Self {
        Self
    }
}

impl From<PhysicsError> for NoPlace {
    fn from(_: PhysicsError) -> Self {
        Self
    }
}

impl core::fmt::Display for NoPlace {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(t!(
            "That gives no altitude people cook at. Look it up on a map and type it in."
        ))
    }
}

/// The altitude from a position sensor: metres above the WGS 84 ellipsoid, give or
/// take metres (W3C Geolocation, `altitude` and `altitudeAccuracy`).
///
/// # Errors
/// [`NoPlace`] if the reading is no altitude people cook at.
pub fn place_by_sensor(metres: f64, plus_minus: f64) -> Result<PlaceAdvice, NoPlace> {
    let reading = Altitude::from_metres(metres)?;
    let doubt = Altitude::from_metres(plus_minus)?;
    let doubt = u16::try_from(doubt.feet()).map_err(|_| NoPlace)?;
    Ok(advise(Place::new(reading, doubt, Datum::Ellipsoid)?))
}

/// The altitude from the boiling point of plain water, in tenths of a degree
/// Fahrenheit, with what the thermometer may be off; the day's weather is allowed for.
///
/// # Errors
/// [`NoPlace`] if water boils so at no altitude people cook at.
pub fn place_by_boiling(tenths_f: i32, plus_minus_tenths_f: i32) -> Result<PlaceAdvice, NoPlace> {
    let measured = Celsius::from_fahrenheit(f64::from(tenths_f) / 10.0)?;
    // A difference of 1.8 degrees Fahrenheit is one kelvin.
    let doubt = f64::from(plus_minus_tenths_f) / 18.0;
    Ok(advise(Place::from_boiling(altitude(measured, doubt, Weather::Unknown)?)?))
}

fn advise(place: Place) -> PlaceAdvice {
    let (low, high) = (place.low().feet(), place.to_use());
    let mut say = t!("Somewhere from {} to {} ft. ", low, high.feet());
    match place.crossed().last() {
        Some(edge) => say.push_str(&t!(
            "Pressure steps up at {} ft, inside that range, so the higher end is used. A map or \
             a sign would settle it.",
            edge
        )),
        None => say.push_str(t!("All of it lies in one pressure band.")),
    }
    PlaceAdvice { altitude: high, say }
}
