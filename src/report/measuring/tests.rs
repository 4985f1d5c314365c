//! What stands on the sheet is what a survey asks, and nothing else.

use super::*;
use crate::report::paper::Form;
use crate::survey::{read_with, remarks, template};
use crate::units::parse;
use std::collections::BTreeMap;
use std::path::Path;
use steps::{Asked, Part};

const METRIC: SheetAsked = SheetAsked { ropes: 5, stations: 6, units: SheetUnits::Metric };

fn fields() -> Vec<(String, Asked)> {
    let part = |part: &Part| -> Vec<(String, Asked)> {
        let own = |fields: &[Asked]| fields.iter().map(|field| (field.path.to_owned(), *field)).collect();
        match part {
            Part::Fields(list)
            | Part::Webs(list)
            | Part::Grooves(list)
            | Part::Ropes(list)
            | Part::Rows(list, _) => own(list),
            Part::Shapes(list) => ["grooves.now", "grooves.cut_to"]
                .iter()
                .flat_map(|table| list.iter().map(move |field| (format!("{table}.{}", field.path), *field)))
                .collect(),
            Part::Stations { angle, wall, files } => {
                [angle, wall].into_iter().chain(*files).map(|field| (field.path.to_owned(), *field)).collect()
            }
        }
    };
    STEPS.iter().flat_map(|step| step.parts.iter().flat_map(part)).collect()
}

#[test]
fn every_field_of_the_survey_has_one_place_and_nothing_else_is_asked() {
    let mut placed: BTreeMap<String, usize> = BTreeMap::new();
    for (path, _) in fields() {
        *placed.entry(path).or_default() += 1;
    }
    let wanted: Vec<String> =
        remarks().into_iter().map(|(path, _)| path).filter(|path| path != "survey").collect();
    for path in &wanted {
        assert_eq!(placed.get(path), Some(&1), "{path}");
    }
    let also: Vec<&String> =
        placed.keys().filter(|path| !wanted.contains(path) && *path != tables::WORN).collect();
    assert!(also.is_empty(), "asked, and no field of a survey: {also:?}");
}

/// Everything that is printed, in words.
fn printed(asked: &SheetAsked) -> String {
    fn words(blocks: &[Block], out: &mut String) {
        for block in blocks {
            match block {
                Block::Heading { text, .. } | Block::Text(text) | Block::Note(text) => {
                    *out += &format!(" {text} ")
                }
                Block::Form(Form { heads, rows, .. }) => {
                    let heads = heads.iter().map(|(head, _)| head);
                    heads.chain(rows.iter().flatten()).for_each(|cell| *out += &format!(" {cell} "));
                }
                Block::Boxed { blocks, .. } => words(blocks, out),
                _ => {}
            }
        }
    }
    let mut out = String::new();
    words(&document(asked).blocks, &mut out);
    out
}

#[test]
fn every_field_is_named_where_it_is_written() {
    let text = printed(&METRIC).replace("[1]", "");
    for (path, _) in remarks() {
        let named = text.split([' ', ':', ',', '(', ')']).any(|word| word == path);
        assert!(named, "{path} is not named");
    }
}

#[test]
fn units_are_those_that_a_survey_takes_and_no_inch_stands_on_a_metric_sheet() {
    for units in [SheetUnits::Inch, SheetUnits::Metric] {
        for (path, field) in fields() {
            let kind = match field.answer {
                Answer::Quantity(kind) | Answer::Readings(kind) => kind,
                Answer::Long => Kind::Length,
                _ => continue,
            };
            let text = format!("1 {}", units.of(field.answer));
            assert!(parse(&text, kind).is_ok(), "{path}: {text}");
        }
    }
    let metric = printed(&METRIC);
    for word in [" in ", " lb ", " lbf ", " ft/min "] {
        // "in" is also a word of the remarks; as a unit it stands alone in a cell.
        assert!(!metric.contains(&format!("  {} ", word.trim())) || word == " in ", "{word}");
    }
    let inch = printed(&SheetAsked { units: SheetUnits::Inch, ..METRIC });
    assert!(inch.contains("  in ") && !inch.contains("  mm "));
    assert!(metric.contains("  mm ") && !metric.contains("  in "));
}

/// How many words of the blank survey are no choice once `path` is set to `value`.
fn unknown_choices(path: &str, value: &str) -> usize {
    let (blank, set) = (template(), vec![format!("{path}={value}")]);
    let reading = read_with(blank.as_bytes(), Path::new("s.toml"), &NoFiles, &set, "--set");
    let faults = reading.diagnostics.sorted();
    faults.iter().filter(|fault| fault.code == "survey/choice-unknown").count()
}

#[test]
fn choices_are_those_that_a_survey_takes() {
    let mut noticed = 0;
    for (path, field) in fields() {
        let Answer::Choice(words) = field.answer else { continue };
        for word in words.iter().filter(|word| !["true", "false"].contains(word)) {
            assert_eq!(unknown_choices(&path, &format!("\"{word}\"")), 0, "{path} = {word}");
        }
        noticed += unknown_choices(&path, "\"no such word\"");
    }
    // Some fields are read only where another one asks for them.
    assert!(noticed >= 8, "a wrong word is noticed: {noticed}");
}

struct NoFiles;

impl crate::survey::Files for NoFiles {
    fn read(&self, _: &Path) -> std::io::Result<Vec<u8>> {
        Err(std::io::ErrorKind::NotFound.into())
    }
}

#[test]
fn letters_of_a_step_are_those_of_its_sketch() {
    for step in STEPS {
        let mut asked: Vec<&str> = Vec::new();
        for part in step.parts {
            let list: Vec<&Asked> = match part {
                Part::Fields(l)
                | Part::Shapes(l)
                | Part::Webs(l)
                | Part::Grooves(l)
                | Part::Ropes(l)
                | Part::Rows(l, _) => l.iter().collect(),
                Part::Stations { angle, wall, files } => [angle, wall].into_iter().chain(*files).collect(),
            };
            asked.extend(list.iter().map(|field| field.mark).filter(|mark| !mark.is_empty()));
        }
        asked.sort_unstable();
        asked.dedup();
        let is_letter = |word: &&String| word.len() == 1 && word.chars().all(|c| c.is_ascii_uppercase());
        let mut drawn: Vec<String> = step
            .sketch
            .map_or(Vec::new(), |sketch| sketch().words.iter().filter(is_letter).cloned().collect());
        drawn.sort_unstable();
        drawn.dedup();
        assert_eq!(drawn, asked, "{}", step.title);
    }
}

#[test]
fn no_sketch_runs_off_its_sheet() {
    for step in STEPS {
        let Some(sketch) = step.sketch else { continue };
        let beyond = pdf::beyond_its_sheet(&sketch().finish(step.title)).unwrap();
        assert!(beyond < 0.5, "{}: {beyond} px", step.title);
    }
    let mut drawing = crate::report::drafting::Drawing::new(20.0, 20.0);
    drawing.mark((19.0, 10.0), "A");
    assert!(pdf::beyond_its_sheet(&drawing.finish("")).unwrap() > 3.0, "what runs off is noticed");
}
