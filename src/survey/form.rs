//! Typed getters over the tree of a survey file.
//!
//! Owns the words for "not measured", the faults of single values, and the places of all values.
//! Lacks the survey's fields: those stand in `read`. A getter returns `None` for a value that is not
//! measured and for a faulty one; a fault is pushed at once, so the reading goes on to the next field.

use super::schema::{NoteKind, SurveyNote};
use crate::diagnostics::{Diagnostics, Place, SourceId, quoted};
use crate::units::{Kind, UnitFault, UnitFaultKind, UnitVotes, bare_number, parse, parse_number};
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

pub(super) const fn field(
    key: &'static str,
    kind: Kind,
    bounds: Bounds,
    what: &'static str,
) -> Field {
    Field {
        key,
        kind,
        bounds,
        what,
    }
}

/// One table of the file.
#[derive(Debug, Clone)]
pub(super) struct Section<'t> {
    pub path: String,
    pub table: Option<&'t DeTable<'t>>,
}

impl Section<'_> {
    pub fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_string()
        } else {
            format!("{}.{key}", self.path)
        }
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

    /// The place of a value; a value that is not in the file has the place of its table.
    pub fn of(&self, path: &str) -> Option<Place> {
        let mut path = path;
        loop {
            if let Some(span) = self.spans.get(path) {
                return Some(Place {
                    source: self.source,
                    span: span.clone(),
                });
            }
            path = &path[..path.rfind(['.', '['])?];
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
        let places = Places {
            source,
            spans: BTreeMap::new(),
        };
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
        if table == "grooves.cut_to" || self.places.has(&own) {
            own
        } else {
            format!("grooves.now.{key}")
        }
    }

    pub fn error(&mut self, code: &'static str, path: &str, message: String, help: &str) {
        let place = self.places.of(path);
        self.diagnostics.error(code, message, help, place);
    }

    /// Adds a note once: a stand-in shared by several grooves is one assumption.
    pub fn note(&mut self, path: &str, kind: NoteKind, text: &str) {
        let note = SurveyNote {
            field: path.to_string(),
            text: text.to_string(),
            kind,
        };
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
    pub fn sections<'t>(
        &mut self,
        parent: &Section<'t>,
        key: &str,
        known: &[&str],
    ) -> Vec<Section<'t>> {
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
                self.places
                    .spans
                    .insert(section.path_of(name), value.span());
                continue;
            }
            let place = Place {
                source: self.places.source,
                span: key.span(),
            };
            let inside = match section.path.as_str() {
                "" => "a survey".to_string(),
                path => format!("[{path}]"),
            };
            let message = format!("{} is not a key of {inside}.", quoted(name));
            let help = match closest(name, known) {
                Some(meant) => format!("did you mean \"{meant}\"? Known are: {}", known.join(", ")),
                None => format!("known are: {}", known.join(", ")),
            };
            self.diagnostics
                .error("survey/unknown-key", message, help, Some(place));
        }
    }

    /// The value at a key, unless it is absent or not measured.
    pub fn get<'t>(&self, section: &Section<'t>, key: &str) -> Option<&'t Value<'t>> {
        section
            .table?
            .get(key)
            .filter(|value| match value.get_ref() {
                DeValue::String(text) => !is_not_measured(text),
                _ => true,
            })
    }

    /// Pushes the fault of a field that nothing can stand in for.
    pub fn needed(&mut self, section: &Section<'_>, key: &str, what: &str, example: &str) {
        // A missing table is one fault, not one for each of its fields.
        if section.table.is_none() {
            return;
        }
        let path = section.path_of(key);
        let message = format!("{path} is needed and not measured: {what}.");
        let help = format!("nothing can stand in for it; write {key} = {example}");
        self.error("survey/needed", &path, message, &help);
    }

    /// A quantity, or `None` when it is not measured.
    pub fn quantity(&mut self, section: &Section<'_>, field: Field) -> Option<f64> {
        let value = self.get(section, field.key)?;
        self.read_quantity(value, &section.path_of(field.key), field)
    }

    pub fn need(&mut self, section: &Section<'_>, field: Field) -> Option<f64> {
        if self.get(section, field.key).is_none() {
            self.needed(section, field.key, field.what, field.kind.examples());
            return None;
        }
        self.quantity(section, field)
    }

    /// A quantity, or a stated value in its place with a note that says so.
    pub fn assume(
        &mut self,
        section: &Section<'_>,
        field: Field,
        stand_in: f64,
        sentence: &str,
    ) -> Option<f64> {
        if self.get(section, field.key).is_none() {
            self.assumed(&section.path_of(field.key), sentence);
            return Some(stand_in);
        }
        self.quantity(section, field)
    }

    /// Reads one quantity that stands at a path, be it a field's or a list entry's.
    pub fn read_quantity(&mut self, value: &Value<'_>, path: &str, field: Field) -> Option<f64> {
        self.places.spans.insert(path.to_string(), value.span());
        let read = match value.get_ref() {
            DeValue::String(text) => parse(text, field.kind),
            DeValue::Integer(_) | DeValue::Float(_) => {
                let text = number_text(value.get_ref());
                match parse_number(&text) {
                    Ok(number) if field.kind != Kind::Ratio => {
                        Err(bare_number(&text, number, field.kind))
                    }
                    _ => parse(&text, Kind::Ratio),
                }
            }
            other => {
                let message = format!(
                    "{path} is {}, and {} is expected.",
                    type_name(other),
                    field.kind.phrase()
                );
                self.error(
                    "survey/wrong-type",
                    path,
                    message,
                    &format!("write {} = {}", field.key, field.kind.examples()),
                );
                return None;
            }
        };
        match read {
            Ok(quantity) => {
                if let Some(unit) = quantity.unit {
                    self.votes.add(unit);
                }
                self.bounded(quantity.value, path, value, field)
            }
            Err(fault) => {
                self.unit_fault(&fault, path);
                None
            }
        }
    }

    fn bounded(&mut self, number: f64, path: &str, value: &Value<'_>, field: Field) -> Option<f64> {
        let (fits, words) = match field.bounds {
            Bounds::Any => (true, ""),
            Bounds::Positive => (number > 0.0, "more than zero"),
            Bounds::NotNegative => (number >= 0.0, "zero or more"),
            Bounds::Between(low, high, words) => ((low..=high).contains(&number), words),
        };
        if fits {
            return Some(number);
        }
        let found = number_text(value.get_ref());
        let message = format!(
            "{path} is {}, which {} cannot be.",
            quoted(&found),
            field.what
        );
        self.error(
            "survey/out-of-range",
            path,
            message,
            &format!("allowed is {words}; check the number, its sign and its unit"),
        );
        None
    }

    fn unit_fault(&mut self, fault: &UnitFault, path: &str) {
        let code = match fault.kind {
            UnitFaultKind::Missing => "survey/unit-missing",
            UnitFaultKind::Unknown => "survey/unit-unknown",
            UnitFaultKind::WrongKind => "survey/unit-kind",
            UnitFaultKind::Comma => "survey/decimal-comma",
            UnitFaultKind::Malformed => "survey/not-a-quantity",
            UnitFaultKind::Magnitude => "survey/too-large-a-number",
        };
        let message = format!("{path}: {}.", fault.found);
        self.error(
            code,
            path,
            message,
            &format!("{}; {}", fault.allowed, fault.advice),
        );
    }

    /// The entries of a list, each with its path; a single value is a list of one.
    pub fn entries<'t>(
        &mut self,
        section: &Section<'t>,
        key: &str,
    ) -> Option<Vec<(String, &'t Value<'t>)>> {
        let value = self.get(section, key)?;
        let path = section.path_of(key);
        let list: Vec<&Value<'t>> = match value.get_ref() {
            DeValue::Array(array) => array.iter().collect(),
            _ => vec![value],
        };
        let mut out = Vec::with_capacity(list.len());
        for (index, entry) in list.into_iter().enumerate() {
            let path = format!("{path}[{}]", index + 1);
            self.places.spans.insert(path.clone(), entry.span());
            out.push((path, entry));
        }
        Some(out)
    }

    /// A list of quantities without gaps; `None` when not measured or any entry is faulty.
    pub fn quantities(&mut self, section: &Section<'_>, field: Field) -> Option<Vec<f64>> {
        let entries = self.entries(section, field.key)?;
        let read: Vec<Option<f64>> = entries
            .iter()
            .map(|(path, value)| {
                if value.get_ref().as_str().is_some_and(is_not_measured) {
                    let message = format!("{path} is needed and not measured: {}.", field.what);
                    self.error(
                        "survey/needed",
                        path,
                        message,
                        "every entry of this list is needed",
                    );
                    return None;
                }
                self.read_quantity(value, path, field)
            })
            .collect();
        read.into_iter().collect()
    }

    /// A whole number from `low` to `high`.
    pub fn whole(&mut self, section: &Section<'_>, key: &str, low: u32, high: u32) -> Option<u32> {
        let value = self.get(section, key)?;
        self.read_whole(value, &section.path_of(key), low, high)
    }

    pub fn read_whole(
        &mut self,
        value: &Value<'_>,
        path: &str,
        low: u32,
        high: u32,
    ) -> Option<u32> {
        let text = number_text(value.get_ref());
        match text.trim().parse::<u32>() {
            Ok(number) if (low..=high).contains(&number) => Some(number),
            _ => {
                let message = format!(
                    "{path} is {}, and a whole number is expected.",
                    quoted(&text)
                );
                self.error(
                    "survey/not-a-count",
                    path,
                    message,
                    &format!(
                        "allowed is a whole number from {low} to {high}, written without quotes"
                    ),
                );
                None
            }
        }
    }

    /// One of several words; upper and lower case are not told apart.
    pub fn choice<T: Copy>(
        &mut self,
        section: &Section<'_>,
        key: &str,
        choices: &[(&str, T)],
    ) -> Option<T> {
        let value = self.get(section, key)?;
        let path = section.path_of(key);
        let text = number_text(value.get_ref());
        if let Some((_, meant)) = choices
            .iter()
            .find(|(name, _)| name.eq_ignore_ascii_case(text.trim()))
        {
            return Some(*meant);
        }
        let names: Vec<&str> = choices.iter().map(|(name, _)| *name).collect();
        let list = names
            .iter()
            .map(|name| format!("\"{name}\""))
            .collect::<Vec<_>>()
            .join(", ");
        let help = match closest(&text, &names) {
            Some(meant) => format!("did you mean \"{meant}\"? Allowed are: {list}"),
            None => format!("allowed are: {list}"),
        };
        let message = format!("{path} is {}, which is none of the choices.", quoted(&text));
        self.error("survey/choice-unknown", &path, message, &help);
        None
    }

    /// Like `choice`, for a field that nothing can stand in for.
    pub fn need_choice<T: Copy>(
        &mut self,
        section: &Section<'_>,
        key: &str,
        what: &str,
        choices: &[(&str, T)],
    ) -> Option<T> {
        if self.get(section, key).is_none() {
            let list: Vec<String> = choices
                .iter()
                .map(|(name, _)| format!("\"{name}\""))
                .collect();
            self.needed(section, key, what, &list.join(" or "));
            return None;
        }
        self.choice(section, key, choices)
    }

    /// Free text.
    pub fn text(&mut self, section: &Section<'_>, key: &str) -> Option<String> {
        let value = self.get(section, key)?;
        match value.get_ref() {
            DeValue::Array(_) | DeValue::Table(_) => {
                let path = section.path_of(key);
                let message = format!(
                    "{path} is {}, and text is expected.",
                    type_name(value.get_ref())
                );
                self.error(
                    "survey/wrong-type",
                    &path,
                    message,
                    &format!("write {key} = \"...\""),
                );
                None
            }
            other => Some(number_text(other)),
        }
    }
}

/// True for a blank and for the words that mean one.
pub(super) fn is_not_measured(text: &str) -> bool {
    let text = text.trim();
    text.is_empty()
        || text.eq_ignore_ascii_case("not measured")
        || text.eq_ignore_ascii_case("unmeasured")
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
