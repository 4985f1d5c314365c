//! Which triangle holds a point, and where in it.

use super::Mesh;
use super::quality::{shape_gradients, shape_values};
use crate::geometry::Point;

/// A grid of buckets over the mesh, for finding triangles by place.
pub struct Locator {
    low: Point,
    cell: f64,
    columns: usize,
    rows: usize,
    buckets: Vec<Vec<usize>>,
    /// A box around every triangle, curved sides included.
    boxes: Vec<[Point; 2]>,
}

/// A place inside a triangle, in its natural coordinates.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    pub triangle: usize,
    pub s: f64,
    pub t: f64,
}

impl Place {
    /// Weights of the triangle's six nodes at this place.
    pub fn weights(&self) -> [f64; 6] {
        shape_values(self.s, self.t)
    }
}

impl Locator {
    pub fn new(mesh: &Mesh) -> Self {
        let mut low = Point::new(f64::INFINITY, f64::INFINITY);
        let mut high = Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
        for p in &mesh.nodes {
            low = Point::new(low.r.min(p.r), low.z.min(p.z));
            high = Point::new(high.r.max(p.r), high.z.max(p.z));
        }
        let size = high - low;
        let cell = (size.r * size.z / mesh.triangles.len() as f64).sqrt().max(1e-9);
        let columns = (size.r / cell) as usize + 1;
        let rows = (size.z / cell) as usize + 1;
        let buckets = vec![Vec::new(); columns * rows];
        let mut locator = Self { low, cell, columns, rows, buckets, boxes: Vec::new() };
        for (index, triangle) in mesh.triangles.iter().enumerate() {
            let points = triangle.map(|node| mesh.nodes[node]);
            let fold = |get: fn(&Point) -> f64| {
                let values = points.iter().map(get);
                let least = values.clone().fold(f64::INFINITY, f64::min);
                let most = values.fold(f64::NEG_INFINITY, f64::max);
                // A parabola through three points leaves their range by an eighth of it at the most.
                (least - 0.25 * (most - least), most + 0.25 * (most - least))
            };
            let ((r0, r1), (z0, z1)) = (fold(|p| p.r), fold(|p| p.z));
            let corners = [Point::new(r0, z0), Point::new(r1, z1)];
            locator.boxes.push(corners);
            let [(c0, w0), (c1, w1)] = corners.map(|corner| locator.bucket(corner));
            for row in w0..=w1 {
                for column in c0..=c1 {
                    locator.buckets[row * columns + column].push(index);
                }
            }
        }
        locator
    }

    fn bucket(&self, p: Point) -> (usize, usize) {
        let column = ((p.r - self.low.r) / self.cell).max(0.0) as usize;
        let row = ((p.z - self.low.z) / self.cell).max(0.0) as usize;
        (column.min(self.columns - 1), row.min(self.rows - 1))
    }

    fn may_hold(&self, triangle: usize, p: Point) -> bool {
        let [low, high] = self.boxes[triangle];
        (low.r..=high.r).contains(&p.r) && (low.z..=high.z).contains(&p.z)
    }

    /// The place of `p` in the mesh; `None` when it lies outside the body.
    pub fn find(&self, mesh: &Mesh, p: Point) -> Option<Place> {
        let (column, row) = self.bucket(p);
        self.buckets[row * self.columns + column]
            .iter()
            // Where the mesh is fine a bucket holds hundreds of triangles, and all but a few lie elsewhere.
            .filter(|index| self.may_hold(**index, p))
            .filter_map(|index| natural(mesh, *index, p))
            .min_by(|a, b| outside(a).total_cmp(&outside(b)))
            .filter(|place| outside(place) < 1e-6)
    }
}

impl Mesh {
    /// The point of the meshed outline nearest to `p`: on curved edges the mesh lies a little beside
    /// the outline itself.
    pub fn nearest_on_boundary(&self, p: Point) -> Point {
        let on = |edge: &[usize; 3], t: f64| {
            let [a, b, m] = edge.map(|node| self.nodes[node]);
            a * ((1.0 - t) * (1.0 - 2.0 * t)) + b * (t * (2.0 * t - 1.0)) + m * (4.0 * t * (1.0 - t))
        };
        let mut best = (f64::INFINITY, [0; 3], 0.0);
        for edge in &self.boundary {
            for t in [0.0, 0.25, 0.5, 0.75, 1.0] {
                let distance = on(&edge.nodes, t).distance(p);
                if distance < best.0 {
                    best = (distance, edge.nodes, t);
                }
            }
        }
        let (_, edge, middle) = best;
        let (mut low, mut high) = (f64::max(middle - 0.25, 0.0), f64::min(middle + 0.25, 1.0));
        // The distance has one minimum between the neighbouring samples: each step keeps two thirds.
        for _ in 0..80 {
            let third = (high - low) / 3.0;
            if on(&edge, low + third).distance(p) < on(&edge, high - third).distance(p) {
                high -= third;
            } else {
                low += third;
            }
        }
        on(&edge, 0.5 * (low + high))
    }
}

/// How far a place lies outside its triangle, in natural coordinates.
fn outside(place: &Place) -> f64 {
    (-place.s).max(-place.t).max(place.s + place.t - 1.0).max(0.0)
}

/// Natural coordinates of `p` in a curved triangle by Newton's method.
fn natural(mesh: &Mesh, index: usize, p: Point) -> Option<Place> {
    let triangle = &mesh.triangles[index];
    let (mut s, mut t) = (1.0 / 3.0, 1.0 / 3.0);
    for _ in 0..12 {
        let mut at = Point::default();
        let mut ds = Point::default();
        let mut dt = Point::default();
        for ((node, value), gradient) in triangle.iter().zip(shape_values(s, t)).zip(shape_gradients(s, t)) {
            let q = mesh.nodes[*node];
            at = at + q * value;
            ds = ds + q * gradient[0];
            dt = dt + q * gradient[1];
        }
        let det = ds.cross(dt);
        if det.abs() < 1e-300 {
            return None;
        }
        let rest = p - at;
        let (step_s, step_t) = (rest.cross(dt) / det, ds.cross(rest) / det);
        s += step_s;
        t += step_t;
        if step_s.abs() + step_t.abs() < 1e-13 {
            break;
        }
        if s.abs() + t.abs() > 10.0 {
            return None;
        }
    }
    Some(Place { triangle: index, s, t })
}
