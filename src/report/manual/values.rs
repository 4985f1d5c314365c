//! The compared values of one case as cells, shared by the terminal, Markdown and HTML.

use super::numbers::{NONE, computed, percent, plain, reference, size_of, small, value};
use crate::manual::{Entry, Record, Row, Side, Unmet};

/// Heads of the columns with whether the column holds numbers.
pub(super) const HEADS: [(&str, bool); 10] = [
    ("no.", true),
    ("quantity", false),
    ("unit", false),
    ("reference", true),
    ("computed", true),
    ("error", true),
    ("error, %", true),
    ("estimate", true),
    ("allowed", true),
    ("verdict", false),
];

pub(super) const HOLDS: &str = "holds";
pub(super) const MISS: &str = "MISS";

/// Cells of one case and what its marks stand for.
pub(super) struct Values {
    pub rows: Vec<Vec<String>>,
    /// Reasons of the tolerances, with their marks where there are several.
    pub reasons: Vec<String>,
    /// Sources with their standing, with their marks where there are several.
    pub sources: Vec<String>,
}

/// Each distinct text once, in the order of appearance.
fn distinct(texts: impl Iterator<Item = String>) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for text in texts {
        if !found.contains(&text) {
            found.push(text);
        }
    }
    found
}

/// a, b, c ... for reasons.
fn letter(index: usize) -> String {
    let last = char::from(b'a' + (index % 26) as u8);
    if index < 26 { last.to_string() } else { format!("{}{last}", letter(index / 26 - 1)) }
}

/// Source and standing of a row.
fn source(row: &Row) -> String {
    format!("{} ({})", row.source.text, row.source.standing.word())
}

fn reason(row: &Row) -> String {
    row.reason.to_owned()
}

pub(super) fn verdict(holds: bool) -> &'static str {
    if holds { HOLDS } else { MISS }
}

/// The table of a record.
pub(super) fn values(record: &Record) -> Values {
    let rows = &record.rows;
    let reasons = distinct(rows.iter().map(reason));
    let sources = distinct(rows.iter().map(source));
    let place = |texts: &[String], text: &str| texts.iter().position(|other| other == text).unwrap_or(0);
    let cells = |(index, row): (usize, &Row)| {
        let size = size_of(row, rows);
        let mark_reason = if reasons.len() > 1 {
            format!(" ({})", letter(place(&reasons, &reason(row))))
        } else {
            String::new()
        };
        let mark_source = if sources.len() > 1 {
            format!(" [{}]", place(&sources, &source(row)) + 1)
        } else {
            String::new()
        };
        let doubt = row.reference_doubt.map_or_else(String::new, |doubt| format!(" ± {}", plain(doubt, 1)));
        vec![
            (index + 1).to_string(),
            row.quantity.clone(),
            row.unit.to_owned(),
            format!("{}{doubt}{mark_source}", reference(row.reference, size)),
            computed(row, size),
            small(row.error(), size),
            percent(row, size),
            row.estimate.map_or_else(|| NONE.to_owned(), |estimate| small(estimate, size)),
            format!("{}{mark_reason}", allowed(row)),
            verdict(row.holds()).to_owned(),
        ]
    };
    let marked = |texts: &[String], mark: &dyn Fn(usize) -> String| -> Vec<String> {
        let many = texts.len() > 1;
        texts
            .iter()
            .enumerate()
            .map(|(i, text)| if many { format!("{} {text}", mark(i)) } else { text.clone() })
            .collect()
    };
    Values {
        rows: rows.iter().enumerate().map(cells).collect(),
        reasons: marked(&reasons, &|i| format!("({})", letter(i))),
        sources: marked(&sources, &|i| format!("[{}]", i + 1)),
    }
}

/// The largest difference that counts as agreement, in the row's unit.
fn allowed(row: &Row) -> String {
    let most = row.tolerance.allowed(row.reference);
    if !most.is_finite() {
        return "none stated".to_owned();
    }
    // The excess that admits exact ties is not worth a digit.
    let text = shorter(&plain(most, 2));
    match row.side {
        Side::Both => format!("± {text}"),
        Side::NotBelow => format!("− {text} or above"),
        Side::NotAbove => format!("+ {text} or below"),
    }
}

fn shorter(text: &str) -> String {
    let (number, power) = match text.split_once('e') {
        Some((number, power)) => (number, format!("e{power}")),
        None => (text, String::new()),
    };
    let number =
        if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number };
    format!("{number}{power}")
}

/// One sentence for every reference of the record that is not met.
pub(super) fn unmet(record: &Record) -> Vec<String> {
    let sentence = |unmet: &Unmet| {
        let row = &unmet.row;
        let size = row.reference.abs();
        let unit = if row.unit.is_empty() { String::new() } else { format!(" {}", row.unit) };
        format!(
            "{}: computed {}{unit}, reference {} (accuracy {}), {:+.1} %; {}. {}",
            row.quantity,
            value(row.computed, size),
            reference(row.reference, size),
            allowed(row),
            100.0 * row.error() / row.reference,
            source(row),
            unmet.why
        )
    };
    record.unmet.iter().map(sentence).collect()
}

/// How many cases and values hold, and all the misses, each with its case.
pub(super) struct Tally {
    pub cases: usize,
    pub cases_held: usize,
    pub values: usize,
    pub values_held: usize,
    pub misses: Vec<String>,
}

pub(super) fn tally(entries: &[Entry]) -> Tally {
    let mut tally = Tally {
        cases: entries.len(),
        cases_held: entries.iter().filter(|entry| entry.holds()).count(),
        values: 0,
        values_held: 0,
        misses: Vec::new(),
    };
    for entry in entries {
        let name = entry.case.name;
        match &entry.record {
            Err(fault) => tally.misses.push(format!("{name}: gave no values: {fault}")),
            Ok(record) if record.rows.is_empty() => {
                tally.misses.push(format!("{name}: compares nothing, which proves nothing"));
            }
            Ok(record) => {
                tally.values += record.rows.len();
                for row in &record.rows {
                    if row.holds() {
                        tally.values_held += 1;
                        continue;
                    }
                    let size = size_of(row, &record.rows);
                    tally.misses.push(format!(
                        "{name}: {}: computed {}, reference {} {}, error {}, allowed {}",
                        row.quantity,
                        computed(row, size),
                        reference(row.reference, size),
                        row.unit,
                        small(row.error(), size),
                        allowed(row)
                    ));
                }
            }
        }
    }
    tally
}

impl Tally {
    /// "41 of 42 cases and 399 of 400 values hold."
    pub fn sentence(&self) -> String {
        format!(
            "{} of {} cases and {} of {} values hold.",
            self.cases_held, self.cases, self.values_held, self.values
        )
    }
}
