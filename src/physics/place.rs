//! Which altitude to look up in a table when the reading is not exact.
//!
//! Invariant: the altitude to use is never below the reading, and never below
//! the highest altitude the reading's doubt allows; doubt only raises it.

use super::boiling::AltitudeRange;
use crate::units::{Altitude, AltitudeError};

/// Altitudes at which a pressure table steps up, in feet. A place at the very
/// edge still belongs to the band below it.
pub const BAND_EDGES_FT: [i32; 5] = [1_000, 2_000, 4_000, 6_000, 8_000];

/// What height a reading is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Datum {
    /// Mean sea level: a map, a sign, a survey mark.
    SeaLevel,
    /// The WGS 84 ellipsoid, as the Geolocation standard gives satellite heights.
    Ellipsoid,
}

impl Datum {
    /// Feet that sea-level height can be below and above such a reading. The
    /// geoid lies from 107 m below the ellipsoid to 86 m above it (EGM96, from
    /// memory); used only to widen the doubt.
    const fn spread(self) -> (i32, i32) {
        match self {
            Self::SeaLevel => (0, 0),
            Self::Ellipsoid => (283, 352),
        }
    }
}

/// A place's altitude with its doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    low: Altitude,
    high: Altitude,
}

impl Place {
    /// A reading, give or take so many feet.
    ///
    /// # Errors
    /// [`AltitudeError::OutOfRange`] if the upper end lies over 30,000 ft. The
    /// lower end stops at -1,500 ft.
    pub fn new(reading: Altitude, plus_minus_ft: u16, datum: Datum) -> Result<Self, AltitudeError> {
        let (below, above) = datum.spread();
        let doubt = i32::from(plus_minus_ft);
        let low = (reading.feet() - doubt - below).max(Altitude::MIN_FT);
        Ok(Self {
            low: Altitude::from_feet(low)?,
            high: Altitude::from_feet(reading.feet() + doubt + above)?,
        })
    }

    /// Where water boils as measured.
    ///
    /// # Errors
    /// [`AltitudeError::OutOfRange`] outside -1,500 to 30,000 ft.
    pub fn from_boiling(range: AltitudeRange) -> Result<Self, AltitudeError> {
        let (low, high) = range.feet()?;
        Ok(Self { low, high })
    }

    /// The lowest altitude the reading allows.
    #[must_use]
    pub const fn low(self) -> Altitude {
        self.low
    }

    /// The altitude to look up: the highest the reading allows.
    #[must_use]
    pub const fn to_use(self) -> Altitude {
        self.high
    }

    /// Band edges the doubt crosses, in feet, lowest first. None means that
    /// reading and doubt agree on the band.
    pub fn crossed(self) -> impl Iterator<Item = i32> {
        let span = self.low.feet()..self.high.feet();
        BAND_EDGES_FT.into_iter().filter(move |edge| span.contains(edge))
    }
}
