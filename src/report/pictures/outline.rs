//! A section's outline as points on a drawing, cut off below a radius.

use crate::geometry::{Curve, Edge, Outline, Point};
use crate::report::drawing::At;
use crate::report::view::{View, above};

/// Points along an edge, its ends included; a chord leaves its arc by no more than a tenth of a px.
pub(super) fn points(edge: &Edge, scale: f64) -> Vec<Point> {
    let steps = match edge.curve {
        Curve::Line => 1,
        Curve::Arc { centre, sweep } => {
            let radius = edge.start.distance(centre) * scale;
            let step = 2.0 * (1.0 - (0.1 / radius.max(0.2)).min(1.0)).acos();
            (sweep.abs() / step.max(0.02)).ceil().max(2.0) as usize
        }
    };
    (0..=steps).map(|i| edge.at(i as f64 / steps as f64)).collect()
}

/// The outline's loops, what lies below `low.r` of the view left out.
pub(super) fn loops(outline: &Outline, view: &View) -> Vec<Vec<At>> {
    let ring = |edges: &Vec<Edge>| {
        let mut all: Vec<Point> = Vec::new();
        for edge in edges {
            let mut own = points(edge, view.scale);
            own.pop();
            all.append(&mut own);
        }
        above(&all, view.low.r).into_iter().map(|p| view.at(p)).collect::<Vec<At>>()
    };
    outline.loops.iter().map(ring).filter(|points: &Vec<At>| points.len() > 2).collect()
}

/// The parts of an edge above `least`, as lines on the drawing.
pub(super) fn strokes(edge: &Edge, view: &View) -> Vec<Vec<At>> {
    let mut lines: Vec<Vec<At>> = Vec::new();
    let mut open = false;
    for pair in points(edge, view.scale).windows(2) {
        let [a, b] = [pair[0], pair[1]];
        let least = view.low.r;
        if a.r < least && b.r < least {
            open = false;
            continue;
        }
        let cut = |p: Point, other: Point| {
            if p.r >= least { p } else { p.lerp(other, (least - p.r) / (other.r - p.r)) }
        };
        let (from, to) = (view.at(cut(a, b)), view.at(cut(b, a)));
        match lines.last_mut().filter(|_| open && a.r >= least) {
            Some(line) => line.push(to),
            None => lines.push(vec![from, to]),
        }
        open = b.r >= least;
    }
    lines
}

/// Stretches of z in which the body is cut at the radius `r`, in order.
pub(super) fn cut_at(outline: &Outline, r: f64) -> Vec<(f64, f64)> {
    let mut crossings: Vec<f64> = Vec::new();
    for edge in outline.edges() {
        for pair in points(edge, 1.0).windows(2) {
            if (pair[0].r >= r) != (pair[1].r >= r) {
                let share = (r - pair[0].r) / (pair[1].r - pair[0].r);
                crossings.push(pair[0].z + share * (pair[1].z - pair[0].z));
            }
        }
    }
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}
