//! Where a field on the mesh is at or above a level, as closed loops.
//!
//! Every 6-node triangle counts as four flat ones. Parts of neighbours share sides that run both ways and cancel, so
//! that what is left is the region's own border: no seams, and few points.

use crate::geometry::Point;
use crate::mesh::Mesh;
use std::collections::BTreeMap;

/// A corner of a part: a node, or where the level crosses the line between two nodes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Corner {
    Node(usize),
    Between(usize, usize),
}

/// Flat triangles of the four-fold division.
pub(super) fn flat(mesh: &Mesh) -> impl Iterator<Item = [usize; 3]> + '_ {
    mesh.triangles
        .iter()
        .flat_map(|t| [[t[0], t[3], t[5]], [t[3], t[1], t[4]], [t[5], t[4], t[2]], [t[3], t[4], t[5]]])
}

/// Closed loops around everything at or above `level`, inner ones turning the other way.
pub(super) fn at_least(mesh: &Mesh, values: &[f64], level: f64) -> Vec<Vec<Point>> {
    let mut sides: BTreeMap<(Corner, Corner), usize> = BTreeMap::new();
    for triangle in flat(mesh) {
        let part = part(triangle, values, level);
        for (index, from) in part.iter().enumerate() {
            let to = part[(index + 1) % part.len()];
            if let Some(count) = sides.get_mut(&(to, *from)) {
                *count -= 1;
                if *count == 0 {
                    sides.remove(&(to, *from));
                }
            } else {
                *sides.entry((*from, to)).or_default() += 1;
            }
        }
    }
    let place = |corner: Corner| match corner {
        Corner::Node(node) => mesh.nodes[node],
        Corner::Between(a, b) => {
            let share = (level - values[a]) / (values[b] - values[a]);
            mesh.nodes[a].lerp(mesh.nodes[b], share)
        }
    };
    let mut next: BTreeMap<Corner, Vec<Corner>> = BTreeMap::new();
    for ((from, to), count) in sides {
        next.entry(from).or_default().extend(std::iter::repeat_n(to, count));
    }
    let mut loops = Vec::new();
    while let Some((first, _)) = next.first_key_value() {
        let first = *first;
        let (mut at, mut points) = (first, Vec::new());
        loop {
            points.push(place(at));
            let Some(ways) = next.get_mut(&at) else { break };
            let Some(to) = ways.pop() else { break };
            if ways.is_empty() {
                next.remove(&at);
            }
            at = to;
            if at == first {
                break;
            }
        }
        loops.push(points);
    }
    loops
}

/// The part of a flat triangle at or above the level.
fn part(triangle: [usize; 3], values: &[f64], level: f64) -> Vec<Corner> {
    let mut corners = Vec::with_capacity(4);
    for index in 0..3 {
        let (a, b) = (triangle[index], triangle[(index + 1) % 3]);
        let (inside, follows) = (values[a] >= level, values[b] >= level);
        if inside {
            corners.push(Corner::Node(a));
        }
        if inside != follows {
            corners.push(Corner::Between(a.min(b), a.max(b)));
        }
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Edge, Outline};
    use crate::mesh::Sizing;

    fn square() -> Mesh {
        let corners = [(10.0, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.0)].map(|(r, z)| Point::new(r, z));
        let edges = (0..4).map(|i| Edge::line(corners[i], corners[(i + 1) % 4], 0)).collect();
        let outline = Outline { loops: vec![edges], tags: vec!["side".into()] };
        Mesh::generate(&outline, &Sizing { largest_mm: 2.0, ..Sizing::default() }).unwrap()
    }

    fn area(loops: &[Vec<Point>]) -> f64 {
        let twice = |points: &Vec<Point>| -> f64 {
            (0..points.len()).map(|i| points[i].cross(points[(i + 1) % points.len()])).sum()
        };
        0.5 * loops.iter().map(twice).sum::<f64>()
    }

    #[test]
    fn a_linear_field_is_cut_exactly_and_leaves_one_loop() {
        let mesh = square();
        let values: Vec<f64> = mesh.nodes.iter().map(|p| p.r).collect();
        let loops = at_least(&mesh, &values, 14.0);
        assert_eq!(loops.len(), 1);
        assert!((area(&loops).abs() - 60.0).abs() < 1e-9, "{}", area(&loops));
        assert!((area(&at_least(&mesh, &values, 0.0)).abs() - 100.0).abs() < 1e-9);
        assert!(at_least(&mesh, &values, 21.0).is_empty());
    }

    #[test]
    fn a_hole_turns_the_other_way() {
        let mesh = square();
        let middle = Point::new(15.0, 5.0);
        let values: Vec<f64> = mesh.nodes.iter().map(|p| p.distance(middle)).collect();
        let loops = at_least(&mesh, &values, 3.0);
        let exact = 100.0 - std::f64::consts::PI * 9.0;
        assert!((area(&loops).abs() - exact).abs() < 0.6, "{} of {exact}", area(&loops));
    }
}
