//! The manual's results as JSON: every number of a row together with its unit.

use super::values::tally;
use crate::manual::{Entry, Record, Row, Side};
use serde_json::{Value, json};

/// All cases as one document. What is not a number becomes `null`, beside a row that does not hold.
///
/// # Errors
/// When a value cannot be written, which none here does.
pub fn manual_json(entries: &[Entry]) -> Result<String, serde_json::Error> {
    let tally = tally(entries);
    let document = json!({
        "schema": "rimproof.verify/1",
        "program": { "name": "rimproof", "version": env!("CARGO_PKG_VERSION") },
        "conventions": "every number of a row stands with its unit, an empty unit for plain numbers; counts and ratios are plain; what is not a number is null",
        "holds": entries.iter().all(Entry::holds),
        "cases_count": tally.cases,
        "cases_held_count": tally.cases_held,
        "values_count": tally.values,
        "values_held_count": tally.values_held,
        "misses": tally.misses,
        "cases": entries.iter().map(case).collect::<Vec<_>>(),
    });
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}

fn case(entry: &Entry) -> Value {
    let case = entry.case;
    let empty = Record::default();
    let record = entry.record.as_ref().unwrap_or(&empty);
    let levels: Vec<Value> = record
        .levels
        .iter()
        .map(|level| {
            json!({
                "triangles_count": level.triangles,
                "unknowns_count": level.unknowns,
                "side_ratio": level.side,
                "last_harmonic_count": level.last_harmonic,
            })
        })
        .collect();
    json!({
        "name": case.name,
        "title": case.title,
        "chapter": case.chapter.title(),
        "about": case.about,
        "features": case.features,
        "holds": entry.holds(),
        "fault": entry.record.as_ref().err().map(ToString::to_string),
        "set_up": record.model.as_ref().map(crate::manual::setting),
        "facts": record.facts,
        "levels": levels,
        "rows": record.rows.iter().map(row).collect::<Vec<_>>(),
        "not_met": record.unmet.iter().map(|unmet| json!({ "row": row(&unmet.row), "why": unmet.why })).collect::<Vec<_>>(),
    })
}

fn row(row: &Row) -> Value {
    // JSON has no word for what is not a number; serde_json writes null.
    let number = |value: f64| json!({ "value": value, "unit": row.unit });
    let side = match row.side {
        Side::Both => "both",
        Side::NotBelow => "not_below",
        Side::NotAbove => "not_above",
    };
    json!({
        "quantity": row.quantity,
        "source": row.source,
        "reference": number(row.reference),
        "reference_doubt": row.reference_doubt.map(number),
        "computed": number(row.computed),
        "error": number(row.error()),
        "estimate": row.estimate.map(number),
        "allowed": number(row.tolerance.allowed(row.reference)),
        "allowed_side": side,
        "reason": row.reason,
        "history": row.history.iter().copied().map(number).collect::<Vec<_>>(),
        "holds": row.holds(),
    })
}
