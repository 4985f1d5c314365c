//! Faults as values: what was found, where it stands, what is allowed, what to do.
//!
//! Owns the collector that gathers every fault of a run and the fault without a file (a numerical
//! failure with its likely causes). Lacks any knowledge of what is judged.
//! Places are byte spans in a named source; lines and columns count from 1, columns in characters.

mod render;

pub use render::Look;

use std::collections::HashSet;
use std::fmt;
use std::ops::Range;

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Nothing is computed from a file with an error.
    Error,
    /// Legal, but it deserves a second look.
    Warning,
}

/// A source that was handed to the collector.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct SourceId(usize);

/// A byte span in one source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    pub source: SourceId,
    pub span: Range<usize>,
}

/// One fault or warning.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// A stable slug such as `survey/unit-missing`.
    pub code: &'static str,
    pub severity: Severity,
    /// What was found, as one sentence.
    pub message: String,
    /// What is allowed, and what to do.
    pub help: String,
    pub place: Option<Place>,
}

#[derive(Debug, Clone)]
struct Source {
    name: String,
    text: String,
    /// Byte offset of the start of every line.
    lines: Vec<usize>,
    /// An argument of the command line: its name is its whole place.
    is_argument: bool,
}

impl Source {
    fn line(&self, at: usize) -> usize {
        self.lines.partition_point(|start| *start <= at).max(1)
    }
}

/// Code, source and offset, and message of a diagnostic.
type Seen = (&'static str, Option<(usize, usize)>, String);

/// Gathers all faults of a run, to be shown at once.
#[derive(Debug, Clone, Default)]
pub struct Diagnostics {
    sources: Vec<Source>,
    items: Vec<Diagnostic>,
    /// What was pushed already, so that a file full of faults is still gathered in linear time.
    seen: HashSet<Seen>,
}

impl Diagnostics {
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a source, so that places in it can be named and shown.
    pub fn add_source(&mut self, name: impl Into<String>, text: impl Into<String>) -> SourceId {
        let text = text.into();
        let lines = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        self.sources.push(Source { name: name.into(), text, lines, is_argument: false });
        SourceId(self.sources.len() - 1)
    }

    /// Adds an argument of the command line as a source without lines.
    pub fn add_argument(&mut self, name: impl Into<String>, text: impl Into<String>) -> SourceId {
        let id = self.add_source(name, text);
        self.sources[id.0].is_argument = true;
        id
    }

    /// Adds a diagnostic, unless the same one stands at the same place already.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        let at = diagnostic.place.as_ref().map(|place| (place.source.0, place.span.start));
        if self.seen.insert((diagnostic.code, at, diagnostic.message.clone())) {
            self.items.push(diagnostic);
        }
    }

    pub fn error(
        &mut self,
        code: &'static str,
        message: impl Into<String>,
        help: impl Into<String>,
        place: Option<Place>,
    ) {
        let (message, help) = (message.into(), help.into());
        self.push(Diagnostic { code, severity: Severity::Error, message, help, place });
    }

    pub fn warning(
        &mut self,
        code: &'static str,
        message: impl Into<String>,
        help: impl Into<String>,
        place: Option<Place>,
    ) {
        let (message, help) = (message.into(), help.into());
        self.push(Diagnostic { code, severity: Severity::Warning, message, help, place });
    }

    pub fn has_errors(&self) -> bool {
        self.error_count() > 0
    }

    pub fn error_count(&self) -> usize {
        self.items.iter().filter(|item| item.severity == Severity::Error).count()
    }

    pub fn is_empty(&self) -> bool {
        self.items.is_empty()
    }

    pub fn len(&self) -> usize {
        self.items.len()
    }

    /// All diagnostics, sorted by place; those without a place come last.
    pub fn sorted(&self) -> Vec<&Diagnostic> {
        let mut all: Vec<&Diagnostic> = self.items.iter().collect();
        all.sort_by_key(|item| match &item.place {
            Some(place) => (0, place.source.0, place.span.start, item.severity),
            None => (1, 0, 0, item.severity),
        });
        all
    }

    /// Drops the diagnostics for which the test is false.
    pub fn retain(&mut self, keep: impl FnMut(&Diagnostic) -> bool) {
        self.items.retain(keep);
    }

    /// Line of the start of a place, counted from 1.
    pub fn line(&self, place: &Place) -> usize {
        self.sources.get(place.source.0).map_or(1, |source| source.line(place.span.start))
    }

    /// Line and column of the start of a place, both counted from 1.
    pub fn line_column(&self, place: &Place) -> (usize, usize) {
        let Some(source) = self.sources.get(place.source.0) else {
            return (1, 1);
        };
        let at = floor_char(&source.text, place.span.start);
        let line = source.line(at);
        let start = source.lines[line - 1];
        (line, source.text[start..at].chars().count() + 1)
    }

    /// `file:line:column` of the start of a place; the option and the path for an argument.
    pub fn locate(&self, place: &Place) -> String {
        let (line, column) = self.line_column(place);
        let source = self.sources.get(place.source.0);
        let name = source.map_or("", |source| source.name.as_str());
        if source.is_some_and(|source| source.is_argument) {
            return name.to_owned();
        }
        format!("{name}:{line}:{column}")
    }
}

