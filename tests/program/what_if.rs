//! Values set from the command line, two surveys side by side, and the deepest cut, as a user meets them.

use serde_json::Value;

struct Run {
    code: Option<i32>,
    stdout: String,
    stderr: String,
    json: Option<Value>,
}

/// Runs the program in the project's folder, with a JSON file asked for.
fn run(arguments: &[&str]) -> Run {
    let folder = tempfile::tempdir().unwrap();
    let json = folder.path().join("out.json");
    let output = crate::program().args(arguments).arg("--json").arg(&json).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    let run = Run {
        code: output.status.code(),
        stdout: text(output.stdout),
        stderr: text(output.stderr),
        json: std::fs::read_to_string(&json).ok().map(|text| serde_json::from_str(&text).unwrap()),
    };
    assert!(!run.stderr.contains("panicked"), "{}", run.stderr);
    run
}

fn set<'a>(command: &'a str, survey: &'a str, values: &[&'a str]) -> Vec<&'a str> {
    let mut arguments = vec![command, survey];
    values.iter().for_each(|value| arguments.extend(["--set", value]));
    arguments
}

/// A faulty value, the code of its message, and words that the message or its advice must have.
const FAULTY: [(&str, &str, &str); 13] = [
    ("cut.depth=0.62", "survey/unit-missing", "0.62 in"),
    ("cut.depth=0.62 kg", "survey/unit-kind", "a length"),
    ("cut.depth=-1 in", "survey/out-of-range", "more than zero"),
    ("cut.depht=0.62 in", "survey/unknown-key", "did you mean \"depth\""),
    ("cutt.depth=0.62 in", "survey/unknown-key", "did you mean \"cut\""),
    ("cut.plan=to dept", "survey/choice-unknown", "did you mean \"to depth\""),
    ("roping.ropes=many", "survey/not-a-count", "whole number"),
    ("walls.stations[2].wall[1]=1.1 in", "set/no-entry", "did you mean \"station\""),
    ("walls.station[9].wall[1]=1.1 in", "set/no-entry", "walls.station[6]"),
    ("walls.station.wall=1.1 in", "set/no-entry", "walls.station[1].wall"),
    ("cut.depth", "set/no-value", "cut.depth=0.62 in"),
    ("cut..depth=1 in", "set/path", "path=value"),
    ("walls.station[2].wall=[\"1 in\"", "set/value", "cannot be read"),
];

#[test]
fn a_faulty_value_is_named_at_its_argument_and_nothing_is_written() {
    for (value, code, words) in FAULTY {
        let run = run(&set("check", "meshes/harbour.toml", &[value]));
        assert_eq!(run.code, Some(2), "{value}: {}", run.stderr);
        assert!(run.json.is_none() && run.stdout.is_empty(), "{value}");
        let place = format!("--set {}: error: ", value.split('=').next().unwrap());
        let line = run.stderr.lines().find(|line| line.starts_with(&place));
        let line = line.unwrap_or_else(|| panic!("{value}: no {place}\n{}", run.stderr));
        assert!(line.contains(code), "{value}: {line}");
        assert!(run.stderr.contains(words), "{value}: {}", run.stderr);
    }
}

#[test]
fn all_faulty_values_are_named_at_once_and_one_twice_set_is_refused() {
    let values = ["cut.depth=0.62", "roping.wrap=165 in", "cut.depth=0.6 in"];
    let run = run(&set("check", "meshes/harbour.toml", &values));
    assert_eq!(run.code, Some(2));
    for words in ["--set cut.depth: error: ", "--set roping.wrap: error: ", "set/twice", "3 errors"] {
        assert!(run.stderr.contains(words), "{words}: {}", run.stderr);
    }
}

/// One row of a comparison: old, new and difference.
fn row(comparison: &Value, key: &str, unit: &str) -> [f64; 3] {
    let rows = comparison["rows"].as_array().unwrap();
    let row = rows.iter().find(|row| row["key"] == key).unwrap_or_else(|| panic!("no {key}"));
    let number = |value: &Value| value[unit].as_f64().unwrap_or_else(|| panic!("{key}: {value}"));
    [number(&row["before"]["amount"]), number(&row["after"]["amount"]), number(&row["difference"])]
}

#[test]
fn a_changed_depth_shows_old_beside_new() {
    let run = run(&set("check", "meshes/harbour.toml", &["cut.depth=0.62 in"]));
    assert_eq!(run.code, Some(0), "{}", run.stderr);
    for words in
        ["What if", "cut.depth", "0.67 in", "0.62 in", "as surveyed", "with the change", "difference"]
    {
        assert!(run.stdout.contains(words), "{words}:\n{}", run.stdout);
    }
    let json = run.json.unwrap();
    let what_if = &json["what_if"];
    assert_eq!(what_if["set"][0]["path"], "cut.depth");
    assert_eq!(what_if["set"][0]["before"], "0.67 in");
    let comparison = &what_if["comparison"];
    let [old, new, difference] = row(comparison, "wall", "value_mm");
    // The least distance to an underside that is not quite parallel grows by a little less than the depth.
    assert!((0.999..=1.0).contains(&(difference / (0.05 * 25.4))) && new > old, "{old} {new} {difference}");
    let [old, new, difference] = row(comparison, "peak_tension", "value_mpa");
    assert!(new < old && difference < 0.0, "a shallower cut leaves less tension: {old} {new}");
    // The page is that of the changed survey.
    assert!((json["survey"]["cut"]["depth_mm"].as_f64().unwrap() - 0.62 * 25.4).abs() < 1e-9);
}

