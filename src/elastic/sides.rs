//! The right-hand sides that all harmonics share, and each one's share in a case's harmonic.

use super::assembly::Assembled;
use super::loads::{Spread, coefficients, split};
use super::{Case, ElasticFault, Family, Model};
use crate::mesh::Mesh;
use crate::seeded::{Fault, planted};

/// One right-hand side: a pattern's plain or circumferential forces.
pub(super) struct Side {
    pub pattern: usize,
    /// Circumferential forces follow the other trigonometric function.
    pub crossed: bool,
    pub force: Vec<f64>,
}

/// One right-hand side per pattern, two where it pushes along and around.
///
/// # Errors
/// When a rope does not press on its edges.
pub(super) fn sides(model: &Model, mesh: &Mesh, assembled: &Assembled) -> Result<Vec<Side>, ElasticFault> {
    let mut sides = Vec::new();
    for index in 0..model.patterns.len() {
        let (plain, circumferential) = split(&Spread::new(mesh, assembled, model, index)?.force);
        let parts = [(plain, false), (circumferential, true)];
        let parts = parts.into_iter().filter_map(|(force, crossed)| Some((force?, crossed)));
        sides.extend(parts.map(|(force, crossed)| Side { pattern: index, crossed, force }));
    }
    Ok(sides)
}

/// For every right-hand side its share in the cosine and the sine family of a case.
pub(super) fn shares(sides: &[Side], model: &Model, case: &Case, n: usize) -> [Vec<f64>; 2] {
    let fourier = coefficients(case, model.patterns.len(), n);
    let share = |family: Family| {
        let of = |side: &Side| {
            let c = fourier[side.pattern].0;
            match (family, side.crossed) {
                (Family::Cosine, false) if n == 0 && planted(Fault::HalfTurnMean) => 2.0 * c.cosine,
                (Family::Sine, _) if planted(Fault::SineFamilyLost) => 0.0,
                (Family::Sine, true) if planted(Fault::TwistTurnsBack) => c.cosine,
                (Family::Cosine, false) => c.cosine,
                (Family::Cosine, true) | (Family::Sine, false) => c.sine,
                (Family::Sine, true) => -c.cosine,
            }
        };
        sides.iter().map(of).collect()
    };
    [share(Family::Cosine), share(Family::Sine)]
}
