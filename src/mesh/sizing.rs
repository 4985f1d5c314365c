//! How large elements may be, from curvature, wall thickness and what the caller asks.

use crate::geometry::{Curve, Edge, Outline, Point};

/// Element sizes asked of the mesh; lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Sizing {
    /// Largest element side anywhere.
    pub largest_mm: f64,
    /// Growth of the size per mm of distance from a fine place.
    pub growth: f64,
    /// Arc per element side on re-entrant arcs, where stress concentrates (rad).
    pub fillet_step_rad: f64,
    /// Arc per element side on other arcs (rad).
    pub arc_step_rad: f64,
    /// Elements through the local wall.
    pub through_wall: f64,
    /// Largest side along edges with this tag.
    pub on_tags: Vec<(String, f64)>,
    /// Largest side at single points.
    pub at_points: Vec<PointSize>,
    /// Most triangles the mesh may have.
    pub most_triangles: usize,
    /// How often every side of the finished mesh is halved.
    pub halvings: usize,
}

/// A size asked for at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointSize {
    pub at: Point,
    pub size_mm: f64,
}

impl Default for Sizing {
    fn default() -> Self {
        Self {
            largest_mm: f64::INFINITY,
            growth: 0.35,
            fillet_step_rad: 0.35,
            arc_step_rad: 0.7,
            through_wall: 2.5,
            on_tags: Vec::new(),
            at_points: Vec::new(),
            most_triangles: 400_000,
            halvings: 0,
        }
    }
}

/// The size field h(x) = min(largest, min over sources of (size + growth × distance)).
pub(super) struct Field {
    sources: Vec<PointSize>,
    largest: f64,
    growth: f64,
}

impl Field {
    pub(super) fn at(&self, p: Point) -> f64 {
        let mut size = self.largest;
        for source in &self.sources {
            // A cheap bound first: most sources are too far away to matter.
            let reach = (size - source.size_mm) / self.growth;
            let (dr, dz) = ((p.r - source.at.r).abs(), (p.z - source.at.z).abs());
            if dr < reach && dz < reach {
                size = size.min(source.size_mm + self.growth * dr.hypot(dz));
            }
        }
        size
    }
}

impl Sizing {
    pub(super) fn field(&self, outline: &Outline) -> Field {
        let (low, high) = outline.bounds();
        let span = (high - low).norm();
        let mut sources: Vec<PointSize> = self.at_points.clone();
        for edge in outline.edges() {
            let asked = self
                .on_tags
                .iter()
                .filter(|(name, _)| name == outline.tag_name(edge))
                .map(|(_, size)| *size)
                .fold(f64::INFINITY, f64::min);
            let curved = self.step_rad(edge) * edge.radius().unwrap_or(f64::INFINITY);
            let bound = asked.min(curved);
            let pieces = (edge.length() / bound.min(span / 40.0)).ceil().clamp(2.0, 400.0) as usize;
            for piece in 0..=pieces {
                let t = piece as f64 / pieces as f64;
                let at = edge.at(t);
                let inside = t.clamp(1e-3, 1.0 - 1e-3);
                let wall = thickness(outline, edge.at(inside), -edge.outward(inside));
                let size = bound.min(wall / self.through_wall);
                if size.is_finite() {
                    sources.push(PointSize { at, size_mm: size });
                }
            }
        }
        let largest = self.largest_mm.min(span / 5.0);
        prune(&mut sources, self.growth);
        Field { sources, largest, growth: self.growth }
    }

    /// Largest arc per element side on this edge (rad).
    pub(super) fn step_rad(&self, edge: &Edge) -> f64 {
        match edge.curve {
            Curve::Arc { sweep, .. } if sweep < 0.0 => self.fillet_step_rad,
            _ => self.arc_step_rad,
        }
    }
}

/// Length of the straight way through the body from `from` along `inward`.
fn thickness(outline: &Outline, from: Point, inward: Point) -> f64 {
    let mut nearest = f64::INFINITY;
    for edge in outline.edges() {
        match edge.curve {
            Curve::Line => {
                let run = edge.end - edge.start;
                let det = inward.cross(run);
                if det.abs() > 1e-12 {
                    let way = (edge.start - from).cross(run) / det;
                    let share = (edge.start - from).cross(inward) / det;
                    if way > 1e-6 && (0.0..=1.0).contains(&share) {
                        nearest = nearest.min(way);
                    }
                }
            }
            Curve::Arc { centre, .. } => {
                let radius = edge.radius().unwrap_or(0.0);
                let arm = from - centre;
                let half = arm.dot(inward);
                let square = half * half - arm.dot(arm) + radius * radius;
                if square > 0.0 {
                    for way in [-half - square.sqrt(), -half + square.sqrt()] {
                        if way > 1e-6 && way < nearest && edge.distance(from + inward * way) < 1e-6 {
                            nearest = way;
                        }
                    }
                }
            }
        }
    }
    nearest
}

/// Drops sources that a finer neighbour already governs.
fn prune(sources: &mut Vec<PointSize>, growth: f64) {
    sources.sort_by(|a, b| a.size_mm.total_cmp(&b.size_mm));
    let mut kept: Vec<PointSize> = Vec::new();
    for source in sources.iter() {
        let governed =
            kept.iter().any(|k| k.size_mm + growth * k.at.distance(source.at) <= source.size_mm * 1.02);
        if !governed {
            kept.push(*source);
        }
    }
    *sources = kept;
}
