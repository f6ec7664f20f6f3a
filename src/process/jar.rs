//! Jar sizes, and which tabulated size answers for one between two.
//!
//! Invariant: a jar is only ever answered for by its own size or a larger one.

use crate::keys::keys;
use crate::t;

/// A jar size. US sizes are the tables' own; metric ones lie between them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Jar {
    /// 4 US fl oz.
    FourOunce,
    /// 8 US fl oz.
    HalfPint,
    /// 250 mL.
    Ml250,
    /// 12 US fl oz.
    TwelveOunce,
    /// 16 US fl oz.
    Pint,
    /// 500 mL.
    Ml500,
    /// 24 US fl oz.
    PintAndHalf,
    /// 32 US fl oz.
    Quart,
    /// 1,000 mL.
    Ml1000,
    /// 64 US fl oz.
    HalfGallon,
}

impl Jar {
    /// The name shown.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::FourOunce => t!("4 oz"),
            Self::HalfPint => t!("half-pint"),
            Self::Ml250 => t!("250 mL"),
            Self::TwelveOunce => t!("12 oz"),
            Self::Pint => t!("pint"),
            Self::Ml500 => t!("500 mL"),
            Self::PintAndHalf => t!("1 1/2 pint"),
            Self::Quart => t!("quart"),
            Self::Ml1000 => t!("1 litre"),
            Self::HalfGallon => t!("half-gallon"),
        }
    }

    /// Nominal volume, mL (NIST SP 430: half-pint 237, pint 473, quart 946).
    #[must_use]
    pub const fn millilitres(self) -> u16 {
        match self {
            Self::FourOunce => 118,
            Self::HalfPint => 237,
            Self::Ml250 => 250,
            Self::TwelveOunce => 355,
            Self::Pint => 473,
            Self::Ml500 => 500,
            Self::PintAndHalf => 710,
            Self::Quart => 946,
            Self::Ml1000 => 1000,
            Self::HalfGallon => 1893,
        }
    }

    /// The tabulated size whose time a size between two takes: the larger of
    /// the two (NCHFP, Jar Size Choices Have You Frustrated?; K-State Extension,
    /// Canning in Odd-Sized Jars, 2022). `None` for sizes tables print
    /// themselves and for those larger than a quart.
    #[must_use]
    pub const fn answered_by(self) -> Option<Self> {
        match self {
            Self::FourOunce => Some(Self::HalfPint),
            Self::Ml250 | Self::TwelveOunce => Some(Self::Pint),
            Self::Ml500 => Some(Self::PintAndHalf),
            _ => None,
        }
    }
}

keys!(Jar {
    FourOunce = "four-ounce",
    HalfPint = "half-pint",
    Ml250 = "ml-250",
    TwelveOunce = "twelve-ounce",
    Pint = "pint",
    Ml500 = "ml-500",
    PintAndHalf = "pint-and-half",
    Quart = "quart",
    Ml1000 = "ml-1000",
    HalfGallon = "half-gallon",
});
