//! Tube under pressures that vary as cos nθ on its surfaces: plane stresses by Michell's solution.
//!
//! Lacks shear tractions on the surfaces and end effects. Amplitudes: σr and σθ go with cos nθ, τ with
//! sin nθ. Units: mm, MPa.
//! Source: Michell, Proceedings of the London Mathematical Society 31 (1899) 100–124, as in Timoshenko &
//! Goodier, Theory of Elasticity, 3rd ed., art. 43 (article number from memory); constants derived here.

use crate::reference::annulus::{Annulus, Elastic};
use crate::reference::disc::Polar;
use nalgebra::{Matrix4, Vector4};

/// Constants of harmonic 1, plane strain: (A, B, K) of the displacements
/// u = ((1−4ν)Ar² − B/r² + K((3−4ν)ln r − 1))/G, v = ((5−4ν)Ar² − B/r² − K(3−4ν)ln r)/G.
fn sideways_constants(ring: Annulus, outside_mpa: f64, poisson: f64) -> [f64; 3] {
    let (a2, b2) = (ring.inner_mm.powi(2), ring.outer_mm.powi(2));
    // σr − τ is 8(1−ν)K/r, and the outside carries −p and no shear.
    let k = -outside_mpa * ring.outer_mm / (8.0 * (1.0 - poisson));
    // No shear on either surface: Ar² + B/r² = K(1−2ν)/2 at both radii.
    let half = k * (1.0 - 2.0 * poisson) / 2.0;
    [half / (a2 + b2), half * a2 * b2 / (a2 + b2), k]
}

/// Stresses of a long tube pressed sideways by p·cos θ outside and p·(b/a)·cos θ inside, which balance:
/// σr = 4Ar + 4B/r³ + 2(3−2ν)K/r, σθ = 12Ar − 4B/r³ − 2(1−2ν)K/r, τ = 4Ar + 4B/r³ − 2(1−2ν)K/r
/// (plane strain; the displacements are single-valued).
#[must_use]
pub fn sideways_stress(ring: Annulus, outside_mpa: f64, poisson: f64, radius_mm: f64) -> Polar {
    let [a, b, k] = sideways_constants(ring, outside_mpa, poisson);
    let (grow, fall) = (4.0 * a * radius_mm, 4.0 * b / radius_mm.powi(3));
    let line = 2.0 * k / radius_mm;
    let weak = (1.0 - 2.0 * poisson) * line;
    Polar {
        radial_mpa: grow + fall + (3.0 - 2.0 * poisson) * line,
        hoop_mpa: 3.0 * grow - fall - weak,
        shear_mpa: grow + fall - weak,
    }
}

/// Radial and circumferential displacement of the same tube (amplitudes of cos θ and sin θ, mm), but
/// for a rigid shift c that adds c to the first and −c to the second.
#[must_use]
pub fn sideways_displacement_mm(
    ring: Annulus,
    outside_mpa: f64,
    elastic: Elastic,
    radius_mm: f64,
) -> (f64, f64) {
    let nu = elastic.poisson;
    let [a, b, k] = sideways_constants(ring, outside_mpa, nu);
    let shear_modulus = elastic.young_mpa / (2.0 * (1.0 + nu));
    let (grow, fall) = (a * radius_mm.powi(2), b / radius_mm.powi(2));
    let line = k * (3.0 - 4.0 * nu) * radius_mm.ln();
    let radial = (1.0 - 4.0 * nu) * grow - fall + line - k;
    (radial / shear_modulus, ((5.0 - 4.0 * nu) * grow - fall - line) / shear_modulus)
}

