//! Manufactured solutions: a displacement is chosen, the loads that it needs follow from the equations of
//! equilibrium, and the solver must give the displacement back at the orders of its elements.

use super::shapes::{body, hold, iron, load};
use crate::elastic::{Around, Hold, Iron, Model, Options, Pattern, Polynomial, Region, Solution, solve_on};
use crate::geometry::{Edge, Point};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::mesh::Mesh;
use crate::reference::compare::Tolerance;
use std::f64::consts::PI;

const EQUILIBRIUM: Source = Source::from_memory(
    "Equations of equilibrium in cylindrical coordinates (Timoshenko & Goodier, Theory of Elasticity, 3rd ed., \
     art. 117); orders of the quadratic triangle: Strang & Fix, An Analysis of the Finite Element Method, ch. 3",
);

pub(super) static CASES: &[Case] = &[Case {
    name: "manufactured-solution",
    title: "A chosen displacement on a curved, distorted mesh off the origin",
    chapter: Chapter::Convergence,
    about: "Both families and all three components of a displacement are chosen as polynomials that no quadratic \
            element can follow exactly. Their stresses, by Hooke's law, need forces through the volume and \
            tractions on every free edge, arcs among them. The inner vertices of the first mesh are moved off \
            their places, and every finer mesh halves all sides. The error is the root mean square over points inside \
            the body and several angles, over the largest value there. Harmonics 0, 1 and 7.",
    features: &[
        Feature::BodyForce,
        Feature::Traction,
        Feature::HarmonicZero,
        Feature::Torsion,
        Feature::HarmonicOne,
        Feature::HigherHarmonics,
        Feature::BothFamilies,
        Feature::FixedEdge,
        Feature::StraightEdges,
        Feature::CurvedEdges,
    ],
    run,
}];

/// Amplitudes of one family: the displacement and what follows from it.
struct Chosen {
    displacement: [Polynomial; 3],
    stress: [Polynomial; 6],
    force: [Polynomial; 3],
}

impl Chosen {
    /// Strains, Hooke's law, and the force that equilibrium needs, for u cos nθ, v sin nθ, w cos nθ.
    fn new(displacement: [Polynomial; 3], n: f64, iron: &Iron) -> Self {
        let [u, v, w] = &displacement;
        let strain = [
            u.by_r(),
            (u.clone() + v * n).over_r(),
            w.by_z(),
            v.by_r() + (v * -1.0 + u * -n).over_r(),
            v.by_z() + (w * -n).over_r(),
            u.by_z() + w.by_r(),
        ];
        // Hooke's law by E and ν here, by Lamé's constants in the solver.
        let (e, nu) = (iron.young_mpa, iron.poisson);
        let scale = e / ((1.0 + nu) * (1.0 - 2.0 * nu));
        let normal = |i: usize| {
            let others = (0..3).filter(|j| *j != i).map(|j| &strain[j] * (scale * nu));
            others.fold(&strain[i] * (scale * (1.0 - nu)), |sum, part| sum + part)
        };
        let shear = |i: usize| &strain[i] * (e / (2.0 * (1.0 + nu)));
        let stress = [normal(0), normal(1), normal(2), shear(3), shear(4), shear(5)];
        let [rr, tt, zz, rt, tz, rz] = &stress;
        let force = [
            rr.by_r() + rz.by_z() + (rr.clone() + tt * -1.0 + rt * n).over_r(),
            rt.by_r() + tz.by_z() + (rt * 2.0 + tt * -n).over_r(),
            rz.by_r() + zz.by_z() + (rz.clone() + tz * n).over_r(),
        ]
        .map(|part| &part * -1.0);
        Self { displacement, stress, force }
    }

    /// Traction on an edge whose outward normal is (r, z).
    fn traction(&self, [across, along]: &[Polynomial; 2]) -> [Polynomial; 3] {
        let [rr, _, zz, rt, tz, rz] = &self.stress;
        [rr * across + rz * along, rt * across + tz * along, rz * across + zz * along]
    }
}

