//! One case after the other: what it is, its sketch, its set-up, its values, and how they converge.

use super::numbers::{NONE, size_of, small};
use super::plot::{convergence, descents, order};
use super::sketch::sketch;
use super::values::{HEADS, unmet, values};
use crate::manual::{Entry, Record, setting};
use crate::report::paper::{Block, Figure, Table, TableKind};

pub(super) fn chapters(numbered: &[(String, &Entry)], body: &mut Vec<Block>) {
    let mut last = None;
    for (number, entry) in numbered {
        let chapter = entry.case.chapter;
        if last != Some(chapter) {
            last = Some(chapter);
            let place = number.split('.').next().unwrap_or_default();
            body.push(Block::heading(2, format!("{place} {}", chapter.title()), format!("chapter-{place}")));
        }
        case(number, entry, body);
    }
}

fn case(number: &str, entry: &Entry, body: &mut Vec<Block>) {
    let case = entry.case;
    body.push(Block::heading(3, format!("{number} {}", case.title), case.name));
    body.push(Block::Code(format!("rimproof verify {}", case.name)));
    body.push(Block::text(case.about));
    match &entry.record {
        Err(fault) => body.push(Block::Strong(format!("MISS: the case gave no values: {fault}"))),
        Ok(record) => {
            if let Some(model) = &record.model {
                if let Some(sketch) = sketch(model) {
                    body.push(figure(case.name, sketch.caption, sketch.svg));
                }
                body.push(Block::List(in_few(setting(model))));
            }
            if !record.facts.is_empty() {
                body.push(Block::List(record.facts.clone()));
            }
            compared(record, body);
            let unmet = unmet(record);
            if !unmet.is_empty() {
                body.push(Block::text("References not met, shown and not counted:"));
                body.push(Block::List(unmet));
            }
            converged(case.name, record, body);
        }
    }
    let names: Vec<&str> = case.features.iter().map(|feature| feature.title()).collect();
    body.push(Block::text(format!("Exercises: {}.", names.join("; "))));
}

/// A case may have hundreds of loads, one per harmonic: the first ones stand for the rest.
fn in_few(mut lines: Vec<String>) -> Vec<String> {
    const MOST: usize = 14;
    if lines.len() > MOST {
        let more = lines.len() - MOST;
        lines.truncate(MOST);
        lines.push(format!("… and {more} more of this kind."));
    }
    lines
}

fn figure(name: &str, caption: String, svg: String) -> Block {
    Block::Figure(Figure { name: name.to_owned(), caption, svg })
}

fn compared(record: &Record, body: &mut Vec<Block>) {
    let values = values(record);
    body.push(Block::table(&HEADS, values.rows));
    let notes = [("Allowed", values.reasons), ("Source", values.sources)];
    body.push(Block::List(
        notes
            .into_iter()
            .flat_map(|(title, texts)| texts.into_iter().map(move |text| format!("{title}: {text}")))
            .collect(),
    ));
}

fn converged(name: &str, record: &Record, body: &mut Vec<Block>) {
    if !record.levels.is_empty() {
        let level = |(index, level): (usize, &crate::manual::Level)| {
            let side =
                if level.side == 1.0 { "1".to_owned() } else { format!("1/{}", (1.0 / level.side).round()) };
            vec![
                (index + 1).to_string(),
                side,
                level.triangles.to_string(),
                level.unknowns.to_string(),
                level.last_harmonic.to_string(),
            ]
        };
        let heads = [
            ("mesh", true),
            ("side / coarsest", true),
            ("triangles", true),
            ("unknowns", true),
            ("last harmonic", true),
        ];
        body.push(Block::table(&heads, record.levels.iter().enumerate().map(level).collect()));
    }
    let found = descents(&record.rows, &record.levels);
    let most =
        found.iter().map(|descent| descent.points.len() + usize::from(descent.steps)).max().unwrap_or(0);
    if most < 2 {
        return;
    }
    if let Some(svg) = convergence(&format!("Convergence of {name}"), &found) {
        let caption = "Error over element side; the numbers are those of the table's rows.".to_owned();
        body.push(figure(&format!("{name}-convergence"), caption, svg));
    }
    let mut heads = vec![("no.".to_owned(), true), ("from".to_owned(), false)];
    heads.extend((1..=most).map(|mesh| (format!("mesh {mesh}"), true)));
    heads.push(("order".to_owned(), true));
    let rows = found
        .iter()
        .map(|descent| {
            let row = &record.rows[descent.number - 1];
            let size = size_of(row, &record.rows);
            let mut cells = vec![
                descent.number.to_string(),
                if descent.steps { "steps between meshes" } else { "errors" }.to_owned(),
            ];
            // The coarsest mesh has no step behind it.
            let missing = most - descent.points.len();
            cells.extend((0..missing).map(|_| NONE.to_owned()));
            cells.extend(descent.points.iter().map(|(_, share)| small(share * size, size)));
            cells.push(order(descent).map_or_else(|| NONE.to_owned(), |order| format!("{order:.1}")));
            cells
        })
        .collect();
    body.push(Block::Table(Table { heads, rows, kind: TableKind::Plain, by: 1 }));
}
