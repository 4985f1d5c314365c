//! Tables: columns as wide as their words ask, rows that no page break divides, heads that come again.

use super::blocks::{INK, RULE, SMALL, TINT};
use super::faces::{Faces, Line, Style};
use super::piece::{Mark, Piece};
use super::tags::{Tag, Tags};
use crate::report::paper::block::{Form, Table, TableKind};
use std::rc::Rc;

/// White space beside and above the words of a cell.
const ASIDE: f32 = 3.4;
const ABOVE: f32 = 2.3;
/// A row of a form has room for handwriting.
const FORM_ROW: f32 = 21.0;
/// A head longer than this is broken even where there is room.
const WIDEST_HEAD: f32 = 78.0;
const FORM_WORDS: f32 = 7.2;
/// A box to tick is never put to the right end of a cell.
const TICK: char = '☐';
/// Sizes that are tried, the widest table last.
const SIZES: [f32; 4] = [7.9, 7.3, 6.7, 6.1];

struct Layout {
    widths: Vec<f32>,
    style: Style,
    head: Style,
    kind: TableKind,
}

/// A table as a row of pieces.
pub(super) fn pieces(faces: &Faces, tags: (&Tags, Tag), table: &Table, room: f32) -> Vec<Piece> {
    laid(faces, tags, table, &Layout::of(faces, table, room))
}

/// A table to write in: its columns have the widths that were asked for.
pub(super) fn form(faces: &Faces, tags: (&Tags, Tag), form: &Form, room: f32) -> Vec<Piece> {
    let sum: f64 = form.shares.iter().sum();
    let widths = form.shares.iter().map(|share| room * (share / sum) as f32).collect();
    let style = Style { size: FORM_WORDS, leading: 1.22 * FORM_WORDS, ..SMALL };
    let layout = Layout { widths, style, head: Style { bold: true, ..style }, kind: TableKind::Form };
    laid(faces, tags, &form.table(), &layout)
}

fn laid(faces: &Faces, (tags, parent): (&Tags, Tag), table: &Table, layout: &Layout) -> Vec<Piece> {
    let heads: Vec<String> = table.heads.iter().map(|(head, _)| head.clone()).collect();
    let (thead, tbody) = tags.table(parent);
    let cells = tags.row(thead, heads.len(), true);
    let head = layout.row(faces, table, (&heads, &cells), layout.head, true);
    let shared = Rc::new(head.again());
    let mut pieces = vec![Piece { before: 7.0, keeps: true, ..head }];
    for (index, row) in table.rows.iter().enumerate() {
        let style = if Table::is_loud(row) { layout.head } else { layout.style };
        let cells = tags.row(tbody, heads.len(), false);
        let piece = layout.row(faces, table, (row, &cells), style, false);
        // A short table stays on one page, and no page ends or begins with a single row of a long one.
        let count = table.rows.len();
        let first = if layout.kind == TableKind::Form { 2 } else { 1 };
        let keeps = index + 1 < count
            && (index < first || count <= 6 || index + 2 == count || (index + 1) % table.by.max(1) != 0);
        pieces.push(Piece { head: Some(shared.clone()), keeps, ..piece });
    }
    pieces
}

