//! One load in the canner, from the heat going on to the jars at rest.
//!
//! Invariant: a run counts as processed only after one unbroken hold of the full
//! tested time at pressure. No step, no clock change and no order of events
//! leads there sooner.

mod clock;
mod log;
mod machine;
mod plan;
mod stage;
mod step;

pub use clock::{ClockMove, Page, Trust, Watch};
pub use log::Happened;
pub use machine::{Restart, Run};
pub use plan::RunPlan;
pub use stage::{Stage, StageKind};
pub use step::{DropCause, Step, StepError, StopCause};
