//! Shapes of grooves with the dimensions that describe them.

use super::parts::{ROUND, Seat};
use super::{WIDTH, letter, under};
use crate::report::drafting::{At, Drawing, Pen, Place, arc, around};
use crate::report::drawing::ACCENT;
use std::f64::consts::PI;

const TOP: f64 = 14.0;
const BOTTOM: f64 = 44.0;
const FLOOR: f64 = 62.0;
const HALF: f64 = 21.0;
const ROPE: f64 = 9.6;
/// Below a groove on paper.
const DOWN: f64 = -0.5 * PI;

/// All four shapes side by side.
pub(in super::super) fn shapes() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 74.0);
    round(&mut drawing, 22.0);
    undercut(&mut drawing, 66.5);
    v(&mut drawing, 111.0);
    measured(&mut drawing, 155.5);
    let names = ["round", "undercut", "V groove", "as measured"];
    for (x, words) in [22.0, 66.5, 111.0, 155.5].into_iter().zip(names) {
        under(&mut drawing, x, 71.0, words);
    }
    drawing
}

/// The iron around a groove.
fn body(drawing: &mut Drawing, middle: f64, line: &[At]) {
    let mut points = vec![(middle - HALF, TOP)];
    points.extend_from_slice(line);
    points.extend([(middle + HALF, TOP), (middle + HALF, FLOOR), (middle - HALF, FLOOR)]);
    drawing.cut(&[&points], 2.6);
    drawing.line((middle, TOP - 6.0), (middle, FLOOR + 3.0), Pen::CENTRE);
}

fn rope(drawing: &mut Drawing, middle: f64, bottom: f64) {
    drawing.circle(
        (middle, bottom - ROPE),
        ROPE,
        "none",
        Pen { colour: ACCENT, width: 0.35, dashes: "3 1.2" },
    );
}

fn round(drawing: &mut Drawing, middle: f64) {
    let seat = Seat { radius: 10.2, ..ROUND };
    body(drawing, middle, &seat.line(middle, BOTTOM, TOP));
    rope(drawing, middle, BOTTOM);
    let centre = seat.centre(middle, BOTTOM);
    drawing.pointed(around(centre, 3.0, DOWN - 0.6), around(centre, seat.radius, DOWN - 0.6), &letter("A"));
    opening(drawing, middle, &seat);
    let reach = 0.85;
    for side in [-1.0, 1.0] {
        drawing.line(centre, around(centre, seat.radius + 8.0, DOWN + side * reach), Pen::THIN);
    }
    drawing.angle(centre, seat.radius + 6.0, (DOWN, DOWN + reach), &letter("C"));
}

/// The angle between the flanks, drawn where their lines meet below the groove's mouth.
fn opening(drawing: &mut Drawing, middle: f64, seat: &Seat) {
    let half = seat.half_mouth(BOTTOM, TOP);
    let meet = TOP + half / (0.5 * seat.opening).tan();
    let slope = 0.5 * seat.opening;
    let radius = meet - TOP + 5.0;
    for side in [-1.0, 1.0] {
        let mouth = around((middle, meet), radius - 6.5, 0.5 * PI + side * slope);
        drawing.line(mouth, around((middle, meet), radius + 1.0, 0.5 * PI + side * slope), Pen::THIN);
    }
    drawing.angle((middle, meet), radius, (0.5 * PI - slope, 0.5 * PI + slope), &letter("B"));
}

fn undercut(drawing: &mut Drawing, middle: f64) {
    let seat = Seat { radius: 10.2, opening: 0.61, slot: Some((1.57, 8.0, 2.4)) };
    body(drawing, middle, &seat.line(middle, BOTTOM, TOP));
    rope(drawing, middle, BOTTOM);
    let centre = seat.centre(middle, BOTTOM);
    for side in [-1.0, 1.0] {
        drawing.line(centre, around(centre, seat.radius + 1.0, DOWN + side * 0.785), Pen::THIN);
    }
    drawing.angle(centre, 6.0, (DOWN - 0.785, DOWN + 0.785), &letter("D"));
    let floor = BOTTOM + 8.0;
    drawing.length((middle, BOTTOM), (middle + 4.0, floor), Place::Upright(middle + 15.0), &letter("E"));
    drawing.line((middle, BOTTOM), (middle + 16.5, BOTTOM), Pen::THIN);
    let corner = (middle - seat.radius * 0.785f64.sin() + 0.8, floor - 0.8);
    drawing.pointed((corner.0 - 7.0, corner.1 + 5.0), corner, &letter("F"));
}

