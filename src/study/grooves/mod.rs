//! Groove shapes side by side on one worn wheel, and a search for the best of them.
//!
//! Every shape is cut so that the finished pitch diameter is the same: the depth is that of the rope's lowest point,
//! which lies half a rope below the pitch circle whatever it rests on, and the tool goes as deep as each shape needs
//! for that. Every cut is judged by the full check. Knows no file and no screen. Units: mm, MPa, rad, m/s.

mod depth_search;
mod depths;
mod finder;
mod front;
mod judged;
mod shapes;

pub use depth_search::{Ranked, TriedDepth};
pub use depths::Range;
pub use finder::{Level, Search};
pub use front::{Reserves, front, reserve_of, traction_reserve};
pub use judged::{Concern, Doubt, Found, JudgedCut, RopeLife, rope_life, with_cut};
pub use shapes::{Family, Proposal, Proposals, SLOT_DEG, V_DEG, proposals};

use super::result::TractionFact;
use super::{CheckFault, rules};
use crate::hoist::load_cases;
use crate::section::{State, cut_depth_mm};
use crate::survey::{GrooveShape, Role, Survey};
use depths::Worn;
use finder::Finder;
use judged::{Judged, Start, judge_alike};
use rayon::prelude::*;
use serde::Serialize;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Clean-up below the worst groove where the survey asks for no cut: 1/16 in (common practice).
const CLEAN_UP_MM: f64 = 25.4 / 16.0;

/// Where the depth of the comparison comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum DepthBasis {
    /// Asked for on the command line.
    Asked,
    /// The survey's own cut.
    Survey,
    /// The worst groove and a clean-up of 1/16 in.
    CleanUp,
    /// No deeper than the ratio of diameters allows, which is less than a clean-up.
    Diameter,
}

/// The answer.
#[derive(Debug, Clone, Serialize)]
pub struct GrooveStudy {
    /// Depth of the rope's lowest point below the rim edge, for every shape of the comparison.
    pub depth_mm: f64,
    pub depth_basis: DepthBasis,
    pub worst_depth_mm: f64,
    /// Mean pitch diameter as found.
    pub pitch_diameter_now_mm: f64,
    pub allowable_mpa: f64,
    pub safety_factor: f64,
    /// Traction as found; empty where it is not judged.
    pub traction_now: Vec<TractionFact>,
    pub traction_reserve_now: Option<f64>,
    pub compared: Vec<JudgedCut>,
    pub search: Search,
    /// What stands in for sizes that the survey does not state.
    pub assumptions: Vec<String>,
    /// What is not judged.
    pub missing: Vec<String>,
}

/// Sets the shapes side by side and searches for the best. `depth_mm` replaces the survey's own cut in the
/// comparison. `progress` is told in plain words what is being done.
///
/// # Errors
/// When the measurements make no section, a strength is missing, or an analysis fails.
pub fn compare_grooves(
    survey: &Survey,
    depth_mm: Option<f64>,
    progress: &(dyn Fn(&str) + Sync),
) -> Result<GrooveStudy, CheckFault> {
    CheckFault::unless_single(survey)?;
    let metal = survey.material.metal()?;
    let cases = load_cases(survey);
    let Some(rated) = cases.first() else { return Err(CheckFault::NoTensions) };
    let worn = Worn::new(survey)?;
    let (depth_mm, depth_basis) = depth(survey, &worn, depth_mm);
    let Proposals { list, assumed: assumptions } = proposals(survey);
    let groups = groups(&list);
    progress(&format!("{} shapes at one pitch diameter", groups.len()));
    let judged = side_by_side(survey, &list, &groups, depth_mm, progress)?;
    let mut compared: Vec<Option<JudgedCut>> = vec![None; list.len()];
    let mut starts: Vec<Option<Start>> = vec![None; list.len()];
    for (group, judged) in groups.iter().zip(judged) {
        for (index, cut) in group.iter().zip(judged.cuts) {
            compared[*index] = Some(cut);
            starts[*index].clone_from(&judged.start);
        }
    }
    let compared: Vec<JudgedCut> = compared.into_iter().flatten().collect();
    let safety_factor = survey.judgement.safety_factor.unwrap_or(metal.safety_factor);
    let search = Finder {
        worn: &worn,
        metal: &metal,
        safety_factor,
        proposals: &list,
        compared: &compared,
        starts: &starts,
        progress,
    }
    .search()?;
    let now = worn.any().map(|section| rules::facts(survey, State::Now, section, rated));
    let traction_now = now.as_ref().map(|facts| facts.traction.clone()).unwrap_or_default();
    let missing = missing(survey, &traction_now);
    let pitch = now.iter().flat_map(|facts| &facts.grooves).map(|groove| groove.pitch_diameter_now_mm);
    Ok(GrooveStudy {
        depth_mm,
        depth_basis,
        worst_depth_mm: worn.worst_mm(),
        pitch_diameter_now_mm: pitch.sum::<f64>() / survey.grooves.count() as f64,
        allowable_mpa: metal.tensile_mpa / safety_factor,
        safety_factor,
        traction_reserve_now: traction_reserve(&traction_now),
        traction_now,
        compared,
        search,
        assumptions,
        missing,
    })
}

