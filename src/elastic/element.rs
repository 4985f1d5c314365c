//! The 6-node triangle of revolution: strains of one harmonic and their stiffness.

use super::Iron;
use crate::geometry::Point;
use crate::mesh::{Mesh, shape_gradients, shape_values};
use crate::seeded::{Fault, planted};

/// Shape functions and their gradients in (r, z) at one point of a triangle.
pub(super) struct Spot {
    pub at: Point,
    pub value: [f64; 6],
    pub by_r: [f64; 6],
    pub by_z: [f64; 6],
    /// Area that goes with a unit weight on the natural triangle (mm²).
    pub jacobian: f64,
}

impl Spot {
    pub fn new(mesh: &Mesh, triangle: &[usize; 6], s: f64, t: f64) -> Self {
        let value = shape_values(s, t);
        let natural = shape_gradients(s, t);
        let (mut at, mut ds, mut dt) = (Point::default(), Point::default(), Point::default());
        for ((node, n), g) in triangle.iter().zip(value).zip(natural) {
            let p = mesh.nodes[*node];
            at = at + p * n;
            ds = ds + p * g[0];
            dt = dt + p * g[1];
        }
        let jacobian = ds.cross(dt);
        let (mut by_r, mut by_z) = ([0.0; 6], [0.0; 6]);
        for (i, g) in natural.iter().enumerate() {
            by_r[i] = (g[0] * dt.z - g[1] * ds.z) / jacobian;
            by_z[i] = (g[1] * ds.r - g[0] * dt.r) / jacobian;
        }
        Self { at, value, by_r, by_z, jacobian }
    }

    /// Strain-displacement columns of node `i`, the part without n: rows rr, θθ, zz, rθ, θz, rz.
    fn plain(&self, i: usize) -> [[f64; 3]; 6] {
        let (n, dr, dz) = (self.value[i] / self.at.r, self.by_r[i], self.by_z[i]);
        [[dr, 0.0, 0.0], [n, 0.0, 0.0], [0.0, 0.0, dz], [0.0, dr - n, 0.0], [0.0, dz, 0.0], [dz, 0.0, dr]]
    }

    /// The part of the strain-displacement columns that n multiplies.
    fn by_n(&self, i: usize) -> [[f64; 3]; 6] {
        let n = self.value[i] / self.at.r;
        let hoop = if planted(Fault::HoopSign) { -n } else { n };
        [[0.0; 3], [0.0, hoop, 0.0], [0.0; 3], [-n, 0.0, 0.0], [0.0, 0.0, -n], [0.0; 3]]
    }

    /// Strain amplitudes of harmonic `n` from the amplitudes (u, v, w) of the six nodes.
    pub fn strain(&self, n: f64, nodes: &[[f64; 3]; 6]) -> [f64; 6] {
        let mut strain = [0.0; 6];
        for (i, [u, v, w]) in nodes.iter().enumerate() {
            let (over_r, dr, dz) = (self.value[i] / self.at.r, self.by_r[i], self.by_z[i]);
            strain[0] += dr * u;
            strain[1] += over_r * (u + n * v);
            strain[2] += dz * w;
            strain[3] += (dr - over_r) * v - n * over_r * u;
            strain[4] += dz * v - n * over_r * w;
            strain[5] += dz * u + dr * w;
        }
        strain
    }
}

/// Gauss rule of degree 5 on the natural triangle (Dunavant 1985): s, t, weight; weights sum to 1/2.
pub(super) const RULE: [[f64; 3]; 7] = {
    const A: f64 = 0.470_142_064_105_115_1;
    const B: f64 = 0.101_286_507_323_456_34;
    const WA: f64 = 0.066_197_076_394_253_1;
    const WB: f64 = 0.062_969_590_272_413_57;
    [
        [1.0 / 3.0, 1.0 / 3.0, 0.1125],
        [A, A, WA],
        [1.0 - 2.0 * A, A, WA],
        [A, 1.0 - 2.0 * A, WA],
        [B, B, WB],
        [1.0 - 2.0 * B, B, WB],
        [B, 1.0 - 2.0 * B, WB],
    ]
};

/// Where the derivatives of a quadratic triangle are most exact: the three-point rule's places.
pub(super) const SAMPLES: [[f64; 2]; 3] =
    [[1.0 / 6.0, 1.0 / 6.0], [2.0 / 3.0, 1.0 / 6.0], [1.0 / 6.0, 2.0 / 3.0]];

/// The three parts of an element's stiffness, K_n = K0 + n·K1 + n²·K2, per radian.
/// Rows and columns run over (node, component).
pub(super) struct Stiffness {
    pub parts: [[[f64; 18]; 18]; 3],
}

pub(super) fn stiffness(mesh: &Mesh, triangle: &[usize; 6], iron: &Iron) -> Stiffness {
    let d = iron.stiffness();
    let mut parts = [[[0.0; 18]; 18]; 3];
    for [s, t, weight] in RULE {
        let spot = Spot::new(mesh, triangle, s, t);
        let radius = if planted(Fault::VolumeWithoutRadius) { 1.0 } else { spot.at.r };
        let volume = weight * spot.jacobian * radius;
        let plain: [_; 6] = std::array::from_fn(|i| spot.plain(i));
        let by_n: [_; 6] = std::array::from_fn(|i| spot.by_n(i));
        let stressed = |b: &[[[f64; 3]; 6]; 6]| -> [[[f64; 3]; 6]; 6] {
            std::array::from_fn(|i| {
                std::array::from_fn(|row| {
                    std::array::from_fn(|c| volume * (0..6).map(|k| d[row][k] * b[i][k][c]).sum::<f64>())
                })
            })
        };
        let (d_plain, d_by_n) = (stressed(&plain), stressed(&by_n));
        for i in 0..6 {
            for a in 0..3 {
                for j in 0..6 {
                    for b in 0..3 {
                        let (row, column) = (3 * i + a, 3 * j + b);
                        let (mut k0, mut k1, mut k2) = (0.0, 0.0, 0.0);
                        for k in 0..6 {
                            k0 += plain[i][k][a] * d_plain[j][k][b];
                            k1 += plain[i][k][a] * d_by_n[j][k][b] + by_n[i][k][a] * d_plain[j][k][b];
                            k2 += by_n[i][k][a] * d_by_n[j][k][b];
                        }
                        parts[0][row][column] += k0;
                        parts[1][row][column] += k1;
                        parts[2][row][column] += k2;
                    }
                }
            }
        }
    }
    Stiffness { parts }
}
