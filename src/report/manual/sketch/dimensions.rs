//! Dimension lines: radii from the axis below the body, heights at its right, radii of arcs at the arcs.

use super::{Frame, Taken, moved};
use crate::elastic::Model;
use crate::geometry::{Curve, Edge};
use crate::report::drawing::{GREY, Pen, Sheet, Tie};
use crate::report::manual::numbers::reference;

const ROW: f64 = 17.0;
const COLUMN: f64 = 26.0;
/// Least distance from the body to the first row.
const CLEAR: f64 = 58.0;
const MOST: usize = 6;

pub(super) struct Lines {
    /// Radii and heights above the lowest point that get a line, growing (mm).
    radii: Vec<f64>,
    heights: Vec<f64>,
    /// From the body to the first row: below the names and the loads there (px).
    clear: f64,
}

/// At most `MOST` of the values, each once, always with the largest and where wanted the smallest.
fn picked(mut values: Vec<f64>, size: f64) -> Vec<f64> {
    values.sort_by(f64::total_cmp);
    values.dedup_by(|a, b| (*a - *b).abs() < 1e-6 * size);
    values.retain(|value| value.abs() > 1e-6 * size);
    if values.len() <= MOST {
        return values;
    }
    let last = values.len() - 1;
    vec![values[0], values[last]]
}

impl Lines {
    pub fn of(model: &Model, frame: &Frame) -> Self {
        let ends = || model.outline.edges().map(|edge| edge.start);
        let radii = ends().map(|p| p.r).chain([frame.low.r, frame.high.r]).collect();
        let heights = ends().map(|p| p.z - frame.low.z).chain([frame.high.z - frame.low.z]).collect();
        let mut heights = picked(heights, frame.high.z - frame.low.z);
        // A short line has no room for its number.
        let overall = frame.high.z - frame.low.z;
        heights.retain(|height| (height - overall).abs() < 1e-9 * overall || height * frame.scale.1 > 24.0);
        // A column per height takes room that rows do not: only the overall height when there are many.
        if heights.len() > 4 {
            heights.drain(..heights.len() - 1);
        }
        Self { radii: picked(radii, frame.high.r), heights, clear: CLEAR }
    }

    /// Moves the rows below everything that ends at `lowest` on the sheet.
    pub fn keep_below(&mut self, lowest: f64, frame: &Frame) {
        self.clear = self.clear.max(lowest + 12.0 - frame.corner.1);
    }

    pub fn bottom(&self, frame: &Frame) -> f64 {
        frame.corner.1 + self.clear + ROW * self.radii.len() as f64
    }

    pub fn columns_width(&self) -> f64 {
        COLUMN * self.heights.len() as f64
    }

    /// `columns` is where the first height stands.
    pub fn draw(&self, sheet: &mut Sheet, frame: &Frame, columns: f64) {
        let (line, thin) = (Pen::new(GREY, 0.8), Pen::new("#c8c8c8", 0.6));
        for (index, r) in self.radii.iter().enumerate() {
            let y = frame.corner.1 + self.clear + ROW * index as f64;
            let x = frame.x(*r);
            sheet.line((x, frame.corner.1 + 2.0), (x, y + 4.0), thin);
            let axis = frame.axis();
            sheet.arrow((axis, y), (x, y), line);
            if frame.broken {
                let middle = axis + 0.45 * super::BROKEN;
                for shift in [-2.0, 2.0] {
                    let at = middle + shift;
                    sheet.line((at - 2.0, y + 4.5), (at + 2.0, y - 4.5), line);
                }
            }
            sheet.text((x + 5.0, y + 3.8), &format!("r {}", digits(*r)), Tie::Start, GREY);
        }
        for (index, height) in self.heights.iter().enumerate() {
            let x = columns + COLUMN * index as f64;
            let (low, high) = (frame.corner.1, frame.y(frame.low.z + height));
            sheet.line((frame.right() + 2.0, high), (x + 4.0, high), thin);
            if index + 1 == self.heights.len() {
                sheet.line((frame.right() + 2.0, low), (x + 4.0, low), thin);
            }
            sheet.arrow((x, low), (x, high), line);
            sheet.head((x, high), (x, low), GREY);
            sheet.words((x + 12.0, 0.5 * (low + high)), &digits(*height), Tie::Middle, GREY, -90.0);
        }
        let low = format!("z {}", digits(frame.low.z));
        sheet.text((columns, frame.corner.1 + 13.0), &low, Tie::Middle, GREY);
    }
}

fn digits(value: f64) -> String {
    reference(value, value.abs())
}

/// Each distinct radius once, at its longest arc.
pub(super) fn radii(
    sheet: &mut Sheet,
    model: &Model,
    frame: &Frame,
    taken: &mut Taken,
    at: &dyn Fn(usize) -> bool,
) {
    let mut shown: Vec<(f64, &Edge)> = Vec::new();
    for edge in model.outline.edges().filter(|edge| at(edge.tag)) {
        let room = shown.len() < MOST;
        let (Some(radius), Curve::Arc { .. }) = (edge.radius(), edge.curve) else { continue };
        match shown.iter_mut().find(|(known, _)| (known - radius).abs() < 1e-6 * radius) {
            Some((_, longest)) if longest.length() * (1.0 + 1e-6) < edge.length() => *longest = edge,
            Some(_) => {}
            None if room => shown.push((radius, edge)),
            None => {}
        }
    }
    for (radius, edge) in shown {
        let text = format!("R {}", digits(radius));
        // Loads and supports stand outside, so the number of such an edge stands inside the body.
        let busy = super::marks::is_busy(model, edge);
        let mut best = None;
        for (t, reach) in
            [(0.3, 24.0), (0.7, 24.0), (0.3, 40.0), (0.7, 40.0), (0.5, 30.0), (0.15, 44.0), (0.85, 44.0)]
        {
            let (foot, out) = (frame.at(edge.at(t)), frame.outward(edge, t));
            let out = if busy { (-out.0, -out.1) } else { out };
            let tail = moved(foot, out, reach);
            let tie = if out.0 >= 0.0 { Tie::Start } else { Tie::End };
            let at = (tail.0 + if out.0 >= 0.0 { 3.0 } else { -3.0 }, tail.1 + 3.8);
            let own = Taken::around(at, &text, tie);
            if taken.is_free(&own) {
                best = Some((foot, tail, at, tie, own));
                break;
            }
        }
        let Some((foot, tail, at, tie, own)) = best else { continue };
        taken.boxes.push(own);
        sheet.arrow(tail, foot, Pen::new(GREY, 0.8));
        sheet.text(at, &text, tie, GREY);
    }
}
