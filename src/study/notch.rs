//! Stress averaged at a metal's own critical distance below the hot spot, with its error bar.
//!
//! The path starts at the hot spot on the surface and runs along the normal there, which is the notch's
//! bisector where the hot spot is its root; it does not turn towards the shortest way through the wall.
//! The point method reads the highest principal stress at L/2, the line method averages it over 2L; the
//! larger counts. The line is integrated element by element with Gauss points, because the recovered
//! stress has kinks where elements meet.
//! Source: Taylor, The Theory of Critical Distances, 2007. Units: mm, MPa, rad.

use super::analysis::Analysis;
use crate::elastic::{Peak, Solution, TwoStresses, principal_values};
use crate::geometry::{Outline, Point};
use crate::material::Metal;
use crate::section::Section;
use crate::strength::fracture::critical_distance_mm;
use crate::survey::Survey;
use crate::units::Kind as Quantity;
use serde::Serialize;

/// Steps along the path that find where elements meet, per 2L.
const STEPS: usize = 64;
/// Halvings of a step that find where two elements meet: to a billionth of the path.
const BISECTIONS: usize = 24;
/// Places and weights of Gauss's rule with four points on 0 to 1: exact for polynomials of degree 7.
const GAUSS: [(f64, f64); 4] = [
    (0.069_431_844_202_973_71, 0.173_927_422_568_727),
    (0.330_009_478_207_571_9, 0.326_072_577_431_273),
    (0.669_990_521_792_428_1, 0.326_072_577_431_273),
    (0.930_568_155_797_026_3, 0.173_927_422_568_727),
];
/// Of the wall, the part that the line may take: beyond the middle it reads the other side's stress.
const PART_OF_WALL: f64 = 0.5;

/// The stress averaged at the critical distance.
#[derive(Debug, Clone, Serialize)]
pub struct Notch {
    /// The larger of point and line method (MPa).
    pub notch_mpa: f64,
    /// What mesh and series may still move it by (MPa).
    pub bound_mpa: f64,
    pub point_mpa: f64,
    pub line_mpa: f64,
    pub critical_distance_mm: f64,
    pub from: Point,
    /// Unit vector into the iron: the normal at the hot spot.
    pub inward: Point,
    /// The same at the critical distances of the toughness band's two ends: distance (mm), stress (MPa).
    pub band: Vec<BandEnd>,
}

/// One end of the band that the metal's toughness leaves.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct BandEnd {
    pub toughness_n_mm15: f64,
    pub critical_distance_mm: f64,
    /// `None` where the wall is too thin for this distance.
    pub notch_mpa: Option<f64>,
}

/// Why there is no such stress.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NotchFault {
    /// The way into the iron before the line meets the wall's middle (mm), and what the line takes (mm).
    TooThin { wall_mm: f64, line_mm: f64 },
    /// The hot spot does not lie on the surface.
    Inside,
}

/// What the two methods give.
#[derive(Debug, Clone, Copy)]
struct Reading {
    point: f64,
    line: f64,
    point_doubt: f64,
    line_doubt: f64,
}

impl Reading {
    fn larger(&self) -> f64 {
        self.point.max(self.line)
    }

    fn bound(&self) -> f64 {
        if self.point > self.line { self.point_doubt } else { self.line_doubt }
    }
}

/// The path below a hot spot.
#[derive(Clone, Copy)]
pub struct NotchPath<'a> {
    pub solution: &'a Solution,
    pub case: usize,
    pub theta_rad: f64,
    pub from: Point,
    pub inward: Point,
    /// Iron along the path (mm).
    pub wall_mm: f64,
}

impl<'a> NotchPath<'a> {
    /// The path along the normal at the hot spot; `None` when that lies inside the iron.
    #[must_use]
    pub fn at(solution: &'a Solution, outline: &Outline, case: usize, peak: &Peak) -> Option<Self> {
        let own = outline.edges().min_by(|a, b| a.distance(peak.at).total_cmp(&b.distance(peak.at)))?;
        // The mesh follows arcs by parabolas: a hundredth of a millimetre is far more than they are off.
        if own.distance(peak.at) > 1e-2 {
            return None;
        }
        let inward = -own.outward(own.nearest(peak.at));
        let from = peak.at;
        let (low, high) = outline.bounds();
        let span = (high - low).norm();
        let step = 0.25;
        let mut wall_mm = 0.0;
        while wall_mm < span && outline.contains(from + inward * (wall_mm + step)) {
            wall_mm += step;
        }
        Some(Self { solution, case, theta_rad: peak.theta_rad, from, inward, wall_mm })
    }

    /// Recovered stress and its distance to the direct one at `s` mm below the surface.
    fn read(&self, s: f64) -> Option<(f64, f64)> {
        let p = self.from + self.inward * s;
        let TwoStresses { recovered, direct } = self.solution.two_stresses(self.case, p, self.theta_rad)?;
        let [smooth, raw] = [recovered, direct].map(|stress| principal_values(&stress)[0]);
        Some((smooth, (smooth - raw).abs()))
    }

