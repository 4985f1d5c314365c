//! Which case exercises which feature, group by group, empty cells in sight.

use crate::manual::{Entry, Feature, Group, OUTSIDE};
use crate::report::paper::{Block, Table, TableKind};

pub(super) fn coverage(numbered: &[(String, &Entry)], body: &mut Vec<Block>) {
    body.push(Block::heading(2, "Coverage", "coverage"));
    body.push(Block::text(
        "Rows are what the program does, columns the cases of this run by number; ● marks what a case exercises. A \
         column that exercises nothing of a group is left out there. The last columns are comparisons with \
         independent three-dimensional analyses, which the project's own checks run.",
    ));
    let mut groups: Vec<Group> = Vec::new();
    for feature in Feature::ALL {
        if !groups.contains(&feature.group()) {
            groups.push(feature.group());
        }
    }
    for group in &groups {
        body.push(Block::heading(4, group.title(), ""));
        body.push(Block::Table(matrix(*group, numbered)));
    }
    let open: Vec<&str> = Feature::ALL
        .iter()
        .filter(|feature| {
            numbered.iter().all(|(_, entry)| !entry.case.features.contains(feature))
                && OUTSIDE.iter().all(|outside| !outside.features.contains(feature))
        })
        .map(|feature| feature.title())
        .collect();
    body.push(if open.is_empty() {
        Block::text("Every feature is covered by at least one case.")
    } else {
        Block::Strong(format!("Not covered by this run: {}.", open.join("; ")))
    });
    let list =
        OUTSIDE.iter().enumerate().map(|(index, outside)| format!("{}: {}", letter(index), outside.title));
    body.push(Block::List(list.collect()));
}

/// A, B, C ... for the comparisons from outside.
fn letter(index: usize) -> char {
    char::from(b'A' + (index % 26) as u8)
}

fn matrix(group: Group, numbered: &[(String, &Entry)]) -> Table {
    let features: Vec<&Feature> = Feature::ALL.iter().filter(|feature| feature.group() == group).collect();
    let mut columns: Vec<(String, &[Feature])> =
        numbered.iter().map(|(number, entry)| (number.clone(), entry.case.features)).collect();
    columns.extend(OUTSIDE.iter().enumerate().map(|(i, outside)| (letter(i).to_string(), outside.features)));
    columns.retain(|(_, exercised)| features.iter().any(|feature| exercised.contains(feature)));
    let mut heads = vec![("feature".to_owned(), false)];
    heads.extend(columns.iter().map(|(number, _)| (number.clone(), false)));
    let row = |feature: &&Feature| {
        let mut cells = vec![feature.title().to_owned()];
        let mark = |exercised: &[Feature]| if exercised.contains(feature) { "●" } else { "·" }.to_owned();
        cells.extend(columns.iter().map(|(_, exercised)| mark(exercised)));
        cells
    };
    Table { heads, rows: features.iter().map(row).collect(), kind: TableKind::Matrix, by: 1 }
}
