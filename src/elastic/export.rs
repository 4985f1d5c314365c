//! The equations of a model as plain arrays, so that other programs can solve the same ones, and their bare
//! factoring and solving by this program's own kernels, so that both can be timed.
//!
//! Lacks stresses and balance: an answer to be trusted comes from [`super::solve()`]. Units: mm, N, rad.

use super::assembly::Assembled;
use super::desks::{Desk, Desks, groups};
use super::lanes::{Bundle, Structure};
use super::restraint::Restraint;
use super::sides::{Side, shares, sides};
use super::{Connectivity, ElasticFault, Model};
use crate::mesh::Mesh;
use std::ops::RangeInclusive;

/// K_n = K0 + n·K1 + n²·K2 of one mesh and the nodal forces of the model's first case.
///
/// The matrices are symmetric, per radian of revolution, and share one pattern. Unknowns are numbered in the order
/// of elimination. Rows and columns of held unknowns are cut out; their diagonals keep the matrix positive definite.
pub struct Equations<'a> {
    model: &'a Model,
    connectivity: &'a Connectivity,
    assembled: Assembled,
    restrained: [Vec<f64>; 3],
    sides: Vec<Side>,
    held: Vec<bool>,
    first: usize,
}

/// How large one harmonic's matrix and factor are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    pub unknowns: usize,
    /// Stored entries of the matrix's lower triangle.
    pub entries: usize,
    /// Entries of the Cholesky factor that its structure makes non-zero.
    pub factor_entries: usize,
    /// Entries of the factor that are stored, zeros within blocks included.
    pub stored_entries: usize,
    /// Floating-point operations of the factor: the squares of its columns' lengths, added up.
    pub flops: f64,
    /// Harmonics that are factored together.
    pub lanes: usize,
}

/// One harmonic's solutions, as they lie in the solver's memory.
pub struct Solved<'a> {
    pub n: usize,
    values: &'a [f64],
    lanes: usize,
    lane: usize,
}

impl Solved<'_> {
    /// Displacement amplitude of an unknown (mm): family 0 is the cosine, 1 the sine family.
    pub fn value(&self, unknown: usize, family: usize) -> f64 {
        self.values[(2 * unknown + family) * self.lanes + self.lane]
    }
}

impl<'a> Equations<'a> {
    /// Assembles the equations of `model` on a mesh of its outline.
    ///
    /// # Errors
    /// When a rope does not press on its edges.
    pub fn new(model: &'a Model, mesh: &Mesh, connectivity: &'a Connectivity) -> Result<Self, ElasticFault> {
        let assembled = connectivity.order.filled(mesh, &model.iron);
        let sides = sides(model, mesh, &assembled)?;
        let (held, first) = Restraint::new(mesh, &assembled, model).held_together();
        let restrained = assembled.restrained(&held);
        Ok(Self { model, connectivity, restrained, sides, held, first, assembled })
    }

    pub fn unknowns(&self) -> usize {
        self.assembled.unknowns()
    }

    /// The lowest harmonic that holds the same unknowns as all above it.
    pub fn first_harmonic(&self) -> usize {
        self.first
    }

    /// Column starts and rows of the lower triangles, rows in increasing order.
    pub fn pattern(&self) -> (&[usize], &[usize]) {
        (&self.assembled.columns, &self.assembled.rows)
    }

    /// Values of K0, K1 and K2 in that pattern (N/mm).
    pub fn parts(&self) -> &[Vec<f64>; 3] {
        &self.restrained
    }

    /// The unknown of a node's displacement: component 0 radial, 1 circumferential, 2 axial.
    pub fn unknown(&self, node: usize, component: usize) -> usize {
        self.assembled.unknown(node, component)
    }

    /// Forces of the cosine and the sine family of harmonic `n` on every unknown (N); zero where it is held.
    pub fn forces(&self, n: usize) -> [Vec<f64>; 2] {
        let of = |shares: Vec<f64>| {
            let parts = || self.sides.iter().zip(&shares);
            let force = |row: usize| parts().map(|(side, share)| share * side.force[row]).sum();
            (0..self.unknowns()).map(|row| if self.held[row] { 0.0 } else { force(row) }).collect()
        };
        match self.model.cases.first() {
            Some(case) => shares(&self.sides, self.model, case, n).map(of),
            None => [(); 2].map(|()| vec![0.0; self.unknowns()]),
        }
    }

    pub fn size(&self) -> Size {
        let (columns, rows) = self.pattern();
        let pattern = &self.connectivity.pattern;
        let lengths = column_lengths(columns, rows);
        Size {
            unknowns: self.unknowns(),
            entries: rows.len(),
            factor_entries: lengths.iter().sum(),
            stored_entries: pattern.entries(),
            flops: lengths.iter().map(|length| (*length as f64).powi(2)).sum(),
            lanes: self.desks().lanes(),
        }
    }

