//! Tables to write in, one for each part of a step.

use super::remark::on_paper;
use super::steps::{Answer, Asked, Part};
use super::{SheetAsked, SheetUnits};
use crate::report::paper::{Block, Form};
use crate::survey::remarks;

/// Room for a tick.
pub(super) const BOX: &str = "☐";
/// Stations beside one another in one table: more leave no room to write.
const ACROSS: usize = 8;

/// Stands on the blank survey as a remark, for most sheaves have no such groove.
pub(super) const WORN: &str = "grooves.worn";

/// Head of a column: its words, whether what stands in it is put to the right, its share of the width.
type Head<'a> = (&'a str, bool, f64);

pub(super) fn blocks(part: &Part, asked: &SheetAsked) -> Vec<Block> {
    match part {
        Part::Fields(fields) => vec![lines(fields, asked.units)],
        Part::Shapes(fields) => {
            let heads = ["as found", "to be cut: from the drawing or the cutting tool"];
            vec![twice(fields, asked.units, ["grooves.now", "grooves.cut_to"], heads)]
        }
        Part::Webs(fields) => {
            vec![twice(fields, asked.units, ["wheel.web[1]", "wheel.web[2]"], ["first web", "second web"])]
        }
        Part::Grooves(fields) => by_number("groove", fields, asked.ropes, asked.units),
        Part::Ropes(fields) => by_number("rope", fields, asked.ropes, asked.units),
        Part::Rows(fields, rows) => by_number("reading", fields, *rows, asked.units),
        Part::Stations { angle, wall, files } => stations(angle, wall, files, asked),
    }
}

fn form(heads: &[Head<'_>], rows: Vec<Vec<String>>) -> Block {
    Block::Form(Form {
        heads: heads.iter().map(|(head, right, _)| ((*head).to_owned(), *right)).collect(),
        shares: heads.iter().map(|(.., share)| *share).collect(),
        rows,
    })
}

/// What the blank survey says of a field; a path inside a table that may be repeated has no number there.
fn remark(path: &str) -> String {
    if path == WORN {
        return "A groove whose shape is not that of the next step: number, field and value, for [[grooves.worn]].".into();
    }
    let plain = path.replace("[1]", "").replace("[2]", "");
    remarks().into_iter().find(|(own, _)| *own == plain).map_or(String::new(), |(_, text)| on_paper(text))
}

/// What is printed where the answer is written.
fn room(answer: Answer, units: SheetUnits) -> String {
    match answer {
        Answer::Choice(words) => {
            words.iter().map(|word| format!("{BOX} {word}")).collect::<Vec<_>>().join("   ")
        }
        answer => units.of(answer).to_owned(),
    }
}

/// A line for each field.
fn lines(fields: &[Asked], units: SheetUnits) -> Block {
    let heads = [
        ("", false, 0.04),
        ("what, from where, with what", false, 0.365),
        ("write here", true, 0.245),
        ("not measured", false, 0.085),
        // The longest field stands on one line.
        ("field of the survey", false, 0.265),
    ];
    let row = |field: &Asked| {
        vec![
            field.mark.to_owned(),
            remark(field.path),
            room(field.answer, units),
            BOX.to_owned(),
            field.path.to_owned(),
        ]
    };
    form(&heads, fields.iter().map(row).collect())
}

/// A line for each field of two tables of the survey, with room for both.
fn twice(fields: &[Asked], units: SheetUnits, tables: [&str; 2], names: [&str; 2]) -> Block {
    let heads = [
        ("", false, 0.035),
        ("what, from where, with what", false, 0.265),
        (names[0], true, 0.15),
        ("not meas.", false, 0.065),
        (names[1], true, 0.15),
        ("not meas.", false, 0.065),
        ("fields of the survey", false, 0.27),
    ];
    let row = |field: &Asked| {
        let key = field.path.rsplit('.').next().unwrap_or(field.path);
        let [first, second] = tables.map(|table| format!("{table}.{key}"));
        vec![
            field.mark.to_owned(),
            remark(&first),
            room(field.answer, units),
            BOX.to_owned(),
            room(field.answer, units),
            BOX.to_owned(),
            format!("{first} {second}"),
        ]
    };
    form(&heads, fields.iter().map(row).collect())
}

/// Rows that are counted, with a column and a box for each field; what the fields mean stands below.
fn by_number(what: &str, fields: &[Asked], rows: usize, units: SheetUnits) -> Vec<Block> {
    let titles: Vec<String> = fields.iter().map(|field| title(field, units)).collect();
    let mut heads: Vec<Head<'_>> = vec![(what, false, 0.08)];
    for (field, title) in fields.iter().zip(&titles) {
        heads.push((
            title,
            field.answer != Answer::Text,
            if field.answer == Answer::Text { 0.36 } else { 0.2 },
        ));
        if field.answer != Answer::Text {
            heads.push(("not meas.", false, 0.08));
        }
    }
    let row = |number: usize| {
        let mut cells = vec![number.to_string()];
        for field in fields {
            let yes = field.answer == Answer::Numbers;
            cells.push(if yes { format!("{BOX} yes   {BOX} no") } else { room(field.answer, units) });
            if field.answer != Answer::Text {
                cells.push(BOX.to_owned());
            }
        }
        cells
    };
    let mut blocks = vec![form(&heads, (1..=rows).map(row).collect())];
    blocks.extend(fields.iter().map(|field| meaning(field, &remark(field.path))));
    blocks
}

/// "A  seat_depth (mm)".
fn title(field: &Asked, units: SheetUnits) -> String {
    if field.path == WORN {
        return "differs from the next step in".into();
    }
    let key = field.path.rsplit('.').next().unwrap_or(field.path).replace('_', " ");
    let unit = units.of(field.answer);
    let words = if unit.is_empty() { key } else { format!("{key} ({unit})") };
    if field.mark.is_empty() { words } else { format!("{}  {words}", field.mark) }
}

fn meaning(field: &Asked, remark: &str) -> Block {
    Block::note(format!("{}: {remark}", field.path))
}

/// A row for each groove and a column for each station, in as many tables as the stations need.
fn stations(angle: &Asked, wall: &Asked, files: &[Asked], asked: &SheetAsked) -> Vec<Block> {
    let mut blocks = Vec::new();
    let numbers: Vec<usize> = (1..=asked.stations).collect();
    for across in numbers.chunks(ACROSS) {
        let names: Vec<String> = across.iter().map(|number| format!("station {number}")).collect();
        let mut heads: Vec<Head<'_>> = vec![("", false, 0.22)];
        heads.extend(names.iter().map(|name| (name.as_str(), true, 0.78 / across.len() as f64)));
        let row = |first: String, unit: &str| {
            let mut cells = vec![first];
            cells.extend(across.iter().map(|_| unit.to_owned()));
            cells
        };
        let unit = |field: &Asked| asked.units.of(field.answer);
        let mut rows = vec![row(format!("{}  angle", angle.mark), unit(angle))];
        rows.extend((1..=asked.ropes).map(|groove| row(format!("wall under groove {groove}"), unit(wall))));
        rows.extend(files.iter().map(|file| {
            let key = file.path.rsplit('.').next().unwrap_or(file.path).replace('_', " ");
            row(format!("file of the {key}"), "")
        }));
        blocks.push(form(&heads, rows));
    }
    blocks.push(Block::note(
        "Write \"solid\" over a web and \"n. m.\" where nothing was measured. Three stations at least, evenly spread; six are better: a core that moved when the wheel was cast makes one side thin.",
    ));
    for field in [angle, wall].into_iter().chain(files) {
        blocks.push(meaning(field, &remark(field.path)));
    }
    blocks
}