/// The largest character boundary that is not beyond `at`.
fn floor_char(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// What was found, in quotes: cut to a readable length and free of control characters.
pub fn quoted(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut out = String::from("\"");
    for (count, c) in text.trim().chars().enumerate() {
        if count == LONGEST {
            out.push('…');
            break;
        }
        out.push(if is_printable(c) { c } else { '\u{fffd}' });
    }
    out.push('"');
    out
}

/// False for characters that would move the cursor or turn the reading direction of a terminal.
fn is_printable(c: char) -> bool {
    !c.is_control()
        && !matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// A failure that no single place in a file explains, with its likely causes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    pub code: &'static str,
    /// What happened, as one sentence.
    pub message: String,
    /// Likely causes, the likeliest first.
    pub causes: Vec<String>,
    /// What to do.
    pub help: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.message, self.code)?;
        for cause in &self.causes {
            write!(f, "\n  likely cause: {cause}")?;
        }
        if !self.help.is_empty() {
            write!(f, "\n  what to do: {}", self.help)?;
        }
        Ok(())
    }
}

impl std::error::Error for Fault {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_counted_in_lines_and_characters() {
        let mut all = Diagnostics::new();
        let source = all.add_source("a.toml", "x = 1\ny = \"°°\" # z\n");
        assert_eq!(all.line_column(&Place { source, span: 0..1 }), (1, 1));
        let z = "x = 1\ny = \"°°\" # z\n".find('z').unwrap();
        assert_eq!(all.locate(&Place { source, span: z..z + 1 }), "a.toml:2:12");
        assert_eq!(all.line_column(&Place { source, span: 900..901 }), (3, 1));
    }

    #[test]
    fn the_same_fault_is_kept_once_and_all_are_sorted() {
        let mut all = Diagnostics::new();
        let source = all.add_source("a.toml", "one\ntwo\n");
        all.error("b/late", "Late.", "", Some(Place { source, span: 4..5 }));
        all.warning("b/nowhere", "Nowhere.", "", None);
        all.error("b/early", "Early.", "", Some(Place { source, span: 0..1 }));
        all.error("b/late", "Late.", "", Some(Place { source, span: 4..5 }));
        let codes: Vec<&str> = all.sorted().iter().map(|item| item.code).collect();
        assert_eq!(codes, ["b/early", "b/late", "b/nowhere"]);
        assert_eq!(all.error_count(), 2);
    }

    #[test]
    fn quotes_are_short_and_clean() {
        assert_eq!(quoted(" 5/8 in "), "\"5/8 in\"");
        assert!(quoted(&"x".repeat(1_000_000)).chars().count() < 50);
        assert!(!quoted("a\u{1b}[31m").contains('\u{1b}'));
    }

    #[test]
    fn a_fault_names_its_causes() {
        let fault = Fault {
            code: "solve/free",
            message: "The rim is free to move along the shaft.".into(),
            causes: vec!["no edge is tagged bore".into()],
            help: "tag the bore".into(),
        };
        let text = fault.to_string();
        assert!(text.contains("likely cause: no edge") && text.contains("what to do: tag"));
    }
}
