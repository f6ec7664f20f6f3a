//! How much food fills how many jars, as published.
//!
//! Invariant: only figures that were read in the publication named. Where several
//! statements speak of one food, all of them count: the range is theirs together.
//! The 2015 guide gives no weights for meat, poultry, soup or stock.

use super::amount::Basis;
use crate::process::Jar;
use crate::w;
use crate::words::Word;

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
    pub weighed: Word,
    /// The statements.
    pub statements: &'static [Statement],
    /// Where they are printed.
    pub publication: Word,
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
    weighed: Word,
    statements: &'static [Statement],
    publication: Word,
) -> Yield {
    Yield { food, basis: Basis::Whole, weighed, statements, publication }
}

use Jar::{HalfPint, Pint, Quart};

const YIELDS: &[Yield] = &[
    Yield {
        food: "fish",
        basis: Basis::Whole,
        weighed: w!("fresh fish"),
        statements: &[Statement { pounds: (2500, 3500), jars: (12, 12), size: Pint }],
        publication: w!("Michigan State University Extension no. 01600573, 1997"),
    },
    Yield {
        food: "smoked-fish",
        basis: Basis::Ready,
        weighed: w!("smoked fish, ready to pack"),
        statements: &[s(67, 1, Pint)],
        publication: w!("Univ. of Alaska Fairbanks Extension FNH-00223 (about 2/3 lb)"),
    },
    Yield {
        food: "tuna",
        basis: Basis::Ready,
        weighed: w!("raw loin, ready to pack"),
        statements: &[s(100, 1, Pint)],
        publication: w!("Oregon State University Extension SP 50-1002 (a little under 1 lb)"),
    },
    Yield {
        food: "crab",
        basis: Basis::Ready,
        weighed: w!("picked meat"),
        statements: &[s(75, 1, Pint), s(300, 8, HalfPint)],
        publication: w!(
            "USDA Complete Guide to Home Canning, Guide 5, p. 5-9, 2015 (6 oz a half-pint, \
                      12 oz a pint)"
        ),
    },
    bought(
        "asparagus",
        w!("as bought"),
        &[s(2450, 7, Quart), s(1600, 9, Pint), s(350, 1, Quart), bulk(3100, 7, 12, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-5, 2015"),
    ),
    bought(
        "beans-dry",
        w!("dried"),
        &[s(500, 7, Quart), s(325, 9, Pint), s(75, 1, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-5, 2015"),
    ),
    bought(
        "beans-sauce",
        w!("dried"),
        &[s(500, 7, Quart), s(325, 9, Pint), s(75, 1, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-6, 2015"),
    ),
    bought("beans-lima", w!("in pods"), LIMA, LIMA_PAGE),
    bought("beans-lima-small", w!("in pods"), LIMA, LIMA_PAGE),
    bought("beans-lima-large", w!("in pods"), LIMA, LIMA_PAGE),
    bought(
        "beans-snap",
        w!("as bought"),
        &[s(1400, 7, Quart), s(900, 9, Pint), s(200, 1, Quart), bulk(3000, 12, 20, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-8, 2015"),
    ),
    bought(
        "beets",
        w!("without tops"),
        &[s(2100, 7, Quart), s(1350, 9, Pint), s(300, 1, Quart), bulk(5200, 15, 20, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-9, 2015"),
    ),
    bought(
        "carrots",
        w!("without tops"),
        &[s(1750, 7, Quart), s(1100, 9, Pint), s(250, 1, Quart), bulk(5000, 17, 25, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-10, 2015"),
    ),
    bought(
        "corn-cream",
        w!("in husks"),
        &[s(2000, 9, Pint), s(225, 1, Pint), bulk(3500, 12, 20, Pint)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-10, 2015"),
    ),
    bought(
        "corn-kernel",
        w!("in husks"),
        &[s(3150, 7, Quart), s(2000, 9, Pint), s(450, 1, Quart), bulk(3500, 6, 11, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-11, 2015"),
    ),
    bought(
        "mushrooms",
        w!("as bought"),
        &[s(1450, 9, Pint), s(750, 9, HalfPint), s(200, 1, Pint)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-13, 2015"),
    ),
    bought(
        "okra",
        w!("as bought"),
        &[s(1100, 7, Quart), s(700, 9, Pint), s(150, 1, Quart), bulk(2600, 16, 18, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-14, 2015"),
    ),
    bought(
        "peas",
        w!("in pods"),
        &[s(3150, 7, Quart), s(2000, 9, Pint), s(450, 1, Quart), bulk(3000, 5, 10, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-14, 2015"),
    ),
    bought(
        "peppers",
        w!("as bought"),
        &[s(900, 9, Pint), s(100, 1, Pint), bulk(2500, 20, 30, Pint)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-15, 2015"),
    ),
    bought(
        "potatoes-sweet",
        w!("as bought"),
        &[s(1750, 7, Quart), s(1100, 9, Pint), s(250, 1, Quart), bulk(5000, 17, 25, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-16, 2015"),
    ),
    bought(
        "potatoes-white",
        w!("as bought"),
        &[
            s(2000, 7, Quart),
            s(1300, 9, Pint),
            Statement { pounds: (250, 300), jars: (1, 1), size: Quart },
            bulk(5000, 18, 22, Quart),
        ],
        w!(
            "USDA Complete Guide to Home Canning, Guide 4, p. 4-17, 2015 (older texts ask for more)"
        ),
    ),
    bought(
        "pumpkin-squash",
        w!("as bought"),
        &[s(1600, 7, Quart), s(1000, 9, Pint), s(225, 1, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-18, 2015"),
    ),
    bought(
        "greens",
        w!("as bought"),
        &[s(2800, 7, Quart), s(1800, 9, Pint), s(400, 1, Quart), bulk(1800, 3, 9, Quart)],
        w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-19, 2015"),
    ),
];

const LIMA: &[Statement] =
    &[s(2800, 7, Quart), s(1800, 9, Pint), s(400, 1, Quart), bulk(3200, 6, 10, Quart)];
const LIMA_PAGE: Word = w!("USDA Complete Guide to Home Canning, Guide 4, p. 4-7, 2015");
