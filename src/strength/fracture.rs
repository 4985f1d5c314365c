//! Flaws and notches of a brittle metal: critical distance, edge crack, critical depth.
//!
//! Lacks cracks that are deep against the wall: see [`within_range`]. Units: mm, MPa, toughness in
//! N/mm^1.5; some property pages misprint that unit as MPa√m, which is 31.6 times as much.
//! Sources: Taylor, The Theory of Critical Distances, 2007; for the edge crack's factor 1.12 any
//! fracture handbook (limit of a shallow crack in a wide plate, common practice).

use crate::seeded::{Fault, planted};
use std::f64::consts::PI;

/// N/mm^1.5 in one MPa√m: √1000.
pub const N_MM15_PER_MPA_M05: f64 = 31.622_776_601_683_793;

/// Geometry factor of a shallow edge crack.
const EDGE: f64 = 1.12;

/// Deepest crack, over the wall, for which the shallow-crack formula is printed without a caution.
const SHALLOW: f64 = 0.5;

/// Critical distance L = (K_Ic/σ_u)²/π, mm (Taylor 2007): the point method reads the stress at L/2,
/// the line method averages it over 2L.
#[must_use]
pub fn critical_distance_mm(toughness_n_mm15: f64, tensile_mpa: f64) -> f64 {
    (toughness_n_mm15 / tensile_mpa).powi(2) / PI
}

/// The edge crack's factor.
fn edge() -> f64 {
    if planted(Fault::EdgeCrackAsThrough) { 1.0 } else { EDGE }
}

/// Stress intensity of an edge crack of depth a in a tension σ: K = 1.12·σ·√(πa), N/mm^1.5.
/// A compression closes the crack and gives zero.
#[must_use]
pub fn edge_crack_intensity_n_mm15(stress_mpa: f64, depth_mm: f64) -> f64 {
    // Comparison instead of f64::max, which would turn a NaN into zero.
    let tension = if stress_mpa < 0.0 { 0.0 } else { stress_mpa };
    edge() * tension * (PI * depth_mm).sqrt()
}

/// Depth at which an edge crack becomes critical: a_c = (K_Ic/(1.12·σ))²/π, mm; infinite without
/// tension.
#[must_use]
pub fn critical_depth_mm(toughness_n_mm15: f64, stress_mpa: f64) -> f64 {
    if stress_mpa <= 0.0 {
        return f64::INFINITY;
    }
    (toughness_n_mm15 / (edge() * stress_mpa)).powi(2) / PI
}

/// Whether a depth is shallow enough against the wall for the edge-crack formulas (a/t ≤ 0.5, common
/// practice, no source). A deeper result shows only that small flaws are not critical.
#[must_use]
pub fn within_range(depth_mm: f64, wall_mm: f64) -> bool {
    depth_mm <= SHALLOW * wall_mm
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    #[test]
    fn critical_depths() {
        // Toughness in MPa√m, stress, depth, decimals printed.
        for (toughness, stress, depth, decimals) in [
            (10.0, 20.0, 63.4, 1),
            (10.0, 25.0, 40.6, 1),
            (10.0, 30.0, 28.2, 1),
            (10.0, 50.0, 10.2, 1),
            (10.0, 100.0, 2.54, 2),
            (12.0, 20.0, 91.4, 1),
            (12.0, 25.0, 58.5, 1),
            (12.0, 30.0, 40.6, 1),
            (12.0, 50.0, 14.6, 1),
            (12.0, 100.0, 3.65, 2),
            (15.0, 20.0, 142.7, 1),
            (15.0, 25.0, 91.4, 1),
            (15.0, 30.0, 63.4, 1),
            (15.0, 50.0, 22.8, 1),
            (15.0, 100.0, 5.71, 2),
        ] {
            let computed = critical_depth_mm(toughness * N_MM15_PER_MPA_M05, stress);
            assert_close("a_c", computed, depth, Tolerance::printed(decimals), PRINTED);
            let back = edge_crack_intensity_n_mm15(stress, computed) / N_MM15_PER_MPA_M05;
            let reason = "the inverse of the critical depth, rounding only";
            assert_close("K at a_c", back, toughness, Tolerance::Relative(1e-12), reason);
        }
    }

    #[test]
    fn small_crack() {
        let intensity = edge_crack_intensity_n_mm15(25.0, 3.0) / N_MM15_PER_MPA_M05;
        assert_close("K", intensity, 2.72, Tolerance::printed(2), PRINTED);
    }

    #[test]
    fn critical_distance_of_weak_iron() {
        // Class 20 with 320 N/mm^1.5 gives about 1.7 mm.
        let distance = critical_distance_mm(320.0, 137.9);
        assert_close("L", distance, 1.7, Tolerance::printed(1), PRINTED);
    }

    #[test]
    fn compression_opens_nothing() {
        assert_eq!(critical_depth_mm(320.0, -5.0), f64::INFINITY);
        assert_eq!(edge_crack_intensity_n_mm15(-5.0, 3.0), 0.0);
        assert!(edge_crack_intensity_n_mm15(f64::NAN, 3.0).is_nan());
        assert!(critical_depth_mm(320.0, f64::NAN).is_nan());
        assert!(within_range(10.0, 20.0) && !within_range(10.1, 20.0));
        assert!(!within_range(f64::NAN, 20.0));
    }
}
