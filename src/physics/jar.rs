//! The slowest-heating point of a jar of solid food in steam whose temperature
//! changes, by conduction alone. Explanation only: it shows why a jar needs so
//! long, and never gates, shortens or extends a tested time.
//!
//! Invariant: food and steam temperatures go in as straight lines between
//! readings, and the modes are stepped exactly along them (Duhamel's theorem),
//! so a reading in the middle of a straight line changes nothing.
//!
//! The food is a uniform solid cylinder heated alike from all sides; its
//! coldest point is its centre. Juice that moves, bones, and air at the top of
//! the jar are outside this picture.

use super::conduction::{MODES, Modes, Shape};
use super::error::{PhysicsError, Quantity, within};
use super::quantity::{Celsius, Diffusivity, Sample, seconds_between};

/// The food in a jar, as a cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    radius: f64,
    half_height: f64,
}

impl Cylinder {
    /// A cylinder by radius and half height in metres, each 1 mm to 0.5 m.
    ///
    /// # Errors
    /// [`PhysicsError`] for what is no number or outside that range.
    pub fn new(radius: f64, half_height: f64) -> Result<Self, PhysicsError> {
        Ok(Self {
            radius: within(radius, 1e-3, 0.5, Quantity::Length)?,
            half_height: within(half_height, 1e-3, 0.5, Quantity::Length)?,
        })
    }

    /// The food inside a jar measured from outside, all in millimetres. The
    /// base counts as thick as the wall.
    ///
    /// # Errors
    /// [`PhysicsError`] if what is left inside is no jar.
    pub fn inside(
        diameter: f64,
        height: f64,
        wall: f64,
        headspace: f64,
    ) -> Result<Self, PhysicsError> {
        let wall = within(wall, 0.0, 20.0, Quantity::Length)?;
        let headspace = within(headspace, 0.0, 200.0, Quantity::Length)?;
        Self::new((diameter / 2.0 - wall) / 1e3, (height - headspace - wall) / 2e3)
    }

    /// Radius, m.
    #[must_use]
    pub const fn radius(self) -> f64 {
        self.radius
    }

    /// Half the height, m.
    #[must_use]
    pub const fn half_height(self) -> f64 {
        self.half_height
    }
}

/// How the steam's heat gets into the food.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surface {
    /// Thickness of food that would resist as much as the wall and film, m.
    resistance: f64,
}

impl Surface {
    /// The food's surface is at the steam's temperature.
    pub const AT_STEAM: Self = Self { resistance: 0.0 };

    /// Heat passes a surface coefficient, 1 to 1e6 W/(m² K), into food of a
    /// conductivity, 0.01 to 10 W/(m K).
    ///
    /// # Errors
    /// [`PhysicsError`] for what is no number or outside those ranges.
    pub fn through(coefficient: f64, conductivity: f64) -> Result<Self, PhysicsError> {
        let coefficient = within(coefficient, 1.0, 1e6, Quantity::SurfaceCoefficient)?;
        let conductivity = within(conductivity, 0.01, 10.0, Quantity::Conductivity)?;
        Ok(Self { resistance: conductivity / coefficient })
    }
}

/// One mode of the jar: a mode of its radius times a mode of its height.
#[derive(Clone, Copy, Debug)]
struct Term {
    weight: f64,
    /// Seconds in which the mode falls to 1/e.
    seconds: f64,
}

/// A jar whose modes are known, ready to be heated again and again.
#[derive(Clone, Debug)]
pub struct Jar {
    radial: Modes,
    axial: Modes,
    /// Decay per second of a unit of radial and of axial mode decay.
    pace: (f64, f64),
    terms: Vec<Term>,
}

impl Jar {
    /// Solves for the modes of a jar of food.
    ///
    /// # Errors
    /// [`PhysicsError`] if the surface resists over 1,000 times as much as the food.
    pub fn new(
        food: Cylinder,
        diffusivity: Diffusivity,
        surface: Surface,
    ) -> Result<Self, PhysicsError> {
        let radial = Modes::new(Shape::Cylinder, surface.resistance / food.radius)?;
        let axial = Modes::new(Shape::Slab, surface.resistance / food.half_height)?;
        let alpha = diffusivity.square_metres_per_second();
        let pace = (alpha / food.radius.powi(2), alpha / food.half_height.powi(2));
        let mut terms = Vec::with_capacity((MODES + 1) * (MODES + 1));
        for r in radial.all() {
            terms.extend(axial.all().iter().map(|z| Term {
                weight: r.weight * z.weight,
                seconds: 1.0 / (r.decay * pace.0 + z.decay * pace.1),
            }));
        }
        Ok(Self { radial, axial, pace, terms })
    }

