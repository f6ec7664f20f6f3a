//! Checks of dial gauges that put earlier loads in doubt.
//!
//! Invariant: a load is cleared only by a check between it and the bad one, at
//! which its dial read no higher than had been allowed for: a load held on after
//! a bad check, at a setting of before, is touched like those before it.

use crate::batch::{Archive, Body, Id, Load, Text, taken_back};
use crate::order;
use crate::physics::gauge::DialCheck;
use crate::process::Gauge;
use crate::units::EpochMs;

/// A check at which a dial was found reading high.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The canner.
    pub canner: Id,
    /// What it is called now, or was last.
    pub name: Text,
    /// The event of the check.
    pub event: Id,
    /// When it was checked.
    pub at: EpochMs,
    /// How much the dial showed too much, tenths of a psi: over 0.
    pub high: i16,
}

/// Every check on record that found a dial reading high, the newest first.
#[must_use]
pub fn findings(archive: &Archive) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (event, canner, at, error) in checks(archive) {
        if error > 0 {
            let name = archive.household().names_of(canner).pop().unwrap_or_default();
            findings.push(Finding { canner, name, event, at, high: error });
        }
    }
    order::by_key(findings, |finding| (finding.at.0.saturating_neg(), finding.event.number()))
}

/// Every check that shows anything: event, canner, time, error in tenths of a psi.
fn checks(archive: &Archive) -> Vec<(Id, Id, EpochMs, i16)> {
    let events = archive.events(Id::HOUSEHOLD);
    let gone = taken_back(events);
    let mut checks = Vec::new();
    for event in events.iter().filter(|event| !gone.contains(&event.id())) {
        if let Some(Body::GaugeChecked { canner, reading, standard }) = event.body()
            && let Ok(check) = DialCheck::new(*reading, *standard, event.at())
        {
            checks.push((event.id(), *canner, event.at(), check.error_tenths()));
        }
    }
    checks
}

/// One bad check, held against loads.
pub(super) struct Against {
    names: Vec<Text>,
    at: EpochMs,
    high: i16,
    /// The other checks of the same canner: time and error.
    others: Vec<(EpochMs, i16)>,
}

impl Against {
    pub(super) fn new(archive: &Archive, check: Id) -> Option<Self> {
        let checks = checks(archive);
        let (_, canner, at, high) = *checks.iter().find(|(event, ..)| *event == check)?;
        let mut others = Vec::new();
        for (_, whose, at, error) in checks {
            if whose == canner {
                others.push((at, error));
            }
        }
        Some(Self { names: archive.household().names_of(canner), at, high, others })
    }

    /// Whether the check touches a load held from `began` on, and whether it surely
    /// was on this canner. A load that names no canner may have been.
    pub(super) fn touches(&self, load: &Load, began: EpochMs) -> Option<bool> {
        if load.plan.gauge != Gauge::Dial {
            return None;
        }
        let canner = &load.plan.canner;
        let sure = self.names.contains(canner) && !canner.is_empty();
        if !sure && !canner.is_empty() {
            return None;
        }
        let allowed = i16::from(load.plan.added).saturating_mul(10);
        let (first, last) = (began.min(self.at), began.max(self.at));
        let cleared = |(at, error): &(EpochMs, i16)| first < *at && *at < last && *error <= allowed;
        (self.high > allowed && !self.others.iter().any(cleared)).then_some(sure)
    }
}
