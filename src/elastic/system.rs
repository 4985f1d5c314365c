//! One harmonic's equations: factor and solve.

use super::ElasticFault;
use super::assembly::Assembled;
use super::lanes::Structure;
use faer::dyn_stack::{MemBuffer, MemStack, StackReq};
use faer::linalg::cholesky::llt::factor::LltParams;
use faer::sparse::linalg::SupernodalThreshold;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, LltRef, SymbolicCholesky, SymmetricOrdering, factorize_symbolic_cholesky,
};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMatRef};
use faer::{Conj, MatMut, Par, Side, Spec};

/// What all harmonics share: the pattern of the factor.
pub(super) struct Pattern {
    symbolic: SymbolicCholesky<usize>,
    structure: Option<Structure>,
}

impl Pattern {
    pub fn new(assembled: &Assembled) -> Result<Self, ElasticFault> {
        let size = assembled.unknowns();
        // With its identity ordering the library reads the upper triangle, whatever side it is told.
        let (columns, rows) = assembled.upper_pattern();
        let pattern = SymbolicSparseColMatRef::new_checked(size, size, &columns, None, &rows);
        // The library's own choice takes the slow path on matrices of this size.
        let params = CholeskySymbolicParams {
            supernodal_flop_ratio_threshold: SupernodalThreshold::FORCE_SUPERNODAL,
            ..Default::default()
        };
        let symbolic = factorize_symbolic_cholesky(pattern, Side::Upper, SymmetricOrdering::Identity, params)
            .map_err(|e| ElasticFault::Factor { n: 0, reason: e.to_string() })?;
        let structure = Structure::new(&symbolic);
        Ok(Self { symbolic, structure })
    }

    /// The pattern for several harmonics at once.
    pub fn structure(&self) -> Option<&Structure> {
        self.structure.as_ref()
    }

    /// Stored entries of the factor.
    pub fn entries(&self) -> usize {
        self.symbolic.len_val()
    }
}

/// One thread's memory for factoring and solving.
pub(super) struct Workspace {
    pub values: Vec<f64>,
    factor: Vec<f64>,
    memory: MemBuffer,
}

impl Workspace {
    pub fn new(assembled: &Assembled, pattern: &Pattern, right_sides: usize) -> Self {
        let params = Spec::<LltParams, f64>::default();
        let need = StackReq::any_of(&[
            pattern.symbolic.factorize_numeric_llt_scratch::<f64>(Par::Seq, params),
            pattern.symbolic.solve_in_place_scratch::<f64>(right_sides.max(1), Par::Seq),
        ]);
        Self {
            values: vec![0.0; assembled.rows.len()],
            factor: vec![0.0; pattern.entries()],
            memory: MemBuffer::new(need),
        }
    }

    /// Solves K x = f for all columns of `right`, overwriting them; held unknowns get zero.
    ///
    /// `values` must hold K_n; it is changed to the restrained matrix.
    ///
    /// # Errors
    /// When the restrained matrix is not positive definite.
    pub fn solve(
        &mut self,
        n: usize,
        assembled: &Assembled,
        pattern: &Pattern,
        held: &[bool],
        right: &mut [Vec<f64>],
    ) -> Result<(), ElasticFault> {
        let size = assembled.unknowns();
        let typical = self.restrain(assembled, held);
        let symbolic =
            SymbolicSparseColMatRef::new_checked(size, size, &assembled.columns, None, &assembled.rows);
        let matrix = SparseColMatRef::new(symbolic, &self.values);
        let stack = MemStack::new(&mut self.memory);
        let fault = |reason: String| ElasticFault::Factor { n, reason };
        let factor: LltRef<'_, usize, f64> = pattern
            .symbolic
            .factorize_numeric_llt(
                &mut self.factor,
                matrix,
                Side::Lower,
                Default::default(),
                Par::Seq,
                stack,
                Spec::default(),
            )
            .map_err(|e| fault(format!("{e:?}")))?;
        debug_assert!(typical > 0.0);
        for column in right.iter_mut() {
            column.iter_mut().zip(held).filter(|(_, held)| **held).for_each(|(f, _)| *f = 0.0);
        }
        solve_columns(factor, right, stack);
        Ok(())
    }

    /// Solves again with the last factor; the columns must be zero at held unknowns.
    pub fn repeat(&mut self, pattern: &Pattern, right: &mut [Vec<f64>]) {
        let factor = LltRef::new(&pattern.symbolic, &self.factor);
        solve_columns(factor, right, MemStack::new(&mut self.memory));
    }

    /// Cuts held rows and columns out of `values`, with a diagonal of the matrix's own size.
    fn restrain(&mut self, assembled: &Assembled, held: &[bool]) -> f64 {
        let size = assembled.unknowns();
        let typical = (0..size).map(|c| self.values[assembled.columns[c]]).sum::<f64>() / size as f64;
        for column in 0..size {
            let range = assembled.columns[column]..assembled.columns[column + 1];
            for entry in range {
                let row = assembled.rows[entry];
                if held[row] || held[column] {
                    self.values[entry] = if row == column { typical } else { 0.0 };
                }
            }
        }
        typical
    }
}

fn solve_columns(factor: LltRef<'_, usize, f64>, right: &mut [Vec<f64>], stack: &mut MemStack) {
    let size = right.first().map_or(0, Vec::len);
    let mut packed: Vec<f64> = right.iter().flatten().copied().collect();
    let columns = MatMut::from_column_major_slice_mut(&mut packed, size, right.len());
    factor.solve_in_place_with_conj(Conj::No, columns, Par::Seq, stack);
    for (column, solved) in right.iter_mut().zip(packed.chunks_exact(size.max(1))) {
        column.copy_from_slice(solved);
    }
}
