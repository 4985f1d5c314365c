//! Solid disc pressed across a diameter: by point loads and by opposed pressure strips.
//!
//! Lacks contact mechanics: the loads are given. Plane problem, any Poisson's ratio. ρ = r/R is the
//! radius over the disc's radius, θ runs from the loaded diameter. Units: mm, N, MPa, rad.
//! Sources: Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 41 (point loads, number from
//! memory); Hondros, Australian Journal of Applied Science 10 (1959) 243–268 (strips); the series
//! is derived here from Michell's stress function.

use std::f64::consts::PI;

/// In-plane stresses in polar components, MPa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Polar {
    pub radial_mpa: f64,
    pub hoop_mpa: f64,
    pub shear_mpa: f64,
}

/// Tension across the loaded diameter under two point loads P (N), MPa: 2P/(πDt), the same all
/// along the diameter.
#[must_use]
pub fn point_load_across_mpa(load_n: f64, diameter_mm: f64, thickness_mm: f64) -> f64 {
    2.0 * load_n / (PI * diameter_mm * thickness_mm)
}

/// Stress along the loaded diameter over the tension across it, at the fraction y/D from the
/// centre: −(4/(1 − 4(y/D)²) − 1). Infinite under the loads, at y/D = ±1/2.
#[must_use]
pub fn point_load_along_factor(fraction: f64) -> f64 {
    1.0 - 4.0 / (1.0 - 4.0 * fraction.powi(2))
}

/// Stresses on the loaded diameter per unit pressure of two opposed strips over ±α (Hondros):
/// σθ = (2/π)(A − B), σr = −(2/π)(A + B), with A = (1−ρ²) sin 2α/(1 − 2ρ² cos 2α + ρ⁴) and
/// B = atan((1+ρ²)/(1−ρ²)·tan α). Valid for 0 ≤ ρ < 1.
#[must_use]
pub fn strip_on_diameter(half_angle_rad: f64, rho: f64) -> Polar {
    let rho2 = rho.powi(2);
    let twice = 2.0 * half_angle_rad;
    let a = (1.0 - rho2) * twice.sin() / (1.0 - 2.0 * rho2 * twice.cos() + rho2.powi(2));
    let b = ((1.0 + rho2) / (1.0 - rho2) * half_angle_rad.tan()).atan();
    Polar { radial_mpa: -2.0 / PI * (a + b), hoop_mpa: 2.0 / PI * (a - b), shear_mpa: 0.0 }
}

/// Stresses anywhere in the disc per unit pressure of two opposed strips over ±α, from the even
/// harmonics up to `harmonics`.
///
/// With q₀ = 2α/π and q_n = 4 sin(nα)/(nπ) the Michell functions rⁿ cos nθ and rⁿ⁺² cos nθ give
/// σr = −q₀ − Σ (q_n/2)(nρⁿ⁻² − (n−2)ρⁿ) cos nθ, σθ = −q₀ + Σ (q_n/2)(nρⁿ⁻² − (n+2)ρⁿ) cos nθ,
/// τrθ = Σ (n q_n/2)(ρⁿ⁻² − ρⁿ) sin nθ, n even (derived; the rim then carries σr = −q, τ = 0).
#[must_use]
pub fn strip_series(half_angle_rad: f64, rho: f64, theta_rad: f64, harmonics: u32) -> Polar {
    let uniform = 2.0 * half_angle_rad / PI;
    let mut stress = Polar { radial_mpa: -uniform, hoop_mpa: -uniform, shear_mpa: 0.0 };
    let rho2 = rho.powi(2);
    let mut power = 1.0;
    for harmonic in (2..=harmonics).step_by(2) {
        let n = f64::from(harmonic);
        let half_load = 2.0 * (n * half_angle_rad).sin() / (n * PI);
        let (low, high) = (power, power * rho2);
        let (sin, cos) = (n * theta_rad).sin_cos();
        stress.radial_mpa -= half_load * (n * low - (n - 2.0) * high) * cos;
        stress.hoop_mpa += half_load * (n * low - (n + 2.0) * high) * cos;
        stress.shear_mpa += half_load * n * (low - high) * sin;
        power = high;
    }
    stress
}

