//! Thin circular plates and an annular web, bent by loads square to their plane.
//!
//! Lacks membrane action; shear deformation stands by itself, to be added. Results are dimensionless: displacement per q·a⁴/D,
//! W·a²/D or w·a³/D, moments per q·a² or w·a; moments are positive when they put the face away
//! from the load in tension. a is the outer radius.
//! Sources: Roark's Formulas for Stress and Strain, table 11.2 (number from memory); the annular
//! web is derived here from the plate equation.

use std::f64::consts::PI;

/// Displacement and moments of a plate under uniform pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UniformPlate {
    /// Centre displacement per q·a⁴/D.
    pub displacement: f64,
    /// Centre moment per q·a².
    pub centre_moment: f64,
    /// Radial moment at the edge per q·a².
    pub edge_moment: f64,
}

/// Uniform pressure, simply supported edge: y = (5+ν)/(64(1+ν)), M_c = (3+ν)/16
/// (Roark table 11.2 case 10a).
#[must_use]
pub fn uniform_simply_supported(poisson: f64) -> UniformPlate {
    UniformPlate {
        displacement: (5.0 + poisson) / (64.0 * (1.0 + poisson)),
        centre_moment: (3.0 + poisson) / 16.0,
        edge_moment: 0.0,
    }
}

/// Uniform pressure, clamped edge: y = 1/64, M_c = (1+ν)/16, M_edge = −1/8
/// (Roark table 11.2 case 10b).
#[must_use]
pub fn uniform_clamped(poisson: f64) -> UniformPlate {
    UniformPlate { displacement: 1.0 / 64.0, centre_moment: (1.0 + poisson) / 16.0, edge_moment: -0.125 }
}

/// Radial moment per q·a² of the clamped plate at the share x of its radius: ((1+ν) − (3+ν)x²)/16
/// (Roark table 11.2 case 10b; positive as at the centre).
#[must_use]
pub fn uniform_clamped_moment(poisson: f64, share: f64) -> f64 {
    (1.0 + poisson - (3.0 + poisson) * share.powi(2)) / 16.0
}

/// Centre displacement per W·a²/D under a central load W, simply supported:
/// (3+ν)/(16π(1+ν)) (Roark table 11.2 case 16a).
#[must_use]
pub fn central_load_simply_supported(poisson: f64) -> f64 {
    (3.0 + poisson) / (16.0 * PI * (1.0 + poisson))
}

/// Centre displacement per W·a²/D under a central load W, clamped: 1/(16π)
/// (Roark table 11.2 case 16b).
#[must_use]
pub fn central_load_clamped() -> f64 {
    1.0 / (16.0 * PI)
}

/// Centre displacement per W·a²/D of a clamped plate under a load W spread evenly over a central patch,
/// its radius over the plate's being c: (1 − c²(3/4 − ln c))/(16π). With 2(1−c²/2)/(1+ν) added in the
/// bracket the edge is simply supported (Timoshenko & Woinowsky-Krieger art. 16, number from memory).
#[must_use]
pub fn central_patch_clamped(patch_to_edge: f64) -> f64 {
    let square = patch_to_edge.powi(2);
    (1.0 - square * (0.75 - patch_to_edge.ln())) / (16.0 * PI)
}

/// Shear deflections of plates, which add to those of bending: ∫Q dr/(κGt) with κ = 5/6, Q from
/// equilibrium alone (Reissner's factor; Timoshenko & Woinowsky-Krieger art. 39, number from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShearDeflection {
    pub thickness_mm: f64,
    pub young_mpa: f64,
    pub poisson: f64,
}

impl ShearDeflection {
    fn flexibility(self) -> f64 {
        1.2 * 2.0 * (1.0 + self.poisson) / (self.young_mpa * self.thickness_mm)
    }

    /// Under uniform pressure q on a plate of radius a, mm: q·a²/4/(κGt).
    #[must_use]
    pub fn uniform_mm(self, pressure_mpa: f64, radius_mm: f64) -> f64 {
        pressure_mpa * radius_mm.powi(2) / 4.0 * self.flexibility()
    }

    /// Under a load W on a central patch of radius c, mm: W/(2π)·(1/2 + ln(a/c))/(κGt).
    #[must_use]
    pub fn patch_mm(self, load_n: f64, patch_to_edge: f64) -> f64 {
        load_n / (2.0 * PI) * (0.5 - patch_to_edge.ln()) * self.flexibility()
    }

    /// Of a web from hub b to rim a under a line load w (N/mm) on the rim, mm: w·a·ln(a/b)/(κGt).
    #[must_use]
    pub fn web_mm(self, load_n_mm: f64, hub_to_rim: f64, radius_mm: f64) -> f64 {
        -load_n_mm * radius_mm * hub_to_rim.ln() * self.flexibility()
    }
}

