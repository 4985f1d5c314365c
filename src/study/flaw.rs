//! How deep a surface crack would have to be to reach the iron's toughness, at the peak and at chosen places.
//!
//! Through the wall at the place the stress of every angle is split into membrane and bending; the crack may lie at
//! any turn about the way through the wall, and the wheel turns, so the worst turn and the worst angle count for every
//! depth. What rises above the straight part at the surface is counted by a second bending part that begins at the
//! surface's own stress; the worse of the two counts. Owns no word on whether a cracked wheel may run: none may.
//! Units: mm, MPa, rad; toughness in N/mm^1.5.

use super::through_wall::{SAMPLES, share_of, way};
use super::words::place_words;
use super::{Analysis, CheckFault, ThroughWall};
use crate::elastic::{Harmonic, Solution, Stress};
use crate::geometry::Point;
use crate::material::Metal;
use crate::section::Section;
use crate::strength::linearise;
use crate::strength::surface_crack::{Factors, Shape, critical_share};
use crate::survey::Survey;
use serde::Serialize;
use std::f64::consts::{PI, TAU};

/// Angles of the turn at which the crack is looked at.
const ANGLES: usize = 180;
/// How far from the surface a chosen place may lie (mm): what a rule reads.
const BESIDE_MM: f64 = 2.0;

/// Cracks at one place of the surface.
#[derive(Debug, Clone, Serialize)]
pub struct Flaw {
    pub at: Point,
    pub words: String,
    /// True where the place was chosen, false for the place of the highest tension.
    pub chosen: bool,
    /// Where the way through the wall ends, and its length.
    pub to: Point,
    pub wall_mm: f64,
    /// Angle at which the tension along the surface is highest, with that tension, and membrane and bending stress in
    /// its direction.
    pub theta_rad: f64,
    pub surface_mpa: f64,
    pub membrane_mpa: f64,
    pub bending_mpa: f64,
    pub cracks: Vec<CrackDepth>,
}

/// The depth at which one crack reaches one toughness.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct CrackDepth {
    pub shape: Shape,
    pub toughness_n_mm15: f64,
    /// `None` where the crack would have to be deeper than the published solution covers.
    pub depth_mm: Option<f64>,
    pub wall_share: Option<f64>,
    /// Deepest crack over the wall that the solution covers.
    pub covered_wall_share: f64,
}

/// Why nothing can be said of a chosen place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FlawFault {
    /// It does not lie on the surface; the nearest place that does.
    OffSurface { asked: Point, nearest: Point },
    /// It lies in the hub or what holds the rim, whose stress is not judged.
    NotJudged { asked: Point, fence_mm: f64 },
    /// There is no way through a wall there.
    NoWall { asked: Point },
}

/// Cracks at the peak, on its way through the wall, and at every chosen place; none for metals whose toughness is not known.
///
/// # Errors
/// When a chosen place is not on the judged surface.
#[tracing::instrument(name = "surface cracks", skip_all)]
pub(super) fn flaws(
    survey: &Survey,
    metal: &Metal,
    section: &Section,
    analysis: &Analysis,
    peak_wall: Option<&ThroughWall>,
    chosen: &[Point],
) -> Result<Vec<Flaw>, CheckFault> {
    let places = chosen.iter().map(|asked| on_surface(section, *asked)).collect::<Result<Vec<_>, _>>()?;
    let Some(toughness) = metal.toughness_n_mm15.filter(|_| metal.brittle) else { return Ok(Vec::new()) };
    let solution = &analysis.solution;
    let at_peak = peak_wall.and_then(|wall| WallTurn::along(solution, section, (wall.from, wall.to)));
    let mut flaws: Vec<Flaw> =
        at_peak.iter().map(|wall| wall.flaw(survey, section, toughness, false)).collect();
    for asked in places {
        let wall = way(section, asked).and_then(|way| WallTurn::along(solution, section, way));
        let wall = wall.ok_or(FlawFault::NoWall { asked })?;
        flaws.push(wall.flaw(survey, section, toughness, true));
    }
    Ok(flaws)
}

fn on_surface(section: &Section, asked: Point) -> Result<Point, FlawFault> {
    let on = |edge: &crate::geometry::Edge| edge.at(edge.nearest(asked));
    let nearest = section
        .outline
        .edges()
        .map(on)
        .min_by(|a, b| a.distance(asked).total_cmp(&b.distance(asked)))
        .ok_or(FlawFault::NoWall { asked })?;
    // What is not a number lies nowhere.
    let beside = nearest.distance(asked);
    if beside > BESIDE_MM || beside.is_nan() {
        return Err(FlawFault::OffSurface { asked, nearest });
    }
    if nearest.r < section.fence_radius_mm {
        return Err(FlawFault::NotJudged { asked, fence_mm: section.fence_radius_mm });
    }
    Ok(nearest)
}

