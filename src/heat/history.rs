//! Steam around the jars through a run, as its record allows: at the least, as is
//! likely, and at the most.
//!
//! Invariant: the three are in that order at every moment. What was not read is
//! filled in downwards for the least and upwards for the most.

use crate::physics::atmosphere::Geometric;
use crate::physics::boiling::WEATHER_PA;
use crate::physics::{Celsius, PhysicsError, Sample, steam};
use crate::run::{Happened, Run, StageKind};
use crate::units::{PsiGauge, Span};

/// Which end of a range is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bound {
    /// Everything unknown taken as its coolest.
    Least,
    /// As is likely.
    Likely,
    /// Everything unknown taken as its hottest.
    Most,
}

impl Bound {
    /// One of three values, least first.
    pub const fn of<T: Copy>(self, of: [T; 3]) -> T {
        let [least, likely, most] = of;
        match self {
            Self::Least => least,
            Self::Likely => likely,
            Self::Most => most,
        }
    }
}

/// How far a home gauge may be from what it shows, psi (an allowance, no source).
const READING_PSI: f64 = 0.5;

/// What a run was held to, and where.
#[derive(Clone, Copy, Debug)]
pub(super) struct Canner {
    /// Height of the place.
    pub height: Geometric,
    /// Pressure the gauge must show.
    pub required: PsiGauge,
    /// Psi of it that only make up for a dial that reads high.
    pub added: u8,
}

impl Canner {
    /// Real pressure at a gauge reading, psi.
    fn real(self, reading: PsiGauge) -> f64 {
        (reading.psi() - f64::from(self.added)).max(0.0)
    }

    /// Steam under a real gauge pressure; open to the air at 0 psi.
    pub fn steam(self, psi: f64, bound: Bound) -> Result<Celsius, PhysicsError> {
        let doubt = if psi > 0.0 { READING_PSI } else { 0.0 };
        let psi = bound.of([(psi - doubt).max(0.0), psi, psi + doubt]);
        steam::doubtful(psi, self.height, bound.of([-WEATHER_PA, 0.0, WEATHER_PA]))
    }
}

/// A real gauge pressure at a moment, and how far the unknown may have taken it.
#[derive(Clone, Copy)]
struct Point {
    at: Span,
    psi: [f64; 3],
}

/// The steam from the heat going on to the lid coming off, jars put in at `food`;
/// `None` until the pressure is gone.
pub(super) fn steam_history(
    run: &Run,
    canner: Canner,
    food: Celsius,
    bound: Bound,
) -> Result<Option<Vec<Sample>>, PhysicsError> {
    let open = canner.steam(0.0, bound)?;
    let mut steam = vec![Sample { at: Span::ZERO, temperature: food }];
    let mut points: Vec<Point> = Vec::new();
    let (mut gone, mut lid) = (None, None);
    let required = canner.real(canner.required);
    for (at, what) in run.happened() {
        let known = |psi: f64| Point { at, psi: [psi; 3] };
        let last = points.last().copied();
        match what {
            Happened::Began(StageKind::Venting) => {
                // At the least the water warmed only at the very end.
                if bound == Bound::Least {
                    steam.push(Sample { at, temperature: food });
                }
                steam.push(Sample { at, temperature: open });
            }
            Happened::Began(StageKind::Rising) => points.push(match last {
                None => known(0.0),
                // A drop that was read stands already; of another nobody knows the depth.
                Some(Point { psi: [_, read, _], .. }) if read < required => continue,
                Some(_) => Point { at, psi: [0.0, (required - 1.0).max(0.0), required] },
            }),
            Happened::Began(StageKind::Holding) | Happened::WeightSteady => {
                points.push(known(required));
            }
            Happened::Reading(psi) => points.push(known(canner.real(psi))),
            Happened::Began(StageKind::Falling) => {
                let last = last.map_or(required, |point| Bound::Likely.of(point.psi));
                points.push(Point { at, psi: [required, last, last] });
            }
            Happened::Began(StageKind::Standing) => gone = Some(at),
            Happened::Began(StageKind::Unloading) => lid = Some(at),
            Happened::Began(_) => {}
        }
    }
    let Some(gone) = gone else { return Ok(None) };
    cool(&mut steam, &points, canner, gone, bound)?;
    if let Some(at) = lid {
        steam.push(Sample { at, temperature: open });
    }
    Ok(Some(steam))
}

/// Adds the time under pressure and the fall of it.
fn cool(
    steam: &mut Vec<Sample>,
    points: &[Point],
    canner: Canner,
    gone: Span,
    bound: Bound,
) -> Result<(), PhysicsError> {
    let mut push = |at: Span, psi: f64| -> Result<(), PhysicsError> {
        steam.push(Sample { at, temperature: canner.steam(psi, bound)? });
        Ok(())
    };
    let mut before: Option<&Point> = None;
    for point in points {
        let (to, from) = (bound.of(point.psi), before.map_or(0.0, |p| bound.of(p.psi)));
        // Between two readings: the lower of them, a straight line, or the higher.
        let (from, to) =
            bound.of([(from.min(to), from.min(to)), (from, to), (from.max(to), from.max(to))]);
        if let Some(before) = before {
            push(before.at, from)?;
            push(point.at, to)?;
        }
        before = Some(point);
    }
    let Some(last) = before else { return Ok(()) };
    push(last.at, bound.of(last.psi))?;
    // The tap may come long after the gauge reached zero. A canner cools in nearly a
    // straight line over so few degrees.
    let fall = gone.minus(last.at).at_least_zero().0;
    push(last.at.plus(Span(bound.of([fall / 2, fall / 4 * 3, fall]))), 0.0)
}
