//! Stresses of several harmonics: at the sampling points from the displacements, at the nodes from those.

use crate::elastic::element::{SAMPLES, Spot};
use crate::elastic::recovery::Recovery;
use pulp::{Simd, WithSimd};

/// Components of the stress times families.
const SLOTS: usize = 12;

/// What the recovery of stresses needs; displacements are laid out row by row, family by family, lane by lane.
pub(in crate::elastic) struct Recover<'a> {
    /// Rows of the first component of every triangle's nodes.
    pub rows: &'a [[usize; 6]],
    pub spots: &'a [Spot],
    pub recovery: &'a Recovery,
    /// λ and μ (MPa).
    pub lame: [f64; 2],
    pub n_of: &'a [f64],
    pub u: &'a [f64],
    pub samples: &'a mut [f64],
    /// Out: node by node, component by component, family by family, lane by lane.
    pub nodal: &'a mut [f64],
}

impl Recover<'_> {
    pub fn run(self) {
        super::run(self.n_of.len(), self);
    }
}

impl WithSimd for Recover<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let (u, _) = S::as_simd_f64s(self.u);
        let (n, _) = S::as_simd_f64s(self.n_of);
        let (samples, _) = S::as_mut_simd_f64s(self.samples);
        let n = n[0];
        for (triangle, rows) in self.rows.iter().enumerate() {
            for k in 0..SAMPLES.len() {
                let index = triangle * SAMPLES.len() + k;
                let out = &mut samples[index * SLOTS..(index + 1) * SLOTS];
                for family in 0..2 {
                    sample(simd, &self.spots[index], rows, u, family, n, self.lame, out);
                }
            }
        }
        let samples = &*samples;
        let (nodal, _) = S::as_mut_simd_f64s(self.nodal);
        for (node, out) in nodal.chunks_exact_mut(SLOTS).enumerate() {
            let mut sum = [simd.splat_f64s(0.0); SLOTS];
            for (sample, weight) in self.recovery.row(node) {
                let weight = simd.splat_f64s(weight);
                let from = &samples[sample * SLOTS..(sample + 1) * SLOTS];
                for (sum, value) in sum.iter_mut().zip(from) {
                    *sum = simd.mul_add_f64s(weight, *value, *sum);
                }
            }
            out.copy_from_slice(&sum);
        }
    }
}

/// Stress of one family at one sampling point.
#[inline(always)]
#[allow(clippy::too_many_arguments)]
fn sample<S: Simd>(
    simd: S,
    spot: &Spot,
    rows: &[usize; 6],
    u: &[S::f64s],
    family: usize,
    n: S::f64s,
    [lambda, shear]: [f64; 2],
    out: &mut [S::f64s],
) {
    let zero = simd.splat_f64s(0.0);
    // Values over r, derivatives by r and by z of (u, v, w).
    let (mut over_r, mut by_r, mut by_z) = ([zero; 3], [zero; 3], [zero; 3]);
    for (i, row) in rows.iter().enumerate() {
        let weights = [spot.value[i] / spot.at.r, spot.by_r[i], spot.by_z[i]].map(|w| simd.splat_f64s(w));
        for c in 0..3 {
            let value = u[(row + c) * 2 + family];
            over_r[c] = simd.mul_add_f64s(weights[0], value, over_r[c]);
            by_r[c] = simd.mul_add_f64s(weights[1], value, by_r[c]);
            by_z[c] = simd.mul_add_f64s(weights[2], value, by_z[c]);
        }
    }
    let rr = by_r[0];
    let hoop = simd.mul_add_f64s(n, over_r[1], over_r[0]);
    let zz = by_z[2];
    let r_theta = simd.negate_mul_add_f64s(n, over_r[0], simd.sub_f64s(by_r[1], over_r[1]));
    let theta_z = simd.negate_mul_add_f64s(n, over_r[2], by_z[1]);
    let rz = simd.add_f64s(by_z[0], by_r[2]);
    let volume = simd.mul_f64s(simd.splat_f64s(lambda), simd.add_f64s(simd.add_f64s(rr, hoop), zz));
    let (twice, shear) = (simd.splat_f64s(2.0 * shear), simd.splat_f64s(shear));
    let stress = [
        simd.mul_add_f64s(twice, rr, volume),
        simd.mul_add_f64s(twice, hoop, volume),
        simd.mul_add_f64s(twice, zz, volume),
        simd.mul_f64s(shear, r_theta),
        simd.mul_f64s(shear, theta_z),
        simd.mul_f64s(shear, rz),
    ];
    for (c, value) in stress.into_iter().enumerate() {
        out[2 * c + family] = value;
    }
}
