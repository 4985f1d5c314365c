//! The rooms of the house and their floors: a room uses lower floors only.
//!
//! Reads the paths that begin with `crate::` in every file of `src`; test code may use any floor.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Rooms from the ground up. A room that outgrows its place is moved here, with a word why.
///
/// `units` quotes what it could not read the way `diagnostics` does. `document` serves two readers of
/// files. `hoist` and `section` read the survey, so it lies below them. `strength` rates stresses that
/// `elastic` gives. `problem` reads model files into `elastic` values, ropes included, and so stands on
/// `hoist`. `manual` runs every room below it against answers from outside.
const FLOORS: [(&str, u32); 20] = [
    ("diagnostics", 0),
    ("geometry", 0),
    ("material", 0),
    ("reference", 0),
    ("seeded", 0),
    ("chance", 1),
    ("units", 1),
    ("mesh", 1),
    ("document", 2),
    ("elastic", 2),
    ("verdict", 2),
    ("survey", 3),
    ("strength", 3),
    ("hoist", 4),
    ("section", 4),
    ("problem", 5),
    ("study", 5),
    ("manual", 6),
    ("report", 7),
    ("cli", 8),
];

fn floor_of(room: &str) -> Option<u32> {
    FLOORS.iter().find(|(name, _)| *name == room).map(|(_, floor)| *floor)
}

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|ext| ext == "rs") {
            found.push(path);
        }
    }
}

/// Everything before the first line that opens test code.
fn without_tests(text: &str) -> &str {
    text.find("#[cfg(test)]\nmod tests {").map_or(text, |at| &text[..at])
}

/// Rooms that a text names behind `crate::`, its doc comments left out.
fn used_rooms(text: &str) -> Vec<String> {
    let code: String = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .map(|line| format!("{line}\n"))
        .collect();
    let mut rooms = Vec::new();
    for part in code.split("crate::").skip(1) {
        if let Some(list) = part.strip_prefix('{') {
            let inside = list.split('}').next().unwrap_or("");
            rooms.extend(inside.split(',').map(|item| first_word(item.trim())));
        } else {
            rooms.push(first_word(part));
        }
    }
    rooms
}

fn first_word(text: &str) -> String {
    text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
}

#[test]
fn rooms_use_lower_floors_only() {
    let mut files = Vec::new();
    rust_files(Path::new("src"), &mut files);
    assert!(files.len() > 60, "the sources are there");
    let mut wrong: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut arrows = 0;
    for file in files {
        let inside = file.strip_prefix("src").unwrap();
        let Some(room) = inside.components().next().map(|c| c.as_os_str().to_string_lossy().into_owned())
        else {
            continue;
        };
        // The roof: library and program roots name every room. Test files may look anywhere.
        if room.ends_with(".rs")
            || inside.components().any(|c| c.as_os_str() == "tests")
            || inside.ends_with("tests.rs")
        {
            continue;
        }
        let own = floor_of(&room).unwrap_or_else(|| panic!("{room} has no floor in this test's table"));
        let text = std::fs::read_to_string(&file).unwrap();
        for used in used_rooms(without_tests(&text)) {
            let Some(floor) = floor_of(&used) else { continue };
            if used != room {
                arrows += 1;
                if floor >= own {
                    wrong.entry(file.display().to_string()).or_default().push(used);
                }
            }
        }
    }
    assert!(arrows > 100, "the test reads real arrows: {arrows}");
    assert!(wrong.is_empty(), "files that reach up or sideways: {wrong:#?}");
}

#[test]
fn the_reader_of_arrows_sees_every_form() {
    let text = "use crate::mesh::Mesh;\nlet x = crate::study::check();\nuse crate::{cli, report::page};\n// crate::units";
    assert_eq!(used_rooms(text), ["mesh", "study", "cli", "report"]);
}
