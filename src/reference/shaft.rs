//! Solid round shaft: bending and torsion stress at its surface.
//!
//! Lacks notches, for which see `notch`. Units: mm, N·mm, MPa. Source: beam theory, as in Shigley,
//! Mechanical Engineering Design, ch. 3 (chapter number from memory).

use std::f64::consts::PI;

/// Bending stress 32M/(πd³), MPa.
#[must_use]
pub fn bending_mpa(moment_n_mm: f64, diameter_mm: f64) -> f64 {
    32.0 * moment_n_mm / (PI * diameter_mm.powi(3))
}

/// Torsion stress 16T/(πd³), MPa.
#[must_use]
pub fn torsion_mpa(torque_n_mm: f64, diameter_mm: f64) -> f64 {
    16.0 * torque_n_mm / (PI * diameter_mm.powi(3))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    #[test]
    fn published_example() {
        // Shigley example 5-5 (from memory): d = 1 in, M = 14F, T = 15F; per unit force F.
        let reason = "the reference is printed to this many digits";
        let tolerance = Tolerance::printed(1);
        assert_close("σ", bending_mpa(14.0, 1.0), 142.6, tolerance, reason);
        assert_close("τ", torsion_mpa(15.0, 1.0), 76.4, tolerance, reason);
    }
}
