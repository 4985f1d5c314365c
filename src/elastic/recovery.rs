//! Smooth nodal stresses from the element's most exact points.
//!
//! Superconvergent patch recovery (Zienkiewicz & Zhu 1992): around every vertex a quadratic polynomial
//! is fitted to the stresses at the sampling points of the triangles that meet there; its value is the
//! vertex's stress. A midside node takes the mean of its two vertices' polynomials. Nodes on the outline
//! take the mean of the stresses that their own triangles give there: a fit over a patch that lies on
//! one side only flattens the steep rise towards a small fillet (by a fifth, at five triangles per
//! quarter circle, where the triangles themselves are within three per cent). All this is linear in the
//! element stresses, so it is computed once per mesh as weights and then serves every harmonic.

use super::element::SAMPLES;
use crate::geometry::Point;
use crate::mesh::{Mesh, NODE_PLACES};
use nalgebra::{DMatrix, DVector};
use rayon::prelude::*;

/// For every node the sampling points and weights that make its stress.
///
/// Node i has the entries `start[i]..start[i + 1]`.
pub(super) struct Recovery {
    start: Vec<usize>,
    samples: Vec<u32>,
    weights: Vec<f64>,
}

/// Fewest sampling points that a patch may fit its six coefficients to.
const LEAST_SAMPLES: usize = 12;

impl Recovery {
    pub fn new(mesh: &Mesh) -> Self {
        let mut around: Vec<Vec<usize>> = vec![Vec::new(); mesh.vertex_count];
        for (index, triangle) in mesh.triangles.iter().enumerate() {
            for vertex in &triangle[..3] {
                around[*vertex].push(index);
            }
        }
        let places: Vec<Point> = mesh
            .triangles
            .iter()
            .flat_map(|triangle| SAMPLES.map(|[s, t]| super::element::Spot::new(mesh, triangle, s, t).at))
            .collect();
        let patches: Vec<Patch> = (0..mesh.vertex_count)
            .into_par_iter()
            .map(|vertex| Patch::new(mesh, &around, &places, vertex))
            .collect();
        let mut rows: Vec<Vec<(usize, f64)>> = Vec::with_capacity(mesh.nodes.len());
        for (vertex, patch) in patches.iter().enumerate() {
            rows.push(patch.weights(mesh.nodes[vertex], 1.0));
        }
        rows.resize(mesh.nodes.len(), Vec::new());
        for triangle in &mesh.triangles {
            for (i, (a, b)) in [(0, 1), (1, 2), (2, 0)].into_iter().enumerate() {
                let middle = triangle[3 + i];
                if rows[middle].is_empty() {
                    let at = mesh.nodes[middle];
                    let mut row = patches[triangle[a]].weights(at, 0.5);
                    row.extend(patches[triangle[b]].weights(at, 0.5));
                    rows[middle] = row;
                }
            }
        }
        let rows = with_direct_outline(mesh, rows);
        let mut start = vec![0];
        start.extend(rows.iter().scan(0, |sum, row| {
            *sum += row.len();
            Some(*sum)
        }));
        let entries = || rows.iter().flatten();
        Self {
            start,
            samples: entries().map(|(sample, _)| *sample as u32).collect(),
            weights: entries().map(|(_, weight)| *weight).collect(),
        }
    }

    /// Sampling points and weights of one node.
    pub fn row(&self, node: usize) -> impl Iterator<Item = (usize, f64)> {
        let entries = self.start[node]..self.start[node + 1];
        let samples = self.samples[entries.clone()].iter().map(|sample| *sample as usize);
        samples.zip(self.weights[entries].iter().copied())
    }

