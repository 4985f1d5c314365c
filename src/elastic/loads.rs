//! Nodal forces of load patterns, per radian of revolution and before their course around.

use super::assembly::Assembled;
use super::element::{RULE, Spot};
use super::{Case, ElasticFault, Field, Fourier, Iron, Law, Model, Pattern};
use crate::geometry::Point;
use crate::mesh::Mesh;
use crate::seeded::{Fault, planted};

/// Gauss rule of degree 9 on (0, 1), for the edges: place and weight.
const EDGE_RULE: [[f64; 2]; 5] = [
    [0.046_910_077_030_668, 0.118_463_442_528_095],
    [0.230_765_344_947_158, 0.239_314_335_249_683],
    [0.5, 0.284_444_444_444_444],
    [0.769_234_655_052_842, 0.239_314_335_249_683],
    [0.953_089_922_969_332, 0.118_463_442_528_095],
];

/// A pattern's nodal forces (per radian), split by the family rule they follow.
pub(super) struct Spread {
    /// Forces at each unknown; circumferential entries belong to growing θ.
    pub force: Vec<f64>,
}

/// One point of a loaded edge.
struct EdgeSpot {
    at: Point,
    outward: Point,
    /// Arc length times radius that goes with the point (mm² per radian).
    area: f64,
    nodes: [usize; 3],
    value: [f64; 3],
}

fn edge_spots(mesh: &Mesh, tags: &[String]) -> Vec<EdgeSpot> {
    let wanted: Vec<usize> = tags.iter().filter_map(|tag| mesh.tag_index(tag)).collect();
    let mut spots = Vec::new();
    for edge in mesh.boundary.iter().filter(|edge| wanted.contains(&edge.tag)) {
        let [a, b, m] = edge.nodes.map(|node| mesh.nodes[node]);
        for [x, weight] in EDGE_RULE {
            let value = [(1.0 - x) * (1.0 - 2.0 * x), x * (2.0 * x - 1.0), 4.0 * x * (1.0 - x)];
            let at = a * value[0] + b * value[1] + m * value[2];
            let run = a * (4.0 * x - 3.0) + b * (4.0 * x - 1.0) + m * (4.0 - 8.0 * x);
            let outward = -run.direction().left();
            let radius = if planted(Fault::EdgeWithoutRadius) { 1.0 } else { at.r };
            spots.push(EdgeSpot {
                at,
                outward,
                area: weight * run.norm() * radius,
                nodes: edge.nodes,
                value,
            });
        }
    }
    spots
}

/// Share of the pressure at a point under the law, before it is scaled.
fn weight(law: &Law, at: Point) -> f64 {
    match law {
        Law::Uniform => 1.0,
        // The cosine of the angle from the groove's bottom, seen from the rope's centre.
        Law::Cosine { centre } => ((centre.r - at.r) / at.distance(*centre)).max(0.0),
    }
}

/// Pressures at the points of a rope's seat that add up to 1 N per radian towards the shaft and to
/// nothing along it: a rope that is free to move sideways settles where its two sides push alike.
///
/// On a seat that is not symmetric the law is tilted a little across the groove. Where that would take
/// more than a third of the pressure off one side, the seat holds one side only, and the law stays as it is.
/// `None` when the edges offer no bearing.
fn balanced(law: &Law, spots: &[EdgeSpot]) -> Option<Vec<f64>> {
    let count = spots.len().max(1) as f64;
    let middle = match law {
        Law::Cosine { centre } => centre.z,
        Law::Uniform => spots.iter().map(|spot| spot.at.z).sum::<f64>() / count,
    };
    let half = spots.iter().map(|spot| (spot.at.z - middle).abs()).fold(0.0, f64::max);
    let tilt = |spot: &EdgeSpot| if half > 0.0 { (spot.at.z - middle) / half } else { 0.0 };
    let sum = |of: &dyn Fn(&EdgeSpot) -> f64| {
        spots.iter().map(|spot| weight(law, spot.at) * spot.area * of(spot)).sum::<f64>()
    };
    let (radial, radial_tilt) = (sum(&|s| s.outward.r), sum(&|s| s.outward.r * tilt(s)));
    let (axial, axial_tilt) = (sum(&|s| s.outward.z), sum(&|s| s.outward.z * tilt(s)));
    let slope = if axial_tilt == 0.0 { 0.0 } else { -axial / axial_tilt };
    let slope = if slope.abs() < 1.0 / 3.0 { slope } else { 0.0 };
    let unscaled = planted(Fault::CosineLawUnscaled);
    let bearing = if unscaled { 1.0 } else { radial + slope * radial_tilt };
    if bearing.abs() < 1e-9 {
        return None;
    }
    Some(spots.iter().map(|spot| weight(law, spot.at) * (1.0 + slope * tilt(spot)) / bearing).collect())
}

