//! From a model to its solution: blocks of harmonics until the governing stress has settled.

use super::balance::LoadScale;
use super::desks::{Desk, Desks, groups};
use super::element::{SAMPLES, Spot};
use super::harmonic::{Analysis, Loaded, Outcome};
use super::peak::PeakSearch;
use super::recovery::Recovery;
use super::region::Region;
use super::restraint::Restraint;
use super::sides::sides;
use super::solution::Cost;
use super::{Balance, Connectivity, ElasticFault, Harmonic, Model, Pattern, Solution};
use crate::mesh::{Locator, Mesh};
use serde::Serialize;
use tracing::info_span;

/// How far the series is carried.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Harmonics per block.
    pub block: usize,
    /// Fewest harmonics of a load that has no end of its own.
    pub least: usize,
    /// Most harmonics.
    pub most: usize,
    /// The governing stress may move by this share in the last block.
    pub tolerance: f64,
}

impl Default for Options {
    fn default() -> Self {
        Self { block: 16, least: 48, most: 400, tolerance: 0.005 }
    }
}

/// The governing stress after one block of harmonics.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct BlockStep {
    /// Highest harmonic so far.
    pub last_harmonic: usize,
    pub peak_mpa: f64,
    /// Largest relative change of any case's peak against the block before.
    #[serde(rename = "relative_change")]
    pub change: f64,
}

/// Solves the model on its own mesh.
///
/// Harmonics are added until no case's highest tension moves any more; `region` says where it counts.
///
/// # Errors
/// When the model cannot be meshed, a support is missing, a harmonic cannot be solved, the series does
/// not settle, or forces, reactions and energies do not balance.
pub fn solve(
    model: &Model,
    region: impl Fn(&Mesh) -> Region,
    options: &Options,
) -> Result<Solution, ElasticFault> {
    check_tags(model)?;
    check_iron(model)?;
    solve_on(model, Mesh::generate(&model.outline, &model.sizing)?, region, options)
}

/// Solves the model on a mesh of its outline that is handed in.
///
/// # Errors
/// As [`solve`], the mesh aside.
pub fn solve_on(
    model: &Model,
    mesh: Mesh,
    region: impl Fn(&Mesh) -> Region,
    options: &Options,
) -> Result<Solution, ElasticFault> {
    let connectivity = Connectivity::new(&mesh)?;
    solve_alike(model, mesh, &connectivity, region, options)
}

/// Solves the model on a mesh of its outline whose triangles were met before.
///
/// # Errors
/// As [`solve_on`].
pub fn solve_alike(
    model: &Model,
    mesh: Mesh,
    connectivity: &Connectivity,
    region: impl Fn(&Mesh) -> Region,
    options: &Options,
) -> Result<Solution, ElasticFault> {
    check_tags(model)?;
    check_iron(model)?;
    if !connectivity.fits(&mesh) {
        return solve_on(model, mesh, region, options);
    }
    let region = region(&mesh);
    let assembled = connectivity.order.filled(&mesh, &model.iron);
    let recovery = info_span!("weights of the stress recovery").in_scope(|| Recovery::new(&mesh));
    let spots = |triangle| SAMPLES.map(|[s, t]| Spot::new(&mesh, triangle, s, t));
    let spots = mesh.triangles.iter().flat_map(spots).collect();
    let restraint = Restraint::new(&mesh, &assembled, model);
    let sides = sides(model, &mesh, &assembled)?;
    let (held, mut together) = restraint.held_together();
    if model.patterns.iter().any(|pattern| matches!(pattern, Pattern::Thermal { .. })) {
        // The stress that heat alone would make belongs to harmonic 0.
        together = together.max(1);
    }
    let mut loaded = Vec::new();
    for (node, p) in mesh.nodes.iter().enumerate() {
        let rows = [0, 1, 2].map(|c| assembled.unknown(node, c));
        let driven = rows.into_iter().filter(|row| sides.iter().any(|side| side.force[*row] != 0.0));
        loaded.extend(driven.map(|row| Loaded { row, reach_mm: p.r.max(p.z.abs()) }));
    }
    let rows = mesh.triangles.iter().map(|t| t.map(|node| assembled.unknown(node, 0))).collect();
    let analysis = Analysis {
        model,
        mesh: &mesh,
        assembled: &assembled,
        pattern: &connectivity.pattern,
        recovery: &recovery,
        restraint: &restraint,
        spots,
        sides,
        loaded,
        restrained: assembled.restrained(&held),
        held,
        rows,
    };
    let (cases, balance, blocks, cost) = analysis.run(&region, options, together)?;
    let locator = Locator::new(&mesh);
    let case_names = model.cases.iter().map(|case| case.name.clone()).collect();
    Ok(Solution { locator, iron: model.iron, case_names, cases, balance, blocks, cost, mesh })
}

type Run = (Vec<Vec<Harmonic>>, Vec<Balance>, Vec<BlockStep>, Cost);

