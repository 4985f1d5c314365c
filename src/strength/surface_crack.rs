//! Stress intensity of a crack that starts at the surface of a wall under tension and bending.
//!
//! A wall of thickness t carries, square to the crack, the membrane stress σm and the bending stress σb, the latter at
//! the surface where the crack starts. K = √(πa)·(σm·F_m(a/t) + σb·F_b(a/t)). Two shapes: a crack that is long along
//! the surface against its depth, and a half-round one. Nothing beyond the range of the published solutions is
//! computed. Lacks cracks at corners of the section and stresses that are not straight through the wall.
//! Units: mm, MPa; toughness in N/mm^1.5.
//!
//! Sources, all from memory: Tada, Paris & Irwin, The Stress Analysis of Cracks Handbook, edge crack in a strip under
//! tension and under pure bending, as quoted in Anderson, Fracture Mechanics (0.5 % for a/t ≤ 0.6; the strip's ends are free to turn, which the rest of a rim hinders: on the safe side); Newman & Raju,
//! NASA TP-1578, 1979, and Engineering Fracture Mechanics 15 (1981) 185–192, surface crack in a plate (stated to 5 %
//! for a/t ≤ 0.8).

use crate::seeded::{Fault, planted};
use serde::Serialize;
use std::f64::consts::PI;

/// Steps in which a depth is first looked for, over the published range.
const STEPS: usize = 60;
/// Halvings of the step in which it was found.
const HALVINGS: usize = 40;

/// Shape of a surface crack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// Much longer along the surface than deep: an edge crack in a strip.
    Long,
    /// As deep as half of its length along the surface.
    HalfRound,
}

/// Factors on membrane and bending stress at one point of the crack's front: K/(σ·√(πa)).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factors {
    pub membrane: f64,
    pub bending: f64,
}

impl Shape {
    /// Deepest crack over the wall that the published solution covers.
    #[must_use]
    pub fn limit(self) -> f64 {
        match self {
            Self::Long => 0.6,
            Self::HalfRound => 0.8,
        }
    }

    /// Factors at the points of the front that can govern: the deepest one, and where the front meets the surface.
    /// A long crack has the deepest alone, given twice. `share` is a/t, from 0 to [`Shape::limit`].
    #[must_use]
    pub fn factors(self, share: f64) -> [Factors; 2] {
        match self {
            Self::Long => [long(share); 2],
            Self::HalfRound => half_round(share),
        }
    }
}

