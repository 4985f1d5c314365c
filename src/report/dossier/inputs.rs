//! The survey's own values, each with its mark: as stated, assumed, or not measured.

use super::Dossier;
use crate::report::paper::{Block, isolated, short};
use crate::survey::{NoteKind, SurveyNote, is_not_measured};
use std::collections::BTreeMap;

const MEASURED: &str = "as stated";
const ASSUMED: &str = "assumed";
const OPEN: &str = "not measured";
/// Longest value that is shown (characters).
const LONGEST: usize = 160;

/// A field with its value or, for a list, its values in order.
struct Echo {
    field: String,
    values: Vec<String>,
    mark: String,
}

impl Dossier<'_> {
    pub(super) fn inputs(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "Inputs", "inputs"));
        body.push(Block::note(
            "Every value of the survey as it is written, lists on one line. As stated: measured or known by whoever filled it in. Assumed: not measured, and the value that stands in is said. Not measured: nothing stands in, and what needs it is left open or not judged.",
        ));
        let row = |echo: Echo| vec![echo.field, short(&echo.values.join(", "), LONGEST), echo.mark];
        let heads = [("field of the survey", false), ("value", false), ("mark", false)];
        body.push(Block::table(&heads, self.echoed().into_values().flatten().map(row).collect()));
    }

    /// Fields by table of the survey, in the order of their paths.
    fn echoed(&self) -> BTreeMap<String, Vec<Echo>> {
        let mut tables: BTreeMap<String, Vec<Echo>> = BTreeMap::new();
        let mut add = |path: &str, value: String, note: Option<&SurveyNote>, measured: bool| {
            let (table, field) = path.split_once('.').unwrap_or(("survey", path));
            let own_field = short(list_of(field), 70);
            let field =
                if path.contains('.') { format!("{}.{own_field}", short(table, 40)) } else { own_field };
            let own = tables.entry(short(table, 40)).or_default();
            let mark = mark(note, measured);
            match own.last_mut().filter(|last| last.field == field && last.mark == mark) {
                Some(last) => last.values.push(value),
                None => own.push(Echo { field, values: vec![value], mark }),
            }
        };
        let note = |path: &str| self.survey.notes.iter().find(|note| note.field == path);
        let set = |path: &str| self.input.set.iter().find(|change| change.path == path);
        let mut written: Vec<(&String, &String)> = self.values.iter().collect();
        written.sort_by_key(|(path, _)| in_order(path));
        for (path, written) in written {
            let changed = set(path).and_then(|change| change.after.as_deref());
            let value = changed.unwrap_or(written.as_str());
            let told = if changed.is_some() { " (set for this run)" } else { "" };
            add(path, format!("{}{told}", isolated(value)), note(path), !is_not_measured(value));
        }
        for note in &self.survey.notes {
            if !self.values.contains_key(&note.field) && note.kind != NoteKind::Unusual {
                add(&note.field, "–".to_owned(), Some(note), false);
            }
        }
        for change in self.input.set.iter().filter(|change| !self.values.contains_key(&change.path)) {
            let value = change.after.as_deref().unwrap_or_default();
            let shown = format!("{} (set for this run)", isolated(value));
            add(&change.path, shown, None, !is_not_measured(value));
        }
        tables
    }
}

/// A field without the place in its list: `wall[3]` is one of `wall`.
fn list_of(field: &str) -> &str {
    match field.rsplit_once('[') {
        Some((list, place)) if place.ends_with(']') => list,
        _ => field,
    }
}

/// A key that puts the tenth value of a list behind the ninth.
fn in_order(path: &str) -> Vec<(usize, &str)> {
    let one = |part| match str::split_once(part, ']') {
        Some((place, rest)) => (place.parse().unwrap_or(0), rest),
        None => (0, part),
    };
    path.split('[').map(one).collect()
}

fn mark(note: Option<&SurveyNote>, measured: bool) -> String {
    let says = note.map_or("", |note| note.text.as_str());
    let word = match (note.map(|note| note.kind), measured) {
        (Some(NoteKind::Assumed), _) => ASSUMED,
        (_, true) => MEASURED,
        _ => OPEN,
    };
    if says.is_empty() { word.to_owned() } else { format!("{word}: {says}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_tell_what_is_known_and_what_stands_in() {
        let note = |kind| SurveyNote { field: "a.b".into(), text: "Five is taken.".into(), kind };
        assert_eq!(mark(None, true), "as stated");
        assert_eq!(mark(None, false), "not measured");
        assert_eq!(mark(Some(&note(NoteKind::Assumed)), false), "assumed: Five is taken.");
        assert_eq!(mark(Some(&note(NoteKind::Missing)), false), "not measured: Five is taken.");
        assert_eq!(mark(Some(&note(NoteKind::Unusual)), true), "as stated: Five is taken.");
        assert_eq!((list_of("station[2].wall[1]"), list_of("seat")), ("station[2].wall", "seat"));
    }

    #[test]
    fn lists_of_more_than_nine_values_stay_in_order() {
        let mut paths =
            ["a.wall[10]", "a.wall[2]", "a.wall[1]", "a.wall[9]", "a.web[2].x", "a.web[11].a", "a.by"];
        paths.sort_by_key(|path| in_order(path));
        assert_eq!(
            paths,
            ["a.by", "a.wall[1]", "a.wall[2]", "a.wall[9]", "a.wall[10]", "a.web[2].x", "a.web[11].a"]
        );
    }
}
