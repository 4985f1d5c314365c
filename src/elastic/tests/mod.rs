//! The solver against closed forms and against itself: patch tests, rigid motions, orders of convergence.

use super::*;
use crate::geometry::{Edge, Outline, Point};
use crate::mesh::{Mesh, Sizing};

mod fields;

const IRON: Iron = Iron { young_mpa: 110e3, poisson: 0.26, density_t_mm3: 7.2e-9, expansion_per_k: 1.1e-5 };

/// A tube from `a` to `b`, its axial middle off the origin: edges bore, top, outside, bottom.
fn tube(a: f64, b: f64, length: f64, size: f64, nu: f64) -> Model {
    let (low, high) = (3.0, 3.0 + length);
    let p = Point::new;
    let loops = if a > 0.0 {
        vec![
            Edge::line(p(a, low), p(b, low), 0),
            Edge::line(p(b, low), p(b, high), 1),
            Edge::line(p(b, high), p(a, high), 2),
            Edge::line(p(a, high), p(a, low), 3),
        ]
    } else {
        vec![
            Edge::line(p(0.0, low), p(b, low), 0),
            Edge::line(p(b, low), p(b, high), 1),
            Edge::line(p(b, high), p(0.0, high), 2),
            Edge::line(p(0.0, high), p(0.0, low), 3),
        ]
    };
    let tags = ["bottom", "outside", "top", "bore"].map(String::from).to_vec();
    Model {
        title: "tube".into(),
        outline: Outline { loops: vec![loops], tags },
        sizing: Sizing { largest_mm: size, through_wall: 0.1, ..Sizing::default() },
        iron: Iron { poisson: nu, ..IRON },
        supports: vec![],
        patterns: vec![],
        cases: vec![Case { name: "load".into(), terms: vec![] }],
    }
}

fn support(tag: &str, r: bool, theta: bool, z: bool) -> Support {
    Support { tag: tag.into(), hold: Hold { r, theta, z } }
}

fn load(model: &mut Model, pattern: Pattern, around: Around) {
    model.patterns.push(pattern);
    model.cases[0].terms.push(Term { pattern: model.patterns.len() - 1, around });
}

fn pressure(tag: &str, value: f64) -> Pattern {
    Pattern::Pressure { tags: vec![tag.into()], value: Field::constant(value) }
}

pub(super) fn run(model: &Model) -> Solution {
    run_with(model).unwrap()
}

fn run_with(model: &Model) -> Result<Solution, ElasticFault> {
    solve(model, Region::everything, &Options::default())
}

/// A clamped tube pressed from outside over a part of its circumference.
pub(super) fn half_loaded_tube() -> Model {
    let mut model = tube(60.0, 80.0, 40.0, 8.0, 0.26);
    model.supports = vec![support("bottom", true, true, true)];
    let around = Around::Stretches {
        stretches: vec![Stretch { from: -1.0, to: 0.8, value: 1.0, decay: 0.2 }],
        run_in: 0.3,
    };
    load(&mut model, pressure("outside", 2.0), around);
    model
}

/// A thick tube of radii 100 and 200 mm between held ends, under 60 MPa inside.
pub(super) fn pressed_tube(nu: f64, size: f64) -> Model {
    let mut model = tube(100.0, 200.0, 30.0, size, nu);
    model.supports = vec![support("bottom", false, false, true), support("top", false, false, true)];
    load(&mut model, pressure("bore", 60.0), Around::Constant);
    model
}

/// Two-sided and safe against NaN: the one way in which these tests compare numbers.
fn near(what: &str, computed: f64, reference: f64, tolerance: f64) {
    let gap = (computed - reference).abs();
    assert!(gap <= tolerance, "{what}: computed {computed}, reference {reference}, allowed {tolerance:e}");
}

/// Largest gap between a field and its reference, safe against NaN.
#[derive(Default)]
struct Gap(f64);

impl Gap {
    fn add(&mut self, computed: f64, reference: f64) {
        let gap = (computed - reference).abs();
        self.0 = if gap.is_nan() { f64::INFINITY } else { self.0.max(gap) };
    }
}

/// Thick tube under inside pressure between held ends, against Lamé's plane-strain solution
/// (Timoshenko & Goodier, Theory of Elasticity, art. 28).
fn lame(nu: f64, size: f64) -> Result<(f64, f64), ElasticFault> {
    let (a, b, p) = (100.0, 200.0, 60.0);
    let solution = run_with(&pressed_tube(nu, size))?;
    let (mut displacement, mut stress) = (Gap::default(), Gap::default());
    for step in 0..=200 {
        let r = 100.0 + 0.5 * f64::from(step);
        let (u, s) = solution.at(0, Point::new(r, 17.0), 0.3).unwrap();
        let k = p * a * a / (b * b - a * a);
        let (srr, stt) = (k * (1.0 - b * b / (r * r)), k * (1.0 + b * b / (r * r)));
        let exact_u = (1.0 + nu) / IRON.young_mpa * k * ((1.0 - 2.0 * nu) * r + b * b / r);
        displacement.add(u[0] / exact_u, 1.0);
        for (c, exact) in [srr, stt, nu * (srr + stt), 0.0, 0.0, 0.0].into_iter().enumerate() {
            stress.add(s[c] / p, exact / p);
        }
    }
    Ok((displacement.0, stress.0))
}

