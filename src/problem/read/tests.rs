//! Every fault of a model file has its code and its place; a sound file becomes the model it says.

use super::read;
use crate::diagnostics::{Look, Severity};
use crate::elastic::{Around, Field, Law, Pattern};
use crate::geometry::Curve;
use std::path::Path;

/// A flanged ring with every table that the format knows.
const SOUND: &str = r#"model = 1
title = "ring"

[material]
young_mpa = 110e3
poisson = 0.26
density_kg_m3 = 7200
expansion_per_k = 1.1e-5

[[loop]]
start = [50.0, 0.0]
edges = [
  { to = [80.0, 0.0], tag = "side" },
  { to = [80.0, 8.0], tag = "edge" },
  { to = [80.0, 16.0], centre = [80.0, 12.0], turn = "right", tag = "seat" },
  { to = [80.0, 24.0], tag = "edge" },
  { to = [50.0, 24.0], tag = "side" },
  { to = [50.0, 0.0], tag = "bore" },
]

[[loop]]
start = [60.0, 10.0]
edges = [
  { to = [64.0, 10.0], through = [62.0, 8.0], tag = "hole" },
  { to = [60.0, 10.0], through = [62.0, 12.0], tag = "hole" },
]

[mesh]
largest_mm = 4.0
tag_sizes = [{ tag = "seat", size_mm = 1.0 }]
point_sizes = [{ at = [50.0, 0.0], size_mm = 2.0 }]

[[support]]
tag = "bore"
hold = ["r", "theta", "z"]

[[rope]]
case = "ropes"
tags = ["seat"]
heavy_n = 900.0
light_n = 700.0
wrap_deg = 160.0
middle_deg = 10.0
seat_radius_mm = 76.0
moment_radius_mm = 80.0
law = "cosine"
centre = [80.0, 12.0]
creep = "active arc at light side"
friction = 0.2
run_in_mm = 8.0

[[load]]
case = "squeeze"
tags = ["edge"]
pressure_mpa = { at = 3.0, per_mm_z = 0.1 }
around = { cos = 3 }

[[load]]
case = "squeeze"
tag = "side"
traction_mpa = [0.0, 1.0, { at = 2.0, per_mm_r = 0.5 }]
around = { from_deg = -20, to_deg = 25 }

[[heat]]
case = "warm"
at_k = 10.0
per_mm_z = 0.5

[[spin]]
case = "warm"
rpm = 60.0

[series]
block = 8
least = 24
most = 200
tolerance = 0.01

[search]
below_r_mm = 55.0
tags = ["seat", "edge"]

[[probe]]
name = "over the hole"
at = [70.0, 12.0]
theta_deg = [0, 90]
case = "ropes"
"#;

#[test]
fn a_sound_file_becomes_the_model_it_says() {
    let reading = read(SOUND.as_bytes(), Path::new("model.toml"));
    assert!(reading.diagnostics.is_empty(), "{}", reading.diagnostics.render(Look::Plain));
    let problem = reading.problem.unwrap();
    let model = &problem.model;
    assert_eq!(model.title, "ring");
    assert!((model.iron.density_t_mm3 - 7.2e-9).abs() < 1e-20);
    assert_eq!(model.outline.tags, ["side", "edge", "seat", "bore", "hole"]);
    // A full hole of radius 2 and half a seat of radius 4 are missing from 30 × 24 mm.
    let exact = 30.0 * 24.0 - 12.0 * std::f64::consts::PI;
    assert!((model.outline.area() - exact).abs() < 1e-9, "{}", model.outline.area());
    // The seat is cut into the body: an arc that turns right.
    let seat = model.outline.loops[0].iter().find(|edge| edge.tag == 2).unwrap();
    assert!(matches!(seat.curve, Curve::Arc { sweep, .. } if sweep < 0.0), "{seat:?}");
    let names: Vec<&str> = model.cases.iter().map(|case| case.name.as_str()).collect();
    assert_eq!(names, ["ropes", "squeeze", "warm"]);
    let Pattern::Bearing { law: Law::Cosine { centre }, .. } = &model.patterns[0] else { panic!() };
    assert_eq!((centre.r, centre.z), (80.0, 12.0));
    let Around::Stretches { stretches, run_in } = &model.cases[0].terms[0].around else { panic!() };
    assert!((run_in - 8.0 / 76.0).abs() < 1e-15);
    assert!((stretches[0].from.to_degrees() + 70.0).abs() < 1e-9, "{stretches:?}");
    assert!((stretches[1].to.to_degrees() - 90.0).abs() < 1e-9, "{stretches:?}");
    let active = stretches[1].to - stretches[1].from;
    assert!((active - (900.0f64 / 700.0).ln() / 0.2).abs() < 1e-12);
    let pressure = Field { at: 3.0, by_r: 0.0, by_z: 0.1 };
    assert!(
        model.patterns.contains(&Pattern::Pressure { tags: vec!["edge".into()], value: pressure }),
        "{:?}",
        model.patterns
    );
    assert_eq!(model.cases[1].terms[0].around, Around::Cos(3));
    assert!(matches!(model.patterns.last(), Some(Pattern::Spin { rad_s })
        if (rad_s - std::f64::consts::TAU).abs() < 1e-12));
    assert_eq!(problem.extras.search.tags, ["seat", "edge"]);
    assert_eq!(problem.extras.probes[0].theta_rad.len(), 2);
    assert_eq!(problem.extras.series.least, 24);
}

