//! One section under its ropes: solved, verified, searched.

use super::loads::{Loaded, loaded, verify_resultant};
use crate::elastic::{
    Along, Connectivity, ElasticFault, Exclusion, Harmonic, Hit, Iron, Model, Options, Peak, PeakSearch,
    Region, Solution, singular_sizes, solve, solve_alike,
};
use crate::geometry::Point;
use crate::hoist::{Expected, LoadCase};
use crate::material::Metal;
use crate::mesh::{Mesh, PointSize, Sizing};
use crate::section::Section;
use crate::strength::BrittleStrength;
use crate::strength::criteria::{governing_brittle_factor, max_principal_factor};
use crate::survey::Survey;
use rayon::prelude::*;

use super::CheckFault;

/// How far the series is carried.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Series {
    /// Enough to tell which groove takes the hottest rope worst: sixteen harmonics.
    Choose,
    /// Enough to compare places and cases: ten per cent over the last eight harmonics. What is still missing is alike
    /// at all of them, and is taken for alike when the refined peak corrects them.
    Compare,
    /// As far as an analysis of a section much like it went: harmonics 0 to this one.
    UpTo(usize),
    /// For the number that is judged: a fifth of a per cent over the last sixteen.
    Judge,
}

impl Series {
    fn options(self) -> Options {
        match self {
            Self::Choose => Options { block: 16, least: 16, tolerance: f64::INFINITY, ..Options::default() },
            Self::Compare => Options { block: 8, least: 16, tolerance: 0.1, ..Options::default() },
            Self::UpTo(last) => {
                Options { block: last + 1, least: last + 1, most: last + 1, tolerance: f64::INFINITY }
            }
            Self::Judge => Options { block: 16, least: 32, tolerance: 0.002, ..Options::default() },
        }
    }
}

/// The mesh of an analysis.
pub(crate) enum Grid<'a> {
    /// To be drawn with these sizes.
    Drawn(Sizing),
    /// There already, with what is known of its equations.
    Given { mesh: Mesh, connectivity: &'a Connectivity },
}

/// What tells one case from another that is as bad.
const CLEARLY: f64 = 1e-3;

/// A solved section with its highest stresses.
pub struct Analysis {
    pub model: Model,
    pub solution: Solution,
    pub region: Region,
    pub expected: Vec<Expected>,
    /// Relative gap between applied and asked-for resultant of the first case.
    pub resultant_gap: f64,
    pub run_in_mm: f64,
    /// Per case: the place of the highest tension.
    pub tension: Vec<Peak>,
    /// Per case: the place where the strength is used most, and the factor there.
    pub worst: Vec<(Peak, f64)>,
    /// Searched nodes of the first case, highest tension first.
    pub ranking: Vec<Hit>,
}

impl Analysis {
    pub fn peak_mpa(&self) -> f64 {
        self.tension[0].principal_mpa[0]
    }

    /// The case that uses the strength most; a later one only where it is clearly worse than the first.
    pub fn worst_case(&self) -> usize {
        let factor = |case: usize| self.worst[case].1 * if case == 0 { 1.0 - CLEARLY } else { 1.0 };
        (0..self.worst.len()).min_by(|a, b| factor(*a).total_cmp(&factor(*b))).unwrap_or(0)
    }

    /// The first case alone.
    pub fn alone(mut self) -> Self {
        let Solution { case_names, cases, balance, .. } = &mut self.solution;
        case_names.truncate(1);
        cases.truncate(1);
        balance.truncate(1);
        self.model.cases.truncate(1);
        self.expected.truncate(1);
        self.tension.truncate(1);
        self.worst.truncate(1);
        self
    }

    /// Tags of the edges that carry load or support.
    pub(crate) fn loaded_tags(&self) -> Vec<&str> {
        let loads = self.model.patterns.iter().flat_map(|pattern| pattern.tags());
        loads.chain(self.model.supports.iter().map(|s| &s.tag)).map(String::as_str).collect()
    }
}

/// Material of the elastic model.
pub(crate) fn iron(metal: &Metal) -> Iron {
    Iron {
        young_mpa: metal.young_mpa,
        poisson: metal.poisson,
        density_t_mm3: metal.density_kg_m3 * 1e-12,
        expansion_per_k: metal.expansion_per_k,
    }
}

/// Factor on ultimate strength at a stress state: maximum principal stress, and for brittle metal the
/// modified Mohr criterion; for others the equivalent stress too. The smaller governs.
pub(crate) fn factor(metal: &Metal, principal: &[f64; 3]) -> f64 {
    match (metal.brittle, metal.compressive_mpa) {
        (true, Some(compressive_mpa)) => {
            let strength = BrittleStrength { tensile_mpa: metal.tensile_mpa, compressive_mpa };
            governing_brittle_factor(principal, strength).factor
        }
        (true, None) => max_principal_factor(principal, metal.tensile_mpa),
        (false, _) => {
            let tension = max_principal_factor(principal, metal.tensile_mpa);
            tension.min(metal.tensile_mpa / equivalent_mpa(principal).max(f64::MIN_POSITIVE))
        }
    }
}

/// Equivalent (von Mises) stress of principal values.
pub(crate) fn equivalent_mpa([a, b, c]: &[f64; 3]) -> f64 {
    (0.5 * ((a - b).powi(2) + (b - c).powi(2) + (c - a).powi(2))).sqrt()
}

/// Sizes of the coarse mesh, two triangles and more per quarter circle of a fillet, finer at the given places.
pub(crate) fn sizing(at_points: Vec<PointSize>) -> Sizing {
    Sizing {
        fillet_step_rad: 0.6,
        arc_step_rad: 1.0,
        through_wall: 1.2,
        growth: 0.5,
        at_points,
        ..Sizing::default()
    }
}

