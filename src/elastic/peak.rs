//! The search for the highest tension over the whole permitted region and all angles.

use super::enclosing::Enclosing;
use super::turn::{Turn, largest};
use super::waves::Waves;
use super::{Harmonic, Region, Stress, principal_values};
use crate::geometry::Point;
use crate::mesh::Mesh;
use crate::seeded::{Fault, planted};
use rayon::prelude::*;
use serde::Serialize;
use std::f64::consts::{PI, TAU};

/// Fewest angles of the first pass over the whole circle, and how many per wave of the last harmonic.
const LEAST_ANGLES: usize = 180;
const ANGLES_PER_WAVE: usize = 4;
/// Nodes whose maximum is refined between the angles of the first pass: those that come this near to the
/// highest, because the stress can rise by a few per cent between two angles, and never fewer than this.
const REFINED_SHARE: f64 = 0.95;
const LEAST_REFINED: usize = 48;

/// Nodes below this share of the highest score need not be ranked.
pub const KEPT_SHARE: f64 = 0.8;
/// Nodes whose stresses are computed together.
const CHUNK: usize = 64;
/// Chunks that are worth sharing among threads.
const LEAST_CHUNKS: usize = 6;

/// A rating of principal stresses, highest first.
pub type Score<'s> = dyn Fn(&[f64; 3]) -> f64 + Sync + 's;

/// A node with the angle of its highest score.
#[derive(Debug, Clone, Copy)]
pub struct Hit {
    pub node: usize,
    pub theta_rad: f64,
    pub score: f64,
}

