//! Closed outlines of a body of revolution's section, and every reason one is invalid.

use super::{Curve, Edge, Point, intersect::meetings};
use thiserror::Error;

/// Closed loops of edges with named tags; the first loop is the outer one, the others are holes.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    pub loops: Vec<Vec<Edge>>,
    pub tags: Vec<String>,
}

/// Why an outline encloses no body.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum OutlineFault {
    #[error("the outline has no edges")]
    Empty,
    #[error("loop {loop_no}: edge {edge_no} has a coordinate that is not a finite number")]
    NotFinite { loop_no: usize, edge_no: usize },
    #[error("loop {loop_no}: edge {edge_no} at r {:.4}, z {:.4} mm has no length", .at.r, .at.z)]
    NoLength { loop_no: usize, edge_no: usize, at: Point },
    #[error("loop {loop_no}: edge {edge_no} starts {gap:.4} mm away from where the edge before it ends (r {:.4}, z {:.4} mm)", .at.r, .at.z)]
    Open { loop_no: usize, edge_no: usize, at: Point, gap: f64 },
    #[error("loop {loop_no}: edge {edge_no} reaches r = {r:.4} mm, beyond the shaft's axis")]
    BeyondAxis { loop_no: usize, edge_no: usize, r: f64 },
    #[error("edge '{first}' and edge '{second}' cross or touch at r {:.3}, z {:.3} mm", .at.r, .at.z)]
    Crossing { first: String, second: String, at: Point },
    #[error("loop {loop_no} encloses no area")]
    NoArea { loop_no: usize },
    #[error("hole {loop_no} does not lie inside the outer loop")]
    HoleOutside { loop_no: usize },
}

impl Outline {
    /// Index of the tag named `name`, added when it is new.
    pub fn tag(&mut self, name: &str) -> usize {
        self.tags.iter().position(|tag| tag == name).unwrap_or_else(|| {
            self.tags.push(name.to_owned());
            self.tags.len() - 1
        })
    }

    pub fn edges(&self) -> impl Iterator<Item = &Edge> {
        self.loops.iter().flatten()
    }

    pub fn tag_name(&self, edge: &Edge) -> &str {
        &self.tags[edge.tag]
    }

    /// Area of the section in mm².
    pub fn area(&self) -> f64 {
        0.5 * self.edges().map(Edge::double_area).sum::<f64>()
    }

    /// Smallest box around the outline: lowest and highest corner.
    pub fn bounds(&self) -> (Point, Point) {
        let mut low = Point::new(f64::INFINITY, f64::INFINITY);
        let mut high = Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
        for edge in self.edges() {
            for step in 0..=8 {
                let p = edge.at(f64::from(step) / 8.0);
                low = Point::new(low.r.min(p.r), low.z.min(p.z));
                high = Point::new(high.r.max(p.r), high.z.max(p.z));
            }
        }
        (low, high)
    }

    /// Whether `p` lies inside the body.
    pub fn contains(&self, p: Point) -> bool {
        // The winding number about p: how often the outline crosses the ray along r, upwards less downwards.
        let mut turns = 0;
        let followed = |edges: &[Edge], index: usize| edges[(index + 1) % edges.len()].start;
        let edges = self.loops.iter().flat_map(|edges| {
            // An end that differs from the next start by rounding must not be crossed twice.
            edges.iter().enumerate().map(move |(index, edge)| (edge, followed(edges, index)))
        });
        for (edge, end) in edges {
            // Seen from outside its circle an arc turns as its chord does.
            let steps = match edge.curve {
                Curve::Arc { centre, .. }
                    if edge.radius().is_none_or(|radius| p.distance(centre) <= radius) =>
                {
                    16
                }
                _ => 1,
            };
            let mut from = edge.start - p;
            for step in 1..=steps {
                let to = if step == steps { end } else { edge.at(f64::from(step) / f64::from(steps)) } - p;
                let left = from.cross(to);
                if from.z <= 0.0 && to.z > 0.0 && left > 0.0 {
                    turns += 1;
                } else if from.z > 0.0 && to.z <= 0.0 && left < 0.0 {
                    turns -= 1;
                }
                from = to;
            }
        }
        turns > 0
    }

