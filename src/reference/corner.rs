//! Sharp re-entrant corner with free faces: how fast the elastic stress grows towards it.
//!
//! Lacks clamped and mixed faces, and the size of the stress itself. Angles in rad, inside the body.
//! Source: Williams, Journal of Applied Mechanics 19 (1952) 526–528; the exponents in the tests are
//! those of common tables, from memory.

use std::f64::consts::PI;

/// The exponent λ of the symmetric field: stresses grow as ρ^(λ−1) towards the corner. It is the smallest
/// positive root of sin(λω) + λ sin ω = 0, for an angle ω inside the body between 180° and 360°.
#[must_use]
pub fn symmetric_exponent(angle_rad: f64) -> f64 {
    let gap = |lambda: f64| (lambda * angle_rad).sin() + lambda * angle_rad.sin();
    // The function is positive below the root and negative between it and the root at 1.
    let (mut low, mut high) = (PI / (2.0 * angle_rad), 0.999);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if gap(middle) > 0.0 { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

/// Factor by which the stress beside the corner grows when all elements are halved: 2^(1−λ).
#[must_use]
pub fn growth_per_halving(angle_rad: f64) -> f64 {
    2f64.powf(1.0 - symmetric_exponent(angle_rad))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    #[test]
    fn tabulated_exponents() {
        for (degrees, exponent) in [(225.0f64, 0.6736), (240.0, 0.6157), (270.0, 0.5445), (300.0, 0.5122)] {
            let found = symmetric_exponent(degrees.to_radians());
            let reason = "the reference is printed to this many digits";
            assert_close("λ", found, exponent, Tolerance::printed(4), reason);
        }
    }

    #[test]
    fn a_crack_has_the_square_root() {
        let reason = "exact limit, rounding only";
        let found = symmetric_exponent(2.0 * PI);
        assert_close("λ", found, 0.5, Tolerance::Absolute(1e-9), reason);
    }
}
