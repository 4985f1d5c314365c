//! The deepest cut at which every check holds, the shallowest that cleans, and the wall and strength needed.
//!
//! Checks without a stress are found by a scan and halving on their own; strength by whole checks, for the
//! governing place may change with the depth. The judge of the answer is the check itself at that depth.
//! Units: mm, MPa.

mod needed;
mod quick;
mod result;
mod run;
mod stress;

pub use needed::moved as walls_moved;
pub use result::{Deepest, DepthLimit, Reach, Reserve, StrengthNeeded, Unsettled, WallNeeded};
pub use stress::Tested;

use super::CheckFault;
use crate::section::cut_depth_mm;
use crate::survey::Survey;
use crate::units::{Kind as Quantity, PrintUnits};
use crate::verdict::{Check, Standing};
use quick::{Quick, cut_to, is_fine};
use run::{Run, first_run};
use stress::{End, Trials};

/// A cleaning between two cuts: common practice, no source.
pub const CLEANING_MM: f64 = 25.4 / 16.0;
/// Limits without a stress are found this well (mm).
const TOLERANCE_MM: f64 = 1e-4;
/// Depths that a scan looks at.
const SCAN: usize = 40;

/// Results are whole multiples of this: what the survey's unit prints, and finer than a shop works.
pub(super) fn grain_mm(print: &PrintUnits) -> f64 {
    if print.name(Quantity::Length) == "in" { 0.001 * 25.4 } else { 0.05 }
}

/// Searches; `progress` is told in plain words what is being done.
///
/// # Errors
/// As a check of the survey: measurements that make no section at any depth, a strength that is missing, an
/// analysis that fails.
pub fn deepest(survey: &Survey, progress: &dyn Fn(&str)) -> Result<Deepest, CheckFault> {
    CheckFault::unless_single(survey)?;
    let grain = grain_mm(&survey.print);
    let up = |mm: f64| (mm / grain - 1e-4).ceil() * grain;
    let down = |mm: f64| (mm / grain + 1e-4).floor() * grain;
    let worst = survey.grooves.seat_depth_mm.iter().fold(0.0f64, |a, b| a.max(*b));
    progress("depths by wall, diameters and room for the grooves");
    let quick = Quick::new(survey)?;
    let room = room(survey, &quick, worst)?;
    let mut limits = quick_limits(survey, &quick, &room, worst)?;
    let shallowest =
        limits.iter().find(|limit| limit.key == "clean_up").and_then(|limit| match limit.reach {
            Reach::Everywhere { .. } => Some(up(room.from)),
            Reach::Between { from_mm, .. } => Some(up(from_mm.unwrap_or(room.from))),
            Reach::Nowhere => None,
        });
    let decided = |limits: &[DepthLimit], get: fn(Reach) -> Option<f64>| -> Vec<f64> {
        limits.iter().filter(|limit| limit.decides).filter_map(|limit| get(limit.reach)).collect()
    };
    let others = decided(&limits, Reach::end_mm).into_iter().fold(room.to, f64::min);

    let stated = cut_depth_mm(survey);
    let print = &survey.print;
    let mut trials = Trials {
        changed: &|depth| cut_to(survey, depth),
        what: &|depth| format!("at a cut to {}", print.show(Quantity::Length, depth)),
        progress,
        grain_mm: grain,
        list: Vec::new(),
    };
    let start = up(shallowest.unwrap_or(room.from).max(room.from));
    let mut scan: Vec<f64> =
        [Some(start), stated.map(down), Some(down(others))].into_iter().flatten().collect();
    // Beyond what the others allow strength still has its own limit.
    scan.extend([0.3, 0.6, 0.9].map(|share| down(others + share * (room.to - others))));
    scan.retain(|depth| *depth >= start - 1e-9 && *depth <= room.to);
    scan.sort_by(f64::total_cmp);
    scan.dedup_by(|a, b| (*a - *b).abs() < 0.5 * grain);
    let strength = strength_limits(&mut trials, &scan)?;
    for (index, limit) in strength.into_iter().enumerate() {
        limits.insert(index, limit);
    }

    let nowhere = |limit: &&DepthLimit| limit.decides && limit.reach == Reach::Nowhere;
    let begin = decided(&limits, Reach::begin_mm).into_iter().fold(room.from, f64::max);
    let end = decided(&limits, Reach::end_mm).into_iter().fold(room.to, f64::min);
    let strength_nowhere = limits.iter().any(|limit| nowhere(&limit) && limit.key == STRENGTH);
    let open = (down(end) >= up(begin) - 1e-9 && !strength_nowhere).then(|| down(end));
    let near = |mm: Option<f64>, at: f64| mm.is_some_and(|mm| (mm - at).abs() < 1.5 * grain);
    let limiting = limits
        .iter()
        .filter(|limit| limit.decides)
        .filter(|limit| {
            if strength_nowhere {
                return limit.key == STRENGTH;
            }
            let blocks = open.is_none() && near(limit.reach.begin_mm(), begin);
            blocks || near(limit.reach.end_mm(), end)
        })
        .map(|limit| limit.key)
        .collect();
    let confirmed = open.map(|depth| trials.at(depth)).transpose()?;
    let unsettled = unsettled(&quick, &limits, open.or(stated).unwrap_or(start));
    let reserve = open.map(|deepest| reserve(deepest, stated, shallowest));
    let tested = std::mem::take(&mut trials.list);
    let (wall, strength) = needed::needed(survey, grain, progress)?;
    Ok(Deepest {
        grain_mm: grain,
        worst_seat_mm: worst,
        stated_mm: stated,
        shallowest_mm: shallowest,
        deepest_mm: open,
        limiting,
        limits,
        at_no_depth: unsettled,
        confirmed,
        reserve,
        wall,
        strength,
        tested,
    })
}

