//! Measured profiles: CSV files that a survey names.
//!
//! Owns their columns, the faults of their rows, and whether two sides enclose one piece of iron.
//! Lacks the opening of files. Units: mm inside; the header of a column names the unit of the file.

use super::files::PROFILE_FILE;
use super::form::Form;
use super::read::Folder;
use crate::diagnostics::{Place, SourceId, quoted};
use crate::document::text_of;
use crate::units::{Kind, find, parse_number};
use std::ops::Range;

/// Fewest points that make a line worth fitting.
const FEWEST: usize = 3;
/// Faults of the same sort shown for one file.
const MOST_FAULTS: usize = 5;

/// A profile with the place of every point.
#[derive(Debug, Clone)]
pub(super) struct Profile {
    pub points: Vec<[f64; 2]>,
    spans: Vec<Range<usize>>,
    source: SourceId,
}

impl Profile {
    fn place(&self, index: usize) -> Option<Place> {
        self.spans.get(index).map(|span| Place { source: self.source, span: span.clone() })
    }
}

/// One cell of a row with its place in the file.
type Cell<'t> = (&'t str, Range<usize>);

/// Reads the columns `axial` and `second` of a CSV file beside the survey.
pub(super) fn read(
    form: &mut Form,
    folder: &Folder<'_>,
    name: &str,
    field: &str,
    second: &str,
) -> Option<Profile> {
    let path = folder.path.join(name);
    let bytes = match folder.files.read(&path) {
        Ok(bytes) => bytes,
        Err(why) => {
            let message = format!("The profile {} cannot be read: {why}.", quoted(name));
            form.error(
                "profile/unreadable",
                field,
                message,
                "the name is looked for in the survey's own folder",
            );
            return None;
        }
    };
    let shown = path.display().to_string();
    let text = text_of(&bytes, &shown, &PROFILE_FILE, &mut form.diagnostics)?;
    let source = form.diagnostics.add_source(shown, text);
    let mut rows = rows(text).into_iter();
    let header = rows.next().unwrap_or_default();
    let axial = column(form, source, &header, "axial");
    let other = column(form, source, &header, second);
    let (axial, other) = (axial?, other?);
    let mut profile = Profile { points: Vec::new(), spans: Vec::new(), source };
    let mut faults = 0;
    for row in rows {
        let start = row.first().map_or(0, |cell| cell.1.start);
        let end = row.last().map_or(start, |cell| cell.1.end.max(start));
        if row.len() != header.len() {
            faults += 1;
            if faults <= MOST_FAULTS {
                let message =
                    format!("This row has {} columns and the header has {}.", row.len(), header.len());
                form.diagnostics.error(
                    "profile/row-length",
                    message,
                    "write one number for each column, with a decimal point and no decimal comma",
                    Some(Place { source, span: start..end }),
                );
            }
            continue;
        }
        let x = number(form, source, &row, axial, start..end, &mut faults);
        let y = number(form, source, &row, other, start..end, &mut faults);
        if let (Some(x), Some(y)) = (x, y) {
            profile.points.push([x, y]);
            profile.spans.push(start..end);
        }
    }
    let sorted = check_order(form, &profile);
    if faults == 0 && profile.points.len() < FEWEST {
        let message = format!("The profile has {} points.", profile.points.len());
        form.diagnostics.error(
            "profile/too-few-points",
            message,
            "at least 3 are needed, and some 20 across a groove show its shape",
            Some(Place { source, span: 0..text.lines().next().map_or(0, str::len) }),
        );
        return None;
    }
    (sorted && faults == 0).then_some(profile)
}

/// Lines as cells; blank lines and remarks behind # are skipped.
fn rows(text: &str) -> Vec<Vec<Cell<'_>>> {
    let mut out: Vec<Vec<Cell<'_>>> = Vec::new();
    let mut start = 0;
    let mut separator = ',';
    for line in text.split_inclusive('\n') {
        let body = line.split('#').next().unwrap_or("");
        if !body.trim_matches(['\u{feff}', ' ', '\t', '\r', '\n']).is_empty() {
            let mut cells = Vec::new();
            let mut at = start;
            // The header decides: a comma inside a number must not pass for a separator.
            if out.is_empty() {
                separator = [';', '\t'].into_iter().find(|c| body.contains(*c)).unwrap_or(',');
            }
            for cell in body.split(separator) {
                let trimmed = cell.trim_matches(['\u{feff}', ' ', '\r', '\n', '"']);
                let lead = cell.find(trimmed).unwrap_or(0);
                cells.push((trimmed, at + lead..at + lead + trimmed.len()));
                at += cell.len() + 1;
            }
            out.push(cells);
        }
        start += line.len();
    }
    out
}

