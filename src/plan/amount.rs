//! From the weight of the food to jars, and back.
//!
//! Invariant: food is never made up. The least and the most jars each fit into the
//! weight given, and what is left over does not fill one more.

use super::history::Past;
use super::ranged::{Origin, Range};
use super::yields::{Statement, yield_of};
use crate::keys::keys;
use crate::process::Jar;
use crate::t;
use crate::units::Mass;

/// At what point the food was weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// As caught, picked or bought.
    Whole,
    /// Cleaned: head, tail, fins and innards off.
    Dressed,
    /// Cut, smoked or cooked: as it goes into the jar.
    Ready,
}

keys!(Basis { Whole = "whole", Dressed = "dressed", Ready = "ready" });

/// The person's own figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Own {
    /// Ready food in one jar, and that jar's size.
    pub fill: Option<(Range<Mass>, Jar)>,
    /// Of 100 parts weighed, how many are ready to pack.
    pub kept: Option<Range<u16>>,
}

/// What one jar takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    /// The jar.
    pub jar: Jar,
    /// Food for one, milligrams.
    milligrams: Range<u64>,
    /// The printed figure for a load of this very size, if there is one.
    usual: Option<u64>,
    /// Where the range comes from.
    pub origin: Origin,
}

/// What must be known before jars can be reckoned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoNeed {
    /// How much ready food goes into a jar.
    Fill,
    /// How much of the weighed food is ready to pack.
    Kept,
}

impl NoNeed {
    /// What to do about it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Fill => t!(
                "No publication says how much of this fills a jar. Weigh what goes into one jar \
                 and give that as your own figure."
            ),
            Self::Kept => {
                t!("No publication says how much of this weight is ready to pack. Give your own \
                 figure, or weigh the food when it is ready for the jar.")
            }
        }
    }
}

/// Milligrams for one jar of `size`, as a statement has it: least and most.
fn stated(statement: &Statement, size: Jar) -> Range<u64> {
    let scaled = |pounds: u32, jars: u16, up: u64| {
        let milligrams = u64::from(Mass::centipounds(pounds).grams()) * 1_000;
        let parts = u64::from(jars.max(1)) * u64::from(statement.size.millilitres());
        (milligrams * u64::from(size.millilitres()) + up * (parts - 1)) / parts
    };
    Range::new(
        scaled(statement.pounds.0, statement.jars.1, 0),
        scaled(statement.pounds.1, statement.jars.0, 1),
    )
}

/// What is published for one jar, weighed at `basis`.
fn published(food: &str, basis: Basis, jar: Jar) -> Option<(Range<u64>, Option<u64>, Origin)> {
    let found = yield_of(food).filter(|found| found.basis == basis)?;
    let mut ranges = found.statements.iter().map(|statement| stated(statement, jar));
    let first = ranges.next()?;
    let range = ranges.fold(first, Range::with);
    let own_size = found.statements.iter().find(|statement| statement.size == jar);
    let usual = own_size.filter(|s| s.jars.0 == s.jars.1 && s.pounds.0 == s.pounds.1);
    let usual = usual.map(|statement| stated(statement, jar).most());
    let origin = match own_size {
        Some(_) => Origin::Published(found.publication.say()),
        None => Origin::Scaled(found.publication.say()),
    };
    Some((range, usual, origin))
}

/// Published and measured figures for one jar, settled.
fn settled(
    food: &str,
    basis: Basis,
    jar: Jar,
    past: &Past,
) -> Option<(Range<u64>, Option<u64>, Origin)> {
    let measured = past.fill(basis).map(|(per_litre, count)| {
        let mine = |per_litre: u64| per_litre * u64::from(jar.millilitres()) / 1_000;
        (Range::new(mine(per_litre.least()), mine(per_litre.most())), count)
    });
    match (published(food, basis, jar), measured) {
        (Some(found), None) => Some(found),
        (Some((range, usual, origin)), Some(measured)) => {
            let publication = match origin {
                Origin::Published(publication) | Origin::Scaled(publication) => publication,
                _ => "",
            };
            let (range, origin) = Origin::settle(Some((range, publication)), Some(measured))?;
            Some((range, usual.filter(|_| matches!(origin, Origin::Widened(..))), origin))
        }
        (None, measured) => {
            Origin::settle(None, measured).map(|(range, origin)| (range, None, origin))
        }
    }
}

