//! One harmonic: its loads, its solution, its stresses, and its share of the balance.

use super::assembly::Assembled;
use super::balance::LoadScale;
use super::element::{SAMPLES, Spot};
use super::lanes::Bundle;
use super::loads::{coefficients, thermal_stress};
use super::recovery::Recovery;
use super::restraint::Restraint;
use super::system::{Pattern as FactorPattern, Workspace};
use super::{Balance, Case, ElasticFault, Family, Harmonic, Model, Pattern};
use crate::mesh::Mesh;
use crate::seeded::{Fault, planted};

/// Largest residual of a harmonic, relative to its load.
const RESIDUAL: f64 = 1e-8;
/// What is accepted in a slender body, whose large forces nearly cancel: a residual that is the rounding of
/// these forces themselves (as a share of their sizes), and still small against the load.
const ROUNDING: f64 = 1e-14;
const SLENDER_RESIDUAL: f64 = 1e-6;

/// One right-hand side: a pattern's plain or circumferential forces.
pub(super) struct Side {
    pub pattern: usize,
    /// Circumferential forces follow the other trigonometric function.
    pub crossed: bool,
    pub force: Vec<f64>,
}

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
        let mut rest = self.rest(&stiffness, &task.held, &right, &solved);
        workspace.repeat(self.pattern, &mut rest);
        for (x, correction) in solved.iter_mut().flatten().zip(rest.iter().flatten()) {
            *x += correction;
        }
        self.outcome(&task, &solved, &stiffness)
    }

    /// Forces that the solutions leave over, zero at held unknowns.
    fn rest(
        &self,
        stiffness: &[f64],
        held: &[bool],
        right: &[Vec<f64>],
        solved: &[Vec<f64>],
    ) -> Vec<Vec<f64>> {
        let one = |(force, u): (&Vec<f64>, &Vec<f64>)| {
            let mut rest = vec![0.0; u.len()];
            self.assembled.multiply(stiffness, u, &mut rest);
            for ((r, f), held) in rest.iter_mut().zip(force).zip(held) {
                *r = if *held { 0.0 } else { f - *r };
            }
            rest
        };
        right.iter().zip(solved).map(one).collect()
    }

    /// Solves several harmonics above the first at once: beyond it no rigid motion is left, and the same
    /// unknowns are held in all of them.
    ///
    /// # Errors
    /// As [`Analysis::harmonic`].
    pub fn bundle(
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
        bundle.factor(structure, pattern, fill).map_err(|fault| ElasticFault::Factor {
            n: n_of[fault.lane] as usize,
            reason: "it is not positive definite".into(),
        })?;
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
        for (lane, (task, own)) in tasks.iter().zip(&mut columns).enumerate() {
            for (side, column) in own.iter_mut().enumerate() {
                for (i, x) in column.iter_mut().enumerate() {
                    *x = packed[(i * sides + side) * lanes + lane];
                }
            }
            self.assembled.combine(task.n as f64, &mut workspace.values);
            match self.outcome(task, own, &workspace.values) {
                // By itself the harmonic gets a step of refinement.
                Err(ElasticFault::Residual { .. }) => outcomes.push(self.harmonic(task.n, workspace)?),
                outcome => outcomes.push(outcome?),
            }
        }
        Ok(outcomes)
    }

    fn nothing(&self, n: usize) -> Outcome {
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
    fn is_direct(&self) -> bool {
        2 * self.model.cases.len() <= self.sides.len()
    }

    fn right_sides(&self, task: &Task) -> Vec<Vec<f64>> {
        if self.is_direct() {
            task.forces.iter().flatten().cloned().collect()
        } else {
            self.sides.iter().map(|side| side.force.clone()).collect()
        }
    }

    /// Displacements, stresses and balance of every case from the solved right-hand sides.
    fn outcome(&self, task: &Task, solved: &[Vec<f64>], stiffness: &[f64]) -> Result<Outcome, ElasticFault> {
        let Task { n, shares, forces, parts, held } = task;
        let (n, direct) = (*n, self.is_direct());
        let mut outcome = self.nothing(n);
        let columns: Vec<&[f64]> = solved.iter().map(Vec::as_slice).collect();
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
                let u = if direct {
                    columns[2 * case + index].to_vec()
                } else {
                    self.combine(&families[index], &columns)
                };
                if !u.iter().all(|x| x.is_finite()) {
                    return Err(ElasticFault::NotFinite { n });
                }
                let gap =
                    self.account(n, family, stiffness, held, (force, &parts[case]), &u, case, &mut outcome);
                outcome.residual = outcome.residual.max(gap);
                let nodal: Vec<[f64; 3]> = (0..self.mesh.nodes.len())
                    .map(|node| [0, 1, 2].map(|c| u[self.assembled.unknown(node, c)]))
                    .collect();
                let thermal = (n == 0 && family == Family::Cosine).then(|| self.thermal(case)).flatten();
                let stress = self.stress(n, &nodal, thermal.as_deref());
                pair[index] = Some(Amplitudes { displacement: nodal, stress });
            }
            if outcome.residual > RESIDUAL {
                return Err(ElasticFault::Residual { n, residual: outcome.residual, allowed: RESIDUAL });
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
    fn shares(&self, case: &Case, n: usize) -> [Vec<f64>; 2] {
        let fourier = coefficients(case, self.model.patterns.len(), n);
        let share = |family: Family| {
            let of = |side: &Side| {
                let c = fourier[side.pattern].0;
                match (family, side.crossed) {
                    (Family::Cosine, false) if n == 0 && planted(Fault::HalfTurnMean) => 2.0 * c.cosine,
                    (Family::Sine, _) if planted(Fault::SineFamilyLost) => 0.0,
                    (Family::Sine, true) if planted(Fault::TwistTurnsBack) => c.cosine,
                    (Family::Cosine, false) => c.cosine,
                    (Family::Cosine, true) | (Family::Sine, false) => c.sine,
                    (Family::Sine, true) => -c.cosine,
                }
            };
            self.sides.iter().map(of).collect()
        };
        [share(Family::Cosine), share(Family::Sine)]
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

    /// Sum of the sizes of all terms' forces, whatever cancels between them.
    fn sizes(&self, case: &Case, n: usize) -> Vec<f64> {
        let coefficients = coefficients(case, self.model.patterns.len(), n);
        let mut sum = vec![0.0; self.assembled.unknowns()];
        for side in &self.sides {
            let size = coefficients[side.pattern].1;
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

    /// Energy, work, applied load and reaction of one family; returns the relative residual.
    #[allow(clippy::too_many_arguments)]
    fn account(
        &self,
        n: usize,
        family: Family,
        stiffness: &[f64],
        held: &[bool],
        (force, parts): (&[f64], &[f64]),
        u: &[f64],
        case: usize,
        outcome: &mut Outcome,
    ) -> f64 {
        let mut inner = vec![0.0; u.len()];
        self.assembled.multiply(stiffness, u, &mut inner);
        let weight = if n == 0 { std::f64::consts::TAU } else { std::f64::consts::PI };
        let dot = |a: &[f64]| a.iter().zip(u).map(|(x, y)| x * y).sum::<f64>();
        let balance = &mut outcome.balance[case];
        balance.energy_nmm += 0.5 * weight * dot(&inner);
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
        if !(RESIDUAL..SLENDER_RESIDUAL).contains(&gap) {
            return gap;
        }
        let sizes: Vec<f64> = stiffness.iter().map(|k| k.abs()).collect();
        let moved: Vec<f64> = u.iter().map(|x| x.abs()).collect();
        self.assembled.multiply(&sizes, &moved, &mut inner);
        let size = inner.iter().zip(held).filter(|(_, held)| !**held).map(|(f, _)| f * f).sum::<f64>();
        // Rounding counts as none: what the equations leave over cannot be told from it.
        if rest.sqrt() <= ROUNDING * size.sqrt() { 0.0 } else { gap }
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
