//! Double wrap through the program: both sheaves judged, tables that close, sweeps that can be formed again.

use serde_json::Value;
use std::collections::BTreeMap;
use std::f64::consts::PI;
use std::fs;
use std::path::Path;
use std::process::Output;
use std::sync::OnceLock;

/// A small drive sheave: two ropes, four plain grooves, solid to the shaft, so that checks take a moment.
pub(crate) const DRIVE: &str = r#"survey = 1
[job]
name = "Test rig"
sheave = "drive"
[roping]
arrangement = "double wrap"
role = "drive"
ratio = "1:1"
ropes = 2
rope_diameter = "13 mm"
car_speed = "1 m/s"
retardation = "0.5 m/s2"
[double_wrap]
first_wrap = "170 deg"
second_wrap = "150 deg"
first_middle = "-3 deg"
second_middle = "5 deg"
grooves = "side by side"
friction = 0.2
secondary = "secondary.toml"
rope_stiffness = "4550 kN"
car_length = "40 m"
between_length = "3 m"
counterweight_length = "6 m"
[load]
given = "tensions"
heavy_tension = "8 kN"
light_tension = "6 kN"
travel = "30 m"
tension_spread = "0 %"
[rim]
width = "96 mm"
edge_diameter = "567 mm"
[grooves]
pitch = "20 mm"
seat_depth = ["10 mm", "10 mm", "10 mm", "10 mm"]
[grooves.now]
shape = "round"
seat_radius = "6.9 mm"
opening_angle = "30 deg"
[walls]
by = "solid"
[wheel]
kind = "solid disc"
bore = "100 mm"
[material]
kind = "gray iron"
class = 25
[cut]
plan = "none"
"#;

pub(crate) fn secondary() -> String {
    let text = DRIVE.split("[double_wrap]").next().unwrap().to_owned()
        + "[load]\ngiven = \"from the drive sheave\"\n[rim]"
        + DRIVE.split("[rim]").nth(1).unwrap();
    text.replace("\"double wrap\"", "\"single wrap\"")
        .replace("role = \"drive\"", "role = \"secondary\"\nwrap = \"140 deg\"")
        .replace("[\"10 mm\", \"10 mm\", \"10 mm\", \"10 mm\"]", "[\"10 mm\", \"10 mm\"]")
        .replace("pitch = \"20 mm\"", "pitch = \"40 mm\"")
}

/// The two surveys in a folder of their own, the drive sheave's with changes.
fn folder(changes: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let mut drive = DRIVE.to_owned();
    for (from, to) in changes {
        assert!(drive.contains(from), "{from}");
        drive = drive.replace(from, to);
    }
    fs::write(folder.path().join("drive.toml"), drive).unwrap();
    fs::write(folder.path().join("secondary.toml"), secondary()).unwrap();
    folder
}

pub(crate) fn run(folder: &Path, arguments: &[&str]) -> (Output, String) {
    let output = crate::program().current_dir(folder).args(arguments).output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    (output, said)
}

pub(crate) fn json(path: &Path) -> Value {
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

pub(crate) fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("no number: {value}"))
}

pub(crate) fn close(what: &str, a: f64, b: f64, relative: f64) {
    assert!((a - b).abs() <= relative * b.abs(), "{what}: {a} and {b}");
}

/// One check of both sheaves, run once.
fn checked() -> &'static (Value, String, i32) {
    static RUN: OnceLock<(Value, String, i32)> = OnceLock::new();
    RUN.get_or_init(|| {
        let folder = folder(&[]);
        let (output, said) = run(folder.path(), &["check", "drive.toml", "--json", "a.json", "--vtk", "vtk"]);
        assert!(folder.path().join("vtk/secondary/wheel.vtu").is_file(), "{said}");
        let page = String::from_utf8(output.stdout).unwrap();
        (json(&folder.path().join("a.json")), page, output.status.code().unwrap())
    })
}

