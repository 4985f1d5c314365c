//! Both grids of a small solved ring, read back from their bytes.

use super::*;
use crate::elastic::{
    Around, Case, Field, Hold, Iron, Model, Options, Pattern, Region, Support, Term, principal_values, solve,
};
use crate::geometry::{Edge, Outline};
use crate::mesh::Sizing;
use crate::reference::compare::{Tolerance, assert_close};
use std::f64::consts::{PI, TAU};
use vtkio::Vtk;
use vtkio::model::{Attribute, DataSet, Piece, UnstructuredGridPiece, VertexNumbers};

const SINGLE: &str = "the wheel's numbers have 24 bits";
const DOUBLE: &str = "the section's numbers are the solution's own";
const LIMITS: Limits = Limits { allowable_mpa: 13.0, compressive_allowable_mpa: Some(40.0) };

/// A straight-sided ring off the origin, pushed and dragged over a lopsided arc.
fn ring() -> Solution {
    let corners = [(40.0, 3.0), (58.0, 3.0), (62.0, 15.0), (40.0, 12.0)].map(|(r, z)| Point::new(r, z));
    let edges = (0..4).map(|i| Edge::line(corners[i], corners[(i + 1) % 4], i)).collect();
    let tags = ["bottom", "outside", "top", "bore"].map(String::from).to_vec();
    let outside = || vec!["outside".to_owned()];
    let around = || Around::Arc { from: -0.4, to: 1.3 };
    let shear = [Field::constant(0.0), Field::constant(2.0), Field::constant(0.5)];
    let model = Model {
        title: "ring".into(),
        outline: Outline { loops: vec![edges], tags },
        sizing: Sizing { largest_mm: 6.0, ..Sizing::default() },
        iron: Iron { young_mpa: 110e3, poisson: 0.26, density_t_mm3: 7.2e-9, expansion_per_k: 1.1e-5 },
        supports: vec![Support { tag: "bore".into(), hold: Hold::FIXED }],
        patterns: vec![
            Pattern::Pressure { tags: outside(), value: Field::constant(9.0) },
            Pattern::Traction { tags: outside(), value: shear },
        ],
        cases: vec![Case {
            name: "load".into(),
            terms: (0..2).map(|pattern| Term { pattern, around: around() }).collect(),
        }],
    };
    // A few harmonics do: the files carry whatever field there is.
    let options = Options { block: 8, least: 16, most: 64, tolerance: 0.05 };
    solve(&model, Region::everything, &options).unwrap()
}

fn read(bytes: &[u8]) -> UnstructuredGridPiece {
    let DataSet::UnstructuredGrid { mut pieces, .. } = Vtk::parse_xml(bytes).unwrap().data else {
        panic!("not an unstructured grid")
    };
    let Some(Piece::Inline(piece)) = pieces.pop() else { panic!("no piece") };
    *piece
}

fn rows<const N: usize>(numbers: &vtkio::IOBuffer) -> Vec<[f64; N]> {
    let flat: Vec<f64> = numbers.cast_into().unwrap();
    flat.chunks_exact(N).map(|row| row.try_into().unwrap()).collect()
}

fn field<const N: usize>(piece: &UnstructuredGridPiece, name: &str) -> Vec<[f64; N]> {
    let found = piece.data.point.iter().find(|attribute| attribute.name() == name);
    let Some(Attribute::DataArray(array)) = found else { panic!("no array {name}") };
    assert_eq!(array.num_comp(), N, "{name}");
    rows(&array.data)
}

fn cells<const N: usize>(piece: &UnstructuredGridPiece) -> Vec<[usize; N]> {
    let VertexNumbers::XML { connectivity, offsets } = &piece.cells.cell_verts else {
        panic!("legacy cells")
    };
    assert_eq!(connectivity.len(), N * offsets.len());
    connectivity.chunks_exact(N).map(|cell| std::array::from_fn(|i| cell[i] as usize)).collect()
}

