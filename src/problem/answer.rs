//! The answer to an explicit problem as one value that can be printed and saved.
//!
//! Owns what is reported: mesh, series, balance, peaks, probes, and what was not searched. Lacks every
//! output format. Units stand in the names; forces and moments are in the Cartesian frame with x at
//! θ = 0 and z along the shaft, stresses and displacements in the cylindrical frame.

use super::Problem;
use crate::elastic::{
    BlockStep, Cost, ElasticFault, Exclusion, Growth, PeakSearch, Resultant, Solution, Stress, growth,
    principal_values, singular_sizes, solve,
};
use crate::geometry::Point;
use crate::mesh::Quality;
use serde::Serialize;

/// Everything that is reported about a solved problem.
#[derive(Debug, Clone, Serialize)]
pub struct Answer {
    pub title: String,
    pub mesh: Quality,
    pub last_harmonic: usize,
    /// How the highest tension of the first case settled as harmonics were added.
    pub blocks: Vec<BlockStep>,
    pub cases: Vec<CaseAnswer>,
    pub probes: Vec<ProbeAnswer>,
    pub not_searched: Vec<Exclusion>,
    /// How the stress grows beside singular places; only on request.
    pub growth: Vec<Growth>,
    pub cost: Cost,
}

#[derive(Debug, Clone, Serialize)]
pub struct CaseAnswer {
    pub name: String,
    pub applied: Resultant,
    pub reaction: Resultant,
    /// Applied plus reaction; zero in exact arithmetic.
    pub force_gap_n: [f64; 3],
    pub moment_gap_nmm: [f64; 3],
    pub strain_energy_nmm: f64,
    pub half_work_nmm: f64,
    /// Largest relative gap between loads and reactions, and between energy and work.
    pub largest_relative_gap: f64,
    pub peak: PeakAnswer,
}

/// The place of the highest first principal stress.
#[derive(Debug, Clone, Serialize)]
pub struct PeakAnswer {
    pub r_mm: f64,
    pub z_mm: f64,
    /// `None` where the case is the same all around.
    pub theta_deg: Option<f64>,
    /// Tags of the edges on which the place lies; empty inside the body.
    pub on: Vec<String>,
    pub stress_mpa: NamedStress,
    /// Highest first.
    pub principal_mpa: [f64; 3],
}

#[derive(Debug, Clone, Serialize)]
pub struct ProbeAnswer {
    pub name: String,
    pub case: String,
    pub r_mm: f64,
    pub z_mm: f64,
    pub theta_deg: f64,
    /// How far the place was moved to lie on the meshed outline, which follows arcs by parabolas.
    pub moved_mm: f64,
    /// Radial, circumferential, axial.
    pub displacement_mm: [f64; 3],
    pub stress_mpa: NamedStress,
    /// Highest first.
    pub principal_mpa: [f64; 3],
}

/// Stress components by name.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct NamedStress {
    pub rr: f64,
    pub tt: f64,
    pub zz: f64,
    pub rt: f64,
    pub tz: f64,
    pub rz: f64,
}

impl From<Stress> for NamedStress {
    fn from([rr, tt, zz, rt, tz, rz]: Stress) -> Self {
        Self { rr, tt, zz, rt, tz, rz }
    }
}

impl Answer {
    /// Solves the problem and gathers what is reported about it.
    ///
    /// # Errors
    /// When there is no solution that can be defended, or no place is left to search.
    pub fn new(problem: &Problem) -> Result<Self, ElasticFault> {
        let series = &problem.extras.series;
        // While harmonics are still added, the least number of them sets the zone in which they ring.
        let watched = |mesh: &_| problem.region(mesh, series.least);
        // What is left out around a singular place must not depend on the mesh that the model asks for.
        let mut model = problem.model.clone();
        model.sizing.at_points.extend(singular_sizes(&model, |p| problem.counts(p)));
        let solution = solve(&model, watched, series)?;
        let region = problem.region(&solution.mesh, solution.last_harmonic());
        let mut cases = Vec::new();
        for (index, balance) in solution.balance.iter().enumerate() {
            let search = PeakSearch::new(&solution.mesh, &solution.cases[index], &region);
            let [ranking] = search.rankings(&[&|principal: &[f64; 3]| principal[0]]);
            let best = ranking.first().filter(|hit| hit.score.is_finite());
            let peak = search.peak(best.ok_or(ElasticFault::NothingToSearch)?);
            let same_around = solution.cases[index].iter().all(|harmonic| harmonic.n == 0);
            let both = |a: [f64; 3], b: [f64; 3]| std::array::from_fn(|i| a[i] + b[i]);
            cases.push(CaseAnswer {
                name: solution.case_names[index].clone(),
                applied: balance.applied,
                reaction: balance.reaction,
                force_gap_n: both(balance.applied.force_n, balance.reaction.force_n),
                moment_gap_nmm: both(balance.applied.moment_nmm, balance.reaction.moment_nmm),
                strain_energy_nmm: balance.energy_nmm,
                half_work_nmm: balance.work_nmm,
                largest_relative_gap: balance.gap,
                peak: PeakAnswer {
                    r_mm: peak.at.r,
                    z_mm: peak.at.z,
                    theta_deg: (!same_around).then_some(peak.theta_rad.to_degrees()),
                    on: tags_at(&solution, peak.node),
                    stress_mpa: peak.stress_mpa.into(),
                    principal_mpa: peak.principal_mpa,
                },
            });
        }
        Ok(Self {
            title: problem.model.title.clone(),
            mesh: solution.mesh.quality,
            last_harmonic: solution.last_harmonic(),
            blocks: solution.blocks.clone(),
            probes: probes(problem, &solution),
            cases,
            not_searched: region.exclusions,
            growth: Vec::new(),
            cost: solution.cost,
        })
    }

    /// Adds the growth study of every singular place in the searched part.
    ///
    /// # Errors
    /// When one of its meshes has no solution.
    pub fn with_growth(mut self, problem: &Problem) -> Result<Self, ElasticFault> {
        self.growth = growth(&problem.model, &problem.extras.series, |p| problem.counts(p))?;
        Ok(self)
    }
}

fn tags_at(solution: &Solution, node: usize) -> Vec<String> {
    let mesh = &solution.mesh;
    let mut on: Vec<String> = Vec::new();
    for edge in mesh.boundary.iter().filter(|edge| edge.nodes.contains(&node)) {
        let tag = &mesh.tags[edge.tag];
        if !on.contains(tag) {
            on.push(tag.clone());
        }
    }
    on
}

fn probes(problem: &Problem, solution: &Solution) -> Vec<ProbeAnswer> {
    let mut answers = Vec::new();
    for probe in &problem.extras.probes {
        // A probe on a curved surface may lie just outside the mesh that follows it.
        let place = match solution.locator.find(&solution.mesh, probe.at) {
            Some(_) => probe.at,
            None => solution.mesh.nearest_on_boundary(probe.at),
        };
        for (index, case) in solution.case_names.iter().enumerate() {
            if probe.case.as_ref().is_some_and(|wanted| wanted != case) {
                continue;
            }
            for theta in &probe.theta_rad {
                let found = solution.at(index, place, *theta);
                answers.extend(found.map(|(displacement_mm, stress)| ProbeAnswer {
                    name: probe.name.clone(),
                    case: case.clone(),
                    r_mm: probe.at.r,
                    z_mm: probe.at.z,
                    theta_deg: theta.to_degrees(),
                    moved_mm: Point::distance(probe.at, place),
                    displacement_mm,
                    stress_mpa: stress.into(),
                    principal_mpa: principal_values(&stress),
                }));
            }
        }
    }
    answers
}