/// Replaces the first `old` and expects the code where `at` then stands.
fn expect(old: &str, new: &str, code: &str, at: &str, severity: Severity) {
    assert!(SOUND.contains(old), "no {old}");
    let text = SOUND.replacen(old, new, 1);
    let reading = read(text.as_bytes(), Path::new("model.toml"));
    let shown = reading.diagnostics.render(Look::Plain);
    let start = text.find(at).unwrap_or_else(|| panic!("no {at}"));
    let line = text[..start].matches('\n').count() + 1;
    let column = text[..start].rsplit('\n').next().unwrap().chars().count() + 1;
    let place = format!("model.toml:{line}:{column}: ");
    let hit = shown.lines().any(|line| line.starts_with(&place) && line.contains(&format!("({code})")));
    assert!(hit, "{code} at {place} is missing after {new}:\n{shown}");
    assert_eq!(reading.problem.is_some(), severity == Severity::Warning, "{shown}");
    for item in reading.diagnostics.sorted() {
        assert!(!item.help.is_empty() && item.message.ends_with('.'), "{item:?}");
        assert!(item.code.starts_with("model/"), "{item:?}");
    }
}

fn fails(old: &str, new: &str, code: &str, at: &str) {
    expect(old, new, code, at, Severity::Error);
}

#[test]
fn faults_of_single_values() {
    fails("poisson = 0.26", "poisson = 0.5", "model/out-of-range", "0.5\n");
    fails("poisson = 0.26", "poisson = nan", "model/out-of-range", "nan");
    fails("young_mpa = 110e3", "young_mpa = inf", "model/out-of-range", "inf");
    fails("young_mpa = 110e3", "young_mpa = \"110 GPa\"", "model/wrong-type", "\"110 GPa\"");
    fails("density_kg_m3 = 7200\n", "", "model/needed", "[material]");
    fails("expansion_per_k = 1.1e-5\n", "", "model/needed", "[material]");
    fails("largest_mm = 4.0", "largest_mm = -4.0", "model/out-of-range", "-4.0");
    fails("largest_mm = 4.0", "largest_mm = 0.001", "model/too-fine", "0.001");
    fails("largest_mm = 4.0", "largest_mm = 0.05", "model/too-fine", "0.05");
    fails("size_mm = 1.0", "size_mm = 0.002", "model/too-fine", "0.002");
    fails("size_mm = 1.0", "size_mm = 0", "model/out-of-range", "0 }]\npoint");
    fails("model = 1", "model = 2", "model/not-a-count", "2\n");
    fails("[material]", "[materiel]", "model/unknown-key", "materiel]");
    fails("run_in_mm = 8.0", "run_in_mm = 8.0\nrun_inn = 1", "model/unknown-key", "run_inn");
    fails("wrap_deg = 160.0", "wrap_deg = 400.0", "model/out-of-range", "400.0");
    fails("hold = [\"r\", ", "hold = [\"x\", ", "model/choice-unknown", "\"x\"");
    fails("traction_mpa = [0.0, ", "traction_mpa = [", "model/traction", "[1.0, {");
    fails("rpm = 60.0", "rpm = 60.0.0", "model/syntax", ".0\n\n[series]");
    fails("theta_deg = [0, 90]", "theta_deg = [0, \"x\"]", "model/wrong-type", "\"x\"");
}

