//! Guarded smoothing: an inner vertex moves only where its worst angle gets better.

use super::triangulate::Flat;
use crate::geometry::Point;

const SWEEPS: usize = 4;

pub(super) fn smooth(flat: &mut Flat) {
    let mut fixed = vec![false; flat.points.len()];
    for (vertex, _) in flat.rings.iter().flatten() {
        fixed[*vertex] = true;
    }
    let mut around: Vec<Vec<usize>> = vec![Vec::new(); flat.points.len()];
    for (index, triangle) in flat.triangles.iter().enumerate() {
        for vertex in triangle {
            around[*vertex].push(index);
        }
    }
    for _ in 0..SWEEPS {
        for vertex in (0..flat.points.len()).filter(|v| !fixed[*v]) {
            let star = &around[vertex];
            let mut sum = Point::default();
            for triangle in star {
                for other in flat.triangles[*triangle] {
                    sum = sum + flat.points[other];
                }
            }
            let count = 2.0 * star.len() as f64;
            let target = (sum - flat.points[vertex] * star.len() as f64) * (1.0 / count);
            let before = worst(flat, star);
            let old = flat.points[vertex];
            for share in [1.0, 0.5] {
                flat.points[vertex] = old.lerp(target, share);
                if worst(flat, star) > before {
                    break;
                }
                flat.points[vertex] = old;
            }
        }
    }
}

fn worst(flat: &Flat, star: &[usize]) -> f64 {
    star.iter()
        .map(|t| smallest_angle(flat.triangles[*t].map(|v| flat.points[v])))
        .fold(f64::INFINITY, f64::min)
}

/// Smallest inner angle in rad; negative when the triangle is turned over.
pub(super) fn smallest_angle(p: [Point; 3]) -> f64 {
    (0..3)
        .map(|i| {
            let (u, v) = (p[(i + 1) % 3] - p[i], p[(i + 2) % 3] - p[i]);
            u.cross(v).atan2(u.dot(v))
        })
        .fold(f64::INFINITY, f64::min)
}
