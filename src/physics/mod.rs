//! The physics behind the printed pressure tables: air pressure, steam
//! temperature, lethality and the slow heating of a jar's centre.
//!
//! Invariant: this is explanation only. Nothing here gates, shortens or
//! replaces a tested time and pressure: those come from the process tables
//! alone. No function returns NaN: nonsense is a [`PhysicsError`].

pub mod atmosphere;
pub mod bessel;
pub mod boiling;
pub mod conduction;
pub mod food;
pub mod gauge;
pub mod jar;
pub mod lethality;
pub mod place;
pub mod saturation;
pub mod steam;

mod error;
mod quantity;

pub use error::{PhysicsError, Quantity};
pub use quantity::{Celsius, Diffusivity, Pascal, Sample};
