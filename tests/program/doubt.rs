//! The doubt of a demo: the same bytes for a seed on every number of threads, other seeds within the sampling's
//! error, the verdict left alone, and a survey without doubt refused.

use serde_json::Value;
use std::path::{Path, PathBuf};

const DEMO: &str = "meshes/harbour.toml";
/// A demo that is quickly solved, with a factor that half of its samples reach.
const QUICK: &str = "meshes/deflector.toml";
const HALF: &str = "\n[judgement]\nsafety_factor = 6.4\n\n[doubt]\ntensions = \"4 %\"\n";

fn text_of(demo: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(demo)).unwrap()
}

struct Run {
    code: Option<i32>,
    page: String,
    said: String,
    json: Vec<u8>,
}

impl Run {
    fn value(&self) -> Value {
        serde_json::from_slice(&self.json).unwrap_or_else(|fault| panic!("{fault}: {}", self.said))
    }

    fn probability(&self) -> f64 {
        self.value()["probability"].as_f64().unwrap()
    }
}

fn doubt(survey: &Path, json: &Path, more: &[&str]) -> Run {
    let output = crate::program()
        .arg("doubt")
        .arg(survey)
        .args(["--full", "3", "--json"])
        .arg(json)
        .args(more)
        .output()
        .unwrap();
    Run {
        code: output.status.code(),
        page: String::from_utf8(output.stdout).unwrap(),
        said: String::from_utf8(output.stderr).unwrap(),
        json: std::fs::read(json).unwrap_or_default(),
    }
}

#[test]
fn a_seed_gives_its_bytes_and_other_seeds_the_same_answer() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str| -> PathBuf { folder.path().join(name) };
    let survey = file("survey.toml");
    std::fs::write(&survey, text_of(QUICK) + HALF).unwrap();
    let run = |name: &str, more: &[&str]| doubt(&survey, &file(name), more);
    let one = run("one.json", &["--threads", "1"]);
    let two = run("two.json", &["--threads", "2"]);
    assert_eq!(one.code, Some(0), "{}", one.said);
    assert!(one.page == two.page && one.json == two.json, "threads change the answer");
    let other = run("other.json", &["--seed", "2"]);
    assert_ne!(one.json, other.json, "another seed draws other samples");
    let (a, b) = (one.probability(), other.probability());
    assert!(a > 0.01 && a < 0.99, "the demo is a doubtful case: {a}");
    // Four standard deviations of the difference of two shares of 10 000 samples each, and the misfit's few analyses.
    let allowed = 4.0 * (2.0 * a * (1.0 - a) / 10_000.0).sqrt() + 0.01;
    assert!((a - b).abs() < allowed, "{a} {b}");

    let (json, result) = (one.value(), &one.value()["result"]);
    assert_eq!(result["check"]["word"], "undecided", "the verdict stays the check's: {json}");
    let quantities = result["quantities"].as_array().unwrap();
    let named: Vec<&str> = quantities.iter().map(|one| one["quantity"].as_str().unwrap()).collect();
    for quantity in ["wall", "strength", "heavy", "tension_spread", "hottest_rope", "bar"] {
        assert!(named.contains(&quantity), "{quantity} is not among {named:?}");
    }
    let low = result["sampling"]["low"].as_f64().unwrap();
    assert!(low < a && a < result["sampling"]["high"].as_f64().unwrap());
    let page = one.page.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "no source, stated by the program",
        "stated in the survey",
        "does not change the verdict",
        "does not know of cracks",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
}

#[test]
fn a_survey_without_doubt_is_refused_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let survey = folder.path().join("exact.toml");
    let exact = "\n[doubt]\nwall = \"0 mm\"\nseat_depth = \"0 mm\"\nstrength = \"0 %\"\n\
                 tensions = \"0 %\"\ntension_spread = \"0 %\"\nhottest_groove = 1\n";
    std::fs::write(&survey, text_of(QUICK) + exact).unwrap();
    let json = folder.path().join("none.json");
    let run = doubt(&survey, &json, &[]);
    assert_eq!(run.code, Some(2), "{}", run.said);
    assert!(run.said.contains("doubt/nothing-in-doubt") && run.page.is_empty(), "{}", run.said);
    assert!(!json.exists());
}

#[test]
fn contradictions_in_the_table_are_told_at_their_place() {
    let folder = tempfile::tempdir().unwrap();
    let survey = folder.path().join("wrong.toml");
    let text = text_of(DEMO);
    let (head, _) = text.split_once("[doubt]").unwrap();
    let wrong = "[doubt]\nhottest_groove = 9\nmasses = \"80 %\"\nwall = 3\n";
    std::fs::write(&survey, format!("{head}{wrong}")).unwrap();
    let run = doubt(&survey, &folder.path().join("none.json"), &[]);
    assert_eq!(run.code, Some(2));
    for words in ["doubt.hottest_groove is 9", "doubt.masses", "doubt.wall"] {
        assert!(run.said.contains(words), "{words}: {}", run.said);
    }
}
