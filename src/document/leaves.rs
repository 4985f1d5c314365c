//! All single values of a document by their paths, and what differs between two documents.

use super::{number_text, type_name};
use serde::Serialize;
use std::collections::BTreeMap;
use toml::de::{DeTable, DeValue};

/// A value that differs, as it is written; `None` where it does not stand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Change {
    /// Dotted path, entries counted from 1.
    pub path: String,
    pub before: Option<String>,
    pub after: Option<String>,
}

/// A value as it would be written, a list on one line.
pub fn shown(value: &DeValue<'_>) -> String {
    match value {
        DeValue::Array(list) => {
            let entries: Vec<String> = list.iter().map(|entry| shown(entry.get_ref())).collect();
            format!("[{}]", entries.join(", "))
        }
        DeValue::Table(_) => type_name(value).to_owned(),
        other => number_text(other),
    }
}

/// Every single value of a table with its path.
pub fn leaves(table: &DeTable<'_>) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    for (key, value) in table {
        gather(value.get_ref(), key.get_ref().to_string(), &mut found);
    }
    found
}

fn gather(value: &DeValue<'_>, path: String, found: &mut BTreeMap<String, String>) {
    match value {
        DeValue::Table(table) => {
            for (key, value) in table {
                gather(value.get_ref(), format!("{path}.{}", key.get_ref()), found);
            }
        }
        DeValue::Array(list) => {
            for (index, entry) in list.iter().enumerate() {
                gather(entry.get_ref(), format!("{path}[{}]", index + 1), found);
            }
        }
        other => {
            found.insert(path, number_text(other));
        }
    }
}

/// What differs between two documents' values; `same` tells whether two texts mean the same.
pub fn differences(
    before: &BTreeMap<String, String>,
    after: &BTreeMap<String, String>,
    same: impl Fn(Option<&str>, Option<&str>) -> bool,
) -> Vec<Change> {
    let mut paths: Vec<&String> = before.keys().chain(after.keys()).collect();
    paths.sort();
    paths.dedup();
    let text = |values: &BTreeMap<String, String>, path: &String| values.get(path).cloned();
    paths
        .into_iter()
        .map(|path| Change { path: path.clone(), before: text(before, path), after: text(after, path) })
        .filter(|change| !same(change.before.as_deref(), change.after.as_deref()))
        .collect()
}
