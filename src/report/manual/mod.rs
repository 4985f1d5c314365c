//! The verification manual as a table for a terminal.

use crate::manual::{Entry, Row};
use std::fmt::Write;

/// The table of all compared values, case by case, and what missed.
pub fn manual_page(entries: &[Entry], _width: usize) -> String {
    let mut out = String::new();
    for entry in entries {
        let _ = writeln!(out, "{}: {}", entry.case.name, if entry.holds() { "holds" } else { "MISS" });
        match &entry.record {
            Err(fault) => {
                let _ = writeln!(out, "  {fault}");
            }
            Ok(record) => {
                for row in &record.rows {
                    let _ = writeln!(out, "  {}", line(row));
                }
            }
        }
    }
    out
}

fn line(row: &Row) -> String {
    format!(
        "{:50} {:>12.6} {:>12.6} {:>10.2e} {:>10.2e} {}",
        row.quantity,
        row.reference,
        row.computed,
        row.error(),
        row.estimate.unwrap_or(0.0),
        if row.holds() { "holds" } else { "MISS" }
    )
}