impl Need {
    /// What one jar takes of a food weighed at `basis`.
    ///
    /// # Errors
    /// [`NoNeed`] names the figure that nobody has given yet.
    pub fn of(food: &str, basis: Basis, jar: Jar, own: &Own, past: &Past) -> Result<Self, NoNeed> {
        let made = |(milligrams, usual, origin): (Range<u64>, Option<u64>, Origin)| Self {
            jar,
            milligrams: milligrams.at_least(1),
            usual,
            origin,
        };
        let typed = own.fill.map(|(fill, size)| {
            let mine = |mass: Mass| {
                u64::from(mass.grams()) * 1_000 * u64::from(jar.millilitres())
                    / u64::from(size.millilitres())
            };
            (Range::new(mine(fill.least()), mine(fill.most())), None, Origin::Own)
        });
        let ready = typed.or_else(|| settled(food, Basis::Ready, jar, past));
        if basis == Basis::Ready {
            return ready.map(made).ok_or(NoNeed::Fill);
        }
        let typed_kept = own.kept.filter(|kept| kept.least() > 0);
        let direct = settled(food, basis, jar, past);
        if let Some(direct) = direct
            && (typed_kept.is_none() || ready.is_none())
        {
            return Ok(made(direct));
        }
        let (ready, _, from) = ready.ok_or(NoNeed::Fill)?;
        let (kept, kept_from) = typed_kept
            .map(|kept| (Range::new(kept.least() * 10, kept.most() * 10), Origin::Own))
            .or_else(|| past.kept(basis).map(|(kept, count)| (kept, Origin::Past(count))))
            .ok_or(NoNeed::Kept)?;
        let whole = |ready: u64, kept: u16| ready * 1_000 / u64::from(kept.max(1));
        let range =
            Range::new(whole(ready.least(), kept.most()), whole(ready.most(), kept.least()));
        // The weaker of the two figures names the whole.
        let origin = if kept_from == Origin::Own { kept_from } else { from };
        Ok(made((range, None, origin)))
    }

    /// Food for so many jars: least and most, rounded outwards to the gram.
    #[must_use]
    pub fn food(&self, jars: u16) -> Range<Mass> {
        let grams = |milligrams: u64, up: u64| {
            let grams = (milligrams * u64::from(jars) + up) / 1_000;
            let grams = grams.min(u64::from(Mass::MAX_GRAMS));
            Mass::from_grams(u32::try_from(grams).unwrap_or(0)).unwrap_or_default()
        };
        Range::new(grams(self.milligrams.least(), 0), grams(self.milligrams.most(), 999))
    }

    /// The printed figure for so many jars of this size, where one is printed.
    #[must_use]
    pub fn usual(&self, jars: u16) -> Option<Mass> {
        let grams = (self.usual? * u64::from(jars) + 500) / 1_000;
        u32::try_from(grams).ok().and_then(|grams| Mass::from_grams(grams).ok())
    }

    /// Milligrams for one jar.
    #[must_use]
    pub const fn milligrams(&self) -> Range<u64> {
        self.milligrams
    }
}

/// Jars of one size that are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Want {
    /// Their size.
    pub jar: Jar,
    /// How many; `None` for as many as the rest of the food fills.
    pub jars: Option<u16>,
}

/// Most jars of one size in a plan.
const MOST: u64 = 2_000;

/// The jars a weight of food fills, want by want, in their order: at the least yield
/// and at the best. Each end, taken for all sizes together, fits into the food.
#[must_use]
pub fn fill(food: Mass, wants: &[(Want, Need)]) -> Vec<(Jar, Range<u16>)> {
    let least = filled(food, wants, |need| need.milligrams.most());
    let most = filled(food, wants, |need| need.milligrams.least());
    let counts = least.into_iter().zip(most);
    wants
        .iter()
        .zip(counts)
        // A poor yield may leave over a small jar that a good one has not: no matter.
        .map(|((want, _), (least, most))| (want.jar, Range::new(least.min(most), most)))
        .collect()
}

/// Wants with a number come first, whatever their order; the rest is shared out in
/// order.
fn filled(food: Mass, wants: &[(Want, Need)], each: fn(&Need) -> u64) -> Vec<u16> {
    let mut left = u64::from(food.grams()) * 1_000;
    let mut counts = vec![0_u16; wants.len()];
    for numbered in [true, false] {
        for ((want, need), count) in wants.iter().zip(counts.iter_mut()) {
            if want.jars.is_some() != numbered {
                continue;
            }
            let asked = want.jars.map_or(MOST, u64::from).min(MOST);
            let jars = (left / each(need).max(1)).min(asked);
            left -= jars * each(need).max(1);
            *count = u16::try_from(jars).unwrap_or(0);
        }
    }
    counts
}

/// The food wanted numbers of jars take; wants without a number take none.
#[must_use]
pub fn needed(wants: &[(Want, Need)]) -> (Range<Mass>, Option<Mass>) {
    let mut range = Range::just(Mass::ZERO);
    let mut usual = Some(0_u32);
    for (want, need) in wants {
        let jars = want.jars.unwrap_or(0);
        let more = need.food(jars);
        range = Range::new(plus(range.least(), more.least()), plus(range.most(), more.most()));
        usual = usual.and_then(|sum| Some(sum.saturating_add(need.usual(jars)?.grams())));
    }
    (range, usual.and_then(|grams| Mass::from_grams(grams).ok()))
}

fn plus(one: Mass, other: Mass) -> Mass {
    let grams = one.grams().saturating_add(other.grams()).min(Mass::MAX_GRAMS);
    Mass::from_grams(grams).unwrap_or_default()
}