#[test]
fn the_section_carries_the_solution_node_by_node() {
    let solution = ring();
    let theta = 0.7;
    let piece = read(&section_vtu(&solution, 0, theta, &LIMITS).unwrap());
    let exact = Tolerance::Relative(0.0);
    assert!(piece.cells.types.iter().all(|t| *t == CellType::QuadraticTriangle));
    assert_eq!(cells::<6>(&piece), solution.mesh.triangles);
    let (points, moves) = (rows::<3>(&piece.points), field::<3>(&piece, "displacement_mm"));
    let (stresses, principals) = (field::<6>(&piece, "stress_MPa"), field::<3>(&piece, "principal_MPa"));
    let used = field::<1>(&piece, "use_of_allowable");
    assert_eq!(points.len(), solution.mesh.nodes.len());
    for (node, p) in solution.mesh.nodes.iter().enumerate() {
        let (u, s) = (solution.displacement(0, node, theta), solution.stress(0, node, theta));
        for i in 0..3 {
            assert_close("point", points[node][i], [p.r, 0.0, p.z][i], exact, DOUBLE);
            assert_close("displacement", moves[node][i], u[i], exact, DOUBLE);
            assert_close("principal", principals[node][i], principal_values(&s)[i], exact, DOUBLE);
        }
        for i in 0..6 {
            assert_close("stress", stresses[node][i], s[i], exact, DOUBLE);
        }
        let [a, _, c] = principal_values(&s);
        // Modified Mohr written out by its three branches.
        let mohr = if a < 0.0 {
            -c / 40.0
        } else if -c > a {
            a * (40.0 - 13.0) / (40.0 * 13.0) - c / 40.0
        } else {
            a / 13.0
        };
        let demand = mohr.max(a / 13.0);
        assert_close("use", used[node][0], demand, Tolerance::Absolute(1e-14), "rounding of a few products");
    }
}

#[test]
fn without_a_compressive_limit_only_tension_counts() {
    let limits = Limits { compressive_allowable_mpa: None, ..LIMITS };
    for (principal, share) in [([6.5, 0.0, -70.0], 0.5), ([-1.0, -2.0, -30.0], 0.0)] {
        assert_close("use", limits.used(&principal), share, Tolerance::Relative(1e-15), "rounding");
    }
}

#[test]
fn the_wheel_is_closed_and_has_its_midside_points_only_on_planes() {
    let (solution, sectors) = (ring(), 9);
    let piece = read(&wheel_vtu(&solution, 0, sectors, &LIMITS).unwrap());
    let (nodes, vertices) = (solution.mesh.nodes.len(), solution.mesh.vertex_count);
    let points = rows::<3>(&piece.points);
    assert_eq!(points.len(), sectors * (nodes + vertices));
    let wedges = cells::<15>(&piece);
    assert_eq!(wedges.len(), sectors * solution.mesh.triangles.len());
    let mut used = vec![false; points.len()];
    wedges.iter().flatten().for_each(|node| used[*node] = true);
    assert!(used.iter().all(|used| *used), "every point belongs to a wedge");
    // A seam written twice would leave equal points under two numbers.
    let mut places: Vec<[i64; 3]> = points.iter().map(|p| p.map(|x| (x * 1e3).round() as i64)).collect();
    places.sort_unstable();
    places.dedup();
    assert_eq!(places.len(), points.len());
}

/// Values and derivatives of the 15 functions of a quadratic wedge, with t from −1 to 1.
fn wedge_gradients([r, s, t]: [f64; 3]) -> [[f64; 3]; 15] {
    let l = [1.0 - r - s, r, s];
    let dl = [[-1.0, -1.0], [1.0, 0.0], [0.0, 1.0]];
    let mut out = [[0.0; 3]; 15];
    for i in 0..3 {
        let j = (i + 1) % 3;
        for (top, sign) in [(0, -1.0), (1, 1.0)] {
            let half = 1.0 + sign * t;
            let slope = 0.5 * (4.0 * l[i] - 1.0) * half - 0.5 * (1.0 - t * t);
            let across = 0.5 * sign * l[i] * (2.0 * l[i] - 1.0) + l[i] * t;
            out[3 * top + i] = [slope * dl[i][0], slope * dl[i][1], across];
            let side = |c: usize| 2.0 * half * (dl[i][c] * l[j] + l[i] * dl[j][c]);
            out[6 + 3 * top + i] = [side(0), side(1), 2.0 * sign * l[i] * l[j]];
        }
        out[12 + i] = [dl[i][0] * (1.0 - t * t), dl[i][1] * (1.0 - t * t), -2.0 * t * l[i]];
    }
    out
}

