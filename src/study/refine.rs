//! Finer meshes at the governing place until the peak is known well enough, and how well that is.
//!
//! Three estimates of the mesh's error are added. One is taken from the step between two meshes: the stress error of
//! quadratic triangles falls with the square of their side h, so that of the finer mesh is the step times
//! q²/(1 − q²), q being the ratio of the sides at the peak. A step may be small by chance; the second is what the
//! elements at the peak leave undone. Their mean is better than each of them, and a third of the largest distance
//! from it is taken; or the stress across a surface without load, which should be nothing, where that is more. What
//! errs far from the peak reaches it through the energy, as the square of the error in energy: two thirds of that
//! square are the third. The mesh is refined there until no triangle has more than its share of an allowed error.
//! The shares are calibrated: the case `error-bar` of the verification manual holds the sum against meshes far finer.

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
/// Element side asked for at the hot places of the first judged mesh, as a share of the coarse mesh's: fine enough
/// that it is the last one as a rule, for the triangles at the peak are few.
const FIRST_SHARE: f64 = 0.035;
/// Most meshes beyond the first judged one.
const REFINEMENTS: usize = 3;
/// What of the elements' disagreement is taken for the error of their mean.
pub(super) const DISAGREEMENT_SHARE: f64 = 1.0 / 3.0;
/// What of the error in energy's square, times the peak, is taken for what errors far away move the peak by.
const ENERGY_SHARE: f64 = 2.0 / 3.0;

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
        let energetic = Energetic::of(analysis);
        let (step, hot) = (step(analysis, None, &energetic), sharpened(analysis, 1.0));
        Self { tension, factor, worst, step, hot, energetic: energetic.sizes }
    }
}

/// One mesh of the history.
pub(super) fn step(analysis: &Analysis, before: Option<&MeshStep>, energetic: &Energetic) -> MeshStep {
    let resolution = analysis.solution.resolution(0, &analysis.tension[0], &analysis.loaded_tags());
    let peak_mpa = analysis.peak_mpa();
    let step_error_mpa = before.map(|before| {
        let square = (resolution.side_mm / before.side_mm).powi(2).min(0.5);
        (peak_mpa - before.peak_mpa).abs() * square / (1.0 - square)
    });
    let energy_error_mpa = ENERGY_SHARE * energetic.share.powi(2) * peak_mpa;
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
        energy_error: energetic.share,
        energy_error_mpa,
        error_mpa: disagreement_error_mpa.max(resolution.across_mpa.unwrap_or(0.0))
            + energy_error_mpa
            + step_error_mpa.unwrap_or(0.0),
    }
}

/// The first mesh on which the number is judged: the coarse one, finer where its tension is high. `rivals` are solved
/// beside the judged case, which stays the first.
///
/// # Errors
/// As [`analyse`].
pub(super) fn judge_first(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    judged: &LoadCase,
    rivals: &[LoadCase],
    coarse: &Coarse,
) -> Result<Analysis, CheckFault> {
    let finer = |hot: &PointSize| PointSize { size_mm: FIRST_SHARE * hot.size_mm, ..*hot };
    let sizes = coarse.hot.iter().map(finer).chain(coarse.energetic.iter().copied());
    let grid = Grid::Drawn(sizing(sizes.collect()));
    let cases: Vec<LoadCase> = std::iter::once(judged).chain(rivals).cloned().collect();
    analyse(survey, section, metal, &cases, grid, Series::Judge)
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
    let mut energetic = Energetic::of(&first);
    let after = step(&first, Some(&coarse.step), &energetic);
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
        // The error falls with the square of the side. Triangles come out by a third larger than asked, and a tenth
        // finer than just enough saves another mesh; no finer than it takes to keep the mesh affordable.
        let share = (0.7 * (left / last.error_mpa).sqrt()).clamp(0.25, 0.55);
        let sizes = sharpened(&analysis, share).into_iter().chain(energetic.sizes);
        let grid = Grid::Drawn(sizing(sizes.collect()));
        // Two fields of this size at once would be the most memory of a check.
        drop(analysis);
        analysis = analyse(survey, section, metal, std::slice::from_ref(judged), grid, Series::Judge)?;
        energetic = Energetic::of(&analysis);
        meshes.push(step(&analysis, Some(last), &energetic));
    }
}
