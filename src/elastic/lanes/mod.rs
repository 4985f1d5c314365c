//! Several harmonics at once: the factor's entries hold one number per harmonic, side by side in a vector
//! register, and every operation serves all of them.
//!
//! Owns the multifrontal Cholesky factor on the pattern that the sparse library found, its
//! triangular solutions, and the vector kernels. Lacks restraint and assembly: values are handed in.
//! The number of lanes is the machine's: 8 with 512-bit registers, 4 with 256-bit ones; where factors of 8 would
//! take too much memory, a machine with 8 takes 4.
//! Source of the method: Liu, SIAM Review 34 (1992) 82–109 (pages from memory).

mod buffer;
mod factor;
mod kernel;
mod multiply;
mod solve;
mod stress;
mod structure;
mod sums;

use buffer::Buffer;
pub(super) use buffer::Scratch;
pub(super) use stress::Recover;
pub(super) use structure::Structure;

use pulp::{Arch, Simd, WithSimd};

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

/// Lanes of the narrower registers that stand in where the widest would take too much memory.
const FEWER: usize = 4;

/// The most lanes, of those that this machine has, with which a bundle takes no more than `most` bytes.
pub(super) fn fitting(structure: &Structure, most: usize) -> Option<usize> {
    let narrower = (lanes() > FEWER).then_some(FEWER);
    let fits = |lanes: &usize| *lanes > 1 && Bundle::bytes(structure, *lanes) <= most;
    std::iter::once(lanes()).chain(narrower).find(fits)
}

/// Runs a kernel in registers of this many lanes.
fn run<K: WithSimd>(lanes: usize, kernel: K) -> K::Output {
    #[cfg(target_arch = "x86_64")]
    if lanes == FEWER
        && let Some(simd) = pulp::x86::V3::try_new()
    {
        return Simd::vectorize(simd, kernel);
    }
    debug_assert_eq!(lanes, self::lanes());
    Arch::new().dispatch(kernel)
}

/// One thread's memory for the factor of several harmonics and what goes with it.
pub(super) struct Bundle {
    lanes: usize,
    /// For each row of the matrix its place in the panel at work.
    local: Vec<u32>,
    entries: usize,
    updates: Updates,
    pub scratch: Scratch,
}

/// Updates that supernodes have handed up and their parents have not taken yet, and buffers free for others.
struct Updates {
    of: Vec<Buffer>,
    free: Vec<Buffer>,
    stretches: Vec<factor::Stretch>,
}

impl Updates {
    /// A buffer of this length. The one freed last, which the cache still holds, unless it is too small.
    fn lend(&mut self, length: usize) -> Buffer {
        let fits = self.free.iter().rposition(|buffer| buffer.room() >= length);
        let mut buffer = fits.map_or_else(Buffer::default, |index| self.free.remove(index));
        buffer.sized(length);
        buffer
    }
}

/// Sums over the unknowns of one case and family, one number per lane.
#[derive(Debug, Clone, Default)]
pub(super) struct Sums {
    /// uᵀKu and uᵀf.
    pub energy: Vec<f64>,
    pub work: Vec<f64>,
    /// Square of what is left over where nothing is held.
    pub rest: Vec<f64>,
}

/// A lane whose matrix is not positive definite.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct NotPositive {
    pub lane: usize,
}

impl Bundle {
    /// For this many lanes: one of the choices of [`fitting`].
    pub fn new(structure: &Structure, lanes: usize) -> Self {
        let entries = structure.entries();
        let of = (0..structure.supernodes()).map(|_| Buffer::default()).collect();
        let mut scratch = buffer::lend();
        let updates = Updates { of, free: std::mem::take(&mut scratch.spare), stretches: Vec::new() };
        Self { lanes, local: vec![0; structure.size()], entries, updates, scratch }
    }

    pub fn lanes(&self) -> usize {
        self.lanes
    }

    /// Bytes that a bundle of this structure takes.
    pub fn bytes(structure: &Structure, lanes: usize) -> usize {
        8 * lanes * structure.entries()
    }

    /// Factors K0 + n·K1 + n²·K2 for every lane's n from the lower triangles `parts`, and solves by the factor's
    /// lower triangle as it grows. `right` holds `count` sides, laid out row by row, then side by side, then lane by
    /// lane, and is overwritten.
    ///
    /// # Errors
    /// The first lane whose matrix is not positive definite.
    pub fn factor(
        &mut self,
        structure: &Structure,
        (columns, rows): (&[usize], &[usize]),
        (parts, n_of): (&[Vec<f64>; 3], &[f64]),
        (right, count): (&mut [f64], usize),
    ) -> Result<(), NotPositive> {
        self.scratch.values.sized(self.lanes * self.entries);
        let lanes = self.lanes;
        run(lanes, factor::Factor { bundle: self, structure, columns, rows, parts, n_of, right, count })
    }

    /// Solves by the factor's upper triangle what [`Bundle::factor`] left: then `right` holds the solutions.
    pub fn finish(&self, structure: &Structure, right: &mut [f64], count: usize) {
        run(self.lanes, solve::Backward { bundle: self, structure, right, count });
    }
}

/// K_n x for every lane's n and every side, laid out as in [`Bundle::factor`]; `parts` are the lower triangles of
/// K0, K1 and K2.
pub(super) fn multiply(
    (columns, rows): (&[usize], &[usize]),
    parts: &[Vec<f64>; 3],
    n_of: &[f64],
    (x, count): (&[f64], usize),
    product: &mut [f64],
) {
    product.fill(0.0);
    run(n_of.len(), multiply::Multiply { columns, rows, parts, n_of, x, product, count });
}

/// Energy, work and residual of each of two families, for this many lanes.
pub(super) fn sums(lanes: usize, u: &[f64], inner: &[f64], force: &[f64], held: &[bool]) -> [Sums; 2] {
    run(lanes, sums::Add { u, inner, force, held })
}

impl Drop for Bundle {
    fn drop(&mut self) {
        self.scratch.spare = std::mem::take(&mut self.updates.free);
        buffer::put_back(std::mem::take(&mut self.scratch));
    }
}

#[cfg(test)]
mod tests;
