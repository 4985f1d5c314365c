//! The search for the highest tension over the whole permitted region and all angles.

use super::{Harmonic, Region, Stress, principal_values};
use crate::geometry::Point;
use crate::mesh::Mesh;
use nalgebra::DMatrix;
use rayon::prelude::*;
use serde::Serialize;
use std::f64::consts::{PI, TAU};

/// Angles of the first pass over the whole circle.
const ANGLES: usize = 360;
/// Nodes whose maximum is refined between the angles of the first pass.
const REFINED: usize = 48;

/// A place, an angle, and the stress there.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct Peak {
    pub node: usize,
    pub at: Point,
    pub theta_rad: f64,
    pub stress_mpa: Stress,
    /// Principal stresses, highest first.
    pub principal_mpa: [f64; 3],
    /// The value that was searched for.
    pub score: f64,
}

/// A search through one case's harmonics.
pub struct PeakSearch<'a> {
    mesh: &'a Mesh,
    harmonics: &'a [Harmonic],
    region: &'a Region,
}

impl<'a> PeakSearch<'a> {
    pub fn new(mesh: &'a Mesh, harmonics: &'a [Harmonic], region: &'a Region) -> Self {
        Self { mesh, harmonics, region }
    }

    /// Highest first principal stress on the outline (MPa): the measure of the series' convergence.
    pub(super) fn outline_peak(&self) -> f64 {
        let mut nodes: Vec<usize> = self.mesh.boundary.iter().flat_map(|edge| edge.nodes).collect();
        nodes.sort_unstable();
        nodes.dedup();
        nodes.retain(|node| self.region.nodes[*node]);
        let best = self.scan(&nodes, ANGLES / 2, &|p: &[f64; 3]| p[0]);
        best.iter().map(|hit| hit.score).fold(0.0, f64::max)
    }

    /// For every searched node its highest score over the circle; the best ones exact in angle.
    ///
    /// `score` rates a principal stress state; a higher value is more severe. The list is sorted,
    /// most severe first, and empty when nothing is searched.
    pub fn ranking(&self, score: &(impl Fn(&[f64; 3]) -> f64 + Sync)) -> Vec<Peak> {
        let nodes: Vec<usize> = (0..self.mesh.nodes.len()).filter(|node| self.region.nodes[*node]).collect();
        let mut hits = self.scan(&nodes, ANGLES, score);
        hits.sort_by(|a, b| b.score.total_cmp(&a.score).then(a.node.cmp(&b.node)));
        hits.iter_mut().take(REFINED).for_each(|hit| self.refine(hit, score));
        let mut peaks: Vec<Peak> = hits.into_iter().map(|hit| self.peak(hit)).collect();
        peaks.sort_by(|a, b| b.score.total_cmp(&a.score).then(a.node.cmp(&b.node)));
        peaks
    }

    /// First pass: stresses of many nodes at many angles as one matrix product per component.
    fn scan(&self, nodes: &[usize], angles: usize, score: &(impl Fn(&[f64; 3]) -> f64 + Sync)) -> Vec<Hit> {
        let count = self.harmonics.len();
        let turn = TAU / angles as f64;
        let waves = DMatrix::from_fn(2 * count, angles, |row, column| {
            let phase = self.harmonics[row / 2].n as f64 * (column as f64 * turn - PI);
            if row % 2 == 0 { phase.cos() } else { phase.sin() }
        });
        let scan_chunk = |chunk: &[usize]| {
            let courses: Vec<DMatrix<f64>> = (0..6)
                .map(|component| {
                    let amplitudes = DMatrix::from_fn(chunk.len(), 2 * count, |row, column| {
                        let stress = &self.harmonics[column / 2].stress[chunk[row]];
                        stress[component + 6 * (column % 2)]
                    });
                    amplitudes * &waves
                })
                .collect();
            let mut hits = Vec::with_capacity(chunk.len());
            for (row, node) in chunk.iter().enumerate() {
                let mut best = Hit { node: *node, theta: 0.0, score: f64::NEG_INFINITY };
                for column in 0..angles {
                    let theta = column as f64 * turn - PI;
                    let stress: Stress = std::array::from_fn(|c| courses[c][(row, column)]);
                    let value = score(&principal_values(&stress));
                    if value > best.score && self.counts(*node, theta) {
                        best = Hit { node: *node, theta, score: value };
                    }
                }
                hits.push(best);
            }
            hits
        };
        nodes.par_chunks(64).flat_map_iter(scan_chunk).collect()
    }

    fn counts(&self, node: usize, theta: f64) -> bool {
        if !self.region.loaded[node] || self.region.jump_distance_mm == 0.0 {
            return true;
        }
        self.region.jumps.iter().all(|jump| {
            let apart = (theta - jump + PI).rem_euclid(TAU) - PI;
            apart.abs() * self.mesh.nodes[node].r >= self.region.jump_distance_mm
        })
    }

    /// Golden-section search between the neighbouring angles of the first pass.
    fn refine(&self, hit: &mut Hit, score: &impl Fn(&[f64; 3]) -> f64) {
        const RATIO: f64 = 0.618_033_988_749_895;
        let turn = TAU / ANGLES as f64;
        let (mut low, mut high) = (hit.theta - turn, hit.theta + turn);
        let value = |theta: f64| score(&principal_values(&self.stress(hit.node, theta)));
        let (mut a, mut b) = (high - RATIO * turn * 2.0, low + RATIO * turn * 2.0);
        let (mut fa, mut fb) = (value(a), value(b));
        for _ in 0..24 {
            if fa > fb {
                (high, b, fb) = (b, a, fa);
                a = high - RATIO * (high - low);
                fa = value(a);
            } else {
                (low, a, fa) = (a, b, fb);
                b = low + RATIO * (high - low);
                fb = value(b);
            }
        }
        let (theta, found) = if fa > fb { (a, fa) } else { (b, fb) };
        if found > hit.score && self.counts(hit.node, theta) {
            *hit = Hit { node: hit.node, theta: (theta + PI).rem_euclid(TAU) - PI, score: found };
        }
    }

    fn stress(&self, node: usize, theta: f64) -> Stress {
        let mut sum = [0.0; 6];
        for harmonic in self.harmonics {
            let (sin, cos) = (harmonic.n as f64 * theta).sin_cos();
            let c = &harmonic.stress[node];
            for i in 0..6 {
                sum[i] += c[i] * cos + c[i + 6] * sin;
            }
        }
        sum
    }

    fn peak(&self, hit: Hit) -> Peak {
        let stress = self.stress(hit.node, hit.theta);
        Peak {
            node: hit.node,
            at: self.mesh.nodes[hit.node],
            theta_rad: hit.theta,
            stress_mpa: stress,
            principal_mpa: principal_values(&stress),
            score: hit.score,
        }
    }
}

struct Hit {
    node: usize,
    theta: f64,
    score: f64,
}
