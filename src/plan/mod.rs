//! Planning a canning day: from the weight of the food to jars, loads, a shopping
//! list and the hours of the day.
//!
//! Invariant: a plan decides nothing about safety. Its minutes at pressure come
//! from the finder alone, every other figure is a range that names where it comes
//! from, and what nobody has published is left to the person to fill in.

mod amount;
mod canner;
mod day;
mod draft;
mod goods;
mod history;
mod loads;
mod ranged;
mod sheet;
mod start;
mod steps;
mod yields;
mod zone;

pub use amount::{Basis, Need, NoNeed, Own, Want, fill, needed};
pub use canner::{CAPACITY, Holds, HoldsError, MOST_JARS, TWO_LAYERS, published_capacity};
pub use day::{Day, Job, Mark, Schedule, schedule};
pub use draft::{Draft, Field, Food, Hours};
pub use goods::{Good, fuel_is_bad, goods};
pub use history::{Alike, Past, Weighed, Weights, past};
pub use loads::{Canning, Lane, NoLoads, Planned, divide};
pub use ranged::{ENOUGH, Origin, Range};
pub use sheet::{Problem, Sheet, sheet};
pub use start::{Begin, begin};
pub use steps::{SMOKE_MOST, Step, StepKind, Steps, before, steps};
pub use yields::{Statement, Yield, yield_of};
pub use zone::{Moment, Wall, resolve};
