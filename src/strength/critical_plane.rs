//! The plane of a place on which one turn's normal stress uses the endurance of a brittle metal most.
//!
//! A course holds the six stress components of one place over a turn. On the plane with unit normal n the normal
//! stress is nᵀσ(θ)n; its highest and lowest value over θ make the plane's cycle. Owns the search over planes.
//! Lacks shear-driven criteria, which belong to ductile metals. Units: MPa; normals in the frame r, θ, z.
//! Source of the idea: critical-plane methods, as in Socie & Marquis, Multiaxial Fatigue, 2000, chapter 5 (number
//! from memory).

use super::{CompressiveMean, Cycle, FatigueStrength, Stress};
use crate::elastic::principal;
use std::f64::consts::PI;

/// Planes of the first pass, spread over the half sphere of normals about 18° apart.
const PLANES: usize = 48;
/// Best planes of the first pass from which the search goes on.
const STARTS: usize = 4;
/// Steps of the search from each; it stops by itself where nothing is gained.
const STEPS: usize = 24;
/// What a step must gain to go on, relative.
const GAIN: f64 = 1e-10;
/// Angles whose extremes are kept side by side, so that the machine's vectors do several at once.
const LANES: usize = 8;

/// A plane with its cycle over one turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// Unit normal (r, θ, z); its sign is arbitrary.
    pub normal: [f64; 3],
    pub cycle: Cycle,
    /// Share of the endurance that the cycle uses: the inverse of the factor.
    pub share: f64,
    /// Row of the course at which the normal stress is highest, and where it is lowest.
    pub highest_at: usize,
    pub lowest_at: usize,
}

/// Highest and lowest normal stress of a course on one plane (MPa).
fn range(course: [&[f64]; 6], n: [f64; 3]) -> (f64, f64) {
    let weights = weights(n);
    let normal = |row: usize| (0..6).map(|c| weights[c] * course[c][row]).sum::<f64>();
    let count = course[0].len();
    let (mut high, mut low) = ([f64::NEG_INFINITY; LANES], [f64::INFINITY; LANES]);
    let mut chunk = 0;
    while chunk + LANES <= count {
        let part = course.map(|component| &component[chunk..chunk + LANES]);
        for lane in 0..LANES {
            let mut value = 0.0;
            for c in 0..6 {
                value += weights[c] * part[c][lane];
            }
            high[lane] = if value > high[lane] { value } else { high[lane] };
            low[lane] = if value < low[lane] { value } else { low[lane] };
        }
        chunk += LANES;
    }
    for row in chunk..count {
        let value = normal(row);
        high[0] = high[0].max(value);
        low[0] = low[0].min(value);
    }
    (high.into_iter().fold(f64::NEG_INFINITY, f64::max), low.into_iter().fold(f64::INFINITY, f64::min))
}

fn weights([r, t, z]: [f64; 3]) -> [f64; 6] {
    [r * r, t * t, z * z, 2.0 * r * t, 2.0 * t * z, 2.0 * z * r]
}

/// Normals of the first pass: a spiral over the half sphere (Fibonacci's lattice), and the three axes.
fn normals() -> impl Iterator<Item = [f64; 3]> {
    let golden = PI * (3.0 - 5f64.sqrt());
    let spiral = (0..PLANES).map(move |i| {
        let height = (i as f64 + 0.5) / PLANES as f64;
        let (sin, cos) = (golden * i as f64).sin_cos();
        let ring = (1.0 - height * height).sqrt();
        [ring * cos, ring * sin, height]
    });
    spiral.chain([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])
}

/// The plane that uses the endurance most, over the whole half sphere of normals.
///
/// From the best planes of a first pass the search climbs: of the angles θ₁, θ₂ at which the plane's stress is
/// highest and lowest, the normal that uses most to first order is the direction of the largest principal value of
/// a·σ(θ₁) − b·σ(θ₂), a and b being the slopes of the share in the highest and the lowest stress. For a share that is
/// linear in the two, as it is for a compressive mean, each step can only gain.
///
/// The share is not a number when any component of the course is none.
///
/// # Panics
/// When the course has no angle.
#[must_use]
pub fn worst_plane(course: [&[f64]; 6], strength: FatigueStrength, rule: CompressiveMean) -> Plane {
    assert!(!course[0].is_empty(), "a turn needs an angle");
    let share_of = |n: [f64; 3]| {
        let (high, low) = range(course, n);
        Cycle::use_of(high, low, strength, rule)
    };
    let mut first: Vec<(f64, [f64; 3])> = normals().map(|n| (share_of(n), n)).collect();
    first.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut best = first[0];
    for start in &first[..STARTS] {
        let climbed = climb(course, *start, strength, rule);
        if climbed.0 > best.0 {
            best = climbed;
        }
    }
    let finite = course.iter().all(|component| component.iter().sum::<f64>().is_finite());
    let mut plane = plane(course, best.1, strength, rule);
    if !finite {
        plane.share = f64::NAN;
    }
    plane
}

