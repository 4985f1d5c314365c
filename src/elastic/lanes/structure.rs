//! The factor's pattern: supernodes, the rows below each, and where its values lie.

use faer::sparse::linalg::cholesky::{SymbolicCholesky, SymbolicCholeskyRaw};

/// Supernodes of the factor. Supernode s holds the columns `begin[s]..begin[s + 1]`; its panel has those
/// rows first and then `rows_of(s)`, row by row.
pub(in crate::elastic) struct Structure {
    pub begin: Vec<usize>,
    pub row_start: Vec<usize>,
    pub rows: Vec<usize>,
    pub value_start: Vec<usize>,
    /// Supernodes whose update a supernode takes up: those whose first row below lies in it.
    children: Vec<u32>,
    child_start: Vec<usize>,
    size: usize,
}

impl Structure {
    /// Takes the pattern from the sparse library; `None` when it chose another kind of factor.
    pub fn new(symbolic: &SymbolicCholesky<usize>) -> Option<Self> {
        let SymbolicCholeskyRaw::Supernodal(symbolic) = symbolic.raw() else { return None };
        let count = symbolic.n_supernodes();
        let mut begin: Vec<usize> = symbolic.supernode_begin().to_vec();
        begin.push(symbolic.ncols());
        let mut structure = Self {
            begin,
            row_start: vec![0],
            rows: Vec::new(),
            value_start: vec![0],
            children: vec![0; count],
            child_start: vec![0; count + 1],
            size: symbolic.ncols(),
        };
        let mut of_column = vec![0u32; symbolic.ncols()];
        for s in 0..count {
            structure.rows.extend_from_slice(symbolic.supernode(s).pattern());
            structure.row_start.push(structure.rows.len());
            let (from, to) = (structure.begin[s], structure.begin[s + 1]);
            of_column[from..to].fill(s as u32);
            let height = to - from + structure.row_start[s + 1] - structure.row_start[s];
            structure.value_start.push(structure.value_start[s] + height * (to - from));
        }
        let parents: Vec<Option<u32>> =
            (0..count).map(|s| structure.rows_of(s).first().map(|row| of_column[*row])).collect();
        for parent in parents.iter().flatten() {
            structure.child_start[*parent as usize + 1] += 1;
        }
        for s in 0..count {
            structure.child_start[s + 1] += structure.child_start[s];
        }
        let mut next = structure.child_start.clone();
        for (child, parent) in parents.iter().enumerate() {
            if let Some(parent) = parent {
                structure.children[next[*parent as usize]] = child as u32;
                next[*parent as usize] += 1;
            }
        }
        Some(structure)
    }

    pub fn size(&self) -> usize {
        self.size
    }

    pub fn supernodes(&self) -> usize {
        self.begin.len() - 1
    }

    /// Stored entries, per lane.
    pub fn entries(&self) -> usize {
        self.value_start[self.supernodes()]
    }

    pub fn width(&self, s: usize) -> usize {
        self.begin[s + 1] - self.begin[s]
    }

    pub fn children_of(&self, s: usize) -> &[u32] {
        &self.children[self.child_start[s]..self.child_start[s + 1]]
    }

    pub fn rows_of(&self, s: usize) -> &[usize] {
        &self.rows[self.row_start[s]..self.row_start[s + 1]]
    }
}