impl Layout {
    /// The largest size at which every word fits its column.
    fn of(faces: &Faces, table: &Table, room: f32) -> Self {
        let at = |size: f32| {
            let style = Style { size, leading: 1.28 * size, ..SMALL };
            let head = Style { bold: true, ..style };
            let columns = table.heads.len();
            let cells = |column: usize| table.rows.iter().filter_map(move |row| row.get(column));
            let widest = |column: usize, measure: &dyn Fn(&str, Style) -> f32| {
                let own = |cell: &String| measure(cell, style);
                let inside = cells(column).map(own).fold(0.0, f32::max);
                let loud = table.rows.iter().filter(|row| Table::is_loud(row));
                let loud = loud
                    .filter_map(|row| row.get(column))
                    .map(|cell| measure(cell, head))
                    .fold(0.0, f32::max);
                inside.max(loud) + 2.0 * ASIDE
            };
            let whole = |text: &str, style: Style| faces.width(text, style);
            let word = |text: &str, style: Style| faces.widest_word(text, style);
            let head_word = |column: usize| faces.widest_word(&table.heads[column].0, head) + 2.0 * ASIDE;
            let head_whole =
                |column: usize| (faces.width(&table.heads[column].0, head) + 2.0 * ASIDE).min(WIDEST_HEAD);
            let natural: Vec<f32> =
                (0..columns).map(|c| widest(c, &whole).max(head_word(c)).max(head_whole(c))).collect();
            // Numbers are not divided from their units.
            let least: Vec<f32> = (0..columns)
                .map(|c| widest(c, if table.is_number(c) { &whole } else { &word }).max(head_word(c)))
                .collect();
            // A head on two lines takes about half its width.
            let two_lines = |c: usize| head_word(c).max(0.5 * head_whole(c) + ASIDE + 4.0);
            let fair: Vec<f32> = (0..columns).map(|c| widest(c, &whole).max(two_lines(c))).collect();
            (style, head, natural, [fair, least])
        };
        let fits = |widths: &[f32]| widths.iter().sum::<f32>() <= room;
        // A little smaller is better than broken words; much smaller is not.
        let whole = SIZES[..3].iter().find(|size| fits(&at(**size).2));
        let broken = SIZES.iter().find(|size| fits(&at(**size).3[1]));
        let size = *whole.or(broken).unwrap_or(&SIZES[SIZES.len() - 1]);
        let (style, head, natural, [fair, least]) = at(size);
        let lines = |widths: &[f32]| -> usize {
            let broken =
                |(cell, width): (&String, &f32)| faces.broken(cell, style, width - 2.0 * ASIDE + 0.1).len();
            table.rows.iter().map(|row| row.iter().zip(widths).map(broken).max().unwrap_or(1)).sum()
        };
        let widths = match table.kind {
            TableKind::Form => stretched(&natural, room),
            _ if fits(&natural) => natural,
            _ => {
                let (wanted, least) = if fits(&fair) { (&natural, &fair) } else { (&fair, &least) };
                let ways = [in_proportion(wanted, least, room), evenly(wanted, least, room)];
                ways.into_iter().min_by_key(|widths| lines(widths)).unwrap_or_default()
            }
        };
        Self { widths, style, head, kind: table.kind }
    }

    fn row(
        &self,
        faces: &Faces,
        table: &Table,
        (cells, tags): (&[String], &[Tag]),
        style: Style,
        is_head: bool,
    ) -> Piece {
        let mut marks = Vec::new();
        let mut lines_of = Vec::new();
        let mut most = 1;
        for (column, width) in self.widths.iter().enumerate() {
            let text = cells.get(column).map_or("", String::as_str);
            let space = width - 2.0 * ASIDE + 0.1;
            let lines = match text.starts_with(TICK) {
                true => ticked(faces, text, style, space),
                false => faces.broken(text, style, space),
            };
            most = most.max(lines.len());
            lines_of.push(lines);
        }
        let words = most as f32 * style.leading;
        let form = self.kind == TableKind::Form;
        let height = (words + 2.0 * ABOVE).max(if form && !is_head { FORM_ROW } else { 0.0 });
        let total: f32 = self.widths.iter().sum();
        if Table::is_loud(cells) {
            marks.push(Mark::Fill { at: (0.0, 0.0), size: (total, height), colour: TINT });
        }
        let mut left = 0.0;
        for (column, lines) in lines_of.into_iter().enumerate() {
            let width = self.widths[column];
            // Heads stand on the rule below them.
            let drop = if is_head { words - lines.len() as f32 * style.leading } else { 0.0 };
            let ticks = cells.get(column).is_some_and(|text| text.starts_with(TICK));
            for (index, line) in lines.into_iter().enumerate() {
                let x = match (self.kind, table.is_number(column)) {
                    (TableKind::Matrix, _) if column > 0 => left + 0.5 * (width - line.width),
                    (_, true) if !ticks => left + width - ASIDE - line.width,
                    _ => left + ASIDE,
                };
                let y = ABOVE + drop + index as f32 * style.leading + 0.78 * style.leading;
                marks.push(Mark::Text { at: (x, y), line, tag: tags.get(column).copied() });
            }
            left += width;
            if form {
                marks.push(rule((left, 0.0), (left, height), 0.5, INK));
            }
        }
        if form {
            marks.push(rule((0.0, 0.0), (0.0, height), 0.5, INK));
            if is_head {
                marks.push(rule((0.0, 0.0), (total, 0.0), 0.5, INK));
            }
        }
        let (width, colour) = match (is_head, form) {
            (true, _) => (0.9, INK),
            (_, true) => (0.5, INK),
            _ => (0.5, RULE),
        };
        marks.push(rule((0.0, height), (total, height), width, colour));
        Piece { height, marks, ..Piece::default() }
    }
}