#[test]
fn both_sheaves_are_judged_under_every_tension_and_every_table_closes() {
    let (document, page, code) = checked();
    crate::json_units::hold_to_units("check of a double wrap", document);
    let double = &document["double_wrap"];
    assert_eq!(number(&document["exit_code"]) as i32, *code);
    let combinations = double["combinations"].as_array().unwrap();
    let rules: Vec<&str> = combinations.iter().map(|c| c["rule"].as_str().unwrap()).collect();
    let expected = [
        "highest_by_friction",
        "lowest_by_friction",
        "equal_ratio",
        "creep_car_up",
        "creep_car_down",
        "after_travel",
    ];
    assert_eq!(rules, expected);
    for combination in combinations {
        let name = combination["name"].as_str().unwrap();
        let ropes: Vec<[f64; 3]> = combination["ropes_n"]
            .as_array()
            .unwrap()
            .iter()
            .map(|rope| [0, 1, 2].map(|span| number(&rope[span])))
            .collect();
        // Two pulls along and across the middle of each pass, turned to its own place.
        let (mut x, mut y, mut moment, mut between) = (0.0, 0.0, 0.0, 0.0);
        for [car, middle, counterweight] in &ropes {
            for (a, b, wrap, place) in [(car, middle, 170.0f64, -3.0f64), (middle, counterweight, 150.0, 5.0)]
            {
                let (half, place) = (0.5 * wrap.to_radians(), place.to_radians());
                let (along, across) = (-(a + b) * half.sin(), (b - a) * half.cos());
                x += along * place.cos() - across * place.sin();
                y += along * place.sin() + across * place.cos();
                moment += (b - a) * 280.0;
            }
            between += middle;
        }
        let drive = &combination["drive"];
        close(&format!("{name}: drive shaft"), number(&drive["pulls_n"]), x.hypot(y), 1e-9);
        close(&format!("{name}: drive moment"), number(&drive["moment_nmm"]), moment, 1e-6);
        assert!(number(&drive["relative_resultant_gap"]) < 1e-6);
        let pull = 2.0 * between * 70f64.to_radians().sin();
        close(&format!("{name}: secondary shaft"), number(&combination["secondary_pull_n"]), pull, 1e-9);
        let secondary = &combination["secondary"];
        close(&format!("{name}: secondary rope pulls"), number(&secondary["pulls_n"]), pull, 1e-9);
        close(&format!("{name}: secondary support"), number(&secondary["reaction_n"]), pull, 1e-6);
        let sum: f64 = ropes.iter().map(|[a, b, c]| a + 2.0 * b + c).sum();
        close(&format!("{name}: plain sum"), number(&combination["plain_sum_n"]), sum, 1e-12);
    }
    assert!(page.contains("Both sheaves under every tension between the passes"), "{page}");
    // Stress on the secondary sheave is computed: it follows its own tension, and nothing of the drive sheave's.
    let peak = |index: usize| number(&combinations[index]["secondary"]["peak_mpa"]);
    let tension = |index: usize| number(&combinations[index]["ropes_n"][0][1]);
    // Each peak has a mesh and a bar of its own.
    let bar = |index: usize| number(&combinations[index]["secondary"]["bound_mpa"]) / peak(index);
    assert!(bar(0) + bar(1) < 0.02);
    close("linear in Ti", peak(0) / peak(1), tension(0) / tension(1), bar(0) + bar(1));
    assert!(
        page.contains("Secondary sheave, under the tension between the passes that governs it"),
        "{page}"
    );
    assert_eq!(document["secondary"]["survey"]["roping"]["role"], "secondary");
}

#[test]
fn the_bounds_are_those_of_friction_and_the_creep_those_of_equal_diameters() {
    let (document, ..) = checked();
    let rope = &document["double_wrap"]["tensions"]["ropes"][0];
    let bounds = &rope["bounds"];
    let grips = [170f64, 150.0].map(|wrap| 0.2 * wrap.to_radians());
    let low = (8000.0 * (-grips[0]).exp()).max(6000.0 * (-grips[1]).exp());
    let high = (8000.0 * grips[0].exp()).min(6000.0 * grips[1].exp());
    close("low", number(&bounds["friction"]["low_n"]), low, 1e-9);
    close("high", number(&bounds["friction"]["high_n"]), high, 1e-9);
    close("up", number(&rope["creep"][0]["between_n"]), 8000.0, 1e-9);
    close("down", number(&rope["creep"][1]["between_n"]), 6000.0, 1e-9);
    let arc = (8000f64 / 6000.0).ln() / 0.2;
    close("active arc", number(&rope["creep"][0]["arcs"][1]["active_rad"]), arc, 1e-9);
}

/// Rows of a CSV file by the names of its columns.
pub(crate) fn rows(path: &Path) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_path(path).unwrap();
    let head = reader.headers().unwrap().clone();
    reader
        .records()
        .map(|record| head.iter().map(str::to_owned).zip(record.unwrap().iter().map(str::to_owned)).collect())
        .collect()
}

