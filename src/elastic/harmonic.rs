//! One harmonic: its loads, its solution, its stresses, and its share of the balance.

use super::assembly::Assembled;
use super::balance::LoadScale;
use super::element::{SAMPLES, Spot};
use super::loads::{coefficients, thermal_stress};
use super::recovery::Recovery;
use super::restraint::Restraint;
use super::sides::{Side, shares};
use super::system::{Pattern as FactorPattern, Workspace};
use super::{Balance, Case, ElasticFault, Family, Harmonic, Model, Pattern};
use crate::mesh::Mesh;
use crate::seeded::{Fault, planted};

/// Largest residual of a harmonic, relative to its load.
pub(super) const RESIDUAL: f64 = 1e-8;
/// What is accepted in a slender body, whose large forces nearly cancel: a residual that is the rounding of
/// these forces themselves (as a share of their sizes), and still small against the load.
const ROUNDING: f64 = 1e-14;
const SLENDER_RESIDUAL: f64 = 1e-6;

/// What all harmonics of one analysis share.
pub(super) struct Analysis<'a> {
    pub model: &'a Model,
    pub mesh: &'a Mesh,
    pub assembled: &'a Assembled,
    pub pattern: &'a FactorPattern,
    pub recovery: &'a Recovery,
    pub restraint: &'a Restraint<'a>,
    /// The places where element stresses are most exact.
    pub spots: Vec<Spot>,
    pub sides: Vec<Side>,
    /// Unknowns that any right-hand side drives.
    pub loaded: Vec<Loaded>,
    /// Unknowns held in all harmonics that are solved together.
    pub held: Vec<bool>,
    /// K0, K1, K2 with these cut out, and means of the diagonals in their place.
    pub restrained: [Vec<f64>; 3],
    /// Rows of the first component of every triangle's nodes.
    pub rows: Vec<[usize; 6]>,
}

/// An unknown with a force, and the larger of its distances from the origin (mm): the arm of its moments.
pub(super) struct Loaded {
    pub row: usize,
    pub reach_mm: f64,
}

/// What one harmonic asks for.
struct Task {
    n: usize,
    /// Per case and family the share of every right-hand side.
    shares: Vec<[Vec<f64>; 2]>,
    /// Per case and family the nodal forces.
    forces: Vec<[Vec<f64>; 2]>,
    /// Per case the sizes of what was added up to its forces.
    parts: Vec<Vec<f64>>,
    held: Vec<bool>,
}

/// What one harmonic gives for every case.
pub(super) struct Outcome {
    pub n: usize,
    /// Per case; `None` where the harmonic carries no load.
    pub fields: Vec<Option<Harmonic>>,
    pub balance: Vec<Balance>,
    pub scale: Vec<LoadScale>,
    pub residual: f64,
}

/// One family's amplitudes at every node: displacement (u, v, w) in mm, stress in MPa.
struct Amplitudes {
    displacement: Vec<[f64; 3]>,
    stress: Vec<[f64; 6]>,
}

