//! The steps of a load and how long each takes, with where the minutes come from.
//!
//! Invariant: a tested or published least time is never planned shorter, whatever
//! the person types or past loads show.

use super::draft::Hours;
use super::history::Past;
use super::ranged::{Origin, Range};
use crate::process::{Pack, Tested};
use crate::run::RunPlan;
use crate::t;
use crate::units::Span;
use crate::w;
use crate::words::Word;

/// One step of the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StepKind {
    /// In the refrigerator until no ice is left.
    Thaw,
    /// In the brine.
    Brine,
    /// Drips and dries until the skin is tacky.
    Drip,
    /// In the smoke.
    Smoke,
    /// Into the jars and the canner.
    Pack,
    /// Heat on until the steam is steady.
    WarmUp,
    /// Steam flows.
    Vent,
    /// Vent closed until the pressure is reached.
    Rise,
    /// At pressure.
    Hold,
    /// Heat off until the pressure is gone by itself.
    Fall,
    /// Weight off, lid on.
    Wait,
    /// Jars come out.
    Unload,
    /// The canner is made ready for its next load.
    Between,
    /// Jars stand untouched.
    Rest,
}

impl StepKind {
    /// The name shown.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Thaw => t!("Thaw in the refrigerator"),
            Self::Brine => t!("Brine, in the refrigerator"),
            Self::Drip => t!("Drip and dry"),
            Self::Smoke => t!("Smoke"),
            Self::Pack => t!("Pack and load"),
            Self::WarmUp => t!("Heat on, until steam is steady"),
            Self::Vent => t!("Vent"),
            Self::Rise => t!("Rise to pressure"),
            Self::Hold => t!("Hold at pressure"),
            Self::Fall => t!("Heat off, falls by itself"),
            Self::Wait => t!("Weight off, wait"),
            Self::Unload => t!("Jars out"),
            Self::Between => t!("Ready the canner again"),
            Self::Rest => t!("Rest, touch nothing"),
        }
    }
}

/// A step with its minutes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Which one.
    pub kind: StepKind,
    /// From the least to the most, minutes.
    pub minutes: Range<u32>,
    /// Where the minutes come from.
    pub origin: Origin,
}

/// The steps of one load on one canner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Steps {
    /// Into the jars.
    pub pack: Step,
    /// Heat on until steady steam.
    pub warm_up: Step,
    /// Steam flows.
    pub vent: Step,
    /// Until pressure.
    pub rise: Step,
    /// At pressure.
    pub hold: Step,
    /// Until no pressure.
    pub fall: Step,
    /// Until the lid.
    pub wait: Step,
    /// Jars out.
    pub unload: Step,
    /// Until the canner can be loaded again.
    pub between: Step,
}

/// Longest smoking before canning, minutes (Washington State University Extension,
/// Smoking/Curing).
pub const SMOKE_MOST: u32 = 120;
const SMOKE_PAGE: Word = w!(
    "Washington State University Extension, Preservation Tips: Smoking/Curing (no more than 2 h)"
);
const BRINE_OPEN: Word = w!(
    "Nothing is counted for it: give your own time. The hour or two printed for smoking is for \
     fish to eat now (Washington State University Extension; Kitsap Cooperative Extension, \
     October 1992). Shorter times for canning are published, but were not read here"
);
const WARM_PAGE: Word = w!(
    "USDA Complete Guide to Home Canning, Guide 1, p. 1-17, 2015 (for planning; cold fish and 4 \
     qt of cool water can take longer)"
);
const SLOW_WARM_PAGE: Word = w!(
    "USDA Complete Guide to Home Canning, Guide 5, p. 5-12, 2015 (20 min at least; tight packs, \
     cold fish and big canners take longer)"
);
const RISE_PAGE: Word = w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015 (usual)");
const FALL_PAGE: Word =
    w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-17, 2015 (for planning)");
const WAIT_PAGE: Word = w!("USDA Complete Guide to Home Canning, Guide 1, pp. 1-21 and 1-22, 2015");

