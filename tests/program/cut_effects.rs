//! The demos show what a cut changes, the strengths that a hardness leaves open, and unequal ropes.

use serde_json::Value;

/// The page and the JSON of one demo.
fn checked(file: &str) -> (String, Value) {
    let folder = tempfile::tempdir().unwrap();
    let json = folder.path().join("a.json");
    let mut command = crate::program();
    command.arg("check").arg(format!("meshes/{file}"));
    let output = command.arg("--json").arg(&json).output().unwrap();
    let text = std::fs::read_to_string(json).unwrap();
    (String::from_utf8(output.stdout).unwrap(), serde_json::from_str(&text).unwrap())
}

#[test]
fn the_harbour_demo_shows_what_its_cut_changes() {
    let (page, json) = checked("harbour.toml");
    let result = &json["result"];
    let rows = result["consequences"]["rows"].as_array().unwrap();
    let row = |key: &str| rows.iter().find(|row| row["key"] == key).unwrap_or_else(|| panic!("no row {key}"));
    for key in ["pitch_diameter", "car_speed", "diameter_ratio", "traction", "groove_pressure", "rope_life"] {
        assert!(row(key)["now"].is_object() && row(key)["after"].is_object(), "{}", row(key));
    }
    // Readings of 197 HB at 0.6 in and 191 HB at 0.75 in, seats at 0.67 in.
    let hardness = row("hardness")["after"]["value_hb"].as_f64().unwrap();
    assert!((hardness - (197.0 - 6.0 * 0.07 / 0.15)).abs() < 1e-6, "{hardness}");
    assert_eq!(row("rope_life")["after_status"], "holds");
    let factor = |value: &Value| value["least_factor"].as_f64().unwrap();
    let emergency =
        result["cases"].as_array().unwrap().iter().find(|case| case["kind"] == "emergency").unwrap();
    let whole = 2.0 * factor(emergency) / factor(&result["governing"]);
    assert!((whole - 1.0).abs() < 0.03, "twice the load takes half of the factor: {whole}");
    let levels = result["hardness_band"]["levels"].as_array().unwrap();
    let accepting: Vec<&str> =
        levels.iter().filter(|l| l["may_accept"] == true).map(|l| l["name"].as_str().unwrap()).collect();
    assert_eq!(accepting, ["low"]);
    for words in [
        "What the cut changes",
        "Emergency: 2 times the rated case",
        "Strength of the iron",
        "S_f after the cut",
    ] {
        assert!(page.contains(words), "{words} is missing:\n{}", page);
    }
}

#[test]
fn the_mill_demo_compares_its_measured_tensions_with_equal_ones() {
    let (_, json) = checked("mill.toml");
    let spread = &json["result"]["equalised"];
    assert_eq!((&spread["measured"], &spread["hottest_groove"]), (&true.into(), &1.into()));
    let number = |key: &str| spread[key].as_f64().unwrap();
    assert!((number("mean_n") - 3787.5).abs() < 1e-6 && number("hottest_n") == 4000.0);
    assert!(number("equal_peak_mpa") < number("peak_mpa"), "{spread}");
}
