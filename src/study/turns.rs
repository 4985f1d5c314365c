//! Fatigue of gray iron: one turn of the wheel is one stress cycle at every place of it.
//!
//! The rated load at rest stands still in space while the wheel turns under it, so every place goes once through the
//! stresses of all angles. At each searched node the plane is looked for on which this cycle uses the iron's
//! endurance most, by Smith–Dolan; the least factor anywhere governs. Lacks starts and stops, shocks, corrosion and
//! what the skin of a casting takes away. Units: mm, MPa, rad.

use super::Analysis;
use super::refine::DISAGREEMENT_SHARE;
use super::words::place_words;
use crate::elastic::{Bounds, Peak, PeakSearch, Turn, principal_values};
use crate::geometry::Point;
use crate::material::Metal;
use crate::section::Section;
use crate::strength::{CompressiveMean, Cycle, FatigueStrength, Plane, worst_plane};
use crate::survey::Survey;
use rayon::prelude::*;
use serde::Serialize;
use std::f64::consts::PI;

/// Nodes whose courses are computed together.
const CHUNK: usize = 32;
/// How many times finer the turn is divided for the number that is told.
const FINER: usize = 8;
const DAYS_PER_YEAR: f64 = 365.0;

/// The cycle of one turn where it uses the iron's endurance most.
#[derive(Debug, Clone, Serialize)]
pub struct Turns {
    /// Factor on the endurance: Smith–Dolan, with the handbook's line where the mean is a compression.
    pub least_factor: f64,
    /// What mesh and series may still move the factor by.
    pub factor_bound: f64,
    pub at: Point,
    pub words: String,
    /// Of the stress normal to the plane, over one turn.
    pub amplitude_mpa: f64,
    pub mean_mpa: f64,
    /// Unit normal of the plane: r, θ, z.
    pub plane_normal: [f64; 3],
    /// Where the place stands when the normal stress is highest, and when it is lowest.
    pub highest_at_rad: f64,
    pub lowest_at_rad: f64,
    /// Endurance limit that was used, and the machined bar's in bending that it comes from.
    pub endurance_mpa: f64,
    pub bar_endurance_mpa: f64,
    /// Least factor when a compressive mean is given no credit at all, and its place.
    pub uncredited_factor: f64,
    pub uncredited_words: String,
    /// Nodes that were searched, and those whose planes had to be looked at.
    pub searched_nodes: usize,
    pub compared_nodes: usize,
    /// Most turns in a year; `None` where trips or travel are not measured.
    pub turns_per_year: Option<f64>,
}

/// The worst plane of one node, with the angles at which its normal stress is highest and lowest.
#[derive(Debug, Clone, Copy)]
pub struct Worst {
    pub node: usize,
    pub plane: Plane,
    pub highest_at_rad: f64,
    pub lowest_at_rad: f64,
}

/// What a compressive mean is worth in the two searches that go side by side.
const RULES: [CompressiveMean; 2] = [CompressiveMean::Handbook, CompressiveMean::Nothing];

/// What the search over all nodes gives.
#[derive(Debug, Clone, Copy)]
pub struct Found {
    /// By the handbook's line for a compressive mean, and without any credit for one.
    pub worst: [Worst; 2],
    pub searched: usize,
    pub compared: usize,
}

/// The cycle of a turn at the governing place's section; `None` for metals without a known endurance limit.
#[tracing::instrument(name = "stress cycle of a turn", skip_all)]
pub(super) fn turns(survey: &Survey, metal: &Metal, section: &Section, analysis: &Analysis) -> Option<Turns> {
    let bar = metal.endurance_mpa.filter(|_| metal.brittle)?;
    let strength = FatigueStrength::of_bar(metal.tensile_mpa, bar);
    let solution = &analysis.solution;
    let search = PeakSearch::new(&solution.mesh, &solution.cases[0], &analysis.region);
    let found = worst_cycle(&search, analysis.tension[0].node, strength)?;
    let [governing, uncredited] = found.worst;
    let at = solution.mesh.nodes[governing.node];
    let cycle = governing.plane.cycle;
    let words =
        |worst: &Worst| place_words(survey, section, solution.mesh.nodes[worst.node], worst.highest_at_rad);
    let factor = governing.plane.share.recip();
    let off = bound_mpa(analysis, governing.node, governing.highest_at_rad);
    let top = cycle.mean_mpa + cycle.amplitude_mpa;
    let worse = Cycle::use_of(top + off, top - 2.0 * cycle.amplitude_mpa - off, strength, RULES[0]);
    Some(Turns {
        least_factor: factor,
        factor_bound: factor - worse.recip(),
        at,
        words: words(&governing),
        amplitude_mpa: cycle.amplitude_mpa,
        mean_mpa: cycle.mean_mpa,
        plane_normal: governing.plane.normal,
        highest_at_rad: governing.highest_at_rad,
        lowest_at_rad: governing.lowest_at_rad,
        endurance_mpa: strength.endurance_mpa,
        bar_endurance_mpa: bar,
        uncredited_factor: uncredited.plane.share.recip(),
        uncredited_words: words(&uncredited),
        searched_nodes: found.searched,
        compared_nodes: found.compared,
        turns_per_year: turns_per_year(survey, section),
    })
}

