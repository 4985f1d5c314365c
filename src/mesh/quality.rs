//! How good a mesh is, and the least that is accepted.

use super::smooth::smallest_angle;
use super::{Mesh, MeshFault};
use crate::geometry::{Outline, Point};
use serde::Serialize;

/// Least inner angle accepted (degrees), except at outline corners that are sharper themselves.
const LEAST_ANGLE_DEG: f64 = 28.0;

#[derive(Debug, Clone, Copy, Default, Serialize)]
pub struct Quality {
    pub triangles: usize,
    pub nodes: usize,
    /// Smallest inner angle of the straight triangles, in degrees.
    pub smallest_angle_deg: f64,
    /// Smallest ratio of least to largest Jacobian determinant within one curved triangle.
    pub jacobian_ratio: f64,
    pub shortest_side_mm: f64,
}

impl Quality {
    pub(super) fn of(mesh: &Mesh) -> Self {
        let mut quality = Self {
            triangles: mesh.triangles.len(),
            nodes: mesh.nodes.len(),
            smallest_angle_deg: f64::INFINITY,
            jacobian_ratio: f64::INFINITY,
            shortest_side_mm: f64::INFINITY,
        };
        for triangle in &mesh.triangles {
            let p = corners(mesh, triangle);
            quality.smallest_angle_deg = quality.smallest_angle_deg.min(smallest_angle(p).to_degrees());
            quality.jacobian_ratio = quality.jacobian_ratio.min(jacobian_ratio(mesh, triangle));
            for i in 0..3 {
                quality.shortest_side_mm = quality.shortest_side_mm.min(p[i].distance(p[(i + 1) % 3]));
            }
        }
        quality
    }
}

fn corners(mesh: &Mesh, triangle: &[usize; 6]) -> [Point; 3] {
    [0, 1, 2].map(|i| mesh.nodes[triangle[i]])
}

/// Gradients of the six shape functions with respect to the natural coordinates (s, t) of a triangle
/// whose vertices are (0,0), (1,0), (0,1); node order v0 v1 v2 m01 m12 m20.
pub(crate) fn shape_gradients(s: f64, t: f64) -> [[f64; 2]; 6] {
    let u = 1.0 - s - t;
    [
        [1.0 - 4.0 * u, 1.0 - 4.0 * u],
        [4.0 * s - 1.0, 0.0],
        [0.0, 4.0 * t - 1.0],
        [4.0 * (u - s), -4.0 * s],
        [4.0 * t, 4.0 * s],
        [-4.0 * t, 4.0 * (u - t)],
    ]
}

/// The six shape functions at the natural coordinates (s, t).
pub(crate) fn shape_values(s: f64, t: f64) -> [f64; 6] {
    let u = 1.0 - s - t;
    [u * (2.0 * u - 1.0), s * (2.0 * s - 1.0), t * (2.0 * t - 1.0), 4.0 * u * s, 4.0 * s * t, 4.0 * t * u]
}

/// Natural coordinates of the six nodes.
pub(crate) const NODE_PLACES: [[f64; 2]; 6] =
    [[0.0, 0.0], [1.0, 0.0], [0.0, 1.0], [0.5, 0.0], [0.5, 0.5], [0.0, 0.5]];

fn jacobian_ratio(mesh: &Mesh, triangle: &[usize; 6]) -> f64 {
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    let inner = [[1.0 / 3.0, 1.0 / 3.0], [0.2, 0.2], [0.6, 0.2], [0.2, 0.6]];
    for [s, t] in NODE_PLACES.into_iter().chain(inner) {
        let mut ds = Point::default();
        let mut dt = Point::default();
        for (node, gradient) in triangle.iter().zip(shape_gradients(s, t)) {
            ds = ds + mesh.nodes[*node] * gradient[0];
            dt = dt + mesh.nodes[*node] * gradient[1];
        }
        let det = ds.cross(dt);
        least = least.min(det);
        most = most.max(det);
    }
    least / most
}

/// Refuses a mesh with flat or folded triangles.
pub(super) fn verify(mesh: &Mesh, outline: &Outline) -> Result<(), MeshFault> {
    for triangle in &mesh.triangles {
        let p = corners(mesh, triangle);
        let angle_deg = smallest_angle(p).to_degrees();
        let at = (p[0] + p[1] + p[2]) * (1.0 / 3.0);
        if angle_deg < LEAST_ANGLE_DEG && !p.iter().any(|corner| is_acute(outline, *corner)) {
            return Err(MeshFault::Sliver { angle_deg, wanted_deg: LEAST_ANGLE_DEG, at });
        }
        if jacobian_ratio(mesh, triangle) <= 0.0 {
            return Err(MeshFault::Folded { at });
        }
    }
    Ok(())
}

/// Whether `p` is an outline corner too sharp for the angle bound to be met beside it.
fn is_acute(outline: &Outline, p: Point) -> bool {
    outline.loops.iter().any(|edges| {
        edges.iter().enumerate().any(|(index, edge)| {
            let before = &edges[(index + edges.len() - 1) % edges.len()];
            let (coming, going) = (before.tangent(1.0), edge.tangent(0.0));
            let inner = std::f64::consts::PI - coming.cross(going).atan2(coming.dot(going));
            edge.start.distance(p) < 1e-9 && inner.to_degrees() < 60.0
        })
    })
}
