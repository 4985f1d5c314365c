//! The highest score along the outline, between its nodes and between angles.
//!
//! The recovered stress runs along an outline's edge as the parabola through the full tensors of its three
//! nodes, and so its maximum lies between them as a rule. Lacks the inside of the body, where nodes alone
//! are searched. Units: mm, MPa, rad.

use super::waves::Waves;
use super::{Harmonic, Hit, Peak, Region, Score, Stress, principal_values};
use crate::mesh::{BoundaryEdge, Mesh};
use std::f64::consts::{PI, TAU};

/// Edges are looked at when one of their nodes comes this near to the highest node: a parabola through
/// three values rises little above the largest unless the mesh is far too coarse for the field.
const NEAR: f64 = 0.9;
/// Edges are searched closely when a sample on them comes this near to the highest sample.
const CLOSE: f64 = 0.97;
/// Samples along an edge that find the valley in which the maximum lies.
const SAMPLES: usize = 9;
/// Half width of the search in θ around a node's own angle, in waves of the last harmonic.
const WAVES: f64 = 0.5;
const ROUNDS: usize = 12;

/// The outline of a body under one load case.
pub struct Along<'a> {
    pub mesh: &'a Mesh,
    pub harmonics: &'a [Harmonic],
    pub region: &'a Region,
}

/// Amplitudes of the stress at one point of an edge, harmonic by harmonic.
type Course = Vec<(usize, [f64; 12])>;

impl Along<'_> {
    /// The highest score on the outline's curve, or `node` where none is higher: place and angle are found
    /// together. `ranking` holds the nodes by their score, highest first; `node` is the highest of them.
    #[must_use]
    pub fn highest(&self, ranking: &[Hit], node: Peak, score: &Score) -> Peak {
        let least = node.score - (1.0 - NEAR) * node.score.abs();
        let mut angle_of = vec![None; self.mesh.nodes.len()];
        for hit in ranking.iter().take_while(|hit| hit.score >= least) {
            angle_of[hit.node] = Some(hit.theta_rad);
        }
        let mut starts: Vec<(f64, &BoundaryEdge, f64, f64)> = Vec::new();
        for edge in &self.mesh.boundary {
            if edge.nodes.iter().any(|node| !self.region.nodes[*node]) {
                continue;
            }
            for theta in edge.nodes.iter().filter_map(|node| angle_of[*node]) {
                let tensors = edge.nodes.map(|node| stress(&self.at_node(node), theta));
                let on = |t: f64| score(&principal_values(&blend(&tensors, t)));
                let samples = (0..SAMPLES).map(|i| i as f64 / (SAMPLES - 1) as f64);
                let best = samples.map(|t| (on(t), t)).max_by(|a, b| a.0.total_cmp(&b.0));
                starts.extend(best.map(|(value, t)| (value, edge, t, theta)));
            }
        }
        let top = starts.iter().map(|start| start.0).fold(node.score, f64::max);
        starts.retain(|start| start.0 >= top - (1.0 - CLOSE) * top.abs());
        let mut best = node;
        for (_, edge, t, theta) in starts {
            let found = self.climb(edge, t, theta, score);
            if found.score > best.score && self.counts(edge, &found) {
                best = found;
            }
        }
        best
    }

    /// Place and angle in turn until neither gains.
    fn climb(&self, edge: &BoundaryEdge, mut t: f64, mut theta: f64, score: &Score) -> Peak {
        let courses = edge.nodes.map(|node| self.at_node(node));
        let last = self.harmonics.iter().map(|harmonic| harmonic.n).max().unwrap_or(0).max(1);
        let mut reach_theta = WAVES * TAU / last as f64;
        let mut reach_t = 1.5 / (SAMPLES - 1) as f64;
        let mut value = f64::NEG_INFINITY;
        for _ in 0..ROUNDS {
            let tensors = [0, 1, 2].map(|i| stress(&courses[i], theta));
            let along = |t: f64| score(&principal_values(&blend(&tensors, t)));
            t = highest(along, (t - reach_t).max(0.0), (t + reach_t).min(1.0), t);
            let weights = weights(t);
            let course: Course = (0..self.harmonics.len())
                .map(|h| {
                    let sum = |c: usize| (0..3).map(|i| weights[i] * courses[i][h].1[c]).sum();
                    (courses[0][h].0, std::array::from_fn(sum))
                })
                .collect();
            let around = |theta: f64| score(&principal_values(&stress(&course, theta)));
            theta = highest(around, theta - reach_theta, theta + reach_theta, theta);
            let next = around(theta);
            if next - value <= 1e-12 * next.abs() {
                break;
            }
            value = next;
            // The first round finds the hill; what place and angle then still owe each other is small.
            (reach_t, reach_theta) = (0.5 * reach_t, 0.5 * reach_theta);
        }
        let stress_mpa = blend(&[0, 1, 2].map(|i| stress(&courses[i], theta)), t);
        let principal_mpa = principal_values(&stress_mpa);
        let weights = weights(t);
        let places = edge.nodes.map(|node| self.mesh.nodes[node]);
        let at = places[0] * weights[0] + places[1] * weights[1] + places[2] * weights[2];
        let nearest = if t < 0.25 {
            0
        } else if t > 0.75 {
            1
        } else {
            2
        };
        Peak {
            node: edge.nodes[nearest],
            at,
            theta_rad: (theta + PI).rem_euclid(TAU) - PI,
            stress_mpa,
            principal_mpa,
            score: score(&principal_mpa),
        }
    }

    /// Loaded edges are left out beside jumps of their load, as their nodes are.
    fn counts(&self, edge: &BoundaryEdge, peak: &Peak) -> bool {
        let loaded = edge.nodes.iter().any(|node| self.region.loaded[*node]);
        !loaded
            || self.region.jumps.iter().all(|jump| {
                let apart = (peak.theta_rad - jump + PI).rem_euclid(TAU) - PI;
                apart.abs() * peak.at.r >= self.region.jump_distance_mm
            })
    }

    fn at_node(&self, node: usize) -> Course {
        self.harmonics.iter().map(|harmonic| (harmonic.n, harmonic.stress[node])).collect()
    }
}

