//! Stress straight from the displacements inside an element, without recovery.
//!
//! It jumps from element to element; how far it lies from the recovered stress measures the error of the
//! discretisation (Zienkiewicz & Zhu 1992). Lacks stresses of temperature. Units: mm, MPa, rad.

use super::element::Spot;
use super::estimate::strain;
use super::{Solution, Stress};
use crate::geometry::Point;
use crate::mesh::Place;

/// Both stresses at one point of the body (MPa).
#[derive(Debug, Clone, Copy)]
pub struct TwoStresses {
    pub recovered: Stress,
    pub direct: Stress,
}

impl Solution {
    /// Recovered and direct stress at a point of the body; `None` outside it.
    pub fn two_stresses(&self, case: usize, p: Point, theta: f64) -> Option<TwoStresses> {
        let place = self.locator.find(&self.mesh, p)?;
        let mut recovered = [0.0; 6];
        for (node, weight) in self.mesh.triangles[place.triangle].iter().zip(place.weights()) {
            for (sum, value) in recovered.iter_mut().zip(self.stress(case, *node, theta)) {
                *sum += weight * value;
            }
        }
        Some(TwoStresses { recovered, direct: self.direct(case, &place, theta) })
    }

    /// Stress from the strains at a place.
    fn direct(&self, case: usize, place: &Place, theta: f64) -> Stress {
        let triangle = &self.mesh.triangles[place.triangle];
        let motions = triangle.map(|node| self.motion(case, node, theta));
        let strain = strain(&Spot::new(&self.mesh, triangle, place.s, place.t), &motions);
        self.iron.stiffness().map(|row| row.iter().zip(strain).map(|(d, e)| d * e).sum())
    }
}
