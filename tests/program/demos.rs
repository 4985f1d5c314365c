//! The demo sheaves give the answers that the manual promises.
//!
//! Every demo runs once through the program, all of them side by side; each test looks at its own part.

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

const DEMOS: [Demo; 10] = [
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
    Demo {
        file: "lantern.toml",
        code: 3,
        word: "undecided",
        deciding: &["peak_tension", "notch_stress"],
        shows: &[("peak_tension", "fails"), ("wall", "holds"), ("traction", "holds"), ("clean_up", "holds")],
        place: &["rope seat", "over the web"],
    },
    Demo {
        file: "lantern_near.toml",
        code: 3,
        word: "undecided",
        deciding: &["peak_tension"],
        shows: &[("wall", "holds"), ("traction", "holds"), ("section_stress", "holds")],
        place: &["rope seat", "over the web"],
    },
    Demo {
        file: "lantern_single.toml",
        code: 1,
        word: "reject",
        deciding: &["traction"],
        shows: &[("peak_tension", "holds"), ("wall", "holds")],
        place: &["rope seat"],
    },
    Demo {
        file: "lantern_two.toml",
        code: 1,
        word: "reject",
        deciding: &["traction"],
        shows: &[("peak_tension", "holds"), ("wall", "holds")],
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
    let output = crate::program()
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

/// The verdict on all that was judged: of a double wrap that on both sheaves.
fn overall(json: &Value) -> &Value {
    match &json["double_wrap"] {
        Value::Null => &json["result"]["verdict"],
        double => &double["verdict"],
    }
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or("")
}

#[test]
fn every_demo_gives_its_verdict_for_its_reason() {
    for (demo, run) in runs() {
        let (file, result) = (demo.file, &run.json["result"]);
        let verdict = overall(&run.json);
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
fn the_double_wrap_is_undecided_for_its_bound_alone_and_its_secondary_sheave_holds() {
    let (_, run) = runs().iter().find(|(demo, _)| demo.file == "lantern.toml").unwrap();
    let combinations = run.json["double_wrap"]["combinations"].as_array().unwrap();
    assert!(combinations.len() >= 5);
    for combination in combinations {
        let bound = combination["rule"] == "highest_by_friction";
        let word = if bound { "reject" } else { "may_be_cut" };
        assert_eq!(combination["drive"]["word"], word, "{combination}");
        assert_eq!(combination["secondary"]["word"], "may_stay", "{combination}");
    }
    assert_eq!(run.json["double_wrap"]["governing"]["wheel"], "drive");
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
    crate::program()
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
        let word = text(&overall(&run.json)["word"]).replace('_', " ");
        assert_eq!(verdict, word, "{file}");
    }
}

#[test]
fn the_trace_goes_beside_the_page_and_changes_nothing_in_it() {
    let run = |more: &[&str]| {
        let mut command = crate::program();
        command.args(["check", "meshes/deflector.toml"]).args(more);
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
