//! Values set from outside the file: arguments such as `cut.depth=0.62 in` put into the document that was read.
//!
//! The document is changed before it is read, so one reader judges both, and a fault of a value that was set
//! stands at its argument. Paths are those of the file's messages: keys joined by dots, entries of lists in
//! brackets, counted from 1.

use super::{Change, Document, Value, closest, shown};
use crate::diagnostics::{Place, quoted};
use std::borrow::Cow;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// One step of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Step<'t> {
    Key(&'t str),
    /// Counted from 1.
    Entry(usize),
}

/// Why a value cannot be put where the path leads.
#[derive(Debug)]
struct Refusal {
    code: &'static str,
    message: String,
    help: String,
}

fn refusal(code: &'static str, message: String, help: impl Into<String>) -> Refusal {
    Refusal { code, message, help: help.into() }
}

const EXAMPLE: &str = "write path=value as in the file, for instance \"cut.depth=0.62 in\" or \
                       \"walls.station[2].wall[1]=1.1 in\"";

/// What is put, and the place of the argument in the count of bytes that places use.
struct Put<'t> {
    value: Value<'t>,
    key_span: Range<usize>,
}

/// Puts every argument into the tree; `option` names what they were given to. Returns what was changed.
pub fn set_values<'t>(
    document: &mut Document,
    tree: &mut DeTable<'t>,
    arguments: &'t [String],
    option: &str,
) -> Vec<Change> {
    let mut changes: Vec<Change> = Vec::new();
    for argument in arguments {
        let path_text = argument.split('=').next().unwrap_or("").trim();
        let source = document.diagnostics.add_argument(format!("{option} {path_text}"), argument.as_str());
        let start = document.places.add(source, argument.len());
        let span = 0..path_text.len().max(1).min(argument.len());
        let done = parsed(argument, start).and_then(|(steps, put)| {
            if changes.iter().any(|change| change.path == path_text) {
                let message = format!("{path_text} is set twice.");
                return Err(refusal("set/twice", message, "keep one of the two"));
            }
            let after = Some(shown(put.value.get_ref()));
            let before = into_table(tree, &steps, put, "")?;
            Ok(Change { path: path_text.to_owned(), before, after })
        });
        match done {
            Ok(change) => changes.push(change),
            Err(Refusal { code, message, help }) => {
                document.diagnostics.error(code, message, help, Some(Place { source, span }));
            }
        }
    }
    changes
}

/// Path and value of an argument whose first byte counts as `start`.
fn parsed(argument: &str, start: usize) -> Result<(Vec<Step<'_>>, Put<'_>), Refusal> {
    let Some((path, value)) = argument.split_once('=').filter(|(_, value)| !value.trim().is_empty()) else {
        let message = format!("{} sets no value.", quoted(argument));
        return Err(refusal("set/no-value", message, EXAMPLE));
    };
    let steps = steps(path.trim())?;
    let from = start + path.len() + 1 + (value.len() - value.trim_start().len());
    let value = self::value(value.trim(), from)?;
    Ok((steps, Put { value, key_span: start..start + path.len() }))
}

fn steps(path: &str) -> Result<Vec<Step<'_>>, Refusal> {
    let wrong = |part: &str| {
        let message = format!("{} is no path: {} is neither a key nor an entry.", quoted(path), quoted(part));
        refusal("set/path", message, EXAMPLE)
    };
    let mut steps = Vec::new();
    for part in path.split('.') {
        let part = part.trim();
        let (key, entries) = part.find('[').map_or((part, ""), |at| part.split_at(at));
        if key.is_empty() || !key.chars().all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-') {
            return Err(wrong(part));
        }
        steps.push(Step::Key(key));
        let mut rest = entries;
        while !rest.is_empty() {
            let inside = rest.strip_prefix('[').and_then(|rest| rest.split_once(']'));
            let (number, behind) = inside.ok_or_else(|| wrong(part))?;
            let number: usize = number.trim().parse().ok().filter(|n| *n > 0).ok_or_else(|| {
                let message = format!("{} is no entry's number.", quoted(number));
                refusal("set/path", message, "entries are counted from 1, as in walls.station[2]")
            })?;
            steps.push(Step::Entry(number));
            rest = behind;
        }
    }
    Ok(steps)
}

