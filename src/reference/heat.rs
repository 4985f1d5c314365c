//! Thick ring or solid shaft with a temperature that grows along the radius: thermal stresses.
//!
//! Lacks heat flow (the temperature is given) and end effects. Units: mm, MPa, K.
//! Source: Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 150 (disc) and 151 (long
//! cylinder); article numbers from memory.

use crate::reference::annulus::{Annulus, Elastic, Plane, RadialHoop};

/// Stresses from T = T₀ + k·r in a ring whose faces are free or held (an inner radius of 0 is a shaft):
/// σr = c/r²·[(r²−a²)/(b²−a²)·J(b) − J(r)], σθ = c/r²·[(r²+a²)/(b²−a²)·J(b) + J(r) − Tr²], with
/// J(r) = ∫Tr dr from a to r and c = αE for free faces, αE/(1−ν) for held ones. T₀ drops out.
#[must_use]
pub fn radial_heat_stress(
    ring: Annulus,
    elastic: Elastic,
    plane: Plane,
    expansion_per_k: f64,
    slope_k_mm: f64,
    radius_mm: f64,
) -> RadialHoop {
    let (a, b, r) = (ring.inner_mm, ring.outer_mm, radius_mm);
    let scale = elastic.young_mpa * expansion_per_k;
    let scale = match plane {
        Plane::Stress => scale,
        Plane::Strain => scale / (1.0 - elastic.poisson),
    };
    let heat = |to: f64| slope_k_mm * (to.powi(3) - a.powi(3)) / 3.0;
    let share = heat(b) / (b * b - a * a);
    let here = heat(r) / (r * r);
    let hole = a * a / (r * r);
    RadialHoop {
        radial_mpa: scale * ((1.0 - hole) * share - here),
        hoop_mpa: scale * ((1.0 + hole) * share + here - slope_k_mm * r),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const ELASTIC: Elastic = Elastic { young_mpa: 110e3, poisson: 0.26 };

    #[test]
    fn surfaces_are_free_and_the_section_is_balanced() {
        for inner in [0.0, 40.0] {
            let ring = Annulus { inner_mm: inner, outer_mm: 90.0 };
            let at = |r| radial_heat_stress(ring, ELASTIC, Plane::Strain, 1.1e-5, 0.7, r);
            let reason = "rounding only";
            let tolerance = Tolerance::Absolute(1e-10);
            assert_close("outside", at(90.0).radial_mpa, 0.0, tolerance, reason);
            if inner > 0.0 {
                assert_close("bore", at(inner).radial_mpa, 0.0, tolerance, reason);
            }
            // d(rσr)/dr = σθ, and the strains of the free ring are compatible: εr = d(rεθ)/dr.
            let step = 1e-3;
            for r in [45.0, 70.0] {
                let (low, here, high) = (at(r - step), at(r), at(r + step));
                let slope = |plus: f64, minus: f64| (plus - minus) / (2.0 * step);
                let carried = slope(high.radial_mpa * (r + step), low.radial_mpa * (r - step));
                let reason = "central differences are exact to the square of the step";
                assert_close("σθ", carried, here.hoop_mpa, Tolerance::Absolute(1e-6), reason);
                let free = |r| radial_heat_stress(ring, ELASTIC, Plane::Stress, 1.1e-5, 0.7, r);
                let heat = |r: f64| 110e3 * 1.1e-5 * 0.7 * r;
                let hoop = |r| free(r).hoop_mpa - 0.26 * free(r).radial_mpa + heat(r);
                let radial = free(r).radial_mpa - 0.26 * free(r).hoop_mpa + heat(r);
                let stretched = slope(hoop(r + step) * (r + step), hoop(r - step) * (r - step));
                assert_close("Eεr", stretched, radial, Tolerance::Absolute(1e-6), reason);
            }
        }
    }

    #[test]
    fn a_thin_ring_bends_through_its_wall() {
        // With a steep slope through a thin wall the faces carry ±αEΔT/(2(1−ν)) when held.
        let ring = Annulus { inner_mm: 999.0, outer_mm: 1001.0 };
        let at = |r| radial_heat_stress(ring, ELASTIC, Plane::Strain, 1.1e-5, 10.0, r).hoop_mpa;
        let expected = 110e3 * 1.1e-5 * 20.0 / (2.0 * (1.0 - 0.26));
        let reason = "the wall over the radius is 0.002";
        assert_close("bore", at(999.0), expected, Tolerance::Relative(2e-3), reason);
        assert_close("outside", at(1001.0), -expected, Tolerance::Relative(2e-3), reason);
    }
}
