//! Thin ring in its own plane: opposite loads, equally spaced loads, Fourier loads, curved-beam factors.
//!
//! Lacks extension of the centre line and shear deformation: bending only. θ runs from a load.
//! A moment is positive when it puts the inside of the ring in tension. Units: mm, N, N·mm, rad.
//! Sources: Roark's Formulas for Stress and Strain, table 9.2 cases 1 and 7 (case numbers from
//! memory); Timoshenko, Strength of Materials, part II, for the Fourier rule; Shigley, Mechanical
//! Engineering Design, section 3-18, for the curved beam (section number from memory).

use std::f64::consts::{FRAC_1_PI, PI};

/// Bending moment per W·R under two opposite radial loads W that press the ring together, at the
/// angle θ from one of them: m = 1/π − |sin θ|/2 (Roark table 9.2 case 1).
#[must_use]
pub fn opposite_loads_moment(theta_rad: f64) -> f64 {
    FRAC_1_PI - theta_rad.sin().abs() / 2.0
}

/// Normal force per W under two opposite radial loads W that press the ring together:
/// n = −|sin θ|/2 (Roark table 9.2 case 1).
#[must_use]
pub fn opposite_loads_normal_force(theta_rad: f64) -> f64 {
    -theta_rad.sin().abs() / 2.0
}

/// Change of the loaded diameter under two opposite loads, per W·R³/(E·I): −(π/4 − 2/π)
/// (Roark table 9.2 case 1).
#[must_use]
pub fn opposite_loads_diameter_along() -> f64 {
    -(PI / 4.0 - 2.0 * FRAC_1_PI)
}

/// Change of the diameter square to two opposite loads, per W·R³/(E·I): 2/π − 1/2
/// (Roark table 9.2 case 1).
#[must_use]
pub fn opposite_loads_diameter_across() -> f64 {
    2.0 * FRAC_1_PI - 0.5
}

/// Changes of the loaded diameter and of the one square to it under two opposite loads, per W·R³/(E·I),
/// with stretching and shear of a ring of rectangular section (depth h, width b, h = depth/R):
/// −(k₁π/4 − 2k₂²/π) and k₁/2 − k₂ + 2k₂²/π, k₁ = 1 − α + β, k₂ = 1 − α, α = h²/12,
/// β = 1.2·2(1+ν)·h²/12 (Roark table 9.2 case 1, from memory).
#[must_use]
pub fn opposite_loads_diameters(depth_to_radius: f64, poisson: f64) -> (f64, f64) {
    let hoop = depth_to_radius.powi(2) / 12.0;
    let shear = 2.4 * (1.0 + poisson) * hoop;
    let (k1, k2) = (1.0 - hoop + shear, 1.0 - hoop);
    let square = 2.0 * FRAC_1_PI * k2 * k2;
    (-(k1 * PI / 4.0 - square), k1 / 2.0 - k2 + square)
}

/// Moments per W·R at the middle of a patch and at 90° from it, under two opposite patches of
/// uniform radial load that reach over ±α and carry W = 2αR·q each.
///
/// Mean of [`opposite_loads_moment`] over the patch: m0 = 1/π − (1 − cos α)/(2α),
/// m90 = 1/π − sin α/(2α). Valid for 0 < α ≤ π/2.
#[must_use]
pub fn opposite_patches_moment(half_angle_rad: f64) -> (f64, f64) {
    let twice = 2.0 * half_angle_rad;
    (FRAC_1_PI - (1.0 - half_angle_rad.cos()) / twice, FRAC_1_PI - half_angle_rad.sin() / twice)
}

/// Amplitudes of moment (N·mm) and inward displacement (mm) of a ring under an inward line load
/// q_n·cos nθ (N/mm), n ≥ 2: M_n = q_n R²/(n²−1), w_n = q_n R⁴/(E·I·(n²−1)²)
/// (Timoshenko, Strength of Materials, part II).
#[must_use]
pub fn fourier_load(
    harmonic: u32,
    load_n_mm: f64,
    radius_mm: f64,
    bending_stiffness_n_mm2: f64,
) -> (f64, f64) {
    let order = f64::from(harmonic).powi(2) - 1.0;
    let moment = load_n_mm * radius_mm.powi(2) / order;
    (moment, moment * radius_mm.powi(2) / (bending_stiffness_n_mm2 * order))
}

