//! The `verify` command: what it prints and writes, its exit codes, and how it refuses.

use assert_cmd::assert::Assert;
use serde_json::Value;
use std::fs;
use std::path::Path;

/// A case with a finite-element model, and one without.
const ELASTIC: &str = "half-wrap-truncation";
const PLAIN: &str = "seat-friction";

fn verify(arguments: &[&str]) -> Assert {
    crate::program().arg("verify").args(arguments).assert()
}

fn stdout(run: &Assert) -> String {
    String::from_utf8(run.get_output().stdout.clone()).unwrap()
}

fn stderr(run: &Assert) -> String {
    String::from_utf8(run.get_output().stderr.clone()).unwrap()
}

fn names_below(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn two_cases_by_name_are_printed_in_the_manual_s_order_and_hold() {
    let run = verify(&[PLAIN, ELASTIC]).code(0);
    let page = stdout(&run);
    let place = |words: &str| page.find(words).unwrap_or_else(|| panic!("no {words} in {page}"));
    assert!(place(&format!("{ELASTIC}: ")) < place(&format!("{PLAIN}: ")));
    for words in ["reference", "computed", "estimate", "allowed", "Allowed:", "Source:", "holds"] {
        place(words);
    }
    assert!(page.lines().last().unwrap().starts_with("2 of 2 cases and "), "{page}");
    assert!(page.lines().all(|line| line.chars().count() <= 100), "{page}");
    assert!(!page.contains("MISS") && !page.contains(" s\n"), "{page}");
    assert!(stderr(&run).contains("2 cases in "));
    // The same input gives the same bytes, the number of threads notwithstanding.
    assert_eq!(page, stdout(&verify(&[ELASTIC, PLAIN, "--threads", "1"]).code(0)));
}

#[test]
fn the_list_names_every_case_and_runs_none() {
    let run = verify(&["--list"]).code(0);
    let list = stdout(&run);
    assert!(list.lines().count() > 20, "{list}");
    assert!(list.lines().any(|line| line.starts_with(&format!("{PLAIN} "))), "{list}");
    assert!(stderr(&run).is_empty());
    verify(&["--list", "--json", "-"]).code(2);
}

#[test]
fn unknown_names_are_told_all_at_once_with_the_nearest() {
    let run = verify(&["seat-frictoin", PLAIN, "half-wrap-disk"]).code(2);
    let said = stderr(&run);
    assert_eq!(said.matches("(verify/unknown-case)").count(), 2, "{said}");
    assert!(said.contains("did you mean 'seat-friction'?"), "{said}");
    assert!(said.contains("did you mean 'half-wrap-disc'?"), "{said}");
    assert!(stdout(&run).is_empty());
}

/// Numbers of the document that stand without a unit: neither in an object with one, nor in a key that says
/// that they are counts or ratios.
fn bare(value: &Value, key: &str, found: &mut Vec<String>) {
    match value {
        Value::Number(_) if !["_count", "_ratio"].iter().any(|end| key.ends_with(end)) => {
            found.push(key.to_owned());
        }
        Value::Object(map) if map.contains_key("unit") => {
            assert!(map["unit"].is_string() && map.len() == 2 && map.contains_key("value"), "{map:?}");
        }
        Value::Object(map) => map.iter().for_each(|(key, value)| bare(value, key, found)),
        Value::Array(list) => list.iter().for_each(|value| bare(value, key, found)),
        _ => {}
    }
}

#[test]
fn json_goes_to_the_screen_or_a_file_and_every_number_has_its_unit() {
    let text = stdout(&verify(&[ELASTIC, PLAIN, "--json", "-"]).code(0));
    let json: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(json["schema"], "rimproof.verify/1");
    assert_eq!(json["cases_count"], 2);
    assert_eq!(json["holds"], true);
    let mut found = Vec::new();
    bare(&json, "", &mut found);
    assert!(found.is_empty(), "numbers without a unit: {found:?}");
    let rows = json["cases"][0]["rows"].as_array().unwrap();
    assert!(rows.iter().all(|row| row["computed"]["value"].is_number() && row["reason"] != ""), "{text}");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("values.json");
    let run = verify(&[ELASTIC, PLAIN, "--json", file.to_str().unwrap()]).code(0);
    assert!(stdout(&run).contains("2 of 2 cases"));
    assert_eq!(fs::read_to_string(file).unwrap(), text);
}

#[test]
fn the_manual_is_written_whole_and_leaves_other_files_alone() {
    let folder = tempfile::tempdir().unwrap();
    let manual = folder.path().join("manual");
    fs::create_dir_all(manual.join("figures")).unwrap();
    fs::write(manual.join("notes.txt"), "mine").unwrap();
    fs::write(manual.join("figures/old.svg"), "mine").unwrap();
    let html = folder.path().join("one.html");
    let arguments = [ELASTIC, PLAIN, "--manual", manual.to_str().unwrap(), "--html", html.to_str().unwrap()];
    verify(&arguments).code(0);
    assert_eq!(names_below(&manual), ["RESULTS.html", "RESULTS.md", "figures", "notes.txt"]);
    let figures = [format!("{ELASTIC}-convergence.svg"), format!("{ELASTIC}.svg"), "old.svg".to_owned()];
    assert_eq!(names_below(&manual.join("figures")), figures);
    let page = fs::read_to_string(manual.join("RESULTS.html")).unwrap();
    assert_eq!(page, fs::read_to_string(html).unwrap());
    // Nothing is fetched from elsewhere; every angle bracket of a text is escaped.
    for outside in ["src=", "@import", "url(", "<script", "<link"] {
        assert!(!page.contains(outside), "{outside}");
    }
    let text = fs::read_to_string(manual.join("RESULTS.md")).unwrap();
    for figure in figures.iter().filter(|name| *name != "old.svg") {
        assert!(text.contains(&format!("](figures/{figure})")), "{figure}");
    }
    for words in ["Known limits", "Deliberate faults", "Coverage", "order", "Not covered by this run"] {
        assert!(page.contains(words) && text.contains(words), "{words}");
    }
}

#[test]
fn targets_that_cannot_be_written_are_refused_before_anything_runs() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    fs::write(folder.path().join("a-file"), "mine").unwrap();
    fs::create_dir_all(folder.path().join("taken/RESULTS.md")).unwrap();
    let missing = path("nowhere/values.json");
    // Every fault at once, an unknown name among them.
    let run =
        verify(&["no-such", "--json", &missing, "--html", &path(""), "--manual", &path("a-file")]).code(2);
    let said = stderr(&run);
    assert!(said.contains("(verify/unknown-case)") && said.matches("(file/write)").count() == 3, "{said}");
    assert!(!said.contains("cases in"), "{said}");
    let html = path("page.html");
    let run = verify(&[PLAIN, "--html", &html, "--manual", &path("taken")]).code(2);
    assert!(stderr(&run).contains("RESULTS.md") && !Path::new(&html).exists());
    assert_eq!(names_below(folder.path()), ["a-file", "taken"]);
    assert_eq!(fs::read_to_string(folder.path().join("a-file")).unwrap(), "mine");
}