/// The node and plane that use most by each rule, over what `search` looks through; `None` where that is nothing.
///
/// The share that a cycle uses never falls when its highest stress rises or its lowest falls (see
/// [`Cycle::use_of`]), and on any plane the normal stress lies between the lowest and the highest principal stress of
/// the turn. So what a node's bounds promise is never less than what its worst plane uses, and a node that promises
/// no more than what was found elsewhere need not be looked at: first by bounds from its harmonics alone, then by
/// those from its course. Both rules are looked for at once. `first` is the node that is looked at before all others:
/// the better it is, the fewer follow.
#[must_use]
pub fn worst_cycle(search: &PeakSearch<'_>, first: usize, strength: FatigueStrength) -> Option<Found> {
    let turn = Turn::new(search.harmonics(), search.angles());
    let promise = |bounds: Bounds| {
        RULES.map(|rule| Cycle::use_of(bounds.highest_mpa, bounds.lowest_mpa, strength, rule))
    };
    // What is not a number promises all.
    let beats = |promised: [f64; 2], found: [f64; 2]| {
        (0..2).any(|rule| promised[rule] > found[rule] || promised[rule].is_nan())
    };
    let mut nodes: Vec<([f64; 2], usize)> =
        search.searched().map(|node| (promise(turn.reach(node)), node)).collect();
    let searched = nodes.len();
    let is_first = |node: usize| node == first;
    nodes.sort_by(|a, b| {
        is_first(b.1).cmp(&is_first(a.1)).then(b.0[0].total_cmp(&a.0[0])).then(a.1.cmp(&b.1))
    });
    let mut worst: Option<[(usize, Plane); 2]> = None;
    let mut compared = 0;
    let mut rest = nodes.as_slice();
    while !rest.is_empty() {
        // The first node alone, then those that can still compete, some at a time.
        let found = worst.map_or([f64::NEG_INFINITY; 2], |worst| worst.map(|(_, plane)| plane.share));
        let size = if worst.is_none() { 1 } else { CHUNK };
        let mut chunk = Vec::with_capacity(size);
        while let Some(((promised, node), others)) = rest.split_first() {
            if chunk.len() == size {
                break;
            }
            rest = others;
            if beats(*promised, found) {
                chunk.push(*node);
            }
        }
        let courses = turn.courses(&chunk);
        let looked: Vec<[(usize, Plane); 2]> = (0..chunk.len())
            .into_par_iter()
            .filter(|column| beats(promise(courses.bounds(*column)), found))
            .map(|column| RULES.map(|rule| (chunk[column], worst_plane(courses.of(column), strength, rule))))
            .collect();
        compared += looked.len();
        for other in looked {
            let worst = worst.get_or_insert(other);
            for rule in 0..2 {
                // What is not a number must not hide behind one.
                if other[rule].1.share > worst[rule].1.share || other[rule].1.share.is_nan() {
                    worst[rule] = other[rule];
                }
            }
        }
    }
    let fine = Turn::new(search.harmonics(), FINER * turn.angles());
    let mut rules = RULES.into_iter();
    let worst = worst?.map(|(node, _)| {
        let plane = worst_plane(fine.courses(&[node]).of(0), strength, rules.next().unwrap_or(RULES[1]));
        let (highest_at_rad, lowest_at_rad) = (fine.theta(plane.highest_at), fine.theta(plane.lowest_at));
        Worst { node, plane, highest_at_rad, lowest_at_rad }
    });
    Some(Found { worst, searched, compared })
}

/// What the stress at a node may be off by mesh and series, as for the peak (MPa).
fn bound_mpa(analysis: &Analysis, node: usize, theta_rad: f64) -> f64 {
    let solution = &analysis.solution;
    let stress_mpa = solution.stress(0, node, theta_rad);
    let principal_mpa = principal_values(&stress_mpa);
    let at = solution.mesh.nodes[node];
    let place = Peak { node, at, theta_rad, stress_mpa, principal_mpa, score: principal_mpa[0] };
    let resolution = solution.resolution(0, &place, &analysis.loaded_tags());
    let series = solution.blocks.last().map_or(0.0, |block| block.change * block.peak_mpa);
    let mesh = DISAGREEMENT_SHARE * resolution.disagreement_mpa;
    mesh.max(resolution.across_mpa.unwrap_or(0.0)) + series
}

/// Most turns in a year: every trip over the whole travel, on the smallest pitch diameter.
fn turns_per_year(survey: &Survey, section: &Section) -> Option<f64> {
    let (trips, travel_m) = (survey.load.trips_per_day?, survey.load.travel_m?);
    let pitch = section.grooves.iter().map(|groove| groove.pitch_radius_mm).fold(f64::INFINITY, f64::min);
    Some(turns_in(trips * DAYS_PER_YEAR, 1e3 * travel_m, survey.roping.ratio, pitch))
}

/// Turns of a sheave whose rope centre line has the radius `pitch_radius_mm` in `trips` over `travel_mm`: the rope
/// runs `ratio` times as far as the car.
#[must_use]
pub fn turns_in(trips: f64, travel_mm: f64, ratio: u32, pitch_radius_mm: f64) -> f64 {
    trips * travel_mm * f64::from(ratio) / (2.0 * PI * pitch_radius_mm)
}
