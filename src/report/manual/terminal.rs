//! The manual's tables for a terminal.

use super::values::{HEADS, Values, tally, unmet, values, verdict};
use crate::manual::Entry;
use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, TableStyle};
use std::fmt::Write as _;

/// The table of all compared values, case by case; then what missed, and how much holds.
pub fn manual_page(entries: &[Entry], width: usize) -> String {
    let width = width.clamp(80, 140);
    let mut out = String::new();
    for entry in entries {
        let _ = writeln!(out, "{}: {} ({})", entry.case.name, entry.case.title, verdict(entry.holds()));
        match &entry.record {
            Err(fault) => paragraph(&format!("No values: {fault}"), "  ", width, &mut out),
            Ok(record) => {
                let values = values(record);
                let _ = writeln!(out, "{}", table(&values, width));
                list("Allowed", &values.reasons, width, &mut out);
                list("Source", &values.sources, width, &mut out);
                list("Not met, and not counted", &unmet(record), width, &mut out);
            }
        }
        out.push('\n');
    }
    let tally = tally(entries);
    if !tally.misses.is_empty() {
        out.push_str("Misses\n");
        for miss in &tally.misses {
            paragraph(miss, "- ", width, &mut out);
        }
        out.push('\n');
    }
    let _ = writeln!(out, "{}", tally.sentence());
    out
}

fn list(title: &str, texts: &[String], width: usize, out: &mut String) {
    match texts {
        [] => {}
        [one] => paragraph(&format!("{title}: {one}"), "  ", width, out),
        many => {
            let _ = writeln!(out, "  {title}:");
            for text in many {
                paragraph(text, "    ", width, out);
            }
        }
    }
}

fn paragraph(text: &str, indent: &str, width: usize, out: &mut String) {
    let rest = " ".repeat(indent.len() + 2);
    let options = textwrap::Options::new(width).initial_indent(indent).subsequent_indent(&rest);
    for line in textwrap::wrap(text, options.break_words(false)) {
        let _ = writeln!(out, "{line}");
    }
}

fn table(values: &Values, width: usize) -> Table {
    let mut table = Table::new();
    table
        .load_style(TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─')))
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(width as u16)
        .set_header(narrow(&HEADS.map(|(head, _)| head.to_owned())));
    for row in &values.rows {
        table.add_row(narrow(row));
    }
    for (column, (_, number)) in
        table.column_iter_mut().zip(HEADS.iter().skip(1).filter(|(head, _)| *head != "unit"))
    {
        column.set_padding((0, 1));
        if *number {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table
}

/// A terminal has no room for the number of the row and for a column of units.
fn narrow(row: &[String]) -> Vec<String> {
    let [_, quantity, unit, rest @ ..] = row else { return row.to_vec() };
    let first = match unit.as_str() {
        "" | "unit" => quantity.clone(),
        unit => format!("{quantity} [{unit}]"),
    };
    std::iter::once(first).chain(rest.iter().cloned()).collect()
}
