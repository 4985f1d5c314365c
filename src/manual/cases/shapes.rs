//! Bodies and loads that several cases share.

use crate::elastic::{Around, Case, Field, Hold, Iron, Model, Pattern, Solution, Stress, Support, Term};
use crate::geometry::{Edge, Outline, Point};
use crate::mesh::Sizing;

/// Elastic constants without density and expansion.
pub(crate) fn iron(young_mpa: f64, poisson: f64) -> Iron {
    Iron { young_mpa, poisson, density_t_mm3: 0.0, expansion_per_k: 0.0 }
}

/// A body drawn by straight edges and arcs, each with the name of its tag, and no load yet.
pub(crate) fn body(title: &str, edges: Vec<(Edge, &str)>, iron: Iron, largest_mm: f64) -> Model {
    let mut outline = Outline { loops: Vec::new(), tags: Vec::new() };
    let mut ring = Vec::new();
    for (edge, tag) in edges {
        let tag = outline.tag(tag);
        ring.push(Edge { tag, ..edge });
    }
    outline.loops.push(ring);
    Model {
        title: title.to_owned(),
        outline,
        // The wall's own bound is off: a case says how coarse its first mesh is.
        sizing: Sizing { largest_mm, through_wall: 0.1, ..Sizing::default() },
        iron,
        supports: Vec::new(),
        patterns: Vec::new(),
        cases: vec![Case { name: "load".to_owned(), terms: Vec::new() }],
    }
}

/// Straight edges through the points, closed, each with its tag.
pub(crate) fn polygon(points: &[(f64, f64, &'static str)]) -> Vec<(Edge, &'static str)> {
    let corner = |index: usize| {
        let (r, z, _) = points[index % points.len()];
        Point::new(r, z)
    };
    (0..points.len()).map(|i| (Edge::line(corner(i), corner(i + 1), 0), points[i].2)).collect()
}

/// A tube of rectangular section from `low` to `high`: edges bottom, outside, top and bore (the axis where
/// `inner_mm` is zero). It stands off the origin so that no error hides behind z = 0.
pub(crate) fn tube(
    title: &str,
    inner_mm: f64,
    outer_mm: f64,
    height_mm: f64,
    iron: Iron,
    largest_mm: f64,
) -> Model {
    let (low, high) = (3.0, 3.0 + height_mm);
    let inner_tag = if inner_mm > 0.0 { "bore" } else { "axis" };
    let edges = polygon(&[
        (inner_mm, low, "bottom"),
        (outer_mm, low, "outside"),
        (outer_mm, high, "top"),
        (inner_mm, high, inner_tag),
    ]);
    body(title, edges, iron, largest_mm)
}

pub(crate) fn hold(model: &mut Model, tag: &str, r: bool, theta: bool, z: bool) {
    model.supports.push(Support { tag: tag.to_owned(), hold: Hold { r, theta, z } });
}

pub(crate) fn load(model: &mut Model, pattern: Pattern, around: Around) {
    model.patterns.push(pattern);
    model.cases[0].terms.push(Term { pattern: model.patterns.len() - 1, around });
}

pub(crate) fn pressure(tag: &str, mpa: f64) -> Pattern {
    Pattern::Pressure { tags: vec![tag.to_owned()], value: Field::constant(mpa) }
}

/// Traction on one edge: radial, circumferential, axial.
pub(crate) fn traction(tag: &str, value: [Field; 3]) -> Pattern {
    Pattern::Traction { tags: vec![tag.to_owned()], value }
}

/// Adds an empty load case; loads given by [`load_in`] go into it.
pub(crate) fn further_case(model: &mut Model, name: &str) -> usize {
    model.cases.push(Case { name: name.to_owned(), terms: Vec::new() });
    model.cases.len() - 1
}

/// Adds a pattern that has no course yet.
pub(crate) fn pattern(model: &mut Model, pattern: Pattern) -> usize {
    model.patterns.push(pattern);
    model.patterns.len() - 1
}

/// Puts a pattern, with its course around, into a load case.
pub(crate) fn load_in(model: &mut Model, case: usize, pattern: usize, around: Around) {
    model.cases[case].terms.push(Term { pattern, around });
}

/// Traction along the axis alone, growing with r: `at` + `by_r`·r (MPa).
pub(crate) fn axial(tag: &str, at: f64, by_r: f64) -> Pattern {
    traction(tag, [Field::default(), Field::default(), Field { at, by_r, by_z: 0.0 }])
}

/// Displacement and stress of any load case; not numbers outside the body.
pub(crate) fn field(solution: &Solution, case: usize, at: (f64, f64), theta: f64) -> ([f64; 3], Stress) {
    solution.at(case, Point::new(at.0, at.1), theta).unwrap_or(([f64::NAN; 3], [f64::NAN; 6]))
}

/// Force and moment that one stress component carries through a wall, per unit of its breadth.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wall {
    /// ∫σ ds (N/mm).
    pub force: f64,
    /// ∫σ (s − h/2) ds (N): positive when the far side is in tension.
    pub moment: f64,
}

/// Integrates a stress component along the straight way from one surface to the other (Simpson).
pub(crate) fn through_wall(
    solution: &Solution,
    case: usize,
    way: [(f64, f64); 2],
    theta: f64,
    component: usize,
) -> Wall {
    const STEPS: usize = 48;
    let [from, to] = way.map(|(r, z)| Point::new(r, z));
    let depth = from.distance(to);
    let mut wall = Wall { force: 0.0, moment: 0.0 };
    for step in 0..=STEPS {
        let share = step as f64 / STEPS as f64;
        let weight = match step {
            0 | STEPS => 1.0,
            odd if odd % 2 == 1 => 4.0,
            _ => 2.0,
        } * depth
            / (3 * STEPS) as f64;
        let at = from.lerp(to, share);
        let stress = field(solution, case, (at.r, at.z), theta).1[component];
        wall.force += weight * stress;
        wall.moment += weight * stress * (share - 0.5) * depth;
    }
    wall
}
