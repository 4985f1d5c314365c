//! One coarse mesh for all places around the rim: they differ in their walls alone.
//!
//! The same triangles make nearly the same error everywhere, so that places and load cases can be told apart by
//! much less than that error; order and pattern of the equations are found once.

use super::CheckFault;
use super::analysis::{Grid, sizing};
use crate::elastic::Connectivity;
use crate::geometry::Outline;
use crate::mesh::Mesh;
use crate::section::Section;

/// A coarse mesh of one section, to be drawn over to others.
pub(crate) struct Sketch {
    outline: Outline,
    mesh: Mesh,
    connectivity: Connectivity,
}

impl Sketch {
    /// Draws the mesh for one section.
    ///
    /// # Errors
    /// When the section cannot be meshed.
    pub fn new(section: &Section) -> Result<Self, CheckFault> {
        let mesh = Mesh::generate(&section.outline, &sizing(Vec::new()))
            .map_err(crate::elastic::ElasticFault::from)?;
        let connectivity = Connectivity::new(&mesh)?;
        Ok(Self { outline: section.outline.clone(), mesh, connectivity })
    }

    /// The mesh drawn over to another section; a coarse one of its own where that does not go.
    pub fn grid(&self, section: &Section) -> Grid<'_> {
        match self.mesh.morphed(&self.outline, &section.outline) {
            Some(mesh) => Grid::Given { mesh, connectivity: &self.connectivity },
            None => Grid::Drawn(sizing(Vec::new())),
        }
    }
}
