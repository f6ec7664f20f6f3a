//! What is published about brining before canning, and dry salt by weight.
//!
//! Invariant: every time and every recipe was read in the publication named; for
//! any other piece there is none, and none is worked out.

use super::measure::{Fish, MeasureError, Salt};
use super::strength::Strength;
use crate::process::Caution;
use crate::w;
use crate::words::Word;

/// A brine somebody published.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Recipe {
    /// What it is called.
    pub name: Word,
    /// What goes into it.
    pub text: Word,
    /// Salt, hundredths of a pound a US gallon of water; `None` where it is given
    /// by volume only, so that its strength depends on the salt.
    pub pounds_hundredths: Option<i64>,
    /// Where it is published.
    pub publication: Word,
}

impl Recipe {
    /// The strength, where the salt is given by weight.
    #[must_use]
    pub fn strength(&self) -> Option<Strength> {
        let hundredths = self.pounds_hundredths?;
        // One pound is 453,592 mg, one US gallon 3,785 mL (NIST SP 811).
        let salt = Salt::milligrams(hundredths * 453_592 / 100).ok()?;
        Strength::of(salt, super::Water::millilitres(3_785).ok()?).ok()
    }
}

/// The published brines.
pub const RECIPES: &[Recipe] = &[
    Recipe {
        name: w!("Standard smoking brine"),
        text: w!(
            "1 part salt without iodine to 7 parts water, by volume: 1 cup to 7 cups for 2 to 3 \
               lb (0.9 to 1.4 kg) of fish."
        ),
        pounds_hundredths: None,
        publication: w!("WSU Extension, Preservation Tips: Smoking/Curing; Kitsap Cooperative \
                      Extension, October 1992"),
    },
    Recipe {
        name: w!("Medium brine"),
        text: w!("1 1/2 lb (680 g) salt a US gallon (3.8 L) of water."),
        pounds_hundredths: Some(150),
        publication: w!("Univ. of Alaska Fairbanks Extension FNH-00325, Smoking Fish at Home"),
    },
    Recipe {
        name: w!("Heavy brine"),
        text: w!("2 1/2 lb (1,130 g) salt a US gallon (3.8 L) of water."),
        pounds_hundredths: Some(250),
        publication: w!("Univ. of Alaska Fairbanks Extension FNH-00325, Smoking Fish at Home"),
    },
];

/// A published soaking time for one kind of piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Soak {
    /// What is soaked.
    pub piece: Word,
    /// In what.
    pub brine: Word,
    /// Least and most, minutes; equal where one time is printed.
    pub minutes: (u16, u16),
    /// Whether it is for smoking to eat now; else for plain canning.
    pub smoke: bool,
    /// Where it is published.
    pub publication: Word,
}

const ONE_TO_SEVEN: Word = w!("1:7 brine, by volume");
const CUP_A_GALLON: Word = w!("1 cup of salt in a US gallon (3.8 L) of cold water");
const SMOKING: Word =
    w!("WSU Extension, Preservation Tips: Smoking/Curing; Kitsap Cooperative Extension, October \
     1992");
const MSU: Word = w!("Michigan State University Extension 01600573, 1997 (not in the 2015 guide)");

/// The published soaking times. Those for smoking are for fish to eat now: shorter
/// ones by thickness for fish to be canned exist, but were not read, so they are not
/// here. Each says so in its name, and [`FOR_CANNING`] says it in full.
pub const SOAKS: &[Soak] = &[
    Soak {
        piece: w!("Pieces to be smoked and eaten now"),
        brine: ONE_TO_SEVEN,
        minutes: (60, 60),
        smoke: true,
        publication: SMOKING,
    },
    Soak {
        piece: w!("Large chunks of a very big salmon, smoked and eaten now"),
        brine: ONE_TO_SEVEN,
        minutes: (120, 120),
        smoke: true,
        publication: SMOKING,
    },
    Soak {
        piece: w!("Plain, pieces 1/2 in (13 mm) thick"),
        brine: CUP_A_GALLON,
        minutes: (10, 15),
        smoke: false,
        publication: MSU,
    },
    Soak {
        piece: w!("Plain, pieces the size of a pint jar"),
        brine: CUP_A_GALLON,
        minutes: (60, 60),
        smoke: false,
        publication: MSU,
    },
];

/// What is said beside the times for smoking.
pub const FOR_CANNING: Word = w!(
    "The times for smoking are for fish to eat now. For smoked fish to be canned, shorter times \
     are published, not read here: keep to the shorter side, or to your own."
);

/// What to know wherever brine is made.
pub const CAUTIONS: &[Caution] = &[
    Caution {
        text: w!(
            "Salt is for taste. It does not keep this fish and does not make it safe to can: \
               only the full pressure process does."
        ),
        publication: w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-31, 2015"),
    },
    Caution {
        text: w!(
            "Keep the fish below 38 F (3 C) while it brines, in pieces no thicker than 1 in (2.5 \
               cm). Too salt: 30 to 60 minutes in fresh water."
        ),
        publication: w!("Alaska Cooperative Extension column, July 2001 (FNH-00325)"),
    },
    Caution {
        text: w!(
            "Weigh the salt. A cup of flakes holds far less than a cup of fine salt. Use plain \
               salt without iodine."
        ),
        publication: w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-28, 2015"),
    },
    Caution {
        text: w!(
            "Gallons here are US gallons, 3.785 L. Tables in imperial gallons, 4.546 L, print a \
               fifth more salt for a gallon of the same brine."
        ),
        publication: w!("NIST SP 811, appendix B.8"),
    },
    Caution {
        text: w!(
            "Sugar makes a float read too high for salt. Some salometers of canneries call 25 \
               percent 100 degrees: check the scale."
        ),
        publication: w!("Preparing a Saltbrine, Fish Safety Notes series"),
    },
];

/// Dry salt for fish: so many tenths of a percent of its weight. Arithmetic only:
/// no publication on file gives a strength or a time for dry salting before canning.
///
/// # Errors
/// [`MeasureError::OutOfRange`] for no salt at all.
pub fn dry_salt(fish: Fish, percent_tenths: u16) -> Result<Salt, MeasureError> {
    Salt::milligrams(fish.in_grams().saturating_mul(i64::from(percent_tenths)))
}
