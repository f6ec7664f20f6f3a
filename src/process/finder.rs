//! The finder: one question, and either a tested process or a refusal.
//!
//! Invariant: a [`Tested`] can only come out of [`find`]; it holds exactly what
//! one row prints for the gauge and altitude asked about.

use super::food::Food;
use super::jar::Jar;
use super::table::{Pack, Process, Refusal, TABLES_END_FT, processes, refusal};
use super::vessel::{Gauge, Vessel};
use crate::units::{Altitude, Inches, Minutes, PsiGauge};
use crate::w;
use crate::words::Word;

/// What is to be canned, how, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question<'a> {
    /// Key of the food.
    pub food: &'a str,
    /// Style of pack.
    pub pack: Pack,
    /// Jar size.
    pub jar: Jar,
    /// What the jars are heated in.
    pub vessel: Vessel,
    /// Height above sea level.
    pub altitude: Altitude,
}

/// A tested process, as it applies to one question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tested {
    process: &'static Process,
    gauge: Gauge,
    quarts: u8,
    jar: Jar,
    pressure: PsiGauge,
    from_ft: i32,
    to_ft: Option<i32>,
}

/// Something to know before using a process.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    /// What to know.
    pub text: Word,
    /// Where it is published.
    pub publication: Word,
}

impl Caution {
    /// What to know.
    #[must_use]
    pub fn text(&self) -> &'static str {
        self.text.say()
    }

    /// Where it is published.
    #[must_use]
    pub fn publication(&self) -> &'static str {
        self.publication.say()
    }
}

const SLOW_WARM_UP: Caution = Caution {
    text: w!(
        "Heat on high for 20 minutes, then vent 10 minutes once the steam is steady: at least 30 \
           minutes together. Cold fish, tight packs and big canners take longer."
    ),
    publication: w!("USDA Complete Guide to Home Canning, Guide 5, p. 5-12, 2015"),
};
const WIDE_MOUTH: Caution = Caution {
    text: w!("Use straight-sided, wide-mouth quarts: the time was worked out in those."),
    publication: w!(
        "USDA Complete Guide to Home Canning, Guide 5, p. 5-11, 2015; Univ. of Alaska \
                  Fairbanks FNH-00126"
    ),
};
const COOL_WATER: Caution = Caution {
    text: w!(
        "The slow heat-up from 4 quarts of cool water is part of the process. Water may reach \
           the bands of pint jars: that is as it should be."
    ),
    publication: w!("USDA Complete Guide to Home Canning, Guide 5, p. 5-13, 2015"),
};
const LARGE_CANNER: Caution = Caution {
    text: w!(
        "This process was worked out in 16 to 22 quart canners. Nothing is published for larger \
           ones: your extension office can say more."
    ),
    publication: w!("USDA Complete Guide to Home Canning, Guide 5, p. 5-13, 2015"),
};

/// Answers a question from the tables.
///
/// # Errors
/// A [`Refusal`] where no tested process answers it; the most basic reason wins.
pub fn find(question: &Question<'_>) -> Result<Tested, &'static Refusal> {
    let food = Food::by_key(question.food).ok_or_else(|| refusal("unknown-food"))?;
    if let Some(id) = food.refusal {
        return Err(refusal(id));
    }
    let (gauge, quarts) = match question.vessel {
        Vessel::PressureCanner { gauge, quarts } => (gauge, quarts.get()),
        Vessel::SmallPressureCanner => return Err(refusal("small-pressure-canner")),
        Vessel::Multicooker => return Err(refusal("multicooker")),
        Vessel::BoilingWater => return Err(refusal("boiling-water")),
        Vessel::AtmosphericSteam => return Err(refusal("atmospheric-steam")),
        Vessel::Oven => return Err(refusal("oven")),
    };
    if question.altitude.feet() > TABLES_END_FT {
        return Err(refusal("over-8000-ft"));
    }
    let process = row(food.key, question.pack, question.jar)?;
    if process.canner_quarts.is_some_and(|(least, _)| quarts < least) {
        return Err(refusal("smoked-fish-small-canner"));
    }
    let (pressure, from_ft, to_ft) =
        process.band(gauge, question.altitude).ok_or_else(|| refusal("over-8000-ft"))?;
    Ok(Tested { process, gauge, quarts, jar: question.jar, pressure, from_ft, to_ft })
}

/// The largest jar, not above the one asked about, that a row itself answers for when
/// all else stays as asked; none stands in for another here.
#[must_use]
pub fn tested_jar(question: &Question<'_>) -> Option<Jar> {
    let tested = |jar: &Jar| {
        let found = find(&Question { jar: *jar, ..question.clone() });
        *jar <= question.jar && found.is_ok_and(|tested| tested.process.jars.contains(jar))
    };
    Jar::ALL.iter().rev().copied().find(tested)
}

/// The row for a food, pack and jar.
fn row(food: &'static str, pack: Pack, jar: Jar) -> Result<&'static Process, &'static Refusal> {
    let rows = || processes().iter().filter(move |p| p.product == food && p.pack == pack);
    if rows().next().is_none() {
        return Err(refusal("pack-not-listed"));
    }
    let holding = |jar: Jar| rows().find(|process| process.jars.contains(&jar));
    holding(jar).or_else(|| jar.answered_by().and_then(holding)).ok_or_else(|| {
        refusal(match (food, jar) {
            (_, Jar::HalfGallon) => "half-gallon",
            (_, Jar::Ml1000) => "metric-litre",
            ("smoked-fish", _) => "smoked-fish-over-pint",
            ("fish", _) => "fish-pint-and-half",
            ("tuna", _) => "tuna-over-pint",
            ("soup-seafood", _) => "soup-seafood-over-pint",
            ("beans-lima", _) => "lima-raw-quart",
            _ => "over-largest",
        })
    })
}

impl Tested {
    /// The row.
    #[must_use]
    pub const fn process(&self) -> &'static Process {
        self.process
    }

    /// The gauge asked about.
    #[must_use]
    pub const fn gauge(&self) -> Gauge {
        self.gauge
    }

    /// The jar asked about.
    #[must_use]
    pub const fn jar(&self) -> Jar {
        self.jar
    }

    /// The canner's size, quarts.
    #[must_use]
    pub const fn quarts(&self) -> u8 {
        self.quarts
    }

    /// The gauge pressure for this altitude.
    #[must_use]
    pub const fn pressure(&self) -> PsiGauge {
        self.pressure
    }

    /// The altitude band, ft; no upper end is printed for the highest weighted
    /// band, and answers stop at 8,000 ft all the same.
    #[must_use]
    pub const fn band(&self) -> (i32, Option<i32>) {
        (self.from_ft, self.to_ft)
    }

    /// The full time at pressure. Altitude never changes it.
    #[must_use]
    pub const fn minutes(&self) -> Minutes {
        self.process.minutes
    }

    /// Steady steam before the vent is closed.
    #[must_use]
    pub const fn vent(&self) -> Minutes {
        self.process.vent
    }

    /// Headspace.
    #[must_use]
    pub const fn headspace(&self) -> Inches {
        self.process.headspace
    }

    /// What to know before using it.
    #[must_use]
    pub fn cautions(&self) -> Vec<Caution> {
        let mut cautions = Vec::new();
        if self.process.heat_before_vent.0 > 0 {
            cautions.extend([SLOW_WARM_UP, WIDE_MOUTH]);
        }
        if let Some((_, most)) = self.process.canner_quarts {
            cautions.push(COOL_WATER);
            if self.quarts > most {
                cautions.push(LARGE_CANNER);
            }
        }
        cautions
    }
}
