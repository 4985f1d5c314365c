//! Every number that the program writes as JSON has its unit in its key, and none is missing or not finite.

use serde_json::Value;

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
    "check_exit_code",
    "coarse_analyses",
    "coarse_cases",
    "count",
    "estimated_stress_reserve",
    "factor_below_which_5_percent_lie",
    "factor_below_which_50_percent_lie",
    "factor_below_which_95_percent_lie",
    "factor_by_analysis",
    "factor_by_surface",
    "energy_error_ratio",
    "first_order_share",
    "first_order_share_error",
    "further_cleanings",
    "high",
    "low",
    "most_use",
    "probability",
    "reject_use",
    "relative_doubt",
    "relative_left_out_rms",
    "relative_misfit_rms",
    "required_factor",
    "rope_life_factor",
    "samples",
    "samples_without_section",
    "seed",
    "strength_times_needed",
    "stress_reserve",
    "stress_reserve_bound",
    "surfaces",
    "total_share",
    "total_share_error",
    "traction_reserve",
    "traction_reserve_now",
    "width_ratio",
    "between_over_equal_ratio",
    "cycles",
    "equal_ratio_least_factor",
    "drive_index",
    "drive_least_factor",
    "first_friction_factor",
    "grooves",
    "pass",
    "relative_reserve",
    "relative_slip_reserve",
    "rope",
    "rope_index",
    "second_friction_factor",
    "secondary_index",
    "secondary_least_factor",
    "slipping",
    "slipping_pass_down",
    "slipping_pass_up",
    "turns",
    "turns_per_run",
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
    "angle_rad",
    "before",
    "beyond",
    "beyond_mm",
    "beyond_stated_mm",
    "bound",
    "difference",
    "estimated_stress_reserve",
    "from_mm",
    "hardened",
    "notch_mpa",
    "out",
    "range",
    "reason",
    "stated_mm",
    "status",
    "traction_reserve",
    "without",
    "surveyor",
    "reading_error_mm",
    "between",
    "equal_ratio_shaft_load_n",
    "equal_ratio_least_factor",
    "between_creep_n",
    "between_equal_ratio_n",
    "between_friction_n",
    "between_tensions_n",
    "car_speed_m_s",
    "first_slip",
    "friction",
    "left_mm",
    "measured_n",
    "needed_mm",
    "pressure_limit_mpa",
    "slipping",
    "slipping_pass_down",
    "slipping_pass_up",
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
pub(crate) fn hold_to_units(name: &str, document: &Value) {
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

/// What a command writes as JSON for these demos.
fn written(command: &str, demos: &[&str], more: &[&str]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("answer.json");
    let output = crate::program()
        .arg(command)
        .args(demos.iter().map(|demo| format!("meshes/{demo}.toml")))
        .args(more)
        .arg("--json")
        .arg(&file)
        .output()
        .unwrap();
    let text = std::fs::read_to_string(&file);
    let text = text.unwrap_or_else(|_| panic!("{demos:?}: {}", String::from_utf8_lossy(&output.stderr)));
    serde_json::from_str(&text).unwrap()
}

#[test]
fn every_number_of_a_check_has_its_unit_in_its_key() {
    for demo in ["harbour", "harbour_corner", "harbour_thin", "granary", "deflector", "mill"] {
        hold_to_units(demo, &written("check", &[demo], &["--variants"]));
    }
    let changed =
        written("check", &["granary"], &["--set", "roping.wrap=170 deg", "--flaw-at", "158.76 mm, -18 mm"]);
    hold_to_units("granary changed", &changed);
}

#[test]
fn every_number_of_the_other_commands_has_its_unit_in_its_key() {
    hold_to_units("deepest", &written("deepest", &["granary"], &[]));
    hold_to_units("grooves", &written("grooves", &["granary"], &[]));
    hold_to_units("doubt", &written("doubt", &["deflector"], &["--samples", "1000", "--full", "3"]));
    hold_to_units("compare", &written("compare", &["granary", "deflector"], &[]));
    let output = crate::program().args(["solve", "meshes/model_tube.toml", "--json", "-"]).output().unwrap();
    hold_to_units("solve", &serde_json::from_slice(&output.stdout).unwrap());
}

#[test]
fn a_key_without_a_unit_and_a_number_that_is_not_finite_are_found() {
    let fails = |document: Value| std::panic::catch_unwind(|| hold_to_units("seeded", &document)).is_err();
    assert!(fails(serde_json::json!({ "at": { "r": 1.0 } })));
    assert!(fails(serde_json::json!({ "peak_mpa": f64::NAN })));
    assert!(!fails(serde_json::json!({ "stress_mpa": { "rr": 1.0 }, "settle": null, "groove": 3 })));
}
