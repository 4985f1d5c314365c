//! A TOML document while it is read: typed getters, the places of all values, all faults at once.
//!
//! Owns the limits on a file, what happens after a syntax error, unknown keys, and the faults of single
//! values. Lacks the fields of any particular file, and units: the readers bring those. A getter
//! returns `None` for a value that is absent and for a faulty one; a fault is pushed at once, so the
//! reading goes on to the next field.

mod bytes;
mod leaves;
mod set;
mod syntax;
mod values;

pub use bytes::{Expected, LARGEST_FILE, text_of};
pub use leaves::{Change, differences, leaves, shown};
pub use set::set_values;
pub use syntax::keep_syntax_faults;

use crate::diagnostics::{Diagnostics, Place, SourceId, quoted};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

pub type Value<'t> = Spanned<DeValue<'t>>;

/// Codes of the faults that any document can have.
#[derive(Debug)]
pub struct Codes {
    pub syntax: &'static str,
    pub unknown_key: &'static str,
    pub wrong_type: &'static str,
    pub needed: &'static str,
    pub out_of_range: &'static str,
    pub not_a_count: &'static str,
    pub choice_unknown: &'static str,
    pub list_length: &'static str,
}

/// How one sort of file names the general faults, and what it takes for a blank.
#[derive(Debug)]
pub struct Rules {
    /// The file in words, with its article.
    pub file: &'static str,
    pub codes: Codes,
    /// True for text that stands for a value that is not there.
    pub is_blank: fn(&str) -> bool,
    /// What such a value is, as in "width is needed and not measured".
    pub blank: &'static str,
    /// Opens the advice for a needed value; empty where nothing needs to be said.
    pub no_stand_in: &'static str,
    /// Entries beyond which a list is refused, and the advice then.
    pub longest_list: (usize, &'static str),
    /// Choices that are not offered when a word is none of them.
    pub not_offered: &'static [&'static str],
    pub syntax_help: &'static str,
}

/// What a single number may be.
#[derive(Debug, Clone, Copy)]
pub enum Bounds {
    Any,
    Positive,
    NotNegative,
    /// The limits, both included, and the same in words.
    Between(f64, f64, &'static str),
}

impl Bounds {
    /// What is allowed, in words, when the number does not fit.
    pub fn refuses(self, number: f64) -> Option<&'static str> {
        let (fits, words) = match self {
            Self::Any => (true, "any number"),
            Self::Positive => (number > 0.0, "more than zero"),
            Self::NotNegative => (number >= 0.0, "zero or more"),
            Self::Between(low, high, words) => ((low..=high).contains(&number), words),
        };
        (!fits).then_some(words)
    }
}

/// One table of the file.
#[derive(Debug, Clone)]
pub struct Section<'t> {
    pub path: String,
    pub table: Option<&'t DeTable<'t>>,
}

impl<'t> Section<'t> {
    /// The document's own table.
    pub fn root(table: &'t DeTable<'t>) -> Self {
        Self { path: String::new(), table: Some(table) }
    }

    pub fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_string() } else { format!("{}.{key}", self.path) }
    }

    /// True when the key stands in the file, whatever its value.
    pub fn has(&self, key: &str) -> bool {
        self.table.is_some_and(|table| table.contains_key(key))
    }
}

/// Where every value of the file stands, by its dotted path.
///
/// Bytes are counted on from the file through the arguments that were set into it, so that one number names
/// a place in any of them.
#[derive(Debug, Clone)]
pub struct Places {
    pub source: SourceId,
    /// Beyond the file: the first byte of every argument, and its source.
    arguments: Vec<(usize, SourceId)>,
    /// The next free byte.
    end: usize,
    spans: BTreeMap<String, Range<usize>>,
}

impl Places {
    /// Counts the bytes of a further source on; returns the number of its first.
    pub fn add(&mut self, source: SourceId, length: usize) -> usize {
        let start = self.end;
        // The place behind the last byte belongs to a source too.
        self.end += length + 1;
        if source != self.source {
            self.arguments.push((start, source));
        }
        start
    }

    /// The place of counted bytes in their own source.
    pub fn place(&self, span: Range<usize>) -> Place {
        match self.arguments.iter().rfind(|(start, _)| *start <= span.start) {
            Some((start, source)) => Place { source: *source, span: span.start - start..span.end - start },
            None => Place { source: self.source, span },
        }
    }

    pub fn set(&mut self, path: &str, span: Range<usize>) {
        self.spans.insert(path.to_string(), span);
    }

    /// True for a value that stands in the file.
    pub fn has(&self, path: &str) -> bool {
        self.spans.contains_key(path)
    }

    /// The place of a value; a value that is not in the file has the place of its table, and the start
    /// of the file when there is no table either.
    pub fn of(&self, path: &str) -> Option<Place> {
        let mut path = path;
        loop {
            if let Some(span) = self.spans.get(path) {
                return Some(self.place(span.clone()));
            }
            match path.rfind(['.', '[']) {
                Some(end) => path = &path[..end],
                None => {
                    return Some(Place { source: self.source, span: 0..0 });
                }
            }
        }
    }
}

