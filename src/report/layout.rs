//! How a page of plain text is laid out: titles, paragraphs, lists, tables, and the head that every page has.

use super::Input;
use crate::survey::{Change, Survey};
use anstyle::Style;
use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, TableStyle};
use std::fmt::Write as _;

/// Columns of the page, and whether it is coloured.
#[derive(Debug, Clone, Copy)]
pub(super) struct Layout {
    pub colour: bool,
    pub width: usize,
}

impl Layout {
    pub fn new(colour: bool, width: usize) -> Self {
        Self { colour, width: width.clamp(60, 120) }
    }

    pub fn paint(&self, text: &str, style: Style) -> String {
        if self.colour { format!("{style}{text}{style:#}") } else { text.to_owned() }
    }

    pub fn title(&self, text: &str, out: &mut String) {
        let _ = writeln!(out, "\n{}", self.paint(text, Style::new().bold()));
    }

    pub fn paragraph(&self, text: &str, indent: &str, out: &mut String) {
        let options = textwrap::Options::new(self.width)
            .initial_indent(indent)
            .subsequent_indent("  ")
            .break_words(false)
            .word_splitter(textwrap::WordSplitter::NoHyphenation);
        for line in textwrap::wrap(text, options) {
            let _ = writeln!(out, "{line}");
        }
    }

    pub fn list(&self, title: &str, lines: &[String], out: &mut String) {
        if lines.is_empty() {
            return;
        }
        self.title(title, out);
        for line in lines {
            self.paragraph(line, "- ", out);
        }
    }

    pub fn head(&self, survey: &Survey, input: &Input, out: &mut String) {
        let job = &survey.job;
        let _ =
            writeln!(out, "{}", self.paint(&format!("{} · {}", job.name, job.sheave), Style::new().bold()));
        let who = [("surveyed by", &job.surveyor), ("on", &job.date), ("with", &job.instruments)];
        let known: Vec<String> =
            who.iter().filter_map(|(word, value)| value.as_ref().map(|v| format!("{word} {v}"))).collect();
        if !known.is_empty() {
            self.paragraph(&known.join(" "), "", out);
        }
        let _ = writeln!(
            out,
            "rimproof {} · {} · sha256 {}",
            env!("CARGO_PKG_VERSION"),
            input.file,
            &input.sha256[..12.min(input.sha256.len())]
        );
        if let Some(other) = &input.secondary {
            let hash = &other.sha256[..12.min(other.sha256.len())];
            let _ = writeln!(out, "secondary sheave: {} · sha256 {hash}", other.file);
        }
        for Change { path, before, after } in &input.set {
            let before = before.as_deref().unwrap_or("does not stand");
            let after = after.as_deref().unwrap_or("");
            self.paragraph(&format!("! {path} set to {after} (in the file: {before})"), "", out);
        }
    }

    pub fn table(&self, header: &[&str]) -> Table {
        let mut table = Table::new();
        table
            .load_style(TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─')))
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(self.width as u16)
            .set_header(header);
        for column in table.column_iter_mut().skip(1) {
            column.set_cell_alignment(CellAlignment::Right);
        }
        table
    }
}
