//! The wall that a sheave's load needs at the place that governs it, beside the wall that is left.
//!
//! All walls are moved alike, as a calliper would read them, and the place is judged again by its own analyses:
//! a secant search on the stress. Other places are not looked at: at another wall another one may govern.

use super::super::check::{Asked, check};
use super::super::deepest::{grain_mm, walls_moved};
use super::super::{CheckFault, CheckResult, Outcome};
use crate::survey::Survey;
use serde::Serialize;

/// Analyses tried until the stress is as near under the allowable as [`NEAR`] asks.
const MOST_TRIES: usize = 6;
/// How near (relative).
const NEAR: f64 = 0.02;
/// Least and most of the wall left that is tried.
const RANGE: [f64; 2] = [0.3, 3.0];

/// Wall left, asked for by practice, and needed by strength (mm).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WallNeed {
    pub left_mm: Option<f64>,
    /// One rope diameter, common practice.
    pub practice_mm: f64,
    /// The least wall that was found to hold; `None` where none from 0.3 to 3 times the wall left does, or where
    /// there is no wall.
    pub needed_mm: Option<f64>,
    /// True where even the thinnest wall that can be tried holds: `needed_mm` is that one, not the least.
    pub at_most: bool,
}

impl WallNeed {
    /// # Errors
    /// When an analysis fails for another reason than too little iron.
    pub fn of(survey: &Survey, outcome: &Outcome) -> Result<Self, CheckFault> {
        let left_mm = left(&outcome.result);
        let practice_mm = survey.roping.rope_diameter_mm;
        let mut need = Self { left_mm, practice_mm, needed_mm: None, at_most: false };
        let (Some(left), true) = (left_mm, walls_moved(survey, 0.0).is_some()) else { return Ok(need) };
        let place = outcome.result.governing.place;
        let grain = grain_mm(&survey.print);
        // Use of the allowable over the wall is nearly straight in logarithms.
        let mut known = vec![(left, used(&outcome.result))];
        for _ in 0..MOST_TRIES {
            if let Some((wall, _)) = holding(&known).filter(|(_, used)| *used > 1.0 - NEAR) {
                need.needed_mm = Some(wall);
                return Ok(need);
            }
            let wall = ((next(&known) / grain).ceil() * grain).clamp(RANGE[0] * left, RANGE[1] * left);
            if known.iter().any(|(tried, _)| (tried - wall).abs() < 0.5 * grain) {
                break;
            }
            match at(survey, place, wall - left)? {
                Some(result) => known.push((left_of(&result, wall), used(&result))),
                // Too little iron to draw: beyond the least wall.
                None => known.push((wall, f64::INFINITY)),
            }
        }
        let found = holding(&known);
        need.needed_mm = found.map(|(wall, _)| wall);
        need.at_most = found
            .is_some_and(|(wall, used)| used <= 1.0 - NEAR && !known.iter().any(|k| k.0 < wall && k.1 > 1.0));
        Ok(need)
    }
}

fn left(result: &CheckResult) -> Option<f64> {
    result
        .checks
        .iter()
        .find(|check| check.key == "wall")
        .and_then(|check| check.found)
        .map(|found| found.value)
}

fn left_of(result: &CheckResult, wall: f64) -> f64 {
    left(result).unwrap_or(wall)
}

/// Share of the strength that is used, with the error bar: above 1 fails.
fn used(result: &CheckResult) -> f64 {
    let governing = &result.governing;
    let bar = 1.0 + governing.bound_mpa / governing.peak.principal_mpa[0];
    let criterion = result.safety_factor / governing.least_factor;
    criterion.max(governing.peak.principal_mpa[0] / result.allowable_mpa) * bar
}

/// The least wall that holds.
fn holding(known: &[(f64, f64)]) -> Option<(f64, f64)> {
    known.iter().copied().filter(|(_, used)| *used <= 1.0).min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The next wall to try, aimed at a use just below 1.
fn next(known: &[(f64, f64)]) -> f64 {
    const AIM: f64 = 1.0 - 0.4 * NEAR;
    let fails = known.iter().copied().filter(|(_, used)| *used > 1.0).max_by(|a, b| a.0.total_cmp(&b.0));
    match (holding(known), fails) {
        (Some((high, low_use)), Some((low, high_use))) if high_use.is_finite() && high > low => {
            let share = (high_use / AIM).ln() / (high_use / low_use).ln();
            (low.ln() + share.clamp(0.05, 0.95) * (high / low).ln()).exp()
        }
        (Some((high, _)), Some((low, _))) => (high * low).sqrt(),
        (Some((wall, used)), None) => wall * (used / AIM).powf(0.8),
        (None, Some((wall, used))) => wall * (used / AIM).powf(0.8),
        (None, None) => f64::NAN,
    }
}

fn at(survey: &Survey, place: usize, shift_mm: f64) -> Result<Option<CheckResult>, CheckFault> {
    let Some(moved) = walls_moved(survey, shift_mm) else { return Ok(None) };
    let asked = Asked { judged_only: true, places: Some(vec![place]), ..Asked::default() };
    match check(&moved, &asked, &|_| ()) {
        Ok(outcome) => Ok(Some(outcome.result)),
        Err(CheckFault::Section { .. }) => Ok(None),
        Err(fault) => Err(fault),
    }
}