/// Annular web clamped at the hub r = b with a line load w (N/mm) on the free rim r = a: rim
/// displacement per w·a³/D and magnitude of the hub's radial moment per w·a.
///
/// With x = r/a the plate equation gives y = −x²(ln x − 1)/4 + C₁ + C₂x² + C₃ ln x; C₂ and C₃ follow
/// from y′ = 0 at the hub and y″ + νy′/x = 0 at the rim, C₁ from y = 0 at the hub (derived).
#[must_use]
pub fn web_rim_load(hub_to_rim: f64, poisson: f64) -> (f64, f64) {
    let b = hub_to_rim;
    let nu = poisson;
    // Hub: 2b C₂ + C₃/b = (b/2) ln b − b/4. Rim: 2(1+ν) C₂ − (1−ν) C₃ = (1−ν)/4.
    let (a11, a12, r1) = (2.0 * b, b.recip(), b / 2.0 * b.ln() - b / 4.0);
    let (a21, a22, r2) = (2.0 * (1.0 + nu), nu - 1.0, (1.0 - nu) / 4.0);
    let determinant = a11 * a22 - a12 * a21;
    let c2 = (r1 * a22 - a12 * r2) / determinant;
    let c3 = (a11 * r2 - r1 * a21) / determinant;
    let shape = |x: f64| -x.powi(2) * (x.ln() - 1.0) / 4.0 + c2 * x.powi(2) + c3 * x.ln();
    // The slope is zero at the hub, so the moment there is the second derivative alone.
    let hub_moment = -(b.ln() / 2.0 + 0.25) + 2.0 * c2 - c3 / b.powi(2);
    (shape(1.0) - shape(b), hub_moment)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    #[test]
    fn circular_plates() {
        let (simple, clamped) = (uniform_simply_supported(0.3), uniform_clamped(0.3));
        let (simple_iron, clamped_iron) = (uniform_simply_supported(0.26), uniform_clamped(0.26));
        for (what, computed, reference, decimals) in [
            ("supported y", simple.displacement, 0.063702, 6),
            ("supported M", simple.centre_moment, 0.20625, 5),
            ("clamped y", clamped.displacement, 0.015625, 6),
            ("clamped M", clamped.centre_moment, 0.08125, 5),
            ("clamped edge M", clamped.edge_moment, -0.125, 3),
            ("supported y, ν 0.26", simple_iron.displacement, 0.065228, 6),
            ("supported M, ν 0.26", simple_iron.centre_moment, 0.20375, 5),
            ("clamped M, ν 0.26", clamped_iron.centre_moment, 0.07875, 5),
            ("load y", central_load_simply_supported(0.3), 0.050501, 6),
            ("load y, clamped", central_load_clamped(), 0.019894, 6),
        ] {
            assert_close(what, computed, reference, Tolerance::printed(decimals), PRINTED);
        }
    }

    #[test]
    fn annular_web() {
        for (ratio, displacement, moment) in
            [(0.2, 0.20153, 1.8285), (0.3, 0.13895, 1.3820), (0.5, 0.05045, 0.7889), (0.7, 0.01032, 0.3909)]
        {
            let (y, m) = web_rim_load(ratio, 0.3);
            assert_close("y", y, displacement, Tolerance::printed(5), PRINTED);
            assert_close("M", m, moment, Tolerance::printed(4), PRINTED);
        }
    }

    #[test]
    fn a_patch_lies_between_a_point_and_the_whole_plate() {
        let reason = "the same plate by two formulas, rounding only";
        let tolerance = Tolerance::Relative(1e-12);
        // Spread over the whole plate W is qπa².
        let whole = central_patch_clamped(1.0) * PI;
        assert_close("whole", whole, uniform_clamped(0.3).displacement, tolerance, reason);
        let clamped = uniform_clamped(0.26);
        assert_close("edge", uniform_clamped_moment(0.26, 1.0), clamped.edge_moment, tolerance, reason);
        assert_close("centre", uniform_clamped_moment(0.26, 0.0), clamped.centre_moment, tolerance, reason);
        let reason = "the patch is 1e-6 of the radius";
        let tolerance = Tolerance::Relative(1e-9);
        assert_close("point", central_patch_clamped(1e-6), central_load_clamped(), tolerance, reason);
        let shear = ShearDeflection { thickness_mm: 3.0, young_mpa: 110e3, poisson: 0.26 };
        let reason = "the same shear by two formulas, rounding only";
        let tolerance = Tolerance::Relative(1e-12);
        let even = shear.uniform_mm(2.0, 50.0);
        assert_close("shear", shear.patch_mm(2.0 * PI * 2500.0, 1.0), even, tolerance, reason);
        // Outside a patch the plate shears like a web that carries W/(2πa) on its rim.
        let outside = shear.patch_mm(700.0, 0.2) - shear.patch_mm(700.0, 1.0);
        let web = shear.web_mm(700.0 / (2.0 * PI * 50.0), 0.2, 50.0);
        assert_close("shear", outside, web, tolerance, reason);
    }

    #[test]
    fn a_narrow_web_is_a_cantilever() {
        // With l = a − b the beam gives y = w·l³/(3D) and M = w·l.
        let length = 1e-3;
        let (y, m) = web_rim_load(1.0 - length, 0.3);
        let reason = "the curvature of the web changes the beam by a few times l/a";
        assert_close("y", y, length.powi(3) / 3.0, Tolerance::Relative(5e-3), reason);
        assert_close("M", m, length, Tolerance::Relative(5e-3), reason);
    }
}
