//! What the household's own past batches say about yield and times.
//!
//! Invariant: only loads that had their full unbroken time count, and time a
//! doubtful clock may have skipped does not.

use super::amount::Basis;
use super::ranged::Range;
use crate::batch::{Archive, Batch, Body, Id, Load, taken_back};
use crate::keys::keys;
use crate::lot::LotStep;
use crate::process::{Jar, Pack};
use crate::run::{Run, StageKind, Step};
use crate::units::{Mass, Span};

/// What was put on the scales.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weighed {
    /// As caught, picked or bought.
    Whole,
    /// Cleaned.
    Dressed,
    /// What went into the jars.
    Packed,
}

keys!(Weighed { Whole = "whole", Dressed = "dressed", Packed = "packed" });

/// The weights of one batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Weights {
    /// As caught, picked or bought.
    pub whole: Option<Mass>,
    /// Cleaned.
    pub dressed: Option<Mass>,
    /// What went into the jars.
    pub packed: Option<Mass>,
}

impl Weights {
    /// Takes a weighing in; a later one of the same kind replaces the earlier.
    pub const fn take(&mut self, what: Weighed, mass: Mass) {
        match what {
            Weighed::Whole => self.whole = Some(mass),
            Weighed::Dressed => self.dressed = Some(mass),
            Weighed::Packed => self.packed = Some(mass),
        }
    }

    /// A weight by kind.
    #[must_use]
    pub const fn get(&self, what: Weighed) -> Option<Mass> {
        match what {
            Weighed::Whole => self.whole,
            Weighed::Dressed => self.dressed,
            Weighed::Packed => self.packed,
        }
    }
}

/// A measured range and how many values it rests on.
type Seen<T> = Option<(Range<T>, u16)>;

/// What past batches of a food, in a pack, say; times are those of one canner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Past {
    whole: Seen<u64>,
    dressed: Seen<u64>,
    ready: Seen<u64>,
    kept_whole: Seen<u16>,
    kept_dressed: Seen<u16>,
    /// In the refrigerator until thawed.
    pub thaw: Seen<Span>,
    /// In salt or brine.
    pub brine: Seen<Span>,
    /// Dripping and drying.
    pub drip: Seen<Span>,
    /// In light smoke.
    pub smoke: Seen<Span>,
    /// Heat on to steady steam.
    pub warm_up: Seen<Span>,
    /// Vent closed to pressure.
    pub rise: Seen<Span>,
    /// Heat off to no pressure.
    pub fall: Seen<Span>,
    /// Lid open to the last jar out.
    pub unload: Seen<Span>,
}

impl Past {
    /// Milligrams of food a litre of jars, weighed at `basis`.
    #[must_use]
    pub const fn fill(&self, basis: Basis) -> Seen<u64> {
        match basis {
            Basis::Whole => self.whole,
            Basis::Dressed => self.dressed,
            Basis::Ready => self.ready,
        }
    }

    /// Of 1,000 parts weighed at `basis`, how many went into jars.
    #[must_use]
    pub const fn kept(&self, basis: Basis) -> Seen<u16> {
        match basis {
            Basis::Whole => self.kept_whole,
            Basis::Dressed => self.kept_dressed,
            Basis::Ready => None,
        }
    }
}

fn see<T: Copy + Ord>(seen: &mut Seen<T>, range: Range<T>) {
    *seen = Some(match *seen {
        Some((so_far, count)) => (so_far.with(range), count.saturating_add(1)),
        None => (range, 1),
    });
}

/// Which past loads speak for a coming one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Alike<'a> {
    /// Key of the food.
    pub food: &'a str,
    /// Style of pack.
    pub pack: Pack,
    /// Key of the process row.
    pub process: &'a str,
    /// The canner's name, as past loads have it.
    pub canner: &'a str,
    /// Its size, quarts.
    pub quarts: u8,
}

/// What the record says about loads like the coming one. The example does not count.
#[must_use]
pub fn past(archive: &Archive, alike: Alike<'_>) -> Past {
    let mut past = Past::default();
    for batch in archive.batches().filter(|batch| !batch.is_demo()) {
        weigh(&mut past, batch, alike);
        prepare(&mut past, batch, alike);
        for load in &batch.loads {
            let same = load.plan.process == alike.process
                && load.plan.canner.as_str() == alike.canner
                && load.plan.canner_quarts == alike.quarts;
            if same && load.run.is_processed() && load.run.restarts().is_empty() {
                time(&mut past, archive, batch.id, load);
            }
        }
    }
    past
}

