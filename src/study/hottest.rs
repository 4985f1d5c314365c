//! Which groove carries the hottest rope.

use super::CheckFault;
use super::analysis::{Series, analyse};
use super::sketch::Sketch;
use crate::hoist::LoadCase;
use crate::material::Metal;
use crate::section::{Section, SectionFault};
use crate::survey::{Given, Survey};

/// Groove number (from 1) that the rope with this index runs in.
pub(super) fn roped_groove(survey: &Survey, rope: usize) -> usize {
    let roped = survey.grooves.roped.iter().enumerate().filter(|(_, roped)| **roped);
    roped.map(|(index, _)| index + 1).nth(rope).unwrap_or(1)
}

/// Whether unequal tensions are assumed rather than measured.
fn is_spread(survey: &Survey, rated: &LoadCase) -> bool {
    let measured = matches!(survey.load.given, Given::PerRope { .. });
    !measured && survey.load.tension_spread != 0.0 && rated.ropes() > 1
}

/// The judged case as far as no stress is asked: the hottest rope counts, wherever it runs.
pub(super) fn unplaced(survey: &Survey, rated: &LoadCase) -> LoadCase {
    if is_spread(survey, rated) { rated.with_hottest(0, survey.load.tension_spread) } else { rated.clone() }
}

/// Puts the hottest rope where it raises the highest tension most, tried groove by groove at the place
/// with the thinnest wall. Measured tensions stay where they were measured.
pub(super) fn place_hottest_rope(
    survey: &Survey,
    metal: &Metal,
    rated: &LoadCase,
    built: &[Result<Section, Vec<SectionFault>>],
    sketch: &Sketch,
    progress: &dyn Fn(&str),
) -> Result<(LoadCase, Option<usize>), CheckFault> {
    if !is_spread(survey, rated) {
        return Ok((rated.clone(), None));
    }
    let spread = survey.load.tension_spread;
    let thinnest = |section: &Section| {
        section.walls.iter().filter_map(|wall| wall.least_mm).fold(f64::INFINITY, f64::min)
    };
    let section = built
        .iter()
        .filter_map(|section| section.as_ref().ok())
        .min_by(|a, b| thinnest(a).total_cmp(&thinnest(b)));
    let Some(section) = section else { return Ok((rated.clone(), None)) };
    progress("which groove takes the hottest rope worst");
    let cases: Vec<LoadCase> = (0..rated.ropes()).map(|rope| rated.with_hottest(rope, spread)).collect();
    let analysis = analyse(survey, section, metal, &cases, sketch.grid(section), Series::Choose)?;
    let use_of = |rope: usize| 1.0 / analysis.worst[rope].1;
    let worst = (0..cases.len()).max_by(|a, b| use_of(*a).total_cmp(&use_of(*b))).unwrap_or(0);
    Ok((cases[worst].clone(), Some(worst)))
}
