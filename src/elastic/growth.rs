//! How the stress beside a singular place grows as the mesh is halved there, beside what theory says.
//!
//! Owns the growth study and the exponents of Williams; lacks faces held in one direction only, whose
//! exponent is not given. Run on request, for it solves the model three times more. Units: mm, MPa, rad.
//! Source: Williams, Journal of Applied Mechanics 19 (1952) 526–528, in plane strain, which every section of
//! a body of revolution approaches near a corner.

use super::{ElasticFault, Model, Options, Region, Solution, principal_values, solve};
use crate::geometry::Point;
use crate::mesh::PointSize;
use serde::Serialize;
use std::f64::consts::PI;

/// Meshes of the study, each with half the size of the one before at every singular place.
const MESHES: usize = 3;
/// Of the distance that is left out, the element side in the corner of an ordinary mesh: three sides, and
/// room for a mesh that does not meet the size exactly, stay inside the distance.
const ORDINARY: f64 = 0.25;
/// Sides between the corner and the arc on which a mesh of the study is read: nearer, it is not resolved.
const SIDES_TO_ARC: f64 = 8.0;
/// Growth of the element size with distance on the meshes of the study: on the arc, elements are then a
/// quarter of its radius.
const GROWTH: f64 = 0.12;
/// Places on the arc, and angles around the body per wave of the last harmonic.
const PLACES: usize = 24;

/// What the two faces of a corner are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Faces {
    Free,
    /// One face free, the other held in every direction of the section.
    HeldAndFree,
    /// Any other pair: held in part, or against another held face.
    Other,
}

/// A place where the elastic stress has no finite value.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Singular {
    pub reason: String,
    pub at: Point,
    pub faces: Faces,
    /// Angle inside the body, and the direction of the face from which it turns counter-clockwise.
    #[serde(rename = "angle_rad")]
    pub angle: f64,
    pub from_rad: f64,
    /// What is left out around it (mm): a share of the section, the same for every mesh.
    pub distance_mm: f64,
}

/// The growth of the stress at one singular place.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Growth {
    pub place: Singular,
    pub case: String,
    /// Highest tension on the arc nearest to the corner that a mesh resolves, mesh by mesh.
    pub steps: Vec<GrowthStep>,
    /// Observed exponent p of the stress, σ ~ ρ^p: from the steps between meshes, in which what stays
    /// finite drops out. `None` where the stress does not grow.
    pub observed_exponent: Option<f64>,
    /// λ − 1 of Williams's leading term; `None` where it is not given.
    pub theory_exponent: Option<f64>,
}

#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct GrowthStep {
    pub side_mm: f64,
    /// Radius of the arc about the corner.
    pub arc_mm: f64,
    pub tension_mpa: f64,
}

/// λ of the leading symmetric term between free faces: smallest positive root of sin λω + λ sin ω = 0
/// (angle inside the body, above 180°).
#[must_use]
pub fn free_exponent(angle_rad: f64) -> Option<f64> {
    let gap = |lambda: f64| (lambda * angle_rad).sin() + lambda * angle_rad.sin();
    (angle_rad > PI).then(|| first_root(gap)).flatten()
}

/// λ between one held and one free face in plane strain: smallest positive root below 1 of
/// sin²λω = ((κ+1)² − 4λ² sin²ω)/(4κ), κ = 3 − 4ν. `None` where the stress stays finite.
#[must_use]
pub fn held_exponent(angle_rad: f64, poisson: f64) -> Option<f64> {
    let kappa = 3.0 - 4.0 * poisson;
    let gap = |lambda: f64| {
        ((kappa + 1.0).powi(2) - 4.0 * (lambda * angle_rad.sin()).powi(2)) / (4.0 * kappa)
            - (lambda * angle_rad).sin().powi(2)
    };
    first_root(gap)
}

/// The first change of sign from plus to minus between 0 and 1.
fn first_root(gap: impl Fn(f64) -> f64) -> Option<f64> {
    const STEPS: usize = 400;
    let at = |i: usize| 1e-6 + (1.0 - 2e-6) * i as f64 / STEPS as f64;
    let first = (1..=STEPS).find(|i| gap(at(*i)) <= 0.0 && gap(at(i - 1)) > 0.0)?;
    let (mut low, mut high) = (at(first - 1), at(first));
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if gap(middle) > 0.0 { low = middle } else { high = middle }
    }
    Some(f64::midpoint(low, high))
}

impl Singular {
    /// λ − 1 of the leading term.
    fn theory(&self, poisson: f64) -> Option<f64> {
        let lambda = match self.faces {
            Faces::Free => free_exponent(self.angle),
            Faces::HeldAndFree => held_exponent(self.angle, poisson),
            Faces::Other => None,
        };
        lambda.map(|lambda| lambda - 1.0)
    }
}