/// Weights of start, end and midside node at the share `t` of an edge.
fn weights(t: f64) -> [f64; 3] {
    [(1.0 - t) * (1.0 - 2.0 * t), t * (2.0 * t - 1.0), 4.0 * t * (1.0 - t)]
}

fn blend(tensors: &[Stress; 3], t: f64) -> Stress {
    let weights = weights(t);
    std::array::from_fn(|c| (0..3).map(|i| weights[i] * tensors[i][c]).sum())
}

fn stress(course: &Course, theta: f64) -> Stress {
    let (mut sum, mut waves) = ([0.0; 6], Waves::of(theta));
    for (n, c) in course {
        let (cos, sin) = waves.to(*n);
        for i in 0..6 {
            sum[i] += c[i] * cos + c[i + 6] * sin;
        }
    }
    sum
}

/// Golden-section search; `known` is kept where nothing in between is higher, and so are the two ends.
fn highest(value: impl Fn(f64) -> f64, from: f64, to: f64, known: f64) -> f64 {
    const RATIO: f64 = 0.618_033_988_749_895;
    let (mut low, mut high) = (from, to);
    let (mut a, mut b) = (high - RATIO * (high - low), low + RATIO * (high - low));
    let (mut fa, mut fb) = (value(a), value(b));
    for _ in 0..32 {
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
    let found = [known, a, b, from, to].map(|x| (value(x), x));
    found.into_iter().max_by(|x, y| x.0.total_cmp(&y.0)).map_or(known, |best| best.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elastic::PeakSearch;
    use crate::geometry::{Edge, Outline, Point};
    use crate::mesh::Sizing;
    use crate::reference::compare::{Tolerance, assert_close};

    /// Numbers between 0 and 1 that repeat from run to run (Knuth's 64-bit linear congruence).
    struct Random(u64);

    impl Random {
        fn unit(&mut self) -> f64 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (self.0 >> 11) as f64 / (1u64 << 53) as f64
        }
    }

    /// A ring with a hole-like groove, and harmonics with smooth but arbitrary nodal stresses.
    fn field(seed: u64) -> (Mesh, Vec<Harmonic>) {
        let p = Point::new;
        let edges = vec![
            Edge::line(p(50.0, 0.0), p(70.0, 0.0), 0),
            Edge::arc_between(p(70.0, 0.0), p(70.0, 24.0), p(70.0, 12.0), true, 0),
            Edge::line(p(70.0, 24.0), p(50.0, 24.0), 0),
            Edge::line(p(50.0, 24.0), p(50.0, 0.0), 0),
        ];
        let outline = Outline { loops: vec![edges], tags: vec!["all".into()] };
        let sizing = Sizing { largest_mm: 9.0, ..Sizing::default() };
        let mesh = Mesh::generate(&outline, &sizing).expect("a mesh");
        let mut random = Random(seed);
        let mut harmonics = Vec::new();
        for n in 0..7 {
            let waves: Vec<[f64; 3]> = (0..12)
                .map(|_| [random.unit() - 0.5, 0.25 * (random.unit() - 0.5), random.unit() * TAU])
                .collect();
            let stress = mesh.nodes.iter().map(|q| {
                std::array::from_fn(|c| {
                    let [size, wave, phase] = waves[c];
                    10.0 * size * (wave * (q.r + 0.6 * q.z) + phase).sin()
                })
            });
            harmonics.push(Harmonic { n, displacement: Vec::new(), stress: stress.collect() });
        }
        (mesh, harmonics)
    }

    #[test]
    fn matches_brute_force() {
        let tension = |p: &[f64; 3]| p[0];
        let mut gained = 0;
        for seed in 1..=12 {
            let (mesh, harmonics) = field(seed);
            let region = Region::everything(&mesh);
            let search = PeakSearch::new(&mesh, &harmonics, &region);
            let [ranking] = search.rankings(&[&tension]);
            // Only the outline is sampled, so the highest node of the outline is where it starts.
            let on: Vec<usize> = mesh.boundary.iter().flat_map(|edge| edge.nodes).collect();
            let outline: Vec<Hit> = ranking.into_iter().filter(|hit| on.contains(&hit.node)).collect();
            let node = search.peak(&outline[0]);
            let along = Along { mesh: &mesh, harmonics: &harmonics, region: &region };
            let found = along.highest(&outline, node, &tension);
            let mut brute = f64::NEG_INFINITY;
            for edge in &mesh.boundary {
                let courses = edge.nodes.map(|node| along.at_node(node));
                for step in 0..1440 {
                    let theta = f64::from(step) * TAU / 1440.0;
                    let tensors = [0, 1, 2].map(|i| stress(&courses[i], theta));
                    for i in 0..=40 {
                        let t = f64::from(i) / 40.0;
                        brute = brute.max(principal_values(&blend(&tensors, t))[0]);
                    }
                }
            }
            assert!(found.score >= brute, "seed {seed}: found {} below sampled {brute}", found.score);
            let reason =
                "samples 1/40 of an edge and a quarter of a degree apart miss the top by the square of that";
            assert_close("highest on the curve", found.score, brute, Tolerance::Relative(1e-3), reason);
            gained += usize::from(found.score > node.score * (1.0 + 1e-4));
        }
        assert!(
            gained >= 6,
            "nodes alone found nearly the same in all but {gained} fields: the test shows nothing"
        );
    }
}