/// The elastic problem of a section under its ropes.
///
/// Around places without a finite stress three element sides are not searched: there the mesh is made so fine that
/// this stays what it should be below the fence, and a stated length above it, whatever the mesh is elsewhere.
pub(super) fn posed(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    cases: &[LoadCase],
    sizes: Sizing,
) -> Loaded {
    let mut loaded = loaded(survey, section, cases, iron(metal), sizes);
    let fence = section.fence_radius_mm;
    let below = Region::singular(&loaded.model).into_iter().filter(|place| place.at.r < fence);
    let below = below.map(|place| PointSize { at: place.at, size_mm: (fence - place.at.r) / 5.0 });
    let points: Vec<PointSize> = below.chain(singular_sizes(&loaded.model, |p| p.r >= fence)).collect();
    loaded.model.sizing.at_points.extend(points);
    loaded
}

/// Solves `section` for all `cases` (the first governs) and finds the highest stresses.
///
/// # Errors
/// When the section cannot be meshed or solved, or when forces do not balance.
pub(crate) fn analyse(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    cases: &[LoadCase],
    grid: Grid<'_>,
    series: Series,
) -> Result<Analysis, CheckFault> {
    let sizes = match &grid {
        Grid::Drawn(sizes) => sizes.clone(),
        Grid::Given { .. } => sizing(Vec::new()),
    };
    let Loaded { model, expected, run_in_mm } = posed(survey, section, metal, cases, sizes);
    let options = series.options();
    let searched = |mesh: &Mesh| searched(section, &model, mesh, options.least);
    let solution = match grid {
        Grid::Drawn(_) => solve(&model, searched, &options)?,
        Grid::Given { mesh, connectivity } => solve_alike(&model, mesh, connectivity, searched, &options)?,
    };
    let region = searched(&solution.mesh);
    let mut resultant_gap = 0.0f64;
    for (case, expected) in expected.iter().enumerate() {
        let (applied, name) = (&solution.balance[case].applied, &solution.case_names[case]);
        resultant_gap =
            resultant_gap.max(verify_resultant(applied, expected, (name, reach_mm(&solution.mesh)))?);
    }
    let highest = |harmonics: &Vec<Harmonic>| Highest::of(metal, &solution.mesh, harmonics, &region);
    let mut found = solution.cases.par_iter().map(highest).collect::<Result<Vec<_>, _>>()?;
    let ranking = found.first_mut().map(|first| std::mem::take(&mut first.ranking)).unwrap_or_default();
    let (tension, worst) = found.into_iter().map(|case| (case.tension, case.worst)).unzip();
    Ok(Analysis { model, solution, region, expected, resultant_gap, run_in_mm, tension, worst, ranking })
}

/// Where the highest stress of a section is looked for: in rim and web.
pub(super) fn searched(section: &Section, model: &Model, mesh: &Mesh, harmonics: usize) -> Region {
    let mut region = Region::of(model, mesh, harmonics);
    let fence = section.fence_radius_mm;
    let exclusion =
        Exclusion { reason: format!("below r = {fence:.1} mm: {}", section.fence_reason), distance_mm: 0.0 };
    region.exclude(mesh, exclusion, |p: Point| p.r < fence);
    region
}

/// The highest stresses of one case.
pub(super) struct Highest {
    pub tension: Peak,
    pub worst: (Peak, f64),
    ranking: Vec<Hit>,
}

impl Highest {
    /// # Errors
    /// When nothing is searched.
    pub fn of(
        metal: &Metal,
        mesh: &Mesh,
        harmonics: &[Harmonic],
        region: &Region,
    ) -> Result<Self, ElasticFault> {
        let search = PeakSearch::new(mesh, harmonics, region);
        let (tension, used) = (|p: &[f64; 3]| p[0], |p: &[f64; 3]| 1.0 / factor(metal, p));
        let [by_tension, by_use] = search.rankings(&[&tension, &used]);
        let (Some(first), Some(most)) = (by_tension.first(), by_use.first()) else {
            return Err(ElasticFault::NothingToSearch);
        };
        let along = Along { mesh, harmonics, region };
        let most = along.highest(&by_use, search.peak(most), &used);
        Ok(Self {
            tension: along.highest(&by_tension, search.peak(first), &tension),
            worst: (most, factor(metal, &most.principal_mpa)),
            ranking: by_tension,
        })
    }
}

/// Largest radius of a body (mm).
pub(super) fn reach_mm(mesh: &Mesh) -> f64 {
    mesh.nodes.iter().fold(0.0, |most, p| p.r.max(most))
}

/// Sizes around the places with nearly the highest tension, a share of what they are now: a finer mesh may find
/// its peak beside that of a coarse one, so all within 15 % of the highest take part.
pub(crate) fn sharpened(analysis: &Analysis, share: f64) -> Vec<PointSize> {
    let top = analysis.peak_mpa();
    let used = analysis.worst.first().map(|(peak, _)| peak.node);
    let hot = analysis.ranking.iter().take_while(|hit| hit.score > 0.85 * top).map(|hit| hit.node);
    let nodes = &analysis.solution.mesh.nodes;
    let size = |node: usize| PointSize { at: nodes[node], size_mm: share * local_side(analysis, node) };
    hot.chain(used).map(size).collect()
}

/// Shortest triangle side at a node (mm).
fn local_side(analysis: &Analysis, node: usize) -> f64 {
    let mesh = &analysis.solution.mesh;
    let own = mesh.triangles.iter().filter(|triangle| triangle.contains(&node));
    own.map(|t| mesh.nodes[t[0]].distance(mesh.nodes[t[1]])).fold(f64::INFINITY, f64::min).min(10.0)
}