/// Boxes to tick with their words: a line ends between two of them, and a box stays with its words.
fn ticked(faces: &Faces, text: &str, style: Style, room: f32) -> Vec<Line> {
    let mut lines: Vec<String> = Vec::new();
    for choice in text.split(TICK).map(str::trim).skip(1) {
        let choice = format!("{TICK} {choice}");
        match lines.last_mut() {
            Some(line) if faces.width(&format!("{line}    {choice}"), style) <= room => {
                *line = format!("{line}    {choice}");
            }
            _ => lines.push(choice),
        }
    }
    lines.iter().map(|line| faces.line(line, style)).collect()
}

fn rule(from: (f32, f32), to: (f32, f32), width: f32, colour: [u8; 3]) -> Mark {
    Mark::Rule { from, to, width, colour }
}

/// Columns at their least widths with what is left of the room, every one in proportion to what it lacks.
fn in_proportion(wanted: &[f32], least: &[f32], room: f32) -> Vec<f32> {
    let (most, needed): (f32, f32) = (wanted.iter().sum(), least.iter().sum());
    if needed >= room {
        return least.iter().map(|width| width * room / needed).collect();
    }
    let share = ((room - needed) / (most - needed).max(f32::EPSILON)).min(1.0);
    wanted.iter().zip(least).map(|(w, l)| l + share * (w - l)).collect()
}

/// Columns at their least widths with what is left of the room shared out evenly, none taking more than it wants: short
/// columns are not broken for long ones.
fn evenly(wanted: &[f32], least: &[f32], room: f32) -> Vec<f32> {
    let needed: f32 = least.iter().sum();
    if needed >= room {
        return in_proportion(wanted, least, room);
    }
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    let lacks = |column: &usize| wanted[*column] - least[*column];
    order.sort_by(|a, b| lacks(a).total_cmp(&lacks(b)));
    let (mut widths, mut left) = (least.to_vec(), room - needed);
    for (rank, column) in order.iter().enumerate() {
        let more = lacks(column).min(left / (order.len() - rank) as f32);
        widths[*column] += more;
        left -= more;
    }
    widths
}

/// A form takes the whole room.
fn stretched(natural: &[f32], room: f32) -> Vec<f32> {
    let wanted: f32 = natural.iter().sum();
    natural.iter().map(|width| width * room / wanted).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_fill_no_more_than_the_room() {
        for way in [in_proportion, evenly] {
            assert_eq!(way(&[10.0, 20.0], &[5.0, 5.0], 100.0), [10.0, 20.0]);
            let narrow = way(&[50.0, 150.0], &[40.0, 50.0], 100.0);
            assert!((narrow.iter().sum::<f32>() - 100.0).abs() < 1e-3 && narrow[0] >= 40.0);
            let tight = way(&[50.0, 150.0], &[60.0, 60.0], 100.0);
            assert!((tight.iter().sum::<f32>() - 100.0).abs() < 1e-3);
        }
        assert_eq!(evenly(&[10.0, 30.0, 200.0], &[5.0, 10.0, 20.0], 100.0), [10.0, 30.0, 60.0]);
    }
}
