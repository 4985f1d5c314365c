//! Displacement and stress of many nodes at many angles: one matrix product per component and chunk of nodes.

use super::grid::Sample;
use crate::elastic::{Harmonic, Solution, Stress};
use crate::geometry::Point;
use nalgebra::DMatrix;
use rayon::prelude::*;
use std::f64::consts::TAU;
use std::ops::Range;

/// Nodes whose courses are summed at once.
const CHUNK: usize = 64;
/// Components of displacement and stress together.
const COMPONENTS: usize = 9;

/// A turn's angles, evenly spread and beginning with `first`, in rad.
pub(super) fn even(first: f64, count: usize) -> Vec<f64> {
    (0..count).map(|index| first + TAU * index as f64 / count as f64).collect()
}

/// Samples of the nodes at the angles, node after node. `sample` makes one of a node's place, an angle, and the
/// cylindrical components of displacement (mm) and stress (MPa) there.
pub(super) fn courses(
    solution: &Solution,
    case: usize,
    nodes: Range<usize>,
    angles: &[f64],
    sample: impl Fn(Point, f64, [f64; 3], Stress) -> Sample + Sync,
) -> Vec<Sample> {
    let harmonics = &solution.cases[case];
    let waves = DMatrix::from_fn(2 * harmonics.len(), angles.len(), |row, column| {
        let phase = harmonics[row / 2].n as f64 * angles[column];
        if row % 2 == 0 { phase.cos() } else { phase.sin() }
    });
    let nodes: Vec<usize> = nodes.collect();
    let chunk_samples = |chunk: &[usize]| {
        let sums: Vec<DMatrix<f64>> =
            (0..COMPONENTS).map(|c| amplitudes(harmonics, chunk, c) * &waves).collect();
        let mut samples = Vec::with_capacity(chunk.len() * angles.len());
        for (row, node) in chunk.iter().enumerate() {
            for (column, theta) in angles.iter().enumerate() {
                let value = |c: usize| sums[c][(row, column)];
                samples.push(sample(
                    solution.mesh.nodes[*node],
                    *theta,
                    std::array::from_fn(value),
                    std::array::from_fn(|c| value(3 + c)),
                ));
            }
        }
        samples
    };
    nodes.par_chunks(CHUNK).flat_map_iter(chunk_samples).collect()
}

/// One component's coefficients: a row per node, a pair of columns (cos, sin) per harmonic.
fn amplitudes(harmonics: &[Harmonic], nodes: &[usize], component: usize) -> DMatrix<f64> {
    DMatrix::from_fn(nodes.len(), 2 * harmonics.len(), |row, column| {
        let (harmonic, node) = (&harmonics[column / 2], nodes[row]);
        if component < 3 {
            harmonic.displacement[node][component + 3 * (column % 2)]
        } else {
            harmonic.stress[node][component - 3 + 6 * (column % 2)]
        }
    })
}