/// The batch's weights against the jars it filled.
fn weigh(past: &mut Past, batch: &Batch, alike: Alike<'_>) {
    let Some((_, start)) = &batch.start else { return };
    // A batch with a load still to come has not filled all its jars yet.
    let all_filled = batch.loads.iter().all(|load| load.run.heat_on().is_some());
    if !all_filled || start.product != alike.food || start.pack != alike.pack {
        return;
    }
    let mut weights = batch.weights;
    // A raw lot is weighed as it came.
    let came = batch.lot.as_ref().map(|lot| lot.start().grams).filter(|grams| *grams > 0);
    weights.whole = weights.whole.or_else(|| Mass::from_grams(came?).ok());
    let jars: u64 = batch.loads.iter().map(|load| load.jars.len() as u64).sum();
    if let Some(litres) = millilitres(jars, start.jar) {
        let per_litre = |mass: Mass| u64::from(mass.grams()) * 1_000_000 / litres;
        for (seen, mass) in [
            (&mut past.whole, weights.whole),
            (&mut past.dressed, weights.dressed),
            (&mut past.ready, weights.packed),
        ] {
            if let Some(mass) = mass.filter(|mass| *mass > Mass::ZERO) {
                see(seen, Range::just(per_litre(mass)));
            }
        }
    }
    for (seen, before) in
        [(&mut past.kept_whole, weights.whole), (&mut past.kept_dressed, weights.dressed)]
    {
        let (Some(before), Some(packed)) = (before, weights.packed) else { continue };
        if before > Mass::ZERO && packed > Mass::ZERO {
            let parts = u64::from(packed.grams()) * 1_000 / u64::from(before.grams());
            // More packed than weighed before is a slip of the scales: no yield.
            if let Ok(parts @ 1..=1_000) = u16::try_from(parts) {
                see(seen, Range::just(parts));
            }
        }
    }
}

/// How long the batch's raw lot was at each step before the jars.
fn prepare(past: &mut Past, batch: &Batch, alike: Alike<'_>) {
    let (Some((_, start)), Some(lot)) = (&batch.start, &batch.lot) else { return };
    if start.product != alike.food || start.pack != alike.pack {
        return;
    }
    let steps = [
        (&mut past.thaw, LotStep::Thawing),
        (&mut past.brine, LotStep::Brining),
        (&mut past.drip, LotStep::Draining),
        (&mut past.smoke, LotStep::Smoking),
    ];
    for (seen, step) in steps {
        let mut lasted = Span::ZERO;
        for (from, to) in lot.moves().iter().zip(lot.moves().iter().skip(1)) {
            if from.step == step {
                lasted = lasted.plus(to.since.since(from.since).at_least_zero());
            }
        }
        if lasted > Span::ZERO {
            see(seen, Range::just(lasted));
        }
    }
}

fn millilitres(jars: u64, size: Jar) -> Option<u64> {
    Some(jars * u64::from(size.millilitres())).filter(|volume| *volume > 0)
}

/// The times between a load's steps, as the stage machine counts them.
fn time(past: &mut Past, archive: &Archive, batch: Id, load: &Load) {
    let events = archive.events(batch);
    let gone = taken_back(events);
    let mut run = Run::new(load.run.plan());
    let mut warm_up = None;
    for event in events {
        let Some(Body::Ran { load: of, step }) = event.body() else { continue };
        let moved = matches!(step, Step::ClockMoved { .. });
        if *of != load.id || (gone.contains(&event.id()) && !moved) {
            continue;
        }
        let (before, lasted) = (run.stage().kind(), run.elapsed(event.at()));
        if run.take(*step, event.at()).is_err() {
            continue;
        }
        let after = run.stage().kind();
        match (before, after) {
            // Steam that faltered goes back to warming up: the last word counts.
            (StageKind::WarmUp, StageKind::Venting) => warm_up = Some(lasted),
            (StageKind::Rising, StageKind::Holding) => see(&mut past.rise, Range::just(lasted)),
            (StageKind::Falling, StageKind::Standing) => see(&mut past.fall, Range::just(lasted)),
            (StageKind::Unloading, StageKind::Resting) => {
                see(&mut past.unload, Range::just(lasted));
            }
            _ => {}
        }
    }
    if let Some(lasted) = warm_up {
        see(&mut past.warm_up, Range::just(lasted));
    }
}
