//! Several harmonics at once: the factor's entries hold one number per harmonic, side by side in a vector
//! register, and every operation serves all of them.
//!
//! Owns the left-looking supernodal Cholesky factor on the pattern that the sparse library found, its
//! triangular solutions, and the vector kernels. Lacks restraint and assembly: values are handed in.
//! The number of lanes is the machine's: 8 with 512-bit registers, 4 with 256-bit ones.
//! Source of the method: Ng & Peyton, SIAM Journal on Scientific Computing 14 (1993) 1034–1056.

mod factor;
mod kernel;
mod multiply;
mod structure;

pub(super) use structure::Structure;

use pulp::{Arch, Simd, WithSimd};
use std::sync::Mutex;

/// Harmonics that one factor holds on this machine.
pub(super) fn lanes() -> usize {
    struct Count;
    impl WithSimd for Count {
        type Output = usize;

        #[inline(always)]
        fn with_simd<S: Simd>(self, _: S) -> usize {
            S::F64_LANES
        }
    }
    Arch::new().dispatch(Count)
}

/// One thread's memory for the factor of several harmonics and their right-hand sides.
pub(super) struct Bundle {
    lanes: usize,
    values: Vec<f64>,
    /// For each row of the matrix its place in the panel at work.
    local: Vec<u32>,
}

/// A lane whose matrix is not positive definite.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct NotPositive {
    pub lane: usize,
}

impl Bundle {
    pub fn new(structure: &Structure) -> Self {
        let lanes = lanes();
        Self { lanes, values: lend(lanes * structure.entries()), local: vec![0; structure.size()] }
    }

    pub fn lanes(&self) -> usize {
        self.lanes
    }

    /// Bytes that a bundle of this structure takes.
    pub fn bytes(structure: &Structure) -> usize {
        8 * lanes() * structure.entries()
    }

    /// Factors the matrices whose lower triangles' entries `fill` gives, lane by lane: it is called with each
    /// entry's index in the assembled pattern, its row and its column, and writes one value per lane.
    ///
    /// # Errors
    /// The first lane whose matrix is not positive definite.
    pub fn factor(
        &mut self,
        structure: &Structure,
        (columns, rows): (&[usize], &[usize]),
        fill: impl Fn(usize, usize, usize, &mut [f64]) + Sync,
    ) -> Result<(), NotPositive> {
        Arch::new().dispatch(factor::Factor { bundle: self, structure, columns, rows, fill })
    }

    /// Solves for `count` right-hand sides per lane, laid out row by row, then side by side, then lane by lane;
    /// overwrites them.
    pub fn solve(&mut self, structure: &Structure, right: &mut [f64], count: usize) {
        Arch::new().dispatch(factor::Solve { bundle: self, structure, right, count });
    }
}

impl Bundle {
    /// K_n x for every lane's n and every side; `x` and the answer are laid out as in [`Bundle::solve`].
    ///
    /// `parts` are the lower triangles of K0, K1 and K2.
    pub fn multiply(
        &self,
        (columns, rows): (&[usize], &[usize]),
        parts: &[Vec<f64>; 3],
        n_of: &[f64],
        x: &[f64],
        count: usize,
    ) -> Vec<f64> {
        let mut product = vec![0.0; x.len()];
        Arch::new().dispatch(multiply::Multiply {
            columns,
            rows,
            parts,
            n_of,
            x,
            product: &mut product,
            count,
        });
        product
    }
}

/// Buffers of earlier bundles: analyses follow each other, and fresh memory of this size costs more than its use.
static SHELF: Mutex<Vec<Vec<f64>>> = Mutex::new(Vec::new());
/// Most buffers that are kept.
const KEPT: usize = 8;

/// A buffer of this length; what it holds is left over, and every panel is cleared before its use.
fn lend(length: usize) -> Vec<f64> {
    let kept = SHELF.lock().ok().and_then(|mut shelf| shelf.pop());
    let mut buffer = kept.unwrap_or_default();
    buffer.resize(length, 0.0);
    buffer
}

impl Drop for Bundle {
    fn drop(&mut self) {
        let buffer = std::mem::take(&mut self.values);
        if let Ok(mut shelf) = SHELF.lock()
            && shelf.len() < KEPT
        {
            shelf.push(buffer);
        }
    }
}

#[cfg(test)]
mod tests;
