//! The mesh of one outline drawn over to another one that differs in dimensions alone.

use super::{Mesh, MeshFault, Quality, quality};
use crate::geometry::{Curve, Outline, Point};

/// Sweeps over the inner vertices: enough for the walls' shifts to reach every vertex of a few elements' depth.
const SWEEPS: usize = 40;

/// Whether both outlines have the same edges in the same order: as many, of the same kind and tag.
pub(super) fn alike(a: &Outline, b: &Outline) -> bool {
    let same_kind = |a: &Curve, b: &Curve| match (a, b) {
        (Curve::Line, Curve::Line) => true,
        (Curve::Arc { sweep: a, .. }, Curve::Arc { sweep: b, .. }) => a.signum() == b.signum(),
        _ => false,
    };
    a.tags == b.tags
        && a.loops.len() == b.loops.len()
        && a.loops.iter().zip(&b.loops).all(|(a, b)| {
            a.len() == b.len()
                && a.iter().zip(b).all(|(a, b)| a.tag == b.tag && same_kind(&a.curve, &b.curve))
        })
}

/// Moves every outline node to the same share of its edge, and the inner ones after their neighbours.
///
/// # Errors
/// When triangles become too flat or fold over.
pub(super) fn morphed(mesh: &Mesh, from: &Outline, to: &Outline) -> Result<Mesh, MeshFault> {
    let mut nodes = mesh.nodes.clone();
    let mut fixed = vec![false; nodes.len()];
    for side in &mesh.boundary {
        let (old, new) = (&from.loops[side.loop_no][side.edge_no], &to.loops[side.loop_no][side.edge_no]);
        for node in side.nodes {
            nodes[node] = new.at(old.nearest(mesh.nodes[node]));
            fixed[node] = true;
        }
    }
    let mut around: Vec<Vec<usize>> = vec![Vec::new(); mesh.vertex_count];
    for triangle in &mesh.triangles {
        for i in 0..3 {
            let (a, b) = (triangle[i], triangle[(i + 1) % 3]);
            around[a].push(b);
            around[b].push(a);
        }
    }
    let mut shift: Vec<Point> = nodes.iter().zip(&mesh.nodes).map(|(new, old)| *new - *old).collect();
    for _ in 0..SWEEPS {
        for vertex in (0..mesh.vertex_count).filter(|vertex| !fixed[*vertex]) {
            let sum = around[vertex].iter().fold(Point::default(), |sum, other| sum + shift[*other]);
            shift[vertex] = sum * (1.0 / around[vertex].len() as f64);
        }
    }
    for vertex in (0..mesh.vertex_count).filter(|vertex| !fixed[*vertex]) {
        nodes[vertex] = mesh.nodes[vertex] + shift[vertex];
    }
    for triangle in &mesh.triangles {
        for (i, (a, b)) in [(0, 1), (1, 2), (2, 0)].into_iter().enumerate() {
            if !fixed[triangle[3 + i]] {
                nodes[triangle[3 + i]] = nodes[triangle[a]].lerp(nodes[triangle[b]], 0.5);
            }
        }
    }
    let mut morphed = Mesh { nodes, ..mesh.clone() };
    morphed.quality = Quality::of(&morphed);
    quality::verify(&morphed, to)?;
    Ok(morphed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Edge;
    use crate::mesh::Sizing;

    fn bracket(wall: f64, tag: &str) -> Outline {
        let corners = [(20.0, 0.0), (60.0, 0.0), (60.0, wall), (30.0, wall), (30.0, 40.0), (20.0, 40.0)];
        let point = |i: usize| Point::new(corners[i % 6].0, corners[i % 6].1);
        let edges = (0..6).map(|i| Edge::line(point(i), point(i + 1), 0)).collect();
        Outline { loops: vec![edges], tags: vec![tag.into()] }
    }

    #[test]
    fn a_thinner_wall_keeps_the_triangles_and_fills_its_own_outline() {
        let (thick, thin) = (bracket(14.0, "side"), bracket(10.0, "side"));
        let mesh = Mesh::generate(&thick, &Sizing::default()).unwrap();
        let morphed = mesh.morphed(&thick, &thin).unwrap();
        assert_eq!(mesh.triangles, morphed.triangles);
        let area: f64 = morphed
            .triangles
            .iter()
            .map(|t| {
                let [a, b, c] = [t[0], t[1], t[2]].map(|node| morphed.nodes[node]);
                0.5 * (b - a).cross(c - a)
            })
            .sum();
        // Straight sides: the triangles fill the outline exactly.
        assert!((area - (40.0 * 10.0 + 10.0 * 30.0)).abs() < 1e-9, "{area}");
        for side in &morphed.boundary {
            for node in side.nodes {
                let edge = &thin.loops[side.loop_no][side.edge_no];
                assert!(edge.distance(morphed.nodes[node]) < 1e-9);
            }
        }
    }

    #[test]
    fn other_edges_or_a_folded_mesh_are_refused() {
        let (thick, other) = (bracket(14.0, "side"), bracket(14.0, "face"));
        let mesh = Mesh::generate(&thick, &Sizing::default()).unwrap();
        assert!(mesh.morphed(&thick, &other).is_none());
        assert!(mesh.morphed(&thick, &bracket(0.5, "side")).is_none());
    }
}
