//! A jar packed with fish, as far as its size and stuff are known: from the one
//! that heats slowest to the one that heats fastest.
//!
//! Invariant: no figure here was only recalled; an allowance is called one.
//!
//! Sources: fish composition, USDA nutrient database, Standard Reference (sockeye
//! 173691, pink 15083, farmed Atlantic 175167), read in copies; its heat properties
//! after Choi & Okos (1986). Jar sizes outside: web charts that name no source and
//! disagree. Glass 1.0 W/(m K): a glass property table and a materials database.

use super::history::Bound;
use crate::physics::food::Composition;
use crate::physics::jar::{Cylinder, Jar, Surface};
use crate::physics::{Celsius, Diffusivity, PhysicsError};
use crate::process::Jar as Size;
use crate::w;
use crate::words::Word;

/// Where the make-up of the fish comes from.
pub const COMPOSITION: Word =
    w!("USDA nutrient database, Standard Reference: raw sockeye, pink and \
                               farmed Atlantic salmon, read in copies; heat properties after \
                               Choi and Okos, 1986");
/// Where the jar sizes come from.
pub const JAR_SIZES: Word =
    w!("Charts of jar sizes that name no source and disagree by up to 1/2 in \
                             (13 mm)");
/// How far real packs stray from what their make-up says.
pub const SCATTER: Word =
    w!("Laine, trout in cans, 1968, from its abstract: packs warmed at half to \
                           1.4 times the pace their make-up gives");

/// Water, protein, fat, carbohydrate, fibre and ash in 100 g, and the temperature at
/// which to take its properties, °C: the slowest, a middling, and the fastest.
const FISH: [([f64; 6], f64); 3] = [
    ([64.89, 20.42, 13.42, 0.0, 0.0, 1.13], 60.0),
    ([72.5, 22.2, 4.7, 0.0, 0.0, 1.3], 100.0),
    ([75.52, 20.5, 4.4, 0.0, 0.0, 1.2], 115.0),
];
/// Thickness of the glass, mm (an allowance, no source).
const GLASS_MM: [f64; 3] = [1.0, 3.0, 5.0];
/// What the film of condensing steam passes, W/(m² K) (an allowance, no source).
const STEAM_FILM: [f64; 3] = [500.0, 5_000.0, 50_000.0];
/// Conductivity of the glass, W/(m K).
const GLASS: f64 = 1.0;
/// How much slower and faster real packs warm than their make-up says: [`SCATTER`].
const PACE: (f64, f64) = (0.5, 1.4);
/// Food as it goes in raw, °C (an allowance, no source: from near ice to a warm room).
const START: [f64; 3] = [0.0, 5.0, 25.0];

/// Outside diameter and height, mm: the largest, a middling, and the smallest printed.
const fn outside(size: Size) -> Option<[(f64, f64); 3]> {
    match size {
        Size::FourOunce | Size::HalfPint => Some([(70.0, 95.3), (70.0, 92.1), (70.0, 88.9)]),
        Size::Ml250 | Size::TwelveOunce | Size::Pint => {
            Some([(81.0, 139.7), (78.5, 132.0), (76.0, 127.0)])
        }
        Size::Quart => Some([(89.0, 175.0), (87.5, 175.0), (86.0, 175.0)]),
        // No chart has these.
        Size::Ml500 | Size::PintAndHalf | Size::Ml1000 | Size::HalfGallon => None,
    }
}

/// Whether a size is on file, so that its jars can be drawn.
pub(super) const fn is_known(size: Size) -> bool {
    outside(size).is_some()
}

/// The food's temperature as the jars go in.
pub(super) fn start(bound: Bound) -> Result<Celsius, PhysicsError> {
    Celsius::new(bound.of(START))
}

/// A jar of fish; with `scatter` at the pace of the slowest and fastest packs
/// measured. `None` for a size that is not on file.
pub(super) fn jar(
    size: Size,
    headspace_mm: f64,
    bound: Bound,
    scatter: bool,
) -> Result<Option<Jar>, PhysicsError> {
    let Some(sizes) = outside(size) else { return Ok(None) };
    let ((diameter, height), glass) = (bound.of(sizes), bound.of(GLASS_MM));
    let food = Cylinder::inside(diameter, height, glass, headspace_mm)?;
    let (grams, at) = bound.of(FISH);
    let properties = Composition::new(grams)?.properties(Celsius::new(at)?)?;
    let pace = if scatter { bound.of([PACE.0, 1.0, PACE.1]) } else { 1.0 };
    let alpha = properties.diffusivity()?.square_metres_per_second() * pace;
    let coefficient = 1.0 / (1.0 / bound.of(STEAM_FILM) + glass / 1_000.0 / GLASS);
    let surface = Surface::through(coefficient, properties.conductivity)?;
    Jar::new(food, Diffusivity::new(alpha)?, surface).map(Some)
}