/// One plane's cycle, with its angles.
#[must_use]
pub fn plane(
    course: [&[f64]; 6],
    normal: [f64; 3],
    strength: FatigueStrength,
    rule: CompressiveMean,
) -> Plane {
    let weights = weights(normal);
    let at = |row: usize| (0..6).map(|c| weights[c] * course[c][row]).sum::<f64>();
    let (mut highest_at, mut lowest_at) = (0, 0);
    let (mut high, mut low) = (at(0), at(0));
    for row in 1..course[0].len() {
        let value = at(row);
        if value > high {
            (high, highest_at) = (value, row);
        }
        if value < low {
            (low, lowest_at) = (value, row);
        }
    }
    let share = Cycle::use_of(high, low, strength, rule);
    Plane { normal, cycle: Cycle::between(high, low), share, highest_at, lowest_at }
}

fn climb(
    course: [&[f64]; 6],
    (mut share, mut normal): (f64, [f64; 3]),
    strength: FatigueStrength,
    rule: CompressiveMean,
) -> (f64, [f64; 3]) {
    for _ in 0..STEPS {
        let here = plane(course, normal, strength, rule);
        let (high, low) =
            (here.cycle.mean_mpa + here.cycle.amplitude_mpa, here.cycle.mean_mpa - here.cycle.amplitude_mpa);
        // Slopes by differences: a step of a thousandth of the range is far from both rounding and curvature.
        let step = 1e-3 * (high - low).max(1e-9);
        let up = (Cycle::use_of(high + step, low, strength, rule) - share) / step;
        let down = (Cycle::use_of(high, low - step, strength, rule) - share) / step;
        let mixed: Stress =
            std::array::from_fn(|c| up * course[c][here.highest_at] - down * course[c][here.lowest_at]);
        let next = principal(&mixed).direction;
        let (top, bottom) = range(course, next);
        let found = Cycle::use_of(top, bottom, strength, rule);
        // A direction that is not a number gives no gain either.
        if found <= share * (1.0 + GAIN) || found.is_nan() {
            break;
        }
        (share, normal) = (found, next);
    }
    (share, normal)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const CLASS_30: FatigueStrength = FatigueStrength { tensile_mpa: 214.0, endurance_mpa: 87.3 };
    const ANGLES: usize = 180;

    type Course = [Vec<f64>; 6];

    fn slices(course: &Course) -> [&[f64]; 6] {
        course.each_ref().map(Vec::as_slice)
    }

    fn turn(stress: impl Fn(f64) -> Stress) -> Course {
        let at = |row: usize| stress(std::f64::consts::TAU * row as f64 / ANGLES as f64);
        std::array::from_fn(|c| (0..ANGLES).map(|row| at(row)[c]).collect())
    }

    /// A history with three harmonics whose coefficients come from a plain congruence.
    fn wild(seed: u64) -> Course {
        let mut state = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let mut next = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as f64 / f64::from(1u32 << 30) - 1.0
        };
        let coefficients: Vec<[f64; 7]> =
            (0..6).map(|_| std::array::from_fn(|i| 12.0 * next() / (1.0 + i as f64 / 3.0))).collect();
        turn(|theta| {
            std::array::from_fn(|c| {
                let k = coefficients[c];
                (1..4).fold(k[0], |sum, n| {
                    let (sin, cos) = (n as f64 * theta).sin_cos();
                    sum + k[2 * n - 1] * cos + k[2 * n] * sin
                })
            })
        })
    }

    /// Every plane of a grid two degrees apart, at every angle.
    fn brute_force(course: &Course, rule: CompressiveMean) -> f64 {
        let mut most = 0.0f64;
        for tilt in (0..=90).step_by(2) {
            for turn in (0..360).step_by(2) {
                let (st, ct) = f64::from(tilt).to_radians().sin_cos();
                let (sp, cp) = f64::from(turn).to_radians().sin_cos();
                let (high, low) = range(slices(course), [st * cp, st * sp, ct]);
                most = most.max(Cycle::use_of(high, low, CLASS_30, rule));
            }
        }
        most
    }

    #[test]
    fn the_search_finds_what_brute_force_over_planes_and_angles_finds() {
        for seed in 0..8 {
            let course = wild(seed);
            for rule in [CompressiveMean::Handbook, CompressiveMean::Nothing] {
                let found = worst_plane(slices(&course), CLASS_30, rule);
                let brute = brute_force(&course, rule);
                // The grid misses the best plane by up to 1.4°, and the share by the square of that angle's sine.
                assert!(found.share >= brute * (1.0 - 1e-9), "{seed} {rule:?}: {} {brute}", found.share);
                assert!(found.share <= brute * 1.002, "{seed} {rule:?}: {} {brute}", found.share);
                let cycle = found.cycle;
                let again = Cycle::use_of(
                    cycle.mean_mpa + cycle.amplitude_mpa,
                    cycle.mean_mpa - cycle.amplitude_mpa,
                    CLASS_30,
                    rule,
                );
                assert_close("share", found.share, again, Tolerance::Relative(1e-12), "rounding only");
            }
        }
    }

    #[test]
    fn no_plane_uses_more_than_the_extremes_of_the_principal_stresses_promise() {
        for seed in 20..26 {
            let course = wild(seed);
            let stress = |row: usize| -> Stress { std::array::from_fn(|c| course[c][row]) };
            let values = || (0..ANGLES).map(|row| crate::elastic::principal_values(&stress(row)));
            let high = values().map(|p| p[0]).fold(f64::MIN, f64::max);
            let low = values().map(|p| p[2]).fold(f64::MAX, f64::min);
            for rule in [CompressiveMean::Handbook, CompressiveMean::Nothing] {
                let promised = Cycle::use_of(high, low, CLASS_30, rule);
                assert!(brute_force(&course, rule) <= promised * (1.0 + 1e-12));
            }
        }
    }

    #[test]
    fn rotating_bending_is_fully_reversed() {
        let course = turn(|theta| [0.0, 0.0, 18.0 * (theta - 0.4).cos(), 0.0, 0.0, 0.0]);
        let found = worst_plane(slices(&course), CLASS_30, CompressiveMean::Handbook);
        let reason = "the crest lies up to 1° beside an angle of the turn: cos 1° at worst";
        assert_close("amplitude", found.cycle.amplitude_mpa, 18.0, Tolerance::Relative(2e-4), reason);
        assert_close("mean", found.cycle.mean_mpa, 0.0, Tolerance::Absolute(1e-2), reason);
        assert_close("factor", found.share.recip(), 87.3 / 18.0, Tolerance::Relative(2e-3), reason);
        assert!(found.normal[2].abs() > 0.999_999);
    }

    #[test]
    fn a_turning_direction_is_found_between_the_axes() {
        // Tension along (θ, z) at 30° from θ, pulsing: no axis sees all of it.
        let (sin, cos) = 30f64.to_radians().sin_cos();
        let course = turn(|theta| {
            let pull = 20.0 * (1.0 + theta.cos());
            [0.0, pull * cos * cos, pull * sin * sin, 0.0, pull * sin * cos, 0.0]
        });
        let found = worst_plane(slices(&course), CLASS_30, CompressiveMean::Handbook);
        let reason = "exact up to the search's last step";
        assert_close("mean", found.cycle.mean_mpa, 20.0, Tolerance::Relative(1e-8), reason);
        assert_close("amplitude", found.cycle.amplitude_mpa, 20.0, Tolerance::Relative(1e-8), reason);
        assert_close("tilt", found.normal[1].abs(), cos, Tolerance::Absolute(1e-5), reason);
    }

    #[test]
    fn what_is_not_a_number_never_passes() {
        let mut course = wild(3);
        course[4][7] = f64::NAN;
        assert!(worst_plane(slices(&course), CLASS_30, CompressiveMean::Handbook).share.is_nan());
    }
}
