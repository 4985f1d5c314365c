//! What meshes with the same triangles share: the order of the unknowns, and the pattern of the factor.

use super::ElasticFault;
use super::assembly::Assembled;
use super::system::Pattern;
use crate::mesh::Mesh;
use tracing::info_span;

/// Order and pattern of the equations on meshes that differ only in where their nodes lie.
pub struct Connectivity {
    triangles: Vec<[usize; 6]>,
    pub(super) order: Assembled,
    pub(super) pattern: Pattern,
}

impl Connectivity {
    /// Orders the equations of a mesh and finds the pattern of their factor.
    ///
    /// # Errors
    /// When the mesh is too large for either.
    pub fn new(mesh: &Mesh) -> Result<Self, ElasticFault> {
        let order = Assembled::ordered(mesh)?;
        let pattern = info_span!("pattern of the factor").in_scope(|| Pattern::new(&order))?;
        Ok(Self { triangles: mesh.triangles.clone(), order, pattern })
    }

    /// Whether this mesh has these triangles.
    pub(super) fn fits(&self, mesh: &Mesh) -> bool {
        self.triangles == mesh.triangles
    }
}
