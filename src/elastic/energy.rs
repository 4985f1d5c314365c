//! The mesh's error in energy, triangle by triangle.
//!
//! The recovered stress σ* is nearer to the exact one than the elements' own σ; the energy of what lies between
//! them, ½ ∫ (σ* − σ) : C⁻¹ : (σ* − σ) r dA, tells how wrong each triangle is (Zienkiewicz & Zhu 1992). It is taken
//! in the section at one angle, in N·mm per radian.

use super::Solution;
use super::element::Spot;
use super::estimate::strain;
use rayon::prelude::*;

/// Middles of the sides: a rule of degree two whose places are not those where the own stress is most exact.
const MIDDLES: [[f64; 2]; 3] = [[0.5, 0.0], [0.5, 0.5], [0.0, 0.5]];

/// One triangle's strain energy at an angle, and that of its error (N·mm per radian).
#[derive(Debug, Clone, Copy, Default)]
pub struct EnergyError {
    pub energy: f64,
    pub error: f64,
}

impl Solution {
    /// Energy and error of every triangle in the section at `theta`.
    pub fn energy_errors(&self, case: usize, theta: f64) -> Vec<EnergyError> {
        let mesh = &self.mesh;
        let nodes = 0..mesh.nodes.len();
        let fields: Vec<_> = nodes
            .into_par_iter()
            .map(|node| (self.motion(case, node, theta), self.stress(case, node, theta)))
            .collect();
        let (stiffness, softness) = (self.iron.stiffness(), self.iron.softness());
        let one = |triangle: &[usize; 6]| {
            let motions = triangle.map(|node| fields[node].0);
            let mut sum = EnergyError::default();
            for [s, t] in MIDDLES {
                let spot = Spot::new(mesh, triangle, s, t);
                let volume = spot.jacobian * spot.at.r / 6.0;
                let own = product(&stiffness, &strain(&spot, &motions));
                let mut recovered = [0.0; 6];
                for (node, weight) in triangle.iter().zip(spot.value) {
                    for (sum, stress) in recovered.iter_mut().zip(fields[*node].1) {
                        *sum += weight * stress;
                    }
                }
                let gap: [f64; 6] = std::array::from_fn(|i| recovered[i] - own[i]);
                sum.energy += 0.5 * volume * dot(&recovered, &product(&softness, &recovered));
                sum.error += 0.5 * volume * dot(&gap, &product(&softness, &gap));
            }
            sum
        };
        mesh.triangles.par_iter().map(one).collect()
    }
}

fn product(matrix: &[[f64; 6]; 6], vector: &[f64; 6]) -> [f64; 6] {
    matrix.map(|row| dot(&row, vector))
}

fn dot(a: &[f64; 6], b: &[f64; 6]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use crate::elastic::tests::{half_loaded_tube, pressed_tube, run};

    /// A tube between held ends under pressure is smooth: its error in energy falls with the fourth power of the side.
    #[test]
    fn the_error_in_energy_falls_as_quadratic_triangles_do_and_the_energy_stays() {
        let mut sums = Vec::new();
        for size_mm in [12.0, 6.0, 3.0] {
            let parts = run(&pressed_tube(0.3, size_mm)).energy_errors(0, 0.3);
            let sum = |get: fn(&super::EnergyError) -> f64| parts.iter().map(get).sum::<f64>();
            sums.push((sum(|part| part.energy), sum(|part| part.error)));
        }
        for pair in sums.windows(2) {
            let order = (pair[0].1 / pair[1].1).log2();
            assert!((3.0..5.5).contains(&order), "order {order}: {sums:?}");
            assert!((pair[1].0 / pair[0].0 - 1.0).abs() < 0.01, "{sums:?}");
        }
    }

    #[test]
    fn strain_and_stress_turn_into_each_other() {
        let iron = half_loaded_tube().iron;
        let strain = [1e-3, -2e-4, 5e-4, 3e-4, -1e-4, 2e-4];
        let back = super::product(&iron.softness(), &super::product(&iron.stiffness(), &strain));
        for (a, b) in back.into_iter().zip(strain) {
            assert!((a - b).abs() < 1e-15, "{a} {b}");
        }
    }
}
