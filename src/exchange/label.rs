//! What goes on a jar.
//!
//! Invariant: plain and smoked are told apart by a word.

use crate::batch::{Batch, Load, Text};
use crate::process::Gauge;
use crate::shelf::BEST_WITHIN;
use crate::units::EpochMs;

/// The lines of a label.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// What is in the jar.
    pub content: Text,
    /// Style of pack, by word.
    pub pack: &'static str,
    /// When the full time ended.
    pub canned: EpochMs,
    /// Until when quality is best.
    pub best_by: EpochMs,
    /// Batch and load, short.
    pub load: String,
    /// Minutes, pressure, gauge, altitude.
    pub process: String,
}

/// The label of a load; `None` until it had its full time.
#[must_use]
pub fn label(batch: &Batch, load: &Load) -> Option<Label> {
    let (_, start) = batch.start.as_ref()?;
    let (_, canned) = load.run.full_hold()?;
    let gauge = match load.plan.gauge {
        Gauge::Dial => "dial",
        Gauge::Weighted => "weighted",
    };
    let plan = load.run.plan();
    Some(Label {
        content: start.content.clone(),
        pack: match start.pack.key() {
            "raw" => "plain",
            _ => start.pack.name(),
        },
        canned,
        best_by: canned.plus(BEST_WITHIN),
        load: format!("{} load {}", batch.id.short(), load.number),
        process: format!(
            "{} min at {} psi ({gauge}), {} ft",
            plan.hold,
            plan.pressure,
            start.altitude.feet()
        ),
    })
}
