//! The `solve` command against published solutions, and its behaviour with bad files.

use rimproof::reference::compare::{Tolerance, assert_close};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

fn solve(arguments: &[&str]) -> assert_cmd::assert::Assert {
    crate::program().arg("solve").args(arguments).assert()
}

fn mesh(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("meshes").join(name).display().to_string()
}

/// Solves a file that is sound and returns its JSON.
fn solved(path: &str) -> Value {
    let run = solve(&[path, "--json", "-"]).code(0);
    serde_json::from_slice(&run.get_output().stdout).unwrap()
}

fn probe<'a>(answer: &'a Value, name: &str) -> &'a Value {
    answer["probes"].as_array().unwrap().iter().find(|probe| probe["name"] == name).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

fn stderr(run: &assert_cmd::assert::Assert) -> String {
    String::from_utf8(run.get_output().stderr.clone()).unwrap()
}

fn in_folder(folder: &tempfile::TempDir, text: &str) -> (PathBuf, String) {
    let path = folder.path().join("model.toml");
    fs::write(&path, text).unwrap();
    let shown = path.display().to_string();
    (path, shown)
}

#[test]
fn the_thick_tube_follows_lame() {
    let answer = solved(&mesh("model_tube.toml"));
    assert_eq!(answer["schema"], "rimproof.solve/1");
    let reason = "5 mm sides: recovered stresses of quadratic triangles, up to 0.1 % of the pressure";
    // Timoshenko & Goodier, art. 28, a = 100, b = 200 mm, p = 60 MPa, plane strain.
    for (name, radial, hoop) in [("bore", -60.0, 100.0), ("middle of the wall", -140.0 / 9.0, 500.0 / 9.0)] {
        let stress = &probe(&answer, name)["stress_mpa"];
        let near = |what: &str, key: &str, exact: f64| {
            assert_close(what, number(&stress[key]), exact, Tolerance::Absolute(0.12), reason);
        };
        near("radial", "rr", radial);
        near("hoop", "tt", hoop);
        near("axial", "zz", 0.3 * (radial + hoop));
    }
    let moved = &probe(&answer, "bore")["displacement_mm"];
    let reason = "displacements converge one order faster";
    assert_close("bore", number(&moved[0]), 0.0572, Tolerance::Relative(1e-5), reason);
    let case = &answer["cases"][0];
    assert_eq!(case["peak"]["on"][0], "bore");
    assert!(case["peak"]["theta_deg"].is_null());
    assert!(number(&case["largest_relative_gap"]) < 1e-6);
}

#[test]
fn the_heated_solid_of_le11_has_the_published_axial_stress() {
    let answer = solved(&mesh("model_le11.toml"));
    let stress = number(&probe(&answer, "A")["stress_mpa"]["zz"]);
    let reason = "the target is published to three digits";
    assert_close("axial stress at A", stress, -105.0, Tolerance::Relative(0.01), reason);
    assert_eq!(answer["not_searched"].as_array().unwrap().len(), 2, "two blunt re-entrant corners");
}

const CYLINDER: &str = r#"model = 1
[material]
young_mpa = 110e3
poisson = 0.26
[[loop]]
start = [200.0, 0.0]
edges = [
  { to = [280.0, 0.0], tag = "side" },
  { to = [280.0, 15.0], tag = "land" },
  { to = [280.0, 35.0], tag = "seat" },
  { to = [280.0, 50.0], tag = "land" },
  { to = [200.0, 50.0], tag = "side" },
  { to = [200.0, 0.0], tag = "bore" },
]
[[support]]
tag = "bore"
hold = ["r", "theta", "z"]
[[rope]]
tag = "seat"
heavy_n = 8000.0
light_n = 5500.0
wrap_deg = 165.0
seat_radius_mm = 280.0
moment_radius_mm = 280.0
law = "uniform"
[series]
tolerance = 0.02
"#;

