//! The factor, supernode by supernode from the left, with the first of the two triangular solutions.

use super::kernel::products;
use super::solve::forward;
use super::{Bundle, NotPositive, Structure};
use pulp::{Simd, WithSimd};

const NONE: usize = usize::MAX;

pub(super) struct Factor<'a, F> {
    pub bundle: &'a mut Bundle,
    pub structure: &'a Structure,
    pub columns: &'a [usize],
    pub rows: &'a [usize],
    pub fill: F,
    pub right: &'a mut [f64],
    pub count: usize,
}

impl<F: Fn(usize, usize, usize, &mut [f64])> WithSimd for Factor<'_, F> {
    type Output = Result<(), NotPositive>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        let Self { bundle, structure, columns, rows, fill, right, count: sides } = self;
        let (x, _) = S::as_mut_simd_f64s(right);
        let lanes = bundle.lanes;
        let count = structure.supernodes();
        // Supernodes whose next unused row lies in supernode s form a list that starts at head[s].
        let mut head = vec![NONE; count];
        let mut next = vec![NONE; count];
        let mut used = vec![0usize; count];
        for s in 0..count {
            let (from, to) = (structure.begin[s], structure.begin[s + 1]);
            let (width, below) = (to - from, structure.rows_of(s));
            for (place, row) in (from..to).chain(below.iter().copied()).enumerate() {
                bundle.local[row] = place as u32;
            }
            let (done, open) = bundle.scratch.values.split_at_mut(lanes * structure.value_start[s]);
            let size = structure.value_start[s + 1] - structure.value_start[s];
            let panel = &mut open[..lanes * size];
            panel.fill(0.0);
            for column in from..to {
                let range = columns[column]..columns[column + 1];
                for (entry, row) in range.clone().zip(&rows[range]) {
                    let at = (bundle.local[*row] as usize * width + column - from) * lanes;
                    fill(entry, *row, column, &mut panel[at..at + lanes]);
                }
            }
            let (panel, _) = S::as_mut_simd_f64s(panel);
            let (done, _) = S::as_simd_f64s(done);
            let mut child = head[s];
            while child != NONE {
                let following = next[child];
                let list = structure.rows_of(child);
                let first = used[child];
                let last = first + list[first..].iter().take_while(|row| **row < to).count();
                let values = &done[structure.value_start[child]..structure.value_start[child + 1]];
                let source = Source { values, width: structure.width(child), rows: list };
                subtract(simd, &source, (first, last), panel, (width, from), &bundle.local);
                used[child] = last;
                if last < list.len() {
                    let owner = structure.of_column[list[last]] as usize;
                    next[child] = head[owner];
                    head[owner] = child;
                }
                child = following;
            }
            dense(simd, panel, width)?;
            // While the panel is at hand: from memory it would cost as much again.
            forward(simd, panel, (from, width), below, x, sides);
            if let Some(row) = below.first() {
                let owner = structure.of_column[*row] as usize;
                next[s] = head[owner];
                head[owner] = s;
            }
        }
        Ok(())
    }
}

/// A finished supernode: its panel row by row, the diagonal block first.
struct Source<'a, V> {
    values: &'a [V],
    width: usize,
    rows: &'a [usize],
}

impl<V> Source<'_, V> {
    /// The panel's row for the listed row `index`.
    fn row(&self, index: usize) -> &[V] {
        let start = (self.width + index) * self.width;
        &self.values[start..start + self.width]
    }
}

/// panel −= L[first..]·L[first..last]ᵀ at the rows and columns that these have in the panel.
#[inline(always)]
fn subtract<S: Simd>(
    simd: S,
    source: &Source<'_, S::f64s>,
    (first, last): (usize, usize),
    panel: &mut [S::f64s],
    (width, from): (usize, usize),
    local: &[u32],
) {
    let end = source.rows.len();
    let mut j = first;
    while j < last {
        // The last few columns go one by one.
        if last - j >= 4 {
            columns::<S, 4>(simd, source, (j, end), panel, (width, from), local);
            j += 4;
        } else {
            columns::<S, 1>(simd, source, (j, end), panel, (width, from), local);
            j += 1;
        }
    }
}

/// N columns of the product, all rows from the first of them on: above the diagonal nothing is read later.
#[inline(always)]
fn columns<S: Simd, const N: usize>(
    simd: S,
    source: &Source<'_, S::f64s>,
    (j, end): (usize, usize),
    panel: &mut [S::f64s],
    (width, from): (usize, usize),
    local: &[u32],
) {
    let right: [&[S::f64s]; N] = std::array::from_fn(|c| source.row(j + c));
    let at: [usize; N] = std::array::from_fn(|c| source.rows[j + c] - from);
    let mut i = j;
    while i < end {
        if end - i >= 4 {
            rows_of::<S, 4, N>(simd, source, i, right, &at, panel, width, local);
            i += 4;
        } else {
            rows_of::<S, 1, N>(simd, source, i, right, &at, panel, width, local);
            i += 1;
        }
    }
}