impl Analysis<'_> {
    fn run(&self, region: &Region, options: &Options, together: usize) -> Result<Run, ElasticFault> {
        let end = self.end();
        let few = end.is_some_and(|n| n < 4);
        let desks = Desks::new(self.assembled, self.pattern, self.sides.len(), few);
        let count = self.model.cases.len();
        let mut cases: Vec<Vec<Harmonic>> = vec![Vec::new(); count];
        let mut balance = vec![Balance::default(); count];
        let mut scale = vec![LoadScale::default(); count];
        let mut blocks: Vec<BlockStep> = Vec::new();
        let mut cost = Cost {
            unknowns: self.assembled.unknowns(),
            factor_entries: self.pattern.entries(),
            ..Cost::default()
        };
        let mut next = 0;
        let mut before: Vec<f64> = Vec::new();
        loop {
            let last = end.unwrap_or(options.most).min(next + options.block - 1);
            for outcome in self.block((next, last), together, &desks)? {
                cost.harmonics_solved += usize::from(outcome.fields.iter().any(Option::is_some));
                cost.residual = cost.residual.max(outcome.residual);
                for (case, field) in outcome.fields.into_iter().enumerate() {
                    cases[case].extend(field);
                    let (sum, part) = (&mut balance[case], &outcome.balance[case]);
                    sum.energy_nmm += part.energy_nmm;
                    sum.work_nmm += part.work_nmm;
                    for i in 0..3 {
                        sum.applied.force_n[i] += part.applied.force_n[i];
                        sum.applied.moment_nmm[i] += part.applied.moment_nmm[i];
                        sum.reaction.force_n[i] += part.reaction.force_n[i];
                        sum.reaction.moment_nmm[i] += part.reaction.moment_nmm[i];
                    }
                    scale[case].force_n += outcome.scale[case].force_n;
                    scale[case].moment_nmm += outcome.scale[case].moment_nmm;
                }
            }
            next = last + 1;
            // Every case must settle; the first one's peak is the one that is shown.
            let settling = info_span!("does the series settle").entered();
            let now: Vec<f64> = cases
                .iter()
                .map(|harmonics| PeakSearch::new(self.mesh, harmonics, region).outline_peak())
                .collect();
            drop(settling);
            let changes = now.iter().zip(&before).map(|(now, old)| (now - old).abs() / now.abs().max(1e-12));
            let change = if before.is_empty() { 1.0 } else { changes.fold(0.0, f64::max) };
            let peak_mpa = now[0];
            before = now;
            blocks.push(BlockStep { last_harmonic: last, peak_mpa, change });
            if end.is_some_and(|end| last >= end) {
                break;
            }
            if end.is_none() && next >= options.least && change < options.tolerance {
                break;
            }
            if next > options.most {
                return Err(ElasticFault::Harmonics {
                    harmonics: last,
                    change: 100.0 * change,
                    allowed: 100.0 * options.tolerance,
                });
            }
        }
        for ((case, balance), scale) in self.model.cases.iter().zip(&mut balance).zip(&scale) {
            balance.verify(&case.name, scale)?;
        }
        Ok((cases, balance, blocks, cost))
    }

    /// The last harmonic of a load that has one.
    fn end(&self) -> Option<usize> {
        let terms = self.model.cases.iter().flat_map(|case| &case.terms);
        terms.map(|term| term.around.last_harmonic()).try_fold(0, |most, n| n.map(|n| most.max(n)))
    }

    /// Harmonics `from` to `to`, shared among the threads; the result never depends on their number.
    fn block(
        &self,
        (from, to): (usize, usize),
        together: usize,
        desks: &Desks<'_>,
    ) -> Result<Vec<Outcome>, ElasticFault> {
        let groups = groups(from, to, together, desks.lanes());
        let work = |group: &[usize], Desk { workspace, bundle }: &mut Desk| match bundle {
            Some(bundle) if group.len() > 1 => self.several(group, bundle, workspace),
            _ => group.iter().map(|n| self.harmonic(*n, workspace)).collect(),
        };
        let mut outcomes = desks.share_out(&groups, work)?;
        outcomes.sort_by_key(|outcome| outcome.n);
        Ok(outcomes)
    }
}

fn check_tags(model: &Model) -> Result<(), ElasticFault> {
    let tags = &model.outline.tags;
    let users = model.supports.iter().map(|s| (&s.tag, "a support"));
    let loads = model.patterns.iter().flat_map(|p| p.tags().iter().map(|tag| (tag, "a load")));
    for (tag, user) in users.chain(loads) {
        if !tags.contains(tag) {
            return Err(ElasticFault::UnknownTag {
                tag: tag.clone(),
                user: user.into(),
                known: tags.join(", "),
            });
        }
    }
    Ok(())
}

fn check_iron(model: &Model) -> Result<(), ElasticFault> {
    let iron = &model.iron;
    let fault = |text: &str| Err(ElasticFault::Material(text.to_owned()));
    if !(iron.young_mpa.is_finite() && iron.young_mpa > 0.0) {
        return fault("its modulus of elasticity must be above zero");
    }
    if !(iron.poisson > -1.0 && iron.poisson < 0.5) {
        return fault("its Poisson ratio must lie between -1 and 0.5, both excluded");
    }
    Ok(())
}