/// A document while it is read.
#[derive(Debug)]
pub struct Document {
    pub diagnostics: Diagnostics,
    pub places: Places,
    pub rules: &'static Rules,
    /// Paths that a misspelt key was meant for: their absence is no second fault.
    misspelt: BTreeSet<String>,
}

impl Document {
    pub fn new(diagnostics: Diagnostics, source: SourceId, rules: &'static Rules) -> Self {
        let places = Places { source, arguments: Vec::new(), end: 0, spans: BTreeMap::new() };
        Self { diagnostics, places, rules, misspelt: BTreeSet::new() }
    }

    /// Pushes an error at the place of a value.
    pub fn error(&mut self, code: &'static str, path: &str, message: String, help: &str) {
        let place = self.places.of(path);
        self.diagnostics.error(code, message, help, place);
    }

    /// Pushes a warning at the place of a value.
    pub fn warning(&mut self, code: &'static str, path: &str, message: String, help: &str) {
        let place = self.places.of(path);
        self.diagnostics.warning(code, message, help, place);
    }

    /// Records the places of all values below a table, and refuses keys that are not known.
    pub fn section<'t>(&mut self, parent: &Section<'t>, key: &str, known: &[&str]) -> Section<'t> {
        let path = parent.path_of(key);
        let table = match parent.table.and_then(|table| table.get(key)) {
            None => None,
            Some(value) => {
                self.places.set(&path, value.span());
                self.table(value, &path)
            }
        };
        let section = Section { path, table };
        self.check_keys(&section, known);
        section
    }

    /// The entries of an array of tables.
    pub fn sections<'t>(&mut self, parent: &Section<'t>, key: &str, known: &[&str]) -> Vec<Section<'t>> {
        let path = parent.path_of(key);
        let Some(value) = parent.table.and_then(|table| table.get(key)) else {
            return Vec::new();
        };
        self.places.set(&path, value.span());
        let entries: Vec<&Value<'t>> = match value.get_ref() {
            DeValue::Array(array) => array.iter().collect(),
            _ => vec![value],
        };
        let mut out = Vec::new();
        for (index, entry) in entries.into_iter().enumerate() {
            let path = format!("{path}[{}]", index + 1);
            self.places.set(&path, entry.span());
            let table = self.table(entry, &path);
            let section = Section { path, table };
            self.check_keys(&section, known);
            if section.table.is_some() {
                out.push(section);
            }
        }
        out
    }

    pub fn table<'t>(&mut self, value: &'t Value<'t>, path: &str) -> Option<&'t DeTable<'t>> {
        match value.get_ref() {
            DeValue::Table(table) => Some(table),
            other => {
                let message = format!("{path} is {}, and a table is expected.", type_name(other));
                self.error(
                    self.rules.codes.wrong_type,
                    path,
                    message,
                    &format!("write [{path}] on a line by itself and the values below it"),
                );
                None
            }
        }
    }

    pub fn check_keys(&mut self, section: &Section<'_>, known: &[&str]) {
        let Some(table) = section.table else { return };
        for (key, value) in table {
            let name: &str = key.get_ref();
            if known.contains(&name) {
                self.places.set(&section.path_of(name), value.span());
                continue;
            }
            let place = self.places.place(key.span());
            let inside = match section.path.as_str() {
                "" => self.rules.file.to_string(),
                path => format!("[{path}]"),
            };
            let message = format!("{} is not a key of {inside}.", quoted(name));
            let help = match closest(name, known) {
                Some(meant) => {
                    self.misspelt.insert(section.path_of(meant));
                    format!("did you mean \"{meant}\"? Known are: {}", known.join(", "))
                }
                None => format!("known are: {}", known.join(", ")),
            };
            self.diagnostics.error(self.rules.codes.unknown_key, message, help, Some(place));
        }
    }

    /// True for a path whose key stands in the file misspelt.
    pub fn is_misspelt(&self, path: &str) -> bool {
        self.misspelt.contains(path)
    }

    /// The value at a key, unless it is absent or stands for a blank.
    pub fn get<'t>(&self, section: &Section<'t>, key: &str) -> Option<&'t Value<'t>> {
        section.table?.get(key).filter(|value| match value.get_ref() {
            DeValue::String(text) => !(self.rules.is_blank)(text),
            _ => true,
        })
    }
}

/// A scalar as it would be written.
pub fn number_text(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => text.to_string(),
        DeValue::Integer(number) => number.to_string(),
        DeValue::Float(number) => number.to_string(),
        DeValue::Boolean(flag) => flag.to_string(),
        DeValue::Datetime(date) => date.to_string(),
        other => type_name(other).to_string(),
    }
}

pub fn type_name(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// The known word nearest to what was written, if it is near enough to have been meant.
pub fn closest<'k>(written: &str, known: &[&'k str]) -> Option<&'k str> {
    // Distances grow with the square of the length: nothing long is a slip of the pen.
    if written.len() > 60 {
        return None;
    }
    let written = written.to_lowercase();
    known
        .iter()
        .map(|word| (strsim::jaro_winkler(&written, &word.to_lowercase()), *word))
        .filter(|(likeness, _)| *likeness > 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, word)| word)
}
