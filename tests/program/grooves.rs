//! Groove shapes side by side on a demo, through the program: one pitch diameter, honest reasons, units in keys.

use serde_json::Value;

struct Run {
    code: Option<i32>,
    page: String,
    json: Value,
    csv: String,
}

fn granary() -> Run {
    let folder = tempfile::tempdir().unwrap();
    let (json, csv) = (folder.path().join("a.json"), folder.path().join("a.csv"));
    let output = crate::program()
        .args(["grooves", "meshes/granary.toml", "--json"])
        .arg(&json)
        .arg("--csv")
        .arg(&csv)
        .output()
        .unwrap();
    let read = |path| std::fs::read_to_string(path).unwrap();
    Run {
        code: output.status.code(),
        page: String::from_utf8(output.stdout).unwrap(),
        json: serde_json::from_str(&read(&json)).unwrap(),
        csv: read(&csv),
    }
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

#[test]
fn shapes_on_the_worn_goods_lift() {
    let run = granary();
    let result = &run.json["result"];
    let compared = result["compared"].as_array().unwrap();
    assert_eq!(compared.len(), 18);
    // As found the round seats slip; the ratio of diameters leaves the worst seat's own depth and no more.
    assert!(number(&result["traction_reserve_now"]) < 1.0, "{result}");
    for cut in compared {
        assert!((number(&cut["pitch_diameter_mm"]) - 320.0).abs() < 1e-9, "{cut}");
        let name = cut["proposal"]["name"].as_str().unwrap();
        let found = &cut["found"];
        let keys: Vec<&str> =
            found["doubts"].as_array().unwrap().iter().map(|doubt| doubt["key"].as_str().unwrap()).collect();
        // A round seat has no more traction than the worn one; slots have.
        assert_eq!(keys.contains(&"traction"), number(&found["traction_reserve"]) < 1.0, "{name}: {keys:?}");
        if name == "round" {
            assert!(keys.contains(&"traction"), "{keys:?}");
        }
        if name.starts_with("undercut") {
            assert!(!keys.contains(&"clean_up"), "{name}: slots clean the worn seats: {keys:?}");
        }
        if name.starts_with('V') {
            assert!(keys.contains(&"clean_up"), "{name}: the worn seats are wider than a V: {keys:?}");
        }
    }
    // Along the trade-off one reserve is paid for with the other, and no compared cut beats both.
    let curve = result["search"]["trade_off"].as_array().unwrap();
    let pair =
        |cut: &Value| (number(&cut["found"]["stress_reserve"]), number(&cut["found"]["traction_reserve"]));
    assert!(!curve.is_empty());
    for two in curve.windows(2) {
        let ((s0, t0), (s1, t1)) = (pair(&two[0]), pair(&two[1]));
        assert!(s0 > s1 && t0 < t1, "{s0} {t0} {s1} {t1}");
    }
    let (stress, traction) = pair(&result["search"]["best"]);
    assert!(traction >= 1.0 && stress >= 1.0);
    for cut in compared.iter().filter(|cut| cut["found"]["doubts"].as_array().unwrap().is_empty()) {
        let eligible = cut["proposal"]["eligible"] == true;
        assert!(!eligible || pair(cut).0 <= stress, "{cut}");
    }
    assert_eq!(run.code, Some(0), "{}", run.page);
    let words = run.page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("meets every check with the most stress reserve"), "{}", run.page);
    let rows: Vec<&str> = run.csv.lines().collect();
    assert!(
        rows[0].contains("peak tension (MPa)") && rows[0].contains("tension ratio, loading"),
        "{}",
        rows[0]
    );
    assert!(rows.len() >= 1 + compared.len() + curve.len(), "{}", run.csv);
}

#[test]
fn a_depth_above_the_worst_groove_is_refused_with_the_depth_that_would_do() {
    let output = crate::program()
        .args(["grooves", "meshes/granary.toml", "--depth", "5 mm", "--json", "no/such/folder.json"])
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    for words in
        ["5 mm is shallower than the worst groove, which is 8 mm", "The folder no/such does not exist"]
    {
        assert!(said.contains(words), "{said}");
    }
}
