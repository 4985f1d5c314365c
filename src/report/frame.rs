//! What every page for a terminal is made of: titles, paragraphs, lists, tables.

use anstyle::Style;
use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, TableStyle};
use std::fmt::Write as _;

/// How a page is laid out.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    /// Whether styles are written.
    pub colour: bool,
    /// Columns.
    pub width: usize,
}

impl Frame {
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