fn v(drawing: &mut Drawing, middle: f64) {
    let half = 20f64.to_radians();
    let (sin, cos) = half.sin_cos();
    // The rope touches both flanks; the root lies below it.
    let apex = BOTTOM - ROPE + ROPE / sin;
    let (floor, root) = (BOTTOM + 9.0, 2.6);
    let foot = (apex - floor) * sin / cos;
    let mouth = (apex - TOP) * sin / cos;
    let mut line = vec![(middle - mouth, TOP)];
    let corner = (middle - foot + root * 0.75, floor - root);
    line.extend(arc(corner, root, PI + half, 1.5 * PI));
    line.extend(arc((middle + foot - root * 0.75, corner.1), root, 1.5 * PI, 2.0 * PI - half));
    line.push((middle + mouth, TOP));
    body(drawing, middle, &line);
    rope(drawing, middle, BOTTOM);
    let radius = apex - TOP + 5.0;
    drawing.angle((middle, apex), radius, (0.5 * PI - half, 0.5 * PI + half), &letter("G"));
    for side in [-1.0, 1.0] {
        let way = |along: f64| around((middle, apex), along, 0.5 * PI + side * half);
        drawing.line(way((apex - TOP) / cos), way(radius + 1.5), Pen::THIN);
    }
    drawing.length((middle, BOTTOM), (middle, floor), Place::Upright(middle + 15.0), &letter("H"));
    for y in [BOTTOM, floor] {
        drawing.line((middle, y), (middle + 16.5, y), Pen::THIN);
    }
    drawing.pointed((middle - 11.0, floor + 5.0), (corner.0 - 1.2, corner.1 + 2.0), &letter("I"));
    // The bright band on a flank.
    let touch = ROPE / (sin / cos);
    let on = |along: f64| around((middle, apex), along, 0.5 * PI + half);
    drawing.line(on(touch - 2.6), on(touch + 2.6), Pen { colour: ACCENT, width: 1.2, dashes: "" });
    let band = on(touch);
    drawing.pointed((band.0 - 9.0, band.1 - 3.0), band, &letter("J"));
}

fn measured(drawing: &mut Drawing, middle: f64) {
    let line: Vec<At> = [
        (-13.2, 0.0),
        (-11.2, 9.0),
        (-10.6, 19.0),
        (-8.4, 25.5),
        (-4.6, 29.2),
        (0.0, 30.0),
        (4.4, 29.0),
        (8.8, 25.0),
        (10.6, 18.0),
        (10.9, 9.0),
        (13.2, 0.0),
    ]
    .map(|(x, y)| (middle + x, TOP + y))
    .to_vec();
    body(drawing, middle, &line);
    for point in &line[1..line.len() - 1] {
        drawing.circle(*point, 0.6, "#ffffff", Pen::ASKED);
    }
    drawing.pointed((middle - 17.0, TOP + 13.0), line[2], &letter("K"));
    rope(drawing, middle, BOTTOM);
    let centre = (middle, BOTTOM - ROPE);
    for angle in [0.4, 1.15] {
        drawing.line(centre, around(centre, ROPE + 9.0, DOWN + angle), Pen::THIN);
    }
    drawing.angle(centre, ROPE + 4.0, (DOWN, DOWN + 0.4), &letter("L"));
    drawing.angle(centre, ROPE + 8.0, (DOWN, DOWN + 1.15), &letter("M"));
    drawing.pointed((middle - 14.0, BOTTOM + 8.0), line[3], &letter("N"));
}
