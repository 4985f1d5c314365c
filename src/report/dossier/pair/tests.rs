//! What the page for both sheaves must hold, whatever the surveys say.

use super::*;
use crate::report::Input;
use crate::report::paper::pdf::{beyond_its_sheet, page_count};
use crate::study::Asked;
use crate::study::double_wrap::check_any;
use crate::survey::{Files, read};
use std::path::Path;

struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path) -> std::io::Result<Vec<u8>> {
        std::fs::read(path)
    }
}

/// A demo with other words in both heads, judged at one place; `thicker` makes every wall 50 mm thicker.
fn of(demo: &str, thicker: bool, look: impl Fn(&Pair<'_>)) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("meshes").join(demo);
    let text = std::fs::read_to_string(&path).unwrap();
    let line = |line: &str| match thicker && line.starts_with("wall = [") {
        true => line.replace("\"2", "\"7").replace("\"1", "\"6"),
        false => line.to_owned(),
    };
    let bytes = text.lines().map(line).collect::<Vec<_>>().join("\n").into_bytes();
    let survey = read(&bytes, &path, &Disk).survey.unwrap();
    let asked = Asked { judged_only: true, places: Some(vec![3]), ..Asked::default() };
    let mut checked = check_any(&survey, &asked, &|_| ()).unwrap();
    let values = crate::survey::values(&bytes);
    let input =
        |secondary| Input { file: "a.toml".into(), sha256: "0".repeat(64), set: Vec::new(), secondary };
    let input = input(Some(Box::new(input(None))));
    for words in ["", "a long name & <more> ", "מעלית ארוכה מאוד "] {
        let double = checked.double.as_mut().unwrap();
        let secondary = double.secondary.as_mut().unwrap();
        for survey in [&mut checked.survey, &mut secondary.0] {
            let job = &mut survey.job;
            let words = words.repeat(40);
            (job.name, job.sheave) = (words.clone(), words.clone());
            for field in [&mut job.location, &mut job.surveyor, &mut job.instruments] {
                *field = Some(words.clone());
            }
        }
        let (survey, outcome) = checked.double.as_ref().unwrap().secondary.as_ref().unwrap();
        let one =
            |survey, outcome| ReportBasis { survey, outcome, citations: &[], input: &input, values: &values };
        let pair = CheckedPair {
            drive: one(&checked.survey, &checked.outcome),
            secondary: Some(one(survey, outcome)),
            double: &checked.double.as_ref().unwrap().result,
        };
        look(&Pair::of(&pair));
    }
}

/// One check for all of them, because a check of both sheaves takes a while.
#[test]
fn the_report_of_both_sheaves_is_whole() {
    of("lantern.toml", false, |pair| {
        can_be_followed_by_hand(pair);
        no_word_of_a_picture_lies_beyond_its_sheet(pair);
        parts_and_sections_are_numbered_and_no_id_comes_twice(pair);
    });
}

#[test]
fn the_first_page_of_both_sheaves_is_one_page_on_both_papers() {
    // One of them with a high rim, whose drawing takes more of the page.
    for (demo, thicker) in
        [("lantern.toml", false), ("lantern_near.toml", false), ("lantern_near.toml", true)]
    {
        of(demo, thicker, |pair| {
            for paper in [Paper::A4, Paper::Letter] {
                let blocks = pair.first_page(paper);
                let document = Document {
                    title: String::new(),
                    foot: String::new(),
                    id: String::new(),
                    blocks,
                    script: None,
                };
                assert_eq!(page_count(&document, paper).unwrap(), 1, "{demo} {thicker} on {paper:?}");
            }
        });
    }
}

/// Where a formula of the loads forgets the second pass, the ratio shows it.
fn can_be_followed_by_hand(pair: &Pair<'_>) {
    for dossier in [&pair.drive, pair.secondary.as_ref().unwrap()] {
        let rows = &dossier.by_hand.rows;
        assert!(rows.len() > 5 && rows.iter().any(|row| row.what.starts_with("pull of")));
        for row in rows {
            assert!((row.ratio() - 1.0).abs() < 1e-9, "{}: {}", row.what, row.ratio());
        }
    }
    assert_eq!(pair.numbers().len(), 3);
}

fn no_word_of_a_picture_lies_beyond_its_sheet(pair: &Pair<'_>) {
    let pictures: Vec<Block> =
        pair.between().into_iter().filter(|block| matches!(block, Block::Figure(_))).collect();
    assert_eq!(pictures.len(), 4);
    for picture in pictures {
        let Block::Figure(figure) = picture else { continue };
        let beyond = beyond_its_sheet(&figure.svg).unwrap();
        assert!(beyond <= 0.5, "{}: {beyond} px", figure.name);
    }
}

fn parts_and_sections_are_numbered_and_no_id_comes_twice(pair: &Pair<'_>) {
    let headings = pair.document(Paper::A4).blocks.into_iter().filter_map(|block| match block {
        Block::Heading { level, text, anchor } => Some((level, text, anchor)),
        _ => None,
    });
    let headings: Vec<(u8, String, String)> = headings.collect();
    let mut anchors: Vec<&String> =
        headings.iter().map(|(.., anchor)| anchor).filter(|a| !a.is_empty()).collect();
    let count = anchors.len();
    anchors.sort();
    anchors.dedup();
    assert_eq!(anchors.len(), count);
    for part in 1..=3 {
        let begins = format!("{part} ");
        assert_eq!(
            headings.iter().filter(|(level, text, _)| *level == 2 && text.starts_with(&begins)).count(),
            1
        );
        let sections =
            headings.iter().filter(|(level, text, _)| *level == 3 && text.starts_with(&format!("{part}.")));
        let numbers: Vec<String> =
            sections.map(|(_, text, _)| text.split(' ').next().unwrap().to_owned()).collect();
        let wanted: Vec<String> = (1..=numbers.len()).map(|section| format!("{part}.{section}")).collect();
        assert!(numbers.len() > 5 && numbers == wanted, "{numbers:?}");
    }
    assert_eq!(headings.iter().filter(|(level, ..)| *level == 1).count(), 1);
}
