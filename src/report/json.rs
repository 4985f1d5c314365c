//! The result as JSON: every number with its unit in its key.

use super::WhatIf;
use crate::manual::Citation;
use crate::study::double_wrap::Checked;
use crate::survey::{Change, Survey};
use serde::Serialize;
use serde_json::{Value, json};

/// Which file the answer belongs to.
#[derive(Debug, Clone, Serialize)]
pub struct Input {
    pub file: String,
    /// SHA-256 of the survey's bytes, in hexadecimal.
    pub sha256: String,
    /// Values set from the command line.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub set: Vec<Change>,
    /// The survey of the secondary sheave that this one names.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub secondary: Option<Box<Input>>,
}

/// What a check writes down.
pub struct CheckDocument<'a> {
    pub survey: &'a Survey,
    pub checked: &'a Checked,
    pub citations: &'a [Citation],
    pub input: &'a Input,
    pub what_if: Option<&'a WhatIf>,
}

/// The whole check as one JSON document: of a double wrap `result` is the drive sheave's, and `double_wrap` and
/// `secondary` stand beside it; with values set from outside also what they changed.
///
/// # Errors
/// When a value cannot be written, which no finite result does.
pub fn check_json(document: &CheckDocument<'_>) -> Result<String, serde_json::Error> {
    let CheckDocument { survey, checked, citations, input, what_if } = *document;
    let result = &checked.outcome.result;
    let mut document = json!({
        "schema": "rimproof.check/1",
        "program": { "name": "rimproof", "version": env!("CARGO_PKG_VERSION") },
        "conventions": {
            "frame": "cylindrical r, theta, z; theta = 0 in the middle of the wrap, positive towards the light side; z along the shaft from the middle of the rim",
            "stress_order": ["rr", "tt", "zz", "rt", "tz", "rz"],
            "sign": "tension positive",
            "units": "unit of every number stands in its key; keys without unit are plain numbers"
        },
        "input": input,
        "exit_code": crate::report::exit_code(checked.word()),
        "result": result,
        "verified_by": citations,
        "survey": survey,
    });
    if let Some(double) = &checked.double {
        document["double_wrap"] = serde_json::to_value(&double.result)?;
        if let Some((survey, outcome)) = &double.secondary {
            document["secondary"] = json!({ "result": outcome.result, "survey": survey });
        }
    }
    if let Some(what_if) = what_if {
        document["what_if"] = serde_json::to_value(what_if)?;
    }
    let mut text = serde_json::to_string_pretty(&named(document))?;
    text.push('\n');
    Ok(text)
}

/// Names the components of every stress vector, so that no reader has to count.
fn named(value: Value) -> Value {
    const NAMES: [&str; 6] = ["rr", "tt", "zz", "rt", "tz", "rz"];
    match value {
        Value::Object(map) => Value::Object(
            map.into_iter()
                .map(|(key, value)| {
                    let value = match value {
                        Value::Array(list) if list.len() == 6 && key.ends_with("_mpa") => {
                            Value::Object(NAMES.map(str::to_owned).into_iter().zip(list).collect())
                        }
                        other => named(other),
                    };
                    (key, value)
                })
                .collect(),
        ),
        Value::Array(list) => Value::Array(list.into_iter().map(named).collect()),
        other => other,
    }
}
