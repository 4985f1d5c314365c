//! The stiffness of several harmonics times their displacements.

use pulp::{Simd, WithSimd};

pub(super) struct Multiply<'a> {
    pub columns: &'a [usize],
    pub rows: &'a [usize],
    pub parts: &'a [Vec<f64>; 3],
    pub n_of: &'a [f64],
    pub x: &'a [f64],
    pub product: &'a mut [f64],
    pub count: usize,
}

impl WithSimd for Multiply<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let Self { columns, rows, parts: [k0, k1, k2], n_of, x, product, count } = self;
        let (x, _) = S::as_simd_f64s(x);
        let (y, _) = S::as_mut_simd_f64s(product);
        let (n, _) = S::as_simd_f64s(n_of);
        let n = n[0];
        for column in 0..columns.len() - 1 {
            for entry in columns[column]..columns[column + 1] {
                let row = rows[entry];
                let outer = simd.mul_add_f64s(n, simd.splat_f64s(k2[entry]), simd.splat_f64s(k1[entry]));
                let value = simd.mul_add_f64s(n, outer, simd.splat_f64s(k0[entry]));
                for side in 0..count {
                    let (at_row, at_column) = (row * count + side, column * count + side);
                    y[at_row] = simd.mul_add_f64s(value, x[at_column], y[at_row]);
                    if row != column {
                        y[at_column] = simd.mul_add_f64s(value, x[at_row], y[at_column]);
                    }
                }
            }
        }
    }
}
