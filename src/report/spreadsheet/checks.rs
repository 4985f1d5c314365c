//! Verdict, checks, what the cut changes, and what the answer says in sentences.

use super::file::{Cell, Table};
use crate::report::Input;
use crate::study::CheckResult;
use crate::survey::{NoteKind, Survey};
use crate::units::Kind;
use crate::verdict::{Amount, Sense, Standing, Status};

/// Name of a check's or row's state.
fn status(status: Status) -> Cell {
    Cell::text(match status {
        Status::Holds => "holds",
        Status::Fails => "fails",
        Status::Open => "open",
        Status::Noted => "noted",
    })
}

fn standing(standing: Standing) -> Cell {
    Cell::text(match standing {
        Standing::Strength => "strength",
        Standing::Code => "published code",
        Standing::Geometry => "geometry",
        Standing::Practice => "practice",
        Standing::Yardstick => "yardstick",
    })
}

fn sense(sense: Sense) -> Cell {
    Cell::text(match sense {
        Sense::AtMost => "at most",
        Sense::AtLeast => "at least",
    })
}

fn value(amount: Option<Amount>) -> Cell {
    amount.map(|amount| amount.value).into()
}

/// Unit of the first amount that there is; a plain number has none.
fn unit(amounts: [Option<Amount>; 3]) -> Cell {
    let kind = amounts.into_iter().flatten().next().and_then(|amount| amount.kind);
    Cell::text(match kind {
        None => "",
        // Shares are kept as plain numbers inside.
        Some(Kind::Ratio) => "1",
        Some(kind) => kind.inside(),
    })
}

pub(super) fn verdict(survey: &Survey, result: &CheckResult, input: &Input) -> Table {
    let mut table = Table::new("verdict", &["what", "text"]);
    let mut row = |what: &str, text: &str| table.row([Cell::text(what), Cell::text(text)]);
    row("verdict", result.verdict.word.text());
    row("reason", &result.verdict.reason);
    result.verdict.heads.iter().for_each(|head| row("to be read first", head));
    result.verdict.settle.iter().for_each(|text| row("to settle it", text));
    row("job", &survey.job.name);
    row("sheave", &survey.job.sheave);
    let job = &survey.job;
    let who = [
        ("measured at", &job.location),
        ("measured by", &job.surveyor),
        ("measured on", &job.date),
        ("measured with", &job.instruments),
    ];
    for (what, text) in who {
        row(what, text.as_deref().unwrap_or("not stated"));
    }
    row("survey file", &input.file);
    row("sha256 of the survey", &input.sha256);
    row("program", concat!("rimproof ", env!("CARGO_PKG_VERSION")));
    for change in &input.set {
        let before = change.before.as_deref().unwrap_or("does not stand");
        let after = change.after.as_deref().unwrap_or("");
        row("value set for this run", &format!("{} = {after} (in the file: {before})", change.path));
    }
    table
}

pub(super) fn checks(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "checks",
        &[
            "key",
            "check",
            "status",
            "standing",
            "decides",
            "found (unit in its column)",
            "sense",
            "limit (unit in its column)",
            "unit",
            "margin (share of the limit)",
            "basis",
            "source",
            "remark",
            "what would settle it",
        ],
    );
    for check in &result.checks {
        table.row([
            Cell::text(check.key),
            Cell::text(&check.name),
            status(check.status),
            standing(check.standing),
            Cell::yes(result.verdict.deciding.contains(&check.key)),
            value(check.found),
            check.limit.map_or(Cell::Empty, |_| sense(check.sense)),
            value(check.limit),
            unit([check.found, check.limit, None]),
            check.margin().into(),
            Cell::text(&check.basis),
            Cell::text(&check.source),
            Cell::maybe(check.remark.as_ref()),
            Cell::maybe(check.settle.as_ref()),
        ]);
    }
    table
}

pub(super) fn consequences(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "cut_changes",
        &[
            "key",
            "quantity",
            "now (unit in its column)",
            "after the cut (unit in its column)",
            "sense",
            "limit (unit in its column)",
            "unit",
            "standing",
            "status now",
            "status after the cut",
        ],
    );
    for row in &result.consequences.rows {
        table.row([
            Cell::text(row.key),
            Cell::text(&row.name),
            value(row.now),
            value(row.after),
            row.limit.map_or(Cell::Empty, |_| sense(row.sense)),
            value(row.limit),
            unit([row.now, row.after, row.limit]),
            standing(row.standing),
            row.now_status.map_or(Cell::Empty, status),
            row.after_status.map_or(Cell::Empty, status),
        ]);
    }
    table
}

pub(super) fn statements(survey: &Survey, result: &CheckResult) -> Table {
    let mut table = Table::new("statements", &["kind", "field", "sentence"]);
    for note in &survey.notes {
        let kind = match note.kind {
            NoteKind::Assumed => "assumed",
            NoteKind::Missing => "not measured",
            NoteKind::Unusual => "unusual",
        };
        table.row([Cell::text(kind), Cell::text(&note.field), Cell::text(&note.text)]);
    }
    let stated = |sentence: &&String| !survey.notes.iter().any(|note| note.text == **sentence);
    let lists =
        [("assumed", &result.assumptions), ("not judged", &result.missing), ("caution", &result.cautions)];
    for (kind, list) in lists {
        for sentence in list.iter().filter(stated) {
            table.row([Cell::text(kind), Cell::Empty, Cell::text(sentence)]);
        }
    }
    table
}
