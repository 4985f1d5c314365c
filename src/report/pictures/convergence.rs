//! The peak on one mesh after the other, with its error bar, beside the allowable.

use super::axes::{Field, round_step};
use crate::report::drawing::{ACCENT, At, INK, Pen, Sheet, Tie};
use crate::study::CheckResult;
use crate::units::{Kind as Quantity, PrintUnits};

const SIZE: At = (470.0, 250.0);
const SIDES: [f64; 4] = [78.0, 450.0, 16.0, 206.0];

/// The picture; nothing where a single mesh was used.
pub(in crate::report) fn convergence(
    result: &CheckResult,
    print: &PrintUnits,
    title: &str,
) -> Option<String> {
    let meshes = &result.convergence.meshes;
    if meshes.len() < 2 {
        return None;
    }
    let unit = print.unit(Quantity::Stress);
    let own = |mpa: f64| unit.map_or(mpa, |unit| unit.from_inside(mpa));
    let bars: Vec<(f64, f64)> = meshes.iter().map(|step| (own(step.peak_mpa), own(step.error_mpa))).collect();
    let low = bars.iter().map(|(peak, bar)| peak - bar).fold(f64::INFINITY, f64::min);
    let high = bars.iter().map(|(peak, bar)| peak + bar).fold(f64::NEG_INFINITY, f64::max);
    let step = round_step((high - low).max(1e-3 * high), 6.0);
    let up = (step * (low / step).floor(), step * (high / step).ceil());
    let count = meshes.len() as f64;
    let field = Field { sides: SIDES, across: (0.5, count + 0.5), up };
    let mut sheet = Sheet::new(SIZE.0, SIZE.1);
    field.levels(&mut sheet, step);
    let marks: Vec<(f64, String)> = meshes
        .iter()
        .enumerate()
        .map(|(i, step)| (i as f64 + 1.0, format!("{:.1}", step.unknowns as f64 / 1e3)))
        .collect();
    field.marks(&mut sheet, &marks);
    let allowed = own(result.allowable_mpa);
    if (up.0..=up.1).contains(&allowed) {
        let y = field.y(allowed);
        sheet.line((SIDES[0], y), (SIDES[1], y), Pen::dashed("#8c2d04", 1.2, "7 3"));
        sheet.text((SIDES[1], y - 5.0), "allowable", Tie::End, "#8c2d04");
    }
    let pen = Pen::new(ACCENT, 1.5);
    let line: Vec<At> =
        bars.iter().enumerate().map(|(i, (peak, _))| field.at((i as f64 + 1.0, *peak))).collect();
    sheet.path(&line, Pen::new(ACCENT, 0.8));
    for (index, (peak, bar)) in bars.iter().enumerate() {
        let x = index as f64 + 1.0;
        let (top, bottom) = (field.at((x, peak + bar)), field.at((x, peak - bar)));
        sheet.line(top, bottom, pen);
        for end in [top, bottom] {
            sheet.line((end.0 - 5.0, end.1), (end.0 + 5.0, end.1), pen);
        }
        sheet.circle(field.at((x, *peak)), 2.8, ACCENT, Pen::NONE);
    }
    let words = format!("peak, {}", print.name(Quantity::Stress));
    sheet.words((14.0, 0.5 * (SIDES[2] + SIDES[3])), &words, Tie::Middle, INK, -90.0);
    sheet.text(
        (0.5 * (SIDES[0] + SIDES[1]), SIZE.1 - 8.0),
        "unknowns of the mesh, in thousands",
        Tie::Middle,
        INK,
    );
    Some(sheet.finish(title))
}
