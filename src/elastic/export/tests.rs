//! The exported equations against the solution of the whole analysis, and the sizes against a dense factor.

use super::*;
use crate::elastic::{Options, Region, solve_alike};
use crate::problem::{Problem, read};
use std::path::Path;

/// A held tube with unequal ropes on its outside.
const MODEL: &str = r#"
model = 1
[material]
young_mpa = 110e3
poisson = 0.26
[[loop]]
start = [40.0, -3.0]
edges = [
  { to = [90.0, -3.0], tag = "side" },
  { to = [90.0, 20.0], tag = "seat" },
  { to = [40.0, 17.0], tag = "side" },
  { to = [40.0, -3.0], tag = "bore" },
]
[[support]]
tag = "bore"
hold = ["r", "theta", "z"]
[[rope]]
tag = "seat"
heavy_n = 8000.0
light_n = 5500.0
wrap_deg = 165.0
middle_deg = 10.0
seat_radius_mm = 90.0
moment_radius_mm = 96.0
law = "uniform"
creep = "whole wrap"
run_in_mm = 13.0
[mesh]
largest_mm = 9.0
"#;

fn problem() -> Problem {
    read(MODEL.as_bytes(), Path::new("tube.toml")).problem.expect("a sound model")
}

#[test]
fn exported_matrices_times_the_solver_s_displacements_are_the_exported_forces() {
    let Problem { model, .. } = problem();
    let mesh = Mesh::generate(&model.outline, &model.sizing).unwrap();
    let connectivity = Connectivity::new(&mesh).unwrap();
    let equations = Equations::new(&model, &mesh, &connectivity).unwrap();
    let options = Options { block: 8, least: 16, most: 40, tolerance: 1.0 };
    let region = |mesh: &Mesh| Region::of(&model, mesh, 16);
    let solution = solve_alike(&model, mesh.clone(), &connectivity, region, &options).unwrap();
    let (columns, rows) = equations.pattern();
    let [k0, k1, k2] = equations.parts();
    for harmonic in solution.cases[0].iter().take(12) {
        let n = harmonic.n as f64;
        let forces = equations.forces(harmonic.n);
        for (family, force) in forces.iter().enumerate() {
            if force.iter().all(|f| *f == 0.0) {
                continue;
            }
            let mut u = vec![0.0; equations.unknowns()];
            for (node, amplitude) in harmonic.displacement.iter().enumerate() {
                // v runs as sin nθ in the cosine family and as −cos nθ in the sine family.
                let [a, b, c, d, e, f] = *amplitude;
                let own = if family == 0 { [a, e, c] } else { [d, -b, f] };
                (0..3).for_each(|i| u[equations.unknown(node, i)] = own[i]);
            }
            let mut rest: Vec<f64> = force.iter().map(|f| -f).collect();
            for column in 0..u.len() {
                for entry in columns[column]..columns[column + 1] {
                    let value = k0[entry] + n * (k1[entry] + n * k2[entry]);
                    let row = rows[entry];
                    rest[row] += value * u[column];
                    if row != column {
                        rest[column] += value * u[row];
                    }
                }
            }
            let norm = |v: &[f64]| v.iter().map(|x| x * x).sum::<f64>().sqrt();
            let gap = norm(&rest) / norm(force);
            // The solver itself demands 1e-8.
            assert!(gap < 1e-8, "harmonic {n}, family {family}: {gap:e}");
        }
    }
}

#[test]
fn the_bare_solution_is_the_analysis_s_own() {
    let Problem { model, .. } = problem();
    let mesh = Mesh::generate(&model.outline, &model.sizing).unwrap();
    let connectivity = Connectivity::new(&mesh).unwrap();
    let equations = Equations::new(&model, &mesh, &connectivity).unwrap();
    let options = Options { block: 16, least: 16, most: 40, tolerance: 1.0 };
    let region = |mesh: &Mesh| Region::of(&model, mesh, 16);
    let solution = solve_alike(&model, mesh.clone(), &connectivity, region, &options).unwrap();
    let node = mesh.nodes_on(mesh.tag_index("seat").unwrap())[0];
    let unknown = equations.unknown(node, 0);
    // More harmonics than any machine's registers hold at once, and no multiple of that.
    let forces: Vec<_> = (0..=12).map(|n| equations.forces(n)).collect();
    let mut found =
        equations.solve(0..=12, |n| &forces[n], |s| (s.n, [0, 1].map(|f| s.value(unknown, f)))).unwrap();
    found.sort_by_key(|(n, _)| *n);
    assert_eq!(found.iter().map(|(n, _)| *n).collect::<Vec<_>>(), (0..=12).collect::<Vec<_>>());
    for (n, [cosine, sine]) in found {
        let own = &solution.cases[0][n].displacement[node];
        for (bare, whole) in [(cosine, own[0]), (sine, own[3])] {
            assert!((bare - whole).abs() <= 1e-8 * own[0].abs().max(own[3].abs()), "{n}: {bare} {whole}");
        }
    }
}

#[test]
fn the_factor_s_size_is_that_of_a_dense_factor_s_non_zeros() {
    // An arrow that fills in, and one that does not: columns of the lower triangle.
    let filling = ([0, 4, 5, 6, 7], [0, 1, 2, 3, 1, 2, 3]);
    let sparse = ([0, 2, 4, 6, 7], [0, 3, 1, 3, 2, 3, 3]);
    assert_eq!(column_lengths(&filling.0, &filling.1), [4, 3, 2, 1]);
    assert_eq!(column_lengths(&sparse.0, &sparse.1), [2, 2, 2, 1]);
    let Problem { model, .. } = problem();
    let mesh = Mesh::generate(&model.outline, &model.sizing).unwrap();
    let connectivity = Connectivity::new(&mesh).unwrap();
    let size = Equations::new(&model, &mesh, &connectivity).unwrap().size();
    assert!(size.entries < size.factor_entries && size.factor_entries <= size.stored_entries, "{size:?}");
}
