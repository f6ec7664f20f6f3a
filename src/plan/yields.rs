//! How much food fills how many jars, as published.
//!
//! Invariant: only figures that were read in the publication named. Where several
//! statements speak of one food, all of them count: the range is theirs together.
//! The 2015 guide gives no weights for meat, poultry, soup or stock.

use super::amount::Basis;
use crate::process::Jar;

/// So much food fills so many jars.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Statement {
    /// Weight, hundredths of a pound: least and most printed.
    pub pounds: (u32, u32),
    /// Jars: least and most printed.
    pub jars: (u16, u16),
    /// Their size.
    pub size: Jar,
}

/// What is published on one food.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Yield {
    /// Key of the food.
    pub food: &'static str,
    /// At what point the food is weighed.
    pub basis: Basis,
    /// What that means for this food.
    pub weighed: &'static str,
    /// The statements.
    pub statements: &'static [Statement],
    /// Where they are printed.
    pub publication: &'static str,
}

/// The published yield of a food, if there is one.
#[must_use]
pub fn yield_of(food: &str) -> Option<&'static Yield> {
    YIELDS.iter().find(|one| one.food == food)
}

/// A weight for a number of jars.
const fn s(pounds: u32, jars: u16, size: Jar) -> Statement {
    Statement { pounds: (pounds, pounds), jars: (jars, jars), size }
}

/// A bushel, crate or bag that fills from so many to so many jars.
const fn bulk(pounds: u32, least: u16, most: u16, size: Jar) -> Statement {
    Statement { pounds: (pounds, pounds), jars: (least, most), size }
}

const fn bought(
    food: &'static str,
    weighed: &'static str,
    statements: &'static [Statement],
    publication: &'static str,
) -> Yield {
    Yield { food, basis: Basis::Whole, weighed, statements, publication }
}

use Jar::{HalfPint, Pint, Quart};

const YIELDS: &[Yield] = &[
    Yield {
        food: "fish",
        basis: Basis::Whole,
        weighed: "fresh fish",
        statements: &[Statement { pounds: (2500, 3500), jars: (12, 12), size: Pint }],
        publication: "Michigan State University Extension no. 01600573, 1997",
    },
    Yield {
        food: "smoked-fish",
        basis: Basis::Ready,
        weighed: "smoked fish, ready to pack",
        statements: &[s(67, 1, Pint)],
        publication: "Univ. of Alaska Fairbanks Extension FNH-00223 (about 2/3 lb)",
    },
    Yield {
        food: "tuna",
        basis: Basis::Ready,
        weighed: "raw loin, ready to pack",
        statements: &[s(100, 1, Pint)],
        publication: "Oregon State University Extension SP 50-1002 (a little under 1 lb)",
    },
    Yield {
        food: "crab",
        basis: Basis::Ready,
        weighed: "picked meat",
        statements: &[s(75, 1, Pint), s(300, 8, HalfPint)],
        publication: "USDA Complete Guide to Home Canning, Guide 5, p. 5-9, 2015 (6 oz a half-pint, \
                      12 oz a pint)",
    },
    bought(
        "asparagus",
        "as bought",
        &[s(2450, 7, Quart), s(1600, 9, Pint), s(350, 1, Quart), bulk(3100, 7, 12, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-5, 2015",
    ),
    bought(
        "beans-dry",
        "dried",
        &[s(500, 7, Quart), s(325, 9, Pint), s(75, 1, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-5, 2015",
    ),
    bought(
        "beans-sauce",
        "dried",
        &[s(500, 7, Quart), s(325, 9, Pint), s(75, 1, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-6, 2015",
    ),
    bought("beans-lima", "in pods", LIMA, LIMA_PAGE),
    bought("beans-lima-small", "in pods", LIMA, LIMA_PAGE),
    bought("beans-lima-large", "in pods", LIMA, LIMA_PAGE),
    bought(
        "beans-snap",
        "as bought",
        &[s(1400, 7, Quart), s(900, 9, Pint), s(200, 1, Quart), bulk(3000, 12, 20, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-8, 2015",
    ),
    bought(
        "beets",
        "without tops",
        &[s(2100, 7, Quart), s(1350, 9, Pint), s(300, 1, Quart), bulk(5200, 15, 20, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-9, 2015",
    ),
    bought(
        "carrots",
        "without tops",
        &[s(1750, 7, Quart), s(1100, 9, Pint), s(250, 1, Quart), bulk(5000, 17, 25, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-10, 2015",
    ),
    bought(
        "corn-cream",
        "in husks",
        &[s(2000, 9, Pint), s(225, 1, Pint), bulk(3500, 12, 20, Pint)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-10, 2015",
    ),
    bought(
        "corn-kernel",
        "in husks",
        &[s(3150, 7, Quart), s(2000, 9, Pint), s(450, 1, Quart), bulk(3500, 6, 11, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-11, 2015",
    ),
    bought(
        "mushrooms",
        "as bought",
        &[s(1450, 9, Pint), s(750, 9, HalfPint), s(200, 1, Pint)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-13, 2015",
    ),
    bought(
        "okra",
        "as bought",
        &[s(1100, 7, Quart), s(700, 9, Pint), s(150, 1, Quart), bulk(2600, 16, 18, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-14, 2015",
    ),
    bought(
        "peas",
        "in pods",
        &[s(3150, 7, Quart), s(2000, 9, Pint), s(450, 1, Quart), bulk(3000, 5, 10, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-14, 2015",
    ),
    bought(
        "peppers",
        "as bought",
        &[s(900, 9, Pint), s(100, 1, Pint), bulk(2500, 20, 30, Pint)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-15, 2015",
    ),
    bought(
        "potatoes-sweet",
        "as bought",
        &[s(1750, 7, Quart), s(1100, 9, Pint), s(250, 1, Quart), bulk(5000, 17, 25, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-16, 2015",
    ),
    bought(
        "potatoes-white",
        "as bought",
        &[
            s(2000, 7, Quart),
            s(1300, 9, Pint),
            Statement { pounds: (250, 300), jars: (1, 1), size: Quart },
            bulk(5000, 18, 22, Quart),
        ],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-17, 2015 (older texts ask for more)",
    ),
    bought(
        "pumpkin-squash",
        "as bought",
        &[s(1600, 7, Quart), s(1000, 9, Pint), s(225, 1, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-18, 2015",
    ),
    bought(
        "greens",
        "as bought",
        &[s(2800, 7, Quart), s(1800, 9, Pint), s(400, 1, Quart), bulk(1800, 3, 9, Quart)],
        "USDA Complete Guide to Home Canning, Guide 4, p. 4-19, 2015",
    ),
];

const LIMA: &[Statement] =
    &[s(2800, 7, Quart), s(1800, 9, Pint), s(400, 1, Quart), bulk(3200, 6, 10, Quart)];
const LIMA_PAGE: &str = "USDA Complete Guide to Home Canning, Guide 4, p. 4-7, 2015";