/// The steps before the first jar is packed, in order, for the whole batch. A step
/// that is neither typed, published nor measured is left out; of smoked fish it is
/// shown, so that it is seen to be missing. So is its brining: the printed times are
/// for smoking to eat now, not to can, and are not filled in.
#[must_use]
pub fn before(pack: Pack, hours: &Hours, past: &Past) -> Vec<Step> {
    let smoked = pack == Pack::Smoked;
    let step = |kind, typed: Option<Range<u32>>, published, seen| {
        let typed = typed.map(|minutes| (minutes, Origin::Own));
        let found = typed.or_else(|| Origin::settle(published, measured(seen)));
        found.map(|(minutes, origin)| Step { kind, minutes, origin })
    };
    let open = |kind, origin| smoked.then_some(Step { kind, minutes: Range::just(0), origin });
    let mut steps = Vec::new();
    steps.extend(step(StepKind::Thaw, hours.thaw, None, past.thaw));
    let brine = step(StepKind::Brine, hours.brine, None, past.brine);
    steps.extend(brine.or_else(|| open(StepKind::Brine, Origin::Open(BRINE_OPEN.say()))));
    let drip = step(StepKind::Drip, hours.drip, None, past.drip);
    steps.extend(drip.or_else(|| open(StepKind::Drip, Origin::Unknown)));
    if smoked {
        let page = Some((Range::new(0, SMOKE_MOST), SMOKE_PAGE.say()));
        steps.extend(step(StepKind::Smoke, hours.smoke, page, past.smoke).map(|smoke| {
            let (least, most) = (smoke.minutes.least(), smoke.minutes.most());
            Step { minutes: Range::new(least.min(SMOKE_MOST), most.min(SMOKE_MOST)), ..smoke }
        }));
    }
    steps
}

/// Whole minutes that hold a measured range: its ends rounded outwards.
fn measured(seen: Option<(Range<Span>, u16)>) -> Option<(Range<u32>, u16)> {
    let (range, count) = seen?;
    let whole = |span: Span, up: i64| u32::try_from((span.0 + up) / 60_000).unwrap_or(0);
    Some((Range::new(whole(range.least(), 0), whole(range.most(), 59_999)), count))
}

/// The steps of a load held to `tested`, of so many jars.
#[must_use]
pub fn steps(tested: &Tested, hours: &Hours, past: &Past) -> Steps {
    let process = tested.process();
    let least = |minutes: crate::units::Minutes| u32::from(minutes.0);
    let settle = |kind, published: (u32, u32, Word), seen| {
        let published = (Range::new(published.0, published.1), published.2.say());
        let (minutes, origin) = Origin::settle(Some(published), measured(seen))
            .unwrap_or((Range::just(0), Origin::Unknown));
        Step { kind, minutes, origin }
    };
    let own = |kind, typed: Option<Range<u32>>, seen| {
        let typed = typed.map(|minutes| (minutes, Origin::Own));
        let found = typed.or_else(|| Origin::settle(None, measured(seen)));
        let (minutes, origin) = found.unwrap_or((Range::just(0), Origin::Unknown));
        Step { kind, minutes, origin }
    };
    let slow = least(process.heat_before_vent());
    let mut warm_up = if slow > 0 {
        settle(StepKind::WarmUp, (slow, slow, SLOW_WARM_PAGE), past.warm_up)
    } else {
        settle(StepKind::WarmUp, (12, 15, WARM_PAGE), past.warm_up)
    };
    warm_up.minutes = warm_up.minutes.at_least(slow);
    // Heating and venting together have a least time of their own for some foods.
    let together = least(process.heat_plus_vent());
    let short = together.saturating_sub(warm_up.minutes.least());
    let vent = Range::just(least(process.vent()).max(short));
    let printed = Origin::Published(process.publication());
    let wait = Range::just(least(RunPlan::STAND));
    Steps {
        pack: own(StepKind::Pack, hours.pack, None),
        warm_up,
        vent: Step { kind: StepKind::Vent, minutes: vent, origin: printed },
        rise: settle(StepKind::Rise, (3, 5, RISE_PAGE), past.rise),
        hold: Step {
            kind: StepKind::Hold,
            minutes: Range::just(least(tested.minutes())),
            origin: printed,
        },
        fall: settle(StepKind::Fall, (20, 60, FALL_PAGE), past.fall),
        wait: Step {
            kind: StepKind::Wait,
            minutes: wait,
            origin: Origin::Published(WAIT_PAGE.say()),
        },
        unload: own(StepKind::Unload, hours.unload, past.unload),
        between: own(StepKind::Between, hours.between, None),
    }
}

impl Steps {
    /// All of them in order.
    #[must_use]
    pub const fn all(&self) -> [Step; 9] {
        [
            self.pack,
            self.warm_up,
            self.vent,
            self.rise,
            self.hold,
            self.fall,
            self.wait,
            self.unload,
            self.between,
        ]
    }

    /// Minutes a load keeps its canner, at most.
    #[must_use]
    pub fn most(&self) -> u32 {
        self.all().iter().map(|step| step.minutes.most()).sum()
    }

    /// Minutes from heat on to heat off.
    #[must_use]
    pub fn heated(&self) -> Range<u32> {
        let steps = [self.warm_up, self.vent, self.rise, self.hold];
        Range::new(
            steps.iter().map(|step| step.minutes.least()).sum(),
            steps.iter().map(|step| step.minutes.most()).sum(),
        )
    }
}
