//! The page as blocks: front matter, contents, chapters, coverage, limits, deliberate faults.

use super::numbers::NOISE;
use super::values::{tally, unmet};
use super::{Closing, chapters, coverage};
use crate::manual::Entry;
use crate::report::paper::{Block, contents};

/// Entries with their numbers, "2.3", in the order of the chapters.
pub(super) fn numbered(entries: &[Entry]) -> Vec<(String, &Entry)> {
    let mut sorted: Vec<&Entry> = entries.iter().collect();
    sorted.sort_by_key(|entry| entry.case.chapter);
    let (mut chapter, mut place) = (0, 0);
    let mut last = None;
    let number = |entry: &'_ Entry| {
        if last == Some(entry.case.chapter) {
            place += 1;
        } else {
            (chapter, place) = (chapter + 1, 1);
            last = Some(entry.case.chapter);
        }
        format!("{chapter}.{place}")
    };
    let numbers: Vec<String> = sorted.iter().copied().map(number).collect();
    numbers.into_iter().zip(sorted).collect()
}

/// The whole page.
pub(super) fn blocks(entries: &[Entry], closing: &Closing) -> Vec<Block> {
    let numbered = numbered(entries);
    let mut body = Vec::new();
    chapters::chapters(&numbered, &mut body);
    coverage::coverage(&numbered, &mut body);
    limits(closing, &mut body);
    faults(closing, &mut body);
    let mut blocks = front(entries);
    blocks.push(Block::heading(2, "Contents", "contents"));
    blocks.push(contents(&body, 3));
    blocks.extend(body);
    blocks
}

fn front(entries: &[Entry]) -> Vec<Block> {
    let tally = tally(entries);
    let mut blocks = vec![
        Block::heading(1, "Verification manual", "top"),
        Block::text(format!(
            "rimproof {}. Problems with answers from outside, solved by this very program. Everything here, \
             figures included, was written by the program; it can be written again with:",
            env!("CARGO_PKG_VERSION")
        )),
        Block::Code("rimproof verify --manual DIR".to_owned()),
        Block::Strong(tally.sentence()),
    ];
    if !tally.misses.is_empty() {
        blocks.push(Block::text("Misses:"));
        blocks.push(Block::List(tally.misses));
    }
    let open: Vec<String> = entries
        .iter()
        .filter_map(|entry| Some((entry.case.name, entry.record.as_ref().ok()?)))
        .flat_map(|(name, record)| unmet(record).into_iter().map(move |text| format!("{name}: {text}")))
        .collect();
    if !open.is_empty() {
        blocks.push(Block::text("References that the program does not meet, shown and not counted:"));
        blocks.push(Block::List(open));
    }
    blocks.push(Block::heading(2, "How to read it", "how-to-read"));
    blocks.push(Block::List(
        [
            "Each row compares one value that the program computed with its reference. A doubt that the reference \
             has of its own stands behind ±: the digits of its print, or what its source says.",
            "error is computed less reference. estimate is the program's own: the step between the two finest \
             meshes and the rest of the series; – where nothing is discretised.",
            "allowed is the largest error that counts as agreement. Its reason was fixed beforehand and stands \
             below the table. A row beyond it is a MISS, and one MISS makes the whole run fail.",
            "What a source is worth is said in brackets: published; from memory, to be confirmed against the \
             edition in force; common practice; computed independently; this program carried further, which shows \
             consistency only; or exact.",
            "Element sides are halved from mesh to mesh. order is the power of the side with which the last halving \
             lowered the error; for a reference with a doubt of its own it is taken from the steps between meshes.",
            "Units: mm, N, MPa (N/mm²), rad, K unless a row says otherwise. Tension is positive.",
        ]
        .map(str::to_owned)
        .into_iter()
        .chain([format!(
            "Values have six digits, errors two. An error below {NOISE:e} of the reference is near rounding, which \
             differs between machines, and is printed as less than that; plots end there as well."
        )])
        .collect(),
    ));
    blocks.push(Block::text(
        "The program is an engineering aid and this manual is no approval. Agreement with these references shows \
         that the program solves these problems rightly; whether a wheel is such a problem, the engineer decides.",
    ));
    blocks
}

fn limits(closing: &Closing, body: &mut Vec<Block>) {
    if closing.limits.is_empty() {
        return;
    }
    body.push(Block::heading(2, "Known limits", "known-limits"));
    for limit in &closing.limits {
        body.push(Block::heading(4, limit.title, ""));
        body.push(Block::List(limit.sentences.clone()));
    }
}

fn faults(closing: &Closing, body: &mut Vec<Block>) {
    if closing.faults.is_empty() {
        return;
    }
    body.push(Block::heading(2, "Deliberate faults", "deliberate-faults"));
    body.push(Block::text(
        "A manual that cannot fail proves nothing. The project's tests plant each of these faults in the program, \
         and the case beside it must then miss.",
    ));
    let rows = closing.faults.iter().map(|(fault, case)| vec![fault.clone(), (*case).to_owned()]).collect();
    body.push(Block::table(&[("fault", false), ("case that misses", false)], rows));
}
