//! Vector kernels: every element is one register with a number per harmonic.

use pulp::Simd;

/// The products Σ aᵢₖ·bⱼₖ over k for M rows against N rows, all of the length `depth`.
#[inline(always)]
pub(super) fn products<S: Simd, const M: usize, const N: usize>(
    simd: S,
    a: [&[S::f64s]; M],
    b: [&[S::f64s]; N],
    depth: usize,
) -> [[S::f64s; N]; M] {
    let zero = simd.splat_f64s(0.0);
    let mut sum = [[zero; N]; M];
    // Slices of one known length, so that the loop needs no further checks.
    let a = a.map(|row| &row[..depth]);
    let b = b.map(|row| &row[..depth]);
    for k in 0..depth {
        let right: [S::f64s; N] = std::array::from_fn(|j| b[j][k]);
        for i in 0..M {
            let left = a[i][k];
            for j in 0..N {
                sum[i][j] = simd.mul_add_f64s(left, right[j], sum[i][j]);
            }
        }
    }
    sum
}
