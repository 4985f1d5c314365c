//! Half-plane under a uniform pressure strip: stresses below the middle of the strip.
//!
//! Lacks shear tractions and points off the centre line. Units: MPa; depths as z/a, the depth over
//! the strip's half-width. Source: Johnson, Contact Mechanics, section 2.5 (number from memory).

use std::f64::consts::PI;

/// Stresses below the middle of a strip, per unit pressure; tension positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BelowStrip {
    /// Along the depth.
    pub normal: f64,
    /// Along the surface, across the strip.
    pub lateral: f64,
    /// Largest in-plane shear stress.
    pub shear: f64,
}

/// Stresses below the middle of the strip, with φ = 2 atan(a/z) the angle that it fills:
/// σz = −(φ + sin φ)/π, σx = −(φ − sin φ)/π, τmax = sin φ/π (Johnson eq. 2.30, number from memory).
#[must_use]
pub fn below_strip(depth_to_half_width: f64) -> BelowStrip {
    let angle = 2.0 * depth_to_half_width.recip().atan();
    BelowStrip {
        normal: -(angle + angle.sin()) / PI,
        lateral: -(angle - angle.sin()) / PI,
        shear: angle.sin() / PI,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    #[test]
    fn below_the_middle() {
        let reason = "the reference is printed to this many digits";
        for (depth, normal, lateral) in [
            (0.5, -0.9595, -0.4502),
            (1.0, -0.8183, -0.1817),
            (2.0, -0.5498, -0.0405),
            (3.0, -0.3958, -0.0138),
            (5.0, -0.2481, -0.0032),
        ] {
            let stress = below_strip(depth);
            let tolerance = Tolerance::printed(4);
            assert_close("σz", stress.normal, normal, tolerance, reason);
            assert_close("σx", stress.lateral, lateral, tolerance, reason);
        }
    }

    #[test]
    fn shear_peaks_at_the_half_width() {
        let reason = "exact value 1/π, rounding only";
        let peak = below_strip(1.0).shear;
        assert_close("τmax", peak, 1.0 / PI, Tolerance::Absolute(1e-15), reason);
        assert!(peak > below_strip(0.98).shear && peak > below_strip(1.02).shear);
    }
}
