//! How fine the mesh must be away from the hot places: where it errs in energy.
//!
//! Owns the rule alone; the errors themselves are `elastic`'s. Lengths in mm.

use super::Analysis;
use crate::mesh::PointSize;

/// Error in energy that is allowed, as the root of its share of the energy. Its square is about what errors far away
/// move the peak by: a quarter of a per cent.
const ALLOWED: f64 = 0.05;
/// A side is not made shorter than this share of what it is, from one mesh to the next.
const LEAST_SHARE: f64 = 0.3;

/// The error in energy of an analysis, and what it asks of the next mesh.
pub(super) struct Energetic {
    /// Root of the energy of the stress error over that of the stress, in rim and web at the peak's angle.
    pub share: f64,
    /// Sides for the triangles that have more than their share of the allowed error.
    pub sizes: Vec<PointSize>,
}

impl Energetic {
    pub fn of(analysis: &Analysis) -> Self {
        let mesh = &analysis.solution.mesh;
        let errors = analysis.solution.energy_errors(0, analysis.tension[0].theta_rad);
        let searched = |triangle: &[usize; 6]| triangle[..3].iter().all(|node| analysis.region.nodes[*node]);
        let counted: Vec<_> =
            mesh.triangles.iter().zip(&errors).filter(|(triangle, _)| searched(triangle)).collect();
        let energy: f64 = counted.iter().map(|(_, own)| own.energy).sum();
        let error: f64 = counted.iter().map(|(_, own)| own.error).sum();
        let allowed = ALLOWED * ALLOWED * energy / counted.len().max(1) as f64;
        let sizes = counted.iter().filter(|(_, own)| own.error > allowed).map(|(triangle, own)| {
            let [a, b, c] = [0, 1, 2].map(|corner| mesh.nodes[triangle[corner]]);
            let longest = a.distance(b).max(b.distance(c)).max(c.distance(a));
            // All triangles' errors together fall with the fourth power of the side.
            let share = (allowed / own.error).powf(0.25).max(LEAST_SHARE);
            PointSize { at: (a + b + c) * (1.0 / 3.0), size_mm: share * longest }
        });
        Self { sizes: sizes.collect(), share: (error / energy.max(f64::MIN_POSITIVE)).sqrt() }
    }
}