    /// Heating rate index f_h, minutes: the time in which the centre's lag falls
    /// tenfold once only the slowest mode is left (Olson & Jackson 1942).
    #[must_use]
    pub fn heating_rate_index(&self) -> f64 {
        let decay =
            self.radial.slowest().decay * self.pace.0 + self.axial.slowest().decay * self.pace.1;
        core::f64::consts::LN_10 / decay / 60.0
    }

    /// Lag factor j at the centre: where that last straight line starts.
    #[must_use]
    pub fn lag_factor(&self) -> f64 {
        self.radial.slowest().weight * self.axial.slowest().weight
    }

    /// A run that starts with all food at one temperature, in surroundings at another.
    #[must_use]
    pub fn start(&self, food: Celsius, surroundings: Celsius) -> Run<'_> {
        let lag = surroundings.degrees() - food.degrees();
        Run { jar: self, surroundings, lags: vec![lag; self.terms.len()] }
    }

    /// Temperature of the centre at every reading of the steam, food starting
    /// at `food`. Two readings at one time make a step.
    ///
    /// # Errors
    /// [`PhysicsError::OutOfRange`] if a reading is earlier than the one before it.
    pub fn centre(&self, food: Celsius, steam: &[Sample]) -> Result<Vec<Sample>, PhysicsError> {
        let Some(first) = steam.first() else { return Ok(Vec::new()) };
        let mut run = self.start(food, first.temperature);
        let mut last = first.at;
        steam
            .iter()
            .map(|next| {
                run.advance(seconds_between(last, next.at)?, next.temperature)?;
                last = next.at;
                Ok(Sample { at: next.at, temperature: run.centre() })
            })
            .collect()
    }
}

/// A jar on its way: how far each mode still lags behind the surroundings.
#[derive(Clone, Debug)]
pub struct Run<'a> {
    jar: &'a Jar,
    surroundings: Celsius,
    lags: Vec<f64>,
}

impl Run<'_> {
    /// Lets `seconds` pass while the surroundings go in a straight line to a
    /// temperature; at 0 seconds they step there.
    ///
    /// # Errors
    /// [`PhysicsError`] for a time that is no number or outside 0 to a year.
    pub fn advance(&mut self, seconds: f64, to: Celsius) -> Result<(), PhysicsError> {
        let seconds = within(seconds, 0.0, 366.0 * 86_400.0, Quantity::Time)?;
        let rise = to.degrees() - self.surroundings.degrees();
        self.surroundings = to;
        // Under a millisecond a ramp is a step, and dividing by it would overflow.
        if seconds < 1e-3 {
            self.lags.iter_mut().for_each(|lag| *lag += rise);
            return Ok(());
        }
        let slope = rise / seconds;
        // A term's decay is a product of two factors: 50 exponentials, not 625.
        let axial = self.jar.axial.0.map(|z| (-z.decay * self.jar.pace.1 * seconds).exp());
        let mut pairs = self.lags.iter_mut().zip(&self.jar.terms);
        for r in self.jar.radial.all() {
            let radial = (-r.decay * self.jar.pace.0 * seconds).exp();
            // The axial factors lead: once they end, no pair of the next row is lost.
            for (z, (lag, term)) in axial.iter().zip(pairs.by_ref()) {
                let steady = slope * term.seconds;
                *lag = steady + (*lag - steady) * radial * z;
            }
        }
        Ok(())
    }

    /// Temperature of the centre now.
    #[must_use]
    pub fn centre(&self) -> Celsius {
        let lag: f64 = self.lags.iter().zip(&self.jar.terms).map(|(lag, t)| lag * t.weight).sum();
        Celsius::known(self.surroundings.degrees() - lag)
    }
}