/// Stresses of a tube under p·cos nθ outside, n ≥ 2, from Michell's function
/// (Aρⁿ + Bρⁿ⁺² + Cρ⁻ⁿ + Dρ²⁻ⁿ) cos nθ with ρ = r/b: a power ρᵐ gives σr = (m − n²)ρᵐ⁻²,
/// σθ = m(m−1)ρᵐ⁻², τ = n(m−1)ρᵐ⁻². The same in plane stress and plane strain, for any ν.
#[must_use]
pub fn fourier_stress(ring: Annulus, harmonic: u32, outside_mpa: f64, radius_mm: f64) -> Option<Polar> {
    let n = f64::from(harmonic);
    let powers = [n, n + 2.0, -n, 2.0 - n];
    let terms = |rho: f64| {
        powers.map(|m| {
            let fall = rho.powf(m - 2.0);
            [(m - n * n) * fall, m * (m - 1.0) * fall, n * (m - 1.0) * fall]
        })
    };
    let (inner, outer) = (terms(ring.inner_mm / ring.outer_mm), terms(1.0));
    // Rows: radial and shear stress outside, then inside.
    let matrix = Matrix4::from_fn(|row, column| match row {
        0 => outer[column][0],
        1 => outer[column][2],
        2 => inner[column][0],
        _ => inner[column][2],
    });
    let constants = matrix.lu().solve(&Vector4::new(-outside_mpa, 0.0, 0.0, 0.0))?;
    let here = terms(radius_mm / ring.outer_mm);
    let sum = |index: usize| (0..4).map(|i| constants[i] * here[i][index]).sum();
    Some(Polar { radial_mpa: sum(0), hoop_mpa: sum(1), shear_mpa: sum(2) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};
    use crate::reference::ring::fourier_load;

    const RING: Annulus = Annulus { inner_mm: 60.0, outer_mm: 90.0 };
    const ELASTIC: Elastic = Elastic { young_mpa: 110e3, poisson: 0.26 };

    /// Both equations of equilibrium of amplitudes, by central differences.
    fn is_balanced(n: f64, at: impl Fn(f64) -> Polar) {
        let step = 1e-3;
        for r in [62.0, 71.0, 88.0] {
            let (low, here, high) = (at(r - step), at(r), at(r + step));
            let slope = |of: fn(&Polar) -> f64| (of(&high) - of(&low)) / (2.0 * step);
            let radial = slope(|s| s.radial_mpa) + (n * here.shear_mpa + here.radial_mpa - here.hoop_mpa) / r;
            let hoop = slope(|s| s.shear_mpa) + (2.0 * here.shear_mpa - n * here.hoop_mpa) / r;
            let reason = "central differences are exact to the square of the step";
            assert_close("radial balance", radial, 0.0, Tolerance::Absolute(1e-7), reason);
            assert_close("hoop balance", hoop, 0.0, Tolerance::Absolute(1e-7), reason);
            assert!(here.hoop_mpa.abs() > 0.01, "the test must have something to balance");
        }
    }

    #[test]
    fn the_tube_is_balanced_and_carries_its_pressures() {
        let reason = "the same sum, rounding only";
        let tolerance = Tolerance::Absolute(1e-11);
        let sideways = |r| sideways_stress(RING, 3.0, 0.26, r);
        is_balanced(1.0, sideways);
        for (r, pressure) in [(90.0, 3.0), (60.0, 4.5)] {
            assert_close("pressure", sideways(r).radial_mpa, -pressure, tolerance, reason);
            assert_close("shear", sideways(r).shear_mpa, 0.0, tolerance, reason);
        }
        for n in [2, 3, 7] {
            let at = |r| fourier_stress(RING, n, 3.0, r).expect("a ring has a solution");
            is_balanced(f64::from(n), at);
            for (r, pressure) in [(90.0, 3.0), (60.0, 0.0)] {
                assert_close("pressure", at(r).radial_mpa, -pressure, tolerance, reason);
                assert_close("shear", at(r).shear_mpa, 0.0, tolerance, reason);
            }
        }
    }

    #[test]
    fn the_sideways_displacements_give_the_stresses_by_hookes_law() {
        let (young, nu, step) = (ELASTIC.young_mpa, ELASTIC.poisson, 1e-3);
        let at = |r| sideways_displacement_mm(RING, 3.0, ELASTIC, r);
        let shear = young / (2.0 * (1.0 + nu));
        let lambda = 2.0 * shear * nu / (1.0 - 2.0 * nu);
        for r in [61.0, 75.0, 89.0] {
            let ((u0, v0), (u, v), (u1, v1)) = (at(r - step), at(r), at(r + step));
            let radial = (u1 - u0) / (2.0 * step);
            let hoop = (u + v) / r;
            let stress = sideways_stress(RING, 3.0, nu, r);
            let slide = shear * ((v1 - v0) / (2.0 * step) - (u + v) / r);
            let reason = "central differences are exact to the square of the step";
            let tolerance = Tolerance::Absolute(1e-6);
            let spread = lambda * (radial + hoop);
            let what = "σr, σθ, τ from the displacements";
            assert_close(what, spread + 2.0 * shear * radial, stress.radial_mpa, tolerance, reason);
            assert_close(what, spread + 2.0 * shear * hoop, stress.hoop_mpa, tolerance, reason);
            assert_close(what, slide, stress.shear_mpa, tolerance, reason);
        }
    }

    #[test]
    fn a_thin_tube_bends_like_a_ring() {
        // Its moment ∫σθ(r − R)dr against the thin ring's, which statics alone gives.
        let thin = Annulus { inner_mm: 198.0, outer_mm: 202.0 };
        for n in [2, 5] {
            let steps = 400;
            let width = 4.0 / f64::from(steps);
            let moment: f64 = (0..steps)
                .map(|i| {
                    let r = 198.0 + (f64::from(i) + 0.5) * width;
                    let stress = fourier_stress(thin, n, 1.0, r).expect("a ring has a solution");
                    stress.hoop_mpa * (r - 200.0) * width
                })
                .sum();
            // Positive moments put the inside in tension; pressure times its radius is carried on.
            let (expected, _) = fourier_load(n, 202.0 / 200.0, 200.0, 1.0);
            let reason = "the midpoint rule with 400 steps, exact to their square";
            assert_close("M", -moment, expected, Tolerance::Relative(1e-4), reason);
        }
    }
}
