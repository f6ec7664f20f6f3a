//! Headspace and other short lengths, which tables print in quarter inches.
//!
//! Invariant: 0 to 63.75 in, in quarters, so equality is exact.

use core::fmt;

/// A length in quarter inches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Inches(u8);

impl Inches {
    /// A length of so many quarter inches.
    #[must_use]
    pub const fn quarters(quarters: u8) -> Self {
        Self(quarters)
    }

    /// The number of quarter inches.
    #[must_use]
    pub const fn in_quarters(self) -> u8 {
        self.0
    }

    /// Millimetres, rounded to a whole number (25.4 mm to the inch, exactly).
    #[must_use]
    pub const fn millimetres(self) -> u16 {
        (self.0 as u16 * 635 + 50) / 100
    }
}

impl fmt::Display for Inches {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let fraction = match self.0 % 4 {
            1 => "1/4",
            2 => "1/2",
            3 => "3/4",
            _ => "",
        };
        match (self.0 / 4, fraction) {
            (whole, "") => write!(f, "{whole}"),
            (0, fraction) => f.write_str(fraction),
            (whole, fraction) => write!(f, "{whole} {fraction}"),
        }
    }
}
