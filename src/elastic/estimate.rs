//! What the elements at the peak disagree about: the measure of the mesh's error there.
//!
//! Displacements are continuous from element to element, stresses are not. Where two elements meet on the
//! surface each has a stress of its own; how far it lies from their mean shrinks with the mesh as the error of
//! that mean does, and costs nothing beyond the solution.

use super::element::{SAMPLES, Spot};
use super::waves::Waves;
use super::{Peak, Solution, Stress, principal};
use crate::geometry::Point;
use crate::mesh::NODE_PLACES;
use serde::Serialize;

/// How well the mesh resolves the stress at one node.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Resolution {
    /// Largest distance (MPa) of an element's own stress, along the highest tension, from the mean at the same
    /// node: at the node itself and at its neighbours along the outline.
    #[serde(rename = "disagreement_mpa")]
    pub disagreement_mpa: f64,
    /// Stress (MPa) left across a surface without load at the node, where it must vanish; `None` elsewhere.
    #[serde(rename = "across_surface_mpa")]
    pub across_mpa: Option<f64>,
    /// Mean side (mm) of the elements that meet at the node.
    pub side_mm: f64,
}

impl Solution {
    /// How well the mesh resolves the stress at a peak's node.
    ///
    /// A midside node of the outline has one element alone, so its neighbours along the outline count too. `loaded`
    /// names the edges that carry load or support.
    pub fn resolution(&self, case: usize, peak: &Peak, loaded: &[&str]) -> Resolution {
        let mesh = &self.mesh;
        let direction = principal(&peak.stress_mpa).direction;
        let touching = |node: usize| mesh.triangles.iter().filter(move |triangle| triangle.contains(&node));
        let sides: Vec<f64> = touching(peak.node)
            .flat_map(|t| [(0, 1), (1, 2), (2, 0)].map(|(a, b)| mesh.nodes[t[a]].distance(mesh.nodes[t[b]])))
            .collect();
        let edges = mesh.boundary.iter().filter(|edge| edge.nodes.contains(&peak.node));
        let mut nodes: Vec<usize> = edges.flat_map(|edge| edge.nodes).chain([peak.node]).collect();
        nodes.sort_unstable();
        nodes.dedup();
        let mut disagreement_mpa = 0.0f64;
        for node in nodes {
            let own: Vec<f64> = touching(node)
                .map(|triangle| along(&self.own_stress(case, triangle, node, peak.theta_rad), direction))
                .collect();
            let mean = own.iter().sum::<f64>() / own.len() as f64;
            disagreement_mpa = own.iter().fold(disagreement_mpa, |most, own| most.max((own - mean).abs()));
        }
        let across_mpa = self.outward(peak.node, loaded).map(|outward| {
            let stress = self.stress(case, peak.node, peak.theta_rad);
            vector(&stress, [outward.r, 0.0, outward.z]).iter().map(|t| t * t).sum::<f64>().sqrt()
        });
        Resolution { disagreement_mpa, across_mpa, side_mm: sides.iter().sum::<f64>() / sides.len() as f64 }
    }

    /// Outward direction of the surface at a node; `None` inside, on loaded edges, and at corners.
    fn outward(&self, node: usize, loaded: &[&str]) -> Option<Point> {
        let mesh = &self.mesh;
        let mut directions: Vec<Point> = Vec::new();
        for edge in mesh.boundary.iter().filter(|edge| edge.nodes.contains(&node)) {
            if loaded.contains(&mesh.tags[edge.tag].as_str()) {
                return None;
            }
            let [a, b, m] = edge.nodes.map(|node| mesh.nodes[node]);
            let run = match edge.nodes.iter().position(|other| *other == node) {
                Some(0) => m * 4.0 - a * 3.0 - b,
                Some(1) => a + b * 3.0 - m * 4.0,
                _ => b - a,
            };
            directions.push(-run.direction().left());
        }
        let first = *directions.first()?;
        // Kinks of a few degrees are those of the mesh along a curve.
        let smooth = directions.iter().all(|other| first.dot(*other) > 0.98);
        smooth.then(|| directions.iter().fold(Point::default(), |sum, d| sum + *d).direction())
    }

