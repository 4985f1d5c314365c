//! Global matrices K0, K1, K2 on one pattern, in an order that keeps the factor small.

use super::element::stiffness;
use super::{ElasticFault, Iron};
use crate::mesh::Mesh;
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::sparse::SymbolicSparseColMatRef;
use faer::sparse::linalg::amd;
use nalgebra_sparse::{CooMatrix, CscMatrix};
use rayon::prelude::*;
use std::sync::Arc;

/// Lower triangles of K0, K1, K2 with K_n = K0 + n·K1 + n²·K2, per radian of revolution.
///
/// Unknowns are numbered 3·place + component, `place` being the node's position in the order that an
/// approximate minimum degree ordering of the node graph gives (Amestoy, Davis & Duff 1996).
pub(super) struct Assembled {
    /// Position of each node in the elimination order.
    pub place: Arc<[usize]>,
    pub columns: Arc<[usize]>,
    pub rows: Arc<[usize]>,
    pub parts: [Vec<f64>; 3],
}

impl Assembled {
    /// Order and pattern alone, without values.
    #[tracing::instrument(name = "order of the equations", skip_all)]
    pub fn ordered(mesh: &Mesh) -> Result<Self, ElasticFault> {
        let graph = node_graph(mesh);
        let place = ordering(&graph)?;
        let mut by_place: Vec<Vec<usize>> = vec![Vec::new(); place.len()];
        for (node, column) in graph.col_iter().enumerate() {
            let at = &mut by_place[place[node]];
            at.extend(column.row_indices().iter().map(|row| place[*row]).filter(|p| *p >= place[node]));
            at.sort_unstable();
        }
        let (mut columns, mut rows) = (vec![0], Vec::new());
        for (node, below) in by_place.iter().enumerate() {
            for component in 0..3 {
                for other in below {
                    let first = if *other == node { component } else { 0 };
                    rows.extend((first..3).map(|c| 3 * other + c));
                }
                columns.push(rows.len());
            }
        }
        let parts = [(); 3].map(|()| Vec::new());
        Ok(Self { place: place.into(), columns: columns.into(), rows: rows.into(), parts })
    }

    /// The matrices of a mesh with the same triangles.
    pub fn filled(&self, mesh: &Mesh, iron: &Iron) -> Self {
        let (place, columns, rows) = (self.place.clone(), self.columns.clone(), self.rows.clone());
        let mut assembled = Self { place, columns, rows, parts: [(); 3].map(|()| Vec::new()) };
        assembled.fill(mesh, iron);
        assembled
    }

    pub fn unknowns(&self) -> usize {
        3 * self.place.len()
    }

    pub fn unknown(&self, node: usize, component: usize) -> usize {
        3 * self.place[node] + component
    }

    #[tracing::instrument(name = "stiffness of the elements", skip_all)]
    fn fill(&mut self, mesh: &Mesh, iron: &Iron) {
        for part in &mut self.parts {
            part.resize(self.rows.len(), 0.0);
        }
        // Elements are computed in parallel and added in their order, so sums never depend on threads.
        for chunk in mesh.triangles.chunks(512) {
            let computed: Vec<_> = chunk.par_iter().map(|t| stiffness(mesh, t, iron)).collect();
            for (triangle, element) in chunk.iter().zip(&computed) {
                self.scatter(triangle, &element.parts);
            }
        }
    }

    fn scatter(&mut self, triangle: &[usize; 6], parts: &[[[f64; 18]; 18]; 3]) {
        for (j, column_node) in triangle.iter().enumerate() {
            for (i, row_node) in triangle.iter().enumerate() {
                if self.place[*row_node] < self.place[*column_node] {
                    continue;
                }
                for b in 0..3 {
                    let column = self.unknown(*column_node, b);
                    let range = self.columns[column]..self.columns[column + 1];
                    let first = if row_node == column_node { b } else { 0 };
                    let row = self.unknown(*row_node, first);
                    let Ok(offset) = self.rows[range.clone()].binary_search(&row) else { continue };
                    for a in first..3 {
                        let entry = range.start + offset + a - first;
                        for (part, element) in self.parts.iter_mut().zip(parts) {
                            part[entry] += element[3 * i + a][3 * j + b];
                        }
                    }
                }
            }
        }
    }