/// Moment and normal force of a ring under n equal, equally spaced radial loads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EqualLoads {
    /// Moment at a load, per W·R; outward loads.
    pub moment_at_load: f64,
    /// Moment midway between loads, per W·R.
    pub moment_midway: f64,
    /// Normal force at a load, per W.
    pub normal_at_load: f64,
    /// Normal force midway between loads, per W.
    pub normal_midway: f64,
}

/// Ring under n equal outward radial loads W, with θ = π/n: M at a load −(1/θ − cot θ)/2, midway
/// (1/sin θ − 1/θ)/2, N at a load cot θ/2, midway 1/(2 sin θ) (Roark table 9.2 case 7).
#[must_use]
pub fn equal_loads(count: u32) -> EqualLoads {
    let theta = PI / f64::from(count);
    let cot = theta.tan().recip();
    let csc = theta.sin().recip();
    EqualLoads {
        moment_at_load: -(theta.recip() - cot) / 2.0,
        moment_midway: (csc - theta.recip()) / 2.0,
        normal_at_load: cot / 2.0,
        normal_midway: csc / 2.0,
    }
}

/// Factors on the straight-beam stress 6M/h² (unit width) at the inside and outside of a curved
/// beam of rectangular section, from the ratio of its centre radius R to its depth h.
///
/// Winkler: r_n = h/ln(r_o/r_i), σ = M·(r_n − r)/(h·e·r), e = R − r_n (Shigley eq. 3-65, number from
/// memory).
#[must_use]
pub fn curved_beam_factors(radius_to_depth: f64) -> (f64, f64) {
    let (inner, outer) = (radius_to_depth - 0.5, radius_to_depth + 0.5);
    let neutral = (outer / inner).ln().recip();
    let offset = radius_to_depth - neutral;
    let factor = |radius: f64| (neutral - radius).abs() / (6.0 * offset * radius);
    (factor(inner), factor(outer))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    #[test]
    #[expect(clippy::approx_constant, reason = "the printed value is what is tested")]
    fn two_opposite_loads() {
        let tolerance = Tolerance::printed(5);
        for (what, computed, reference) in [
            ("M at the load", opposite_loads_moment(0.0), 0.31831),
            ("M at 90°", opposite_loads_moment(FRAC_PI_2), -0.18169),
            ("N at 90°", opposite_loads_normal_force(FRAC_PI_2), -0.5),
            ("ΔV", opposite_loads_diameter_along(), -0.14878),
            ("ΔH", opposite_loads_diameter_across(), 0.13662),
        ] {
            assert_close(what, computed, reference, tolerance, PRINTED);
        }
    }

    #[test]
    fn two_opposite_patches() {
        for (degrees, at_load, square) in [
            (5.0f64, 0.29651, -0.18106),
            (10.0, 0.27479, -0.17916),
            (15.0, 0.25323, -0.17600),
            (30.0, 0.19037, -0.15915),
            (45.0, 0.13185, -0.13185),
            (60.0, 0.07958, -0.09519),
            (90.0, 0.0, 0.0),
        ] {
            let (m0, m90) = opposite_patches_moment(degrees.to_radians());
            let tolerance = Tolerance::printed(5);
            assert_close("M at the patch", m0, at_load, tolerance, PRINTED);
            assert_close("M at 90°", m90, square, tolerance, PRINTED);
        }
    }

    #[test]
    fn fourier_rule_rebuilds_the_patches() {
        // Two opposite patches hold even harmonics only: q_n = 4 q sin(nα)/(nπ), with W = 2αRq.
        let alpha = 10f64.to_radians();
        let (radius, load) = (265.0, 3.0);
        let moment: f64 = (2..=4000u32)
            .step_by(2)
            .map(|n| {
                let order = f64::from(n);
                let amplitude = 4.0 * load * (order * alpha).sin() / (order * PI);
                fourier_load(n, amplitude, radius, 1.0).0
            })
            .sum();
        let per_wr = moment / (2.0 * alpha * radius.powi(2) * load);
        let reason = "4000 harmonics; the terms fall with the cube of the order";
        let closed = opposite_patches_moment(alpha).0;
        assert_close("M at the patch", per_wr, closed, Tolerance::Absolute(1e-7), reason);
    }

    #[test]
    fn fourier_rule_rebuilds_the_diameter_change() {
        // Two opposite point loads: q_n = 2W/(πR) for even n ≥ 2, both sides move by w.
        let (radius, stiffness) = (265.0f64, 7.0e9);
        let inward: f64 = (2..=400u32)
            .step_by(2)
            .map(|n| fourier_load(n, 2.0 * FRAC_1_PI / radius, radius, stiffness).1)
            .sum();
        let change = -2.0 * inward * stiffness / radius.powi(3);
        let reason = "400 harmonics; the terms fall with the fourth power of the order";
        let closed = opposite_loads_diameter_along();
        assert_close("ΔV", change, closed, Tolerance::Absolute(1e-7), reason);
    }

    #[test]
    fn a_very_thin_ring_does_not_stretch() {
        let (along, across) = opposite_loads_diameters(1e-6, 0.26);
        let reason = "stretch and shear fall with the square of the depth";
        let tolerance = Tolerance::Absolute(1e-11);
        assert_close("ΔV", along, opposite_loads_diameter_along(), tolerance, reason);
        assert_close("ΔH", across, opposite_loads_diameter_across(), tolerance, reason);
        let thick = opposite_loads_diameters(0.3, 0.26).0;
        let hoop = 0.3f64.powi(2) / 12.0;
        let (stretch, shear) = (PI / 4.0, 2.4 * 1.26 * PI / 4.0);
        // Energies of shear and stretch under the thin ring's own forces, and the moment of the stretch.
        let first = opposite_loads_diameter_along() - hoop * (shear - stretch + 4.0 * FRAC_1_PI);
        let reason = "first order in h²/12, the rest is its square";
        assert_close("ΔV", thick, first, Tolerance::Absolute(hoop * hoop), reason);
    }

    #[test]
    fn equally_spaced_loads() {
        for (count, at_load, midway) in [
            (3, -0.18879, 0.09989),
            (4, -0.13662, 0.07049),
            (5, -0.10758, 0.05488),
            (6, -0.08890, 0.04507),
            (8, -0.06613, 0.03332),
        ] {
            let ring = equal_loads(count);
            let tolerance = Tolerance::printed(5);
            assert_close("M at a load", ring.moment_at_load, at_load, tolerance, PRINTED);
            assert_close("M midway", ring.moment_midway, midway, tolerance, PRINTED);
        }
    }

    #[test]
    fn two_of_the_equal_loads_are_the_opposite_loads() {
        let ring = equal_loads(2);
        let reason = "the same ring by two formulas, rounding only";
        let tolerance = Tolerance::Absolute(1e-12);
        // The equal loads pull outwards, the opposite loads press together.
        let pressed = -opposite_loads_moment(0.0);
        assert_close("M at a load", ring.moment_at_load, pressed, tolerance, reason);
        let pressed = -opposite_loads_moment(FRAC_PI_2);
        assert_close("M midway", ring.moment_midway, pressed, tolerance, reason);
        let pressed = -opposite_loads_normal_force(FRAC_PI_2);
        assert_close("N midway", ring.normal_midway, pressed, tolerance, reason);
        assert_close("N at a load", ring.normal_at_load, 0.0, tolerance, reason);
    }

    #[test]
    fn winkler_factors() {
        for (ratio, inside, outside) in
            [(3.0, 1.1244, 0.8984), (5.0, 1.0711, 0.9370), (8.0, 1.0433, 0.9598), (10.0, 1.0344, 0.9676)]
        {
            let (inner, outer) = curved_beam_factors(ratio);
            let tolerance = Tolerance::printed(4);
            assert_close("inside", inner, inside, tolerance, PRINTED);
            assert_close("outside", outer, outside, tolerance, PRINTED);
        }
    }
}
