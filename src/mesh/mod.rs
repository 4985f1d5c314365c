//! From an outline to a graded mesh of curved 6-node triangles with named boundary edges.
//!
//! Owns sizing, triangulation, smoothing, quality and point location; knows no loads and no sheaves.
//! Lengths in mm, angles in rad unless a name says otherwise.
//! Node order of a triangle: v0 v1 v2 m01 m12 m20, counter-clockwise with r to the right and z upwards.

mod boundary;
pub(crate) mod locate;
mod morph;
mod quadratic;
mod quality;
mod sizing;
mod smooth;
mod split;
mod triangulate;

pub use locate::{Locator, Place};
pub use quality::Quality;
pub(crate) use quality::{NODE_PLACES, shape_gradients, shape_values};
pub use sizing::{PointSize, Sizing};

use crate::geometry::{Outline, OutlineFault, Point};
use thiserror::Error;

/// How often a mesh with a flat triangle is drawn again.
const ATTEMPTS: usize = 6;

/// A mesh of 6-node triangles. Vertices come first in `nodes`, midside nodes after them.
#[derive(Debug, Clone)]
pub struct Mesh {
    pub nodes: Vec<Point>,
    pub vertex_count: usize,
    pub triangles: Vec<[usize; 6]>,
    pub boundary: Vec<BoundaryEdge>,
    /// Names of the tags that `BoundaryEdge::tag` indexes.
    pub tags: Vec<String>,
    pub quality: Quality,
}

/// One side of a triangle on the outline, body to its left.
#[derive(Debug, Clone, Copy)]
pub struct BoundaryEdge {
    /// Start, end and midside node.
    pub nodes: [usize; 3],
    pub triangle: usize,
    pub tag: usize,
    pub loop_no: usize,
    pub edge_no: usize,
}

/// Why an outline could not be meshed.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum MeshFault {
    #[error("the section's outline is not valid: {}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    Outline(Vec<OutlineFault>),
    #[error("the section could not be divided into triangles near r {:.2}, z {:.2} mm: two edges come too close there", .at.r, .at.z)]
    Triangulation { at: Point },
    #[error(
        "the mesh would need more than {limit} triangles: ask for larger elements, or check the outline for a sliver"
    )]
    TooLarge { limit: usize },
    #[error("the smallest angle of the mesh is {angle_deg:.1} degrees near r {:.2}, z {:.2} mm; at least {wanted_deg:.0} are needed: the outline has a sliver there", .at.r, .at.z)]
    Sliver { angle_deg: f64, wanted_deg: f64, at: Point },
    #[error("a curved triangle folds over near r {:.2}, z {:.2} mm: the arc there needs smaller elements", .at.r, .at.z)]
    Folded { at: Point },
}

impl Mesh {
    /// Meshes `outline` with the element sizes of `sizing`.
    ///
    /// # Errors
    /// When the outline is not valid, or no mesh of the stated quality fits it.
    #[tracing::instrument(name = "mesh", skip_all)]
    pub fn generate(outline: &Outline, sizing: &Sizing) -> Result<Self, MeshFault> {
        let faults = outline.faults();
        if !faults.is_empty() {
            return Err(MeshFault::Outline(faults));
        }
        // A flat triangle is a matter of luck with the points around it: smaller elements there redraw them.
        let mut sizing = sizing.clone();
        for _ in 0..ATTEMPTS {
            match Self::attempt(outline, &sizing) {
                Err(MeshFault::Sliver { at, .. } | MeshFault::Folded { at }) => {
                    let size_mm = 0.6 * sizing.field(outline).at(at);
                    sizing.at_points.push(PointSize { at, size_mm });
                }
                other => return other,
            }
        }
        Self::attempt(outline, &sizing)
    }

    fn attempt(outline: &Outline, sizing: &Sizing) -> Result<Self, MeshFault> {
        let field = sizing.field(outline);
        let samples = boundary::sample(outline, &field, sizing);
        let mut flat = triangulate::triangulate(outline, samples, &field, sizing)?;
        smooth::smooth(&mut flat);
        let mut mesh = quadratic::curved(outline, flat);
        quality::verify(&mesh, outline)?;
        for _ in 0..sizing.halvings {
            if 4 * mesh.triangles.len() > sizing.most_triangles {
                return Err(MeshFault::TooLarge { limit: sizing.most_triangles });
            }
            mesh = mesh.halved(outline);
            quality::verify(&mesh, outline)?;
        }
        Ok(mesh)
    }

    /// This mesh, made for `from`, drawn over to an outline with the same edges of other dimensions; `None` where
    /// the edges differ or triangles would become flat.
    #[must_use]
    pub fn morphed(&self, from: &Outline, to: &Outline) -> Option<Self> {
        if !morph::alike(from, to) || !to.faults().is_empty() {
            return None;
        }
        morph::morphed(self, from, to).ok()
    }

    /// The mesh of the same outline with every side halved.
    #[must_use]
    pub fn halved(&self, outline: &Outline) -> Self {
        split::halved(self, outline)
    }

    pub fn tag_index(&self, name: &str) -> Option<usize> {
        self.tags.iter().position(|tag| tag == name)
    }

    /// Nodes on edges tagged `tag`, each once, in increasing order.
    pub fn nodes_on(&self, tag: usize) -> Vec<usize> {
        let mut nodes: Vec<usize> =
            self.boundary.iter().filter(|edge| edge.tag == tag).flat_map(|edge| edge.nodes).collect();
        nodes.sort_unstable();
        nodes.dedup();
        nodes
    }
}

#[cfg(test)]
mod tests;
