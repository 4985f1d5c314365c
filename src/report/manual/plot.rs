//! The convergence plot: error over element side, both logarithmic.

use super::numbers::{NOISE, size_of};
use crate::manual::{Level, Row};
use crate::report::drawing::{At, GREY, INK, Pen, Sheet, Tie};

/// A row's way from mesh to mesh.
pub(super) struct Descent {
    /// Number of the row in the case's table.
    pub number: usize,
    /// Element side over the coarsest, and error over the reference's size, both per mesh.
    pub points: Vec<(f64, f64)>,
    /// Whether steps between meshes stand in for errors, because the reference has a doubt of its own.
    pub steps: bool,
}

/// What the rows' histories show; nothing for rows of a single mesh.
pub(super) fn descents(rows: &[Row], levels: &[Level]) -> Vec<Descent> {
    let mut found = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        let values = &row.history;
        if values.len() < 2 || values.iter().any(|value| !value.is_finite()) {
            continue;
        }
        // Levels are of the finest solutions: a shorter history ends with the last level as well.
        let side = |i: usize| {
            let skipped = levels.len().saturating_sub(values.len());
            levels.get(skipped + i).map_or(0.5f64.powi(i as i32), |level| level.side)
        };
        let size = size_of(row, rows);
        let steps = row.reference_doubt.is_some();
        let share = |error: f64| (error.abs() / size).max(NOISE);
        let points: Vec<(f64, f64)> = if steps {
            (1..values.len()).map(|i| (side(i), share(values[i] - values[i - 1]))).collect()
        } else {
            (0..values.len()).map(|i| (side(i), share(values[i] - row.reference))).collect()
        };
        if size > 0.0 {
            found.push(Descent { number: index + 1, points, steps });
        }
    }
    found
}

/// The order with which the last halving lowers the error; nothing near rounding noise.
pub(super) fn order(descent: &Descent) -> Option<f64> {
    let [.., (wide, before), (narrow, after)] = descent.points[..] else { return None };
    let clear = 10.0 * NOISE;
    (before > clear && after > clear && wide > narrow)
        .then(|| (before / after).log2() / (wide / narrow).log2())
}

const WIDTH: f64 = 560.0;
const HEIGHT: f64 = 330.0;
/// Plot field: left, right, top, bottom (px).
const FIELD: [f64; 4] = [62.0, 470.0, 16.0, 284.0];
/// Shades and dashes by turns; numbers at the ends tell the lines apart.
const SHADES: [&str; 3] = ["#0b5a78", "#1c1c1c", "#8a8a8a"];

/// The plot of these descents; nothing to draw where there are fewer than two meshes.
pub(super) fn convergence(title: &str, descents: &[Descent]) -> Option<String> {
    let points = || descents.iter().flat_map(|d| &d.points);
    if !descents.iter().any(|d| d.points.len() > 1) {
        return None;
    }
    let (mut low, mut high) = (f64::INFINITY, NOISE);
    let mut least = 1.0f64;
    for (side, error) in points() {
        low = low.min(*error);
        high = high.max(*error);
        least = least.min(*side);
    }
    // A hair of slack keeps an exact power of ten in its own decade.
    let bottom = (low.log10() + 1e-6).floor();
    let top = (high.log10() - 1e-6).ceil().max(bottom + 1.0);
    let halvings = -least.log2();
    let [left, right, upper, lower] = FIELD;
    // Coarse meshes stand at the left.
    let x = |side: f64| left + 26.0 + (right - left - 52.0) * (-side.log2() / halvings.max(1.0));
    let y = |error: f64| lower - (lower - upper) * (error.log10() - bottom) / (top - bottom);
    let mut sheet = Sheet::new(WIDTH, HEIGHT);
    grid(&mut sheet, (bottom as i32, top as i32), halvings.round() as i32, &x, &y);
    for (index, descent) in descents.iter().enumerate() {
        let places: Vec<At> = descent.points.iter().map(|(side, error)| (x(*side), y(*error))).collect();
        let shade = SHADES[index % SHADES.len()];
        let dashes = if descent.steps { "5 3" } else { "" };
        sheet.path(&places, Pen::dashed(shade, 1.3, dashes));
        for place in places {
            sheet.circle(place, 2.2, if descent.steps { "#ffffff" } else { shade }, Pen::new(shade, 1.0));
        }
    }
    numbers(&mut sheet, descents, &x, &y);
    if halvings >= 1.0 {
        slopes(&mut sheet, &x, (lower - upper) / (top - bottom));
    }
    let steps = match (descents.iter().any(|d| d.steps), descents.iter().any(|d| !d.steps)) {
        (true, false) => "|step from the coarser mesh| / size",
        (true, true) => "|error| / size (dashed: |step| / size)",
        _ => "|error| / size",
    };
    sheet.words((14.0, 0.5 * (upper + lower)), steps, Tie::Middle, INK, -90.0);
    sheet.text(
        (0.5 * (left + right), HEIGHT - 8.0),
        "element side / side of the coarsest mesh",
        Tie::Middle,
        INK,
    );
    Some(sheet.finish(title))
}