    /// Stress of one triangle at one of its nodes: the linear course through its three sampling points.
    fn own_stress(&self, case: usize, triangle: &[usize; 6], node: usize, theta: f64) -> Stress {
        let at = triangle.iter().position(|other| *other == node).unwrap_or(0);
        let [s, t] = NODE_PLACES[at];
        let (b, c) = (2.0 * s - 1.0 / 3.0, 2.0 * t - 1.0 / 3.0);
        let motions = triangle.map(|node| self.motion(case, node, theta));
        let d = self.iron.stiffness();
        let mut stress = [0.0; 6];
        for ([s, t], weight) in SAMPLES.into_iter().zip([1.0 - b - c, b, c]) {
            let strain = strain(&Spot::new(&self.mesh, triangle, s, t), &motions);
            for (sum, row) in stress.iter_mut().zip(&d) {
                *sum += weight * row.iter().zip(strain).map(|(d, e)| d * e).sum::<f64>();
            }
        }
        stress
    }

    /// Displacement of a node at an angle, and its derivative by that angle.
    pub(super) fn motion(&self, case: usize, node: usize, theta: f64) -> [[f64; 3]; 2] {
        let (mut sums, mut waves) = ([[0.0; 3]; 2], Waves::of(theta));
        for harmonic in &self.cases[case] {
            let n = harmonic.n as f64;
            let (cos, sin) = waves.to(harmonic.n);
            let c = &harmonic.displacement[node];
            for i in 0..3 {
                sums[0][i] += c[i] * cos + c[i + 3] * sin;
                sums[1][i] += n * (c[i + 3] * cos - c[i] * sin);
            }
        }
        sums
    }
}

/// Strain at a spot from the displacements of the six nodes and their derivatives by θ.
pub(super) fn strain(spot: &Spot, nodes: &[[[f64; 3]; 2]; 6]) -> [f64; 6] {
    let mut strain = [0.0; 6];
    for (i, [[u, v, w], [du, dv, dw]]) in nodes.iter().enumerate() {
        let (over_r, dr, dz) = (spot.value[i] / spot.at.r, spot.by_r[i], spot.by_z[i]);
        strain[0] += dr * u;
        strain[1] += over_r * (u + dv);
        strain[2] += dz * w;
        strain[3] += (dr - over_r) * v + over_r * du;
        strain[4] += dz * v + over_r * dw;
        strain[5] += dz * u + dr * w;
    }
    strain
}

/// Normal stress along a direction.
fn along(stress: &Stress, direction: [f64; 3]) -> f64 {
    vector(stress, direction).iter().zip(direction).map(|(t, d)| t * d).sum()
}

/// The stress vector on a plane with this normal.
fn vector(stress: &Stress, [r, t, z]: [f64; 3]) -> [f64; 3] {
    let [rr, tt, zz, rt, tz, rz] = *stress;
    [rr * r + rt * t + rz * z, rt * r + tt * t + tz * z, rz * r + tz * t + zz * z]
}

#[cfg(test)]
mod tests {
    use crate::elastic::tests::{half_loaded_tube, run};
    use crate::elastic::{PeakSearch, Region};

    /// The elements' own stresses, summed at an angle, are what the recovery averages harmonic by harmonic.
    #[test]
    fn the_mean_of_the_elements_own_stresses_is_the_recovered_one() {
        let solution = run(&half_loaded_tube());
        let region = Region::everything(&solution.mesh);
        let [hits] =
            PeakSearch::new(&solution.mesh, &solution.cases[0], &region).rankings(&[&|p: &[f64; 3]| p[0]]);
        let peak = PeakSearch::new(&solution.mesh, &solution.cases[0], &region).peak(&hits[0]);
        let touching: Vec<_> = solution.mesh.triangles.iter().filter(|t| t.contains(&peak.node)).collect();
        for c in 0..6 {
            let own = touching.iter().map(|t| solution.own_stress(0, t, peak.node, peak.theta_rad)[c]);
            let mean = own.sum::<f64>() / touching.len() as f64;
            let gap = (mean - peak.stress_mpa[c]).abs();
            assert!(gap < 1e-9 * peak.principal_mpa[0], "component {c}: {gap:e}");
        }
        assert!(solution.resolution(0, &peak, &[]).disagreement_mpa > 0.0);
    }
}
