//! Bessel functions J0 and J1, which heat flow in a cylinder is made of.
//!
//! Invariant: absolute error under 1e-13 over the range accepted.

use super::error::{PhysicsError, Quantity, within};

/// J0 and J1 of an argument from -100 to 100.
///
/// # Errors
/// [`PhysicsError`] for what is no number or outside that range.
pub fn j0_j1(x: f64) -> Result<(f64, f64), PhysicsError> {
    let size = within(x, -100.0, 100.0, Quantity::BesselArgument)?.abs();
    let (j0, j1) = both(size);
    // J0 is even, J1 odd.
    Ok((j0, if x < 0.0 { -j1 } else { j1 }))
}

/// J0 and J1 of an argument of at least 0.
///
/// Bessel's integrals over a quarter turn, `J0 = 2/π ∫ cos(x sin t) dt` and
/// `J1 = 2/π ∫ sin(x sin t) sin t dt`, by the trapezoidal rule. The integrands
/// are periodic, so the rule converges faster than any power: with n steps the
/// error is about `2 J_4n(x)`, nothing at all once 4n is well above x.
pub(super) fn both(x: f64) -> (f64, f64) {
    let steps = (x / 4.0) as u32 + 14;
    let width = core::f64::consts::FRAC_PI_2 / f64::from(steps);
    // The two ends count half: t = 0 gives 1 and 0, t = π/2 gives cos x and sin x.
    let (mut j0, mut j1) = ((1.0 + x.cos()) / 2.0, x.sin() / 2.0);
    for step in 1..steps {
        let sine = (f64::from(step) * width).sin();
        let (s, c) = (x * sine).sin_cos();
        j0 += c;
        j1 += s * sine;
    }
    (j0 / f64::from(steps), j1 / f64::from(steps))
}
