//! The reverse: the wall that load and strength need, and the strength that load and wall need.
//!
//! All walls are moved by the same amount, as a calliper would read them; cut, loads and iron stay. Units: mm, MPa.

use super::super::check::{Asked, check};
use super::super::{CheckFault, CheckResult};
use super::result::{StrengthNeeded, WallNeeded};
use super::stress::{End, Trials};
use crate::material::MetalKind;
use crate::material::gray_iron::{CLASSES, class_tensile_mpa};
use crate::section::cut_depth_mm;
use crate::survey::{Survey, Underside, WallEntry};
use crate::units::Kind as Quantity;

/// Shares of the wall left by which it is thickened until strength holds, and thinned until it does not.
const THICKER: [f64; 4] = [0.1, 0.3, 0.7, 1.5];
const THINNER: [f64; 4] = [-0.1, -0.3, -0.6, -0.9];

/// Wall and strength needed in the state that the survey asks for; none of both where no section stands there.
///
/// # Errors
/// When an analysis fails for another reason than too little iron.
pub(super) fn needed(
    survey: &Survey,
    grain_mm: f64,
    progress: &dyn Fn(&str),
) -> Result<(Option<WallNeeded>, Option<StrengthNeeded>), CheckFault> {
    progress("the survey as it stands");
    let asked = &Asked { judged_only: true, ..Asked::default() };
    let outcome = match check(survey, asked, &|_| ()) {
        Ok(outcome) => outcome,
        Err(CheckFault::Section { .. }) => return Ok((None, None)),
        Err(fault) => return Err(fault),
    };
    let strength = strength(survey, &outcome.result);
    let left = outcome.result.checks.iter().find(|check| check.key == "wall").and_then(|check| check.found);
    let Some(left) = left.filter(|_| moved(survey, 0.0).is_some()) else {
        return Ok((None, Some(strength)));
    };
    Ok((Some(wall(survey, left.value, grain_mm, progress)?), Some(strength)))
}

/// The survey with every wall thicker by `shift_mm`; `None` where there is no wall.
pub fn moved(survey: &Survey, shift_mm: f64) -> Option<Survey> {
    let mut survey = survey.clone();
    match &mut survey.walls.underside {
        Underside::Solid => return None,
        Underside::Draft { wall_mm, .. } => *wall_mm += shift_mm,
        Underside::Stations { stations, .. } => {
            for entry in stations.iter_mut().flat_map(|station| &mut station.walls) {
                if let WallEntry::Wall(wall) = entry {
                    *wall += shift_mm;
                }
            }
        }
        Underside::Profiles { stations, .. } => {
            for point in stations.iter_mut().flat_map(|station| &mut station.wall_side) {
                point[1] -= shift_mm;
            }
        }
    }
    Some(survey)
}

/// The thinnest wall as it was read.
fn thinnest_reading(survey: &Survey) -> Option<f64> {
    match &survey.walls.underside {
        Underside::Draft { wall_mm, .. } => Some(*wall_mm),
        Underside::Stations { stations, .. } => stations
            .iter()
            .flat_map(|station| &station.walls)
            .filter_map(|entry| if let WallEntry::Wall(wall) = entry { Some(*wall) } else { None })
            .reduce(f64::min),
        Underside::Solid | Underside::Profiles { .. } => None,
    }
}

fn wall(
    survey: &Survey,
    left_mm: f64,
    grain_mm: f64,
    progress: &dyn Fn(&str),
) -> Result<WallNeeded, CheckFault> {
    let print = &survey.print;
    let mut trials = Trials {
        changed: &|shift| moved(survey, shift).unwrap_or_else(|| survey.clone()),
        what: &|shift| {
            let way = if shift < 0.0 { "thinner" } else { "thicker" };
            format!("with every wall {} {way}", print.show(Quantity::Length, shift.abs()))
        },
        progress,
        grain_mm,
        list: Vec::new(),
    };
    let stated = trials.at(0.0)?;
    let shares = if stated.holds { THINNER } else { THICKER };
    // From the stated wall to the first one on the other side of the limit.
    let (mut here, mut found) = (stated.clone(), None);
    let mut furthest_shift_mm = 0.0;
    for share in shares {
        let shift = (share * left_mm / grain_mm).round() * grain_mm;
        let next = trials.at(shift)?;
        furthest_shift_mm = shift;
        if next.holds != stated.holds {
            let (holds, fails) = if stated.holds { (here, next) } else { (next, here) };
            found = Some(trials.narrow(End::Holding, holds, fails)?.0);
            break;
        }
        here = next;
    }
    let shift_mm = found.as_ref().map(|tested| tested.value_mm);
    let reading_mm = thinnest_reading(survey);
    Ok(WallNeeded {
        depth_mm: cut_depth_mm(survey),
        shift_mm,
        reading_mm,
        reading_needed_mm: reading_mm.zip(shift_mm).map(|(reading, shift)| reading + shift),
        furthest_shift_mm,
        left_mm: Some(left_mm),
        needed_mm: found.as_ref().and_then(|tested| tested.wall_mm),
        at_limit: found,
        tested: trials.list,
    })
}

fn strength(survey: &Survey, result: &CheckResult) -> StrengthNeeded {
    let governing = &result.governing;
    let peak_mpa = governing.peak.principal_mpa[0];
    let (bound_mpa, safety_factor) = (governing.bound_mpa, result.safety_factor);
    let assumed_mpa = result.metal.tensile_mpa;
    // Compressive strength is taken to rise with the tensile one, so the criterion's factor does too.
    let by_criterion = assumed_mpa * safety_factor / governing.least_factor * (1.0 + bound_mpa / peak_mpa);
    let needed_mpa = ((peak_mpa + bound_mpa) * safety_factor).max(by_criterion);
    let is_iron = matches!(survey.material.kind, MetalKind::GrayIron | MetalKind::Unknown);
    let reaches = |class: &u32| class_tensile_mpa(*class).is_ok_and(|mpa| mpa >= needed_mpa);
    StrengthNeeded {
        depth_mm: cut_depth_mm(survey),
        peak_mpa,
        bound_mpa,
        safety_factor,
        assumed_mpa,
        needed_mpa,
        through_wall_mpa: governing
            .wall
            .as_ref()
            .map(|wall| (wall.section_mpa + wall.section_bound_mpa) * safety_factor),
        is_iron,
        class: CLASSES.iter().copied().find(reaches).filter(|_| is_iron),
    }
}
