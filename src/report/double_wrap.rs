//! What a double wrap adds to the page of a check: one word for both sheaves, the tensions, the combinations.

mod words;

pub(super) use words::{GOVERNS, TENSION_HEADS, Words, mean_between_n, run_of_ropes, way};

use super::layout::Layout;
use crate::hoist::double_wrap::History;
use crate::study::double_wrap::DoubleResult;
use crate::survey::Survey;
use anstyle::Style;
use std::fmt::Write as _;

/// The part of the page before the two sheaves' own pages.
pub fn double_part(survey: &Survey, result: &DoubleResult, colour: bool, width: usize) -> String {
    let part = Part { words: Words { survey, result }, result, layout: Layout::new(colour, width) };
    let mut out = String::new();
    part.verdict(&mut out);
    part.combinations(&mut out);
    part.tensions(&mut out);
    part.creep(&mut out);
    let judged = if result.as_found.is_some() { ", as cut" } else { "" };
    if let Some(history) = &result.tensions.history {
        part.history(history, judged, &mut out);
    }
    if let Some(history) = result.as_found.as_ref().and_then(|found| found.history.as_ref()) {
        part.history(history, ", as found", &mut out);
    }
    part.basis(&mut out);
    out
}

/// The line above the page of one of the two sheaves.
pub fn sheave_line(result: &DoubleResult, secondary: bool, colour: bool, width: usize) -> String {
    let layout = Layout::new(colour, width);
    let (name, index) = match (secondary, result.governing.secondary) {
        (true, Some(index)) => ("Secondary sheave", index),
        _ => ("Drive sheave", result.governing.drive),
    };
    let text = format!(
        "{name}, under the tension between the passes that governs it: {}",
        result.combinations[index].name
    );
    let rule = "=".repeat(layout.width);
    format!("\n{rule}\n{}\n{rule}\n", layout.paint(&text, Style::new().bold()))
}

struct Part<'a> {
    words: Words<'a>,
    result: &'a DoubleResult,
    layout: Layout,
}

impl Part<'_> {
    fn verdict(&self, out: &mut String) {
        let verdict = &self.result.verdict;
        let text = self.layout.paint(verdict.word.text(), Style::new().bold());
        let _ = writeln!(out, "{text}  (double wrap: drive sheave and secondary sheave together)");
        for head in &verdict.heads {
            self.layout.paragraph(head, "! ", out);
        }
        self.layout.paragraph(&verdict.reason, "", out);
        for settle in &verdict.settle {
            self.layout.paragraph(&format!("To settle it: {settle}"), "", out);
        }
    }

    fn table(&self, heads: &[&str], rows: Vec<Vec<String>>, out: &mut String) {
        let mut table = self.layout.table(heads);
        for row in rows {
            table.add_row(row);
        }
        let _ = writeln!(out, "{table}");
    }

    fn combinations(&self, out: &mut String) {
        self.layout.title("Both sheaves under every tension between the passes", out);
        let heads = self.words.combination_heads();
        self.table(&heads.each_ref().map(String::as_str), self.words.combination_rows(), out);
        self.layout.paragraph(GOVERNS, "", out);
        self.layout.paragraph(&self.words.equilibrium(), "", out);
    }

    fn tensions(&self, out: &mut String) {
        let unit = self.words.unit();
        let title = format!("Tension between the passes, car at rest with rated load [{unit}]");
        self.layout.title(&title, out);
        self.table(&TENSION_HEADS, self.words.tension_rows(&self.result.tensions), out);
    }

    fn creep(&self, out: &mut String) {
        for said in self.words.creep() {
            self.layout.paragraph(&said, "", out);
        }
    }

    fn history(&self, history: &History, state: &str, out: &mut String) {
        let unit = self.words.unit();
        let title = format!("Ropes over the travel{state}, lowest and highest in the last cycle [{unit}]");
        self.layout.title(&title, out);
        let heads = ["rope", "car's side", "between the passes", "counterweight's side"];
        self.table(&heads, self.words.range_rows(history), out);
        self.layout.paragraph(&self.words.history(history), "", out);
        let Some(rope) = history.widest_rope() else { return };
        let _ = writeln!(
            out,
            "The last cycle of rope {}, whose tension between the passes moves most:",
            rope + 1
        );
        let heads = self.words.cycle_heads();
        self.table(&heads.each_ref().map(String::as_str), self.words.cycle_rows(history, rope), out);
    }

    fn basis(&self, out: &mut String) {
        self.layout.list("What the tensions between the passes rest on", &self.words.basis(), out);
    }
}