/// Σ c_i·xⁱ.
fn polynomial(coefficients: [f64; 5], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

/// Edge crack in a strip (Tada, Paris & Irwin).
fn long(x: f64) -> Factors {
    let membrane = polynomial([1.122, -0.231, 10.55, -21.71, 30.382], x);
    let bending = polynomial([1.122, -1.40, 7.33, -13.08, 14.0], x);
    Factors { membrane, bending: if planted(Fault::BendingAsTension) { membrane } else { bending } }
}

/// Newman & Raju's equations for a depth equal to half the length (a/c = 1) in a wide plate: deepest point and surface.
fn half_round(x: f64) -> [Factors; 2] {
    // The root of Q, with which their K = σ·√(πa/Q)·F; F = (M1 + M2 x² + M3 x⁴)·g.
    let root = (1.0f64 + 1.464).sqrt();
    let (m1, m2, m3) = (1.13 - 0.09, -0.54 + 0.89 / 1.2, 0.5 - 1.0 / 1.65);
    let square = x * x;
    let deep = (m1 + m2 * square + m3 * square * square) / root;
    let surface = deep * (1.1 + 0.35 * square);
    // H at the surface and at the deepest point: how much of the bending stress counts.
    let (at_surface, at_depth) =
        (1.0 - (0.34 + 0.11) * x, 1.0 - (1.22 + 0.12) * x + (0.55 - 1.05 + 0.47) * square);
    [
        Factors { membrane: deep, bending: at_depth * deep },
        Factors { membrane: surface, bending: at_surface * surface },
    ]
}

/// Stress intensity of a crack of depth `depth_mm` in a wall of `wall_mm`, N/mm^1.5: the larger of the two points.
/// A front that the stresses press together gives zero. `None` beyond the published range.
#[must_use]
pub fn intensity_n_mm15(
    shape: Shape,
    depth_mm: f64,
    wall_mm: f64,
    membrane_mpa: f64,
    bending_mpa: f64,
) -> Option<f64> {
    let share = depth_mm / wall_mm;
    if !(0.0..=shape.limit()).contains(&share) {
        return None;
    }
    let opening = |f: Factors| membrane_mpa * f.membrane + bending_mpa * f.bending;
    Some(from_opening(shape, depth_mm, share, &opening))
}

/// √(πa) times the larger opening stress of the front, not below zero; what is not a number stays.
fn from_opening(shape: Shape, depth_mm: f64, share: f64, opening: &dyn Fn(Factors) -> f64) -> f64 {
    let [deep, surface] = shape.factors(share).map(opening);
    let stress = if deep >= surface || deep.is_nan() { deep } else { surface };
    let stress = if stress < 0.0 { 0.0 } else { stress };
    (PI * depth_mm).sqrt() * stress
}

/// Least depth over the wall, a/t, at which the crack reaches `toughness_n_mm15`; `None` where that lies beyond the
/// published range. `opening` gives the stress that opens the crack for the factors at a point of its front.
#[must_use]
pub fn critical_share(
    shape: Shape,
    wall_mm: f64,
    toughness_n_mm15: f64,
    opening: &dyn Fn(Factors) -> f64,
) -> Option<f64> {
    let reached = |share: f64| {
        let intensity = from_opening(shape, share * wall_mm, share, opening);
        // What is not a number must not pass for a small one.
        intensity >= toughness_n_mm15 || intensity.is_nan()
    };
    let step = shape.limit() / STEPS as f64;
    // The first step that reaches it counts: under bending the intensity may fall again further in.
    let first = (1..=STEPS).map(|i| i as f64 * step).find(|share| reached(*share))?;
    let (mut low, mut high) = (first - step, first);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if reached(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};
    use crate::strength::fracture::critical_depth_mm;

    #[test]
    fn a_shallow_crack_is_one_at_the_edge_of_a_wide_plate() {
        let reason = "1.122 against the rounded 1.12, squared, and a/t of a thousandth";
        let opening = |f: Factors| 50.0 * f.membrane;
        for toughness in [320.0, 480.0] {
            let wall = 1000.0 * critical_depth_mm(toughness, 50.0);
            let share = critical_share(Shape::Long, wall, toughness, &opening).unwrap();
            let depth = share * wall;
            assert_close("a_c", depth, critical_depth_mm(toughness, 50.0), Tolerance::Relative(5e-3), reason);
        }
    }

    #[test]
    fn the_depth_found_reaches_the_toughness() {
        let opening = |f: Factors| 30.0 * f.membrane + 25.0 * f.bending;
        for shape in [Shape::Long, Shape::HalfRound] {
            let share = critical_share(shape, 25.0, 200.0, &opening).unwrap();
            let found = intensity_n_mm15(shape, 25.0 * share, 25.0, 30.0, 25.0).unwrap();
            assert_close("K", found, 200.0, Tolerance::Relative(1e-9), "the last halving of the step");
        }
        // A half-round crack is held by the iron beside it.
        let depth = |shape| critical_share(shape, 25.0, 200.0, &opening).unwrap();
        assert!(depth(Shape::HalfRound) > depth(Shape::Long));
    }

    #[test]
    fn nothing_is_told_beyond_the_published_range() {
        let little = |f: Factors| 0.1 * f.membrane;
        assert_eq!(critical_share(Shape::Long, 25.0, 320.0, &little), None);
        assert_eq!(intensity_n_mm15(Shape::Long, 15.1, 25.0, 10.0, 0.0), None);
        assert_eq!(intensity_n_mm15(Shape::HalfRound, -1.0, 25.0, 10.0, 0.0), None);
        assert_eq!(intensity_n_mm15(Shape::Long, 5.0, 25.0, -10.0, 1.0), Some(0.0));
        let none = |_: Factors| f64::NAN;
        assert!(critical_share(Shape::HalfRound, 25.0, 320.0, &none).is_some_and(|share| share < 0.02));
        assert!(intensity_n_mm15(Shape::Long, 5.0, 25.0, f64::NAN, 1.0).is_some_and(f64::is_nan));
    }
}