#[inline(always)]
#[allow(clippy::too_many_arguments)]
fn rows_of<S: Simd, const M: usize, const N: usize>(
    simd: S,
    source: &Source<'_, S::f64s>,
    i: usize,
    right: [&[S::f64s]; N],
    at: &[usize; N],
    panel: &mut [S::f64s],
    width: usize,
    local: &[u32],
) {
    let left: [&[S::f64s]; M] = std::array::from_fn(|r| source.row(i + r));
    let sums = products::<S, M, N>(simd, left, right, source.width);
    for r in 0..M {
        let start = local[source.rows[i + r]] as usize * width;
        let row = &mut panel[start..start + width];
        for c in 0..N {
            row[at[c]] = simd.sub_f64s(row[at[c]], sums[r][c]);
        }
    }
}

/// Factors a panel in place: the lower Cholesky factor of its diagonal block, and the rows below solved by it.
/// The diagonal keeps the reciprocals of the pivots.
#[inline(always)]
fn dense<S: Simd>(simd: S, panel: &mut [S::f64s], width: usize) -> Result<(), NotPositive> {
    let height = panel.len() / width;
    let one = simd.splat_f64s(1.0);
    let mut j = 0;
    while j < width {
        let n = if width - j >= 4 { 4 } else { 1 };
        // What the columns to the left take off, for the rows of this block and all below it.
        let (above, open) = panel.split_at_mut((j + n) * width);
        if n == 4 {
            block::<S, 4>(simd, above, width, j);
            pivots::<S>(simd, above, width, j, 4, one)?;
            below::<S, 4>(simd, above, open, width, j);
        } else {
            block::<S, 1>(simd, above, width, j);
            pivots::<S>(simd, above, width, j, 1, one)?;
            below::<S, 1>(simd, above, open, width, j);
        }
        j += n;
    }
    debug_assert_eq!(panel.len(), height * width);
    Ok(())
}

/// Takes the columns left of j off the diagonal block's rows j..j+N.
#[inline(always)]
fn block<S: Simd, const N: usize>(simd: S, above: &mut [S::f64s], width: usize, j: usize) {
    for r in 0..N {
        for c in 0..=r {
            let (a, b) = ((j + r) * width, (j + c) * width);
            let [[sum]] = products::<S, 1, 1>(simd, [&above[a..a + j]], [&above[b..b + j]], j);
            above[a + j + c] = simd.sub_f64s(above[a + j + c], sum);
        }
    }
}

/// Cholesky of the small diagonal block at column j.
#[inline(always)]
fn pivots<S: Simd>(
    simd: S,
    above: &mut [S::f64s],
    width: usize,
    j: usize,
    n: usize,
    one: S::f64s,
) -> Result<(), NotPositive> {
    for c in 0..n {
        for r in c..n {
            let mut value = above[(j + r) * width + j + c];
            for k in 0..c {
                let product = simd.mul_f64s(above[(j + r) * width + j + k], above[(j + c) * width + j + k]);
                value = simd.sub_f64s(value, product);
            }
            let at = (j + r) * width + j + c;
            if r == c {
                let pivots: &[f64] = lanes_of::<S>(&value);
                if let Some(lane) = pivots.iter().position(|pivot| pivot.is_nan() || *pivot <= 0.0) {
                    return Err(NotPositive { lane });
                }
                above[at] = simd.div_f64s(one, simd.sqrt_f64s(value));
            } else {
                above[at] = simd.mul_f64s(value, above[(j + c) * width + j + c]);
            }
        }
    }
    Ok(())
}

#[inline(always)]
fn lanes_of<S: Simd>(value: &S::f64s) -> &[f64] {
    pulp::bytemuck::cast_slice(std::slice::from_ref(value))
}

/// Rows below the block: take off the columns left of j, then solve by the small block.
#[inline(always)]
fn below<S: Simd, const N: usize>(simd: S, above: &[S::f64s], open: &mut [S::f64s], width: usize, j: usize) {
    let right: [&[S::f64s]; N] = std::array::from_fn(|c| &above[(j + c) * width..(j + c) * width + j + N]);
    let height = open.len() / width;
    let mut i = 0;
    while i < height {
        if height - i >= 4 {
            few::<S, 4, N>(simd, right, &mut open[i * width..(i + 4) * width], width, j);
            i += 4;
        } else {
            few::<S, 1, N>(simd, right, &mut open[i * width..(i + 1) * width], width, j);
            i += 1;
        }
    }
}

#[inline(always)]
fn few<S: Simd, const M: usize, const N: usize>(
    simd: S,
    right: [&[S::f64s]; N],
    rows: &mut [S::f64s],
    width: usize,
    j: usize,
) {
    let sums = {
        let left: [&[S::f64s]; M] = std::array::from_fn(|r| &rows[r * width..r * width + j]);
        products::<S, M, N>(simd, left, right, j)
    };
    for r in 0..M {
        let row = &mut rows[r * width + j..r * width + j + N];
        for c in 0..N {
            let mut value = simd.sub_f64s(row[c], sums[r][c]);
            for k in 0..c {
                value = simd.sub_f64s(value, simd.mul_f64s(row[k], right[c][j + k]));
            }
            row[c] = simd.mul_f64s(value, right[c][j + c]);
        }
    }
}
