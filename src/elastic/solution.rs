//! The solved fields: displacement and stress at any node or point, at any angle.

use super::waves::Waves;
use super::{Balance, BlockStep, Iron, Stress};
use crate::geometry::Point;
use crate::mesh::{Locator, Mesh};
use serde::Serialize;

/// The two families of a Fourier expansion: symmetric and antisymmetric about θ = 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Family {
    Cosine,
    Sine,
}

/// One harmonic's share of one case's fields at every node.
#[derive(Debug, Clone, Default)]
pub struct Harmonic {
    pub n: usize,
    /// Coefficients of cos nθ (first three) and sin nθ (last three) of (u, v, w) in mm.
    pub displacement: Vec<[f64; 6]>,
    /// Coefficients of cos nθ (first six) and sin nθ (last six) of the stress in MPa.
    pub stress: Vec<[f64; 12]>,
}

/// Everything that came out of an analysis.
pub struct Solution {
    pub mesh: Mesh,
    pub locator: Locator,
    pub iron: Iron,
    pub case_names: Vec<String>,
    /// For each case its harmonics in increasing order; harmonics without load are left out.
    pub cases: Vec<Vec<Harmonic>>,
    pub balance: Vec<Balance>,
    /// How the governing stress settled as harmonics were added.
    pub blocks: Vec<BlockStep>,
    pub cost: Cost,
}

/// What the analysis took.
#[derive(Debug, Clone, Copy, Default, Serialize)]
pub struct Cost {
    pub unknowns: usize,
    pub factor_entries: usize,
    pub harmonics_solved: usize,
    /// Largest relative residual of any harmonic.
    #[serde(rename = "relative_residual")]
    pub residual: f64,
}

impl Solution {
    /// Displacement (u, v, w) in mm of a node at `theta`.
    pub fn displacement(&self, case: usize, node: usize, theta: f64) -> [f64; 3] {
        let (mut sum, mut waves) = ([0.0; 3], Waves::of(theta));
        for harmonic in &self.cases[case] {
            let (cos, sin) = waves.to(harmonic.n);
            let c = &harmonic.displacement[node];
            for i in 0..3 {
                sum[i] += c[i] * cos + c[i + 3] * sin;
            }
        }
        sum
    }

    /// Stress in MPa at a node, at `theta`.
    pub fn stress(&self, case: usize, node: usize, theta: f64) -> Stress {
        let (mut sum, mut waves) = ([0.0; 6], Waves::of(theta));
        for harmonic in &self.cases[case] {
            let (cos, sin) = waves.to(harmonic.n);
            let c = &harmonic.stress[node];
            for i in 0..6 {
                sum[i] += c[i] * cos + c[i + 6] * sin;
            }
        }
        sum
    }

    /// Displacement and stress at a point of the body; `None` outside it.
    pub fn at(&self, case: usize, p: Point, theta: f64) -> Option<([f64; 3], Stress)> {
        let place = self.locator.find(&self.mesh, p)?;
        let (mut displacement, mut stress) = ([0.0; 3], [0.0; 6]);
        for (node, weight) in self.mesh.triangles[place.triangle].iter().zip(place.weights()) {
            for (sum, value) in displacement.iter_mut().zip(self.displacement(case, *node, theta)) {
                *sum += weight * value;
            }
            for (sum, value) in stress.iter_mut().zip(self.stress(case, *node, theta)) {
                *sum += weight * value;
            }
        }
        Some((displacement, stress))
    }

    /// Highest harmonic that was solved.
    pub fn last_harmonic(&self) -> usize {
        self.cases.iter().flatten().map(|harmonic| harmonic.n).max().unwrap_or(0)
    }
}
