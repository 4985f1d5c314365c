//! All diagnostics as one text: with a snippet of the file for a terminal, or as plain sentences.
//!
//! Owns the layout. Lacks the decision whether a terminal is there: the caller says which look.

use super::{Diagnostic, Diagnostics, Place, Severity, floor_char, is_printable};
use miette::{
    GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError, MietteSpanContents, SourceCode,
    SourceSpan, SpanContents,
};
use std::fmt;

/// How diagnostics are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// One sentence per fault, beginning with `file:line:column`.
    Plain,
    /// A snippet of the file with the fault marked.
    Snippets { colour: bool, width: usize },
}

/// Bytes of a line shown on each side of a fault: no line can flood the screen.
const AROUND: usize = 60;
/// Faults shown one by one; beyond it a file is not a survey, and only the count helps.
const MOST_SHOWN: usize = 100;

impl Diagnostics {
    /// All diagnostics in the order of their places, and a count at the end.
    pub fn render(&self, look: Look) -> String {
        let all = self.sorted();
        let mut out = String::new();
        for item in all.iter().take(MOST_SHOWN) {
            match look {
                Look::Plain => self.plain(item, &mut out),
                Look::Snippets { colour, width } => self.snippet(item, colour, width, &mut out),
            }
        }
        if all.len() > MOST_SHOWN {
            out.push_str(&format!("... and {} more.\n", all.len() - MOST_SHOWN));
        }
        out.push_str(&self.count());
        out
    }

    fn count(&self) -> String {
        let some = |count: usize, name: &str| match count {
            0 => None,
            1 => Some(format!("1 {name}")),
            _ => Some(format!("{count} {name}s")),
        };
        let errors = self.error_count();
        let parts: Vec<String> =
            [some(errors, "error"), some(self.len() - errors, "warning")].into_iter().flatten().collect();
        if parts.is_empty() { String::new() } else { format!("{}.\n", parts.join(" and ")) }
    }

    fn plain(&self, item: &Diagnostic, out: &mut String) {
        if let Some(place) = &item.place {
            out.push_str(&self.locate(place));
            out.push_str(": ");
        }
        out.push_str(&format!("{}: {} ({})\n", word(item.severity), item.message, item.code));
        if !item.help.is_empty() {
            out.push_str(&format!("    {}\n", item.help));
        }
    }

    fn snippet(&self, item: &Diagnostic, colour: bool, width: usize, out: &mut String) {
        let theme = if colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
        let handler =
            GraphicalReportHandler::new_themed(theme).with_width(width.max(40)).with_context_lines(0);
        let shown = Shown { item, excerpt: item.place.as_ref().and_then(|place| self.excerpt(place)) };
        // Writing to a string fails only if the handler cannot draw; the plain form always can.
        let mut text = String::new();
        match handler.render_report(&mut text, &shown) {
            Ok(()) => out.push_str(&text),
            Err(_) => self.plain(item, out),
        }
    }

    /// The faulty line, clipped around the fault.
    fn excerpt(&self, place: &Place) -> Option<Excerpt> {
        let source = self.sources.get(place.source.0)?;
        let (line, column) = self.line_column(place);
        let line_start = source.lines[line - 1];
        let at = floor_char(&source.text, place.span.start).max(line_start);
        let line_text = source.text[line_start..].lines().next().unwrap_or("");
        let line_end = line_start + line_text.len();
        let at = at.min(line_end);
        let end = floor_char(&source.text, place.span.end).clamp(at, line_end).min(at + AROUND);
        let from = floor_char(&source.text, at.saturating_sub(AROUND).max(line_start));
        let to = floor_char(&source.text, (end + AROUND).min(line_end)).max(at);
        let before = visible(&source.text[from..at]);
        let marked = visible(&source.text[at..floor_char(&source.text, end)]);
        let after = visible(&source.text[floor_char(&source.text, end)..to]);
        let open = if from > line_start { "…" } else { "" };
        let close = if to < line_end { "…" } else { "" };
        Some(Excerpt {
            name: source.name.clone(),
            mark: (open.len() + before.len(), marked.len()),
            text: format!("{open}{before}{marked}{after}{close}"),
            line: line - 1,
            column: column - 1,
        })
    }
}

fn visible(text: &str) -> String {
    text.chars()
        .map(|c| {
            if c == '\t' {
                ' '
            } else if is_printable(c) {
                c
            } else {
                '\u{fffd}'
            }
        })
        .collect()
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    }
}

/// One line of a file, as the snippet shows it.
#[derive(Debug)]
struct Excerpt {
    name: String,
    text: String,
    /// Offset and length of the fault in `text`.
    mark: (usize, usize),
    /// Line and column in the file, both counted from 0.
    line: usize,
    column: usize,
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        _span: &SourceSpan,
        _before: usize,
        _after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            self.text.as_bytes(),
            (0, self.text.len()).into(),
            self.line,
            self.column,
            1,
        )))
    }
}

#[derive(Debug)]
struct Shown<'d> {
    item: &'d Diagnostic,
    excerpt: Option<Excerpt>,
}

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.item.message)
    }
}

impl std::error::Error for Shown<'_> {}

impl miette::Diagnostic for Shown<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(self.item.code))
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.item.severity {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        (!self.item.help.is_empty()).then(|| Box::new(&self.item.help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.excerpt.as_ref().map(|excerpt| excerpt as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let (offset, length) = self.excerpt.as_ref()?.mark;
        let label = LabeledSpan::new_primary_with_span(None, (offset, length));
        Some(Box::new(std::iter::once(label)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SNIPPETS: Look = Look::Snippets { colour: false, width: 80 };

    fn one(text: &str, span: std::ops::Range<usize>) -> Diagnostics {
        let mut all = Diagnostics::new();
        let source = all.add_source("lift.toml", text);
        all.error(
            "survey/unit-missing",
            "\"14.3\" has no unit.",
            "write \"14.3 mm\"",
            Some(Place { source, span }),
        );
        all
    }

    #[test]
    fn plain_begins_with_the_place() {
        let text = one("a = 1\nwidth = \"14.3\"\n", 14..20).render(Look::Plain);
        assert!(
            text.starts_with("lift.toml:2:9: error: \"14.3\" has no unit. (survey/unit-missing)\n"),
            "{text}"
        );
        assert!(text.ends_with("1 error.\n"), "{text}");
    }

    #[test]
    fn a_snippet_names_file_line_and_column() {
        let text = one("a = 1\nwidth = \"14.3\"\n", 14..20).render(SNIPPETS);
        assert!(text.contains("lift.toml:2:9"), "{text}");
        assert!(text.contains("width = \"14.3\"") && text.contains("write \"14.3 mm\""), "{text}");
    }

    #[test]
    fn giant_lines_are_clipped() {
        let text = format!("k = \"{}\"", "°".repeat(2_000_000));
        for look in [SNIPPETS, Look::Plain] {
            let shown = one(&text, 1_000_001..3_000_000).render(look);
            assert!(shown.len() < 2_000, "{}", shown.len());
        }
    }

    #[test]
    fn places_beyond_the_file_are_harmless() {
        for text in ["", "\n", "a\u{1b}[2J\r\n", "°"] {
            for span in [0..0, 1..1, 1..2, 5..9] {
                assert!(!one(text, span.clone()).render(SNIPPETS).contains('\u{1b}'));
                one(text, span).render(Look::Plain);
            }
        }
    }
}
