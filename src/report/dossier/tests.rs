//! What the first page must hold, whatever the survey says.

use super::*;
use crate::report::paper::pdf::page_count;
use crate::study::{Asked, check};
use crate::survey::{Files, read};
use std::path::Path;

struct NoFiles;

impl Files for NoFiles {
    fn read(&self, _: &Path) -> std::io::Result<Vec<u8>> {
        Err(std::io::ErrorKind::NotFound.into())
    }
}

/// The demo with other words in its head, judged at one place.
fn dossier(words: &str, look: impl Fn(&Dossier<'_>)) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("meshes/harbour_thin.toml");
    let bytes = std::fs::read(&path).unwrap();
    let mut survey = read(&bytes, &path, &NoFiles).survey.unwrap();
    if !words.is_empty() {
        survey.job.name = words.to_owned();
        survey.job.sheave = words.to_owned();
        let job = &mut survey.job;
        for field in [&mut job.location, &mut job.surveyor, &mut job.instruments] {
            *field = Some(words.to_owned());
        }
    }
    let asked = Asked { judged_only: true, places: Some(vec![3]), ..Asked::default() };
    let outcome = check(&survey, &asked, &|_| ()).unwrap();
    let input = Input { file: "a.toml".into(), sha256: "0".repeat(64), set: Vec::new(), secondary: None };
    let values = crate::survey::values(&bytes);
    let basis =
        ReportBasis { survey: &survey, outcome: &outcome, citations: &[], input: &input, values: &values };
    look(&Dossier::of(&basis));
}

#[test]
fn the_first_page_is_one_page_on_both_papers() {
    for words in ["", "a long name & <more> ", "מעלית ארוכה מאוד "] {
        dossier(&words.repeat(40), |dossier| {
            for paper in [Paper::A4, Paper::Letter] {
                let document = Document { blocks: dossier.first_page(), ..dossier.document() };
                assert_eq!(page_count(&document, paper).unwrap(), 1, "{words:?} on {paper:?}");
            }
        });
    }
}

#[test]
fn three_numbers_and_every_section_are_there() {
    dossier("", |dossier| {
        assert_eq!(dossier.numbers().len(), 3);
        let document = dossier.document();
        let anchor = |block: &Block| match block {
            Block::Heading { level: 2, anchor, .. } => Some(anchor.clone()),
            _ => None,
        };
        let anchors: Vec<String> = document.blocks.iter().filter_map(anchor).collect();
        for wanted in
            ["checks", "loads", "walls", "stress", "trust", "by-hand", "verified", "inputs", "identity"]
        {
            assert!(anchors.iter().any(|a| a == wanted), "{wanted} of {anchors:?}");
        }
        let figures = document.blocks.iter().filter(|block| matches!(block, Block::Figure(_))).count();
        assert!(figures >= 6, "{figures} pictures");
    });
}
