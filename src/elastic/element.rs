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

/// Written out component by component: in (u, w) and v the parts without n and with n² stand apart from
/// those with n, and most products of the strain-displacement columns are zero.
pub(super) fn stiffness(mesh: &Mesh, triangle: &[usize; 6], iron: &Iron) -> Stiffness {
    let d = iron.stiffness();
    let turn = if planted(Fault::HoopSign) { -1.0 } else { 1.0 };
    let mut parts = [[[0.0; 18]; 18]; 3];
    for [s, t, weight] in RULE {
        let spot = Spot::new(mesh, triangle, s, t);
        let radius = if planted(Fault::VolumeWithoutRadius) { 1.0 } else { spot.at.r };
        let volume = weight * spot.jacobian * radius;
        let (along, across, shear) = (volume * d[0][0], volume * d[0][1], volume * d[3][3]);
        let over_r = spot.value.map(|value| value / spot.at.r);
        for i in 0..6 {
            // Strains of node i: u,r and w,r; u/r and v/r; u,z and v,z and w,z; v,r − v/r.
            let (a, h, z) = (spot.by_r[i], over_r[i], spot.by_z[i]);
            let twist = a - h;
            for (j, ((b, k), y)) in spot.by_r.into_iter().zip(over_r).zip(spot.by_z).enumerate() {
                let turned = b - k;
                let [k0, k1, k2] = &mut parts;
                let (u, v, w) = (3 * i, 3 * i + 1, 3 * i + 2);
                let (uu, vv, ww) = (3 * j, 3 * j + 1, 3 * j + 2);
                k0[u][uu] += along * (a * b + h * k) + across * (a * k + h * b) + shear * z * y;
                k0[u][ww] += across * (a + h) * y + shear * z * b;
                k0[w][uu] += across * z * (b + k) + shear * a * y;
                k0[w][ww] += along * z * y + shear * a * b;
                k0[v][vv] += shear * (twist * turned + z * y);
                k1[u][vv] += turn * (across * a * k + along * h * k) - shear * h * turned;
                k1[v][uu] += turn * (across * h * b + along * h * k) - shear * twist * k;
                k1[w][vv] += turn * across * z * k - shear * h * y;
                k1[v][ww] += turn * across * h * y - shear * z * k;
                k2[u][uu] += shear * h * k;
                k2[v][vv] += along * h * k;
                k2[w][ww] += shear * h * k;
            }
        }
    }
    Stiffness { parts }
}