/// The limits of all checks that need no stress, and of the room for the grooves.
///
/// # Errors
/// As [`deepest`].
pub fn depth_limits(survey: &Survey) -> Result<Vec<DepthLimit>, CheckFault> {
    let worst = survey.grooves.seat_depth_mm.iter().fold(0.0f64, |a, b| a.max(*b));
    let quick = Quick::new(survey)?;
    let room = room(survey, &quick, worst)?;
    quick_limits(survey, &quick, &room, worst)
}

/// Key of the limit at which every check of strength still holds.
pub const STRENGTH: &str = "strength";
/// Key of the limit beyond which strength rejects.
pub const STRENGTH_REJECTS: &str = "strength_rejects";
/// Key of the limit at which the grooves no longer fit the rim.
pub const ROOM: &str = "room";

/// Depths at which grooves and rim can be drawn.
fn room(survey: &Survey, quick: &Quick, worst: f64) -> Result<Run, CheckFault> {
    // Nobody cuts a seat below half the wheel's radius.
    let furthest = worst + 0.5 * survey.rim.edge_radius_mm;
    let grid: Vec<f64> =
        (0..=SCAN).map(|i| worst + (furthest - worst) * (i as f64 / SCAN as f64).powi(2)).collect();
    let run = first_run::<()>(&grid, TOLERANCE_MM, |depth| Ok(quick.at(depth).is_ok()));
    match run {
        Ok(Some(run)) => Ok(run),
        _ => match quick.at(worst).as_ref() {
            Err(fault) => Err(fault.clone()),
            Ok(_) => Err(CheckFault::NoTensions),
        },
    }
}

/// Limits of every check without a stress, and of the room for the grooves.
fn quick_limits(
    survey: &Survey,
    quick: &Quick,
    room: &Run,
    worst: f64,
) -> Result<Vec<DepthLimit>, CheckFault> {
    let mut grid: Vec<f64> =
        (0..=SCAN).map(|i| room.from + (room.to - room.from) * i as f64 / SCAN as f64).collect();
    grid.dedup();
    let checks_at = |depth: f64| (*quick.at(depth)).clone();
    // A check may be there at some depths only.
    let mut all: Vec<Check> = Vec::new();
    for depth in &grid {
        for check in checks_at(*depth)? {
            match all.iter_mut().find(|known| known.key == check.key && known.name == check.name) {
                Some(known) => known.found = known.found.or(check.found),
                None => all.push(check),
            }
        }
    }
    let find = |depth: f64, key: &str, name: &str| -> Result<Option<Check>, CheckFault> {
        Ok(checks_at(depth)?.into_iter().find(|check| check.key == key && check.name == name))
    };
    let mut limits = Vec::new();
    let grain = grain_mm(&survey.print);
    for Check { key, name, standing, found, .. } in all {
        // A number that is gone went with the iron it belongs to; a mere remark that is gone has no cause.
        let absent_is_fine = found.is_none();
        let run = first_run(&grid, TOLERANCE_MM, |depth| {
            Ok::<_, CheckFault>(find(depth, key, &name)?.map_or(absent_is_fine, |check| is_fine(&check)))
        })?;
        let reach = run.map_or(Reach::Nowhere, |run| reach_of(&run));
        let beyond_mm = reach.end_mm().map(|end| (end + grain).min(room.to));
        let beyond = match beyond_mm {
            Some(depth) => find(depth, key, &name)?.and_then(|c| c.remark),
            None => None,
        };
        let decides = standing != Standing::Yardstick;
        limits.push(DepthLimit { key, name, standing, decides, reach, beyond, beyond_mm });
    }
    let reach = match (room.from > worst + TOLERANCE_MM, room.ends) {
        (false, false) => Reach::Everywhere { looked_to_mm: room.to },
        _ => reach_of(room),
    };
    let beyond_mm = room.to + 2.0 * TOLERANCE_MM;
    let beyond = match quick.at(beyond_mm).as_ref() {
        Err(CheckFault::Section { faults, .. }) if room.ends => faults.first().map(|placed| {
            let text = placed.fault.text(&|mm| survey.print.show(Quantity::Length, mm));
            format!("No section can be drawn there: {text} ({}).", placed.place)
        }),
        _ => None,
    };
    let name = "room for the grooves in the rim".to_owned();
    let (standing, beyond_mm) = (Standing::Geometry, Some(beyond_mm));
    limits.push(DepthLimit { key: ROOM, name, standing, decides: true, reach, beyond, beyond_mm });
    Ok(limits)
}

