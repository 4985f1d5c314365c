//! The survey's values as they are written in it.

use super::file::{Cell, Table};
use std::collections::BTreeMap;

/// Every value with its dotted path, as the survey has it, before anything was set for this run.
pub(super) fn values(values: &BTreeMap<String, String>) -> Table {
    let mut table = Table::new("survey", &["field", "as written, with its unit"]);
    for (path, text) in values {
        table.row([Cell::text(path), Cell::text(text)]);
    }
    table
}
