//! The factor, front by front, with the first of the two triangular solutions.
//!
//! Every supernode has a front: its own columns, which become its panel of the factor, and the update that it
//! hands to its parent. An update is small, fresh, and read once, so it stays in the cache; the factor itself
//! goes to memory once.

use super::kernel::products;
use super::solve::forward;
use super::{Bundle, NotPositive, Structure};
use pulp::{Simd, WithSimd};

pub(super) struct Factor<'a> {
    pub bundle: &'a mut Bundle,
    pub structure: &'a Structure,
    pub columns: &'a [usize],
    pub rows: &'a [usize],
    pub parts: &'a [Vec<f64>; 3],
    pub n_of: &'a [f64],
    pub right: &'a mut [f64],
    pub count: usize,
}

impl WithSimd for Factor<'_> {
    type Output = Result<(), NotPositive>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        let Self { bundle, structure, columns, rows, parts: [k0, k1, k2], n_of, right, count: sides } = self;
        let (n, _) = S::as_simd_f64s(n_of);
        let n = n[0];
        let (x, _) = S::as_mut_simd_f64s(right);
        let lanes = bundle.lanes;
        let Bundle { local, updates, scratch, .. } = bundle;
        for s in 0..structure.supernodes() {
            let (from, to) = (structure.begin[s], structure.begin[s + 1]);
            let (width, below) = (to - from, structure.rows_of(s));
            for (place, row) in (from..to).chain(below.iter().copied()).enumerate() {
                local[row] = place as u32;
            }
            let range = lanes * structure.value_start[s]..lanes * structure.value_start[s + 1];
            let panel = &mut scratch.values[range];
            let (panel, _) = S::as_mut_simd_f64s(panel);
            panel.fill(simd.splat_f64s(0.0));
            for column in from..to {
                for entry in columns[column]..columns[column + 1] {
                    let [a, b, c] = [k0[entry], k1[entry], k2[entry]].map(|part| simd.splat_f64s(part));
                    let value = simd.mul_add_f64s(n, simd.mul_add_f64s(n, c, b), a);
                    panel[local[rows[entry]] as usize * width + column - from] = value;
                }
            }
            let mut update = updates.lend(below.len() * below.len() * lanes);
            let (open, _) = S::as_mut_simd_f64s(&mut update);
            for i in 0..below.len() {
                open[i * below.len()..i * below.len() + i + 1].fill(simd.splat_f64s(0.0));
            }
            for child in structure.children_of(s) {
                let theirs = std::mem::take(&mut updates.of[*child as usize]);
                let (given, _) = S::as_simd_f64s(&theirs);
                stretches(structure.rows_of(*child as usize), local, width, &mut updates.stretches);
                add(simd, given, &updates.stretches, width, panel, open);
                updates.free.push(theirs);
            }
            dense(simd, panel, width)?;
            subtract(simd, &panel[width * width..], width, open);
            // While the panel is at hand: from memory it would cost as much again.
            forward(simd, panel, (from, width), below, x, sides);
            updates.of[s] = update;
        }
        Ok(())
    }
}

/// Neighbouring columns of a child's update that stay neighbours in its parent's front.
#[derive(Clone, Copy)]
pub(super) struct Stretch {
    from: usize,
    to: usize,
    /// Where the first one goes: a column of the panel, or one of the update.
    place: usize,
    into_panel: bool,
}

fn stretches(rows: &[usize], local: &[u32], width: usize, list: &mut Vec<Stretch>) {
    list.clear();
    for (index, row) in rows.iter().enumerate() {
        let at = local[*row] as usize;
        let (into_panel, place) = if at < width { (true, at) } else { (false, at - width) };
        match list.last_mut() {
            Some(last) if last.into_panel == into_panel && last.place + index - last.from == place => {
                last.to = index + 1;
            }
            _ => list.push(Stretch { from: index, to: index + 1, place, into_panel }),
        }
    }
}

/// Adds a child's update to the panel and to the update of its parent.
#[inline(always)]
fn add<S: Simd>(
    simd: S,
    given: &[S::f64s],
    stretches: &[Stretch],
    width: usize,
    panel: &mut [S::f64s],
    update: &mut [S::f64s],
) {
    let size = stretches.last().map_or(0, |last| last.to);
    let height = panel.len() / width - width;
    for rows in stretches {
        for i in rows.from..rows.to {
            let place = rows.place + i - rows.from;
            let place = if rows.into_panel { place } else { width + place };
            let given = &given[i * size..i * size + i + 1];
            for columns in stretches.iter().take_while(|columns| columns.from <= i) {
                let given = &given[columns.from..columns.to.min(i + 1)];
                let own = if columns.into_panel {
                    &mut panel[place * width + columns.place..]
                } else {
                    &mut update[(place - width) * height + columns.place..]
                };
                for (own, given) in own.iter_mut().zip(given) {
                    *own = simd.add_f64s(*own, *given);
                }
            }
        }
    }
}

/// update −= L Lᵀ, L being the panel's rows below its diagonal block; above the diagonal nothing is read later.
#[inline(always)]
fn subtract<S: Simd>(simd: S, below: &[S::f64s], width: usize, update: &mut [S::f64s]) {
    let height = below.len() / width;
    let mut i = 0;
    while i < height {
        if height - i >= 4 {
            strip::<S, 4>(simd, below, width, update, height, i);
            i += 4;
        } else {
            strip::<S, 1>(simd, below, width, update, height, i);
            i += 1;
        }
    }
}

/// M rows of the update, up to and across its diagonal.
#[inline(always)]
fn strip<S: Simd, const M: usize>(
    simd: S,
    below: &[S::f64s],
    width: usize,
    update: &mut [S::f64s],
    height: usize,
    i: usize,
) {
    let left: [&[S::f64s]; M] = std::array::from_fn(|r| &below[(i + r) * width..(i + r + 1) * width]);
    let end = i + M;
    let mut j = 0;
    while j < end {
        if end - j >= 4 {
            tile::<S, M, 4>(simd, left, below, width, update, (height, i, j));
            j += 4;
        } else {
            tile::<S, M, 1>(simd, left, below, width, update, (height, i, j));
            j += 1;
        }
    }
}

#[inline(always)]
fn tile<S: Simd, const M: usize, const N: usize>(
    simd: S,
    left: [&[S::f64s]; M],
    below: &[S::f64s],
    width: usize,
    update: &mut [S::f64s],
    (height, i, j): (usize, usize, usize),
) {
    let right: [&[S::f64s]; N] = std::array::from_fn(|c| &below[(j + c) * width..(j + c + 1) * width]);
    let sums = products::<S, M, N>(simd, left, right, width);
    for (r, sums) in sums.iter().enumerate() {
        let row = &mut update[(i + r) * height + j..(i + r) * height + j + N];
        for (value, sum) in row.iter_mut().zip(sums) {
            *value = simd.sub_f64s(*value, *sum);
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