/// The outline's edges with their normals as linear functions of r and z, exact on lines and arcs alike.
fn edges() -> Vec<(Edge, &'static str, [Polynomial; 2])> {
    let p = Point::new;
    let (outer, inner) = (p(45.0, 5.0), p(38.0, 18.0));
    let convex = Edge::arc(p(72.0, 5.0), outer, 70f64.to_radians(), 0);
    let top = convex.end;
    let notch = Edge::arc(p(38.0, 24.0), inner, -PI, 0);
    let even = |r: f64, z: f64| [Polynomial::constant(r), Polynomial::constant(z)];
    let away = |c: Point, radius: f64| {
        [
            Polynomial::linear(-c.r / radius, 1.0 / radius, 0.0),
            Polynomial::linear(-c.z / radius, 0.0, 1.0 / radius),
        ]
    };
    vec![
        (Edge::line(p(38.0, 5.0), p(72.0, 5.0), 0), "foot", even(0.0, -1.0)),
        (convex, "round", away(outer, 27.0)),
        (Edge::line(top, p(38.0, top.z), 0), "top", even(0.0, 1.0)),
        (Edge::line(p(38.0, top.z), p(38.0, 24.0), 0), "upper bore", even(-1.0, 0.0)),
        (notch, "hollow", away(inner, -6.0)),
        (Edge::line(p(38.0, 12.0), p(38.0, 5.0), 0), "lower bore", even(-1.0, 0.0)),
    ]
}

/// Two families of displacements that vanish on the foot.
fn chosen() -> [[Polynomial; 3]; 2] {
    let x = Polynomial::linear(0.0, 0.02, 0.0);
    let y = Polynomial::linear(-0.25, 0.0, 0.05);
    let inverse = Polynomial::constant(50.0).over_r();
    let one = Polynomial::constant(1.0);
    let product = |factors: &[&Polynomial]| {
        factors.iter().fold(Polynomial::constant(1e-3), |product, factor| &product * *factor)
    };
    let cosine = [
        product(&[&y, &x, &x, &(one.clone() + &y * 0.7)]),
        product(&[&y, &(x.clone() + &y * -0.4), &(x.clone() + &y * 1.3), &x]),
        product(&[&y, &y, &(inverse.clone() + &x * 0.5), &y]),
    ];
    let sine = [
        product(&[&y, &(one + &y * -1.1), &inverse, &x, &x, &x]),
        product(&[&y, &x, &y, &(x.clone() + &y * 0.8)]),
        product(&[&y, &x, &x, &(inverse + &y * 0.6)]),
    ];
    [cosine, sine]
}

fn problem(n: usize) -> (Model, [Chosen; 2]) {
    let drawn = edges();
    let plain = drawn.iter().map(|(edge, tag, _)| (*edge, *tag)).collect();
    let mut model = body("curved body", plain, iron(110e3, 0.26), 9.0);
    hold(&mut model, "foot", true, true, true);
    let families = chosen().map(|displacement| Chosen::new(displacement, n as f64, &model.iron));
    for (family, fields) in families.iter().enumerate() {
        // u, w run as cos nθ and v as sin nθ in the first family; as sin nθ and −cos nθ in the second.
        let (plain, crossed, sign) = match family {
            0 => (Around::Cos(n), Around::Sin(n), 1.0),
            _ => (Around::Sin(n), Around::Cos(n), -1.0),
        };
        let mut put = |part: [Polynomial; 3], tag: Option<&str>| {
            let [r, theta, z] = part;
            let none = Polynomial::default;
            for (value, around) in [([r, none(), z], &plain), ([none(), &theta * sign, none()], &crossed)] {
                let value = Box::new(value);
                let pattern = match tag {
                    Some(tag) => Pattern::Spread { tags: vec![tag.to_owned()], value },
                    None => Pattern::Body { force: value },
                };
                if *around != Around::Sin(0) {
                    load(&mut model, pattern, around.clone());
                }
            }
        };
        put(fields.force.clone(), None);
        for (_, tag, normal) in drawn.iter().filter(|(_, tag, _)| *tag != "foot") {
            put(fields.traction(normal), Some(tag));
        }
    }
    (model, families)
}

/// Moves the inner vertices by up to a fifth of the nearest side, always the same way.
fn distorted(mut mesh: Mesh) -> Mesh {
    let mut room = vec![f64::INFINITY; mesh.vertex_count];
    for triangle in &mesh.triangles {
        for i in 0..3 {
            let (a, b) = (triangle[i], triangle[(i + 1) % 3]);
            let side = mesh.nodes[a].distance(mesh.nodes[b]);
            room[a] = room[a].min(side);
            room[b] = room[b].min(side);
        }
    }
    for side in &mesh.boundary {
        room[side.nodes[0]] = 0.0;
    }
    // Steps of the golden angle: spread over all directions, and no random numbers to seed.
    for (node, room) in room.iter().enumerate() {
        mesh.nodes[node] = mesh.nodes[node] + Point::unit(2.399_963 * node as f64) * (0.2 * room);
    }
    let outline: Vec<usize> = mesh.boundary.iter().map(|side| side.nodes[2]).collect();
    for [a, b, c, ab, bc, ca] in mesh.triangles.clone() {
        for (from, to, middle) in [(a, b, ab), (b, c, bc), (c, a, ca)] {
            if !outline.contains(&middle) {
                mesh.nodes[middle] = mesh.nodes[from].lerp(mesh.nodes[to], 0.5);
            }
        }
    }
    mesh
}

