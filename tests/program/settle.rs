//! What would settle a slot's corner: a user who follows the advice must find it true.

use serde_json::Value;

/// The check's result as JSON, with these values set.
fn checked(survey: &str, set: &[String]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let json = folder.path().join("check.json");
    let mut command = crate::program();
    command.args(["check", survey, "--brief", "--json"]).arg(&json);
    for value in set {
        command.args(["--set", value]);
    }
    let output = command.output().unwrap();
    assert!(matches!(output.status.code(), Some(0 | 1 | 3)), "{}", String::from_utf8_lossy(&output.stderr));
    let mut document: Value = serde_json::from_str(&std::fs::read_to_string(json).unwrap()).unwrap();
    document["result"].take()
}

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("{key} is no number: {}", value[key]))
}

/// The highest tension (MPa).
fn highest(governing: &Value) -> f64 {
    governing["peak"]["principal_mpa"][0].as_f64().unwrap()
}

/// What sets a lever of the advice to a value.
fn lever(settled: &Value, mm: f64) -> Vec<String> {
    match settled["lever"].as_str().unwrap() {
        "corner_radius" => {
            ["now", "cut_to"].map(|which| format!("grooves.{which}.slot_corner_radius={mm} mm")).to_vec()
        }
        "cut_depth" => vec![format!("cut.depth={mm} mm")],
        other => panic!("{other} is not known"),
    }
}

#[test]
fn the_radius_and_the_depth_that_settle_a_corner_do_so_when_they_are_checked() {
    let stated = checked("meshes/harbour_corner.toml", &[]);
    let list = stated["governing"]["settle"].as_array().unwrap();
    assert_eq!(list.len(), 2);
    for settled in list {
        let again = checked("meshes/harbour_corner.toml", &lever(settled, number(settled, "proposed_mm")));
        let governing = &again["governing"];
        let (peak, bar) = (highest(governing), number(governing, "bound_mpa"));
        assert!(peak + bar <= number(&again, "allowable_mpa"), "{settled}: {peak} ± {bar}");
        // The same section on another mesh: each within its own bar.
        let apart = (peak - number(settled, "peak_mpa")).abs();
        assert!(apart <= bar + number(settled, "bound_mpa"), "{settled}: {peak} ± {bar}");
    }
}

#[test]
fn where_nothing_settles_a_corner_the_best_that_was_tried_is_told_truly() {
    let stated = checked("meshes/harbour_thin.toml", &[]);
    for settled in stated["governing"]["settle"].as_array().unwrap() {
        assert!(settled["proposed_mm"].is_null(), "{settled}");
        let again = checked("meshes/harbour_thin.toml", &lever(settled, number(settled, "analysed_mm")));
        let governing = &again["governing"];
        let (peak, bar) = (highest(governing), number(governing, "bound_mpa"));
        assert!(peak > number(&again, "allowable_mpa"), "{settled}: {peak}");
        let apart = (peak - number(settled, "peak_mpa")).abs();
        assert!(apart <= bar + number(settled, "bound_mpa"), "{settled}: {peak} ± {bar}");
    }
}
