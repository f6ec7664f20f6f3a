//! Why the full time: a jar's cold point warming against the steam, and what is
//! lost when the heat goes off early.
//!
//! Invariant: time, pressure and jar come from one row of the tables and are never
//! worked out here; what ending early costs is said, never what would be enough.

use super::account::{at, closed, curve, finer, temperature_levels};
use super::history::{Bound, Canner};
use super::pack::{self, jar};
use super::plot::{Level, Scale, Tick};
use crate::batch::LoadPlan;
use crate::physics::jar::Jar;
use crate::physics::lethality::Lethality;
use crate::physics::{Celsius, PhysicsError, Sample};
use crate::process::{Food, Gauge, Group, Jar as Size, Process, processes};
use crate::units::{Altitude, PsiGauge, Span};

/// One pressure of the tables, with the highest place it answers for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Setting {
    /// Kind of gauge.
    pub gauge: Gauge,
    /// What it shows.
    pub psi: PsiGauge,
    /// The top of the band, feet: where the steam is coolest.
    pub to: Altitude,
}

/// How warm the food goes in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FoodStart {
    /// 34 °F, from the coldest shelf.
    Iced,
    /// 40 °F, the warmest raw seafood is to be kept.
    Cold,
    /// 70 °F, left standing.
    Room,
}

crate::keys::keys!(FoodStart { Iced = "iced", Cold = "cold", Room = "room" });

impl FoodStart {
    /// Degrees Fahrenheit.
    #[must_use]
    pub const fn fahrenheit(self) -> u8 {
        match self {
            Self::Iced => 34,
            Self::Cold => 40,
            Self::Room => 70,
        }
    }
}

/// A line of the table beside the picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WarmingRow {
    /// Minutes at pressure.
    pub minutes: u16,
    /// The cold point then.
    pub cold: String,
    /// Percent of the full time's killing heat if the heat goes off then: likely,
    /// and from the slowest jar to the fastest.
    pub share: [u8; 3],
}

/// The picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Warming {
    /// The tested time, minutes.
    pub full: u16,
    /// When the heat goes off, minutes at pressure.
    pub off: u16,
    /// Where the time is published.
    pub publication: &'static str,
    /// Steam at pressure.
    pub steam_at: String,
    /// The steam with the full time, and its fall if the heat goes off early: SVG paths.
    pub steam: [String; 2],
    /// The cold point likewise.
    pub centre: [String; 2],
    /// From the slowest jar to the fastest, with the full time.
    pub band: String,
    /// Where the heat goes off, and where the full time ends, in the drawing.
    pub marks: [i64; 2],
    /// Lines across: °F at the left, °C at the right.
    pub levels: Vec<Level>,
    /// Minutes since the heat went on.
    pub ticks: Vec<Tick>,
    /// The moment the heat goes off.
    pub now: WarmingRow,
    /// Every fifth of the full time, and the moment the heat goes off.
    pub rows: Vec<WarmingRow>,
}

/// Minutes of a run that no table sets (allowances, no source): heating to steady
/// steam, pressure rising, pressure falling, lid on.
const HEATING: i64 = 20;
const RISING: i64 = 5;
const FALLING: i64 = 40;
const STANDING: i64 = 10;

/// The row of raw fish for a jar.
fn row(size: Size) -> Option<&'static Process> {
    processes().iter().find(|row| {
        let group = Food::by_key(row.product()).map(Food::group);
        group == Some(Group::Fish) && row.jars().contains(&size)
    })
}

/// The jars that tables list for fish and whose size is on file.
#[must_use]
pub fn offered_jars() -> Vec<Size> {
    Size::ALL.iter().copied().filter(|size| pack::is_known(*size) && row(*size).is_some()).collect()
}

/// The pressures the tables list for a jar of fish.
#[must_use]
pub fn settings(size: Size) -> Vec<Setting> {
    let Some(row) = row(size) else { return Vec::new() };
    let mut settings = Vec::new();
    for gauge in [Gauge::Dial, Gauge::Weighted] {
        for (psi, to) in row.pressures(gauge) {
            settings.push(Setting { gauge, psi, to });
        }
    }
    settings
}

/// The place in [`settings`] of what a load is run at; `None` for a jar or a pressure
/// without a picture.
#[must_use]
pub fn setting_of(size: Size, plan: &LoadPlan) -> Option<usize> {
    let (gauge, psi) = (plan.gauge, plan.table_pressure());
    let of = |setting: &Setting| setting.gauge == gauge && setting.psi == psi;
    settings(size).iter().position(of).filter(|_| pack::is_known(size))
}

/// The picture of a jar of fish whose heat goes off after `off` minutes at pressure;
/// `None` for a jar or a pressure the tables do not list.
#[must_use]
pub fn warming(size: Size, setting: Setting, food: FoodStart, off: u16) -> Option<Warming> {
    let row = row(size)?;
    if !row.pressures(setting.gauge).any(|one| one == (setting.psi, setting.to)) {
        return None;
    }
    work_out(row, size, setting, food, off.min(row.minutes().0)).ok().flatten()
}

const BOUNDS: [Bound; 3] = [Bound::Likely, Bound::Least, Bound::Most];

