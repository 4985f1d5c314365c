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

/// Placements whose use of the strength comes this near to the worst may be worse on a finer mesh: the coarse mesh
/// does not err alike in every groove.
const RIVAL: f64 = 0.03;
/// Most of them that are looked at again: each costs another field on the finer mesh.
const MOST_RIVALS: usize = 2;

/// The judged tensions, and others that a finer mesh may find worse.
pub(super) struct Placement {
    pub judged: LoadCase,
    /// Rope that is the hottest by assumption.
    pub hottest: Option<usize>,
    /// Ropes that may take its place, the likeliest first.
    pub rivals: Vec<usize>,
}

impl Placement {
    fn measured(rated: &LoadCase) -> Self {
        Self { judged: rated.clone(), hottest: None, rivals: Vec::new() }
    }

    /// The hottest rope put here, whatever a coarse mesh says.
    pub fn at(survey: &Survey, rated: &LoadCase, rope: usize) -> Self {
        let judged = rated.with_hottest(rope, survey.load.tension_spread);
        Self { judged, hottest: Some(rope), rivals: Vec::new() }
    }

    /// The tensions with every rival as the hottest rope.
    pub fn rival_cases(&self, survey: &Survey, rated: &LoadCase) -> Vec<LoadCase> {
        self.rivals.iter().map(|rope| rated.with_hottest(*rope, survey.load.tension_spread)).collect()
    }
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
) -> Result<Placement, CheckFault> {
    if !is_spread(survey, rated) {
        return Ok(Placement::measured(rated));
    }
    let spread = survey.load.tension_spread;
    let thinnest = |section: &Section| {
        section.walls.iter().filter_map(|wall| wall.least_mm).fold(f64::INFINITY, f64::min)
    };
    let section = built
        .iter()
        .filter_map(|section| section.as_ref().ok())
        .min_by(|a, b| thinnest(a).total_cmp(&thinnest(b)));
    let Some(section) = section else { return Ok(Placement::measured(rated)) };
    progress("which groove takes the hottest rope worst");
    let cases: Vec<LoadCase> = (0..rated.ropes()).map(|rope| rated.with_hottest(rope, spread)).collect();
    let analysis = analyse(survey, section, metal, &cases, sketch.grid(section), Series::Choose)?;
    let use_of = |rope: usize| 1.0 / analysis.worst[rope].1;
    let mut ropes: Vec<usize> = (0..cases.len()).collect();
    ropes.sort_by(|a, b| use_of(*b).total_cmp(&use_of(*a)).then(a.cmp(b)));
    let worst = ropes.remove(0);
    ropes.retain(|rope| use_of(*rope) >= (1.0 - RIVAL) * use_of(worst));
    ropes.truncate(MOST_RIVALS);
    Ok(Placement { rivals: ropes, ..Placement::at(survey, rated, worst) })
}
