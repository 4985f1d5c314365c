//! What is left of a document's faults when its syntax is broken.

use super::Document;
use crate::diagnostics::Place;
use std::collections::BTreeSet;

/// After a syntax error the tree has holes. Faults that may only follow from a hole are dropped: those
/// on a broken line, the missing fields, and all others when a table's own heading is broken.
pub fn keep_syntax_faults(document: &mut Document, text: &str, faults: &[toml::de::Error]) {
    let (source, rules) = (document.places.source, document.rules);
    let diagnostics = &mut document.diagnostics;
    let lines: Vec<&str> = text.lines().collect();
    let place = |fault: &toml::de::Error| Place { source, span: fault.span().unwrap_or(0..0) };
    let broken: BTreeSet<usize> = faults.iter().map(|fault| diagnostics.line(&place(fault))).collect();
    let is_heading = |line: &usize| lines.get(line - 1).is_some_and(|l| l.trim_start().starts_with('['));
    let heading = broken.iter().any(is_heading);
    let places = diagnostics.clone();
    diagnostics.retain(|item| {
        let line = item.place.as_ref().map(|place| places.line(place));
        !heading && item.code != rules.codes.needed && line.is_some_and(|line| !broken.contains(&line))
    });
    for fault in faults {
        let message = format!(
            "This line cannot be read: {}.",
            fault.message().lines().next().unwrap_or("").trim_end_matches('.')
        );
        diagnostics.error(rules.codes.syntax, message, rules.syntax_help, Some(place(fault)));
    }
}
