//! The help of every command teaches, and every command line of the manual is one that the program takes.

use std::path::Path;

fn rimproof(arguments: &[&str]) -> (Option<i32>, String) {
    let output = crate::program().args(arguments).output().unwrap();
    let text = [output.stdout, output.stderr].concat();
    (output.status.code(), String::from_utf8(text).unwrap())
}

fn manual() -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap()
}

/// The words of a command line: quotes keep words together, a remark or a redirection ends it.
fn words(line: &str) -> Vec<String> {
    let mut out = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            '#' | '>' if !quoted => break,
            ' ' if !quoted => out.push(String::new()),
            _ => out.last_mut().unwrap().push(c),
        }
    }
    out.retain(|word| !word.is_empty());
    out
}

/// Every call of the program in the manual, as its arguments.
fn calls() -> Vec<Vec<String>> {
    let manual = manual();
    let code = manual.lines().filter_map(|line| line.strip_prefix("    "));
    let inline = manual.split('`').skip(1).step_by(2).filter(|text| !text.contains('\n'));
    let mut calls: Vec<Vec<String>> = Vec::new();
    for line in code.chain(inline) {
        let call = line.strip_prefix("rimproof ").or_else(|| line.strip_prefix("cargo run --release -- "));
        // A command's bare name in a sentence is no call; `survey` alone is one.
        calls.extend(call.map(words).filter(|call| call.len() > 1 || call == &["survey"]));
    }
    calls
}

#[test]
fn every_command_line_of_the_manual_is_understood() {
    let calls = calls();
    for command in ["survey", "check", "deepest", "compare", "grooves", "doubt", "wraps", "solve", "verify"] {
        assert!(calls.iter().any(|call| call[0] == command), "the manual never shows {command}");
    }
    for call in calls {
        // `--help` behind the arguments would hide a faulty one in front of it, so the command is run as
        // it stands, on files that are not there: anything but a refusal of the arguments is right.
        let is_file = |word: &String| [".toml", ".pdf"].iter().any(|end| word.ends_with(end));
        let absent = |word: &String| if is_file(word) { format!("absent/{word}") } else { word.clone() };
        let arguments: Vec<String> = call.iter().map(absent).collect();
        let (code, said) = rimproof(&arguments.iter().map(String::as_str).collect::<Vec<_>>());
        assert!(!said.contains("Usage:") || code == Some(0), "{call:?}: {said}");
        let refused = call.iter().any(|word| word.ends_with(".toml"));
        assert!(!refused || code == Some(2) && said.contains("no such file"), "{call:?}: {said}");
    }
}

#[test]
fn every_option_of_the_manual_is_in_the_help_and_the_other_way_round() {
    let manual = manual();
    let table = manual.split("Options of `check`:").nth(1).unwrap().split("\n## ").next().unwrap();
    let documented: Vec<&str> = table
        .lines()
        .filter_map(|line| line.strip_prefix("| `--"))
        .map(|rest| rest.split([' ', '`']).next().unwrap())
        .collect();
    let (code, help) = rimproof(&["check", "--help"]);
    assert_eq!(code, Some(0));
    let offered: Vec<&str> = help
        .lines()
        .filter_map(|line| line.trim_start().strip_prefix("--"))
        .map(|rest| rest.split([' ', '\n']).next().unwrap())
        .filter(|name| *name != "help")
        .collect();
    for name in &documented {
        assert!(offered.contains(name), "the help has no --{name}");
    }
    for name in &offered {
        assert!(documented.contains(name), "the manual has no --{name}");
    }
}

#[test]
fn the_help_says_what_the_exit_codes_mean_and_where_to_start() {
    let (_, help) = rimproof(&["--help"]);
    for words in
        ["rimproof survey > ", "rimproof check ", "Exit codes: 0 favourable, 1 reject", "licensed engineer"]
    {
        assert!(help.contains(words), "{help}");
    }
    for command in ["survey", "check", "deepest", "compare", "grooves", "doubt", "wraps", "solve", "verify"] {
        let (code, help) = rimproof(&[command, "--help"]);
        assert_eq!(code, Some(0));
        // More than a list of options: the first sentence, and what the command is for.
        assert!(help.lines().take_while(|line| !line.starts_with("Usage")).count() > 3, "{help}");
    }
}

#[test]
fn a_wrong_option_is_answered_with_the_right_one() {
    let (code, said) = rimproof(&["check", "meshes/harbour.toml", "--jsn", "a.json"]);
    assert!(code == Some(2) && said.contains("--json"), "{said}");
    let (code, said) = rimproof(&["chek", "meshes/harbour.toml"]);
    assert!(code == Some(2) && said.contains("check"), "{said}");
}
