//! Finer meshes at the governing place until the peak stands still.

use super::CheckFault;
use super::analysis::{Analysis, Grid, Series, analyse, hot_places, sizing};
use super::result::MeshStep;
use crate::hoist::LoadCase;
use crate::material::Metal;
use crate::section::Section;
use crate::survey::Survey;

/// The peak may still move by this share between the last two meshes.
const MESH_TOLERANCE: f64 = 0.01;
/// Most refinements beyond the second mesh.
const REFINEMENTS: usize = 2;

/// The finest analysis, the meshes on the way, and what the peak may still be off.
pub(super) struct Refined {
    pub analysis: Analysis,
    pub meshes: Vec<MeshStep>,
    pub bound_mpa: f64,
}

/// Finer meshes at the hot places until the peak stands still; the last step bounds what is left.
///
/// The stress error of quadratic triangles falls with the square of their size, so the step between two
/// meshes of halved size is about three times what is left; the whole step is taken as the bound.
pub(super) fn refine(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    judged: &LoadCase,
    first: Analysis,
    second: Analysis,
) -> Result<Refined, CheckFault> {
    let step = |analysis: &Analysis| MeshStep {
        quality: analysis.solution.mesh.quality,
        unknowns: analysis.solution.cost.unknowns,
        last_harmonic: analysis.solution.last_harmonic(),
        peak_mpa: analysis.peak_mpa(),
    };
    let mut meshes = vec![step(&first), step(&second)];
    let mut bound_mpa = (second.peak_mpa() - first.peak_mpa()).abs();
    let mut analysis = second;
    for _ in 0..REFINEMENTS {
        let places = hot_places(&analysis, 0.5);
        let grid = Grid::Drawn(sizing(places));
        let next = analyse(survey, section, metal, std::slice::from_ref(judged), grid, Series::Judge)?;
        let change = (next.peak_mpa() - analysis.peak_mpa()).abs();
        // A step that happens to be small must not hide a larger one before it.
        bound_mpa = change.max(bound_mpa / 4.0);
        meshes.push(step(&next));
        analysis = next;
        if bound_mpa < MESH_TOLERANCE * analysis.peak_mpa() {
            break;
        }
    }
    let tail = analysis.solution.blocks.last().map_or(0.0, |block| block.change * block.peak_mpa);
    Ok(Refined { analysis, meshes, bound_mpa: bound_mpa + tail })
}
