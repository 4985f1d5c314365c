//! Uniform refinement: every triangle into four, new nodes of the outline on its true curves.

use super::{BoundaryEdge, Mesh, Quality};
use crate::geometry::{Edge, Outline};
use std::collections::HashMap;

/// The mesh with every side halved. Orders of convergence are measured on such families.
pub(super) fn halved(mesh: &Mesh, outline: &Outline) -> Mesh {
    let mut nodes = mesh.nodes.clone();
    let vertex_count = nodes.len();
    let mut middles: HashMap<(usize, usize), usize> = HashMap::new();
    let key = |a: usize, b: usize| (a.min(b), a.max(b));
    let mut boundary = Vec::with_capacity(2 * mesh.boundary.len());
    for side in &mesh.boundary {
        let edge = &outline.loops[side.loop_no][side.edge_no];
        let [a, b, m] = side.nodes;
        for (from, to) in [(a, m), (m, b)] {
            nodes.push(between(edge, &mesh.nodes, from, to));
            middles.insert(key(from, to), nodes.len() - 1);
            boundary.push(BoundaryEdge { nodes: [from, to, nodes.len() - 1], ..*side });
        }
    }
    let mut triangles = Vec::with_capacity(4 * mesh.triangles.len());
    for [a, b, c, ab, bc, ca] in mesh.triangles.iter().copied() {
        for [i, j, k] in [[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]] {
            let mut middle = |p: usize, q: usize| {
                *middles.entry(key(p, q)).or_insert_with(|| {
                    nodes.push(nodes[p].lerp(nodes[q], 0.5));
                    nodes.len() - 1
                })
            };
            triangles.push([i, j, k, middle(i, j), middle(j, k), middle(k, i)]);
        }
    }
    // The four parts of triangle t are 4t to 4t + 3, and a side's halves lie on the parts at its ends.
    for (index, half) in boundary.iter_mut().enumerate() {
        let whole = mesh.triangles[half.triangle];
        let end = if index % 2 == 0 { half.nodes[0] } else { half.nodes[1] };
        let corner = whole[..3].iter().position(|node| *node == end).unwrap_or(0);
        half.triangle = 4 * half.triangle + corner;
    }
    let tags = mesh.tags.clone();
    let mut finer = Mesh { nodes, vertex_count, triangles, boundary, tags, quality: Quality::default() };
    finer.quality = Quality::of(&finer);
    finer
}

/// The place on the edge halfway between two of its nodes.
fn between(edge: &Edge, nodes: &[crate::geometry::Point], from: usize, to: usize) -> crate::geometry::Point {
    let share = |node: usize| {
        // The end of a closed arc is also its start, so ends are told by their coordinates.
        if nodes[node].distance(edge.end) < 1e-9 { None } else { Some(edge.nearest(nodes[node])) }
    };
    edge.at(0.5 * (share(from).unwrap_or(0.0) + share(to).unwrap_or(1.0)))
}