fn wedge_volume(points: &[[f64; 3]; 15]) -> f64 {
    let corners = [[1.0 / 6.0, 1.0 / 6.0], [2.0 / 3.0, 1.0 / 6.0], [1.0 / 6.0, 2.0 / 3.0]];
    let mut volume = 0.0;
    for [r, s] in corners {
        for (t, weight) in [(-(0.6f64.sqrt()), 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.6f64.sqrt(), 5.0 / 9.0)] {
            let mut j = [[0.0; 3]; 3];
            for (p, g) in points.iter().zip(wedge_gradients([r, s, t])) {
                for a in 0..3 {
                    for b in 0..3 {
                        j[a][b] += g[a] * p[b];
                    }
                }
            }
            let minor = |a: usize, b: usize| j[1][a] * j[2][b] - j[1][b] * j[2][a];
            let det = j[0][0] * minor(1, 2) + j[0][1] * minor(2, 0) + j[0][2] * minor(0, 1);
            assert!(det > 0.0, "a wedge is turned inside out");
            volume += weight * det / 6.0;
        }
    }
    volume
}

#[test]
fn the_wedges_fill_the_body_of_revolution() {
    let (solution, sectors) = (ring(), 8);
    let piece = read(&wheel_vtu(&solution, 0, sectors, &LIMITS).unwrap());
    let points = rows::<3>(&piece.points);
    let volume: f64 = cells::<15>(&piece).iter().map(|cell| wedge_volume(&cell.map(|i| points[i]))).sum();
    // Pappus by the shoelace formulas: 2π ∫ r dA of the ring's four corners.
    let corners = [[40.0f64, 3.0], [58.0, 3.0], [62.0, 15.0], [40.0, 12.0]];
    let moment: f64 = (0..4)
        .map(|i| {
            let ([a, b], [c, d]) = (corners[i], corners[(i + 1) % 4]);
            (a + c) * (a * d - c * b) / 6.0
        })
        .sum();
    // Each sector's circle is a parabola through three of its points, of this share of its area.
    let half = PI / sectors as f64;
    let share = half.sin() * (1.0 + (1.0 - half.cos()) / 3.0) / half;
    let tolerance = Tolerance::Relative(1e-6);
    assert_close("volume", volume, TAU * moment * share, tolerance, SINGLE);
    assert_close("round", share, 1.0, Tolerance::Relative(half.powi(4) / 30.0), "the parabola's own series");
}

