//! A survey file while it is read: the document, with units, notes and stand-ins.
//!
//! Owns quantities with their units, the votes on units, and the notes on what was assumed. Lacks the
//! survey's fields: those stand in `read`.

mod quantities;

pub(super) use super::files::is_not_measured;
pub(super) use crate::document::{Bounds, Section, Value};

use super::files::SURVEY_RULES;
use super::schema::{NoteKind, SurveyNote};
use crate::diagnostics::{Diagnostics, SourceId};
use crate::document::Document;
use crate::units::{Kind, UnitVotes};
use std::collections::BTreeMap;
use std::ops::{Deref, DerefMut};
use toml::de::DeValue;

/// One dimensional field of the survey.
#[derive(Debug, Clone, Copy)]
pub(super) struct Field {
    pub key: &'static str,
    pub kind: Kind,
    pub bounds: Bounds,
    /// The field in words, with its article.
    pub what: &'static str,
    /// The field as it may be written, where the examples of its kind would mislead.
    pub example: Option<&'static str>,
}

pub(super) const fn field(key: &'static str, kind: Kind, bounds: Bounds, what: &'static str) -> Field {
    Field { key, kind, bounds, what, example: None }
}

impl Field {
    pub const fn such_as(self, example: &'static str) -> Self {
        Self { example: Some(example), ..self }
    }

    /// The field's examples, in quotes.
    pub fn examples(&self) -> &'static str {
        self.example.unwrap_or_else(|| self.kind.examples())
    }
}

/// True for a value, and for a table or list with a value in it, that is not blank.
fn is_stated(value: &Value<'_>) -> bool {
    match value.get_ref() {
        DeValue::String(text) => !is_not_measured(text),
        DeValue::Array(list) => list.iter().any(is_stated),
        DeValue::Table(table) => table.iter().any(|(_, value)| is_stated(value)),
        _ => true,
    }
}

/// A survey file while it is read.
pub(super) struct Form {
    pub document: Document,
    pub votes: UnitVotes,
    pub notes: Vec<SurveyNote>,
    /// The table that overrides a groove's shape, by groove number.
    pub worn_tables: BTreeMap<usize, String>,
}

/// A form is a document with more getters, so the plain getters are called on it directly.
impl Deref for Form {
    type Target = Document;

    fn deref(&self) -> &Document {
        &self.document
    }
}

impl DerefMut for Form {
    fn deref_mut(&mut self) -> &mut Document {
        &mut self.document
    }
}

impl Form {
    pub fn new(diagnostics: Diagnostics, source: SourceId) -> Self {
        Form {
            document: Document::new(diagnostics, source, &SURVEY_RULES),
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

    /// Warns of stated values that the choice made elsewhere does not use; `by` names that choice.
    pub fn unused(&mut self, section: &Section<'_>, known: &[&str], used: &[&str], by: &str) {
        let Some(table) = section.table else { return };
        for key in known.iter().filter(|key| !used.contains(key)) {
            if table.get(*key).is_some_and(is_stated) {
                let path = section.path_of(key);
                let message = format!("{path} is not used by {by}.");
                let help = "nothing is computed from it; check the choice, or write \"not measured\" there";
                self.warning("survey/not-used", &path, message, help);
            }
        }
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
}