fn reach_of(run: &Run) -> Reach {
    if !run.begins && !run.ends {
        return Reach::Everywhere { looked_to_mm: run.to };
    }
    Reach::Between {
        from_mm: run.begins.then_some(run.from),
        to_mm: run.ends.then_some(run.to),
        looked_to_mm: run.to,
    }
}

/// How deep strength holds, and how deep it does not yet reject.
fn strength_limits(trials: &mut Trials, scan: &[f64]) -> Result<Vec<DepthLimit>, CheckFault> {
    let named = [
        (End::Holding, STRENGTH, "all checks of strength"),
        (End::Undecided, STRENGTH_REJECTS, "strength, left to the engineer at most"),
    ];
    let mut limits: Vec<DepthLimit> = Vec::new();
    if scan.is_empty() {
        return Ok(limits);
    }
    for (end, key, name) in named {
        let mut before = None;
        let mut beyond = None;
        let mut from_mm = None;
        for (index, depth) in scan.iter().enumerate() {
            let tested = trials.at(*depth)?;
            match (end.is_before(&tested), &before) {
                (true, None) => {
                    from_mm = (index > 0).then_some(tested.value_mm);
                    before = Some(tested);
                }
                (true, Some(_)) => before = Some(tested),
                (false, None) => {}
                (false, Some(_)) => {
                    beyond = Some(tested);
                    break;
                }
            }
        }
        let looked_to_mm = scan.last().copied().unwrap_or(f64::NAN);
        let mut said = None;
        let reach = match (before, beyond) {
            (None, _) => {
                said = scan.first().map(|depth| trials.at(*depth)).transpose()?;
                Reach::Nowhere
            }
            (Some(_), None) if from_mm.is_none() => Reach::Everywhere { looked_to_mm },
            (Some(_), None) => Reach::Between { from_mm, to_mm: None, looked_to_mm },
            (Some(before), Some(beyond)) => {
                let found = trials.narrow(end, before, beyond)?;
                let (last, next) = trials.further(end, found)?;
                said = Some(next);
                Reach::Between { from_mm, to_mm: Some(last.value_mm), looked_to_mm }
            }
        };
        let decides = end == End::Holding;
        let standing = Standing::Strength;
        let beyond_mm = said.as_ref().map(|tested| tested.value_mm);
        let (name, beyond) = (name.to_owned(), said.and_then(|tested| tested.reason));
        limits.push(DepthLimit { key, name, standing, decides, reach, beyond, beyond_mm });
    }
    Ok(limits)
}

/// The checks that hold at no depth, as they stand at one.
fn unsettled(quick: &Quick, limits: &[DepthLimit], depth: f64) -> Vec<Unsettled> {
    let found = quick.at(depth);
    let Ok(checks) = found.as_ref() else { return Vec::new() };
    let none = |check: &&Check| {
        limits.iter().any(|limit| {
            limit.decides
                && limit.reach == Reach::Nowhere
                && limit.key == check.key
                && limit.name == check.name
        })
    };
    checks
        .iter()
        .filter(none)
        .map(|check| Unsettled {
            key: check.key,
            name: check.name.clone(),
            standing: check.standing,
            status: check.status,
            remark: check.remark.clone(),
        })
        .collect()
}

fn reserve(deepest: f64, stated: Option<f64>, shallowest: Option<f64>) -> Reserve {
    let beyond_stated_mm = stated.map(|depth| deepest - depth);
    let beyond_shallowest_mm = shallowest.map(|depth| deepest - depth);
    let left = beyond_stated_mm.or(beyond_shallowest_mm).unwrap_or(0.0).max(0.0);
    // A reserve of exactly one cleaning is one, whatever the last bits say.
    let further_cleanings = (left / CLEANING_MM + 1e-6).floor() as u32;
    Reserve { beyond_stated_mm, beyond_shallowest_mm, cleaning_mm: CLEANING_MM, further_cleanings }
}
