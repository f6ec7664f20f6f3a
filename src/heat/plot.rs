//! Lines and scales of a chart, in whole units of its drawing.
//!
//! Invariant: every point lies inside the chart's frame; no floating-point number
//! is ever written out.

use crate::physics::Celsius;
use core::fmt::Write;

/// Width of every chart, in its own units.
pub const WIDTH: i64 = 340;
/// Height of every chart.
pub const HEIGHT: i64 = 228;
/// The frame inside it: left, right, top, bottom.
pub const FRAME: (i64, i64, i64, i64) = (34, 288, 26, 190);

/// A line across the chart with what it stands for at both ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Level {
    /// Height in the drawing.
    pub y: i64,
    /// What stands at the left.
    pub left: String,
    /// What stands at the right.
    pub right: String,
}

/// A mark under the chart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tick {
    /// Place in the drawing.
    pub x: i64,
    /// What it says.
    pub text: String,
}

/// Where values lie in the frame. Values are whole numbers of any unit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    /// Value at the left, value at the right.
    pub x: (i64, i64),
    /// Value at the bottom, value at the top.
    pub y: (i64, i64),
}

impl Scale {
    pub fn x(self, value: i64) -> i64 {
        place(value, self.x, (FRAME.0, FRAME.1))
    }

    pub fn y(self, value: i64) -> i64 {
        place(value, self.y, (FRAME.3, FRAME.2))
    }

    /// A line through points, as an SVG path; a break begins a new stroke.
    pub fn path(self, points: impl Iterator<Item = Option<(i64, i64)>>) -> String {
        let mut path = String::new();
        let mut pen = 'M';
        for point in points {
            let Some((x, y)) = point else {
                pen = 'M';
                continue;
            };
            let _ = write!(path, "{pen}{} {}", self.x(x), self.y(y));
            pen = 'L';
        }
        path
    }

    /// Marks a round number of minutes apart, for a horizontal scale in milliseconds.
    pub fn minutes(self) -> Vec<Tick> {
        let span = (self.x.1 - self.x.0) / 60_000;
        let step = [5, 10, 20, 30, 60, 120].into_iter().find(|step| span / step <= 7);
        let step = step.unwrap_or(240);
        let mut ticks = Vec::new();
        let mut minute = 0;
        while minute <= span && ticks.len() < 12 {
            let x = self.x(self.x.0 + minute * 60_000);
            ticks.push(Tick { x, text: minute.to_string() });
            minute += step;
        }
        ticks
    }
}

/// Straight-line scaling, rounded, kept inside the target.
fn place(value: i64, from: (i64, i64), to: (i64, i64)) -> i64 {
    let span = (from.1 - from.0).max(1);
    let part = value.clamp(from.0, from.0 + span) - from.0;
    let scaled = part * (to.1 - to.0).abs() * 2 + span;
    let way = scaled / (span * 2);
    if to.1 < to.0 { to.0 - way } else { to.0 + way }
}

/// A temperature in hundredths of a kelvin above 0 °C, for drawing.
pub(super) fn hundredths(temperature: Celsius) -> i64 {
    (temperature.degrees() * 100.0).round() as i64
}

/// A temperature in whole degrees, as the person reads them.
pub(super) fn degrees(temperature: Celsius, metric: bool) -> String {
    let (number, unit) =
        if metric { (temperature.degrees(), "°C") } else { (temperature.fahrenheit(), "°F") };
    format!("{} {unit}", number.round() as i64)
}
