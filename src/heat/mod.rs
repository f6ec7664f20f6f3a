//! Pictures of heat: the pressure log of a run, what heat it delivered, and why a
//! jar needs the full time.
//!
//! Invariant: explanation only. Nothing here is asked before a step is taken or a
//! jar is shelved, and every drawing leaves here as whole numbers and text.

mod account;
mod history;
mod pack;
mod plot;
mod pressure_log;
mod warming;

pub use account::{Account, Cold, Delivered, account};
pub use pack::{COMPOSITION, JAR_SIZES, SCATTER};
pub use plot::{FRAME, HEIGHT, Level, Tick, WIDTH};
pub use pressure_log::{PressureLog, look_text, pressure_log};
pub use warming::{
    FoodStart, Setting, Warming, WarmingRow, offered_jars, setting_of, settings, warming,
};
