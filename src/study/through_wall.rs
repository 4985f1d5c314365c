//! Section stress along the shortest way through the wall at the hot spot, with its error bar.
//!
//! Lacks the stress at the iron's own distance, which runs along the surface's normal: see `notch`.
//! Units: mm, MPa.

use crate::elastic::{Peak, Solution, Stress, principal_values};
use crate::geometry::Point;
use crate::section::Section;
use crate::strength::{Linearised, linearise};
use serde::Serialize;

/// Samples along the way through the wall.
pub(super) const SAMPLES: usize = 61;

/// The wall at one place: the way through it and what the stress does on it.
#[derive(Debug, Clone, Serialize)]
pub struct ThroughWall {
    pub from: Point,
    pub to: Point,
    pub length_mm: f64,
    /// Highest principal value of membrane + bending at the two ends (MPa): the section stress.
    pub section_mpa: f64,
    /// What mesh and series may still move the section stress by (MPa).
    pub section_bound_mpa: f64,
    pub membrane_mpa: Stress,
    pub bending_mpa: Stress,
}

impl ThroughWall {
    /// Follows the shortest way through the wall from the peak; `None` when there is none.
    pub fn at(solution: &Solution, section: &Section, case: usize, peak: &Peak) -> Option<Self> {
        let (from, to) = way(section, peak.at)?;
        let length = from.distance(to);
        let (mut places, mut recovered, mut direct) = (Vec::new(), Vec::new(), Vec::new());
        for i in 0..SAMPLES {
            let share = share_of(i);
            let p = from.lerp(to, share);
            places.push(share * length);
            let both = solution.two_stresses(case, p, peak.theta_rad)?;
            recovered.push(both.recovered);
            direct.push(both.direct);
        }
        let highest = |l: &Linearised| principal_values(&l.start)[0].max(principal_values(&l.end)[0]);
        let linear = linearise(&places, &recovered);
        let section_mpa = highest(&linear);
        // Sections of the direct stress may meet the recovered one by chance; the mean gap between the two
        // along the way, a quarter of it, keeps the bound from vanishing then.
        let gaps = recovered.iter().zip(&direct);
        let gaps = gaps.map(|(a, b)| (principal_values(a)[0] - principal_values(b)[0]).abs());
        let mean_gap = gaps.sum::<f64>() / SAMPLES as f64;
        let apart = (section_mpa - highest(&linearise(&places, &direct))).abs();
        let tail = solution.blocks.last().map_or(0.0, |block| block.change);
        Some(Self {
            from,
            to,
            length_mm: length,
            section_mpa,
            section_bound_mpa: apart.max(0.25 * mean_gap) + tail * section_mpa.abs(),
            membrane_mpa: linear.membrane,
            bending_mpa: linear.bending,
        })
    }
}

/// Share of the way at one sample: just inside the ends, which lie on the outline itself.
pub(super) fn share_of(sample: usize) -> f64 {
    (sample as f64 / (SAMPLES - 1) as f64).clamp(2e-4, 1.0 - 2e-4)
}

/// The shortest way through the iron from a place on the outline to the outline beyond it.
pub(super) fn way(section: &Section, at: Point) -> Option<(Point, Point)> {
    let own = section.outline.edges().min_by(|a, b| a.distance(at).total_cmp(&b.distance(at)))?;
    let share = own.nearest(at);
    let from = own.at(share);
    let inward = -own.outward(share);
    let mut best: Option<(f64, Point)> = None;
    for edge in section.outline.edges() {
        for i in 0..=48 {
            let to = edge.at(f64::from(i) / 48.0);
            let run = to - from;
            let length = run.norm();
            // Only ways that lead into the wall count, not those along its surface.
            if length > 0.5 && run.dot(inward) > 0.7 * length && best.is_none_or(|(b, _)| length < b) {
                let inside = (1..12).all(|k| section.outline.contains(from.lerp(to, f64::from(k) / 12.0)));
                if inside {
                    best = Some((length, to));
                }
            }
        }
    }
    best.map(|(_, to)| (from, to))
}
