//! An elastic problem solved on a family of meshes, each the one before with every side halved.

use super::{CaseFault, Record, Row, Source};
use crate::elastic::{Model, Options, Region, Solution, Stress, solve};
use crate::geometry::Point;
use crate::mesh::Mesh;

/// One mesh of the family.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    pub triangles: usize,
    pub unknowns: usize,
    /// Longest element side over the one of the coarsest mesh: 1, 1/2, 1/4 ...
    pub side: f64,
    pub last_harmonic: usize,
}

/// A model with its solutions, coarse to fine.
pub struct Bench {
    pub model: Model,
    pub solutions: Vec<Solution>,
}

impl Bench {
    /// Solves on the model's own mesh and on `halvings` finer ones.
    ///
    /// # Errors
    /// When a mesh or a solution fails.
    pub fn solve(model: Model, halvings: usize) -> Result<Self, CaseFault> {
        Self::with(model, halvings, &Options::default(), |_, mesh| Region::everything(mesh))
    }

    /// The same with a series of one's own and a part of the body in which the highest tension is searched.
    ///
    /// # Errors
    /// As [`Bench::solve`].
    pub fn with(
        model: Model,
        halvings: usize,
        options: &Options,
        region: impl Fn(&Model, &Mesh) -> Region,
    ) -> Result<Self, CaseFault> {
        let mut solutions = Vec::new();
        for level in 0..=halvings {
            let mut finer = model.clone();
            finer.sizing.halvings = level;
            solutions.push(solve(&finer, |mesh| region(&finer, mesh), options)?);
        }
        Ok(Self { model, solutions })
    }

    /// The finest solution.
    pub fn finest(&self) -> &Solution {
        &self.solutions[self.solutions.len() - 1]
    }

    /// A row whose value `read` takes from every solution, with the program's own error estimate: the step
    /// between the two finest meshes and the last block's share of the series.
    pub fn row(
        &self,
        quantity: impl Into<String>,
        unit: &'static str,
        source: Source,
        reference: f64,
        read: impl Fn(&Solution) -> f64,
    ) -> Row {
        let history: Vec<f64> = self.solutions.iter().map(read).collect();
        let computed = history[history.len() - 1];
        let mut row = Row::new(quantity, unit, source, reference, computed);
        let blocks = &self.finest().blocks;
        let tail = if blocks.len() > 1 { blocks[blocks.len() - 1].change * computed.abs() } else { 0.0 };
        row.estimate = (history.len() > 1).then(|| (computed - history[history.len() - 2]).abs() + tail);
        row.history = history;
        row
    }

    /// The record of this problem with its rows.
    pub fn record(self, rows: Vec<Row>) -> Record {
        let level = |(index, solution): (usize, &Solution)| Level {
            triangles: solution.mesh.triangles.len(),
            unknowns: solution.cost.unknowns,
            side: 0.5f64.powi(index as i32),
            last_harmonic: solution.last_harmonic(),
        };
        let levels = self.solutions.iter().enumerate().map(level).collect();
        Record { model: Some(self.model), levels, rows, ..Record::default() }
    }
}

/// Displacement and stress of the first load case at (r, z), θ; not numbers outside the body, so that no
/// comparison with them can hold.
pub fn probe(solution: &Solution, r: f64, z: f64, theta: f64) -> ([f64; 3], Stress) {
    solution.at(0, Point::new(r, z), theta).unwrap_or(([f64::NAN; 3], [f64::NAN; 6]))
}
