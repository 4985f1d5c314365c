//! Two surveys, or one survey with something set, side by side: what was changed and what that did.

use super::layout::Layout;
use super::{Input, exit_code};
use crate::study::{CheckResult, Compared, Comparison, Found};
use crate::survey::Change;
use crate::units::{Kind as Quantity, PrintUnits};
use crate::verdict::{Amount, Status};
use anstyle::Style;
use serde::Serialize;
use serde_json::json;
use std::fmt::Write as _;

/// What was set for a check, and what the check gives without it.
#[derive(Debug, Serialize)]
pub struct WhatIf {
    pub set: Vec<Change>,
    /// `None` where the survey as it stands gives no answer.
    pub comparison: Option<Comparison>,
    /// Why there is nothing to compare with.
    pub without: Option<String>,
}

/// The part in front of a check's page that says what was set and what it did.
pub fn what_if_part(what_if: &WhatIf, print: &PrintUnits, colour: bool, width: usize) -> String {
    let layout = Layout::new(colour, width);
    let mut out = String::new();
    let heading = "What if: the survey with these values set from the command line";
    let _ = writeln!(out, "{}", layout.paint(heading, Style::new().bold()));
    changes(&layout, ["as surveyed", "set to"], &what_if.set, &mut out);
    match (&what_if.comparison, &what_if.without) {
        (Some(comparison), _) => {
            layout.title("What that changes", &mut out);
            outcomes(&layout, ["as surveyed", "with the change"], comparison, print, &mut out);
        }
        (None, Some(why)) => layout.paragraph(why, "", &mut out),
        (None, None) => {}
    }
    let _ = writeln!(out, "\nThe page below is that of the survey with the change.\n");
    out
}

/// The page of two surveys side by side.
pub fn compare_page(
    inputs: [&Input; 2],
    list: &[Change],
    comparison: &Comparison,
    print: &PrintUnits,
    colour: bool,
    width: usize,
) -> String {
    let layout = Layout::new(colour, width);
    let mut out = String::new();
    let names = names(inputs);
    let _ = writeln!(out, "{}", layout.paint("Two surveys side by side", Style::new().bold()));
    for (input, role) in inputs.iter().zip(["old", "new"]) {
        let sha = &input.sha256[..12.min(input.sha256.len())];
        let _ = writeln!(out, "{role}: {} · sha256 {sha}", input.file);
    }
    let _ = writeln!(out, "rimproof {}", env!("CARGO_PKG_VERSION"));
    layout.title("What the surveys say differently", &mut out);
    if list.is_empty() {
        layout.paragraph("Nothing: every value means the same in both.", "", &mut out);
    } else {
        changes(&layout, [&names[0], &names[1]], list, &mut out);
    }
    layout.title("What was found", &mut out);
    outcomes(&layout, [&names[0], &names[1]], comparison, print, &mut out);
    out
}

/// Short names for the columns: the files' own, or their roles where those are alike.
fn names(inputs: [&Input; 2]) -> [String; 2] {
    if inputs[0].file == inputs[1].file {
        return ["old".into(), "new".into()];
    }
    inputs.map(|input| input.file.clone())
}

fn changes(layout: &Layout, heads: [&str; 2], list: &[Change], out: &mut String) {
    let mut table = layout.table(&["value", heads[0], heads[1]]);
    let text = |value: &Option<String>| {
        let stated = value.as_deref().filter(|text| !text.trim().is_empty());
        stated.map_or("does not stand".to_owned(), clean)
    };
    for change in list {
        table.add_row(vec![change.path.clone(), text(&change.before), text(&change.after)]);
    }
    let _ = writeln!(out, "{table}");
}

/// Free of characters that would steer a terminal.
fn clean(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect()
}

fn outcomes(
    layout: &Layout,
    heads: [&str; 2],
    comparison: &Comparison,
    print: &PrintUnits,
    out: &mut String,
) {
    let verdict = comparison.verdict;
    let mut table = layout.table(&["", heads[0], heads[1], "difference"]);
    let moved = if verdict.before == verdict.after { "same" } else { "changed" };
    table.add_row(vec![
        "verdict".to_owned(),
        verdict.before.text().into(),
        verdict.after.text().into(),
        moved.into(),
    ]);
    for row in &comparison.rows {
        table.add_row(vec![
            row.name.clone(),
            found(row.before, print),
            found(row.after, print),
            difference(row, print),
        ]);
    }
    let _ = writeln!(out, "{table}");
    let governing = &comparison.governing;
    if governing.before == governing.after {
        layout.paragraph(&format!("Highest tension in both: {}.", governing.before), "", out);
    } else {
        layout.paragraph(
            &format!(
                "Highest tension, {}: {}; {}: {}.",
                heads[0], governing.before, heads[1], governing.after
            ),
            "",
            out,
        );
    }
}

fn found(found: Option<Found>, print: &PrintUnits) -> String {
    let Some(Found { amount, bound, status }) = found else { return "-".into() };
    let number = match (amount.kind, bound) {
        (Some(kind), Some(bound)) => print.show_bounded(kind, amount.value, bound.value),
        (Some(kind), None) => short(print, kind, amount.value),
        (None, _) => plain(amount.value),
    };
    match status {
        Some(Status::Fails) => format!("{number} FAILS"),
        Some(Status::Open) => format!("{number} OPEN"),
        _ => number,
    }
}

/// A plain number: counts as they are, ratios with three decimals.
fn plain(value: f64) -> String {
    if value.fract() == 0.0 && value.abs() < 1e6 { format!("{value:.0}") } else { format!("{value:.3}") }
}

/// A quantity in the survey's own unit alone.
fn short(print: &PrintUnits, kind: Quantity, value: f64) -> String {
    format!("{} {}", print.number(kind, value), print.name(kind)).trim_end().to_owned()
}

fn difference(row: &Compared, print: &PrintUnits) -> String {
    let Some(Amount { value, kind }) = row.difference else { return "-".into() };
    if row.is_same() {
        return "same".into();
    }
    let magnitude = match kind {
        Some(kind) => short(print, kind, value.abs()),
        None => plain(value.abs()),
    };
    let sign = if value < 0.0 { "−" } else { "+" };
    let bars = if row.within_bars { ", within the error bars" } else { "" };
    format!("{sign}{magnitude}{bars}")
}

/// Two surveys side by side as one JSON document.
///
/// # Errors
/// When a value cannot be written, which no finite result does.
pub fn compare_json(
    inputs: [&Input; 2],
    list: &[Change],
    comparison: &Comparison,
    results: [&CheckResult; 2],
) -> Result<String, serde_json::Error> {
    let side = |index: usize| {
        let result: &CheckResult = results[index];
        json!({
            "input": inputs[index],
            "verdict": result.verdict,
            "check_exit_code": exit_code(result.verdict.word),
        })
    };
    let document = json!({
        "schema": "rimproof.compare/1",
        "program": { "name": "rimproof", "version": env!("CARGO_PKG_VERSION") },
        "conventions": { "units": "unit of every number stands in its key; keys without unit are plain numbers" },
        "old": side(0),
        "new": side(1),
        "inputs_changed": list,
        "comparison": comparison,
    });
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}