/// Index of a column, and the factor from its unit to millimetres.
fn column(form: &mut Form, source: SourceId, header: &[Cell<'_>], name: &str) -> Option<(usize, f64)> {
    let example = "name the columns with their units in the first line, for instance axial_mm,radius_mm or axial_in,radius_in (a groove's own line: axial_mm,depth_mm)";
    let span = header.first().map_or(0, |c| c.1.start)..header.last().map_or(0, |c| c.1.end);
    for (index, (cell, span)) in header.iter().enumerate() {
        let lower = cell.to_lowercase();
        let Some(rest) = lower.strip_prefix(name) else {
            continue;
        };
        let unit = rest.trim_matches(['_', ' ', '[', ']', '(', ')']);
        match find(Kind::Length, unit) {
            Some(unit) => return Some((index, unit.to_inside(1.0))),
            None => {
                let message = format!("The column {} has no known unit of length.", quoted(cell));
                form.diagnostics.error(
                    "profile/column-unit",
                    message,
                    example,
                    Some(Place { source, span: span.clone() }),
                );
                return None;
            }
        }
    }
    let message = format!("The column \"{name}\" is missing.");
    form.diagnostics.error("profile/column-missing", message, example, Some(Place { source, span }));
    None
}

fn number(
    form: &mut Form,
    source: SourceId,
    row: &[Cell<'_>],
    (index, factor): (usize, f64),
    whole_row: Range<usize>,
    faults: &mut usize,
) -> Option<f64> {
    let (text, mut span) = row.get(index).cloned().unwrap_or(("", whole_row.clone()));
    if text.is_empty() {
        span = whole_row;
    }
    match parse_number(text) {
        Ok(value) if !text.contains('%') => return Some(value * factor),
        _ => *faults += 1,
    }
    if *faults <= MOST_FAULTS {
        let message = format!("{} is not a number.", quoted(text));
        form.diagnostics.error("profile/not-a-number", message, "write plain numbers with a decimal point, one in each column; leave out points that were not measured", Some(Place { source, span }));
    }
    None
}

/// Axial positions must increase: a line with a step back has no single depth at one place.
fn check_order(form: &mut Form, profile: &Profile) -> bool {
    let mut faults = 0;
    for (index, pair) in profile.points.windows(2).enumerate() {
        let ([before, _], [after, _]) = (pair[0], pair[1]);
        if after > before {
            continue;
        }
        faults += 1;
        if faults > MOST_FAULTS {
            break;
        }
        let place = profile.place(index + 1);
        if after == before {
            form.diagnostics.error(
                "profile/duplicate-point",
                "This point has the same axial position as the one before it.",
                "keep one of them; give the two ends of a step slightly different axial positions",
                place,
            );
        } else {
            form.diagnostics.error(
                "profile/unsorted",
                "This point lies before the one above it along the shaft.",
                "sort the rows by axial position, from the side of groove 1 to the other",
                place,
            );
        }
    }
    faults == 0
}

/// The radius at an axial position between the ends of a line.
pub(super) fn radius_at(points: &[[f64; 2]], axial: f64) -> Option<f64> {
    let next = points.partition_point(|point| point[0] < axial);
    let right = points.get(next)?;
    if right[0] == axial {
        return Some(right[1]);
    }
    let left = points.get(next.checked_sub(1)?)?;
    let share = (axial - left[0]) / (right[0] - left[0]);
    Some(left[1] + share * (right[1] - left[1]))
}

/// Refuses two sides between which there is no iron, or two pieces of it.
pub(super) fn check_pair(form: &mut Form, groove_side: &Profile, wall_side: &Profile) {
    let mut axials: Vec<f64> = groove_side.points.iter().chain(&wall_side.points).map(|p| p[0]).collect();
    axials.sort_by(f64::total_cmp);
    let iron: Vec<(f64, bool)> = axials
        .into_iter()
        .filter_map(|x| {
            let gap = radius_at(&groove_side.points, x)? - radius_at(&wall_side.points, x)?;
            Some((x, gap > 0.0))
        })
        .collect();
    let nearest = |x: f64| {
        let index = groove_side.points.partition_point(|point| point[0] < x);
        groove_side.place(index.min(groove_side.points.len().saturating_sub(1)))
    };
    let Some(bad) = iron.iter().position(|(_, iron)| !iron) else {
        if iron.is_empty() {
            form.diagnostics.error(
                "profile/no-overlap",
                "The two profiles of this station have no axial position in common.",
                "measure both sides from the middle of the rim, in the same direction",
                nearest(f64::NEG_INFINITY),
            );
        }
        return;
    };
    let splits = iron[..bad].iter().any(|(_, iron)| *iron) && iron[bad..].iter().any(|(_, iron)| *iron);
    let place = nearest(iron[bad].0);
    if splits {
        form.diagnostics.error(
            "profile/rim-split",
            "The groove side meets the wall side here, which splits the rim into two pieces.",
            "check the datum of both profiles: radii count from the shaft's axis",
            place,
        );
    } else {
        form.diagnostics.error("profile/crossing", "The groove side lies below the wall side here.", "check whether the two files are swapped, and the datum of both: radii count from the shaft's axis", place);
    }
}
