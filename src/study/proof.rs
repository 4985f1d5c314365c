//! The error bar put to the test: a section's peak with its bound, and the same peak on a mesh far finer.

use super::CheckFault;
use super::analysis::{Grid, Series, analyse, sharpened, sizing};
use super::build::{build_all, first_fault};
use super::places::places;
use super::refine::{Coarse, judge_first, refine};
use crate::hoist::load_cases;
use crate::mesh::{PointSize, Sizing};
use crate::section::State;
use crate::survey::{Cut, Survey};

/// A peak with its bound beside its reference, all in MPa.
#[derive(Debug, Clone, Copy)]
pub struct BarProof {
    pub peak_mpa: f64,
    pub bound_mpa: f64,
    pub unknowns: usize,
    pub reference_mpa: f64,
    /// What the reference moved in its own last refinement.
    pub reference_step_mpa: f64,
    pub reference_unknowns: usize,
}

/// Judges the first place of a survey as a check does, and computes it again with elements a third as large at the
/// peak and half as large elsewhere, and with at least 96 harmonics.
///
/// # Errors
/// As [`check`](super::check()).
pub fn prove_bar(survey: &Survey) -> Result<BarProof, CheckFault> {
    let state = if survey.cut == Cut::None { State::Now } else { State::Cut };
    let metal = survey.material.metal()?;
    let cases = load_cases(survey);
    let Some(case) = cases.first() else { return Err(CheckFault::NoTensions) };
    let around = places(survey)?;
    let built = build_all(survey, state, &around)?;
    let Some(section) = built.iter().find_map(|section| section.as_ref().ok()) else {
        return Err(first_fault(&built, &around, state));
    };
    let one = std::slice::from_ref(case);
    let coarse =
        Coarse::of(&analyse(survey, section, &metal, one, Grid::Drawn(sizing(Vec::new())), Series::Compare)?);
    let first = judge_first(survey, section, &metal, case, &coarse)?;
    // No stress decides here: the bar is only asked to be within its own limit.
    let refined = refine(survey, section, &metal, case, (coarse, first), 0.0)?;
    let last = &refined.meshes[refined.meshes.len() - 1];
    let finer = |share: f64, base: Sizing| {
        let hot: Vec<PointSize> = sharpened(&refined.analysis, share);
        analyse(
            survey,
            section,
            &metal,
            one,
            Grid::Drawn(Sizing { at_points: hot, ..base }),
            Series::Reference,
        )
    };
    let dense = Sizing {
        fillet_step_rad: 0.25,
        arc_step_rad: 0.5,
        through_wall: 3.0,
        growth: 0.25,
        ..Sizing::default()
    };
    let near = finer(0.6, Sizing { growth: 0.35, ..dense.clone() })?;
    let reference = finer(0.33, dense)?;
    Ok(BarProof {
        peak_mpa: last.peak_mpa,
        bound_mpa: refined.bound_mpa,
        unknowns: last.unknowns,
        reference_mpa: reference.peak_mpa(),
        reference_step_mpa: (reference.peak_mpa() - near.peak_mpa()).abs(),
        reference_unknowns: reference.solution.cost.unknowns,
    })
}