#[test]
fn a_roped_cylinder_carries_the_vector_sum_of_the_pulls() {
    let folder = tempfile::tempdir().unwrap();
    let (_, path) = in_folder(&folder, CYLINDER);
    let case = &solved(&path)["cases"][0];
    let force: Vec<f64> = (0..3).map(|i| number(&case["applied"]["force_n"][i])).collect();
    // Law of cosines, T1 = 8000, T2 = 5500 N, 165°.
    let exact =
        (8000f64.powi(2) + 5500f64.powi(2) - 2.0 * 8000.0 * 5500.0 * 165f64.to_radians().cos()).sqrt();
    let reason = "the same quadrature sets and sums the load, so rounding alone is left";
    assert_close("force", force[0].hypot(force[1]), exact, Tolerance::Relative(1e-9), reason);
    let moment = number(&case["applied"]["moment_nmm"][2]);
    assert_close("moment", moment, -2500.0 * 280.0, Tolerance::Relative(1e-9), reason);
    for i in 0..2 {
        let back = number(&case["reaction"]["force_n"][i]);
        let reason = "the program itself accepts no gap above one in a million";
        assert_close("reaction", -back, force[i], Tolerance::Absolute(1e-6 * exact), reason);
    }
    let work = number(&case["half_work_nmm"]);
    let energy = number(&case["strain_energy_nmm"]);
    assert_close("energy", energy, work, Tolerance::Relative(1e-6), "as for the forces");
}

#[test]
fn the_page_says_what_was_left_out_and_why() {
    let folder = tempfile::tempdir().unwrap();
    let (_, path) =
        in_folder(&folder, &CYLINDER.replace("[series]", "[search]\nbelow_r_mm = 210.0\n[series]"));
    let run = solve(&[&path]).code(0);
    let page = String::from_utf8(run.get_output().stdout.clone()).unwrap();
    for part in [
        "end of a held edge, r 200.00, z 0.00 mm between 'bore' and 'side'",
        "beside the jumps of their load at θ = -82.5°, 82.5°",
        "near the shaft's axis, as the model asks (within 210.00 mm)",
        "highest tension",
        "applied",
        "reaction",
    ] {
        assert!(page.contains(part), "{part} is missing:\n{page}");
    }
}

#[test]
fn answers_are_written_whole_and_are_the_same_each_time() {
    let folder = tempfile::tempdir().unwrap();
    let (first, second) = (folder.path().join("a.json"), folder.path().join("b.json"));
    for target in [&first, &second] {
        let run = solve(&[&mesh("model_tube.toml"), "--json", target.to_str().unwrap(), "--quiet"]).code(0);
        assert!(run.get_output().stdout.is_empty());
    }
    assert_eq!(fs::read(&first).unwrap(), fs::read(&second).unwrap());
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2, "no temporary file is left");
    let run = solve(&[&mesh("model_tube.toml"), "--json", "/nowhere/at/all.json"]).code(2);
    assert!(stderr(&run).contains("file/write"), "{}", stderr(&run));
}

#[test]
fn bad_files_end_with_code_2_and_their_faults_on_stderr() {
    let folder = tempfile::tempdir().unwrap();
    for (text, code) in [
        ("", "model/empty"),
        ("\u{1}\0\u{2}", "model/not-text"),
        ("model = 1\n[material\n", "model/syntax"),
        (&CYLINDER.replace("poisson = 0.26", "poisson = 0.6"), "model/out-of-range"),
        (&CYLINDER.replace("tag = \"bore\"\nhold", "tag = \"hub\"\nhold"), "model/unknown-tag"),
        (&CYLINDER.replace("hold = [\"r\", \"theta\", \"z\"]", "hold = [\"z\"]"), "solve/free"),
        (&CYLINDER.replace("[series]", "[search]\nbelow_r_mm = 900.0\n[series]"), "solve/nothing-to-search"),
        (&CYLINDER.replace("tolerance = 0.02", "most = 20\nleast = 20\ntolerance = 1e-6"), "solve/series"),
    ] {
        let (_, path) = in_folder(&folder, text);
        let run = solve(&[&path, "--json", "-"]).code(2);
        assert!(stderr(&run).contains(code), "{code}: {}", stderr(&run));
        assert!(run.get_output().stdout.is_empty(), "{code}");
    }
    let run = solve(&["/nowhere/model.toml"]).code(2);
    assert!(stderr(&run).contains("/nowhere/model.toml") && stderr(&run).contains("file/read"));
}
