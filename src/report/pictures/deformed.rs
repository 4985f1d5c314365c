//! How the section gives way under its ropes, drawn larger than it is.

use super::outline::strokes;
use crate::elastic::Solution;
use crate::geometry::Point;
use crate::report::drawing::{ACCENT, At, GREY, Pen, Sheet};
use crate::report::view::View;
use crate::section::Section;

/// Room of the whole section and of its rim (px).
const WHOLE: At = (190.0, 270.0);
const DETAIL: At = (420.0, 270.0);
/// Share of the section's size that the largest displacement is drawn as.
const SHOWN: f64 = 0.06;
/// Between both views (px).
const GAP: f64 = 26.0;

/// The picture, the whole section and from `rim_from_mm` outwards the rim larger, and how many times larger the
/// displacements are drawn: a round number.
pub(in crate::report) fn deformed(
    section: &Section,
    solution: &Solution,
    theta_rad: f64,
    rim_from_mm: f64,
) -> (String, String) {
    let (low, high) = section.outline.bounds();
    let size = (high.r - low.r).max(high.z - low.z);
    let moved: Vec<[f64; 3]> =
        (0..solution.mesh.nodes.len()).map(|node| solution.displacement(0, node, theta_rad)).collect();
    let most = moved.iter().map(|u| u[0].hypot(u[2])).fold(0.0, f64::max);
    let factor = round_down(SHOWN * size / most.max(1e-12));
    let places: Vec<Point> = solution
        .mesh
        .nodes
        .iter()
        .zip(&moved)
        .map(|(p, u)| Point::new(p.r + factor * u[0], p.z + factor * u[2]))
        .collect();
    let aside = SHOWN * size;
    let picture = |low: Point, room: At| {
        let (wide, tall) = (high.z - low.z + 2.0 * aside, high.r - low.r + 2.0 * aside);
        let scale = (room.0 / wide).min(room.1 / tall);
        let view = View { low, high, scale, corner: (aside * scale, aside * scale) };
        let mut sheet = Sheet::new(wide * scale, tall * scale);
        for edge in section.outline.edges() {
            strokes(edge, &view).iter().for_each(|line| sheet.path(line, Pen::new(GREY, 0.6)));
        }
        for edge in &solution.mesh.boundary {
            let [start, end, middle] = edge.nodes;
            let line = [start, middle, end].map(|node| places[node]);
            // What lies below the view would run out of its window.
            if line.iter().all(|p| p.r > low.r - aside) {
                sheet.path(&line.map(|p| view.at(p)), Pen::new(ACCENT, 1.4));
            }
        }
        sheet
    };
    let whole = picture(low, WHOLE);
    let rim = picture(Point::new(rim_from_mm.max(low.r), low.z), DETAIL);
    let (left, right) = (whole.size(), rim.size());
    let mut sheet = Sheet::new(left.0 + GAP + right.0, left.1.max(right.1));
    sheet.window((0.0, 0.0), whole);
    sheet.window((left.0 + GAP, 0.0), rim);
    let words = format!("{factor:.0}");
    (sheet.finish(&format!("Deformed section and its rim, displacements {words} times as large")), words)
}

/// 1, 2 or 5 times a power of ten, not above the number.
fn round_down(number: f64) -> f64 {
    let power = 10f64.powf(number.log10().floor());
    [5.0, 2.0, 1.0].into_iter().find(|step| step * power <= number).unwrap_or(1.0) * power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_are_round() {
        assert!((round_down(734.0) - 500.0).abs() < 1e-9);
        assert!((round_down(2100.0) - 2000.0).abs() < 1e-9);
    }
}