/// Stresses in the two directions square to the way through the wall, or along its surface: hoop, across, shear (MPa).
type Along = [f64; 3];

/// The wall at one place over the whole turn.
struct WallTurn {
    from: Point,
    to: Point,
    length_mm: f64,
    /// For every angle: membrane stress, bending stress at the place, and the place's own stress.
    turn: Vec<[Along; 3]>,
}

impl WallTurn {
    fn along(solution: &Solution, section: &Section, (from, to): (Point, Point)) -> Option<Self> {
        let length_mm = from.distance(to);
        // Every sample's elements and weights serve all harmonics.
        let spots: Vec<([usize; 6], [f64; 6])> = (0..SAMPLES)
            .map(|i| {
                let spot = solution.locator.find(&solution.mesh, from.lerp(to, share_of(i)))?;
                Some((solution.mesh.triangles[spot.triangle], spot.weights()))
            })
            .collect::<Option<_>>()?;
        let places: Vec<f64> = (0..SAMPLES).map(|i| share_of(i) * length_mm).collect();
        let across = (to - from).direction().left();
        // At a corner the surface slants against the way: its own stress is read along itself.
        let edges = section.outline.edges();
        let own = edges.min_by(|a, b| a.distance(from).total_cmp(&b.distance(from)))?;
        let along_surface = own.outward(own.nearest(from)).left();
        let parts: Vec<(usize, [[Along; 3]; 2])> = solution.cases[0]
            .iter()
            .map(|harmonic| {
                let family = |offset: usize| {
                    let run: Vec<Stress> = spots.iter().map(|spot| stress(harmonic, spot, offset)).collect();
                    let linear = linearise(&places, &run);
                    let [membrane, bending] = [linear.membrane, linear.bending].map(|s| along(&s, across));
                    [membrane, bending, along(&run[0], along_surface)]
                };
                (harmonic.n, [family(0), family(6)])
            })
            .collect();
        let turn = (0..ANGLES)
            .map(|row| {
                let mut sum = [[0.0; 3]; 3];
                for (n, [even, odd]) in &parts {
                    let (sin, cos) = (*n as f64 * theta(row)).sin_cos();
                    for (part, (e, o)) in sum.iter_mut().zip(even.iter().zip(odd)) {
                        for i in 0..3 {
                            part[i] += e[i] * cos + o[i] * sin;
                        }
                    }
                }
                sum
            })
            .collect();
        Some(Self { from, to, length_mm, turn })
    }

    /// What opens the crack most, at any angle of the turn and any turn of the crack (MPa).
    fn opening(&self, factors: Factors) -> f64 {
        let mut most = f64::NEG_INFINITY;
        for [membrane, bending, surface] in &self.turn {
            let mixed = |second: &dyn Fn(usize) -> f64| -> Along {
                std::array::from_fn(|i| factors.membrane * membrane[i] + factors.bending * second(i))
            };
            let straight = highest(&mixed(&|i| bending[i]));
            let raised = highest(&mixed(&|i| surface[i] - membrane[i]));
            for stress in [straight, raised] {
                // What is not a number stays.
                if !(stress <= most || most.is_nan()) {
                    most = stress;
                }
            }
        }
        most
    }

    fn flaw(&self, survey: &Survey, section: &Section, toughness: (f64, f64), chosen: bool) -> Flaw {
        let tension = |row: &usize| highest(&self.turn[*row][2]);
        let row = (0..ANGLES).max_by(|a, b| tension(a).total_cmp(&tension(b))).unwrap_or(0);
        let [membrane, bending, surface] = &self.turn[row];
        let normal = direction(surface);
        let on = |s: &Along| {
            s[0] * normal[0] * normal[0] + s[1] * normal[1] * normal[1] + 2.0 * s[2] * normal[0] * normal[1]
        };
        let mut cracks = Vec::new();
        for shape in [Shape::Long, Shape::HalfRound] {
            for toughness_n_mm15 in [toughness.0, toughness.1] {
                let opening = |factors: Factors| self.opening(factors);
                let wall_share = critical_share(shape, self.length_mm, toughness_n_mm15, &opening);
                cracks.push(CrackDepth {
                    shape,
                    toughness_n_mm15,
                    depth_mm: wall_share.map(|share| share * self.length_mm),
                    wall_share,
                    covered_wall_share: shape.limit(),
                });
            }
        }
        Flaw {
            at: self.from,
            words: place_words(survey, section, self.from, theta(row)),
            chosen,
            to: self.to,
            wall_mm: self.length_mm,
            theta_rad: theta(row),
            surface_mpa: highest(surface),
            membrane_mpa: on(membrane),
            bending_mpa: on(bending),
            cracks,
        }
    }
}