/// Root mean square errors of displacement and stress over their largest exact values.
fn errors(solution: &Solution, n: usize, families: &[Chosen; 2]) -> [f64; 2] {
    let (mut squares, mut largest, mut count) = ([0.0; 2], [0.0f64; 2], 0.0);
    for step in 0..600 {
        // A lattice of irrational steps over the box around the section.
        let (s, t) = (0.618_034 * f64::from(step) % 1.0, 0.414_214 * f64::from(step) % 1.0);
        let p = Point::new(38.0 + 34.0 * s, 5.0 + 25.0 * t);
        let theta = 0.3 + 1.1 * f64::from(step % 5);
        let Some((shift, stress)) = solution.at(0, p, theta) else { continue };
        let (sin, cos) = (n as f64 * theta).sin_cos();
        let exact = |even: &Polynomial, odd: &Polynomial, crossed: bool| {
            let (a, b) = (even.value(p), odd.value(p));
            if crossed { a * sin - b * cos } else { a * cos + b * sin }
        };
        let [even, odd] = families;
        let mut add = |kind: usize, computed: f64, exact: f64| {
            squares[kind] += (computed - exact).powi(2);
            largest[kind] = largest[kind].max(exact.abs());
        };
        for (c, value) in shift.into_iter().enumerate() {
            add(0, value, exact(&even.displacement[c], &odd.displacement[c], c == 1));
        }
        for (c, value) in stress.into_iter().enumerate() {
            add(1, value, exact(&even.stress[c], &odd.stress[c], c == 3 || c == 4));
        }
        count += 1.0;
    }
    [(squares[0] / (3.0 * count)).sqrt() / largest[0], (squares[1] / (6.0 * count)).sqrt() / largest[1]]
}

fn run() -> Result<Record, CaseFault> {
    const LEVELS: usize = 4;
    let mut rows = Vec::new();
    let mut bench = None;
    for n in [0, 1, 7] {
        let (model, families) = problem(n);
        let mut mesh = distorted(Mesh::generate(&model.outline, &model.sizing).map_err(CaseFault::of)?);
        let mut solutions = Vec::new();
        for level in 0..LEVELS {
            if level > 0 {
                mesh = mesh.halved(&model.outline);
            }
            solutions.push(solve_on(&model, mesh.clone(), Region::everything, &Options::default())?);
        }
        let solved = Bench { model, solutions };
        let history: Vec<[f64; 2]> = solved.solutions.iter().map(|s| errors(s, n, &families)).collect();
        for (kind, (name, order)) in [("displacement", 3.0), ("stress", 2.0)].into_iter().enumerate() {
            let course: Vec<f64> = history.iter().map(|errors| errors[kind]).collect();
            // Over two halvings, because the sampled points meet the elements differently on every mesh.
            let observed = (course[LEVELS - 3] / course[LEVELS - 1]).log2() / 2.0;
            let reason = "the order is that of fine meshes; a tenth is left for how far these are from it";
            let mut row = Row::new(
                format!("harmonic {n}: order of the {name} over the last two halvings"),
                "",
                EQUILIBRIUM,
                order,
                observed,
            );
            row = row.within(Tolerance::Absolute(0.1), reason);
            // Recovered stresses gather more than one order inside the body.
            rows.push(if kind == 1 { row.or_above() } else { row });
            let what = format!("harmonic {n}: error of the {name} on the finest mesh");
            let mut row = Row::new(what, "", EQUILIBRIUM, 0.0, course[LEVELS - 1]);
            let allowed = [1e-5, 1e-3][kind];
            row = row.within(
                Tolerance::Absolute(allowed),
                "some thirty sides over the section, to the power of the order",
            );
            row.history = course;
            rows.push(row);
        }
        bench = Some(solved);
    }
    let held = Hold::FIXED.flags().iter().filter(|held| **held).count();
    let Some(bench) = bench else { return Err(CaseFault::of("nothing was solved")) };
    let vertices = bench.solutions[0].mesh.vertex_count;
    let fact = format!("The first mesh has {vertices} vertices; the foot is held in {held} directions.");
    Ok(bench.record(rows).fact(fact))
}