/// Sizes that resolve every singular place, so that what is left out around it does not depend on how
/// coarse the mesh is elsewhere. `counts` selects the places that matter to the search.
#[must_use]
pub fn singular_sizes(model: &Model, counts: impl Fn(Point) -> bool) -> Vec<PointSize> {
    Region::singular(model)
        .iter()
        .filter(|place| counts(place.at))
        .map(|place| PointSize { at: place.at, size_mm: ORDINARY * place.distance_mm })
        .collect()
}

/// Radius of the arc on which a mesh of the study is read.
fn arc(place: &Singular, halvings: usize) -> f64 {
    place.distance_mm * 0.5f64.powi(halvings as i32)
}

/// Solves the model on three meshes, halved at every singular place, and reads the highest tension on an arc
/// around it that shrinks with the mesh, at the angle around the body at which it is highest on the first.
/// Empty without singular places, and then nothing is solved.
///
/// # Errors
/// When one of the meshes has no solution.
pub fn growth(
    model: &Model,
    options: &Options,
    counts: impl Fn(Point) -> bool,
) -> Result<Vec<Growth>, ElasticFault> {
    let mut places = Region::singular(model);
    places.retain(|place| counts(place.at));
    if places.is_empty() {
        return Ok(Vec::new());
    }
    let mut list: Vec<Growth> = Vec::new();
    let mut angles: Vec<f64> = Vec::new();
    for halvings in 0..MESHES {
        let mut finer = model.clone();
        finer.sizing.growth = finer.sizing.growth.min(GROWTH);
        finer.sizing.at_points.extend(
            places
                .iter()
                .map(|place| PointSize { at: place.at, size_mm: arc(place, halvings) / SIDES_TO_ARC }),
        );
        let solution = solve(&finer, |mesh| Region::of(&finer, mesh, options.least), options)?;
        let corners = places.iter().flat_map(|place| (0..model.cases.len()).map(move |case| (place, case)));
        for (index, (place, case)) in corners.enumerate() {
            let arc_mm = arc(place, halvings);
            let tension = |theta: f64| on_arc(&solution, case, place, arc_mm, theta);
            if halvings == 0 {
                let last = solution.cases[case].iter().map(|harmonic| harmonic.n).max().unwrap_or(0);
                let turns = 4 * last + 1;
                let thetas = (0..turns).map(|i| 2.0 * PI * i as f64 / turns as f64 - PI);
                let best = thetas.map(|theta| (tension(theta), theta)).max_by(|a, b| a.0.total_cmp(&b.0));
                angles.push(best.map_or(0.0, |best| best.1));
                list.push(Growth {
                    place: place.clone(),
                    case: solution.case_names[case].clone(),
                    steps: Vec::new(),
                    observed_exponent: None,
                    theory_exponent: place.theory(model.iron.poisson),
                });
            }
            let tension_mpa = tension(angles[index]);
            list[index].steps.push(GrowthStep { side_mm: arc_mm / SIDES_TO_ARC, arc_mm, tension_mpa });
        }
    }
    for growth in &mut list {
        let values: Vec<f64> = growth.steps.iter().map(|step| step.tension_mpa).collect();
        let ratio = (values[2] - values[1]) / (values[1] - values[0]);
        growth.observed_exponent = (ratio > 0.0 && values[2] > values[1]).then(|| -ratio.log2());
    }
    Ok(list)
}

/// Highest tension on the arc about a singular place, inside the body.
fn on_arc(solution: &Solution, case: usize, place: &Singular, arc_mm: f64, theta: f64) -> f64 {
    let tension = |i: usize| {
        let turn = place.angle * (i as f64 + 0.5) / PLACES as f64;
        let p = place.at + Point::unit(place.from_rad + turn) * arc_mm;
        solution.at(case, p, theta).map_or(f64::NEG_INFINITY, |(_, stress)| principal_values(&stress)[0])
    };
    (0..PLACES).map(tension).fold(f64::NEG_INFINITY, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    #[test]
    fn free_faces() {
        for (degrees, exponent) in [(225.0f64, 0.6736), (270.0, 0.5445), (300.0, 0.5122)] {
            let found = free_exponent(degrees.to_radians()).unwrap_or(f64::NAN);
            assert_close("λ", found, exponent, Tolerance::printed(4), "printed to this many digits");
        }
        assert_eq!(free_exponent(0.5 * PI), None);
    }

    #[test]
    fn a_square_block_on_a_held_face() {
        // 0.711 for ν = 0.3: the value of common tables (Bogy 1971 and later), from memory.
        let found = held_exponent(0.5 * PI, 0.3).unwrap_or(f64::NAN);
        assert_close("λ", found, 0.711, Tolerance::printed(3), "printed to this many digits");
    }
}