    /// Where the line from 0 to `end` passes from element to element, with both ends.
    fn cuts(&self, end: f64) -> Vec<f64> {
        let mesh = &self.solution.mesh;
        let owner = |s: f64| {
            self.solution.locator.find(mesh, self.from + self.inward * s).map(|place| place.triangle)
        };
        let mut cuts = vec![0.0];
        // Just below the surface, on which rounding may leave a point outside every element.
        let mut before = (1e-6 * end, owner(1e-6 * end));
        for step in 1..=STEPS {
            let s = end * step as f64 / STEPS as f64;
            let here = owner(s);
            if here != before.1 {
                let (mut low, mut high) = (before.0, s);
                for _ in 0..BISECTIONS {
                    let middle = f64::midpoint(low, high);
                    if owner(middle) == before.1 { low = middle } else { high = middle }
                }
                cuts.push(f64::midpoint(low, high));
            }
            before = (s, here);
        }
        cuts.push(end);
        cuts
    }

    /// Mean and mean distance to the direct stress from 0 to `end`.
    fn mean(&self, end: f64) -> Option<(f64, f64)> {
        let (mut sum, mut doubt) = (0.0, 0.0);
        for part in self.cuts(end).windows(2) {
            let length = part[1] - part[0];
            for (place, weight) in GAUSS {
                let (value, gap) = self.read(part[0] + place * length)?;
                sum += weight * length * value;
                doubt += weight * length * gap;
            }
        }
        Some((sum / end, doubt / end))
    }

    fn reading(&self, critical_distance_mm: f64) -> Option<Reading> {
        if 2.0 * critical_distance_mm > PART_OF_WALL * self.wall_mm {
            return None;
        }
        let (line, line_doubt) = self.mean(2.0 * critical_distance_mm)?;
        let (point, _) = self.read(0.5 * critical_distance_mm)?;
        // At a single point the two stresses may cross by chance: their mean distance around it counts.
        let (_, point_doubt) = self.mean(critical_distance_mm)?;
        Some(Reading { point, line, point_doubt, line_doubt })
    }

    /// Point and line method at a critical distance (MPa); `None` where the wall is too thin for it.
    #[must_use]
    pub fn methods(&self, critical_distance_mm: f64) -> Option<(f64, f64)> {
        self.reading(critical_distance_mm).map(|reading| (reading.point, reading.line))
    }
}

/// The notch-averaged stress below `peak`. `toughness` is the metal's band, low and high; the low end, with
/// its shorter distance and higher stress, is the one that is judged.
///
/// # Errors
/// When the wall is too thin for the distance, or the hot spot is no surface point.
pub(crate) fn notch(
    solution: &Solution,
    outline: &Outline,
    peak: &Peak,
    toughness: (f64, f64),
    tensile_mpa: f64,
) -> Result<Notch, NotchFault> {
    let path = NotchPath::at(solution, outline, 0, peak).ok_or(NotchFault::Inside)?;
    let distance = critical_distance_mm(toughness.0, tensile_mpa);
    let too_thin = NotchFault::TooThin { wall_mm: path.wall_mm, line_mm: 2.0 * distance };
    let reading = path.reading(distance).ok_or(too_thin)?;
    let tail = solution.blocks.last().map_or(0.0, |block| block.change);
    let far = critical_distance_mm(toughness.1, tensile_mpa);
    let ends = [(toughness.0, distance, Some(reading)), (toughness.1, far, path.reading(far))];
    let band = ends.map(|(toughness_n_mm15, critical_distance_mm, reading)| BandEnd {
        toughness_n_mm15,
        critical_distance_mm,
        notch_mpa: reading.as_ref().map(Reading::larger),
    });
    Ok(Notch {
        notch_mpa: reading.larger(),
        bound_mpa: reading.bound() + tail * reading.larger().abs(),
        point_mpa: reading.point,
        line_mpa: reading.line,
        critical_distance_mm: distance,
        from: path.from,
        inward: path.inward,
        band: band.to_vec(),
    })
}

/// The stress at the iron's critical distance, or why there is none; neither for other metals.
pub(super) fn averaged(
    survey: &Survey,
    metal: &Metal,
    section: &Section,
    analysis: &Analysis,
) -> (Option<Notch>, Option<String>) {
    let Some(toughness) = metal.toughness_n_mm15.filter(|_| metal.brittle) else { return (None, None) };
    let peak = &analysis.tension[0];
    match notch(&analysis.solution, &section.outline, peak, toughness, metal.tensile_mpa) {
        Ok(notch) => (Some(notch), None),
        Err(NotchFault::Inside) => {
            (None, Some("the highest tension lies inside the iron, not at a surface".into()))
        }
        Err(NotchFault::TooThin { wall_mm, line_mm }) => {
            let show = |mm: f64| survey.print.show(Quantity::Length, mm);
            let why = format!(
                "the line of 2L = {} takes more than half of the {} of iron below the surface there",
                show(line_mm),
                show(wall_mm)
            );
            (None, Some(why))
        }
    }
}
