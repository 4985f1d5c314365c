//! The survey's own values, each with its mark: as measured, assumed, or not measured.

use super::Dossier;
use crate::report::paper::{Block, short};
use crate::survey::{NoteKind, SurveyNote, is_not_measured};
use std::collections::BTreeMap;

const MEASURED: &str = "as stated";
const ASSUMED: &str = "assumed";
const OPEN: &str = "not measured";

impl Dossier<'_> {
    pub(super) fn inputs(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "Inputs", "inputs"));
        body.push(Block::note(
            "Every value of the survey as it is written. \"As stated\": measured or known by whoever filled it in. \"Assumed\": not measured, and the value that stands in is said. \"Not measured\": nothing stands in, and what needs it is left open or not judged.",
        ));
        for (title, rows) in self.echoed() {
            body.push(Block::heading(4, title, ""));
            body.push(Block::table(
                &[("field", false), ("value", false), ("mark", false), ("what stands in", false)],
                rows,
            ));
        }
    }

    /// Rows by table of the survey, in the order of their paths.
    fn echoed(&self) -> BTreeMap<String, Vec<Vec<String>>> {
        let mut tables: BTreeMap<String, Vec<Vec<String>>> = BTreeMap::new();
        let mut add = |path: &str, value: String, note: Option<&SurveyNote>, measured: bool| {
            let (table, field) = path.split_once('.').unwrap_or(("survey", path));
            let mark = match (note.map(|note| note.kind), measured) {
                (Some(NoteKind::Assumed), _) => ASSUMED,
                (_, true) => MEASURED,
                _ => OPEN,
            };
            let says = note.map_or(String::new(), |note| note.text.clone());
            tables.entry(short(table, 40)).or_default().push(vec![
                short(field, 60),
                value,
                mark.to_owned(),
                says,
            ]);
        };
        let note = |path: &str| self.survey.notes.iter().find(|note| note.field == path);
        let set = |path: &str| self.input.set.iter().find(|change| change.path == path);
        for (path, written) in self.values {
            let changed = set(path).and_then(|change| change.after.as_deref());
            let value = changed.unwrap_or(written.as_str());
            let shown = if changed.is_some() {
                format!("{} (set for this run)", short(value, 90))
            } else {
                short(value, 90)
            };
            add(path, shown, note(path), !is_not_measured(value));
        }
        for note in &self.survey.notes {
            if !self.values.contains_key(&note.field) && note.kind != NoteKind::Unusual {
                add(&note.field, "–".to_owned(), Some(note), false);
            }
        }
        for change in self.input.set.iter().filter(|change| !self.values.contains_key(&change.path)) {
            let value = change.after.as_deref().unwrap_or_default();
            add(
                &change.path,
                format!("{} (set for this run)", short(value, 90)),
                None,
                !is_not_measured(value),
            );
        }
        tables
    }
}
