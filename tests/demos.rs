//! The demo sheaves give the answers that the manual promises, and their JSON keeps its word on units.
//!
//! Every demo runs once through the program, all of them side by side; each test looks at its own part.

use assert_cmd::Command;
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// What a demo is for.
struct Demo {
    file: &'static str,
    code: i32,
    word: &'static str,
    /// Checks that decide a refusal or a doubt; none where every check holds.
    deciding: &'static [&'static str],
    /// Checks with a status that the demo was made to show.
    shows: &'static [(&'static str, &'static str)],
    /// Words for the place of the highest tension.
    place: &'static [&'static str],
}

const DEMOS: [Demo; 6] = [
    Demo {
        file: "harbour.toml",
        code: 0,
        word: "may_be_cut",
        deciding: &[],
        shows: &[("peak_tension", "holds"), ("wall", "holds"), ("stations", "holds"), ("clean_up", "holds")],
        place: &[
            "corner at the slot's bottom of groove 3",
            "over the web",
            "inside the heavy end of the wrap",
        ],
    },
    Demo {
        file: "harbour_corner.toml",
        code: 3,
        word: "undecided",
        deciding: &["peak_tension"],
        shows: &[("wall", "holds"), ("section_stress", "holds"), ("notch_stress", "holds")],
        place: &["corner at the slot's bottom", "inside the heavy end of the wrap"],
    },
    Demo {
        file: "harbour_thin.toml",
        code: 3,
        word: "undecided",
        deciding: &["peak_tension"],
        shows: &[("wall", "holds"), ("section_stress", "holds"), ("notch_stress", "holds")],
        place: &["corner at the slot's bottom", "inside the heavy end of the wrap"],
    },
    Demo {
        file: "granary.toml",
        code: 1,
        word: "reject",
        deciding: &["traction"],
        shows: &[("peak_tension", "holds"), ("wall", "holds"), ("diameter_ratio", "holds")],
        place: &["rope seat"],
    },
    Demo {
        file: "deflector.toml",
        code: 1,
        word: "reject",
        deciding: &["peak_tension", "section_stress", "notch_stress"],
        shows: &[("wall", "fails")],
        place: &["rope seat", "in the middle of the wrap"],
    },
    Demo {
        file: "mill.toml",
        code: 0,
        word: "may_be_cut",
        deciding: &[],
        shows: &[("peak_tension", "holds"), ("wall", "holds"), ("clean_up", "holds")],
        place: &["rope seat"],
    },
];

struct Run {
    code: Option<i32>,
    stdout: String,
    stderr: String,
    json: Value,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every demo, run once.
fn runs() -> &'static [(&'static Demo, Run)] {
    static RUNS: OnceLock<Vec<(&Demo, Run)>> = OnceLock::new();
    RUNS.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        std::thread::scope(|scope| {
            let started: Vec<_> = DEMOS
                .iter()
                .map(|demo| {
                    let json = folder.path().join(demo.file).with_extension("json");
                    (demo, scope.spawn(move || run(demo, &json)))
                })
                .collect();
            started.into_iter().map(|(demo, thread)| (demo, thread.join().unwrap())).collect()
        })
    })
}

fn run(demo: &Demo, json: &PathBuf) -> Run {
    let output = Command::cargo_bin("rimproof")
        .unwrap()
        .current_dir(root())
        .args(["check", &format!("meshes/{}", demo.file), "--variants", "--threads", "1", "--json"])
        .arg(json)
        .output()
        .unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    let text = std::fs::read_to_string(json).unwrap_or_else(|_| panic!("{}: {stderr}", demo.file));
    Run {
        code: output.status.code(),
        stdout: String::from_utf8(output.stdout).unwrap(),
        stderr,
        json: serde_json::from_str(&text).unwrap(),
    }
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or("")
}

#[test]
fn every_demo_gives_its_verdict_for_its_reason() {
    for (demo, run) in runs() {
        let (file, result) = (demo.file, &run.json["result"]);
        let verdict = &result["verdict"];
        assert_eq!(run.code, Some(demo.code), "{file}: {verdict}");
        assert_eq!(run.json["exit_code"], demo.code, "{file}");
        assert_eq!(verdict["word"], demo.word, "{file}: {verdict}");
        let mut deciding: Vec<&str> = verdict["deciding"].as_array().unwrap().iter().map(text).collect();
        deciding.dedup();
        assert_eq!(deciding, demo.deciding, "{file}: {verdict}");
        for (key, status) in demo.shows {
            let checks = result["checks"].as_array().unwrap();
            let check = checks.iter().find(|check| check["key"] == *key);
            let check = check.unwrap_or_else(|| panic!("{file}: no check {key}"));
            assert_eq!(check["status"], *status, "{file}: {check}");
        }
        let place = text(&result["governing"]["peak_words"]);
        for words in demo.place {
            assert!(place.contains(words), "{file}: {place}");
        }
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words(&run.stdout).contains(&words(text(&verdict["reason"]))), "{file}: {}", run.stdout);
        assert!(run.stderr.is_empty(), "{file}: a demo is no place for warnings: {}", run.stderr);
    }
}