    /// Turns every loop the way its role asks: the outer counter-clockwise, holes clockwise.
    pub fn orient(&mut self) {
        for (index, edges) in self.loops.iter_mut().enumerate() {
            let area: f64 = edges.iter().map(Edge::double_area).sum();
            if (area > 0.0) != (index == 0) {
                edges.reverse();
                for edge in edges {
                    *edge = edge.reversed();
                }
            }
        }
    }

    /// Re-entrant corners without a radius: loop index, index of the edge that leaves the corner,
    /// and the angle inside the body (rad, above π).
    pub fn sharp_corners(&self, tolerance: f64) -> Vec<(usize, usize, f64)> {
        let mut corners = Vec::new();
        for (loop_no, edges) in self.loops.iter().enumerate() {
            for (index, edge) in edges.iter().enumerate() {
                let before = &edges[(index + edges.len() - 1) % edges.len()];
                let (coming, going) = (before.tangent(1.0), edge.tangent(0.0));
                let turn = coming.cross(going).atan2(coming.dot(going));
                if turn < -tolerance {
                    corners.push((loop_no, index, std::f64::consts::PI - turn));
                }
            }
        }
        corners
    }

    /// Every reason why the outline is no valid section; empty when it is one.
    pub fn faults(&self) -> Vec<OutlineFault> {
        let mut faults = Vec::new();
        if self.loops.is_empty() || self.loops.iter().any(Vec::is_empty) {
            return vec![OutlineFault::Empty];
        }
        for (loop_no, edges) in self.loops.iter().enumerate() {
            for (edge_no, edge) in edges.iter().enumerate() {
                let before = &edges[(edge_no + edges.len() - 1) % edges.len()];
                let gap = before.end.distance(edge.start);
                if !edge.is_finite() {
                    faults.push(OutlineFault::NotFinite { loop_no, edge_no });
                } else if edge.length() < 1e-9 {
                    faults.push(OutlineFault::NoLength { loop_no, edge_no, at: edge.start });
                } else if gap > 1e-6 {
                    faults.push(OutlineFault::Open { loop_no, edge_no, at: edge.start, gap });
                }
                let lowest = (0..=16).map(|i| edge.at(f64::from(i) / 16.0).r).fold(f64::INFINITY, f64::min);
                if lowest < -1e-9 {
                    faults.push(OutlineFault::BeyondAxis { loop_no, edge_no, r: lowest });
                }
            }
        }
        if !faults.is_empty() {
            return faults;
        }
        self.crossings(&mut faults);
        for (loop_no, edges) in self.loops.iter().enumerate() {
            let area: f64 = edges.iter().map(Edge::double_area).sum();
            if area.abs() < 1e-9 {
                faults.push(OutlineFault::NoArea { loop_no });
            }
        }
        if faults.is_empty() && self.loops.len() > 1 {
            let outer = Self { loops: vec![self.loops[0].clone()], tags: Vec::new() };
            for (loop_no, edges) in self.loops.iter().enumerate().skip(1) {
                if !outer.contains(edges[0].at(0.5)) {
                    faults.push(OutlineFault::HoleOutside { loop_no });
                }
            }
        }
        faults
    }

