//! Where two edges cross or touch.

use super::{Curve, Edge, Point};

/// Points common to the two edges' carrying curves (full line, full circle).
pub(super) fn carriers(a: &Carrier, b: &Carrier) -> Vec<Point> {
    match (a, b) {
        (Carrier::Line { at, along }, Carrier::Line { at: other, along: along_b }) => {
            let det = along.cross(*along_b);
            if det.abs() < 1e-12 {
                return Vec::new();
            }
            vec![*at + *along * ((*other - *at).cross(*along_b) / det)]
        }
        (Carrier::Line { at, along }, Carrier::Circle { centre, radius })
        | (Carrier::Circle { centre, radius }, Carrier::Line { at, along }) => {
            let foot = *at + *along * (*centre - *at).dot(*along);
            let square = radius * radius - foot.distance(*centre).powi(2);
            if square < 0.0 {
                return Vec::new();
            }
            let half = square.sqrt();
            vec![foot + *along * half, foot - *along * half]
        }
        (Carrier::Circle { centre: p, radius: s }, Carrier::Circle { centre: q, radius: t }) => {
            let d = p.distance(*q);
            if d < 1e-12 || d > s + t || d < (s - t).abs() {
                return Vec::new();
            }
            let along = (*q - *p).direction();
            let x = (d * d + s * s - t * t) / (2.0 * d);
            let y = (s * s - x * x).max(0.0).sqrt();
            vec![*p + along * x + along.left() * y, *p + along * x - along.left() * y]
        }
    }
}

/// The unbounded curve that carries an edge.
pub(super) enum Carrier {
    Line { at: Point, along: Point },
    Circle { centre: Point, radius: f64 },
}

impl Carrier {
    /// The carrier of `edge` moved by `offset` to its left; `None` when an arc vanishes.
    pub(super) fn offset(edge: &Edge, offset: f64) -> Option<Self> {
        match edge.curve {
            Curve::Line => {
                let along = edge.tangent(0.0);
                Some(Self::Line { at: edge.start + along.left() * offset, along })
            }
            Curve::Arc { centre, sweep } => {
                let radius = edge.start.distance(centre) - offset * sweep.signum();
                (radius > 0.0).then_some(Self::Circle { centre, radius })
            }
        }
    }
}

/// Points where the edges meet, end points included, within `tolerance` (mm).
pub(super) fn meetings(a: &Edge, b: &Edge, tolerance: f64) -> Vec<Point> {
    let (Some(ca), Some(cb)) = (Carrier::offset(a, 0.0), Carrier::offset(b, 0.0)) else {
        return Vec::new();
    };
    let mut found: Vec<Point> = carriers(&ca, &cb)
        .into_iter()
        .filter(|p| a.distance(*p) <= tolerance && b.distance(*p) <= tolerance)
        .collect();
    // Overlapping carriers (same line, same circle) have no isolated crossing; their ends tell.
    for p in [a.start, a.end] {
        if b.distance(p) <= tolerance {
            found.push(p);
        }
    }
    for p in [b.start, b.end] {
        if a.distance(p) <= tolerance {
            found.push(p);
        }
    }
    found
}
