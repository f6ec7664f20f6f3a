//! From jars to canner loads.
//!
//! Invariant: a load is one jar size under one tested process, never over what its
//! canner holds; where the finder refuses, there is no load.

use super::canner::{Holds, published_capacity};
use super::ranged::{Origin, Range};
use crate::batch::{Id, Text};
use crate::physics::gauge::DialCheck;
use crate::present::dial_advice;
use crate::process::{
    CannerQuarts, Gauge, Jar, Pack, Question, Refusal, Tested, Vessel, find as find_process,
};
use crate::units::{Altitude, EpochMs, PsiGauge};

/// One canner that is to be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lane {
    /// The household's canner, if it is one.
    pub canner: Option<Id>,
    /// What the person calls it.
    pub name: Text,
    /// Its gauge.
    pub gauge: Gauge,
    /// Its size.
    pub quarts: CannerQuarts,
    /// What it holds, as counted.
    pub holds: Vec<Holds>,
    /// The last check of its dial.
    pub check: Option<DialCheck>,
}

impl Lane {
    /// How many jars of a size fill it: as counted, else the least published.
    #[must_use]
    pub fn capacity(&self, jar: Jar) -> Option<(u16, u8, Origin)> {
        if let Some(holds) = self.holds.iter().find(|holds| holds.jar() == jar) {
            return Some((holds.jars(), holds.layers(), Origin::Own));
        }
        published_capacity(self.quarts.get(), jar).map(|(range, origin)| (range.least(), 1, origin))
    }
}

/// What is to be canned and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Canning<'a> {
    /// Key of the food.
    pub food: &'a str,
    /// Style of pack.
    pub pack: Pack,
    /// Height above sea level.
    pub altitude: Altitude,
    /// The instant of planning, for the age of a dial's check.
    pub now: EpochMs,
}

/// One load of the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Planned {
    /// Which lane.
    pub lane: usize,
    /// Jars in it.
    pub jars: u16,
    /// How many of them the least yield fills already.
    pub sure: u16,
    /// What it is held to.
    pub tested: Tested,
    /// What the gauge must show: the table's figure or more.
    pub setting: PsiGauge,
}

/// Why jars of a size cannot be planned on any canner, or on one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoLoads {
    /// No tested process.
    Refused(Jar, &'static Refusal),
    /// The dial may not be used; the sentence says why.
    Dial(usize, String),
    /// Nobody has said how many of these jars the canner holds.
    Uncounted(usize, Jar),
}

/// A canner that may take a jar size, with what it is held to.
struct Able {
    lane: usize,
    jars: u16,
    tested: Tested,
    setting: PsiGauge,
}

/// The loads for jars of several sizes, in the order they are run, and what stands
/// in the way. `lasts` gives the minutes a load keeps a lane busy.
#[must_use]
pub fn divide(
    canning: Canning<'_>,
    jars: &[(Jar, Range<u16>)],
    lanes: &[Lane],
    lasts: &dyn Fn(usize, &Tested, u16) -> u32,
) -> (Vec<Planned>, Vec<NoLoads>) {
    let (mut loads, mut no) = (Vec::new(), Vec::new());
    let mut free = vec![0_u32; lanes.len()];
    for (jar, count) in jars.iter().filter(|(_, count)| count.most() > 0) {
        let able = able(canning, *jar, lanes, &mut no);
        let (mut left, mut sure) = (count.most(), count.least());
        while left > 0 {
            // The canner that is free first; of two, the one listed first.
            let first = able.iter().min_by_key(|able| free.get(able.lane).copied().unwrap_or(0));
            let Some(first) = first else { break };
            let jars = left.min(first.jars);
            let sure_here = sure.min(jars);
            loads.push(Planned {
                lane: first.lane,
                jars,
                sure: sure_here,
                tested: first.tested,
                setting: first.setting,
            });
            left -= jars;
            sure -= sure_here;
            if let Some(free) = free.get_mut(first.lane) {
                *free = free.saturating_add(lasts(first.lane, &first.tested, jars).max(1));
            }
        }
    }
    (loads, no)
}

fn able(canning: Canning<'_>, jar: Jar, lanes: &[Lane], no: &mut Vec<NoLoads>) -> Vec<Able> {
    let mut able = Vec::new();
    for (number, lane) in lanes.iter().enumerate() {
        let vessel = Vessel::PressureCanner { gauge: lane.gauge, quarts: lane.quarts };
        let Canning { food, pack, altitude, now } = canning;
        let tested = match find_process(&Question { food, pack, jar, vessel, altitude }) {
            Ok(tested) => tested,
            Err(refusal) => {
                let said = NoLoads::Refused(jar, refusal);
                if !no.contains(&said) {
                    no.push(said);
                }
                continue;
            }
        };
        let setting = match lane.gauge {
            Gauge::Weighted => tested.pressure(),
            Gauge::Dial => {
                let advice = dial_advice(lane.check, tested.pressure(), now);
                let Some(setting) = advice.setting else {
                    no.push(NoLoads::Dial(number, advice.say.join(" ")));
                    continue;
                };
                setting
            }
        };
        let Some((jars, ..)) = lane.capacity(jar) else {
            no.push(NoLoads::Uncounted(number, jar));
            continue;
        };
        able.push(Able { lane: number, jars, tested, setting });
    }
    able
}