#[test]
fn sweeps_are_formed_again_from_their_table_and_by_a_check() {
    let folder = folder(&[]);
    let single = DRIVE
        .replace("arrangement = \"double wrap\"", "arrangement = \"single wrap\"\nwrap = \"165 deg\"")
        .replace("pitch = \"20 mm\"", "pitch = \"20 mm\"\ncount = 4\nroped = [1, 3]")
        .replace("sheave = \"drive\"", "sheave = \"one wrap\"");
    let table = single.find("[double_wrap]").unwrap()..single.find("[load]").unwrap();
    let single = format!("{}{}", &single[..table.start], &single[table.end..]);
    fs::write(folder.path().join("single.toml"), single).unwrap();
    let sweeps = [
        "--sweep",
        "friction=0.15..0.3",
        "--sweep",
        "mismatch=-0.1 mm..0.1 mm",
        "--sweep",
        "second_wrap=140 deg..170 deg",
    ];
    let outputs = ["--steps", "2", "--csv", "s.csv", "--vtk", "vtk", "--json", "w.json"];
    let arguments = [&["wraps", "single.toml", "drive.toml"][..], &sweeps, &outputs].concat();
    let (output, said) = run(folder.path(), &arguments);
    assert_eq!(output.status.code(), Some(0), "{said}");
    let rows = rows(&folder.path().join("s.csv"));
    assert_eq!(rows.len(), 6);
    for row in &rows {
        let of = |name: &str| row[name].parse::<f64>().unwrap_or_else(|_| panic!("{name}: {row:?}"));
        for name in row.keys().filter(|name| !["arrangement", "swept"].contains(&name.as_str())) {
            assert!(name.ends_with(']') && name.contains('['), "{name} has no unit");
        }
        let (t1, t2) = (of("car_tension [N]"), of("counterweight_tension [N]"));
        let wraps = [of("first_wrap [deg]"), of("second_wrap [deg]")].map(f64::to_radians);
        let grips = [of("first_friction_factor [-]") * wraps[0], of("second_friction_factor [-]") * wraps[1]];
        let (low, high) = (
            (t1 * (-grips[0]).exp()).max(t2 * (-grips[1]).exp()),
            (t1 * grips[0].exp()).min(t2 * grips[1].exp()),
        );
        close("lowest", of("lowest_between [N]"), low, 1e-8);
        close("highest", of("highest_between [N]"), high, 1e-8);
        let (d1, d2) = (of("first_pitch_diameter [mm]"), of("second_pitch_diameter [mm]"));
        let stiffness = of("rope_stiffness [N]");
        let up = (stiffness * (d2 / d1 * (1.0 + t1 / stiffness) - 1.0)).clamp(low, high);
        let down = (stiffness * (d1 / d2 * (1.0 + t2 / stiffness) - 1.0)).clamp(low, high);
        close("creep up", of("creep_up_between [N]"), up, 1e-6);
        close("creep down", of("creep_down_between [N]"), down, 1e-6);
        close("slip reserve", of("slip_reserve [-]"), (grips[0] + grips[1]).exp() / (t1 / t2) - 1.0, 1e-8);
        for rule in ["highest", "lowest", "equal_ratio", "creep_up", "creep_down"] {
            let between = of(&format!("{rule}_between [N]"));
            let shaft = 2.0 * 2.0 * between * (70.0 * PI / 180.0).sin();
            close(rule, of(&format!("{rule}_secondary_shaft [N]")), shaft, 1e-8);
        }
    }
    // A check with the value set gives the row's tensions, and its stress within the bars of two meshes.
    let row = rows
        .iter()
        .find(|row| row["swept"] == "friction" && row["first_friction_factor [-]"] == "0.3")
        .unwrap();
    let set = ["check", "drive.toml", "--set", "double_wrap.friction=0.3", "--json", "c.json"];
    let (_, said) = run(folder.path(), &set);
    let document = json(&folder.path().join("c.json"));
    let highest = &document["double_wrap"]["combinations"][0];
    let of = |name: &str| row[name].parse::<f64>().unwrap();
    close("between", of("highest_between [N]"), number(&highest["ropes_n"][0][1]), 1e-8);
    close("drive shaft", of("highest_drive_shaft [N]"), number(&highest["drive"]["pulls_n"]), 1e-8);
    close("drive peak", of("highest_drive_peak [MPa]"), number(&highest["drive"]["peak_mpa"]), 0.02);
    close(
        "secondary peak",
        of("highest_secondary_peak [MPa]"),
        number(&highest["secondary"]["peak_mpa"]),
        0.02,
    );
    assert!(document["what_if"]["comparison"].is_object(), "{said}");
    // The series that viewers step through names files that are there.
    let series = fs::read_to_string(folder.path().join("vtk/drive_friction.pvd")).unwrap();
    let named: Vec<&str> =
        series.split("file=\"").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
    assert_eq!(named.len(), 2);
    assert!(named.iter().all(|name| folder.path().join("vtk").join(name).is_file()), "{named:?}");
    let document = json(&folder.path().join("w.json"));
    assert_eq!(document["schema"], "rimproof.wraps/1");
    crate::json_units::hold_to_units("wraps", &document);
    let list = document["arrangements"].as_array().unwrap();
    assert_eq!(list.len(), 2);
    assert_eq!(list[0]["wheels"].as_array().unwrap().len(), 1);
    assert_eq!(list[1]["wheels"].as_array().unwrap().len(), 2);
    assert_eq!(document["sweeps"].as_array().unwrap().len(), 6);
    let page = String::from_utf8(output.stdout).unwrap();
    for words in ["Beside A", "shaft load [kN]", "wall by practice", "Why"] {
        assert!(page.contains(words), "{words}: {page}");
    }
}