/// Judges every group of shapes. The first one is analysed at all places around the rim, the others where that one
/// shows that it matters.
fn side_by_side(
    survey: &Survey,
    list: &[Proposal],
    groups: &[Vec<usize>],
    depth_mm: f64,
    progress: &(dyn Fn(&str) + Sync),
) -> Result<Vec<Judged>, CheckFault> {
    let done = AtomicUsize::new(0);
    let one = |group: &Vec<usize>, places: Option<&[usize]>| {
        let members: Vec<&Proposal> = group.iter().map(|index| &list[*index]).collect();
        let judged = judge_alike(survey, &members, depth_mm, places);
        let count = done.fetch_add(1, Ordering::Relaxed) + 1;
        progress(&format!("{count} of {} shapes at one pitch diameter", groups.len()));
        judged
    };
    let Some((first, others)) = groups.split_first() else { return Ok(Vec::new()) };
    let first = one(first, None)?;
    let near = first.near.clone();
    let others = others.par_iter().map(|group| one(group, near.as_deref()));
    let others = others.collect::<Result<Vec<Judged>, CheckFault>>()?;
    Ok(std::iter::once(first).chain(others).collect())
}

/// The depths that one shape can be cut to, or in words why there are none.
///
/// # Errors
/// When the measurements make no section as found.
pub fn depth_range(survey: &Survey, form: &GrooveShape) -> Result<Result<Range, String>, CheckFault> {
    Ok(Worn::new(survey)?.range(form))
}

/// The depth of the comparison.
fn depth(survey: &Survey, worn: &Worn, asked: Option<f64>) -> (f64, DepthBasis) {
    let worst = worn.worst_mm();
    let clean = worst + CLEAN_UP_MM;
    let most = worn.deepest_by_diameter_mm();
    match (asked, cut_depth_mm(survey)) {
        (Some(depth), _) => (depth, DepthBasis::Asked),
        (None, Some(depth)) => (depth, DepthBasis::Survey),
        (None, None) if most < clean => (most.max(worst), DepthBasis::Diameter),
        (None, None) => (clean, DepthBasis::CleanUp),
    }
}

/// Indices of proposals by what is cut alike.
fn groups(list: &[Proposal]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (index, proposal) in list.iter().enumerate() {
        match groups.iter_mut().find(|group| list[group[0]].cut_alike(proposal)) {
            Some(group) => group.push(index),
            None => groups.push(vec![index]),
        }
    }
    groups
}

/// What is left out, and why.
fn missing(survey: &Survey, traction: &[TractionFact]) -> Vec<String> {
    let mut missing = Vec::new();
    if survey.roping.role != Role::Drive {
        missing.push(
            "A sheave that drives nothing needs no traction: the shapes are ranked by stress alone.".into(),
        );
    } else if traction.is_empty() {
        missing.push("Traction is not judged: it needs the masses of car, load and counterweight. The shapes are ranked by stress alone.".into());
    } else {
        if traction.iter().all(|fact| fact.at_most) {
            missing.push("The stalled case is not judged: it needs the ropes' mass per metre and the travel. A shape that grips much may fail it.".into());
        }
        if survey.roping.retardation_m_s2.is_none() || survey.roping.car_speed_m_s.is_none() {
            missing.push(
                "Traction while braking is not judged: it needs the retardation and the car speed.".into(),
            );
        }
    }
    let facts = &survey.roping.rope_facts;
    if facts.simple_bends.is_none() || facts.reversed_bends.is_none() {
        missing.push("The rope-life factor counts the drive sheave alone: the survey does not state the pulleys, and each of them raises it.".into());
    }
    if facts.breaking_force_n.is_none() {
        missing.push("What factor the ropes have is unknown without their breaking force: the rope-life factor decides nothing.".into());
    }
    missing
}
