//! What goes on a jar.
//!
//! Invariant: plain and smoked are told apart by a word; the process is never
//! without its publication.

use super::label_fit::{Block, Size};
use super::stamp::Local;
use crate::batch::{Batch, JarState, Load, Text};
use crate::process::Gauge;
use crate::shelf::BEST_WITHIN;
use crate::t;
use crate::units::EpochMs;

/// The words of a load's labels.
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
    /// Where the process is published.
    pub publication: String,
    /// Numbers of the jars to label: those found sealed, or all while none is
    /// checked; none that a doubt holds back.
    pub jars: Vec<u16>,
}

/// The label of a load; `None` until it had its full time.
#[must_use]
pub fn label(batch: &Batch, load: &Load) -> Option<Label> {
    let (_, start) = batch.start.as_ref()?;
    let (_, canned) = load.run.full_hold()?;
    let gauge = match load.plan.gauge {
        Gauge::Dial => t!("dial##on a label"),
        Gauge::Weighted => t!("weighted##on a label"),
    };
    let added = match load.plan.added {
        0 => String::new(),
        psi => t!(", {} of it for a dial that reads high", psi),
    };
    let plan = load.run.plan();
    let checked = load.unchecked() < load.jars.len();
    let good = |state| !checked || matches!(state, JarState::Sealed(_));
    let jars = load.jars.iter().filter(|jar| good(jar.state) && !jar.held);
    Some(Label {
        content: start.content.clone(),
        pack: match start.pack.key() {
            "raw" => t!("plain##not smoked"),
            _ => start.pack.name(),
        },
        canned,
        best_by: canned.plus(BEST_WITHIN),
        load: t!("{} load {}", batch.id.short(), load.number),
        process: t!(
            "{} min at {} psi ({}{}), {} ft",
            plan.hold,
            plan.pressure,
            gauge,
            added,
            start.altitude.feet()
        ),
        publication: load.plan.publication.clone(),
        jars: jars.map(|jar| jar.number).collect(),
    })
}

impl Label {
    /// The words of one jar's label, most important first.
    #[must_use]
    pub fn blocks(&self, jar: u16, local: Local<'_>) -> Vec<Block> {
        let mut pack = self.pack.to_owned();
        if let Some(first) = pack.get_mut(..1) {
            first.make_ascii_uppercase();
        }
        let block = |size, strong, text: String| Block { size, strong, text };
        vec![
            block(Size::Title, true, self.content.as_str().to_owned()),
            block(Size::Word, true, pack),
            block(Size::Fact, true, t!("Canned {}", local(self.canned).date())),
            block(Size::Fact, false, t!("Best by {}", local(self.best_by).date())),
            block(Size::Fact, false, self.process.clone()),
            block(Size::Small, false, t!("{} jar {}", self.load, jar)),
            block(Size::Small, false, self.publication.clone()),
        ]
    }
}
