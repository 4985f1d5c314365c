//! Stress along the shortest way through the wall: section stress, and stress at the iron's own distance.

use crate::elastic::{Peak, Solution, Stress, principal_values};
use crate::geometry::Point;
use crate::section::Section;
use crate::strength::{Linearised, linearise};
use serde::Serialize;

/// Samples along the way through the wall.
const SAMPLES: usize = 61;

/// The wall at one place: the way through it and what the stress does on it.
#[derive(Debug, Clone, Serialize)]
pub struct ThroughWall {
    pub from: Point,
    pub to: Point,
    pub length_mm: f64,
    /// Highest principal value of membrane + bending at the two ends (MPa): the section stress.
    pub section_mpa: f64,
    pub membrane_mpa: Stress,
    pub bending_mpa: Stress,
    #[serde(skip)]
    stresses: Vec<(f64, Stress)>,
}

impl ThroughWall {
    /// Follows the shortest way through the wall from the peak; `None` when there is none.
    pub fn at(solution: &Solution, section: &Section, case: usize, peak: &Peak) -> Option<Self> {
        let (from, to) = way(section, peak.at)?;
        let length = from.distance(to);
        let mut stresses = Vec::new();
        for i in 0..SAMPLES {
            // Just inside the ends, which lie on the outline itself.
            let share = (i as f64 / (SAMPLES - 1) as f64).clamp(2e-4, 1.0 - 2e-4);
            let (_, stress) = solution.at(case, from.lerp(to, share), peak.theta_rad)?;
            stresses.push((share * length, stress));
        }
        let (places, values): (Vec<f64>, Vec<Stress>) = stresses.iter().copied().unzip();
        let Linearised { membrane, bending, start, end } = linearise(&places, &values);
        let section_mpa = principal_values(&start)[0].max(principal_values(&end)[0]);
        Some(Self {
            from,
            to,
            length_mm: length,
            section_mpa,
            membrane_mpa: membrane,
            bending_mpa: bending,
            stresses,
        })
    }

    /// Highest principal stress averaged at the iron's critical distance L (Taylor, The Theory of
    /// Critical Distances, 2007): the larger of the point method at L/2 and the line method over 2L,
    /// in MPa. `None` when the wall is thinner than the distance asks for.
    pub fn notch_mpa(&self, critical_distance_mm: f64) -> Option<f64> {
        let at = |s: f64| {
            let above = self.stresses.partition_point(|(place, _)| *place < s).clamp(1, SAMPLES - 1);
            let ((s0, a), (s1, b)) = (self.stresses[above - 1], self.stresses[above]);
            let share = ((s - s0) / (s1 - s0)).clamp(0.0, 1.0);
            principal_values(&std::array::from_fn(|c| a[c] + share * (b[c] - a[c])))[0]
        };
        let line = 2.0 * critical_distance_mm;
        if line > 0.5 * self.length_mm {
            return None;
        }
        let steps = 40;
        let mean = (0..steps).map(|i| at(line * (f64::from(i) + 0.5) / f64::from(steps))).sum::<f64>()
            / f64::from(steps);
        Some(at(0.5 * critical_distance_mm).max(mean))
    }
}

/// The shortest way through the iron from a place on the outline to the outline beyond it.
fn way(section: &Section, at: Point) -> Option<(Point, Point)> {
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