/// A place, an angle, and the stress there.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct Peak {
    #[serde(skip)]
    pub node: usize,
    pub at: Point,
    pub theta_rad: f64,
    pub stress_mpa: Stress,
    /// Principal stresses, highest first.
    pub principal_mpa: [f64; 3],
    /// The value that was searched for; its unit is that of the search.
    #[serde(skip)]
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

    pub fn harmonics(&self) -> &'a [Harmonic] {
        self.harmonics
    }

    /// Every node that is searched.
    pub fn searched(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.mesh.nodes.len()).filter(|node| self.region.nodes[*node])
    }

    /// Highest first principal stress on the outline (MPa): the measure of the series' convergence.
    pub(super) fn outline_peak(&self) -> f64 {
        let mut nodes: Vec<usize> = self.mesh.boundary.iter().flat_map(|edge| edge.nodes).collect();
        nodes.sort_unstable();
        nodes.dedup();
        self.highest_of(nodes)
    }

    /// For each of several sets of nodes the highest first principal stress (MPa) of the searched ones among them, at the
    /// angles of the first pass; zero where none is searched.
    pub fn highest_of_each(&self, sets: &[Vec<usize>]) -> Vec<f64> {
        let mut nodes: Vec<usize> = sets.iter().flatten().copied().collect();
        nodes.retain(|node| self.region.nodes[*node]);
        nodes.sort_unstable();
        nodes.dedup();
        let mut highest = vec![0.0f64; self.mesh.nodes.len()];
        for [hit] in self.scan(&nodes, LEAST_ANGLES, &[&|p: &[f64; 3]| p[0]]) {
            highest[hit.node] = hit.score;
        }
        sets.iter().map(|set| set.iter().map(|node| highest[*node]).fold(0.0, f64::max)).collect()
    }

    /// The highest of all these nodes; those that cannot reach it are not looked at.
    fn highest_of(&self, mut nodes: Vec<usize>) -> f64 {
        nodes.retain(|node| self.region.nodes[*node]);
        let hits = self.promising(&nodes, LEAST_ANGLES, &[&|p: &[f64; 3]| p[0]], 1.0);
        hits.iter().map(|[hit]| hit.score).fold(0.0, f64::max)
    }

    /// For every score the searched nodes with their highest value over the circle, most severe first, the best
    /// ones exact in angle. Nodes that surely stay below [`KEPT_SHARE`] of the highest are left out. Empty lists
    /// when nothing is searched.
    ///
    /// A score rates principal stresses (highest first). It must not fall when the highest rises or when
    /// the lowest falls: the search leaves out nodes and angles whose bounds cannot beat what was found.
    #[tracing::instrument(name = "search for the peaks", skip_all)]
    pub fn rankings<const S: usize>(&self, scores: &[&Score; S]) -> [Vec<Hit>; S] {
        let nodes: Vec<usize> = self.searched().collect();
        let angles = self.angles();
        let hits = self.promising(&nodes, angles, scores, KEPT_SHARE);
        std::array::from_fn(|index| {
            let score = scores[index];
            let mut hits: Vec<Hit> = hits.iter().map(|per_score| per_score[index]).collect();
            let severest = |a: &Hit, b: &Hit| b.score.total_cmp(&a.score).then(a.node.cmp(&b.node));
            hits.sort_by(severest);
            let least = hits.first().map_or(0.0, |hit| hit.score - (1.0 - REFINED_SHARE) * hit.score.abs());
            let near = hits.partition_point(|hit| hit.score >= least);
            let near = near.max(LEAST_REFINED.min(hits.len()));
            hits[..near].par_iter_mut().for_each(|hit| self.refine(hit, angles, score));
            hits.sort_by(severest);
            hits
        })
    }

    /// The first pass over those nodes that can come near to the highest of any score: `share` of it at least.
    fn promising<const S: usize>(
        &self,
        nodes: &[usize],
        angles: usize,
        scores: &[&Score; S],
        share: f64,
    ) -> Vec<[Hit; S]> {
        let mut reach: Vec<(f64, usize)> = nodes.iter().map(|node| (self.reach(*node), *node)).collect();
        reach.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        // Those that reach farthest tell what the others have to beat.
        let (first, rest) = reach.split_at(reach.len().min(CHUNK));
        let nodes_of = |list: &[(f64, usize)]| list.iter().map(|(_, node)| *node).collect::<Vec<_>>();
        let mut hits = self.scan(&nodes_of(first), angles, scores);
        let best: [f64; S] = std::array::from_fn(|index| {
            hits.iter().map(|hit| hit[index].score).fold(f64::NEG_INFINITY, f64::max)
        });
        let may = |reach: f64| {
            scores.iter().zip(best).any(|(score, best)| {
                // What is not a number must be looked at.
                let promised = score(&[reach, 0.0, -reach]);
                promised.is_nan() || promised >= best - (1.0 - share) * best.abs()
            })
        };
        let rest: Vec<(f64, usize)> = rest.iter().copied().filter(|(reach, _)| may(*reach)).collect();
        hits.extend(self.scan(&nodes_of(&rest), angles, scores));
        hits
    }

    /// What no principal stress of a node can exceed in size at any angle (MPa): the sum of all harmonics' largest.
    fn reach(&self, node: usize) -> f64 {
        (1.0 + 1e-12) * self.harmonics.iter().map(|harmonic| largest(harmonic, node)).sum::<f64>()
    }

    /// Angles of the first pass: enough for every wave of the last harmonic.
    #[must_use]
    pub fn angles(&self) -> usize {
        let last = self.harmonics.iter().map(|harmonic| harmonic.n).max().unwrap_or(0);
        LEAST_ANGLES.max(ANGLES_PER_WAVE * last)
    }

    /// First pass: stresses of many nodes at many angles as one matrix product per component.
    fn scan<const S: usize>(&self, nodes: &[usize], angles: usize, scores: &[&Score; S]) -> Vec<[Hit; S]> {
        let turn = Turn::new(self.harmonics, angles);
        let scan_chunk = |chunk: &[usize]| {
            let courses = turn.courses(chunk);
            let mut enclosing = Enclosing::new(angles);
            let mut hits = Vec::with_capacity(chunk.len());
            for (column, node) in chunk.iter().enumerate() {
                let course = courses.of(column);
                let stress_at = |row: usize| -> Stress { std::array::from_fn(|c| course[c][row]) };
                enclosing.fill(course);
                hits.push(self.best(*node, &enclosing, stress_at, scores));
            }
            hits
        };
        // A few chunks stay with their thread: one that waited for help would begin another analysis meanwhile, and
        // hold the memory of both.
        nodes.par_chunks(CHUNK).with_min_len(LEAST_CHUNKS).flat_map_iter(scan_chunk).collect()
    }

    /// The highest of each score at one node over the angles of the first pass.
    fn best<const S: usize>(
        &self,
        node: usize,
        enclosing: &Enclosing,
        stress_at: impl Fn(usize) -> Stress,
        scores: &[&Score; S],
    ) -> [Hit; S] {
        let angles = enclosing.highest.len();
        let turn = TAU / angles as f64;
        std::array::from_fn(|index| {
            let score = scores[index];
            let mut best = Hit { node, theta_rad: 0.0, score: f64::NEG_INFINITY };
            let promised: Vec<f64> = (0..angles).map(|row| score(&enclosing.at(row))).collect();
            // The most promising angle first: what it gives rules most of the others out unseen.
            let first = (0..promised.len()).max_by(|a, b| promised[*a].total_cmp(&promised[*b]));
            for row in first.into_iter().chain(0..promised.len()) {
                let theta = row as f64 * turn - PI;
                // What is not a number must not pass for a small one.
                if promised[row] <= best.score || !self.counts(node, theta) {
                    continue;
                }
                let value = score(&principal_values(&stress_at(row)));
                if value > best.score {
                    best = Hit { node, theta_rad: theta, score: value };
                }
            }
            best
        })
    }

    fn counts(&self, node: usize, theta: f64) -> bool {
        if planted(Fault::PeakAtMiddleOnly) && theta != 0.0 {
            return false;
        }
        if !self.region.loaded[node] || self.region.jump_distance_mm == 0.0 {
            return true;
        }
        self.region.jumps.iter().all(|jump| {
            let apart = (theta - jump + PI).rem_euclid(TAU) - PI;
            apart.abs() * self.mesh.nodes[node].r >= self.region.jump_distance_mm
        })
    }

    /// Golden-section search between the neighbouring angles of the first pass.
    fn refine(&self, hit: &mut Hit, angles: usize, score: &Score) {
        const RATIO: f64 = 0.618_033_988_749_895;
        let turn = TAU / angles as f64;
        let (mut low, mut high) = (hit.theta_rad - turn, hit.theta_rad + turn);
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
            *hit = Hit { node: hit.node, theta_rad: (theta + PI).rem_euclid(TAU) - PI, score: found };
        }
    }

    fn stress(&self, node: usize, theta: f64) -> Stress {
        let mut waves = Waves::of(theta);
        let mut sum = [0.0; 6];
        for harmonic in self.harmonics {
            let (cos, sin) = waves.to(harmonic.n);
            let c = &harmonic.stress[node];
            for i in 0..6 {
                sum[i] += c[i] * cos + c[i + 6] * sin;
            }
        }
        sum
    }

    /// The full stress state at a hit.
    pub fn peak(&self, hit: &Hit) -> Peak {
        let stress = self.stress(hit.node, hit.theta_rad);
        Peak {
            node: hit.node,
            at: self.mesh.nodes[hit.node],
            theta_rad: hit.theta_rad,
            stress_mpa: stress,
            principal_mpa: principal_values(&stress),
            score: hit.score,
        }
    }
}
