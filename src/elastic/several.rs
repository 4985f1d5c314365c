//! Several harmonics at once: packed side by side, factored, solved and multiplied in vector lanes.

use super::ElasticFault;
use super::harmonic::{Analysis, Outcome};
use super::lanes::Bundle;
use super::system::Workspace;

impl Analysis<'_> {
    /// Solves several harmonics above the first at once: beyond it no rigid motion is left, and the same
    /// unknowns are held in all of them.
    ///
    /// # Errors
    /// As [`Analysis::harmonic`].
    pub fn several(
        &self,
        harmonics: &[usize],
        bundle: &mut Bundle,
        workspace: &mut Workspace,
    ) -> Result<Vec<Outcome>, ElasticFault> {
        let mut tasks = Vec::new();
        let mut outcomes = Vec::new();
        for n in harmonics {
            match self.task(*n)? {
                Some(task) => tasks.push(task),
                None => outcomes.push(self.nothing(*n)),
            }
        }
        let (Some(structure), Some(first)) = (self.pattern.structure(), tasks.first()) else {
            return Ok(outcomes);
        };
        let lanes = bundle.lanes();
        // Lanes without a harmonic of their own repeat the last one.
        let n_of: Vec<f64> = (0..lanes).map(|lane| tasks[lane.min(tasks.len() - 1)].n as f64).collect();
        let typical: Vec<f64> = n_of.iter().map(|n| self.assembled.typical(*n)).collect();
        let held = &first.held;
        let [k0, k1, k2] = &self.assembled.parts;
        let fill = |entry: usize, row: usize, column: usize, out: &mut [f64]| {
            if !(held[row] || held[column]) {
                for (value, n) in out.iter_mut().zip(&n_of) {
                    *value = k0[entry] + n * (k1[entry] + n * k2[entry]);
                }
            } else if row == column {
                out.copy_from_slice(&typical);
            }
        };
        let pattern = (self.assembled.columns.as_slice(), self.assembled.rows.as_slice());
        let factoring = tracing::info_span!("factors").entered();
        bundle.factor(structure, pattern, fill).map_err(|fault| ElasticFault::Factor {
            n: n_of[fault.lane] as usize,
            reason: "it is not positive definite".into(),
        })?;
        drop(factoring);
        let solving = tracing::info_span!("solutions").entered();
        let mut columns: Vec<Vec<Vec<f64>>> = tasks.iter().map(|task| self.right_sides(task)).collect();
        let sides = columns[0].len();
        let mut packed = vec![0.0; self.assembled.unknowns() * sides * lanes];
        for (lane, own) in columns.iter().enumerate() {
            for (side, column) in own.iter().enumerate() {
                for (i, (force, held)) in column.iter().zip(held).enumerate() {
                    packed[(i * sides + side) * lanes + lane] = if *held { 0.0 } else { *force };
                }
            }
        }
        bundle.solve(structure, &mut packed, sides);
        let products = bundle.multiply(pattern, &self.assembled.parts, &n_of, &packed, sides);
        drop(solving);
        let _stresses = tracing::info_span!("stresses and balance").entered();
        let unpack = |from: &[f64], lane: usize, side: usize, column: &mut [f64]| {
            for (i, x) in column.iter_mut().enumerate() {
                *x = from[(i * sides + side) * lanes + lane];
            }
        };
        for (lane, (task, own)) in tasks.iter().zip(&mut columns).enumerate() {
            let mut inner = own.clone();
            for side in 0..sides {
                unpack(&packed, lane, side, &mut own[side]);
                unpack(&products, lane, side, &mut inner[side]);
            }
            match self.outcome(task, own, &inner) {
                // By itself the harmonic gets a step of refinement.
                Err(ElasticFault::Residual { .. }) => outcomes.push(self.harmonic(task.n, workspace)?),
                outcome => outcomes.push(outcome?),
            }
        }
        Ok(outcomes)
    }
}