    fn desks(&self) -> Desks<'_> {
        Desks::new(&self.assembled, &self.connectivity.pattern, 2, false)
    }

    /// Factors every harmonic of the range and solves it for both families of `forces(n)`, which must be zero where
    /// unknowns are held, on all threads. `take` gets each harmonic's solutions and keeps what it wants of them; the
    /// list is in no particular order.
    ///
    /// # Errors
    /// When a matrix is not positive definite, as it may be below [`Equations::first_harmonic`].
    pub fn solve<'f, T: Send>(
        &self,
        harmonics: RangeInclusive<usize>,
        forces: impl Fn(usize) -> &'f [Vec<f64>; 2] + Sync,
        take: impl Fn(&Solved) -> T + Sync,
    ) -> Result<Vec<T>, ElasticFault> {
        let desks = self.desks();
        let groups = groups(*harmonics.start(), *harmonics.end(), self.first, desks.lanes());
        desks.share_out(&groups, |group, desk| match &mut desk.bundle {
            Some(bundle) => self.together(group, bundle, &forces, &take),
            None => group.iter().map(|n| self.alone(*n, desk, &forces, &take)).collect(),
        })
    }

    /// Factors every harmonic of the range as [`Equations::solve`] does, and solves nothing: what factors alone cost.
    ///
    /// # Errors
    /// As [`Equations::solve`], and where harmonics are not factored several at once.
    pub fn factor(&self, harmonics: RangeInclusive<usize>) -> Result<(), ElasticFault> {
        let none = |n: usize| ElasticFault::Factor { n, reason: "harmonics go one by one here".into() };
        let desks = self.desks();
        let groups = groups(*harmonics.start(), *harmonics.end(), self.first, desks.lanes());
        let work = |group: &[usize], desk: &mut Desk| {
            let structure = self.connectivity.pattern.structure();
            let (Some(bundle), Some(structure)) = (&mut desk.bundle, structure) else {
                return Err(none(group[0]));
            };
            self.factored(group, bundle, structure, (&mut [], 0))?;
            Ok(Vec::<()>::new())
        };
        desks.share_out(&groups, work).map(drop)
    }

    /// Factors a group, its lanes without a harmonic of their own with the last one, and solves downwards.
    fn factored(
        &self,
        group: &[usize],
        bundle: &mut Bundle,
        structure: &Structure,
        right: (&mut [f64], usize),
    ) -> Result<(), ElasticFault> {
        let of = |lane: usize| group[lane.min(group.len() - 1)];
        let n_of: Vec<f64> = (0..bundle.lanes()).map(|lane| of(lane) as f64).collect();
        let factored = bundle.factor(structure, self.pattern(), (&self.restrained, &n_of), right);
        factored.map_err(|fault| ElasticFault::Factor {
            n: of(fault.lane),
            reason: "it is not positive definite".into(),
        })
    }

    fn together<'f, T>(
        &self,
        group: &[usize],
        bundle: &mut Bundle,
        forces: &impl Fn(usize) -> &'f [Vec<f64>; 2],
        take: &impl Fn(&Solved) -> T,
    ) -> Result<Vec<T>, ElasticFault> {
        let Some(structure) = self.connectivity.pattern.structure() else { return Ok(Vec::new()) };
        let lanes = bundle.lanes();
        let of = |lane: usize| group[lane.min(group.len() - 1)];
        let mut right = std::mem::take(&mut bundle.scratch.right);
        right.sized(2 * lanes * self.unknowns());
        for lane in 0..lanes {
            for (family, force) in forces(of(lane)).iter().enumerate() {
                for (row, f) in force.iter().enumerate() {
                    right[(2 * row + family) * lanes + lane] = *f;
                }
            }
        }
        self.factored(group, bundle, structure, (&mut right, 2))?;
        bundle.finish(structure, &mut right, 2);
        let solved = |lane: usize| Solved { n: of(lane), values: &right, lanes, lane };
        let taken = (0..group.len()).map(|lane| take(&solved(lane))).collect();
        bundle.scratch.right = right;
        Ok(taken)
    }

    fn alone<'f, T>(
        &self,
        n: usize,
        desk: &mut Desk,
        forces: &impl Fn(usize) -> &'f [Vec<f64>; 2],
        take: &impl Fn(&Solved) -> T,
    ) -> Result<T, ElasticFault> {
        self.assembled.combine(n as f64, &mut desk.workspace.values);
        let mut right = forces(n).clone();
        let (pattern, held) = (&self.connectivity.pattern, &self.held);
        desk.workspace.solve(n, &self.assembled, pattern, held, &mut right)?;
        let [cosine, sine] = right;
        let values: Vec<f64> = cosine.into_iter().zip(sine).flat_map(|(c, s)| [c, s]).collect();
        Ok(take(&Solved { n, values: &values, lanes: 1, lane: 0 }))
    }
}

/// Lengths of the factor's columns, diagonal included: row by row, along the paths of the elimination tree that
/// start at the row's entries (Liu 1990, SIAM Journal on Matrix Analysis 11, 134–172; pages from memory).
fn column_lengths(columns: &[usize], rows: &[usize]) -> Vec<usize> {
    const NONE: usize = usize::MAX;
    let size = columns.len() - 1;
    let mut left: Vec<Vec<u32>> = vec![Vec::new(); size];
    for column in 0..size {
        for row in rows[columns[column]..columns[column + 1]].iter().filter(|row| **row > column) {
            left[*row].push(column as u32);
        }
    }
    let (mut parent, mut seen, mut lengths) = (vec![NONE; size], vec![NONE; size], vec![1; size]);
    for row in 0..size {
        seen[row] = row;
        for start in &left[row] {
            let mut column = *start as usize;
            while seen[column] != row {
                if parent[column] == NONE {
                    parent[column] = row;
                }
                lengths[column] += 1;
                seen[column] = row;
                column = parent[column];
            }
        }
    }
    lengths
}

#[cfg(test)]
mod tests;