fn grid(
    sheet: &mut Sheet,
    decades: (i32, i32),
    halvings: i32,
    x: &impl Fn(f64) -> f64,
    y: &impl Fn(f64) -> f64,
) {
    let [left, right, upper, lower] = FIELD;
    let fine = Pen::new("#dcdcdc", 0.6);
    for decade in decades.0..=decades.1 {
        let at = y(10f64.powi(decade));
        sheet.line((left, at), (right, at), fine);
        sheet.text((left - 6.0, at + 4.0), &power_of_ten(decade), Tie::End, INK);
    }
    for halving in 0..=halvings.max(0) {
        let at = x(0.5f64.powi(halving));
        sheet.line((at, upper), (at, lower), fine);
        let name = if halving == 0 { "1".to_owned() } else { format!("1/{}", 1u64 << halving) };
        sheet.text((at, lower + 16.0), &name, Tie::Middle, INK);
    }
    let frame = Pen::new(GREY, 0.9);
    sheet.path(&[(left, upper), (left, lower), (right, lower)], frame);
}

fn power_of_ten(decade: i32) -> String {
    const RAISED: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    let digits: String =
        decade.abs().to_string().chars().map(|c| RAISED[c.to_digit(10).unwrap_or(0) as usize]).collect();
    match decade {
        0 => "1".to_owned(),
        1 => "10".to_owned(),
        _ => format!("10{}{digits}", if decade < 0 { "⁻" } else { "" }),
    }
}

/// Row numbers at the lines' fine ends, pushed apart where they would overlap.
fn numbers(sheet: &mut Sheet, descents: &[Descent], x: &impl Fn(f64) -> f64, y: &impl Fn(f64) -> f64) {
    const LEAST: f64 = 10.5;
    let [_, right, upper, lower] = FIELD;
    let mut ends: Vec<(f64, At, usize)> = descents
        .iter()
        .filter_map(|d| d.points.last().map(|(side, error)| (y(*error), (x(*side), y(*error)), d.number)))
        .collect();
    // Ends that are equal in print keep the order of the table.
    ends.sort_by(|a, b| {
        ((a.0 * 2.0).round(), a.2)
            .partial_cmp(&((b.0 * 2.0).round(), b.2))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    let columns = 1 + ends.len() * LEAST as usize / (lower - upper) as usize;
    let step = LEAST / columns as f64;
    for index in 1..ends.len() {
        ends[index].0 = ends[index].0.max(ends[index - 1].0 + step);
    }
    let over = ends.last().map_or(0.0, |last| (last.0 - lower).max(0.0));
    let mut limit = f64::INFINITY;
    if over > 0.0 {
        for end in ends.iter_mut().rev() {
            end.0 = end.0.min(lower).min(limit);
            limit = end.0 - step;
        }
    }
    for (index, (label, end, number)) in ends.iter().enumerate() {
        let column = (index % columns) as f64;
        sheet.line((end.0 + 4.0, end.1), (right + 4.0, *label), Pen::new("#c4c4c4", 0.5));
        sheet.text((right + 7.0 + 22.0 * column, label + 3.8), &number.to_string(), Tie::Start, INK);
    }
}

/// Slopes of the orders 1 to 4, in the lower left corner; as much of a halving wide as there is room.
fn slopes(sheet: &mut Sheet, x: &impl Fn(f64) -> f64, decade: f64) {
    let [left, _, _, lower] = FIELD;
    let halving = x(0.5) - x(1.0);
    let steepness = 2f64.log10() * decade / halving;
    let run = (48.0 / (4.0 * steepness)).min(72.0).min(halving);
    let corner = (left + 8.0, lower - 8.0 - 4.0 * steepness * run);
    let pen = Pen::new(GREY, 0.8);
    for order in 1..=4 {
        let tip = (corner.0 + run, corner.1 + f64::from(order) * steepness * run);
        sheet.line(corner, tip, pen);
        // Flat slopes lie too close for a number each.
        if steepness * run > 8.0 || order % 3 == 1 {
            sheet.text((tip.0 + 3.0, tip.1 + 3.5), &order.to_string(), Tie::Start, GREY);
        }
    }
    let end = |order: f64| (corner.0 + run, corner.1 + order * steepness * run);
    sheet.line(end(1.0), end(4.0), pen);
    sheet.text((corner.0, corner.1 - 5.0), "order", Tie::Start, GREY);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::manual::Source;
    use crate::reference::compare::{Tolerance, assert_close};

    fn row(history: &[f64]) -> Row {
        let last = history[history.len() - 1];
        let mut row = Row::new("u", "mm", Source::exact("test"), 1.0, last);
        row.history = history.to_vec();
        row
    }

    #[test]
    fn the_order_is_the_slope_of_the_last_halving() {
        let sharp = row(&[1.0 + 0.08, 1.0 + 0.01]);
        let doubtful = row(&[1.5, 1.1, 1.0]).doubt(0.1);
        let noise = row(&[1.0 + 1e-7, 1.0 + 1e-13]);
        let found = descents(&[sharp, doubtful, noise], &[]);
        let of = |i: usize| order(&found[i]);
        let reason = "a quotient of two rounded differences";
        assert_close("error", of(0).unwrap_or(f64::NAN), 3.0, Tolerance::Absolute(1e-9), reason);
        assert_close("steps", of(1).unwrap_or(f64::NAN), 2.0, Tolerance::Absolute(1e-9), reason);
        assert_eq!(of(2), None);
        assert!(found[1].steps && found[1].points.len() == 2);
        // Below the noise the plot is level, whatever the machine rounds to.
        assert_eq!(found[2].points[1].1, NOISE);
    }
}