/// A value as the file would hold it. A shell takes quotes away, so what is no number, list or word of TOML
/// is text.
fn value(text: &str, start: usize) -> Result<Value<'_>, Refusal> {
    match DeValue::parse(text) {
        Ok(value) => Ok(moved(value, start)),
        Err(fault) if text.starts_with(['[', '{', '"', '\'']) => {
            let why = fault.message().lines().next().unwrap_or("").trim_end_matches('.').to_owned();
            let message = format!("The value {} cannot be read: {why}.", quoted(text));
            Err(refusal(
                "set/value",
                message,
                "write a list as [\"1.1 in\", \"solid\"], closed and with commas",
            ))
        }
        Err(_) => Ok(Spanned::new(start..start + text.len(), DeValue::String(Cow::Borrowed(text)))),
    }
}

/// The value with every place counted from `start`.
fn moved(value: Value<'_>, start: usize) -> Value<'_> {
    let shift = |span: Range<usize>| span.start + start..span.end + start;
    let span = shift(value.span());
    let inner = match value.into_inner() {
        DeValue::Array(mut list) => {
            for entry in list.iter_mut() {
                let taken = std::mem::replace(entry, Spanned::new(0..0, DeValue::Boolean(false)));
                *entry = moved(taken, start);
            }
            DeValue::Array(list)
        }
        DeValue::Table(table) => {
            let entry = |(key, value): (Spanned<_>, _)| {
                (Spanned::new(shift(key.span()), key.into_inner()), moved(value, start))
            };
            DeValue::Table(table.into_iter().map(entry).collect())
        }
        other => other,
    };
    Spanned::new(span, inner)
}

/// Follows a path that begins with a key; returns the text of the value that stood at its end.
fn into_table<'t>(
    table: &mut DeTable<'t>,
    steps: &[Step<'t>],
    put: Put<'t>,
    walked: &str,
) -> Result<Option<String>, Refusal> {
    let [Step::Key(key), rest @ ..] = steps else {
        return Err(refusal("set/path", format!("{walked} is a table and has no entries."), EXAMPLE));
    };
    let path = if walked.is_empty() { (*key).to_owned() } else { format!("{walked}.{key}") };
    let new_key = || Spanned::new(put.key_span.clone(), Cow::Borrowed(*key));
    if !table.contains_key(*key) {
        if let Some(Step::Entry(number)) = rest.first() {
            let known: Vec<&str> = table.keys().map(|key| key.get_ref().as_ref()).collect();
            let help = match closest(key, &known) {
                Some(meant) => format!("did you mean \"{meant}\"? Stated are: {}", known.join(", ")),
                None => format!("stated are: {}", known.join(", ")),
            };
            let message = format!("{path} does not stand in the file, so it has no entry {number}.");
            return Err(refusal("set/no-entry", message, help));
        }
        if rest.is_empty() {
            table.insert(new_key(), put.value);
            return Ok(None);
        }
        let empty = DeValue::Table(DeTable::new());
        table.insert(new_key(), Spanned::new(put.key_span.clone(), empty));
    }
    match table.get_mut(*key) {
        Some(value) => into_value(value, rest, put, &path),
        None => Ok(None),
    }
}

fn into_value<'t>(
    value: &mut Value<'t>,
    steps: &[Step<'t>],
    put: Put<'t>,
    path: &str,
) -> Result<Option<String>, Refusal> {
    let Some(step) = steps.first() else {
        let before = shown(value.get_ref());
        *value = put.value;
        return Ok(Some(before));
    };
    match (value.get_mut(), step) {
        (DeValue::Table(table), Step::Key(_)) => into_table(table, steps, put, path),
        (DeValue::Array(list), Step::Entry(number)) => {
            let count = list.len();
            match list.get_mut(number - 1) {
                Some(entry) => into_value(entry, &steps[1..], put, &format!("{path}[{number}]")),
                None => {
                    let message = format!("{path} has {count} entries and no entry {number}.");
                    Err(refusal("set/no-entry", message, format!("allowed are {path}[1] to {path}[{count}]")))
                }
            }
        }
        (DeValue::Array(list), Step::Key(key)) => {
            let message = format!("{path} is a list of {}: it is not said which entry is meant.", list.len());
            let help = format!("name one, from {path}[1].{key} to {path}[{}].{key}", list.len());
            Err(refusal("set/no-entry", message, help))
        }
        // A single value is a list of one, as everywhere in the file.
        (_, Step::Entry(1)) => into_value(value, &steps[1..], put, path),
        (_, Step::Entry(number)) => {
            let message = format!("{path} is a single value and has no entry {number}.");
            Err(refusal("set/no-entry", message, format!("set {path} itself")))
        }
        (_, Step::Key(key)) => {
            let message =
                format!("{path} is a single value and has nothing called {} below it.", quoted(key));
            Err(refusal("set/no-entry", message, format!("set {path} itself")))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostics::Diagnostics;
    use crate::document::{Codes, Rules};

    static RULES: Rules = Rules {
        file: "a test",
        codes: Codes {
            syntax: "t/syntax",
            unknown_key: "t/unknown-key",
            wrong_type: "t/wrong-type",
            needed: "t/needed",
            out_of_range: "t/out-of-range",
            not_a_count: "t/not-a-count",
            choice_unknown: "t/choice-unknown",
            list_length: "t/list-length",
        },
        is_blank: str::is_empty,
        blank: "blank",
        no_stand_in: "",
        longest_list: (10, ""),
        not_offered: &[],
        syntax_help: "",
    };

    const TEXT: &str = "[cut]\ndepth = \"0.67 in\"\n[[station]]\nwall = [\"1 in\", \"solid\"]\n[[station]]\n";

    /// Changes, the tree as text of its leaves, and the codes of all faults.
    fn set(arguments: &[&str]) -> (Vec<Change>, Vec<(String, String)>, Vec<&'static str>) {
        let arguments: Vec<String> = arguments.iter().map(|text| (*text).to_owned()).collect();
        let mut diagnostics = Diagnostics::new();
        let source = diagnostics.add_source("t.toml", TEXT);
        let mut document = Document::new(diagnostics, source, &RULES);
        let mut tree = DeTable::parse(TEXT).unwrap().into_inner();
        document.places.add(source, TEXT.len());
        let changes = set_values(&mut document, &mut tree, &arguments, "--set");
        let codes = document.diagnostics.sorted().iter().map(|item| item.code).collect();
        (changes, super::super::leaves(&tree).into_iter().collect(), codes)
    }

    #[test]
    fn values_are_put_where_their_paths_lead() {
        let arguments =
            ["cut.depth=0.62 in", "station[1].wall[2]=\"1.1 in\"", "cut.tool = 3", "new.a=[1, 2]"];
        let (changes, leaves, codes) = set(&arguments);
        assert!(codes.is_empty(), "{codes:?}");
        assert_eq!(changes[0].before.as_deref(), Some("0.67 in"));
        assert_eq!(changes[2].before, None);
        let leaf = |path: &str| leaves.iter().find(|(p, _)| p == path).map(|(_, value)| value.as_str());
        assert_eq!(leaf("cut.depth"), Some("0.62 in"));
        assert_eq!(leaf("station[1].wall[2]"), Some("1.1 in"));
        assert_eq!(leaf("cut.tool"), Some("3"));
        assert_eq!(leaf("new.a[2]"), Some("2"));
    }

    #[test]
    fn what_leads_nowhere_is_refused_and_nothing_else_changed() {
        for (argument, code) in [
            ("cut.depth", "set/no-value"),
            ("cut.depth= ", "set/no-value"),
            ("cut..depth=1 in", "set/path"),
            ("station[0].wall=1 in", "set/path"),
            ("station[x].wall=1 in", "set/path"),
            ("station[3].wall=1 in", "set/no-entry"),
            ("station.wall=1 in", "set/no-entry"),
            ("stations[1].wall=1 in", "set/no-entry"),
            ("cut.depth.x=1 in", "set/no-entry"),
            ("station[1].wall=[\"1 in\"", "set/value"),
        ] {
            let (changes, leaves, codes) = set(&[argument]);
            assert_eq!(codes, [code], "{argument}");
            assert!(changes.is_empty() && leaves.len() == 3, "{argument}: {leaves:?}");
        }
        assert_eq!(set(&["cut.depth=1 in", "cut.depth=2 in"]).2, ["set/twice"]);
    }
}
