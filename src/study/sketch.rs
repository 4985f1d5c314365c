//! One coarse mesh for all places around the rim: they differ in their walls alone.
//!
//! The same triangles make nearly the same error everywhere, so that places and load cases can be told apart by
//! much less than that error; order and pattern of the equations are found once.

use super::CheckFault;
use super::analysis::{Grid, posed, sizing};
use crate::elastic::Connectivity;
use crate::geometry::Outline;
use crate::hoist::LoadCase;
use crate::material::Metal;
use crate::mesh::Mesh;
use crate::section::Section;
use crate::survey::Survey;

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
    pub fn new(
        survey: &Survey,
        section: &Section,
        metal: &Metal,
        case: &LoadCase,
    ) -> Result<Self, CheckFault> {
        let model = posed(survey, section, metal, std::slice::from_ref(case), sizing(Vec::new())).model;
        let mesh =
            Mesh::generate(&model.outline, &model.sizing).map_err(crate::elastic::ElasticFault::from)?;
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
