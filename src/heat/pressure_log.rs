//! The pressure log of a run as a chart: gauge and steam against time.
//!
//! Invariant: only what was read is joined up. A drop without a reading leaves a
//! gap, for nobody knows how far the pressure fell.

use super::plot::{Level, Scale, Tick, degrees};
use crate::batch::Load;
use crate::physics::Celsius;
use crate::physics::steam::{self, AirFraction};
use crate::process::Gauge;
use crate::run::{Happened, StageKind};
use crate::t;
use crate::units::{Altitude, EpochMs, PsiGauge, Span};
use core::fmt::Write;

/// A chart of the gauge since the vent was closed, ready to be drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PressureLog {
    /// The gauge, as an SVG path.
    pub line: String,
    /// Every look at the gauge: points of no length, drawn by round ends.
    pub looks: String,
    /// Every drop below the figure: a wedge that points down.
    pub dips: String,
    /// Height of the required line.
    pub required: i64,
    /// Lines across, with psi at the left and steam temperature at the right.
    pub levels: Vec<Level>,
    /// Minutes since the vent was closed.
    pub ticks: Vec<Tick>,
    /// The chart in words.
    pub words: String,
}

/// Steam at a dial's reading, for a dial that reads `added` psi high.
fn steam_at(tenths: i64, added: u8, altitude: Altitude) -> Option<Celsius> {
    let real = u16::try_from(tenths - i64::from(added) * 10).ok()?;
    steam::temperature(PsiGauge::from_tenths(real).ok()?, altitude.into(), AirFraction::NONE).ok()
}

/// What one look at the gauge says: `11.5 psi, steam at 242 °F`.
#[must_use]
pub fn look_text(load: &Load, altitude: Altitude, look: Happened, metric: bool) -> String {
    let Happened::Reading(psi) = look else { return t!("the weight moves steadily").to_owned() };
    match steam_at(i64::from(psi.tenths()), load.plan.added, altitude) {
        Some(steam) => t!("{} psi, steam at {}", psi, degrees(steam, metric)),
        None => format!("{psi} psi"),
    }
}

/// The chart; `None` before the vent is closed.
#[must_use]
pub fn pressure_log(
    load: &Load,
    altitude: Altitude,
    now: EpochMs,
    metric: bool,
) -> Option<PressureLog> {
    let run = &load.run;
    let happened = run.happened();
    let is_close = |what| what == Happened::Began(StageKind::Rising);
    let from = happened.iter().find(|(_, what)| is_close(*what))?.0.0;
    let needed = i64::from(run.plan().pressure.tenths());
    let mut points = Vec::new();
    let (mut looks, mut dips) = (Vec::new(), Vec::new());
    let (mut last, mut low, mut high) = (None, needed, needed);
    let mut ended = None;
    for (at, what) in &happened {
        let at = at.0;
        match what {
            Happened::Began(StageKind::Rising) => match last {
                None => points.push(Some((at, 0))),
                Some(psi) => {
                    // A drop that was read is a point already.
                    dips.push((at, psi));
                    if psi >= needed {
                        points.push(None);
                    }
                }
            },
            Happened::Began(StageKind::Holding) => {
                points.push(Some((at, needed)));
                last = Some(needed);
            }
            Happened::Began(StageKind::Falling | StageKind::Stopped) => ended = Some(at),
            Happened::Reading(psi) => {
                let psi = i64::from(psi.tenths());
                (low, high) = (low.min(psi), high.max(psi));
                looks.push((at, psi));
                points.push(Some((at, psi)));
                // Read while it rises again, the drop has been marked.
                last = last.map(|_| psi);
            }
            Happened::WeightSteady => {
                looks.push((at, needed));
                points.push(Some((at, needed)));
            }
            Happened::Began(_) => {}
        }
    }
    let until = ended.or_else(|| run.since_heat(now).map(|span| span.0)).unwrap_or(from);
    // Room for the whole full time, so that the line grows into an empty frame.
    let hold = run.stage().since().filter(|_| run.stage().kind() == StageKind::Holding);
    let left = hold.and_then(|_| run.left(now)).unwrap_or(Span::ZERO).0;
    let end = until.saturating_add(left).max(from.saturating_add(600_000));
    let top = (high + 20).div_euclid(50) * 50 + 50;
    let scale = Scale { x: (from, end), y: (0, top) };
    Some(PressureLog {
        // What was only tapped is no reading: without one there is no line.
        line: scale.path(points.into_iter().filter(|_| !looks.is_empty())),
        looks: marks(scale, &looks, "h0"),
        dips: marks(scale, &dips, "m-6 4h12l-6 11z"),
        required: scale.y(needed),
        levels: levels(scale, load.plan.added, altitude, metric),
        ticks: scale.minutes(),
        words: words(load, looks.len(), dips.len(), (low, high)),
    })
}

fn marks(scale: Scale, places: &[(i64, i64)], shape: &str) -> String {
    let mut path = String::new();
    for (x, y) in places {
        let _ = write!(path, "M{} {}{shape}", scale.x(*x), scale.y(*y));
    }
    path
}

fn levels(scale: Scale, added: u8, altitude: Altitude, metric: bool) -> Vec<Level> {
    let mut levels = Vec::new();
    let mut tenths = 0;
    while tenths <= scale.y.1 {
        let steam = steam_at(tenths, added, altitude);
        let right = steam.map_or_else(String::new, |steam| degrees(steam, metric));
        levels.push(Level { y: scale.y(tenths), left: (tenths / 10).to_string(), right });
        tenths += 50;
    }
    levels
}

fn words(load: &Load, looks: usize, dips: usize, (low, high): (i64, i64)) -> String {
    let psi = |tenths: i64| {
        u16::try_from(tenths).ok().and_then(|tenths| PsiGauge::from_tenths(tenths).ok())
    };
    let mut words = t!("Required: {} psi. ", load.run.plan().pressure);
    match (load.plan.gauge, looks, psi(low), psi(high)) {
        (_, 0, ..) => words.push_str(t!("Nothing logged yet.")),
        (Gauge::Dial, 1, Some(low), Some(high)) => {
            words.push_str(&t!("Logged once, from {} to {} psi.", low, high));
        }
        (Gauge::Dial, n, Some(low), Some(high)) => {
            words.push_str(&t!("Logged {} times, from {} to {} psi.", n, low, high));
        }
        (_, 1, ..) => words.push_str(t!("Weight seen moving once.")),
        (_, n, ..) => words.push_str(&t!("Weight seen moving {} times.", n)),
    }
    match dips {
        0 => {}
        1 => words.push_str(t!(" Pressure dropped once, and the full time started over.")),
        n => {
            words.push_str(&t!(" Pressure dropped {} times, and the full time started over.", n));
        }
    }
    words
}
