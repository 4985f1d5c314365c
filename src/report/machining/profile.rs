//! A section's lines on paper: z to the right, r upwards, at a standard scale.

use crate::geometry::{Curve, Edge, Point};
use crate::report::drafting::At;
use crate::report::drawing::SCALES;

/// The part of a section that is drawn.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    pub low: Point,
    pub high: Point,
    pub scale: f64,
    pub name: &'static str,
    /// Where `low.z` and `high.r` meet on paper (mm).
    pub corner: At,
}

impl View {
    /// The largest standard scale at which the part takes no more than the room (mm).
    pub fn new(low: Point, high: Point, room: At, corner: At) -> Self {
        let fits = |(scale, _): &&(f64, &str)| {
            (high.z - low.z) * scale <= room.0 && (high.r - low.r) * scale <= room.1
        };
        let (scale, name) = *SCALES.iter().find(fits).unwrap_or(&SCALES[SCALES.len() - 1]);
        Self { low, high, scale, name, corner }
    }

    pub fn x(&self, z: f64) -> f64 {
        self.corner.0 + (z - self.low.z) * self.scale
    }

    pub fn y(&self, r: f64) -> f64 {
        self.corner.1 + (self.high.r - r) * self.scale
    }

    pub fn at(&self, p: Point) -> At {
        (self.x(p.z), self.y(p.r))
    }

    pub fn width(&self) -> f64 {
        (self.high.z - self.low.z) * self.scale
    }

    pub fn height(&self) -> f64 {
        (self.high.r - self.low.r) * self.scale
    }

    /// Points of edges that follow one another, cut off at the sides of the view.
    pub fn line(&self, edges: &[Edge]) -> Vec<At> {
        let mut points: Vec<Point> = Vec::new();
        for edge in edges {
            points.extend(along(edge));
        }
        let inside = |p: &Point| (self.low.z..=self.high.z).contains(&p.z);
        let mut kept: Vec<At> = Vec::new();
        for pair in points.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            if !inside(&a) && !inside(&b) {
                continue;
            }
            let clipped = |p: Point, other: Point| {
                let z = p.z.clamp(self.low.z, self.high.z);
                if z == p.z { p } else { p.lerp(other, (z - p.z) / (other.z - p.z)) }
            };
            for p in [clipped(a, b), clipped(b, a)] {
                let at = self.at(p);
                if kept.last() != Some(&at) {
                    kept.push(at);
                }
            }
        }
        kept
    }

    /// A closed loop's part at or above `low.r` (Sutherland and Hodgman's way).
    pub fn body(&self, edges: &[Edge]) -> Vec<At> {
        let points: Vec<Point> = edges.iter().flat_map(|edge| along(edge).into_iter().skip(1)).collect();
        let least = self.low.r;
        let mut kept = Vec::new();
        for (index, b) in points.iter().enumerate() {
            let a = points[(index + points.len() - 1) % points.len()];
            if (a.r >= least) != (b.r >= least) {
                kept.push(self.at(a.lerp(*b, (least - a.r) / (b.r - a.r))));
            }
            if b.r >= least {
                kept.push(self.at(*b));
            }
        }
        kept
    }
}

/// Points of an edge, both ends included, every three degrees of an arc.
fn along(edge: &Edge) -> Vec<Point> {
    let steps = match edge.curve {
        Curve::Line => 1,
        Curve::Arc { sweep, .. } => (sweep.abs().to_degrees() / 3.0).ceil().max(3.0) as usize,
    };
    (0..=steps).map(|i| edge.at(i as f64 / steps as f64)).collect()
}