#[test]
fn harbour_has_the_factor_of_an_independent_analysis() {
    let (_, run) = runs().iter().find(|(demo, _)| demo.file == "harbour.toml").unwrap();
    let factor = run.json["result"]["governing"]["least_factor"].as_f64().unwrap();
    // Another program's analysis of a wheel much like it gave a factor near 12.
    assert!((11.0..12.5).contains(&factor), "{factor}");
}

#[test]
fn a_wall_that_was_never_read_leaves_the_matter_open() {
    let (_, whole) = runs().iter().find(|(demo, _)| demo.file == "granary.toml").unwrap();
    let status = |json: &Value| {
        let checks = json["result"]["checks"].as_array().unwrap().clone();
        checks.into_iter().find(|check| check["key"] == "walls_read").map(|check| check["status"].clone())
    };
    assert_eq!(status(&whole.json), None, "every wall of the demo was read");
    let folder = tempfile::tempdir().unwrap();
    let survey = std::fs::read_to_string(root().join("meshes/granary.toml")).unwrap();
    let lines = survey.lines().map(|line| match line.strip_prefix("wall = [\"") {
        Some(rest) => format!("wall = [\"not measured\"{}\n", &rest[rest.find(',').unwrap()..]),
        None => format!("{line}\n"),
    });
    std::fs::write(folder.path().join("survey.toml"), lines.collect::<String>()).unwrap();
    Command::cargo_bin("rimproof")
        .unwrap()
        .current_dir(folder.path())
        .args(["check", "survey.toml", "--json", "a.json"])
        .output()
        .unwrap();
    let text = std::fs::read_to_string(folder.path().join("a.json")).unwrap();
    assert_eq!(status(&serde_json::from_str(&text).unwrap()), Some("open".into()));
}

#[test]
fn the_table_of_demos_in_the_manual_agrees() {
    let manual = std::fs::read_to_string(root().join("README.md")).unwrap();
    let section = manual.split("## Demos").nth(1).unwrap().split("\n## ").next().unwrap();
    let rows: Vec<(&str, &str)> = section
        .lines()
        .filter_map(|line| line.strip_prefix("| `"))
        .map(|row| {
            let cells: Vec<&str> = row.trim_end_matches('|').split('|').collect();
            (cells[0].trim().trim_end_matches('`'), cells[cells.len() - 1].trim())
        })
        .collect();
    assert_eq!(rows.len(), DEMOS.len(), "{rows:?}");
    for (file, verdict) in rows {
        let (_, run) = runs().iter().find(|(demo, _)| demo.file == file).unwrap_or_else(|| panic!("{file}"));
        let word = text(&run.json["result"]["verdict"]["word"]).replace('_', " ");
        assert_eq!(verdict, word, "{file}");
    }
}

/// Ends of keys that name a unit.
const UNITS: [&str; 14] = [
    "_mm", "_m", "_m_s", "_m_s2", "_n", "_nmm", "_mpa", "_rad", "_deg", "_kg", "_kg_m", "_kg_m3", "_per_k",
    "_hb",
];
/// Keys whose unit is rarer: fracture toughness, and the class of gray iron, which is a strength.
const RARE_UNITS: [&str; 2] = ["toughness_n_mm15", "class_ksi"];
/// Keys of plain numbers: counts, ordinals, ratios and factors.
const PLAIN: &[&str] = &[
    "exit_code",
    "value",
    "least_factor",
    "tension_factor",
    "factor",
    "safety_factor",
    "friction_factor",
    "friction",
    "tension_ratio",
    "limit_ratio",
    "least_diameter_ratio",
    "roping_ratio",
    "jacobian_ratio",
    "tension_spread",
    "emergency_multiple",
    "elongation",
    "poisson",
    "relative_change",
    "relative_masses",
    "relative_strength",
    "relative_tensions",
    "relative_gap",
    "largest_relative_gap",
    "relative_residual",
    "relative_resultant_gap",
    "groove",
    "hottest_groove",
    "at_groove",
    "place_index",
    "ropes",
    "nodes",
    "triangles",
    "unknowns",
    "last_harmonic",
    "degrees_of_freedom",
    "factor_entries",
    "harmonics_solved",
    "rope_factor",
    "equivalent_bends",
    "traction_bends",
    "required_rope_factor",
    "diameter_ratio",
    "relative_hardness",
    "relative_loss",
    "equal_least_factor",
    "simple_bends",
    "reversed_bends",
    "factor_bound",
    "uncredited_factor",
    "plane_normal",
    "searched_nodes",
    "compared_nodes",
    "turns_per_year",
    "trips_per_day",
    "wall_share",
    "covered_wall_share",
];
/// Keys that are empty where something was not measured, does not apply or has nothing to say.
const MAY_BE_EMPTY: &[&str] = &[
    "step_error_mpa",
    "surface_error_mpa",
    "at_groove",
    "cable_kg_m",
    "car_speed_after_m_s",
    "car_speed_m_s",
    "class_ksi",
    "compensation_kg_m",
    "compressive_mpa",
    "critical_distance_mm",
    "cut_depth_mm",
    "cut_to",
    "date",
    "elongation",
    "emergency_multiple",
    "fault",
    "found",
    "hottest_groove",
    "instruments",
    "least_mm",
    "light_n",
    "limit",
    "location",
    "lower_bound_mm",
    "masses",
    "nominal_pitch_diameter_mm",
    "notch",
    "notch_missing",
    "proposed_mm",
    "radial_mm",
    "remark",
    "residual_sd_mm",
    "retardation_m_s2",
    "rope_kg_m",
    "safety_factor",
    "settle",
    "support_angle_rad",
    "theta_deg",
    "thin_spots",
    "tensile_mpa",
    "travel_m",
    "depth_mm",
    "endurance_mpa",
    "trips_per_day",
    "turns",
    "turns_per_year",
    "wall_share",
    "yield_mpa",
    "after",
    "after_status",
    "breaking_force_n",
    "car_speed",
    "equalised",
    "hardness_band",
    "hardness_hb",
    "now",
    "now_status",
    "pressure_mpa",
    "pulley_diameter_mm",
    "reversed_bends",
    "rope_factor",
    "rope_life",
    "rope_life_missing",
    "section_size",
    "simple_bends",
];