    /// Nodal values from values at the sampling points, three per triangle.
    pub fn nodal<const N: usize>(&self, samples: &[[f64; N]]) -> Vec<[f64; N]> {
        let one = |range: &[usize]| {
            let entries = range[0]..range[1];
            let mut sum = [0.0; N];
            for (sample, weight) in self.samples[entries.clone()].iter().zip(&self.weights[entries]) {
                for (s, value) in sum.iter_mut().zip(&samples[*sample as usize]) {
                    *s += weight * value;
                }
            }
            sum
        };
        self.start.windows(2).map(one).collect()
    }
}

/// Replaces the rows of outline nodes by the mean of the adjoining triangles' own linear stresses.
fn with_direct_outline(mesh: &Mesh, mut rows: Vec<Vec<(usize, f64)>>) -> Vec<Vec<(usize, f64)>> {
    let mut outline = vec![false; mesh.nodes.len()];
    for edge in &mesh.boundary {
        for node in edge.nodes {
            outline[node] = true;
            rows[node].clear();
        }
    }
    for (index, triangle) in mesh.triangles.iter().enumerate() {
        for (node, [s, t]) in triangle.iter().zip(NODE_PLACES) {
            if outline[*node] {
                let (b, c) = (2.0 * s - 1.0 / 3.0, 2.0 * t - 1.0 / 3.0);
                rows[*node].extend([(3 * index, 1.0 - b - c), (3 * index + 1, b), (3 * index + 2, c)]);
            }
        }
    }
    for (row, _) in rows.iter_mut().zip(&outline).filter(|(_, on)| **on) {
        let count = (row.len() / 3) as f64;
        for (_, weight) in row {
            *weight /= count;
        }
    }
    rows
}

/// The fit around one vertex: which samples, and the matrix from their values to the coefficients.
struct Patch {
    centre: Point,
    scale: f64,
    samples: Vec<usize>,
    /// Coefficients × samples.
    fit: DMatrix<f64>,
}

impl Patch {
    fn new(mesh: &Mesh, around: &[Vec<usize>], places: &[Point], vertex: usize) -> Self {
        let mut triangles = around[vertex].clone();
        // A vertex on the outline has too few triangles of its own, so its neighbours' join in.
        while triangles.len() * SAMPLES.len() < LEAST_SAMPLES {
            let before = triangles.len();
            for index in triangles.clone() {
                for corner in &mesh.triangles[index][..3] {
                    triangles.extend(&around[*corner]);
                }
            }
            triangles.sort_unstable();
            triangles.dedup();
            if triangles.len() == before {
                break;
            }
        }
        let centre = mesh.nodes[vertex];
        let samples: Vec<usize> = triangles.iter().flat_map(|t| (0..3).map(move |i| 3 * t + i)).collect();
        let scale = samples.iter().map(|s| places[*s].distance(centre)).fold(1e-12, f64::max);
        let terms = if samples.len() >= 8 { 6 } else { 3 };
        let basis = DMatrix::from_fn(samples.len(), terms, |row, column| {
            monomials(places[samples[row]], centre, scale)[column]
        });
        let transposed = basis.transpose();
        // The patch is scaled to the size of one, so that its normal equations lose few digits.
        let fit = (&transposed * &basis).cholesky().map_or_else(
            || {
                basis.pseudo_inverse(1e-10).unwrap_or_else(|_| {
                    DMatrix::from_fn(terms, samples.len(), |row, _| {
                        f64::from(row == 0) / samples.len() as f64
                    })
                })
            },
            |normal| normal.solve(&transposed),
        );
        Self { centre, scale, samples, fit }
    }

    fn weights(&self, at: Point, share: f64) -> Vec<(usize, f64)> {
        let terms = monomials(at, self.centre, self.scale);
        let row = DVector::from_row_slice(&terms[..self.fit.nrows()]).transpose() * &self.fit;
        self.samples.iter().copied().zip(row.iter().map(|w| w * share)).collect()
    }
}

fn monomials(p: Point, centre: Point, scale: f64) -> [f64; 6] {
    let (x, y) = ((p.r - centre.r) / scale, (p.z - centre.z) / scale);
    [1.0, x, y, x * x, x * y, y * y]
}
