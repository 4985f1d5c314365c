//! One edge of an outline: a straight segment or a circular arc.

use super::Point;
use std::f64::consts::TAU;

/// How an edge runs from its start to its end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    Line,
    /// `sweep` is the signed angle from start to end, counter-clockwise positive, in rad.
    Arc {
        centre: Point,
        sweep: f64,
    },
}

/// A directed edge; the body lies to its left. `tag` indexes the outline's tag names.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    pub start: Point,
    pub end: Point,
    pub curve: Curve,
    pub tag: usize,
}

impl Edge {
    pub fn line(start: Point, end: Point, tag: usize) -> Self {
        Self { start, end, curve: Curve::Line, tag }
    }

    /// Arc about `centre` from `start` by `sweep` (rad, counter-clockwise positive).
    pub fn arc(start: Point, centre: Point, sweep: f64, tag: usize) -> Self {
        let arm = start - centre;
        let end = centre + Point::unit(arm.angle() + sweep) * arm.norm();
        Self { start, end, curve: Curve::Arc { centre, sweep }, tag }
    }

    /// Arc about `centre` from `start` to `end`, turning left (counter-clockwise) or right.
    pub fn arc_between(start: Point, end: Point, centre: Point, left: bool, tag: usize) -> Self {
        let turn = (end - centre).angle() - (start - centre).angle();
        let sweep = if left { turn.rem_euclid(TAU) } else { -(-turn).rem_euclid(TAU) };
        Self { start, end, curve: Curve::Arc { centre, sweep }, tag }
    }

    /// Arc that leaves `start` along `tangent` and ends in `end`; a straight line where they agree.
    pub fn arc_from_tangent(start: Point, tangent: Point, end: Point, tag: usize) -> Self {
        let chord = end - start;
        let sine = tangent.direction().cross(chord.direction());
        if sine.abs() < 1e-6 {
            return Self::line(start, end, tag);
        }
        let radius = chord.norm() / (2.0 * sine);
        let centre = start + tangent.direction().left() * radius;
        let cosine = tangent.direction().dot(chord.direction());
        Self { start, end, curve: Curve::Arc { centre, sweep: 2.0 * sine.atan2(cosine) }, tag }
    }

    pub fn radius(&self) -> Option<f64> {
        match self.curve {
            Curve::Line => None,
            Curve::Arc { centre, .. } => Some(self.start.distance(centre)),
        }
    }

    pub fn length(&self) -> f64 {
        match self.curve {
            Curve::Line => self.start.distance(self.end),
            Curve::Arc { centre, sweep } => self.start.distance(centre) * sweep.abs(),
        }
    }

    /// The point at the share `t` (0 to 1) of the edge's length.
    pub fn at(&self, t: f64) -> Point {
        if t <= 0.0 {
            return self.start;
        }
        if t >= 1.0 {
            return self.end;
        }
        match self.curve {
            Curve::Line => self.start.lerp(self.end, t),
            Curve::Arc { centre, sweep } => {
                let arm = self.start - centre;
                centre + Point::unit(arm.angle() + sweep * t) * arm.norm()
            }
        }
    }

    /// Unit tangent in the direction of travel at the share `t` of the length.
    pub fn tangent(&self, t: f64) -> Point {
        match self.curve {
            Curve::Line => (self.end - self.start).direction(),
            Curve::Arc { centre, sweep } => {
                let arm = Point::unit((self.start - centre).angle() + sweep * t);
                arm.left() * sweep.signum()
            }
        }
    }

    /// Unit normal pointing out of the body.
    pub fn outward(&self, t: f64) -> Point {
        -self.tangent(t).left()
    }

    /// Share of the length, clamped to the edge, at which the edge is nearest to `p`.
    pub fn nearest(&self, p: Point) -> f64 {
        match self.curve {
            Curve::Line => {
                let run = self.end - self.start;
                let square = run.dot(run);
                if square == 0.0 { 0.0 } else { ((p - self.start).dot(run) / square).clamp(0.0, 1.0) }
            }
            Curve::Arc { centre, sweep } => {
                let turn = ((p - centre).angle() - (self.start - centre).angle()) * sweep.signum();
                let turn = turn.rem_euclid(TAU);
                if turn <= sweep.abs() {
                    turn / sweep.abs()
                } else if turn - sweep.abs() < TAU - turn {
                    1.0
                } else {
                    0.0
                }
            }
        }
    }

    pub fn distance(&self, p: Point) -> f64 {
        p.distance(self.at(self.nearest(p)))
    }

    /// The part of the edge between the shares `from` and `to` of its length.
    pub fn part(&self, from: f64, to: f64) -> Self {
        let curve = match self.curve {
            Curve::Line => Curve::Line,
            Curve::Arc { centre, sweep } => Curve::Arc { centre, sweep: sweep * (to - from) },
        };
        Self { start: self.at(from), end: self.at(to), curve, tag: self.tag }
    }

    pub fn reversed(&self) -> Self {
        let curve = match self.curve {
            Curve::Line => Curve::Line,
            Curve::Arc { centre, sweep } => Curve::Arc { centre, sweep: -sweep },
        };
        Self { start: self.end, end: self.start, curve, tag: self.tag }
    }

    /// Twice the signed area between the edge and the origin; summed over a loop it gives the area.
    pub fn double_area(&self) -> f64 {
        let chord = self.start.cross(self.end);
        match self.curve {
            Curve::Line => chord,
            Curve::Arc { sweep, .. } => {
                let radius = self.radius().unwrap_or(0.0);
                chord + radius * radius * (sweep - sweep.sin())
            }
        }
    }

    pub fn is_finite(&self) -> bool {
        let curve = match self.curve {
            Curve::Line => true,
            Curve::Arc { centre, sweep } => centre.is_finite() && sweep.is_finite(),
        };
        self.start.is_finite() && self.end.is_finite() && curve
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_ends_where_its_sweep_says() {
        let edge = Edge::arc(Point::new(3.0, 1.0), Point::new(1.0, 1.0), -1.2, 0);
        assert!(edge.end.distance(Point::new(1.0 + 2.0 * 1.2f64.cos(), 1.0 - 2.0 * 1.2f64.sin())) < 1e-12);
        assert!((edge.length() - 2.4).abs() < 1e-12);
        let middle = edge.at(0.5);
        assert!((edge.nearest(middle) - 0.5).abs() < 1e-12);
        assert!((edge.tangent(0.5).dot(edge.outward(0.5))).abs() < 1e-12);
    }

    #[test]
    fn an_arc_from_a_tangent_keeps_that_tangent() {
        let tangent = Point::new(1.0, 0.3).direction();
        let edge = Edge::arc_from_tangent(Point::new(2.0, 5.0), tangent, Point::new(4.0, 7.5), 0);
        assert!(edge.tangent(0.0).distance(tangent) < 1e-9);
        assert!(edge.at(0.999_999_999).distance(edge.end) < 1e-6);
    }

    #[test]
    fn loop_area_counts_the_arcs() {
        let c = Point::new(10.0, 4.0);
        let half = |from: f64| Edge::arc(c + Point::unit(from) * 2.0, c, std::f64::consts::PI, 0);
        let area = 0.5 * (half(0.0).double_area() + half(std::f64::consts::PI).double_area());
        assert!((area - 4.0 * std::f64::consts::PI).abs() < 1e-12);
    }
}