fn theta(row: usize) -> f64 {
    row as f64 * (TAU / ANGLES as f64) - PI
}

/// One harmonic's cosine (offset 0) or sine (offset 6) part at a sample.
fn stress(harmonic: &Harmonic, (nodes, weights): &([usize; 6], [f64; 6]), offset: usize) -> Stress {
    let mut sum = [0.0; 6];
    for (node, weight) in nodes.iter().zip(weights) {
        for (i, part) in sum.iter_mut().enumerate() {
            *part += weight * harmonic.stress[*node][i + offset];
        }
    }
    sum
}

/// The stress in the plane square to the way through the wall; `across` is that plane's direction in the section.
fn along([rr, tt, zz, rt, tz, rz]: &Stress, across: Point) -> Along {
    let (r, z) = (across.r, across.z);
    [*tt, rr * r * r + zz * z * z + 2.0 * rz * r * z, rt * r + tz * z]
}

/// Largest principal value in that plane.
fn highest([hoop, across, shear]: &Along) -> f64 {
    let half = 0.5 * (hoop - across);
    0.5 * (hoop + across) + (half * half + shear * shear).sqrt()
}

/// Its direction: shares of hoop and across.
fn direction([hoop, across, shear]: &Along) -> [f64; 2] {
    let angle = 0.5 * shear.atan2(0.5 * (hoop - across));
    [angle.cos(), angle.sin()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};
    use crate::strength::surface_crack::intensity_n_mm15;

    fn wall(turn: Vec<[Along; 3]>) -> WallTurn {
        WallTurn { from: Point::new(300.0, 0.0), to: Point::new(275.0, 0.0), length_mm: 25.0, turn }
    }

    #[test]
    fn the_worst_angle_and_the_worst_turn_of_the_crack_count() {
        // Membrane 20 and bending 30 along a direction at 35°, at one angle of four; little elsewhere.
        let (sin, cos) = 35f64.to_radians().sin_cos();
        let pull = |mpa: f64| [mpa * cos * cos, mpa * sin * sin, mpa * sin * cos];
        let little = [pull(2.0), pull(1.0), pull(3.0)];
        let wall = wall(vec![little, [pull(20.0), pull(30.0), pull(50.0)], little, little]);
        for shape in [Shape::Long, Shape::HalfRound] {
            let share = critical_share(shape, 25.0, 200.0, &|f| wall.opening(f)).unwrap();
            let found = intensity_n_mm15(shape, 25.0 * share, 25.0, 20.0, 30.0).unwrap();
            assert_close("K", found, 200.0, Tolerance::Relative(1e-9), "the last halving of the step");
        }
    }

    #[test]
    fn a_rise_at_the_surface_makes_the_depth_less() {
        let pull = |mpa: f64| [mpa, 0.0, 0.0];
        let plain = wall(vec![[pull(20.0), pull(30.0), pull(50.0)]]);
        let raised = wall(vec![[pull(20.0), pull(30.0), pull(80.0)]]);
        let depth = |wall: &WallTurn| critical_share(Shape::Long, 25.0, 200.0, &|f| wall.opening(f)).unwrap();
        assert!(depth(&raised) < depth(&plain));
    }

    #[test]
    fn what_is_not_a_number_opens_any_crack() {
        let wall = wall(vec![[[f64::NAN, 0.0, 0.0]; 3]]);
        assert!(critical_share(Shape::Long, 25.0, 200.0, &|f| wall.opening(f)).is_some_and(|s| s < 0.02));
    }

    #[test]
    fn stresses_square_to_the_wall_do_not_count() {
        // A way along z: the surface's directions are hoop and radius.
        let way = Point::new(0.0, 1.0);
        let stress = [4.0, 7.0, 90.0, 2.0, 50.0, 60.0];
        let found = along(&stress, way.left());
        assert_close("across", found[1], 4.0, Tolerance::Absolute(1e-12), "the component itself");
        assert_close("hoop", found[0], 7.0, Tolerance::Absolute(1e-12), "the component itself");
        assert_close("shear", found[2].abs(), 2.0, Tolerance::Absolute(1e-12), "the component itself");
    }
}
