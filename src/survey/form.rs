//! Typed getters over the tree of a survey file.
//!
//! Owns the words for "not measured", the faults of single values, and the places of all values.
//! Lacks the survey's fields: those stand in `read`. A getter returns `None` for a value that is not
//! measured and for a faulty one; a fault is pushed at once, so the reading goes on to the next field.

mod quantities;
mod words;

use super::schema::{NoteKind, SurveyNote};
use crate::diagnostics::{Diagnostics, Place, SourceId, quoted};
use crate::units::{Kind, UnitVotes};
use std::collections::BTreeMap;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

pub(super) type Value<'t> = Spanned<DeValue<'t>>;

/// What a single value may be.
#[derive(Debug, Clone, Copy)]
pub(super) enum Bounds {
    Any,
    Positive,
    NotNegative,
    /// Inside units, and the same limits in words.
    Between(f64, f64, &'static str),
}

/// One dimensional field of the survey.
#[derive(Debug, Clone, Copy)]
pub(super) struct Field {
    pub key: &'static str,
    pub kind: Kind,
    pub bounds: Bounds,
    /// The field in words, with its article.
    pub what: &'static str,
}

pub(super) const fn field(key: &'static str, kind: Kind, bounds: Bounds, what: &'static str) -> Field {
    Field { key, kind, bounds, what }
}

/// One table of the file.
#[derive(Debug, Clone)]
pub(super) struct Section<'t> {
    pub path: String,
    pub table: Option<&'t DeTable<'t>>,
}

impl Section<'_> {
    pub fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_string() } else { format!("{}.{key}", self.path) }
    }
}

/// Where every value of the file stands, by its dotted path.
#[derive(Debug, Clone)]
pub(super) struct Places {
    pub source: SourceId,
    spans: BTreeMap<String, Range<usize>>,
}

impl Places {
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
                return Some(Place { source: self.source, span: span.clone() });
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

/// A survey file while it is read.
pub(super) struct Form {
    pub diagnostics: Diagnostics,
    pub places: Places,
    pub votes: UnitVotes,
    pub notes: Vec<SurveyNote>,
    /// The table that overrides a groove's shape, by groove number.
    pub worn_tables: BTreeMap<usize, String>,
}

impl Form {
    pub fn new(diagnostics: Diagnostics, source: SourceId) -> Self {
        let places = Places { source, spans: BTreeMap::new() };
        Form {
            diagnostics,
            places,
            votes: UnitVotes::default(),
            notes: Vec::new(),
            worn_tables: BTreeMap::new(),
        }
    }

    /// Path of a field of a groove's shape: in the groove's own table where it stands there, else in the
    /// table of all grooves.
    pub fn shape_path(&self, table: &str, key: &str) -> String {
        let own = format!("{table}.{key}");
        if table == "grooves.cut_to" || self.places.has(&own) { own } else { format!("grooves.now.{key}") }
    }

    pub fn error(&mut self, code: &'static str, path: &str, message: String, help: &str) {
        let place = self.places.of(path);
        self.diagnostics.error(code, message, help, place);
    }

    /// Adds a note once: a stand-in shared by several grooves is one assumption.
    pub fn note(&mut self, path: &str, kind: NoteKind, text: &str) {
        let note = SurveyNote { field: path.to_string(), text: text.to_string(), kind };
        if !self.notes.contains(&note) {
            self.notes.push(note);
        }
    }

    pub fn assumed(&mut self, path: &str, text: &str) {
        self.note(path, NoteKind::Assumed, text);
    }

    pub fn missing(&mut self, path: &str, text: &str) {
        self.note(path, NoteKind::Missing, text);
    }

    /// Records the places of all values below a table, and refuses keys that are not known.
    pub fn section<'t>(&mut self, parent: &Section<'t>, key: &str, known: &[&str]) -> Section<'t> {
        let path = parent.path_of(key);
        let table = match parent.table.and_then(|table| table.get(key)) {
            None => None,
            Some(value) => {
                self.places.spans.insert(path.clone(), value.span());
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
        self.places.spans.insert(path.clone(), value.span());
        let entries: Vec<&Value<'t>> = match value.get_ref() {
            DeValue::Array(array) => array.iter().collect(),
            _ => vec![value],
        };
        let mut out = Vec::new();
        for (index, entry) in entries.into_iter().enumerate() {
            let path = format!("{path}[{}]", index + 1);
            self.places.spans.insert(path.clone(), entry.span());
            let table = self.table(entry, &path);
            let section = Section { path, table };
            self.check_keys(&section, known);
            if section.table.is_some() {
                out.push(section);
            }
        }
        out
    }

    fn table<'t>(&mut self, value: &'t Value<'t>, path: &str) -> Option<&'t DeTable<'t>> {
        match value.get_ref() {
            DeValue::Table(table) => Some(table),
            other => {
                let message = format!("{path} is {}, and a table is expected.", type_name(other));
                self.error(
                    "survey/wrong-type",
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
                self.places.spans.insert(section.path_of(name), value.span());
                continue;
            }
            let place = Place { source: self.places.source, span: key.span() };
            let inside = match section.path.as_str() {
                "" => "a survey".to_string(),
                path => format!("[{path}]"),
            };
            let message = format!("{} is not a key of {inside}.", quoted(name));
            let help = match closest(name, known) {
                Some(meant) => format!("did you mean \"{meant}\"? Known are: {}", known.join(", ")),
                None => format!("known are: {}", known.join(", ")),
            };
            self.diagnostics.error("survey/unknown-key", message, help, Some(place));
        }
    }

    /// The value at a key, unless it is absent or not measured.
    pub fn get<'t>(&self, section: &Section<'t>, key: &str) -> Option<&'t Value<'t>> {
        section.table?.get(key).filter(|value| match value.get_ref() {
            DeValue::String(text) => !is_not_measured(text),
            _ => true,
        })
    }
}

/// True for a blank and for the words that mean one.
pub(super) fn is_not_measured(text: &str) -> bool {
    let text = text.trim();
    text.is_empty() || text.eq_ignore_ascii_case("not measured") || text.eq_ignore_ascii_case("unmeasured")
}

/// A scalar as it would be written.
pub(super) fn number_text(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => text.to_string(),
        DeValue::Integer(number) => number.to_string(),
        DeValue::Float(number) => number.to_string(),
        DeValue::Boolean(flag) => flag.to_string(),
        DeValue::Datetime(date) => date.to_string(),
        other => type_name(other).to_string(),
    }
}

fn type_name(value: &DeValue<'_>) -> &'static str {
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
fn closest<'k>(written: &str, known: &[&'k str]) -> Option<&'k str> {
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