/// The underside of a wheel is fitted by arcs so flat that their centres lie on the other side of the shaft.
#[test]
fn a_flat_arc_may_have_its_centre_beyond_the_axis() {
    let flat = "{ to = [80.0, 8.0], centre = [-100.0, 4.0], turn = \"left\", tag";
    let text = SOUND.replacen("{ to = [80.0, 8.0], tag", flat, 1);
    let reading = read(text.as_bytes(), Path::new("model.toml"));
    assert!(!reading.diagnostics.has_errors(), "{}", reading.diagnostics.render(Look::Plain));
    fails("{ to = [80.0, 8.0], tag", "{ to = [-80.0, 8.0], tag", "model/out-of-range", "-80.0, 8.0], tag");
}

#[test]
fn faults_of_loops() {
    fails(
        "{ to = [50.0, 0.0], tag = \"bore\" }",
        "{ to = [50.0, 1.0], tag = \"bore\" }",
        "model/loop-open",
        "{ to = [50.0, 1.0]",
    );
    fails("centre = [80.0, 12.0], turn", "centre = [80.0, 12.5], turn", "model/arc", "[80.0, 12.5], turn");
    fails("through = [62.0, 8.0]", "through = [62.0, 10.0]", "model/arc", "[62.0, 10.0]");
    fails("turn = \"right\", tag", "tag", "model/edge", "{ to = [80.0, 16.0]");
    fails(
        "{ to = [80.0, 8.0], tag",
        "{ to = [80.0, 0.0], tag",
        "model/edge",
        "{ to = [80.0, 0.0], tag = \"edge\"",
    );
    fails("to = [80.0, 8.0]", "to = [80.0]", "model/point", "[80.0],");
    fails("to = [80.0, 8.0]", "to = [-80.0, 8.0]", "model/out-of-range", "-80.0");
    // The hole is moved out of the ring; then one of its arcs is made to cross the side.
    fails("start = [60.0, 10.0]", "start = [40.0, 10.0]", "model/loop-open", "{ to = [60.0, 10.0], through");
    fails(
        "through = [62.0, 8.0]",
        "through = [62.0, -3.0]",
        "model/outline",
        "{ to = [80.0, 0.0], tag = \"side\" }",
    );
}

#[test]
fn a_fault_in_a_loop_drawn_the_other_way_round_is_placed_on_its_own_edge() {
    let text = SOUND.split("[[loop]]\nstart = [60.0").next().unwrap();
    let from = text.find("start").unwrap();
    let clockwise = "start = [50.0, 0.0]\nedges = [\n  { to = [50.0, 24.0], tag = \"bore\" },\n  { to = [60.0, 24.0], tag = \"top\" },\n  { to = [55.0, 10.0], through = [-20.0, 17.0], tag = \"deep\" },\n  { to = [50.0, 0.0], tag = \"low\" },\n]\n";
    let text = format!("{}{clockwise}", &text[..from]);
    let shown = read(text.as_bytes(), Path::new("m.toml")).diagnostics.render(Look::Plain);
    let line = text[..text.find("{ to = [55.0").unwrap()].matches('\n').count() + 1;
    assert!(shown.contains("model/outline") || shown.contains("model/out-of-range"), "{shown}");
    assert!(shown.contains(&format!("m.toml:{line}:")), "{shown}");
}

