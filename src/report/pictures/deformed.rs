//! How the section gives way under its ropes, drawn larger than it is.

use super::outline::strokes;
use crate::elastic::Solution;
use crate::geometry::Point;
use crate::report::drawing::{ACCENT, At, GREY, Pen, Sheet};
use crate::report::view::View;
use crate::section::Section;

const ROOM: At = (300.0, 300.0);
/// Share of the section's size that the largest displacement is drawn as.
const SHOWN: f64 = 0.06;

/// The picture and how many times larger the displacements are drawn: a round number.
pub(in crate::report) fn deformed(
    section: &Section,
    solution: &Solution,
    theta_rad: f64,
) -> (String, String) {
    let (low, high) = section.outline.bounds();
    let size = (high.r - low.r).max(high.z - low.z);
    let moved: Vec<(Point, [f64; 3])> = solution
        .mesh
        .nodes
        .iter()
        .enumerate()
        .map(|(node, p)| (*p, solution.displacement(0, node, theta_rad)))
        .collect();
    let most = moved.iter().map(|(_, u)| u[0].hypot(u[2])).fold(0.0, f64::max);
    let factor = round_down(SHOWN * size / most.max(1e-12));
    let room = 1.0 + 2.0 * SHOWN;
    let scale = (ROOM.0 / ((high.z - low.z) * room)).min(ROOM.1 / ((high.r - low.r) * room));
    let margin = SHOWN * size * scale + 8.0;
    let view = View { low, high, scale, corner: (margin, margin) };
    let mut sheet = Sheet::new(view.width() + 2.0 * margin, view.height() + 2.0 * margin);
    for edge in section.outline.edges() {
        strokes(edge, &view).iter().for_each(|line| sheet.path(line, Pen::new(GREY, 0.6)));
    }
    for edge in &solution.mesh.boundary {
        let [start, end, middle] = edge.nodes;
        let at = |node: usize| {
            let (p, u) = moved[node];
            view.at(Point::new(p.r + factor * u[0], p.z + factor * u[2]))
        };
        sheet.path(&[at(start), at(middle), at(end)], Pen::new(ACCENT, 1.4));
    }
    let words = format!("{factor:.0}");
    (sheet.finish(&format!("Deformed section, displacements {words} times as large")), words)
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