    fn crossings(&self, faults: &mut Vec<OutlineFault>) {
        let all: Vec<(usize, usize, &Edge)> = self
            .loops
            .iter()
            .enumerate()
            .flat_map(|(l, edges)| edges.iter().enumerate().map(move |(i, edge)| (l, i, edge)))
            .collect();
        for (index, (loop_a, a_no, a)) in all.iter().enumerate() {
            for (loop_b, b_no, b) in &all[index + 1..] {
                let count = self.loops[*loop_a].len();
                let follows = loop_a == loop_b && (a_no + 1) % count == *b_no;
                let leads = loop_a == loop_b && (b_no + 1) % count == *a_no;
                // Neighbours share their common corner; anything beyond it is a fault.
                let shared =
                    |p: &Point| (follows && p.distance(a.end) < 1e-6) || (leads && p.distance(b.end) < 1e-6);
                if let Some(at) = meetings(a, b, 1e-7).into_iter().find(|p| !shared(p)) {
                    faults.push(OutlineFault::Crossing {
                        first: self.tag_name(a).to_owned(),
                        second: self.tag_name(b).to_owned(),
                        at,
                    });
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(points: &[(f64, f64)]) -> Vec<Edge> {
        let n = points.len();
        (0..n)
            .map(|i| {
                let (a, b) = (points[i], points[(i + 1) % n]);
                Edge::line(Point::new(a.0, a.1), Point::new(b.0, b.1), 0)
            })
            .collect()
    }

    fn outline(loops: Vec<Vec<Edge>>) -> Outline {
        Outline { loops, tags: vec!["side".into()] }
    }

    #[test]
    fn a_square_with_a_hole_is_valid() {
        let square = ring(&[(10.0, 0.0), (14.0, 0.0), (14.0, 5.0), (10.0, 5.0)]);
        let hole = ring(&[(11.0, 1.0), (11.0, 2.0), (12.0, 2.0), (12.0, 1.0)]);
        let body = outline(vec![square, hole]);
        assert!(body.faults().is_empty(), "{:?}", body.faults());
        assert!((body.area() - 19.0).abs() < 1e-12);
        assert!(body.contains(Point::new(10.5, 0.5)));
        assert!(!body.contains(Point::new(11.5, 1.5)));
    }

    /// A bar with a round end and a round bite, whose inside can be told in closed form.
    #[test]
    fn arcs_bulge_and_bite() {
        let point = Point::new;
        let edges = vec![
            Edge::line(point(10.0, 0.0), point(20.0, 0.0), 0),
            Edge::arc_between(point(20.0, 0.0), point(20.0, 6.0), point(20.0, 3.0), true, 0),
            Edge::line(point(20.0, 6.0), point(10.0, 6.0), 0),
            Edge::line(point(10.0, 6.0), point(10.0, 4.0), 0),
            Edge::arc_between(point(10.0, 4.0), point(10.0, 2.0), point(10.0, 3.0), false, 0),
            Edge::line(point(10.0, 2.0), point(10.0, 0.0), 0),
        ];
        let body = outline(vec![edges]);
        assert!(body.faults().is_empty(), "{:?}", body.faults());
        // The arcs are followed by chords of a sixteenth: places nearer to them than that are left out.
        for i in 0..=160 {
            for j in -10..=70 {
                let p = point(8.0 + 0.1 * f64::from(i), 0.1 * f64::from(j));
                let (end, bite) = (p.distance(point(20.0, 3.0)), p.distance(point(10.0, 3.0)));
                let borders = [p.z, p.z - 6.0, end - 3.0, bite - 1.0, p.r - 10.0];
                if borders.iter().any(|border| border.abs() < 0.02) {
                    continue;
                }
                let bar = (10.0..20.0).contains(&p.r) && (0.0..6.0).contains(&p.z) && bite > 1.0;
                let inside = bar || (p.r >= 20.0 && end < 3.0);
                assert_eq!(body.contains(p), inside, "r {}, z {}", p.r, p.z);
            }
        }
    }

    #[test]
    fn each_fault_is_found() {
        let bow = outline(vec![ring(&[(10.0, 0.0), (14.0, 5.0), (14.0, 0.0), (10.0, 5.0)])]);
        assert!(matches!(bow.faults()[0], OutlineFault::Crossing { .. }));
        let beyond = outline(vec![ring(&[(-1.0, 0.0), (4.0, 0.0), (4.0, 5.0)])]);
        assert!(matches!(beyond.faults()[0], OutlineFault::BeyondAxis { .. }));
        let mut open = outline(vec![ring(&[(10.0, 0.0), (14.0, 0.0), (14.0, 5.0)])]);
        open.loops[0][1].start.z = 0.5;
        assert!(matches!(open.faults()[0], OutlineFault::Open { .. }));
        let outside = outline(vec![
            ring(&[(10.0, 0.0), (14.0, 0.0), (14.0, 5.0), (10.0, 5.0)]),
            ring(&[(21.0, 1.0), (21.0, 2.0), (22.0, 2.0)]),
        ]);
        assert!(matches!(outside.faults()[0], OutlineFault::HoleOutside { .. }));
        assert_eq!(outline(vec![]).faults(), vec![OutlineFault::Empty]);
    }

    #[test]
    fn a_notch_is_a_sharp_corner_and_a_rounded_one_is_not() {
        let notch = ring(&[(10.0, 0.0), (20.0, 0.0), (20.0, 4.0), (15.0, 4.0), (15.0, 9.0), (10.0, 9.0)]);
        let corners = outline(vec![notch]).sharp_corners(0.01);
        assert_eq!(corners.len(), 1);
        assert!((corners[0].2 - 1.5 * std::f64::consts::PI).abs() < 1e-9);
    }
}
