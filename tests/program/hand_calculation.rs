//! The first demo's printed numbers against a hand calculation kept in the validation folder.

use rimproof::reference::compare::{Tolerance, assert_close};
use serde_json::Value;

fn demo() -> Value {
    let file = tempfile::NamedTempFile::new().unwrap();
    let status = crate::program()
        .args(["check", "meshes/harbour.toml", "--brief", "--json"])
        .arg(file.path())
        .assert()
        .code(0);
    drop(status);
    serde_json::from_slice(&std::fs::read(file.path()).unwrap()).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("no number: {value}"))
}

#[test]
fn the_first_demo_agrees_with_a_hand_calculation() {
    let json = demo();
    let result = &json["result"];
    let page = std::fs::read_to_string("validation/hand_calculation.md").unwrap();
    let mut compared = 0;
    for line in page.lines().filter(|line| line.starts_with("| ") && !line.starts_with("| key")) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let [key, how, value, tolerance] = cells[..] else { panic!("{line}") };
        let computed = match key {
            "heavy_tension_n" => number(&result["loads"]["cases"][0]["heavy_n"][0]),
            "light_tension_n" => number(&result["loads"]["cases"][0]["light_n"][0]),
            "hottest_tension_n" => {
                let list = result["loads"]["judged"]["heavy_n"].as_array().unwrap();
                list.iter().map(number).fold(0.0, f64::max)
            }
            "pitch_diameter_mm" => number(&result["facts"]["grooves"][0]["pitch_diameter_judged_mm"]),
            "diameter_ratio" => number(&result["facts"]["least_diameter_ratio"]),
            "wall_radial_groove_1_station_180_mm" => {
                let places = result["places"].as_array().unwrap();
                let at = |place: &&Value| {
                    place["kind"]["angle_rad"]
                        .as_f64()
                        .is_some_and(|a| (a - std::f64::consts::PI).abs() < 1e-9)
                };
                number(&places.iter().find(at).unwrap()["walls"][0]["radial_mm"])
            }
            "shaft_load_n" => number(&result["loads"]["pulls_n"]),
            "pressure_factor" => rimproof::hoist::pressure::seat_factor(std::f64::consts::FRAC_PI_2).unwrap(),
            "groove_pressure_mpa" => number(&result["facts"]["pressure_mpa"]),
            "tension_ratio" => {
                let case = &result["loads"]["cases"][0];
                number(&case["heavy_n"][0]) / number(&case["light_n"][0])
            }
            "allowable_mpa" => number(&result["allowable_mpa"]),
            other => panic!("the table has a key the test does not know: {other}"),
        };
        let tolerance = Tolerance::Absolute(tolerance.parse().unwrap());
        assert_close(key, computed, value.parse().unwrap(), tolerance, how);
        compared += 1;
    }
    assert_eq!(compared, 11, "every row of the table is compared");
}