impl Analysis<'_> {
    /// Solves harmonic `n` for every case.
    ///
    /// # Errors
    /// When a support is missing, the matrix cannot be factored, or the residual is too large.
    #[tracing::instrument(name = "harmonics solved one by one", skip_all)]
    pub fn harmonic(&self, n: usize, workspace: &mut Workspace) -> Result<Outcome, ElasticFault> {
        let Some(task) = self.task(n)? else { return Ok(self.nothing(n)) };
        self.assembled.combine(n as f64, &mut workspace.values);
        if n == 1 {
            self.tie_axis(self.restraint.on_axis(), &mut workspace.values);
        }
        let stiffness = workspace.values.clone();
        let right = self.right_sides(&task);
        let mut solved = right.clone();
        workspace.solve(n, self.assembled, self.pattern, &task.held, &mut solved)?;
        // One step of iterative refinement: a slender body is stiff in stretch and soft in bending, its
        // forces nearly cancel, and rounding alone would leave too much of the load.
        let mut rest = self.products(&stiffness, &solved);
        for (rest, force) in rest.iter_mut().zip(&right) {
            for ((r, f), held) in rest.iter_mut().zip(force).zip(&task.held) {
                *r = if *held { 0.0 } else { f - *r };
            }
        }
        workspace.repeat(self.pattern, &mut rest);
        for (x, correction) in solved.iter_mut().flatten().zip(rest.iter().flatten()) {
            *x += correction;
        }
        self.outcome(&task, &solved, &self.products(&stiffness, &solved))
    }

    /// The stiffness times every column.
    fn products(&self, stiffness: &[f64], columns: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let product = |u: &Vec<f64>| {
            let mut product = vec![0.0; u.len()];
            self.assembled.multiply(stiffness, u, &mut product);
            product
        };
        columns.iter().map(product).collect()
    }

    pub fn nothing(&self, n: usize) -> Outcome {
        let count = self.model.cases.len();
        Outcome {
            n,
            fields: vec![None; count],
            balance: vec![Balance::default(); count],
            scale: vec![LoadScale::default(); count],
            residual: 0.0,
        }
    }

    /// What harmonic `n` asks for; `None` where it carries no load.
    fn task(&self, n: usize) -> Result<Option<Task>, ElasticFault> {
        let shares: Vec<[Vec<f64>; 2]> = self.model.cases.iter().map(|case| self.shares(case, n)).collect();
        if shares.iter().flatten().flatten().all(|share| *share == 0.0) {
            return Ok(None);
        }
        let loads: Vec<&[f64]> = self.sides.iter().map(|side| side.force.as_slice()).collect();
        let forces: Vec<[Vec<f64>; 2]> =
            shares.iter().map(|families| families.each_ref().map(|s| self.combine(s, &loads))).collect();
        let parts: Vec<Vec<f64>> = self.model.cases.iter().map(|case| self.sizes(case, n)).collect();
        let names = self.model.cases.iter().map(|case| case.name.as_str());
        let named: Vec<(&str, &[f64], &[f64])> = names
            .zip(forces.iter().zip(&parts))
            .flat_map(|(name, (f, p))| [(name, f[0].as_slice(), p.as_slice()), (name, &f[1], p)])
            .collect();
        let held = self.restraint.held(n, &named)?;
        Ok(Some(Task { n, shares, forces, parts, held }))
    }

    /// Few cases are solved as they stand; many share the solutions of their patterns.
    pub fn is_direct(&self) -> bool {
        2 * self.model.cases.len() <= self.sides.len()
    }

    fn right_sides(&self, task: &Task) -> Vec<Vec<f64>> {
        if self.is_direct() {
            task.forces.iter().flatten().cloned().collect()
        } else {
            self.sides.iter().map(|side| side.force.clone()).collect()
        }
    }

    /// Displacements, stresses and balance of every case from the solved right-hand sides and the stiffness
    /// times each of them.
    ///
    /// # Errors
    /// When a number is not finite or too much of a load is left over.
    fn outcome(
        &self,
        task: &Task,
        solved: &[Vec<f64>],
        products: &[Vec<f64>],
    ) -> Result<Outcome, ElasticFault> {
        let Task { n, shares, forces, parts, held } = task;
        let (n, direct) = (*n, self.is_direct());
        let mut outcome = self.nothing(n);
        let columns: Vec<&[f64]> = solved.iter().map(Vec::as_slice).collect();
        let inner: Vec<&[f64]> = products.iter().map(Vec::as_slice).collect();
        for (case, families) in shares.iter().enumerate() {
            if families.iter().flatten().all(|share| *share == 0.0) {
                continue;
            }
            let mut harmonic = Harmonic { n, ..Harmonic::default() };
            let mut pair: [Option<Amplitudes>; 2] = [None, None];
            for (index, family) in [Family::Cosine, Family::Sine].into_iter().enumerate() {
                let force = &forces[case][index];
                if force.iter().all(|f| *f == 0.0) {
                    continue;
                }
                let own = |columns: &[&[f64]]| {
                    if direct {
                        columns[2 * case + index].to_vec()
                    } else {
                        self.combine(&families[index], columns)
                    }
                };
                let (u, inner) = (own(&columns), own(&inner));
                if !u.iter().all(|x| x.is_finite()) {
                    return Err(ElasticFault::NotFinite { n });
                }
                let (gap, settled) =
                    self.account(n, family, held, (force, &parts[case]), (&u, &inner), case, &mut outcome);
                outcome.residual = outcome.residual.max(gap);
                if !settled {
                    return Err(ElasticFault::Residual { n, residual: gap, allowed: RESIDUAL });
                }
                let nodal: Vec<[f64; 3]> = (0..self.mesh.nodes.len())
                    .map(|node| [0, 1, 2].map(|c| u[self.assembled.unknown(node, c)]))
                    .collect();
                let thermal = (n == 0 && family == Family::Cosine).then(|| self.thermal(case)).flatten();
                let stress = self.stress(n, &nodal, thermal.as_deref());
                pair[index] = Some(Amplitudes { displacement: nodal, stress });
            }
            harmonic.displacement =
                merge(self.mesh.nodes.len(), &pair, |a| &a.displacement, [false, true, false]);
            harmonic.stress =
                merge(self.mesh.nodes.len(), &pair, |a| &a.stress, [false, false, false, true, true, false]);
            outcome.fields[case] = Some(harmonic);
        }
        Ok(outcome)
    }

    /// For every right-hand side its share in the cosine and the sine family of a case.
    pub fn shares(&self, case: &Case, n: usize) -> [Vec<f64>; 2] {
        shares(&self.sides, self.model, case, n)
    }

    /// Σ share × column over the right-hand sides.
    fn combine(&self, shares: &[f64], columns: &[&[f64]]) -> Vec<f64> {
        let mut sum = vec![0.0; self.assembled.unknowns()];
        for (share, column) in shares.iter().zip(columns).filter(|(share, _)| **share != 0.0) {
            for (s, x) in sum.iter_mut().zip(*column) {
                *s += share * x;
            }
        }
        sum
    }

    /// For every right-hand side the sum of the sizes of its shares in a case, whatever cancels between them.
    pub fn share_sizes(&self, case: &Case, n: usize) -> Vec<f64> {
        let coefficients = coefficients(case, self.model.patterns.len(), n);
        self.sides.iter().map(|side| coefficients[side.pattern].1).collect()
    }

    /// Sum of the sizes of all terms' forces.
    fn sizes(&self, case: &Case, n: usize) -> Vec<f64> {
        let mut sum = vec![0.0; self.assembled.unknowns()];
        for (side, size) in self.sides.iter().zip(self.share_sizes(case, n)) {
            for (s, f) in sum.iter_mut().zip(&side.force) {
                *s += (size * f).abs();
            }
        }
        sum
    }

    /// Ties u to −v on the axis in harmonic 1, where a smooth field moves as a whole (u + v = 0).
    fn tie_axis(&self, nodes: &[usize], values: &mut [f64]) {
        // Stiff enough to hold to eight digits, soft enough to leave the factor its own.
        let stiff = 1e8 * self.model.iron.young_mpa;
        for node in nodes {
            let (u, v) = (self.assembled.unknown(*node, 0), self.assembled.unknown(*node, 1));
            for (column, row) in [(u, u), (u, v), (v, v)] {
                let range = self.assembled.columns[column]..self.assembled.columns[column + 1];
                if let Ok(offset) = self.assembled.rows[range.clone()].binary_search(&row) {
                    values[range.start + offset] += stiff;
                }
            }
        }
    }

    /// Energy, work, applied load and reaction of one family; returns the relative residual, and whether it
    /// is small enough or cannot be told from rounding.
    #[allow(clippy::too_many_arguments)]
    fn account(
        &self,
        n: usize,
        family: Family,
        held: &[bool],
        (force, parts): (&[f64], &[f64]),
        (u, inner): (&[f64], &[f64]),
        case: usize,
        outcome: &mut Outcome,
    ) -> (f64, bool) {
        let weight = if n == 0 { std::f64::consts::TAU } else { std::f64::consts::PI };
        let dot = |a: &[f64]| a.iter().zip(u).map(|(x, y)| x * y).sum::<f64>();
        let balance = &mut outcome.balance[case];
        balance.energy_nmm += 0.5 * weight * dot(inner);
        balance.work_nmm += 0.5 * weight * dot(force);
        let reaction: Vec<f64> =
            (0..u.len()).map(|i| if held[i] { inner[i] - force[i] } else { 0.0 }).collect();
        balance.applied.add(self.mesh, self.assembled, n, family, force);
        balance.reaction.add(self.mesh, self.assembled, n, family, &reaction);
        outcome.scale[case].add(self.mesh, self.assembled, force);
        let (mut rest, mut load) = (0.0, 0.0);
        for i in (0..u.len()).filter(|i| !held[*i]) {
            rest += (inner[i] - force[i]).powi(2);
            load += parts[i].powi(2);
        }
        let gap = if load > 0.0 { (rest / load).sqrt() } else { 0.0 };
        if gap <= RESIDUAL || gap.is_nan() || gap > SLENDER_RESIDUAL {
            return (gap, gap <= RESIDUAL);
        }
        let mut sizes = vec![0.0; self.assembled.rows.len()];
        self.assembled.combine(n as f64, &mut sizes);
        if n == 1 {
            self.tie_axis(self.restraint.on_axis(), &mut sizes);
        }
        sizes.iter_mut().for_each(|k| *k = k.abs());
        let moved: Vec<f64> = u.iter().map(|x| x.abs()).collect();
        let mut forces = vec![0.0; u.len()];
        self.assembled.multiply(&sizes, &moved, &mut forces);
        let size = forces.iter().zip(held).filter(|(_, held)| !**held).map(|(f, _)| f * f).sum::<f64>();
        (gap, rest.sqrt() <= ROUNDING * size.sqrt())
    }

    /// The stress that heating alone would make, at every sampling point; `None` without heat.
    fn thermal(&self, case: usize) -> Option<Vec<f64>> {
        let mut sum: Option<Vec<f64>> = None;
        for term in &self.model.cases[case].terms {
            if let Pattern::Thermal { temperature } = &self.model.patterns[term.pattern] {
                let share = term.around.fourier(0).cosine;
                let field = sum.get_or_insert_with(|| vec![0.0; 3 * self.mesh.triangles.len()]);
                for (value, spot) in field.iter_mut().zip(&self.spots) {
                    *value += share * thermal_stress(&self.model.iron, temperature.value(spot.at));
                }
            }
        }
        sum
    }

    fn stress(&self, n: usize, nodal: &[[f64; 3]], thermal: Option<&[f64]>) -> Vec<[f64; 6]> {
        let d = self.model.iron.stiffness();
        let (lambda, twice_shear, shear) = (d[0][1], d[0][0] - d[0][1], d[3][3]);
        let mut samples = Vec::with_capacity(self.spots.len());
        for (index, spot) in self.spots.iter().enumerate() {
            let nodes = self.mesh.triangles[index / SAMPLES.len()].map(|node| nodal[node]);
            let e = spot.strain(n as f64, &nodes);
            let heat = thermal.filter(|_| !planted(Fault::HeatStressKept)).map_or(0.0, |t| t[index]);
            let volume = lambda * (e[0] + e[1] + e[2]) - heat;
            samples.push([
                volume + twice_shear * e[0],
                volume + twice_shear * e[1],
                volume + twice_shear * e[2],
                shear * e[3],
                shear * e[4],
                shear * e[5],
            ]);
        }
        let mut nodal = self.recovery.nodal(&samples);
        if planted(Fault::SwappedShears) {
            nodal.iter_mut().for_each(|stress| stress.swap(3, 5));
        }
        nodal
    }
}

/// Puts the two families' amplitudes side by side as coefficients of cos nθ and sin nθ.
///
/// A component marked `crossed` (v and the shears with θ) runs as sin nθ in the cosine family and as
/// −cos nθ in the sine family.
fn merge<const C: usize, const D: usize>(
    nodes: usize,
    pair: &[Option<Amplitudes>; 2],
    get: impl Fn(&Amplitudes) -> &Vec<[f64; C]>,
    crossed: [bool; C],
) -> Vec<[f64; D]> {
    let mut merged = vec![[0.0; D]; nodes];
    for (family, part) in pair.iter().enumerate() {
        let Some(part) = part else { continue };
        for (node, amplitude) in get(part).iter().enumerate() {
            for (c, value) in amplitude.iter().enumerate() {
                match (family, crossed[c]) {
                    (0, false) => merged[node][c] += value,
                    (0, true) => merged[node][C + c] += value,
                    (_, false) => merged[node][C + c] += value,
                    (_, true) => merged[node][c] -= value,
                }
            }
        }
    }
    merged
}
