//! The wheel that speed is measured on: a model of it, drawn with about as many unknowns as are asked for.

use rimproof::elastic::Model;
use rimproof::mesh::{Mesh, MeshFault, PointSize, Sizing};

/// Meshes `model` with about this many unknowns, three to a node; every size is scaled alike.
pub fn drawn(model: &mut Model, unknowns: usize) -> Result<Mesh, MeshFault> {
    const NEAR: f64 = 0.03;
    const ATTEMPTS: usize = 8;
    let (low, high) = model.outline.bounds();
    let mut asked = model.sizing.clone();
    asked.largest_mm = asked.largest_mm.min((high - low).norm() / 5.0);
    asked.halvings = 0;
    let mut by = 1.0;
    let mut attempt = 0;
    loop {
        model.sizing = scaled(&asked, by);
        let mesh = Mesh::generate(&model.outline, &model.sizing)?;
        let ratio = 3.0 * mesh.nodes.len() as f64 / unknowns as f64;
        attempt += 1;
        if (ratio - 1.0).abs() < NEAR || attempt == ATTEMPTS {
            return Ok(mesh);
        }
        by *= ratio.sqrt();
    }
}

fn scaled(asked: &Sizing, by: f64) -> Sizing {
    Sizing {
        largest_mm: by * asked.largest_mm,
        fillet_step_rad: by * asked.fillet_step_rad,
        arc_step_rad: by * asked.arc_step_rad,
        through_wall: asked.through_wall / by,
        on_tags: asked.on_tags.iter().map(|(tag, size)| (tag.clone(), by * size)).collect(),
        at_points: asked.at_points.iter().map(|p| PointSize { at: p.at, size_mm: by * p.size_mm }).collect(),
        ..asked.clone()
    }
}
