//! Stress of one place of the wheel over a whole turn.

use super::axes::{Field, round_step};
use crate::elastic::{Solution, principal_values};
use crate::report::drawing::{ACCENT, At, GREY, INK, Pen, Sheet, Tie};
use crate::units::{Kind as Quantity, PrintUnits};

const SIZE: At = (640.0, 300.0);
const SIDES: [f64; 4] = [74.0, 620.0, 34.0, 250.0];

/// What is drawn.
pub(in crate::report) struct Course<'a> {
    pub solution: &'a Solution,
    pub node: usize,
    /// Angle of the highest tension (rad).
    pub peak_rad: f64,
    /// From and to: where ropes lie on the wheel, once, or once for each pass.
    pub wraps_rad: Vec<[f64; 2]>,
    pub allowable_mpa: f64,
    pub print: &'a PrintUnits,
}

/// Highest and lowest principal stress at the place, every degree of a turn.
pub(in crate::report) fn course(course: &Course<'_>, title: &str) -> String {
    let unit = course.print.unit(Quantity::Stress);
    let own = |mpa: f64| unit.map_or(mpa, |unit| unit.from_inside(mpa));
    let mut angles: Vec<f64> = (-180..=180).map(f64::from).collect();
    angles.push(course.peak_rad.to_degrees());
    angles.sort_by(f64::total_cmp);
    let at = |degrees: &f64| {
        let principal = principal_values(&course.solution.stress(0, course.node, degrees.to_radians()));
        (*degrees, own(principal[0]), own(principal[2]))
    };
    let found: Vec<(f64, f64, f64)> = angles.iter().map(at).collect();
    let allowed = own(course.allowable_mpa);
    let high = found.iter().map(|f| f.1).fold(allowed, f64::max);
    let low = found.iter().map(|f| f.2).fold(0.0, f64::min);
    let step = round_step(high - low, 7.0);
    let up = (step * (low / step).floor(), step * (high / step + 0.15).ceil());
    let field = Field { sides: SIDES, across: (-180.0, 180.0), up };
    let mut sheet = Sheet::new(SIZE.0, SIZE.1);
    let [_, _, top, bottom] = SIDES;
    let (mut first, mut last) = (180.0f64, -180.0f64);
    for [from, to] in course.wraps_rad.iter().map(|wrap| wrap.map(f64::to_degrees)) {
        (first, last) = (first.min(from), last.max(to));
        let (left, right) = (field.x(from), field.x(to));
        let wrap = vec![(left, top), (right, top), (right, bottom), (left, bottom)];
        sheet.area(&[wrap], "#f1efe9", Pen::NONE);
    }
    field.levels(&mut sheet, step);
    let marks: Vec<(f64, String)> =
        (-3..=3).map(|i| f64::from(60 * i)).map(|a| (a, format!("{a:.0}°").replace('-', "−"))).collect();
    field.marks(&mut sheet, &marks);
    let line = |value: &dyn Fn(&(f64, f64, f64)) -> f64| {
        found.iter().map(|f| field.at((f.0, value(f)))).collect::<Vec<At>>()
    };
    let y = field.y(allowed);
    sheet.line((SIDES[0], y), (SIDES[1], y), Pen::dashed("#8c2d04", 1.2, "7 3"));
    sheet.path(&line(&|f| f.2), Pen::dashed(GREY, 1.3, "4 2"));
    sheet.path(&line(&|f| f.1), Pen::new(ACCENT, 1.8));
    let peak = found.iter().copied().reduce(|a, b| if b.1 > a.1 { b } else { a });
    if let Some((angle, value, _)) = peak {
        sheet.circle(field.at((angle, value)), 4.0, "#ffffff", Pen::new(ACCENT, 1.6));
    }
    // Close to the upper edge its name would touch the words above.
    let below = if y - top < 18.0 { 13.0 } else { -5.0 };
    sheet.text((SIDES[1], y + below), "allowable", Tie::End, "#8c2d04");
    // Inside the wrap where there is room for both, else beside it.
    let inside = field.x(last) - field.x(first) > 270.0;
    let (shift, heavy, light) =
        if inside { (3.0, Tie::Start, Tie::End) } else { (-3.0, Tie::End, Tie::Start) };
    sheet.text((field.x(first) + shift, top - 5.0), "heavy end of the wrap", heavy, INK);
    sheet.text((field.x(last) - shift, top - 5.0), "light end of the wrap", light, INK);
    let words = format!("principal stress, {}", course.print.name(Quantity::Stress));
    sheet.words((16.0, 0.5 * (top + bottom)), &words, Tie::Middle, INK, -90.0);
    let middle = 0.5 * (SIDES[0] + SIDES[1]);
    sheet.text((middle, SIZE.1 - 8.0), "θ, from the middle of the wrap", Tie::Middle, INK);
    sheet.finish(title)
}