impl Spread {
    /// # Errors
    /// When a rope pattern finds nothing to bear on.
    pub fn new(
        mesh: &Mesh,
        assembled: &Assembled,
        model: &Model,
        index: usize,
    ) -> Result<Self, ElasticFault> {
        let mut spread = Self { force: vec![0.0; assembled.unknowns()] };
        match &model.patterns[index] {
            Pattern::Pressure { tags, value } => {
                for spot in edge_spots(mesh, tags) {
                    let push = -value.value(spot.at);
                    spread.add(assembled, &spot, [push * spot.outward.r, 0.0, push * spot.outward.z]);
                }
            }
            Pattern::Traction { tags, value } => {
                for spot in edge_spots(mesh, tags) {
                    spread.add(assembled, &spot, value.map(|field: Field| field.value(spot.at)));
                }
            }
            Pattern::Spread { tags, value } => {
                for spot in edge_spots(mesh, tags) {
                    let push = [0, 1, 2].map(|c| value[c].value(spot.at));
                    spread.add(assembled, &spot, push);
                }
            }
            Pattern::Body { force } => {
                spread.body(mesh, assembled, |p| [0, 1, 2].map(|c| force[c].value(p)));
            }
            Pattern::Bearing { tags, law } => {
                let spots = edge_spots(mesh, tags);
                let share = balanced(law, &spots)
                    .ok_or_else(|| ElasticFault::NoBearing { pattern: tags.join(", ") })?;
                for (spot, push) in spots.iter().zip(share) {
                    spread.add(assembled, spot, [-push * spot.outward.r, 0.0, -push * spot.outward.z]);
                }
            }
            Pattern::Drag { tags, law, moment_radius_mm } => {
                let spots = edge_spots(mesh, tags);
                let moment: f64 = spots.iter().map(|s| weight(law, s.at) * s.at.r * s.area).sum();
                if moment.abs() < 1e-9 {
                    return Err(ElasticFault::NoBearing { pattern: tags.join(", ") });
                }
                let force: f64 = spots.iter().map(|s| weight(law, s.at) * s.area).sum();
                let arm = if planted(Fault::DragAtSeat) { moment / force } else { *moment_radius_mm };
                for spot in spots {
                    let pull = weight(law, spot.at) * arm / moment;
                    spread.add(assembled, &spot, [0.0, pull, 0.0]);
                }
            }
            Pattern::Thermal { temperature } => spread.thermal(mesh, assembled, &model.iron, temperature),
            Pattern::Spin { rad_s } => {
                spread.body(mesh, assembled, |p| {
                    let r = if planted(Fault::SpinWithoutRadius) { 1.0 } else { p.r };
                    [model.iron.density_t_mm3 * rad_s * rad_s * r, 0.0, 0.0]
                });
            }
        }
        Ok(spread)
    }

    fn add(&mut self, assembled: &Assembled, spot: &EdgeSpot, traction: [f64; 3]) {
        for (node, n) in spot.nodes.iter().zip(spot.value) {
            for (component, t) in traction.iter().enumerate() {
                self.force[assembled.unknown(*node, component)] += n * t * spot.area;
            }
        }
    }

    /// Adds a force per volume (N/mm³).
    fn body(&mut self, mesh: &Mesh, assembled: &Assembled, force: impl Fn(Point) -> [f64; 3]) {
        for triangle in &mesh.triangles {
            for [s, t, w] in RULE {
                let spot = Spot::new(mesh, triangle, s, t);
                let volume = w * spot.jacobian * spot.at.r;
                for (component, pull) in force(spot.at).into_iter().enumerate() {
                    for (node, n) in triangle.iter().zip(spot.value) {
                        self.force[assembled.unknown(*node, component)] += n * pull * volume;
                    }
                }
            }
        }
    }

    fn thermal(&mut self, mesh: &Mesh, assembled: &Assembled, iron: &Iron, temperature: &Field) {
        for triangle in &mesh.triangles {
            for [s, t, w] in RULE {
                let spot = Spot::new(mesh, triangle, s, t);
                let stress = thermal_stress(iron, temperature.value(spot.at));
                let volume = w * spot.jacobian * spot.at.r;
                for (i, node) in triangle.iter().enumerate() {
                    let radial = spot.by_r[i] + spot.value[i] / spot.at.r;
                    self.force[assembled.unknown(*node, 0)] += radial * stress * volume;
                    self.force[assembled.unknown(*node, 2)] += spot.by_z[i] * stress * volume;
                }
            }
        }
    }
}

/// The equal normal stress that would hold a heated point to its size (MPa).
pub(super) fn thermal_stress(iron: &Iron, temperature: f64) -> f64 {
    iron.young_mpa * iron.expansion_per_k * temperature / (1.0 - 2.0 * iron.poisson)
}

/// Coefficients of every pattern in a case's harmonic `n`, and the sum of its terms' sizes.
pub(super) fn coefficients(case: &Case, patterns: usize, n: usize) -> Vec<(Fourier, f64)> {
    let mut sums = vec![(Fourier::default(), 0.0); patterns];
    for term in &case.terms {
        let part = term.around.fourier(n);
        let (sum, size) = &mut sums[term.pattern];
        sum.cosine += part.cosine;
        sum.sine += part.sine;
        *size += part.cosine.hypot(part.sine);
    }
    sums
}

/// Splits a pattern's forces into the part that follows the course itself (radial, axial) and the
/// circumferential part, which belongs to the other trigonometric function.
///
/// With s(θ) = a cos nθ + b sin nθ the cosine family takes a·(radial, axial) + b·circumferential, the
/// sine family b·(radial, axial) − a·circumferential, because v = Σ v_n sin nθ − v̄_n cos nθ.
pub(super) fn split(force: &[f64]) -> (Option<Vec<f64>>, Option<Vec<f64>>) {
    let part = |circumferential: bool| {
        let kept: Vec<f64> = force
            .iter()
            .enumerate()
            .map(|(i, f)| if (i % 3 == 1) == circumferential { *f } else { 0.0 })
            .collect();
        kept.iter().any(|f| *f != 0.0).then_some(kept)
    };
    (part(false), part(true))
}
