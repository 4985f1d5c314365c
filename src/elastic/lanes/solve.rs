//! The two triangular solutions by the factor.

use super::{Bundle, Structure};
use pulp::{Simd, WithSimd};

/// One supernode's part of the solution by the lower triangle: its own unknowns, and what they take off below.
#[inline(always)]
pub(super) fn forward<S: Simd>(
    simd: S,
    panel: &[S::f64s],
    (from, width): (usize, usize),
    below: &[usize],
    x: &mut [S::f64s],
    sides: usize,
) {
    let mut side = 0;
    while side < sides {
        match sides - side {
            1 => forward_by::<S, 1>(simd, panel, (from, width), below, x, sides, side),
            2 | 3 => forward_by::<S, 2>(simd, panel, (from, width), below, x, sides, side),
            _ => forward_by::<S, 4>(simd, panel, (from, width), below, x, sides, side),
        }
        side += taken(sides - side);
    }
}

/// Sides that are solved together: as many as fit the registers.
fn taken(left: usize) -> usize {
    match left {
        1 => 1,
        2 | 3 => 2,
        _ => 4,
    }
}

#[inline(always)]
fn forward_by<S: Simd, const N: usize>(
    simd: S,
    panel: &[S::f64s],
    (from, width): (usize, usize),
    below: &[usize],
    x: &mut [S::f64s],
    sides: usize,
    first: usize,
) {
    for i in 0..width {
        let row = &panel[i * width..(i + 1) * width];
        let at = (from + i) * sides + first;
        let mut sum: [S::f64s; N] = std::array::from_fn(|c| x[at + c]);
        for (k, factor) in row[..i].iter().enumerate() {
            let known = (from + k) * sides + first;
            for (c, sum) in sum.iter_mut().enumerate() {
                *sum = simd.negate_mul_add_f64s(*factor, x[known + c], *sum);
            }
        }
        for (c, sum) in sum.iter().enumerate() {
            x[at + c] = simd.mul_f64s(*sum, row[i]);
        }
    }
    for (row, factors) in below.iter().zip(panel[width * width..].chunks_exact(width)) {
        let at = row * sides + first;
        let mut sum: [S::f64s; N] = std::array::from_fn(|c| x[at + c]);
        for (k, factor) in factors.iter().enumerate() {
            let known = (from + k) * sides + first;
            for (c, sum) in sum.iter_mut().enumerate() {
                *sum = simd.negate_mul_add_f64s(*factor, x[known + c], *sum);
            }
        }
        for (c, sum) in sum.iter().enumerate() {
            x[at + c] = *sum;
        }
    }
}

/// Solution by the upper triangle, for all sides.
pub(super) struct Backward<'a> {
    pub bundle: &'a Bundle,
    pub structure: &'a Structure,
    pub right: &'a mut [f64],
    pub count: usize,
}

impl WithSimd for Backward<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let Self { bundle, structure, right, count } = self;
        let (values, _) = S::as_simd_f64s(&bundle.scratch.values);
        let (x, _) = S::as_mut_simd_f64s(right);
        for s in (0..structure.supernodes()).rev() {
            let panel = &values[structure.value_start[s]..structure.value_start[s + 1]];
            let columns = (structure.begin[s], structure.width(s));
            let below = structure.rows_of(s);
            let mut side = 0;
            while side < count {
                match count - side {
                    1 => backward_by::<S, 1>(simd, panel, columns, below, x, count, side),
                    2 | 3 => backward_by::<S, 2>(simd, panel, columns, below, x, count, side),
                    _ => backward_by::<S, 4>(simd, panel, columns, below, x, count, side),
                }
                side += taken(count - side);
            }
        }
    }
}

#[inline(always)]
fn backward_by<S: Simd, const N: usize>(
    simd: S,
    panel: &[S::f64s],
    (from, width): (usize, usize),
    below: &[usize],
    x: &mut [S::f64s],
    sides: usize,
    first: usize,
) {
    let (own, rest) = panel.split_at(width * width);
    for (row, factors) in below.iter().zip(rest.chunks_exact(width)) {
        let known: [S::f64s; N] = std::array::from_fn(|c| x[row * sides + first + c]);
        for (k, factor) in factors.iter().enumerate() {
            let at = (from + k) * sides + first;
            for (c, known) in known.iter().enumerate() {
                x[at + c] = simd.negate_mul_add_f64s(*factor, *known, x[at + c]);
            }
        }
    }
    for i in (0..width).rev() {
        let at = (from + i) * sides + first;
        let known: [S::f64s; N] = std::array::from_fn(|c| simd.mul_f64s(x[at + c], own[i * width + i]));
        for (c, known) in known.iter().enumerate() {
            x[at + c] = *known;
        }
        for (k, factor) in own[i * width..i * width + i].iter().enumerate() {
            let other = (from + k) * sides + first;
            for (c, known) in known.iter().enumerate() {
                x[other + c] = simd.negate_mul_add_f64s(*factor, *known, x[other + c]);
            }
        }
    }
}
