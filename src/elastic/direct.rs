//! Stress straight from the displacements inside an element, without recovery.
//!
//! It jumps from element to element; how far it lies from the recovered stress measures the error of the
//! discretisation (Zienkiewicz & Zhu 1992). Lacks stresses of temperature. Units: mm, MPa, rad.

use super::{Solution, Stress};
use crate::geometry::Point;
use crate::mesh::{shape_gradients, shape_values};

impl Solution {
    /// Stress from the strains at a point of the body; `None` outside it.
    pub fn direct(&self, case: usize, p: Point, theta: f64) -> Option<Stress> {
        let place = self.locator.find(&self.mesh, p)?;
        let nodes = &self.mesh.triangles[place.triangle];
        let values = shape_values(place.s, place.t);
        let gradients = shape_gradients(place.s, place.t);
        let (mut ds, mut dt) = (Point::default(), Point::default());
        for (node, g) in nodes.iter().zip(&gradients) {
            ds = ds + self.mesh.nodes[*node] * g[0];
            dt = dt + self.mesh.nodes[*node] * g[1];
        }
        let det = ds.cross(dt);
        // Displacement and its derivatives along θ, r and z.
        let (mut value, mut turn) = ([0.0; 3], [0.0; 3]);
        let (mut along_r, mut along_z) = ([0.0; 3], [0.0; 3]);
        for ((node, weight), g) in nodes.iter().zip(values).zip(gradients) {
            let r_slope = (g[0] * dt.z - g[1] * ds.z) / det;
            let z_slope = (g[1] * ds.r - g[0] * dt.r) / det;
            for harmonic in &self.cases[case] {
                let n = harmonic.n as f64;
                let (sin, cos) = (n * theta).sin_cos();
                let c = &harmonic.displacement[*node];
                for i in 0..3 {
                    let here = c[i] * cos + c[i + 3] * sin;
                    value[i] += weight * here;
                    turn[i] += weight * n * (c[i + 3] * cos - c[i] * sin);
                    along_r[i] += r_slope * here;
                    along_z[i] += z_slope * here;
                }
            }
        }
        let [u, v, _] = value;
        let strain = [along_r[0], (u + turn[1]) / p.r, along_z[2]];
        let shear = [along_r[1] + (turn[0] - v) / p.r, along_z[1] + turn[2] / p.r, along_z[0] + along_r[2]];
        let (young, nu) = (self.iron.young_mpa, self.iron.poisson);
        let rigidity = 0.5 * young / (1.0 + nu);
        let volume = young * nu / ((1.0 + nu) * (1.0 - 2.0 * nu)) * strain.iter().sum::<f64>();
        let [rr, tt, zz] = strain.map(|e| volume + 2.0 * rigidity * e);
        let [rt, tz, rz] = shear.map(|g| rigidity * g);
        Some([rr, tt, zz, rt, tz, rz])
    }
}
