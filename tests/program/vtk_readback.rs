//! The VTK files as outside readers see them: `validation/read_vtk.py` compares them with the solution.
//!
//! Needs a Python that holds `validation/requirements.txt`: `validation/prepare.sh` makes one and prints
//! its path; the environment variable RIMPROOF_PYTHON names it (default `python3`).

use rimproof::elastic::{
    Around, Case, Field, Hold, Iron, Model, Options, Pattern, Region, Solution, Stress, Stretch, Support,
    Term, solve,
};
use rimproof::geometry::{Edge, Outline, Point};
use rimproof::mesh::Sizing;
use rimproof::report::vtk::{Limits, section_vtu, turn_files, wheel_vtu};
use serde_json::{Value, json};
use std::f64::consts::{PI, TAU};
use std::process::Command;

const SECTORS: usize = 24;
const ANGLES: usize = 9;
const THETA: f64 = 0.7;
const LIMITS: Limits = Limits { allowable_mpa: 11.0, compressive_allowable_mpa: Some(37.0) };

/// A ring off the origin with a round groove, loaded unevenly in both families.
fn grooved_ring() -> Solution {
    let p = Point::new;
    let (left, right) = (p(60.0, 6.0), p(60.0, 14.0));
    let edges = vec![
        Edge::line(p(38.0, 2.0), p(60.0, 2.0), 0),
        Edge::line(p(60.0, 2.0), left, 0),
        Edge::arc_between(left, right, p(61.0, 10.0), false, 1),
        Edge::line(right, p(60.0, 21.0), 0),
        Edge::line(p(60.0, 21.0), p(38.0, 21.0), 0),
        Edge::line(p(38.0, 21.0), p(38.0, 2.0), 2),
    ];
    let seat = || vec!["seat".to_owned()];
    let falling = Stretch { from: -0.9, to: 1.6, value: 1.0, decay: 0.3 };
    let model = Model {
        title: "grooved ring".into(),
        outline: Outline { loops: vec![edges], tags: ["side", "seat", "bore"].map(String::from).to_vec() },
        sizing: Sizing { largest_mm: 5.0, ..Sizing::default() },
        iron: Iron { young_mpa: 110e3, poisson: 0.26, density_t_mm3: 7.2e-9, expansion_per_k: 1.1e-5 },
        supports: vec![Support { tag: "bore".into(), hold: Hold::FIXED }],
        patterns: vec![
            Pattern::Pressure { tags: seat(), value: Field { at: 18.0, by_r: 0.0, by_z: 0.7 } },
            Pattern::Traction { tags: seat(), value: [0.0, -6.0, 4.0].map(Field::constant) },
        ],
        cases: vec![Case {
            name: "load".into(),
            terms: vec![
                Term { pattern: 0, around: Around::Stretches { stretches: vec![falling], run_in: 0.2 } },
                Term { pattern: 1, around: Around::Arc { from: -0.4, to: 1.1 } },
            ],
        }],
    };
    // The files carry whatever field there is, so a few harmonics do.
    let options = Options { block: 8, least: 16, most: 80, tolerance: 0.05 };
    solve(&model, Region::everything, &options).unwrap()
}

fn place(at: Point, theta: f64, (displacement, s): ([f64; 3], Stress)) -> Value {
    json!({
        "at_mm": [at.r, at.z],
        "theta_rad": theta,
        "displacement_mm": displacement,
        "stress_mpa": { "rr": s[0], "tt": s[1], "zz": s[2], "rt": s[3], "tz": s[4], "rz": s[5] },
    })
}

fn at_node(solution: &Solution, node: usize, theta: f64) -> Value {
    let values = (solution.displacement(0, node, theta), solution.stress(0, node, theta));
    place(solution.mesh.nodes[node], theta, values)
}

/// What the section bears at one angle of the turn.
fn turn_step(solution: &Solution, index: usize) -> Value {
    let theta = -PI + TAU * index as f64 / ANGLES as f64;
    let nodes = (0..solution.mesh.nodes.len()).step_by(7).map(|node| at_node(solution, node, theta));
    json!({ "time": theta.to_degrees(), "nodes": nodes.collect::<Vec<_>>() })
}

/// Off-centre points of every fifth triangle.
fn inside(solution: &Solution, theta: f64) -> Vec<Value> {
    let mesh = &solution.mesh;
    let point = |triangle: &[usize; 6]| {
        let [a, b, c] = [0, 1, 2].map(|i| mesh.nodes[triangle[i]]);
        a * 0.5 + b * 0.3 + c * 0.2
    };
    let points = mesh.triangles.iter().step_by(5).map(point);
    let places: Vec<Value> = points.map(|at| place(at, theta, solution.at(0, at, theta).unwrap())).collect();
    assert!(places.len() > 10, "too few places to tell node orders apart: {}", places.len());
    places
}

/// 2π ∫ r dA = 2π ∮ ½ r² dz over the boundary's parabolas, or over their chords where `chords`.
fn revolved(solution: &Solution, chords: bool) -> f64 {
    let mesh = &solution.mesh;
    let root = 0.6f64.sqrt();
    let rule = [(0.5 - 0.5 * root, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.5 + 0.5 * root, 5.0 / 18.0)];
    let mut moment = 0.0;
    for edge in &mesh.boundary {
        let [a, b, m] = edge.nodes.map(|node| mesh.nodes[node]);
        let m = if chords { a.lerp(b, 0.5) } else { m };
        for (x, weight) in rule {
            let at =
                a * ((1.0 - x) * (1.0 - 2.0 * x)) + b * (x * (2.0 * x - 1.0)) + m * (4.0 * x * (1.0 - x));
            let run = a * (4.0 * x - 3.0) + b * (4.0 * x - 1.0) + m * (4.0 - 8.0 * x);
            moment += weight * 0.5 * at.r * at.r * run.z;
        }
    }
    TAU * moment
}