    /// Values of K_n in the shared pattern.
    pub fn combine(&self, n: f64, values: &mut [f64]) {
        let [k0, k1, k2] = &self.parts;
        for (value, ((a, b), c)) in values.iter_mut().zip(k0.iter().zip(k1).zip(k2)) {
            *value = a + n * (b + n * c);
        }
    }

    /// K0, K1 and K2 without the rows and columns of held unknowns, whose diagonals become the means of all.
    pub fn restrained(&self, held: &[bool]) -> [Vec<f64>; 3] {
        let size = self.unknowns();
        self.parts.each_ref().map(|part| {
            let mean = (0..size).map(|column| part[self.columns[column]]).sum::<f64>() / size as f64;
            let mut part = part.clone();
            for column in 0..size {
                let range = self.columns[column]..self.columns[column + 1];
                for (value, row) in part[range.clone()].iter_mut().zip(&self.rows[range]) {
                    if held[*row] || held[column] {
                        *value = if *row == column { mean } else { 0.0 };
                    }
                }
            }
            part
        })
    }

    /// Column starts and rows of the upper triangle's pattern: the lower one's transpose.
    pub fn upper_pattern(&self) -> (Vec<usize>, Vec<usize>) {
        let size = self.unknowns();
        let mut columns = vec![0; size + 1];
        for row in self.rows.iter() {
            columns[row + 1] += 1;
        }
        for column in 0..size {
            columns[column + 1] += columns[column];
        }
        let mut next = columns.clone();
        let mut rows = vec![0; self.rows.len()];
        for column in 0..size {
            for row in &self.rows[self.columns[column]..self.columns[column + 1]] {
                rows[next[*row]] = column;
                next[*row] += 1;
            }
        }
        (columns, rows)
    }

    /// y = K x for the symmetric matrix whose lower triangle is `values`.
    pub fn multiply(&self, values: &[f64], x: &[f64], y: &mut [f64]) {
        y.fill(0.0);
        for column in 0..self.unknowns() {
            let range = self.columns[column]..self.columns[column + 1];
            for (row, value) in self.rows[range.clone()].iter().zip(&values[range]) {
                y[*row] += value * x[column];
                if *row != column {
                    y[column] += value * x[*row];
                }
            }
        }
    }

    /// K_n as a full symmetric matrix, for checks by other solvers.
    #[cfg(test)]
    pub fn full(&self, n: f64) -> CscMatrix<f64> {
        let mut values = vec![0.0; self.rows.len()];
        self.combine(n, &mut values);
        let size = self.unknowns();
        let mut coo = CooMatrix::new(size, size);
        for column in 0..size {
            let range = self.columns[column]..self.columns[column + 1];
            for (row, value) in self.rows[range.clone()].iter().zip(&values[range]) {
                coo.push(*row, column, *value);
                if *row != column {
                    coo.push(column, *row, *value);
                }
            }
        }
        CscMatrix::from(&coo)
    }
}

/// Which nodes share a triangle, every node with itself included.
fn node_graph(mesh: &Mesh) -> CscMatrix<f64> {
    let size = mesh.nodes.len();
    let mut coo = CooMatrix::new(size, size);
    for triangle in &mesh.triangles {
        for row in triangle {
            for column in triangle {
                coo.push(*row, *column, 1.0);
            }
        }
    }
    CscMatrix::from(&coo)
}

fn ordering(graph: &CscMatrix<f64>) -> Result<Vec<usize>, ElasticFault> {
    let size = graph.ncols();
    let fault = |_| ElasticFault::Factor { n: 0, reason: "the node graph is too large to order".into() };
    let pattern =
        SymbolicSparseColMatRef::new_checked(size, size, graph.col_offsets(), None, graph.row_indices());
    let mut order = vec![0usize; size];
    let mut place = vec![0usize; size];
    let mut memory = MemBuffer::new(amd::order_maybe_unsorted_scratch::<usize>(size, graph.nnz()));
    amd::order_maybe_unsorted(
        &mut order,
        &mut place,
        pattern,
        amd::Control::default(),
        MemStack::new(&mut memory),
    )
    .map_err(fault)?;
    Ok(place)
}
