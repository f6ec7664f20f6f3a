//! Labels on sheets of paper.
//!
//! Invariant: labels lie wholly inside the printable part and never touch each
//! other. All lengths are hundredths of a millimetre.

use super::label_fit::{Block, Drawn, Shape, fit};
use crate::keys::keys;
use crate::w;
use crate::words::Word;

/// Edge that a printer may leave white: 10 mm, more than home printers need
/// (common practice, no source).
pub const MARGIN: u32 = 1_000;
/// Room for the scissors between two labels.
pub const GAP: u32 = 300;

/// A size of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 8.5 by 11 in (ASME Y14.1, from memory; 25.4 mm an inch exactly).
    Letter,
}

keys!(Paper { A4 = "a4", Letter = "letter" });

impl Paper {
    /// Width and height.
    #[must_use]
    pub const fn size(self) -> (u32, u32) {
        match self {
            Self::A4 => (21_000, 29_700),
            Self::Letter => (21_590, 27_940),
        }
    }
}

/// A kind of lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lid {
    /// Its name.
    pub name: Word,
    /// Nominal mouth, mm.
    pub mouth: u16,
    /// Label proposed, mm: well inside the ring that seals, so that neither a small
    /// error of the mouth's size nor one of cutting matters.
    pub label: u16,
}

/// The usual lids. Mouth sizes are nominal trade sizes (common practice, no source).
pub const LIDS: [Lid; 2] = [
    Lid { name: w!("regular##mouth"), mouth: 70, label: 56 },
    Lid { name: w!("wide##mouth"), mouth: 86, label: 72 },
];

/// A label at its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Left edge, from the paper's.
    pub x: u32,
    /// Upper edge, from the paper's.
    pub y: u32,
    /// The label.
    pub label: Drawn,
}

/// Where labels of a shape go on one sheet, row by row; none if it is too large.
#[must_use]
pub fn places(paper: Paper, shape: Shape) -> Vec<(u32, u32)> {
    let (width, height) = shape.bounds();
    let (paper_width, paper_height) = paper.size();
    let many = |paper: u32, label: u32| (paper - 2 * MARGIN + GAP) / (label.max(1) + GAP);
    let (columns, rows) = (many(paper_width, width), many(paper_height, height));
    // What is left over is shared by both sides.
    let left = (paper_width + GAP).saturating_sub(columns * (width + GAP)) / 2;
    let mut places = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            places.push((left + column * (width + GAP), MARGIN + row * (height + GAP)));
        }
    }
    places
}

/// The sheets for some labels.
#[must_use]
pub fn sheets(paper: Paper, shape: Shape, labels: &[Vec<Block>]) -> Vec<Vec<Placed>> {
    let places = places(paper, shape);
    if places.is_empty() {
        return Vec::new();
    }
    let mut sheets = Vec::new();
    for some in labels.chunks(places.len()) {
        let mut sheet = Vec::new();
        for (blocks, (x, y)) in some.iter().zip(&places) {
            sheet.push(Placed { x: *x, y: *y, label: fit(shape, blocks) });
        }
        sheets.push(sheet);
    }
    sheets
}