#[test]
fn a_thick_tube_follows_lame_at_common_and_nearly_incompressible_poisson_ratios() {
    for nu in [0.26, 0.49] {
        let (displacement, stress) = lame(nu, 6.0).unwrap();
        near("radial displacement", displacement, 0.0, 4e-5);
        near("stress", stress, 0.0, 2e-3);
    }
}

#[test]
fn the_tube_converges_at_the_orders_of_quadratic_triangles() {
    let (coarse_u, coarse_s) = lame(0.3, 16.0).unwrap();
    let (fine_u, fine_s) = lame(0.3, 4.0).unwrap();
    // Two halvings; unstructured meshes scatter, so a quarter of an order is given away.
    let order = |coarse: f64, fine: f64| (coarse / fine).log2() / 2.0;
    assert!(order(coarse_u, fine_u) > 2.75, "displacement: {}", order(coarse_u, fine_u));
    assert!(order(coarse_s, fine_s) > 1.75, "stress: {}", order(coarse_s, fine_s));
}

#[test]
fn a_rotating_annulus_follows_its_plane_stress_solution() {
    // Timoshenko & Goodier, art. 32: thin disc, so the ends are free.
    let (a, b, omega) = (100.0, 300.0, 300.0 / 60.0 * std::f64::consts::TAU);
    let mut model = tube(a, b, 4.0, 4.0, 0.26);
    load(&mut model, Pattern::Spin { rad_s: omega }, Around::Constant);
    let solution = run(&model);
    let (nu, rho) = (0.26, IRON.density_t_mm3);
    let k = (3.0 + nu) / 8.0 * rho * omega * omega;
    for r in [100.0, 173.2, 240.0, 300.0] {
        let (_, s) = solution.at(0, Point::new(r, 5.0), 1.0).unwrap();
        let hoop = k * (a * a + b * b + a * a * b * b / (r * r) - (1.0 + 3.0 * nu) / (3.0 + nu) * r * r);
        let radial = k * (a * a + b * b - a * a * b * b / (r * r) - r * r);
        // The thin disc's own error, of order (thickness/radius)², stays below this.
        near("hoop", s[1], hoop, 2e-4);
        near("radial", s[0], radial, 2e-4);
    }
    near("hoop at the bore", solution.at(0, Point::new(a, 5.0), 0.0).unwrap().1[1], 0.53438, 3e-4);
}

#[test]
fn rigid_motions_strain_nothing() {
    let model = tube(35.0, 61.0, 24.0, 9.0, 0.31);
    let mesh = Mesh::generate(&model.outline, &model.sizing).unwrap();
    let assembled = assembly::Assembled::ordered(&mesh).unwrap().filled(&mesh, &model.iron);
    let mut values = vec![0.0; assembled.rows.len()];
    type Motion = fn(Point) -> [f64; 3];
    let shapes: [(f64, Motion); 4] = [
        (0.0, |_| [0.0, 0.0, 1.0]),
        (0.0, |p| [0.0, p.r, 0.0]),
        (1.0, |_| [1.0, -1.0, 0.0]),
        (1.0, |p| [-p.z, p.z, p.r]),
    ];
    for (n, shape) in shapes {
        assembled.combine(n, &mut values);
        let mut x = vec![0.0; assembled.unknowns()];
        for (node, p) in mesh.nodes.iter().enumerate() {
            for (c, value) in shape(*p).into_iter().enumerate() {
                x[assembled.unknown(node, c)] = value;
            }
        }
        let mut y = vec![0.0; x.len()];
        assembled.multiply(&values, &x, &mut y);
        let largest = y.iter().fold(0.0f64, |m, f| m.max(f.abs()));
        near("force of a rigid motion", largest / (IRON.young_mpa * 61.0), 0.0, 1e-9);
    }
}

#[test]
fn the_factorisation_agrees_with_another_library() {
    let mut model = tube(35.0, 61.0, 24.0, 12.0, 0.31);
    model.supports = vec![support("bottom", true, true, true)];
    load(&mut model, pressure("outside", 3.0), Around::Cos(4));
    let solution = run(&model);
    let mesh = &solution.mesh;
    let assembled = assembly::Assembled::ordered(mesh).unwrap().filled(mesh, &model.iron);
    let full = assembled.full(4.0);
    let restraint = restraint::Restraint::new(mesh, &assembled, &model);
    let held = restraint.held(4, &[]).unwrap();
    let spread = loads::Spread::new(mesh, &assembled, &model, 0).unwrap();
    let mut coo = nalgebra_sparse::CooMatrix::new(full.nrows(), full.ncols());
    for (row, column, value) in full.triplet_iter() {
        if held[row] || held[column] {
            if row == column {
                coo.push(row, column, 1.0);
            }
        } else {
            coo.push(row, column, *value);
        }
    }
    let matrix = nalgebra_sparse::CscMatrix::from(&coo);
    let factor = nalgebra_sparse::factorization::CscCholesky::factor(&matrix).unwrap();
    let right: Vec<f64> = spread.force.iter().zip(&held).map(|(f, h)| if *h { 0.0 } else { *f }).collect();
    let x = factor.solve(&nalgebra::DMatrix::from_column_slice(right.len(), 1, &right));
    let scale = x.amax();
    for node in 0..mesh.nodes.len() {
        let u = solution.displacement(0, node, 0.0);
        for c in [0, 2] {
            near("displacement", u[c] / scale, x[assembled.unknown(node, c)] / scale, 1e-10);
        }
    }
}