#[test]
fn a_value_can_mend_a_survey_that_gives_no_answer_by_itself() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("open.toml");
    let text = std::fs::read_to_string("meshes/harbour.toml").unwrap();
    std::fs::write(&path, text.replace("rope_diameter = \"1/2 in\"", "rope_diameter = \"not measured\""))
        .unwrap();
    let run = run(&set("check", path.to_str().unwrap(), &["roping.rope_diameter=1/2 in"]));
    assert_eq!(run.code, Some(0), "{}", run.stderr);
    assert!(run.stdout.contains("nothing to compare with"), "{}", run.stdout);
}

#[test]
fn two_surveys_show_what_differs_and_what_that_did() {
    let run = run(&["compare", "meshes/harbour.toml", "meshes/harbour_thin.toml"]);
    assert_eq!(run.code, Some(0), "{}", run.stderr);
    let json = run.json.unwrap();
    assert_eq!(json["old"]["verdict"]["word"], "may_be_cut");
    assert_eq!(json["new"]["verdict"]["word"], "undecided");
    let changed: Vec<&str> =
        json["inputs_changed"].as_array().unwrap().iter().map(|c| c["path"].as_str().unwrap()).collect();
    assert!(changed.iter().any(|path| path.starts_with("walls.station[")), "{changed:?}");
    assert!(!changed.contains(&"roping.rope_diameter"), "{changed:?}");
    let [old, new, _] = row(&json["comparison"], "peak_tension", "value_mpa");
    assert!(new > old);
    for words in ["harbour.toml", "harbour_thin.toml", "MAY BE CUT AS STATED", "UNDECIDED"] {
        assert!(run.stdout.contains(words), "{words}:\n{}", run.stdout);
    }
}

#[test]
fn comparing_names_every_faulty_survey() {
    let run = run(&["compare", "meshes/no_old.toml", "meshes/no_new.toml"]);
    assert_eq!(run.code, Some(2));
    assert!(run.stderr.contains("no_old.toml") && run.stderr.contains("no_new.toml"), "{}", run.stderr);
    assert!(run.json.is_none() && run.stdout.is_empty());
}

#[test]
fn the_deepest_cut_of_the_demo_is_confirmed_by_a_check_at_it() {
    let found = run(&["deepest", "meshes/mill.toml"]);
    assert_eq!(found.code, Some(0), "{}", found.stderr);
    let result = &found.json.as_ref().unwrap()["result"];
    let deepest = result["deepest_mm"].as_f64().unwrap();
    let limiting: Vec<&str> =
        result["limiting"].as_array().unwrap().iter().map(|key| key.as_str().unwrap()).collect();
    assert_eq!(limiting, ["wall_bound"], "{}", found.stdout);
    let at = |depth_mm: f64| {
        let depth = format!("cut.depth={depth_mm:.2} mm");
        (run(&set("check", "meshes/mill.toml", &["cut.plan=to depth", &depth])), depth)
    };
    let (checked, depth) = at(deepest);
    assert_eq!(checked.code, Some(0), "{}", checked.stdout);
    // A grain deeper the same check decides against it.
    let (beyond, _) = at(deepest + 0.06);
    assert_eq!(beyond.code, Some(3), "{}", beyond.stdout);
    assert_eq!(beyond.json.unwrap()["result"]["verdict"]["deciding"], serde_json::json!(["wall_bound"]));
    // The page names the command that was just run.
    assert!(found.stdout.contains(&format!("--set \"{depth}\"")), "{}", found.stdout);
}

#[test]
fn where_no_depth_settles_it_the_code_says_so() {
    let granary = run(&["deepest", "meshes/granary.toml"]);
    assert_eq!(granary.code, Some(1), "{}", granary.stderr);
    let json = granary.json.unwrap();
    let keys: Vec<&str> = json["result"]["at_no_depth"]
        .as_array()
        .unwrap()
        .iter()
        .map(|unsettled| unsettled["key"].as_str().unwrap())
        .collect();
    assert!(keys.contains(&"traction"), "{keys:?}\n{}", granary.stdout);
    let faulty = run(&set("deepest", "meshes/granary.toml", &["roping.wrap=160"]));
    assert_eq!(faulty.code, Some(2));
    assert!(
        faulty.stderr.contains("--set roping.wrap: error: ") && faulty.json.is_none(),
        "{}",
        faulty.stderr
    );
}
