//! Arrangements of ropes side by side: the page, JSON, and the sweeps as CSV.

mod page;
mod table;

pub use page::wraps_page;
pub use table::wraps_csv;

use super::Input;
use crate::study::wraps::{ArrangementRow, Row};
use serde::Serialize;
use serde_json::json;

/// The whole comparison with its sweeps (schema `rimproof.wraps/1`).
///
/// # Errors
/// When a value cannot be written, which no finite result does.
pub fn wraps_json(
    arrangements: &[(&Input, &ArrangementRow)],
    sweeps: &[Row],
) -> Result<String, serde_json::Error> {
    #[derive(Serialize)]
    struct One<'a> {
        input: &'a Input,
        #[serde(flatten)]
        row: &'a ArrangementRow,
    }
    let list: Vec<One> = arrangements.iter().map(|(input, row)| One { input, row }).collect();
    let document = json!({
        "schema": "rimproof.wraps/1",
        "program": { "name": "rimproof", "version": env!("CARGO_PKG_VERSION") },
        "conventions": {
            "tensions": "per rope, car at rest with rated load; means over the ropes",
            "units": "unit of every number stands in its key; keys without unit are plain numbers"
        },
        "arrangements": list,
        "sweeps": sweeps,
    });
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}
