//! What a check of a dial gauge against a standard means for its setting.
//!
//! Invariant: a correction only ever raises the setting. A gauge more than
//! 2 psi off, out of date, or needing more than 15 psi is refused, never used.
//!
//! Sources: USDA *Complete Guide to Home Canning* (AIB 539, 2015), p. 1-20, for
//! the yearly test, the 2 psi limit and not lowering; USDA *Home Canning of Meat
//! and Poultry*, gage adjustments, for adding what a gauge reads high.

use crate::t;
use crate::units::{EpochMs, PsiGauge, Span};
use core::fmt;

/// How long a check holds: 12 months, counted as 365 days, which is never later
/// than the same date of the next year.
pub const VALID_FOR: Span = Span::hours(365 * 24);
/// The largest error that may be corrected for, in tenths of a psi.
pub const LARGEST_ERROR_TENTHS: i16 = 20;
/// An error from which replacing is the better advice, in tenths of a psi.
pub const ADVISE_REPLACING_TENTHS: i16 = 10;
/// The highest pressure any process table asks for.
pub const CEILING: PsiGauge = PsiGauge::whole(15);
/// The least pressure a check is worth anything at (common practice, no source).
pub const LEAST_STANDARD: PsiGauge = PsiGauge::whole(5);

/// A dial gauge read beside a standard gauge at the same pressure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DialCheck {
    reading: PsiGauge,
    standard: PsiGauge,
    at: EpochMs,
}

/// Why a dial gauge may not be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DialRefusal {
    /// Over 2 psi off, either way: replace it. Holds the error in tenths.
    Replace(i16),
    /// The corrected setting passes 15 psi.
    OverCeiling,
    /// The last check is over 12 months old.
    Overdue,
    /// The check bears a date that has not come yet, so its age is unknown.
    DatedAhead,
    /// The standard stood below 5 psi: such a check shows nothing.
    TooLittlePressure,
}

/// How a gauge that may be used reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DialError {
    /// No error.
    True,
    /// High: the canner holds less than the dial shows. Whole psi to add, 1 or 2.
    High(u8),
    /// Low: the canner holds more than the dial shows. Nothing is taken off.
    Low,
}

impl DialCheck {
    /// A check of a dial's reading against a standard's.
    ///
    /// # Errors
    /// [`DialRefusal::TooLittlePressure`] if the standard stood below 5 psi.
    pub fn new(reading: PsiGauge, standard: PsiGauge, at: EpochMs) -> Result<Self, DialRefusal> {
        if standard < LEAST_STANDARD {
            return Err(DialRefusal::TooLittlePressure);
        }
        Ok(Self { reading, standard, at })
    }

    /// What the dial showed.
    #[must_use]
    pub const fn reading(self) -> PsiGauge {
        self.reading
    }

    /// What the standard showed.
    #[must_use]
    pub const fn standard(self) -> PsiGauge {
        self.standard
    }

    /// When it was checked.
    #[must_use]
    pub const fn at(self) -> EpochMs {
        self.at
    }

    /// Reading less standard, in tenths of a psi: positive when it reads high.
    #[must_use]
    pub const fn error_tenths(self) -> i16 {
        // Both are 0 to 300, so neither cast nor difference can wrap.
        self.reading.tenths() as i16 - self.standard.tenths() as i16
    }

    /// What the check says of the dial, whatever its age.
    ///
    /// # Errors
    /// [`DialRefusal::Replace`] if it is over 2 psi off.
    pub const fn verdict(self) -> Result<DialError, DialRefusal> {
        match self.error_tenths() {
            // The published steps are whole psi; a part counts as a whole, the
            // safer way.
            1..=10 => Ok(DialError::High(1)),
            11..=LARGEST_ERROR_TENTHS => Ok(DialError::High(2)),
            0 => Ok(DialError::True),
            -20..=-1 => Ok(DialError::Low),
            error => Err(DialRefusal::Replace(error)),
        }
    }

    /// Whether replacing is the better advice though correcting is allowed: 1 psi
    /// or more off.
    #[must_use]
    pub const fn better_replaced(self) -> bool {
        self.error_tenths().unsigned_abs() >= ADVISE_REPLACING_TENTHS as u16
    }

    /// The last instant at which the check holds.
    #[must_use]
    pub const fn valid_until(self) -> EpochMs {
        self.at.plus(VALID_FOR)
    }

    /// Whether the check is too old, or dated ahead of `now`.
    ///
    /// # Errors
    /// [`DialRefusal::Overdue`] or [`DialRefusal::DatedAhead`].
    pub fn in_date(self, now: EpochMs) -> Result<(), DialRefusal> {
        match now.since(self.at) {
            age if age < Span::ZERO => Err(DialRefusal::DatedAhead),
            age if age > VALID_FOR => Err(DialRefusal::Overdue),
            _ => Ok(()),
        }
    }

    /// What the dial must show for a table's pressure to be in the canner.
    ///
    /// # Errors
    /// [`DialRefusal`] when the dial may not be used for it.
    pub fn setting(self, table: PsiGauge, now: EpochMs) -> Result<PsiGauge, DialRefusal> {
        self.in_date(now)?;
        self.corrected(table)
    }

    /// The same, whatever the check's age: for a dial whose check is overdue, which
    /// is said beside it.
    ///
    /// # Errors
    /// [`DialRefusal::Replace`] or [`DialRefusal::OverCeiling`].
    pub fn corrected(self, table: PsiGauge) -> Result<PsiGauge, DialRefusal> {
        let add = match self.verdict()? {
            DialError::High(psi) => psi,
            DialError::True | DialError::Low => 0,
        };
        match table.plus_whole(add) {
            Some(setting) if setting <= CEILING => Ok(setting),
            _ => Err(DialRefusal::OverCeiling),
        }
    }
}

impl fmt::Display for DialRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Replace(_) => t!("This gauge is more than 2 psi off. Replace it before canning."),
            Self::OverCeiling => {
                t!("With this gauge's error added, the setting would pass 15 psi. Replace the gauge.")
            }
            Self::Overdue => {
                t!("This gauge was last checked over 12 months ago. Have it checked first.")
            }
            Self::DatedAhead => t!("This check is dated in the future. Correct its date or the clock."),
            Self::TooLittlePressure => {
                t!("A check below 5 psi shows nothing. Check it under pressure.")
            }
        })
    }
}

impl core::error::Error for DialRefusal {}
