//! Finer meshes at the governing place until the peak is known well enough, and how well that is.
//!
//! Two estimates of the mesh's error are added. One is taken from the step between two meshes: the stress error of
//! quadratic triangles falls with the square of their side h, so that of the finer mesh is the step times
//! q²/(1 − q²), q being the ratio of the sides at the peak. A step may be small by chance; the other is what the
//! elements at the peak leave undone. Their mean is better than each of them, and a third of the largest distance
//! from it is taken; or the stress across a surface without load, which should be nothing, where that is more. The
//! case `error-bar` of the verification manual holds the sum against meshes far finer. What errs far from the peak
//! reaches it through the energy: there the mesh is refined until no triangle has more than its share of an
//! allowed error in energy.

use super::CheckFault;
use super::analysis::{Analysis, Grid, Series, analyse, sharpened, sizing};
use super::energetic::Energetic;
use super::result::MeshStep;
use crate::elastic::Peak;
use crate::hoist::LoadCase;
use crate::material::Metal;
use crate::mesh::PointSize;
use crate::section::Section;
use crate::survey::Survey;

/// What the peak may be off by, as a share of it.
const ALLOWED: f64 = 0.01;
/// Element side at the hot places of the first judged mesh, as a share of the coarse mesh's.
pub(super) const FIRST_SHARE: f64 = 0.1;
/// Most meshes beyond the first judged one.
const REFINEMENTS: usize = 3;
/// What of the elements' disagreement is taken for the error of their mean.
pub(super) const DISAGREEMENT_SHARE: f64 = 1.0 / 3.0;

/// The finest analysis, the meshes on the way, and what the peak may still be off.
pub(super) struct Refined {
    pub analysis: Analysis,
    pub meshes: Vec<MeshStep>,
    /// From mesh and series together (MPa).
    pub bound_mpa: f64,
    /// The series' own part (MPa).
    pub series_mpa: f64,
}

/// What is kept of a place on the coarse mesh.
pub(super) struct Coarse {
    pub tension: Peak,
    /// Least factor on ultimate strength, and its place.
    pub factor: f64,
    pub worst: Peak,
    pub step: MeshStep,
    /// Sizes of the elements around the hot places.
    hot: Vec<PointSize>,
    /// Sizes that the error in energy asks for.
    energetic: Vec<PointSize>,
}

impl Coarse {
    pub fn of(analysis: &Analysis) -> Self {
        let (tension, (worst, factor)) = (analysis.tension[0], analysis.worst[0]);
        let energetic = Energetic::of(analysis).sizes;
        let hot = sharpened(analysis, 1.0);
        Self { tension, factor, worst, step: step(analysis, None), hot, energetic }
    }
}

/// One mesh of the history.
pub(super) fn step(analysis: &Analysis, before: Option<&MeshStep>) -> MeshStep {
    let resolution = analysis.solution.resolution(0, &analysis.tension[0], &analysis.loaded_tags());
    let peak_mpa = analysis.peak_mpa();
    let step_error_mpa = before.map(|before| {
        let square = (resolution.side_mm / before.side_mm).powi(2).min(0.5);
        (peak_mpa - before.peak_mpa).abs() * square / (1.0 - square)
    });
    let disagreement_error_mpa = DISAGREEMENT_SHARE * resolution.disagreement_mpa;
    MeshStep {
        quality: analysis.solution.mesh.quality,
        unknowns: analysis.solution.cost.unknowns,
        last_harmonic: analysis.solution.last_harmonic(),
        peak_mpa,
        side_mm: resolution.side_mm,
        step_error_mpa,
        disagreement_error_mpa,
        surface_error_mpa: resolution.across_mpa,
        error_mpa: disagreement_error_mpa.max(resolution.across_mpa.unwrap_or(0.0))
            + step_error_mpa.unwrap_or(0.0),
        energy_error: Energetic::of(analysis).share,
    }
}

/// The first mesh on which the number is judged: the coarse one, finer where its tension is high.
///
/// # Errors
/// As [`analyse`].
pub(super) fn judge_first(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    judged: &LoadCase,
    coarse: &Coarse,
) -> Result<Analysis, CheckFault> {
    let finer = |hot: &PointSize| PointSize { size_mm: FIRST_SHARE * hot.size_mm, ..*hot };
    let sizes = coarse.hot.iter().map(finer).chain(coarse.energetic.iter().copied());
    let grid = Grid::Drawn(sizing(sizes.collect()));
    analyse(survey, section, metal, std::slice::from_ref(judged), grid, Series::Judge)
}

/// Refines until the bound is within a per cent of the peak, and further while it straddles `limit_mpa`, the
/// stress that decides.
///
/// # Errors
/// As [`analyse`].
pub(super) fn refine(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    judged: &LoadCase,
    (coarse, first): (Coarse, Analysis),
    limit_mpa: f64,
) -> Result<Refined, CheckFault> {
    let after = step(&first, Some(&coarse.step));
    let mut meshes = vec![coarse.step, after];
    let mut analysis = first;
    loop {
        let last = &meshes[meshes.len() - 1];
        let series_mpa = analysis.solution.blocks.last().map_or(0.0, |block| block.change * block.peak_mpa);
        let bound_mpa = last.error_mpa + series_mpa;
        let wanted = (ALLOWED * last.peak_mpa).min((last.peak_mpa - limit_mpa).abs());
        // The mesh alone can be refined: where the series' part is the larger, that does not help.
        let left = wanted - series_mpa;
        if bound_mpa <= wanted || left <= 0.1 * wanted || meshes.len() == REFINEMENTS + 2 {
            return Ok(Refined { analysis, meshes, bound_mpa, series_mpa });
        }
        // The error falls with the square of the side; a tenth finer than just enough, and no more than it
        // takes to keep the mesh affordable.
        let share = (0.9 * (left / last.error_mpa).sqrt()).clamp(0.35, 0.75);
        let sizes = sharpened(&analysis, share).into_iter().chain(Energetic::of(&analysis).sizes);
        let grid = Grid::Drawn(sizing(sizes.collect()));
        let next = analyse(survey, section, metal, std::slice::from_ref(judged), grid, Series::Judge)?;
        meshes.push(step(&next, Some(last)));
        analysis = next;
    }
}