#[test]
fn names_that_nothing_carries() {
    for (old, new) in [
        ("tag = \"bore\"\nhold", "tag = \"boer\"\nhold"),
        ("tags = [\"seat\"]\nheavy", "tags = [\"boer\"]\nheavy"),
        ("tags = [\"edge\"]\npressure", "tags = [\"boer\"]\npressure"),
        ("tags = [\"seat\", \"edge\"]", "tags = [\"seat\", \"boer\"]"),
        ("{ tag = \"seat\", size", "{ tag = \"boer\", size"),
    ] {
        fails(old, new, "model/unknown-tag", "\"boer\"");
    }
    fails("[0, 90]\ncase = \"ropes\"", "[0, 90]\ncase = \"rope\"", "model/unknown-case", "\"rope\"\n");
    let text = SOUND.replacen("tag = \"bore\"\nhold", "tag = \"boer\"\nhold", 1);
    let shown = read(text.as_bytes(), Path::new("m.toml")).diagnostics.render(Look::Plain);
    assert!(shown.contains("did you mean \"bore\"?"), "{shown}");
}

#[test]
fn faults_across_values() {
    fails("at = [70.0, 12.0]", "at = [62.0, 10.0]", "model/probe-outside", "[62.0, 10.0]\ntheta");
    fails("seat_radius_mm = 76.0", "seat_radius_mm = 77.0", "model/rope-radius", "77.0");
    fails("heavy_n = 900.0", "heavy_n = 600.0", "model/rope-sides", "600.0");
    fails("friction = 0.2\n", "", "model/needed", "[[rope]]");
    fails("law = \"cosine\"", "law = \"uniform\"", "model/both", "[80.0, 12.0]\ncreep");
    fails("least = 24", "least = 240", "model/series", "240");
    fails("run_in_mm = 8.0", "run_in_mm = 800.0", "model/out-of-range", "800.0");
    fails("around = { cos = 3 }", "around = { cos = 3, sin = 2 }", "model/around", "{ cos = 3, sin");
    fails("around = { cos = 3 }", "around = \"bumpy\"", "model/around", "\"bumpy\"");
    fails("to_deg = 25", "to_deg = -25", "model/around", "{ from_deg");
    fails(
        "tag = \"side\"\ntraction",
        "tag = \"side\"\npressure_mpa = 1\ntraction",
        "model/both",
        "[[load]]\ncase = \"squeeze\"\ntag = \"side\"",
    );
    expect("friction = 0.2", "friction = 0.01", "model/rope-slips", "0.01", Severity::Warning);
}

#[test]
fn all_faults_are_shown_at_once() {
    let text = SOUND.replacen("0.26", "0.7", 1).replacen("\"bore\"\nhold", "\"x\"\nhold", 1).replacen(
        "at = [70.0, 12.0]",
        "at = [7.0, 12.0]",
        1,
    );
    let shown = read(text.as_bytes(), Path::new("m.toml")).diagnostics.render(Look::Plain);
    for code in ["out-of-range", "unknown-tag", "probe-outside"] {
        assert!(shown.contains(code), "{shown}");
    }
    assert!(shown.ends_with("3 errors.\n"), "{shown}");
}

#[test]
fn what_is_no_model_at_all_is_one_fault() {
    for (bytes, code) in [
        (&b""[..], "model/empty"),
        (b"  \n", "model/empty"),
        (b"\x7fELF\x02\x01\x00\xff\xfe", "model/not-text"),
        (b"model = 1\0", "model/not-text"),
    ] {
        let reading = read(bytes, Path::new("m.toml"));
        let codes: Vec<&str> = reading.diagnostics.sorted().iter().map(|item| item.code).collect();
        assert_eq!(codes, [code]);
        assert!(reading.problem.is_none());
    }
}

#[test]
fn no_cut_off_file_is_taken_for_a_whole_one_or_panics() {
    // The file without its last tables is another sound model; before its first load it is none.
    let first_load = SOUND.find("[[rope]]").unwrap();
    for end in (0..SOUND.len()).filter(|end| SOUND.is_char_boundary(*end)) {
        let reading = read(&SOUND.as_bytes()[..end], Path::new("m.toml"));
        assert_eq!(reading.problem.is_none(), reading.diagnostics.has_errors());
        assert!(end > first_load || reading.problem.is_none(), "{end}");
    }
}