#[test]
fn displacement_and_stress_are_turned_into_the_cartesian_frame() {
    let (solution, sectors) = (ring(), 12);
    let piece = read(&wheel_vtu(&solution, 0, sectors, &LIMITS).unwrap());
    let (points, moves) = (rows::<3>(&piece.points), field::<3>(&piece, "displacement_mm"));
    let (stresses, principals) = (field::<6>(&piece, "stress_MPa"), field::<3>(&piece, "principal_MPa"));
    // Rounding of the value, and of θ in a field no steeper than its last harmonic (Bernstein).
    let share = (2.0 + solution.last_harmonic() as f64) * 2f64.powi(-24);
    let allowed = |rows: &[f64]| Tolerance::Absolute(2.0 * share * largest(rows));
    let (fine, coarse) = (allowed(moves.as_flattened()), allowed(stresses.as_flattened()));
    for (place, p) in points.iter().enumerate() {
        let (theta, r) = (p[1].atan2(p[0]), p[0].hypot(p[1]));
        let mesh = &solution.mesh;
        let nearest = |node: &usize| mesh.nodes[*node].distance(Point::new(r, p[2]));
        let node = (0..mesh.nodes.len()).min_by(|a, b| nearest(a).total_cmp(&nearest(b))).unwrap();
        let (u, s) = (solution.displacement(0, node, theta), solution.stress(0, node, theta));
        let axes = [[theta.cos(), theta.sin(), 0.0], [-theta.sin(), theta.cos(), 0.0], [0.0, 0.0, 1.0]];
        for i in 0..3 {
            let exact: f64 = (0..3).map(|k| u[k] * axes[k][i]).sum();
            assert_close("displacement", moves[place][i], exact, fine, SINGLE);
            assert_close("principal", principals[place][i], principal_values(&s)[i], coarse, SINGLE);
        }
        let tensor = [[s[0], s[3], s[5]], [s[3], s[1], s[4]], [s[5], s[4], s[2]]];
        for (c, (i, j)) in [(0, 0), (1, 1), (2, 2), (0, 1), (1, 2), (0, 2)].into_iter().enumerate() {
            let exact: f64 = (0..9).map(|k| axes[k / 3][i] * tensor[k / 3][k % 3] * axes[k % 3][j]).sum();
            assert_close("stress", stresses[place][c], exact, coarse, SINGLE);
        }
    }
    assert!(largest(moves.as_flattened()) > 1e-3 && largest(stresses.as_flattened()) > 1.0);
}

#[test]
fn a_turn_holds_the_section_at_every_angle() {
    let solution = ring();
    // More angles than one block holds, and no multiple of it.
    let files = turn_files(&solution, 0, 11, &LIMITS).unwrap();
    assert_eq!(files.len(), 12);
    let collection = String::from_utf8(files[0].1.clone()).unwrap();
    for (index, (name, bytes)) in files[1..].iter().enumerate() {
        let theta = -PI + TAU * index as f64 / 11.0;
        let piece = read(bytes);
        let (stresses, size) = (field::<6>(&piece, "stress_MPa"), field::<3>(&piece, "displacement_mm"));
        let allowed = Tolerance::Absolute(2f64.powi(-22) * largest(stresses.as_flattened()));
        assert_eq!(size.len(), solution.mesh.nodes.len());
        for (node, found) in stresses.iter().enumerate() {
            for (found, exact) in found.iter().zip(solution.stress(0, node, theta)) {
                assert_close("stress", *found, exact, allowed, SINGLE);
            }
        }
        let step = format!("timestep=\"{}\"", (theta.to_degrees() * 1e6).round() / 1e6);
        let line = collection.lines().find(|line| line.contains(name.as_str())).unwrap();
        assert!(line.contains(&step), "{line}");
    }
    assert_eq!(files, turn_files(&solution, 0, 11, &LIMITS).unwrap());
}

fn largest(rows: &[f64]) -> f64 {
    rows.iter().fold(0.0f64, |most, x| most.max(x.abs()))
}

#[test]
fn what_cannot_be_written_is_refused() {
    let solution = ring();
    assert_eq!(section_vtu(&solution, 1, 0.0, &LIMITS), Err(VtkFault::Case { case: 1, count: 1 }));
    let angle = section_vtu(&solution, 0, f64::INFINITY, &LIMITS);
    assert_eq!(angle, Err(VtkFault::Angle { value: f64::INFINITY }));
    for limits in [
        Limits { allowable_mpa: 0.0, ..LIMITS },
        Limits { allowable_mpa: f64::NAN, ..LIMITS },
        Limits { compressive_allowable_mpa: Some(-1.0), ..LIMITS },
    ] {
        assert!(matches!(section_vtu(&solution, 0, 0.0, &limits), Err(VtkFault::Allowable { .. })));
        assert!(matches!(wheel_vtu(&solution, 0, 12, &limits), Err(VtkFault::Allowable { .. })));
    }
    for sectors in [0, 5, 3601] {
        assert!(matches!(wheel_vtu(&solution, 0, sectors, &LIMITS), Err(VtkFault::Sectors { .. })));
    }
    for angles in [0, 1, 721] {
        assert!(matches!(turn_files(&solution, 0, angles, &LIMITS), Err(VtkFault::Angles { .. })));
    }
}
