//! Midside nodes: on the outline's true curves at the boundary, halfway inside.

use super::triangulate::Flat;
use super::{BoundaryEdge, Mesh, Quality};
use crate::geometry::Outline;
use crate::seeded::{Fault, planted};
use std::collections::HashMap;

pub(super) fn curved(outline: &Outline, flat: Flat) -> Mesh {
    let vertex_count = flat.points.len();
    let mut nodes = flat.points;
    let mut middles: HashMap<(usize, usize), usize> = HashMap::new();
    let key = |a: usize, b: usize| (a.min(b), a.max(b));
    let mut sides = Vec::new();
    for ring in &flat.rings {
        for i in 0..ring.len() {
            let ((a, from), (b, to)) = (ring[i], ring[(i + 1) % ring.len()]);
            let edge = &outline.loops[from.loop_no][from.edge_no];
            let same = from.edge_no == to.edge_no && to.share > from.share;
            let end = if same { to.share } else { 1.0 };
            let on_chord = planted(Fault::ChordMidsides);
            nodes.push(if on_chord {
                nodes[a].lerp(nodes[b], 0.5)
            } else {
                edge.at(0.5 * (from.share + end))
            });
            middles.insert(key(a, b), nodes.len() - 1);
            sides.push((a, b, nodes.len() - 1, from.loop_no, from.edge_no, edge.tag));
        }
    }
    let mut triangles = Vec::with_capacity(flat.triangles.len());
    let mut left_of: HashMap<(usize, usize), usize> = HashMap::new();
    for [a, b, c] in flat.triangles {
        let mut middle = |a: usize, b: usize| {
            *middles.entry(key(a, b)).or_insert_with(|| {
                let p = nodes[a].lerp(nodes[b], 0.5);
                nodes.push(p);
                nodes.len() - 1
            })
        };
        for side in [(a, b), (b, c), (c, a)] {
            left_of.insert(side, triangles.len());
        }
        triangles.push([a, b, c, middle(a, b), middle(b, c), middle(c, a)]);
    }
    let boundary = sides
        .into_iter()
        .map(|(a, b, m, loop_no, edge_no, tag)| BoundaryEdge {
            nodes: [a, b, m],
            triangle: left_of[&(a, b)],
            tag,
            loop_no,
            edge_no,
        })
        .collect();
    let quality = Quality::default();
    let mut mesh = Mesh { nodes, vertex_count, triangles, boundary, tags: outline.tags.clone(), quality };
    mesh.quality = Quality::of(&mesh);
    mesh
}
