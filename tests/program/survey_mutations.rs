//! Whatever is done to a survey, reading it ends in a survey or in an error, and never in a panic.

use proptest::prelude::*;
use rimproof::diagnostics::Look;
use rimproof::survey::{Files, read};
use std::io;
use std::path::Path;

const SAMPLE: &str = include_str!("../../meshes/survey_sample.toml");

const NASTY: &[&str] = &[
    "\"NaN mm\"",
    "nan",
    "inf",
    "1e308",
    "\"1e308 in\"",
    "\"-3 in\"",
    "\"\"",
    "{ a = { b = { c = 1 } } }",
    "[[[[1]]]]",
    "[]",
    "[{}]",
    "true",
    "2024-05-17",
    "0",
    "-1",
    "99999999999999999999",
    "\"1/0 in\"",
    "\"solid\"",
    "\"not measured\"",
    "\"5 kg\"",
    "\"1e-300 mm\"",
    "\"1e11 m\"",
    "\"0 deg\"",
    "\"179.9999 deg\"",
    "\"as measured\"",
    "\"V\"",
    "\"round\"",
    "\"two webs\"",
    "\"bolted rim\"",
    "\"solid disc\"",
    "\"profiles\"",
    "\"draft and wall\"",
    "\"tensions per rope\"",
    "'''",
    "\"\\u0000\"",
    "1_0",
    "0x10",
    "[\"1 in\", 2, {}]",
];

struct Scrap;

impl Files for Scrap {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        let seed = path.as_os_str().len();
        Ok(SAMPLE.as_bytes()[seed % 50..].to_vec())
    }
}

fn holds(bytes: &[u8]) -> Result<(), TestCaseError> {
    let reading = read(bytes, Path::new("lift/survey.toml"), &Scrap);
    prop_assert_eq!(reading.survey.is_some(), !reading.diagnostics.has_errors());
    let plain = reading.diagnostics.render(Look::Plain);
    let drawn = reading.diagnostics.render(Look::Snippets { colour: true, width: 80 });
    prop_assert!(plain.len() < 200_000 && drawn.len() < 400_000);
    if let Some(survey) = reading.survey {
        let text = serde_json::to_string(&survey).unwrap();
        // A number that is not finite would be written as null inside a number's field.
        prop_assert!(!text.contains("_mm\":[null") && !text.contains("_rad\":null,\"wall"));
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn bytes_are_flipped(flips in prop::collection::vec((0..SAMPLE.len(), any::<u8>()), 1..6)) {
        let mut bytes = SAMPLE.as_bytes().to_vec();
        for (at, byte) in flips {
            bytes[at] = byte;
        }
        holds(&bytes)?;
    }

    #[test]
    fn characters_are_typed_over(flips in prop::collection::vec((0..SAMPLE.len(), 32u8..127), 1..4)) {
        let mut bytes = SAMPLE.as_bytes().to_vec();
        for (at, byte) in flips {
            bytes[at] = byte;
        }
        holds(&bytes)?;
    }

    #[test]
    fn lines_are_lost_doubled_and_moved(
        edits in prop::collection::vec((0usize..200, 0usize..200, 0u8..3), 1..5)
    ) {
        let mut lines: Vec<&str> = SAMPLE.lines().collect();
        for (at, to, how) in edits {
            let line = lines[at % lines.len()];
            match how {
                0 => { lines.remove(at % lines.len()); }
                1 => { let to = to % lines.len(); lines.insert(to, line); }
                _ => { let last = lines.len() - 1; lines.swap(at % (last + 1), to % (last + 1)); }
            }
        }
        holds(lines.join("\n").as_bytes())?;
    }

    #[test]
    fn values_are_replaced(edits in prop::collection::vec((0usize..200, 0..NASTY.len()), 1..6)) {
        let mut lines: Vec<String> = SAMPLE.lines().map(String::from).collect();
        let with_value: Vec<usize> = (0..lines.len()).filter(|i| lines[*i].contains('=')).collect();
        for (at, nasty) in edits {
            let index = with_value[at % with_value.len()];
            let key = lines[index].split('=').next().unwrap_or("").to_string();
            lines[index] = format!("{key}= {}", NASTY[nasty]);
        }
        holds(lines.join("\n").as_bytes())?;
    }

    #[test]
    fn values_grow_long(at in 0usize..200, length in 1usize..300_000) {
        let mut lines: Vec<String> = SAMPLE.lines().map(String::from).collect();
        let count = lines.len();
        let key = lines[at % count].split('=').next().unwrap_or("").to_string();
        lines[at % count] = format!("{key}= \"{}\"", "7".repeat(length));
        holds(lines.join("\n").as_bytes())?;
    }
}

#[test]
fn large_files_full_of_faults_are_read_in_a_moment() {
    let keys: String = (0..200_000).map(|i| format!("k{i} = {i}\n")).collect();
    let texts = [
        keys,
        "] = [\n".repeat(300_000),
        "[[walls.station]]\n".repeat(150_000),
        format!("{SAMPLE}\n[[grooves.worn]]\nx = [{}]", "{a=1},".repeat(300_000)),
        format!("hardness = [{}]\n]", "1,".repeat(1_000_000)),
    ];
    for text in texts {
        let start = std::time::Instant::now();
        let reading = read(text.as_bytes(), Path::new("survey.toml"), &Scrap);
        assert!(reading.diagnostics.has_errors());
        assert!(reading.diagnostics.render(Look::Plain).len() < 100_000);
        // Quadratic work takes minutes here; the limit leaves room for a busy machine.
        assert!(start.elapsed().as_secs() < 20, "{:?}", start.elapsed());
    }
}

#[test]
fn deep_nesting_is_survived() {
    for text in [
        "[".repeat(100_000),
        format!("a = {}", "[".repeat(100_000)),
        format!("a = {}", "{a=".repeat(100_000)),
        "a.".repeat(100_000),
    ] {
        let reading = read(text.as_bytes(), Path::new("survey.toml"), &Scrap);
        assert!(reading.survey.is_none() && reading.diagnostics.has_errors());
        assert!(reading.diagnostics.render(Look::Plain).len() < 100_000);
    }
}