#[test]
fn faults_of_both_surveys_are_named_at_their_places() {
    for (changes, said) in [
        (vec![("\"secondary.toml\"", "\"missing.toml\"")], "survey/secondary-file"),
        (vec![("\"secondary.toml\"", "\"drive.toml\"")], "survey/conflict"),
        (vec![("ropes = 2", "ropes = 3")], "survey/list-length"),
        (vec![("friction = 0.2", "friction = 0.01")], "check/double-wrap"),
        (vec![("role = \"drive\"", "role = \"deflector\"")], "drives nothing"),
        (vec![("grooves = \"side by side\"", "grooves = \"in turns\"")], "\"alternating\""),
        (vec![("car_length = \"40 m\"", "car_length = [\"40 m\"]")], "survey/list-length"),
        (vec![("first_wrap = \"170 deg\"", "first_wrap = \"400 deg\"")], "survey/wrap-range"),
        (vec![("car_length = \"40 m\"", "car_length = \"20 m\"")], "shorter than the travel"),
    ] {
        let folder = folder(&changes);
        let (output, message) = run(folder.path(), &["check", "drive.toml", "--json", "a.json"]);
        assert_eq!(output.status.code(), Some(2), "{changes:?}: {message}");
        assert!(message.contains(said), "{changes:?}: {message}");
        assert!(!folder.path().join("a.json").exists());
    }
    let folder = folder(&[]);
    let wrong = secondary()
        .replace("rope_diameter = \"13 mm\"", "rope_diameter = \"14 mm\"")
        .replace("width = \"96 mm\"", "widht = \"96 mm\"");
    fs::write(folder.path().join("secondary.toml"), wrong).unwrap();
    let (output, message) = run(folder.path(), &["check", "drive.toml"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(message.contains("secondary.toml:") && message.contains("survey/unknown-key"), "{message}");
    for command in ["deepest", "grooves", "doubt"] {
        let (output, message) = run(self::folder(&[]).path(), &[command, "drive.toml"]);
        assert_eq!(output.status.code(), Some(2), "{command}");
        assert!(
            message.contains("survey/not-covered") && message.contains("drive.toml:6:15"),
            "{command}: {message}"
        );
    }
    for (sweep, said) in [
        ("friction", "is no sweep"),
        ("slope=1..2", "cannot be varied"),
        ("friction=0.3..0.2", "does not rise"),
        ("friction=0.3..20", "out of range"),
        ("mismatch=-1..1", "wraps/sweep"),
    ] {
        let (output, message) = run(self::folder(&[]).path(), &["wraps", "drive.toml", "--sweep", sweep]);
        assert_eq!(output.status.code(), Some(2), "{sweep}");
        assert!(message.contains(said), "{sweep}: {message}");
    }
}

#[test]
fn a_secondary_sheave_without_a_survey_leaves_the_matter_open() {
    let folder = folder(&[(
        "secondary = \"secondary.toml\"",
        "secondary = \"not measured\"\nsecondary_wrap = \"140 deg\"",
    )]);
    let asked =
        ["check", "drive.toml", "--json", "a.json", "--brief", "--report", "a.html", "--csv", "tables"];
    let (output, said) = run(folder.path(), &asked);
    let page = fs::read_to_string(folder.path().join("a.html")).unwrap();
    assert!(page.contains("It has no survey") && page.contains("2.1 Every check"), "{said}");
    let tables = folder.path().join("tables");
    assert!(tables.join("drive/checks.csv").is_file() && !tables.join("secondary").exists());
    let document = json(&folder.path().join("a.json"));
    assert_ne!(output.status.code(), Some(0), "{said}");
    let combination = &document["double_wrap"]["combinations"][0];
    assert!(combination["secondary"].is_null() && number(&combination["secondary_pull_n"]) > 0.0);
    let heads = document["double_wrap"]["verdict"]["heads"].to_string();
    assert!(heads.contains("no survey"), "{heads}");
}