/// Stresses in the disc per unit pressure of a single strip over ±α, its sideways force taken up by a
/// pressure −(2 sin α/π)·cos θ all round, from the harmonics up to `harmonics`.
///
/// The same Michell functions as in [`strip_series`], with q₀ = α/π and q_n = 2 sin(nα)/(nπ) for every
/// n ≥ 2; the first harmonic of the strip and of the pressure all round cancel (derived).
#[must_use]
pub fn balanced_strip_series(half_angle_rad: f64, rho: f64, theta_rad: f64, harmonics: u32) -> Polar {
    let uniform = half_angle_rad / PI;
    let mut stress = Polar { radial_mpa: -uniform, hoop_mpa: -uniform, shear_mpa: 0.0 };
    let mut power = 1.0;
    for harmonic in 2..=harmonics {
        let n = f64::from(harmonic);
        let half_load = (n * half_angle_rad).sin() / (n * PI);
        let (low, high) = (power, power * rho.powi(2));
        let (sin, cos) = (n * theta_rad).sin_cos();
        stress.radial_mpa -= half_load * (n * low - (n - 2.0) * high) * cos;
        stress.hoop_mpa += half_load * (n * low - (n + 2.0) * high) * cos;
        stress.shear_mpa += half_load * n * (low - high) * sin;
        power *= rho;
    }
    stress
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    #[test]
    fn point_loads() {
        for (fraction, reference, decimals) in [(0.0, -3.0, 0), (0.2, -3.7619, 4), (0.4, -10.111, 3)] {
            let factor = point_load_along_factor(fraction);
            assert_close("along", factor, reference, Tolerance::printed(decimals), PRINTED);
        }
        // A narrow strip with the same load tends to the point load; its pressure is P/(2αRt).
        let (alpha, radius) = (1e-3, 50.0);
        let pressure = 1000.0 / (2.0 * alpha * radius * 8.0);
        let strip = strip_on_diameter(alpha, 0.4);
        let across = point_load_across_mpa(1000.0, 2.0 * radius, 8.0);
        let reason = "the strip is 1e-3 rad wide, its effect falls with the square";
        let tolerance = Tolerance::Relative(1e-5);
        assert_close("across", strip.hoop_mpa * pressure, across, tolerance, reason);
        let along = across * point_load_along_factor(0.2);
        assert_close("along", strip.radial_mpa * pressure, along, tolerance, reason);
    }

    /// Half-angle in degrees, ρ, σθ/p, σr/p.
    const STRIPS: [(f64, f64, f64, f64); 9] = [
        (5.0, 0.0, 0.05499, -0.16610),
        (5.0, 0.5, 0.05325, -0.23761),
        (5.0, 0.75, 0.03917, -0.42477),
        (10.0, 0.0, 0.10663, -0.32885),
        (10.0, 0.5, 0.09358, -0.45751),
        (10.0, 0.75, 0.00966, -0.72522),
        (15.0, 0.0, 0.15164, -0.48498),
        (15.0, 0.5, 0.11186, -0.64663),
        (15.0, 0.75, -0.07896, -0.89304),
    ];

    #[test]
    fn strips_on_the_diameter() {
        for (degrees, rho, hoop, radial) in STRIPS {
            let stress = strip_on_diameter(degrees.to_radians(), rho);
            let tolerance = Tolerance::printed(5);
            assert_close("σθ/p", stress.hoop_mpa, hoop, tolerance, PRINTED);
            assert_close("σr/p", stress.radial_mpa, radial, tolerance, PRINTED);
        }
    }

    #[test]
    fn series_agrees_with_the_closed_form() {
        for (degrees, rho, ..) in STRIPS {
            let closed = strip_on_diameter(degrees.to_radians(), rho);
            let series = strip_series(degrees.to_radians(), rho, 0.0, 200);
            let reason = "the terms fall as 0.75^n, 200 harmonics leave rounding only";
            let tolerance = Tolerance::Absolute(1e-12);
            assert_close("σθ/p", series.hoop_mpa, closed.hoop_mpa, tolerance, reason);
            assert_close("σr/p", series.radial_mpa, closed.radial_mpa, tolerance, reason);
        }
    }

    #[test]
    fn two_balanced_strips_are_the_opposed_pair() {
        // What each strip leaves sideways the other takes back, at any place.
        let (alpha, rho, theta) = (0.4, 0.8, 0.5);
        let one = balanced_strip_series(alpha, rho, theta, 300);
        let other = balanced_strip_series(alpha, rho, theta - PI, 300);
        let pair = strip_series(alpha, rho, theta, 300);
        let reason = "the same terms in another order, rounding only";
        let tolerance = Tolerance::Absolute(1e-12);
        assert_close("σr/p", one.radial_mpa + other.radial_mpa, pair.radial_mpa, tolerance, reason);
        assert_close("σθ/p", one.hoop_mpa + other.hoop_mpa, pair.hoop_mpa, tolerance, reason);
        assert_close("τ/p", one.shear_mpa + other.shear_mpa, pair.shear_mpa, tolerance, reason);
    }

    #[test]
    fn series_carries_the_pressure_on_the_rim() {
        let alpha = 15f64.to_radians();
        let reason = "partial sums of the jump at the strip's end ring like 1/(n·distance)";
        for (theta, pressure) in [(0.0, 1.0), (0.7, 0.0), (1.5, 0.0)] {
            let stress = strip_series(alpha, 1.0, theta, 20_000);
            let tolerance = Tolerance::Absolute(1e-4);
            assert_close("σr/p", stress.radial_mpa, -pressure, tolerance, reason);
            assert_close("τ/p", stress.shear_mpa, 0.0, tolerance, reason);
        }
    }

    #[test]
    fn series_is_in_equilibrium_off_the_axes() {
        // Along the radius: ∂σr/∂ρ + (∂τ/∂θ)/ρ + (σr − σθ)/ρ = 0, by central differences.
        let (alpha, rho, theta, step) = (0.2, 0.6, 0.4, 1e-4);
        let at = |rho, theta| strip_series(alpha, rho, theta, 200);
        let slope = |plus: f64, minus: f64| (plus - minus) / (2.0 * step);
        let d_radial = slope(at(rho + step, theta).radial_mpa, at(rho - step, theta).radial_mpa);
        let d_shear = slope(at(rho, theta + step).shear_mpa, at(rho, theta - step).shear_mpa);
        let here = at(rho, theta);
        let residual = d_radial + (d_shear + here.radial_mpa - here.hoop_mpa) / rho;
        let reason = "central differences are exact to the square of the step";
        assert_close("residual", residual, 0.0, Tolerance::Absolute(1e-6), reason);
        assert!(d_radial.abs() > 0.01, "the test must have something to balance");
    }
}
