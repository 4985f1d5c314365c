//! A section's lines on paper: z to the right, r upwards, at a standard scale.

use crate::geometry::{Curve, Edge, Point};
use crate::report::drawing::{At, SCALES};
use crate::report::view::{View, above, standard_scale};

/// The part between two corners at the largest standard scale at which it takes no more than the room (mm), and the
/// scale's name.
pub(super) fn view(low: Point, high: Point, room: At) -> (View, &'static str) {
    let (scale, name) = standard_scale(&SCALES, (high.z - low.z, high.r - low.r), room);
    (View { low, high, scale, corner: (0.0, 0.0) }, name)
}

/// Points of edges that follow one another, cut off at the sides of the view.
pub(super) fn line(view: &View, edges: &[Edge]) -> Vec<At> {
    let mut points: Vec<Point> = Vec::new();
    for edge in edges {
        points.extend(along(edge));
    }
    let inside = |p: &Point| (view.low.z..=view.high.z).contains(&p.z);
    let mut kept: Vec<At> = Vec::new();
    for pair in points.windows(2) {
        let [a, b] = [pair[0], pair[1]];
        if !inside(&a) && !inside(&b) {
            continue;
        }
        let clipped = |p: Point, other: Point| {
            let z = p.z.clamp(view.low.z, view.high.z);
            if z == p.z { p } else { p.lerp(other, (z - p.z) / (other.z - p.z)) }
        };
        for p in [clipped(a, b), clipped(b, a)] {
            let at = view.at(p);
            if kept.last() != Some(&at) {
                kept.push(at);
            }
        }
    }
    kept
}

/// A closed loop's part at or above the lower side of the view.
pub(super) fn body(view: &View, edges: &[Edge]) -> Vec<At> {
    let points: Vec<Point> = edges.iter().flat_map(|edge| along(edge).into_iter().skip(1)).collect();
    above(&points, view.low.r).into_iter().map(|p| view.at(p)).collect()
}

/// Points of an edge, both ends included, every three degrees of an arc.
fn along(edge: &Edge) -> Vec<Point> {
    let steps = match edge.curve {
        Curve::Line => 1,
        Curve::Arc { sweep, .. } => (sweep.abs().to_degrees() / 3.0).ceil().max(3.0) as usize,
    };
    (0..=steps).map(|i| edge.at(i as f64 / steps as f64)).collect()
}
