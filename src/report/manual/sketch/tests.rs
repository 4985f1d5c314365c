//! What a sketch must show, for bodies of every proportion.

use super::*;
use crate::elastic::Around;
use crate::manual::cases::shapes::{hold, iron, load, pressure, tube};

fn drawn(inner: f64, outer: f64, height: f64) -> Sketch {
    let mut model = tube("tube", inner, outer, height, iron(2e5, 0.3), 30.0);
    hold(&mut model, "bottom", false, false, true);
    load(&mut model, pressure("outside", 5.0), Around::Constant);
    let Some(sketch) = sketch(&model) else { panic!("a tube can be drawn") };
    sketch
}

#[test]
fn a_sketch_names_edges_and_dimensions_and_says_what_is_not_to_scale() {
    let sketch_of_ring = drawn(100.0, 200.0, 60.0);
    for words in ["bottom (z held)", "outside", "top", "bore", "r 100", "r 200", "\n60\n", "axis"] {
        assert!(sketch_of_ring.svg.contains(words), "{words}: {}", sketch_of_ring.svg);
    }
    assert!(sketch_of_ring.caption.contains("shortened") && !sketch_of_ring.caption.contains("Not to scale"));
    let shell = drawn(200.0, 202.0, 400.0);
    assert!(shell.caption.contains("r is drawn"), "{}", shell.caption);
    let plate = drawn(0.0, 200.0, 4.0);
    assert!(
        plate.caption.contains("z is drawn") && !plate.caption.contains("shortened"),
        "{}",
        plate.caption
    );
}

#[test]
fn no_coordinate_is_lost() {
    for (inner, outer, height) in [(0.0, 1.0, 1.0), (1.0, 1e4, 1.0), (5e3, 5001.0, 9e3)] {
        let svg = drawn(inner, outer, height).svg;
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
    }
}
