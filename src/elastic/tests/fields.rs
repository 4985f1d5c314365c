//! Exact fields: bending, opposed strips, uniform stretch and shear.

use super::*;

/// A solid shaft bent by end tractions σ_z = s·(r/R)·cos θ: the exact field is σ_zz alone.
fn bent_shaft() -> Result<Solution, ElasticFault> {
    let (radius, s) = (40.0, 12.0);
    let mut model = tube(0.0, radius, 50.0, 12.0, 0.26);
    for (tag, sign) in [("top", 1.0), ("bottom", -1.0)] {
        let axial = Field { at: 0.0, by_r: sign * s / radius, by_z: 0.0 };
        let value = [Field::default(), Field::default(), axial];
        load(&mut model, Pattern::Traction { tags: vec![tag.into()], value }, Around::Cos(1));
    }
    run_with(&model)
}

/// Largest gap of the bending stresses (MPa).
pub(super) fn bending() -> Result<f64, ElasticFault> {
    let solution = bent_shaft()?;
    let mut gap = Gap::default();
    for (r, z, theta) in [(40.0, 20.0, 0.0), (17.0, 41.0, 2.0), (3.0, 9.0, -0.7)] {
        let (_, s) = solution.at(0, Point::new(r, z), theta).unwrap();
        let exact = 12.0 * r / 40.0 * f64::cos(theta);
        for (c, exact) in [0.0, 0.0, exact, 0.0, 0.0, 0.0].into_iter().enumerate() {
            gap.add(s[c], exact);
        }
    }
    Ok(gap.0)
}

/// A disc between opposed strips of half-angle 15° (Hondros 1959): largest gap over the pressure.
pub(super) fn strips() -> Result<f64, ElasticFault> {
    let alpha = 15f64.to_radians();
    let mut model = tube(0.0, 50.0, 6.0, 3.0, 0.26);
    model.supports = vec![support("bottom", false, false, true), support("top", false, false, true)];
    for middle in [0.0, std::f64::consts::PI] {
        let around = Around::Arc { from: middle - alpha, to: middle + alpha };
        load(&mut model, pressure("outside", 10.0), around);
    }
    let solution = run_with(&model)?;
    let mut gap = Gap::default();
    for (rho, hoop, radial) in
        [(0.002, 0.15164, -0.48498), (0.5, 0.11186, -0.64663), (0.75, -0.07896, -0.89304)]
    {
        let (_, s) = solution.at(0, Point::new(50.0 * rho, 6.0), 0.0).unwrap();
        gap.add(s[1] / 10.0, hoop);
        gap.add(s[0] / 10.0, radial);
    }
    Ok(gap.0)
}

/// Uniform shear τ = 5 in the plane of z and a direction at `phase`, tractions on every face; largest
/// gap of any component at any node (MPa). Both families take part unless the phase is zero.
pub(super) fn shear(phase: f64) -> Result<f64, ElasticFault> {
    let tau = 5.0;
    let mut model = tube(35.0, 61.0, 24.0, 9.0, 0.31);
    let face = |r: f64, theta: f64, z: f64| [Field::constant(r), Field::constant(theta), Field::constant(z)];
    let (sin, cos) = phase.sin_cos();
    for (tag, sign) in [("top", tau), ("bottom", -tau)] {
        let mut add = |value, around| {
            load(&mut model, Pattern::Traction { tags: vec![String::from(tag)], value }, around);
        };
        add(face(sign * cos, 0.0, 0.0), Around::Cos(1));
        add(face(sign * sin, 0.0, 0.0), Around::Sin(1));
        add(face(0.0, -sign * cos, 0.0), Around::Sin(1));
        add(face(0.0, sign * sin, 0.0), Around::Cos(1));
    }
    for (tag, sign) in [("outside", tau), ("bore", -tau)] {
        let mut add = |value, around| {
            load(&mut model, Pattern::Traction { tags: vec![String::from(tag)], value }, around);
        };
        add(face(0.0, 0.0, sign * cos), Around::Cos(1));
        add(face(0.0, 0.0, sign * sin), Around::Sin(1));
    }
    let solution = run_with(&model)?;
    let mut gap = Gap::default();
    for node in 0..solution.mesh.nodes.len() {
        let s = solution.stress(0, node, 0.9);
        let (sin, cos) = (0.9 - phase).sin_cos();
        for (c, exact) in [0.0, 0.0, 0.0, 0.0, -tau * sin, tau * cos].into_iter().enumerate() {
            gap.add(s[c], exact);
        }
    }
    Ok(gap.0)
}

#[test]
fn a_solid_shaft_in_bending_is_exact_through_the_first_harmonic() {
    near("bending stresses", bending().unwrap(), 0.0, 1e-5);
    let solution = bent_shaft().unwrap();
    // Curvature s/(E R): the deflection's second difference along the shaft (beam theory, exact here).
    let at = |z: f64| solution.at(0, Point::new(0.0, z), 0.0).unwrap().0[0];
    let curvature = -(at(41.0) - 2.0 * at(28.0) + at(15.0)) / (13.0 * 13.0);
    near("curvature", curvature, 12.0 / (IRON.young_mpa * 40.0), 1e-10);
}

#[test]
fn a_disc_between_opposed_strips_follows_hondros() {
    // The reference is printed to five digits; the mesh adds a few thousandths of the pressure.
    near("stress over pressure", strips().unwrap(), 0.0, 2e-3);
}

#[test]
fn patch_test_of_harmonic_zero_uniform_stretch() {
    let mut model = tube(35.0, 61.0, 24.0, 9.0, 0.31);
    for (tag, pull) in [("top", 1.0), ("bottom", -1.0)] {
        let value = [Field::default(), Field::default(), Field::constant(pull * 7.0)];
        load(&mut model, Pattern::Traction { tags: vec![tag.into()], value }, Around::Constant);
    }
    let solution = run(&model);
    let mut gap = Gap::default();
    for node in 0..solution.mesh.nodes.len() {
        let s = solution.stress(0, node, 0.4);
        for (c, exact) in [0.0, 0.0, 7.0, 0.0, 0.0, 0.0].into_iter().enumerate() {
            gap.add(s[c], exact);
        }
    }
    near("axial stretch", gap.0, 0.0, 1e-8);
}

#[test]
fn patch_test_of_harmonic_one_uniform_shear_in_both_families() {
    for phase in [0.0, 0.4, 2.1] {
        near("uniform shear", shear(phase).unwrap(), 0.0, 1e-7);
    }
}