/// Writes `written`'s files beside the values of `truth`, and lets Python compare them.
fn read_back(truth: &Solution, written: &Solution) -> (bool, String) {
    let folder = tempfile::tempdir().unwrap();
    let [section, wheel, expected] =
        ["section.vtu", "wheel.vtu", "expected.json"].map(|name| folder.path().join(name));
    std::fs::write(&section, section_vtu(written, 0, THETA, &LIMITS).unwrap()).unwrap();
    std::fs::write(&wheel, wheel_vtu(written, 0, SECTORS, &LIMITS).unwrap()).unwrap();
    for (name, bytes) in turn_files(written, 0, ANGLES, &LIMITS).unwrap() {
        std::fs::write(folder.path().join(name), bytes).unwrap();
    }
    let (mesh, step) = (&truth.mesh, TAU / SECTORS as f64);
    let (nodes, triangles) = (mesh.nodes.len(), mesh.triangles.len());
    // On planes every node counts, between them only vertices.
    let plane = |k: usize| k as f64 * step;
    let wheel_nodes: Vec<Value> = (0..nodes)
        .step_by(7)
        .map(|node| at_node(truth, node, plane(node % SECTORS)))
        .chain((0..mesh.vertex_count).step_by(5).map(|v| at_node(truth, v, plane(v % SECTORS) + 0.5 * step)))
        .collect();
    // Each sector's circle is a parabola through three of its points, of this share of its area. The
    // bulge of a curved side runs straight from plane to plane, so it loses up to a sagitta's share.
    let half = 0.5 * step;
    let parabola = half.sin() * (1.0 + (1.0 - half.cos()) / 3.0) / half;
    let volume = revolved(truth, false);
    let bulge = volume - revolved(truth, true);
    let task = json!({
        "limits": {
            "allowable_mpa": LIMITS.allowable_mpa,
            "compressive_allowable_mpa": LIMITS.compressive_allowable_mpa,
        },
        "section": {
            "file": section,
            "counts": [nodes, triangles],
            "nodes": (0..nodes).step_by(7).map(|node| at_node(truth, node, THETA)).collect::<Vec<_>>(),
            "inside": inside(truth, THETA),
        },
        "turn": {
            "file": folder.path().join("turn.pvd"),
            "steps": (0..ANGLES).map(|index| turn_step(truth, index)).collect::<Vec<_>>(),
        },
        "wheel": {
            "file": wheel,
            "counts": [SECTORS * (nodes + mesh.vertex_count), SECTORS * triangles],
            "nodes": wheel_nodes,
            "inside": inside(truth, plane(5)),
            "volume_mm3": volume * parabola,
            "volume_allowed_mm3": bulge.abs() * (1.0 - half.cos()),
        },
    });
    std::fs::write(&expected, task.to_string()).unwrap();
    let python = std::env::var("RIMPROOF_PYTHON").unwrap_or_else(|_| "python3".into());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/validation/read_vtk.py");
    let help = "run validation/prepare.sh and set RIMPROOF_PYTHON to the path it prints";
    let output = Command::new(&python)
        .arg(script)
        .arg(&expected)
        .output()
        .unwrap_or_else(|error| panic!("'{python}' does not start: {error}; {help}"));
    let errors = String::from_utf8_lossy(&output.stderr).into_owned();
    let code = output.status.code();
    assert!(matches!(code, Some(0 | 1)), "'{python}' could not compare (exit {code:?}): {errors}\n{help}");
    // An exception also ends with 1, and proves nothing.
    assert!(code == Some(0) || errors.contains("MISMATCH"), "the comparison broke off: {errors}");
    (code == Some(0), errors + &String::from_utf8_lossy(&output.stdout))
}

#[test]
fn outside_readers_find_what_was_solved() {
    let solution = grooved_ring();
    let (agrees, said) = read_back(&solution, &solution);
    assert!(agrees, "{said}");
}

/// Writes a spoiled copy and demands that it is rejected for the stated reason, and not for all.
fn reject(spoil: impl Fn(&mut Solution), because: &str, but_not: &str) {
    let truth = grooved_ring();
    let mut spoiled = grooved_ring();
    spoil(&mut spoiled);
    let (agrees, said) = read_back(&truth, &spoiled);
    assert!(!agrees, "not noticed: {because}");
    let mismatches = said.lines().filter(|line| line.starts_with("MISMATCH")).collect::<Vec<_>>().join("\n");
    assert!(mismatches.contains(because), "{because} is not named: {mismatches}");
    assert!(!mismatches.contains(but_not), "{but_not} is blamed as well: {mismatches}");
}

#[test]
fn two_swapped_stress_components_are_noticed() {
    for (first, second) in [(3, 5), (4, 5)] {
        let swap = |solution: &mut Solution| {
            for row in solution.cases[0].iter_mut().flat_map(|harmonic| &mut harmonic.stress) {
                row.swap(first, second);
                row.swap(first + 6, second + 6);
            }
        };
        reject(swap, "section stress_MPa", "displacement_mm");
    }
}

#[test]
fn a_wrong_order_of_nodes_is_noticed() {
    let turn = |solution: &mut Solution| {
        for triangle in &mut solution.mesh.triangles {
            triangle[3..].rotate_left(1);
        }
    };
    reject(turn, "section inside displacement_mm", "section stress_MPa");
}
