//! What a tap is called when it is taken back.
//!
//! Invariant: short words that fit after a colon; what is lifted with a reason, not
//! taken back, has none.

use crate::batch::{Body, Seal, ShelfEvent};
use crate::run::Step;
use crate::t;

/// The words for what an event recorded; `None` if it is not for taking back by itself.
#[must_use]
pub fn tap_name(body: &Body) -> Option<String> {
    let jar = |jar: &u16, what: &str| Some(t!("jar {}: {}", jar, what));
    Some(
        match body {
            Body::Ran { step, .. } => step_name(*step),
            Body::SealChecked { jar: number, seal, .. } => {
                return jar(number, seal_name(*seal));
            }
            Body::UnsealedSettled { jar: number, .. } => return jar(number, t!("dealt with##tap")),
            Body::JarTaken { jar: number, .. } => return jar(number, t!("taken##tap")),
            Body::JarsCounted { .. } => t!("how many jars"),
            Body::Shelved { .. } | Body::AtShelf(ShelfEvent::JarsMoved { .. }) => {
                t!("where they stand##tap")
            }
            _ => return None,
        }
        .to_owned(),
    )
}

fn seal_name(seal: Seal) -> &'static str {
    match seal {
        Seal::Sealed => t!("sealed##tap"),
        Seal::NotSealed => t!("not sealed##tap"),
        Seal::Broken => t!("broken##tap"),
    }
}

fn step_name(step: Step) -> &'static str {
    match step {
        Step::HeatOn => t!("heat on##tap"),
        Step::SteamSteady => t!("steam steady##tap"),
        Step::SteamFaltered => t!("steam faltered##tap"),
        Step::VentClosed => t!("vent closed##tap"),
        Step::AtPressure => t!("at pressure##tap"),
        Step::Reading(_) => t!("a dial reading##tap"),
        Step::WeightSteady => t!("the weight moves##tap"),
        Step::Dropped(_) => t!("the pressure dropped##tap"),
        Step::HeatOff => t!("heat off##tap"),
        Step::WeightOff => t!("weight off##tap"),
        Step::LidOpened => t!("lid open##tap"),
        Step::Unloaded => t!("jars out##tap"),
        Step::ClockMoved { .. } | Step::ClockRight | Step::ClockWrong => {
            t!("the answer about the clock##tap")
        }
        Step::Stopped(_) => t!("load stopped##tap"),
    }
}