/// Visits every number and every empty entry below a value with the key that names it.
fn walk(value: &Value, path: &str, key: &str, visit: &mut dyn FnMut(&Value, &str, &str)) {
    match value {
        Value::Object(map) => {
            for (name, inner) in map {
                // Components of a stress stand below the key that has the unit.
                let component =
                    ["rr", "tt", "zz", "rt", "tz", "rz"].contains(&name.as_str()) && key.ends_with("_mpa");
                let named = if component { key } else { name };
                walk(inner, &format!("{path}.{name}"), named, visit);
            }
        }
        Value::Array(list) => list.iter().for_each(|inner| walk(inner, &format!("{path}[]"), key, visit)),
        Value::Number(_) | Value::Null => visit(value, path, key),
        Value::String(_) | Value::Bool(_) => {}
    }
}

/// Holds one document to its promise: a unit in every key, and no number that is not finite.
fn hold_to_units(name: &str, document: &Value) {
    let mut faults = Vec::new();
    walk(document, "", "", &mut |value, path, key| {
        let with_unit = UNITS.iter().any(|unit| key.ends_with(unit)) || RARE_UNITS.contains(&key);
        // A number that is not finite is written as null, so null is allowed only where it has a meaning.
        let sound = match value {
            Value::Null => MAY_BE_EMPTY.contains(&key),
            number => (with_unit || PLAIN.contains(&key)) && number.as_f64().is_some_and(f64::is_finite),
        };
        if !sound {
            faults.push(format!("{path} = {value}"));
        }
    });
    faults.sort();
    faults.dedup();
    assert!(faults.is_empty(), "{name}:\n{}", faults.join("\n"));
}

#[test]
fn every_number_of_a_check_has_its_unit_in_its_key() {
    for (demo, run) in runs() {
        hold_to_units(demo.file, &run.json);
    }
}

#[test]
fn every_number_of_a_solution_has_its_unit_in_its_key() {
    let output = Command::cargo_bin("rimproof")
        .unwrap()
        .current_dir(root())
        .args(["solve", "meshes/model_tube.toml", "--json", "-"])
        .output()
        .unwrap();
    hold_to_units("model_tube.toml", &serde_json::from_slice(&output.stdout).unwrap());
}

#[test]
fn a_key_without_a_unit_and_a_number_that_is_not_finite_are_found() {
    let fails = |document: Value| std::panic::catch_unwind(|| hold_to_units("seeded", &document)).is_err();
    assert!(fails(serde_json::json!({ "at": { "r": 1.0 } })));
    assert!(fails(serde_json::json!({ "peak_mpa": f64::NAN })));
    assert!(!fails(serde_json::json!({ "stress_mpa": { "rr": 1.0 }, "settle": null, "groove": 3 })));
}

#[test]
fn the_trace_goes_beside_the_page_and_changes_nothing_in_it() {
    let run = |more: &[&str]| {
        let mut command = assert_cmd::Command::cargo_bin("rimproof").unwrap();
        command.current_dir(env!("CARGO_MANIFEST_DIR")).args(["check", "meshes/deflector.toml"]).args(more);
        let output = command.output().unwrap();
        (String::from_utf8(output.stdout).unwrap(), String::from_utf8(output.stderr).unwrap())
    };
    let ((page, quiet), (traced, stages)) = (run(&[]), run(&["--trace"]));
    assert_eq!(page, traced);
    assert_eq!(quiet, "");
    for stage in ["mesh", "stiffness of the elements", "factors", "search for the peaks", "on the clock"] {
        assert!(stages.contains(stage), "{stage} is missing:\n{stages}");
    }
}
