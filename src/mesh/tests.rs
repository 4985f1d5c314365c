//! Meshes of shapes with known area, of nasty shapes, and point location.

use super::*;
use crate::geometry::Edge;
use std::f64::consts::{PI, TAU};

fn plate_with_hole() -> Outline {
    let p = |r: f64, z: f64| Point::new(r, z);
    let outer = vec![
        Edge::line(p(50.0, -20.0), p(90.0, -20.0), 0),
        Edge::line(p(90.0, -20.0), p(90.0, 20.0), 0),
        Edge::line(p(90.0, 20.0), p(50.0, 20.0), 0),
        Edge::line(p(50.0, 20.0), p(50.0, -20.0), 1),
    ];
    let c = p(70.0, 3.0);
    let hole = vec![Edge::arc(p(76.0, 3.0), c, -PI, 2), Edge::arc(p(64.0, 3.0), c, -PI, 2)];
    Outline { loops: vec![outer, hole], tags: vec!["side".into(), "inner".into(), "hole".into()] }
}

fn area(mesh: &Mesh) -> f64 {
    // Order-4 rule on the natural triangle: exact for the curved area of 6-node triangles.
    let rule = [
        (0.223_381_589_678_011, 0.108_103_018_168_070, 0.445_948_490_915_965),
        (0.109_951_743_655_322, 0.816_847_572_980_459, 0.091_576_213_509_771),
    ];
    let mut sum = 0.0;
    for triangle in &mesh.triangles {
        for (weight, a, b) in rule {
            for [s, t] in [[a, b], [b, a], [b, b]] {
                let mut ds = Point::default();
                let mut dt = Point::default();
                for (node, g) in triangle.iter().zip(quality::shape_gradients(s, t)) {
                    ds = ds + mesh.nodes[*node] * g[0];
                    dt = dt + mesh.nodes[*node] * g[1];
                }
                sum += 0.5 * weight * ds.cross(dt);
            }
        }
    }
    sum
}

#[test]
fn curved_triangles_reproduce_the_area_of_a_plate_with_a_round_hole() {
    let outline = plate_with_hole();
    let mesh = Mesh::generate(&outline, &Sizing::default()).unwrap();
    let exact = 1600.0 - PI * 36.0;
    assert!((area(&mesh) - exact).abs() < 1e-4 * exact, "{} {exact}", area(&mesh));
    assert!(mesh.quality.smallest_angle_deg >= 28.0);
    assert!(mesh.quality.jacobian_ratio > 0.5);
}

#[test]
fn halving_keeps_the_outline_and_comes_nearer_to_the_area() {
    let outline = plate_with_hole();
    let exact = 1600.0 - PI * 36.0;
    let gap = |halvings| {
        let mesh = Mesh::generate(&outline, &Sizing { halvings, ..Sizing::default() }).unwrap();
        for side in &mesh.boundary {
            // Every side still lies on a triangle that has its three nodes.
            assert!(side.nodes.iter().all(|node| mesh.triangles[side.triangle].contains(node)));
        }
        for node in mesh.nodes_on(2) {
            assert!((mesh.nodes[node].distance(Point::new(70.0, 3.0)) - 6.0).abs() < 1e-9);
        }
        (mesh.triangles.len(), (area(&mesh) - exact).abs())
    };
    let (whole, halved) = (gap(0), gap(1));
    assert_eq!(4 * whole.0, halved.0);
    // The area between an arc and a parabola through three of its points falls with the fourth power.
    assert!(halved.1 < whole.1 / 12.0, "{} {}", whole.1, halved.1);
}

#[test]
fn nodes_of_an_arc_lie_on_it() {
    let mesh = Mesh::generate(&plate_with_hole(), &Sizing::default()).unwrap();
    let hole = mesh.nodes_on(2);
    assert!(hole.len() > 20);
    for node in hole {
        assert!((mesh.nodes[node].distance(Point::new(70.0, 3.0)) - 6.0).abs() < 1e-9);
    }
    let around: f64 = mesh
        .boundary
        .iter()
        .filter(|edge| edge.tag == 2)
        .map(|edge| mesh.nodes[edge.nodes[0]].distance(mesh.nodes[edge.nodes[1]]))
        .sum();
    assert!((around - TAU * 6.0).abs() < 0.03 * TAU * 6.0);
}

#[test]
fn a_size_asked_at_a_point_is_met_there() {
    let at = Point::new(85.0, -15.0);
    let sizing = Sizing { at_points: vec![PointSize { at, size_mm: 0.4 }], ..Sizing::default() };
    let mesh = Mesh::generate(&plate_with_hole(), &sizing).unwrap();
    let place = Locator::new(&mesh).find(&mesh, at).unwrap();
    let triangle = mesh.triangles[place.triangle];
    let side = mesh.nodes[triangle[0]].distance(mesh.nodes[triangle[1]]);
    assert!(side < 0.9, "{side}");
}

#[test]
fn a_located_point_interpolates_its_own_coordinates() {
    let mesh = Mesh::generate(&plate_with_hole(), &Sizing::default()).unwrap();
    let locator = Locator::new(&mesh);
    let p = Point::new(61.234, -7.89);
    let place = locator.find(&mesh, p).unwrap();
    let mut at = Point::default();
    for (node, weight) in mesh.triangles[place.triangle].iter().zip(place.weights()) {
        at = at + mesh.nodes[*node] * weight;
    }
    assert!(at.distance(p) < 1e-9);
    assert!(locator.find(&mesh, Point::new(70.0, 3.0)).is_none());
}

#[test]
fn a_crossing_outline_is_refused_with_its_reason() {
    let mut outline = plate_with_hole();
    outline.loops[1] = vec![
        Edge::line(Point::new(80.0, 0.0), Point::new(95.0, 5.0), 2),
        Edge::line(Point::new(95.0, 5.0), Point::new(80.0, 8.0), 2),
        Edge::line(Point::new(80.0, 8.0), Point::new(80.0, 0.0), 2),
    ];
    outline.orient();
    let fault = Mesh::generate(&outline, &Sizing::default()).unwrap_err();
    assert!(fault.to_string().contains("'side' and edge 'hole'"), "{fault}");
}