fn work_out(
    row: &'static Process,
    size: Size,
    setting: Setting,
    food: FoodStart,
    off: u16,
) -> Result<Option<Warming>, PhysicsError> {
    let full = row.minutes().0;
    let canner = Canner { height: setting.to.into(), required: setting.psi, added: 0 };
    let food = Celsius::from_fahrenheit(f64::from(food.fahrenheit()))?;
    let heating = HEATING.max(i64::from(row.heat_before_vent().0));
    let before = heating + i64::from(row.vent().0) + RISING;
    let hot = canner.steam(setting.psi.psi(), Bound::Likely)?;
    let open = canner.steam(0.0, Bound::Likely)?;
    let headspace = f64::from(row.headspace().millimetres());
    // Every moment at which the heat may go off, in order, each once.
    let mut offs: Vec<u16> = (0..=5).map(|fifth| full / 5 * fifth).filter(|m| *m < off).collect();
    let now = offs.len();
    offs.push(off);
    offs.extend((0..=5).map(|fifth| full / 5 * fifth).filter(|m| *m > off));
    let moment = |held: u16| Span::minutes(before + i64::from(held));
    let moments: Vec<Span> = offs.iter().map(|held| moment(*held)).collect();
    let mut knots = vec![
        Sample { at: Span::ZERO, temperature: food },
        Sample { at: Span::minutes(heating), temperature: open },
        Sample { at: Span::minutes(before - RISING), temperature: open },
        Sample { at: Span::minutes(before), temperature: hot },
    ];
    knots.extend(moments.iter().map(|at| Sample { at: *at, temperature: hot }));
    let heated = finer(&knots);
    let fall = |from: Span| {
        let later = |minutes| from.plus(Span::minutes(minutes));
        finer(&[
            Sample { at: from, temperature: hot },
            Sample { at: later(FALLING), temperature: open },
            Sample { at: later(FALLING + STANDING), temperature: open },
        ])
    };
    let mut warmed = Vec::with_capacity(BOUNDS.len());
    for bound in BOUNDS {
        match jar(size, headspace, bound, false)? {
            Some(jar) => warmed.push(warm(&jar, food, &heated, &moments, &fall)?),
            None => return Ok(None),
        }
    }
    let [likely, slow, fast] = &warmed[..] else { return Ok(None) };
    let rows: Vec<WarmingRow> = offs
        .iter()
        .enumerate()
        .map(|(index, held)| {
            let share = [likely, slow, fast].map(|jar| jar.share(index, *held == full));
            let cold = at(&likely.heating, moment(*held));
            let cold = cold.map_or_else(String::new, |cold| cold.to_string());
            WarmingRow { minutes: *held, cold, share }
        })
        .collect();
    let Some(ended) = rows.get(now).cloned() else { return Ok(None) };
    let whole_steam = [&heated[..], &fall(moment(full))].concat();
    let end = before + i64::from(full) + FALLING + STANDING;
    let scale = Scale { x: (0, Span::minutes(end).0), y: (0, 13_000) };
    let mark = |held: u16| scale.x(moment(held).0);
    Ok(Some(Warming {
        full,
        off,
        publication: row.publication(),
        steam_at: hot.to_string(),
        steam: [curve(scale, &whole_steam), curve(scale, &fall(moment(off)))],
        centre: [
            curve(scale, &likely.whole()),
            curve(scale, likely.endings.get(now).map_or(&[], |ending| ending)),
        ],
        band: closed(scale, &slow.whole(), &fast.whole()),
        marks: [mark(off), mark(full)],
        levels: temperature_levels(scale),
        ticks: scale.minutes(),
        now: ended,
        rows,
    }))
}

/// A jar warmed for the full time, and what becomes of it if the heat goes off at
/// each of some moments.
struct Warmed {
    heating: Vec<Sample>,
    endings: Vec<Vec<Sample>>,
    /// F0 with the heat off at each moment, minutes.
    f0: Vec<f64>,
}

impl Warmed {
    /// Percent of the full time's F0; never rounded up to the whole.
    fn share(&self, index: usize, is_full: bool) -> u8 {
        let (Some(part), Some(whole)) = (self.f0.get(index), self.f0.last()) else { return 0 };
        if is_full { 100 } else { (part / whole * 100.0).floor().clamp(0.0, 99.0) as u8 }
    }

    fn whole(&self) -> Vec<Sample> {
        let ending = self.endings.last().map_or(&[][..], |ending| ending);
        [&self.heating[..], ending].concat()
    }
}

/// Follows one jar; the state at each moment is kept, so that an ending costs only
/// its own minutes.
fn warm(
    jar: &Jar,
    food: Celsius,
    heated: &[Sample],
    moments: &[Span],
    fall: &dyn Fn(Span) -> Vec<Sample>,
) -> Result<Warmed, PhysicsError> {
    let mut warmed = Warmed { heating: Vec::new(), endings: Vec::new(), f0: Vec::new() };
    let mut run = jar.start(food, food);
    let mut last = Span::ZERO;
    let mut wanted = moments.iter().peekable();
    for steam in heated {
        run.advance(seconds(last, steam.at), steam.temperature)?;
        last = steam.at;
        warmed.heating.push(Sample { at: last, temperature: run.centre() });
        if wanted.next_if(|moment| **moment <= last).is_some() {
            let mut ending = Vec::new();
            let (mut run, mut from) = (run.clone(), last);
            for steam in fall(last) {
                run.advance(seconds(from, steam.at), steam.temperature)?;
                from = steam.at;
                ending.push(Sample { at: from, temperature: run.centre() });
            }
            let so_far = Lethality::F0.total(&warmed.heating)?;
            warmed.f0.push(so_far + Lethality::F0.total(&ending)?);
            warmed.endings.push(ending);
        }
    }
    Ok(warmed)
}

fn seconds(from: Span, to: Span) -> f64 {
    to.minus(from).0 as f64 / 1_000.0
}
