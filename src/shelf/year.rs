//! A year at the shelf: jars put up and gone, month by month, and how lids held.
//!
//! Invariant: a jar is put up in the month its full time ended, and leaves in the
//! month it was taken; the months' edges are the caller's, who knows the time zone.

use crate::batch::{Archive, Batch, Jar, JarState, Load, Seal, Taken, Text};
use crate::units::EpochMs;

/// What happened in one month, in jars.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Month {
    /// Put up: full time, and found sealed.
    pub put_up: u32,
    /// Eaten.
    pub eaten: u32,
    /// Given away.
    pub given: u32,
    /// Thrown out from the shelf: seal lost, spoiled or in doubt.
    pub thrown: u32,
}

/// How the lids of one lot, or the jars of one canner, held.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rate {
    /// The lot or the canner; empty where none is on record.
    pub name: Text,
    /// Jars whose seal was checked.
    pub checked: u32,
    /// Those found sealed.
    pub sealed: u32,
    /// Those that lost their seal later, on the shelf.
    pub lost: u32,
}

/// One year.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Year {
    /// January to December.
    pub months: [Month; 12],
    /// By lid lot, in the order first used.
    pub lids: Vec<Rate>,
    /// By canner, in the order first used.
    pub canners: Vec<Rate>,
}

impl Rate {
    /// Sealed of a hundred checked, rounded down, so that only a perfect row says
    /// 100; `None` if none was checked.
    #[must_use]
    pub fn percent(&self) -> Option<u32> {
        self.sealed.saturating_mul(100).checked_div(self.checked)
    }

    fn add(rates: &mut Vec<Self>, name: &Text, load: &Load) {
        let found = |rate: &Self| rate.name.as_str().eq_ignore_ascii_case(name.as_str());
        let place = rates.iter().position(found).unwrap_or(rates.len());
        if place == rates.len() {
            rates.push(Self { name: name.clone(), checked: 0, sealed: 0, lost: 0 });
        }
        let Some(rate) = rates.get_mut(place) else { return };
        for jar in &load.jars {
            rate.checked += u32::from(jar.found.is_some());
            rate.sealed += u32::from(jar.found == Some(Seal::Sealed));
            let lost = matches!(jar.state, JarState::Taken(_, Taken::LostSeal));
            rate.lost += u32::from(lost);
        }
    }
}

impl Year {
    /// A year whose months begin at the first twelve `edges` and which ends before
    /// the last.
    #[must_use]
    pub fn of(archive: &Archive, edges: &[EpochMs; 13]) -> Self {
        let mut year = Self::default();
        let real = archive.batches().any(|batch| !batch.is_demo());
        // The invented example counts only while nothing else is there to count.
        let counted = archive.batches().filter(|batch| !real || !batch.is_demo());
        for load in counted.flat_map(loads) {
            let Some((_, canned)) = load.run.full_hold() else { continue };
            for jar in &load.jars {
                year.count(jar, canned, edges);
            }
            if month(canned, edges).is_some() {
                Rate::add(&mut year.lids, &load.lids, load);
                Rate::add(&mut year.canners, &load.plan.canner, load);
            }
        }
        year.lids.retain(|rate| rate.checked > 0);
        year.canners.retain(|rate| rate.checked > 0);
        year
    }

    fn count(&mut self, jar: &Jar, canned: EpochMs, edges: &[EpochMs; 13]) {
        if jar.found == Some(Seal::Sealed)
            && let Some(month) = month(canned, edges).and_then(|at| self.months.get_mut(at))
        {
            month.put_up += 1;
        }
        if let JarState::Taken(at, how) = jar.state
            && let Some(month) = month(at, edges).and_then(|at| self.months.get_mut(at))
        {
            match how {
                Taken::Eaten => month.eaten += 1,
                Taken::Given => month.given += 1,
                Taken::LostSeal | Taken::Spoiled | Taken::Doubted => month.thrown += 1,
            }
        }
    }

    /// The sums of all months.
    #[must_use]
    pub fn total(&self) -> Month {
        self.months.iter().fold(Month::default(), |sum, month| Month {
            put_up: sum.put_up + month.put_up,
            eaten: sum.eaten + month.eaten,
            given: sum.given + month.given,
            thrown: sum.thrown + month.thrown,
        })
    }
}

fn loads(batch: &Batch) -> &[Load] {
    &batch.loads
}

fn month(at: EpochMs, edges: &[EpochMs; 13]) -> Option<usize> {
    edges.windows(2).position(|pair| matches!(pair, [from, to] if *from <= at && at < *to))
}

/// The first and the last instant anything happened at the shelf.
#[must_use]
pub fn span(archive: &Archive) -> Option<(EpochMs, EpochMs)> {
    let mut span: Option<(EpochMs, EpochMs)> = None;
    let mut see = |at: EpochMs| {
        span = Some(span.map_or((at, at), |(first, last)| (first.min(at), last.max(at))));
    };
    for load in archive.batches().flat_map(loads) {
        let Some((_, canned)) = load.run.full_hold() else { continue };
        see(canned);
        for jar in &load.jars {
            if let JarState::Taken(at, _) = jar.state {
                see(at);
            }
        }
    }
    span
}