#[test]
fn an_unsupported_body_that_is_pushed_says_where_it_would_go() {
    let mut model = tube(35.0, 61.0, 24.0, 9.0, 0.31);
    load(&mut model, pressure("top", 1.0), Around::Constant);
    let fault = solve(&model, Region::everything, &Options::default()).err().unwrap();
    assert!(matches!(fault, ElasticFault::Free { motion: "move along the shaft", .. }), "{fault}");
    let mut model = tube(35.0, 61.0, 24.0, 9.0, 0.31);
    load(&mut model, pressure("outside", 1.0), Around::Cos(1));
    let fault = solve(&model, Region::everything, &Options::default()).err().unwrap();
    assert!(matches!(fault, ElasticFault::Free { motion: "move sideways", .. }), "{fault}");
}

#[test]
fn rounding_of_a_radial_pressure_is_no_push_along_the_shaft() {
    // The outward normal of these edges is off the radius by rounding alone, more in some meshes than others.
    for (a, b) in [(250.0, 280.0), (10.0, 20.0)] {
        for share in [0.1, 0.2, 0.3, 0.4] {
            let mut model = tube(a, b, 0.6 * (b - a), share * (b - a), 0.3);
            load(&mut model, pressure("outside", 1.0), Around::Constant);
            let solution = run(&model);
            // Lamé with free faces: u = −((1 − ν)·b² + (1 + ν)·a²)·b/((b² − a²)·E) outside.
            let exact = -(0.7 * b * b + 1.3 * a * a) * b / ((b * b - a * a) * IRON.young_mpa);
            // Two elements through the wall at least.
            near("outside", solution.at(0, Point::new(b, 5.0), 0.0).unwrap().0[0] / exact, 1.0, 2e-3);
        }
    }
}

#[test]
fn a_held_free_end_thermal_strain_leaves_no_stress_when_nothing_holds_it() {
    let mut model = tube(35.0, 61.0, 24.0, 9.0, 0.31);
    let temperature = Field { at: 40.0, by_r: 0.0, by_z: 0.5 };
    load(&mut model, Pattern::Thermal { temperature }, Around::Constant);
    let solution = run(&model);
    // A temperature linear in a Cartesian coordinate strains a free body without stress.
    for node in 0..solution.mesh.nodes.len() {
        for s in solution.stress(0, node, 0.0) {
            near("stress", s, 0.0, 1e-6);
        }
    }
}

#[test]
fn the_search_over_angles_finds_what_brute_force_finds() {
    let mut model = tube(35.0, 61.0, 24.0, 5.0, 0.31);
    model.supports = vec![support("bore", true, true, true)];
    load(&mut model, pressure("outside", 3.0), Around::Arc { from: -0.4, to: 1.1 });
    let solution = run(&model);
    let region = Region::everything(&solution.mesh);
    let [ranking] =
        PeakSearch::new(&solution.mesh, &solution.cases[0], &region).rankings(&[&|p: &[f64; 3]| p[0]]);
    let best = ranking[0];
    let mut brute = f64::NEG_INFINITY;
    for i in 0..20_000 {
        let theta = std::f64::consts::TAU * f64::from(i) / 20_000.0;
        brute = brute.max(principal_values(&solution.stress(0, best.node, theta))[0]);
    }
    near("peak over angles", best.score, brute, 1e-5 * brute);
    // No node anywhere rises above it, at any of many more angles than the search starts from.
    for node in 0..solution.mesh.nodes.len() {
        for i in 0..1500 {
            let theta = std::f64::consts::TAU * f64::from(i) / 1500.0;
            assert!(principal_values(&solution.stress(0, node, theta))[0] <= best.score * (1.0 + 1e-9));
        }
    }
}

#[test]
fn a_comparison_with_no_number_never_passes() {
    let mut gap = Gap::default();
    gap.add(f64::NAN, 1.0);
    gap.add(1.0, 1.0);
    assert!(std::panic::catch_unwind(move || near("nothing", gap.0, 0.0, 1.0)).is_err());
    assert!(std::panic::catch_unwind(|| near("nothing", f64::NAN, 0.0, 1.0)).is_err());
    assert!(std::panic::catch_unwind(|| near("too low", -1.0, 0.0, 0.5)).is_err());
}
